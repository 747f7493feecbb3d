//! Sheets for the workshop, written to a file each.

use std::path::PathBuf;

use super::page::Page;
use super::talk::{Ask, Place, Reply, Talk, Task};
use crate::screen::file_names::stem;
use crate::sheets::{self, Format, SheetKind};
use crate::words::Words as _;

impl Talk {
    /// Lists the sheets.
    pub(super) fn sheets(&mut self) -> Page {
        let mut page = Page::default();
        page.heading("Sheets for the workshop");
        for (place, kind) in SheetKind::WORDS.iter().enumerate() {
            page.item(place + 1, &format!("{}. {}", kind.title, kind.plain));
        }
        page.text("A number writes one to a file.");
        self.go(Place::Sheets);
        page
    }

    /// The name of a file for a sheet.
    pub(super) fn suggested_sheet(&self, kind: SheetKind) -> String {
        format!("{}-{}.txt", stem(&self.build().title), kind.id())
    }

    /// Asks for the file of the sheet of a number.
    pub(super) fn pick_sheet(&mut self, place: usize, line: &str) -> Page {
        let Some(kind) = SheetKind::ALL.get(place) else {
            return self.lost(line);
        };
        let ask = Ask::Sheet(*kind);
        let page = self.asked(&ask);
        self.places.push(Place::Ask(ask));
        page
    }

    /// What is asked: which file, and what its ending means.
    pub(super) fn asked_sheet(kind: SheetKind) -> Page {
        let endings = Format::ALL
            .iter()
            .map(|format| format!(".{} for {}", format.ending(), format.title()));
        let endings: Vec<String> = endings.collect();
        Page::of(format!(
            "{}: which file shall it be written to? Its ending says how: {}. back writes nothing.",
            kind.title(),
            endings.join(", ")
        ))
    }

    /// Has a sheet written to the file that was named.
    pub(super) fn write_sheet(&mut self, kind: SheetKind, line: &str) -> Reply {
        let name = match line {
            "" => self.suggested_sheet(kind),
            name => name.to_owned(),
        };
        let path = PathBuf::from(&name);
        let Some(format) = Format::of_path(&path) else {
            let why = format!("{name:?} has no ending that names a format. Type another name.");
            return self.not_understood(&why).into();
        };
        self.places.pop();
        Reply {
            page: Page::default(),
            task: Some(Task::Sheet {
                sheet: (kind, format),
                path,
                replace: false,
            }),
        }
    }

    /// Whether a file is replaced by a sheet, or another name.
    pub(super) fn replacing_sheet(
        &mut self,
        sheet: (SheetKind, Format),
        path: PathBuf,
        line: &str,
    ) -> Reply {
        match line {
            "replace" => {
                self.places.pop();
                let replace = true;
                Reply {
                    page: Page::default(),
                    task: Some(Task::Sheet {
                        sheet,
                        path,
                        replace,
                    }),
                }
            }
            "" => {
                self.places.pop();
                Page::of("Nothing was written.").into()
            }
            name => self.write_sheet(sheet.0, name),
        }
    }

    /// A sheet as it stands in a file.
    ///
    /// # Errors
    /// Says what stands in the way.
    pub(super) fn sheet(&self, (kind, format): (SheetKind, Format)) -> Result<Vec<u8>, String> {
        let written = sheets::on_paper(&self.bench(), |paper| {
            sheets::written(kind, format, paper, &self.way.files)
        });
        let written = written.map_err(|error| error.to_string())?;
        written.map_err(|error| error.to_string())
    }

    /// Takes note of how writing a sheet went: none where the file is there already.
    pub(super) fn sheet_written(
        &mut self,
        sheet: (SheetKind, Format),
        path: PathBuf,
        outcome: Option<Result<(), String>>,
    ) -> Reply {
        match outcome {
            Some(Ok(())) => {
                self.unwritten.retain(|other| *other != path);
                Page::of(format!("Written: {}.", path.display())).into()
            }
            Some(Err(why)) => self.not_done(&why).into(),
            None => {
                self.unwritten.push(path.clone());
                let ask = Ask::ReplaceSheet { sheet, path };
                let page = self.asked(&ask);
                self.places.push(Place::Ask(ask));
                page.into()
            }
        }
    }
}
