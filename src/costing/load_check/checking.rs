//! The ceiling of a load, what all its pieces accept, and its cautions.

use super::{Accepted, Ceiling, CeilingReason, LoadCaution, LoadCheck, LoadPiece};
use crate::costing::cautions::{CautionCode, Level, MELT_MARGIN_CELSIUS, at_firing};
use crate::costing::geometry;
use crate::costing::piece::CostError;
use crate::measure::{Decimal, exact};
use crate::studio::{Design, Firing, PieceId, Step, StepKind, StudioRates};
use std::cmp::Reverse;

/// What a kiln or torch can take.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KilnLimits {
    /// Her name for it.
    pub name: String,
    /// The hottest it can hold, °C; none for a torch.
    pub hottest: Option<Decimal>,
    /// Usable shelf area, cm²; none for a torch, which takes one piece.
    pub shelf_cm2: Option<Decimal>,
}

/// What a piece takes of a shelf, cm²: the rectangle around its flat outline × its blanks, 6 places.
///
/// # Errors
/// [`CostError::Geometry`] where the outline is not one; [`CostError::TooLarge`] where the area does not fit.
pub fn shelf_area(plan: &Design) -> Result<Decimal, CostError> {
    let around = geometry::around_cm2(&plan.blank.outline)?;
    Ok(exact::mul(around, Decimal::from(plan.blank.count))?.normalize())
}

/// Checks a load before its door closes: `set` °C for `minutes`. Pieces without a firing at their step take only their
/// place on the shelf.
///
/// # Errors
/// Those of [`shelf_area`].
pub fn check(
    pieces: &[LoadPiece<'_>],
    kiln: &KilnLimits,
    set: Decimal,
    minutes: Decimal,
    rates: &StudioRates,
) -> Result<LoadCheck, CostError> {
    let mut area = Decimal::ZERO;
    let mut off_plan = Vec::new();
    for piece in pieces {
        area = exact::add(area, shelf_area(piece.plan)?)?;
        let Some(firing) = piece.firing() else { continue };
        if !around(firing.celsius, rates.heat_tolerance_c).holds(set)
            || !around(firing.minutes, rates.minutes_tolerance).holds(minutes)
        {
            off_plan.push(piece.piece);
        }
    }
    Ok(LoadCheck {
        ceiling: strictest(pieces, kiln),
        celsius: common(pieces.iter().filter_map(|piece| celsius_accepted(piece, kiln, rates))),
        minutes: common(pieces.iter().filter_map(|piece| minutes_accepted(piece, rates))),
        off_plan,
        area_cm2: area.normalize(),
        shelf_cm2: kiln.shelf_cm2,
        cautions: cautions(pieces, kiln, set),
    })
}

impl Accepted {
    /// Whether a value is accepted.
    pub fn holds(self, value: Decimal) -> bool {
        self.from <= value && value <= self.to
    }

    /// The accepted value that is nearest to one.
    pub(super) fn nearest(self, value: Decimal) -> Decimal {
        value.max(self.from).min(self.to)
    }

    /// What both accept; none where they do not meet.
    pub(super) fn and(self, other: Self) -> Option<Self> {
        let both = Self { from: self.from.max(other.from), to: self.to.min(other.to) };
        (both.from <= both.to).then_some(both)
    }
}

/// A value less and more the tolerance.
fn around(value: Decimal, tolerance: Decimal) -> Accepted {
    Accepted { from: exact::sub(value, tolerance).unwrap_or(value), to: exact::add(value, tolerance).unwrap_or(value) }
}

/// What all accept; none where there are none or they do not meet.
pub(super) fn common(mut ranges: impl Iterator<Item = Option<Accepted>>) -> Option<Accepted> {
    let first = ranges.next()??;
    ranges.try_fold(first, |all, range| all.and(range?))
}

/// What the temperature of a piece's next firing may be: planned less and more the tolerance, cut at its ceilings and
/// the kiln's. The inner none says that nothing is left; the outer that it is no firing.
#[allow(clippy::option_option)] // no firing, and a firing nothing suits, are not the same
pub(super) fn celsius_accepted(
    piece: &LoadPiece<'_>,
    kiln: &KilnLimits,
    rates: &StudioRates,
) -> Option<Option<Accepted>> {
    let firing = piece.firing()?;
    let mut range = around(firing.celsius, rates.heat_tolerance_c);
    for ceiling in ceilings(piece).into_iter().chain(kiln_ceiling(kiln)) {
        range.to = range.to.min(ceiling.highest());
    }
    Some((range.from <= range.to).then_some(range))
}

/// What the minutes of a piece's next firing may be: planned less and more the tolerance, never less than half of the
/// plan.
#[allow(clippy::option_option)] // as above
pub(super) fn minutes_accepted(piece: &LoadPiece<'_>, rates: &StudioRates) -> Option<Option<Accepted>> {
    let firing = piece.firing()?;
    let mut range = around(firing.minutes, rates.minutes_tolerance);
    let half = exact::div(firing.minutes, Decimal::TWO).unwrap_or(firing.minutes);
    range.from = range.from.max(half);
    Some((range.from <= range.to).then_some(range))
}

/// What a firing of a piece may be in a kiln.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FiringAccepted {
    /// The planned temperature less and more the tolerance, °C.
    pub planned: Accepted,
    /// The highest temperature that is safe for the piece and the kiln, °C: see [`Ceiling::highest`].
    pub ceiling: Decimal,
    /// Minutes.
    pub minutes: Accepted,
}

/// What the firing of a piece at its step may be; none where it is no firing, or where no minutes are left. A kiln without
/// a ceiling of its own sets none.
pub fn firing_accepted(piece: &LoadPiece<'_>, kiln: &KilnLimits, rates: &StudioRates) -> Option<FiringAccepted> {
    let planned = around(piece.firing()?.celsius, rates.heat_tolerance_c);
    let ceilings = ceilings(piece).into_iter().chain(kiln_ceiling(kiln));
    let ceiling = ceilings.map(|ceiling| ceiling.highest()).min()?;
    Some(FiringAccepted { planned, ceiling, minutes: minutes_accepted(piece, rates)?? })
}

/// The ceilings of a piece.
pub(super) fn ceilings(piece: &LoadPiece<'_>) -> Vec<Ceiling> {
    let mut found = Vec::new();
    let (words, blank) = (&piece.words, &piece.plan.blank);
    if let Some(flow) = blank.solder_flow_c {
        let margin = piece.plan.kiln.solder_margin_c;
        let celsius = exact::sub(flow, margin).unwrap_or(flow).normalize();
        found.push(Ceiling {
            celsius,
            below: margin.is_zero(),
            reason: CeilingReason::Solder,
            piece: Some(piece.piece),
            text: format!(
                "{words}: its weakest solder joint flows at {} °C; less the margin of {} °C it is {celsius} °C",
                flow.normalize(),
                margin.normalize()
            ),
        });
    }
    let solidus = blank.metal.solidus_celsius();
    let celsius = exact::sub(solidus, Decimal::from(MELT_MARGIN_CELSIUS)).unwrap_or(solidus);
    found.push(Ceiling {
        celsius,
        below: true,
        reason: CeilingReason::Metal,
        piece: Some(piece.piece),
        text: format!("{words}: {} begins to melt at {solidus} °C; it stays below {celsius} °C", blank.metal.words()),
    });
    found
}

fn kiln_ceiling(kiln: &KilnLimits) -> Option<Ceiling> {
    let celsius = kiln.hottest?.normalize();
    let text = format!("{} can hold {celsius} °C at most", kiln.name);
    Some(Ceiling { celsius, below: false, reason: CeilingReason::Kiln, piece: None, text })
}

/// The lowest ceiling; of equal ones the first piece's, the kiln's last.
fn strictest(pieces: &[LoadPiece<'_>], kiln: &KilnLimits) -> Option<Ceiling> {
    pieces.iter().flat_map(ceilings).chain(kiln_ceiling(kiln)).min_by_key(Ceiling::highest)
}

/// Pieces of one plan that went the same way.
struct Alike<'a> {
    first: &'a LoadPiece<'a>,
    pieces: Vec<PieceId>,
}

fn alike<'a>(pieces: &'a [LoadPiece<'a>]) -> Vec<Alike<'a>> {
    let mut groups: Vec<Alike<'a>> = Vec::new();
    for piece in pieces {
        let same = |group: &&mut Alike<'_>| {
            let first = group.first;
            first.batch == piece.batch && first.step == piece.step && first.done == piece.done
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.pieces.push(piece.piece),
            None => groups.push(Alike { first: piece, pieces: vec![piece.piece] }),
        }
    }
    groups
}

fn cautions(pieces: &[LoadPiece<'_>], kiln: &KilnLimits, set: Decimal) -> Vec<LoadCaution> {
    let mut found = Vec::new();
    if let Some(hottest) = kiln.hottest.filter(|hottest| set > *hottest) {
        found.push(LoadCaution {
            piece: None,
            pieces: pieces.iter().map(|piece| piece.piece).collect(),
            code: CautionCode::KilnMax,
            level: Level::Stop,
            text: format!(
                "set to {} °C, and {} can hold {} °C at most",
                set.normalize(),
                kiln.name,
                hottest.normalize()
            ),
        });
    }
    for group in alike(pieces) {
        let first = group.first;
        let (Some(step), Some(firing)) = (first.plan.steps.get(first.step), first.firing()) else { continue };
        let set_step = Step { kind: StepKind::Fire(Firing { celsius: set, ..firing.clone() }), ..step.clone() };
        let done = first.done.iter().filter_map(|step| first.plan.steps.get(*step));
        let who = match group.pieces.len() {
            0 | 1 => first.words.clone(),
            many => format!("{} and {} more", first.words, many - 1),
        };
        for caution in at_firing(first.plan, done, &set_step) {
            found.push(LoadCaution {
                piece: Some(first.piece),
                pieces: group.pieces.clone(),
                code: caution.code,
                level: caution.level,
                text: format!("{who}: {}", caution.text),
            });
        }
    }
    found.sort_by_key(|caution| (Reverse(caution.level), caution.code));
    found
}

#[cfg(test)]
mod tests;
