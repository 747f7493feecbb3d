//! Variants: other ways to build the same machine. They are listed with what each costs, opened
//! by number, and cloned.

use super::page::Page;
use super::talk::{Ask, Place, Reply, Talk};
use crate::assessment::assess;
use crate::money::show as amounts;

impl Talk {
    /// Lists every variant.
    pub(super) fn variants(&mut self) -> Page {
        let build = self.build();
        let mut page = Page::default();
        page.heading("Variants");
        for (place, name) in build.variant_names().into_iter().enumerate() {
            let open = match name == build.variant() {
                true => ", open now",
                false => "",
            };
            // One that cannot be assessed says why when it is opened.
            let other = build.switched(name).ok();
            let other = other.and_then(|other| assess(&self.catalogue, &other, self.today).ok());
            let cost = other.map_or(String::new(), |other| {
                let bill = &other.bill;
                let cost = amounts::money(bill.total.likely, bill.currency);
                format!(": {cost}")
            });
            page.item(place + 1, &format!("{name}{open}{cost}."));
            if let Some(from) = build.came_from(name) {
                let changes = build.changes_of(name);
                let names = changes.iter().map(|edit| edit.choice.title);
                let names = names.collect::<Vec<_>>().join(", ");
                page.under(match names.is_empty() {
                    true => format!("Like {from} so far."),
                    false => format!("Differs from {from} in {names}."),
                });
            }
            let note = build.note_of(name);
            if !note.is_empty() {
                page.under(note);
            }
        }
        page.text("A number opens one. clone, with a name behind it, makes one like the open one.");
        self.go(Place::Variants);
        page
    }

    /// Opens the variant of a number.
    pub(super) fn switch(&mut self, place: usize, line: &str) -> Page {
        let build = self.build();
        let names = build.variant_names();
        let Some(name) = names.get(place).map(|name| (*name).to_owned()) else {
            return self.lost(line);
        };
        if name == build.variant() {
            return Page::of(format!("{name} is open already."));
        }
        match build.switched(&name) {
            Ok(other) => self.taken_build(other, &format!("Open now: {name}.")),
            Err(why) => self.not_done(&format!("{why}.")),
        }
    }

    /// Makes a variant like the open one, and opens it; asks for its name where none is given.
    pub(super) fn clone_as(&mut self, name: &str) -> Reply {
        if name.is_empty() {
            let page = self.asked(&Ask::Clone);
            self.places.push(Place::Ask(Ask::Clone));
            return page.into();
        }
        let build = self.build();
        let from = build.variant().to_owned();
        match build.branched(&from, name, "") {
            Ok(other) => {
                let said = format!("New and open now: {name}, like {from} so far.");
                self.taken_build(other, &said).into()
            }
            Err(why) => self.not_done(&format!("{why}.")).into(),
        }
    }
}
