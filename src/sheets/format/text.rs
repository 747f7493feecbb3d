//! Plain text of 80 columns, which every terminal shows and every printer prints: pages of 60
//! lines (A4 and Letter hold that many), with the heading of a table repeated on each.

use crate::sheets::{RowKind, Sheet};
use crate::store::visible;
use crate::words::Words as _;

mod layout;
mod wrap;

use layout::Layout;
use wrap::wrapped;

/// Columns of a page.
const WIDTH: usize = 80;

/// Lines of a page.
const LINES: usize = 60;

/// How the heading of a group of rows begins.
const GROUP: &str = "* ";

/// What separates pages for a printer.
const FORM_FEED: char = '\u{c}';

/// Writes sheets, each from the top of a page.
pub(super) fn text(sheets: &[Sheet]) -> String {
    let mut pages = Pages::of(WIDTH, LINES);
    for sheet in sheets {
        pages.next_sheet(titled(sheet));
        write(&mut pages, sheet);
    }
    pages.done
}

/// The lines of a sheet in so many columns, without pages: what a screen scrolls through.
pub(super) fn lines(sheet: &Sheet, width: usize) -> Vec<String> {
    let mut pages = Pages::of(width, usize::MAX);
    write(&mut pages, sheet);
    pages.done.lines().map(str::to_owned).collect()
}

/// Pages as they fill.
struct Pages {
    done: String,
    /// Columns of a page.
    width: usize,
    /// Lines of a page.
    length: usize,
    /// Lines on the page so far.
    filled: usize,
    /// What stands at the top of every further page of the sheet, in front of its number.
    running: String,
    /// Pages of the sheet so far.
    number: usize,
    /// The heading to repeat at the top of the next page.
    heading: Vec<String>,
    /// The group of rows that the next page goes on with.
    group: Vec<String>,
}

impl Pages {
    fn of(width: usize, length: usize) -> Self {
        Self {
            done: String::new(),
            width,
            length,
            filled: 0,
            running: String::new(),
            number: 1,
            heading: Vec::new(),
            group: Vec::new(),
        }
    }

    fn next_sheet(&mut self, running: String) {
        self.heading.clear();
        self.group.clear();
        self.running = running;
        self.number = 1;
        if !self.done.is_empty() {
            self.done.push(FORM_FEED);
        }
        self.filled = 0;
    }

    /// Lines that stay together.
    fn put(&mut self, lines: &[String]) {
        if self.filled > 0 && self.filled + lines.len() > self.length {
            self.done.push(FORM_FEED);
            self.filled = 0;
            self.number += 1;
            let number = format!(", page {}", self.number);
            let mut head = wrapped(&self.running, self.width.saturating_sub(number.len()));
            if let Some(last) = head.last_mut() {
                last.push_str(&number);
            }
            for line in head.iter().chain(&self.heading.clone()) {
                self.line(line);
            }
            let goes_on = lines.first().is_some_and(|line| !line.starts_with(GROUP));
            if goes_on {
                for line in self.group.clone() {
                    self.line(&line);
                }
            }
        }
        for line in lines {
            self.line(line);
        }
    }

    fn line(&mut self, line: &str) {
        self.done.push_str(line.trim_end());
        self.done.push('\n');
        self.filled += 1;
    }

    /// An empty line, unless a page begins here.
    fn gap(&mut self) {
        if self.filled > 0 && self.filled < self.length {
            self.line("");
        }
    }
}

/// What a sheet is called at its head.
fn titled(sheet: &Sheet) -> String {
    format!("{}: {}", sheet.kind.title(), visible(&sheet.machine))
}

fn write(pages: &mut Pages, sheet: &Sheet) {
    let title = titled(sheet);
    let date = sheet.date.to_string();
    let width = pages.width;
    let room = width.saturating_sub(date.len());
    let mut head = wrapped(&title, room.saturating_sub(2));
    if let Some(first) = head.first_mut() {
        *first = format!("{}{date}", wrap::padded(first, room));
    }
    head.push("=".repeat(width));
    head.extend(wrapped(&visible(&sheet.about), width));
    pages.put(&head);
    for table in &sheet.tables {
        pages.gap();
        let layout = Layout::of(table, width);
        let mut heading = wrapped(&visible(&table.title), width);
        heading.extend(layout.heading());
        pages.heading.clear();
        // A heading never stands alone at the foot of a page, nor does that of a group.
        let mut together = heading.clone();
        let mut group = Vec::new();
        for row in &table.rows {
            let lines = layout.row(row);
            together.extend(lines.iter().cloned());
            if row.kind == RowKind::Heading {
                group = wrapped(&format!("{}, continued", lines.join(" ")), width);
                continue;
            }
            pages.put(&together);
            together.clear();
            pages.heading.clone_from(&heading);
            pages.group.clone_from(&group);
        }
        pages.put(&together);
        pages.heading.clear();
        pages.group.clear();
    }
    for remark in &sheet.remarks {
        pages.gap();
        pages.put(&wrapped(&visible(remark), width));
    }
    for note in &sheet.safety {
        pages.gap();
        let mut lines = wrapped(&format!("Safety: {}", note.title), width);
        lines.extend(
            wrapped(note.text, width - 2)
                .iter()
                .map(|line| format!("  {line}")),
        );
        pages.put(&lines);
    }
}
