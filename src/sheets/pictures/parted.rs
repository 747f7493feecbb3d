//! A bar that is parted: pieces of a whole with their numbers in it, and a list below that
//! says what each number is.

use super::pen::{At, EDGE, Fill, PARTS, Pen, Rect, SMALL, Stroke, WIDE};
use super::words::width;

/// How high the bar is.
pub(super) const HIGH: f64 = 24.0;

/// One piece of a bar.
#[derive(Clone, Debug)]
pub(super) struct Part {
    /// What it is.
    pub(super) name: String,
    /// How much of the whole width it takes, from 0 to 1.
    pub(super) share: f64,
    /// Its value in words.
    pub(super) value: String,
}

/// Draws a bar from a top edge on; its pieces have the fills of the list.
pub(super) fn bar(pen: &mut Pen, top: f64, parts: &[Part]) {
    let wide = WIDE - 2.0 * EDGE;
    let mut x = EDGE;
    for (place, part) in parts.iter().enumerate() {
        let long = wide * part.share.clamp(0.0, 1.0);
        pen.rect(Rect(x, top, long, HIGH), fill(place), Stroke::Plain);
        let number = (place + 1).to_string();
        let tag = width(&number, SMALL) + 6.0;
        if long > tag + 2.0 {
            // On paper of its own, for no letter is legible on hatching.
            let middle = x + long / 2.0;
            let ground = Rect(middle - tag / 2.0, top + 5.0, tag, 14.0);
            pen.rect(ground, Fill::Paper, Stroke::Thin);
            pen.text((middle, top + 16.0), At::Middle, SMALL, &number);
        }
        x += long;
    }
}

/// Lists the pieces with number, fill, name and value, from a base line on; gives the base line
/// that would come next.
pub(super) fn list(pen: &mut Pen, y: f64, parts: &[Part]) -> f64 {
    let mut y = y;
    for (place, part) in parts.iter().enumerate() {
        pen.rect(Rect(EDGE, y - 9.5, 16.0, 11.0), fill(place), Stroke::Plain);
        let name = format!("{} {}", place + 1, part.name);
        y = pen.row((EDGE + 23.0, y), WIDE - EDGE, &name, &part.value);
    }
    y
}

fn fill(place: usize) -> Fill {
    PARTS[place % PARTS.len()]
}
