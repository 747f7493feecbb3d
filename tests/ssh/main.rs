//! The program over a real SSH connection: a server of OpenSSH on the loopback address, with keys,
//! port and settings of its own, and its client in a pseudo-terminal. They need the server, so they
//! stand apart: `cargo test --test ssh -- --ignored` runs them, and `.ci/run` installs what they
//! need (Debian's openssh-server and openssh-client). Where it is missing they fail and say so.
#![cfg(target_os = "linux")]

#[path = "../common/pty.rs"]
#[allow(dead_code, reason = "each test file uses a part of it")]
mod pty;
mod server;

use std::num::NonZeroU16;

use portable_pty::PtySize;
use pty::Session;
use rustix::process::{Signal, kill_process};
use server::Server;

/// The line is cut: the client is gone from one moment to the next.
fn cut(session: Session) {
    kill_process(session.pid(), Signal::KILL).expect("a signal");
    session.finish();
}

fn resize(session: &mut Session, rows: u16, cols: u16) {
    let size = PtySize {
        rows,
        cols,
        pixel_width: 0,
        pixel_height: 0,
    };
    let master = session.master.as_ref().expect("still open");
    master.resize(size).expect("another size");
    let number = |number| NonZeroU16::new(number).expect("not zero");
    let screen = session.parser.screen_mut();
    screen.set_size(number(rows), number(cols));
}

#[test]
#[ignore = "needs OpenSSH's server: cargo test --test ssh -- --ignored"]
fn five_steps_another_size_and_saved_over_a_line() {
    let server = Server::start();
    let file = server.write("shed.toml", "format = 1\ntitle = \"Shed\"\n");
    let mut session = server.open(&[&file]);
    session.wait_for(">1 Working area");
    session.five_steps();
    resize(&mut session, 40, 120);
    session.wait("the larger screen", |screen| {
        let rows: Vec<&str> = screen.lines().collect();
        rows.len() == 40 && rows[39].contains("? help")
    });
    resize(&mut session, 24, 80);
    session.wait("the smaller screen", |screen| {
        let rows: Vec<&str> = screen.lines().collect();
        rows.len() == 24 && rows[23].contains("? help")
    });
    session.paint();
    session.send("s");
    session.wait_for("saved to");
    session.send("q");
    let (code, raw) = session.finish();
    assert_eq!(code, 0);
    pty::assert_restored(&raw);
    let text = server.read("shed.toml");
    assert!(text.contains("paint"), "{text}");
}

#[test]
#[ignore = "needs OpenSSH's server: cargo test --test ssh -- --ignored"]
fn after_a_cut_line_the_work_is_offered_again() {
    let server = Server::start();
    let file = server.write("shed.toml", "format = 1\ntitle = \"Shed\"\n");
    let mut session = server.open(&[&file]);
    session.wait_for(">1 Working area");
    session.paint();
    cut(session);
    // The program notices by itself that the line is gone, and leaves its work behind.
    server.wait_for_no_program();
    let [offered, _] = server.open(&[&file]).takes_up_and_saves();
    assert!(offered.contains("Paint the frame"), "{offered}");
    let text = server.read("shed.toml");
    assert!(text.contains("paint"), "{text}");
    assert!(server.journals().is_empty(), "all is saved");
}

/// Words alone are looked for: whoever comes second is told that somebody works on the file.
#[test]
#[ignore = "needs OpenSSH's server: cargo test --test ssh -- --ignored"]
fn a_second_session_is_told_of_the_first() {
    let server = Server::start();
    let file = server.write("shed.toml", "format = 1\ntitle = \"Shed\"\n");
    let mut first = server.open(&[&file]);
    first.wait_for(">1 Working area");
    let mut second = server.open(&[&file]);
    second.wait("a word on who works on it", |screen| {
        // A line may end between any two words.
        let words: Vec<&str> = screen.split_whitespace().collect();
        let text = words.join(" ").to_lowercase();
        text.contains("look only") && text.contains("open")
    });
    second.send("\u{3}");
    second.finish();
    first.send("q");
    assert_eq!(first.finish().0, 0);
    // Once the first has left, the file is free.
    let mut third = server.open(&[&file]);
    let screen = third.wait_for(">1 Working area");
    assert!(!screen.to_lowercase().contains("look only"), "{screen}");
    third.send("q");
    assert_eq!(third.finish().0, 0);
}
