//! How an outside check is written down, so that one table (`docs/checks.md`) can state what
//! was compared with what, and how far apart they lay.
//!
//! A topic is a file beside this one with one function:
//!
//! ```ignore
//! pub(crate) fn checks() -> Vec<Check> {
//!     let mut area = Check::within("area of a tube", 0.5) // percent
//!         .source("EN 10219 design tables, three printed figures")
//!         .limits("corners as the standard draws them; a delivered tube may differ by 6 %");
//!     area.case("80x80x3", computed, published);
//!     vec![area]
//! }
//!
//! #[test]
//! fn tubes_hold() {
//!     crate::checks::hold(checks());
//! }
//! ```
//!
//! and one line in `TOPICS` of `main.rs`. Then `UPDATE_CHECKS=1 cargo test --test standards`
//! writes the table anew; without the variable the test fails where the table is out of date.
//! What has no number to compare (an order, a name) stays a plain `#[test]`.

use std::fmt;

/// What a check allows.
#[derive(Clone, Copy)]
enum Allowed {
    /// Apart by so many percent of the expected value.
    Percent(f64),
    /// Apart by so much, in a unit: for what may be zero, or is printed to a last digit.
    Absolute(f64, &'static str),
    /// Expected over computed between two ratios: where only the order of size can be known.
    Band(f64, f64),
}

/// One comparison with what stands outside the project, over any number of cases.
pub(crate) struct Check {
    what: &'static str,
    source: &'static str,
    limits: &'static str,
    allowed: Allowed,
    cases: usize,
    least: f64,
    most: f64,
    failures: Vec<String>,
}

impl Check {
    fn new(what: &'static str, allowed: Allowed) -> Self {
        Self {
            what,
            source: "",
            limits: "",
            allowed,
            cases: 0,
            least: f64::INFINITY,
            most: f64::NEG_INFINITY,
            failures: Vec::new(),
        }
    }

    /// A comparison that holds where every case is at most so many percent off.
    pub(crate) fn within(what: &'static str, percent: f64) -> Self {
        Self::new(what, Allowed::Percent(percent))
    }

    /// A comparison that holds where every case is off by at most so much, in a unit.
    pub(crate) fn within_absolute(what: &'static str, most: f64, unit: &'static str) -> Self {
        Self::new(what, Allowed::Absolute(most, unit))
    }

    /// A comparison of ratios, expected over computed, that must lie between two numbers.
    pub(crate) fn band(what: &'static str, low: f64, high: f64) -> Self {
        Self::new(what, Allowed::Band(low, high))
    }

    /// Where the expected values come from; library and version where one made them.
    pub(crate) fn source(mut self, source: &'static str) -> Self {
        self.source = source;
        self
    }

    /// Where the model that is checked ends.
    pub(crate) fn limits(mut self, limits: &'static str) -> Self {
        self.limits = limits;
        self
    }

    /// One case: what the program computes and what the source says.
    pub(crate) fn case(&mut self, name: impl fmt::Display, computed: f64, expected: f64) {
        let (off, holds) = match self.allowed {
            Allowed::Percent(most) => {
                let off = (computed / expected - 1.0).abs() * 100.0;
                (off, off <= most)
            }
            Allowed::Absolute(most, _) => {
                let off = (computed - expected).abs();
                (off, off <= most)
            }
            Allowed::Band(low, high) => {
                let ratio = expected / computed;
                (ratio, (low..=high).contains(&ratio))
            }
        };
        self.cases += 1;
        self.least = self.least.min(off);
        self.most = self.most.max(off);
        if !holds {
            self.failures
                .push(format!("{name}: computed {computed}, expected {expected}"));
        }
    }

    /// What was found, as the table shows it: too coarse for the last bits of a platform.
    fn found(&self) -> String {
        match self.allowed {
            Allowed::Percent(_) if self.most < 1e-6 => "below 0.000001 %".to_owned(),
            Allowed::Percent(_) => format!("{} %", two_digits(self.most)),
            Allowed::Absolute(_, unit) if self.most < 1e-8 => format!("below 0.00000001 {unit}"),
            Allowed::Absolute(_, unit) => format!("{} {unit}", two_digits(self.most)),
            Allowed::Band(..) => format!("ratios {:.2} to {:.2}", self.least, self.most),
        }
        .trim_end()
        .to_owned()
    }

    fn allows(&self) -> String {
        match self.allowed {
            Allowed::Percent(most) => format!("{most} %"),
            Allowed::Absolute(most, unit) => format!("{most} {unit}"),
            Allowed::Band(low, high) => format!("ratios {low} to {high}"),
        }
        .trim_end()
        .to_owned()
    }

    fn row(&self, topic: &str) -> String {
        format!(
            "| {topic} | {} | {} | {} | {} | {} | {} |\n",
            self.what,
            self.source,
            self.cases,
            self.found(),
            self.allows(),
            self.limits
        )
    }
}

/// A number to two significant digits, in plain notation.
fn two_digits(number: f64) -> String {
    if number == 0.0 {
        return "0".to_owned();
    }
    let after = (1.0 - number.log10().floor()).clamp(0.0, 12.0) as usize;
    format!("{number:.after$}")
}

/// Fails with every case that does not hold, and with checks that say too little of themselves.
pub(crate) fn hold(checks: Vec<Check>) {
    assert!(!checks.is_empty(), "a topic without checks");
    for check in checks {
        let what = check.what;
        assert!(check.cases > 0, "{what}: no cases");
        assert!(!check.source.is_empty(), "{what}: no source");
        assert!(!check.limits.is_empty(), "{what}: no limits");
        let words = [what, check.source, check.limits];
        assert!(
            !words.concat().contains('|'),
            "{what}: a bar breaks the table"
        );
        assert!(
            check.failures.is_empty(),
            "{what}, allowed {}: {:#?}",
            check.allows(),
            check.failures
        );
    }
}

/// The lines of a stored table behind its comments (`#`) and its one line of names.
pub(crate) fn lines(table: &'static str) -> impl Iterator<Item = &'static str> {
    table.lines().filter(|line| !line.starts_with('#')).skip(1)
}

/// The numbers between the commas of a line.
pub(crate) fn numbers(line: &str) -> Vec<f64> {
    let number = |cell: &str| cell.parse().unwrap_or_else(|_| panic!("{cell} in {line}"));
    line.split(',').map(number).collect()
}

/// The rows of a stored table whose first cell is the name of the row; the rest are numbers.
pub(crate) fn rows(table: &'static str) -> Vec<(&'static str, Vec<f64>)> {
    lines(table)
        .map(|line| {
            let (name, rest) = line.split_once(',').expect("a name and numbers");
            (name, numbers(rest))
        })
        .collect()
}

/// A topic: its name in the table, and the checks that it makes.
pub(crate) type Topic = (&'static str, fn() -> Vec<Check>);

/// The table of all checks, topic by topic.
pub(crate) fn table_of(topics: &[Topic]) -> String {
    let mut text = String::from(
        "| topic | what is compared | source of the expected values | cases | worst found | allowed | where the model ends |\n\
         | --- | --- | --- | --- | --- | --- | --- |\n",
    );
    for (topic, checks) in topics {
        for check in checks() {
            text.push_str(&check.row(topic));
        }
    }
    text
}

#[test]
fn a_case_that_is_off_is_told() {
    let mut check = Check::within("a length", 1.0);
    check.case("close", 100.9, 100.0);
    assert!(check.failures.is_empty());
    check.case("far", 101.1, 100.0);
    check.case("no number", f64::NAN, 100.0);
    assert_eq!(check.failures.len(), 2, "{:?}", check.failures);
    assert_eq!((check.cases, check.found().as_str()), (3, "1.1 %"));
    let mut band = Check::band("a torque", 0.5, 2.0);
    band.case("within", 1.0, 1.9);
    band.case("outside", 1.0, 2.1);
    assert_eq!(band.failures.len(), 1);
    assert_eq!(band.found(), "ratios 1.90 to 2.10");
}

#[test]
#[should_panic(expected = "no limits")]
fn a_check_says_where_its_model_ends() {
    let mut check = Check::within("a length", 1.0).source("a ruler");
    check.case("one", 1.0, 1.0);
    hold(vec![check]);
}
