//! What a search wants and comes to, in words: command and screen tell it alike.

use super::{Because, Found, Request, Target, frame, usual};
use crate::build::{Build, Choice, Edit};
use crate::catalogue::Catalogue;
use crate::explore::reading::{Measure, Reading};
use crate::explore::told;
use crate::money::{Currency, show as amounts};
use crate::order::Order as _;
use crate::units::{self, show};
use crate::words::Words as _;

/// From so many on, a count is told by its size alone.
const GROUPED: u128 = 1_000_000_000_000_000;

/// Shares below this, in hundredths, are told as less than it.
const LEAST_SHARE: f64 = 0.1;

/// What is wanted, in words: `rapids of at least 8 m/min`.
pub fn wanted(target: &Target, catalogue: &Catalogue, currency: Currency) -> String {
    let part = |id: &str| match catalogue.part(id) {
        Some((_, part)) => part.title().to_owned(),
        None => id.to_owned(),
    };
    match target {
        Target::Figure(measure, bound) => {
            let way = match measure.more_is_better() {
                true => "at least",
                false => "at most",
            };
            format!(
                "{} of {way} {}",
                measure.title(),
                amount(*measure, *bound, currency)
            )
        }
        Target::Rapids(axis, least) => format!(
            "{} rapids of at least {}",
            axis.title(),
            amount(Measure::Rapids, *least, currency)
        ),
        Target::Cuts(material, verdict) => {
            let material = catalogue.materials.get(material);
            let name = material.map_or("the material", |known| known.title.as_str());
            format!("cuts at least {}: {name}", verdict.title())
        }
        Target::Width(most) => format!("no wider than {} mm", show::typed(units::mm::from(*most))),
        Target::Depth(most) => format!("no deeper than {} mm", show::typed(units::mm::from(*most))),
        Target::Cautions(0) => "no caution".to_owned(),
        Target::Cautions(1) => "at most 1 caution".to_owned(),
        Target::Cautions(most) => format!("at most {most} cautions"),
        Target::Has(id) => format!("with: {}", part(id.as_str())),
        Target::Without(id) => format!("without: {}", part(id.as_str())),
    }
}

/// A bound with its unit, as it was typed.
pub fn amount(measure: Measure, bound: f64, currency: Currency) -> String {
    match measure {
        Measure::Cost => format!("{} {currency}", show::typed(bound)),
        _ => format!("{} {}", show::typed(bound), measure.unit()),
    }
}

/// All that is wanted, in one sentence.
pub fn all_wanted(request: &Request, catalogue: &Catalogue, currency: Currency) -> String {
    let each = request.targets.iter();
    let mut words: Vec<String> = each
        .map(|target| wanted(target, catalogue, currency))
        .collect();
    words.push("no danger, and no fault that is not accepted".to_owned());
    words.join("; ")
}

/// What was looked for.
pub fn sought(request: &Request) -> String {
    match request.against {
        None => "The cheapest build.".to_owned(),
        Some(measure) => format!(
            "Every build that no other one beats: whatever is cheaper is worse in {}.",
            measure.title()
        ),
    }
}

/// A count, however large: `12 345`, or `about 3.2 x 10^21`. Beyond `u128::MAX` nothing is
/// counted, so that this one means more than itself.
pub fn count(many: u128) -> String {
    if many < GROUPED {
        return show::grouped(&many.to_string());
    }
    let text = many.to_string();
    // The digits are shown as they stand: rounding up could ask for one digit more.
    let (first, rest) = text.split_at(1);
    let second = rest.get(..1).unwrap_or("0");
    let how = match many {
        u128::MAX => "more than",
        _ => "about",
    };
    format!("{how} {first}.{second} x 10^{}", rest.len())
}

/// A part of all as hundredths; all only where nothing is left, nothing only where nothing is. Of
/// more than can be counted a share is told only where it is next to nothing.
pub fn share(part: u128, all: u128) -> String {
    let is_counted = all < u128::MAX;
    if all == 0 || is_counted && part >= all {
        return "100 %".to_owned();
    }
    if part == 0 {
        return "0 %".to_owned();
    }
    let hundredths = part as f64 / all as f64 * 100.0;
    match hundredths {
        few if few < LEAST_SHARE => format!("less than {LEAST_SHARE} %"),
        _ if !is_counted => "some".to_owned(),
        most if most > 100.0 - LEAST_SHARE => format!("more than {} %", 100.0 - LEAST_SHARE),
        _ => format!("{} %", show::number(hundredths, 1)),
    }
}

/// Why combinations needed no look.
pub fn because(
    why: &Because,
    request: &Request,
    catalogue: &Catalogue,
    currency: Currency,
) -> String {
    match why {
        Because::Dearer => "cost no less than what was found".to_owned(),
        Because::Rule(id) => {
            format!("bring the warning: {}", id.title())
        }
        Because::Target(place) => {
            let target = request.targets.get(*place);
            let words = target.map(|target| wanted(target, catalogue, currency));
            format!("miss: {}", words.unwrap_or_default())
        }
        Because::Follows => "leave nothing that fits for a choice made later".to_owned(),
        Because::NoBetter => {
            let figure = request
                .against
                .map_or("the figure", |measure| measure.title());
            format!("are no better in {figure} for their money")
        }
    }
}

/// Why combinations needed no look, the most frequent reasons first: the share of each, and it
/// in words. Where there are more than so many, the last one is all others together.
pub fn reasons(
    found: &Found,
    request: &Request,
    catalogue: &Catalogue,
    currency: Currency,
    most: usize,
) -> Vec<(String, String)> {
    let some = found.excluded.iter().filter(|(_, many)| *many > 0);
    let mut some: Vec<&(Because, u128)> = some.collect();
    some.order_by_key(|(_, many)| std::cmp::Reverse(*many));
    // A front is looked for in several passes: each settles all combinations anew.
    let all = covered(found).max(found.space.combinations());
    let line = |words: &str, many: u128| {
        let counted = format!("{words} ({})", count(many));
        (share(many, all), counted)
    };
    // One reason takes no more room than "one other reason".
    let shown = match some.len() > most.max(1) {
        true => most.max(1) - 1,
        false => some.len(),
    };
    let each = some.iter().take(shown);
    let mut lines: Vec<_> = each
        .map(|(why, many)| line(&because(why, request, catalogue, currency), *many))
        .collect();
    if let Some(rest) = some.get(shown..).filter(|rest| !rest.is_empty()) {
        let many = rest.iter().map(|(_, many)| *many);
        let many = many.fold(0, u128::saturating_add);
        lines.push(line(
            &format!("are out for {} other reasons", rest.len()),
            many,
        ));
    }
    lines
}

/// How many combinations were met or excluded, over all passes.
pub fn covered(found: &Found) -> u128 {
    let excluded = found.excluded.iter().map(|(_, many)| *many);
    excluded.fold(found.leaves, u128::saturating_add)
}

/// What is said where nothing was found before all was settled: then no target is known to be in
/// the way.
pub const TOO_EARLY: &str =
    "It ended too early to say whether anything fits, or what is in the way.";

/// How the search went, in one sentence or two.
pub fn how(found: &Found) -> String {
    let choices = match found.space.free.len() {
        1 => "1 free choice".to_owned(),
        many => format!("{many} free choices"),
    };
    let all = found.space.combinations();
    let mut words = format!("{choices} with {}", plural(all, "combination"));
    match all.checked_sub(found.leaves) {
        Some(0) => words.push_str(", every one of them assessed."),
        // What is assessed to learn from it may be excluded by that: the two are no parts of one
        // sum.
        _ => {
            let excluded: u128 = covered(found).saturating_sub(found.leaves);
            let passes = match found.searches {
                0 | 1 => String::new(),
                many => format!(", in {many} searches"),
            };
            words.push_str(&format!(
                "{passes}: {} met and assessed, {} excluded many at once. Assessed in all, also to learn from: {}.",
                count(found.leaves),
                count(excluded),
                plural(u128::from(found.assessed), "build"),
            ));
        }
    }
    if found.cancelled {
        words.push_str(&format!(
            " Stopped before the end, with {}.",
            settled(found)
        ));
    } else if found.gave_up {
        words.push_str(&format!(
            " Given up there, with {}: something better may exist.",
            settled(found)
        ));
    } else if found.eased_in_part {
        words.push_str(" Stopped before all targets were asked whether they stand in the way.");
    }
    words
}

/// How far a search had come that ended early. A front is looked for build by build, and each of
/// these searches settles all combinations anew.
fn settled(found: &Found) -> String {
    let all = found.space.combinations();
    let before = found.searches.saturating_sub(1);
    let last = match all {
        // What is more than can be counted cannot be told apart by searches.
        u128::MAX => covered(found),
        _ => covered(found).saturating_sub(all.saturating_mul(u128::from(before))),
    };
    let share = share(last, all);
    match before {
        0 => format!("{share} settled"),
        _ => format!("{share} of the search for build {} settled", found.searches),
    }
}

/// The choices of the frame that a search keeps as they are, where nobody said what is free; else
/// none: whoever says so knows.
pub fn frame_kept(free: &[&'static Choice], catalogue: &Catalogue) -> Vec<&'static Choice> {
    let usual = usual(catalogue);
    let is_usual = |choice: &&Choice| usual.iter().any(|one| one.id == choice.id);
    let nobody_said = free.is_empty() || free.len() == usual.len() && free.iter().all(is_usual);
    match nobody_said {
        true => frame(catalogue),
        false => Vec::new(),
    }
}

fn plural(many: u128, word: &str) -> String {
    match many {
        1 => format!("1 {word}"),
        _ => format!("{} {word}s", count(many)),
    }
}

/// What is found, by how many builds and whether it is proven.
pub fn headline(found: &Found, request: &Request) -> String {
    match (found.answers.len(), !found.is_proven(), request.against) {
        (0, true, _) if found.gave_up => "Nothing was found before it gave up".to_owned(),
        (0, true, _) => "Nothing was found before it was stopped".to_owned(),
        (0, false, _) => "Nothing fits".to_owned(),
        (_, true, None) => "The cheapest so far, not proven to be the cheapest of all".to_owned(),
        (_, false, None) => "The cheapest build that does it".to_owned(),
        (many, true, Some(_)) => {
            format!("{many} of the best trades so far, not proven to be all or the best")
        }
        (many, _, Some(measure)) => {
            let builds = plural(many as u128, "build");
            format!("Cost against {}: {builds}", measure.title())
        }
    }
}

/// What an answer changes, choice by choice: what it is and what it becomes.
pub fn changes(
    catalogue: &Catalogue,
    build: &Build,
    edits: &[Edit],
) -> Vec<(&'static str, String)> {
    let each = told::changed(catalogue, build, edits).into_iter();
    each.map(|(title, was, is)| (title, format!("{was} -> {is}")))
        .collect()
}

/// The figures of a machine, the range of its cost among them.
pub fn figures(reading: &Reading) -> Vec<told::Labelled> {
    let mut told = told::figures(reading);
    told.insert(1, ("cost range", amounts::range(reading.cost)));
    told
}

/// How a target gives way: what was wanted, and how far it can be met with all others kept.
pub fn relaxed(was: &Target, to: &Target, catalogue: &Catalogue, currency: Currency) -> String {
    let (was, to) = (
        wanted(was, catalogue, currency),
        wanted(to, catalogue, currency),
    );
    match was == to {
        true => format!("give up: {was}"),
        false => format!("instead of {was}: {to}"),
    }
}
