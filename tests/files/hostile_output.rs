//! Texts from files that are made to steer a terminal, to act in a spreadsheet or in a browser, or
//! to turn what stands beside them: whatever the program prints of them, they stay texts.
//!
//! The parts, rules, tasks and words of a whole catalogue get such texts, and a build gets them
//! wherever it takes text. Then every command and every sheet speaks of it.

use std::io::Read as _;
use std::process::Output;

use crate::bench::Bench;
use crate::screen::{draw, press, rows};
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::screen::{ColorWish, Session};
use gantrywright::sheets::{Format, SheetKind};
use gantrywright::store::visible::is_hidden;
use gantrywright::store::{build_file, embedded, library};
use gantrywright::words::Words as _;
use ratatui::layout::Size;

/// What is put behind texts: commands for terminals, marks that turn the writing, markup.
const STRANGE: &str = "\\u001b]0;x\\u0007\\u202e\\u2066\\u200f\\u061c\\u009b2J\\u200b<b>&";

/// The keys of the catalogue whose texts people read.
const TEXTS: [&str; 9] = [
    "title", "source", "why", "how", "expect", "note", "means", "label", "standard",
];

/// The longest text that still has room for what is put behind it.
const ROOM: usize = 45;

/// A line of a shipped file with a strange text in it, where people read it.
fn made_strange(line: &str) -> String {
    let Some((key, value)) = line.split_once(" = \"") else {
        return line.to_owned();
    };
    let Some(text) = value.strip_suffix('"').filter(|text| text.len() < ROOM) else {
        return line.to_owned();
    };
    let short: String = text.chars().take(12).collect();
    match key {
        "title" => format!("title = \"={text}\\u001b[2J\\u202e<b>\""),
        "short" if !short.contains('\\') => format!("short = \"@{short}\\u202e\\u001b\""),
        _ if TEXTS.contains(&key) => format!("{key} = \"={text}{STRANGE}\""),
        _ => line.to_owned(),
    }
}

/// A folder with the whole catalogue made strange, and a build of the same kind.
fn strange() -> Bench {
    let bench = Bench::new();
    for file in embedded::catalogue() {
        let lines: Vec<String> = file.text().lines().map(made_strange).collect();
        let name = file.name.replace('/', "-");
        bench.write(&format!("own/{name}"), lines.join("\n"));
    }
    let build = format!(
        "format = 1\ntitle = \"=1+2{STRANGE}<script>alert(1)</script>|`\"\nnote = \"@sum(1){STRANGE}<img src=x>\"\n\
         [working_area]\nmaterials = [\"softwood\"]\n[drive]\n\
         [variants.\"=v<b>\"]\nnote = \"+cmd{STRANGE}\"\n[variants.\"=v<b>\".set]\ntravel_x_mm = 700\n\
         [accepted]\nprices-invented = \"=x{STRANGE}\"\n\
         [purchases.rail-15]\nstatus = \"ordered\"\norder = \"=cmd|'/c calc'!A0{STRANGE}\"\nnote = \"-2+3{STRANGE}\"\n\
         payments = [{{ amount = \"24 EUR\", date = \"2026-11-20\", by = \"\\t=x{STRANGE}\" }}]\n"
    );
    bench.write("b.toml", build);
    bench
}

fn run(bench: &Bench, args: &[&str], typed: &str) -> Output {
    let mut program = bench.program();
    program.args(args).write_stdin(typed);
    program.output().expect("a run")
}

/// What a command answers, without a sign that does not show but for those that belong to the
/// format.
fn answer(bench: &Bench, args: &[&str], also: &[char]) -> String {
    let output = run(bench, args, "");
    let (said, told) = (text(output.stdout), text(output.stderr));
    assert!(output.status.code() < Some(2), "{args:?}: {told}");
    let hidden = |letter: char| letter != '\n' && is_hidden(letter) && !also.contains(&letter);
    for text in [&said, &told] {
        let at = text.find(hidden);
        let near: String = text[at.unwrap_or(0)..].chars().take(30).collect();
        assert!(at.is_none(), "{args:?} lets {near:?} through");
    }
    said
}

fn text(bytes: Vec<u8>) -> String {
    String::from_utf8(bytes).expect("text")
}

#[test]
fn no_command_lets_a_text_steer_the_terminal() {
    let bench = strange();
    let own = ["--configs", "own"];
    for args in [
        &["assess", "b.toml"][..],
        &["assess", "b.toml", "--json"],
        &["assess", "b.toml", "--safety"],
        &["why", "b.toml"],
        &["why", "b.toml", "cost.likely"],
        &["why", "b.toml", "--json"],
        &["ask", "b.toml"],
        &["compare", "b.toml", "--variants", "main,=v<b>"],
        &["weigh", "b.toml", "--choices", "beam_tube"],
        &["weigh", "b.toml", "--sweep", "beam_tube"],
        &["parts"],
        &["parts", "--json"],
        &["choices"],
        &["choices", "--json"],
        &["quantities"],
        &["quantities", "--json"],
        &["words"],
        &["words", "--json"],
        &["bundle", "b.toml", "--output", "out\u{1b}[2J\u{202e}.toml"],
    ] {
        let said = answer(&bench, &[args, &own[..]].concat(), &[]);
        assert!(said.len() > 50, "{args:?}: {said}");
    }
    let svg = answer(&bench, &["picture", "b.toml", "--configs", "own"], &[]);
    assert!(svg.starts_with("<svg") && !svg.contains("<script") && !svg.contains("<b>"));
}

/// Every page that a letter opens, and what enter and the arrows show there.
#[test]
fn no_page_of_the_screen_lets_a_text_through() {
    let bench = strange();
    let catalogue = library::load(&[bench.path("own")]).expect("a catalogue");
    let text = std::fs::read_to_string(bench.path("b.toml")).expect("there");
    let build = build_file::read(&text, "b.toml", &catalogue).expect("a build");
    let today = jiff::civil::date(2026, 11, 25);
    let session = Session {
        path: Some(bench.path("\u{1b}[2J\u{202e}.toml")),
        original: Some(text),
        ..Session::new(catalogue, build, today, ColorWish::Never)
    };
    let size = Size {
        width: 120,
        height: 40,
    };
    let mut state = State::new(session, size).expect("it can be assessed");
    let mut looked = 0;
    let mut look = |state: &State| {
        let buffer = draw(state, Colours::None, Glyphs::Unicode);
        for cell in &buffer.content {
            assert!(!cell.symbol().contains(is_hidden), "{:?}", rows(&buffer));
        }
        looked += 1;
    };
    for letter in "12345wbevp67lict?S".chars() {
        press(&mut state, &[Key::Char(letter)]);
        look(&state);
        for key in [
            Key::Down,
            Key::Enter,
            Key::Down,
            Key::Down,
            Key::Enter,
            Key::Char('d'),
        ] {
            press(&mut state, &[key]);
            look(&state);
        }
        for _ in 0..20 {
            if !state.layers.is_empty() || state.place() != Place::Choices {
                press(&mut state, &[Key::Esc]);
            }
        }
    }
    assert!(looked > 100);
}

#[test]
fn no_sheet_lets_a_text_act() {
    let bench = strange();
    for kind in SheetKind::WORDS {
        let sheet = |format: Format, also: &[char]| {
            let args = [
                "sheet",
                "b.toml",
                kind.id,
                "--format",
                format.id(),
                "--configs",
                "own",
            ];
            answer(&bench, &args, also)
        };
        sheet(Format::Text, &['\u{c}']);
        sheet(Format::Json, &[]);
        for format in [Format::Html, Format::Markdown] {
            let page = sheet(format, &[]);
            for mark in ["<script", "<img", "<b>"] {
                assert!(!page.contains(mark), "{} {format:?}", kind.id);
            }
        }
        let page = sheet(Format::Html, &[]);
        assert!(
            page.contains("Content-Security-Policy\" content=\"default-src"),
            "{page}"
        );
        let table = sheet(Format::Csv, &['\r']);
        let mut reader = csv::ReaderBuilder::new();
        reader.has_headers(false).flexible(true);
        for record in reader.from_reader(table.as_bytes()).records() {
            for cell in &record.expect("CSV") {
                let acts = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
                assert!(!acts || cell.parse::<f64>().is_ok(), "{}: {cell}", kind.id);
            }
        }
    }
}

#[test]
fn no_cell_of_a_workbook_is_made_a_formula() {
    let bench = strange();
    let args = [
        "sheet",
        "b.toml",
        "dossier",
        "--format",
        "xlsx",
        "--configs",
        "own",
    ];
    let output = run(&bench, &args, "");
    let mut book = zip::ZipArchive::new(std::io::Cursor::new(output.stdout)).expect("a workbook");
    let mut texts = 0;
    for place in 0..book.len() {
        let mut xml = String::new();
        let mut part = book.by_index(place).expect("a part");
        part.read_to_string(&mut xml).expect("text");
        let hidden = |letter: char| !matches!(letter, '\n' | '\r') && is_hidden(letter);
        assert!(!xml.contains(hidden), "{:?}", part.name());
        // What begins like a formula is among the texts, and in no formula.
        texts += xml.matches(">=").count();
        for formula in xml.split("<f>").skip(1) {
            let formula = formula.split("</f>").next().unwrap_or_default();
            for mark in ["cmd", "[2J", "1+2", "sum(1)"] {
                let quoted = formula
                    .split('"')
                    .skip(1)
                    .step_by(2)
                    .any(|text| text.contains(mark));
                assert!(!formula.contains(mark) || quoted, "{formula}");
            }
        }
    }
    assert!(texts > 20, "{texts}");
}

#[test]
fn what_is_typed_at_the_command_line_is_made_visible_too() {
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    let odd = "\u{1b}[2J\u{202e}x";
    let dashed = format!("--{odd}");
    for args in [
        &["assess", odd][..],
        &["assess", "b.toml", "--set", odd],
        &["assess", "b.toml", "--variant", odd],
        &["assess", "b.toml", "--configs", odd],
        &["assess", dashed.as_str()],
        &["why", "b.toml", odd],
        &["sheet", "b.toml", odd],
        &["demo", odd],
        &["find", "b.toml", "--free", odd],
        &["weigh", "b.toml", "--by", odd],
        &["quotes", "b.toml", odd],
    ] {
        let output = run(&bench, args, "");
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        let told = text(output.stderr);
        let hidden = |letter: char| letter != '\n' && is_hidden(letter);
        assert!(!told.contains(hidden), "{args:?}: {told:?}");
        assert!(told.contains("\\u{202e}x"), "{args:?}: {told:?}");
    }
}

#[test]
fn the_talk_line_by_line_lets_nothing_through() {
    let bench = strange();
    let typed = "bill\nwarnings\nfigures\nvariants\nsheets\n\u{1b}[2J\u{202e}\nnote\n1\n2\n3\n4\nhelp\nquit\n";
    let output = run(&bench, &["--plain", "b.toml", "--configs", "own"], typed);
    let said = text(output.stdout) + &text(output.stderr);
    assert!(said.len() > 5000, "{said}");
    assert!(
        !said.contains(|letter: char| letter != '\n' && is_hidden(letter)),
        "{said:?}"
    );
}
