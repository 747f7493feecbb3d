use super::*;
use crate::assessment::assess;
use crate::store::build_file;
use crate::store::library;

fn today() -> Date {
    jiff::civil::date(2026, 11, 25)
}

fn catalogue() -> Catalogue {
    library::load(&[]).unwrap_or_else(|error| panic!("{error}"))
}

fn built(text: &str, catalogue: &Catalogue) -> Build {
    build_file::read(text, "b.toml", catalogue).unwrap_or_else(|error| panic!("{error}"))
}

/// The text as it is saved on a day.
fn saved(text: &str, catalogue: &Catalogue, today: Date) -> String {
    let build = built(text, catalogue);
    let assessment = assess(catalogue, &build, today).expect("an assessment");
    put(text, &of(catalogue, &build, &assessment, today))
}

fn since(text: &str, catalogue: &Catalogue) -> moved::Moved {
    let build = built(text, catalogue);
    let assessment = assess(catalogue, &build, today()).expect("an assessment");
    moved_since(text, catalogue, &build, &assessment, today()).expect("a record")
}

/// The catalogue with twice the price of a rail, and of nothing else.
fn dearer() -> Catalogue {
    let mut catalogue = catalogue();
    let own = "[[price-book]]\nid = \"own\"\ntitle = \"Own\"\nbasis = \"estimate\"\ncurrency = \"EUR\"\ndate = \"2026-11-20\"\nsupplier = \"demo-guides\"\n[price-book.prices]\nrail-15 = { low = \"90\", likely = \"100.00\", high = \"110\" }\n";
    catalogue.absorb(crate::catalogue::CatalogueFile::read(own).expect("a book"));
    catalogue.mark = mark([own]);
    catalogue
}

const TEXT: &str =
    "\u{feff}format = 1 # mine\r\n\r\n[working_area]\r\ntravel_x_mm = 700 # wide\r\n";

#[test]
fn a_record_comes_last_and_twice_the_same_with_everything_else_kept() {
    let catalogue = catalogue();
    let once = saved(TEXT, &catalogue, today());
    assert!(once.starts_with(TEXT), "{once}");
    assert!(
        once.contains("\r\n[recorded]\r\non = \"2026-11-25\"\r\n"),
        "{once}"
    );
    assert_eq!(saved(&once, &catalogue, today()), once);
    assert_eq!(built(&once, &catalogue), built(TEXT, &catalogue));
    let record = read(&once).expect("a record");
    let build = built(&once, &catalogue);
    let assessment = assess(&catalogue, &build, today()).expect("an assessment");
    assert_eq!(record, of(&catalogue, &build, &assessment, today()));
    assert!(
        record.prices.len() > 50 && record.figures.len() > 8,
        "{record:?}"
    );
    assert!(since(&once, &catalogue).is_empty());
    // A later change goes into its own place, and the record stays behind it.
    let mut other = build.clone();
    other
        .accepted
        .insert("prices-invented".to_owned(), "a trial".to_owned());
    let text = build_file::write(Some(&once), &other);
    let place = |what: &str| text.find(what).unwrap_or_else(|| panic!("{what}: {text}"));
    assert!(place("[accepted]") < place("[recorded]"));
}

#[test]
fn a_broken_record_opens_and_what_is_unknown_in_it_stays() {
    let catalogue = catalogue();
    for broken in [
        "recorded = 5\n",
        "[recorded]\non = 5\n",
        "[recorded]\non = \"then\"\nprices = [1]\n",
        "[recorded]\non = \"2026-11-01\"\nprices = 3\n[recorded.books]\n\"no id!\" = \"x\"\n",
        "recorded = { on = \"2026-11-01\" }\n",
    ] {
        let text = format!("format = 1\n{broken}");
        let again = saved(&text, &catalogue, today());
        assert_eq!(built(&text, &catalogue), Build::default());
        assert_eq!(saved(&again, &catalogue, today()), again, "{again}");
        assert!(
            read(&again).is_some_and(|record| record.prices.len() > 50),
            "{again}"
        );
    }
    let text = "format = 1\n[recorded] # keep\non = \"2026-11-01\" # day\nmood = \"good\"\n[recorded.prices]\nrail-15 = \"1.00 EUR\" # then\n";
    let again = saved(text, &catalogue, today());
    for kept in ["# keep", "# day", "mood = \"good\"", "# then"] {
        assert!(again.contains(kept), "{kept}: {again}");
    }
}

#[test]
fn prices_that_moved_are_told_with_what_they_do_to_the_bill() {
    let then = catalogue();
    let text = saved("format = 1\n", &then, today());
    let now = dearer();
    let moved = since(&text, &now);
    let [price] = moved.prices.as_slice() else {
        panic!("{:?}", moved.prices);
    };
    let was = read(&text).expect("a record").prices["rail-15"];
    let assessment = assess(&now, &Build::default(), today()).expect("an assessment");
    let bought = assessment.bill.line("rail-15").expect("rails").buy;
    let effect = Money::new(
        (rust_decimal::Decimal::ONE_HUNDRED - was.amount) * bought,
        was.currency,
    );
    assert_eq!(price.effect, effect.rounded().amount);
    assert_eq!(moved.effect, effect.rounded());
    assert!(moved.data_changed && !moved.build_changed);
    assert!(moved.figures.iter().any(|one| one.path == "cost.likely"));
    let short = moved.short().expect("a sentence");
    assert!(
        short.starts_with("since 2026-11-25: 1 unit price moved, +"),
        "{short}"
    );
    // After an edit by hand the unit prices are still compared, and figures are not.
    let edited = text.replace(
        "format = 1\n",
        "format = 1\n[working_area]\ntravel_x_mm = 700\n",
    );
    let moved = since(&edited, &now);
    assert!(moved.build_changed && moved.figures.is_empty());
    assert_eq!(moved.prices.len(), 1);
    assert!(
        moved
            .sentences(&now)
            .last()
            .is_some_and(|why| why.contains("the build itself"))
    );
}

#[test]
fn what_is_gone_or_paid_is_told_apart() {
    let catalogue = catalogue();
    let text = saved("format = 1\n", &catalogue, today());
    let with = |lines: &str| {
        let text = text.replace(
            "[recorded.prices]\n",
            &format!("[recorded.prices]\n{lines}\n"),
        );
        since(&text, &catalogue)
    };
    let moved = with("old-screw = \"7.10 EUR\"");
    assert_eq!(moved.gone, [Id::new("old-screw").expect("an id")]);
    assert!(!moved.data_changed && moved.prices.is_empty());
    let paid = text.replace(
        "format = 1\n",
        "format = 1\n[purchases.rail-15]\nstatus = \"arrived\"\npayments = [{ amount = \"1 EUR\", date = \"2026-11-20\" }]\n",
    );
    let moved = since(&paid, &catalogue);
    assert!(
        moved.prices.is_empty() && moved.gone.is_empty(),
        "{moved:?}"
    );
}
