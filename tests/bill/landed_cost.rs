//! What goods from abroad cost at the door, worked by hand to the cent.

use crate::common;
use gantrywright::assessment::{assess, explain};
use gantrywright::bill::Consignment;
use gantrywright::build::Build;
use gantrywright::catalogue::{Catalogue, CatalogueFile};
use gantrywright::store::build_file;
use rust_decimal::Decimal;

/// A spindle from abroad, and a place that takes duty and tax.
fn far_away() -> Catalogue {
    let overlay = r#"
        [[supplier]]
        id = "far"
        title = "Far"
        source = "invented"
        currency = "EUR"
        abroad = true
        freight = { low = "60", likely = "60", high = "60" }
        parcel_kg = 500
        long_from_mm = 9000
        lead_days = [1, 2]
        as_of = "2026-11-01"
        [[destination]]
        id = "here"
        title = "Here"
        source = "invented"
        currency = "EUR"
        tax_name = "tax"
        tax_percent = "19"
        duty_on_freight = true
        duty_free_up_to = "150"
        duty_percent = { other = "2.7" }
        broker_fee = { low = "12", likely = "12", high = "12" }
        broker_fee_taxed = false
        as_of = "2026-11-01"
        [[price-book]]
        id = "far-book"
        title = "Far"
        basis = "quote"
        currency = "EUR"
        supplier = "far"
        date = "2026-11-01"
        prices = { "spindle-1.5kw-air" = { low = "500", likely = "500", high = "500" } }
        "#;
    let mut catalogue = common::catalogue();
    let file = CatalogueFile::read(overlay).expect("an overlay");
    catalogue.absorb(file);
    catalogue
}

fn amount(text: &str) -> Decimal {
    Decimal::from_str_exact(text).expect("an amount")
}

/// The spindle's build, with what was paid so far.
fn build(catalogue: &Catalogue, payments: &str) -> Build {
    let text = format!("format = 1\n[working_area]\ndestination = \"here\"\n{payments}");
    build_file::read(&text, "b.toml", catalogue).expect("a build")
}

/// 500 of goods and 60 of freight at 2.7 % duty, 19 % tax and a fee of 12: duty 15.12, tax
/// 109.27 on 575.12, landed 696.39. Worked by hand as Directive 2006/112/EC, articles 85 and
/// 86, lays the base down.
#[test]
fn landed_cost_follows_the_customs_bill() {
    let catalogue = far_away();
    let build = build(&catalogue, "");
    let found = assess(&catalogue, &build, common::today()).expect("an assessment");
    let bill = &found.bill;
    let far = bill
        .consignments
        .iter()
        .find(|one| one.supplier.as_str() == "far");
    let far = far.expect("a consignment");
    assert_eq!(far.goods.likely, amount("500"));
    assert_eq!(far.freight.likely, amount("72"));
    assert_eq!(far.duty.likely, amount("15.12"));
    assert_eq!(far.tax.likely, amount("109.27"));
    let landed = far.goods.likely + far.on_top().expect("a sum").likely;
    assert_eq!(landed, amount("696.39"));
}

/// What is told of the tax gives the tax, also where freight and duty were paid at another
/// amount than reckoned, and without the carrier's fee where that is not taxed.
#[test]
fn what_is_told_of_a_tax_gives_it() {
    let catalogue = far_away();
    let paid = r#"
[consignments.far]
payments = [
    { amount = "70 EUR", date = "2026-11-20", what = "freight" },
    { amount = "20 EUR", date = "2026-11-20", what = "duty" },
]
"#;
    for payments in ["", paid] {
        let build = build(&catalogue, payments);
        let explained = explain(&catalogue, &build, common::today());
        let (_, notes) = explained.expect("an assessment");
        let tax = notes.get("consignments.far.tax").expect("a derivation");
        let of = |symbol| {
            let mut inputs = tax.inputs.iter().filter(|input| input.symbol == symbol);
            let found = inputs.next().and_then(|input| input.value.exact());
            found.unwrap_or_else(|| panic!("{symbol}"))
        };
        let by_formula = of("t") / Decimal::ONE_HUNDRED * (of("G") + of("F") + of("D"));
        assert_eq!(by_formula.round_dp(2), amount("109.27"), "{payments}");
        assert_eq!(tax.result.exact(), Some(amount("109.27")), "{payments}");
    }
}

/// Whoever states prices as shops of the place do takes the tax on top where shops leave it out:
/// 500 of goods and 60 of freight at 19 %, 106.40; nothing where they state it with it.
#[test]
fn prices_as_is_usual_hold_the_tax_or_not() {
    for (usual, tax) in [(true, "0"), (false, "106.40")] {
        let mut catalogue = far_away();
        let far = catalogue.suppliers.values_mut();
        let far = far.into_iter().find(|one| one.id.as_str() == "far");
        let far = far.expect("a supplier");
        (far.abroad, far.tax_as_usual) = (false, true);
        let here = catalogue.destinations.values_mut();
        let here = here.into_iter().find(|one| one.id.as_str() == "here");
        here.expect("a destination").tax_in_prices = usual;
        let build = build(&catalogue, "");
        let bill = assess(&catalogue, &build, common::today()).expect("one");
        let far = bill.bill.consignments.iter();
        let far = far.filter(|one| one.supplier.as_str() == "far");
        let taxes: Vec<_> = far.map(|one| one.tax.likely).collect();
        assert_eq!(taxes, [amount(tax)], "tax in prices: {usual}");
    }
}

/// Shops in the United States state prices without sales tax (common practice): a build there
/// pays it on what is bought at home; one in Europe pays none on that.
#[test]
fn shops_at_home_hold_the_tax_in_europe_and_not_in_the_united_states() {
    let catalogue = common::catalogue();
    let us = [("site", "site-120v-15a"), ("destination", "destination-us")];
    for (given, held) in [(&[][..], true), (&us[..], false)] {
        let build = common::build(&catalogue, given);
        let bill = assess(&catalogue, &build, common::today())
            .expect("one")
            .bill;
        let as_usual = |one: &&Consignment| catalogue.suppliers[&one.supplier].tax_as_usual;
        let shops: Vec<_> = bill.consignments.iter().filter(as_usual).collect();
        assert!(!shops.is_empty());
        for shop in shops {
            assert_eq!(shop.holds_tax(), held, "{}: {given:?}", shop.title);
            assert_eq!(shop.tax.likely.is_zero(), held, "{}: {given:?}", shop.title);
        }
    }
}
