//! How quantities are written for people: rounded to what is worth reading, thousands in
//! groups. Files and JSON have their own, exact spelling.

use rust_decimal::{Decimal, RoundingStrategy};

/// Digits in threes, parted by a space (ISO 80000-1, 7.3.1): `10000` becomes `10 000`.
pub fn grouped(digits: &str) -> String {
    let (sign, digits) = match digits.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", digits),
    };
    let (whole, rest) = match digits.find('.') {
        Some(point) => digits.split_at(point),
        None => (digits, ""),
    };
    let mut text = String::with_capacity(sign.len() + whole.len() * 4 / 3 + rest.len());
    text.push_str(sign);
    let (first, threes) = whole.split_at(whole.len() % 3);
    text.push_str(first);
    for from in (0..threes.len()).step_by(3) {
        if from + first.len() > 0 {
            text.push(' ');
        }
        text.push_str(&threes[from..from + 3]);
    }
    text.push_str(rest);
    text
}

/// A number with so many digits after the point.
pub fn number(value: f64, digits: usize) -> String {
    if let Some(text) = shortly(value, digits) {
        return text;
    }
    let text = format!("{value:.digits$}");
    let nothing = text
        .trim_start_matches('-')
        .chars()
        .all(|c| c == '0' || c == '.');
    grouped(if nothing {
        text.trim_start_matches('-')
    } else {
        &text
    })
}

/// The same for numbers of usual size, which every row of every list is full of, without the exact
/// decimals of the standard library: they only matter where a number lies next to the middle between
/// two that can be shown.
fn shortly(value: f64, digits: usize) -> Option<String> {
    const TENS: [f64; 5] = [1.0, 10.0, 100.0, 1_000.0, 10_000.0];
    /// Below this a product is off by less than a ten-thousandth (2^-53 of it).
    const LARGEST: f64 = 1e11;
    const CLOSE: f64 = 1e-3;
    let scaled = value.abs() * TENS.get(digits)?;
    let part = scaled.fract();
    if scaled >= LARGEST || (part - 0.5).abs() <= CLOSE || !scaled.is_finite() {
        return None;
    }
    let rounded = scaled as u64 + u64::from(part > 0.5);
    Some(spelled(value < 0.0, rounded, digits))
}

/// A whole number, grouped.
pub fn whole(number: i64) -> String {
    spelled(number < 0, number.unsigned_abs(), 0)
}

/// A number of which so many digits stand behind the point, grouped; nothing has no sign.
fn spelled(negative: bool, number: u64, digits: usize) -> String {
    // Twenty digits, six blanks, a sign and a point.
    let mut text = [b' '; 28];
    let mut at = text.len();
    let mut put = |letter: u8| {
        at -= 1;
        text[at] = letter;
    };
    let (mut rest, mut place) = (number, 0);
    while rest > 0 || place <= digits {
        if place == digits && digits > 0 {
            put(b'.');
        } else if place > digits && (place - digits).is_multiple_of(3) {
            put(b' ');
        }
        put(b'0' + (rest % 10) as u8);
        (rest, place) = (rest / 10, place + 1);
    }
    if negative && number > 0 {
        put(b'-');
    }
    String::from_utf8_lossy(&text[at..]).into_owned()
}

/// A number with at most so many digits after the point, none of them a closing zero, and without
/// marks between thousands.
pub fn at_most(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// A number as somebody typed it: no digits that were not there.
pub fn typed(value: f64) -> String {
    grouped(&value.to_string())
}

/// A count or length on the bill: at most two digits after the point, none that are zero.
pub fn quantity(amount: Decimal) -> String {
    grouped(&rounded(amount, 2).normalize().to_string())
}

/// A length in inches to the nearest 64th, as a tape or a rule shows it: `48 1/32`. Rounding
/// moves it by 0.2 mm at most.
pub fn inches(millimetres: Decimal) -> String {
    let parts = (millimetres * Decimal::from(64)).checked_div(Decimal::new(254, 1));
    let parts = rounded(parts.unwrap_or_default(), 0);
    let sign = if parts.is_sign_negative() && !parts.is_zero() {
        "-"
    } else {
        ""
    };
    // No length of a machine comes near what this cannot hold.
    let parts = u64::try_from(parts.abs()).unwrap_or_default();
    let (whole, mut above, mut below) = (parts / 64, parts % 64, 64);
    while above > 0 && above.is_multiple_of(2) {
        (above, below) = (above / 2, below / 2);
    }
    match (whole, above) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{above}/{below}"),
        _ => format!("{sign}{whole} {above}/{below}"),
    }
}

/// Rounded to so many digits after the point, halves away from zero.
pub fn rounded(amount: Decimal, digits: u32) -> Decimal {
    amount.round_dp_with_strategy(digits, RoundingStrategy::MidpointAwayFromZero)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The short way writes what the standard library's exact decimals come to.
    #[test]
    fn numbers_of_usual_size_are_written_as_all_others_are() {
        let exact = |value: f64, digits: usize| {
            let text = format!("{value:.digits$}");
            let is_nothing = text.chars().all(|c| matches!(c, '0' | '.' | '-'));
            grouped(match is_nothing {
                true => text.trim_start_matches('-'),
                false => &text,
            })
        };
        let corners = [
            0.0,
            -0.0,
            0.5,
            -0.5,
            1.5,
            2.5,
            0.05,
            -0.04,
            0.125,
            0.375,
            0.999,
            9.995,
            99.95,
            999.5,
            999.499_999,
            1e3,
            1e6,
            -1e6,
            123_456.789,
            1.005,
            2.675,
            1e10,
            1e11,
            1e12,
            1e300,
            f64::INFINITY,
            f64::NAN,
        ];
        // Numbers of chance, the same at every run (Knuth's constants, from memory).
        let mut seed = 7_u64;
        let mut chance = || {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (seed >> 11) as f64 / (1_u64 << 53) as f64
        };
        let mut random = || {
            let size = 10_f64.powi((chance() * 14.0) as i32 - 4);
            let value = (chance() * 2.0 - 1.0) * size;
            // Some of them with few decimals, as most figures have.
            match (chance() * 3.0) as u8 {
                0 => (value * 1000.0).round() / 1000.0,
                1 => (value * 2.0).round() / 2.0,
                _ => value,
            }
        };
        let random: Vec<f64> = std::iter::repeat_with(&mut random).take(50_000).collect();
        let mut short = 0;
        for value in corners.into_iter().chain(random) {
            for digits in 0..6 {
                assert_eq!(
                    number(value, digits),
                    exact(value, digits),
                    "{value:e}, {digits}"
                );
                short += usize::from(shortly(value, digits).is_some());
            }
        }
        assert!(
            short > 200_000,
            "only {short} of 300 000 were written the short way"
        );
        for value in [0, 7, -7, 999, -1000, 1_234_567, i64::MAX, i64::MIN] {
            assert_eq!(whole(value), grouped(&value.to_string()));
        }
    }

    fn amount(text: &str) -> Decimal {
        Decimal::from_str_exact(text).expect("an amount")
    }

    #[test]
    fn thousands_stand_in_groups() {
        assert_eq!(grouped("999"), "999");
        assert_eq!(grouped("1000"), "1 000");
        assert_eq!(grouped("-1234567.891"), "-1 234 567.891");
    }

    #[test]
    fn a_number_that_rounds_to_nothing_has_no_sign() {
        assert_eq!(number(-0.04, 1), "0.0");
        assert_eq!(number(15.66, 1), "15.7");
        assert_eq!(typed(0.005), "0.005");
    }

    /// Decimal equivalents of fractions of an inch stand in every handbook of machine shops:
    /// 1/64 in is 0.396 875 mm.
    #[test]
    fn inches_are_told_in_sixty_fourths() {
        for (mm, inches) in [
            ("0", "0"),
            ("0.396875", "1/64"),
            ("12.7", "1/2"),
            ("25.4", "1"),
            ("1220", "48 1/32"),
            ("600", "23 5/8"),
            ("-38.1", "-1 1/2"),
        ] {
            assert_eq!(super::inches(amount(mm)), inches, "{mm}");
        }
    }

    #[test]
    fn no_zero_closes_a_number_of_at_most_so_many_digits() {
        for (value, digits, text) in [(0.75, 2, "0.75"), (1.5, 2, "1.5"), (10.0, 3, "10")] {
            assert_eq!(at_most(value, digits), text);
        }
        assert_eq!(at_most(1600.0, 0), "1600");
    }

    #[test]
    fn quantities_drop_empty_digits() {
        assert_eq!(quantity(amount("3.500")), "3.5");
        assert_eq!(quantity(amount("12.00")), "12");
    }
}
