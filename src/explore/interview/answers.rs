//! What somebody answered: read as people type it, kept by question, shown again.

use crate::build::choices::Kind;
use crate::build::purchases::Status;
use crate::build::value::{self, BadValue};
use crate::build::{Build, Edit, Value, choices, nearest};
use crate::catalogue::{Catalogue, Id};
use crate::money::Currency;
use crate::order::Order as _;
use crate::units::{Shown, entry};

use super::listed::Listed;
use super::prompts::{self, DELIVERED, OWNED, Prompt, QUIET, SOCKET, Takes};

/// An answer as it is kept.
#[derive(Clone, Debug, PartialEq)]
pub enum Reply {
    /// Choices of the table with their values.
    Edits(Vec<Edit>),
    /// Whether it must be quiet.
    Quiet(bool),
    /// The tools at hand.
    Tools(Vec<Id>),
}

/// All answers. A question without one was skipped.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answers {
    /// In the order of the questions.
    given: Vec<(&'static str, Reply)>,
    /// What follows from an answer for a question that was skipped: the socket from where the
    /// parts are delivered to.
    follows: Option<Edit>,
}

/// How every tool is marked as at hand with one word.
const EVERY: &str = "all";

impl Answers {
    /// Takes an answer as somebody typed it. What a question lists may be typed by its number
    /// in that list as well; an empty answer takes back the one before.
    ///
    /// # Errors
    /// Says what is wrong with it; the answer before then stays.
    pub fn give(
        &mut self,
        prompt: &'static Prompt,
        text: &str,
        catalogue: &Catalogue,
        listed: &[Listed],
    ) -> Result<(), BadValue> {
        self.give_as(prompt, text, (catalogue, listed), Shown::PLAIN)
    }

    /// The same as somebody types it who has marks and units of their own.
    ///
    /// # Errors
    /// As [`give`](Self::give).
    pub fn give_as(
        &mut self,
        prompt: &'static Prompt,
        text: &str,
        (catalogue, listed): (&Catalogue, &[Listed]),
        shown: Shown,
    ) -> Result<(), BadValue> {
        if text.trim().is_empty() {
            self.skip(prompt);
            return Ok(());
        }
        let named = by_number(text, listed)?;
        let reply = match prompt.takes {
            Takes::Quiet => Reply::Quiet(value::flag(&yes_no(&named))?),
            Takes::Tools => Reply::Tools(tools_of(&named, listed)?),
            Takes::Choices(ids) => Reply::Edits(self.edits_of(ids, &named, catalogue, shown)?),
        };
        self.put(prompt, reply);
        self.follows = self.socket_there(catalogue);
        Ok(())
    }

    /// The first socket that has the money of the place of delivery; none where that was not
    /// answered, or the usual socket has that money already. Whether the socket was answered
    /// makes no difference: that answer may be taken back later.
    fn socket_there(&self, catalogue: &Catalogue) -> Option<Edit> {
        self.given(DELIVERED)?;
        let destination = self.made().area.destination;
        let place = catalogue.destinations.get(&destination)?;
        let usual = catalogue.sites.get(&Build::default().area.site)?;
        let mut sites = catalogue.sites.values();
        let there = sites.find(|site| site.currency == place.currency)?;
        let edit = || Edit::parse("site", there.id.as_str(), catalogue).ok();
        (usual.currency != place.currency).then(edit).flatten()
    }

    /// The money in which sums are counted: that of the socket, answered or assumed.
    pub fn currency(&self, catalogue: &Catalogue) -> Currency {
        let site = catalogue.sites.get(&self.build().area.site);
        site.map_or(Currency::EUR, |site| site.currency)
    }

    /// Whether it hangs on a question in which money a lone amount is: its answer is to be given
    /// before any amount.
    pub fn decides_money(prompt: &Prompt) -> bool {
        prompt.id == SOCKET || prompt.id == DELIVERED
    }

    /// Whether the answer to a question that was skipped follows from another one.
    pub fn follows(&self, prompt: &Prompt) -> bool {
        prompt.id == SOCKET && self.given(SOCKET).is_none() && self.follows.is_some()
    }

    /// Keeps an answer.
    pub fn put(&mut self, prompt: &'static Prompt, reply: Reply) {
        self.skip(prompt);
        self.given.push((prompt.id, reply));
        let place = |id: &str| prompts::all().iter().position(|one| one.id == id);
        self.given.order_by_key(|(id, _)| place(id));
    }

    /// Takes an answer back.
    pub fn skip(&mut self, prompt: &Prompt) {
        self.given.retain(|(id, _)| *id != prompt.id);
        if prompt.id == DELIVERED {
            self.follows = None;
        }
    }

    /// The answer to a question; none where it was skipped.
    pub fn given(&self, id: &str) -> Option<&Reply> {
        let found = self.given.iter().find(|(known, _)| *known == id);
        found.map(|(_, reply)| reply)
    }

    /// The choices that were answered.
    pub fn edits(&self) -> impl Iterator<Item = &Edit> {
        let each = self.given.iter().map(|(_, reply)| match reply {
            Reply::Edits(edits) => edits.as_slice(),
            _ => &[],
        });
        each.flatten()
    }

    /// The choices that the answer to one question made.
    pub fn edits_of_prompt(&self, prompt: &Prompt) -> &[Edit] {
        match self.given(prompt.id) {
            Some(Reply::Edits(edits)) => edits,
            _ => &[],
        }
    }

    /// Takes an answer back by the id of its question.
    pub fn skip_id(&mut self, id: &str) {
        if let Ok(prompt) = prompts::find(id) {
            self.skip(prompt);
        }
    }

    /// Whether it must be quiet.
    pub fn is_quiet(&self) -> bool {
        self.given(QUIET) == Some(&Reply::Quiet(true))
    }

    /// The usual build with the answered choices made and what is owned marked, and nothing else
    /// but what follows from an answer.
    pub fn build(&self) -> Build {
        let mut build = self.made();
        if self.given(SOCKET).is_none()
            && let Some(edit) = &self.follows
        {
            edit.apply(&mut build);
        }
        build
    }

    /// The same without what follows.
    fn made(&self) -> Build {
        let mut build = Build::default();
        self.edits().for_each(|edit| edit.apply(&mut build));
        if let Some(Reply::Tools(tools)) = self.given(OWNED) {
            for tool in tools {
                let purchase = build.purchases.parts.entry(*tool).or_default();
                purchase.status = Some(Status::HaveIt);
            }
        }
        build
    }

    /// The answer to a question as it is shown; of a skipped one what is usual.
    pub fn shown(&self, prompt: &Prompt, catalogue: &Catalogue) -> String {
        let yes = |yes| if yes { "yes" } else { "no" }.to_owned();
        match (prompt.takes, self.given(prompt.id)) {
            (_, Some(Reply::Quiet(quiet))) => yes(*quiet),
            (Takes::Quiet, _) => yes(false),
            (_, Some(Reply::Tools(tools))) if !tools.is_empty() => {
                let name = |id: &Id| match catalogue.part(id.as_str()) {
                    Some((_, part)) => part.title().to_owned(),
                    None => id.to_string(),
                };
                tools.iter().map(name).collect::<Vec<_>>().join("; ")
            }
            (Takes::Tools, _) => value::NONE.to_owned(),
            (Takes::Choices(ids), _) => {
                let build = self.build();
                let known = ids.iter().filter_map(|id| choices::find(id).ok());
                let each = known.map(|choice| choice.show(&(choice.get)(&build), catalogue));
                each.collect::<Vec<_>>().join(" x ")
            }
        }
    }

    /// The answer as it would be typed again; of a skipped question what is usual.
    pub fn typed(&self, prompt: &Prompt) -> String {
        self.typed_as(prompt, Shown::PLAIN)
    }

    /// The same as somebody types it who has marks and units of their own.
    pub fn typed_as(&self, prompt: &Prompt, shown: Shown) -> String {
        match (prompt.takes, self.given(prompt.id)) {
            (_, Some(Reply::Tools(tools))) if !tools.is_empty() => {
                tools.iter().map(Id::as_str).collect::<Vec<_>>().join(",")
            }
            (Takes::Tools, _) => value::NONE.to_owned(),
            (Takes::Quiet, _) => Value::Flag(self.is_quiet()).to_string(),
            (Takes::Choices(ids), _) => {
                let build = self.build();
                let known = ids.iter().filter_map(|id| choices::find(id).ok());
                let each = known.map(|choice| match ((choice.get)(&build), choice.kind) {
                    (Value::Number(Some(number)), Kind::Number(kind)) => {
                        entry::typed(number, kind.unit, shown)
                    }
                    (other, _) => other.to_string(),
                });
                each.collect::<Vec<_>>().join("x")
            }
        }
    }

    /// The same with its unit behind it, as it stands in a field.
    pub fn field(&self, prompt: &Prompt, shown: Shown) -> String {
        let text = self.typed_as(prompt, shown);
        let Takes::Choices(ids) = prompt.takes else {
            return text;
        };
        let unit = ids
            .iter()
            .find_map(|id| match choices::find(id).ok()?.kind {
                Kind::Number(kind) => Some(entry::unit_of(kind.unit, shown)),
                _ => None,
            });
        match unit {
            Some(unit) => format!("{} {unit}", text.replace('x', " x ")),
            None => text,
        }
    }

    fn edits_of(
        &self,
        ids: &[&str],
        text: &str,
        catalogue: &Catalogue,
        shown: Shown,
    ) -> Result<Vec<Edit>, BadValue> {
        let parts = match ids.len() {
            1 => vec![text.trim().to_owned()],
            many => parted(text, many)?,
        };
        let usual = Some(self.currency(catalogue));
        let each = ids.iter().zip(parts).map(|(id, text)| {
            let choice = choices::find(id)?;
            let value = match choice.kind {
                Kind::Flag => choice.parse(&yes_no(&text), catalogue, usual)?,
                Kind::Number(kind) => Value::Number(value::number_as(&text, &kind, shown)?),
                _ => choice.parse(&text, catalogue, usual)?,
            };
            Ok(Edit { choice, value })
        });
        each.collect()
    }
}

/// Yes and no as people type them.
fn yes_no(text: &str) -> String {
    let lower = text.trim().to_lowercase();
    match lower.as_str() {
        "y" => "yes".to_owned(),
        "n" => "no".to_owned(),
        _ => lower,
    }
}

/// Lengths with an x between them.
fn parted(text: &str, many: usize) -> Result<Vec<String>, BadValue> {
    let parts: Vec<&str> = text.split(['x', 'X', '×', '*']).map(str::trim).collect();
    let last = parts.last().copied().unwrap_or_default();
    match parts.len() == many && parts.iter().all(|part| !part.is_empty()) {
        // A unit behind the last counts for all: 24 x 16 x 5 in.
        true => Ok(parts
            .iter()
            .map(|part| entry::sharing(part, last))
            .collect()),
        false => Err(BadValue(format!(
            "{text:?}: expected {many} lengths with an x between, such as 600 x 400"
        ))),
    }
}

/// An answer in which numbers of a list are put in words; as it is where nothing is listed.
fn by_number(text: &str, listed: &[Listed]) -> Result<String, BadValue> {
    if listed.is_empty() {
        return Ok(text.trim().to_owned());
    }
    let each = text.split(',').map(str::trim).filter(|one| !one.is_empty());
    let each = each.map(|one| match one.parse::<usize>() {
        Ok(number) => {
            let place = number.checked_sub(1).and_then(|place| listed.get(place));
            place.map(|known| known.id.clone()).ok_or_else(|| {
                let many = listed.len();
                BadValue(format!("{number}: the list goes from 1 to {many}"))
            })
        }
        Err(_) => Ok(one.to_owned()),
    });
    Ok(each.collect::<Result<Vec<_>, _>>()?.join(","))
}

/// The tools that an answer names.
fn tools_of(text: &str, listed: &[Listed]) -> Result<Vec<Id>, BadValue> {
    let bad = |id: &str| {
        let ids = listed.iter().map(|one| one.id.as_str());
        let hint = nearest::hint(id, ids);
        BadValue(format!("{id:?} is none of what is to be bought{hint}"))
    };
    match text {
        value::NONE => return Ok(Vec::new()),
        EVERY => {
            let each = listed.iter().filter_map(|one| Id::new(&one.id).ok());
            return Ok(each.collect());
        }
        _ => {}
    }
    let mut tools: Vec<Id> = Vec::new();
    for id in text.split(',').map(str::trim) {
        let known = listed.iter().find(|one| one.id == id);
        let known = known.and_then(|one| Id::new(&one.id).ok());
        let tool = known.ok_or_else(|| bad(id))?;
        if !tools.contains(&tool) {
            tools.push(tool);
        }
    }
    Ok(tools)
}
