//! Saving, and leaving.

use std::path::PathBuf;

use super::page::Page;
use super::talk::{Ask, Reply, Talk, Task};
use crate::explore::find::target;
use crate::screen::differences::differences;
use crate::screen::file_names::stem;
use crate::screen::text::capital;
use crate::screen::theirs::{Theirs, Told};
use crate::store::journal::Work;
use crate::store::visible;

/// How writing went.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Outcome {
    /// The file holds the build now.
    Saved {
        path: PathBuf,
        /// The text of the build.
        text: String,
        leave: bool,
    },
    /// Another file of this name is there.
    Exists { path: PathBuf, leave: bool },
    /// The file that is open holds something else than when it was read.
    Changed { theirs: Box<Theirs>, leave: bool },
    /// Somebody works on the file; who, in words.
    Held { told: String, leave: bool },
    /// It could not be written.
    Failed(String),
}

impl Talk {
    /// Whether the build differs from what the file holds.
    pub(super) fn is_unsaved(&self) -> bool {
        *self.build() != self.saved
    }

    /// How the build stands to its file.
    pub(super) fn work(&self) -> Work<'_> {
        Work {
            build: self.build(),
            saved: &self.saved,
            path: self.path(),
            original: self.original.as_deref(),
            bundle: self.bundle.is_some(),
        }
    }

    /// The name of a file for a build that has none.
    pub(super) fn suggested(&self) -> String {
        format!("{}.toml", stem(&self.build().title))
    }

    /// Saves under a name, or to the file that is open; asks for a name where there is none.
    pub(super) fn save(&mut self, name: &str) -> Reply {
        self.save_and(name, false)
    }

    fn save_and(&mut self, name: &str, leave: bool) -> Reply {
        let path = match (name, &self.path) {
            ("", Some(path)) => path.clone(),
            ("", None) => return self.ask(Ask::Name { leave }),
            (name, _) => PathBuf::from(name),
        };
        write(path, false, leave)
    }

    fn ask(&mut self, ask: Ask) -> Reply {
        let page = self.asked(&ask);
        self.places.push(super::talk::Place::Ask(ask));
        page.into()
    }

    /// What a question says.
    pub(super) fn asked(&self, ask: &Ask) -> Page {
        match ask {
            Ask::Note(_) => {
                Page::of("Why do you accept it? Enter gives no reason; back leaves it.")
            }
            Ask::Name { .. } => Page::of("Which file shall it be saved to? back saves nothing."),
            Ask::Replace { path, .. } => {
                let name = path.display();
                Page::of(format!(
                    "Not saved: {name} is there already. Type replace to replace it, another name, or back."
                ))
            }
            Ask::Wanted => Page::of(format!(
                "What must the build do? Several go with commas between: {}. Enter asks for nothing but a build without a danger and without a fault.",
                target::FORMS
            )),
            Ask::Clone => Page::of("What shall the new variant be called? Enter makes none."),
            Ask::Sheet(kind) => Self::asked_sheet(*kind),
            Ask::ReplaceSheet { path, .. } => Page::of(format!(
                "Not written: {} is there already. Type replace to replace it, another name, or back.",
                path.display()
            )),
            Ask::Pay(paying) => self.asked_payment(paying),
            Ask::Held { told, .. } => {
                let told = visible(told);
                Page::of(format!("Not saved: {told}. Type another name, or back."))
            }
            Ask::Changed { theirs, .. } => self.changed_there(theirs),
            Ask::Leave => {
                let mut page = Page::of(format!("Not saved yet: {}.", self.changed()));
                page.item(1, "Stay here");
                page.item(2, "Save, then quit");
                page.item(3, "Quit without saving");
                page
            }
        }
    }

    /// The name that was asked for; Enter takes the one that stands at the prompt.
    pub(super) fn named(&mut self, line: &str, leave: bool) -> Reply {
        self.places.pop();
        let suggested = self.suggested();
        self.save_and(if line.is_empty() { &suggested } else { line }, leave)
    }

    /// Whether a file is replaced, or another name.
    pub(super) fn replacing(&mut self, path: PathBuf, line: &str, leave: bool) -> Reply {
        self.places.pop();
        match line {
            "" => Page::of("Nothing was saved.").into(),
            "replace" => write(path, true, leave),
            name => write(PathBuf::from(name), false, leave),
        }
    }

    /// What somebody else changed, and what can be done about it.
    fn changed_there(&self, theirs: &Theirs) -> Page {
        let name = theirs.path.display();
        let mut page = Page::of(format!(
            "Not saved: {name} was changed by somebody else since it was read."
        ));
        for told in theirs.told(&self.catalogue, &self.saved, self.build()) {
            let (Told::Heading(text) | Told::Row(text)) = told;
            page.text(visible(&text));
        }
        let take = match self.can_take(theirs) {
            true => "take to go on with what it holds (undo brings yours back), ",
            false => "",
        };
        page.text(match &theirs.held {
            Some(told) => format!(
                "{}. Type {take}another name to keep both, or back.",
                capital(&visible(told))
            ),
            None => {
                format!("Type replace to replace it, {take}another name to keep both, or back.")
            }
        });
        page
    }

    /// Whether one can go on with what the file holds now: what cannot be read, and a bundle, one
    /// cannot.
    pub(super) fn can_take(&self, theirs: &Theirs) -> bool {
        theirs.build.is_ok() && !theirs.bundle && self.bundle.is_none()
    }

    /// What is kept of a file that somebody else changed.
    pub(super) fn keeping(&mut self, theirs: &Theirs, line: &str, leave: bool) -> Reply {
        match (line, &theirs.build) {
            ("take", _) if !self.can_take(theirs) => self
                .not_done("What the file holds cannot be taken. Type another name, or back.")
                .into(),
            ("take", Ok((build, text))) => {
                self.places.pop();
                let page = match self.put(build.clone()) {
                    Ok(was) => self.changes(&was),
                    Err(why) => return self.not_done(&format!("{why}.")).into(),
                };
                self.saved = build.clone();
                self.original = Some(text.clone());
                self.refused = false;
                Reply {
                    page,
                    task: Some(Task::TakeOver(theirs.whole.clone())),
                }
            }
            _ => self.replacing(theirs.path.clone(), line, leave),
        }
    }

    /// The other name, where somebody works on the file.
    pub(super) fn elsewhere(&mut self, line: &str, leave: bool) -> Reply {
        self.places.pop();
        match line {
            "" => Page::of("Nothing was saved.").into(),
            name => write(PathBuf::from(name), false, leave),
        }
    }

    /// Leaves, or asks first. Through a pipe nobody can be asked.
    pub(super) fn quit(&mut self) -> Reply {
        match self.way.live && self.is_unsaved() {
            true => self.ask(Ask::Leave),
            false => leave(Page::default()),
        }
    }

    /// Whether one leaves with something unsaved.
    pub(super) fn leaving(&mut self, line: &str) -> Reply {
        self.places.pop();
        match line {
            "" | "1" => Page::of("You are still here.").into(),
            "2" => self.save_and("", true),
            "3" => leave(Page::default()),
            _ => {
                let mut page = self.not_understood(&format!("{line:?}. Type 1, 2 or 3."));
                page.then(self.ask(Ask::Leave).page);
                page.into()
            }
        }
    }

    /// Takes note of how writing went.
    pub(super) fn written(&mut self, outcome: Outcome) -> Reply {
        match outcome {
            Outcome::Saved {
                path,
                text,
                leave: leaves,
            } => {
                let said = Page::of(format!("Saved to {}.", path.display()));
                self.saved = self.build().clone();
                self.path = Some(path);
                self.original = Some(text);
                self.refused = false;
                match leaves {
                    true => leave(said),
                    false => said.into(),
                }
            }
            Outcome::Exists { path, leave } => self.refuse(Ask::Replace { path, leave }),
            Outcome::Changed { theirs, leave } => self.refuse(Ask::Changed { theirs, leave }),
            Outcome::Held { told, leave } => self.refuse(Ask::Held { told, leave }),
            Outcome::Failed(why) => self.not_done(&why).into(),
        }
    }

    /// Asks what else to do, since the file was left as it is.
    fn refuse(&mut self, ask: Ask) -> Reply {
        self.refused = true;
        self.ask(ask)
    }

    /// What differs from the file, by name.
    fn changed(&self) -> String {
        let names = differences(&self.catalogue, &self.saved, self.build());
        visible(&names.join(", ")).into_owned()
    }

    /// What is said at the end: what was changed, and whether it was saved.
    pub(super) fn closing(&self) -> Page {
        let since = differences(&self.catalogue, &self.first, self.build());
        let mut page = Page::default();
        page.text(match since.is_empty() {
            true => "Nothing is changed against the beginning.".to_owned(),
            false => format!("Changed: {}.", since.join(", ")),
        });
        match (self.is_unsaved(), self.path()) {
            (true, _) => page.text("Not saved."),
            (false, Some(path)) if !since.is_empty() => {
                page.text(format!("It stands in {}.", path.display()));
            }
            (false, _) => {}
        }
        if self.missed() && !self.way.live {
            page.text("Something was not understood or could not be done: see above.");
        }
        page
    }
}

fn write(path: PathBuf, replace: bool, leave: bool) -> Reply {
    Reply {
        page: Page::default(),
        task: Some(Task::Write {
            path,
            replace,
            leave,
        }),
    }
}

fn leave(page: Page) -> Reply {
    Reply {
        page,
        task: Some(Task::Leave),
    }
}
