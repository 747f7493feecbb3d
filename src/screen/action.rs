//! What a key can ask for. The keymap gives each key its action, place by place;
//! [`update`](super::update::update) carries it out.

use super::help::HelpPage;
use crate::catalogue::Step;

/// One thing that a key asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// Moves one row up; in a number field, one step more.
    Up,
    /// Moves one row down; in a number field, one step less.
    Down,
    /// Moves a page up; in a number field, ten steps more.
    PageUp,
    /// Moves a page down; in a number field, ten steps less.
    PageDown,
    /// Goes to the first row.
    First,
    /// Goes to the last row.
    Last,
    /// Opens, takes, ticks or confirms what is under the cursor.
    Enter,
    /// Takes the row under the cursor alone, without those that it stands on.
    Alone,
    /// Leaves this place; what was looked at stays as it was.
    Back,
    /// Goes on to the next place: choices, options, side pane.
    NextPlace,
    /// Goes back to the place before.
    PreviousPlace,
    /// Goes to a step.
    Step(Step),
    /// Opens the menu.
    Menu,
    /// Takes the last change back.
    Undo,
    /// Makes the change again that was taken back.
    Redo,
    /// Looks for choices or options by a part of their name.
    Find,
    /// Opens the list of warnings.
    Warnings,
    /// Opens the bill.
    Bill,
    /// Sorts the bill by something else.
    Sort,
    /// Sorts the bill by what to ask sellers first, or as usual again.
    AskFirst,
    /// Lists other lines of the bill: all, to buy, for the first cut, without a price; of a
    /// comparison, what differs or everything.
    Show,
    /// Marks a line of the bill as in hand, or takes that back.
    Have,
    /// Writes down a price that a seller named.
    Price,
    /// Writes down a payment.
    Pay,
    /// Says how far a purchase has come.
    Status,
    /// Opens the page of variants.
    Variants,
    /// Makes a new variant that comes from the one under the cursor.
    Branch,
    /// Gives a variant another name or note.
    Rename,
    /// Removes a variant, a target, or a part of one's own.
    Remove,
    /// Pins a variant as the one before, or no longer.
    Pin,
    /// Marks a variant to be compared, or takes the mark back.
    Mark,
    /// Ticks everything in a list, or takes all ticks away.
    All,
    /// Compares variants side by side.
    Compare,
    /// Opens the pictures.
    Pictures,
    /// Opens the page of sheets.
    Sheets,
    /// Writes a sheet to a file.
    Export,
    /// Opens the page of questions: what if.
    WhatIf,
    /// Opens the page that finds the cheapest build.
    Seek,
    /// Opens the ways to spend less.
    Spend,
    /// Opens the interview for a first machine.
    Interview,
    /// Begins the search.
    Start,
    /// Asks for another target.
    Add,
    /// Keeps a build that was found as a variant.
    Keep,
    /// Goes on to another figure by which choices are weighed.
    Measure,
    /// Shows a curve as a table, or as a curve again.
    Table,
    /// Asks for a range to go over.
    Range,
    /// Opens the page of all figures.
    Figures,
    /// Goes to what betters the figure under the cursor.
    Better,
    /// Opens how the figure under the cursor came about.
    Explain,
    /// Closes the group under the cursor, or the one that its row is in.
    Fold,
    /// Makes the changes that lift the warning.
    Lift,
    /// Goes to the choice that the warning, or the input of a formula, is about.
    GoTo,
    /// Accepts the warning with a note, or no longer accepts it.
    Accept,
    /// Opens the safety notes: where the work can hurt.
    Safety,
    /// Opens the page of words, those under the cursor first.
    Words,
    /// Makes a part of one's own.
    OwnPart,
    /// Changes a part of one's own.
    ChangeOwn,
    /// Opens the settings.
    Settings,
    /// Opens the file that was open last.
    GoOn,
    /// Opens help for this place.
    Help,
    /// Turns to a page of the help.
    HelpPage(HelpPage),
    /// Saves to the file.
    Save,
    /// Saves to another file.
    SaveAs,
    /// Leaves the program; asks where something is unsaved.
    Quit,
    /// Sends the program to the background.
    Suspend,
    /// Moves or deletes in a text field.
    Text(TextMove),
}

/// A move or deletion in a text field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextMove {
    /// One character to the left.
    Left,
    /// One character to the right.
    Right,
    /// To the beginning.
    Start,
    /// To the end.
    End,
    /// Deletes the character before.
    DeleteBefore,
    /// Deletes the character under the cursor.
    DeleteAfter,
    /// Deletes everything.
    Clear,
}

/// The names by which settings call actions. Once published a name stays.
const NAMES: &[(Action, &str)] = &[
    (Action::Up, "up"),
    (Action::Down, "down"),
    (Action::PageUp, "page-up"),
    (Action::PageDown, "page-down"),
    (Action::First, "first"),
    (Action::Last, "last"),
    (Action::Enter, "enter"),
    (Action::Alone, "take-alone"),
    (Action::Back, "back"),
    (Action::NextPlace, "next"),
    (Action::PreviousPlace, "previous"),
    (Action::Step(Step::WorkingArea), "step-1"),
    (Action::Step(Step::Drive), "step-2"),
    (Action::Step(Step::Spindle), "step-3"),
    (Action::Step(Step::Control), "step-4"),
    (Action::Step(Step::Extras), "step-5"),
    (Action::Menu, "menu"),
    (Action::Undo, "undo"),
    (Action::Redo, "redo"),
    (Action::Find, "find"),
    (Action::Warnings, "warnings"),
    (Action::Bill, "bill"),
    (Action::Sort, "sort"),
    (Action::AskFirst, "ask-first"),
    (Action::Show, "show"),
    (Action::Have, "have"),
    (Action::Price, "price"),
    (Action::Pay, "pay"),
    (Action::Status, "status"),
    (Action::Variants, "variants"),
    (Action::Branch, "new-variant"),
    (Action::Rename, "rename"),
    (Action::Remove, "remove"),
    (Action::Pin, "pin"),
    (Action::Mark, "mark"),
    (Action::All, "tick-all"),
    (Action::Compare, "compare"),
    (Action::Pictures, "pictures"),
    (Action::Sheets, "sheets"),
    (Action::Export, "export"),
    (Action::WhatIf, "what-if"),
    (Action::Seek, "cheapest"),
    (Action::Spend, "spend-less"),
    (Action::Interview, "interview"),
    (Action::Start, "start"),
    (Action::Add, "add"),
    (Action::Keep, "keep"),
    (Action::Measure, "figure"),
    (Action::Table, "table"),
    (Action::Range, "range"),
    (Action::Figures, "figures"),
    (Action::Better, "better"),
    (Action::Explain, "explain"),
    (Action::Fold, "fold"),
    (Action::Lift, "lift"),
    (Action::GoTo, "go-to"),
    (Action::Accept, "accept"),
    (Action::Safety, "safety"),
    (Action::Words, "words"),
    (Action::OwnPart, "own-part"),
    (Action::ChangeOwn, "change-own-part"),
    (Action::Settings, "settings"),
    (Action::GoOn, "go-on"),
    (Action::Help, "help"),
    (Action::HelpPage(HelpPage::Here), "help-here"),
    (Action::HelpPage(HelpPage::Keys), "help-keys"),
    (Action::HelpPage(HelpPage::Marks), "help-marks"),
    (Action::HelpPage(HelpPage::Elsewhere), "help-elsewhere"),
    (Action::Save, "save"),
    (Action::SaveAs, "save-as"),
    (Action::Quit, "quit"),
    (Action::Suspend, "suspend"),
    (Action::Text(TextMove::Left), "cursor-left"),
    (Action::Text(TextMove::Right), "cursor-right"),
    (Action::Text(TextMove::Start), "cursor-start"),
    (Action::Text(TextMove::End), "cursor-end"),
    (Action::Text(TextMove::DeleteBefore), "delete-before"),
    (Action::Text(TextMove::DeleteAfter), "delete-after"),
    (Action::Text(TextMove::Clear), "clear-field"),
];

impl Action {
    /// The name by which settings call it; empty for one that has none.
    pub fn name(self) -> &'static str {
        let known = NAMES.iter().find(|(action, _)| *action == self);
        known.map_or("", |(_, name)| name)
    }

    /// The action of a name.
    pub fn named(name: &str) -> Option<Self> {
        let known = NAMES.iter().find(|(_, known)| *known == name);
        known.map(|(action, _)| *action)
    }

    /// Every name, in the order in which actions are listed.
    pub fn names() -> impl Iterator<Item = &'static str> {
        NAMES.iter().map(|(_, name)| *name)
    }
}
