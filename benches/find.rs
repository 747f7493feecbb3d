//! How long the search for the cheapest build takes: some choices to the proof that nothing is
//! cheaper, and all usual ones for as much work as the interview gives a search.

use std::ops::ControlFlow;

use gantrywright::assessment::assess;
use gantrywright::build::{Build, Choice, choices};
use gantrywright::explore::find::{self, Found, Request};
use gantrywright::explore::trial::Bench;
use gantrywright::store::library;
use jiff::civil::{Date, date};

fn main() {
    divan::main();
}

const TODAY: Date = date(2026, 11, 25);

/// Looks for the cheapest build with some choices free; none for all usual ones.
fn search(ids: &[&str], effort: Option<u64>) -> Option<Found> {
    let catalogue = library::load(&[]).ok()?;
    let build = Build::default();
    let before = assess(&catalogue, &build, TODAY).ok()?;
    let bench = Bench {
        catalogue: &catalogue,
        build: &build,
        before: &before,
        today: TODAY,
    };
    let free: Vec<&'static Choice> = ids.iter().filter_map(|id| choices::find(id).ok()).collect();
    let request = Request {
        free,
        effort,
        ..Request::default()
    };
    find::find(&bench, &request, &mut |_| ControlFlow::Continue(())).ok()
}

/// Motors, drives and drivers of all axes, to the proof.
#[divan::bench(sample_count = 5)]
fn drives_and_motors() -> Option<Found> {
    let ids = [
        "drive_x", "drive_y", "drive_z", "motor_x", "motor_y", "motor_z", "driver_x", "driver_y",
        "driver_z",
    ];
    search(&ids, None)
}

/// All usual choices, for as much work as a search of the interview.
#[divan::bench(sample_count = 3)]
fn all_usual_choices() -> Option<Found> {
    search(&[], Some(3_000_000))
}
