//! Purchases in a build file, and what they do to its cost: worked by hand to the cent.

use crate::common;
use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::Build;
use gantrywright::catalogue::{Catalogue, CatalogueFile};
use gantrywright::money::PriceRange;
use gantrywright::store::build_file;
use rust_decimal::Decimal;

const KEPT: &str = "\
format = 1

[purchases.rail-15] # a set of four
status = \"ordered\" # by post
quotes = [
    { price = \"21.00 EUR\", date = \"2026-11-02\" }, # too dear?
]
# the old one
[purchases.\"rack-m1.25\"]
have = \"2\"

[offcuts_mm]
tube-80x80x4 = [1200, 640] # under the bench

[done]
frame-square = \"2026-11-20\"
";

fn read(text: &str, catalogue: &Catalogue) -> Build {
    build_file::read(text, "b.toml", catalogue).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

pub(crate) fn assessed(text: &str, catalogue: &Catalogue) -> Assessment {
    let build = read(&format!("format = 1\n{text}"), catalogue);
    assess(catalogue, &build, common::today()).expect("an assessment")
}

fn amount(text: &str) -> Decimal {
    Decimal::from_str_exact(text).expect("an amount")
}

/// The catalogue with one supplier's book that prices one part alone.
fn with(overlay: &str) -> Catalogue {
    let mut catalogue = common::catalogue();
    let file = CatalogueFile::read(overlay).expect("an overlay");
    catalogue.absorb(file);
    catalogue
}

#[test]
fn purchases_keep_their_remarks_and_quotes_their_history() {
    let catalogue = common::catalogue();
    let mut build = read(KEPT, &catalogue);
    assert_eq!(build_file::write(Some(KEPT), &build), KEPT);
    let rail = build.purchases.parts.get_mut("rail-15").expect("a rail");
    let mut second = rail.quotes[0].clone();
    second.price.amount = amount("19.50");
    rail.quotes.push(second);
    let text = build_file::write(Some(KEPT), &build);
    assert_eq!(read(&text, &catalogue), build, "{text}");
    for kept in [
        "# a set of four",
        "# by post",
        "# too dear?",
        "# the old one",
        "# under the bench",
    ] {
        assert!(text.contains(kept), "{kept}: {text}");
    }
    assert!(
        text.contains("21.00 EUR") && text.contains("19.50 EUR"),
        "{text}"
    );
    // What is taken away goes, and only that.
    build.purchases.parts.shift_remove("rack-m1.25");
    build.done.clear();
    let text = build_file::write(Some(&text), &build);
    assert_eq!(read(&text, &catalogue), build, "{text}");
    assert!(
        text.contains("# a set of four") && !text.contains("rack"),
        "{text}"
    );
}

#[test]
fn what_cannot_be_meant_is_refused_with_its_place() {
    let catalogue = common::catalogue();
    for (lines, place, want) in [
        ("[purchases.rail-51]", "2:12", "did you mean \"rail-15\"?"),
        ("[purchases.softwood]", "2:12", "nobody buys that"),
        (
            "[purchases.rail-15]\nstatus = \"bought\"",
            "3:10",
            "is none of to-buy, quoted",
        ),
        (
            "[purchases.rail-15]\nhave = 2",
            "3:8",
            "it takes a text in quotes",
        ),
        (
            "[purchases.rail-15]\nstate = \"have-it\"",
            "3:1",
            "did you mean \"status\"?",
        ),
        (
            "[purchases.rail-15]\nexpected = \"soon\"",
            "3:12",
            "write it as \"2026-11-30\"",
        ),
        (
            "[purchases.rail-15]\nquotes = [{ price = \"2 EUR\" }]",
            "3:11",
            "a quote lacks a key",
        ),
        (
            "[purchases.rail-15]\npayments = [{ amount = \"2\", date = \"2026-11-30\" }]",
            "3:24",
            "lacks its currency",
        ),
        (
            "[purchases.rail-15]\npayments = [{ amount = \"2 CHF\", date = \"2026-11-30\" }]",
            "3:24",
            "no price book has a rate for CHF",
        ),
        (
            "[purchases.rail-15]\npayments = [{ amount = \"1,300 EUR\", date = \"2026-11-30\" }]",
            "3:24",
            "can be read as 1300 or as 1.300",
        ),
        (
            "[purchases.rail-15]\nhave = \"1,250\"",
            "3:8",
            "can be read as 1250 or as 1.250",
        ),
        (
            "[consignments.demo-guide]\nnote = \"\"",
            "2:15",
            "did you mean \"demo-guides\"?",
        ),
        (
            "[offcuts_mm]\ntube-80x80x4 = [0]",
            "3:17",
            "expected lengths in mm",
        ),
        (
            "[bought]\nrail-15 = \"2 EUR\"",
            "2:2",
            "[purchases.rail-15]",
        ),
    ] {
        let text = format!("format = 1\n{lines}\n");
        let error = build_file::read(&text, "b.toml", &catalogue).expect_err(lines);
        let message = error.to_string();
        assert!(
            message.starts_with(&format!("b.toml:{place}: ")) && message.contains(want),
            "{lines}: {message}"
        );
    }
}

#[test]
fn every_bill_adds_up_to_the_cent() {
    let catalogue = common::catalogue();
    for text in [
        "",
        "[working_area]\nmachines = 3",
        "[working_area]\nsite = \"site-120v-15a\"\ndestination = \"destination-us\"",
        "[purchases.rail-15]\nstatus = \"arrived\"\npayments = [{ amount = \"81.17 USD\", date = \"2026-11-20\", rate = \"0.9137\" }]",
    ] {
        let bill = assessed(text, &catalogue).bill;
        let ends: [fn(&PriceRange) -> Decimal; 3] =
            [|range| range.low, |range| range.likely, |range| range.high];
        for of in ends {
            let lines: Decimal = bill.lines.iter().map(|line| of(&line.total)).sum();
            let on_top = of(&bill.freight) + of(&bill.duty) + of(&bill.tax);
            assert_eq!(lines + on_top, of(&bill.total), "{text}");
            let cents = of(&bill.total) * Decimal::ONE_HUNDRED;
            assert_eq!(cents.fract(), Decimal::ZERO, "{text}");
        }
        let steps: Decimal = bill.by_step().iter().map(|(_, sum)| sum.likely).sum();
        assert_eq!(steps, bill.goods.likely);
        assert_eq!(bill.spent + bill.to_spend, bill.forecast);
    }
}

#[test]
fn what_is_owned_paid_or_quoted_narrows_the_range() {
    let catalogue = common::catalogue();
    let spindle = "[purchases.\"spindle-1.5kw-air\"]\n";
    let open = assessed("", &catalogue).bill;
    let width = |bill: &gantrywright::bill::Bill| bill.estimate.high - bill.estimate.low;
    let price = open
        .line("spindle-1.5kw-air")
        .expect("a spindle")
        .total
        .likely;

    let owned = assessed(&format!("{spindle}status = \"have-it\""), &catalogue).bill;
    assert!(
        owned
            .line("spindle-1.5kw-air")
            .expect("a line")
            .total
            .likely
            .is_zero()
    );
    assert!(owned.total.likely <= open.total.likely - price);
    assert!(width(&owned) < width(&open));
    assert_eq!(owned.spent, Decimal::ZERO);

    let quoted = format!(
        "{spindle}quotes = [{{ price = \"{price} EUR\", date = \"2026-11-20\", valid_until = \"2026-12-01\" }}]"
    );
    let quoted = assessed(&quoted, &catalogue).bill;
    let line = quoted.line("spindle-1.5kw-air").expect("a line");
    assert_eq!((line.total.low, line.total.high), (price, price));
    assert!(width(&quoted) < width(&open));
    assert_eq!(quoted.total.likely, open.total.likely);

    let stale = format!(
        "{spindle}quotes = [{{ price = \"{price} EUR\", date = \"2026-01-20\", valid_until = \"2026-02-01\" }}]"
    );
    let stale = assessed(&stale, &catalogue).bill;
    assert_eq!(
        width(&stale),
        width(&open),
        "an offer that ran out is a guess again"
    );

    // 200 dollars at 0.9 of that day: 180 euros, whatever the books say.
    let paid = format!(
        "{spindle}status = \"ordered\"\npayments = [{{ amount = \"200 USD\", date = \"2026-11-20\", rate = \"0.9\" }}]"
    );
    let paid = assessed(&paid, &catalogue).bill;
    let line = paid.line("spindle-1.5kw-air").expect("a line");
    assert_eq!(line.total.likely, amount("180"));
    assert_eq!(
        (paid.spent, paid.forecast),
        (amount("180"), paid.total.likely)
    );
    assert_eq!(paid.to_spend, paid.total.likely - amount("180"));

    // A deposit leaves the rest to be paid.
    let deposit = format!(
        "{spindle}status = \"ordered\"\npayments = [{{ amount = \"50 EUR\", date = \"2026-11-20\", part_payment = true }}]"
    );
    let deposit = assessed(&deposit, &catalogue).bill;
    assert_eq!(deposit.total.likely, open.total.likely);
    assert_eq!(deposit.to_spend, open.total.likely - amount("50"));
}

#[test]
fn what_was_paid_stays_on_the_books_when_choices_change() {
    let catalogue = common::catalogue();
    let text = "[purchases.\"spindle-2.2kw-air\"]\npayments = [{ amount = \"310.50 EUR\", date = \"2026-11-20\" }]";
    let bill = assessed(text, &catalogue).bill;
    let open = assessed("", &catalogue).bill;
    assert_eq!(bill.total, open.total);
    assert_eq!(bill.spent, amount("310.50"));
    assert_eq!(bill.forecast, open.total.likely + amount("310.50"));
    assert_eq!(bill.unchosen.len(), 1);
}

#[test]
fn packs_breaks_and_least_quantities_are_bought_as_they_are_sold() {
    let book = |entry: &str| {
        with(&format!(
            "[[price-book]]\nid = \"z\"\ntitle = \"z\"\nbasis = \"quote\"\ncurrency = \"EUR\"\ndate = \"2026-11-01\"\nprices = {{ \"carriage-15-wide\" = {{ low = \"10\", likely = \"10\", high = \"10\", {entry} }} }}\n"
        ))
    };
    let line = |entry: &str| {
        let bill = assessed("", &book(entry)).bill;
        let line = bill.line("carriage-15-wide").expect("carriages").clone();
        (line.needed, line.buy, line.total.likely)
    };
    let (needed, buy, _) = line("used = false");
    assert_eq!(needed, buy);
    let tens = (needed / Decimal::TEN).ceil() * Decimal::TEN;
    assert_eq!(line("pack = \"10\"").1, tens);
    assert_eq!(line("minimum = \"100\"").1, amount("100"));
    // A hundred at 0.50 each cost 50: less than twelve or more at 10.
    let more =
        line("breaks = [{ from = \"100\", low = \"0.50\", likely = \"0.50\", high = \"0.50\" }]");
    assert_eq!((more.1, more.2), (amount("100"), amount("50")));
}

/// Two short screws do not come out of one long one: it has one nut, and its ends are turned.
#[test]
fn of_screws_that_come_in_pieces_each_is_one() {
    let usual = assessed("", &common::catalogue());
    // One along X and two along Y, each of 0.788 m over its bearings, and 1.5 times 10 mm in the
    // coupling.
    let mut lines = usual.bill.lines.iter();
    let line = lines.find(|line| line.why.contains("drive Y"));
    let (part, needed) = line.map(|line| (line.part, line.needed)).expect("screws");
    assert_eq!(needed, amount("2.409"));
    let turned =
        |bill: &gantrywright::bill::Bill| bill.line("service-screw-ends").map(|line| line.needed);
    assert_eq!(turned(&usual.bill), Some(amount("4")));
    for (piece, buy) in [("0.6", "3.6"), ("1", "3"), ("2.5", "7.5")] {
        let book = with(&format!(
            "[[price-book]]\nid = \"z\"\ntitle = \"z\"\nbasis = \"quote\"\ncurrency = \"EUR\"\ndate = \"2026-11-01\"\nprices = {{ \"{part}\" = {{ low = \"10\", likely = \"10\", high = \"10\", pack = \"{piece}\" }} }}\n"
        ));
        let bill = assessed("", &book).bill;
        let line = bill.line(part.as_str()).expect("the screws");
        assert_eq!(line.buy, amount(buy), "{piece}: {}", line.needed);
        // A piece has its ends; the screw of Z is another one.
        assert_eq!(turned(&bill), Some(amount("1")));
    }
}

#[test]
fn a_quote_is_not_bought_in_the_quantities_of_a_books_lower_prices() {
    let catalogue = with(
        "[[price-book]]\nid = \"z\"\ntitle = \"z\"\nbasis = \"estimate\"\ncurrency = \"EUR\"\ndate = \"2026-11-01\"\nprices = { \"carriage-15-wide\" = { low = \"10\", likely = \"10\", high = \"10\", breaks = [{ from = \"100\", low = \"0.50\", likely = \"0.50\", high = \"0.50\" }] } }\n",
    );
    let quoted =
        "[purchases.carriage-15-wide]\nquotes = [{ price = \"9 EUR\", date = \"2026-11-20\" }]";
    let bill = assessed(quoted, &catalogue).bill;
    let line = bill.line("carriage-15-wide").expect("carriages");
    assert_eq!(line.buy, line.needed);
    assert_eq!(line.total.likely, line.needed * amount("9"));
}

#[test]
fn machines_built_together_share_packs_and_parcels() {
    let catalogue = common::catalogue();
    let one = assessed("", &catalogue).bill;
    let three = assessed("[working_area]\nmachines = 3", &catalogue).bill;
    assert!(three.total.likely < one.total.likely * Decimal::from(3));
    let each = |bill: &gantrywright::bill::Bill| {
        bill.line("carriage-15-wide").expect("carriages").quantity
    };
    assert_eq!(each(&three), each(&one) * Decimal::from(3));
    assert!(three.per_machine() < one.per_machine());
}

/// What a supplier named for one is what a year of them costs too, worked by hand: seven mills in
/// the hundred hours of work that are usual, at the price of the offer.
#[test]
fn a_quote_counts_for_the_running_cost_too() {
    let catalogue = common::catalogue();
    let quoted = "[spindle]\ntool = \"mill-6mm-2f\"\n[purchases.mill-6mm-2f]\nquotes = [{ price = \"9 EUR\", date = \"2026-11-20\" }]";
    let yearly = assessed(quoted, &catalogue).bill.yearly;
    let mut lines = yearly.lines.iter();
    let mills = lines.find(|line| line.part.as_str() == "mill-6mm-2f");
    let mills = mills.expect("mills are used up");
    assert_eq!(mills.quantity, amount("7"));
    assert_eq!(mills.total, Some(amount("63.00")));
}
