//! Saving, and leaving.

use std::path::PathBuf;

use super::page::Page;
use super::talk::{Ask, Reply, Talk, Task};
use crate::explore::find::target;
use crate::screen::update::{differences, stem};
use crate::store::journal::Standing;
use crate::store::visible;

/// How writing went.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Outcome {
    /// The file holds the build now.
    Saved {
        path: PathBuf,
        /// The text of the build, and of all of the file.
        texts: (String, String),
        leave: bool,
    },
    /// Another file of this name is there.
    Exists { path: PathBuf, leave: bool },
    /// The file that is open holds something else than when it was read.
    Changed { path: PathBuf, leave: bool },
    /// It could not be written.
    Failed(String),
}

impl Talk {
    /// Whether the build differs from what the file holds.
    pub(super) fn is_unsaved(&self) -> bool {
        *self.build() != self.saved
    }

    /// How the build stands to its file.
    pub(super) fn standing(&self) -> Standing<'_> {
        Standing {
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
                let name = path.display().to_string();
                let mine = self.path() == Some(path.as_path());
                Page::of(match mine {
                    true => format!(
                        "Not saved: {name} was changed by somebody else since it was read. Type replace to replace it, another name, or back."
                    ),
                    false => format!(
                        "Not saved: {name} is there already. Type replace to replace it, another name, or back."
                    ),
                })
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
                texts,
                leave: leaves,
            } => {
                let said = Page::of(format!("Saved to {}.", path.display()));
                let (text, whole) = texts;
                self.saved = self.build().clone();
                self.path = Some(path);
                self.original = Some(text);
                self.on_disk = Some(whole);
                self.refused = false;
                match leaves {
                    true => leave(said),
                    false => said.into(),
                }
            }
            Outcome::Exists { path, leave } | Outcome::Changed { path, leave } => {
                self.refused = true;
                self.ask(Ask::Replace { path, leave })
            }
            Outcome::Failed(why) => self.not_done(&why).into(),
        }
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
