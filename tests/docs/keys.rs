//! The table of keys, from the keymap.

use std::collections::BTreeMap;

use gantrywright::screen::keymap::{TABLE, TEXT};
use gantrywright::words::Words as _;

/// One row for each key and what it does, with the places where it does so.
pub(crate) fn table() -> String {
    let mut rows: BTreeMap<usize, (String, String, Vec<&str>)> = BTreeMap::new();
    for (place, binding) in TABLE.iter().enumerate() {
        let keys: Vec<String> = binding.keys.iter().map(|key| format!("`{key}`")).collect();
        let (keys, long) = (keys.join(", "), binding.long.to_owned());
        let known = rows.iter().find(|(_, row)| row.0 == keys && row.1 == long);
        let at = known.map_or(place, |(at, _)| *at);
        let row = rows.entry(at).or_insert((keys, long, Vec::new()));
        row.2
            .extend(binding.places.iter().map(|place| place.title()));
    }
    let mut text = String::from("| keys | do | where |\n| --- | --- | --- |\n");
    for (keys, long, places) in rows.into_values() {
        text.push_str(&format!("| {keys} | {long} | {} |\n", said(&places)));
    }
    text
}

/// Places in words: all of them would say nothing.
fn said(places: &[&str]) -> String {
    let typed: Vec<&str> = TEXT.iter().map(|place| place.title()).collect();
    let everywhere = places.len() >= 10;
    if everywhere && places.iter().all(|place| typed.contains(place)) {
        "wherever text is typed".to_owned()
    } else if everywhere {
        "almost everywhere".to_owned()
    } else {
        places.join(", ")
    }
}
