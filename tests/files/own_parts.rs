//! The form for a part of one's own: a row for every field of every kind, and each fault at its
//! field in the words of the reader of files.

use crate::common::today;
use gantrywright::catalogue::fields::Takes;
use gantrywright::catalogue::{Catalogue, CatalogueFile, Id, PartKind};
use gantrywright::money::Currency;
use gantrywright::screen::own_part::{Of, Opening, OwnPart};
use gantrywright::store::library;
use gantrywright::store::own_parts::{self, What, make};
use gantrywright::units::Shown;

fn catalogue() -> Catalogue {
    library::load(&[]).expect("the shipped catalogue")
}

fn opening(catalogue: &Catalogue) -> Opening<'_> {
    Opening {
        catalogue,
        shown: Shown::PLAIN,
        currency: Currency::EUR,
    }
}

fn kinds() -> impl Iterator<Item = PartKind> {
    PartKind::ALL
        .iter()
        .copied()
        .filter(|kind| kind.is_bought())
}

/// The first part of a kind.
fn first(catalogue: &Catalogue, kind: PartKind) -> Id {
    let parts = catalogue.of_kind(kind);
    *parts.first().expect("one of each kind").id()
}

#[test]
fn every_field_of_every_kind_has_its_words() {
    let catalogue = catalogue();
    let mut mute = Vec::new();
    for kind in kinds() {
        for field in kind.fields().iter().filter(|field| field.key != "id") {
            match catalogue.field_text(kind, field.key) {
                Some(text) => {
                    let (label, means) = (&text.label, &text.means);
                    assert!(label.chars().count() <= 30, "{label} is too long");
                    assert!(means.ends_with('.'), "{means}");
                    assert!(
                        text.find.is_empty() || text.find.ends_with('.'),
                        "{}",
                        text.find
                    );
                }
                None => mute.push(format!("{} of {}", field.key, kind.key())),
            }
        }
    }
    assert!(mute.is_empty(), "nothing is said about {mute:#?}");
    // Nothing is said about what is not there.
    for text in &catalogue.field_texts {
        let of = kinds().filter(|kind| {
            text.kinds.is_empty() || text.kinds.iter().any(|name| name == kind.key())
        });
        let mut fields = of.flat_map(PartKind::fields);
        assert!(fields.any(|field| text.key == field.key), "{text:?}");
        for name in &text.kinds {
            let kind = kinds().find(|kind| *name == kind.key()).expect("a kind");
            let known = kind.fields().iter().any(|field| text.key == field.key);
            assert!(known, "{} of {name}", text.key);
        }
    }
}

/// The model of a part, spelled out, without what is told apart on purpose.
fn model(catalogue: &Catalogue, kind: PartKind, id: &str) -> String {
    let (_, part) = catalogue.part(id).expect("there");
    let table = own_parts::entry(catalogue, kind, part.id()).expect("in a file");
    let text = format!("[[{}]]\n{table}", kind.key());
    let file = CatalogueFile::read(&text).expect("a part");
    let all = format!("{file:?}");
    let start = all.find("source: ").expect("a source");
    let rest = &all[start..];
    // Behind the remark stand the fields of the kind, up to the place in the file.
    let fields = rest.split_once("note: ").expect("a remark").1;
    let fields = fields.trim_start_matches("None").to_owned();
    let fields = match fields.strip_prefix("Some(\"") {
        Some(rest) => rest.split_once("\")").expect("a text").1.to_owned(),
        None => fields,
    };
    let end = fields.find("span").unwrap_or(fields.len());
    fields[..end].to_owned()
}

#[test]
fn an_unchanged_copy_of_every_part_is_kept_and_is_the_same_part() {
    let shipped = catalogue();
    let folder = tempfile::tempdir().expect("a folder");
    for kind in kinds() {
        let like = first(&shipped, kind);
        let form = OwnPart::like(opening(&shipped), kind, &like).expect("a form");
        assert_eq!(form.faults, [], "{kind:?}");
        let change = form.kept().expect("all of it makes sense");
        let made = make(&change, folder.path(), &[], today()).expect("kept");
        let (of, part) = made.catalogue.part(change.id.as_str()).expect("kept");
        assert_eq!(of, kind);
        assert!(part.title().starts_with("My "), "{}", part.title());
        assert_eq!(
            model(&made.catalogue, kind, change.id.as_str()),
            model(&shipped, kind, like.as_str()),
            "{kind:?}"
        );
    }
    let all = library::load(&[folder.path().to_owned()]).expect("loads again");
    assert_eq!(all.own.len(), kinds().count());
}

/// What the loader says of a file with one key changed.
fn by_file(
    table: &toml_edit::Table,
    kind: PartKind,
    key: &str,
    value: Option<toml_edit::Item>,
) -> String {
    let mut table = table.clone();
    match value {
        Some(value) => table.insert(key, value),
        None => table.remove(key),
    };
    let folder = tempfile::tempdir().expect("a folder");
    let text = format!("[[{}]]\n{table}", kind.key());
    std::fs::write(folder.path().join("p.toml"), text).expect("written");
    match library::load(&[folder.path().to_owned()]) {
        Ok(_) => String::new(),
        Err(error) => error.message,
    }
}

#[test]
fn each_number_out_of_range_gives_the_message_of_the_file_at_its_field() {
    let shipped = catalogue();
    let mut tried = 0;
    for kind in kinds() {
        let like = first(&shipped, kind);
        let mut form = OwnPart::like(opening(&shipped), kind, &like).expect("a form");
        let change = form.kept().expect("fine");
        let What::Put { text, .. } = &change.what else {
            panic!("kept")
        };
        let table: toml_edit::DocumentMut = text.parse().expect("a table");
        for (at, key) in numbers_of(&form) {
            let before = form.rows[at].shown().to_owned();
            form.at = at;
            set(&mut form, "-1000000000", &shipped);
            let told = form.fault(at).expect("refused").to_owned();
            let said = by_file(&table, kind, key, Some(toml_edit::value(-1_000_000_000)));
            assert_eq!(told, said, "{key} of {kind:?}");
            set(&mut form, "abc", &shipped);
            let told = form.fault(at).expect("refused");
            assert!(told.contains("not a number"), "{key}: {told}");
            if !form.rows[at].optional {
                set(&mut form, "", &shipped);
                let told = form.fault(at).expect("needed").to_owned();
                assert_eq!(told, format!("the key {key:?} is missing"), "{kind:?}");
                // A file says besides how the form calls it.
                let said = by_file(&table, kind, key, None);
                let start = format!("the key {key:?} ({}) is missing", form.rows[at].label);
                assert!(said.starts_with(&start), "{said}");
            }
            set(&mut form, &before, &shipped);
            assert_eq!(form.faults, [], "{key} of {kind:?}");
            tried += 1;
        }
    }
    assert!(tried > 150, "{tried}");
}

/// The rows that take a number, each with the key of its field.
fn numbers_of(form: &OwnPart) -> Vec<(usize, &'static str)> {
    let rows = form.rows.iter().enumerate();
    let numbers = rows.filter_map(|(at, row)| match &row.of {
        Of::Field(key, Takes::Number(_) | Takes::Whole(_)) => Some((at, *key)),
        _ => None,
    });
    numbers.collect()
}

fn set(form: &mut OwnPart, text: &str, catalogue: &Catalogue) {
    *form.field_mut().expect("a text") = text.into();
    form.check(catalogue);
}

#[test]
fn units_words_and_prices_are_read_as_they_are_meant() {
    let shipped = catalogue();
    let like = Id::new("stepper-17-0.45").expect("an id");
    let mut form = OwnPart::like(opening(&shipped), PartKind::Stepper, &like).expect("a form");
    let at = |form: &OwnPart, label: &str| {
        let found = form.rows.iter().position(|row| row.label == label);
        found.unwrap_or_else(|| panic!("no {label}"))
    };
    form.at = at(&form, "Holding torque");
    set(&mut form, "170 oz-in", &shipped);
    assert_eq!(form.faults, []);
    form.at = at(&form, "Mass");
    set(&mut form, "1 lb", &shipped);
    form.at = at(&form, "Detent torque");
    set(&mut form, "9 mm", &shipped);
    let told = form.fault(form.at).expect("no torque").to_owned();
    assert!(told.contains("mm is a unit of length"), "{told}");
    set(&mut form, "5", &shipped);
    let told = form.fault(form.at).expect("too much");
    assert_eq!(told, "detent_nm must not be above holding_nm");
    set(&mut form, "20 Ncm", &shipped);
    form.at = at(&form, "Price of a piece");
    set(&mut form, "12 XAF", &shipped);
    assert!(
        form.fault(form.at)
            .is_some_and(|told| told.contains("no price book has a rate"))
    );
    set(&mut form, "12,50", &shipped);
    form.at = at(&form, "Mounting face");
    assert!(form.pick(true, &shipped));
    let change = form.kept().expect("fine");
    let What::Put { text, price } = &change.what else {
        panic!("kept")
    };
    // 170 ozf·in by NIST SP 811: 170 times 7.061 552 mN·m.
    assert!(text.contains("holding_nm = 1.2004"), "{text}");
    assert!(text.contains("mass_kg = 0.45359237"), "{text}");
    assert!(
        text.contains("detent_nm = 0.2") && text.contains("nema-23"),
        "{text}"
    );
    let money = price.as_ref().expect("a price").money;
    assert_eq!(
        (money.amount.to_string().as_str(), money.currency),
        ("12.50", Currency::EUR)
    );
}
