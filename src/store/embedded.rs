//! The data built into the program: the physical catalogue of `configs/`, the invented
//! prices, jobs and example builds of `demo/`. The build script, `embedded/bake.rs`, gathers them.
//!
//! The catalogue is there twice: as it was parsed, which every start needs, and as text, which
//! only a message about a line of it or a copy of a part does. The texts are deflated: they take a
//! fifth of the room.

use std::io::Read as _;
use std::sync::LazyLock;

use flate2::read::DeflateDecoder;

use crate::catalogue::reader::{Parsed, built_in};

include!(concat!(env!("OUT_DIR"), "/embedded.rs"));

/// Their texts, one after the other.
static TEXTS: LazyLock<String> = LazyLock::new(|| {
    let deflated = include_bytes!(concat!(env!("OUT_DIR"), "/catalogue.deflated"));
    let mut texts = String::new();
    // What the build script deflated is whole; were it not, messages would only lack their lines.
    let _ = DeflateDecoder::new(&deflated[..]).read_to_string(&mut texts);
    texts
});

/// A file of the catalogue that is built into the program.
#[derive(Clone, Copy, Debug)]
pub struct Embedded {
    /// Its path in the folder of data, for messages.
    pub name: &'static str,
    /// Where its text begins and ends among all.
    place: (usize, usize),
}

impl Embedded {
    /// Its text.
    pub fn text(&self) -> &'static str {
        let (begin, end) = self.place;
        TEXTS.get(begin..end).unwrap_or_default()
    }
}

/// An example build that is built into the program.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// Its path in the folder of data.
    pub name: &'static str,
    /// Its text.
    pub text: &'static str,
}

/// Every file of the catalogue: what is physical, then what is invented.
pub fn catalogue() -> &'static [Embedded] {
    CATALOGUE
}

/// The same files, with what they were parsed to.
pub fn parsed_catalogue() -> impl Iterator<Item = (Embedded, Parsed<'static>)> {
    CATALOGUE.iter().copied().zip(built_in())
}

/// The example builds, by name.
pub fn examples() -> &'static [Example] {
    EXAMPLES
}

/// A short mark of the catalogue's files.
pub fn mark() -> &'static str {
    MARK
}
