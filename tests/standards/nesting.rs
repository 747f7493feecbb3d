//! Nesting pieces on bars: what the bars cost, against an integer program over all fillings.

use gantrywright::bill::nesting::{OnOffer, Saw, Task, Tenths, Wanted, nest};
use gantrywright::units;
use rust_decimal::Decimal;
use rust_decimal::prelude::{FromPrimitive, ToPrimitive};

use crate::checks::{Check, hold, rows};

const SOLVER: &str = "integer program over all fillings, HiGHS of scipy 1.17.1 (nesting.py)";

/// The stored task of a textbook, larger than any machine's.
const LARGE: &str = "textbook";

pub(crate) fn checks() -> Vec<Check> {
    let mut price = Check::within_absolute("price of the bars that pieces are cut from", 0.0, "")
        .source(SOLVER)
        .limits("straight cuts of whole tenths of a millimetre");
    let mut large = Check::within("219 pieces of 13 lengths from bars of 5600 mm", 1.5)
        .source("textbook task of cutting stock: 73 bars, the same by HiGHS (nesting.py)")
        .limits("beyond some 30 pieces a bar too many may be found; what bars cost at least is told beside it");
    for (name, row) in rows(include_str!("nesting.csv")) {
        let (least, found, _) = solved(&row);
        let check = if name == LARGE {
            &mut large
        } else {
            &mut price
        };
        check.case(name, found, least);
    }
    vec![price, large]
}

#[test]
fn nesting_holds() {
    hold(checks());
}

/// No task is said to cost more than it need, and all of usual size are proven.
#[test]
fn bounds_hold() {
    for (name, row) in rows(include_str!("nesting.csv")) {
        let (least, found, bound) = solved(&row);
        assert!(bound <= least, "{name}: {bound}, least {least}");
        assert!(bound == found || name == LARGE, "{name} is not proven");
    }
}

fn tenths(mm: f64) -> Tenths {
    Tenths::up(units::mm::of(mm))
}

/// The least price of a stored task, ours, and our bound.
fn solved(row: &[f64]) -> (f64, f64, f64) {
    let (head, rest) = row.split_at(4);
    let (bars, rest) = rest.split_at(2 * head[3] as usize);
    let (offcuts, pieces) = rest[1..].split_at(rest[0] as usize);
    let bars: Vec<OnOffer> = bars
        .chunks_exact(2)
        .map(|bar| OnOffer {
            length: tenths(bar[0]),
            price: Decimal::from_f64(bar[1]).expect("a price"),
        })
        .collect();
    let offcuts: Vec<Tenths> = offcuts.iter().copied().map(tenths).collect();
    let pieces: Vec<Wanted> = pieces
        .chunks_exact(2)
        .map(|piece| Wanted {
            length: tenths(piece[0]),
            count: piece[1] as u32,
        })
        .collect();
    let nesting = nest(&Task {
        pieces: &pieces,
        bars: &bars,
        offcuts: &offcuts,
        saw: Saw {
            kerf: tenths(head[1]),
            trim: tenths(head[2]),
        },
    })
    .expect("a small task");
    let plain = |price: Decimal| price.to_f64().expect("a number");
    (head[0], plain(nesting.cost), plain(nesting.bound))
}
