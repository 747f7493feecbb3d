//! What makes a machine stiffer for its money, as the dossier tells it: each row is what a full
//! assessment of that one change says.

use crate::common;
use crate::paper::{cell, entries, number, table, text, with_build};
use gantrywright::assessment::assess;
use gantrywright::build::choices;
use gantrywright::explore::reading::{Measure, Reading};
use gantrywright::sheets::{Cell, SheetKind, sheet};
use gantrywright::store::examples;

#[test]
fn every_row_is_what_assess_says_of_the_change() {
    let catalogue = common::catalogue();
    let mut gains = 0;
    for example in examples::all() {
        let build = example.build(&catalogue).expect("an example");
        let made = with_build(&catalogue, &build, |paper, _| {
            sheet(SheetKind::Dossier, paper)
        });
        let now = assess(&catalogue, &build, common::today()).expect("an assessment");
        let before = Reading::of(&now);
        let stiffness = |reading: &Reading| {
            let value = reading.value(Measure::Stiffness);
            value.expect("a figure").number
        };
        let table = table(&made, "what-matters");
        assert!((1..=10).contains(&table.rows.len()));
        for row in entries(table) {
            let at = |column| number(cell(table, &row.id, column));
            let here = stiffness(&before);
            let (least, most) = (at("least_n_per_um"), at("most_n_per_um"));
            assert!(least <= here && here <= most, "{row:?}");
            let Cell::Money(costs) = cell(table, &row.id, "costs") else {
                continue;
            };
            // Of all options of that name one gains so much for so much.
            let choice = choices::find(&row.id).expect("a choice");
            let better = text(cell(table, &row.id, "better")).to_owned();
            let tried = choice.options(&catalogue).into_iter();
            let named = tried.filter(|value| choice.show_short(value, &catalogue) == better);
            let mut found = named.map(|value| {
                let mut other = build.clone();
                choice.put(&mut other, &value);
                let after = assess(&catalogue, &other, common::today()).expect("an assessment");
                let reading = Reading::of(&after);
                let price = reading.cost.likely - before.cost.likely;
                (stiffness(&reading) - here, price)
            });
            let gain = at("gains_n_per_um");
            let is_so = |(gained, price): (f64, rust_decimal::Decimal)| {
                (gained - gain).abs() < 1e-9 && price == costs.amount
            };
            let is_list = !choice.options(&catalogue).is_empty();
            assert!(!is_list || found.any(is_so), "{row:?}");
            gains += usize::from(is_list);
        }
    }
    assert!(gains > 5, "{gains}");
}
