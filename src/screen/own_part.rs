//! The form of a part of one's own. It begins as a copy of another part, or as the own part that
//! is changed; its rows come from the fields of the kind, so that a new field needs only its words
//! in a file of data. What is typed becomes what a file would say, and is judged by the reader of
//! files.

use toml_edit::{Item, Table};

use super::around::around;
use super::form::Content;
use super::typed::Typed;
use crate::catalogue::fields::{Takes, words_of};
use crate::catalogue::{Catalogue, Id, PartKind, Unit};
use crate::money::Currency;
use crate::order::Order as _;
use crate::store::own_parts::{self, Change, OwnPrice, What};
use crate::units::Shown;

mod copied;
mod price;
mod reading;
mod rows;

/// The form that is open.
#[derive(Clone, Debug)]
pub struct OwnPart {
    /// The kind of the part.
    pub kind: PartKind,
    /// The own part that is changed; none for a new one.
    pub changes: Option<Id>,
    /// What it began as: a new one by the short name of what was copied, else by its title.
    pub like: String,
    /// The fields.
    pub rows: Vec<Row>,
    /// The row that is typed in.
    pub at: usize,
    /// What is wrong with the part, by row; without one where it is about all of it.
    pub faults: Vec<(Option<usize>, String)>,
    /// Whether somebody was asked about numbers far off and has typed nothing since.
    is_asked: bool,
    /// The part that it began as, as its file has it.
    began: Table,
    /// What is kept in which order.
    keys: Vec<&'static str>,
    /// Ids that are taken.
    taken: Vec<String>,
    /// How numbers are typed.
    shown: Shown,
    /// The money of a price that names none.
    currency: Currency,
    /// By what the part that it began as is sold.
    unit: Unit,
    /// What an own part that is changed cost until now.
    cost: Option<OwnPrice>,
}

/// What a row is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Of {
    /// A field of the part.
    Field(&'static str, Takes),
    /// One word of a field that takes several, which is ticked or not.
    Member(&'static str, &'static str),
    /// What one costs, or a metre of it.
    Price,
    /// How long the piece is that costs so much, where the price is not that of a metre.
    Piece,
    /// Who asks that.
    Seller,
}

/// One row.
#[derive(Clone, Debug)]
pub struct Row {
    /// What it is about.
    pub of: Of,
    /// Its name.
    pub label: String,
    /// What it means.
    pub means: String,
    /// Where it is read; may be empty.
    pub find: String,
    /// Whether it may stay empty.
    pub optional: bool,
    /// What stands in it.
    pub content: Content,
    /// The ids behind its answers; empty for one that stands for none.
    ids: Vec<String>,
    /// What stood in it at the beginning.
    before: String,
}

impl Row {
    /// What stands in it.
    pub fn shown(&self) -> &str {
        self.content.shown()
    }

    /// The id of the answer that is picked; none where it takes text, or stands for none.
    fn picked(&self) -> Option<&str> {
        let Content::Pick(_, at) = self.content else {
            return None;
        };
        self.ids
            .get(at)
            .map(String::as_str)
            .filter(|id| !id.is_empty())
    }

    /// What a number is typed in, and from where to where it may lie; empty for all others.
    pub fn range(&self) -> (&str, &str) {
        match &self.of {
            Of::Field(_, Takes::Number(range) | Takes::Whole(range) | Takes::Numbers(range)) => {
                (&range.unit, &range.told)
            }
            Of::Piece => price::PIECE,
            _ => ("", ""),
        }
    }

    /// What the word that is picked means; none where it takes something else.
    pub fn word(&self) -> Option<&'static str> {
        let Of::Field(_, Takes::Word(ids)) = &self.of else {
            return None;
        };
        let picked = self.picked()?;
        let word = words_of(ids)?.iter().find(|word| word.id == picked)?;
        Some(word.plain)
    }

    /// The key of its field; none for price and seller.
    fn key(&self) -> Option<&'static str> {
        match &self.of {
            Of::Field(key, _) | Of::Member(key, _) => Some(key),
            Of::Price | Of::Piece | Of::Seller => None,
        }
    }

    /// Whether something else stands in it than at the beginning.
    fn is_changed(&self) -> bool {
        self.shown() != self.before
    }
}

/// What the form is opened with.
#[derive(Clone, Copy, Debug)]
pub struct Opening<'s> {
    /// What exists.
    pub catalogue: &'s Catalogue,
    /// How numbers are typed.
    pub shown: Shown,
    /// The money of a price that names none.
    pub currency: Currency,
}

impl OwnPart {
    /// The form for a part that begins as another.
    pub fn like(opening: Opening, kind: PartKind, id: &Id) -> Option<Self> {
        Self::open(opening, kind, id, false)
    }

    /// The form that changes an own part.
    pub fn change(opening: Opening, kind: PartKind, id: &Id) -> Option<Self> {
        Self::open(opening, kind, id, true)
    }

    fn open(opening: Opening, kind: PartKind, id: &Id, changes: bool) -> Option<Self> {
        let Opening {
            catalogue,
            shown,
            currency,
        } = opening;
        let (_, part) = catalogue.part(id.as_str())?;
        let mut began = own_parts::entry(catalogue, kind, id)?;
        if !changes {
            rows::as_new(&mut began, part.title(), part.short());
        }
        let ids = PartKind::ALL
            .iter()
            .flat_map(|kind| catalogue.of_kind(*kind));
        let cost = own_parts::price_of(catalogue, id).filter(|_| changes);
        let mut form = Self {
            kind,
            changes: changes.then_some(*id),
            like: if changes { part.title() } else { part.short() }.to_owned(),
            rows: rows::rows(opening, kind, &began, (cost.as_ref(), part.unit())),
            at: 0,
            faults: Vec::new(),
            is_asked: false,
            began,
            keys: kind.fields().iter().map(|field| field.key).collect(),
            taken: ids.map(|part| part.id().as_str().to_owned()).collect(),
            shown,
            currency,
            unit: part.unit(),
            cost,
        };
        form.check(catalogue);
        Some(form)
    }

    /// The row that is typed in.
    pub fn row(&mut self) -> Option<&mut Row> {
        self.rows.get_mut(self.at)
    }

    /// The text of that row; none where it has answers.
    pub fn field(&self) -> Option<&Typed> {
        self.rows.get(self.at)?.content.typed()
    }

    /// The same, to be changed.
    pub fn field_mut(&mut self) -> Option<&mut Typed> {
        self.row()?.content.typed_mut()
    }

    /// All that is said about the row that is typed in.
    pub fn said(&self) -> String {
        let row = self.rows.get(self.at);
        let said = row.map(|row| format!("{}. {} {}", row.label, row.means, row.find));
        said.unwrap_or_default()
    }

    /// What the reader of files says, with the names of the form in place of the keys of the file.
    pub fn spoken(&self, message: &str) -> String {
        if message.starts_with("the key \"") && message.ends_with("is missing") {
            return "this must not stay empty".to_owned();
        }
        let is_name = |c: char| c.is_ascii_alphanumeric() || c == '_';
        let mut said = String::new();
        let mut rest = message;
        while let Some(first) = rest.chars().next() {
            let end = rest.find(|c| is_name(c) != is_name(first));
            let (piece, behind) = rest.split_at(end.unwrap_or(rest.len()));
            let named = self.rows.iter().find(|row| row.key() == Some(piece));
            match named {
                Some(row) => said.push_str(&format!("\"{}\"", row.label)),
                None => said.push_str(piece),
            }
            rest = behind;
        }
        said
    }

    /// What is wrong with a row.
    pub fn fault(&self, at: usize) -> Option<&str> {
        let found = self.faults.iter().find(|(row, _)| *row == Some(at));
        found.map(|(_, message)| message.as_str())
    }

    /// What is wrong with the part as a whole.
    pub fn fault_of_all(&self) -> Option<&str> {
        let found = self.faults.iter().find(|(row, _)| row.is_none());
        found.map(|(_, message)| message.as_str())
    }

    /// Goes on or back by rows, round at the ends.
    pub fn turn(&mut self, on: bool) {
        self.at = around(self.at, self.rows.len(), on);
    }

    /// Goes a page up or down, no further than the ends.
    pub fn leap(&mut self, on: bool, page: usize) {
        self.at = match on {
            true => (self.at + page).min(self.rows.len().saturating_sub(1)),
            false => self.at.saturating_sub(page),
        };
    }

    /// Goes to the next answer of the row, where it has some; false where it takes text.
    pub fn pick(&mut self, on: bool, catalogue: &Catalogue) -> bool {
        let turned = self.row().is_some_and(|row| row.content.turn(on));
        if turned {
            self.check(catalogue);
        }
        turned
    }

    /// Looks anew at what was typed. Until somebody types a short name it follows the name.
    pub fn typed(&mut self, catalogue: &Catalogue) {
        let name = self
            .rows
            .get(self.at)
            .filter(|row| row.key() == Some("title"));
        let name = name.map(|row| rows::short_of(row.shown()));
        let short = self.rows.iter_mut().find(|row| row.key() == Some("short"));
        if let (Some(name), Some(short), None) = (name, short, &self.changes)
            && let Content::Text(short) = &mut short.content
        {
            short.propose(name);
        }
        self.check(catalogue);
    }

    /// The id that it is kept under: its own, or one made from its name.
    pub fn id(&self) -> Option<Id> {
        if let Some(id) = &self.changes {
            return Some(*id);
        }
        let is_title = |row: &&Row| row.key() == Some("title");
        let title = self.rows.iter().find(is_title).map_or("", Row::shown);
        let name = rows::name_of(title);
        let free = |id: &String| !self.taken.contains(id);
        let numbered = (2..).map(|number| format!("{name}-{number}"));
        let id = std::iter::once(name.clone()).chain(numbered).find(free)?;
        Id::new(&id).ok()
    }

    /// What is to be kept.
    ///
    /// # Errors
    /// The row that is wrong, where one is, and what is wrong.
    pub fn kept(&self) -> Result<Change, (Option<usize>, String)> {
        if let Some(fault) = self.faults.first() {
            return Err(fault.clone());
        }
        let id = self.id().ok_or((None, "type a name".to_owned()))?;
        let (table, _) = self.table(&id);
        let price = self.price()?;
        Ok(Change {
            kind: self.kind,
            id,
            what: What::Put {
                text: table.to_string(),
                price,
            },
        })
    }

    /// The part as a file would have it, and what could not be read, by row: there the value
    /// stands with which it began.
    fn table(&self, id: &Id) -> (Table, Vec<(Option<usize>, String)>) {
        let mut table = Table::new();
        let mut unread = Vec::new();
        table.insert("id", toml_edit::value(id.as_str()));
        for key in self.keys.iter().filter(|key| **key != "id") {
            match self.item(key) {
                Ok(Some(item)) => {
                    table.insert(key, item);
                }
                Ok(None) => {}
                Err((row, message)) => {
                    unread.push((Some(row), message));
                    if let Some(item) = self.began.get(key) {
                        table.insert(key, item.clone());
                    }
                }
            }
        }
        (table, unread)
    }

    /// The value of a field; none where it is left out.
    fn item(&self, key: &str) -> Result<Option<Item>, (usize, String)> {
        let rows = self.rows.iter().enumerate();
        let rows: Vec<(usize, &Row)> = rows.filter(|(_, row)| row.key() == Some(key)).collect();
        let same = !rows.iter().any(|(_, row)| row.is_changed());
        match (self.began.get(key), rows.first()) {
            (began, _) if same => Ok(began.cloned()),
            (_, Some((at, row))) if !matches!(row.of, Of::Member(..)) => {
                let item = reading::item(row, self.shown);
                item.map_err(|message| (*at, message))
            }
            _ => Ok(Some(reading::members(rows.iter().map(|(_, row)| *row)))),
        }
    }

    /// Finds out anew what is wrong.
    pub fn check(&mut self, catalogue: &Catalogue) {
        self.is_asked = false;
        let Some(id) = self.id() else { return };
        let (table, mut faults) = self.table(&id);
        let found = own_parts::faults(catalogue, self.kind, &table, &self.began);
        faults.extend(found.into_iter().map(|fault| {
            let of = |row: &Row| row.key().is_some() && row.key() == fault.key.as_deref();
            (self.rows.iter().position(of), fault.message)
        }));
        self.name_price();
        faults.extend(self.price_fault(catalogue));
        faults.order_by_key(|(row, _)| row.unwrap_or(usize::MAX));
        self.faults = faults;
    }
}
