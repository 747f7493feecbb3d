//! The first screen at 80 by 24, without a key: what it costs at the door, what it cuts and how
//! fast, whether the socket carries it, what is worst, and what to do next.

use crate::common;
use crate::screen::{draw, open, press, rows};
use gantrywright::build::Build;
use gantrywright::money::show as amounts;
use gantrywright::rules::Severity;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::next::next;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::store::examples;
use gantrywright::units;

/// The side pane, a line a row.
fn pane(state: &State) -> Vec<String> {
    let shown = rows(&draw(state, Colours::None, Glyphs::Unicode));
    let right = |row: &String| {
        row.split(['│', '┤'])
            .nth(1)
            .map(|row| row.trim().to_owned())
    };
    shown.iter().filter_map(right).collect()
}

/// The line that begins with a heading, and what stands behind that.
fn row<'a>(pane: &'a [String], head: &str) -> &'a str {
    let found = pane.iter().find_map(|row| row.strip_prefix(head));
    found
        .unwrap_or_else(|| panic!("no {head} in {pane:#?}"))
        .trim()
}

fn builds() -> Vec<(String, Build)> {
    let catalogue = common::catalogue();
    let mut all = vec![("a new build".to_owned(), Build::default())];
    for example in examples::all() {
        let build = example.build(&catalogue).expect("a build");
        all.push((example.name.to_owned(), build));
    }
    all.extend(
        common::random_builds(&catalogue, 8080, 40)
            .into_iter()
            .enumerate()
            .map(|(place, build)| (format!("build {place}"), build)),
    );
    all
}

#[test]
fn five_things_stand_there_without_a_key() {
    for (name, build) in builds() {
        let state = open(build, 80, 24);
        let pane = pane(&state);
        let bill = &state.now.bill;
        let likely = amounts::whole(bill.total.likely);
        assert!(row(&pane, "COST").contains(&likely), "{name}: {pane:#?}");
        let range = format!("from {}", amounts::range(bill.total));
        assert!(
            pane.iter().any(|row| row.contains(&range)),
            "{name}: {pane:#?}"
        );
        if state.wishes_material() {
            assert!(!row(&pane, "CUTS").is_empty(), "{name}");
        }
        socket(&state, &pane, &name);
        let worst = state.entries_listed().first().copied();
        let counting = state.now.findings.iter().any(|one| one.counts());
        if let (Some(worst), true) = (worst, counting) {
            let title = state.about.topics()[worst].title(&state.now.findings);
            let first = title.split_whitespace().next().expect("a word");
            let text = pane.join(" ");
            assert!(text.contains(first), "{name}: {title} is not in {pane:#?}");
        }
        assert_eq!(pane.len(), 20, "{name}");
        let last = pane.last().expect("a row");
        assert!(
            last.starts_with("NEXT ") && !last.contains('…'),
            "{name}: {last}"
        );
    }
}

/// Yes or no, as the circuits say it, and by how much.
fn socket(state: &State, pane: &[String], name: &str) {
    if state.now.lacks_circuit() {
        assert_eq!(row(pane, "CIRCUITS"), "no, second missing", "{name}");
        return;
    }
    let circuits = &state.now.machine.electrics.circuits;
    let over = circuits.iter().any(|one| one.full() > one.allowed);
    let said = row(pane, "CIRCUITS");
    // Where there is no room for both, the margin is what the circuits below leave.
    if !over && circuits.iter().any(|one| !one.there) {
        assert_eq!(said, "yes, if second laid", "{name}");
        for (name, circuit) in ["first", "second"].iter().zip(circuits) {
            let number = |current| {
                let current = units::a::from(current);
                gantrywright::units::show::number(current, 1)
            };
            let load = row(pane, name);
            let (full, allowed) = (number(circuit.full()), number(circuit.allowed));
            assert!(load.contains(&format!("{full} of {allowed}")), "{load}");
        }
        return;
    }
    assert!(
        said.starts_with(if over { "no, " } else { "yes, " }),
        "{name}: {said}"
    );
    let spare = circuits.iter().map(|one| {
        let spare = units::a::from(one.allowed) - units::a::from(one.full());
        gantrywright::units::show::number(spare.abs(), 1)
    });
    let told = said.split(' ').nth(1).expect("a number");
    assert!(spare.into_iter().any(|one| one == told), "{name}: {said}");
}

/// The key that is named leads somewhere.
#[test]
fn what_to_do_next_is_one_key_away() {
    for (name, build) in builds() {
        let mut state = open(build, 80, 24);
        let key = next(&state).key.unwrap_or_else(|| panic!("{name}: no key"));
        press(&mut state, &[key]);
        assert_ne!(state.place(), Place::Choices, "{name}: {key}");
    }
}

#[test]
fn what_is_wrong_comes_before_what_is_to_be_bought() {
    let words = |build: Build| {
        let state = open(build, 80, 24);
        (next(&state).words.join(" "), state)
    };
    let catalogue = common::catalogue();
    let (said, _) = words(Build::default());
    assert!(said.contains("questions"), "{said}");
    let (said, state) = words(common::build(&catalogue, &[("emergency_stop", "none")]));
    let worst = state.now.findings.iter().map(|one| one.severity).min();
    assert_eq!(worst, Some(Severity::Danger));
    assert!(said.contains("danger"), "{said}");
    let (said, state) = words(common::build(&catalogue, &[("paint", "no")]));
    assert!(
        state
            .now
            .findings
            .iter()
            .all(|one| one.severity == Severity::Hint)
    );
    assert!(said.contains("prices"), "{said}");
}
