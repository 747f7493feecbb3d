//! Tells the linker how to lay out the finished program, which no setting of cargo's can say.

/// The crates of which no session at the screen runs anything, unless somebody asks for it: kept
/// apart, so that the system need not bring them into memory along with what stands beside them.
const SELDOM_CRATES: &[&str] = &[
    "addr2line",
    "clap_builder",
    "clap_complete",
    "clap_lex",
    "clap_mangen",
    "crc32fast",
    "csv",
    "csv_core",
    "flate2",
    "gimli",
    "memchr",
    "miniz_oxide",
    "parking_lot_core",
    "ratatui_widgets",
    "roff",
    "rust_xlsxwriter",
    "rustc_demangle",
    "serde_json",
    "toml_datetime",
    "toml_edit",
    "tui_input",
    "zip",
    "zlib_rs",
    "zopfli",
];

/// Modules and types of other crates of which the same is true, or nearly.
const SELDOM_PARTS: &[&str] = &[
    "alloc::collections::btree::map",
    "core::num::flt2dec::strategy::dragon",
    "core::slice::sort",
    "jiff::error",
    "jiff::fmt::offset",
    "jiff::fmt::strtime",
    "jiff::tz::db",
    "jiff_core::tz",
    "ratatui_core::symbols",
    "ratatui_core::terminal",
    "std::backtrace_rs",
    "std::process",
    "toml::de::error",
];

/// The same of our own. One that is not there any more does no harm.
const SELDOM_MODULES: &[&str] = &[
    "assessment::figures",
    "assessment::json",
    "assessment::moved",
    "bill::doubt",
    "bill::floor",
    "bill::nesting::search",
    "bill::notes",
    "bill::paying::paid",
    "build::merge",
    "build::variants::change",
    "catalogue::PartKind",
    "catalogue::check",
    "catalogue::fields",
    "catalogue::said",
    "commands::Command",
    "commands::ask",
    "commands::assess",
    "commands::compare",
    "commands::csv",
    "commands::find",
    "commands::interview",
    "commands::json",
    "commands::layout",
    "commands::look",
    "commands::manual",
    "commands::options",
    "commands::output",
    "commands::parts",
    "commands::plain",
    "commands::quantities",
    "commands::quotes",
    "commands::recover",
    "commands::rules",
    "commands::sheet",
    "commands::take_up",
    "commands::watch",
    "commands::weigh",
    "commands::why",
    "commands::words",
    "explore::compare",
    "explore::find",
    "explore::interview",
    "explore::question",
    "explore::stiffer",
    "explore::sweep",
    "explore::told",
    "explore::trial",
    "explore::weigh",
    "machine::cutting::why::tell_nothing",
    "machine::measured",
    "money::typed",
    "rules::decided",
    "rules::own",
    "screen::differences",
    "screen::file_names",
    "screen::form",
    "screen::interview",
    "screen::job",
    "screen::options::read",
    "screen::own_part",
    "screen::recovery",
    "screen::screenshot",
    "screen::seek",
    "screen::side_by_side",
    "screen::theirs",
    "screen::trace::Witness",
    "screen::update::interview",
    "screen::update::ledger::ask",
    "screen::update::ledger::pick",
    "screen::update::ledger::write_down",
    "screen::update::own_part",
    "screen::update::saving",
    "screen::update::seek",
    "screen::view::all_figures",
    "screen::view::derivation",
    "screen::view::entry",
    "screen::view::figure",
    "screen::view::interview",
    "screen::view::own_part",
    "screen::view::pictures::bars",
    "screen::view::seek",
    "screen::view::what_if",
    "sheets::cell",
    "sheets::content",
    "sheets::format",
    "sheets::kinds",
    "sheets::pictures::all",
    "sheets::pictures::machine",
    "sheets::pictures::pen",
    "sheets::spelled",
    "sheets::written",
    "store::build_file::books",
    "store::build_file::purchases",
    "store::build_file::recorded",
    "store::build_file::save",
    "store::build_file::saved",
    "store::build_file::variants",
    "store::build_file::write",
    "store::bundle::write",
    "store::file_error",
    "store::journal::Journal",
    "store::library::Library",
    "store::lock::Who",
    "store::log",
    "store::missing_keys",
    "store::own_parts",
    "store::plain_words",
    "store::quotes",
    "store::settings::read",
    "units::entry::fraction",
    "units::entry::read",
    "words",
];

/// Traits that are never asked for in such a session, of whatever type.
const SELDOM_TRAITS: &[&str] = &["core::fmt::Debug"];

/// Types that are then never copied as a whole.
const SELDOM_COPIED: &[&str] = &[
    "assessment::Assessment",
    "bill::Bill",
    "catalogue::Catalogue",
];

/// The script. It has the linker leave out the tables that only unwinding reads, which a program
/// that aborts at a panic does not do (they would be a sixteenth of it), and put what is seldom run
/// behind the rest.
pub(super) fn script() -> String {
    let tables = "*(.eh_frame) *(.eh_frame.*) *(.eh_frame_hdr)";
    let others = SELDOM_CRATES.iter().chain(SELDOM_PARTS);
    let others = others.map(|path| functions_of(path));
    let own = SELDOM_MODULES.iter();
    let own = own.map(|path| functions_of(&format!("gantrywright::{path}")));
    let traits = SELDOM_TRAITS.iter();
    let traits = traits.map(|path| format!("*(.text.*$u20$as$u20${}$GT$*) ", dotted(path)));
    let copied = SELDOM_COPIED.iter().map(|path| {
        let of = dotted(&format!("gantrywright::{path}"));
        format!("*(.text.*$LT${of}$u20$as$u20$core..clone*) ")
    });
    let seldom: String = others.chain(own).chain(traits).chain(copied).collect();
    let sections = format!("/DISCARD/ : {{ {tables} }} .text.seldom : {{ {seldom} }}");
    format!("SECTIONS {{ {sections} }} INSERT AFTER .text;")
}

/// The functions of a module, type or crate as the linker knows them, a section each: the compiler
/// spells a path with the length before each name, and in what implements a trait for a type, or
/// one of its traits for any type, with dots between. A path begins behind a sign of its own, in the
/// older spelling of the compiler and in its newer one; the newer one ends with the crate that asked
/// for the function, which says nothing of it.
fn functions_of(path: &str) -> String {
    let counted = path.split("::");
    let counted = counted.map(|name| format!("{}{name}", name.len()));
    let counted: String = counted.collect();
    let dotted = dotted(path);
    format!(
        "*(.text._ZN{counted}*) *(.text.*_{counted}?*) *(.text.*$LT${dotted}..*) \
         *(.text.*$u20$as$u20${dotted}..*) "
    )
}

/// A path as it stands within the name of a function that implements a trait.
fn dotted(path: &str) -> String {
    path.replace("::", "..")
}
