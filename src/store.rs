//! Where things are kept: the data built into the program, overlays, build files.
//!
//! The only room that opens files. Everything it reads becomes a typed value or one clear
//! message with file, line and column.

pub mod embedded;
