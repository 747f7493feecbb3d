//! Writing the purchases of a build: only what changed is touched, and lists grow at their end,
//! so that remarks beside older entries stay.

use std::hash::Hash;

use indexmap::IndexMap;
use jiff::civil::Date;
use rust_decimal::Decimal;
use toml_edit::{Array, InlineTable, Item, Table, Value as Toml};

use super::purchases::PURCHASE;
use super::write::{number_of, section_of, set, text_of};
use super::{ACCEPTED, CONSIGNMENTS, DONE, OFFCUTS, PURCHASES};
use crate::build::Build;
use crate::build::purchases::{Consignment, Payment, Purchase, Quote};
use crate::catalogue::Id;
use crate::money::Money;
use crate::units;
use crate::words::Words as _;

/// Brings what was accepted, all that was bought, and what is done up to date. A section whose
/// last entry is taken out goes with it.
pub(super) fn set_books(root: &mut Table, old: &Build, new: &Build) {
    set_values(root, ACCEPTED, &old.accepted, &new.accepted, |note| {
        text_of(note)
    });
    let (before, after) = (&old.purchases, &new.purchases);
    let none = Purchase::default();
    set_entries(root, PURCHASES, &before.parts, &after.parts, |table, id| {
        let was = before.parts.get(id).unwrap_or(&none);
        set_purchase(table, was, &after.parts[id]);
    });
    let none = Consignment::default();
    let (was, is) = (&before.consignments, &after.consignments);
    set_entries(root, CONSIGNMENTS, was, is, |table, id| {
        let was = was.get(id).unwrap_or(&none);
        let order = ["payments", "note"];
        set_list(
            table,
            "payments",
            &was.payments,
            &is[id].payments,
            payment,
            &order,
        );
        set_text(table, "note", &was.note, &is[id].note, &order);
    });
    set_values(root, OFFCUTS, &before.offcuts, &after.offcuts, |lengths| {
        let each = lengths.iter();
        let each = each.map(|length| number_of(units::mm::from(*length)));
        Toml::Array(each.collect())
    });
    set_values(root, DONE, &old.done, &new.done, |day| {
        day.to_string().into()
    });
}

/// Tables of a section, one for each entry.
fn set_entries<K: AsRef<str> + Hash + Eq, V: PartialEq>(
    root: &mut Table,
    section: &str,
    old: &IndexMap<K, V>,
    new: &IndexMap<K, V>,
    mut write: impl FnMut(&mut Table, &K),
) {
    if old == new {
        return;
    }
    let Some(table) = own_table(section_of(root, section)) else {
        return;
    };
    table.set_implicit(table.is_empty() || table.is_implicit());
    for key in old.keys().filter(|key| !new.contains_key(*key)) {
        table.remove(key.as_ref());
    }
    for (key, value) in new {
        if old.get(key) == Some(value) {
            continue;
        }
        let entry = table.entry(key.as_ref()).or_insert_with(|| {
            let mut fresh = Table::new();
            fresh.decor_mut().set_prefix("\n");
            Item::Table(fresh)
        });
        if let Some(own) = own_table(entry) {
            write(own, key);
        }
    }
    if new.is_empty() {
        root.remove(section);
    }
}

/// A table; one that was written inline becomes one of its own.
pub(super) fn own_table(item: &mut Item) -> Option<&mut Table> {
    if item.is_inline_table()
        && let Ok(own) = std::mem::take(item).into_table()
    {
        *item = Item::Table(own);
    }
    item.as_table_mut()
}

/// Single values of a section.
fn set_values<K: AsRef<str> + Hash + Eq, V: PartialEq>(
    root: &mut Table,
    section: &str,
    old: &IndexMap<K, V>,
    new: &IndexMap<K, V>,
    value: impl Fn(&V) -> Toml,
) {
    if old == new {
        return;
    }
    let Some(table) = own_table(section_of(root, section)) else {
        return;
    };
    for key in old.keys().filter(|key| !new.contains_key(*key)) {
        table.remove(key.as_ref());
    }
    let order: Vec<&str> = new.keys().map(AsRef::as_ref).collect();
    for (key, own) in new {
        if old.get(key) != Some(own) {
            set(table, key.as_ref(), value(own), &order);
        }
    }
    if new.is_empty() {
        root.remove(section);
    }
}

fn set_purchase(table: &mut Table, old: &Purchase, new: &Purchase) {
    let texts = |one: &Purchase| {
        let id = |id: &Option<Id>| id.as_ref().map(ToString::to_string);
        let date = |day: Option<Date>| day.map(|day| day.to_string());
        let number = |number: Option<Decimal>| number.map(|number| number.to_string());
        [
            ("status", one.status.map(|status| status.id().to_owned())),
            ("have", number(one.have)),
            ("supplier", id(&one.supplier)),
            ("order", one.order.clone()),
            ("ordered", number(one.ordered)),
            ("received", number(one.received)),
            ("ordered_on", date(one.ordered_on)),
            ("expected", date(one.expected)),
            ("note", one.note.clone()),
        ]
    };
    for ((key, was), (_, is)) in texts(old).iter().zip(&texts(new)) {
        set_text(table, key, was, is, &PURCHASE);
    }
    set_list(table, "quotes", &old.quotes, &new.quotes, quote, &PURCHASE);
    set_list(
        table,
        "payments",
        &old.payments,
        &new.payments,
        payment,
        &PURCHASE,
    );
}

pub(super) fn set_text(
    table: &mut Table,
    key: &str,
    old: &Option<String>,
    new: &Option<String>,
    order: &[&str],
) {
    match new {
        _ if old == new => {}
        Some(text) => set(table, key, text_of(text), order),
        None => {
            table.remove(key);
        }
    }
}

/// A list of inline tables, one on a line: what is new goes behind what was there.
fn set_list<T: PartialEq>(
    table: &mut Table,
    key: &str,
    old: &[T],
    new: &[T],
    value: fn(&T) -> InlineTable,
    order: &[&str],
) {
    if old == new {
        return;
    }
    if new.is_empty() {
        table.remove(key);
        return;
    }
    let line = |one: &T| {
        let mut item = Toml::InlineTable(value(one));
        item.decor_mut().set_prefix("\n    ");
        item
    };
    let there = table.get_mut(key).and_then(Item::as_array_mut);
    if let Some(array) = there.filter(|_| !old.is_empty() && new.starts_with(old)) {
        for one in &new[old.len()..] {
            array.push_formatted(line(one));
        }
        return;
    }
    let mut array = Array::new();
    for one in new {
        array.push_formatted(line(one));
    }
    array.set_trailing_comma(true);
    array.set_trailing("\n");
    set(table, key, Toml::Array(array), order);
}

fn money(money: Money) -> String {
    format!("{} {}", money.amount, money.currency)
}

fn quote(quote: &Quote) -> InlineTable {
    let mut table = InlineTable::new();
    table.insert("price", money(quote.price).into());
    table.insert("date", quote.date.to_string().into());
    if let Some(day) = quote.valid_until {
        table.insert("valid_until", day.to_string().into());
    }
    if let Some(supplier) = &quote.supplier {
        table.insert("supplier", supplier.as_str().into());
    }
    if let Some(includes) = &quote.includes {
        let each = includes.iter().map(|what| what.id());
        table.insert("includes", Toml::Array(each.collect()));
    }
    if quote.used {
        table.insert("used", true.into());
    }
    table
}

fn payment(payment: &Payment) -> InlineTable {
    let mut table = InlineTable::new();
    table.insert("amount", money(payment.amount).into());
    table.insert("date", payment.date.to_string().into());
    if let Some(rate) = payment.rate {
        table.insert("rate", rate.to_string().into());
    }
    if let Some(what) = payment.what {
        table.insert("what", what.id().into());
    }
    if let Some(by) = &payment.by {
        table.insert("by", text_of(by));
    }
    if payment.part_payment {
        table.insert("part_payment", true.into());
    }
    table
}
