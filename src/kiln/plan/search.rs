//! The search: beginnings of plans, one load longer at every step, the most promising kept.

use super::PlanProblem;
use super::asked::{Asked, KindLoad};
use super::bound::Bound;
use super::packs::{Choice, packs};
use super::state::State;
use super::work::Work;
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// Which beginnings are preferred.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum First {
    /// Of those that seem to finish alike the one with the least to come after the firings ahead.
    LongChains,
    /// The one whose pieces end soonest, added up; it sees what a load brings where most of the day is still ahead.
    Ends,
    /// The same, pieces that end late counted far more.
    Late,
    /// Of those that seem to finish alike the one whose pieces end soonest.
    SoonEnds,
    /// The one that moves the least heat, by what is proved rather than what seems.
    LittleHeat,
}

/// How far a round looks.
#[derive(Debug, Clone, Copy)]
struct Reach {
    /// Beginnings kept of each length.
    width: usize,
    /// Heats tried for a load.
    heats: usize,
    /// Times in the heat tried at each.
    times: usize,
    /// Seconds to begin at tried for each.
    starts: usize,
    /// Ways to fill the shelf tried for each.
    packs: usize,
    /// Which beginnings are preferred.
    first: First,
    /// Whether loads are always set to the nearest heat.
    near: bool,
    /// Whether the budget may end it.
    may_end: bool,
}

/// The best loads, and whether they are proved to be the best.
///
/// # Errors
/// [`PlanProblem::Cancelled`].
pub(super) fn search(
    asked: &Asked<'_>,
    bound: &Bound,
    work: &mut Work<'_>,
) -> Result<(Vec<KindLoad>, bool), PlanProblem> {
    // The first rounds are so narrow that they always end with a plan.
    let narrow = Reach {
        width: 1,
        heats: 8,
        times: 3,
        starts: 2,
        packs: 1,
        first: First::LongChains,
        near: true,
        may_end: false,
    };
    let mut search = Search { asked, bound, work, best: None };
    for first in [First::LongChains, First::Ends, First::Late] {
        search.round(Reach { first, ..narrow })?;
    }
    let mut reach = Reach { width: 4, heats: 12, times: 4, starts: 3, packs: 4, may_end: true, ..narrow };
    let mut is_proved = false;
    while !is_proved && search.work.is_left() {
        is_proved = search.round(reach)? || search.is_at_bound();
        reach.first = match reach.first {
            First::LongChains => First::SoonEnds,
            First::SoonEnds => First::LittleHeat,
            First::LittleHeat => First::Ends,
            First::Ends => First::Late,
            First::Late => {
                let twice = |number: usize| number.saturating_mul(2);
                reach.width = twice(reach.width);
                reach.heats = twice(reach.heats);
                reach.times = twice(reach.times);
                reach.starts = twice(reach.starts);
                reach.packs = twice(reach.packs);
                First::LongChains
            }
        };
        reach.near = reach.first != First::LittleHeat;
    }
    Ok((search.best.map(|best| best.loads).unwrap_or_default(), is_proved))
}

/// Packs and loads looked at that cost as much as one load kept: a day of few kinds, of which nearly all is dropped, must
/// come to an end as well.
const LOOKED_PER_TRY: usize = 20;

/// A whole plan.
struct Best {
    /// Its finish and heat moved.
    rank: (i64, i64),
    loads: Vec<KindLoad>,
}

struct Search<'a, 'w, 'h> {
    asked: &'a Asked<'a>,
    bound: &'a Bound,
    work: &'w mut Work<'h>,
    best: Option<Best>,
}

impl Search<'_, '_, '_> {
    fn is_at_bound(&self) -> bool {
        self.best.as_ref().is_some_and(|best| best.rank == (self.bound.finish, self.bound.moved_c))
    }

    /// One round; true where it dropped nothing that could be better than the best.
    fn round(&mut self, reach: Reach) -> Result<bool, PlanProblem> {
        let begin = State::begin(self.asked, self.bound);
        if begin.waiting.is_empty() {
            self.best = Some(Best { rank: begin.bound, loads: Vec::new() });
            return Ok(true);
        }
        let mut states = vec![begin];
        let mut alike: HashMap<Vec<(usize, i64)>, Vec<usize>> = HashMap::new();
        let mut level = vec![0];
        let mut is_whole = true;
        while !level.is_empty() {
            let mut longer = Vec::new();
            for &place in &level {
                let before = longer.len();
                let (whole, looked) = self.lengthen(&states, place, reach, &mut longer);
                is_whole &= whole;
                // A beginning nothing better can follow costs a try too, so that a budget always ends.
                let tried = longer.len() - before + looked / LOOKED_PER_TRY + 1;
                self.work.spend(u32::try_from(tried).unwrap_or(u32::MAX))?;
                if reach.may_end && !self.work.is_left() {
                    return Ok(false);
                }
            }
            longer.retain(|state| self.is_better(state));
            match reach.first {
                First::LongChains => longer.sort_by_key(|state| (state.estimate, state.to_come, state.bound)),
                First::Ends => longer.sort_by_key(|state| (state.ends, state.estimate)),
                First::Late => longer.sort_by_key(|state| (state.late, state.estimate)),
                First::SoonEnds => longer.sort_by_key(|state| (state.estimate, state.ends, state.bound)),
                First::LittleHeat => longer.sort_by_key(|state| (state.bound, state.moved_c, state.ends)),
            }
            level.clear();
            for state in longer {
                let known = alike.entry(state.ahead()).or_default();
                let is_dropped =
                    |known: &usize| states.get(*known).is_some_and(|known| known.is_as_good_as(&state, self.asked));
                if known.iter().any(is_dropped) {
                    continue;
                }
                if level.len() >= reach.width {
                    is_whole = false;
                    break;
                }
                known.push(states.len());
                level.push(states.len());
                states.push(state);
            }
        }
        Ok(is_whole)
    }

    /// Whether something better than the best can come of a beginning.
    fn is_better(&self, state: &State) -> bool {
        self.best.as_ref().is_none_or(|best| state.bound < best.rank)
    }

    /// Every beginning one load longer than one, as far as the round reaches; true where that is all that count,
    /// and how many packs and loads were looked at.
    fn lengthen(&mut self, states: &[State], place: usize, reach: Reach, longer: &mut Vec<State>) -> (bool, usize) {
        let Some(state) = states.get(place) else { return (true, 0) };
        if !self.is_better(state) {
            return (true, 0);
        }
        let mut looked = 0;
        let (asked, bound) = (self.asked, self.bound);
        let mut is_whole = true;
        let (mut tried, mut spare) = (BTreeSet::new(), BTreeSet::new());
        let mut seen = BTreeSet::new();
        let mut packed = BTreeMap::new();
        for heat in most(reach.heats, self.heats(state), &mut is_whole) {
            let at_once = state.free + asked.change(state.heat, heat);
            let accepting: Vec<Waiting> = waiting(asked, state, heat);
            for seconds in most(reach.times, times(&accepting), &mut is_whole) {
                let together = || accepting.iter().filter(|w| w.shortest <= seconds && w.longest >= seconds);
                let later = together().map(|waiting| waiting.ready).filter(|ready| *ready > at_once);
                let starts: BTreeSet<i64> = later.chain([at_once]).collect();
                is_whole &= starts.len() <= reach.starts;
                for start in starts.into_iter().take(reach.starts) {
                    let ready: Vec<Waiting> = together().filter(|waiting| waiting.ready <= start).copied().collect();
                    let mut choices = choices(&ready);
                    // Other heats and times often have the same ready; set to the nearest heat they are the same loads.
                    let ahead: Vec<(usize, i64)> = choices.iter().map(|choice| (choice.kind, choice.count)).collect();
                    if ready.is_empty() || (reach.near && !seen.insert(ahead.clone())) {
                        continue;
                    }
                    let listed = || packs(&mut choices, asked.shelf, reach.packs);
                    let (found, all) = packed.entry(ahead).or_insert_with(listed);
                    is_whole &= *all;
                    looked += found.len();
                    for taken in found {
                        let (load, same) = self.set(state, &ready, taken, heat, reach.near);
                        is_whole &= same;
                        // Shorter or sooner loads stand for those that need neither this time nor this wait.
                        let is_needed = load.2 == seconds && (start == at_once || load.1 >= start);
                        if is_needed { &mut tried } else { &mut spare }.insert((load, taken.clone()));
                    }
                }
            }
        }
        // Where few times are tried those may be missing; some load there must be.
        let kept = if tried.is_empty() { spare } else { tried };
        looked += kept.len();
        for (load, taken) in kept {
            let next = state.after(asked, bound, place, load, taken);
            if next.waiting.is_empty() {
                self.finished(states, &next);
            } else if self.is_better(&next) {
                longer.push(next);
            }
        }
        (is_whole, looked)
    }

    /// Heat, beginning and time of a load: as soon and as short as its pieces allow, and set to the heat they accept
    /// that is nearest to the one the kiln has. Where all of them are ready by then that is as good as any other heat:
    /// from it the kiln is at any other as soon. Where some are not, the kiln could use the wait to heat for a later
    /// load; then only a round that looks `near` sets it so, and false is beside it.
    fn set(
        &self,
        state: &State,
        ready: &[Waiting],
        taken: &[(usize, i64)],
        heat: usize,
        near: bool,
    ) -> ((usize, i64, i64), bool) {
        let kinds = || taken.iter().map(|(kind, _)| self.asked.kind(*kind));
        let low = kinds().map(|kind| kind.low).max().unwrap_or(heat);
        let high = kinds().map(|kind| kind.high).min().unwrap_or(heat);
        let seconds = kinds().map(|kind| kind.shortest).max().unwrap_or(0);
        let nearest = state.heat.clamp(low, high.max(low));
        let at_once = |heat: usize| state.free + self.asked.change(state.heat, heat);
        let last = taken.iter().map(|(kind, count)| last_of(ready, *kind, *count)).max().unwrap_or(state.free);
        let is_ready = last <= at_once(nearest);
        if near || is_ready {
            ((nearest, at_once(nearest).max(last), seconds), !near || is_ready || low == high)
        } else {
            ((heat, at_once(heat).max(last), seconds), true)
        }
    }

    /// Heats at which something that waits can be fired, with the area it takes.
    fn heats(&self, state: &State) -> Vec<(usize, i64)> {
        let area = |heat: usize| -> i64 {
            waiting(self.asked, state, heat).iter().map(|waiting| waiting.area * waiting.count).sum()
        };
        (0..self.asked.heats.len()).map(|heat| (heat, area(heat))).filter(|(_, area)| *area > 0).collect()
    }

    /// Keeps a whole plan that is better than the best.
    fn finished(&mut self, states: &[State], last: &State) {
        let rank = (last.free - self.asked.door, last.moved_c);
        if self.best.as_ref().is_some_and(|best| best.rank <= rank) {
            return;
        }
        let mut loads = Vec::new();
        let mut state = Some(last);
        while let Some(load) = state.filter(|state| state.before.is_some()) {
            loads.push(KindLoad { heat: load.heat, start: load.start, taken: load.taken.clone() });
            state = load.before.and_then(|before| states.get(before));
        }
        loads.reverse();
        self.work.found(rank.0);
        self.best = Some(Best { rank, loads });
    }
}

/// Pieces alike that wait and accept a heat.
#[derive(Debug, Clone, Copy)]
struct Waiting {
    kind: usize,
    ready: i64,
    count: i64,
    area: i64,
    shortest: i64,
    longest: i64,
    tail: i64,
}

fn waiting(asked: &Asked<'_>, state: &State, heat: usize) -> Vec<Waiting> {
    let accepted = |cohort: &super::asked::Cohort| {
        let kind = asked.kind(cohort.kind);
        (kind.low <= heat && heat <= kind.high).then_some(Waiting {
            kind: cohort.kind,
            ready: cohort.ready,
            count: cohort.count,
            area: kind.area,
            shortest: kind.shortest,
            longest: kind.longest,
            tail: kind.tail,
        })
    };
    state.waiting.iter().filter_map(accepted).collect()
}

/// Times in the heat that count, with the area that accepts each.
fn times(accepting: &[Waiting]) -> Vec<(i64, i64)> {
    let all: BTreeSet<i64> = accepting.iter().map(|waiting| waiting.shortest).collect();
    let area = |seconds: i64| -> i64 {
        let together = accepting.iter().filter(|waiting| waiting.shortest <= seconds && waiting.longest >= seconds);
        together.map(|waiting| waiting.area * waiting.count).sum()
    };
    all.into_iter().map(|seconds| (seconds, area(seconds))).collect()
}

/// The values with the most area, so many at most, in their first order.
fn most<T: Copy + Ord>(few: usize, mut all: Vec<(T, i64)>, is_whole: &mut bool) -> Vec<T> {
    if all.len() > few {
        *is_whole = false;
        all.sort_by_key(|(value, area)| (-area, *value));
        all.truncate(few);
        all.sort_unstable();
    }
    all.into_iter().map(|(value, _)| value).collect()
}

/// What is ready, kind by kind.
fn choices(ready: &[Waiting]) -> Vec<Choice> {
    let mut choices: Vec<Choice> = Vec::new();
    for waiting in ready {
        match choices.last_mut() {
            Some(choice) if choice.kind == waiting.kind => choice.count += waiting.count,
            _ => choices.push(Choice {
                kind: waiting.kind,
                count: waiting.count,
                area: waiting.area,
                tail: waiting.tail,
                shortest: waiting.shortest,
            }),
        }
    }
    choices
}

/// The part of a list in the order of kinds that is of one kind.
fn of_kind(ready: &[Waiting], kind: usize) -> &[Waiting] {
    let (_, from) = ready.split_at(ready.partition_point(|waiting| waiting.kind < kind));
    from.split_at(from.partition_point(|waiting| waiting.kind == kind)).0
}

/// The second from which so many of a kind are ready.
fn last_of(ready: &[Waiting], kind: usize, count: i64) -> i64 {
    let mut left = count;
    let mut last = 0;
    for waiting in of_kind(ready, kind) {
        if left > 0 {
            last = waiting.ready;
        }
        left -= waiting.count;
    }
    last
}
