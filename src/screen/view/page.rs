//! Pages of text: paragraphs, with headings where they have some.

use ratatui::text::Line;

use super::paint::Pen;

/// Lines of a page, paragraph by paragraph.
pub(super) struct Page<'a> {
    pub(super) pen: &'a Pen,
    pub(super) width: usize,
    pub(super) lines: Vec<Line<'static>>,
}

impl<'a> Page<'a> {
    /// A page without a line.
    pub(super) fn new(pen: &'a Pen, width: usize) -> Self {
        Self {
            pen,
            width,
            lines: Vec::new(),
        }
    }

    /// A paragraph.
    pub(super) fn text(&mut self, words: &str) {
        self.within(0, words);
    }

    /// A paragraph that stands in by so many columns.
    pub(super) fn within(&mut self, indent: usize, words: &str) {
        let lines = self.pen.wrap(words, self.width.saturating_sub(4 + indent));
        let start = " ".repeat(3 + indent);
        let lines = lines.into_iter();
        self.lines
            .extend(lines.map(|line| Line::from(format!("{start}{line}"))));
    }

    /// A paragraph with a heading.
    pub(super) fn part(&mut self, title: &str, words: &str) {
        self.lines.push(Line::default());
        self.lines
            .push(Line::styled(format!(" {title}"), self.pen.theme.title));
        self.text(words);
    }
}
