//! The map of the crate. Data flow one way, from what exists to what is shown:
//!
//! [`catalogue`] what exists → [`build`] what you chose → [`explain`] how figures are noted →
//! [`machine`] what that makes → [`bill`] what it takes → [`rules`] what is wrong with it →
//! [`assessment`] all three in one value → [`explore`] what if → [`store`] where it is kept →
//! [`sheets`] what you print → [`screen`] and [`commands`].
//!
//! Below them all stand [`order`], [`mod@words`], [`units`] and [`money`].
//!
//! A room never imports one that comes after it; `tests/house/architecture.rs` watches that.

pub mod assessment;
pub mod bill;
pub mod build;
pub mod catalogue;
pub mod commands;
pub mod explain;
pub mod explore;
pub mod machine;
pub mod money;
pub mod order;
pub mod rules;
pub mod screen;
pub mod sheets;
pub mod store;
pub mod units;
pub mod words;
