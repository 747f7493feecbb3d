//! What most pages of a list are made of: lines above it, the list around its cursor, and below it
//! all about what is under the cursor, fitted to the height that there is.

use ratatui::text::Line;

use super::paint::{Pen, under_cursor};

/// The least rows of most lists; what is said below it takes no more than what they leave.
const LEAST: usize = 3;

/// A page in the making: what stands above the list, the list, and what is said below it.
pub(super) struct Split {
    /// Above the list.
    pub(super) head: Vec<Line<'static>>,
    /// The list.
    pub(super) rows: Vec<Line<'static>>,
    /// Which of its lines are headings of those below them.
    pub(super) headings: Vec<usize>,
    /// Which of its lines the cursor is on.
    pub(super) at: usize,
    /// What is under the cursor.
    pub(super) told: Vec<Line<'static>>,
    /// Lines that the longest such text takes, so that the list does not jump.
    pub(super) most: usize,
    /// The least rows of the list, whatever is said below it.
    pub(super) least: usize,
}

impl Default for Split {
    fn default() -> Self {
        Self {
            head: Vec::new(),
            rows: Vec::new(),
            headings: Vec::new(),
            at: 0,
            told: Vec::new(),
            most: 0,
            least: LEAST,
        }
    }
}

impl Split {
    /// A heading for the rows that follow. It stays in view as long as one of them does.
    pub(super) fn heading(&mut self, pen: &Pen, text: &str) {
        self.headings.push(self.rows.len());
        self.passing(pen, text);
    }

    /// A heading that goes out of view as any row does: where the rows below it say by themselves
    /// what they are, each is worth more.
    pub(super) fn passing(&mut self, pen: &Pen, text: &str) {
        let line = Line::styled(format!(" {text}"), pen.theme.title);
        self.rows.push(line);
    }

    /// What is said of the next row, the one under the cursor or not: the list leaves room for the
    /// longest of these texts.
    pub(super) fn tell(&mut self, told: Vec<Line<'static>>, here: bool) {
        self.most = self.most.max(told.len());
        if here {
            self.told = told;
        }
    }

    /// The lines of the page, fitted to its height: the list around its cursor, and of the text
    /// below as much as there is room for.
    pub(super) fn lines(
        self,
        pen: &Pen,
        width: usize,
        height: Option<usize>,
    ) -> Vec<Line<'static>> {
        let Self {
            head,
            mut rows,
            headings,
            at,
            mut told,
            most,
            least,
        } = self;
        let Some(height) = height else {
            let rule = Line::styled(pen.glyphs.across().repeat(width), pen.theme.line);
            return [head, rows, vec![rule], told].concat();
        };
        let least = least.min(rows.len());
        let free = height.saturating_sub(head.len() + 1 + least);
        let most = most.max(told.len()).min(free);
        let more = told.len() > most;
        // What the list does not need belongs to the text.
        let room = height.saturating_sub(head.len() + 1 + most);
        told.resize(most, Line::default());
        let top = at
            .saturating_sub(room / 2)
            .min(rows.len().saturating_sub(room));
        let below = rows.len().saturating_sub(top + room);
        let over = headings.into_iter().rev().find(|head| *head <= top);
        if let Some(head) = over.filter(|_| at > top) {
            rows.swap(head, top);
        }
        let mut lines = head;
        lines.extend(rows.into_iter().skip(top).take(room));
        lines.push(rule(pen, width, below, more));
        lines.extend(told);
        lines
    }
}

/// The line between a list and the text below it: how many rows are hidden, and whether there
/// is more to say than there is room for.
pub(super) fn rule(pen: &Pen, width: usize, below: usize, more: bool) -> Line<'static> {
    let mut words = Vec::new();
    match below {
        0 => {}
        1 => words.push("1 more row below".to_owned()),
        many => words.push(format!("{many} more rows below")),
    }
    if more {
        words.push(MORE.to_owned());
    }
    match words.is_empty() {
        true => Line::styled(pen.glyphs.across().repeat(width), pen.theme.line),
        false => pen.heading(&words.join("; "), width, pen.theme.muted),
    }
}

/// Where the text below a list is cut short.
const MORE: &str = "? shows all of it";

/// A row of a list, marked where it is under the cursor.
pub(super) fn row(pen: &Pen, text: &str, here: bool) -> Line<'static> {
    let arrow = if here { ">" } else { " " };
    let line = Line::from(format!("{arrow} {text}"));
    match here {
        true => under_cursor(line, pen.theme.selected),
        false => line,
    }
}

/// A name with what is said of it hanging behind.
pub(super) fn named(pen: &Pen, width: usize, name: &str, text: &str) -> Vec<Line<'static>> {
    /// Columns of a name.
    const NAME: usize = 11;
    let lines = pen.wrap(text, width.saturating_sub(NAME + 3)).into_iter();
    let lines = lines.enumerate().map(|(place, line)| {
        let name = if place == 0 { name } else { "" };
        Line::from(format!(" {} {line}", pen.left(name, NAME)))
    });
    lines.collect()
}
