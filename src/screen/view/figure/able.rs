//! What the machine is able to do: what gives under a force, what each material allows, and
//! how long the job takes.

use ratatui::text::Line;

use crate::build::Axis;
use crate::catalogue::Part;
use crate::machine::cutting::{Cut, Verdict};
use crate::screen::state::State;
use crate::screen::view::paint::Pen;
use crate::screen::view::warnings::Page;
use crate::units::{self, show};
use crate::words::Words;

/// Stiffness along an axis in all its forms, and all that gives there, the softest first.
pub(super) fn stiffness(state: &State, pen: &Pen, width: usize, axis: Axis) -> Vec<Line<'static>> {
    let all = &state.now.machine.stiffness;
    let number = |stiffness| show::number(units::n_per_um::from(stiffness), 1);
    let mut page = begin(
        pen,
        width,
        &format!(
            "{}: {} N/µm at the collet",
            axis.title(),
            number(all.collet[axis])
        ),
    );
    page.text("The force in newtons that pushes the collet aside by a thousandth of a millimetre, the carriage in the middle of its travel.");
    page.lines.push(Line::default());
    for (title, stiffness) in [
        ("at the worst place", all.collet_worst[axis]),
        ("at the tool's tip", all.tip[axis]),
        ("at the tip, worst place", all.tip_worst[axis]),
        ("with the thinnest walls", all.collet_thin_wall[axis]),
    ] {
        let room = width.saturating_sub(16);
        page.lines.push(Line::from(format!(
            "   {}{}",
            pen.left(title, room),
            pen.right(&format!("{} N/µm", number(stiffness)), 12)
        )));
    }
    page.part("What gives", "Each with its share of all that gives, and how stiff it would be alone. To be stiffer, change what the first is about.");
    for spring in &all.springs[axis] {
        let word = spring.name.word();
        let share = show::number(units::percent::from(spring.share), 0);
        let alone = number(spring.stiffness);
        page.part(
            &format!("{share} %  {}, {alone} N/µm", word.title),
            word.plain,
        );
    }
    page.lines
}

/// The best cut of every material, or that there is none.
pub(super) fn cuts(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let cutting = &state.now.machine.cutting;
    let mut page = begin(pen, width, "The most that each material allows");
    page.text("With the tool that removes most in a minute, every limit kept. What you want to cut is marked with *.");
    for material in state.catalogue.materials.values() {
        let wished = state.build().area.materials.contains(&material.id);
        let mark = if wished { "* " } else { "" };
        match cutting.best(&material.id) {
            Some(cut) => {
                let verdict = cut.verdict.title();
                page.part(
                    &format!("{mark}{}: {verdict}", material.title),
                    &told(state, cut),
                );
            }
            None => {
                let mut cuts = cutting.cuts.iter();
                let why = cuts.find(|cut| cut.material == material.id);
                let why = why.map_or("No tool that the spindle takes cuts it.", |cut| {
                    cut.limited_by.word().plain
                });
                page.part(
                    &format!("{mark}{}: {}", material.title, Verdict::No.title()),
                    why,
                );
            }
        }
    }
    page.lines
}

/// A cut in a sentence, and what holds it back.
fn told(state: &State, cut: &Cut) -> String {
    let tool = state.catalogue.end_mills.get(&cut.tool);
    let tool = tool.map_or(cut.tool.as_str(), |tool| Part::title(tool));
    let limit = cut.limited_by.word();
    format!(
        "{} cm³/min: {} mm deep and {} mm wide at {} mm/min and {} rpm. {tool}. What holds it back: {}. {}",
        show::number(units::cm3_per_min::from(cut.removal), 1),
        show::number(units::mm::from(cut.depth), 2),
        show::number(units::mm::from(cut.width), 1),
        show::number(units::m_per_min::from(cut.feed) * 1000.0, 0),
        show::number(units::rpm::from(cut.turning), 0),
        limit.title,
        limit.plain
    )
}

/// The parts of the job's time.
pub(super) fn job(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let Some(job) = &state.now.machine.job else {
        return vec![Line::from(" No job is named.")];
    };
    let minutes = |time| format!("{} min", show::number(units::minute::from(time), 1));
    let head = format!("{} in all", minutes(job.total));
    let mut page = begin(pen, width, &head);
    if !job.held_by.is_empty() {
        page.text(&format!("What holds it back: {}.", job.held_by));
    }
    page.lines.push(Line::default());
    for (title, time) in [
        ("Roughing", job.roughing),
        ("Finishing", job.finishing),
        ("Moves between cuts", job.moves),
        ("Changing tools", job.changes),
    ] {
        let room = width.saturating_sub(16);
        let time = pen.right(&minutes(time), 12);
        let title = pen.left(title, room);
        page.lines.push(Line::from(format!("   {title}{time}")));
    }
    page.lines
}

fn begin<'a>(pen: &'a Pen, width: usize, head: &str) -> Page<'a> {
    let head = pen.cut(&format!(" {head}"), width);
    Page {
        pen,
        width,
        lines: vec![Line::styled(head, pen.theme.marked)],
    }
}
