//! The pen: theme and characters, and the way from lines of text to the grid.

use std::borrow::Cow;

use ratatui::buffer::Buffer;
use ratatui::layout::Position;
use ratatui::style::{Modifier, Style};
use ratatui::text::{Line, Span};

use crate::screen::glyphs::Glyphs;
use crate::screen::layout::Layout;
use crate::screen::text::{self, is_surely_one};
use crate::screen::theme::{Colours, Ground, Theme};
use crate::screen::typed::Typed;
use crate::store::settings::ThemeWish;
use crate::units::respell::Speller;

/// Where the text of the field begins in which something is looked for on a page.
pub(super) const FIND_COLUMN: usize = 7;

/// What everything is drawn with.
#[derive(Clone, Debug, PartialEq)]
pub struct Pen {
    /// Colours by meaning.
    pub theme: Theme,
    /// Characters.
    pub glyphs: Glyphs,
    /// How numbers are read.
    pub speller: Speller,
    /// How many colours.
    pub colours: Colours,
    /// What is known of the terminal's background, whatever somebody wishes.
    pub ground: Ground,
}

impl Pen {
    /// A pen for a terminal of which nobody knows the background.
    pub fn new(colours: Colours, glyphs: Glyphs) -> Self {
        Self::on(Ground::Either, colours, glyphs)
    }

    /// A pen for a terminal with such a background.
    pub fn on(ground: Ground, colours: Colours, glyphs: Glyphs) -> Self {
        Self {
            theme: Theme::of(colours, ground),
            glyphs,
            speller: Speller::default(),
            colours,
            ground,
        }
    }

    /// The same pen as somebody wishes it: how numbers are read, colours for which background.
    pub fn wished(&self, speller: Speller, theme: ThemeWish) -> Self {
        Self {
            theme: Theme::of(self.colours, self.ground.wished(theme)),
            speller,
            ..self.clone()
        }
    }

    /// A text as it will stand on the grid: only this can be measured.
    pub fn spell(&self, text: &str) -> String {
        self.spelled(text).into_owned()
    }

    /// The same; most texts stand as they are.
    fn spelled<'t>(&self, text: &'t str) -> Cow<'t, str> {
        let cleaned = text::clean(text);
        let signed = self.glyphs.spell(&cleaned);
        let spelled = self.speller.spell(&signed);
        match (&cleaned, &signed, &spelled) {
            (Cow::Borrowed(_), Cow::Borrowed(_), Cow::Borrowed(_)) => Cow::Borrowed(text),
            _ => Cow::Owned(spelled.into_owned()),
        }
    }

    /// Cuts or pads on the right.
    pub fn left(&self, text: &str, columns: usize) -> String {
        text::left(&self.spelled(text), columns, self.glyphs.cut())
    }

    /// The same pen for formulas, which stay metric.
    pub fn metric(&self) -> Self {
        Self {
            speller: self.speller.metric(),
            ..self.clone()
        }
    }

    /// A text that somebody typed, with not a sign of it changed; cut or padded on the right.
    pub fn as_typed(&self, text: &str, columns: usize) -> String {
        let text = self.glyphs.spell(&text::clean(text)).into_owned();
        text::left(&text, columns, self.glyphs.cut())
    }

    /// A field that is typed in, so many columns wide, scrolled to where the cursor is.
    pub fn field(&self, typed: &Typed, columns: usize) -> Span<'static> {
        Span::styled(
            self.as_typed(text::in_view(typed.as_input(), columns), columns),
            self.theme.field,
        )
    }

    /// Cuts or pads on the left.
    pub fn right(&self, text: &str, columns: usize) -> String {
        text::right(&self.spelled(text), columns, self.glyphs.cut())
    }

    /// Cuts what is too wide.
    pub fn cut(&self, text: &str, columns: usize) -> String {
        text::cut(&self.spelled(text), columns, self.glyphs.cut())
    }

    /// Cuts the beginning of what is too wide.
    pub fn cut_front(&self, text: &str, columns: usize) -> String {
        text::cut_front(&self.spelled(text), columns, self.glyphs.cut())
    }

    /// The first of some texts that fits, else the last, cut.
    pub fn first_that_fits(&self, texts: &[String], columns: usize) -> String {
        let fits = |text: &&String| text::width(&self.spelled(text)) <= columns;
        let text = texts.iter().find(fits).or(texts.last());
        text.map_or_else(String::new, |text| self.cut(text, columns))
    }

    /// Breaks a text into lines.
    pub fn wrap(&self, text: &str, columns: usize) -> Vec<String> {
        text::wrap(&self.spelled(text), columns)
    }

    /// The field in which something is looked for on a page; its text begins at
    /// [`FIND_COLUMN`].
    pub(super) fn find_field(&self, typed: &Typed, columns: usize) -> Line<'static> {
        Line::from(vec![
            Span::styled(" find: ", self.theme.title),
            self.field(typed, columns.saturating_sub(FIND_COLUMN + 1)),
        ])
    }

    /// A text as lines, one column from the left and one from the right.
    pub fn paragraph(&self, text: &str, columns: usize, style: Style) -> Vec<Line<'static>> {
        let lines = self.wrap(text, columns.saturating_sub(2)).into_iter();
        let lines = lines.map(|line| Line::styled(format!(" {line}"), style));
        lines.collect()
    }

    /// A heading inside a line across: `── Screw Y ──────`.
    pub fn heading(&self, title: &str, columns: usize, style: Style) -> Line<'static> {
        let across = self.glyphs.across();
        let title = self.cut(title, columns.saturating_sub(6));
        let rest = columns.saturating_sub(text::width(&title) + 4);
        Line::from(vec![
            Span::styled(across.repeat(2), self.theme.line),
            Span::styled(format!(" {title} "), style),
            Span::styled(across.repeat(rest), self.theme.line),
        ])
    }

    /// The line under the steps, with a tee above each line that goes down.
    pub fn line(&self, layout: &Layout, columns: usize) -> Line<'static> {
        let edges: Vec<usize> = [layout.pane, layout.bill]
            .into_iter()
            .flatten()
            .map(|area| usize::from(area.x) - 1)
            .collect();
        let line = (0..columns).map(|x| {
            if edges.contains(&x) {
                self.glyphs.tee()
            } else {
                self.glyphs.across()
            }
        });
        Line::styled(line.collect::<String>(), self.theme.line)
    }

    /// The line left of the pane.
    pub fn edge(&self, height: usize) -> Vec<Line<'static>> {
        vec![Line::styled(self.glyphs.down(), self.theme.line); height]
    }
}

/// A row under a cursor: its style over everything in it. What is reversed by itself, as
/// the mark of a danger, is turned back, so that it stands out of a reversed row too.
pub fn under_cursor(row: Line<'static>, style: Style) -> Line<'static> {
    let reversed = |style: Style| style.add_modifier.contains(Modifier::REVERSED);
    let spans = row.spans.into_iter().map(|span| {
        let framed = reversed(span.style) && reversed(style);
        let span = span.patch_style(style);
        if framed {
            let style = span.style.remove_modifier(Modifier::REVERSED);
            span.style(style)
        } else {
            span
        }
    });
    Line::from(spans.collect::<Vec<_>>())
}

/// A row of a table under a cursor: its style over the name alone, which the first span holds.
/// The columns beside it keep their colours, and over a slow line they need not be written again.
pub fn name_under_cursor(row: Line<'static>, style: Style) -> Line<'static> {
    let mut spans = row.spans.into_iter();
    let Some(first) = spans.next() else {
        return Line::default();
    };
    let name = first.content.trim_end();
    let rest = first.content[name.len()..].to_owned();
    let named = Span::styled(name.to_owned(), first.style).patch_style(style);
    let both = [named, Span::styled(rest, first.style)];
    Line::from(both.into_iter().chain(spans).collect::<Vec<_>>())
}

/// Puts a line on the grid: control characters written out, in the pen's characters, cut at the
/// end of its room with a mark. The room lies on the grid.
pub(super) fn paint(buffer: &mut Buffer, place: Position, room: u16, line: &Line, pen: &Pen) {
    let (mut x, end) = (place.x, place.x + room);
    for span in &line.spans {
        let style = line.style.patch(span.style);
        let clean = text::clean(&span.content);
        // What stands in a field is what was typed.
        let spelled = match span.style == pen.theme.field {
            true => Cow::Borrowed(&*clean),
            false => pen.speller.spell(&clean),
        };
        let signed = pen.speller.finish(&spelled);
        let text = pen.glyphs.spell(&signed);
        let room = usize::from(end.saturating_sub(x));
        // No letter takes more columns than bytes.
        let text = match text.len() <= room {
            true => text,
            false => Cow::Owned(text::cut(&text, room, pen.glyphs.cut())),
        };
        x = match text.chars().all(is_surely_one) {
            _ if text.is_empty() => x,
            true => put(buffer, (x, place.y), &text, style),
            false => buffer.set_stringn(x, place.y, &text, room, style).0,
        };
    }
}

/// Puts letters that take a column each on the grid, where there is room for all of them; gives
/// the column behind. The library's way asks of each letter first which others it belongs to.
fn put(buffer: &mut Buffer, (x, y): (u16, u16), text: &str, style: Style) -> u16 {
    let start = buffer.index_of(x, y);
    let mut end = x;
    for (letter, cell) in text.chars().zip(&mut buffer.content[start..]) {
        cell.set_char(letter).set_style(style);
        end += 1;
    }
    end
}
