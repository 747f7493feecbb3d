//! Two people on one file, each in a real pseudo-terminal; and a file that is changed on the disk
//! while it is open.
#![cfg(unix)]

use std::path::PathBuf;

use crate::pty::{Session, TODAY};
use assert_cmd::Command;
use rustix::process::{Signal, kill_process};

const BUILD: &str = "format = 1\ntitle = \"Shed\" # by hand\n\n[working_area]\ntravel_x_mm = 600\n";

struct Shop {
    folder: tempfile::TempDir,
}

impl Shop {
    fn new() -> Self {
        let shop = Self {
            folder: tempfile::tempdir().expect("a folder"),
        };
        std::fs::write(shop.file(), BUILD).expect("written");
        shop
    }

    fn file(&self) -> PathBuf {
        self.folder.path().join("shed.toml")
    }

    fn text(&self) -> String {
        std::fs::read_to_string(self.file()).expect("the file")
    }

    /// Somebody at the screen, or at the talk line by line.
    fn sits(&self, who: &str, args: &[&str]) -> Session {
        let file = self.file();
        let home = self.folder.path().join("homes").join(who);
        let home = home.to_string_lossy();
        let file = file.to_string_lossy();
        let args: Vec<&str> = args.iter().copied().chain([file.as_ref()]).collect();
        let variables = [
            ("USER", who),
            ("HOME", &home),
            ("XDG_STATE_HOME", &home),
            ("XDG_CONFIG_HOME", &home),
        ];
        Session::start(&args, &variables)
    }

    /// What lies beside the builds and is no build.
    fn beside(&self) -> Vec<String> {
        let entries = std::fs::read_dir(self.folder.path()).expect("a folder");
        let names = entries.map(|entry| entry.expect("an entry").file_name());
        names
            .map(|name| name.to_string_lossy().into_owned())
            .filter(|name| name.starts_with('.'))
            .collect()
    }

    fn command(&self, args: &[&str]) -> std::process::Output {
        let mut command = Command::cargo_bin("gantrywright").expect("the program");
        command
            .current_dir(self.folder.path())
            .env("XDG_CONFIG_HOME", self.folder.path())
            .env("GANTRYWRIGHT_TODAY", TODAY)
            .env("USER", "dora")
            .args(args);
        command.output().expect("a run")
    }
}

/// Changes a number by its name, in the step that is open.
fn travel(session: &mut Session, millimetres: &str) {
    session.send("/travel_x\r");
    session.wait_for("enter take");
    session.send(&format!("\x15{millimetres}\r"));
    session.wait_for("unsaved");
}

fn leave(mut session: Session) {
    session.send("q");
    assert_eq!(session.finish().0, 0);
}

/// In one line, without the frame of the side pane.
fn flat(screen: &str) -> String {
    let left = screen
        .lines()
        .map(|line| line.split(['│', '┤', '┬']).next());
    let words: Vec<&str> = left.flatten().flat_map(str::split_whitespace).collect();
    words.join(" ")
}

fn says(words: &str) -> impl Fn(&str) -> bool + '_ {
    move |screen| flat(screen).contains(words)
}

#[test]
fn the_second_one_is_told_who_looks_only_and_saves_beside() {
    let shop = Shop::new();
    let mut anna = shop.sits("anna", &[]);
    anna.wait_for("? help");
    assert_eq!(shop.beside(), [".shed.toml.gantrywright-open"]);
    let mut ben = shop.sits("ben", &[]);
    let asked = ben.wait_for("Look only: nothing is saved under this name");
    let told = flat(&asked);
    let number = anna.child.process_id().expect("a process");
    assert!(told.contains("anna works on it on"), "{told}");
    assert!(told.contains(&format!("(process {number})")), "{told}");
    assert!(told.contains("since"), "{told}");
    // Enter without reading looks only.
    ben.send("\r");
    ben.wait("the choices", |screen| {
        screen.contains("look only") && !screen.contains("Question")
    });
    travel(&mut ben, "700");
    ben.send("s");
    ben.wait("another name", says("give another name"));
    ben.wait_for("shed-mine.toml");
    // Nor under this name, however it is spelled.
    ben.send(&format!("\x15{}\r", shop.file().display()));
    ben.wait("another name", says("not saved: anna works on it"));
    assert_eq!(shop.text(), BUILD);
    let other = shop.folder.path().join("mine.toml");
    ben.send(&format!("\x15{}\r", other.display()));
    ben.wait_for("saved to");
    let screen = ben.screen();
    assert!(!screen.contains("look only"), "{screen}");
    let saved = std::fs::read_to_string(&other).expect("the other file");
    assert!(
        saved.contains("700") && saved.contains("# by hand"),
        "{saved}"
    );
    // Whoever came first saves as ever.
    travel(&mut anna, "650");
    anna.send("s");
    anna.wait_for("saved to");
    assert!(shop.text().contains("650"));
    leave(anna);
    leave(ben);
    assert!(shop.beside().is_empty(), "{:?}", shop.beside());
}

#[test]
fn once_the_first_has_left_the_second_saves_under_the_name() {
    let shop = Shop::new();
    let mut anna = shop.sits("anna", &[]);
    anna.wait_for("? help");
    let mut ben = shop.sits("ben", &[]);
    ben.wait_for("Look only");
    ben.send("\r");
    travel(&mut ben, "700");
    leave(anna);
    ben.send("s");
    ben.wait_for("saved to");
    assert!(shop.text().contains("700"));
    assert_eq!(shop.beside().len(), 1);
    leave(ben);
}

#[test]
fn what_a_killed_one_left_behind_keeps_nobody_out() {
    let shop = Shop::new();
    let mut anna = shop.sits("anna", &[]);
    anna.wait_for("? help");
    // The library's own way asks first, by a signal that can be caught.
    kill_process(anna.pid(), Signal::KILL).expect("a signal");
    anna.child.wait().expect("ended");
    assert_eq!(shop.beside().len(), 1, "nobody could clear up");
    let mut ben = shop.sits("ben", &[]);
    let screen = ben.wait_for("? help");
    assert!(!screen.contains("Question"), "{screen}");
    leave(ben);
    assert!(shop.beside().is_empty());
}

#[test]
fn a_dropped_line_leaves_nothing_behind() {
    let shop = Shop::new();
    let mut anna = shop.sits("anna", &[]);
    anna.wait_for("? help");
    anna.hang_up();
    assert_ne!(anna.finish().0, 0);
    assert!(shop.beside().is_empty(), "{:?}", shop.beside());
}

#[test]
fn the_second_one_may_leave_at_once() {
    let shop = Shop::new();
    let mut anna = shop.sits("anna", &[]);
    anna.wait_for("? help");
    let mut ben = shop.sits("ben", &[]);
    ben.wait_for("Look only");
    ben.send("\x1b[B\x1b[B\r");
    assert_eq!(ben.finish().0, 0);
    // The lock is still that of the first.
    let mut cora = shop.sits("cora", &[]);
    cora.wait("who", says("anna works on it"));
    leave(anna);
}

#[test]
fn line_by_line_too_the_second_one_saves_elsewhere_only() {
    let shop = Shop::new();
    let mut anna = shop.sits("anna", &["--plain"]);
    anna.wait_for("Step, 1 to 5:");
    let mut ben = shop.sits("ben", &["--plain"]);
    ben.wait("who", |screen| flat(screen).contains("anna works on it on"));
    ben.wait_for("Step, 1 to 5:");
    ben.send("travel_x_mm=700\rsave\r");
    ben.wait_for("another name, or back:");
    let other = shop.folder.path().join("mine.toml");
    ben.send(&format!("{}\r", other.display()));
    ben.wait_for("Saved to");
    assert_eq!(shop.text(), BUILD);
    ben.send("quit\r");
    assert_eq!(ben.finish().0, 0);
    anna.send("travel_x_mm=650\rsave\rquit\r");
    assert_eq!(anna.finish().0, 0);
    assert!(shop.text().contains("650"));
}

#[test]
fn commands_read_without_a_word_and_write_under_nobody() {
    let shop = Shop::new();
    std::fs::write(
        shop.folder.path().join("offers.csv"),
        "part,price,currency\nrail-15,26.40,EUR\n",
    )
    .expect("written");
    let mut anna = shop.sits("anna", &[]);
    anna.wait_for("? help");
    let read = shop.command(&["assess", "shed.toml"]);
    assert!(read.stderr.is_empty(), "{read:?}");
    let dry = shop.command(&["quotes", "shed.toml", "offers.csv", "--dry-run"]);
    assert_eq!(dry.status.code(), Some(0), "{dry:?}");
    for args in [
        &["quotes", "shed.toml", "offers.csv"][..],
        &["bundle", "shed.toml", "--force", "--output", "shed.toml"],
    ] {
        let refused = shop.command(args);
        assert_eq!(refused.status.code(), Some(2), "{refused:?}");
        let said = String::from_utf8_lossy(&refused.stderr);
        assert!(said.contains("not saved: anna works on it"), "{said}");
    }
    assert_eq!(shop.text(), BUILD);
    leave(anna);
    let taken = shop.command(&["quotes", "shed.toml", "offers.csv"]);
    assert_eq!(taken.status.code(), Some(0), "{taken:?}");
    assert!(shop.text().contains("26.4"));
    assert!(shop.beside().is_empty());
}

/// Opens the file, changes it here and in an editor, and comes to the question.
fn to_the_question(shop: &Shop) -> (Session, String) {
    let mut anna = shop.sits("anna", &[]);
    anna.wait_for("? help");
    travel(&mut anna, "700");
    let theirs = BUILD.replace("600", "800") + "travel_y_mm = 500\n# from an editor\n";
    std::fs::write(shop.file(), &theirs).expect("written");
    anna.send("s");
    let asked = anna.wait_for("Overwrite the file with mine");
    let told = flat(&asked);
    for words in [
        "was changed by somebody else",
        "Changed in the file and here:",
        "Travel X: 800 mm in the file, 700 mm here",
        "Changed in the file: Travel Y: 500 mm in the file, 600 mm here",
    ] {
        assert!(told.contains(words), "{words}: {told}");
    }
    assert_eq!(shop.text(), theirs);
    (anna, theirs)
}

#[test]
fn of_two_texts_both_are_kept() {
    let shop = Shop::new();
    let (mut anna, theirs) = to_the_question(&shop);
    // Later, first: nothing is saved, and it is asked again.
    anna.send("\r");
    anna.wait_for("file changed");
    assert_eq!(shop.text(), theirs);
    anna.send("s");
    anna.wait_for("Overwrite the file with mine");
    anna.send("\x1b[B\r");
    anna.wait_for("shed-mine.toml");
    anna.send("\r");
    anna.wait_for("saved to");
    assert_eq!(shop.text(), theirs);
    let mine = shop.folder.path().join("shed-mine.toml");
    let mine = std::fs::read_to_string(mine).expect("the other file");
    assert!(mine.contains("700") && mine.contains("# by hand"), "{mine}");
    leave(anna);
}

#[test]
fn what_the_file_holds_is_taken_and_undo_brings_ones_own_back() {
    let shop = Shop::new();
    let (mut anna, theirs) = to_the_question(&shop);
    anna.send("\x1b[B\x1b[B\r");
    anna.wait_for("taken from shed.toml");
    anna.wait("all is saved", |screen| !screen.contains("unsaved"));
    assert_eq!(shop.text(), theirs);
    anna.send("u");
    anna.wait_for("undone");
    anna.wait_for("unsaved");
    anna.send("s");
    anna.wait_for("saved to");
    let text = shop.text();
    // One's own figures, and the remarks of both.
    assert!(text.contains("travel_x_mm = 700"), "{text}");
    assert!(text.contains("# from an editor") && text.contains("# by hand"));
    leave(anna);
}

#[test]
fn the_file_is_overwritten_knowingly() {
    let shop = Shop::new();
    let (mut anna, _) = to_the_question(&shop);
    anna.send("\x1b[B\x1b[B\x1b[B\r");
    anna.wait_for("saved to");
    let text = shop.text();
    assert!(text.contains("700") && !text.contains("editor"), "{text}");
    leave(anna);
}

#[test]
fn a_change_is_noticed_as_keys_come_in() {
    let shop = Shop::new();
    let mut anna = shop.sits("anna", &[]);
    anna.wait_for("? help");
    std::fs::write(shop.file(), BUILD.replace("600", "800")).expect("written");
    // At most every two seconds: keys go on until it is told.
    for round in 0.. {
        let (key, step) = [("2", ">2 Drive"), ("1", ">1 Working area")][round % 2];
        anna.send(key);
        anna.wait_for(step);
        if flat(&anna.screen()).contains("somebody else changed shed.toml: s shows what") {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(100));
        assert!(round < 300, "{}", anna.screen());
    }
    assert!(anna.screen().contains("file changed"));
    anna.send("s\x1b[B\x1b[B\r");
    anna.wait_for("taken from shed.toml");
    leave(anna);
}
