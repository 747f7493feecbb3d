//! How colours and attributes are told to the terminal (ECMA-48, 8.3.117, select graphic
//! rendition): the sixteen by the numbers that every terminal knows (`31` for red), the others by
//! their place in the table of 256 or by red, green and blue; always in the fewest bytes.
//!
//! The oldest know no colours, and no way to end one attribute alone: there each change begins
//! with the end of all of them.

use ratatui::buffer::Cell;
use ratatui::style::{Color, Modifier};

/// How colours and attributes are spelled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Dialect {
    /// As all terminals do but the oldest.
    Named,
    /// As a VT100 knows them: bold, underlined, blinking, reversed, and the end of all (DEC's
    /// manual of it, chapter 3; terminfo's entry `vt100`).
    Oldest,
}

/// What letters are written in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Ink {
    letters: Color,
    ground: Color,
    attributes: Modifier,
}

/// The attributes that the screen uses: their code, and the one that ends them.
const ATTRIBUTES: [(Modifier, &str, &str); 4] = [
    (Modifier::BOLD, "1", "22"),
    (Modifier::DIM, "2", "22"),
    (Modifier::UNDERLINED, "4", "24"),
    (Modifier::REVERSED, "7", "27"),
];
/// Those that a VT100 has.
const OLDEST: Modifier = Modifier::BOLD
    .union(Modifier::UNDERLINED)
    .union(Modifier::REVERSED);
/// Those that are seen where nothing is written.
const SEEN_ON_BLANKS: Modifier = Modifier::UNDERLINED.union(Modifier::REVERSED);

impl Ink {
    /// What a cell is written in.
    pub(super) fn of(cell: &Cell) -> Self {
        Self {
            letters: cell.fg,
            ground: cell.bg,
            attributes: cell.modifier,
        }
    }

    /// Whether a blank in this ink looks like one in no ink at all.
    pub(super) fn leaves_blanks_plain(self) -> bool {
        self.ground == Color::Reset && !self.attributes.intersects(SEEN_ON_BLANKS)
    }

    /// The shortest sequence after which this ink is in use instead of another; nothing where
    /// they are told alike.
    pub(super) fn instead_of(self, other: Self, dialect: Dialect) -> String {
        let (to, from) = (self.as_told(dialect), other.as_told(dialect));
        if to == from {
            return String::new();
        }
        let mut anew = to.codes();
        if anew.is_empty() {
            return "\x1b[m".to_owned();
        }
        anew.insert(0, "0".to_owned());
        let anew = anew.join(";");
        let codes = match dialect {
            Dialect::Oldest => anew,
            Dialect::Named => {
                let changed = to.changes(from).join(";");
                // Where both are as long, the one that leaves nothing behind.
                match changed.len() < anew.len() {
                    true => changed,
                    false => anew,
                }
            }
        };
        format!("\x1b[{codes}m")
    }

    fn as_told(self, dialect: Dialect) -> Self {
        match dialect {
            Dialect::Named => self,
            Dialect::Oldest => Self {
                attributes: self.attributes & OLDEST,
                ..Self::default()
            },
        }
    }

    /// All that is not as a terminal has it by itself.
    fn codes(self) -> Vec<String> {
        self.changes(Self::default())
    }

    fn changes(self, from: Self) -> Vec<String> {
        let mut codes: Vec<String> = Vec::new();
        let ended = from.attributes.difference(self.attributes);
        let mut begun = self.attributes.difference(from.attributes);
        for (attribute, _, end) in ATTRIBUTES {
            if ended.contains(attribute) && !codes.iter().any(|code| code == end) {
                codes.push(end.to_owned());
                // Bold and faint have one end: what stays of the two is told again.
                let weights = Modifier::BOLD | Modifier::DIM;
                if weights.contains(attribute) {
                    begun |= self.attributes & weights;
                }
            }
        }
        for (attribute, code, _) in ATTRIBUTES {
            if begun.contains(attribute) {
                codes.push(code.to_owned());
            }
        }
        if self.letters != from.letters {
            codes.push(spelled(self.letters, 30));
        }
        if self.ground != from.ground {
            codes.push(spelled(self.ground, 40));
        }
        codes
    }
}

/// The parameters of a colour; `base` is 30 for letters, 40 for the ground.
fn spelled(colour: Color, base: u8) -> String {
    let place = match colour {
        Color::Reset => return (base + 9).to_string(),
        Color::Rgb(red, green, blue) => return format!("{};2;{red};{green};{blue}", base + 8),
        Color::Indexed(place) => place,
        Color::Black => 0,
        Color::Red => 1,
        Color::Green => 2,
        Color::Yellow => 3,
        Color::Blue => 4,
        Color::Magenta => 5,
        Color::Cyan => 6,
        Color::Gray => 7,
        Color::DarkGray => 8,
        Color::LightRed => 9,
        Color::LightGreen => 10,
        Color::LightYellow => 11,
        Color::LightBlue => 12,
        Color::LightMagenta => 13,
        Color::LightCyan => 14,
        Color::White => 15,
    };
    match place {
        0..8 => (base + place).to_string(),
        // The bright ones as terminals spell them since aixterm: 90 and on for letters.
        8..16 => (base + 60 + place - 8).to_string(),
        _ => format!("{};5;{place}", base + 8),
    }
}

#[cfg(test)]
mod tests {
    use ratatui::style::Style;

    use super::*;

    fn ink(style: Style) -> Ink {
        Ink::of(Cell::new("a").set_style(style))
    }

    fn bold() -> Style {
        Style::new().add_modifier(Modifier::BOLD)
    }

    fn told(from: Style, to: Style) -> String {
        ink(to).instead_of(ink(from), Dialect::Named)
    }

    #[test]
    fn the_sixteen_are_told_by_the_names_that_every_terminal_knows() {
        let plain = Style::new();
        assert_eq!(told(plain, plain.fg(Color::Red)), "\x1b[31m");
        assert_eq!(told(plain, plain.fg(Color::Indexed(12))), "\x1b[94m");
        assert_eq!(told(plain, plain.bg(Color::White)), "\x1b[107m");
        assert_eq!(told(plain, plain.fg(Color::Indexed(163))), "\x1b[38;5;163m");
        assert_eq!(
            told(plain, bold().fg(Color::Rgb(1, 2, 3))),
            "\x1b[1;38;2;1;2;3m"
        );
    }

    #[test]
    fn the_shorter_way_is_taken() {
        let red = Style::new().fg(Color::Red);
        assert_eq!(told(bold().fg(Color::Red), Style::new()), "\x1b[m");
        assert_eq!(told(bold().fg(Color::Red), red), "\x1b[22m");
        assert_eq!(told(bold(), red), "\x1b[0;31m");
        assert_eq!(told(red, red), "");
        let faint = Style::new().add_modifier(Modifier::DIM);
        assert_eq!(told(bold(), faint), "\x1b[0;2m");
        let both = bold().add_modifier(Modifier::DIM).fg(Color::Rgb(9, 9, 9));
        let one = bold().fg(Color::Rgb(9, 9, 9));
        assert_eq!(told(both, one), "\x1b[22;1m");
    }

    #[test]
    fn the_oldest_are_told_all_attributes_anew_and_no_colours() {
        let told = |from, to| ink(to).instead_of(ink(from), Dialect::Oldest);
        let reversed = bold().add_modifier(Modifier::REVERSED);
        assert_eq!(told(Style::new(), bold().fg(Color::Red)), "\x1b[0;1m");
        assert_eq!(told(bold(), reversed), "\x1b[0;1;7m");
        assert_eq!(told(reversed, bold()), "\x1b[0;1m");
        assert_eq!(told(reversed, Style::new()), "\x1b[m");
        let faint = Style::new().add_modifier(Modifier::DIM);
        assert_eq!(told(faint, Style::new().fg(Color::Red)), "");
    }
}
