//! What lies over the main screen and has no file of its own: menu, warnings, the page of one
//! figure, safety notes, help, questions.

use super::browse::stepped;
use super::{Task, beside, better, figures, saving, take, takes_back};
use crate::rules::Finding;
use crate::rules::topics::{Topic, topics};
use crate::screen::action::Action;
use crate::screen::around::around;
use crate::screen::help::HelpPage;
use crate::screen::keymap::Place;
use crate::screen::menu::MENU;
use crate::screen::state::{Layer, Notice, Question, State};
use crate::screen::view;
use crate::words::Words as _;

/// The answers to a question, the harmless one first.
pub fn answers(question: &Question) -> Vec<&'static str> {
    let fixed: &[&str] = match question {
        Question::Changed(theirs, _) => {
            return beside::ways(theirs).iter().map(|way| way.told()).collect();
        }
        Question::Held => beside::LOOKING,
        Question::Leave => &["Stay here", "Save, then quit", "Quit without saving"],
        Question::Replace(..) => &["Choose another name", "Replace the file"],
        Question::RemoveOwn(..) => &["Keep it", "Remove it"],
        Question::DropOwn => &["Go on typing", "Leave without the part"],
        Question::Recover => &["Look at it later", "Take it up", "Throw it away"],
    };
    fixed.to_vec()
}

/// Carries an action out in the topmost layer.
pub(super) fn act(state: &mut State, action: Action) -> Option<Task> {
    match action {
        Action::Back => {
            if !figures::leaves_find(state) {
                state.layers.pop();
            }
        }
        Action::Enter => return enter(state),
        Action::Lift => lift(state),
        Action::Accept => accept(state),
        Action::Fold => state.figures.fold(),
        Action::NextPlace => turn(state, true),
        Action::PreviousPlace => turn(state, false),
        Action::HelpPage(page) => {
            if let Some(Layer::Help(_, open, top)) = state.layers.last_mut() {
                (*open, *top) = (page, 0);
            }
        }
        _ => walk(state, action),
    }
    None
}

fn enter(state: &mut State) -> Option<Task> {
    match state.layers.last().cloned() {
        Some(Layer::Menu(cursor)) => {
            state.layers.pop();
            let action = MENU.get(cursor).map(|(_, action)| *action);
            let place = match action {
                // Wherever keys went before: a choice is looked for.
                Some(Action::Find) => Place::Menu,
                _ => state.place(),
            };
            return action.and_then(|action| super::act(state, place, action));
        }
        Some(Layer::Warnings(cursor)) if !state.now.findings.is_empty() => {
            state.layers.push(Layer::Warning(cursor, 0));
        }
        Some(Layer::Figure(..)) => better::open(state),
        Some(Layer::Figures | Layer::FigureFind) => figures::enter(state),
        Some(Layer::Derivation(..)) => figures::enter_input(state),
        Some(Layer::Note(rule, note)) => {
            state.layers.pop();
            let mut build = state.build().clone();
            build
                .accepted
                .insert(rule.to_string(), note.value().trim().to_owned());
            if super::put(state, build) {
                state.notice = Some(Notice::Done("accepted; it stays listed".to_owned()));
            }
        }
        Some(Layer::Name(name, purpose)) => return saving::named(state, name.value(), purpose),
        Some(Layer::Question(question, cursor)) => {
            state.layers.pop();
            return saving::answer(state, question, cursor);
        }
        _ => {}
    }
    None
}

/// Turns from the page of one figure to the next one's, or to the one before; round at the end. So
/// with the pages of the help.
fn turn(state: &mut State, on: bool) {
    if let Some(Layer::Help(_, page, top)) = state.layers.last_mut() {
        let all = HelpPage::ALL;
        (*page, *top) = (all[around(page.index(), all.len(), on)], 0);
        return;
    }
    let pages = state.figure_pages();
    if let Some(Layer::Figure(row, top)) = state.layers.last_mut() {
        let here = pages.iter().position(|page| page == row).unwrap_or(0);
        if let Some(page) = pages.get(around(here, pages.len(), on)) {
            (*row, *top) = (*page, 0);
        }
    }
}

fn walk(state: &mut State, action: Action) {
    let topics = state.about.topics().len();
    let page = state.page_rows();
    let scroll = match state.layers.last() {
        Some(Layer::Figures | Layer::FigureFind) => {
            let rows = state.figures.rows().len();
            let cursor = stepped(state.figures.cursor(), rows, action, page / 2);
            state.figures.point(cursor);
            return;
        }
        Some(Layer::Derivation(..)) => return figures::walk(state, action),
        // How long a text is shows only once it is laid out; lists know it.
        Some(Layer::Warning(..) | Layer::Figure(..) | Layer::Safety(_) | Layer::Help(..)) => {
            view::layer_length(state).saturating_sub(page) + 1
        }
        _ => 0,
    };
    let Some(layer) = state.layers.last_mut() else {
        return;
    };
    match layer {
        Layer::Menu(cursor) => *cursor = stepped(*cursor, MENU.len(), action, page),
        Layer::Warnings(cursor) => *cursor = stepped(*cursor, topics, action, page / 2),
        Layer::Question(question, cursor) => {
            *cursor = stepped(*cursor, answers(question).len(), action, page);
        }
        Layer::Warning(_, top)
        | Layer::Figure(_, top)
        | Layer::Safety(top)
        | Layer::Help(_, _, top) => {
            *top = stepped(*top, scroll, action, page);
        }
        // The others are walked by files of their own, or hold a field.
        _ => {}
    }
}

/// Makes the changes that lift the warning under the cursor.
fn lift(state: &mut State) {
    let Some(topic) = state.topic().cloned() else {
        return;
    };
    let before = std::rc::Rc::clone(&state.now);
    let listed = state.about.topics().to_vec();
    let edits = state.remedy.edits.clone();
    if edits.is_empty() {
        no_remedy(state, &topic);
        return;
    }
    if take(state, &edits) {
        let made: Vec<String> = edits
            .iter()
            .map(|edit| {
                format!(
                    "{} to {}",
                    edit.choice.title,
                    edit.choice.show(&edit.value, &state.catalogue)
                )
            })
            .collect();
        state.notice = Some(Notice::Done(format!(
            "changed {}; {}",
            made.join(", "),
            takes_back(state, edits.len())
        )));
        let gone = |layer: &Layer| matches!(layer, Layer::Warning(..));
        let same = crate::explore::effect::same;
        let after = &state.now.findings;
        let mut lifted = topic.of(&before.findings);
        if lifted.all(|one| !after.iter().any(|other| same(other, one))) {
            state.layers.retain(|layer| !gone(layer));
        }
        stay(state, &listed, &before.findings);
    }
}

/// Lets the cursor of the list of warnings stay where it was: on the warning that a change did not
/// lift, or on the first of those behind it that is still there, however the list was sorted anew.
fn stay(state: &mut State, listed: &[Topic], before: &[Finding]) {
    let Some(Layer::Warnings(place)) = state.layers.last_mut() else {
        return;
    };
    // What the state knows of its warnings is brought up to date only when keys are done.
    let after = &state.now.findings;
    let topics = topics(after);
    let rule = |topic: &Topic, of: &[Finding]| of.get(topic.first()).map(|one| one.rule.clone());
    let now = |old: &Topic| {
        let same = |topic: &Topic| rule(topic, after) == rule(old, before);
        topics.iter().position(same)
    };
    let behind = listed.iter().skip(*place).find_map(now);
    *place = behind.unwrap_or_else(|| topics.len().saturating_sub(1));
}

/// Says that no change of choices lifts the warning and what else may, and goes on to the next
/// one, so that whoever lifts one after the other does not come to a stop.
fn no_remedy(state: &mut State, topic: &Topic) {
    let title = topic.title(&state.now.findings);
    let rule = state.finding().map(|finding| finding.rule.told());
    let instead = rule.map_or_else(String::new, |rule| rule.instead.to_owned());
    let last = state.about.topics().len().saturating_sub(1);
    let went_on = match state.layers.last_mut() {
        Some(Layer::Warnings(place)) if *place < last => {
            *place += 1;
            "; on to the next"
        }
        Some(Layer::Warnings(_)) => "; it is the last one",
        _ => "",
    };
    let text = format!("no remedy known: {title}. {instead} No choice lifts it{went_on}.");
    state.notice = Some(Notice::Failed(text));
}

/// Asks for the note with which a warning is accepted, or takes the acceptance back.
fn accept(state: &mut State) {
    let Some(finding) = state.finding().cloned() else {
        return;
    };
    if finding.accepted.is_some() {
        let mut build = state.build().clone();
        build.accepted.shift_remove(finding.rule.as_str());
        if super::put(state, build) {
            state.notice = Some(Notice::Done("no longer accepted".to_owned()));
        }
    } else {
        state.layers.push(Layer::Note(finding.rule, "".into()));
    }
}
