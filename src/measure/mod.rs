//! Exact numbers and what they measure: money, quantities, units, gauges, temperatures, durations.
//!
//! Pure: no clock, no files, no SQL, no screen. Money and quantities are exact decimals end to end;
//! `f64` appears only in geometry, and becomes a decimal once, at the boundary.
//!
//! [`parse`] reads what a person types, [`display`] shows values in the units chosen in Setup ([`Preferences`]), and
//! [`edit`] gives the exact text of a field that holds a value.

pub mod currency;
mod currency_table;
pub mod display;
pub mod edit;
pub mod exact;
pub mod gauge;
pub mod money;
mod number;
pub mod pack;
pub mod parse;
pub mod preferences;
pub mod problem;
pub mod quantity;
pub mod sieve;
mod units;

pub use currency::Currency;
pub use exact::{Decimal, TooLarge};
pub use money::Money;
pub use parse::{ThicknessEntry, Typed};
pub use preferences::{LengthUnit, MassUnit, NumberStyle, Preferences, TemperatureUnit, ThicknessUnit};
pub use problem::ParseProblem;
pub use quantity::{Quantity, Unit};
