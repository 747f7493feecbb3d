//! What the machine is able to do: its stiffness, what it cuts, and the job's time.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::{arrow, of_axis, title};
use crate::assessment::Assessment;
use crate::build::Axis;
use crate::catalogue::{Id, Part};
use crate::machine::cutting::{Cutting, Verdict};
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::view::differences::turn;
use crate::screen::view::paint::Pen;
use crate::units::{self, show};
use crate::words::Words;

/// Stiffness at the collet in each direction, and what gives most there.
pub(super) fn stiffness(
    now: &Assessment,
    after: Option<&Assessment>,
    pen: &Pen,
    width: usize,
) -> Vec<Line<'static>> {
    let head = format!("{}, softest part", pen.speller.unit("N/µm"));
    let mut lines = vec![title(pen, "STIFFNESS", &head)];
    for axis in Axis::EACH {
        let of = |one: &Assessment| units::n_per_um::from(one.machine.stiffness.collet[axis]);
        let both = (of(now), after.map(of));
        let (mut spans, used) = of_axis(pen, axis, both, "N/µm");
        let springs = &after.unwrap_or(now).machine.stiffness.springs[axis];
        if let Some(softest) = springs.first() {
            let share = show::number(units::percent::from(softest.share), 0);
            let room = width.saturating_sub(used + 4);
            let whole = format!("{} {share} %", softest.name.title());
            let text = match text::width(&whole) <= room {
                true => whole,
                false => pen.cut(softest.name.title(), room),
            };
            spans.push(Span::styled(format!("  {text}"), pen.theme.muted));
        }
        lines.push(Line::from(spans));
    }
    lines
}

/// The unit of what a minute removes.
const REMOVAL: &str = "cm³/min";

/// As much as any material takes in one line, before and after.
const ONE_LINE: usize = 48;

/// How well the hardest wished material goes, and how much of it a minute removes: in one line,
/// or where that may not have room for before and after, in two: what stands below would move up
/// and down with every option otherwise.
pub(super) fn cuts(
    state: &State,
    (now, after): (&Assessment, Option<&Assessment>),
    pen: &Pen,
    width: usize,
    most: usize,
) -> Vec<Line<'static>> {
    let now = &*now.machine.cutting;
    let then = after.map(|after| &*after.machine.cutting);
    let last = then.unwrap_or(now);
    let shown = last.wished().or(now.wished()).map(|cut| &cut.material);
    let known = shown.and_then(|id| state.catalogue.materials.get(id));
    let material = shown.map_or("", |id| known.map_or(id.as_str(), |one| Part::title(one)));
    let short = known.map_or("", Part::short);
    // Of one material before and after, also where what is previewed is another wish.
    let of = |cutting: &Cutting| shown.map_or(NOTHING, |id| able(cutting, id));
    let texts = match shown {
        Some(_) => cut_texts(pen, material, of(now), then.map(of)),
        None => none_texts(state, last),
    };
    let style = match then {
        Some(then) => turn(pen, of(now).1, of(then).1, Some(true)),
        None => Style::new(),
    };
    // Of several it is the hardest: whoever reads only its name takes it for all.
    let several = shown.is_some() && most > 1 && state.build().area.materials.len() > 1;
    let head = if several { "CUTS up to " } else { "CUTS " };
    let room = width.saturating_sub(head.len() + 2);
    let head = Span::styled(head, pen.theme.title);
    let whole = texts
        .first()
        .is_some_and(|text| text::width(&pen.spell(text)) <= room);
    let whole = whole && (most < 2 || width >= ONE_LINE);
    if let (false, 2.., Some(_)) = (whole, most, shown) {
        // The material has a line for itself: without its name the figures say nothing.
        let names = [material.to_owned(), short.to_owned()];
        let name = pen.first_that_fits(&names, width.saturating_sub(head.content.len() + 1));
        let figures = texts.get(UNNAMED..).unwrap_or_default();
        let figures = pen.first_that_fits(figures, width.saturating_sub(2));
        return vec![
            Line::from(vec![head, Span::styled(name, style)]),
            Line::styled(pen.right(&figures, width.saturating_sub(2)), style),
        ];
    }
    let fits = pen.first_that_fits(&texts, room);
    vec![Line::from(vec![head, Span::styled(fits, style)])]
}

/// What there is to say where the hardest wished material does not go, and why not.
fn none_texts(state: &State, cutting: &Cutting) -> Vec<String> {
    let materials = &state.catalogue.materials;
    let wished = state.build().area.materials.iter();
    let hardest = wished.filter_map(|id| materials.get(id)).max_by(|a, b| {
        let (a, b) = (a.specific_force.value, b.specific_force.value);
        a.total_cmp(&b)
    });
    let no = Verdict::No.title();
    let why = hardest.and_then(|material| {
        let mut cuts = cutting.cuts.iter();
        let cut = cuts.find(|cut| cut.material == material.id)?;
        Some((Part::title(material), cut.limited_by.title()))
    });
    match why {
        Some((material, why)) => vec![
            format!("{material} {no}: {why}"),
            format!("{material} {no}"),
            format!("{no}: {why}"),
            no.to_owned(),
        ],
        None => vec!["no tool for what you want".to_owned()],
    }
}

/// What there is to say of the cut, before and after, from the longest to the shortest.
fn cut_texts(pen: &Pen, material: &str, now: Able, then: Option<Able>) -> Vec<String> {
    let removal = |of: Able| pen.speller.bare(&show::number(of.1, 1), REMOVAL);
    let unit = pen.speller.unit(REMOVAL);
    let figures = arrow(removal(now), then.map(removal));
    let verdict = |of: Able| of.0.title();
    let verdicts = arrow(
        verdict(now).to_owned(),
        then.map(|then| verdict(then).to_owned()),
    );
    let last = then.unwrap_or(now);
    let best = verdict(last);
    let mut texts = vec![
        format!("{material} {verdicts}, {figures} {unit}"),
        format!("{material} {verdicts}, {figures}"),
        format!("{verdicts}, {figures} {unit}"),
        format!("{verdicts}, {figures}"),
    ];
    if verdicts != best {
        // How well it goes tells more than how much the speed changes.
        texts.push(format!("{verdicts}, {}", removal(last)));
    }
    texts.extend([
        format!("{best}, {figures} {unit}"),
        format!("{best}, {figures}"),
        best.to_owned(),
    ]);
    texts
}

/// From here on they do not name the material.
const UNNAMED: usize = 2;

/// How well a material goes, and how many cm³ of it a minute removes.
type Able = (Verdict, f64);

/// What does not go at all.
const NOTHING: Able = (Verdict::No, 0.0);

/// That of a material.
fn able(of: &Cutting, material: &Id) -> Able {
    of.best(material).map_or(NOTHING, |cut| {
        let removal = units::cm3_per_min::from(cut.removal);
        (of.verdict(material), removal)
    })
}

/// The minutes of the job, and what would shorten it most; none where no job is named.
pub(super) fn job(
    now: &Assessment,
    after: Option<&Assessment>,
    pen: &Pen,
    width: usize,
) -> Option<Line<'static>> {
    let of = |one: &Assessment| one.machine.job.as_ref().map(|job| job.total);
    let text = |one: &Assessment| {
        of(one).map_or_else(
            || "none".to_owned(),
            |time| show::number(units::minute::from(time), 0),
        )
    };
    let shown = after.unwrap_or(now);
    if of(now).is_none() && of(shown).is_none() {
        return None;
    }
    let minutes = format!("{} min", arrow(text(now), after.map(text)));
    let held_by = shown.machine.job.as_ref().map(|job| job.held_by.as_str());
    let texts = [
        format!("{minutes}, {}", held_by.unwrap_or_default()),
        minutes.clone(),
    ];
    let texts = match held_by {
        Some("") | None => &texts[1..],
        Some(_) => &texts[..],
    };
    let style = match (of(now), of(shown)) {
        (Some(before), Some(then)) => turn(pen, before.value, then.value, Some(false)),
        _ => Style::new(),
    };
    let fits = pen.first_that_fits(texts, width.saturating_sub(7));
    Some(Line::from(vec![
        Span::styled("JOB  ", pen.theme.title),
        Span::styled(fits, style),
    ]))
}

#[cfg(test)]
mod tests;
