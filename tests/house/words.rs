//! Nothing that the program says leaves a newcomer alone: every choice says what it is and what a
//! poor pick costs, every option what it is, and no word stands there that is neither everyday
//! English nor in the glossary.

use crate::common;
use crate::paper;
use std::collections::{BTreeMap, BTreeSet};

use gantrywright::assessment::explain;
use gantrywright::build::choices::{self, Choice, Kind};
use gantrywright::build::{Build, Value};
use gantrywright::catalogue::glossary::{Entry, find, in_text, tokens};
use gantrywright::catalogue::{Catalogue, PartKind};
use gantrywright::explore::{interview, question};
use gantrywright::money::Currency;
use gantrywright::rules;
use gantrywright::screen::keymap::{Place, TABLE};
use gantrywright::sheets::{SheetKind, sheet};
use gantrywright::words::Words as _;

/// Words that need no definition. Look twice before you add one: a word of the trade belongs into
/// the glossary.
const EVERYDAY: &str = include_str!("everyday_words.txt");

/// The sentences of a text; a point inside a number ends none.
fn sentences(text: &str) -> usize {
    let ends = text.match_indices(['.', '?', '!']);
    ends.filter(|(place, _)| {
        let rest = &text[place + 1..];
        rest.trim_start_matches(')').is_empty() || rest.starts_with(' ')
    })
    .count()
}

#[test]
fn every_choice_says_why_in_one_sentence_and_what_a_poor_pick_costs_in_two() {
    assert_eq!(sentences("About 0.5 mm (from memory). Two."), 2);
    for choice in choices::all() {
        let id = choice.id;
        assert_eq!(sentences(choice.why), 1, "{id}: {}", choice.why);
        assert!(
            (1..=2).contains(&sentences(choice.poor)),
            "{id}: {}",
            choice.poor
        );
        for text in [choice.why, choice.poor] {
            assert!(text.ends_with('.') && text.trim() == text, "{id}: {text}");
            let first = text.chars().next().expect("a letter");
            assert!(first.is_uppercase(), "{id}: {text}");
            // What is read in one go: six lines of the narrowest page.
            assert!(text.chars().count() <= 260, "{id}: {text}");
        }
    }
}

#[test]
fn every_option_says_what_it_is() {
    let catalogue = common::catalogue();
    let mut silent = Vec::new();
    for choice in choices::all() {
        for value in choice.options(&catalogue) {
            // Yes and no, and nothing at all, are what the choice itself says.
            let says = match &value {
                Value::Flag(_) | Value::Part(None) => true,
                value => choice
                    .plain(value, &catalogue)
                    .is_some_and(|plain| plain.ends_with('.')),
            };
            if !says {
                silent.push(format!("{}={value}", choice.id));
            }
        }
        if let Kind::Parts(kind) = choice.kind {
            let parts = catalogue.of_kind(kind);
            let mute = parts.iter().filter(|part| part.note().is_none());
            silent.extend(mute.map(|part| format!("{}={}", choice.id, part.id())));
        }
    }
    assert!(silent.is_empty(), "{silent:#?}");
}

#[test]
fn the_glossary_is_large_and_leads_on() {
    let glossary = common::catalogue().glossary;
    assert!(glossary.len() >= 150, "{}", glossary.len());
    for entry in &glossary {
        let id = &entry.id;
        assert!(
            (1..=2).contains(&sentences(&entry.means)),
            "{id}: {}",
            entry.means
        );
        assert!(entry.means.ends_with('.'), "{id}");
        // Whatever spelling somebody types leads to the word itself.
        for spelling in entry.spellings() {
            let found = find(&glossary, spelling).map(|found| &found.id);
            assert_eq!(found, Some(id), "{spelling}");
        }
        assert!(!entry.see.contains(id), "{id} leads to itself");
    }
}

/// The glossary says of each severity what the program says of it.
#[test]
fn the_word_warning_says_what_each_severity_means() {
    let glossary = common::catalogue().glossary;
    let means = find(&glossary, "warning").expect("a word").means;
    for severity in rules::Severity::ALL {
        let word = severity.word();
        let says = word.plain.trim_end_matches('.').to_lowercase();
        let says = format!("{}: {says}", word.title);
        assert!(means.to_lowercase().contains(&says), "{says}");
    }
}

/// What is called so in the catalogue's own files: kinds of part must be words that one can look
/// up.
#[test]
fn every_kind_of_part_can_be_looked_up() {
    let glossary = common::catalogue().glossary;
    let plain = [
        "small part",
        "stand",
        "supplier",
        "destination",
        "material to cut",
    ];
    for kind in PartKind::ALL {
        let title = kind.title();
        let known = plain.contains(&title) || !in_text(&glossary, title).is_empty();
        assert!(known, "{title}");
    }
}

/// Every single word of the glossary's spellings, and its plurals.
fn defined(glossary: &[Entry]) -> BTreeSet<String> {
    let each = glossary.iter().flat_map(Entry::spellings).flat_map(tokens);
    each.flat_map(|token| {
        let token = token.to_lowercase();
        ["", "s", "es"].map(|ending| format!("{token}{ending}"))
    })
    .collect()
}

/// The words of a text that are neither everyday nor defined.
fn unknown(text: &str, known: &BTreeSet<String>) -> Vec<String> {
    let words = tokens(text).into_iter().flat_map(|token| token.split('/'));
    let words = words.filter(|word| !word.chars().any(|c| c.is_ascii_digit()));
    words
        .map(str::to_lowercase)
        .filter(|word| word.chars().count() > 1 && !known.contains(word))
        // Of words joined by hyphens each may be known by itself.
        .filter(|word| !word.contains('-') || word.split('-').any(|part| !known.contains(part)))
        .collect()
}

#[test]
fn no_choice_and_no_definition_uses_a_word_that_is_not_explained() {
    let glossary = common::catalogue().glossary;
    let everyday = EVERYDAY.split_whitespace().map(str::to_owned);
    let known: BTreeSet<String> = defined(&glossary).into_iter().chain(everyday).collect();
    let mut found: BTreeMap<String, String> = BTreeMap::new();
    let mut look = |text: &str, place: &str| {
        for word in unknown(text, &known) {
            found.entry(word).or_insert_with(|| place.to_owned());
        }
    };
    for entry in &glossary {
        look(&entry.means, entry.id.as_str());
    }
    for choice in choices::all() {
        for text in [choice.title, choice.why, choice.poor] {
            look(text, choice.id);
        }
    }
    // Where a figure is read, data sheets are quoted as they are.
    for field in &common::catalogue().field_texts {
        look(&field.label, &field.key);
        look(&field.means, &field.key);
    }
    assert!(
        found.is_empty(),
        "define it in configs/words.toml, or say it in plain words: {found:#?}"
    );
}

/// What the glossary defines is no everyday word.
#[test]
fn the_list_of_everyday_words_has_none_of_the_trade() {
    let glossary = common::catalogue().glossary;
    let words: Vec<&str> = EVERYDAY.split_whitespace().collect();
    let sorted = words.windows(2).all(|pair| pair[0] < pair[1]);
    assert!(sorted, "not in the order of the alphabet, or one twice");
    let trade = words.iter().filter(|word| find(&glossary, word).is_some());
    assert_eq!(trade.collect::<Vec<_>>(), Vec::<&&str>::new());
}

/// The abbreviations of a text: words with two capital letters or more in a row.
fn abbreviations(text: &str) -> Vec<&str> {
    let is = |token: &&str| {
        let capitals = token.as_bytes().windows(2);
        let mut pairs = capitals.filter(|pair| pair.iter().all(u8::is_ascii_uppercase));
        pairs.next().is_some()
    };
    tokens(text).into_iter().filter(is).collect()
}

/// Everything that tables of the program call or say: choices and options, rules, places and
/// keys, kinds of part, headings of sheets, titles of figures.
fn said(catalogue: &Catalogue) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = Vec::new();
    let mut say = |place: &str, text: &str| all.push((place.to_owned(), text.to_owned()));
    let options = |choice: &Choice| {
        let values = choice.options(catalogue).into_iter();
        let each = values.map(|value| {
            let plain = choice.plain(&value, catalogue).unwrap_or_default();
            format!("{}: {plain}", choice.show(&value, catalogue))
        });
        each.collect::<Vec<_>>()
    };
    for choice in choices::all() {
        say(choice.id, choice.title);
        say(choice.id, &choice.about());
        options(choice).iter().for_each(|text| say(choice.id, text));
    }
    for rule in rules::all() {
        for text in [rule.title, rule.because, rule.instead, rule.watches] {
            say(rule.id, text);
        }
    }
    for place in Place::ALL {
        say(place.id(), place.title());
        say(place.id(), place.word().plain);
    }
    TABLE.iter().for_each(|binding| say("keys", binding.long));
    PartKind::ALL
        .iter()
        .for_each(|kind| say("kinds", kind.title()));
    for task in &catalogue.tasks {
        for text in [&task.title, &task.how, &task.expect, &task.why] {
            say(task.id.as_str(), text);
        }
    }
    catalogue
        .quantities
        .iter()
        .for_each(|rule| say(rule.part.as_str(), &rule.why));
    for question in question::all() {
        say(question.id, question.title);
        say(question.id, question.why);
    }
    for field in &catalogue.field_texts {
        for text in [&field.label, &field.means, &field.find] {
            say(&field.key, text);
        }
    }
    for prompt in interview::all() {
        say(prompt.id, prompt.title);
        say(prompt.id, prompt.why);
    }
    let build = Build::default();
    paper::with_build(catalogue, &build, |paper, _| {
        for &kind in SheetKind::ALL {
            let sheet = sheet(kind, paper);
            say(kind.id(), &sheet.about);
            for table in &sheet.tables {
                say(kind.id(), &table.title);
                table
                    .columns
                    .iter()
                    .for_each(|column| say(kind.id(), column.title));
            }
        }
    });
    let (_, notes) = explain(catalogue, &build, common::today()).expect("a build");
    notes.all().for_each(|note| say(&note.path, &note.title));
    all
}

#[test]
fn every_abbreviation_is_a_word_of_the_glossary() {
    let catalogue = common::catalogue();
    assert_eq!(
        abbreviations("a VFD, V-bit, NEMA 23, S-ramp"),
        ["VFD", "NEMA"]
    );
    // An entry with some words before it, such as EN AW-5083, explains each of them.
    let spellings = catalogue.glossary.iter().flat_map(Entry::spellings);
    let spelled: Vec<Vec<&str>> = spellings.map(tokens).collect();
    let mut foreign: BTreeMap<String, String> = BTreeMap::new();
    for (place, text) in said(&catalogue) {
        for word in abbreviations(&text) {
            let known = spelled.iter().any(|spelling| spelling.contains(&word));
            // A currency is written as banks write it.
            if !known && word.parse::<Currency>().is_err() {
                foreign
                    .entry(word.to_owned())
                    .or_insert(format!("{place}: {text}"));
            }
        }
    }
    assert!(foreign.is_empty(), "{foreign:#?}");
}
