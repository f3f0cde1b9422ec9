//! The laws of batches through any order of deeds.

use super::world::{World, bare_plan, decimal, lost, worked};
use crate::cases::any_design;
use enamelwright::costing::batch::{AccountError, BatchNow, Stage, Standing, VarianceOf, account, broken_laws};
use enamelwright::costing::piece_cost;
use enamelwright::measure::{Decimal, Money, exact};
use enamelwright::studio::{BatchId, BenchDeed, Design, LossKind, PieceId};
use proptest::collection::vec;
use proptest::prelude::*;

/// A plan whose rates are within what a made-up world can spend.
fn any_plan() -> impl Strategy<Value = Design> {
    any_design().prop_filter("the plan can be costed", |plan| piece_cost(plan).is_ok())
}

/// What happens next: which batch, what, which step and pieces, how much.
type Chance = (u8, u8, u16, u32);

fn chances() -> impl Strategy<Value = Vec<Chance>> {
    vec((any::<u8>(), any::<u8>(), any::<u16>(), 0_u32..2_000_000), 0..60)
}

proptest! {
    /// Pieces in = good + lost + waiting + given at every step; every batch's cost is its pieces' and what none bears;
    /// what was spent is that cost, abnormal losses and what went away; the four variances are the difference; and over
    /// all batches nothing is lost: all to the last digit, through any order of deeds.
    #[test]
    fn the_laws_hold_through_any_order_of_deeds(
        plan in any_plan(), pieces in 1_i64..7, chances in chances(), end in any::<bool>()
    ) {
        let mut world = World::new(plan);
        for count in [pieces, 1, 2] {
            world.begin(count);
        }
        for chance in chances {
            world.happen(chance);
        }
        if end {
            world.finish_all();
        }
        let (mut spent_in_all, mut borne_in_all) = (Money::ZERO, Money::ZERO);
        for id in world.batches() {
            let record = world.record(id);
            prop_assert_eq!(broken_laws(record), Vec::<String>::new());
            let now = BatchNow::of(record);
            let standings: Vec<Standing> = now.standings().map(|(_, standing)| standing).collect();
            let all = |of: fn(&Standing) -> bool| standings.iter().filter(|standing| of(standing)).count();
            let waiting: usize = (0..record.batch.plan.steps.len()).map(|step| now.waiting(step).len()).sum();
            let gone = all(|one| matches!(one, Standing::Finished | Standing::Lost { .. } | Standing::Given(_)));
            prop_assert_eq!(standings.len(), waiting + now.done().len() + gone);

            let found = world.account(id).unwrap();
            let plus = |sum: Money, more: Money| sum.plus(more).unwrap();
            let of_pieces = found.pieces.iter().map(|piece| piece.cost).fold(found.unborne, plus);
            prop_assert_eq!(of_pieces, found.cost);
            let gave = found.gave.iter().map(|moved| moved.amount).fold(Money::ZERO, plus);
            let came = found.came.iter().map(|moved| moved.amount).fold(Money::ZERO, plus);
            prop_assert_eq!(came, found.spent.came);
            let out = plus(plus(found.cost, found.abnormal), gave);
            prop_assert_eq!(found.spent.total().unwrap(), out);
            for piece in &found.pieces {
                let parts = piece.shared.total().unwrap().plus(piece.own.total().unwrap()).unwrap();
                prop_assert_eq!(parts, piece.cost);
                let lines = piece.own_lines.iter().map(|line| line.amount).fold(Money::ZERO, plus);
                prop_assert_eq!(lines, piece.own.total().unwrap());
            }
            let shares: Vec<Decimal> = found.pieces.iter().map(|one| one.shared.total().unwrap().amount()).collect();
            let (least, most) = (shares.iter().min(), shares.iter().max());
            if let (Some(least), Some(most)) = (least, most) {
                prop_assert!(most - least <= decimal("0.000001"));
            }
            let steps = exact::sum(found.steps.iter().map(|step| step.cost.actual)).unwrap();
            let scrap = found.spent.scrap.amount();
            prop_assert_eq!(steps + came.amount() - scrap, found.spent.total().unwrap().amount());
            match &found.stage {
                Stage::SoFar { at_work } => {
                    prop_assert!(!end);
                    prop_assert_eq!(*at_work as usize, now.at_work().len());
                }
                Stage::Complete(variances) => {
                    let sum = variances.price + variances.usage + variances.time + variances.yield_loss;
                    prop_assert_eq!(sum, variances.difference);
                    prop_assert_eq!(variances.difference, found.cost.amount() - variances.planned);
                    let plan = Design { pieces: found.put_in, ..record.batch.plan.clone() };
                    if let Ok(cost) = piece_cost(&plan) {
                        let planned = cost.full * Decimal::from(found.good);
                        prop_assert!((variances.planned - planned).abs() < decimal("0.000001"));
                    }
                    for line in &variances.lines {
                        prop_assert_eq!(line.price + line.quantity, line.actual - line.planned);
                        if matches!(line.of, VarianceOf::Came | VarianceOf::Gave) {
                            prop_assert!(line.quantity.is_zero());
                        }
                    }
                }
            }
            spent_in_all = plus(spent_in_all, found.spent.total().unwrap().minus(came).unwrap());
            borne_in_all = plus(borne_in_all, plus(found.cost, found.abnormal));
        }
        prop_assert_eq!(spent_in_all, borne_in_all);
    }

    /// A deed that cannot happen changes nothing, and no account comes of it; nothing panics.
    #[test]
    fn what_cannot_happen_is_refused(chances in chances(), step in 0_usize..4, named in vec(1_i64..6, 0..4), what in 0_u8..8) {
        let mut world = World::new(bare_plan());
        let batch = world.begin(3);
        for chance in chances {
            world.happen(chance);
        }
        let pieces: Vec<PieceId> = named.into_iter().map(PieceId).collect();
        let deed = match what {
            0 => BenchDeed::Passed { step, pieces },
            1 => BenchDeed::SentBack { to: step, pieces, why: String::new() },
            2 => BenchDeed::Finished { pieces },
            3 => BenchDeed::Got { from: BatchId(9), step, pieces },
            4 => lost(step, pieces, LossKind::Abnormal),
            5 => worked(step, pieces, Decimal::ONE, Decimal::ONE, Decimal::ONE),
            6 => BenchDeed::Abandoned { pieces, why: String::new() },
            _ => BenchDeed::Started { pieces },
        };
        let before = BatchNow::of(world.record(batch));
        let mut after = before.clone();
        let entry = world.next_entry(batch, deed);
        let taken = after.take(&entry);
        if taken.is_err() {
            prop_assert_eq!(&after, &before);
            let mut ask = world.ask(batch);
            ask.records.get_mut(&batch).unwrap().entries.push(entry);
            let refused = matches!(account(&ask), Err(AccountError::Entry { .. }));
            prop_assert!(refused);
            prop_assert!(!broken_laws(&ask.records[&batch]).is_empty());
        }
    }
}
