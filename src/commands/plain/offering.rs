//! What if, and the cheapest: builds that are offered, numbered, each with what it would change.
//! A number takes one.

use std::rc::Rc;

use super::changing;
use super::page::Page;
use super::talk::{Ask, Place, Reply, Talk, Task};
use crate::build::edit::difference;
use crate::build::{Build, Edit};
use crate::explore::effect::missing_in;
use crate::explore::find::{self, Found, Request, Target, told as words};
use crate::explore::question::{self, Question};
use crate::explore::reading::Reading;
use crate::explore::told;
use crate::rules;
use crate::screen::text::capital;
use crate::words::Words as _;

/// How much work a search from here is worth, some seconds: somebody waits, and cannot be told
/// how far it has come.
const EFFORT: u64 = 3_000_000;

/// How many targets of a kind that cannot be met are told of.
const RELAXED: usize = 3;

/// Builds that are offered.
#[derive(Debug)]
pub(super) struct Offers {
    /// The build that they were made from.
    of: Build,
    /// What each is, in a few words, and the build.
    pub(super) each: Vec<(String, Build)>,
    /// What was said of them.
    page: Page,
}

impl Talk {
    /// Lists what builders ask most.
    pub(super) fn questions(&mut self) -> Page {
        let mut page = Page::default();
        page.heading("What builders ask most");
        for (place, one) in question::all().enumerate() {
            page.item(place + 1, one.title);
        }
        page.text("A number answers one for this build.");
        self.go(Place::Questions);
        page
    }

    /// Answers a question: every way to go, and what it would change.
    pub(super) fn answered(&mut self, asked: &Question) -> Page {
        let bench = self.bench();
        let answer = asked.answer(&bench);
        let mut page = Page::default();
        page.heading(asked.title);
        page.text(asked.why);
        if answer.alternatives.is_empty() {
            page.text(format!("It does not arise: {}", answer.apart));
            return page;
        }
        if !answer.headline.is_empty() {
            page.text(&answer.headline);
        }
        let count = answer.alternatives.len();
        page.text(format!(
            "{count} ways to go. A number takes one; undo takes that back."
        ));
        let mut each = Vec::new();
        for (place, one) in answer.alternatives.iter().enumerate() {
            let base = answer.base(&bench, place);
            let after = &one.trial.after;
            let price = after.bill.total.likely - base.assessment.bill.total.likely;
            let on_top = if one.on_top { ", on top of that" } else { "" };
            let price = told::price(price, after.bill.currency);
            page.item(place + 1, &format!("{}{on_top}: {price}.", one.title));
            let edits = difference(base.build, &one.trial.build);
            page.under(format!("Changes {}.", self.turns(base.build, &edits)));
            let moved = told::differing(&Reading::of(base.assessment), &Reading::of(after));
            let moved = moved.into_iter().filter(|(name, ..)| *name != "cost");
            let moved: Vec<String> = moved
                .map(|(name, from, to)| format!("{name} from {from} to {to}"))
                .collect();
            if !moved.is_empty() {
                page.under(format!("{}.", capital(&moved.join("; "))));
            }
            let (is, was) = (&after.findings, &base.assessment.findings);
            if let Some(says) = changing::warnings(&missing_in(is, was), &missing_in(was, is)) {
                page.under(says);
            }
            let base = base.bench(&bench);
            for (label, words) in told::moves(base.before, after) {
                let words = words.replace(" -> ", " to ");
                page.under(format!("{}: {words}.", capital(label)));
            }
            for (label, words) in told::losses(&base, &edits, after) {
                let words = words.replace(" -> ", " to ");
                page.under(format!("{}: {words}", capital(label)));
            }
            if !one.note.is_empty() {
                page.under(&one.note);
            }
            each.push((one.title.clone(), one.trial.build.clone()));
        }
        self.offer(each, page)
    }

    /// What edits change of a build: `Drive Z from this to that`.
    fn turns(&self, build: &Build, edits: &[Edit]) -> String {
        let each = told::changed(&self.catalogue, build, edits).into_iter();
        let each = each.map(|(title, was, is)| format!("{title} from {was} to {is}"));
        each.collect::<Vec<_>>().join("; ")
    }

    /// Goes to what is offered.
    fn offer(&mut self, each: Vec<(String, Build)>, page: Page) -> Page {
        let offers = Offers {
            of: self.build().clone(),
            each,
            page: page.clone(),
        };
        self.go(Place::Offers(Rc::new(offers)));
        page
    }

    /// Says again what is offered.
    pub(super) fn offers(&self, offers: &Offers) -> Page {
        match *self.build() == offers.of {
            true => offers.page.clone(),
            false => Page::of("The build was changed since: ask anew."),
        }
    }

    /// Takes one that is offered.
    pub(super) fn take(&mut self, offers: &Offers, place: usize, line: &str) -> Page {
        let Some((title, build)) = offers.each.get(place) else {
            return self.lost(line);
        };
        if *self.build() != offers.of {
            return self.not_done("the build was changed since it was asked; ask anew.");
        }
        let edits = difference(&offers.of, build);
        let taken = format!("Taken: {title}. {}.", self.turns(&offers.of, &edits));
        let page = self.taken_build(build.clone(), &taken);
        self.places.pop();
        page
    }

    /// Puts a whole build in place, as one step of undo, and tells what it changes.
    pub(super) fn taken_build(&mut self, build: Build, said: &str) -> Page {
        match self.put(build) {
            Err(why) => self.not_done(&format!("{why}.")),
            Ok(was) => {
                let mut page = Page::of(said);
                page.then(self.changes(&was));
                page
            }
        }
    }

    /// Looks for the cheapest build; asks what it must do where nothing is said.
    pub(super) fn cheapest(&mut self, wanted: &str) -> Reply {
        if wanted.is_empty() {
            let page = self.asked(&Ask::Wanted);
            self.places.push(Place::Ask(Ask::Wanted));
            return page.into();
        }
        self.search(wanted)
    }

    /// Looks for the cheapest build that does what a line says.
    pub(super) fn search(&mut self, line: &str) -> Reply {
        let each = line.split([',', ' ']).filter(|part| !part.is_empty());
        let targets = each.map(|part| Target::parse(part, &self.catalogue));
        let targets = match targets.collect::<Result<Vec<_>, _>>() {
            Ok(targets) => targets,
            Err(why) => return self.not_understood(&format!("{why}.")).into(),
        };
        Reply {
            page: Page::of("Searching. It may take a minute."),
            task: Some(Task::Search(targets)),
        }
    }

    /// What is searched for targets: all that is free where nobody says otherwise.
    pub(super) fn request(&self, targets: Vec<Target>) -> Request {
        Request {
            targets,
            free: find::usual(&self.catalogue),
            effort: Some(EFFORT),
            ..Request::default()
        }
    }

    /// Searches, and tells what was found. A number then takes it.
    pub(super) fn searched(&mut self, request: &Request) -> Page {
        let bench = self.bench();
        let watch = &mut |_: &find::Progress<'_>| std::ops::ControlFlow::Continue(());
        let found = match find::find(&bench, request, watch) {
            Ok(found) => found,
            Err(error) => return self.not_done(&format!("{error}.")),
        };
        let currency = self.now.bill.currency;
        let mut page = Page::default();
        page.heading(&words::headline(&found, request));
        let wanted = words::all_wanted(request, &self.catalogue, currency);
        page.text(format!("Wanted: {wanted}."));
        page.text(words::how(&found));
        if found.gave_up {
            page.text("gantrywright find, run by itself, searches to the end.");
        }
        let Some(answer) = found.answers.first() else {
            page.then(self.nothing(request, &found));
            return page;
        };
        if answer.edits.is_empty() {
            page.text("It is the build at hand.");
            return page;
        }
        let price = answer.reading.cost.likely - self.now.bill.total.likely;
        let price = told::price(price, answer.reading.cost.currency);
        page.item(1, &format!("Against the build at hand it {price}."));
        for (choice, was, is) in told::changed(&self.catalogue, self.build(), &answer.edits) {
            page.under(format!("{choice}: {is}; it is {was} now."));
        }
        let figures = told::figures(&answer.reading).into_iter();
        let figures: Vec<String> = figures
            .map(|(name, value)| format!("{name} {value}"))
            .collect();
        page.under(format!("Then: {}.", figures.join("; ")));
        let tally = rules::tally(&answer.assessment.findings);
        page.under(format!("Warnings then: {tally}."));
        page.text("1 takes it; undo takes that back.");
        let each = vec![("the cheapest".to_owned(), answer.build.clone())];
        self.offer(each, page)
    }

    /// Where nothing fits: what would have to give way.
    fn nothing(&self, request: &Request, found: &Found) -> Page {
        let currency = self.now.bill.currency;
        let mut page = Page::default();
        for one in found.relaxed.iter().take(RELAXED) {
            if let Some(was) = request.targets.get(one.target) {
                let says = words::relaxed(was, &one.to, &self.catalogue, currency);
                page.text(format!("One would fit: {says}."));
            }
        }
        for finding in found.fixed.iter().take(RELAXED) {
            let severity = finding.severity.title();
            page.text(format!(
                "Whatever is chosen, {severity}: {}",
                finding.message
            ));
        }
        if found.is_proven() && found.relaxed.is_empty() && found.fixed.is_empty() {
            page.text("No single target is to blame: ask for less.");
        }
        page
    }
}
