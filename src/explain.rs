//! Why a number is what it is: the recorder that notes how each figure was derived.
//!
//! Whoever computes a figure tells the [`Recorder`] how: formula in words and symbols, the
//! inputs with their units and where each came from, the source, and where the model ends.
//! The telling is a closure. [`Silent`] never calls it, so that nothing is left of it in the
//! program that merely assesses; [`Notes`] calls it and keeps what it says, by the figure's
//! path in the JSON of `assess`, such as `axes.X.rapid_m_per_min`.

use std::borrow::Cow;

use indexmap::IndexMap;

mod origin;
mod worth;

pub use origin::{Input, Origin};
pub use worth::Worth;

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

/// The recorder that keeps derivations, in the order in which figures were computed.
#[derive(Clone, Debug, Default)]
pub struct Notes {
    by_path: IndexMap<String, Derivation>,
    heads: Heads,
    keep: Keep,
}

/// What each figure is and comes to, by its path.
pub type Heads = IndexMap<Box<str>, Head>;

/// What a figure is and comes to, without what it follows from: as small as can be, since a machine
/// has thousands.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// What the figure is, in words.
    pub title: Cow<'static, str>,
    /// What came out.
    pub result: Worth,
}

/// What is kept. All derivations of a machine take some ten megabytes.
#[derive(Clone, Debug, Default)]
enum Keep {
    /// Every derivation.
    #[default]
    All,
    /// What each figure is and comes to, without what it follows from.
    Heads,
    /// The derivation of this figure.
    One(String),
}

impl Recorder for Notes {
    fn note(&mut self, derive: impl FnOnce() -> Derivation) {
        self.keep(derive());
    }

    fn listens(&self) -> bool {
        true
    }
}

impl Notes {
    /// Will keep what each figure is and comes to, without what it follows from.
    pub fn heads() -> Self {
        let keep = Keep::Heads;
        Self {
            keep,
            ..Self::default()
        }
    }

    /// Will keep the derivation of one figure.
    pub fn of_one(path: &str) -> Self {
        let keep = Keep::One(path.to_owned());
        Self {
            keep,
            ..Self::default()
        }
    }

    /// Whether every derivation is there, and whole.
    pub fn are_whole(&self) -> bool {
        matches!(self.keep, Keep::All)
    }

    fn keep(&mut self, derivation: Derivation) {
        match &self.keep {
            Keep::Heads => {
                let (path, head) = derivation.head();
                self.heads.insert(path, head);
                return;
            }
            Keep::One(path) if *path != derivation.path => return,
            Keep::All | Keep::One(_) => {}
        }
        self.by_path.insert(derivation.path.clone(), derivation);
    }

    /// What each figure is and comes to, of all that was noted.
    pub fn into_heads(mut self) -> Heads {
        let whole = self.by_path.into_values().map(Derivation::head);
        self.heads.extend(whole);
        self.heads
    }

    /// The derivation of a figure.
    pub fn get(&self, path: &str) -> Option<&Derivation> {
        self.by_path.get(path)
    }

    /// Every derivation.
    pub fn all(&self) -> impl Iterator<Item = &Derivation> {
        self.by_path.values()
    }
}

/// How one figure came about.
#[derive(Clone, Debug, PartialEq)]
pub struct Derivation {
    /// The figure's path in the JSON of `assess`.
    pub path: String,
    /// What the figure is, in words.
    pub title: Cow<'static, str>,
    /// The formula in words.
    pub words: String,
    /// The formula in symbols.
    pub formula: &'static str,
    /// What went in, and what came out on the way.
    pub inputs: Vec<Input>,
    /// What came out.
    pub result: Worth,
    /// The published source, or "common practice".
    pub source: &'static str,
    /// Where the model ends; empty for plain sums.
    pub limits: &'static str,
    /// What the model said where a measured value took its place.
    pub modelled: Option<Worth>,
}

impl Derivation {
    /// Begins the derivation of a figure.
    pub fn of(
        path: impl Into<String>,
        title: impl Into<Cow<'static, str>>,
        result: impl Into<Worth>,
    ) -> Self {
        #[cfg(test)]
        counted::one_more();
        Self {
            path: path.into(),
            title: title.into(),
            words: String::new(),
            formula: "",
            inputs: Vec::new(),
            result: result.into(),
            source: "",
            limits: "",
            modelled: None,
        }
    }

    /// What the figure is and comes to, alone, by its path.
    fn head(self) -> (Box<str>, Head) {
        let head = Head {
            title: self.title,
            result: self.result,
        };
        (self.path.into(), head)
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
        value: impl Into<Worth>,
        origin: Origin,
    ) -> Self {
        self.inputs.push(Input::new(symbol, title, value, origin));
        self
    }

    /// Inputs that are as many as there happen to be.
    pub fn with_each(mut self, inputs: impl IntoIterator<Item = Input>) -> Self {
        self.inputs.extend(inputs);
        self
    }

    /// The paths of the inputs that are figures themselves.
    pub fn figures(&self) -> impl Iterator<Item = &str> {
        self.inputs.iter().filter_map(|input| match &input.origin {
            Origin::Figure(path) => Some(path.as_str()),
            _ => None,
        })
    }

    /// The source, and where the model ends.
    pub fn from(mut self, source: &'static str, limits: &'static str) -> Self {
        self.source = source;
        self.limits = limits;
        self
    }

    /// The model's own value, where a measured one took its place.
    pub fn instead_of(mut self, modelled: impl Into<Worth>) -> Self {
        self.modelled = Some(modelled.into());
        self
    }
}

/// The name of an array's element in a path: its own word, and `#2`, `#3` and so on where
/// earlier elements have the same one. No id holds the mark.
pub fn nth_key(word: &str, earlier: usize) -> String {
    match earlier {
        0 => word.to_owned(),
        _ => format!("{word}#{}", earlier + 1),
    }
}

/// Counts the derivations that a thread made: how tests see that nobody made any.
#[cfg(test)]
pub(crate) mod counted {
    use std::cell::Cell;

    thread_local!(static MADE: Cell<usize> = const { Cell::new(0) });

    pub(crate) fn one_more() {
        MADE.set(MADE.get() + 1);
    }

    /// How many were made since the last call.
    pub(crate) fn take() -> usize {
        MADE.replace(0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Amount;

    fn told(recorder: &mut impl Recorder, count: &mut usize) {
        recorder.note(|| {
            *count += 1;
            Derivation::of("a.b", "a figure", Amount::plain(1.0))
        });
    }

    #[test]
    fn the_silent_recorder_calls_nobody() {
        let mut count = 0;
        told(&mut Silent, &mut count);
        assert_eq!(count, 0);
        assert_eq!(size_of::<Silent>(), 0);
        let mut notes = Notes::default();
        told(&mut notes, &mut count);
        assert_eq!((count, notes.all().count()), (1, 1));
        assert!(notes.get("a.b").is_some() && notes.get("a").is_none());
    }

    /// A page lists thousands of them.
    #[test]
    fn of_heads_no_more_is_kept_than_what_figures_come_to() {
        let mut notes = Notes::heads();
        told(&mut notes, &mut 0);
        told(&mut notes, &mut 0);
        assert!(notes.get("a.b").is_none() && !notes.are_whole());
        let heads = notes.into_heads();
        assert_eq!(&*heads["a.b"].title, "a figure");
        assert_eq!(heads.len(), 1);
        assert!(size_of::<Head>() * 3 <= size_of::<Derivation>());
        let mut whole = Notes::default();
        told(&mut whole, &mut 0);
        assert_eq!(whole.into_heads(), heads);
    }

    #[test]
    fn equal_names_are_numbered() {
        assert_eq!(nth_key("mill-6mm", 0), "mill-6mm");
        assert_eq!(nth_key("mill-6mm", 1), "mill-6mm#2");
    }
}
