//! What the environment says about colours and terminals.

use super::ink::Dialect;
use super::kind::{Kind, colours};
use crate::screen::ColorWish;
use crate::screen::theme::Colours;

fn with(wish: ColorWish, set: &[(&str, &str)]) -> Colours {
    colours(wish, |name| {
        set.iter()
            .find(|(key, _)| *key == name)
            .map(|(_, value)| (*value).to_owned())
    })
}

#[test]
fn the_environment_decides_unless_a_wish_does() {
    let table = ("TERM", "xterm-256color");
    assert_eq!(with(ColorWish::Auto, &[table]), Colours::Table);
    assert_eq!(
        with(ColorWish::Auto, &[table, ("COLORTERM", "truecolor")]),
        Colours::Table
    );
    assert_eq!(with(ColorWish::Auto, &[("TERM", "dumb")]), Colours::None);
    assert_eq!(
        with(ColorWish::Auto, &[table, ("NO_COLOR", "1")]),
        Colours::None
    );
    assert_eq!(
        with(ColorWish::Always, &[table, ("NO_COLOR", "1")]),
        Colours::Table
    );
    assert_eq!(with(ColorWish::Never, &[table]), Colours::None);
}

#[test]
fn a_remote_line_gets_the_colours_that_every_terminal_has() {
    let remote = [
        ("TERM", "xterm-256color"),
        ("SSH_CONNECTION", "192.0.2.1 1 192.0.2.2 22"),
    ];
    assert_eq!(with(ColorWish::Auto, &remote), Colours::Sixteen);
    assert_eq!(with(ColorWish::Ansi256, &remote), Colours::Table);
}

/// How many colours the terminals have by terminfo's entries (`colors`), and what is sure where
/// COLORTERM says more.
#[test]
fn the_name_of_the_terminal_says_how_many_colours_there_are() {
    let true_colour = ("COLORTERM", "truecolor");
    for (term, alone, with_true) in [
        ("linux", Colours::Eight, Colours::Eight),
        ("xterm", Colours::Eight, Colours::Table),
        ("screen", Colours::Eight, Colours::Eight),
        ("tmux", Colours::Eight, Colours::Table),
        ("xterm-color", Colours::Eight, Colours::Table),
        ("xterm-16color", Colours::Sixteen, Colours::Table),
        ("xterm-256color", Colours::Table, Colours::Table),
        ("tmux-256color", Colours::Table, Colours::Table),
        ("screen-256color", Colours::Table, Colours::Table),
        ("xterm-direct", Colours::True, Colours::True),
        ("vt100", Colours::None, Colours::None),
        ("dumb", Colours::None, Colours::None),
        ("", Colours::None, Colours::None),
        ("something-new", Colours::Sixteen, Colours::Table),
    ] {
        assert_eq!(with(ColorWish::Auto, &[("TERM", term)]), alone, "{term}");
        let both = [("TERM", term), true_colour];
        assert_eq!(with(ColorWish::Auto, &both), with_true, "{term}");
    }
}

#[test]
fn old_terminals_have_no_second_screen_and_the_oldest_know_no_end_of_bold() {
    let kind = |term: &str| Kind::of(|name| (name == "TERM").then(|| term.to_owned()));
    for (term, modern, dialect) in [
        ("vt100", false, Dialect::Oldest),
        ("vt220", false, Dialect::Named),
        ("linux", false, Dialect::Named),
        ("xterm", true, Dialect::Named),
        ("screen", true, Dialect::Named),
        ("tmux-256color", true, Dialect::Named),
    ] {
        assert_eq!(kind(term), Kind { modern, dialect }, "{term}");
    }
}
