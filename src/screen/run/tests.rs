use jiff::civil::date;

use super::*;
use crate::build::{Build, Edit};
use crate::store::library;

/// Where no journal can be written that is said, however little the message changes that finds it
/// out, and not in place of something else that is to be read.
#[test]
fn a_session_that_nothing_is_kept_of_says_so_where_it_is_read() {
    let size = Size {
        width: 80,
        height: 24,
    };
    let session = Session::new(
        library::load(&[]).expect("what is built in"),
        Build::default(),
        date(2026, 11, 25),
        ColorWish::Auto,
    );
    let mut state = State::new(session, size).expect("a state");
    let mut build = state.build().clone();
    let edit = Edit::parse("machines", "2", &state.catalogue).expect("an edit");
    edit.apply(&mut build);
    state.history.put(build);
    // Where the folder of the journals should be there is a file.
    let file = tempfile::NamedTempFile::new().expect("a file");
    let mut trace = Trace::in_folder(Some(file.path().to_owned()));
    // Another message stands there meanwhile, whenever the journal's thread finds it out.
    let saved = Notice::Done("saved".to_owned());
    state.notice = Some(saved.clone());
    hear(&mut state, Message::Resize(size), &mut trace);
    trace.flush();
    state.notice = Some(saved.clone());
    // Nothing is typed in: a paste changes nothing.
    let nothing = || Message::Paste("text".to_owned());
    assert!(!hear(&mut state, nothing(), &mut trace).redraw);
    assert_eq!(state.notice, Some(saved));
    // That a key did nothing gives way to it.
    state.notice = Some(Notice::Idle("z does nothing here".to_owned()));
    assert!(hear(&mut state, nothing(), &mut trace).redraw);
    let Some(Notice::Failed(told)) = state.notice.take() else {
        panic!("not told");
    };
    assert!(told.starts_with("changes are not kept"), "{told}");
    assert!(!hear(&mut state, nothing(), &mut trace).redraw, "told once");
}
