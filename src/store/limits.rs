//! How much a file may say: far more than anybody needs, and so little that whatever is made of
//! it (lines on the screen, sheets, variants side by side) is made in no time.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::toml_value::Bad;

/// The longest text, in characters: some pages. What is typed is shorter.
pub(super) const LONGEST: usize = 10_000;

/// The most entries of a list, or of a section.
pub(super) const MOST: usize = 1000;

/// Whether no text and no name is too long.
pub(super) fn texts(table: &DeTable) -> Result<(), Bad> {
    in_table(table, usize::MAX)
}

/// Whether no text and no name is too long, and no list or section has too many entries.
pub(super) fn texts_and_lists(table: &DeTable) -> Result<(), Bad> {
    in_table(table, MOST)
}

fn in_table(table: &DeTable, most: usize) -> Result<(), Bad> {
    if let Some((key, _)) = table.iter().nth(most) {
        let message = format!("this section has more than {most} entries; leave some out");
        return Err(Bad::new(key.span(), message));
    }
    for (key, value) in table {
        short(key.get_ref(), key.span())?;
        in_value(value, most)?;
    }
    Ok(())
}

fn in_value(value: &Spanned<DeValue>, most: usize) -> Result<(), Bad> {
    match value.get_ref() {
        DeValue::String(text) => short(text, value.span()),
        DeValue::Table(table) => in_table(table, most),
        DeValue::Array(items) => {
            if items.len() > most {
                let message = format!(
                    "this list has {} entries; more than {most} are not read",
                    items.len()
                );
                return Err(Bad::new(value.span(), message));
            }
            items.iter().try_for_each(|item| in_value(item, most))
        }
        _ => Ok(()),
    }
}

fn short(text: &str, span: Range<usize>) -> Result<(), Bad> {
    // Bytes first: they are known without counting.
    let length = match text.len() {
        few if few <= LONGEST => return Ok(()),
        _ => text.chars().count(),
    };
    if length <= LONGEST {
        return Ok(());
    }
    let message = format!("this text has {length} characters; more than {LONGEST} are not read");
    Err(Bad::new(span, message))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> Option<(Range<usize>, String)> {
        let table = DeTable::parse(text).expect("TOML");
        let bad = texts_and_lists(table.get_ref()).err()?;
        Some((bad.span, bad.message))
    }

    #[test]
    fn what_is_too_much_is_told_with_its_place() {
        let long = "ä".repeat(LONGEST);
        assert_eq!(told(&format!("a = \"{long}\"")), None);
        let (place, message) = told(&format!("a = \"x{long}\"")).expect("too long");
        assert_eq!(place.start, 4);
        assert!(message.contains("10001 characters"), "{message}");
        assert!(told(&format!("{} = 1", "k".repeat(LONGEST + 1))).is_some());
        assert!(told(&format!("[a]\nb = [\"c\", {{ d = \"x{long}\" }}]")).is_some());
        let list = |entries: usize| format!("a = [{}]", "1,".repeat(entries));
        assert_eq!(told(&list(MOST)), None);
        let (place, message) = told(&list(MOST + 1)).expect("too many");
        assert_eq!(place.start, 4);
        assert!(message.contains("1001 entries"), "{message}");
        let section = |entries: usize| -> String {
            let lines = (0..entries).map(|number| format!("k{number} = 1\n"));
            "[a]\n".chars().map(String::from).chain(lines).collect()
        };
        assert_eq!(told(&section(MOST)), None);
        let (_, message) = told(&section(MOST + 1)).expect("too many");
        assert!(message.contains("more than 1000 entries"), "{message}");
    }

    #[test]
    fn a_file_of_parts_may_have_many() {
        let many = "[[tube]]\nid = \"a\"\n".repeat(MOST * 2);
        let table = DeTable::parse(&many).expect("TOML");
        assert_eq!(texts(table.get_ref()), Ok(()));
    }
}
