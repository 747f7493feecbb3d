//! The pages stay true. What a page says of the program comes from the program: tables of keys,
//! choices, rules, figures and words, output of commands, single figures in a sentence, pictures.
//! Its command lines run, its files are read by the real readers, its links lead somewhere.
//!
//! After a change that is meant: `UPDATE_DOCS=1 cargo test --test docs what_pages`. It writes what
//! stands in the pages between `make` and `made` (see [`page`]), and every picture anew.

#[path = "../common/bench.rs"]
mod bench;
#[path = "../common/mod.rs"]
mod common;
#[path = "../common/pty.rs"]
#[allow(dead_code, reason = "each test file uses a part of it")]
mod pty;
#[path = "../common/screen.rs"]
#[allow(dead_code, reason = "each test file uses a part of it")]
mod screen;

mod choices;
mod commands;
mod figures;
mod files;
mod keys;
mod links;
mod page;
mod rules;
mod shown;
mod walk;
mod words;

use page::{Page, all, keep};
use shown::Shown;

/// Writes what the pages take from the program, or holds what stands there against it.
#[test]
fn what_pages_take_from_the_program_is_as_it_says() {
    let mut stale = Vec::new();
    for page in all() {
        let mut shown = Shown::default();
        let text = page.made_anew(&mut shown);
        stale.extend(keep(&page.name, &text));
        for (name, picture) in shown.pictures {
            stale.extend(keep(&name, &picture));
        }
    }
    assert!(
        stale.is_empty(),
        "out of date: {stale:#?}; UPDATE_DOCS=1 cargo test --test docs what_pages"
    );
}

/// No picture is left over from a page that no longer shows it.
#[test]
fn every_picture_stands_on_a_page() {
    let pages = all();
    for path in page::files_below("docs", "svg") {
        let shown = |page: &Page| {
            let pictures = page.notes("picture");
            pictures.iter().any(|note| {
                let name = note.split_whitespace().next().unwrap_or_default();
                path == format!("docs/{name}")
            })
        };
        assert!(pages.iter().any(shown), "no page makes {path}");
    }
}

/// The two commands stand where a newcomer looks, each alone on its line.
#[test]
fn the_two_commands_stand_first() {
    let readme = page::read("README.md");
    let commands: Vec<&str> = readme
        .lines()
        .filter(|line| line.starts_with("cargo "))
        .collect();
    assert_eq!(
        commands,
        ["cargo run --release -- demo", "cargo test --no-fail-fast"]
    );
}

/// Lines that somebody reads in a terminal or beside a patch are not endless.
#[test]
fn lines_by_hand_are_short() {
    for page in all() {
        for line in page.by_hand().lines() {
            let long = line.chars().count();
            let free = line.starts_with('|') || line.contains("<!--") || line.contains("](");
            assert!(free || long <= 100, "{}: {long} columns: {line}", page.name);
        }
    }
}
