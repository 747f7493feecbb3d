//! What matters most for how stiff the machine is: the changes that give most for their money,
//! and how far each choice reaches. They are tried one by one, as on the page that weighs.
//!
//! Trying takes an assessment for each option, so only those choices are tried that stiffness
//! hangs on, and none with a long list; the command weighs them all.

use super::table;
use crate::build::Choice;
use crate::build::choices::Figure;
use crate::catalogue::Step;
use crate::explore::reading::Measure;
use crate::explore::trial::Bench;
use crate::explore::weigh::{self, Weighed, Weighing};
use crate::money::Money;
use crate::sheets::{Cell, Column, Paper, Row, Shape, Table};

/// The name of the table.
const ID: &str = "what-matters";

/// What is said below it.
pub(super) const REMARK: &str = "What makes it stiffer is tried one change at a time, without what \
    may have to go along with it, and only where the choice has few options: `gantrywright weigh` \
    tries all. Least and most are what the choice alone can make of the stiffness at the tip, in \
    its softest direction at the worst place, without a danger or a fault.";

/// The most rows.
const MOST: usize = 10;

/// The most options of a choice that stiffness mostly hangs on.
const MANY: usize = 24;

/// The most options of another choice of the drive.
const FEW: usize = 8;

/// The least gain that is not shown as nothing, in N/µm.
const SHOWN: f64 = 0.005;

/// Choices on which stiffness hangs although their row names other figures first.
const BESIDES: &[&str] = &["tool", "spindle_clamp"];

/// The table; none where no choice moves anything.
pub(super) fn content(paper: &Paper) -> Option<Table> {
    let bench = Bench {
        catalogue: paper.catalogue,
        build: paper.build,
        before: paper.assessment,
        today: paper.today,
    };
    let free: Vec<&'static Choice> = weigh::free()
        .filter(|choice| choice.options(paper.catalogue).len() <= most(choice))
        .collect();
    let weighing = weigh::weigh(&bench, &free);
    let ranked = weighing.ranked(Measure::Stiffness).into_iter().take(MOST);
    let rows: Vec<Row> = ranked.map(|one| row(paper, &weighing, one)).collect();
    let columns = [
        Column::new("choice", "Choice", Shape::Text),
        Column::new("better", "Better option", Shape::Text),
        Column::new("costs", "Costs", Shape::Money),
        Column::new("gains_n_per_um", "Gains N/µm", Shape::Number),
        Column::new("least_n_per_um", "Least", Shape::Number),
        Column::new("most_n_per_um", "Most", Shape::Number),
    ];
    let title = format!(
        "What makes it stiffer for its money, one change at a time, in {}",
        paper.assessment.bill.currency
    );
    (!rows.is_empty()).then(|| table(ID, &title, &columns, rows))
}

/// How many options a choice may have to be tried.
fn most(choice: &Choice) -> usize {
    let stiffness = [Figure::StiffnessX, Figure::StiffnessY, Figure::StiffnessZ];
    let moves = stiffness.iter().any(|one| choice.moves.contains(one));
    match (moves || BESIDES.contains(&choice.id), choice.step) {
        (true, _) => MANY,
        (false, Step::Drive) => FEW,
        (false, _) => 0,
    }
}

/// A choice: what betters it most for its money, and the least and the most that any of its
/// options makes of the tip's stiffness without a danger or a fault.
fn row(paper: &Paper, weighing: &Weighing, one: &Weighed) -> Row {
    let before = &weighing.before;
    let mut cells = vec![Cell::text(one.choice.title)];
    let best = one.best(before, Measure::Stiffness);
    let gained = best.and_then(|best| Some((best, best.gain(before, Measure::Stiffness)?)));
    match gained.filter(|(_, gain)| *gain >= SHOWN) {
        Some((best, gain)) => {
            let price = Money::new(best.price, before.cost.currency).rounded();
            cells.extend([
                Cell::text(one.choice.show_short(&best.value, paper.catalogue)),
                Cell::Money(price),
                Cell::Number(gain, 2),
            ]);
        }
        None => cells.extend([Cell::text("none to speak of"), Cell::Empty, Cell::Empty]),
    }
    match one.span(before, Measure::Stiffness) {
        Some(span) => cells.extend([span.least.0, span.most.0].map(|end| Cell::Number(end, 2))),
        None => cells.extend([Cell::Empty, Cell::Empty]),
    }
    Row::entry(one.choice.id, cells)
}
