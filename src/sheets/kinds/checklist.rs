//! The checklist: what is done from the first parcel to the first cut, in order, as far as this
//! machine has it. Ticks are the days that the build keeps.

use jiff::civil::Date;

use crate::bill::count::count;
use crate::catalogue::quantity::Count;
use crate::catalogue::task::Task;
use crate::order::Order as _;
use crate::sheets::{Cell, Column, Content, Paper, Row, Shape, Table};
use crate::words::Words as _;

const COLUMNS: [Column; 6] = [
    Column::new("done", "Done", Shape::Tick),
    Column::new("number", "No.", Shape::Number),
    Column::new("task", "Task", Shape::Text),
    Column::new("expect", "Expect", Shape::Text),
    Column::new("measured", "Measured", Shape::ByHand),
    Column::new("date", "On", Shape::Text),
];

/// What it says.
pub(in crate::sheets) fn content(paper: &Paper) -> Content {
    let tasks = tasks(paper);
    let done = (tasks.iter())
        .filter(|task| day(paper, task).is_some())
        .count();
    Content {
        about: format!(
            "{done} of {} tasks done. Do them in this order: each relies on those before it. How each is done stands below, by its number.",
            tasks.len()
        ),
        tables: vec![list(paper, &tasks), how(&tasks)],
        remarks: remarks(paper, &tasks),
    }
}

/// The tasks that this machine has, stage by stage.
pub fn tasks<'a>(paper: &Paper<'a>) -> Vec<&'a Task> {
    let machine = &paper.assessment.machine;
    let has = |what: Count| count(paper.picked, machine, what) > rust_decimal::Decimal::ZERO;
    let fits = |task: &&Task| task.when.is_none_or(has) && !task.without.is_some_and(has);
    let mut found: Vec<&Task> = paper.catalogue.tasks.iter().filter(fits).collect();
    // Tasks that an overlay adds come last in their stage, not last of all.
    found.order_by_key(|task| task.stage);
    found
}

/// The day on which a task was done.
fn day(paper: &Paper, task: &Task) -> Option<Date> {
    paper.build.done.get(task.id.as_str()).copied()
}

/// A table of tasks with a heading for each stage.
fn staged(
    tasks: &[&Task],
    columns: usize,
    mut row: impl FnMut(u64, &Task) -> Vec<Cell>,
) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut stage = None;
    for (place, task) in tasks.iter().enumerate() {
        if stage != Some(task.stage) {
            stage = Some(task.stage);
            rows.push(Row::heading(task.stage.title(), columns));
        }
        rows.push(Row::entry(task.id.as_str(), row(place as u64 + 1, task)));
    }
    rows
}

fn list(paper: &Paper, tasks: &[&Task]) -> Table {
    let rows = staged(tasks, COLUMNS.len(), |number, task| {
        let day = day(paper, task);
        vec![
            Cell::Tick(day.is_some()),
            Cell::Count(number),
            Cell::text(task.title),
            Cell::text(task.expect),
            Cell::ByHand,
            day.map_or(Cell::Empty, |day| Cell::text(day.to_string())),
        ]
    });
    Table {
        id: "checklist",
        title: "Tasks".to_owned(),
        columns: COLUMNS.into(),
        rows,
    }
}

/// How and why, and by which name the build keeps the tick.
fn how(tasks: &[&Task]) -> Table {
    let columns = vec![
        Column::new("number", "No.", Shape::Number),
        Column::new("id", "Name", Shape::Text),
        Column::new("how", "How", Shape::Text),
        Column::new("why", "Why", Shape::Text),
    ];
    let rows = staged(tasks, columns.len(), |number, task| {
        vec![
            Cell::Count(number),
            Cell::text(task.id.as_str()),
            Cell::text(task.how),
            Cell::text(why(task)),
        ]
    });
    Table {
        id: "how",
        title: "How, and why".to_owned(),
        columns,
        rows,
    }
}

/// Why, and where that comes from where it is more than practice.
fn why(task: &Task) -> String {
    match task.source.as_str() {
        "common practice" => task.why.to_string(),
        source => format!("{} From: {source}.", task.why),
    }
}

fn remarks(paper: &Paper, tasks: &[&Task]) -> Vec<String> {
    let mut remarks = vec![
        "Work on the mains follows local codes and is for a licensed electrician; the tests of earth, insulation and residual-current device are that work."
            .to_owned(),
        "Numbers to expect are the trade's usual ones: the papers of your own parts come first."
            .to_owned(),
    ];
    let machines = paper.build.area.machines;
    if machines > 1 {
        remarks.push(format!(
            "Print one for each of the {machines} machines: the build keeps one set of ticks."
        ));
    }
    if let Some(task) = tasks.first() {
        remarks.push(format!(
            "To keep a tick, set it on the screen, on the page of sheets; or write the task's name and day into your build file, under [done]: {} = \"{}\".",
            task.id, paper.today
        ));
    }
    let here = |name: &String| tasks.iter().any(|task| task.id.as_str() == name.as_str());
    let other: Vec<&str> = (paper.build.done.keys())
        .filter(|name| !here(name))
        .map(String::as_str)
        .collect();
    if !other.is_empty() {
        remarks.push(format!(
            "Done, but no task of this machine: {}. The build keeps them all the same.",
            other.join(", ")
        ));
    }
    remarks
}
