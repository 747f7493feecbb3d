//! The sixteen named colours in the spelling that every terminal knows (ECMA-48, 8.3.117:
//! `31` for red). The terminal library spells them as places in the table of 256
//! (`38;5;1`), which old and simple terminals take for something else.

use std::io::{self, Write};

/// Passes on what is written, frame by frame, with the named colours spelled anew.
pub(super) struct Classic<W> {
    to: W,
    frame: Vec<u8>,
}

impl<W: Write> Classic<W> {
    /// In front of a writer; with room for so many bytes a frame.
    pub(super) fn new(to: W, room: usize) -> Self {
        Self {
            to,
            frame: Vec::with_capacity(room),
        }
    }
}

impl<W: Write> Write for Classic<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.frame.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        let frame = spelled(&self.frame);
        self.frame.clear();
        self.to.write_all(&frame)?;
        self.to.flush()
    }
}

/// The bytes with every named colour in its short spelling.
fn spelled(bytes: &[u8]) -> Vec<u8> {
    const START: &[u8] = b"\x1b[";
    let mut out = Vec::with_capacity(bytes.len());
    let mut rest = bytes;
    while let Some(start) = rest.windows(START.len()).position(|two| two == START) {
        let (before, sequence) = rest.split_at(start + START.len());
        out.extend_from_slice(before);
        let is_parameter = |byte: &&u8| byte.is_ascii_digit() || **byte == b';';
        let length = sequence.iter().take_while(is_parameter).count();
        let (parameters, after) = sequence.split_at(length);
        if after.first() == Some(&b'm') {
            out.extend(colours(parameters));
        } else {
            out.extend_from_slice(parameters);
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
        String::from_utf8(spelled(bytes.as_bytes())).expect("text")
    }

    #[test]
    fn the_sixteen_get_their_short_spelling() {
        assert_eq!(text("\x1b[38;5;1mred\x1b[0m"), "\x1b[31mred\x1b[0m");
        assert_eq!(text("\x1b[1;38;5;14;48;5;0m"), "\x1b[1;96;40m");
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
            "\x1b[38;5m",
        ] {
            assert_eq!(text(same), same);
        }
    }
}
