//! What names something else: carriages their rail, jobs their material, price books and quantity
//! rules a part.

use super::{Flaws, Record};
use crate::catalogue::yearly::{Of, Per, YearlyRule};
use crate::catalogue::{Catalogue, PartKind};
use crate::words::nearest;

/// From how many flaws on no nearest name is sought: few are ever told at once, and to
/// compare every id of a long file with every part takes its time.
const HINTED: usize = 20;

pub(super) fn parts(catalogue: &Catalogue, found: &mut Flaws) {
    for carriage in catalogue.carriages.values() {
        let known = catalogue.rails.contains_key(&carriage.rail);
        let message = format!("rail {:?} is not in the catalogue", carriage.rail.as_str());
        found.part(&carriage.id, known, &message);
    }
    for job in catalogue.jobs.values() {
        let known = catalogue.materials.contains_key(&job.material);
        let message = format!(
            "material {:?} is not in the catalogue",
            job.material.as_str()
        );
        found.part(&job.id, known, &message);
    }
}

/// Sheets and sums name suppliers by their titles.
pub(super) fn suppliers(catalogue: &Catalogue, found: &mut Flaws) {
    for (place, supplier) in catalogue.suppliers.values().enumerate() {
        let mut before = catalogue.suppliers.values().take(place);
        let Some(same) = before.find(|one| one.title == supplier.title) else {
            continue;
        };
        let message = format!(
            "title {:?} is that of the supplier {:?} already; sheets tell suppliers apart by it",
            supplier.title,
            same.id.as_str()
        );
        found.part(&supplier.id, false, &message);
    }
}

pub(super) fn prices(catalogue: &Catalogue, found: &mut Flaws) {
    for book in catalogue.price_books.values() {
        for (id, price) in &book.prices {
            let (part, price) = (id.as_str(), price.value());
            let hint = match catalogue.part(part) {
                None if found.0.len() < HINTED => near(part, catalogue),
                _ => String::new(),
            };
            let mut flaw = |message: String| {
                found.add(Record::Price(book.id, *id), message);
            };
            match catalogue.part(part) {
                None => flaw(format!("prices a part {part:?} that does not exist{hint}")),
                Some((kind, _)) if !kind.is_bought() => {
                    let kind = kind.title();
                    flaw(format!("prices {part:?}, a {kind}: nobody buys that"));
                }
                Some(_) => {}
            }
            let sellers = price.supplier.iter().chain(&book.supplier);
            for seller in sellers.filter(|id| !catalogue.suppliers.contains_key(*id)) {
                let hint = nearest::hint(
                    seller.as_str(),
                    catalogue.suppliers.keys().map(super::Id::as_str),
                );
                flaw(format!("there is no supplier {:?}{hint}", seller.as_str()));
            }
            for step in &price.breaks {
                if !step.entry().is_in_order() {
                    flaw(format!(
                        "the price of {part:?} from {} on is out of order: low <= likely <= high",
                        step.from
                    ));
                }
            }
            if !price.breaks.is_sorted_by_key(|step| step.from) {
                flaw(format!(
                    "the price breaks of {part:?} are out of order: smallest quantity first"
                ));
            }
            if !price.entry().is_in_order() {
                flaw(format!(
                    "the price of {part:?} is out of order: low <= likely <= high"
                ));
            }
        }
    }
}

/// The end of a message about a part that nobody knows: the nearest that is bought.
fn near(part: &str, catalogue: &Catalogue) -> String {
    let kinds = PartKind::ALL.iter().filter(|kind| kind.is_bought());
    let parts = kinds.flat_map(|kind| catalogue.of_kind(*kind));
    nearest::hint(part, parts.map(|part| part.id().as_str()))
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
        found.add(Record::Rule(rule.part, rule.per), message);
    }
}

pub(super) fn yearly(catalogue: &Catalogue, found: &mut Flaws) {
    for rule in &catalogue.yearly {
        if let Some(message) = misfit(rule) {
            found.add(Record::Yearly(rule.part.clone()), message);
        }
        let Some(part) = rule.part.part() else {
            continue;
        };
        let message = match catalogue.part(part.as_str()) {
            None => format!(
                "a yearly rule names this part, which does not exist{}",
                near(part.as_str(), catalogue)
            ),
            Some((kind, _)) if !kind.is_bought() => format!("nobody buys a {}", kind.title()),
            Some(_) => continue,
        };
        found.add(Record::Yearly(rule.part.clone()), message);
    }
}

/// What of a yearly rule does not go together.
fn misfit(rule: &YearlyRule) -> Option<&'static str> {
    let has_life = rule.part.has_life();
    match (rule.per == Per::Life, has_life) {
        (true, false) => Some("only ball-screws and carriages have a life to count by"),
        (false, true) => Some("ball-screws and carriages are counted per = \"life\""),
        _ if rule.kept_years.is_some() != has_life => {
            Some("kept_years goes with per = \"life\", and with nothing else")
        }
        _ if has_life && rule.of != Of::Machine => {
            Some("what is counted by its life needs no `of`")
        }
        _ => None,
    }
}

/// A stage waits for stages before it, so that no two wait for each other.
pub(super) fn stages(catalogue: &Catalogue, found: &mut Flaws) {
    for (place, stage) in catalogue.order_stages.iter().enumerate() {
        for other in &stage.after {
            let before = &catalogue.order_stages[..place];
            if !before.iter().any(|one| one.id == *other) {
                let message = format!(
                    "waits for {:?}, which is no stage before it",
                    other.as_str()
                );
                found.add(Record::Stage(stage.id), message);
            }
        }
        for part in &stage.parts {
            if catalogue.part(part.as_str()).is_none() {
                let near = near(part.as_str(), catalogue);
                let message = format!(
                    "names the part {:?}, which does not exist{near}",
                    part.as_str()
                );
                found.add(Record::Stage(stage.id), message);
            }
        }
    }
}
