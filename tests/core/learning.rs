//! What batches teach, against published and reference-library values (tests/data, each row with its source).
#![allow(missing_docs)]

use crate::support::{rows_of, text};
use chrono::NaiveDate;
use enamelwright::costing::geometry::measure;
use enamelwright::costing::learning::{Learned, LossBy, LossOf, bars, learned, loss_rows, quartiles, share_good};
use enamelwright::measure::{Decimal, Quantity};
use enamelwright::studio::{
    Batch, BatchId, BatchRecord, BatchState, BenchDeed, BenchEntry, Design, DesignId, EntryId, KilnId, LearntFigure,
    LoadId, LossCause, LossKind, MaterialId, Measured, PieceId, Proposal, StepKind, Timed,
};
use proptest::prelude::*;
use std::collections::BTreeMap;

const STATISTICS: &str = "d_planning_and_statistics.csv";

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// Rows D-JEF: quantiles that scipy and statsmodels agree on; the open ends are those of Brown, Cai and `DasGupta` (2001).
#[test]
fn jeffreys_intervals() {
    let near = decimal("0.0000001");
    for row in rows_of(STATISTICS, "D-JEF", 8) {
        let (good, of): (u32, u32) = (row.input("good").parse().unwrap(), row.input("of").parse().unwrap());
        let found = share_good(good, of, decimal(&row.input("confidence"))).unwrap();
        let expected = |name: &str| decimal(&text(&row.answer()[name]));
        assert!((found.mean - expected("mean")).abs() < near, "{}: {found:?}", row.id);
        if good == 0 {
            assert_eq!(found.low, Decimal::ZERO, "{}", row.id);
        } else {
            assert!((found.low - expected("low")).abs() < near, "{}: {found:?}", row.id);
        }
        if good == of {
            assert_eq!(found.high, Decimal::ONE, "{}", row.id);
        } else {
            assert!((found.high - expected("high")).abs() < near, "{}: {found:?}", row.id);
        }
    }
}

/// Rows D-QUART: type 7 of Hyndman and Fan (1996), as numpy has it.
#[test]
fn quartiles_of_type_seven() {
    for row in rows_of(STATISTICS, "D-QUART", 2) {
        let data: Vec<Decimal> =
            row.inputs["data"].as_array().unwrap().iter().map(|value| decimal(&text(value))).collect();
        let found = quartiles(&data).unwrap().unwrap();
        let expected = |name: &str| decimal(&text(&row.answer()[name]));
        assert_eq!(
            (found.first, found.median, found.third),
            (expected("q1").normalize(), expected("median").normalize(), expected("q3").normalize()),
            "{}",
            row.id
        );
    }
    assert_eq!(quartiles(&[]), Ok(None));
    assert_eq!(quartiles(&[Decimal::TEN]).unwrap().unwrap().third, Decimal::TEN);
}

proptest! {
    /// The interval holds the mean unless an end is open, widens with its probability and mirrors when good and lost change
    /// places.
    #[test]
    fn intervals_keep_their_order(good in 0_u32..400, lost in 0_u32..400) {
        let of = good + lost;
        let [narrow, wide] = ["0.5", "0.9"].map(|probability| share_good(good, of, decimal(probability)).unwrap());
        prop_assert!(wide.low <= narrow.low && narrow.low <= narrow.high && narrow.high <= wide.high);
        prop_assert!(wide.low >= Decimal::ZERO && wide.high <= Decimal::ONE);
        prop_assert!(wide.low < wide.mean && wide.mean < wide.high);
        let mirrored = share_good(lost, of, decimal("0.9")).unwrap();
        prop_assert!((mirrored.low - (Decimal::ONE - wide.high)).abs() <= decimal("0.000000002"));
    }
}

fn lantern_drop() -> Design {
    enamelwright::exchange::design_file::read(include_str!("../data/lantern-drop.toml")).unwrap()
}

fn day(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 3, day).unwrap()
}

fn pieces(from: i64, to: i64) -> Vec<PieceId> {
    (from..=to).map(PieceId).collect()
}

fn record(id: i64, plan: &Design, deeds: Vec<BenchDeed>) -> BatchRecord {
    let entry = |(deed, row): (BenchDeed, i64)| BenchEntry { id: EntryId(row), batch: BatchId(id), date: day(2), deed };
    BatchRecord {
        id: BatchId(id),
        batch: Batch {
            number: u32::try_from(id).unwrap(),
            design: DesignId(3),
            name: plan.name.clone(),
            started: day(1),
            plan: plan.clone(),
            stock: BTreeMap::new(),
            note: String::new(),
            state: BatchState::Open,
        },
        pieces: Vec::new(),
        entries: deeds.into_iter().zip(1..).map(entry).collect(),
    }
}

fn worked(step: usize, pieces: Vec<PieceId>, minutes: i64, how: Timed) -> BenchDeed {
    let rate = Decimal::from(26);
    let minutes = Decimal::from(minutes);
    BenchDeed::Worked { step, pieces, minutes, labour_per_hour: rate, overhead_per_hour: rate, how }
}

fn weighed(step: usize, pieces: Vec<PieceId>, material: &str, grams: Decimal) -> BenchDeed {
    let quantity = Quantity::new(grams).unwrap();
    BenchDeed::Used { step, pieces, material: MaterialId(material.to_owned()), quantity, how: Measured::Weighed }
}

fn lost(step: usize, pieces: Vec<PieceId>, kind: LossKind, load: Option<LoadId>) -> BenchDeed {
    BenchDeed::Lost { step, pieces, cause: LossCause::Cracked, kind, load, note: String::new() }
}

fn proposals(learned: &Learned) -> Vec<(usize, LearntFigure, Decimal, Decimal)> {
    let short = |one: &Proposal| (one.step, one.figure, one.planned, one.proposed);
    learned.proposals().map(short).collect()
}

/// Ten pieces: the first step takes longer than planned, the counter coat is heavier, and the first firing loses three.
fn hard_day(id: i64) -> BatchRecord {
    let plan = lantern_drop();
    let back = measure(&plan.blank).unwrap().back_cm2;
    // 90 mg/cm² where it lands, and a quarter of that beside it.
    let grams = back * decimal("0.09") * decimal("1.25") * Decimal::TEN;
    let mut deeds = vec![
        BenchDeed::Started { pieces: pieces(1, 10) },
        worked(0, pieces(1, 10), 15 + 120, Timed::Clock),
        BenchDeed::Passed { step: 0, pieces: pieces(1, 10) },
        weighed(1, pieces(1, 10), "counter-slate", enamelwright::measure::exact::round(grams, 9)),
        worked(1, pieces(1, 10), 999, Timed::Planned),
        BenchDeed::Passed { step: 1, pieces: pieces(1, 10) },
        lost(2, pieces(1, 3), LossKind::Normal, Some(LoadId(5))),
        lost(2, pieces(4, 4), LossKind::Abnormal, Some(LoadId(6))),
        BenchDeed::Passed { step: 2, pieces: pieces(5, 10) },
    ];
    // A repair says nothing about the usual time: it is done again.
    deeds.push(BenchDeed::SentBack { to: 0, pieces: pieces(5, 5), why: "bent".to_owned() });
    deeds.push(worked(0, pieces(5, 5), 500, Timed::Typed));
    record(id, &plan, deeds)
}

#[test]
fn figures_are_proposed_where_the_plan_lies_outside() {
    let plan = lantern_drop();
    let found = learned(DesignId(3), &plan, &[hard_day(1), hard_day(2)]).unwrap();
    assert_eq!(found.batches, 2);
    let firing = &found.steps[2].good;
    assert_eq!((firing.share.good, firing.share.of, firing.planned), (12, 18, decimal("0.99")));
    // 12.5 / 19 = 0.65789…; 12 minutes where 8 are planned; 90 mg/cm² where 72 are.
    assert_eq!(
        proposals(&found),
        [
            (0, LearntFigure::MinutesPerPiece, decimal("8"), decimal("12")),
            (1, LearntFigure::CoatWeight, decimal("72"), decimal("90")),
            (2, LearntFigure::Good, decimal("0.99"), decimal("0.6579")),
        ]
    );
    let first = found.proposals().next().unwrap();
    assert_eq!((first.design, first.step_name.as_str()), (DesignId(3), "Saw, dome, solder, clean"));
    assert!(found.steps[1].minutes.is_none(), "a time taken as planned teaches nothing");
    assert!(found.steps[2].minutes.is_none(), "a firing's minutes are its loads'");
    assert_eq!(found.steps[0].minutes.as_ref().unwrap().batches, 2);
}

#[test]
fn a_step_that_was_another_then_says_nothing() {
    let mut plan = lantern_drop();
    plan.steps[2].name = "Fire it twice as long".to_owned();
    let found = learned(DesignId(3), &plan, &[hard_day(1)]).unwrap();
    assert_eq!((found.steps[2].good.share.of, &found.steps[2].good.proposal), (0, &None));
    let nothing = learned(DesignId(3), &plan, &[]).unwrap();
    assert_eq!((nothing.batches, nothing.proposals().count()), (0, 0));
    assert!(nothing.steps.iter().zip(&plan.steps).all(|(learnt, step)| learnt.good.planned == step.good));
    assert!(matches!(plan.steps[1].kind, StepKind::Coat(_)) && nothing.steps[1].coat.is_none());
}

#[test]
fn losses_are_counted_by_what_they_share() {
    let kilns = BTreeMap::from([(LoadId(5), KilnId(1)), (LoadId(6), KilnId(2))]);
    let mut batch = hard_day(1);
    let gone = BenchDeed::Abandoned { pieces: pieces(5, 10), why: "the order was taken back".to_owned() };
    batch.entries.push(BenchEntry { id: EntryId(90), batch: BatchId(1), date: day(9), deed: gone });
    let rows = loss_rows(&batch, &kilns, (day(1), day(8)));
    assert_eq!(rows.len(), 2);
    assert_eq!(rows[0].enamel.as_deref(), Some("Slate, counter enamel"));
    let by_kiln = bars(&rows, LossBy::Kiln);
    let short: Vec<(LossOf, u32, u32)> = by_kiln.into_iter().map(|bar| (bar.of, bar.pieces, bar.abnormal)).collect();
    assert_eq!(short, [(LossOf::Kiln(KilnId(1)), 3, 0), (LossOf::Kiln(KilnId(2)), 1, 1)]);

    let all = loss_rows(&batch, &kilns, (day(1), day(9)));
    // Piece 5 was back at the first step, before any coat; the others waited to be cleaned.
    assert_eq!(
        all.iter().map(|row| (row.step, row.pieces.len(), row.given_up)).collect::<Vec<_>>(),
        [(2, 3, false), (2, 1, false), (0, 1, true), (3, 5, true)]
    );
    let of = |by| bars(&all, by).into_iter().map(|bar| (bar.of, bar.pieces)).collect::<Vec<_>>();
    assert_eq!(of(LossBy::Enamel), [(LossOf::Enamel("Slate, counter enamel".to_owned()), 9), (LossOf::None, 1)]);
    assert_eq!(of(LossBy::Cause), [(LossOf::Cause(LossCause::Other), 6), (LossOf::Cause(LossCause::Cracked), 4)]);
    assert_eq!(of(LossBy::Design), [(LossOf::Design(DesignId(3), "LN-DROP".to_owned()), 10)]);
    assert_eq!(of(LossBy::Step)[0], (LossOf::Step("Clean the front".to_owned()), 5));
}
