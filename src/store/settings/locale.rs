//! The marks that people of a language and a territory expect in a number: those of the Unicode
//! CLDR (release 45, `numbers`), from memory. Its kinds of space are one space here.

use crate::units::Marks;

/// Languages, with a territory where it differs from its language; decimal mark and mark
/// between thousands.
const KNOWN: &[(&str, char, char)] = &[
    ("en he ja ko th zh", '.', ','),
    (
        "es_DO es_GT es_HN es_MX es_NI es_PA es_PE es_PR es_SV es_US",
        '.',
        ',',
    ),
    ("de_CH de_LI it_CH", '.', '\''),
    ("de_AT pt_PT es_CR", ',', ' '),
    (
        "bs ca da de el es eu gl hr id is it mk nl pt ro sl sr tr vi",
        ',',
        '.',
    ),
    (
        "be bg cs et fi fr hu lt lv nb nn no pl ru sk sq sv uk",
        ',',
        ' ',
    ),
];

/// The marks of the locale, by the first of `LC_ALL`, `LC_NUMERIC` and `LANG` that is set
/// (POSIX.1-2017, 8.2); none for `C`, `POSIX` and what is not known.
pub fn marks(variable: impl Fn(&str) -> Option<String>) -> Option<Marks> {
    let name = ["LC_ALL", "LC_NUMERIC", "LANG"]
        .into_iter()
        .filter_map(variable)
        .find(|value| !value.is_empty())?;
    let name = name.split(['.', '@']).next()?;
    let language = name.split('_').next()?;
    let of = |name: &str| {
        let found = |(names, ..): &&(&str, char, char)| names.split(' ').any(|one| one == name);
        KNOWN.iter().find(found)
    };
    let (_, decimal, thousands) = of(name).or_else(|| of(language))?;
    Marks::new(*decimal, Some(*thousands))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(name: &str, value: &str) -> Option<(char, Option<char>)> {
        let marks = marks(|asked| (asked == name).then(|| value.to_owned()))?;
        Some((marks.decimal(), marks.thousands()))
    }

    #[test]
    fn language_and_territory_decide() {
        assert_eq!(of("LANG", "en_US.UTF-8"), Some(('.', Some(','))));
        assert_eq!(of("LC_ALL", "de_DE.UTF-8"), Some((',', Some('.'))));
        assert_eq!(of("LC_NUMERIC", "de_CH"), Some(('.', Some('\''))));
        assert_eq!(of("LANG", "de_AT@euro"), Some((',', Some(' '))));
        assert_eq!(of("LANG", "fr_FR.UTF-8"), Some((',', Some(' '))));
        for plain in ["C", "C.UTF-8", "POSIX", "xx_YY", ""] {
            assert_eq!(of("LANG", plain), None, "{plain}");
        }
        assert_eq!(of("LC_TIME", "de_DE"), None);
    }

    #[test]
    fn every_pair_of_the_table_can_be_told_apart() {
        for (names, decimal, thousands) in KNOWN {
            assert!(Marks::new(*decimal, Some(*thousands)).is_some(), "{names}");
        }
    }
}
