//! What the machine is able to do: stiffness, cuts, life, the job's time.

use unicode_width::UnicodeWidthStr as _;

use super::{Extras, row};
use crate::assessment::Assessment;
use crate::build::{Axis, Build, Picked};
use crate::catalogue::{Catalogue, Id, Part};
use crate::commands::color::Paint;
use crate::commands::layout::{WIDTH, hanging, pad, spread, table};
use crate::machine::Machine;
use crate::machine::cutting::{Cut, Verdict};
use crate::machine::job::piece;
use crate::money::show as amounts;
use crate::store::visible;
use crate::units::{self, show};
use crate::words::Words as _;

/// How many of the softest parts of a direction are named.
const SOFTEST: usize = 3;
/// Between the columns of a table.
const GAP: usize = 2;
/// Columns before a material's name, for the mark of what is wished.
const MARK: usize = 2;
/// Longer than any machine of this kind runs: more digits would only seem exact.
const LONG_HOURS: f64 = 100_000.0;
/// The same for the way that it moves.
const LONG_KM: f64 = 100_000.0;

/// Stiffness at collet and tip, and what gives most.
pub(super) fn stiffness(machine: &Machine, paint: Paint) -> String {
    let all = &machine.stiffness;
    let numbers = paint.numbers();
    let head = format!("  {}, more is stiffer", numbers.unit("N/µm"));
    let mut rows = vec![row([&head, "X", "Y", "Z"])];
    for (name, each) in [
        ("  at the collet, mid-span", &all.collet),
        ("  at the collet, worst place", &all.collet_worst),
        ("  at the tool's tip, mid-span", &all.tip),
        ("  at the tool's tip, worst place", &all.tip_worst),
        ("  at the collet, thinnest walls", &all.collet_thin_wall),
        ("  at the tip, worst of all", &all.tip_worst_thin_wall),
    ] {
        let [x, y, z] = Axis::EACH.map(|axis| show::number(units::n_per_um::from(each[axis]), 1));
        rows.push(row([name, &x, &y, &z]));
    }
    numbers.table(&mut rows, &["", "N/µm", "N/µm", "N/µm"]);
    let mut said = table("<>>>", &rows);
    for (axis, springs) in all.springs.iter() {
        let softest = springs.iter().take(SOFTEST).map(|spring| {
            let share = show::number(units::percent::from(spring.share), 0);
            format!("{} {share} %", spring.name.title())
        });
        let softest = softest.collect::<Vec<_>>().join(", ");
        if !softest.is_empty() {
            let text = format!("Most give along {}: {softest}.", axis.title());
            said.push_str(&hanging("", 2, &text));
        }
    }
    let mode = show::number(units::hz::from(all.first_mode), 0);
    let text = format!("The gantry's lowest natural frequency is {mode} Hz.");
    said + &hanging("", 2, &text)
}

/// The single change that stiffens the softest direction most for its money.
pub(super) fn stiffer(
    catalogue: &Catalogue,
    build: &Build,
    assessment: &Assessment,
    extras: &Extras,
) -> String {
    let Some((axis, best)) = &extras.stiffer else {
        return String::new();
    };
    let choice = best.edit.choice;
    let (from, to) = (
        choice.show(&(choice.get)(build), catalogue),
        choice.show(&best.edit.value, catalogue),
    );
    let number = |stiffness| show::number(units::n_per_um::from(stiffness), 1);
    let currency = assessment.bill.currency;
    let money = match best.cost.round() {
        zero if zero.is_zero() => "for the same money".to_owned(),
        less if less.is_sign_negative() => format!("and saves {}", amounts::money(-less, currency)),
        more => format!("for {} more", amounts::money(more, currency)),
    };
    let text = format!(
        "Where money helps most: {} is softest. {}, {from} -> {to}: from {} to {} N/µm, {money}{}.",
        axis.title(),
        choice.title,
        number(best.after - best.added),
        number(best.after),
        match best.drawback() {
            none if none.is_empty() => none,
            drawback => format!("; {drawback}"),
        },
    );
    hanging("", 2, &text)
}

/// One row a material: how well it goes with the tool that removes most of it.
pub(super) fn cutting(
    catalogue: &Catalogue,
    build: &Build,
    machine: &Machine,
    paint: Paint,
) -> String {
    let cutting = &machine.cutting;
    let mut materials: Vec<&Id> = Vec::new();
    for cut in &cutting.cuts {
        if !materials.contains(&&cut.material) {
            materials.push(&cut.material);
        }
    }
    if materials.is_empty() {
        return String::new();
    }
    let heads = [
        "",
        "",
        "tool",
        "deep x wide",
        "feed",
        "removes",
        "why no more",
    ];
    let units = ["", "", "mm", "mm", "m/min", "cm³/min", ""];
    let mut rows = vec![row(heads), row(units)];
    for material in materials {
        let wished = build.area.materials.contains(material);
        let mark = if wished { "*" } else { " " };
        let name = catalogue.materials.get(material);
        let name = name.map_or(material.as_str(), |material| Part::title(material));
        // Its width decides where it stands, so it is made visible before that.
        let mut cells = vec![format!("{mark} {}", visible(name))];
        cells.extend(match cutting.best(material) {
            Some(cut) => best(cut, cutting.verdict(material)),
            None => {
                let mut cuts = cutting.cuts.iter();
                let why = cuts.find(|cut| cut.material == *material);
                let why = why.map_or("", |cut| cut.limited_by.title());
                row([Verdict::No.title(), "", "", "", "", why])
            }
        });
        rows.push(cells);
    }
    paint.numbers().table(&mut rows, &units);
    let mut said = table_of_long_names("<<>>>><", rows);
    let text = "The most that straight cuts remove, each at a feed and depth of its own; warnings \
        about feed and thrust are for the cutting feed and force that you want. Corners and small \
        pieces take longer: see Job, where you name one.";
    said.push_str(&hanging("", 2, text));
    if !build.area.materials.is_empty() {
        said.push_str(&hanging("", 2, "* is what you want to cut."));
    }
    said
}

fn best(cut: &Cut, verdict: Verdict) -> Vec<String> {
    row([
        verdict.title(),
        &show::at_most(units::mm::from(cut.diameter), 3),
        &format!(
            "{} x {}",
            show::number(units::mm::from(cut.depth), 2),
            show::number(units::mm::from(cut.width), 1)
        ),
        &show::number(units::m_per_min::from(cut.feed), 1),
        &show::number(units::cm3_per_min::from(cut.removal), 1),
        cut.limited_by.title(),
    ])
}

/// A table that keeps the width of a page without cutting a name: a first cell that is too
/// long goes on below, behind its mark.
fn table_of_long_names(sides: &str, rows: Vec<Vec<String>>) -> String {
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.width()).max().unwrap_or(0)
    };
    let others: usize = (1..sides.len()).map(|column| width(column) + GAP).sum();
    let room = WIDTH.saturating_sub(MARK + others);
    let mut all = Vec::new();
    for mut row in rows {
        let first = std::mem::take(&mut row[0]);
        let (mark, name) = first.split_at_checked(MARK).unwrap_or_default();
        row[0] = name.to_owned();
        let mut lines = spread(row, 0, room);
        for (number, line) in lines.iter_mut().enumerate() {
            let mark = if number == 0 { mark } else { "" };
            line[0] = format!("{}{}", pad(mark, MARK), line[0]);
        }
        all.append(&mut lines);
    }
    table(sides, &all)
}

/// How long nuts and carriages last.
pub(super) fn life(machine: &Machine) -> String {
    let km = |length| at_most(units::km::from(length), LONG_KM);
    let hours = |time| at_most(units::hour::from(time), LONG_HOURS);
    let heads = ["", "nut", "", "carriages", ""];
    let mut rows = vec![row(heads), row(["", "km", "hours", "km", "hours"])];
    for (axis, life) in machine.life.iter() {
        rows.push(row([
            &format!("  {}", axis.title()),
            &life.nut.map_or_else(|| "-".to_owned(), km),
            &life.nut_hours.map_or_else(|| "-".to_owned(), hours),
            &km(life.carriage),
            &hours(life.carriage_hours),
        ]));
    }
    let text = "Nine of ten last longer, kept clean and greased.";
    table("<>>>>", &rows) + &hanging("", 2, text)
}

/// A number, or that it is over what anybody will use.
fn at_most(number: f64, most: f64) -> String {
    match number > most {
        true => format!("over {}", show::number(most, 0)),
        false => show::number(number, 0),
    }
}

/// The minutes of the named job; nothing where none is named.
pub(super) fn job(catalogue: &Catalogue, build: &Build, machine: &Machine) -> String {
    let Some(job) = &machine.job else {
        return String::new();
    };
    let minutes = |time| show::number(units::minute::from(time), 1);
    let tool = catalogue.end_mills.get(&job.tool);
    let tool = tool.map_or(job.tool.as_str(), |tool| Part::title(tool));
    let piece = Picked::new(catalogue, build).map(|picked| piece(&picked));
    let piece = piece.map_or_else(
        |_| String::new(),
        |piece| hanging("", 2, &format!("{piece}.")),
    );
    let mut rows = vec![row(["", "min"])];
    for (name, time) in [
        ("  roughing", job.roughing),
        ("  finishing", job.finishing),
        ("  moves between cuts", job.moves),
        ("  changing tools", job.changes),
        ("    of it finding their lengths", job.lengths),
        ("  in all", job.total),
    ] {
        rows.push(row([name, &minutes(time)]));
    }
    let mut said = piece + &table("<>", &rows) + &hanging("", 2, &format!("Roughed with: {tool}."));
    if !job.held_by.is_empty() {
        let text = format!("What holds it back: {}.", job.held_by);
        said.push_str(&hanging("", 2, &text));
    }
    said
}

#[cfg(test)]
mod tests;
