//! Effects of options, worked out when they come into view and kept until the build
//! changes.

use std::collections::HashMap;
use std::rc::Rc;

use jiff::civil::Date;

use crate::assessment::Assessment;
use crate::build::{Build, Edit};
use crate::catalogue::Catalogue;
use crate::explore::effect::{Effect, effect};
use crate::explore::remedy::remedy;
use crate::rules::Finding;

/// What taking an option would change, or why that cannot be reckoned.
pub type Seen = Result<Rc<Effect>, String>;

/// The effects known for the build as it stands.
#[derive(Debug, Default)]
pub struct Previews {
    effects: HashMap<String, Seen>,
    remedies: HashMap<String, Vec<Edit>>,
}

/// What a question about an option is asked of.
#[derive(Clone, Copy)]
pub struct Before<'a> {
    /// What exists.
    pub catalogue: &'a Catalogue,
    /// The build as it stands.
    pub build: &'a Build,
    /// Its assessment.
    pub now: &'a Assessment,
    /// The day.
    pub today: Date,
}

impl Previews {
    /// Forgets everything: the build has changed.
    pub fn forget(&mut self) {
        self.effects.clear();
        self.remedies.clear();
    }

    /// The effect of edits made together.
    pub fn effect(&mut self, before: Before, edits: &[Edit]) -> Option<Seen> {
        let (last, others) = edits.split_last()?;
        let key = format!("{edits:?}");
        if let Some(seen) = self.effects.get(&key) {
            return Some(seen.clone());
        }
        let mut build = before.build.clone();
        others.iter().for_each(|edit| edit.apply(&mut build));
        let seen = effect(before.catalogue, &build, before.now, last, before.today)
            .map(Rc::new)
            .map_err(|error| error.to_string());
        self.effects.insert(key, seen.clone());
        Some(seen)
    }

    /// The edits that lift a finding; none where no choice does.
    pub fn remedy(&mut self, before: Before, finding: &Finding) -> Vec<Edit> {
        let key = format!("{} {:?} {:?}", finding.rule, finding.axis, finding.severity);
        let ask = || {
            remedy(
                before.catalogue,
                before.build,
                before.now,
                finding,
                before.today,
            )
        };
        self.remedies.entry(key).or_insert_with(ask).clone()
    }
}
