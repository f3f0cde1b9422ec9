//! What a kiln can hold and take, for the checks of a load; how full its shelf is, and how worn its parts are.

use super::load_check::{KilnLimits, LoadCheck};
use crate::kiln::hours::PartHours;
use crate::kiln::limits::limits;
use crate::measure::exact;
use crate::studio::{HeatSource, Kiln};
use rust_decimal::prelude::ToPrimitive;

/// What a kiln can hold and take. Where its figures give no heat model, its maker's rated maximum is what it can hold.
pub fn limits_or_rated(kiln: &Kiln) -> KilnLimits {
    let rated = || match &kiln.heat {
        HeatSource::Torch => KilnLimits { name: kiln.name.clone(), hottest: None, shelf_cm2: None },
        HeatSource::Electric(electric) => KilnLimits {
            name: kiln.name.clone(),
            hottest: Some(electric.rated_max_celsius),
            shelf_cm2: Some(electric.shelf_cm2),
        },
    };
    limits(kiln).unwrap_or_else(|_| rated())
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

impl PartHours {
    /// How much of its hours is used up, in thousandths; above 1000 it is overdue.
    pub fn used_thousandths(&self) -> u16 {
        let share = exact::div(self.used, self.lasts).and_then(|share| exact::mul(share, 1000.into()));
        share.ok().and_then(|share| share.to_u16()).unwrap_or(u16::MAX)
    }
}
