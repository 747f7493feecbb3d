//! The marks and lines of the screen: in Unicode where the terminal has it, else in ASCII.

use std::borrow::Cow;

use crate::units::respell;

/// Which characters the terminal shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Glyphs {
    /// Any character.
    Unicode,
    /// Only those of ASCII.
    Ascii,
}

impl Glyphs {
    /// By the locale: the first of `LC_ALL`, `LC_CTYPE` and `LANG` that is set decides
    /// (POSIX.1-2017, 8.2).
    pub fn of_locale(variable: impl Fn(&str) -> Option<String>) -> Self {
        let name = ["LC_ALL", "LC_CTYPE", "LANG"]
            .into_iter()
            .filter_map(variable)
            .find(|value| !value.is_empty())
            .unwrap_or_default()
            .to_lowercase();
        if name.contains("utf-8") || name.contains("utf8") {
            Self::Unicode
        } else {
            Self::Ascii
        }
    }

    /// Marks a text that was cut.
    pub fn cut(self) -> &'static str {
        self.pick("…", "..")
    }
    /// A line from left to right.
    pub fn across(self) -> &'static str {
        self.pick("─", "-")
    }
    /// A line from top to bottom.
    pub fn down(self) -> &'static str {
        self.pick("│", "|")
    }
    /// Where a line goes down from one across.
    pub fn tee(self) -> &'static str {
        self.pick("┬", "+")
    }
    /// Where a line across meets one that goes down, from the left.
    pub fn side(self) -> &'static str {
        self.pick("┤", "+")
    }
    /// The filled part of a bar.
    pub fn full(self) -> &'static str {
        self.pick("█", "#")
    }
    /// The empty part of a bar.
    pub fn empty(self) -> &'static str {
        self.pick("░", "-")
    }

    fn pick(self, unicode: &'static str, ascii: &'static str) -> &'static str {
        match self {
            Self::Unicode => unicode,
            Self::Ascii => ascii,
        }
    }

    /// A text in these characters. Some take more room than before, so a text is spelled
    /// before it is measured.
    pub fn spell(self, text: &str) -> Cow<'_, str> {
        if self == Self::Unicode || text.is_ascii() {
            return Cow::Borrowed(text);
        }
        let mut plain = String::with_capacity(text.len());
        for c in text.chars() {
            match c {
                c if c.is_ascii() || respell::is_mark(c) => plain.push(c),
                '°' if plain.is_empty() || plain.ends_with(' ') => plain.push_str("deg"),
                '°' => plain.push_str(" deg"),
                c => plain.push_str(ascii(c)),
            }
        }
        Cow::Owned(plain)
    }
}

/// The nearest spelling in ASCII; a sign that reads the other way round would be worse than
/// a longer one.
fn ascii(c: char) -> &'static str {
    match c {
        'µ' | 'μ' => "u",
        '²' => "2",
        '³' => "3",
        '·' | '•' => ".",
        '×' => "x",
        '÷' => "/",
        'Ω' => "ohm",
        'Δ' => "d",
        '→' => "->",
        '←' => "<-",
        '≤' => "<=",
        '≥' => ">=",
        '–' | '—' | '−' | '─' => "-",
        '‘' | '’' => "'",
        '“' | '”' => "\"",
        '…' => "..",
        '½' => "1/2",
        '±' => "+-",
        '√' => "sqrt",
        'Σ' | '∑' => "sum ",
        '∞' => "infinity",
        '≈' => "~",
        '≠' => "!=",
        '⁻' => "-",
        '█' => "#",
        '\u{a0}' | '\u{202f}' => " ",
        _ => letter(c),
    }
}

/// Greek letters by their names, raised and lowered figures as figures: what formulas are
/// written with.
fn letter(c: char) -> &'static str {
    const GREEK: [&str; 25] = [
        "alpha", "beta", "gamma", "delta", "epsilon", "zeta", "eta", "theta", "iota", "kappa",
        "lambda", "mu", "nu", "xi", "omicron", "pi", "rho", "sigma", "sigma", "tau", "upsilon",
        "phi", "chi", "psi", "omega",
    ];
    const RAISED: [&str; 10] = ["^0", "^1", "^2", "^3", "^4", "^5", "^6", "^7", "^8", "^9"];
    const LOWERED: [&str; 10] = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"];
    let among = |first: char, names: &'static [&'static str], c: char| {
        let place = u32::from(c).checked_sub(u32::from(first))?;
        names.get(usize::try_from(place).ok()?).copied()
    };
    match c {
        'Α'..='Ω' => c.to_lowercase().next().and_then(|c| among('α', &GREEK, c)),
        'α'..='ω' => among('α', &GREEK, c),
        '⁰' | '⁴'..='⁹' => among('⁰', &RAISED, c),
        '₀'..='₉' => among('₀', &LOWERED, c),
        'ⁿ' => Some("^n"),
        'ₐ' => Some("a"),
        'ₑ' => Some("e"),
        'ₓ' => Some("x"),
        'ₖ' => Some("k"),
        'ₘ' => Some("m"),
        'ₙ' => Some("n"),
        'ₚ' => Some("p"),
        'ₛ' => Some("s"),
        'ₜ' => Some("t"),
        'ᵢ' => Some("i"),
        'ⱼ' => Some("j"),
        'ᵣ' => Some("r"),
        'Ø' | 'ø' | '⌀' => Some("dia"),
        _ => None,
    }
    .unwrap_or("?")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_variable_that_is_set_decides() {
        let with = |pairs: &'static [(&str, &str)]| {
            Glyphs::of_locale(|name| {
                pairs
                    .iter()
                    .find(|(key, _)| *key == name)
                    .map(|(_, value)| (*value).to_owned())
            })
        };
        assert_eq!(with(&[("LANG", "de_DE.UTF-8")]), Glyphs::Unicode);
        assert_eq!(
            with(&[("LC_ALL", "C"), ("LANG", "de_DE.UTF-8")]),
            Glyphs::Ascii
        );
        assert_eq!(
            with(&[("LC_ALL", ""), ("LC_CTYPE", "C.utf8")]),
            Glyphs::Unicode
        );
        assert_eq!(with(&[]), Glyphs::Ascii);
    }

    #[test]
    fn ascii_says_the_same() {
        for (text, plain) in [
            ("5 µm, 2 m²", "5 um, 2 m2"),
            ("≤ 55 °C ± 3°", "<= 55 degC +- 3 deg"),
            ("½ turn → 漢", "1/2 turn -> ?"),
            ("η = π²/8, d₁⁴ · Φₙ", "eta = pi2/8, d1^4 . phin"),
        ] {
            assert_eq!(Glyphs::Ascii.spell(text), plain);
            assert_eq!(Glyphs::Unicode.spell(text), text);
        }
    }
}
