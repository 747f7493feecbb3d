//! The sheet of prints.

use crate::sheets::{Content, Paper};

/// What it says.
pub(in crate::sheets) fn content(_paper: &Paper) -> Content {
    Content::default()
}
