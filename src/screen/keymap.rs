//! The keymap as data. The key handler, the row of keys and the help are all made from one
//! [`Keymap`]: [`TABLE`] with the keys that somebody gave themselves, so none of them can say
//! something that is not so.

use std::borrow::Cow;

use super::action::{Action, TextMove};
use super::help::HelpPage;
use super::key::Key;
use crate::catalogue::Step;
use crate::words::Words;

mod remap;

crate::words! {
    /// A place where keys have a meaning of their own.
    Place {
        Choices = "choices", "choices", "The choices of a step. Enter opens the options of the one under the cursor; nothing changes until you take one.";
        Options = "options", "options", "The options of a choice. Each row shows what taking it would change; the side pane shows before and after.";
        Number = "number", "number field", "A choice that takes a number. Type it, or step through the values with the arrows; the side pane shows before and after.";
        Checklist = "checklist", "checklist", "A choice that takes several entries. Enter or space ticks one, or takes the tick away.";
        Pane = "pane", "side pane", "Cost, speed, stiffness, power and warnings of the build. Enter says more about the row under the cursor.";
        Find = "find", "find", "Type a part of a name: the list shows what fits.";
        Menu = "menu", "menu", "Everything that is not a choice: save, warnings, bill, figures, help, quit.";
        Figure = "figure", "one figure", "What stands behind a row of the side pane.";
        Figures = "figures", "figures", "Every figure, in groups. Enter opens a group; on a figure it shows how that came about.";
        FigureFind = "figure-find", "find a figure", "Type words of its name, such as nut: the list shows the figures that bear them all.";
        Derivation = "derivation", "how a figure came about", "The formula in words and in symbols, what went in and where each of that comes from. Enter opens an input that is a figure itself; esc goes back step by step.";
        Warnings = "warnings", "warnings", "Every warning, worst first. While the cursor is on one that a change would lift, the side pane shows that change before and after.";
        Warning = "warning", "one warning", "Why it is so, where that comes from, and what to do.";
        Note = "note", "note", "Why you accept this warning. It stays listed, as accepted, with your note.";
        Bill = "bill", "bill", "Every part with its quantity and price, and what comes on top of them. Enter opens a line: there you write down prices, payments and how far it has come.";
        BillFind = "bill-find", "find in the bill", "Type words: the bill lists the lines whose title, supplier or status holds them all.";
        Entry = "bill-line", "one line of the bill", "Everything about one line. Enter changes the field under the cursor; below stands why so many, and where the price comes from.";
        Pick = "pick", "list to pick from", "Enter takes what is under the cursor; esc leaves it as it was.";
        Form = "form", "form", "Type; tab goes to the next field, left and right go through answers between < and >. Enter writes all of it down, esc leaves everything as it was.";
        Picture = "picture", "pictures", "The machine to scale from above, from the front and in its room; torque, cost, current, stiffness and removal. Tab turns to the next one; t shows the same numbers as a table.";
        Sheets = "sheets", "sheets", "What to print and hang on the wall: parts, cuts, wiring, settings, the checklist. Enter shows a sheet as it will be printed; x writes it to a file.";
        Sheet = "one-sheet", "one sheet", "The sheet as plain text, as it will be printed. Tab turns to the next one; x writes it to a file, also for a spreadsheet or a browser.";
        Tasks = "tasks", "tasks to tick", "What is done from the first parcel to the first cut, in order. Space ticks a task with today's day, or takes the tick back; the build keeps it.";
        Export = "format", "format of a sheet", "How the sheet is written. Enter takes the format and asks for the name of the file.";
        Variants = "variants", "variants", "Other ways to build this machine, in the same file. Enter opens the one under the cursor; the side pane shows what that would change.";
        Naming = "variant-name", "name of a variant", "The name and the note of a variant. Tab goes to the other field; enter takes both.";
        Compare = "compare", "side by side", "Variants side by side: what was chosen, what that costs and does, and which warnings are new and gone.";
        WhatIf = "what-if", "what if", "What builders ask most, the questions of your step first. Enter answers one for your build; nothing changes until you take something from the answer.";
        Answer = "answer", "answer", "The ways to go, each with its cost and figures below those of now, and in full below the list. Enter takes the one under the cursor; undo takes it back.";
        Weigh = "weigh", "what matters most", "How far each free choice moves a figure, and what is best for the money. One choice changes at a time. Enter goes through the values of the one under the cursor.";
        Sweep = "sweep", "over a range", "One choice through its options, or from half of what is chosen to twice as much. The arrows go along the curve, and Enter takes the value under the cursor. With n another range is typed.";
        Range = "range-field", "range to type", "From, to and how many steps, as 400..1200/16. Enter goes over it; an empty one goes back to what is usual.";
        Savings = "spend-less", "spend less", "The ways to save money, and what each does. Enter opens the one under the cursor; nothing changes until you take something there.";
        Seek = "seek", "cheapest build", "What the machine must do, and what may change for it. The search then finds the cheapest build that does, without a danger and without a fault, or the whole front of trades against one figure.";
        Target = "target", "target", "One thing that the machine must do. Left and right go through answers between < and >; tab goes to the other field. Enter takes both.";
        Freed = "freed", "what may change", "The choices that a search may change. Space lets one change, or keeps it as it is. Bought parts stay whatever is ticked.";
        Searching = "searching", "search under way", "The search runs beside the screen. Esc stops it and shows the best so far; esc again waits for it no longer.";
        Found = "found", "what was found", "The builds that were found, with their figures below those of now. Enter takes the one under the cursor; undo takes it back.";
        Interview = "interview", "interview", "What you need from a first machine, in plain questions. Any may be skipped: then the usual holds. At the end three builds are found for it: thrifty, balanced and stiff.";
        Picking = "answer-list", "answer to pick", "What may be answered. Enter takes what is under the cursor; where several go together it ticks one, or takes the tick away.";
        Saying = "answer-field", "answer to type", "The answer to a question of the interview. Enter takes it; an empty one takes back what was answered.";
        Proposing = "proposing", "searches under way", "The searches for the three builds run beside the screen. Esc stops them and shows what was found; esc again waits for them no longer.";
        Proposed = "proposed", "three builds", "The builds that were found for your answers: why each, what it costs and does, what it gives up. Enter opens the one under the cursor in the five steps; undo takes it back.";
        Glossary = "words", "words", "What the words of the trade mean, those of what was under the cursor first. Enter opens a word, with the words to go on to from it.";
        WordFind = "word-find", "find a word", "Type a word: the list shows what is called so, then what speaks of it.";
        Word = "one-word", "one word", "What a word means, and the words to go on to. Enter opens the one under the cursor; esc goes back step by step.";
        Safety = "safety", "safety notes", "Where the work can hurt and what to do about it. Local codes and licensed practice come first.";
        OwnPart = "own-part", "part of your own", "A part that you have or were offered. It begins as a copy of another: type what its data sheet says; ! stands before what is wrong. Enter keeps it in your own folder, esc leaves everything as it was.";
        Settings = "settings", "settings", "Units, marks in numbers, colours. Left and right change what is under the cursor; it is saved at once.";
        Help = "help", "help", "What can be done here, the keys of this place, the marks, then all other keys: a page each.";
        Name = "file-name", "file name", "The file to write to.";
        Question = "question", "question", "Something to decide before the program goes on.";
    }
}

/// Keys that do one thing in some places.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Binding {
    /// Where.
    pub places: Cow<'static, [Place]>,
    /// Which keys, the one to show first.
    pub keys: Cow<'static, [Key]>,
    /// What they ask for.
    pub action: Action,
    /// A word or two for the row of keys; empty where the row leaves it out.
    pub short: &'static str,
    /// A sentence for the help.
    pub long: &'static str,
}

use Key::{Backspace, Char, Ctrl, Enter, Esc, F, Tab};
use Place::{
    Answer, Bill, BillFind, Checklist, Choices, Compare, Derivation, Entry, Export, Figure,
    FigureFind, Figures, Find, Form, Found, Freed, Glossary, Help, Interview, Menu, Name, Naming,
    Note, Number, Options, OwnPart, Pane, Pick, Picking, Picture, Proposed, Proposing, Question,
    Range, Safety, Savings, Saying, Searching, Seek, Settings, Sheet, Sheets, Sweep, Target, Tasks,
    Variants, Warning, Warnings, Weigh, WhatIf, Word, WordFind,
};

/// The places of the main screen in which letters are short cuts.
const MAIN: &[Place] = &[Choices, Options, Checklist, Pane];
/// The main screen and the menu, which lists the same things by name.
const MAIN_AND_MENU: &[Place] = &[Choices, Options, Checklist, Pane, Menu];
/// Places in which letters are letters.
pub const TEXT: &[Place] = &[
    Number, Find, Note, Name, BillFind, Form, Naming, Target, Saying, Range, WordFind, OwnPart,
    FigureFind,
];
/// Places with rows or lines to go up and down.
const MOVES: &[Place] = &[
    Figure, Figures, Derivation, Choices, Options, Checklist, Pane, Find, Menu, Warnings, Warning,
    Bill, Safety, Help, Question, BillFind, Entry, Pick, Form, Sheets, Sheet, Tasks, Export,
    Variants, Naming, Compare, WhatIf, Answer, Weigh, Sweep, Savings, Seek, Target, Freed, Found,
    Interview, Picking, Proposed, Glossary, WordFind, Word, Settings, OwnPart, Picture, FigureFind,
];
/// Those of them in which home and end are no keys of a text.
const JUMPS: &[Place] = &[
    Figure, Figures, Derivation, Choices, Options, Checklist, Pane, Menu, Warnings, Warning, Bill,
    Safety, Help, Question, Entry, Pick, Sheets, Sheet, Tasks, Export, Variants, Compare, WhatIf,
    Answer, Weigh, Sweep, Savings, Seek, Freed, Found, Interview, Picking, Proposed, Glossary,
    Word, Settings, Picture,
];
/// Places that lie over the main screen and take no text.
pub const LAYERS: &[Place] = &[
    Menu, Figure, Figures, Derivation, Warnings, Warning, Bill, Safety, Help, Question, Entry,
    Pick, Sheets, Sheet, Tasks, Export, Variants, Compare, WhatIf, Answer, Weigh, Sweep, Savings,
    Seek, Freed, Searching, Found, Interview, Picking, Proposing, Proposed, Glossary, Word,
    Settings, Picture,
];
/// Places whose text has words that somebody may not know.
const READ: &[Place] = &[
    Choices, Options, Checklist, Pane, Menu, Figure, Figures, Derivation, Warnings, Warning, Bill,
    Entry, Safety, Help, Sheets, Sheet, Tasks, WhatIf, Answer, Weigh, Sweep, Savings, Seek, Freed,
    Found, Interview, Picking, Proposed, Compare, Variants, Picture,
];
/// Every place.
const ALL: &[Place] = <Place as Words>::ALL;
/// Places in which a change of the build is seen, so that it can be taken back there.
const CHANGES: &[Place] = &[
    Choices, Options, Checklist, Pane, Menu, Warnings, Warning, Bill, Entry, Tasks, Variants,
    WhatIf, Answer, Weigh, Sweep, Savings, Seek, Found,
];

const fn bind(
    places: &'static [Place],
    keys: &'static [Key],
    action: Action,
    short: &'static str,
    long: &'static str,
) -> Binding {
    Binding {
        places: Cow::Borrowed(places),
        keys: Cow::Borrowed(keys),
        action,
        short,
        long,
    }
}

/// Every binding; the row of keys shows them in this order.
// One line a binding: read as a table.
#[rustfmt::skip]
pub const TABLE: &[Binding] = &[
    bind(&[Choices], &[Enter, Key::Right], Action::Enter, "options", "Goes into the options of the choice."),
    bind(&[Options, Number], &[Enter], Action::Enter, "take", "Takes the option or number under the cursor."),
    bind(&[Checklist], &[Enter, Char(' ')], Action::Enter, "tick", "Ticks the entry, or takes its tick away."),
    bind(&[Find], &[Enter], Action::Enter, "take", "Takes or ticks the option, or goes to the choice, under the cursor."),
    bind(&[Pane, Warnings], &[Enter, Key::Right], Action::Enter, "open", "Says more about the row: what holds an axis, what a circuit carries, why a warning."),
    bind(&[Figure], &[Enter, Char('f')], Action::Enter, "improve it", "Shows what improves the figure: for rapids the cheapest way first, else what gives most for its money."),
    bind(&[Figures], &[Enter, Key::Right], Action::Enter, "open", "Opens or closes the group; on a figure, shows how it came about."),
    bind(&[Derivation], &[Enter, Key::Right], Action::Enter, "open", "Opens the input under the cursor, where it is a figure itself."),
    bind(&[Bill], &[Enter, Key::Right], Action::Enter, "open", "Opens the line: everything about it, and what you write down."),
    bind(&[Entry], &[Enter, Key::Right], Action::Enter, "change", "Changes the field under the cursor."),
    bind(&[FigureFind], &[Enter], Action::Enter, "open", "Shows how the figure under the cursor came about."),
    bind(&[Pane, Figures, Derivation], &[Char('f')], Action::Better, "improve it", "Goes to what improves the figure under the cursor: what makes an axis faster, what saves money, what lifts a warning."),
    bind(&[Glossary], &[Enter, Key::Right], Action::Enter, "open", "Opens the word, with the words to go on to."),
    bind(&[Word], &[Enter, Key::Right], Action::Enter, "go on", "Opens the word under the cursor."),
    bind(&[WordFind], &[Enter], Action::Enter, "open", "Opens the word under the cursor."),
    bind(&[Pick], &[Enter], Action::Enter, "take", "Takes what is under the cursor."),
    bind(&[BillFind], &[Enter], Action::Enter, "keep", "Keeps the lines that were found on the page."),
    bind(&[Form], &[Enter], Action::Enter, "write it down", "Writes down what the form says; undo takes it back."),
    bind(&[Form], &[Tab], Action::NextPlace, "next field", "Goes on to the next field."),
    bind(&[Form], &[Key::BackTab], Action::PreviousPlace, "", "Goes back to the field before."),
    bind(&[Bill, Entry], &[Char('h')], Action::Have, "have", "Marks the part as in hand, or takes that back."),
    bind(&[Bill, Entry], &[Char('p')], Action::Price, "price", "Writes down a price that a seller named; earlier ones are kept."),
    bind(&[Bill, Entry], &[Char('m')], Action::Pay, "pay", "Writes down money that was paid."),
    bind(&[Entry, Bill], &[Char('t')], Action::Status, "status", "Says how far the purchase has come: ordered, arrived, checked."),
    bind(&[Bill], &[Char('o')], Action::Sort, "sort", "Sorts the lines by step, supplier, price, status, what comes first, or what to ask first."),
    bind(&[Bill], &[Char('a')], Action::AskFirst, "ask first", "Sorts the lines by what to ask sellers first; again, step by step."),
    bind(&[Bill], &[Char('f')], Action::Show, "show", "Lists all lines, those to buy, for the first cut, tools, or without a price."),
    bind(&[Sheets], &[Enter, Key::Right], Action::Enter, "show", "Shows the sheet as it will be printed; the checklist, to tick."),
    bind(&[Tasks], &[Enter, Char(' ')], Action::Enter, "tick", "Ticks the task with today's day, or takes the tick back."),
    bind(&[WhatIf], &[Enter, Key::Right], Action::Enter, "answer", "Answers the question for your build."),
    bind(&[Answer], &[Enter], Action::Enter, "take", "Takes the way under the cursor; undo takes it back."),
    bind(&[Weigh], &[Enter, Key::Right], Action::Enter, "over its range", "Goes through the values of the choice."),
    bind(&[Sweep], &[Enter], Action::Enter, "take", "Takes the value under the cursor; undo takes it back."),
    bind(&[Sweep], &[Key::Right], Action::Down, "", "One value on."),
    bind(&[Sweep], &[Key::Left], Action::Up, "", "One value back."),
    bind(&[Weigh, Sweep], &[Char('f')], Action::Measure, "figure", "Goes on to another figure: cost, rapids, stiffness, removal, mains current."),
    bind(&[Weigh], &[Char('o')], Action::Sort, "sort", "Sorts by how far a choice reaches, or by what it gives for its money."),
    bind(&[Sweep], &[Char('n')], Action::Range, "range", "Asks for another range: from, to and how many steps."),
    bind(&[Range], &[Enter], Action::Enter, "take", "Goes over the range that is typed."),
    bind(&[Sweep], &[Char('t')], Action::Table, "table", "Shows the curve as a table, or as a curve again."),
    bind(&[Picture], &[Tab, Key::Right], Action::NextPlace, "next picture", "Turns to the next picture."),
    bind(&[Picture], &[Key::BackTab, Key::Left], Action::PreviousPlace, "", "Turns to the picture before."),
    bind(&[Picture], &[Char('t')], Action::Table, "table", "Shows the same numbers as a table, or the picture again."),
    bind(&[Answer], &[Char('a')], Action::Alone, "only this", "Takes the row under the cursor alone, without those above it, and stays on the page."),
    bind(&[Savings], &[Enter, Key::Right], Action::Enter, "open", "Opens the way under the cursor."),
    bind(&[Seek], &[Enter, Char(' '), Key::Right], Action::Enter, "change", "Changes the target, ticks what is kept, goes on to another figure, or begins the search."),
    bind(&[Seek], &[Char('n')], Action::Add, "add a target", "Asks for another thing that the machine must do."),
    bind(&[Seek], &[Char('x')], Action::Remove, "remove", "Removes the target under the cursor."),
    bind(&[Seek], &[Char('f')], Action::Start, "search", "Begins the search."),
    bind(&[Target], &[Enter], Action::Enter, "take", "Takes the target as the fields say it."),
    bind(&[Target], &[Tab], Action::NextPlace, "next field", "Goes on to the next field."),
    bind(&[Target], &[Key::BackTab], Action::PreviousPlace, "", "Goes back to the field before."),
    bind(&[Freed], &[Char(' '), Enter], Action::Mark, "tick", "Lets the choice change, or keeps it as it is."),
    bind(&[Found], &[Enter], Action::Enter, "take", "Takes the build under the cursor; undo takes it back."),
    bind(&[Found], &[Char('k')], Action::Keep, "keep as a variant", "Keeps the build under the cursor as a variant; the one that is open stays open."),
    bind(&[Interview], &[Enter, Key::Right], Action::Enter, "answer", "Answers the question, goes on from yes to no, or begins the search."),
    bind(&[Interview], &[Char('x')], Action::Remove, "not sure", "Takes the answer back: the usual holds."),
    bind(&[Interview], &[Char('f')], Action::Start, "find builds", "Finds three builds for the answers."),
    bind(&[Picking], &[Enter, Char(' ')], Action::Enter, "pick", "Takes what is under the cursor; where several go together, ticks it or takes the tick away."),
    bind(&[Picking, Freed], &[Char('a')], Action::All, "all or none", "Ticks all of the list; where all are ticked, takes all ticks away."),
    bind(&[Saying], &[Enter], Action::Enter, "take", "Takes the answer."),
    bind(&[Proposed], &[Enter], Action::Enter, "open it", "Opens the build under the cursor in the five steps; the others go along as variants."),
    bind(&[OwnPart], &[Enter], Action::Enter, "keep", "Keeps the part in your own folder; it is then an option."),
    bind(&[OwnPart], &[Tab], Action::NextPlace, "next field", "Goes on to the next field."),
    bind(&[OwnPart], &[Key::BackTab], Action::PreviousPlace, "", "Goes back to the field before."),
    bind(&[Settings], &[Key::Right, Enter, Char(' ')], Action::NextPlace, "change", "Goes on to the next answer; it holds and is saved at once."),
    bind(&[Settings], &[Key::Left], Action::PreviousPlace, "", "Goes back to the answer before."),
    bind(&[Export], &[Enter], Action::Enter, "take", "Takes the format and asks for the name of the file."),
    bind(&[Sheets, Sheet, Tasks], &[Char('x')], Action::Export, "write to a file", "Writes the sheet to a file: plain text, spreadsheet, browser page and others."),
    bind(&[Sheet], &[Tab, Key::Right], Action::NextPlace, "next sheet", "Turns to the next sheet."),
    bind(&[Sheet], &[Key::BackTab, Key::Left], Action::PreviousPlace, "", "Turns to the sheet before."),
    bind(&[Variants], &[Enter, Key::Right], Action::Enter, "open it", "Opens the variant: from then on it is the one that is planned and changed."),
    bind(&[Variants], &[Char('n')], Action::Branch, "new", "Makes a new variant that begins as the one under the cursor, and opens it."),
    bind(&[Variants], &[Char('c')], Action::Compare, "compare", "Puts the marked variants side by side; where none is marked, all of them, up to four."),
    bind(&[Variants], &[Char(' ')], Action::Mark, "mark", "Marks the variant to be compared, or takes the mark back."),
    bind(&[Variants], &[Char('p')], Action::Pin, "pin", "Pins the variant as the one before, against which the open one is shown; again to unpin."),
    bind(&[Variants], &[Char('e')], Action::Rename, "name", "Gives the variant another name or note."),
    bind(&[Variants], &[Char('x')], Action::Remove, "remove", "Removes the variant; undo takes that back."),
    bind(&[Naming], &[Enter], Action::Enter, "take", "Takes the name and the note."),
    bind(&[Naming], &[Tab], Action::NextPlace, "next field", "Goes on to the next field."),
    bind(&[Naming], &[Key::BackTab], Action::PreviousPlace, "", "Goes back to the field before."),
    bind(&[Compare], &[Char('f')], Action::Show, "show", "Shows only what differs, or everything."),
    bind(&[Menu, Question], &[Enter], Action::Enter, "choose", "Does what is under the cursor."),
    bind(&[Note], &[Enter], Action::Enter, "accept", "Accepts the warning with the note."),
    bind(&[Name], &[Enter], Action::Enter, "write", "Writes to the file of this name."),
    bind(&[Number], &[Key::Up], Action::Up, "more", "One step more."),
    bind(&[Number], &[Key::Down], Action::Down, "less", "One step less."),
    bind(&[Number], &[Key::PageUp], Action::PageUp, "", "Ten steps more."),
    bind(&[Number], &[Key::PageDown], Action::PageDown, "", "Ten steps less."),
    bind(&[Options, Checklist], &[Esc, Backspace, Key::Left], Action::Back, "back", "Leaves the options; nothing is changed by that."),
    bind(&[Pane], &[Esc, Backspace, Key::Left], Action::Back, "back", "Goes back to the choices."),
    bind(LAYERS, &[Esc, Backspace], Action::Back, "back", "Closes this."),
    bind(&[Warning], &[Key::Left], Action::Back, "", "Goes back to the list of warnings."),
    bind(&[Entry, Pick, Sheets, Tasks, Export, Variants, Compare, WhatIf, Answer, Weigh, Savings, Seek, Freed, Found, Interview, Picking, Proposed, Glossary, Word, Derivation], &[Key::Left], Action::Back, "", "Goes back to where this was opened."),
    bind(&[Figures], &[Key::Left], Action::Fold, "", "Closes the group, or the one that the figure is in."),
    bind(TEXT, &[Esc], Action::Back, "back", "Leaves the field; nothing is changed by that."),
    bind(&[Warnings, Warning], &[Char('g')], Action::GoTo, "go to it", "Goes to the choice that the warning is about."),
    bind(&[Answer, Weigh, Sweep], &[Char('g')], Action::GoTo, "go to it", "Goes to the choice that is changed first by the row under the cursor."),
    bind(&[Derivation], &[Char('g')], Action::GoTo, "go to it", "Goes to the choice that the input under the cursor comes from."),
    bind(&[Warnings, Warning], &[Char('f')], Action::Lift, "lift it", "Makes the changes of its remedy, which lift the warning; undo takes them back."),
    bind(&[Warnings, Warning], &[Char('a')], Action::Accept, "accept", "Accepts the warning with a note, or no longer accepts it."),
    bind(&[Choices, Options, Checklist], &[Char('/')], Action::Find, "find", "Looks for choices (of every step) or options by name."),
    bind(&[Options, Checklist], &[Char('n')], Action::OwnPart, "own part", "Makes a part of your own that begins as a copy of the one under the cursor."),
    bind(&[Options, Checklist], &[Char('m')], Action::ChangeOwn, "change", "Changes the part of your own that is under the cursor."),
    bind(&[Options, Checklist], &[Char('x')], Action::Remove, "remove", "Removes the part of your own that is under the cursor; asks first."),
    bind(&[Choices], &[Tab], Action::NextPlace, "next", "Goes on: choices, options, side pane."),
    bind(&[Options, Checklist], &[Tab], Action::NextPlace, "pane", "Goes on to the side pane without taking anything."),
    bind(&[Pane], &[Tab], Action::NextPlace, "choices", "Goes back to the choices."),
    bind(&[Figure], &[Tab, Key::Right], Action::NextPlace, "next", "Goes on to the next figure, also to those that the side pane has no room for."),
    bind(&[Figure], &[Key::BackTab, Key::Left], Action::PreviousPlace, "", "Goes back to the figure before."),
    bind(&[Number], &[Tab], Action::NextPlace, "", "Goes on to the side pane without taking the number."),
    bind(&[Help], &[Tab, Key::Right], Action::NextPlace, "next page", "Turns to the next page of the help."),
    bind(&[Help], &[Key::BackTab, Key::Left], Action::PreviousPlace, "", "Turns to the page before."),
    bind(&[Help], &[Char('1')], Action::HelpPage(HelpPage::Here), "here", "Shows what can be done here."),
    bind(&[Help], &[Char('2')], Action::HelpPage(HelpPage::Keys), "keys", "Shows the keys of this place."),
    bind(&[Help], &[Char('3')], Action::HelpPage(HelpPage::Marks), "marks", "Shows what the marks and the side pane mean."),
    bind(&[Help], &[Char('4')], Action::HelpPage(HelpPage::Elsewhere), "other keys", "Shows the keys of all other places."),
    bind(MAIN, &[Key::BackTab], Action::PreviousPlace, "", "Goes back: side pane, options, choices."),
    bind(&[Number], &[Key::BackTab], Action::PreviousPlace, "", "Goes back to the choices without taking the number."),
    bind(&[Choices], &[Esc, F(10)], Action::Menu, "menu", "Opens the menu: everything that is not a choice."),
    bind(CHANGES, &[Char('u')], Action::Undo, "undo", "Takes the last change back."),
    bind(&[Glossary], &[Char('/')], Action::Find, "find", "Looks for words, also in what others mean."),
    bind(&[Pane, Figure, Figures, Derivation], &[Char('/')], Action::Find, "find a figure", "Looks for a figure by words of its name, on the page of all figures."),
    bind(&[Menu], &[Char('/')], Action::Find, "find", "Looks for a choice of any step, by any word about it."),
    bind(&[Bill], &[Char('/')], Action::Find, "find", "Looks for lines by title, supplier or status."),
    bind(&[Bill, Entry, Sheets, Tasks, Variants, WhatIf], &[Char('s')], Action::Save, "save", "Saves to the file; asks for a name where there is none."),
    bind(MAIN_AND_MENU, &[Char('s')], Action::Save, "save", "Saves to the file; asks for a name where there is none."),
    bind(MAIN_AND_MENU, &[Char('q')], Action::Quit, "quit", "Leaves the program; asks first where something is unsaved."),
    bind(CHANGES, &[Char('r'), Char('U')], Action::Redo, "redo", "Makes the change again that was taken back."),
    bind(MAIN_AND_MENU, &[Char('c')], Action::Safety, "", "Opens the safety notes: where the work can hurt, and what to do about it."),
    bind(&[Choices, Options, Checklist, Pane, Figure, Menu, Bill], &[Char('w')], Action::Warnings, "warnings", "Opens the list of warnings."),
    bind(&[Pane, Figure, Bill, Entry], &[Char('e')], Action::Explain, "explain", "Shows how the figure came about: formula, inputs, source."),
    bind(&[Choices, Options, Checklist, Menu], &[Char('e')], Action::Figures, "figures", "Opens the page of all figures, where each explains itself."),
    bind(&[OwnPart], &[F(2)], Action::Words, "words", "Says what the words mean, those of what is under the cursor first."),
    bind(READ, &[Char('d')], Action::Words, "words", "Says what the words mean, those of what is under the cursor first."),
    bind(MAIN_AND_MENU, &[Char('b')], Action::Bill, "bill", "Opens the bill: every part with quantity and price."),
    bind(MAIN_AND_MENU, &[Char('p')], Action::Pictures, "pictures", "Opens the pictures: the machine to scale, torque, cost, current, stiffness, removal."),
    bind(MAIN_AND_MENU, &[Char('6')], Action::Sheets, "sheets", "Opens the sheets: what is printed and hung on the workshop's wall."),
    bind(MAIN_AND_MENU, &[Char('v')], Action::Variants, "variants", "Opens the variants: other ways to build this machine, switched and compared."),
    bind(&[Found, Savings], &[Char('v')], Action::Variants, "", "Opens the variants: other ways to build this machine, switched and compared."),
    bind(MAIN_AND_MENU, &[Char('7')], Action::WhatIf, "what if", "Opens the questions: what builders ask most, and what matters most."),
    bind(&[WhatIf, Answer], &[Char('f')], Action::Seek, "search", "Searches for the cheapest build that still cuts all that it cuts now."),
    bind(&[WhatIf, Answer, Weigh, Sweep, Seek, Found, Bill], &[Char('l')], Action::Spend, "spend less", "Opens the ways to spend less, and what each does."),
    bind(MAIN_AND_MENU, &[Char('l')], Action::Spend, "", "Opens the ways to spend less, and what each does."),
    bind(&[Choices, Options, Checklist, Menu], &[Char('f')], Action::Seek, "", "Finds the cheapest build that does what you want."),
    bind(MAIN_AND_MENU, &[Char('i')], Action::Interview, "", "Opens the interview: plain questions, and three builds for the answers."),
    bind(MAIN_AND_MENU, &[Char('o')], Action::GoOn, "", "Goes on with the file that was open last time."),
    bind(MAIN_AND_MENU, &[Char('t')], Action::Settings, "", "Opens the settings: units, marks in numbers, colours."),
    bind(&[Options, Checklist, Number, Pane], &[F(10)], Action::Menu, "", "Opens the menu: everything that is not a choice."),
    bind(MAIN_AND_MENU, &[Char('S')], Action::SaveAs, "", "Saves to another file."),
    bind(ALL, &[Ctrl('c')], Action::Quit, "", "Leaves the program, from anywhere; asks first where something is unsaved."),
    bind(MAIN_AND_MENU, &[Char('1')], Action::Step(Step::WorkingArea), "step", "Goes to step 1, working area."),
    bind(MAIN_AND_MENU, &[Char('2')], Action::Step(Step::Drive), "", "Goes to step 2, drive."),
    bind(MAIN_AND_MENU, &[Char('3')], Action::Step(Step::Spindle), "", "Goes to step 3, spindle."),
    bind(MAIN_AND_MENU, &[Char('4')], Action::Step(Step::Control), "", "Goes to step 4, control."),
    bind(MAIN_AND_MENU, &[Char('5')], Action::Step(Step::Extras), "", "Goes to step 5, extras."),
    bind(MOVES, &[Key::Up], Action::Up, "", "One row up."),
    bind(MOVES, &[Key::Down], Action::Down, "", "One row down."),
    bind(MOVES, &[Key::PageUp], Action::PageUp, "", "A page up."),
    bind(MOVES, &[Key::PageDown], Action::PageDown, "", "A page down."),
    bind(JUMPS, &[Key::Home], Action::First, "", "To the first row."),
    bind(JUMPS, &[Key::End], Action::Last, "", "To the last row."),
    bind(TEXT, &[Key::Left], Action::Text(TextMove::Left), "", "One character to the left."),
    bind(TEXT, &[Key::Right], Action::Text(TextMove::Right), "", "One character to the right."),
    bind(TEXT, &[Key::Home], Action::Text(TextMove::Start), "", "To the beginning of the text."),
    bind(TEXT, &[Key::End], Action::Text(TextMove::End), "", "To the end of the text."),
    bind(TEXT, &[Backspace], Action::Text(TextMove::DeleteBefore), "", "Deletes the character before the cursor."),
    bind(TEXT, &[Key::Delete], Action::Text(TextMove::DeleteAfter), "", "Deletes the character under the cursor."),
    bind(TEXT, &[Ctrl('u')], Action::Text(TextMove::Clear), "", "Empties the field."),
    bind(ALL, &[Ctrl('z')], Action::Suspend, "", "Sends the program to the background; fg brings it back."),
    bind(&[Choices, Options, Checklist, Pane, Number, Figure, Figures, Derivation, Menu, Warnings, Warning, Bill, Safety, Question, Entry, Pick, Sheets, Sheet, Tasks, Export, Variants, Compare, WhatIf, Answer, Weigh, Sweep, Savings, Seek, Freed, Searching, Found, Interview, Picking, Proposing, Proposed, Glossary, Word, Settings, Picture], &[Char('?'), F(1)], Action::Help, "help", "Says all about what is under the cursor, the marks and the keys."),
    bind(&[Find, Note, Name, BillFind, Form, Naming, Target, Saying, Range, WordFind, OwnPart, FigureFind], &[F(1)], Action::Help, "help", "Says all about what is under the cursor, the marks and the keys."),
];

/// The keymap in use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Keymap {
    rows: Cow<'static, [Binding]>,
}

impl Default for Keymap {
    /// The usual keys.
    fn default() -> Self {
        Self {
            rows: Cow::Borrowed(TABLE),
        }
    }
}

impl Keymap {
    /// Every binding, in the order of the row of keys.
    pub fn rows(&self) -> &[Binding] {
        &self.rows
    }

    /// The action of a key in a place.
    pub fn action(&self, place: Place, key: Key) -> Option<Action> {
        self.here(place)
            .find(|binding| binding.keys.contains(&key))
            .map(|binding| binding.action)
    }

    /// The bindings of a place, in the order of the table.
    pub fn here(&self, place: Place) -> impl Iterator<Item = &Binding> {
        let rows = self.rows.iter();
        rows.filter(move |binding| binding.places.contains(&place))
    }

    /// The key to name for an action in a place.
    pub fn key_of(&self, place: Place, action: Action) -> Option<Key> {
        self.here(place)
            .find(|binding| binding.action == action)
            .and_then(|binding| binding.keys.first().copied())
    }
}

/// The keys of a binding as people read them: `esc, backspace`.
pub fn keys(binding: &Binding) -> String {
    let keys: Vec<String> = binding.keys.iter().map(Key::to_string).collect();
    keys.join(", ")
}

#[cfg(test)]
mod tests;
