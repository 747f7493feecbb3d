//! Where the work can hurt. Only the deadliest are told in full unless all are asked for: a
//! page of them is skipped.

use crate::commands::layout::hanging;
use crate::rules::cautions::Caution;

/// How many are told in full: they come the deadliest first.
const IN_FULL: usize = 2;

/// The cautions, the first ones or all of them in full.
pub(super) fn cautions(cautions: &[&Caution], all: bool) -> String {
    let full = if all { cautions.len() } else { IN_FULL };
    let mut said = String::new();
    for caution in cautions.iter().take(full) {
        said.push_str(&hanging(
            "  -",
            4,
            &format!("{}. {}", caution.title, caution.text),
        ));
        if all {
            said.push_str(&hanging("", 4, &format!("From: {}.", caution.from)));
            said.push('\n');
        }
    }
    let rest: Vec<&str> = cautions.iter().skip(full).map(|one| one.title).collect();
    if !rest.is_empty() {
        let text = format!(
            "Mind too: {}. With --cautions: what to do about each.",
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
    use crate::rules::cautions::ALL;

    #[test]
    fn the_deadliest_are_told_in_full_and_every_one_is_named() {
        let every: Vec<&Caution> = ALL.iter().collect();
        let short = cautions(&every, false);
        let long = cautions(&every, true);
        let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat(&short).contains(ALL[0].text));
        for caution in ALL {
            assert!(flat(&short).contains(caution.title), "{}", caution.id);
            assert!(flat(&long).contains(caution.text), "{}", caution.id);
        }
        assert!(short.lines().count() < 20, "{short}");
        assert_eq!(cautions(&[], false), "");
    }
}
