//! The machine to scale, from above and from the front.

use ratatui::style::Style;
use ratatui::text::Line;

use super::legend::{self, Legend};
use super::{MOST, Size, table};
use crate::screen::pictures::PictureKind;
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::view::drawing::{Canvas, DOTS, Fill, Frame, Stroke};
use crate::screen::view::paint::Pen;
use crate::sheets::pictures::seen::{Scene, Seen};
use crate::sheets::pictures::stand::{Block, What};
use crate::units::show;

/// A length in whole millimetres.
pub(super) fn mm(length: f64) -> String {
    format!("{} mm", show::number(length, 0))
}

/// Two lengths in whole millimetres.
pub(super) fn by(x: f64, y: f64) -> String {
    format!("{} x {} mm", show::number(x, 0), show::number(y, 0))
}

/// The page of one view with its legend.
pub(super) fn picture(
    state: &State,
    pen: &Pen,
    (width, rows): Size,
    kind: PictureKind,
) -> Vec<Line<'static>> {
    let Some(scene) = state.pictures.now() else {
        return Vec::new();
    };
    let seen = of(scene, kind);
    let columns = legend::left_over(width, 4);
    let size = (columns.min(MOST.0), rows.min(MOST.1));
    let margin = margin(pen, seen);
    let per_mm = per_mm(&[seen], (size.0.saturating_sub(margin), size.1));
    let drawing = draw(pen, (seen, None), size, (per_mm, margin));
    legend::with((width, rows), drawing, |width| {
        let mut legend = Legend::new(pen, width);
        legend.scale(per_mm);
        keys(&mut legend, pen, scene, kind);
        legend.text(ABOUT, pen.theme.muted);
        legend.lines()
    })
}

const ABOUT: &str = "Drawn to scale, the tool in the middle of its travel. Pieces that the frame \
                     plan gives no place stand in even distances. Motors, covers and cables are \
                     not drawn.";

/// The view of a scene that a picture shows.
pub(super) fn of(scene: &Scene, kind: PictureKind) -> &Seen {
    match kind {
        PictureKind::Front => &scene.front,
        _ => &scene.plan,
    }
}

/// Columns left of a view, for its height in words and the line beside it.
fn margin(pen: &Pen, seen: &Seen) -> usize {
    legend::columns(pen, &mm(seen.outer.high - seen.outer.low)) + 2
}

/// How many dots a millimetre takes so that views fit into so many columns and rows each.
pub(super) fn per_mm(seen: &[&Seen], (columns, rows): Size) -> f64 {
    let wide = (columns.max(4) * DOTS.0) as f64;
    let high = (rows.saturating_sub(1).max(2) * DOTS.1) as f64;
    let each = seen.iter().map(|seen| {
        let all = seen.bounds();
        let (x, y) = (all.right - all.left, all.high - all.low);
        (wide / x.max(1.0)).min(high / y.max(1.0))
    });
    let least = each.fold(f64::INFINITY, f64::min);
    if least.is_finite() { least } else { 1.0 }
}

/// From millimetres to dots.
struct View {
    left: f64,
    high: f64,
    per_mm: f64,
    margin: f64,
}

impl View {
    fn frame(&self, block: &Block) -> Frame {
        let across = |x: f64| self.margin + (x - self.left) * self.per_mm;
        let down = |y: f64| (self.high - y) * self.per_mm;
        Frame {
            left: across(block.left),
            top: down(block.high),
            right: across(block.right),
            bottom: down(block.low),
        }
    }
}

/// One view with its outer size, the one along it at its left where there is a margin for it;
/// what would be as an outline.
pub(super) fn draw(
    pen: &Pen,
    (seen, after): (&Seen, Option<&Seen>),
    (columns, rows): Size,
    (per_mm, margin): (f64, usize),
) -> Vec<Line<'static>> {
    let mut all = seen.bounds();
    if let Some(after) = after {
        let other = after.bounds();
        all.left = all.left.min(other.left);
        all.high = all.high.max(other.high);
        all.right = all.right.max(other.right);
        all.low = all.low.min(other.low);
    }
    let dots = |length: f64, each: usize| (length * per_mm / each as f64).ceil().max(1.0) as usize;
    let wide = margin + dots(all.right - all.left, DOTS.0);
    let high = dots(all.high - all.low, DOTS.1) + 1;
    let (wide, high) = (wide.min(columns.max(margin)), high.min(rows));
    let mut canvas = Canvas::new(pen.glyphs, wide, high);
    let view = View {
        left: all.left,
        high: all.high,
        per_mm,
        margin: (margin * DOTS.0) as f64,
    };
    pieces(&mut canvas, pen, &view, seen);
    // Where both lie in the same place, it is what stands that is shown.
    if let Some(after) = after {
        would_be(&mut canvas, pen, &view, after);
    }
    for (block, stroke, style) in [
        (&seen.outer, Stroke::Dotted, pen.theme.muted),
        (&seen.area, Stroke::Dashed, pen.theme.title),
    ] {
        canvas.rect(view.frame(block), Fill::None, stroke, style);
    }
    label(&mut canvas, pen, &view, seen);
    sizes(&mut canvas, pen, &view, seen, (margin, wide, high));
    canvas.lines()
}

fn pieces(canvas: &mut Canvas, pen: &Pen, view: &View, seen: &Seen) {
    let (over, under): (Vec<&Block>, Vec<&Block>) = seen
        .blocks
        .iter()
        .partition(|block| matches!(block.what, What::Spindle | What::Tool));
    let mut put = |block: &Block| {
        let (fill, style) = look(pen, block.what);
        let frame = view.frame(block);
        // A table as large as the working area has its edge.
        let stroke = match frame == view.frame(&seen.area) {
            true => Stroke::None,
            false => Stroke::Plain,
        };
        canvas.rect(frame, fill, stroke, style);
    };
    under.into_iter().for_each(&mut put);
    over.into_iter().for_each(&mut put);
    for rail in &seen.rails {
        let frame = view.frame(rail);
        let ends = ((frame.left, frame.top), (frame.left, frame.bottom));
        canvas.line(ends.0, ends.1, Stroke::Plain, Style::new());
    }
}

/// The outlines of what would be: outer size, working area, beam.
fn would_be(canvas: &mut Canvas, pen: &Pen, view: &View, after: &Seen) {
    let beam = after.blocks.iter().filter(|one| one.what == What::Beam);
    for block in [&after.outer, &after.area].into_iter().chain(beam) {
        let frame = view.frame(block);
        canvas.rect(frame, Fill::None, Stroke::After, pen.theme.good);
    }
}

fn look(pen: &Pen, what: What) -> (Fill, Style) {
    match what {
        What::Beam => (Fill::Rising, Style::new()),
        What::Base => (Fill::Light, pen.theme.muted),
        What::Post => (Fill::Upright, pen.theme.muted),
        What::Plate => (Fill::Half, Style::new()),
        What::Table => (Fill::Blank, pen.theme.muted),
        What::Spindle | What::Tool => (Fill::Full, pen.theme.marked),
    }
}

/// Names on the drawing itself, where there is room for them.
fn label(canvas: &mut Canvas, pen: &Pen, view: &View, seen: &Seen) {
    let cells = |frame: Frame| {
        let column = (frame.left / DOTS.0 as f64).max(0.0) as usize;
        let columns = ((frame.right - frame.left) / DOTS.0 as f64).max(0.0) as usize;
        let middle = ((frame.top + frame.bottom) / 2.0 / DOTS.1 as f64).max(0.0) as usize;
        (column, columns, middle)
    };
    let beam = seen.blocks.iter().find(|one| one.what == What::Beam);
    if let Some(beam) = beam {
        let (column, columns, middle) = cells(view.frame(beam));
        if columns >= 16 {
            canvas.word((column + 2, middle), " beam ", Style::new());
        }
    }
    let frame = view.frame(&seen.area);
    let (column, columns, _) = cells(frame);
    let lowest = (frame.bottom / DOTS.1 as f64) as usize;
    let rows = ((frame.bottom - frame.top) / DOTS.1 as f64) as usize;
    if columns >= 18 && rows >= 4 {
        let at = (column + 2, lowest.saturating_sub(1));
        canvas.word(at, " working area ", pen.theme.title);
    }
}

/// The outer sizes: across below the drawing, along at its left.
fn sizes(
    canvas: &mut Canvas,
    pen: &Pen,
    view: &View,
    seen: &Seen,
    (margin, wide, high): (usize, usize, usize),
) {
    let frame = view.frame(&seen.outer);
    let style = Style::new();
    let (right, bottom) = (frame.right.round() - 1.0, frame.bottom.round() - 1.0);
    let y = ((high - 1) * DOTS.1) as f64 + 1.0;
    canvas.line((frame.left, y), (right, y), Stroke::Plain, style);
    for end in [frame.left, right] {
        canvas.line((end, y - 1.0), (end, y + 1.0), Stroke::Plain, style);
    }
    if margin > 0 {
        let x = (margin * DOTS.0) as f64 - 3.0;
        canvas.line((x, frame.top), (x, bottom), Stroke::Plain, style);
        for end in [frame.top, bottom] {
            canvas.line((x - 1.0, end), (x + 1.0, end), Stroke::Plain, style);
        }
        let along = pen.spell(&mm(seen.outer.high - seen.outer.low));
        let middle = ((frame.top + bottom) / 2.0 / DOTS.1 as f64).max(0.0) as usize;
        canvas.word((0, middle), &along, style);
    }
    let across = format!(" {} ", pen.spell(&mm(seen.outer.right - seen.outer.left)));
    let middle = ((frame.left + right) / 2.0 / DOTS.0 as f64) as usize;
    let long = text::width(&across);
    let at = middle
        .saturating_sub(long / 2)
        .min(wide.saturating_sub(long));
    canvas.word((at, high - 1), &across, style);
}

/// What each stroke and fill stands for.
fn keys(legend: &mut Legend, pen: &Pen, scene: &Scene, kind: PictureKind) {
    let front = kind == PictureKind::Front;
    reach(legend, pen, scene, front);
    let seen = scene
        .members
        .iter()
        .filter(|(what, _)| front || *what != What::Post);
    for (what, text) in seen {
        let (fill, style) = look(pen, *what);
        legend.fill(fill, style, text);
    }
    let (fill, style) = look(pen, What::Plate);
    legend.fill(fill, style, "plates that carry the spindle");
    let (fill, style) = look(pen, What::Spindle);
    let spindle = match front {
        true => "spindle, as far as its clamp, and tool",
        false => "spindle",
    };
    legend.fill(fill, style, spindle);
    let (fill, style) = look(pen, What::Table);
    legend.fill(fill, style, "table");
    if !front {
        legend.stroke(Stroke::Plain, Style::new(), "rails along Y");
    }
}

/// Where the tool comes, and the outer size.
fn reach(legend: &mut Legend, pen: &Pen, scene: &Scene, front: bool) {
    let [x, y, _] = scene.travel;
    let (area, outer) = match front {
        true => {
            let high = scene.front.area.high - scene.front.area.low;
            let says = format!(
                "where the tool's tip comes: {} wide, {} high; {} free under the beam",
                mm(x),
                mm(high),
                mm(scene.under)
            );
            (says, &scene.front.outer)
        }
        false => {
            let edge = by(x + scene.cutter, y + scene.cutter);
            let says = format!(
                "working area, where the tool's axis comes: {}; its edge cuts {edge}",
                by(x, y)
            );
            (says, &scene.plan.outer)
        }
    };
    legend.stroke(Stroke::Dashed, pen.theme.title, &area);
    let size = by(outer.right - outer.left, outer.high - outer.low);
    let text = format!("outer size, with motors: {size}");
    legend.stroke(Stroke::Dotted, pen.theme.muted, &text);
}

/// The same numbers as a table.
pub(super) fn table(
    state: &State,
    pen: &Pen,
    width: usize,
    kind: PictureKind,
) -> Vec<Line<'static>> {
    let Some(scene) = state.pictures.now() else {
        return Vec::new();
    };
    let [x, y, z] = scene.travel;
    let outer = &of(scene, kind).outer;
    let (wide, high) = (outer.right - outer.left, outer.high - outer.low);
    let mut rows = vec![("Outer size along X, with motors".to_owned(), mm(wide))];
    match kind {
        PictureKind::Front => rows.extend([
            ("Outer height".to_owned(), mm(high)),
            ("Travel X".to_owned(), mm(x)),
            ("Travel Z".to_owned(), mm(z)),
            ("Free height under the beam".to_owned(), mm(scene.under)),
            ("The tool stands out".to_owned(), mm(scene.reach)),
            (
                "The tip comes up and down".to_owned(),
                mm(scene.front.area.high - scene.front.area.low),
            ),
        ]),
        _ => rows.extend([
            ("Outer size along Y".to_owned(), mm(high)),
            ("Travel X".to_owned(), mm(x)),
            ("Travel Y".to_owned(), mm(y)),
            (
                "The tool's edge cuts".to_owned(),
                by(x + scene.cutter, y + scene.cutter),
            ),
            ("From Y rail to Y rail".to_owned(), mm(scene.span)),
            (
                "From the tool's axis back to the beam's middle".to_owned(),
                mm(scene.beam),
            ),
        ]),
    }
    rows.extend(scene.members.iter().filter_map(|(_, text)| {
        let (name, size) = text.split_once(": ")?;
        Some((name.to_owned(), size.to_owned()))
    }));
    let rows: Vec<Vec<String>> = rows
        .into_iter()
        .map(|(name, size)| vec![name, size])
        .collect();
    table::table(pen, width, &["What", "How long"], &rows)
}
