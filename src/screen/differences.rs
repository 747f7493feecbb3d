//! What differs between two builds, in words: what undo says that it takes back.

use crate::build::edit::difference;
use crate::build::purchases::{Purchase, Status};
use crate::build::{Build, MAIN};
use crate::catalogue::{Catalogue, Id};
use crate::screen::ledger::Entry;
use crate::words::Words as _;

/// Every difference: choices by their titles, then what was written down about parts.
pub fn differences(catalogue: &Catalogue, before: &Build, after: &Build) -> Vec<String> {
    let mut told = variants(before, after);
    // Another variant has other choices: its name says all of them.
    if before.variant() == after.variant() {
        let choices = difference(before, after);
        told.extend(choices.iter().map(|edit| edit.choice.title.to_owned()));
    }
    told.extend(written_down(catalogue, before, after));
    told
}

/// Every difference but those of the choices.
pub fn besides_choices(catalogue: &Catalogue, before: &Build, after: &Build) -> Vec<String> {
    let mut told = variants(before, after);
    told.extend(written_down(catalogue, before, after));
    told
}

/// What differs in what was written down.
fn written_down(catalogue: &Catalogue, before: &Build, after: &Build) -> Vec<String> {
    let mut told = Vec::new();
    if before.note != after.note {
        told.push("note".to_owned());
    }
    if before.accepted != after.accepted {
        told.push("accepted warnings".to_owned());
    }
    told.extend(purchases(catalogue, before, after));
    if before.done != after.done {
        told.push("ticks of the checklist".to_owned());
    }
    told
}

/// What differs in the variants, the one that is open included.
fn variants(before: &Build, after: &Build) -> Vec<String> {
    let (then, now) = (before.variant_names(), after.variant_names());
    let new = now.iter().filter(|name| !then.contains(name));
    let gone = then.iter().filter(|name| !now.contains(name));
    let mut told: Vec<String> = match (new.clone().count(), gone.clone().count()) {
        (1, 1) => new
            .map(|name| format!("name of the variant {name}"))
            .collect(),
        _ => {
            let new = new.map(|name| format!("new variant {name}"));
            let gone = gone.map(|name| format!("variant {name} removed"));
            new.chain(gone).collect()
        }
    };
    if told.is_empty() && before.variant() != after.variant() {
        told.push(format!("variant {} opened", after.variant()));
    }
    if before.variants.baseline() != after.variants.baseline() && then == now {
        told.push("pin".to_owned());
    }
    let notes = |name: &&&str| before.note_of(name) != after.note_of(name);
    let named = then
        .iter()
        .filter(|name| **name != MAIN && now.contains(name));
    told.extend(
        named
            .filter(notes)
            .map(|name| format!("note of the variant {name}")),
    );
    told
}

fn purchases(catalogue: &Catalogue, before: &Build, after: &Build) -> Vec<String> {
    let (then, now) = (&before.purchases, &after.purchases);
    let mut told = Vec::new();
    let nothing = Purchase::default();
    for id in keys(then.parts.keys(), now.parts.keys()) {
        let one = then.of(id).unwrap_or(&nothing);
        let other = now.of(id).unwrap_or(&nothing);
        let title = Entry::Unused(*id).title(catalogue);
        told.extend(of_part(one, other).map(|what| format!("{what}: {title}")));
    }
    for id in keys(then.consignments.keys(), now.consignments.keys()) {
        let one = then.consignments.get(id);
        let other = now.consignments.get(id);
        if one == other {
            continue;
        }
        let paid = one.map(|one| &one.payments) != other.map(|other| &other.payments);
        let what = if paid { "payment" } else { "remark" };
        let title = Entry::Way(*id).title(catalogue);
        told.push(format!("{what}: {title}"));
    }
    if then.offcuts != now.offcuts {
        told.push("lengths in hand".to_owned());
    }
    told
}

/// The keys of both, each once.
fn keys<'i>(one: impl Iterator<Item = &'i Id>, other: impl Iterator<Item = &'i Id>) -> Vec<&'i Id> {
    let mut keys: Vec<&Id> = one.collect();
    for id in other {
        if !keys.contains(&id) {
            keys.push(id);
        }
    }
    keys
}

/// What differs in one part's purchase.
fn of_part(one: &Purchase, other: &Purchase) -> impl Iterator<Item = String> {
    let has = |status| one.status == Some(status) || other.status == Some(status);
    let status = match (one.status(), other.status()) {
        _ if one.status == other.status => None,
        _ if has(Status::HaveIt) => Some("have it".to_owned()),
        (_, to) => Some(format!("status {}", to.title())),
    };
    let rest = [
        ("price", one.quotes != other.quotes),
        ("payment", one.payments != other.payments),
        (
            "in hand",
            one.have != other.have && status.as_deref() != Some("have it"),
        ),
        ("supplier", one.supplier != other.supplier),
        ("order number", one.order != other.order),
        ("expected day", one.expected != other.expected),
        ("what arrived", one.received != other.received),
        ("remark", one.note != other.note),
    ];
    let ordered =
        status.is_none() && (one.ordered != other.ordered || one.ordered_on != other.ordered_on);
    let rest = rest.into_iter().chain([("order", ordered)]);
    let rest = rest.filter(|(_, differs)| *differs);
    status
        .into_iter()
        .chain(rest.map(|(what, _)| what.to_owned()))
}
