//! What a rule names against its finding and what is not offered: each was tried, and this is why.

use super::{brings, candidates, stays};
use crate::build::Edit;
use crate::explore::trial::Bench;
use crate::rules::Finding;

/// Changes of the same choices, none of which is a remedy.
#[derive(Clone, Debug)]
pub struct Unfit {
    /// The one of them that comes nearest.
    pub edits: Vec<Edit>,
    /// How many were tried.
    pub tried: usize,
    /// What is wrong with it.
    pub why: Why,
}

/// Why changes are no remedy; what comes nearest to one is the greatest.
#[derive(Clone, Debug)]
pub enum Why {
    /// The build cannot be assessed with them.
    Refused(String),
    /// The finding stays.
    Stays,
    /// It is lifted, and this came that is as bad or worse.
    Brings(Finding),
}

impl Why {
    fn rank(&self) -> u8 {
        match self {
            Self::Refused(_) => 0,
            Self::Stays => 1,
            Self::Brings(_) => 2,
        }
    }
}

/// What a rule names against its finding and what does not lift it, in the order in which it is
/// named; choices of which one change does are left out.
pub fn unfit(bench: &Bench, finding: &Finding) -> Vec<Unfit> {
    let mut fits: Vec<Vec<&str>> = Vec::new();
    let mut all: Vec<Unfit> = Vec::new();
    for edits in candidates(bench, finding) {
        let of = ids(&edits);
        if edits.is_empty() || fits.contains(&of) {
            continue;
        }
        let known = all.iter_mut().find(|known| ids(&known.edits) == of);
        match (why(bench, finding, &edits), known) {
            (None, _) => fits.push(of),
            (Some(why), None) => all.push(Unfit {
                edits,
                tried: 1,
                why,
            }),
            (Some(why), Some(known)) => {
                known.tried += 1;
                if why.rank() > known.why.rank() {
                    (known.edits, known.why) = (edits, why);
                }
            }
        }
    }
    all.retain(|known| !fits.contains(&ids(&known.edits)));
    all
}

/// The ids of the choices that edits change.
fn ids(edits: &[Edit]) -> Vec<&'static str> {
    edits.iter().map(|edit| edit.choice.id).collect()
}

/// Why edits are no remedy; none where they are one.
fn why(bench: &Bench, finding: &Finding, edits: &[Edit]) -> Option<Why> {
    let mut changed = bench.build.clone();
    edits.iter().for_each(|edit| edit.apply(&mut changed));
    let after = match bench.assess(&changed) {
        Ok(after) => after,
        Err(error) => return Some(Why::Refused(error.to_string())),
    };
    if stays(&after, finding) {
        return Some(Why::Stays);
    }
    brings(bench.before, &after, finding)
        .cloned()
        .map(Why::Brings)
}
