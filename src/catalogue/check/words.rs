//! Words of the glossary: each defined in words, each spelling claimed by one of them, no
//! pointer to a word that is not there.

use std::collections::HashMap;

use super::{Flaws, Record};
use crate::catalogue::{Catalogue, Id};

/// The most characters of a definition: what still fits a small screen.
const LONGEST: usize = 320;

pub(super) fn words(catalogue: &Catalogue, found: &mut Flaws) {
    let mut seen: HashMap<String, &Id> = HashMap::new();
    for entry in &catalogue.glossary {
        let mut flaw = |message: String| found.add(Record::Word(entry.id), message);
        let means = entry.means.trim();
        if means.is_empty() || means.chars().count() > LONGEST {
            flaw(format!("means takes 1 to {LONGEST} characters"));
        }
        if entry
            .standard
            .as_ref()
            .is_some_and(|one| one.trim().is_empty())
        {
            flaw("standard is empty; leave it out where there is none".to_owned());
        }
        for spelling in entry.spellings() {
            let spelling = spelling.trim().to_lowercase();
            if spelling.is_empty() {
                flaw("word and also take at least one letter".to_owned());
                continue;
            }
            if let Some(other) = seen.insert(spelling.clone(), &entry.id) {
                flaw(format!("{spelling:?} is a spelling of {other} already"));
            }
        }
        for id in &entry.see {
            if !catalogue.glossary.iter().any(|other| other.id == *id) {
                flaw(format!("see names {id}, which is no word of the glossary"));
            }
        }
    }
}
