//! Where nothing fits, in a few plain lines before all else: which answers forbid it, what a second
//! circuit costs, and what the least money is.

use crate::explore::find::Answer;
use crate::explore::interview::offers::Offer;
use crate::explore::interview::prompts;
use crate::explore::told::Moved;
use crate::money::show as amounts;

/// The question on what is owned already.
const OWNED: &str = "tools";

/// How many of the dangers and faults are told.
const TOLD: usize = 2;

/// What keeps the nearest build from being one that fits.
pub(super) fn plainly(offer: &Offer, answer: &Answer) -> Vec<Moved> {
    let Some(near) = &offer.near else {
        return Vec::new();
    };
    let mut lines = vec![("nothing fits", format!("{}.", forbids(offer)))];
    let stands = near.stands.iter().take(TOLD);
    let stands: Vec<&str> = stands.map(|one| one.message.as_str()).collect();
    if !stands.is_empty() {
        let text = format!("With your answers as they are: {}.", stands.join("; "));
        lines.push(("", text));
    }
    let currency = answer.reading.cost.currency;
    let money = |amount| amounts::money(amount, currency);
    lines.extend(near.circuit.map(|circuit| {
        let cost = money(circuit);
        let text = format!("A second circuit, laid by a licensed electrician: about {cost}.");
        ("", text)
    }));
    let likely = answer.reading.cost.likely;
    let owned = near.owned.and_then(|saved| {
        let short = prompts::find(OWNED).ok()?.short;
        let cost = money(likely - saved);
        Some(format!(
            "; with all that is asked under \"{short}\" in hand: {cost}"
        ))
    });
    let text = format!(
        "The cheapest that was found for what you want to cut: {}{}.",
        cost_of(offer, answer),
        owned.unwrap_or_default()
    );
    lines.push(("least money", text));
    lines
}

/// Which answers forbid it.
fn forbids(offer: &Offer) -> String {
    let forbid = offer.near.as_ref().map(|near| near.forbid.as_slice());
    let names: Vec<String> = forbid
        .unwrap_or_default()
        .iter()
        .map(|prompt| format!("\"{}\"", prompt.short))
        .collect();
    match names.as_slice() {
        [] => "Several answers together forbid it".to_owned(),
        [only] => format!("Your answer on {only} forbids it"),
        [first @ .., last] => {
            let first = first.join(", ");
            format!("Your answers on {first} and {last} together forbid it")
        }
    }
}

/// The cost of a build that is near: of the nearest with its repairs, as it stands in the table.
pub(super) fn cost_of(offer: &Offer, answer: &Answer) -> String {
    let money = |one: &Answer| amounts::money(one.reading.cost.likely, one.reading.cost.currency);
    let is_nearest = (offer.searched.nearest()).is_some_and(|near| near.build == answer.build);
    match &offer.cured {
        Some(cured) if is_nearest || cured.answer.build == answer.build => {
            format!("{} with the repairs", money(&cured.answer))
        }
        _ => money(answer),
    }
}
