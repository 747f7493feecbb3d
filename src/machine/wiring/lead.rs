//! Runs that no plan routes: from the socket to the cabinet, within it, to its buttons and
//! outlets, and the leads that earth the frame.
//!
//! They follow from what the cabinet holds. A run is named by its purpose; both ends, the
//! strip on which an end lands and what it is made of follow from that.

use crate::build::Axis;
use crate::build::choices::control::OnCircuit;
use crate::machine::cable_load::CableLoad;
use crate::machine::loads::Consumer;
use crate::machine::terminals::Strip;
use crate::units::{Area, ElectricCurrent, Length};
use crate::words::Words;

crate::words! {
    /// What a run that no plan routes is for.
    Purpose {
        MainsFeed = "mains-feed", "mains lead", "From the wall socket to the mains terminals.";
        SecondEarth = "second-earth", "second earth", "A second way to earth, firmly connected, never through a plug.";
        EarthBar = "earth-bar", "earth of the mains", "From the earth terminal of the mains to the bar where all earths meet.";
        SwitchIn = "to-main-switch", "to the main switch", "Live and neutral to main switch and breaker.";
        SwitchOut = "from-main-switch", "from the main switch", "What stays on when the stop is pressed hangs on it.";
        ContactorIn = "to-contactor", "to the stop contactor", "Live and neutral to the contactor that the stop drops.";
        ContactorOut = "from-contactor", "from the contactor", "What the stop cuts hangs on it.";
        SupplyIn = "mains-to-supply", "mains to a motor supply", "Feeds a supply of the motors.";
        DriverMains = "mains-to-driver", "mains to a driver", "Feeds a servo driver.";
        InverterIn = "mains-to-inverter", "mains to the inverter", "Feeds the spindle's inverter.";
        ControlIn = "mains-to-control", "mains to the control supply", "Feeds the supply of controller, switches and contactor.";
        FanIn = "mains-to-fan", "mains to the fan", "Feeds the cabinet's fan.";
        ExtractorOutlet = "extractor-outlet", "outlet of the extractor", "An outlet in the cabinet's wall.";
        CoolantOutlet = "coolant-outlet", "outlet of the coolant", "An outlet in the cabinet's wall.";
        CoolerOutlet = "cooler-outlet", "outlet of the cooler", "An outlet in the cabinet's wall.";
        CompressorOutlet = "compressor-outlet", "outlet of the compressor", "An outlet in the cabinet's wall.";
        SupplyOut = "supply-to-strip", "motor supply to its strip", "Direct current for the drivers.";
        DriverFeed = "supply-to-driver", "supply to a driver", "Direct current to one driver, through a fuse of its own.";
        DriverOut = "driver-to-strip", "driver to its motor's terminals", "The phases of one motor, within the cabinet.";
        StepSignals = "step-signals", "signals to a driver", "Step, direction and enable, there and back.";
        SpindleSignals = "spindle-signals", "signals to the inverter", "Speed and start of the spindle.";
        ControlOut = "control-to-strip", "control supply to its strip", "The control voltage.";
        ControllerFeed = "controller-feed", "supply to the controller", "Feeds the controller.";
        InputsFeed = "inputs-feed", "supply to the inputs", "Feeds switches and sensors.";
        InputsOwn = "inputs-own", "controller's supply to the inputs", "Feeds switches and sensors of a controller whose inputs have a lower voltage of their own.";
        StopFeed = "stop-feed", "supply to the stop circuit", "Feeds stop button and contactor coil.";
        StopButton = "stop-button", "emergency stop", "From the red button at the front.";
        StopInput = "stop-input", "stop button to the controller", "From a red button that only asks the controller to stop.";
        StartButton = "start-button", "start button", "From the start button, so that power that comes back starts nothing.";
        StopCoil = "contactor-coil", "coil of the contactor", "What the stop circuit holds, one for each mains circuit that it cuts; a third core of the first goes to the holding contact, where there is a start button.";
        FlowSwitch = "flow-switch", "flow switch", "Tells that the spindle's coolant flows.";
        ToolSensor = "tool-sensor", "tool-length sensor", "From the sensor on the table, where the plan has no way for it.";
        InputSignals = "input-signals", "inputs to the controller", "A wire for each switch, sensor and contact.";
        PlateEarth = "plate-earth", "earth of the plate", "From the earth bar to the plate that the devices are screwed to.";
        DoorEarth = "door-earth", "earth of the door", "A metal door has a lead of its own: hinges carry no earth.";
        FrameEarth = "frame-earth", "earth of the frame", "From the earth bar to the frame.";
        EarthStrap = "earth-strap", "strap to a frame part", "Paint insulates: each part has its own.";
        BridgeEarth = "moving-earth", "earth of a moving part", "Balls and grease carry no earth, so each moving part has a lead.";
    }
}

crate::words! {
    /// Where a run ends that does not end on a strip.
    Place {
        Socket = "socket", "wall socket", "The socket beside the machine.";
        HouseEarth = "house-earth", "building's earth", "The building's own earth terminal.";
        MainSwitch = "main-switch", "main switch", "Main switch and breaker in the cabinet.";
        Contactor = "contactor", "stop contactor", "Cut by the emergency stop, or by an outage.";
        Supply = "motor-supply", "motor supply", "A supply of the motors.";
        Driver = "driver", "driver", "The driver of one motor.";
        Inverter = "inverter", "inverter", "Feeds the spindle.";
        ControlSupply = "control-supply", "control supply", "Feeds controller, switches and contactor.";
        Fan = "fan", "fan", "The cabinet's fan.";
        ExtractorOutlet = "extractor-outlet", "extractor outlet", "In the cabinet's wall.";
        CoolantOutlet = "coolant-outlet", "coolant outlet", "In the cabinet's wall.";
        CoolerOutlet = "cooler-outlet", "cooler outlet", "In the cabinet's wall.";
        CompressorOutlet = "compressor-outlet", "compressor outlet", "In the cabinet's wall.";
        Controller = "controller", "controller", "Turns the job into steps.";
        StopButton = "stop-button", "stop button", "The red button within reach.";
        StartButton = "start-button", "start button", "Beside the contactor's holding contact.";
        FlowSwitch = "flow-switch", "flow switch", "At the spindle's cooler.";
        ToolSensor = "tool-sensor", "tool-length sensor", "On the table.";
        EarthBar = "earth-bar", "earth bar", "Where all earths meet.";
        Plate = "plate", "mounting plate", "What the devices are screwed to.";
        Door = "door", "cabinet door", "Where it is metal.";
        Frame = "frame", "frame", "The steel frame, at one bare spot.";
        FramePart = "frame-part", "frame part", "One of the steel members.";
        MovingPart = "moving-part", "moving part", "What rides on an axis.";
    }
}

crate::words! {
    /// The colour of a wire in the cabinet, by what it is for (IEC 60204-1, 13.2).
    Colour {
        Earth = "green-and-yellow", "green and yellow", "Protective earth, and nothing else ever.";
        Neutral = "light-blue", "light blue", "Neutral.";
        Power = "black", "black", "Live wires, and direct current of the motors.";
        Control = "dark-blue", "dark blue", "Direct current of the control circuits.";
    }
}

/// One end of a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// At a device, on its own terminals.
    At(Place),
    /// On a strip in the cabinet.
    On(Strip),
}

/// What a run is made of, and so how it is bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Made {
    /// A mains lead with a plug.
    MainsLead,
    /// The cable that was chosen for switches.
    SwitchCable,
    /// Single wires in the cabinet's ducts.
    Wire,
    /// A green-and-yellow lead or strap.
    Earth,
}

/// One run that no plan routes.
#[derive(Clone, Debug)]
pub struct Lead {
    /// Its number on the wiring list, after those that a plan routes.
    pub number: usize,
    /// What it is for.
    pub purpose: Purpose,
    /// The mains circuit that it belongs to; the first one where it belongs to none.
    pub circuit: OnCircuit,
    /// The axis that it serves, where it serves one.
    pub axis: Option<Axis>,
    /// Which of several equal ones, from 1.
    pub which: u32,
    /// How many of them there are under this number.
    pub pieces: u32,
    /// What it is made of.
    pub made: Made,
    /// Its cores, or wires side by side.
    pub cores: u32,
    /// Section of a core.
    pub area: Area,
    /// Length of one piece.
    pub length: Length,
    /// Whether it has a braid.
    pub shielded: bool,
    /// The breaker, plug or fuse that guards it; none where nothing can flow that hurts it.
    pub guard: Option<ElectricCurrent>,
    /// What it bears; none for signals and earth.
    pub load: Option<CableLoad>,
    /// What its copper carries for long, where it bears something.
    pub ampacity: Option<ElectricCurrent>,
    /// What the earth core of a mains lead must have where more leaks than a plug's earth may
    /// carry alone, or where it needs no more than its other cores: that of the standard.
    pub earth_area: Option<Area>,
}

/// What belongs to one motor of an axis: only Y may have two, and so has numbers.
pub fn of_axis(axis: Axis, what: &str, which: u32) -> String {
    match axis {
        Axis::Y => format!("{} {what} {which}", axis.title()),
        Axis::X | Axis::Z => format!("{} {what}", axis.title()),
    }
}

impl Lead {
    /// The mark on the wiring list.
    pub fn mark(&self) -> String {
        format!("W{}", self.number)
    }

    /// What it is for, in words.
    pub fn title(&self) -> String {
        let title = self.purpose.title();
        match (self.axis, self.circuit) {
            (Some(axis), _) if self.purpose == Purpose::BridgeEarth => {
                format!("{title}, along {}", axis.title())
            }
            (Some(axis), _) => format!("{title}: {}", of_axis(axis, "motor", self.which)),
            (None, OnCircuit::Second) if self.purpose.is_of_circuit() => {
                format!("{title}, second circuit")
            }
            _ if self.which > 1 => format!("{title} {}", self.which),
            _ => title.to_owned(),
        }
    }

    /// Both ends.
    pub fn ends(&self) -> (End, End) {
        self.purpose.ends(Strip::mains(self.circuit))
    }

    /// An end in words.
    pub fn end(&self, end: End) -> String {
        match (end, self.axis) {
            (End::On(strip), _) => strip.title().to_owned(),
            (End::At(Place::Driver), Some(axis)) => of_axis(axis, "driver", self.which),
            (End::At(Place::MovingPart), Some(axis)) => {
                format!("what moves along {}", axis.title())
            }
            (End::At(place @ Place::Supply), _) => format!("{} {}", place.title(), self.which),
            (End::At(place @ (Place::Socket | Place::MainSwitch | Place::Contactor)), _)
                if self.circuit == OnCircuit::Second =>
            {
                format!("second {}", place.title())
            }
            (End::At(place), _) => place.title().to_owned(),
        }
    }

    /// Whether it passes the cabinet's wall, and so wants a gland.
    pub fn enters(&self) -> bool {
        self.purpose.enters()
    }

    /// Core ends that want a ferrule: both of each core; none at a plug, nor on lugs.
    pub fn ferrules(&self) -> u32 {
        match self.made {
            Made::MainsLead => self.cores,
            Made::Earth => 0,
            Made::SwitchCable | Made::Wire => self.cores * 2,
        }
    }

    /// Copper wires in the cabinet's ducts, all cores together.
    pub fn wire(&self) -> Length {
        match self.made {
            Made::Wire => self.length * f64::from(self.cores * self.pieces),
            _ => Length::default(),
        }
    }

    /// The colours of its wires and how many have each; of those in the cabinet's ducts alone.
    pub fn colours(&self) -> Vec<(Colour, u32)> {
        let is_mains =
            matches!(self.ends(), (End::On(strip), _) | (_, End::On(strip)) if strip.is_mains());
        match (self.made, self.purpose, self.cores) {
            (Made::MainsLead | Made::SwitchCable | Made::Earth, ..) => Vec::new(),
            (_, Purpose::EarthBar | Purpose::PlateEarth | Purpose::DoorEarth, cores) => {
                vec![(Colour::Earth, cores)]
            }
            (_, _, 3) if is_mains => {
                vec![(Colour::Power, 1), (Colour::Neutral, 1), (Colour::Earth, 1)]
            }
            (_, _, 2) if is_mains => vec![(Colour::Power, 1), (Colour::Neutral, 1)],
            (_, Purpose::SupplyOut | Purpose::DriverFeed | Purpose::DriverOut, cores) => {
                vec![(Colour::Power, cores)]
            }
            (.., cores) => vec![(Colour::Control, cores)],
        }
    }
}

impl Purpose {
    /// Whether each mains circuit has one of its own.
    pub fn is_of_circuit(self) -> bool {
        matches!(
            self,
            Self::MainsFeed
                | Self::EarthBar
                | Self::SwitchIn
                | Self::SwitchOut
                | Self::ContactorIn
                | Self::ContactorOut
                | Self::StopCoil
        )
    }

    /// Whether it passes the cabinet's wall.
    pub fn enters(self) -> bool {
        matches!(
            self,
            Self::MainsFeed
                | Self::SecondEarth
                | Self::StopButton
                | Self::StopInput
                | Self::FlowSwitch
                | Self::ToolSensor
                | Self::FrameEarth
        )
    }

    /// The load of the mains that it feeds, where it feeds one.
    pub fn consumer(self) -> Option<Consumer> {
        match self {
            Self::SupplyIn => Some(Consumer::MotorSupply),
            Self::DriverMains => Some(Consumer::ServoDrivers),
            Self::InverterIn => Some(Consumer::Spindle),
            Self::ControlIn | Self::FanIn => Some(Consumer::Controller),
            Self::ExtractorOutlet => Some(Consumer::Extractor),
            Self::CoolantOutlet => Some(Consumer::Coolant),
            Self::CoolerOutlet => Some(Consumer::Cooler),
            Self::CompressorOutlet => Some(Consumer::Compressor),
            _ => None,
        }
    }

    /// Whether it lies in the cabinet all along.
    pub fn is_inside(self) -> bool {
        !self.enters() && !matches!(self, Self::EarthStrap | Self::BridgeEarth)
    }

    /// Both ends, with the strip of the mains that it belongs to.
    fn ends(self, mains: Strip) -> (End, End) {
        use End::{At, On};
        match self {
            Self::MainsFeed => (At(Place::Socket), On(mains)),
            Self::SecondEarth => (At(Place::HouseEarth), On(Strip::Earth)),
            Self::EarthBar => (On(mains), On(Strip::Earth)),
            Self::SwitchIn => (On(mains), At(Place::MainSwitch)),
            Self::SwitchOut => (At(Place::MainSwitch), On(mains)),
            Self::ContactorIn => (On(mains), At(Place::Contactor)),
            Self::ContactorOut => (At(Place::Contactor), On(mains)),
            Self::SupplyIn => (On(mains), At(Place::Supply)),
            Self::DriverMains => (On(mains), At(Place::Driver)),
            Self::InverterIn => (On(mains), At(Place::Inverter)),
            Self::ControlIn => (On(mains), At(Place::ControlSupply)),
            Self::FanIn => (On(mains), At(Place::Fan)),
            Self::ExtractorOutlet => (On(mains), At(Place::ExtractorOutlet)),
            Self::CoolantOutlet => (On(mains), At(Place::CoolantOutlet)),
            Self::CoolerOutlet => (On(mains), At(Place::CoolerOutlet)),
            Self::CompressorOutlet => (On(mains), At(Place::CompressorOutlet)),
            Self::SupplyOut => (At(Place::Supply), On(Strip::MotorSupply)),
            Self::DriverFeed => (On(Strip::MotorSupply), At(Place::Driver)),
            Self::DriverOut => (At(Place::Driver), On(Strip::Motors)),
            Self::StepSignals => (At(Place::Controller), At(Place::Driver)),
            Self::SpindleSignals => (At(Place::Controller), At(Place::Inverter)),
            Self::ControlOut => (At(Place::ControlSupply), On(Strip::Control)),
            Self::ControllerFeed => (On(Strip::Control), At(Place::Controller)),
            Self::InputsFeed => (On(Strip::Control), On(Strip::Inputs)),
            Self::InputsOwn => (At(Place::Controller), On(Strip::Inputs)),
            Self::StopFeed => (On(Strip::Control), On(Strip::Stop)),
            Self::StopButton => (At(Place::StopButton), On(Strip::Stop)),
            Self::StopInput => (At(Place::StopButton), On(Strip::Inputs)),
            Self::StartButton => (On(Strip::Stop), At(Place::StartButton)),
            Self::StopCoil => (On(Strip::Stop), At(Place::Contactor)),
            Self::FlowSwitch => (At(Place::FlowSwitch), On(Strip::Inputs)),
            Self::ToolSensor => (At(Place::ToolSensor), On(Strip::Inputs)),
            Self::InputSignals => (On(Strip::Inputs), At(Place::Controller)),
            Self::PlateEarth => (On(Strip::Earth), At(Place::Plate)),
            Self::DoorEarth => (On(Strip::Earth), At(Place::Door)),
            Self::FrameEarth => (On(Strip::Earth), At(Place::Frame)),
            Self::EarthStrap => (At(Place::Frame), At(Place::FramePart)),
            Self::BridgeEarth => (At(Place::Frame), At(Place::MovingPart)),
        }
    }
}
