//! The pages of the sheets: what is shown, ticked and written to a file.

use super::*;
use crate::screen::state::Purpose;
use crate::sheets::{Format, SheetKind};

const SIX: Key = Key::Char('6');
const X: Key = Key::Char('x');

/// The sheets, with the cursor on a kind.
fn on(kind: SheetKind) -> State {
    let mut state = start();
    press(&mut state, &[SIX]);
    press(&mut state, &vec![Key::Down; kind.index()]);
    state
}

fn place_of(state: &State) -> Place {
    state.place()
}

#[test]
fn a_sheet_shows_what_the_command_prints() {
    for &kind in SheetKind::ALL {
        let mut state = on(kind);
        press(&mut state, &[Key::Enter]);
        if kind == SheetKind::Checklist {
            assert_eq!(place_of(&state), Place::Tasks);
            assert!(state.papers.tasks.len() > 30);
            continue;
        }
        assert_eq!(place_of(&state), Place::Sheet);
        let title = format!("{}: {}", kind.title(), state.build().title);
        let first = state.papers.lines.first().expect("a line");
        assert!(first.starts_with(title.trim_end()), "{first}");
        // Eighty columns hold one for the margin on each side.
        let widest = state.papers.lines.iter().map(|line| line.chars().count());
        assert!(widest.max() <= Some(78), "{kind:?}");
    }
}

#[test]
fn the_dossier_holds_every_sheet() {
    let mut state = on(SheetKind::Dossier);
    press(&mut state, &[Key::Enter]);
    for kind in SheetKind::ALL {
        let title = format!("{}: ", kind.title());
        let has = |line: &String| line.starts_with(&title);
        assert!(state.papers.lines.iter().any(has), "{title}");
    }
}

#[test]
fn scrolling_ends_where_the_sheet_ends() {
    let mut state = on(SheetKind::Parts);
    press(&mut state, &[Key::Enter, Key::End]);
    let Some(Layer::Sheet(_, top)) = state.layers.last() else {
        panic!("no sheet");
    };
    assert!(*top > 0 && *top < state.papers.lines.len());
    let top = *top;
    press(&mut state, &[Key::PageDown, Key::Down]);
    assert!(matches!(state.layers.last(), Some(Layer::Sheet(_, same)) if *same == top));
}

#[test]
fn tab_turns_through_all_sheets_and_the_list_follows() {
    let mut state = on(SheetKind::Parts);
    press(&mut state, &[Key::Enter]);
    for &kind in &SheetKind::ALL[1..] {
        press(&mut state, &[Key::Tab]);
        assert!(matches!(state.layers.last(), Some(Layer::Sheet(at, 0)) if *at == kind));
    }
    press(&mut state, &[Key::Tab, Key::BackTab, Key::Esc]);
    let last = SheetKind::ALL.len() - 1;
    assert!(matches!(state.layers.last(), Some(Layer::Sheets(at)) if *at == last));
}

#[test]
fn a_tick_is_kept_in_the_build_and_undo_takes_it_back() {
    let mut state = on(SheetKind::Checklist);
    press(&mut state, &[Key::Enter, Key::Down, Key::Char(' ')]);
    let task = state.papers.tasks[1].id.as_str().to_owned();
    let day = jiff::civil::date(2026, 11, 25);
    assert_eq!(state.build().done.get(&task), Some(&day));
    assert!(state.is_unsaved());
    press(&mut state, &[Key::Char('u')]);
    assert!(state.build().done.is_empty() && !state.is_unsaved());
    press(&mut state, &[Key::Char('r')]);
    assert_eq!(state.build().done.len(), 1);
    // The same key takes the tick back.
    press(&mut state, &[Key::Enter]);
    assert!(state.build().done.is_empty());
}

#[test]
fn a_sheet_is_written_under_a_name_beside_the_build() {
    let mut state = on(SheetKind::Cuts);
    state.file.path = Some(PathBuf::from("shop/router.toml"));
    let steps = Format::Xlsx.index();
    press(&mut state, &[X]);
    press(&mut state, &vec![Key::Down; steps]);
    press(&mut state, &[Key::Enter]);
    let path = PathBuf::from("shop/router-cuts.xlsx");
    let purpose = Purpose::Export(SheetKind::Cuts, Format::Xlsx);
    let task = |replace| Task::Write {
        path: path.clone(),
        purpose,
        replace,
    };
    assert_eq!(press(&mut state, &[Key::Enter]), [task(false)]);
    // Something of that name is there: it is replaced on demand only.
    let exists = Outcome::Exists {
        path: path.clone(),
        purpose,
    };
    update(&mut state, Message::Written(exists));
    assert_eq!(press(&mut state, &[Key::Down, Key::Enter]), [task(true)]);
    update(&mut state, Message::Written(Outcome::Exported(path)));
    assert_eq!(place_of(&state), Place::Sheets);
    assert!(matches!(&state.notice, Some(Notice::Done(text)) if text.contains("router-cuts.xlsx")));
    assert_eq!(state.file.path, Some(PathBuf::from("shop/router.toml")));
}

#[test]
fn the_ending_that_was_typed_decides() {
    for (typed, path, format) in [
        ("wall", "wall.txt", Format::Text),
        ("wall.HTML", "wall.HTML", Format::Html),
        ("v1.2", "v1.2.txt", Format::Text),
    ] {
        let mut state = on(SheetKind::Drill);
        press(&mut state, &[X, Key::Enter, Key::Ctrl('u')]);
        type_in(&mut state, typed);
        let task = Task::Write {
            path: PathBuf::from(path),
            purpose: Purpose::Export(SheetKind::Drill, format),
            replace: false,
        };
        assert_eq!(press(&mut state, &[Key::Enter]), [task], "{typed}");
    }
    for refused in ["", "router.toml"] {
        let mut state = on(SheetKind::Drill);
        press(&mut state, &[X, Key::Enter, Key::Ctrl('u')]);
        type_in(&mut state, refused);
        assert!(press(&mut state, &[Key::Enter]).is_empty(), "{refused}");
        assert!(matches!(state.notice, Some(Notice::Failed(_))));
        assert_eq!(place_of(&state), Place::Name);
    }
}

#[test]
fn a_sheet_follows_the_window_and_the_build() {
    let mut state = on(SheetKind::Parts);
    press(&mut state, &[Key::Enter]);
    let before = state.papers.lines.clone();
    let narrow = Size {
        width: 60,
        height: 24,
    };
    update(&mut state, Message::Resize(narrow));
    assert!(state.papers.lines.len() > before.len());
    press(&mut state, &[Key::Esc, Key::Esc]);
    open(&mut state, "machines");
    type_in(&mut state, "2");
    press(&mut state, &[Key::Enter, Key::Esc, SIX, Key::Enter]);
    let two = state
        .papers
        .lines
        .iter()
        .any(|line| line.contains("2 machines"));
    assert!(two, "{:#?}", &state.papers.lines[..12]);
}
