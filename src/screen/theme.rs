//! Colours by meaning. The terminal's own background and text colour are kept, so that a
//! light terminal stays light; without colour, attributes say the same.
//!
//! What is text has a contrast of 4.5 to 1 at least, lines 3 to 1 (WCAG 2.2, success criteria
//! 1.4.3 and 1.4.11). `tests/house/contrast.rs` computes that for every style here. Faint letters
//! (the attribute) are not used for text: terminals halve their brightness, which falls below.

use ratatui::style::{Modifier, Style};

use crate::rules::Severity;

mod palette;

pub use palette::Ground;
use palette::Palette;

/// How many colours the terminal shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Colours {
    /// None: attributes only.
    None,
    /// The eight that old terminals have; bold letters in them are brighter.
    Eight,
    /// The sixteen named ones.
    Sixteen,
    /// The table of 256.
    Table,
    /// Any.
    True,
}

impl Colours {
    /// All depths.
    pub const ALL: [Self; 5] = [
        Self::None,
        Self::Eight,
        Self::Sixteen,
        Self::Table,
        Self::True,
    ];
}

/// Styles by what they mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Theme {
    /// Names of places and headings.
    pub title: Style,
    /// What may be overlooked.
    pub muted: Style,
    /// Lines between places.
    pub line: Style,
    /// The row under the cursor, where keys go.
    pub selected: Style,
    /// The row under the cursor in a place that keys don't go to.
    pub marked: Style,
    /// A key in the row of keys.
    pub key: Style,
    /// A figure that gets better.
    pub good: Style,
    /// A figure that gets worse.
    pub worse: Style,
    /// A text field.
    pub field: Style,
    danger: Style,
    fault: Style,
    caution: Style,
    hint: Style,
}

impl Theme {
    /// The theme for so many colours on such a background.
    pub fn of(colours: Colours, ground: Ground) -> Self {
        let plain = Self::plain();
        let Some(palette) = Palette::of(colours, ground) else {
            return plain;
        };
        let weight = palette.weight();
        let Palette {
            red,
            orange,
            blue,
            green,
            muted,
            line,
        } = palette;
        Self {
            title: plain.title.patch(blue),
            key: plain.key.patch(blue),
            muted,
            line,
            good: green,
            worse: orange,
            // Bold red on white brightens below what can be read: the palette says whether.
            danger: red.add_modifier(weight | Modifier::REVERSED),
            fault: red.add_modifier(weight),
            caution: orange,
            hint: blue,
            ..plain
        }
    }

    fn plain() -> Self {
        let with = |modifier| Style::new().add_modifier(modifier);
        Self {
            title: with(Modifier::BOLD),
            muted: Style::new(),
            line: with(Modifier::DIM),
            // A faint line on reversed can hardly be seen.
            selected: with(Modifier::REVERSED).remove_modifier(Modifier::DIM),
            marked: with(Modifier::BOLD),
            key: with(Modifier::BOLD),
            good: Style::new(),
            worse: Style::new(),
            field: with(Modifier::UNDERLINED),
            danger: with(Modifier::BOLD | Modifier::REVERSED),
            fault: with(Modifier::BOLD),
            caution: Style::new(),
            hint: Style::new(),
        }
    }

    /// The style of a severity.
    pub fn severity(&self, severity: Severity) -> Style {
        match severity {
            Severity::Danger => self.danger,
            Severity::Fault => self.fault,
            Severity::Caution => self.caution,
            Severity::Hint => self.hint,
        }
    }

    /// What letters are written in, each with its name.
    pub fn of_text(&self) -> [(&'static str, Style); 11] {
        [
            ("title", self.title),
            ("muted", self.muted),
            ("selected", self.selected),
            ("marked", self.marked),
            ("key", self.key),
            ("good", self.good),
            ("worse", self.worse),
            ("danger", self.danger),
            ("fault", self.fault),
            ("caution", self.caution),
            ("hint", self.hint),
        ]
    }
}

/// The mark of a severity: seen without colour.
pub fn mark(severity: Severity) -> &'static str {
    match severity {
        Severity::Danger => "!!",
        Severity::Fault => "!",
        Severity::Caution => "~",
        Severity::Hint => ".",
    }
}
