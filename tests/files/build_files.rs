//! Saving and loading: nothing that a build holds is lost on the way, and nothing that a
//! person wrote into the file.

use gantrywright::build::choices::{self, Choice, Kind, section};
use gantrywright::build::purchases::{Payment, Purchase, Quote, Status};
use gantrywright::build::{Build, Value};
use gantrywright::catalogue::prices::OnTop;
use gantrywright::catalogue::{Catalogue, Id, PartKind, Step};
use gantrywright::money::Money;
use gantrywright::rules;
use gantrywright::store::{build_file, library, save};
use gantrywright::words::Words as _;
use jiff::civil::Date;
use rand::RngExt as _;
use rand::SeedableRng as _;
use rand::seq::IndexedRandom as _;
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;

const ROUNDS: u64 = 300;

fn catalogue() -> Catalogue {
    library::load(&[]).unwrap_or_else(|error| panic!("{error}"))
}

fn read(text: &str, catalogue: &Catalogue) -> Build {
    build_file::read(text, "b.toml", catalogue).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

/// A value that a choice may take, any of them with some chance.
fn value(choice: &Choice, catalogue: &Catalogue, dice: &mut ChaCha8Rng) -> Value {
    match choice.kind {
        Kind::Part { .. } | Kind::Word(_) | Kind::Flag => {
            let options = choice.options(catalogue);
            options.choose(dice).cloned().expect("an option")
        }
        Kind::Parts(kind) => {
            let parts = catalogue.of_kind(kind);
            let mut ids: Vec<Id> = parts.iter().map(|part| *part.id()).collect();
            ids.retain(|_| dice.random_bool(0.4));
            if dice.random_bool(0.5) {
                ids.reverse();
            }
            Value::Parts(ids)
        }
        Kind::Number(kind) if !kind.among.is_empty() => {
            let place = dice.random_range(0..kind.among.len());
            Value::Number(Some(kind.among[place]))
        }
        Kind::Number(kind) => {
            if kind.unset.is_some() && dice.random_bool(0.4) {
                return Value::Number(None);
            }
            let number = kind.least + (kind.most - kind.least) * dice.random::<f64>();
            // As people type them: whole, or with up to five digits after the point.
            let digits = if kind.whole {
                0
            } else {
                dice.random_range(0..6)
            };
            let typed: f64 = format!("{number:.digits$}").parse().expect("a number");
            Value::Number(Some(typed.clamp(kind.least, kind.most)))
        }
        Kind::Amount => {
            let money = money(dice);
            Value::Amount(dice.random_bool(0.7).then_some(money))
        }
    }
}

fn money(dice: &mut ChaCha8Rng) -> Money {
    let currency = ["EUR", "USD", "GBP"].choose(dice).expect("one");
    let amount = Decimal::new(dice.random_range(0..10_000_000), 2);
    Money::new(amount, currency.parse().expect("a currency"))
}

fn text(dice: &mut ChaCha8Rng) -> String {
    const LETTERS: [&str; 14] = [
        "a", "Z", " ", "ä", "\"", "'", "\\", "\n", "\r", "\t", "#", "\u{1b}", "\u{7f}", "宽",
    ];
    let length = dice.random_range(0..20);
    (0..length)
        .map(|_| *LETTERS.choose(dice).expect("one"))
        .collect()
}

fn random_purchase(dice: &mut ChaCha8Rng) -> Purchase {
    let day = |dice: &mut ChaCha8Rng| {
        let first: Date = "2026-01-01".parse().expect("a day");
        let days = jiff::Span::new().days(dice.random_range(0..700));
        first.checked_add(days).expect("a day")
    };
    let few = |dice: &mut ChaCha8Rng| dice.random_range(0..3);
    let quotes = (0..few(dice)).map(|_| Quote {
        price: money(dice),
        date: day(dice),
        valid_until: dice.random_bool(0.5).then(|| day(dice)),
        supplier: Id::new("demo-steel").ok().filter(|_| dice.random_bool(0.5)),
        includes: dice.random_bool(0.5).then(|| vec![OnTop::Tax]),
        used: dice.random_bool(0.5),
    });
    let quotes = quotes.collect();
    let payments = (0..few(dice)).map(|_| Payment {
        amount: money(dice),
        date: day(dice),
        rate: dice.random_bool(0.5).then_some(Decimal::new(91, 2)),
        what: None,
        by: dice.random_bool(0.5).then(|| text(dice)),
        part_payment: dice.random_bool(0.5),
    });
    Purchase {
        payments: payments.collect(),
        quotes,
        status: Status::ALL.choose(dice).copied(),
        have: dice.random_bool(0.5).then(|| Decimal::new(15, 1)),
        order: dice.random_bool(0.5).then(|| text(dice)),
        expected: dice.random_bool(0.5).then(|| day(dice)),
        ..Purchase::default()
    }
}

fn random_build(catalogue: &Catalogue, dice: &mut ChaCha8Rng) -> Build {
    let mut build = Build {
        title: text(dice),
        note: text(dice),
        ..Build::default()
    };
    for choice in choices::all() {
        if dice.random_bool(0.6) {
            choice.put(&mut build, &value(choice, catalogue, dice));
        }
    }
    for rule in rules::all() {
        if dice.random_bool(0.1) {
            build.accepted.insert(rule.id.to_owned(), text(dice));
        }
    }
    for kind in [PartKind::Rail, PartKind::Rack, PartKind::Spindle] {
        for part in catalogue.of_kind(kind) {
            if dice.random_bool(0.1) {
                let purchase = random_purchase(dice);
                build.purchases.parts.insert(*part.id(), purchase);
            }
        }
    }
    build
}

#[test]
fn every_build_survives_a_new_file() {
    let catalogue = catalogue();
    let mut dice = ChaCha8Rng::seed_from_u64(1);
    for _ in 0..ROUNDS {
        let build = random_build(&catalogue, &mut dice);
        let text = build_file::write(None, &build);
        assert_eq!(read(&text, &catalogue), build, "{text}");
        assert_eq!(build_file::write(Some(&text), &build), text);
    }
}

/// A build file as a person keeps it: few keys in an order of its own, and remarks all over.
fn with_remarks(catalogue: &Catalogue, dice: &mut ChaCha8Rng) -> (String, usize) {
    let mut text = "# remark top\nformat = 1 # remark format\ntitle = \"one\"\n".to_owned();
    let mut steps = Step::ALL.to_vec();
    steps.retain(|_| dice.random_bool(0.7));
    if dice.random_bool(0.5) {
        steps.reverse();
    }
    for step in steps {
        text += &format!("\n# remark above\n[{}] # remark beside\n", section(step));
        let mut keys: Vec<&Choice> = choices::of_step(step).collect();
        keys.retain(|_| dice.random_bool(0.3));
        if dice.random_bool(0.5) {
            keys.reverse();
        }
        for choice in keys {
            let value = match value(choice, catalogue, dice) {
                Value::Number(Some(number)) => number.to_string(),
                Value::Flag(yes) => yes.to_string(),
                Value::Parts(ids) => {
                    let ids: Vec<String> = ids.iter().map(|id| format!("\"{id}\"")).collect();
                    format!("[{}]", ids.join(",  "))
                }
                other => format!("\"{other}\""),
            };
            text += &format!(
                "  # remark on it\n{}   =  {value}\t# remark after\n",
                choice.id
            );
        }
    }
    text += "# remark at the end\n";
    let remarks = text.matches("# remark").count();
    (text, remarks)
}

#[test]
fn every_remark_survives_every_change() {
    let catalogue = catalogue();
    let mut dice = ChaCha8Rng::seed_from_u64(2);
    for _ in 0..ROUNDS {
        let (original, remarks) = with_remarks(&catalogue, &mut dice);
        let before = read(&original, &catalogue);
        assert_eq!(build_file::write(Some(&original), &before), original);

        let after = random_build(&catalogue, &mut dice);
        let text = build_file::write(Some(&original), &after);
        assert_eq!(read(&text, &catalogue), after, "{original}\nbecame\n{text}");
        assert_eq!(
            text.matches("# remark").count(),
            remarks,
            "{original}\nbecame\n{text}"
        );

        // The way back leaves the added keys in place, and the same build.
        let back = build_file::write(Some(&text), &before);
        assert_eq!(read(&back, &catalogue), before, "{text}\nbecame\n{back}");
    }
}

#[test]
fn one_change_touches_one_line() {
    let catalogue = catalogue();
    let mut dice = ChaCha8Rng::seed_from_u64(3);
    for _ in 0..ROUNDS {
        let (original, _) = with_remarks(&catalogue, &mut dice);
        let mut build = read(&original, &catalogue);
        let choice = choices::all().choose(&mut dice).expect("a choice");
        let named = original.contains(&format!("\n{} ", choice.id));
        choice.put(&mut build, &value(choice, &catalogue, &mut dice));
        let text = build_file::write(Some(&original), &build);
        assert_eq!(read(&text, &catalogue), build);

        let lines = |text: &str| text.lines().map(str::to_owned).collect::<Vec<_>>();
        let (old, new) = (lines(&original), lines(&text));
        let lost = old.iter().filter(|line| !new.contains(line)).count();
        assert!(lost <= usize::from(named), "{original}\nbecame\n{text}");
        // A key that is new brings its line, or a blank line, a heading and its line.
        let added = new.len() - old.len();
        assert!(
            if named {
                added == 0
            } else {
                [0, 1, 3].contains(&added)
            },
            "{original}\nbecame\n{text}"
        );
    }
}

#[test]
fn saving_and_loading_through_a_file_is_identity() {
    let catalogue = catalogue();
    let mut dice = ChaCha8Rng::seed_from_u64(4);
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("b.toml");
    let mut original = None;
    for _ in 0..20 {
        let build = random_build(&catalogue, &mut dice);
        let text = build_file::write(original.as_deref(), &build);
        save(&path, &text).unwrap_or_else(|error| panic!("{error}"));
        let loaded = build_file::load(&path, &catalogue).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!((loaded.build, &loaded.text), (build, &text));
        original = Some(loaded.text);
    }
}
