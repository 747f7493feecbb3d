//! Where keys have their meaning, and where things are drawn.

use super::{Focus, Layer, State};
use crate::build::choices::{Choice, Kind};
use crate::screen::keymap::Place;
use crate::screen::layout::Layout;
use crate::screen::typed::Typed;

impl State {
    /// Where things are drawn: the pages of the bill, the sheets and the questions take the room of
    /// the side pane as well.
    pub fn drawn(&self) -> Option<Layout> {
        let layout = self.layout()?;
        Some(match self.is_wide() {
            true => layout.whole(),
            false => layout,
        })
    }

    /// Lines of a page between its heading and its foot, which is how far a page key goes; 1 where
    /// the screen is too small to show any.
    pub fn page_rows(&self) -> usize {
        self.layout().map_or(1, |layout| {
            usize::from(layout.left.height.saturating_sub(2))
        })
    }

    /// Whether the page in view needs the room of the side pane.
    fn is_wide(&self) -> bool {
        match self.place() {
            Place::Bill | Place::BillFind | Place::Entry | Place::Pick | Place::Form => true,
            Place::Sheets | Place::Sheet | Place::Tasks | Place::Export => true,
            Place::Naming | Place::Compare | Place::Settings | Place::OwnPart | Place::Picture => {
                true
            }
            Place::WhatIf | Place::Answer | Place::Weigh | Place::Sweep | Place::Range => true,
            Place::Savings | Place::Help => true,
            Place::Seek | Place::Target | Place::Freed | Place::Searching | Place::Found => true,
            Place::Interview | Place::Picking | Place::Saying => true,
            Place::Proposing | Place::Proposed => true,
            Place::Glossary | Place::WordFind | Place::Word => true,
            // What a sheet asks for stays beside the sheet.
            Place::Name | Place::Question => {
                let sheet = |layer: &Layer| matches!(layer, Layer::Sheets(_));
                self.layers.iter().any(sheet)
            }
            _ => false,
        }
    }

    /// Where keys have their meaning now.
    pub fn place(&self) -> Place {
        match self.layers.last() {
            Some(Layer::Menu(_)) => Place::Menu,
            Some(Layer::Warnings(_)) => Place::Warnings,
            Some(Layer::Figure(..)) => Place::Figure,
            Some(Layer::Figures) => Place::Figures,
            Some(Layer::FigureFind) => Place::FigureFind,
            Some(Layer::Derivation(..)) => Place::Derivation,
            Some(Layer::Warning(..)) => Place::Warning,
            Some(Layer::Note(..)) => Place::Note,
            Some(Layer::Bill) => Place::Bill,
            Some(Layer::BillFind) => Place::BillFind,
            Some(Layer::Entry(..)) => Place::Entry,
            Some(Layer::Pick(..)) => Place::Pick,
            Some(Layer::Form(_)) => Place::Form,
            Some(Layer::Picture { .. }) => Place::Picture,
            Some(Layer::Sheets(_)) => Place::Sheets,
            Some(Layer::Sheet(..)) => Place::Sheet,
            Some(Layer::Tasks(_)) => Place::Tasks,
            Some(Layer::Export(..)) => Place::Export,
            Some(Layer::Variants) => Place::Variants,
            Some(Layer::Naming(_)) => Place::Naming,
            Some(Layer::Compare(_)) => Place::Compare,
            Some(Layer::WhatIf(_)) => Place::WhatIf,
            Some(Layer::Answer(..)) => Place::Answer,
            Some(Layer::Weigh { .. }) => Place::Weigh,
            Some(Layer::Sweep { .. }) => Place::Sweep,
            Some(Layer::Range(..)) => Place::Range,
            Some(Layer::Savings(_)) => Place::Savings,
            Some(Layer::Seek(_)) => Place::Seek,
            Some(Layer::Target(_)) => Place::Target,
            Some(Layer::Freed(_)) => Place::Freed,
            Some(Layer::Found(_)) if self.seek.is_running() => Place::Searching,
            Some(Layer::Found(_)) => Place::Found,
            Some(Layer::Interview(_)) => Place::Interview,
            Some(Layer::Picking(_)) => Place::Picking,
            Some(Layer::Saying(..)) => Place::Saying,
            Some(Layer::Proposed(_)) if self.interview.is_running() => Place::Proposing,
            Some(Layer::Proposed(_)) => Place::Proposed,
            Some(Layer::Glossary) => Place::Glossary,
            Some(Layer::WordFind) => Place::WordFind,
            Some(Layer::Word(..)) => Place::Word,
            Some(Layer::OwnPart(_)) => Place::OwnPart,
            Some(Layer::Settings(_)) => Place::Settings,
            Some(Layer::Safety(_)) => Place::Safety,
            Some(Layer::Help(..)) => Place::Help,
            Some(Layer::Name(..)) => Place::Name,
            Some(Layer::Question(..)) => Place::Question,
            None => self.main_place(),
        }
    }

    /// Puts the cursor on a choice, in its step: it is the only row until the lists are made anew
    /// (`update::refresh`), which puts the cursor on the choice that it was on.
    pub(in crate::screen) fn point_at(&mut self, choice: &'static Choice) {
        self.step = choice.step;
        self.choices.rows = vec![choice];
        self.choices.cursor = 0;
    }

    /// The field that is being typed in.
    pub fn typed(&self) -> Option<&Typed> {
        match self.layers.last() {
            Some(Layer::Note(_, typed) | Layer::Name(typed, _)) => Some(typed),
            Some(Layer::Saying(_, typed) | Layer::Range(_, typed)) => Some(typed),
            Some(Layer::Naming(naming)) => Some(naming.field()),
            Some(Layer::OwnPart(form)) => form.field(),
            Some(Layer::Target(wanting)) => wanting.field(),
            Some(Layer::Form(form)) => form.field(),
            Some(Layer::BillFind) => Some(&self.ledger.word),
            Some(Layer::WordFind) => Some(&self.glossary.field),
            Some(Layer::FigureFind) => Some(&self.figures.field),
            Some(_) => None,
            None => match self.main_place() {
                Place::Find => self.find.as_ref(),
                Place::Number => self.number_field.as_ref().map(|entry| &entry.typed),
                _ => None,
            },
        }
    }

    /// The same, to be changed.
    pub fn typed_mut(&mut self) -> Option<&mut Typed> {
        let place = self.main_place();
        match self.layers.last_mut() {
            Some(Layer::Note(_, typed) | Layer::Name(typed, _)) => Some(typed),
            Some(Layer::Saying(_, typed) | Layer::Range(_, typed)) => Some(typed),
            Some(Layer::Naming(naming)) => Some(naming.field_mut()),
            Some(Layer::OwnPart(form)) => form.field_mut(),
            Some(Layer::Target(wanting)) => wanting.field_mut(),
            Some(Layer::Form(form)) => form.field_mut(),
            Some(Layer::BillFind) => Some(&mut self.ledger.word),
            Some(Layer::WordFind) => Some(&mut self.glossary.field),
            Some(Layer::FigureFind) => Some(&mut self.figures.field),
            Some(_) => None,
            None => match place {
                Place::Find => self.find.as_mut(),
                Place::Number => self.number_field.as_mut().map(|entry| &mut entry.typed),
                _ => None,
            },
        }
    }

    fn main_place(&self) -> Place {
        match self.focus {
            _ if self.find.is_some() => Place::Find,
            Focus::Choices => Place::Choices,
            Focus::Pane => Place::Pane,
            Focus::Options => match self.choice().map(|choice| choice.kind) {
                Some(Kind::Number(_) | Kind::Amount) => Place::Number,
                Some(Kind::Parts(_)) => Place::Checklist,
                _ => Place::Options,
            },
        }
    }
}
