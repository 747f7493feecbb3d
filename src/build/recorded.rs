//! What the figures of a build rested on when it was last saved: program, parts, price books, unit
//! prices and a handful of figures. It is no part of the build: nothing is computed from it. It
//! is only there so that somebody who opens the file months later is told what moved since.

use indexmap::IndexMap;
use jiff::civil::Date;

use crate::catalogue::Id;
use crate::money::Money;

/// What the figures of a build rested on.
#[derive(Clone, Debug, PartialEq)]
pub struct Recorded {
    /// The day.
    pub on: Date,
    /// The version of the program; empty where the file does not say.
    pub program: String,
    /// The [mark](super::mark::mark()) of the parts and prices; empty where the file does not say.
    pub catalogue: String,
    /// The mark of the build itself; empty where the file does not say.
    pub build: String,
    /// The price books whose prices counted, with their days.
    pub books: IndexMap<Id, Date>,
    /// Some figures by their path, as people read them: `15 m/min`, `6123.45 EUR`.
    pub figures: IndexMap<String, String>,
    /// The likely price of one unit of each part on the bill that was not paid yet.
    pub prices: IndexMap<Id, Money>,
}
