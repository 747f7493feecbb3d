//! Lists that are walked: the steps, the choices of a step.

use super::page::Page;
use super::talk::{Ask, Place, Talk};
use crate::build::choices::{self, Choice, Kind};
use crate::catalogue::Step;
use crate::explore::question;
use crate::money::show as amounts;
use crate::sheets::SheetKind;
use crate::words::Words as _;

impl Talk {
    /// The five steps with what stands in each.
    pub(super) fn steps(&self) -> Page {
        let mut page = Page::default();
        page.heading("The five steps");
        for (place, &step) in Step::ALL.iter().enumerate() {
            let bill = &self.now.bill;
            let cost = amounts::money(bill.of_step(step).likely, bill.currency);
            let worst = match self.about.worst_of(step) {
                Some(worst) => format!("worst warning: {}", worst.title()),
                None => "no warning".to_owned(),
            };
            page.item(
                place + 1,
                &format!("{}: parts for {cost}, {worst}.", step.title()),
            );
        }
        page
    }

    /// The choices of a step with what they are now.
    fn of_step(&self, step: Step) -> Page {
        let mut page = Page::default();
        let title = format!("Step {}, {}", step.index() + 1, step.title());
        page.heading(&title);
        page.text(step.word().plain);
        let count = choices::of_step(step).count();
        page.text(format!(
            "{count} choices. A number opens one. {}",
            self.on_enter(step)
        ));
        for (place, choice) in choices::of_step(step).enumerate() {
            page.item(place + 1, &self.row(choice));
        }
        page
    }

    /// A choice in a list: title, value, and the warning that is about it.
    pub(super) fn row(&self, choice: &Choice) -> String {
        let value = choice.show(&(choice.get)(self.build()), &self.catalogue);
        let worst = self.about.mark(choice);
        let worst = worst.map_or(String::new(), |worst| {
            format!("; warning: {}", worst.title())
        });
        format!("{}: {value}{worst}", choice.title)
    }

    /// What Enter does in a step.
    fn on_enter(&self, step: Step) -> String {
        match self.after_last(step) {
            Some(choice) => format!("Enter opens {}.", choice.title),
            None => "Enter goes on to the next step.".to_owned(),
        }
    }

    /// The choice of a step after the one that was looked at last.
    fn after_last(&self, step: Step) -> Option<&'static Choice> {
        let mut of_step = choices::of_step(step);
        match self.last.filter(|last| last.step == step) {
            Some(last) => of_step.skip_while(|one| one.id != last.id).nth(1),
            None => of_step.next(),
        }
    }

    /// Goes into a step.
    pub(super) fn enter_step(&mut self, step: Step) -> Page {
        self.last_step = Some(step);
        self.places = vec![Place::Steps, Place::Step(step)];
        self.of_step(step)
    }

    /// What one hears where one is.
    pub(super) fn here(&mut self) -> Page {
        match self.place().clone() {
            Place::Steps => self.steps(),
            Place::Step(step) => self.of_step(step),
            Place::Choice(choice) => self.about_choice(choice),
            Place::Warnings(_) => self.warnings(),
            Place::Warning(finding) => self.warning(*finding),
            Place::Found(found, part) => self.found(&found, &part),
            Place::Questions => self.questions(),
            Place::Offers(offers) => self.offers(&offers),
            Place::Variants => self.variants(),
            Place::Sheets => self.sheets(),
            Place::Paid(_) => self.paid(""),
            Place::Ask(ask) => self.asked(&ask),
        }
    }

    /// Goes back to where one came from.
    pub(super) fn back(&mut self) -> Page {
        if self.places.len() < 2 {
            return Page::of("This is the start. quit leaves.");
        }
        self.places.pop();
        match self.place().clone() {
            Place::Step(step) => self.again(step),
            Place::Choice(choice) => {
                let row = self.row(choice);
                Page::of(format!("{row}. list says all about it."))
            }
            _ => self.here(),
        }
    }

    /// A step whose choices were listed before: in short.
    pub(super) fn again(&self, step: Step) -> Page {
        let number = step.index() + 1;
        Page::of(format!(
            "Step {number}, {}. {} list says all choices.",
            step.title(),
            self.on_enter(step)
        ))
    }

    /// Enter alone: keeps what is, and goes on.
    pub(super) fn enter(&mut self) -> Page {
        match self.place() {
            Place::Warnings(_) | Place::Warning(_) | Place::Found(..) => self.back(),
            Place::Questions | Place::Offers(_) | Place::Variants => self.back(),
            Place::Sheets | Place::Paid(_) => self.back(),
            // Enter walks through the choices of a step, next goes from step to step.
            Place::Step(step) => match self.after_last(*step) {
                Some(choice) => self.open(choice),
                None => self.next(),
            },
            _ => self.next(),
        }
    }

    /// Goes on to the next choice, step or warning.
    pub(super) fn next(&mut self) -> Page {
        match self.place().clone() {
            Place::Steps => {
                let next = self.last_step.map_or(0, |step| step.index() + 1);
                self.step_at(next)
            }
            Place::Step(step) => self.step_at(step.index() + 1),
            Place::Choice(choice) => {
                let mut rest = choices::of_step(choice.step).skip_while(|one| one.id != choice.id);
                match rest.nth(1) {
                    Some(next) => self.open(next),
                    None => self.step_at(choice.step.index() + 1),
                }
            }
            Place::Warnings(listed) => match listed.first() {
                Some(first) => self.warning(first.clone()),
                None => self.back(),
            },
            Place::Warning(finding) => self.next_warning(&finding),
            Place::Found(found, _) => match found.first() {
                Some(first) => self.open(first),
                None => self.back(),
            },
            Place::Questions | Place::Offers(_) | Place::Variants => self.back(),
            Place::Sheets | Place::Paid(_) => self.back(),
            Place::Ask(_) => self.here(),
        }
    }

    /// Goes into the step of a number, from 0; behind the last one, back to all of them.
    fn step_at(&mut self, place: usize) -> Page {
        if let Some(step) = Step::ALL.get(place) {
            return self.enter_step(*step);
        }
        self.last_step = None;
        self.places = vec![Place::Steps];
        let mut page = Page::of("That was the last step.");
        page.then(self.steps());
        page.text("summary says what the machine comes to, save keeps it, quit leaves.");
        page
    }

    /// What is asked for at the prompt.
    pub(super) fn prompt(&self) -> String {
        let of = |what: &str, many: usize| match many {
            0 => format!("{what}, back"),
            1 => format!("{what}, 1"),
            many => format!("{what}, 1 to {many}"),
        };
        match self.place() {
            Place::Steps => "Step, 1 to 5".to_owned(),
            Place::Step(step) => {
                let count = choices::of_step(*step).count();
                format!("{}, choice 1 to {count}", step.title())
            }
            Place::Choice(choice) => choice.title.to_owned(),
            Place::Warnings(listed) => match listed.len() {
                0 => "Warnings, back".to_owned(),
                many => of("Warning", many),
            },
            Place::Warning(_) => "Warning, lift, accept or back".to_owned(),
            Place::Found(found, _) => of("Found", found.len()),
            Place::Questions => of("Question", question::all().count()),
            Place::Offers(offers) => of("Take", offers.each.len()),
            Place::Variants => of("Variant", self.build().variant_names().len()),
            Place::Sheets => of("Sheet", SheetKind::ALL.len()),
            Place::Paid(entries) => of("Paid for", entries.len()),
            Place::Ask(ask) => self.prompt_of(ask),
        }
    }

    fn prompt_of(&self, ask: &Ask) -> String {
        match ask {
            Ask::Note(_) => "Your reason".to_owned(),
            Ask::Name { .. } => format!("File name, Enter takes {}", self.suggested()),
            Ask::Replace { .. } | Ask::ReplaceSheet { .. } => {
                "replace, another name, or back".to_owned()
            }
            Ask::Changed { theirs, .. } => {
                let replace = theirs.held.is_none().then_some("replace, ");
                let take = self.can_take(theirs).then_some("take, ");
                let (replace, take) = (replace.unwrap_or(""), take.unwrap_or(""));
                format!("{replace}{take}another name, or back")
            }
            Ask::Held { .. } => "another name, or back".to_owned(),
            Ask::Leave => "1, 2 or 3".to_owned(),
            Ask::Wanted => "Wanted, Enter for nothing more".to_owned(),
            Ask::Clone => "Name".to_owned(),
            Ask::Sheet(kind) => format!("File name, Enter takes {}", self.suggested_sheet(*kind)),
            Ask::Pay(paying) => Self::prompt_of_payment(paying).to_owned(),
        }
    }

    /// What would be understood here.
    pub(super) fn takes(&self) -> String {
        let takes = match self.place() {
            Place::Steps => "Type the number of a step, 1 to 5",
            Place::Step(_) | Place::Found(..) => "Type the number of a choice",
            Place::Choice(choice) => match choice.kind {
                Kind::Number(_) | Kind::Amount => "Type a value, or Enter to keep it",
                _ => "Type the number of an option, or Enter to keep it",
            },
            Place::Warnings(_) => "Type the number of a warning",
            Place::Warning(_) => "Type lift, accept, or back",
            Place::Questions => "Type the number of a question",
            Place::Offers(_) => "Type the number of what to take, or back",
            Place::Variants => "Type the number of a variant",
            Place::Sheets => "Type the number of a sheet",
            Place::Paid(_) => "Type the number of what was paid for",
            Place::Ask(_) => "Answer the question, or type back",
        };
        format!("{takes}; help says all words.")
    }
}
