//! Warnings: the way to their choices, their remedies, their acceptance.

use super::*;

#[test]
fn a_warning_leads_to_the_choice_that_it_is_about() {
    let mut state = with_a_danger();
    press(&mut state, &[Key::Char('g')]);
    assert_eq!(state.choice().map(|choice| choice.id), Some("extractor"));
    assert_eq!(state.place(), Place::Choices);
}

#[test]
fn a_step_is_marked_as_its_worst_row() {
    let state = with_a_danger();
    for &step in Step::ALL {
        let rows = crate::build::choices::of_step(step);
        let worst = rows.filter_map(|choice| state.about.mark(choice)).min();
        let without_a_choice = (0..state.now.findings.len()).any(|place| {
            state.about.choices(place).is_empty() && state.now.findings[place].step == step
        });
        if !without_a_choice {
            assert_eq!(state.about.worst_of(step), worst, "{step:?}");
        }
    }
}

/// A build in which wood is cut without extraction, and its list of warnings opened.
fn with_a_danger() -> State {
    let mut state = start();
    open(&mut state, "extractor");
    press(&mut state, &[Key::Home, Key::Enter, Key::Char('w')]);
    let worst = state.now.findings.first().expect("a warning");
    assert_eq!(worst.severity, crate::rules::Severity::Danger);
    state
}

#[test]
fn one_key_lifts_a_warning_and_undo_brings_it_back() {
    let mut state = with_a_danger();
    let before = state.build().clone();
    let finding = state.now.findings[0].clone();
    assert!(!state.remedy.edits.is_empty());
    let previewed = state.preview.clone().expect("the remedy is previewed");
    press(&mut state, &[Key::Enter, Key::Char('f')]);
    assert_eq!(
        state.now.bill.total.likely,
        previewed.after.bill.total.likely
    );
    let still = |state: &State| {
        state
            .now
            .findings
            .iter()
            .any(|other| crate::explore::effect::same(other, &finding))
    };
    assert!(!still(&state));
    assert_eq!(state.place(), Place::Warnings);
    press(&mut state, &[Key::Char('u')]);
    assert_eq!(*state.build(), before);
    assert!(still(&state));
}

#[test]
fn an_accepted_danger_stays_listed_and_counted() {
    let mut state = with_a_danger();
    let rule = state.now.findings[0].rule.clone();
    let step = state.now.findings[0].step;
    press(&mut state, &[Key::Char('a')]);
    type_in(&mut state, "outdoors, with a mask");
    press(&mut state, &[Key::Enter]);
    let finding = &state.now.findings[0];
    assert_eq!(finding.rule, rule);
    assert_eq!(finding.accepted.as_deref(), Some("outdoors, with a mask"));
    assert_eq!(
        state.about.worst_of(step),
        Some(crate::rules::Severity::Danger)
    );
    assert!(state.is_unsaved());
    press(&mut state, &[Key::Char('a')]);
    assert_eq!(state.now.findings[0].accepted, None);
}

#[test]
fn an_accepted_hint_no_longer_counts_but_stays_listed() {
    let mut state = start();
    let place = state
        .now
        .findings
        .iter()
        .position(|finding| finding.severity == crate::rules::Severity::Hint)
        .expect("invented prices give a hint");
    let (rule, step) = (
        state.now.findings[place].rule.clone(),
        state.now.findings[place].step,
    );
    let mut topics = state.about.topics().iter();
    let row = topics.position(|topic| topic.places.contains(&place));
    press(&mut state, &[Key::Char('w')]);
    press(&mut state, &vec![Key::Down; row.expect("listed")]);
    press(&mut state, &[Key::Char('a'), Key::Enter]);
    assert!(
        state
            .now
            .findings
            .iter()
            .any(|finding| finding.rule == rule && finding.accepted.is_some())
    );
    assert_ne!(
        state.about.worst_of(step),
        Some(crate::rules::Severity::Hint)
    );
}
