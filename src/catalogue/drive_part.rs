//! Parts that stand in for one another in one choice: the linear drives of an axis, and
//! its motors.

use super::linear_drive::{BallScrew, Belt, LeadScrew, Rack};
use super::motor::{Flange, MotorKind, Servo, Stepper};
use super::{Catalogue, Part, PartKind};
use crate::units::{self, ElectricCurrent, Length, Mass, MomentOfInertia};

/// What turns rotation into travel on one axis.
#[derive(Clone, Copy, Debug)]
pub enum LinearDrive<'c> {
    /// Ball screw.
    Ball(&'c BallScrew),
    /// Lead screw.
    Lead(&'c LeadScrew),
    /// Rack and pinion.
    Rack(&'c Rack),
    /// Toothed belt.
    Belt(&'c Belt),
}

/// What every screw has, whatever runs on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screw {
    /// Nominal diameter.
    pub diameter: Length,
    /// Root (core) diameter.
    pub root: Length,
    /// Bore of the support units that its ends are machined for.
    pub support_bore: Length,
    /// Longest screw on offer.
    pub longest: Length,
}

impl<'c> LinearDrive<'c> {
    /// The kinds of part among which a drive is chosen.
    pub const KINDS: &'static [PartKind] = &[
        PartKind::BallScrew,
        PartKind::LeadScrew,
        PartKind::Rack,
        PartKind::Belt,
    ];

    /// The drive of an id.
    pub fn of(catalogue: &'c Catalogue, id: &str) -> Option<Self> {
        let ball = catalogue.ball_screws.get(id).map(Self::Ball);
        ball.or_else(|| catalogue.lead_screws.get(id).map(Self::Lead))
            .or_else(|| catalogue.racks.get(id).map(Self::Rack))
            .or_else(|| catalogue.belts.get(id).map(Self::Belt))
    }

    /// The part itself.
    pub fn part(&self) -> &'c dyn Part {
        match *self {
            Self::Ball(one) => one,
            Self::Lead(one) => one,
            Self::Rack(one) => one,
            Self::Belt(one) => one,
        }
    }

    /// Travel for one turn of the screw, pinion or pulley.
    pub fn travel_a_turn(&self) -> Length {
        match *self {
            Self::Ball(screw) => screw.lead,
            Self::Lead(screw) => screw.lead,
            Self::Rack(rack) => rack.module * (std::f64::consts::PI * f64::from(rack.teeth)),
            Self::Belt(belt) => belt.pitch * f64::from(belt.teeth),
        }
    }

    /// Diameter of the end, or of the bore, that meets the motor.
    pub fn shaft(&self) -> Length {
        match *self {
            Self::Ball(screw) => screw.shaft,
            Self::Lead(screw) => screw.shaft,
            Self::Rack(rack) => rack.bore,
            Self::Belt(belt) => belt.bore,
        }
    }

    /// The screw that turns, of a ball or lead screw; none for racks and belts.
    pub fn screw(&self) -> Option<Screw> {
        match *self {
            Self::Ball(one) => Some(Screw {
                diameter: one.diameter,
                root: one.root,
                support_bore: one.support_bore,
                longest: one.longest,
            }),
            Self::Lead(one) => Some(Screw {
                diameter: one.diameter,
                root: one.root,
                support_bore: one.support_bore,
                longest: one.longest,
            }),
            Self::Rack(_) | Self::Belt(_) => None,
        }
    }

    /// Whether a screw turns between bearings, so that whirl and buckling exist.
    pub fn is_screw(&self) -> bool {
        matches!(self, Self::Ball(_) | Self::Lead(_))
    }
}

/// A motor of an axis.
#[derive(Clone, Copy, Debug)]
pub enum Motor<'c> {
    /// Stepper, with or without an encoder.
    Stepper(&'c Stepper),
    /// Servo.
    Servo(&'c Servo),
}

impl<'c> Motor<'c> {
    /// The kinds of part among which a motor is chosen.
    pub const KINDS: &'static [PartKind] = &[PartKind::Stepper, PartKind::Servo];

    /// The motor of an id.
    pub fn of(catalogue: &'c Catalogue, id: &str) -> Option<Self> {
        let stepper = catalogue.steppers.get(id).map(Self::Stepper);
        stepper.or_else(|| catalogue.servos.get(id).map(Self::Servo))
    }

    /// The part itself.
    pub fn part(&self) -> &'c dyn Part {
        match *self {
            Self::Stepper(one) => one,
            Self::Servo(one) => one,
        }
    }

    /// How it is driven.
    pub fn kind(&self) -> MotorKind {
        match self {
            Self::Stepper(one) if one.closed_loop => MotorKind::ClosedLoop,
            Self::Stepper(_) => MotorKind::OpenLoop,
            Self::Servo(_) => MotorKind::Servo,
        }
    }

    /// Mounting face.
    pub fn flange(&self) -> Flange {
        match self {
            Self::Stepper(one) => one.flange,
            Self::Servo(one) => one.flange,
        }
    }

    /// Shaft diameter.
    pub fn shaft(&self) -> Length {
        match self {
            Self::Stepper(one) => one.shaft,
            Self::Servo(one) => one.shaft,
        }
    }

    /// Mass.
    pub fn mass(&self) -> Mass {
        match self {
            Self::Stepper(one) => one.mass,
            Self::Servo(one) => one.mass,
        }
    }

    /// Rated current.
    pub fn current(&self) -> ElectricCurrent {
        match self {
            Self::Stepper(one) => one.current,
            Self::Servo(one) => one.current,
        }
    }

    /// Rotor inertia.
    pub fn rotor_inertia(&self) -> MomentOfInertia {
        match self {
            Self::Stepper(one) => one.rotor_inertia,
            Self::Servo(one) => one.rotor_inertia,
        }
    }

    /// What holds the shaft without power: a brake, or the detent torque.
    pub fn holds_unpowered(&self) -> units::Torque {
        match self {
            Self::Stepper(one) => one.detent,
            Self::Servo(one) => one.brake.unwrap_or(units::nm::of(0.0)),
        }
    }
}
