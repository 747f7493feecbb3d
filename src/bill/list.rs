//! The list that lines are added to: one line for each part of a step, however many things
//! ask for it.

use rust_decimal::Decimal;

use super::{Line, notes};
use crate::build::Picked;
use crate::catalogue::prices::PriceBook;
use crate::catalogue::{Id, Part, Step, Unit};
use crate::explain::{Input, Origin, Recorder, Worth};
use crate::money::{Currency, MoneyError, PriceRange};

/// What asked for a part, for those who listen.
pub(super) struct Told {
    pub(super) part: Id,
    pub(super) step: Step,
    pub(super) pack: Decimal,
    pub(super) inputs: Vec<Input>,
}

/// The lines so far.
pub(super) struct List<'a, 'c, 'n, R> {
    pub(super) picked: &'a Picked<'c>,
    pub(super) currency: Currency,
    pub(super) lines: Vec<Line>,
    pub(super) told: Vec<Told>,
    pub(super) notes: &'n mut R,
}

impl<R: Recorder> List<'_, '_, '_, R> {
    /// Adds to the line of a part in a step; `from` says where the number comes from.
    pub(super) fn add(
        &mut self,
        part: &dyn Part,
        step: Step,
        needed: Decimal,
        why: &str,
        from: impl FnOnce() -> Origin,
    ) -> Result<(), MoneyError> {
        self.add_packed(part, step, needed, Decimal::ZERO, why, || {
            let needed = Worth::Exact(needed, notes::unit(part.unit()));
            vec![Input::new("n_i", why, needed, from())]
        })
    }

    /// The same for what follows from a length, which is told of as well.
    pub(super) fn add_along(
        &mut self,
        part: &dyn Part,
        step: Step,
        needed: Decimal,
        why: &str,
        length: impl FnOnce() -> Input,
    ) -> Result<(), MoneyError> {
        self.add_packed(part, step, needed, Decimal::ZERO, why, || {
            let needed = Worth::Exact(needed, notes::unit(part.unit()));
            vec![length(), Input::new("n_i", why, needed, Origin::Here)]
        })
    }

    /// The same for what comes in packs; `tell` says what went into the number.
    pub(super) fn add_packed(
        &mut self,
        part: &dyn Part,
        step: Step,
        needed: Decimal,
        pack: Decimal,
        why: &str,
        tell: impl FnOnce() -> Vec<Input>,
    ) -> Result<(), MoneyError> {
        if self.notes.listens() && !needed.is_zero() {
            self.told.push(Told {
                part: part.id().clone(),
                step,
                pack,
                inputs: tell(),
            });
        }
        let place = self.line_for(part, step, needed, why)?;
        let line = &mut self.lines[place];
        line.quantity = bought(line.needed, line.unit, pack).ok_or(MoneyError::Overflow)?;
        if let Some(price) = line.price {
            line.total = price.range.times(line.quantity)?;
        }
        Ok(())
    }

    /// The place of the line of a part in a step, with what is needed added to it.
    fn line_for(
        &mut self,
        part: &dyn Part,
        step: Step,
        needed: Decimal,
        why: &str,
    ) -> Result<usize, MoneyError> {
        let known = self
            .lines
            .iter()
            .position(|line| line.part == *part.id() && line.step == step);
        if let Some(place) = known {
            let line = &mut self.lines[place];
            line.needed = sum(line.needed, needed)?;
            if !line.why.contains(why) {
                line.why = format!("{}; {why}", line.why);
            }
            return Ok(place);
        }
        let price = price_book(self.picked, part.id())
            .and_then(|book| book.price(part.id(), self.currency))
            .transpose()?;
        self.lines.push(Line {
            part: part.id().clone(),
            title: part.title().to_owned(),
            step,
            needed,
            quantity: Decimal::ZERO,
            unit: part.unit(),
            price,
            total: PriceRange::zero(self.currency),
            why: why.to_owned(),
        });
        Ok(self.lines.len() - 1)
    }
}

/// The last book that has a price for a part.
pub(super) fn price_book<'c>(picked: &Picked<'c>, part: &Id) -> Option<&'c PriceBook> {
    let mut books = picked.catalogue.price_books.values().rev();
    books.find(|book| book.prices.contains_key(part))
}

/// What is bought of what is needed: whole pieces and packs; lengths and masses to the
/// centimetre and ten grams, upwards. None where the figures are past counting.
fn bought(needed: Decimal, unit: Unit, pack: Decimal) -> Option<Decimal> {
    if pack > Decimal::ZERO {
        return needed.checked_div(pack)?.ceil().checked_mul(pack);
    }
    match unit {
        Unit::Piece => Some(needed.ceil()),
        Unit::Metre | Unit::Kilogram | Unit::Litre => needed
            .checked_mul(Decimal::ONE_HUNDRED)?
            .ceil()
            .checked_div(Decimal::ONE_HUNDRED),
    }
}

fn sum(one: Decimal, other: Decimal) -> Result<Decimal, MoneyError> {
    one.checked_add(other).ok_or(MoneyError::Overflow)
}
