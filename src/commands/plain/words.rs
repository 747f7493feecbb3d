//! The words that are known at every prompt.

use super::page::Page;

/// A word with what stands behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Word<'l> {
    Back,
    Next,
    List,
    More,
    Steps,
    Summary,
    Warnings,
    Lift,
    Accept(&'l str),
    Unaccept,
    Safety,
    Figures(&'l str),
    Why(&'l str),
    Bill,
    Find(&'l str),
    Questions,
    Cheapest(&'l str),
    Variants,
    Clone(&'l str),
    Sheets,
    Paid(&'l str),
    Undo,
    Redo,
    Save(&'l str),
    Help,
    Quit,
}

/// Each word, what may stand behind it, and what it does.
const TABLE: &[(&str, &str, &str)] = &[
    ("back", "", "goes back to where you came from"),
    ("next", "", "goes on to the next choice, step or warning"),
    ("list", "", "says again what can be chosen here"),
    ("more", "", "says the rest of a long list"),
    ("steps", "", "goes to the five steps"),
    (
        "summary",
        "",
        "cost, what it cuts, the socket, the worst warning, what to do next",
    ),
    (
        "warnings",
        "",
        "lists what does not go together or is dangerous",
    ),
    ("lift", "", "at a warning: makes the changes of its remedy"),
    (
        "accept",
        "NOTE",
        "at a warning: keeps it as it is, with your reason; unaccept takes that back",
    ),
    (
        "safety",
        "",
        "where the work can hurt, and what to do about it",
    ),
    (
        "figures",
        "GROUP",
        "what the machine does; with a group, such as axes.X, every figure in it",
    ),
    (
        "why",
        "FIGURE",
        "how a figure came about, such as why cost.likely",
    ),
    ("bill", "", "every part with quantity and price"),
    ("find", "TEXT", "looks for choices and options by name"),
    (
        "questions",
        "",
        "what builders ask most, such as a larger area; a number answers one",
    ),
    (
        "cheapest",
        "TARGETS",
        "looks for the cheapest build that does what you want, such as cheapest rapids>=8",
    ),
    ("variants", "", "other ways to build it; a number opens one"),
    ("clone", "NAME", "a new variant, like the one that is open"),
    (
        "sheets",
        "",
        "sheets for the workshop; a number writes one to a file",
    ),
    (
        "paid",
        "WORD",
        "the lines of the bill; a number writes down what was paid",
    ),
    (
        "undo",
        "",
        "takes the last change back; redo makes it again",
    ),
    ("redo", "", "makes the change again that was taken back"),
    (
        "save",
        "FILE",
        "saves; without a name, to the file that is open",
    ),
    ("help", "", "this list"),
    ("quit", "", "leaves; asks first where something is unsaved"),
];

/// How every word is spelled.
pub(super) fn all() -> impl Iterator<Item = &'static str> {
    TABLE.iter().map(|(word, _, _)| *word)
}

impl<'l> Word<'l> {
    /// The word that a line begins with; none where the line is something else. Words that take
    /// nothing stand alone.
    pub(super) fn of(line: &'l str) -> Option<Self> {
        let (word, rest) = match line.split_once(char::is_whitespace) {
            Some((word, rest)) => (word, rest.trim()),
            None => (line, ""),
        };
        let word = match (word.to_lowercase().as_str(), rest) {
            ("accept", note) => Self::Accept(note),
            ("figures", group) => Self::Figures(group),
            ("why", figure) => Self::Why(figure),
            ("find", text) => Self::Find(text),
            ("save", file) => Self::Save(file),
            ("cheapest", wanted) => Self::Cheapest(wanted),
            ("clone", name) => Self::Clone(name),
            ("paid", word) => Self::Paid(word),
            ("questions", "") => Self::Questions,
            ("variants", "") => Self::Variants,
            ("sheets", "") => Self::Sheets,
            ("back", "") => Self::Back,
            ("next", "") => Self::Next,
            ("list", "") => Self::List,
            ("more", "") => Self::More,
            ("steps", "") => Self::Steps,
            ("summary", "") => Self::Summary,
            ("warnings", "") => Self::Warnings,
            ("lift", "") => Self::Lift,
            ("unaccept", "") => Self::Unaccept,
            ("safety", "") => Self::Safety,
            ("bill", "") => Self::Bill,
            ("undo", "") => Self::Undo,
            ("redo", "") => Self::Redo,
            ("help" | "?", "") => Self::Help,
            ("quit" | "exit", "") => Self::Quit,
            _ => return None,
        };
        Some(word)
    }

    /// The word that a line is, where text is asked for: only alone, so that a note may begin
    /// with any word.
    pub(super) fn alone(line: &'l str) -> Option<Self> {
        match line.contains(char::is_whitespace) {
            true => None,
            false => Self::of(line),
        }
    }
}

/// All words.
pub(super) fn help() -> Page {
    let mut page = Page::of("These words are known at every prompt:");
    for (word, behind, does) in TABLE {
        let gap = if behind.is_empty() { "" } else { " " };
        page.text(format!("{word}{gap}{behind}: {does}."));
    }
    page.text(
        "Any choice can be set straight, at every prompt: travel_x_mm=800. Its name alone opens it.",
    );
    page
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_of_the_help_is_known() {
        for (word, behind, _) in TABLE {
            assert!(Word::of(word).is_some(), "{word}");
            assert!(Word::of(&word.to_uppercase()).is_some(), "{word}");
            let takes = Word::of(&format!("{word} something")).is_some();
            assert_eq!(takes, !behind.is_empty(), "{word}");
        }
    }

    #[test]
    fn where_text_is_asked_for_a_word_stands_alone() {
        assert_eq!(Word::alone("why not"), None);
        assert_eq!(Word::alone("back"), Some(Word::Back));
        assert_eq!(Word::of("save  a b.toml"), Some(Word::Save("a b.toml")));
        assert_eq!(Word::of("42"), None);
    }
}
