//! Where the work can hurt: the usual safety notes, shown wherever the machine gives cause for
//! them. They are no findings: no choice lifts them, and nobody can accept them away.
//!
//! They say what the trade says and defer to local codes and licensed practice. Screen,
//! commands and sheets all take them from the assessment.

use super::Facts;
use crate::catalogue::Step;
use crate::catalogue::material::Family;

/// One safety note.
pub struct SafetyNote {
    /// Its id: a word for the hazard.
    pub id: &'static str,
    /// The hazard in a few words.
    pub title: &'static str,
    /// What to do, in plain sentences.
    pub text: &'static str,
    /// The published source, or "common practice".
    pub from: &'static str,
    /// The step whose work it is about.
    pub step: Step,
    /// Whether this machine gives cause for it.
    pub applies: fn(&Facts) -> bool,
}

impl std::fmt::Debug for SafetyNote {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.id)
    }
}

fn always(_: &Facts) -> bool {
    true
}

/// Every safety note, the deadliest first.
pub const ALL: &[SafetyNote] = &[
    SafetyNote {
        id: "mains",
        title: "Mains voltage kills",
        text: "Work on the mains follows local codes and is for a licensed electrician. Before you open the cabinet pull every plug (a machine on two circuits has two); inverters and supplies stay charged for minutes: wait as long as their manuals say, and measure before you touch anything. Test earth and residual-current device (GFCI in North America) before the first start.",
        from: "IEC 60204-1 (electrical equipment of machines), IEC 61800-5-1 (discharge of drives); local wiring codes",
        step: Step::Control,
        applies: always,
    },
    SafetyNote {
        id: "rotating-tool",
        title: "The tool keeps turning after the stop",
        text: "A spindle coasts for 2 to 15 seconds. Cut the power and wait before you touch tool, collet or work. No gloves, no loose sleeves or hair. Clamp the shank as deep as the collet asks; a broken tool flies: wear eye protection and keep a guard between you and it.",
        from: "ISO 12100 (risk assessment), ISO 14118 (unexpected start-up); coasting time: common practice",
        step: Step::Spindle,
        applies: always,
    },
    SafetyNote {
        id: "moving-axes",
        title: "The axes crush and do not feel",
        text: "Axes push with hundreds of newtons and start without warning. Keep hands out while drives have power; an emergency stop in reach must cut the power, not ask a program. It is a last resort and no guard. Children and visitors stay behind a line.",
        from: "ISO 13850 (emergency stop), ISO 13854 (minimum gaps), IEC 60204-1 (stop categories)",
        step: Step::Drive,
        applies: always,
    },
    SafetyNote {
        id: "falling-axis",
        title: "Z can fall",
        text: "Without power the weight turns a ball screw back. Before you reach under the spindle or change the tool, let Z down onto a block, or lock it. Ball screws never hold a weight by themselves.",
        from: "ISO 14118 (stored energy); back-driving of ball screws: ISO 3408-5",
        step: Step::Drive,
        applies: |facts| facts.machine.axes.z.back_torque > crate::units::nm::of(0.0),
    },
    SafetyNote {
        id: "wood-dust",
        title: "Wood dust harms and burns",
        text: "Hardwood dust causes cancer; the limit for it is 2 mg/m³ over eight hours. Extract at the tool, wear a mask of class P2 (N95 in North America) or better when you sweep, and never blow dust about. Fine dust in a bin can explode: no sparks, no metal chips, empty it daily.",
        from: "Directive (EU) 2017/2398 (limit of hardwood dust); EN 149, 42 CFR 84 (masks; that they compare is from memory); local fire codes",
        step: Step::Extras,
        applies: |facts| facts.wishes(Family::Wood),
    },
    SafetyNote {
        id: "metal-chips",
        title: "Metal chips cut and short circuits",
        text: "Chips are sharp and hot: brush, never fingers or compressed air. They carry current: keep cabinet, motors and connectors closed.",
        from: "common practice",
        step: Step::Extras,
        applies: |facts| facts.wishes(Family::Metal),
    },
    SafetyNote {
        id: "noise",
        title: "Noise deafens slowly",
        text: "Spindle or hand router, extractor and cut together are often above 85 dB(A). Wear ear protection, also when it is only for a minute, and think of the neighbours.",
        from: "Directive 2003/10/EC: action values 80 and 85 dB(A)",
        step: Step::Extras,
        applies: always,
    },
    SafetyNote {
        id: "fire",
        title: "Never leave it alone",
        text: "A dull tool that rubs sets wood on fire, and the extractor takes the ember into its bag. Stay in the room while it cuts; smoke alarm and extinguisher hang in reach; look into the bag before you leave.",
        from: "common practice; local fire codes",
        step: Step::Extras,
        applies: |facts| facts.wishes(Family::Wood) || facts.wishes(Family::Plastic),
    },
    SafetyNote {
        id: "hot-cabinet",
        title: "Cabinet and motors get hot",
        text: "Drivers, supplies and inverter heat the cabinet: keep the air paths and filters free, and touch braking resistors, inverter fins and motors only when they have cooled. Motors reach 60 to 85 degrees.",
        from: "IEC 60890 (heat in cabinets); case temperature of steppers of insulation class B: common practice",
        step: Step::Control,
        applies: always,
    },
    SafetyNote {
        id: "heavy-parts",
        title: "Heavy parts crush and strain",
        text: "Beam, base and gantry are for two people, with steel-capped shoes. Prop a part before you loosen its last screw.",
        from: "common practice; ISO 11228-1 puts 25 kg as the most that one person lifts (from memory)",
        step: Step::WorkingArea,
        applies: |facts| facts.machine.masses.total > crate::units::kg::of(50.0),
    },
];

/// The safety notes for which a machine gives cause.
pub fn of(facts: &Facts) -> Vec<&'static SafetyNote> {
    ALL.iter().filter(|note| (note.applies)(facts)).collect()
}
