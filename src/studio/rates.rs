//! What the studio knows, turned into the rates designs use.

use super::channel::Channel;
use super::kiln::TariffBand;
use crate::measure::{Decimal, Money};
use serde::{Deserialize, Serialize};

/// One line of a year's overhead.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OverheadItem {
    /// Rent, insurance, light …
    pub name: String,
    /// Money a year.
    pub per_year: Money,
}

/// The studio's own figures; the rates are computed from them in [`crate::costing::rates`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct StudioRates {
    /// A year's overhead, line by line.
    pub overhead: Vec<OverheadItem>,
    /// Normal bench hours of a year; above 0.
    pub normal_hours_per_year: Decimal,
    /// The wage she wants, money per hour.
    pub labour_per_hour: Money,
    /// What a set of elements costs.
    pub elements_cost: Money,
    /// Hot hours a set of elements lasts; above 0.
    pub elements_hours: Decimal,
    /// What a thermocouple costs.
    pub thermocouple_cost: Money,
    /// Hot hours a thermocouple lasts; above 0.
    pub thermocouple_hours: Decimal,
    /// Money per kWh.
    pub price_per_kwh: Money,
    /// Energy of one load, kWh.
    pub kwh_per_load: Decimal,
    /// Minutes the kiln needs to come back to heat.
    pub recovery_minutes: Decimal,
    /// How far a firing stays below a solder's flow point, °C of difference.
    pub solder_margin_c: Decimal,
    /// The studio's channels, in order.
    pub channels: Vec<Channel>,
    /// What energy costs by time of day; `price_per_kwh` holds at any time no band names. May be empty.
    #[serde(default)]
    pub tariff: Vec<TariffBand>,
    /// How far from its planned temperature a firing may be set so that pieces share a load, °C of difference, 0 or more.
    #[serde(default = "usual_heat_tolerance")]
    pub heat_tolerance_c: Decimal,
    /// How far from its planned minutes a firing may be kept so that pieces share a load, 0 or more.
    #[serde(default = "usual_minutes_tolerance")]
    pub minutes_tolerance: Decimal,
}

/// 10 °C (common practice, no source).
pub(crate) fn usual_heat_tolerance() -> Decimal {
    Decimal::TEN
}

/// Half a minute (common practice, no source).
pub(crate) fn usual_minutes_tolerance() -> Decimal {
    Decimal::new(5, 1)
}
