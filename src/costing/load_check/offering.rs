//! Which waiting pieces can share a load.

use super::checking::{KilnLimits, celsius_accepted, common, minutes_accepted, shelf_area};
use super::{Accepted, LoadPiece, Offer};
use crate::costing::piece::CostError;
use crate::measure::{Decimal, exact};
use crate::studio::{BatchId, Firing, PieceId, StudioRates};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// A waiting piece with what it accepts.
struct Waits<'a> {
    piece: &'a LoadPiece<'a>,
    firing: &'a Firing,
    celsius: Accepted,
    minutes: Accepted,
    area: Decimal,
}

/// Groups of waiting pieces that can share a load, most pieces first, each piece in one group: the temperatures and
/// minutes all accept overlap below every ceiling, and the shelf holds them. A torch takes pieces one by one.
///
/// The group of most pieces is found first (the smallest first on the shelf), then the one of most pieces among those
/// left. Proposed are the temperature and the minutes most of its pieces are planned for, of equally many the lower ones,
/// brought into what all accept. A piece that accepts nothing in this kiln is in no group. The order of `pieces` does not
/// matter.
///
/// # Errors
/// Those of [`shelf_area`].
pub fn offers(pieces: &[LoadPiece<'_>], kiln: &KilnLimits, rates: &StudioRates) -> Result<Vec<Offer>, CostError> {
    let mut waits = Vec::new();
    for piece in pieces {
        let firing = piece.firing();
        let celsius = celsius_accepted(piece, kiln, rates).flatten();
        let minutes = minutes_accepted(piece, rates).flatten();
        if let (Some(firing), Some(celsius), Some(minutes)) = (firing, celsius, minutes) {
            waits.push(Waits { piece, firing, celsius, minutes, area: shelf_area(piece.plan)? });
        }
    }
    waits.sort_by_key(|one| (one.area, one.piece.batch, one.piece.piece));
    let mut offers = Vec::new();
    while let Some((celsius, minutes)) = fullest(&waits, kiln)? {
        let (group, left) = fill(waits, kiln, celsius, minutes)?;
        waits = left;
        match offer(&group)? {
            Some(offer) => offers.push(offer),
            None => break,
        }
    }
    Ok(offers)
}

/// The heat and minutes at which most pieces can be fired together; of equal ones the coolest, then the shortest. What
/// pieces accept in common begins where one of them begins.
fn fullest(waits: &[Waits<'_>], kiln: &KilnLimits) -> Result<Option<(Decimal, Decimal)>, CostError> {
    let heats: BTreeSet<Decimal> = waits.iter().map(|one| one.celsius.from).collect();
    let times: BTreeSet<Decimal> = waits.iter().map(|one| one.minutes.from).collect();
    let mut best: Option<(usize, Decimal, Decimal)> = None;
    for celsius in &heats {
        for minutes in &times {
            let mut room = Room::new(kiln);
            let mut pieces = 0;
            for one in waits.iter().filter(|one| one.accepts(*celsius, *minutes)) {
                if room.take(one.area)? {
                    pieces += 1;
                }
            }
            if pieces > best.map_or(0, |(most, ..)| most) {
                best = Some((pieces, *celsius, *minutes));
            }
        }
    }
    Ok(best.map(|(_, celsius, minutes)| (celsius, minutes)))
}

/// The pieces that go in at that heat and time, and those left.
#[allow(clippy::type_complexity)] // two lists of the same
fn fill<'a>(
    waits: Vec<Waits<'a>>,
    kiln: &KilnLimits,
    celsius: Decimal,
    minutes: Decimal,
) -> Result<(Vec<Waits<'a>>, Vec<Waits<'a>>), CostError> {
    let mut room = Room::new(kiln);
    let (mut group, mut left) = (Vec::new(), Vec::new());
    for one in waits {
        if one.accepts(celsius, minutes) && room.take(one.area)? { group.push(one) } else { left.push(one) }
    }
    Ok((group, left))
}

impl Waits<'_> {
    fn accepts(&self, celsius: Decimal, minutes: Decimal) -> bool {
        self.celsius.holds(celsius) && self.minutes.holds(minutes)
    }
}

/// What is left of a shelf, or of a torch.
struct Room {
    area: Option<Decimal>,
    pieces: usize,
}

impl Room {
    fn new(kiln: &KilnLimits) -> Self {
        Self { area: kiln.shelf_cm2, pieces: if kiln.shelf_cm2.is_some() { usize::MAX } else { 1 } }
    }

    /// Takes a piece where there is room for it.
    fn take(&mut self, area: Decimal) -> Result<bool, CostError> {
        if self.pieces == 0 || self.area.is_some_and(|room| area > room) {
            return Ok(false);
        }
        self.pieces -= 1;
        self.area = self.area.map(|room| exact::sub(room, area)).transpose()?;
        Ok(true)
    }
}

fn offer(group: &[Waits<'_>]) -> Result<Option<Offer>, CostError> {
    let celsius = common(group.iter().map(|one| Some(one.celsius)));
    let minutes = common(group.iter().map(|one| Some(one.minutes)));
    let (Some(celsius_accepted), Some(minutes_accepted)) = (celsius, minutes) else { return Ok(None) };
    let mut pieces: Vec<(BatchId, PieceId)> = group.iter().map(|one| (one.piece.batch, one.piece.piece)).collect();
    pieces.sort_unstable();
    Ok(Some(Offer {
        pieces: pieces.into_iter().map(|(_, piece)| piece).collect(),
        celsius: celsius_accepted.nearest(usual(group.iter().map(|one| one.firing.celsius))).normalize(),
        minutes: minutes_accepted.nearest(usual(group.iter().map(|one| one.firing.minutes))).normalize(),
        celsius_accepted,
        minutes_accepted,
        area_cm2: exact::sum(group.iter().map(|one| one.area))?.normalize(),
    }))
}

/// What is named most often; of equal ones the lowest.
fn usual(values: impl Iterator<Item = Decimal>) -> Decimal {
    let mut counts: BTreeMap<Decimal, usize> = BTreeMap::new();
    for value in values {
        *counts.entry(value).or_default() += 1;
    }
    let most = counts.into_iter().max_by_key(|(value, count)| (*count, Reverse(*value)));
    most.map_or(Decimal::ZERO, |(value, _)| value)
}

#[cfg(test)]
mod tests;
