//! The sheet of cuts: the pieces for whoever saws, the bars one by one for those who saw
//! themselves, what is ordered cut to length anyway, and what either way of buying costs.

use rust_decimal::Decimal;

use crate::bill::cuts::{CutPiece, Cuts, PieceOf, SectionCuts};
use crate::bill::nesting::{NestedBar, Stock, Tenths};
use crate::build::choices::working_area::TubeSupply;
use crate::catalogue::Id;
use crate::machine::mass::thread_strip;
use crate::money::Money;
use crate::sheets::{Cell, Column, Content, Paper, Row, Shape, Table};
use crate::units::{self, LinearMassDensity};
use crate::words::Words as _;

mod remarks;
mod to_order;

/// What it says.
pub(in crate::sheets) fn content(paper: &Paper) -> Content {
    let cuts = &paper.assessment.bill.cuts;
    let mut tables = Vec::new();
    if !cuts.sections.is_empty() {
        tables.push(pieces(paper, cuts));
        tables.push(bars(paper, cuts));
    }
    tables.push(to_order::lengths(paper));
    tables.extend(to_order::plates(paper));
    if !cuts.sections.is_empty() {
        tables.push(ways(paper, cuts));
    }
    Content {
        about: about(paper, cuts),
        tables,
        remarks: remarks::all(paper, cuts),
    }
}

fn about(paper: &Paper, cuts: &Cuts) -> String {
    let machines = paper.build.area.machines;
    let whose = match machines {
        1 => String::new(),
        many => format!(" For all {many} machines together."),
    };
    let how = match (cuts.sections.is_empty(), cuts.supply) {
        (true, _) => "Nothing of this machine is sawn from bars.",
        (false, TubeSupply::CutToLength) => {
            "The seller saws: hand over the list of pieces. The bars show what to buy and how to \
             saw it if you did it yourself."
        }
        (false, TubeSupply::WholeBars) => {
            "You saw: buy the bars below, and saw each in the order in which its pieces stand."
        }
    };
    format!("{how}{whose} Lengths in mm.")
}

/// How lists name a part.
fn short<'p>(paper: &Paper<'p>, part: &'p Id) -> &'p str {
    let found = paper.catalogue.part(part.as_str());
    found.map_or(part.as_str(), |(_, part)| part.short())
}

/// Mass of a metre of what a piece is cut from.
fn linear_mass(paper: &Paper, piece: &CutPiece) -> LinearMassDensity {
    match piece.of {
        PieceOf::Member(place) => {
            let members = &paper.assessment.machine.geometry.members;
            let member = members.get(place);
            member.map_or_else(LinearMassDensity::default, |one| one.linear_mass)
        }
        PieceOf::Strip(_) => thread_strip(),
    }
}

/// A length: whole millimetres without a point, tenths where there are any.
fn mm(length: Tenths) -> Cell {
    Cell::Exact(length.millimetres())
}

/// The numbers of a section's bars on the list, bar by bar: from and to, where several are
/// sawn alike.
fn numbers(cuts: &Cuts) -> Vec<(u64, u64)> {
    let mut last = 0;
    let each = cuts.bars().map(|(_, _, bar)| {
        let first = last + 1;
        last += u64::from(bar.times);
        (first, last)
    });
    each.collect()
}

fn number((first, last): (u64, u64)) -> String {
    match last - first {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => format!("{first} to {last}"),
    }
}

/// Every piece with its mark.
fn pieces(paper: &Paper, cuts: &Cuts) -> Table {
    let machine = &paper.assessment.machine;
    let numbers = numbers(cuts);
    let all: Vec<(&SectionCuts, &NestedBar)> = cuts
        .bars()
        .map(|(_, section, bar)| (section, bar))
        .collect();
    let mut rows = Vec::new();
    for section in &cuts.sections {
        for (place, piece) in section.pieces.iter().enumerate() {
            let on = |&(of, bar): &(&SectionCuts, &NestedBar)| {
                std::ptr::eq(of, section) && bar.pieces.iter().any(|(other, _)| *other == place)
            };
            let bars = all.iter().zip(&numbers).filter(|(bar, _)| on(bar));
            let bars: Vec<String> = bars.map(|(_, &at)| number(at)).collect();
            let bars = match bars.is_empty() {
                true => "no bar is long enough".to_owned(),
                false => bars.join(", "),
            };
            let mass = linear_mass(paper, piece) * piece.length.length();
            let mark = piece.mark(machine);
            rows.push(Row::entry(
                mark,
                vec![
                    Cell::text(mark),
                    Cell::text(piece.title(machine)),
                    Cell::text(short(paper, &section.part)),
                    mm(piece.length),
                    Cell::count(piece.count),
                    Cell::Number(units::kg::from(mass), 1),
                    Cell::text(bars),
                ],
            ));
        }
    }
    Table {
        id: "pieces",
        title: "Pieces".to_owned(),
        columns: vec![
            Column::new("mark", "Mark", Shape::Text),
            Column::new("piece", "Piece", Shape::Text),
            Column::new("section", "Section", Shape::Text),
            Column::new("length_mm", "mm", Shape::Number).beside_inches(),
            Column::new("quantity", "Pieces", Shape::Number),
            Column::new("each_kg", "kg each", Shape::Number).kept(),
            Column::new("bars", "From bar", Shape::Text),
        ],
        rows,
    }
}

/// Every bar with what is sawn from it.
fn bars(paper: &Paper, cuts: &Cuts) -> Table {
    let machine = &paper.assessment.machine;
    let kerf = cuts.saw.kerf.millimetres();
    let rows = cuts
        .bars()
        .zip(numbers(cuts))
        .map(|((_, section, bar), at)| {
            let count: u32 = bar.pieces.iter().map(|(_, count)| count).sum();
            let from = match bar.stock {
                Stock::New(_) => "new",
                Stock::Offcut(_) => "in hand",
            };
            let pieces = bar.pieces.iter().map(|&(piece, count)| {
                let piece = &section.pieces[piece];
                let length = piece.length.millimetres();
                format!("{count} x {} ({length})", piece.mark(machine))
            });
            let pieces: Vec<String> = pieces.collect();
            Row::entry(
                number(at),
                vec![
                    Cell::text(number(at)),
                    Cell::text(short(paper, &section.part)),
                    Cell::text(from),
                    mm(bar.length),
                    Cell::text(pieces.join(", ")),
                    Cell::Exact(kerf * Decimal::from(count)),
                    mm(bar.left),
                ],
            )
        });
    let title = match cuts.supply {
        TubeSupply::CutToLength => "Bars, if you sawed them yourself",
        TubeSupply::WholeBars => "Bars, one by one",
    };
    Table {
        id: "bars",
        title: title.to_owned(),
        rows: rows.collect(),
        columns: vec![
            Column::new("bar", "Bar", Shape::Text),
            Column::new("section", "Section", Shape::Text),
            Column::new("stock", "Stock", Shape::Text),
            Column::new("stock_mm", "mm", Shape::Number).kept(),
            Column::new("pieces", "Pieces", Shape::Text).with_digits(),
            Column::new("kerf_mm", "Kerfs", Shape::Number).kept(),
            Column::new("offcut_mm", "Offcut", Shape::Number).kept(),
        ],
    }
}

/// What either way of buying costs.
fn ways(paper: &Paper, cuts: &Cuts) -> Table {
    let money = |amount| Cell::Money(Money::new(amount, paper.assessment.bill.currency));
    let row = |supply: TubeSupply, includes: &str, cost| {
        let chosen = if cuts.supply == supply { "chosen" } else { "" };
        let cells = vec![
            Cell::text(supply.title()),
            Cell::text(includes),
            money(cost),
            Cell::text(chosen),
        ];
        Row::entry(supply.id(), cells)
    };
    let totals = &cuts.totals;
    Table {
        id: "ways-to-buy",
        title: "What either way costs".to_owned(),
        columns: vec![
            Column::new("way", "Way to buy", Shape::Text),
            Column::new("includes", "What is in it", Shape::Text),
            Column::new("cost", "Likely", Shape::Money),
            Column::new("chosen", "Choice", Shape::Text),
        ],
        rows: vec![
            row(
                TubeSupply::CutToLength,
                "metres and cuts, nothing left over",
                totals.cut_to_length(),
            ),
            row(
                TubeSupply::WholeBars,
                "bars and a saw; the offcuts are yours",
                totals.whole_bars(),
            ),
        ],
    }
}
