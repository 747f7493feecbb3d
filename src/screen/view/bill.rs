//! The bill as a third column: every part with its quantity and price, for reading along.

use ratatui::text::{Line, Span};

use super::ledger;
use super::paint::Pen;
use crate::bill::{Bill, Line as BillLine};
use crate::catalogue::Step;
use crate::money::show as amounts;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::state::State;
use crate::words::Words;

/// The bill beside the pane, as much of it as there is room for.
pub(super) fn column(state: &State, pen: &Pen, width: usize, height: usize) -> Vec<Line<'static>> {
    let after = state
        .preview
        .as_ref()
        .map_or(&state.now.bill, |effect| &effect.after.bill);
    let mut lines = lines(after, pen, width);
    if lines.len() > height {
        let hidden = lines.len() - height.saturating_sub(1);
        lines.truncate(height.saturating_sub(1));
        let key = state.key_for(Place::Choices, Action::Bill);
        lines.push(Line::styled(
            format!(" and {hidden} lines more: {key} opens the whole bill"),
            pen.theme.muted,
        ));
    }
    lines
}

/// Every line of the bill, step by step.
fn lines(bill: &Bill, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let (quantity, price) = (10, 11);
    let name = width.saturating_sub(quantity + price + 3);
    let code = bill.currency;
    let mut lines = vec![Line::from(vec![
        Span::styled(format!(" {}", pen.left("BILL", name)), pen.theme.title),
        Span::styled(pen.right("quantity", quantity), pen.theme.muted),
        Span::styled(pen.right(&format!("likely {code}"), price), pen.theme.muted),
    ])];
    for &step in Step::ALL {
        let sum = bill.of_step(step);
        let head = format!(" {}", pen.left(step.title(), name + quantity));
        lines.push(Line::styled(
            format!(
                "{head}{}",
                pen.right(&amounts::exact(sum.likely, code), price)
            ),
            pen.theme.marked,
        ));
        for line in bill.lines.iter().filter(|line| line.step == step) {
            lines.push(row(line, pen, [name, quantity, price], bill));
        }
    }
    let on_top = format!(
        " {}{}",
        pen.left("Freight, duty and tax on top", name + quantity),
        pen.right(&amounts::exact(bill.on_top(), code), price)
    );
    lines.push(Line::styled(on_top, pen.theme.marked));
    let total = format!(
        " {}{}",
        pen.left("In all", name + quantity),
        pen.right(&amounts::exact(bill.total.likely, code), price)
    );
    lines.push(Line::styled(total, pen.theme.title));
    lines.push(Line::styled(
        format!(" from {} {code}", amounts::range(bill.total)),
        pen.theme.muted,
    ));
    if let Some(never) = bill.never_order() {
        lines.push(Line::styled(format!(" {never}"), pen.theme.muted));
    }
    lines
}

/// One part, its title cut to a row.
fn row(
    line: &BillLine,
    pen: &Pen,
    [name, quantity, price]: [usize; 3],
    bill: &Bill,
) -> Line<'static> {
    let count = ledger::quantity(&pen.speller, line.quantity, line.unit);
    let amount = match line.lacks_price() {
        true => "no price".to_owned(),
        false => amounts::exact(line.total.likely, bill.currency),
    };
    let title = pen.left(&line.title, name.saturating_sub(2));
    let figures = pen.right(&count, quantity) + &pen.right(&amount, price);
    Line::from(format!("   {title}{figures}"))
}
