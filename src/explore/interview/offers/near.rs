//! Where nothing fits: which answers the nearest build does not keep, what stands in the way with
//! them as they are, and what else its cost hangs on.

use rust_decimal::Decimal;

use super::super::cures::Ward;
use super::super::outlook::saved_by_owning;
use super::super::plan;
use super::super::prompts::{self, Prompt};
use super::Searched;
use crate::assessment::{Assessment, assess};
use crate::build::Edit;
use crate::explore::find::FoundBuild;
use crate::explore::question::drop;
use crate::explore::reading::Reading;
use crate::explore::trial::Bench;
use crate::rules::Finding;

/// How many savings are told.
const SAVINGS: usize = 3;

/// What is to be known of the nearest build.
#[derive(Clone, Debug, Default)]
pub struct Near {
    /// The questions whose answers it does not keep, in their order.
    pub forbid: Vec<&'static Prompt>,
    /// Those of them that it answers in its own way, such as by a second circuit that is laid.
    pub changed: Vec<&'static Prompt>,
    /// The dangers and faults that it has with all answers as they are.
    pub stands: Vec<Finding>,
    /// What the circuit costs that is laid for it; none where none is.
    pub circuit: Option<Decimal>,
    /// What it would cost less with all in hand that a workshop may have; none where that is
    /// nothing.
    pub owned: Option<Decimal>,
    /// Where the money does not do: single changes that save some of it, bring no new warning and
    /// leave all answers as they are, with what each saves by itself. What loses least for it
    /// stands first.
    pub savings: Vec<(Edit, Decimal)>,
}

/// Looks what keeps the nearest build from being one that fits; [`savings`] are looked for apart.
pub(super) fn near(ward: &Ward, searched: &Searched, answer: &FoundBuild) -> Near {
    let Ward {
        catalogue,
        today,
        plan,
        ..
    } = *ward;
    let missed = |prompt: &Prompt| {
        searched.wanted.iter().any(|one| {
            one.prompt == Some(prompt.id) && !one.target.is_met(&answer.assessment, &answer.reading)
        })
    };
    let changed = |prompt: &Prompt| {
        let edits = plan.answers.edits_of_prompt(prompt).iter();
        let mut edits = edits.filter(|edit| edit.choice.id != "budget");
        edits.any(|edit| (edit.choice.get)(&answer.build) != edit.value)
    };
    let laid = |prompt: &Prompt| {
        let found = &searched.found.relaxed;
        let first = searched.without.first().filter(|_| found.is_empty());
        prompt.id == prompts::CIRCUITS && first.is_some_and(|(id, _)| *id == prompt.id)
    };
    let forbid = prompts::all().iter();
    let forbid = forbid.filter(|one| missed(one) || changed(one) || laid(one));
    let own = prompts::all().iter();
    let own = own.filter(|one| changed(one) || laid(one));
    let mut kept = answer.build.clone();
    plan.answers.edits().for_each(|edit| edit.apply(&mut kept));
    kept.area.second_circuit = plan.build.area.second_circuit;
    plan::hang_on_what_is_there(catalogue, &mut kept);
    let stands = assess(catalogue, &kept, today)
        .map_or_else(|_| Vec::new(), |kept| kept.grave().cloned().collect());
    let bill = &answer.assessment.bill;
    let asked = bill.ordering.stages.iter().filter(|stage| stage.asks());
    let lines = asked.flat_map(|stage| &stage.lines);
    let circuit: Decimal = lines
        .filter_map(|&place| bill.lines.get(place))
        .map(|line| line.total.likely)
        .sum();
    let saved = saved_by_owning(catalogue, answer, today);
    Near {
        forbid: forbid.collect(),
        changed: own.collect(),
        stands,
        circuit: (circuit > Decimal::ZERO).then_some(circuit),
        owned: saved.filter(|saved| *saved > Decimal::ONE),
        savings: Vec::new(),
    }
}

/// What saves money on a build without a new warning. What the search goes over it has seen; these
/// are mostly changes of what it keeps, such as the frame.
pub(super) fn savings(ward: &Ward, answer: &FoundBuild) -> Vec<(Edit, Decimal)> {
    let bench = Bench {
        catalogue: ward.catalogue,
        build: &answer.build,
        before: &answer.assessment,
        today: ward.today,
    };
    let may = |edit: &Edit| ward.may(&answer.build, std::slice::from_ref(edit), None);
    let keeps = |after: &Assessment| ward.keeps(answer, (after, &Reading::of(after)));
    let mut savings = drop::harmless(&bench, &may, &keeps);
    savings.truncate(SAVINGS);
    savings
}
