//! Parts go into the user's folder and come out again, with what stood there left alone.

use std::path::Path;

use jiff::civil::{Date, date};

use super::*;
use crate::catalogue::Part as _;

fn today() -> Date {
    date(2026, 11, 26)
}

fn id(text: &str) -> Id {
    Id::new(text).expect("an id")
}

/// A copy of a shipped part under another id and title.
fn copy(catalogue: &Catalogue, kind: PartKind, like: &str, new: &str) -> Table {
    let mut table = entry(catalogue, kind, &id(like)).expect("shipped");
    table.insert("id", toml_edit::value(new));
    table.insert("title", toml_edit::value("of my own"));
    table
}

fn put(kind: PartKind, new: &str, table: &Table, price: Option<OwnPrice>) -> Change {
    Change {
        kind,
        id: id(new),
        what: What::Put {
            text: table.to_string(),
            price,
        },
    }
}

/// A price in euros that nobody in particular asks.
fn price(amount: &str) -> OwnPrice {
    let amount = amount.parse().expect("an amount");
    OwnPrice {
        money: Money::new(amount, crate::money::Currency::EUR),
        supplier: None,
        pack: None,
    }
}

fn shipped() -> Catalogue {
    library::load(&[]).expect("the shipped catalogue")
}

fn read(folder: &Path) -> String {
    std::fs::read_to_string(folder.join(FILE)).expect("the file")
}

#[test]
fn a_copy_of_every_shipped_part_makes_sense() {
    let catalogue = shipped();
    for kind in PartKind::ALL.iter().filter(|kind| kind.has_form()) {
        let part = *catalogue.of_kind(*kind).first().expect("one of each kind");
        let table = copy(&catalogue, *kind, part.id().as_str(), "copy-of-it");
        assert_eq!(faults(&catalogue, *kind, &table, &table), [], "{kind:?}");
    }
}

#[test]
fn each_fault_is_told_at_its_field() {
    let catalogue = shipped();
    let began = copy(&catalogue, PartKind::Stepper, "stepper-17-0.45", "mine");
    let mut table = began.clone();
    table.insert("shaft_mm", toml_edit::value(-3.0));
    table.insert("flange", toml_edit::value("nema-99"));
    table.remove("mass_kg");
    let found = faults(&catalogue, PartKind::Stepper, &table, &began);
    let told = |key: &str| {
        let fault = found.iter().find(|one| one.key.as_deref() == Some(key));
        fault.map(|fault| fault.message.as_str())
    };
    assert_eq!(told("shaft_mm"), Some("expected more than 0, found -3 mm"));
    assert!(told("flange").is_some_and(|said| said.contains("is not one of its options")));
    assert_eq!(told("mass_kg"), Some("the key \"mass_kg\" is missing"));
    assert_eq!(found.len(), 3, "{found:?}");
    let mut table = began.clone();
    table.insert("detent_nm", toml_edit::value(9.0));
    let found = faults(&catalogue, PartKind::Stepper, &table, &began);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].key.as_deref(), Some("detent_nm"));
    assert_eq!(found[0].message, "detent_nm must not be above holding_nm");
}

#[test]
fn a_part_is_kept_changed_and_removed_and_the_rest_of_the_file_stays() {
    let folder = tempfile::tempdir().expect("a folder");
    let home = folder.path().join("gantrywright");
    let catalogue = shipped();
    let mut table = copy(&catalogue, PartKind::Stepper, "stepper-17-0.45", "mine");
    let change = put(PartKind::Stepper, "mine", &table, Some(price("12.50")));
    let made = make(&change, &home, &[], today()).expect("saved");
    assert_eq!(made.file, home.join(FILE));
    let kept = made.catalogue.steppers.get("mine").expect("kept");
    assert_eq!(kept.title(), "of my own");
    assert!(made.catalogue.own.contains_key("mine"));
    assert!(!made.catalogue.own.contains_key("stepper-17-0.45"));
    assert_eq!(price_of(&made.catalogue, &id("mine")), Some(price("12.50")));
    assert!(
        read(&home).starts_with("# Parts of your own"),
        "{}",
        read(&home)
    );
    // Somebody writes beside it by hand.
    let by_hand = read(&home).replace("shaft_mm = 5\n", "shaft_mm = 5 # measured twice\n");
    assert!(by_hand.contains("measured twice"), "{by_hand}");
    std::fs::write(home.join(FILE), format!("{by_hand}\n# the end\n")).expect("written");
    table.insert("body_mm", toml_edit::value(41));
    let change = put(PartKind::Stepper, "mine", &table, Some(price("12.50")));
    let later = date(2027, 1, 2);
    let made = make(&change, &home, &[], later).expect("saved");
    let text = read(&home);
    assert!(
        text.contains("shaft_mm = 5 # measured twice") && text.contains("# the end"),
        "{text}"
    );
    assert!(
        text.contains("body_mm = 41") && text.contains("2026-11-26"),
        "{text}"
    );
    assert!(
        !text.contains("2027"),
        "an old price looks no younger: {text}"
    );
    assert!(price_of(&made.catalogue, &id("mine")).is_some());
    let change = put(PartKind::Stepper, "mine", &table, Some(price("13")));
    make(&change, &home, &[], later).expect("saved");
    let text = read(&home);
    assert!(
        text.contains("2027-01-02") && !text.contains("12.50"),
        "{text}"
    );
    let change = Change {
        kind: PartKind::Stepper,
        id: id("mine"),
        what: What::Remove,
    };
    let made = make(&change, &home, &[], today()).expect("removed");
    assert!(made.catalogue.part("mine").is_none());
    let text = read(&home);
    assert!(
        !text.contains("mine") && text.contains("# Parts of your own"),
        "{text}"
    );
}

#[test]
fn what_makes_no_sense_is_never_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let catalogue = shipped();
    let mut table = copy(&catalogue, PartKind::Carriage, "carriage-20-wide", "mine");
    table.insert("rail", toml_edit::value("rail-of-nobody"));
    let change = put(PartKind::Carriage, "mine", &table, None);
    let error = make(&change, folder.path(), &[], today()).expect_err("no such rail");
    assert!(error.to_string().contains("rail-of-nobody"), "{error}");
    assert!(!folder.path().join(FILE).exists());
}

/// A part in one file and its price in another: where the second cannot be saved, the first is
/// as it was.
#[test]
fn of_two_files_both_are_saved_or_none() {
    let folder = tempfile::tempdir().expect("a folder");
    let home = folder.path().to_owned();
    let table = copy(&shipped(), PartKind::Stepper, "stepper-17-0.45", "mine");
    let change = put(PartKind::Stepper, "mine", &table, None);
    make(&change, &home, &[], today()).expect("saved");
    let other = home.join("a.toml");
    std::fs::rename(home.join(FILE), &other).expect("renamed");
    let prices = "# prices are locked away\n";
    std::fs::write(home.join(FILE), prices).expect("written");
    let mut permissions = std::fs::metadata(home.join(FILE))
        .expect("there")
        .permissions();
    permissions.set_readonly(true);
    std::fs::set_permissions(home.join(FILE), permissions).expect("changed");
    let before = std::fs::read_to_string(&other).expect("text");
    let mut table = table;
    table.insert("body_mm", toml_edit::value(41));
    let change = put(PartKind::Stepper, "mine", &table, Some(price("12.50")));
    let error = make(&change, &home, &[], today()).expect_err("one file may only be read");
    assert!(error.message.contains("may only be read"), "{error}");
    assert_eq!(std::fs::read_to_string(&other).expect("text"), before);
    assert_eq!(read(&home), prices);
}

/// Price books that somebody wrote on one line are read, but the form cannot add to them: it says
/// so and keeps nothing, where the price alone would be missing otherwise.
#[test]
fn a_price_is_refused_where_the_books_stand_on_one_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let home = folder.path();
    let books = "price-book = [{ id = \"mine-alone\", title = \"mine\", basis = \"quote\", currency = \"EUR\", date = \"2026-11-01\", prices = {} }]\n";
    std::fs::write(home.join(FILE), books).expect("written");
    let table = copy(&shipped(), PartKind::Stepper, "stepper-17-0.45", "mine");
    let price = OwnPrice {
        money: Money::new(Decimal::TEN, crate::money::Currency::EUR),
        supplier: None,
        pack: None,
    };
    let change = put(PartKind::Stepper, "mine", &table, Some(price));
    let error = make(&change, home, &[], today()).expect_err("no place for the price");
    assert!(
        error
            .message
            .starts_with("price-book stands here in a form"),
        "{error}"
    );
    assert_eq!(read(home), books);
    // Without a price there is nothing to change in them.
    let change = put(PartKind::Stepper, "mine", &table, None);
    let made = make(&change, home, &[], today()).expect("saved");
    assert!(made.catalogue.part("mine").is_some());
    assert!(read(home).starts_with(books), "{}", read(home));
}
