//! What a table on a sheet is made of: typed cells, so that each format can write them as it
//! does best. A cell that follows from others says how, so that a spreadsheet can go on
//! computing with it.

use std::borrow::Cow;

use rust_decimal::Decimal;

use super::spelled::Inches;
use crate::catalogue::Unit;
use crate::money::Money;

/// One table.
#[derive(Clone, Debug, Default)]
pub struct Table {
    /// Its name in file names, sheets of a workbook and formulas: kebab-case.
    pub id: &'static str,
    /// Its heading.
    pub title: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows; each has a cell for every column.
    pub rows: Vec<Row>,
}

/// One column.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// Its name in JSON, CSV and formulas: snake_case, with the unit.
    pub id: &'static str,
    /// Its heading, short, with the unit.
    pub title: &'static str,
    /// What stands in it.
    pub shape: Shape,
    /// Where narrow formats put it.
    pub narrow: Narrow,
    /// What it does where inches are set.
    pub inches: Inches,
    /// The unit in its heading and the one that stands for it; one that is put behind the
    /// heading where the first is empty. None where the heading is right as it is.
    pub swap: Option<(&'static str, &'static str)>,
    /// Whether its words hold plain digits, to be put in groups as those of numbers are.
    pub has_digits: bool,
}

/// Where a column stands in formats of 80 columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Narrow {
    /// Beside the others.
    Beside,
    /// On a line of its own below the row.
    Below,
    /// Nowhere: a heading or another column says enough.
    Hidden,
}

/// What stands in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Words; in narrow formats these columns wrap.
    Text,
    /// Numbers, to the right.
    Number,
    /// Amounts, to the right.
    Money,
    /// A tick or an empty box.
    Tick,
    /// Left empty, to be written on by hand, with a line.
    ByHand,
}

/// One row.
#[derive(Clone, Debug)]
pub struct Row {
    /// What kind of row.
    pub kind: RowKind,
    /// Its name for formulas and for reading back; empty where nothing refers to it.
    pub id: String,
    /// Its cells.
    pub cells: Vec<Cell>,
}

/// What kind of row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowKind {
    /// An entry.
    Entry,
    /// A heading over the entries that follow; only its first cell is filled.
    Heading,
    /// A sum of entries.
    Sum,
}

/// One cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Nothing.
    Empty,
    /// Words.
    Text(String),
    /// A number to so many decimals.
    Number(f64, usize),
    /// How many of something, or the how manieth: whole in every format.
    Count(u64),
    /// An exact number.
    Exact(Decimal),
    /// An exact rate in percent, which people read to three decimals.
    Rate(Decimal),
    /// An amount.
    Money(Money),
    /// The unit of so many; one word for programs, whatever the count.
    Unit(Unit, Decimal),
    /// Done or not.
    Tick(bool),
    /// To be written on.
    ByHand,
    /// What follows from other cells, and how.
    Worked(Box<Cell>, Formula),
}

/// How a cell follows from others, for spreadsheets.
#[derive(Clone, Debug, PartialEq)]
pub enum Formula {
    /// A number.
    Number(Decimal),
    /// Another cell of the same row, by its column.
    Here(&'static str),
    /// A cell of a table (this workbook's), by row and column.
    At(&'static str, String, &'static str),
    /// The sum of a column of a table over its entries.
    Total(&'static str, &'static str),
    /// The sum of a column of a table over the entries whose cell in the second column holds
    /// the text.
    TotalWhere(&'static str, &'static str, &'static str, String),
    /// A sum.
    Plus(Vec<Formula>),
    /// A product.
    Times(Vec<Formula>),
    /// A quotient.
    Over(Box<Formula>, Box<Formula>),
    /// Rounded to so many decimals, halves away from zero.
    Rounded(Box<Formula>, u32),
}

impl Cell {
    /// Words.
    pub fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    /// How many of something.
    pub fn count(count: impl Into<u64>) -> Self {
        Self::Count(count.into())
    }

    /// The number of the entry in this place of a list: the first is 1.
    pub fn place(place: usize) -> Self {
        Self::Count(place as u64 + 1)
    }

    /// A number to so many decimals; nothing where it is none.
    pub fn finite(number: f64, decimals: usize) -> Self {
        match number.is_finite() {
            true => Self::Number(number, decimals),
            false => Self::Empty,
        }
    }

    /// How people read it; plain digits without marks between thousands.
    pub fn shown(&self) -> String {
        match self {
            Self::Empty => String::new(),
            Self::Text(text) => text.clone(),
            Self::Number(number, decimals) => format!("{number:.decimals$}"),
            Self::Count(count) => count.to_string(),
            Self::Exact(number) => number.to_string(),
            Self::Rate(rate) => rate.round_dp(3).normalize().to_string(),
            Self::Money(money) => {
                let least = money.currency.decimals();
                let mut amount = money.amount.normalize();
                // A screw costs fractions of a coin.
                if amount.scale() < least {
                    amount.rescale(least);
                }
                amount.round_dp(least.max(4)).to_string()
            }
            Self::Unit(unit, count) => unit.behind(*count).to_owned(),
            Self::Tick(true) => "[x]".to_owned(),
            Self::Tick(false) => "[ ]".to_owned(),
            Self::ByHand => "______".to_owned(),
            Self::Worked(value, _) => value.shown(),
        }
    }

    /// The value, whatever it follows from.
    pub fn value(&self) -> &Cell {
        match self {
            Self::Worked(value, _) => value.value(),
            plain => plain,
        }
    }
}

impl Column {
    /// A column.
    pub const fn new(id: &'static str, title: &'static str, shape: Shape) -> Self {
        Self {
            id,
            title,
            shape,
            narrow: Narrow::Beside,
            inches: Inches::Turned,
            swap: None,
            has_digits: false,
        }
    }

    /// Its heading as people read it.
    pub fn heading(&self) -> Cow<'static, str> {
        let Some((from, to)) = self.swap else {
            return Cow::Borrowed(self.title);
        };
        let mut words: Vec<&str> = self.title.split(' ').collect();
        match from {
            "" if !words.contains(&to) => words.push(to),
            _ => (words.iter_mut().filter(|word| **word == from)).for_each(|word| *word = to),
        }
        Cow::Owned(words.join(" "))
    }

    /// The same, metric whatever is set: what is sold or made by that size.
    pub const fn kept(self) -> Self {
        Self {
            inches: Inches::Kept,
            ..self
        }
    }

    /// The same, with inches beside it where they are set.
    pub const fn beside_inches(self) -> Self {
        Self {
            inches: Inches::Beside,
            ..self
        }
    }

    /// The same, its words with plain digits in them: programs read those as they are.
    pub const fn with_digits(self) -> Self {
        Self {
            has_digits: true,
            ..self
        }
    }

    /// The same, on a line of its own below the row in narrow formats.
    pub const fn aside(self) -> Self {
        Self {
            narrow: Narrow::Below,
            ..self
        }
    }

    /// The same, left out of narrow formats.
    pub const fn wide_only(self) -> Self {
        Self {
            narrow: Narrow::Hidden,
            ..self
        }
    }
}

impl Row {
    /// An entry.
    pub fn entry(id: impl Into<String>, cells: Vec<Cell>) -> Self {
        Self {
            kind: RowKind::Entry,
            id: id.into(),
            cells,
        }
    }

    /// A sum of entries.
    pub fn sum(id: impl Into<String>, cells: Vec<Cell>) -> Self {
        Self {
            kind: RowKind::Sum,
            ..Self::entry(id, cells)
        }
    }

    /// A sum with cells in some columns, by their names, and nothing in the others.
    pub fn sum_in<const SOME: usize>(
        id: impl Into<String>,
        columns: &[Column],
        some: [(&str, Cell); SOME],
    ) -> Self {
        let mut cells = vec![Cell::Empty; columns.len()];
        for (name, cell) in some {
            if let Some(place) = columns.iter().position(|column| column.id == name) {
                cells[place] = cell;
            }
        }
        Self::sum(id, cells)
    }

    /// A heading over entries, of a table with so many columns.
    pub fn heading(title: impl Into<String>, columns: usize) -> Self {
        let mut cells = vec![Cell::Empty; columns];
        if let Some(first) = cells.first_mut() {
            *first = Cell::text(title);
        }
        Self {
            kind: RowKind::Heading,
            ..Self::entry("", cells)
        }
    }
}
