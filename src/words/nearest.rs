//! "Did you mean": the nearest known name to a mistyped one.

/// The number of single-letter edits (insert, delete, replace, swap of neighbours) between
/// two words, by optimal string alignment.
pub fn distance(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().collect();
    let mut rows = vec![vec![0; b.len() + 1]; a.len() + 1];
    for (i, row) in rows.iter_mut().enumerate() {
        row[0] = i;
    }
    for (j, cell) in rows[0].iter_mut().enumerate() {
        *cell = j;
    }
    for i in 1..=a.len() {
        for j in 1..=b.len() {
            let replaced = rows[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut best = replaced.min(rows[i - 1][j] + 1).min(rows[i][j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(rows[i - 2][j - 2] + 1);
            }
            rows[i][j] = best;
        }
    }
    rows[a.len()][b.len()]
}

/// The nearest of the known names, where one is near enough to be meant: half of what was typed
/// stands in it, and of three letters all but one.
pub fn nearest<'n>(text: &str, known: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    let text: String = text.chars().take(64).collect();
    let reach = (text.chars().count() / 2).clamp(1, 6);
    // A name that begins with what was typed, but for its marks, is nearer than any slip.
    let bare = |name: &str| name.replace(['_', '-'], "");
    let begun = bare(&text);
    let far = |name: &str| match bare(name).starts_with(&begun) && begun.len() > 2 {
        true => 0,
        false => distance(&text, name),
    };
    known
        .into_iter()
        .map(|name| (far(name), name))
        .filter(|(far, _)| *far <= reach)
        .min_by_key(|(far, _)| *far)
        .map(|(_, name)| name)
}

/// The end of a message: names the nearest, or where few are known, all of them.
pub fn hint<'n>(text: &str, known: impl IntoIterator<Item = &'n str>) -> String {
    let known: Vec<&str> = known.into_iter().collect();
    match nearest(text, known.iter().copied()) {
        Some(name) => format!("; did you mean {name:?}?"),
        None if (1..=8).contains(&known.len()) => format!("; known are {}", known.join(", ")),
        None => String::new(),
    }
}

/// The same where whoever mistyped sees the names nowhere else: all of them, however many, where
/// none is near.
pub fn or_all<'n>(text: &str, known: impl IntoIterator<Item = &'n str>) -> String {
    let known: Vec<&str> = known.into_iter().collect();
    match nearest(text, known.iter().copied()) {
        Some(name) => format!("; did you mean {name:?}?"),
        None => format!("; known are {}", known.join(", ")),
    }
}

/// The most options that are listed beside the nearest one.
const FEW: usize = 12;
/// The longest list, in characters, where none is near.
const LONGEST_LIST: usize = 400;

/// The end of a message about a word that is none of the options: the nearest, and all of them
/// where they are few or none is near.
pub fn options<'n>(text: &str, known: impl IntoIterator<Item = &'n str>) -> String {
    let known: Vec<&str> = known.into_iter().collect();
    let all = known.join(", ");
    match nearest(text, known.iter().copied()) {
        Some(name) if (2..=FEW).contains(&known.len()) => {
            format!("; did you mean {name:?}? It takes {all}")
        }
        Some(name) => format!("; did you mean {name:?}?"),
        None if !all.is_empty() && all.len() <= LONGEST_LIST => format!("; it takes {all}"),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_finger_finds_its_word() {
        assert_eq!(distance("travle", "travel"), 1);
        assert_eq!(
            nearest("travle_x_mm", ["travel_y_mm", "travel_x_mm"]),
            Some("travel_x_mm")
        );
        assert_eq!(nearest("spindle", ["rail", "cable"]), None);
        assert_eq!(nearest("foo", ["door", "tool"]), None);
        assert_eq!(nearest("bil", ["tool", "bill"]), Some("bill"));
        let makes = ["rolled", "ground"];
        assert_eq!(
            options("forged", makes),
            "; did you mean \"rolled\"? It takes rolled, ground"
        );
        assert_eq!(options("extremely", makes), "; it takes rolled, ground");
        let many = ["aa", "bb", "cc", "dd", "ee", "ff", "gg", "hh", "ii"];
        assert_eq!(hint("wrong", many), "");
        assert_eq!(
            or_all("wrong", many),
            format!("; known are {}", many.join(", "))
        );
        assert_eq!(or_all("a", many), "; did you mean \"aa\"?");
        assert_eq!(
            nearest("travelx", ["drive_x", "travel_x_mm"]),
            Some("travel_x_mm")
        );
    }
}
