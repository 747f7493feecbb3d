//! An assessment as a page of text.

use crate::assessment::Assessment;
use crate::assessment::moved::Moved;
use crate::build::choices::tidy;
use crate::build::{Axis, Build, Edit, MAIN};
use crate::catalogue::Catalogue;
use crate::commands::color::Paint;
use crate::commands::layout::{hanging, table};
use crate::explore::remedy::Unfit;
use crate::explore::stiffer::Stiffer;
use crate::machine::Machine;
use crate::units::{self, show};
use crate::words::Words as _;

mod able;
mod cost;
mod findings;
mod measured;
mod power;
mod running;
mod safety;

const MODELS: &str = "Local codes and licensed practice come first. Figures come from simplified models and say what \
     to expect, not what is safe.";

/// What the page tells beside the assessment itself.
pub(super) struct Extras<'a> {
    /// The changes that lift each finding.
    pub(super) remedies: &'a [Vec<Edit>],
    /// Of each finding that nothing lifts, though a rule of one's own names something: why that is
    /// no remedy.
    pub(super) unfit: &'a [Option<Unfit>],
    /// What moved since the build was saved, where it says when that was.
    pub(super) moved: Option<&'a Moved>,
    /// The change that stiffens the softest direction most for its money.
    pub(super) stiffer: Option<(Axis, Stiffer)>,
    /// Whether every caution is told in full.
    pub(super) safety: bool,
}

/// The whole page.
pub(super) fn text(
    catalogue: &Catalogue,
    build: &Build,
    assessment: &Assessment,
    extras: &Extras,
    paint: Paint,
) -> String {
    let mut page = hanging("", 0, &build.title);
    page.push_str(&hanging("", 0, &build.note));
    page.push_str(&variants(build));
    let since = extras
        .moved
        .map_or(String::new(), |moved| format!("Since {}", moved.since));
    let parts = [
        (since.as_str(), moved(catalogue, extras.moved)),
        (
            "Cost",
            cost::cost(&assessment.bill) + &running::running(&assessment.bill),
        ),
        ("Axes", axes(&assessment.machine, paint)),
        (
            "Stiffness",
            able::stiffness(&assessment.machine, paint)
                + &able::stiffer(catalogue, build, assessment, extras),
        ),
        (
            "Cutting",
            able::cutting(catalogue, build, &assessment.machine, paint),
        ),
        ("Life", able::life(&assessment.machine)),
        ("Job", able::job(catalogue, build, &assessment.machine)),
        ("Power", power::power(&assessment.machine)),
        ("Machine", machine(&assessment.machine)),
        ("Measured", measured::measured(&assessment.machine)),
    ];
    for (heading, part) in parts.iter().filter(|(_, part)| !part.is_empty()) {
        page.push_str(&format!("\n{}\n{part}", paint.heading(heading)));
    }
    page.push_str(&format!("\n{}\n", paint.heading("Warnings")));
    page.push_str(&findings::findings(assessment, extras, paint));
    page.push_str(&format!("\n{}\n", paint.heading("Safety notes")));
    page.push_str(&safety::safety(&assessment.safety, extras.safety));
    page.push('\n');
    page.push_str(&hanging("", 0, MODELS));
    page
}

/// Which variant this is about, and which others there are; nothing where there is but one.
fn variants(build: &Build) -> String {
    if build.variants.is_empty() {
        return String::new();
    }
    let here = build.variant();
    let mut says = match (here, build.note_of(here)) {
        (MAIN, _) => "This is the main build.".to_owned(),
        (name, "") => format!("This is the variant {name}."),
        (name, note) => format!("This is the variant {name}: {note}."),
    };
    let others = build
        .variant_names()
        .into_iter()
        .filter(|name| *name != here);
    let others: Vec<&str> = others.collect();
    says.push_str(&format!(" Others, by --variant: {}.", others.join(", ")));
    hanging("", 0, &says)
}

/// What moved since the build was saved; nothing where nothing did.
fn moved(catalogue: &Catalogue, moved: Option<&Moved>) -> String {
    let said = moved.map(|moved| moved.sentences(catalogue));
    let each = said.iter().flatten();
    each.map(|sentence| hanging("", 2, sentence)).collect()
}

fn row<const N: usize>(cells: [&str; N]) -> Vec<String> {
    cells.map(str::to_owned).to_vec()
}

fn axes(machine: &Machine, paint: Paint) -> String {
    let mut rows = vec![
        row([
            "",
            "travel",
            "rapids",
            "held by",
            "speeds up",
            "one step",
            "thrust",
        ]),
        row(["", "mm", "m/min", "", "m/s²", "µm", "N"]),
    ];
    for (axis, figures) in machine.axes.iter() {
        rows.push(row([
            &format!("  {}", axis.title()),
            &show::typed(tidy(units::mm::from(figures.travel))),
            &format!("{:.1}", units::m_per_min::from(figures.rapid)),
            figures.limited_by.title(),
            &format!("{:.2}", units::m_per_s2::from(figures.acceleration)),
            &format!("{:.1}", units::um::from(figures.step)),
            &format!("{:.0}", units::n::from(figures.thrust)),
        ]));
    }
    let units = ["", "mm", "m/min", "", "m/s²", "µm", "N"];
    paint.numbers().table(&mut rows, &units);
    let mut said = table("<>><>>>", &rows);
    let next = machine.axes.iter().filter_map(|(axis, figures)| {
        let next = figures.held_next()?;
        let speed = units::m_per_min::from(next.speed);
        let (axis, limit) = (axis.title(), next.name.title());
        Some(format!("{axis} {limit}, at {speed:.1} m/min"))
    });
    let next: Vec<String> = next.collect();
    if !next.is_empty() {
        let text = format!(
            "With that lifted, what would hold it next: {}.",
            next.join("; ")
        );
        said.push_str(&hanging("", 2, &paint.numbers().spell(&text)));
    }
    for (axis, _) in machine.axes.iter().filter(|(_, figures)| figures.drops) {
        let text = format!("{} sinks when the power goes.", axis.title());
        said.push_str(&hanging("", 2, &text));
    }
    said
}

fn machine(machine: &Machine) -> String {
    let floor = machine.geometry.footprint;
    let cables = units::m::from(machine.geometry.cable_length());
    let size = [floor.x, floor.y, floor.z].map(|length| format!("{:.0}", units::mm::from(length)));
    let mut said = format!(
        "{} mm, {:.0} kg, {cables:.0} m of cables",
        size.join(" x "),
        units::kg::from(machine.masses.total)
    );
    if let Some(rise) = machine.electrics.cabinet.rise {
        said.push_str(&format!(
            "; the cabinet gets {:.0} K warmer than the room",
            units::kelvin::from(rise)
        ));
    }
    hanging("", 2, &format!("{said}."))
}

#[cfg(test)]
mod tests;
