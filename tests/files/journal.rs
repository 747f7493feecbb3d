//! The recovery journal: whatever is unsaved can be read back from the file that a session leaves
//! behind, however it ended.

use crate::common;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::time::{Duration, Instant};

use crate::bench::Bench;
use gantrywright::build::purchases::{Payment, Purchases, Status};
use gantrywright::build::{Build, Edit};
use gantrywright::catalogue::{Catalogue, Id};
use gantrywright::money::{Currency, Money};
use gantrywright::screen::recovery::{Around, Taken, take_up};
use gantrywright::screen::{ColorWish, Session};
use gantrywright::store::journal::{self, Claim, Journal, Keeper, Recorder, Work};
use gantrywright::store::{build_file, examples};

/// A session on a build, whose journal lies in a folder.
struct Desk {
    recorder: Recorder,
    saved: Build,
    path: Option<PathBuf>,
    original: Option<String>,
}

impl Desk {
    fn new(folder: &Path, original: Option<&str>, path: Option<&Path>) -> Self {
        let saved = original.map_or_else(Build::default, read);
        Self {
            recorder: Recorder::new(Keeper::in_folder(Some(folder.to_owned()))),
            saved,
            path: path.map(Path::to_owned),
            original: original.map(str::to_owned),
        }
    }

    fn edit(&mut self, build: &Build) {
        self.recorder.follow(Work {
            build,
            saved: &self.saved,
            path: self.path.as_deref(),
            original: self.original.as_deref(),
            bundle: false,
        });
        self.recorder.keeper().flush();
    }

    fn journal(&self) -> PathBuf {
        self.recorder.keeper().path().expect("a journal")
    }
}

/// What a folder holds once the session that wrote there has ended.
fn left(folder: &Path, desk: Desk) -> Vec<Journal> {
    drop(desk);
    let end = Instant::now() + Duration::from_secs(20);
    loop {
        let all = journal::in_folder(folder);
        if all.iter().all(|one| !one.alive) {
            return all;
        }
        assert!(Instant::now() < end, "the lock stays");
        std::thread::sleep(Duration::from_millis(5));
    }
}

fn read(text: &str) -> Build {
    static CATALOGUE: OnceLock<Catalogue> = OnceLock::new();
    let catalogue = CATALOGUE.get_or_init(common::catalogue);
    build_file::read(text, "", catalogue).expect("a build")
}

fn edited(catalogue: &Catalogue, build: &Build, edits: &[&str]) -> Build {
    let mut build = build.clone();
    for pair in edits {
        Edit::parse_pair(pair, catalogue, &build)
            .expect("an edit")
            .apply(&mut build);
    }
    build
}

/// What was bought, and a little more.
fn bought(build: &Build) -> Purchases {
    let mut purchases = build.purchases.clone();
    let id = Id::new("rail-15").expect("an id");
    let purchase = purchases.parts.entry(id).or_default();
    purchase.status = Some(Status::Ordered);
    purchase.note = Some("as on the phone: \"soon\"".to_owned());
    purchase.payments.push(Payment {
        amount: Money::new("12.34".parse().expect("a number"), Currency::EUR),
        date: common::today(),
        rate: None,
        what: None,
        by: Some("mira".to_owned()),
        part_payment: true,
    });
    purchases
}

#[test]
fn any_build_comes_back_whole_over_any_file() {
    let catalogue = common::catalogue();
    let folder = tempfile::tempdir().expect("a folder");
    for (place, example) in examples::all().into_iter().enumerate() {
        let mut desk = Desk::new(folder.path(), Some(example.text()), None);
        for mut build in common::random_builds(&catalogue, place as u64, 3) {
            // What belongs to the machine that is really built: bought, accepted, ticked.
            build.title = "Über \"alles\" \\ 漢字\u{1b}[2J".to_owned();
            build.note = "first line\nsecond line".to_owned();
            build
                .accepted
                .insert("rail-foot-wider-than-flat".into(), "a \n reason".into());
            build.purchases = bought(&desk.saved);
            build.done.insert("count-parcels".into(), common::today());
            if build_file::check_money(&build, &catalogue).is_err() {
                // No file can hold a budget in money that no price book knows.
                (build.area.budget, build.area.monthly_budget) = (None, None);
            }
            let build = build.branched("main", "stiffer", "why not").expect("made");
            desk.edit(&build);
            let journal = Journal::read(&desk.journal()).expect("a journal");
            assert!(journal.alive, "the session lives");
            assert_eq!(read(&journal.text), build);
            assert_eq!(journal.header.text, example.text());
        }
        let all = left(folder.path(), desk);
        assert_eq!(all.len(), place + 1);
    }
}

#[test]
fn one_edit_is_one_short_line_and_undone_it_is_none() {
    let catalogue = common::catalogue();
    let folder = tempfile::tempdir().expect("a folder");
    let example = examples::find("pier-allrounder").expect("an example");
    let mut desk = Desk::new(folder.path(), Some(example.text()), None);
    let saved = desk.saved.clone();
    desk.edit(&saved);
    assert!(
        journal::in_folder(folder.path()).is_empty(),
        "nothing is unsaved"
    );
    desk.edit(&edited(&catalogue, &saved, &["travel_x_mm=900"]));
    let before = std::fs::metadata(desk.journal()).expect("a journal").len();
    let second = edited(&catalogue, &saved, &["travel_x_mm=910"]);
    desk.edit(&second);
    desk.edit(&second);
    let after = std::fs::metadata(desk.journal()).expect("a journal").len();
    assert!((1..150).contains(&(after - before)), "{}", after - before);
    // Undone: all is as in the file.
    desk.edit(&saved);
    let left = std::fs::read_dir(folder.path()).expect("a folder").count();
    assert_eq!(left, 0);
}

/// A process that ends while it writes leaves a line without an end, wherever that falls.
#[test]
fn a_line_that_is_cut_off_costs_nothing_but_itself() {
    let catalogue = common::catalogue();
    let folder = tempfile::tempdir().expect("a folder");
    let mut desk = Desk::new(folder.path(), None, None);
    let first = edited(&catalogue, &desk.saved, &["travel_x_mm=900"]);
    desk.edit(&first);
    let short = std::fs::read(desk.journal()).expect("a journal").len();
    let second = edited(&catalogue, &first, &["travel_y_mm=910"]);
    desk.edit(&second);
    let whole = std::fs::read(desk.journal()).expect("a journal");
    let other = tempfile::tempdir().expect("a folder");
    let path = other.path().join("torn.jsonl");
    for length in short..whole.len() {
        std::fs::write(&path, &whole[..length]).expect("written");
        let journal = Journal::read(&path).expect("a journal");
        // The end of the line alone makes no difference.
        let expected = if length + 1 == whole.len() {
            &second
        } else {
            &first
        };
        assert_eq!(&read(&journal.text), expected, "{length}");
    }
    // Before the end of the first state there is nothing; a prime step falls on any place.
    for length in (0..short - 1).step_by(61).chain(short - 40..short - 1) {
        std::fs::write(&path, &whole[..length]).expect("written");
        assert!(Journal::read(&path).is_err(), "{length}");
    }
}

#[test]
fn what_is_no_journal_is_refused_and_passed_over() {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, bytes) in [
        ("1.jsonl", &b""[..]),
        ("2.jsonl", b"{}\n{}\n"),
        ("3.jsonl", b"\xff\xfe\0\0\n\n"),
        ("4.jsonl", b"{\"format\":2}\n"),
        ("5.txt", b"words"),
    ] {
        std::fs::write(folder.path().join(name), bytes).expect("written");
    }
    std::fs::create_dir(folder.path().join("6.jsonl")).expect("made");
    assert!(journal::in_folder(folder.path()).is_empty());
    assert!(journal::in_folder(&folder.path().join("nowhere")).is_empty());
}

#[test]
fn a_long_journal_is_begun_anew_with_nothing_lost() {
    let catalogue = common::catalogue();
    let folder = tempfile::tempdir().expect("a folder");
    let mut desk = Desk::new(folder.path(), None, None);
    let note = "x".repeat(9_000);
    let mut sizes = Vec::new();
    for round in 0..120 {
        let mut build = edited(&catalogue, &desk.saved, &[]);
        build.note = format!("{note}{round}");
        desk.edit(&build);
        let path = desk.journal();
        sizes.push(std::fs::metadata(&path).expect("a journal").len());
        let journal = Journal::read(&path).expect("a journal");
        assert_eq!(read(&journal.text).note, build.note);
    }
    assert!(sizes.iter().all(|size| *size < 700_000), "{sizes:?}");
    assert!(!sizes.is_sorted(), "it was never begun anew");
    assert_eq!(journal::in_folder(folder.path()).len(), 1);
}

#[test]
fn without_a_folder_and_where_none_can_be_made_work_goes_on() {
    let folder = tempfile::tempdir().expect("a folder");
    let in_the_way = folder.path().join("file");
    std::fs::write(&in_the_way, "in the way").expect("written");
    let catalogue = common::catalogue();
    let build = edited(&catalogue, &Build::default(), &["travel_x_mm=900"]);
    let mut desk = Desk::new(&in_the_way.join("recovery"), None, None);
    desk.edit(&build);
    assert!(desk.recorder.trouble().is_some());
    assert_eq!(desk.recorder.trouble(), None, "told once");
    desk.recorder = Recorder::new(Keeper::in_folder(None));
    desk.edit(&build);
    assert_eq!(desk.recorder.keeper().path(), None);
}

/// Takes up the one journal of a folder over its file.
fn taken(folder: &Path, catalogue: &Catalogue) -> Taken {
    let all = journal::in_folder(folder);
    let [journal] = all.as_slice() else {
        panic!("{all:?}")
    };
    let open = |path: &Path| {
        let loaded = build_file::load(path, catalogue).map_err(|error| error.to_string())?;
        Ok(Session {
            path: Some(path.to_owned()),
            original: Some(loaded.text),
            ..Session::new(
                catalogue.clone(),
                loaded.build,
                common::today(),
                ColorWish::Auto,
            )
        })
    };
    let around = Around {
        open: &open,
        catalogue,
        today: common::today(),
        color: ColorWish::Auto,
    };
    take_up(&journal.path, &around).expect("taken up")
}

#[test]
fn changes_go_over_a_file_that_was_changed_since_where_they_fit() {
    let catalogue = common::catalogue();
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("shed.toml");
    let text = build_file::write(None, &Build::default());
    std::fs::write(&file, &text).expect("written");
    let mut desk = Desk::new(folder.path(), Some(&text), Some(&file));
    let mine = edited(
        &catalogue,
        &desk.saved,
        &["travel_x_mm=900", "travel_y_mm=910", "machines=2"],
    );
    desk.edit(&mine);
    drop(left(folder.path(), desk));
    // Somebody else changes one of the three, and another choice.
    let theirs = edited(
        &catalogue,
        &Build::default(),
        &["travel_y_mm=700", "travel_z_mm=150"],
    );
    std::fs::write(&file, build_file::write(Some(&text), &theirs)).expect("written");
    let (session, said, claim) = taken(folder.path(), &catalogue).apart();
    let both = edited(&catalogue, &theirs, &["travel_x_mm=900", "machines=2"]);
    assert_eq!(session.build, both);
    assert!(
        said.contains("Travel Y") && !said.contains("Travel X"),
        "{said}"
    );
    assert!(Claim::on(&claim.journal().path).is_err(), "claimed twice");
    claim.remove().expect("removed");
    assert!(journal::in_folder(folder.path()).is_empty());
}

#[test]
fn changes_of_a_file_that_is_gone_become_a_build_without_one() {
    let catalogue = common::catalogue();
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("gone.toml");
    let text = "format = 1\ntitle = \"Gone\" # a remark\n";
    let mut desk = Desk::new(folder.path(), Some(text), Some(&file));
    let mine = edited(&catalogue, &desk.saved, &["travel_x_mm=900"]);
    desk.edit(&mine);
    drop(left(folder.path(), desk));
    let (session, said, _) = taken(folder.path(), &catalogue).apart();
    assert_eq!((session.build, session.path), (mine, None));
    assert!(said.contains("gone.toml"), "{said}");
    assert!(session.original.expect("its text").contains("# a remark"));
}

#[test]
fn a_command_lists_prints_and_removes() {
    let bench = Bench::new();
    let run = |args: &[&str]| {
        let mut program = bench.program();
        let done = program
            .env("XDG_STATE_HOME", bench.path("state"))
            .arg("recover")
            .args(args)
            .output()
            .expect("run");
        let code = done.status.code().unwrap_or(-1);
        (code, String::from_utf8(done.stdout).expect("text"))
    };
    assert_eq!(run(&[]), (0, "Nothing was left unsaved.\n".to_owned()));
    let catalogue = common::catalogue();
    let folder = bench.path("state/gantrywright/recovery");
    let mut desk = Desk::new(&folder, None, None);
    let build = edited(&catalogue, &desk.saved, &["travel_x_mm=900", "machines=2"]);
    desk.edit(&build);
    // While the session lives its changes are listed, and nobody throws them away.
    assert!(run(&[]).1.contains("still runs"));
    assert_eq!(run(&["1", "--remove"]).0, 2);
    let all = left(&folder, desk);
    let (code, list) = run(&[]);
    assert_eq!(code, 0);
    for part in ["2 changes", "Travel X", "New machine", &all[0].name()] {
        assert!(list.contains(part), "{part}: {list}");
    }
    assert!(
        list.lines().all(|line| line.chars().count() <= 80),
        "{list}"
    );
    assert_eq!(read(&run(&["1", "--print"]).1), build);
    assert_eq!(read(&run(&[&all[0].name(), "--print"]).1), build);
    let json: serde_json::Value = serde_json::from_str(&run(&["--json"]).1).expect("JSON");
    assert_eq!(
        json["unsaved"][0]["changes"].as_array().map(Vec::len),
        Some(2)
    );
    assert_eq!(run(&["2"]).0, 2);
    assert_eq!(run(&["1", "--remove"]).0, 0);
    assert_eq!(run(&[]).1, "Nothing was left unsaved.\n");
}
