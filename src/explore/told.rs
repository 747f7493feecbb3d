//! What a changed build comes to, in words: command and screen tell it alike.

use rust_decimal::Decimal;

use super::effect::missing_in;
use super::question::Alone;
use super::reading::{Measure, Reading};
use super::trial::Bench;
use crate::assessment::Assessment;
use crate::build::{Axis, Build, Edit, Kind, Value};
use crate::catalogue::{Catalogue, Id};
use crate::money::{Currency, show as amounts};
use crate::order::Order as _;
use crate::rules::{Finding, topics};
use crate::units::{self, show};
use crate::words::Words as _;

mod circuits;
mod losses;
mod money;

pub use circuits::circuits;
pub use losses::{gains, losses, moves, worse_axes};
pub use money::money;

/// A label and what is said under it: a figure, and what it is, or from what to what it changed.
pub type Labelled = (&'static str, String);

/// What a change does to the likely cost: `saves 13 EUR`.
pub fn price(change: Decimal, currency: Currency) -> String {
    let rounded = show::rounded(change, 0);
    if rounded.is_zero() {
        return "costs the same".to_owned();
    }
    let amount = amounts::money(rounded.abs(), currency);
    match rounded.is_sign_negative() {
        true => format!("saves {amount}"),
        false => format!("costs {amount} more"),
    }
}

/// Choices with the values that they get, by name: where nothing stood there before.
pub fn edits(catalogue: &Catalogue, edits: &[Edit]) -> Vec<String> {
    let each = edits.iter().map(|edit| {
        let value = edit.choice.show(&edit.value, catalogue);
        format!("{}: {value}", edit.choice.title)
    });
    each.collect()
}

/// A changed choice by name, what it was and what it becomes.
pub type Changed = (&'static str, String, String);

/// The changed choices of a build: by name, what each was and what it becomes.
pub fn changed(catalogue: &Catalogue, before: &Build, edits: &[Edit]) -> Vec<Changed> {
    let each = edits.iter().map(|edit| {
        let choice = edit.choice;
        let was = choice.show(&(choice.get)(before), catalogue);
        (choice.title, was, choice.show(&edit.value, catalogue))
    });
    each.collect()
}

/// The changed choices of a build in one text: `Drive Z: this -> that; ...`.
pub fn changes(catalogue: &Catalogue, before: &Build, edits: &[Edit]) -> String {
    let each = changed(catalogue, before, edits).into_iter();
    let each = each.map(|(title, was, is)| format!("{title}: {was} -> {is}"));
    each.collect::<Vec<_>>().join("; ")
}

/// What is said where a change brings none.
pub const NO_WARNING: &str = "no warning";

/// Findings in a few words each, worst first, the axes of one rule together.
pub fn warned(findings: &[Finding]) -> Vec<String> {
    let mut topics = topics::topics(findings);
    // What follows from another stands behind it, and may be worse.
    topics.order_by_key(|topic| findings[topic.first()].severity);
    let each = topics.into_iter().map(|topic| {
        let severity = findings[topic.first()].severity.title();
        format!("{severity}: {}", topic.title(findings))
    });
    each.collect()
}

/// The figures that differ between two machines.
pub fn moved(before: &Reading, after: &Reading) -> Vec<Labelled> {
    let differing = differing(before, after).into_iter();
    differing
        .map(|(name, was, is)| (name, format!("{was} -> {is}")))
        .collect()
}

/// The figures that differ between two machines: name, before, after.
pub fn differing(before: &Reading, after: &Reading) -> Vec<(&'static str, String, String)> {
    let both = figures(before).into_iter().zip(figures(after));
    both.filter(|(before, after)| before.1 != after.1)
        .map(|(before, after)| (before.0, before.1, after.1))
        .collect()
}

/// The figures of a machine with their units, and what holds them.
pub fn figures(reading: &Reading) -> Vec<Labelled> {
    let cost = amounts::money(reading.cost.likely, reading.cost.currency);
    let mut told = vec![("cost", cost)];
    let names = ["rapids X", "rapids Y", "rapids Z"];
    for (axis, name) in Axis::EACH.into_iter().zip(names) {
        let (speed, by) = reading.rapids[axis];
        let speed = show::number(units::m_per_min::from(speed), 1);
        told.push((name, format!("{speed} m/min ({})", by.title())));
    }
    let softest = reading.softest();
    let stiffness = show::number(units::n_per_um::from(reading.tip[softest]), 2);
    told.push((
        "stiffness",
        format!("{stiffness} N/µm ({})", softest.title()),
    ));
    told.push(("removal", removal(reading)));
    let amps = show::number(units::a::from(reading.current), 1);
    let allowed = show::number(units::a::from(reading.allowed), 1);
    told.push(("mains", format!("{amps} of {allowed} A")));
    told
}

fn removal(reading: &Reading) -> String {
    match reading.removal {
        Some(rate) => format!(
            "{} cm³/min",
            show::number(units::cm3_per_min::from(rate), 1)
        ),
        None => "nothing to cut".to_owned(),
    }
}

/// What stands above a row of a table of answers, in two lines: what it is, and in which unit.
pub fn row_heads(currency: &Currency) -> [[&str; 7]; 2] {
    [
        ["cost", "rapids", "m/min", "", "stiff", "removes", "mains"],
        [currency.code(), "X", "Y", "Z", "N/µm", "cm³/min", "A"],
    ]
}

/// The row of a table of answers: cost, rapids of X, Y and Z, stiffness, removal, current.
pub fn row(reading: &Reading) -> [String; 7] {
    let rapid = |axis| show::number(units::m_per_min::from(reading.rapids[axis].0), 1);
    let removal = reading.removal.map(|rate| {
        let rate = units::cm3_per_min::from(rate);
        show::number(rate, if rate < 100.0 { 1 } else { 0 })
    });
    [
        amounts::whole(reading.cost.likely),
        rapid(Axis::X),
        rapid(Axis::Y),
        rapid(Axis::Z),
        show::number(units::n_per_um::from(reading.tip[reading.softest()]), 2),
        removal.unwrap_or_else(|| "-".to_owned()),
        show::number(units::a::from(reading.current), 1),
    ]
}

/// From this share on something is told as worse.
const WORSE: f64 = 0.03;
/// How many materials are named.
const NAMED: usize = 3;

/// The materials that go slower than before, the worst first: a verdict such as "easily" stays
/// the same where a minute removes much less. None where no cut is slower to speak of.
pub fn slower(before: &Assessment, after: &Assessment, catalogue: &Catalogue) -> Option<String> {
    let removal = |of: &Assessment, id: &Id| {
        let cut = of.machine.cutting.best(id);
        cut.map_or(0.0, |cut| units::cm3_per_min::from(cut.removal))
    };
    let materials = catalogue.materials.values();
    let lost = materials.filter_map(|material| {
        let (was, is) = (removal(before, &material.id), removal(after, &material.id));
        let lost = if was > 0.0 { 1.0 - is / was } else { 0.0 };
        (lost > WORSE).then_some((lost, material.title.as_str()))
    });
    let mut lost: Vec<(f64, &str)> = lost.collect();
    lost.order_by(|(a, _), (b, _)| b.total_cmp(a));
    let each = lost.iter().take(NAMED);
    let each = each.map(|(lost, title)| match *lost >= 1.0 {
        true => format!("no longer {title}"),
        false => format!("{title} by {} %", show::number(lost * 100.0, 0)),
    });
    let mut words = each.collect::<Vec<_>>().join(", ");
    match lost.len().saturating_sub(NAMED) {
        0 => {}
        more => words.push_str(&format!(", {more} more less so")),
    }
    (!words.is_empty()).then_some(words)
}

/// What changes to the build at hand take away that no figure tells: of what is left out, what
/// goes with it; and of what only costs less and is worse by no figure and no warning, what a poor
/// pick costs. Each is told with the name of its choice; what the changed build has no use for is
/// no loss.
pub fn given_up(bench: &Bench, edits: &[Edit], after: &Assessment) -> Vec<(&'static str, String)> {
    let now = bench.before;
    let saves = after.bill.total.likely < now.bill.total.likely;
    let told = is_worse(&Reading::of(now), &Reading::of(after))
        || !missing_in(&after.findings, &now.findings).is_empty()
        || slower(now, after, bench.catalogue).is_some();
    let mut lost: Vec<(Poorer, &str)> = Vec::new();
    for edit in edits {
        let poorer = poorer(edit, &(edit.choice.get)(bench.build), saves && !told);
        let Some(poorer) = poorer else {
            continue;
        };
        // The axes of one choice say the same.
        let is_known = lost.iter().any(|(known, _)| *known == poorer);
        if !is_known && !is_moot(bench, edits, edit, after) {
            lost.push((poorer, edit.choice.title));
        }
    }
    let each = lost.into_iter();
    each.map(|((label, words), title)| (label, format!("{title}: {words}")))
        .collect()
}

/// Whether a build that several changes lead to has no use for what one of them leaves out: put
/// back, it brings a warning and lifts none, or does not even cost anything.
fn is_moot(bench: &Bench, edits: &[Edit], edit: &Edit, after: &Assessment) -> bool {
    if edits.len() < 2 {
        return false;
    }
    let mut build = bench.build.clone();
    let others = edits.iter().filter(|one| one.choice.id != edit.choice.id);
    others.for_each(|one| one.apply(&mut build));
    let Ok(with) = bench.assess(&build) else {
        return false;
    };
    let (lifts, brings) = (
        missing_in(&after.findings, &with.findings),
        missing_in(&with.findings, &after.findings),
    );
    lifts.is_empty() && (!brings.is_empty() || with.bill.total.likely == after.bill.total.likely)
}

/// What goes with what edits leave out, in the words of the choices; of several edits each with its
/// name.
pub fn lost(build: &Build, edits: &[Edit]) -> Vec<String> {
    let each = edits.iter().filter_map(|edit| {
        let choice = edit.choice;
        let lost = choice.lost(&(choice.get)(build), &edit.value)?;
        Some(match edits.len() {
            1 => lost.to_owned(),
            _ => format!("{}: {lost}", choice.title),
        })
    });
    each.collect()
}

/// What is poorer after a change: under which label it is told, and the choice's own words.
pub type Poorer = (&'static str, &'static str);

/// What a change takes away from a value: of what is left out, what goes with it; of what is
/// cheaper by nothing that could be told, what a poor pick costs.
pub fn poorer(edit: &Edit, from: &Value, for_nothing: bool) -> Option<Poorer> {
    let choice = edit.choice;
    let cheaper = for_nothing && !matches!(choice.kind, Kind::Number(_));
    let lost = choice
        .lost(from, &edit.value)
        .map(|lost| ("given up", lost));
    lost.or(cheaper.then_some(("mind", choice.poor)))
}

/// What an alternative would be without those that it goes on from.
pub fn alone(alone: &Alone, currency: Currency) -> String {
    let mut words = price(alone.price, currency);
    for warned in warned(&alone.added) {
        words.push_str(&format!("; brings {warned}"));
    }
    words
}

/// Whether a figure besides the cost is worse.
pub fn is_worse(before: &Reading, after: &Reading) -> bool {
    let figures = Measure::ALL.iter().filter(|one| **one != Measure::Cost);
    let gains = figures.filter_map(|one| after.gain_over(before, *one));
    gains.into_iter().any(|gain| gain < 0.0)
}

/// The letter of an alternative: A, B, C and so on.
pub fn letter(place: usize) -> String {
    u8::try_from(place)
        .ok()
        .and_then(|place| b'A'.checked_add(place))
        .filter(u8::is_ascii_uppercase)
        .map_or_else(
            || (place + 1).to_string(),
            |letter| char::from(letter).to_string(),
        )
}

/// A bar of a tornado picture: where a figure goes from the least to the greatest on a scale
/// from `low` to `high`, with a mark at what it is now; what is below that is drawn with one
/// sign, what is above it with another, so that it reads without colours.
pub fn bar(span: (f64, f64), now: f64, scale: (f64, f64), columns: usize) -> String {
    let width = scale.1 - scale.0;
    let last = columns.saturating_sub(1);
    let place = |value: f64| -> usize {
        if width <= 0.0 {
            return 0;
        }
        let share = ((value - scale.0) / width).clamp(0.0, 1.0);
        (share * last as f64).round() as usize
    };
    let (from, here, to) = (place(span.0), place(now), place(span.1));
    let sign = |column: usize| match column {
        column if column == here => '|',
        column if (from..here).contains(&column) => '-',
        column if (here..=to).contains(&column) => '+',
        _ => ' ',
    };
    (0..columns).map(sign).collect()
}
