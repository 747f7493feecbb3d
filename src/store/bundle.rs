//! A bundle: a build and every file of parts and prices that was laid over the built-in ones, in
//! one TOML file, so that another machine reckons with the same to the cent.
//!
//! ```toml
//! bundle = 1
//! program = "0.1.0"
//! built_in = "9f2c..."   # mark of the data that were built into it
//! build = '''
//! format = 1
//! '''
//!
//! [[file]]
//! name = "prices.toml"   # a name for messages; nothing of that name is ever opened
//! folder = 1             # files of one folder are one layer
//! text = '''
//! [[price-book]]
//! '''
//! ```

use serde::Deserialize;
use toml::de::DeTable;
use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, Value as Toml};

use super::FileError;
use super::build_file::with_value;
use super::embedded;
use super::library::Overlay;
use super::plain_words::toml_error;
use super::text::LARGEST;
use super::visible::is_hidden;
use crate::catalogue::reader::{self, Placed};
use crate::order::Order as _;

/// The format that this program writes, and the newest it reads.
const FORMAT: i64 = 1;

/// The longest name of a file, in characters.
const LONGEST_NAME: usize = 200;

/// A bundle as it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bundle {
    /// The text of its build file.
    pub build: String,
    /// The files of parts and prices, a layer each.
    pub layers: Vec<Vec<Overlay>>,
    /// The version of the program that made it.
    program: String,
    /// The mark of what was built into that.
    built_in: String,
    /// All of its text: writing keeps its comments.
    text: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Raw {
    bundle: Placed<i64>,
    program: Placed<String>,
    built_in: Placed<String>,
    build: Placed<String>,
    #[serde(default, rename = "file")]
    files: Vec<RawFile>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawFile {
    name: Placed<String>,
    folder: u32,
    text: String,
}

/// Reads a text as a bundle; none where it is something else, such as a build file.
///
/// # Errors
/// Says what is wrong with the bundle. What is wrong with the files in it is told by whoever
/// reads them.
pub fn read(text: &str, name: &str) -> Result<Option<Bundle>, FileError> {
    if !is_bundle(text) {
        return Ok(None);
    }
    let raw: Raw = reader::read(text).map_err(|error| toml_error(name, text, error))?;
    let fail = |span, message: String| Err(FileError::at(name, text, span, message));
    let format = *raw.bundle.value();
    if format > FORMAT {
        let message = format!(
            "bundle {format} is newer than this program, which reads bundle {FORMAT}; use a newer gantrywright"
        );
        return fail(raw.bundle.place(), message);
    }
    if format != FORMAT {
        let message = format!("there is no bundle {format}; write bundle = {FORMAT}");
        return fail(raw.bundle.place(), message);
    }
    if is_bundle(raw.build.value()) {
        let message = "the build in this bundle is a bundle itself; put a build file there";
        return fail(raw.build.place(), message.to_owned());
    }
    for named in [&raw.program, &raw.built_in] {
        if named.value().chars().count() > LONGEST_NAME {
            let message = format!("this has at most {LONGEST_NAME} characters");
            return fail(named.place(), message);
        }
    }
    let mut layers: Vec<(u32, Vec<Overlay>)> = Vec::new();
    for file in raw.files {
        let inside = file.name.value();
        if inside.is_empty() || inside.chars().count() > LONGEST_NAME {
            let message = format!("a name has 1 to {LONGEST_NAME} characters");
            return fail(file.name.place(), message);
        }
        let overlay = Overlay {
            name: format!("{name}: {inside}"),
            inside: inside.clone(),
            text: file.text,
        };
        match layers.iter_mut().find(|(folder, _)| *folder == file.folder) {
            Some((_, layer)) => layer.push(overlay),
            None => layers.push((file.folder, vec![overlay])),
        }
    }
    layers.order_by_key(|(folder, _)| *folder);
    Ok(Some(Bundle {
        build: raw.build.into_value(),
        layers: layers.into_iter().map(|(_, layer)| layer).collect(),
        program: raw.program.into_value(),
        built_in: raw.built_in.into_value(),
        text: text.to_owned(),
    }))
}

/// Whether a text says that it is a bundle.
pub fn is_bundle(text: &str) -> bool {
    // Most texts are told apart without being parsed.
    text.contains("bundle")
        && DeTable::parse(text).is_ok_and(|table| table.get_ref().contains_key("bundle"))
}

/// The text of a bundle of a build file and the layers that its figures rest on.
///
/// # Errors
/// Where the build is a bundle already, or all of it is larger than this program reads.
pub fn write(build: &str, name: &str, layers: &[Vec<Overlay>]) -> Result<String, FileError> {
    if is_bundle(build) {
        let message = "this is a bundle already; copy it as it is";
        return Err(FileError::new(name, message));
    }
    let mut document = DocumentMut::new();
    let root = document.as_table_mut();
    root.insert("bundle", Item::Value(FORMAT.into()));
    let program = env!("CARGO_PKG_VERSION");
    root.insert("program", Item::Value(program.into()));
    root.insert("built_in", Item::Value(embedded::mark().into()));
    root.insert("build", Item::Value(long_text(build)));
    if let Some(mut key) = root.key_mut("bundle") {
        let about =
            "# A build for gantrywright with the parts and prices that its figures rest on.\n";
        key.leaf_decor_mut().set_prefix(about);
    }
    let mut files = ArrayOfTables::new();
    for (place, layer) in layers.iter().enumerate() {
        for file in layer {
            let mut table = Table::new();
            table.insert("name", Item::Value(escaped_or_plain(&file.inside)));
            let folder = i64::try_from(place).unwrap_or(i64::MAX).saturating_add(1);
            table.insert("folder", Item::Value(folder.into()));
            table.insert("text", Item::Value(long_text(&file.text)));
            files.push(table);
        }
    }
    if !files.is_empty() {
        root.insert("file", Item::ArrayOfTables(files));
    }
    let text = document.to_string();
    match within_limit(&text) {
        true => Ok(text),
        false => Err(FileError::new(
            name,
            format!(
                "with its parts and prices the bundle would be larger than {} MiB, more than is read back; leave files out",
                LARGEST / (1024 * 1024)
            ),
        )),
    }
}

fn within_limit(text: &str) -> bool {
    text.len() as u64 <= LARGEST
}

impl Bundle {
    /// Its text as it was read.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Its text with another build in it; everything else stays as it is.
    pub fn with_build(&self, build: &str) -> String {
        with_value(&self.text, "build", long_text(build))
    }

    /// What is to be known where it was made by a program with other data; none where by one
    /// with the same.
    pub fn differs(&self) -> Option<String> {
        (self.built_in != embedded::mark()).then(|| {
            format!(
                "this bundle was made by gantrywright {} with other built-in parts and prices: totals may differ",
                self.program
            )
        })
    }
}

/// A text of many lines: as it is between triple quotes where that says the same, else with its
/// special characters spelled out.
fn long_text(text: &str) -> Toml {
    let is_plain = |letter: char| matches!(letter, '\n' | '\t') || !is_hidden(letter);
    if text.chars().all(is_plain) && !text.contains("'''") && !text.ends_with('\'') {
        let quoted: Result<Toml, _> = format!("'''\n{text}'''").parse();
        if let Ok(value) = quoted {
            return value;
        }
    }
    escaped_or_plain(text)
}

/// A text in quotes on one line, with everything spelled out that does not show.
fn escaped_or_plain(text: &str) -> Toml {
    let mut quoted = String::with_capacity(text.len() + 2);
    quoted.push('"');
    for letter in text.chars() {
        match letter {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            '\r' => quoted.push_str("\\r"),
            '\t' => quoted.push_str("\\t"),
            hidden if is_hidden(hidden) => {
                quoted.push_str(&format!("\\U{:08X}", u32::from(hidden)));
            }
            shown => quoted.push(shown),
        }
    }
    quoted.push('"');
    quoted.parse().unwrap_or_else(|_| text.into())
}

#[cfg(test)]
mod tests;
