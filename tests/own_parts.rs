//! Parts of one's own on the screen: a form for every kind, each fault at its field in the words
//! of the reader of files, and the way from a key to a saved build.

use std::path::Path;

use gantrywright::build::{Build, Value};
use gantrywright::catalogue::fields::Takes;
use gantrywright::catalogue::{Catalogue, CatalogueFile, Id, PartKind};
use gantrywright::money::Currency;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::own_part::{Opening, OwnPart};
use gantrywright::screen::state::{Layer, Notice, State};
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Fresh, Message, Outcome, Task, update};
use gantrywright::store::own_parts::{self, What, make};
use gantrywright::store::{bundle, library};
use gantrywright::units::Shown;

#[path = "common/pty.rs"]
#[allow(dead_code, reason = "each test file uses a part of it")]
mod pty;
#[path = "common/screen.rs"]
#[allow(dead_code, reason = "each test file uses a part of it")]
mod screen;

use screen::{draw, go_to, open, page, press, rows, type_in};

fn catalogue() -> Catalogue {
    library::load(&[]).expect("the shipped catalogue")
}

fn opening(catalogue: &Catalogue) -> Opening<'_> {
    Opening {
        catalogue,
        shown: Shown::PLAIN,
        currency: Currency::EUR,
    }
}

fn kinds() -> impl Iterator<Item = PartKind> {
    PartKind::ALL
        .iter()
        .copied()
        .filter(|kind| kind.is_bought())
}

/// The first part of a kind.
fn first(catalogue: &Catalogue, kind: PartKind) -> Id {
    let parts = catalogue.of_kind(kind);
    parts.first().expect("one of each kind").id().clone()
}

#[test]
fn every_field_of_every_kind_has_its_words() {
    let catalogue = catalogue();
    let mut mute = Vec::new();
    for kind in kinds() {
        for field in kind.fields().iter().filter(|field| field.key != "id") {
            match catalogue.field_text(kind, field.key) {
                Some(text) => {
                    let (label, means) = (&text.label, &text.means);
                    assert!(label.chars().count() <= 30, "{label} is too long");
                    assert!(means.ends_with('.'), "{means}");
                    assert!(
                        text.find.is_empty() || text.find.ends_with('.'),
                        "{}",
                        text.find
                    );
                }
                None => mute.push(format!("{} of {}", field.key, kind.key())),
            }
        }
    }
    assert!(mute.is_empty(), "nothing is said about {mute:#?}");
    // Nothing is said about what is not there.
    for text in &catalogue.field_texts {
        let of = kinds().filter(|kind| {
            text.kinds.is_empty() || text.kinds.iter().any(|name| name == kind.key())
        });
        let mut fields = of.flat_map(PartKind::fields);
        assert!(fields.any(|field| field.key == text.key), "{text:?}");
        for name in &text.kinds {
            let kind = kinds().find(|kind| kind.key() == name).expect("a kind");
            let known = kind.fields().iter().any(|field| field.key == text.key);
            assert!(known, "{} of {name}", text.key);
        }
    }
}

/// The model of a part, spelled out, without what is told apart on purpose.
fn model(catalogue: &Catalogue, kind: PartKind, id: &str) -> String {
    let (_, part) = catalogue.part(id).expect("there");
    let table = own_parts::entry(catalogue, kind, part.id()).expect("in a file");
    let text = format!("[[{}]]\n{table}", kind.key());
    let file: CatalogueFile = toml::from_str(&text).expect("a part");
    let all = format!("{file:?}");
    let start = all.find("source: ").expect("a source");
    let rest = &all[start..];
    // Behind the remark stand the fields of the kind, up to the place in the file.
    let fields = rest.split_once("note: ").expect("a remark").1;
    let fields = fields.trim_start_matches("None").to_owned();
    let fields = match fields.strip_prefix("Some(\"") {
        Some(rest) => rest.split_once("\")").expect("a text").1.to_owned(),
        None => fields,
    };
    let end = fields.find("span").unwrap_or(fields.len());
    fields[..end].to_owned()
}

#[test]
fn an_unchanged_copy_of_every_part_is_kept_and_is_the_same_part() {
    let shipped = catalogue();
    let folder = tempfile::tempdir().expect("a folder");
    for kind in kinds() {
        let like = first(&shipped, kind);
        let form = OwnPart::like(opening(&shipped), kind, &like).expect("a form");
        assert_eq!(form.faults, [], "{kind:?}");
        let change = form.kept().expect("all of it makes sense");
        let made = make(&change, folder.path(), &[], screen_day()).expect("kept");
        let (of, part) = made.catalogue.part(change.id.as_str()).expect("kept");
        assert_eq!(of, kind);
        assert!(part.title().starts_with("My "), "{}", part.title());
        assert_eq!(
            model(&made.catalogue, kind, change.id.as_str()),
            model(&shipped, kind, like.as_str()),
            "{kind:?}"
        );
    }
    let all = library::load(&[folder.path().to_owned()]).expect("loads again");
    assert_eq!(all.own.len(), kinds().count());
}

fn screen_day() -> jiff::civil::Date {
    jiff::civil::date(2026, 11, 25)
}

/// What the loader says of a file with one key changed.
fn by_file(
    table: &toml_edit::Table,
    kind: PartKind,
    key: &str,
    value: Option<toml_edit::Item>,
) -> String {
    let mut table = table.clone();
    match value {
        Some(value) => table.insert(key, value),
        None => table.remove(key),
    };
    let folder = tempfile::tempdir().expect("a folder");
    let text = format!("[[{}]]\n{table}", kind.key());
    std::fs::write(folder.path().join("p.toml"), text).expect("written");
    match library::load(&[folder.path().to_owned()]) {
        Ok(_) => String::new(),
        Err(error) => error.message,
    }
}

#[test]
fn each_number_out_of_range_gives_the_message_of_the_file_at_its_field() {
    let shipped = catalogue();
    let mut tried = 0;
    for kind in kinds() {
        let like = first(&shipped, kind);
        let mut form = OwnPart::like(opening(&shipped), kind, &like).expect("a form");
        let change = form.kept().expect("fine");
        let What::Put { text, .. } = &change.what else {
            panic!("kept")
        };
        let table: toml_edit::DocumentMut = text.parse().expect("a table");
        for (at, field) in fields_of(&form) {
            if !matches!(field, Takes::Number(_) | Takes::Whole(_)) {
                continue;
            }
            let key = key_of(kind, &form, at);
            let before = form.rows[at].shown().to_owned();
            form.at = at;
            set(&mut form, "-1000000000", &shipped);
            let told = form.fault(at).expect("refused").to_owned();
            let said = by_file(&table, kind, key, Some(toml_edit::value(-1_000_000_000)));
            assert_eq!(told, said, "{key} of {kind:?}");
            set(&mut form, "abc", &shipped);
            let told = form.fault(at).expect("refused");
            assert!(told.contains("not a number"), "{key}: {told}");
            if !form.rows[at].optional {
                set(&mut form, "", &shipped);
                let told = form.fault(at).expect("needed").to_owned();
                assert_eq!(told, by_file(&table, kind, key, None), "{key} of {kind:?}");
            }
            set(&mut form, &before, &shipped);
            assert_eq!(form.faults, [], "{key} of {kind:?}");
            tried += 1;
        }
    }
    assert!(tried > 150, "{tried}");
}

fn fields_of(form: &OwnPart) -> Vec<(usize, Takes)> {
    use gantrywright::screen::own_part::Of;
    let rows = form.rows.iter().enumerate();
    let fields = rows.filter_map(|(at, row)| match &row.of {
        Of::Field(_, takes) => Some((at, takes.clone())),
        _ => None,
    });
    fields.collect()
}

fn key_of(kind: PartKind, form: &OwnPart, at: usize) -> &'static str {
    use gantrywright::screen::own_part::Of;
    let Of::Field(key, _) = form.rows[at].of else {
        panic!("no field of {kind:?}");
    };
    key
}

fn set(form: &mut OwnPart, text: &str, catalogue: &Catalogue) {
    *form.input().expect("a text") = text.into();
    form.check(catalogue);
}

#[test]
fn units_words_and_prices_are_read_as_they_are_meant() {
    let shipped = catalogue();
    let like = Id::new("stepper-17-0.45").expect("an id");
    let mut form = OwnPart::like(opening(&shipped), PartKind::Stepper, &like).expect("a form");
    let at = |form: &OwnPart, label: &str| {
        let found = form.rows.iter().position(|row| row.label == label);
        found.unwrap_or_else(|| panic!("no {label}"))
    };
    form.at = at(&form, "Holding torque");
    set(&mut form, "170 oz-in", &shipped);
    assert_eq!(form.faults, []);
    form.at = at(&form, "Mass");
    set(&mut form, "1 lb", &shipped);
    form.at = at(&form, "Detent torque");
    set(&mut form, "9 mm", &shipped);
    let told = form.fault(form.at).expect("no torque").to_owned();
    assert!(told.contains("mm is a unit of length"), "{told}");
    set(&mut form, "5", &shipped);
    let told = form.fault(form.at).expect("too much");
    assert_eq!(told, "detent_nm must not be above holding_nm");
    set(&mut form, "20 Ncm", &shipped);
    form.at = at(&form, "Price of one");
    set(&mut form, "12 XAF", &shipped);
    assert!(
        form.fault(form.at)
            .is_some_and(|told| told.contains("no price book has a rate"))
    );
    set(&mut form, "12,50", &shipped);
    form.at = at(&form, "Mounting face");
    assert!(form.pick(true, &shipped));
    let change = form.kept().expect("fine");
    let What::Put { text, price } = &change.what else {
        panic!("kept")
    };
    // 170 ozf·in by NIST SP 811: 170 times 7.061 552 mN·m.
    assert!(text.contains("holding_nm = 1.2004"), "{text}");
    assert!(text.contains("mass_kg = 0.45359237"), "{text}");
    assert!(
        text.contains("detent_nm = 0.2") && text.contains("nema-23"),
        "{text}"
    );
    let money = price.as_ref().expect("a price").money;
    assert_eq!(
        (money.amount.to_string().as_str(), money.currency),
        ("12.50", Currency::EUR)
    );
}

/// Carries tasks out as the loop does, in a folder.
fn carry_out(state: &mut State, tasks: Vec<Task>, folder: &Path) {
    for task in tasks {
        let Task::Own(change) = task else {
            panic!("{task:?}")
        };
        let made = make(&change, folder, &[], state.today);
        let outcome = match made {
            Ok(made) => Outcome::Own {
                change,
                catalogue: Fresh(std::sync::Arc::new(made.catalogue)),
                file: made.file,
            },
            Err(error) => Outcome::Failed(error.to_string()),
        };
        update(state, Message::Written(outcome));
    }
}

fn key(state: &mut State, key: Key) -> Vec<Task> {
    update(state, Message::Key(key)).tasks
}

fn told(state: &State) -> String {
    match &state.notice {
        Some(Notice::Done(text) | Notice::Failed(text)) => text.clone(),
        None => String::new(),
    }
}

#[test]
fn a_part_is_made_taken_kept_while_it_is_used_and_removed() {
    let folder = tempfile::tempdir().expect("a folder");
    let home = folder.path();
    let mut state = open(Build::default(), 80, 24);
    state.wishes.file = Some(home.join("settings.toml"));
    go_to(&mut state, "motor_x");
    press(&mut state, &[Key::Char('m')]);
    assert!(told(&state).contains("built in"), "{}", told(&state));
    press(&mut state, &[Key::Char('n')]);
    assert_eq!(state.place(), Place::OwnPart);
    type_in(&mut state, "Motor from the drawer");
    let tasks = key(&mut state, Key::Enter);
    assert_eq!(tasks.len(), 1, "{}", told(&state));
    carry_out(&mut state, tasks, home);
    assert_eq!(state.place(), Place::Options, "{}", told(&state));
    let row = state.options.current().expect("a row").clone();
    assert_eq!(row.full, "Motor from the drawer");
    assert_eq!(row.short, "Motor from the drawer");
    let shown = rows(&draw(&state, Colours::None, Glyphs::Unicode)).join("\n");
    assert!(shown.contains(">*"), "{shown}");
    assert!(matches!(row.effect, Some(Ok(_))), "it has a preview");
    press(&mut state, &[Key::Enter]);
    let id = Id::new("own-motor-from-the-drawer").expect("an id");
    let taken = |state: &State| {
        let choice = state.choice().expect("a choice");
        (choice.get)(state.build()) == Value::Part(Some(id.clone()))
    };
    assert!(taken(&state));
    // Changed while it is used: the figures follow.
    let before = state.now.machine.axes[gantrywright::build::Axis::X].rapid;
    press(&mut state, &[Key::Enter, Key::Char('m')]);
    let Some(Layer::OwnPart(form)) = state.layers.last_mut() else {
        panic!("a form")
    };
    form.at = form
        .rows
        .iter()
        .position(|row| row.label == "Holding torque")
        .expect("there");
    type_in(&mut state, "0,3 Nm");
    let tasks = key(&mut state, Key::Enter);
    carry_out(&mut state, tasks, home);
    let after = state.now.machine.axes[gantrywright::build::Axis::X].rapid;
    assert!(after < before, "a weaker motor is slower");
    press(&mut state, &[Key::Char('x')]);
    assert!(
        told(&state).contains("your build uses it"),
        "{}",
        told(&state)
    );
    press(&mut state, &[Key::Esc, Key::Char('u')]);
    assert!(!taken(&state));
    press(&mut state, &[Key::Enter]);
    while state
        .options
        .current()
        .is_some_and(|row| row.part.as_ref() != Some(&id))
    {
        press(&mut state, &[Key::Down]);
    }
    press(&mut state, &[Key::Char('x')]);
    assert!(told(&state).contains("undo or redo"), "{}", told(&state));
    let mut state = reopened(home);
    go_to(&mut state, "motor_x");
    while state
        .options
        .current()
        .is_some_and(|row| row.part.as_ref() != Some(&id))
    {
        press(&mut state, &[Key::Down]);
    }
    press(&mut state, &[Key::Char('x')]);
    assert_eq!(state.place(), Place::Question);
    press(&mut state, &[Key::Down]);
    let tasks = key(&mut state, Key::Enter);
    carry_out(&mut state, tasks, home);
    assert!(state.catalogue.part(id.as_str()).is_none());
}

#[test]
fn a_bundle_brings_its_own_parts() {
    let text = bundle::write("format = 1\n", "b.toml", &[]).expect("a bundle");
    let mut state = open(Build::default(), 80, 24);
    state.bundle = bundle::read(&text, "b.toml").expect("reads");
    go_to(&mut state, "motor_x");
    press(&mut state, &[Key::Char('n')]);
    assert_eq!(state.place(), Place::Options);
    assert!(told(&state).contains("a bundle brings"), "{}", told(&state));
}

/// The screen on the default build, with the parts of a folder.
fn reopened(home: &Path) -> State {
    let mut state = open(Build::default(), 80, 24);
    state.catalogue = library::load(&[home.to_owned()]).expect("loads");
    state.wishes.file = Some(home.join("settings.toml"));
    update(&mut state, Message::News);
    state
}

#[test]
fn the_form_fits_at_the_promised_sizes() {
    for kind in ["motor_x", "spindle", "controller", "vfd", "switch"] {
        let choice = gantrywright::build::choices::find(kind).expect("a choice");
        for (width, height) in screen::SIZES {
            let mut state = open(Build::default(), width, height);
            go_to(&mut state, choice.id);
            press(&mut state, &[Key::Char('n')]);
            assert_eq!(state.place(), Place::OwnPart, "{kind}");
            let Some(Layer::OwnPart(form)) = state.layers.last() else {
                panic!("a form")
            };
            for _ in 0..form.rows.len() {
                let page = page(&state, Glyphs::Unicode);
                let all = page.join("\n");
                // Texts that were typed may be longer than their field; nothing else is cut.
                let form_rows = page.iter().filter(|line| line.contains('…'));
                let cut: Vec<&String> = form_rows
                    .filter(|line| !line.contains("My ") && !line.contains("copied"))
                    .collect();
                assert!(
                    cut.is_empty() || width < 80,
                    "{kind} at {width}x{height}: {all}"
                );
                assert!(all.contains('>'), "{all}");
                press(&mut state, &[Key::Down]);
            }
        }
    }
}

#[test]
fn from_a_key_to_a_file_to_a_saved_build_that_is_assessed() {
    let home = tempfile::tempdir().expect("a folder");
    let config = home.path().join("config").to_string_lossy().into_owned();
    let file = home.path().join("router.toml");
    let variables = [
        ("XDG_CONFIG_HOME", config.as_str()),
        ("GANTRYWRIGHT_TODAY", "2026-11-26"),
    ];
    let mut session = pty::Session::start(&[], &variables);
    session.wait_for(">1 Working area");
    session.send("/motor_x\r");
    session.wait_for("n own part");
    session.send("n");
    session.wait_for("A part of your own: stepper motor");
    session.send("Motor from the drawer\r");
    session.wait_for("enter takes it");
    session.send("\r");
    session.wait_for("taken: ");
    session.send("s");
    session.wait_for("Save to which file?");
    session.send("\x15");
    session.send(&format!("{}\r", file.display()));
    session.wait_for("saved to");
    session.send("q");
    assert_eq!(session.finish().0, 0);
    let own = home.path().join("config/gantrywright/own-parts.toml");
    let text = std::fs::read_to_string(own).expect("the file");
    assert!(text.contains("title = \"Motor from the drawer\""), "{text}");
    let saved = std::fs::read_to_string(&file).expect("the build");
    assert!(saved.contains("own-motor-from-the-drawer"), "{saved}");
    let run = |args: &[&str], config: &str| {
        let mut command = assert_cmd::Command::cargo_bin("gantrywright").expect("built");
        command.env("XDG_CONFIG_HOME", config).args(args);
        command.output().expect("runs")
    };
    let path = file.to_string_lossy();
    let assessed = run(&["assess", &path], &config);
    assert!(
        assessed.status.code().is_some_and(|code| code < 2),
        "{assessed:?}"
    );
    let listed = run(&["parts", "--own"], &config);
    let listed = String::from_utf8_lossy(&listed.stdout).into_owned();
    assert!(
        listed.contains("Motor from the drawer") && listed.contains("your own, in"),
        "{listed}"
    );
    assert!(!listed.contains("ball screw"), "{listed}");
    // Elsewhere the part is missing, unless it goes along in a bundle.
    let elsewhere = home.path().join("elsewhere").to_string_lossy().into_owned();
    assert_eq!(run(&["assess", &path], &elsewhere).status.code(), Some(2));
    let bundle = home
        .path()
        .join("bundle.toml")
        .to_string_lossy()
        .into_owned();
    let made = run(&["bundle", &path, "--output", &bundle], &config);
    assert!(made.status.success(), "{made:?}");
    let assessed = run(&["assess", &bundle], &elsewhere);
    assert!(
        assessed.status.code().is_some_and(|code| code < 2),
        "{assessed:?}"
    );
}
