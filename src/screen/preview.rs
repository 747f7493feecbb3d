//! Effects of options, worked out when they come into view and kept until the build
//! changes.
//!
//! Of a list what its rows tell is kept, and the whole effect, with the machine that it would make,
//! only of the options around the cursor: thirty machines would take as much memory as all the rest
//! that the program asks for.

use std::collections::HashMap;
use std::rc::Rc;

use rust_decimal::Decimal;

use crate::assessment::FigureValue;
use crate::build::{Choice, Edit};
use crate::explore::effect::{Effect, effect};
use crate::explore::remedy::{Unfit, cure, unfit};
use crate::explore::trial::Bench;
use crate::money::Money;
use crate::rules::Finding;
use crate::store::in_two::in_two;

/// How many whole effects are kept: of the option under the cursor, of those before and behind it,
/// and of the last one.
const WHOLE: usize = 4;

/// How many rows are kept besides those that are asked for.
const SPARE: usize = 8;

/// From so many new rows on a thread beside this one works out half of them.
const MANY: usize = 3;

/// What taking an option would change, or why that cannot be computed.
pub type Seen = Result<Rc<Effect>, String>;

/// What the row of an option tells of its effect, or why that cannot be computed.
pub type Glanced = Result<Rc<Glance>, String>;

/// What the row of an option tells of its effect.
#[derive(Clone, Debug)]
pub struct Glance {
    /// Change of the likely total, in the currency of the total.
    pub price: Decimal,
    /// The likely total with the option taken.
    pub total: Money,
    /// What the main figure of the choice becomes; none where it has none.
    pub figure: Option<FigureValue>,
    /// Findings that the option brings.
    pub added: Vec<Finding>,
    /// Findings that it lifts.
    pub lifted: Vec<Finding>,
}

impl Glance {
    fn of(effect: &Effect, edit: &Edit) -> Self {
        let bill = &effect.after.bill;
        let figure = edit.choice.main_figure();
        Self {
            price: effect.price,
            total: Money::new(bill.total.likely, bill.currency),
            figure: figure.and_then(|figure| effect.after.figure(figure)),
            added: effect.added.clone(),
            lifted: effect.lifted.clone(),
        }
    }
}

/// What is known of options for the build as it stands.
#[derive(Debug, Default)]
pub struct Previews {
    /// Of which choice the rows are listed, by its id, and what is looked for among them.
    listed: Option<(&'static str, String)>,
    /// What rows tell, by the edit that taking the option is.
    glances: Vec<(Edit, Glanced)>,
    /// By the edits that they are of, the one asked for longest ago first.
    effects: Vec<(Vec<Edit>, Seen)>,
    remedies: HashMap<String, Vec<Edit>>,
    unfit: HashMap<String, Vec<Unfit>>,
}

impl Previews {
    /// Forgets everything: the build has changed.
    pub fn forget(&mut self) {
        self.listed = None;
        self.glances.clear();
        self.effects.clear();
        self.remedies.clear();
        self.unfit.clear();
    }

    /// Takes note that the rows of a choice are listed, as far as they bear a text; none where they
    /// are no rows of options. Whether those are listed already.
    pub fn list(&mut self, choice: Option<&Choice>, searched: &str) -> bool {
        let wanted = choice.map(|choice| (choice.id, searched));
        let listed = self.listed.as_ref().map(|(id, text)| (*id, text.as_str()));
        let known = listed == wanted;
        if !known {
            self.listed = wanted.map(|(id, text)| (id, text.to_owned()));
        }
        known
    }

    /// What rows tell that came into view and tell nothing yet. The first frame, and a list that is
    /// opened, wait for all of them; the whole effect is kept of the one under the cursor.
    pub fn glances(
        &mut self,
        bench: Bench,
        untold: &[Edit],
        under_cursor: Option<&Edit>,
    ) -> Vec<Glanced> {
        untold.iter().for_each(|edit| self.glance_at_known(edit));
        let new: Vec<&Edit> = untold
            .iter()
            .filter(|edit| self.glance(edit).is_none())
            .collect();
        let look = |edit: &&Edit| {
            let effect = whole(&bench, std::slice::from_ref(*edit))?;
            let glance = Glance::of(&effect, edit);
            Ok((glance, (under_cursor == Some(*edit)).then_some(effect)))
        };
        let looks = match new.len() < MANY {
            true => new.iter().map(look).collect(),
            false => in_two(&new, look),
        };
        if self.glances.len() + new.len() > untold.len() + SPARE {
            self.glances.retain(|(of, _)| untold.contains(of));
        }
        for (edit, look) in new.into_iter().zip(looks) {
            let glanced = look.map(|(glance, effect)| {
                if let Some(effect) = effect {
                    self.keep(std::slice::from_ref(edit), Ok(Rc::new(effect)));
                }
                Rc::new(glance)
            });
            self.glances.push((edit.clone(), glanced));
        }
        let known = untold.iter().filter_map(|edit| self.glance(edit));
        known.cloned().collect()
    }

    /// Takes what a row tells from the whole effect of its option where that is known: the row that
    /// a key brings into view was mostly looked at ahead, and nobody is to wait for it again.
    fn glance_at_known(&mut self, edit: &Edit) {
        let is_its = |(of, _): &&(Vec<Edit>, Seen)| of == std::slice::from_ref(edit);
        if self.glance(edit).is_none()
            && let Some((_, seen)) = self.effects.iter().find(is_its)
        {
            let glanced = seen
                .clone()
                .map(|effect| Rc::new(Glance::of(&effect, edit)));
            self.glances.push((edit.clone(), glanced));
        }
    }

    fn glance(&self, edit: &Edit) -> Option<&Glanced> {
        let mut known = self.glances.iter();
        known.find(|(of, _)| of == edit).map(|(_, glanced)| glanced)
    }

    fn keep(&mut self, edits: &[Edit], seen: Seen) {
        let too_many = (self.effects.len() + 1).saturating_sub(WHOLE);
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
        let seen = whole(&bench, edits).map(Rc::new);
        self.keep(edits, seen.clone());
        Some(seen)
    }

    /// The edits that lift a finding; none where no choice does.
    pub fn remedy(&mut self, bench: Bench, finding: &Finding) -> Vec<Edit> {
        let ask = || cure(&bench, finding);
        let known = self.remedies.entry(name(finding));
        known.or_insert_with(ask).clone()
    }

    /// What the rule of a finding names against it, and why that is not offered.
    pub fn unfit(&mut self, bench: Bench, finding: &Finding) -> Vec<Unfit> {
        let ask = || unfit(&bench, finding);
        let known = self.unfit.entry(name(finding));
        known.or_insert_with(ask).clone()
    }
}

/// What tells a finding from others of one build.
fn name(finding: &Finding) -> String {
    format!("{} {:?} {:?}", finding.rule, finding.axis, finding.severity)
}

fn whole(bench: &Bench, edits: &[Edit]) -> Result<Effect, String> {
    effect(bench, edits).map_err(|error| error.to_string())
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
    fn what_rows_tell_is_told_of_whole_effects_and_no_more_is_kept_than_is_in_view() {
        let known = known();
        let bench = bench(&known);
        let mut previews = Previews::default();
        for id in ["beam_tube", "drive_x", "motor_x"] {
            let choice = choices::find(id).expect(id);
            let options = choice.options(bench.catalogue).into_iter();
            let edits: Vec<Edit> = options.map(|value| Edit { choice, value }).collect();
            assert!(edits.len() > MANY + SPARE, "{id}");
            // Down through the list by pages and up again, as a reader does.
            let pages: Vec<&[Edit]> = edits.chunks(MANY + 2).collect();
            for page in pages.iter().chain(pages.iter().rev()) {
                let told = previews.glances(bench, page, page.last());
                assert_eq!(told.len(), page.len());
                for (edit, told) in page.iter().zip(told) {
                    let edit = std::slice::from_ref(edit);
                    let effect = Previews::default().effect(bench, edit);
                    let effect = effect.expect("edits").expect("an effect");
                    let alone = Glance::of(&effect, &edit[0]);
                    assert_eq!(format!("{:?}", told.expect("told")), format!("{alone:?}"));
                }
                assert!(previews.glances.len() <= page.len() + SPARE);
                assert!(previews.effects.len() <= WHOLE);
                let cursor = page.last().expect("a row");
                let whole = |(of, _): &(Vec<Edit>, Seen)| of == std::slice::from_ref(cursor);
                assert!(previews.effects.iter().any(whole), "ready for the cursor");
            }
        }
    }

    /// What was looked at ahead is there when its row comes into view: nothing is assessed anew, and
    /// none of the few whole effects is kept twice.
    #[test]
    fn a_row_tells_of_the_effect_that_is_known() {
        let known = known();
        let bench = bench(&known);
        let choice = choices::find("beam_tube").expect("a choice");
        let options = choice.options(bench.catalogue).into_iter();
        let edits: Vec<Edit> = options.map(|value| Edit { choice, value }).collect();
        let mut previews = Previews::default();
        let ahead = std::slice::from_ref(&edits[1]);
        let seen = previews.effect(bench, ahead);
        let seen = seen.expect("edits").expect("an effect");
        let told = previews.glances(bench, &edits[..2], Some(&edits[1]));
        let told: Vec<_> = told.into_iter().map(|one| one.expect("told")).collect();
        let alone = Glance::of(&seen, &edits[1]);
        assert_eq!(told.len(), 2);
        assert_eq!(format!("{:?}", told[1]), format!("{alone:?}"));
        assert_eq!(previews.effects.len(), 1, "the effect is kept once");
        let again = previews.effect(bench, ahead);
        let again = again.expect("edits").expect("an effect");
        assert!(Rc::ptr_eq(&seen, &again), "the same effect");
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
