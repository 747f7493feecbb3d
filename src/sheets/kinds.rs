//! The sheets, one file each, and which cautions stand on which.

use super::{Paper, SheetKind};
use crate::bill::Bill;
use crate::catalogue::prices::Basis;
use crate::rules::cautions::Caution;

pub(super) mod checklist;
pub(super) mod cuts;
pub(super) mod drill;
pub(super) mod motion;
pub(super) mod parts;
pub(super) mod prints;
pub(super) mod summary;
pub(super) mod terminals;
pub(super) mod vfd;
pub(super) mod wiring;

/// How much of the goods' price is invented, as the beginning of a sentence; none where nothing is.
pub(super) fn invented(bill: &Bill) -> Option<String> {
    if bill.share_of(Basis::Invented).is_zero() {
        return None;
    }
    let percent = bill.percent_of(Basis::Invented);
    let share = match percent.is_zero() {
        true => "Less than 1 %".to_owned(),
        false => format!("{percent} %"),
    };
    Some(format!("{share} of the goods' price is invented"))
}

/// The cautions of a sheet: those of the work that it is about.
pub(super) fn cautions(kind: SheetKind, paper: &Paper) -> Vec<&'static Caution> {
    let about: &[&str] = match kind {
        SheetKind::Parts | SheetKind::Prints => &[],
        SheetKind::Cuts | SheetKind::Drill => &["rotating-tool"],
        SheetKind::Wiring | SheetKind::Terminals => &["mains"],
        SheetKind::Motion => &["moving-axes"],
        SheetKind::Vfd => &["mains", "rotating-tool"],
        SheetKind::Checklist | SheetKind::Dossier => return paper.assessment.cautions.clone(),
    };
    let all = paper.assessment.cautions.iter().copied();
    all.filter(|caution| about.contains(&caution.id)).collect()
}
