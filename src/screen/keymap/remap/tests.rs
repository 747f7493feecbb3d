use super::*;
use crate::screen::keymap::{Place, TEXT};
use crate::store::settings::read;

fn keymap(section: &str) -> (Keymap, Vec<String>) {
    let text = format!("[keys]\n{section}");
    let settings = read(&text, "s.toml").expect("settings");
    let (keymap, errors) = Keymap::with(&settings.keys, "s.toml");
    (keymap, errors.iter().map(ToString::to_string).collect())
}

/// The one complaint about a section, after which everything is as usual.
fn refused(section: &str) -> String {
    let (keymap, errors) = keymap(section);
    assert_eq!(keymap.rows(), TABLE, "{section}");
    assert_eq!(errors.len(), 1, "{errors:?}");
    errors.concat()
}

const W: Key = Key::Char('W');

#[test]
fn a_key_of_ones_own_goes_in_place_of_the_usual_one() {
    let (keymap, errors) = keymap("warnings = \"W\"\n");
    assert_eq!(errors, [""; 0]);
    for place in [Place::Choices, Place::Pane, Place::Bill] {
        assert_eq!(keymap.action(place, W), Some(Action::Warnings));
        assert_eq!(keymap.action(place, Key::Char('w')), None);
        assert_eq!(keymap.key_of(place, Action::Warnings), Some(W));
    }
}

#[test]
fn a_line_for_one_place_changes_that_one() {
    let (keymap, errors) = keymap("[keys.bill]\nwarnings = [\"W\", \"F9\"]\n");
    assert_eq!(errors, [""; 0]);
    assert_eq!(
        keymap.action(Place::Bill, Key::F(9)),
        Some(Action::Warnings)
    );
    assert_eq!(keymap.action(Place::Bill, Key::Char('w')), None);
    let usual = keymap.action(Place::Choices, Key::Char('w'));
    assert_eq!(usual, Some(Action::Warnings));
}

#[test]
fn two_keys_can_be_swapped() {
    let (keymap, errors) = keymap("undo = \"r\"\nredo = \"u\"\n");
    assert_eq!(errors, [""; 0]);
    let action = |key| keymap.action(Place::Choices, Key::Char(key));
    assert_eq!(action('r'), Some(Action::Undo));
    assert_eq!(action('u'), Some(Action::Redo));
}

#[test]
fn where_text_is_typed_letters_stay_letters_and_esc_goes_back() {
    let (keymap, errors) = keymap("back = \"x\"\n");
    // In some places x is taken: the line gives way as a whole.
    assert_eq!(errors.len(), 1, "{errors:?}");
    assert_eq!(keymap.rows(), TABLE);
    let (keymap, errors) = self::keymap("back = \"Z\"\n");
    assert_eq!(errors, [""; 0]);
    assert_eq!(
        keymap.action(Place::Bill, Key::Char('Z')),
        Some(Action::Back)
    );
    for &place in TEXT {
        assert_eq!(keymap.action(place, Key::Char('Z')), None);
        assert_eq!(keymap.action(place, Key::Esc), Some(Action::Back));
    }
    let wrong = refused("[keys.note]\nenter = \"x\"\n");
    assert!(
        wrong.starts_with("s.toml:3:9: enter: \"x\" is text where text is typed"),
        "{wrong}"
    );
}

#[test]
fn a_clash_names_both_sides_and_the_usual_stays() {
    let wrong = refused("warnings = \"b\"\n");
    assert_eq!(
        wrong,
        "s.toml:2:1: warnings: \"b\" asks for bill in \"choices\" already, as usual; warnings keeps its usual key"
    );
    let (keymap, errors) = keymap("warnings = \"W\"\nbill = \"W\"\n");
    assert_eq!(errors.len(), 1);
    assert!(
        errors[0].contains("3:1: bill: \"W\" asks for warnings in \"choices\" already, by line 2"),
        "{errors:?}"
    );
    assert_eq!(keymap.action(Place::Choices, W), Some(Action::Warnings));
    assert_eq!(
        keymap.action(Place::Choices, Key::Char('b')),
        Some(Action::Bill)
    );
}

#[test]
fn what_cannot_be_a_key_is_told() {
    for (section, told) in [
        (
            "warnings = \"ctrl-s\"\n",
            "2:12: \"ctrl-s\" cannot be used: flow control stops",
        ),
        ("warnings = \"ctrl-q\"\n", "flow control goes on with it"),
        ("warnings = \"ctrl-i\"\n", "terminals send it for tab"),
        ("warnings = \"ctrl-c\"\n", "it stays what it is"),
        ("warnings = \"ww\"\n", "\"ww\" is no key"),
        (
            "warning = \"W\"\n",
            "2:1: there is no action \"warning\"; did you mean \"warnings\"?",
        ),
        ("suspend = \"W\"\n", "they stay"),
        (
            "[keys.bil]\nsort = \"W\"\n",
            "there is no place \"bil\"; did you mean \"bill\"?",
        ),
        (
            "[keys.choices]\nsort = \"W\"\n",
            "there is no such key to change in \"choices\"",
        ),
    ] {
        let wrong = refused(section);
        assert!(wrong.contains(told), "{wrong}");
    }
}

#[test]
fn whatever_is_asked_no_place_loses_its_end_or_its_help() {
    let (keymap, _) = keymap("quit = \"Q\"\nhelp = \"H\"\nback = \"Z\"\nenter = \"F2\"\n");
    for &place in ALL {
        let has = |action| keymap.here(place).any(|row| row.action == action);
        assert_eq!(keymap.action(place, Key::Ctrl('c')), Some(Action::Quit));
        assert!(has(Action::Help) || place == Place::Help);
        assert!(has(Action::Back) || place == Place::Choices);
    }
}
