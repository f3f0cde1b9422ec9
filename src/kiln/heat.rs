//! The heat of one kiln: a lump of thermal capacity that loses heat in proportion to its rise over the room (kiln and
//! batch method, section 1; any heat-transfer textbook, such as Incropera & DeWitt, chapter 5). Binary floats inside,
//! for logarithms and powers; decimals of 6 places at the boundary.
#![allow(clippy::float_arithmetic)]

use crate::measure::exact::{add, div, mul, round, sub, sum};
use crate::measure::{Decimal, TooLarge, exact};
use crate::studio::{ElectricKiln, FittedHeat, Metal};
use rust_decimal::prelude::ToPrimitive;

/// Places of a figure of heat where it leaves this module.
pub const HEAT_PLACES: u32 = 6;

/// Joules in a kWh (SI brochure, 9th edition: 1 W·h = 3,600 J).
const JOULES_PER_KWH: i64 = 3_600_000;

/// Where a model's figures come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeatFrom {
    /// The three measurements.
    Measurements,
    /// The accepted fit to meter readings.
    Readings,
}

/// The heat model of one kiln. Made by [`HeatModel::of`], so that its figures are always in range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatModel {
    capacity: f64,
    loss: f64,
    rated_kw: f64,
    room: f64,
    rated_max: Decimal,
    room_celsius: Decimal,
    door_kwh: Decimal,
    from: HeatFrom,
}

/// Why a kiln has no heat model, or cannot do what is asked of it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum HeatProblem {
    /// A figure of the kiln is out of its range.
    #[error("{field} of {value}: accepted is {accepted}")]
    OutOfRange {
        /// What it is.
        field: &'static str,
        /// What it says.
        value: Decimal,
        /// What would be accepted.
        accepted: String,
    },
    /// Full power never reaches the temperature.
    #[error(
        "{asked} °C is not reached: by its figures this kiln comes close to {hottest} °C at full power, no further"
    )]
    NotReached {
        /// °C asked for.
        asked: Decimal,
        /// °C it comes close to, not held down by the rated maximum.
        hottest: Decimal,
    },
    /// It never cools that far.
    #[error("a kiln does not cool to {asked} °C in a room of {room} °C: accepted is a temperature above the room's")]
    NotCooled {
        /// °C asked for.
        asked: Decimal,
        /// The room, °C.
        room: Decimal,
    },
    /// A figure does not fit.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}

/// Which of two limits sets the hottest a kiln can hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HottestBy {
    /// Full power against its losses.
    Model,
    /// The maker's rated maximum.
    RatedMaximum,
}

/// The hottest a kiln can hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hottest {
    /// °C, 6 places.
    pub celsius: Decimal,
    /// What sets it.
    pub set_by: HottestBy,
}

/// What a piece brings into the kiln to be heated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PieceMass {
    /// Its metal.
    pub metal: Metal,
    /// Grams of it, 0 or more.
    pub metal_g: Decimal,
    /// Grams of enamel on it, 0 or more; 0 where it is not known, it is little beside the furniture.
    pub glass_g: Decimal,
}

/// Specific heat of a metal, J/(g·K), near room temperature (kiln and batch method, section 1: copper 0.385, silver
/// 0.235, steel 0.49). Sterling is taken as silver; brass and bronze as the copper they mostly are (0.38, handbooks,
/// from memory).
pub fn specific_heat(metal: Metal) -> Decimal {
    let thousandths = match metal {
        Metal::Copper | Metal::Brass | Metal::Bronze => 385,
        Metal::FineSilver | Metal::Sterling => 235,
        Metal::Steel => 490,
    };
    Decimal::new(thousandths, 3)
}

/// Specific heat of enamel, J/(g·K), as glass (kiln and batch method, section 1).
pub fn specific_heat_of_enamel() -> Decimal {
    Decimal::new(84, 2)
}

/// Heat a mass takes up, kWh: `m · c · ΔT` / 3.6 MJ, exact. `grams` in g, `specific_heat` in J/(g·K), `rise` in K.
///
/// # Errors
/// [`TooLarge`] where it does not fit.
pub fn heat_of_mass(grams: Decimal, specific_heat: Decimal, rise: Decimal) -> Result<Decimal, TooLarge> {
    div(mul(mul(grams, specific_heat)?, rise)?, Decimal::from(JOULES_PER_KWH))
}

impl HeatModel {
    /// The model of a kiln: from its accepted fit where it has one, otherwise from its three measurements.
    ///
    /// # Errors
    /// [`HeatProblem::OutOfRange`] names the figure that cannot be.
    pub fn of(kiln: &ElectricKiln) -> Result<Self, HeatProblem> {
        match &kiln.fitted {
            Some(fitted) => Self::fitted(kiln, fitted),
            None => Self::measured(kiln),
        }
    }

    /// From the three measurements, whatever was fitted: `k = d · P / (T_w − T_a)`, `C = k · w / (−ln(1 − d))`.
    ///
    /// # Errors
    /// [`HeatProblem::OutOfRange`] names the figure that cannot be.
    pub fn measured(kiln: &ElectricKiln) -> Result<Self, HeatProblem> {
        let rise = sub(kiln.working_celsius, kiln.room_celsius)?;
        if rise <= Decimal::ZERO {
            return Err(HeatProblem::OutOfRange {
                field: "a working temperature",
                value: kiln.working_celsius,
                accepted: format!("a temperature above the room's {} °C", kiln.room_celsius),
            });
        }
        if kiln.duty <= Decimal::ZERO || kiln.duty >= Decimal::ONE {
            return Err(out_of_range("a share of time the elements are on", kiln.duty, "above 0 and below 1"));
        }
        above_zero("minutes to warm up", kiln.warm_up_minutes)?;
        let (duty, hours) = (float(kiln.duty)?, float(kiln.warm_up_minutes)? / 60.0);
        let loss = duty * float(kiln.rated_kw)? / float(rise)?;
        let capacity = loss * hours / -(-duty).ln_1p();
        Self::with(kiln, capacity, loss, kiln.door_kwh, HeatFrom::Measurements)
    }

    /// From figures fitted to meter readings.
    ///
    /// # Errors
    /// [`HeatProblem::OutOfRange`] where the fit left a kiln without capacity or without losses, or names another
    /// figure that cannot be.
    pub fn fitted(kiln: &ElectricKiln, fitted: &FittedHeat) -> Result<Self, HeatProblem> {
        above_zero("a fitted thermal capacity, kWh/K,", fitted.capacity_kwh_per_k)?;
        above_zero("a fitted loss, kW/K,", fitted.loss_kw_per_k)?;
        let (capacity, loss) = (float(fitted.capacity_kwh_per_k)?, float(fitted.loss_kw_per_k)?);
        Self::with(kiln, capacity, loss, fitted.door_kwh, HeatFrom::Readings)
    }

    fn with(
        kiln: &ElectricKiln,
        capacity: f64,
        loss: f64,
        door_kwh: Decimal,
        from: HeatFrom,
    ) -> Result<Self, HeatProblem> {
        above_zero("a rated power, kW,", kiln.rated_kw)?;
        if door_kwh < Decimal::ZERO {
            return Err(out_of_range("heat lost at the door, kWh,", door_kwh, "0 or more"));
        }
        if !(capacity.is_finite() && capacity > 0.0 && loss.is_finite() && loss > 0.0) {
            return Err(HeatProblem::TooLarge(TooLarge));
        }
        Ok(Self {
            capacity,
            loss,
            rated_kw: float(kiln.rated_kw)?,
            room: float(kiln.room_celsius)?,
            rated_max: kiln.rated_max_celsius,
            room_celsius: kiln.room_celsius,
            door_kwh,
            from,
        })
    }

    /// Where its figures come from.
    pub const fn from(&self) -> HeatFrom {
        self.from
    }

    /// Thermal capacity, kWh/K, rounded to 12 places: it is of the order of 0.001.
    ///
    /// # Errors
    /// [`TooLarge`] where it does not fit.
    pub fn capacity(&self) -> Result<Decimal, TooLarge> {
        fine(self.capacity)
    }

    /// Loss coefficient, kW/K, rounded to 12 places: it is of the order of 0.001.
    ///
    /// # Errors
    /// [`TooLarge`] where it does not fit.
    pub fn loss(&self) -> Result<Decimal, TooLarge> {
        fine(self.loss)
    }

    /// Heat lost at an opening of the door, kWh.
    pub const fn door_kwh(&self) -> Decimal {
        self.door_kwh
    }

    /// The room, °C.
    pub const fn room(&self) -> Decimal {
        self.room_celsius
    }

    /// The temperature full power comes close to, °C, 6 places: `T_a + P / k`.
    ///
    /// # Errors
    /// [`TooLarge`] where it does not fit.
    pub fn asymptote(&self) -> Result<Decimal, TooLarge> {
        boundary(self.limit())
    }

    /// The hottest it can hold: the lower of what full power comes close to and the rated maximum; of equal ones the
    /// maker's.
    ///
    /// # Errors
    /// [`TooLarge`] where it does not fit.
    pub fn hottest(&self) -> Result<Hottest, TooLarge> {
        let model = self.asymptote()?;
        Ok(if model < self.rated_max {
            Hottest { celsius: model, set_by: HottestBy::Model }
        } else {
            Hottest { celsius: self.rated_max, set_by: HottestBy::RatedMaximum }
        })
    }

    /// Minutes at full power from one temperature to a higher one, 6 places:
    /// `60 · C/k · ln((P − k (T₁ − T_a)) / (P − k (T₂ − T_a)))`; 0 where it is as hot already.
    ///
    /// # Errors
    /// [`HeatProblem::NotReached`] where full power does not get there.
    pub fn minutes_to_heat(&self, from: Decimal, to: Decimal) -> Result<Decimal, HeatProblem> {
        match self.heating(float(from)?, float(to)?) {
            Some(minutes) => Ok(boundary(minutes)?),
            None => Err(HeatProblem::NotReached { asked: to, hottest: self.asymptote()? }),
        }
    }

    /// Minutes with the power off from one temperature to a lower one, 6 places:
    /// `60 · C/k · ln((T₁ − T_a) / (T₂ − T_a))`; 0 where it is as cool already.
    ///
    /// # Errors
    /// [`HeatProblem::NotCooled`] where the lower one is not above the room's.
    pub fn minutes_to_cool(&self, from: Decimal, to: Decimal) -> Result<Decimal, HeatProblem> {
        match self.cooling(float(from)?, float(to)?) {
            Some(minutes) => Ok(boundary(minutes)?),
            None => Err(HeatProblem::NotCooled { asked: to, room: self.room_celsius }),
        }
    }

    /// Energy of heating up from cold at full power, kWh, 6 places: `P × hours`.
    ///
    /// # Errors
    /// [`HeatProblem::NotReached`] where full power does not get there.
    pub fn warm_up_kwh(&self, to: Decimal) -> Result<Decimal, HeatProblem> {
        let to_heat = self.heating(self.room, float(to)?);
        let minutes = to_heat.ok_or(HeatProblem::NotReached { asked: to, hottest: self.asymptote()? })?;
        Ok(boundary(self.rated_kw * minutes / 60.0)?)
    }

    /// Energy of so many minutes at full power, kWh, 6 places.
    ///
    /// # Errors
    /// [`TooLarge`] where it does not fit.
    pub fn full_power_kwh(&self, minutes: Decimal) -> Result<Decimal, TooLarge> {
        boundary(self.rated_kw * float(minutes)? / 60.0)
    }

    /// Energy of holding a temperature, kWh, 6 places: `k (T − T_a) × hours`; nothing at the room's or below.
    ///
    /// # Errors
    /// [`TooLarge`] where it does not fit.
    pub fn holding_kwh(&self, celsius: Decimal, minutes: Decimal) -> Result<Decimal, TooLarge> {
        boundary(self.loss * (float(celsius)? - self.room).max(0.0) * float(minutes)? / 60.0)
    }

    /// Energy a load takes beyond holding, kWh, 6 places: `m · c · (T − T_a)` of pieces and of furniture, which is
    /// steel, and the heat lost at its opening of the door. The door opens once a load: to draw the last and charge the
    /// next.
    ///
    /// # Errors
    /// [`TooLarge`] where it does not fit.
    pub fn load_kwh(&self, pieces: &[PieceMass], furniture_g: Decimal, celsius: Decimal) -> Result<Decimal, TooLarge> {
        let rise = sub(celsius, self.room_celsius)?.max(Decimal::ZERO);
        let heat = |grams, specific| heat_of_mass(grams, specific, rise);
        let parts = pieces
            .iter()
            .map(|piece| {
                let enamel = heat(piece.glass_g, specific_heat_of_enamel())?;
                add(heat(piece.metal_g, specific_heat(piece.metal))?, enamel)
            })
            .collect::<Result<Vec<Decimal>, TooLarge>>()?;
        let furniture = heat(furniture_g, specific_heat(Metal::Steel))?;
        Ok(round(sum([sum(parts)?, furniture, self.door_kwh])?, HEAT_PLACES).normalize())
    }

    /// What full power comes close to, °C.
    pub(super) fn limit(&self) -> f64 {
        self.room + self.rated_kw / self.loss
    }

    /// The room, °C.
    pub(super) const fn room_float(&self) -> f64 {
        self.room
    }

    /// Minutes at full power between two temperatures; none where they are not reached.
    pub(super) fn heating(&self, from: f64, to: f64) -> Option<f64> {
        if to <= from {
            return Some(0.0);
        }
        let spare = |celsius: f64| self.rated_kw - self.loss * (celsius - self.room);
        // The very limit, give or take the last digits of a float, takes for ever.
        (spare(to) > self.rated_kw * 1e-12).then(|| 60.0 * self.capacity / self.loss * (spare(from) / spare(to)).ln())
    }

    /// Minutes with the power off between two temperatures; none where they are not reached.
    pub(super) fn cooling(&self, from: f64, to: f64) -> Option<f64> {
        if to >= from {
            return Some(0.0);
        }
        (to > self.room).then(|| 60.0 * self.capacity / self.loss * ((from - self.room) / (to - self.room)).ln())
    }

    /// The temperature after so many minutes at full power, °C.
    pub(super) fn heated(&self, from: f64, minutes: f64) -> f64 {
        self.limit() + (from - self.limit()) * self.decay(minutes)
    }

    /// The temperature after so many minutes with the power off, °C.
    pub(super) fn cooled(&self, from: f64, minutes: f64) -> f64 {
        self.room + (from - self.room) * self.decay(minutes)
    }

    /// The temperature once so many kWh have left it, °C; not below the room's.
    pub(super) fn dipped(&self, from: f64, kwh: f64) -> f64 {
        (from - kwh / self.capacity).max(self.room.min(from))
    }

    fn decay(&self, minutes: f64) -> f64 {
        (-minutes / 60.0 * self.loss / self.capacity).exp()
    }
}

fn above_zero(field: &'static str, value: Decimal) -> Result<(), HeatProblem> {
    if value > Decimal::ZERO { Ok(()) } else { Err(out_of_range(field, value, "above 0")) }
}

fn out_of_range(field: &'static str, value: Decimal, accepted: &str) -> HeatProblem {
    HeatProblem::OutOfRange { field, value, accepted: accepted.to_owned() }
}

/// A decimal as a float of this module.
pub(super) fn float(value: Decimal) -> Result<f64, TooLarge> {
    value.to_f64().ok_or(TooLarge)
}

/// A float as a decimal of 6 places.
pub(super) fn boundary(value: f64) -> Result<Decimal, TooLarge> {
    exact::from_geometry(value).ok_or(TooLarge)
}

/// A coefficient as a decimal of 12 places.
pub(super) fn fine(value: f64) -> Result<Decimal, TooLarge> {
    Decimal::from_f64_retain(value).map(|exact| round(exact, FIT_PLACES).normalize()).ok_or(TooLarge)
}

/// Places of a coefficient in kWh/K or kW/K.
pub const FIT_PLACES: u32 = 12;

#[cfg(test)]
mod tests {
    use super::super::samples::{date, decimal, electric};
    use super::*;

    #[test]
    fn a_temperature_out_of_reach_is_told_with_the_one_that_is_not() {
        let model = HeatModel::of(&electric()).unwrap();
        let (room, limit) = (Decimal::from(20), Decimal::from(1970));
        let told = HeatProblem::NotReached { asked: limit, hottest: limit };
        assert_eq!(model.minutes_to_heat(room, limit), Err(told.clone()));
        assert_eq!(model.warm_up_kwh(limit), Err(told));
        assert!(model.minutes_to_heat(room, Decimal::from(1969)).is_ok());
        let told = HeatProblem::NotCooled { asked: room, room };
        assert_eq!(model.minutes_to_cool(Decimal::from(800), room), Err(told));
        assert_eq!(model.minutes_to_heat(limit, room), Ok(Decimal::ZERO));
        assert_eq!(model.minutes_to_cool(room, limit), Ok(Decimal::ZERO));
    }

    #[test]
    fn figures_that_cannot_be_are_named() {
        let refused = |kiln: ElectricKiln| HeatModel::of(&kiln).unwrap_err().to_string();
        let zero = Decimal::ZERO;
        assert_eq!(
            refused(ElectricKiln { duty: Decimal::ONE, ..electric() }),
            "a share of time the elements are on of 1: accepted is above 0 and below 1"
        );
        assert_eq!(
            refused(ElectricKiln { working_celsius: Decimal::from(20), ..electric() }),
            "a working temperature of 20: accepted is a temperature above the room's 20 °C"
        );
        assert!(refused(ElectricKiln { rated_kw: zero, ..electric() }).starts_with("a rated power, kW, of 0"));
        assert!(refused(ElectricKiln { warm_up_minutes: zero, ..electric() }).starts_with("minutes to warm up of 0"));
        assert!(refused(ElectricKiln { door_kwh: -Decimal::ONE, ..electric() }).contains("door, kWh, of -1"));
    }

    #[test]
    fn an_accepted_fit_is_used_instead_of_the_measurements() {
        let fitted = FittedHeat {
            capacity_kwh_per_k: decimal("0.0012"),
            loss_kw_per_k: decimal("0.001"),
            door_kwh: decimal("0.025"),
            readings: 6,
            accepted: date(9),
        };
        let kiln = ElectricKiln { fitted: Some(fitted.clone()), ..electric() };
        let model = HeatModel::of(&kiln).unwrap();
        assert_eq!(model.from(), HeatFrom::Readings);
        assert_eq!((model.capacity(), model.loss()), (Ok(decimal("0.0012")), Ok(decimal("0.001"))));
        assert_eq!((model.door_kwh(), model.asymptote()), (decimal("0.025"), Ok(Decimal::from(1820))));
        let lossless = FittedHeat { loss_kw_per_k: Decimal::ZERO, ..fitted };
        let told = HeatModel::fitted(&kiln, &lossless).unwrap_err().to_string();
        assert_eq!(told, "a fitted loss, kW/K, of 0: accepted is above 0");
    }
}
