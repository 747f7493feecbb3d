//! Rails and carriages, what drives an axis, and what cuts.

use super::Flaws;
use crate::catalogue::Catalogue;
use crate::units;

/// Mounting holes that stand closer than this would meet.
const CLOSEST_HOLES_MM: f64 = 5.0;

pub(super) fn guides(catalogue: &Catalogue, found: &mut Flaws) {
    for rail in catalogue.rails.values() {
        let apart = rail.hole_pitch >= units::mm::of(CLOSEST_HOLES_MM);
        let message = format!("hole_pitch_mm must not be below {CLOSEST_HOLES_MM}");
        found.part(&rail.id, apart, &message);
        found.ordered(
            &rail.id,
            ("hole_pitch_mm", rail.hole_pitch),
            ("longest_mm", rail.longest),
        );
    }
    for carriage in catalogue.carriages.values() {
        let both = carriage.holes_across.is_some() == carriage.holes_along.is_some();
        let message = "holes_across_mm and holes_along_mm belong together: give both or none";
        found.part(&carriage.id, both, message);
    }
}

pub(super) fn drives(catalogue: &Catalogue, found: &mut Flaws) {
    for screw in catalogue.ball_screws.values() {
        let thinner = screw.root < screw.diameter;
        found.part(&screw.id, thinner, "root_mm must be below diameter_mm");
        // The groove is about as deep as a ball is thick, and the balls of neighbouring turns,
        // a lead apart, do not meet.
        let deep = screw.diameter - screw.root < screw.lead;
        let message = "root_mm must be above diameter_mm minus lead_mm: a groove is less deep than the way to its next turn";
        found.part(&screw.id, deep || !thinner, message);
        let turns = screw.efficiency > units::share::of(0.5);
        found.part(&screw.id, turns, "efficiency must lie between 0.5 and 1");
        found.ordered(
            &screw.id,
            ("nut_length_mm", screw.nut_length),
            ("longest_mm", screw.longest),
        );
    }
    for screw in catalogue.lead_screws.values() {
        let thinner = screw.root < screw.diameter;
        found.part(&screw.id, thinner, "root_mm must be below diameter_mm");
        found.ordered(
            &screw.id,
            ("nut_length_mm", screw.nut_length),
            ("longest_mm", screw.longest),
        );
    }
    for coupling in catalogue.couplings.values() {
        let two = matches!(coupling.bores[..], [small, large] if small <= large);
        let message = "bores_mm takes two numbers, the smaller first, such as [8, 10]";
        found.part(&coupling.id, two, message);
    }
}

pub(super) fn cutting(catalogue: &Catalogue, found: &mut Flaws) {
    for mill in catalogue.end_mills.values() {
        found.ordered(
            &mill.id,
            ("flute_length_mm", mill.flute_length),
            ("reach_mm", mill.reach),
        );
    }
    for material in catalogue.materials.values() {
        found.ordered(
            &material.id,
            ("least_speed_m_per_min", material.least_speed),
            ("greatest_speed_m_per_min", material.greatest_speed),
        );
        let (least, greatest) = (&material.least_chip, &material.greatest_chip);
        let message = "least_chip_mm must not be above greatest_chip_mm";
        found.part(&material.id, least.is_within(greatest), message);
        let message = "least_chip_mm and greatest_chip_mm take feeds for 3, 6 and 8 mm, rising";
        found.part(&material.id, least.rises() && greatest.rises(), message);
        found.ordered(
            &material.id,
            ("finishing_give_um", material.finishing_give),
            ("roughing_give_um", material.roughing_give),
        );
        let message = "hardly_from, with_care_from and easily_from_n_per_um must rise";
        let rises = material.hardly_from <= material.with_care_from
            && material.with_care_from <= material.easily_from;
        found.part(&material.id, rises, message);
    }
}
