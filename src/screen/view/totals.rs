//! The totals under the bill: what all of it comes to, of what that is made up, what of it was
//! spent.

use ratatui::text::Line;
use rust_decimal::Decimal;

use super::paint::Pen;
use crate::bill::Bill;
use crate::money::show as amounts;
use crate::screen::state::State;
use crate::screen::text;

/// The lines; where there is little room, the total alone.
pub(super) fn lines(state: &State, pen: &Pen, width: usize, whole: bool) -> Vec<Line<'static>> {
    let bill = &state.now.bill;
    let code = bill.currency;
    let exact = |amount: Decimal| amounts::exact(amount, code);
    let styled = |phrases: Vec<String>, style| {
        let rows = flowed(pen, &phrases, width).into_iter();
        rows.map(move |row| Line::styled(row, style))
    };
    let mut lines: Vec<Line> = styled(vec![total(bill)], pen.theme.title).collect();
    if !whole {
        lines.truncate(1);
        return lines;
    }
    for sum in sums(bill) {
        lines.extend(styled(vec![sum], PLAIN));
    }
    let made_of = [
        ("goods", bill.goods.likely),
        ("freight", bill.freight.likely),
        ("duty", bill.duty.likely),
        ("tax", bill.tax.likely),
    ];
    let made_of = made_of.map(|(name, amount)| format!("{name} {}", exact(amount)));
    lines.extend(styled(made_of.to_vec(), PLAIN));
    let spent = vec![
        format!("spent {}", exact(bill.spent)),
        format!("to spend {}", exact(bill.to_spend)),
        format!("in the end {}", exact(bill.forecast)),
    ];
    lines.extend(styled(spent, PLAIN));
    let mut rest: Vec<String> = budget(state).into_iter().collect();
    if bill.machines > 1 {
        rest.push(format!(
            "{} machines, each {}",
            bill.machines,
            exact(bill.per_machine())
        ));
    }
    rest.extend(
        bill.invented_percent()
            .map(|share| format!("{share} at invented prices")),
    );
    lines.extend(styled(rest, PLAIN));
    lines
}

/// What all of it comes to.
fn total(bill: &Bill) -> String {
    let total = amounts::exact(bill.total.likely, bill.currency);
    format!(
        "In all {total} {}: each price at its likely value",
        bill.currency
    )
}

/// The other sums, each with what it is.
fn sums(bill: &Bill) -> [String; 3] {
    let estimate = &bill.estimate;
    [
        format!(
            "from {}: every price at its least, every price at its most",
            amounts::range(bill.total)
        ),
        format!(
            "expect {}, 8 times of 10 {} to {}: some dearer, some cheaper",
            amounts::whole(estimate.expected),
            amounts::whole(estimate.low),
            amounts::whole(estimate.high)
        ),
        format!(
            "first cut {}: all that it takes to cut once; the rest can wait",
            amounts::exact(bill.first_cut, bill.currency)
        ),
    ]
}

/// Text as the terminal shows it by itself.
const PLAIN: ratatui::style::Style = ratatui::style::Style::new();

/// What the budget leaves of what is to be expected, as the warning computes it; none without a budget, or where its money has no rate.
fn budget(state: &State) -> Option<String> {
    let bill = &state.now.bill;
    let budget = state.build().area.budget?;
    let amount = state.catalogue.converted(budget, bill.currency)?;
    let left = amount.checked_sub(bill.expected_in_all())?;
    let whole = amounts::whole(amount);
    Some(match left.is_sign_negative() {
        true => format!("budget {whole}: expect {} over", amounts::whole(-left)),
        false => format!("budget {whole}: expect {} left", amounts::whole(left)),
    })
}

/// Phrases in rows, as many in each as fit; a phrase too long for a row is wrapped.
fn flowed(pen: &Pen, phrases: &[String], width: usize) -> Vec<String> {
    const GAP: &str = "   ";
    let mut rows: Vec<String> = Vec::new();
    for phrase in phrases {
        let phrase = pen.spell(phrase);
        match rows.last_mut() {
            Some(row) if text::width(row) + GAP.len() + text::width(&phrase) <= width => {
                row.push_str(GAP);
                row.push_str(&phrase);
            }
            _ => {
                let wrapped = pen.wrap(&phrase, width.saturating_sub(1));
                rows.extend(wrapped.into_iter().map(|line| format!(" {line}")));
            }
        }
    }
    rows
}
