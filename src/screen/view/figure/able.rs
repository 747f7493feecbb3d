//! What the machine is able to do: what gives under a force, what each material allows, and
//! how long the job takes.

use ratatui::text::Line;

use super::plot::{Row, bars};
use crate::build::{Axis, Picked};
use crate::catalogue::Part;
use crate::machine::cutting::{Cut, Verdict};
use crate::machine::job::piece;
use crate::machine::stiffness::Spring;
use crate::money::show as amounts;
use crate::screen::state::State;
use crate::screen::view::page::Page;
use crate::screen::view::paint::Pen;
use crate::units::{self, System, show};
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
    page.text(match state.shown.system {
        System::Metric => "The force in newtons that pushes the collet aside by a thousandth of a millimetre, the carriage in the middle of its travel.",
        System::Inch => "The force in pounds that pushes the collet aside by a mil, a thousandth of an inch, the carriage in the middle of its travel.",
    });
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
    money(&mut page, state, axis);
    page.part(
        "What gives",
        "Each with its share of all that gives. To be stiffer, change what the first is about.",
    );
    let shares = |spring: &Spring| units::percent::from(spring.share);
    let rows = all.springs[axis].iter().map(|spring| Row {
        name: spring.name.title().to_owned(),
        shown: format!("{} %", show::number(shares(spring), 0)),
        share: shares(spring) / 100.0,
    });
    bars(&mut page, &rows.collect::<Vec<_>>());
    page.part(
        "Each of them alone",
        "How stiff it would be by itself, and what it is.",
    );
    for spring in &all.springs[axis] {
        let word = spring.name.word();
        let alone = number(spring.stiffness);
        page.text(&format!("{}, {alone} N/µm. {}", word.title, word.plain));
    }
    page.lines
}

/// The changes that stiffen an axis most for their money.
fn money(page: &mut Page, state: &State, axis: Axis) {
    let Some(found) = state.stiffer.of(axis, &state.now) else {
        return;
    };
    page.part(
        "Where money helps most",
        match found {
            [] => {
                "No single change makes it noticeably stiffer without bringing a danger or a fault."
            }
            _ => "Single changes, the one that adds most for its money first.",
        },
    );
    let number = |stiffness| show::number(units::n_per_um::from(stiffness), 1);
    for change in found {
        let choice = change.edit.choice;
        let was = choice.show(&(choice.get)(state.build()), &state.catalogue);
        let value = choice.show(&change.edit.value, &state.catalogue);
        let cost = match amounts::change(change.cost) {
            same if same == "same" => "for the same money".to_owned(),
            change => format!("{change} {}", state.now.bill.currency),
        };
        let (before, after) = (
            number(state.now.machine.stiffness.collet[axis]),
            number(change.after),
        );
        let drawback = match change.drawback() {
            none if none.is_empty() => none,
            drawback => format!(" It costs more than money: {drawback}."),
        };
        let text = format!(
            "{}: {was} -> {value}. {before} -> {after} N/µm, {cost}.{drawback}",
            choice.title
        );
        page.text(&text);
    }
}

/// The best cut of every material, or that there is none.
pub(super) fn cuts(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let cutting = &state.now.machine.cutting;
    let mut page = begin(pen, width, "The most that each material allows");
    page.text("With the tool that removes most in a minute, every limit kept, of those with which the material goes best. What you want to cut is marked with *. Straight cuts at most: corners and small pieces take longer.");
    removal(&mut page, state);
    for material in state.catalogue.materials.values() {
        let wished = state.build().area.materials.contains(&material.id);
        let mark = if wished { "* " } else { "" };
        match cutting.best(&material.id) {
            Some(cut) => {
                let verdict = cutting.verdict(&material.id).title();
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

/// What a minute removes of each material that goes, as bars.
fn removal(page: &mut Page, state: &State) {
    let cutting = &state.now.machine.cutting;
    let amount = |cut: &Cut| units::cm3_per_min::from(cut.removal);
    let best = state.catalogue.materials.values();
    let best = best.filter_map(|material| Some((material, cutting.best(&material.id)?)));
    let best: Vec<_> = best.collect();
    let most = best.iter().map(|(_, cut)| amount(cut)).fold(0.0, f64::max);
    if most <= 0.0 {
        return;
    }
    page.lines.push(Line::default());
    let title = " Removed in a minute";
    page.lines.push(Line::styled(title, page.pen.theme.title));
    let wished = &state.build().area.materials;
    let rows = best.iter().map(|(material, cut)| Row {
        name: match wished.contains(&material.id) {
            true => format!("* {}", material.title),
            false => format!("  {}", material.title),
        },
        shown: format!("{} cm³", show::number(amount(cut), 1)),
        share: amount(cut) / most,
    });
    bars(page, &rows.collect::<Vec<_>>());
}

/// A cut in a sentence, and what holds it back.
fn told(state: &State, cut: &Cut) -> String {
    let tool = state.catalogue.end_mills.get(&cut.tool);
    let tool = tool.map_or(cut.tool.as_str(), |tool| Part::title(tool));
    let limit = cut.limited_by.word();
    format!(
        "{} cm³/min: {} mm deep and {} mm wide at {} m/min and {} rpm. {tool}. What holds it back: {}. {}",
        show::number(units::cm3_per_min::from(cut.removal), 1),
        show::number(units::mm::from(cut.depth), 2),
        show::number(units::mm::from(cut.width), 1),
        show::number(units::m_per_min::from(cut.feed), 1),
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
    if let Ok(picked) = Picked::new(&state.catalogue, state.build()) {
        page.text(&format!("{}.", piece(&picked)));
    }
    if !job.held_by.is_empty() {
        page.text(&format!("What holds it back: {}.", job.held_by));
    }
    page.lines.push(Line::default());
    for (title, time) in [
        ("Roughing", job.roughing),
        ("Finishing", job.finishing),
        ("Moves between cuts", job.moves),
        ("Changing tools", job.changes),
        ("  of it finding lengths", job.lengths),
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
    let mut page = Page::new(pen, width);
    page.lines.push(Line::styled(head, pen.theme.marked));
    page
}
