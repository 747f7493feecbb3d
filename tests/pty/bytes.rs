//! How much is written to the terminal: over a slow line that is what somebody waits for. Counts
//! alone, no times; `benches/terminal.rs` measures those.
#![cfg(unix)]

use std::num::NonZeroU16;
use std::sync::mpsc::RecvTimeoutError;
use std::time::Duration;

use crate::pty::Session;
use portable_pty::PtySize;

/// The end of a frame (the mark for output that is shown at once).
const FRAME: &[u8] = b"\x1b[?2026l";
/// Longer than any machine needs for a frame.
const PATIENCE: Duration = Duration::from_secs(60);

/// When no more is on its way.
const SETTLED: Duration = Duration::from_millis(300);

/// The program at 120 by 40, in all colours: their spelling is the longest.
fn start() -> Session {
    let mut session = Session::start(&[], &[("COLORTERM", "truecolor")]);
    session.wait_for("? help");
    take_frame(&mut session);
    let (rows, columns) = (
        NonZeroU16::new(40).expect("not zero"),
        NonZeroU16::new(120).expect("not zero"),
    );
    session.parser.screen_mut().set_size(rows, columns);
    session.raw.clear();
    let master = session.master.as_ref().expect("still open");
    let size = PtySize {
        rows: rows.get(),
        cols: columns.get(),
        pixel_width: 0,
        pixel_height: 0,
    };
    master.resize(size).expect("another size");
    take_frame(&mut session);
    session
}

/// Reads on to the end of the frame that is coming in.
fn take_frame(session: &mut Session) {
    while !session.raw.ends_with(FRAME) {
        let bytes = session.output.recv_timeout(PATIENCE).expect("a frame");
        session.parser.process(&bytes);
        session.raw.extend(bytes);
    }
}

/// Presses a key and takes its frame: how much was written, and whether the screen changed.
fn press(session: &mut Session, key: &str) -> (usize, bool) {
    let before = session.parser.screen().contents_formatted();
    session.raw.clear();
    session.send(key);
    take_frame(session);
    let changed = session.parser.screen().contents_formatted() != before;
    (session.raw.len(), changed)
}

/// Opens the options of a choice, at the first of them.
fn open(session: &mut Session, choice: &str) {
    session.send(&format!("/{choice}\r"));
    let title = format!("── {choice}");
    // While it is looked for, the last row tells of other keys.
    session.wait(choice, |screen| {
        screen.contains(&title) && screen.contains("enter take")
    });
    session.send("\x1b[H");
    // Where the first is the one that is there already, that changes nothing.
    while let Ok(bytes) = session.output.recv_timeout(SETTLED) {
        session.parser.process(&bytes);
    }
}

/// A thread that read keys for the one that draws would have to be woken first, at each of them:
/// but for the journal's there is none.
#[cfg(target_os = "linux")]
#[test]
fn keys_are_read_in_the_thread_that_draws() {
    let mut session = start();
    assert!(press(&mut session, "2").1);
    let tasks = format!("/proc/{}/task", session.pid().as_raw_nonzero());
    let threads = std::fs::read_dir(tasks).expect("its threads");
    assert!(threads.count() <= 2);
}

/// A preview is on the screen, and a picture: neither is drawn again by itself.
#[test]
fn nothing_is_written_while_nobody_presses_a_key() {
    let mut session = start();
    open(&mut session, "Drive X");
    for key in ["\x1b[B", "p"] {
        let (written, changed) = press(&mut session, key);
        assert!(written > 0 && changed);
        let silence = session.output.recv_timeout(Duration::from_secs(1));
        assert_eq!(silence, Err(RecvTimeoutError::Timeout));
    }
    press(&mut session, "\x1b");
    session.send("q");
    assert_eq!(session.finish().0, 0);
}

/// Reads the answer to a key to the end of its frame; gives its bytes, none where nothing comes.
fn hear(session: &mut Session) -> usize {
    session.raw.clear();
    let mut patience = SETTLED;
    while let Ok(bytes) = session.output.recv_timeout(patience) {
        session.parser.process(&bytes);
        session.raw.extend(bytes);
        if session.raw.ends_with(FRAME) {
            break;
        }
        patience = PATIENCE;
    }
    session.raw.len()
}

/// Which choices of each step are opened: every so many.
const APART: usize = 3;
/// Rows down each list.
const ROWS: usize = 5;
/// What a key writes at most, by the median of all.
const MOST: usize = 400;

/// Over the options of every third choice of the five steps, with what each would change all over
/// the screen.
#[test]
fn a_key_over_options_writes_few_bytes() {
    let mut session = start();
    let mut all = Vec::new();
    for step in ["1", "2", "3", "4", "5"] {
        session.send(step);
        hear(&mut session);
        let mut ended = false;
        while !ended {
            session.send("\r");
            hear(&mut session);
            for _ in 0..ROWS {
                session.send("\x1b[B");
                match hear(&mut session) {
                    0 => break,
                    bytes => all.push(bytes),
                }
            }
            session.send("\x1b");
            hear(&mut session);
            for _ in 0..APART {
                session.send("\x1b[B");
                ended |= hear(&mut session) == 0;
            }
        }
    }
    all.sort_unstable();
    assert!(all.len() > 100, "{} keys", all.len());
    let median = all[all.len() / 2];
    assert!(median <= MOST, "{median} bytes: {all:?}");
    session.send("q");
    assert_eq!(session.finish().0, 0);
}
