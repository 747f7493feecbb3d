//! What was paid: the lines of the bill, and three questions about one of them.

use jiff::civil::Date;

use super::page::Page;
use super::talk::{Ask, Place, Reply, Talk};
use crate::build::purchases::{Payment, Status};
use crate::money::{Money, show as amounts};
use crate::screen::form::reading::{date, paid, pay};
use crate::screen::ledger::Entry;
use crate::words::Words as _;

/// A payment that is asked for, one answer after the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Paying {
    entry: Entry,
    amount: Option<Money>,
    date: Option<Date>,
}

impl Talk {
    /// Lists the lines of the bill that hold a word, with what was paid.
    pub(super) fn paid(&mut self, word: &str) -> Page {
        let part = word.to_lowercase();
        let bill = &self.now.bill;
        let mut page = Page::default();
        page.heading("What was paid");
        let mut listed = Vec::new();
        for line in &bill.lines {
            if !line.title.to_lowercase().contains(&part) {
                continue;
            }
            listed.push(Entry::Part(line.part, line.step));
            let exact = |amount| {
                format!(
                    "{} {}",
                    amounts::exact(amount, bill.currency),
                    bill.currency
                )
            };
            let paid = match line.paid.is_zero() {
                true => String::new(),
                false => format!(", paid {}", exact(line.paid)),
            };
            let status = match line.status {
                Status::ToBuy => String::new(),
                status => format!(", {}", status.title()),
            };
            let costs = exact(line.total.likely);
            page.item(
                listed.len(),
                &format!("{}: about {costs}{status}{paid}.", line.title),
            );
        }
        if listed.is_empty() {
            return self.not_done(&format!("no line of the bill is named {word:?}."));
        }
        page.text("A number writes a payment down. paid, with a word behind it, lists fewer. What was paid for freight, duty and tax is written down on the screen or in the file.");
        self.go(Place::Paid(listed));
        page
    }

    /// Asks what was paid for a line.
    pub(super) fn pay_for(&mut self, entry: Entry) -> Page {
        let ask = Ask::Pay(Box::new(Paying {
            entry,
            amount: None,
            date: None,
        }));
        let page = self.asked(&ask);
        self.places.push(Place::Ask(ask));
        page
    }

    /// What is still to be paid for a line; none where nothing is.
    fn open_of(&self, entry: &Entry) -> Option<Money> {
        let open = entry.open(&self.now)?;
        Some(Money::new(open, self.now.bill.currency))
    }

    /// The question that comes next.
    pub(super) fn asked_payment(&self, paying: &Paying) -> Page {
        let title = paying.entry.title(&self.catalogue);
        if paying.amount.is_none() {
            let open = self.open_of(&paying.entry).map_or(String::new(), |open| {
                let open = amounts::exact(open.amount, open.currency);
                format!(
                    " Enter takes what is open, {open} {}.",
                    self.now.bill.currency
                )
            });
            return Page::of(format!(
                "{title}: how much was paid? Such as 84.48 {}; money that came back has a minus in front.{open}",
                self.now.bill.currency
            ));
        }
        if paying.date.is_none() {
            return Page::of(format!("On which day? Enter takes today, {}.", self.today));
        }
        let mut page = Page::of("Is that all of it?");
        page.item(1, "All or the rest: nothing is left to pay");
        page.item(2, "A deposit: more is to pay");
        page
    }

    /// What stands at the prompt.
    pub(super) fn prompt_of_payment(paying: &Paying) -> &'static str {
        match (paying.amount, paying.date) {
            (None, _) => "Amount",
            (_, None) => "Day",
            _ => "1 or 2",
        }
    }

    /// Takes an answer; after the last one the payment is written down.
    pub(super) fn paying(&mut self, mut paying: Paying, line: &str) -> Reply {
        let currency = self.now.bill.currency;
        let wrong = if paying.amount.is_none() {
            let open = self.open_of(&paying.entry).filter(|_| line.is_empty());
            let read = open.map_or_else(|| paid(line, currency), Ok);
            read.map(|amount| paying.amount = Some(amount)).err()
        } else if paying.date.is_none() {
            let read = match line {
                "" => Ok(self.today),
                line => date(line),
            };
            read.map(|day| paying.date = Some(day)).err()
        } else {
            let deposit = match line {
                "" | "1" => false,
                "2" => true,
                _ => {
                    return self
                        .not_understood(&format!("{line:?}. Type 1 or 2."))
                        .into();
                }
            };
            self.places.pop();
            return self.write_payment(&paying, deposit).into();
        };
        if let Some(why) = wrong {
            return self.not_understood(&format!("{why}.")).into();
        }
        let page = self.asked_payment(&paying);
        self.places.pop();
        self.places.push(Place::Ask(Ask::Pay(Box::new(paying))));
        page.into()
    }

    fn write_payment(&mut self, paying: &Paying, deposit: bool) -> Page {
        let (Some(amount), Some(date)) = (paying.amount, paying.date) else {
            return self.not_done("amount and day are missing.");
        };
        let payment = Payment {
            amount,
            date,
            rate: None,
            what: None,
            by: None,
            part_payment: deposit,
        };
        let mut build = self.build().clone();
        let part = build.purchases.parts.entry(*paying.entry.id());
        let part = part.or_default();
        let ordered = pay(part, &paying.entry, &self.now, payment);
        let status = if ordered { ", status ordered" } else { "" };
        let title = paying.entry.title(&self.catalogue);
        let said = format!(
            "Written down for {title}: {} {} on {date}{status}.",
            amounts::exact(amount.amount, amount.currency),
            amount.currency
        );
        let mut page = self.taken_build(build, &said);
        let bill = &self.now.bill;
        let spent = amounts::money(bill.spent, bill.currency);
        page.text(format!("Spent so far: {spent}."));
        page
    }
}
