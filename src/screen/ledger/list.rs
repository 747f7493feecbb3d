//! Which rows the page of the bill has, under which headings.

use rust_decimal::Decimal;

use super::{Entry, Row, Show, Sort};
use crate::bill::doubt::{self, Doubt};
use crate::bill::ordering::Stage;
use crate::bill::{Bill, Consignment, Line};
use crate::build::purchases::Status;
use crate::catalogue::supplier::Supplier;
use crate::catalogue::{Catalogue, Step};
use crate::order::Order as _;
use crate::screen::text::{capital, fits};
use crate::words::Words as _;

/// A row before it stands in its place.
struct Item {
    entry: Entry,
    likely: Decimal,
    /// Its turn under its heading, where that is not the order of the bill.
    turn: usize,
    /// The heading it stands under, and the place of that among the headings.
    head: (usize, String),
}

/// The supplier of a line, where one is known.
pub fn supplier_of<'c>(catalogue: &'c Catalogue, line: &Line) -> Option<&'c Supplier> {
    let supplier = line.price.as_ref()?.supplier.as_ref()?;
    catalogue.suppliers.get(supplier)
}

/// What is asked of the page: which lines, found by which word, in which order.
pub(super) struct Asking<'a> {
    /// By what lines stand together.
    pub sort: Sort,
    /// Which lines.
    pub show: Show,
    /// The word that is looked for, in small letters.
    pub word: &'a str,
    /// Listed although it fits no longer: what the cursor is on stays under it until the cursor
    /// moves on, or the next key would change another line.
    pub keep: Option<&'a Entry>,
}

/// The rows in their order.
pub(super) fn rows(catalogue: &Catalogue, bill: &Bill, asking: &Asking) -> Vec<Row> {
    let &Asking {
        sort, show, word, ..
    } = asking;
    let doubts = match sort {
        Sort::ByDoubt => doubt::doubts(bill),
        _ => Vec::new(),
    };
    let mut items: Vec<Item> = Vec::new();
    for (place, line) in bill.lines.iter().enumerate() {
        let seller = supplier_of(catalogue, line).map_or("", |one| one.title.as_str());
        let text = format!("{} {} {seller}", line.title, line.status.title());
        let kept = matches!(asking.keep, Some(Entry::Part(part, step))
            if *part == line.part && *step == line.step);
        if kept || is_shown(line, show) && fits(&text, word) {
            let rank = doubts.iter().position(|one| one.line == place);
            items.push(Item {
                entry: Entry::Part(line.part, line.step),
                likely: line.total.likely,
                turn: rank.unwrap_or(doubts.len()),
                head: match sort {
                    Sort::ByDoubt => doubted(bill, &doubts, rank),
                    _ => head_of(catalogue, bill, place, sort),
                },
            });
        }
    }
    items.extend(on_the_way(bill, asking));
    if show == Show::All {
        items.extend(unused(catalogue, bill, sort, word));
    }
    match sort {
        Sort::ByPrice => items.order_by_key(|item| std::cmp::Reverse(item.likely)),
        _ => items.order_by_key(|item| (item.head.0, item.turn)),
    }
    headed(items)
}

/// Freight, duty and tax, by supplier.
fn on_the_way(bill: &Bill, asking: &Asking) -> Vec<Item> {
    let &Asking {
        sort, show, word, ..
    } = asking;
    let shown = |one: &Consignment| match show {
        Show::All => true,
        Show::ToBuy => on_top(one) > one.paid,
        Show::FirstCut | Show::Workshop | Show::NoPrice => false,
    };
    let found = |one: &Consignment| fits(&format!("{} freight duty tax on top", one.title), word);
    let all = bill.consignments.iter().enumerate();
    let kept =
        |one: &Consignment| matches!(asking.keep, Some(Entry::Way(id)) if *id == one.supplier);
    let own = all.filter(|(_, one)| kept(one) || shown(one) && found(one));
    let each = own.map(|(place, one)| Item {
        entry: Entry::Way(one.supplier),
        likely: on_top(one),
        turn: 0,
        head: match sort {
            Sort::BySupplier => (place, one.title.to_string()),
            Sort::ByPrice => (0, String::new()),
            _ => (usize::MAX - 1, "Freight, duty and tax".to_owned()),
        },
    });
    each.collect()
}

/// What was paid for and no line needs.
fn unused(catalogue: &Catalogue, bill: &Bill, sort: Sort, word: &str) -> Vec<Item> {
    let each = bill.unchosen.iter().map(|one| Item {
        entry: Entry::Unused(one.what),
        likely: one.paid,
        turn: 0,
        head: match sort {
            Sort::ByPrice => (0, String::new()),
            _ => (usize::MAX, "Paid for and no longer needed".to_owned()),
        },
    });
    each.filter(|item| fits(&item.entry.title(catalogue), word))
        .collect()
}

/// Freight, duty and tax of a consignment, likely. The bill's total has them in it, so that they
/// are never past counting.
fn on_top(one: &Consignment) -> Decimal {
    one.on_top().map_or(Decimal::ZERO, |sum| sum.likely)
}

/// Puts a heading with its sum above each group.
fn headed(items: Vec<Item>) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::with_capacity(items.len() + 8);
    let mut before: Option<usize> = None;
    for item in &items {
        let (rank, title) = &item.head;
        if before != Some(*rank) && !title.is_empty() {
            let own = items.iter().filter(|other| other.head.0 == *rank);
            rows.push(Row::Head(title.clone(), own.map(|item| item.likely).sum()));
        }
        before = Some(*rank);
        rows.push(Row::Entry(item.entry.clone()));
    }
    rows
}

fn is_shown(line: &Line, show: Show) -> bool {
    match show {
        Show::All => true,
        Show::ToBuy => {
            let waits = matches!(
                line.status,
                Status::ToBuy | Status::Quoted | Status::Cancelled | Status::HaveIt
            );
            let owed = line.total.likely > line.paid;
            !line.buy.is_zero() && (waits || owed)
        }
        Show::FirstCut => line.first_cut,
        Show::Workshop => line.shared,
        Show::NoPrice => line.lacks_price(),
    }
}

/// The heading of a line by what to ask first, which has a rank among the guessed prices or none.
fn doubted(bill: &Bill, doubts: &[Doubt], rank: Option<usize>) -> (usize, String) {
    match rank {
        Some(rank) if rank < doubt::FIRST => {
            let share = doubt::percent_of_first(bill, doubts);
            let title = format!("Ask these prices first: {share} % of the range");
            (0, title)
        }
        Some(_) => (1, "Other guessed prices, the widest range first".to_owned()),
        None => (2, "No price to ask for".to_owned()),
    }
}

fn head_of(catalogue: &Catalogue, bill: &Bill, place: usize, sort: Sort) -> (usize, String) {
    let line = &bill.lines[place];
    match sort {
        Sort::ByStep => {
            let step = Step::ALL.iter().position(|step| *step == line.step);
            (step.unwrap_or(0), line.step.title().to_owned())
        }
        Sort::BySupplier => {
            let own = |one: &Consignment| one.lines.contains(&place);
            let same = |one: &Consignment| {
                supplier_of(catalogue, line).is_some_and(|supplier| supplier.id == one.supplier)
            };
            let all = &bill.consignments;
            let found = all
                .iter()
                .position(own)
                .or_else(|| all.iter().position(same));
            match found {
                Some(found) => (found, all[found].title.to_string()),
                None => match supplier_of(catalogue, line) {
                    Some(_) => (all.len(), "Nothing left to buy".to_owned()),
                    None => (all.len() + 1, "No supplier known".to_owned()),
                },
            }
        }
        Sort::ByPrice | Sort::ByDoubt => (0, String::new()),
        Sort::ByStatus => {
            let rank = line.status.index();
            (rank, capital(line.status.title()))
        }
        Sort::ByTurn => {
            let holds = |stage: &Stage| stage.lines.contains(&place);
            let stages = &bill.ordering.stages;
            match stages.iter().position(holds) {
                Some(found) => (found, staged(&stages[found])),
                None => (stages.len(), "In no particular order".to_owned()),
            }
        }
    }
}

/// A stage of buying with how far it has come.
fn staged(stage: &Stage) -> String {
    format!("{}: {}", stage.title, stage.state.title())
}
