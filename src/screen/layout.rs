//! Where everything stands, by the size of the terminal alone.
//!
//! From 80 columns on (200 columns add the bill as a third column):
//! ```text
//! title
//! steps
//! ─────────────────────┬──────────
//! choices              │ pane
//! ── heading ──────────┤
//! options              │
//! ── notice ───────────┤
//! words                │
//! keys
//! ```
//! Under 80 columns the pane becomes a strip between steps and choices.

use ratatui::layout::{Rect, Size};

use crate::catalogue::Step;

/// The least size that the screen works in.
pub const LEAST: Size = Size {
    width: 60,
    height: 18,
};

/// The places of the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layout {
    /// Title of the build and its marks.
    pub title: Rect,
    /// The five steps.
    pub steps: Rect,
    /// The line under them.
    pub top_line: Rect,
    /// The figures on a narrow screen.
    pub strip: Option<Rect>,
    /// Everything on the left: layers open over it.
    pub left: Rect,
    /// The choices of the step.
    pub choices: Rect,
    /// The line that names the options.
    pub heading: Rect,
    /// The options of the focused choice.
    pub options: Rect,
    /// The line above the words; messages stand in it.
    pub notice: Rect,
    /// Plain words on what is under the cursor.
    pub words: Rect,
    /// A picture of what the step is about, where there is room.
    pub picture: Option<Rect>,
    /// The figures.
    pub pane: Option<Rect>,
    /// The bill.
    pub bill: Option<Rect>,
    /// The keys that are true right now.
    pub keys: Rect,
}

/// Rows of the pane from which on it also says what the machine cuts.
const ROOMY: u16 = 18;
/// Rows of the pane from which on it shows everything.
const TALL: u16 = 30;

/// Rows of the left side from which on a picture of the machine stands in it.
const HIGH: u16 = 36;
/// Rows of it from which on the lists of the drive leave room for one too.
const VERY_HIGH: u16 = 50;
/// Rows of such a picture at most: the lists need the rest.
const MOST_OF_PICTURE: u16 = 22;

impl Layout {
    /// The same without pane and bill: the left side has their room.
    pub fn whole(self) -> Self {
        let left = Rect {
            width: self.keys.width,
            ..self.left
        };
        Self {
            left,
            pane: None,
            bill: None,
            ..self
        }
    }

    /// The same with a picture below the words, where the step has one and the screen room.
    pub fn beside_picture(self, step: Step) -> Self {
        let rows = match (step, self.keys.width, self.left.height) {
            (Step::WorkingArea, 120.., HIGH..) | (Step::Drive, 120.., VERY_HIGH..) => {
                (self.left.height / 3).min(MOST_OF_PICTURE)
            }
            _ => return self,
        };
        let above = Rect {
            height: self.left.height - rows,
            ..self.left
        };
        let [choices, heading, options, notice, words] = left_side(above);
        let picture = Rect {
            y: above.bottom(),
            height: rows,
            ..above
        };
        Self {
            choices,
            heading,
            options,
            notice,
            words,
            picture: Some(picture),
            ..self
        }
    }

    /// Whether the pane has room for what the machine cuts.
    pub fn says_cuts(&self) -> bool {
        self.pane.is_some_and(|pane| pane.height >= ROOMY)
    }

    /// Whether the pane has room for everything that it can show.
    pub fn says_all(&self) -> bool {
        self.pane.is_some_and(|pane| pane.height >= TALL)
    }
}

/// The layout for a size; none where the screen is too small to work in.
pub fn layout(size: Size) -> Option<Layout> {
    let Size { width, height } = size;
    if width < LEAST.width || height < LEAST.height {
        return None;
    }
    let row = |y| Rect {
        x: 0,
        y,
        width,
        height: 1,
    };
    let (strip, line) = if width < 80 {
        (
            Some(Rect {
                x: 0,
                y: 2,
                width,
                height: 4,
            }),
            6,
        )
    } else {
        (None, 2)
    };
    let body_top = line + 1;
    let body = Rect {
        x: 0,
        y: body_top,
        width,
        height: height - body_top - 1,
    };
    let (left_width, pane_width) = columns(width);
    let left = Rect {
        width: left_width,
        ..body
    };
    let pane = pane_width.map(|pane_width| Rect {
        x: left_width + 1,
        width: pane_width,
        ..body
    });
    let bill = pane.filter(|_| width >= 180).map(|pane| {
        let x = pane.right() + 1;
        Rect {
            x,
            width: width - x,
            ..body
        }
    });
    let [choices, heading, options, notice, words] = left_side(left);
    Some(Layout {
        title: row(0),
        steps: row(1),
        top_line: row(line),
        strip,
        left,
        choices,
        heading,
        options,
        notice,
        words,
        picture: None,
        pane,
        bill,
        keys: row(height - 1),
    })
}

/// Choices, heading, options, notice and words, one below the other.
fn left_side(left: Rect) -> [Rect; 5] {
    let words_height = match left.height {
        ..12 => 2,
        12..18 => 3,
        18..30 => 4,
        _ => 5,
    };
    // Heading and notice take a row each; the options get the larger half of the rest.
    let rest = left.height - words_height - 2;
    let choices_height = rest * 7 / 15;
    let part = |y, height| Rect { y, height, ..left };
    let choices = part(left.y, choices_height);
    let heading = part(choices.bottom(), 1);
    let options = part(heading.bottom(), rest - choices_height);
    let notice = part(options.bottom(), 1);
    let words = part(notice.bottom(), words_height);
    [choices, heading, options, notice, words]
}

/// Widths of the left side and of the pane.
fn columns(width: u16) -> (u16, Option<u16>) {
    match width {
        ..80 => (width, None),
        80..120 => (width - 33, Some(32)),
        120..180 => (width - 41, Some(40)),
        _ => {
            let pane = 50;
            let bill = (width - pane) * 3 / 8;
            (width - pane - bill - 2, Some(pane))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_places_tile_the_screen_at_every_size() {
        for width in LEAST.width..=210 {
            for height in LEAST.height..=70 {
                let all = layout(Size { width, height }).expect("large enough");
                let screen = Rect {
                    x: 0,
                    y: 0,
                    width,
                    height,
                };
                let parts = [all.choices, all.heading, all.options, all.notice, all.words];
                assert_eq!(
                    parts.iter().map(|part| part.height).sum::<u16>(),
                    all.left.height
                );
                assert_eq!(all.words.bottom(), all.keys.y);
                assert!(
                    all.choices.height >= 2 && all.options.height >= 3,
                    "{width}x{height}"
                );
                for part in parts
                    .into_iter()
                    .chain(all.pane)
                    .chain(all.bill)
                    .chain(all.strip)
                {
                    assert_eq!(part.intersection(screen), part, "{width}x{height}");
                }
            }
        }
    }

    #[test]
    fn too_small_a_screen_has_no_layout() {
        assert_eq!(
            layout(Size {
                width: 59,
                height: 40
            }),
            None
        );
        assert_eq!(
            layout(Size {
                width: 80,
                height: 17
            }),
            None
        );
    }
}
