//! One line of the bill in full: what was written down about it, then why so many, where its
//! price comes from, what was asked and paid, and what comes on top.

use ratatui::text::{Line, Span};
use rust_decimal::Decimal;

use super::ledger::quantity;
use super::paint::{Pen, under_cursor};
use crate::build::purchases::Status;
use crate::catalogue::prices::{Basis, OnTop};
use crate::catalogue::{PartKind, Unit};
use crate::money::Money;
use crate::money::show as amounts;
use crate::screen::form::each;
use crate::screen::ledger::{Asked, Entry, supplier_of};
use crate::screen::state::State;
use crate::units::{self, show};
use crate::words::Words as _;

mod words;

use words::{money, payment, price, quoted, seller};

/// Columns of the names of fields.
pub(super) const NAME: usize = 14;

/// Title, lines, and how far they are scrolled: the cursor walks the fields, then the text.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    entry: &Entry,
    stop: usize,
) -> (String, Vec<Line<'static>>, usize) {
    let asked = entry.asked(state.build());
    let mut lines = Vec::new();
    for (place, what) in asked.iter().enumerate() {
        let here = place == stop;
        let value = value(state, entry, *what);
        let room = width.saturating_sub(NAME + 3);
        for (row, text) in pen.wrap(&value, room).into_iter().enumerate() {
            let name = if row == 0 { what.title() } else { "" };
            let arrow = if here && row == 0 { ">" } else { " " };
            let line = Line::from(vec![
                Span::styled(format!("{arrow} {}", pen.left(name, NAME)), pen.theme.title),
                Span::raw(pen.left(&text, room)),
            ]);
            lines.push(match here {
                true => under_cursor(line, pen.theme.selected),
                false => line,
            });
        }
    }
    lines.push(Line::default());
    // The price of 1 m is that of no 3 ft.
    let metric = pen.metric();
    for (head, text) in details(state, entry) {
        let room = width.saturating_sub(NAME + 3);
        for (row, text) in pen.wrap(&text, room).into_iter().enumerate() {
            let name = if row == 0 { head } else { "" };
            let name = metric.left(name, NAME);
            lines.push(Line::from(vec![
                Span::styled(format!("  {name}"), pen.theme.muted),
                Span::raw(text),
            ]));
        }
    }
    let top = (stop + 1).saturating_sub(asked.len());
    (entry.title(&state.catalogue), lines, top)
}

/// What a field says now.
fn value(state: &State, entry: &Entry, asked: Asked) -> String {
    let build = state.build();
    let purchase = entry.purchase(build);
    let nothing = |text: &str| text.to_owned();
    match asked {
        Asked::Price => match purchase.and_then(|one| one.quote()) {
            Some(quote) => quoted(state, entry, quote),
            None => nothing("nobody was asked yet"),
        },
        Asked::Payment => paid(state, entry),
        Asked::Status => purchase
            .map_or(Status::ToBuy, |one| one.status())
            .title()
            .to_owned(),
        Asked::Have => in_hand(state, entry),
        Asked::Supplier => match purchase.and_then(|one| one.supplier.as_ref()) {
            Some(id) => seller(state, id),
            None => {
                let line = entry.line(&state.now);
                let own = line.and_then(|line| supplier_of(&state.catalogue, line));
                own.map_or_else(
                    || nothing("not known"),
                    |one| format!("{}, as the price says", one.title),
                )
            }
        },
        Asked::Order => order(state, entry),
        Asked::Arrived => arrived(state, entry),
        Asked::Expected => match purchase.and_then(|one| one.expected) {
            Some(day) => day.to_string(),
            None => nothing("not said"),
        },
        Asked::Note => entry.note(build).unwrap_or("none").to_owned(),
    }
}

fn paid(state: &State, entry: &Entry) -> String {
    let payments = entry.payments(state.build());
    let bill = &state.now.bill;
    let exact = |amount: Decimal| money(Money::new(amount, bill.currency));
    let (paid, likely) = match entry {
        Entry::Part(..) => match entry.line(&state.now) {
            Some(line) => (line.paid, line.total.likely),
            None => return "it is no longer on the bill".to_owned(),
        },
        Entry::Way(_) => match entry.consignment(&state.now) {
            Some(one) => (one.paid, one.on_top().map_or(one.paid, |sum| sum.likely)),
            None => return "it is no longer on the bill".to_owned(),
        },
        Entry::Unused(id) => {
            let own = bill.unchosen.iter().filter(|one| one.what == *id);
            let sum: Decimal = own.map(|one| one.paid).sum();
            return format!("{}, and no line needs it", exact(sum));
        }
    };
    match payments.is_empty() {
        true => format!("nothing yet of {}", exact(likely)),
        false if paid == likely => format!("{}: all of it", exact(paid)),
        false => format!("{} of {}", exact(paid), exact(likely)),
    }
}

fn in_hand(state: &State, entry: &Entry) -> String {
    let Some(line) = entry.line(&state.now) else {
        return "no line needs it".to_owned();
    };
    let said = entry.purchase(state.build()).and_then(|one| one.have);
    let quantity = |amount| quantity(&state.speller, amount, line.unit);
    let needed = quantity(line.needed);
    let is_here = entry
        .purchase(state.build())
        .is_some_and(|one| one.status().is_here());
    match (said, line.have.is_zero()) {
        (None, true) if is_here => format!("what was bought: {}", quantity(line.buy)),
        (None, true) => format!("nothing of {needed}"),
        (None, false) => format!("all that is needed: {needed}"),
        (Some(have), _) => format!("{} of {needed}", quantity(have)),
    }
}

fn order(state: &State, entry: &Entry) -> String {
    let Some(purchase) = entry.purchase(state.build()) else {
        return "not ordered".to_owned();
    };
    let mut parts: Vec<String> = Vec::new();
    parts.extend(purchase.order.clone());
    if let Some(ordered) = purchase.ordered {
        parts.push(format!("{} ordered", show::quantity(ordered)));
    }
    if let Some(day) = purchase.ordered_on {
        parts.push(format!("on {day}"));
    }
    match parts.is_empty() {
        true if purchase.status().is_committed() => "no number or day is known".to_owned(),
        true => "not ordered".to_owned(),
        false => parts.join(", "),
    }
}

/// How much of the order has arrived.
fn arrived(state: &State, entry: &Entry) -> String {
    let Some(purchase) = entry.purchase(state.build()) else {
        return "nothing is on its way".to_owned();
    };
    let bought = entry.line(&state.now).map(|line| line.buy);
    let ordered = purchase.ordered.or(bought).map(show::quantity);
    match (purchase.received, purchase.status()) {
        (Some(received), _) => match ordered {
            Some(ordered) => format!("{} of {ordered}", show::quantity(received)),
            None => show::quantity(received),
        },
        (None, Status::Ordered) => "nothing yet".to_owned(),
        (None, Status::PartArrived) => "some of it; how much is not said".to_owned(),
        (None, status) if status.is_committed() => "all of it".to_owned(),
        (None, _) => "nothing is on its way".to_owned(),
    }
}

/// What stands below the fields: a name and a text each.
fn details(state: &State, entry: &Entry) -> Vec<(&'static str, String)> {
    let build = state.build();
    let mut told: Vec<(&'static str, String)> = Vec::new();
    if let Some(line) = entry.line(&state.now) {
        told.extend(of_line(state, entry, line));
        if let Some(purchase) = entry.purchase(build)
            && purchase.quotes.len() > 1
        {
            let earlier = purchase.quotes.iter().rev().skip(1);
            told.extend(earlier.map(|quote| ("Before that", quoted(state, entry, quote))));
        }
    }
    let payments = entry.payments(build).iter();
    told.extend(payments.map(|one| ("Payment", payment(one))));
    if let Some(one) = entry.consignment(&state.now) {
        told.extend(on_top(state, entry, one));
    }
    told
}

fn of_line(state: &State, entry: &Entry, line: &crate::bill::Line) -> Vec<(&'static str, String)> {
    let code = state.now.bill.currency;
    let mut told = vec![("Why so many", line.why.to_string())];
    let packs = match line.quantity > line.needed {
        true => ", rounded up as it is sold",
        false => "",
    };
    let bought = format!(
        "{} needed, {} to buy{packs}",
        quantity(&state.speller, line.needed, line.unit),
        quantity(&state.speller, line.buy, line.unit)
    );
    told.push(("Quantity", bought));
    let one = |amount| price(Money::new(show::rounded(amount, 4), code));
    match &line.price {
        Some(price) => {
            let range = price.range;
            let amount = match range.low == range.high {
                true => one(range.likely),
                false => format!(
                    "likely {}, from {} to {}",
                    one(range.likely),
                    one(range.low),
                    one(range.high)
                ),
            };
            let used = if price.used { ", second-hand" } else { "" };
            let unit = each(line.unit);
            // What was paid says more than what was named before it.
            let settled = (price.basis == Basis::Paid && !line.paid.is_zero())
                .then(|| line.total.likely.checked_div(line.buy))
                .flatten();
            let text = match settled {
                Some(paid) => format!("{} {unit}{used}, as paid", one(paid)),
                None => format!(
                    "{amount} {unit}{used}; {} of {}",
                    price.basis.title(),
                    price.date
                ),
            };
            told.push((priced(line.unit), text));
        }
        None => told.push((priced(line.unit), "nobody named one".to_owned())),
    }
    let likely = money(Money::new(line.total.likely, code));
    let all = match line.total.low == line.total.high {
        true => likely,
        false => format!("{likely}, from {}", amounts::range(line.total)),
    };
    told.push(("All of it", all));
    told.extend(offcuts(state, line));
    let first = match line.first_cut {
        true => "needed",
        false => "can wait until after it",
    };
    told.push(("First cut", first.to_owned()));
    told.extend(turn(state, entry, line));
    told
}

/// What the price of one unit is called.
pub(super) fn priced(unit: Unit) -> &'static str {
    match unit {
        Unit::Piece => "Price of one",
        Unit::Metre => "Price of 1 m",
        Unit::Kilogram => "Price of 1 kg",
        Unit::Litre => "Price of 1 l",
        Unit::KilowattHour => "Price of 1 kWh",
    }
}

/// Lengths of a tube that lie in the workshop, and where they are written down.
fn offcuts(state: &State, line: &crate::bill::Line) -> Option<(&'static str, String)> {
    if line.kind != PartKind::Tube {
        return None;
    }
    let known = state.build().purchases.offcuts.get(&line.part);
    let known = known.filter(|lengths| !lengths.is_empty());
    let text = match known {
        Some(lengths) => {
            let each = lengths.iter().map(|one| units::mm::from(*one).round());
            let each: Vec<String> = each.map(|mm| mm.to_string()).collect();
            format!("{} mm in hand", each.join(", "))
        }
        None => format!(
            "none known; lengths that you have go into the file: [offcuts_mm] {} = [1200, 640]",
            line.part
        ),
    };
    Some(("Offcuts", text))
}

/// When its stage of buying is ordered, and why then.
fn turn(state: &State, entry: &Entry, line: &crate::bill::Line) -> Option<(&'static str, String)> {
    // What is bought or in hand waits for nothing any more.
    if line.status.is_committed() || line.status == Status::HaveIt {
        return None;
    }
    let place = entry.place(&state.now)?;
    let mut stages = state.now.bill.ordering.stages.iter();
    let stage = stages.find(|stage| stage.lines.contains(&place))?;
    let mut text = format!("{}: {}", stage.title, stage.state.title());
    if !stage.waits_for.is_empty() {
        text += &format!("; first: {}", stage.waits_for.join("; "));
    }
    Some(("When", format!("{text}. {}", stage.why)))
}

/// What comes on top of the goods of its supplier.
fn on_top(
    state: &State,
    entry: &Entry,
    one: &crate::bill::Consignment,
) -> Vec<(&'static str, String)> {
    let code = state.now.bill.currency;
    let exact = |amount: Decimal| money(Money::new(amount, code));
    let parcels = match one.parcels {
        1 => "1 parcel".to_owned(),
        many => format!("{many} parcels"),
    };
    let long = match one.long {
        0 => String::new(),
        long => format!(", {long} of them long"),
    };
    let lines = one.lines.len();
    let with = format!(
        "{parcels}{long} from {} with {lines} {} worth {}",
        one.title,
        if lines == 1 { "line" } else { "lines" },
        exact(one.goods.likely)
    );
    let mut told = vec![("Comes with", with)];
    let each = [
        (OnTop::Freight, one.freight),
        (OnTop::Duty, one.duty),
        (OnTop::Tax, one.tax),
    ];
    let each = each.map(|(what, range)| match what {
        OnTop::Tax if one.holds_tax() => format!("{} in the prices", what.title()),
        _ => format!("{} {}", what.title(), exact(range.likely)),
    });
    let mut text = format!("{} for all of that", each.join(", "));
    if let Some(line) = entry.line(&state.now) {
        let share = line.total.likely * Decimal::ONE_HUNDRED;
        let share = share.checked_div(one.goods.likely).unwrap_or_default();
        text += &format!("; this line is {} % of it", amounts::whole(share));
    }
    told.push(("On top", text));
    if matches!(entry, Entry::Way(_)) {
        for duty in &one.duties {
            let text = format!(
                "{} {} %: {}",
                duty.goods.title(),
                duty.percent.normalize(),
                exact(duty.likely)
            );
            told.push(("Duty", text));
        }
        let percent = one.tax_percent.normalize();
        let rate = match one.holds_tax() {
            true => format!("{percent} %, which the prices of this seller hold already"),
            false => format!("{percent} %"),
        };
        told.push(("Tax", rate));
        let note =
            "General information as of its date: customs and the tax office on the spot decide.";
        told.push(("", note.to_owned()));
    }
    told
}
