//! What an earlier session left unsaved: taken up, or thrown away.

use std::path::Path;

use super::{Outside, set_up};
use crate::screen::recovery::{self, Around};
use crate::screen::state::{Notice, State};
use crate::screen::trace::Trace;
use crate::screen::update::offered_on;
use crate::store::journal::Claim;

/// Takes up what an earlier session left unsaved, in place of what is on the screen.
pub(super) fn take_up(
    state: &mut State,
    path: &Path,
    (pen, color, ways): Outside,
    trace: &mut Trace,
) {
    let around = Around {
        open: ways.recover,
        catalogue: &state.catalogue,
        today: state.today,
        color,
    };
    let taken = recovery::take_up(path, &around).and_then(|taken| {
        let (session, said, claim) = taken.apart();
        let opened = State::new(session, state.size).map_err(|error| error.to_string())?;
        Ok((opened, said, claim))
    });
    match taken {
        Ok((mut opened, said, claim)) => {
            set_up(&mut opened, pen, state.wishes.clone());
            *state = opened;
            state.notice = Some(Notice::Done(said));
            // The old journal goes when the new one is on the disk.
            trace.follow(state);
            trace.flush();
            if trace.keeps() || !state.is_unsaved() {
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
