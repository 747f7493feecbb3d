//! The questions and the three builds as pages of text.

use unicode_width::UnicodeWidthStr as _;

use super::{Desk, skipped};
use crate::catalogue::Catalogue;
use crate::commands::Failure;
use crate::commands::color::Paint;
use crate::commands::layout::{WIDTH, compared_heads, compared_row, hanging, pad, table};
use crate::explore::find::target::cautions;
use crate::explore::interview::{self, Answers, Listed, Proposal, told};
use crate::explore::reading::Reading;
use crate::screen::text::capital;
use crate::store::visible;
use crate::units::Shown;
use crate::words::Words as _;

/// Columns in front of what is said about a build.
const LABEL: usize = 16;

/// Columns in front of an answer.
const ANSWER: usize = 18;

/// Every question with what may be answered.
pub(super) fn list(desk: &Desk, paint: Paint) -> Result<String, Failure> {
    let mut page = String::new();
    for prompt in interview::all() {
        let answers = Answers::default();
        page.push_str(&paint.heading(prompt.id));
        page.push('\n');
        page.push_str(&hanging("", 2, prompt.title));
        page.push_str(&hanging("", 2, prompt.why));
        // As --answer takes it, whatever units are set: a script says the same everywhere.
        let how = prompt.how(Shown::PLAIN, answers.currency(&desk.catalogue));
        page.push_str(&hanging("", 2, &how));
        let usual = answers.typed(prompt);
        page.push_str(&hanging("  usual:", 10, &usual));
        for one in desk.listed(prompt, &answers)? {
            page.push_str(&hanging(&format!("    {}", one.id), 34, &one.title));
        }
    }
    Ok(page)
}

/// What may be picked, numbered: in as many columns as there is room for, three at most.
pub(super) fn picks(listed: &[Listed]) -> String {
    let name = |(place, one): (usize, &Listed)| format!("{:>4} {}", place + 1, visible(&one.title));
    let names: Vec<String> = listed.iter().enumerate().map(name).collect();
    // Down the first column, then down the next, as lists are read.
    let widths = |columns: usize| -> Vec<usize> {
        let each = names.chunks(names.len().div_ceil(columns).max(1));
        each.map(|column| column.iter().map(|name| name.width()).max().unwrap_or(0) + 1)
            .collect()
    };
    let fits = |columns: &usize| widths(*columns).iter().sum::<usize>() <= WIDTH;
    let columns = [3, 2].into_iter().find(fits).unwrap_or(1);
    let rows = names.len().div_ceil(columns);
    let widths = widths(columns);
    let mut text = String::new();
    for row in 0..rows {
        let cells = names.iter().skip(row).step_by(rows).zip(&widths);
        let line: String = cells.map(|(name, width)| pad(name, *width)).collect();
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

/// What an interview came to.
pub(super) struct Page<'a> {
    pub(super) proposal: &'a Proposal,
    pub(super) answers: &'a Answers,
    pub(super) catalogue: &'a Catalogue,
    pub(super) paint: Paint,
}

impl Page<'_> {
    /// All of it.
    pub(super) fn text(&self) -> String {
        let mut page = format!("{}\n", self.paint.heading("What you said"));
        for (prompt, shown, given) in told::answers(self.answers, self.catalogue) {
            let usual = skipped(prompt, self.answers, given);
            let label = format!("  {}", prompt.short);
            page.push_str(&hanging(&label, ANSWER, &format!("{shown}{usual}")));
        }
        let along = told::along(self.proposal, self.catalogue);
        page.push_str(&hanging("  so that it fits", ANSWER, &along.join("; ")));
        page.push('\n');
        page.push_str(&self.compared());
        for offer in &self.proposal.offers {
            let fits = match offer.fit() {
                Some(_) => offer.level.title().to_owned(),
                None => format!("{}: nothing fits", offer.level.title()),
            };
            page.push_str(&format!("\n{}\n", self.paint.heading(&capital(&fits))));
            for (label, words) in told::offer(self.proposal, offer, self.answers, self.catalogue) {
                page.push_str(&hanging(&format!("  {label}"), LABEL, &words));
            }
        }
        page.push('\n');
        page.push_str(&hanging("", 0, told::CAUTION));
        page
    }

    /// The builds one below the other.
    fn compared(&self) -> String {
        let numbers = &self.paint.numbers();
        let currency = self.proposal.plan.assessment.bill.currency;
        let mut rows = compared_heads(numbers, currency);
        for (head, last) in rows.iter_mut().zip(["cautions", ""]) {
            head.push(last.to_owned());
        }
        let row = |name: String, reading: &Reading| {
            let mut row = compared_row(name, reading, numbers);
            row.push(cautions(reading).to_string());
            row
        };
        for offer in &self.proposal.offers {
            if let Some(answer) = offer.build() {
                let name = match offer.fit() {
                    Some(_) => offer.level.title().to_owned(),
                    None => format!("{} (nearest)", offer.level.title()),
                };
                rows.push(row(name, &answer.reading));
            }
        }
        for (place, one) in self.proposal.lesser.iter().enumerate() {
            rows.push(row(told::name(place, one), &one.answer.reading));
        }
        match rows.len() {
            2 => String::new(),
            _ => table("<>>>>>>>>", &rows),
        }
    }
}
