//! The groups of the page of figures.

use super::*;
use crate::assessment::assess;
use crate::explain::Recorder as _;
use crate::store::library;
use crate::units::Amount;

fn figures(paths: &[&'static str]) -> Figures {
    let named: Vec<_> = paths.iter().map(|path| (*path, *path)).collect();
    called(&named)
}

/// Figures by path and title.
fn called(named: &[(&'static str, &'static str)]) -> Figures {
    let catalogue = library::load(&[]).unwrap_or_else(|error| panic!("{error}"));
    let mut notes = Notes::default();
    for (path, title) in named {
        notes.note(|| Derivation::of(*path, *title, Amount::plain(1.0)));
    }
    let today = jiff::civil::date(2026, 11, 25);
    let now = assess(&catalogue, &Build::default(), today).expect("a build");
    let mut figures = Figures::default();
    figures.take(Rc::new(now), notes, &catalogue);
    figures
}

fn titles(figures: &Figures) -> Vec<String> {
    let rows = figures.rows().iter().map(|row| match row {
        Row::Group { title, count, .. } => format!("{title} {count}"),
        Row::Figure { path, .. } => path.clone(),
    });
    rows.collect()
}

const CUT: &str = "cutting.softwood.mill-6mm-2f.slot.depth_mm";

#[test]
fn groups_stand_in_their_order_and_open_one_by_one() {
    let mut figures = figures(&[CUT, "axes.Y.step_um", "cost.likely", "axes.Y.thrust_n"]);
    assert_eq!(titles(&figures), ["Cost 1", "Axis Y 2", "Cutting 1"]);
    figures.point(1);
    figures.toggle();
    assert_eq!(titles(&figures)[2], "axes.Y.step_um");
    figures.point(3);
    figures.fold();
    assert_eq!(figures.cursor(), 1, "the cursor goes to the head");
    assert_eq!(titles(&figures).len(), 3);
}

#[test]
fn a_cut_is_found_by_material_tool_and_engagement() {
    let mut figures = figures(&[CUT]);
    for row in 0..4 {
        figures.point(row);
        figures.toggle();
    }
    let rows = titles(&figures);
    assert_eq!(rows[0], "Cutting 1");
    assert_eq!(rows[1], "softwood 1");
    assert_eq!(rows[2], "End mill 6 mm, 2 flutes 1");
    assert_eq!(rows[3..], ["slot 1".to_owned(), CUT.to_owned()]);
}

#[test]
fn what_is_found_says_in_which_groups_it_is() {
    let mut figures = called(&[(CUT, "Depth"), ("job.depth_mm", "Depth of the slot")]);
    figures.field = "depth".into();
    figures.look();
    let within = figures.rows().iter().map(|row| match row {
        Row::Group { title, .. } => panic!("the group {title}"),
        Row::Figure { within, .. } => within.as_str(),
    });
    let within: Vec<&str> = within.collect();
    assert_eq!(within, ["softwood, End mill 6 mm, 2 flutes, slot", ""]);
}

#[test]
fn points_in_ids_part_no_groups() {
    let catalogue = library::load(&[]).unwrap_or_else(|error| panic!("{error}"));
    let today = jiff::civil::date(2026, 11, 25);
    let now = assess(&catalogue, &Build::default(), today).expect("a build");
    let names = groups_of(
        "cutting.softwood.mill-3.175mm-2f.half.rpm",
        &catalogue,
        &now,
    );
    let keys: Vec<&str> = names.iter().map(|(key, _)| key.as_str()).collect();
    assert_eq!(
        keys,
        [
            "cutting",
            "cutting.softwood",
            "cutting.softwood.mill-3.175mm-2f",
            "cutting.softwood.mill-3.175mm-2f.half"
        ]
    );
}

#[test]
fn a_path_of_no_known_form_is_listed_too() {
    let figures = figures(&["odd", "cutting.x", "first_cut.a.b", "cutting"]);
    assert_eq!(titles(&figures), ["Cutting 2", "Odd 1", "First cut 1"]);
}
