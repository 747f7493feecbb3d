//! The list that lines are added to: one line for each part of a step, however many things
//! ask for it.

use rust_decimal::Decimal;

use super::asked::{Asked, Source};
use super::notes;
use crate::build::Picked;
use crate::catalogue::{Id, Part, Step, Unit};
use crate::explain::{Input, Origin, Recorder, Worth};
use crate::money::MoneyError;
use crate::units::Length;

/// What asked for a part, for those who listen.
pub(super) struct Told {
    pub(super) part: Id,
    pub(super) step: Step,
    pub(super) pack: Decimal,
    pub(super) shared: bool,
    pub(super) inputs: Vec<Input>,
}

/// What asks for a part in a step, before anything is said of money.
pub(super) struct Need<'c> {
    pub(super) part: &'c dyn Part,
    pub(super) step: Step,
    /// What all machines take.
    pub(super) needed: Decimal,
    /// Pieces in a pack; nothing where it comes singly.
    pub(super) pack: Decimal,
    /// The longest piece of it, for parcels.
    pub(super) longest: Length,
    /// Whether the first cut needs it.
    pub(super) first_cut: bool,
    /// Whether the workshop needs it once, however many machines are built.
    pub(super) shared: bool,
    pub(super) why: String,
}

/// How often a need counts, and how soon it is felt.
#[derive(Clone, Copy)]
pub(super) struct Manner {
    /// Once for the workshop, however many machines are built together.
    pub(super) shared: bool,
    /// Needed for the first cut.
    pub(super) first_cut: bool,
}

impl Manner {
    /// For each machine, and from the first cut on.
    pub(super) const USUAL: Self = Self {
        shared: false,
        first_cut: true,
    };
    /// For each machine, but the first cut doesn't wait for it.
    pub(super) const LATER: Self = Self {
        shared: false,
        first_cut: false,
    };
}

/// The needs so far.
pub(super) struct List<'a, 'c, 'n, R> {
    pub(super) picked: &'a Picked<'c>,
    pub(super) needs: Vec<Need<'c>>,
    pub(super) told: Vec<Told>,
    pub(super) notes: &'n mut R,
    /// What asks for the parts that are added next.
    pub(super) source: Source,
    /// Every single need with what asks for it, where somebody wants to know.
    pub(super) asked: Option<Vec<Asked<'c>>>,
}

impl<'c, R: Recorder> List<'_, 'c, '_, R> {
    /// Adds to the line of a part in a step; `from` says where the number comes from.
    pub(super) fn add(
        &mut self,
        part: &'c dyn Part,
        step: Step,
        needed: Decimal,
        why: &str,
        from: impl FnOnce() -> Origin,
    ) -> Result<(), MoneyError> {
        self.add_in_manner(part, step, needed, Manner::USUAL, why, from)
    }

    /// The same for what is shared, or what the first cut doesn't wait for.
    pub(super) fn add_in_manner(
        &mut self,
        part: &'c dyn Part,
        step: Step,
        needed: Decimal,
        manner: Manner,
        why: &str,
        from: impl FnOnce() -> Origin,
    ) -> Result<(), MoneyError> {
        self.add_packed(part, step, needed, Decimal::ZERO, manner, why, || {
            let needed = Worth::Exact(needed, notes::unit(part.unit()));
            vec![Input::new("n_i", why, needed, from())]
        })
    }

    /// The same for what follows from a length, which is told of as well.
    pub(super) fn add_along(
        &mut self,
        part: &'c dyn Part,
        step: Step,
        needed: Decimal,
        why: &str,
        length: impl FnOnce() -> Input,
    ) -> Result<(), MoneyError> {
        self.add_packed(
            part,
            step,
            needed,
            Decimal::ZERO,
            Manner::USUAL,
            why,
            || {
                let needed = Worth::Exact(needed, notes::unit(part.unit()));
                vec![length(), Input::new("n_i", why, needed, Origin::Here)]
            },
        )
    }

    /// The same for what comes in packs; `tell` says what went into the number.
    #[expect(
        clippy::too_many_arguments,
        reason = "each says another thing of one need"
    )]
    pub(super) fn add_packed(
        &mut self,
        part: &'c dyn Part,
        step: Step,
        needed: Decimal,
        pack: Decimal,
        manner: Manner,
        why: &str,
        tell: impl FnOnce() -> Vec<Input>,
    ) -> Result<(), MoneyError> {
        if self.notes.listens() && !needed.is_zero() {
            self.told.push(Told {
                part: *part.id(),
                step,
                pack,
                shared: manner.shared,
                inputs: tell(),
            });
        }
        let times = match manner.shared {
            true => Decimal::ONE,
            false => Decimal::from(self.picked.build.area.machines),
        };
        let needed = needed.checked_mul(times).ok_or(MoneyError::Overflow)?;
        if let Some(asked) = &mut self.asked {
            asked.push(Asked {
                source: self.source,
                part,
                step,
                needed,
                pack,
                longest: Length::default(),
            });
            return Ok(());
        }
        let known = self
            .needs
            .iter_mut()
            .find(|need| need.step == step && same(need.part, part));
        match known {
            Some(need) => {
                let sum = need.needed.checked_add(needed);
                need.needed = sum.ok_or(MoneyError::Overflow)?;
                need.pack = need.pack.max(pack);
                need.first_cut |= manner.first_cut;
                need.shared &= manner.shared;
                if !need.why.contains(why) {
                    // Reasons that are sentences follow each other like sentences.
                    let joint = if need.why.ends_with('.') { "" } else { ";" };
                    need.why = format!("{}{joint} {why}", need.why);
                }
            }
            None => self.needs.push(Need {
                part,
                step,
                needed,
                pack,
                longest: Length::default(),
                first_cut: manner.first_cut,
                shared: manner.shared,
                why: why.to_owned(),
            }),
        }
        Ok(())
    }

    /// Says how long a piece of a part is, for the parcel that brings it.
    pub(super) fn as_long_as(&mut self, part: &dyn Part, length: Length) {
        if let Some(last) = self.asked.as_mut().and_then(|asked| asked.last_mut()) {
            last.longest = length;
            return;
        }
        let need = (self.needs.iter_mut().rev()).find(|need| same(need.part, part));
        if let Some(need) = need
            && need.longest < length
        {
            need.longest = length;
        }
    }
}

/// Whether two parts are one entry of the catalogue: an entry stands there once, so that its
/// address tells it from all others.
fn same(one: &dyn Part, other: &dyn Part) -> bool {
    std::ptr::addr_eq(one, other)
}

/// What is bought of what is needed: whole pieces and packs; lengths and masses to the
/// centimetre and ten grams, upwards. None where the figures are past counting.
pub(super) fn bought(needed: Decimal, unit: Unit, pack: Decimal) -> Option<Decimal> {
    let quick = in_packs(needed, pack);
    if quick.is_some() {
        return quick;
    }
    if pack > Decimal::ZERO {
        return needed.checked_div(pack)?.ceil().checked_mul(pack);
    }
    match unit {
        Unit::Piece => Some(needed.ceil()),
        Unit::Metre | Unit::Kilogram | Unit::Litre | Unit::KilowattHour => needed
            .checked_mul(Decimal::ONE_HUNDRED)?
            .ceil()
            .checked_div(Decimal::ONE_HUNDRED),
    }
}

/// Whole packs of whole pieces, computed in whole numbers: none where it is something else, or
/// where numbers get large.
fn in_packs(needed: Decimal, pack: Decimal) -> Option<Decimal> {
    const TENS: [i64; 7] = [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000];
    let whole = |number: Decimal| i64::try_from(number.mantissa()).ok();
    let pack = whole(pack).filter(|pieces| pack.scale() == 0 && *pieces > 0)?;
    let digits = whole(needed).filter(|digits| *digits > 0)?;
    let filled = pack.checked_mul(*TENS.get(needed.scale() as usize)?)?;
    let packs = digits / filled + i64::from(digits % filled > 0);
    packs.checked_mul(pack).map(Decimal::from)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packs_have_the_digits_of_the_decimals_own() {
        let digits = (0..120).chain([999, 1_000, 1_001, 123_456, 999_999]);
        let packs = (0..30).chain([99, 100, 250]);
        let packs = packs.flat_map(|pack| [Decimal::new(pack, 0), Decimal::new(pack, 1)]);
        let packs: Vec<Decimal> = packs.collect();
        for needed in digits.flat_map(|digits| (0..9).map(move |scale| Decimal::new(digits, scale)))
        {
            for &pack in &packs {
                let known = match pack > Decimal::ZERO {
                    true => needed.checked_div(pack).map(|packs| packs.ceil() * pack),
                    false => Some(needed.ceil()),
                };
                let own = bought(needed, Unit::Piece, pack);
                let digits = |number: Option<Decimal>| number.map(|number| number.serialize());
                assert_eq!(digits(own), digits(known), "{needed} in packs of {pack}");
            }
        }
    }
}
