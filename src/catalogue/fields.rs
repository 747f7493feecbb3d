//! The fields of each kind of part, read off its type: which keys there are, what each takes,
//! from where to where and in which unit. A form is made from them, so a field that is added to a
//! type is in the form by itself; only its words stand in a file of data ([`FieldText`]).

use serde::Deserialize;

use super::{Catalogue, PartKind, Text};

mod lists;
mod probe;

pub use lists::words_of;
pub(super) use probe::fields_of;

/// What a field takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A number.
    Number(Range),
    /// A whole number.
    Whole(Range),
    /// A number that is kept exactly, as a text in quotes.
    Exact,
    /// Yes or no.
    Flag,
    /// Any text.
    Text,
    /// The id of another part.
    Id,
    /// One word of a closed list, by the ids of its words.
    Word(&'static [&'static str]),
    /// Several words of a closed list.
    Words(&'static [&'static str]),
    /// Several numbers.
    Numbers(Range),
    /// What no field can hold.
    Other,
}

/// From where to where a number may lie, as its reader tells it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Range {
    /// In words, with the unit: `0.001 to 10000 mm`; empty where the reader tells none.
    pub told: String,
    /// The unit; empty for a plain number.
    pub unit: String,
}

/// One field of a kind of part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    /// Its key in files.
    pub key: &'static str,
    /// What it takes.
    pub takes: Takes,
}

/// What is said to people about a field.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FieldText {
    /// Its key.
    pub key: Text,
    /// The kinds of part that it is said of; empty for every kind with such a key.
    #[serde(default)]
    pub kinds: Vec<Text>,
    /// Its name in a form.
    pub label: Text,
    /// What it is, in plain sentences.
    pub means: Text,
    /// Where it is read or how it is measured; empty where that goes without saying.
    #[serde(default)]
    pub find: Text,
}

impl Catalogue {
    /// What is said about a field of a kind: what is said of this kind alone comes first.
    pub fn field_text(&self, kind: PartKind, key: &str) -> Option<&FieldText> {
        let here = |text: &&FieldText| text.kinds.iter().any(|name| name == kind.key());
        let all = || self.field_texts.iter().filter(|text| text.key == key);
        all()
            .find(here)
            .or_else(|| all().find(|text| text.kinds.is_empty()))
    }

    /// Adds what a file says about fields; the later word about the same one counts.
    pub(super) fn absorb_field_texts(&mut self, texts: Vec<FieldText>) {
        for text in texts {
            let same = |old: &FieldText| old.key == text.key && old.kinds == text.kinds;
            self.field_texts.retain(|old| !same(old));
            self.field_texts.push(text);
        }
    }
}

impl PartKind {
    /// Whether a part of one's own of this kind can be written in a form: parts that are bought,
    /// all of whose fields are plain, as a test below holds. Every frame asks this, and to ask the
    /// types for their fields takes a fifth of the time of a key.
    pub fn has_form(self) -> bool {
        self.is_bought()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn takes(kind: PartKind, key: &str) -> Takes {
        let fields = kind.fields();
        let found = fields.into_iter().find(|field| field.key == key);
        found.unwrap_or_else(|| panic!("no {key}")).takes
    }

    fn range(told: &str, unit: &str) -> Range {
        Range {
            told: told.to_owned(),
            unit: unit.to_owned(),
        }
    }

    #[test]
    fn fields_are_read_off_the_types() {
        use PartKind::{BallScrew, Carriage, Coupling, Driver, Stepper, Sundry};
        let shaft = Takes::Number(range("0.001 to 10000 mm", "mm"));
        assert_eq!(takes(Stepper, "shaft_mm"), shaft);
        assert_eq!(takes(Stepper, "closed_loop"), Takes::Flag);
        assert_eq!(takes(Stepper, "title"), Takes::Text);
        assert_eq!(takes(Stepper, "short"), Takes::Text);
        assert!(matches!(takes(Stepper, "flange"), Takes::Word(ids) if ids.contains(&"nema-23")));
        let play = Takes::Number(range("0 to 100000 µm", "µm"));
        assert_eq!(takes(BallScrew, "play_um"), play);
        assert_eq!(takes(Carriage, "rail"), Takes::Id);
        assert!(matches!(takes(Driver, "drives"), Takes::Words(ids) if ids.contains(&"servo")));
        let steps = Takes::Whole(range("a whole number from 1 to 1024", ""));
        assert_eq!(takes(Driver, "finest_microsteps"), steps);
        let bores = Takes::Numbers(range("0.001 to 10000 mm", "mm"));
        assert_eq!(takes(Coupling, "bores_mm"), bores);
        assert_eq!(takes(Sundry, "pack"), Takes::Exact);
    }

    #[test]
    fn every_kind_that_is_bought_has_a_form() {
        for &kind in PartKind::ALL.iter().filter(|kind| kind.is_bought()) {
            let odd = kind.fields().into_iter();
            let odd: Vec<Field> = odd.filter(|one| one.takes == Takes::Other).collect();
            assert!(kind.has_form() && odd.is_empty(), "{kind:?}: {odd:?}");
        }
    }

    #[test]
    fn every_word_of_every_list_has_its_title() {
        for kind in PartKind::ALL.iter().filter(|kind| kind.has_form()) {
            for field in kind.fields() {
                if let Takes::Word(ids) | Takes::Words(ids) = field.takes {
                    let words = words_of(ids);
                    assert_eq!(words.map(<[_]>::len), Some(ids.len()), "{}", field.key);
                }
            }
        }
    }
}
