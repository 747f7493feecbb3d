//! Files with rules of one's own that make no sense: one message each, with line and column, that
//! says what would be right.

use gantrywright::store::library::{self, Overlay};

const RULE: &str = "[[rule]]\nid = \"mine\"\ntitle = \"Mine\"\nseverity = \"caution\"\n\
                    step = \"drive\"\nsays = \"It is {1}.\"\ninstead = \"Think again.\"\n";

fn refused(text: &str) -> String {
    let file = Overlay {
        name: "own.toml".to_owned(),
        inside: "own.toml".to_owned(),
        text: text.to_owned(),
    };
    let message = library::over_built_in(vec![vec![file]]).expect_err(text);
    message.to_string()
}

#[test]
fn each_fault_is_told_at_its_place() {
    let when = |when: &str| format!("{RULE}when = [{when}]\n");
    let travel = "{ choice = \"travel_x_mm\", over = 500 }";
    let good = when(travel);
    let cases = [
        (
            when("{ choice = \"travl_x_mm\", over = 5 }"),
            "8:20",
            "did you mean \"travel_x_mm\"?",
        ),
        (
            when("{ choice = \"travel_x_mm\", is = 500 }"),
            "8:40",
            "it takes over, under, at_least or at_most, not is",
        ),
        (
            when("{ choice = \"travel_x_mm\", over = \"5 kg\" }"),
            "8:42",
            "kg is a unit of mass",
        ),
        (
            when("{ choice = \"travel_x_mm\", over = \"much\" }"),
            "8:42",
            "is not a number in mm",
        ),
        (
            when("{ choice = \"travel_x_mm\", over = 99999 }"),
            "8:42",
            "out of range",
        ),
        (
            when("{ choice = \"materials\", is = \"brass\" }"),
            "8:38",
            "it takes has or lacks, not is",
        ),
        (
            when("{ choice = \"materials\", has = \"bras\" }"),
            "8:39",
            "did you mean \"brass\"?",
        ),
        (
            when("{ choice = \"materials\", has = \"brass,plywood\" }"),
            "8:39",
            "name one entry",
        ),
        (
            when("{ choice = \"spindle\", over = 1 }"),
            "8:38",
            "it takes is or is_not, not over",
        ),
        (
            when("{ choice = \"budget\", over = 5000 }"),
            "8:37",
            "lacks its currency",
        ),
        (
            when("{ choice = \"preloaded_nuts\", is = \"maybe\" }"),
            "8:43",
            "neither yes nor no",
        ),
        (
            when("{ choice = \"first-circuit\", over = \"10 A\" }"),
            "8:20",
            "\"first-circuit\" is a figure, not a choice: write figure = \"first-circuit\"",
        ),
        (
            when("{ figure = \"spindle_circuit\", is = \"second\" }"),
            "8:20",
            "\"spindle_circuit\" is a choice, not a figure: write choice = \"spindle_circuit\"",
        ),
        (
            when("{ choice = \"spindle\", field = \"power\", over = 1 }"),
            "8:39",
            "did you mean \"power_kw\"?",
        ),
        (
            when("{ choice = \"spindle\", field = \"cooling\", is = \"watr\" }"),
            "8:55",
            "did you mean \"water\"?",
        ),
        (
            when("{ choice = \"travel_x_mm\", field = \"power_kw\", over = 1 }"),
            "8:43",
            "picks no part",
        ),
        (
            when("{ figure = \"weight\", over = 1 }"),
            "8:20",
            "known are cost, rapid-x",
        ),
        (when("{ figure = \"mass\", is = 1 }"), "8:33", "not is"),
        (
            when("{ figure = \"cost\", over = 1 }"),
            "8:35",
            "lacks its currency",
        ),
        (
            when("{ figure = \"mass\", field = \"power_kw\", over = 1 }"),
            "8:36",
            "goes with a choice",
        ),
        (
            when("{ figure = \"mass\", choice = \"spindle\", over = 1 }"),
            "8:20",
            "about a choice already",
        ),
        (
            when("{ figure = \"mass\", over = 1, under = 2 }"),
            "8:46",
            "as a condition of its own",
        ),
        (
            when("{ figure = \"mass\" }"),
            "8:9",
            "compares with nothing",
        ),
        (when("{ over = 1 }"), "8:9", "about nothing"),
        (
            when("{ figure = \"mass\", over = [1] }"),
            "8:35",
            "expected a number, a text",
        ),
        (
            when("{ figure = \"mass\", ovr = 1 }"),
            "8:28",
            "did you mean \"over\"?",
        ),
        (when("").replace("{1}", "so"), "8:8", "1 to 20 conditions"),
        (RULE.to_owned(), "1:1", "the key \"when\" is missing"),
        (
            good.replace("\"caution\"", "\"warning\""),
            "4:12",
            "danger, fault, caution",
        ),
        (
            good.replace("\"drive\"", "\"driv\""),
            "5:8",
            "did you mean \"drive\"?",
        ),
        (
            good.replace("{1}", "{2}"),
            "6:8",
            "{2} stands for no condition",
        ),
        (
            good.replace("\"Mine\"", "\" \""),
            "3:1",
            "title takes 1 to 60 columns",
        ),
        (
            good.replace("\"Think again.\"", "\"\""),
            "7:1",
            "instead is empty",
        ),
        (
            good.replace("\"mine\"", "\"screw-whirl\""),
            "1:1",
            "the program has a rule of this id",
        ),
        (
            good.replace("\"mine\"", "\"my.own\""),
            "1:1",
            "letters, digits and hyphens",
        ),
        (
            good.replace("\"mine\"", "\"My Own\""),
            "2:6",
            "is not an id",
        ),
        (
            format!("{good}\n{good}"),
            "10:1",
            "the rule \"mine\" is at own.toml:1:1 already",
        ),
        (
            format!("{good}remedy = [{{ choice = \"travel_q\", value = 1 }}]\n"),
            "9:22",
            "there is no choice \"travel_q\"",
        ),
        (
            format!("{good}remedy = [{{ choice = \"travel_x_mm\", value = 1 }}]\n"),
            "9:45",
            "out of range",
        ),
        (
            "[[warning]]\nid = \"mine\"\n".to_owned(),
            "1:3",
            "such a file may hold: tube, plate",
        ),
        (
            "[[warning]]\nid = \"mine\"\n".to_owned(),
            "1:3",
            "task, word, rule",
        ),
    ];
    for (text, place, wanted) in cases {
        let message = refused(&text);
        assert_eq!(message.lines().count(), 1, "{message}");
        assert!(
            message.starts_with(&format!("own.toml:{place}: ")),
            "{place}, {message}"
        );
        assert!(message.contains(wanted), "{wanted:?} is not in {message}");
    }
}

#[test]
fn rules_of_ones_own_are_so_many_at_most() {
    let rule = |number: usize| {
        let rule = RULE.replace("mine", &format!("mine-{number}"));
        format!("{rule}when = [{{ figure = \"mass\", over = 1 }}]\n")
    };
    let text: String = (0..201).map(rule).collect();
    let message = refused(&text);
    assert!(message.starts_with("own.toml:1601:1: "), "{message}");
    assert!(
        message.contains("one more than 200 rules of your own"),
        "{message}"
    );
}
