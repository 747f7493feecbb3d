//! A comparison as JSON: numbers as the assessment's JSON has them, money as decimal strings.

use serde_json::{Map, Value, json as object};

use super::{Cell, Comparison, Row};
use crate::assessment::json::n;
use crate::explain::Worth;
use crate::rules::Finding;
use crate::words::Words as _;

/// The comparison; of rows that say the same everywhere only where all are asked for.
pub fn json(comparison: &Comparison, all: bool) -> Value {
    let names = &comparison.names;
    let groups = comparison.shown(all).map(|(group, rows)| {
        let rows: Vec<Value> = rows.into_iter().map(row).collect();
        (group.id.to_owned(), Value::Array(rows))
    });
    let groups: Map<String, Value> = groups.collect();
    let turns = names.iter().enumerate().map(|(place, name)| {
        object!({
            "name": name,
            "gained": findings(comparison.gained.get(place)),
            "lost": findings(comparison.lost.get(place)),
        })
    });
    object!({
        "format": 1,
        "names": names,
        "against": names.get(comparison.against),
        "rows": groups,
        "warnings": turns.collect::<Vec<Value>>(),
    })
}

fn row(row: &Row) -> Value {
    let values: Vec<Value> = row.cells.iter().map(value).collect();
    object!({
        "key": row.key,
        "title": row.title,
        "differs": row.differs(),
        "values": values,
        "shown": row.cells.iter().map(Cell::shown).collect::<Vec<&str>>(),
    })
}

fn value(cell: &Cell) -> Value {
    match cell {
        Cell::Figure(Worth::Amount(amount), _) => n(amount.number),
        Cell::Figure(Worth::Money(money), _) => money.amount.to_string().into(),
        Cell::Figure(worth @ Worth::Exact(..), _) => n(worth.number()),
        Cell::Word(id, _) => id.clone().into(),
        Cell::Missing => Value::Null,
    }
}

fn findings(these: Option<&Vec<Finding>>) -> Value {
    let each = these.into_iter().flatten().map(|finding| {
        object!({
            "rule": finding.rule.as_str(),
            "severity": finding.severity.id(),
            "axis": finding.axis.map(|axis| axis.id()),
            "message": finding.message,
            "accepted": finding.accepted,
        })
    });
    Value::Array(each.collect())
}
