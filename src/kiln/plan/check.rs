//! A plan read again, without the search: every ceiling, range, area, order and wait.

use super::{Fired, Firing, KilnPlan, Load, PieceAhead, PlanAsk};
use crate::measure::{Decimal, exact};
use std::collections::BTreeMap;

/// What a plan does that the question forbids. Loads count from 0; seconds are those of the day.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Breach {
    /// There is no such load.
    #[error("there is no load {load} of the plan")]
    NoLoad {
        /// The load asked for.
        load: usize,
    },
    /// A load is empty.
    #[error("load {load} is empty")]
    Empty {
        /// The load.
        load: usize,
    },
    /// A firing is not one of the question.
    #[error("piece {} has no firing {} ahead", fired.piece, fired.firing)]
    Unknown {
        /// The firing.
        fired: Fired,
    },
    /// A firing is not in the plan.
    #[error("firing {} of piece {} is in no load", fired.firing, fired.piece)]
    Missing {
        /// The firing.
        fired: Fired,
    },
    /// A firing stands before the one it follows, or twice.
    #[error("load {load}: firing {} of piece {} is out of its order", fired.firing, fired.piece)]
    Order {
        /// The load.
        load: usize,
        /// The firing.
        fired: Fired,
    },
    /// A load is hotter than is safe for a piece.
    #[error("load {load} is {celsius} °C; the ceiling of piece {} is {ceiling_c} °C", fired.piece)]
    Ceiling {
        /// The load.
        load: usize,
        /// The piece that stands the least.
        fired: Fired,
        /// The load's temperature, °C.
        celsius: i32,
        /// The piece's ceiling, °C.
        ceiling_c: i32,
    },
    /// A load is hotter than the kiln holds.
    #[error("load {load} is {celsius} °C; the kiln holds {hottest_c} °C")]
    Kiln {
        /// The load.
        load: usize,
        /// Its temperature, °C.
        celsius: i32,
        /// What the kiln holds, °C.
        hottest_c: i32,
    },
    /// A load's temperature is not one a piece accepts.
    #[error("load {load} is {celsius} °C; piece {} accepts {lowest_c} to {highest_c} °C", fired.piece)]
    Heat {
        /// The load.
        load: usize,
        /// The piece.
        fired: Fired,
        /// The load's temperature, °C.
        celsius: i32,
        /// The least the piece accepts, °C.
        lowest_c: i32,
        /// The most it accepts, °C.
        highest_c: i32,
    },
    /// A load's time in the heat is not one a piece accepts.
    #[error("load {load} is {seconds} seconds in the heat; piece {} accepts {shortest} to {longest}", fired.piece)]
    Time {
        /// The load.
        load: usize,
        /// The piece.
        fired: Fired,
        /// The load's seconds in the heat.
        seconds: u32,
        /// The least the piece accepts.
        shortest: u32,
        /// The most it accepts.
        longest: u32,
    },
    /// A load's pieces take more than the shelf.
    #[error("load {load} takes {area_cm2} cm²; the shelf has {shelf_cm2} cm²")]
    Area {
        /// The load.
        load: usize,
        /// What its pieces take, cm².
        area_cm2: Decimal,
        /// What there is, cm².
        shelf_cm2: Decimal,
    },
    /// A load begins before one of its pieces is ready.
    #[error("load {load} begins at second {start}; piece {} is ready at {ready}", fired.piece)]
    Ready {
        /// The load.
        load: usize,
        /// The piece.
        fired: Fired,
        /// The second the load begins.
        start: i64,
        /// The second the piece is ready: for its first firing as asked, then after its rest.
        ready: i64,
    },
    /// A load begins before the kiln is ready for it.
    #[error("load {load} begins at second {start}; the kiln is ready at {ready}")]
    TooSoon {
        /// The load.
        load: usize,
        /// The second it begins.
        start: i64,
        /// The second the kiln is ready: after the load before, the door and the change of heat.
        ready: i64,
    },
    /// A figure of the plan does not follow from its loads.
    #[error("{figure} is {value}; it follows as {follows}")]
    Figure {
        /// Its name in words.
        figure: &'static str,
        /// What the plan says.
        value: i64,
        /// What follows from its loads.
        follows: i64,
    },
}

/// Everything a plan does that the question forbids; nothing where it is good.
pub fn check(ask: &PlanAsk, plan: &KilnPlan) -> Vec<Breach> {
    let mut breaches = Vec::new();
    let pieces: BTreeMap<u64, &PieceAhead> = ask.pieces.iter().map(|piece| (piece.key, piece)).collect();
    // What each piece does next, and from when.
    let mut next: BTreeMap<u64, (usize, i64)> = ask.pieces.iter().map(|piece| (piece.key, (0, piece.ready))).collect();
    let (mut celsius, mut free) = (ask.heat.beginning_c(ask), ask.begins());
    let (mut moved_c, mut finish) = (0, ask.begins());
    for (number, load) in plan.loads.iter().enumerate() {
        of_the_kiln(ask, number, load, (celsius, free), &mut breaches);
        let mut area_cm2 = Some(Decimal::ZERO);
        for &fired in &load.pieces {
            let piece = pieces.get(&fired.piece);
            let firing = piece.and_then(|piece| piece.firings.get(fired.firing));
            let (Some(piece), Some(firing)) = (piece, firing) else {
                breaches.push(Breach::Unknown { fired });
                continue;
            };
            area_cm2 = area_cm2.and_then(|area| exact::add(area, piece.area_cm2).ok());
            of_a_piece(number, load, fired, firing, &mut breaches);
            let entry = next.entry(fired.piece).or_default();
            if entry.0 != fired.firing {
                breaches.push(Breach::Order { load: number, fired });
            } else if load.start < entry.1 {
                breaches.push(Breach::Ready { load: number, fired, start: load.start, ready: entry.1 });
            }
            *entry = (fired.firing + 1, load.end + i64::from(firing.rest));
        }
        let area_cm2 = area_cm2.unwrap_or(Decimal::MAX);
        if area_cm2 > ask.shelf_cm2 {
            breaches.push(Breach::Area { load: number, area_cm2, shelf_cm2: ask.shelf_cm2 });
        }
        moved_c += i64::from(celsius.abs_diff(load.celsius));
        celsius = load.celsius;
        finish = load.end;
        free = load.end + i64::from(ask.door_seconds);
    }
    let fired: std::collections::BTreeSet<Fired> = plan.loads.iter().flat_map(|load| &load.pieces).copied().collect();
    for piece in &ask.pieces {
        let ahead = (0..piece.firings.len()).map(|firing| Fired { piece: piece.key, firing });
        breaches.extend(ahead.filter(|ahead| !fired.contains(ahead)).map(|fired| Breach::Missing { fired }));
    }
    for (figure, value, follows) in
        [("the finish", plan.finish, finish), ("the heat moved, °C,", plan.moved_c, moved_c)]
    {
        if value != follows {
            breaches.push(Breach::Figure { figure, value, follows });
        }
    }
    breaches
}

/// What a load asks of the kiln, which has a temperature and is free from a second on.
fn of_the_kiln(ask: &PlanAsk, number: usize, load: &Load, (celsius, free): (i32, i64), breaches: &mut Vec<Breach>) {
    if load.pieces.is_empty() {
        breaches.push(Breach::Empty { load: number });
    }
    let hottest_c = ask.holds_c();
    match ask.heat.seconds(celsius, load.celsius) {
        Some(change) if load.celsius <= hottest_c => {
            let ready = free + change;
            if load.start < ready {
                breaches.push(Breach::TooSoon { load: number, start: load.start, ready });
            }
        }
        _ => breaches.push(Breach::Kiln { load: number, celsius: load.celsius, hottest_c }),
    }
    let follows = load.start + i64::from(load.seconds);
    if load.end != follows {
        breaches.push(Breach::Figure { figure: "the end of a load", value: load.end, follows });
    }
}

/// What a load asks of a piece.
fn of_a_piece(number: usize, load: &Load, fired: Fired, firing: &Firing, breaches: &mut Vec<Breach>) {
    let (celsius, seconds) = (load.celsius, load.seconds);
    let Firing { lowest_c, highest_c, ceiling_c, shortest, longest, .. } = *firing;
    if celsius > ceiling_c {
        breaches.push(Breach::Ceiling { load: number, fired, celsius, ceiling_c });
    }
    if !(lowest_c..=highest_c).contains(&celsius) {
        breaches.push(Breach::Heat { load: number, fired, celsius, lowest_c, highest_c });
    }
    if !(shortest..=longest).contains(&seconds) {
        breaches.push(Breach::Time { load: number, fired, seconds, shortest, longest });
    }
}
