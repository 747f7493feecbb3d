//! A page and what is made in it. A comment says what: it is not seen where the page is read.
//!
//! ```text
//! <!-- make: figure cost.likely -->7 011 USD<!-- made -->
//! <!-- build: new site=site-120v-15a -->      the build that what follows is about
//! <!-- build: + separate_bins=yes -->         the same with a change
//! <!-- picture: first-build/1.svg 100x30 2,down -->   size and keys of a picture
//! <!-- file: offers.csv -->                   the block below is a file of that name
//! ```

use std::path::{Path, PathBuf};

use crate::shown::Shown;

/// Ends what is made.
const MADE: &str = "<!-- made -->";

/// A page of the documentation.
pub(crate) struct Page {
    /// Its path from the top of the project.
    pub(crate) name: String,
    /// Its text.
    pub(crate) text: String,
}

/// A block between fences, with the comment before it.
pub(crate) struct Block {
    /// What stands behind the opening fence.
    pub(crate) info: String,
    /// Its lines.
    pub(crate) text: String,
    /// The name of the file that it is, where it is one.
    pub(crate) file: Option<String>,
}

/// A path from the top of the project.
pub(crate) fn path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

/// The text of a file; nothing where it is missing.
pub(crate) fn read(name: &str) -> String {
    std::fs::read_to_string(path(name)).unwrap_or_default()
}

/// Holds a text against a file, or writes it where that is wished; the name where they differ.
pub(crate) fn keep(name: &str, wanted: &str) -> Option<String> {
    if read(name) == wanted {
        return None;
    }
    if std::env::var_os("UPDATE_DOCS").is_none() {
        return Some(name.to_owned());
    }
    let path = path(name);
    std::fs::create_dir_all(path.parent().expect("a folder")).expect("made");
    std::fs::write(path, wanted).expect("a writable file");
    None
}

/// The files of an ending below a folder, in order.
pub(crate) fn files_below(folder: &str, ending: &str) -> Vec<String> {
    let mut found = Vec::new();
    let entries = std::fs::read_dir(path(folder)).expect("a folder");
    for entry in entries {
        let name = entry.expect("an entry").file_name();
        let name = format!("{folder}/{}", name.to_string_lossy());
        if path(&name).is_dir() {
            found.extend(files_below(&name, ending));
        } else if name.ends_with(&format!(".{ending}")) {
            found.push(name);
        }
    }
    found.sort();
    found
}

/// Every page.
pub(crate) fn all() -> Vec<Page> {
    let tops = ["README.md", "DEVELOPERS.md", "CHANGELOG.md"];
    let names = tops.into_iter().map(str::to_owned);
    names
        .chain(files_below("docs", "md"))
        .map(|name| Page::open(&name))
        .collect()
}

impl Page {
    /// Reads a page.
    pub(crate) fn open(name: &str) -> Self {
        Self {
            name: name.to_owned(),
            text: read(name),
        }
    }

    /// Its text with all that is made in it made anew.
    pub(crate) fn made_anew(&self, shown: &mut Shown) -> String {
        let mut text = String::new();
        let mut rest = self.text.as_str();
        while let Some((before, note, after)) = next_note(rest) {
            text.push_str(&rest[..before]);
            let comment = format!("<!-- {note} -->");
            text.push_str(&comment);
            rest = &rest[after..];
            if let Some(what) = note.strip_prefix("make: ") {
                let (old, tail) = rest.split_once(MADE).unwrap_or_else(|| {
                    panic!("{}: {note} has no end", self.name);
                });
                assert!(!old.contains("<!-- make"), "{}: {note}", self.name);
                text.push_str(&shown.make(what));
                text.push_str(MADE);
                rest = tail;
            } else {
                shown.hear(note);
            }
        }
        text.push_str(rest);
        text
    }

    /// What was not made: written by somebody.
    pub(crate) fn by_hand(&self) -> String {
        let mut text = String::new();
        let mut rest = self.text.as_str();
        while let Some((before, rest_of)) = rest.split_once("<!-- make: ") {
            text.push_str(before);
            let tail = rest_of.split_once(MADE);
            rest = tail.map_or("", |(_, tail)| tail);
        }
        text.push_str(rest);
        text
    }

    /// What the comments of a kind say.
    pub(crate) fn notes(&self, kind: &str) -> Vec<&str> {
        let mut found = Vec::new();
        let mut rest = self.text.as_str();
        while let Some((_, note, after)) = next_note(rest) {
            let said = note.strip_prefix(kind);
            found.extend(said.and_then(|said| said.strip_prefix(": ")));
            rest = &rest[after..];
        }
        found
    }

    /// Its blocks between fences.
    pub(crate) fn blocks(&self) -> Vec<Block> {
        let mut found: Vec<Block> = Vec::new();
        let mut open: Option<Block> = None;
        let mut file = None;
        for line in self.text.lines() {
            match (line.strip_prefix("```"), &mut open) {
                (Some(_), Some(_)) => found.extend(open.take()),
                (Some(info), None) => {
                    open = Some(Block {
                        info: info.to_owned(),
                        text: String::new(),
                        file: file.take(),
                    });
                }
                (None, Some(block)) => {
                    block.text.push_str(line);
                    block.text.push('\n');
                }
                (None, None) => {
                    let note = line.strip_prefix("<!-- file: ");
                    let name = note.and_then(|note| note.strip_suffix(" -->"));
                    file = name.map(str::to_owned).or(file);
                }
            }
        }
        assert!(open.is_none(), "{}: a block has no end", self.name);
        found
    }
}

/// The next comment: where it begins, what it says, where it ends. Those in code do not count.
fn next_note(text: &str) -> Option<(usize, &str, usize)> {
    let begin = text.find("<!-- ")?;
    let end = begin + text[begin..].find(" -->")?;
    Some((begin, &text[begin + "<!-- ".len()..end], end + " -->".len()))
}
