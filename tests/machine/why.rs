//! Why: every figure in the JSON of every example has a derivation under its path whose
//! result is the figure, and every derivation leads back to what it names.

use crate::common;
use std::collections::{HashMap, HashSet};

use gantrywright::assessment::figures::{self, FigureAt};
use gantrywright::assessment::{assess, explain, json};
use gantrywright::build::{Build, choices};
use gantrywright::catalogue::{Catalogue, PartKind};
use gantrywright::explain::{Derivation, Input, Notes, Origin, Worth};
use gantrywright::store::examples;
use gantrywright::units::Amount;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;
use serde_json::Value;

struct Case {
    name: String,
    json: Value,
    notes: Notes,
}

/// Every example, and builds that take other ways: a fixed portal, short rails, whole bars,
/// every kind of drive and motor.
fn cases(catalogue: &Catalogue) -> Vec<Case> {
    let mut builds: Vec<(String, Build)> = examples::all()
        .into_iter()
        .map(|example| {
            let build = example.build(catalogue).expect("an example");
            (example.name.to_owned(), build)
        })
        .collect();
    let others: &[&[(&str, &str)]] = &[
        &[],
        &[("frame_plan", "fixed-portal"), ("materials", "")],
        &[("rail_length_x_mm", "400"), ("screw_length_y_mm", "300")],
        &[("site", "site-120v-15a")],
        &[
            ("tube_supply", "whole-bars"),
            ("thread_strips", "yes"),
            ("machines", "3"),
        ],
        &[("tube_supply", "whole-bars"), ("travel_x_mm", "9000")],
        &[
            ("drive_x", "rack-m1"),
            ("drive_y", "rack-m1"),
            ("reduction", "3"),
        ],
        &[
            ("drive_x", "rack-m1"),
            ("drive_y", "belt-5m-15"),
            ("reduction", "3"),
            ("drive_z", "lead-screw-12x3"),
            ("ramp", "s-ramp"),
            ("power_cap_percent", "30"),
        ],
        &[
            ("motor_x", "servo-750w"),
            ("driver_x", "driver-servo-750w"),
            ("motor_z", "servo-400w-brake"),
            ("driver_z", "driver-servo-400w"),
            ("motor_y", "stepper-23-2.0-closed"),
            ("driver_y", "driver-closed-loop-80v"),
            ("drive_y2", "ball-screw-20x5"),
        ],
        &[("spindle", "router-710w-230"), ("vfd", "none")],
        &[
            ("spindle", "spindle-2.2kw-water"),
            ("materials", "aluminium-6082,mdf"),
        ],
    ];
    for edits in others {
        builds.push((format!("{edits:?}"), common::build(catalogue, edits)));
    }
    let case = |(name, build): (String, Build)| {
        let (assessment, notes) =
            explain(catalogue, &build, common::today()).expect("an assessment");
        Case {
            name,
            json: json::json(&build, &assessment, &[]),
            notes,
        }
    };
    builds.into_iter().map(case).collect()
}

/// Whether two values are the same, to what six digits tell.
fn is_same(one: &Worth, other: &Worth) -> bool {
    match (one.exact(), other.exact()) {
        (Some(one), Some(other)) => one == other,
        _ => {
            let (one, other) = (one.number(), other.number());
            one == other || (one - other).abs() <= 6e-6 * one.abs().max(other.abs())
        }
    }
}

/// Whether a derivation's result is the figure in the JSON, to six digits or exactly.
fn is_value(result: &Worth, figure: &Value) -> bool {
    match figure {
        Value::Number(number) => {
            let figure = Amount::plain(number.as_f64().expect("a number"));
            is_same(result, &figure.into())
        }
        Value::String(text) => {
            result.exact() == Some(Decimal::from_str_exact(text).expect("a decimal"))
        }
        _ => false,
    }
}

#[test]
fn every_figure_has_a_derivation_that_gives_it() {
    let catalogue = common::catalogue();
    let mut wrong = Vec::new();
    for case in cases(&catalogue) {
        let figures = figures::all(&case.json);
        assert!(figures.len() > 300, "{}: {}", case.name, figures.len());
        let paths: HashSet<String> = figures.iter().map(FigureAt::path).collect();
        assert_eq!(paths.len(), figures.len(), "{}: two of one path", case.name);
        for figure in &figures {
            let path = figure.path();
            match case.notes.get(&path) {
                None => wrong.push(format!("{}: {path} has none", case.name)),
                Some(derivation) if is_value(&derivation.result, &figure.value) => {}
                Some(derivation) => wrong.push(format!(
                    "{}: {path} is {}, derived {}",
                    case.name, figure.value, derivation.result
                )),
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Whatever somebody chooses: explaining it neither fails nor changes a figure, and each
/// derivation gives its figure.
#[test]
fn random_builds_are_explained_too() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(11);
    let mut tried = 0;
    for place in 0..150 {
        let share = [0.05, 0.3, 1.0][place % 3];
        let build = common::random_build(&catalogue, &mut rng, share);
        let Ok((assessment, notes)) = explain(&catalogue, &build, common::today()) else {
            continue;
        };
        tried += 1;
        let silent = assess(&catalogue, &build, common::today()).expect("as before");
        let json = json::json(&build, &assessment, &[]);
        assert_eq!(json, json::json(&build, &silent, &[]));
        for figure in figures::all(&json) {
            let path = figure.path();
            let Some(derivation) = notes.get(&path) else {
                panic!("{path} has none");
            };
            assert!(is_value(&derivation.result, &figure.value), "{path}");
            assert_eq!(faults(derivation, &catalogue, &notes), [""; 0]);
        }
    }
    assert!(tried > 100, "{tried}");
}

/// What is wrong with the origin of an input, if anything.
fn broken(origin: &Origin, catalogue: &Catalogue, notes: &Notes) -> Option<String> {
    let kind = |id: &str| catalogue.part(id).map(|(kind, _)| kind);
    let fine = match origin {
        Origin::Choice(id) | Origin::Measured(id) => choices::find(id).is_ok(),
        Origin::Part(id) => kind(id).is_some(),
        Origin::Plan(id) => kind(id) == Some(PartKind::Frame),
        Origin::Site(id) => kind(id) == Some(PartKind::Site),
        Origin::PriceBook(id) => catalogue.price_books.contains_key(id.as_str()),
        Origin::QuantityRule(id) => {
            let mut rules = catalogue.quantities.iter();
            rules.any(|rule| rule.part.as_str() == id)
        }
        Origin::YearlyRule(id) => {
            let mut rules = catalogue.yearly.iter();
            rules.any(|rule| rule.part.id() == id)
        }
        Origin::Constant(source) => !source.is_empty(),
        Origin::Figure(path) => notes.get(path).is_some(),
        Origin::Here | Origin::Purchases => true,
    };
    (!fine).then(|| format!("{origin:?} leads nowhere"))
}

fn faults(derivation: &Derivation, catalogue: &Catalogue, notes: &Notes) -> Vec<String> {
    let mut found = Vec::new();
    let mut say = |fault: &str| found.push(format!("{}: {fault}", derivation.path));
    for (what, text) in [
        ("title", &*derivation.title),
        ("words", &derivation.words),
        ("formula", derivation.formula),
        ("source", derivation.source),
    ] {
        if text.trim().is_empty() {
            say(&format!("no {what}"));
        }
    }
    if derivation.inputs.is_empty() && derivation.result.number() != 0.0 {
        say("something out of nothing");
    }
    for (place, input) in derivation.inputs.iter().enumerate() {
        let again = |one: &&Input| one.symbol == input.symbol;
        let one_of_many = input.symbol.ends_with("_i") || input.symbol.ends_with("_j");
        if !one_of_many && derivation.inputs[..place].iter().any(|one| again(&one)) {
            say(&format!("{} stands there twice", input.symbol));
        }
        if input.symbol.is_empty() || input.title.is_empty() {
            say("an input without a name");
        }
        let (symbol, words) = (input.symbol, derivation.words.as_str());
        if !derivation.formula.contains(symbol) && !words.contains(symbol) {
            say(&format!(
                "{symbol} stands nowhere in {}",
                derivation.formula
            ));
        }
        if input.value.number().is_nan() {
            say(&format!("{} is not a number", input.symbol));
        }
        if let Some(fault) = broken(&input.origin, catalogue, notes) {
            say(&fault);
        }
        // A figure is the same wherever it is an input.
        if let Origin::Figure(path) = &input.origin
            && let Some(figure) = notes.get(path)
            && figure.result.unit() == input.value.unit()
            && !is_same(&figure.result, &input.value)
        {
            say(&format!(
                "{} is {} here and {} there",
                path, input.value, figure.result
            ));
        }
    }
    found
}

#[test]
fn derivations_say_all_and_lead_somewhere() {
    let catalogue = common::catalogue();
    let mut found = Vec::new();
    for case in cases(&catalogue) {
        for derivation in case.notes.all() {
            let faults = faults(derivation, &catalogue, &case.notes);
            found.extend(faults.iter().map(|fault| format!("{}: {fault}", case.name)));
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

/// Visits a figure and all behind it; false where a figure stands behind itself.
fn ends<'n>(notes: &'n Notes, path: &'n str, seen: &mut HashMap<&'n str, bool>) -> bool {
    match seen.get(path) {
        Some(done) => return *done,
        None => seen.insert(path, false),
    };
    let behind = notes.get(path).into_iter().flat_map(Derivation::figures);
    let fine = behind.into_iter().all(|path| ends(notes, path, seen));
    seen.insert(path, fine);
    fine
}

#[test]
fn no_figure_stands_behind_itself() {
    for case in cases(&common::catalogue()) {
        let mut seen = HashMap::new();
        for derivation in case.notes.all() {
            let path = derivation.path.as_str();
            assert!(ends(&case.notes, path, &mut seen), "{}: {path}", case.name);
        }
    }
}

/// Sums add up: of the bill exactly, of the masses to a millionth.
#[test]
fn sums_are_those_of_their_inputs() {
    for case in cases(&common::catalogue()) {
        for derivation in case.notes.all() {
            let exact = |derivation: &Derivation| -> Decimal {
                derivation
                    .inputs
                    .iter()
                    .filter_map(|input| input.value.exact())
                    .sum()
            };
            match derivation.formula {
                "C = Σ T_i" | "C = Σ C_i" => {
                    assert_eq!(derivation.result.exact(), Some(exact(derivation)));
                }
                "M = Σ m_i" | "M = Σ m_i + M_c" => {
                    let inputs = derivation.inputs.iter();
                    let sum: f64 = inputs.map(|input| input.value.number()).sum();
                    let result = derivation.result.number();
                    assert!((sum - result).abs() < 1e-6 * result, "{}", derivation.path);
                }
                _ => {}
            }
        }
    }
}

/// Beside a hand router an inverter feeds nothing, so nothing is told that would lose anything.
#[test]
fn an_inverter_that_feeds_nothing_is_told_to_lose_nothing() {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, &[("spindle", "router-710w-230")]);
    let (_, notes) = explain(&catalogue, &build, common::today()).expect("an assessment");
    let heat = notes.get("power.cabinet_losses_w.inverter");
    let heat = heat.expect("a derivation");
    assert_eq!((heat.result.number(), heat.formula), (0.0, "P = 0"));
    assert!(heat.inputs.is_empty(), "{:?}", heat.inputs);
}

/// The life of carriages and the stiffness see the tool equally far from them.
#[test]
fn life_and_stiffness_have_the_same_levers() {
    let catalogue = common::catalogue();
    for plan in ["low-base", "raised-sides", "fixed-portal"] {
        let build = common::build(&catalogue, &[("frame_plan", plan)]);
        let (found, notes) = explain(&catalogue, &build, common::today()).expect("an assessment");
        let levers = &found.machine.stiffness.levers;
        for (axis, lever) in [("X", levers.ahead_of_x), ("Z", levers.ahead_of_z)] {
            let life = notes.get(&format!("axes.{axis}.carriage_life_km"));
            let inputs = &life.expect("a derivation").inputs;
            let told = inputs.iter().find(|input| input.symbol == "dr");
            let told = told.expect("the distance of the tool").value.number();
            let lever = gantrywright::units::mm::from(lever);
            assert!(
                (told - lever).abs() < 1e-6,
                "{plan} {axis}: {told}, {lever}"
            );
        }
    }
}
