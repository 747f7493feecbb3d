//! What a change costs the machine is told in full: cuts that go less well, axes that push less or
//! step more coarsely, and which parts the money is for.

use crate::common::{self, assessed, catalogue, today};
use crate::standing::{Standing, examples};
use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::edit::difference;
use gantrywright::build::{Axis, Build, choices};
use gantrywright::catalogue::{Catalogue, PartKind};
use gantrywright::explore::effect::missing_in;
use gantrywright::explore::remedy::cure;
use gantrywright::explore::trial::Bench;
use gantrywright::explore::{question, told};
use gantrywright::rules;
use gantrywright::units;
use gantrywright::words::Words as _;

/// What is lost from one build to another.
fn losses(catalogue: &Catalogue, before: &Build, after: &Build) -> Vec<(&'static str, String)> {
    let [was, is] = [before, after].map(|build| assess(catalogue, build, today()).expect("sound"));
    let edits = difference(before, after);
    let bench = Bench {
        catalogue,
        build: before,
        before: &was,
        today: today(),
    };
    told::losses(&bench, &edits, &is)
}

/// What one way is a loss is a gain on the way back; and a lead screw that no weight turns back
/// holds its axis, where a ball screw leaves that to the motor.
#[test]
fn gains_are_told_as_losses_are() {
    let catalogue = catalogue();
    let [lead, ball] = ["lead-screw-12x3", "ball-screw-12x4"]
        .map(|screw| common::build(&catalogue, &[("drive_z", screw)]));
    let [of_lead, of_ball] =
        [&lead, &ball].map(|build| assess(&catalogue, build, today()).expect("sound"));
    let words = |all: Vec<(&str, String)>, name: &str| {
        let mut all = all.into_iter();
        all.find(|(label, _)| *label == name)
            .map(|(_, words)| words)
    };
    let lost = words(losses(&catalogue, &lead, &ball), "axis Z").expect("a loss");
    assert!(
        lost.contains("without power the motor alone holds it"),
        "{lost}"
    );
    let there = told::gains(&of_lead, &of_ball, &catalogue);
    let there = words(there, "better Z").expect("a gain");
    let back = words(losses(&catalogue, &ball, &lead), "axis Z").expect("a loss");
    let thrust = |build: &Assessment| {
        units::show::number(units::n::from(build.machine.axes[Axis::Z].thrust), 0)
    };
    let (few, many) = (thrust(&of_lead), thrust(&of_ball));
    assert!(
        there.contains(&format!("thrust {few} -> {many} N")),
        "{there}"
    );
    assert!(
        back.contains(&format!("thrust {many} -> {few} N")),
        "{back}"
    );
}

/// A screw of twice the lead steps twice as far (ISO 3408-1, from memory: the lead is the way of
/// one turn) and so pushes less hard.
#[test]
fn a_longer_lead_costs_thrust_and_resolution() {
    let catalogue = catalogue();
    let [short, long] = ["ball-screw-16x5", "ball-screw-16x10"]
        .map(|screw| common::build(&catalogue, &[("drive_x", screw)]));
    let losses = losses(&catalogue, &short, &long);
    let (_, words) = losses
        .iter()
        .find(|(name, _)| *name == "axis X")
        .expect("a loss");
    let step = |build: &Build| {
        let step = common::machine(&catalogue, build).axes[Axis::X].step;
        format!("{:.1}", units::um::from(step))
    };
    let told = format!("one step {} -> {} µm", step(&short), step(&long));
    assert!(
        words.contains("thrust ") && words.contains(&told),
        "{words}"
    );
    assert!(
        !losses.iter().any(|(name, _)| *name == "axis Z"),
        "{losses:?}"
    );
}

/// Whatever spindle or beam takes the place of that of an example: each material that goes less
/// well is named, and no other.
#[test]
fn materials_that_go_less_well_are_named() {
    let catalogue = catalogue();
    let mut fell = 0;
    for (_, build) in examples(&catalogue) {
        let before = assess(&catalogue, &build, today()).expect("an example");
        let spindles = catalogue.of_kind(PartKind::Spindle).into_iter();
        let tubes = catalogue.of_kind(PartKind::Tube).into_iter();
        let parts = spindles
            .map(|one| ("spindle", one))
            .chain(tubes.map(|one| ("beam_tube", one)));
        for (choice, part) in parts {
            let other = common::with(&catalogue, &build, &[(choice, part.id().as_str())]);
            let after = assess(&catalogue, &other, today()).expect("a build");
            let bench = Bench {
                catalogue: &catalogue,
                build: &build,
                before: &before,
                today: today(),
            };
            let losses = told::losses(&bench, &difference(&build, &other), &after);
            let words = losses.iter().find(|(name, _)| *name == "cuts worse");
            let words = words.map_or("", |(_, words)| words);
            for material in catalogue.materials.values() {
                let verdict = |of: &Assessment| of.machine.cutting.verdict(&material.id);
                let (was, is) = (verdict(&before), verdict(&after));
                let named = format!("{} {} -> {}", material.title, was.title(), is.title());
                assert_eq!(words.contains(&named), is < was, "{named}: {words}");
                fell += usize::from(is < was);
            }
        }
    }
    assert!(fell > 5, "{fell}");
}

/// The cut that is shown of a material goes at least as well as the material is said to go, and
/// of such cuts none removes more.
#[test]
fn the_cut_that_is_shown_goes_as_well_as_the_material() {
    let catalogue = catalogue();
    let builds = common::random_builds(&catalogue, 41, 60).into_iter();
    for build in builds.chain(examples(&catalogue).into_iter().map(|(_, build)| build)) {
        let cutting = common::machine(&catalogue, &build).cutting;
        for material in catalogue.materials.values() {
            let verdict = cutting.verdict(&material.id);
            let Some(best) = cutting.best(&material.id) else {
                continue;
            };
            assert!(best.verdict >= verdict, "{}", material.id);
            let mut others = cutting
                .cuts
                .iter()
                .filter(|cut| cut.material == material.id);
            assert!(others.all(|cut| cut.verdict < verdict || cut.removal <= best.removal));
        }
    }
}

/// Where somebody found a second circuit in reach, no electrician lays one; its switch, breaker
/// and lead are needed all the same.
#[test]
fn a_circuit_that_is_there_is_not_laid() {
    let catalogue = catalogue();
    let used = [
        ("extractor", "extractor-shop-1200w"),
        ("extractor_circuit", "second"),
    ];
    let unknown = common::build(&catalogue, &used);
    let there = common::with(&catalogue, &unknown, &[("second_circuit", "there")]);
    let [before, after] =
        [&unknown, &there].map(|build| assess(&catalogue, build, today()).expect("a build"));
    let laid = |of: &Assessment| of.bill.line("service-second-circuit").is_some();
    assert!(laid(&before) && !laid(&after));
    assert!(after.bill.total.likely < before.bill.total.likely);
    for part in ["mains-lead", "breaker"] {
        let quantity = |of: &Assessment| of.bill.line(part).map(|line| line.quantity);
        assert_eq!(quantity(&before), quantity(&after), "{part}");
    }
    let words = told::money(&before, &after).unwrap_or_default();
    let title = before
        .bill
        .line("service-second-circuit")
        .map(|line| line.title.as_str());
    assert!(words.starts_with(title.expect("a line")), "{words}");
}

/// A socket carries nothing that hangs on a circuit which is not there; the remedy has it laid, or
/// hangs all on the first, whichever brings nothing as bad.
#[test]
fn a_circuit_that_is_missing_can_be_laid() {
    let catalogue = catalogue();
    let used = [
        ("site", "site-120v-15a"),
        ("extractor", "extractor-shop-120v"),
        ("extractor_circuit", "second"),
        ("second_circuit", "none"),
    ];
    let build = common::build(&catalogue, &used);
    let before = assess(&catalogue, &build, today()).expect("a build");
    assert!(before.lacks_circuit());
    let missing = before.findings.iter();
    let mut missing = missing.filter(|one| one.rule == rules::NO_SECOND_CIRCUIT);
    let missing = missing.next().expect("a finding");
    let edits = cure(&common::bench(&catalogue, &build, &before), missing);
    assert!(!edits.is_empty());
    let mut cured = build.clone();
    edits.iter().for_each(|edit| edit.apply(&mut cured));
    let after = assess(&catalogue, &cured, today()).expect("a build");
    assert!(!after.lacks_circuit());
    let laid = common::with(&catalogue, &build, &[("second_circuit", "to-be-laid")]);
    let laid = assess(&catalogue, &laid, today()).expect("a build");
    assert!(!laid.lacks_circuit() && laid.bill.line("service-second-circuit").is_some());
}

/// New warnings are told worst first.
#[test]
fn the_worst_new_warning_is_told_first() {
    let catalogue = catalogue();
    let sound = assessed(&catalogue, &[]);
    let mut several = 0;
    for build in common::random_builds(&catalogue, 43, 40) {
        let after = assess(&catalogue, &build, today()).expect("a build");
        let told = told::warned(&missing_in(&after.findings, &sound.findings));
        let ranks = told.iter().map(|words| {
            let order = ["danger", "fault", "caution", "hint"];
            order
                .iter()
                .position(|severity| words.starts_with(severity))
                .expect("a severity")
        });
        assert!(ranks.is_sorted(), "{told:?}");
        several += usize::from(told.len() > 2);
    }
    assert!(several > 20);
}

/// What makes an axis faster: where an option of a choice does so and brings no warning, one that
/// brings none is offered; and each says what is wanted.
#[test]
fn a_cure_without_a_new_warning_is_offered_where_there_is_one() {
    let catalogue = catalogue();
    for (name, build) in examples(&catalogue) {
        let standing = Standing::of(&catalogue, &build);
        for axis in Axis::EACH {
            let answer = question::faster(axis).answer(&standing.bench());
            for one in &answer.alternatives {
                assert!(one.note.contains("You want "), "{name}: {}", one.note);
            }
        }
        if !name.contains("barn-find") {
            continue;
        }
        let answer = question::faster(Axis::X).answer(&standing.bench());
        let steps = choices::find("microsteps").expect("a choice").title;
        let steps = answer
            .alternatives
            .iter()
            .filter(|one| one.title.starts_with(steps));
        let harmless = steps.filter(|one| one.trial.added.is_empty());
        assert!(harmless.count() > 0);
    }
}

/// What an axis loses in stiffness is told at the collet and at the tip, and so is a frame that
/// rings lower; of two figures that differ by less than a hundredth nothing is told.
#[test]
fn a_softer_axis_is_told_where_it_gives() {
    let catalogue = catalogue();
    let mut told_of = 0;
    for (_, build) in examples(&catalogue) {
        let before = assess(&catalogue, &build, today()).expect("an example");
        for screw in catalogue.of_kind(PartKind::LeadScrew) {
            let other = common::with(&catalogue, &build, &[("drive_x", screw.id().as_str())]);
            let after = assess(&catalogue, &other, today()).expect("a build");
            let losses = losses(&catalogue, &build, &other);
            let words = losses.iter().find(|(name, _)| *name == "axis X");
            let words = words.map_or("", |(_, words)| words);
            let (was, is) = (&before.machine.stiffness, &after.machine.stiffness);
            let both = [
                ("softer at the collet", was.collet.x, is.collet.x),
                ("softer at the tip", was.tip_worst.x, is.tip_worst.x),
            ];
            for (name, was, is) in both {
                let [was, is] = [was, is].map(units::n_per_um::from);
                if is < was * 0.9 {
                    // Where both read the same, a digit more tells them apart.
                    let figures = match format!("{was:.1}") == format!("{is:.1}") {
                        true => format!("{name} {was:.2} -> {is:.2} N/µm"),
                        false => format!("{name} {was:.1} -> {is:.1} N/µm"),
                    };
                    assert!(words.contains(&figures), "{figures}: {words}");
                    told_of += 1;
                }
                if is > was * 0.99 {
                    assert!(!words.contains(name), "{words}");
                }
            }
        }
    }
    assert!(told_of > 3, "{told_of}");
}

/// Less acceleration at a higher speed is no loss where even a short move takes less time; and how
/// long moves take is told as the figures of the machine say it.
#[test]
fn acceleration_is_a_loss_only_where_a_short_move_takes_longer() {
    let catalogue = catalogue();
    let (mut less_but_faster, mut slower) = (0, 0);
    for (_, build) in examples(&catalogue) {
        let before = assess(&catalogue, &build, today()).expect("an example");
        let screws = catalogue.of_kind(PartKind::BallScrew).into_iter();
        let screws = screws.chain(catalogue.of_kind(PartKind::LeadScrew));
        let turns = screws.flat_map(|screw| [Axis::X, Axis::Z].map(|axis| (screw, axis)));
        for (screw, axis) in turns {
            let drive = axis.choice("drive");
            let other = common::with(&catalogue, &build, &[(&*drive, screw.id().as_str())]);
            let after = assess(&catalogue, &other, today()).expect("a build");
            let short = |of: &Assessment| {
                let one = of.machine.axes[axis].over(units::mm::of(10.0));
                one.map(|one| units::s::from(one.time))
            };
            let (Some(was), Some(is)) = (short(&before), short(&after)) else {
                continue;
            };
            let gains = |of: &Assessment| units::m_per_s2::from(of.machine.axes[axis].acceleration);
            let less = gains(&after) < gains(&before) * 0.9;
            let losses = losses(&catalogue, &build, &other);
            let told = losses.iter().any(|(name, words)| {
                *name == format!("axis {}", axis.title()) && words.contains("speeds up by")
            });
            if less && is <= was {
                assert!(!told, "{losses:?}");
                less_but_faster += 1;
            }
            if less && is > was * 1.05 {
                assert!(told, "{losses:?}");
                slower += 1;
            }
            let moves = told::moves(&before, &after);
            let x = moves
                .iter()
                .find(|(name, _)| *name == format!("moves {}", axis.title()));
            let words = format!("10 mm in {was:.2} -> {is:.2} s");
            let differ = format!("{was:.2}") != format!("{is:.2}");
            assert_eq!(
                x.is_some_and(|(_, told)| told.contains(&words)),
                differ,
                "{words}: {x:?}"
            );
        }
    }
    assert!(
        less_but_faster > 0 && slower > 0,
        "{less_but_faster} {slower}"
    );
}

/// A hand router takes no cooler and no inverter: with it, what was left out of them is no loss. A
/// cooler that a water-cooled spindle loses is one, by its name.
#[test]
fn what_the_new_machine_does_not_need_is_no_loss() {
    let catalogue = catalogue();
    let water = common::build(
        &catalogue,
        &[
            ("spindle", "spindle-1.5kw-water"),
            ("cooler", "cooler-pump-tank"),
        ],
    );
    let router = common::with(
        &catalogue,
        &water,
        &[
            ("spindle", "router-1050w-230"),
            ("vfd", "none"),
            ("cooler", "none"),
        ],
    );
    let given_up = |before: &Build, after: &Build| {
        let all = losses(&catalogue, before, after).into_iter();
        let words = all.filter(|(name, _)| *name == "given up");
        words.map(|(_, words)| words).collect::<Vec<_>>()
    };
    assert!(
        given_up(&water, &router).is_empty(),
        "{:?}",
        given_up(&water, &router)
    );
    let dry = common::with(&catalogue, &water, &[("cooler", "none")]);
    let title = choices::find("cooler").expect("a choice").title;
    let lost = given_up(&water, &dry);
    assert!(
        lost.len() == 1 && lost[0].starts_with(&format!("{title}: ")),
        "{lost:?}"
    );
}
