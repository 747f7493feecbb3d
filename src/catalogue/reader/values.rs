//! Takes values from the text that was made of a file.

use std::ops::Range;

use super::baked::{HEAD_BITS, Kind, MORE, NUMBER_BITS};

/// The kinds of value, each at the place of the byte that stands for it.
const KINDS: [Kind; 8] = [
    Kind::Table,
    Kind::List,
    Kind::Text,
    Kind::Whole,
    Kind::Float,
    Kind::Flag,
    Kind::Date,
    Kind::Unfit,
];

/// The bits of a number, or of yes or no.
pub(super) fn bits(says: &str) -> u64 {
    let pieces = says.bytes().rev();
    pieces.fold(0, |bits, piece| (bits << NUMBER_BITS) | u64::from(piece))
}

/// A value that was baked.
#[derive(Clone, Copy)]
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
pub(super) struct Values<'b> {
    rest: &'b str,
    /// Where the last one ends in the file.
    pub(super) end: usize,
}

impl<'b> Values<'b> {
    /// The values of what begins at a place in the file.
    pub(super) fn new(rest: &'b str, start: usize) -> Self {
        Self { rest, end: start }
    }
}

/// The numbers of a head behind the kind, and where it ends.
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
            shift += HEAD_BITS;
        }
    }
    Some((head, at))
}

impl<'b> Iterator for Values<'b> {
    type Item = Baked<'b>;

    fn next(&mut self) -> Option<Baked<'b>> {
        let bytes = self.rest.as_bytes();
        let kind = *KINDS.get(usize::from(*bytes.first()?))?;
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
