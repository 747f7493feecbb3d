//! Whether the entries of a catalogue make sense together: sizes above zero, references
//! that lead somewhere, ids that no two kinds share, prices in order.

use std::collections::HashMap;

use unicode_width::UnicodeWidthStr as _;

use super::part::SHORT_COLUMNS;
use super::{Catalogue, Id, PartKind};
use crate::units::{self, Length};

/// One thing that is wrong with an entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Flaw {
    /// The entry.
    pub id: Id,
    /// What is wrong, and what would be right.
    pub message: String,
}

/// Every flaw of a catalogue, in its order.
pub fn flaws(catalogue: &Catalogue) -> Vec<Flaw> {
    let mut found = Vec::new();
    shared_ids(catalogue, &mut found);
    tubes(catalogue, &mut found);
    drives(catalogue, &mut found);
    references(catalogue, &mut found);
    texts(catalogue, &mut found);
    found
}

fn flaw(found: &mut Vec<Flaw>, id: &Id, message: String) {
    found.push(Flaw {
        id: id.clone(),
        message,
    });
}

fn positive(found: &mut Vec<Flaw>, id: &Id, key: &str, value: Length) {
    if value <= units::mm::of(0.0) {
        flaw(found, id, format!("{key} must be above zero"));
    }
}

fn shared_ids(catalogue: &Catalogue, found: &mut Vec<Flaw>) {
    let mut seen: HashMap<&Id, PartKind> = HashMap::new();
    for &kind in PartKind::ALL {
        for part in catalogue.of_kind(kind) {
            if let Some(other) = seen.insert(part.id(), kind) {
                let message = format!("the id is used by a {} already", other.title());
                flaw(found, part.id(), message);
            }
        }
    }
}

fn tubes(catalogue: &Catalogue, found: &mut Vec<Flaw>) {
    for tube in catalogue.tubes.values() {
        positive(found, &tube.id, "wall_mm", tube.wall);
        // The outer corner radius is at most 3 T: below 6 T the flat is gone.
        if tube.width < tube.wall * 6.0 || tube.height < tube.width {
            flaw(
                found,
                &tube.id,
                "height_mm must not be below width_mm, nor width_mm below six walls".to_owned(),
            );
        }
    }
    for plate in catalogue.plates.values() {
        positive(found, &plate.id, "thickness_mm", plate.thickness);
    }
}

fn drives(catalogue: &Catalogue, found: &mut Vec<Flaw>) {
    for screw in catalogue.ball_screws.values() {
        positive(found, &screw.id, "lead_mm", screw.lead);
        positive(found, &screw.id, "root_mm", screw.root);
        if screw.root >= screw.diameter {
            flaw(
                found,
                &screw.id,
                "root_mm must be below diameter_mm".to_owned(),
            );
        }
        if screw.efficiency <= units::share::of(0.5) || screw.efficiency > units::share::of(1.0) {
            flaw(
                found,
                &screw.id,
                "efficiency must lie between 0.5 and 1".to_owned(),
            );
        }
    }
    for screw in catalogue.lead_screws.values() {
        positive(found, &screw.id, "lead_mm", screw.lead);
        positive(found, &screw.id, "root_mm", screw.root);
    }
    for rack in catalogue.racks.values() {
        positive(found, &rack.id, "module_mm", rack.module);
        if rack.teeth < 10 {
            flaw(found, &rack.id, "teeth must be 10 or more".to_owned());
        }
    }
    for belt in catalogue.belts.values() {
        positive(found, &belt.id, "pitch_mm", belt.pitch);
        if belt.teeth < 10 {
            flaw(found, &belt.id, "teeth must be 10 or more".to_owned());
        }
    }
    for rail in catalogue.rails.values() {
        positive(found, &rail.id, "hole_pitch_mm", rail.hole_pitch);
    }
    for motor in catalogue.steppers.values() {
        if motor.current <= units::a::of(0.0) || motor.inductance <= units::mh::of(0.0) {
            let message = "current_a and inductance_mh must be above zero".to_owned();
            flaw(found, &motor.id, message);
        }
    }
    for coupling in catalogue.couplings.values() {
        if coupling.bores.len() != 2 {
            flaw(
                found,
                &coupling.id,
                "bores_mm takes two numbers, such as [8, 10]".to_owned(),
            );
        }
    }
}

fn references(catalogue: &Catalogue, found: &mut Vec<Flaw>) {
    for carriage in catalogue.carriages.values() {
        if !catalogue.rails.contains_key(&carriage.rail) {
            let message = format!("rail {:?} is not in the catalogue", carriage.rail.as_str());
            flaw(found, &carriage.id, message);
        }
    }
    for book in catalogue.price_books.values() {
        for (id, price) in &book.prices {
            if catalogue.part(id.as_str()).is_none() {
                flaw(
                    found,
                    &book.id,
                    format!("prices a part {:?} that does not exist", id.as_str()),
                );
            }
            if price.low > price.likely || price.likely > price.high {
                flaw(
                    found,
                    &book.id,
                    format!(
                        "the price of {:?} is out of order: low <= likely <= high",
                        id.as_str()
                    ),
                );
            }
        }
    }
    for rule in &catalogue.quantities {
        if catalogue.part(rule.part.as_str()).is_none() {
            let message = "a quantity rule names this part, which does not exist".to_owned();
            flaw(found, &rule.part, message);
        }
    }
}

fn texts(catalogue: &Catalogue, found: &mut Vec<Flaw>) {
    for &kind in PartKind::ALL {
        for part in catalogue.of_kind(kind) {
            if part.title().trim().is_empty() || part.title().chars().count() > 60 {
                flaw(
                    found,
                    part.id(),
                    "title takes 1 to 60 characters".to_owned(),
                );
            }
            // A record without a short name is listed by its title, however long.
            if part
                .own_short()
                .is_some_and(|short| short.trim().is_empty() || short.width() > SHORT_COLUMNS)
            {
                let message = format!("short takes 1 to {SHORT_COLUMNS} columns");
                flaw(found, part.id(), message);
            }
            if part.source().trim().is_empty() {
                flaw(
                    found,
                    part.id(),
                    "source must say where the data come from".to_owned(),
                );
            }
        }
    }
}
