//! What you chose: the [`Build`], the table of choices that reads and changes it, edits
//! and undo.
//!
//! The table ([`choices::all`]) is the single list from which the five steps on the
//! screen, the keys of a build file, `--set` and `gantrywright choices` come. To add a
//! choice, add a field and a row in the file of its step under `choices/`.

use indexmap::IndexMap;

pub mod axis;
pub mod choices;
pub mod edit;
pub mod history;
pub mod mark;
pub mod merge;
pub mod pick;
pub mod purchases;
pub mod recorded;
pub mod value;
pub mod variants;

pub use crate::words::nearest;
pub use axis::{Axis, PerAxis};
pub use choices::{Choice, Figure, Kind};
pub use edit::Edit;
pub use pick::Picked;
pub use value::Value;
pub use variants::{MAIN, Variants};

/// Everything that one builder chose and wished: the whole document that the user edits.
#[derive(Clone, Debug, PartialEq)]
pub struct Build {
    /// What the builder calls it.
    pub title: String,
    /// A line on what it is for, shown beside the title in lists.
    pub note: String,
    /// Size, frame, site and wishes.
    pub area: choices::working_area::WorkingArea,
    /// Rails, screws, motors.
    pub drive: choices::drive::Drive,
    /// Spindle, inverter, cooling, tool.
    pub spindle: choices::spindle::SpindleSet,
    /// Controller, wiring, mains.
    pub control: choices::control::Control,
    /// Everything else.
    pub extras: choices::extras::Extras,
    /// What was measured, in place of the model.
    pub measured: choices::measured::Measured,
    /// Findings that the builder accepted, by rule, with the note that says why.
    pub accepted: IndexMap<String, String>,
    /// What was asked, ordered, paid and received.
    pub purchases: purchases::Purchases,
    /// The tasks of the checklist that are done, by id, with the day.
    pub done: IndexMap<String, jiff::civil::Date>,
    /// Other ways to build it: their choices alone, all else here is shared by them.
    pub variants: variants::Variants,
}

impl Default for Build {
    /// A machine that works: 600 x 600 x 120 mm for wood, on one 230 V socket.
    fn default() -> Self {
        Self {
            title: "New machine".to_owned(),
            note: String::new(),
            area: Default::default(),
            drive: Default::default(),
            spindle: Default::default(),
            control: Default::default(),
            extras: Default::default(),
            measured: Default::default(),
            accepted: IndexMap::new(),
            purchases: purchases::Purchases::default(),
            done: IndexMap::new(),
            variants: variants::Variants::default(),
        }
    }
}
