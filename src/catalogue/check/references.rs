//! What names something else: carriages their rail, price books and quantity rules a part.

use super::{Flaws, Record};
use crate::catalogue::Catalogue;

pub(super) fn parts(catalogue: &Catalogue, found: &mut Flaws) {
    for carriage in catalogue.carriages.values() {
        let known = catalogue.rails.contains_key(&carriage.rail);
        let message = format!("rail {:?} is not in the catalogue", carriage.rail.as_str());
        found.part(&carriage.id, known, &message);
    }
}

pub(super) fn prices(catalogue: &Catalogue, found: &mut Flaws) {
    for book in catalogue.price_books.values() {
        let mut flaw = |message: String| found.add(Record::Book(book.id.clone()), message);
        for (id, price) in &book.prices {
            let part = id.as_str();
            match catalogue.part(part) {
                None => flaw(format!("prices a part {part:?} that does not exist")),
                Some((kind, _)) if !kind.is_bought() => {
                    let kind = kind.title();
                    flaw(format!("prices {part:?}, a {kind}: nobody buys that"));
                }
                Some(_) => {}
            }
            if price.low > price.likely || price.likely > price.high {
                flaw(format!(
                    "the price of {part:?} is out of order: low <= likely <= high"
                ));
            }
        }
    }
}

pub(super) fn quantities(catalogue: &Catalogue, found: &mut Flaws) {
    for rule in &catalogue.quantities {
        let message = match catalogue.part(rule.part.as_str()) {
            None => "a quantity rule names this part, which does not exist".to_owned(),
            Some((kind, _)) if !kind.is_bought() => {
                format!("nobody buys a {}", kind.title())
            }
            Some(_) => continue,
        };
        found.add(Record::Rule(rule.part.clone(), rule.per), message);
    }
}
