//! What a search believes of single builds, for those who want to hold it against the truth:
//! what a build costs at least as its choices are made one by one, and what is learned from a
//! build that is out.

use std::ops::ControlFlow;

use rust_decimal::Decimal;

use super::floor::{Floor, Partial};
use super::search::{PARTING, space};
use super::tally::Tally;
use super::walk::Walk;
use super::{Because, Progress, Request, Space};
use crate::assessment::AssessError;
use crate::bill::floor::Shop;
use crate::build::{Axis, Choice, Picked};
use crate::explore::trial::Bench;

/// One lesson.
#[derive(Clone, Debug)]
pub struct Learned {
    /// Why the build is out.
    pub because: Because,
    /// The axis that is too weak for its load, where that is why.
    pub weak: Option<Axis>,
    /// How the figure stands at best, where it is too poor.
    pub value: Option<f64>,
    /// The choices that alone decide it.
    pub choices: Vec<&'static Choice>,
    /// How many more would, without a look at the build.
    pub spared: usize,
}

/// What a request leaves free within one walk, in the order in which choices are made.
pub fn free(bench: &Bench, request: &Request) -> Space {
    let mut space = space(bench.catalogue, bench.build, &request.free);
    space.free.retain(|one| !PARTING.contains(&one.choice.id));
    space
}

/// For each way through a space, which has an option's place for each choice: what the build
/// costs at least with none of its choices made, with the first, with the first two and so on.
///
/// # Errors
/// Where an option cannot be picked or priced.
pub fn floors(
    bench: &Bench,
    space: &Space,
    ways: &[Vec<usize>],
) -> Result<Vec<Vec<Decimal>>, AssessError> {
    let picked = Picked::new(bench.catalogue, bench.build)?;
    let shop = Shop::new(&picked, bench.today)?;
    let floor = Floor::new(&picked, shop, bench.build, space)?;
    let mut partial = Partial::new(&floor, space);
    let mut all = Vec::with_capacity(ways.len());
    for way in ways {
        let mut floors = vec![floor.money(partial.least())];
        for (turn, &option) in way.iter().enumerate() {
            partial.make(turn, option);
            floors.push(floor.money(partial.least()));
        }
        way.iter().for_each(|_| partial.open());
        all.push(floors);
    }
    Ok(all)
}

/// For each way through a space, what a search learns at its end.
///
/// # Errors
/// As [`floors`].
pub fn lessons(
    bench: &Bench,
    request: &Request,
    space: &Space,
    ways: &[Vec<usize>],
) -> Result<Vec<Vec<Learned>>, AssessError> {
    let picked = Picked::new(bench.catalogue, bench.build)?;
    let shop = Shop::new(&picked, bench.today)?;
    let floor = Floor::new(&picked, shop, bench.build, space)?;
    let mut walk = Walk::new(bench, request, bench.build, space, &floor);
    let mut watch = |_: &Progress| ControlFlow::Continue(());
    let mut tally = Tally::new(space.combinations(), bench.before.bill.currency, &mut watch);
    let mut all = Vec::with_capacity(ways.len());
    for way in ways {
        let build = walk.build(way);
        let mut learned = Vec::new();
        for mut lesson in walk.judge(&build, &mut tally)?.0 {
            let wide = lesson.scope.len();
            walk.narrow(&mut lesson, way, &mut tally)?;
            let choices = lesson.scope.iter().map(|&turn| space.free[turn].choice);
            learned.push(Learned {
                because: lesson.because,
                weak: lesson.weak,
                value: lesson.value,
                spared: wide - lesson.scope.len(),
                choices: choices.collect(),
            });
        }
        all.push(learned);
    }
    Ok(all)
}

/// What a search believes to be needed of something, and what really is.
#[derive(Clone, Debug)]
pub struct Need {
    /// The part, or what asks for it where a free choice names the part.
    pub name: String,
    /// What is needed at least: a quantity of the part, or money of what is named.
    pub least: Decimal,
    /// What is.
    pub real: Decimal,
}

/// For each way through a space, every need at its end. Closer to the bone than [`floors`]: of
/// two wrong needs one cannot hide the other.
///
/// # Errors
/// As [`floors`].
pub fn needs(
    bench: &Bench,
    space: &Space,
    ways: &[Vec<usize>],
) -> Result<Vec<Vec<Need>>, AssessError> {
    let picked = Picked::new(bench.catalogue, bench.build)?;
    let shop = Shop::new(&picked, bench.today)?;
    let floor = Floor::new(&picked, shop, bench.build, space)?;
    let end = |way: &Vec<usize>| {
        let found = floor.against(bench.catalogue, (bench.build, space), way)?;
        let needs = found.into_iter();
        Ok(needs
            .map(|(name, least, real)| Need { name, least, real })
            .collect())
    };
    ways.iter().map(end).collect()
}
