//! What each step costs: a bar for the likely sum, a whisker from the low to the high one.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::Picture;
use super::pen::{EDGE, Fill, LINE, Pen, Rect, Stroke, WIDE};
use crate::bill::Bill;
use crate::catalogue::Step;
use crate::money::{PriceRange, show};
use crate::sheets::Paper;
use crate::words::Words as _;

const TITLE: &str = "Cost by step";
const ABOUT: &str = "The bar is the likely sum of a step's parts; the whisker runs from the sum \
                     of the low prices to that of the high ones.";

/// Draws it.
pub(super) fn picture(paper: &Paper) -> Picture {
    let bill = &paper.assessment.bill;
    let rows = rows(bill);
    let most = rows.iter().map(|(_, sum)| sum.high).max();
    let most = most.filter(|most| !most.is_zero()).unwrap_or(Decimal::ONE);
    let mut pen = Pen::new("cost");
    let mut y = LINE;
    for (name, sum) in &rows {
        y = pen.row((EDGE, y), WIDE - EDGE, name, &value(*sum));
        bar(&mut pen, y - LINE + 5.0, *sum, most);
        y += 23.0;
    }
    let rule = [(EDGE, y - LINE), (WIDE - EDGE, y - LINE)];
    pen.line(&rule, Stroke::Plain);
    y = pen.row(
        (EDGE, y + 2.0),
        WIDE - EDGE,
        "All of it",
        &value(bill.total),
    );
    Picture::new("cost", TITLE, about(paper), pen, y - LINE + 8.0)
}

/// What each step costs, and what comes on top.
pub fn rows(bill: &Bill) -> Vec<(&'static str, PriceRange)> {
    let mut rows: Vec<(&str, PriceRange)> = bill.by_step().iter().map(named).collect();
    let on_top = bill.on_top_rows().map(|(_, name, sum)| (name, sum));
    rows.extend(on_top.into_iter().filter(|(_, sum)| !sum.high.is_zero()));
    rows
}

fn named((step, sum): &(Step, PriceRange)) -> (&'static str, PriceRange) {
    (step.title(), *sum)
}

/// The likely sum, and between which others it lies.
pub fn value(sum: PriceRange) -> String {
    let likely = show::money(sum.likely, sum.currency);
    if sum.low == sum.high {
        likely
    } else {
        format!("{likely} ({})", show::range(sum))
    }
}

/// A bar from nothing to the likely sum with a whisker across.
fn bar(pen: &mut Pen, top: f64, sum: PriceRange, most: Decimal) {
    let wide = WIDE - 2.0 * EDGE;
    let along = |amount: Decimal| EDGE + wide * (amount / most).to_f64().unwrap_or(0.0);
    let bar = Rect(EDGE, top, along(sum.likely) - EDGE, 12.0);
    pen.rect(bar, Fill::Rising, Stroke::Plain);
    let (low, high, middle) = (along(sum.low), along(sum.high), top + 6.0);
    if low == high {
        return;
    }
    pen.line(&[(low, middle), (high, middle)], Stroke::Thick);
    for end in [low, high] {
        let ends = [(end, middle - 4.0), (end, middle + 4.0)];
        pen.line(&ends, Stroke::Thick);
    }
}

fn about(paper: &Paper) -> String {
    match paper.assessment.bill.invented() {
        Some(invented) => format!("{ABOUT} {invented}."),
        None => ABOUT.to_owned(),
    }
}
