//! What to mind when wiring, and what the lists leave out.

use crate::build::Axis;
use crate::catalogue::Motor;
use crate::catalogue::frame::RunEnd;
use crate::catalogue::motor::MotorKind;
use crate::machine::wiring::lead::Purpose;
use crate::sheets::Paper;
use crate::words::Words;

const REMARKS: &[&str] = &[
    "All on the mains side is for a licensed electrician and follows local codes: socket, circuit, \
     mains lead, main switch, breaker, contactor, lead to the inverter. Before you open the \
     cabinet pull every plug (a machine on two circuits has two), wait, since supplies and inverters \
     stay charged for minutes, and measure before you touch anything.",
    "Earth first: lay and test every earth lead before anything else gets power, and make it the \
     longest core in every gland, so that it is the last to tear. Green and yellow is for \
     earth alone.",
    "Never switch, plug or fuse anything between inverter and spindle, or between driver and motor, \
     while it has power: the opened circuit destroys the drive.",
    "Shields: all round on bare metal under a clamp or gland, never twisted into a tail. Behind an \
     inverter or servo driver at both ends; of steppers and switches at the cabinet alone.",
    "Keep signals away from power: 10 cm and more beside motor and spindle cables, 20 cm beside \
     that of the inverter; where they must cross, at a right angle. In a chain put a wall \
     between them.",
    "Twist the two wires of each supply and signal pair. Put a ferrule on every clamped core end.",
    "A fuse or breaker guards the wire behind it: never put in a larger one than stands here. What \
     the driver's manual names may be smaller.",
    "Lengths follow the plan's ways: measure before you cut. Earth leads are given at their least; \
     thicker ones are fine.",
    "Wire colours here are those of IEC 60204-1; local codes may want others, as in North America.",
];

/// Every remark.
pub(super) fn all(paper: &Paper) -> Vec<String> {
    let mut remarks: Vec<String> = REMARKS.iter().map(|text| (*text).to_owned()).collect();
    let coded = |axis: Axis| paper.picked.axes[axis].motor.kind() != MotorKind::OpenLoop;
    let axes: Vec<&str> = Axis::EACH
        .into_iter()
        .filter(|axis| coded(*axis))
        .map(Words::title)
        .collect();
    remarks.extend(on_the_mains(paper));
    remarks.extend(of_several_supplies(paper));
    remarks.extend(of_hand_router(paper));
    if !axes.is_empty() {
        remarks.push(format!(
            "The encoder cables of {} come with their motors and are not listed: they lie with the \
             signals, their shield bonded as the driver's manual says. Count a gland for each.",
            axes.join(", ")
        ));
    }
    let braked = |&axis: &Axis| match paper.picked.axes[axis].motor {
        Motor::Servo(servo) => servo.brake.is_some(),
        Motor::Stepper(_) => false,
    };
    let braked: Vec<&str> = (Axis::EACH.into_iter().filter(braked))
        .map(Words::title)
        .collect();
    if !braked.is_empty() {
        remarks.push(format!(
            "The brake of {} has two cores more, not listed: its control voltage goes through a \
             relay that the servo driver commands and that the stop contactor cuts as well, so that \
             it closes whenever the motor has no power. Count a gland for it.",
            braked.join(", ")
        ));
    }
    remarks
}

/// Supplies side by side share a load by chance, unless they are made for it (common practice).
fn of_several_supplies(paper: &Paper) -> Option<String> {
    let supplies = paper.picked.build.drive.supply_count;
    (supplies > 1).then(|| {
        format!(
            "The {supplies} motor supplies are listed on one strip, in parallel: do that only where \
             their manual allows it and says how. Else part the strip, one for each supply, and \
             give each its own drivers; join their 0 V alone."
        )
    })
}

/// A hand router comes with a lead and a plug.
fn of_hand_router(paper: &Paper) -> Option<String> {
    if paper.picked.spindle.needs_vfd() {
        return None;
    }
    let mut runs = paper.assessment.machine.geometry.runs.iter();
    let place = runs.position(|run| run.to == RunEnd::Spindle)?;
    Some(format!(
        "The hand router has a lead and plug of its own: end W{} in an outlet near it, and plug it in \
         there, rather than cutting its lead.",
        place + 1
    ))
}

/// What sits on the mains side without a place of its own in the lists.
fn on_the_mains(paper: &Paper) -> Vec<String> {
    let leads = &paper.assessment.machine.leads;
    let number = |purpose| {
        let lead = leads.iter().find(|lead| lead.purpose == purpose);
        lead.map(|lead| lead.number)
    };
    let mut remarks = vec![
        "\"Main switch\" is the switch and the breaker behind it: both wires go through the \
         switch, then through the breaker, whose amperes stand under \"Fuse\". The residual-current device sits \
         in the building's board; where local code wants it in the cabinet it comes before both."
            .to_owned(),
    ];
    if let (true, Some(switched)) = (paper.build.control.filter, number(Purpose::SwitchOut)) {
        remarks.push(format!(
            "The mains filter goes into W{switched}, close behind the main switch, its case flat on \
             bare metal; the wires before it lie apart from those behind."
        ));
    }
    if let (true, Some(fed)) = (paper.build.spindle.choke, number(Purpose::InverterIn)) {
        remarks.push(format!(
            "The line choke goes into W{fed}, close before the inverter. It gets hot: leave it air."
        ));
    }
    remarks
}
