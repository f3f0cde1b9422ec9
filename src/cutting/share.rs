//! What the sheet cost, split over what was cut from it.

use super::CutError;
use crate::costing::share::split;
use crate::measure::money::MONEY_PLACES;
use crate::measure::{Decimal, Money, exact};

/// Who bears the scrap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Scrap {
    /// Its metal keeps its part of the cost: it is sold or melted again.
    KeepsItsPart,
    /// It is worth nothing: blanks and off-cuts bear the whole sheet.
    #[default]
    WorthNothing,
}

/// The parts of a sheet, mm². Whatever is in none of them is scrap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Areas {
    /// The whole sheet.
    pub sheet: Decimal,
    /// All blanks of each outline.
    pub blanks: Vec<Decimal>,
    /// Each off-cut.
    pub off_cuts: Vec<Decimal>,
    /// The rest.
    pub scrap: Decimal,
}

/// The parts of a cost; they add up to it exactly.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Costs {
    /// All blanks of each outline, their bench time included.
    pub blanks: Vec<Money>,
    /// Each off-cut.
    pub off_cuts: Vec<Money>,
    /// Scrap.
    pub scrap: Money,
}

impl Areas {
    /// From the parts that are kept, mm², each 0 or more; scrap is what is left of the sheet.
    ///
    /// # Errors
    /// [`CutError::Field`] where more is kept than the sheet has, [`CutError::TooLarge`].
    pub fn new(sheet: Decimal, blanks: Vec<Decimal>, off_cuts: Vec<Decimal>) -> Result<Self, CutError> {
        let kept = exact::sum(blanks.iter().chain(&off_cuts).copied())?;
        let scrap = exact::sub(sheet, kept)?;
        if scrap < Decimal::ZERO {
            return Err(CutError::Field {
                field: "area of blanks and off-cuts",
                value: format!("{} mm²", kept.normalize()),
                accepted: format!("the area of the sheet, {} mm², or less", sheet.normalize()),
            });
        }
        Ok(Self { sheet, blanks, off_cuts, scrap })
    }

    /// All blanks together, mm².
    ///
    /// # Errors
    /// [`CutError::TooLarge`].
    pub fn all_blanks(&self) -> Result<Decimal, CutError> {
        Ok(exact::sum(self.blanks.iter().copied())?)
    }
}

/// Splits what a sheet cost over its parts by area and what the bench time cost over the blanks by area, in millionths
/// by largest remainder. Where there are no blanks, bench time goes with the scrap; where nothing but scrap is left,
/// scrap bears everything.
///
/// # Errors
/// [`CutError::TooLarge`].
pub fn share(areas: &Areas, sheet_cost: Money, bench: Option<Money>, scrap: Scrap) -> Result<Costs, CutError> {
    let any_blanks = areas.all_blanks()? > Decimal::ZERO;
    let any_kept = any_blanks || areas.off_cuts.iter().any(|area| *area > Decimal::ZERO);
    let scrap_weight = if scrap == Scrap::KeepsItsPart || !any_kept { areas.scrap } else { Decimal::ZERO };
    let mut weights = areas.blanks.clone();
    weights.extend(&areas.off_cuts);
    // The last line is scrap; nothing at all to weigh goes there too.
    let nothing = scrap_weight.is_zero() && !any_kept;
    weights.push(if nothing { Decimal::ONE } else { scrap_weight });
    let mut parts = split(sheet_cost.amount(), &weights, MONEY_PLACES)?.into_iter().map(Money::rounded);
    let mut blanks: Vec<Money> = parts.by_ref().take(areas.blanks.len()).collect();
    let off_cuts: Vec<Money> = parts.by_ref().take(areas.off_cuts.len()).collect();
    let mut scrap = parts.next().unwrap_or_default();
    if let Some(bench) = bench {
        if any_blanks {
            for (part, bench) in blanks.iter_mut().zip(split(bench.amount(), &areas.blanks, MONEY_PLACES)?) {
                *part = part.plus(Money::rounded(bench))?;
            }
        } else {
            scrap = scrap.plus(bench)?;
        }
    }
    Ok(Costs { blanks, off_cuts, scrap })
}
