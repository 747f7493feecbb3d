//! The files of the catalogue that are built into the program.

use super::{Parsed, parsed};

/// The files, in their order, as the build script parsed them.
static BUILT_IN: &str = include_str!(concat!(env!("OUT_DIR"), "/catalogue.baked"));

/// The files that are built in, in their order.
pub fn built_in() -> impl Iterator<Item = Parsed<'static>> {
    parsed(BUILT_IN)
}

/// The same text, for as long as the program runs, where it is a piece of a file that is built in.
pub(in crate::catalogue) fn in_built_in(text: &str) -> Option<&'static str> {
    let from = text.as_ptr().addr().checked_sub(BUILT_IN.as_ptr().addr())?;
    BUILT_IN.get(from..from.checked_add(text.len())?)
}
