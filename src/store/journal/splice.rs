//! One text as a change of another: lines that take the place of some lines.
//!
//! What two texts begin and end with alike is left out. An edit of one choice is then one short
//! line of the journal, and edits far apart are never longer than the text itself.

use serde::{Deserialize, Serialize};

/// Lines that take the place of lines.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, Serialize)]
pub struct Splice {
    /// The first line that differs, from one.
    line: usize,
    /// How many lines go.
    out: usize,
    /// What comes in their place.
    #[serde(rename = "in")]
    put: String,
}

impl Splice {
    /// What makes one text of another.
    pub fn between(from: &str, to: &str) -> Self {
        let old: Vec<&str> = from.split_inclusive('\n').collect();
        let new: Vec<&str> = to.split_inclusive('\n').collect();
        let same = |(one, two): &(&&str, &&str)| one == two;
        let before = old.iter().zip(&new).take_while(same).count();
        let (old, new) = (&old[before..], &new[before..]);
        let behind = old.iter().rev().zip(new.iter().rev());
        let behind = behind.take_while(same).count();
        Self {
            line: before + 1,
            out: old.len() - behind,
            put: new[..new.len() - behind].concat(),
        }
    }

    /// The other text; none where this was never made from that text.
    pub fn applied(&self, from: &str) -> Option<String> {
        let old: Vec<&str> = from.split_inclusive('\n').collect();
        let first = self.line.checked_sub(1)?;
        let end = first.checked_add(self.out)?;
        let (before, behind) = (old.get(..first)?, old.get(end..)?);
        Some([before.concat(), self.put.clone(), behind.concat()].concat())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_gives_the_other_text_back() {
        let texts = [
            "",
            "a",
            "a\n",
            "\n",
            "a\nb\nc\n",
            "a\nb\nc",
            "a\nx\nc\n",
            "b\nc\n",
            "a\na\na\n",
            "a\na\n",
            "a\r\nb\r\n",
            "ä\nß\n漢\n",
        ];
        for from in texts {
            for to in texts {
                let splice = Splice::between(from, to);
                assert_eq!(splice.applied(from).as_deref(), Some(to), "{from:?} {to:?}");
            }
        }
    }

    #[test]
    fn one_line_that_differs_is_all_that_is_kept() {
        let splice = Splice::between("a = 1\nb = 2\nc = 3\n", "a = 1\nb = 20\nc = 3\n");
        assert_eq!((splice.line, splice.out), (2, 1));
        assert_eq!(splice.put, "b = 20\n");
    }

    #[test]
    fn lines_that_are_not_there_are_no_panic() {
        for (line, out) in [(0, 0), (5, 0), (1, 9), (usize::MAX, usize::MAX)] {
            let put = String::new();
            assert_eq!(Splice { line, out, put }.applied("a\n"), None);
        }
    }
}
