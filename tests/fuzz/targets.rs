//! What the fuzzer feeds: a function for each kind of input that comes from outside. Each takes
//! any bytes and must neither panic nor hang; what it accepts must hold together.
//!
//! The same functions are fed by `tests/files/fuzz_replay.rs` with the kept corpus and seeded
//! mutations of it, so that `cargo test` needs no fuzzer.

use std::sync::OnceLock;

use gantrywright::assessment::{assess, json::json};
use gantrywright::build::Build;
use gantrywright::catalogue::{Catalogue, CatalogueFile};
use gantrywright::money::Currency;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::heard::Heard;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::update;
use gantrywright::screen::view::{paint::Pen, view};
use gantrywright::screen::{ColorWish, Session};
use gantrywright::store::library::{self, Overlay};
use gantrywright::store::quotes::{self, Outcome, Terms};
use gantrywright::store::{build_file, bundle, settings};
use jiff::civil::Date;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::layout::Size;

/// The keys of one input that are pressed: what comes after them starts from no other state.
const MOST_KEYS: usize = 120;

fn today() -> Date {
    jiff::civil::date(2026, 11, 25)
}

fn catalogue() -> &'static Catalogue {
    static CATALOGUE: OnceLock<Catalogue> = OnceLock::new();
    CATALOGUE.get_or_init(|| library::load(&[]).expect("the shipped catalogue"))
}

/// A build file: what can be read can be assessed, and comes back as it was when it is saved.
pub fn build_file(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else {
        return;
    };
    let Ok(build) = build_file::read(text, "input", catalogue()) else {
        return;
    };
    if let Ok(assessment) = assess(catalogue(), &build, today()) {
        json(&build, &assessment, &[]);
    }
    let saved = build_file::write(Some(text), &build);
    let again = build_file::read(&saved, "saved", catalogue());
    assert!(again.is_ok_and(|again| again == build), "{saved}");
    let new = build_file::write(None, &build);
    let again = build_file::read(&new, "new", catalogue());
    assert!(again.is_ok_and(|again| again == build), "{new}");
}

/// A file of parts and prices: where the catalogue takes it, the usual build can be assessed.
pub fn overlay(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else {
        return;
    };
    // The whole catalogue is read only for what may be a file of it.
    if CatalogueFile::read(text).is_err() {
        return;
    }
    let own = Overlay {
        name: "input".to_owned(),
        inside: "input".to_owned(),
        text: text.to_owned(),
    };
    let Ok(catalogue) = library::over_built_in(vec![vec![own]]) else {
        return;
    };
    let build = Build::default();
    if let Ok(assessment) = assess(&catalogue, &build, today()) {
        json(&build, &assessment, &[]);
    }
}

/// Offers from a spreadsheet: what is taken fits into a build, which can be read back.
pub fn quotes(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else {
        return;
    };
    let terms = Terms {
        catalogue: catalogue(),
        destination: &catalogue().destinations["destination-eu"],
        currency: Currency::EUR,
        today: today(),
    };
    let Ok(rows) = quotes::read(text, "input", &terms) else {
        return;
    };
    let mut build = Build::default();
    for row in rows {
        if let Outcome::Matched(id, quote) = row.outcome {
            let purchase = build.purchases.parts.entry(id).or_default();
            purchase.quotes.push(quote);
        }
    }
    if let Ok(assessment) = assess(catalogue(), &build, today()) {
        json(&build, &assessment, &[]);
    }
    let saved = build_file::write(None, &build);
    let again = build_file::read(&saved, "saved", catalogue());
    assert!(again.is_ok_and(|again| again == build), "{saved}");
}

/// A bundle: what it holds is read as any other file would be.
pub fn bundle(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else {
        return;
    };
    let Ok(Some(read)) = bundle::read(text, "input") else {
        return;
    };
    // It may hold what is none, but the same text with the same build stays the same bundle.
    let again = bundle::read(&read.with_build(&read.build), "again");
    let same = again.is_ok_and(|again| again.is_some_and(|again| again.build == read.build));
    assert!(same, "{text}");
    build_file(read.build.as_bytes());
    for file in read.layers.iter().flatten() {
        overlay(file.text.as_bytes());
    }
}

/// Settings: what can be read can be written and read again.
pub fn settings(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else {
        return;
    };
    let Ok(read) = settings::read(text, "input") else {
        return;
    };
    let written = settings::changed(text, "input", &read);
    let again = written.and_then(|written| settings::read(&written, "again"));
    let same = |again: settings::Settings| {
        (again.units, again.decimal, again.thousands) == (read.units, read.decimal, read.thousands)
            && (again.theme, again.mouse) == (read.theme, read.mouse)
    };
    assert!(again.is_ok_and(same), "{text}");
}

/// What is typed: the first two bytes are the size of the terminal, the rest comes from it.
pub fn keys(data: &[u8]) {
    let (size, rest) = data.split_at(data.len().min(2));
    let side = |place: usize| size.get(place).map_or(80, |side| u16::from(*side));
    let size = Size {
        width: side(0),
        height: side(1).min(70),
    };
    let session = Session::new(
        catalogue().clone(),
        Build::default(),
        today(),
        ColorWish::Auto,
    );
    let mut state = State::new(session, size).expect("the usual build can be assessed");
    let pen = Pen::new(Colours::None, Glyphs::Unicode);
    let backend = TestBackend::new(size.width, size.height);
    let mut terminal = Terminal::new(backend).expect("a grid");
    // Nothing that is asked for is carried out.
    for message in Heard::default().hear(rest).into_iter().take(MOST_KEYS) {
        update(&mut state, message);
    }
    let drawn = terminal.draw(|frame| view(frame, &state, &pen));
    drawn.expect("a frame");
    while state.history.can_undo() {
        state.history.undo();
    }
    assert_eq!(*state.build(), Build::default());
}

/// A target by its name.
pub type Target = fn(&[u8]);

/// Every target, with the folder of its corpus.
pub const TARGETS: [(&str, Target); 6] = [
    ("build_file", build_file),
    ("overlay", overlay),
    ("quotes", quotes),
    ("bundle", bundle),
    ("settings", settings),
    ("keys", keys),
];
