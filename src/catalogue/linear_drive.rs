//! What turns rotation into travel: ball screws, lead screws, racks, belts, and what
//! holds and couples them.

use super::part::part;
use crate::units::{
    self, AngularStiffness, DnValue, Force, Length, LinearMassDensity, Mass, MomentOfInertia,
    Ratio, Stiffness, Torque, Velocity,
};

crate::words! {
    /// How a ball screw's thread was made.
    ScrewMake {
        Rolled = "rolled", "rolled", "Cold-rolled thread: cheap, travel error 52 to 210 µm over 300 mm.";
        Ground = "ground", "ground", "Ground thread: several times the price, travel error below 23 µm over 300 mm.";
    }
}

part! {
    /// A ball screw with its nut, ends machined.
    BallScrew by Metre {
        /// Nominal diameter d0.
        #[serde(rename = "diameter_mm", with = "units::section_mm")]
        diameter: Length,
        /// Travel a turn.
        #[serde(rename = "lead_mm", with = "units::section_mm")]
        lead: Length,
        /// Root (core) diameter d2.
        #[serde(rename = "root_mm", with = "units::section_mm")]
        root: Length,
        /// Rolled or ground.
        make: ScrewMake,
        /// Travel error over 300 mm (ISO 3408-3, v300p).
        #[serde(rename = "travel_error_um", with = "units::um")]
        travel_error: Length,
        /// Dynamic axial load rating of the nut.
        #[serde(rename = "dynamic_load_n", with = "units::n")]
        dynamic_load: Force,
        /// The nut's greatest DN value, where the maker states one.
        #[serde(default, rename = "dn_limit_mm_rpm")]
        dn_limit: Option<DnValue>,
        /// Length of the single nut.
        #[serde(rename = "nut_length_mm", with = "units::mm")]
        nut_length: Length,
        /// Axial rigidity of the nut when it is preloaded.
        #[serde(rename = "nut_rigidity_n_per_um", with = "units::n_per_um")]
        nut_rigidity: Stiffness,
        /// Diameter of the nut's body: the bore of the housing that takes it.
        #[serde(rename = "nut_body_mm", with = "units::section_mm")]
        nut_body: Length,
        /// Mass of nut and housing.
        #[serde(rename = "nut_mass_kg", with = "units::kg")]
        nut_mass: Mass,
        /// Axial play of the single nut.
        #[serde(rename = "play_um", with = "units::um::or_zero")]
        play: Length,
        /// Bore of the support units that its ends are machined for.
        #[serde(rename = "support_bore_mm", with = "units::section_mm")]
        support_bore: Length,
        /// Diameter of the end that the coupling takes.
        #[serde(rename = "shaft_mm", with = "units::section_mm")]
        shaft: Length,
        /// Efficiency from torque to thrust.
        #[serde(rename = "efficiency", with = "units::share")]
        efficiency: Ratio,
        /// Drag torque of nut and bearings.
        #[serde(rename = "drag_nm", with = "units::nm::or_zero")]
        drag: Torque,
        /// Longest screw on offer.
        #[serde(rename = "longest_mm", with = "units::mm")]
        longest: Length,
    }
}

part! {
    /// A trapezoidal lead screw with a plain nut.
    LeadScrew by Metre {
        /// Nominal diameter.
        #[serde(rename = "diameter_mm", with = "units::section_mm")]
        diameter: Length,
        /// Travel a turn.
        #[serde(rename = "lead_mm", with = "units::section_mm")]
        lead: Length,
        /// Root diameter.
        #[serde(rename = "root_mm", with = "units::section_mm")]
        root: Length,
        /// Greatest speed of the thread's surface in the nut.
        #[serde(rename = "sliding_speed_m_per_min", with = "units::m_per_min")]
        sliding_speed: Velocity,
        /// Length of the nut.
        #[serde(rename = "nut_length_mm", with = "units::mm")]
        nut_length: Length,
        /// Axial rigidity of the plain nut and its housing.
        #[serde(rename = "nut_rigidity_n_per_um", with = "units::n_per_um")]
        nut_rigidity: Stiffness,
        /// Mass of the nut and its housing.
        #[serde(rename = "nut_mass_kg", with = "units::kg")]
        nut_mass: Mass,
        /// Axial play of the plain nut.
        #[serde(rename = "play_um", with = "units::um::or_zero")]
        play: Length,
        /// Bore of the support units for its ends.
        #[serde(rename = "support_bore_mm", with = "units::section_mm")]
        support_bore: Length,
        /// Diameter of the end that the coupling takes.
        #[serde(rename = "shaft_mm", with = "units::section_mm")]
        shaft: Length,
        /// Coefficient of friction in the thread.
        #[serde(rename = "friction", with = "units::share")]
        friction: Ratio,
        /// Drag torque of the bearings.
        #[serde(rename = "drag_nm", with = "units::nm::or_zero")]
        drag: Torque,
        /// Longest screw on offer.
        #[serde(rename = "longest_mm", with = "units::mm")]
        longest: Length,
    }
}

part! {
    /// A straight rack with its pinion (ISO 53, profile A, 20°).
    Rack by Metre {
        /// Module m: pitch diameter of the pinion a tooth.
        #[serde(rename = "module_mm", with = "units::mm")]
        module: Length,
        /// Teeth of the pinion.
        #[serde(deserialize_with = "units::count::<10, 200, _>")]
        teeth: u32,
        /// Width of the teeth that mesh.
        #[serde(rename = "face_mm", with = "units::mm")]
        face: Length,
        /// Bore of the pinion.
        #[serde(rename = "bore_mm", with = "units::mm")]
        bore: Length,
        /// Mass per length of the rack.
        #[serde(rename = "kg_per_m", with = "units::kg_per_m")]
        linear_mass: LinearMassDensity,
        /// Mass of the pinion and its sprung arm.
        #[serde(rename = "pinion_mass_kg", with = "units::kg")]
        pinion_mass: Mass,
        /// Greatest tangential force.
        #[serde(rename = "force_n", with = "units::n")]
        force: Force,
        /// Greatest speed.
        #[serde(rename = "speed_m_per_min", with = "units::m_per_min")]
        speed: Velocity,
        /// Play of the mesh without a sprung pinion.
        #[serde(rename = "play_um", with = "units::um::or_zero")]
        play: Length,
        /// Efficiency from torque to thrust.
        #[serde(rename = "efficiency", with = "units::share")]
        efficiency: Ratio,
        /// Drag torque at the pinion.
        #[serde(rename = "drag_nm", with = "units::nm::or_zero")]
        drag: Torque,
    }
}

part! {
    /// An open toothed belt with its pulley.
    Belt by Metre {
        /// Tooth pitch.
        #[serde(rename = "pitch_mm", with = "units::mm")]
        pitch: Length,
        /// Teeth of the pulley.
        #[serde(deserialize_with = "units::count::<10, 200, _>")]
        teeth: u32,
        /// Bore of the pulley.
        #[serde(rename = "bore_mm", with = "units::mm")]
        bore: Length,
        /// Mass per length.
        #[serde(rename = "kg_per_m", with = "units::kg_per_m")]
        linear_mass: LinearMassDensity,
        /// Mass of the pulley, the idler and the clamps.
        #[serde(rename = "pulley_mass_kg", with = "units::kg")]
        pulley_mass: Mass,
        /// Allowable tension.
        #[serde(rename = "force_n", with = "units::n")]
        force: Force,
        /// Force that one tooth in mesh bears at standstill, over the belt's width; makers of
        /// belts with steel cords publish it.
        #[serde(default, rename = "tooth_force_n", with = "units::n::opt")]
        tooth_force: Option<Force>,
        /// Spring rate of one metre of belt: the force for unit strain, E·A.
        #[serde(rename = "spring_rate_n", with = "units::n")]
        spring_rate: Force,
        /// Greatest speed.
        #[serde(rename = "speed_m_per_min", with = "units::m_per_min")]
        speed: Velocity,
        /// Efficiency from torque to thrust.
        #[serde(rename = "efficiency", with = "units::share")]
        efficiency: Ratio,
        /// Drag torque at the pulley.
        #[serde(rename = "drag_nm", with = "units::nm::or_zero")]
        drag: Torque,
    }
}

crate::words! {
    /// What a support unit does to the end of a screw.
    SupportHold {
        Fixed = "fixed", "fixed end", "Two preloaded bearings that take thrust both ways and keep the end from turning aside.";
        Floating = "floating", "floating end", "One bearing that holds the end on centre and lets it slide along.";
    }
}

part! {
    /// A bearing unit for the end of a screw.
    SupportUnit by Piece {
        /// Bore.
        #[serde(rename = "bore_mm", with = "units::mm")]
        bore: Length,
        /// Fixed or floating.
        hold: SupportHold,
        /// Length along the screw.
        #[serde(rename = "length_mm", with = "units::mm")]
        length: Length,
        /// Axial rigidity of a fixed unit with its preloaded bearings; a floating one has none.
        #[serde(default, rename = "rigidity_n_per_um", with = "units::n_per_um::opt")]
        rigidity: Option<Stiffness>,
        /// Mass.
        #[serde(rename = "mass_kg", with = "units::kg")]
        mass: Mass,
    }
}

part! {
    /// A shaft coupling without play.
    Coupling by Piece {
        /// Its two bores, the smaller first.
        #[serde(rename = "bores_mm", with = "units::mm::list")]
        bores: Vec<Length>,
        /// Greatest torque.
        #[serde(rename = "torque_nm", with = "units::nm")]
        torque: Torque,
        /// Torque for each radian that it twists.
        #[serde(rename = "torsion_nm_per_rad")]
        torsion: AngularStiffness,
        /// Rotational inertia.
        #[serde(rename = "inertia_g_cm2", with = "units::g_cm2")]
        inertia: MomentOfInertia,
        /// Mass.
        #[serde(rename = "mass_kg", with = "units::kg")]
        mass: Mass,
    }
}
