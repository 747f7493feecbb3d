//! From the events of the terminal library to the messages of the screen.

use crossterm::event::{
    Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, MouseButton, MouseEvent, MouseEventKind,
};

use crate::screen::key::Key;
use crate::screen::mouse::{Gesture, Mouse};
use crate::screen::update::Message;

/// What the terminal library heard, as the screen knows it; none where that means nothing.
pub(super) fn message(event: Event) -> Option<Message> {
    match event {
        // Some systems report a key twice: once more when it is released.
        Event::Key(pressed) if pressed.kind != KeyEventKind::Release => {
            key(pressed).map(Message::Key)
        }
        Event::Paste(text) => Some(Message::Paste(text)),
        Event::Mouse(event) => mouse(event).map(Message::Mouse),
        _ => None,
    }
}

fn mouse(event: MouseEvent) -> Option<Mouse> {
    let gesture = match event.kind {
        MouseEventKind::ScrollUp => Gesture::WheelUp,
        MouseEventKind::ScrollDown => Gesture::WheelDown,
        MouseEventKind::Down(MouseButton::Left) => Gesture::Click,
        _ => return None,
    };
    Some(Mouse {
        gesture,
        column: event.column,
        row: event.row,
    })
}

/// A key as the screen knows it; none with Alt, and none for keys that it does not know.
pub(super) fn key(event: KeyEvent) -> Option<Key> {
    let control = event.modifiers.contains(KeyModifiers::CONTROL);
    if event.modifiers.contains(KeyModifiers::ALT) {
        return None;
    }
    Some(match event.code {
        KeyCode::Char(c) if control => Key::Ctrl(c.to_ascii_lowercase()),
        KeyCode::Char(c) => Key::Char(c),
        KeyCode::Up => Key::Up,
        KeyCode::Down => Key::Down,
        KeyCode::Left => Key::Left,
        KeyCode::Right => Key::Right,
        KeyCode::Home => Key::Home,
        KeyCode::End => Key::End,
        KeyCode::PageUp => Key::PageUp,
        KeyCode::PageDown => Key::PageDown,
        KeyCode::Enter => Key::Enter,
        KeyCode::Esc => Key::Esc,
        KeyCode::Tab if event.modifiers.contains(KeyModifiers::SHIFT) => Key::BackTab,
        KeyCode::Tab => Key::Tab,
        KeyCode::BackTab => Key::BackTab,
        KeyCode::Backspace => Key::Backspace,
        KeyCode::Delete => Key::Delete,
        KeyCode::F(number) => Key::F(number),
        _ => return None,
    })
}
