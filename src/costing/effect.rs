//! What other figures of the studio do to its designs: by how much full cost moves, and which tickets.

use super::answer::costing;
use super::piece::piece_cost;
use super::resolve::resolve;
use crate::measure::{Decimal, TooLarge, exact};
use crate::studio::{BookDesign, ItemId, StudioRates};

/// By how much full cost moves, over several designs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct CostMove {
    /// Designs that were costed under both.
    pub designs: usize,
    /// Designs that cannot be costed.
    pub left_out: usize,
    /// Average of the moves of full cost per good piece, money; below 0 where they get cheaper.
    pub average: Decimal,
    /// The sum of the moves as a share of the sum of full costs before; none where that is zero.
    pub share: Option<Decimal>,
}

/// Tickets that move, over several designs and all their channels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TicketMoves {
    /// Tickets that rise.
    pub higher: usize,
    /// Tickets that fall.
    pub lower: usize,
    /// Tickets that stay.
    pub same: usize,
    /// Prices there are under one of the two only.
    pub other: usize,
}

/// Costs designs under the studio's figures as they are and as they would be. `unit_price` as in [`resolve`].
///
/// # Errors
/// [`TooLarge`] where a rate of the studio or a sum does not fit.
pub fn cost_move<'a>(
    designs: impl IntoIterator<Item = &'a BookDesign>,
    now: &StudioRates,
    then: &StudioRates,
    unit_price: impl Fn(ItemId) -> Option<Decimal>,
) -> Result<CostMove, TooLarge> {
    let mut moved = CostMove::default();
    let (mut before, mut change) = (Decimal::ZERO, Decimal::ZERO);
    for design in designs {
        let old = piece_cost(&resolve(design, now, &unit_price)?);
        let new = piece_cost(&resolve(design, then, &unit_price)?);
        if let (Ok(old), Ok(new)) = (old, new) {
            moved.designs += 1;
            before = exact::add(before, old.full)?;
            change = exact::add(change, exact::sub(new.full, old.full)?)?;
        } else {
            moved.left_out += 1;
        }
    }
    if moved.designs > 0 {
        moved.average = exact::div(change, Decimal::from(moved.designs))?;
    }
    if before > Decimal::ZERO {
        moved.share = Some(exact::div(change, before)?);
    }
    Ok(moved)
}

/// Prices designs under the studio's figures as they are and as they would be, each channel with its own ticket.
/// Designs that cannot be costed are left out.
///
/// # Errors
/// [`TooLarge`] where a rate of the studio does not fit.
pub fn ticket_moves<'a>(
    designs: impl IntoIterator<Item = &'a BookDesign>,
    now: &StudioRates,
    then: &StudioRates,
    unit_price: impl Fn(ItemId) -> Option<Decimal>,
) -> Result<TicketMoves, TooLarge> {
    let mut moves = TicketMoves::default();
    for design in designs {
        let old = costing(&resolve(design, now, &unit_price)?);
        let new = costing(&resolve(design, then, &unit_price)?);
        let (Ok(old), Ok(new)) = (old, new) else { continue };
        // The channels of a design and their order do not depend on the studio.
        for (old, new) in old.channels.iter().zip(&new.channels) {
            match (&old.priced, &new.priced) {
                (Ok(old), Ok(new)) if new.ticket > old.ticket => moves.higher += 1,
                (Ok(old), Ok(new)) if new.ticket < old.ticket => moves.lower += 1,
                (Ok(_), Ok(_)) => moves.same += 1,
                (Err(_), Err(_)) => {}
                _ => moves.other += 1,
            }
        }
    }
    Ok(moves)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::costing::samples::lantern_drop;
    use crate::measure::Money;
    use crate::studio::{DesignId, Follows, defaults};

    fn follower(follows: Follows) -> BookDesign {
        BookDesign {
            id: DesignId(1),
            design: lantern_drop(),
            follows,
            notes: String::new(),
            retired: false,
            has_photo: false,
        }
    }

    #[test]
    fn a_dearer_hour_moves_the_cost_by_the_hours_of_a_piece() {
        let design = follower(Follows { labour: true, ..Follows::default() });
        let now = defaults::studio_rates();
        let then = StudioRates { labour_per_hour: Money::rounded(Decimal::from(32)), ..now.clone() };
        let moved = cost_move([&design], &now, &then, |_| None).unwrap();
        let hours = piece_cost(&design.design).unwrap().hours_per_good_piece;
        assert_eq!((moved.designs, moved.left_out), (1, 0));
        // Ten more an hour; the hours of a good piece already carry the losses.
        assert_eq!(exact::round(moved.average, 12), exact::round(hours * Decimal::TEN, 12));
        assert!(moved.share.unwrap() > Decimal::ZERO);
        let tickets = ticket_moves([&design], &now, &then, |_| None).unwrap();
        assert!(tickets.higher > 0);
        assert_eq!(tickets.lower, 0);
    }

    #[test]
    fn a_design_that_follows_nothing_does_not_move() {
        let design = follower(Follows::default());
        let now = defaults::studio_rates();
        let then = StudioRates { labour_per_hour: Money::rounded(Decimal::from(32)), ..now.clone() };
        let moved = cost_move([&design], &now, &then, |_| None).unwrap();
        assert!(moved.average.is_zero());
        let tickets = ticket_moves([&design], &now, &then, |_| None).unwrap();
        assert_eq!((tickets.higher, tickets.lower, tickets.other), (0, 0, 0));
        assert!(tickets.same > 0);
    }

    #[test]
    fn without_designs_nothing_moves() {
        let rates = defaults::studio_rates();
        assert_eq!(cost_move([], &rates, &rates, |_| None), Ok(CostMove::default()));
    }
}
