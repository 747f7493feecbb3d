//! How much of each material the machine removes in a minute: with its best cut, and of what is
//! wished with every tool.

use ratatui::text::Line;

use super::bars;
use super::table;
use crate::catalogue::{Id, Part};
use crate::machine::cutting::{Cut, Verdict};
use crate::order::Order as _;
use crate::screen::state::State;
use crate::screen::view::differences::bar;
use crate::screen::view::paint::Pen;
use crate::units::{self, show};
use crate::words::Words as _;

fn rate(cut: &Cut) -> f64 {
    units::cm3_per_min::from(cut.removal)
}

fn shown(cut: &Cut) -> String {
    format!("{} cm³/min", show::number(rate(cut), 1))
}

/// The best cut of each tool in a material, the best tool first; only those that go.
fn by_tool<'s>(state: &'s State, material: &Id) -> Vec<&'s Cut> {
    let mut best: Vec<&Cut> = Vec::new();
    let cuts = state.now.machine.cutting.cuts.iter();
    for cut in cuts.filter(|cut| cut.material == *material && cut.verdict != Verdict::No) {
        match best.iter_mut().find(|known| known.tool == cut.tool) {
            Some(known) if rate(cut) > rate(known) => *known = cut,
            Some(_) => {}
            None => best.push(cut),
        }
    }
    best.order_by(|a, b| rate(b).total_cmp(&rate(a)));
    best
}

fn tool<'s>(state: &'s State, cut: &'s Cut) -> &'s str {
    let tool = state.catalogue.end_mills.get(&cut.tool);
    tool.map_or(cut.tool.as_str(), |tool| Part::title(tool))
}

/// The bars: every material, and below a wished one every tool.
pub(super) fn picture(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let cutting = &state.now.machine.cutting;
    let about = "The best cut of all tools that the spindle takes, every limit kept. What you wish to cut is marked with *, with every tool below it.";
    let mut lines = pen.paragraph(about, width, pen.theme.muted);
    let materials = || state.catalogue.materials.values();
    let best = materials().filter_map(|one| cutting.best(&one.id));
    let most = best.map(rate).fold(0.0, f64::max);
    let most = if most > 0.0 { most } else { 1.0 };
    let columns = bars::columns(width);
    for material in materials() {
        let wished = state.build().area.materials.contains(&material.id);
        let name = match wished {
            true => format!("* {}", material.title),
            false => material.title.to_string(),
        };
        let best = cutting.best(&material.id);
        let verdict = cutting.verdict(&material.id).title();
        let value = match best {
            Some(cut) => format!("{verdict}: {}", shown(cut)),
            None => verdict.to_owned(),
        };
        lines.push(bars::head(pen, width, &name, &value));
        if let Some(cut) = best {
            lines.push(bars::line(&bar(pen, rate(cut) / most, columns)));
        }
        if wished {
            let tools = by_tool(state, &material.id).into_iter();
            let tools: Vec<(String, String)> = tools
                .map(|cut| (format!("  {}", tool(state, cut)), shown(cut)))
                .collect();
            lines.extend(bars::pairs(pen, width, &tools));
        }
    }
    lines
}

/// The same numbers as a table: every material with every tool that goes.
pub(super) fn table(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for material in state.catalogue.materials.values() {
        let cuts = by_tool(state, &material.id);
        if cuts.is_empty() {
            let none = Verdict::No.title().to_owned();
            rows.push(vec![material.title.to_string(), none, String::new()]);
        }
        for cut in cuts {
            rows.push(vec![
                format!("{}: {}", material.title, tool(state, cut)),
                cut.verdict.title().to_owned(),
                shown(cut),
            ]);
        }
    }
    table::table(pen, width, &["Material and tool", "goes", "removed"], &rows)
}
