//! What a line means where one is: a word, a number of a list, a value, or the name of a
//! choice.

use super::page::Page;
use super::talk::{Ask, Place, Reply, Talk};
use super::words::{self, Word};
use crate::build::choices;
use crate::build::{Edit, nearest};
use crate::catalogue::Step;
use crate::explore::question;
use crate::words::Words as _;

impl Talk {
    /// Hears a line.
    pub(super) fn hear(&mut self, line: &str) -> Reply {
        let line = line.trim();
        if let Place::Ask(ask) = self.place().clone() {
            let word = match ask {
                Ask::Leave => Word::of(line),
                _ => Word::alone(line),
            };
            match word {
                // Anything else leaves the question.
                Some(Word::Help) => return self.asked(&ask).into(),
                Some(_) => {
                    self.places.pop();
                }
                None => return self.answer(ask, line),
            }
            if word == Some(Word::Back) {
                return Page::of("Nothing was done.").into();
            }
        }
        if let Some(word) = Word::of(line) {
            return self.word(word);
        }
        match line {
            "" => self.enter().into(),
            _ if is_pair(line) => self.set_straight(line).into(),
            _ => self.free(line).into(),
        }
    }

    fn word(&mut self, word: Word) -> Reply {
        match word {
            Word::Back => self.back(),
            Word::Next => self.next(),
            Word::List => self.here(),
            Word::More => self.more(),
            Word::Steps => {
                self.places = vec![Place::Steps];
                self.here()
            }
            Word::Summary => self.summary(),
            Word::Warnings => self.warnings(),
            Word::Lift => self.lift(),
            Word::Accept(note) => self.accept(note),
            Word::Unaccept => self.unaccept(),
            Word::Safety => self.safety(),
            Word::Figures(group) => self.figures(group),
            Word::Why(path) => self.why(path),
            Word::Bill => self.bill(),
            Word::Find(text) => self.find(text),
            Word::Undo => self.turn_back(true),
            Word::Redo => self.turn_back(false),
            Word::Save(name) => return self.save(name),
            Word::Questions => self.questions(),
            Word::Cheapest(wanted) => return self.cheapest(wanted),
            Word::Variants => self.variants(),
            Word::Clone(name) => return self.clone_as(name),
            Word::Sheets => self.sheets(),
            Word::Paid(word) => self.paid(word),
            Word::Help => words::help(),
            Word::Quit => return self.quit(),
        }
        .into()
    }

    /// A number of a list, a value, or the name of a choice or step.
    fn free(&mut self, line: &str) -> Page {
        let lower = line.to_lowercase();
        if let Some(choice) = choices::all().iter().find(|choice| choice.id == lower) {
            return self.open(choice);
        }
        let number = line.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
        match self.place().clone() {
            Place::Steps => {
                let named =
                    |step: &&Step| step.title().to_lowercase() == lower || step.id() == lower;
                let step = match number {
                    Some(place) => Step::ALL.get(place),
                    None => Step::ALL.iter().find(named),
                };
                match step {
                    Some(step) => self.enter_step(*step),
                    None => self.lost(line),
                }
            }
            Place::Step(step) => {
                let mut of_step = choices::of_step(step);
                match number.and_then(|place| of_step.nth(place)) {
                    Some(choice) => self.open(choice),
                    None => self.lost(line),
                }
            }
            Place::Choice(choice) => self.pick(choice, line),
            Place::Warnings(listed) => match number.and_then(|place| listed.get(place)) {
                Some(finding) => self.warning(finding.clone()),
                None => self.lost(line),
            },
            Place::Found(found, _) => match number.and_then(|place| found.get(place)) {
                Some(choice) => self.open(choice),
                None => self.lost(line),
            },
            place => self.listed(&place, number, line),
        }
    }

    /// A number of a list that is no list of choices.
    fn listed(&mut self, place: &Place, number: Option<usize>, line: &str) -> Page {
        let Some(number) = number else {
            return self.lost(line);
        };
        match place {
            Place::Questions => match question::all().nth(number) {
                Some(asked) => self.answered(asked),
                None => self.lost(line),
            },
            Place::Offers(offers) => self.take(offers, number, line),
            Place::Variants => self.switch(number, line),
            Place::Sheets => self.pick_sheet(number, line),
            Place::Paid(entries) => match entries.get(number) {
                Some(entry) => self.pay_for(entry.clone()),
                None => self.lost(line),
            },
            _ => self.lost(line),
        }
    }

    fn answer(&mut self, ask: Ask, line: &str) -> Reply {
        match ask {
            Ask::Note(rule) => self.accepted(&rule, line).into(),
            Ask::Name { leave } => self.named(line, leave),
            Ask::Replace { path, leave } => self.replacing(path, line, leave),
            Ask::Changed { theirs, leave } => self.keeping(&theirs, line, leave),
            Ask::Held { leave, .. } => self.elsewhere(line, leave),
            Ask::Leave => self.leaving(line),
            Ask::Wanted => {
                self.places.pop();
                self.search(line)
            }
            Ask::Clone if line.is_empty() => {
                self.places.pop();
                Page::of("No variant was made.").into()
            }
            Ask::Clone => {
                self.places.pop();
                self.clone_as(line)
            }
            Ask::Sheet(kind) => self.write_sheet(kind, line),
            Ask::ReplaceSheet { sheet, path } => self.replacing_sheet(sheet, path, line),
            Ask::Pay(paying) => self.paying(*paying, line),
        }
    }

    /// Says that a line was not understood, and what would have been.
    pub(super) fn lost(&mut self, line: &str) -> Page {
        let first = line.split_whitespace().next().unwrap_or_default();
        let hint = nearest::nearest(first, words::all());
        let hint = hint.map_or(String::new(), |word| format!(" Did you mean {word}?"));
        let takes = self.takes();
        self.not_understood(&format!("{line:?}.{hint} {takes}"))
    }

    /// Says why a line means nothing here.
    pub(super) fn not_understood(&mut self, why: &str) -> Page {
        self.stumbled = true;
        Page::of(format!("Not understood: {why}"))
    }

    /// Says why something cannot be done.
    pub(super) fn not_done(&mut self, why: &str) -> Page {
        self.stumbled = true;
        Page::of(format!("Not done: {why}"))
    }

    /// Sets a choice by its name, such as `travel_x_mm=800`.
    fn set_straight(&mut self, pair: &str) -> Page {
        match Edit::parse_pair(pair, &self.catalogue, self.build()) {
            Ok(edit) => self.make(&[edit]),
            Err(error) => self.not_understood(&error.to_string()),
        }
    }

    /// The part of a page that is said now; the rest waits for `more`.
    pub(super) fn said(&mut self, page: Page) -> String {
        if page.is_empty() || !self.way.live {
            return page.told(&self.way);
        }
        let (mut said, rest) = page.begun(&self.way);
        if !rest.is_empty() {
            said.push_str(&Page::of("There is more: type more.").told(&self.way));
        }
        self.rest = rest;
        said
    }

    fn more(&mut self) -> Page {
        let rest = std::mem::take(&mut self.rest);
        match rest.is_empty() {
            true => Page::of("That was all."),
            false => rest,
        }
    }
}

/// Whether a line sets a choice: the name of one, or what could be one, before an equals sign.
fn is_pair(line: &str) -> bool {
    let name = line.split_once('=').map(|(name, _)| name.trim());
    name.is_some_and(|name| {
        !name.is_empty()
            && name
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-')
    })
}
