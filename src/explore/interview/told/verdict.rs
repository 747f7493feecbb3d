//! Where nothing fits: the verdict in a sentence, then each answer that stands in the way, with
//! what it would have to be and what all comes to then.

use crate::catalogue::Catalogue;
use crate::explore::find::target::cautions;
use crate::explore::find::{FoundBuild, Target, told as search};
use crate::explore::interview::offers::{Level, Offer, Proposal};
use crate::explore::interview::plan::Limit;
use crate::explore::interview::prompts::{self, CIRCUITS, MONEY, OWNED, Prompt};
use crate::explore::reading::Measure;
use crate::explore::told::{self, Labelled};
use crate::money::{Currency, show as amounts};
use crate::rules::Finding;
use crate::units::{self, show};
use crate::words::Words as _;

/// How many of the dangers and faults are told.
const TOLD: usize = 2;

/// The label of the verdict.
const LABEL: &str = "nothing fits";

/// The label of what is in the way.
const WAY: &str = "in the way";

/// An answer that stands in the way.
struct Way {
    /// The question; none where it is what the level asks of its own.
    of: Option<&'static str>,
    /// How far it would have to give way, and what comes of it.
    words: String,
}

/// What a verdict is told of.
struct Case<'a> {
    proposal: &'a Proposal,
    offer: &'a Offer,
    catalogue: &'a Catalogue,
}

/// Which answers are in the way of a build, whether to change one is enough, and each of them.
pub(super) fn verdict(proposal: &Proposal, offer: &Offer, catalogue: &Catalogue) -> Vec<Labelled> {
    let case = Case {
        proposal,
        offer,
        catalogue,
    };
    let alone = case.alone();
    let is_enough = !alone.is_empty();
    let all = if is_enough { alone } else { case.together() };
    if all.is_empty() {
        return case.unknown();
    }
    let names: Vec<String> = all.iter().map(|one| case.named(one.of)).collect();
    let head = match (names.as_slice(), is_enough) {
        ([only], true) => format!("{only} is in the way; all else that you asked can be had."),
        ([only], false) => format!("{only} is in the way."),
        (_, true) => format!(
            "{} are in the way; to change one of them is enough.",
            together(&names)
        ),
        (_, false) => {
            let found = &offer.searched.found;
            let tried = match proposal.stopped || found.was_stopped() {
                true => "whether to change one of them is enough was not tried to the end",
                false => "to change only one of them is not enough",
            };
            format!("{} are in the way; {tried}.", together(&names))
        }
    };
    let mut lines = vec![(LABEL, format!("{head}{}", case.sums()))];
    let has_circuit = all.iter().any(|one| one.of == Some(CIRCUITS));
    let each = all
        .into_iter()
        .map(|one| format!("{}: {}.", case.said(one.of), one.words));
    let fixed = offer.searched.found.fixed.iter();
    // What a second circuit lifts is told with it.
    let fixed = fixed.filter(|_| !has_circuit);
    let fixed = fixed.map(|one| format!("{}: {}", one.severity.title(), one.message));
    let each = each.chain(fixed).enumerate();
    lines.extend(each.map(|(line, words)| (if line == 0 { WAY } else { "" }, words)));
    lines
}

/// The cost of a build that is near: of the nearest with its remedies, as it stands in the table.
fn cost_of(offer: &Offer, answer: &FoundBuild) -> String {
    let money =
        |one: &FoundBuild| amounts::money(one.reading.cost.likely, one.reading.cost.currency);
    let is_nearest = (offer.searched.nearest()).is_some_and(|near| near.build == answer.build);
    match &offer.cured {
        Some(cured) if is_nearest || cured.answer.build == answer.build => {
            format!("{} with its remedies", money(&cured.answer))
        }
        _ => money(answer),
    }
}

/// Names as they stand in a sentence.
fn together(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

impl Case<'_> {
    /// The answers of which each would be enough, were it to give way alone.
    fn alone(&self) -> Vec<Way> {
        let searched = &self.offer.searched;
        let relaxed = searched.found.relaxed.iter().filter_map(|one| {
            let Limit {
                target: was,
                prompt,
            } = searched.wanted.get(one.target)?;
            let words = match was.is_money() {
                true => self.too_little(&one.answer),
                false => {
                    let words = search::relaxed(was, &one.to, self.catalogue, self.currency());
                    let cost = cost_of(self.offer, &one.answer);
                    format!("{words}; then it costs {cost}")
                }
            };
            Some(Way { of: *prompt, words })
        });
        let mut all: Vec<Way> = relaxed.collect();
        for (id, answer) in &searched.without {
            let is_told = all.iter().any(|one| one.of == Some(id));
            let does_else = self.missed(answer).all(|one| one.prompt == Some(*id));
            if !is_told && does_else {
                let words = self.without(id, answer);
                all.push(Way {
                    of: Some(id),
                    words,
                });
            }
        }
        all
    }

    /// The answers that the nearest build does not keep, where none would be enough alone.
    fn together(&self) -> Vec<Way> {
        let (near, answer) = (self.offer.near.as_ref(), self.offer.build());
        let each = near.zip(answer).into_iter().flat_map(|(near, answer)| {
            let each = near.forbid.iter();
            each.map(move |prompt| (*prompt, answer))
        });
        let each = each.map(|(prompt, answer)| Way {
            of: Some(prompt.id),
            words: self.without(prompt.id, answer),
        });
        each.collect()
    }

    /// The limits that a build misses.
    fn missed<'b>(&'b self, answer: &'b FoundBuild) -> impl Iterator<Item = &'b Limit> {
        let wanted = self.offer.searched.wanted.iter();
        wanted.filter(|one| !one.target.is_met(&answer.assessment, &answer.reading))
    }

    /// What a build has where it does not keep an answer.
    fn without(&self, id: &str, answer: &FoundBuild) -> String {
        match id {
            MONEY => self.too_little(answer),
            CIRCUITS => self.one_circuit(answer),
            _ => {
                let missed = self.missed(answer).filter(|one| one.prompt == Some(id));
                let each = missed.map(|one| self.instead(&one.target, answer));
                let each: Vec<String> = each.collect();
                let cost = cost_of(self.offer, answer);
                match each.is_empty() {
                    true => format!("otherwise it costs {cost}"),
                    false => format!("for {cost} it is {}", each.join("; ")),
                }
            }
        }
    }

    /// That the money does not do, and what would.
    fn too_little(&self, answer: &FoundBuild) -> String {
        let mut limits = self.offer.searched.wanted.iter();
        let money = limits.find_map(|one| match one.target {
            Target::Figure(Measure::Cost, most) => Some(most),
            _ => None,
        });
        let few = money.map_or_else(String::new, |most| {
            format!("{} is too little; ", self.amount(most))
        });
        let near = self.offer.near.as_ref();
        let owned = near.and_then(|near| near.owned).and_then(|saved| {
            let short = prompts::find(OWNED).ok()?.short;
            let built = self.offer.build()?;
            let cost = amounts::money(built.reading.cost.likely - saved, self.currency());
            Some(format!(
                ", or {cost} with all that is asked under \"{short}\" in hand"
            ))
        });
        let cost = cost_of(self.offer, answer);
        format!(
            "{few}what you asked for costs {cost}{}",
            owned.unwrap_or_default()
        )
    }

    /// That one circuit does not carry it, and what a second one takes.
    fn one_circuit(&self, answer: &FoundBuild) -> String {
        let near = self.offer.near.as_ref();
        let stands = near.iter().flat_map(|near| near.stands.iter()).take(TOLD);
        let stands: Vec<&str> = stands.map(|one| one.message.as_str()).collect();
        let stands = match stands.is_empty() {
            true => String::new(),
            false => format!(" ({})", stands.join("; ")),
        };
        let laid = near.and_then(|near| near.circuit).map_or_else(
            || "a second one, laid by a licensed electrician, is needed".to_owned(),
            |circuit| {
                let circuit = amounts::money(circuit, self.currency());
                format!("to have a second one laid by a licensed electrician costs about {circuit}, and what protects and connects it comes on top")
            },
        );
        let cost = cost_of(self.offer, answer);
        format!("one circuit does not carry it{stands}; {laid}: all together {cost}")
    }

    /// The two sums to choose between, where no answer buys it for the money.
    fn sums(&self) -> String {
        let dear = self.proposal.lesser.iter().filter(|one| !one.fits());
        let least = dear.min_by_key(|one| one.answer.reading.cost.likely);
        let near = self.offer.build();
        least.zip(near).map_or_else(String::new, |(least, near)| {
            let money =
                |answer: &FoundBuild| amounts::money(answer.reading.cost.likely, self.currency());
            let gives = least.gives.iter();
            let gives: Vec<String> = gives.map(|prompt| self.named(Some(prompt.id))).collect();
            format!(
                " All that you asked for costs {}; the least that was tried, which gives up part \
                 of your answers on {}, costs {}.",
                money(near),
                together(&gives),
                money(&least.answer)
            )
        })
    }

    /// That no single answer is in the way, as far as it was looked, and what was asked.
    fn unknown(&self) -> Vec<Labelled> {
        let found = &self.offer.searched.found;
        let fixed = found.fixed.iter();
        let fixed = fixed.map(|one| format!("{}: {}", one.severity.title(), one.message));
        let fixed: Vec<String> = fixed.collect();
        if !fixed.is_empty() || found.was_stopped() {
            return fixed.into_iter().map(|words| (WAY, words)).collect();
        }
        let each = self.offer.searched.wanted.iter();
        let each = each.map(|one| search::wanted(&one.target, self.catalogue, self.currency()));
        let each: Vec<String> = each.collect();
        let known = match found.is_proven() {
            true => "nothing fits",
            false => "the search found nothing in its time",
        };
        let words = format!(
            "no single answer: also with any one of them given up {known}. Asked is: {}",
            each.join("; ")
        );
        let mut lines = vec![(WAY, words)];
        let stands = self.proposal.plan.assessment.grave();
        let stands: Vec<Finding> = stands.cloned().collect();
        if !stands.is_empty() {
            let words = told::warned(&stands).join("; ");
            lines.push(("", format!("on the usual build stand: {words}")));
        }
        lines
    }

    /// What a build has instead of a limit that it misses.
    fn instead(&self, target: &Target, answer: &FoundBuild) -> String {
        let wanted = search::wanted(target, self.catalogue, self.currency());
        let machine = &answer.assessment.machine;
        let mm = |length| show::number(units::mm::from(length), 0);
        let has = match target {
            Target::Cuts(material, _) => machine.cutting.verdict(material).title().to_owned(),
            Target::Width(_) => format!("{} mm", mm(machine.geometry.footprint.x)),
            Target::Depth(_) => format!("{} mm", mm(machine.geometry.footprint.y)),
            Target::Figure(Measure::Cost, _) => {
                amounts::money(answer.reading.cost.likely, self.currency())
            }
            Target::Figure(measure, _) => {
                let value = answer.reading.value(*measure);
                value.map_or_else(
                    || "nothing".to_owned(),
                    |value| {
                        let number = show::number(value.number, value.digits);
                        format!("{number} {}", value.unit)
                    },
                )
            }
            Target::Rapids(axis, _) => {
                let value = answer.reading.rapid(*axis);
                let number = show::number(value.number, value.digits);
                format!("{number} {}", value.unit)
            }
            Target::Cautions(_) => match cautions(&answer.reading) {
                1 => "1 caution".to_owned(),
                many => format!("{many} cautions"),
            },
            Target::Has(_) => "not on the bill".to_owned(),
            Target::Without(_) => "on the bill".to_owned(),
        };
        format!("{has} instead of {wanted}")
    }

    /// Whose limit it is.
    fn said(&self, of: Option<&str>) -> String {
        match known(of) {
            Some(prompt) => format!("your answer on \"{}\"", prompt.short),
            None => self.named(of),
        }
    }

    /// The question, named in a sentence.
    fn named(&self, of: Option<&str>) -> String {
        match known(of) {
            Some(prompt) => format!("\"{}\"", prompt.short),
            None => {
                let level: Level = self.offer.level;
                format!("what makes it {}", level.title())
            }
        }
    }

    fn amount(&self, amount: f64) -> String {
        search::amount(Measure::Cost, amount, self.currency())
    }

    fn currency(&self) -> Currency {
        self.proposal.plan.assessment.bill.currency
    }
}

/// The question of an answer.
fn known(of: Option<&str>) -> Option<&'static Prompt> {
    prompts::all().iter().find(|one| Some(one.id) == of)
}
