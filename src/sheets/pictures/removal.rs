//! How much of each material the machine takes away in a minute, with its best cut.

use super::Picture;
use super::pen::{EDGE, Fill, LINE, Pen, Rect, Stroke, WIDE};
use crate::machine::cutting::Verdict;
use crate::sheets::Paper;
use crate::units::{self, show};
use crate::words::Words as _;

const TITLE: &str = "Removal by material";
const ABOUT: &str = "The cut that removes most in a minute, of all tools that the spindle takes, \
                     and how well the machine cuts the material at all.";

/// Draws it.
pub(super) fn picture(paper: &Paper) -> Picture {
    let cutting = &paper.assessment.machine.cutting;
    let mut pen = Pen::new("removal");
    let rate = |id| {
        let best = cutting.best(id);
        best.map_or(0.0, |cut| units::cm3_per_min::from(cut.removal))
    };
    let materials = paper.catalogue.materials.values();
    let most = materials
        .clone()
        .map(|one| rate(&one.id))
        .fold(0.0, f64::max);
    let most = if most > 0.0 { most } else { 1.0 };
    let mut y = LINE;
    for material in materials {
        let verdict = cutting.verdict(&material.id);
        let wished = paper.build.area.materials.contains(&material.id);
        let value = match rate(&material.id) {
            0.0 => verdict.title().to_owned(),
            rate => format!("{}: {} cm³/min", verdict.title(), show::number(rate, 0)),
        };
        let name = if wished {
            format!("{} (wanted)", material.title)
        } else {
            material.title.to_string()
        };
        y = pen.row((EDGE, y), WIDE - EDGE, &name, &value);
        let fill = match verdict {
            Verdict::Easily => Fill::Dark,
            Verdict::WithCare => Fill::Rising,
            Verdict::Hardly => Fill::Dots,
            Verdict::No => Fill::Paper,
        };
        let long = (WIDE - 2.0 * EDGE) * rate(&material.id) / most;
        pen.rect(Rect(EDGE, y - LINE + 5.0, long, 9.0), fill, Stroke::Plain);
        y += 20.0;
    }
    Picture::new("removal", TITLE, ABOUT.to_owned(), pen, y - LINE)
}
