//! Cost as it flows through batches: each entry spends, loses or moves it, in the order of the entries of all batches.

use super::account::{CostPart, Moved, OwnCost};
use super::ask::{AccountAsk, AccountError, LoadShare};
use super::now::{BatchNow, pieces_of};
use super::parts::{CostParts, shared_equally};
use super::track::{Standing, Track};
use crate::costing::share::split;
use crate::measure::exact::{add, div, mul, round, sub};
use crate::measure::money::MONEY_PLACES;
use crate::measure::quantity::QUANTITY_PLACES;
use crate::measure::{Decimal, Money, TooLarge};
use crate::studio::{BatchId, BatchRecord, BenchDeed, BenchEntry, LoadId, LossKind, MovementId, PieceId};
use std::collections::{BTreeMap, BTreeSet};

/// Where and on what something was spent.
pub(super) type Spot = (usize, CostPart);

/// How much was spent. Quantity: the material's unit, minutes, kWh, minutes in the heat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Spent {
    pub(super) quantity: Decimal,
    pub(super) amount: Money,
}

impl Spent {
    fn put(&mut self, other: Self) -> Result<(), TooLarge> {
        self.quantity = add(self.quantity, other.quantity)?;
        self.amount = self.amount.plus(other.amount)?;
        Ok(())
    }
}

/// A piece lost abnormally, for the plan's side of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct LostPiece {
    /// Steps it went through in this batch, or whose work it was in.
    pub(super) through: BTreeSet<usize>,
    /// The step it came at, where it came from another batch.
    pub(super) came_at: Option<usize>,
    /// What came with it.
    pub(super) came: Money,
}

/// What a piece carries.
#[derive(Debug, Clone, Default)]
struct Purse {
    /// Its own, borne by it alone.
    own: CostParts,
    own_lines: Vec<OwnCost>,
    /// Its share of everything it took part in, its own with it: its cost to its step.
    spent: BTreeMap<Spot, Spent>,
    came: Money,
    came_at: Option<usize>,
    /// Hands-on minutes, those in other batches too.
    minutes: Decimal,
}

/// What is between two batches: given and not yet taken.
struct Given {
    from: BatchId,
    to: BatchId,
    shared: Money,
    own: Money,
    minutes: Decimal,
}

/// A batch's cost as it stands.
pub(super) struct Ledger<'a> {
    pub(super) record: &'a BatchRecord,
    pub(super) now: BatchNow,
    /// What its pieces bear together.
    pub(super) pool: CostParts,
    pub(super) spent: CostParts,
    /// Net of its scrap.
    pub(super) abnormal: Money,
    pub(super) used: BTreeMap<Spot, Spent>,
    /// Of it, what abnormal losses took.
    pub(super) used_abnormally: BTreeMap<Spot, Spent>,
    pub(super) lost_abnormally: Vec<LostPiece>,
    pub(super) loads: BTreeMap<usize, BTreeSet<LoadId>>,
    pub(super) came: Vec<(Moved, usize)>,
    /// With the steps of the pieces.
    pub(super) gave: Vec<(Moved, Vec<usize>)>,
    pub(super) started: u32,
    pub(super) normally_lost: u32,
    purses: BTreeMap<PieceId, Purse>,
}

/// Runs all entries of all batches of the ask, in the order they were written.
pub(super) fn run(ask: &AccountAsk) -> Result<BTreeMap<BatchId, Ledger<'_>>, AccountError> {
    let mut ledgers: BTreeMap<BatchId, Ledger<'_>> =
        ask.records.iter().map(|(id, record)| (*id, Ledger::new(record))).collect();
    let mut entries: Vec<(BatchId, &BenchEntry)> =
        ask.records.iter().flat_map(|(id, record)| record.entries.iter().map(|entry| (*id, entry))).collect();
    entries.sort_by_key(|(_, entry)| entry.id);
    let mut between = Between { tracks: BTreeMap::new(), costs: BTreeMap::new() };
    for (id, entry) in entries {
        let ledger = ledgers.get_mut(&id).ok_or(AccountError::NoBatch { batch: id })?;
        ledger.take(ask, entry, &mut between)?;
    }
    Ok(ledgers)
}

struct Between {
    tracks: BTreeMap<PieceId, Track>,
    costs: BTreeMap<PieceId, Given>,
}

impl<'a> Ledger<'a> {
    fn new(record: &'a BatchRecord) -> Self {
        Self {
            record,
            now: BatchNow::before(record),
            pool: CostParts::default(),
            spent: CostParts::default(),
            abnormal: Money::ZERO,
            used: BTreeMap::new(),
            used_abnormally: BTreeMap::new(),
            lost_abnormally: Vec::new(),
            loads: BTreeMap::new(),
            came: Vec::new(),
            gave: Vec::new(),
            started: 0,
            normally_lost: 0,
            purses: BTreeMap::new(),
        }
    }

    /// Pieces that bear its cost, by row.
    pub(super) fn bearers(&self) -> Vec<(PieceId, Standing)> {
        self.now.standings().filter(|(_, standing)| standing.bears_cost()).collect()
    }

    /// What is a piece's own, and its hands-on minutes.
    pub(super) fn own(&self, piece: PieceId) -> (CostParts, Vec<OwnCost>, Decimal) {
        let of = |purse: &Purse| (purse.own, purse.own_lines.clone(), purse.minutes);
        self.purses.get(&piece).map(of).unwrap_or_default()
    }

    fn take(&mut self, ask: &AccountAsk, entry: &BenchEntry, between: &mut Between) -> Result<(), AccountError> {
        let wrong = |problem| AccountError::Entry { entry: entry.id, problem };
        self.now.accepts(&entry.deed).map_err(wrong)?;
        if let BenchDeed::Gave { to, pieces } = &entry.deed {
            self.give(*to, pieces, between)?;
        }
        // A lost piece's place has to be known before it is lost.
        let places: Vec<usize> = pieces_of(&entry.deed).iter().map(|piece| self.place(*piece)).collect();
        self.now.take_with(entry, &mut between.tracks).map_err(wrong)?;
        match &entry.deed {
            BenchDeed::Started { pieces } => {
                self.started += u32::try_from(pieces.len()).map_err(|_| TooLarge)?;
            }
            BenchDeed::Got { from, step, pieces } => self.get(ask, *from, *step, pieces, between)?,
            BenchDeed::Took { step, pieces, material, movement, quantity, .. } => {
                let spent = Spent { quantity: quantity.amount(), amount: issue_cost(ask, *movement)? };
                self.spend((*step, CostPart::Material(material.clone())), pieces, spent)?;
            }
            BenchDeed::WashedBack { step, pieces, material, movement, quantity } => {
                let amount = Money::ZERO.minus(issue_cost(ask, *movement)?)?;
                let spent = Spent { quantity: sub(Decimal::ZERO, quantity.amount())?, amount };
                self.spend((*step, CostPart::Material(material.clone())), pieces, spent)?;
            }
            BenchDeed::Used { step, pieces, material, quantity, .. } => {
                let materials = &self.record.batch.plan.materials;
                let price = materials.iter().find(|one| one.id == *material).map_or(Decimal::ZERO, |one| one.price);
                let amount = Money::rounded(mul(quantity.amount(), price)?);
                let spent = Spent { quantity: quantity.amount(), amount };
                self.spend((*step, CostPart::Material(material.clone())), pieces, spent)?;
            }
            BenchDeed::Worked { step, pieces, minutes, labour_per_hour, overhead_per_hour, .. } => {
                let quantity = round(*minutes, QUANTITY_PLACES);
                for (part, rate) in [(CostPart::Labour, labour_per_hour), (CostPart::Overhead, overhead_per_hour)] {
                    let amount = Money::rounded(div(mul(*minutes, *rate)?, Decimal::from(60))?);
                    self.spend((*step, part), pieces, Spent { quantity, amount })?;
                }
            }
            BenchDeed::Fired { step, pieces, load } => {
                self.loads.entry(*step).or_default().insert(*load);
                for piece in pieces {
                    let share = ask
                        .load_shares
                        .get(&(*load, *piece))
                        .ok_or(AccountError::NoLoadShare { load: *load, piece: *piece })?;
                    self.fire(*step, *piece, share)?;
                }
            }
            BenchDeed::Lost { pieces, kind: LossKind::Normal, .. } => self.lose_normally(pieces)?,
            BenchDeed::Lost { pieces, kind: LossKind::Abnormal, .. } | BenchDeed::Abandoned { pieces, .. } => {
                for (piece, place) in pieces.iter().zip(places) {
                    self.lose_abnormally(*piece, place)?;
                }
            }
            BenchDeed::Gave { .. }
            | BenchDeed::Passed { .. }
            | BenchDeed::Skipped { .. }
            | BenchDeed::SentBack { .. }
            | BenchDeed::Finished { .. } => {}
        }
        Ok(())
    }

    /// The step a piece is at; one past the last when it is done.
    fn place(&self, piece: PieceId) -> usize {
        match self.now.standing(piece) {
            Some(Standing::At(step)) => step,
            _ => self.now.steps(),
        }
    }

    fn fire(&mut self, step: usize, piece: PieceId, share: &LoadShare) -> Result<(), TooLarge> {
        let energy = Spent { quantity: round(share.kwh, QUANTITY_PLACES), amount: share.energy };
        self.spend((step, CostPart::KilnEnergy), &[piece], energy)?;
        let minutes = round(mul(share.hot_hours, Decimal::from(60))?, QUANTITY_PLACES);
        self.spend((step, CostPart::KilnWear), &[piece], Spent { quantity: minutes, amount: share.wear })
    }

    /// Spends on pieces, equally; what is done to a piece again is its own.
    fn spend(&mut self, spot: Spot, pieces: &[PieceId], spent: Spent) -> Result<(), TooLarge> {
        self.spent = self.spent.plus(&as_parts(&spot.1, spent.amount))?;
        self.used.entry(spot.clone()).or_default().put(spent)?;
        let equal = vec![Decimal::ONE; pieces.len()];
        let amounts = split(spent.amount.amount(), &equal, MONEY_PLACES)?;
        let quantities = split(spent.quantity, &equal, QUANTITY_PLACES)?;
        for ((piece, amount), quantity) in pieces.iter().zip(amounts).zip(quantities) {
            let part = Spent { quantity, amount: Money::new(amount).ok_or(TooLarge)? };
            let parts = as_parts(&spot.1, part.amount);
            let purse = self.purses.entry(*piece).or_default();
            purse.spent.entry(spot.clone()).or_default().put(part)?;
            if spot.1 == CostPart::Labour {
                purse.minutes = add(purse.minutes, quantity)?;
            }
            match self.now.standing(*piece) {
                // Written down after it was lost: it goes with the loss.
                Some(Standing::Lost { kind: LossKind::Abnormal, .. }) => {
                    self.abnormal = self.abnormal.plus(part.amount)?;
                    self.used_abnormally.entry(spot.clone()).or_default().put(part)?;
                }
                Some(standing) if standing.bears_cost() && self.now.again(*piece, spot.0) => {
                    purse.own = purse.own.plus(&parts)?;
                    let line = purse.own_lines.iter_mut().find(|line| line.step == Some(spot.0) && line.part == spot.1);
                    match line {
                        Some(line) => line.amount = line.amount.plus(part.amount)?,
                        None if part.amount.is_zero() => {}
                        None => purse.own_lines.push(OwnCost {
                            step: Some(spot.0),
                            part: spot.1.clone(),
                            amount: part.amount,
                        }),
                    }
                }
                _ => self.pool = self.pool.plus(&parts)?,
            }
        }
        Ok(())
    }

    fn scrap(&mut self) -> Result<CostParts, TooLarge> {
        let scrap = Money::rounded(self.record.batch.plan.rates.scrap_value);
        let parts = CostParts { scrap, ..CostParts::default() };
        self.spent = self.spent.plus(&parts)?;
        Ok(parts)
    }

    /// A usual loss: the good pieces bear it, its own with it, less its scrap.
    fn lose_normally(&mut self, pieces: &[PieceId]) -> Result<(), TooLarge> {
        for piece in pieces {
            let scrap = self.scrap()?;
            let purse = self.purses.entry(*piece).or_default();
            let own = std::mem::take(&mut purse.own);
            purse.own_lines.clear();
            self.pool = self.pool.plus(&own)?.plus(&scrap)?;
            self.normally_lost += 1;
        }
        Ok(())
    }

    /// A loss that is not usual: its cost to its step, less its scrap, leaves the batch.
    fn lose_abnormally(&mut self, piece: PieceId, place: usize) -> Result<(), TooLarge> {
        let scrap = self.scrap()?;
        let purse = self.purses.entry(piece).or_default();
        let mut to_step = CostParts { came: purse.came, ..CostParts::default() };
        for (spot, spent) in &purse.spent {
            to_step = to_step.plus(&as_parts(&spot.1, spent.amount))?;
            self.used_abnormally.entry(spot.clone()).or_default().put(*spent)?;
        }
        let own = std::mem::take(&mut purse.own);
        purse.own_lines.clear();
        let mut through: BTreeSet<usize> = (purse.came_at.unwrap_or(0)..place).collect();
        if purse.spent.keys().any(|(step, _)| *step == place) {
            through.insert(place);
        }
        self.lost_abnormally.push(LostPiece { through, came_at: purse.came_at, came: purse.came });
        self.pool = self.pool.minus(&to_step.minus(&own)?)?;
        self.abnormal = self.abnormal.plus(to_step.total()?)?.minus(scrap.scrap)?;
        Ok(())
    }

    /// Pieces go to another batch with their equal share of the cost so far and what is their own.
    fn give(&mut self, to: BatchId, pieces: &[PieceId], between: &mut Between) -> Result<(), TooLarge> {
        let bearers = self.bearers();
        let shares = shared_equally(&self.pool, bearers.len())?;
        let mut amount = Money::ZERO;
        for ((piece, _), share) in bearers.iter().zip(shares).filter(|((piece, _), _)| pieces.contains(piece)) {
            let purse = self.purses.remove(piece).unwrap_or_default();
            self.pool = self.pool.minus(&share)?;
            let (shared, own) = (share.total()?, purse.own.total()?);
            amount = amount.plus(shared)?.plus(own)?;
            let from = self.record.id;
            between.costs.insert(*piece, Given { from, to, shared, own, minutes: purse.minutes });
        }
        let steps = pieces.iter().map(|piece| self.place(*piece)).collect();
        self.gave.push((Moved { batch: to, pieces: pieces.to_vec(), amount }, steps));
        Ok(())
    }

    fn get(
        &mut self,
        ask: &AccountAsk,
        from: BatchId,
        step: usize,
        pieces: &[PieceId],
        between: &mut Between,
    ) -> Result<(), AccountError> {
        if !ask.records.contains_key(&from) {
            return Err(AccountError::NoBatch { batch: from });
        }
        let mut amount = Money::ZERO;
        for piece in pieces {
            let given = between
                .costs
                .remove(piece)
                .filter(|given| given.from == from && given.to == self.record.id)
                .ok_or(AccountError::NotGiven { piece: *piece, from })?;
            let came = given.shared.plus(given.own)?;
            amount = amount.plus(came)?;
            self.pool.came = self.pool.came.plus(given.shared)?;
            let mut purse = Purse { came, came_at: Some(step), minutes: given.minutes, ..Purse::default() };
            if !given.own.is_zero() {
                purse.own.came = given.own;
                purse.own_lines.push(OwnCost { step: None, part: CostPart::Came, amount: given.own });
            }
            self.purses.insert(*piece, purse);
        }
        self.spent.came = self.spent.came.plus(amount)?;
        self.came.push((Moved { batch: from, pieces: pieces.to_vec(), amount }, step));
        Ok(())
    }
}

fn issue_cost(ask: &AccountAsk, movement: MovementId) -> Result<Money, AccountError> {
    ask.issue_costs.get(&movement).copied().ok_or(AccountError::NoIssueCost { movement })
}

fn as_parts(part: &CostPart, amount: Money) -> CostParts {
    let none = CostParts::default();
    match part {
        CostPart::Material(_) => CostParts { materials: amount, ..none },
        CostPart::Labour => CostParts { labour: amount, ..none },
        CostPart::Overhead => CostParts { overhead: amount, ..none },
        CostPart::KilnEnergy => CostParts { kiln_energy: amount, ..none },
        CostPart::KilnWear => CostParts { kiln_wear: amount, ..none },
        CostPart::Came => CostParts { came: amount, ..none },
    }
}
