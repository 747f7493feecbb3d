//! A form: a few fields in which a price, a payment or a remark about a line of the bill is
//! typed. It starts with what is most likely meant, so that Enter alone often serves.

use rust_decimal::Decimal;

use super::around::around;
use super::ledger::{Asked, Entry, supplier_of};
use super::state::State;
use super::typed::Typed;
use crate::bill::paying::in_currency;
use crate::catalogue::prices::OnTop;
use crate::catalogue::{Id, Unit};
use crate::money::Currency;
use crate::words::Words as _;

pub mod reading;

pub(super) use reading::price;
pub use reading::{Reading, written};

/// The fields that are open.
#[derive(Clone, Debug)]
pub struct Form {
    /// What it is about.
    pub entry: Entry,
    /// What is written down.
    pub asked: Asked,
    /// The fields.
    pub fields: Vec<Field>,
    /// The field that is being typed in.
    pub at: usize,
    /// What is still to be paid for each of freight, duty and tax, as it would be typed.
    open: Vec<String>,
}

/// One field.
#[derive(Clone, Debug)]
pub struct Field {
    /// What it takes.
    pub what: What,
    /// What stands in it.
    pub content: Content,
}

/// What stands in a field.
#[derive(Clone, Debug)]
pub enum Content {
    /// A text.
    Text(Typed),
    /// One of some answers.
    Pick(Vec<String>, usize),
}

impl Content {
    /// The text; none where it has answers.
    pub fn typed(&self) -> Option<&Typed> {
        match self {
            Self::Text(typed) => Some(typed),
            Self::Pick(..) => None,
        }
    }

    /// The same, to be changed.
    pub fn typed_mut(&mut self) -> Option<&mut Typed> {
        match self {
            Self::Text(typed) => Some(typed),
            Self::Pick(..) => None,
        }
    }

    /// What it shows: the text, or the answer that is picked.
    pub fn shown(&self) -> &str {
        match self {
            Self::Text(typed) => typed.value(),
            Self::Pick(answers, at) => answers.get(*at).map_or("", String::as_str),
        }
    }

    /// Goes to the next answer, or to the one before, round at the ends; false where it takes text.
    pub fn turn(&mut self, on: bool) -> bool {
        match self {
            Self::Text(_) => false,
            Self::Pick(answers, at) => {
                *at = around(*at, answers.len(), on);
                true
            }
        }
    }
}

crate::words! {
    /// What a field takes.
    What {
        Price = "price", "Price of one", "An amount such as 26,40 {currency}; without a currency it is in the money of the bill.";
        Named = "named", "Offered on", "The day on which the price was named.";
        Until = "until", "Holds until", "The last day on which the price holds, such as 2026-12-18; may stay empty.";
        Seller = "seller", "Offered by", "Left and right go through the suppliers; a private seller is somebody else.";
        Includes = "includes", "In the price", "What of freight, duty and tax is in this price already. Left and right change it.";
        Used = "used", "Second-hand", "Second-hand parts come as they are: see and measure them first. Left and right change it.";
        Amount = "amount", "Amount", "What was paid, such as 84,48 {currency}; what came back has a minus in front.";
        PaidOn = "paid-on", "Paid on", "The day of the payment.";
        Rest = "rest", "It was", "After all of it, or the rest, nothing is left to pay; after a deposit the rest still counts. Left and right change it.";
        For = "for", "Paid for", "Which of the three it was for. Left and right change it.";
        Rate = "rate", "Rate that day", "What one unit of the money that was paid was worth in the money of the bill; empty takes the price books' rate.";
        By = "by", "Paid by", "Who paid, where several build together; may stay empty.";
        Have = "have", "In hand", "How much lies in the workshop; empty says that nothing is known.";
        Arrived = "arrived", "Arrived", "How much arrived, such as 2; empty says that nothing is known.";
        Order = "order", "Order number", "The seller's number; may stay empty.";
        Expected = "expected", "Expected on", "A day such as 2026-12-18; may stay empty.";
        Note = "note", "Remark", "Any text; may stay empty.";
    }
}

impl What {
    /// What it takes, in the money of the bill.
    pub fn about(self, currency: Currency) -> String {
        self.word().plain.replace("{currency}", currency.code())
    }
}

/// The answers on what is in a price already, and what each means; none for what the seller's
/// prices hold.
pub(super) const INCLUDED: [(&str, Option<&[OnTop]>); 5] = [
    ("what the seller's prices hold", None),
    ("nothing", Some(&[])),
    ("tax", Some(&[OnTop::Tax])),
    ("tax and freight", Some(&[OnTop::Freight, OnTop::Tax])),
    ("tax, freight and duty", Some(OnTop::ALL)),
];

impl Field {
    fn text(what: What, text: String) -> Self {
        Self {
            what,
            content: Content::Text(Typed::proposed(text)),
        }
    }

    fn pick(what: What, answers: Vec<String>, at: usize) -> Self {
        Self {
            what,
            content: Content::Pick(answers, at),
        }
    }

    /// What stands in it.
    pub fn shown(&self) -> &str {
        self.content.shown()
    }
}

impl Form {
    /// The form for what is asked about a line; none where a list is picked from instead.
    pub fn of(state: &State, entry: &Entry, asked: Asked) -> Option<Self> {
        let build = state.build();
        let purchase = entry.purchase(build);
        let known = |text: Option<String>| text.unwrap_or_default();
        let open = open_on_top(state, entry);
        let fields = match asked {
            Asked::Status | Asked::Supplier => return None,
            Asked::Price => priced(state, entry),
            Asked::Payment => payment(state, entry, &open),
            Asked::Have => {
                let have = purchase.and_then(|one| one.have);
                let have = known(have.map(|have| have.normalize().to_string()));
                vec![Field::text(What::Have, have)]
            }
            Asked::Arrived => {
                let arrived = purchase.and_then(|one| one.received);
                let arrived = known(arrived.map(|one| one.normalize().to_string()));
                vec![Field::text(What::Arrived, arrived)]
            }
            Asked::Order => {
                let order = known(purchase.and_then(|one| one.order.clone()));
                vec![Field::text(What::Order, order)]
            }
            Asked::Expected => {
                let day = purchase.and_then(|one| one.expected);
                let day = known(day.map(|day| day.to_string()));
                vec![Field::text(What::Expected, day)]
            }
            Asked::Note => {
                let note = entry.note(build).unwrap_or_default();
                // A remark is rather added to than replaced.
                vec![Field {
                    what: What::Note,
                    content: Content::Text(note.into()),
                }]
            }
        };
        Some(Self {
            entry: entry.clone(),
            asked,
            fields,
            at: 0,
            open,
        })
    }

    /// The text that is being typed in; none where the field has answers.
    pub fn field(&self) -> Option<&Typed> {
        self.fields.get(self.at)?.content.typed()
    }

    /// The same, to be changed.
    pub fn field_mut(&mut self) -> Option<&mut Typed> {
        self.fields.get_mut(self.at)?.content.typed_mut()
    }

    /// The text of a field; nothing where there is no such field.
    pub(super) fn text(&self, what: What) -> &str {
        self.find(what).map_or("", Field::shown)
    }

    /// The answer that was picked in a field.
    pub(super) fn answer(&self, what: What) -> Option<usize> {
        match self.find(what)?.content {
            Content::Pick(_, at) => Some(at),
            Content::Text(_) => None,
        }
    }

    fn find(&self, what: What) -> Option<&Field> {
        self.fields.iter().find(|field| field.what == what)
    }

    /// Goes to another field, round at the ends.
    pub fn turn(&mut self, on: bool) {
        self.at = around(self.at, self.fields.len(), on);
    }

    /// Puts the amount in that belongs to what is paid for, as long as nobody typed one.
    fn follow(&mut self) {
        let amount = self.answer(What::For).and_then(|at| self.open.get(at));
        if let (Some(amount), Some(field)) = (amount.cloned(), self.fields.first_mut())
            && let Content::Text(typed) = &mut field.content
        {
            typed.propose(amount);
        }
    }

    /// Goes to the next answer of a field that has some; false where it takes text.
    pub fn change(&mut self, on: bool) -> bool {
        let field = self.fields.get_mut(self.at);
        let turned = field.is_some_and(|field| field.content.turn(on));
        if turned {
            self.follow();
        }
        turned
    }
}

fn answers(list: &[&str]) -> Vec<String> {
    list.iter().map(|one| (*one).to_owned()).collect()
}

fn priced(state: &State, entry: &Entry) -> Vec<Field> {
    let mut sellers = vec!["somebody else".to_owned()];
    let all = state.catalogue.suppliers.values();
    sellers.extend(all.map(|one| one.title.to_string()));
    let own = entry.line(&state.now);
    let own = own.and_then(|line| supplier_of(&state.catalogue, line));
    let at = own.and_then(|own| state.catalogue.suppliers.get_index_of(&own.id));
    vec![
        Field::text(What::Price, String::new()),
        Field::text(What::Named, state.today.to_string()),
        Field::text(What::Until, String::new()),
        Field::pick(What::Seller, sellers, at.map_or(0, |at| at + 1)),
        Field::pick(What::Includes, answers(&INCLUDED.map(|(said, _)| said)), 0),
        Field::pick(What::Used, answers(&["no", "yes"]), 0),
    ]
}

/// The fields of a payment; what is still to be paid for each of freight, duty and tax is known.
fn payment(state: &State, entry: &Entry, on_top: &[String]) -> Vec<Field> {
    let is_way = entry.is_way(state.build());
    let of_line = || Some(amount(entry.open(&state.now)?, state.now.bill.currency));
    let amount = on_top.first().cloned().or_else(of_line).unwrap_or_default();
    let mut fields = vec![Field::text(What::Amount, amount)];
    if is_way {
        let each = OnTop::ALL.iter().map(|one| match one {
            OnTop::Freight => "freight and fees".to_owned(),
            other => other.title().to_owned(),
        });
        fields.push(Field::pick(What::For, each.collect(), 0));
    }
    fields.extend([
        Field::text(What::PaidOn, state.today.to_string()),
        Field::pick(
            What::Rest,
            answers(&[
                "all or the rest: nothing is left",
                "a deposit: more is to pay",
            ]),
            0,
        ),
        Field::text(What::Rate, String::new()),
        Field::text(What::By, String::new()),
    ]);
    fields
}

/// What was paid for one of freight, duty and tax, in the money of the bill.
fn paid_for(state: &State, entry: &Entry, what: OnTop) -> Decimal {
    let code = state.now.bill.currency;
    let all = entry.payments(state.build()).iter();
    let own = all.filter(|one| one.what.unwrap_or(OnTop::Freight) == what);
    let each = own.filter_map(|one| in_currency(&state.catalogue, one, entry.id(), code).ok());
    each.map(|money| money.amount).sum()
}

/// What is still to be paid for each of freight, duty and tax, as it would be typed.
fn open_on_top(state: &State, entry: &Entry) -> Vec<String> {
    let Entry::Way(_) = entry else {
        return Vec::new();
    };
    let Some(one) = entry.consignment(&state.now) else {
        return Vec::new();
    };
    let each = OnTop::ALL.iter().map(|&what| {
        let planned = match what {
            OnTop::Freight => one.freight.likely,
            OnTop::Duty => one.duty.likely,
            OnTop::Tax => one.tax.likely,
        };
        let open = planned - paid_for(state, entry, what);
        match open > Decimal::ZERO {
            true => amount(open, state.now.bill.currency),
            false => String::new(),
        }
    });
    each.collect()
}

/// An amount as it is typed.
pub(super) fn amount(amount: Decimal, code: Currency) -> String {
    let rounded = crate::units::show::rounded(amount, code.decimals());
    format!("{rounded} {code}")
}

/// How one unit of a part is called: `a piece`, `a metre`.
pub fn each(unit: Unit) -> &'static str {
    match unit {
        Unit::Piece => "a piece",
        Unit::Metre => "a metre",
        Unit::Kilogram => "a kilogram",
        Unit::Litre => "a litre",
        Unit::KilowattHour => "a kilowatt hour",
    }
}

/// The supplier of the place in the list of sellers; the first answer is nobody.
pub(super) fn seller(state: &State, at: usize) -> Option<Id> {
    let place = at.checked_sub(1)?;
    let (id, _) = state.catalogue.suppliers.get_index(place)?;
    Some(*id)
}
