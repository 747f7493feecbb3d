//! From the bytes that a terminal sends to the messages of the screen (ECMA-48, and xterm's
//! control sequences for what that leaves open: modifiers, function keys, mouse, pasted text).
//! Pure: whoever reads the terminal hands in what it read.

use super::key::Key;
use super::mouse::{Gesture, Mouse};
use super::update::Message;

/// What begins sequences, and is a key where nothing follows it.
pub(super) const ESC: u8 = 0x1b;
/// What stands before pasted text, and behind it (xterm, mode 2004).
const PASTE: &[u8] = b"\x1b[200~";
const PASTED: &[u8] = b"\x1b[201~";
/// No control sequence has as many bytes before its end; more of them are none.
const LONGEST: usize = 64;

/// What came from a terminal: whole keys are told, the beginning of one is kept until its end
/// comes.
#[derive(Clone, Debug, Default)]
pub struct Heard {
    rest: Vec<u8>,
}

/// What the first bytes mean.
enum First {
    /// That more must come.
    Part,
    /// So many bytes are something, or nothing that the screen knows.
    Whole(usize, Option<Message>),
}

impl Heard {
    /// Takes in what was read, and says what it means. An escape at the end of it is the key: whoever
    /// reads waits a moment for what may belong to it.
    pub fn hear(&mut self, bytes: &[u8]) -> Vec<Message> {
        let known = self.rest.len();
        self.rest.extend_from_slice(bytes);
        // Long pasted text comes in many pieces: only the last one is looked through.
        let fresh = &self.rest[known.saturating_sub(PASTED.len())..];
        if known > PASTE.len() && self.rest.starts_with(PASTE) && find(fresh, PASTED).is_none() {
            return Vec::new();
        }
        let mut messages = Vec::new();
        let mut at = 0;
        while at < self.rest.len()
            && let First::Whole(length, message) = first(&self.rest[at..])
        {
            messages.extend(message);
            at += length;
        }
        self.rest.drain(..at);
        messages
    }
}

/// What the first of some bytes mean; of none there is no first.
fn first(bytes: &[u8]) -> First {
    match bytes {
        [ESC] | [ESC, ESC, ..] => whole(1, Key::Esc),
        [ESC, b'[', sequence @ ..] => control_sequence(bytes, sequence),
        [ESC, b'O'] => First::Part,
        [ESC, b'O', letter, ..] => First::Whole(3, by_letter(*letter).map(Message::Key)),
        // With Alt held: no key of ours.
        [ESC, with_alt @ ..] => match character(with_alt) {
            First::Whole(length, _) => First::Whole(1 + length, None),
            First::Part => First::Part,
        },
        _ => character(bytes),
    }
}

const fn whole(length: usize, key: Key) -> First {
    First::Whole(length, Some(Message::Key(key)))
}

/// A character, or a control character.
fn character(bytes: &[u8]) -> First {
    let beginning = &bytes[..bytes.len().min(4)];
    let text = match str::from_utf8(beginning) {
        Ok(text) => text,
        Err(error) => match (error.valid_up_to(), error.error_len()) {
            (0, None) => return First::Part,
            (0, Some(length)) => return First::Whole(length, None),
            (valid, _) => str::from_utf8(&beginning[..valid]).unwrap_or_default(),
        },
    };
    let Some(character) = text.chars().next() else {
        return First::Part;
    };
    First::Whole(
        character.len_utf8(),
        typed(character, false).map(Message::Key),
    )
}

/// The key that a character is, where any.
fn typed(character: char, control: bool) -> Option<Key> {
    Some(match character {
        '\r' => Key::Enter,
        '\t' => Key::Tab,
        '\u{8}' | '\u{7f}' => Key::Backspace,
        '\u{1b}' => Key::Esc,
        '\0' => Key::Ctrl(' '),
        '\u{1}'..='\u{1a}' => Key::Ctrl(char::from(character as u8 - 1 + b'a')),
        '\u{1c}'..='\u{1f}' => Key::Ctrl(char::from(character as u8 - 0x1c + b'4')),
        _ if character.is_control() => return None,
        _ if control => Key::Ctrl(character.to_ascii_lowercase()),
        _ => Key::Char(character),
    })
}

/// A sequence that begins with the escape and the bracket; `sequence` is what stands behind them.
fn control_sequence(bytes: &[u8], sequence: &[u8]) -> First {
    let lead = bytes.len() - sequence.len();
    match sequence {
        // The console of Linux: the first five function keys.
        [b'[', rest @ ..] => {
            return match rest {
                [] => First::Part,
                [letter @ b'A'..=b'E', ..] => whole(lead + 2, Key::F(letter - b'A' + 1)),
                _ => First::Whole(lead + 1, None),
            };
        }
        // The mouse as old terminals tell it: button, column and row, each in a byte from 32 on.
        [b'M', rest @ ..] => {
            return match rest {
                [button, column, row, ..] => {
                    let place = |at: &u8| u16::from(at.saturating_sub(32));
                    let told = mouse(place(button), place(column), place(row));
                    First::Whole(lead + 4, told)
                }
                _ => First::Part,
            };
        }
        _ => {}
    }
    let Some(end) = sequence
        .iter()
        .position(|byte| !(0x20..0x40).contains(byte))
    else {
        return match sequence.len() {
            ..LONGEST => First::Part,
            length => First::Whole(lead + length, None),
        };
    };
    if !(0x40..0x7f).contains(&sequence[end]) {
        // What broke it off may begin something else.
        return First::Whole(lead + end, None);
    }
    if bytes.starts_with(PASTE) {
        return match find(&bytes[PASTE.len()..], PASTED) {
            Some(length) => {
                let text = String::from_utf8_lossy(&bytes[PASTE.len()..][..length]).into_owned();
                let length = PASTE.len() + length + PASTED.len();
                First::Whole(length, Some(Message::Paste(text)))
            }
            None => First::Part,
        };
    }
    let numbers = str::from_utf8(&sequence[..end]).unwrap_or_default();
    First::Whole(lead + end + 1, meaning(numbers, sequence[end]))
}

/// What a control sequence with these numbers and this end means.
fn meaning(numbers: &str, end: u8) -> Option<Message> {
    if let Some(numbers) = numbers.strip_prefix('<') {
        let mut numbers = numbers.split(';').map(|number| number.parse().ok());
        let mut next = || numbers.next().flatten();
        let (button, column, row) = (next()?, next()?, next()?);
        return (end == b'M').then(|| mouse(button, column, row)).flatten();
    }
    let mut numbers = numbers.split(';');
    let code: Option<u32> = numbers.next().and_then(|code| code.parse().ok());
    let mut modifiers = numbers.next().unwrap_or_default().split(':');
    let mut next = || modifiers.next().and_then(|number| number.parse().ok());
    let (held, kind): (u8, Option<u8>) = (next().unwrap_or(1), next());
    let held = held.saturating_sub(1);
    let (shift, alt, control) = (held & 1 != 0, held & 2 != 0, held & 4 != 0);
    // Some report a key once more when it is released.
    if alt || kind == Some(3) {
        return None;
    }
    let key = match (end, code) {
        (b'~', Some(number)) => by_number(number),
        (b'u', Some(code)) => char::from_u32(code).and_then(|code| typed(code, control)),
        // Where the cursor is, which nobody asked: only as a key it has a 1 there, or nothing.
        (b'R', Some(row)) if row != 1 => None,
        _ => by_letter(end),
    }?;
    Some(Message::Key(match key {
        Key::Tab if shift => Key::BackTab,
        key => key,
    }))
}

/// Keys that a letter stands for.
const fn by_letter(letter: u8) -> Option<Key> {
    Some(match letter {
        b'A' => Key::Up,
        b'B' => Key::Down,
        b'C' => Key::Right,
        b'D' => Key::Left,
        b'H' => Key::Home,
        b'F' => Key::End,
        b'Z' => Key::BackTab,
        b'P'..=b'S' => Key::F(letter - b'P' + 1),
        _ => return None,
    })
}

/// Keys that a number stands for.
const fn by_number(number: u32) -> Option<Key> {
    Some(match number {
        1 | 7 => Key::Home,
        3 => Key::Delete,
        4 | 8 => Key::End,
        5 => Key::PageUp,
        6 => Key::PageDown,
        // Numbers that no key has stand between.
        11..=15 => Key::F((number - 10) as u8),
        17..=21 => Key::F((number - 11) as u8),
        23..=26 => Key::F((number - 12) as u8),
        28..=29 => Key::F((number - 15) as u8),
        31..=34 => Key::F((number - 17) as u8),
        _ => return None,
    })
}

/// What the mouse did; places count from 1. Modifiers make no difference, moves and other buttons
/// mean nothing.
fn mouse(button: u16, column: u16, row: u16) -> Option<Message> {
    let gesture = match button & !0b1_1100 {
        0 => Gesture::Click,
        64 => Gesture::WheelUp,
        65 => Gesture::WheelDown,
        _ => return None,
    };
    Some(Message::Mouse(Mouse {
        gesture,
        column: column.checked_sub(1)?,
        row: row.checked_sub(1)?,
    }))
}

fn find(bytes: &[u8], part: &[u8]) -> Option<usize> {
    bytes.windows(part.len()).position(|piece| piece == part)
}

#[cfg(test)]
mod tests;
