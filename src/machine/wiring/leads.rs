//! Which runs a cabinet needs besides those that a plan routes.

use super::copper::{
    FUSE_ROOM, bear, earth_area, guard, length, plug_earth, strong_earth, thickest_feed,
};
use super::lead::{Lead, Made, Purpose};
use super::lead_notes;
use crate::build::choices::control::{EmergencyStop, OnCircuit};
use crate::build::{Axis, Picked};
use crate::catalogue::frame::{Rides, RunEnd};
use crate::catalogue::motor::FeedKind;
use crate::catalogue::wiring::CabinetMaterial;
use crate::explain::Recorder;
use crate::machine::electrics::Electrics;
use crate::machine::feed::motor_current;
use crate::machine::geometry::Geometry;
use crate::machine::loads::{self, Consumer};
use crate::machine::sizing::fuse_for;
use crate::order::Order as _;
use crate::units::{self, ElectricCurrent};

/// Whether a contactor stands between the mains and what moves.
fn has_contactor(picked: &Picked) -> bool {
    picked.build.control.emergency_stop == EmergencyStop::HardWired
        || picked.build.control.no_volt_release
}

/// Whether the contactor cuts something on a circuit: all that moves or turns.
pub fn is_cut(picked: &Picked, electrics: &Electrics, circuit: OnCircuit) -> bool {
    const CUT: [Consumer; 5] = [
        Consumer::MotorSupply,
        Consumer::ServoDrivers,
        Consumer::Spindle,
        Consumer::Coolant,
        Consumer::Compressor,
    ];
    let found = electrics.circuits.iter().find(|one| one.which == circuit);
    has_contactor(picked)
        && found.is_some_and(|one| CUT.iter().any(|name| one.load(*name).is_some()))
}

/// Every such run of a machine, numbered after those that a plan routes.
pub(in crate::machine) fn leads(
    picked: &Picked,
    geometry: &Geometry,
    electrics: &Electrics,
    notes: &mut impl Recorder,
) -> Vec<Lead> {
    let mut desk = Desk {
        picked,
        geometry,
        electrics,
        found: Vec::with_capacity(48),
    };
    desk.mains();
    desk.consumers();
    desk.drivers();
    desk.control();
    desk.earths();
    // Numbers follow the list: what enters the cabinet, what lies in it, what is outside.
    let place = |lead: &Lead| (!lead.enters(), !lead.purpose.is_inside());
    desk.found.order_by_key(place);
    for (lead, number) in desk.found.iter_mut().zip(geometry.runs.len() + 1..) {
        lead.number = number;
    }
    for lead in &desk.found {
        lead_notes::note(picked, geometry, electrics, &desk.found, lead, notes);
    }
    desk.found
}

/// What is known while the list is written.
struct Desk<'a, 'c> {
    picked: &'a Picked<'c>,
    geometry: &'a Geometry,
    electrics: &'a Electrics,
    found: Vec<Lead>,
}

impl Desk<'_, '_> {
    /// A run without load, with cores of so many mm²; those that bear a load are thickened to it.
    fn add(&mut self, purpose: Purpose, made: Made, cores: u32, millimetres: f64) -> &mut Lead {
        let cable = self.picked.switch_cable;
        let (cores, area, shielded) = match made {
            Made::SwitchCable => (cable.cores, cable.area, cable.shielded),
            _ => (cores, units::mm2::of(millimetres), false),
        };
        let lead = Lead {
            // Given when the list is in its order.
            number: 0,
            purpose,
            circuit: OnCircuit::First,
            axis: None,
            which: 1,
            pieces: 1,
            made,
            cores,
            area,
            length: length(self.picked, self.geometry, purpose),
            shielded,
            guard: None,
            load: None,
            ampacity: None,
            earth_area: None,
        };
        let place = self.found.len();
        self.found.push(lead);
        &mut self.found[place]
    }

    /// From each socket through switch and contactor.
    fn mains(&mut self) {
        let electrics = self.electrics;
        for circuit in &electrics.circuits {
            let which = circuit.which;
            let current = circuit.full();
            let leaks = circuit.leakage() > plug_earth() && !self.picked.build.control.second_earth;
            let feed = self.on_mains(Purpose::MainsFeed, which, current, 3, 1.5);
            feed.made = Made::MainsLead;
            let own = feed.area;
            feed.earth_area = Some(if leaks && own < strong_earth() {
                strong_earth()
            } else {
                own
            });
            self.on_mains(Purpose::SwitchIn, which, current, 2, 0.75);
            self.on_mains(Purpose::SwitchOut, which, current, 2, 0.75);
            if is_cut(self.picked, electrics, which) {
                self.on_mains(Purpose::ContactorIn, which, current, 2, 0.75);
                self.on_mains(Purpose::ContactorOut, which, current, 2, 0.75);
            }
            let earth = units::mm2::from(own);
            self.add(Purpose::EarthBar, Made::Wire, 1, earth).circuit = which;
        }
    }

    /// A run behind the circuit's breaker: thick enough for the breaker, and for the drop.
    fn on_mains(
        &mut self,
        purpose: Purpose,
        circuit: OnCircuit,
        current: ElectricCurrent,
        cores: u32,
        least: f64,
    ) -> &mut Lead {
        let (guard, volts) = (guard(self.picked), self.picked.site.volts);
        let lead = self.add(purpose, Made::Wire, cores, least);
        lead.circuit = circuit;
        lead.guard = Some(guard);
        bear(lead, current, volts, false);
        lead
    }

    /// Each load of the mains.
    fn consumers(&mut self) {
        let supplies = self.picked.build.drive.supply_count.max(1);
        for which in 1..=supplies {
            self.load(
                Consumer::MotorSupply,
                Purpose::SupplyIn,
                which,
                supplies,
                None,
            );
        }
        let mains_drivers = self.drivers_fed(FeedKind::Mains);
        for axis in Axis::EACH {
            for which in 1..=self.fed(axis, FeedKind::Mains) {
                let axis = Some(axis);
                let (name, purpose) = (Consumer::ServoDrivers, Purpose::DriverMains);
                self.load(name, purpose, which, mains_drivers, axis);
            }
        }
        if self.picked.inverter().is_some() {
            self.load(Consumer::Spindle, Purpose::InverterIn, 1, 1, None);
        }
        self.load(Consumer::Controller, Purpose::ControlIn, 1, 1, None);
        if self.picked.fan.is_some() {
            self.load(Consumer::Controller, Purpose::FanIn, 1, 1, None);
        }
        for (name, purpose) in [
            (Consumer::Extractor, Purpose::ExtractorOutlet),
            (Consumer::Coolant, Purpose::CoolantOutlet),
            (Consumer::Cooler, Purpose::CoolerOutlet),
            (Consumer::Compressor, Purpose::CompressorOutlet),
        ] {
            self.load(name, purpose, 1, 1, None);
        }
    }

    /// The run to a consumer, or to one of several that share its current; none where it
    /// hangs on no circuit.
    fn load(&mut self, name: Consumer, purpose: Purpose, which: u32, of: u32, axis: Option<Axis>) {
        let circuit = loads::circuit_of(self.picked, name);
        let found = self
            .electrics
            .circuits
            .iter()
            .find(|one| one.which == circuit);
        if let Some(load) = found.and_then(|circuit| circuit.load(name)) {
            let current = load.current.full / f64::from(of);
            let lead = self.on_mains(purpose, circuit, current, 3, 0.75);
            (lead.which, lead.axis) = (which, axis);
        }
    }

    /// The drivers of an axis that have one kind of feed.
    fn fed(&self, axis: Axis, feed: FeedKind) -> u32 {
        match self.picked.axes[axis].driver.feed == feed {
            true => self.picked.motors(axis),
            false => 0,
        }
    }

    fn drivers_fed(&self, feed: FeedKind) -> u32 {
        Axis::EACH.iter().map(|axis| self.fed(*axis, feed)).sum()
    }

    /// Direct current to each driver, phases to its motor's terminals, signals to all.
    fn drivers(&mut self) {
        let picked = self.picked;
        if self.drivers_fed(FeedKind::Dc) > 0 {
            for which in 1..=picked.build.drive.supply_count.max(1) {
                let lead = self.add(Purpose::SupplyOut, Made::Wire, 2, 0.75);
                lead.which = which;
                bear(lead, picked.supply.current, picked.supply.volts, true);
            }
        }
        for axis in Axis::EACH {
            for which in 1..=self.fed(axis, FeedKind::Dc) {
                // A driver takes no more of its supply than it gives its motor.
                let current = motor_current(picked, axis);
                let feed = self.add(Purpose::DriverFeed, Made::Wire, 2, 0.75);
                (feed.axis, feed.which) = (Some(axis), which);
                feed.guard = fuse_for(current * FUSE_ROOM);
                bear(feed, current, picked.supply.volts, true);
                let area = units::mm2::from(picked.motor_cable.area);
                let cores = picked.motor_cable.cores.min(4);
                let out = self.add(Purpose::DriverOut, Made::Wire, cores, area);
                (out.axis, out.which) = (Some(axis), which);
            }
            for which in 1..=picked.motors(axis) {
                let signals = self.add(Purpose::StepSignals, Made::Wire, 6, 0.5);
                (signals.axis, signals.which) = (Some(axis), which);
            }
        }
    }

    /// Control voltage, buttons, sensors and their signals.
    fn control(&mut self) {
        let control = &self.picked.build.control;
        if self.picked.inverter().is_some() {
            self.add(Purpose::SpindleSignals, Made::SwitchCable, 4, 0.34);
        }
        self.add(Purpose::ControlOut, Made::Wire, 2, 0.75);
        self.add(Purpose::ControllerFeed, Made::Wire, 2, 0.75);
        let feed = match feeds_inputs(self.picked) {
            true => Purpose::InputsOwn,
            false => Purpose::InputsFeed,
        };
        self.add(feed, Made::Wire, 2, 0.75);
        match control.emergency_stop {
            EmergencyStop::None => {}
            EmergencyStop::Input => {
                self.add(Purpose::StopInput, Made::SwitchCable, 4, 0.34);
            }
            EmergencyStop::HardWired => {
                self.add(Purpose::StopButton, Made::SwitchCable, 4, 0.34);
            }
        }
        if has_contactor(self.picked) {
            self.add(Purpose::StopFeed, Made::Wire, 2, 0.75);
        }
        if control.no_volt_release {
            self.add(Purpose::StartButton, Made::Wire, 2, 0.75);
        }
        // With a start button a third core of the first goes to the holding contact.
        let mut cores = 2 + u32::from(control.no_volt_release);
        for circuit in &self.electrics.circuits {
            if is_cut(self.picked, self.electrics, circuit.which) {
                self.add(Purpose::StopCoil, Made::Wire, cores, 0.75).circuit = circuit.which;
                cores = 2;
            }
        }
        if self.picked.cooler.is_some_and(|cooler| cooler.watched) {
            self.add(Purpose::FlowSwitch, Made::SwitchCable, 2, 0.34);
        }
        let routed = |to| self.geometry.runs.iter().any(|run| run.to == to);
        if self.picked.tool_sensor.is_some() && !routed(RunEnd::ToolSensor) {
            self.add(Purpose::ToolSensor, Made::SwitchCable, 3, 0.34);
        }
        let told = crate::machine::terminals::signals(self.picked, self.geometry, &self.found);
        if told > 0 {
            self.add(Purpose::InputSignals, Made::Wire, told, 0.5);
        }
    }

    /// The frame, its parts and what moves. Where a conductor of protective earth serves
    /// several circuits it goes by the thickest of them (IEC 60204-1, Table 1).
    fn earths(&mut self) {
        let earth = units::mm2::from(earth_area(self.picked, &self.found));
        if self.picked.build.control.second_earth {
            let area = units::mm2::from(strong_earth()).max(earth);
            self.add(Purpose::SecondEarth, Made::Earth, 1, area);
        }
        let inside = units::mm2::from(thickest_feed(&self.found));
        self.add(Purpose::PlateEarth, Made::Wire, 1, inside);
        if is_metal(self.picked.cabinet.material) {
            self.add(Purpose::DoorEarth, Made::Wire, 1, inside);
        }
        self.add(Purpose::FrameEarth, Made::Earth, 1, earth);
        let parts = self
            .geometry
            .members
            .iter()
            .map(|member| member.pieces)
            .sum();
        if parts > 0 {
            self.add(Purpose::EarthStrap, Made::Earth, 1, earth).pieces = parts;
        }
        for axis in moving_parts(self.picked) {
            self.add(Purpose::BridgeEarth, Made::Earth, 1, earth).axis = Some(axis);
        }
    }
}

/// Whether a controller feeds its inputs itself, at a lower voltage than that of the control
/// supply, which is 24 V.
pub fn feeds_inputs(picked: &Picked) -> bool {
    picked.controller.input_voltage < units::v::of(20.0)
}

fn is_metal(material: CabinetMaterial) -> bool {
    matches!(
        material,
        CabinetMaterial::Steel | CabinetMaterial::Stainless | CabinetMaterial::Aluminium
    )
}

/// What moves and wants an earth lead: each axis that carries steel or a plate.
fn moving_parts(picked: &Picked) -> impl Iterator<Item = Axis> {
    let plan = picked.frame;
    let carried = move |axis: &Axis| {
        let rides = Rides::from(*axis);
        plan.member.iter().any(|member| member.rides == rides)
            || plan.plate.iter().any(|plate| plate.rides == rides)
    };
    [Axis::Y, Axis::X, Axis::Z].into_iter().filter(carried)
}
