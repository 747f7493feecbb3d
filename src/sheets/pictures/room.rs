//! The machine's floor in the room, with the room that a person needs beside it.

use super::Picture;
use super::machine::{fits, in_mm, measure};
use super::pen::{At, EDGE, Fill, LINE, Pen, Rect, SMALL, Stroke, WIDE};
use super::seen::Floor;
use crate::sheets::Paper;
use crate::units::show;

/// Room for the numbers.
const SIDE: f64 = 26.0;
/// No drawing is higher.
const HIGHEST: f64 = 220.0;

/// Draws it.
pub(super) fn picture(paper: &Paper) -> Picture {
    let area = &paper.build.area;
    let floor = paper.assessment.machine.geometry.footprint;
    let place = Floor::of(paper.build, paper.assessment);
    let (all_x, all_y) = place.all();
    let scale = ((WIDE - 2.0 * EDGE - SIDE) / all_x).min(HIGHEST / all_y);
    let (left, top) = (EDGE + SIDE, EDGE + SIDE);
    let mut pen = Pen::new("room");
    // The machine stands in the far left corner: room to stand is left before it and beside it.
    let machine = Rect(left, top, place.wide * scale, place.deep * scale);
    let (needed_x, needed_y) = place.needed();
    let access = Rect(left, top, needed_x * scale, needed_y * scale);
    pen.rect(access, Fill::Level, Stroke::Thin);
    pen.rect(machine, Fill::Rising, Stroke::Plain);
    let walls = Rect(left, top, place.room_x * scale, place.room_y * scale);
    pen.rect(walls, Fill::None, Stroke::Thick);
    let (right, low) = (left + place.room_x * scale, top + place.room_y * scale);
    let y = top - 10.0;
    measure(&mut pen, [(left, y), (right, y)], (0.0, 4.0));
    let text = in_mm(area.room_x);
    let at = ((left + right) / 2.0, y - 6.0);
    pen.text(at, At::Middle, SMALL, &text);
    let x = left - 10.0;
    measure(&mut pen, [(x, top), (x, low)], (4.0, 0.0));
    let text = in_mm(area.room_y);
    if fits(&text, low - top) {
        pen.upwards((x - 6.0, (top + low) / 2.0), SMALL, &text);
    }
    let y = top + all_y * scale + LINE + 4.0;
    let own = format!("machine: {} by {}", in_mm(floor.x), in_mm(floor.y));
    let y = pen.key(y, Fill::Rising, &own);
    let stand = format!("{} mm to stand on two sides", show::number(place.access, 0));
    let y = pen.key(y, Fill::Level, &stand);
    let y = pen.line_key(y, Stroke::Thick, "walls of the room");
    let about = about(place.fits());
    Picture::new(
        "room",
        "The machine in its room",
        about,
        pen,
        y - LINE + 8.0,
    )
}

fn about(fits: bool) -> String {
    let says = if fits {
        "Machine and a person beside it fit into the room."
    } else {
        "Machine and a person beside it do not fit into the room: what lies beyond the walls is \
         what is missing."
    };
    says.to_owned() + " Drawn in a corner; cables, hoses and the door's swing are not counted."
}
