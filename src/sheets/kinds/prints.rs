//! The sheet of prints: which printed part, how often, what it takes in plastic and hours, and
//! what it costs by who prints it.

use crate::bill::count::printed_mass;
use crate::build::choices::working_area::PrintsFrom;
use crate::catalogue::frame::Heat;
use crate::machine::geometry::PrintPiece;
use crate::machine::printing::{FOR_FAILED, GRAMS_AN_HOUR, PRINTER_W, PrintTime};
use crate::sheets::{Cell, Column, Content, Formula, Paper, Row, Shape, Table};
use crate::units::{self, Mass, show};
use crate::words::Words as _;
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive as _;

mod who;

const PRINTS: &str = "prints";

const COLUMNS: [Column; 9] = [
    Column::new("mark", "Mark", Shape::Text),
    Column::new("part", "Part", Shape::Text),
    Column::new("pieces", "Pieces", Shape::Number),
    Column::new("grams_each", "g each", Shape::Number),
    Column::new("grams", "g", Shape::Number),
    Column::new("hours_least", "h from", Shape::Number),
    Column::new("hours_most", "h to", Shape::Number),
    Column::new("kwh_most", "kWh to", Shape::Number),
    Column::new("heat", "Beside", Shape::Text),
];

/// What it says.
pub(in crate::sheets) fn content(paper: &Paper) -> Content {
    let picked = paper.picked;
    let machines = picked.build.area.machines;
    let filament = picked.filament;
    let pieces = paper.assessment.machine.geometry.prints.iter();
    let pieces: Vec<&PrintPiece> = pieces.filter(|print| print.pieces > 0).collect();
    let Some(table) = table(&pieces, filament.density, machines) else {
        return Content {
            about: "This frame plan has no printed parts.".to_owned(),
            ..Content::default()
        };
    };
    let many = match machines {
        1 => String::new(),
        many => format!(" for {many} machines"),
    };
    let mut remarks = remarks(paper, &pieces, machines);
    remarks.push(who::REMARK.to_owned());
    Content {
        about: format!(
            "What to print{many}, in {}. Grams come from the volumes of the frame plan, walls and infill counted.",
            filament.title
        ),
        tables: vec![table, who::table(paper)],
        remarks,
    }
}

fn grams_of(mass: Mass) -> f64 {
    units::kg::from(mass) * 1000.0
}

/// The formula for what follows from the grams of the same row by a factor.
fn by_grams(factor: f64) -> Formula {
    let factor = Formula::Number(Decimal::from_f64(factor).unwrap_or_default());
    Formula::Times(vec![Formula::Here("grams"), factor])
}

fn per_hour(rate: f64) -> Formula {
    let rate = Formula::Number(Decimal::from_f64(rate).unwrap_or_default());
    Formula::Over(Box::new(Formula::Here("grams")), Box::new(rate))
}

fn worked(value: f64, digits: usize, formula: Formula) -> Cell {
    Cell::Worked(Box::new(Cell::Number(value, digits)), formula)
}

/// Hours and energy of a mass of plastic: three numbers.
fn busy(grams: f64) -> [f64; 3] {
    let time = PrintTime::of(kilograms(grams));
    [
        units::hour::from(time.least),
        units::hour::from(time.most),
        units::kwh::from(time.energy),
    ]
}

fn kilograms(grams: f64) -> Mass {
    units::kg::of(grams / 1000.0)
}

/// The table; none where nothing is printed.
fn table(pieces: &[&PrintPiece], density: units::MassDensity, machines: u32) -> Option<Table> {
    if pieces.is_empty() {
        return None;
    }
    let (slow, fast) = GRAMS_AN_HOUR;
    let mut all = 0.0;
    let mut count = 0;
    let mut rows = Vec::new();
    for print in pieces {
        let number = print.pieces * machines;
        let each = grams_of(print.mass(density));
        let grams = each * f64::from(print.pieces) * f64::from(machines);
        let [least, most, energy] = busy(grams);
        all += grams;
        count += number;
        let product = Formula::Times(vec![Formula::Here("pieces"), Formula::Here("grams_each")]);
        rows.push(Row::entry(
            print.mark,
            vec![
                Cell::text(print.mark),
                Cell::text(print.title),
                Cell::count(number),
                Cell::Number(each, 0),
                worked(grams, 0, product),
                worked(least, 1, per_hour(fast)),
                worked(most, 1, per_hour(slow)),
                worked(energy, 1, by_grams(PRINTER_W / slow / 1000.0)),
                heat(print),
            ],
        ));
    }
    let [least, most, energy] = busy(all);
    let sum = |value, digits, column| worked(value, digits, Formula::Total(PRINTS, column));
    let pieces = Formula::Total(PRINTS, "pieces");
    rows.push(Row::sum(
        "all",
        vec![
            Cell::text("All"),
            Cell::Empty,
            Cell::Worked(Box::new(Cell::count(count)), pieces),
            Cell::Empty,
            sum(all, 0, "grams"),
            sum(least, 1, "hours_least"),
            sum(most, 1, "hours_most"),
            sum(energy, 1, "kwh_most"),
            Cell::Empty,
        ],
    ));
    Some(Table {
        id: PRINTS,
        title: "Prints".to_owned(),
        columns: COLUMNS.into(),
        rows,
    })
}

fn heat(print: &PrintPiece) -> Cell {
    match print.heated_by {
        Heat::Nothing => Cell::Empty,
        warm => Cell::text(warm.title()),
    }
}

fn remarks(paper: &Paper, pieces: &[&PrintPiece], machines: u32) -> Vec<String> {
    let picked = paper.picked;
    let filament = picked.filament;
    let (slow, fast) = GRAMS_AN_HOUR;
    let each = printed_mass(picked, &paper.assessment.machine);
    let grams = grams_of(each) * f64::from(machines);
    let ordered = match picked.build.area.prints_from {
        PrintsFrom::Service => format!(
            "The service is paid by mass, {} g here, and prints again what fails. Send it this list with the models.",
            show::number(grams, 0)
        ),
        PrintsFrom::OwnPrinter | PrintsFrom::PrinterToBuy => format!(
            "The parts list asks for a fifth more, {} g, for prints that fail (common practice), and rounds up to what is sold.",
            show::number(grams * FOR_FAILED, 0)
        ),
    };
    let mut remarks = vec![
        ordered,
        format!(
            "Hours are for one printer at {fast} to {slow} g an hour, energy for {PRINTER_W} W on average at the slow end (common practice, from memory): yours may differ by more. Never leave a printer alone in the house."
        ),
    ];
    if let Some(note) = &filament.note {
        remarks.push(format!("{}: {note}", filament.polymer));
    }
    if pieces.iter().any(|print| print.heated_by != Heat::Nothing) {
        remarks.push(format!(
            "What sits beside a motor or the spindle gets warm. {} may hold {} °C for years under load; the machine's warnings say where that is too little.",
            filament.polymer,
            show::number(units::celsius::from(filament.sustained), 0)
        ));
    }
    remarks.push(
        "Lay each part so that its load presses the layers together; screws through a print want a washer or an insert, since plastic creeps away from a bare head (common practice)."
            .to_owned(),
    );
    remarks
}
