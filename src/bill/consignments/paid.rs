//! What was paid of a consignment already: it takes the place of what was computed.

use rust_decimal::Decimal;

use super::Customs;
use crate::bill::paying::{paid, settled};
use crate::build::purchases::Payment;
use crate::catalogue::prices::OnTop;
use crate::catalogue::supplier::Supplier;
use crate::money::{MoneyError, PriceRange};

/// What was paid of a consignment, as it is set against what was computed.
pub(super) struct Paid<'a> {
    customs: &'a Customs<'a>,
    supplier: &'a Supplier,
    payments: &'a [Payment],
    /// What was paid of all that is settled.
    pub(super) spent: Decimal,
    /// What something was paid for.
    pub(super) touched: Vec<OnTop>,
}

impl<'a> Paid<'a> {
    /// Nothing is settled yet.
    pub(super) fn new(
        customs: &'a Customs<'a>,
        supplier: &'a Supplier,
        payments: &'a [Payment],
    ) -> Self {
        Self {
            customs,
            supplier,
            payments,
            spent: Decimal::ZERO,
            touched: Vec::new(),
        }
    }

    /// What it comes to in the end: as computed, or as paid.
    pub(super) fn settle(
        &mut self,
        planned: PriceRange,
        what: OnTop,
    ) -> Result<PriceRange, MoneyError> {
        let own = self.payments.iter().filter(|payment| payment.is_for(what));
        let own: Vec<Payment> = own.cloned().collect();
        let Some(last) = own.last() else {
            return Ok(planned);
        };
        let (catalogue, currency) = (self.customs.catalogue, self.customs.currency);
        let sum = paid(catalogue, &own, &self.supplier.id, currency)?;
        self.touched.push(what);
        self.spent = self.spent.checked_add(sum).ok_or(MoneyError::Overflow)?;
        settled(planned, sum, !last.part_payment)
    }
}
