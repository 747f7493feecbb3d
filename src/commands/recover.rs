//! `gantrywright recover`: changes that an earlier session left unsaved, as the start offers them.

use std::io::{BufRead, Write};
use std::path::Path;
use std::process::ExitCode;

use clap::Args;
use serde_json::{Value as Json, json};

use super::plain::WIDTH;
use super::{Failure, Overlays, input, layout, output};
use crate::catalogue::Catalogue;
use crate::screen::recovery::{self, Around, Offer};
use crate::screen::text::capital;
use crate::screen::{Open, Session};
use crate::store::journal::{self, Claim, Journal};
use crate::store::visible;

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

/// Asks line by line what becomes of unsaved changes; gives back the session to go on with, and
/// the journal that it was taken from, which is kept until the talk has one of its own.
///
/// # Errors
/// Where lines cannot be read or text not written.
pub(super) fn ask(
    mut session: Session,
    recover: Open,
    lines: &mut dyn BufRead,
    out: &mut dyn Write,
) -> Result<(Session, Option<Claim>), Failure> {
    for offer in recovery::offers(&session.catalogue) {
        say(out, &question(&offer))?;
        match answer(lines, out)? {
            Some(2) => match taken(&offer.journal.path, &session, recover) {
                Ok((taken, said, claim)) => {
                    session = taken;
                    let said = format!("{}.", capital(&said));
                    say(out, &layout::hanging_within(WIDTH, "", 0, &said))?;
                    return Ok((session, Some(claim)));
                }
                Err(why) => say(out, &format!("Not taken up: {why}.\n"))?,
            },
            Some(3) => {
                let gone = Claim::on(&offer.journal.path).and_then(Claim::remove);
                say(
                    out,
                    &match gone {
                        Ok(()) => "Thrown away.\n".to_owned(),
                        Err(error) => format!("{error}.\n"),
                    },
                )?;
            }
            _ => say(out, "It is offered again at the next start.\n")?,
        }
    }
    Ok((session, None))
}

fn question(offer: &Offer) -> String {
    let told = offer.told.iter();
    let mut text: String = told
        .map(|told| layout::hanging_within(WIDTH, "", 0, told))
        .collect();
    text.push_str("1. Look at it later\n2. Take it up\n3. Throw it away\n");
    text
}

/// The number that was typed; Enter, and the end of the input, look at it later.
fn answer(lines: &mut dyn BufRead, out: &mut dyn Write) -> Result<Option<u32>, Failure> {
    loop {
        say(out, "\nUnsaved changes, 1 to 3: ")?;
        let Some(line) = input::line(lines)? else {
            say(out, "\n")?;
            return Ok(None);
        };
        match line.trim() {
            "" => return Ok(None),
            "1" => return Ok(Some(1)),
            "2" => return Ok(Some(2)),
            "3" => return Ok(Some(3)),
            other => say(
                out,
                &format!("Not understood: {:?}. Type 1, 2 or 3.\n", other),
            )?,
        }
    }
}

fn taken(
    path: &Path,
    session: &Session,
    recover: Open,
) -> Result<(Session, String, Claim), String> {
    let around = Around {
        open: recover,
        catalogue: &session.catalogue,
        today: session.today,
        color: session.color,
    };
    Ok(recovery::take_up(path, &around)?.apart())
}

fn say(out: &mut dyn Write, text: &str) -> Result<(), Failure> {
    let text: String = text.split_inclusive('\n').map(line).collect();
    let written = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    written.map_err(|error| Failure::new(format!("standard output: {error}")))
}

/// A line made safe for the terminal, its end kept.
fn line(line: &str) -> String {
    match line.strip_suffix('\n') {
        Some(line) => visible(line).into_owned() + "\n",
        None => visible(line).into_owned(),
    }
}
