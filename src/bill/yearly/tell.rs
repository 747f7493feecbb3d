//! How the running cost of a year came about.

use rust_decimal::Decimal;

use super::super::notes::{machines, unit};
use super::energy::{Drawn, SETTING_UP, counted};
use super::used::{Hours, Used};
use super::{Price, Yearly};
use crate::build::Picked;
use crate::build::choices::control::OnCircuit;
use crate::catalogue::Unit;
use crate::catalogue::yearly::{Of, Per};
use crate::explain::{Derivation, Input, Origin, Recorder, Worth, nth_key};
use crate::machine::loads::Consumer;
use crate::money::{Currency, Money};
use crate::units::{self, Amount, Power};
use crate::words::Words as _;

const RULES: &str =
    "the yearly rules: common practice of workshops; their own sources stand with them";
const LIMITS: &str = "Averages over many years of the use that you state. Materials, a dull tool or dust can double them; repairs, and parts that break, are not in it.";

/// The path of a figure.
fn path(key: &str) -> String {
    format!("cost.running_a_year.{key}")
}

/// The paths of the lines, in their order.
fn keys(yearly: &Yearly) -> impl Iterator<Item = String> {
    let lines = &yearly.lines;
    lines.iter().enumerate().map(|(place, line)| {
        let earlier = lines[..place]
            .iter()
            .filter(|other| other.part == line.part);
        path(&format!(
            "lines.{}",
            nth_key(line.part.as_str(), earlier.count())
        ))
    })
}

/// Notes quantity and cost of each line.
pub(super) fn lines(
    picked: &Picked,
    yearly: &Yearly,
    told: &[(Used, Option<Price>)],
    hours: &Hours,
    notes: &mut impl Recorder,
) {
    for ((key, line), (used, price)) in keys(yearly).zip(&yearly.lines).zip(told) {
        notes.note(|| quantity(picked, &key, used, hours));
        if let (Some(total), Some(price)) = (line.total, price) {
            let quantity = Worth::Exact(line.quantity, unit(line.unit));
            let from = Origin::figure(format!("{key}.quantity"));
            let quantity = Input::new("n", "used up in a year", quantity, from);
            let title = format!("{} of a year", line.title);
            notes.note(|| {
                cost(
                    picked,
                    format!("{key}.total"),
                    title,
                    total,
                    quantity,
                    price,
                )
            });
        }
    }
}

/// How a rule comes to its quantity: in words, and as a formula.
fn way(per: Per) -> (&'static str, &'static str) {
    match per {
        Per::Year => (
            "What the rule says for each that is counted, once a year",
            "n = N·e·c",
        ),
        Per::Hour => (
            "What the rule says for each that is counted and each hour of work",
            "n = N·e·c·h·d",
        ),
        Per::CuttingHour => (
            "What the rule says for each that is counted and each hour in which the tool is in the cut",
            "n = N·e·c·h·d·q",
        ),
        Per::Life => (
            "As often as its life L ends within the hours of a year; nothing where it lasts longer than the k years for which a machine is kept",
            "n = N·e·c·h·d/L where L < k·h·d",
        ),
    }
}

/// How often or how much of a part is used up in a year.
fn quantity(picked: &Picked, key: &str, used: &Used, hours: &Hours) -> Derivation {
    let rule = || Origin::YearlyRule(used.rule.part.id().to_owned());
    let title = format!("{} used up in a year", used.part.title());
    let plain = |number| Worth::Exact(number, "");
    let (words, formula) = way(used.rule.per);
    let note = Derivation::of(
        format!("{key}.quantity"),
        title,
        Worth::Exact(used.quantity, unit(used.part.unit())),
    )
    .by(format!("{words}, to the thousandth."), formula)
    .with_each([machines(picked.build.area.machines)])
    .with(
        "e",
        format!("for each: {}", used.rule.why.trim_end_matches('.')),
        plain(used.rule.each),
        rule(),
    );
    let note = note.with_each([counted_of(picked, used)]);
    in_time(note, used, hours).from(RULES, LIMITS)
}

/// What a rule counts, as an input.
fn counted_of(picked: &Picked, used: &Used) -> Input {
    let what = match used.life {
        Some(_) if used.part.unit() == Unit::Metre => "its length",
        Some(_) => "carriages of the axis",
        None => used.rule.of.title(),
    };
    let from = match used.life {
        Some((axis, _)) if used.part.unit() == Unit::Piece => {
            Origin::choice(axis.choice("carriages"))
        }
        Some(_) => Origin::Plan(picked.frame.id.to_string()),
        None => origin(picked, used.rule.of),
    };
    Input::new("c", what, Worth::Exact(used.counted, ""), from)
}

/// Adds the hours in which it is used up, and the life that it has.
fn in_time(mut note: Derivation, used: &Used, hours: &Hours) -> Derivation {
    let rule = || Origin::YearlyRule(used.rule.part.id().to_owned());
    let plain = |number| Worth::Exact(number, "");
    if used.rule.per != Per::Year {
        note = note
            .with(
                "h",
                "hours of work a day",
                Worth::Exact(hours.a_day, "h"),
                Origin::choice("hours_a_day"),
            )
            .with(
                "d",
                "working days a year",
                plain(hours.days),
                Origin::choice("days_a_year"),
            );
    }
    if used.rule.per == Per::CuttingHour {
        let practice = Origin::Constant("common practice: the rest are rapids and ramps");
        note = note.with(
            "q",
            "share of them in the cut",
            plain(hours.share),
            practice,
        );
    }
    if let Some((axis, life)) = used.life {
        let key = match used.part.unit() {
            Unit::Metre => "nut_life_h",
            _ => "carriage_life_h",
        };
        let from = Origin::figure(format!("axes.{}.{key}", axis.id()));
        let title = format!("life of {}", axis.title());
        note = note.with("L", title, units::hour::amount(life), from);
        let kept = plain(used.rule.kept_years.unwrap_or_default());
        note = note.with("k", "years for which a machine is kept", kept, rule());
    }
    note
}

/// The choice or part that decides how much is counted.
fn origin(picked: &Picked, of: Of) -> Origin {
    match of {
        Of::Machine => Origin::Constant("there is one machine"),
        Of::SpindleMotor | Of::BrushedRouter => Origin::part(picked.spindle),
        Of::Extractor => Origin::choice("extractor"),
        Of::Coolant | Of::Antifreeze => match picked.cooler {
            Some(cooler) => Origin::part(cooler),
            None => Origin::choice("cooler"),
        },
        Of::CutCoolant => Origin::choice("coolant"),
        Of::Carriage => Origin::choice("carriages_x"),
        Of::Bed => Origin::Plan(picked.frame.id.to_string()),
        Of::Protection => Origin::choice("protection_sets"),
    }
}

/// What a quantity costs.
fn cost(
    picked: &Picked,
    path: String,
    title: String,
    total: Decimal,
    quantity: Input,
    price: &Price,
) -> Derivation {
    let money = |amount| Money::new(amount, price.currency);
    let tax = match price.tax_percent.is_zero() {
        true => Origin::Constant("in the price already"),
        false => Origin::choice(match picked.build.area.tax {
            Some(_) => "tax_percent",
            None => "destination",
        }),
    };
    Derivation::of(path, title, money(total))
        .by(
            "Quantity times likely price, with the tax on it, rounded to the smallest coin.",
            "C = n·p·(1 + t)",
        )
        .with_each([quantity])
        .with(
            "p",
            "likely price of one",
            money(price.each),
            match &price.book {
                Some(book) => Origin::PriceBook(book.to_string()),
                None => Origin::Purchases,
            },
        )
        .with("t", "tax on top", Worth::Exact(price.tax_percent, "%"), tax)
        .from(
            "plain product",
            "Without freight: such things are bought along the way.",
        )
}

/// Notes electricity and its cost.
pub(super) fn power(
    picked: &Picked,
    yearly: &Yearly,
    drawn: &Drawn,
    price: Option<&Price>,
    notes: &mut impl Recorder,
) {
    notes.note(|| energy(picked, yearly, drawn));
    if let (Some(total), Some(price)) = (yearly.power, price) {
        let used = Worth::Exact(counted(yearly.energy), Unit::KilowattHour.id());
        let quantity = Input::new(
            "n",
            "electricity of a year",
            used,
            Origin::figure(path("power_kwh")),
        );
        let title = "Cost of the electricity of a year".to_owned();
        notes.note(|| cost(picked, path("power"), title, total, quantity, price));
    }
}

fn energy(picked: &Picked, yearly: &Yearly, drawn: &Drawn) -> Derivation {
    let load =
        |symbol, state: &str, (which, name, power): &(OnCircuit, Consumer, Power), key: &str| {
            let from = format!("power.circuits.{}.loads.{}.{key}", which.id(), name.id());
            let title = format!("{} {state}", name.title());
            Input::new(
                symbol,
                title,
                units::w::amount(*power),
                Origin::figure(from),
            )
        };
    let work = drawn
        .at_work
        .iter()
        .map(|one| load("P_i", "in usual work", one, "typical_a"));
    let rest = drawn
        .set_up
        .iter()
        .map(|one| load("R_i", "with nothing cut", one, "idle_a"));
    let share = Worth::from(Amount::plain(SETTING_UP));
    let metered = Worth::Exact(counted(yearly.energy), Unit::KilowattHour.id());
    let practice = Origin::Constant("common practice: clamping, changing tools, sweeping");
    Derivation::of(path("power_kwh"), "Electricity of a year", metered)
        .by(
            "What all that runs draws in usual work, times the hours of work; and for half as long again, as far as the day has hours, what stays on while the next workpiece is set up: drives, control, computer. Of loads that take turns on a circuit the largest counts. To the thousandth.",
            "E = N·d·(Σ P_i·h + Σ R_i·min(g·h, 24 - h))/1000",
        )
        .with_each([machines(picked.build.area.machines)])
        .with("d", "working days a year", Worth::count(drawn.days), Origin::choice("days_a_year"))
        .with("h", "hours of work a day", units::hour::amount(drawn.hours), Origin::choice("hours_a_day"))
        .with("g", "hours of setting up for each of work", share, practice)
        .with_each(work)
        .with_each(rest)
        .from(
            "energy balance; the loads of the circuits",
            "Usual work is a guess of practice: hard cuts all day take more. Light, heating and standby are not in it.",
        )
}

/// Notes wear, licences and the sum of all.
pub(super) fn sums(
    picked: &Picked,
    yearly: &Yearly,
    licence: Option<&Price>,
    notes: &mut impl Recorder,
) {
    let currency: Currency = picked.site.currency;
    let money = |amount| Money::new(amount, currency);
    notes.note(|| {
        let each = keys(yearly).zip(&yearly.lines).filter_map(|(key, line)| {
            let from = Origin::figure(format!("{key}.total"));
            Some(Input::new("T_i", line.title, money(line.total?), from))
        });
        Derivation::of(
            path("wear"),
            "What a year of work uses up",
            money(yearly.wear),
        )
        .by(
            "The sum of all that is used up; what has no price counts as nothing.",
            "W = Σ T_i",
        )
        .with_each(each)
        .from("plain sum", LIMITS)
    });
    if let (Some(total), Some(price), Some(part)) = (yearly.licences, licence, picked.licence) {
        let once = Worth::Exact(Decimal::ONE, "");
        let title = format!("{}, once for the workshop", part.title);
        let quantity = Input::new("n", title, once, Origin::choice("cam_licence"));
        let title = "Licences of a year".to_owned();
        notes.note(|| cost(picked, path("licences"), title, total, quantity, price));
    }
    notes.note(|| {
        let each = [
            ("P", "electricity", yearly.power, "power"),
            ("W", "what is used up", Some(yearly.wear), "wear"),
            ("L", "licences", yearly.licences, "licences"),
        ];
        let each = each.into_iter().filter_map(|(symbol, title, amount, key)| {
            Some(Input::new(symbol, title, money(amount?), Origin::figure(path(key))))
        });
        Derivation::of(path("total"), "Running cost of a year", money(yearly.total))
            .by(
                "Electricity, what is used up, and licences; what has no price counts as nothing.",
                "C = P + W + L",
            )
            .with_each(each)
            .from("plain sum", "No part of the cost of the machine. Your own hours and the material that you cut are not in it.")
    });
}
