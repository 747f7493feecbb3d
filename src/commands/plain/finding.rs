//! Looking for choices and options by name.

use super::page::Page;
use super::talk::{Place, Talk};
use crate::build::choices::{self, Choice};
use crate::order::Order as _;
use crate::screen::options;
use crate::screen::text::fits;

/// Options of one choice that are named in full; of more only the number is told.
const NAMED: usize = 3;

impl Talk {
    /// Looks for choices and options by a part of their names.
    pub(super) fn find(&mut self, text: &str) -> Page {
        let part = text.to_lowercase();
        if part.trim().is_empty() {
            return self
                .not_understood("find takes what to look for behind it, such as find screw.");
        }
        let named = |choice: &&Choice| fits(choice.title, &part) || fits(choice.id, &part);
        let mut found: Vec<&'static Choice> = choices::all().iter().filter(named).collect();
        // Whoever types a whole id means that one.
        found.order_by_key(|choice| choice.id != part);
        let others = choices::all().iter().filter(|choice| !named(choice));
        found.extend(others.filter(|choice| !self.hits(choice, &part).is_empty()));
        if found.is_empty() {
            return self.not_done(&format!("no choice and no option is named {text:?}."));
        }
        let page = self.found(&found, &part);
        self.go(Place::Found(found, part));
        page
    }

    /// The list of what was found, with the options that are named so.
    pub(super) fn found(&self, found: &[&'static Choice], part: &str) -> Page {
        let mut page = Page::default();
        page.heading(&format!("Named so: {part}"));
        for (place, choice) in found.iter().enumerate() {
            page.item(place + 1, &self.row(choice));
            let hits = self.hits(choice, part);
            if !hits.is_empty() {
                let more = hits.len().saturating_sub(NAMED);
                let mut names = hits.into_iter().take(NAMED).collect::<Vec<_>>().join("; ");
                if more > 0 {
                    names.push_str(&format!("; and {more} more"));
                }
                page.under(format!("Options named so: {names}."));
            }
        }
        page.text("A number opens a choice.");
        page
    }

    /// The options of a choice that are named so.
    fn hits(&self, choice: &Choice, part: &str) -> Vec<String> {
        let rows = options::listed(choice, self.build(), &self.catalogue);
        rows.into_iter()
            .map(|row| row.full)
            .filter(|name| fits(name, part))
            .collect()
    }
}
