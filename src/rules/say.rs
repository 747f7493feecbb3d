//! How the rules write numbers into their messages: one way for all of them.

pub(super) use crate::money::show::money;
pub(super) use crate::units::show::at_most;
use crate::units::show::number;
use crate::units::{
    self, Acceleration, AngularVelocity, ElectricCurrent, ElectricPotential, Force, Frequency,
    Length, Power, Torque, Velocity,
};

/// A whole number in groups of three digits: 12 000.
pub(super) fn grouped(value: f64) -> String {
    number(value, 0)
}

/// Turns a minute: `12 000 rpm`.
pub(super) fn rpm(speed: AngularVelocity) -> String {
    format!("{} rpm", grouped(units::rpm::from(speed)))
}

/// Amperes, to the tenth: `12.8 A`.
pub(super) fn amperes(current: ElectricCurrent) -> String {
    format!("{} A", at_most(units::a::from(current), 1))
}

/// Milliamperes, to the tenth: `3.5 mA`.
pub(super) fn milliamperes(current: ElectricCurrent) -> String {
    format!("{} mA", at_most(units::ma::from(current), 1))
}

/// Volts, to the tenth: `230 V`.
pub(super) fn volts(voltage: ElectricPotential) -> String {
    format!("{} V", at_most(units::v::from(voltage), 1))
}

/// Whole watts: `1 411 W`.
pub(super) fn watts(power: Power) -> String {
    format!("{} W", grouped(units::w::from(power)))
}

/// Metres a minute, to the tenth: `3 m/min`.
pub(super) fn feed(speed: Velocity) -> String {
    format!("{} m/min", at_most(units::m_per_min::from(speed), 1))
}

/// What is reached, and the speed that it is held against.
pub(super) fn feeds(one: Velocity, other: Velocity) -> [String; 2] {
    beside([one, other].map(units::m_per_min::from), 1, "m/min")
}

/// What there is, and the length that it is held against.
pub(super) fn lengths(one: Length, other: Length, decimals: usize) -> [String; 2] {
    beside([one, other].map(units::mm::from), decimals, "mm")
}

/// What flows, and the current that it is held against.
pub(super) fn currents(one: ElectricCurrent, other: ElectricCurrent) -> [String; 2] {
    beside([one, other].map(units::a::from), 1, "A")
}

/// The most digits that a limit keeps beyond the usual ones.
const FINER: usize = 4;

/// A figure and the limit that it is held against. Where both would read alike, digits that nobody
/// counts by would tell them apart: then it is just over the limit, or just under it.
fn beside([one, limit]: [f64; 2], decimals: usize, unit: &str) -> [String; 2] {
    let whole = |digits: &usize| {
        let text = format!("{limit:.digits$}", digits = *digits);
        text.parse::<f64>()
            .is_ok_and(|read| (read - limit).abs() <= limit.abs() * 1e-9)
    };
    let digits = (decimals..=decimals + FINER)
        .find(whole)
        .unwrap_or(decimals);
    let told = |number: f64| match digits {
        0 => format!("{} {unit}", grouped(number)),
        _ => format!("{} {unit}", at_most(number, digits)),
    };
    let (reached, wanted) = (told(one), told(limit));
    let reached = match reached == wanted {
        false => reached,
        true if one > limit => format!("just over {wanted}"),
        true => format!("just under {wanted}"),
    };
    [reached, wanted]
}

/// Metres a second squared, to the hundredth: `0.5 m/s²`.
pub(super) fn acceleration(acceleration: Acceleration) -> String {
    format!("{} m/s²", at_most(units::m_per_s2::from(acceleration), 2))
}

/// Millimetres with at most so many decimals: `1 240 mm`, `0.085 mm`.
pub(super) fn mm(length: Length, decimals: usize) -> String {
    let number = units::mm::from(length);
    match decimals {
        0 => format!("{} mm", grouped(number)),
        _ => format!("{} mm", at_most(number, decimals)),
    }
}

/// A diameter with the digits of its name: `8 mm`, `6.35 mm`.
pub(super) fn bore(diameter: Length) -> String {
    mm(diameter, 2)
}

/// Whole newtons: `4 541 N`.
pub(super) fn newtons(force: Force) -> String {
    format!("{} N", grouped(units::n::from(force)))
}

/// Newton metres with at most so many decimals: `0.062 N·m`.
pub(super) fn torque(torque: Torque, decimals: usize) -> String {
    format!("{} N·m", at_most(units::nm::from(torque), decimals))
}

/// Kilohertz, to the tenth: `62.5 kHz`.
pub(super) fn kilohertz(frequency: Frequency) -> String {
    let number = units::khz::from(frequency);
    match number < 1000.0 {
        true => format!("{} kHz", at_most(number, 1)),
        false => format!("{} kHz", grouped(number)),
    }
}

/// Several things in a row: `a, b and c`.
pub(super) fn list<T: AsRef<str>>(things: &[T]) -> String {
    match things {
        [] => String::new(),
        [only] => only.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}

/// A count with its noun: `1 input`, `3 inputs`.
pub(super) fn count(number: u32, noun: &str) -> String {
    if number == 1 {
        format!("1 {noun}")
    } else {
        format!("{number} {noun}s")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_well() {
        assert_eq!(grouped(999.0), "999");
        assert_eq!(grouped(12_000.0), "12 000");
        assert_eq!(grouped(1_234_567.4), "1 234 567");
        assert_eq!(at_most(230.0, 1), "230");
        assert_eq!(at_most(12.84, 1), "12.8");
        let [reached, wanted] = feeds(units::m_per_min::of(5.97), units::m_per_min::of(6.0));
        assert_eq!([reached, wanted], ["just under 6 m/min", "6 m/min"]);
        let both = lengths(units::mm::of(0.1002), units::mm::of(0.1), 3);
        assert_eq!(both, ["just over 0.1 mm", "0.1 mm"]);
        let both = lengths(units::mm::of(0.1012), units::mm::of(0.1005), 3);
        assert_eq!(both, ["0.1012 mm", "0.1005 mm"]);
        assert_eq!(list(&["a", "b", "c"]), "a, b and c");
        assert_eq!(count(1, "axis"), "1 axis");
    }
}
