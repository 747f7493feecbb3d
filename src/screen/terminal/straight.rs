//! Standard output without the library's buffer. That one sends all up to the last line feed and
//! the rest by itself; a line feed is a move of the cursor here, and a frame in two pieces is shown
//! later and wakes the other side twice.

use std::io::{self, Write};

/// Standard output, each piece as it is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Straight;

impl Write for Straight {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        Ok(rustix::io::write(io::stdout(), bytes)?)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}
