//! Which groups a figure is in, by its path.

use crate::assessment::Assessment;
use crate::bill::Line;
use crate::catalogue::{Catalogue, Id, Part};
use crate::machine::cutting::Engagement;
use crate::screen::text::capital;
use crate::words::Words;

/// Key and title of a group.
pub(super) type Name = (String, String);

/// The groups that a figure is in, the outermost first.
pub(super) fn groups_of(path: &str, catalogue: &Catalogue, of: &Assessment) -> Vec<Name> {
    let (first, rest) = path.split_once('.').unwrap_or((path, ""));
    let outer = (first.to_owned(), titled(first));
    match first {
        "axes" => {
            let axis = rest.split('.').next().unwrap_or_default();
            let outer = (format!("axes.{axis}"), format!("Axis {axis}"));
            let mut names = vec![outer];
            names.extend(inner(path, 2, |word| match word {
                "torque" => Some("Torque over speed".to_owned()),
                "short_moves" => Some("Short moves".to_owned()),
                "settings" => Some("Settings of controller and driver".to_owned()),
                _ => None,
            }));
            names
        }
        "stiffness" => {
            let mut names = vec![outer];
            names.extend(inner(path, 1, |word| match word {
                "shares" => Some("Shares of all that gives".to_owned()),
                "springs" => Some("Each part alone".to_owned()),
                _ => None,
            }));
            names
        }
        "cables" => {
            let mut names = vec![outer];
            names.extend(inner(path, 1, |mark| Some(format!("Cable {mark}"))));
            names
        }
        "bill" => {
            let mut names = vec![outer];
            names.extend(line_of_bill(rest, of));
            names
        }
        "cutting" => {
            let mut names = vec![outer];
            names.extend(groups_of_cut(rest, catalogue));
            names
        }
        _ => vec![outer],
    }
}

/// The group inside by the word at a place of the path, where more words follow it.
fn inner(path: &str, at: usize, title: impl Fn(&str) -> Option<String>) -> Option<Name> {
    let mut words = path.split('.');
    let word = words.clone().nth(at)?;
    words.nth(at + 1)?;
    let key: Vec<&str> = path.split('.').take(at + 1).collect();
    Some((key.join("."), title(word)?))
}

/// The line of the bill that a figure is about. Ids may hold points, so it is the longest id
/// with which the rest begins.
fn line_of_bill(rest: &str, of: &Assessment) -> Option<Name> {
    let about = |line: &&Line| {
        let after = rest.strip_prefix(line.part.as_str());
        after.is_some_and(|after| after.starts_with('.'))
    };
    let lines = of.bill.lines.iter().filter(about);
    let line = lines.max_by_key(|line| line.part.as_str().len())?;
    Some((format!("bill.{}", line.part), line.title.to_string()))
}

/// Whether a figure is what its group is about, so that it stands first there.
pub(super) fn is_first(path: &str) -> bool {
    const FIRST: [&str; 2] = [".removal_cm3_per_min", ".total_min"];
    FIRST.iter().any(|end| path.ends_with(end)) || path == "cost.likely"
}

/// Material, tool and engagement of a cut's figure. Ids may hold points, so the material is
/// the one of the catalogue whose id the rest begins with.
fn groups_of_cut(rest: &str, catalogue: &Catalogue) -> Vec<Name> {
    let title = |part: Option<&dyn Part>, id: &str| {
        part.map_or_else(|| id.to_owned(), |part| part.title().to_owned())
    };
    let Some((cut, _)) = rest.rsplit_once('.') else {
        return Vec::new();
    };
    let begins = |id: &&Id| {
        let after = cut.strip_prefix(id.as_str());
        after.is_some_and(|after| after.is_empty() || after.starts_with('.'))
    };
    let known = catalogue.materials.keys().filter(begins);
    let material = match known.max_by_key(|id| id.as_str().len()) {
        Some(id) => id.as_str(),
        None => cut.split('.').next().unwrap_or(cut),
    };
    let part = catalogue.materials.get(material);
    let part = part.map(|part| part as &dyn Part);
    let mut names = vec![(format!("cutting.{material}"), title(part, material))];
    let Some(tool) = cut[material.len()..].strip_prefix('.') else {
        return names;
    };
    let (tool, engagement) = match tool.rsplit_once('.') {
        Some((tool, word)) if Engagement::from_id(word).is_some() => {
            (tool, Engagement::from_id(word))
        }
        _ => (tool, None),
    };
    let part = catalogue.end_mills.get(tool).map(|part| part as &dyn Part);
    names.push((format!("cutting.{material}.{tool}"), title(part, tool)));
    if let Some(engagement) = engagement {
        names.push((format!("cutting.{cut}"), engagement.title().to_owned()));
    }
    names
}

/// A key as a title: `first_cut` becomes `First cut`.
fn titled(key: &str) -> String {
    capital(&key.replace(['_', '-'], " "))
}
