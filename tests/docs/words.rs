//! The glossary, from its data.

use gantrywright::catalogue::Catalogue;
use gantrywright::catalogue::glossary::sorted;

/// Every word with its definition, each with links to those it leads on to.
pub(crate) fn glossary(catalogue: &Catalogue) -> String {
    let mut text = String::new();
    for entry in sorted(&catalogue.glossary) {
        text.push_str(&format!(
            "\n### <a id=\"{}\"></a>{}\n\n",
            entry.id, entry.word
        ));
        text.push_str(&entry.means);
        if !entry.also.is_empty() {
            text.push_str(&format!(" Also: {}.", entry.also.join(", ")));
        }
        if let Some(standard) = &entry.standard {
            text.push_str(&format!(" Standard: {standard}."));
        }
        let words = &catalogue.glossary;
        let see = entry.see.iter().filter_map(|id| {
            let other = words.iter().find(|other| other.id == *id)?;
            Some(format!("[{}](#{id})", other.word))
        });
        let see: Vec<String> = see.collect();
        if !see.is_empty() {
            text.push_str(&format!(" See {}.", see.join(", ")));
        }
        text.push('\n');
    }
    text
}
