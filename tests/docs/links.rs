//! Every link of a page leads somewhere, and every path of the project that it names is there.

use std::path::{Path, PathBuf};

use crate::page::{Page, all, path};

/// The targets of the links in a text.
fn targets(text: &str) -> Vec<&str> {
    let after = text.split("](").skip(1);
    after
        .filter_map(|rest| rest.split_once(')'))
        .map(|(target, _)| target)
        .collect()
}

/// Where a heading is found, as the usual readers of such pages make it.
fn anchor(heading: &str) -> String {
    let kept = heading.trim().to_lowercase();
    let kept = kept.chars().filter_map(|letter| match letter {
        ' ' => Some('-'),
        letter if letter.is_alphanumeric() || "-_".contains(letter) => Some(letter),
        _ => None,
    });
    kept.collect()
}

fn has_anchor(page: &str, wanted: &str) -> bool {
    let mut headings = page.lines().filter(|line| line.starts_with('#'));
    let heading = headings.any(|line| anchor(line.trim_start_matches('#')) == wanted);
    heading || page.contains(&format!("<a id=\"{wanted}\">"))
}

fn broken(page: &Page) -> Vec<String> {
    let mut found = Vec::new();
    let own = path(&page.name);
    let folder = own.parent().unwrap_or(Path::new(""));
    for target in targets(&page.text) {
        if target.starts_with("https://") {
            continue;
        }
        let (file, inside) = target.split_once('#').unwrap_or((target, ""));
        let there: PathBuf = match file {
            "" => own.clone(),
            file => folder.join(file),
        };
        let text = std::fs::read_to_string(&there).unwrap_or_default();
        let fine = there.exists() && (inside.is_empty() || has_anchor(&text, inside));
        if !fine {
            found.push(format!("{}: {target}", page.name));
        }
    }
    found
}

#[test]
fn every_link_leads_somewhere() {
    let found: Vec<String> = all().iter().flat_map(broken).collect();
    assert!(found.is_empty(), "{found:#?}");
    assert_eq!(anchor(" How to add a part"), "how-to-add-a-part");
}

/// Every page can be reached from the README.
#[test]
fn every_page_is_reached() {
    let pages = all();
    let mut seen = vec!["README.md".to_owned()];
    let mut at = 0;
    while let Some(name) = seen.get(at).cloned() {
        at += 1;
        let Some(page) = pages.iter().find(|page| page.name == name) else {
            continue;
        };
        let folder = Path::new(&name)
            .parent()
            .unwrap_or(Path::new(""))
            .to_owned();
        for target in targets(&page.text) {
            let file = target.split('#').next().unwrap_or_default();
            let whole = plain(&folder.join(file));
            if whole.ends_with(".md") && !seen.contains(&whole) {
                seen.push(whole);
            }
        }
    }
    for page in &pages {
        assert!(seen.contains(&page.name), "no link leads to {}", page.name);
    }
}

/// A path without steps back.
fn plain(path: &Path) -> String {
    let mut words: Vec<String> = Vec::new();
    for word in path.components() {
        match word.as_os_str().to_string_lossy().as_ref() {
            ".." => {
                words.pop();
            }
            "." => {}
            word => words.push(word.to_owned()),
        }
    }
    words.join("/")
}

/// Files and folders of the project that a page names in code are there.
#[test]
fn every_file_that_is_named_is_there() {
    let rooms = ["src/", "tests/", "configs/", "demo/", "docs/", "benches/"];
    let mut missing = Vec::new();
    for page in all() {
        let text = page.by_hand();
        for piece in text
            .split('`')
            .filter(|piece| rooms.iter().any(|room| piece.starts_with(room)))
        {
            let simple = |c: char| c.is_alphanumeric() || "/._-".contains(c);
            if piece.chars().all(simple) && !path(piece).exists() {
                missing.push(format!("{}: {piece}", page.name));
            }
        }
    }
    assert!(missing.is_empty(), "{missing:#?}");
}
