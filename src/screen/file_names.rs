//! Names of files: what the one of a title is, and which file a name means that somebody typed.

use std::path::{Path, PathBuf};

/// The most characters of the beginning of a name: file systems take names of 255 bytes.
const LONGEST_STEM: usize = 50;

/// The beginning of a file name made from a title: letters, digits and hyphens, so that it leads
/// into no other folder.
pub fn stem(title: &str) -> String {
    let words: String = title.chars().take(LONGEST_STEM).collect();
    let words = words.to_lowercase();
    let words = words
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty());
    let name = words.collect::<Vec<_>>().join("-");
    match name.as_str() {
        "" => "machine".to_owned(),
        _ => name,
    }
}

/// The file that a name means: the open one by its own name, any other with the ending of
/// build files.
pub fn file_of(open: Option<&Path>, named: PathBuf) -> PathBuf {
    if open == Some(named.as_path()) || ends(&named, "toml") {
        return named;
    }
    with_ending(named, "toml")
}

/// Whether a file's name has an ending, in whatever case.
pub(super) fn ends(path: &Path, ending: &str) -> bool {
    let extension = path.extension();
    extension.is_some_and(|extension| extension.eq_ignore_ascii_case(ending))
}

/// A file's name with an ending behind it, whatever it ends in.
pub(super) fn with_ending(path: PathBuf, ending: &str) -> PathBuf {
    let mut name = path.into_os_string();
    name.push(format!(".{ending}"));
    PathBuf::from(name)
}
