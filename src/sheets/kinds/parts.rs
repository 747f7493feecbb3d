//! The parts list: what to buy, from whom, in which order, and what it comes to. In a workbook
//! its prices, quantities and rates may be changed, and all totals follow, with what is still to
//! be spent. What else the bill tells stays as it was worked out: the range, what the first cut
//! needs, what is to be ordered from whom and when, and the months.

use rust_decimal::Decimal;

use crate::assessment::Assessment;
use crate::bill::{Bill, Consignment, Line};
use crate::build::purchases::Status;
use crate::catalogue::prices::Basis;
use crate::money::Money;
use crate::sheets::{Cell, Column, Content, Formula, Paper, Row, Shape, Table};
use crate::words::Words as _;

mod suppliers;

pub(super) const TOTALS: &str = "totals";
pub(super) const SPENDING: &str = "spending";
const LINES: &str = "parts";
const SUPPLIERS: &str = "suppliers";

const LINE_COLUMNS: [Column; 13] = [
    Column::new("part", "Part", Shape::Text),
    Column::new("step", "Step", Shape::Text).wide_only(),
    Column::new("supplier", "Supplier", Shape::Text).aside(),
    Column::new("quantity", "Takes", Shape::Number).wide_only(),
    Column::new("buy", "Buy", Shape::Number),
    Column::new("unit", "Unit", Shape::Text),
    Column::new("unit_price", "Price of one", Shape::Money),
    Column::new("total", "Total", Shape::Money),
    Column::new("paid", "Paid", Shape::Money).wide_only(),
    Column::new("basis", "Price is", Shape::Text).wide_only(),
    Column::new("date", "As of", Shape::Text).wide_only(),
    Column::new("status", "Status", Shape::Text),
    Column::new("why", "Why so many", Shape::Text).aside(),
];

/// What it says.
pub(in crate::sheets) fn content(paper: &Paper) -> Content {
    let bill = &paper.assessment.bill;
    Content {
        about: about(bill),
        tables: vec![
            totals(bill),
            lines(paper, bill),
            orders(paper, bill),
            suppliers::suppliers(bill),
            order(bill),
            spending(bill),
        ],
        remarks: remarks(paper.assessment),
    }
}

fn about(bill: &Bill) -> String {
    let machines = match bill.machines {
        1 => String::new(),
        many => format!(" for {many} machines"),
    };
    let invented = bill.never_order();
    let invented = invented.map_or_else(String::new, |never| format!(" {never}."));
    format!(
        "What to buy{machines}, in {}. Prices are the likely ones; the range stands at the top.{invented}",
        bill.currency
    )
}

fn remarks(assessment: &Assessment) -> Vec<String> {
    let bill = &assessment.bill;
    let mut remarks = Vec::new();
    remarks.push(
        "Tax, duty and fees are general information as of their date: check them with your own customs and tax office before you order."
            .to_owned(),
    );
    if bill.consignments.iter().any(Consignment::holds_tax) {
        remarks.push(
            "Where \"in the prices\" stands under tax, the seller's prices hold it already: ask whether that is so where you buy."
                .to_owned(),
        );
    }
    remarks.push(
        "On arrival, before the time to send it back runs out: count, measure, and write down what is wrong. Never buy a part that cannot go back before its mate is fixed."
            .to_owned(),
    );
    remarks
}

fn money(bill: &Bill, amount: Decimal) -> Cell {
    Cell::Money(Money::new(amount, bill.currency))
}

fn worked(value: Cell, formula: Formula) -> Cell {
    Cell::Worked(Box::new(value), formula)
}

fn rounded(bill: &Bill, formula: Formula) -> Formula {
    Formula::Rounded(Box::new(formula), bill.currency.decimals())
}

/// What all of it comes to, first.
fn totals(bill: &Bill) -> Table {
    let total = |table, column| Formula::Total(table, column);
    let at = |row: &str| Formula::At(TOTALS, row.to_owned(), "amount");
    let row = |id: &str, title: &str, amount: Decimal, formula: Formula| {
        let cell = worked(money(bill, amount), formula);
        Row::entry(id, vec![Cell::text(title), cell])
    };
    let plain = |id: &str, title: &str, amount: Decimal| {
        Row::entry(id, vec![Cell::text(title), money(bill, amount)])
    };
    let likely = Formula::Plus(vec![at("goods"), at("freight"), at("duty"), at("tax")]);
    let goods = row("goods", "Goods", bill.goods.likely, total(LINES, "total"));
    let mut rows = vec![goods];
    let on_top = bill.on_top_rows().into_iter();
    rows.extend(on_top.map(|(id, title, sum)| row(id, title, sum.likely, total(SUPPLIERS, id))));
    rows.push(Row::sum(
        "likely",
        vec![
            Cell::text("Likely cost"),
            worked(money(bill, bill.total.likely), likely),
        ],
    ));
    let range = bill.range_rows().into_iter();
    rows.extend(range.map(|(id, title, amount)| plain(id, title, amount)));
    if bill.machines > 1 {
        let each = Formula::Over(
            Box::new(at("likely")),
            Box::new(Formula::Number(bill.machines.into())),
        );
        rows.push(row(
            "machine",
            "One machine",
            bill.per_machine(),
            rounded(bill, each),
        ));
    }
    Table {
        id: TOTALS,
        title: format!("What it comes to, in {}", bill.currency),
        columns: vec![
            Column::new("what", "What", Shape::Text),
            Column::new("amount", "Amount", Shape::Money),
        ],
        rows,
    }
}

/// Every line, step by step.
fn lines(paper: &Paper, bill: &Bill) -> Table {
    let mut rows = Vec::new();
    let mut step = None;
    for line in &bill.lines {
        if step != Some(line.step) {
            step = Some(line.step);
            rows.push(Row::heading(line.step.title(), LINE_COLUMNS.len()));
        }
        rows.push(row(paper, bill, line));
    }
    let sum = worked(
        money(bill, bill.goods.likely),
        Formula::Total(LINES, "total"),
    );
    let paid: Decimal = bill.lines.iter().map(|line| line.paid).sum();
    let paid = worked(money(bill, paid), Formula::Total(LINES, "paid"));
    rows.push(Row::sum_in(
        "all",
        &LINE_COLUMNS,
        [
            ("part", Cell::text("All goods")),
            ("total", sum),
            ("paid", paid),
        ],
    ));
    Table {
        id: LINES,
        title: "Parts".to_owned(),
        columns: LINE_COLUMNS.into(),
        rows,
    }
}

fn row(paper: &Paper, bill: &Bill, line: &Line) -> Row {
    let price = line.price.as_ref();
    let follows = price.is_some_and(|price| price.basis != Basis::Paid)
        && line.paid.is_zero()
        && line.status != Status::Cancelled;
    // What was paid, or never will be, is no multiple of a price that somebody once named.
    let one = match price.filter(|_| follows) {
        Some(price) => {
            // Screws cost fractions of a coin.
            Cell::Money(Money::new(price.range.likely.normalize(), bill.currency))
        }
        None => Cell::Empty,
    };
    let total = money(bill, line.total.likely);
    let total = match follows {
        true => {
            let product = Formula::Times(vec![Formula::Here("buy"), Formula::Here("unit_price")]);
            worked(total, rounded(bill, product))
        }
        false => total,
    };
    // What was paid for and lies in hand is in no consignment any more: under a supplier's name
    // the workbook would count it among the goods of one.
    let is_sent = !line.buy.is_zero() || line.paid.is_zero();
    let supplier = price.and_then(|price| price.supplier.as_ref());
    let supplier = supplier.filter(|_| is_sent);
    let supplier = supplier.map(|id| supplier_name(paper, id.as_str()));
    let basis = price.map(|price| {
        let used = if price.used { ", second-hand" } else { "" };
        format!("{}{used}", price.basis.title())
    });
    let paid = match line.paid.is_zero() {
        true => Cell::Empty,
        false => money(bill, line.paid),
    };
    let cells = vec![
        Cell::text(line.title),
        Cell::text(line.step.title()),
        Cell::text(supplier.unwrap_or_default()),
        Cell::Exact(line.quantity.normalize()),
        Cell::Exact(line.buy.normalize()),
        Cell::Unit(line.unit, line.buy),
        one,
        total,
        paid,
        Cell::text(basis.unwrap_or_default()),
        Cell::text(
            price
                .map(|price| price.date.to_string())
                .unwrap_or_default(),
        ),
        Cell::text(line.status.title()),
        Cell::text(&line.why),
    ];
    Row::entry(line.part.as_str(), cells)
}

/// How lists call a supplier.
fn supplier_name(paper: &Paper, id: &str) -> String {
    let supplier = paper.catalogue.suppliers.get(id);
    supplier.map_or_else(|| id.to_owned(), |supplier| supplier.title.to_string())
}

/// What is still to be ordered, supplier by supplier: a list to send or to take along.
fn orders(paper: &Paper, bill: &Bill) -> Table {
    let mut rows = Vec::new();
    let columns = vec![
        Column::new("part", "Part", Shape::Text),
        Column::new("id", "Id", Shape::Text).wide_only(),
        Column::new("buy", "Buy", Shape::Number),
        Column::new("unit", "Unit", Shape::Text),
        Column::new("total", "About", Shape::Money),
        Column::new("offer", "Offer", Shape::ByHand),
    ];
    for one in &bill.consignments {
        let own = one.lines.iter().map(|&place| &bill.lines[place]);
        let open: Vec<&Line> = own.filter(|line| !line.status.is_committed()).collect();
        let Some(first) = open.first() else { continue };
        let supplier = paper.catalogue.suppliers.get(&one.supplier);
        let days = supplier.map(|supplier| supplier.lead_days);
        let days = days.map(|[least, most]| format!(", {least} to {most} days"));
        let about = format!("{}{}", one.title, days.unwrap_or_default());
        rows.push(Row::heading(about, columns.len()));
        let id = |line: &Line| format!("{}/{}", one.supplier, line.part);
        for line in &open {
            rows.push(Row::entry(
                id(line),
                vec![
                    Cell::text(line.title),
                    Cell::text(line.part.as_str()),
                    Cell::Exact(line.buy.normalize()),
                    Cell::Unit(line.unit, line.buy),
                    money(bill, line.total.likely),
                    Cell::ByHand,
                ],
            ));
        }
        let sum: Decimal = open.iter().map(|line| line.total.likely).sum();
        rows.push(Row::sum_in(
            format!("{}/sum", id(first)),
            &columns,
            [("part", Cell::text("Sum")), ("total", money(bill, sum))],
        ));
    }
    Table {
        id: "orders",
        title: "To order, by supplier".to_owned(),
        columns,
        rows,
    }
}

/// What to order when.
fn order(bill: &Bill) -> Table {
    let rows = bill
        .ordering
        .stages
        .iter()
        .enumerate()
        .map(|(place, stage)| {
            let waits = match stage.waits_for.is_empty() {
                true => String::new(),
                false => format!(" Waits for: {}.", stage.waits_for.join("; ").to_lowercase()),
            };
            let open = stage.is_open();
            let day = |day: jiff::civil::Date| match open {
                true => Cell::text(day.to_string()),
                false => Cell::Empty,
            };
            Row::entry(
                stage.id.as_str(),
                vec![
                    Cell::place(place),
                    Cell::text(stage.title),
                    Cell::text(stage.state.title()),
                    day(stage.order_on),
                    day(stage.here_by),
                    money(bill, stage.open + stage.on_top),
                    Cell::text(format!("{}{waits}", stage.why)),
                ],
            )
        });
    Table {
        id: "order",
        title: "What to order when".to_owned(),
        columns: vec![
            Column::new("number", "No.", Shape::Number),
            Column::new("stage", "Stage", Shape::Text),
            Column::new("state", "State", Shape::Text),
            Column::new("order_on", "Order on", Shape::Text),
            Column::new("here_by", "Here by", Shape::Text),
            Column::new("open", "To pay", Shape::Money),
            Column::new("why", "Why then", Shape::Text).aside(),
        ],
        rows: rows.collect(),
    }
}

/// What was spent, what is still to be, and in which month.
fn spending(bill: &Bill) -> Table {
    let row = |id: &str, title: &str, amount: Decimal| {
        Row::entry(id, vec![Cell::text(title), money(bill, amount)])
    };
    let at = |row: &str| Formula::At(SPENDING, row.to_owned(), "amount");
    let lost = bill.lost();
    let mut rows = vec![row("spent", "Spent so far", bill.spent)];
    let less_spent = Formula::Times(vec![Formula::Number(Decimal::NEGATIVE_ONE), at("spent")]);
    let likely = Formula::At(TOTALS, "likely".to_owned(), "amount");
    let mut left = vec![likely, less_spent];
    if !lost.is_zero() {
        rows.push(row("unchosen", "of that for what is not used", lost));
        // It is spent, but no part of the total.
        left.push(at("unchosen"));
    }
    let to_spend = worked(money(bill, bill.to_spend), Formula::Plus(left));
    rows.push(Row::entry(
        "to-spend",
        vec![Cell::text("Still to spend"), to_spend],
    ));
    for month in &bill.ordering.months {
        rows.push(row(
            &month.name,
            &format!("of that in {}", month.name),
            month.amount,
        ));
    }
    rows.push(Row::sum(
        "forecast",
        vec![
            Cell::text("In the end"),
            worked(
                money(bill, bill.forecast),
                Formula::Plus(vec![at("spent"), at("to-spend")]),
            ),
        ],
    ));
    Table {
        id: SPENDING,
        title: "Spent and to spend".to_owned(),
        columns: vec![
            Column::new("what", "What", Shape::Text),
            Column::new("amount", "Amount", Shape::Money),
        ],
        rows,
    }
}
