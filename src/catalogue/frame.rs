//! Frame plans: which members, rails, plates and prints a machine of one layout has, and
//! which length each of them follows. A builder with another design writes another plan
//! file; no code changes.

use super::motor::Flange;
use super::part::part;
use super::text::Text;
use crate::units::{self, Area, Length, Volume};
use serde::Deserialize;

crate::words! {
    /// What moves along Y.
    Layout {
        MovingGantry = "moving-gantry", "moving gantry", "The portal travels over a fixed table: small footprint, the heavy portal must be moved.";
        MovingTable = "moving-table", "fixed portal, moving table", "The table travels under a fixed portal: stiffer, but twice as long.";
    }
}

crate::words! {
    /// What a piece rides on; it is part of that axis's moving mass.
    Rides {
        Still = "still", "stands still", "Fixed to the base.";
        Y = "y", "moves along Y", "Carried by the Y axis.";
        X = "x", "moves along X", "Carried by the X axis.";
        Z = "z", "moves along Z", "Carried by the Z axis.";
    }
}

crate::words! {
    /// The length that a piece follows.
    Follows {
        TravelX = "travel-x", "X travel", "The working area along the beam.";
        TravelY = "travel-y", "Y travel", "The working area along the side rails.";
        TravelZ = "travel-z", "Z travel", "The vertical travel.";
        RailX = "rail-x", "X rail", "The length of the X rails.";
        RailY = "rail-y", "Y rail", "The length of the Y rails.";
        RailZ = "rail-z", "Z rail", "The length of the Z rails.";
        Clearance = "clearance", "clearance under the beam", "The free height under the beam.";
        Nothing = "nothing", "a fixed length", "It does not change with the machine's size.";
    }
}

crate::words! {
    /// What a member does in the frame; the beam has a tube choice of its own.
    Role {
        Beam = "beam", "beam", "The tube across the working area that carries the X rails.";
        Side = "side", "side beam", "The tubes that carry the Y rails.";
        Cross = "cross", "cross member", "The tubes that tie the sides together and carry the table.";
        Upright = "upright", "upright", "The posts between side and beam.";
    }
}

crate::words! {
    /// What heats a printed part.
    Heat {
        Motor = "motor", "a motor", "Bolted to a stepper that gets hot holding still.";
        Spindle = "spindle", "the spindle", "Bolted to the spindle.";
        Nothing = "nothing", "nothing", "Stays at room temperature.";
    }
}

crate::words! {
    /// What a count of pieces goes with.
    PerWhat {
        Machine = "machine", "machine", "A fixed number for the machine.";
        MotorX = "motor-x", "X motor", "As many as the X axis has motors.";
        MotorY = "motor-y", "Y motor", "As many as the Y axis has motors.";
        MotorZ = "motor-z", "Z motor", "As many as the Z axis has motors.";
        Switch = "switch", "switch", "As many as there are switches.";
        ScrewX = "screw-x", "X screw", "As many as the X axis has screws.";
        ScrewY = "screw-y", "Y screw", "As many as the Y axis has screws.";
        ScrewZ = "screw-z", "Z screw", "As many as the Z axis has screws.";
    }
}

/// How one axis is laid out.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AxisPlan {
    /// Rails of the axis.
    #[serde(deserialize_with = "units::count::<1, 4, _>")]
    pub rails: u32,
    /// Distance of the outer carriages' centres along the travel, s.
    #[serde(rename = "carriage_span_mm", with = "units::mm::or_zero")]
    pub carriage_span: Length,
    /// Distance of the two rails across the travel, g; of the Y rails of a moving gantry, what
    /// is added to the X rail's length.
    #[serde(rename = "rail_gap_mm", with = "units::mm::or_zero")]
    pub rail_gap: Length,
    /// Free travel kept at each end, m.
    #[serde(rename = "end_margin_mm", with = "units::mm::or_zero")]
    pub end_margin: Length,
    /// What the bearings' distance is longer than the thread by.
    #[serde(rename = "bearing_margin_mm", with = "units::mm::or_zero")]
    pub bearing_margin: Length,
    /// Faces of the motors that its mounts take.
    pub flanges: Vec<Flange>,
}

/// A steel member: as long as what it follows, and what is added.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Member {
    /// Mark on the cut list.
    pub mark: Text,
    /// How people call it.
    pub title: Text,
    /// What it does.
    pub role: Role,
    /// The length that it follows.
    pub follows: Follows,
    /// What is added to that length.
    #[serde(rename = "plus_mm", with = "units::signed_mm")]
    pub plus: Length,
    /// How many widths of the base tube are taken off, for a piece that stands between the
    /// sides whose middles the length joins.
    #[serde(default, deserialize_with = "units::count::<0, 10, _>")]
    pub between_sides: u32,
    /// How many.
    #[serde(deserialize_with = "units::count::<0, 200, _>")]
    pub pieces: u32,
    /// One more for each so many millimetres of the length named in `more_along`.
    #[serde(default, rename = "one_more_each_mm", with = "units::mm::opt")]
    pub one_more_each: Option<Length>,
    /// The length along which the further pieces stand.
    #[serde(default)]
    pub more_along: Option<Follows>,
    /// What it rides on.
    pub rides: Rides,
}

/// A piece of aluminium plate.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlatePiece {
    /// Mark on the cut list.
    pub mark: Text,
    /// How people call it.
    pub title: Text,
    /// Width, or what is added to the length that the width follows.
    #[serde(rename = "width_mm", with = "units::mm::or_zero")]
    pub width: Length,
    /// The length that the width follows.
    #[serde(default = "nothing")]
    pub width_follows: Follows,
    /// The length that it follows.
    pub follows: Follows,
    /// What is added to that length.
    #[serde(rename = "plus_mm", with = "units::signed_mm")]
    pub plus: Length,
    /// The least length, where carriages below ask for one.
    #[serde(default, rename = "least_mm", with = "units::mm::opt")]
    pub least: Option<Length>,
    /// How many.
    #[serde(deserialize_with = "units::count::<0, 200, _>")]
    pub pieces: u32,
    /// What it rides on.
    pub rides: Rides,
}

/// A printed part.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Print {
    /// Mark on the print list.
    pub mark: Text,
    /// How people call it.
    pub title: Text,
    /// Volume of plastic in one piece, infill counted.
    #[serde(rename = "volume_cm3", with = "units::cm3")]
    pub volume: Volume,
    /// How many for each of what `per` names.
    #[serde(deserialize_with = "units::count::<0, 200, _>")]
    pub pieces: u32,
    /// What the count goes with.
    pub per: PerWhat,
    /// What heats it.
    pub heated_by: Heat,
    /// Whether the spindle or the Z axis hangs on it.
    #[serde(default)]
    pub bears_z: bool,
    /// What it rides on.
    pub rides: Rides,
    /// Area that the thrust of its screw presses on, for a print that holds the end of one.
    #[serde(default, rename = "load_area_mm2", with = "units::mm2::opt")]
    pub load_area: Option<Area>,
    /// How thick the plastic is behind that area, along the thrust.
    #[serde(default, rename = "load_depth_mm", with = "units::mm::opt")]
    pub load_depth: Option<Length>,
}

crate::words! {
    /// Where a cable ends on the machine.
    RunEnd {
        MotorX = "motor-x", "X motor", "The motor of the X axis.";
        MotorY = "motor-y", "Y motor", "A motor of the Y axis.";
        MotorZ = "motor-z", "Z motor", "The motor of the Z axis.";
        SwitchX = "switch-x", "X switch", "A switch of the X axis.";
        SwitchY = "switch-y", "Y switch", "A switch of the Y axis.";
        SwitchZ = "switch-z", "Z switch", "A switch of the Z axis.";
        Spindle = "spindle", "spindle", "The spindle or hand router.";
        ToolSensor = "tool-sensor", "tool-length sensor", "The sensor on the table.";
    }
}

/// The way of a cable from the cabinet to its end.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Route {
    /// Where it ends.
    pub to: RunEnd,
    /// From the cabinet along what stands still.
    #[serde(rename = "fixed_mm", with = "units::mm::or_zero")]
    pub fixed: Length,
    /// A length of the machine that the fixed part follows besides.
    #[serde(default = "nothing")]
    pub follows: Follows,
    /// The share of that length, in percent.
    #[serde(
        default = "all",
        rename = "follows_percent",
        with = "units::percent::or_zero"
    )]
    pub follows_share: crate::units::Ratio,
    /// The chains that it passes through.
    pub chains: Vec<Rides>,
    /// From the end of the last chain.
    #[serde(rename = "moving_mm", with = "units::mm::or_zero")]
    pub moving: Length,
}

fn nothing() -> Follows {
    Follows::Nothing
}

fn all() -> crate::units::Ratio {
    units::percent::of(100.0)
}

part! {
    /// A frame plan.
    FramePlan by Piece {
        /// What moves along Y.
        layout: Layout,
        /// The X axis, along the beam.
        x: AxisPlan,
        /// The Y axis, along the side rails.
        y: AxisPlan,
        /// The Z axis.
        z: AxisPlan,
        /// Steel members.
        member: Vec<Member>,
        /// Aluminium plates.
        plate: Vec<PlatePiece>,
        /// Printed parts.
        print: Vec<Print>,
        /// Cable routes.
        route: Vec<Route>,
        /// How far motors and ends stand out beyond the beam, both sides together.
        #[serde(rename = "outside_x_mm", with = "units::mm::or_zero")]
        outside_x: Length,
        /// How far motors and ends stand out beyond the Y rails, both ends together.
        #[serde(rename = "outside_y_mm", with = "units::mm::or_zero")]
        outside_y: Length,
        /// Height beyond clearance, beam and Z rail.
        #[serde(rename = "outside_z_mm", with = "units::mm::or_zero")]
        outside_z: Length,
        /// Free space between the lowest spindle nose at the top of its travel and the beam's
        /// underside.
        #[serde(rename = "nose_above_beam_mm", with = "units::mm::or_zero")]
        nose_above_beam: Length,
        /// How far the spindle's nose stands out below the Z plate and the clamp on it.
        #[serde(rename = "nose_below_plate_mm", with = "units::mm::or_zero")]
        nose_below_plate: Length,
    }
}
