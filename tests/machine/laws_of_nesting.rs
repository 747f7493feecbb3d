//! Laws of nesting, over random tasks; the standards compare with an outside solver.

use gantrywright::bill::nesting::{Nesting, OnOffer, Saw, Stock, Task, Tenths, Wanted, nest};
use gantrywright::units;
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

fn mm(length: u32) -> Tenths {
    tenths(length * 10)
}

fn tenths(length: u32) -> Tenths {
    Tenths::up(units::mm::of(f64::from(length) / 10.0))
}

/// A length as the number of tenths that it is.
fn number(length: Tenths) -> u32 {
    let tenths = length.millimetres() * Decimal::TEN;
    tenths.to_u32().expect("a whole number")
}

fn saw() -> Saw {
    Saw {
        kerf: mm(2),
        trim: mm(10),
    }
}

fn wanted(pieces: &[(u32, u32)]) -> Vec<Wanted> {
    let each = pieces.iter().map(|&(length, count)| Wanted {
        length: mm(length),
        count,
    });
    each.collect()
}

fn offered(bars: &[(u32, i64)]) -> Vec<OnOffer> {
    let each = bars.iter().map(|&(length, price)| OnOffer {
        length: mm(length),
        price: Decimal::from(price),
    });
    each.collect()
}

const BARS: &[(u32, i64)] = &[(3000, 60), (6000, 120), (6500, 130)];

fn solved(pieces: &[Wanted], bars: &[OnOffer], offcuts: &[Tenths], saw: Saw) -> Nesting {
    let task = Task {
        pieces,
        bars,
        offcuts,
        saw,
    };
    let nesting = nest(&task).expect("a small task");
    holds(&task, &nesting);
    nesting
}

/// Whatever is nested: each piece is cut once or told of, no bar is overfilled, no offcut is
/// used twice, and the price is that of the new bars and no less than the bound.
fn holds(task: &Task, nesting: &Nesting) {
    let mut left: Vec<u32> = task.pieces.iter().map(|piece| piece.count).collect();
    for &(piece, count) in &nesting.too_long {
        left[piece] -= count;
        let length = task.pieces[piece].length;
        let room = |bar: &OnOffer| number(bar.length).saturating_sub(2 * number(task.saw.trim));
        assert!(task.bars.iter().all(|bar| room(bar) < number(length)));
    }
    let mut cost = Decimal::ZERO;
    let mut used = vec![false; task.offcuts.len()];
    for bar in &nesting.bars {
        let trims = match bar.stock {
            Stock::New(place) => {
                cost += task.bars[place].price * Decimal::from(bar.times);
                2 * number(task.saw.trim)
            }
            Stock::Offcut(place) => {
                assert!(!std::mem::replace(&mut used[place], true), "used twice");
                assert_eq!(bar.times, 1);
                0
            }
        };
        let count: u32 = bar.pieces.iter().map(|(_, count)| count).sum();
        assert!(count > 0, "an empty bar");
        let lengths: u32 = bar
            .pieces
            .iter()
            .map(|&(piece, count)| number(task.pieces[piece].length) * count)
            .sum();
        let least = lengths + (count - 1) * number(task.saw.kerf) + trims;
        assert!(least <= number(bar.length), "{bar:?}");
        let left_over = number(bar.length).saturating_sub(least + number(task.saw.kerf));
        assert_eq!(number(bar.left), left_over, "{bar:?}");
        for &(piece, count) in &bar.pieces {
            left[piece] -= count * bar.times;
        }
    }
    assert!(left.iter().all(|&count| count == 0), "{left:?} left");
    assert_eq!(cost, nesting.cost);
    assert!(nesting.bound <= nesting.cost, "{nesting:?}");
}

#[test]
fn a_bar_that_fits_to_the_last_tenth_is_enough() {
    // 2 x 1489 + 2 of kerf + 20 of trim = 3000.
    let exact = solved(&wanted(&[(1489, 2)]), &offered(BARS), &[], saw());
    assert_eq!((exact.count(), exact.cost), (1, Decimal::from(60)));
    assert_eq!(exact.bars[0].left, Tenths::default());
    let over = wanted(&[(1489, 1), (1490, 1)]);
    assert!(solved(&over, &offered(BARS), &[], saw()).cost > Decimal::from(60));
}

#[test]
fn offcuts_are_filled_before_money_is_spent() {
    let pieces = wanted(&[(700, 2), (1200, 1)]);
    let nesting = solved(&pieces, &offered(BARS), &[mm(1402), mm(1200)], saw());
    assert_eq!(nesting.cost, Decimal::ZERO);
    assert!(nesting.is_proven());
}

#[test]
fn a_piece_longer_than_every_bar_is_told() {
    let pieces = wanted(&[(6481, 1), (7000, 2), (500, 1)]);
    let nesting = solved(&pieces, &offered(BARS), &[mm(7500)], saw());
    assert_eq!(nesting.too_long, [(1, 1), (0, 1)]);
    // The offcut takes a long one, and nothing else goes in.
    assert_eq!(nesting.cost, Decimal::from(60));
    let none = solved(&pieces, &[], &[], saw());
    assert_eq!(none.too_long.len(), 3);
    assert!(none.bars.is_empty() && none.is_proven());
}

#[test]
fn marks_of_one_length_are_kept_apart() {
    let pieces = wanted(&[(700, 2), (700, 3), (700, 100)]);
    let nesting = solved(&pieces, &offered(&[(3000, 60)]), &[], saw());
    // Four go on a bar of 3 m.
    assert_eq!(nesting.count(), 27);
    assert!(nesting.is_proven());
}

#[test]
fn nothing_wanted_costs_nothing() {
    let nesting = solved(&[], &offered(BARS), &[mm(500)], saw());
    assert_eq!(nesting, Nesting::default());
}

#[test]
fn a_saw_that_eats_the_bar_leaves_no_bar() {
    let greedy = Saw {
        kerf: mm(2),
        trim: mm(1500),
    };
    let nesting = solved(&wanted(&[(500, 1)]), &offered(&[(3000, 60)]), &[], greedy);
    assert_eq!(nesting.too_long, [(0, 1)]);
}

#[test]
fn countless_pieces_come_to_an_end() {
    let pieces = wanted(&[(700, u32::MAX), (333, 1_000_003), (90, 17)]);
    let nesting = solved(&pieces, &offered(BARS), &[mm(900); 3], saw());
    assert!(nesting.cost > Decimal::from(u32::MAX));
}

#[test]
fn random_tasks_keep_the_laws() {
    let mut rng = ChaCha8Rng::seed_from_u64(3);
    let mut unproven = 0;
    for _ in 0..300 {
        let kinds = rng.random_range(1..8);
        let pieces: Vec<Wanted> = (0..kinds)
            .map(|_| Wanted {
                length: tenths(rng.random_range(900..68_000)),
                count: rng.random_range(0..6),
            })
            .collect();
        let bars = &offered(BARS)[..rng.random_range(0..4)];
        let saw = Saw {
            kerf: tenths(rng.random_range(0..50)),
            trim: tenths(rng.random_range(0..300)),
        };
        let mut offcuts: Vec<Tenths> = Vec::new();
        let mut before: Option<Nesting> = None;
        for _ in 0..4 {
            let nesting = solved(&pieces, bars, &offcuts, saw);
            unproven += u32::from(!nesting.is_proven());
            if let Some(before) = &before
                && before.too_long == nesting.too_long
            {
                assert!(nesting.cost <= before.cost, "{pieces:?} {offcuts:?}");
            }
            before = Some(nesting);
            offcuts.push(tenths(rng.random_range(500..40_000)));
        }
    }
    assert!(unproven < 60, "{unproven} of 1200 not proven");
}
