//! What an interview comes to, in words: command and screen tell it alike.

mod left;
mod money;
mod verdict;

use super::answers::Answers;
use super::lesser::Lesser;
use super::offers::{Alike, Level, Offer, Proposal};
use super::plan::budget;
use super::prompts::{self, Prompt};
use crate::assessment::FigureValue;
use crate::build::{Axis, Edit, edit};
use crate::catalogue::Catalogue;
use crate::explore::find::target::cautions;
use crate::explore::find::{FoundBuild, Target, told as search};
use crate::explore::reading::Measure;
use crate::explore::told::{self, Labelled};
use crate::money::show as amounts;
use crate::units::{self, show};
use crate::words::Words as _;
pub use left::assumed;
use left::warned;
pub use money::{all_lesser, gives_way, missing, name, outlook, share};
use verdict::verdict;

/// How many of the softest parts of a direction are named.
const SOFTEST: usize = 3;

/// What stands below the builds.
pub const CAUTION: &str = "Prices are likely ones, not offers, and figures come from simplified \
    models. Mains wiring is for a licensed electrician; local codes come first. Each answer can be \
    changed later: it is a choice of the five steps.";

/// Every question with its answer, and whether that was given or is what is usual.
pub fn answers(answers: &Answers, catalogue: &Catalogue) -> Vec<(&'static Prompt, String, bool)> {
    let each = prompts::all().iter().map(|prompt| {
        let given = answers.given(prompt.id).is_some();
        (prompt, answers.shown(prompt, catalogue), given)
    });
    each.collect()
}

/// What was changed besides the answers, so that things fit.
pub fn along(proposal: &Proposal, catalogue: &Catalogue) -> Vec<String> {
    told::edits(catalogue, &proposal.plan.along)
}

/// Everything about one of the builds, in words: why this one, what it costs and does, what it
/// gives up against the others, what is left to warn of.
pub fn offer(
    proposal: &Proposal,
    offer: &Offer,
    answers: &Answers,
    catalogue: &Catalogue,
) -> Vec<Labelled> {
    let Some(answer) = offer.build() else {
        return nothing(proposal, offer, catalogue);
    };
    let mut lines = Vec::new();
    if offer.searched.answer().is_none() {
        lines.extend(verdict(proposal, offer, catalogue));
        lines.extend(buys(proposal, answers, catalogue));
        lines.extend(left::savings(
            offer,
            answer.reading.cost.currency,
            catalogue,
        ));
    }
    lines.push(("why", why(proposal, offer)));
    let alike = proposal.alike();
    let own = alike.iter().find(|one| one.level == offer.level);
    lines.extend(own.map(|one| ("alike", coincides(one, answer))));
    lines.push(("costs", costs(answer, answers, catalogue)));
    lines.push(("cautions", left::cautions(offer, answer)));
    lines.extend(left::cures(offer, answer.reading.cost.currency, catalogue));
    if proposal.stopped && cautions(&answer.reading) > 0 {
        lines.push(("remedies", STOPPED.to_owned()));
    }
    let assumed = assumed(answers, catalogue);
    if !assumed.is_empty() {
        lines.push(("assumed", assumed));
    }
    lines.extend(cuts(answer, catalogue));
    lines.extend(binds(answer));
    for other in proposal
        .offers
        .iter()
        .filter(|one| one.level != offer.level)
    {
        // There is nothing to tell of a build against itself.
        let than = other.build();
        if let Some(than) =
            than.filter(|than| !edit::difference(&than.build, &answer.build).is_empty())
        {
            lines.push((against(other.level), differs(than, answer)));
        }
    }
    lines.extend(parts(proposal, offer, answer, catalogue));
    let left = warned(&answer.assessment.findings);
    lines.push(("warnings", left));
    lines.push(("searched", searched(proposal, offer)));
    lines
}

/// Of a search that was stopped.
const STOPPED: &str = "nothing: remedies are looked for last, and it was stopped before.";

/// Of what is nearest where the money does not do.
const FRAMES: &str = "With money enough stiffer frames are tried as well, and what is found then \
    may cost a little less.";

/// What the money buys where it does not buy all that was asked.
fn buys(proposal: &Proposal, answers: &Answers, catalogue: &Catalogue) -> Vec<Labelled> {
    let lines = money::all_lesser(&proposal.lesser, answers, catalogue);
    let lines = lines.into_iter().enumerate();
    let label = |line| if line == 0 { "money buys" } else { "" };
    lines.map(|(line, words)| (label(line), words)).collect()
}

/// Everything about a build for which answers give way, in words.
pub fn lesser(
    proposal: &Proposal,
    lesser: &Lesser,
    answers: &Answers,
    catalogue: &Catalogue,
) -> Vec<Labelled> {
    let gives = money::gives(lesser, answers, catalogue);
    let answer = &lesser.answer;
    let mut lines = vec![
        ("gives way", gives.join("; ")),
        ("why", money::HONEST.to_owned()),
        ("costs", costs(answer, answers, catalogue)),
    ];
    lines.extend(cuts(answer, catalogue));
    lines.extend(binds(answer));
    if let Some(asked) = proposal.offers.first().and_then(Offer::build) {
        lines.push((NEAREST, differs(asked, answer)));
    }
    lines.push(("warnings", warned(&answer.assessment.findings)));
    lines
}

/// The label under which a lesser build is told against the nearest that does more.
const NEAREST: &str = "than nearest";

/// How it was found, and out of how many.
fn searched(proposal: &Proposal, offer: &Offer) -> String {
    let all = search::count(u128::from(proposal.assessed));
    let how = search::how(&offer.searched.found);
    format!("{how} All searches together assessed {all} builds.")
}

/// Why this one: what it is the cheapest of, and whether that is proven.
fn why(proposal: &Proposal, offer: &Offer) -> String {
    if offer.searched.answer().is_none() {
        let text = "Nothing does all that you asked. This is the nearest that was found.";
        let stiffer = match offer.searched.lacks_money() {
            true => format!(" {FRAMES}"),
            false => String::new(),
        };
        return text.to_owned() + &stiffer;
    }
    let mut words = offer.level.word().plain.to_owned();
    let of_level = offer.searched.wanted.iter();
    let mut of_level = of_level.filter(|one| one.prompt.is_none());
    let least = of_level.find_map(|one| match one.target {
        Target::Figure(Measure::Stiffness, least) => Some(least),
        _ => None,
    });
    if let Some(least) = least {
        let least = show::number(least, 2);
        words.push_str(&format!(
            " Asked was {least} N/µm at least.{}",
            stiffer(proposal, offer)
        ));
    } else if proposal.offers.len() == 1 && !proposal.stopped {
        words.push_str(" Nothing that is stiffer was found within your limits.");
    }
    if !offer.searched.found.is_proven() {
        words.push_str(" Not all was gone through: something cheaper may exist.");
    }
    words
}

/// How stiff it came out against the thrifty one; nothing for that one itself.
fn stiffer(proposal: &Proposal, offer: &Offer) -> String {
    let of = |offer: &Offer| offer.build()?.reading.value(Measure::Stiffness);
    let thrifty = proposal.offer(Level::Thrifty).and_then(of);
    let both = thrifty.filter(|_| offer.level != Level::Thrifty);
    both.zip(of(offer)).map_or_else(String::new, |(than, is)| {
        let more = show::number((is.number / than.number - 1.0) * 100.0, 0);
        let stiffer = is.number > than.number;
        let [is, than] = [is, than].map(|one| show::number(one.number, 2));
        match stiffer {
            true => format!(" It has {is} N/µm, {more} % more than the thrifty one."),
            false => format!(
                " It has {is} N/µm. With its remedies the thrifty one came out as stiff: {than} N/µm."
            ),
        }
    })
}

/// That a build is as good as one before it.
fn coincides(alike: &Alike, answer: &FoundBuild) -> String {
    let to = alike.to.title();
    if alike.is_same {
        return format!("This is the {to} build again: there is nothing to choose between them.");
    }
    let apart = amounts::money(alike.more.abs(), answer.reading.cost.currency);
    let way = match alike.more.is_sign_negative() {
        true => format!("{apart} less"),
        false => format!("{apart} more"),
    };
    format!(
        "It costs as good as the same as the {to} build: {way}, under 1 %, which is less than \
         prices are certain. Choose by what it does."
    )
}

/// The cost with its range, and what is left of the budget, in whatever money that was named.
fn costs(answer: &FoundBuild, answers: &Answers, catalogue: &Catalogue) -> String {
    let cost = answer.reading.cost;
    let likely = amounts::money(cost.likely, cost.currency);
    let mut words = format!(
        "{likely} likely, from least to most {}",
        amounts::range(cost)
    );
    if let Ok(Some(budget)) = budget(catalogue, &answers.build()) {
        let left = budget - cost.likely;
        let amount = amounts::money(left.abs(), cost.currency);
        match left.is_sign_negative() {
            true => words.push_str(&format!("; {amount} more than your budget")),
            false => words.push_str(&format!("; {amount} of your budget are left")),
        }
    }
    words
}

/// How it cuts what is wanted.
fn cuts(answer: &FoundBuild, catalogue: &Catalogue) -> Vec<Labelled> {
    let cutting = &answer.assessment.machine.cutting;
    let wanted = answer.build.area.materials.iter();
    let known = wanted.filter_map(|id| catalogue.materials.get(id));
    let mut lines = Vec::new();
    for (place, material) in known.enumerate() {
        let label = if place == 0 { "cuts" } else { "" };
        let (id, title) = (&material.id, &material.title);
        let words = match (cutting.outlook(id), cutting.best(id)) {
            (Some(slot), Some(best)) => {
                let removal = units::cm3_per_min::from(best.removal);
                let digits = if removal < 100.0 { 1 } else { 0 };
                format!(
                    "{title}: {}, up to {} cm³/min; what holds it back: {}",
                    slot.verdict.title(),
                    show::number(removal, digits),
                    best.limited_by.title()
                )
            }
            (Some(slot), None) => format!("{title}: {}", slot.verdict.title()),
            (None, _) => format!("{title}: the spindle takes no tool"),
        };
        lines.push((label, words));
    }
    lines
}

/// What binds: the rapids of each axis, where the machine gives most, and what the circuits carry.
fn binds(answer: &FoundBuild) -> Vec<Labelled> {
    let reading = &answer.reading;
    let each = Axis::EACH.map(|axis| {
        let (speed, by) = reading.rapids[axis];
        let speed = show::number(units::m_per_min::from(speed), 1);
        format!("{} {speed} m/min by {}", axis.title(), by.title())
    });
    let softest = reading.softest();
    let springs = answer.assessment.machine.stiffness.springs[softest].iter();
    let gives = springs.take(SOFTEST).map(|spring| {
        let share = show::number(units::percent::from(spring.share), 0);
        format!("{} {share} %", spring.name.title())
    });
    let tip = show::number(units::n_per_um::from(reading.tip[softest]), 2);
    let gives = gives.collect::<Vec<_>>().join(", ");
    let stiffness = format!(
        "{tip} N/µm at the tip along {}, its softest way; what gives: {gives}",
        softest.title()
    );
    vec![
        ("rapids", each.join("; ")),
        ("stiffness", stiffness),
        ("circuits", told::circuits(&answer.assessment)),
    ]
}

/// The label under which one build is told against another.
fn against(level: Level) -> &'static str {
    match level {
        Level::Thrifty => "than thrifty",
        Level::Balanced => "than balanced",
        Level::Stiff => "than stiff",
    }
}

/// What one build gains and gives up against another.
fn differs(than: &FoundBuild, answer: &FoundBuild) -> String {
    let price = answer.reading.cost.likely - than.reading.cost.likely;
    let mut words = told::price(price, answer.reading.cost.currency);
    let (mut gains, mut losses) = (Vec::new(), Vec::new());
    let figures = Measure::ALL.iter().filter(|one| **one != Measure::Cost);
    for &measure in figures {
        let both = than
            .reading
            .value(measure)
            .zip(answer.reading.value(measure));
        let Some((was, is)) = both else { continue };
        let number = |value: &FigureValue| show::number(value.number, value.digits);
        if number(&was) == number(&is) {
            continue;
        }
        let (was_text, is_text) = (number(&was), number(&is));
        let text = format!("{} {was_text} -> {is_text} {}", measure.title(), is.unit);
        let better = (is.number > was.number) == (is.more_is_better != Some(false));
        match better {
            true => gains.push(text),
            false => losses.push(text),
        }
    }
    for (verb, list) in [("gains", gains), ("gives up", losses)] {
        if !list.is_empty() {
            words.push_str(&format!("; {verb}: {}", list.join(", ")));
        }
    }
    words
}

/// What it is made of that the thrifty one is not; of the thrifty one, what the search chose
/// other than usual.
fn parts(
    proposal: &Proposal,
    offer: &Offer,
    answer: &FoundBuild,
    catalogue: &Catalogue,
) -> Vec<Labelled> {
    let thrifty = proposal.offer(Level::Thrifty).and_then(Offer::build);
    let mended = |edit: &Edit| {
        let cures = offer.cured.iter().flat_map(|cured| &cured.cures);
        cures.flat_map(|cure| &cure.edits).any(|one| one == edit)
    };
    let (label, from) = match (offer.level, thrifty) {
        (Level::Thrifty, _) | (_, None) => ("chosen", &proposal.plan.build),
        (_, Some(thrifty)) => ("other parts", &thrifty.build),
    };
    // What was mended is told by itself.
    let mut edits = edit::difference(from, &answer.build);
    edits.retain(|edit| !mended(edit));
    let words = told::edits(catalogue, &edits).join("; ");
    match words.is_empty() {
        true => Vec::new(),
        false => vec![(label, words)],
    }
}

/// Where nothing fits and nothing is near: why.
fn nothing(proposal: &Proposal, offer: &Offer, catalogue: &Catalogue) -> Vec<Labelled> {
    let found = &offer.searched.found;
    let mut lines = match (found.cancelled, found.gave_up) {
        (true, _) => vec![(
            "stopped",
            "nothing was found before it was stopped".to_owned(),
        )],
        (false, true) => vec![("nothing found", search::how(found))],
        (false, false) => vec![("nothing fits", search::how(found))],
    };
    lines.extend(verdict(proposal, offer, catalogue));
    lines.extend(buys(proposal, &proposal.plan.answers, catalogue));
    lines
}
