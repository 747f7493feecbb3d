//! The sheets, one file each, and which safety notes stand on which.

use super::{Paper, SheetKind};
use crate::rules::safety_notes::SafetyNote;

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

/// The safety notes of a sheet: those of the work that it is about.
pub(super) fn safety(kind: SheetKind, paper: &Paper) -> Vec<&'static SafetyNote> {
    let about: &[&str] = match kind {
        SheetKind::Parts | SheetKind::Prints => &[],
        SheetKind::Cuts | SheetKind::Drill => &["rotating-tool"],
        SheetKind::Wiring | SheetKind::Terminals => &["mains"],
        SheetKind::Motion => &["moving-axes"],
        SheetKind::Vfd => &["mains", "rotating-tool"],
        SheetKind::Checklist | SheetKind::Dossier => return paper.assessment.safety.clone(),
    };
    let all = paper.assessment.safety.iter().copied();
    all.filter(|caution| about.contains(&caution.id)).collect()
}
