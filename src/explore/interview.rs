//! The interview for a first build: fifteen plain questions, each of which may be skipped, and
//! three builds that answer them.
//!
//! An answer is an edit of the table of choices wherever there is a choice for it, so that a
//! fact stays in one place and can be changed later like any other. Some answers are limits
//! besides: what is cut, the place, the money, the noise ([`Limit`]). Where a question is
//! skipped, the usual value stands, and no limit but that what is cut must go with care.
//!
//! The three builds ([`Level`]) are found by the search of [`find`](super::find), so each is
//! the cheapest of all combinations of drive, spindle and control that the search goes over, on
//! its frame, under its limits:
//!
//! - *thrifty*: no danger, no fault, and all limits of the answers;
//! - *stiff*: besides, a tip 1.8 times as stiff as the thrifty one's, and no material cut worse;
//! - *balanced*: the same with a tip halfway between the two.
//!
//! Each of them then gets the remedies that cost little and lift a caution ([`cures`]). While
//! questions are asked, [`outlook()`] tells what the answers so far come to in money; where that is
//! more than there is, [`lesser()`] tells what the money buys.
//!
//! The search keeps the frame as it is, so the frame is settled before it, step by step: of all
//! single changes the one that gives most stiffness for its money is made. For the
//! thrifty build these are steps of tube and plate that cost nothing, and those without which
//! what is wanted cannot be cut. For the others the way goes on from the thrifty build, by the
//! frame and by those free parts that stiffen it, within all limits; where it ends before a tip
//! of 1.8 times is reached, what was reached is asked for instead. A build on that way meets
//! what is asked, so the search, which goes out from it, always finds one.

mod answers;
pub mod cures;
mod descent;
mod frame;
mod lesser;
mod listed;
mod offers;
mod outlook;
mod plan;
mod prompts;
mod scout;
pub mod told;

pub use answers::{Answers, Reply};
pub use lesser::{Lesser, Reach, lesser};
pub use listed::{Listed, listed};
pub use offers::{Alike, Assessed, Level, Near, Offer, Proposal, Searched, Watch, propose};
pub use outlook::{Blocked, Outlook, Share, outlook};
pub use plan::{InterviewError, Limit, Plan, plan};
pub use prompts::{MONEY, Prompt, Takes, all, find};
