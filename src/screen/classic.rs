//! The sixteen named colours in the spelling that every terminal knows (ECMA-48, 8.3.117:
//! `31` for red). The terminal library spells them as places in the table of 256
//! (`38;5;1`), which old and simple terminals take for something else.
//!
//! The oldest know no colours, and no way to end one attribute alone: there each change begins
//! with the end of all of them.

use std::io::{self, Write};

/// Passes on what is written, frame by frame, with the named colours spelled anew.
pub(super) struct Classic<W> {
    to: W,
    frame: Vec<u8>,
    way: Way,
    worn: Worn,
}

/// How colours and attributes are spelled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    /// As they come, the sixteen by their names.
    Named,
    /// As a VT100 knows them: bold, underlined, blinking, reversed, and the end of all (DEC's
    /// manual of it, chapter 3; terminfo's entry `vt100`).
    Oldest,
}

/// The attributes in force on an old terminal: bold, underlined, reversed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Worn([bool; 3]);

impl Worn {
    /// The code of each.
    const CODES: [&'static str; 3] = ["1", "4", "7"];

    /// Takes one setting in; gives it back as an old terminal knows it.
    fn take(&mut self, parameters: &[u8]) -> Vec<u8> {
        let mut parts = parameters.split(|byte| *byte == b';');
        while let Some(part) = parts.next() {
            match part {
                b"" | b"0" => self.0 = [false; 3],
                b"1" => self.0[0] = true,
                // The end of bold and of faint.
                b"22" => self.0[0] = false,
                b"4" => self.0[1] = true,
                b"24" => self.0[1] = false,
                b"7" => self.0[2] = true,
                b"27" => self.0[2] = false,
                // A colour takes what follows it along.
                b"38" | b"48" | b"58" => match parts.next() {
                    Some(b"5") => drop(parts.next()),
                    Some(b"2") => drop(parts.nth(2)),
                    _ => {}
                },
                _ => {}
            }
        }
        let worn = self.0.iter().zip(Self::CODES);
        let worn = worn.filter(|(on, _)| **on).map(|(_, code)| code);
        let codes: Vec<&str> = std::iter::once("0").chain(worn).collect();
        codes.join(";").into_bytes()
    }
}

impl<W: Write> Classic<W> {
    /// In front of a writer; with room for so many bytes a frame.
    pub(super) fn new(to: W, room: usize, way: Way) -> Self {
        Self {
            to,
            frame: Vec::with_capacity(room),
            way,
            worn: Worn::default(),
        }
    }
}

impl<W: Write> Write for Classic<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.frame.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        let frame = spelled(&self.frame, |parameters| match self.way {
            Way::Named => colours(parameters),
            Way::Oldest => self.worn.take(parameters),
        });
        self.frame.clear();
        self.to.write_all(&frame)?;
        self.to.flush()
    }
}

/// The bytes with every setting of colours and attributes spelled anew.
fn spelled(bytes: &[u8], mut anew: impl FnMut(&[u8]) -> Vec<u8>) -> Vec<u8> {
    const START: &[u8] = b"\x1b[";
    let mut out = Vec::with_capacity(bytes.len());
    let mut rest = bytes;
    while let Some(start) = rest.windows(START.len()).position(|two| two == START) {
        let (before, sequence) = rest.split_at(start + START.len());
        let (before, _) = before.split_at(start);
        out.extend_from_slice(before);
        let is_parameter = |byte: &&u8| byte.is_ascii_digit() || **byte == b';';
        let length = sequence.iter().take_while(is_parameter).count();
        let (parameters, after) = sequence.split_at(length);
        let is_setting = after.first() == Some(&b'm');
        match is_setting.then(|| anew(parameters)) {
            // Nothing is left to be set: without parameters it would end all attributes.
            Some(anew) if anew.is_empty() && !parameters.is_empty() => {
                rest = after.get(1..).unwrap_or_default();
                continue;
            }
            Some(anew) => {
                out.extend_from_slice(START);
                out.extend(anew);
            }
            None => {
                out.extend_from_slice(START);
                out.extend_from_slice(parameters);
            }
        }
        rest = after;
    }
    out.extend_from_slice(rest);
    out
}

/// The parameters of one setting of colours and attributes.
fn colours(parameters: &[u8]) -> Vec<u8> {
    let mut parts: Vec<&[u8]> = parameters.split(|byte| *byte == b';').collect();
    let mut out: Vec<Vec<u8>> = Vec::new();
    while let Some(first) = parts.first().copied() {
        let named = match parts.as_slice() {
            [b"38", b"5", place, ..] => name(place, 30, 90),
            [b"48", b"5", place, ..] => name(place, 40, 100),
            _ => None,
        };
        let taken = match (first, parts.get(1).copied()) {
            (b"38" | b"48", Some(b"5")) => 3,
            (b"38" | b"48", Some(b"2")) => 5,
            _ => 1,
        };
        let taken = taken.min(parts.len());
        match named {
            // Nothing here has underlines in a colour, and old terminals know no end of it.
            _ if first == b"59" => {}
            Some(named) => out.push(named),
            None => out.extend(parts[..taken].iter().map(|part| part.to_vec())),
        }
        parts.drain(..taken);
    }
    out.join(&b';')
}

/// The short spelling of a place in the table, where it is one of the sixteen.
fn name(place: &[u8], dark: u8, light: u8) -> Option<Vec<u8>> {
    let place: u8 = std::str::from_utf8(place).ok()?.parse().ok()?;
    let code = match place {
        0..8 => dark + place,
        8..16 => light + place - 8,
        _ => return None,
    };
    Some(code.to_string().into_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(bytes: &str) -> String {
        String::from_utf8(spelled(bytes.as_bytes(), colours)).expect("text")
    }

    #[test]
    fn the_oldest_are_told_all_attributes_anew() {
        let mut worn = Worn::default();
        let mut take = |text: &str| {
            let anew = spelled(text.as_bytes(), |parameters| worn.take(parameters));
            String::from_utf8(anew).expect("text")
        };
        assert_eq!(take("\x1b[1m\x1b[7m"), "\x1b[0;1m\x1b[0;1;7m");
        assert_eq!(take("\x1b[27m"), "\x1b[0;1m");
        assert_eq!(
            take("\x1b[39m\x1b[38;5;7m\x1b[38;2;1;4;7m"),
            "\x1b[0;1m".repeat(3)
        );
        assert_eq!(take("\x1b[22;2m"), "\x1b[0m");
        assert_eq!(take("\x1b[4;5H"), "\x1b[4;5H");
    }

    #[test]
    fn the_sixteen_get_their_short_spelling() {
        assert_eq!(text("\x1b[38;5;1mred\x1b[0m"), "\x1b[31mred\x1b[0m");
        assert_eq!(text("\x1b[1;38;5;14;48;5;0m"), "\x1b[1;96;40m");
    }

    #[test]
    fn the_end_of_coloured_underlines_is_left_out() {
        assert_eq!(text("\x1b[39m\x1b[59ma"), "\x1b[39ma");
        assert_eq!(text("\x1b[1;59;4m"), "\x1b[1;4m");
    }

    #[test]
    fn all_else_passes_as_it_is() {
        for same in [
            "plain",
            "\x1b[38;5;160m",
            "\x1b[38;2;5;1;3m",
            "\x1b[5;38H",
            "\x1b[?1049h",
            "\x1b[",
            "\x1b[m",
            "\x1b[38;5m",
        ] {
            assert_eq!(text(same), same);
        }
    }
}
