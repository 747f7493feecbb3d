//! A file of TOML as a text that is read from front to back: what the parser made of the file,
//! before any type is asked for.
//!
//! The catalogue that is built in is parsed when the program is built (the build script makes
//! this text of it with this very code) and not at each start, where that was half of the time
//! to the first frame. A user's file is parsed when it is read, to such a text as well; so whoever
//! reads has one shape before them.
//!
//! A value is its kind, how far behind the end of the value before it it begins in the file (or,
//! as the first in a list or table, behind its beginning), how long it is there, how many bytes it
//! takes here, and these. Numbers of that head are written by six bits, the least first, with a
//! seventh where more follow, and numbers of a file by seven bits: so all of it is one text, and
//! the texts in it need not be proven to be such when they are read. The bytes of a list are its
//! values, those of a table the name and the value of each field in turn. `values.rs` reads it.

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

/// A file as such a text.
///
/// # Errors
/// Where the text is not TOML.
pub(super) fn bake(text: &str) -> Result<String, Error> {
    let root = DeTable::parse(text)?;
    let mut baked = Oven {
        says: String::with_capacity(text.len()),
        end: 0,
    };
    let place = root.span();
    baked.push(Kind::Table, &place, &table(place.start, root.get_ref()));
    Ok(baked.says)
}

/// Several texts, one after the other.
///
/// # Errors
/// Where one of them is not TOML.
#[allow(dead_code, reason = "the build script calls it, the program does not")]
pub(super) fn bake_all<'t>(texts: impl Iterator<Item = &'t str>) -> Result<String, Error> {
    texts
        .map(bake)
        .collect::<Result<Vec<_>, _>>()
        .map(|baked| baked.concat())
}

fn table(start: usize, table: &DeTable<'_>) -> String {
    let mut fields = Oven {
        says: String::new(),
        end: start,
    };
    for (key, field) in table {
        fields.push(Kind::Text, &key.span(), key.get_ref());
        fields.value(&field.span(), field.get_ref());
    }
    fields.says
}

/// Values of a list or a table, while they are made.
struct Oven {
    says: String,
    /// Where the last one ends in the file.
    end: usize,
}

impl Oven {
    fn value(&mut self, place: &Range<usize>, value: &DeValue<'_>) {
        match value {
            DeValue::String(text) => self.push(Kind::Text, place, text),
            DeValue::Integer(whole) => match i64::from_str_radix(whole.as_str(), whole.radix()) {
                Ok(whole) => self.push(Kind::Whole, place, &of_bits(whole as u64)),
                Err(_) => self.push(Kind::Unfit, place, "integer number overflowed"),
            },
            DeValue::Float(float) => {
                let endless = float.as_str().contains("inf");
                let read = float.as_str().parse().ok();
                match read.filter(|read: &f64| endless || !read.is_infinite()) {
                    Some(read) => self.push(Kind::Float, place, &of_bits(read.to_bits())),
                    None => self.push(Kind::Unfit, place, "floating-point number overflowed"),
                }
            }
            DeValue::Boolean(flag) => self.push(Kind::Flag, place, &of_bits(u64::from(*flag))),
            DeValue::Datetime(_) => self.push(Kind::Date, place, ""),
            DeValue::Array(list) => {
                let mut values = Self {
                    says: String::new(),
                    end: place.start,
                };
                for one in list.iter() {
                    values.value(&one.span(), one.get_ref());
                }
                self.push(Kind::List, place, &values.says);
            }
            DeValue::Table(fields) => self.push(Kind::Table, place, &table(place.start, fields)),
        }
    }

    fn push(&mut self, kind: Kind, place: &Range<usize>, says: &str) {
        self.says.push(char::from(kind as u8));
        let behind = place.start as i64 - self.end as i64;
        // Whatever stands before what it should follow is an odd number.
        let behind = (behind << 1) ^ (behind >> 63);
        for mut rest in [behind as usize, place.len(), says.len()] {
            while rest >= MORE {
                self.says.push(char::from((rest % MORE + MORE) as u8));
                rest /= MORE;
            }
            self.says.push(char::from(rest as u8));
        }
        self.says.push_str(says);
        self.end = place.end;
    }
}

/// Bits of a number of a head that a byte holds.
pub(super) const HEAD_BITS: u32 = 6;
/// What such a byte can hold, and the sign that more follow.
pub(super) const MORE: usize = 1 << HEAD_BITS;
/// Bits of a number of a file that a byte holds.
pub(super) const NUMBER_BITS: u32 = 7;

fn of_bits(bits: u64) -> String {
    let pieces = (0..u64::BITS).step_by(NUMBER_BITS as usize);
    let pieces = pieces.map(|from| char::from((bits >> from) as u8 & 0x7f));
    pieces.collect()
}
