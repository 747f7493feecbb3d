//! Keys as the keymap knows them, apart from how any terminal library spells them.

use std::fmt;

/// One key.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Key {
    /// A character.
    Char(char),
    /// A letter with Ctrl held.
    Ctrl(char),
    /// Arrow up.
    Up,
    /// Arrow down.
    Down,
    /// Arrow left.
    Left,
    /// Arrow right.
    Right,
    /// Home.
    Home,
    /// End.
    End,
    /// Page up.
    PageUp,
    /// Page down.
    PageDown,
    /// Enter.
    Enter,
    /// Escape.
    Esc,
    /// Tab.
    Tab,
    /// Shift and Tab.
    BackTab,
    /// Backspace.
    Backspace,
    /// Delete.
    Delete,
    /// A function key.
    F(u8),
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some((name, _)) = NAMED.iter().find(|(_, key)| key == self) {
            return f.write_str(name);
        }
        match self {
            Self::Char(c) => write!(f, "{c}"),
            Self::Ctrl(c) => write!(f, "ctrl-{c}"),
            Self::F(number) => write!(f, "F{number}"),
            // All others have a name.
            other => fmt::Debug::fmt(other, f),
        }
    }
}

/// Keys with a name of their own, as settings spell them; the first name of a key is shown.
const NAMED: &[(&str, Key)] = &[
    ("space", Key::Char(' ')),
    ("up", Key::Up),
    ("down", Key::Down),
    ("left", Key::Left),
    ("right", Key::Right),
    ("home", Key::Home),
    ("end", Key::End),
    ("page up", Key::PageUp),
    ("page down", Key::PageDown),
    ("page-up", Key::PageUp),
    ("page-down", Key::PageDown),
    ("enter", Key::Enter),
    ("esc", Key::Esc),
    ("tab", Key::Tab),
    ("shift-tab", Key::BackTab),
    ("backspace", Key::Backspace),
    ("delete", Key::Delete),
];

/// Letters that Ctrl makes into something else: flow control stops the terminal with s and goes
/// on with q, and h, i, j, m arrive as backspace, tab and enter (ECMA-48, ITU-T T.50).
const NOT_WITH_CTRL: &[(char, &str)] = &[
    ('s', "flow control stops the terminal with it"),
    ('q', "flow control goes on with it"),
    ('h', "terminals send it for backspace"),
    ('i', "terminals send it for tab"),
    ('j', "terminals send it for enter"),
    ('m', "terminals send it for enter"),
];

impl Key {
    /// A key as settings spell it: `W`, `space`, `ctrl-x`, `F5`.
    ///
    /// # Errors
    /// Says why it is none that can be used, and how keys are spelled.
    pub fn named(text: &str) -> Result<Self, String> {
        let mut chars = text.chars();
        if let (Some(one), None) = (chars.next(), chars.next())
            && !one.is_control()
        {
            return Ok(Self::Char(one));
        }
        let lower = text.to_lowercase();
        if let Some((_, key)) = NAMED.iter().find(|(name, _)| *name == lower) {
            return Ok(*key);
        }
        if let Some(letter) = lower.strip_prefix("ctrl-")
            && let Some(letter) = letter.chars().next().filter(char::is_ascii_lowercase)
            && lower.len() == "ctrl-x".len()
        {
            let taken = NOT_WITH_CTRL.iter().find(|(known, _)| *known == letter);
            return match taken {
                Some((_, why)) => Err(format!("{text:?} cannot be used: {why}")),
                None => Ok(Self::Ctrl(letter)),
            };
        }
        let function = lower.strip_prefix('f').and_then(|rest| rest.parse().ok());
        match function {
            Some(number @ 1..=12) => Ok(Self::F(number)),
            _ => Err(format!(
                "{text:?} is no key: write one character, or a name such as \"space\", \"ctrl-x\", \"F5\", \"page-up\""
            )),
        }
    }

    /// Whether it moves a cursor, in most places and most programs.
    pub const fn is_move(self) -> bool {
        matches!(
            self,
            Self::Up
                | Self::Down
                | Self::Left
                | Self::Right
                | Self::Home
                | Self::End
                | Self::PageUp
                | Self::PageDown
        )
    }

    /// Whether it types a character where text is typed.
    pub const fn is_text(self) -> bool {
        matches!(self, Self::Char(_))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::keymap::TABLE;

    /// Flow control stops the terminal with ctrl-s and goes on with ctrl-q (termios, IXON); the
    /// other letters arrive as another key.
    #[test]
    fn no_key_is_one_that_terminals_take_for_themselves() {
        for binding in TABLE {
            for (letter, _) in NOT_WITH_CTRL {
                assert!(
                    !binding.keys.contains(&Key::Ctrl(*letter)),
                    "{}",
                    binding.long
                );
            }
        }
        for name in ["ctrl-s", "ctrl-q", "Ctrl-S", "CTRL-Q"] {
            assert!(Key::named(name).is_err(), "{name}");
        }
    }

    #[test]
    fn a_key_is_shown_as_settings_may_spell_it() {
        let named = NAMED.iter().map(|(_, key)| *key);
        for key in named.chain([Key::Char('W'), Key::Ctrl('x'), Key::F(5)]) {
            assert_eq!(Key::named(&key.to_string()), Ok(key));
        }
        let used = TABLE.iter().flat_map(|binding| binding.keys.iter());
        for key in used {
            assert_eq!(Key::named(&key.to_string()).as_ref(), Ok(key));
        }
    }
}
