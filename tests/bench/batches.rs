//! What was made in ten years: batches worked from their first step to numbered pieces, and the loads they were fired
//! in, through the same actions a person's entries go through.
//!
//! Five batches are made at a time. Three fill the kiln alone and two share their loads, so that five batches of five
//! firings are twenty loads. What their steps took of stock is among the movements of the goods already.

use crate::generator::{Maker, Numbers, Size};
use crate::goods;
use chrono::{Days, Duration, NaiveDate};
use enamelwright::actions::{self, Action, Added, NewBatch, StepDone, StepMaterials, StepMinutes};
use enamelwright::costing::load_check::shelf_area;
use enamelwright::measure::{Decimal, exact};
use enamelwright::studio::{
    BatchId, Charged, Design, DesignId, ElectricKiln, Firing, FiringResult, HeatSource, Kiln, KilnId, Load, LossCause,
    LossKind, PieceId, ShareLoadBy, StepKind,
};

/// Batches made at a time.
const TOGETHER: u32 = 5;
/// Days from one five to the next; they are at the kiln on the five days after the first.
const DAYS_APART: u32 = 6;
/// Batches at work on the last day.
const AT_WORK: u32 = 20;
/// Steps of a route up to its last firing, and the firings.
const FIRST_FINISHING: usize = 11;
const FIRINGS: usize = 5;
/// One batch of so many loses a piece.
const LOSES: u32 = 10;

/// A batch at the bench.
struct Made {
    id: BatchId,
    plan: Design,
    pieces: Vec<PieceId>,
    loses: bool,
}

/// Adds a kiln, the batches of ten years with their loads, and some that are at work.
pub(crate) fn work(maker: &mut Maker, size: Size, designs: &[DesignId], numbers: &mut Numbers) {
    let kiln = add_kiln(maker);
    for five in 0..size.batches / TOGETHER {
        let begins = day(five * DAYS_APART);
        let mut made: Vec<Made> = (0..TOGETHER)
            .map(|place| begin(maker, designs, begins, (five * TOGETHER + place).is_multiple_of(LOSES), numbers))
            .collect();
        for firing in 0..FIRINGS {
            let date = begins + Days::new(u64::try_from(firing).expect("a small number") + 1);
            for batch in &made {
                do_step(maker, batch, 2 * firing + 1, date);
            }
            let (alone, sharing) = made.split_at_mut(3);
            let mut loads: Vec<Vec<&mut Made>> = alone.iter_mut().map(|batch| vec![batch]).collect();
            loads.push(sharing.iter_mut().collect());
            for (slot, batches) in (0_i64..).zip(loads) {
                fire(maker, kiln, batches, firing, date, slot);
            }
        }
        let last = begins + Days::new(u64::from(DAYS_APART - 1));
        for batch in &made {
            finish(maker, batch, last);
        }
        if five % 100 == 99 {
            eprintln!("  {} batches", (five + 1) * TOGETHER);
        }
    }
    let today = day(size.batches / TOGETHER * DAYS_APART);
    for _ in 0..AT_WORK.min(size.batches) {
        let batch = begin(maker, designs, today, false, numbers);
        if numbers.below(2) == 0 {
            do_step(maker, &batch, 1, today);
        }
    }
}

fn day(number: u32) -> NaiveDate {
    goods::first_day() + Days::new(u64::from(number))
}

fn add_kiln(maker: &mut Maker) -> KilnId {
    let kiln = Kiln {
        name: "The large kiln".to_owned(),
        heat: HeatSource::Electric(Box::new(ElectricKiln {
            rated_kw: Decimal::from(6),
            warm_up_minutes: Decimal::from(55),
            working_celsius: Decimal::from(800),
            duty: Decimal::new(45, 2),
            room_celsius: Decimal::from(20),
            rated_max_celsius: Decimal::from(1_100),
            shelf_cm2: Decimal::from(3_000),
            furniture_g: Decimal::from(4_000),
            door_kwh: Decimal::new(4, 2),
            share_by: ShareLoadBy::Area,
            fitted: None,
            elements_since: goods::first_day(),
            thermocouple_since: goods::first_day(),
        })),
        note: String::new(),
        retired: false,
    };
    match maker.perform(Action::SaveKiln { id: None, kiln }, goods::first_day()).added {
        Some(Added::Kiln(id)) => id,
        other => panic!("a kiln was to be added: {other:?}"),
    }
}

/// Begins a batch and cuts its pieces.
fn begin(maker: &mut Maker, designs: &[DesignId], date: NaiveDate, loses: bool, numbers: &mut Numbers) -> Made {
    let of = numbers.below(u32::try_from(designs.len()).expect("some hundred designs"));
    let design = designs[usize::try_from(of).expect("some hundred designs")];
    let new = NewBatch { design, name: String::new(), pieces: 6 + numbers.below(19), date, note: String::new() };
    let Some(Added::Batch(id)) = maker.perform(Action::StartBatch(new), date).added else {
        panic!("a batch was to be begun")
    };
    let record = actions::batch(&maker.book, id).expect("the book answers").expect("the batch is there");
    let pieces = record.pieces.iter().map(|piece| piece.id).collect();
    let batch = Made { id, plan: record.batch.plan, pieces, loses };
    do_step(maker, &batch, 0, date);
    batch
}

fn do_step(maker: &mut Maker, batch: &Made, step: usize, date: NaiveDate) {
    let done = StepDone {
        batch: batch.id,
        step,
        pieces: batch.pieces.clone(),
        date,
        minutes: StepMinutes::AsPlanned,
        materials: StepMaterials::WrittenDown,
        lost: Vec::new(),
    };
    let _ = maker.perform(Action::DoStep(done), date);
}

/// Fires batches together, the loads of a day twenty minutes apart. In the last firing of some a piece cracks.
fn fire(maker: &mut Maker, kiln: KilnId, mut batches: Vec<&mut Made>, firing: usize, date: NaiveDate, slot: i64) {
    let step = 2 * firing + 2;
    let asked = batches.iter().map(|batch| planned(batch, step).minutes).max().expect("a batch");
    let celsius = batches.iter().map(|batch| planned(batch, step).celsius).min().expect("a batch");
    let mut charge = Vec::new();
    for batch in &batches {
        let area_cm2 = shelf_area(&batch.plan).expect("an area");
        for (place, piece) in batch.pieces.iter().enumerate() {
            let cracks = batch.loses && firing + 1 == FIRINGS && place == 0;
            let result = if cracks {
                FiringResult::Lost { cause: LossCause::Cracked, kind: LossKind::Normal }
            } else {
                FiringResult::Good
            };
            charge.push(Charged { piece: *piece, batch: batch.id, step, area_cm2, result: Some(result) });
        }
    }
    for batch in &mut batches {
        if batch.loses && firing + 1 == FIRINGS {
            let _ = batch.pieces.remove(0);
        }
    }
    let closed_at = date.and_hms_opt(10, 0, 0).expect("a time") + Duration::minutes(20 * slot);
    let seconds = exact::mul(asked, Decimal::from(60)).expect("a few minutes");
    let seconds = i64::try_from(exact::round(seconds, 0)).expect("a few minutes");
    let load = Load {
        kiln,
        closed_at,
        opened_at: Some(closed_at + Duration::seconds(seconds)),
        set_celsius: celsius,
        read_celsius: None,
        asked_minutes: asked,
        attended_minutes: None,
        charge,
        override_words: String::new(),
        note: String::new(),
    };
    let _ = maker.perform(Action::LogLoad(load), date);
}

fn planned(batch: &Made, step: usize) -> &Firing {
    match &batch.plan.steps[step].kind {
        StepKind::Fire(firing) => firing,
        other => panic!("{other:?} is no firing"),
    }
}

fn finish(maker: &mut Maker, batch: &Made, date: NaiveDate) {
    for step in FIRST_FINISHING..batch.plan.steps.len() {
        do_step(maker, batch, step, date);
    }
    let action = Action::FinishPieces { batch: batch.id, pieces: batch.pieces.clone(), seconds: Vec::new(), date };
    let _ = maker.perform(action, date);
}
