//! Which rule a finding is of, and what the rule says of itself: one of the program's, or one's
//! own, which brings along what it says.

use std::borrow::Borrow;
use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::ops::Deref;
use std::sync::Arc;

use super::Rule;
use crate::catalogue::own_rule::OwnRule;

/// A rule by its id. It is as good as the text of the id.
#[derive(Clone)]
pub enum RuleId {
    /// A rule of the program.
    BuiltIn(&'static Rule),
    /// A rule of one's own.
    Own(Arc<OwnRule>),
}

/// What a rule says of itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Told<'a> {
    /// The problem in a few words.
    pub title: &'a str,
    /// What it watches.
    pub watches: &'a str,
    /// Why that matters.
    pub because: &'a str,
    /// Where it comes from.
    pub from: &'a str,
    /// What to do instead.
    pub instead: &'a str,
}

/// Why a rule of one's own matters that does not say so.
const NO_REASON: &str = "A rule of your own says so.";

impl RuleId {
    /// The id.
    pub fn as_str(&self) -> &str {
        match self {
            Self::BuiltIn(rule) => rule.id,
            Self::Own(rule) => rule.id.as_str(),
        }
    }

    /// The id of a rule of the program.
    pub fn built_in(&self) -> Option<&'static str> {
        match self {
            Self::BuiltIn(rule) => Some(rule.id),
            Self::Own(_) => None,
        }
    }

    /// The rule, where it is one's own.
    pub fn own(&self) -> Option<&OwnRule> {
        match self {
            Self::BuiltIn(_) => None,
            Self::Own(rule) => Some(rule),
        }
    }

    /// What the rule says of itself.
    pub fn told(&self) -> Told<'_> {
        match self {
            Self::BuiltIn(rule) => rule.told(),
            Self::Own(rule) => Told {
                title: &rule.title,
                watches: &rule.watches,
                because: rule.because.as_deref().unwrap_or(NO_REASON),
                from: &rule.from,
                instead: &rule.instead,
            },
        }
    }

    /// The problem in a few words.
    pub fn title(&self) -> &str {
        self.told().title
    }
}

#[cfg(test)]
impl From<&'static str> for RuleId {
    fn from(id: &'static str) -> Self {
        Self::BuiltIn(super::find(id).expect("a rule of the program"))
    }
}

impl Deref for RuleId {
    type Target = str;
    fn deref(&self) -> &str {
        self.as_str()
    }
}

impl Borrow<str> for RuleId {
    fn borrow(&self) -> &str {
        self.as_str()
    }
}

impl fmt::Display for RuleId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

impl fmt::Debug for RuleId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.as_str(), f)
    }
}

impl PartialEq for RuleId {
    fn eq(&self, other: &Self) -> bool {
        self.as_str() == other.as_str()
    }
}

impl Eq for RuleId {}

impl PartialEq<str> for RuleId {
    fn eq(&self, other: &str) -> bool {
        self.as_str() == other
    }
}

impl PartialEq<&str> for RuleId {
    fn eq(&self, other: &&str) -> bool {
        self.as_str() == *other
    }
}

impl PartialOrd for RuleId {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for RuleId {
    fn cmp(&self, other: &Self) -> Ordering {
        self.as_str().cmp(other.as_str())
    }
}

impl Hash for RuleId {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.as_str().hash(state);
    }
}
