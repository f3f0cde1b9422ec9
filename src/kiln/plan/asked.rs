//! The question made ready for the search: checked, in whole numbers, pieces that are alike counted together.

use super::timing::Batch;
use super::{Firing, MOST_FIRINGS, PieceAhead, PlanAsk, PlanProblem};
use crate::measure::{Decimal, exact};
use rust_decimal::prelude::ToPrimitive;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// A temperature the kiln may be set to.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Heat {
    /// It, °C.
    pub(super) celsius: i32,
    /// Seconds from the cold kiln up to it.
    risen: i64,
    /// Seconds from it down to near the room.
    fallen: i64,
}

/// Firings that are alike, with all that comes after them: same area, same chain from here on.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Kind {
    /// Places of the lowest and highest heat among [`Asked::heats`].
    pub(super) low: usize,
    pub(super) high: usize,
    /// Seconds in the heat.
    pub(super) shortest: i64,
    pub(super) longest: i64,
    /// Place of the shortest time among [`Asked::durations`].
    pub(super) duration: usize,
    /// Seconds to the next firing.
    pub(super) rest: i64,
    /// Shelf, millionths of cm².
    pub(super) area: i64,
    /// Time of the kiln that its part of the shelf takes, door included, thousandths of a second.
    pub(super) share_ms: i64,
    /// What comes after it; always further on in the list.
    pub(super) next: Option<usize>,
    /// Least seconds from its end to the beginning of the next firing, kiln included.
    pub(super) gap: i64,
    /// Least seconds from the beginning of this firing to the end of the last.
    pub(super) tail: i64,
}

/// So many pieces of a kind, ready from a second on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cohort {
    pub(super) kind: usize,
    pub(super) ready: i64,
    pub(super) count: i64,
}

/// A load of the search: counts of kinds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct KindLoad {
    /// Place of its heat.
    pub(super) heat: usize,
    /// The second it begins.
    pub(super) start: i64,
    /// Kind and count.
    pub(super) taken: Vec<(usize, i64)>,
}

/// The question.
pub(super) struct Asked<'a> {
    pub(super) ask: &'a PlanAsk,
    /// The temperatures that count, rising.
    pub(super) heats: Vec<Heat>,
    /// The heat the day begins with.
    pub(super) begin_heat: usize,
    pub(super) begins: i64,
    pub(super) door: i64,
    /// Shelf, millionths of cm².
    pub(super) shelf: i64,
    pub(super) kinds: Vec<Kind>,
    /// The different shortest times, falling.
    pub(super) durations: Vec<i64>,
    /// Places of the kinds, those with most to come after them first.
    pub(super) by_after: Vec<usize>,
    /// What waits when the day begins.
    pub(super) waiting: Vec<Cohort>,
    /// The kind each piece begins with, in the order of the question.
    first_kinds: Vec<Option<usize>>,
}

/// Longest time of a firing or a rest, and furthest second, in seconds: a year.
const LONGEST: i64 = 366 * 86_400;

impl<'a> Asked<'a> {
    /// Checks and counts.
    ///
    /// # Errors
    /// Every [`PlanProblem`] but that of cancelling.
    pub(super) fn new(ask: &'a PlanAsk) -> Result<Self, PlanProblem> {
        let shelf = checked(ask)?;
        let begin_c = ask.heat.beginning_c(ask);
        let hottest = ask.holds_c();
        let heats = heats(ask, begin_c, hottest)?;
        let place = |celsius: i32| heats.partition_point(|heat| heat.celsius < celsius);
        let top = |firing: &Firing| firing.top_c().min(hottest);

        // Chains from each firing on: longest first, so that what comes after stands further on.
        let chain = |piece: &PieceAhead, from: usize| -> Vec<Firing> {
            let mut chain: Vec<Firing> = piece.firings.iter().skip(from).copied().collect();
            if let Some(last) = chain.last_mut() {
                last.rest = 0;
            }
            chain
        };
        let mut keys: BTreeSet<(Reverse<usize>, i64, Vec<Firing>)> = BTreeSet::new();
        let mut areas = Vec::with_capacity(ask.pieces.len());
        for piece in &ask.pieces {
            let area = millionths(piece.area_cm2, true).unwrap_or(shelf);
            areas.push(area);
            let known = |from| (Reverse(piece.firings.len() - from), area, chain(piece, from));
            keys.extend((0..piece.firings.len()).map(known));
        }
        let places: BTreeMap<(i64, &[Firing]), usize> =
            keys.iter().enumerate().map(|(place, (_, area, chain))| ((*area, chain.as_slice()), place)).collect();
        let shortest: BTreeSet<Reverse<i64>> =
            keys.iter().filter_map(|(_, _, chain)| chain.first()).map(|f| Reverse(i64::from(f.shortest))).collect();
        let durations: Vec<i64> = shortest.into_iter().map(|Reverse(seconds)| seconds).collect();
        let door = i64::from(ask.door_seconds);

        let mut kinds = vec![Kind::default(); keys.len()];
        for (number, (_, area, chain)) in keys.iter().enumerate().rev() {
            let Some((first, after)) = chain.split_first() else { continue };
            let next = places.get(&(*area, after)).copied();
            let (low, high) = (place(first.lowest_c), place(top(first)));
            let (shortest, rest) = (i64::from(first.shortest), i64::from(first.rest));
            let (gap, then) = match next.and_then(|next| kinds.get(next)) {
                Some(next) => (rest.max(door + least_change(&heats, (low, high), (next.low, next.high))), next.tail),
                None => (0, 0),
            };
            let duration = durations.partition_point(|seconds| *seconds > shortest);
            let longest = i64::from(first.longest);
            let tail = shortest + gap + then;
            let share = i128::from(*area) * i128::from(shortest + door) * 1_000 / i128::from(shelf);
            let share_ms = i64::try_from(share).unwrap_or(i64::MAX / 1_000_000);
            if let Some(kind) = kinds.get_mut(number) {
                *kind = Kind { low, high, shortest, longest, duration, rest, area: *area, share_ms, next, gap, tail };
            }
        }

        let begins = ask.begins();
        let mut first_kinds = Vec::with_capacity(ask.pieces.len());
        let mut waiting: BTreeMap<(usize, i64), i64> = BTreeMap::new();
        for (piece, area) in ask.pieces.iter().zip(areas) {
            let first = places.get(&(area, chain(piece, 0).as_slice())).copied();
            first_kinds.push(first);
            if let Some(kind) = first {
                *waiting.entry((kind, piece.ready.max(begins))).or_default() += 1;
            }
        }
        let waiting = waiting.into_iter().map(|((kind, ready), count)| Cohort { kind, ready, count }).collect();
        let begin_heat = place(begin_c);
        let mut by_after: Vec<usize> = (0..kinds.len()).collect();
        by_after.sort_by_key(|place| kinds.get(*place).map(|kind| kind.shortest - kind.tail));
        Ok(Self { ask, heats, begin_heat, begins, door, shelf, kinds, durations, by_after, waiting, first_kinds })
    }

    /// The kind at a place of the list.
    pub(super) fn kind(&self, place: usize) -> Kind {
        self.kinds.get(place).copied().unwrap_or_default()
    }

    /// The temperature at a place of the list, °C.
    pub(super) fn celsius(&self, heat: usize) -> i32 {
        self.heats.get(heat).map_or(0, |heat| heat.celsius)
    }

    /// Seconds from one heat to another.
    pub(super) fn change(&self, from: usize, to: usize) -> i64 {
        change(&self.heats, from, to)
    }

    /// Seconds from a heat into a range.
    pub(super) fn change_into(&self, from: usize, low: usize, high: usize) -> i64 {
        self.change(from, from.clamp(low, high.max(low)))
    }

    /// Degrees between two heats.
    pub(super) fn degrees(&self, from: usize, to: usize) -> i64 {
        i64::from(self.celsius(from)).abs_diff(i64::from(self.celsius(to))).try_into().unwrap_or(i64::MAX)
    }

    /// How many firings of each kind there are where so many wait, those to come with them.
    pub(super) fn ahead(&self, waiting: &[Cohort]) -> Vec<i64> {
        let mut counts = vec![0; self.kinds.len()];
        for cohort in waiting {
            if let Some(count) = counts.get_mut(cohort.kind) {
                *count += cohort.count;
            }
        }
        for (number, kind) in self.kinds.iter().enumerate() {
            let count = counts.get(number).copied().unwrap_or(0);
            if let Some(next) = kind.next.and_then(|next| counts.get_mut(next)) {
                *next += count;
            }
        }
        counts
    }

    /// Loads with their pieces. Pieces alike are taken by group, then by key.
    pub(super) fn with_pieces(&self, loads: &[KindLoad]) -> Vec<Batch> {
        struct Waits {
            kind: usize,
            ready: i64,
            piece: usize,
            firing: usize,
        }
        let begin = |(piece, (kind, asked)): (usize, (&Option<usize>, &PieceAhead))| {
            kind.map(|kind| Waits { kind, ready: asked.ready, piece, firing: 0 })
        };
        let mut waits: Vec<Waits> =
            self.first_kinds.iter().zip(&self.ask.pieces).enumerate().filter_map(begin).collect();
        let order = |piece: usize| self.ask.pieces.get(piece).map(|piece| (piece.group, piece.key));
        waits.sort_by_key(|waits| order(waits.piece));
        let mut batches = Vec::with_capacity(loads.len());
        for load in loads {
            let seconds = load.taken.iter().map(|(kind, _)| self.kind(*kind).shortest).max().unwrap_or(0);
            let mut fired = Vec::new();
            for &(kind, count) in &load.taken {
                let ready = |waits: &&mut Waits| waits.kind == kind && waits.ready <= load.start;
                let count = usize::try_from(count).unwrap_or(0);
                for waits in waits.iter_mut().filter(ready).take(count) {
                    fired.push((waits.piece, waits.firing));
                    waits.ready = load.start + seconds + self.kind(kind).rest;
                    waits.firing += 1;
                    waits.kind = self.kind(kind).next.unwrap_or(usize::MAX);
                }
            }
            fired.sort_by_key(|(piece, firing)| (order(*piece), *firing));
            batches.push(Batch { celsius: self.celsius(load.heat), fired });
        }
        batches
    }
}

fn change(heats: &[Heat], from: usize, to: usize) -> i64 {
    let (Some(one), Some(other)) = (heats.get(from), heats.get(to)) else { return 0 };
    if from <= to { other.risen - one.risen } else { one.fallen - other.fallen }
}

/// Seconds from one range to another, at the least.
fn least_change(heats: &[Heat], from: (usize, usize), to: (usize, usize)) -> i64 {
    if from.1 < to.0 {
        change(heats, from.1, to.0)
    } else if from.0 > to.1 {
        change(heats, from.0, to.1)
    } else {
        0
    }
}

/// cm² as whole millionths, cut off, or up to the next.
fn millionths(cm2: Decimal, up: bool) -> Option<i64> {
    let millionths = exact::mul(cm2, Decimal::from(1_000_000)).ok()?;
    if up { millionths.ceil().to_i64() } else { millionths.floor().to_i64() }
}

fn field(field: &'static str, value: impl ToString, accepted: &str) -> PlanProblem {
    PlanProblem::Field { field, value: value.to_string(), accepted: accepted.to_owned() }
}

/// Every temperature that counts.
fn heats(ask: &PlanAsk, begin_c: i32, hottest: i32) -> Result<Vec<Heat>, PlanProblem> {
    let ends = |firing: &Firing| [firing.lowest_c, firing.top_c().min(hottest)];
    let firings = ask.pieces.iter().flat_map(|piece| &piece.firings);
    let all: BTreeSet<i32> = firings.flat_map(ends).chain([begin_c]).collect();
    let heat = |celsius: i32| {
        let times = ask.heat.risen(celsius).zip(ask.heat.fallen(celsius));
        let (risen, fallen) = times.ok_or_else(|| {
            field("the kiln's highest temperature", celsius, "a temperature reached within 3,000 years")
        })?;
        Ok(Heat { celsius, risen, fallen })
    };
    all.into_iter().map(heat).collect()
}

/// Checks every field; the shelf in millionths of cm².
fn checked(ask: &PlanAsk) -> Result<i64, PlanProblem> {
    for (name, value, accepted, is_accepted) in ask.heat.fields() {
        if !is_accepted {
            return Err(field(name, value, accepted));
        }
    }
    let beginning = ask.heat.beginning_c(ask);
    if ask.begins_at_c.is_some() && (beginning > ask.holds_c() || beginning < ask.heat.room_whole_c()) {
        return Err(field(
            "the kiln's temperature at the beginning",
            beginning,
            "from the room to the highest the kiln holds, in °C",
        ));
    }
    if ask.begins_minute >= 1_440 {
        return Err(field("the minute the day begins", ask.begins_minute, "0 to 1439"));
    }
    if i64::from(ask.door_seconds) > LONGEST {
        return Err(field("the time of the door", ask.door_seconds, "0 seconds to a year"));
    }
    let shelf = millionths(ask.shelf_cm2, false).filter(|shelf| (1..=1_000_000_000_000).contains(shelf));
    let shelf = shelf.ok_or_else(|| field("the shelf", ask.shelf_cm2, "0.000001 cm² to 1,000,000 cm²"))?;
    let firings: usize = ask.pieces.iter().map(|piece| piece.firings.len()).sum();
    if firings > MOST_FIRINGS {
        return Err(field("the firings ahead", firings, "3,000 at most; plan a day at a time"));
    }
    let hottest_c = ask.holds_c();
    let mut keys = BTreeSet::new();
    for piece in &ask.pieces {
        let problem = |firing, field, value: String, accepted: String| PlanProblem::Piece {
            piece: piece.key,
            firing,
            field,
            value,
            accepted,
        };
        if !keys.insert(piece.key) {
            return Err(problem(None, "the key", piece.key.to_string(), "a key no other piece has".to_owned()));
        }
        if millionths(piece.area_cm2, true).is_none_or(|area| area < 1 || area > shelf) {
            let accepted = format!("above 0 cm², to the shelf's {} cm²", ask.shelf_cm2);
            return Err(problem(None, "the shelf it takes", piece.area_cm2.to_string(), accepted));
        }
        if !(-LONGEST..=LONGEST).contains(&piece.ready) {
            let accepted = "within a year of the day, in seconds".to_owned();
            return Err(problem(None, "the second it is ready", piece.ready.to_string(), accepted));
        }
        for (number, firing) in piece.firings.iter().enumerate() {
            let of_firing = |name, value: String, accepted: String| problem(Some(number), name, value, accepted);
            let room = ask.heat.room_whole_c();
            if firing.lowest_c <= room {
                let accepted = format!("above the room, {room} °C");
                return Err(of_firing("the lowest temperature", firing.lowest_c.to_string(), accepted));
            }
            if firing.highest_c < firing.lowest_c {
                let accepted = format!("{} °C or more", firing.lowest_c);
                return Err(of_firing("the highest temperature", firing.highest_c.to_string(), accepted));
            }
            if firing.shortest == 0 || i64::from(firing.shortest) > LONGEST {
                let accepted = "1 second to a year".to_owned();
                return Err(of_firing("the shortest time", firing.shortest.to_string(), accepted));
            }
            if firing.longest < firing.shortest {
                let accepted = format!("{} seconds or more", firing.shortest);
                return Err(of_firing("the longest time", firing.longest.to_string(), accepted));
            }
            if i64::from(firing.rest) > LONGEST {
                let accepted = "0 seconds to a year".to_owned();
                return Err(of_firing("the time to the next firing", firing.rest.to_string(), accepted));
            }
            let (piece, firing, lowest_c) = (piece.key, number, firing);
            let (ceiling_c, lowest_c) = (lowest_c.ceiling_c, lowest_c.lowest_c);
            if lowest_c > ceiling_c {
                return Err(PlanProblem::Ceiling { piece, firing, lowest_c, ceiling_c });
            }
            if lowest_c > hottest_c {
                return Err(PlanProblem::Kiln { piece, firing, lowest_c, hottest_c });
            }
        }
    }
    Ok(shelf)
}
