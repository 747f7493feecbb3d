//! Checks against what stands outside the project: published tables, beam theory solved
//! numerically, finite elements, statistics libraries, published curves. Every expected value
//! carries its source beside it; `checks.rs` says how a check is written, `docs/checks.md`
//! states what was found, `make.py` makes the stored tables again.

#[path = "../common/mod.rs"]
mod common;

mod checks;
mod copper;
mod cutting;
mod drives;
mod electrics;
mod estimates;
mod frames;
mod heat;
mod life;
mod motion;
mod nesting;
mod practice;
mod rigid;
mod springs;
mod stepper;
mod tools;
mod tubes;
mod whirl;

/// The topics of the table in `docs/checks.md`, in its order.
const TOPICS: &[checks::Topic] = &[
    ("tubes", tubes::checks),
    ("frames", frames::checks),
    ("springs", springs::checks),
    ("screws", whirl::checks),
    ("drives", drives::checks),
    ("steppers", stepper::checks),
    ("motion", motion::checks),
    ("cutting", cutting::checks),
    ("tools", tools::checks),
    ("life", life::checks),
    ("copper", copper::checks),
    ("electrics", electrics::checks),
    ("heat", heat::checks),
    ("estimates", estimates::checks),
    ("nesting", nesting::checks),
    ("practice", practice::checks),
];

/// The table in the documentation is what the checks find. After a change that is meant:
/// `UPDATE_CHECKS=1 cargo test --test standards`.
#[test]
fn the_table_of_checks_is_what_they_find() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/checks.md");
    let there = std::fs::read_to_string(path).expect("docs/checks.md");
    let (head, rest) = there
        .split_once("<!-- checks -->\n")
        .expect("a place for the checks");
    let (_, tail) = rest
        .split_once("<!-- end of checks -->")
        .expect("an end of the checks");
    let table = checks::table_of(TOPICS);
    let wanted = format!("{head}<!-- checks -->\n{table}<!-- end of checks -->{tail}");
    if std::env::var_os("UPDATE_CHECKS").is_some() {
        std::fs::write(path, &wanted).expect("a writable file");
    } else {
        assert!(
            there == wanted,
            "docs/checks.md is out of date: UPDATE_CHECKS=1 cargo test --test standards"
        );
    }
}

/// Each script has its stored table, and a table without a script was printed elsewhere and
/// says where.
#[test]
fn every_stored_table_says_what_made_it() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/standards");
    let mut tables = 0;
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        let name = path.display();
        match path.extension().and_then(|ending| ending.to_str()) {
            Some("py") if !path.ends_with("make.py") => {
                assert!(path.with_extension("csv").exists(), "{name}: no table");
            }
            Some("csv") => {
                let text = std::fs::read_to_string(&path).expect("readable");
                let first = text.lines().next().unwrap_or("");
                let made = path.with_extension("py").exists();
                let told = if made {
                    first.starts_with("# ") && first.contains(|c: char| c.is_ascii_digit())
                } else {
                    first.starts_with("# Published ")
                };
                assert!(
                    told,
                    "{name}: its first line tells no library and version, or source"
                );
                tables += 1;
            }
            _ => {}
        }
    }
    assert!(tables >= 12, "{tables} tables");
}
