//! What a page shows of the program, and the build that it speaks of at each place.

use std::sync::LazyLock;

use gantrywright::assessment::explain;
use gantrywright::build::{Build, Edit};
use gantrywright::catalogue::Catalogue;
use gantrywright::explain::{Notes, Worth};
use gantrywright::money::show;
use gantrywright::store::{build_file, examples};
use jiff::civil::Date;

use crate::bench::Bench;
use crate::{choices, figures, keys, rules, words};

/// The name under which pages have the build that they speak of.
pub(crate) const FILE: &str = "shed.toml";

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(crate::common::catalogue);

/// The day on which the program is run for the pages.
fn today() -> Date {
    jiff::civil::date(2026, 11, 30)
}

/// What a page is about where it is read, and the pictures so far.
#[derive(Default)]
pub(crate) struct Shown {
    /// The build that the page speaks of.
    pub(crate) build: Build,
    /// Its derivations, where somebody asked for them.
    notes: Option<Notes>,
    /// Each picture by its path.
    pub(crate) pictures: Vec<(String, String)>,
}

impl Shown {
    /// Takes in a comment that is not about text.
    pub(crate) fn hear(&mut self, note: &str) {
        if let Some(said) = note.strip_prefix("build: ") {
            self.take(said);
        } else if let Some(said) = note.strip_prefix("picture: ") {
            let picture = self.picture(said);
            self.pictures.push(picture);
        }
    }

    /// Takes the build that a comment names: a new one, an example, or the same with changes.
    fn take(&mut self, said: &str) {
        let mut words = said.split_whitespace();
        match words.next() {
            Some("+") => {}
            Some("new") => self.build = Build::default(),
            Some(name) => {
                let example = examples::find(name).unwrap_or_else(|error| panic!("{error}"));
                self.build = example.build(&CATALOGUE).expect("an example");
            }
            None => panic!("which build?"),
        }
        for word in words {
            let (choice, value) = word.split_once('=').expect("a choice and its value");
            let edit = Edit::parse(choice, value, &CATALOGUE);
            edit.unwrap_or_else(|error| panic!("{error}"))
                .apply(&mut self.build);
        }
        self.notes = None;
    }

    /// What a page asks for.
    pub(crate) fn make(&mut self, what: &str) -> String {
        let (kind, about) = what.split_once(' ').unwrap_or((what, ""));
        let text = match kind {
            "figure" => return self.figure(about),
            "keys" => keys::table(),
            "choices" => choices::of_step(about, &CATALOGUE),
            "rules" => rules::reference(),
            "severities" => rules::severities(),
            "measures" => rules::measures(),
            "figures" => figures::reference(&CATALOGUE),
            "words" => words::glossary(&CATALOGUE),
            "output" => format!("```text\n{}```\n", self.output(about)),
            _ => panic!("nothing makes {what:?}"),
        };
        format!("\n{text}")
    }

    /// One figure: money in whole units, as the screen shows it.
    fn figure(&mut self, path: &str) -> String {
        let build = &self.build;
        let notes = self.notes.get_or_insert_with(|| {
            let explained = explain(&CATALOGUE, build, today());
            explained.expect("an assessment").1
        });
        let derivation = notes.get(path);
        let derivation = derivation.unwrap_or_else(|| panic!("there is no figure {path}"));
        match derivation.result {
            Worth::Money(money) => show::money(money.amount, money.currency),
            other => other.to_string(),
        }
    }

    /// A folder with the build in it.
    fn bench(&self) -> Bench {
        let bench = Bench::new();
        bench.write(FILE, build_file::write(None, &self.build));
        bench
    }

    /// What a command prints; of its paragraphs those that begin so, where some are named.
    fn output(&self, said: &str) -> String {
        let (command, wanted) = said.split_once(" :: ").unwrap_or((said, ""));
        let args: Vec<&str> = command.split_whitespace().collect();
        let run = self.bench().program().args(&args).output().expect("run");
        let code = run.status.code();
        let problem = String::from_utf8_lossy(&run.stderr).into_owned();
        assert!(matches!(code, Some(0 | 1)), "{command}: {problem}");
        let text = String::from_utf8(run.stdout).expect("text");
        if wanted.is_empty() {
            return text;
        }
        let paragraphs: Vec<&str> = text.trim_end().split("\n\n").collect();
        let mut chosen = Vec::new();
        for begin in wanted.split(" | ") {
            let before = chosen.len();
            chosen.extend(paragraphs.iter().filter(|one| one.starts_with(begin)));
            assert!(chosen.len() > before, "{command} says nothing of {begin:?}");
        }
        let chosen: Vec<&str> = chosen.into_iter().copied().collect();
        format!("{}\n", chosen.join("\n\n"))
    }

    /// A picture of the screen: its path below docs, its size, the keys that lead there.
    fn picture(&self, said: &str) -> (String, String) {
        let words: Vec<&str> = said.split_whitespace().collect();
        let [name, size, rest @ ..] = words.as_slice() else {
            panic!("{said}: a name and a size are missing");
        };
        let mut args = vec!["picture", FILE, "--size", size];
        if let [keys] = rest {
            args.extend(["--keys", keys]);
        }
        let run = self.bench().program().args(&args).output().expect("run");
        let problem = String::from_utf8_lossy(&run.stderr).into_owned();
        assert!(run.status.success(), "{said}: {problem}");
        let picture = String::from_utf8(run.stdout).expect("text");
        (format!("docs/{name}"), picture)
    }
}
