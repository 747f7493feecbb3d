//! Arguments in, exit code out; nothing else.

use std::process::ExitCode;

fn main() -> ExitCode {
    gantrywright::commands::run(std::env::args_os())
}
