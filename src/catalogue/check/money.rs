//! Amounts of suppliers and destinations: low to high, and days in order.

use super::Flaws;
use crate::catalogue::prices::PriceEntry;
use crate::catalogue::{Catalogue, Id};

pub(super) fn ranges(catalogue: &Catalogue, found: &mut Flaws) {
    for supplier in catalogue.suppliers.values() {
        let id = &supplier.id;
        range(found, id, "freight", Some(&supplier.freight));
        range(
            found,
            id,
            "long_surcharge",
            supplier.long_surcharge.as_ref(),
        );
        let [least, most] = supplier.lead_days;
        let message = "lead_days are out of order: at least, at most";
        found.part(id, least <= most, message);
    }
    for destination in catalogue.destinations.values() {
        let fee = &destination.broker_fee;
        range(found, &destination.id, "broker_fee", Some(fee));
    }
}

fn range(found: &mut Flaws, id: &Id, key: &str, entry: Option<&PriceEntry>) {
    let fits = entry.is_none_or(PriceEntry::is_in_order);
    let message = format!("{key} is out of order: low <= likely <= high");
    found.part(id, fits, &message);
}
