//! The bill as a page to work in: rows under headings with a cursor, and the totals below,
//! which never scroll away.

use ratatui::style::Style;
use ratatui::text::Line;
use rust_decimal::Decimal;

use super::paint::{Pen, under_cursor};
use super::split::rule;
use super::totals;
use crate::bill::Line as BillLine;
use crate::catalogue::supplier::Supplier;
use crate::catalogue::{Part as _, Unit};
use crate::money::Currency;
use crate::money::show as amounts;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::ledger::{Entry, Row, Show, supplier_of};
use crate::screen::state::State;
use crate::screen::text;
use crate::units::respell::Speller;
use crate::units::show;
use crate::words::Words as _;

mod columns;

use columns::{AMOUNT, Cells, Columns};

/// Rows of the page from which on all totals stand below it.
const ROOMY: usize = 16;

/// Title and lines of the page.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    height: Option<usize>,
    finding: bool,
) -> (String, Vec<Line<'static>>) {
    let ledger = &state.ledger;
    let count = ledger.entries().len();
    let place = match count {
        0 => "no line".to_owned(),
        _ => format!("{} of {count}", ledger.cursor + 1),
    };
    let word = ledger.word.value();
    let found = match word.is_empty() || finding {
        true => String::new(),
        false => format!(", with \"{word}\""),
    };
    let title = format!(
        "Bill {}, {}{found}: {place}",
        ledger.sort.title(),
        ledger.show.title()
    );
    let columns = Columns::of(width);
    let mut lines = vec![match finding {
        true => pen.find_field(&state.ledger.word, width),
        false => head(state, pen, &columns),
    }];
    let height = height.unwrap_or(usize::MAX);
    let totals = totals::lines(state, pen, width, height >= ROOMY);
    let room = height.saturating_sub(lines.len() + totals.len() + 1).max(1);
    let (rows, below) = rows(state, pen, &columns, room);
    lines.extend(rows);
    lines.push(rule(pen, width, below, false));
    lines.extend(totals);
    (title, lines)
}

/// The names of the columns.
fn head(state: &State, pen: &Pen, columns: &Columns) -> Line<'static> {
    let cells = Cells {
        title: "part".to_owned(),
        supplier: "supplier".to_owned(),
        status: "status".to_owned(),
        basis: "price is".to_owned(),
        quantity: "quantity".to_owned(),
        range: "low to high".to_owned(),
        paid: "paid".to_owned(),
        likely: format!("likely {}", state.now.bill.currency),
    };
    Line::styled(format!("  {}", columns.row(pen, &cells)), pen.theme.muted)
}

/// The rows around the cursor that there is room for, and how many are below.
fn rows(state: &State, pen: &Pen, columns: &Columns, room: usize) -> (Vec<Line<'static>>, usize) {
    let rows = &state.ledger.rows;
    let current = state.ledger.current();
    let is_here = |row: &Row| matches!(row, Row::Entry(entry) if Some(entry) == current);
    let Some(cursor) = rows.iter().position(is_here) else {
        let key = state.key_for(Place::Bill, Action::Show);
        let why = match state.ledger.show {
            Show::All => "  Nothing fits.".to_owned(),
            Show::NoPrice if state.ledger.word.value().is_empty() => {
                format!("  Every line has a price; {key} lists others.")
            }
            _ => format!("  Nothing fits; {key} lists others."),
        };
        return (padded(vec![Line::from(why)], room), 0);
    };
    let block = |place: usize| lines_of(state, pen, columns, &rows[place], place == cursor);
    let mut lines = block(cursor);
    let mut first = cursor;
    // Half of the room above the cursor, and what the rows below it leave.
    let below: usize = (cursor + 1..rows.len())
        .map(|place| block(place).len())
        .take(room)
        .sum();
    let above = (room / 2).max(room.saturating_sub(lines.len() + below));
    while first > 0 {
        let more = block(first - 1);
        if lines.len() + more.len() > above.max(block(cursor).len()) {
            break;
        }
        lines.splice(0..0, more);
        first -= 1;
    }
    let mut next = cursor + 1;
    while next < rows.len() {
        let more = block(next);
        if lines.len() + more.len() > room {
            break;
        }
        lines.extend(more);
        next += 1;
    }
    (padded(lines, room), rows.len() - next)
}

/// Exactly as many lines as there is room for; where nothing says how many, as there are.
fn padded(mut lines: Vec<Line<'static>>, room: usize) -> Vec<Line<'static>> {
    if room < usize::from(u16::MAX) {
        lines.resize(room, Line::default());
    }
    lines
}

/// A row; a title too long for its column takes more than one line.
fn lines_of(
    state: &State,
    pen: &Pen,
    columns: &Columns,
    row: &Row,
    here: bool,
) -> Vec<Line<'static>> {
    let (cells, style) = match row {
        Row::Head(title, sum) => return headed(state, pen, columns, (title, *sum)),
        Row::Entry(entry) => (cells(state, entry, columns.range), Style::new()),
    };
    let titles = pen.wrap(&cells.title, columns.title);
    let sellers = match columns.supplier {
        0 => Vec::new(),
        columns => pen.wrap(&cells.supplier, columns),
    };
    let mut lines = Vec::new();
    for place in 0..titles.len().max(sellers.len()).max(1) {
        let at = |texts: &[String]| texts.get(place).cloned().unwrap_or_default();
        let rest = match place {
            0 => cells.clone(),
            _ => Cells::default(),
        };
        let part = Cells {
            title: at(&titles),
            supplier: at(&sellers),
            ..rest
        };
        let arrow = if here && place == 0 { ">" } else { " " };
        let line = Line::styled(format!("{arrow} {}", columns.row(pen, &part)), style);
        lines.push(match here {
            true => under_cursor(line, pen.theme.selected),
            false => line,
        });
    }
    lines
}

/// A heading with the sum of what stands under it.
fn headed(
    state: &State,
    pen: &Pen,
    columns: &Columns,
    (title, sum): (&str, Decimal),
) -> Vec<Line<'static>> {
    let row = text::width(&columns.row(pen, &Cells::default()));
    let room = row.saturating_sub(AMOUNT);
    let amount = amounts::exact(sum, state.now.bill.currency);
    let titles = pen.wrap(title, room).into_iter().enumerate();
    let lines = titles.map(|(place, title)| {
        let amount = if place == 0 { amount.as_str() } else { "" };
        let line = format!(" {} {}", pen.left(&title, room), pen.right(amount, AMOUNT));
        Line::styled(line, pen.theme.marked)
    });
    lines.collect()
}

/// A supplier by its short name, or by its whole one where there is room.
fn called(supplier: &Supplier, wide: bool) -> String {
    let name = if wide {
        supplier.title()
    } else {
        supplier.short()
    };
    name.to_owned()
}

/// What was paid; nothing where nothing was.
fn paid(amount: Decimal, currency: Currency) -> String {
    match amount.is_zero() {
        true => String::new(),
        false => amounts::exact(amount, currency),
    }
}

/// The row of a part.
fn part(state: &State, line: &BillLine, title: String, wide: bool) -> Cells {
    let code = state.now.bill.currency;
    let seller = supplier_of(&state.catalogue, line);
    let basis = line.price.as_ref().map(|price| price.basis.title());
    let unknown = line.lacks_price();
    Cells {
        title,
        supplier: seller.map_or_else(String::new, |one| called(one, wide)),
        status: line.status.title().to_owned(),
        basis: basis.unwrap_or("none").to_owned(),
        quantity: quantity(&state.speller, line.quantity, line.unit),
        range: amounts::range(line.total),
        paid: paid(line.paid, code),
        likely: match unknown {
            true => "no price".to_owned(),
            false => amounts::exact(line.total.likely, code),
        },
    }
}

fn cells(state: &State, entry: &Entry, wide: bool) -> Cells {
    let bill = &state.now.bill;
    let exact = |amount: Decimal| amounts::exact(amount, bill.currency);
    let paid = |amount: Decimal| paid(amount, bill.currency);
    let title = entry.title(&state.catalogue);
    match entry {
        Entry::Part(..) => match entry.line(&state.now) {
            Some(line) => part(state, line, title, wide),
            None => Cells::default(),
        },
        Entry::Way(_) => {
            let Some(one) = entry.consignment(&state.now) else {
                return Cells::default();
            };
            let on_top = one.on_top().unwrap_or(one.freight);
            let parcels = match one.parcels {
                1 => "1 parcel".to_owned(),
                many => format!("{many} parc."),
            };
            Cells {
                title,
                quantity: parcels,
                range: amounts::range(on_top),
                paid: paid(one.paid),
                likely: exact(on_top.likely),
                ..Cells::default()
            }
        }
        Entry::Unused(id) => {
            let all = bill.unchosen.iter();
            let own = all.filter(|one| one.what == *id).map(|one| one.paid);
            let spent: Decimal = own.sum();
            let status = entry
                .purchase(state.build())
                .map(|one| one.status().title());
            Cells {
                title,
                status: status.unwrap_or_default().to_owned(),
                paid: paid(spent),
                likely: exact(spent),
                ..Cells::default()
            }
        }
    }
}

/// A quantity with its unit; pieces need none. It stays in the unit by which the part is sold,
/// since prices are of one of that, and what is in hand or has arrived is typed in it.
pub(in crate::screen) fn quantity(speller: &Speller, amount: Decimal, unit: Unit) -> String {
    match unit {
        Unit::Piece => show::quantity(amount),
        unit => {
            let text = format!("{} {}", show::quantity(amount), unit.title());
            speller.metric().spell(&text).into_owned()
        }
    }
}
