//! The whole program in a real pseudo-terminal. Tests wait for text, never for time.
#![cfg(unix)]

use std::num::NonZeroU16;
use std::sync::mpsc::RecvTimeoutError;
use std::time::Duration;

use crate::pty::{Session, assert_restored, settings};
use portable_pty::PtySize;
use rustix::process::{Signal, kill_process};

fn cost(screen: &str) -> String {
    let line = screen
        .lines()
        .find(|line| line.contains("COST"))
        .expect("a cost");
    line.rsplit("COST")
        .next()
        .expect("text after it")
        .trim()
        .to_owned()
}

#[test]
fn five_steps_an_option_taken_and_undone_saved_and_left() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("router.toml");
    let mut session = Session::start(&[], &[]);
    session.wait_for(">1 Working area");
    session.five_steps();
    let before = cost(&session.screen());
    session.send("/paint\r");
    session.wait_for("Paint the frame");
    session.wait("the preview's row", |screen| screen.contains("enter take"));
    session.send("\x1b[B");
    session.wait("before and after", |screen| cost(screen).contains("->"));
    session.send("\r");
    let taken = session.wait("the taken option", |screen| {
        !cost(screen).contains("->") && cost(screen) != before
    });
    session.send("u");
    session.wait("the cost before", |screen| cost(screen) == before);
    session.send("r");
    session.wait("the cost after", |screen| cost(screen) == cost(&taken));
    session.send("s");
    session.wait_for("Save to which file?");
    session.send("\x15");
    session.send(&format!("{}\r", file.display()));
    session.wait_for("saved to");
    let text = std::fs::read_to_string(&file).expect("the saved file");
    assert!(text.contains("paint"), "{text}");
    session.send("q");
    let (code, raw) = session.finish();
    assert_eq!(code, 0);
    assert_restored(&raw);
}

#[test]
fn a_question_stands_before_unsaved_work_is_dropped() {
    let mut session = Session::start(&[], &[]);
    session.wait_for(">1 Working area");
    session.paint();
    session.send("\x03");
    session.wait_for("Quit without saving");
    session.send("\x1b[B\x1b[B\r");
    let (code, raw) = session.finish();
    assert_eq!(code, 0);
    assert_restored(&raw);
}

#[test]
fn the_program_ends_when_its_terminal_is_gone() {
    let mut session = Session::start(&[], &[]);
    session.wait_for(">1 Working area");
    session.hang_up();
    let (code, _) = session.finish();
    assert_ne!(code, 0);
}

#[test]
fn a_signal_to_end_gives_the_terminal_back() {
    let mut session = Session::start(&[], &[]);
    session.wait_for(">1 Working area");
    kill_process(session.pid(), Signal::TERM).expect("a signal");
    let (_, raw) = session.finish();
    assert_restored(&raw);
}

#[test]
fn another_size_is_drawn_whole() {
    let mut session = Session::start(&[], &[]);
    session.wait_for("? help");
    let size = PtySize {
        rows: 18,
        cols: 60,
        pixel_width: 0,
        pixel_height: 0,
    };
    session
        .master
        .as_ref()
        .expect("still open")
        .resize(size)
        .expect("another size");
    session.parser.screen_mut().set_size(
        NonZeroU16::new(18).expect("not zero"),
        NonZeroU16::new(60).expect("not zero"),
    );
    session.wait("the strip", |screen| screen.contains("RAPIDS   slowest"));
    session.send("q");
    assert_eq!(session.finish().0, 0);
}

/// A key that comes in together with a new size is heard, not kept until the next one.
#[test]
fn keys_beside_a_new_size_are_heard() {
    let mut session = Session::start(&[], &[]);
    session.wait_for("? help");
    for round in 0..30 {
        let size = PtySize {
            rows: 24,
            cols: 80 + round % 2,
            pixel_width: 0,
            pixel_height: 0,
        };
        let master = session.master.as_ref().expect("still open");
        master.resize(size).expect("another size");
        let columns = NonZeroU16::new(size.cols).expect("not zero");
        let rows = NonZeroU16::new(24).expect("not zero");
        session.parser.screen_mut().set_size(rows, columns);
        let (key, step) = if round % 2 == 0 {
            ("2", ">2 Drive")
        } else {
            ("1", ">1 Working area")
        };
        session.send(key);
        session.wait_for(step);
    }
    session.send("q");
    assert_eq!(session.finish().0, 0);
}

#[test]
fn no_colour_is_sent_where_none_is_wished() {
    let mut session = Session::start(&[], &[("NO_COLOR", "1")]);
    session.wait_for("? help");
    session.send("q");
    let (_, raw) = session.finish();
    let settings = settings(&raw);
    let parts = || settings.iter().flat_map(|setting| setting.split(';'));
    for part in parts().filter_map(|part| part.parse::<u8>().ok()) {
        // ECMA-48, 8.3.117: 30 to 37 and 40 to 47, 38 and 48 for more; terminals add 90 to 107.
        let colour = matches!(part, 30..=38 | 40..=48 | 90..=107);
        assert!(!colour, "{part} was sent");
    }
    assert!(
        parts().any(|part| part == "7"),
        "the cursor's row is not reversed"
    );
}

#[test]
fn a_plain_locale_gets_plain_characters() {
    let mut session = Session::start(&[], &[("LC_ALL", "C")]);
    session.wait_for("? help");
    session.send("q");
    let (_, raw) = session.finish();
    assert!(raw.is_ascii());
}

/// Idle, nothing is written: the first silence lasts until the next key.
#[test]
fn idle_costs_nothing() {
    let mut session = Session::start(&[], &[]);
    session.wait_for("? help");
    while session
        .output
        .recv_timeout(Duration::from_millis(500))
        .is_ok()
    {}
    let silence = session.output.recv_timeout(Duration::from_millis(1500));
    assert_eq!(silence, Err(RecvTimeoutError::Timeout));
    session.send("q");
    assert_eq!(session.finish().0, 0);
}
