//! What cutting a sheet makes worth: all the sheet's value and the bench time's go into blanks, off-cuts and scrap, to the
//! last stored digit.

use super::landed::spread;
use super::stock::{self, StockError};
use crate::measure::money::MONEY_PLACES;
use crate::measure::{Decimal, Money, Quantity, TooLarge, exact};
use crate::studio::{Cut, CutPart, Movement, MovementId, MovementKind, ValuationMethod};

/// What each part of a cut is worth.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CutCosts {
    /// The lines, in their order.
    pub lines: Vec<Money>,
    /// The scrap, which leaves the stock.
    pub scrap: Money,
}

/// Shares the value of the metal out by share, scrap's too, and the bench time's over the blanks by theirs (over all lines
/// where none is a blank): largest remainder in millionths, ties to the earlier line. The sum of all is `metal` + `bench`.
///
/// # Errors
/// [`TooLarge`] where a number does not fit, or where there are no lines.
pub fn cut_costs(
    metal: Money,
    bench: Money,
    lines: &[(CutPart, Decimal)],
    scrap_share: Decimal,
) -> Result<CutCosts, TooLarge> {
    let shares: Vec<Decimal> = lines.iter().map(|(_, share)| *share).chain([scrap_share]).collect();
    let mut costs = spread(metal, &shares, MONEY_PLACES)?;
    let scrap = costs.pop().ok_or(TooLarge)?;
    let any_blank = lines.iter().any(|(part, _)| *part == CutPart::Blank);
    let bears = |(part, share): &(CutPart, Decimal)| {
        if *part == CutPart::Blank || !any_blank { *share } else { Decimal::ZERO }
    };
    let bench = spread(bench, &lines.iter().map(bears).collect::<Vec<_>>(), MONEY_PLACES)?;
    let lines = costs.into_iter().zip(bench).map(|(metal, bench)| metal.plus(bench)).collect::<Result<_, _>>()?;
    Ok(CutCosts { lines, scrap })
}

/// What minutes at the bench are worth at a wage an hour, rounded to stored money.
///
/// # Errors
/// [`TooLarge`].
pub fn bench_worth(minutes: Decimal, wage: Money) -> Result<Money, TooLarge> {
    let hours = exact::div(minutes, Decimal::from(60))?;
    Ok(Money::rounded(exact::mul(hours, wage.amount())?))
}

/// What a cut would do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Foretold {
    /// What the sheet that goes out is worth.
    pub metal: Money,
    /// What the bench time adds.
    pub bench: Money,
    /// What each line comes in at, and what leaves with the scrap.
    pub costs: CutCosts,
    /// What is left of the sheet right after it, in its unit.
    pub left: Quantity,
}

/// What a cut would do after the movements of its sheet there are (by date then row), written last of its day.
///
/// # Errors
/// [`StockError`] where the sheet does not suffice or a number does not fit.
pub fn foretell(
    cut: &Cut,
    movements: &[Movement],
    method: ValuationMethod,
    wage: Money,
) -> Result<Foretold, StockError> {
    let id = MovementId(i64::MAX);
    let trial = Movement {
        id,
        item: cut.sheet,
        date: cut.date,
        kind: MovementKind::Issue,
        quantity: cut.quantity,
        cost: None,
        lot: None,
        lot_number: String::new(),
        supplier: String::new(),
        note: String::new(),
        typed: String::new(),
    };
    let mut all = movements.to_vec();
    let place = all.partition_point(|movement| movement.date <= cut.date);
    all.insert(place, trial);
    let ledger = stock::ledger(&all, method)?;
    let line = ledger.lines.iter().find(|line| line.movement == id).ok_or(TooLarge)?;
    let metal = Money::ZERO.minus(line.value_change)?;
    let bench = if cut.bench_in_cost { bench_worth(cut.bench_minutes, wage)? } else { Money::ZERO };
    let shares: Vec<(CutPart, Decimal)> = cut.lines.iter().map(|line| (line.part, line.share)).collect();
    let costs = cut_costs(metal, bench, &shares, cut.scrap_share)?;
    Ok(Foretold { metal, bench, costs, left: line.on_hand })
}

/// A lot that came with a cut, with what it should cost; only those that cost something else now.
pub fn astray<'a>(costs: &CutCosts, lots: &'a [Movement]) -> Vec<(&'a Movement, Money)> {
    let pairs = lots.iter().zip(&costs.lines);
    pairs.filter(|(lot, cost)| lot.cost != Some(**cost)).map(|(lot, cost)| (lot, *cost)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn money(text: &str) -> Money {
        Money::new(text.parse().unwrap()).unwrap()
    }

    #[test]
    fn value_in_is_value_out_to_the_last_digit() {
        let lines = [
            (CutPart::Blank, Decimal::new(7069, 2)),
            (CutPart::Blank, Decimal::new(7069, 2)),
            (CutPart::OffCut, Decimal::new(10, 0)),
        ];
        let costs = cut_costs(money("17.9"), money("1.000001"), &lines, Decimal::new(5, 0)).unwrap();
        let all = costs.lines.iter().fold(costs.scrap, |all, cost| all.plus(*cost).unwrap());
        assert_eq!(all, money("18.900001"));
        // The off-cut bears no bench time: 17.9 · 10 / 156.38 = 1.1446476…, half of that for the scrap.
        assert_eq!(costs.lines[2], money("1.144648"));
        assert_eq!(costs.scrap, money("0.572324"));
        let only = cut_costs(money("1"), money("1"), &lines[2..], Decimal::ZERO).unwrap();
        assert_eq!((only.lines, only.scrap), (vec![money("2")], Money::ZERO));
        assert!(cut_costs(money("1"), money("1"), &[], Decimal::ONE).is_err());
    }
}
