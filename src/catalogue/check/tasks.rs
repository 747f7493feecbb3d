//! Tasks of the checklist: a title that fits a line, and words where words must be.

use unicode_width::UnicodeWidthStr as _;

use super::{Flaws, Record};
use crate::catalogue::Catalogue;
use crate::catalogue::part::TITLE_COLUMNS;

pub(super) fn tasks(catalogue: &Catalogue, found: &mut Flaws) {
    for task in &catalogue.tasks {
        let mut flaw = |message: String| found.add(Record::Task(task.id), message);
        if task.title.trim().is_empty() || task.title.width() > TITLE_COLUMNS {
            flaw(format!("title takes 1 to {TITLE_COLUMNS} columns"));
        }
        for (key, text) in [("how", &task.how), ("why", &task.why)] {
            if text.trim().is_empty() {
                flaw(format!("{key} is empty"));
            }
        }
        if task.source.trim().is_empty() {
            flaw("source must say where the task comes from".to_owned());
        }
    }
}
