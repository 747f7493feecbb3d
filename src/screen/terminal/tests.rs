//! What the environment says about colours, and keys as the terminal library gives them.

use super::*;

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
        Colours::True
    );
    assert_eq!(
        with(ColorWish::Auto, &[("TERM", "linux")]),
        Colours::Sixteen
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
