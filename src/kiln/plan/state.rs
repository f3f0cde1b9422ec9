//! Where a day is after some loads, and which of two such places is the better.

use super::asked::{Asked, Cohort};
use super::bound::Bound;
use super::packs::Pack;

/// The beginning of a plan.
#[derive(Debug, Clone)]
pub(super) struct State {
    /// The heat the kiln has.
    pub(super) heat: usize,
    /// The second from which the kiln may heat or cool for the next load.
    pub(super) free: i64,
    /// Heat moved so far, °C.
    pub(super) moved_c: i64,
    /// What waits, by kind and second; none is ready before the kiln is free.
    pub(super) waiting: Vec<Cohort>,
    /// The ends of pieces that are done, added up.
    settled: i64,
    settled_late: i128,
    /// The least finish and heat moved from here.
    pub(super) bound: (i64, i64),
    /// When the day finishes more likely.
    pub(super) estimate: i64,
    /// What must come after the firings ahead, added up.
    pub(super) to_come: i64,
    /// The ends of all pieces added up as if none waited for the kiln.
    pub(super) ends: i64,
    /// The same, those that end late counted far more: fourth powers of minutes from the beginning.
    pub(super) late: i128,
    /// The beginning one load shorter.
    pub(super) before: Option<usize>,
    /// When the last load began, and what was in it.
    pub(super) start: i64,
    pub(super) taken: Pack,
}

impl State {
    /// The morning.
    pub(super) fn begin(asked: &Asked<'_>, bound: &Bound) -> Self {
        Self {
            heat: asked.begin_heat,
            free: asked.begins,
            moved_c: 0,
            waiting: asked.waiting.clone(),
            settled: 0,
            settled_late: 0,
            bound: (bound.finish, bound.moved_c),
            estimate: bound.finish,
            to_come: 0,
            ends: 0,
            late: 0,
            before: None,
            start: asked.begins,
            taken: Pack::new(),
        }
    }

    /// The place after one more load, given by its heat, the second it begins and its seconds in the heat; this is kept
    /// at
    /// `place`.
    pub(super) fn after(
        &self,
        asked: &Asked<'_>,
        bound: &Bound,
        place: usize,
        (heat, start, seconds): (usize, i64, i64),
        taken: Pack,
    ) -> Self {
        let end = start + seconds;
        let free = end + asked.door;
        let mut settled = self.settled;
        let mut settled_late = self.settled_late;
        let mut waiting = self.waiting.clone();
        for &(kind, count) in &taken {
            let mut left = count;
            for cohort in waiting.iter_mut().filter(|cohort| cohort.kind == kind && cohort.ready <= start) {
                let here = left.min(cohort.count);
                cohort.count -= here;
                left -= here;
            }
            let kind = asked.kind(kind);
            match kind.next {
                Some(next) => waiting.push(Cohort { kind: next, ready: end + kind.rest, count }),
                None => {
                    settled += end * count;
                    settled_late += lateness(asked, end, count);
                }
            }
        }
        waiting.retain(|cohort| cohort.count > 0);
        for cohort in &mut waiting {
            cohort.ready = cohort.ready.max(free);
        }
        waiting.sort_unstable();
        waiting.dedup_by(|next, kept| {
            let alike = next.kind == kept.kind && next.ready == kept.ready;
            if alike {
                kept.count += next.count;
            }
            alike
        });
        let moved_c = self.moved_c + asked.degrees(self.heat, heat);
        let outlook = bound.outlook(asked, heat, free, &waiting);
        let ends = waiting.iter().map(|cohort| cohort.count * (cohort.ready + asked.kind(cohort.kind).tail));
        let late =
            waiting.iter().map(|cohort| lateness(asked, cohort.ready + asked.kind(cohort.kind).tail, cohort.count));
        let late = settled_late + late.sum::<i128>();
        Self {
            late,
            settled_late,
            heat,
            free,
            moved_c,
            settled,
            bound: (outlook.finish.max(self.bound.0), (moved_c + outlook.moved_c).max(self.bound.1)),
            estimate: outlook.estimate,
            to_come: outlook.to_come,
            ends: settled + ends.sum::<i64>(),
            waiting,
            before: Some(place),
            start,
            taken,
        }
    }

    /// What is ahead: kinds and counts that wait. The same for every way to have done the same firings.
    pub(super) fn ahead(&self) -> Vec<(usize, i64)> {
        let mut ahead: Vec<(usize, i64)> = Vec::new();
        for cohort in &self.waiting {
            match ahead.last_mut() {
                Some((kind, count)) if *kind == cohort.kind => *count += cohort.count,
                _ => ahead.push((cohort.kind, cohort.count)),
            }
        }
        ahead
    }

    /// Whether everything that can come of `other`, with the same firings ahead, can come of this as early and with as
    /// little heat moved.
    pub(super) fn is_as_good_as(&self, other: &Self, asked: &Asked<'_>) -> bool {
        if self.free + asked.change(self.heat, other.heat) > other.free
            || self.moved_c + asked.degrees(self.heat, other.heat) > other.moved_c
        {
            return false;
        }
        // Kind by kind the first ready here against the first ready there, and so on.
        let (mut mine, mut theirs) = (self.waiting.iter(), other.waiting.iter());
        let (mut here, mut there) = (mine.next().copied(), theirs.next().copied());
        while let (Some(one), Some(two)) = (&mut here, &mut there) {
            if one.kind != two.kind || one.ready > two.ready {
                return false;
            }
            let count = one.count.min(two.count);
            one.count -= count;
            two.count -= count;
            if one.count == 0 {
                here = mine.next().copied();
            }
            if two.count == 0 {
                there = theirs.next().copied();
            }
        }
        here.is_none() && there.is_none()
    }
}

/// How late so many pieces end: the fourth power of the minutes.
fn lateness(asked: &Asked<'_>, end: i64, count: i64) -> i128 {
    i128::from((end - asked.begins) / 60).pow(4) * i128::from(count)
}
