//! What the answers so far come to in money, in words: command and screen tell it alike.

use rust_decimal::Decimal;

use crate::explore::interview::outlook::Outlook;
use crate::explore::interview::prompts::{self, Prompt};
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
            "Cheapest that does this so far: about {}; {money}.",
            about(cheapest.likely, outlook)
        ),
        None => format!(
            "A quick look found nothing yet that does all of this; the search at the end looks further; {money}."
        ),
    }];
    lines.extend(
        outlook
            .missing()
            .map(|missing| too_little(outlook, missing)),
    );
    lines
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

/// Rounded to what a quick look is worth.
fn near(amount: Decimal) -> Decimal {
    show::rounded(amount / Decimal::TEN, 0) * Decimal::TEN
}

fn about(amount: Decimal, outlook: &Outlook) -> String {
    amounts::money(near(amount), outlook.currency)
}
