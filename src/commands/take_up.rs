//! What an earlier session left unsaved, before a talk line by line begins: it is told, and may be
//! taken up.

use std::io::{BufRead, Write};
use std::path::Path;

use super::plain::WIDTH;
use super::{Failure, input, layout};
use crate::screen::recovery::{self, Around, Offer};
use crate::screen::text::capital;
use crate::screen::{Open, Session};
use crate::store::journal::Claim;
use crate::store::visible;

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
