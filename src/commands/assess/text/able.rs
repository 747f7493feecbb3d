//! What the machine is able to do: stiffness, cuts, life, the job's time.

use unicode_width::UnicodeWidthStr as _;

use super::row;
use crate::build::{Axis, Build};
use crate::catalogue::{Catalogue, Id, Part};
use crate::commands::layout::{WIDTH, hanging, table};
use crate::machine::Machine;
use crate::machine::cutting::{Cut, Verdict};
use crate::screen::text::cut as shortened;
use crate::units::{self, show};
use crate::words::Words as _;

/// How many of the softest parts of a direction are named.
const SOFTEST: usize = 3;
/// Between the columns of a table.
const GAP: usize = 2;

/// Stiffness at collet and tip, and what gives most.
pub(super) fn stiffness(machine: &Machine) -> String {
    let all = &machine.stiffness;
    let mut rows = vec![row(["  N/µm, more is stiffer", "X", "Y", "Z"])];
    for (name, each) in [
        ("  at the collet, mid-span", &all.collet),
        ("  at the collet, worst place", &all.collet_worst),
        ("  at the tool's tip, mid-span", &all.tip),
        ("  at the tool's tip, worst place", &all.tip_worst),
        ("  at the collet, thinnest walls", &all.collet_thin_wall),
    ] {
        let [x, y, z] = Axis::EACH.map(|axis| show::number(units::n_per_um::from(each[axis]), 1));
        rows.push(row([name, &x, &y, &z]));
    }
    let mut said = table("<>>>", &rows);
    for (axis, springs) in all.springs.iter() {
        let softest = springs.iter().take(SOFTEST).map(|spring| {
            let share = show::number(units::percent::from(spring.share), 0);
            format!("{} {share} %", spring.name.title())
        });
        let softest = softest.collect::<Vec<_>>().join(", ");
        if !softest.is_empty() {
            let text = format!("{} gives most in: {softest}.", axis.title());
            said.push_str(&hanging("", 2, &text));
        }
    }
    let mode = show::number(units::hz::from(all.first_mode), 0);
    let text = format!("Struck, the gantry rings at {mode} Hz at the lowest.");
    said + &hanging("", 2, &text)
}

/// One row a material: how well it goes with the tool that removes most of it.
pub(super) fn cutting(catalogue: &Catalogue, build: &Build, machine: &Machine) -> String {
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
        "depth x width",
        "feed",
        "removes",
        "held by",
    ];
    let units = ["", "", "mm", "mm", "mm/min", "cm³/min", ""];
    let mut rows = vec![row(heads), row(units)];
    for material in materials {
        let wished = build.area.materials.contains(material);
        let mark = if wished { "*" } else { " " };
        let name = catalogue.materials.get(material);
        let name = name.map_or(material.as_str(), |material| Part::title(material));
        let mut cells = vec![format!("{mark} {name}")];
        cells.extend(match cutting.best(material) {
            Some(cut) => best(cut),
            None => {
                let mut cuts = cutting.cuts.iter();
                let why = cuts.find(|cut| cut.material == *material);
                let why = why.map_or("", |cut| cut.limited_by.title());
                row([Verdict::No.title(), "", "", "", "", why])
            }
        });
        rows.push(cells);
    }
    shorten(&mut rows);
    let mut said = table("<<>>>><", &rows);
    if !build.area.materials.is_empty() {
        said.push_str(&hanging("", 2, "* is what you want to cut."));
    }
    said
}

fn best(cut: &Cut) -> Vec<String> {
    row([
        cut.verdict.title(),
        &show::number(units::mm::from(cut.diameter), 1),
        &format!(
            "{} x {}",
            show::number(units::mm::from(cut.depth), 2),
            show::number(units::mm::from(cut.width), 1)
        ),
        &show::number(units::m_per_min::from(cut.feed) * 1000.0, 0),
        &show::number(units::cm3_per_min::from(cut.removal), 1),
        cut.limited_by.title(),
    ])
}

/// Cuts the first column so that the rows of a table keep the width of a page.
fn shorten(rows: &mut [Vec<String>]) {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.width()).max().unwrap_or(0)
    };
    let others: usize = (1..columns).map(|column| width(column) + GAP).sum();
    let room = WIDTH.saturating_sub(others);
    for first in rows.iter_mut().filter_map(|row| row.first_mut()) {
        *first = shortened(first, room, "");
    }
}

/// How long nuts and carriages last.
pub(super) fn life(machine: &Machine) -> String {
    let km = |length| show::number(units::km::from(length), 0);
    let hours = |time| show::number(units::hour::from(time), 0);
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

/// The minutes of the named job; nothing where none is named.
pub(super) fn job(catalogue: &Catalogue, machine: &Machine) -> String {
    let Some(job) = &machine.job else {
        return String::new();
    };
    let minutes = |time| show::number(units::minute::from(time), 1);
    let tool = catalogue.end_mills.get(&job.tool);
    let tool = tool.map_or(job.tool.as_str(), |tool| Part::title(tool));
    let mut rows = vec![row(["", "min"])];
    for (name, time) in [
        ("  roughing", job.roughing),
        ("  finishing", job.finishing),
        ("  moves between cuts", job.moves),
        ("  changing tools", job.changes),
        ("  in all", job.total),
    ] {
        rows.push(row([name, &minutes(time)]));
    }
    let mut said = table("<>", &rows) + &hanging("", 2, &format!("Roughed with: {tool}."));
    if !job.held_by.is_empty() {
        let text = format!("What holds it back: {}.", job.held_by);
        said.push_str(&hanging("", 2, &text));
    }
    said
}

#[cfg(test)]
mod tests;
