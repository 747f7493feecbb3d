//! `gantrywright recover`: changes that an earlier session left unsaved, as the start offers them.

use std::process::ExitCode;

use clap::Args;
use serde_json::{Value as Json, json};

use super::{Failure, Overlays, input, layout, output};
use crate::catalogue::Catalogue;
use crate::screen::recovery;
use crate::store::journal::{self, Claim, Journal};

/// Lists changes that were not saved, prints one as a build file, or throws it away.
#[derive(Args, Debug)]
pub(super) struct Recover {
    /// Which, by its number in the list or by its name.
    #[arg(value_name = "WHICH")]
    which: Option<String>,
    /// Print the build with its changes, as a build file.
    #[arg(long, requires = "which", conflicts_with_all = ["remove", "json"])]
    print: bool,
    /// Throw the changes away.
    #[arg(long, requires = "which", conflicts_with = "json")]
    remove: bool,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    pub(super) overlays: Overlays,
}

pub(super) fn run(args: &Recover) -> Result<ExitCode, Failure> {
    let all = journal::all();
    let Some(which) = &args.which else {
        return list(&all, args);
    };
    let journal = find(&all, which)?;
    if args.print {
        return output::answer(&journal.text);
    }
    if args.remove {
        let name = journal.name();
        Claim::on(&journal.path).and_then(Claim::remove)?;
        return output::answer(&format!("Thrown away: {name}\n"));
    }
    list(std::slice::from_ref(journal), args)
}

fn find<'j>(all: &'j [Journal], which: &str) -> Result<&'j Journal, Failure> {
    let number = which.parse::<usize>().ok();
    let counted = number.and_then(|number| all.get(number.checked_sub(1)?));
    let named = all.iter().find(|journal| journal.name() == which);
    named.or(counted).ok_or_else(|| {
        Failure::new(format!(
            "there are no unsaved changes {which:?}; gantrywright recover lists them"
        ))
    })
}

fn list(all: &[Journal], args: &Recover) -> Result<ExitCode, Failure> {
    let catalogue = input::catalogue(&args.overlays)?;
    if args.json {
        let rows: Vec<Json> = all.iter().map(|one| as_json(one, &catalogue)).collect();
        return output::answer_json(&json!({ "unsaved": rows }));
    }
    if all.is_empty() {
        return output::answer("Nothing was left unsaved.\n");
    }
    let mut page = String::new();
    for (place, journal) in all.iter().enumerate() {
        let told = recovery::told(journal, &catalogue);
        let number = format!("{:>2}", place + 1);
        page.push_str(&layout::hanging(&number, 4, &journal.name()));
        for text in told {
            page.push_str(&layout::hanging("", 4, &text));
        }
    }
    page.push_str(&layout::hanging("", 0, "The next start of gantrywright offers to take them up. With --print behind the number one is printed as a build file, with --remove it is thrown away."));
    output::answer(&page)
}

fn as_json(journal: &Journal, catalogue: &Catalogue) -> Json {
    let header = &journal.header;
    let file = header.file.as_ref();
    json!({
        "name": journal.name(),
        "title": header.title,
        "file": file.map(|file| file.to_string_lossy()),
        "begun": header.begun.to_string(),
        "last": journal.last.to_string(),
        "runs_still": journal.alive,
        "changes": recovery::changes(journal, catalogue).ok(),
    })
}
