//! Where things are kept: the data built into the program, overlays, build files.
//!
//! The only room that opens files. Everything it reads becomes a typed value or one clear
//! message ([`FileError`]) with file, line and column; nothing that it reads can steer the
//! terminal ([`visible()`]).

pub mod build_file;
pub mod bundle;
pub mod clock;
pub mod embedded;
pub mod examples;
pub mod file_error;
mod folder;
pub mod in_two;
pub mod journal;
pub mod kept;
pub mod library;
mod limits;
pub mod lock;
pub mod log;
mod missing_keys;
pub mod own_parts;
mod plain_words;
pub mod quotes;
pub mod save;
pub mod settings;
pub mod state;
pub mod text;
mod toml_value;
pub mod visible;

pub use file_error::FileError;
pub use save::save;
pub use visible::{visible, visible_cell, visible_json};
