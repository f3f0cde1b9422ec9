//! What no plan goes below.
//!
//! Three facts hold of every plan. A piece's firings follow one another with its rests, the door and the way from one
//! heat to the next between. Loads follow one another with the door between: of firings whose heats, or times in the
//! heat, lie in a window there are at least so many loads as their areas fill, and windows that do not overlap share no
//! load. And the kiln must be at the hottest and at the coolest of what is ahead.
//!
//! The loads that areas fill are counted with weights under which no full shelf weighs more than one: the areas
//! themselves, and the dual feasible functions `(⌈(k + 1)·x⌉ − 1) / k` of them (after Fekete and Schepers, 2001), which
//! count that of pieces a little over a third of the shelf only two go in. A load is in the heat at least as long as any of
//! its pieces needs, so loads are counted for each length of time and longer.

use super::asked::{Asked, Cohort, Kind};
use std::collections::{BTreeMap, BTreeSet};

/// Weights by which loads are counted: each kind weighs so many units in at most one window.
#[derive(Debug, Clone, Default)]
pub(super) struct Weights {
    /// Window and weight of each kind.
    of: Vec<Option<(usize, i64)>>,
    /// What a full load weighs in each window.
    full: Vec<i64>,
}

impl Weights {
    /// Seconds the kiln is in use at the least, the door after every load with it, for so many firings of each kind.
    pub(super) fn busy(&self, asked: &Asked<'_>, counts: &[i64]) -> i64 {
        let times = asked.durations.len();
        let mut sums = vec![0_i64; times * self.full.len()];
        for ((weight, kind), count) in self.of.iter().zip(&asked.kinds).zip(counts) {
            let Some((window, weight)) = weight else { continue };
            if let Some(sum) = sums.get_mut(window * times + kind.duration) {
                *sum += weight * count;
            }
        }
        let mut busy = 0;
        for (window, full) in self.full.iter().enumerate() {
            let mut sum = 0;
            for (place, seconds) in asked.durations.iter().enumerate() {
                sum += sums.get(window * times + place).copied().unwrap_or(0);
                let loads = sum.div_euclid(*full) + i64::from(sum.rem_euclid(*full) > 0);
                let shorter = asked.durations.get(place + 1).copied().unwrap_or(-asked.door);
                busy += loads * (seconds - shorter);
            }
        }
        busy
    }
}

/// The bound of a whole day, and what bounds a part of it.
#[derive(Debug, Clone, Default)]
pub(super) struct Bound {
    /// The second before which no plan finishes.
    pub(super) finish: i64,
    /// The least heat moved, °C.
    pub(super) moved_c: i64,
    /// Weights good for this day.
    weights: Vec<Weights>,
}

impl Bound {
    /// What can be said from where the day is. `free` is the second from which the kiln may heat or cool for the next load.
    pub(super) fn from_here(&self, asked: &Asked<'_>, heat: usize, free: i64, waiting: &[Cohort]) -> Outlook {
        if waiting.is_empty() {
            return Outlook { finish: free - asked.door, moved_c: 0, estimate: free - asked.door, to_come: 0 };
        }
        let mut chain = 0;
        let mut first = i64::MAX;
        for cohort in waiting {
            let kind = asked.kind(cohort.kind);
            let start = cohort.ready.max(free + asked.change_into(heat, kind.low, kind.high));
            first = first.min(start);
            chain = chain.max(start + kind.tail);
        }
        let counts = asked.ahead(waiting);
        let (span, moved_c) = span(asked, heat, &counts);
        let busy = self.weights.iter().map(|weights| weights.busy(asked, &counts)).max().unwrap_or(0);
        let queued = queue(asked, &counts, 1_000);
        let begin = first.max(free + span);
        // Those with most to come once more, shelves filled as well as they mostly are.
        let estimate = chain.max(queue(asked, &counts, FILLED_WORSE) + begin - asked.door);
        let of_kind = |(kind, count): (&Kind, &i64)| kind.share_ms / 1_000 * count * (kind.tail - kind.shortest);
        let to_come = asked.kinds.iter().zip(&counts).map(of_kind).fold(0, i64::saturating_add);
        Outlook {
            finish: chain.max(begin + busy - asked.door).max(first + queued - asked.door),
            moved_c,
            estimate,
            to_come,
        }
    }
}

/// By how much more time shelves take than their areas alone would, of a thousand.
const FILLED_WORSE: i64 = 1_080;

/// What can be said of the rest of a day.
#[derive(Debug, Clone, Copy)]
pub(super) struct Outlook {
    /// The second before which it does not finish.
    pub(super) finish: i64,
    /// The least heat moved, °C.
    pub(super) moved_c: i64,
    /// The second at which it finishes more likely.
    pub(super) estimate: i64,
    /// What must come after the firings ahead, added up by the kiln's time they take.
    pub(super) to_come: i64,
}

/// Seconds and degrees to be at the hottest and the coolest of what is ahead, from a heat.
fn span(asked: &Asked<'_>, heat: usize, counts: &[i64]) -> (i64, i64) {
    let Some((hot, cool)) = extremes(asked, counts) else { return (0, 0) };
    if hot <= cool {
        let into = heat.clamp(hot, cool);
        return (asked.change(heat, into), asked.degrees(heat, into));
    }
    // Up first and then down, or down first and then up; a heat already past one end has only the other to go to.
    let (up, down) = (heat.max(hot), heat.min(cool));
    let seconds = [(up, cool), (down, hot)].map(|(one, other)| asked.change(heat, one) + asked.change(one, other));
    let degrees = [(up, cool), (down, hot)].map(|(one, other)| asked.degrees(heat, one) + asked.degrees(one, other));
    (seconds.into_iter().min().unwrap_or(0), degrees.into_iter().min().unwrap_or(0))
}

/// Seconds from the first load to the end of the day, with the door of the last: of the firings after which at least so much
/// must come, the time their areas take of the kiln, and what must come. Times of the kiln count by thousandths.
fn queue(asked: &Asked<'_>, counts: &[i64], thousandths: i64) -> i64 {
    let mut taken = 0;
    let mut most = 0;
    for &number in &asked.by_after {
        let (kind, count) = (asked.kind(number), counts.get(number).copied().unwrap_or(0));
        if count > 0 {
            taken += kind.share_ms * count;
            most = most.max(taken / 1_000 * thousandths / 1_000 + kind.tail - kind.shortest);
        }
    }
    most
}

/// The highest of the lowest heats ahead, and the lowest of the highest.
fn extremes(asked: &Asked<'_>, counts: &[i64]) -> Option<(usize, usize)> {
    let ahead = asked.kinds.iter().zip(counts).filter(|(_, count)| **count > 0).map(|(kind, _)| kind);
    ahead.fold(None, |known: Option<(usize, usize)>, kind| {
        let (hot, cool) = known.unwrap_or((kind.low, kind.high));
        Some((hot.max(kind.low), cool.min(kind.high)))
    })
}

/// Firings of a kind that cannot begin before a second.
#[derive(Debug, Clone, Copy)]
struct Headed {
    kind: usize,
    head: i64,
    count: i64,
}

/// The bound of the whole day.
pub(super) fn of_the_day(asked: &Asked<'_>) -> Bound {
    let mut heads: BTreeMap<(usize, i64), i64> = BTreeMap::new();
    for cohort in &asked.waiting {
        let mut kind = asked.kind(cohort.kind);
        let mut head = cohort.ready.max(asked.begins + asked.change_into(asked.begin_heat, kind.low, kind.high));
        let mut place = cohort.kind;
        loop {
            *heads.entry((place, head)).or_default() += cohort.count;
            head += kind.shortest + kind.gap;
            let Some(next) = kind.next else { break };
            kind = asked.kind(next);
            place = next;
        }
    }
    let all: Vec<Headed> = heads.into_iter().map(|((kind, head), count)| Headed { kind, head, count }).collect();
    // Any choice gives a bound; where there are many kinds a few must do.
    let few = if all.len() <= 60 { 12 } else { 5 };
    let counter = Counter::new(asked, few);
    let counts = asked.ahead(&asked.waiting);
    let best = counter.weights(asked, &counts);
    let mut bound = Bound { finish: asked.begins, moved_c: 0, weights: vec![best] };
    // The same count without windows serves where some of the firings are done.
    bound.weights.extend(counter.whole(asked, &counts));
    let outlook = bound.from_here(asked, asked.begin_heat, asked.begins, &asked.waiting);
    bound.moved_c = outlook.moved_c;
    if all.is_empty() {
        return bound;
    }
    bound.finish = outlook.finish;
    let after = |headed: &Headed| {
        let kind = asked.kind(headed.kind);
        kind.tail - kind.shortest
    };
    let begins = sampled(all.iter().map(|headed| headed.head).collect(), few);
    let ends = sampled(all.iter().map(after).collect(), few);
    for &begin in &begins {
        for &end in &ends {
            let mut counts = vec![0; asked.kinds.len()];
            let (mut head, mut tail) = (i64::MAX, i64::MAX);
            for headed in all.iter().filter(|headed| headed.head >= begin && after(headed) >= end) {
                if let Some(count) = counts.get_mut(headed.kind) {
                    *count += headed.count;
                }
                head = head.min(headed.head);
                tail = tail.min(after(headed));
            }
            if head == i64::MAX {
                continue;
            }
            let busy = counter.weights(asked, &counts).busy(asked, &counts);
            // Of the way between the two ends only the shorter direction is sure.
            let way = match extremes(asked, &counts) {
                Some((hot, cool)) if hot > cool => asked.change(hot, cool).min(asked.change(cool, hot)),
                _ => 0,
            };
            bound.finish = bound.finish.max(head + busy + way - asked.door + tail);
        }
    }
    bound
}

/// A few of many values, ends with them, rising.
fn sampled<T: Ord + Copy>(values: BTreeSet<T>, few: usize) -> Vec<T> {
    let all: Vec<T> = values.into_iter().collect();
    if all.len() <= few {
        return all;
    }
    (0..few).filter_map(|step| all.get(step * (all.len() - 1) / (few - 1)).copied()).collect()
}

/// Finds the weights that count the most.
struct Counter {
    /// The ways to weigh areas: `None` by area, `Some(k)` by the function of `k`.
    ways: Vec<Option<i64>>,
    few: usize,
}

impl Counter {
    fn new(asked: &Asked<'_>, few: usize) -> Self {
        let on_a_shelf = |kind: &Kind| asked.shelf / kind.area.max(1);
        let ks: BTreeSet<i64> = asked.kinds.iter().map(on_a_shelf).filter(|k| *k < 1_000).chain([1, 2, 3]).collect();
        let ways = [None].into_iter().chain(sampled(ks, few).into_iter().map(Some)).collect();
        Self { ways, few }
    }

    /// Units of an area, and of a full shelf.
    fn weight(asked: &Asked<'_>, area: i64, way: Option<i64>) -> (i64, i64) {
        match way {
            None => (area, asked.shelf),
            Some(k) => {
                let scaled = (k + 1) * area;
                let up = scaled.div_euclid(asked.shelf) + i64::from(scaled.rem_euclid(asked.shelf) > 0);
                (up - 1, k)
            }
        }
    }

    /// The best weights of the kinds in a window, and the seconds they count.
    fn window(&self, asked: &Asked<'_>, counts: &[i64], side: Side, low: i64, high: i64) -> (i64, Weights) {
        let mut best = (0, Weights::default());
        for &way in &self.ways {
            let of = asked.kinds.iter().zip(counts).map(|(kind, count)| {
                let (from, to) = side.range(kind);
                let inside = *count > 0 && from >= low && to <= high;
                inside.then(|| (0, Self::weight(asked, kind.area, way).0))
            });
            let weights = Weights { of: of.collect(), full: vec![Self::weight(asked, 1, way).1] };
            let busy = weights.busy(asked, counts);
            if busy > best.0 {
                best = (busy, weights);
            }
        }
        best
    }

    /// Weights over the whole range of heat: by area, and the best.
    fn whole(&self, asked: &Asked<'_>, counts: &[i64]) -> Vec<Weights> {
        let by_area = Counter { ways: vec![None], few: self.few };
        let mut all = vec![by_area.window(asked, counts, Side::Heat, 0, i64::MAX).1];
        if self.ways.len() > 1 {
            all.push(self.window(asked, counts, Side::Heat, 0, i64::MAX).1);
        }
        all
    }

    /// The windows that count the most: of heat, each where it helps divided by time, or of time alone.
    fn weights(&self, asked: &Asked<'_>, counts: &[i64]) -> Weights {
        let by_time = Self::joined(asked, self.windows(asked, counts, Side::Time).into_iter().map(|(_, all)| all));
        let mut divided = Vec::new();
        for (busy, weights) in self.windows(asked, counts, Side::Heat) {
            let inside: Vec<i64> =
                weights.of.iter().zip(counts).map(|(of, count)| if of.is_some() { *count } else { 0 }).collect();
            let parts = self.windows(asked, &inside, Side::Time);
            if parts.iter().map(|(busy, _)| busy).sum::<i64>() > busy {
                divided.extend(parts.into_iter().map(|(_, weights)| weights));
            } else {
                divided.push(weights);
            }
        }
        let divided = Self::joined(asked, divided.into_iter());
        if by_time.busy(asked, counts) > divided.busy(asked, counts) { by_time } else { divided }
    }

    /// The windows side by side that count the most, with the seconds they count.
    fn windows(&self, asked: &Asked<'_>, counts: &[i64], side: Side) -> Vec<(i64, Weights)> {
        type Chain = (i64, i64, Vec<(i64, Weights)>);
        let ranges = || {
            let ahead = asked.kinds.iter().zip(counts).filter(|(_, count)| **count > 0);
            ahead.map(|(kind, _)| side.range(kind))
        };
        let lows = sampled(ranges().map(|(low, _)| low).collect(), self.few);
        let highs = sampled(ranges().map(|(_, high)| high).collect(), self.few);
        // From each low on, falling: the seconds counted, and the windows they are counted in.
        let mut best: Vec<Chain> = Vec::new();
        for &low in lows.iter().rev() {
            let (mut most, mut windows) = best.last().map(|(_, most, all)| (*most, all.clone())).unwrap_or_default();
            for &high in highs.iter().filter(|high| **high >= low) {
                let (busy, weights) = self.window(asked, counts, side, low, high);
                let above = best.iter().rev().find(|(from, _, _)| *from > high);
                let (more, others) = above.map(|(_, more, all)| (*more, all.as_slice())).unwrap_or_default();
                if busy > 0 && busy + more > most {
                    most = busy + more;
                    windows = others.to_vec();
                    windows.push((busy, weights));
                }
            }
            best.push((low, most, windows));
        }
        best.pop().map(|(_, _, windows)| windows).unwrap_or_default()
    }

    /// Windows that share no load as one set of weights.
    fn joined(asked: &Asked<'_>, windows: impl Iterator<Item = Weights>) -> Weights {
        let mut joined = Weights { of: vec![None; asked.kinds.len()], full: Vec::new() };
        for (number, window) in windows.enumerate() {
            joined.full.extend(window.full);
            for (joined, weight) in joined.of.iter_mut().zip(window.of) {
                if let Some((_, weight)) = weight {
                    *joined = Some((number, weight));
                }
            }
        }
        joined
    }
}

/// What windows are laid over.
#[derive(Debug, Clone, Copy)]
enum Side {
    /// The heats accepted.
    Heat,
    /// The times in the heat accepted.
    Time,
}

impl Side {
    /// What a kind accepts.
    fn range(self, kind: &Kind) -> (i64, i64) {
        let place = |place: usize| i64::try_from(place).unwrap_or(i64::MAX);
        match self {
            Self::Heat => (place(kind.low), place(kind.high)),
            Self::Time => (kind.shortest, kind.longest),
        }
    }
}
