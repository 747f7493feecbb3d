//! One line of the bill in full: what was written down about it, then why so many, where its
//! price comes from, what was asked and paid, and what comes on top.

use ratatui::text::{Line, Span};
use rust_decimal::Decimal;

use super::ledger::quantity;
use super::paint::{Pen, under_cursor};
use crate::build::purchases::Status;
use crate::build::purchases::{Payment, Quote};
use crate::catalogue::Id;
use crate::catalogue::prices::OnTop;
use crate::money::Money;
use crate::money::show as amounts;
use crate::screen::form::each;
use crate::screen::ledger::{Asked, Entry, supplier_of};
use crate::screen::state::{PickOf, State};
use crate::units::show;
use crate::words::Words as _;

/// Columns of the names of fields.
const NAME: usize = 14;

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
    for (head, text) in details(state, entry) {
        let room = width.saturating_sub(NAME + 3);
        for (row, text) in pen.wrap(&text, room).into_iter().enumerate() {
            let name = if row == 0 { head } else { "" };
            lines.push(Line::from(vec![
                Span::styled(format!("  {}", pen.left(name, NAME)), pen.theme.muted),
                Span::raw(text),
            ]));
        }
    }
    let top = (stop + 1).saturating_sub(asked.len());
    (entry.title(&state.catalogue), lines, top)
}

fn money(money: Money) -> String {
    let amount = amounts::exact(money.amount, money.currency);
    format!("{amount} {}", money.currency)
}

/// A price of one, with every digit that it has: screws cost parts of a cent.
fn price(money: Money) -> String {
    let digits = money.amount.normalize();
    match digits.scale() > money.currency.decimals() {
        true => format!("{} {}", show::grouped(&digits.to_string()), money.currency),
        false => self::money(money),
    }
}

fn seller(state: &State, id: &Id) -> String {
    let known = state.catalogue.suppliers.get(id);
    known.map_or_else(|| id.to_string(), |one| one.title.clone())
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
    let needed = quantity(line.needed, line.unit);
    match (said, line.have.is_zero()) {
        (None, true) => format!("nothing of {needed}"),
        (None, false) => format!("all that is needed: {needed}"),
        (Some(have), _) => format!("{} of {needed}", quantity(have, line.unit)),
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
    if let Some(received) = purchase.received {
        parts.push(format!("{} arrived", show::quantity(received)));
    }
    match parts.is_empty() {
        true => "none".to_owned(),
        false => parts.join(", "),
    }
}

fn quoted(state: &State, entry: &Entry, quote: &Quote) -> String {
    let unit = entry.line(&state.now).map(|line| each(line.unit));
    let mut text = format!(
        "{} {}, asked on {}",
        price(quote.price),
        unit.unwrap_or("for one"),
        quote.date
    );
    if let Some(id) = &quote.supplier {
        text += &format!(" by {}", seller(state, id));
    }
    if let Some(day) = quote.valid_until {
        let over = if day < state.today {
            "ran out on"
        } else {
            "holds until"
        };
        text += &format!(", {over} {day}");
    }
    if let Some(includes) = &quote.includes {
        let named: Vec<&str> = includes.iter().map(|one| one.title()).collect();
        match named.is_empty() {
            true => text += ", nothing included",
            false => text += &format!(", with {}", named.join(" and ")),
        }
    }
    if quote.used {
        text += ", second-hand";
    }
    text
}

fn payment(one: &Payment) -> String {
    let mut text = format!("{} on {}", money(one.amount), one.date);
    if let Some(what) = one.what {
        text += &format!(" for {}", what.title());
    }
    if let Some(rate) = one.rate {
        text += &format!(" at {}", rate.normalize());
    }
    if let Some(by) = &one.by {
        text += &format!(" by {by}");
    }
    if one.part_payment {
        text += ", a deposit";
    }
    text
}

/// What stands below the fields: a name and a text each.
fn details(state: &State, entry: &Entry) -> Vec<(&'static str, String)> {
    let build = state.build();
    let mut told: Vec<(&'static str, String)> = Vec::new();
    if let Some(line) = entry.line(&state.now) {
        told.extend(of_line(state, line));
        if let Some(purchase) = entry.purchase(build)
            && purchase.quotes.len() > 1
        {
            let earlier = purchase.quotes.iter().rev().skip(1);
            told.extend(earlier.map(|quote| ("Asked before", quoted(state, entry, quote))));
        }
    }
    let payments = entry.payments(build).iter();
    told.extend(payments.map(|one| ("Payment", payment(one))));
    if let Some(one) = entry.consignment(&state.now) {
        told.extend(on_top(state, entry, one));
    }
    told
}

fn of_line(state: &State, line: &crate::bill::Line) -> Vec<(&'static str, String)> {
    let code = state.now.bill.currency;
    let mut told = vec![("Why so many", line.why.clone())];
    let packs = match line.quantity > line.needed {
        true => ", since it is sold in packs and whole pieces",
        false => "",
    };
    let bought = format!(
        "{} needed, {} to buy{packs}",
        quantity(line.needed, line.unit),
        quantity(line.buy, line.unit)
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
            let text = format!(
                "{amount} {}{used}; {} of {}",
                each(line.unit),
                price.basis.title(),
                price.date
            );
            told.push(("Price of one", text));
        }
        None => told.push(("Price of one", "nobody named one".to_owned())),
    }
    told.push((
        "All of it",
        format!(
            "{}, from {}",
            money(Money::new(line.total.likely, code)),
            amounts::range(line.total)
        ),
    ));
    let first = match line.first_cut {
        true => "needed",
        false => "can wait until after it",
    };
    told.push(("First cut", first.to_owned()));
    let places = state.now.bill.lines.iter();
    let place = places.enumerate().find(|(_, one)| std::ptr::eq(*one, line));
    let stages = &state.now.bill.ordering.stages;
    if let Some((place, _)) = place
        && let Some(stage) = stages.iter().find(|stage| stage.lines.contains(&place))
    {
        let mut text = format!("{}: {}", stage.title, stage.state.title());
        if !stage.waits_for.is_empty() {
            text += &format!("; first: {}", stage.waits_for.join("; "));
        }
        told.push(("When", format!("{text}. {}", stage.why)));
    }
    told
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
    let each = each.map(|(what, range)| format!("{} {}", what.title(), exact(range.likely)));
    let mut text = format!("{} for all of that", each.join(", "));
    if let Some(line) = entry.line(&state.now) {
        let share = line.total.likely * Decimal::ONE_HUNDRED;
        let share = share.checked_div(one.goods.likely).unwrap_or_default();
        text += &format!("; this line is {} % of it", amounts::whole(share));
    }
    told.push(("On top", text));
    if matches!(entry, Entry::Way(_)) {
        for (goods, rate, amount) in &one.duties {
            let text = format!(
                "{} {} %: {}",
                goods.title(),
                rate.normalize(),
                exact(*amount)
            );
            told.push(("Duty", text));
        }
        told.push(("Tax", format!("{} %", one.tax_percent.normalize())));
        let note = "General information of a day: customs and the tax office on the spot decide.";
        told.push(("", note.to_owned()));
    }
    told
}

/// A list to pick from, each answer with a sentence where there is one.
pub(super) fn pick(
    state: &State,
    pen: &Pen,
    width: usize,
    (entry, of, at): (&Entry, PickOf, usize),
    height: Option<usize>,
) -> (String, Vec<Line<'static>>, usize) {
    let answers: Vec<(String, String)> = match of {
        PickOf::Status => Status::WORDS
            .iter()
            .map(|word| (word.title.to_owned(), word.plain.to_owned()))
            .collect(),
        PickOf::Supplier => {
            let nobody = ("As the price says".to_owned(), String::new());
            let all = state.catalogue.suppliers.values();
            let each = all.map(|one| {
                let [least, most] = one.lead_days;
                let days = format!("{least} to {most} days to the door");
                (one.title.clone(), days)
            });
            std::iter::once(nobody).chain(each).collect()
        }
    };
    let name = match of {
        PickOf::Status => NAME,
        PickOf::Supplier => width.saturating_sub(30),
    };
    let mut lines = Vec::new();
    let mut ends = Vec::new();
    for (place, (title, plain)) in answers.iter().enumerate() {
        let here = place == at;
        let room = width.saturating_sub(name + 3);
        let words = pen.wrap(plain, room);
        for row in 0..words.len().max(1) {
            let title = if row == 0 { title.as_str() } else { "" };
            let arrow = if here && row == 0 { ">" } else { " " };
            let word = words.get(row).map_or("", String::as_str);
            let line = Line::from(format!(
                "{arrow} {} {}",
                pen.left(title, name),
                pen.left(word, room)
            ));
            lines.push(match here {
                true => under_cursor(line, pen.theme.selected),
                false => line,
            });
        }
        ends.push(lines.len());
    }
    let end = ends.get(at).copied().unwrap_or_default();
    let top = height.map_or(0, |height| end.saturating_sub(height));
    let title = format!("{}: {}", of_title(of), entry.title(&state.catalogue));
    (title, lines, top)
}

fn of_title(of: PickOf) -> &'static str {
    match of {
        PickOf::Status => Asked::Status.title(),
        PickOf::Supplier => Asked::Supplier.title(),
    }
}
