//! A catalogue in which money adds up: every part by the piece, one price however many are
//! bought, one seller at the door. Then a build costs what its choices cost, one by one.

use gantrywright::build::{Build, Value, choices};
use gantrywright::catalogue::prices::{Includes, OnTop};
use gantrywright::catalogue::quantity::Count;
use gantrywright::catalogue::{Catalogue, CatalogueFile, Id, Unit};
use rand::RngExt as _;
use rand::seq::IndexedRandom as _;
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use crate::common;

/// Nothing is asked for the way, however much is sent.
const HOME: &str = r#"
    [[supplier]]
    id = "home"
    title = "Home"
    source = "invented"
    currency = "EUR"
    freight = { low = "0", likely = "0", high = "0" }
    parcel_kg = 10000
    long_from_mm = 10000
    lead_days = [1, 2]
    as_of = "2026-11-01"
"#;

/// The shipped catalogue, sold so, at prices of chance: half to twice the shipped ones.
pub(crate) fn catalogue(rng: &mut ChaCha8Rng) -> Catalogue {
    let mut catalogue = common::catalogue();
    let home = CatalogueFile::read(HOME).expect("a supplier");
    catalogue.absorb(home);
    let mut books: Vec<_> = catalogue.price_books.values().cloned().collect();
    for book in &mut books {
        book.currency = "EUR".parse().expect("a currency");
        book.supplier = Some(Id::new("home").expect("an id"));
        // The tax comes on top, so that it is reckoned with too.
        book.includes = Includes::from(vec![OnTop::Freight, OnTop::Duty]);
        for (part, offer) in &mut book.prices {
            let part = catalogue.part(part.as_str());
            let by_the_piece = part.is_some_and(|(_, part)| part.unit() == Unit::Piece);
            let offer = offer.value_mut();
            offer.likely = price(offer.likely, by_the_piece, rng);
            (offer.low, offer.high) = (offer.likely, offer.likely);
            offer.breaks.clear();
            (offer.pack, offer.minimum, offer.supplier) = (None, None, None);
        }
    }
    for book in books {
        catalogue.price_books.insert(book.id, book);
    }
    for sundry in catalogue.sundries.values_mut() {
        sundry.pack = Decimal::ONE;
    }
    // What is shared among all that is wired together adds up for no choice alone.
    catalogue.quantities.retain(|rule| {
        !matches!(
            rule.per,
            Count::Terminal | Count::CabinetWire | Count::EpoxyBed
        )
    });
    for rule in &mut catalogue.quantities {
        rule.spare_percent = Decimal::ZERO;
        rule.each = rule.each.ceil();
    }
    catalogue
}

/// A price of chance, of which a fifth in tax is a whole cent: of a hundredth of a metre, too.
fn price(shipped: Decimal, by_the_piece: bool, rng: &mut ChaCha8Rng) -> Decimal {
    let shipped = shipped.to_f64().expect("a number");
    let wanted = shipped * 2_f64.powf(rng.random_range(-1.0..1.0));
    let twentieths = match by_the_piece {
        true => (wanted * 20.0).ceil(),
        false => (wanted / 5.0).ceil() * 100.0,
    };
    Decimal::new(twentieths as i64 * 5, 2)
}

/// Leaves of the parts that choices name only those of a build, and so many of chance of each
/// family, told by how their ids begin.
pub(crate) fn thinned(
    whole: &Catalogue,
    build: &Build,
    families: &[(&str, usize)],
    rng: &mut ChaCha8Rng,
) -> Catalogue {
    let named = choices::all()
        .iter()
        .filter_map(|choice| match (choice.get)(build) {
            Value::Part(part) => part,
            _ => None,
        });
    let mut kept: Vec<Id> = named.collect();
    let mut catalogue = whole.clone();
    macro_rules! shelves {
        ($($shelf:ident)+) => {
            for (family, many) in families {
                let of_family = |id: &&Id| id.as_str().starts_with(family);
                let mut known: Vec<&Id> = Vec::new();
                $(known.extend(whole.$shelf.keys().filter(of_family));)+
                known.retain(|id| !kept.contains(id));
                let some: Vec<Id> = known.sample(rng, *many).map(|id| (*id).clone()).collect();
                kept.extend(some);
            }
            $(catalogue.$shelf.retain(|id, _| kept.contains(id));)+
        };
    }
    shelves! {
        carriages ball_screws lead_screws racks belts steppers servos drivers couplings supplies
        spindles vfds spindle_clamps coolers controllers switches cables chains cabinets fans
    }
    catalogue
}
