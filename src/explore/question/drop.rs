//! What to leave out to pay less: single changes, the one that costs the machine least for what
//! it saves first, each on top of those before, until enough is saved.
//!
//! Every change is assessed on top of the ones before it, so that what they share (parcels,
//! packs, minimum orders) is counted as it comes.

use std::rc::Rc;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::{Bench, ON_TOP, ONLY_IF, Offer, Trial};
use crate::assessment::Assessment;
use crate::build::choices::{self, Choice, Kind};
use crate::build::{Build, Edit};
use crate::catalogue::Step;
use crate::explore::reading::Reading;
use crate::explore::told;
use crate::explore::trial::is_bought;
use crate::explore::weigh::loss;
use crate::money::show;
use crate::order::Order as _;

/// The share of the likely cost that is to be saved.
const WANTED: Decimal = Decimal::from_parts(20, 0, 0, false, 2);

/// The least share that a change must save to be worth naming.
const NOTICEABLE: Decimal = Decimal::from_parts(4, 0, 0, false, 3);

/// The most changes that are made.
const MOST: usize = 20;

/// How many of the first round's changes are tried again on top of others: those that cost
/// least for what they save.
const KEPT: usize = 40;

/// What is said of what the work needs anyway.
const IF_OWNED: &str =
    "No true saving: the work needs it. Leave it out only if you own one, or get it free.";

/// What is said of a circuit that may be there.
const IF_THERE: &str = "No true saving: look first. Where a socket in reach works on while the breaker of \
     the first is off, no circuit need be laid.";

/// What is said at the last change, where all together do not come to a fifth.
fn at_the_end(bench: &Bench, trial: &Trial, since: Option<&Assessment>) -> String {
    let so_far = so_far(bench, trial, since);
    format!(
        "{so_far} That is all that can be left out, one thing after the other, without a danger or \
         a fault: it is no fifth. The search for the cheapest build changes several things at once \
         and may find more; so does a smaller working area."
    )
}

/// A change with what it saves and what it costs the machine.
struct Saving {
    edit: Edit,
    trial: Trial,
    saved: Decimal,
    loss: f64,
}

impl Saving {
    /// Loss for each unit of money saved.
    fn dear(&self) -> f64 {
        self.loss / self.saved.to_f64().unwrap_or(1.0).max(1e-9)
    }
}

pub(super) fn offers(bench: &Bench) -> Result<Vec<Offer>, String> {
    offers_since(bench, None)
}

/// The same where the saving began with another machine: the fifth is that of its cost, and what
/// is lost is lost against it.
pub(super) fn offers_since(
    bench: &Bench,
    since: Option<&Rc<Assessment>>,
) -> Result<Vec<Offer>, String> {
    if bench.before.bill.to_spend <= Decimal::ZERO {
        return Err("Everything is paid already.".to_owned());
    }
    let before = bench.before.bill.total.likely;
    let of = since.map_or(before, |since| since.bill.total.likely);
    let wanted = of * WANTED - (of - before);
    if wanted <= Decimal::ZERO {
        let currency = bench.before.bill.currency;
        return Err(format!(
            "A fifth of the {} that it cost when you came here is saved: it costs {} now. \
             Leave the page, and it counts anew.",
            show::money(of, currency),
            show::money(before, currency)
        ));
    }
    let mut offers: Vec<Offer> = Vec::new();
    let mut build = bench.build.clone();
    let (needed, mut changes): (Vec<Edit>, Vec<Edit>) = all_changes(bench)
        .into_iter()
        .partition(|edit| loss::only_if_owned(edit.choice, &edit.value));
    let mut saved_so_far = Decimal::ZERO;
    let mut done: Vec<&str> = Vec::new();
    while saved_so_far < wanted && offers.len() < MOST {
        let mut found = savings(bench, &build, saved_so_far, &changes, &done);
        found.order_by(|a, b| a.dear().total_cmp(&b.dear()));
        let Some(best) = found.first() else {
            break;
        };
        done.push(best.edit.choice.id);
        build = best.trial.build.clone();
        saved_so_far += best.saved;
        let value = best
            .edit
            .choice
            .show_short(&best.edit.value, bench.catalogue);
        let and = if offers.is_empty() { "" } else { ON_TOP };
        let title = format!("{and}{}: {value}", best.edit.choice.title);
        let offer = Offer::new(title, vec![build.clone()]);
        let offer = offer.meant_so().with_note({
            let since = since.cloned();
            move |bench, trial| so_far(bench, trial, since.as_deref())
        });
        offers.push(match offers.is_empty() {
            true => offer,
            false => offer.on_top(),
        });
        found.truncate(KEPT);
        changes = found.into_iter().map(|saving| saving.edit).collect();
    }
    if saved_so_far < wanted
        && let Some(last) = offers.pop()
    {
        let since = since.cloned();
        let note = move |bench: &Bench, trial: &Trial| at_the_end(bench, trial, since.as_deref());
        offers.push(last.with_note(note));
    }
    let rows = offers.len();
    offers.extend(if_owned(bench, &needed));
    // Whoever opens the list knows at once whether the way down is worth it.
    if saved_so_far < wanted
        && let Some(first) = offers.first_mut()
    {
        let saved = show::money(saved_so_far, bench.before.bill.currency);
        let more = if of == before { "" } else { " more" };
        first.headline = no_fifth(rows, &format!("{saved}{more}"));
    }
    match offers.is_empty() {
        true => Err("No single change saves anything without a danger or a fault.".to_owned()),
        false => Ok(offers),
    }
}

/// What is said above all rows, where together they do not come to a fifth.
fn no_fifth(rows: usize, saved: &str) -> String {
    let why = match rows {
        0 => "only what is there already saves anything".to_owned(),
        1 => format!("the one row saves {saved}"),
        rows => format!("all {rows} rows together save {saved}"),
    };
    format!("No fifth can be saved by leaving out: {why}.")
}

/// What is saved only by who owns it already, apart from the true savings: each by itself, the
/// most first.
fn if_owned(bench: &Bench, needed: &[Edit]) -> Vec<Offer> {
    let mut found = savings(bench, bench.build, Decimal::ZERO, needed, &[]);
    found.order_by_key(|saving| std::cmp::Reverse(saving.saved));
    let each = found.into_iter().map(|saving| {
        let choice = saving.edit.choice;
        let (when, note) = match choice.id {
            loss::CIRCUIT => ("there is one", IF_THERE),
            _ => ("you own one", IF_OWNED),
        };
        let offer = Offer::new(
            format!("{ONLY_IF}{when}: {}", choice.title),
            vec![saving.trial.build],
        );
        offer.meant_so().with_note(move |_, _| note.to_owned())
    });
    each.collect()
}

/// What all changes so far save, as money and as a share, how far that is from a fifth, and what is
/// cut more slowly: against the machine of now, or the one of before some of it was saved.
fn so_far(bench: &Bench, trial: &Trial, since: Option<&Assessment>) -> String {
    let before = since.unwrap_or(bench.before);
    let of = before.bill.total.likely;
    let currency = trial.after.bill.currency;
    let saved = of - trial.after.bill.total.likely;
    let share = match of.is_zero() {
        true => Decimal::ZERO,
        false => saved / of,
    };
    let percent = (share * Decimal::ONE_HUNDRED).to_f64().unwrap_or_default();
    let enough = match share >= WANTED {
        true => ": that is enough".to_owned(),
        false => format!("; a fifth is {}", show::money(of * WANTED, currency)),
    };
    let taken = of != bench.before.bill.total.likely;
    let worse = match (told::slower(before, &trial.after, bench.catalogue), taken) {
        (None, _) => " Up to here no material is cut more slowly.".to_owned(),
        // What this row alone makes slower is told below it.
        (Some(_), false) => String::new(),
        (Some(words), true) => format!(" Against then it cuts more slowly: {words}."),
    };
    let (all, since) = match taken {
        false => ("All so far save", "that it costs now"),
        true => (
            "With what you took, all so far save",
            "that it cost when you came here",
        ),
    };
    let (saved, of) = (show::money(saved, currency), show::money(of, currency));
    format!("{all} {saved} of the {of} {since}, {percent:.0} %{enough}.{worse}")
}

/// Every option of every choice that may be dropped or made cheaper.
fn all_changes(bench: &Bench) -> Vec<Edit> {
    let free = choices::all().iter().filter(|choice| {
        let wish = matches!(choice.kind, Kind::Number(_) | Kind::Parts(_) | Kind::Amount);
        !wish && !loss::is_no_saving(choice) && !is_bought(bench.build, choice)
    });
    free.flat_map(|choice: &'static Choice| {
        let now = (choice.get)(bench.build);
        let options = choice.options(bench.catalogue).into_iter();
        options
            .filter(move |value| *value != now)
            .map(move |value| Edit { choice, value })
    })
    .collect()
}

/// The changes that save something on top of a build, and bring no danger and no fault.
fn savings(
    bench: &Bench,
    build: &Build,
    saved_so_far: Decimal,
    changes: &[Edit],
    done: &[&str],
) -> Vec<Saving> {
    let least = bench.before.bill.total.likely * NOTICEABLE;
    let before = Reading::of(bench.before);
    let open = changes
        .iter()
        .filter(|edit| !done.contains(&edit.choice.id));
    open.filter_map(|edit| {
        let trial = bench.trial(edit.applied(build)).ok()?;
        let saved = -trial.price - saved_so_far;
        (trial.is_sound() && saved >= least).then(|| Saving {
            edit: edit.clone(),
            saved,
            loss: lost(&before, &trial),
            trial,
        })
    })
    .collect()
}

/// Single changes that `may` be made, save something and bring no new warning of any kind, where
/// what they make `keeps` all that it must: one of each choice, with what it saves by itself, and
/// the one first that costs the machine least for that.
pub(in crate::explore) fn harmless(
    bench: &Bench,
    may: &dyn Fn(&Edit) -> bool,
    keeps: &dyn Fn(&Assessment) -> bool,
) -> Vec<(Edit, Decimal)> {
    let mut changes = all_changes(bench);
    changes.retain(|edit| may(edit) && !loss::only_if_owned(edit.choice, &edit.value));
    let mut found = savings(bench, bench.build, Decimal::ZERO, &changes, &[]);
    found.retain(|one| one.trial.added.is_empty() && keeps(&one.trial.after));
    found.order_by(|a, b| a.dear().total_cmp(&b.dear()));
    let mut harmless: Vec<(Edit, Decimal)> = Vec::new();
    for one in found {
        if harmless
            .iter()
            .all(|(known, _)| known.choice.id != one.edit.choice.id)
        {
            harmless.push((one.edit, one.saved));
        }
    }
    harmless
}

/// What a machine loses, with the comfort that no figure shows: that still counts a little, so
/// that what is for nothing goes first.
fn lost(before: &Reading, trial: &Trial) -> f64 {
    let extras = trial.edits.iter();
    let extras = extras.filter(|edit| edit.choice.step == Step::Extras);
    loss::loss(before, &Reading::of(&trial.after), &trial.added)
        + extras.count() as f64 * loss::HINT
}
