//! The sheets, one file each, and which cautions stand on which.

use super::{Paper, SheetKind};
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
