//! The figures that are compared: cost, speed, stiffness, cuts, power, size, warnings.

use rust_decimal::Decimal;

use super::{Cell, Contender, Group, Row};
use crate::assessment::Assessment;
use crate::build::choices::control::OnCircuit;
use crate::build::{Axis, PerAxis};
use crate::catalogue::{Id, Part as _};
use crate::explain::Worth;
use crate::machine::axis::AxisFigures;
use crate::money::{Money, show as amounts};
use crate::order::Order as _;
use crate::rules::{Severity, topics};
use crate::units::{self, Amount, Stiffness, show};
use crate::words::Words as _;

/// Every group of figures, in the order in which people ask for them.
pub(super) fn groups(contenders: &[Contender]) -> Vec<Group> {
    let all = Table { contenders };
    let group = |id, title, rows| Group { id, title, rows };
    vec![
        group("cost", "Cost", all.cost()),
        group("rapids", "Rapids, m/min, and what holds them", all.rapids()),
        group("motion", "Thrust, start and step", all.motion()),
        group("stiffness", "Stiffness, N/µm", all.stiffness()),
        group("cutting", "Cutting, cm³/min at best", all.cutting()),
        group("power", "Power", all.power()),
        group("machine", "Machine", all.machine()),
        group("warnings", "Warnings", all.warnings()),
    ]
}

struct Table<'a> {
    contenders: &'a [Contender<'a>],
}

impl Table<'_> {
    /// A row with what each assessment says.
    fn row(&self, key: &str, title: &str, cell: impl Fn(&Assessment) -> Cell) -> Row {
        let each = self.contenders.iter().map(|one| cell(one.assessment));
        Row {
            key: key.to_owned(),
            title: title.to_owned(),
            cells: each.collect(),
            told: false,
        }
    }

    fn cost(&self) -> Vec<Row> {
        type Of = fn(&Assessment) -> Decimal;
        let rows: [(&str, &str, Of); 6] = [
            ("cost.likely", "likely", |one| one.bill.total.likely),
            ("cost.low", "at least", |one| one.bill.total.low),
            ("cost.high", "at most", |one| one.bill.total.high),
            ("cost.first_cut", "till first cut", |one| one.bill.first_cut),
            ("cost.spent", "spent", |one| one.bill.spent),
            ("cost.running_a_year.total", "running a year", |one| {
                one.bill.yearly.total
            }),
        ];
        let rows = rows.iter().map(|(key, title, of)| {
            self.row(key, title, |one| {
                let money = Money::new(of(one), one.bill.currency);
                let shown = amounts::money(money.amount, money.currency);
                Cell::Figure(Worth::Money(money), shown)
            })
        });
        rows.collect()
    }

    fn rapids(&self) -> Vec<Row> {
        let each = Axis::EACH.into_iter().flat_map(|axis| {
            let (id, title) = (axis.id(), axis.title());
            let key = format!("axes.{id}.rapid_m_per_min");
            let speed = self.row(&key, title, |one| {
                let axis = &one.machine.axes[axis];
                let rapid = units::m_per_min::amount(axis.rapid);
                let shown = show::number(rapid.number, 1);
                let shown = format!("{shown}, {}", axis.limited_by.title());
                Cell::Figure(Worth::Amount(rapid), shown)
            });
            let key = format!("axes.{id}.limited_by");
            let mut held = self.row(&key, &format!("{title} held by"), |one| {
                let limit = one.machine.axes[axis].limited_by;
                word(limit.id(), limit.title())
            });
            held.told = true;
            [speed, held]
        });
        each.collect()
    }

    /// How hard each axis pushes, how fast it speeds up, and how fine it steps.
    fn motion(&self) -> Vec<Row> {
        type Of = fn(&AxisFigures) -> Amount;
        let rows: [(&str, &str, Of, usize); 3] = [
            (
                "thrust_n",
                "thrust, N",
                |one| units::n::amount(one.thrust),
                0,
            ),
            (
                "acceleration_m_per_s2",
                "speeds up by, m/s²",
                |one| units::m_per_s2::amount(one.acceleration),
                1,
            ),
            (
                "step_um",
                "one step, µm",
                |one| units::um::amount(one.step),
                1,
            ),
        ];
        let each = rows.iter().flat_map(|(key, title, of, digits)| {
            Axis::EACH.map(|axis| {
                let key = format!("axes.{}.{key}", axis.id());
                self.row(&key, &format!("{} {title}", axis.title()), |one| {
                    figure(of(&one.machine.axes[axis]), *digits)
                })
            })
        });
        each.collect()
    }

    fn stiffness(&self) -> Vec<Row> {
        type Of = fn(&Assessment) -> &PerAxis<Stiffness>;
        let rows: [(&str, &str, Of); 2] = [
            ("collet_n_per_um", "at the collet", |one| {
                &one.machine.stiffness.collet
            }),
            ("tip_worst_n_per_um", "at the tip, worst", |one| {
                &one.machine.stiffness.tip_worst
            }),
        ];
        let each = rows.iter().flat_map(|(key, title, of)| {
            Axis::EACH.map(|axis| {
                let key = format!("stiffness.{key}.{}", axis.id());
                self.row(&key, &format!("{} {title}", axis.title()), |one| {
                    figure(units::n_per_um::amount(of(one)[axis]), 1)
                })
            })
        });
        let mut rows: Vec<Row> = each.collect();
        rows.push(self.row("stiffness.first_mode_hz", "rings at, Hz", |one| {
            figure(units::hz::amount(one.machine.stiffness.first_mode), 0)
        }));
        rows
    }

    /// What is wished in any of the builds, and how well it goes in each.
    fn cutting(&self) -> Vec<Row> {
        let mut wished: Vec<&Id> = Vec::new();
        for id in self
            .contenders
            .iter()
            .flat_map(|one| &one.build.area.materials)
        {
            if !wished.contains(&id) {
                wished.push(id);
            }
        }
        let mut rows = Vec::new();
        for id in wished {
            let known = self.contenders.iter();
            let mut known = known.filter_map(|one| one.catalogue.materials.get(id));
            let title = known.next().map_or(id.as_str(), |one| one.short());
            let key = format!("cutting.{id}");
            let best = |one: &Assessment| one.machine.cutting.best(id).cloned();
            let verdict = |one: &Assessment| match best(one) {
                Some(_) => {
                    let verdict = one.machine.cutting.verdict(id);
                    word(verdict.id(), verdict.title())
                }
                None => Cell::Missing,
            };
            rows.push(self.row(&format!("{key}.verdict"), title, verdict));
            let removal = |one: &Assessment| match best(one) {
                Some(cut) => figure(units::cm3_per_min::amount(cut.removal), 1),
                None => Cell::Missing,
            };
            let title = format!("{title}: cm³/min");
            rows.push(self.row(&format!("{key}.removal_cm3_per_min"), &title, removal));
        }
        rows.push(self.row(
            "job.total_min",
            "the job, min",
            |one| match one.machine.job.as_ref() {
                Some(job) => figure(units::minute::amount(job.total), 0),
                None => Cell::Missing,
            },
        ));
        rows
    }

    fn power(&self) -> Vec<Row> {
        let mut circuits: Vec<OnCircuit> = Vec::new();
        for one in self.contenders {
            for circuit in &one.assessment.machine.electrics.circuits {
                if !circuits.contains(&circuit.which) {
                    circuits.push(circuit.which);
                }
            }
        }
        circuits.order();
        let mut rows = Vec::new();
        for which in circuits {
            let find = |one: &Assessment| {
                let mut all = one.machine.electrics.circuits.iter();
                all.find(|circuit| circuit.which == which).cloned()
            };
            let (id, title) = (which.id(), which.title());
            let most = |one: &Assessment| match find(one) {
                Some(circuit) => figure(units::a::amount(circuit.full()), 1),
                None => Cell::Missing,
            };
            let key = format!("power.circuits.{id}.current_a");
            rows.push(self.row(&key, &format!("{title}, A"), most));
            let allowed = |one: &Assessment| match find(one) {
                Some(circuit) => figure(units::a::amount(circuit.allowed), 1),
                None => Cell::Missing,
            };
            let key = format!("power.circuits.{id}.allowed_a");
            rows.push(self.row(&key, &format!("{title} may, A"), allowed));
        }
        rows.push(self.row(
            "power.supplies.motors.needed_a",
            "motors' supply, A",
            |one| figure(units::a::amount(one.machine.electrics.supply.needed), 1),
        ));
        rows.push(
            self.row("power.supplies.motors.rated_a", "supply rated, A", |one| {
                figure(units::a::amount(one.machine.electrics.supply.rated), 1)
            }),
        );
        rows.push(self.row("power.spindle_input_w", "spindle, W", |one| {
            figure(units::w::amount(one.machine.electrics.spindle_input), 0)
        }));
        rows
    }

    fn machine(&self) -> Vec<Row> {
        let floor = |one: &Assessment| one.machine.geometry.footprint;
        vec![
            self.row("machine.mass_kg", "mass, kg", |one| {
                figure(units::kg::amount(one.machine.masses.total), 0)
            }),
            self.row("machine.footprint_mm.0", "length in X, mm", |one| {
                figure(units::mm::amount(floor(one).x), 0)
            }),
            self.row("machine.footprint_mm.1", "length in Y, mm", |one| {
                figure(units::mm::amount(floor(one).y), 0)
            }),
            self.row("machine.footprint_mm.2", "height, mm", |one| {
                figure(units::mm::amount(floor(one).z), 0)
            }),
        ]
    }

    /// How many entries there are of each severity that nobody accepted, counted as everywhere: one
    /// rule on several axes is one, and what follows from another is none.
    fn warnings(&self) -> Vec<Row> {
        let each = Severity::ALL.iter().map(|&severity| {
            let title = format!("{}s", severity.title());
            self.row(&format!("warnings.{}", severity.id()), &title, |one| {
                let heads = topics::heads(&one.findings);
                let alike = heads.iter();
                let alike = alike.filter(|head| head.severity == severity && head.counts());
                let count = u32::try_from(alike.count()).unwrap_or(u32::MAX);
                Cell::Figure(Worth::count(count), count.to_string())
            })
        });
        each.collect()
    }
}

fn figure(amount: Amount, digits: usize) -> Cell {
    let shown = show::number(amount.number, digits);
    Cell::Figure(Worth::Amount(amount), shown)
}

fn word(id: &str, title: &str) -> Cell {
    Cell::Word(id.to_owned(), title.to_owned())
}
