//! From a plan to a layout: one outline as often as it fits, or the best mix of several.

use super::chance::Chance;
use super::check::checked;
use super::discs::Middles;
use super::fill::{Care, Tools, fill};
use super::layout::Layout;
use super::lie::{Lie, Sheet, Spot};
use super::plane::{Bounds, Point};
use super::rows::{Pattern, Zones};
use super::search::{Search, search};
use super::shape::Shape;
use super::work::{Flow, Progress, Work};
use super::{Aim, CutError, SheetPlan};
use crate::measure::exact;
use rust_decimal::prelude::ToPrimitive;

/// The most blanks looked for on one sheet.
pub const MOST_BLANKS: u32 = 3_000;

/// Lays out what a plan wants, within `tries`; the same plan and tries give the same layout.
///
/// # Errors
/// [`CutError::Field`] and [`CutError::Outline`] where the plan is not one, [`CutError::Cancelled`].
pub fn lay_out(plan: &SheetPlan, tries: u32, heard: &mut dyn FnMut(Progress) -> Flow) -> Result<Layout, CutError> {
    mix(plan, &Aim::Quantities, tries, heard)
}

/// Lays out the best mix found within `tries`; the same plan, aim and tries give the same layout.
///
/// # Errors
/// As [`lay_out`]; [`CutError::Field`] too where the aim does not state one figure for each outline.
pub fn mix(
    plan: &SheetPlan,
    aim: &Aim,
    tries: u32,
    heard: &mut dyn FnMut(Progress) -> Flow,
) -> Result<Layout, CutError> {
    let sheet = checked(plan, aim)?;
    let mut work = Work::new(tries.max(1), heard);
    work.spend(0)?;
    let best = Mixer::new(plan, aim, &sheet).best(&mut work)?;
    Layout::new(plan, &best)
}

/// Tries of the first round.
const FIRST_ROUND: u32 = 400;

/// What the search knows.
struct Mixer<'a> {
    aim: &'a Aim,
    sheet: &'a Sheet,
    tools: Tools,
    zones: Vec<Zones>,
    /// The most of each outline.
    caps: Vec<u32>,
    /// Those with a quantity.
    wanted: Vec<bool>,
    values: Vec<f64>,
    chance: Chance,
}

/// Less care where many blanks are laid one after another, more where a few gaps are left.
const QUICK: Care = Care { turns: 8, places: 32 };
const CAREFUL: Care = Care { turns: 24, places: 96 };

impl<'a> Mixer<'a> {
    fn new(plan: &SheetPlan, aim: &'a Aim, sheet: &'a Sheet) -> Self {
        let shapes = sheet.shapes.iter().enumerate();
        let zones = shapes.map(|(which, shape)| Zones::of(shape, sheet.gap(which, which))).collect();
        let values = match aim {
            Aim::Value(values) => values.iter().map(|value| value.amount().to_f64().unwrap_or(0.0)).collect(),
            _ => sheet.shapes.iter().map(|shape| shape.area).collect(),
        };
        let cap = |(which, shape): (usize, &Shape)| {
            let room = sheet.region(which);
            let by_area = room.width().max(0.0) * room.height().max(0.0) / shape.area;
            let quantity = plan.wanted.get(which).and_then(|wanted| wanted.quantity).unwrap_or(MOST_BLANKS);
            quantity.min(exact::from_geometry(by_area.min(1e9)).and_then(|most| most.floor().to_u32()).unwrap_or(0))
        };
        Self {
            aim,
            sheet,
            tools: Tools::new(sheet),
            zones,
            caps: sheet.shapes.iter().enumerate().map(cap).map(|cap| cap.min(MOST_BLANKS)).collect(),
            wanted: plan.wanted.iter().map(|wanted| wanted.quantity.is_some()).collect(),
            values,
            chance: Chance::new(1),
        }
    }

    fn best(mut self, work: &mut Work<'_>) -> Result<Lie<'a>, CutError> {
        let mut best = Best { lie: Lie::new(self.sheet), rank: Vec::new() };
        let mut tries = FIRST_ROUND;
        // Each round searches afresh with twice the tries: more tries seldom find fewer blanks, and a first layout comes
        // soon.
        while work.begin(tries) {
            self.chance = Chance::new(u64::from(tries));
            self.round(tries, &mut best, work)?;
            tries = tries.saturating_mul(2);
        }
        Ok(best.lie)
    }

    fn round(&mut self, tries: u32, best: &mut Best<'a>, work: &mut Work<'_>) -> Result<(), CutError> {
        let count = u32::try_from(self.sheet.shapes.len()).unwrap_or(u32::MAX);
        let tries = tries.min(work.left());
        let mut patterns = Vec::new();
        for which in 0..self.sheet.shapes.len() {
            patterns.push(self.patterns(which, (tries / 2 / count).max(16), work)?);
        }
        if count == 1 { self.one(&patterns, best, work) } else { self.several(&patterns, best, work) }
    }

    fn patterns(&mut self, which: usize, tries: u32, work: &mut Work<'_>) -> Result<Vec<Pattern>, CutError> {
        let (Some(shape), Some(zones)) = (self.sheet.shapes.get(which), self.zones.get(which)) else {
            return Ok(Vec::new());
        };
        let region = self.sheet.region(which);
        let most = self.caps.get(which).copied().unwrap_or(0);
        if region.width() <= 0.0 || region.height() <= 0.0 || most == 0 {
            return Ok(Vec::new());
        }
        // A row of discs is reckoned in no time, and pushing needs the tries.
        let (patterns, per_try) = if shape.disc.is_some() { (tries.min(4_096), 16) } else { (tries, 1) };
        search(&Search { shape, zones, region, most, patterns, per_try }, &mut self.chance, work)
    }

    fn spots(&self, pattern: &Pattern, which: usize, region: &Bounds, most: u32) -> Vec<Spot> {
        match (self.sheet.shapes.get(which), self.zones.get(which)) {
            (Some(shape), Some(zones)) => pattern.spots(shape, which, zones, region, most),
            _ => Vec::new(),
        }
    }

    /// One outline: rows, with the gaps filled; discs pushed.
    fn one(&mut self, patterns: &[Vec<Pattern>], best: &mut Best<'a>, work: &mut Work<'_>) -> Result<(), CutError> {
        let region = self.sheet.region(0);
        let most = self.caps.first().copied().unwrap_or(0);
        let disc = self.sheet.shapes.first().and_then(|shape| shape.disc);
        let middles = disc.and_then(|diameter| Middles::new(&region, diameter, self.sheet.gap(0, 0)));
        let mut starts: Vec<Vec<Spot>> = Vec::new();
        for pattern in patterns.iter().flatten() {
            starts.push(self.spots(pattern, 0, &region, most));
        }
        if let Some(middles) = middles {
            let mut spots = middles.rows(0);
            spots.truncate(usize::try_from(most).unwrap_or(usize::MAX));
            starts.push(spots);
        }
        for spots in &starts {
            let lie = Lie::with(self.sheet, spots);
            self.keep(best, lie, work);
        }
        if let Some(middles) = middles {
            let known: Vec<Spot> = best.lie.spots().collect();
            let pushed = middles.pushed(&known, most, 0, &mut self.chance, work)?;
            let lie = Lie::with(self.sheet, &pushed);
            self.keep(best, lie, work);
            return Ok(());
        }
        // Gaps are filled in the best few; a sheet filled from nothing is tried last.
        starts.truncate(4);
        starts.push(Vec::new());
        for spots in &starts {
            if best.lie.len() >= usize::try_from(most).unwrap_or(usize::MAX) || work.left() == 0 {
                break;
            }
            let mut lie = Lie::with(self.sheet, spots);
            let missing = usize::try_from(most).unwrap_or(usize::MAX).saturating_sub(lie.len());
            let care = if spots.is_empty() { QUICK } else { CAREFUL };
            fill(&mut lie, &self.tools, &vec![0; missing], care, &mut self.chance, work)?;
            self.keep(best, lie, work);
        }
        Ok(())
    }

    /// Several outlines: each in a part of the sheet, the rest wherever it fits, over many orders.
    fn several(&mut self, patterns: &[Vec<Pattern>], best: &mut Best<'a>, work: &mut Work<'_>) -> Result<(), CutError> {
        let mut order: Vec<usize> = (0..self.sheet.shapes.len()).collect();
        let merit = |which: &usize| -> f64 {
            let area = self.sheet.shapes.get(*which).map_or(1.0, |shape| shape.area);
            let value = self.values.get(*which).copied().unwrap_or(0.0);
            if matches!(self.aim, Aim::Value(_)) { value / area } else { area }
        };
        order.sort_by(|a, b| merit(b).total_cmp(&merit(a)));
        let mut round = 0_u32;
        loop {
            for quotas in self.quotas(&order, round, best) {
                let mut lie = self.in_parts(&order, &quotas, patterns);
                let queue = Self::queue(&order, &quotas, &lie);
                fill(&mut lie, &self.tools, &queue, QUICK, &mut self.chance, work)?;
                let lie = self.whole(lie);
                self.keep(best, lie, work);
                if work.left() == 0 {
                    return Ok(());
                }
            }
            round += 1;
            if round > 6 && self.is_complete(&best.lie) {
                return Ok(());
            }
            // Two outlines change places, now and then back to the first order.
            let (one, other) = (self.chance.below(order.len()), self.chance.below(order.len()));
            order.swap(one, other);
            if !work.spend(8)? {
                return Ok(());
            }
        }
    }

    /// Of a layout of sets only the whole sets.
    fn whole(&self, lie: Lie<'a>) -> Lie<'a> {
        let Aim::Sets(sets) = self.aim else { return lie };
        let whole = whole_sets(&lie.counts(), sets);
        let mut left: Vec<u32> = sets.iter().map(|set| set.saturating_mul(whole)).collect();
        let mut kept: Vec<Spot> = Vec::new();
        for spot in lie.spots() {
            if let Some(left) = left.get_mut(spot.which).filter(|left| **left > 0) {
                *left -= 1;
                kept.push(spot);
            }
        }
        Lie::with(self.sheet, &kept)
    }

    /// How many of each outline to try for.
    fn quotas(&mut self, order: &[usize], round: u32, best: &Best<'_>) -> Vec<Vec<u32>> {
        match self.aim {
            Aim::Quantities => {
                let mut quotas = self.caps.clone();
                let free: Vec<usize> = order.iter().copied().filter(|which| !self.has_quantity(*which)).collect();
                if free.is_empty() {
                    return vec![quotas];
                }
                // Those without a quantity: more sets of one of each than the best so far.
                let counts = best.lie.counts();
                let sets = free.iter().filter_map(|which| counts.get(*which)).min().copied().unwrap_or(0);
                let more = self.more_sets(sets, round, &free.iter().map(|which| (*which, 1)).collect::<Vec<_>>());
                for which in free {
                    if let Some(quota) = quotas.get_mut(which) {
                        *quota = more.min(*quota);
                    }
                }
                vec![quotas]
            }
            Aim::Sets(sets) => {
                let counts = best.lie.counts();
                let whole = whole_sets(&counts, sets);
                let pairs: Vec<(usize, u32)> = sets.iter().copied().enumerate().collect();
                let more = self.more_sets(whole, round, &pairs);
                let quota = |(set, cap): (&u32, &u32)| set.saturating_mul(more).min(*cap);
                vec![sets.iter().zip(&self.caps).map(quota).collect()]
            }
            Aim::Value(_) => {
                // One outline alone, then with a part of the sheet for those that come after it.
                let Some(&first) = order.first() else { return Vec::new() };
                let most = self.caps.get(first).copied().unwrap_or(0);
                let parts = [1.0, 0.75, 0.5, 0.25];
                let quota = |part: f64| {
                    let mut quotas = self.caps.clone();
                    if let Some(quota) = quotas.get_mut(first) {
                        let few = (f64::from(most) * part).ceil();
                        *quota = exact::from_geometry(few).and_then(|few| few.to_u32()).unwrap_or(most);
                    }
                    quotas
                };
                parts.into_iter().map(quota).collect()
            }
        }
    }

    fn has_quantity(&self, which: usize) -> bool {
        self.wanted.get(which).copied().unwrap_or(false)
    }

    /// A number of sets above `known`: boldly at first, by halves of what the area allows; then by one.
    fn more_sets(&self, known: u32, round: u32, sets: &[(usize, u32)]) -> u32 {
        let area = |&(which, set): &(usize, u32)| {
            self.sheet.shapes.get(which).map_or(0.0, |shape| shape.area) * f64::from(set)
        };
        let one: f64 = sets.iter().map(area).sum();
        let [width, height] = self.sheet.size;
        let most = if one > 0.0 { (width * height / one).floor().min(f64::from(MOST_BLANKS)) } else { 0.0 };
        let spare = (most - f64::from(known)).max(0.0);
        let step = (spare * 0.75 / 2.0_f64.powi(i32::try_from(round.min(30)).unwrap_or(30))).ceil().max(1.0);
        exact::from_geometry(f64::from(known) + step).and_then(|sets| sets.to_u32()).unwrap_or(known)
    }

    /// Rows of each outline in turn, each in what the one before left of the sheet.
    fn in_parts(&self, order: &[usize], quotas: &[u32], patterns: &[Vec<Pattern>]) -> Lie<'a> {
        let mut lie = Lie::new(self.sheet);
        let mut room = Bounds { low: [0.0; 2], high: self.sheet.size };
        let mut first = true;
        for &which in order {
            let most = quotas.get(which).copied().unwrap_or(0);
            let mut region = self.sheet.region(which);
            if !first {
                let slack = self.sheet.shapes.get(which).map_or(0.0, |shape| shape.slack);
                let inner = [room.low[0] + slack, room.low[1] + slack];
                region.low = [region.low[0].max(inner[0]), region.low[1].max(inner[1])];
            }
            let mut found: Option<(f64, Vec<Spot>)> = None;
            for pattern in patterns.get(which).into_iter().flatten() {
                if most == 0 || region.width() <= 0.0 || region.height() <= 0.0 {
                    continue;
                }
                let spots = self.spots(pattern, which, &region, most);
                let (count, left) = (f64::from(u32::try_from(spots.len()).unwrap_or(0)), self.left_of(&room, &spots));
                let worth = count + 0.9 * left.width() * left.height() / (room.width() * room.height());
                if found.as_ref().is_none_or(|(best, _)| worth > *best) {
                    found = Some((worth, spots));
                }
            }
            let Some((_, spots)) = found else { continue };
            for &spot in &spots {
                lie.put(spot);
            }
            room = self.left_of(&room, &spots);
            first = false;
        }
        lie
    }

    /// The larger of what is free to the right of blanks and above them.
    fn left_of(&self, room: &Bounds, spots: &[Spot]) -> Bounds {
        let mut high: Point = room.low;
        for spot in spots {
            let Some(shape) = self.sheet.shapes.get(spot.which) else { continue };
            let around = Bounds::of(&super::plane::turned(&shape.ring, spot.turn)).moved(spot.at);
            let reach = shape.slack + self.sheet.kerf;
            high = [high[0].max(around.high[0] + reach), high[1].max(around.high[1] + reach)];
        }
        let right = Bounds { low: [high[0].min(room.high[0]), room.low[1]], high: room.high };
        let above = Bounds { low: [room.low[0], high[1].min(room.high[1])], high: room.high };
        if right.width() * right.height() >= above.width() * above.height() { right } else { above }
    }

    /// What is still to be laid, outline by outline.
    fn queue(order: &[usize], quotas: &[u32], lie: &Lie<'_>) -> Vec<usize> {
        let counts = lie.counts();
        let mut queue = Vec::new();
        for &which in order {
            let (quota, count) = (quotas.get(which).unwrap_or(&0), counts.get(which).unwrap_or(&0));
            let missing = usize::try_from(quota.saturating_sub(*count)).unwrap_or(0);
            queue.extend(std::iter::repeat_n(which, missing));
        }
        queue
    }

    fn is_complete(&self, lie: &Lie<'_>) -> bool {
        matches!(self.aim, Aim::Quantities)
            && lie.counts().iter().zip(&self.caps).all(|(count, cap)| count >= cap)
            && self.wanted.iter().all(|wanted| *wanted)
    }

    /// Keeps a layout that is better than the best.
    fn keep(&self, best: &mut Best<'a>, lie: Lie<'a>, work: &mut Work<'_>) {
        let rank = self.rank(&lie);
        let order = rank.iter().zip(&best.rank).map(|(a, b)| a.total_cmp(b)).find(|order| order.is_ne());
        if best.rank.is_empty() || order.is_some_and(|order| order.is_gt()) {
            work.found(lie.len());
            *best = Best { lie, rank };
        }
    }

    /// Figures of a layout, the first the weightiest.
    fn rank(&self, lie: &Lie<'_>) -> Vec<f64> {
        let counts = lie.counts();
        let total = |of: &dyn Fn(usize) -> bool| -> f64 {
            let rated = counts.iter().zip(&self.values).enumerate().filter(|(which, _)| of(*which));
            rated.map(|(_, (count, value))| f64::from(*count) * value).sum()
        };
        let mut rank = match self.aim {
            Aim::Quantities => {
                let free = counts.iter().enumerate().filter(|(which, _)| !self.has_quantity(*which));
                let sets = free.map(|(_, count)| *count).min().unwrap_or(0);
                vec![
                    total(&|which| self.has_quantity(which)),
                    f64::from(sets),
                    total(&|which| !self.has_quantity(which)),
                ]
            }
            Aim::Sets(sets) => vec![f64::from(whole_sets(&counts, sets)), -total(&|_| true)],
            Aim::Value(_) => vec![total(&|_| true)],
        };
        // Of equals the one that leaves more in one piece.
        let room = Bounds { low: [0.0; 2], high: self.sheet.size };
        let spots: Vec<Spot> = lie.spots().collect();
        let left = self.left_of(&room, &spots);
        rank.push(left.width() * left.height());
        rank
    }
}

/// The best so far.
struct Best<'a> {
    lie: Lie<'a>,
    rank: Vec<f64>,
}

/// How many whole sets there are.
fn whole_sets(counts: &[u32], sets: &[u32]) -> u32 {
    counts.iter().zip(sets).filter_map(|(count, set)| count.checked_div(*set)).min().unwrap_or(0)
}
