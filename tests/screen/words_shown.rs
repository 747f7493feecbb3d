//! The glossary where it is read: the command, the page of the screen, words of one's own.

use crate::bench::Bench;
use crate::screen::{SIZES, draw, go_to, open, page, press, rows, type_in};
use gantrywright::build::Build;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use predicates::prelude::*;
use serde_json::Value;
use unicode_width::UnicodeWidthStr as _;

fn words(bench: &Bench, args: &[&str]) -> String {
    let output = bench
        .program()
        .arg("words")
        .args(args)
        .output()
        .expect("a run");
    assert!(output.status.success(), "{args:?}: {output:?}");
    String::from_utf8(output.stdout).expect("text")
}

#[test]
fn the_command_lists_all_in_80_columns() {
    let text = words(&Bench::new(), &[]);
    assert!(text.lines().all(|line| line.width() <= 80), "{text}");
    let heads = text.lines().filter(|line| !line.starts_with(' '));
    let heads: Vec<String> = heads.map(str::to_lowercase).collect();
    assert!(heads.len() >= 150, "{}", heads.len());
    assert!(heads.iter().any(|head| head.starts_with("backlash ")));
}

#[test]
fn a_word_is_found_whole_near_or_by_what_it_means() {
    let bench = Bench::new();
    let whole = words(&bench, &["VFD"]);
    assert!(whole.starts_with("frequency inverter\n"), "{whole}");
    assert!(whole.contains("standard  IEC 61800-5-1"), "{whole}");
    assert_eq!(whole, words(&bench, &["frequency", "inverters"]));
    // Called so in part.
    assert!(words(&bench, &["breaker c"]).contains("breaker curve"));
    // Only spoken of.
    assert!(words(&bench, &["--find", "skipping rope"]).starts_with("whip\n"));
    assert!(words(&bench, &["skipping rope"]).starts_with("whip\n"));
    bench
        .program()
        .args(["words", "spindel"])
        .assert()
        .code(2)
        .stderr(predicate::str::contains("did you mean \"spindle\"?"));
}

#[test]
fn json_has_every_field_and_every_pointer_leads_on() {
    let bench = Bench::new();
    let all: Value = serde_json::from_str(&words(&bench, &["--json"])).expect("JSON");
    let all = all.as_array().expect("an array");
    let ids: Vec<&str> = all.iter().filter_map(|one| one["id"].as_str()).collect();
    assert_eq!(ids.len(), all.len());
    for one in all {
        assert!(one["word"].is_string() && one["means"].is_string() && one["also"].is_array());
        assert!(one["standard"].is_string() || one["standard"].is_null());
        for see in one["see"].as_array().expect("pointers") {
            assert!(ids.contains(&see.as_str().expect("an id")), "{one}");
        }
    }
    let screw = words(&bench, &["ball screw", "--json"]);
    let screw: Value = serde_json::from_str(&screw).expect("JSON");
    assert_eq!(screw[0]["standard"], "ISO 3408-1");
    assert_eq!(screw.as_array().map(Vec::len), Some(1));
}

#[test]
fn own_words_are_added_and_wrong_ones_are_refused_with_their_place() {
    let bench = Bench::new();
    let own = "[[word]]\nid = \"kerf\"\nword = \"kerf\"\nmeans = \"Our own words.\"\n\n[[word]]\nid = \"shed\"\nword = \"shed\"\nmeans = \"Where we meet.\"\nsee = [\"kerf\"]\n";
    bench.write("config/gantrywright/own.toml", own);
    assert!(words(&bench, &["kerf"]).contains("Our own words."));
    assert!(words(&bench, &["shed"]).contains("see       kerf"));
    for (text, message) in [
        (
            "[[word]]\nid = \"shed\"\nword = \"vfd\"\nmeans = \"x\"\n",
            "\"vfd\" is a spelling of inverter already",
        ),
        (
            "[[word]]\nid = \"shed\"\nword = \"shed\"\nmeans = \"x\"\nsee = [\"no-such\"]\n",
            "see names no-such",
        ),
        (
            "[[word]]\nid = \"shed\"\nword = \"shed\"\nmeans = \" \"\n",
            "means takes 1 to",
        ),
        (
            "[[word]]\nid = \"shed\"\nword = \"shed\"\nmeaning = \"x\"\n",
            "meaning",
        ),
    ] {
        bench.write("config/gantrywright/own.toml", text);
        let refused = bench.program().arg("words").assert().code(2);
        refused
            .stderr(predicate::str::contains("own.toml"))
            .stderr(predicate::str::contains(message));
    }
}

fn shown(state: &State) -> String {
    rows(&draw(state, Colours::None, Glyphs::Unicode)).join("\n")
}

#[test]
fn one_key_opens_the_words_of_what_is_under_the_cursor() {
    let mut state = open(Build::default(), 80, 24);
    go_to(&mut state, "drive_x");
    press(&mut state, &[Key::Char('d')]);
    assert_eq!(state.place(), Place::Glossary);
    let first: Vec<&str> = state
        .glossary
        .words()
        .take(8)
        .map(|place| state.catalogue.glossary[place].word.as_str())
        .collect();
    assert!(
        first.contains(&"ball screw") && first.contains(&"lead"),
        "{first:?}"
    );
    assert!(shown(&state).contains("In what was under the cursor"));
    // Back to exactly where it was opened.
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Options);
    assert_eq!(state.choice().map(|choice| choice.id), Some("drive_x"));
}

#[test]
fn words_lead_from_one_to_the_next_and_back() {
    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::Char('d'), Key::Char('/')]);
    assert_eq!(state.place(), Place::WordFind);
    type_in(&mut state, "whip");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Word);
    assert!(shown(&state).contains("skipping rope"), "{}", shown(&state));
    assert!(shown(&state).contains("> ball screw"), "{}", shown(&state));
    press(&mut state, &[Key::Enter]);
    assert!(shown(&state).contains("A threaded rod with a nut in which balls"));
    press(&mut state, &[Key::Esc]);
    assert!(shown(&state).contains("skipping rope"));
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Glossary);
    assert!(shown(&state).contains("found"), "{}", shown(&state));
    press(&mut state, &[Key::Char('/'), Key::Esc]);
    assert!(shown(&state).contains("in all"), "{}", shown(&state));
    press(&mut state, &[Key::Esc]);
    assert!(state.layers.is_empty());
}

#[test]
fn a_search_without_a_hit_says_so_and_enter_does_no_harm() {
    let mut state = open(Build::default(), 60, 18);
    press(&mut state, &[Key::Char('d'), Key::Char('/')]);
    type_in(&mut state, "xyzzy");
    assert!(shown(&state).contains("No word speaks of that."));
    press(&mut state, &[Key::Enter, Key::Down]);
    assert_eq!(state.place(), Place::WordFind);
}

#[test]
fn warnings_figures_and_derivations_have_words_of_their_own() {
    let first = |state: &State| {
        let place = state.glossary.current().expect("a word");
        state.catalogue.glossary[place].id.to_string()
    };
    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::Char('w'), Key::Enter, Key::Char('d')]);
    assert!(shown(&state).contains("In what was under the cursor"));
    let mut state = open(Build::default(), 80, 24);
    // The side pane: the rapids of X, whatever holds them.
    press(&mut state, &[Key::BackTab, Key::Down, Key::Char('d')]);
    assert_eq!(first(&state), "rapids");
    press(&mut state, &[Key::Esc, Key::Char('e'), Key::Char('d')]);
    assert!(shown(&state).contains("In what was under the cursor"));
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Derivation);
}

/// What a definition says is read whole: each word, at each promised size, nothing cut.
#[test]
fn every_definition_can_be_read_whole_at_every_size() {
    let letters = |text: &str| -> String { text.split_whitespace().collect() };
    for (width, height) in SIZES {
        let mut state = open(Build::default(), width, height);
        press(&mut state, &[Key::Char('d')]);
        for place in 0..state.catalogue.glossary.len() {
            state.layers.truncate(1);
            state
                .layers
                .push(gantrywright::screen::state::Layer::Word(place, 0));
            let page = page(&state, Glyphs::Unicode);
            let entry = &state.catalogue.glossary[place];
            let text = letters(&page.join(" "));
            assert!(
                text.contains(&letters(&entry.means)),
                "{width}x{height}: {page:#?}"
            );
            assert!(!text.contains('…'), "{width}x{height}: {page:#?}");
        }
    }
}

#[test]
fn the_list_of_choices_says_why_and_what_a_poor_pick_costs() {
    let bench = Bench::new();
    let output = |args: &[&str]| {
        let output = bench.program().arg("choices").args(args).output();
        String::from_utf8(output.expect("a run").stdout).expect("text")
    };
    let all: Value = serde_json::from_str(&output(&["--json"])).expect("JSON");
    for one in all.as_array().expect("an array") {
        for key in ["why", "poor"] {
            let text = one[key].as_str().unwrap_or_default();
            assert!(text.ends_with('.'), "{key} of {one}");
        }
    }
    let text = output(&["emergency_stop"]);
    assert!(text.contains("The red button") && text.contains("does not hear it"));
}
