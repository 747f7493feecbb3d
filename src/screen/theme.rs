//! Colours by meaning. The terminal's own background and text colour are kept, so that a
//! light terminal stays light; without colour, attributes say the same.

use ratatui::style::{Color, Modifier, Style};

use crate::rules::Severity;

/// How many colours the terminal shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Colours {
    /// None: attributes only.
    None,
    /// The sixteen named ones.
    Sixteen,
    /// The table of 256.
    Table,
    /// Any.
    True,
}

/// Styles by what they mean.
#[derive(Clone, Copy, Debug)]
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
    /// The theme for so many colours.
    pub fn of(colours: Colours) -> Self {
        let [red, orange, blue, green] = match colours {
            Colours::None => return Self::plain(),
            Colours::Sixteen => [Color::Red, Color::Yellow, Color::Cyan, Color::Green],
            Colours::Table => [160, 172, 31, 34].map(Color::Indexed),
            Colours::True => [
                Color::Rgb(0xd7, 0x26, 0x26),
                Color::Rgb(0xc9, 0x83, 0x0a),
                Color::Rgb(0x1f, 0x85, 0xb8),
                Color::Rgb(0x2e, 0xa0, 0x43),
            ],
        };
        let plain = Self::plain();
        Self {
            title: plain.title.fg(blue),
            key: plain.key.fg(blue),
            good: Style::new().fg(green),
            worse: Style::new().fg(orange),
            danger: Style::new()
                .fg(red)
                .add_modifier(Modifier::BOLD | Modifier::REVERSED),
            fault: Style::new().fg(red).add_modifier(Modifier::BOLD),
            caution: Style::new().fg(orange),
            hint: Style::new().fg(blue),
            ..plain
        }
    }

    fn plain() -> Self {
        let with = |modifier| Style::new().add_modifier(modifier);
        Self {
            title: with(Modifier::BOLD),
            muted: with(Modifier::DIM),
            line: with(Modifier::DIM),
            // Faint on reversed can hardly be read.
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
