//! What terminals send, spelled out.

use super::*;

fn heard(bytes: &str) -> Vec<Message> {
    Heard::default().hear(bytes.as_bytes())
}

fn keys(bytes: &str) -> Vec<Key> {
    let told = heard(bytes).into_iter().map(|message| match message {
        Message::Key(key) => key,
        other => panic!("{other:?}"),
    });
    told.collect()
}

#[test]
fn what_a_terminal_sends_becomes_keys() {
    let all = "qQ é漢\u{1b}[B\u{1b}OA\r\t\u{3}\u{7f}\u{8}\u{1b}[Z\u{1b}[3~\u{1b}[5~\u{1b}[6~";
    let expected = [
        Key::Char('q'),
        Key::Char('Q'),
        Key::Char(' '),
        Key::Char('é'),
        Key::Char('漢'),
        Key::Down,
        Key::Up,
        Key::Enter,
        Key::Tab,
        Key::Ctrl('c'),
        Key::Backspace,
        Key::Backspace,
        Key::BackTab,
        Key::Delete,
        Key::PageUp,
        Key::PageDown,
    ];
    assert_eq!(keys(all), expected);
}

/// As xterm, rxvt and the console of Linux spell them.
#[test]
fn home_end_and_function_keys_have_many_spellings() {
    for home in ["\u{1b}[H", "\u{1b}OH", "\u{1b}[1~", "\u{1b}[7~"] {
        assert_eq!(keys(home), [Key::Home], "{home:?}");
    }
    for end in ["\u{1b}[F", "\u{1b}OF", "\u{1b}[4~", "\u{1b}[8~"] {
        assert_eq!(keys(end), [Key::End], "{end:?}");
    }
    for first in ["\u{1b}OP", "\u{1b}[P", "\u{1b}[[A", "\u{1b}[11~"] {
        assert_eq!(keys(first), [Key::F(1)], "{first:?}");
    }
    let numbers = [15, 17, 18, 19, 20, 21, 23, 24];
    for (number, sent) in (5..).zip(numbers) {
        assert_eq!(keys(&format!("\u{1b}[{sent}~")), [Key::F(number)]);
    }
    assert_eq!(keys("\u{1b}[1;5R"), [Key::F(3)]);
}

#[test]
fn a_key_with_alt_and_a_released_one_are_nothing() {
    assert_eq!(keys("\u{1b}u\u{1b}[1;3A\u{1b}é\u{1b}[97;3u"), []);
    assert_eq!(keys("\u{1b}[97;1:3u\u{1b}[1;1:3B"), []);
    // Shift and Ctrl change nothing at keys that have one meaning.
    assert_eq!(keys("\u{1b}[1;5A\u{1b}[1;2B\u{1b}[3;5~").len(), 3);
    assert_eq!(keys("\u{1b}[67;5u\u{1b}[99;5:2u"), [Key::Ctrl('c'); 2]);
    assert_eq!(keys("\u{1b}[9;2u\u{1b}[27u"), [Key::BackTab, Key::Esc]);
}

#[test]
fn an_escape_alone_is_the_key_and_one_before_a_sequence_too() {
    assert_eq!(keys("\u{1b}"), [Key::Esc]);
    assert_eq!(keys("\u{1b}\u{1b}"), [Key::Esc, Key::Esc]);
    assert_eq!(keys("\u{1b}\u{1b}[A"), [Key::Esc, Key::Up]);
}

#[test]
fn a_key_in_two_pieces_is_one() {
    let whole = "\u{1b}[1;5C é漢\u{1b}OB\u{1b}[<0;8;4M\u{1b}[200~a\u{1b}[20b\u{1b}[201~x";
    let expected = heard(whole);
    assert_eq!(expected.len(), 8, "{expected:?}");
    for cut in 1..whole.len() {
        let (one, two) = whole.as_bytes().split_at(cut);
        if one.ends_with(b"\x1b") {
            continue; // that is the key
        }
        let mut heard = Heard::default();
        let mut told = heard.hear(one);
        told.extend(heard.hear(two));
        assert_eq!(told, expected, "cut at {cut}");
        assert!(heard.rest.is_empty());
    }
}

#[test]
fn pasted_text_is_told_as_one_whatever_is_in_it() {
    let paste = |text: &str| Message::Paste(text.to_owned());
    assert_eq!(heard("\u{1b}[200~\u{1b}[201~"), [paste("")]);
    assert_eq!(
        heard("\u{1b}[200~q\r\u{1b}[A é\u{1b}[201~q"),
        [paste("q\r\u{1b}[A é"), Message::Key(Key::Char('q'))]
    );
    let mut pieces = Heard::default();
    assert_eq!(pieces.hear(b"\x1b[200~"), []);
    let piece = "0123456789 ".repeat(100);
    for _ in 0..50 {
        assert_eq!(pieces.hear(piece.as_bytes()), []);
    }
    for byte in &PASTED[..5] {
        assert_eq!(pieces.hear(&[*byte]), []);
    }
    assert_eq!(pieces.hear(b"~"), [paste(&piece.repeat(50))]);
}

#[test]
fn of_the_mouse_the_wheel_and_the_left_button_are_heard() {
    let told = |gesture| {
        vec![Message::Mouse(Mouse {
            gesture,
            column: 7,
            row: 3,
        })]
    };
    assert_eq!(heard("\u{1b}[<64;8;4M"), told(Gesture::WheelUp));
    assert_eq!(heard("\u{1b}[<65;8;4M"), told(Gesture::WheelDown));
    assert_eq!(heard("\u{1b}[<0;8;4M"), told(Gesture::Click));
    // With Shift held.
    assert_eq!(heard("\u{1b}[<4;8;4M"), told(Gesture::Click));
    // As terminals tell it that know no numbers.
    assert_eq!(heard("\u{1b}[M ($"), told(Gesture::Click));
    assert_eq!(heard("\u{1b}[M`($"), told(Gesture::WheelUp));
    // Released, another button, moved, outside, broken.
    for nothing in ["<0;8;4m", "<2;8;4M", "<35;8;4M", "<0;0;4M", "<0;8M", "<;;M"] {
        assert_eq!(heard(&format!("\u{1b}[{nothing}")), [], "{nothing}");
    }
}

#[test]
fn what_is_no_key_is_passed_over_and_what_follows_is_heard() {
    for nothing in [
        "\u{1b}[?62;22c",
        "\u{1b}[5;9R",
        "\u{1b}[I",
        "\u{1b}[99~",
        "\u{1b}[1\u{1b}[?1u",
        "\u{1b}OX",
        "\u{1b}[[Z",
        "\u{85}",
        "\u{1b}[4294967296~",
    ] {
        let told = keys(&format!("{nothing}q"));
        assert_eq!(told.last(), Some(&Key::Char('q')), "{nothing:?}");
        assert!(told.len() <= 2, "{nothing:?}: {told:?}");
    }
    let mut broken = Heard::default();
    assert_eq!(
        broken.hear(b"\xff\xc3(\xf0\x9f"),
        [Message::Key(Key::Char('('))]
    );
    assert_eq!(broken.hear(b"q"), [Message::Key(Key::Char('q'))]);
    let endless = format!("\u{1b}[{}", "1;".repeat(LONGEST));
    assert_eq!(keys(&format!("{endless}\rq")), [Key::Enter, Key::Char('q')]);
}
