//! Power: what each circuit and the motors' supply carry at most, against what may flow.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::before_after;
use crate::assessment::Assessment;
use crate::build::choices::control::OnCircuit;
use crate::machine::circuit::Circuit;
use crate::rules::Severity;
use crate::screen::text;
use crate::screen::view::differences::bar;
use crate::screen::view::paint::Pen;
use crate::units::{self, ElectricCurrent, Ratio, show};

/// Columns of a circuit's name.
const NAME: usize = 7;
/// Columns of a share.
const PERCENT: usize = 6;

/// Current of each circuit of those drawn, and of the motors' supply, against what may flow for
/// hours.
pub(super) fn power(
    (now, after): (&Assessment, Option<&Assessment>),
    drawn: &[&Circuit],
    pen: &Pen,
    width: usize,
) -> Vec<Line<'static>> {
    let mut lines = vec![socket(now, after, pen, width)];
    let circuits = &now.machine.electrics.circuits;
    let of = |assessment: &Assessment, like: &Circuit| {
        let mut all = assessment.machine.electrics.circuits.iter();
        all.find(|circuit| circuit.which == like.which)
            .map(load_of_circuit)
    };
    for circuit in circuits {
        let then = after.map(|after| of(after, circuit).unwrap_or_default());
        lines.push(load(
            pen,
            circuit_name(circuit),
            load_of_circuit(circuit),
            then,
            width,
        ));
    }
    for circuit in drawn.iter().skip(circuits.len()) {
        lines.push(load(
            pen,
            circuit_name(circuit),
            Load::default(),
            Some(load_of_circuit(circuit)),
            width,
        ));
    }
    let supply = |assessment: &Assessment| {
        let supply = assessment.machine.electrics.supply;
        Load {
            current: supply.needed,
            allowed: supply.rated,
            fill: supply.fill(),
        }
    };
    lines.push(load(pen, "motors", supply(now), after.map(supply), width));
    lines
}

/// Whether the wall carries it, which it does not where a circuit is missing; whether one must be
/// laid for it; and how much current is left over or lacking on the fullest circuit. What is
/// allowed is what may flow for hours, below the breaker's own rating.
pub(in crate::screen::view) fn carries(shown: &Assessment) -> Carried {
    let Some(fullest) = shown.machine.electrics.fullest() else {
        return Carried::new(true, "nothing hangs on it", "");
    };
    if shown.lacks_circuit() {
        return Carried::new(false, "no, second missing", "");
    }
    let spare = fullest.spare();
    if spare < ElectricCurrent::default() {
        return Carried::new(false, "no", &format!(", {} A over", amperes(-spare)));
    }
    let verdict = match shown.lays_circuit() {
        true => "yes, if second laid",
        false => "yes",
    };
    Carried::new(true, verdict, &format!(", {} A to spare", amperes(spare)))
}

/// Whether the wall carries a build, in words.
pub(in crate::screen::view) struct Carried {
    fits: bool,
    /// The whole, with the current that is over or to spare.
    pub(in crate::screen::view) words: String,
    /// The verdict alone, where there is no room for more: how full each circuit is stands below.
    pub(in crate::screen::view) short: String,
}

impl Carried {
    fn new(fits: bool, verdict: &str, current: &str) -> Self {
        Self {
            fits,
            words: format!("{verdict}{current}"),
            short: verdict.to_owned(),
        }
    }
}

fn socket(now: &Assessment, after: Option<&Assessment>, pen: &Pen, width: usize) -> Line<'static> {
    let shown = carries(after.unwrap_or(now));
    let style = match shown.fits {
        true => pen.theme.marked,
        false => pen.theme.severity(Severity::Fault),
    };
    let before = after
        .map(|_| carries(now).fits)
        .filter(|before| *before != shown.fits);
    let before = before.map_or("", |before| if before { "yes -> " } else { "no -> " });
    const HEAD: &str = "CIRCUITS ";
    let texts = [format!("{before}{}", shown.words), shown.words, shown.short];
    let text = pen.first_that_fits(&texts, width.saturating_sub(HEAD.len() + 2));
    Line::from(vec![
        Span::styled(HEAD, pen.theme.title),
        Span::styled(text, style),
    ])
}

/// The circuits in the order in which they are drawn: those before, then what is new.
pub(super) fn drawn<'a>(now: &'a Assessment, after: Option<&'a Assessment>) -> Vec<&'a Circuit> {
    let mut drawn: Vec<&Circuit> = now.machine.electrics.circuits.iter().collect();
    let then = after.map(|after| after.machine.electrics.circuits.iter());
    for circuit in then.into_iter().flatten() {
        if drawn.iter().all(|old| old.which != circuit.which) {
            drawn.push(circuit);
        }
    }
    drawn
}

/// A current against what may flow; nothing where there is no such circuit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Load {
    current: ElectricCurrent,
    allowed: ElectricCurrent,
    fill: Ratio,
}

fn load_of_circuit(circuit: &Circuit) -> Load {
    Load {
        current: circuit.full(),
        allowed: circuit.allowed,
        fill: circuit.fill(),
    }
}

/// The short name of a circuit.
pub(in crate::screen::view) fn circuit_name(circuit: &Circuit) -> &'static str {
    match circuit.which {
        OnCircuit::First => "first",
        OnCircuit::Second => "second",
    }
}

fn load(pen: &Pen, name: &str, now: Load, after: Option<Load>, width: usize) -> Line<'static> {
    let shown = after.unwrap_or(now);
    let share = units::share::from(shown.fill);
    let style = match share {
        over if over > 1.0 => pen.theme.severity(Severity::Fault),
        near if near > 0.9 => pen.theme.severity(Severity::Caution),
        _ => Style::new(),
    };
    let percent = format!("{} %", show::number(share * 100.0, 0));
    let (before, then) = before_after(
        amperes(now.current),
        after.map(|after| amperes(after.current)),
    );
    let allowed = amperes(shown.allowed);
    let room = width.saturating_sub(2 + NAME + PERCENT);
    let text = match then {
        Some(then) => {
            let text = format!("{before} -> {then} of {allowed}");
            if text::width(&text) > room {
                format!("{before} -> {then} A")
            } else {
                text
            }
        }
        None => format!("{before:>4} of {allowed:>4}"),
    };
    let mut spans = vec![
        Span::raw(pen.left(name, NAME)),
        Span::styled(text.clone(), style),
    ];
    let columns = width.saturating_sub(2 + NAME + text::width(&text) + 1 + PERCENT);
    let drawn = if columns >= 4 {
        bar(pen, share, columns.min(16))
    } else {
        String::new()
    };
    let gap = width.saturating_sub(2 + NAME + text::width(&text) + text::width(&drawn) + PERCENT);
    spans.push(Span::raw(" ".repeat(gap)));
    spans.push(Span::styled(drawn, style));
    spans.push(Span::styled(pen.right(&percent, PERCENT), style));
    Line::from(spans)
}

fn amperes(current: ElectricCurrent) -> String {
    show::number(units::a::from(current), 1)
}

/// The share of a circuit that is used at most.
pub(in crate::screen::view) fn share(circuit: &Circuit) -> f64 {
    units::share::from(circuit.fill())
}
