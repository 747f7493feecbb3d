//! The first page of the dossier: what the machine costs, does and wants, and what is wrong
//! with it.

use super::parts::{SPENDING, TOTALS};
use crate::bill::count::decimal;
use crate::build::{Axis, PerAxis};
use crate::money::Money;
use crate::rules::{self, Finding, Severity, tally};
use crate::sheets::{Cell, Column, Content, Formula, Paper, Row, Shape, Table};
use crate::units::{self, Length, Stiffness, show};
use crate::words::Words as _;

mod weighed;

const ABOUT: &str = "What the machine costs, does and wants. Figures come from simplified models \
                     and say what to expect, not what is safe.";

/// What it says.
pub(in crate::sheets) fn content(paper: &Paper) -> Content {
    let mut tables = vec![
        money(paper),
        size(paper),
        axes(paper),
        stiffness(paper),
        cutting(paper),
        circuits(paper),
    ];
    let mut remarks = remarks(paper);
    if let Some(weighed) = weighed::content(paper) {
        tables.push(weighed);
        remarks.push(weighed::REMARK.to_owned());
    }
    tables.extend(warnings(paper));
    Content {
        about: ABOUT.to_owned(),
        tables,
        remarks,
    }
}

fn table(id: &'static str, title: &str, columns: &[Column], rows: Vec<Row>) -> Table {
    Table {
        id,
        title: title.to_owned(),
        columns: columns.to_vec(),
        rows,
    }
}

fn money(paper: &Paper) -> Table {
    let bill = &paper.assessment.bill;
    let money = |amount| Cell::Money(Money::new(amount, bill.currency));
    let row =
        |id: &str, title: &str, amount| Row::entry(id, vec![Cell::text(title), money(amount)]);
    // In a workbook this page follows the parts list behind it.
    let same = |id: &str, title: &str, amount, table| {
        let formula = Formula::At(table, id.to_owned(), "amount");
        let money = Cell::Worked(Box::new(money(amount)), formula);
        Row::entry(id, vec![Cell::text(title), money])
    };
    let mut rows = vec![same("likely", "Likely cost", bill.total.likely, TOTALS)];
    let range = bill.range_rows().into_iter();
    rows.extend(range.map(|(id, title, amount)| row(id, title, amount)));
    if !bill.spent.is_zero() {
        rows.push(same("spent", "Spent", bill.spent, SPENDING));
        rows.push(same("to-spend", "Still to spend", bill.to_spend, SPENDING));
        rows.push(same(
            "forecast",
            "What it comes to in the end",
            bill.forecast,
            SPENDING,
        ));
    }
    let budget = paper.build.area.budget;
    if let Some(budget) = budget.and_then(|one| paper.catalogue.converted(one, bill.currency)) {
        let budget = Money::new(budget, bill.currency).rounded();
        rows.push(row("budget", "What may be spent", budget.amount));
    }
    let title = format!("What it costs, in {}", bill.currency);
    let columns = [
        Column::new("sum", "Sum", Shape::Text),
        Column::new("amount", "Amount", Shape::Money),
    ];
    table("cost-in-short", &title, &columns, rows)
}

fn millimetres(length: Length) -> String {
    show::number(units::mm::from(length), 0)
}

fn size(paper: &Paper) -> Table {
    let machine = &paper.assessment.machine;
    let (travel, floor) = (&paper.build.area.travel, &machine.geometry.footprint);
    let three = |of: &PerAxis<Length>| {
        let each = [of.x, of.y, of.z].map(millimetres);
        format!("{} mm", each.join(" x "))
    };
    let row = |id: &str, title: &str, text: String| {
        Row::entry(id, vec![Cell::text(title), Cell::text(text)])
    };
    let kg = show::number(units::kg::from(machine.masses.total), 0);
    let hz = show::number(units::hz::from(machine.stiffness.first_mode), 0);
    let rows = vec![
        row("frame", "Frame", paper.picked.frame.title.to_string()),
        row("area", "Working area, X x Y x Z", three(travel)),
        row("floor", "Outer size, X x Y x Z", three(floor)),
        row("mass", "Mass of all of it", format!("{kg} kg")),
        row("mode", "First bending mode", format!("near {hz} Hz")),
        row("site", "Socket", paper.picked.site.title.to_string()),
        row("tally", "Warnings", tally(&paper.assessment.findings)),
    ];
    let columns = [
        Column::new("what", "What", Shape::Text),
        Column::new("value", "It is", Shape::Text),
    ];
    table("machine-in-short", "The machine", &columns, rows)
}

fn axes(paper: &Paper) -> Table {
    let rows = paper.assessment.machine.axes.iter().map(|(axis, figures)| {
        let cells = vec![
            Cell::text(axis.title()),
            Cell::Number(units::mm::from(figures.travel), 0),
            Cell::Number(units::m_per_min::from(figures.rapid), 1),
            Cell::text(figures.limited_by.title()),
            Cell::Number(units::um::from(figures.step), 1),
            Cell::Number(units::n::from(figures.thrust), 0),
            Cell::text(if figures.drops { "sinks" } else { "stays" }),
        ];
        Row::entry(axis.id(), cells)
    });
    let columns = [
        Column::new("axis", "Axis", Shape::Text),
        Column::new("travel_mm", "Travel mm", Shape::Number),
        Column::new("rapid_m_per_min", "Rapids m/min", Shape::Number),
        Column::new("limited_by", "Held by", Shape::Text),
        Column::new("step_um", "Step µm", Shape::Number),
        Column::new("thrust_n", "Thrust N", Shape::Number),
        Column::new("power_off", "Power off", Shape::Text),
    ];
    table("axes-in-short", "How it moves", &columns, rows.collect())
}

fn stiffness(paper: &Paper) -> Table {
    let figures = &paper.assessment.machine.stiffness;
    let cell =
        |of: &PerAxis<Stiffness>, axis: Axis| Cell::Number(units::n_per_um::from(of[axis]), 1);
    let row = |axis: Axis| {
        let softest = figures.springs[axis].first();
        let softest = softest.map_or(Cell::Empty, |spring| Cell::text(spring.name.title()));
        let cells = vec![
            Cell::text(axis.title()),
            cell(&figures.collet, axis),
            cell(&figures.tip, axis),
            cell(&figures.tip_worst_thin_wall, axis),
            softest,
        ];
        Row::entry(axis.id(), cells)
    };
    let columns = [
        Column::new("direction", "Push", Shape::Text),
        Column::new("collet_n_per_um", "Collet N/µm", Shape::Number),
        Column::new("tip_n_per_um", "Tip N/µm", Shape::Number),
        Column::new("worst_n_per_um", "Worst N/µm", Shape::Number),
        Column::new("softest", "Gives most", Shape::Text),
    ];
    let rows = Axis::EACH.map(row).to_vec();
    table("stiffness-in-short", "How stiff it is", &columns, rows)
}

/// What it does in the materials that were wished.
fn cutting(paper: &Paper) -> Table {
    let cutting = &paper.assessment.machine.cutting;
    let rows = paper.picked.materials.iter().map(|material| {
        let verdict = cutting.verdict(&material.id);
        let mut cells = vec![
            Cell::text(material.title.as_str()),
            Cell::text(verdict.title()),
        ];
        match cutting.best(&material.id) {
            Some(cut) => cells.extend([
                // A quarter of an inch is no whole tenth of a millimetre.
                Cell::Exact(decimal(units::mm::from(cut.diameter)).normalize()),
                Cell::Number(units::cm3_per_min::from(cut.removal), 1),
                Cell::Number(units::m_per_min::from(cut.feed), 2),
                Cell::Number(units::mm::from(cut.depth), 2),
                Cell::Number(units::mm::from(cut.width), 1),
                Cell::text(cut.limited_by.title()),
            ]),
            None => cells.extend(std::iter::repeat_n(Cell::Empty, 6)),
        }
        Row::entry(material.id.as_str(), cells)
    });
    let columns = [
        Column::new("material", "Material", Shape::Text),
        Column::new("verdict", "Cuts it", Shape::Text),
        Column::new("tool_mm", "Tool mm", Shape::Number).kept(),
        Column::new("removal_cm3_per_min", "cm³/min", Shape::Number),
        Column::new("feed_m_per_min", "Feed m/min", Shape::Number),
        Column::new("depth_mm", "Deep mm", Shape::Number),
        Column::new("width_mm", "Wide mm", Shape::Number).wide_only(),
        Column::new("limited_by", "Held by", Shape::Text),
    ];
    table("cutting-in-short", "What it cuts", &columns, rows.collect())
}

fn circuits(paper: &Paper) -> Table {
    let rows = paper.assessment.machine.electrics.circuits.iter();
    let rows = rows.map(|circuit| {
        let cells = vec![
            Cell::text(circuit.which.title()),
            Cell::Number(units::v::from(circuit.volts), 0),
            Cell::Number(units::a::from(circuit.full()), 1),
            Cell::Number(units::a::from(circuit.typical()), 1),
            Cell::Number(units::a::from(circuit.allowed), 1),
            Cell::Number(units::a::from(circuit.breaker), 0),
        ];
        Row::entry(circuit.which.id(), cells)
    });
    let columns = [
        Column::new("circuit", "Circuit", Shape::Text),
        Column::new("volts", "Volts", Shape::Number),
        Column::new("most_a", "At most A", Shape::Number),
        Column::new("typical_a", "Usual A", Shape::Number),
        Column::new("allowed_a", "Allowed A", Shape::Number),
        Column::new("breaker_a", "Breaker A", Shape::Number),
    ];
    table(
        "power-in-short",
        "What the mains must give",
        &columns,
        rows.collect(),
    )
}

/// What is wrong with it, worst first; none where all is well. Hints are left to the program.
fn warnings(paper: &Paper) -> Option<Table> {
    let told = |finding: &&Finding| finding.severity != Severity::Hint;
    let rows: Vec<Row> = (rules::topics::heads(&paper.assessment.findings).into_iter())
        .filter(told)
        .map(warning)
        .collect();
    let columns = [
        Column::new("severity", "How bad", Shape::Text),
        Column::new("warning", "What is wrong", Shape::Text),
        Column::new("instead", "What to do", Shape::Text),
    ];
    let title = "What is wrong with it, worst first";
    (!rows.is_empty()).then(|| table("warnings", title, &columns, rows))
}

fn warning(finding: &Finding) -> Row {
    let instead = finding.rule.told().instead;
    let severity = match &finding.accepted {
        Some(_) => format!("{}, accepted", finding.severity.title()),
        None => finding.severity.title().to_owned(),
    };
    let cells = vec![
        Cell::text(severity),
        Cell::text(&finding.message),
        Cell::text(instead),
    ];
    Row::entry(finding.rule.as_str(), cells)
}

fn remarks(paper: &Paper) -> Vec<String> {
    let bill = &paper.assessment.bill;
    let mut remarks = Vec::new();
    remarks.extend(bill.never_order().map(|never| format!("{never}.")));
    remarks.push(
        "Worst is the stiffness at the tip of the usual tool, at the worst place of the travel, with the thinnest walls that the tubes' standard allows."
            .to_owned(),
    );
    remarks
}
