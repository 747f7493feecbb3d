//! What the answers so far come to in money, while there are more to give: about what the
//! cheapest machine for them costs, whether the money does, and what each answer costs.
//!
//! A quick way down finds it ([`descent`](super::descent)), without the limit of the money, and it
//! gets the remedies that the three builds get at the end ([`super::cures`]): so the sum is
//! one that a build really has, of the same kind as theirs, and the search may find it cheaper.
//! What an answer costs is the difference to the cheapest without it, both without remedies; the
//! way to that goes out from the build with it, so that chance steps do not pass for what an answer
//! costs.

use std::ops::ControlFlow;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::answers::Answers;
use super::lesser::can_give_way;
use super::listed::ownable;
use super::plan::{InterviewError, budget, limit_of_money, second_circuit};
use super::prompts::{
    self, CIRCUITS, EXPERIENCE, HEIGHT, MATERIALS, MONEY, OWNED, PLACE, Prompt, QUIET, SIZE,
};
use super::scout::Scout;
use crate::assessment::assess;
use crate::build::choices::working_area::SecondCircuit;
use crate::build::purchases::Status;
use crate::build::{Build, Choice};
use crate::catalogue::Catalogue;
use crate::explore::find::{FoundBuild, Target};
use crate::money::{Currency, PriceRange};
use crate::order::Order as _;
use crate::words::Words as _;

/// The questions whose answers are told no price: the money itself, and what changes hints only.
const PRICELESS: &[&str] = &[MONEY, EXPERIENCE];

/// The answers that can be in the way of everything, the likeliest first.
const BLOCKING: &[&str] = &[CIRCUITS, QUIET, MATERIALS, PLACE, SIZE, HEIGHT];

/// What one answer costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// The question.
    pub prompt: &'static str,
    /// What its answer costs more than what is usual there; below zero where it saves.
    pub cost: Decimal,
}

/// An answer without which something fits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blocked {
    /// The question.
    pub prompt: &'static str,
    /// What the cheapest costs then that was found.
    pub cost: Decimal,
}

/// What the answers so far come to.
#[derive(Clone, Debug, PartialEq)]
pub struct Outlook {
    /// The cost of the cheapest build that was found, with its remedies; none where none was.
    pub cheapest: Option<PriceRange>,
    /// That build.
    pub build: Option<Build>,
    /// What it costs without its remedies, which are left out as far as the money asks for it.
    pub bare: Option<Decimal>,
    /// The money, in the currency of the cost; none where that was not answered.
    pub money: Option<Decimal>,
    /// In what both are counted.
    pub currency: Currency,
    /// What each answer costs, in the order of the questions.
    pub shares: Vec<Share>,
    /// Where nothing was found: the one answer that is in the way, and about what the cheapest
    /// costs without it.
    pub blocked: Option<Blocked>,
    /// What would be saved by having all that a workshop may have already; none where that was
    /// answered.
    pub owned: Option<Decimal>,
}

impl Outlook {
    /// What is missing; none where the money does, or one of both is not known.
    pub fn missing(&self) -> Option<Decimal> {
        let missing = self.cheapest?.likely - self.money?;
        (missing > Decimal::ZERO).then_some(missing)
    }

    /// Whether there is money, and nothing was found that it buys.
    pub fn falls_short(&self) -> bool {
        self.money.is_some() && (self.cheapest.is_none() || self.missing().is_some())
    }

    /// What an answer costs.
    pub fn share(&self, prompt: &Prompt) -> Option<Decimal> {
        let found = self.shares.iter().find(|one| one.prompt == prompt.id);
        found.map(|one| one.cost)
    }

    /// The answers that cost anything and could be others, the dearest first.
    pub fn dearest(&self) -> Vec<Share> {
        // What is owned costs nothing: a look that says so found less there, no more.
        let asked = self.shares.iter();
        let asked = asked.filter(|one| one.prompt != OWNED && can_give_way(one.prompt));
        let cost = asked.filter(|one| one.cost > Decimal::ONE);
        let mut dearest: Vec<Share> = cost.copied().collect();
        dearest.order_by_key(|one| std::cmp::Reverse(one.cost));
        dearest
    }
}

/// Looks what the answers come to; `of` says whose share is looked for. None where somebody
/// stopped it.
///
/// # Errors
/// As [`plan`](super::plan()).
pub fn outlook(
    catalogue: &Catalogue,
    answers: &Answers,
    free: &[&'static Choice],
    today: Date,
    of: &dyn Fn(&Prompt) -> bool,
    watch: &mut dyn FnMut() -> ControlFlow<()>,
) -> Result<Option<Outlook>, InterviewError> {
    let mut scout = Scout {
        catalogue,
        free,
        today,
        watch,
        stopped: false,
    };
    let mut unlimited = answers.clone();
    unlimited.skip_id(MONEY);
    let plan = scout.plan(&unlimited)?;
    let currency = plan.assessment.bill.currency;
    let found = scout.cheapest(&plan)?;
    if scout.stopped {
        return Ok(None);
    }
    let money = budget(catalogue, &answers.build())?;
    let limit = limit_of_money(money);
    let mended = found.as_ref().map(|best| scout.mended(&plan, &limit, best));
    let mut outlook = Outlook {
        cheapest: mended.as_ref().map(|mended| mended.reading.cost),
        build: mended.map(|mended| mended.build),
        bare: found.as_ref().map(|best| best.reading.cost.likely),
        money,
        currency,
        shares: Vec::new(),
        blocked: None,
        owned: None,
    };
    let Some(best) = found else {
        outlook.blocked = scout.blocked(&unlimited, &limit)?;
        return Ok((!scout.stopped).then_some(outlook));
    };
    if answers.given(OWNED).is_none() {
        outlook.owned = saved_by_owning(catalogue, &best, today);
    }
    for prompt in prompts::all() {
        if unlimited.given(prompt.id).is_none() || PRICELESS.contains(&prompt.id) || !of(prompt) {
            continue;
        }
        let mut without = unlimited.clone();
        without.skip(prompt);
        // Taken back, an answer may make another one follow, and with it another money.
        if without.currency(catalogue) != currency {
            continue;
        }
        let cost = scout.without(&without, prompt, &best)?;
        if scout.stopped {
            return Ok(None);
        }
        outlook.shares.extend(cost.map(|cost| Share {
            prompt: prompt.id,
            cost: best.reading.cost.likely - cost,
        }));
    }
    Ok(Some(outlook))
}

/// What a build costs less where all is there already that a workshop may have.
pub(super) fn saved_by_owning(
    catalogue: &Catalogue,
    best: &FoundBuild,
    today: Date,
) -> Option<Decimal> {
    let mut build = best.build.clone();
    for part in ownable(&best.build, &best.assessment.bill) {
        let purchase = build.purchases.parts.entry(part).or_default();
        purchase.status = Some(Status::HaveIt);
    }
    let after = assess(catalogue, &build, today).ok()?;
    Some(best.reading.cost.likely - after.bill.total.likely)
}

impl Scout<'_, '_> {
    /// The answer without which a quick way down finds something; none where no single one is in
    /// the way, or it was stopped.
    fn blocked(
        &mut self,
        answers: &Answers,
        limit: &Option<Target>,
    ) -> Result<Option<Blocked>, InterviewError> {
        let currency = answers.currency(self.catalogue);
        for prompt in BLOCKING.iter().filter_map(|id| prompts::find(id).ok()) {
            let mut milder = answers.clone();
            if prompt.id == CIRCUITS {
                let plan = self.plan(answers)?;
                let laid = SecondCircuit::Laid.id();
                let given = milder.give(prompt, laid, self.catalogue, &[]);
                if given.is_err() || second_circuit(self.catalogue, &plan.build) {
                    continue;
                }
            } else if milder.given(prompt.id).is_some() {
                milder.skip(prompt);
            } else {
                continue;
            }
            let plan = self.plan(&milder)?;
            let found = self.cheapest(&plan)?;
            if self.go_on().is_break() {
                return Ok(None);
            }
            // Other money cannot be compared.
            if let Some(found) = found.filter(|_| milder.currency(self.catalogue) == currency) {
                return Ok(Some(Blocked {
                    prompt: prompt.id,
                    cost: self.mended(&plan, limit, &found).reading.cost.likely,
                }));
            }
        }
        Ok(None)
    }

    /// The cost of the cheapest build without an answer, looked for from the build with all of
    /// them; none where nothing that fits is found, or it was stopped.
    fn without(
        &mut self,
        answers: &Answers,
        prompt: &'static Prompt,
        best: &FoundBuild,
    ) -> Result<Option<Decimal>, InterviewError> {
        let plan = self.plan(answers)?;
        let usual = answers.build();
        let mut changed = best.build.clone();
        for choice in prompt.choices() {
            choice.put(&mut changed, &(choice.get)(&usual));
        }
        changed.purchases = usual.purchases;
        if prompt.id == QUIET {
            changed
                .extras
                .enclosure
                .clone_from(&plan.build.extras.enclosure);
        }
        let found = self.down(&plan, &changed)?;
        Ok(found.map(|one| one.reading.cost.likely))
    }
}
