//! Effects of options, worked out when they come into view and kept until the build
//! changes.

use std::collections::HashMap;
use std::rc::Rc;

use crate::build::Edit;
use crate::explore::effect::{Effect, effect};
use crate::explore::remedy::cure;
use crate::explore::trial::Bench;
use crate::rules::Finding;

/// How many effects are kept: more than a list has rows in view. Each holds a whole machine.
const MOST: usize = 64;

/// What taking an option would change, or why that cannot be reckoned.
pub type Seen = Result<Rc<Effect>, String>;

/// The effects known for the build as it stands.
#[derive(Debug, Default)]
pub struct Previews {
    /// By the edits that they are of, the one asked for longest ago first.
    effects: Vec<(Vec<Edit>, Seen)>,
    remedies: HashMap<String, Vec<Edit>>,
}

impl Previews {
    /// Forgets everything: the build has changed.
    pub fn forget(&mut self) {
        self.effects.clear();
        self.remedies.clear();
    }

    /// The effect of edits made together.
    pub fn effect(&mut self, bench: Bench, edits: &[Edit]) -> Option<Seen> {
        let (last, others) = edits.split_last()?;
        let known = |(of, _): &(Vec<Edit>, Seen)| of == edits;
        if let Some(place) = self.effects.iter().position(known) {
            let known = self.effects.remove(place);
            let seen = known.1.clone();
            self.effects.push(known);
            return Some(seen);
        }
        let mut build = bench.build.clone();
        others.iter().for_each(|edit| edit.apply(&mut build));
        let seen = effect(bench.catalogue, &build, bench.before, last, bench.today)
            .map(Rc::new)
            .map_err(|error| error.to_string());
        if self.effects.len() == MOST {
            drop(self.effects.remove(0));
        }
        self.effects.push((edits.to_vec(), seen.clone()));
        Some(seen)
    }

    /// The edits that lift a finding; none where no choice does.
    pub fn remedy(&mut self, bench: Bench, finding: &Finding) -> Vec<Edit> {
        let key = format!("{} {:?} {:?}", finding.rule, finding.axis, finding.severity);
        let ask = || {
            cure(
                bench.catalogue,
                bench.build,
                bench.before,
                finding,
                bench.today,
            )
        };
        self.remedies.entry(key).or_insert_with(ask).clone()
    }
}
