//! What the lines of an order cost landed: price, freight and duty less discount, in the book's currency (costing
//! method, sections 1 and 5; IAS 2, paragraphs 10 and 11).
//!
//! The invoice is converted once: (prices + freight + duty − discount) · rate, rounded half-even to the minor unit of
//! the book's currency. The discount is converted and rounded the same way; what it was taken from is parted into
//! prices, freight and duty by largest remainder, and each of these, and the discount, over the lines by largest
//! remainder. So the lines add up to the invoice to the last minor unit, and in the book's own currency a line's price
//! is the price on the invoice.
//!
//! A line whose discount takes all of it may lack a minor unit after rounding; it is then given that unit by the line
//! that has most, the earlier of equal ones, so that no line costs less than nothing.

mod order;
mod problem;

pub use order::unit_price;
pub use problem::{Charge, LandedProblem};

pub use crate::studio::SpreadBy;

use super::share::split;
use crate::measure::exact::{add, mul, round, sub, sum};
use crate::measure::money::MONEY_PLACES;
use crate::measure::{Currency, Decimal, Money, TooLarge};

/// One line of an order as invoiced.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct InvoicedLine {
    /// Price of the whole line in the order's currency, 0 or more.
    pub price: Decimal,
    /// Weight of the whole line, g, 0 or more; needed only where charges are spread by weight.
    pub weight_g: Option<Decimal>,
}

/// An order as invoiced.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LandedOrder {
    /// Its lines, in their order.
    pub lines: Vec<InvoicedLine>,
    /// Freight and handling of the whole order in its currency, 0 or more.
    pub freight: Decimal,
    /// Duty and tax that do not come back, of the whole order in its currency, 0 or more.
    pub duty: Decimal,
    /// Discount on the whole order in its currency, 0 or more; it is taken off.
    pub discount: Decimal,
    /// How freight, duty and discount are spread.
    pub spread: SpreadBy,
    /// The order's currency.
    pub currency: Currency,
    /// Units of the book's currency for one unit of the order's, above 0; 1 where they are the same.
    pub rate: Decimal,
    /// The book's currency.
    pub book_currency: Currency,
}

/// What one line costs landed, in the book's currency, each a whole number of minor units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LandedLine {
    /// Its price.
    pub price: Money,
    /// Its part of the freight.
    pub freight: Money,
    /// Its part of the duty.
    pub duty: Money,
    /// Its part of the discount, 0 or more.
    pub discount: Money,
    /// The minor units moved so that no line costs less than nothing; nearly always 0.
    pub rounding: Money,
    /// Price + freight + duty − discount + rounding, 0 or more.
    pub total: Money,
}

/// Splits `total`, which has at most `places` decimals and may be below zero (a discount), in proportion to `weights`
/// into parts of at most `places` decimals that add up to it: largest remainder, ties to the earlier line. Weights that
/// are all zero share equally; a weight below zero counts as zero.
///
/// # Errors
/// [`TooLarge`] where `total` is finer than `places`, where something is to be split over no lines, or where a number
/// does not fit.
pub fn spread(total: Money, weights: &[Decimal], places: u32) -> Result<Vec<Money>, TooLarge> {
    let parts = split(total.amount(), weights, places.min(MONEY_PLACES))?;
    parts.into_iter().map(|part| Money::new(part).ok_or(TooLarge)).collect()
}

/// What an order comes to in the book's currency: (prices + freight + duty − discount) · rate, half-even to the minor
/// unit.
///
/// # Errors
/// [`TooLarge`] where a number does not fit.
pub fn invoice_total(order: &LandedOrder) -> Result<Money, TooLarge> {
    Ok(in_book(order, sub(whole(order)?, order.discount)?)?.0)
}

/// What every line costs landed, in the order of the lines; the totals add up to [`invoice_total`].
///
/// # Errors
/// Every [`LandedProblem`] of the order.
pub fn landed_costs(order: &LandedOrder) -> Result<Vec<LandedLine>, Vec<LandedProblem>> {
    let problems = problems(order);
    if !problems.is_empty() {
        return Err(problems);
    }
    compute(order).map_err(|problem| vec![problem.into()])
}

/// Prices, freight and duty together, in the order's currency.
fn whole(order: &LandedOrder) -> Result<Decimal, TooLarge> {
    sum(order.lines.iter().map(|line| line.price).chain([order.freight, order.duty]))
}

/// An amount of the order's currency in the book's, half-even to the minor unit; and its decimals.
fn in_book(order: &LandedOrder, amount: Decimal) -> Result<(Money, u32), TooLarge> {
    let places = order.book_currency.digits();
    let converted = round(mul(amount, order.rate)?, places);
    Ok((Money::new(converted).ok_or(TooLarge)?, places))
}

/// What decides a line's part of the charges.
fn weights(order: &LandedOrder) -> Vec<Decimal> {
    let weight = |line: &InvoicedLine| match order.spread {
        SpreadBy::Value => line.price,
        SpreadBy::Weight => line.weight_g.unwrap_or_default(),
    };
    order.lines.iter().map(weight).collect()
}

fn problems(order: &LandedOrder) -> Vec<LandedProblem> {
    let mut found = Vec::new();
    if order.lines.is_empty() {
        found.push(LandedProblem::NoLines);
    }
    let charges = [(Charge::Freight, order.freight), (Charge::Duty, order.duty), (Charge::Discount, order.discount)];
    let charged = charges.iter().any(|(_, amount)| !amount.is_zero());
    for (place, line) in order.lines.iter().enumerate() {
        let number = place + 1;
        if line.price < Decimal::ZERO {
            found.push(LandedProblem::PriceBelowZero { line: number, price: line.price });
        }
        match line.weight_g {
            Some(weight_g) if weight_g < Decimal::ZERO => {
                found.push(LandedProblem::WeightBelowZero { line: number, weight_g });
            }
            None if charged && order.spread == SpreadBy::Weight => {
                found.push(LandedProblem::NoWeight { line: number });
            }
            _ => {}
        }
    }
    for (charge, amount) in charges {
        if amount < Decimal::ZERO {
            found.push(LandedProblem::ChargeBelowZero { charge, amount });
        }
    }
    let (rate, book) = (order.rate, order.book_currency);
    if rate <= Decimal::ZERO {
        found.push(LandedProblem::RateNotAboveZero { rate, order: order.currency, book });
    } else if order.currency == book && rate != Decimal::ONE {
        found.push(LandedProblem::RateNotOne { rate, currency: book });
    }
    if found.is_empty() {
        match too_much_discount(order) {
            Ok(problem) => found.extend(problem),
            Err(problem) => found.push(problem.into()),
        }
    }
    found
}

/// The problem of a discount that takes more than there is, from the whole order or from one line.
fn too_much_discount(order: &LandedOrder) -> Result<Option<LandedProblem>, TooLarge> {
    let whole = whole(order)?;
    if order.discount > whole {
        return Ok(Some(LandedProblem::DiscountTooLarge { discount: order.discount, whole }));
    }
    let mut weights = weights(order);
    let mut all = sum(weights.iter().copied())?;
    if all.is_zero() {
        weights.fill(Decimal::ONE);
        all = sum(weights.iter().copied())?;
    }
    let charges = sub(add(order.freight, order.duty)?, order.discount)?;
    for (place, (line, weight)) in order.lines.iter().zip(&weights).enumerate() {
        // price + charges · weight / all, times all, so that nothing is rounded.
        if add(mul(line.price, all)?, mul(charges, *weight)?)? < Decimal::ZERO {
            return Ok(Some(LandedProblem::LineBelowZero { line: place + 1 }));
        }
    }
    Ok(None)
}

fn compute(order: &LandedOrder) -> Result<Vec<LandedLine>, TooLarge> {
    let invoice = invoice_total(order)?;
    let (discount, places) = in_book(order, order.discount)?;
    let prices: Vec<Decimal> = order.lines.iter().map(|line| line.price).collect();
    let gross = [sum(prices.iter().copied())?, order.freight, order.duty];
    let mut gross = spread(invoice.plus(discount)?, &gross, places)?.into_iter();
    let mut part = || gross.next().unwrap_or_default();
    let (goods, freight, duty) = (part(), part(), part());
    let weights = weights(order);
    let columns = [
        spread(goods, &prices, places)?,
        spread(freight, &weights, places)?,
        spread(duty, &weights, places)?,
        spread(discount, &weights, places)?,
    ];
    let [prices, freights, duties, discounts] = columns;
    let mut lines = Vec::with_capacity(prices.len());
    for (((price, freight), duty), discount) in prices.into_iter().zip(freights).zip(duties).zip(discounts) {
        let total = price.plus(freight)?.plus(duty)?.minus(discount)?;
        lines.push(LandedLine { price, freight, duty, discount, rounding: Money::ZERO, total });
    }
    lift(&mut lines)?;
    Ok(lines)
}

/// Brings lines that rounding has left below zero to nothing, at the cost of those that have most.
fn lift(lines: &mut [LandedLine]) -> Result<(), TooLarge> {
    while let Some(place) = lines.iter().position(|line| line.total < Money::ZERO) {
        let lacking = lines.get(place).map_or(Money::ZERO, |line| line.total);
        let most = lines.iter().map(|line| line.total).max().unwrap_or_default();
        // The lines add up to nothing less than zero, so one above zero is there while one is below.
        let size = Money::ZERO.minus(lacking)?.min(most);
        if size <= Money::ZERO {
            return Err(TooLarge);
        }
        let giver = lines.iter().position(|line| line.total == most).unwrap_or_default();
        for (at, line) in lines.iter_mut().enumerate() {
            if at == place {
                line.rounding = line.rounding.plus(size)?;
                line.total = line.total.plus(size)?;
            } else if at == giver {
                line.rounding = line.rounding.minus(size)?;
                line.total = line.total.minus(size)?;
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    fn money(text: &str) -> Money {
        Money::new(decimal(text)).unwrap()
    }

    fn line(price: &str) -> InvoicedLine {
        InvoicedLine { price: decimal(price), weight_g: None }
    }

    fn order(prices: &[&str], charges: [&str; 3]) -> LandedOrder {
        let [freight, duty, discount] = charges.map(decimal);
        LandedOrder {
            lines: prices.iter().map(|price| line(price)).collect(),
            freight,
            duty,
            discount,
            spread: SpreadBy::Value,
            currency: Currency::USD,
            rate: Decimal::ONE,
            book_currency: Currency::USD,
        }
    }

    fn totals(order: &LandedOrder) -> Vec<String> {
        landed_costs(order).unwrap().iter().map(|line| line.total.to_string()).collect()
    }

    #[test]
    fn in_the_books_currency_prices_stay_and_charges_are_spread() {
        let lines = landed_costs(&order(&["84.00", "36.50", "19.95"], ["12.95", "7.10", "5.00"])).unwrap();
        let prices: Vec<String> = lines.iter().map(|line| line.price.to_string()).collect();
        assert_eq!(prices, ["84", "36.5", "19.95"]);
        let freights: Vec<String> = lines.iter().map(|line| line.freight.to_string()).collect();
        assert_eq!(freights, ["7.74", "3.37", "1.84"]);
        let all = lines.iter().fold(Decimal::ZERO, |all, line| all + line.total.amount());
        assert_eq!(all.to_string(), "155.50");
    }

    #[test]
    fn another_currency_is_converted_once() {
        let rate = decimal("1.0837");
        let euros = LandedOrder {
            currency: Currency::from_code("EUR").unwrap(),
            rate,
            ..order(&["10.01", "10.01", "10.01"], ["3.33", "0", "0"])
        };
        // 33.36 · 1.0837 = 36.152232
        assert_eq!(invoice_total(&euros).unwrap(), money("36.15"));
        assert_eq!(totals(&euros), ["12.06", "12.05", "12.04"]);
        let yen = LandedOrder { book_currency: Currency::from_code("JPY").unwrap(), ..euros };
        // 36.152232 yen, parted 33 (32.54) and 3 (3.61) of 36: prices 32, freight 4.
        assert_eq!(totals(&yen), ["13", "12", "11"]);
    }

    #[test]
    fn weight_spreads_where_it_is_known() {
        let mut heavy = order(&["10", "10"], ["4", "0", "0"]);
        heavy.spread = SpreadBy::Weight;
        assert_eq!(
            landed_costs(&heavy),
            Err(vec![LandedProblem::NoWeight { line: 1 }, LandedProblem::NoWeight { line: 2 }])
        );
        for (line, weight) in heavy.lines.iter_mut().zip(["453.59237", "1360.77711"]) {
            line.weight_g = Some(decimal(weight));
        }
        assert_eq!(totals(&heavy), ["11", "13"]);
        heavy.discount = decimal("20");
        assert_eq!(landed_costs(&heavy), Err(vec![LandedProblem::LineBelowZero { line: 2 }]));
    }

    #[test]
    fn a_line_given_away_costs_nothing_and_never_less() {
        assert_eq!(totals(&order(&["1", "1", "1"], ["0", "0", "3"])), ["0", "0", "0"]);
        assert_eq!(totals(&order(&["5", "0"], ["1", "0", "0"])), ["6", "0"]);
        // Freight on samples that cost nothing is shared equally.
        assert_eq!(totals(&order(&["0", "0", "0"], ["1", "0", "0"])), ["0.34", "0.33", "0.33"]);
    }

    #[test]
    fn every_problem_is_named_at_once() {
        let mut wrong = order(&["-1", "2"], ["-0.5", "0", "0"]);
        wrong.rate = Decimal::TWO;
        let sentences: Vec<String> =
            landed_costs(&wrong).unwrap_err().iter().map(std::string::ToString::to_string).collect();
        assert_eq!(
            sentences,
            [
                "line 1: the price -1 is below zero: write 0 or more",
                "the freight -0.5 is below zero: write 0 or more",
                "the exchange rate 2 between USD and USD is not 1: write 1",
            ]
        );
        assert_eq!(landed_costs(&order(&[], ["0", "0", "0"])), Err(vec![LandedProblem::NoLines]));
        let free = landed_costs(&order(&["1"], ["0", "0", "1.01"])).unwrap_err();
        assert_eq!(free[0].to_string(), "the discount 1.01 is more than the 1 it is taken from: write 1 or less");
    }
}
