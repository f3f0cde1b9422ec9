//! The search for the best rows: over a coarse grid of ways to lay them, then around the best.

use super::CutError;
use super::chance::Chance;
use super::plane::Bounds;
use super::rows::{Pattern, Spread, Stack, Turned, Zones, float_to_whole, whole_to_float};
use super::shape::{Shape, Turns, side_directions};
use super::work::Work;
use std::f64::consts::{FRAC_PI_2, PI};

/// Where rows are looked for, and how many blanks are asked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Search<'a> {
    /// The outline.
    pub(super) shape: &'a Shape,
    /// Its zones.
    pub(super) zones: &'a Zones,
    /// The part of the sheet.
    pub(super) region: Bounds,
    /// The most blanks.
    pub(super) most: u32,
    /// The patterns looked at.
    pub(super) patterns: u32,
    /// How many of them make one try.
    pub(super) per_try: u32,
}

/// Patterns kept and refined.
const KEPT: usize = 8;

/// The best patterns, best first.
///
/// # Errors
/// [`CutError::Cancelled`].
pub(super) fn search(search: &Search<'_>, chance: &mut Chance, work: &mut Work<'_>) -> Result<Vec<Pattern>, CutError> {
    let worth_of = |pattern: &Pattern| {
        let turned = Turned::new(search.shape, search.zones, pattern.turn);
        pattern.worth(&turned, &search.region, search.most)
    };
    let per_try = usize::try_from(search.per_try).unwrap_or(1).max(1);
    let price = |number: usize| u32::from(number.is_multiple_of(per_try));
    let grid = grid(search.shape, search.zones);
    let mut kept: Vec<(f64, Pattern)> = Vec::new();
    // A stride without a common divisor visits the whole grid evenly, however few the tries.
    let mut stride = whole_to_index(0.618 * whole_to_float(grid.len())).max(1);
    while common_divisor(stride, grid.len()) > 1 {
        stride += 1;
    }
    let coarse = usize::try_from(search.patterns / 3 * 2).unwrap_or(usize::MAX).min(grid.len());
    for number in 0..coarse {
        let Some(pattern) = grid.get(number.wrapping_mul(stride) % grid.len()) else { break };
        keep(&mut kept, worth_of(pattern), *pattern);
        if !work.spend(price(number))? {
            break;
        }
    }
    let left = search.patterns.saturating_sub(u32::try_from(coarse).unwrap_or(u32::MAX));
    for number in 0..left {
        if kept.is_empty() {
            break;
        }
        let slot = usize::try_from(number).unwrap_or(0) % kept.len();
        let Some(&(worth, pattern)) = kept.get(slot) else { break };
        let reach = 0.2 * 0.02_f64.powf(f64::from(number) / f64::from(left));
        let mut nudged = pattern;
        if search.shape.turns == Turns::Free && search.shape.disc.is_none() && chance.share() < 0.7 {
            nudged.turn += reach * chance.swing();
        }
        if chance.share() < 0.7 {
            nudged.shift = (nudged.shift + reach * chance.swing()).rem_euclid(1.0);
        }
        if chance.share() < 0.7 {
            nudged.pair = nudged.pair.map(|share| share + reach * chance.swing());
        }
        let better = worth_of(&nudged);
        if better > worth
            && let Some(kept) = kept.get_mut(slot)
        {
            *kept = (better, nudged);
        }
        if !work.spend(price(usize::try_from(number).unwrap_or(0)))? {
            break;
        }
    }
    kept.sort_by(|a, b| b.0.total_cmp(&a.0));
    Ok(kept.into_iter().map(|(_, pattern)| pattern).collect())
}

fn keep(kept: &mut Vec<(f64, Pattern)>, worth: f64, pattern: Pattern) {
    if worth < 1.0 || kept.iter().any(|(other, _)| (other - worth).abs() < 1e-12) {
        return;
    }
    let place = kept.partition_point(|(other, _)| *other > worth);
    if place < KEPT {
        kept.insert(place, (worth, pattern));
        kept.truncate(KEPT);
    }
}

/// Every coarse pattern the turns allow.
fn grid(shape: &Shape, zones: &Zones) -> Vec<Pattern> {
    const SHIFTS: [f64; 8] = [0.0, 0.5, 0.25, 0.75, 0.125, 0.375, 0.625, 0.875];
    const PAIRS: [f64; 9] = [0.0, 0.125, -0.125, 0.25, -0.25, 0.5, -0.5, 0.75, -0.75];
    let mut grid = Vec::new();
    for upright in [false, true] {
        let quarter = if upright { FRAC_PI_2 } else { 0.0 };
        let turns = match &shape.turns {
            _ if shape.disc.is_some() => vec![0.0],
            Turns::Only(turns) => turns.iter().map(|turn| turn + quarter).collect(),
            Turns::Free => {
                let sides = side_directions(&shape.ring, 6).into_iter().map(|direction| PI - direction);
                (0..18).map(|step| f64::from(step) * PI / 18.0).chain(sides).collect()
            }
        };
        for turn in turns {
            let may_flip = zones.may_pair && shape.may_turn(turn - quarter) && shape.may_turn(turn - quarter + PI);
            let stacks: &[Stack] = if may_flip {
                &[Stack::ToAndFro, Stack::Slanted, Stack::HeadToTail]
            } else {
                &[Stack::ToAndFro, Stack::Slanted]
            };
            let pairs = PAIRS.iter().copied().map(Some).filter(|_| may_flip);
            for pair in [None].into_iter().chain(pairs) {
                for &stack in stacks {
                    for spread in [Spread::Close, Spread::Wide, Spread::HalfWide, Spread::Fewer] {
                        if pair.is_some() && matches!(spread, Spread::HalfWide | Spread::Fewer) {
                            continue;
                        }
                        for shift in SHIFTS {
                            grid.push(Pattern { upright, turn, pair, spread, stack, shift });
                        }
                    }
                }
            }
        }
    }
    grid
}

fn common_divisor(a: usize, b: usize) -> usize {
    if b == 0 { a } else { common_divisor(b, a % b) }
}

fn whole_to_index(value: f64) -> usize {
    usize::try_from(float_to_whole(value)).unwrap_or(0)
}
