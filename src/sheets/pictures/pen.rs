//! Draws on a sheet that is 360 units wide, which is a small phone: letters of 12 units stay
//! readable there, and grow with the picture on paper.
//!
//! Fills differ by their pattern, not by colour alone, so that a grey print and colour-blind
//! eyes tell them apart.

use std::fmt::Write as _;

use super::words::{escaped, lines, width};

/// How wide every picture is.
pub(super) const WIDE: f64 = 360.0;
/// Room at the left and right edge.
pub(super) const EDGE: f64 = 8.0;
/// Size of letters.
pub(super) const SIZE: f64 = 12.0;
/// Size of small letters.
pub(super) const SMALL: f64 = 11.0;
/// From line to line.
pub(super) const LINE: f64 = 15.0;

const INK: &str = "#1c2126";

/// How an area is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fill {
    /// Not at all.
    None,
    /// The paper's white, which hides what lies below.
    Paper,
    /// Light and even.
    Light,
    /// Dark and even.
    Dark,
    /// Lines rising to the right.
    Rising,
    /// Lines falling to the right.
    Falling,
    /// Dots.
    Dots,
    /// Squares of crossing lines.
    Squares,
    /// Upright lines.
    Upright,
    /// Level lines.
    Level,
}

/// Fills for parts of a whole, neighbours well apart.
pub(super) const PARTS: [Fill; 8] = [
    Fill::Dark,
    Fill::Rising,
    Fill::Light,
    Fill::Dots,
    Fill::Falling,
    Fill::Squares,
    Fill::Upright,
    Fill::Level,
];

impl Fill {
    fn name(self) -> &'static str {
        match self {
            Self::None | Self::Paper => "",
            Self::Light => "light",
            Self::Dark => "dark",
            Self::Rising => "rising",
            Self::Falling => "falling",
            Self::Dots => "dots",
            Self::Squares => "squares",
            Self::Upright => "upright",
            Self::Level => "level",
        }
    }

    /// The ground, and the lines on it in a tile of 6 by 6.
    fn tile(self) -> (&'static str, &'static str) {
        match self {
            Self::None => ("none", ""),
            Self::Paper => ("#ffffff", ""),
            Self::Light => ("#dfe5ea", ""),
            Self::Dark => ("#4b5a68", ""),
            Self::Rising => ("#f6e3c5", "M-1,1 L1,-1 M0,6 L6,0 M5,7 L7,5"),
            Self::Falling => ("#cfe6f2", "M-1,5 L1,7 M0,0 L6,6 M5,-1 L7,1"),
            Self::Dots => ("#ffffff", "M1,1 h1.8 v1.8 h-1.8 z M4,4 h1.8 v1.8 h-1.8 z"),
            Self::Squares => ("#f3d9dd", "M3,0 V6 M0,3 H6"),
            Self::Upright => ("#e2efd6", "M1.5,0 V6 M4.5,0 V6"),
            Self::Level => ("#ece4f4", "M0,1.5 H6 M0,4.5 H6"),
        }
    }
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stroke {
    /// A hair line.
    Thin,
    /// An outline.
    Plain,
    /// A line that carries a meaning.
    Thick,
    /// Long dashes.
    Dashed,
    /// Dots.
    Dotted,
}

impl Stroke {
    fn attributes(self) -> &'static str {
        match self {
            Self::Thin => "stroke-width=\"0.6\"",
            Self::Plain => "stroke-width=\"1\"",
            Self::Thick => "stroke-width=\"2.2\"",
            Self::Dashed => "stroke-width=\"1.6\" stroke-dasharray=\"7 4\"",
            Self::Dotted => "stroke-width=\"1.6\" stroke-dasharray=\"1.6 3\"",
        }
    }
}

/// Where a text stands at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum At {
    /// To its right.
    Start,
    /// Around it.
    Middle,
    /// To its left.
    End,
}

/// A rectangle on the sheet: left, top, width, height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rect(
    pub(super) f64,
    pub(super) f64,
    pub(super) f64,
    pub(super) f64,
);

/// What draws.
#[derive(Debug)]
pub(super) struct Pen {
    id: &'static str,
    body: String,
    fills: Vec<Fill>,
}

impl Pen {
    /// A new sheet; its id keeps its patterns apart from those of other pictures in one file.
    pub(super) fn new(id: &'static str) -> Self {
        Self {
            id,
            body: String::new(),
            fills: Vec::new(),
        }
    }

    /// A filled rectangle with an outline.
    pub(super) fn rect(&mut self, rect: Rect, fill: Fill, stroke: Stroke) {
        let fill = self.filled(fill);
        let Rect(x, y, wide, high) = rect;
        let (x, y, wide, high) = (n(x), n(y), n(wide.max(0.0)), n(high.max(0.0)));
        let stroke = stroke.attributes();
        let _ = writeln!(
            self.body,
            "<rect x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{high}\" fill=\"{fill}\" stroke=\"{INK}\" {stroke}/>"
        );
    }

    /// A filled circle with an outline.
    pub(super) fn circle(&mut self, (x, y): (f64, f64), radius: f64, fill: Fill) {
        let fill = self.filled(fill);
        let (x, y, radius) = (n(x), n(y), n(radius.max(0.0)));
        let _ = writeln!(
            self.body,
            "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\" fill=\"{fill}\" stroke=\"{INK}\"/>"
        );
    }

    /// A line through points.
    pub(super) fn line(&mut self, points: &[(f64, f64)], stroke: Stroke) {
        let points: Vec<String> = points
            .iter()
            .map(|(x, y)| format!("{},{}", n(*x), n(*y)))
            .collect();
        let (points, stroke) = (points.join(" "), stroke.attributes());
        let _ = writeln!(
            self.body,
            "<polyline points=\"{points}\" fill=\"none\" stroke=\"{INK}\" {stroke}/>"
        );
    }

    /// A text at a point of its base line.
    pub(super) fn text(&mut self, (x, y): (f64, f64), at: At, size: f64, text: &str) {
        self.write((x, y), at, size, "", text);
    }

    /// The same in bold.
    pub(super) fn bold(&mut self, (x, y): (f64, f64), at: At, size: f64, text: &str) {
        self.write((x, y), at, size, " font-weight=\"bold\"", text);
    }

    /// A text that runs upwards.
    pub(super) fn upwards(&mut self, (x, y): (f64, f64), size: f64, text: &str) {
        let turn = format!(" transform=\"rotate(-90 {} {})\"", n(x), n(y));
        self.write((x, y), At::Middle, size, &turn, text);
    }

    /// A text in as many lines as it takes, from a first base line on; gives the base line
    /// that would come next.
    pub(super) fn lines(&mut self, (x, y): (f64, f64), size: f64, most: f64, text: &str) -> f64 {
        let mut y = y;
        for line in lines(text, size, most) {
            self.text((x, y), At::Start, size, &line);
            y += LINE;
        }
        y
    }

    /// A row with a name at the left and its value at the right; the name breaks into lines
    /// before it would meet the value. Gives the base line that would come next.
    pub(super) fn row(&mut self, (x, y): (f64, f64), right: f64, name: &str, value: &str) -> f64 {
        let room = right - x - width(value, SIZE) - SIZE;
        self.text((right, y), At::End, SIZE, value);
        if room < 8.0 * SIZE {
            return self.lines((x, y + LINE), SIZE, right - x, name);
        }
        self.lines((x, y), SIZE, room, name)
    }

    /// A sample of a fill with what it stands for; gives the base line that would come next.
    pub(super) fn key(&mut self, y: f64, fill: Fill, text: &str) -> f64 {
        self.rect(Rect(EDGE, y - 9.5, 16.0, 11.0), fill, Stroke::Plain);
        self.lines((EDGE + 23.0, y), SIZE, WIDE - 2.0 * EDGE - 23.0, text)
    }

    /// A sample of a line with what it stands for; gives the base line that would come next.
    pub(super) fn line_key(&mut self, y: f64, stroke: Stroke, text: &str) -> f64 {
        self.line(&[(EDGE, y - 4.0), (EDGE + 26.0, y - 4.0)], stroke);
        self.lines((EDGE + 33.0, y), SIZE, WIDE - 2.0 * EDGE - 33.0, text)
    }

    fn write(&mut self, (x, y): (f64, f64), at: At, size: f64, more: &str, text: &str) {
        let anchor = match at {
            At::Start => "start",
            At::Middle => "middle",
            At::End => "end",
        };
        let (x, y, size, text) = (n(x), n(y), n(size), escaped(text));
        let _ = writeln!(
            self.body,
            "<text x=\"{x}\" y=\"{y}\" text-anchor=\"{anchor}\" font-size=\"{size}\" fill=\"{INK}\"{more}>{text}</text>"
        );
    }

    /// The paint of a fill, which is noted so that its pattern is defined.
    fn filled(&mut self, fill: Fill) -> String {
        let (ground, lines) = fill.tile();
        if lines.is_empty() {
            return ground.to_owned();
        }
        if !self.fills.contains(&fill) {
            self.fills.push(fill);
        }
        format!("url(#{}-{})", self.id, fill.name())
    }

    /// The whole picture, so high, with a title and what it shows for those who do not see it.
    pub(super) fn done(self, high: f64, title: &str, shows: &str) -> String {
        let (id, wide, high) = (self.id, n(WIDE), n(high));
        let (title, shows) = (escaped(title), escaped(shows));
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {wide} {high}\" role=\"img\" aria-labelledby=\"{id}-title {id}-desc\" font-family=\"system-ui, 'DejaVu Sans', sans-serif\">\n<title id=\"{id}-title\">{title}</title>\n<desc id=\"{id}-desc\">{shows}</desc>\n<defs>\n"
        );
        for fill in &self.fills {
            let (ground, lines) = fill.tile();
            // Dots are closed shapes; lines have no inside to fill.
            let inside = if *fill == Fill::Dots { INK } else { "none" };
            let thick = if *fill == Fill::Dots { "0" } else { "0.8" };
            let name = fill.name();
            let _ = writeln!(
                svg,
                "<pattern id=\"{id}-{name}\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\"><rect width=\"6\" height=\"6\" fill=\"{ground}\"/><path d=\"{lines}\" fill=\"{inside}\" stroke=\"{INK}\" stroke-width=\"{thick}\"/></pattern>"
            );
        }
        let _ = writeln!(
            svg,
            "</defs>\n<rect width=\"{wide}\" height=\"{high}\" fill=\"#ffffff\"/>"
        );
        svg + &self.body + "</svg>\n"
    }
}

/// A coordinate, to a tenth of a unit; nothing where a figure is endless, so that a picture
/// never holds a number that is none.
fn n(value: f64) -> String {
    let value = if value.is_finite() { value } else { 0.0 };
    let text = format!("{value:.1}");
    match text.strip_suffix(".0") {
        Some("-0") => "0".to_owned(),
        Some(whole) => whole.to_owned(),
        None => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_patterns_that_are_used_are_defined_and_text_is_escaped() {
        let mut pen = Pen::new("test");
        pen.rect(Rect(0.0, 0.0, 10.0, 10.0), Fill::Rising, Stroke::Plain);
        pen.text((0.0, 12.0), At::Start, SIZE, "a < b");
        let svg = pen.done(20.0, "<script>", "what it shows");
        assert!(svg.contains("<pattern id=\"test-rising\""), "{svg}");
        assert!(!svg.contains("test-dots"), "{svg}");
        assert!(
            svg.contains("a &lt; b") && !svg.contains("<script"),
            "{svg}"
        );
    }

    #[test]
    fn an_endless_coordinate_becomes_nothing() {
        assert_eq!(n(f64::NAN), "0");
        assert_eq!(n(f64::INFINITY), "0");
        assert_eq!(n(-0.01), "0");
        assert_eq!(n(12.34), "12.3");
    }
}
