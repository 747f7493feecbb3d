//! What kind of terminal it is, by what the environment says: how many colours, which
//! background, and what it understands beyond the oldest standard. The terminal itself is never
//! asked: an answer that never comes would have to be waited for.

use super::ink::Dialect;
use crate::screen::ColorWish;
use crate::screen::theme::Colours;

/// What a terminal understands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Kind {
    /// A second screen, so that the first is as it was afterwards; pastes told from keys;
    /// frames shown at once; a mouse. The terminals with a tube and what takes after them know
    /// none of it (from memory; their manuals, and terminfo's entries without `smcup`).
    pub(super) modern: bool,
    /// How colours and attributes are spelled.
    pub(super) dialect: Dialect,
}

/// Names of terminals without a second screen, by how they begin.
const SIMPLE: &[&str] = &["linux", "vt", "ansi", "cons", "dumb"];
/// Names of terminals with eight colours, where nothing in them says that there are more.
const EIGHT: &[&str] = &["linux", "xterm", "screen", "tmux", "rxvt", "ansi", "cons"];

impl Kind {
    /// The kind that the environment tells of.
    pub(super) fn of(variable: impl Fn(&str) -> Option<String>) -> Self {
        let term = variable("TERM").unwrap_or_default();
        Self {
            modern: !begins(&term, SIMPLE),
            dialect: match begins(&term, &["vt1", "vt5"]) {
                true => Dialect::Oldest,
                false => Dialect::Named,
            },
        }
    }
}

fn begins(term: &str, with: &[&str]) -> bool {
    with.iter().any(|name| term.starts_with(name))
}

/// How many colours to use.
pub(super) fn colours(wish: ColorWish, variable: impl Fn(&str) -> Option<String>) -> Colours {
    match wish {
        ColorWish::Never => Colours::None,
        ColorWish::Ansi16 => Colours::Sixteen,
        ColorWish::Ansi256 => Colours::Table,
        ColorWish::True => Colours::True,
        ColorWish::Always => depth(variable),
        ColorWish::Auto => {
            let term = variable("TERM").unwrap_or_default();
            let unwished = variable("NO_COLOR").is_some_and(|value| !value.is_empty());
            match unwished || term.is_empty() || begins(&term, &["dumb", "vt"]) {
                true => Colours::None,
                false => depth(variable),
            }
        }
    }
}

/// How many colours to use: where several things are said, what is sure. Who shows any colour shows
/// the table of 256 too, whose codes take half as many bytes: any colour is for those that say so
/// in their name, and for who wishes it.
fn depth(variable: impl Fn(&str) -> Option<String>) -> Colours {
    let set = |name: &str| variable(name).is_some_and(|value| !value.is_empty());
    let term = variable("TERM").unwrap_or_default();
    // Programs hand COLORTERM on into consoles and multiplexers that don't know such colours.
    let few = begins(&term, SIMPLE) || begins(&term, &["screen"]);
    match variable("COLORTERM").as_deref() {
        Some("truecolor" | "24bit") if !few && !term.contains("direct") => Colours::Table,
        _ if term.contains("direct") && !few => Colours::True,
        // A remote line does not carry COLORTERM: only what every terminal has is sure.
        _ if term.contains("256color") && (set("SSH_CONNECTION") || set("SSH_TTY")) => {
            Colours::Sixteen
        }
        _ if term.contains("256color") => Colours::Table,
        _ if term.contains("16color") => Colours::Sixteen,
        _ if begins(&term, EIGHT) && (!term.contains("xterm-") || term == "xterm-color") => {
            Colours::Eight
        }
        _ => Colours::Sixteen,
    }
}
