//! Why a number is what it is: the recorder that notes how each figure was derived.
//!
//! Whoever computes a figure tells the [`Recorder`] how: formula in words and symbols, the
//! inputs with their units and where each came from, the source, and where the model ends.
//! The telling is a closure. [`Silent`] never calls it, so that nothing is left of it in the
//! program that merely assesses; [`Notes`] calls it and keeps what it says, by the figure's
//! path in the JSON of `assess`, such as `axes.X.rapid_m_per_min`.

use indexmap::IndexMap;

use crate::units::Amount;

/// Who hears how figures are derived.
pub trait Recorder {
    /// Hears of one figure; `derive` is called by those alone who keep it.
    fn note(&mut self, derive: impl FnOnce() -> Derivation);

    /// Whether anything is kept: for loops that would only prepare notes.
    fn listens(&self) -> bool;
}

/// The recorder of those who only want the figures: it compiles to nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Silent;

impl Recorder for Silent {
    #[inline(always)]
    fn note(&mut self, _: impl FnOnce() -> Derivation) {}

    #[inline(always)]
    fn listens(&self) -> bool {
        false
    }
}

/// The recorder that keeps every derivation, in the order in which figures were computed.
#[derive(Clone, Debug, Default)]
pub struct Notes {
    by_path: IndexMap<String, Derivation>,
}

impl Recorder for Notes {
    fn note(&mut self, derive: impl FnOnce() -> Derivation) {
        let derivation = derive();
        self.by_path.insert(derivation.path.clone(), derivation);
    }

    fn listens(&self) -> bool {
        true
    }
}

impl Notes {
    /// The derivation of a figure.
    pub fn get(&self, path: &str) -> Option<&Derivation> {
        self.by_path.get(path)
    }

    /// Every derivation.
    pub fn all(&self) -> impl Iterator<Item = &Derivation> {
        self.by_path.values()
    }
}

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
    /// A constant of nature, of a standard or of the trade: its source.
    Constant(&'static str),
    /// Another figure, with a derivation of its own: its path.
    Figure(String),
    /// An intermediate result of this very formula.
    Here,
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
    pub value: Amount,
    /// Where it comes from.
    pub origin: Origin,
}

/// How one figure came about.
#[derive(Clone, Debug, PartialEq)]
pub struct Derivation {
    /// The figure's path in the JSON of `assess`.
    pub path: String,
    /// What the figure is, in words.
    pub title: String,
    /// The formula in words.
    pub words: String,
    /// The formula in symbols.
    pub formula: &'static str,
    /// What went in, and what came out on the way.
    pub inputs: Vec<Input>,
    /// What came out.
    pub result: Amount,
    /// The published source, or "common practice".
    pub source: &'static str,
    /// Where the model ends; empty for plain sums.
    pub limits: &'static str,
    /// What the model said where a measured value took its place.
    pub modelled: Option<Amount>,
}

impl Derivation {
    /// Begins the derivation of a figure.
    pub fn of(path: impl Into<String>, title: impl Into<String>, result: Amount) -> Self {
        Self {
            path: path.into(),
            title: title.into(),
            words: String::new(),
            formula: "",
            inputs: Vec::new(),
            result,
            source: "",
            limits: "",
            modelled: None,
        }
    }

    /// The formula, in words and in symbols.
    pub fn by(mut self, words: impl Into<String>, formula: &'static str) -> Self {
        self.words = words.into();
        self.formula = formula;
        self
    }

    /// One input more.
    pub fn with(
        mut self,
        symbol: &'static str,
        title: impl Into<String>,
        value: Amount,
        origin: Origin,
    ) -> Self {
        self.inputs.push(Input {
            symbol,
            title: title.into(),
            value,
            origin,
        });
        self
    }

    /// Inputs that are as many as there happen to be.
    pub fn with_each(mut self, inputs: impl IntoIterator<Item = Input>) -> Self {
        self.inputs.extend(inputs);
        self
    }

    /// The source, and where the model ends.
    pub fn from(mut self, source: &'static str, limits: &'static str) -> Self {
        self.source = source;
        self.limits = limits;
        self
    }

    /// The model's own value, where a measured one took its place.
    pub fn instead_of(mut self, modelled: Amount) -> Self {
        self.modelled = Some(modelled);
        self
    }
}

impl Origin {
    /// A choice.
    pub fn choice(id: impl Into<String>) -> Self {
        Self::Choice(id.into())
    }

    /// A part's data.
    pub fn part(part: &dyn crate::catalogue::Part) -> Self {
        Self::Part(part.id().to_string())
    }

    /// Another figure.
    pub fn figure(path: impl Into<String>) -> Self {
        Self::Figure(path.into())
    }
}
