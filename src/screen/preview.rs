//! Effects of options, worked out when they come into view and kept until the build
//! changes.

use std::collections::HashMap;
use std::rc::Rc;

use crate::build::Edit;
use crate::explore::effect::{Effect, effect};
use crate::explore::remedy::cure;
use crate::explore::trial::Bench;
use crate::rules::Finding;
use crate::store::beside::in_two;

/// How many effects are kept besides those of the rows in view: each holds a whole machine.
const SPARE: usize = 8;

/// From so many new effects on a thread beside this one works out half of them.
const MANY: usize = 3;

/// What taking an option would change, or why that cannot be reckoned.
pub type Seen = Result<Rc<Effect>, String>;

/// The effects known for the build as it stands.
#[derive(Debug, Default)]
pub struct Previews {
    /// By the edits that they are of, the one asked for longest ago first.
    effects: Vec<(Vec<Edit>, Seen)>,
    /// How many of them are in view.
    in_view: usize,
    remedies: HashMap<String, Vec<Edit>>,
}

impl Previews {
    /// Forgets everything: the build has changed.
    pub fn forget(&mut self) {
        self.effects.clear();
        self.remedies.clear();
    }

    /// Works out the effects of options that nobody has asked for yet, where they are many: a list
    /// that comes into view, and the first frame, wait for all of them.
    pub fn prepare(&mut self, bench: Bench, options: &[Edit]) {
        self.in_view = options.len();
        let known = |edit: &Edit| {
            self.effects
                .iter()
                .any(|(of, _)| of[..] == *std::slice::from_ref(edit))
        };
        let new: Vec<&Edit> = options.iter().filter(|edit| !known(edit)).collect();
        if new.len() < MANY {
            return;
        }
        let effects = in_two(&new, |edit| {
            effect(&bench, std::slice::from_ref(edit)).map_err(|error| error.to_string())
        });
        for (edit, effect) in new.into_iter().zip(effects) {
            self.keep(std::slice::from_ref(edit), effect.map(Rc::new));
        }
    }

    fn keep(&mut self, edits: &[Edit], seen: Seen) {
        let most = self.in_view + SPARE;
        let too_many = (self.effects.len() + 1).saturating_sub(most);
        drop(self.effects.drain(..too_many));
        self.effects.push((edits.to_vec(), seen));
    }

    /// The effect of edits made together.
    pub fn effect(&mut self, bench: Bench, edits: &[Edit]) -> Option<Seen> {
        if edits.is_empty() {
            return None;
        }
        let known = |(of, _): &(Vec<Edit>, Seen)| of == edits;
        if let Some(place) = self.effects.iter().position(known) {
            let known = self.effects.remove(place);
            let seen = known.1.clone();
            self.effects.push(known);
            return Some(seen);
        }
        let seen = effect(&bench, edits)
            .map(Rc::new)
            .map_err(|error| error.to_string());
        self.keep(edits, seen.clone());
        Some(seen)
    }

    /// The edits that lift a finding; none where no choice does.
    pub fn remedy(&mut self, bench: Bench, finding: &Finding) -> Vec<Edit> {
        let key = format!("{} {:?} {:?}", finding.rule, finding.axis, finding.severity);
        let ask = || cure(&bench, finding);
        self.remedies.entry(key).or_insert_with(ask).clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::{Date, date};

    use crate::assessment::{Assessment, assess};
    use crate::build::{Build, choices};
    use crate::catalogue::Catalogue;
    use crate::store::library;

    const TODAY: Date = date(2026, 11, 30);

    /// The default build and its assessment.
    fn known() -> (Catalogue, Build, Assessment) {
        let catalogue = library::load(&[]).expect("what is built in");
        let build = Build::default();
        let before = assess(&catalogue, &build, TODAY).expect("assessed");
        (catalogue, build, before)
    }

    fn bench((catalogue, build, before): &(Catalogue, Build, Assessment)) -> Bench<'_> {
        Bench {
            catalogue,
            build,
            before,
            today: TODAY,
        }
    }

    #[test]
    fn what_is_prepared_is_what_is_asked_for_and_no_more_is_kept_than_is_in_view() {
        let known = known();
        let bench = bench(&known);
        let mut previews = Previews::default();
        for id in ["beam_tube", "drive_x", "motor_x"] {
            let choice = choices::find(id).expect(id);
            let options = choice.options(bench.catalogue).into_iter();
            let edits: Vec<Edit> = options.map(|value| Edit { choice, value }).collect();
            previews.prepare(bench, &edits);
            assert!(edits.len() >= MANY && previews.effects.len() <= edits.len() + SPARE);
            let known = previews.effects.len();
            for edit in &edits {
                let edit = std::slice::from_ref(edit);
                let told = |seen: Option<Seen>| format!("{seen:?}");
                let prepared = told(previews.effect(bench, edit));
                assert_eq!(prepared, told(Previews::default().effect(bench, edit)));
            }
            assert_eq!(previews.effects.len(), known, "{id}: nothing was left out");
        }
    }

    /// What an earlier edit changes is not taken from the build as it stands because the last edit
    /// leaves it alone.
    #[test]
    fn edits_made_together_come_to_what_assessing_the_changed_build_does() {
        let known = known();
        let bench = bench(&known);
        let Bench {
            catalogue,
            build,
            today,
            ..
        } = bench;
        let edit = |id: &str, value: &str| Edit::parse(id, value, catalogue).expect("an edit");
        let early = ["spindle", "beam_tube", "drive_x", "site"].map(|id| {
            let choice = choices::find(id).expect(id);
            let now = (choice.get)(build);
            let mut others = choice.options(catalogue).into_iter();
            let value = others.find(|value| *value != now).expect("another option");
            Edit { choice, value }
        });
        for first in early {
            let edits = [first, edit("reserve_percent", "13")];
            let mut changed = build.clone();
            edits.iter().for_each(|edit| edit.apply(&mut changed));
            let alone = assess(catalogue, &changed, today).expect("assessed");
            let seen = Previews::default().effect(bench, &edits);
            let seen = seen.expect("edits").expect("an effect");
            assert_eq!(
                format!("{:?}", seen.after),
                format!("{alone:?}"),
                "{}",
                edits[0].choice.id
            );
        }
    }
}
