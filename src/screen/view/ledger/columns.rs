//! The columns of the bill, by the room that there is.

use crate::screen::view::paint::Pen;

/// Columns of a quantity with its unit: `12.5 pieces` has room.
const QUANTITY: usize = 9;
/// Columns of an amount.
pub(super) const AMOUNT: usize = 10;
/// Columns of a status, the longest of which is `part arrived`.
const STATUS: usize = 12;
/// Columns of what a price rests on.
const BASIS: usize = 8;
/// Columns of a range of prices.
const RANGE: usize = 18;

/// The columns that there is room for, by the width of the page.
#[derive(Clone, Copy)]
pub(super) struct Columns {
    /// Columns of the title.
    pub(super) title: usize,
    /// Columns of the supplier.
    pub(super) supplier: usize,
    /// Whether there is the status.
    pub(super) status: bool,
    /// Whether there is what the price rests on.
    pub(super) basis: bool,
    /// Whether there is what was paid.
    pub(super) paid: bool,
    /// Whether there is the range.
    pub(super) range: bool,
}

impl Columns {
    /// Those for a width.
    pub(super) fn of(width: usize) -> Self {
        let (status, wide, widest) = (width >= 72, width >= 110, width >= 160);
        let supplier = match width {
            ..110 => 0,
            110..160 => 22,
            _ => 36,
        };
        let mut taken = 2 + QUANTITY + 1 + AMOUNT + 1;
        for (shown, columns) in [
            (status, STATUS + 1),
            (wide, BASIS + 1 + AMOUNT + 1 + supplier + 1),
            (widest, RANGE + 1),
        ] {
            if shown {
                taken += columns;
            }
        }
        Self {
            title: width.saturating_sub(taken),
            supplier,
            status,
            basis: wide,
            paid: wide,
            range: widest,
        }
    }

    /// One row of texts in these columns.
    pub(super) fn row(&self, pen: &Pen, cells: &Cells) -> String {
        let mut row = pen.left(&cells.title, self.title);
        let mut left = |text: &str, columns: usize| {
            row.push(' ');
            row.push_str(&pen.left(text, columns));
        };
        if self.supplier > 0 {
            left(&cells.supplier, self.supplier);
        }
        if self.status {
            left(&cells.status, STATUS);
        }
        if self.basis {
            left(&cells.basis, BASIS);
        }
        let mut right = |text: &str, columns: usize| {
            row.push(' ');
            row.push_str(&pen.right(text, columns));
        };
        right(&cells.quantity, QUANTITY);
        if self.range {
            right(&cells.range, RANGE);
        }
        if self.paid {
            right(&cells.paid, AMOUNT);
        }
        right(&cells.likely, AMOUNT);
        row
    }
}

/// What stands in a row.
#[derive(Clone, Default)]
pub(super) struct Cells {
    /// The title of the part, or what else the row is about.
    pub(super) title: String,
    /// From whom it comes.
    pub(super) supplier: String,
    /// How far its purchase has come.
    pub(super) status: String,
    /// What its price rests on.
    pub(super) basis: String,
    /// How much of it, with the unit.
    pub(super) quantity: String,
    /// From the low to the high price of all of it.
    pub(super) range: String,
    /// What was paid of it.
    pub(super) paid: String,
    /// The likely price of all of it.
    pub(super) likely: String,
}
