//! What the answers so far come to in money, in words: command and screen tell it alike.

use rust_decimal::Decimal;

use crate::build::{Value, choices};
use crate::catalogue::Catalogue;
use crate::explore::interview::answers::Answers;
use crate::explore::interview::lesser::{Lesser, Reach};
use crate::explore::interview::outlook::Outlook;
use crate::explore::interview::prompts::{self, CIRCUITS, MATERIALS, OWNED, Prompt, QUIET};
use crate::money::show as amounts;
use crate::units::show;

/// How many answers are named that would help.
const NAMED: usize = 3;

/// The cheapest so far beside the money; and where that does not do, what would help.
pub fn outlook(outlook: &Outlook) -> Vec<String> {
    let currency = outlook.currency;
    let money = match outlook.money {
        Some(money) => format!("your money: {}", amounts::money(money, currency)),
        None => "your money: not said yet".to_owned(),
    };
    let mut lines = vec![match outlook.cheapest {
        Some(cheapest) => format!(
            "A quick look finds this for about {}; {money}.",
            about(cheapest.likely, outlook)
        ),
        None => format!("{}; {money}.", nothing_yet(outlook)),
    }];
    lines.extend(
        outlook
            .missing()
            .map(|missing| too_little(outlook, missing)),
    );
    lines
}

/// That a quick look found nothing, and which answer is in the way.
fn nothing_yet(outlook: &Outlook) -> String {
    let Some(blocked) = outlook.blocked else {
        return "A quick look found nothing yet that does all of this, and no single answer that \
                is in the way; the search at the end looks further"
            .to_owned();
    };
    let cost = about(blocked.cost, outlook);
    match prompts::find(blocked.prompt) {
        Ok(prompt) if prompt.id == CIRCUITS => format!(
            "Nothing was found that goes on one circuit. With a second one, laid by an \
             electrician: about {cost}"
        ),
        Ok(prompt) => format!(
            "Nothing was found with your answer on \"{}\". Without it: about {cost}",
            prompt.short
        ),
        Err(_) => format!("Something fits for about {cost}"),
    }
}

/// What an answer costs or saves against what is usual there.
pub fn share(outlook: &Outlook, prompt: &Prompt) -> Option<String> {
    let cost = outlook.share(prompt)?;
    let amount = about(cost.abs(), outlook);
    Some(match (near(cost).is_zero(), cost.is_sign_negative()) {
        (true, _) => "It changes next to nothing of the cost.".to_owned(),
        (false, true) => format!("It saves about {amount} against what is usual."),
        (false, false) => format!("It costs about {amount} more than what is usual."),
    })
}

/// That the money does not do, in one line.
pub fn missing(outlook: &Outlook) -> Option<String> {
    let missing = about(outlook.missing()?, outlook);
    Some(format!(
        "About {missing} are missing: the question \"budget\" says what would help."
    ))
}

/// That the money does not do, and which answers make it so.
fn too_little(outlook: &Outlook, missing: Decimal) -> String {
    let mut words = format!("About {} are missing.", about(missing, outlook));
    let dearest = outlook.dearest();
    let each = dearest.iter().take(NAMED).filter_map(|one| {
        let prompt = prompts::find(one.prompt).ok()?;
        let enough = match one.cost >= missing {
            true => ", which is enough",
            false => "",
        };
        let saved = about(one.cost, outlook);
        Some(format!("on \"{}\" about {saved}{enough}", prompt.short))
    });
    let each: Vec<String> = each.collect();
    match each.is_empty() {
        true => {
            words.push_str(" No single answer makes it so: with what is usual it costs as much.")
        }
        false => words.push_str(&format!(
            " Taking your answer back saves {}.",
            each.join("; ")
        )),
    }
    if let Some(owned) = outlook.owned.filter(|owned| *owned > Decimal::ONE) {
        let enough = match owned >= missing {
            true => ", which is enough",
            false => "",
        };
        let owned = about(owned, outlook);
        words.push_str(&format!(
            " Having all that is asked under \"owned already\" saves {owned}{enough}."
        ));
    }
    words
}

/// What the money buys where answers give way: what that is, then each build.
pub fn all_lesser(all: &[Lesser], asked: &Answers, catalogue: &Catalogue) -> Vec<String> {
    let Some(first) = all.first() else {
        return Vec::new();
    };
    let head = match (first.reach, all.len(), first.gives.len()) {
        (Reach::Least, ..) => {
            "Nothing was found for your money. The least that was tried is still dearer:"
        }
        (Reach::Saves, ..) => {
            "Nothing was found for your money. What it costs if one answer gives way, and if many do:"
        }
        (Reach::Money, 1, 2..) => {
            "No single answer is enough. For your money, if these give way together:"
        }
        _ => "For your money, if one answer gives way:",
    };
    let mut lines = vec![head.to_owned()];
    lines.extend(all.iter().enumerate().map(|(place, one)| {
        let cost = one.answer.reading.cost;
        let cost = amounts::money(near(cost.likely), cost.currency);
        let each = gives(one, asked, catalogue).join("; ");
        format!("{}. {each}; about {cost}", place + 1)
    }));
    lines.push(HONEST.to_owned());
    lines
}

/// How such a build is called in tables.
pub fn name(place: usize, one: &Lesser) -> String {
    match one.reach {
        Reach::Money => format!("for money {}", place + 1),
        Reach::Saves => {
            let mut gives = one.gives.iter().rev();
            let own = gives.clone().find(|prompt| prompt.id != CIRCUITS);
            let id = own.or(gives.next()).map_or("", |prompt| prompt.id);
            format!("all but {id}")
        }
        Reach::Least => "least tried".to_owned(),
    }
}

/// What gives way, answer by answer.
pub(super) fn gives(one: &Lesser, asked: &Answers, catalogue: &Catalogue) -> Vec<String> {
    let each = one.gives.iter();
    let each = each.map(|prompt| instead(prompt, one, asked, catalogue));
    each.collect()
}

/// What is to be known of such builds.
pub(super) const HONEST: &str = "Each was found by a quick look and does all else that you asked; it is not \
    proven to be the best.";

/// How an answer gives way.
pub fn gives_way(
    all: &[Lesser],
    prompt: &Prompt,
    asked: &Answers,
    catalogue: &Catalogue,
) -> Option<String> {
    let alone = |one: &&Lesser| {
        one.fits() && matches!(one.gives.as_slice(), [only] if only.id == prompt.id)
    };
    let one = all.iter().find(alone)?;
    let words = instead(prompt, one, asked, catalogue);
    Some(format!("What your money buys: {words}."))
}

/// An answer that gives way: what it is then, and what was asked.
fn instead(prompt: &Prompt, one: &Lesser, asked: &Answers, catalogue: &Catalogue) -> String {
    match prompt.id {
        MATERIALS => format!("without {}", no_longer(one, asked, catalogue)),
        CIRCUITS => {
            "with a second circuit, laid by a licensed electrician, which is on the bill".to_owned()
        }
        QUIET => "not quiet".to_owned(),
        OWNED => format!("with all that is asked under \"{}\" in hand", prompt.short),
        _ => format!(
            "{} {} instead of {}",
            prompt.short,
            one.answers.shown(prompt, catalogue),
            asked.shown(prompt, catalogue)
        ),
    }
}

/// The materials that are no longer cut.
fn no_longer(one: &Lesser, asked: &Answers, catalogue: &Catalogue) -> String {
    let Ok(choice) = choices::find("materials") else {
        return String::new();
    };
    let left = one.answers.build().area.materials;
    let mut gone = asked.build().area.materials;
    gone.retain(|id| !left.contains(id));
    choice.show(&Value::Parts(gone), catalogue)
}

/// Rounded to what a quick look is worth.
fn near(amount: Decimal) -> Decimal {
    show::rounded(amount / Decimal::TEN, 0) * Decimal::TEN
}

fn about(amount: Decimal, outlook: &Outlook) -> String {
    amounts::money(near(amount), outlook.currency)
}
