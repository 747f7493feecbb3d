//! What gives when the tool is pushed: a parted bar for each axis.

use ratatui::text::Line;

use super::bars::{self, Part};
use super::table;
use crate::build::Axis;
use crate::screen::state::State;
use crate::screen::view::paint::Pen;
use crate::sheets::pictures::stiffness::shown;
use crate::units::{self, Ratio, Stiffness, show};
use crate::words::Words as _;

fn stiff(stiffness: Stiffness) -> String {
    show::number(units::n_per_um::from(stiffness), 1)
}

fn percent(share: Ratio) -> String {
    format!("{} %", show::number(units::percent::from(share), 0))
}

/// The bars, and the softest springs below each; the table has all.
pub(super) fn picture(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let stiffness = &state.now.machine.stiffness;
    let about = format!(
        "At the collet, the tool at mid-span. What stands first is what to make stiffer first. \
         The first bending mode lies near {} Hz.",
        show::number(units::hz::from(stiffness.first_mode), 0)
    );
    let mut lines = pen.paragraph(&about, width, pen.theme.muted);
    for axis in Axis::EACH {
        let parts: Vec<Part> = shown(&stiffness.springs[axis])
            .into_iter()
            .map(|(name, percent)| Part {
                name: name.to_owned(),
                share: percent / 100.0,
                value: format!("{} %", show::number(percent, 0)),
            })
            .collect();
        let value = format!("{} N/µm", stiff(stiffness.collet[axis]));
        lines.push(Line::default());
        lines.push(bars::head(pen, width, axis.title(), &value));
        let bar = bars::parted(pen, bars::columns(width), &parts);
        lines.push(bars::line(&bar));
        lines.extend(bars::list(pen, width, &parts));
    }
    lines
}

/// The same numbers as a table.
pub(super) fn table(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let stiffness = &state.now.machine.stiffness;
    let mut lines = Vec::new();
    for axis in Axis::EACH {
        let mut rows: Vec<Vec<String>> = stiffness.springs[axis]
            .iter()
            .map(|spring| {
                let alone = format!("{} N/µm", stiff(spring.stiffness));
                vec![spring.name.title().to_owned(), percent(spring.share), alone]
            })
            .collect();
        let all = format!("{} N/µm", stiff(stiffness.collet[axis]));
        rows.push(vec!["All together".to_owned(), "100 %".to_owned(), all]);
        lines.extend(table::table(
            pen,
            width,
            &[axis.title(), "share", "alone"],
            &rows,
        ));
    }
    lines
}
