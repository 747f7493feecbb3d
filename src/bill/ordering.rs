//! What to order when: stages in their order, what each waits for, and the money of each month.
//!
//! A stage is ordered once what it waits for is here, and, where so much a month is put aside,
//! once that covers it. Days to the door are the supplier's worst.

use jiff::civil::Date;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::{Bill, Line};
use crate::build::Picked;
use crate::catalogue::ordering::OrderStage;
use crate::catalogue::{Id, Text};
use crate::explain::{Derivation, Input, Origin, Recorder, Worth};
use crate::money::{Money, MoneyError};
use crate::order::Order as _;

crate::words! {
    /// How far a stage of buying has come.
    StageState {
        Done = "here", "all here", "All of it lies in the workshop.";
        OnItsWay = "on-its-way", "on its way", "All of it is ordered.";
        Ask = "ask-first", "ask first", "All else waits for the answer.";
        Now = "order-now", "order now", "Nothing stands in the way of ordering it.";
        NotYet = "not-yet", "not yet", "It waits for what it must be measured against.";
    }
}

/// One stage of buying, for this bill.
#[derive(Clone, Debug)]
pub struct Stage {
    /// Its name.
    pub id: Id,
    /// How people call it.
    pub title: Text,
    /// Why there, in plain words.
    pub why: Text,
    /// When the answer is had that others wait for; none where it is goods.
    pub answered_by: Option<Date>,
    /// Its lines, by place.
    pub lines: Vec<usize>,
    /// How far it has come.
    pub state: StageState,
    /// The titles of the stages it waits for.
    pub waits_for: Vec<Text>,
    /// What is still to be paid for its goods.
    pub open: Decimal,
    /// What is still to be paid for freight, duty and tax of the suppliers whose last parts it
    /// brings.
    pub on_top: Decimal,
    /// Days from the order to the door, at most.
    pub lead_days: u16,
    /// The day to order what is open.
    pub order_on: Date,
    /// The day by which all of it is here.
    pub here_by: Date,
}

/// The money of one month.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Month {
    /// As `2026-11`.
    pub name: String,
    /// What is to be paid in it.
    pub amount: Decimal,
}

/// When what is ordered.
#[derive(Clone, Debug, Default)]
pub struct Ordering {
    /// The stages, in their order.
    pub stages: Vec<Stage>,
    /// The months in which something is to be paid.
    pub months: Vec<Month>,
}

impl Ordering {
    /// Works it out for a bill as of a day.
    ///
    /// # Errors
    /// Past counting.
    pub(super) fn of(
        picked: &Picked,
        bill: &Bill,
        today: Date,
        notes: &mut impl Recorder,
    ) -> Result<Self, MoneyError> {
        let plan = &picked.catalogue.order_stages;
        let mut stages: Vec<Stage> = Vec::new();
        let place_of = |line: &Line| {
            let by_kind = plan
                .iter()
                .position(|stage| stage.kinds.contains(&line.kind));
            by_kind.or_else(|| {
                plan.iter()
                    .position(|stage| stage.steps.contains(&line.step))
            })
        };
        let mut lines: Vec<Vec<usize>> = vec![Vec::new(); plan.len()];
        let mut last = None;
        for (place, line) in bill.lines.iter().enumerate() {
            // Lines of one kind and step mostly follow each other.
            let sort = (line.kind, line.step);
            let single = plan
                .iter()
                .position(|stage| stage.parts.contains(&line.part));
            let stage = match (single, last) {
                (Some(single), _) => Some(single),
                (None, Some((known, stage))) if known == sort => stage,
                (None, _) => {
                    let stage = place_of(line);
                    last = Some((sort, stage));
                    stage
                }
            };
            if let Some(stage) = stage {
                lines[stage].push(place);
            }
        }
        let last = last_stages(bill, &lines);
        let monthly = monthly(picked, bill);
        let mut committed = Decimal::ZERO;
        for (place, (stage, own)) in plan.iter().zip(lines).enumerate() {
            let on_top = (bill.consignments.iter().zip(&last))
                .filter(|(_, last)| **last == Some(place))
                .map(|(one, _)| Ok(one.on_top()?.likely - one.paid));
            let on_top = on_top.sum::<Result<Decimal, MoneyError>>()?;
            let mut one = staged(picked, bill, stage, own, on_top, today, &stages);
            committed += one.open + one.on_top;
            if let Some(monthly) = monthly.filter(|_| one.is_open()) {
                one.wait_for_money(committed, monthly, today);
            }
            stages.push(one);
        }
        stages.retain(|stage| !stage.lines.is_empty());
        let months = months(&stages);
        let ordering = Self { stages, months };
        ordering.note(picked, bill, notes);
        Ok(ordering)
    }

    fn note(&self, picked: &Picked, bill: &Bill, notes: &mut impl Recorder) {
        for stage in &self.stages {
            stage.note(bill, notes);
        }
        let money = |amount| Money::new(amount, bill.currency);
        for month in &self.months {
            notes.note(|| {
                let own = self.stages.iter().filter(|stage| month_of(stage.order_on) == month.name);
                let each = own.flat_map(|stage| {
                    [("open", stage.open), ("on_top", stage.on_top)].map(|(word, amount)| {
                        let from = Origin::figure(format!("ordering.{}.{word}", stage.id));
                        Input::new("m_i", stage.title, money(amount), from)
                    })
                });
                let path = format!("cost.by_month.{}.amount", month.name);
                Derivation::of(path, format!("To be paid in {}", month.name), money(month.amount))
                    .by(
                        "The stages that are ordered in it; each waits for what it is measured against, and for the money put aside every month where you named one.",
                        "M = Σ m_i; at most B a month so far",
                    )
                    .with_each(each)
                    .with("B", "put aside every month; without it, B is no limit", money(monthly(picked, bill).unwrap_or_default()), Origin::choice("monthly_budget"))
                    .from("plain sum", "Paid when ordered; duty and tax come at the door.")
            });
        }
    }
}

impl Stage {
    /// Notes what is still to be paid for it, and how long it is on the way.
    fn note(&self, bill: &Bill, notes: &mut impl Recorder) {
        let money = |amount| Money::new(amount, bill.currency);
        let path = |word: &str| format!("ordering.{}.{word}", self.id);
        notes.note(|| {
            let each = self.lines.iter().map(|&place| {
                let line = &bill.lines[place];
                let open = money(line.total.likely - line.paid);
                Input::new("T_i - P_i", line.title, open, Origin::Here)
            });
            Derivation::of(
                path("open"),
                format!("Still to pay: {}", self.title),
                money(self.open),
            )
            .by(
                "Likely price less what was paid, over its lines.",
                "O = Σ (T_i - P_i)",
            )
            .with_each(each)
            .from("plain sum", "")
        });
        notes.note(|| {
            let title = format!("Freight, duty and tax that come with: {}", self.title);
            Derivation::of(path("on_top"), title, money(self.on_top))
                .by(
                    "What is still to be paid on top to the suppliers whose last parts this stage brings.",
                    "F = Σ f_i",
                )
                .with("Σ f_i", "of these suppliers", money(self.on_top), Origin::Here)
                .from("plain sum", "A supplier who sends twice takes freight twice.")
        });
        notes.note(|| {
            let title = format!("Days on the way: {}", self.title);
            let days = Worth::Exact(self.lead_days.into(), "days");
            Derivation::of(path("lead_days"), title, days)
                .by("The longest of its suppliers, at worst.", "d = max d_i")
                .with("max d_i", "slowest supplier", days, Origin::Here)
                .from("the suppliers' records", "Holidays and customs add to it.")
        });
    }

    /// Whether it is an answer that others wait for, and not goods.
    pub fn asks(&self) -> bool {
        self.answered_by.is_some()
    }

    /// When what waits for it can be ordered: whoever asks waits for the answer alone, not for the
    /// work.
    fn known_by(&self) -> Date {
        self.answered_by.unwrap_or(self.here_by)
    }

    /// Whether something of it is still to be ordered.
    pub fn is_open(&self) -> bool {
        use StageState::{Ask, NotYet, Now};
        matches!(self.state, Ask | Now | NotYet)
    }

    /// Puts the order off until so much a month has come together. The first month's money is
    /// there today.
    fn wait_for_money(&mut self, needed: Decimal, monthly: Decimal, today: Date) {
        let months = needed.checked_div(monthly).unwrap_or_default().ceil();
        let months = months.to_i64().unwrap_or(i64::MAX).clamp(1, 1200) - 1;
        let Ok(day) = today.checked_add(jiff::Span::new().months(months)) else {
            return;
        };
        if day > self.order_on {
            self.order_on = day;
            self.here_by = later(day, self.lead_days);
        }
    }
}

/// What is put aside every month, in the currency of the bill.
fn monthly(picked: &Picked, bill: &Bill) -> Option<Decimal> {
    let money = picked.build.area.monthly_budget?;
    let amount = picked.catalogue.converted(money, bill.currency)?;
    (!amount.is_zero()).then_some(amount)
}

/// For each consignment the last stage with a line of it.
fn last_stages(bill: &Bill, lines: &[Vec<usize>]) -> Vec<Option<usize>> {
    let mut stage_of = vec![None; bill.lines.len()];
    for (stage, own) in lines.iter().enumerate() {
        own.iter().for_each(|&line| stage_of[line] = Some(stage));
    }
    let last = |own: &[usize]| own.iter().map(|&line| stage_of[line]).max();
    let each = bill.consignments.iter();
    each.map(|one| last(&one.lines).flatten()).collect()
}

/// Whether some of it is still to be ordered: of what one has a part, the rest is.
fn is_open(line: &Line) -> bool {
    !line.buy.is_zero() && !line.status.is_committed()
}

fn is_here(line: &Line) -> bool {
    line.buy.is_zero() || (line.status.is_committed() && line.status.is_here())
}

fn staged(
    picked: &Picked,
    bill: &Bill,
    stage: &OrderStage,
    lines: Vec<usize>,
    on_top: Decimal,
    today: Date,
    earlier: &[Stage],
) -> Stage {
    let own = || lines.iter().map(|&place| &bill.lines[place]);
    let awaited = || {
        let of_it = |one: &&Stage| stage.after.contains(&one.id) && !one.lines.is_empty();
        earlier.iter().filter(of_it)
    };
    let agreed = |one: &Stage| one.asks() && one.state == StageState::OnItsWay;
    let waits_for: Vec<Text> = awaited()
        .filter(|one| one.state != StageState::Done && !agreed(one))
        .map(|one| one.title)
        .collect();
    let state = match (own().any(is_open), own().all(is_here)) {
        (true, _) if waits_for.is_empty() && stage.answer_days.is_some() => StageState::Ask,
        (true, _) if waits_for.is_empty() => StageState::Now,
        (true, _) => StageState::NotYet,
        (false, true) => StageState::Done,
        (false, false) => StageState::OnItsWay,
    };
    // Lines of one supplier mostly follow each other: it need not be looked up each time.
    let mut last: Option<(&Id, Option<u16>)> = None;
    let lead = own().filter(|line| !is_here(line)).filter_map(|line| {
        let id = line.price.as_ref()?.supplier.as_ref()?;
        if let Some((_, days)) = last.filter(|(last, _)| *last == id) {
            return days;
        }
        let supplier = picked.catalogue.suppliers.get(id);
        let days = supplier.map(|supplier| supplier.lead_days[1]);
        last = Some((id, days));
        days
    });
    let lead_days = lead.max().unwrap_or_default();
    let order_on = awaited().map(|one| one.known_by()).fold(today, Date::max);
    let promised = own().filter_map(|line| {
        let purchase = picked.build.purchases.of(&line.part)?;
        purchase.expected.filter(|_| !is_here(line))
    });
    let here_by = match state {
        StageState::Done => today,
        StageState::OnItsWay => match promised.max() {
            Some(day) => day.max(today),
            None => later(today, lead_days),
        },
        StageState::Ask | StageState::Now | StageState::NotYet => later(order_on, lead_days),
    };
    Stage {
        id: stage.id,
        title: stage.title,
        why: stage.why,
        answered_by: stage.answer_days.map(|days| match state {
            StageState::Done | StageState::OnItsWay => today,
            StageState::Ask | StageState::Now | StageState::NotYet => later(order_on, days),
        }),
        open: own().map(|line| line.total.likely - line.paid).sum(),
        on_top,
        lines,
        state,
        waits_for,
        lead_days,
        order_on,
        here_by,
    }
}

fn later(day: Date, days: u16) -> Date {
    day.checked_add(jiff::Span::new().days(i64::from(days)))
        .unwrap_or(day)
}

fn month_of(day: Date) -> String {
    format!("{:04}-{:02}", day.year(), day.month())
}

/// The money of each month, by the days on which stages are ordered.
fn months(stages: &[Stage]) -> Vec<Month> {
    let mut days: Vec<(Date, Decimal)> = stages
        .iter()
        .map(|stage| (stage.order_on, stage.open + stage.on_top))
        .filter(|(_, amount)| !amount.is_zero())
        .collect();
    days.order_by_key(|(day, _)| *day);
    let mut months: Vec<Month> = Vec::new();
    for (day, amount) in days {
        let name = month_of(day);
        match months.last_mut().filter(|month| month.name == name) {
            Some(month) => month.amount += amount,
            None => months.push(Month { name, amount }),
        }
    }
    months
}
