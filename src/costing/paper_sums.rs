//! What a paper that goes out adds up to: its lines, freight, tax and a gallery's commission (costing method, section 1:
//! a line that is money changing hands is rounded half away from zero to the currency's minor unit, ISO 4217).
//!
//! Every part is rounded once and the last of them is what is left of the whole, so that the parts add up to it.

use crate::measure::exact::{add, div, mul, sub};
use crate::measure::{Currency, Decimal, TooLarge};
use crate::studio::NumberedPaper;

/// What a paper adds up to; every amount in whole minor units of its currency.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaperSums {
    /// Each line: quantity × price.
    pub lines: Vec<Decimal>,
    /// The lines together.
    pub goods: Decimal,
    /// Freight and packing.
    pub freight: Decimal,
    /// Goods and freight without tax.
    pub net: Decimal,
    /// Tax on goods and freight.
    pub tax: Decimal,
    /// What is to be paid: `net + tax`.
    pub whole: Decimal,
    /// A gallery's commission on the goods without tax; 0 where there is none.
    pub commission: Decimal,
    /// What comes to the maker before tax once all is sold: `net − commission`.
    pub to_maker: Decimal,
}

/// A line: quantity × price, half away from zero to the minor unit.
///
/// # Errors
/// [`TooLarge`] where it does not fit in 28 digits.
pub fn line(quantity: u32, price: Decimal, currency: Currency) -> Result<Decimal, TooLarge> {
    Ok(currency.round(mul(quantity.into(), price)?))
}

/// An amount with tax on top: the tax, rounded once.
///
/// # Errors
/// [`TooLarge`] where it does not fit in 28 digits.
pub fn tax_on_top(net: Decimal, rate: Decimal, currency: Currency) -> Result<Decimal, TooLarge> {
    Ok(currency.round(mul(net, rate)?))
}

/// An amount that has tax in it, parted into what is left without it, `whole / (1 + rate)` rounded once, and the tax,
/// which is the rest.
///
/// # Errors
/// [`TooLarge`] where it does not fit in 28 digits.
pub fn tax_within(whole: Decimal, rate: Decimal, currency: Currency) -> Result<[Decimal; 2], TooLarge> {
    let net = currency.round(div(whole, add(Decimal::ONE, rate)?)?);
    Ok([net, sub(whole, net)?])
}

/// The sums of a paper. Tax is taken of goods and freight together and rounded once, not line by line; commission is a
/// share of the goods without tax (costing method, section 6).
///
/// # Errors
/// [`TooLarge`] where an amount does not fit in 28 digits.
pub fn paper_sums(paper: &NumberedPaper, currency: Currency) -> Result<PaperSums, TooLarge> {
    let lines = paper
        .lines
        .iter()
        .map(|of| line(of.quantity, of.price.amount(), currency))
        .collect::<Result<Vec<_>, TooLarge>>()?;
    let goods = lines.iter().try_fold(Decimal::ZERO, |sum, line| add(sum, *line))?;
    let freight = currency.round(paper.freight.amount());
    let sold = add(goods, freight)?;
    let (net, tax, goods_net) = if paper.tax_in_price {
        let [net, tax] = tax_within(sold, paper.tax, currency)?;
        let [goods_net, _] = tax_within(goods, paper.tax, currency)?;
        (net, tax, goods_net)
    } else {
        (sold, tax_on_top(sold, paper.tax, currency)?, goods)
    };
    let commission = currency.round(mul(goods_net, paper.commission.unwrap_or_default())?);
    Ok(PaperSums {
        whole: add(net, tax)?,
        to_maker: sub(net, commission)?,
        lines,
        goods,
        freight,
        net,
        tax,
        commission,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Money;
    use crate::studio::{Language, PaperLine};
    use proptest::prelude::*;

    /// Published and computed check values; each row of the table names its source.
    const TABLE: &str = include_str!("../../tests/data/e_money_tax_price.csv");

    /// Rows whose id begins so: what is given and what is expected, both as JSON texts.
    fn rows(prefix: &str) -> Vec<(String, serde_json::Value, String)> {
        let mut reader = csv::Reader::from_reader(TABLE.as_bytes());
        let found: Vec<_> = reader
            .records()
            .map(Result::unwrap)
            .filter(|row| row[0].starts_with(prefix))
            .map(|row| (row[0].to_owned(), serde_json::from_str(&row[2]).unwrap(), row[3].to_owned()))
            .collect();
        assert!(!found.is_empty(), "{prefix}");
        found
    }

    fn number(value: &serde_json::Value, field: &str) -> Decimal {
        value[field].as_str().unwrap_or_else(|| panic!("{field} of {value}")).parse().unwrap()
    }

    fn euro() -> Currency {
        Currency::from_code("EUR").unwrap()
    }

    fn paper(lines: &[(u32, Decimal)]) -> NumberedPaper {
        let line = |(quantity, price): &(u32, Decimal)| PaperLine {
            design: None,
            piece: None,
            code: String::new(),
            words: "Tray".to_owned(),
            note: String::new(),
            bears_lead: false,
            quantity: *quantity,
            price: Money::new(*price).unwrap(),
        };
        NumberedPaper {
            language: Language::English,
            from: String::new(),
            recipient: "Skerry Gallery".to_owned(),
            lines: lines.iter().map(line).collect(),
            commission: None,
            tax: Decimal::ZERO,
            tax_name: String::new(),
            tax_in_price: false,
            freight: Money::ZERO,
            days: None,
            terms: String::new(),
        }
    }

    #[test]
    fn tax_on_top_is_that_of_the_table() {
        for (id, given, expected) in rows("E-STX-") {
            let expected: serde_json::Value = serde_json::from_str(&expected).unwrap();
            let sums = paper_sums(
                &NumberedPaper { tax: number(&given, "rate"), ..paper(&[(1, number(&given, "ticket"))]) },
                euro(),
            );
            let sums = sums.unwrap();
            assert_eq!((sums.tax, sums.whole), (number(&expected, "tax"), number(&expected, "to_pay")), "{id}");
        }
        for (id, net, rate, tax) in [("E-VAT-1", "100", "0.20", "20"), ("E-VAT-6", "74.59", "0.175", "13.05")] {
            let given = rows(id).remove(0).1;
            assert_eq!(
                [number(&given, "net"), number(&given, "rate")],
                [net, rate].map(|text| text.parse::<Decimal>().unwrap())
            );
            let got = tax_on_top(number(&given, "net"), number(&given, "rate"), euro());
            assert_eq!(got, Ok(tax.parse().unwrap()), "{id}");
        }
    }

    #[test]
    fn tax_within_a_price_is_that_of_the_table() {
        for (id, given, expected) in rows("E-VATX-") {
            let expected: serde_json::Value = serde_json::from_str(&expected).unwrap();
            let asked = NumberedPaper {
                tax: number(&given, "rate"),
                tax_in_price: true,
                ..paper(&[(1, number(&given, "ticket"))])
            };
            let sums = paper_sums(&asked, euro()).unwrap();
            assert_eq!((sums.net, sums.tax), (number(&expected, "net"), number(&expected, "vat")), "{id}");
            assert_eq!(sums.whole, number(&given, "ticket"), "{id}");
        }
        let (_, given, expected) = rows("E-VAT-8").remove(0);
        let expected: serde_json::Value = serde_json::from_str(&expected).unwrap();
        let [_, tax] = tax_within(number(&given, "gross"), number(&given, "rate"), euro()).unwrap();
        assert_eq!(tax, number(&expected, "vat"));
    }

    #[test]
    fn a_line_is_rounded_to_the_minor_unit_of_its_currency() {
        for (id, given, expected) in rows("E-MINORR-") {
            let currency = Currency::from_code(given["currency"].as_str().unwrap()).unwrap();
            let got = line(1, number(&given, "value"), currency).unwrap();
            assert_eq!(got, expected.parse::<Decimal>().unwrap(), "{id}");
        }
        for (id, given, expected) in rows("E-ROUND-quax") {
            if given["quantum"] == "0.01" {
                assert_eq!(line(1, number(&given, "value"), euro()), Ok(expected.parse().unwrap()), "{id}");
            }
        }
    }

    #[test]
    fn commission_is_of_the_goods_without_tax() {
        // By hand: 3 × 48.00 = 144.00; 144 / 1.2 = 120.00; 40 % of it 48.00; 6.00 freight is 5.00 without tax.
        let asked = NumberedPaper {
            commission: Some(Decimal::new(4, 1)),
            tax: Decimal::new(2, 1),
            tax_in_price: true,
            freight: Money::new(Decimal::from(6)).unwrap(),
            ..paper(&[(3, Decimal::from(48))])
        };
        let sums = paper_sums(&asked, euro()).unwrap();
        assert_eq!(sums.goods, Decimal::from(144));
        assert_eq!((sums.net, sums.tax, sums.whole), (125.into(), 25.into(), 150.into()));
        assert_eq!((sums.commission, sums.to_maker), (48.into(), 77.into()));
    }

    proptest! {
        #[test]
        fn the_parts_add_up_to_the_whole(
            lines in proptest::collection::vec((1_u32..5_000, 0_i64..10_000_000_000), 1..20),
            tax in 0_i64..9_999, commission in 0_i64..9_999, freight in 0_i64..1_000_000_000, within: bool,
            code in prop::sample::select(vec!["EUR", "JPY", "KWD", "CLF"]),
        ) {
            let currency = Currency::from_code(code).unwrap();
            let lines: Vec<(u32, Decimal)> =
                lines.into_iter().map(|(quantity, price)| (quantity, Decimal::new(price, 6))).collect();
            let asked = NumberedPaper {
                commission: Some(Decimal::new(commission, 4)),
                tax: Decimal::new(tax, 4),
                tax_in_price: within,
                freight: Money::new(Decimal::new(freight, 6)).unwrap(),
                ..paper(&lines)
            };
            let sums = paper_sums(&asked, currency).unwrap();
            prop_assert_eq!(sums.lines.iter().sum::<Decimal>(), sums.goods);
            prop_assert_eq!(sums.net + sums.tax, sums.whole);
            prop_assert_eq!(sums.commission + sums.to_maker + sums.tax, sums.whole);
            let sold = sums.goods + sums.freight;
            prop_assert_eq!(if within { sums.whole } else { sums.net }, sold);
            let all = [sums.goods, sums.freight, sums.net, sums.tax, sums.whole, sums.commission, sums.to_maker];
            for amount in all {
                prop_assert!(amount >= Decimal::ZERO || amount == sums.to_maker);
                prop_assert!(amount.normalize().scale() <= currency.digits());
            }
        }
    }
}
