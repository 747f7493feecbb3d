//! A picture of the screen as SVG, drawn by the same views on a grid instead of a terminal:
//! for the documentation, and for whoever wants to show a build to somebody.

use std::fmt::Write as _;

use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::{Position, Rect, Size};
use ratatui::style::{Color, Modifier};
use unicode_width::UnicodeWidthStr as _;

use super::Session;
use super::glyphs::Glyphs;
use super::key::Key;
use super::state::State;
use super::theme::{Colours, Ground};
use super::update::{Message, update};
use super::view::{compose, paint::Pen};

/// Width and height of a character cell, in SVG units.
const CELL: (u32, u32) = (9, 19);
/// How far the baseline lies below the top of a cell.
const BASELINE: u32 = 14;
/// Room around the screen.
const MARGIN: u32 = 12;
const PAPER: &str = "#16181d";
const INK: &str = "#d8dade";

/// Draws a session after some keys, at a size in columns and rows.
///
/// # Errors
/// Says why the build cannot be assessed.
pub fn svg(session: Session, width: u16, height: u16, keys: &[Key]) -> Result<String, String> {
    let mut state =
        State::new(session, Size { width, height }).map_err(|error| error.to_string())?;
    for key in keys {
        update(&mut state, Message::Key(*key));
    }
    let pen = Pen::on(Ground::Dark, Colours::True, Glyphs::Unicode);
    let mut buffer = Buffer::empty(Rect::from((Position::ORIGIN, state.size)));
    compose(&state, &pen).paint_on(&mut buffer);
    Ok(draw(&buffer))
}

fn draw(buffer: &Buffer) -> String {
    let area = buffer.area;
    let (wide, high) = (
        u32::from(area.width) * CELL.0 + 2 * MARGIN,
        u32::from(area.height) * CELL.1 + 2 * MARGIN,
    );
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}\" height=\"{high}\" viewBox=\"0 0 {wide} {high}\" font-family=\"ui-monospace, 'DejaVu Sans Mono', monospace\" font-size=\"15\">\n<rect width=\"{wide}\" height=\"{high}\" rx=\"8\" fill=\"{PAPER}\"/>\n"
    );
    for y in 0..area.height {
        let mut x = 0;
        while x < area.width {
            let from = x;
            let style = Look::of(&buffer[(x, y)]);
            let mut run = String::new();
            while x < area.width && Look::of(&buffer[(x, y)]) == style {
                let symbol = buffer[(x, y)].symbol();
                run.push_str(symbol);
                x += u16::try_from(symbol.width().max(1)).unwrap_or(1);
            }
            stretch(&mut text, (from, y), &run, &style);
        }
    }
    text.push_str("</svg>\n");
    text
}

/// How a stretch of cells looks.
#[derive(PartialEq)]
struct Look {
    ink: String,
    paper: Option<String>,
    bold: bool,
    dim: bool,
    underlined: bool,
}

impl Look {
    fn of(cell: &Cell) -> Self {
        let mut ink = colour(cell.fg).unwrap_or_else(|| INK.to_owned());
        let mut paper = colour(cell.bg);
        if cell.modifier.contains(Modifier::REVERSED) {
            let under = paper.unwrap_or_else(|| PAPER.to_owned());
            paper = Some(std::mem::replace(&mut ink, under));
        }
        Self {
            ink,
            paper,
            bold: cell.modifier.contains(Modifier::BOLD),
            dim: cell.modifier.contains(Modifier::DIM),
            underlined: cell.modifier.contains(Modifier::UNDERLINED),
        }
    }
}

fn stretch(text: &mut String, (x, y): (u16, u16), run: &str, look: &Look) {
    let (left, top) = (
        MARGIN + u32::from(x) * CELL.0,
        MARGIN + u32::from(y) * CELL.1,
    );
    let wide = u32::try_from(run.width()).unwrap_or(0) * CELL.0;
    if let Some(paper) = &look.paper {
        let high = CELL.1;
        let _ = writeln!(
            text,
            "<rect x=\"{left}\" y=\"{top}\" width=\"{wide}\" height=\"{high}\" fill=\"{paper}\"/>"
        );
    }
    if run.trim().is_empty() {
        return;
    }
    let mut with = String::new();
    if look.bold {
        with.push_str(" font-weight=\"bold\"");
    }
    if look.dim {
        with.push_str(" opacity=\"0.65\"");
    }
    if look.underlined {
        with.push_str(" text-decoration=\"underline\"");
    }
    let baseline = top + BASELINE;
    let (ink, shown) = (&look.ink, escaped(run));
    // The length keeps columns in line whatever the font.
    let _ = writeln!(
        text,
        "<text x=\"{left}\" y=\"{baseline}\" fill=\"{ink}\" textLength=\"{wide}\" lengthAdjust=\"spacingAndGlyphs\" xml:space=\"preserve\"{with}>{shown}</text>"
    );
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

/// The colour's web form; none for the terminal's own.
fn colour(colour: Color) -> Option<String> {
    match colour {
        Color::Rgb(r, g, b) => Some(format!("#{r:02x}{g:02x}{b:02x}")),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ratatui::style::Style;

    #[test]
    fn text_is_escaped_and_reversed_cells_swap_their_colours() {
        let mut buffer = Buffer::empty(ratatui::layout::Rect::new(0, 0, 6, 1));
        buffer.set_string(0, 0, "a<b", Style::new().add_modifier(Modifier::REVERSED));
        let svg = draw(&buffer);
        assert!(svg.contains("a&lt;b"), "{svg}");
        assert!(svg.contains(&format!("fill=\"{INK}\"/>")), "{svg}");
        assert!(
            svg.contains(&format!("fill=\"{PAPER}\" textLength=\"27\"")),
            "{svg}"
        );
    }
}
