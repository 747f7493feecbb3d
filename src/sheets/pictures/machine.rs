//! The machine to scale: from above and from before it, with its outer sizes, its working area
//! and a bar for the scale.

use super::Picture;
use super::pen::{At, EDGE, Fill, LINE, Pen, Rect, SMALL, Stroke, WIDE};
use super::seen::Seen;
use super::stand::{Block, Stand, What};
use super::words::width;
use crate::build::Axis;
use crate::catalogue::frame::Role;
use crate::sheets::Paper;
use crate::units::{self, Length, show};

const ABOUT: &str = "To scale, with the tool in the middle of its travel. Lengths are those of \
                     the frame plan; where the plan does not say where a piece stands, it is \
                     drawn in the middle or in even distances. Motors, covers and cables are left \
                     out of the drawing, but not out of the outer sizes.";

/// Room for the numbers around a drawing.
const SIDE: f64 = 26.0;
/// No drawing is higher.
const HIGHEST: f64 = 400.0;

/// From above.
pub(super) fn plan(paper: &Paper) -> Picture {
    let stand = Stand::of(paper);
    let floor = paper.assessment.machine.geometry.footprint;
    let Seen {
        blocks,
        rails,
        outer,
        area,
    } = Seen::plan(paper, &stand);
    let view = View::around(&blocks, &[outer, area], SIDE + 16.0);
    let mut pen = Pen::new("plan");
    pen.rect(view.rect(&outer), Fill::None, Stroke::Dotted);
    let (spindle, others): (Vec<&Block>, Vec<&Block>) =
        blocks.iter().partition(|block| block.what == What::Spindle);
    for block in others {
        draw(&mut pen, &view, block);
    }
    for rail in &rails {
        let ends = [rail.low, rail.high];
        pen.line(&ends.map(|y| view.at(rail.left, y)), Stroke::Thin);
    }
    pen.rect(view.rect(&area), Fill::None, Stroke::Dashed);
    for block in spindle {
        let radius = (block.right - block.left) / 2.0 * view.scale;
        pen.circle(view.at(0.0, 0.0), radius, fill(block.what));
    }
    let (x, y) = (stand.travel(Axis::X), stand.travel(Axis::Y));
    let own = format!(
        "working area {} x {} mm",
        show::number(x, 0),
        show::number(y, 0)
    );
    pen.text((view.at(0.0, 0.0).0, EDGE + 10.0), At::Middle, SMALL, &own);
    let below = view.across(&mut pen, &outer, floor.x);
    view.along(&mut pen, &outer, floor.y);
    let y = view.bar(&mut pen, below);
    let y = keys(&mut pen, &stand, y + LINE + 4.0, false);
    Picture::new("plan", "The machine from above", ABOUT.to_owned(), pen, y)
}

/// From before it.
pub(super) fn front(paper: &Paper) -> Picture {
    let stand = Stand::of(paper);
    let floor = paper.assessment.machine.geometry.footprint;
    let Seen {
        blocks,
        outer,
        area,
        ..
    } = Seen::front(paper, &stand);
    let view = View::around(&blocks, &[outer, area], SIDE);
    let mut pen = Pen::new("front");
    pen.rect(view.rect(&outer), Fill::None, Stroke::Dotted);
    for block in &blocks {
        draw(&mut pen, &view, block);
    }
    pen.rect(view.rect(&area), Fill::None, Stroke::Dashed);
    let below = view.across(&mut pen, &outer, floor.x);
    view.along(&mut pen, &outer, floor.z);
    let y = view.bar(&mut pen, below);
    let z = stand.travel(Axis::Z);
    let own = format!(
        "{} mm free under the beam, {} mm of travel up and down",
        show::number(stand.under, 0),
        show::number(z, 0)
    );
    let y = pen.lines((EDGE, y + LINE + 4.0), SMALL, WIDE - 2.0 * EDGE, &own);
    let y = keys(&mut pen, &stand, y + 4.0, true);
    Picture::new(
        "front",
        "The machine from the front",
        ABOUT.to_owned(),
        pen,
        y,
    )
}

fn draw(pen: &mut Pen, view: &View, block: &Block) {
    pen.rect(view.rect(block), fill(block.what), Stroke::Plain);
}

fn fill(what: What) -> Fill {
    match what {
        What::Beam => Fill::Rising,
        What::Base => Fill::Light,
        What::Post => Fill::Upright,
        What::Plate => Fill::Squares,
        What::Table => Fill::Paper,
        What::Spindle => Fill::Dark,
        What::Tool => Fill::Dark,
    }
}

/// What each fill stands for, with the marks of the cut list; gives the height of it all.
fn keys(pen: &mut Pen, stand: &Stand, y: f64, posts: bool) -> f64 {
    let mut y = y;
    for text in stand.marked(Role::Beam) {
        y = pen.key(y, Fill::Rising, &text);
    }
    let base = [Role::Side, Role::Cross].map(|role| stand.marked(role));
    for text in base.iter().flatten() {
        y = pen.key(y, Fill::Light, text);
    }
    if posts {
        for text in stand.marked(Role::Upright) {
            y = pen.key(y, Fill::Upright, &text);
        }
    }
    y = pen.key(y, Fill::Squares, "plates that carry the spindle");
    y = pen.key(
        y,
        Fill::Dark,
        "spindle, drawn as far as its clamp, and tool",
    );
    let (table, tip) = match posts {
        true => ("table and what carries it", "where the tool's tip comes"),
        false => (
            "table, drawn where the tool comes",
            "where the tool's axis comes",
        ),
    };
    y = pen.key(y, Fill::Paper, table);
    y = pen.line_key(y, Stroke::Dashed, tip);
    y = pen.line_key(y, Stroke::Dotted, "outer size, with motors");
    y - LINE + 8.0
}

/// From millimetres to places on the sheet.
struct View {
    left: f64,
    high: f64,
    scale: f64,
    top: f64,
    from: f64,
    bottom: f64,
}

impl View {
    /// A view that holds every piece, with room for numbers at its left and above it.
    fn around(blocks: &[Block], more: &[Block], top: f64) -> Self {
        let all = || blocks.iter().chain(more);
        let least = |of: fn(&Block) -> f64| all().map(of).fold(f64::INFINITY, f64::min);
        let most = |of: fn(&Block) -> f64| all().map(of).fold(f64::NEG_INFINITY, f64::max);
        let (left, right) = (least(|block| block.left), most(|block| block.right));
        let (low, high) = (least(|block| block.low), most(|block| block.high));
        let room = WIDE - 2.0 * EDGE - SIDE;
        let scale = (room / (right - left).max(1.0)).min(HIGHEST / (high - low).max(1.0));
        let spare = room - (right - left) * scale;
        Self {
            left,
            high,
            scale,
            top,
            from: EDGE + SIDE + spare / 2.0,
            bottom: top + (high - low) * scale,
        }
    }

    fn at(&self, x: f64, y: f64) -> (f64, f64) {
        let across = self.from + (x - self.left) * self.scale;
        (across, self.top + (self.high - y) * self.scale)
    }

    fn rect(&self, block: &Block) -> Rect {
        let (left, top) = self.at(block.left, block.high);
        let wide = (block.right - block.left) * self.scale;
        Rect(left, top, wide, (block.high - block.low) * self.scale)
    }

    /// The width of a piece, written below the drawing; gives the base line of its number.
    fn across(&self, pen: &mut Pen, of: &Block, length: Length) -> f64 {
        let (left, right) = (self.at(of.left, 0.0).0, self.at(of.right, 0.0).0);
        let y = self.bottom + 9.0;
        measure(pen, [(left, y), (right, y)], (0.0, 4.0));
        let text = (((left + right) / 2.0), y + 14.0);
        pen.text(text, At::Middle, SMALL, &in_mm(length));
        y + 14.0
    }

    /// Its height, written at the left of the drawing.
    fn along(&self, pen: &mut Pen, of: &Block, length: Length) {
        let (top, low) = (self.at(0.0, of.high).1, self.at(0.0, of.low).1);
        let x = self.from - 9.0;
        measure(pen, [(x, top), (x, low)], (4.0, 0.0));
        pen.upwards((x - 6.0, (top + low) / 2.0), SMALL, &in_mm(length));
    }

    /// A bar for the scale; gives its base line.
    fn bar(&self, pen: &mut Pen, y: f64) -> f64 {
        let long = [1000.0, 500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0];
        let fits = |long: &f64| *long * self.scale <= 110.0;
        let long = long.into_iter().find(fits).unwrap_or(1.0);
        let (left, y) = (EDGE, y + LINE + 3.0);
        let half = long * self.scale / 2.0;
        pen.rect(Rect(left, y - 8.0, half, 6.0), Fill::Dark, Stroke::Plain);
        pen.rect(
            Rect(left + half, y - 8.0, half, 6.0),
            Fill::Paper,
            Stroke::Plain,
        );
        let text = format!("{} mm", show::number(long, 0));
        pen.text((left + 2.0 * half + 8.0, y - 1.0), At::Start, SMALL, &text);
        y
    }
}

/// A line with a stroke at each end.
pub(super) fn measure(pen: &mut Pen, ends: [(f64, f64); 2], (across, along): (f64, f64)) {
    pen.line(&ends, Stroke::Plain);
    for (x, y) in ends {
        pen.line(
            &[(x - across, y - along), (x + across, y + along)],
            Stroke::Plain,
        );
    }
}

/// A length in whole millimetres.
pub(super) fn in_mm(length: Length) -> String {
    format!("{} mm", show::number(units::mm::from(length), 0))
}

/// Whether a text fits into a width on the sheet.
pub(super) fn fits(text: &str, wide: f64) -> bool {
    width(text, SMALL) <= wide
}
