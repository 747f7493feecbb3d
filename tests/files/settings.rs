//! The settings of the user: their file with its faults, keys of one's own, and the page
//! that changes them.

use std::path::Path;

use gantrywright::build::{Build, Value};
use gantrywright::screen::Wishes;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Notice, State};
use gantrywright::screen::update::{Message, Task, update};
use gantrywright::store::settings::{self, Beside, Settings, ThemeWish};
use gantrywright::units::{Marks, System};
use predicates::prelude::*;

use crate::bench::Bench;
use crate::screen::{go_to, open, page, press, type_in};

fn read(text: &str) -> Result<Settings, String> {
    settings::read(text, "settings.toml").map_err(|error| error.to_string())
}

#[test]
fn a_file_says_what_is_wanted() {
    let text = "units = \"inch\"\ndecimal_mark = \",\"\nthousands_mark = \"none\"\ntheme = \"light\"\nmouse = true\n\n[keys]\nwarnings = \"W\"\n";
    let settings = read(text).expect("settings");
    assert_eq!(settings.units, Some(System::Inch));
    assert_eq!(
        (settings.decimal, settings.thousands),
        (Some(','), Some(None))
    );
    assert_eq!(settings.theme, Some(ThemeWish::Light));
    assert_eq!(settings.mouse, Some(true));
    assert_eq!(settings.keys[0].action.at, (8, 1));
    assert_eq!(read(""), Ok(Settings::default()));
}

#[test]
fn a_fault_is_told_with_its_place_and_what_would_be_right() {
    for (text, place, told) in [
        (
            "unit = \"inch\"\n",
            "1:1",
            "there is no setting \"unit\"; did you mean \"units\"?",
        ),
        (
            "units = \"miles\"\n",
            "1:9",
            "units: \"miles\" is none of metric, inch",
        ),
        ("units = 3\n", "1:9", "it takes a text in quotes"),
        ("theme = \"pink\"\n", "1:9", "none of auto, dark, light"),
        ("mouse = \"on\"\n", "1:9", "true or false, without quotes"),
        ("decimal_mark = \";\"\n", "1:16", "neither \".\" nor \",\""),
        ("thousands_mark = \"x\"\n", "1:18", "none of \"space\""),
        (
            "decimal_mark = \",\"\nthousands_mark = \",\"\n",
            "2:18",
            "',' is the decimal mark already",
        ),
        ("[keys]\nwarnings = []\n", "2:12", "the list is empty"),
        ("[keys]\nwarnings = 3\n", "2:12", "a text in quotes"),
        ("keys = 3\n", "1:8", "it is a section, [keys]"),
        (
            "units = inch\n",
            "1:9",
            "neither a number nor a text in quotes",
        ),
    ] {
        let wrong = read(text).expect_err(text);
        assert!(
            wrong.starts_with(&format!("settings.toml:{place}: ")),
            "{wrong}"
        );
        assert!(wrong.contains(told), "{told:?} is not in {wrong}");
    }
}

#[test]
fn what_is_changed_keeps_remarks_and_keys() {
    let old = "# mine\nunits = \"inch\" # at home\n\n[keys]\nwarnings = \"W\"\n";
    let mut settings = read(old).expect("settings");
    settings.units = Some(System::Metric);
    settings.thousands = Some(Some('\''));
    let new = settings::changed(old, "settings.toml", &settings).expect("changed");
    assert_eq!(
        new,
        "# mine\nunits = \"metric\" # at home\nthousands_mark = \"'\"\n\n[keys]\nwarnings = \"W\"\n"
    );
    let again = settings::read(&new, "settings.toml").expect("settings");
    assert_eq!(
        (again.units, again.thousands),
        (settings.units, settings.thousands)
    );
    // What cannot be read is not written over.
    assert!(settings::changed("units = ", "settings.toml", &settings).is_err());
}

#[test]
fn the_command_line_goes_over_the_file_and_the_file_over_the_locale() {
    let german = Marks::new(',', Some('.'));
    let mut beside = Beside {
        locale: german,
        ..Beside::default()
    };
    assert_eq!(Some(beside.shown(&Settings::default()).marks), german);
    let swiss = Settings {
        decimal: Some('.'),
        thousands: Some(Some('\'')),
        ..Settings::default()
    };
    assert_eq!(
        Some(beside.shown(&swiss).marks),
        Marks::new('.', Some('\''))
    );
    // A decimal point where the locale parts thousands with it: a space parts them then.
    let point = Settings {
        decimal: Some('.'),
        ..Settings::default()
    };
    assert_eq!(beside.shown(&point).marks, Marks::PLAIN);
    beside.marks = Marks::new('.', None);
    assert_eq!(Some(beside.shown(&swiss).marks), beside.marks);
}

/// A screen of 80 by 24 with some settings.
fn with(settings: Settings) -> State {
    let mut state = open(Build::default(), 80, 24);
    state.wish(Wishes {
        settings,
        file: Some("/nowhere/settings.toml".into()),
        ..Wishes::default()
    });
    state
}

fn inches() -> State {
    with(Settings {
        units: Some(System::Inch),
        ..Settings::default()
    })
}

fn travel(state: &State) -> Option<f64> {
    let travel = gantrywright::build::choices::find("travel_x_mm").expect("a choice");
    match (travel.get)(state.build()) {
        Value::Number(number) => number,
        _ => None,
    }
}

#[test]
fn a_lone_number_on_the_screen_is_in_inches_and_the_field_says_so() {
    let mut state = inches();
    go_to(&mut state, "travel_x_mm");
    let rows = page(&state, Glyphs::Unicode).join("\n");
    assert!(rows.contains("1.97 to 393.70 in"), "{rows}");
    type_in(&mut state, "24");
    press(&mut state, &[Key::Enter]);
    assert_eq!(travel(&state), Some(609.6));
    for (typed, mm) in [("600 mm", 600.0), ("23 5/8\"", 600.075), ("2 ft", 609.6)] {
        go_to(&mut state, "travel_x_mm");
        type_in(&mut state, typed);
        press(&mut state, &[Key::Enter]);
        assert_eq!(travel(&state), Some(mm), "{typed}");
    }
}

#[test]
fn the_arrows_step_in_round_inches() {
    let mut state = inches();
    go_to(&mut state, "travel_x_mm");
    press(&mut state, &[Key::Up, Key::Enter]);
    let inches = travel(&state).expect("a number") / 25.4;
    assert!(
        (inches / 2.0 - (inches / 2.0).round()).abs() < 1e-9,
        "{inches}"
    );
}

#[test]
fn what_is_typed_stands_in_the_field_as_it_was_typed() {
    let mut state = inches();
    go_to(&mut state, "travel_x_mm");
    type_in(&mut state, "600 mm");
    let rows = page(&state, Glyphs::Unicode).join("\n");
    assert!(rows.contains("type:  600 mm"), "{rows}");
}

#[test]
fn no_row_in_inches_shows_the_marks_that_stand_for_others() {
    for glyphs in [Glyphs::Unicode, Glyphs::Ascii] {
        let mut state = inches();
        for keys in [
            &[][..],
            &[Key::Char('w')],
            &[Key::Char('e')],
            &[Key::Char('t')],
        ] {
            press(&mut state, keys);
            for row in page(&state, glyphs) {
                assert!(
                    !row.contains(|c| ('\u{e000}'..='\u{e00f}').contains(&c)),
                    "{row}"
                );
                assert!(glyphs == Glyphs::Unicode || row.is_ascii(), "{row}");
            }
            press(&mut state, &[Key::Esc]);
            state.layers.clear();
        }
    }
}

#[test]
fn a_sheet_is_shown_as_it_is_printed() {
    let mut state = inches();
    press(&mut state, &[Key::Char('6'), Key::Down, Key::Enter]);
    assert_eq!(state.place(), Place::Sheet);
    let rows = page(&state, Glyphs::Unicode).join("\n");
    assert!(rows.contains("80x80x4 mm tube  980"), "{rows}");
}

#[test]
fn the_page_changes_a_setting_and_saves_it_at_once() {
    let mut state = with(Settings::default());
    press(&mut state, &[Key::Char('t')]);
    assert_eq!(state.place(), Place::Settings);
    let reaction = update(&mut state, Message::Key(Key::Right));
    let wanted = Settings {
        units: Some(System::Inch),
        ..Settings::default()
    };
    let file = Path::new("/nowhere/settings.toml").to_owned();
    assert_eq!(reaction.task, Some(Task::Keep(file, wanted)));
    assert_eq!(state.shown.system, System::Inch);
    // Both marks can never be the same, whatever is gone through.
    for _ in 0..4 {
        press(&mut state, &[Key::Down, Key::Right]);
        for _ in 0..6 {
            press(&mut state, &[Key::Right]);
            let marks = state.shown.marks;
            assert_ne!(marks.thousands(), Some(marks.decimal()));
        }
    }
}

#[test]
fn the_page_changes_theme_and_mouse_over_what_was_asked_for_at_the_start() {
    let mut state = with(Settings::default());
    state.wishes.beside.theme = Some(ThemeWish::Dark);
    assert_eq!(state.wishes.theme(), ThemeWish::Dark);
    assert!(!state.wishes.mouse());
    press(&mut state, &[Key::Char('t'), Key::End]);
    let reaction = update(&mut state, Message::Key(Key::Right));
    assert!(state.wishes.mouse());
    let Some(Task::Keep(_, kept)) = &reaction.task else {
        panic!("{:?}", reaction.task);
    };
    assert_eq!((kept.mouse, kept.theme), (Some(true), None));
    press(&mut state, &[Key::Up, Key::Right]);
    assert_eq!(state.wishes.settings.theme, Some(ThemeWish::Light));
    assert_eq!(state.wishes.theme(), ThemeWish::Light);
    let written = settings::changed("theme = \"dark\" # mine\n", "s", &state.wishes.settings);
    let written = written.expect("settings");
    assert_eq!(written, "theme = \"light\" # mine\nmouse = true\n");
}

#[test]
fn keys_of_ones_own_are_heard_and_shown() {
    let text = "[keys]\nwarnings = \"W\"\nbill = \"s\"\n";
    let mut state = with(read(text).expect("settings"));
    let Some(Notice::Failed(told)) = &state.notice else {
        panic!("nothing is told");
    };
    let place = "/nowhere/settings.toml:3:1: bill: \"s\" asks";
    assert!(told.contains(place), "{told}");
    press(&mut state, &[Key::Char('w')]);
    assert!(state.layers.is_empty());
    press(&mut state, &[Key::Char('W')]);
    assert_eq!(state.place(), Place::Warnings);
}

#[test]
fn printed_figures_stand_in_inches_and_json_never_does() {
    let bench = Bench::new();
    let run = |args: &[&str]| {
        let output = bench.program().args(args).output().expect("it runs");
        String::from_utf8(output.stdout).expect("text")
    };
    bench.write("b.toml", "format = 1\n");
    let inches = ["--units", "inch", "--marks", "1.234,5"];
    let json = ["assess", "b.toml", "--json"];
    assert_eq!(run(&[&json[..], &inches].concat()), run(&json));
    let page = run(&[&["assess", "b.toml"][..], &inches].concat());
    assert!(
        page.contains("in/min") && page.contains("lbf/mil, more is stiffer"),
        "{page}"
    );
    assert!(!page.contains("m/min "), "{page}");
    for line in page.lines() {
        let wide = unicode_width::UnicodeWidthStr::width(line);
        assert!(wide <= 84, "{wide}: {line}");
    }
    // The file does the same, and its own settings are no parts.
    let settings = "config/gantrywright/settings.toml";
    bench.write(
        settings,
        "units = \"inch\"\ndecimal_mark = \",\"\nthousands_mark = \".\"\n",
    );
    assert_eq!(run(&["assess", "b.toml"]), page);
    bench.write(settings, "units = \"miles\"\n");
    bench
        .program()
        .args(["assess", "b.toml"])
        .assert()
        .stdout(predicate::str::contains("m/min"))
        .stderr(predicate::str::contains(
            "settings.toml:1:9: units: \"miles\"",
        ));
}

#[test]
fn the_table_of_keys_names_every_action() {
    let bench = Bench::new();
    let output = bench.program().args(["keys", "--json"]).output();
    let output = output.expect("it runs");
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let rows = json["keys"].as_array().expect("rows");
    assert!(rows.len() > 100);
    for row in rows {
        let action = row["action"].as_str().expect("a name");
        assert!(!action.is_empty(), "{row}");
    }
    bench
        .program()
        .args(["keys", "bil"])
        .assert()
        .code(2)
        .stderr(predicate::str::contains("\"bill\""));
}
