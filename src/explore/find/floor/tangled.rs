//! Choices that take more away together than each does by itself, and how much that is.
//!
//! Each says "as the other" or wants the same thing: with the last of them the thing goes. Such
//! choices are not asked one by one but all together.

use super::sample::{Millionths, Sample};
use super::taken::Taken;
use crate::assessment::AssessError;
use crate::build::choices::control::OnCircuit;
use crate::build::{Axis, Value};
use crate::explore::find::Space;
use crate::machine::loads::{Consumer, circuit_choice};
use crate::words::Words as _;

/// Choices in one of these groups: a second drive along Y is like the first unless it has its
/// own; stop and no-volt release want the contactor.
const GROUPS: &[&[&str]] = &[
    &["drive_y", "drive_y2"],
    &["emergency_stop", "no_volt_release"],
];

/// Loads of the mains that may be left out: with the last load on it a circuit goes, or what the
/// stop cuts there.
const LOADS: &[&str] = &["extractor", "computer", "cooler", "coolant"];

/// Choices of an axis that decide whether it takes anything from the motors' supply: with the
/// last axis that does, the supply's wires go.
const FED: [&str; 2] = ["motor", "driver"];

/// Asks a build with some options.
pub(super) type Ask<'f> = dyn Fn(&[(usize, usize)]) -> Result<Sample, AssessError> + 'f;

/// The free choices of each group of which at least two are free.
pub(super) fn groups(space: &Space) -> Vec<Vec<usize>> {
    let free = |ids: &&[&str]| -> Vec<usize> {
        let places = ids.iter().filter_map(|id| place(space, id));
        places.collect()
    };
    let groups = GROUPS.iter().map(free);
    groups.filter(|group| group.len() > 1).collect()
}

fn place(space: &Space, id: &str) -> Option<usize> {
    space.free.iter().position(|one| one.choice.id == id)
}

/// Puts what a group takes together to the account of its first choice: to each of its options
/// what that takes at most, whatever the others are. The others then take nothing more.
///
/// # Errors
/// Where an option cannot be picked.
pub(super) fn merge(
    space: &Space,
    group: &[usize],
    reference: &Sample,
    singles: &mut [Vec<Sample>],
    ask: &Ask,
) -> Result<(), AssessError> {
    let Some((&first, others)) = group.split_first() else {
        return Ok(());
    };
    for edits in super::naming::combinations(space, group) {
        let sample = ask(&edits)?;
        let least = &mut singles[first][edits[0].1];
        for (key, needed) in &mut least.rest {
            let other = sample.rest.get(key);
            for (source, most) in &mut needed.by {
                let now = other.and_then(|other| other.by.get(source));
                *most = (*most).min(now.copied().unwrap_or_default());
            }
        }
    }
    for &other in others {
        for single in &mut singles[other] {
            single.rest.clone_from(&reference.rest);
        }
    }
    Ok(())
}

/// Builds from which all goes that may be taken from one of the circuits: [`LOADS`] are left out,
/// as far as they are free, and the others hang on the same circuit.
pub(super) fn unloaded(space: &Space) -> Vec<Vec<(usize, usize)>> {
    let on = |circuit: OnCircuit| {
        let hang = Consumer::ALL.iter().map(|one| circuit_choice(*one));
        let mut ids: Vec<&str> = LOADS.iter().copied().chain(hang).collect();
        // Two consumers share one.
        ids.sort_unstable();
        ids.dedup();
        let each = ids.into_iter().filter_map(|id| {
            let turn = place(space, id)?;
            let none = option(space, turn, &Value::Part(None));
            let there = || option(space, turn, &Value::Word(circuit.id()));
            Some((turn, none.or_else(there)?))
        });
        each.collect()
    };
    let builds = OnCircuit::ALL.iter().map(|circuit| on(*circuit));
    builds.filter(|edits: &Vec<_>| edits.len() > 1).collect()
}

/// What goes with the last of several axes that want it: less is needed than single choices
/// tell, by as much as in a build in which all axes are like any one of them. Where the thing
/// is gone, no axis wants it, and so it is gone there too.
pub(super) struct Together {
    /// For each axis the turns of its motor and driver, where free, and the row or column of
    /// each option.
    axes: Vec<[Option<Turn>; 2]>,
    /// Of each of the rest, by its place, what is less with each motor and driver.
    less: Vec<(usize, Grid)>,
    /// Whether any axis of the build at hand takes nothing from the supply, or has a driver of
    /// another kind than its motor: then another thing goes with each, and only the most that
    /// any axis tells is certain.
    mixed: bool,
}

/// A free choice: its turn, and the row or column of each option; none for one that other axes
/// do not have.
type Turn = (usize, Vec<Option<usize>>);

/// Motors by drivers, with the most of each row and column and of all behind them.
struct Grid {
    columns: usize,
    cells: Vec<Millionths>,
}

impl Grid {
    fn new(cells: &[Millionths], columns: usize) -> Self {
        let rows = cells.chunks(columns);
        let most = |cells: &mut dyn Iterator<Item = Millionths>| cells.max().unwrap_or_default();
        let mut all = Vec::with_capacity((columns + 1) * (rows.len() + 1));
        for row in rows.clone() {
            all.extend_from_slice(row);
            all.push(most(&mut row.iter().copied()));
        }
        for column in 0..columns {
            all.push(most(&mut rows.clone().map(|row| row[column])));
        }
        all.push(most(&mut cells.iter().copied()));
        Self {
            columns: columns + 1,
            cells: all,
        }
    }

    /// The most in a row, in a column, in one cell or in all.
    fn most(&self, row: Option<usize>, column: Option<usize>) -> Millionths {
        let last = self.cells.len() / self.columns - 1;
        let place = row.unwrap_or(last) * self.columns + column.unwrap_or(self.columns - 1);
        self.cells[place]
    }
}

impl Together {
    /// Asks builds in which all axes have the same motor and driver; `mixed` tells whether an
    /// axis of the build at hand does not take from the motors' supply as it should.
    ///
    /// # Errors
    /// Where an option cannot be picked.
    pub(super) fn new(
        space: &Space,
        reference: &Sample,
        taken: &Taken,
        mixed: bool,
        ask: &Ask,
    ) -> Result<Self, AssessError> {
        let turns = |name: &str| Axis::EACH.map(|axis| place(space, &axis.choice(name)));
        let names = FED.map(turns);
        // The options of the first axis that has the choice free stand for all.
        let values = names.map(|turns| {
            let first = turns.iter().flatten().next();
            first.map_or(&[][..], |&turn| &space.free[turn].options)
        });
        let mut all = Vec::new();
        for row in 0..values[0].len().max(1) {
            for column in 0..values[1].len().max(1) {
                let mut edits = Vec::new();
                for (turns, value) in names
                    .iter()
                    .zip([values[0].get(row), values[1].get(column)])
                {
                    let at = turns.iter().flatten();
                    edits.extend(at.filter_map(|&turn| Some((turn, option(space, turn, value?)?))));
                }
                all.push(edits);
            }
        }
        let found = match all[0].is_empty() {
            true => Vec::new(),
            false => all
                .iter()
                .map(|edits| ask(edits))
                .collect::<Result<Vec<_>, _>>()?,
        };
        let mut less = Vec::new();
        for (place, (key, base)) in reference.rest.iter().enumerate() {
            let built = all.iter().zip(&found);
            let cells =
                built.map(|(edits, found)| taken.beyond((place, base), edits, found.rest.get(key)));
            let cells: Vec<Millionths> = cells.collect();
            if cells.iter().any(|less| *less > 0) {
                let columns = values[1].len().max(1);
                less.push((place, Grid::new(&cells, columns)));
            }
        }
        let known = |which: usize, turn: Option<usize>| {
            let turn = turn?;
            let options = space.free[turn].options.iter();
            let at = |one: &Value| values[which].iter().position(|value| value == one);
            Some((turn, options.map(at).collect()))
        };
        let axes = (0..Axis::EACH.len()).map(|axis| {
            let [motors, drivers] = names;
            [known(0, motors[axis]), known(1, drivers[axis])]
        });
        let axes = axes.filter(|own| own.iter().any(Option::is_some));
        Ok(Self {
            axes: axes.collect(),
            less,
            mixed,
        })
    }

    /// Whether a choice is one of them.
    pub(super) fn knows(&self, choice: usize) -> bool {
        let own = self.axes.iter().flatten().flatten();
        !self.less.is_empty() && own.into_iter().any(|(turn, _)| *turn == choice)
    }

    /// By how much less is needed at most with the options that are made, for each place of the
    /// rest of which that can be.
    pub(super) fn less(&self, made: &[Option<usize>]) -> impl Iterator<Item = (usize, Millionths)> {
        let at = |turn: &Option<Turn>| {
            let (turn, options) = turn.as_ref()?;
            options[made[*turn]?]
        };
        let cells: Vec<_> = self.axes.iter().map(|[m, d]| (at(m), at(d))).collect();
        self.less.iter().map(move |(place, grid)| {
            let each = cells.iter().map(|(row, column)| grid.most(*row, *column));
            let least = match self.mixed {
                true => each.max(),
                false => each.min(),
            };
            (*place, least.unwrap_or_default())
        })
    }
}

fn option(space: &Space, turn: usize, value: &Value) -> Option<usize> {
    space.free[turn].options.iter().position(|one| one == value)
}
