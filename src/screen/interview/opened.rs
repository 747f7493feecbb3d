//! Which build is opened in the five steps, and what is said then.

use super::Interview;
use crate::build::Build;
use crate::explore::interview::Reach;
use crate::words::Words as _;

impl Interview {
    /// The build at a place among those that were found, behind them what the money buys instead,
    /// with what is said once it is open; none where there is no such build.
    pub fn opens(&self, at: usize) -> Option<(Build, String)> {
        let all = self.outcome()?.ok()?;
        let Some(offer) = all.offers.get(at) else {
            let place = at - all.offers.len();
            let which = match all.lesser.get(place)?.reach {
                Reach::Money => "build for your money",
                Reach::Saves => "build with one answer less",
                Reach::Least => "least build that was tried",
            };
            let text = format!("the {which} is open: not all that you asked");
            return Some((all.taken_lesser(place)?, text));
        };
        let found = all.offers.iter().filter(|one| one.build().is_some());
        let others = match found.count() {
            0 | 1 => "",
            _ => ", the others are variants",
        };
        let which = match offer.fit() {
            None => "nearest build is open: not all that you asked",
            Some(_) => &format!("{} build is open", offer.level.title()),
        };
        Some((all.taken(offer.level)?, format!("the {which}{others}")))
    }
}
