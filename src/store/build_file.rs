//! Build files: one TOML document that a person reads and edits.
//!
//! ```toml
//! format = 1
//! title = "Shed router"
//! note = "for shelves and toys"
//!
//! [working_area]
//! travel_x_mm = 800          # keys carry the unit
//! budget = "3500 EUR"        # money is quoted, with its currency
//! materials = ["softwood"]
//!
//! [drive]
//! drive_x = "ball-screw-16x10"
//! rail_length_x_mm = "none"  # left out on purpose
//! preloaded_nuts = true
//!
//! [variants.stiffer] # another way to build it: what differs from the one it came from
//! from = "main"
//! set = { beam_tube = "tube-100x100x5" }
//!
//! [accepted]
//! some-rule = "why that is fine here"
//!
//! [purchases.rail-15]
//! status = "arrived"
//! payments = [{ amount = "240 EUR", date = "2026-11-20" }]
//!
//! [recorded] # written by the program, to tell what moved since
//! on = "2026-11-25"
//! ```
//!
//! The keys are those of the table of choices. What a file does not name keeps its default.

use std::path::Path;

use jiff::civil::Date;

use super::{FileError, text};
use crate::assessment::assess;
use crate::build::Build;
use crate::catalogue::Catalogue;

mod books;
mod list;
mod older;
mod purchases;
mod read;
pub mod recorded;
mod value;
mod variants;
mod write;

pub use read::{check_money, read};
pub(super) use write::with_value;
pub use write::write;

/// The format that this program writes, and the newest it reads.
pub const FORMAT: u32 = older::newest();

/// The top keys, in their order; the sections of the steps come between `note` and
/// `accepted`.
const TOP: [&str; 5] = [
    "format",
    "title",
    "note",
    variants::ACTIVE,
    variants::BASELINE,
];

/// The section of other ways to build the machine, one each.
const VARIANTS: &str = "variants";

/// The section of accepted findings.
const ACCEPTED: &str = "accepted";

/// The section of what was offered, ordered, paid and received, a part each.
const PURCHASES: &str = "purchases";

/// The section of what was paid for the way of parcels, a supplier each.
const CONSIGNMENTS: &str = "consignments";

/// The section of lengths in hand.
const OFFCUTS: &str = "offcuts_mm";

/// The section of the tasks that are done.
const DONE: &str = "done";

/// The section of what the build's figures rested on when it was saved.
const RECORDED: &str = "recorded";

/// The sections behind those of the steps, in their order.
const BEHIND: [&str; 7] = [
    VARIANTS,
    ACCEPTED,
    PURCHASES,
    CONSIGNMENTS,
    OFFCUTS,
    DONE,
    RECORDED,
];

/// A build as it was read.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// The build.
    pub build: Build,
    /// The text it came from: [`write()`] keeps its comments.
    pub text: String,
}

/// The text of a build's file as it is saved: what [`write()`] gives, with the record of what its
/// figures rest on; without one where it cannot be assessed.
pub fn saved(original: Option<&str>, build: &Build, catalogue: &Catalogue, today: Date) -> String {
    let text = write(original, build);
    match assess(catalogue, build, today) {
        Ok(assessment) => {
            let record = recorded::of(catalogue, build, &assessment, today);
            recorded::put(&text, &record)
        }
        Err(_) => text,
    }
}

/// Writes the text of a build to its file. A file of an older format that is there is kept beside
/// it first.
///
/// # Errors
/// Where that or the text itself cannot be written; the old file is then as it was.
pub fn save(path: &Path, text: &str) -> Result<(), FileError> {
    older::keep(path)?;
    super::save(path, text)
}

/// Reads a build from a build file; a bundle is read by [`bundle`](super::bundle).
///
/// # Errors
/// One clear message where the file or what it says cannot be used.
pub fn load(path: &Path, catalogue: &Catalogue) -> Result<Loaded, FileError> {
    let text = text::read(path)?;
    let build = read(&text, &text::name_of(path), catalogue)?;
    Ok(Loaded { build, text })
}
