//! How long a full assessment takes, silent and with derivations, and what is made of many of them:
//! the previews of every option of a long list, the remedies of every finding.
//!
//! What is missing ends a benchmark with a message: one that measured nothing would look quick.

use gantrywright::assessment::{Assessment, assess, assess_beside, explain};
use gantrywright::build::{Build, Edit, Picked, choices};
use gantrywright::catalogue::Catalogue;
use gantrywright::explain::Silent;
use gantrywright::explore::{effect::effect, remedy, trial::Bench};
use gantrywright::machine::{Machine, cutting::Cutting};
use jiff::civil::{Date, date};

fn main() {
    divan::main();
}

const TODAY: Date = date(2026, 11, 25);

fn catalogue() -> Catalogue {
    gantrywright::store::library::load(&[]).expect("the shipped catalogue")
}

/// What the changed builds are compared with.
fn bench<'a>(catalogue: &'a Catalogue, build: &'a Build, before: &'a Assessment) -> Bench<'a> {
    Bench {
        catalogue,
        build,
        before,
        today: TODAY,
    }
}

/// Reading the whole embedded catalogue.
#[divan::bench]
fn read_the_catalogue() -> Catalogue {
    catalogue()
}

/// One full assessment of the default build.
#[divan::bench]
fn assess_once(bencher: divan::Bencher) {
    let catalogue = catalogue();
    let build = Build::default();
    bencher.bench(|| assess(&catalogue, &build, TODAY));
}

/// One full assessment of a build that differs from the default one in one choice, beside it.
/// The first two change nothing that cuts depend on, the others do.
#[divan::bench(args = [
    "cabinet=cabinet-steel-800x600", "vfd=none", "drive_x=ball-screw-20x5",
    "beam_tube=tube-60x60x4", "travel_x_mm=700",
])]
fn assess_beside_the_default(bencher: divan::Bencher, edit: &str) {
    let catalogue = catalogue();
    let default = Build::default();
    let known = assess(&catalogue, &default, TODAY).expect("an assessment");
    let edit = Edit::parse_pair(edit, &catalogue, &default).expect("an edit");
    let build = edit.applied(&default);
    bencher.bench(|| assess_beside(&catalogue, &build, TODAY, (&default, &known)));
}

/// Every cut of every tool in every material, of the default build.
#[divan::bench]
fn every_cut(bencher: divan::Bencher) {
    let catalogue = catalogue();
    let build = Build::default();
    let picked = Picked::new(&catalogue, &build).expect("known parts");
    let machine = Machine::of(&picked, &mut Silent);
    bencher.bench(|| {
        let (axes, stiffness) = (&machine.axes, &machine.stiffness);
        Cutting::of(&picked, axes, stiffness, &mut Silent)
    });
}

/// One full assessment with the derivation of every figure: what nobody pays who does not ask why.
#[divan::bench]
fn explain_once(bencher: divan::Bencher) {
    let catalogue = catalogue();
    let build = Build::default();
    bencher.bench(|| explain(&catalogue, &build, TODAY));
}

/// The effect of each of a list's options, as the screen previews them.
#[divan::bench(args = ["beam_tube", "drive_x", "spindle", "coupling_x"])]
fn preview_every_option(bencher: divan::Bencher, id: &str) {
    let catalogue = catalogue();
    let build = Build::default();
    let before = assess(&catalogue, &build, TODAY).expect("an assessment");
    let bench = bench(&catalogue, &build, &before);
    let choice = choices::find(id).expect("a choice");
    bencher.bench(|| {
        let options = choice.options(&catalogue);
        let effects = options
            .into_iter()
            .map(|value| effect(&bench, &[Edit { choice, value }]));
        effects.filter(Result::is_ok).count()
    });
}

/// The tried remedy of every finding of a build that has many.
#[divan::bench]
fn every_remedy(bencher: divan::Bencher) {
    let catalogue = catalogue();
    let mut build = Build::default();
    for (id, value) in [
        ("travel_x_mm", "1500"),
        ("motor_y", "stepper-17-0.45"),
        ("vfd", "none"),
        ("extractor", "none"),
    ] {
        let edit = Edit::parse(id, value, &catalogue).expect("an edit");
        edit.apply(&mut build);
    }
    let before = assess(&catalogue, &build, TODAY).expect("an assessment");
    let bench = bench(&catalogue, &build, &before);
    bencher.bench(|| remedy::all(&bench));
}
