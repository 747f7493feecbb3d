//! Whole bars on the bill: they take the place of the metres that the pieces take.

use rust_decimal::Decimal;

use super::{Cuts, SectionCuts};
use crate::bill::list::{Need, Told};
use crate::bill::nesting::{Stock, Tenths};
use crate::build::choices::working_area::TubeSupply;
use crate::catalogue::{Id, Step};
use crate::explain::{Input, Origin, Worth};
use crate::units::Length;

impl Cuts {
    /// Where whole bars are chosen: puts them in place of the metres that the pieces take.
    pub(in crate::bill) fn buy_whole_bars(
        &self,
        needs: &mut Vec<Need>,
        told: &mut Vec<Told>,
        tell: bool,
    ) {
        if self.supply != TubeSupply::WholeBars {
            return;
        }
        for section in &self.sections {
            let of = |part: &Id, step: Step| *part == section.part && step == section.step;
            let need = needs.iter_mut().find(|need| of(need.part.id(), need.step));
            let (Some(need), Some(metres)) = (need, section.metres()) else {
                continue;
            };
            need.needed = metres;
            need.pack = Decimal::ZERO;
            need.longest = section.longest();
            need.why = section.why();
            if tell {
                told.retain(|told| !of(&told.part, told.step));
                told.push(Told {
                    part: section.part,
                    step: section.step,
                    pack: Decimal::ZERO,
                    shared: true,
                    inputs: section.asked(),
                });
            }
        }
        // What offcuts in hand give is not bought.
        needs.retain(|need| !need.needed.is_zero());
    }
}

impl SectionCuts {
    /// The longest bar that is bought.
    fn longest(&self) -> Length {
        let bars = self.nesting.bars.iter();
        let new = bars.filter(|bar| matches!(bar.stock, Stock::New(_)));
        let long = self.nesting.too_long.iter();
        let long = long.map(|&(piece, _)| self.pieces[piece].length);
        let longest = new.map(|bar| bar.length).chain(long).max();
        longest.unwrap_or_default().length()
    }

    /// Which bars are bought, in words.
    fn why(&self) -> String {
        let mut words: Vec<String> = self
            .bought()
            .map(|(length, count)| format!("{count} x {} m", length.metres().normalize()))
            .collect();
        if words.is_empty() {
            words.push("offcuts in hand".to_owned());
        }
        let mut why = format!("whole bars: {}", words.join(", "));
        let long: u32 = self.nesting.too_long.iter().map(|(_, count)| count).sum();
        if long > 0 {
            why.push_str(&format!("; and {long} cut to length, longer than any bar"));
        }
        why
    }

    /// How many new bars of each length.
    pub fn bought(&self) -> impl Iterator<Item = (Tenths, u32)> {
        let count = |place: usize| {
            let of = |stock: Stock| stock == Stock::New(place);
            let bars = self.nesting.bars.iter().filter(move |bar| of(bar.stock));
            bars.map(|bar| bar.times).fold(0, u32::saturating_add)
        };
        let each = self.bars.iter().enumerate();
        each.map(move |(place, bar)| (bar.length, count(place)))
            .filter(|(_, count)| *count > 0)
    }

    /// What the metres of bars are made of.
    fn asked(&self) -> Vec<Input> {
        let bars = self.bought().map(|(length, count)| {
            let title = format!("whole bars: {count} x {} m", length.metres().normalize());
            (title, length, count)
        });
        let long = self.nesting.too_long.iter().map(|&(piece, count)| {
            let length = self.pieces[piece].length;
            (format!("longer than any bar: {count}"), length, count)
        });
        let inputs = bars.chain(long).map(|(title, length, count)| {
            let metres = length.metres() * Decimal::from(count);
            let from = Origin::choice("tube_supply");
            Input::new("n_i", title, Worth::Exact(metres, "m"), from)
        });
        inputs.collect()
    }
}
