//! The interview for a first build: a dozen plain questions, each of which may be skipped, and
//! three builds that answer them.
//!
//! An answer is an edit of the table of choices wherever there is a choice for it, so that a
//! fact stays in one place and can be changed later like any other. Some answers are limits
//! besides: what is cut, the place, the money, the noise ([`Wanted`]). Where a question is
//! skipped, the usual value stands, and no limit but that what is cut must go with care.
//!
//! The three builds ([`Level`]) are found by the search of [`find`](super::find), so each is
//! the cheapest of all combinations of drive, spindle and control that the search goes over, on
//! its frame, under its limits:
//!
//! - *thrifty*: no danger, no fault, and all limits of the answers;
//! - *balanced*: besides, a tip that is [`Level::stiffer`] times as stiff as the thrifty one's,
//!   and no material cut worse;
//! - *stiff*: the same with a larger factor.
//!
//! The search keeps the frame as it is, so the frame is settled before it, step by step: of all
//! single changes of tube and plate the one that gives most stiffness for its money is made
//! ([`frame`]). For the thrifty build these are only steps that cost nothing, and those without
//! which what is wanted cannot be cut; for the others as many as their stiffness takes. Where no
//! step is left before it is reached, the limit is what was reached. So the build before,
//! on the stiffer frame, always meets the limit, and something is found unless the money or
//! the place forbids it.

mod answers;
mod frame;
mod offers;
mod plan;
mod prompts;
pub mod told;

pub use answers::{Answers, Listed, Reply, listed};
pub use offers::{Level, Offer, Proposal, Searched, Watch, propose};
pub use plan::{InterviewError, Plan, Wanted, plan};
pub use prompts::{Prompt, Takes, all, find};
