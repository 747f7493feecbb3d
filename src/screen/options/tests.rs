//! What a field takes, how the arrows step, what a list offers.

use super::*;
use crate::build::choices::find;
use crate::store::library;

fn choice(id: &str) -> &'static Choice {
    find(id).unwrap_or_else(|error| panic!("{error}"))
}

fn number(value: f64) -> Value {
    Value::Number(Some(value))
}

fn cost() -> Money {
    Money::new(Decimal::from(6014), Currency::EUR)
}

fn step(id: &str, from: &Value, steps: i32) -> Option<Value> {
    stepped(choice(id), from, steps, cost(), Shown::PLAIN)
}

#[test]
fn a_step_goes_to_the_next_line_of_the_grid() {
    assert_eq!(step("travel_x_mm", &number(600.0), 1), Some(number(650.0)));
    assert_eq!(step("travel_x_mm", &number(610.0), 1), Some(number(650.0)));
    assert_eq!(step("travel_x_mm", &number(610.0), -1), Some(number(600.0)));
    assert_eq!(
        step("acceleration_m_per_s2", &number(0.5), 1),
        Some(number(0.6))
    );
}

#[test]
fn steps_end_at_the_ends_of_the_range() {
    assert_eq!(
        step("travel_x_mm", &number(9_980.0), 1),
        Some(number(10_000.0))
    );
    assert_eq!(step("travel_x_mm", &number(10_000.0), 1), None);
    assert_eq!(step("travel_x_mm", &number(50.0), -1), None);
    // A third of the way off the grid of 0.01, the least is still reached.
    assert_eq!(step("tolerance_mm", &number(0.01), -1), Some(number(0.005)));
}

/// A value beside what was measured would be one that nobody measured.
#[test]
fn what_was_measured_steps_to_not_measured_alone() {
    let current = "measured_current_a";
    assert_eq!(step(current, &Value::Number(None), 1), None);
    assert_eq!(step(current, &number(8.2), 1), None);
    assert_eq!(step(current, &number(8.2), -1), Some(Value::Number(None)));
    assert_eq!(
        step("measured_pull_n", &number(100.0), 1),
        Some(number(110.0)),
        "the pull is chosen"
    );
}

#[test]
fn below_the_least_stands_nothing_where_it_may_be_left_out() {
    assert_eq!(
        step("rail_length_x_mm", &number(50.0), -1),
        Some(Value::Number(None))
    );
    assert_eq!(
        step("rail_length_x_mm", &Value::Number(None), 1),
        Some(number(50.0))
    );
    assert_eq!(step("rail_length_x_mm", &Value::Number(None), -1), None);
}

#[test]
fn an_amount_steps_by_hundreds_down_to_no_limit() {
    let euros = |amount: i64| Value::Amount(Some(Money::new(Decimal::from(amount), Currency::EUR)));
    assert_eq!(step("budget", &Value::Amount(None), 1), Some(euros(6_100)));
    assert_eq!(step("budget", &euros(6_100), -1), Some(euros(6_000)));
    assert_eq!(step("budget", &euros(100), -1), Some(Value::Amount(None)));
    assert_eq!(step("budget", &Value::Amount(None), -1), None);
}

#[test]
fn a_field_reads_comma_point_unit_and_grouped_thousands() {
    let read = |text: &str| read(choice("travel_x_mm"), text, Currency::EUR, Shown::PLAIN);
    for text in ["1250.5", "1250,5", "1 250,5 mm", " 1250.5mm "] {
        assert_eq!(read(text), Ok(number(1250.5)), "{text}");
    }
    assert!(read("12 abc").is_err());
    assert!(read("1e99").is_err());
    assert_eq!(read(""), Err("type a number, such as 50 mm".to_owned()));
    assert_eq!(
        read("99999"),
        Err("99 999 is out of range: it takes 50 to 10 000 mm".to_owned())
    );
    assert!(read("NaN").is_err());
}

#[test]
fn a_budget_takes_the_currency_of_the_bill() {
    let money = |amount: i64, currency| {
        Ok(Value::Amount(Some(Money::new(
            Decimal::from(amount),
            currency,
        ))))
    };
    let read = |text: &str| read(choice("budget"), text, Currency::EUR, Shown::PLAIN);
    assert_eq!(read("3 500"), money(3500, Currency::EUR));
    assert_eq!(read("3500 USD"), money(3500, Currency::USD));
    assert_eq!(read(""), Ok(Value::Amount(None)));
}

#[test]
fn an_amount_is_shown_to_the_coin_where_it_has_one() {
    let shown = |text: &str| {
        let value = read(choice("budget"), text, Currency::EUR, Shown::PLAIN).expect("an amount");
        choice("budget").show_counted(&value)
    };
    assert_eq!(shown("1000.5 GBP"), "1 000.50 GBP");
    assert_eq!(shown("1.000,50"), "1 000.50 EUR");
    assert_eq!(shown("3500"), "3 500 EUR");
}

#[test]
fn one_option_is_what_the_build_has_now() {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let rows = listed(choice("spindle_clamp"), &Build::default(), &catalogue);
    assert!(rows.len() > 1);
    assert_eq!(rows.iter().filter(|row| row.now).count(), 1);
}

#[test]
fn ticking_an_entry_keeps_the_others() {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let build = Build::default();
    let rows = listed(choice("materials"), &build, &catalogue);
    let ticked = rows.iter().filter(|row| row.ticked == Some(true)).count();
    assert_eq!(ticked, build.area.materials.len());
    for row in &rows {
        let Value::Parts(after) = &row.value else {
            panic!("{:?}", row.value)
        };
        let expected = if row.ticked == Some(true) {
            ticked - 1
        } else {
            ticked + 1
        };
        assert_eq!(after.len(), expected);
    }
}

#[test]
fn the_ladder_has_the_greatest_value_on_top() {
    let build = Build::default();
    let (rows, cursor) = ladder(
        choice("travel_x_mm"),
        &number(600.0),
        7,
        &build,
        (cost(), Shown::PLAIN),
    );
    let titles: Vec<&str> = rows.iter().map(|row| row.full.as_str()).collect();
    assert_eq!(
        titles,
        [
            "750 mm", "700 mm", "650 mm", "600 mm", "550 mm", "500 mm", "450 mm"
        ]
    );
    assert_eq!(cursor, 3);
    assert!(rows[cursor].now);
}
