//! What several tests share: the shipped catalogue, the day, and builds made by edits.

#![allow(dead_code, reason = "each test binary uses its own part of this")]

use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Build, Edit, Kind, Value, choices};
use gantrywright::catalogue::{Catalogue, CatalogueFile};
use gantrywright::explore::trial::Bench;
use gantrywright::machine::Machine;
use gantrywright::money::{Currency, Money};
use jiff::civil::Date;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;

/// The catalogue as it is built into the program.
pub(crate) fn catalogue() -> Catalogue {
    let mut catalogue = Catalogue::default();
    for file in gantrywright::store::embedded::catalogue() {
        let parsed = CatalogueFile::read(file.text());
        catalogue.absorb(parsed.unwrap_or_else(|error| panic!("{}: {error}", file.name)));
    }
    catalogue
}

/// The day on which tests assess.
pub(crate) fn today() -> Date {
    jiff::civil::date(2026, 11, 25)
}

/// The default build with edits made.
pub(crate) fn build(catalogue: &Catalogue, edits: &[(&str, &str)]) -> Build {
    with(catalogue, &Build::default(), edits)
}

/// The assessment of the default build with edits made.
pub(crate) fn assessed(catalogue: &Catalogue, edits: &[(&str, &str)]) -> Assessment {
    assess(catalogue, &build(catalogue, edits), today()).expect("an assessment")
}

/// A build with more edits made.
pub(crate) fn with(catalogue: &Catalogue, build: &Build, edits: &[(&str, &str)]) -> Build {
    let mut build = build.clone();
    for (choice, value) in edits {
        Edit::parse(choice, value, catalogue)
            .unwrap_or_else(|error| panic!("{error}"))
            .apply(&mut build);
    }
    build
}

/// What changed builds are compared with: a build, its assessment and the day of the tests.
pub(crate) fn bench<'a>(
    catalogue: &'a Catalogue,
    build: &'a Build,
    before: &'a Assessment,
) -> Bench<'a> {
    Bench {
        catalogue,
        build,
        before,
        today: today(),
    }
}

/// The machine that a build makes.
pub(crate) fn machine(catalogue: &Catalogue, build: &Build) -> Machine {
    let assessment = assess(catalogue, build, today());
    assessment.expect("an assessment").machine
}

/// Random builds of a seed: in turn nearly the default, far from it, and all at random.
pub(crate) fn random_builds(catalogue: &Catalogue, seed: u64, count: usize) -> Vec<Build> {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    (0..count)
        .map(|place| random_build(catalogue, &mut rng, [0.05, 0.3, 1.0][place % 3]))
        .collect()
}

/// The same with nothing measured: what is measured takes the model's place, and follows no
/// law of it.
pub(crate) fn modelled_builds(catalogue: &Catalogue, seed: u64, count: usize) -> Vec<Build> {
    let mut builds = random_builds(catalogue, seed, count);
    for build in &mut builds {
        build.measured = Default::default();
    }
    builds
}

/// Every example, the ways to stop and to feed, and so many random builds: whatever changes
/// the wiring.
pub(crate) fn wired_builds(catalogue: &Catalogue, random: usize) -> Vec<Build> {
    let mut rng = ChaCha8Rng::seed_from_u64(19);
    let others: &[&[(&str, &str)]] = &[
        &[],
        &[("emergency_stop", "none"), ("no_volt_release", "no")],
        &[("emergency_stop", "software-input")],
        &[("no_volt_release", "no")],
        &[("spindle_circuit", "second"), ("motor_circuit", "second")],
        &[("switch_cable", "cable-signal-3x0.34-shielded-flex")],
        &[
            ("travel_x_mm", "50"),
            ("travel_y_mm", "50"),
            ("travel_z_mm", "50"),
        ],
    ];
    let examples = gantrywright::store::examples::all().into_iter();
    let mut builds: Vec<Build> = examples
        .map(|example| example.build(catalogue).expect("an example"))
        .collect();
    builds.extend(others.iter().map(|edits| build(catalogue, edits)));
    builds.extend((0..random).map(|_| random_build(catalogue, &mut rng, 0.4)));
    builds
}

/// Whether one number is no lower than another, to what binary fractions lose.
pub(crate) fn no_lower(after: f64, before: f64) -> bool {
    after >= before - 1e-9 * before.abs()
}

/// Asserts that no line takes more than the eighty columns that pages keep to.
pub(crate) fn assert_narrow(text: &str) {
    use unicode_width::UnicodeWidthStr as _;
    for line in text.lines() {
        assert!(line.width() <= 80, "{line}");
    }
}

/// The values at the ends of a choice: least and most of a number, nothing where that is
/// allowed, every option of a list, all of several parts and none.
pub(crate) fn ends(choice: &choices::Choice, catalogue: &Catalogue) -> Vec<Value> {
    match choice.kind {
        Kind::Number(kind) => {
            let none = kind.unset.map(|_| Value::Number(None));
            let ends = [kind.least, kind.most].map(|number| Value::Number(Some(number)));
            none.into_iter().chain(ends).collect()
        }
        Kind::Parts(kind) => {
            let all = catalogue.of_kind(kind);
            let ids = all.iter().map(|part| *part.id()).collect();
            vec![Value::Parts(Vec::new()), Value::Parts(ids)]
        }
        Kind::Amount => ["0 EUR", "0.01 EUR", "100000000 EUR"]
            .into_iter()
            .filter_map(|text| choice.parse(text, catalogue, None).ok())
            .chain([Value::Amount(None)])
            .collect(),
        _ => choice.options(catalogue),
    }
}

/// A build with random values in a share of its choices: any option, any number in range,
/// most often near the default. The same seed gives the same build.
pub(crate) fn random_build(
    catalogue: &Catalogue,
    rng: &mut impl rand::RngExt,
    share: f64,
) -> Build {
    let mut build = Build::default();
    for choice in choices::all() {
        if rng.random_bool(share)
            && let Some(value) = random_value(choice, catalogue, rng, &build)
        {
            Edit { choice, value }.apply(&mut build);
        }
    }
    build
}

/// A random value of a choice.
pub(crate) fn random_value(
    choice: &choices::Choice,
    catalogue: &Catalogue,
    rng: &mut impl rand::RngExt,
    build: &Build,
) -> Option<Value> {
    match choice.kind {
        Kind::Number(kind) if !kind.among.is_empty() => {
            let place = rng.random_range(0..kind.among.len());
            Some(Value::Number(Some(kind.among[place])))
        }
        Kind::Number(kind) => {
            if kind.unset.is_some() && rng.random_bool(0.4) {
                return Some(Value::Number(None));
            }
            let around = match (choice.get)(build) {
                Value::Number(Some(number)) if number > 0.0 => number,
                _ => (kind.least.max(1.0) * kind.most).sqrt().min(1500.0),
            };
            let number = if rng.random_bool(0.1) {
                rng.random_range(kind.least..=kind.most)
            } else {
                (around * rng.random_range(0.25..4.0)).clamp(kind.least, kind.most)
            };
            let number = if kind.whole {
                number.round()
            } else {
                (number * 1000.0).round() / 1000.0
            };
            Some(Value::Number(Some(number.clamp(kind.least, kind.most))))
        }
        Kind::Parts(kind) => {
            let all = catalogue.of_kind(kind);
            let ids = all
                .iter()
                .filter(|_| rng.random_bool(0.25))
                .map(|part| *part.id());
            Some(Value::Parts(ids.collect()))
        }
        Kind::Amount => {
            let amount = Decimal::from(rng.random_range(500..20_000));
            let currency = catalogue
                .sites
                .get(&build.area.site)
                .map(|site| site.currency);
            let currency = if rng.random_bool(0.2) {
                "CHF".parse::<Currency>().ok()
            } else {
                currency
            };
            Some(Value::Amount(
                currency.map(|currency| Money::new(amount, currency)),
            ))
        }
        _ => {
            let options = choice.options(catalogue);
            let place = rng.random_range(0..options.len());
            options.into_iter().nth(place)
        }
    }
}
