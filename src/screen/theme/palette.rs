//! The colours themselves: for each number of colours and each background the four that carry
//! a meaning, and the grey of what may be overlooked.

use ratatui::style::{Color, Modifier, Style};

use super::Colours;
use crate::store::settings::ThemeWish;

/// What the terminal's background is like.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ground {
    /// Nobody said: colours that can be read on black and on white.
    #[default]
    Either,
    /// From black to a dark grey.
    Dark,
    /// From white to a light grey.
    Light,
}

impl Ground {
    /// What the environment says without asking the terminal, whose answer may never come:
    /// `COLORFGBG`, which some terminals set to the numbers of letters and background among the
    /// sixteen colours, as `15;0`. The Linux console is black as it comes.
    pub fn said(variable: impl Fn(&str) -> Option<String>) -> Self {
        let numbers = variable("COLORFGBG").unwrap_or_default();
        let ground = numbers.rsplit(';').next().unwrap_or_default();
        match ground.trim().parse::<u8>() {
            // Light grey and white; bright colours are no background that anybody reads on.
            Ok(7 | 15) => Self::Light,
            Ok(0..=6 | 8) => Self::Dark,
            _ if variable("TERM").is_some_and(|term| term == "linux") => Self::Dark,
            _ => Self::Either,
        }
    }

    /// What somebody wishes, where it is not left to the terminal.
    pub fn wished(self, wish: ThemeWish) -> Self {
        match wish {
            ThemeWish::Auto => self,
            ThemeWish::Dark => Self::Dark,
            ThemeWish::Light => Self::Light,
        }
    }
}

/// The colours of a theme.
pub(super) struct Palette {
    pub(super) red: Style,
    pub(super) orange: Style,
    pub(super) blue: Style,
    pub(super) green: Style,
    /// What may be overlooked.
    pub(super) muted: Style,
    /// Lines.
    pub(super) line: Style,
}

impl Palette {
    /// The colours; none where there are none.
    pub(super) fn of(colours: Colours, ground: Ground) -> Option<Self> {
        Some(match colours {
            Colours::None => return None,
            Colours::Eight => Self::eight(ground),
            Colours::Sixteen => Self::sixteen(ground),
            Colours::Table => Self::six(table(ground).map(Color::Indexed)),
            Colours::True => Self::six(any(ground).map(Color::from_u32)),
        })
    }

    fn six(colours: [Color; 6]) -> Self {
        let [red, orange, blue, green, muted, line] = colours.map(|one| Style::new().fg(one));
        Self {
            red,
            orange,
            blue,
            green,
            muted,
            line,
        }
    }

    /// Four colours, and no grey: the one between is too dark or too light on some terminals.
    fn four(colours: [Style; 4]) -> Self {
        let [red, orange, blue, green] = colours;
        Self {
            red,
            orange,
            blue,
            green,
            muted: Style::new(),
            line: Style::new().add_modifier(Modifier::DIM),
        }
    }

    /// On dark, bold makes red and brown bright enough. Green and cyan are so by themselves.
    fn eight(ground: Ground) -> Self {
        let plain = |colour| Style::new().fg(colour);
        let bright = |colour| plain(colour).add_modifier(Modifier::BOLD);
        Self::four(match ground {
            Ground::Dark => [
                bright(Color::Red),
                bright(Color::Yellow),
                plain(Color::Cyan),
                plain(Color::Green),
            ],
            Ground::Light | Ground::Either => {
                [Color::Red, Color::Magenta, Color::Blue, Color::Blue].map(|colour| match ground {
                    // Blue is too dark for black, and nothing else is left that does for both.
                    Ground::Either if colour == Color::Blue => Style::new(),
                    _ => plain(colour),
                })
            }
        })
    }

    fn sixteen(ground: Ground) -> Self {
        let colours = match ground {
            Ground::Dark => [Color::LightRed, Color::Yellow, Color::Cyan, Color::Green],
            Ground::Light => [Color::Red, Color::Magenta, Color::Blue, Color::Blue],
            Ground::Either => [
                Color::Red,
                Color::Magenta,
                Color::LightBlue,
                Color::LightBlue,
            ],
        };
        Self::four(colours.map(|colour| Style::new().fg(colour)))
    }

    /// Bold for a fault, unless bold would brighten its red too far for a light background.
    pub(super) fn weight(&self) -> Modifier {
        match self.red.fg {
            Some(Color::Red) if !self.red.add_modifier.contains(Modifier::BOLD) => {
                Modifier::empty()
            }
            _ => Modifier::BOLD,
        }
    }
}

/// Red, orange, blue, green, the grey of letters and that of lines, by their places in the
/// table of 256.
fn table(ground: Ground) -> [u8; 6] {
    match ground {
        Ground::Either => [163, 131, 63, 29, 243, 243],
        Ground::Dark => [203, 214, 74, 114, 246, 244],
        Ground::Light => [160, 94, 25, 22, 242, 245],
    }
}

/// The same six as red, green and blue.
fn any(ground: Ground) -> [u32; 6] {
    match ground {
        Ground::Either => [0xe91313, 0xae6300, 0x157bba, 0x188734, 0x767676, 0x767676],
        Ground::Dark => [0xff6b6b, 0xe8a33d, 0x62b0e8, 0x6cc97a, 0x9a9a9a, 0x7a7a7a],
        Ground::Light => [0xc01818, 0x855500, 0x0b5fa5, 0x1a6b2a, 0x626262, 0x868686],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_background_is_what_the_environment_says_and_nobody_is_asked() {
        let said = |pairs: &'static [(&str, &str)]| {
            Ground::said(|name| {
                let mut pairs = pairs.iter();
                let pair = pairs.find(|(key, _)| *key == name);
                pair.map(|(_, value)| (*value).to_owned())
            })
        };
        assert_eq!(said(&[("COLORFGBG", "15;0")]), Ground::Dark);
        assert_eq!(said(&[("COLORFGBG", "0;15")]), Ground::Light);
        assert_eq!(said(&[("COLORFGBG", "0;default;15")]), Ground::Light);
        assert_eq!(said(&[("COLORFGBG", "12;default")]), Ground::Either);
        assert_eq!(said(&[("COLORFGBG", "")]), Ground::Either);
        assert_eq!(said(&[("TERM", "linux")]), Ground::Dark);
        assert_eq!(said(&[("TERM", "xterm-256color")]), Ground::Either);
        assert_eq!(Ground::Dark.wished(ThemeWish::Light), Ground::Light);
        assert_eq!(Ground::Dark.wished(ThemeWish::Auto), Ground::Dark);
    }
}
