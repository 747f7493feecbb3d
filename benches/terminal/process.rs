//! What the system knows of a process (Linux, `proc(5)`).

use std::error::Error;

/// Time on the processor so far, user's and system's, in ticks. A tick is what the kernel shows
/// to programs, a hundredth of a second on every common machine (from memory).
pub(crate) fn ticks(process: u32) -> Result<u64, Box<dyn Error>> {
    let line = std::fs::read_to_string(format!("/proc/{process}/stat"))?;
    // The name of the program stands in brackets and may hold anything.
    let (_, rest) = line.rsplit_once(')').ok_or("no name in stat")?;
    // Fields 14 and 15; the third one is the first behind the name.
    let times = rest.split_whitespace().skip(11).take(2);
    let times: Vec<u64> = times.map(str::parse).collect::<Result<_, _>>()?;
    Ok(times.iter().sum())
}

/// The most memory that it ever had, in KiB.
pub(crate) fn peak_kib(process: u32) -> Result<u64, Box<dyn Error>> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status"))?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let number = line.and_then(|line| line.split_whitespace().next());
    Ok(number.ok_or("no peak in status")?.parse()?)
}
