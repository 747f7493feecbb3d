//! Storms of sizes and signals: the program ends up with the last one, and stays.
#![cfg(target_os = "linux")]

use std::num::NonZeroU16;
use std::sync::mpsc::RecvTimeoutError;
use std::time::{Duration, Instant};

use crate::pty::{Session, contains};
use portable_pty::PtySize;
use rustix::process::{Signal, kill_process};

fn resize(session: &Session, rows: u16, cols: u16) {
    let size = PtySize {
        rows,
        cols,
        ..PtySize::default()
    };
    let master = session.master.as_ref().expect("still open");
    master.resize(size).expect("another size");
}

/// Hundredths of a second that a process has worked (`/proc/PID/stat`, fields 14 and 15).
fn worked(session: &Session) -> u64 {
    let number = session.child.process_id().expect("a process");
    let text = std::fs::read_to_string(format!("/proc/{number}/stat")).expect("a process");
    let after = text.rsplit_once(')').expect("a name").1;
    let fields: Vec<&str> = after.split_whitespace().collect();
    let ticks = |place: usize| -> u64 { fields[place].parse().expect("a number") };
    ticks(11) + ticks(12)
}

#[test]
fn a_storm_of_sizes_ends_with_the_last_one_and_silence() {
    let mut session = Session::start(&[], &[]);
    session.wait_for("? help");
    for round in 0..200_u16 {
        resize(&session, 10 + round % 50, 20 + (round * 7) % 180);
        std::thread::sleep(Duration::from_millis(4));
    }
    resize(&session, 30, 100);
    let size = |number| NonZeroU16::new(number).expect("not zero");
    session.parser = vt100::Parser::new(size(30), size(100), 0);
    session.send("2");
    session.wait("the last size", |screen| {
        let rows: Vec<&str> = screen.lines().collect();
        rows.len() == 30 && rows[29].contains("? help") && screen.contains(">2 Drive")
    });
    while session
        .output
        .recv_timeout(Duration::from_millis(500))
        .is_ok()
    {}
    let before = worked(&session);
    let silence = session.output.recv_timeout(Duration::from_millis(1500));
    assert_eq!(
        silence,
        Err(RecvTimeoutError::Timeout),
        "something is drawn though nothing happens"
    );
    let after = worked(&session);
    assert!(
        after - before <= 5,
        "{} hundredths of a second",
        after - before
    );
    session.send("q");
    let (code, raw) = session.finish();
    assert_eq!(code, 0);
    assert!(!contains(&raw, "panicked"));
}

/// A signal that comes while the system is asked whether the terminal is still there cuts the
/// question short. That is no answer: of so many signals one always comes just then.
#[test]
fn a_storm_of_signals_is_not_taken_for_a_terminal_that_is_gone() {
    let mut session = Session::start(&[], &[]);
    session.wait_for("? help");
    let end = Instant::now() + Duration::from_secs(3);
    let mut keys = ["\x1b[B", "\x1b[A"].iter().cycle();
    while Instant::now() < end {
        for _ in 0..40 {
            kill_process(session.pid(), Signal::WINCH).expect("a program");
        }
        session.send(keys.next().expect("a key"));
    }
    session.send("2");
    session.wait_for(">2 Drive");
    session.send("q");
    assert_eq!(session.finish().0, 0);
}
