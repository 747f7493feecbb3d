//! Where the work can hurt. Only the deadliest are told in full unless all are asked for: a
//! page of them is skipped.

use crate::commands::layout::hanging;
use crate::rules::safety_notes::SafetyNote;

/// How many are told in full: they come the deadliest first.
const IN_FULL: usize = 2;

/// The safety notes, the first ones or all of them in full.
pub(super) fn safety(notes: &[&SafetyNote], all: bool) -> String {
    let full = if all { notes.len() } else { IN_FULL };
    let mut said = String::new();
    for note in notes.iter().take(full) {
        said.push_str(&hanging(
            "  -",
            4,
            &format!("{}. {}", note.title, note.text),
        ));
        if all {
            said.push_str(&hanging("", 4, &format!("From: {}.", note.from)));
            said.push('\n');
        }
    }
    let rest: Vec<&str> = notes.iter().skip(full).map(|one| one.title).collect();
    if !rest.is_empty() {
        let text = format!(
            "Mind too: {}. With --safety: what to do about each.",
            rest.join("; ")
        );
        said.push_str(&hanging("  -", 4, &text));
    }
    match said.strip_suffix("\n\n") {
        Some(trimmed) => format!("{trimmed}\n"),
        None => said,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::safety_notes::ALL;

    #[test]
    fn the_deadliest_are_told_in_full_and_every_one_is_named() {
        let every: Vec<&SafetyNote> = ALL.iter().collect();
        let short = safety(&every, false);
        let long = safety(&every, true);
        let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat(&short).contains(ALL[0].text));
        for note in ALL {
            assert!(flat(&short).contains(note.title), "{}", note.id);
            assert!(flat(&long).contains(note.text), "{}", note.id);
        }
        assert!(short.lines().count() < 20, "{short}");
        assert_eq!(safety(&[], false), "");
    }
}
