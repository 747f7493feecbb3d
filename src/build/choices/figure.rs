//! The figures that choices move, as far as a row of the screen can show them.

crate::words! {
    /// A figure that a choice moves, as far as a row of the screen can show it.
    Figure {
        Cost = "cost", "cost", "What the whole machine costs.";
        RapidX = "rapid-x", "rapids X", "Greatest speed of X without cutting.";
        RapidY = "rapid-y", "rapids Y", "Greatest speed of Y without cutting.";
        RapidZ = "rapid-z", "rapids Z", "Greatest speed of Z without cutting.";
        ThrustX = "thrust-x", "thrust X", "Force of X at the wanted cutting feed, margin kept.";
        ThrustY = "thrust-y", "thrust Y", "Force of Y at the wanted cutting feed, margin kept.";
        ThrustZ = "thrust-z", "thrust Z", "Force of Z at a third of the wanted cutting feed, margin kept.";
        StepX = "step-x", "step X", "Travel of X for one pulse.";
        StepY = "step-y", "step Y", "Travel of Y for one pulse.";
        StepZ = "step-z", "step Z", "Travel of Z for one pulse.";
        MassX = "mass-x", "moving X", "Mass that X moves.";
        MassY = "mass-y", "moving Y", "Mass that Y moves.";
        MassZ = "mass-z", "moving Z", "Mass that Z moves.";
        Mass = "mass", "mass", "Mass of the whole machine.";
        Footprint = "footprint", "footprint", "Floor that the machine takes.";
        Mains = "mains", "mains", "Current of the fullest circuit against what it may carry.";
        FirstCircuit = "first-circuit", "first circuit", "Current of the first circuit with everything on.";
        SecondCircuit = "second-circuit", "second circuit", "Current of the second circuit with everything on; none where nothing hangs on it.";
        Supply = "supply", "supply", "Current of the motor supply against its rating.";
        Energy = "energy", "a year", "Electricity that the machine takes in a year of the use that you state.";
        Heat = "heat", "cabinet", "How much warmer the cabinet gets than the room.";
        Cables = "cables", "cables", "Length of all cables together.";
        StiffnessX = "stiffness-x", "stiffness X", "Force for each micrometre that the collet gives in X, at mid-span.";
        StiffnessY = "stiffness-y", "stiffness Y", "Force for each micrometre that the collet gives in Y, at mid-span.";
        StiffnessZ = "stiffness-z", "stiffness Z", "Force for each micrometre that the collet gives in Z, at mid-span.";
        FirstMode = "first-mode", "first mode", "Lowest frequency at which the gantry rings.";
        Removal = "removal", "removal", "Most material that a minute removes in the hardest material you want to cut.";
        Job = "job", "job", "Minutes that the named job takes.";
        Warnings = "warnings", "warnings", "What the rules have to say.";
    }
}

impl Figure {
    /// The unit in which it is told, where that is one that people may type; none for money and
    /// for warnings, which are no plain numbers.
    pub fn unit(self) -> Option<&'static str> {
        Some(match self {
            Self::Cost | Self::Warnings => return None,
            Self::RapidX | Self::RapidY | Self::RapidZ => "m/min",
            Self::ThrustX | Self::ThrustY | Self::ThrustZ => "N",
            Self::StepX | Self::StepY | Self::StepZ => "µm",
            Self::MassX | Self::MassY | Self::MassZ | Self::Mass => "kg",
            Self::Footprint => "m²",
            Self::Mains | Self::Supply => "%",
            Self::FirstCircuit | Self::SecondCircuit => "A",
            Self::Energy => "kWh",
            Self::Heat => "K",
            Self::Cables => "m",
            Self::StiffnessX | Self::StiffnessY | Self::StiffnessZ => "N/µm",
            Self::FirstMode => "Hz",
            Self::Removal => "cm³/min",
            Self::Job => "min",
        })
    }
}
