//! Saving on disks that are full, and that can only be read: real ones, small and in memory
//! (tmpfs), mounted in a space of their own that ends with the process. Mounting needs rights that
//! not everybody has, so these tests stand apart: `cargo test --test disks -- --ignored` runs them,
//! as `.ci/run` does. Where nothing can be mounted they say so aloud and test nothing.
#![cfg(target_os = "linux")]

use std::ffi::OsString;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use gantrywright::store::save::{self, Disk as _, System};

/// Set for the process that saves on the mounted disk: its folder.
const FOLDER: &str = "GANTRYWRIGHT_TEST_DISK";

const OLD: &str = "format = 1 # the old text\n";

/// Runs a test of this file behind commands of a shell, where `$1` is a folder to mount on.
fn behind(commands: &str, test: &str) -> Option<Output> {
    let folder = tempfile::tempdir().expect("a folder");
    let own = std::env::current_exe().expect("this test");
    let script = format!("set -e\n{commands}\nexec \"$2\" --ignored --exact {test} --nocapture");
    // With a space of users of one's own, whoever is not root may mount too, where that is allowed.
    for space in [&["-m"][..], &["-m", "-r"]] {
        let can = Command::new("unshare")
            .args(space)
            .args(["mount", "-t", "tmpfs", "none"])
            .arg(folder.path())
            .output();
        if !can.is_ok_and(|done| done.status.success()) {
            continue;
        }
        let done = Command::new("unshare")
            .args(space)
            .args(["sh", "-c", &script, "sh"])
            .args([folder.path(), &own])
            .env(FOLDER, folder.path())
            .output();
        return Some(done.expect("unshare ran before"));
    }
    println!("NOT TESTED: no disk can be mounted here ({test})");
    None
}

fn holds(done: Option<Output>) {
    let Some(done) = done else { return };
    let said = String::from_utf8_lossy(&done.stdout);
    let complained = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "{said}{complained}");
    assert!(said.contains("1 passed"), "nothing was tested: {said}");
    assert!(said.contains("saw it"), "nothing was mounted: {said}");
}

/// The folder in the process that saves; none in the one that only begins it.
fn mounted() -> Option<String> {
    std::env::var(FOLDER).ok()
}

fn names(folder: &Path) -> Vec<OsString> {
    let mut names = System.names(folder).expect("a folder");
    names.sort();
    names
}

/// A save of a long text is refused with these words, and the old text stays.
fn refuses(folder: &Path, words: &str, beside: &[&str]) {
    let path = folder.join("build.toml");
    let error = save::save(&path, &"x".repeat(500_000)).expect_err("it cannot be saved");
    assert_eq!(error.message, format!("not saved: {words}"));
    assert_eq!(fs::read_to_string(&path).expect("text"), OLD);
    assert_eq!(names(folder), beside, "something is left");
    println!("saw it");
}

#[test]
#[ignore = "mounts a disk: see the top of the file"]
fn a_full_disk() {
    let Some(folder) = mounted() else {
        return holds(behind(
            "mount -t tmpfs -o size=200k none \"$1\"",
            "a_full_disk",
        ));
    };
    let folder = Path::new(&folder);
    fs::write(folder.join("build.toml"), OLD).expect("written");
    refuses(folder, "the disk is full", &["build.toml"]);
    // What fits is saved, and what a dead program left behind makes room for it.
    fs::write(folder.join(".gantrywright-1-1.new"), "x".repeat(150_000)).expect("written");
    let path = folder.join("build.toml");
    save::save(&path, &"y".repeat(100_000)).expect("saved");
    assert_eq!(names(folder), ["build.toml"]);
}

#[test]
#[ignore = "mounts a disk: see the top of the file"]
fn a_disk_without_room_for_one_more_name() {
    let Some(folder) = mounted() else {
        return holds(behind(
            "mount -t tmpfs -o nr_inodes=2 none \"$1\"",
            "a_disk_without_room_for_one_more_name",
        ));
    };
    let folder = Path::new(&folder);
    fs::write(folder.join("build.toml"), OLD).expect("written");
    refuses(folder, "the disk is full", &["build.toml"]);
}

#[test]
#[ignore = "mounts a disk: see the top of the file"]
fn a_disk_that_can_only_be_read() {
    let Some(folder) = mounted() else {
        let old = OLD.trim();
        let commands = format!(
            "mount -t tmpfs none \"$1\"\necho '{old}' > \"$1/build.toml\"\nmount -o remount,ro \"$1\""
        );
        return holds(behind(&commands, "a_disk_that_can_only_be_read"));
    };
    let folder = Path::new(&folder);
    refuses(folder, "the disk can only be read", &["build.toml"]);
    // Nobody can lie beside it, so nobody can be told apart; a folder that can be read is open
    // to all the same.
    let asked = gantrywright::store::lock::ask(&folder.join("build.toml"));
    let told = format!("{asked:?}");
    assert!(told.contains("the disk can only be read"), "{told}");
}
