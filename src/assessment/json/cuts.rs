//! The cuts as JSON: bar by bar, and what either way of buying steel costs.

use rust_decimal::prelude::ToPrimitive as _;
use serde_json::{Map, Value, json};

use super::{money, n};
use crate::assessment::Assessment;
use crate::bill::cuts::SectionCuts;
use crate::bill::nesting::Stock;
use crate::units;

/// All cuts; none where nothing is cut from bars.
pub(super) fn cuts(assessment: &Assessment) -> Option<Value> {
    let cuts = &assessment.bill.cuts;
    if cuts.sections.is_empty() {
        return None;
    }
    let mut all = json!({
        "stock": stock(assessment),
        "proven": cuts.is_proven(),
        "cut_to_length_total": money(cuts.totals.cut_to_length()),
        "whole_bars_total": money(cuts.totals.whole_bars()),
    });
    if let Some(waste) = cuts.waste_percent() {
        all["waste_percent"] = n(waste.to_f64().unwrap_or_default());
    }
    if !cuts.is_proven() {
        let least = cuts.totals.whole_bars() - cuts.totals.at_most_less;
        all["whole_bars_at_least"] = money(least);
    }
    let long: Vec<Value> = too_long(assessment).collect();
    if !long.is_empty() {
        all["too_long"] = Value::Array(long);
    }
    Some(all)
}

/// The bars, with their pieces.
fn stock(assessment: &Assessment) -> Value {
    let machine = &assessment.machine;
    let each = assessment.bill.cuts.bars().map(|(_, section, bar)| {
        let pieces = || SectionCuts::pieces_of(bar).map(|piece| &section.pieces[piece]);
        let marks: Vec<&str> = pieces().map(|piece| piece.mark(machine)).collect();
        let lengths = pieces().map(|piece| n(units::mm::from(piece.length.length())));
        let from = match bar.stock {
            Stock::New(_) => "new",
            Stock::Offcut(_) => "offcut",
        };
        let mut map = Map::new();
        let mut put = |key: &str, value: Value| map.insert(key.to_owned(), value);
        put("section", section.part.as_str().into());
        put("from", from.into());
        put("bars", bar.times.into());
        put("stock_mm", n(units::mm::from(bar.length.length())));
        put("marks", marks.join(" ").into());
        put("pieces", Value::Array(lengths.collect()));
        put("offcut_mm", n(units::mm::from(bar.left.length())));
        Value::Object(map)
    });
    Value::Array(each.collect())
}

/// What no bar is long enough for.
fn too_long(assessment: &Assessment) -> impl Iterator<Item = Value> {
    let machine = &assessment.machine;
    assessment
        .bill
        .cuts
        .too_long()
        .map(|(section, piece, count)| {
            json!({
                "name": piece.mark(machine),
                "section": section.part.as_str(),
                "length_mm": n(units::mm::from(piece.length.length())),
                "count": count,
            })
        })
}
