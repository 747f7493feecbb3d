//! The ways to spend less: what each does, so that somebody who must pay a fifth less finds the
//! one that suits.

use super::state::Layer;
use super::what_if::Order;
use crate::explore::question;
use crate::explore::reading::Measure;

/// One way to spend less.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// One choice at a time.
    Weigh,
    /// The question what to drop.
    Drop,
    /// The search over many choices together.
    Search,
    /// The question where to buy.
    Elsewhere,
}

/// The ways, the quickest to understand first.
pub const WAYS: [Way; 4] = [Way::Drop, Way::Weigh, Way::Search, Way::Elsewhere];

impl Way {
    /// The question that it asks, where it is one.
    fn question(self) -> Option<&'static question::Question> {
        let id = match self {
            Self::Drop => DROP,
            Self::Elsewhere => "used-or-abroad",
            Self::Weigh | Self::Search => return None,
        };
        question::find(id).ok()
    }

    /// What it is called.
    pub fn title(self) -> &'static str {
        match self {
            Self::Weigh => "One choice at a time: what each saves, what is lost",
            Self::Search => "The search: the cheapest build that does all you want",
            Self::Drop | Self::Elsewhere => self.question().map_or("", |question| question.title),
        }
    }

    /// What it does, and what it leaves alone.
    pub fn why(self) -> &'static str {
        match self {
            Self::Weigh => {
                "Every free choice with the option that saves most for what the machine loses by it. Nothing goes along: you see what one change does, and go through its options."
            }
            Self::Drop => {
                "A list of changes, each on top of those before, until a fifth is saved: first what costs the machine least. What you save only if you own one stands apart. It takes some seconds."
            }
            Self::Search => {
                "Drive, spindle and control together, with whatever must go along; frame, extras, computer and circuits stay. The machine keeps cutting what it cuts now, maybe more slowly, and gets no new cautions. It takes seconds to minutes, shows how far it is, and can be stopped."
            }
            Self::Elsewhere => {
                "The same machine, bought second-hand or abroad: what freight, duty and tax leave of the lower price, and what you give up in return."
            }
        }
    }

    /// The page that it opens; none where that begins otherwise.
    pub fn layer(self) -> Option<Layer> {
        match self {
            Self::Weigh => Some(Layer::Weigh {
                measure: Measure::Cost,
                order: Order::Worth,
                cursor: 0,
            }),
            Self::Drop | Self::Elsewhere => Some(Layer::Answer(self.question()?, 0)),
            Self::Search => None,
        }
    }
}

/// The question what to drop to pay a fifth less.
pub const DROP: &str = "a-fifth-less";
