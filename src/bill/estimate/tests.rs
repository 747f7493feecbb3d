use rust_decimal::prelude::ToPrimitive;

use super::*;
use crate::explain::{Notes, Silent};
use crate::units;

fn range(low: i64, likely: i64, high: i64) -> PriceRange {
    let [low, likely, high] = [low, likely, high].map(Decimal::from);
    PriceRange::new(low, likely, high, Currency::EUR).expect("in order")
}

fn correlation(between: f64, within: f64) -> Correlation {
    let share = units::share::of;
    Correlation::new(share(between), share(within)).expect("a correlation")
}

fn total(items: &[Item]) -> PriceRange {
    let each = items.iter().map(|item| {
        let times = |money: Money| money.times(item.factor);
        item.range.map(times).expect("a product")
    });
    each.fold(PriceRange::zero(Currency::EUR), |sum, range| {
        sum.plus(range).expect("a sum")
    })
}

fn joined(items: &[Item], correlation: Correlation) -> Estimate {
    Estimate::of(total(items), items, correlation, &mut Silent).expect("a sum")
}

fn estimate(ranges: &[PriceRange], moving_together: f64) -> Estimate {
    let items: Vec<Item> = ranges.iter().copied().map(Item::alone).collect();
    joined(&items, correlation(moving_together, moving_together))
}

/// Lines of three suppliers, and some of none, skewed either way.
fn mixed() -> Vec<Item> {
    let item = |[low, likely, high]: [i64; 3], group: Option<u16>, factor: &str| Item {
        range: range(low, likely, high),
        group: group.map(Group),
        factor: factor.parse().expect("a factor"),
    };
    vec![
        item([100, 150, 300], Some(0), "1"),
        item([40, 50, 60], Some(1), "1.19"),
        item([900, 1000, 1600], Some(0), "1.2222"),
        item([60, 100, 104], None, "1"),
        item([5, 5, 5], Some(1), "1.05"),
        item([200, 260, 420], Some(2), "1.19"),
        item([300, 500, 520], Some(2), "1"),
        item([0, 150, 160], Some(0), "1.19"),
        item([30, 40, 90], None, "1"),
        item([400, 410, 700], Some(1), "1.3"),
    ]
}

#[test]
fn prices_without_a_range_are_certain() {
    for ranges in [
        &[][..],
        &[range(5, 5, 5)],
        &[range(5, 5, 5), range(7, 7, 7)],
    ] {
        let sum: Decimal = ranges.iter().map(|range| range.likely).sum();
        let found = estimate(ranges, 0.3);
        assert_eq!((found.low, found.expected, found.high), (sum, sum, sum));
    }
}

#[test]
fn the_mean_is_exact_to_the_coin() {
    let cents = |low, likely, high| {
        range(low, likely, high)
            .map(|money| money.times(Decimal::new(1, 2)))
            .expect("cents")
    };
    // (100 + 4 · 150 + 301)/6 = 166.833... cents
    let found = estimate(&[cents(100, 150, 301)], 0.0);
    assert_eq!(found.expected, Decimal::new(167, 2));
    let yen = "JPY".parse().expect("a code");
    let line = PriceRange {
        currency: yen,
        ..range(100, 150, 301)
    };
    let items = [Item::alone(line)];
    let found = Estimate::of(line, &items, Correlation::USUAL, &mut Silent).expect("a sum");
    assert_eq!(found.expected, Decimal::from(167));
    assert_eq!(found.low.scale(), 0);
}

#[test]
fn only_correlations_that_no_bill_contradicts_are_taken() {
    let share = units::share::of;
    for (between, within) in [
        (-0.01, 0.5),
        (0.5, 1.01),
        (0.6, 0.3),
        (f64::NAN, 0.5),
        (0.5, f64::NAN),
        (f64::INFINITY, f64::INFINITY),
    ] {
        let found = Correlation::new(share(between), share(within));
        assert_eq!(found, None, "{between}, {within}");
    }
    assert_eq!(correlation(0.3, 0.6), Correlation::USUAL);
}

#[test]
fn two_currencies_are_refused() {
    let dollars = PriceRange::zero(Currency::USD);
    let items = [Item::alone(range(1, 2, 3))];
    let found = Estimate::of(dollars, &items, Correlation::USUAL, &mut Silent);
    assert_eq!(found, Err(MoneyError::Mixed(Currency::USD, Currency::EUR)));
}

/// With as much within a supplier as between all lines, suppliers make no difference.
#[test]
fn groups_without_a_correlation_of_their_own_change_nothing() {
    let grouped = mixed();
    let mut loose = grouped.clone();
    for item in &mut loose {
        item.group = None;
    }
    for rho in [0.0, 0.3, 0.6, 1.0] {
        let same = correlation(rho, rho);
        assert_eq!(joined(&grouped, same), joined(&loose, same), "{rho}");
    }
    let width = |items: &[Item]| {
        let found = joined(items, Correlation::USUAL);
        found.high - found.low
    };
    assert!(width(&grouped) > width(&loose));
}

/// All as one: lines of one shape add up like a single line of that shape.
#[test]
fn lines_that_move_as_one_are_one_line() {
    let parts = [range(100, 150, 300), range(20, 30, 60), range(40, 60, 120)];
    let group = Some(Group(3));
    let items = parts.map(|range| Item {
        group,
        ..Item::alone(range)
    });
    let one = [Item::alone(range(160, 240, 480))];
    let cent = Decimal::new(1, 2);
    for (between, within) in [(0.0, 1.0), (0.3, 1.0), (1.0, 1.0)] {
        let (many, one) = (
            joined(&items, correlation(between, within)),
            joined(&one, correlation(0.0, 0.0)),
        );
        assert_eq!(many.expected, one.expected);
        assert!((many.low - one.low).abs() <= cent && (many.high - one.high).abs() <= cent);
    }
}

/// Where nothing moves together variances add up, and so do third moments.
#[test]
fn lines_that_have_nothing_to_do_with_each_other_add_up_plainly() {
    let (mut variance, mut third) = (0.0, 0.0);
    let mut sums = Sums::default();
    for item in mixed() {
        let mut alone = Sums::default();
        alone.add(&item);
        let own = alone
            .join(correlation(0.0, 0.0))
            .spread(correlation(0.0, 0.0));
        variance += own.deviation.powi(2);
        third += own.skewness * own.deviation.powi(3);
        sums.add(&item);
    }
    let all = sums
        .join(correlation(0.0, 0.0))
        .spread(correlation(0.0, 0.0));
    assert!((all.deviation.powi(2) / variance - 1.0).abs() < 1e-12);
    assert!((all.skewness * all.deviation.powi(3) / third - 1.0).abs() < 1e-12);
}

/// A quote in hand makes a bill surer, whoever's it is.
#[test]
fn the_range_narrows_as_lines_become_certain() {
    let mut items = mixed();
    let mut before = joined(&items, Correlation::USUAL);
    for place in 0..items.len() {
        let likely = items[place].range.likely;
        let certain = items[place].range.low == items[place].range.high;
        items[place].range =
            PriceRange::new(likely, likely, likely, Currency::EUR).expect("in order");
        let now = joined(&items, Correlation::USUAL);
        let width = |estimate: Estimate| estimate.high - estimate.low;
        assert!(certain || width(now) < width(before), "line {place}");
        before = now;
    }
    assert_eq!(
        (before.low, before.high),
        (before.expected, before.expected)
    );
}

/// The sums over groups against the matrix itself, multiplied out element by element.
#[test]
fn the_sums_over_groups_are_what_the_matrix_gives() {
    let items = mixed();
    let one = |item: &Item| {
        let mut sums = Sums::default();
        sums.add(&Item {
            group: None,
            ..*item
        });
        let joint = sums.join(correlation(0.0, 0.0));
        (joint.h, joint.d)
    };
    let parts: Vec<(f64, f64)> = items.iter().map(one).collect();
    for (between, within) in [(0.3, 0.6), (0.0, 0.9), (0.2, 1.0), (0.5, 0.5)] {
        let c = |i: usize, j: usize| match (i == j, items[i].group) {
            (true, _) => 1.0,
            (false, Some(group)) if items[j].group == Some(group) => within,
            _ => between,
        };
        let (mut variance, mut third) = (0.0, 0.0);
        for (i, (hi, di)) in parts.iter().enumerate() {
            for (j, (hj, dj)) in parts.iter().enumerate() {
                variance += hi * hj * c(i, j) + 2.0 * di * dj * c(i, j).powi(2);
                for (k, (hk, dk)) in parts.iter().enumerate() {
                    third += 6.0 * hi * c(i, j) * dj * c(j, k) * hk;
                    third += 8.0 * di * c(i, j) * dj * c(j, k) * dk * c(k, i);
                }
            }
        }
        let mut sums = Sums::default();
        items.iter().for_each(|item| sums.add(item));
        let correlation = correlation(between, within);
        let found = sums.join(correlation).spread(correlation);
        assert!((found.deviation.powi(2) / variance - 1.0).abs() < 1e-12);
        assert!((found.skewness / (third / variance.powf(1.5)) - 1.0).abs() < 1e-9);
    }
}

/// The range opens as prices move together, and never leaves what the lines allow.
#[test]
fn the_range_opens_with_correlation_and_stays_within_the_prices() {
    let shapes = [
        range(0, 0, 100),
        range(0, 100, 100),
        range(0, 50, 100),
        range(90, 100, 160),
        range(0, 1, 1_000_000),
    ];
    for first in shapes {
        for second in shapes {
            let lines = [first, second, first];
            let total = lines.iter().map(|line| (line.low, line.high));
            let (low, high) = total.fold((Decimal::ZERO, Decimal::ZERO), |sum, line| {
                (sum.0 + line.0, sum.1 + line.1)
            });
            let mut before = estimate(&lines, 0.0);
            for step in 1..=10 {
                let now = estimate(&lines, f64::from(step) / 10.0);
                assert!(low <= now.low && now.high <= high, "{lines:?}: {now:?}");
                assert!(now.low < now.expected && now.expected < now.high, "{now:?}");
                let width = |estimate: Estimate| estimate.high - estimate.low;
                assert!(width(now) > width(before), "{lines:?}: {now:?}");
                before = now;
            }
        }
    }
}

#[test]
fn a_note_tells_what_the_estimate_says() {
    let mut notes = Notes::default();
    let items = mixed();
    let found = Estimate::of(total(&items), &items, Correlation::USUAL, &mut notes).expect("a sum");
    for (path, amount) in [
        ("cost.expected", found.expected),
        ("cost.range80.0", found.low),
        ("cost.range80.1", found.high),
    ] {
        let note = notes.get(path).unwrap_or_else(|| panic!("no {path}"));
        assert_eq!(Some(note.result.number()), amount.to_f64(), "{path}");
        assert!(note.inputs.len() >= 3 && !note.source.is_empty(), "{path}");
    }
    let end = notes.get("cost.range80.1").expect("a note");
    let of = |symbol: &str| {
        let input = end.inputs.iter().find(|input| input.symbol == symbol);
        input.expect("an input").value.number()
    };
    let (z, b, w) = (of("z"), of("b"), of("w"));
    let straight = (1.0 - w) * of("HH") + (w - b) * of("HG") + b * of("H").powi(2);
    let bent = (1.0 - w * w) * of("DD") + (w * w - b * b) * of("DG") + (b * of("D")).powi(2);
    let variance = straight + 2.0 * bent;
    assert!((variance.sqrt() / of("s") - 1.0).abs() < 1e-12);
    let cubes = (1.0 - w).powi(2) * (1.0 + 2.0 * w) * of("DDD")
        + 3.0 * (1.0 - w) * ((w * w - b * b) * of("DM") + b * b * of("DD") * of("D"))
        + (w - b).powi(2) * (w + 2.0 * b) * of("DGG")
        + 3.0 * (w - b) * b * b * of("DG") * of("D")
        + (b * of("D")).powi(3);
    let skewness = (6.0 * of("P") + 8.0 * cubes) / of("s").powi(3);
    assert!((skewness / of("γ") - 1.0).abs() < 1e-12);
    let by_hand = of("mean") + of("s") * (z + of("γ") * (z * z - 1.0) / 6.0);
    assert!((by_hand - end.result.number()).abs() < 0.01);
    let short = notes.get("cost.range80.0").expect("a note");
    let of = |symbol: &str| {
        let input = short.inputs.iter().find(|input| input.symbol == symbol);
        input.expect("an input").value.number()
    };
    let (z, k, c) = (of("z"), of("k"), of("c"));
    assert!((6.0 * k * k * c + 8.0 * c.powi(3) - of("γ")).abs() < 1e-12);
    assert!((k * k + 2.0 * c * c - 1.0).abs() < 1e-12);
    let by_hand = of("mean") + of("s") * (k * z + c * (z * z - 1.0));
    assert!((by_hand - short.result.number()).abs() < 0.01);
}
