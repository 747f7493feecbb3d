//! Where the inputs of a formula come from.

use super::Worth;
use crate::build::choices;
use crate::catalogue::{Catalogue, Part};

/// Where an input of a formula comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Origin {
    /// The builder chose it: the id of the choice.
    Choice(String),
    /// A part's data say so: its id.
    Part(String),
    /// The frame plan says so: its id.
    Plan(String),
    /// The site says so: its id.
    Site(String),
    /// A price book says so: its id.
    PriceBook(String),
    /// A quantity rule says so: the id of the part that it asks for.
    QuantityRule(String),
    /// A yearly rule says so: the id of what it says is used up.
    YearlyRule(String),
    /// A constant of nature, of a standard or of the trade: its source.
    Constant(&'static str),
    /// Another figure, with a derivation of its own: its path.
    Figure(String),
    /// An intermediate result of this very formula.
    Here,
    /// The build's purchases say so: offers, payments, what is in hand.
    Purchases,
    /// The builder measured it: the id of the choice that holds it.
    Measured(String),
}

/// One input, or an intermediate result, of a formula.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// Its symbol in the formula.
    pub symbol: &'static str,
    /// What it is, in words.
    pub title: String,
    /// Its value.
    pub value: Worth,
    /// Where it comes from.
    pub origin: Origin,
}

impl Input {
    /// An input.
    pub fn new(
        symbol: &'static str,
        title: impl Into<String>,
        value: impl Into<Worth>,
        origin: Origin,
    ) -> Self {
        Self {
            symbol,
            title: title.into(),
            value: value.into(),
            origin,
        }
    }
}

impl Origin {
    /// A choice.
    pub fn choice(id: impl Into<String>) -> Self {
        Self::Choice(id.into())
    }

    /// A part's data.
    pub fn part(part: &dyn Part) -> Self {
        Self::Part(part.id().to_string())
    }

    /// Another figure.
    pub fn figure(path: impl Into<String>) -> Self {
        Self::Figure(path.into())
    }

    /// What kind of origin it is, in one word of programs.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Choice(_) => "choice",
            Self::Part(_) => "part",
            Self::Plan(_) => "plan",
            Self::Site(_) => "site",
            Self::PriceBook(_) => "price-book",
            Self::QuantityRule(_) => "quantity-rule",
            Self::YearlyRule(_) => "yearly-rule",
            Self::Constant(_) => "constant",
            Self::Figure(_) => "figure",
            Self::Here => "here",
            Self::Purchases => "purchases",
            Self::Measured(_) => "measured",
        }
    }

    /// The id, path or source that it names; empty for intermediate results and purchases.
    pub fn names(&self) -> &str {
        match self {
            Self::Choice(id)
            | Self::Part(id)
            | Self::Plan(id)
            | Self::Site(id)
            | Self::PriceBook(id)
            | Self::QuantityRule(id)
            | Self::YearlyRule(id)
            | Self::Figure(id)
            | Self::Measured(id) => id,
            Self::Constant(source) => source,
            Self::Here | Self::Purchases => "",
        }
    }

    /// The title of what it names, where that has one and exists.
    pub fn title<'c>(&self, catalogue: &'c Catalogue) -> Option<&'c str> {
        match self {
            Self::Choice(id) | Self::Measured(id) => {
                choices::find(id).ok().map(|choice| choice.title)
            }
            Self::Part(id)
            | Self::Plan(id)
            | Self::Site(id)
            | Self::QuantityRule(id)
            | Self::YearlyRule(id) => catalogue.part(id).map(|(_, part)| part.title()),
            Self::PriceBook(id) => catalogue
                .price_books
                .get(id.as_str())
                .map(|book| book.title.as_str()),
            Self::Constant(_) | Self::Figure(_) | Self::Here | Self::Purchases => None,
        }
    }

    /// Where it comes from, in words for people.
    pub fn words(&self, catalogue: &Catalogue) -> String {
        let named = |what: &str| {
            let id = self.names();
            match self.title(catalogue) {
                Some(title) => format!("{what}: {title} ({id})"),
                None => format!("{what}: {id}"),
            }
        };
        match self {
            Self::Choice(_) => named("your choice"),
            Self::Part(_) => named("part"),
            Self::Plan(_) => named("frame plan"),
            Self::Site(_) => named("wall socket"),
            Self::PriceBook(_) => named("price book"),
            Self::QuantityRule(_) => named("quantity rule"),
            Self::YearlyRule(_) => named("yearly rule"),
            Self::Constant(source) => format!("constant: {source}"),
            Self::Figure(path) => format!("figure: {path}"),
            Self::Here => "worked out here".to_owned(),
            Self::Purchases => "your purchases".to_owned(),
            Self::Measured(_) => named("you measured it"),
        }
    }
}
