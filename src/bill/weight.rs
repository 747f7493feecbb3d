//! What one unit of a part weighs, as far as the catalogue says: parcels are counted by it.

use crate::catalogue::{Catalogue, Id, PartKind};
use crate::machine::section::Section;
use crate::units::{self, Length, LinearMassDensity, Mass};

/// The mass of one unit (piece, metre or kilogram) of a part; nothing where the catalogue has
/// none, as of small parts.
pub(super) fn of_unit(catalogue: &Catalogue, kind: PartKind, id: &Id) -> Mass {
    let metre = units::m::of(1.0);
    let by_length = |linear: LinearMassDensity| linear * metre;
    let found = match kind {
        PartKind::Tube => {
            let tube = catalogue.tubes.get(id);
            tube.map(|tube| by_length(Section::of(tube).linear_mass()))
        }
        PartKind::Angle => {
            let angle = catalogue.angles.get(id);
            angle.map(|angle| {
                let area = (angle.leg * 2.0 - angle.thickness) * angle.thickness;
                area * metre * angle.density
            })
        }
        PartKind::Plate | PartKind::Filament => Some(units::kg::of(1.0)),
        PartKind::Rail => (catalogue.rails.get(id)).map(|rail| by_length(rail.linear_mass)),
        PartKind::Carriage => catalogue.carriages.get(id).map(|part| part.mass),
        PartKind::BallScrew => {
            let screw = catalogue.ball_screws.get(id);
            screw.map(|screw| round_bar(screw.diameter) + screw.nut_mass)
        }
        PartKind::LeadScrew => {
            let screw = catalogue.lead_screws.get(id);
            screw.map(|screw| round_bar(screw.diameter) + screw.nut_mass)
        }
        PartKind::Rack => (catalogue.racks.get(id)).map(|rack| by_length(rack.linear_mass)),
        PartKind::Belt => (catalogue.belts.get(id)).map(|belt| by_length(belt.linear_mass)),
        PartKind::SupportUnit => catalogue.support_units.get(id).map(|part| part.mass),
        PartKind::Coupling => catalogue.couplings.get(id).map(|part| part.mass),
        PartKind::Stepper => catalogue.steppers.get(id).map(|part| part.mass),
        PartKind::Servo => catalogue.servos.get(id).map(|part| part.mass),
        PartKind::Spindle => catalogue.spindles.get(id).map(|part| part.mass),
        PartKind::SpindleClamp => catalogue.spindle_clamps.get(id).map(|part| part.mass),
        PartKind::Cable => (catalogue.cables.get(id)).map(|cable| by_length(cable.linear_mass)),
        PartKind::Chain => (catalogue.chains.get(id)).map(|chain| by_length(chain.linear_mass)),
        PartKind::Enclosure => catalogue.enclosures.get(id).map(|part| part.mass),
        PartKind::Switch => catalogue.switches.get(id).map(|part| part.mass),
        _ => None,
    };
    found.unwrap_or_default()
}

/// A metre of round steel.
fn round_bar(diameter: Length) -> Mass {
    let area = diameter * diameter * (std::f64::consts::PI / 4.0);
    area * units::m::of(1.0) * crate::machine::section::steel_density()
}
