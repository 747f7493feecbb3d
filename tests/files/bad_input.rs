//! Every unusable input gives one message with file and place, says what would be right,
//! ends with exit code 2 and is left untouched.

use crate::bench::Bench;

/// Runs `assess` and opening on a file that must be refused; gives the one message, which
/// both give alike.
fn refused(bench: &Bench, name: &str) -> String {
    let before = std::fs::read(bench.path(name)).ok();
    let run = |args: &[&str]| {
        let output = bench.program().args(args).output().expect("a run");
        assert_eq!(output.status.code(), Some(2), "{output:?}");
        assert!(output.stdout.is_empty(), "{output:?}");
        let message = String::from_utf8(output.stderr).expect("text");
        assert_eq!(message.lines().count(), 1, "{message}");
        message.trim_end().to_owned()
    };
    let message = run(&["assess", name]);
    assert_eq!(run(&["assess", "--json", name]), message);
    if before.is_some() {
        assert_eq!(run(&[name]), message);
    }
    assert_eq!(
        std::fs::read(bench.path(name)).ok(),
        before,
        "{name} was touched"
    );
    message
}

/// A line in a section, the column where the trouble is, and what the message must hold.
type Slip = (&'static str, usize, &'static [&'static str]);

fn slips(section: &str, slips: &[Slip]) {
    let bench = Bench::new();
    for (line, column, wants) in slips {
        bench.write("b.toml", format!("format = 1\n\n[{section}]\n{line}\n"));
        let message = refused(&bench, "b.toml");
        assert!(
            message.starts_with(&format!("b.toml:4:{column}: ")),
            "{line} gave {message}"
        );
        for want in *wants {
            assert!(message.contains(want), "{want:?} is not in {message}");
        }
    }
}

#[test]
fn numbers_that_are_none_or_out_of_range() {
    slips(
        "working_area",
        &[
            (
                "travel_x_mm = nan",
                15,
                &["no ordinary number", "50 to 10000 mm"],
            ),
            (
                "travel_x_mm = inf",
                15,
                &["no ordinary number", "50 to 10000 mm"],
            ),
            (
                "travel_x_mm = -inf",
                15,
                &["no ordinary number", "50 to 10000 mm"],
            ),
            (
                "travel_x_mm = 0",
                15,
                &["0 is out of range", "50 to 10000 mm"],
            ),
            (
                "travel_x_mm = -600.0",
                15,
                &["-600 is out of range", "50 to 10000 mm"],
            ),
            (
                "travel_y_mm = 10000.5",
                15,
                &["10000.5 is out of range", "50 to 10000 mm"],
            ),
            ("travel_y_mm = 1e400", 15, &["50 to 10000 mm"]),
            (
                "travel_z_mm = 123456789012345678901234567890",
                15,
                &["20 to 10000 mm"],
            ),
        ],
    );
    slips("drive", &[("carriages_x = 2.5", 15, &["whole number"])]);
}

#[test]
fn wrong_units_and_types() {
    slips(
        "working_area",
        &[
            (
                "travel_x_mm = \"600 mm\"",
                15,
                &["the text \"600 mm\"", "a number in mm", "such as 600"],
            ),
            ("travel_x_mm = \"none\"", 15, &["a number in mm"]),
            (
                "travel_x_mm = 600 mm",
                15,
                &["numbers stand without quotes or unit"],
            ),
            ("travel_x_mm = 600,5", 18, &["numbers take a point"]),
            (
                "travel_x_mm = true",
                15,
                &["the word true", "a number in mm"],
            ),
            (
                "travel_x_mm = { mm = 600 }",
                15,
                &["a table", "a number in mm"],
            ),
            ("paint = \"yes\"", 9, &["true or false, without quotes"]),
            (
                "beam_tube = 80",
                13,
                &["the number 80", "steel tube", "\"tube-80x80x4\""],
            ),
            ("materials = \"softwood\"", 13, &["a list of ids"]),
            ("materials = [1]", 14, &["the number 1", "ids in quotes"]),
            ("rail_seat = 3", 13, &["\"raw-tube\"", "\"epoxy-bed\""]),
        ],
    );
}

#[test]
fn unknown_keys_parts_and_words() {
    slips(
        "working_area",
        &[
            (
                "travle_x_mm = 600",
                1,
                &["no choice \"travle_x_mm\"", "did you mean \"travel_x_mm\"?"],
            ),
            ("travel_x = 600", 1, &["did you mean \"travel_x_mm\"?"]),
            ("motor_x = \"stepper-23-3.0\"", 1, &["belongs in [drive]"]),
            ("title = \"x\"", 1, &["belongs at the top"]),
            (
                "beam_tube = \"tube-80x80x44\"",
                13,
                &["no steel tube", "did you mean \"tube-80x80x4\"?"],
            ),
            (
                "beam_tube = \"plate-15\"",
                13,
                &["listed as aluminium plate", "steel tube"],
            ),
            (
                "materials = [\"softwood\", \"plywod\"]",
                26,
                &["did you mean \"plywood\"?"],
            ),
            (
                "materials = [\"softwood\", \"softwood\"]",
                26,
                &["named twice"],
            ),
            ("rail_seat = \"shimmed\"", 13, &["did you mean \"shims\"?"]),
            ("frame_plan = \"none\"", 14, &["no frame plan \"none\""]),
        ],
    );
}

#[test]
fn money_in_a_wrong_currency() {
    slips(
        "working_area",
        &[
            ("budget = 3500", 10, &["the number 3500", "\"3500 EUR\""]),
            (
                "budget = \"3500\"",
                10,
                &["lacks its currency", "\"3500 EUR\""],
            ),
            (
                "budget = \"3500 euro\"",
                10,
                &["three capital letters", "\"EUR\""],
            ),
            (
                "budget = \"3500 XTS\"",
                10,
                &["no price book has a rate for XTS", "EUR"],
            ),
            ("budget = \"-5 EUR\"", 10, &["below zero"]),
            ("budget = \"many EUR\"", 10, &["not an amount"]),
        ],
    );
}

#[test]
fn whole_files_that_are_no_build_of_this_format() {
    let bench = Bench::new();
    for (text, place, want) in [
        ("", "1:1", "format = 1"),
        ("title = \"x\"\n", "1:1", "\"format\" is missing"),
        (
            "format = 2\nwhat = \"is new\"\n",
            "1:10",
            "newer than this program",
        ),
        ("format = \"1\"\n", "1:10", "write format = 1"),
        ("format = 0\n", "1:10", "write format = 1"),
        (
            "format = 1\ntitel = \"x\"\n",
            "2:1",
            "did you mean \"title\"?",
        ),
        ("format = 1\ntitle = 5\n", "2:9", "a text in quotes"),
        (
            "format = 1\nspindle_clamp = \"x\"\n",
            "2:1",
            "belongs in [spindle]",
        ),
        (
            "format = 1\n[working-area]\n",
            "2:2",
            "did you mean \"working_area\"?",
        ),
        ("format = 1\ndrive = 3\n", "2:9", "it is a section, [drive]"),
        (
            "format = 1\n[accepted]\nno-rule-of-this-name-at-all = \"x\"\n",
            "3:1",
            "there is no rule",
        ),
        (
            "format = 1\n[drive]\nmicrosteps = 8\nmicrosteps = 16\n",
            "4:1",
            "\"microsteps\" is there twice",
        ),
        ("format = 1\ntitle = \"open\n", "2:14", "string"),
        ("format = 1\n= 3\n", "2:1", "key"),
    ] {
        bench.write("b.toml", text);
        let message = refused(&bench, "b.toml");
        assert!(
            message.starts_with(&format!("b.toml:{place}: ")),
            "{text:?} gave {message}"
        );
        assert!(message.contains(want), "{want:?} is not in {message}");
    }
}

#[test]
fn files_that_hold_no_text_or_cannot_be_read() {
    let bench = Bench::new();
    bench.write("zero.toml", b"format = 1\n\0");
    assert!(refused(&bench, "zero.toml").contains("zero byte at byte 11"));
    bench.write("latin.toml", b"format = 1\ntitle = \"Fr\xe4se\"\n");
    let message = refused(&bench, "latin.toml");
    assert!(
        message.starts_with("latin.toml:2:12: ") && message.contains("UTF-8"),
        "{message}"
    );
    bench.write("folder/in.toml", "format = 1\n");
    assert_eq!(
        refused(&bench, "folder"),
        "folder: this is a folder; give a file"
    );
    assert_eq!(
        refused(&bench, "missing.toml"),
        "missing.toml: there is no such file"
    );
    let output = bench.program().arg("missing.toml").output().expect("a run");
    let message = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        output.status.code() == Some(2) && message.contains("begin a new build"),
        "{message}"
    );
    assert!(!bench.path("missing.toml").exists());
}

#[test]
fn huge_and_deep_files_are_refused() {
    let bench = Bench::new();
    let huge = format!("format = 1\ntitle = \"{}\"\n", "x".repeat(10_000_000));
    bench.write("huge.toml", &huge);
    assert!(refused(&bench, "huge.toml").contains("larger than 2 MiB"));
    for (name, text) in [
        (
            "lists.toml",
            format!("format = 1\ntitle = {}", "[".repeat(1_900_000)),
        ),
        (
            "tables.toml",
            format!("format = 1\ntitle = {}", "{a=".repeat(600_000)),
        ),
        (
            "dots.toml",
            format!("format = 1\n{}b = 1", "a.".repeat(900_000)),
        ),
        (
            "header.toml",
            format!("format = 1\n[{}b]", "a.".repeat(900_000)),
        ),
    ] {
        bench.write(name, text);
        assert!(
            refused(&bench, name).contains("nested too deeply"),
            "{name}"
        );
    }
    let output = bench
        .program()
        .args(["assess", "-"])
        .write_stdin(huge)
        .output()
        .expect("a run");
    assert_eq!(output.status.code(), Some(2));
    assert!(
        String::from_utf8_lossy(&output.stderr).starts_with("standard input: the file is larger")
    );
}

#[test]
fn nothing_from_a_file_steers_the_terminal() {
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n\"\\u001b[31m\\u202e\" = 1\n");
    let message = refused(&bench, "b.toml");
    assert!(message.contains("\\u{1b}[31m\\u{202e}"), "{message}");
    let title = "format = 1\ntitle = \"\\u001b]0;x\\u0007\\u202e\\u009b2J\"\n";
    bench.write("b.toml", title);
    for args in [&["assess", "b.toml"][..], &["assess", "b.toml", "--json"]] {
        let output = bench.program().args(args).output().expect("a run");
        let text = String::from_utf8(output.stdout).expect("text");
        let steers = |c: char| (c.is_control() && c != '\n') || c == '\u{202e}';
        assert!(text.len() > 500 && !text.contains(steers), "{text:?}");
    }
}
