//! A number with the symbol of its unit: how a typed quantity leaves the core to be read.

use std::fmt;

use super::show;

/// A number and its unit's symbol; an empty symbol for counts and plain ratios.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amount {
    /// The number.
    pub number: f64,
    /// The unit's symbol.
    pub unit: &'static str,
}

impl Amount {
    /// A count or a plain ratio.
    pub const fn plain(number: f64) -> Self {
        Self { number, unit: "" }
    }

    /// A number with a symbol for which there is no quantity, such as cm⁴.
    pub const fn of(number: f64, unit: &'static str) -> Self {
        Self { number, unit }
    }
}

impl fmt::Display for Amount {
    /// Four significant digits, as many as any figure here is worth.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&significant(self.number, 4))?;
        if self.unit.is_empty() {
            return Ok(());
        }
        write!(f, " {}", self.unit)
    }
}

/// A number with so many significant digits; whole digits are never dropped.
fn significant(number: f64, digits: usize) -> String {
    if number == 0.0 {
        return "0".to_owned();
    }
    if !number.is_finite() {
        return "without end".to_owned();
    }
    let magnitude = number.abs().log10().floor();
    if !(-5.0..9.0).contains(&magnitude) {
        return format!("{number:.*e}", digits - 1);
    }
    let after = (digits as f64 - 1.0 - magnitude).clamp(0.0, 9.0) as usize;
    let text = show::number(number, after);
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_digits_are_shown_and_no_empty_ones() {
        for (number, text) in [
            (0.0, "0"),
            (1.0, "1"),
            (1234.56, "1 235"),
            (12.3456, "12.35"),
            (0.001_234_56, "0.001235"),
            (-2.5, "-2.5"),
            (100_000.0, "100 000"),
            (1.5e-9, "1.500e-9"),
        ] {
            assert_eq!(Amount::plain(number).to_string(), text);
        }
        assert_eq!(Amount::of(7.5, "N").to_string(), "7.5 N");
    }
}
