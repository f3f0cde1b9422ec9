//! What batches cost: worked examples of spoilage, variances and job costs (tests/data, each row with its source), and the
//! laws that hold through any order of deeds.
#![allow(missing_docs)]

mod laws;
mod world;

use crate::support::{Row, rows, rows_of, text};
use enamelwright::costing::batch::{
    AccountError, BatchAccount, Stage, Variances, account, planned_minutes, planned_take,
};
use enamelwright::costing::piece_cost;
use enamelwright::measure::{Decimal, Money};
use enamelwright::studio::{
    BatchId, BenchDeed, Design, LossCause, LossKind, MaterialId, PieceId, Rates, StepKind, Use,
};
use serde_json::Value;
use world::{World, bare_plan, decimal, lost, money, pieces, used, worked};

const COSTS: &str = "c_cost_accounting.csv";

fn row(id: &str) -> Row {
    rows(COSTS).into_iter().find(|row| row.id == id).unwrap()
}

fn input(row: &Row, name: &str) -> Decimal {
    decimal(&row.input(name))
}

fn count(row: &Row, name: &str) -> i64 {
    row.input(name).parse().unwrap()
}

fn answer(row: &Row, name: &str) -> Decimal {
    let expected: Value = row.answer();
    let value = &expected[name];
    assert!(!value.is_null(), "{}: no {name}", row.id);
    Decimal::from_scientific(&text(value)).unwrap_or_else(|_| decimal(&text(value)))
}

fn complete(account: &BatchAccount) -> &Variances {
    match &account.stage {
        Stage::Complete(variances) => variances,
        Stage::SoFar { at_work } => panic!("{at_work} pieces are at work"),
    }
}

/// A batch that uses one unit of a material a piece, loses some pieces, and finishes the rest.
fn spoilt(started: i64, price: Decimal, scrap: Decimal, normal: i64, abnormal: i64) -> BatchAccount {
    let mut plan = bare_plan();
    plan.materials[0].price = price;
    plan.rates.scrap_value = scrap;
    plan.steps[0].uses = vec![Use { material: MaterialId("metal".to_owned()), quantity: Decimal::ONE }];
    let mut world = World::new(plan);
    let batch = world.begin(started);
    world.put(batch, used(0, pieces(1, started), Decimal::from(started)));
    if normal > 0 {
        world.put(batch, lost(0, pieces(1, normal), LossKind::Normal));
    }
    if abnormal > 0 {
        world.put(batch, lost(0, pieces(normal + 1, normal + abnormal), LossKind::Abnormal));
    }
    world.put(batch, BenchDeed::Passed { step: 0, pieces: pieces(normal + abnormal + 1, started) });
    world.put(batch, BenchDeed::Passed { step: 1, pieces: pieces(normal + abnormal + 1, started) });
    world.put(batch, BenchDeed::Finished { pieces: pieces(normal + abnormal + 1, started) });
    world.account(batch).unwrap()
}

fn assert_each_piece(account: &BatchAccount, expected: Decimal) {
    for piece in &account.pieces {
        let off = (piece.cost.amount() - expected).abs();
        assert!(off < decimal("0.000001"), "{} is not {expected}", piece.cost);
    }
}

/// Horngren's Cost Accounting (2018), spoilage: rows C-SPOIL-1 and C-SPOIL-3 (the second partly from memory, as its note
/// says).
#[test]
fn spoilage_of_a_job() {
    let abnormal = row("C-SPOIL-1");
    let (started, spoilt_pieces) = (count(&abnormal, "started"), count(&abnormal, "spoiled"));
    let (price, scrap) = (input(&abnormal, "cost_per_unit"), input(&abnormal, "disposal_per_unit"));
    let found = spoilt(started, price, scrap, 0, spoilt_pieces);
    assert_eq!(found.cost.amount(), answer(&abnormal, "cost_of_good"));
    assert_eq!(found.abnormal.amount(), answer(&abnormal, "loss_from_abnormal_spoilage"));
    assert_eq!(Decimal::from(found.good), answer(&abnormal, "good"));
    assert_each_piece(&found, answer(&abnormal, "per_good"));

    let normal = row("C-SPOIL-3");
    let found = spoilt(started, price, scrap, spoilt_pieces, 0);
    assert_eq!(found.cost.amount(), answer(&normal, "cost_of_good"));
    assert_eq!(found.abnormal, Money::ZERO);
    assert_each_piece(&found, answer(&normal, "per_good"));
}

/// CMA question, normal and abnormal spoilage together (row C-SPOIL-6).
#[test]
fn normal_and_abnormal_spoilage_together() {
    let row = row("C-SPOIL-6");
    let (worked_units, good) = (count(&row, "units_worked"), count(&row, "good"));
    let normal = count(&row, "normal_spoiled");
    let price = input(&row, "cost") / Decimal::from(worked_units);
    assert_eq!(price, answer(&row, "cost_per_unit"));
    let found = spoilt(worked_units, price, Decimal::ZERO, normal, worked_units - good - normal);
    assert_eq!(found.cost.amount(), answer(&row, "transferred_with_good"));
    assert_eq!(found.abnormal.amount(), answer(&row, "abnormal"));
    assert_each_piece(&found, answer(&row, "per_good"));
}

/// Cost accounting exercise 9-34, all abnormal and all normal (rows C-SPOIL-8 and C-SPOIL-10), a thousandth of the units.
#[test]
fn a_job_with_spoilt_units_and_no_disposal_value() {
    let thousand = Decimal::ONE_THOUSAND;
    for (id, normal) in [("C-SPOIL-8", false), ("C-SPOIL-10", true)] {
        let row = row(id);
        let (good, spoilt_pieces) = (count(&row, "good") / 1000, count(&row, "spoiled") / 1000);
        let unit = answer(&row, "unit");
        let (usual, unusual) = if normal { (spoilt_pieces, 0) } else { (0, spoilt_pieces) };
        let found = spoilt(good + spoilt_pieces, unit, Decimal::ZERO, usual, unusual);
        assert_eq!(found.cost.amount() * thousand, answer(&row, "job_cost"), "{id}");
        assert_eq!(found.abnormal.amount() * thousand, answer(&row, "abnormal_loss"), "{id}");
        assert_each_piece(&found, answer(&row, "per_good"));
    }
}

/// One piece made as the plan does or otherwise, and its variances.
fn one_piece(plan: Design, spend: impl FnOnce(&mut World, BatchId)) -> BatchAccount {
    let mut world = World::new(plan);
    let batch = world.begin(1);
    spend(&mut world, batch);
    for step in 0..2 {
        world.put(batch, BenchDeed::Passed { step, pieces: pieces(1, 1) });
    }
    world.put(batch, BenchDeed::Finished { pieces: pieces(1, 1) });
    world.account(batch).unwrap()
}

/// `OpenStax`, Managerial Accounting, 8.2: rows C-VAR-1 and C-VAR-2.
#[test]
fn material_price_and_usage_variances() {
    for id in ["C-VAR-1", "C-VAR-2"] {
        let row = row(id);
        let mut plan = bare_plan();
        plan.materials[0].price = input(&row, "standard_price");
        let quantity = input(&row, "standard_quantity");
        plan.steps[0].uses = vec![Use { material: MaterialId("metal".to_owned()), quantity }];
        let actual = input(&row, "actual_quantity");
        let cost = actual * input(&row, "actual_price");
        let found = one_piece(plan, |world, batch| world.take_stock(batch, 0, pieces(1, 1), actual, cost));
        let variances = complete(&found);
        assert_eq!(variances.price, answer(&row, "price"), "{id}");
        assert_eq!(variances.usage, answer(&row, "usage"), "{id}");
        assert_eq!(variances.difference, answer(&row, "total"), "{id}");
        assert_eq!((variances.time, variances.yield_loss), (Decimal::ZERO, Decimal::ZERO), "{id}");
    }
}

/// `OpenStax`, Managerial Accounting, 8.3 and 8.4: rows C-VAR-3 and C-VAR-5.
#[test]
fn rate_and_time_variances() {
    let sixty = Decimal::from(60);
    let row_3 = row("C-VAR-3");
    let mut plan = bare_plan();
    plan.rates.labour_per_hour = input(&row_3, "standard_rate");
    plan.steps[0].minutes_per_piece = input(&row_3, "standard_hours") * sixty;
    let minutes = input(&row_3, "actual_hours") * sixty;
    let found = one_piece(plan, |world, batch| {
        world.put(batch, worked(0, pieces(1, 1), minutes, input(&row_3, "actual_rate"), Decimal::ZERO));
    });
    let variances = complete(&found);
    assert_eq!((variances.price, variances.time), (answer(&row_3, "rate"), answer(&row_3, "time")));
    assert_eq!((variances.difference, variances.usage), (answer(&row_3, "total"), Decimal::ZERO));

    let row_5 = row("C-VAR-5");
    let mut plan = bare_plan();
    plan.rates.overhead_per_hour = input(&row_5, "standard_rate");
    plan.steps[0].minutes_per_piece = input(&row_5, "standard_hours") * sixty;
    let hours = input(&row_5, "actual_hours");
    let rate = input(&row_5, "actual_cost") / hours;
    let found = one_piece(plan, |world, batch| {
        world.put(batch, worked(0, pieces(1, 1), hours * sixty, Decimal::ZERO, rate));
    });
    let variances = complete(&found);
    assert_eq!((variances.price, variances.time), (answer(&row_5, "rate"), answer(&row_5, "efficiency")));
    assert_eq!(variances.difference, answer(&row_5, "total"));
}

/// `OpenStax`, Managerial Accounting, 4.4 and 4.5: row C-JOB-1, overhead by labour cost: an hour at 1 with 2.5 overhead.
#[test]
fn a_job_cost_sheet() {
    let row = row("C-JOB-1");
    let found = one_piece(bare_plan(), |world, batch| {
        world.take_stock(batch, 0, pieces(1, 1), Decimal::ONE, input(&row, "materials"));
        let minutes = input(&row, "labour") * Decimal::from(60);
        world.put(batch, worked(0, pieces(1, 1), minutes, Decimal::ONE, input(&row, "overhead_rate")));
    });
    assert_eq!(found.spent.overhead.amount(), answer(&row, "overhead"));
    assert_eq!(found.cost.amount(), answer(&row, "total"));
}

/// Rolled yields (rows D-RTY, sources named there) and pieces entering each step (rows D-FLOW): the planned side.
#[test]
fn planned_pieces_flow_by_their_shares() {
    let flow = |pieces: i64, shares: &[Decimal]| {
        let mut plan = bare_plan();
        let step = plan.steps[1].clone();
        plan.steps = shares.iter().map(|good| enamelwright::studio::Step { good: *good, ..step.clone() }).collect();
        let mut world = World::new(plan);
        let batch = world.begin(pieces);
        world.account(batch).unwrap()
    };
    let numbers = |value: &Value| -> Vec<Decimal> {
        value.as_array().unwrap().iter().map(|number| decimal(&text(number))).collect()
    };
    for row in rows_of("d_planning_and_statistics.csv", "D-RTY", 4) {
        let found = flow(100, &numbers(&row.inputs["step_yields"]));
        let good = found.steps.last().unwrap().good.planned;
        assert_eq!(good / Decimal::ONE_HUNDRED, decimal(&row.expected), "{}", row.id);
    }
    for row in rows_of("d_planning_and_statistics.csv", "D-FLOW", 2) {
        let found = flow(count(&row, "pieces"), &numbers(&row.inputs["good"]));
        let entering: Vec<Decimal> = found.steps.iter().map(|step| step.pieces_in.planned).collect();
        assert_eq!(entering, numbers(&row.answer()["entering"]), "{}", row.id);
        assert_eq!(found.steps.last().unwrap().good.planned, answer(&row, "good"), "{}", row.id);
    }
}

fn lantern_drop() -> Design {
    enamelwright::exchange::design_file::read(include_str!("../data/lantern-drop.toml")).unwrap()
}

/// A batch done exactly as planned has nothing to explain but millionths of rounding.
#[test]
fn as_planned_there_is_no_variance() {
    let mut plan = lantern_drop();
    for step in &mut plan.steps {
        step.good = Decimal::ONE;
    }
    let mut world = World::new(plan.clone());
    let batch = world.begin(12);
    world.as_planned(batch, 12);
    let found = world.account(batch).unwrap();
    let variances = complete(&found);
    for variance in [variances.price, variances.usage, variances.time, variances.yield_loss] {
        assert!(variance.abs() < decimal("0.0001"), "{variances:?}");
    }
    let full = piece_cost(&Design { pieces: 12, ..plan.clone() }).unwrap().full;
    assert_each_near(&found, full, "0.00001");
    for (step, account) in plan.steps.iter().zip(&found.steps) {
        let is = |planned: Decimal, actual: Decimal| (planned - actual).abs() < decimal("0.00001");
        assert!(is(account.minutes.planned, account.minutes.actual), "{}", step.name);
        assert!(is(account.cost.planned, account.cost.actual), "{}", step.name);
        assert!(is(account.loads.planned, account.loads.actual), "{}", step.name);
        assert!(is(account.kwh.planned, account.kwh.actual) && is(account.hot_hours.planned, account.hot_hours.actual));
        assert_eq!(account.pieces_in.planned, account.pieces_in.actual);
    }
    // The planned need is what the steps took.
    let take = planned_take(&plan, 1, 12).unwrap();
    let line = &found.steps[1].materials[0];
    assert_eq!((take[0].quantity.amount(), &take[0].material), (line.quantity.actual, &line.material));
    assert_eq!(planned_minutes(&plan, 1, 12, true).unwrap(), found.steps[1].minutes.actual);
}

fn assert_each_near(account: &BatchAccount, expected: Decimal, tolerance: &str) {
    for piece in &account.pieces {
        assert!((piece.cost.amount() - expected).abs() < decimal(tolerance), "{} is not {expected}", piece.cost);
    }
}

/// What is done again belongs to its piece (kiln and batch method, section 4); a lost piece's own is borne by all.
#[test]
fn a_repair_stays_with_its_piece_until_it_is_lost() {
    let mut world = World::new(bare_plan());
    let batch = world.begin(3);
    let hour = |world: &mut World, step, of: Vec<PieceId>| {
        world.put(batch, worked(step, of, Decimal::from(60), Decimal::TEN, Decimal::ZERO));
    };
    hour(&mut world, 0, pieces(1, 3));
    world.put(batch, BenchDeed::Passed { step: 0, pieces: pieces(1, 3) });
    world.put(batch, BenchDeed::SentBack { to: 0, pieces: pieces(2, 3), why: "a scratch".to_owned() });
    hour(&mut world, 0, pieces(2, 3));
    let shared = money("3.333333");
    let found = world.account(batch).unwrap();
    assert_eq!(found.stage, Stage::SoFar { at_work: 3 });
    let minutes: Vec<Decimal> = found.pieces.iter().map(|piece| piece.minutes.normalize()).collect();
    assert_eq!(minutes, [20, 50, 50].map(Decimal::from));
    let own: Vec<Money> = found.pieces.iter().map(|piece| piece.own.total().unwrap()).collect();
    assert_eq!(own, [money("0"), money("5"), money("5")]);
    assert_eq!(found.pieces[1].own_lines.len(), 1);
    assert_eq!(found.pieces[2].shared.total().unwrap(), shared);

    world.put(batch, lost(0, pieces(3, 3), LossKind::Normal));
    let found = world.account(batch).unwrap();
    let costs: Vec<Money> = found.pieces.iter().map(|piece| piece.cost).collect();
    assert_eq!(costs, [money("7.5"), money("12.5")]);

    // A second firing of a step is the piece's own too.
    world.put(batch, BenchDeed::Passed { step: 0, pieces: pieces(2, 2) });
    world.fire(batch, 1, pieces(1, 2), "4");
    world.fire(batch, 1, pieces(1, 1), "1");
    let found = world.account(batch).unwrap();
    assert_eq!(found.pieces[0].own.kiln_energy, money("1"));
    assert_eq!(found.pieces[1].own.kiln_energy, Money::ZERO);
    // Two hours' work, two pieces at 4 in the first load, one at 1 in the second: 20 + 8 + 1.
    assert_eq!(found.cost, money("29"));
}

/// Pieces given take their equal share and their own with them.
#[test]
fn cost_moves_with_pieces() {
    let mut world = World::new(bare_plan());
    let (from, to) = (world.begin(4), world.begin(2));
    world.put(from, worked(0, pieces(1, 4), Decimal::from(60), Decimal::from(40), Decimal::ZERO));
    world.put(from, BenchDeed::Passed { step: 0, pieces: pieces(1, 4) });
    world.put(from, lost(1, pieces(4, 4), LossKind::Normal));
    world.give(from, to, pieces(1, 1));
    let (left, came) = (world.account(from).unwrap(), world.account(to).unwrap());
    // 40 borne by the three that are left: 13.333334 for the first.
    assert_eq!((left.gave[0].amount, came.came[0].amount), (money("13.333334"), money("13.333334")));
    assert_eq!((left.cost, came.cost), (money("26.666666"), money("13.333334")));
    assert_eq!(came.put_in, 3);
    assert_eq!(came.spent.came, money("13.333334"));

    let mut missing = world.ask(to);
    missing.records.remove(&from);
    assert_eq!(account(&missing), Err(AccountError::NoBatch { batch: from }));
    let mut unpriced = world.ask(from);
    unpriced.batch = BatchId(99);
    assert_eq!(account(&unpriced), Err(AccountError::NoBatch { batch: BatchId(99) }));
}

#[test]
fn what_is_not_given_is_named() {
    let mut world = World::new(bare_plan());
    let batch = world.begin(1);
    world.take_stock(batch, 0, pieces(1, 1), Decimal::ONE, Decimal::ONE);
    world.put(batch, BenchDeed::Passed { step: 0, pieces: pieces(1, 1) });
    world.fire(batch, 1, pieces(1, 1), "1");
    let mut ask = world.ask(batch);
    ask.load_shares.clear();
    assert_eq!(account(&ask).unwrap_err().to_string(), "what piece 1 bears of load 1 is not given");
    ask.issue_costs.clear();
    assert_eq!(account(&ask).unwrap_err().to_string(), "the cost of movement 1 is not given");
    ask.records.get_mut(&batch).unwrap().entries.remove(0);
    assert_eq!(account(&ask).unwrap_err().to_string(), "entry 2: piece 1 is not in this batch");
    ask.records.get_mut(&batch).unwrap().entries.clear();
    assert_eq!(account(&ask), Err(AccountError::NoPieces));
}

#[test]
fn a_plan_with_scrap_and_an_abnormal_loss_still_explains_everything() {
    // Worked by hand: 4 begun, planned share good 0.75, 1 unit at 2 each, scrap 0.5. Plan: (8 − 1 × 0.5) / 3 = 2.5 each.
    let mut plan = bare_plan();
    plan.rates = Rates { scrap_value: decimal("0.5"), ..plan.rates };
    plan.materials[0].price = Decimal::TWO;
    plan.steps[0].uses = vec![Use { material: MaterialId("metal".to_owned()), quantity: Decimal::ONE }];
    plan.steps[0].good = decimal("0.75");
    assert!(matches!(plan.steps[1].kind, StepKind::Fire(_)));
    let mut world = World::new(plan);
    let batch = world.begin(4);
    // Took 1.5 a piece at 3 each: 18.
    world.take_stock(batch, 0, pieces(1, 4), Decimal::from(6), Decimal::from(18));
    let dropped = BenchDeed::Lost {
        step: 0,
        pieces: pieces(4, 4),
        cause: LossCause::Dropped,
        kind: LossKind::Abnormal,
        load: None,
        note: String::new(),
    };
    world.put(batch, dropped);
    world.put(batch, lost(0, pieces(3, 3), LossKind::Normal));
    for step in 0..2 {
        world.put(batch, BenchDeed::Passed { step, pieces: pieces(1, 2) });
    }
    world.put(batch, BenchDeed::Finished { pieces: pieces(1, 2) });
    let found = world.account(batch).unwrap();
    // 18 − 4.5 to the step of the dropped one − 0.5 scrap of the usual loss = 13; the dropped one cost 4.5 − 0.5.
    assert_eq!((found.cost, found.abnormal), (money("13"), money("4")));
    let variances = complete(&found);
    // Without the dropped one: took 4.5 for 13.5, plan 3 for 6. Price (3 − 2) × 4.5, usage (4.5 − 3) × 2.
    assert_eq!((variances.price, variances.usage), (decimal("4.5"), Decimal::from(3)));
    // 8 − 2 (dropped, at plan) − 0.5 − 2.5 × 2.
    assert_eq!(variances.yield_loss, decimal("0.5"));
    assert_eq!(variances.difference, Decimal::from(8));
    let kinds: Vec<(LossKind, u32)> = found.steps[0].lost.iter().map(|lost| (lost.kind, lost.pieces)).collect();
    assert_eq!(kinds, [(LossKind::Normal, 1), (LossKind::Abnormal, 1)]);
}
