//! The small parts of the bill: what the quantity rules ask for, a line for each part that the
//! machine has something to count by.

use rust_decimal::Decimal;

use super::asked::Source;
use super::count::{count, decimal, drives_like, to_mains_drivers};
use super::counted;
use super::list::{List, Manner};
use crate::build::{Axis, Picked};
use crate::catalogue::extras::Sundry;
use crate::catalogue::quantity::{Count, QuantityRule};
use crate::explain::Recorder;
use crate::machine::Machine;
use crate::machine::terminals::least_bought;
use crate::money::MoneyError;

/// Adds what every rule asks for. A rule that asks for nothing, such as one that a file of the
/// builder's own sets to zero, leaves no trace.
///
/// # Errors
/// Where a quantity is past counting.
pub(super) fn add<'c>(
    list: &mut List<'_, 'c, '_, impl Recorder>,
    picked: &Picked<'c>,
    machine: &Machine,
) -> Result<(), MoneyError> {
    let single = list.asked.is_some();
    for (place, rule) in picked.catalogue.quantities.iter().enumerate() {
        list.source = Source::Rule(place);
        let counted = match rule.per {
            // For those who add single choices up: terminals are shared, sides of them are not.
            Count::Terminal if single => decimal(least_bought(picked, machine, |_| true)),
            per => count(picked, machine, per),
        };
        if counted.is_zero() {
            continue;
        }
        let needed = needed(rule, counted).ok_or(MoneyError::Overflow)?;
        if needed.is_zero() {
            continue;
        }
        let manner = Manner {
            shared: rule.shared,
            first_cut: rule.first_cut,
        };
        let catalogue = picked.catalogue;
        // Small parts come in packs; what else a rule names, by its own unit.
        if let Some(sundry) = catalogue.sundries.get(&rule.part) {
            if single && is_for_drives_alone(picked, rule, sundry) {
                // What it asks for besides, once for all, is left out: the last drive may go.
                for axis in Axis::EACH {
                    add_by_drive(list, picked, rule, sundry, axis)?;
                }
                continue;
            }
            let pack = sundry.pack;
            let runs = if single {
                to_mains_drivers(picked, machine, rule.per)
            } else {
                Decimal::ZERO
            };
            if !runs.is_zero() {
                let rest = self::needed(rule, counted - runs).ok_or(MoneyError::Overflow)?;
                list.add_packed(sundry, rule.step, rest, pack, manner, "", Vec::new)?;
                list.source = Source::MainsDrivers(place);
                list.add_packed(sundry, rule.step, needed - rest, pack, manner, "", Vec::new)?;
                continue;
            }
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

/// What a rule asks for, spares included; none where that is past counting.
pub(super) fn needed(rule: &QuantityRule, counted: Decimal) -> Option<Decimal> {
    let spare = rule.spare_percent.checked_div(Decimal::ONE_HUNDRED)?;
    rule.each
        .checked_mul(counted)?
        .checked_add(rule.plus)?
        .checked_mul(Decimal::ONE.checked_add(spare)?)
}

/// Whether nothing but drives asks for what a rule buys, one by one.
fn is_for_drives_alone(picked: &Picked, rule: &QuantityRule, sundry: &Sundry) -> bool {
    let mut same = picked.catalogue.quantities.iter();
    let alone = same.all(|one| one.part != rule.part || is_for_drives(one.per));
    sundry.pack <= Decimal::ONE && alone
}

/// Whether a rule counts drives of a kind.
fn is_for_drives(per: Count) -> bool {
    matches!(
        per,
        Count::Screw | Count::BallNut | Count::PreloadedNut | Count::Rack | Count::Reduction
    )
}

/// Adds what rules ask for the drives of an axis and nothing else asks for.
///
/// # Errors
/// Where a quantity is past counting.
pub(super) fn add_fittings<'c>(
    list: &mut List<'_, 'c, '_, impl Recorder>,
    picked: &Picked<'c>,
    axis: Axis,
) -> Result<(), MoneyError> {
    for rule in &picked.catalogue.quantities {
        let sundry = picked.catalogue.sundries.get(&rule.part);
        let fitting = |sundry: &&Sundry| is_for_drives_alone(picked, rule, sundry);
        if let Some(sundry) = sundry.filter(fitting) {
            add_by_drive(list, picked, rule, sundry, axis)?;
        }
    }
    Ok(())
}

/// Adds what a rule asks for each drive of an axis, for those who want to know what asks for it.
fn add_by_drive<'c>(
    list: &mut List<'_, 'c, '_, impl Recorder>,
    picked: &Picked<'c>,
    rule: &QuantityRule,
    sundry: &'c Sundry,
    axis: Axis,
) -> Result<(), MoneyError> {
    let manner = Manner {
        shared: rule.shared,
        first_cut: rule.first_cut,
    };
    let one = QuantityRule {
        plus: Decimal::ZERO,
        ..rule.clone()
    };
    for (which, drive) in picked.drives(axis).iter().enumerate() {
        let here = drives_like(picked, drive, rule.per);
        let needed = needed(&one, here).ok_or(MoneyError::Overflow)?;
        list.source = Source::Fitting(axis, which);
        list.add_packed(sundry, rule.step, needed, sundry.pack, manner, "", Vec::new)?;
    }
    Ok(())
}
