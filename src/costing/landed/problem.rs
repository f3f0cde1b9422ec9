//! Why the landed costs of an order cannot be computed.

use crate::measure::{Currency, Decimal, TooLarge};

/// A charge of a whole order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Charge {
    /// Freight and handling.
    Freight,
    /// Duty and tax.
    Duty,
    /// Discount.
    Discount,
}

impl Charge {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Freight => "freight",
            Self::Duty => "duty",
            Self::Discount => "discount",
        }
    }
}

/// Why the landed costs of an order cannot be computed. Lines are numbered from 1.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LandedProblem {
    /// An order of nothing.
    #[error("the order has no lines: write at least one")]
    NoLines,
    /// A price below zero.
    #[error("line {line}: the price {price} is below zero: write 0 or more")]
    PriceBelowZero {
        /// The line.
        line: usize,
        /// Its price.
        price: Decimal,
    },
    /// A charge below zero.
    #[error("the {} {amount} is below zero: write 0 or more", charge.name())]
    ChargeBelowZero {
        /// Which.
        charge: Charge,
        /// The amount.
        amount: Decimal,
    },
    /// A rate that is not above zero.
    #[error("the exchange rate {rate} is not above zero: write how many {book} one {order} costs")]
    RateNotAboveZero {
        /// The rate.
        rate: Decimal,
        /// The order's currency.
        order: Currency,
        /// The book's currency.
        book: Currency,
    },
    /// A rate between a currency and itself that is not 1.
    #[error("the exchange rate {rate} between {currency} and {currency} is not 1: write 1")]
    RateNotOne {
        /// The rate.
        rate: Decimal,
        /// The currency.
        currency: Currency,
    },
    /// No weight where charges are spread by weight.
    #[error("line {line}: no weight: write it in g, or spread the charges by value")]
    NoWeight {
        /// The line.
        line: usize,
    },
    /// A weight below zero.
    #[error("line {line}: the weight {weight_g} g is below zero: write 0 or more")]
    WeightBelowZero {
        /// The line.
        line: usize,
        /// The weight, g.
        weight_g: Decimal,
    },
    /// A discount of more than the order.
    #[error("the discount {discount} is more than the {whole} it is taken from: write {whole} or less")]
    DiscountTooLarge {
        /// The discount.
        discount: Decimal,
        /// Prices, freight and duty together.
        whole: Decimal,
    },
    /// A line whose part of the discount is more than the line.
    #[error("line {line}: its part of the discount is more than it costs: spread the charges by value")]
    LineBelowZero {
        /// The line.
        line: usize,
    },
    /// A number grows past 28 digits.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}
