//! The program at terminals of many kinds, each in a real pseudo-terminal: what is sent is what
//! such a terminal knows, text arrives, and all is given back.
#![cfg(target_os = "linux")]

use std::num::NonZeroU16;

use crate::pty::{Session, assert_restored, contains, sequences, settings};

/// The last that was said of a mode: whether it is on; none where nothing was.
fn mode(raw: &[u8], number: &str) -> Option<bool> {
    let all = sequences(raw);
    let said = all.iter().rev().find(|(parameters, last)| {
        "hl".contains(*last) && parameters.strip_prefix('?') == Some(number)
    });
    said.map(|(_, last)| *last == 'h')
}

/// Starts it, goes to another step, a list, a page, and leaves.
fn visit(variables: &[(&str, &str)]) -> Vec<u8> {
    let mut session = Session::start(&[], variables);
    session.wait_for(">1 Working area");
    session.wait_for("COST");
    session.send("2");
    session.wait_for(">2 Drive");
    session.send("\r\u{1b}[B");
    session.wait_for("enter take");
    session.send("q");
    let (code, raw) = session.finish();
    assert_eq!(code, 0);
    raw
}

/// The eight colours and their end, and the attributes that a terminal of ours may be sent:
/// ECMA-48, 8.3.117. The console's manual page (`console_codes(4)`) has them all.
const EIGHT: &[&str] = &[
    "", "0", "1", "2", "4", "7", "22", "24", "27", "30", "31", "32", "33", "34", "35", "36", "37",
    "39", "49",
];

#[test]
fn terminals_with_eight_colours_are_sent_those_alone() {
    for term in ["linux", "screen", "xterm"] {
        let raw = visit(&[("TERM", term)]);
        let mut coloured = false;
        for setting in settings(&raw) {
            for part in setting.split(';') {
                assert!(EIGHT.contains(&part), "{term}: {setting}");
                coloured |= part.starts_with('3') && part != "39";
            }
        }
        assert!(coloured, "{term} was sent no colour");
    }
}

#[test]
fn terminals_with_a_table_are_sent_no_mixed_colours() {
    for term in ["xterm-256color", "screen-256color", "tmux-256color"] {
        let raw = visit(&[("TERM", term)]);
        let settings = settings(&raw);
        assert!(settings.iter().all(|one| !one.contains("38;2")), "{term}");
        assert!(settings.iter().any(|one| one.contains("38;5;")), "{term}");
    }
    // Nor where more is said to be there: the table's codes take half as many bytes.
    let more = visit(&[("TERM", "xterm-256color"), ("COLORTERM", "truecolor")]);
    assert!(settings(&more).iter().all(|one| !one.contains("38;2;")));
    let mixed = visit(&[("TERM", "xterm-direct")]);
    assert!(settings(&mixed).iter().any(|one| one.contains("38;2;")));
}

/// Old terminals know the sixteen colours by their short names only.
#[test]
fn sixteen_colours_are_sent_in_the_short_spelling() {
    let args = ["--color", "16", "--theme", "dark"];
    let mut session = Session::start(&args, &[]);
    session.wait_for("? help");
    session.send("q");
    let (_, raw) = session.finish();
    assert!(!contains(&raw, "38;5;"), "a place in the table of 256");
    let mut settings = settings(&raw).into_iter();
    assert!(
        settings.any(|setting| setting.split(';').any(|part| part == "36")),
        "no colour at all"
    );
}

/// DEC's manual of the VT100, chapter 3: attributes 0, 1, 4, 5 and 7, no colours. Letters are
/// those of ASCII where the locale says so.
#[test]
fn a_vt100_is_sent_what_it_knows() {
    let raw = visit(&[("TERM", "vt100"), ("LC_ALL", "C")]);
    for setting in settings(&raw) {
        let known = |part: &str| ["", "0", "1", "4", "7"].contains(&part);
        assert!(setting.split(';').all(known), "{setting}");
    }
    assert!(raw.is_ascii());
    assert!(settings(&raw).iter().any(|one| one.contains('7')));
}

#[test]
fn modern_terminals_get_all_back() {
    for term in [
        "xterm",
        "xterm-256color",
        "screen",
        "screen-256color",
        "tmux-256color",
    ] {
        let raw = visit(&[("TERM", term)]);
        assert_restored(&raw);
        for (number, on) in [
            ("1049", false),
            ("2004", false),
            ("2026", false),
            ("25", true),
        ] {
            assert_eq!(mode(&raw, number), Some(on), "{term}: mode {number}");
        }
        assert_eq!(mode(&raw, "1000"), Some(false), "{term}: the mouse");
        assert!(
            !contains(&raw, "\u{1b}[?1000h"),
            "unasked, the mouse is left alone"
        );
    }
}

/// Where there is no second screen, what is left is an empty one, its cursor at the top.
#[test]
fn simple_terminals_get_an_empty_screen_back() {
    for term in ["linux", "vt100"] {
        let raw = visit(&[("TERM", term)]);
        for number in ["1049", "2004", "2026", "1000", "1006"] {
            assert_eq!(mode(&raw, number), None, "{term}: mode {number}");
        }
        assert_eq!(mode(&raw, "25"), Some(true), "{term}: the cursor");
        let size = |number| NonZeroU16::new(number).expect("not zero");
        let mut parser = vt100::Parser::new(size(24), size(80), 0);
        parser.process(&raw);
        assert_eq!(parser.screen().contents().trim(), "", "{term}");
        assert_eq!(parser.screen().cursor_position(), (0, 0), "{term}");
    }
}

#[test]
fn a_terminal_that_only_prints_is_told_what_to_do_instead() {
    let session = Session::start(&[], &[("TERM", "dumb")]);
    let (code, raw) = session.finish();
    let text = String::from_utf8_lossy(&raw);
    assert_eq!(code, 2, "{text}");
    assert!(!raw.contains(&0x1b), "{text}");
    assert!(
        text.contains("--plain") && text.contains("assess"),
        "{text}"
    );
}

#[test]
fn the_theme_is_asked_for_or_said_by_the_terminal_and_changed_on_the_page() {
    let first = |session: &mut Session| {
        session.wait_for("? help");
        let blue = |number: &str| contains(&session.raw, &format!("38;5;{number}"));
        [blue("74"), blue("25"), blue("63")]
    };
    let (dark, light, either) = (
        [true, false, false],
        [false, true, false],
        [false, false, true],
    );
    for (args, variables, wanted) in [
        (&["--theme", "dark"][..], &[][..], dark),
        (&["--theme", "light"], &[], light),
        (&[], &[("COLORFGBG", "0;15")], light),
        (&["--theme", "dark"], &[("COLORFGBG", "0;15")], dark),
        (&[], &[], either),
    ] {
        let mut session = Session::start(args, variables);
        assert_eq!(first(&mut session), wanted, "{args:?} {variables:?}");
        session.send("q");
        assert_eq!(session.finish().0, 0);
    }
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().to_string_lossy().into_owned();
    let mut session = Session::start(&[], &[("XDG_CONFIG_HOME", &folder)]);
    assert_eq!(first(&mut session), either);
    session.send("t");
    session.wait_for("as the terminal says");
    session.send("\u{1b}[B\u{1b}[B\u{1b}[B\u{1b}[C");
    session.wait_for("dark background");
    assert!(
        contains(&session.raw, "38;5;74"),
        "the page changed nothing"
    );
    session.send("\u{1b}[C");
    session.wait_for("light background");
    assert!(
        contains(&session.raw, "38;5;25"),
        "the page changed nothing"
    );
    session.send("\u{3}");
    assert_eq!(session.finish().0, 0);
    let file = home.path().join("gantrywright/settings.toml");
    let text = std::fs::read_to_string(file).expect("the settings");
    assert!(text.contains("theme = \"light\""), "{text}");
}

/// A home with settings in it.
fn with_settings(text: &str) -> (tempfile::TempDir, String) {
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().join("gantrywright");
    std::fs::create_dir(&folder).expect("a folder");
    std::fs::write(folder.join("settings.toml"), text).expect("written");
    let path = home.path().to_string_lossy().into_owned();
    (home, path)
}

/// Column and row, from one, of a text on the screen.
fn place(screen: &str, text: &str) -> (usize, usize) {
    let mut rows = screen.lines().enumerate();
    let found = rows.find_map(|(row, line)| {
        let at = line.find(text)?;
        Some((line[..at].chars().count() + 1, row + 1))
    });
    found.unwrap_or_else(|| panic!("no {text:?} in\n{screen}"))
}

/// Presses the left button on a text, as xterm reports it (mode 1006).
fn click(session: &mut Session, text: &str) {
    let (column, row) = place(&session.screen(), text);
    session.send(&format!(
        "\u{1b}[<0;{column};{row}M\u{1b}[<0;{column};{row}m"
    ));
}

#[test]
fn a_mouse_that_is_wished_goes_to_steps_rows_and_keys_and_is_given_back() {
    let (_home, folder) = with_settings("mouse = true\n");
    let mut session = Session::start(&[], &[("XDG_CONFIG_HOME", &folder)]);
    session.wait_for("? help");
    assert_eq!(mode(&session.raw, "1000"), Some(true));
    click(&mut session, "2 Drive");
    session.wait("the choices", |screen| {
        screen.contains(">2 Drive") && screen.contains("  Drive X")
    });
    click(&mut session, "Drive X");
    session.wait_for("> Drive X");
    click(&mut session, "Drive X");
    session.wait_for("enter take");
    session.send("\u{1b}[<65;5;5M");
    click(&mut session, "? help");
    // The line of keys is drawn last: before it, the old one would be clicked.
    session.wait_for("esc back  tab next page");
    click(&mut session, "esc back");
    session.wait_for("COST");
    session.send("q");
    let (code, raw) = session.finish();
    assert_eq!(code, 0);
    assert_eq!(mode(&raw, "1000"), Some(false));
    assert_eq!(mode(&raw, "1006"), Some(false));
}

#[test]
fn the_mouse_is_the_shells_while_the_program_is_stopped() {
    const SHELL: &str = "set -m\n\"$PROGRAM\"\necho \"it stopped\"\nread -r line\nfg >/dev/null\necho \"it ended: $?\"\n";
    let (_home, folder) = with_settings("mouse = true\n");
    let program = env!("CARGO_BIN_EXE_gantrywright");
    let variables = [("PROGRAM", program), ("XDG_CONFIG_HOME", &folder)];
    let mut session = Session::run("/bin/sh", &["-c", SHELL], &variables);
    session.wait_for("? help");
    session.send("\u{1a}");
    session.wait_for("it stopped");
    assert_eq!(mode(&session.raw, "1000"), Some(false));
    session.send("\n");
    session.wait("the whole screen", |screen| {
        screen.contains("? help") && !screen.contains("it stopped")
    });
    assert_eq!(mode(&session.raw, "1000"), Some(true));
    session.send("q");
    session.wait_for("it ended: 0");
    assert_eq!(mode(&session.raw, "1000"), Some(false));
}

/// What is pasted is text and never a key: the q in it does not quit.
#[test]
fn a_paste_is_text() {
    let mut session = Session::start(&[], &[]);
    session.wait_for("? help");
    session.send("\u{1b}[200~q2\r\u{1b}[201~");
    session.send("/");
    session.wait_for("find:");
    session.send("\u{1b}[200~travel\u{1b}[201~");
    session.wait_for("find: travel");
    session.send("\u{1b}");
    session.wait("no field", |screen| !screen.contains("find:"));
    session.send("\u{3}");
    assert_eq!(session.finish().0, 0);
}

/// The keys of flow control stop nothing and do nothing.
#[test]
fn flow_control_does_not_stop_the_screen() {
    let mut session = Session::start(&[], &[]);
    session.wait_for("? help");
    session.send("\u{13}2");
    session.wait_for(">2 Drive");
    session.send("\u{11}3");
    session.wait_for(">3 Spindle");
    session.send("q");
    assert_eq!(session.finish().0, 0);
}

/// The line beside the pane stands in its column whatever the terminal makes of the text left of
/// it: behind each wide character the cursor is told anew where to go.
#[test]
fn the_pane_stays_in_its_column_beside_text_of_any_script() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("wide.toml");
    let text = "format = 1\ntitle = \"漢字 👩\u{200d}🔧 e\u{301} עברית 🇩🇪 ⚙\u{fe0f} router\"\nnote = \"한글 👍🏽 क्षि العربية and more words\"\n";
    std::fs::write(&file, text).expect("written");
    let path = file.to_string_lossy().into_owned();
    let mut session = Session::start(&[&path], &[]);
    session.wait_for("? help");
    session.send("v");
    session.wait_for("Variants:");
    session.wait_for("한글");
    let screen = session.parser.screen();
    for row in 3..23 {
        let edge = screen.cell(row, 47).map(|cell| cell.contents().to_owned());
        let edge = edge.unwrap_or_default();
        assert!(
            ["│", "┤"].contains(&edge.as_str()),
            "row {row}: {edge:?}\n{}",
            screen.contents()
        );
    }
    session.send("\u{3}");
    assert_eq!(session.finish().0, 0);
}

/// A line to another machine may cut the sequence of a key behind its first byte, which is a key of
/// its own where nothing follows it. On a busy machine the rest may come later than any line would
/// bring it: one session of several has to do.
#[test]
fn a_key_that_a_slow_line_cuts_in_two_is_one_key() {
    let far = ("SSH_CONNECTION", "192.0.2.1 1 192.0.2.2 22");
    let is_one_key = || {
        let mut session = Session::start(&[], &[far]);
        session.wait_for("> Wall socket");
        session.send("\u{1b}");
        std::thread::sleep(std::time::Duration::from_millis(2));
        session.send("[B");
        let moved = "> Second circuit";
        let shown = session.wait("the next choice, or the menu", |screen| {
            screen.contains(moved) || screen.contains("Undo")
        });
        shown.contains(moved)
    };
    assert!((0..8).any(|_| is_one_key()));
}
