use super::*;
use crate::store::library;

fn destination(catalogue: &Catalogue) -> &Destination {
    catalogue.destinations.values().next().expect("one")
}

fn terms(catalogue: &Catalogue) -> Terms<'_> {
    Terms {
        catalogue,
        destination: destination(catalogue),
        currency: Currency::EUR,
        today: jiff::civil::date(2026, 11, 25),
    }
}

fn rows(text: &str) -> Vec<Row> {
    let catalogue = library::load(&[]).expect("a catalogue");
    read(text, "q.csv", &terms(&catalogue)).unwrap_or_else(|error| panic!("{error}"))
}

fn price(row: &Row) -> String {
    match &row.outcome {
        Outcome::Matched(id, quote) => {
            format!("{id} {} {}", quote.price.amount, quote.price.currency)
        }
        Outcome::Unmatched(why) | Outcome::Refused(why) => why.clone(),
    }
}

#[test]
fn a_spreadsheets_ways_of_writing_are_read() {
    let comma = rows("part,price,currency\nrail-15,\"26.40\",usd\n");
    assert_eq!(price(&comma[0]), "rail-15 26.40 USD");
    let semicolon = rows("\u{feff}Part;Price;Valid until\r\n\"rail-15\";26,4;2026-12-31\r\n\r\n");
    assert_eq!(price(&semicolon[0]), "rail-15 26.40 EUR");
    let days = rows("part;price;date;valid_until\nrail-15;26,4;26.11.2026;31.12.2026\n");
    let Outcome::Matched(_, quote) = &days[0].outcome else {
        panic!("{days:?}")
    };
    assert_eq!(quote.date, jiff::civil::date(2026, 11, 26));
    assert_eq!(quote.valid_until, Some(jiff::civil::date(2026, 12, 31)));
    let tabs = rows("part\ttotal\tquantity\nRAIL-15\t1.050,00\t10\n");
    assert_eq!(price(&tabs[0]), "rail-15 105.00 EUR");
}

#[test]
fn shipping_is_spread_over_what_was_offered() {
    let with = rows("part,price,quantity,shipping,supplier\nrail-15,20,4,10,demo-steel\n");
    let Outcome::Matched(_, quote) = &with[0].outcome else {
        panic!("{with:?}")
    };
    assert_eq!(quote.price.amount, Decimal::new(2250, 2));
    assert_eq!(quote.includes, Some(vec![OnTop::Freight, OnTop::Tax]));
    let without = rows("part,price,shipping\nrail-15,20,10\n");
    assert!(price(&without[0]).contains("needs a quantity"));
}

#[test]
fn every_row_is_told_what_became_of_it() {
    let found = rows(
        "part,price,currency,supplier,date\nrail-51,2,,,\nrail-15,,,,\nrail-15,2,XXX,,\nrail-15,2,,nobody,\nrail-15,2,,,soon\n,2,,,\n",
    );
    let why: Vec<String> = found.iter().map(price).collect();
    assert!(why[0].contains("did you mean \"rail-15\"?"), "{why:?}");
    assert!(why[1].contains("no price"), "{why:?}");
    assert!(why[2].contains("no price book has a rate"), "{why:?}");
    assert!(why[3].contains("no supplier"), "{why:?}");
    assert!(why[4].contains("write it as 2026-11-30"), "{why:?}");
    assert!(why[5].contains("names no part"), "{why:?}");
    assert_eq!(found[5].line, 7);
}

#[test]
fn lines_are_counted_as_a_spreadsheet_counts_them() {
    for end in ["\n", "\r\n"] {
        let text = [
            "part,price",
            "rail-15,20",
            "",
            "rail-20,\"2",
            "0\"",
            "rail-15,21",
        ]
        .join(end);
        let lines: Vec<u64> = rows(&text).iter().map(|row| row.line).collect();
        assert_eq!(lines, [2, 4, 6], "{end:?}");
    }
}

#[test]
fn a_heading_that_says_too_little_is_refused() {
    let catalogue = library::load(&[]).expect("a catalogue");
    for (text, want) in [
        ("", "must name the columns"),
        ("rail-15,2\n", "there is no column"),
        ("part,pric\n", "did you mean \"price\"?"),
        ("part,price,price\n", "there twice"),
    ] {
        let error = read(text, "q.csv", &terms(&catalogue))
            .expect_err(text)
            .to_string();
        assert!(
            error.starts_with("q.csv:1:1: ") && error.contains(want),
            "{error}"
        );
    }
}
