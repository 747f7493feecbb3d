//! Saving, with every call to the system made to fail in turn, and with the program ended before
//! any of them: afterwards the file holds the old text or the new one, whole.
#![cfg(unix)]

use std::ffi::OsString;
use std::fs::{self, File, Permissions};
use std::os::unix::fs::PermissionsExt as _;
use std::os::unix::process::ExitStatusExt as _;
use std::path::{Path, PathBuf};
use std::process::{Child, Command};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use crate::faulty::{Fate, Faulty};
use gantrywright::store::save::{Disk as _, System, bytes_on, is_ours};
use rand::{RngExt as _, SeedableRng as _};
use rustix::process::Signal;

const OLD: &str = "format = 1 # the old text\n";
const NEW: &str = "format = 1 # the new text, which is longer than the old one\n";

/// Numbers of errors as Linux has them (errno, asm-generic).
const ERRORS: [(i32, &str); 6] = [
    (2, "ENOENT"),
    (5, "EIO"),
    (13, "EACCES"),
    (28, "ENOSPC"),
    (30, "EROFS"),
    (122, "EDQUOT"),
];

/// A process that is begun has a copy of every open file for a moment, and with it of locks: the
/// tests that look at what is locked wait for those that begin some.
static TURN: Mutex<()> = Mutex::new(());

fn turn() -> MutexGuard<'static, ()> {
    TURN.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A build that only its owner may read, behind a link, with a leftover of a dead program.
fn folder() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let real = folder.path().join("real.toml");
    fs::write(&real, OLD).expect("written");
    fs::set_permissions(&real, Permissions::from_mode(0o600)).expect("changed");
    let link = folder.path().join("build.toml");
    std::os::unix::fs::symlink("real.toml", &link).expect("linked");
    fs::write(folder.path().join(".gantrywright-1-1.new"), "half").expect("written");
    (folder, link)
}

/// What saves left behind.
fn left(folder: &Path) -> Vec<OsString> {
    let names = System.names(folder).expect("a folder");
    names.into_iter().filter(|name| is_ours(name)).collect()
}

/// The file is whole, its link and its permissions are as before; whether it is the new text.
fn is_new(folder: &Path) -> bool {
    let (link, real) = (folder.join("build.toml"), folder.join("real.toml"));
    assert!(fs::symlink_metadata(&link).expect("there").is_symlink());
    let mode = fs::metadata(&real).expect("there").permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
    let text = fs::read_to_string(&link).expect("text");
    assert!(text == OLD || text == NEW, "{text:?}");
    text == NEW
}

/// How many calls a save makes there that goes well.
fn calls() -> usize {
    let (folder, path) = folder();
    let disk = Faulty::new(usize::MAX, Fate::Ends);
    bytes_on(&disk, &path, NEW.as_bytes()).expect("saved");
    assert!(is_new(folder.path()));
    assert!(left(folder.path()).is_empty(), "the leftover is cleared");
    disk.calls.get()
}

#[test]
fn whichever_call_fails_the_file_is_whole_and_nothing_is_left() {
    let _turn = turn();
    let all = calls();
    assert!(all > 12, "{all} calls are too few to be all of them");
    let mut refused = 0;
    for at in 1..=all {
        for (error, name) in ERRORS {
            let (folder, path) = folder();
            let disk = Faulty::new(at, Fate::Fails(error));
            let done = bytes_on(&disk, &path, NEW.as_bytes());
            let what = format!("{name} at call {at} of {all}: {done:?}");
            if name == "ENOENT" && disk.lied.get() {
                // A look that finds nothing where something is: the link, or the old file's
                // permissions, are not known of then. The text is whole all the same.
                let text = fs::read_to_string(&path).expect("text");
                assert!(text == if done.is_ok() { NEW } else { OLD }, "{what}");
                continue;
            }
            // What was said is what happened.
            assert_eq!(is_new(folder.path()), done.is_ok(), "{what}");
            // The old leftover may be there still: its clearing is what failed.
            let own = |name: &OsString| name != ".gantrywright-1-1.new";
            assert!(!left(folder.path()).iter().any(own), "{what}");
            if let Err(error) = done {
                refused += 1;
                assert!(error.message.starts_with("not saved: "), "{what}");
                bytes_on(&System, &path, NEW.as_bytes()).expect("saved at the second try");
            }
            assert!(is_new(folder.path()) && left(folder.path()).is_empty() || at < all);
        }
    }
    assert!(refused > all, "{refused} of {all} calls");
}

#[test]
fn errors_are_told_in_plain_words() {
    let says = [
        (28, "the disk is full"),
        (30, "the disk can only be read"),
        (122, "what you may store there is used up"),
        (13, "you are not allowed to write in its folder"),
        (2, "its folder is no longer there"),
    ];
    for (error, words) in says {
        let told = (1..=calls()).filter_map(|at| {
            let (_folder, path) = folder();
            bytes_on(&Faulty::new(at, Fate::Fails(error)), &path, b"new").err()
        });
        assert!(
            told.into_iter()
                .any(|told| told.message == format!("not saved: {words}")),
            "{words}"
        );
    }
}

#[test]
fn wherever_the_program_ends_the_file_is_whole_and_the_next_save_clears_up() {
    let _turn = turn();
    for at in 1..=calls() {
        let (folder, path) = folder();
        let _ = bytes_on(&Faulty::new(at, Fate::Ends), &path, NEW.as_bytes());
        is_new(folder.path());
        bytes_on(&System, &path, NEW.as_bytes()).expect("saved");
        assert!(is_new(folder.path()));
        let left = left(folder.path());
        // An empty one may be another program's that has only just made it.
        let empty = |name: &OsString| {
            let known = fs::metadata(folder.path().join(name)).expect("there");
            known.len() == 0
        };
        assert!(left.iter().all(empty), "ended before call {at}: {left:?}");
    }
}

#[test]
fn what_somebody_is_writing_and_what_is_not_ours_is_not_cleared() {
    let _turn = turn();
    let (folder, path) = folder();
    let lives = folder.path().join(".gantrywright-1-2.new");
    fs::write(&lives, "half").expect("written");
    let held = File::open(&lives).expect("opened");
    held.try_lock().expect("locked");
    let other = folder.path().join(".gantrywright-notes.new");
    fs::write(&other, "mine").expect("written");
    let victim = folder.path().join("victim");
    fs::write(&victim, "precious").expect("written");
    let link = folder.path().join(".gantrywright-1-3.new");
    std::os::unix::fs::symlink(&victim, &link).expect("linked");
    bytes_on(&System, &path, NEW.as_bytes()).expect("saved");
    assert!(lives.exists() && other.exists() && fs::symlink_metadata(&link).is_ok());
    assert_eq!(fs::read_to_string(&victim).expect("text"), "precious");
    drop(held);
    bytes_on(&System, &path, NEW.as_bytes()).expect("saved");
    assert!(!lives.exists());
}

#[test]
fn the_old_text_stays_where_nothing_new_can_be_made() {
    let (folder, path) = folder();
    let real = folder.path().join("real.toml");
    fs::set_permissions(&real, Permissions::from_mode(0o400)).expect("changed");
    let error = bytes_on(&System, &path, b"new").expect_err("may only be read");
    assert!(error.message.contains("may only be read"), "{error}");
    assert_eq!(fs::read_to_string(&path).expect("text"), OLD);
    let gone = folder.path().to_owned();
    drop(folder);
    let error = bytes_on(&System, &gone.join("real.toml"), b"new").expect_err("no folder");
    assert!(error.message.contains("there is no folder"), "{error}");
    assert!(!gone.exists());
}

/// Set for a process that saves: the folder, and before which call it is killed.
const SAVES: &str = "GANTRYWRIGHT_TEST_SAVES";

/// Saves as the variable says: run by the tests below, in a process of its own.
#[test]
fn a_process_that_saves() {
    let Ok(what) = std::env::var(SAVES) else {
        return;
    };
    let (at, folder) = what.split_once(' ').expect("a call and a folder");
    let path = Path::new(folder).join("build.toml");
    match at.parse() {
        Ok(at) => {
            let disk = Faulty::new(at, Fate::Killed);
            bytes_on(&disk, &path, NEW.as_bytes()).expect("saved");
        }
        Err(_) => {
            for round in 0_u64.. {
                let text = long(char::from(b'a' + u8::try_from(round % 26).expect("few")));
                bytes_on(&System, &path, text.as_bytes()).expect("saved");
            }
        }
    }
}

fn saving(at: &str, folder: &Path) -> Child {
    let own = std::env::current_exe().expect("this test");
    Command::new(own)
        .args(["--exact", "saving::a_process_that_saves"])
        .env(SAVES, format!("{at} {}", folder.display()))
        .stdout(std::process::Stdio::null())
        .spawn()
        .expect("a process")
}

/// A text that takes many blocks of a disk, of one letter.
fn long(letter: char) -> String {
    letter.to_string().repeat(300_000)
}

#[test]
fn killed_before_any_call_the_file_is_whole() {
    let _turn = turn();
    for at in 1..200 {
        let (folder, path) = folder();
        let status = saving(&at.to_string(), folder.path())
            .wait()
            .expect("ended");
        let new = is_new(folder.path());
        if status.success() {
            assert!(new && left(folder.path()).is_empty());
            assert_eq!(at, calls() + 1, "not every call was tried");
            return;
        }
        assert_eq!(status.signal(), Some(Signal::KILL.as_raw()), "{status}");
        bytes_on(&System, &path, NEW.as_bytes()).expect("saved");
        assert!(is_new(folder.path()));
    }
    panic!("a save does not come to its end");
}

#[test]
fn killed_at_any_time_the_file_is_whole() {
    let _turn = turn();
    let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(7);
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("build.toml");
    for _ in 0..36 {
        let mut child = saving("on", folder.path());
        while !path.exists() {
            let ended = child.try_wait().expect("a child");
            assert_eq!(ended, None, "it ended before it saved");
            std::thread::sleep(Duration::from_millis(1));
        }
        std::thread::sleep(Duration::from_micros(rng.random_range(0..40_000)));
        child.kill().expect("killed");
        child.wait().expect("ended");
        let text = fs::read_to_string(&path).expect("text");
        let letter = text.chars().next().expect("a letter");
        assert!(text == long(letter), "{} bytes of {letter}", text.len());
    }
    bytes_on(&System, &path, OLD.as_bytes()).expect("saved");
    for name in left(folder.path()) {
        let known = fs::metadata(folder.path().join(&name)).expect("there");
        assert_eq!(known.len(), 0, "{name:?}");
    }
}

/// Whoever writes a file writes it as these tests have it, but for the file that says who works
/// on a build, which is written in place, and what grows line by line: journals and logs.
#[test]
fn nothing_else_writes_files() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut open = vec![root];
    let mut seen = 0;
    while let Some(folder) = open.pop() {
        for name in System.names(&folder).expect("a folder") {
            let path = folder.join(name);
            let shown = path.display().to_string();
            if path.is_dir() {
                open.push(path);
            } else if !shown.ends_with("tests.rs") && !shown.ends_with("/save/disk.rs") {
                seen += 1;
                let code = fs::read_to_string(&path).expect("text");
                let code = code.split("#[cfg(test)]").next().unwrap_or_default();
                for word in [
                    "fs::write",
                    "File::create",
                    "fs::rename",
                    "OpenOptions::new",
                ] {
                    let lock = shown.ends_with("/store/lock.rs") && word == "OpenOptions::new";
                    let grows =
                        shown.contains("/store/journal/") || shown.ends_with("/store/log.rs");
                    // Opened to be read only, without waiting.
                    let reads = shown.ends_with("/store/text.rs") && !code.contains(".write(true)");
                    // The build script writes into cargo's folder.
                    let builds = shown.ends_with("/store/embedded/bake.rs");
                    let fine = lock || grows || reads || builds || !code.contains(word);
                    assert!(fine, "{shown} names {word}");
                }
            }
        }
    }
    assert!(seen > 100, "the walk found too little");
}
