//! The file of a session: who else works on it, what they write, and writing it.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};

use super::refused;
use crate::screen::file_names::file_of;
use crate::screen::papers::Source;
use crate::screen::state::{Purpose, State};
use crate::screen::theirs::Theirs;
use crate::screen::update::{Message, Others, Outcome};
use crate::sheets::{self, Format, SheetKind};
use crate::store::kept::{self, Found, Kept, Standing};
use crate::store::lock::Who;
use crate::store::{build_file, save, text};

/// How long the file is not looked at again, however many keys come in.
const PAUSE: Duration = Duration::from_secs(2);

/// The file of a session.
#[derive(Default)]
pub(super) struct FileKeeper {
    kept: Kept,
    /// When it was looked at last.
    looked: Option<Instant>,
}

impl FileKeeper {
    /// Takes the file of what was opened, with the text that it had; says who else works on it.
    pub(super) fn open(&mut self, state: &State, on_disk: Option<String>) -> Option<Message> {
        let Some(path) = &state.file.path else {
            self.kept = Kept::default();
            return None;
        };
        let others = match self.kept.reopen(path, on_disk) {
            kept::Others::Nobody => return None,
            kept::Others::One(who) => Others::Work(who.told()),
            kept::Others::Unknown(why) => Others::Unknown(why),
        };
        Some(Message::Others(others))
    }

    /// Lets the file go where what is on the screen has none any more, such as a build of the
    /// interview: one of its name is then another file, which is not replaced unasked.
    fn let_go(&mut self, state: &State) {
        if state.file.path.is_none() {
            self.kept = Kept::default();
        }
    }

    /// What somebody else wrote to the file, seldom enough to cost nothing.
    pub(super) fn news(&mut self, state: &State) -> Option<Message> {
        self.let_go(state);
        let now = Instant::now();
        if self
            .looked
            .is_some_and(|then| now.duration_since(then) < PAUSE)
        {
            return None;
        }
        self.looked = Some(now);
        let found = self.kept.news()?;
        let theirs = theirs(state, found, None)?;
        Some(Message::Others(Others::Wrote(theirs)))
    }

    /// Takes what others wrote for what is worked on.
    pub(super) fn take_over(&mut self, theirs: &Theirs) {
        self.kept.take_over(&theirs.whole);
    }

    /// Writes the build, or a sheet of it, to a file.
    pub(super) fn written(
        &mut self,
        state: &State,
        named: PathBuf,
        purpose: Purpose,
        replace: bool,
    ) -> Outcome {
        // Asked before the ending is added: a folder needs a name behind it.
        if named.is_dir() {
            let folder = named.display();
            return Outcome::Failed(format!(
                "not written: {folder} is a folder; type a file name after it"
            ));
        }
        match purpose {
            Purpose::Save { leave } => {
                let path = file_of(state.file.path.as_deref(), named);
                self.save(state, path, leave, replace)
            }
            Purpose::Export(..) if !replace && !text::is_missing(&named) => Outcome::Exists {
                path: named,
                purpose,
            },
            Purpose::Export(kind, format) => export(state, named, kind, format),
        }
    }

    fn save(&mut self, state: &State, path: PathBuf, leave: bool, replace: bool) -> Outcome {
        self.let_go(state);
        match self.kept.standing(&path, replace) {
            Standing::Free => {}
            Standing::Exists => {
                let purpose = Purpose::Save { leave };
                return Outcome::Exists { path, purpose };
            }
            Standing::Held(who) => {
                let told = who.told();
                return Outcome::Held { path, told, leave };
            }
            Standing::Changed { found, held } => {
                return match theirs(state, found, held.as_ref()) {
                    Some(theirs) => Outcome::Changed { theirs, leave },
                    None => Outcome::Failed("not saved: no file is open".to_owned()),
                };
            }
        }
        let original = state.file.original.as_deref();
        let text = build_file::saved(original, state.build(), &state.catalogue, state.today);
        let bundle = state.file.bundle.as_ref();
        let whole = bundle.map_or_else(|| text.clone(), |bundle| bundle.with_build(&text));
        match self.kept.write(&path, &whole) {
            Ok(()) => Outcome::Saved { path, text, leave },
            Err(error) => refused(&error),
        }
    }
}

fn theirs(state: &State, found: Found, held: Option<&Who>) -> Option<Arc<Theirs>> {
    let path = state.file.path.as_ref()?;
    let theirs = Theirs::of(path, found, held, &state.catalogue);
    Some(Arc::new(theirs))
}

fn export(state: &State, path: PathBuf, kind: SheetKind, format: Format) -> Outcome {
    let source = Source {
        catalogue: &state.catalogue,
        build: state.build(),
        now: &state.now,
        today: state.today,
    };
    match source.paper(|paper| sheets::written(kind, format, paper, &state.speller)) {
        Some(Ok(bytes)) => match save::bytes(&path, &bytes) {
            Ok(()) => Outcome::Exported(path),
            Err(error) => refused(&error),
        },
        Some(Err(error)) => Outcome::Failed(error.to_string()),
        None => Outcome::Failed("the parts of this build cannot be picked".to_owned()),
    }
}
