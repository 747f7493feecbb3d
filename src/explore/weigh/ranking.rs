//! All weighed choices, in the order of what they give for their money or of how far they reach.

use super::{NOTICEABLE, Span, Thrifty, Weighed};
use crate::build::Choice;
use crate::explore::reading::{Measure, Reading};
use crate::order::Order as _;

/// A choice with what it is ranked by.
struct Ranked<'a> {
    row: &'a Weighed,
    /// What its best option gives for a unit of money.
    worth: Option<f64>,
    /// What that option gives.
    gain: f64,
    /// How far the choice reaches.
    span: f64,
}

impl<'a> Ranked<'a> {
    fn of(row: &'a Weighed, before: &Reading, measure: Measure) -> Self {
        let best = row.best(before, measure);
        let span = row.span(before, measure);
        Self {
            row,
            worth: best.and_then(|best| best.worth(before, measure)),
            gain: best
                .and_then(|best| best.gain(before, measure))
                .unwrap_or_default(),
            span: span.map_or(0.0, |span| span.width()),
        }
    }

    /// What gives more for its money is greater; then what gives more, then what reaches farther.
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        let worth = |one: &Self| one.worth.unwrap_or(f64::NEG_INFINITY);
        worth(self)
            .total_cmp(&worth(other))
            .then(self.gain.total_cmp(&other.gain))
            .then(self.span.total_cmp(&other.span))
    }
}

/// All free choices of a build, weighed.
#[derive(Clone, Debug)]
pub struct Weighing {
    /// What the machine is now.
    pub before: Reading,
    /// The choices, in the order of their table.
    pub rows: Vec<Weighed>,
    /// Choices that are left out since what they name is bought.
    pub bought: Vec<&'static Choice>,
}

impl Weighing {
    /// The choices that move a measure: first those with an option that betters it, by what that
    /// buys for its money, then the others by how far they move it.
    pub fn ranked(&self, measure: Measure) -> Vec<&Weighed> {
        let now = self.before.value(measure);
        let noticeable = now.map_or(0.0, |now| now.number.abs()) * NOTICEABLE;
        let mut ranked: Vec<Ranked> = self
            .rows
            .iter()
            .map(|row| Ranked::of(row, &self.before, measure))
            .filter(|ranked| ranked.worth.is_some() || ranked.span > noticeable)
            .collect();
        ranked.order_by(|a, b| b.cmp(a));
        ranked.into_iter().map(|ranked| ranked.row).collect()
    }

    /// The choices with an option that saves something: what costs the machine least for what it
    /// saves first.
    pub fn by_thrift(&self) -> Vec<&Weighed> {
        let rows = self.rows.iter();
        let rated = rows.filter_map(|row| Some((row, row.thriftiest(&self.before)?)));
        let mut rated: Vec<(&Weighed, Thrifty)> = rated.collect();
        rated.order_by(|(_, a), (_, b)| b.cmp(a));
        rated.into_iter().map(|(row, _)| row).collect()
    }

    /// The same choices by how far they move the measure, the widest first: the order of the
    /// tornado picture.
    pub fn by_span(&self, measure: Measure) -> Vec<(&Weighed, Span<'_>)> {
        let ranked = self.ranked(measure).into_iter();
        let mut rows: Vec<(&Weighed, Span)> = ranked
            .filter_map(|row| Some((row, row.span(&self.before, measure)?)))
            .filter(|(_, span)| span.width() > 0.0)
            .collect();
        rows.order_by(|(_, a), (_, b)| b.width().total_cmp(&a.width()));
        rows
    }
}
