//! How the figures of the cuts came about.

use rust_decimal::Decimal;

use super::compare::Term;
use super::{Cuts, PieceOf, SectionCuts};
use crate::bill::nesting::{NestedBar, Stock, Tenths};
use crate::bill::notes::unit;
use crate::build::Picked;
use crate::catalogue::Unit;
use crate::explain::{Derivation, Input, Origin, Recorder, Worth, nth_key};
use crate::machine::Machine;
use crate::money::{Currency, Money};
use crate::units;
use crate::words::Words as _;

const NESTING: &str = "cutting-stock problem of operations research: greedy ways, a lower bound, then branch and bound";
const PRICES: &str = "plain sum; each amount rounded to the smallest coin, as on invoices";
const PRICES_LIMITS: &str =
    "Likely prices of today, as if nothing were bought yet; freight is not in them.";

/// Notes every figure of the cuts.
pub(super) fn note(
    cuts: &Cuts,
    picked: &Picked,
    machine: &Machine,
    currency: Currency,
    notes: &mut impl Recorder,
) {
    if cuts.sections.is_empty() {
        return;
    }
    let bars: Vec<_> = cuts
        .bars()
        .map(|(key, section, bar)| (format!("cuts.stock.{key}"), section, bar))
        .collect();
    for (path, section, bar) in &bars {
        notes.note(|| stock_length(path, section, bar));
        notes.note(|| times(path, bar));
        let pieces: Vec<Input> = lengths(path, section, bar).collect();
        let origins = SectionCuts::pieces_of(bar).map(|piece| section.pieces[piece].of);
        for (input, of) in pieces.iter().zip(origins) {
            notes.note(|| piece(input, of, picked, machine));
        }
        notes.note(|| offcut(path, cuts, bar, pieces));
    }
    too_long(cuts, picked, machine, notes);
    notes.note(|| waste(cuts, &bars));
    let money = |amount| Money::new(amount, currency);
    let total = |path: &str, title: &'static str, words: &str, terms: &[Term], sum: Decimal| {
        Derivation::of(path, title, money(sum))
            .by(words, "C = Σ T_i")
            .with_each(terms.iter().map(|term| said(term, picked, currency)))
            .from(PRICES, PRICES_LIMITS)
    };
    notes.note(|| {
        total(
            "cuts.cut_to_length_total",
            "Steel that the seller cuts to length",
            "Each metre that the pieces take, and each cut.",
            &cuts.totals.cut_to_length,
            cuts.totals.cut_to_length(),
        )
    });
    notes.note(|| {
        total(
            "cuts.whole_bars_total",
            "Steel in whole bars that you saw yourself",
            "Each metre of the bars, pieces that no bar is long enough for, and the saw.",
            &cuts.totals.whole_bars,
            cuts.totals.whole_bars(),
        )
    });
    if !cuts.is_proven() {
        notes.note(|| at_least(cuts, currency));
    }
}

fn mm(length: Tenths) -> Worth {
    Worth::from(units::mm::amount(length.length()))
}

fn stock_length(path: &str, section: &SectionCuts, bar: &NestedBar) -> Derivation {
    let note = Derivation::of(
        format!("{path}.stock_mm"),
        "Length of the bar that is sawn",
        mm(bar.length),
    );
    let note = match bar.stock {
        Stock::New(_) => note
            .by(
                "A bar that dealers keep: of all ways to cut, one that costs least.",
                "B = b",
            )
            .with(
                "b",
                "one of the bars on offer",
                mm(bar.length),
                Origin::Part(section.part.to_string()),
            ),
        Stock::Offcut(_) => note
            .by(
                "An offcut in hand: it costs nothing, so it is used.",
                "B = b",
            )
            .with("b", "offcut in hand", mm(bar.length), Origin::Purchases),
    };
    note.from(NESTING, "Dealers differ: ask which bars yours keeps.")
}

fn times(path: &str, bar: &NestedBar) -> Derivation {
    let count = Worth::count(bar.times);
    Derivation::of(format!("{path}.bars"), "Bars that are sawn alike", count)
        .by("How many bars give these pieces.", "N = n")
        .with("n", "found by nesting", count, Origin::Here)
        .from(NESTING, "")
}

/// The lengths of a bar's pieces, by their paths.
fn lengths(path: &str, section: &SectionCuts, bar: &NestedBar) -> impl Iterator<Item = Input> {
    SectionCuts::pieces_of(bar)
        .enumerate()
        .map(move |(place, piece)| {
            let path = format!("{path}.pieces.{place}");
            let length = section.pieces[piece].length;
            Input::new("l_i", "piece", mm(length), Origin::figure(path))
        })
}

fn piece(input: &Input, of: PieceOf, picked: &Picked, machine: &Machine) -> Derivation {
    let path = input.origin.names().to_owned();
    sawn_length(path, input.value, of, picked, machine)
}

/// How long a piece is sawn.
fn sawn_length(
    path: String,
    length: Worth,
    of: PieceOf,
    picked: &Picked,
    machine: &Machine,
) -> Derivation {
    let (title, exact, from) = match of {
        PieceOf::Member(place) => {
            let member = &machine.geometry.members[place];
            let title = format!("{}, {}", member.mark, member.title);
            (
                title,
                member.length,
                Origin::Plan(picked.frame.id.to_string()),
            )
        }
        PieceOf::Strip(axis) => {
            let path = format!("axes.{}.rail_mm", axis.title());
            let title = format!("a rail of {}", axis.title());
            let rail = machine.geometry.rails[axis].length;
            (title, rail, Origin::figure(path))
        }
    };
    Derivation::of(path, format!("Length to saw: {title}"), length)
        .by(
            "Its length, up to the next tenth of a millimetre.",
            "l = ⌈10·L⌉ / 10",
        )
        .with("L", title, units::mm::amount(exact), from)
        .from(
            "geometry of the machine",
            "Square cuts. Measure the rails that arrived before you saw.",
        )
}

fn offcut(path: &str, cuts: &Cuts, bar: &NestedBar, pieces: Vec<Input>) -> Derivation {
    let is_new = matches!(bar.stock, Stock::New(_));
    let count: u32 = bar.pieces.iter().map(|(_, count)| count).sum();
    let (words, formula) = match is_new {
        true => (
            "What pieces, kerfs and both trimmed ends leave of the bar, in one length; nothing \
             where the last kerf takes it.",
            "o = max(0, B - 2·t - Σ l_i - n·k)",
        ),
        false => (
            "What pieces and kerfs leave of the offcut; nothing where the last kerf takes it.",
            "o = max(0, B - Σ l_i - n·k)",
        ),
    };
    let note = Derivation::of(format!("{path}.offcut_mm"), "Offcut", mm(bar.left))
        .by(words, formula)
        .with(
            "B",
            "the bar",
            mm(bar.length),
            Origin::figure(format!("{path}.stock_mm")),
        )
        .with_each(pieces)
        .with(
            "n",
            "pieces, each sawn off",
            Worth::count(count),
            Origin::Here,
        )
        .with(
            "k",
            "kerf of the saw",
            mm(cuts.saw.kerf),
            Origin::choice("saw_kerf_mm"),
        );
    let note = match is_new {
        true => note.with(
            "t",
            "cut off at each end",
            mm(cuts.saw.trim),
            Origin::choice("end_trim_mm"),
        ),
        false => note,
    };
    note.from(
        "plain sum; common practice of sawing bars",
        "A dealer's bars are often some millimetres longer than named.",
    )
}

fn waste(cuts: &Cuts, bars: &[(String, &SectionCuts, &NestedBar)]) -> Derivation {
    let (stock, pieces) = cuts.sawn();
    let percent = cuts.waste_percent().unwrap_or_default();
    let each = bars.iter().map(|(path, section, bar)| {
        let title = format!("{} x {}", bar.times, section.part);
        let from = Origin::figure(format!("{path}.stock_mm"));
        Input::new("B_i", title, mm(bar.length), from)
    });
    Derivation::of(
        "cuts.waste_percent",
        "Share of the sawn bars that becomes no piece",
        Worth::Exact(percent, "%"),
    )
    .by(
        "Offcuts, kerfs and trimmed ends in percent of all bars B_i and offcuts that are sawn, \
         to two digits.",
        "w = 100·(S - P) / S",
    )
    .with_each(each)
    .with("S", "all bars", Worth::Exact(stock, "m"), Origin::Here)
    .with("P", "all pieces", Worth::Exact(pieces, "m"), Origin::Here)
    .from(
        "plain ratio",
        "Offcuts count as waste here, though they may serve later.",
    )
}

/// One amount of a total.
fn said(term: &Term, picked: &Picked, currency: Currency) -> Input {
    let part = picked.catalogue.part(term.part.as_str());
    let title = part.map_or(term.part.as_str(), |(_, part)| part.title());
    let quantity = match term.unit {
        Unit::Piece => format!("{} x", term.quantity.normalize()),
        other => format!("{} of", Worth::Exact(term.quantity, unit(other))),
    };
    let purchase = picked.build.purchases.of(&term.part);
    let quoted = purchase.is_some_and(|one| one.quote().is_some());
    let (title, from) = match picked.catalogue.book_of(&term.part) {
        _ if term.at_hand => (format!("{title}: at hand"), Origin::Purchases),
        _ if quoted => (format!("{quantity} {title}"), Origin::Purchases),
        Some(book) => (
            format!("{quantity} {title}"),
            Origin::PriceBook(book.id.to_string()),
        ),
        None => (format!("{quantity} {title}: no price"), Origin::Here),
    };
    Input::new("T_i", title, Money::new(term.cost, currency), from)
}

fn at_least(cuts: &Cuts, currency: Currency) -> Derivation {
    let money = |amount| Money::new(amount, currency);
    let whole = cuts.totals.whole_bars();
    let less = cuts.totals.at_most_less;
    Derivation::of(
        "cuts.whole_bars_at_least",
        "What whole bars cost at least, however one cuts",
        money(whole - less),
    )
    .by(
        "Bars enough to hold all lengths, less what the search for better cuts left open.",
        "C_0 = C - d",
    )
    .with(
        "C",
        "whole bars as they are cut here",
        money(whole),
        Origin::figure("cuts.whole_bars_total"),
    )
    .with(
        "d",
        "at most saved by other cuts",
        money(less),
        Origin::Here,
    )
    .from(NESTING, "The search stops after a fixed number of steps.")
}

/// Notes the pieces that no bar is long enough for.
fn too_long(cuts: &Cuts, picked: &Picked, machine: &Machine, notes: &mut impl Recorder) {
    let mut seen: Vec<&str> = Vec::new();
    for (_, piece, count) in cuts.too_long() {
        let mark = piece.mark(machine);
        let earlier = seen.iter().filter(|other| **other == mark).count();
        seen.push(mark);
        let path = format!("cuts.too_long.{}", nth_key(mark, earlier));
        notes.note(|| {
            let path = format!("{path}.length_mm");
            sawn_length(path, mm(piece.length), piece.of, picked, machine)
        });
        notes.note(|| {
            let path = format!("{path}.count");
            let count = Worth::count(count);
            let from = Origin::Plan(picked.frame.id.to_string());
            Derivation::of(path, "Pieces longer than any bar", count)
                .by(
                    "Those that neither a bar on offer nor an offcut in hand is long enough for.",
                    "N = n",
                )
                .with("n", "pieces of the machines", count, from)
                .from(
                    "the bars that the catalogue names",
                    "Order them cut to length, or ask for longer bars.",
                )
        });
    }
}
