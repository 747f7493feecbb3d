//! The clock on the wall: now, in the time zone of this machine.

use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};

/// Where the machine says how its time differs from that of Greenwich, on most systems (POSIX
/// leaves the place open; tzset(3) names it).
const LOCAL: &str = "/etc/localtime";

/// A moment as the clock on the wall shows it.
pub fn local(at: Timestamp) -> ZonedDateTime {
    at.to_zoned_datetime(zone())
}

/// Now.
pub fn now() -> ZonedDateTime {
    local(Timestamp::now())
}

/// The zone of this machine. Where the user names none, its file says all: to ask for its name,
/// and for what goes by that, means to walk through some six hundred files of zones first.
fn zone() -> TimeZone {
    let named = std::env::var_os("TZ").is_some_and(|name| !name.is_empty());
    let file = std::fs::read(LOCAL).ok().filter(|_| !named);
    let zone = file.and_then(|file| TimeZone::tzif("", &file).ok());
    zone.unwrap_or_else(TimeZone::system)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the long way.
    #[test]
    fn the_file_alone_says_what_its_name_would() {
        let now = Timestamp::now();
        let long = now.to_zoned_datetime(TimeZone::system());
        assert_eq!(local(now).datetime(), long.datetime());
        assert_eq!(
            local(now).strftime("%Z").to_string(),
            long.strftime("%Z").to_string()
        );
    }
}
