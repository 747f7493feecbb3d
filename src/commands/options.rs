//! What the options of several commands take.

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser as _};

use crate::words::Words;

crate::words! {
    /// How the answer is written.
    #[allow(unreachable_pub, reason = "words! makes public enums, and this one stays here")]
    AnswerFormat {
        Text = "text", "text", "Tables for people.";
        Csv = "csv", "CSV", "Comma-separated values with a heading, as RFC 4180 has it.";
        Json = "json", "JSON", "For programs.";
    }
}

/// The words of a closed list as values of an option, each with its explanation.
pub(super) fn words<W: Words + Send + Sync>() -> impl clap::builder::TypedValueParser<Value = W> {
    let each = W::WORDS
        .iter()
        .map(|word| PossibleValue::new(word.id).help(word.plain));
    PossibleValuesParser::new(each)
        .try_map(|text| W::from_id(&text).ok_or_else(|| format!("there is no {text:?}")))
}
