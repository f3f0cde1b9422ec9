//! The stop `kiln-max` (costing method, section 9): a firing hotter than the kiln chosen for it can hold.

use super::heat::{HeatModel, HeatProblem, Hottest, HottestBy};
use crate::costing::{Caution, CautionCode, Level};
use crate::measure::Decimal;
use crate::measure::exact::{answer, round};
use crate::studio::{HeatSource, Kiln};

/// A firing that is too hot for a kiln.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TooHot {
    /// The kiln's name.
    pub kiln: String,
    /// °C asked for.
    pub asked: Decimal,
    /// What it can hold.
    pub hottest: Hottest,
}

/// Whether a firing at `celsius` is above what a kiln can hold; none where it is not. At the number itself it may be
/// fired. A torch has no ceiling of its own.
///
/// # Errors
/// [`HeatProblem`] where the kiln's figures give no model.
pub fn too_hot(kiln: &Kiln, celsius: Decimal) -> Result<Option<TooHot>, HeatProblem> {
    let hottest = match &kiln.heat {
        HeatSource::Torch => return Ok(None),
        HeatSource::Electric(electric) => HeatModel::of(electric)?.hottest()?,
    };
    Ok((celsius > hottest.celsius).then(|| TooHot { kiln: kiln.name.clone(), asked: celsius, hottest }))
}

impl TooHot {
    /// The stop, at a step of a route counted from 1.
    pub fn caution(&self, step: usize) -> Caution {
        let why = match self.hottest.set_by {
            HottestBy::Model => "by its measured power and losses",
            HottestBy::RatedMaximum => "by its maker's rating",
        };
        let text = format!(
            "{} °C is above the {} °C that {} can hold {why}: fire it in a hotter kiln, or lower the firing.",
            answer(self.asked),
            answer(round(self.hottest.celsius, 0)),
            self.kiln
        );
        Caution { code: CautionCode::KilnMax, level: Level::Stop, step, text }
    }
}
