//! What a kiln can take, for the checks of a load.

use super::heat::{HeatModel, HeatProblem};
use crate::costing::load_check::KilnLimits;
use crate::studio::{HeatSource, Kiln};

/// The hottest a kiln can hold and its shelf; a torch has neither.
///
/// # Errors
/// [`HeatProblem`] where the kiln's figures give no model.
pub fn limits(kiln: &Kiln) -> Result<KilnLimits, HeatProblem> {
    let name = kiln.name.clone();
    Ok(match &kiln.heat {
        HeatSource::Torch => KilnLimits { name, hottest: None, shelf_cm2: None },
        HeatSource::Electric(electric) => KilnLimits {
            name,
            hottest: Some(HeatModel::of(electric)?.hottest()?.celsius),
            shelf_cm2: Some(electric.shelf_cm2),
        },
    })
}
