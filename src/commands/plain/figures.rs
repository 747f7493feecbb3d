//! Figures, why they are what they are, and the bill.

use std::collections::BTreeMap;

use super::page::{Page, WIDTH};
use super::talk::Talk;
use crate::assessment::figures::FigureAt;
use crate::assessment::{explain, json};
use crate::bill::Line;
use crate::build::purchases::Status;
use crate::catalogue::Step;
use crate::commands::why::{Found, find, known, text};
use crate::explain::Notes;
use crate::explore::reading::Reading;
use crate::explore::told;
use crate::money::show as amounts;
use crate::screen::text::capital;
use crate::units::show;
use crate::words::Words as _;

impl Talk {
    /// The figures by which machines are told apart, or every figure of a group.
    pub(super) fn figures(&mut self, group: &str) -> Page {
        if group.is_empty() {
            return self.main_figures();
        }
        let Some((notes, all)) = self.noted() else {
            return self.not_done("this build cannot be explained.");
        };
        let figures = match find(&all, group) {
            Ok(Found::Group(figures)) => figures,
            Ok(Found::One(figure)) => vec![figure],
            Err(error) => return self.not_understood(&format!("{error}.")),
        };
        let mut page = Page::default();
        page.heading(&format!("Figures of {group}"));
        for figure in figures {
            let path = figure.path();
            let value = notes.get(&path).map(|noted| noted.result.to_string());
            let value = value.unwrap_or_else(|| figure.value.to_string());
            page.text(format!("{path}: {value}"));
        }
        page.text("why, with one of these behind it, tells how it came about.");
        page
    }

    fn main_figures(&self) -> Page {
        let mut page = Page::default();
        page.heading("Figures");
        for (name, value) in told::figures(&Reading::of(&self.now)) {
            page.text(format!("{}: {value}.", capital(name)));
        }
        let Some((_, all)) = self.noted() else {
            return page;
        };
        let mut groups: BTreeMap<String, usize> = BTreeMap::new();
        for figure in &all {
            let path = figure.path();
            let group = path.split('.').next().unwrap_or_default();
            *groups.entry(group.to_owned()).or_default() += 1;
        }
        let groups = groups
            .into_iter()
            .map(|(name, count)| format!("{name} ({count})"));
        let groups: Vec<String> = groups.collect();
        page.text(format!(
            "Every other figure stands in a group. figures, with the name of one behind it, lists it: {}.",
            groups.join(", ")
        ));
        page
    }

    /// Every figure and how it came about.
    fn noted(&self) -> Option<(Notes, Vec<FigureAt>)> {
        let explained = explain(&self.catalogue, self.build(), self.today);
        let (assessment, notes) = explained.ok()?;
        let all = known(&json::json(self.build(), &assessment, &[]), &notes);
        Some((notes, all))
    }

    /// How a figure came about.
    pub(super) fn why(&mut self, path: &str) -> Page {
        if path.is_empty() {
            return self.not_understood(
                "why takes a figure behind it, such as why cost.likely; figures lists them.",
            );
        }
        let Some((notes, all)) = self.noted() else {
            return self.not_done("this build cannot be explained.");
        };
        match find(&all, path) {
            Err(error) => self.not_understood(&format!("{error}.")),
            Ok(Found::Group(_)) => self.figures(path),
            Ok(Found::One(figure)) => {
                let Some(derivation) = notes.get(&figure.path()) else {
                    return self.not_done("nothing is noted on how this figure comes about.");
                };
                let mut page = Page::default();
                page.made(&text::one(
                    derivation,
                    &self.catalogue,
                    self.way.paint,
                    WIDTH,
                ));
                page.text(
                    "An input that is a figure can be asked for in turn, by its name behind why.",
                );
                page
            }
        }
    }

    /// Every line of the bill, step by step, then the sums.
    pub(super) fn bill(&self) -> Page {
        let bill = &self.now.bill;
        let mut page = Page::default();
        let machines = match bill.machines {
            1 => String::new(),
            many => format!(", for {many} machines"),
        };
        page.heading(&format!("Bill in {}{machines}", bill.currency));
        for &step in Step::ALL {
            let mut lines = bill
                .lines
                .iter()
                .filter(|line| line.step == step)
                .peekable();
            if lines.peek().is_some() {
                page.heading(step.title());
            }
            lines.for_each(|line| page.text(self.line(line)));
        }
        page.heading("Sums");
        let exact = |amount| amounts::exact(amount, bill.currency);
        let on_top = bill.on_top_rows().map(|(_, name, sum)| (name, sum.likely));
        let sums = [("Goods", bill.goods.likely)].into_iter().chain(on_top);
        let sums = sums.chain([
            ("In all", bill.total.likely),
            ("Needed for the first cut", bill.first_cut),
            ("Spent", bill.spent),
        ]);
        for (name, amount) in sums {
            page.text(format!("{name}: {} {}.", exact(amount), bill.currency));
        }
        page.text(format!(
            "In all, from low to high: {}.",
            amounts::range(bill.total)
        ));
        if let Some(never) = bill.never_order() {
            page.text(format!("{never}."));
        }
        page
    }

    fn line(&self, line: &Line) -> String {
        let currency = self.now.bill.currency;
        // It stays in the unit by which the part is sold.
        let unit = line.unit.behind(line.quantity);
        let quantity = format!("{} {unit}", show::quantity(line.quantity));
        let quantity = self.way.speller.metric().spell(&quantity).into_owned();
        let price = match line.price {
            Some(_) => format!("{} {currency}", amounts::exact(line.total.likely, currency)),
            None => "no price".to_owned(),
        };
        let status = match line.status {
            Status::ToBuy => String::new(),
            status => format!(", {}", status.title()),
        };
        format!("{}: {quantity}, {price}{status}.", line.title)
    }
}
