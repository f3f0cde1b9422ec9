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

#[cfg(test)]
mod tests {
    use super::super::samples::{decimal, electric, kiln};
    use super::*;

    #[test]
    fn the_lower_of_model_and_rating_is_the_ceiling() {
        // The row G-KILN-1 comes close to 1,970 °C: its maker's 1,000 °C is the lower.
        assert_eq!(too_hot(&kiln(), Decimal::from(1000)), Ok(None));
        let found = too_hot(&kiln(), decimal("1000.5")).unwrap().unwrap();
        let rated = Hottest { celsius: Decimal::from(1000), set_by: HottestBy::RatedMaximum };
        assert_eq!(found.hottest, rated);
        let caution = found.caution(3);
        assert_eq!((caution.code, caution.level, caution.step), (CautionCode::KilnMax, Level::Stop, 3));
        assert!(caution.text.starts_with("1000.5 °C is above the 1000 °C that the small kiln can hold by its maker's"));
    }

    #[test]
    fn a_weak_kiln_is_held_by_its_losses() {
        // T_a + (T_w − T_a) / d = 20 + 780 / 0.8.
        let weak = crate::studio::ElectricKiln { duty: decimal("0.8"), ..electric() };
        let heat = HeatSource::Electric(Box::new(weak));
        let found = too_hot(&Kiln { heat, ..kiln() }, Decimal::from(996)).unwrap().unwrap();
        assert_eq!(found.hottest, Hottest { celsius: Decimal::from(995), set_by: HottestBy::Model });
    }

    #[test]
    fn a_torch_has_no_ceiling() {
        assert_eq!(too_hot(&Kiln { heat: HeatSource::Torch, ..kiln() }, Decimal::from(2000)), Ok(None));
    }
}
