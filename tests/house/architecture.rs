//! The house keeps its direction: a room never imports one that comes after it, and the
//! terminal, the file system, the clock and chance stay in the rooms made for them.

use std::path::{Path, PathBuf};

/// The rooms from the ground up: each may know those before it in this list alone.
const ROOMS: &[&str] = &[
    "order",
    "words",
    "units",
    "money",
    "catalogue",
    "build",
    "explain",
    "machine",
    "bill",
    "rules",
    "assessment",
    "explore",
    "store",
    "sheets",
    "screen",
    "commands",
    "main",
];

/// The first room that touches the world; those below it work on values alone.
const FIRST_IMPURE: &str = "store";

struct Source {
    path: PathBuf,
    room: String,
    code: String,
}

/// Every source file with its comments taken out.
fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut found = Vec::new();
    walk(&root, &root, &mut found);
    assert!(found.len() > 20, "the walk found too little");
    found
}

fn walk(root: &Path, folder: &Path, found: &mut Vec<Source>) {
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            walk(root, &path, found);
        } else if path.extension().is_some_and(|ext| ext == "rs") {
            let inside = path.strip_prefix(root).expect("inside src");
            let first = inside.components().next().expect("a name");
            let room = first
                .as_os_str()
                .to_string_lossy()
                .trim_end_matches(".rs")
                .to_owned();
            let text = std::fs::read_to_string(&path).expect("readable");
            let code: Vec<&str> = text
                .lines()
                .map(|line| line.split("//").next().unwrap_or(""))
                .collect();
            found.push(Source {
                path,
                room,
                code: code.join("\n"),
            });
        }
    }
}

/// The rooms that a file names after `crate::` or, in `main`, after the crate's name; groups
/// such as `crate::{build, machine}` included.
fn named_rooms(code: &str) -> Vec<&'static str> {
    let mut found = Vec::new();
    for prefix in ["crate::", "gantrywright::"] {
        for (place, _) in code.match_indices(prefix) {
            let rest = &code[place + prefix.len()..];
            let names = match rest.strip_prefix('{') {
                Some(group) => group.split('}').next().unwrap_or("").to_owned(),
                None => rest
                    .split(|c: char| !c.is_alphanumeric() && c != '_')
                    .next()
                    .unwrap_or("")
                    .to_owned(),
            };
            for name in names.split(|c: char| !c.is_alphanumeric() && c != '_') {
                found.extend(ROOMS.iter().copied().filter(|room| *room == name));
            }
        }
    }
    found
}

fn rank(room: &str) -> Option<usize> {
    ROOMS.iter().position(|known| *known == room)
}

#[test]
fn no_arrow_runs_upward() {
    let mut upward = Vec::new();
    for source in sources().iter().filter(|source| source.room != "lib") {
        let own = rank(&source.room)
            .unwrap_or_else(|| panic!("{} lies in no known room", source.path.display()));
        for named in named_rooms(&source.code) {
            if rank(named) > Some(own) {
                upward.push(format!("{} imports {named}", source.path.display()));
            }
        }
    }
    assert!(upward.is_empty(), "{upward:#?}");
}

#[test]
fn the_test_sees_an_upward_arrow() {
    assert_eq!(named_rooms("use crate::screen::Theme;"), ["screen"]);
    assert_eq!(
        named_rooms("use crate::{build::Axis, store};"),
        ["build", "store"]
    );
    assert!(rank("screen") > rank("build"));
}

#[test]
fn the_rule_core_is_pure() {
    let forbidden = [
        "std::fs",
        "std::env",
        "std::time",
        "std::io",
        "std::process",
        "std::net",
        "std::thread",
        "ratatui",
        "crossterm",
        "rustix",
        "signal_hook",
        "tempfile",
        "rand::",
        "Zoned::now",
        "Timestamp::now",
        "println!",
        "eprintln!",
    ];
    let mut found = Vec::new();
    for source in sources()
        .iter()
        .filter(|source| rank(&source.room) < rank(FIRST_IMPURE) && source.room != "lib")
    {
        for word in forbidden.iter().filter(|word| source.code.contains(**word)) {
            found.push(format!("{} names {word}", source.path.display()));
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn the_talk_line_by_line_is_plain_data() {
    let forbidden = ["std::io", "std::env", "std::time", "println!", "Stdin"];
    let all = sources();
    let talk: Vec<_> = all
        .iter()
        .filter(|source| source.path.to_string_lossy().contains("commands/plain/"))
        .collect();
    assert!(talk.len() > 5, "the walk found too little");
    for source in talk {
        for word in forbidden {
            let path = source.path.display();
            assert!(!source.code.contains(word), "{path} names {word}");
        }
    }
}

#[test]
fn the_terminal_and_the_file_system_have_one_room_each() {
    let mut found = Vec::new();
    for source in sources() {
        let path = source.path.display().to_string();
        // Crates are named there to the linker, and none of them is used.
        let names_crates = path.ends_with("embedded/linking.rs");
        if source.code.contains("ratatui") && source.room != "screen" && !names_crates {
            found.push(format!("{path} names ratatui"));
        }
        if source.code.contains("crossterm") && !path.contains("screen/terminal") {
            found.push(format!("{path} names crossterm"));
        }
        let opens = [
            "std::fs",
            "fs::read",
            "fs::write",
            "File::open",
            "File::create",
            "OpenOptions",
        ];
        if opens.iter().any(|word| source.code.contains(word)) && source.room != "store" {
            found.push(format!("{path} opens files"));
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

/// What is drawn was worked out before, when the key was answered: a page that is drawn again,
/// as after a resize, costs no assessment.
#[test]
fn drawing_works_nothing_out() {
    let view = Path::new("screen").join("view");
    let mut found = Vec::new();
    let all = sources();
    let drawn = all.iter().filter(|source| {
        let path = source.path.to_string_lossy();
        path.contains(&*view.to_string_lossy()) && !path.ends_with("tests.rs")
    });
    let mut seen = 0;
    for source in drawn {
        seen += 1;
        for call in [
            "assess(",
            "assess_beside(",
            ".trial(",
            "losses(",
            "explain(",
            "find::find(",
        ] {
            if source.code.contains(call) {
                found.push(format!("{} calls {call}", source.path.display()));
            }
        }
    }
    assert!(seen > 20, "the walk found too little");
    assert!(found.is_empty(), "{found:#?}");
}
