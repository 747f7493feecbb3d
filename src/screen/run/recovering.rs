//! What an earlier session left unsaved: taken up, or thrown away.

use std::path::Path;

use super::{Outside, Records, replace};
use crate::screen::recovery::{self, Around};
use crate::screen::state::{Notice, State};
use crate::screen::update::offered_on;
use crate::store::journal::Claim;

/// Takes up what an earlier session left unsaved, in place of what is on the screen.
pub(super) fn take_up(state: &mut State, path: &Path, outside: Outside, records: &mut Records) {
    let around = Around {
        open: outside.ways.recover,
        catalogue: &state.catalogue,
        today: state.today,
        color: outside.color,
    };
    let taken = recovery::take_up(path, &around).and_then(|taken| {
        let (session, said, claim) = taken.apart();
        // What else was left is offered at the next start: over what is unsaved now nothing could
        // be taken up.
        replace(state, session, outside.pen, &mut records.keeper)?;
        Ok((said, claim))
    });
    match taken {
        Ok((said, claim)) => {
            state.notice = Some(Notice::Done(said));
            // The old journal goes when the new one is on the disk.
            records.trace.follow(state);
            records.trace.flush();
            if records.trace.keeps() || !state.is_unsaved() {
                let _ = claim.remove();
            }
        }
        Err(why) => offered_on(state, Notice::Failed(format!("not taken up: {why}"))),
    }
}

/// Throws it away.
pub(super) fn forget(state: &mut State, path: &Path) {
    let gone = Claim::on(path).and_then(Claim::remove);
    let told = gone.map_or_else(
        |error| Notice::Failed(error.to_string()),
        |()| Notice::Done("thrown away".to_owned()),
    );
    offered_on(state, told);
}
