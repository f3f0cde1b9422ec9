//! Batches, their pieces, time and costs from the outside: what a book keeps of them, what it refuses, what undo takes
//! back.

#![allow(clippy::expect_used, clippy::indexing_slicing, clippy::panic, clippy::unwrap_used)]

mod rig;

use enamelwright::actions::{
    self, Action, Added, MaterialTaken, NewBatch, Outcome, PieceLost, Receipt, Refusal, StepDone, StepMaterials,
    StepMinutes, TimeSpent, check, snapshot,
};
use enamelwright::costing::batch::{BatchNow, Stage, Standing};
use enamelwright::costing::planning::PlanningRates;
use enamelwright::measure::{Currency, Decimal, Money, Quantity, Unit};
use enamelwright::studio::{
    BatchId, BatchRecord, BatchState, BenchDeed, Charged, Coat, Design, DesignId, ElectricKiln, FiringResult, Follows,
    ItemId, KilnDay, KilnId, LearntFigure, Load, LossCause, LossKind, LotId, MaterialKind, Measured, MovementKind,
    PieceId, Proposal, Side, Step, StepKind, Timed, TimedWork, TimerId, Use,
};
use proptest::prelude::*;
use rig::{Rig, day, decimal, dump, fire, held, item, material, money, quantity, time};
use std::collections::BTreeMap;
use std::ops::{Deref, DerefMut};

type TestResult = Result<(), Box<dyn std::error::Error>>;

const PREPARE: usize = 0;
const COAT: usize = 1;
const FIRE: usize = 2;
const STONE: usize = 3;
const PACK: usize = 4;

/// A book with two items of stock, a design that takes from both, and a kiln.
struct Bench {
    rig: Rig,
    green: ItemId,
    disc: ItemId,
    drop: DesignId,
    kiln: KilnId,
}

impl Deref for Bench {
    type Target = Rig;

    fn deref(&self) -> &Rig {
        &self.rig
    }
}

impl DerefMut for Bench {
    fn deref_mut(&mut self) -> &mut Rig {
        &mut self.rig
    }
}

impl Bench {
    fn new() -> Self {
        let mut rig = Rig::new("2026-03-14 12:00:00");
        let green = rig.save_item(item("Fen green", Unit::Gram));
        let disc = rig.save_item(item("Copper disc, 30 mm", Unit::Each));
        let lots = vec![
            receipt(green, "2026-01-10", "6", "0.60", "G-1"),
            receipt(green, "2026-02-10", "100", "12.00", "G-2"),
            receipt(disc, "2026-01-10", "40", "48.00", "D-1"),
        ];
        rig.perform(Action::Receive(lots)).unwrap();
        let drop = rig.save_design(design("DROP"), follows(green, disc));
        let kiln = rig.save_kiln(rig::kiln("The small one", electric()));
        Self { rig, green, disc, drop, kiln }
    }

    // Here too, so that what is done may be asked of the bench itself.
    fn perform(&mut self, action: Action) -> Result<Outcome, Refusal> {
        self.rig.perform(action)
    }

    /// Does it, takes it back and does it again: the rows and the snapshot are the same before and after.
    fn there_and_back(&mut self, action: Action) -> Outcome {
        let before = (dump(&self.path()), self.seen());
        let done = self.perform(action).unwrap();
        let after = (dump(&self.path()), self.seen());
        assert_eq!(self.undo().unwrap().name, done.name);
        assert!((dump(&self.path()), self.seen()) == before, "undone: {}", done.name);
        assert_eq!(self.redo().unwrap().name, done.name);
        assert!((dump(&self.path()), self.seen()) == after, "done again: {}", done.name);
        self.assert_sound();
        done
    }

    /// What the faces see of the bench.
    fn seen(&self) -> (Vec<BatchRecord>, String) {
        let seen = snapshot(&self.book).unwrap();
        (seen.batches.to_vec(), format!("{:?} {:?} {:?} {:?}", seen.timers, seen.stock, seen.firing, seen.designs))
    }

    fn start(&mut self, pieces: u32) -> BatchId {
        match self.perform(Action::StartBatch(new_batch(self.drop, pieces))).unwrap().added {
            Some(Added::Batch(id)) => id,
            other => panic!("{other:?}"),
        }
    }

    fn record(&self, id: BatchId) -> BatchRecord {
        actions::batch(&self.book, id).unwrap().unwrap()
    }

    fn now(&self, id: BatchId) -> BatchNow {
        BatchNow::of(&self.record(id))
    }

    fn pieces(&self, id: BatchId) -> Vec<PieceId> {
        self.record(id).pieces.iter().map(|piece| piece.id).collect()
    }

    /// The step for all that wait for it, as planned.
    fn planned(&self, batch: BatchId, step: usize) -> Action {
        Action::DoStep(StepDone {
            batch,
            step,
            pieces: self.now(batch).waiting(step),
            date: day("2026-03-14"),
            minutes: StepMinutes::AsPlanned,
            materials: StepMaterials::AsPlanned,
            lost: Vec::new(),
        })
    }

    /// A load of all that wait for the firing.
    fn load(&self, batch: BatchId, from: &str, to: &str) -> Load {
        let charge = self.now(batch).waiting(FIRE).into_iter().map(|piece| Charged {
            piece,
            batch,
            step: FIRE,
            area_cm2: decimal("9"),
            result: Some(FiringResult::Good),
        });
        Load {
            kiln: self.kiln,
            closed_at: time(from),
            opened_at: Some(time(to)),
            set_celsius: decimal("780"),
            read_celsius: None,
            asked_minutes: decimal("2.5"),
            attended_minutes: None,
            charge: charge.collect(),
            override_words: String::new(),
            note: String::new(),
        }
    }

    /// Leaves every step out up to the end for all pieces at work.
    fn skip_to_the_end(&mut self, batch: BatchId) {
        for step in 0..=PACK {
            let pieces = self.now(batch).waiting(step);
            if !pieces.is_empty() {
                let why = String::new();
                self.perform(Action::SkipStep { batch, step, pieces, date: day("2026-03-14"), why }).unwrap();
            }
        }
    }

    /// Closes the book and opens it again.
    fn reopen(self) -> Self {
        Self { rig: self.rig.reopen(), ..self }
    }
}

fn follows(green: ItemId, disc: ItemId) -> Follows {
    Follows {
        labour: true,
        materials: BTreeMap::from([(material("green"), green), (material("disc"), disc)]),
        ..Follows::default()
    }
}

/// A large shelf that gets hotter.
fn electric() -> ElectricKiln {
    ElectricKiln {
        rated_kw: decimal("2.4"),
        duty: decimal("0.45"),
        rated_max_celsius: decimal("1100"),
        shelf_cm2: decimal("600"),
        furniture_g: decimal("800"),
        elements_since: day("2025-01-01"),
        thermocouple_since: day("2025-01-01"),
        ..rig::electric()
    }
}

fn receipt(item: ItemId, date: &str, amount: &str, cost: &str, lot: &str) -> Receipt {
    Receipt { typed: amount.to_owned(), lot_number: lot.to_owned(), ..rig::receipt(item, date, amount, cost) }
}

fn step(name: &str, kind: StepKind, setup: &str, minutes: &str, uses: &[(&str, &str)]) -> Step {
    Step {
        setup_minutes: decimal(setup),
        minutes_per_piece: decimal(minutes),
        uses: uses.iter().map(|(id, amount)| Use { material: material(id), quantity: decimal(amount) }).collect(),
        ..rig::step(name, kind)
    }
}

fn design(code: &str) -> Design {
    Design {
        name: "Lantern drops".to_owned(),
        materials: vec![
            held("disc", "Disc", MaterialKind::Blank, Unit::Each, "1.30"),
            held("green", "Fen green", MaterialKind::Enamel, Unit::Gram, "0.112"),
            held("paper", "Diamond paper", MaterialKind::Consumable, Unit::Each, "0.05"),
        ],
        steps: vec![
            step("Clean the discs", StepKind::Prepare, "10", "2.5", &[("disc", "1")]),
            step(
                "Sift base coat",
                StepKind::Coat(Coat {
                    side: Side::Front,
                    material: material("green"),
                    coverage: Decimal::ONE,
                    coat_mg_per_cm2: decimal("60"),
                    overspray: decimal("0.25"),
                    reclaimed: decimal("0.5"),
                }),
                "6",
                "1.5",
                &[],
            ),
            fire("Base firing", "780", 12, "6"),
            step("Stone", StepKind::Finish, "0", "4", &[("paper", "2")]),
            step("Box", StepKind::Pack, "0", "1", &[]),
        ],
        ..rig::design(code, Vec::new())
    }
}

fn new_batch(design: DesignId, pieces: u32) -> NewBatch {
    NewBatch { design, name: String::new(), pieces, date: day("2026-03-14"), note: String::new() }
}

fn lost(piece: PieceId, cause: LossCause) -> PieceLost {
    PieceLost { piece, cause, kind: LossKind::Normal, note: String::new() }
}

// Common practice, no source: what is written down has happened.
#[test]
fn nothing_at_the_bench_or_the_kiln_is_dated_after_the_day_it_is_written_down() {
    let mut bench = Bench::new();
    let (batch, other) = (bench.start(4), bench.start(2));
    let pieces = bench.pieces(batch);
    let date = day("2026-03-15");
    let why = String::new();
    let mut done = bench.planned(batch, PREPARE);
    if let Action::DoStep(done) = &mut done {
        done.date = date;
    }
    let late = |from: &str, to: &str| bench.load(batch, from, to);
    let closed = Load {
        opened_at: None,
        charge: late("2026-03-15 10:00:00", "2026-03-15 10:02:00").charge,
        ..late("2026-03-15 10:00:00", "2026-03-15 10:02:00")
    };
    let kiln_day = KilnDay {
        kiln: bench.kiln,
        date: day("2026-03-14"),
        on_at: time("2026-03-14 09:00:00"),
        hot_at: None,
        off_at: Some(time("2026-03-15 01:00:00")),
        hold_celsius: decimal("800"),
        meter_kwh: None,
        note: String::new(),
    };
    let actions = [
        ("Date", Action::StartBatch(NewBatch { date, ..new_batch(bench.drop, 3) })),
        ("Date", done),
        ("Date", Action::SkipStep { batch, step: PREPARE, pieces: pieces.clone(), date, why: why.clone() }),
        ("Date", Action::SendBack { batch, to: PREPARE, pieces: pieces.clone(), date, why: why.clone() }),
        ("Date", Action::LosePieces { batch, lost: vec![lost(pieces[0], LossCause::Warped)], date }),
        ("Date", Action::TakeMaterials { batch, step: COAT, pieces: pieces.clone(), date, lines: Vec::new() }),
        ("Date", Action::SplitBatch { batch, pieces: pieces[..1].to_vec(), date, name: String::new() }),
        ("Date", Action::MergeBatches { from: other, into: batch, date }),
        ("Date", Action::FinishPieces { batch, pieces: pieces.clone(), seconds: Vec::new(), date }),
        ("Date", Action::AbandonBatch { batch, date, why }),
        (
            "Date",
            Action::AddTime(TimeSpent {
                work: vec![TimedWork { batch, step: PREPARE }],
                minutes: decimal("5"),
                date,
                how: Timed::Typed,
            }),
        ),
        ("Door closed", Action::CloseDoor(closed)),
        ("Door opened", Action::LogLoad(late("2026-03-14 23:59:00", "2026-03-15 00:01:30"))),
        ("Switched off", Action::SaveKilnDay { id: None, day: kiln_day }),
    ];
    let before = dump(&bench.path());
    for (field, action) in actions {
        assert_eq!(
            bench.refused(action),
            format!(
                "{field}: 2026-03-15 was given; today, 2026-03-14, or earlier is accepted: what has not happened is not \
                 written down"
            )
        );
    }
    assert_eq!(dump(&bench.path()), before);

    // A clock that ran ahead: what was written then can be carried on, the day it has and no later one.
    bench.at = time("2026-03-20 09:00:00");
    let ahead = |date: &str| {
        Action::AddTime(TimeSpent {
            work: vec![TimedWork { batch, step: PREPARE }],
            minutes: decimal("5"),
            date: day(date),
            how: Timed::Typed,
        })
    };
    bench.perform(ahead("2026-03-20")).unwrap();
    bench.at = time("2026-03-14 12:00:00");
    bench.perform(ahead("2026-03-20")).unwrap();
    assert_eq!(
        bench.refused(ahead("2026-03-21")),
        "Date: 2026-03-21 was given; 2026-03-20, the day something was written down for the batch last, or earlier is \
         accepted"
    );
    bench.assert_sound();
}

#[test]
fn a_batch_goes_from_its_start_to_numbered_pieces_and_back_by_undo() -> TestResult {
    let mut bench = Bench::new();
    bench.at = time("2026-03-20 12:00:00");
    let done = bench.there_and_back(Action::StartBatch(new_batch(bench.drop, 12)));
    assert_eq!(done.name, "Start batch 1: 12 Lantern drops");
    let Some(Added::Batch(batch)) = done.added else { panic!("{done:?}") };
    let held = bench.record(batch);
    assert_eq!((held.batch.number, held.batch.plan.pieces, held.pieces.len()), (1, 12, 12));
    // Labour and linked prices are the studio's on that day: a disc cost 48.00 / 40, enamel at its latest purchase 0.12.
    let studio = snapshot(&bench.book)?.rates.labour_per_hour.amount();
    assert_eq!(held.batch.plan.rates.labour_per_hour, studio);
    assert_eq!(held.batch.plan.materials[0].price, decimal("1.2"));
    assert_eq!(held.batch.plan.materials[1].price, decimal("0.12"));
    assert_eq!(held.batch.plan.materials[2].price, decimal("0.05"));

    let done = bench.there_and_back(bench.planned(batch, PREPARE));
    assert_eq!(done.name, "Clean the discs: 12 pieces of batch 1");
    let held = bench.record(batch);
    // Worked by hand from the route: 10 + 12 · 2.5 minutes.
    assert!(held.entries.iter().any(|entry| matches!(
        &entry.deed,
        BenchDeed::Worked { minutes, how: Timed::Planned, .. } if *minutes == decimal("40")
    )));
    assert_eq!(snapshot(&bench.book)?.item(bench.disc).unwrap().on_hand, quantity("28"));

    // Two of them weighed, 1.2 g of which 0.1 g came back; one is lost in it.
    let pieces = bench.pieces(batch);
    let weighed = Action::DoStep(StepDone {
        batch,
        step: COAT,
        pieces: pieces[..2].to_vec(),
        date: day("2026-03-14"),
        minutes: StepMinutes::Typed(decimal("9.5")),
        materials: StepMaterials::Taken(vec![MaterialTaken {
            material: material("green"),
            quantity: quantity("1.2"),
            typed: "1.2 g".to_owned(),
            how: Measured::Weighed,
            washed_back: Some(quantity("0.1")),
        }]),
        lost: vec![lost(pieces[1], LossCause::Dropped)],
    });
    let done = bench.there_and_back(weighed);
    assert_eq!(done.name, "Sift base coat: 2 pieces of batch 1, 1 lost");
    let moved = actions::movements(&bench.book, bench.green)?;
    let last: Vec<_> = moved.iter().rev().take(2).map(|found| (found.kind, found.quantity, found.cost)).collect();
    // The lot of 0.10 a gram is used first (IAS 2, first in first out); what comes back is worth a gram on hand:
    // (0.60 − 0.12 + 12.00) / 104.8 = 0.119084, ten parts of which are 0.0119084.
    assert_eq!(last[0], (MovementKind::WashBack, quantity("0.1"), Some(money("0.011908"))));
    assert_eq!(last[1], (MovementKind::Issue, quantity("1.2"), None));
    assert_eq!(moved.last().unwrap().note, "Reclaimed from Fen green: Batch 1, Sift base coat");

    bench.there_and_back(bench.planned(batch, COAT));
    // Costing method, section 3: 7.068583 cm² · 60 mg · (1 + 0.25 · 0.5) a piece, ten pieces; the set-up is behind.
    let held = bench.record(batch);
    assert!(held.entries.iter().any(|entry| matches!(
        &entry.deed,
        BenchDeed::Took { quantity: took, how: Measured::Planned, step: COAT, .. } if *took == quantity("4.771293525")
    )));
    assert!(held.entries.iter().any(|entry| matches!(
        &entry.deed,
        BenchDeed::Worked { minutes, step: COAT, .. } if *minutes == decimal("15")
    )));

    let done = bench.there_and_back(Action::LogLoad(bench.load(batch, "2026-03-14 10:00:00", "2026-03-14 10:03:00")));
    assert!(!done.name.is_empty());
    assert_eq!(bench.now(batch).waiting(STONE).len(), 11);
    bench.there_and_back(bench.planned(batch, STONE));
    assert!(bench.record(batch).entries.iter().any(|entry| matches!(
        &entry.deed,
        BenchDeed::Used { quantity: used, how: Measured::Planned, .. } if *used == quantity("22")
    )));

    let back = bench.now(batch).waiting(PACK)[0];
    let done = bench.there_and_back(Action::SendBack {
        batch,
        to: STONE,
        pieces: vec![back],
        date: day("2026-03-14"),
        why: "a scratch".to_owned(),
    });
    assert_eq!(done.name, "Send 1 piece of batch 1 back to Stone");
    let done = bench.there_and_back(Action::SkipStep {
        batch,
        step: STONE,
        pieces: vec![back],
        date: day("2026-03-14"),
        why: "it was dust".to_owned(),
    });
    assert_eq!(done.name, "Leave out Stone: 1 piece of batch 1");
    bench.there_and_back(bench.planned(batch, PACK));

    let ready = bench.now(batch).done();
    assert_eq!(ready.len(), 11);
    let done = bench.there_and_back(Action::LosePieces {
        batch,
        lost: vec![lost(ready[10], LossCause::Chipped)],
        date: day("2026-03-15"),
    });
    assert_eq!(done.name, "Lose 1 piece of batch 1: chipped");
    let done = bench.there_and_back(Action::FinishPieces {
        batch,
        pieces: ready[..10].to_vec(),
        seconds: vec![ready[3]],
        date: day("2026-03-16"),
    });
    assert_eq!(done.name, "Finish 10 pieces of batch 1: DROP-0001 to DROP-0010");
    assert_eq!(bench.record(batch).batch.state, BatchState::Finished);
    assert!(snapshot(&bench.book)?.batches.is_empty());
    let listed = actions::finished_pieces(&bench.book, day("2026-03-01"), day("2026-03-31"))?;
    assert_eq!(listed.len(), 10);
    assert_eq!(listed.iter().filter(|found| found.piece.second).count(), 1);
    let done =
        bench.there_and_back(Action::MarkPiece { piece: ready[3], second: false, note: "polished out".to_owned() });
    assert_eq!(done.name, "Mark DROP-0004 as no second");

    // Costs: pieces and what is kept out of them are all that was spent, to the last millionth.
    let account = actions::batch_account(&bench.book, batch)?.unwrap();
    assert!(matches!(account.stage, Stage::Complete(_)));
    let issues: Decimal = [bench.green, bench.disc]
        .into_iter()
        .flat_map(|item| actions::ledger(&bench.book, item).unwrap().lines)
        .filter(|line| {
            bench.record(batch).entries.iter().any(|entry| match entry.deed {
                BenchDeed::Took { movement, .. } | BenchDeed::WashedBack { movement, .. } => movement == line.movement,
                _ => false,
            })
        })
        .map(|line| -line.value_change.amount())
        .sum();
    // Diamond paper is not kept in stock: 22 at 0.05.
    assert_eq!(account.spent.materials.amount(), issues + decimal("1.10"));
    let borne: Decimal = account.pieces.iter().map(|piece| piece.cost.amount()).sum();
    assert_eq!(borne, account.cost.amount());
    assert_eq!(account.cost.amount() + account.abnormal.amount(), account.spent.total()?.amount());
    assert!(account.spent.kiln_energy > Money::ZERO && account.spent.kiln_wear > Money::ZERO);

    // From a finished piece back to its lots, loads and minutes, and from a lot forward to pieces.
    let story = actions::piece_story(&bench.book, ready[0])?.unwrap();
    assert_eq!(story.piece.number.as_deref(), Some("DROP-0001"));
    assert_eq!(story.loads.len(), 1);
    assert_eq!(story.loads[0].kiln_name, "The small one");
    let lots: Vec<&str> = story.lots.iter().map(|lot| lot.lot_number.as_str()).collect();
    assert_eq!(lots, ["D-1", "G-1"]);
    assert_eq!(story.cost, account.pieces.iter().find(|piece| piece.piece == ready[0]).map(|piece| piece.cost));
    let parts: Decimal = story.parts.iter().map(|part| part.cost.amount()).sum();
    assert_eq!(Some(parts), story.cost.map(Money::amount));
    let first = moved.iter().find(|movement| movement.lot_number == "G-1").unwrap().id;
    let held = actions::pieces_of_lot(&bench.book, LotId(first.0))?;
    assert_eq!(held.len(), 12);
    let uses = actions::bench_uses(&bench.book, bench.green)?;
    assert_eq!(uses.iter().map(|found| found.kind).filter(|kind| *kind == MovementKind::Issue).count(), 2);
    assert_eq!((uses[0].batch_number, uses[0].step_name.as_str(), uses[0].pieces.len()), (1, "Sift base coat", 2));
    let losses = actions::losses(&bench.book, day("2026-03-01"), day("2026-03-31"))?;
    assert_eq!(losses.iter().map(|row| row.cause).collect::<Vec<_>>(), [LossCause::Dropped, LossCause::Chipped]);

    while bench.undo().is_ok() {}
    assert!(actions::batch_heads(&bench.book, None)?.is_empty());
    while bench.redo().is_ok() {}
    bench.assert_sound();
    assert_eq!(actions::batch_account(&bench.book, batch)?.unwrap(), account);
    Ok(())
}

#[test]
fn batches_split_and_merge_and_numbers_run_over_the_book() -> TestResult {
    let mut bench = Bench::new();
    let batch = bench.start(5);
    bench.perform(bench.planned(batch, PREPARE))?;
    let pieces = bench.pieces(batch);
    let done = bench.there_and_back(Action::SplitBatch {
        batch,
        pieces: pieces[3..].to_vec(),
        date: day("2026-03-14"),
        name: "For the harbour".to_owned(),
    });
    assert_eq!(done.name, "Split 2 pieces off batch 1 as batch 2");
    let Some(Added::Batch(other)) = done.added else { panic!("{done:?}") };
    assert_eq!(bench.record(other).batch.plan, bench.record(batch).batch.plan);
    assert_eq!(bench.now(other).waiting(COAT), pieces[3..].to_vec());
    assert_eq!(bench.now(batch).standing(pieces[3]), Some(Standing::Given(other)));
    bench.skip_to_the_end(other);
    let finish = |batch, pieces: &[PieceId]| Action::FinishPieces {
        batch,
        pieces: pieces.to_vec(),
        seconds: Vec::new(),
        date: day("2026-03-14"),
    };
    assert_eq!(bench.there_and_back(finish(other, &pieces[3..4])).name, "Finish 1 piece of batch 2: DROP-0001");
    // The other one goes back to the batch it came from, done as it is.
    let done = bench.there_and_back(Action::MergeBatches { from: other, into: batch, date: day("2026-03-14") });
    assert_eq!(done.name, "Merge 1 piece of batch 2 into batch 1");
    assert_eq!(bench.record(other).batch.state, BatchState::Finished);
    assert_eq!(bench.now(batch).done(), vec![pieces[4]]);
    assert_eq!(bench.there_and_back(finish(batch, &pieces[4..])).name, "Finish 1 piece of batch 1: DROP-0002");
    let story = actions::piece_story(&bench.book, pieces[4])?.unwrap();
    assert_eq!(story.batches.iter().map(|(_, number)| *number).collect::<Vec<_>>(), [2, 1]);
    // What the two batches cost is what was spent: nothing is counted twice.
    let accounts = [batch, other].map(|id| actions::batch_account(&bench.book, id).unwrap().unwrap());
    let all: Decimal = accounts.iter().map(|account| account.cost.amount()).sum();
    // Five discs at 1.20, and 10 + 5 · 2.5 minutes at the wage and 6.50 overhead an hour.
    let wage = snapshot(&bench.book)?.rates.labour_per_hour.amount();
    let expected = decimal("6") + decimal("22.5") * (wage + decimal("6.5")) / decimal("60");
    assert!((all - expected).abs() <= decimal("0.000001"), "{all} {expected}");

    // Another route does not go together.
    let mut changed = design("DROP");
    changed.steps.pop();
    let follows = Follows::default();
    let id = Some(bench.drop);
    bench.perform(Action::SaveDesign { id, design: changed, follows, notes: String::new() })?;
    let third = bench.start(2);
    let said = bench.perform(Action::MergeBatches { from: third, into: batch, date: day("2026-03-14") }).unwrap_err();
    assert_eq!(
        said.to_string(),
        "Into: batch 1, Lantern drops was given; a batch of the same design with the same route as batch 3 is accepted"
    );
    bench.assert_sound();
    Ok(())
}

#[test]
fn every_refusal_names_the_field_and_changes_nothing() {
    let mut bench = Bench::new();
    let batch = bench.start(4);
    let over = bench.start(1);
    bench.skip_to_the_end(over);
    let only = bench.pieces(over);
    let finish = |batch, pieces: &[PieceId], seconds: &[PieceId]| Action::FinishPieces {
        batch,
        pieces: pieces.to_vec(),
        seconds: seconds.to_vec(),
        date: day("2026-03-14"),
    };
    bench.perform(finish(over, &only, &[])).unwrap();
    let pieces = bench.pieces(batch);
    let work = |batch, step| TimedWork { batch, step };
    bench.perform(Action::StartTimer(vec![work(batch, PREPARE)])).unwrap();
    let before = dump(&bench.path());
    let start = |change: &dyn Fn(&mut NewBatch)| {
        let mut new = new_batch(bench.drop, 3);
        change(&mut new);
        Action::StartBatch(new)
    };
    let stepped = |change: &dyn Fn(&mut StepDone)| {
        let mut done = StepDone {
            batch,
            step: PREPARE,
            pieces: pieces.clone(),
            date: day("2026-03-14"),
            minutes: StepMinutes::AsPlanned,
            materials: StepMaterials::AsPlanned,
            lost: Vec::new(),
        };
        change(&mut done);
        Action::DoStep(done)
    };
    let taken = |id: &str, amount: &str, how, back: Option<&str>| {
        stepped(&|done| {
            done.materials = StepMaterials::Taken(vec![MaterialTaken {
                material: material(id),
                quantity: quantity(amount),
                typed: String::new(),
                how,
                washed_back: back.map(quantity),
            }]);
        })
    };
    let back = |to, pieces: &[PieceId], date: &str| Action::SendBack {
        batch,
        to,
        pieces: pieces.to_vec(),
        date: day(date),
        why: String::new(),
    };
    let lose = |lost: Vec<PieceLost>| Action::LosePieces { batch, lost, date: day("2026-03-14") };
    let time_spent = |work: Vec<TimedWork>, minutes: &str, date: &str| {
        Action::AddTime(TimeSpent { work, minutes: decimal(minutes), date: day(date), how: Timed::Typed })
    };
    let proposal = |step, name: &str, figure, planned: &str, proposed: &str| {
        Action::AcceptProposal(Proposal {
            design: bench.drop,
            step,
            step_name: name.to_owned(),
            figure,
            planned: decimal(planned),
            proposed: decimal(proposed),
        })
    };
    let refused: Vec<(&str, Action)> = vec![
        ("Pieces: 0 was given; 1 to 1,000", start(&|new| new.pieces = 0)),
        ("Pieces: 1001 was given", start(&|new| new.pieces = 1001)),
        ("Name: ", start(&|new| new.name = "x".repeat(201))),
        ("Note: ", start(&|new| new.note.push('\u{0}'))),
        ("Date: ", start(&|new| new.date = day("1899-01-01"))),
        ("there is no design with row 99", start(&|new| new.design = DesignId(99))),
        ("there is no batch with row 99", stepped(&|done| done.batch = BatchId(99))),
        ("Batch: 2, which is finished was given; a batch with pieces at work", stepped(&|done| done.batch = over)),
        ("Date: 2026-03-13 was given; 2026-03-14, when something", stepped(&|done| done.date = day("2026-03-13"))),
        ("Step: 6 was given; 1 to 5", stepped(&|done| done.step = 5)),
        ("Step: Base firing was given; a step that is no firing", stepped(&|done| done.step = FIRE)),
        ("Pieces: nothing was given", stepped(&|done| done.pieces.clear())),
        ("Pieces: piece 1 of batch 1 twice", stepped(&|done| done.pieces.push(pieces[0]))),
        ("Pieces: the piece with row 5 was given; a piece of batch 1", stepped(&|done| done.pieces.push(only[0]))),
        (
            "Pieces: piece 1 of batch 1, which waits for step 1, Clean the discs was given; a piece that waits for step 2",
            stepped(&|done| done.step = COAT),
        ),
        ("Minutes: -1", stepped(&|done| done.minutes = StepMinutes::Typed(decimal("-1")))),
        ("Minutes: 100001", stepped(&|done| done.minutes = StepMinutes::Typed(decimal("100001")))),
        ("Pieces lost: the piece with row 5", stepped(&|done| done.lost = vec![lost(only[0], LossCause::Other)])),
        (
            "Pieces lost: piece 2 of batch 1 was given; a piece the step was done for",
            stepped(&|done| {
                done.pieces = vec![pieces[0]];
                done.lost = vec![lost(pieces[1], LossCause::Other)];
            }),
        ),
        ("Material: gold was given; a material of batch 1", taken("gold", "1", Measured::Weighed, None)),
        ("Quantity of Disc: -1", taken("disc", "-1", Measured::Weighed, None)),
        ("Copper disc, 30 mm: only 40 each on hand", taken("disc", "41", Measured::Weighed, None)),
        ("Washed back of Disc: 2 each was given; up to 1 each", taken("disc", "1", Measured::Weighed, Some("2"))),
        ("Washed back of Disc: 1 each was given; nothing", taken("disc", "2", Measured::Planned, Some("1"))),
        ("Washed back of Diamond paper: 1 each", taken("paper", "2", Measured::Weighed, Some("1"))),
        (
            "Why: ",
            Action::SkipStep {
                batch,
                step: PREPARE,
                pieces: pieces.clone(),
                date: day("2026-03-14"),
                why: "\u{7}".to_owned(),
            },
        ),
        ("Step: 1, Clean the discs was given; a step before the one", back(PREPARE, &pieces[..1], "2026-03-14")),
        ("Pieces: nothing", lose(Vec::new())),
        ("Note: ", lose(vec![PieceLost { note: "\u{0}".to_owned(), ..lost(pieces[0], LossCause::Other) }])),
        (
            "Materials: nothing",
            Action::TakeMaterials {
                batch,
                step: PREPARE,
                pieces: pieces.clone(),
                date: day("2026-03-14"),
                lines: Vec::new(),
            },
        ),
        (
            "Pieces: all 4 at work in batch 1 was given; some of them",
            Action::SplitBatch { batch, pieces: pieces.clone(), date: day("2026-03-14"), name: String::new() },
        ),
        ("Into: batch 1", Action::MergeBatches { from: batch, into: batch, date: day("2026-03-14") }),
        ("Batch: 2, which is finished", Action::MergeBatches { from: batch, into: over, date: day("2026-03-14") }),
        ("Pieces: piece 1 of batch 1, which waits for step 1", finish(batch, &pieces, &[])),
        ("Piece: piece 1, not finished", Action::MarkPiece { piece: pieces[0], second: true, note: String::new() }),
        ("DROP-0001 is marked so", Action::MarkPiece { piece: only[0], second: false, note: String::new() }),
        ("there is no piece with row 99", Action::MarkPiece { piece: PieceId(99), second: true, note: String::new() }),
        ("Why: nothing", Action::AbandonBatch { batch, date: day("2026-03-14"), why: " ".to_owned() }),
        ("a timer runs for batch 1", Action::AbandonBatch { batch, date: day("2026-03-14"), why: "flood".to_owned() }),
        ("Minutes: 0 was given", time_spent(vec![work(batch, PREPARE)], "0", "2026-03-14")),
        ("Work: 0 was given", time_spent(Vec::new(), "5", "2026-03-14")),
        ("Work: Clean the discs of batch 1 twice", time_spent(vec![work(batch, PREPARE); 2], "5", "2026-03-14")),
        ("Date: 2026-03-01 was given", time_spent(vec![work(batch, PREPARE)], "5", "2026-03-01")),
        ("Step: 3 of batch 1 was given", time_spent(vec![work(batch, FIRE)], "5", "2026-03-14")),
        ("a timer runs for Clean the discs of batch 1", Action::StartTimer(vec![work(batch, PREPARE)])),
        (
            "Step: Stone of batch 1 was given; a step that a piece waits for",
            Action::StartTimer(vec![work(batch, STONE)]),
        ),
        ("Batch: 2, which is finished", Action::StartTimer(vec![work(over, PACK)])),
        ("there is no timer with row 9", Action::DropTimer(TimerId(9))),
        ("there is no timer with row 9", Action::StopTimer { timer: TimerId(9), minutes: None }),
        ("Timer: started at", Action::StopTimer { timer: TimerId(1), minutes: None }),
        ("Step: 1, Saw was given", proposal(0, "Saw", LearntFigure::Good, "0.98", "0.9")),
        ("Step: 9, Stone was given", proposal(8, "Stone", LearntFigure::Good, "0.98", "0.9")),
        ("share good: 0.97 was given; 0.98", proposal(STONE, "Stone", LearntFigure::Good, "0.97", "0.9")),
        ("share good: 0.98 was given; another", proposal(STONE, "Stone", LearntFigure::Good, "0.98", "0.98")),
        ("coat weight: of Stone was given", proposal(STONE, "Stone", LearntFigure::CoatWeight, "60", "70")),
        ("", proposal(STONE, "Stone", LearntFigure::Good, "0.98", "1.5")),
    ];
    for (said, action) in refused {
        let what = format!("{action:?}");
        let refusal = bench.perform(action).map(|done| done.name).expect_err(&what).to_string();
        assert!(refusal.starts_with(said), "{refusal}\nexpected {said}");
        assert!(dump(&bench.path()) == before, "{what} changed the book");
    }
    bench.assert_sound();
}

#[test]
fn what_is_in_the_kiln_is_left_alone_until_the_door_opens() -> TestResult {
    let mut bench = Bench::new();
    let batch = bench.start(3);
    bench.perform(bench.planned(batch, PREPARE))?;
    bench.perform(bench.planned(batch, COAT))?;
    let mut load = bench.load(batch, "2026-03-14 12:00:00", "2026-03-14 12:03:00");
    load.opened_at = None;
    load.charge.iter_mut().for_each(|charged| charged.result = None);
    bench.perform(Action::CloseDoor(load))?;
    let before = dump(&bench.path());
    let pieces = bench.pieces(batch);
    let date = day("2026-03-14");
    let refused = [
        Action::SkipStep { batch, step: FIRE, pieces: pieces.clone(), date, why: String::new() },
        Action::LosePieces { batch, lost: vec![lost(pieces[0], LossCause::Other)], date },
        Action::SendBack { batch, to: PREPARE, pieces: pieces.clone(), date, why: String::new() },
        Action::SplitBatch { batch, pieces: pieces[..1].to_vec(), date, name: String::new() },
        Action::AbandonBatch { batch, date, why: "flood".to_owned() },
    ];
    for action in refused {
        let said = bench.perform(action).unwrap_err().to_string();
        assert!(said.contains("piece 1 of batch 1, in the kiln was given; a piece that is out of the kiln"), "{said}");
        assert!(dump(&bench.path()) == before);
    }
    Ok(())
}

#[test]
fn a_timer_survives_closing_the_book_and_one_sitting_serves_two_batches() -> TestResult {
    let mut bench = Bench::new();
    let (one, other) = (bench.start(3), bench.start(1));
    let work = [one, other].map(|batch| TimedWork { batch, step: PREPARE });
    bench.at = time("2026-03-14 09:00:00");
    let done = bench.there_and_back(Action::StartTimer(work.to_vec()));
    assert_eq!(done.name, "Start the timer of Clean the discs of batch 1 and 1 other");
    let mut bench = bench.reopen();
    let timers = snapshot(&bench.book)?.timers.clone();
    assert_eq!((timers.len(), timers[0].1.since), (1, time("2026-03-14 09:00:00")));
    bench.at = time("2026-03-14 09:07:20");
    let done = bench.there_and_back(Action::StopTimer { timer: timers[0].0, minutes: None });
    assert_eq!(done.name, "Stop the timer of Clean the discs of batch 1 and 1 other: 7.3 minutes");
    assert!(snapshot(&bench.book)?.timers.is_empty());
    let worked = |bench: &Bench, batch| -> Vec<(Decimal, Timed)> {
        let minutes = |deed: &BenchDeed| match deed {
            BenchDeed::Worked { minutes, how, .. } => Some((*minutes, *how)),
            _ => None,
        };
        bench.record(batch).entries.iter().filter_map(|entry| minutes(&entry.deed)).collect()
    };
    // 440 s are 7.333333 min; three pieces to one, largest remainder.
    assert_eq!(worked(&bench, one), [(decimal("5.5"), Timed::Clock)]);
    assert_eq!(worked(&bench, other), [(decimal("1.833333"), Timed::Clock)]);
    // Minutes that were typed stand in for those it ran.
    bench.perform(Action::StartTimer(work[..1].to_vec()))?;
    let id = snapshot(&bench.book)?.timers[0].0;
    bench.at = time("2026-03-15 09:07:20");
    bench.there_and_back(Action::StopTimer { timer: id, minutes: Some(decimal("12")) });
    assert_eq!(worked(&bench, one)[1], (decimal("12"), Timed::Typed));
    bench.perform(Action::StartTimer(work[..1].to_vec()))?;
    let id = snapshot(&bench.book)?.timers[0].0;
    assert_eq!(bench.there_and_back(Action::DropTimer(id)).name, "Drop the timer of Clean the discs of batch 1");
    // A step done without the time that was written down, and time for pieces that went on.
    let done = StepDone {
        batch: one,
        step: PREPARE,
        pieces: bench.pieces(one),
        date: day("2026-03-15"),
        minutes: StepMinutes::WrittenDown,
        materials: StepMaterials::AsPlanned,
        lost: Vec::new(),
    };
    bench.perform(Action::DoStep(done))?;
    assert_eq!(worked(&bench, one).len(), 2);
    let spent = TimeSpent { work: work.to_vec(), minutes: decimal("4"), date: day("2026-03-15"), how: Timed::Typed };
    bench.there_and_back(Action::AddTime(spent));
    // None waits in the first any more: the whole sitting is the second's.
    assert_eq!((worked(&bench, one).len(), worked(&bench, other).len()), (2, 2));
    let spent =
        TimeSpent { work: work[..1].to_vec(), minutes: decimal("4"), date: day("2026-03-15"), how: Timed::Typed };
    assert_eq!(bench.there_and_back(Action::AddTime(spent)).name, "Write down 4 minutes of Clean the discs of batch 1");
    assert_eq!(worked(&bench, one).len(), 3);
    Ok(())
}

#[test]
fn stock_of_open_batches_is_reserved_and_shortages_are_told_and_no_hindrance() -> TestResult {
    let mut bench = Bench::new();
    let planned = |bench: &Bench| -> BTreeMap<ItemId, Quantity> {
        let rates = PlanningRates::usual(Currency::USD);
        let plans = actions::plans(&bench.book, day("2026-03-14"), &rates).unwrap();
        plans.into_iter().map(|plan| (plan.want.item, plan.want.planned)).collect()
    };
    assert_eq!(planned(&bench)[&bench.disc], Quantity::ZERO);
    let batch = bench.start(30);
    assert_eq!(planned(&bench)[&bench.disc], quantity("30"));
    let need = actions::batch_need(&bench.book, bench.drop, 12)?;
    assert_eq!(need.iter().map(|one| one.name.as_str()).collect::<Vec<_>>(), ["Copper disc, 30 mm", "Fen green"]);
    assert_eq!((need[0].needed, need[0].on_hand), (quantity("12"), quantity("40")));
    assert_eq!((need[0].reserved, need[0].short), (quantity("30"), quantity("2")));
    // Costing method, section 3: 0.4771293525 g a piece.
    assert_eq!((need[1].needed, need[1].short), (quantity("5.72555223"), Quantity::ZERO));
    let second = bench.start(12);
    assert_eq!(planned(&bench)[&bench.disc], quantity("42"));
    bench.perform(bench.planned(batch, PREPARE))?;
    assert_eq!(planned(&bench)[&bench.disc], quantity("12"));
    let said = bench.perform(bench.planned(second, PREPARE)).unwrap_err().to_string();
    assert!(said.starts_with("Copper disc, 30 mm: only 10 each on hand"), "{said}");
    bench.perform(Action::AbandonBatch { batch: second, date: day("2026-03-14"), why: "no discs".to_owned() })?;
    assert_eq!(planned(&bench)[&bench.disc], Quantity::ZERO);
    bench.undo()?;
    assert_eq!(planned(&bench)[&bench.disc], quantity("12"));
    Ok(())
}

#[test]
fn a_batch_given_up_loses_its_pieces_abnormally_and_nothing_else_happens_to_it() -> TestResult {
    let mut bench = Bench::new();
    bench.at = time("2026-03-20 12:00:00");
    let batch = bench.start(4);
    bench.perform(bench.planned(batch, PREPARE))?;
    let pieces = bench.pieces(batch);
    let finish = Action::SkipStep {
        batch,
        step: COAT,
        pieces: pieces[..1].to_vec(),
        date: day("2026-03-14"),
        why: String::new(),
    };
    bench.perform(finish)?;
    let done =
        bench.there_and_back(Action::AbandonBatch { batch, date: day("2026-03-20"), why: "the kiln broke".to_owned() });
    assert_eq!(done.name, "Give batch 1 up: 4 pieces lost");
    assert_eq!(bench.record(batch).batch.state, BatchState::Abandoned);
    let account = actions::batch_account(&bench.book, batch)?.unwrap();
    // Abnormal losses are kept out of the cost of good pieces (IAS 2, paragraph 16(a)); here they are all of it.
    assert_eq!(account.abnormal, account.spent.total()?);
    assert_eq!(account.cost, Money::ZERO);
    let losses = actions::losses(&bench.book, day("2026-03-20"), day("2026-03-20"))?;
    let rows: Vec<_> = losses.iter().map(|row| (row.step, row.pieces.len(), row.given_up)).collect();
    assert_eq!(rows, [(COAT, 3, true), (FIRE, 1, true)]);
    let said = bench.perform(bench.planned(batch, COAT)).unwrap_err().to_string();
    assert!(said.starts_with("Batch: 1, which is abandoned was given"), "{said}");
    Ok(())
}

#[test]
fn stock_of_the_closed_period_is_not_moved_but_what_moves_none_goes_on() -> TestResult {
    let mut bench = Bench::new();
    bench.at = time("2026-03-20 12:00:00");
    let batch = bench.start(2);
    bench.perform(Action::ClosePeriod(Some(day("2026-03-14"))))?;
    let before = dump(&bench.path());
    let said = bench.perform(bench.planned(batch, PREPARE)).unwrap_err();
    assert!(matches!(said, Refusal::Closed { .. }), "{said}");
    assert!(dump(&bench.path()) == before);
    let Action::DoStep(done) = bench.planned(batch, PREPARE) else { panic!() };
    bench.perform(Action::DoStep(StepDone { materials: StepMaterials::WrittenDown, ..done }))?;
    bench.perform(Action::DoStep(StepDone {
        batch,
        step: COAT,
        pieces: bench.pieces(batch),
        date: day("2026-03-15"),
        minutes: StepMinutes::AsPlanned,
        materials: StepMaterials::AsPlanned,
        lost: Vec::new(),
    }))?;
    bench.assert_sound();
    Ok(())
}

#[test]
fn a_figure_that_batches_taught_is_taken_into_the_design_by_itself_only() -> TestResult {
    let mut bench = Bench::new();
    let before = snapshot(&bench.book)?.design(bench.drop).unwrap().design.clone();
    for (figure, step, planned, proposed) in [
        (LearntFigure::Good, STONE, "0.98", "0.95"),
        (LearntFigure::MinutesPerPiece, STONE, "4", "5.25"),
        (LearntFigure::CoatWeight, COAT, "60", "66.5"),
    ] {
        let done = bench.there_and_back(Action::AcceptProposal(Proposal {
            design: bench.drop,
            step,
            step_name: before.steps[step].name.clone(),
            figure,
            planned: decimal(planned),
            proposed: decimal(proposed),
        }));
        assert!(done.name.ends_with(&format!("DROP: {planned} becomes {proposed}")), "{}", done.name);
    }
    let mut expected = before;
    expected.steps[STONE].good = decimal("0.95");
    expected.steps[STONE].minutes_per_piece = decimal("5.25");
    if let StepKind::Coat(coat) = &mut expected.steps[COAT].kind {
        coat.coat_mg_per_cm2 = decimal("66.5");
    }
    assert_eq!(snapshot(&bench.book)?.design(bench.drop).unwrap().design, expected);
    Ok(())
}

#[test]
fn typed_minutes_of_many_batches_are_proposed_for_the_design() -> TestResult {
    let mut bench = Bench::new();
    for _ in 0..4 {
        let batch = bench.start(2);
        let Action::DoStep(done) = bench.planned(batch, PREPARE) else { panic!() };
        // 10 minutes of set-up and 7 a piece.
        bench.perform(Action::DoStep(StepDone { minutes: StepMinutes::Typed(decimal("24")), ..done }))?;
    }
    let learned = actions::learned(&bench.book, bench.drop)?.unwrap();
    assert_eq!(learned.batches, 4);
    let proposals: Vec<Proposal> = learned.proposals().cloned().collect();
    let minutes = proposals.iter().find(|one| one.figure == LearntFigure::MinutesPerPiece).unwrap();
    assert_eq!((minutes.step, minutes.planned, minutes.proposed), (PREPARE, decimal("2.5"), decimal("7")));
    bench.there_and_back(Action::AcceptProposal(minutes.clone()));
    let learned = actions::learned(&bench.book, bench.drop)?.unwrap();
    assert!(learned.proposals().all(|one| one.figure != LearntFigure::MinutesPerPiece));
    Ok(())
}

/// A thing to do, with numbers that pick from what is there.
#[derive(Debug, Clone)]
enum Deed {
    Start(u32),
    Do { batch: usize, step: usize, pieces: usize, lost: usize, planned: bool },
    Skip { batch: usize, step: usize, pieces: usize },
    Back { batch: usize, to: usize, pieces: usize },
    Lose { batch: usize, pieces: usize, abnormal: bool },
    Take { batch: usize, step: usize },
    Split { batch: usize, pieces: usize },
    Merge { from: usize, into: usize },
    Finish { batch: usize, pieces: usize },
    Abandon(usize),
    Time { one: usize, other: usize, step: usize, minutes: u32 },
    Timer { batch: usize, step: usize },
    Stop,
    Fire { batch: usize },
    Undo,
    Redo,
}

fn deeds() -> impl Strategy<Value = Vec<Deed>> {
    let (batch, step, pieces) = (0..4_usize, 0..5_usize, 0..4_usize);
    let deed = prop_oneof![
        2 => (1..6_u32).prop_map(Deed::Start),
        6 => (batch.clone(), step.clone(), pieces.clone(), 0..2_usize, any::<bool>()).prop_map(
            |(batch, step, pieces, lost, planned)| Deed::Do { batch, step, pieces, lost, planned }
        ),
        5 => (batch.clone(), step.clone(), pieces.clone()).prop_map(|(batch, step, pieces)| Deed::Skip { batch, step, pieces }),
        2 => (batch.clone(), step.clone(), pieces.clone()).prop_map(|(batch, to, pieces)| Deed::Back { batch, to, pieces }),
        1 => (batch.clone(), pieces.clone(), any::<bool>()).prop_map(
            |(batch, pieces, abnormal)| Deed::Lose { batch, pieces, abnormal }
        ),
        1 => (batch.clone(), step.clone()).prop_map(|(batch, step)| Deed::Take { batch, step }),
        2 => (batch.clone(), pieces.clone()).prop_map(|(batch, pieces)| Deed::Split { batch, pieces }),
        2 => (batch.clone(), batch.clone()).prop_map(|(from, into)| Deed::Merge { from, into }),
        3 => (batch.clone(), pieces).prop_map(|(batch, pieces)| Deed::Finish { batch, pieces }),
        1 => batch.clone().prop_map(Deed::Abandon),
        2 => (batch.clone(), batch.clone(), step.clone(), 1..90_u32).prop_map(
            |(one, other, step, minutes)| Deed::Time { one, other, step, minutes }
        ),
        1 => (batch.clone(), step).prop_map(|(batch, step)| Deed::Timer { batch, step }),
        1 => Just(Deed::Stop),
        2 => batch.prop_map(|batch| Deed::Fire { batch }),
        3 => Just(Deed::Undo),
        1 => Just(Deed::Redo),
    ];
    prop::collection::vec(deed, 1..28)
}

/// The first of some pieces, one more than the number, so that there is one where there are any.
fn first(pieces: &[PieceId], number: usize) -> Vec<PieceId> {
    pieces.iter().copied().take(number + 1).collect()
}

fn action_of(bench: &Bench, deed: &Deed) -> Option<Action> {
    let batches: Vec<BatchId> = actions::batch_heads(&bench.book, None).unwrap().iter().map(|head| head.id).collect();
    let of = |place: &usize| batches.get(*place).copied();
    let date = day("2026-03-14");
    let why = String::new();
    Some(match deed {
        Deed::Start(pieces) => Action::StartBatch(new_batch(bench.drop, *pieces)),
        Deed::Do { batch, step, pieces, lost: count, planned } => {
            let batch = of(batch)?;
            let pieces = first(&bench.now(batch).waiting(*step), *pieces);
            let lost: Vec<PieceLost> =
                pieces.iter().take(*count).map(|piece| lost(*piece, LossCause::Cracked)).collect();
            let materials = if *planned { StepMaterials::AsPlanned } else { StepMaterials::WrittenDown };
            let minutes = if *planned { StepMinutes::AsPlanned } else { StepMinutes::Typed(decimal("7.25")) };
            Action::DoStep(StepDone { batch, step: *step, pieces, date, minutes, materials, lost })
        }
        Deed::Skip { batch, step, pieces } => {
            let batch = of(batch)?;
            let pieces = first(&bench.now(batch).waiting(*step), *pieces);
            Action::SkipStep { batch, step: *step, pieces, date, why }
        }
        Deed::Back { batch, to, pieces } => {
            let batch = of(batch)?;
            let pieces = first(&bench.now(batch).at_work(), *pieces);
            Action::SendBack { batch, to: *to, pieces, date, why }
        }
        Deed::Lose { batch, pieces, abnormal } => {
            let batch = of(batch)?;
            let kind = if *abnormal { LossKind::Abnormal } else { LossKind::Normal };
            let pieces = first(&bench.now(batch).at_work(), *pieces);
            let lost = pieces.into_iter().map(|piece| PieceLost { kind, ..lost(piece, LossCause::Warped) }).collect();
            Action::LosePieces { batch, lost, date }
        }
        Deed::Take { batch, step } => {
            let batch = of(batch)?;
            let lines = vec![MaterialTaken {
                material: material("green"),
                quantity: quantity("1.5"),
                typed: String::new(),
                how: Measured::Weighed,
                washed_back: Some(quantity("0.25")),
            }];
            Action::TakeMaterials { batch, step: *step, pieces: bench.now(batch).waiting(*step), date, lines }
        }
        Deed::Split { batch, pieces } => {
            let batch = of(batch)?;
            let pieces = first(&bench.now(batch).at_work(), *pieces);
            Action::SplitBatch { batch, pieces, date, name: String::new() }
        }
        Deed::Merge { from, into } => Action::MergeBatches { from: of(from)?, into: of(into)?, date },
        Deed::Finish { batch, pieces } => {
            let batch = of(batch)?;
            let pieces = first(&bench.now(batch).done(), *pieces);
            Action::FinishPieces { batch, pieces, seconds: Vec::new(), date }
        }
        Deed::Abandon(batch) => Action::AbandonBatch { batch: of(batch)?, date, why: "flood".to_owned() },
        Deed::Time { one, other, step, minutes } => {
            let mut work = vec![TimedWork { batch: of(one)?, step: *step }];
            work.extend(of(other).map(|batch| TimedWork { batch, step: PREPARE }));
            let minutes = Decimal::from(*minutes) / decimal("8");
            Action::AddTime(TimeSpent { work, minutes, date, how: Timed::Typed })
        }
        Deed::Timer { batch, step } => Action::StartTimer(vec![TimedWork { batch: of(batch)?, step: *step }]),
        Deed::Stop => {
            let timer = snapshot(&bench.book).unwrap().timers.first()?.0;
            Action::StopTimer { timer, minutes: Some(decimal("11.5")) }
        }
        Deed::Fire { batch } => {
            let batch = of(batch)?;
            Action::LogLoad(bench.load(batch, "2026-03-14 10:00:00", "2026-03-14 10:02:30"))
        }
        Deed::Undo | Deed::Redo => return None,
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is done in whatever order or refused: every piece is somewhere once, costs add up to the last millionth,
    /// the check finds nothing, and undoing all then doing all again is identity.
    #[test]
    fn any_sequence_at_the_bench_keeps_every_law(deeds in deeds()) {
        let mut bench = Bench::new();
        let empty = dump(&bench.path());
        let mut done = 0;
        for deed in &deeds {
            let result = match deed {
                Deed::Undo if done > 0 => bench.undo().map(|_| done -= 1),
                Deed::Undo => Ok(()),
                Deed::Redo => bench.redo().map(|_| done += 1),
                other => action_of(&bench, other).map_or(Ok(()), |action| bench.perform(action).map(|_| done += 1)),
            };
            if let Err(Refusal::Book(fault)) = result {
                prop_assert!(false, "{}", fault);
            }
        }
        prop_assert_eq!(check(&bench.book).unwrap().problems, Vec::<String>::new());
        // What was ever begun is finished, lost or at work, in one batch.
        let heads = actions::batch_heads(&bench.book, None).unwrap();
        let mut begun = 0;
        let mut there = BTreeMap::new();
        let (mut spent, mut borne) = (Decimal::ZERO, Decimal::ZERO);
        for head in &heads {
            let record = bench.record(head.id);
            for entry in &record.entries {
                if let BenchDeed::Started { pieces } = &entry.deed {
                    begun += pieces.len();
                }
            }
            for (piece, standing) in BatchNow::of(&record).standings() {
                if !matches!(standing, Standing::Given(_)) {
                    prop_assert!(there.insert(piece, standing).is_none());
                }
            }
            if head.pieces > 0 {
                let account = actions::batch_account(&bench.book, head.id).unwrap().unwrap();
                let pieces: Decimal = account.pieces.iter().map(|piece| piece.cost.amount()).sum();
                prop_assert_eq!(pieces + account.unborne.amount(), account.cost.amount());
                let gave: Decimal = account.gave.iter().map(|moved| moved.amount.amount()).sum();
                let came: Decimal = account.came.iter().map(|moved| moved.amount.amount()).sum();
                let total = account.spent.total().unwrap().amount();
                prop_assert_eq!(account.cost.amount() + account.abnormal.amount() + gave, total);
                if let Stage::Complete(variances) = &account.stage {
                    let four = variances.price + variances.usage + variances.time + variances.yield_loss;
                    prop_assert_eq!(four, variances.difference);
                }
                spent += total - came;
                borne += account.cost.amount() + account.abnormal.amount() + gave - came;
            }
        }
        prop_assert_eq!(there.len(), begun);
        prop_assert_eq!(spent, borne);
        while bench.redo().is_ok() {
            done += 1;
        }
        let (full, seen) = (dump(&bench.path()), bench.seen());
        for _ in 0..done {
            bench.undo().unwrap();
        }
        prop_assert!(dump(&bench.path()) == empty);
        while bench.redo().is_ok() {}
        prop_assert!((dump(&bench.path()), bench.seen()) == (full, seen));
        prop_assert_eq!(check(&bench.book).unwrap().problems, Vec::<String>::new());
    }
}
