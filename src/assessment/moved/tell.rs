//! What moved, in words and as JSON.

use rust_decimal::Decimal;
use serde_json::{Map, Value, json};

use super::{Moved, PriceMove};
use crate::catalogue::{Catalogue, Id};
use crate::money::show::exact;
use crate::money::{Currency, Money};

/// Prices told one by one.
const PRICES: usize = 2;

/// Parts or figures named in one sentence.
const NAMED: usize = 2;

impl Moved {
    /// It in one sentence, for a line of the screen; none where nothing moved.
    pub fn short(&self) -> Option<String> {
        if self.is_empty() {
            return None;
        }
        let mut said = Vec::new();
        if !self.prices.is_empty() {
            let effect = signed(self.effect.amount, self.effect.currency);
            said.push(format!("{}, {effect}", self.how_many_prices()));
        }
        match self.gone.len() + self.new.len() {
            0 => {}
            1 => said.push("1 part gone or new".to_owned()),
            many => said.push(format!("{many} parts gone or new")),
        }
        match self.figures.len() {
            0 => {}
            1 => said.push("1 figure differs".to_owned()),
            many => said.push(format!("{many} figures differ")),
        }
        Some(format!("since {}: {}", self.since, said.join("; ")))
    }

    /// It in a few sentences, the largest changes first; none where nothing moved.
    pub fn sentences(&self, catalogue: &Catalogue) -> Vec<String> {
        let mut said = Vec::new();
        if self.is_empty() {
            return said;
        }
        if !self.prices.is_empty() {
            let effect = signed(self.effect.amount, self.effect.currency);
            let many = self.how_many_prices();
            said.push(format!("{many}: {effect} for what this bill buys."));
        }
        said.extend(self.prices.iter().take(PRICES).map(PriceMove::sentence));
        let title = |id: &Id| {
            let part = catalogue.part(id.as_str());
            part.map_or(id.as_str(), |(_, part)| part.short())
                .to_owned()
        };
        let mut parts = Vec::new();
        for (ids, what) in [
            (&self.gone, "No longer on the bill"),
            (&self.new, "New on it, or priced since"),
        ] {
            if !ids.is_empty() {
                parts.push(format!("{what}: {}.", some(ids.iter().map(title))));
            }
        }
        if !parts.is_empty() {
            said.push(parts.join(" "));
        }
        if !self.figures.is_empty() {
            let each = self.figures.iter();
            let each = each.map(|one| format!("{} {} (was {})", one.title, one.is, one.was));
            said.push(format!("Now: {}.", some(each)));
        }
        said.push(self.why());
        said
    }

    fn how_many_prices(&self) -> String {
        match self.prices.len() {
            1 => "1 unit price moved".to_owned(),
            many => format!("{many} unit prices moved"),
        }
    }

    /// What was changed in between, as far as it is known.
    fn why(&self) -> String {
        let mut changed = Vec::new();
        if self.build_changed {
            changed.push("the build itself");
        }
        if self.data_changed {
            changed.push("parts or prices");
        }
        if self.program.is_some() {
            changed.push("the program");
        }
        let changed = match changed.as_slice() {
            [] => "Nothing else was changed; the day is another one.".to_owned(),
            all => format!("Changed in between: {}.", all.join(", ")),
        };
        match self.build_changed {
            true => format!("{changed} So only prices are compared."),
            false => changed,
        }
    }

    /// It as JSON. Amounts are strings, as everywhere.
    pub fn json(&self) -> Value {
        let money = |money: Money| format!("{} {}", money.amount, money.currency);
        let prices = self.prices.iter().map(|one| {
            let mut map = Map::new();
            map.insert("part".to_owned(), one.part.as_str().into());
            map.insert("was".to_owned(), money(one.was).into());
            if let Some(is) = one.is {
                map.insert("is".to_owned(), money(is).into());
            }
            if let Some(percent) = one.percent {
                map.insert("percent".to_owned(), percent.to_string().into());
            }
            map.insert("effect".to_owned(), one.effect.to_string().into());
            Value::Object(map)
        });
        let books = self.books.iter().map(|(id, was, is)| {
            let day = |day: &Option<jiff::civil::Date>| day.map(|day| day.to_string());
            json!({ "name": id.as_str(), "was": day(was), "is": day(is) })
        });
        let figures = self.figures.iter();
        let figures =
            figures.map(|one| json!({ "figure": one.path, "was": one.was, "is": one.is }));
        let ids = |ids: &[Id]| {
            ids.iter()
                .map(|id| id.as_str().into())
                .collect::<Vec<Value>>()
        };
        json!({
            "since": self.since.to_string(),
            "program_then": self.program,
            "data_changed": self.data_changed,
            "build_changed": self.build_changed,
            "effect": money(self.effect),
            "books": books.collect::<Vec<_>>(),
            "prices": prices.collect::<Vec<_>>(),
            "gone": ids(&self.gone),
            "new": ids(&self.new),
            "figures": figures.collect::<Vec<_>>(),
        })
    }
}

impl PriceMove {
    fn sentence(&self) -> String {
        let currency = self.was.currency;
        let was = coins(self.was);
        let Some(is) = self.is else {
            return format!("{}: {was} {currency} then, no price now.", self.title);
        };
        let percent = match self.percent {
            Some(percent) if percent > Decimal::ZERO => format!(" (+{} %)", percent),
            Some(percent) => format!(" ({} %)", percent),
            None => String::new(),
        };
        let effect = signed(self.effect, currency);
        let is = coins(is);
        format!(
            "{}: from {was} to {is} {currency}{percent}, {effect}.",
            self.title
        )
    }
}

/// A unit price to the coin, or as finely as it is stated below a coin.
fn coins(money: Money) -> String {
    if money.amount < Decimal::ONE {
        return money.amount.normalize().to_string();
    }
    exact(money.amount, money.currency)
}

/// An amount to the coin with its sign.
fn signed(amount: Decimal, currency: Currency) -> String {
    let plus = if amount > Decimal::ZERO { "+" } else { "" };
    format!("{plus}{} {currency}", exact(amount, currency))
}

/// The first of several, and how many more there are.
fn some(each: impl Iterator<Item = String>) -> String {
    let all: Vec<String> = each.collect();
    let named = all[..all.len().min(NAMED)].join(", ");
    match all.len().saturating_sub(NAMED) {
        0 => named,
        more => format!("{named} and {more} more"),
    }
}
