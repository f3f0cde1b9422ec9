//! A made-up workshop: batches to which things happen.

use chrono::NaiveDate;
use enamelwright::costing::batch::{
    AccountAsk, AccountError, BatchAccount, BatchNow, LoadShare, Standing, account, planned_minutes, planned_take,
};
use enamelwright::measure::{Currency, Decimal, Money, Quantity, Unit, exact};
use enamelwright::studio::{
    Batch, BatchId, BatchRecord, BatchState, BenchDeed, BenchEntry, Blank, Design, DesignCode, DesignId, EntryId,
    Firing, KilnRates, LoadId, LossCause, LossKind, Material, MaterialId, MaterialKind, Measured, Metal, MovementId,
    Outline, Piece, PieceId, Rates, Step, StepKind, Thickness, Timed,
};
use std::collections::BTreeMap;

pub(crate) fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub(crate) fn money(text: &str) -> Money {
    Money::new(decimal(text)).unwrap()
}

pub(crate) fn pieces(from: i64, to: i64) -> Vec<PieceId> {
    (from..=to).map(PieceId).collect()
}

/// Two steps that cost nothing: work, and a firing.
pub(crate) fn bare_plan() -> Design {
    let step = |kind: StepKind| Step {
        name: kind.name().to_owned(),
        kind,
        setup_minutes: Decimal::ZERO,
        minutes_per_piece: Decimal::ZERO,
        good: Decimal::ONE,
        uses: Vec::new(),
    };
    let firing = Firing {
        celsius: Decimal::from(700),
        minutes: Decimal::TWO,
        pieces_per_load: 5,
        attended_minutes_per_load: Decimal::ZERO,
    };
    Design {
        currency: Currency::from_code("EUR").unwrap(),
        code: DesignCode::new("BARE").unwrap(),
        name: "Bare".to_owned(),
        pieces: 4,
        for_children: false,
        rates: Rates { labour_per_hour: Decimal::ZERO, overhead_per_hour: Decimal::ZERO, scrap_value: Decimal::ZERO },
        kiln: KilnRates {
            kwh_per_load: Decimal::ZERO,
            price_per_kwh: Decimal::ZERO,
            recovery_minutes: Decimal::ZERO,
            wear_per_hour: Decimal::ZERO,
            solder_margin_c: Decimal::ZERO,
        },
        blank: Blank {
            metal: Metal::Copper,
            thickness: Thickness::ThicknessMm(Decimal::ONE),
            outline: Outline::Disc { diameter_mm: Decimal::from(20) },
            dome_height_mm: Decimal::ZERO,
            holes_mm: Vec::new(),
            solder_flow_c: None,
            count: 1,
        },
        materials: vec![Material {
            id: MaterialId("metal".to_owned()),
            name: "Metal".to_owned(),
            kind: MaterialKind::Blank,
            unit: Unit::Each,
            price: Decimal::ONE,
            fusing: None,
            lead_bearing: false,
            metal: None,
        }],
        steps: vec![step(StepKind::Prepare), step(StepKind::Fire(firing))],
        channels: Vec::new(),
    }
}

pub(crate) fn lost(step: usize, pieces: Vec<PieceId>, kind: LossKind) -> BenchDeed {
    BenchDeed::Lost { step, pieces, cause: LossCause::Cracked, kind, load: None, note: String::new() }
}

pub(crate) fn worked(
    step: usize,
    pieces: Vec<PieceId>,
    minutes: Decimal,
    labour: Decimal,
    overhead: Decimal,
) -> BenchDeed {
    let (labour_per_hour, overhead_per_hour) = (labour, overhead);
    BenchDeed::Worked { step, pieces, minutes, labour_per_hour, overhead_per_hour, how: Timed::Typed }
}

pub(crate) fn used(step: usize, pieces: Vec<PieceId>, quantity: Decimal) -> BenchDeed {
    let material = MaterialId("metal".to_owned());
    BenchDeed::Used { step, pieces, material, quantity: Quantity::new(quantity).unwrap(), how: Measured::Weighed }
}

pub(crate) struct World {
    plan: Design,
    records: BTreeMap<BatchId, BatchRecord>,
    issue_costs: BTreeMap<MovementId, Money>,
    load_shares: BTreeMap<(LoadId, PieceId), LoadShare>,
    entries: i64,
    pieces: i64,
    loads: i64,
}

impl World {
    pub(crate) fn new(plan: Design) -> Self {
        Self {
            plan,
            records: BTreeMap::new(),
            issue_costs: BTreeMap::new(),
            load_shares: BTreeMap::new(),
            entries: 0,
            pieces: 0,
            loads: 0,
        }
    }

    pub(crate) fn begin(&mut self, count: i64) -> BatchId {
        let id = BatchId(i64::try_from(self.records.len()).unwrap() + 1);
        let begun = pieces(self.pieces + 1, self.pieces + count);
        self.pieces += count;
        let piece = |(place, id): (u32, PieceId)| Piece {
            id,
            batch: BatchId(0),
            place,
            number: None,
            finished: None,
            second: false,
            note: String::new(),
        };
        let batch = Batch {
            number: u32::try_from(id.0).unwrap(),
            design: DesignId(1),
            name: self.plan.name.clone(),
            started: day(),
            plan: self.plan.clone(),
            stock: BTreeMap::new(),
            note: String::new(),
            state: BatchState::Open,
        };
        let pieces = (1..).zip(begun.iter().copied()).map(piece).collect();
        self.records.insert(id, BatchRecord { id, batch, pieces, entries: Vec::new() });
        self.put(id, BenchDeed::Started { pieces: begun });
        id
    }

    pub(crate) fn batches(&self) -> Vec<BatchId> {
        self.records.keys().copied().collect()
    }

    pub(crate) fn record(&self, id: BatchId) -> &BatchRecord {
        &self.records[&id]
    }

    pub(crate) fn now(&self, id: BatchId) -> BatchNow {
        BatchNow::checked(self.record(id)).unwrap()
    }

    pub(crate) fn next_entry(&self, batch: BatchId, deed: BenchDeed) -> BenchEntry {
        BenchEntry { id: EntryId(self.entries + 1), batch, date: day(), deed }
    }

    /// Writes an entry, and keeps the pieces' rows as a book would.
    pub(crate) fn put(&mut self, id: BatchId, deed: BenchDeed) {
        let entry = self.next_entry(id, deed.clone());
        self.entries += 1;
        let record = self.records.get_mut(&id).unwrap();
        record.entries.push(entry);
        if let BenchDeed::Finished { pieces } = &deed {
            for piece in record.pieces.iter_mut().filter(|piece| pieces.contains(&piece.id)) {
                piece.number = Some(format!("P-{}", piece.id.0));
            }
        }
        if let BenchDeed::Gave { to, pieces } = &deed {
            let (gone, left) = std::mem::take(&mut record.pieces).into_iter().partition(|one| pieces.contains(&one.id));
            record.pieces = left;
            let gone: Vec<Piece> = gone;
            let other = self.records.get_mut(to).unwrap();
            other.pieces.extend(gone);
            other.pieces.sort_by_key(|piece| piece.id);
        }
    }

    fn movement(&mut self, cost: Decimal) -> MovementId {
        let id = MovementId(i64::try_from(self.issue_costs.len()).unwrap() + 1);
        self.issue_costs.insert(id, Money::rounded(cost));
        id
    }

    pub(crate) fn take_stock(
        &mut self,
        batch: BatchId,
        step: usize,
        pieces: Vec<PieceId>,
        quantity: Decimal,
        cost: Decimal,
    ) {
        let material = self.plan.materials[0].id.clone();
        self.take_material(batch, step, pieces, material, quantity, cost);
    }

    fn take_material(
        &mut self,
        batch: BatchId,
        step: usize,
        pieces: Vec<PieceId>,
        material: MaterialId,
        quantity: Decimal,
        cost: Decimal,
    ) {
        let (movement, quantity) = (self.movement(cost), Quantity::new(exact::round(quantity, 9)).unwrap());
        self.put(batch, BenchDeed::Took { step, pieces, material, movement, quantity, how: Measured::Weighed });
    }

    /// A load whose energy costs each piece so much.
    pub(crate) fn fire(&mut self, batch: BatchId, step: usize, pieces: Vec<PieceId>, energy: &str) {
        let share = LoadShare { kwh: decimal("0.1"), energy: money(energy), ..LoadShare::default() };
        self.fire_with(batch, step, pieces, share);
    }

    fn fire_with(&mut self, batch: BatchId, step: usize, pieces: Vec<PieceId>, share: LoadShare) {
        self.loads += 1;
        let load = LoadId(self.loads);
        for piece in &pieces {
            self.load_shares.insert((load, *piece), share);
        }
        self.put(batch, BenchDeed::Fired { step, pieces, load });
    }

    /// Pieces go to another batch, those of each step in one entry there.
    pub(crate) fn give(&mut self, from: BatchId, to: BatchId, pieces: Vec<PieceId>) {
        let now = self.now(from);
        let mut steps: BTreeMap<usize, Vec<PieceId>> = BTreeMap::new();
        for piece in &pieces {
            let step = match now.standing(*piece) {
                Some(Standing::At(step)) => step,
                _ => self.plan.steps.len(),
            };
            steps.entry(step).or_default().push(*piece);
        }
        self.put(from, BenchDeed::Gave { to, pieces });
        for (step, pieces) in steps {
            self.put(to, BenchDeed::Got { from, step, pieces });
        }
    }

    pub(crate) fn ask(&self, batch: BatchId) -> AccountAsk {
        AccountAsk {
            batch,
            records: self.records.clone(),
            issue_costs: self.issue_costs.clone(),
            load_shares: self.load_shares.clone(),
        }
    }

    pub(crate) fn account(&self, batch: BatchId) -> Result<BatchAccount, AccountError> {
        account(&self.ask(batch))
    }

    /// Does every step for the first pieces exactly as planned, in full loads.
    pub(crate) fn as_planned(&mut self, batch: BatchId, count: i64) {
        let plan = self.plan.clone();
        let all = pieces(1, count);
        let number = u32::try_from(count).unwrap();
        for (step, planned) in plan.steps.iter().enumerate() {
            for take in planned_take(&plan, step, number).unwrap() {
                let price = plan.materials.iter().find(|one| one.id == take.material).unwrap().price;
                let quantity = take.quantity.amount();
                self.take_material(batch, step, all.clone(), take.material, quantity, quantity * price);
            }
            let minutes = planned_minutes(&plan, step, number, true).unwrap();
            if let StepKind::Fire(firing) = &planned.kind {
                for load in all.chunks(usize::try_from(firing.pieces_per_load).unwrap()) {
                    let each = Decimal::ONE / Decimal::from(load.len());
                    let hours = (firing.minutes + plan.kiln.recovery_minutes) / Decimal::from(60);
                    let share = LoadShare {
                        kwh: plan.kiln.kwh_per_load * each,
                        energy: Money::rounded(plan.kiln.kwh_per_load * plan.kiln.price_per_kwh * each),
                        wear: Money::rounded(hours * plan.kiln.wear_per_hour * each),
                        hot_hours: hours * each,
                        price_per_kwh: plan.kiln.price_per_kwh,
                        wear_per_hour: plan.kiln.wear_per_hour,
                    };
                    self.fire_with(batch, step, load.to_vec(), share);
                }
            }
            let Rates { labour_per_hour, overhead_per_hour, .. } = plan.rates;
            self.put(batch, worked(step, all.clone(), minutes, labour_per_hour, overhead_per_hour));
            self.put(batch, BenchDeed::Passed { step, pieces: all.clone() });
        }
        self.put(batch, BenchDeed::Finished { pieces: all });
    }

    /// Lets something happen that can: the numbers choose which batch, what, which pieces and how much.
    pub(crate) fn happen(&mut self, (batch, what, which, much): (u8, u8, u16, u32)) {
        let ids = self.batches();
        let id = ids[usize::from(batch) % ids.len()];
        let now = self.now(id);
        let at_work = now.at_work();
        let Some(first) = at_work.get(usize::from(which) % at_work.len().max(1)) else { return };
        let step = match now.standing(*first) {
            Some(Standing::At(step)) => step,
            _ => self.plan.steps.len(),
        };
        let there = if step < self.plan.steps.len() { now.waiting(step) } else { now.done() };
        let chosen: Vec<PieceId> = there
            .iter()
            .enumerate()
            .filter(|(place, piece)| *piece == first || which >> (place % 16) & 1 == 1)
            .map(|(_, piece)| *piece)
            .collect();
        let amount = Decimal::new(i64::from(much), 5);
        let material = self.plan.materials[usize::from(which) % self.plan.materials.len()].id.clone();
        let quantity = Quantity::new(amount).unwrap();
        let done = step == self.plan.steps.len();
        let deed = match what % 16 {
            _ if done && what % 2 == 0 => BenchDeed::Finished { pieces: chosen },
            0..=3 if !done => BenchDeed::Passed { step, pieces: chosen },
            4 if !done => BenchDeed::Skipped { step, pieces: chosen, why: String::new() },
            5 | 6 if step > 0 => {
                BenchDeed::SentBack { to: usize::from(which) % step, pieces: chosen, why: String::new() }
            }
            7 if !done => {
                return self.take_material(id, step, chosen, material, amount, amount * decimal("0.377"));
            }
            8 if !done => BenchDeed::Used { step, pieces: chosen, material, quantity, how: Measured::Planned },
            9 if !done => {
                let movement = self.movement(amount * decimal("0.011"));
                BenchDeed::WashedBack { step, pieces: chosen, material, movement, quantity }
            }
            10 | 11 if !done => worked(step, chosen, amount, decimal("17.35"), decimal("5.742857")),
            12 if !done => {
                let share = LoadShare {
                    kwh: exact::round(amount / decimal("7"), 9),
                    energy: Money::rounded(amount / decimal("3")),
                    wear: Money::rounded(amount / decimal("11")),
                    hot_hours: exact::round(amount / decimal("60"), 9),
                    ..LoadShare::default()
                };
                return self.fire_with(id, step, chosen, share);
            }
            13 => lost(step, chosen, LossKind::Normal),
            14 => lost(step, chosen, LossKind::Abnormal),
            15 if much % 9 == 0 => BenchDeed::Abandoned { pieces: at_work, why: String::new() },
            _ => {
                let to = ids[usize::from(which) % ids.len()];
                if to != id {
                    self.give(id, to, chosen);
                }
                return;
            }
        };
        self.put(id, deed);
    }

    /// Everything still at work goes through and is finished.
    pub(crate) fn finish_all(&mut self) {
        for id in self.batches() {
            for step in 0..self.plan.steps.len() {
                let pieces = self.now(id).waiting(step);
                if !pieces.is_empty() {
                    self.put(id, BenchDeed::Passed { step, pieces });
                }
            }
            let pieces = self.now(id).done();
            if !pieces.is_empty() {
                self.put(id, BenchDeed::Finished { pieces });
            }
        }
    }
}

fn day() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 3, 2).unwrap()
}
