//! Rules of one's own: each kind of condition speaks on one side of its bound and is quiet on the
//! other; what lifts them is tried; a search keeps to them.

use std::ops::ControlFlow;

use crate::common;
use gantrywright::assessment::assess;
use gantrywright::build::{Build, Edit, Figure, choices};
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::effect::effect;
use gantrywright::explore::find::{self, Because, Request};
use gantrywright::explore::remedy::remedy;
use gantrywright::explore::trial::Bench;
use gantrywright::rules::{Finding, Severity};
use gantrywright::store::library::{self, Overlay};
use gantrywright::words::Words as _;

/// The example that `docs/files.md` shows.
pub(crate) fn documented() -> String {
    let page = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/files.md");
    let page = std::fs::read_to_string(page).expect("the page");
    let (_, rest) = page
        .split_once("<!-- file: club/rules.toml -->\n```toml\n")
        .expect("the example");
    rest.split_once("```").expect("its end").0.to_owned()
}

/// The catalogue with files of one's own.
pub(crate) fn with(text: &str) -> Catalogue {
    let file = Overlay {
        name: "mine/rules.toml".to_owned(),
        inside: "rules.toml".to_owned(),
        text: text.to_owned(),
    };
    library::over_built_in(vec![vec![file]]).unwrap_or_else(|error| panic!("{error}"))
}

/// A rule with these conditions.
pub(crate) fn rule(severity: &str, when: &str) -> String {
    format!(
        "[[rule]]\nid = \"mine\"\ntitle = \"Mine\"\nseverity = \"{severity}\"\nstep = \"drive\"\n\
         says = \"It has {{1}}.\"\ninstead = \"Think again.\"\nwhen = [{when}]\n"
    )
}

/// What the rule says of the default build with edits.
pub(crate) fn said(catalogue: &Catalogue, id: &str, edits: &[(&str, &str)]) -> Option<Finding> {
    let all = common::assessed(catalogue, edits).findings;
    all.into_iter().find(|finding| finding.rule == id)
}

#[test]
fn the_documented_rule_speaks_where_all_of_it_holds() {
    let catalogue = with(&documented());
    let says = |edits: &[(&str, &str)]| said(&catalogue, "too-long-for-the-club", edits);
    let small = "spindle-0.8kw-water";
    let found = says(&[("travel_x_mm", "600")]).expect("it speaks");
    assert_eq!(
        found.message,
        "X travels 600 mm and the spindle has 1.5 kW: our club's table is too short for it."
    );
    assert_eq!(found.severity, Severity::Caution);
    let told = found.rule.told();
    assert_eq!(
        told.from,
        "rules of our club (a rule of yours, in mine/rules.toml)"
    );
    assert!(told.watches.contains("Travel X over 500 mm"), "{told:?}");
    assert!(told.watches.ends_with("over 1 kW."), "{told:?}");
    assert!(says(&[("travel_x_mm", "500")]).is_none());
    assert!(says(&[("travel_x_mm", "501")]).is_some());
    assert!(says(&[("spindle", small)]).is_none());
}

/// Of each kind of condition: edits with which it speaks, edits with which it is quiet.
#[test]
fn every_kind_of_condition_has_two_sides() {
    type Edits = &'static [(&'static str, &'static str)];
    let small: Edits = &[("spindle", "spindle-0.8kw-water")];
    let wide: Edits = &[("travel_x_mm", "900")];
    let cases: &[(&str, Edits, Edits)] = &[
        ("{ choice = \"travel_x_mm\", over = 600 }", wide, &[]),
        (
            "{ choice = \"travel_x_mm\", at_least = \"60 cm\" }",
            &[],
            &[("travel_x_mm", "599")],
        ),
        (
            "{ choice = \"travel_x_mm\", under = \"0.6 m\" }",
            &[("travel_x_mm", "599")],
            &[],
        ),
        ("{ choice = \"travel_x_mm\", at_most = 600.0 }", &[], wide),
        (
            "{ choice = \"budget\", over = \"5000 EUR\" }",
            &[("budget", "5001 EUR")],
            &[("budget", "5000 EUR")],
        ),
        (
            "{ choice = \"spindle\", is = \"spindle-0.8kw-water\" }",
            small,
            &[],
        ),
        (
            "{ choice = \"spindle\", is_not = \"spindle-0.8kw-water\" }",
            &[],
            small,
        ),
        (
            "{ choice = \"gantry_drive\", is = \"centre\" }",
            &[("gantry_drive", "centre")],
            &[("gantry_drive", "each-side")],
        ),
        (
            "{ choice = \"preloaded_nuts\", is = true }",
            &[("preloaded_nuts", "yes")],
            &[("preloaded_nuts", "no")],
        ),
        (
            "{ choice = \"materials\", has = \"brass\" }",
            &[("materials", "brass,plywood")],
            &[("materials", "plywood")],
        ),
        (
            "{ choice = \"materials\", lacks = \"brass\" }",
            &[("materials", "plywood")],
            &[("materials", "brass,plywood")],
        ),
        (
            "{ choice = \"spindle\", field = \"power_kw\", under = \"1000 W\" }",
            small,
            &[],
        ),
        (
            "{ choice = \"spindle\", field = \"cooling\", is = \"own-fan\" }",
            &[("spindle", "spindle-4kw-air")],
            small,
        ),
        (
            "{ choice = \"motor_x\", field = \"closed_loop\", is = \"no\" }",
            &[("motor_x", "stepper-23-3.0")],
            &[("motor_x", "stepper-23-2.0-closed")],
        ),
        (
            "{ figure = \"mass\", over = \"1 kg\" }",
            &[],
            &[("materials", "plywood"), ("travel_x_mm", "600")],
        ),
        (
            "{ figure = \"cost\", over = \"6000 EUR\" }",
            wide,
            &[("spindle", "spindle-0.8kw-water")],
        ),
        ("{ figure = \"rapid-x\", under = \"29 m/min\" }", wide, &[]),
    ];
    for (when, speaks, quiet) in cases {
        let catalogue = with(&rule("caution", when));
        let has = |edits: Edits| said(&catalogue, "mine", edits).is_some();
        assert!(has(speaks), "{when} is quiet");
        // Some figures are beyond any bound: the other side is tried with the bound turned.
        let turned = when
            .replace("\"1 kg\"", "\"1000000 kg\"")
            .replace("6000 EUR", "900000 EUR");
        match turned == **when {
            true => assert!(!has(quiet), "{when} speaks"),
            false => {
                let catalogue = with(&rule("caution", &turned));
                assert!(said(&catalogue, "mine", quiet).is_none(), "{turned} speaks");
            }
        }
    }
}

#[test]
fn what_is_not_there_meets_no_condition() {
    for when in [
        "{ figure = \"job\", under = 100000 }",
        "{ choice = \"budget\", over = \"1 EUR\" }",
    ] {
        let catalogue = with(&rule("caution", when));
        let bare = [("job", "none"), ("budget", "none")];
        assert!(said(&catalogue, "mine", &bare).is_none(), "{when}");
    }
}

#[test]
fn a_part_of_ones_own_is_compared_as_its_file_says() {
    let built_in = common::catalogue();
    let before = &built_in.spindles["spindle-1.5kw-air"];
    assert!(before.power.value > 1000.0);
    let files = gantrywright::store::embedded::catalogue();
    let line = "id = \"spindle-1.5kw-air\"\n";
    let mut texts = files.iter().map(|file| file.text());
    let text = texts.find(|text| text.contains(line)).expect("it");
    let (_, rest) = text.split_once(line).expect("it");
    let table = rest.split("\n[[").next().expect("its table");
    let own = table.replacen("power_kw = 1.5", "power_kw = 0.9", 1);
    assert_ne!(own, table);
    let when = "{ choice = \"spindle\", field = \"power_kw\", under = \"1 kW\" }";
    let text = format!("{}\n[[spindle]]\n{line}{own}", rule("hint", when));
    let found = said(&with(&text), "mine", &[]).expect("it speaks");
    assert_eq!(found.message, "It has 0.9 kW.");
}

/// The unit of each figure is the one in which the assessment gives it.
#[test]
fn units_of_figures_are_those_of_the_assessment() {
    let assessment = common::assessed(&common::catalogue(), &[("job", "job-name-plate")]);
    for &figure in Figure::ALL {
        let value = assessment.figure(figure);
        assert_eq!(value.is_some(), figure.unit().is_some(), "{figure:?}");
        if let (Some(value), Some(unit)) = (value, figure.unit()) {
            assert_eq!(value.unit.split(' ').next(), Some(unit), "{figure:?}");
        }
    }
}

#[test]
fn an_option_shows_what_it_would_bring_and_lift() {
    let catalogue = with(&documented());
    let build = Build::default();
    let before = assess(&catalogue, &build, common::today()).expect("an assessment");
    let turn = |build: &Build, before, choice, value| {
        let edit = Edit::parse(choice, value, &catalogue).expect("an edit");
        effect(
            &common::bench(&catalogue, build, before),
            std::slice::from_ref(&edit),
        )
        .expect("an effect")
    };
    let id = "too-long-for-the-club";
    let shorter = turn(&build, &before, "travel_x_mm", "450");
    assert!(shorter.lifted.iter().any(|one| one.rule == id));
    let short = common::build(&catalogue, &[("travel_x_mm", "450")]);
    let longer = turn(&short, &shorter.after, "travel_x_mm", "700");
    assert!(longer.added.iter().any(|one| one.rule == id));
}

#[test]
fn what_lifts_it_is_tried_first() {
    let today = common::today();
    let lift = |text: &str, edits: &[(&str, &str)]| {
        let catalogue = with(text);
        let build = common::build(&catalogue, edits);
        let before = assess(&catalogue, &build, today).expect("an assessment");
        let ours = |finding: &&Finding| finding.rule.own().is_some();
        let finding = before.findings.iter().find(ours).expect("it speaks");
        let edits = remedy(&common::bench(&catalogue, &build, &before), finding);
        edits
            .iter()
            .map(|edit| format!("{edit:?}"))
            .collect::<Vec<_>>()
    };
    assert_eq!(lift(&documented(), &[]), ["travel_x_mm=500"]);
    let over = rule("fault", "{ choice = \"travel_x_mm\", over = 550 }");
    assert_eq!(lift(&over, &[]), ["travel_x_mm=550"]);
    let has = rule("caution", "{ choice = \"materials\", has = \"brass\" }");
    let materials = [("materials", "plywood,brass")];
    assert_eq!(lift(&has, &materials), ["materials=plywood"]);
    // Whoever names a remedy gets that one or none: no other socket because it would lift it too.
    let named = format!(
        "{}remedy = [{{ choice = \"motor_circuit\", value = \"first\" }}]\n",
        rule("caution", "{ choice = \"site\", is = \"site-230v-16a\" }")
    );
    assert!(lift(&named, &[]).is_empty());
    // A change that does not lift it is not offered.
    let wrong = format!(
        "{}remedy = [{{ choice = \"travel_y_mm\", value = 500 }}]\n",
        rule("fault", "{ figure = \"mass\", over = 1 }")
    );
    assert!(lift(&wrong, &[]).is_empty());
}

/// A bound in amperes holds for the circuit that it names, whatever the other carries.
#[test]
fn the_current_of_either_circuit_can_be_bounded() {
    let now = common::assessed(&common::catalogue(), &[]);
    let mut currents = Vec::new();
    for circuit in &now.machine.electrics.circuits {
        let current = gantrywright::units::a::from(circuit.full());
        let figure = format!("{}-circuit", circuit.which.id());
        for (bound, speaks) in [(current - 0.05, true), (current + 0.05, false)] {
            let over = format!("{{ figure = \"{figure}\", over = \"{bound:.3} A\" }}");
            let found = common::assessed(&with(&rule("caution", &over)), &[]).findings;
            assert_eq!(found.iter().any(|one| one.rule == "mine"), speaks, "{over}");
        }
        currents.push(current);
    }
    let [first, second] = currents[..] else {
        panic!("{currents:?}");
    };
    assert!((first - second).abs() > 0.1, "they can be told apart");
}

#[test]
fn one_accepts_it_as_any_other_but_a_danger_counts_on() {
    for (severity, counts) in [("fault", false), ("danger", true)] {
        let catalogue = with(&rule(severity, "{ figure = \"mass\", over = 1 }"));
        let mut build = Build::default();
        build
            .accepted
            .insert("mine".to_owned(), "for now".to_owned());
        let now = assess(&catalogue, &build, common::today()).expect("an assessment");
        let found = now.findings.iter().find(|one| one.rule == "mine");
        let found = found.expect("it stays listed");
        assert_eq!(found.accepted.as_deref(), Some("for now"));
        assert_eq!(found.counts(), counts);
        assert_eq!(now.is_unsound(), counts);
    }
}

/// Worst first: one's own stand where their severity puts them.
#[test]
fn they_stand_among_the_others() {
    let text = rule("danger", "{ figure = \"mass\", over = 1 }");
    let found = common::assessed(&with(&text), &[]).findings;
    assert_eq!(found[0].rule, "mine");
    assert!(found.len() > 1);
    let text = rule("hint", "{ figure = \"mass\", over = 1 }");
    let found = common::assessed(&with(&text), &[]).findings;
    let severities: Vec<Severity> = found.iter().map(|one| one.severity).collect();
    assert!(severities.is_sorted(), "{severities:?}");
    assert!(found.iter().any(|one| one.rule == "mine"));
}

/// A search under a fault of one's own finds what assessing every combination finds.
#[test]
fn a_search_keeps_to_them() {
    let free = ["motor_x", "spindle_clamp", "fan"].map(|id| choices::find(id).expect("a choice"));
    let today = common::today();
    let cheapest = |catalogue: &Catalogue| {
        let mut best: Option<rust_decimal::Decimal> = None;
        for a in free[0].options(catalogue) {
            for b in free[1].options(catalogue) {
                for c in free[2].options(catalogue) {
                    let mut build = Build::default();
                    for (choice, value) in free.iter().zip([&a, &b, &c]) {
                        choice.put(&mut build, value);
                    }
                    let now = assess(catalogue, &build, today).expect("an assessment");
                    let cost = now.bill.total.likely;
                    if !now.is_unsound() && best.is_none_or(|best| cost < best) {
                        best = Some(cost);
                    }
                }
            }
        }
        best
    };
    let looked = |catalogue: &Catalogue| {
        let build = Build::default();
        let before = assess(catalogue, &build, today).expect("an assessment");
        let bench = Bench {
            catalogue,
            build: &build,
            before: &before,
            today,
        };
        let request = Request {
            free: free.to_vec(),
            ..Request::default()
        };
        find::find(&bench, &request, &mut |_| ControlFlow::Continue(())).expect("a search")
    };
    let plain = looked(&common::catalogue());
    let best = &plain.answers[0].build;
    let motor = (free[0].get)(best).to_string();
    let texts = [
        rule(
            "fault",
            &format!("{{ choice = \"motor_x\", is = \"{motor}\" }}"),
        ),
        rule(
            "fault",
            "{ choice = \"motor_x\", is_not = \"stepper-23-3.0\" }",
        ),
        rule("fault", "{ figure = \"mass-x\", under = \"18 kg\" }"),
    ];
    for text in texts {
        let catalogue = with(&text);
        let found = looked(&catalogue);
        assert!(found.is_proven(), "{text}");
        let cost = found
            .answers
            .first()
            .map(|one| one.assessment.bill.total.likely);
        assert_eq!(cost, cheapest(&catalogue), "{text}");
    }
    // What stands whatever is chosen is named.
    let always = with(&rule("fault", "{ choice = \"travel_x_mm\", over = 500 }"));
    let found = looked(&always);
    assert!(found.answers.is_empty());
    assert!(found.fixed.iter().any(|one| one.rule == "mine"));
    let none = with(&rule("caution", "{ choice = \"travel_x_mm\", over = 500 }"));
    let excluded = looked(&none).excluded;
    let mine = |why: &Because| matches!(why, Because::Rule(id) if *id == "mine");
    assert!(!excluded.iter().any(|(why, _)| mine(why)));
}
