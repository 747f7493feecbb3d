//! What the environment says about colours, and keys as the terminal library gives them.

use crossterm::event::{
    Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, MouseButton, MouseEvent, MouseEventKind,
};

use super::heard::{key, message};
use super::ink::Way;
use super::kind::{Kind, colours};
use crate::screen::ColorWish;
use crate::screen::key::Key;
use crate::screen::mouse::{Gesture, Mouse};
use crate::screen::theme::Colours;
use crate::screen::update::Message;

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

#[test]
fn a_released_key_and_alt_are_nothing() {
    let press = KeyEvent::new(KeyCode::Char('u'), KeyModifiers::NONE);
    assert_eq!(
        message(Event::Key(press)),
        Some(Message::Key(Key::Char('u')))
    );
    let released = KeyEvent {
        kind: KeyEventKind::Release,
        ..press
    };
    assert_eq!(message(Event::Key(released)), None);
    assert_eq!(
        key(KeyEvent::new(KeyCode::Char('u'), KeyModifiers::ALT)),
        None
    );
    assert_eq!(
        key(KeyEvent::new(KeyCode::Char('C'), KeyModifiers::CONTROL)),
        Some(Key::Ctrl('c'))
    );
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
    for (term, modern, way) in [
        ("vt100", false, Way::Oldest),
        ("vt220", false, Way::Named),
        ("linux", false, Way::Named),
        ("xterm", true, Way::Named),
        ("screen", true, Way::Named),
        ("tmux-256color", true, Way::Named),
    ] {
        assert_eq!(kind(term), Kind { modern, way }, "{term}");
    }
}

#[test]
fn of_the_mouse_the_wheel_and_the_left_button_are_heard() {
    let heard = |kind| {
        message(Event::Mouse(MouseEvent {
            kind,
            column: 7,
            row: 3,
            modifiers: KeyModifiers::NONE,
        }))
    };
    let told = |gesture| {
        Some(Message::Mouse(Mouse {
            gesture,
            column: 7,
            row: 3,
        }))
    };
    assert_eq!(heard(MouseEventKind::ScrollUp), told(Gesture::WheelUp));
    assert_eq!(heard(MouseEventKind::ScrollDown), told(Gesture::WheelDown));
    let down = MouseEventKind::Down;
    assert_eq!(heard(down(MouseButton::Left)), told(Gesture::Click));
    assert_eq!(heard(down(MouseButton::Right)), None);
    assert_eq!(heard(MouseEventKind::Up(MouseButton::Left)), None);
    assert_eq!(heard(MouseEventKind::Moved), None);
}
