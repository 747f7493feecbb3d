//! What the text of a form means: a quote, a payment, a quantity, a day; or what is wrong with
//! it, and in which field.

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::{Field, Form, INCLUDED, What, seller};
use crate::assessment::Assessment;
use crate::build::Build;
use crate::build::purchases::{Consignment, Payment, Purchase, Quote, Status};
use crate::catalogue::prices::OnTop;
use crate::money::{Currency, Money, MoneyError};
use crate::screen::ledger::{Asked, Entry};
use crate::screen::state::State;
use crate::store::quotes::{day, decimal};
use crate::units::show;
use crate::words::Words as _;

/// What a text turned out to mean, or why it means nothing.
pub type Reading<T> = Result<T, String>;

impl Form {
    /// What the field under the cursor reads as; none where it has answers, or is empty and may
    /// be so.
    pub fn reads(&self, currency: Currency) -> Option<Reading<String>> {
        reads(self.fields.get(self.at)?, currency)
    }

    /// The first field that cannot be read.
    pub fn wrong(&self, state: &State) -> Option<usize> {
        let currency = state.now.bill.currency;
        let bad = |field: &Field| match reads(field, currency) {
            Some(reading) => reading.is_err(),
            // These may not stay empty.
            None => matches!(
                field.what,
                What::Price | What::Amount | What::Named | What::PaidOn
            ),
        };
        self.fields.iter().position(bad).or_else(|| {
            let is_over = self.over_before_named().is_some();
            let until = |field: &Field| field.what == What::Until;
            let place = self.fields.iter().position(until);
            place.filter(|_| is_over)
        })
    }

    /// The last day of an offer that would end before it was named.
    fn over_before_named(&self) -> Option<Date> {
        let read = |what| day(self.text(what).trim());
        let named = read(What::Named)?;
        read(What::Until).filter(|until| *until < named)
    }

    fn quote(&self, state: &State) -> Reading<Quote> {
        let text = |what| self.text(what).trim();
        let until = match text(What::Until) {
            "" => None,
            until => Some(date(until)?),
        };
        let picked = |what| self.answer(what).unwrap_or_default();
        let includes = INCLUDED.get(picked(What::Includes));
        let includes = includes.and_then(|(_, parts)| parts.map(<[OnTop]>::to_vec));
        if let Some(until) = self.over_before_named() {
            return Err(format!("it would hold until {until}, before it was named"));
        }
        Ok(Quote {
            price: price(text(What::Price), state.now.bill.currency)?,
            date: date(text(What::Named))?,
            valid_until: until,
            supplier: seller(state, picked(What::Seller)),
            includes,
            used: picked(What::Used) == 1,
        })
    }

    fn paid(&self, state: &State) -> Reading<Payment> {
        let text = |what| self.text(what).trim();
        let rate = match text(What::Rate) {
            "" => None,
            text => Some(rate(text)?),
        };
        let by = text(What::By);
        Ok(Payment {
            amount: paid(text(What::Amount), state.now.bill.currency)?,
            date: date(text(What::PaidOn))?,
            rate,
            what: self
                .answer(What::For)
                .and_then(|at| OnTop::ALL.get(at).copied()),
            by: (!by.is_empty()).then(|| by.to_owned()),
            part_payment: self.answer(What::Rest) == Some(1),
        })
    }
}

/// The build with what a form says written down, and what to say about it.
///
/// # Errors
/// Says what a field lacks.
pub fn written(state: &State, form: &Form) -> Reading<(Build, String)> {
    let mut build = state.build().clone();
    let id = form.entry.id();
    let said = if form.entry.is_way(&build) {
        let ways = &mut build.purchases.consignments;
        let way = ways.entry(*id).or_default();
        let said = of_way(state, form, way)?;
        if *way == Consignment::default() {
            ways.shift_remove(id);
        }
        said
    } else {
        let parts = &mut build.purchases.parts;
        let part = parts.entry(*id).or_default();
        let said = of_part(state, form, part)?;
        if *part == Purchase::default() {
            parts.shift_remove(id);
        }
        said
    };
    Ok((build, said.to_owned()))
}

/// What a field reads as; none where it has answers, or is empty.
fn reads(field: &Field, currency: Currency) -> Option<Reading<String>> {
    let text = field.shown().trim();
    let spoken = |money: Money| {
        let amount = show::grouped(&money.amount.to_string());
        format!("{amount} {}", money.currency)
    };
    match field.what {
        _ if text.is_empty() => None,
        What::Price => Some(price(text, currency).map(spoken)),
        What::Amount => Some(paid(text, currency).map(spoken)),
        What::Named | What::PaidOn | What::Until | What::Expected => {
            Some(date(text).map(|day| day.to_string()))
        }
        What::Have | What::Arrived => {
            Some(decimal(text).map(|one| show::grouped(&one.to_string())))
        }
        What::Rate => Some(rate(text).map(|one| show::grouped(&one.to_string()))),
        _ => None,
    }
}

/// The text of the only field.
fn only(form: &Form) -> Option<String> {
    let text = form.fields.first().map_or("", |field| field.shown()).trim();
    (!text.is_empty()).then(|| text.to_owned())
}

fn of_way(state: &State, form: &Form, way: &mut Consignment) -> Reading<&'static str> {
    if form.asked == Asked::Payment {
        way.payments.push(form.paid(state)?);
        return Ok("payment written down");
    }
    way.note = only(form);
    Ok("remark written down")
}

fn of_part(state: &State, form: &Form, part: &mut Purchase) -> Reading<&'static str> {
    Ok(match form.asked {
        Asked::Price => {
            part.quotes.push(form.quote(state)?);
            "price written down"
        }
        Asked::Payment => {
            let payment = form.paid(state)?;
            match pay(part, &form.entry, &state.now, payment) {
                true => "payment written down, status ordered",
                false => "payment written down",
            }
        }
        Asked::Have => {
            part.have = only(form).map(|text| decimal(&text)).transpose()?;
            "what is in hand written down"
        }
        Asked::Arrived => {
            let bought = form.entry.line(&state.now).map(|line| line.buy);
            part.received = only(form).map(|text| decimal(&text)).transpose()?;
            part.status = after_arrival(part, bought);
            "what arrived written down"
        }
        Asked::Order => {
            part.order = only(form);
            "order number written down"
        }
        Asked::Expected => {
            part.expected = only(form).map(|text| date(&text)).transpose()?;
            "expected day written down"
        }
        Asked::Note => {
            part.note = only(form);
            "remark written down"
        }
        Asked::Status | Asked::Supplier => return Err("it is picked from a list".to_owned()),
    })
}

/// An amount with or without its currency: `26,40 EUR`, `1 234.50`, `84,48usd`.
fn money(text: &str, usual: Currency) -> Reading<Money> {
    let text = text.trim();
    let letters = text.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    let (digits, code) = text.split_at(letters.len());
    let currency = match code {
        "" => usual,
        code => code
            .to_ascii_uppercase()
            .parse()
            .map_err(|error: MoneyError| error.to_string())?,
    };
    let amount = decimal(digits.trim())?;
    Ok(Money::new(amount, currency))
}

pub(in crate::screen) fn price(text: &str, currency: Currency) -> Reading<Money> {
    match text {
        "" => Err(format!("type the price of one, such as 26,40 {currency}")),
        text => money(text, currency),
    }
}

/// An amount that was paid, or, with a minus in front, that came back.
///
/// # Errors
/// Says what to type instead.
pub fn paid(text: &str, currency: Currency) -> Reading<Money> {
    match (text, text.strip_prefix('-')) {
        ("", _) => Err(format!("type what was paid, such as 84,48 {currency}")),
        (_, Some(rest)) => {
            let mut money = money(rest, currency)?;
            money.amount = -money.amount;
            Ok(money)
        }
        (text, None) => money(text, currency),
    }
}

/// The status that follows from how much arrived; what was looked at already keeps its own.
fn after_arrival(part: &Purchase, bought: Option<Decimal>) -> Option<Status> {
    let known = part.status;
    let is_open = match part.status() {
        Status::Ordered | Status::PartArrived | Status::Arrived => true,
        Status::ToBuy | Status::Quoted => part.received.is_some_and(|one| !one.is_zero()),
        Status::HaveIt | Status::Cancelled => false,
        Status::Checked | Status::Faulty | Status::Fitted => false,
    };
    if !is_open {
        return known;
    }
    let ordered = part.ordered.or(bought).unwrap_or_default();
    match part.received {
        None => known,
        Some(received) if received.is_zero() => Some(Status::Ordered),
        Some(received) if received < ordered => Some(Status::PartArrived),
        Some(_) => Some(Status::Arrived),
    }
}

/// Writes a payment down; true where that means that the part is ordered now.
pub fn pay(part: &mut Purchase, entry: &Entry, now: &Assessment, payment: Payment) -> bool {
    let ordered = pays_for_order(entry, part.status(), &payment);
    if ordered {
        part.status = Some(Status::Ordered);
        part.ordered_on = part.ordered_on.or(Some(payment.date));
        let bought = entry.line(now).map(|line| line.buy);
        part.ordered = part.ordered.or(bought);
        part.supplier = part.supplier.take().or(entry.sender(now));
    }
    part.payments.push(payment);
    ordered
}

/// Whether a payment means that the part is ordered now: nobody pays for what is still to buy.
fn pays_for_order(entry: &Entry, status: Status, payment: &Payment) -> bool {
    let open = matches!(status, Status::ToBuy | Status::Quoted);
    open && matches!(entry, Entry::Part(..)) && payment.amount.amount > Decimal::ZERO
}

/// A day, as people write one.
///
/// # Errors
/// Says how to write it.
pub fn date(text: &str) -> Reading<Date> {
    day(text).ok_or_else(|| match text.trim() {
        "" => "type a day, such as 2026-12-18".to_owned(),
        other => format!("{other:?} is not a day; write it as 2026-12-18 or 18.12.2026"),
    })
}

fn rate(text: &str) -> Reading<Decimal> {
    let rate = decimal(text)?;
    match rate.is_zero() {
        true => Err("a rate of nothing; write what one unit was worth, such as 0,91".to_owned()),
        false => Ok(rate),
    }
}

#[cfg(test)]
mod tests {
    use super::{What, paid, price};
    use crate::money::Currency;

    fn read(text: &str) -> String {
        match paid(text, Currency::EUR) {
            Ok(money) => format!("{} {}", money.amount, money.currency),
            Err(_) => "refused".to_owned(),
        }
    }

    #[test]
    fn an_amount_is_read_as_it_is_meant() {
        for (text, want) in [
            ("26,40", "26.40 EUR"),
            ("26.40 USD", "26.40 USD"),
            ("84,48usd", "84.48 USD"),
            ("1 234,50 EUR", "1234.50 EUR"),
            ("-12", "-12 EUR"),
            ("", "refused"),
            ("EUR", "refused"),
            ("abc", "refused"),
            ("12 euros", "refused"),
            ("--3", "refused"),
        ] {
            assert_eq!(read(text), want, "{text}");
        }
        assert!(price("-3", Currency::EUR).is_err());
        let wrong = price("", Currency::USD).expect_err("no amount");
        assert!(wrong.ends_with("such as 26,40 USD"), "{wrong}");
        let about = What::Price.about(Currency::USD);
        assert!(about.starts_with("An amount such as 26,40 USD;"), "{about}");
    }
}
