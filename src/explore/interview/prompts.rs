//! The questions, in the order in which they are asked. To add one, add a row here; one that is
//! more than a choice of the table has its meaning in `plan.rs`.

use crate::build::nearest;

/// One question of the interview.
#[derive(Debug)]
pub struct Prompt {
    /// Its name on the command line and in JSON.
    pub id: &'static str,
    /// What is asked, in plain words.
    pub title: &'static str,
    /// What it is called in front of its answer: at most 16 columns.
    pub short: &'static str,
    /// Why it matters.
    pub why: &'static str,
    /// How the answer is typed; empty where the list says it.
    pub how: &'static str,
    /// What answers it.
    pub takes: Takes,
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
        id: "materials",
        title: "What do you want to cut?",
        short: "to cut",
        why: "The hardest decides how stiff the machine must be: name all of them.",
        how: "Names or numbers, with commas between.",
        takes: Takes::Choices(&["materials"]),
    },
    Prompt {
        id: "size",
        title: "How large is the largest piece, left to right and front to back?",
        short: "largest piece",
        why: "The tool must reach all over it, so this is the travel. A machine twice as wide costs more and bends far more: take what you need, not what may come.",
        how: "In mm, such as 600 x 400.",
        takes: Takes::Choices(&["travel_x_mm", "travel_y_mm"]),
    },
    Prompt {
        id: "height",
        title: "How tall is the tallest piece?",
        short: "tallest piece",
        why: "It passes under the beam with the tool above it. Height costs stiffness.",
        how: "In mm.",
        takes: Takes::Choices(&["stock_height_mm"]),
    },
    Prompt {
        id: "place",
        title: "How much floor is there for it, left to right and front to back?",
        short: "floor",
        why: "The machine is larger than what it cuts, and you stand beside it.",
        how: "In mm, such as 2500 x 2500.",
        takes: Takes::Choices(&["room_x_mm", "room_y_mm"]),
    },
    Prompt {
        id: "door",
        title: "How wide is the narrowest door on the way in?",
        short: "narrowest door",
        why: "What does not pass must be bolted together inside.",
        how: "In mm.",
        takes: Takes::Choices(&["door_mm"]),
    },
    Prompt {
        id: "quiet",
        title: "Must it be quiet, for neighbours or others in the house?",
        short: "quiet",
        why: "Yes means a box around it, and a spindle that does not deafen by itself. Cutting and the extractor are heard all the same.",
        how: "Yes or no.",
        takes: Takes::Quiet,
    },
    Prompt {
        id: "frost",
        title: "Can the room freeze in winter?",
        short: "frost",
        why: "Frozen cooling water bursts a spindle.",
        how: "Yes or no.",
        takes: Takes::Choices(&["room_freezes"]),
    },
    Prompt {
        id: "socket",
        title: "Which wall socket feeds it?",
        short: "socket",
        why: "Plug and breaker cap the spindle's power. Read the breaker in your own fuse box; whether a circuit may carry it is for a licensed electrician to say.",
        how: "",
        takes: Takes::Choices(&["site"]),
    },
    Prompt {
        id: "country",
        title: "Where are the parts delivered to?",
        short: "delivered to",
        why: "Tax and duty come on top of the prices.",
        how: "",
        takes: Takes::Choices(&["destination"]),
    },
    Prompt {
        id: "budget",
        title: "What may it cost in all?",
        short: "budget",
        why: "All that the first cut takes is counted: freight, tax and tools too. Keep about a quarter back besides for what nobody foresaw.",
        how: "Such as 6000 EUR.",
        takes: Takes::Choices(&["budget"]),
    },
    Prompt {
        id: "printer",
        title: "Who prints the printed parts?",
        short: "printing",
        why: "Brackets and mounts are 3D prints: made at home, with a printer to be bought, or by a service.",
        how: "",
        takes: Takes::Choices(&["prints_from"]),
    },
    Prompt {
        id: "saw",
        title: "Who saws the steel tube?",
        short: "sawing",
        why: "A seller's cuts cost money each; whole bars cost less a metre, and take a saw that cuts square.",
        how: "",
        takes: Takes::Choices(&["tube_supply"]),
    },
    Prompt {
        id: "tools",
        title: "Which of these tools do you have, or can borrow?",
        short: "tools at hand",
        why: "What you have need not be bought.",
        how: "Names or numbers with commas between, or all, or none.",
        takes: Takes::Tools,
    },
    Prompt {
        id: "experience",
        title: "What have you built before?",
        short: "experience",
        why: "It decides which hints you get, and how much reserve is advised.",
        how: "",
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
