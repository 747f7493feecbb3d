//! Every command line on a page runs: in a folder that holds the files which the pages show,
//! with the exit code that the page states, the screen in a terminal of its own.
//!
//! A block opened with `sh` holds command lines; `# exit code 1` behind one says how it ends.
//! `sh slow` marks searches that take minutes: they run with one free choice alone.

use std::path::Path;
use std::process::{Command, Stdio};

use gantrywright::store::{build_file, examples};

use crate::bench::Bench;
use crate::page::{Page, all, path, read};
use crate::pty::Session;
use crate::shown::{FILE, Shown};

/// A command line of a page.
struct Line {
    text: String,
    code: i32,
    slow: bool,
}

/// The folder in which the commands of a page run.
fn bench() -> Bench {
    let bench = Bench::new();
    let example = examples::find("pier-allrounder").expect("an example");
    bench.write("build.toml", example.text());
    let mut shown = Shown::default();
    let walk = Page::open("docs/first-build.md");
    walk.notes("build").into_iter().for_each(|note| {
        shown.hear(&format!("build: {note}"));
    });
    bench.write(FILE, build_file::write(None, &shown.build));
    for page in all() {
        for block in page.blocks() {
            if let Some(name) = &block.file {
                bench.write(name, &block.text);
            }
        }
    }
    bench
}

/// The command lines of a page, each on one line.
fn lines(page: &Page) -> Vec<Line> {
    let mut found = Vec::new();
    for block in page.blocks() {
        let mut info = block.info.split_whitespace();
        if info.next() != Some("sh") {
            continue;
        }
        let slow = info.next() == Some("slow");
        let text = block.text.replace("\\\n", " ").replace("|\n", "| ");
        for line in text.lines().filter(|line| !line.trim().is_empty()) {
            let (text, code) = match line.split_once("# exit code ") {
                Some((text, code)) => (text, code.trim().parse().expect("a code")),
                None => (line, 0),
            };
            let text = text
                .trim()
                .replace("cargo run --release --", "gantrywright");
            found.push(Line { text, code, slow });
        }
    }
    found
}

/// Whether a command line opens the screen.
fn opens_screen(text: &str) -> bool {
    let words: Vec<&str> = text.split_whitespace().collect();
    let told = ["--list", "--print", "--plain", "--help", "--version", "|"];
    if words.iter().any(|word| told.contains(word)) {
        return false;
    }
    match words.get(1) {
        None | Some(&"demo") => true,
        Some(first) => first.starts_with("--") || first.ends_with(".toml"),
    }
}

fn with_path(folder: &Path, text: &str) -> String {
    let program = Path::new(env!("CARGO_BIN_EXE_gantrywright"));
    let bin = program.parent().expect("its folder").display();
    format!(
        "cd '{}' && PATH=\"{bin}:$PATH\" && {text}",
        folder.display()
    )
}

/// Runs a line as a shell does; its exit code and what it complained of.
fn run(bench: &Bench, text: &str) -> (i32, String) {
    let folder = bench.path("");
    let run = Command::new("/bin/sh")
        .args(["-c", &with_path(&folder, text)])
        .env("XDG_CONFIG_HOME", bench.path("config"))
        .env("HOME", &folder)
        .env("GANTRYWRIGHT_TODAY", "2026-11-30")
        .stdin(Stdio::null())
        .output()
        .expect("a shell");
    let said = String::from_utf8_lossy(&run.stderr).into_owned();
    (run.status.code().unwrap_or(-1), said)
}

/// Opens the screen and leaves it.
fn look(bench: &Bench, text: &str) {
    let folder = bench.path("");
    let line = with_path(&folder, &format!("exec {text}"));
    let config = bench.path("config").display().to_string();
    let variables = [
        ("XDG_CONFIG_HOME", config.as_str()),
        ("PATH", "/usr/bin:/bin"),
    ];
    let mut session = Session::run("/bin/sh", &["-c", &line], &variables);
    session.wait_for("? help");
    session.send("q");
    assert_eq!(session.finish().0, 0, "{text}");
}

/// Runs a line; what went wrong, where something did.
fn try_line(bench: &Bench, line: &Line) -> Option<String> {
    if line.text.starts_with("cargo ") || !line.text.contains("gantrywright") {
        // Tools of Rust and others: no page makes them run inside a test.
        return missing(&line.text);
    }
    if opens_screen(&line.text) {
        look(bench, &line.text);
        return None;
    }
    if line.slow {
        let (code, said) = run(bench, &format!("{} --free cooler", line.text));
        return (code > 1).then(|| format!("{}: {said}", line.text));
    }
    let (code, said) = run(bench, &line.text);
    (code != line.code).then(|| format!("{}: {code}: {said}", line.text))
}

/// The test or benchmark that a line of cargo names.
fn missing(line: &str) -> Option<String> {
    let words: Vec<&str> = line.split_whitespace().collect();
    words.windows(2).find_map(|pair| {
        let folder = match pair[0] {
            "--test" => "tests",
            "--bench" => "benches",
            _ => return None,
        };
        let named = pair[1];
        let there = [
            format!("{folder}/{named}.rs"),
            format!("{folder}/{named}/main.rs"),
        ];
        let there = there.iter().any(|file| path(file).is_file());
        (!there).then(|| format!("{line}: there is no {named}"))
    })
}

/// Commands inside a sentence. What has a placeholder is held against the help of its command.
fn inline(page: &Page) -> Vec<String> {
    let mut found = Vec::new();
    let mut fenced = false;
    for line in page.by_hand().lines() {
        if line.starts_with("```") {
            fenced = !fenced;
        }
        if fenced {
            continue;
        }
        let pieces = line.split('`').skip(1).step_by(2);
        found.extend(
            pieces
                .filter(|piece| piece.starts_with("gantrywright ") || piece.starts_with("cargo "))
                .map(str::to_owned),
        );
    }
    found
}

fn has_placeholder(text: &str) -> bool {
    let capital = |word: &str| {
        let letters: Vec<char> = word.chars().filter(|c| c.is_alphabetic()).collect();
        letters.len() > 1 && letters.iter().all(|c| c.is_uppercase())
    };
    let between = |c: char| c.is_whitespace() || "[]=,.'".contains(c);
    text.contains('[') || text.split(between).any(capital)
}

/// What is wrong with a command inside a sentence, if anything: one without arguments is named
/// there rather than given.
fn try_inline(bench: &Bench, text: &str) -> Option<String> {
    let alone = text.split_whitespace().count() == 2;
    if !has_placeholder(text) && !alone {
        let line = Line {
            text: text.to_owned(),
            code: 0,
            slow: false,
        };
        return try_line(bench, &line);
    }
    let mut words = text.split_whitespace().skip(1);
    let command = words.next().unwrap_or_default();
    let is_command = command.chars().all(|c| c.is_ascii_lowercase());
    let args = match is_command {
        true => vec![command, "--help"],
        false => vec!["--help"],
    };
    let help = bench.program().args(args).output().expect("run");
    let said = String::from_utf8_lossy(&help.stdout).into_owned();
    let unknown = words.find(|word| {
        let option = word.split('=').next().unwrap_or(word);
        word.starts_with("--") && !said.contains(option)
    });
    if !help.status.success() {
        return Some(format!("{text}: there is no {command}"));
    }
    unknown.map(|option| format!("{text}: {option} is unknown"))
}

fn try_pages(wanted: impl Fn(&str) -> bool) {
    let mut wrong = Vec::new();
    for page in all().iter().filter(|page| wanted(&page.name)) {
        let (lines, inline) = (lines(page), inline(page));
        if lines.is_empty() && inline.is_empty() {
            continue;
        }
        let bench = bench();
        let lines = lines.iter().filter_map(|line| try_line(&bench, line));
        let inline = inline.iter().filter_map(|text| try_inline(&bench, text));
        wrong.extend(
            lines
                .chain(inline)
                .map(|said| format!("{}: {said}", page.name)),
        );
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn commands_of_the_readme_run() {
    try_pages(|name| name == "README.md");
}

#[test]
fn commands_of_the_walk_run() {
    try_pages(|name| name == "docs/first-build.md");
}

#[test]
fn commands_of_the_other_pages_run() {
    try_pages(|name| !["README.md", "docs/first-build.md"].contains(&name));
}

/// The searches of minutes as they stand on the pages, nothing left out: `-- --ignored`.
#[test]
#[ignore = "takes many minutes without optimization"]
fn slow_searches_run_whole() {
    for page in all() {
        for line in lines(&page).iter().filter(|line| line.slow) {
            let (code, said) = run(&bench(), &line.text);
            assert!(code <= 1, "{}: {}: {said}", page.name, line.text);
        }
    }
}

/// Every subcommand is told on the page of commands.
#[test]
fn every_command_is_told() {
    let page = read("docs/commands.md");
    let help = Bench::new().program().arg("--help").output().expect("run");
    let help = String::from_utf8_lossy(&help.stdout).into_owned();
    let list = help.split("Commands:\n").nth(1).expect("a list");
    let names = list.lines().take_while(|line| !line.trim().is_empty());
    for name in names.filter(|line| line.starts_with("  ") && !line.starts_with("   ")) {
        let name = name.split_whitespace().next().expect("a name");
        let told =
            page.contains(&format!("`gantrywright {name}")) || page.contains(&format!("`{name}`"));
        assert!(told || name == "help", "nothing is told of {name}");
    }
}

#[test]
fn screens_and_placeholders_are_known_from_the_rest() {
    for line in [
        "gantrywright",
        "gantrywright demo",
        "gantrywright shed.toml",
    ] {
        assert!(opens_screen(line), "{line}");
    }
    for line in ["gantrywright demo --list", "gantrywright assess shed.toml"] {
        assert!(!opens_screen(line), "{line}");
    }
    assert!(has_placeholder("gantrywright why FILE cost.likely"));
    assert!(has_placeholder("gantrywright interview --set CHOICE=VALUE"));
    assert!(!has_placeholder("gantrywright choices measured"));
}
