//! One choice: what it is, why it matters, what it is now, and what each option would change.

use super::page::Page;
use super::talk::{Place, Talk};
use crate::build::choices::{Choice, Kind};
use crate::build::{Edit, Value};
use crate::explore::effect::{Effect, effect};
use crate::explore::told;
use crate::money::Money;
use crate::screen::options::{self, OptionRow};
use crate::screen::text::capital;
use crate::units::show;
use crate::words::Words as _;

impl Talk {
    /// Opens a choice.
    pub(super) fn open(&mut self, choice: &'static Choice) -> Page {
        self.last = Some(choice);
        self.last_step = Some(choice.step);
        if self.places.len() == 1 {
            self.places.push(Place::Step(choice.step));
        }
        self.go(Place::Choice(choice));
        self.about_choice(choice)
    }

    /// All that is said of a choice.
    pub(super) fn about_choice(&self, choice: &'static Choice) -> Page {
        let mut page = Page::default();
        page.heading(choice.title);
        page.text(choice.why);
        let now = (choice.get)(self.build());
        let says = format!("Now: {}.", choice.show(&now, &self.catalogue));
        let plain = choice.plain(&now, &self.catalogue);
        page.text(match plain {
            Some(plain) => format!("{says} {plain}"),
            None => says,
        });
        for topic in self.about.topics() {
            let about = self.about.choices(topic.first()).first();
            if let Some(first) = self.now.findings.get(topic.first())
                && about.is_some_and(|about| about.id == choice.id)
            {
                let title = topic.title(&self.now.findings);
                page.text(format!("Warning, {}: {title}.", first.severity.title()));
            }
        }
        match choice.kind {
            Kind::Number(_) | Kind::Amount => self.typed(choice, &now, &mut page),
            _ => self.options(choice, &mut page),
        }
        page
    }

    /// What a number or an amount takes, and what a little more or less would change.
    fn typed(&self, choice: &'static Choice, now: &Value, page: &mut Page) {
        let bill = &self.now.bill;
        let cost = Money::new(bill.total.likely, bill.currency);
        page.text(match choice.kind {
            Kind::Number(kind) if !kind.among.is_empty() => {
                let among = kind.among.iter().map(|one| show::typed(*one));
                format!("It takes {}.", among.collect::<Vec<_>>().join(", "))
            }
            kind => {
                let taken = options::taken(choice, bill.currency);
                let amount = if matches!(kind, Kind::Amount) {
                    "an amount "
                } else {
                    ""
                };
                format!("It takes {amount}{}.", taken.replace("empty:", "none:"))
            }
        });
        for steps in [1, -1] {
            if let Some(value) =
                options::stepped(choice, now, steps, cost, self.way.speller.shown())
            {
                let name = choice.show(&value, &self.catalogue);
                let effect = self.effect(choice, &value);
                let says = self.consequences(choice, &effect).join("; ");
                page.text(format!("With {name}: {says}."));
            }
        }
        let keeps = "Enter keeps it and goes on.";
        page.text(match now {
            Value::Number(Some(_)) | Value::Amount(Some(_)) => format!("Type a value. {keeps}"),
            _ => format!("Type a value where you have one. {keeps}"),
        });
    }

    /// The options, numbered.
    fn options(&self, choice: &'static Choice, page: &mut Page) {
        let rows = options::listed(choice, self.build(), &self.catalogue);
        let count = rows.len();
        page.text(match choice.kind {
            Kind::Parts(_) => format!(
                "{count} entries. A number ticks one, or takes its tick away; several go with \
                 commas between; none takes all away. Enter keeps them and goes on."
            ),
            _ => {
                format!("{count} options. A number takes one. Enter keeps it as it is and goes on.")
            }
        });
        for (place, row) in rows.iter().enumerate() {
            let state = match row.ticked {
                Some(true) => ", ticked",
                Some(false) => ", not ticked",
                None if row.now => ", as it is now",
                None => "",
            };
            page.item(place + 1, &format!("{}{state}", row.full));
            if let Some(plain) = self.plain(choice, row).filter(|_| !row.now) {
                page.under(plain);
            }
            if !row.now {
                let effect = self.effect(choice, &row.value);
                let unticks = if row.ticked == Some(true) {
                    "Without it: "
                } else {
                    ""
                };
                let says = self.consequences(choice, &effect).join("; ");
                page.under(capital(&format!("{unticks}{says}.")));
            }
        }
    }

    fn plain(&self, choice: &Choice, row: &OptionRow) -> Option<String> {
        let plain = choice.plain(&row.value, &self.catalogue);
        plain.filter(|plain| !plain.is_empty())
    }

    /// What taking a value would change.
    fn effect(&self, choice: &'static Choice, value: &Value) -> Result<Effect, String> {
        let edit = Edit {
            choice,
            value: value.clone(),
        };
        effect(&self.bench(), std::slice::from_ref(&edit)).map_err(|error| error.to_string())
    }

    /// It in a few words each: the price, the figure that the choice is mostly about, warnings.
    pub(super) fn consequences(
        &self,
        choice: &Choice,
        effect: &Result<Effect, String>,
    ) -> Vec<String> {
        let effect = match effect {
            Ok(effect) => effect,
            Err(why) => return vec![format!("cannot be taken: {why}")],
        };
        let (before, after) = (&self.now.bill, &effect.after.bill);
        let mut says = vec![match before.currency == after.currency {
            true => told::price(effect.price, after.currency),
            false => format!("is computed in {}", after.currency),
        }];
        if let Some(figure) = choice.main_figure()
            && let (Some(was), Some(is)) = (self.now.figure(figure), effect.after.figure(figure))
        {
            let number = |value: f64| show::number(value, was.digits);
            let (from, to) = (number(was.number), number(is.number));
            if from != to {
                says.push(format!(
                    "{} from {from} to {to} {}",
                    figure.title(),
                    is.unit
                ));
            }
        }
        for (word, findings) in [("brings", &effect.added), ("lifts", &effect.lifted)] {
            if !findings.is_empty() {
                says.push(format!("{word} {}", told::warned(findings).join(", ")));
            }
        }
        says.iter_mut()
            .for_each(|part| part.truncate(part.trim_end().len()));
        says
    }

    /// Takes what was typed at a choice: a number of its list, or a value.
    pub(super) fn pick(&mut self, choice: &'static Choice, line: &str) -> Page {
        let listed = match choice.kind {
            Kind::Number(_) | Kind::Amount => Ok(None),
            Kind::Parts(_) => self.ticked(choice, line),
            _ => self.numbered(choice, line),
        };
        let edit = match listed {
            Err(why) => return self.not_understood(&why),
            Ok(Some(value)) => Edit { choice, value },
            Ok(None) => match self.typed_value(choice, line) {
                Ok(value) => Edit { choice, value },
                Err(why) => {
                    let takes = self.takes();
                    let why = why.trim_end_matches('.');
                    return self.not_understood(&format!("{why}. {takes}"));
                }
            },
        };
        let page = self.make(&[edit]);
        match choice.kind {
            // More entries may be ticked: one stays.
            Kind::Parts(_) => page,
            _ => self.taken(page),
        }
    }

    /// A value that is typed: a number in somebody's units, or what files take.
    fn typed_value(&self, choice: &'static Choice, line: &str) -> Result<Value, String> {
        let currency = self.now.bill.currency;
        if let Kind::Number(_) = choice.kind {
            return options::read(choice, line, currency, self.way.speller.shown());
        }
        let pair = format!("{}={line}", choice.id);
        let edit = Edit::parse_pair(&pair, &self.catalogue, self.build());
        edit.map(|edit| edit.value).map_err(|error| {
            let why = error.to_string();
            let bare = why.strip_prefix(&format!("{}: ", choice.id));
            bare.unwrap_or(&why).to_owned()
        })
    }

    /// The option of a number; none where the line is no number.
    fn numbered(&self, choice: &'static Choice, line: &str) -> Result<Option<Value>, String> {
        let Ok(number) = line.parse::<usize>() else {
            return Ok(None);
        };
        let rows = options::listed(choice, self.build(), &self.catalogue);
        let row = number
            .checked_sub(1)
            .and_then(|place| rows.into_iter().nth(place));
        match row {
            Some(row) => Ok(Some(row.value)),
            None => Err(self.no_such(choice, number)),
        }
    }

    /// The entries with those of the numbers turned; none where the line holds other things.
    fn ticked(&self, choice: &'static Choice, line: &str) -> Result<Option<Value>, String> {
        let numbers = line.split([',', ' ']).filter(|part| !part.is_empty());
        let numbers: Result<Vec<usize>, _> = numbers.map(str::parse).collect();
        let Ok(numbers) = numbers else {
            return Ok(None);
        };
        let mut build = self.build().clone();
        for number in numbers {
            let rows = options::listed(choice, &build, &self.catalogue);
            let row = number
                .checked_sub(1)
                .and_then(|place| rows.into_iter().nth(place));
            let row = row.ok_or_else(|| self.no_such(choice, number))?;
            choice.put(&mut build, &row.value);
        }
        Ok(Some((choice.get)(&build)))
    }

    fn no_such(&self, choice: &'static Choice, number: usize) -> String {
        let rows = options::listed(choice, self.build(), &self.catalogue).len();
        format!("{number} is none of its numbers, 1 to {rows}.")
    }
}
