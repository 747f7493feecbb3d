//! Rules of this topic.

use super::Rule;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[];
