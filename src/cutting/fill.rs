//! Blanks of any outline laid one after another where they fit, towards the left and then down. The collision engine
//! jagua-rs says where nothing is met (single precision, rings blown up by half the gap); each place is measured again
//! at full precision before a blank is put there.

use super::CutError;
use super::chance::Chance;
use super::lie::{Lie, Sheet, Spot};
use super::plane::{Bounds, Point, ROUNDING_MM, turned};
use super::work::Work;
use jagua_rs::collision_detection::hazards::filter::NoFilter;
use jagua_rs::collision_detection::hazards::{Hazard, HazardEntity};
use jagua_rs::collision_detection::{CDEConfig, CDEngine};
use jagua_rs::geometry::fail_fast::SPSurrogateConfig;
use jagua_rs::geometry::geo_enums::GeoPosition;
use jagua_rs::geometry::geo_traits::{Transformable, TransformableFrom};
use jagua_rs::geometry::primitives::{Point as EnginePoint, Rect, SPolygon};
use jagua_rs::geometry::shape_modification::{ShapeModifyMode, offset_shape};
use jagua_rs::geometry::{DTransformation, Transformation};
use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

/// Added to half the gap: the engine's curves and its single precision, mm.
const ENGINE_MM: f64 = 0.002;

/// Places that are slid as far as they go, of those found open.
const SETTLED: usize = 12;

/// What stands in the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Obstacle {
    /// All that is not sheet.
    Outside,
    /// A blank, by its place in the list.
    Blank(usize),
}

impl HazardEntity for Obstacle {
    fn scope(&self) -> GeoPosition {
        match self {
            Self::Outside => GeoPosition::Exterior,
            Self::Blank(_) => GeoPosition::Interior,
        }
    }

    fn is_dynamic(&self) -> bool {
        matches!(self, Self::Blank(_))
    }
}

/// The outlines as the engine takes them.
pub(super) struct Tools {
    rings: Vec<Option<SPolygon>>,
    outside: Option<SPolygon>,
}

#[allow(clippy::cast_possible_truncation)] // the engine reckons in single precision
fn single(value: f64) -> f32 {
    value as f32
}

fn engine_ring(ring: &[Point]) -> Option<SPolygon> {
    SPolygon::new(ring.iter().map(|&[x, y]| EnginePoint(single(x), single(y))).collect()).ok()
}

impl Tools {
    /// Blows the rings up by half the kerf and their slack.
    pub(super) fn new(sheet: &Sheet) -> Self {
        let blown_up = |which: usize| {
            let shape = sheet.shapes.get(which)?;
            let ring = engine_ring(&shape.ring)?;
            let by = single(sheet.kerf / 2.0 + shape.slack + ENGINE_MM);
            offset_shape(&ring, ShapeModifyMode::Inflate, by).ok()
        };
        let reach = sheet.kerf / 2.0 + ENGINE_MM;
        let (low, [width, height]) = (sheet.margin - reach, sheet.size);
        let high = [width - low, height - low];
        let outside = Rect::try_new(single(low), single(low), single(high[0]), single(high[1])).ok();
        Self { rings: (0..sheet.shapes.len()).map(blown_up).collect(), outside: outside.map(SPolygon::from) }
    }
}

fn placed(turn: f64, at: Point) -> Transformation {
    DTransformation::new(single(turn), (single(at[0]), single(at[1]))).compose()
}

/// A sheet that is being filled.
pub(super) struct Filling<'a, 'b> {
    lie: &'b mut Lie<'a>,
    tools: &'b Tools,
    engine: CDEngine<Obstacle>,
}

/// How closely one blank is looked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Care {
    /// Turns tried of an outline that turns freely.
    pub(super) turns: u32,
    /// Places tried with each turn.
    pub(super) places: u32,
}

impl Care {
    /// What one blank costs of the work budget.
    const fn tries(self) -> u32 {
        // Sliding meets about as many questions to the engine as 700 places.
        (self.turns * self.places + 700) / 64
    }
}

impl<'a, 'b> Filling<'a, 'b> {
    /// Goes on with the blanks that lie there; `None` where the engine takes no such sheet.
    pub(super) fn new(lie: &'b mut Lie<'a>, tools: &'b Tools) -> Option<Self> {
        let outside = tools.outside.clone()?;
        let config =
            CDEConfig { quadtree_depth: 5, cd_threshold: 64, item_surrogate_config: SPSurrogateConfig::none() };
        let (around, edge) = (outside.bbox(), 1.0);
        let bounds =
            Rect::try_new(around.x_min - edge, around.y_min - edge, around.x_max + edge, around.y_max + edge).ok()?;
        let engine =
            CDEngine::new(bounds.inflate_to_square(), vec![Hazard::new(Obstacle::Outside, Arc::new(outside))], config);
        let mut filling = Self { lie, tools, engine };
        let spots: Vec<Spot> = filling.lie.spots().collect();
        for (number, spot) in spots.into_iter().enumerate() {
            filling.register(number, spot);
        }
        Some(filling)
    }

    fn register(&mut self, number: usize, spot: Spot) {
        if let Some(Some(ring)) = self.tools.rings.get(spot.which) {
            let ring = ring.transform_clone(&placed(spot.turn, spot.at));
            self.engine.register_hazard(Hazard::new(Obstacle::Blank(number), Arc::new(ring)));
        }
    }

    /// Puts one more blank of an outline down, as far to the left as it is found to fit; false where it is not.
    pub(super) fn add(&mut self, which: usize, care: Care, chance: &mut Chance) -> bool {
        let Some(shape) = self.lie.sheet().shapes.get(which) else { return false };
        let Some(Some(base)) = self.tools.rings.get(which) else { return false };
        let mut probe = base.clone();
        let mut found: Vec<(f64, Spot)> = Vec::new();
        let mut open = Vec::new();
        let lead = chance.share();
        for turn in shape.turns_to_try(care.turns) {
            let Some(inner) = inner(&self.lie.sheet().region(which), &turned(&shape.ring, turn)) else { continue };
            // Corners between bounds suit blanks that lie square to the sheet.
            if is_square(turn) {
                for at in self.corners(which, &Bounds::of(&turned(&shape.ring, turn)), &inner) {
                    found.push((merit(at, &inner), Spot { which, turn, at }));
                }
            }
            for number in 0..care.places {
                let at = [
                    inner.low[0] + inner.width() * halton(number + 1, 2, lead),
                    inner.low[1] + inner.height() * halton(number + 1, 3, lead),
                ];
                probe.transform_from(base, &placed(turn, at));
                if !self.engine.detect_poly_collision(&probe, &NoFilter) {
                    open.push((merit(at, &inner), turn, at, inner));
                }
            }
        }
        open.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (_, turn, at, inner) in open.into_iter().take(SETTLED) {
            let at = self.settled(base, &mut probe, turn, at, &inner);
            found.push((merit(at, &inner), Spot { which, turn, at }));
        }
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (_, spot) in found {
            if self.lie.put(spot) {
                self.register(self.lie.len() - 1, spot);
                return true;
            }
        }
        false
    }

    /// Places in the corners between the bounds of blanks and the edges.
    fn corners(&self, which: usize, bounds: &Bounds, inner: &Bounds) -> Vec<Point> {
        let mut across = vec![inner.low[0]];
        let mut upwards = vec![inner.low[1]];
        for (spot, _, other) in self.lie.blanks() {
            let gap = self.lie.sheet().gap(which, spot.which);
            across.push(other.high[0] + gap - bounds.low[0]);
            upwards.push(other.high[1] + gap - bounds.low[1]);
        }
        for values in [&mut across, &mut upwards] {
            values.sort_by(f64::total_cmp);
            values.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
            values.truncate(24);
        }
        let mut corners = Vec::new();
        for &x in &across {
            for &y in &upwards {
                if x <= inner.high[0] + 1e-9 && y <= inner.high[1] + 1e-9 && self.is_open(which, [x, y], bounds) {
                    corners.push([x, y]);
                }
            }
        }
        corners
    }

    /// True where a blank with these bounds meets no other's bounds.
    fn is_open(&self, which: usize, at: Point, bounds: &Bounds) -> bool {
        let around = bounds.moved(at).grown(-ROUNDING_MM);
        self.lie.blanks().iter().all(|(spot, _, other)| {
            let gap = self.lie.sheet().gap(which, spot.which);
            !around.grown(gap).meets(other)
        })
    }

    /// Slid to the left and down as far as nothing is met.
    fn settled(&self, base: &SPolygon, probe: &mut SPolygon, turn: f64, from: Point, inner: &Bounds) -> Point {
        let mut at = from;
        let mut reach = inner.width().max(inner.height()) / 4.0;
        while reach > 0.005 {
            let mut moved = false;
            for way in [[-1.0, 0.0], [0.0, -1.0], [-1.0, 0.6]] {
                let next = [
                    (at[0] + reach * way[0]).max(inner.low[0]),
                    (at[1] + reach * way[1]).clamp(inner.low[1], inner.high[1]),
                ];
                if merit(next, inner) < merit(at, inner) - 1e-9 {
                    probe.transform_from(base, &placed(turn, next));
                    if !self.engine.detect_poly_collision(probe, &NoFilter) {
                        at = next;
                        moved = true;
                    }
                }
            }
            if !moved {
                reach /= 2.0;
            }
        }
        at
    }
}

/// True for whole quarter turns.
fn is_square(turn: f64) -> bool {
    let quarters = turn / FRAC_PI_2;
    (quarters - quarters.round()).abs() < 1e-9
}

/// Less is better: far to the left, then low.
fn merit(at: Point, inner: &Bounds) -> f64 {
    (at[0] - inner.low[0]) + 0.25 * (at[1] - inner.low[1])
}

/// Where the middle of a turned ring may lie.
fn inner(region: &Bounds, ring: &[Point]) -> Option<Bounds> {
    let bounds = Bounds::of(ring);
    let inner = Bounds {
        low: [region.low[0] - bounds.low[0], region.low[1] - bounds.low[1]],
        high: [region.high[0] - bounds.high[0], region.high[1] - bounds.high[1]],
    };
    (inner.width() > -1e-9 && inner.height() > -1e-9).then_some(inner)
}

/// A sequence that covers 0 to 1 evenly (Halton 1960), begun at `lead`.
fn halton(number: u32, base: u32, lead: f64) -> f64 {
    let (mut share, mut at, mut left) = (1.0, 0.0, number);
    while left > 0 {
        share /= f64::from(base);
        at += share * f64::from(left % base);
        left /= base;
    }
    (at + lead).fract()
}

/// Lays the outlines of a queue one after another; of an outline that was once found not to fit no more is tried.
///
/// # Errors
/// [`CutError::Cancelled`].
pub(super) fn fill(
    lie: &mut Lie<'_>,
    tools: &Tools,
    queue: &[usize],
    care: Care,
    chance: &mut Chance,
    work: &mut Work<'_>,
) -> Result<(), CutError> {
    let Some(mut filling) = Filling::new(lie, tools) else { return Ok(()) };
    let mut full: Vec<usize> = Vec::new();
    for &which in queue {
        if full.contains(&which) {
            continue;
        }
        if !filling.add(which, care, chance) {
            full.push(which);
        }
        if !work.spend(care.tries())? {
            break;
        }
    }
    Ok(())
}
