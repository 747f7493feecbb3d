//! A plan in the words of the task: bars with their pieces by mark, what is left of each, and
//! what they cost.

use rust_decimal::Decimal;

use super::problem::{DIGITS, Plan, Problem};
use super::{NestedBar, Nesting, Stock, Task, Tenths};

impl Problem {
    /// The plan in the words of the task; none where its price is past counting.
    pub(super) fn told(mut self, task: &Task, plan: &Plan, least: u128) -> Option<Nesting> {
        let mut nesting = Nesting {
            too_long: std::mem::take(&mut self.too_long),
            ..Nesting::default()
        };
        for cut in &plan.cuts {
            let mut times = cut.times;
            while times > 0 {
                let (pieces, alike) = self.pieces_of(&cut.counts, times);
                let (stock, alike) = match self.bins[cut.bin].stock {
                    Stock::New(place) => (Stock::New(place), alike),
                    Stock::Offcut(_) => (Stock::Offcut(self.bins[cut.bin].offcuts.pop()?), 1),
                };
                self.take(&pieces, alike);
                times -= alike;
                nesting.bars.push(bar(task, stock, pieces, alike));
            }
        }
        self.lay_held(task, &mut nesting.bars);
        nesting.cost = cost(task, &nesting.bars)?;
        nesting.bound = match plan.price <= least {
            true => nesting.cost,
            false => Decimal::try_from_i128_with_scale(i128::try_from(least).ok()?, DIGITS).ok()?,
        };
        Some(nesting)
    }

    /// The marks of one bar, and how many bars may be cut with the same.
    fn pieces_of(&self, counts: &[u32], most: u32) -> (Vec<(usize, u32)>, u32) {
        let mut pieces = Vec::new();
        let mut alike = most;
        for (size, &count) in self.sizes.iter().zip(counts) {
            let mut missing = count;
            for &(place, left) in &size.wanted {
                if missing == 0 {
                    break;
                }
                let taken = missing.min(left);
                if taken > 0 {
                    pieces.push((place, taken));
                    alike = alike.min(left / taken);
                }
                missing -= taken;
            }
        }
        (pieces, alike.max(1))
    }

    fn take(&mut self, pieces: &[(usize, u32)], times: u32) {
        let wanted = self.sizes.iter_mut().flat_map(|size| &mut size.wanted);
        for (place, left) in wanted {
            let taken = pieces.iter().find(|(piece, _)| piece == place);
            *left -= taken.map_or(0, |(_, count)| count * times);
        }
    }

    /// Puts the pieces that only offcuts hold onto their offcuts.
    fn lay_held(&self, task: &Task, bars: &mut Vec<NestedBar>) {
        for held in &self.held {
            let stock = Stock::Offcut(held.offcut);
            let place = bars.iter().position(|bar| bar.stock == stock);
            let mut pieces = match place {
                Some(place) => bars.remove(place).pieces,
                None => Vec::new(),
            };
            match pieces.iter_mut().find(|(piece, _)| *piece == held.piece) {
                Some((_, count)) => *count += 1,
                None => pieces.insert(0, (held.piece, 1)),
            }
            bars.insert(0, bar(task, stock, pieces, 1));
        }
    }
}

/// A bar with its length and what is left of it.
fn bar(task: &Task, stock: Stock, pieces: Vec<(usize, u32)>, times: u32) -> NestedBar {
    let kerf = u64::from(task.saw.kerf.0);
    let (length, trims) = match stock {
        Stock::New(place) => (task.bars[place].length, 2 * u64::from(task.saw.trim.0)),
        Stock::Offcut(place) => (task.offcuts[place], 0),
    };
    let width = |&(place, count): &(usize, u32)| {
        (u64::from(task.pieces[place].length.0) + kerf) * u64::from(count)
    };
    let used: u64 = pieces.iter().map(width).sum::<u64>() + trims;
    let left = u64::from(length.0).saturating_sub(used) as u32;
    NestedBar {
        stock,
        length,
        pieces,
        left: Tenths(left),
        times,
    }
}

/// What the new bars cost; none past counting.
fn cost(task: &Task, bars: &[NestedBar]) -> Option<Decimal> {
    bars.iter()
        .try_fold(Decimal::ZERO, |sum, bar| match bar.stock {
            Stock::Offcut(_) => Some(sum),
            Stock::New(place) => {
                let price = task.bars[place]
                    .price
                    .checked_mul(Decimal::from(bar.times))?;
                sum.checked_add(price)
            }
        })
}
