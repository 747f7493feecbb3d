//! How much a year uses up: hours, lives and litres of the machine, times what a rule says.

use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive as _;

use super::super::count::decimal;
use crate::build::{Axis, Picked};
use crate::catalogue::extras::CoolantKind;
use crate::catalogue::spindle::SpindleKind;
use crate::catalogue::yearly::{Of, Per, Picked as PickedKind, UsedUp, YearlyRule};
use crate::catalogue::{LinearDrive, Part};
use crate::machine::Machine;
use crate::machine::life::share_in_the_cut;
use crate::money::MoneyError;
use crate::units::{self, Time};

/// How long the machine works in a year.
pub(super) struct Hours {
    /// On a working day.
    pub(super) a_day: Decimal,
    /// Working days a year.
    pub(super) days: Decimal,
    /// Hours of work.
    pub(super) work: Decimal,
    /// Share of them in the cut.
    pub(super) share: Decimal,
}

impl Hours {
    pub(super) fn of(picked: &Picked) -> Self {
        let area = &picked.build.area;
        let (a_day, days) = (
            decimal(units::hour::from(area.hours_a_day)),
            Decimal::from(area.days_a_year),
        );
        Self {
            a_day,
            days,
            work: a_day * days,
            share: decimal(units::share::from(share_in_the_cut())),
        }
    }

    /// How often a rule counts in a year; a life counts as often as the hours hold it.
    pub(super) fn times(&self, per: Per) -> Decimal {
        match per {
            Per::Year => Decimal::ONE,
            Per::Hour | Per::Life => self.work,
            Per::CuttingHour => self.work * self.share,
        }
    }
}

/// What is used up of one part, and how it was counted.
pub(super) struct Used<'c> {
    pub(super) rule: &'c YearlyRule,
    pub(super) part: &'c dyn Part,
    /// What the rule counts on one machine.
    pub(super) counted: Decimal,
    /// The life that it is counted by, and whose.
    pub(super) life: Option<(Axis, Time)>,
    /// How much all machines use up in a year, to the thousandth.
    pub(super) quantity: Decimal,
}

/// Hands on all that a year uses up; nothing of what is not there, or lasts longer than the
/// machine is kept.
pub(super) fn each<'c>(
    picked: &Picked<'c>,
    machine: &Machine,
    hours: &Hours,
    mut take: impl FnMut(Used<'c>) -> Result<(), MoneyError>,
) -> Result<(), MoneyError> {
    for rule in &picked.catalogue.yearly {
        let counting = Counting {
            picked,
            hours,
            rule,
        };
        match &rule.part {
            UsedUp::Part(id) => {
                if let Some((_, part)) = picked.catalogue.part(id.as_str()) {
                    let counted = count(picked, machine, rule.of);
                    counting.hand_on(part, counted, None, &mut take)?;
                }
            }
            UsedUp::Picked(PickedKind::Tool) => {
                let counted = count(picked, machine, rule.of);
                counting.hand_on(picked.tool, counted, None, &mut take)?;
            }
            UsedUp::Picked(PickedKind::BallScrews) => {
                for axis in Axis::EACH {
                    let Some(life) = machine.life[axis].nut_hours else {
                        continue;
                    };
                    let cuts = &machine.geometry.drives[axis];
                    for (drive, cut) in picked.drives(axis).into_iter().zip(cuts) {
                        if let LinearDrive::Ball(screw) = drive {
                            let length = decimal(units::m::from(cut.to_order));
                            counting.hand_on(screw, length, Some((axis, life)), &mut take)?;
                        }
                    }
                }
            }
            UsedUp::Picked(PickedKind::Carriages) => {
                for axis in Axis::EACH {
                    let pieces = Decimal::from(machine.geometry.rails[axis].carriages);
                    let life = (axis, machine.life[axis].carriage_hours);
                    let carriage = picked.axes[axis].carriage;
                    counting.hand_on(carriage, pieces, Some(life), &mut take)?;
                }
            }
        }
    }
    Ok(())
}

/// One rule on one machine.
struct Counting<'a, 'c> {
    picked: &'a Picked<'c>,
    hours: &'a Hours,
    rule: &'c YearlyRule,
}

impl<'c> Counting<'_, 'c> {
    fn hand_on(
        &self,
        part: &'c dyn Part,
        counted: Decimal,
        life: Option<(Axis, Time)>,
        take: &mut impl FnMut(Used<'c>) -> Result<(), MoneyError>,
    ) -> Result<(), MoneyError> {
        let lives = match life {
            Some((_, life)) => match self.felt(life) {
                Some(hours) => hours,
                None => return Ok(()),
            },
            None => Decimal::ONE,
        };
        let machines = Decimal::from(self.picked.build.area.machines);
        let quantity = (self.hours.times(self.rule.per).checked_mul(counted))
            .and_then(|all| all.checked_mul(self.rule.each))
            .and_then(|all| all.checked_mul(machines))
            .and_then(|all| all.checked_div(lives))
            .ok_or(MoneyError::Overflow)?;
        let quantity = quantity.round_dp(3);
        if quantity.is_zero() {
            return Ok(());
        }
        take(Used {
            rule: self.rule,
            part,
            counted,
            life,
            quantity,
        })
    }

    /// A life in hours, where it ends before the machine is given up.
    fn felt(&self, life: Time) -> Option<Decimal> {
        let kept = self.rule.kept_years?.checked_mul(self.hours.work)?;
        // Lives without an end, and those past all counting, are longer than any use.
        let hours = units::hour::from(life);
        let life = (hours < 1e9).then(|| Decimal::from_f64(hours))??;
        (life < kept && !life.is_zero()).then_some(life)
    }
}

/// How much of it one machine has.
fn count(picked: &Picked, machine: &Machine, of: Of) -> Decimal {
    let build = picked.build;
    let once = |yes: bool| Decimal::from(u32::from(yes));
    let circuit = || {
        let litres = picked
            .cooler
            .map(|cooler| units::litre::from(cooler.coolant));
        decimal(litres.unwrap_or(0.0))
    };
    let brushed = picked.spindle.kind == SpindleKind::HandRouter;
    match of {
        Of::Machine => Decimal::ONE,
        Of::SpindleMotor => once(!brushed),
        Of::BrushedRouter => once(brushed),
        Of::Extractor => once(picked.extractor.is_some()),
        Of::Coolant => circuit(),
        Of::Antifreeze => once(build.spindle.antifreeze) * circuit(),
        Of::CutCoolant => {
            let kind = picked.coolant.map(|coolant| coolant.kind);
            once(kind.is_some_and(|kind| kind != CoolantKind::AirBlast))
        }
        Of::Carriage => {
            let rails = &machine.geometry.rails;
            let each = Axis::EACH.map(|axis| Decimal::from(rails[axis].carriages));
            each.into_iter().sum()
        }
        Of::Bed => once(build.extras.wasteboard) * decimal(units::m2::from(machine.geometry.bed)),
        Of::Protection => Decimal::from(build.extras.protection_sets),
    }
}
