//! What the part costs: one of it, or a metre of what is sold by length. Second-hand such a thing
//! comes as one piece at one price, so the price of a piece may be typed with how long that is.

use rust_decimal::Decimal;

use super::rows::{pick, row};
use super::{Of, Opening, OwnPart, Row, reading};
use crate::catalogue::fields::Range;
use crate::catalogue::{Catalogue, Id, Unit};
use crate::money::Money;
use crate::screen::form::{What, amount, each, price as read_price};
use crate::store::own_parts::OwnPrice;
use crate::words::Words as _;

/// In what the length of a piece is typed, and from where to where.
pub(super) const PIECE: (&str, &str) = ("mm", "1 to 20000 mm");
/// Shortest and longest piece.
const PIECE_MM: (f64, f64) = (1.0, 20_000.0);
/// Millimetres of a metre.
const METRE: Decimal = Decimal::ONE_THOUSAND;
/// The digits behind the point that a price of a metre keeps: its piece then costs what was typed.
const DIGITS: u32 = 4;
/// The field by which a part of no fixed unit is sold.
const SOLD_BY: &str = "counted_in";

/// What is called the price: `Price of a metre`.
fn label(unit: Unit) -> String {
    format!("Price of {}", each(unit))
}

/// What the price is, in words.
fn means(unit: Unit) -> String {
    format!(
        "What {} of it costs you in all, with freight, duty and tax. May stay empty: the bill then says that its price is missing.",
        each(unit)
    )
}

/// The rows of the price.
pub(super) fn rows(opening: Opening, cost: Option<&OwnPrice>, unit: Unit) -> Vec<Row> {
    let piece = cost
        .and_then(|one| one.pack)
        .filter(|_| unit == Unit::Metre);
    let text = cost.map(|one| {
        let whole = one
            .money
            .amount
            .saturating_mul(piece.unwrap_or(Decimal::ONE));
        let whole = piece.map_or(whole, |_| whole.round_dp(2).normalize());
        amount(whole, one.money.currency)
    });
    let mut rows = vec![Row {
        find: What::Price.about(opening.currency),
        ..row(
            Of::Price,
            &label(unit),
            &means(unit),
            text.unwrap_or_default(),
        )
    }];
    if unit == Unit::Metre {
        let means = "Where you typed the price of one whole piece: how long that piece is, its turned ends too: the bill then takes whole pieces, of screws one for each. May stay empty: the price is then that of a metre, and the bill takes as many metres as the build needs.";
        let long = piece.map(|piece| piece.saturating_mul(METRE).normalize().to_string());
        rows.push(row(
            Of::Piece,
            "or of a piece this long",
            means,
            long.unwrap_or_default(),
        ));
    }
    let seller = cost.and_then(|cost| cost.supplier.as_ref());
    rows.push(sellers(opening.catalogue, seller));
    rows
}

fn sellers(catalogue: &Catalogue, seller: Option<&Id>) -> Row {
    let mut answers = vec![(String::new(), "nobody in the list".to_owned())];
    let all = catalogue.suppliers.values();
    answers.extend(all.map(|one| (one.id.to_string(), one.title.to_string())));
    let means = "Who asks that price. Without a seller it counts as an estimate.";
    let row = row(Of::Seller, "Seller", means, String::new());
    pick(row, answers, seller.map_or("", Id::as_str))
}

impl OwnPart {
    /// By what it is sold.
    pub(super) fn sold_by(&self) -> Unit {
        let said = self.rows.iter().find(|row| row.key() == Some(SOLD_BY));
        let said = said.and_then(Row::picked);
        let unit = said.and_then(|id| Unit::ALL.iter().find(|unit| unit.id() == id));
        unit.copied().unwrap_or(self.unit)
    }

    /// Has the row of the price say of what it is.
    pub(super) fn name_price(&mut self) {
        let unit = self.sold_by();
        if let Some(row) = self.rows.iter_mut().find(|row| row.of == Of::Price) {
            (row.label, row.means) = (label(unit), means(unit));
        }
    }

    /// The row of something, and its place.
    fn row_of(&self, of: &Of) -> Option<(usize, &Row)> {
        self.rows.iter().enumerate().find(|(_, row)| row.of == *of)
    }

    /// How long the piece is that the price is of, in millimetres; none where it is of a metre.
    fn piece(&self) -> Result<Option<Decimal>, String> {
        let text = self.row_of(&Of::Piece).map_or("", |(_, row)| row.shown());
        if text.trim().is_empty() || self.sold_by() != Unit::Metre {
            return Ok(None);
        }
        let range = Range {
            unit: PIECE.0.to_owned(),
            told: PIECE.1.to_owned(),
        };
        let long = reading::number(text.trim(), &range, self.shown)?;
        let long = long.as_float().or_else(|| {
            let whole = long.as_integer()?.to_string();
            whole.parse().ok()
        });
        let (least, most) = PIECE_MM;
        let long = long.filter(|long| (least..=most).contains(long));
        let exact = long.and_then(|long| long.to_string().parse().ok());
        exact
            .map(Some)
            .ok_or_else(|| format!("expected {}", PIECE.1))
    }

    /// What one of it costs, or a metre; none where nobody knows.
    ///
    /// # Errors
    /// The row that is wrong, and why.
    pub(super) fn price(&self) -> Result<Option<OwnPrice>, (Option<usize>, String)> {
        let Some((at, row)) = self.row_of(&Of::Price) else {
            return Ok(None);
        };
        let wrong = |message: String| (Some(at), message);
        let piece = self.row_of(&Of::Piece).map(|(at, _)| at);
        let long = self.piece().map_err(|message| (piece, message))?;
        let text = row.shown().trim();
        if text.is_empty() {
            return match long {
                Some(_) => Err(wrong("type what the piece costs".to_owned())),
                None => Ok(None),
            };
        }
        let piece_is_changed = piece.is_some_and(|at| self.rows[at].is_changed());
        // What is shown is rounded; what nobody changed stays as it was.
        let known = self.cost.as_ref();
        let known = known.filter(|_| !row.is_changed() && !piece_is_changed);
        let mut money = match known {
            Some(cost) => cost.money,
            None => read_price(text, self.currency).map_err(wrong)?,
        };
        if let (Some(long), None) = (long, known) {
            let metres = money.amount.checked_mul(METRE);
            let each = metres.and_then(|all| all.checked_div(long));
            let each = each.ok_or_else(|| wrong("this is too much".to_owned()))?;
            money = Money::new(each.round_dp(DIGITS).normalize(), money.currency);
        }
        let seller = self.row_of(&Of::Seller).and_then(|(_, row)| row.picked());
        let pack = match self.sold_by() {
            Unit::Metre => {
                let metres = long.and_then(|long| long.checked_div(METRE));
                metres.map(|metres| metres.normalize())
            }
            // The form does not ask for it: what a file says stays.
            _ => self.cost.as_ref().and_then(|cost| cost.pack),
        };
        Ok(Some(OwnPrice {
            money,
            supplier: seller.and_then(|id| Id::new(id).ok()),
            pack,
        }))
    }

    /// What is wrong with the price, and in which row.
    pub(super) fn price_fault(&self, catalogue: &Catalogue) -> Option<(Option<usize>, String)> {
        let price = match self.price() {
            Ok(price) => price?,
            Err(fault) => return Some(fault),
        };
        let (from, into) = (price.money.currency, self.currency);
        let row = self.row_of(&Of::Price).map(|(at, _)| at);
        let unknown = catalogue.rate(from, into).is_none();
        unknown.then(|| {
            let why = format!("no price book has a rate from {from} to {into}: type it in {into}");
            (row, why)
        })
    }

    /// What a metre of it comes to, where the price of a piece was typed and the cursor is there.
    pub fn worked_out(&self) -> Option<String> {
        let here = &self.rows.get(self.at)?.of;
        if !matches!(here, Of::Price | Of::Piece) {
            return None;
        }
        self.piece().ok()??;
        let price = self.price().ok()??;
        let each = amount(price.money.amount, price.money.currency);
        Some(format!(
            "That is {each} a metre; the bill takes whole pieces."
        ))
    }
}
