//! Sheets as JSON: counts as whole numbers, money and exact numbers as decimal strings, as in
//! `assess --json`.

use serde_json::{Map, Value, json};

use crate::sheets::{Cell, RowKind, Sheet, Table};
use crate::store::visible_json;
use crate::words::Words as _;

/// Writes sheets: one as an object, several as an array.
pub(super) fn json(sheets: &[Sheet]) -> String {
    let all = match sheets {
        [one] => sheet(one),
        many => Value::Array(many.iter().map(sheet).collect()),
    };
    visible_json(&format!("{all:#}\n"))
}

fn sheet(sheet: &Sheet) -> Value {
    let safety = sheet.safety.iter();
    let safety: Vec<Value> = safety
        .map(|note| json!({ "id": note.id, "title": note.title, "text": note.text }))
        .collect();
    json!({
        "format": 1,
        "kind": sheet.kind.id(),
        "machine": sheet.machine,
        "date": sheet.date.to_string(),
        "about": sheet.about,
        "tables": sheet.tables.iter().map(table).collect::<Vec<_>>(),
        "remarks": sheet.remarks,
        "safety": safety,
    })
}

fn table(table: &Table) -> Value {
    let columns = table.columns.iter();
    let columns: Vec<Value> = columns
        .map(|column| json!({ "id": column.id, "title": column.title }))
        .collect();
    let entries = table.rows.iter().filter(|row| row.kind != RowKind::Heading);
    let rows: Vec<Value> = entries
        .map(|row| {
            let mut map = Map::new();
            map.insert("row".to_owned(), row.id.clone().into());
            if row.kind == RowKind::Sum {
                map.insert("sum".to_owned(), true.into());
            }
            for (column, cell) in table.columns.iter().zip(&row.cells) {
                map.insert(column.id.to_owned(), value(cell));
            }
            Value::Object(map)
        })
        .collect();
    json!({ "id": table.id, "title": table.title, "columns": columns, "rows": rows })
}

fn value(cell: &Cell) -> Value {
    match cell.value() {
        Cell::Empty | Cell::ByHand | Cell::Worked(..) => Value::Null,
        Cell::Text(text) => text.clone().into(),
        Cell::Number(..) => {
            let number = cell.shown().parse().ok();
            let number = number.and_then(serde_json::Number::from_f64);
            number.map_or(Value::Null, Value::Number)
        }
        Cell::Exact(_) | Cell::Rate(_) | Cell::Money(_) => cell.shown().into(),
        Cell::Unit(unit, _) => unit.title().into(),
        Cell::Count(count) => (*count).into(),
        Cell::Tick(done) => (*done).into(),
    }
}
