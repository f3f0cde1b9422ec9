//! A plan made better step by step: heats set anew, loads moved, firings put into earlier loads.

use super::PlanProblem;
use super::asked::Asked;
use super::timing::{Batch, timed};
use super::work::Work;

/// Betters loads while the budget lasts.
///
/// # Errors
/// [`PlanProblem::Cancelled`].
pub(super) fn polish(asked: &Asked<'_>, batches: &mut Vec<Batch>, work: &mut Work<'_>) -> Result<(), PlanProblem> {
    // The heats are looked through even where the search has used up the budget: that is soon done.
    let mut rank = rank(asked, batches);
    loop {
        let before = rank;
        set_heats(asked, batches, &mut rank, work)?;
        if !work.is_left() {
            return Ok(());
        }
        move_loads(asked, batches, &mut rank, work)?;
        if rank >= before || !work.is_left() {
            return Ok(());
        }
    }
}

type Rank = (i64, i64, usize);

/// Finish, heat moved, loads; the least is the best.
fn rank(asked: &Asked<'_>, batches: &[Batch]) -> Rank {
    let timed = timed(asked, batches);
    let finish = if timed.disorder.is_some() { i64::MAX } else { timed.finish };
    (finish, timed.moved_c, batches.len())
}

/// The range of heat a load's pieces accept, °C.
fn range(asked: &Asked<'_>, batch: &Batch) -> (i32, i32) {
    let firings = batch.fired.iter().filter_map(|(piece, firing)| asked.ask.pieces.get(*piece)?.firings.get(*firing));
    firings.fold((i32::MIN, asked.ask.holds_c()), |(low, high), firing| {
        (low.max(firing.lowest_c), high.min(firing.top_c()))
    })
}

/// Sets each load to the heat that is best for the whole day.
fn set_heats(
    asked: &Asked<'_>,
    batches: &mut [Batch],
    rank_now: &mut Rank,
    work: &mut Work<'_>,
) -> Result<(), PlanProblem> {
    for number in 0..batches.len() {
        let Some((low, high)) = batches.get(number).map(|batch| range(asked, batch)) else { continue };
        let neighbours = [number.checked_sub(1), Some(number + 1)];
        let beside = neighbours.into_iter().flatten().filter_map(|n| batches.get(n)).map(|batch| batch.celsius);
        let heats: Vec<i32> = beside.chain([low, high]).map(|celsius| celsius.clamp(low, high.max(low))).collect();
        for celsius in heats {
            let Some(batch) = batches.get_mut(number) else { continue };
            let kept = std::mem::replace(&mut batch.celsius, celsius);
            if kept == celsius {
                continue;
            }
            let tried = rank(asked, batches);
            if tried < *rank_now {
                *rank_now = tried;
            } else if let Some(batch) = batches.get_mut(number) {
                batch.celsius = kept;
            }
            work.spend(1)?;
        }
    }
    Ok(())
}

/// Moves loads to other places of the order.
fn move_loads(
    asked: &Asked<'_>,
    batches: &mut Vec<Batch>,
    rank_now: &mut Rank,
    work: &mut Work<'_>,
) -> Result<(), PlanProblem> {
    for from in 0..batches.len() {
        for to in 0..batches.len() {
            if from == to {
                continue;
            }
            let mut other = batches.clone();
            let moved = other.remove(from);
            other.insert(to, moved);
            let tried = rank(asked, &other);
            if tried < *rank_now {
                *rank_now = tried;
                *batches = other;
            }
            if !work.spend(1)? {
                return Ok(());
            }
        }
    }
    Ok(())
}
