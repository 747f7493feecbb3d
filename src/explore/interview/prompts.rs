//! The questions, in the order in which they are asked. To add one, add a row here; one that is
//! more than a choice of the table has its meaning in `plan.rs`. Lists of questions say what else
//! is to be known of one: whether a caution can go against its answer (`FACTS` in `cures.rs`),
//! whether that can give way (`GIVING` in `lesser.rs`, how in `Look::chain` of `lesser/milder.rs`)
//! or stand in the way of everything (`BLOCKING` in `outlook.rs`), and whether it has no price
//! (`PRICELESS` there).

use crate::build::{Choice, choices, nearest};
use crate::money::Currency;
use crate::units::Shown;
use crate::units::System;

/// The question on what is cut.
pub(super) const MATERIALS: &str = "materials";

/// The question on the largest piece.
pub(super) const SIZE: &str = "size";

/// The question on where the parts are delivered to.
pub(super) const DELIVERED: &str = "country";

/// The question on the money.
pub const MONEY: &str = "budget";

/// The question on the height of the stock.
pub(super) const HEIGHT: &str = "height";

/// The question on the socket.
pub(super) const SOCKET: &str = "socket";

/// The question on the second circuit.
pub(super) const CIRCUITS: &str = "circuits";

/// The question on the room for the machine.
pub(super) const PLACE: &str = "place";

/// The question on the door.
pub(super) const DOOR: &str = "door";

/// The question on the noise.
pub(super) const QUIET: &str = "quiet";

/// The question on frost.
pub(super) const FROST: &str = "frost";

/// The question on the printer.
pub(super) const PRINTER: &str = "printer";

/// The question on how tube is cut.
pub(super) const SAW: &str = "saw";

/// The question on what is owned already.
pub(super) const OWNED: &str = "tools";

/// The question on what somebody has built before.
pub(super) const EXPERIENCE: &str = "experience";

/// One question of the interview.
#[derive(Debug)]
pub struct Prompt {
    /// Its name on the command line and in JSON.
    pub id: &'static str,
    /// What is asked, in plain words.
    pub title: &'static str,
    /// What it is called in front of its answer: at most 14 columns.
    pub short: &'static str,
    /// Why it matters.
    pub why: &'static str,
    /// How the answer is typed.
    how: How,
    /// What answers it.
    pub takes: Takes,
}

/// How an answer is typed.
#[derive(Clone, Copy, Debug)]
enum How {
    /// As the list or the words say; empty where nothing need be said.
    Text(&'static str),
    /// As lengths, with an example in millimetres and one in inches.
    Lengths(&'static str, &'static str),
    /// As an amount of money.
    Money,
}

impl Prompt {
    /// The choices of the table that answer it; none where it is no choice.
    pub fn choices(&self) -> impl Iterator<Item = &'static Choice> {
        let ids = match self.takes {
            Takes::Choices(ids) => ids,
            Takes::Quiet | Takes::Tools => &[],
        };
        ids.iter().filter_map(|id| choices::find(id).ok())
    }

    /// How the answer is typed by somebody who has units of their own; money without a code is
    /// in this currency.
    pub fn how(&self, shown: Shown, currency: Currency) -> String {
        match (self.how, shown.system) {
            (How::Text(text), _) => text.to_owned(),
            (How::Lengths(example, _), System::Metric) => format!(
                "A lone number is in mm: {example} is {example} mm. Other units stand behind \
                 the number, such as cm, m or in."
            ),
            (How::Lengths(_, example), System::Inch) => format!(
                "A lone number is in inches: {example} is {example} in. Other units stand behind \
                 the number, such as mm, cm or ft."
            ),
            (How::Money, _) => format!(
                "A lone number is in {currency}, in which all sums are counted here. Other money \
                 stands behind the number by its code, such as EUR, GBP or USD."
            ),
        }
    }
}

/// What answers a question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A value of each of these choices of the table, with an x between two.
    Choices(&'static [&'static str]),
    /// Yes or no: whether it must be quiet.
    Quiet,
    /// Which of the workshop's tools are at hand.
    Tools,
}

const PROMPTS: &[Prompt] = &[
    Prompt {
        id: MATERIALS,
        title: "What do you want to cut?",
        short: "to cut",
        why: "The hardest decides how stiff the machine must be: name all of them.",
        how: How::Text("Names or numbers, with commas between."),
        takes: Takes::Choices(&["materials"]),
    },
    Prompt {
        id: SIZE,
        title: "How large is the largest piece, left to right and front to back?",
        short: "largest piece",
        why: "The tool must reach all over it, so this is the travel. A machine twice as wide costs more and bends far more: take what you need, not what may come.",
        how: How::Lengths("600 x 400", "24 x 16"),
        takes: Takes::Choices(&["travel_x_mm", "travel_y_mm"]),
    },
    Prompt {
        id: DELIVERED,
        title: "Where are the parts delivered to?",
        short: "delivered to",
        why: "Tax and duty come on top of the prices. It also decides the currency, unless the socket that you name is in another country.",
        how: How::Text(""),
        takes: Takes::Choices(&["destination"]),
    },
    Prompt {
        id: MONEY,
        title: "What may it cost in all?",
        short: "budget",
        why: "All of it is counted: freight, tax and tools too. A reserve for what nobody foresaw is not inside this number, since a build may cost all of it: name less than you have. Of 5000, name 4000: that leaves a quarter on top.",
        how: How::Money,
        takes: Takes::Choices(&["budget"]),
    },
    Prompt {
        id: HEIGHT,
        title: "How tall is the tallest piece?",
        short: "tallest piece",
        why: "It passes under the beam with the tool above it. Height costs stiffness.",
        how: How::Lengths("50", "2"),
        takes: Takes::Choices(&["stock_height_mm"]),
    },
    Prompt {
        id: SOCKET,
        title: "Which wall socket feeds it?",
        short: "socket",
        why: "Plug and breaker cap the spindle's power. Read the breaker in your own fuse box; whether a circuit may carry it is for a licensed electrician to say.",
        how: How::Text(""),
        takes: Takes::Choices(&["site"]),
    },
    Prompt {
        id: CIRCUITS,
        title: "Is there a second circuit in reach: a socket behind another breaker?",
        short: "second circuit",
        why: "The extractor may hang on it, which leaves the first one to the spindle. To find out, switch one breaker off and see which sockets go dead: two sockets on one breaker are one circuit.",
        how: How::Text(""),
        takes: Takes::Choices(&["second_circuit"]),
    },
    Prompt {
        id: PLACE,
        title: "How much floor is there for it, left to right and front to back?",
        short: "floor",
        why: "The machine is larger than what it cuts, and you stand beside it.",
        how: How::Lengths("2500 x 2500", "100 x 100"),
        takes: Takes::Choices(&["room_x_mm", "room_y_mm"]),
    },
    Prompt {
        id: DOOR,
        title: "How wide is the narrowest door on the way in?",
        short: "narrowest door",
        why: "What does not pass must be bolted together inside.",
        how: How::Lengths("800", "32"),
        takes: Takes::Choices(&["door_mm"]),
    },
    Prompt {
        id: QUIET,
        title: "Must it be quiet, for neighbours or others in the house?",
        short: "quiet",
        why: "Yes means a box around it, and a spindle that does not deafen by itself. Cutting and the extractor are heard all the same.",
        how: How::Text("Yes or no."),
        takes: Takes::Quiet,
    },
    Prompt {
        id: FROST,
        title: "Can the room freeze in winter?",
        short: "frost",
        why: "Frozen cooling water bursts a spindle.",
        how: How::Text("Yes or no."),
        takes: Takes::Choices(&["room_freezes"]),
    },
    Prompt {
        id: PRINTER,
        title: "Who prints the printed parts?",
        short: "printing",
        why: "Brackets and mounts are 3D prints: made on a printer that you have, on one to be bought, or by a service. If you skip this, you are taken to have a printer, and none is on the bill: without one, say so here.",
        how: How::Text(""),
        takes: Takes::Choices(&["prints_from"]),
    },
    Prompt {
        id: SAW,
        title: "Who saws the steel tube?",
        short: "sawing",
        why: "A seller's cuts cost money each; whole bars cost less a metre, and take a saw that cuts square.",
        how: How::Text(""),
        takes: Takes::Choices(&["tube_supply"]),
    },
    Prompt {
        id: OWNED,
        title: "Which of these do you have already, or can borrow?",
        short: "owned already",
        why: "What you have need not be bought: a computer, a sturdy table, an extractor or shop vacuum, hand tools. It must do what the listed one does.",
        how: How::Text("Names or numbers with commas between, or all, or none."),
        takes: Takes::Tools,
    },
    Prompt {
        id: EXPERIENCE,
        title: "What have you built before?",
        short: "experience",
        why: "It decides which hints you get, and how much reserve is advised.",
        how: How::Text(""),
        takes: Takes::Choices(&["experience"]),
    },
];

/// Every question, in order.
pub fn all() -> &'static [Prompt] {
    PROMPTS
}

/// The question of an id.
///
/// # Errors
/// Names the nearest, or all.
pub fn find(id: &str) -> Result<&'static Prompt, String> {
    let found = PROMPTS.iter().find(|prompt| prompt.id == id);
    found.ok_or_else(|| {
        let ids = || PROMPTS.iter().map(|prompt| prompt.id);
        let mut hint = nearest::hint(id, ids());
        if hint.is_empty() {
            hint = format!("; known are {}", ids().collect::<Vec<_>>().join(", "));
        }
        format!("the interview has no question {id:?}{hint}")
    })
}
