//! The row on what the machine cuts.

use super::*;
use crate::screen::glyphs::Glyphs;
use crate::screen::theme::Colours;

fn pen() -> Pen {
    Pen::new(Colours::None, Glyphs::Unicode)
}

fn fitting(texts: &[String], room: usize) -> String {
    pen().first_that_fits(texts, room)
}

#[test]
fn the_row_says_as_much_as_there_is_room_for() {
    let now = (Verdict::WithCare, 12.3);
    let texts = cut_texts(&pen(), "aluminium", now, None);
    assert_eq!(fitting(&texts, 40), "aluminium with care, 12.3 cm³/min");
    assert_eq!(fitting(&texts, 30), "aluminium with care, 12.3");
    assert_eq!(fitting(&texts, 24), "with care, 12.3 cm³/min");
    assert_eq!(fitting(&texts, 10), "with care");
}

#[test]
fn a_preview_shows_before_and_after() {
    let (now, then) = ((Verdict::Hardly, 2.0), (Verdict::WithCare, 12.34));
    let texts = cut_texts(&pen(), "aluminium", now, Some(then));
    assert_eq!(
        fitting(&texts, 60),
        "aluminium hardly -> with care, 2.0 -> 12.3 cm³/min"
    );
    assert_eq!(fitting(&texts, 25), "hardly -> with care, 12.3");
    assert_eq!(fitting(&texts, 24), "with care, 2.0 -> 12.3");
    // What no longer goes removes nothing.
    let texts = cut_texts(&pen(), "aluminium", now, Some((Verdict::No, 0.0)));
    assert_eq!(fitting(&texts, 24), "hardly -> no, 2.0 -> 0.0");
}
