//! What the strokes and fills of a drawing stand for, beside it or below it.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::Size;
use crate::screen::text;
use crate::screen::view::drawing::{Canvas, DOTS, Fill, Frame, Stroke};
use crate::screen::view::paint::Pen;
use crate::units::show;

/// Columns of a sample.
const SAMPLE: usize = 3;
/// A legend stands beside its drawing where at least so many columns are left for it.
const BESIDE: usize = 26;

/// A legend in the making.
pub(super) struct Legend<'p> {
    pen: &'p Pen,
    width: usize,
    lines: Vec<Line<'static>>,
}

impl<'p> Legend<'p> {
    /// An empty one, so wide.
    pub(super) fn new(pen: &'p Pen, width: usize) -> Self {
        Self {
            pen,
            width,
            lines: Vec::new(),
        }
    }

    /// A sample of a fill with what it stands for.
    pub(super) fn fill(&mut self, fill: Fill, style: Style, text: &str) {
        let mut canvas = Canvas::new(self.pen.glyphs, SAMPLE, 1);
        let frame = Frame {
            left: 0.0,
            top: 0.0,
            right: (SAMPLE * DOTS.0) as f64,
            bottom: DOTS.1 as f64,
        };
        let stroke = match fill {
            Fill::Blank => Stroke::Plain,
            _ => Stroke::None,
        };
        canvas.rect(frame, fill, stroke, style);
        self.sample(canvas, text);
    }

    /// A sample of a line with what it stands for.
    pub(super) fn stroke(&mut self, stroke: Stroke, style: Style, text: &str) {
        let mut canvas = Canvas::new(self.pen.glyphs, SAMPLE, 1);
        let end = (SAMPLE * DOTS.0 - 1) as f64;
        canvas.line((0.0, 1.0), (end, 1.0), stroke, style);
        self.sample(canvas, text);
    }

    /// A sign with what it stands for.
    pub(super) fn sign(&mut self, sign: &str, style: Style, text: &str) {
        let mut canvas = Canvas::new(self.pen.glyphs, SAMPLE, 1);
        canvas.word((1, 0), sign, style);
        self.sample(canvas, text);
    }

    /// A bar of a round length, so many dots to the millimetre.
    pub(super) fn scale(&mut self, per_mm: f64) {
        let long = [
            5000.0, 2000.0, 1000.0, 500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0,
        ];
        let most = (self.width / 2).min(14) * DOTS.0;
        let fits = |long: &f64| *long * per_mm <= most as f64;
        let long = long.into_iter().find(fits).unwrap_or(1.0);
        let dots = (long * per_mm).round().max(1.0);
        let columns = (dots as usize).div_ceil(DOTS.0).min(self.width);
        let mut canvas = Canvas::new(self.pen.glyphs, columns, 1);
        let style = Style::new();
        canvas.line((0.0, 2.0), (dots - 1.0, 2.0), Stroke::Plain, style);
        for end in [0.0, dots - 1.0] {
            canvas.line((end, 0.0), (end, 3.0), Stroke::Plain, style);
        }
        let text = format!(" {} mm", show::number(long, 0));
        let text = self.pen.cut(&text, self.width.saturating_sub(columns));
        self.lines.extend(canvas.lines().into_iter().map(|mut bar| {
            bar.spans.push(Span::raw(text.clone()));
            bar
        }));
    }

    /// A paragraph.
    pub(super) fn text(&mut self, text: &str, style: Style) {
        let lines = self.pen.wrap(text, self.width).into_iter();
        self.lines
            .extend(lines.map(|line| Line::styled(line, style)));
    }

    fn sample(&mut self, canvas: Canvas, text: &str) {
        let room = self.width.saturating_sub(SAMPLE + 1);
        let mut samples = canvas.lines().into_iter();
        for line in self.pen.wrap(text, room) {
            let mut spans = match samples.next() {
                Some(sample) => sample.spans,
                None => vec![Span::raw(" ".repeat(SAMPLE))],
            };
            spans.push(Span::raw(format!(" {line}")));
            self.lines.push(Line::from(spans));
        }
    }

    /// Its lines.
    pub(super) fn lines(self) -> Vec<Line<'static>> {
        self.lines
    }
}

/// Columns of a drawing on a page so wide: what a legend beside it leaves with so much of a gap,
/// or where that would be little, the page with the legend below.
pub(super) fn left_over(width: usize, gap: usize) -> usize {
    match width > 2 * BESIDE {
        true => width - BESIDE - gap,
        false => width.saturating_sub(2),
    }
}

/// A drawing with its legend: beside it where there is room, else below.
pub(super) fn with(
    (width, rows): Size,
    drawing: Vec<Line<'static>>,
    legend: impl FnOnce(usize) -> Vec<Line<'static>>,
) -> Vec<Line<'static>> {
    let wide = drawing.iter().map(Line::width).max().unwrap_or(0);
    if width < wide + 3 + BESIDE {
        let indented = drawing.into_iter().map(indent);
        let legend = legend(width.saturating_sub(2)).into_iter().map(indent);
        return indented.chain(legend).collect();
    }
    let legend = legend(width - wide - 4);
    // A drawing keeps to its room; a long legend goes on below it, and the page scrolls.
    let rows = rows.min(drawing.len()).max(legend.len());
    let mut legend = legend.into_iter();
    let mut drawing = drawing.into_iter();
    (0..rows)
        .map(|_| {
            let mut line = indent(drawing.next().unwrap_or_default());
            let gap = (wide + 3).saturating_sub(line.width());
            line.spans.push(Span::raw(" ".repeat(gap)));
            line.spans.extend(spans(legend.next().unwrap_or_default()));
            line
        })
        .collect()
}

/// The spans of a line, each with the line's style.
pub(super) fn spans(line: Line<'static>) -> Vec<Span<'static>> {
    let style = line.style;
    let spans = line.spans.into_iter();
    spans
        .map(|span| {
            let own = style.patch(span.style);
            span.style(own)
        })
        .collect()
}

fn indent(line: Line<'static>) -> Line<'static> {
    let mut all = vec![Span::raw(" ")];
    all.extend(spans(line));
    Line::from(all)
}

/// Columns that a text takes on the grid.
pub(super) fn columns(pen: &Pen, text: &str) -> usize {
    text::width(&pen.spell(text))
}
