use super::super::laws::broken_laws;
use super::super::samples::{day, pieces, record};
use super::*;
use crate::costing::samples::lantern_drop;
use crate::measure::{Decimal, Quantity};
use crate::studio::{BatchState, EntryId, Measured, Timed};

fn started() -> BenchDeed {
    BenchDeed::Started { pieces: pieces(1..=5) }
}

fn passed(step: usize, range: std::ops::RangeInclusive<i64>) -> BenchDeed {
    BenchDeed::Passed { step, pieces: pieces(range) }
}

fn lost(step: usize, range: std::ops::RangeInclusive<i64>) -> BenchDeed {
    let (cause, kind) = (LossCause::Dropped, LossKind::Normal);
    BenchDeed::Lost { step, pieces: pieces(range), cause, kind, load: None, note: String::new() }
}

fn used(step: usize, material: &str, quantity: i64) -> BenchDeed {
    BenchDeed::Used {
        step,
        pieces: pieces(1..=1),
        material: MaterialId(material.to_owned()),
        quantity: Quantity::from_billionths(quantity),
        how: Measured::Weighed,
    }
}

fn problem(deeds: Vec<BenchDeed>) -> String {
    BatchNow::checked(&record(lantern_drop(), deeds)).unwrap_err().to_string()
}

#[test]
fn pieces_are_where_the_entries_leave_them() {
    let back = BenchDeed::SentBack { to: 0, pieces: pieces(2..=2), why: "scratched".to_owned() };
    let skipped = BenchDeed::Skipped { step: 1, pieces: pieces(1..=1), why: "has it".to_owned() };
    let gave = BenchDeed::Gave { to: BatchId(9), pieces: pieces(5..=5) };
    let now = BatchNow::checked(&record(
        lantern_drop(),
        vec![started(), passed(0, 1..=3), back, skipped, lost(0, 4..=4), gave],
    ))
    .unwrap();
    assert_eq!(now.standing(PieceId(1)), Some(Standing::At(2)));
    assert_eq!((now.waiting(0), now.waiting(1), now.waiting(2)), (pieces(2..=2), pieces(3..=3), pieces(1..=1)));
    let (cause, kind) = (LossCause::Dropped, LossKind::Normal);
    assert_eq!(now.standing(PieceId(4)), Some(Standing::Lost { step: 0, cause, kind }));
    assert_eq!(now.standing(PieceId(5)), Some(Standing::Given(BatchId(9))));
    assert_eq!(now.standing(PieceId(6)), None);
    let counts = now.counts();
    assert_eq!(counts[0], StepCounts { entered: 6, waiting: 1, passed: 3, lost: 1, given: 1, ..StepCounts::default() });
    assert_eq!(counts[1], StepCounts { entered: 3, waiting: 1, skipped: 1, sent_back: 1, ..StepCounts::default() });
    assert!(now.again(PieceId(2), 0) && !now.again(PieceId(1), 0));
    assert!(now.is_under_way(0) && !now.is_under_way(1));
}

#[test]
fn the_end_of_the_route_is_done_then_finished() {
    let plan = crate::costing::samples::with_route(vec![crate::costing::samples::fire("700")]);
    let finished = BenchDeed::Finished { pieces: pieces(1..=2) };
    let entries = vec![started(), passed(0, 1..=4), finished, lost(1, 3..=3)];
    let now = BatchNow::checked(&record(plan.clone(), entries.clone())).unwrap();
    assert_eq!((now.done(), now.at_work()), (pieces(4..=4), pieces(4..=5)));
    assert_eq!(now.finishing(), StepCounts { entered: 4, waiting: 1, passed: 2, lost: 1, ..StepCounts::default() });

    let mut kept = record(plan, entries);
    assert_eq!(broken_laws(&kept).len(), 2, "two finished pieces have no number");
    kept.pieces[0].number = Some("A-1".to_owned());
    kept.pieces[1].number = Some("A-2".to_owned());
    assert_eq!(broken_laws(&kept), Vec::<String>::new());
    kept.batch.state = BatchState::Finished;
    kept.pieces.pop();
    kept.entries[2].date = day(1);
    kept.entries[1].id = EntryId(3);
    assert_eq!(
        broken_laws(&kept),
        [
            "entry 3 is not after the one before it",
            "entry 3: 2026-03-01 is before 2026-03-02, the entry before it",
            "4 pieces are kept with it, its entries leave 5",
            "it is finished and 2 pieces are at work",
        ]
    );
}

#[test]
fn what_cannot_have_happened_is_refused_in_words() {
    assert_eq!(problem(vec![BenchDeed::Started { pieces: Vec::new() }]), "no piece is named: name one or more");
    assert_eq!(problem(vec![started(), started()]), "piece 1 is in this batch already");
    assert_eq!(problem(vec![started(), passed(1, 1..=1)]), "piece 1 is at step 1, not at step 2");
    assert_eq!(problem(vec![started(), passed(0, 6..=6)]), "piece 6 is not in this batch");
    assert_eq!(problem(vec![started(), passed(99, 1..=1)]), "step 100: the route has 15 steps");
    let twice = BenchDeed::Passed { step: 0, pieces: vec![PieceId(2), PieceId(1)] };
    assert!(problem(vec![started(), twice]).starts_with("piece 1 is named twice or out of order"));
    assert_eq!(
        problem(vec![started(), BenchDeed::SentBack { to: 0, pieces: pieces(1..=1), why: String::new() }]),
        "piece 1 is at step 1; only a piece at a later step goes back"
    );
    assert_eq!(
        problem(vec![started(), BenchDeed::Finished { pieces: pieces(1..=1) }]),
        "piece 1 is at step 1; only a piece that is through the route is finished"
    );
    assert_eq!(
        problem(vec![started(), lost(0, 1..=1), BenchDeed::Gave { to: BatchId(2), pieces: pieces(1..=1) }]),
        "piece 1 is lost; only a piece at work can go"
    );
    assert_eq!(problem(vec![started(), used(1, "dusk-blue", 1)]), "piece 1 has not come to step 2 yet");
    assert_eq!(problem(vec![started(), used(0, "ash", 1)]), "no material ash in the plan");
    assert_eq!(problem(vec![started(), used(0, "loop", -1)]), "quantity -0.000000001: 0 or more");
    let worked = BenchDeed::Worked {
        step: 0,
        pieces: pieces(1..=1),
        minutes: Decimal::NEGATIVE_ONE,
        labour_per_hour: Decimal::ONE,
        overhead_per_hour: Decimal::ONE,
        how: Timed::Typed,
    };
    assert_eq!(problem(vec![started(), worked]), "minutes -1: 0 or more");
    let mut other = record(lantern_drop(), vec![started()]);
    other.entries[0].batch = BatchId(7);
    assert_eq!(BatchNow::checked(&other).unwrap_err().to_string(), "an entry of batch row 7");
    assert_eq!(broken_laws(&other)[0], "entry 1: an entry of batch row 7");
}

#[test]
fn a_piece_that_comes_passed_the_steps_before_and_goes_on() {
    let got = BenchDeed::Got { from: BatchId(2), step: 3, pieces: pieces(8..=8) };
    let back = BenchDeed::SentBack { to: 1, pieces: pieces(8..=8), why: String::new() };
    let now = BatchNow::checked(&record(lantern_drop(), vec![started(), got, back])).unwrap();
    assert_eq!(now.standing(PieceId(8)), Some(Standing::At(1)));
    assert!(now.again(PieceId(8), 1) && !now.again(PieceId(8), 3));
}

#[test]
fn a_second_firing_is_again() {
    let plan = crate::costing::samples::with_route(vec![crate::costing::samples::fire("700")]);
    let fired = |load| BenchDeed::Fired { step: 0, pieces: pieces(1..=1), load: crate::studio::LoadId(load) };
    let now = |deeds| BatchNow::checked(&record(plan.clone(), deeds)).unwrap();
    assert!(!now(vec![started(), fired(1)]).again(PieceId(1), 0));
    assert!(now(vec![started(), fired(1), fired(2)]).again(PieceId(1), 0));
}
