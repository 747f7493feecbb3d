//! What to mind when sawing.

use super::linear_mass;
use crate::bill::cuts::Cuts;
use crate::build::choices::working_area::TubeSupply;
use crate::money::show;
use crate::sheets::Paper;
use crate::units;

/// From this mass on two people lift: the reference mass of ISO 11228-1 (from memory).
const TWO_PEOPLE_KG: f64 = 25.0;

/// Every remark.
pub(super) fn all(paper: &Paper, cuts: &Cuts) -> Vec<String> {
    let mut said = vec![
        "Rails and screws cannot go back once they are cut: check travel and lengths before you \
         order, and order them first. A screw's length is that over all, with turned ends for its \
         bearings and its coupling."
            .to_owned(),
    ];
    if !paper.assessment.machine.geometry.plates.is_empty() {
        said.push(
            "Plates are given without holes: hand the shop a drawing with the holes of rails and \
             carriages from the drilling sheet, those of motors and bearings from the parts that \
             arrived."
                .to_owned(),
        );
    }
    if cuts.sections.is_empty() {
        return said;
    }
    said.push(
        "Measure the rails that arrived before anything is sawn: members follow their lengths."
            .to_owned(),
    );
    said.push(
        "Saw square, mark each piece with its letter and number at once, and file every end \
         smooth inside and out: sawn edges cut hands, and burrs keep joints open."
            .to_owned(),
    );
    said.push(
        "Clamp the bar on both sides of the cut and hold up its far end. Protect eyes and ears; \
         gloves for carrying, but neither gloves nor loose sleeves near a turning blade; nothing \
         that burns near hot chips."
            .to_owned(),
    );
    said.extend(heaviest(paper, cuts));
    said.push(format!(
        "Each cut takes {} mm (its kerf), and {} mm come off both ends of a new bar. An offcut is given \
         without its own rough end.",
        cuts.saw.kerf.millimetres(),
        cuts.saw.trim.millimetres(),
    ));
    said.extend(cheaper(paper, cuts));
    said.push(proof(paper, cuts));
    said.extend(too_long(paper, cuts));
    said
}

/// What the heaviest piece and bar weigh.
fn heaviest(paper: &Paper, cuts: &Cuts) -> Option<String> {
    let pieces = cuts.sections.iter().flat_map(|section| &section.pieces);
    let pieces = pieces.map(|piece| (linear_mass(paper, piece) * piece.length.length(), piece));
    let (piece, longest) = pieces.max_by(|a, b| a.0.value.total_cmp(&b.0.value))?;
    let bars = cuts.bars().filter_map(|(_, section, bar)| {
        // What is cut from one section may differ in its wall as measured.
        let linear = section.pieces.iter().map(|piece| linear_mass(paper, piece));
        let linear = linear.max_by(|a, b| a.value.total_cmp(&b.value))?;
        Some(units::kg::from(linear * bar.length.length()))
    });
    let bar = bars.fold(0.0, f64::max);
    let piece = units::kg::from(piece);
    let mark = longest.mark(&paper.assessment.machine);
    let lift = match piece.max(bar) >= TWO_PEOPLE_KG {
        true => format!("from {TWO_PEOPLE_KG} kg on lift with two people"),
        false => "mind your back all the same".to_owned(),
    };
    Some(format!(
        "The heaviest piece, {mark}, weighs {piece:.1} kg, the heaviest bar {bar:.1} kg: {lift}."
    ))
}

/// Which way costs less.
fn cheaper(paper: &Paper, cuts: &Cuts) -> Option<String> {
    let currency = paper.assessment.bill.currency;
    let less = cuts.totals.whole_bars() - cuts.totals.cut_to_length();
    if less.is_zero() {
        return None;
    }
    let amount = format!("{} {currency}", show::exact(less.abs(), currency));
    let at_hand = cuts.totals.whole_bars.iter().any(|term| term.at_hand);
    let saw = match at_hand {
        true => "your saw counts nothing",
        false => "with a saw to buy; mark the saw as in hand if you have or borrow one",
    };
    let (way, other) = match less.is_sign_positive() {
        true => ("cut to length", "whole bars"),
        false => ("whole bars", "cut to length"),
    };
    let chosen = match (cuts.supply, less.is_sign_positive()) {
        (TubeSupply::CutToLength, true) | (TubeSupply::WholeBars, false) => "you chose it",
        _ => "you chose the other",
    };
    Some(format!(
        "Steel {way} costs {amount} less than {other}, before freight ({saw}): {chosen}."
    ))
}

/// Whether other cuts could cost less.
fn proof(paper: &Paper, cuts: &Cuts) -> String {
    let percent = cuts.waste_percent().unwrap_or_default().round_dp(0);
    let waste = format!("{percent} % of the bars becomes no piece");
    if cuts.is_proven() {
        return format!("No other way to saw needs bars that cost less; {waste}.");
    }
    let currency = paper.assessment.bill.currency;
    let most = format!(
        "{} {currency}",
        show::exact(cuts.totals.at_most_less, currency)
    );
    format!("Another way to saw may cost up to {most} less: not all were tried; {waste}.")
}

fn too_long(paper: &Paper, cuts: &Cuts) -> Option<String> {
    let machine = &paper.assessment.machine;
    let marks: Vec<&str> = cuts
        .too_long()
        .map(|(_, piece, _)| piece.mark(machine))
        .collect();
    if marks.is_empty() {
        return None;
    }
    Some(format!(
        "Longer than any bar on offer: {}. Ask for longer bars or have them cut to length; a \
         welded joint in a beam is no substitute.",
        marks.join(", ")
    ))
}
