//! The formula of each spring in words and symbols, its source, and where it ends.

use super::SpringName;
use super::model::Model;
use crate::build::{Axis, Picked};

/// A formula in words and symbols, its source, and where it ends.
pub(super) struct Said {
    pub(super) words: &'static str,
    pub(super) formula: &'static str,
    pub(super) source: &'static str,
    pub(super) limits: &'static str,
}

pub(super) const fn said(
    words: &'static str,
    formula: &'static str,
    source: &'static str,
    limits: &'static str,
) -> Said {
    Said {
        words,
        formula,
        source,
        limits,
    }
}

const CARRIAGES: &str = "groups of springs; installed stiffness: common practice, from memory";
const ONE_VALUE: &str =
    "Sideways as stiff as radially; linear, though ball contacts stiffen with load.";
const SWAY: &str = "slope-deflection method, any structural handbook";
const PUSHED: &str =
    "Pushed at the beam; what the tool's couple adds is in the beam's own bending.";
const HANDBOOK: &str = "beam formulas of any structural handbook; shear area: shear coefficient of beam theory, published 1966";

/// The formula of a spring under a force along an axis.
pub(super) fn formula(axis: Axis, name: SpringName, model: &Model, picked: &Picked) -> Said {
    use SpringName::*;
    match name {
        Screw | Nut | Bearing | Twist | Coupling | Bracket | Rack | Belt | Motor => {
            super::drive_said::formula(axis, name, picked)
        }
        CarriagesX | CarriagesZ => carriages(axis, name),
        CarriagesY => carriages_y(axis, model.table.is_some()),
        ZPlate | Beam | BeamTwist => bent(axis, name),
        Uprights | Legs | SideBeams | Yaw | Table => stand(axis, name, model),
    }
}

/// The carriages of X and Z.
fn carriages(axis: Axis, name: SpringName) -> Said {
    use SpringName::CarriagesX;
    match (name == CarriagesX, axis) {
        (true, Axis::X) => said(
            "carriages on the beam pitch under the couple of the height and yaw under that of the distance ahead",
            "1/k = (h² + e²)/K, k_1 = j k_0, K = k_1 (X² + n (0.65 l)²/12)",
            CARRIAGES,
            ONE_VALUE,
        ),
        (true, Axis::Y) => said(
            "carriages on the beam give, and roll under the couple of the height",
            "1/k = 1/(n k_1) + h²/K_r, k_1 = j k_0, K_r = k_1 (Y² + n (b/2)²)",
            CARRIAGES,
            ONE_VALUE,
        ),
        (true, Axis::Z) => said(
            "carriages on the beam give, and roll under the couple of the distance ahead",
            "1/k = 1/(n k_1) + e²/K_r, k_1 = j k_0, K_r = k_1 (Y² + n (b/2)²)",
            CARRIAGES,
            ONE_VALUE,
        ),
        (false, Axis::X) => said(
            "Z carriages give, turn under the couple of the height, and roll under that of the distance ahead",
            "1/k = 1/(n k_1) + h²/K + e²/K_r, k_1 = j k_0, K = k_1 (X² + n (0.65 l)²/12), K_r = k_1 (Y² + n (b/2)²)",
            CARRIAGES,
            ONE_VALUE,
        ),
        (false, Axis::Y) => said(
            "Z carriages give, and tilt under the couple of the height",
            "1/k = 1/(n k_1) + h²/K, k_1 = j k_0, K = k_1 (X² + n (0.65 l)²/12)",
            CARRIAGES,
            ONE_VALUE,
        ),
        (false, Axis::Z) => said(
            "Z carriages tilt under the couple of the distance ahead",
            "1/k = e²/K, k_1 = j k_0, K = k_1 (X² + n (0.65 l)²/12)",
            CARRIAGES,
            ONE_VALUE,
        ),
    }
}

/// The carriages of the gantry or of the table.
fn carriages_y(axis: Axis, table: bool) -> Said {
    match axis {
        Axis::X => said(
            "Y carriages give sideways, and the rails' pair rocks under the couple of the height",
            "1/k = 1/(n k_1) + h²/K_r, k_1 = j k_0, K_r = k_1 (Y² + n (b/2)²)",
            CARRIAGES,
            ONE_VALUE,
        ),
        Axis::Y if table => said(
            "the table's carriages pitch under the couple of the table's height",
            "1/k = h²/K, k_1 = j k_0, K = k_1 (X² + n (0.65 l)²/12)",
            CARRIAGES,
            ONE_VALUE,
        ),
        Axis::Y => said(
            "Y carriages pitch under the couple of the height, each side by its share",
            "1/k = h² ((1-a)² + a²)/(K/2), k_1 = j k_0, K = k_1 (X² + n (0.65 l)²/12)",
            CARRIAGES,
            ONE_VALUE,
        ),
        Axis::Z if table => said(
            "the table's carriages give; at mid-span nothing tilts them",
            "1/k = 1/(n k_1), k_1 = j k_0",
            CARRIAGES,
            ONE_VALUE,
        ),
        Axis::Z => said(
            "Y carriages give, and pitch under the couple of the distance ahead, each side by its share",
            "1/k = ((1-a)² + a²) (2/(n k_1) + e²/(K/2)), k_1 = j k_0, K = k_1 (X² + n (0.65 l)²/12)",
            CARRIAGES,
            ONE_VALUE,
        ),
    }
}

/// Plate and beam.
fn bent(axis: Axis, name: SpringName) -> Said {
    use SpringName::{Beam, ZPlate};
    match (name, axis) {
        (ZPlate, Axis::X | Axis::Y) => said(
            "the Z plate, its rails bent beside it, overhangs the Z carriages; spindle and clamp are a stiff body at its end",
            "1/k = (l² (l + s) + d l (2 s + 3 l) + d² (s + 3 l))/(3 E I)",
            "overhanging beam, any structural handbook",
            "Shear between plate and rails through their screws is left out, which is on the safe side.",
        ),
        (ZPlate, Axis::Z) => said(
            "the couple of the distance ahead bends the Z plate",
            "1/k = d² (s + 3 l)/(3 E I)",
            "overhanging beam, any structural handbook",
            "Clamp and body are taken as stiff.",
        ),
        (Beam, Axis::X) => said(
            "the couple of the height bends the beam up and down",
            "1/k = h² L (1 - 3 ab) ((1 - r)/3 + r ab)/(E I)",
            HANDBOOK,
            "Ends between hinge and clamp by one share.",
        ),
        (Beam, _) => said(
            "the beam bends and shears between its ends",
            "1/k = L³ (ab)² (1 - r + r ab)/(3 E I) + L ab/(G As)",
            HANDBOOK,
            "Ends between hinge and clamp by one share.",
        ),
        (_, Axis::Z) => said(
            "the couple of the distance ahead twists the beam",
            "1/k = e² L ab/(G It)",
            "closed section, EN 10219-2 Annex B for It",
            "Ends held against twist.",
        ),
        _ => said(
            "the couple of the height twists the beam",
            "1/k = h² L ab/(G It)",
            "closed section, EN 10219-2 Annex B for It",
            "Ends held against twist.",
        ),
    }
}

/// What the beam stands on.
fn stand(axis: Axis, name: SpringName, model: &Model) -> Said {
    use SpringName::{Legs, SideBeams, Uprights, Yaw};
    match (name, axis) {
        (Uprights, Axis::X) => match model.table {
            None => said(
                "the portal of posts and beam sways; the foot of each side is held by its carriages' own stiffness",
                "k = 2 (12 i - 6 i (t + f))/H², i = E I/H, B = 6 E I_b/L, 4 i t + B t + 2 i f = 6 i, 2 i t + (4 i + K) f = 6 i",
                SWAY,
                PUSHED,
            ),
            Some(_) => said(
                "the portal of posts, clamped on the base, and beam sways",
                "k = 2 (12 i - 6 i t)/H², i = E I/H, B = 6 E I_b/L, 4 i t + B t = 6 i",
                SWAY,
                PUSHED,
            ),
        },
        (Uprights, Axis::Y) => said(
            "the posts of each side are bent by their share of force and couple",
            "1/k = ((1-a)² + a²) (H³/3 - h H² + h² H)/(E I)",
            HANDBOOK,
            "Feet held by the Y carriages, or clamped on a base.",
        ),
        (Uprights, Axis::Z) => said(
            "the posts of each side are bent by their share of the couple of the distance ahead",
            "1/k = e² ((1-a)² + a²) H/(E I)",
            HANDBOOK,
            "Feet held by the Y carriages, or clamped on a base.",
        ),
        (Legs, _) => said(
            "legs clamped at one end are bent together",
            "1/k = H³/(3 n E I)",
            HANDBOOK,
            "What ties the legs at their heads is left out, which is on the safe side.",
        ),
        (SideBeams, Axis::X) => said(
            "one side beam is pressed down and the other pulled up by the couple of the height",
            "1/k = 2 (h/L)² c, c = S³/(48 E I) + S/(4 G As)",
            HANDBOOK,
            "Hinged between its supports, at the worst place between them.",
        ),
        (SideBeams, _) => said(
            "the side beams bend between their supports, each by its share",
            "1/k = ((1-a)² + a²) c, c = S³/(48 E I) + S/(4 G As)",
            HANDBOOK,
            "Hinged between their supports, at the worst place between them.",
        ),
        (Yaw, _) => match model.second {
            Some(_) => said(
                "the gantry turns aside on both its sides' carriages and drives",
                "1/k = e²/(K + L²/(c_1 + c_2)), k_1 = j k_0, K = k_1 (X² + n (0.65 l)²/12)",
                "equilibrium of a stiff gantry",
                "The drives hold each other through the beam, which is taken as stiff.",
            ),
            None => said(
                "the gantry turns aside on both its sides' carriages; one drive in the middle does not hold it",
                "1/k = e²/K, k_1 = j k_0, K = k_1 (X² + n (0.65 l)²/12)",
                "equilibrium of a stiff gantry",
                "At mid-span.",
            ),
        },
        _ => said(
            "the table plate bends as a strip across its rails and one along them",
            "1/k = g³/(48 E I_x) + s³/(48 E I_y)",
            HANDBOOK,
            "Two strips for a plate; beyond the carriages l² (l + g)/(3 E I).",
        ),
    }
}
