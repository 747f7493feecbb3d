use super::*;
use crate::build::choices;
use crate::store::library;

/// Few are free, so that a look is over at once.
const FREE: [&str; 2] = ["guide_z", "cooler"];

/// What was asked, and the answers, for what somebody types.
fn asked(typed: &str) -> (bool, String, Answers) {
    let desk = Desk {
        catalogue: library::over_built_in(Vec::new()).expect("the embedded catalogue"),
        today: jiff::civil::date(2026, 11, 25),
        free: FREE.map(|id| choices::find(id).expect("a choice")).to_vec(),
        speller: crate::units::respell::Speller::default(),
    };
    let mut answers = Answers::default();
    let mut out = Vec::new();
    let ended = ask(&mut answers, &desk, &mut typed.as_bytes(), &mut out).expect("no fault");
    (ended, String::from_utf8(out).expect("text"), answers)
}

fn typed(answers: &Answers, id: &str) -> String {
    answers.typed(interview::find(id).expect("a question"))
}

#[test]
fn enter_alone_skips_every_question() {
    let (ended, text, answers) = asked(&"\n".repeat(interview::all().len() + 1));
    assert!(ended);
    assert_eq!(answers, Answers::default());
    for prompt in interview::all() {
        assert!(
            text.contains(&format!(". {}", &prompt.title[..20])),
            "{text}"
        );
    }
    for line in text.lines() {
        use unicode_width::UnicodeWidthStr as _;
        assert!(line.width() <= 80, "{line}");
    }
}

#[test]
fn back_goes_back_and_skip_takes_an_answer_away() {
    let rest = "\n".repeat(interview::all().len() - 2);
    let (ended, _, answers) = asked(&format!("mdf\n500x300\nback\n700x300\n{rest}\n"));
    assert!(ended);
    assert_eq!(typed(&answers, "materials"), "mdf");
    assert_eq!(typed(&answers, "size"), "700x300");
    let rest = "\n".repeat(interview::all().len() - 1);
    let (_, _, answers) = asked(&format!("mdf\nback\nskip\n{rest}\n"));
    assert_eq!(answers, Answers::default());
}

#[test]
fn a_slip_is_told_and_asked_again() {
    let rest = "\n".repeat(interview::all().len() - 1);
    let (_, text, answers) = asked(&format!("plywod\nplywood\n{rest}\n"));
    assert!(text.contains("did you mean \"plywood\"?"), "{text}");
    assert_eq!(typed(&answers, "materials"), "plywood");
}

#[test]
fn an_answer_can_be_changed_at_the_end() {
    let rest = "\n".repeat(interview::all().len());
    let (ended, _, answers) = asked(&format!("{rest}2\n450x450\n\n"));
    assert!(ended);
    assert_eq!(typed(&answers, "size"), "450x450");
}

#[test]
fn the_end_of_the_input_and_quit_leave() {
    for typed in ["", "mdf\n", "mdf\nquit\n"] {
        let (ended, text, _) = asked(typed);
        assert!(!ended && text.ends_with("Nothing was planned.\n"), "{text}");
    }
}
