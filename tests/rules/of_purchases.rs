//! Rules that purchases, suppliers and dates decide: each on both sides of its threshold.

use crate::common;
use gantrywright::assessment::assess;
use gantrywright::catalogue::{Catalogue, CatalogueFile};
use gantrywright::rules::{Finding, Severity};
use gantrywright::store::build_file;
use jiff::civil::{Date, date};

/// Longest message: two lines of a narrow screen.
const LONGEST: usize = 140;

fn findings(catalogue: &Catalogue, text: &str, today: Date) -> Vec<Finding> {
    let text = format!("format = 1\n{text}");
    let build = build_file::read(&text, "b.toml", catalogue).unwrap_or_else(|e| panic!("{e}"));
    let findings = assess(catalogue, &build, today).expect("an assessment");
    findings.findings
}

/// What a rule says of a build with these lines, on the tests' day.
fn says(rule: &str, text: &str) -> Option<String> {
    said(&common::catalogue(), rule, text, common::today())
}

fn said(catalogue: &Catalogue, rule: &str, text: &str, today: Date) -> Option<String> {
    let mut found = findings(catalogue, text, today).into_iter();
    let message = found.find(|finding| finding.rule == rule)?.message;
    let length = message.chars().count();
    assert!(length <= LONGEST, "{length} characters: {message}");
    Some(message)
}

fn quote(rest: &str) -> String {
    format!(
        "[purchases.rail-15]\nquotes = [{{ price = \"20 EUR\", date = \"2026-09-01\"{rest} }}]\n"
    )
}

#[test]
fn an_offer_holds_through_its_last_day_and_until_it_is_ordered_by() {
    let rule = "offer-ran-out";
    assert_eq!(common::today(), date(2026, 11, 25));
    assert_eq!(says(rule, &quote("")), None);
    assert_eq!(says(rule, &quote(", valid_until = \"2026-11-25\"")), None);
    let over = quote(", valid_until = \"2026-11-24\"");
    let message = says(rule, &over).expect("a finding");
    assert!(message.ends_with("(2026-11-24)"), "{message}");
    for status in ["ordered", "arrived", "have-it"] {
        let bought = format!("{over}status = \"{status}\"\n");
        assert_eq!(says(rule, &bought), None, "{status}");
    }
    // Called off: it must be ordered anew, at a price that nobody is bound to.
    assert!(says(rule, &format!("{over}status = \"cancelled\"\n")).is_some());
}

#[test]
fn a_small_order_costs_a_fee_until_it_is_made() {
    let rule = "small-order";
    let with = |least: &str| {
        let mut catalogue = common::catalogue();
        let yard = catalogue.suppliers.get_mut("demo-steel").expect("a yard");
        yard.minimum_order = Some(least.parse().expect("an amount"));
        catalogue
    };
    let today = common::today();
    assert_eq!(said(&with("50"), rule, "", today), None);
    let message = said(&with("5000"), rule, "", today).expect("a finding");
    assert!(
        message.starts_with("steel yard: goods for ")
            && message.ends_with("orders below 5 000 EUR cost 12 EUR more"),
        "{message}"
    );
    let mut without = with("5000");
    let yard = without.suppliers.get_mut("demo-steel").expect("a yard");
    yard.small_order_fee = None;
    let message = said(&without, rule, "", today).expect("a finding");
    assert!(message.ends_with("may not be taken"), "{message}");
    let ordered = "[purchases.tube-80x80x4]\nstatus = \"ordered\"\n";
    assert_eq!(said(&with("5000"), rule, ordered, today), None);
}

#[test]
fn customs_rates_are_looked_up_again_after_a_year() {
    let rule = "customs-unchecked";
    let on = |text: &str, day| said(&common::catalogue(), rule, text, day);
    // The shipped rates are of 2026-11-01.
    assert_eq!(on("", date(2027, 11, 1)), None);
    let message = on("", date(2027, 11, 2)).expect("a finding");
    assert!(message.contains("rates of 2026-11-01"), "{message}");
    let none = "[working_area]\ndestination = \"destination-none\"\n";
    assert_eq!(on(none, date(2028, 11, 2)), None);
}

#[test]
fn what_waits_for_its_mate_is_not_to_be_ordered_yet() {
    let rule = "ordered-too-early";
    assert_eq!(says(rule, ""), None);
    let tube = |status: &str| format!("[purchases.tube-80x80x4]\nstatus = \"{status}\"\n");
    let message = says(rule, &tube("ordered")).expect("a finding");
    assert!(message.contains("Rails, screws"), "{message}");
    let paid =
        "[purchases.tube-80x80x4]\npayments = [{ amount = \"9 EUR\", date = \"2026-11-20\" }]\n";
    assert!(says(rule, paid).is_some());
    for status in ["to-buy", "have-it", "checked", "fitted", "cancelled"] {
        assert_eq!(says(rule, &tube(status)), None, "{status}");
    }
    // Rails wait for nothing.
    let rail = "[purchases.rail-15]\nstatus = \"ordered\"\n";
    assert_eq!(says(rule, rail), None);
    // Cables wait for two stages.
    let cable = format!("[purchases.\"{}\"]\n", a_cable());
    assert!(says(rule, &format!("{cable}status = \"arrived\"\n")).is_some());
}

/// A cable on the bill of the default build.
fn a_cable() -> String {
    let bill = common::assessed(&common::catalogue(), &[]).bill;
    let kind = gantrywright::catalogue::PartKind::Cable;
    let line = bill.lines.into_iter().find(|line| line.kind == kind);
    line.expect("a cable").part.to_string()
}

#[test]
fn faults_and_late_parcels_are_told() {
    let with = |lines: &str| format!("[purchases.rail-15]\n{lines}\n");
    let faulty = says("part-faulty", &with("status = \"faulty\"")).expect("a finding");
    assert!(faulty.starts_with("faulty: "), "{faulty}");
    assert_eq!(says("part-faulty", &with("status = \"checked\"")), None);
    let due = |status: &str, day: &str| {
        says(
            "delivery-late",
            &with(&format!("status = \"{status}\"\nexpected = \"{day}\"")),
        )
    };
    assert!(due("ordered", "2026-11-24").is_some());
    assert!(due("part-arrived", "2026-11-24").is_some());
    assert_eq!(due("ordered", "2026-11-25"), None);
    assert_eq!(due("arrived", "2026-11-24"), None);
}

#[test]
fn second_hand_parts_are_tried_before_they_count() {
    let used = |status: &str| {
        let lines = quote(", used = true");
        says(
            "second-hand-untested",
            &format!("{lines}status = \"{status}\"\n"),
        )
    };
    for status in ["quoted", "ordered", "arrived"] {
        assert!(used(status).is_some(), "{status}");
    }
    assert_eq!(used("checked"), None);
    assert_eq!(says("second-hand-untested", &quote("")), None);
}

/// Work and small parts are told as well, where they are what costs most.
#[test]
fn over_budget_names_the_dearest_line_whatever_it_is() {
    let catalogue = common::catalogue();
    let text = "[working_area]\nbudget = \"1000 EUR\"\n";
    let found = findings(&catalogue, text, common::today());
    let over = found.iter().find(|finding| finding.rule == "over-budget");
    let over = over.expect("a finding");
    let bill = common::assessed(&catalogue, &[]).bill;
    let dearest = bill.lines.iter().max_by_key(|line| line.total.likely);
    let dearest = dearest.expect("a line");
    let (_, part) = catalogue.part(dearest.part.as_str()).expect("a part");
    let told = format!("{} {}", part.short(), dearest.total.likely.round());
    assert!(over.message.contains(&told), "{told}: {}", over.message);
}

/// What was paid for a part that is no longer used is gone from the budget.
#[test]
fn a_budget_pays_for_what_is_not_used_as_well() {
    let with = |budget: &str, text: &str, rule: &str| {
        let text = format!("[working_area]\nbudget = \"{budget} EUR\"\n{text}");
        let found = findings(&common::catalogue(), &text, common::today());
        found.into_iter().find(|finding| finding.rule == rule)
    };
    let unused = "[purchases.\"spindle-2.2kw-air\"]\npayments = [{ amount = \"1000 EUR\", date = \"2026-11-20\" }]\n";
    let expected = common::assessed(&common::catalogue(), &[]).bill.estimate;
    let budget =
        |above: i64| (expected.expected.ceil() + rust_decimal::Decimal::from(above)).to_string();
    assert!(with(&budget(900), "", "over-budget").is_none());
    let over = with(&budget(900), unused, "over-budget").expect("a finding");
    assert_eq!(over.severity, Severity::Caution);
    assert!(
        over.message.contains("1 000 of it spent on unused parts"),
        "{}",
        over.message
    );
    assert!(over.message.chars().count() <= LONGEST, "{}", over.message);
    assert!(with(&budget(1001), unused, "over-budget").is_none());
    let wide = (expected.high - expected.expected).floor().to_string();
    let wide: i64 = wide.parse().expect("whole");
    assert!(with(&budget(wide + 900), "", "range-straddles-budget").is_none());
    assert!(with(&budget(wide + 900), unused, "range-straddles-budget").is_some());
    assert!(with(&budget(1001), unused, "budget-without-reserve").is_some());
}

/// A least order in another currency is compared in the bill's.
#[test]
fn a_least_order_is_converted() {
    let mut catalogue = common::catalogue();
    let file = CatalogueFile::read(
        "[[supplier]]\nid = \"own\"\ntitle = \"Own\"\nsource = \"made up\"\ncurrency = \"USD\"\nfreight = { low = \"1\", likely = \"1\", high = \"1\" }\nparcel_kg = 20\nlong_from_mm = 2000\nminimum_order = \"33\"\nlead_days = [1, 2]\nas_of = \"2026-11-01\"\n",
    )
    .expect("a supplier");
    catalogue.absorb(file);
    // At the demonstration's 1.10, 33 USD are 30 EUR.
    let quoted = |price: &str| {
        let text = format!(
            "[purchases.\"spindle-1.5kw-air\"]\nquotes = [{{ price = \"{price} EUR\", date = \"2026-11-20\", supplier = \"own\" }}]\n"
        );
        said(&catalogue, "small-order", &text, common::today())
    };
    assert_eq!(quoted("30.00"), None);
    assert!(quoted("29.99").is_some_and(|message| message.contains("below 30 EUR")));
}
