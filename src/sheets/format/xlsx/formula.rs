//! From what a cell follows from to the formula of a spreadsheet: cells by their places.

use crate::sheets::{Formula, RowKind, Table};
use crate::store::visible;

/// Where the tables stand in the workbook.
pub(super) struct Places<'s> {
    /// Each table with the name of its worksheet.
    pub(super) tables: Vec<(&'s Table, &'s str)>,
    /// The row of the first cell below the headings, from nothing.
    pub(super) first: u32,
}

impl Places<'_> {
    /// The formula of a cell in a row of a table; none where it refers to what is not in this
    /// workbook.
    pub(super) fn formula(&self, formula: &Formula, table: &Table, row: u32) -> Option<String> {
        let inner = |formula: &Formula| self.formula(formula, table, row);
        let all = |each: &[Formula], mark: &str| {
            let each: Option<Vec<String>> = each.iter().map(inner).collect();
            Some(format!("({})", each?.join(mark)))
        };
        Some(match formula {
            Formula::Number(number) => number.to_string(),
            Formula::Here(column) => format!("{}{}", letters(column_of(table, column)?), row + 1),
            Formula::At(name, id, column) => {
                let (other, sheet) = self.table(name)?;
                let place = other.rows.iter().position(|row| row.id == *id)?;
                let letters = letters(column_of(other, column)?);
                let row = self.first + u32::try_from(place).ok()? + 1;
                format!("'{sheet}'!${letters}${row}")
            }
            Formula::Total(name, column) => {
                let parts = self.ranges(name, column)?;
                match parts.is_empty() {
                    true => "0".to_owned(),
                    false => format!("SUM({})", parts.join(",")),
                }
            }
            Formula::TotalWhere(name, column, key, text) => {
                let (sums, keys) = (self.ranges(name, column)?, self.ranges(name, key)?);
                // Compared as texts: SUMIF would read marks in it as a pattern.
                let text = visible(text).replace('"', "\"\"");
                let each = keys
                    .iter()
                    .zip(&sums)
                    .map(|(keys, sums)| format!("SUMPRODUCT(({keys}=\"{text}\")*1,{sums})"));
                let each: Vec<String> = each.collect();
                match each.is_empty() {
                    true => "0".to_owned(),
                    false => format!("({})", each.join("+")),
                }
            }
            Formula::Plus(each) => all(each, "+")?,
            Formula::Times(each) => all(each, "*")?,
            Formula::Over(one, other) => format!("({}/{})", inner(one)?, inner(other)?),
            Formula::Rounded(one, digits) => format!("ROUND({},{digits})", inner(one)?),
        })
    }

    fn table(&self, name: &str) -> Option<(&Table, &str)> {
        let found = self.tables.iter().find(|(table, _)| table.id == name);
        found.map(|(table, sheet)| (*table, *sheet))
    }

    /// The cells of a column in the entries of a table: one range for each run of rows between
    /// sums. Headings among them hold no numbers.
    fn ranges(&self, name: &str, column: &str) -> Option<Vec<String>> {
        let (table, sheet) = self.table(name)?;
        let letters = letters(column_of(table, column)?);
        let mut ranges: Vec<(u32, u32)> = Vec::new();
        let mut open = false;
        for (row, number) in table.rows.iter().zip(self.first + 1..) {
            match (row.kind, ranges.last_mut()) {
                (RowKind::Sum, _) => open = false,
                (_, Some(last)) if open => last.1 = number,
                _ => {
                    ranges.push((number, number));
                    open = true;
                }
            }
        }
        let each = ranges.into_iter();
        Some(
            each.map(|(from, to)| format!("'{sheet}'!${letters}${from}:${letters}${to}"))
                .collect(),
        )
    }
}

fn column_of(table: &Table, column: &str) -> Option<usize> {
    table.columns.iter().position(|one| one.id == column)
}

/// The letters of a column: A to Z, then AA.
fn letters(column: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = column + 1;
    while rest > 0 {
        rest -= 1;
        letters.push(char::from(
            b'A' + u8::try_from(rest % 26).unwrap_or_default(),
        ));
        rest /= 26;
    }
    letters.iter().rev().collect()
}

#[cfg(test)]
mod tests {
    use super::letters;

    #[test]
    fn columns_have_their_letters() {
        assert_eq!(letters(0), "A");
        assert_eq!(letters(25), "Z");
        assert_eq!(letters(26), "AA");
        assert_eq!(letters(701), "ZZ");
        assert_eq!(letters(702), "AAA");
    }
}
