use super::*;
use crate::assessment::{assess, explain};
use crate::build::Build;
use crate::catalogue::Catalogue;
use crate::explain::{Derivation, Origin, Recorder as _, counted};
use crate::store::library;
use crate::units::Amount;

fn catalogue() -> Catalogue {
    library::load(&[]).expect("the embedded catalogue")
}

/// The whole way from a build to its assessment makes no derivation unless somebody asks.
#[test]
fn a_silent_assessment_derives_nothing() {
    let (catalogue, build) = (catalogue(), Build::default());
    let today = jiff::civil::date(2026, 11, 25);
    counted::take();
    let silent = assess(&catalogue, &build, today).expect("an assessment");
    assert_eq!(counted::take(), 0);
    let (loud, notes) = explain(&catalogue, &build, today).expect("an assessment");
    let made = counted::take();
    assert!(made > 300, "{made}");
    assert_eq!(made, notes.all().count(), "two derivations under one path");
    // Telling changes no figure.
    assert_eq!(
        json::json(&build, &silent, &[]),
        json::json(&build, &loud, &[])
    );
}

/// A figure whose inputs are figures: `a` of `b` and `c`, both of `d`.
fn chain() -> Notes {
    let mut notes = Notes::default();
    let figure = |path: &str, from: &[&str]| {
        let mut one = Derivation::of(path, format!("figure {path}"), Amount::of(2.0, "mm"));
        for from in from {
            one = one.with("x", *from, Amount::of(1.0, "mm"), Origin::figure(*from));
        }
        one.by("some sum", "y = Σ x").from("a handbook", "")
    };
    notes.note(|| figure("d", &[]));
    notes.note(|| figure("b", &["d"]));
    notes.note(|| figure("c", &["d"]));
    notes.note(|| figure("a", &["b", "c", "b"]));
    notes
}

#[test]
fn each_figure_behind_a_figure_is_explained_once() {
    let notes = chain();
    let family = Family::of(&notes, "a", false).expect("a family");
    let order: Vec<&str> = family.all().iter().map(|one| one.path.as_str()).collect();
    assert_eq!(order, ["a", "b", "d", "c"]);
    assert!(!family.goes_on);
    assert!(Family::of(&notes, "nothing", false).is_none());
    let text = text::family(
        &family,
        &Catalogue::default(),
        super::super::color::Paint::PLAIN,
    );
    assert!(
        text.starts_with("figure a: 2 mm\n  path      a\n"),
        "{text}"
    );
    assert!(text.contains("\n  figure b: 2 mm\n"), "{text}");
    assert!(text.contains("\n    figure d: 2 mm\n"), "{text}");
}

#[test]
fn many_figures_behind_one_are_left_for_those_who_ask() {
    let mut notes = chain();
    let many = (0..20).map(|number| format!("f{number}"));
    for path in many.clone() {
        notes.note(|| Derivation::of(path, "one", Amount::plain(1.0)));
    }
    notes.note(|| {
        many.fold(
            Derivation::of("sum", "all", Amount::plain(20.0)),
            |sum, path| sum.with("x", "one", Amount::plain(1.0), Origin::figure(path)),
        )
    });
    let few = Family::of(&notes, "sum", false).expect("a family");
    assert_eq!((few.all().len(), few.goes_on), (1, true));
    let deep = Family::of(&notes, "sum", true).expect("a family");
    assert_eq!((deep.all().len(), deep.goes_on), (21, false));
}
