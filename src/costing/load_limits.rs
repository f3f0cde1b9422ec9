//! What a kiln can hold and take, for the checks of a load; how full its shelf is.

use super::load_check::{KilnLimits, LoadCheck};
use crate::kiln::heat::HeatModel;
use crate::measure::exact;
use crate::studio::{HeatSource, Kiln};
use rust_decimal::prelude::ToPrimitive;

impl KilnLimits {
    /// Of a kiln or torch. Where a kiln's figures give no heat model, its maker's rated maximum is what it can hold.
    pub fn of(kiln: &Kiln) -> Self {
        let (hottest, shelf_cm2) = match &kiln.heat {
            HeatSource::Torch => (None, None),
            HeatSource::Electric(electric) => {
                let model = HeatModel::of(electric).ok().and_then(|model| model.hottest().ok());
                let hottest = model.map_or(electric.rated_max_celsius, |hottest| hottest.celsius);
                (Some(exact::round(hottest, 0)), Some(electric.shelf_cm2))
            }
        };
        Self { name: kiln.name.clone(), hottest, shelf_cm2 }
    }
}

impl LoadCheck {
    /// How much of the shelf is used, in thousandths; above 1000 it is too full. 0 for a torch.
    pub fn used_thousandths(&self) -> u16 {
        let Some(shelf) = self.shelf_cm2 else { return 0 };
        let share = exact::div(self.area_cm2, shelf).and_then(|share| exact::mul(share, 1000.into()));
        share.ok().and_then(|share| share.ceil().to_u16()).unwrap_or(u16::MAX)
    }

    /// More is on the shelf than it holds.
    pub fn is_too_full(&self) -> bool {
        self.shelf_cm2.is_some_and(|shelf| self.area_cm2 > shelf)
    }
}
