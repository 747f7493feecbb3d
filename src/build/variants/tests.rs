use super::*;
use crate::catalogue::Catalogue;

fn set(build: &Build, pairs: &[(&str, &str)]) -> Build {
    let mut build = build.clone();
    for (id, value) in pairs {
        Edit::parse(id, value, &Catalogue::default())
            .expect("a good edit")
            .apply(&mut build);
    }
    build
}

fn value(build: &Build, id: &str) -> String {
    let choice = crate::build::choices::find(id).expect("a choice");
    (choice.get)(build).to_string()
}

/// Main, `wide` from it, and `tall` from that.
fn family() -> Build {
    let wide = Build::default().branched(MAIN, "wide", "for doors");
    let wide = set(&wide.expect("free"), &[("travel_x_mm", "900")]);
    let tall = wide.branched("wide", "tall", "for moulds").expect("free");
    set(&tall, &[("travel_z_mm", "200")])
}

#[test]
fn a_variant_sets_what_differs_and_follows_in_the_rest() {
    let build = family();
    assert_eq!(build.variant_names(), ["main", "wide", "tall"]);
    assert_eq!(build.variant(), "tall");
    assert_eq!(build.changes_of("tall").len(), 1);
    assert_eq!(value(&build, "travel_x_mm"), "900");
    let main = build.switched(MAIN).expect("there");
    assert_eq!(value(&main, "travel_x_mm"), "600");
    // What is changed in the main build reaches whoever does not set it.
    let main = set(&main, &[("travel_y_mm", "700"), ("travel_x_mm", "800")]);
    let tall = main.switched("tall").expect("there");
    assert_eq!(value(&tall, "travel_y_mm"), "700");
    assert_eq!(value(&tall, "travel_x_mm"), "900");
    assert_eq!(value(&tall, "travel_z_mm"), "200");
    // There and back again is the same build.
    assert_eq!(tall.switched(MAIN).expect("there"), main);
    assert_eq!(main.switched("tall").expect("there"), tall);
}

#[test]
fn what_is_set_stays_set_where_the_other_says_the_same_by_now() {
    let main = family().switched(MAIN).expect("there");
    let main = set(&main, &[("travel_x_mm", "900")]);
    let wide = main.switched("wide").expect("there");
    let main = set(
        &wide.switched(MAIN).expect("there"),
        &[("travel_x_mm", "700")],
    );
    assert_eq!(
        value(&main.switched("wide").expect("there"), "travel_x_mm"),
        "900"
    );
    // What is put back to what the other says is no difference any more.
    let wide = set(
        &main.switched("wide").expect("there"),
        &[("travel_x_mm", "700")],
    );
    assert!(wide.changes_of("wide").is_empty());
}

#[test]
fn what_belongs_to_the_real_machine_is_shared() {
    let mut build = set(&family(), &[("measured_beam_wall_mm", "3.8")]);
    build.accepted.insert("a-rule".to_owned(), "why".to_owned());
    assert_eq!(build.changes_of("tall").len(), 1);
    let main = build.switched(MAIN).expect("there");
    assert_eq!(value(&main, "measured_beam_wall_mm"), "3.8");
    assert_eq!(main.accepted.len(), 1);
}

#[test]
fn removing_keeps_what_came_from_it_as_it_was() {
    let build = family().pinned(Some("wide")).expect("there");
    let without = build.without_variant("wide").expect("there");
    assert_eq!(without.variant_names(), ["main", "tall"]);
    assert_eq!(value(&without, "travel_x_mm"), "900");
    assert_eq!(without.came_from("tall"), Some(MAIN));
    assert_eq!(without.variants.baseline(), None);
    let back = without.switched(MAIN).expect("there");
    assert_eq!(
        value(&back.switched("tall").expect("there"), "travel_x_mm"),
        "900"
    );
    let without = build.without_variant("tall").expect("there");
    assert_eq!(without.variant(), "wide");
    assert!(build.without_variant(MAIN).is_err());
}

#[test]
fn renaming_reaches_whoever_names_it() {
    let build = family().pinned(Some("wide")).expect("there");
    let build = build.renamed("wide", "broad", "doors").expect("free");
    assert_eq!(build.variant_names(), ["main", "broad", "tall"]);
    assert_eq!(build.came_from("tall"), Some("broad"));
    assert_eq!(build.variants.baseline(), Some("broad"));
    assert_eq!(build.note_of("broad"), "doors");
    let build = build.renamed("tall", "high", "").expect("free");
    assert_eq!(build.variant(), "high");
    assert_eq!(build.changes_of("high").len(), 1);
    assert!(build.renamed("high", "Broad", "").is_err());
    assert!(build.renamed(MAIN, "first", "").is_err());
}

#[test]
fn names_are_checked() {
    let long = "x".repeat(LONGEST + 1);
    for bad in [
        "",
        " ",
        "a\tb",
        "a\u{202e}b",
        "main",
        "Main",
        "a,b",
        " a",
        &long,
    ] {
        assert!(check_name(bad).is_err(), "{bad:?}");
    }
    for good in ["a", "thicker wall", "für Türen", &long[1..]] {
        assert!(check_name(good).is_ok(), "{good:?}");
    }
    let hint = family().switched("wid").expect_err("unknown");
    assert!(hint.contains("wide"), "{hint}");
}

#[test]
fn circles_are_found_with_their_way() {
    let variant = |from: &str| Variant {
        note: String::new(),
        from: from.to_owned(),
        set: Vec::new(),
    };
    let named: IndexMap<String, Variant> = [("a", "b"), ("b", "c"), ("c", "b"), ("d", "main")]
        .map(|(name, from)| (name.to_owned(), variant(from)))
        .into();
    assert_eq!(circle(&named, "a"), None);
    assert_eq!(
        circle(&named, "b"),
        Some(["b", "c", "b"].map(str::to_owned).to_vec())
    );
    assert_eq!(circle(&named, "d"), None);
}
