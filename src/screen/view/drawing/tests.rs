use super::*;

fn frame(left: f64, top: f64, right: f64, bottom: f64) -> Frame {
    Frame {
        left,
        top,
        right,
        bottom,
    }
}

fn drawn(canvas: Canvas) -> Vec<String> {
    let lines = canvas.lines().into_iter();
    lines.map(|line| line.to_string()).collect()
}

#[test]
fn a_rectangle_takes_as_many_cells_as_it_has_dots() {
    for wide in [2.0, 7.0, 20.0, 33.0] {
        let mut canvas = Canvas::new(Glyphs::Unicode, 20, 3);
        canvas.rect(
            frame(2.0, 2.0, 2.0 + wide, 9.0),
            Fill::None,
            Stroke::Plain,
            Style::new(),
        );
        let rows = drawn(canvas);
        let cells = rows[1].chars().filter(|c| *c != ' ').count();
        let ends = rows[0].trim().chars().count() as f64;
        assert!((ends - wide / 2.0).abs() <= 1.0, "{wide}: {rows:#?}");
        assert!(cells <= 2, "{rows:#?}");
    }
}

#[test]
fn letters_have_corners_and_narrow_pieces_keep_their_fill() {
    let mut canvas = Canvas::new(Glyphs::Ascii, 8, 6);
    let style = Style::new();
    canvas.rect(
        frame(0.0, 0.0, 16.0, 12.0),
        Fill::Blank,
        Stroke::Plain,
        style,
    );
    canvas.rect(
        frame(0.0, 16.0, 16.0, 20.0),
        Fill::Rising,
        Stroke::Plain,
        style,
    );
    canvas.word((2, 1), "beam", style);
    assert_eq!(
        drawn(canvas),
        [
            "+------+", "| beam |", "+------+", "        ", "////////", "        "
        ]
    );
}

#[test]
fn an_edge_does_not_run_into_a_fill_that_looks_like_a_line() {
    let mut canvas = Canvas::new(Glyphs::Ascii, 4, 3);
    let area = frame(0.0, 0.0, 8.0, 12.0);
    canvas.rect(area, Fill::Level, Stroke::Plain, Style::new());
    assert_eq!(drawn(canvas), ["+--+", "|--|", "+--+"]);
}

#[test]
fn what_is_no_number_or_far_away_is_drawn_without_harm() {
    for glyphs in [Glyphs::Unicode, Glyphs::Ascii] {
        let mut canvas = Canvas::new(glyphs, 4, 2);
        let style = Style::new();
        let odd = frame(f64::NAN, f64::NEG_INFINITY, 1e300, f64::INFINITY);
        canvas.rect(odd, Fill::Half, Stroke::Dashed, style);
        canvas.line((f64::NAN, 0.0), (1e9, -1e9), Stroke::Plain, style);
        canvas.word((3, 0), "too long", style);
        assert!(drawn(canvas).iter().all(|row| text::width(row) == 4));
    }
    assert!(drawn(Canvas::new(Glyphs::Unicode, 0, 3)).is_empty());
}

#[test]
fn a_wide_letter_takes_two_cells() {
    let mut canvas = Canvas::new(Glyphs::Unicode, 5, 1);
    canvas.word((1, 0), "漢x", Style::new());
    assert_eq!(drawn(canvas), [" 漢x "]);
}

#[test]
fn dots_lie_where_unicode_has_them() {
    // U+2801 is dot 1, the upper left; U+2880 dot 8, the lower right.
    for (x, y, letter) in [(0.0, 0.0, '\u{2801}'), (1.0, 3.0, '\u{2880}')] {
        let mut canvas = Canvas::new(Glyphs::Unicode, 1, 1);
        canvas.line((x, y), (x, y), Stroke::Plain, Style::new());
        assert_eq!(drawn(canvas), [letter.to_string()]);
    }
}
