//! What makes a bill uncertain: every amount with all that comes on top of it, grouped by
//! supplier, adds up to the bill; the range narrows as prices become certain.

use crate::common;
use gantrywright::assessment::{Assessment, assess};
use gantrywright::bill::estimate::items;
use gantrywright::build::{Build, Picked};
use gantrywright::catalogue::Catalogue;
use gantrywright::store::examples;
use rust_decimal::Decimal;

fn builds(catalogue: &Catalogue) -> Vec<Build> {
    let examples = examples::all().into_iter();
    let examples = examples.map(|example| example.build(catalogue).expect("an example"));
    let random = common::random_builds(catalogue, 5, 60);
    examples.chain(random).collect()
}

fn assessed(catalogue: &Catalogue, build: &Build) -> Option<Assessment> {
    assess(catalogue, build, common::today()).ok()
}

/// Low, likely and high of the items, with what comes on top of them, are those of the bill:
/// but for the coins that customs and invoices round, and for duties of a fixed amount.
#[test]
fn amounts_with_what_comes_on_top_add_up_to_the_bill() {
    let catalogue = common::catalogue();
    let mut tried = 0;
    for build in builds(&catalogue) {
        let (Ok(picked), Some(found)) = (
            Picked::new(&catalogue, &build),
            assessed(&catalogue, &build),
        ) else {
            continue;
        };
        let bill = &found.bill;
        let items = items::items(&picked, &bill.lines, &bill.consignments).expect("items");
        let flat = bill.consignments.iter().flat_map(|one| &one.duties);
        let flat: Decimal = flat
            .filter(|duty| duty.percent.is_zero())
            .map(|duty| duty.likely)
            .sum();
        if !flat.is_zero() {
            continue;
        }
        for (what, sum, total) in [
            (
                "low",
                items
                    .iter()
                    .map(|item| item.range.low * item.factor)
                    .sum::<Decimal>(),
                bill.total.low,
            ),
            (
                "likely",
                items
                    .iter()
                    .map(|item| item.range.likely * item.factor)
                    .sum(),
                bill.total.likely,
            ),
            (
                "high",
                items.iter().map(|item| item.range.high * item.factor).sum(),
                bill.total.high,
            ),
        ] {
            // Freight is spread over kinds of goods by their likely value in each item.
            let off = (sum - total).abs() / total.max(Decimal::ONE);
            assert!(
                off < Decimal::new(2, 3),
                "{}: {what} {sum} {total}",
                build.title
            );
        }
        tried += 1;
    }
    assert!(tried > 30, "{tried}");
}

/// Lines of one supplier are in its group, with its freight; what nobody sells is in none.
#[test]
fn groups_are_the_suppliers() {
    let catalogue = common::catalogue();
    let build = Build::default();
    let picked = Picked::new(&catalogue, &build).expect("known parts");
    let found = assessed(&catalogue, &build).expect("an assessment");
    let bill = &found.bill;
    let items = items::items(&picked, &bill.lines, &bill.consignments).expect("items");
    assert_eq!(items.len(), bill.lines.len() + bill.consignments.len());
    for (place, one) in bill.consignments.iter().enumerate() {
        let group = items[bill.lines.len() + place].group;
        assert!(group.is_some(), "{}", one.title);
        for (line, item) in items[..bill.lines.len()].iter().enumerate() {
            assert_eq!(
                item.group == group,
                one.lines.contains(&line),
                "{}",
                one.title
            );
            assert!(item.factor >= Decimal::ONE);
        }
    }
}

/// The more dear parts are in hand, the surer the bill.
#[test]
fn the_range_narrows_as_parts_come_into_hand() {
    let catalogue = common::catalogue();
    let mut build = Build::default();
    let width = |build: &Build| {
        let found = assessed(&catalogue, build).expect("an assessment");
        found.bill.estimate.high - found.bill.estimate.low
    };
    let mut before = width(&build);
    for part in [
        "ball-screw-16x10",
        "controller-ethernet-4",
        "computer-shop-pc",
    ] {
        let id = gantrywright::catalogue::Id::new(part).expect("an id");
        let needed = assessed(&catalogue, &build).expect("an assessment");
        assert!(needed.bill.line(part).is_some(), "{part} is not bought");
        let purchase = build.purchases.parts.entry(id).or_default();
        purchase.status = Some(gantrywright::build::purchases::Status::HaveIt);
        let now = width(&build);
        assert!(now < before, "{part}: {now} {before}");
        before = now;
    }
}
