//! The program in a real terminal, through a pseudo-terminal.

#[path = "../common/home.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod home;
#[path = "../common/pty.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod pty;

mod bytes;
mod faults;
mod find;
mod plain;
mod recovery;
mod session;
mod state;
mod stops;
mod storms;
mod terminals;
mod two;
