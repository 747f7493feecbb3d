//! An assessment as a page of text.

use rust_decimal::Decimal;
use unicode_width::UnicodeWidthStr as _;
use uom::si::ratio::percent;

use crate::assessment::Assessment;
use crate::bill::Bill;
use crate::build::choices::tidy;
use crate::build::{Build, Edit};
use crate::catalogue::Catalogue;
use crate::catalogue::prices::Basis;
use crate::commands::color::Paint;
use crate::commands::layout::{grouped, hanging, painted, table};
use crate::machine::Machine;
use crate::rules::{self, Finding};
use crate::units::{self, show};
use crate::words::Words as _;

mod able;
mod measured;

/// The columns that labels of findings take.
const INDENT: usize = 10;

const CAUTION: &str = "Work on the mains follows local codes and is for a licensed electrician. \
    Figures come from simplified models and say what to expect, not what is safe.";

/// The whole page.
pub(super) fn text(
    catalogue: &Catalogue,
    build: &Build,
    assessment: &Assessment,
    remedies: &[Vec<Edit>],
    paint: Paint,
) -> String {
    let mut page = hanging("", 0, &build.title);
    page.push_str(&hanging("", 0, &build.note));
    let parts = [
        ("Cost", cost(&assessment.bill)),
        ("Axes", axes(&assessment.machine)),
        ("Stiffness", able::stiffness(&assessment.machine)),
        (
            "Cutting",
            able::cutting(catalogue, build, &assessment.machine),
        ),
        ("Life", able::life(&assessment.machine)),
        ("Job", able::job(catalogue, &assessment.machine)),
        ("Power", power(&assessment.machine)),
        ("Machine", machine(&assessment.machine)),
        ("Measured", measured::measured(&assessment.machine)),
    ];
    for (heading, part) in parts.iter().filter(|(_, part)| !part.is_empty()) {
        page.push_str(&format!("\n{}\n{part}", paint.heading(heading)));
    }
    page.push_str(&format!("\n{}\n", paint.heading("Findings")));
    page.push_str(&findings(assessment, remedies, paint));
    page.push('\n');
    page.push_str(&hanging("", 0, CAUTION));
    page
}

fn row<const N: usize>(cells: [&str; N]) -> Vec<String> {
    cells.map(str::to_owned).to_vec()
}

fn cost(bill: &Bill) -> String {
    let money = |amount: Decimal| {
        let digits = bill.currency.decimals();
        grouped(&format!("{amount:.digits$}", digits = digits as usize))
    };
    let range = |sum: crate::money::PriceRange| [sum.low, sum.likely, sum.high].map(money);
    let currency = bill.currency.code();
    let mut rows = vec![row([&format!("  in {currency}"), "low", "likely", "high"])];
    for &(step, sum) in bill.by_step() {
        let [low, likely, high] = range(sum);
        rows.push(row([&format!("  {}", step.title()), &low, &likely, &high]));
    }
    let [low, likely, high] = range(bill.total);
    rows.push(row(["  Total", &low, &likely, &high]));
    table("<>>>", &rows) + &basis(bill)
}

/// What the prices rest on.
fn basis(bill: &Bill) -> String {
    let mut said = String::new();
    let invented = bill.percent_of(Basis::Invented);
    if !bill.share_of(Basis::Invented).is_zero() {
        let text = format!(
            "{invented} % of this rests on prices invented for the demonstration: never order by them."
        );
        said.push_str(&hanging("", 2, &text));
    }
    let missing = bill
        .lines
        .iter()
        .filter(|line| line.price.is_none())
        .count();
    if missing > 0 {
        let text = format!("{missing} lines have no price in any price book and count as nothing.");
        said.push_str(&hanging("", 2, &text));
    }
    if let Some(oldest) = bill
        .lines
        .iter()
        .filter_map(|line| line.price)
        .map(|p| p.date)
        .min()
    {
        said.push_str(&hanging(
            "",
            2,
            &format!("The oldest price is of {oldest}."),
        ));
    }
    said
}

fn axes(machine: &Machine) -> String {
    let mut rows = vec![
        row([
            "",
            "travel",
            "rapids",
            "held by",
            "speeds up",
            "one step",
            "thrust",
        ]),
        row(["", "mm", "m/min", "", "m/s²", "µm", "N"]),
    ];
    for (axis, figures) in machine.axes.iter() {
        rows.push(row([
            &format!("  {}", axis.title()),
            &show::typed(tidy(units::mm::from(figures.travel))),
            &format!("{:.1}", units::m_per_min::from(figures.rapid)),
            figures.limited_by.title(),
            &format!("{:.2}", units::m_per_s2::from(figures.acceleration)),
            &format!("{:.1}", units::um::from(figures.step)),
            &format!("{:.0}", units::n::from(figures.thrust)),
        ]));
    }
    let mut said = table("<>><>>>", &rows);
    for (axis, _) in machine.axes.iter().filter(|(_, figures)| figures.drops) {
        let text = format!("{} sinks when the power goes.", axis.title());
        said.push_str(&hanging("", 2, &text));
    }
    said
}

fn power(machine: &Machine) -> String {
    let electrics = &machine.electrics;
    let amperes = |current| format!("{:.1} A", units::a::from(current));
    let mut rows = vec![row(["", "usual", "at most", "allowed", "used"])];
    for circuit in &electrics.circuits {
        rows.push(row([
            &format!(
                "  {}, {:.0} V, {:.0} A breaker",
                circuit.which.title(),
                units::v::from(circuit.volts),
                units::a::from(circuit.breaker)
            ),
            &amperes(circuit.typical()),
            &amperes(circuit.full()),
            &amperes(circuit.allowed),
            &format!("{:.0} %", circuit.fill().get::<percent>()),
        ]));
    }
    let supply = electrics.supply;
    rows.push(row([
        &format!("  motor supply, {:.0} V", units::v::from(supply.volts)),
        "",
        &amperes(supply.needed),
        &amperes(supply.rated),
        &format!("{:.0} %", supply.fill().get::<percent>()),
    ]));
    table("<>>>>", &rows)
}

fn machine(machine: &Machine) -> String {
    let floor = machine.geometry.footprint;
    let cables = units::m::from(machine.geometry.cable_length());
    let size = [floor.x, floor.y, floor.z].map(|length| format!("{:.0}", units::mm::from(length)));
    let mut said = format!(
        "{} mm, {:.0} kg, {cables:.0} m of cables",
        size.join(" x "),
        units::kg::from(machine.masses.total)
    );
    if let Some(rise) = machine.electrics.rise {
        said.push_str(&format!(
            "; the cabinet gets {:.0} K warmer than the room",
            units::kelvin::from(rise)
        ));
    }
    hanging("", 2, &format!("{said}."))
}

fn findings(assessment: &Assessment, remedies: &[Vec<Edit>], paint: Paint) -> String {
    if assessment.findings.is_empty() {
        return hanging("", 2, "None: every rule is content.");
    }
    let mut said = hanging("", 2, &format!("{}.", rules::tally(&assessment.findings)));
    let none = Vec::new();
    for (place, finding) in assessment.findings.iter().enumerate() {
        let remedy = remedies.get(place).unwrap_or(&none);
        said.push('\n');
        said.push_str(&self::finding(finding, remedy, paint));
    }
    said
}

fn finding(finding: &Finding, remedy: &[Edit], paint: Paint) -> String {
    let word = paint.severity(finding.severity);
    let looks = finding.severity.title().width();
    let mut said = painted(&word, looks, INDENT, &finding.message);
    if let Some(rule) = rules::find(finding.rule) {
        said.push_str(&hanging("  do", INDENT, rule.instead));
    }
    let edits: Vec<String> = remedy.iter().map(as_argument).collect();
    said.push_str(&hanging("  remedy", INDENT, &edits.join(" ")));
    if let Some(note) = &finding.accepted {
        said.push_str(&hanging(
            "  accepted",
            INDENT + 2,
            if note.is_empty() {
                "without a note"
            } else {
                note
            },
        ));
    }
    said.push_str(&hanging("  rule", INDENT, finding.rule));
    said
}

/// An edit as it is typed in a shell.
fn as_argument(edit: &Edit) -> String {
    let pair = format!("{edit:?}");
    if pair.contains(char::is_whitespace) {
        format!("--set '{pair}'")
    } else {
        format!("--set {pair}")
    }
}

#[cfg(test)]
mod tests;
