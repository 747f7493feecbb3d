//! The pages of the sheets, as they are seen: nothing cut off, the keys that are true, at the
//! promised sizes, and files that are the same as the command's.

#[cfg(unix)]
use crate::pty;
use std::process::Command;

use crate::screen::{SIZES, open, page, press};
use gantrywright::build::Build;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::state::State;
use gantrywright::screen::update::{Message, update};
use gantrywright::sheets::SheetKind;
use gantrywright::units::{Marks, System};
use gantrywright::words::Words as _;

fn sheets(width: u16, height: u16) -> State {
    let mut state = open(Build::default(), width, height);
    press(&mut state, &[Key::Char('6')]);
    state
}

#[test]
fn every_sheet_can_be_picked_and_none_is_cut() {
    for (width, height) in SIZES {
        let mut state = sheets(width, height);
        for kind in SheetKind::ALL {
            let page = page(&state, Glyphs::Unicode);
            let wanted = format!("> {}", kind.title());
            let here = |row: &String| row.starts_with(&wanted);
            assert!(page.iter().any(here), "{width}x{height}: {page:#?}");
            assert!(!page.iter().any(|row| row.contains('…')), "{page:#?}");
            press(&mut state, &[Key::Down]);
        }
    }
}

/// A sheet on the screen follows units and marks, and changes with them while it stands.
#[test]
fn a_sheet_is_shown_in_inches_where_they_are_set() {
    let mut state = sheets(100, 40);
    for _ in 0..SheetKind::Cuts.index() {
        press(&mut state, &[Key::Down]);
    }
    press(&mut state, &[Key::Enter]);
    let plain = page(&state, Glyphs::Unicode).join("\n");
    assert!(!plain.contains("inches"), "{plain}");
    state.wishes.beside.units = Some(System::Inch);
    state.wishes.beside.marks = Marks::new(',', Some('.'));
    state.show_as_wished();
    update(&mut state, Message::News);
    let inches = page(&state, Glyphs::Unicode).join("\n");
    assert!(inches.contains("inches"), "{inches}");
    let beam = inches.lines().find(|row| row.contains("B1 "));
    assert!(beam.is_some_and(|row| row.contains("/64")), "{inches}");
    // Millimetres of a bar stay, in the marks that were asked for.
    let bar = inches.lines().find(|row| row.contains(" new "));
    assert!(bar.is_some_and(|row| row.contains(".000 ")), "{inches}");
}

#[test]
fn no_line_of_a_sheet_is_cut_off() {
    for (width, height) in SIZES {
        let mut state = sheets(width, height);
        press(&mut state, &[Key::Enter]);
        for _ in SheetKind::ALL {
            let mut before = Vec::new();
            loop {
                let page = page(&state, Glyphs::Unicode);
                let cut = page.iter().find(|row| row.contains('…'));
                assert_eq!(cut, None, "{width}x{height}");
                if page == before {
                    break;
                }
                before = page;
                press(&mut state, &[Key::PageDown]);
            }
            press(&mut state, &[Key::Tab]);
        }
    }
}

#[test]
fn every_task_can_be_read_with_how_and_why() {
    for (width, height) in SIZES {
        let mut state = sheets(width, height);
        let place = SheetKind::Checklist.index();
        press(&mut state, &vec![Key::Down; place]);
        press(&mut state, &[Key::Enter]);
        for number in 1..=state.papers.tasks.len() {
            let page = page(&state, Glyphs::Ascii);
            let row = page.iter().find(|row| row.starts_with("> [ ]"));
            let row = row.unwrap_or_else(|| panic!("{width}x{height}: {page:#?}"));
            assert!(row.contains(&format!("{number} ")), "{row}");
            assert!(
                page.iter().any(|row| row.starts_with(" How: ")),
                "{page:#?}"
            );
            // Where there is no room for all of it, help has it.
            let whole = page.iter().any(|row| row.starts_with(" Why: "));
            if !whole {
                press(&mut state, &[Key::Char('?'), Key::PageDown]);
                let help = self::page(&state, Glyphs::Ascii);
                press(&mut state, &[Key::Esc]);
                let said = help.iter().chain(&page).any(|row| row.contains("Why: "));
                assert!(said && page.iter().any(|row| row.contains("? shows all")));
            }
            press(&mut state, &[Key::Down]);
        }
    }
}

#[cfg(unix)]
mod written {
    use super::*;

    /// What the command prints is what the screen writes, byte for byte; and what is there is
    /// replaced after a question only.
    #[test]
    fn the_screen_writes_what_the_command_prints() {
        let folder = tempfile::tempdir().expect("a folder");
        let build = folder.path().join("router.toml");
        std::fs::copy("demo/builds/bell-foundry.toml", &build).expect("a copy");
        let build = build.to_str().expect("a plain path");
        let printed = Command::new(env!("CARGO_BIN_EXE_gantrywright"))
            .env("HOME", env!("CARGO_TARGET_TMPDIR"))
            .env_remove("XDG_CONFIG_HOME")
            .env("GANTRYWRIGHT_TODAY", pty::TODAY)
            .args(["sheet", build, "cuts", "--format", "csv"])
            .output()
            .expect("the command runs");
        assert!(printed.status.success());
        let there = folder.path().join("router-cuts.csv");

        let mut session = pty::Session::start(&[build], &[]);
        session.wait_for(">1 Working area");
        session.send("6\x1b[B");
        session.wait_for("> Cuts");
        session.send("x\x1b[B");
        session.wait_for("> CSV");
        session.send("\r");
        session.wait_for("Write the sheet to which file?");
        session.send("\r");
        session.wait_for("written to");
        let written = std::fs::read(&there).expect("the file");
        assert_eq!(
            String::from_utf8_lossy(&written),
            String::from_utf8_lossy(&printed.stdout)
        );

        std::fs::write(&there, "mine").expect("another file");
        session.send("x\x1b[B\r");
        session.wait_for("Write the sheet to which file?");
        session.send("\r");
        session.wait_for("exists already");
        session.send("\r");
        session.wait_for("Write the sheet to which file?");
        assert_eq!(
            std::fs::read_to_string(&there).ok().as_deref(),
            Some("mine")
        );
        session.send("\r");
        session.wait_for("exists already");
        session.send("\x1b[B\r");
        session.wait_for("written to");
        assert_eq!(std::fs::read(&there).ok(), Some(printed.stdout));
        session.send("\x1b");
        session.wait_for("q quit");
        session.send("q");
        let (code, raw) = session.finish();
        assert_eq!(code, 0);
        pty::assert_restored(&raw);
    }
}
