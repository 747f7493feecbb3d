//! How the current of a run came about, what it bears and what guards it.

use super::{path, practice};
use crate::build::{Axis, Picked};
use crate::catalogue::Motor;
use crate::explain::{Derivation, Origin, Recorder};
use crate::machine::axis_path;
use crate::machine::conductor::{self, Laying};
use crate::machine::electrics::Electrics;
use crate::machine::loads;
use crate::machine::wiring::copper::{FUSE_ROOM, laying};
use crate::machine::wiring::lead::{Lead, Purpose};
use crate::units::{self, Amount};
use crate::words::Words as _;

/// What flows, to be told.
pub(super) fn current(lead: &Lead) -> Amount {
    units::a::amount(lead.load.map(|load| load.current).unwrap_or_default())
}

/// Notes what a run bears; nothing of signals and earths.
pub(super) fn bears(
    picked: &Picked,
    electrics: &Electrics,
    all: &[Lead],
    lead: &Lead,
    notes: &mut impl Recorder,
) {
    let (Some(load), Some(ampacity)) = (lead.load, lead.ampacity) else {
        return;
    };
    notes.note(|| flows(picked, electrics, all, lead));
    notes.note(|| {
        let method = match laying(lead.purpose) {
            Laying::Enclosed => "IEC 60204-1:2016, Table 6, method B2, PVC, 40 °C",
            Laying::OnSurface => "IEC 60204-1:2016, Table 6, method C, PVC, 40 °C",
        };
        Derivation::of(path(lead.number, "ampacity_a"), "current that it carries for long", units::a::amount(ampacity))
            .by("the table's current for the area", "I_z(A)")
            .with("A", "area of a core", units::mm2::amount(lead.area), Origin::figure(path(lead.number, "area_mm2")))
            .from(method, "three loaded wires in a duct; wires beside them that are seldom loaded are not counted")
    });
    notes.note(|| {
        let metre = conductor::resistance(lead.area, units::m::of(1.0), conductor::warm());
        Derivation::of(path(lead.number, "drop_percent"), "voltage lost on the way", units::percent::amount(load.drop()))
            .by("resistance of the cores there and back, times the current, over the voltage that is sent", "d = 2 · L · I · r / V")
            .with("L", "length", units::m::amount(lead.length), Origin::figure(path(lead.number, "length_m")))
            .with("I", "current", current(lead), Origin::figure(path(lead.number, "current_a")))
            .with("r", "resistance of a metre of one core at 70 °C", Amount::of(units::ohm::from(metre), "ohm/m"), Origin::Constant("IEC 60228 class 5, times 1.1965 for 70 °C"))
            .with("V", "voltage that is sent", units::v::amount(load.sent), Origin::Here)
            .from("IEC 60228; Ohm's law", "cores at the greatest resistance and temperature that the standards allow")
    });
    if let Some(guard) = lead.guard {
        notes.note(|| guarded(picked, lead, units::a::amount(guard)));
    }
}

fn guarded(picked: &Picked, lead: &Lead, guard: Amount) -> Derivation {
    let figure = Derivation::of(
        path(lead.number, "fuse_a"),
        "breaker or fuse before it",
        guard,
    );
    if lead.purpose == Purpose::DriverFeed {
        return figure
            .by("the smallest standard fuse with a quarter of room above the current", "I_F = min {I of the row, I >= 1.25 · I_b}")
            .with("I_b", "current", current(lead), Origin::figure(path(lead.number, "current_a")))
            .with("1.25", "room, since the driver's capacitors surge", Amount::plain(FUSE_ROOM), practice())
            .from("rows of IEC 60127 up to 10 A and IEC 60269 above; common practice", "The driver's manual may name another: take that, as long as the wire carries it. Slow ones.");
    }
    let site = picked.site;
    let of_site = || Origin::Site(site.id.to_string());
    figure
        .by("the circuit's breaker; the plug's own fuse, where the plug bears less than 80 % of the breaker", "I_F = I_n; I_plug where I_plug < 0.8 · I_n")
        .with("I_n", "breaker of the circuit", units::a::amount(site.breaker), of_site())
        .with("I_plug", "what the plug bears", units::a::amount(site.plug), of_site())
        .from("IEC 60204-1, 7.2; fused plugs as in BS 1363", "a smaller breaker in the cabinet guards no less; look at your own board")
}

fn flows(picked: &Picked, electrics: &Electrics, all: &[Lead], lead: &Lead) -> Derivation {
    let figure = Derivation::of(
        path(lead.number, "current_a"),
        format!("current of {}", lead.title()),
        current(lead),
    );
    let supply = picked.supply;
    match (lead.purpose.consumer(), lead.purpose, lead.axis) {
        (Some(name), ..) => {
            let circuit = loads::circuit_of(picked, name);
            let found = electrics.circuits.iter().find(|one| one.which == circuit);
            let full = found
                .and_then(|circuit| circuit.load(name))
                .map(|load| load.current.full)
                .unwrap_or_default();
            let sharing = all.iter().filter(|one| one.purpose == lead.purpose).count();
            figure
                .by("what its load draws of the mains at most, in equal shares where several feed it", "I = I_1 / n")
                .with("I_1", name.title(), units::a::amount(full), Origin::figure(format!("power.circuits.{}.loads.{}.full_a", circuit.id(), name.id())))
                .with("n", "runs that share it", Amount::plain(sharing as f64), Origin::Here)
                .from("the circuit's loads", "controller and fan count together, on the run of each")
        }
        (None, Purpose::SupplyOut, _) => figure
            .by("what the supply gives at most", "I = I_N")
            .with(
                "I_N",
                "rated current of the supply",
                units::a::amount(supply.current),
                Origin::part(supply),
            )
            .from("data of the supply", "it limits its own current"),
        (None, Purpose::DriverFeed, axis) => {
            of_driver(picked, axis.unwrap_or(Axis::X), current(lead), figure)
        }
        (None, ..) => figure
            .by("all that hangs on the circuit", "I")
            .with(
                "I",
                "current of the circuit at most",
                current(lead),
                Origin::figure(format!("power.circuits.{}.current_a", lead.circuit.id())),
            )
            .from(
                "the circuit's loads",
                "a computer with a plug of its own counts here too: it errs towards more",
            ),
    }
}

/// What a driver takes of its supply.
fn of_driver(picked: &Picked, axis: Axis, amount: Amount, figure: Derivation) -> Derivation {
    let set = Origin::figure(axis_path(axis, "settings.current_a"));
    let (how, source, limits) = match picked.axes[axis].motor {
        Motor::Servo(_) => (
            "the rated current of the servo",
            "data sheet of the servo",
            "at peak torque more flows for a second or two",
        ),
        Motor::Stepper(_) => (
            "as much as the driver gives a phase: it takes less, since it lowers the voltage",
            "data sheets; energy balance of a chopping driver",
            "errs towards more",
        ),
    };
    figure
        .by(how, "I = I_s")
        .with("I_s", "current that the driver is set to", amount, set)
        .from(source, limits)
}
