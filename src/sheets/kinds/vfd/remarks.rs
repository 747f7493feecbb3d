//! What to mind when the inverter is set: what burns windings, and where the parts chosen do
//! not suit each other.

use crate::build::Picked;
use crate::catalogue::spindle::{Cooling, Spindle, Vfd};
use crate::units::{self, Frequency, show};

/// How far volts may stray from what is printed (EN 50160).
const VOLTS_STRAY: f64 = 0.1;

/// The remarks, what burns first.
pub(super) fn of(picked: &Picked, base: Frequency) -> Vec<String> {
    let spindle = picked.spindle;
    let hertz = |frequency| show::typed((units::hz::from(frequency) * 10.0_f64).round() / 10.0);
    let mut remarks = vec![format!(
        "Set the base frequency first, before the spindle is connected. Inverters come set to 50 or 60 Hz: this spindle's full voltage at 50 instead of {} Hz burns its winding.",
        hertz(base)
    )];
    let set = picked.build.spindle.base_frequency;
    let apart = (units::hz::from(set) / units::hz::from(base) - 1.0).abs();
    if apart > 1e-3 {
        remarks.push(format!(
            "Your build says {} Hz for the base frequency, the nameplate {} Hz: the nameplate stands above.",
            hertz(set),
            hertz(base)
        ));
    }
    if let Some(vfd) = picked.vfd {
        if vfd.output < spindle.current {
            remarks.push(format!(
                "{} gives {} A, less than the spindle's {} A: set its own current as the limit.",
                vfd.title,
                units::a::from(vfd.output),
                units::a::from(spindle.current)
            ));
        }
        remarks.extend(voltage(spindle, vfd));
        if picked.build.spindle.contactor_behind {
            remarks.push(
                "A contactor stands between inverter and spindle: it may only open when the inverter has stopped."
                    .to_owned(),
            );
        }
    }
    remarks.push(
        "The measured speed lies a few percent below the table: the rotor slips behind the field. Clockwise seen from above; to turn it round swap two of the three wires, power off and discharged."
            .to_owned(),
    );
    if spindle.cooling == Cooling::Water {
        remarks.push(
            "Water first: start pump and flow before the spindle, also for a minute's trial."
                .to_owned(),
        );
    }
    remarks
}

/// Volts of the inverter that are not the winding's.
fn voltage(spindle: &Spindle, vfd: &Vfd) -> Option<String> {
    let (given, wound) = (
        units::v::from(vfd.output_voltage),
        units::v::from(spindle.volts),
    );
    if given > wound * (1.0 + VOLTS_STRAY) {
        return Some(format!(
            "{} gives {given} V, the winding is made for {wound} V: do not connect them, the insulation breaks down.",
            vfd.title
        ));
    }
    (given < wound * (1.0 - VOLTS_STRAY)).then(|| {
        format!(
            "{} gives {given} V, less than the winding's {wound} V: it pulls weakly at full speed.",
            vfd.title
        )
    })
}
