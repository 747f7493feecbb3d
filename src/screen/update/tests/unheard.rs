//! Keys that mean nothing where they are pressed: said once, and nothing is taken away by them.

use super::*;

fn is_drawn(state: &mut State, key: Key) -> bool {
    let reaction = update(state, Message::Key(key));
    assert_eq!(reaction.task, None);
    reaction.redraw
}

fn idle(text: &str) -> Option<Notice> {
    Some(Notice::Idle(text.to_owned()))
}

#[test]
fn a_key_that_means_nothing_on_a_page_says_so_once() {
    for (page, place, key) in [
        (Key::Char('7'), Place::WhatIf, Key::Char('v')),
        (Key::Char('v'), Place::Variants, Key::Char('7')),
        (Key::Char('w'), Place::Warnings, Key::Char('s')),
        (Key::Char('p'), Place::Picture, Key::F(7)),
    ] {
        let mut state = start();
        press(&mut state, &[page]);
        assert_eq!(state.place(), place);
        assert!(is_drawn(&mut state, key));
        let said = idle(&format!("{key} does nothing here; ? lists the keys"));
        assert_eq!(state.notice, said);
        assert!(!is_drawn(&mut state, key), "once");
        assert_eq!(state.notice, said);
        assert!(is_drawn(&mut state, Key::Char('~')), "another key");
        assert_eq!(state.place(), place);
        press(&mut state, &[Key::Down]);
        assert_eq!(state.notice, None, "until a key does something");
    }
}

/// The help lists the keys itself: no key is named that would lead there.
#[test]
fn the_key_that_lists_the_others_is_named_where_there_is_one() {
    let mut state = start();
    press(&mut state, &[Key::Char('?')]);
    assert!(is_drawn(&mut state, Key::Char('v')));
    assert_eq!(state.notice, idle("v does nothing here"));
}

#[test]
fn neither_letters_of_a_text_nor_moves_say_that_they_do_nothing() {
    let mut state = start();
    press(&mut state, &[Key::Char('S')]);
    assert!(is_drawn(&mut state, Key::Char('v')));
    assert!(!is_drawn(&mut state, Key::F(7)));
    assert_eq!(state.notice, None);
    press(&mut state, &[Key::Esc, Key::Char('w')]);
    for key in [Key::Right, Key::Esc, Key::End, Key::Down] {
        press(&mut state, &[key]);
        assert_eq!(state.notice, None, "{key}");
    }
    let mut state = start();
    assert!(!is_drawn(&mut state, Key::Left));
    assert_eq!(state.notice, None);
}

#[test]
fn a_message_stays_when_a_key_does_nothing() {
    for message in [
        Notice::Failed("the disk is full".to_owned()),
        Notice::Done("thrown away".to_owned()),
    ] {
        let mut state = start();
        state.notice = Some(message.clone());
        assert!(!is_drawn(&mut state, Key::F(7)));
        assert_eq!(state.notice, Some(message));
    }
}

#[test]
fn what_others_do_is_told_in_its_place() {
    let mut state = start();
    press(&mut state, &[Key::F(7)]);
    update(
        &mut state,
        Message::Others(Others::Unknown("why".to_owned())),
    );
    assert!(matches!(state.notice, Some(Notice::Failed(_))));
}
