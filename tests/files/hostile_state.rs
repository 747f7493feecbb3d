//! What the program remembers, where somebody put something else in its place: the screen opens
//! all the same, in a real pseudo-terminal.
#![cfg(unix)]

use std::fs;

use crate::pty::Session;
use nix::sys::stat::Mode;
use nix::unistd::mkfifo;

/// Opens a build with that state, and leaves.
fn opens(state: &dyn Fn(&std::path::Path)) -> String {
    let home = tempfile::tempdir().expect("a folder");
    fs::create_dir(home.path().join("gantrywright")).expect("made");
    state(&home.path().join("gantrywright/state.toml"));
    let file = home.path().join("shed.toml");
    fs::write(&file, "format = 1\ntitle = \"Shed\"\n").expect("written");
    let folder = home.path().to_string_lossy().into_owned();
    let home = [
        ("XDG_STATE_HOME", folder.as_str()),
        ("XDG_CONFIG_HOME", &folder),
    ];
    let mut session = Session::start(&[&file.to_string_lossy()], &home);
    let shown = session.wait_for("Shed");
    session.send("q");
    assert_eq!(session.finish().0, 0);
    shown
}

#[test]
fn a_strange_state_keeps_nobody_waiting() {
    opens(&|path| {
        mkfifo(path, Mode::S_IRWXU).expect("a pipe");
    });
    opens(&|path| std::os::unix::fs::symlink("/dev/zero", path).expect("linked"));
    opens(&|path| fs::create_dir(path).expect("made"));
    opens(&|path| fs::write(path, b"last = \"\xff\0").expect("written"));
    let deep = format!("last = {}", "[".repeat(500_000));
    opens(&|path| fs::write(path, &deep).expect("written"));
}

#[test]
fn what_is_remembered_steers_no_terminal() {
    let home = tempfile::tempdir().expect("a folder");
    fs::create_dir(home.path().join("gantrywright")).expect("made");
    let odd = home.path().join("a\u{1b}]0;x\u{7}\u{202e}z.toml");
    fs::write(&odd, "format = 1\n").expect("written");
    let last = toml::Value::String(odd.to_string_lossy().into_owned());
    let state = home.path().join("gantrywright/state.toml");
    fs::write(state, format!("last = {last}\n")).expect("written");
    let folder = home.path().to_string_lossy().into_owned();
    let home = [
        ("XDG_STATE_HOME", folder.as_str()),
        ("XDG_CONFIG_HOME", &folder),
    ];
    let mut session = Session::start(&[], &home);
    let shown = session.wait_for("goes on with");
    assert!(shown.contains("\\u{1b}]0;x\\u{7}\\u{202e}z"), "{shown}");
    session.send("q");
    assert_eq!(session.finish().0, 0);
}
