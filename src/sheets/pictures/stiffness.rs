//! What gives how much when the tool is pushed: a bar for each direction.

use super::Picture;
use super::parted::{HIGH, Part, bar, list};
use super::pen::{At, EDGE, LINE, Pen, SIZE, WIDE};
use crate::build::Axis;
use crate::machine::stiffness::Spring;
use crate::sheets::Paper;
use crate::units::{self, show};
use crate::words::Words as _;

const TITLE: &str = "What gives when the tool is pushed";
const ABOUT: &str = "Seen at the collet with the tool at mid-span; each part's share of the whole \
                     give. What stands first in a direction is what to make stiffer first.";
/// As many springs are shown one by one; what is left of them stands together.
const SHOWN: usize = 6;
/// Springs of less than this share stand together, in percent.
const LEAST: f64 = 3.0;

/// Draws it.
pub(super) fn picture(paper: &Paper) -> Picture {
    let stiffness = &paper.assessment.machine.stiffness;
    let mut pen = Pen::new("stiffness");
    let mut y = LINE;
    for axis in Axis::EACH {
        let parts = parts(&stiffness.springs[axis]);
        let collet = units::n_per_um::from(stiffness.collet[axis]);
        pen.bold((EDGE, y), At::Start, SIZE, axis.title());
        let value = format!("{} N/µm", show::number(collet, 1));
        pen.text((WIDE - EDGE, y), At::End, SIZE, &value);
        bar(&mut pen, y + 6.0, &parts);
        y = list(&mut pen, y + 6.0 + HIGH + LINE, &parts) + 10.0;
    }
    let about = format!(
        "{ABOUT} The first bending mode lies near {} Hz.",
        show::number(units::hz::from(stiffness.first_mode), 0)
    );
    Picture::new("stiffness", TITLE, about, pen, y - LINE)
}

/// The softest springs with their shares in percent, and all others as one.
pub fn shown(springs: &[Spring]) -> Vec<(&'static str, f64)> {
    let percent = |spring: &Spring| units::percent::from(spring.share);
    let told = springs
        .iter()
        .take(SHOWN)
        .take_while(|spring| percent(spring) >= LEAST)
        .count();
    let named = springs.iter().take(told);
    let mut shown: Vec<(&'static str, f64)> = named
        .map(|spring| (spring.name.title(), percent(spring)))
        .collect();
    let rest: f64 = springs.iter().skip(told).map(percent).sum();
    if springs.len() > told && rest > 0.0 {
        shown.push(("all others together", rest));
    }
    shown
}

fn parts(springs: &[Spring]) -> Vec<Part> {
    let parts = shown(springs).into_iter();
    parts
        .map(|(name, percent)| Part {
            name: name.to_owned(),
            share: percent / 100.0,
            value: format!("{} %", show::number(percent, 0)),
        })
        .collect()
}
