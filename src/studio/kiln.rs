//! A kiln as its owner knows it, and the days it was hot.

use crate::measure::{Decimal, Money};
use chrono::{NaiveDate, NaiveDateTime, NaiveTime, Weekday};
use serde::{Deserialize, Serialize};

/// A kiln's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct KilnId(pub i64);

/// A kiln day's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct KilnDayId(pub i64);

/// A source of heat.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Kiln {
    /// Her name for it, unique in a book.
    pub name: String,
    /// What heats.
    pub heat: HeatSource,
    /// Anything else.
    pub note: String,
    /// Set aside: kept, not offered.
    pub retired: bool,
}

/// What heats.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HeatSource {
    /// An electric kiln.
    Electric(Box<ElectricKiln>),
    /// A torch, at the bench: no kWh, no wear, no shelf; one piece at a time.
    Torch,
}

/// What was measured of an electric kiln (kiln and batch method, section 1).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ElectricKiln {
    /// Rated power, kW, above 0.
    pub rated_kw: Decimal,
    /// Minutes from cold to the working temperature at full power, above 0.
    pub warm_up_minutes: Decimal,
    /// The working temperature these hold for, °C, above the room's.
    pub working_celsius: Decimal,
    /// Share of time the elements are on when it holds that temperature, above 0 and below 1.
    pub duty: Decimal,
    /// The room, °C.
    pub room_celsius: Decimal,
    /// The maker's rated maximum, °C.
    pub rated_max_celsius: Decimal,
    /// Usable shelf area, cm², above 0.
    pub shelf_cm2: Decimal,
    /// Shelf, planche and trivets that go in with a load, g of steel, 0 or more.
    pub furniture_g: Decimal,
    /// Heat lost through the door at each opening, kWh, 0 or more.
    pub door_kwh: Decimal,
    /// How a load's cost is shared by its pieces.
    pub share_by: ShareLoadBy,
    /// Figures fitted to meter readings and accepted; they are used instead of those from the three measurements.
    pub fitted: Option<FittedHeat>,
    /// The day the elements were renewed; their hot hours count from it.
    pub elements_since: NaiveDate,
    /// The day the thermocouple was renewed.
    pub thermocouple_since: NaiveDate,
}

/// How a load's cost is shared by its pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum ShareLoadBy {
    /// By their area on the shelf.
    #[default]
    Area,
    /// Equally.
    Piece,
}

/// Figures fitted to meter readings by non-negative least squares, rounded to 12 places.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct FittedHeat {
    /// Thermal capacity, kWh/K.
    pub capacity_kwh_per_k: Decimal,
    /// Loss coefficient, kW/K.
    pub loss_kw_per_k: Decimal,
    /// Heat lost at each opening of the door, kWh.
    pub door_kwh: Decimal,
    /// Readings it rests on, from 4.
    pub readings: u32,
    /// The day it was accepted.
    pub accepted: NaiveDate,
}

/// A kiln of a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookKiln {
    /// Its row.
    pub id: KilnId,
    /// The kiln.
    pub kiln: Kiln,
}

/// A day a kiln was hot; a kiln has at most one of a date. Times may run past midnight.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KilnDay {
    /// The kiln.
    pub kiln: KilnId,
    /// The day it was switched on.
    pub date: NaiveDate,
    /// Switched on.
    pub on_at: NaiveDateTime,
    /// At heat; none while it warms up, or not noted: then the model says when.
    pub hot_at: Option<NaiveDateTime>,
    /// Switched off; none while it is on, or not noted: then its last load's end.
    pub off_at: Option<NaiveDateTime>,
    /// What it holds between loads, °C.
    pub hold_celsius: Decimal,
    /// The meter's reading for the whole day, kWh.
    pub meter_kwh: Option<Decimal>,
    /// Anything else.
    pub note: String,
}

/// A kiln day of a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookKilnDay {
    /// Its row.
    pub id: KilnDayId,
    /// The day.
    pub day: KilnDay,
}

/// A band of a tariff by time of day: energy costs this on these days between these times.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TariffBand {
    /// Her name for it, such as “night”.
    pub name: String,
    /// Days it holds on; the day is that of the minute itself.
    pub days: Vec<Weekday>,
    /// From this time, in whole minutes.
    pub from: NaiveTime,
    /// Up to this time, not included; at or before `from` it runs past midnight, into the next day's early hours, which
    /// then count by the day they are in.
    pub to: NaiveTime,
    /// Money per kWh.
    pub price_per_kwh: Money,
}
