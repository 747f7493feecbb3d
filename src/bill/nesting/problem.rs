//! The problem as whole numbers: pieces of equal length together, each a kerf wider, bars a
//! kerf longer, all in the largest unit that keeps them whole.

use rust_decimal::Decimal;

use super::bound::Cover;
use super::{Stock, Task};
use crate::order::Order as _;

/// Digits after the point to which prices are compared.
pub(super) const DIGITS: u32 = 6;

/// Pieces of one length.
#[derive(Clone, Debug)]
pub(super) struct Size {
    /// Length and kerf.
    pub(super) width: u64,
    /// How many are wanted.
    pub(super) count: u32,
    /// The same by place in the task.
    pub(super) wanted: Vec<(usize, u32)>,
}

/// One kind of bar.
#[derive(Clone, Debug)]
pub(super) struct Bin {
    /// What widths it holds.
    pub(super) capacity: u64,
    /// What one costs, in millionths.
    pub(super) price: u128,
    /// Which offcuts it stands for, by place in the task; none for new bars.
    pub(super) offcuts: Vec<usize>,
    /// The first of what it stands for.
    pub(super) stock: Stock,
}

impl Bin {
    /// How many there are; new bars are without end.
    pub(super) fn count(&self) -> u32 {
        match self.stock {
            Stock::New(_) => u32::MAX,
            Stock::Offcut(_) => self.offcuts.len() as u32,
        }
    }
}

/// A piece that no bar on offer holds, but an offcut does.
#[derive(Clone, Debug)]
pub(super) struct Held {
    pub(super) piece: usize,
    pub(super) offcut: usize,
}

/// The problem.
#[derive(Clone, Debug, Default)]
pub(super) struct Problem {
    /// What is wanted, widest first.
    pub(super) sizes: Vec<Size>,
    /// Offcuts, shortest first, then the bars on offer, those that cost least for their
    /// length first.
    pub(super) bins: Vec<Bin>,
    /// How many of the bins are offcuts.
    pub(super) offcuts: usize,
    /// The unit of widths and capacities, in tenths of a millimetre.
    unit: u64,
    /// What the offcuts held before anything was laid into them.
    whole_offcuts: u64,
    pub(super) held: Vec<Held>,
    pub(super) too_long: Vec<(usize, u32)>,
}

/// So many bars cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Cut {
    /// The kind of bar.
    pub(super) bin: usize,
    /// How many of each size.
    pub(super) counts: Vec<u32>,
    /// How many bars.
    pub(super) times: u32,
}

/// A way to cut everything.
#[derive(Clone, Debug, Default)]
pub(super) struct Plan {
    /// The bars.
    pub(super) cuts: Vec<Cut>,
    /// What they cost, in millionths.
    pub(super) price: u128,
    /// The capacity of all of them: of plans of one price the least is best.
    pub(super) stock: u128,
}

impl Plan {
    /// Whether it costs less, or as much and wastes less.
    pub(super) fn beats(&self, other: &Self) -> bool {
        (self.price, self.stock) < (other.price, other.stock)
    }
}

impl Problem {
    /// The problem of a task; none where it is past counting.
    pub(super) fn new(task: &Task) -> Option<Self> {
        let kerf = u64::from(task.saw.kerf.0);
        let mut problem = Self::default();
        let mut rooms: Vec<u64> = task.offcuts.iter().map(|l| u64::from(l.0) + kerf).collect();
        let mut bars = Vec::with_capacity(task.bars.len());
        for (place, bar) in task.bars.iter().enumerate() {
            let whole = u64::from(bar.length.0);
            let capacity = whole.saturating_sub(2 * u64::from(task.saw.trim.0));
            if capacity > 0 {
                bars.push((capacity + kerf, millionths(bar.price)?, place));
            }
        }
        let longest = bars.iter().map(|bar| bar.0).max().unwrap_or(0);
        let whole_offcuts: u64 = rooms.iter().sum();
        problem.sort_pieces(task, longest, &mut rooms);
        problem.take_unit(longest.max(rooms.iter().copied().max().unwrap_or(0)));
        problem.whole_offcuts = whole_offcuts / problem.unit;
        problem.add_offcuts(&rooms);
        bars.order_by(|a, b| {
            let by_ratio = (a.1 * u128::from(b.0)).cmp(&(b.1 * u128::from(a.0)));
            by_ratio.then(b.0.cmp(&a.0))
        });
        let unit = problem.unit;
        let bin = |(capacity, price, place)| Bin {
            capacity: capacity / unit,
            price,
            offcuts: Vec::new(),
            stock: Stock::New(place),
        };
        problem.bins.extend(bars.into_iter().map(bin));
        Some(problem)
    }

    /// Sorts the pieces into sizes. Those that no bar holds are laid into offcuts, the longest
    /// first, each into the shortest that has room; what is left of them is told.
    fn sort_pieces(&mut self, task: &Task, longest: u64, rooms: &mut [u64]) {
        let kerf = u64::from(task.saw.kerf.0);
        let mut order: Vec<usize> = (0..task.pieces.len()).collect();
        order.order_by_key(|&place| std::cmp::Reverse(task.pieces[place].length));
        for place in order {
            let wanted = task.pieces[place];
            let width = u64::from(wanted.length.0) + kerf;
            let mut left = wanted.count;
            while width > longest && left > 0 {
                let fitting = rooms.iter_mut().enumerate();
                let shortest = fitting
                    .filter(|(_, room)| **room >= width)
                    .min_by_key(|(_, room)| **room);
                let Some((offcut, room)) = shortest else {
                    self.too_long.push((place, left));
                    break;
                };
                *room -= width;
                left -= 1;
                let piece = place;
                self.held.push(Held { piece, offcut });
            }
            if width > longest || left == 0 {
                continue;
            }
            match self.sizes.last_mut().filter(|size| size.width == width) {
                Some(size) => {
                    size.count = size.count.saturating_add(left);
                    size.wanted.push((place, left));
                }
                None => self.sizes.push(Size {
                    width,
                    count: left,
                    wanted: vec![(place, left)],
                }),
            }
        }
    }

    /// States widths in their greatest common divisor; capacities follow, rounded down.
    fn take_unit(&mut self, longest: u64) {
        let widths = self.sizes.iter().map(|size| u128::from(size.width));
        let divisor = widths.fold(0, common) as u64;
        self.unit = if divisor == 0 {
            longest.max(1)
        } else {
            divisor
        };
        for size in &mut self.sizes {
            size.width /= self.unit;
        }
    }

    /// Offcuts of one capacity are one bin; those that hold nothing are none.
    fn add_offcuts(&mut self, rooms: &[u64]) {
        let Some(narrowest) = self.sizes.last().map(|size| size.width) else {
            return;
        };
        let mut order: Vec<usize> = (0..rooms.len()).collect();
        order.order_by_key(|&place| rooms[place]);
        for place in order {
            let capacity = rooms[place] / self.unit;
            if capacity < narrowest {
                continue;
            }
            match self.bins.last_mut().filter(|bin| bin.capacity == capacity) {
                Some(bin) => bin.offcuts.push(place),
                None => self.bins.push(Bin {
                    capacity,
                    price: 0,
                    offcuts: vec![place],
                    stock: Stock::Offcut(place),
                }),
            }
        }
        self.offcuts = self.bins.len();
    }

    /// Whether offcuts hold pieces that no bar does.
    pub(super) fn holds_any(&self) -> bool {
        !self.held.is_empty()
    }

    /// The least price if nothing had been laid into the offcuts yet.
    pub(super) fn least_with_whole_offcuts(&self) -> u128 {
        let rest = self.wanted().saturating_sub(self.whole_offcuts);
        Cover::of(self, &self.capacities()).price(rest)
    }

    /// What each bin holds.
    pub(super) fn capacities(&self) -> Vec<u64> {
        self.bins.iter().map(|bin| bin.capacity).collect()
    }

    /// All widths together.
    pub(super) fn wanted(&self) -> u64 {
        let widths = self.sizes.iter();
        widths.map(|size| size.width * u64::from(size.count)).sum()
    }

    /// How many of each size are wanted.
    pub(super) fn counts(&self) -> Vec<u32> {
        self.sizes.iter().map(|size| size.count).collect()
    }

    /// The widths of so many of each size.
    pub(super) fn load(&self, counts: &[u32]) -> u64 {
        let each = self.sizes.iter().zip(counts);
        each.map(|(size, &count)| size.width * u64::from(count))
            .sum()
    }

    /// The cheapest bar on offer that holds a load, of those the shortest.
    pub(super) fn cheapest(&self, load: u64) -> Option<usize> {
        let fits = |bin: &usize| self.bins[*bin].capacity >= load;
        let by_price = |bin: &usize| (self.bins[*bin].price, self.bins[*bin].capacity);
        (self.offcuts..self.bins.len())
            .filter(fits)
            .min_by_key(by_price)
    }
}

/// A price in millionths; none where it is past counting.
fn millionths(price: Decimal) -> Option<u128> {
    let shifted = price.checked_mul(Decimal::from(10_u32.pow(DIGITS)))?;
    let whole = u64::try_from(shifted.round()).ok()?;
    Some(u128::from(whole))
}

/// The greatest common divisor.
pub(super) fn common(one: u128, other: u128) -> u128 {
    if other == 0 {
        one
    } else {
        common(other, one % other)
    }
}
