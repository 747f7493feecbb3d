//! The screen: every page drawn and driven, without a terminal.

#[path = "../common/bench.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod bench;
#[path = "../common/mod.rs"]
mod common;
#[path = "../common/figures.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod figures;
#[path = "../common/pty.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod pty;
#[path = "../common/screen.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod screen;

mod all_figures;
mod better;
mod bill;
mod cures;
mod cures_told;
mod derivations;
mod drawings;
mod figures_in_drawings;
mod first;
mod interview;
mod interview_money;
mod monkey;
mod mouse;
mod own_parts_form;
mod own_parts_on_screen;
mod picture_pages;
mod savings;
mod seek;
mod seek_form;
mod sheets;
mod shots;
mod sizes;
mod two;
mod uncut;
mod units_entry;
mod variants;
mod what_if;
mod what_is_lost;
mod wide_text;
mod words;
mod words_shown;
