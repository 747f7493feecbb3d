//! Shared by the tests of the page of figures: a screen with derivations of every kind.

use std::rc::Rc;

use gantrywright::build::Build;
use gantrywright::explain::{Derivation, Notes, Origin, Recorder as _};
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::units::Amount;

use crate::screen::{draw, open, press, rows};

/// A figure that follows from another.
pub(crate) const RAPID: &str = "axes.X.rapid_m_per_min";
/// A figure with inputs of every kind.
pub(crate) const WHIRL: &str = "axes.X.limits_m_per_min.screw-whirl";
/// Where its model ends.
pub(crate) const END: &str = "Beyond a slenderness that nobody builds it says nothing.";

/// Derivations of every kind of input.
fn notes() -> Notes {
    let mut notes = Notes::default();
    let speed = |number| Amount::of(number, "m/min");
    notes.note(|| {
        Derivation::of(WHIRL, "limit of X: screw whip", speed(15.66))
            .by("critical speed, less a margin, times lead", "v = 0.8 n P")
            .with(
                "",
                "margin",
                Amount::plain(0.8),
                Origin::Constant("handbook of machine elements"),
            )
            .with(
                "n",
                "critical speed, in a title that takes more than one line of the page",
                Amount::of(1957.0, "rpm"),
                Origin::Here,
            )
            .with(
                "P",
                "lead",
                Amount::of(10.0, "mm"),
                Origin::Part("ball-screw-16x10".to_owned()),
            )
            .with(
                "L",
                "travel X",
                Amount::of(600.0, "mm"),
                Origin::choice("travel_x_mm"),
            )
            .with(
                "a",
                "rail beyond the travel",
                Amount::of(180.0, "mm"),
                Origin::Plan("raised-sides".to_owned()),
            )
            .with(
                "U",
                "mains voltage",
                Amount::of(230.0, "V"),
                Origin::Site("site-230v-16a".to_owned()),
            )
            .with(
                "d",
                "core diameter",
                Amount::of(13.0, "mm"),
                Origin::Measured("travel_y_mm".to_owned()),
            )
            .from("handbook of machine elements", END)
    });
    notes.note(|| {
        Derivation::of(RAPID, "rapids of X", speed(15.66))
            .by("the lowest of all limits", "v = min vᵢ")
            .with(
                "v",
                "limit of X: screw whip",
                speed(15.66),
                Origin::figure(WHIRL),
            )
            .with(
                "w",
                "a figure that nobody noted",
                speed(20.0),
                Origin::figure("axes.X.none"),
            )
    });
    for material in ["softwood", "mild-steel"] {
        let path = format!("cutting.{material}.mill-6mm-2f.slot.depth_mm");
        notes.note(|| {
            Derivation::of(path, "depth", Amount::of(3.0, "mm")).instead_of(Amount::of(2.0, "mm"))
        });
    }
    notes
}

/// A screen of some size on the default build, with these derivations.
pub(crate) fn with_notes(width: u16, height: u16) -> State {
    let mut state = open(Build::default(), width, height);
    take_notes(&mut state);
    state
}

/// Puts these derivations in place of the machine's. They are let go at the first key that leaves
/// no page of figures open.
pub(crate) fn take_notes(state: &mut State) {
    let now = Rc::clone(&state.now);
    state.figures.take(now, notes(), &state.catalogue);
}

/// What the page shows, without the pane beside it.
pub(crate) fn left(state: &State) -> String {
    let shown = rows(&draw(state, Colours::None, Glyphs::Unicode));
    let lines = shown.iter().map(|row| {
        let row = row.split(['│', '┤']).next().unwrap_or("");
        row.trim().to_owned()
    });
    lines.collect::<Vec<_>>().join(" ")
}

/// Opens the rapids of X from the page of figures.
pub(crate) fn open_rapids(state: &mut State) {
    take_notes(state);
    press(
        state,
        &[Key::Char('e'), Key::Enter, Key::Down, Key::Down, Key::Enter],
    );
    assert_eq!(state.place(), Place::Derivation, "{}", left(state));
}
