//! Equal discs: rows close to one another with some square steps between, and discs pushed apart freely.

use super::CutError;
use super::chance::Chance;
use super::lie::Spot;
use super::plane::{Bounds, Point, length, minus, plus};
use super::work::Work;

/// Discs further from their places than this after pushing lie wrong, mm.
const SETTLED_MM: f64 = 2e-8;

/// More discs than this are not pushed: rows are as good, and the work grows with the square.
const MOST_PUSHED: u32 = 150;

/// Where middles of discs may lie and how far apart they must.
#[derive(Debug, Clone, Copy)]
pub(super) struct Middles {
    low: Point,
    width: f64,
    height: f64,
    apart: f64,
}

impl Middles {
    /// In a region, of discs of a diameter with a gap; `None` where not one fits.
    pub(super) fn new(region: &Bounds, diameter: f64, gap: f64) -> Option<Self> {
        let (width, height) = (region.width() - diameter, region.height() - diameter);
        if width < -1e-9 || height < -1e-9 || diameter <= 0.0 {
            return None;
        }
        let low = plus(region.low, [diameter / 2.0; 2]);
        Some(Self { low, width: width.max(0.0), height: height.max(0.0), apart: diameter + gap })
    }

    /// No more than these can be apart (Oler 1961: at most `2/√3 · area + perimeter/2 + 1` points at distances of 1 or
    /// more lie in a convex set).
    pub(super) fn bound(&self) -> u32 {
        let (w, h) = (self.width / self.apart, self.height / self.apart);
        whole(2.0 / 3.0_f64.sqrt() * w * h + w + h + 1.0 + 1e-9)
    }

    fn spots(&self, middles: &[Point], which: usize) -> Vec<Spot> {
        middles.iter().map(|&middle| Spot { which, turn: 0.0, at: plus(self.low, middle) }).collect()
    }

    /// Close rows along x or y in which some lie square above the one before, so that fewer rows are short.
    pub(super) fn rows(&self, which: usize) -> Vec<Spot> {
        let mut best: Vec<Point> = Vec::new();
        for upright in [false, true] {
            let (along, across) = if upright { (self.height, self.width) } else { (self.width, self.height) };
            for square in 0..40_u32 {
                let mut middles = Vec::new();
                let (mut at, mut shifted) = (0.0, false);
                let mut number = 0_u32;
                while at <= across + 1e-9 && number < 2_000 {
                    let first = if shifted { self.apart / 2.0 } else { 0.0 };
                    if first <= along + 1e-9 {
                        for place in 0..=whole((along - first + 1e-9) / self.apart) {
                            let x = first + f64::from(place) * self.apart;
                            middles.push(if upright { [at, x] } else { [x, at] });
                        }
                    }
                    if number < square {
                        at += self.apart;
                    } else {
                        at += self.apart * 3.0_f64.sqrt() / 2.0;
                        shifted = !shifted;
                    }
                    number += 1;
                }
                if middles.len() > best.len() {
                    best = middles;
                }
                if f64::from(square) * self.apart > across {
                    break;
                }
            }
        }
        self.spots(&best, which)
    }

    /// One disc more than `known`, and one more again, as long as pushing them apart succeeds.
    ///
    /// # Errors
    /// [`CutError::Cancelled`].
    pub(super) fn pushed(
        &self,
        known: &[Spot],
        most: u32,
        which: usize,
        chance: &mut Chance,
        work: &mut Work<'_>,
    ) -> Result<Vec<Spot>, CutError> {
        let mut best = known.to_vec();
        let bound = self.bound().min(most).min(MOST_PUSHED);
        let mut number = 0_u32;
        loop {
            let aim = u32::try_from(best.len()).unwrap_or(u32::MAX).saturating_add(1);
            if aim > bound {
                return Ok(best);
            }
            // Each start costs work with the square of the discs.
            if !work.spend((aim * aim / 40).max(8))? {
                return Ok(best);
            }
            number += 1;
            let count = best.len() + 1;
            let mut middles: Vec<Point> = Vec::with_capacity(count);
            if number.is_multiple_of(3) {
                let reach = self.apart * chance.share() * 0.5;
                for spot in &best {
                    let nudge = [reach * chance.swing(), reach * chance.swing()];
                    middles.push(plus(minus(spot.at, self.low), nudge));
                }
            }
            while middles.len() < count {
                middles.push([chance.share() * self.width, chance.share() * self.height]);
            }
            if self.push_apart(&mut middles) {
                best = self.spots(&middles, which);
                work.found(best.len());
            }
        }
    }

    /// Energy of discs that are too near or outside, and the force on each.
    fn energy(&self, middles: &[Point], slope: &mut [Point]) -> f64 {
        slope.fill([0.0; 2]);
        let mut energy = 0.0;
        for (number, &one) in middles.iter().enumerate() {
            let mut force = [0.0; 2];
            for (axis, side) in [self.width, self.height].into_iter().enumerate() {
                let at = if axis == 0 { one[0] } else { one[1] };
                let outside = at.min(0.0) + (at - side).max(0.0);
                energy += outside * outside;
                if axis == 0 { force[0] += 2.0 * outside } else { force[1] += 2.0 * outside }
            }
            let (_, after) = middles.split_at(number + 1);
            let (before, slope_after) = slope.split_at_mut(number + 1);
            for (&other, slope) in after.iter().zip(slope_after) {
                let step = [one[0] - other[0], one[1] - other[1]];
                if step[0].abs() >= self.apart || step[1].abs() >= self.apart {
                    continue;
                }
                let distance = length(step);
                let short = self.apart - distance;
                if short > 0.0 {
                    energy += short * short;
                    let pull = -2.0 * short / distance.max(1e-12);
                    force = [force[0] + pull * step[0], force[1] + pull * step[1]];
                    *slope = [slope[0] - pull * step[0], slope[1] - pull * step[1]];
                }
            }
            if let Some(slope) = before.last_mut() {
                *slope = plus(*slope, force);
            }
        }
        energy
    }

    /// Moves middles until none is too near another or outside (limited-memory quasi-Newton descent, Nocedal 1980).
    fn push_apart(&self, middles: &mut Vec<Point>) -> bool {
        const MEMORY: usize = 8;
        let settled = SETTLED_MM * SETTLED_MM;
        let mut slope = vec![[0.0; 2]; middles.len()];
        let mut energy = self.energy(middles, &mut slope);
        let mut past: Vec<(Vec<Point>, Vec<Point>, f64)> = Vec::new();
        let mut checked = energy;
        for round in 1..=1_500_u32 {
            if energy <= settled {
                return true;
            }
            if round.is_multiple_of(60) {
                // Stuck where it does not fit.
                if energy > checked * 0.7 {
                    return false;
                }
                checked = energy;
            }
            let mut way: Vec<Point> = slope.clone();
            let mut shares = Vec::with_capacity(past.len());
            for (moved, bent, scale) in past.iter().rev() {
                let share = scale * product(moved, &way);
                add(&mut way, bent, -share);
                shares.push(share);
            }
            let scale = past.last().map_or(0.25, |(moved, bent, _)| product(moved, bent) / product(bent, bent));
            for step in &mut way {
                *step = [step[0] * scale, step[1] * scale];
            }
            for ((moved, bent, scale), share) in past.iter().zip(shares.iter().rev()) {
                let back = scale * product(bent, &way);
                add(&mut way, moved, share - back);
            }
            let downhill = product(&slope, &way);
            if downhill <= 0.0 {
                if past.is_empty() {
                    return false;
                }
                past.clear();
                continue;
            }
            let mut reach = 1.0;
            let mut next = middles.clone();
            let mut next_slope = slope.clone();
            let mut next_energy = f64::INFINITY;
            for _ in 0..20 {
                next.clone_from(middles);
                add(&mut next, &way, -reach);
                next_energy = self.energy(&next, &mut next_slope);
                if next_energy <= energy - 1e-4 * reach * downhill {
                    break;
                }
                reach /= 2.0;
            }
            if next_energy >= energy {
                if past.is_empty() {
                    return false;
                }
                past.clear();
                continue;
            }
            let moved = difference(&next, middles);
            let bent = difference(&next_slope, &slope);
            let curve = product(&moved, &bent);
            if curve > 1e-300 {
                if past.len() == MEMORY {
                    past.remove(0);
                }
                past.push((moved, bent, 1.0 / curve));
            }
            *middles = next;
            slope = next_slope;
            energy = next_energy;
        }
        energy <= settled
    }
}

fn product(a: &[Point], b: &[Point]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a[0] * b[0] + a[1] * b[1]).sum()
}

fn add(to: &mut [Point], step: &[Point], share: f64) {
    for (to, step) in to.iter_mut().zip(step) {
        *to = [to[0] + share * step[0], to[1] + share * step[1]];
    }
}

fn difference(a: &[Point], b: &[Point]) -> Vec<Point> {
    a.iter().zip(b).map(|(&a, &b)| minus(a, b)).collect()
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped to what fits
fn whole(value: f64) -> u32 {
    value.floor().clamp(0.0, 1e9) as u32
}
