//! Floors against the real bill: never above it, whatever is still open.

use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rust_decimal::prelude::ToPrimitive as _;

use super::*;
use crate::assessment::assess;
use crate::explore::find::{search, usual};
use crate::store::{examples, library};
use crate::words::Words as _;

fn today() -> jiff::civil::Date {
    jiff::civil::date(2026, 11, 26)
}

#[test]
#[ignore = "a look at where a floor loses"]
fn gap() {
    let catalogue = library::load(&[]).expect("the catalogue");
    let mut build = Build::default();
    build.drive.gantry = crate::build::choices::drive::GantryDrive::Centre;
    let mut space = search::space(&catalogue, &build, &usual(&catalogue));
    space.free.retain(|one| one.choice.id != "gantry_drive");
    let picked = Picked::new(&catalogue, &build).expect("picked");
    let shop = Shop::new(&picked, today()).expect("a shop");
    let floor = Floor::new(&picked, shop, &build, &space).expect("floors");
    let mut partial = Partial::new(&floor, &space);
    let mut end = build.clone();
    for pair in std::env::var("GAP")
        .unwrap_or_default()
        .split(' ')
        .filter(|one| !one.is_empty())
    {
        crate::build::Edit::parse_pair(pair, &catalogue, &build)
            .expect("edit")
            .apply(&mut end);
    }
    println!("open {}", partial.least());
    for (turn, free) in space.free.iter().enumerate() {
        let now = (free.choice.get)(&end);
        let option = free
            .options
            .iter()
            .position(|one| *one == now)
            .expect("an option");
        partial.make(turn, option);
        println!("{} {}", free.choice.id, partial.least());
    }
    let real = assess(&catalogue, &end, today()).expect("an assessment");
    println!("real {}", real.bill.total.likely);
    for one in &real.bill.consignments {
        let place = catalogue
            .suppliers
            .get_index_of(&one.supplier)
            .expect("known");
        println!(
            "{} goods {} on top {:?} floor {:?}",
            one.supplier,
            one.goods.likely,
            one.on_top().map(|r| r.likely),
            partial.baskets[place]
        );
    }
    for line in &real.bill.lines {
        if !floor.rest.iter().any(|rest| rest.part.id() == &line.part) {
            println!(
                "not in rest: {} {} {}",
                line.part, line.needed, line.total.likely
            );
        }
        for (place, rest) in floor.rest.iter().enumerate() {
            if rest.part.id() == &line.part && rest.step == line.step {
                let least = partial.least[place];
                let total = (line.total.likely * Decimal::ONE_HUNDRED)
                    .to_i64()
                    .unwrap_or_default();
                if total - least.goods > 20 {
                    println!(
                        "rest {} {} real {} floor {} needed {} floor {} shared {}",
                        line.part,
                        line.step.id(),
                        total,
                        least.goods,
                        line.needed,
                        partial.needed[place],
                        rest.shared
                    );
                }
            }
        }
    }
}
