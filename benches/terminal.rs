//! How quick the whole program is in a terminal: from its start to the last byte of the first
//! frame, from a key to the last byte of the answer, how much it writes, what it does while
//! nobody presses anything, how much memory it takes at most, how large its file is.
//!
//! Beside it, for scale, stand two programs that many have, measured the same way in the same
//! run: an editor on the same file, and a viewer of processes. Times mean little by
//! themselves: compare ratios, on a machine that does nothing else. What counts bytes is the
//! same everywhere. Nothing here judges a time; keys without an answer end in an error, since
//! the figures beside them would be worth nothing.
//!
//! `cargo bench --bench terminal`

use std::error::Error;

#[cfg(target_os = "linux")]
#[path = "terminal/process.rs"]
mod process;
#[cfg(target_os = "linux")]
#[path = "terminal/run.rs"]
mod run;
#[cfg(target_os = "linux")]
#[path = "terminal/script.rs"]
mod script;
#[cfg(target_os = "linux")]
#[path = "terminal/session.rs"]
mod session;

fn main() -> Result<(), Box<dyn Error>> {
    // Asked for among the tests it has nothing to do: it takes a minute and proves nothing.
    if !std::env::args().any(|argument| argument == "--bench") {
        println!("measured by: cargo bench --bench terminal");
        return Ok(());
    }
    measure()
}

#[cfg(target_os = "linux")]
fn measure() -> Result<(), Box<dyn Error>> {
    run::run()
}

#[cfg(not(target_os = "linux"))]
fn measure() -> Result<(), Box<dyn Error>> {
    println!("not measured: this asks Linux for memory and time on the processor");
    Ok(())
}
