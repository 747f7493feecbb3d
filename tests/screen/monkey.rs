//! A monkey at the keyboard: random keys, typed and pasted text, clicks and resizes over every
//! example build and the usual one. Nothing panics, every frame can be drawn, what is saved
//! midway can be read back, and undoing everything gives the build of the start.
//!
//! Nothing is carried out: files that the monkey asks to write are only said to be written, or
//! not. The same seed presses the same keys. In an ordinary run the keys are few, for the time
//! that the tests take; this presses 20 000 over each build:
//!
//! ```sh
//! MONKEY_KEYS=20000 cargo test --test screen monkey::
//! ```

use std::collections::VecDeque;
use std::sync::Arc;
use std::thread;

use crate::screen::{draw, open};
use gantrywright::assessment::{assess, json::json};
use gantrywright::build::Build;
use gantrywright::catalogue::Catalogue;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::mouse::{Gesture, Mouse};
use gantrywright::screen::state::{Purpose, State};
use gantrywright::screen::theirs::Theirs;
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, Outcome, Task, update};
use gantrywright::store::{build_file, examples, library};
use rand::seq::IndexedRandom as _;
use rand::{RngExt as _, SeedableRng};
use rand_chacha::ChaCha8Rng;
use ratatui::layout::Size;

/// Names the keys over each build, where it is not the usual number.
const KEYS: &str = "MONKEY_KEYS";

/// The keys over each build in an ordinary run.
const FEW: usize = 600;

/// The keys after which what would be saved is read back.
const LOOK: usize = 250;

/// Sizes that terminals have, and some that none has.
const SIZES: [(u16, u16); 14] = [
    (80, 24),
    (80, 24),
    (120, 40),
    (60, 18),
    (200, 60),
    (79, 23),
    (61, 50),
    (300, 19),
    (59, 17),
    (40, 10),
    (1, 1),
    (1, 60),
    (300, 1),
    (2, 3),
];

/// What somebody pastes, or has in the clipboard by mistake.
const PASTES: [&str; 12] = [
    "820 mm",
    "1e999",
    "-0",
    "nan",
    "\u{1b}[2J\u{1b}]0;x\u{7}",
    "\u{202e}abc\u{2066}\u{200f}\u{61c}",
    "=1+2\t@x\r\n-3",
    "../../../etc/passwd",
    "99999999999999999999999999999999999999 EUR",
    "80x80x4, 600..900/7",
    "e\u{301}\u{1f469}\u{200d}\u{1f527}\u{4e2d}\u{6587}",
    "0.1 + 1/3 in \" ' \\ \0",
];

/// Signs that are typed one by one.
const TYPED: &str = "0123456789.,-+*/=<>%aeioudqxEURmin 'äµ中\u{301}\u{202e}\u{200b}~|\"\\";

/// Keys that move and take, anywhere.
const MOVES: [Key; 17] = [
    Key::Up,
    Key::Down,
    Key::Down,
    Key::Down,
    Key::Left,
    Key::Right,
    Key::Enter,
    Key::Enter,
    Key::Enter,
    Key::Esc,
    Key::Tab,
    Key::BackTab,
    Key::PageUp,
    Key::PageDown,
    Key::Home,
    Key::End,
    Key::Backspace,
];

/// What the monkey did last: told where something goes wrong.
struct Trail {
    build: String,
    count: usize,
    last: VecDeque<String>,
}

impl Drop for Trail {
    fn drop(&mut self) {
        if thread::panicking() {
            let last = self.last.make_contiguous().join(" ");
            eprintln!("{}: at key {}, after {last}", self.build, self.count);
        }
    }
}

fn keys() -> usize {
    let named = std::env::var(KEYS).ok();
    named.map_or(FEW, |text| text.parse().expect("a number of keys"))
}

/// What comes next: most often a key that means something here.
fn next(state: &State, rng: &mut ChaCha8Rng) -> Message {
    match rng.random_range(0..100) {
        0..50 => {
            let here: Vec<Key> = (state.keymap.here(state.place()))
                .flat_map(|binding| binding.keys.iter().copied())
                .collect();
            Message::Key(here.choose(rng).copied().unwrap_or(Key::Esc))
        }
        50..75 => Message::Key(*MOVES.choose(rng).expect("some")),
        75..88 => {
            let signs: Vec<char> = TYPED.chars().collect();
            Message::Key(Key::Char(*signs.choose(rng).expect("some")))
        }
        88..91 => Message::Paste((*PASTES.choose(rng).expect("some")).to_owned()),
        91..94 => {
            let (width, height) = *SIZES.choose(rng).expect("some");
            Message::Resize(Size { width, height })
        }
        94..98 => Message::Mouse(Mouse {
            gesture: *[Gesture::Click, Gesture::WheelUp, Gesture::WheelDown]
                .choose(rng)
                .expect("some"),
            column: rng.random_range(0..state.size.width.saturating_add(3)),
            row: rng.random_range(0..state.size.height.saturating_add(3)),
        }),
        98 => Message::Key(Key::F(rng.random_range(1..13))),
        _ => Message::News,
    }
}

/// What the world outside says of a task: nothing is done, so it says whatever it might.
fn answer(state: &mut State, task: Task, rng: &mut ChaCha8Rng) -> Option<Message> {
    let outcome = match task {
        Task::Write { path, purpose, .. } => match (rng.random_range(0..6), purpose) {
            (4, Purpose::Save { leave }) => Outcome::Held {
                path,
                told: "somebody works on it on shed-pc since 09:12".to_owned(),
                leave,
            },
            (5, Purpose::Save { leave }) => {
                let found = Ok("format = 1\ntitle = \"theirs\"\n".to_owned());
                let theirs = Theirs::of(&path, found, None, &state.catalogue);
                let theirs = Arc::new(theirs);
                Outcome::Changed { theirs, leave }
            }
            (0, _) => Outcome::Failed("not saved: the disk is full".to_owned()),
            (1, _) => Outcome::Exists { path, purpose },
            (_, Purpose::Save { leave }) => {
                let text = build_file::write(state.file.original.as_deref(), state.build());
                Outcome::Saved { path, text, leave }
            }
            (_, Purpose::Export(..)) => Outcome::Exported(path),
        },
        Task::Keep(..) => Outcome::Kept,
        Task::Own(_) => Outcome::Failed("not saved: there is no home folder".to_owned()),
        // Searches take long: the monkey waits in vain, or stops them at once and sees what came
        // of that.
        Task::Start(job) => {
            if rng.random_bool(0.5) {
                update(state, Message::Key(Key::Esc));
                job.run(&|| ());
            }
            return Some(Message::News);
        }
        Task::Recover(_) | Task::Forget(_) => return None,
        Task::Open(_) | Task::TakeOver(_) | Task::Leave | Task::Suspend => return None,
    };
    Some(Message::Written(outcome))
}

/// What would be saved reads back as the same build.
fn comes_back(state: &State, catalogue: &Catalogue) {
    let text = build_file::write(state.file.original.as_deref(), state.build());
    let read = build_file::read(&text, "saved", catalogue);
    let read = read.unwrap_or_else(|error| panic!("{error}\n{text}"));
    assert_eq!(read, *state.build(), "{text}");
}

/// Leaves whatever is open, then undoes all there is to undo.
fn undo_everything(state: &mut State) {
    let press = |state: &mut State, key| drop(update(state, Message::Key(key)));
    let size = Size {
        width: 120,
        height: 40,
    };
    update(state, Message::Resize(size));
    for _ in 0..100 {
        if state.layers.is_empty() && state.place() == Place::Choices {
            break;
        }
        press(state, Key::Esc);
    }
    assert_eq!(state.place(), Place::Choices, "esc leads back");
    while state.history.can_undo() {
        press(state, Key::Char('u'));
    }
}

fn play(name: &str, build: Build, seed: u64) {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let mut state = open(build.clone(), 80, 24);
    let mut trail = Trail {
        build: name.to_owned(),
        count: 0,
        last: VecDeque::new(),
    };
    let all = keys();
    while trail.count < all {
        trail.count += 1;
        let mut message = Some(next(&state, &mut rng));
        while let Some(heard) = message.take() {
            if trail.last.len() == 60 {
                trail.last.pop_front();
            }
            trail
                .last
                .push_back(format!("{heard:?}").chars().take(80).collect());
            let task = update(&mut state, heard).task;
            message = task.and_then(|task| answer(&mut state, task, &mut rng));
        }
        let glyphs = match rng.random_bool(0.8) {
            true => Glyphs::Unicode,
            false => Glyphs::Ascii,
        };
        draw(&state, Colours::None, glyphs);
        if trail.count.is_multiple_of(LOOK) {
            comes_back(&state, &catalogue);
        }
    }
    comes_back(&state, &catalogue);
    undo_everything(&mut state);
    assert!(*state.build() == build, "{name}: undo leads to the start");
    let again = assess(&catalogue, &build, state.today).expect("an assessment");
    assert_eq!(json(&build, &state.now, &[]), json(&build, &again, &[]));
}

fn play_example(name: &str, seed: u64) {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let example = examples::find(name).expect("an example");
    play(name, example.build(&catalogue).expect("a build"), seed);
}

#[test]
fn over_the_usual_build() {
    play("the usual build", Build::default(), 1);
}

#[test]
fn over_the_attic_starter() {
    play_example("attic-starter", 2);
}

#[test]
fn over_the_barn_find() {
    play_example("barn-find", 3);
}

#[test]
fn over_the_bell_foundry() {
    play_example("bell-foundry", 4);
}

#[test]
fn over_the_pier_allrounder() {
    play_example("pier-allrounder", 5);
}

#[test]
fn over_the_sail_loft_sheet() {
    play_example("sail-loft-sheet", 6);
}

#[test]
fn every_example_has_its_monkey() {
    assert_eq!(examples::all().len(), 5);
}
