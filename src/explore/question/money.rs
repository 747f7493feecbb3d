//! Questions about money: from whom, what to leave out, when, and how many.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::{Bench, Offer, Question, Trial, drop};
use crate::assessment::Assessment;
use crate::bill::Line;
use crate::build::{Build, Value, choices};
use crate::catalogue::supplier::Supplier;
use crate::catalogue::{Catalogue, Id, PartKind, Step, Unit};
use crate::explore::trial::is_bought;
use crate::money::{Money, show};

pub(super) const QUESTIONS: &[Question] = &[
    Question {
        id: "used-or-abroad",
        step: Step::Extras,
        title: "New or second-hand, from here or from abroad?",
        why: "Abroad the goods are cheaper, but freight, duty and tax come on top, parcels take weeks, and little can go back. Second-hand parts come as they are.",
        ask: buying,
    },
    Question {
        id: "a-fifth-less",
        step: Step::Extras,
        title: "What do I drop to pay a fifth less?",
        why: "The changes that cost the machine least for what they save, each on top of those before. None brings a danger or a fault.",
        ask: drop::offers,
    },
    Question {
        id: "in-stages",
        step: Step::Extras,
        title: "Buy it in stages?",
        why: "With so much put aside each month every order waits until the money is there. The parts cost the same; the machine comes later.",
        ask: stages,
    },
    Question {
        id: "several-machines",
        step: Step::Extras,
        title: "One machine, or three together?",
        why: "Packs, parcels, bars and workshop tools are shared, so that each machine costs less.",
        ask: machines,
    },
];

fn buying(bench: &Bench) -> Result<Vec<Offer>, String> {
    let mut offers = Vec::new();
    let from_here = ordered_here(bench);
    if !from_here.is_empty() {
        offers.push(
            Offer::new(
                "all from here, if sellers here match those prices",
                from_here,
            )
            .meant_so()
            .with_note(break_even),
        );
    }
    if let Some(build) = second_hand(bench) {
        offers.push(Offer::new("second-hand where offered", vec![build]));
    }
    match offers.is_empty() {
        true => Err("Nothing that is still to buy comes from abroad, and nothing else is offered second-hand.".to_owned()),
        false => Ok(offers),
    }
}

/// The build with every open line from abroad ordered from the seller here who takes least on
/// top; empty where there is none such.
fn ordered_here(bench: &Bench) -> Vec<Build> {
    let suppliers = &bench.catalogue.suppliers;
    let is_abroad = |line: &Line| {
        let from = line
            .price
            .as_ref()
            .and_then(|price| price.supplier.as_ref());
        from.and_then(|id| suppliers.get(id))
            .is_some_and(|one| one.abroad)
    };
    let open =
        |line: &&Line| !line.buy.is_zero() && !line.status.is_committed() && !line.status.is_here();
    let lines = bench.before.bill.lines.iter();
    let moved: Vec<_> = lines.filter(open).filter(|line| is_abroad(line)).collect();
    if moved.is_empty() {
        return Vec::new();
    }
    let here = suppliers.values();
    let here = here.filter(|one| !one.abroad && sends_goods(bench.catalogue, one));
    let builds = here.map(|seller| {
        let mut build = bench.build.clone();
        for line in &moved {
            let purchase = build.purchases.parts.entry(line.part);
            purchase.or_default().supplier = Some(seller.id);
        }
        build
    });
    let likely = |build: &Build| bench.trial(build.clone()).map(|trial| trial.price).ok();
    let priced = builds.filter_map(|build| Some((likely(&build)?, build)));
    let cheapest = priced.min_by_key(|(price, _)| *price);
    cheapest.into_iter().map(|(_, build)| build).collect()
}

/// Whether a seller sends goods, by what the price books have from it: power and programs come in
/// no parcel, so nothing of theirs tells what goods from here cost on the way. One of whom no book
/// has a price may send anything.
fn sends_goods(catalogue: &Catalogue, seller: &Supplier) -> bool {
    let mut sold = catalogue.price_books.values().flat_map(|book| {
        let offers = book.prices.iter();
        let own = offers.filter(move |(_, offer)| {
            let by = offer.value().supplier.as_ref().or(book.supplier.as_ref());
            by == Some(&seller.id)
        });
        own.map(|(part, _)| part)
    });
    let comes_in_a_parcel = |part: &Id| {
        let part = catalogue.part(part.as_str());
        part.is_some_and(|(kind, part)| {
            kind != PartKind::Licence && part.unit() != Unit::KilowattHour
        })
    };
    match sold.next() {
        None => true,
        Some(first) => comes_in_a_parcel(first) || sold.any(comes_in_a_parcel),
    }
}

/// How much more the goods may cost there before abroad is cheaper.
fn break_even(bench: &Bench, trial: &Trial) -> String {
    let code = trial.after.bill.currency;
    let moved = trial.build.purchases.parts.iter().filter(|(part, now)| {
        let before = bench.build.purchases.of(part);
        before.and_then(|one| one.supplier.as_ref()) != now.supplier.as_ref()
    });
    let moved: Vec<_> = moved.collect();
    let seller = moved.first().and_then(|(_, now)| now.supplier.as_ref());
    let seller = seller.and_then(|id| bench.catalogue.suppliers.get(id));
    let seller = seller.map_or("a seller here", |seller| seller.title.as_str());
    let count = match moved.len() {
        1 => "1 part".to_owned(),
        many => format!("{many} parts"),
    };
    let computed =
        format!("{count} at the prices of abroad, with freight and tax as from {seller}");
    match trial.price.is_sign_negative() {
        true => format!(
            "{computed}: no long way, no duty. Sellers here may ask up to {} more before buying abroad is cheaper. Ask for offers before you take it.",
            show::money(-trial.price, code)
        ),
        false => format!("{computed}: nothing would be saved, they take no less on top."),
    }
}

/// The build with second-hand parts wherever a price book or the catalogue offers one of the
/// same kind that fits; none where nothing is.
fn second_hand(bench: &Bench) -> Option<Build> {
    let used = |part: &Id| {
        let offered = bench.catalogue.offer_of(part);
        offered.is_some_and(|(_, offer)| offer.used)
    };
    let mut build = bench.build.clone();
    for choice in choices::all() {
        if is_bought(bench.build, choice) {
            continue;
        }
        let mut best: Option<(Decimal, Build)> = None;
        for value in choice.options(bench.catalogue) {
            let Value::Part(Some(part)) = &value else {
                continue;
            };
            if !used(part) {
                continue;
            }
            let mut tried = build.clone();
            choice.put(&mut tried, &value);
            let Ok(trial) = bench.trial(tried.clone()) else {
                continue;
            };
            let better = best.as_ref().is_none_or(|(price, _)| trial.price < *price);
            if trial.is_sound() && trial.price.is_sign_negative() && better {
                best = Some((trial.price, tried));
            }
        }
        if let Some((_, better)) = best {
            build = better;
        }
    }
    (build != *bench.build).then_some(build)
}

/// Over how many months the money is put aside.
const MONTHS: [u32; 3] = [3, 6, 12];

/// Monthly amounts are rounded up to a multiple of this.
const ROUND: u32 = 10;

fn stages(bench: &Bench) -> Result<Vec<Offer>, String> {
    let bill = &bench.before.bill;
    if bill.to_spend <= Decimal::ZERO {
        return Err("Everything is paid already.".to_owned());
    }
    let round = Decimal::from(ROUND);
    let mut offers: Vec<Offer> = MONTHS
        .iter()
        .map(|&months| {
            let share = bill.to_spend / Decimal::from(months);
            let monthly = (share / round).ceil() * round;
            let money = Money::new(monthly, bill.currency);
            let title = format!("{} a month", show::money(monthly, bill.currency));
            Offer::one(bench, title, |build| {
                build.area.monthly_budget = Some(money)
            })
            .meant_so()
            .with_note(dates)
        })
        .collect();
    if bench.build.area.monthly_budget.is_some() {
        let all = Offer::one(bench, "all as soon as its turn comes", |build| {
            build.area.monthly_budget = None;
        });
        offers.push(all.meant_so().with_note(dates));
    }
    Ok(offers)
}

/// When the last of it is ordered and here, and the dearest month.
fn dates(bench: &Bench, trial: &Trial) -> String {
    let here = |assessment: &Assessment| {
        let stages = assessment.bill.ordering.stages.iter();
        stages
            .map(|stage| stage.here_by)
            .max()
            .unwrap_or(bench.today)
    };
    let bill = &trial.after.bill;
    let months = &bill.ordering.months;
    let most = months.iter().max_by_key(|month| month.amount);
    let dearest = most.map_or_else(String::new, |month| {
        let amount = show::money(month.amount, bill.currency);
        // More than one month brings: what was saved up before is spent in it.
        let limit = trial.build.area.monthly_budget;
        let limit = limit.filter(|limit| limit.currency == bill.currency);
        let saved = match limit.is_some_and(|limit| month.amount > limit.amount) {
            true => ", partly saved up before",
            false => "",
        };
        format!(" The dearest month is {} with {amount}{saved}.", month.name)
    });
    let (then, now) = (here(&trial.after), here(bench.before));
    let instead = match then == now {
        true => ", as now".to_owned(),
        false => format!(" instead of {now}"),
    };
    format!(
        "Ordered in {} {}; all of it is here by {then}{instead}.{dearest}",
        months.len(),
        if months.len() == 1 { "month" } else { "months" },
    )
}

fn machines(bench: &Bench) -> Result<Vec<Offer>, String> {
    let offers = [1, 2, 3].map(|count| {
        let title = match count {
            1 => "one machine".to_owned(),
            many => format!("{many} machines together"),
        };
        Offer::one(bench, title, |build| build.area.machines = count)
            .meant_so()
            .with_note(each)
    });
    let other = |offer: &Offer| offer.builds.iter().any(|build| build != bench.build);
    Ok(offers.into_iter().filter(other).collect())
}

/// What each machine costs then, and now.
fn each(bench: &Bench, trial: &Trial) -> String {
    let each = |assessment: &Assessment| {
        let bill = &assessment.bill;
        let one = bill.total.likely / Decimal::from(bill.machines.max(1));
        (one, show::money(one, bill.currency))
    };
    let ((now, now_text), (then, then_text)) = (each(bench.before), each(&trial.after));
    let saved = match now.is_zero() {
        true => 0.0,
        false => ((now - then) / now * Decimal::ONE_HUNDRED)
            .to_f64()
            .unwrap_or_default(),
    };
    let change = match saved >= 0.0 {
        true => format!("{saved:.0} % less"),
        false => format!("{:.0} % more", -saved),
    };
    format!("Each machine costs {then_text} instead of {now_text}: {change}.")
}
