//! The small parts of the bill: what the quantity rules ask for, a line for each part that the
//! machine has something to count by.

use rust_decimal::Decimal;

use super::asked::Source;
use super::count::{count, decimal, drives_like, to_feeds};
use super::counted;
use super::cuts::comes_as_bars;
use super::list::{List, Manner};
use crate::build::{Axis, Picked};
use crate::catalogue::extras::Sundry;
use crate::catalogue::quantity::{Count, QuantityRule};
use crate::explain::Recorder;
use crate::machine::Machine;
use crate::machine::terminals::least_bought;
use crate::money::MoneyError;
use crate::words::Words as _;

/// Adds what every rule asks for. A rule that asks for nothing, such as one that a file of the
/// builder's own sets to zero, leaves no trace.
///
/// # Errors
/// Where a quantity is past counting.
pub(super) fn add(
    list: &mut List<'_, '_, '_, impl Recorder>,
    machine: &Machine,
) -> Result<(), MoneyError> {
    let picked = list.picked;
    let single = list.asked.is_some();
    // Several rules count the same.
    let mut counts = [None; Count::ALL.len()];
    for (place, rule) in picked.catalogue.quantities.iter().enumerate() {
        list.source = Source::Rule(place);
        let count = || match rule.per {
            // For those who add single choices up: terminals are shared, sides of them are not.
            Count::Terminal if single => decimal(least_bought(picked, machine, |_| true)),
            per => count(picked, machine, per),
        };
        let counted = *counts[rule.per.index()].get_or_insert_with(count);
        if counted.is_zero() {
            continue;
        }
        let needed = needed(rule, counted).ok_or(MoneyError::Overflow)?;
        if needed.is_zero() {
            continue;
        }
        let manner = manner(rule);
        let catalogue = picked.catalogue;
        // Small parts come in packs; what else a rule names, by its own unit.
        if let Some(sundry) = catalogue.sundries.get(&rule.part) {
            if single && add_by_source(list, machine, (place, rule, counted), sundry)? {
                continue;
            }
            // Who adds single choices up has no cuts, so the whole bars are told here.
            let (needed, pack) = match single && comes_as_bars(picked, rule) {
                true => (rule.each.checked_mul(counted), Decimal::ZERO),
                false => (Some(needed), sundry.pack),
            };
            let needed = needed.ok_or(MoneyError::Overflow)?;
            let tell = || counted::inputs(picked, rule, sundry, counted, needed);
            list.add_packed(sundry, rule.step, needed, pack, manner, &rule.why, tell)?;
        } else if let Some((_, part)) = catalogue.part(rule.part.as_str()) {
            let single = Decimal::ZERO;
            let tell = || counted::inputs(picked, rule, part, counted, needed);
            list.add_packed(part, rule.step, needed, single, manner, &rule.why, tell)?;
        }
    }
    Ok(())
}

/// Adds what a rule asks for by what asks for it, for those who want to know, where that is
/// told apart: drive by drive, and for what has a feed of its own.
fn add_by_source<'c>(
    list: &mut List<'_, 'c, '_, impl Recorder>,
    machine: &Machine,
    (place, rule, counted): (usize, &QuantityRule, Decimal),
    sundry: &'c Sundry,
) -> Result<bool, MoneyError> {
    let picked = list.picked;
    if is_for_drives_alone(picked, rule, sundry) {
        // What it asks for besides, once for all, is left out: the last drive may go.
        for axis in Axis::EACH {
            add_by_drive(list, rule, sundry, axis)?;
        }
        return Ok(true);
    }
    let runs = to_feeds(picked, machine, rule.per);
    if runs.is_zero() {
        return Ok(false);
    }
    let one = for_each(rule);
    let parts = [
        (Source::Rule(place), needed(rule, counted - runs)),
        (Source::Feeds(place), needed(&one, runs)),
    ];
    let manner = manner(rule);
    for (source, needed) in parts {
        let needed = needed.ok_or(MoneyError::Overflow)?;
        list.source = source;
        list.add_packed(sundry, rule.step, needed, sundry.pack, manner, "", Vec::new)?;
    }
    Ok(true)
}

fn manner(rule: &QuantityRule) -> Manner {
    Manner {
        shared: rule.shared,
        first_cut: rule.first_cut,
    }
}

/// A rule without what it asks for besides, once for all.
fn for_each(rule: &QuantityRule) -> QuantityRule {
    QuantityRule {
        plus: Decimal::ZERO,
        ..rule.clone()
    }
}

/// What a rule asks for, spares included; none where that is past counting.
pub(super) fn needed(rule: &QuantityRule, counted: Decimal) -> Option<Decimal> {
    let without = rule.each.checked_mul(counted)?.checked_add(rule.plus)?;
    if rule.spare_percent.is_zero() {
        return Some(without);
    }
    let spare = rule.spare_percent.checked_div(Decimal::ONE_HUNDRED)?;
    without.checked_mul(Decimal::ONE.checked_add(spare)?)
}

/// Whether nothing but drives asks for what a rule buys, one by one.
fn is_for_drives_alone(picked: &Picked, rule: &QuantityRule, sundry: &Sundry) -> bool {
    // Nearly every rule counts something else: those for the same part are looked for only then.
    if !is_for_drives(rule.per) || sundry.pack > Decimal::ONE {
        return false;
    }
    let mut same = picked.catalogue.quantities.iter();
    same.all(|one| one.part != rule.part || is_for_drives(one.per))
}

/// Whether a rule counts drives of a kind.
fn is_for_drives(per: Count) -> bool {
    matches!(
        per,
        Count::Screw
            | Count::ScrewToTurn
            | Count::BallNut
            | Count::PreloadedNut
            | Count::Rack
            | Count::Reduction
    )
}

/// Adds what rules ask for the drives of an axis and nothing else asks for.
///
/// # Errors
/// Where a quantity is past counting.
pub(super) fn add_fittings(
    list: &mut List<'_, '_, '_, impl Recorder>,
    axis: Axis,
) -> Result<(), MoneyError> {
    let picked = list.picked;
    for rule in &picked.catalogue.quantities {
        let sundry = picked.catalogue.sundries.get(&rule.part);
        let fitting = |sundry: &&Sundry| is_for_drives_alone(picked, rule, sundry);
        if let Some(sundry) = sundry.filter(fitting) {
            add_by_drive(list, rule, sundry, axis)?;
        }
    }
    Ok(())
}

/// Adds what a rule asks for each drive of an axis, for those who want to know what asks for it.
fn add_by_drive<'c>(
    list: &mut List<'_, 'c, '_, impl Recorder>,
    rule: &QuantityRule,
    sundry: &'c Sundry,
    axis: Axis,
) -> Result<(), MoneyError> {
    let picked = list.picked;
    let manner = manner(rule);
    let one = for_each(rule);
    for (which, drive) in picked.drives(axis).iter().enumerate() {
        let here = drives_like(picked, drive, rule.per);
        let needed = needed(&one, here).ok_or(MoneyError::Overflow)?;
        list.source = Source::Fitting(axis, which);
        list.add_packed(sundry, rule.step, needed, sundry.pack, manner, "", Vec::new)?;
    }
    Ok(())
}
