//! What is printed for the workshop.

#[path = "../common/mod.rs"]
mod common;
#[path = "../common/paper.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod paper;

mod checklist;
mod dossier_weighed;
mod sawing;
mod settings_explained;
mod terminals;
mod units_everywhere;
mod wiring_sheets;
mod workbook;
mod workshop_sheets;
