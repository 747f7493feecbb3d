//! The search for the cheapest build against a general solver for linear programs over whole
//! numbers, in spaces where money and limits add up. What the solver is told is measured through
//! the public `assess`, and held against builds of chance first.

mod linear;
mod plain;

use std::ops::ControlFlow;

use self::linear::{CURRENT, GIVES, Limit, Linear, WIDTH};
use crate::common;
use crate::what_if::Standing;
use gantrywright::assessment::assess;
use gantrywright::build::{Build, Value};
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::find::{self, Found, Request, Target};
use gantrywright::explore::reading::{Measure, Reading};
use gantrywright::units;
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

/// Builds of chance that the sums of a space are held against.
const CHECKED: usize = 120;

/// Up to so many limits at once.
const LIMITS: usize = 3;

/// A space: what differs from the default build, the choices in groups that hang on one another,
/// of which families of parts how many there are, and what of the figures adds up.
struct Kind {
    edits: &'static [(&'static str, &'static str)],
    groups: &'static [&'static [&'static str]],
    families: &'static [(&'static str, usize)],
    adds: &'static [usize],
    by_pairs: bool,
}

/// A tax of a fifth keeps cents whole; for ten machines, a whole mm makes a whole cm, up to which
/// lengths are rounded.
const PLAIN: [(&str, &str); 2] = [("tax_percent", "20"), ("machines", "10")];

/// Screws and what holds them: the tip's yielding adds up too.
const DRIVES: Kind = Kind {
    edits: &[],
    groups: &[
        &["drive_x", "ends_x", "coupling_x"],
        &["drive_y", "ends_y", "coupling_y"],
        &["drive_z", "ends_z", "coupling_z"],
        &["cabinet"],
    ],
    families: &[
        ("ball-screw-16", 2),
        ("ball-screw-", 2),
        ("coupling-8", 5),
        ("cabinet-", 5),
    ],
    adds: &GIVES,
    by_pairs: false,
};

/// Motors with what turns them, and all that the spindle needs.
const MOTORS: Kind = Kind {
    edits: &[("supply", "supply-48v-1000w")],
    groups: &[
        &["motor_x", "driver_x"],
        &["motor_y", "driver_y"],
        &["motor_z", "driver_z"],
        &["spindle", "vfd", "spindle_clamp", "cooler"],
        &["controller", "switch"],
        &["fan"],
    ],
    families: &[
        ("stepper-23", 3),
        ("stepper-24", 1),
        ("driver-", 4),
        ("spindle-", 4),
        ("vfd-", 4),
        ("clamp-", 3),
        ("cooler-", 2),
        ("controller-", 4),
        ("switch-", 3),
        ("fan-", 2),
    ],
    adds: &[CURRENT],
    by_pairs: false,
};

/// Every choice by itself, so that what does not go together is told by pairs. The build at hand
/// has the least motors and spindle, the largest drivers and inverter, and a cooler: it goes with
/// everything.
const SINGLES: Kind = Kind {
    edits: &[
        ("supply", "supply-36v-500w"),
        ("motor_x", "stepper-23-1.9"),
        ("motor_y", "stepper-23-1.9"),
        ("motor_z", "stepper-23-1.9"),
        ("spindle", "spindle-0.8kw-air"),
        ("spindle_clamp", "clamp-65"),
        ("vfd", "vfd-2.2kw-230"),
        ("cooler", "cooler-pump-tank"),
        ("spindle_circuit", "second"),
    ],
    groups: &[
        &["motor_x"],
        &["driver_x"],
        &["motor_y"],
        &["driver_y"],
        &["motor_z"],
        &["driver_z"],
        &["spindle"],
        &["vfd"],
        &["cooler"],
        &["fan"],
        &["controller"],
        &["switch"],
    ],
    families: &[
        ("controller-", 4),
        ("switch-", 4),
        ("stepper-23-", 3),
        ("driver-50v", 2),
        ("driver-80v", 1),
        ("driver-110v", 1),
        ("spindle-0.8kw-water", 1),
        ("spindle-1.5kw-water", 1),
        ("vfd-0.75kw-230", 1),
        ("vfd-1.5kw-230", 2),
        ("cooler-", 2),
        ("fan-", 2),
    ],
    adds: &[],
    by_pairs: true,
};

/// With rails, whose size makes the machine wider.
const RAILS: Kind = Kind {
    edits: &[],
    groups: &[
        &["guide_x"],
        &["drive_y", "ends_y", "coupling_y"],
        &["drive_z"],
        &["cabinet"],
        &["fan"],
    ],
    families: &[
        ("carriage-", 4),
        ("ball-screw-16", 2),
        ("coupling-8", 4),
        ("cabinet-", 3),
        ("fan-", 2),
    ],
    adds: &[WIDTH],
    by_pairs: false,
};

/// What draws current, and little else: for fronts, which take a search for each build.
const CURRENTS: Kind = Kind {
    edits: &[("supply", "supply-48v-1000w")],
    groups: &[
        &["motor_x", "driver_x"],
        &["motor_y", "driver_y"],
        &["motor_z", "driver_z"],
        &["controller", "switch"],
        &["fan"],
    ],
    families: &[
        ("stepper-23", 3),
        ("driver-", 5),
        ("controller-", 2),
        ("switch-", 2),
        ("fan-", 2),
    ],
    adds: &[CURRENT],
    by_pairs: false,
};

/// What a space is measured on.
struct Ground {
    catalogue: Catalogue,
    build: Build,
}

impl Ground {
    fn new(kind: &Kind, rng: &mut ChaCha8Rng) -> Self {
        let whole = plain::catalogue(rng);
        let build = common::with(&whole, &common::build(&whole, &PLAIN), kind.edits);
        Self {
            catalogue: plain::thinned(&whole, &build, kind.families, rng),
            build,
        }
    }

    fn measured(&self, kind: &Kind, seed: u64) -> Linear<'_> {
        let space = Linear::measured(&self.catalogue, &self.build, kind.groups, kind.by_pairs);
        space.check(CHECKED, kind.adds, seed);
        space
    }

    fn search(&self, request: &Request) -> Found {
        let standing = Standing::of(&self.catalogue, &self.build);
        let bench = standing.bench();
        let found = find::find(&bench, request, &mut |_| ControlFlow::Continue(()));
        let found = found.expect("a search");
        assert!(found.is_proven());
        found
    }

    /// Holds a build of the solver against the truth: it costs what the solver says, and does
    /// what is wanted.
    fn hold(&self, least: &(i64, Build), request: &Request) {
        let one = assess(&self.catalogue, &least.1, common::today()).expect("an assessment");
        let reading = Reading::of(&one);
        assert_eq!(reading.cost.likely, amount(least.0), "{request:?}");
        assert!(!one.is_unsound());
        for target in &request.targets {
            assert!(target.is_met(&one, &reading), "{target:?}");
        }
    }
}

fn amount(cents: i64) -> Decimal {
    Decimal::new(cents, 2)
}

/// A limit of chance, as the search and as the solver is told it, that some build is within.
fn limit(kind: &Kind, space: &Linear, rng: &mut ChaCha8Rng) -> (Target, Vec<Limit>) {
    let near = space.chance(rng).figures;
    let adds = |figure: usize| kind.adds.contains(&figure);
    match rng.random_range(0..4) {
        0 if adds(CURRENT) => {
            let most = near[CURRENT] + rng.random_range(0.001..0.02);
            let target = Target::Figure(Measure::Current, most);
            (target, vec![Limit::Most(CURRENT, most)])
        }
        0 if adds(GIVES[0]) => {
            let gives = GIVES.map(|one| near[one]).into_iter().fold(0.0, f64::max);
            let least = 0.999 / gives;
            let target = Target::Figure(Measure::Stiffness, least);
            let limits = GIVES.map(|one| Limit::Most(one, 1.0 / least));
            (target, limits.into())
        }
        1 if adds(WIDTH) => {
            let most = near[WIDTH] + 0.5;
            let target = Target::Width(units::mm::of(most));
            (target, vec![Limit::Most(WIDTH, most)])
        }
        way => {
            let part = space.part_of_chance(rng);
            let value = Value::Part(Some(part));
            match way {
                2 => (Target::Has(part), vec![Limit::Has(value)]),
                _ => (Target::Without(part), vec![Limit::Without(value)]),
            }
        }
    }
}

/// Compares the least cost within limits of chance in some spaces, each with a seed for its
/// parts, prices and limits. How many pairs of options did not go together, and how many builds
/// there were.
fn compare(spaces: &[(&Kind, u64)]) -> (usize, u128) {
    let (mut asked, mut answered, mut apart, mut combinations) = (0, 0, 0, 0);
    let mut left_out = 0;
    for (kind, seed) in spaces {
        let mut rng = ChaCha8Rng::seed_from_u64(*seed);
        let ground = Ground::new(kind, &mut rng);
        let space = ground.measured(kind, *seed);
        apart += space.apart();
        combinations += space.combinations();
        for many in 0..=LIMITS {
            let limits = (0..many).map(|_| limit(kind, &space, &mut rng));
            let (targets, limits): (Vec<_>, Vec<_>) = limits.unzip();
            let limits: Vec<Limit> = limits.into_iter().flatten().collect();
            let request = Request {
                targets,
                free: space.choices(),
                ..Request::default()
            };
            let least = space.least(&limits);
            let found = ground.search(&request);
            assert_eq!(found.space.combinations(), space.combinations());
            if let Some(least) = &least {
                ground.hold(least, &request);
            }
            let cheapest = found.answers.first().map(|one| one.reading.cost.likely);
            let least = least.map(|(cost, _)| amount(cost));
            match found.answers.first().filter(|_| cheapest < least) {
                // An option that goes with the build at hand in no way may go with another one:
                // the sums leave such builds out. That there is one is not taken on trust.
                Some(one) => {
                    let cents = one.reading.cost.likely * Decimal::ONE_HUNDRED;
                    let cents = cents.to_i64().expect("an amount");
                    ground.hold(&(cents, one.build.clone()), &request);
                    left_out += 1;
                }
                None => assert_eq!(cheapest, least, "seed {seed}: {request:?}"),
            }
            asked += 1;
            answered += usize::from(least.is_some());
        }
    }
    assert!(answered * 2 >= asked, "{answered} of {asked}");
    assert!(left_out * 4 <= asked, "{left_out} of {asked} left out");
    (apart, combinations)
}

#[test]
fn least_cost_of_drives_is_that_of_a_general_solver() {
    let (_, combinations) = compare(&[(&DRIVES, 1), (&DRIVES, 2)]);
    assert!(combinations > 10_000_000, "{combinations}");
}

#[test]
fn least_cost_with_rails_is_that_of_a_general_solver() {
    let (_, combinations) = compare(&[(&RAILS, 1)]);
    assert!(combinations > 10_000, "{combinations}");
}

#[test]
fn least_cost_of_motors_and_spindles_is_that_of_a_general_solver() {
    let spaces = [(&MOTORS, 3), (&SINGLES, 6), (&SINGLES, 7)];
    let (apart, combinations) = compare(&spaces);
    assert!(
        apart > 0 && combinations > 300_000_000,
        "{apart}, {combinations}"
    );
}

/// Each build of a front is the cheapest of those that are better than the one before, and
/// nothing is better than the last.
#[test]
fn every_step_of_a_front_is_that_of_a_general_solver() {
    let mut steps = 0;
    for seed in [3, 4] {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        let ground = Ground::new(&CURRENTS, &mut rng);
        let space = ground.measured(&CURRENTS, seed);
        let request = Request {
            against: Some(Measure::Current),
            free: space.choices(),
            ..Request::default()
        };
        let found = ground.search(&request);
        let mut limits = Vec::new();
        for answer in &found.answers {
            let least = space.least(&limits).expect("a build");
            ground.hold(&least, &request);
            assert_eq!(answer.reading.cost.likely, amount(least.0), "seed {seed}");
            // Better by a tenth, as it is shown.
            let tenths = (units::a::from(answer.reading.current) * 10.0).round();
            limits = vec![Limit::Most(CURRENT, (tenths - 0.5) / 10.0 - 1e-9)];
            steps += 1;
        }
        let more = space.least(&limits);
        assert!(more.is_none(), "seed {seed}: the front goes on");
    }
    assert!(steps >= 5, "{steps} steps");
}
