//! A file of TOML as bytes that are read from front to back: what the parser made of the text,
//! before any type is asked for.
//!
//! The catalogue that is built in is parsed when the program is built (the build script makes
//! these bytes of it with this very code) and not at each start, where that was half of the time
//! to the first frame. A user's file is parsed when it is read, to the same bytes; so whoever
//! reads has one shape before them.
//!
//! A value is its kind, where it begins and how long it is in the text, how many bytes it takes
//! here, and these. Numbers of that head are written by seven bits (LEB128), those of a file by
//! eight bytes, the least first. The bytes of a list are its values, those of a table the name and
//! the value of each field in turn.

use std::ops::Range;

use toml::de::{DeTable, DeValue, Error};

/// What a value is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A table, or the file as a whole.
    Table,
    /// A list.
    List,
    /// A text, or the name of a field.
    Text,
    /// A whole number.
    Whole,
    /// A number with a fraction.
    Float,
    /// Yes or no.
    Flag,
    /// A date without quotes.
    Date,
    /// A number that no machine counts to; its bytes say so.
    Unfit,
}

impl Kind {
    const ALL: [Self; 8] = [
        Self::Table,
        Self::List,
        Self::Text,
        Self::Whole,
        Self::Float,
        Self::Flag,
        Self::Date,
        Self::Unfit,
    ];
}

/// The bytes of a text.
///
/// # Errors
/// Where the text is not TOML.
pub(super) fn bake(text: &str) -> Result<Vec<u8>, Error> {
    let root = DeTable::parse(text)?;
    let mut baked = Vec::with_capacity(text.len());
    push(
        &mut baked,
        Kind::Table,
        &root.span(),
        &table(root.get_ref()),
    );
    Ok(baked)
}

/// The bytes of several texts, one after the other.
///
/// # Errors
/// Where one of them is not TOML.
#[allow(dead_code, reason = "the build script calls it, the program does not")]
pub(super) fn bake_all<'t>(texts: impl Iterator<Item = &'t str>) -> Result<Vec<u8>, Error> {
    texts
        .map(bake)
        .collect::<Result<Vec<_>, _>>()
        .map(|baked| baked.concat())
}

fn table(table: &DeTable<'_>) -> Vec<u8> {
    let mut fields = Vec::new();
    for (key, field) in table {
        push(
            &mut fields,
            Kind::Text,
            &key.span(),
            key.get_ref().as_bytes(),
        );
        value(&mut fields, &field.span(), field.get_ref());
    }
    fields
}

fn value(baked: &mut Vec<u8>, place: &Range<usize>, value: &DeValue<'_>) {
    match value {
        DeValue::String(text) => push(baked, Kind::Text, place, text.as_bytes()),
        DeValue::Integer(whole) => match i64::from_str_radix(whole.as_str(), whole.radix()) {
            Ok(whole) => push(baked, Kind::Whole, place, &whole.to_le_bytes()),
            Err(_) => push(baked, Kind::Unfit, place, b"integer number overflowed"),
        },
        DeValue::Float(float) => {
            let endless = float.as_str().contains("inf");
            let read = float.as_str().parse().ok();
            match read.filter(|read: &f64| endless || !read.is_infinite()) {
                Some(read) => push(baked, Kind::Float, place, &read.to_le_bytes()),
                None => push(
                    baked,
                    Kind::Unfit,
                    place,
                    b"floating-point number overflowed",
                ),
            }
        }
        DeValue::Boolean(flag) => push(baked, Kind::Flag, place, &[u8::from(*flag)]),
        DeValue::Datetime(_) => push(baked, Kind::Date, place, &[]),
        DeValue::Array(list) => {
            let mut values = Vec::new();
            for one in list.iter() {
                self::value(&mut values, &one.span(), one.get_ref());
            }
            push(baked, Kind::List, place, &values);
        }
        DeValue::Table(fields) => push(baked, Kind::Table, place, &table(fields)),
    }
}

fn push(baked: &mut Vec<u8>, kind: Kind, place: &Range<usize>, bytes: &[u8]) {
    baked.push(kind as u8);
    for number in [place.start, place.len(), bytes.len()] {
        let mut rest = number;
        while rest > 0x7f {
            baked.push((rest & 0x7f) as u8 | 0x80);
            rest >>= 7;
        }
        baked.push(rest as u8);
    }
    baked.extend_from_slice(bytes);
}

/// A value that was baked.
#[derive(Clone, Copy)]
#[allow(dead_code, reason = "the build script only bakes")]
pub(super) struct Baked<'b> {
    /// What it is.
    pub(super) kind: Kind,
    /// Where it begins in the text.
    pub(super) start: usize,
    /// Where it ends there.
    pub(super) end: usize,
    /// Its bytes.
    pub(super) bytes: &'b [u8],
}

#[allow(dead_code, reason = "the build script only bakes")]
impl Baked<'_> {
    /// Where it stands in the text, in bytes.
    pub(super) fn place(&self) -> Range<usize> {
        self.start..self.end
    }
}

/// Takes values from the front of bytes.
#[derive(Clone, Copy)]
#[allow(dead_code, reason = "the build script only bakes")]
pub(super) struct Values<'b>(pub(super) &'b [u8]);

#[allow(dead_code, reason = "the build script only bakes")]
impl Values<'_> {
    fn number(&mut self) -> Option<usize> {
        let mut number = 0;
        let mut shift = 0;
        loop {
            let (byte, rest) = self.0.split_first()?;
            self.0 = rest;
            number |= usize::from(byte & 0x7f) << shift;
            if byte & 0x80 == 0 {
                return Some(number);
            }
            shift += 7;
        }
    }
}

impl<'b> Iterator for Values<'b> {
    type Item = Baked<'b>;

    fn next(&mut self) -> Option<Baked<'b>> {
        let (kind, rest) = self.0.split_first()?;
        self.0 = rest;
        let kind = *Kind::ALL.get(usize::from(*kind))?;
        let start = self.number()?;
        let end = start + self.number()?;
        let many = self.number()?;
        let (bytes, rest) = self.0.split_at_checked(many)?;
        self.0 = rest;
        Some(Baked {
            kind,
            start,
            end,
            bytes,
        })
    }
}
