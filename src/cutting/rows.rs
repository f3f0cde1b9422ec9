//! Rows: one blank, or two head to tail, repeated along the sheet, and rows of them laid as close as they go.

use super::lie::Spot;
use super::plane::{Bounds, Point, turned};
use super::shape::Shape;
use super::zone::Zone;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// How one row follows another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stack {
    /// Each farther to the right by the same step.
    Slanted,
    /// To the right and back again.
    ToAndFro,
    /// To the right and back again, every second row turned head to tail.
    HeadToTail,
}

/// How the blanks of a row are spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Spread {
    /// As close as they go.
    Close,
    /// To fill the width.
    Wide,
    /// To fill the width with half a step to spare for the next row.
    HalfWide,
    /// With one fewer, to fill the width.
    Fewer,
}

/// A way to lay rows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pattern {
    /// Rows run along y instead of x.
    pub(super) upright: bool,
    /// Turn of the first blank, radians, as seen along the row.
    pub(super) turn: f64,
    /// The second of a pair lies this share of the blank's height higher; `None` for rows of one.
    pub(super) pair: Option<f64>,
    pub(super) spread: Spread,
    pub(super) stack: Stack,
    /// Shift of the next row, as a share of the step.
    pub(super) shift: f64,
}

/// The zones of a shape beside itself and beside itself turned by half.
#[derive(Debug)]
pub(super) struct Zones {
    same: Zone,
    turned: Zone,
    /// Whether half a turn changes something.
    pub(super) may_pair: bool,
}

impl Zones {
    /// Of a shape kept `gap` from its like.
    pub(super) fn of(shape: &Shape, gap: f64) -> Self {
        if let Some(diameter) = shape.disc {
            let zone = Zone::of_disc(diameter + gap);
            return Self { same: zone.clone(), turned: zone, may_pair: false };
        }
        let half = turned(&shape.ring, PI);
        Self {
            same: Zone::of(&shape.ring, &shape.ring, gap),
            turned: Zone::of(&shape.ring, &half, gap),
            may_pair: !shape.symmetric,
        }
    }
}

/// A blank of a row.
#[derive(Debug, Clone, Copy)]
struct Place {
    flipped: bool,
    at: Point,
    bounds: Bounds,
}

/// The zones at the turn of a row: by whether the first and the second blank are flipped.
pub(super) struct Turned {
    same: Zone,
    ahead: Zone,
    behind: Zone,
    bounds: [Bounds; 2],
}

impl Turned {
    /// At that turn.
    pub(super) fn new(shape: &Shape, zones: &Zones, turn: f64) -> Self {
        let ahead = zones.turned.turned(turn);
        let ring = turned(&shape.ring, turn);
        let bounds = match shape.disc {
            Some(diameter) => [Bounds { low: [0.0; 2], high: [0.0; 2] }.grown(diameter / 2.0); 2],
            None => [Bounds::of(&ring), Bounds::of(&turned(&ring, PI))],
        };
        Self { same: zones.same.turned(turn), behind: ahead.turned(PI), ahead, bounds }
    }

    fn zone(&self, first: bool, second: bool) -> &Zone {
        match (first, second) {
            (false, true) => &self.ahead,
            (true, false) => &self.behind,
            _ => &self.same,
        }
    }

    fn bounds(&self, flipped: bool) -> Bounds {
        let [upright, head_down] = self.bounds;
        if flipped { head_down } else { upright }
    }
}

/// Rows laid out in a region whose rows run along x.
struct Rows {
    step: f64,
    /// The blanks of one step of a plain and of a flipped row.
    units: [Vec<Place>; 2],
    /// Each row: its height, its shift, whether it is flipped.
    rows: Vec<(f64, f64, bool)>,
}

/// More rows than a sheet and a saw allow.
const MOST_ROWS: usize = 2_000;

/// How many rows back one may still be touched.
const ROWS_BACK: usize = 4;

impl Rows {
    fn lay(pattern: &Pattern, turned: &Turned, width: f64, height: f64) -> Option<Self> {
        let plain = turned.bounds(false);
        let mut unit = vec![Place { flipped: false, at: [0.0; 2], bounds: plain }];
        let mut step = turned.same.right(0.0);
        if let Some(share) = pattern.pair {
            let rise = share * plain.height();
            // Beside the first, or just clear of it where one passes over the other.
            let beside = turned.ahead.right(rise).max(0.0);
            let next = turned.behind.right(-rise).max(0.0);
            step = step.max(beside + next);
            let spare = step - beside - next;
            unit.push(Place { flipped: true, at: [beside + spare / 2.0, rise], bounds: turned.bounds(true) });
        }
        if !(step.is_finite() && step > 1e-6) || plain.width() > width + 1e-9 {
            return None;
        }
        let whole = (width - plain.width() + 1e-9) / step;
        let wide = (width - plain.width()) + 1e-10;
        let stretched = match pattern.spread {
            Spread::Close => step,
            Spread::Wide => wide / whole.floor().max(1.0),
            Spread::HalfWide => wide / ((whole - 0.5).floor() + 0.5).max(0.5),
            Spread::Fewer => wide / (whole.floor() - 1.0).max(1.0),
        };
        if stretched < step || stretched > 2.0 * step || !stretched.is_finite() {
            return None;
        }
        if let Some(second) = unit.get_mut(1) {
            second.at[0] += (stretched - step) / 2.0;
        }
        let flipped = unit
            .iter()
            .map(|place| Place {
                flipped: !place.flipped,
                at: [-place.at[0], -place.at[1]],
                bounds: turned.bounds(!place.flipped),
            })
            .collect();
        let mut rows = Self { step: stretched, units: [unit, flipped], rows: Vec::new() };
        rows.stack(pattern, turned, height);
        (!rows.rows.is_empty()).then_some(rows)
    }

    fn unit(&self, flipped: bool) -> &[Place] {
        let [plain, turned] = &self.units;
        if flipped { turned } else { plain }
    }

    fn low(&self, flipped: bool) -> f64 {
        self.unit(flipped).iter().map(|place| place.at[1] + place.bounds.low[1]).fold(f64::INFINITY, f64::min)
    }

    fn high(&self, flipped: bool) -> f64 {
        self.unit(flipped).iter().map(|place| place.at[1] + place.bounds.high[1]).fold(f64::NEG_INFINITY, f64::max)
    }

    fn stack(&mut self, pattern: &Pattern, turned: &Turned, height: f64) {
        let shift = pattern.shift * self.step;
        // How far a row lies above an earlier one: by how many rows back and whether it is an odd row.
        let mut known: [[Option<f64>; 2]; ROWS_BACK] = [[None; 2]; ROWS_BACK];
        while self.rows.len() < MOST_ROWS {
            let number = self.rows.len();
            let odd = number % 2 == 1;
            let flipped = odd && pattern.stack == Stack::HeadToTail;
            let moved = match pattern.stack {
                Stack::Slanted => (shift * whole_to_float(number)).rem_euclid(self.step),
                Stack::ToAndFro | Stack::HeadToTail => {
                    if odd {
                        shift
                    } else {
                        0.0
                    }
                }
            };
            let mut at = -self.low(flipped);
            for (back, known) in (1..).zip(&mut known) {
                let Some(&(below, shifted, below_flipped)) =
                    number.checked_sub(back).and_then(|row| self.rows.get(row))
                else {
                    break;
                };
                let slot = if odd { &mut known[1] } else { &mut known[0] };
                let rise = match *slot {
                    Some(rise) => rise,
                    None => {
                        let rise = self.rise(turned, below_flipped, flipped, moved - shifted);
                        *slot = Some(rise);
                        rise
                    }
                };
                at = at.max(below + rise);
            }
            let stands_still = self.rows.last().is_some_and(|&(last, _, _)| at < last + 1e-6);
            if at + self.high(flipped) > height + 1e-9 || stands_still {
                break;
            }
            self.rows.push((at, moved, flipped));
        }
    }

    /// How far a row must lie above another that is moved by `shift` against it.
    fn rise(&self, turned: &Turned, below: bool, above: bool, shift: f64) -> f64 {
        let mut rise = f64::NEG_INFINITY;
        for one in self.unit(below) {
            for other in self.unit(above) {
                let zone = turned.zone(one.flipped, other.flipped);
                let across = shift + other.at[0] - one.at[0];
                let mut at = across + ((zone.bounds.low[0] - across) / self.step).ceil() * self.step;
                while at < zone.bounds.high[0] {
                    rise = rise.max(zone.up(at) + one.at[1] - other.at[1]);
                    at += self.step;
                }
            }
        }
        rise
    }

    /// How many blanks of a place of a row fit when the whole is moved by `offset`, and where the first lies.
    fn run(&self, place: &Place, shift: f64, offset: f64, width: f64) -> (u32, f64) {
        let least = -place.bounds.low[0];
        let most = width - place.bounds.high[0];
        let along = place.at[0] + shift + offset;
        let first = along + ((least - along - 1e-9) / self.step).ceil() * self.step;
        if first > most + 1e-9 {
            return (0, first);
        }
        (float_to_whole((most - first + 1e-9) / self.step) + 1, first)
    }

    /// The offsets that bring a blank of the first two rows to the left edge.
    fn offsets(&self) -> Vec<f64> {
        let mut offsets = Vec::new();
        for &(_, shift, flipped) in self.rows.iter().take(2) {
            for place in self.unit(flipped) {
                offsets.push(-place.bounds.low[0] - place.at[0] - shift);
            }
        }
        offsets
    }

    /// Blanks of the lowest rows that hold `most`, and the height these rows take.
    fn count(&self, offset: f64, width: f64, most: u32) -> (u32, f64) {
        let mut count = 0_u32;
        let mut height = 0.0;
        for &(at, shift, flipped) in &self.rows {
            if count >= most {
                break;
            }
            for place in self.unit(flipped) {
                count = count.saturating_add(self.run(place, shift, offset, width).0);
            }
            height = at + self.high(flipped);
        }
        (count.min(most), height)
    }
}

/// The whole number below, at least 0.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped to what fits
pub(super) fn float_to_whole(value: f64) -> u32 {
    value.floor().clamp(0.0, 1e9) as u32
}

/// A count as a float.
pub(super) fn whole_to_float(value: usize) -> f64 {
    f64::from(u32::try_from(value).unwrap_or(u32::MAX))
}

impl Pattern {
    /// Width along the row and height across it.
    fn sides(&self, region: &Bounds) -> (f64, f64) {
        if self.upright { (region.height(), region.width()) } else { (region.width(), region.height()) }
    }

    /// How good it is: the blanks, and the share of the region it leaves free where fewer are asked for.
    pub(super) fn worth(&self, turned: &Turned, region: &Bounds, most: u32) -> f64 {
        let (width, height) = self.sides(region);
        let Some(rows) = Rows::lay(self, turned, width, height) else { return 0.0 };
        rows.offsets().into_iter().map(|offset| worth(rows.count(offset, width, most), height)).fold(0.0, f64::max)
    }

    /// The blanks, at most `most`, rows filled from the left or from below.
    pub(super) fn spots(&self, shape: &Shape, which: usize, zones: &Zones, region: &Bounds, most: u32) -> Vec<Spot> {
        let turned = Turned::new(shape, zones, self.turn);
        let (width, height) = self.sides(region);
        let Some(rows) = Rows::lay(self, &turned, width, height) else { return Vec::new() };
        let best = rows
            .offsets()
            .into_iter()
            .map(|offset| (worth(rows.count(offset, width, most), height), offset))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        let Some((_, offset)) = best else { return Vec::new() };
        let mut found = Vec::new();
        for &(at, shift, flipped) in &rows.rows {
            let mut row = Vec::new();
            for place in rows.unit(flipped) {
                let (count, first) = rows.run(place, shift, offset, width);
                for number in 0..count {
                    row.push((place.flipped, [first + f64::from(number) * rows.step, at + place.at[1]]));
                }
            }
            row.sort_by(|a, b| a.1[0].total_cmp(&b.1[0]));
            found.extend(row);
        }
        found.truncate(usize::try_from(most).unwrap_or(usize::MAX));
        let [left, low] = region.low;
        let placed = found.into_iter().map(|(flipped, [x, y])| {
            let turn = self.turn + if flipped { PI } else { 0.0 };
            if self.upright {
                // The lying pattern turned back by a quarter: its lowest row comes to the left edge.
                Spot { which, turn: turn - FRAC_PI_2, at: [left + y, region.high[1] - x] }
            } else {
                Spot { which, turn, at: [left + x, low + y] }
            }
        });
        placed.map(|spot| Spot { turn: spot.turn.rem_euclid(TAU), ..spot }).collect()
    }
}

/// Blanks first; then the share of the height that stays free.
fn worth((count, height): (u32, f64), of: f64) -> f64 {
    f64::from(count) + 0.9 * (1.0 - height / of).clamp(0.0, 1.0)
}
