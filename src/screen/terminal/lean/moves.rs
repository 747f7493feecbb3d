//! How the cursor's moves are spelled, the shortest way (ECMA-48: 8.3.21 CUP, 8.3.18 to 8.3.22 the
//! moves by counts; the numbers are from memory).

use ratatui::layout::Position;

/// As many bytes as the way to a place takes, at least, wherever the cursor is.
const LEAST_MOVE: usize = 3;

/// The shortest way to a place from where the cursor is; none where that is not sure.
pub(super) fn shortest(frame: &mut Vec<u8>, at: Option<Position>, to: Position) {
    let begin = frame.len();
    if let Some(at) = at {
        from_here(frame, at, to);
    }
    let way = frame.len() - begin;
    if at.is_none() || way >= LEAST_MOVE {
        anywhere(frame, to);
        let anywhere = frame.len() - begin - way;
        match at.is_some() && way < anywhere {
            true => frame.truncate(begin + way),
            false => drop(frame.drain(begin..begin + way)),
        }
    }
}

/// The way from one place to another by counts.
fn from_here(frame: &mut Vec<u8>, at: Position, to: Position) {
    let each = |frame: &mut Vec<u8>, byte: u8, count: u16| {
        frame.resize(frame.len() + usize::from(count), byte);
    };
    // A line feed goes straight down, since the terminal is raw: nothing adds a return to it.
    match to.y.saturating_sub(at.y) {
        down @ 1..=3 => each(frame, b'\n', down),
        down => counted(frame, down, b'B'),
    }
    counted(frame, at.y.saturating_sub(to.y), b'A');
    counted(frame, to.x.saturating_sub(at.x), b'C');
    match at.x.saturating_sub(to.x) {
        back if to.x == 0 && back > 0 => frame.push(b'\r'),
        back @ 1..=3 => each(frame, b'\x08', back),
        back => counted(frame, back, b'D'),
    }
}

/// A move by a count, none where there is nothing to count.
fn counted(frame: &mut Vec<u8>, count: u16, letter: u8) {
    if count == 0 {
        return;
    }
    frame.extend_from_slice(b"\x1b[");
    if count > 1 {
        number(frame, count);
    }
    frame.push(letter);
}

/// The way to a place, wherever the cursor is.
fn anywhere(frame: &mut Vec<u8>, to: Position) {
    frame.extend_from_slice(b"\x1b[");
    if to != Position::ORIGIN {
        number(frame, to.y + 1);
    }
    if to.x > 0 {
        frame.push(b';');
        number(frame, to.x + 1);
    }
    frame.push(b'H');
}

/// A number in decimal digits.
pub(super) fn number(frame: &mut Vec<u8>, number: u16) {
    if number > 9 {
        self::number(frame, number / 10);
    }
    frame.push(b'0' + (number % 10) as u8);
}
