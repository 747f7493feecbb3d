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
//! values, those of a table the name and the value of each field in turn.

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

/// What a byte of a number in a head can hold, and the sign that more follow.
const MORE: usize = 1 << SIX;
const SIX: u32 = 6;
const SEVEN: u32 = 7;

fn of_bits(bits: u64) -> String {
    let pieces = (0..u64::BITS).step_by(SEVEN as usize);
    let pieces = pieces.map(|from| char::from((bits >> from) as u8 & 0x7f));
    pieces.collect()
}

/// The bits of a number, or of yes or no.
#[allow(dead_code, reason = "the build script only bakes")]
pub(super) fn bits(says: &str) -> u64 {
    let pieces = says.bytes().rev();
    pieces.fold(0, |bits, piece| (bits << SEVEN) | u64::from(piece))
}

/// A value that was baked.
#[derive(Clone, Copy)]
#[allow(dead_code, reason = "the build script only bakes")]
pub(super) struct Baked<'b> {
    /// What it is.
    pub(super) kind: Kind,
    /// Where it begins in the file.
    pub(super) start: usize,
    /// Where it ends there.
    pub(super) end: usize,
    /// Its text, or its values.
    pub(super) says: &'b str,
}

#[allow(dead_code, reason = "the build script only bakes")]
impl<'b> Baked<'b> {
    /// Where it stands in the file, in bytes.
    pub(super) fn place(&self) -> Range<usize> {
        self.start..self.end
    }

    /// Its values, where it is a list or a table.
    pub(super) fn values(&self) -> Values<'b> {
        Values::new(self.says, self.start)
    }
}

/// Takes values from the front of what was baked.
#[derive(Clone, Copy)]
#[allow(dead_code, reason = "the build script only bakes")]
pub(super) struct Values<'b> {
    rest: &'b str,
    /// Where the last one ends in the file.
    pub(super) end: usize,
}

#[allow(dead_code, reason = "the build script only bakes")]
impl<'b> Values<'b> {
    /// The values of what begins at a place in the file.
    pub(super) fn new(rest: &'b str, start: usize) -> Self {
        Self { rest, end: start }
    }
}

/// The numbers of a head behind the kind, and where it ends.
#[allow(dead_code, reason = "the build script only bakes")]
fn long_head(bytes: &[u8]) -> Option<([usize; 3], usize)> {
    let mut at = 1;
    let mut head = [0; 3];
    for number in &mut head {
        let mut shift = 0;
        loop {
            let byte = usize::from(*bytes.get(at)?);
            at += 1;
            *number |= (byte % MORE) << shift;
            if byte < MORE {
                break;
            }
            shift += SIX;
        }
    }
    Some((head, at))
}

impl<'b> Iterator for Values<'b> {
    type Item = Baked<'b>;

    fn next(&mut self) -> Option<Baked<'b>> {
        let bytes = self.rest.as_bytes();
        let kind = *Kind::ALL.get(usize::from(*bytes.first()?))?;
        let ([behind, length, many], at) = match bytes.get(1..4) {
            // Most numbers of a head are of one byte.
            Some(&[behind, length, many]) if usize::from(behind | length | many) < MORE => {
                ([behind, length, many].map(usize::from), 4)
            }
            _ => long_head(bytes)?,
        };
        let behind = (behind >> 1) ^ (behind & 1).wrapping_neg();
        let start = self.end.wrapping_add(behind);
        let end = start + length;
        let (says, rest) = self.rest.get(at..)?.split_at_checked(many)?;
        *self = Self { rest, end };
        Some(Baked {
            kind,
            start,
            end,
            says,
        })
    }
}
