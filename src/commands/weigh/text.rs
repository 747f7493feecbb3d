//! What matters most, as a page of text: a table by what money buys, and a picture of how far
//! each choice reaches.

use crate::build::{Axis, Choice, Value};
use crate::catalogue::Catalogue;
use crate::commands::color::Paint;
use crate::commands::layout::{hanging, spread, table};
use crate::explore::reading::{Measure, Reading};
use crate::explore::told;
use crate::explore::weigh::{Outcome, Side, Weighed, Weighing};
use crate::money::show as amounts;
use crate::rules::Severity;
use crate::store::visible;
use crate::units::show;
use crate::words::Words as _;

/// The most columns of an option's name.
const OPTION: usize = 25;

/// Columns of the bars.
const BAR: usize = 32;

/// How many choices the picture shows.
const PICTURED: usize = 20;

/// What 100 units of money buy is told, for what one buys has too many noughts.
const HUNDRED: f64 = 100.0;

/// All that move the measure, and how far each reaches.
pub(super) fn ranked(
    weighing: &Weighing,
    catalogue: &Catalogue,
    by: Measure,
    paint: Paint,
) -> String {
    let mut page = head(weighing, by, paint);
    let rows = table_of(weighing, catalogue, by, paint);
    if rows.len() <= 1 {
        page.push_str("No single choice improves it without a danger or a fault.\n");
    } else {
        page.push_str(&table("<<>>>", &rows));
    }
    page.push('\n');
    page.push_str(&tornado(weighing, by, paint));
    page.push_str(&bought(weighing));
    page.push('\n');
    page.push_str(&hanging("", 0, "Every option of a choice: --choices beam_tube. Other figures: --by cost, rapids, stiffness, removal or current."));
    page
}

fn head(weighing: &Weighing, by: Measure, paint: Paint) -> String {
    let title = format!("What matters most: {}", by.title());
    let now = value(&weighing.before, by);
    let mut page = format!("{}\n", paint.heading(&title));
    page.push_str(&hanging("", 0, by.word().plain));
    let sorted = match by {
        Measure::Cost => "What saves most stands first.",
        _ => "What costs nothing stands first, then what 100 units of money buy most of it.",
    };
    let says = format!(
        "Now {now}. One choice changes at a time, without what may have to go along. {sorted}"
    );
    page.push_str(&hanging("", 0, &paint.numbers().spell(&says)));
    page.push('\n');
    page
}

/// A measure of a reading with its unit.
fn value(reading: &Reading, by: Measure) -> String {
    match (by, reading.value(by)) {
        (_, None) => "nothing".to_owned(),
        (Measure::Cost, _) => amounts::money(reading.cost.likely, reading.cost.currency),
        (_, Some(value)) => {
            format!(
                "{} {}",
                show::number(value.number, value.digits),
                value.unit
            )
        }
    }
}

/// The best option of each choice that betters the measure.
fn table_of(
    weighing: &Weighing,
    catalogue: &Catalogue,
    by: Measure,
    paint: Paint,
) -> Vec<Vec<String>> {
    let before = &weighing.before;
    let code = before.cost.currency.code();
    let unit = before.value(by).map_or("", |value| value.unit);
    let digits = before.value(by).map_or(1, |value| value.digits);
    let heading = match by {
        Measure::Cost => ["choice", "better option", code, "", ""].map(str::to_owned),
        _ => [
            "choice".to_owned(),
            "better option".to_owned(),
            code.to_owned(),
            unit.to_owned(),
            format!("for 100 {code}"),
        ],
    };
    let mut rows = vec![heading.to_vec()];
    for row in weighing.ranked(by) {
        let Some(best) = row.best(before, by) else {
            continue;
        };
        let gain = best.reading.gain_over(before, by).unwrap_or_default();
        let worth = match best.worth(before, by) {
            _ if by == Measure::Cost => String::new(),
            Some(worth) if worth.is_finite() => show::number(worth * HUNDRED, digits + 1),
            _ => "free".to_owned(),
        };
        let signed = match by {
            Measure::Cost => String::new(),
            Measure::Current => format!("-{}", show::number(gain, digits)),
            _ => format!("+{}", show::number(gain, digits)),
        };
        let cells = vec![
            row.choice.title.to_owned(),
            option(row.choice, &best.value, catalogue),
            amounts::change(best.price),
            signed,
            worth,
        ];
        rows.extend(spread(cells, 1, OPTION));
    }
    paint.numbers().table(&mut rows, &["", "", "", unit, unit]);
    rows
}

/// An option by its short name.
fn option(choice: &Choice, value: &Value, catalogue: &Catalogue) -> String {
    visible(&choice.show_short(value, catalogue)).into_owned()
}

/// How far each choice reaches, the widest first.
fn tornado(weighing: &Weighing, by: Measure, paint: Paint) -> String {
    let rows = weighing.by_span(by);
    let Some(now) = weighing.before.value(by) else {
        return String::new();
    };
    let (Some(low), Some(high)) = (
        rows.iter()
            .map(|(_, span)| span.least.0)
            .min_by(f64::total_cmp),
        rows.iter()
            .map(|(_, span)| span.most.0)
            .max_by(f64::total_cmp),
    ) else {
        return String::new();
    };
    let mut page = format!("{}\n", paint.heading("How far each choice reaches"));
    page.push_str(&hanging("", 0, "From the least to the greatest without a danger or a fault; | is now, - is less, + is more."));
    let shown = rows.iter().take(PICTURED).map(|(row, span)| {
        let bar = told::bar((span.least.0, span.most.0), now.number, (low, high), BAR);
        vec![
            row.choice.title.to_owned(),
            show::number(span.least.0, now.digits),
            bar,
            show::number(span.most.0, now.digits),
        ]
    });
    let mut shown: Vec<Vec<String>> = shown.collect();
    let units = ["", now.unit, "", now.unit];
    paint.numbers().table(&mut shown, &units);
    page.push_str(&table("<><>", &shown));
    if rows.len() > PICTURED {
        let more = rows.len() - PICTURED;
        page.push_str(&format!("{more} more reach less far.\n"));
    }
    page
}

fn bought(weighing: &Weighing) -> String {
    if weighing.bought.is_empty() {
        return String::new();
    }
    let names: Vec<&str> = weighing.bought.iter().map(|choice| choice.title).collect();
    hanging(
        "",
        0,
        &format!("Bought already, and so fixed: {}.", names.join(", ")),
    )
}

/// Every option of each choice, with all figures.
pub(super) fn options(weighing: &Weighing, catalogue: &Catalogue, paint: Paint) -> String {
    let mut page = String::new();
    let code = weighing.before.cost.currency.code();
    for row in &weighing.rows {
        page.push_str(&format!("{}\n", paint.heading(row.choice.title)));
        let words = |cells: [&str; 7]| cells.map(str::to_owned).to_vec();
        let mut rows = vec![
            words(["", "cost", "rapids", "stiff", "removes", "mains", "brings"]),
            words(["", code, "m/min", "N/µm", "cm³/min", "A", ""]),
        ];
        let now = format!("= {}", option(row.choice, &row.now, catalogue));
        rows.extend(spread(cells(&now, &weighing.before, ""), 0, OPTION));
        for one in &row.outcomes {
            let cells = cells(&named(row, one, catalogue), &one.reading, &brings(one));
            rows.extend(spread(cells, 0, OPTION));
        }
        let units = ["", "", "m/min", "N/µm", "cm³/min", "A", ""];
        paint.numbers().table(&mut rows, &units);
        page.push_str(&table("<>>>>><", &rows));
        page.push('\n');
    }
    page.push_str(&hanging("", 0, "= is chosen now, < is next to it on the cheaper or smaller side, > on the dearer or larger. D, F, C, H: a danger, fault, caution or hint that the option brings by itself."));
    page.push_str(&bought(weighing));
    page
}

/// An option with a mark where it is a neighbour of what is chosen.
fn named(row: &Weighed, one: &Outcome, catalogue: &Catalogue) -> String {
    let mark = match row.side_of(one, catalogue) {
        Some(Side::Less) => '<',
        Some(Side::More) => '>',
        None => ' ',
    };
    format!("{mark} {}", option(row.choice, &one.value, catalogue))
}

/// What an option brings: how many of each severity.
fn brings(one: &Outcome) -> String {
    let letters = Severity::ALL.iter().zip(["D", "F", "C", "H"]);
    let each = letters.filter_map(|(severity, letter)| {
        let alike = one.added.iter().filter(|new| new.severity == *severity);
        match alike.count() {
            0 => None,
            1 => Some(letter.to_owned()),
            many => Some(format!("{many}{letter}")),
        }
    });
    each.collect::<Vec<_>>().join(" ")
}

fn cells(name: &str, reading: &Reading, brings: &str) -> Vec<String> {
    let [cost, x, y, _, tip, removal, current] = told::row(reading);
    let slower = match reading.slower() {
        Axis::Y => y,
        _ => x,
    };
    vec![
        name.to_owned(),
        cost,
        slower,
        tip,
        removal,
        current,
        brings.to_owned(),
    ]
}
