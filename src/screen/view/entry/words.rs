//! How prices, payments and sellers are named on the page of a line.

use crate::build::purchases::{Payment, Quote};
use crate::catalogue::Id;
use crate::money::Money;
use crate::money::show as amounts;
use crate::screen::form::each;
use crate::screen::ledger::Entry;
use crate::screen::state::State;
use crate::units::show;
use crate::words::Words as _;

/// An amount with its currency.
pub(super) fn money(money: Money) -> String {
    let amount = amounts::exact(money.amount, money.currency);
    format!("{amount} {}", money.currency)
}

/// A price of one, with every digit that it has: screws cost parts of a cent.
pub(super) fn price(money: Money) -> String {
    let digits = money.amount.normalize();
    match digits.scale() > money.currency.decimals() {
        true => format!("{} {}", show::grouped(&digits.to_string()), money.currency),
        false => self::money(money),
    }
}

/// What people call a supplier.
pub(super) fn seller(state: &State, id: &Id) -> String {
    let known = state.catalogue.suppliers.get(id);
    known.map_or_else(|| id.to_string(), |one| one.title.to_string())
}

/// A price that somebody named.
pub(super) fn quoted(state: &State, entry: &Entry, quote: &Quote) -> String {
    let unit = entry.line(&state.now).map(|line| each(line.unit));
    let mut text = format!(
        "{} {}, offered on {}",
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

/// A payment.
pub(super) fn payment(one: &Payment) -> String {
    let mut text = format!("{} on {}", money(one.amount), one.date);
    if let Some(what) = one.what {
        text += &format!(" for {}", what.title());
    }
    if let Some(rate) = one.rate {
        text += &format!(" at a rate of {}", rate.normalize());
    }
    if let Some(by) = &one.by {
        text += &format!(" by {by}");
    }
    if one.part_payment {
        text += ", a deposit";
    }
    text
}
