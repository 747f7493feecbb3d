//! Layers: what they add, replace and refuse.

use std::fs;

use super::*;
use crate::catalogue::PartKind;
use crate::store::own_parts;

const TUBE: &str = "[[tube]]\nid = \"tube-own\"\ntitle = \"own\"\nsource = \"measured here\"\nwidth_mm = 80.0\nheight_mm = 80.0\nwall_mm = 4.0\n";

fn folder(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().expect("a parent")).expect("made");
        fs::write(path, text).expect("written");
    }
    folder
}

fn with(folder: &tempfile::TempDir) -> Result<Catalogue, FileError> {
    load(&[folder.path().to_owned()])
}

#[test]
fn what_is_built_in_loads_without_a_flaw() {
    let catalogue = load(&[]).unwrap_or_else(|error| panic!("{error}"));
    assert!(catalogue.tubes.len() >= 20 && !catalogue.price_books.is_empty());
}

/// Alone it is read by a shorter way, which looks for nothing that may be wrong.
#[test]
fn what_is_built_in_is_the_same_alone_and_below_a_layer() {
    let alone = load(&[]).unwrap_or_else(|error| panic!("{error}"));
    let below = with(&folder(&[("nothing.toml", "# nothing\n")]));
    let below = below.unwrap_or_else(|error| panic!("{error}"));
    for &kind in PartKind::ALL {
        let told = |catalogue: &Catalogue| {
            let parts = catalogue.of_kind(kind).into_iter();
            let each = parts.map(|part| format!("{} {}", part.id(), part.title()));
            each.collect::<Vec<_>>()
        };
        assert_eq!(told(&alone), told(&below), "{kind:?}");
        let priced = |catalogue: &Catalogue| {
            let parts = catalogue.of_kind(kind).into_iter();
            let each = parts.map(|part| format!("{:?}", catalogue.offer_of(part.id())));
            each.collect::<Vec<_>>()
        };
        assert_eq!(priced(&alone), priced(&below), "{kind:?}");
    }
    let told = |one: &Catalogue| {
        format!(
            "{:?}{:?}{:?}{:?}{:?}{:?}{:?}{:?}{:?}{:?}",
            one.price_books,
            one.order_stages,
            one.quantities,
            one.yearly,
            one.tasks,
            one.glossary,
            one.field_texts,
            one.own_rules,
            one.own,
            one.said
        )
    };
    assert_eq!(told(&alone), told(&below));
}

/// They were baked one behind the other, each with places from its own beginning.
#[test]
fn entries_that_are_built_in_have_the_places_that_their_text_has() {
    for source in built_in() {
        let file = source.read().unwrap_or_else(|error| panic!("{error}"));
        for (record, place) in file.entries() {
            if let Record::Part(id) = record {
                let behind = &source.text()[place.start..];
                let entry = behind.split("\n[[").next().unwrap_or_default();
                assert!(entry.contains(id.as_str()), "{id} in {}", source.name);
            }
        }
    }
}

#[test]
fn a_later_layer_adds_and_replaces_entries() {
    let first = folder(&[("deep/er/one.toml", TUBE), ("notes.txt", "no part")]);
    let second = folder(&[("two.toml", &TUBE.replace("\"own\"", "\"replaced\""))]);
    let layers = [first.path().to_owned(), second.path().to_owned()];
    let title = |folders| {
        let catalogue = load(folders).unwrap_or_else(|error| panic!("{error}"));
        let (kind, part) = catalogue.part("tube-own").expect("added");
        assert_eq!(kind, PartKind::Tube);
        part.title().to_owned()
    };
    assert_eq!(title(&layers[..1]), "own");
    assert_eq!(title(&layers), "replaced");
}

#[test]
fn an_id_twice_in_one_layer_names_both_places() {
    let layer = folder(&[("a.toml", &format!("# first\n{TUBE}")), ("b.toml", TUBE)]);
    let error = with(&layer).expect_err("twice").to_string();
    assert!(
        error.contains("b.toml:1:") && error.contains("a.toml:2:"),
        "{error}"
    );
    assert!(error.contains("\"tube-own\""), "{error}");
}

#[test]
fn a_quantity_twice_in_one_layer_names_both_places() {
    let rule = "[[quantity]]\npart = \"sundry-own\"\nstep = \"drive\"\nper = \"motor\"\neach = \"1\"\nwhy = \"each motor\"\nsource = \"counted\"\n";
    let layer = folder(&[("a.toml", &format!("{rule}\n{rule}"))]);
    let error = with(&layer).expect_err("twice").to_string();
    assert!(
        error.contains("a.toml:9:") && error.contains("a.toml:1:"),
        "{error}"
    );
}

/// Each at the line of the key that is wrong.
#[test]
fn entries_that_make_no_sense_are_told_with_their_places() {
    let thick = TUBE.replace("wall_mm = 4.0", "wall_mm = 30.0");
    let other = thick.replace("tube-own", "tube-other");
    let layer = folder(&[("a.toml", &format!("\n{thick}\n{other}"))]);
    let error = with(&layer).expect_err("too thick").to_string();
    let lines: Vec<&str> = error.lines().collect();
    assert_eq!(lines.len(), 2, "{error}");
    assert!(
        lines[0].contains("a.toml:7:1: ") && lines[0].contains("tube-own: height_mm"),
        "{error}"
    );
    assert!(lines[1].contains("a.toml:15:1: "), "{error}");
}

#[test]
fn slips_in_a_part_are_told_in_plain_words() {
    let slip = |from: &str, to: &str| {
        with(&folder(&[("a.toml", &TUBE.replace(from, to))]))
            .expect_err("a slip")
            .to_string()
    };
    let error = slip("wall_mm", "wal_mm");
    assert!(
        error.contains("a.toml:7:1: ") && error.contains("did you mean \"wall_mm\""),
        "{error}"
    );
    let error = slip("80.0\nh", "\"80 mm\"\nh");
    assert!(
        error.contains("a.toml:5:12: ") && error.contains("a number in mm without quotes"),
        "{error}"
    );
    let error = slip("80.0\nh", "nan\nh");
    assert!(
        error.contains("a.toml:5:12: ") && error.contains("not NaN"),
        "{error}"
    );
    let error = slip("width_mm = 80.0", "width_mm = -80.0");
    assert!(
        error.contains("a.toml:5:12: ") && error.contains("expected more than 0, found -80 mm"),
        "{error}"
    );
    let error = slip("wall_mm = 4.0", "");
    assert!(
        error.contains("a.toml:1:1: ") && error.contains("\"wall_mm\" (Wall thickness) is missing"),
        "{error}"
    );
    let error = slip("[[tube]]", "[[tub]]");
    assert!(
        error.contains("a.toml:1:3: ") && error.contains("did you mean \"tube\""),
        "{error}"
    );
    let error = slip("tube-own", "Tube Own");
    assert!(
        error.contains("a.toml:2:6: ") && error.contains("is not an id"),
        "{error}"
    );
}

#[test]
fn all_keys_that_a_part_lacks_are_told_at_once() {
    let bare = folder(&[("a.toml", "\n[[tube]]\nid = \"mine\"\ntitle = \"mine\"\n")]);
    let error = with(&bare).expect_err("half a tube").to_string();
    let message = "a.toml:2:1: the keys \"source\" (Where the figures come from), \
                   \"height_mm\" (Height), \"width_mm\" (Width), \"wall_mm\" (Wall thickness) \
                   are missing; `gantrywright parts tube --fields` tells what each key takes";
    assert!(error.ends_with(message), "{error}");
    let shipped = load(&[]).expect("the shipped catalogue");
    for &kind in PartKind::ALL.iter().filter(|kind| kind.has_form()) {
        let bare = format!("[[{}]]\nid = \"mine\"\n", kind.key());
        let error = with(&folder(&[("a.toml", &bare)])).expect_err("next to nothing");
        let told = error.to_string();
        assert!(told.ends_with("tells what each key takes"), "{told}");
        // Once they are all there, none is missing any more.
        let like = *shipped.of_kind(kind).first().expect("one of each kind");
        let like = own_parts::entry(&shipped, kind, like.id()).expect("in a file");
        let mut whole = bare;
        for key in error.message.split('"').skip(1).step_by(2) {
            whole += &format!("{key} = {}\n", like[key].to_string().trim());
        }
        if let Err(error) = with(&folder(&[("a.toml", &whole)])) {
            assert!(!error.message.contains("missing"), "{error}\n{whole}");
        }
    }
}

#[cfg(unix)]
#[test]
fn links_in_a_circle_end() {
    let layer = folder(&[("parts/one.toml", TUBE)]);
    std::os::unix::fs::symlink(layer.path(), layer.path().join("parts/up")).expect("linked");
    with(&layer).unwrap_or_else(|error| panic!("{error}"));
}

/// What the build script parsed is what the texts say, entry by entry and place by place.
#[test]
fn what_was_parsed_is_what_stands_there() {
    for (file, parsed) in embedded::parsed_catalogue() {
        let parsed: CatalogueFile = parsed.read().expect("a file");
        let read = CatalogueFile::read(file.text()).expect("a file");
        assert_eq!(format!("{parsed:?}"), format!("{read:?}"), "{}", file.name);
        assert!(!file.text().is_empty());
    }
    let on_disk = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("configs/sites.toml");
    let sites = embedded::catalogue()
        .iter()
        .find(|file| file.name == "sites.toml");
    assert_eq!(
        sites.expect("sites").text(),
        fs::read_to_string(on_disk).expect("a file")
    );
}
