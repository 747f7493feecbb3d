//! Stopped and continued, by a key or from outside: the terminal is given back each time, and
//! taken again when the program goes on. `recovery.rs` and `faults.rs` have the ends that nobody
//! wished for.
#![cfg(target_os = "linux")]

use crate::pty::{Session, assert_restored};
use rustix::process::{Pid, Signal, kill_process};

/// A shell with jobs, which runs the program, says that it stopped, and continues it once a
/// line is typed.
const SHELL: &str = r#"
set -m
"$PROGRAM"
echo "it stopped: $?"
read -r line
fg >/dev/null
echo "it ended: $?"
"#;

fn in_a_shell() -> Session {
    let program = env!("CARGO_BIN_EXE_gantrywright");
    let mut session = Session::run("/bin/sh", &["-c", SHELL], &[("PROGRAM", program)]);
    session.wait_for(">1 Working area");
    session
}

/// The program that the shell started.
fn program_of(session: &Session) -> Pid {
    let shell = session.child.process_id().expect("a process");
    let path = format!("/proc/{shell}/task/{shell}/children");
    let children = std::fs::read_to_string(path).expect("the children of the shell");
    let first = children.split_whitespace().next().expect("a child");
    Pid::from_raw(first.parse().expect("a process number")).expect("not zero")
}

/// Sees that the stopped program left the terminal as it was, and continues it.
fn gives_the_terminal_back_and_goes_on(mut session: Session) {
    let screen = session.wait_for("it stopped");
    assert!(
        !screen.contains("COST"),
        "the screen was not given back:\n{screen}"
    );
    assert_restored(&session.raw);
    goes_on(session);
}

/// Continues the stopped program, sees that it is whole, and leaves.
fn goes_on(mut session: Session) {
    // Not a carriage return: after a stop without warning the terminal is still raw.
    session.send("\n");
    session.wait("the whole screen", |screen| {
        screen.contains(">1 Working area")
            && screen.contains("COST")
            && screen.contains("? help")
            && !screen.contains("it stopped")
    });
    session.send("2");
    session.wait_for(">2 Drive");
    session.send("q");
    session.wait_for("it ended: 0");
    let (_, raw) = session.finish();
    assert_restored(&raw);
}

#[test]
fn a_key_stops_the_program_and_the_shell_continues_it() {
    let mut session = in_a_shell();
    session.send("\x1a");
    gives_the_terminal_back_and_goes_on(session);
}

#[test]
fn a_signal_to_stop_gives_the_terminal_back_too() {
    let session = in_a_shell();
    kill_process(program_of(&session), Signal::TSTP).expect("a signal");
    gives_the_terminal_back_and_goes_on(session);
}

/// This signal cannot be caught; what can be done is to draw all of it again afterwards.
#[test]
fn after_a_stop_without_warning_the_screen_is_whole_again() {
    let mut session = in_a_shell();
    kill_process(program_of(&session), Signal::STOP).expect("a signal");
    session.wait_for_output("it stopped");
    goes_on(session);
}

/// Where there is no shell to continue it, the program does not stop for good.
#[test]
fn without_a_shell_it_does_not_stop() {
    let mut session = Session::start(&[], &[]);
    session.wait_for(">1 Working area");
    session.send("\x1a2");
    session.wait_for(">2 Drive");
    session.send("q");
    assert_eq!(session.finish().0, 0);
}
