//! The table of keys: no key means two things, every place has a way back, letters stay letters.

use super::*;

fn here(place: Place) -> impl Iterator<Item = &'static Binding> {
    TABLE.iter().filter(move |one| one.places.contains(&place))
}

#[test]
fn no_key_means_two_things_in_one_place() {
    for &place in Place::ALL {
        let mut seen: Vec<(Key, &Binding)> = Vec::new();
        for binding in here(place) {
            for &key in binding.keys.iter() {
                if let Some((_, other)) = seen.iter().find(|(known, _)| *known == key) {
                    panic!(
                        "{key} in {place:?}: {:?} and {:?}",
                        other.long, binding.long
                    );
                }
                seen.push((key, binding));
            }
        }
    }
}

#[test]
fn every_place_has_a_way_back_and_help() {
    for &place in Place::ALL {
        let has = |action| here(place).any(|binding| binding.action == action);
        assert!(
            has(Action::Back) || place == Choices,
            "{place:?} has no way back"
        );
        assert!(has(Action::Help) || place == Help, "{place:?} has no help");
        assert!(has(Action::Quit), "{place:?} cannot be quit");
    }
}

#[test]
fn every_binding_is_described() {
    for binding in TABLE {
        assert!(binding.long.ends_with('.'), "{:?}", binding.keys);
        assert!(!binding.places.is_empty() && !binding.keys.is_empty());
    }
}

#[test]
fn letters_stay_letters_where_text_is_typed() {
    for &place in TEXT {
        for letter in ('a'..='z')
            .chain('A'..='Z')
            .chain('0'..='9')
            .chain(",. %/".chars())
        {
            assert_eq!(
                Keymap::default().action(place, Char(letter)),
                None,
                "{letter} in {place:?}"
            );
        }
    }
}

/// Lists that follow from others are written out, since the table is a constant.
#[test]
fn places_that_follow_from_others_are_all_listed() {
    let without = |all: &[Place], left_out: &[Place]| -> Vec<Place> {
        let all = all.iter().filter(|place| !left_out.contains(place));
        all.copied().collect()
    };
    assert_eq!(JUMPS, without(MOVES, TEXT));
    let mut help = TABLE.iter().filter(|one| one.action == Action::Help);
    let (Some(by_letter), Some(by_key), None) = (help.next(), help.next(), help.next()) else {
        panic!("two rows of help");
    };
    assert_eq!(*by_key.places, without(TEXT, &[Number]));
    let by_letter: Vec<Place> = by_letter.places.to_vec();
    let others = without(ALL, &[&[Help], &*by_key.places].concat());
    assert_eq!(without(&others, &by_letter), []);
    assert_eq!(without(&by_letter, &others), []);
}
