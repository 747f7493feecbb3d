//! `gantrywright keys`: which key does what where, with the user's own keys.

use std::process::ExitCode;

use clap::Args;
use serde_json::{Value as Json, json};

use super::{Failure, layout, output};
use crate::build::nearest;
use crate::screen::keymap::{Binding, Keymap, Place, keys};
use crate::store::{FileError, settings, text};
use crate::words::Words as _;

/// Lists the keys of the screen with the names by which settings change them.
#[derive(Args, Debug)]
pub(super) struct Keys {
    /// Only the keys of this place.
    #[arg(value_name = "PLACE")]
    place: Option<String>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(args: &Keys) -> Result<ExitCode, Failure> {
    let place = args.place.as_deref().map(place_of).transpose()?;
    let user = settings::of_user();
    let name = user.file.as_deref().map(text::name_of).unwrap_or_default();
    let (keymap, clashes) = Keymap::with(&user.settings.keys, &name);
    let errors: Vec<FileError> = user.trouble.into_iter().chain(clashes).collect();
    if args.json {
        output::answer_json(&as_json(&keymap, place, &errors))?;
    } else {
        output::answer(&as_text(&keymap, place, &name))?;
    }
    for error in &errors {
        output::complain(&Failure::from(error.clone()));
    }
    Ok(ExitCode::from(if errors.is_empty() { 0 } else { 2 }))
}

fn place_of(name: &str) -> Result<Place, Failure> {
    Place::from_id(name).ok_or_else(|| {
        let hint = nearest::hint(name, Place::WORDS.iter().map(|word| word.id));
        Failure::new(format!("there is no place {name:?}{hint}"))
    })
}

fn as_json(keymap: &Keymap, place: Option<Place>, errors: &[FileError]) -> Json {
    let row = |place: Place, binding: &Binding| {
        let keys: Vec<String> = binding.keys.iter().map(ToString::to_string).collect();
        json!({
            "place": place.id(),
            "keys": keys,
            "action": binding.action.name(),
            "does": binding.long,
        })
    };
    let rows: Vec<Json> = places(place)
        .flat_map(|place| keymap.here(place).map(move |binding| row(place, binding)))
        .collect();
    let wrong: Vec<String> = errors.iter().map(ToString::to_string).collect();
    json!({ "keys": rows, "wrong": wrong })
}

fn as_text(keymap: &Keymap, place: Option<Place>, file: &str) -> String {
    let mut page = String::new();
    for place in places(place) {
        page.push_str(&format!("{} ({})\n", place.id(), place.title()));
        for binding in keymap.here(place) {
            let label = format!("  {:<17} {}", keys(binding), binding.action.name());
            page.push_str(&layout::hanging(&label, 37, binding.long));
        }
        page.push('\n');
    }
    let into = match file {
        "" => "the settings, which need a home folder",
        file => file,
    };
    let how = format!(
        "A line of your own goes into {into}, in the section [keys]: an action with its key, such as warnings = \"W\", for every place where it has one; in a section such as [keys.bill] for that place alone. A key that means something else there already is told, and the usual one stays."
    );
    page + &layout::hanging("", 0, &how)
}

fn places(only: Option<Place>) -> impl Iterator<Item = Place> {
    let all = Place::ALL.iter().copied();
    all.filter(move |place| only.is_none_or(|only| only == *place))
}
