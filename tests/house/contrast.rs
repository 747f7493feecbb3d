//! Contrast, reckoned by the formula of WCAG 2.2: text 4.5 to 1 (success criterion 1.4.3, AA),
//! lines and other marks 3 to 1 (1.4.11), for every style, every number of colours, and both
//! backgrounds; and nothing is said by colour alone (1.4.1).

use crate::screen::{draw, go_to, open, press, rows};
use gantrywright::build::Build;
use gantrywright::rules::Severity;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::{Colours, Ground, Theme};
use gantrywright::screen::view::{paint::Pen, view};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::style::{Color, Modifier, Style};

type Rgb = [u8; 3];

const BLACK: Rgb = [0, 0, 0];
const WHITE: Rgb = [255, 255, 255];
/// The lightest grey that is still called a dark background here.
const DARK: Rgb = [0x1e, 0x1e, 0x1e];
/// The darkest grey that is still called a light background here.
const LIGHT: Rgb = [0xf0, 0xf0, 0xf0];

const TEXT: f64 = 4.5;
const MARKS: f64 = 3.0;

/// Relative luminance, as WCAG 2.2 defines it.
fn luminance(colour: Rgb) -> f64 {
    let linear = |part: u8| {
        let part = f64::from(part) / 255.0;
        match part <= 0.04045 {
            true => part / 12.92,
            false => ((part + 0.055) / 1.055).powf(2.4),
        }
    };
    let [r, g, b] = colour.map(linear);
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

/// Contrast ratio, as WCAG 2.2 defines it.
fn contrast(one: Rgb, other: Rgb) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// Known values: the two ends of the scale, and the grey that is the lightest allowed on white
/// (W3C, Understanding success criterion 1.4.3: #767676 passes, #777777 does not).
#[test]
fn the_formula_gives_known_values() {
    assert!((contrast(BLACK, WHITE) - 21.0).abs() < 1e-9);
    assert!((contrast(WHITE, WHITE) - 1.0).abs() < 1e-9);
    assert!(contrast([0x76; 3], WHITE) >= TEXT);
    assert!(contrast([0x77; 3], WHITE) < TEXT);
}

/// The sixteen as xterm comes (`XTerm-col.ad` of its source).
const XTERM: [Rgb; 16] = [
    [0, 0, 0],
    [205, 0, 0],
    [0, 205, 0],
    [205, 205, 0],
    [0, 0, 238],
    [205, 0, 205],
    [0, 205, 205],
    [229, 229, 229],
    [127, 127, 127],
    [255, 0, 0],
    [0, 255, 0],
    [255, 255, 0],
    [92, 92, 255],
    [255, 0, 255],
    [0, 255, 255],
    [255, 255, 255],
];

/// The sixteen of the Linux console (`drivers/tty/vt/vt.c` of its source, `default_red` and so
/// on): those of the first colour cards of personal computers.
const CONSOLE: [Rgb; 16] = [
    [0, 0, 0],
    [170, 0, 0],
    [0, 170, 0],
    [170, 85, 0],
    [0, 0, 170],
    [170, 0, 170],
    [0, 170, 170],
    [170, 170, 170],
    [85, 85, 85],
    [255, 85, 85],
    [85, 255, 85],
    [255, 255, 85],
    [85, 85, 255],
    [255, 85, 255],
    [85, 255, 255],
    [255, 255, 255],
];

/// A place in xterm's table of 256 (`256colres.pl` of its source): the sixteen, a cube of six
/// steps each way, 24 greys.
fn in_table(place: u8) -> Rgb {
    const STEPS: [u8; 6] = [0, 95, 135, 175, 215, 255];
    match place {
        0..16 => XTERM[usize::from(place)],
        16..232 => {
            let place = usize::from(place - 16);
            [place / 36, place / 6 % 6, place % 6].map(|step| STEPS[step])
        }
        232.. => [8 + (place - 232) * 10; 3],
    }
}

#[test]
fn the_table_is_the_published_one() {
    assert_eq!(in_table(16), BLACK);
    assert_eq!(in_table(21), [0, 0, 255]);
    assert_eq!(in_table(208), [255, 135, 0]);
    assert_eq!(in_table(231), WHITE);
    assert_eq!(in_table(244), [128; 3]);
    assert_eq!(in_table(255), [238; 3]);
}

fn number(colour: Color) -> Option<usize> {
    const NAMES: [Color; 16] = [
        Color::Black,
        Color::Red,
        Color::Green,
        Color::Yellow,
        Color::Blue,
        Color::Magenta,
        Color::Cyan,
        Color::Gray,
        Color::DarkGray,
        Color::LightRed,
        Color::LightGreen,
        Color::LightYellow,
        Color::LightBlue,
        Color::LightMagenta,
        Color::LightCyan,
        Color::White,
    ];
    NAMES.iter().position(|name| *name == colour)
}

/// What letters in a style may look like: bold brightens the first eight on some terminals and
/// not on others; where there are eight, it does (`brightens`).
fn looks(style: Style, letters: Rgb, palette: &[Rgb; 16], brightens: bool) -> Vec<Rgb> {
    let bold = style.add_modifier.contains(Modifier::BOLD);
    let looks = match style.fg {
        None | Some(Color::Reset) => vec![letters],
        Some(Color::Rgb(r, g, b)) => vec![[r, g, b]],
        Some(Color::Indexed(place)) => vec![in_table(place)],
        Some(named) => match number(named).expect("one of the sixteen") {
            dark @ 0..8 if bold && brightens => vec![palette[dark + 8]],
            dark @ 0..8 if bold => vec![palette[dark], palette[dark + 8]],
            other => vec![palette[other]],
        },
    };
    match style.add_modifier.contains(Modifier::DIM) {
        // Half as bright, or half way to the background: both are seen.
        true => looks
            .into_iter()
            .map(|one| one.map(|part| part / 2))
            .collect(),
        false => looks,
    }
}

/// The backgrounds that a theme is for, each with the letters that stand on it by themselves,
/// and the contrast that text has there.
fn grounds(ground: Ground, colours: Colours) -> Vec<(Rgb, Rgb, f64)> {
    // A terminal with a table of its own shows it on its own black or white.
    let own = matches!(colours, Colours::Eight | Colours::Sixteen);
    let dark = |to| [(BLACK, [229; 3], to), (DARK, [229; 3], to)];
    let light = |to| [(WHITE, BLACK, to), (LIGHT, BLACK, to)];
    let both: Vec<_> = match ground {
        Ground::Dark => dark(TEXT).to_vec(),
        Ground::Light => light(TEXT).to_vec(),
        // Nothing has 4.5 to 1 to both of two greys; what is known only of black and white.
        Ground::Either if own => vec![(BLACK, [229; 3], MARKS), (WHITE, BLACK, MARKS)],
        Ground::Either => vec![
            (BLACK, [229; 3], TEXT),
            (WHITE, BLACK, TEXT),
            (DARK, [229; 3], MARKS),
            (LIGHT, BLACK, MARKS),
        ],
    };
    let is_own = |(ground, ..): &(Rgb, Rgb, f64)| !own || [BLACK, WHITE].contains(ground);
    both.into_iter().filter(is_own).collect()
}

fn each(mut check: impl FnMut(Colours, Ground, &Theme)) {
    for colours in Colours::ALL {
        for ground in [Ground::Dark, Ground::Light, Ground::Either] {
            check(colours, ground, &Theme::of(colours, ground));
        }
    }
}

/// Reversed, letters and background change places: the ratio stays. So a row under the cursor
/// has the same as the words in it.
#[test]
fn every_style_can_be_read() {
    let mut checked = 0;
    each(|colours, ground, theme| {
        let few = colours == Colours::Eight;
        // With eight colours and a dark background it is the console's table that is darker.
        let palettes = match (few, ground) {
            (true, Ground::Dark | Ground::Light) => vec![&XTERM, &CONSOLE],
            _ => vec![&XTERM],
        };
        for (paper, letters, least) in grounds(ground, colours) {
            for palette in &palettes {
                for (name, style) in theme.of_text() {
                    assert!(
                        !style.add_modifier.contains(Modifier::DIM),
                        "{name} is faint"
                    );
                    assert_eq!(style.bg, None, "{name}: the background is the terminal's");
                    for ink in looks(style, letters, palette, few) {
                        let ratio = contrast(ink, paper);
                        assert!(
                            ratio >= least,
                            "{name}, {colours:?}, {ground:?}: {ink:02x?} on {paper:02x?} is {ratio:.2}"
                        );
                        checked += 1;
                    }
                }
                for ink in looks(theme.line, letters, palette, few) {
                    let ratio = contrast(ink, paper);
                    assert!(ratio >= MARKS, "lines, {colours:?}, {ground:?}: {ratio:.2}");
                }
            }
        }
    });
    assert!(checked > 300, "{checked}");
}

/// What carries a warning is a colour apart from plain text, where there are colours.
#[test]
fn where_there_are_colours_severities_have_one() {
    each(|colours, ground, theme| {
        for severity in [Severity::Danger, Severity::Fault, Severity::Caution] {
            let coloured = theme.severity(severity).fg.is_some();
            assert_eq!(coloured, colours != Colours::None, "{ground:?}");
        }
    });
}

/// Pages with warnings, figures before and after, a bill, variants.
fn pages() -> Vec<State> {
    let ways: &[&[Key]] = &[
        &[],
        &[Key::Char('w')],
        &[Key::Char('w'), Key::Enter],
        &[Key::Char('b')],
        &[Key::Char('v')],
        &[Key::Char('7'), Key::Enter],
        &[Key::Char('e')],
        &[Key::Char('f')],
        &[Key::Char('t')],
        &[Key::Char('?')],
        &[Key::BackTab, Key::Down],
        &[Key::BackTab, Key::Down, Key::Enter],
    ];
    let mut pages: Vec<State> = ways
        .iter()
        .map(|way| {
            let mut state = open(Build::default(), 80, 24);
            press(&mut state, way);
            state
        })
        .collect();
    for choice in [
        "drive_x",
        "travel_x_mm",
        "beam_tube",
        "materials",
        "spindle",
    ] {
        for width in [80, 120] {
            let mut state = open(Build::default(), width, 40);
            go_to(&mut state, choice);
            press(&mut state, &[Key::Down]);
            pages.push(state);
        }
    }
    pages
}

fn drawn(state: &State, ground: Ground) -> Buffer {
    let backend = TestBackend::new(state.size.width, state.size.height);
    let mut terminal = Terminal::new(backend).expect("a grid");
    let pen = Pen::on(ground, Colours::True, Glyphs::Unicode);
    terminal
        .draw(|frame| view(frame, state, &pen))
        .expect("a frame");
    terminal.backend().buffer().clone()
}

#[test]
fn without_colour_the_screen_says_the_same() {
    for state in pages() {
        let plain = rows(&draw(&state, Colours::None, Glyphs::Unicode));
        for ground in [Ground::Dark, Ground::Light, Ground::Either] {
            assert_eq!(rows(&drawn(&state, ground)), plain, "{:?}", state.place());
        }
    }
}

/// Every stretch in the colour of a severity, of better or of worse, has a mark, a sign, an
/// arrow or a word in it or right before it.
#[test]
fn no_colour_stands_for_itself() {
    let theme = Theme::of(Colours::True, Ground::Dark);
    let carries = [
        theme.good,
        theme.worse,
        theme.severity(Severity::Danger),
        theme.severity(Severity::Fault),
        theme.severity(Severity::Caution),
    ]
    .map(|style| style.fg);
    let mut seen = 0;
    for state in pages() {
        let buffer = drawn(&state, Ground::Dark);
        for y in 0..buffer.area.height {
            let mut x = 0;
            while x < buffer.area.width {
                let from = x;
                let fg = buffer[(x, y)].fg;
                while x < buffer.area.width && buffer[(x, y)].fg == fg {
                    x += 1;
                }
                if !carries.contains(&Some(fg)) {
                    continue;
                }
                let text: String = (from..x).map(|x| buffer[(x, y)].symbol()).collect();
                let text = text.trim();
                // Strokes of a drawing differ by their pattern, which its legend names.
                let is_drawn = |c: char| c == ' ' || ('\u{2800}'..='\u{28ff}').contains(&c);
                let told = text.chars().all(is_drawn)
                    || text.contains("->")
                    || text.contains(['!', '~', '+', '-', '%'])
                    || text.contains(|c: char| c.is_alphabetic());
                let row = &rows(&buffer)[usize::from(y)];
                assert!(told, "{:?}, row {y}: {text:?} in {row}", state.place());
                seen += 1;
            }
        }
    }
    assert!(seen > 40, "{seen}");
}
