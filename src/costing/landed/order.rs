//! An order of a book as [`super::landed_costs`] takes it, and what a unit of a line costs.

use super::{InvoicedLine, LandedOrder};
use crate::measure::exact::{div, mul};
use crate::measure::{Currency, Decimal, Money, Quantity};
use crate::studio::PurchaseOrder;

impl LandedOrder {
    /// The prices and charges of an order; `book_currency` is the currency its lines shall cost in.
    pub fn of(order: &PurchaseOrder, book_currency: Currency) -> Self {
        let line = |price: Money, weight_g: Option<Quantity>| InvoicedLine {
            price: price.amount(),
            weight_g: weight_g.map(Quantity::amount),
        };
        Self {
            lines: order.lines.iter().map(|of| line(of.price, of.weight_g)).collect(),
            freight: order.freight.amount(),
            duty: order.duty.amount(),
            discount: order.discount.amount(),
            spread: order.spread,
            currency: order.currency,
            rate: order.rate,
            book_currency,
        }
    }

    /// The same order in its own currency, unconverted: what stands on the invoice.
    #[must_use]
    pub fn in_its_own_currency(&self) -> Self {
        Self { book_currency: self.currency, rate: Decimal::ONE, ..self.clone() }
    }
}

/// What one unit of a line costs where `packs` packs of `pack` units cost `total`; none where there are none of them or
/// a number does not fit.
pub fn unit_price(total: Money, packs: Quantity, pack: Quantity) -> Option<Decimal> {
    let units = mul(packs.amount(), pack.amount()).ok().filter(|units| *units > Decimal::ZERO)?;
    div(total.amount(), units).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_of_a_line_costs_its_part() {
        let quantity = |text: &str| Quantity::new(text.parse().unwrap()).unwrap();
        let total = Money::new("12.5".parse().unwrap()).unwrap();
        // 12.50 over 2 × 50 pieces, by hand.
        assert_eq!(unit_price(total, quantity("2"), quantity("50")), Some("0.125".parse().unwrap()));
        assert_eq!(unit_price(total, quantity("0"), quantity("50")), None);
    }
}
