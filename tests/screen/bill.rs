//! The page of the bill, as it is seen: totals always in sight, nothing cut off, the keys that
//! are true, at the promised sizes.

use crate::screen::{self, SIZES, around_cursor, draw, open, press, rows, type_in};
use gantrywright::build::{Build, Edit};
use gantrywright::catalogue::Unit;
use gantrywright::money::show::exact;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::store::library;
use gantrywright::units::System;
use gantrywright::words::Words as _;

fn shown(state: &State) -> Vec<String> {
    rows(&draw(state, Colours::None, Glyphs::Unicode))
}

fn bill(width: u16, height: u16) -> State {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let mut build = Build::default();
    for (choice, value) in [("budget", "7500 EUR"), ("machines", "2")] {
        Edit::parse(choice, value, &catalogue)
            .expect("a known choice")
            .apply(&mut build);
    }
    let mut state = open(build, width, height);
    press(&mut state, &[Key::Char('b')]);
    state
}

/// What stands below the steps: the title of the build may be cut, the page may not.
fn page(state: &State) -> Vec<String> {
    screen::page(state, Glyphs::Unicode)
}

#[test]
fn the_total_stands_there_wherever_the_cursor_is() {
    for (width, height) in SIZES {
        let mut state = bill(width, height);
        let total = exact(state.now.bill.total.likely, state.now.bill.currency);
        let wanted = format!("In all {total} EUR");
        for _ in 0..state.ledger.entries().len() {
            let page = page(&state);
            assert!(
                page.iter().any(|row| row.contains(&wanted)),
                "{width}x{height}: {page:#?}"
            );
            assert!(
                page.iter().any(|row| row.starts_with("> ")),
                "no cursor: {page:#?}"
            );
            press(&mut state, &[Key::Down]);
        }
    }
}

#[test]
fn nothing_on_the_page_is_cut_off() {
    for (width, height) in SIZES {
        for sorts in 0..5 {
            let mut state = bill(width, height);
            press(&mut state, &vec![Key::Char('o'); sorts]);
            // Page by page, until the cursor no longer moves.
            let mut before = usize::MAX;
            while before != state.ledger.cursor {
                before = state.ledger.cursor;
                let page = page(&state);
                let cut = page.iter().find(|row| row.contains('…'));
                assert_eq!(cut, None, "{width}x{height}, sorted {sorts}");
                press(&mut state, &[Key::PageDown]);
            }
        }
    }
}

#[test]
fn nothing_about_a_line_is_cut_off() {
    for (width, height) in [SIZES[0], SIZES[1]] {
        let mut state = bill(width, height);
        for _ in 0..state.ledger.entries().len() {
            press(&mut state, &[Key::Enter]);
            let page = page(&state);
            let cut = page.iter().skip(1).find(|row| row.contains('…'));
            assert_eq!(cut, None, "{width}x{height}");
            press(&mut state, &[Key::Esc, Key::Down]);
        }
        for keys in ["p", "m", "t"] {
            for key in keys.chars() {
                press(&mut state, &[Key::Home, Key::Char(key)]);
                let page = page(&state);
                let cut = page.iter().skip(1).find(|row| row.contains('…'));
                assert_eq!(cut, None, "{width}x{height} {key}");
                press(&mut state, &[Key::Esc]);
            }
        }
    }
}

/// A price is of one metre or kilogram, and what is in hand is typed in that: no feet or pounds
/// stand beside either.
#[test]
fn what_is_bought_keeps_its_unit_where_inches_are_shown() {
    let mut state = bill(120, 40);
    state.wishes.beside.units = Some(System::Inch);
    state.show_as_wished();
    let mut seen = 0;
    for place in 0..state.ledger.entries().len() {
        let line = state.ledger.entries()[place].line(&state.now);
        let unit = line.map(|line| line.unit);
        let Some(unit) = unit.filter(|unit| [Unit::Metre, Unit::Kilogram].contains(unit)) else {
            continue;
        };
        state.ledger.cursor = place;
        let behind = format!(" {} ", unit.title());
        let row = page(&state).into_iter().find(|row| row.starts_with("> "));
        assert!(row.is_some_and(|row| row.contains(&behind)), "{unit:?}");
        press(&mut state, &[Key::Enter]);
        let all = page(&state).join("\n");
        let quantity = all.lines().find(|row| row.contains(" needed, "));
        assert!(quantity.is_some_and(|row| row.contains(&behind)), "{all}");
        let priced = format!("Price of 1 {}", unit.title());
        assert!(all.contains(&priced), "{all}");
        press(&mut state, &[Key::Esc, Key::Char('p')]);
        let form = page(&state).join("\n");
        assert!(form.contains(&format!("> {priced}")), "{form}");
        press(&mut state, &[Key::Esc]);
        seen += 1;
    }
    assert!(seen > 5, "{seen}");
}

#[test]
fn all_totals_stand_under_the_bill_at_80_by_24() {
    let mut state = bill(80, 24);
    press(&mut state, &[Key::Char('m'), Key::Enter]);
    let text = shown(&state).join(" ");
    let bill = &state.now.bill;
    for (name, amount) in [
        ("goods", bill.goods.likely),
        ("freight", bill.freight.likely),
        ("duty", bill.duty.likely),
        ("tax", bill.tax.likely),
        ("spent", bill.spent),
        ("to spend", bill.to_spend),
        ("in the end", bill.forecast),
        ("first cut", bill.first_cut),
        ("2 machines, each", bill.per_machine()),
    ] {
        let wanted = format!("{name} {}", exact(amount, bill.currency));
        assert!(text.contains(&wanted), "{wanted}: {text}");
    }
    assert!(text.contains("budget 7 500"), "{text}");
    // Each of the sums says which one it is, on a line of its own.
    let rows = shown(&state);
    for (sum, words) in [
        ("In all ", "at its likely value"),
        ("from ", "at its least, every price at its most"),
        ("expect ", "some dearer, some cheaper"),
        ("first cut ", "the rest can wait"),
    ] {
        let row = rows.iter().find(|row| row.trim_start().starts_with(sum));
        assert!(
            row.is_some_and(|row| row.contains(words)),
            "{sum}: {rows:#?}"
        );
    }
}

#[test]
fn the_side_pane_tells_what_was_spent() {
    let mut state = bill(80, 24);
    let pane = |state: &State| shown(state).join(" ");
    press(&mut state, &[Key::Esc]);
    assert!(!pane(&state).contains("spent "));
    press(&mut state, &[Key::Char('b'), Key::Char('m')]);
    type_in(&mut state, "100");
    press(&mut state, &[Key::Enter, Key::Esc]);
    assert!(pane(&state).contains("spent 100, "), "{}", pane(&state));
    assert!(pane(&state).contains(" end "), "{}", pane(&state));
}

#[test]
fn the_row_of_keys_says_what_is_true() {
    let mut state = bill(120, 40);
    let keys = |state: &State| shown(state).pop().unwrap_or_default();
    assert!(keys(&state).contains("h have "), "{}", keys(&state));
    assert!(!keys(&state).contains("undo"));
    press(&mut state, &[Key::Char('h')]);
    assert!(keys(&state).contains("h have not"), "{}", keys(&state));
    assert!(keys(&state).contains("u undo"));
    // Freight has no price of its own and cannot lie in the workshop.
    press(&mut state, &[Key::End]);
    assert!(!keys(&state).contains("p price"), "{}", keys(&state));
    assert!(!keys(&state).contains("h have"));
    assert!(keys(&state).contains("m pay"));
}

#[test]
fn the_cursor_of_the_terminal_stands_behind_what_is_typed() {
    let mut state = bill(80, 24);
    press(&mut state, &[Key::Char('p')]);
    type_in(&mut state, "26,40");
    let (before, _) = around_cursor(&state);
    assert!(before.ends_with("26,40"), "{before:?}");
}
