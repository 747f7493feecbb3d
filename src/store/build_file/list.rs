//! Changing a list in a document so that what stays keeps its spacing and comments.

use toml_edit::{Array, Value};

/// Makes a list of texts say `wanted`: entries that stay are not touched, others go, new
/// ones are set like their neighbours.
pub(super) fn update(array: &mut Array, wanted: &[&str]) {
    array.retain(|item| item.as_str().is_some_and(|text| wanted.contains(&text)));
    let kept: Vec<String> = array
        .iter()
        .filter_map(|item| item.as_str().map(str::to_owned))
        .collect();
    let in_order: Vec<&str> = wanted
        .iter()
        .copied()
        .filter(|text| kept.iter().any(|old| old == text))
        .collect();
    if in_order != kept {
        array.clear();
    }
    let before = like_neighbours(array);
    let after = closing_space(array, wanted.len());
    for (place, text) in wanted.iter().enumerate() {
        if array.get(place).and_then(Value::as_str) == Some(text) {
            continue;
        }
        let mut item = Value::from(*text);
        if let Some(before) = &before {
            item.decor_mut().set_prefix(before.as_str());
        }
        array.insert_formatted(place, item);
    }
    if let (Some(space), Some(last)) = (after, wanted.len().checked_sub(1)) {
        array
            .get_mut(last)
            .into_iter()
            .for_each(|item| item.decor_mut().set_suffix(&space));
    }
}

/// Takes the space before the closing bracket off the last entry, where new ones follow it.
fn closing_space(array: &mut Array, wanted: usize) -> Option<String> {
    if array.len() >= wanted {
        return None;
    }
    let last = array.len().checked_sub(1)?;
    let decor = array.get_mut(last)?.decor_mut();
    let space = decor
        .suffix()?
        .as_str()
        .filter(|space| space.trim().is_empty())?
        .to_owned();
    decor.set_suffix("");
    Some(space)
}

/// The space before the last entry, if it stands on a line of its own.
fn like_neighbours(array: &Array) -> Option<String> {
    let prefix = array.iter().last()?.decor().prefix()?.as_str()?;
    let start = prefix.rfind('\n')?;
    Some(prefix[start..].to_owned()).filter(|space| space.trim().is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn updated(list: &str, wanted: &[&str]) -> String {
        let text = format!("list = {list}\n");
        let mut document: toml_edit::DocumentMut = text.parse().expect("TOML");
        let array = document["list"].as_array_mut().expect("a list");
        update(array, wanted);
        document
            .to_string()
            .trim()
            .trim_start_matches("list = ")
            .to_owned()
    }

    #[test]
    fn what_stays_keeps_its_comments_and_spacing() {
        assert_eq!(
            updated("[ \"a\",  \"b\" ]", &["a", "b"]),
            "[ \"a\",  \"b\" ]"
        );
        assert_eq!(updated("[\"a\", \"b\"]", &["a", "c"]), "[\"a\", \"c\"]");
        let long = "[\n  # soft\n  \"a\",\n  \"b\", # hard\n]";
        assert_eq!(
            updated(long, &["a", "b", "c"]),
            "[\n  # soft\n  \"a\",\n  \"b\",\n  \"c\", # hard\n]"
        );
        assert_eq!(
            updated(long, &["c", "b"]),
            "[\n  \"c\",\n  \"b\", # hard\n]"
        );
    }

    #[test]
    fn another_order_is_written_anew() {
        assert_eq!(updated("[\"a\", \"b\"]", &["b", "a"]), "[\"b\", \"a\"]");
        assert_eq!(updated("[]", &["b"]), "[\"b\"]");
        assert_eq!(updated("[\"a\"]", &[]), "[]");
    }
}
