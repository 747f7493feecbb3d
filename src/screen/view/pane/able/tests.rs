//! The row on what the machine cuts.

use super::*;
use crate::catalogue::Id;
use crate::machine::cutting::{CutLimit, Engagement};
use crate::screen::glyphs::Glyphs;
use crate::screen::theme::Colours;

fn cut(verdict: Verdict, removal: f64) -> Cut {
    let id = |text| Id::new(text).expect("an id");
    Cut {
        material: id("aluminium-6082"),
        tool: id("mill-6mm-1f"),
        diameter: units::mm::of(6.0),
        engagement: Engagement::Slot,
        verdict,
        limited_by: CutLimit::Stiffness,
        turning: units::rpm::of(12_000.0),
        feed: units::m_per_min::of(0.6),
        depth: units::mm::of(1.0),
        width: units::mm::of(6.0),
        removal: units::cm3_per_min::of(removal),
        tooth_feed: units::mm::of(0.05),
        mean_chip: units::mm::of(0.03),
        specific_force: units::n_per_mm2::of(900.0),
        power: units::w::of(300.0),
        force: units::n::of(60.0),
        deflection: units::um::of(20.0),
        tooth_passing: units::hz::of(200.0),
        reached: units::share::of(0.5),
    }
}

fn fitting(texts: &[String], room: usize) -> String {
    let pen = Pen::new(Colours::None, Glyphs::Unicode);
    first_that_fits(&pen, texts, room)
}

#[test]
fn the_row_says_as_much_as_there_is_room_for() {
    let now = cut(Verdict::WithCare, 12.3);
    let texts = cut_texts(&Pen::bare(), "aluminium", Some(&now), None);
    assert_eq!(fitting(&texts, 40), "aluminium with care, 12.3 cm³/min");
    assert_eq!(fitting(&texts, 30), "aluminium with care, 12.3");
    assert_eq!(fitting(&texts, 24), "with care, 12.3 cm³/min");
    assert_eq!(fitting(&texts, 10), "with care");
}

#[test]
fn a_preview_shows_before_and_after() {
    let (now, then) = (cut(Verdict::Hardly, 2.0), cut(Verdict::WithCare, 12.34));
    let texts = cut_texts(&Pen::bare(), "aluminium", Some(&now), Some(Some(&then)));
    assert_eq!(
        fitting(&texts, 60),
        "aluminium hardly -> with care, 2.0 -> 12.3 cm³/min"
    );
    assert_eq!(fitting(&texts, 25), "with care, 2.0 -> 12.3");
    // What no longer goes removes nothing.
    let texts = cut_texts(&Pen::bare(), "aluminium", Some(&now), Some(None));
    assert_eq!(fitting(&texts, 24), "no, 2.0 -> 0.0 cm³/min");
    let none = cut(Verdict::No, 5.0);
    assert_eq!(removal(Some(&none)), "0.0");
}
