//! Exact numbers and what they measure: money, quantities, units, gauges, temperatures, durations.
//!
//! Pure: no clock, no files, no SQL, no screen. Money and quantities are exact decimals end to end;
//! `f64` appears only in geometry, and becomes a decimal once, at the boundary.

pub mod currency;
pub mod exact;
pub mod money;
pub mod quantity;

pub use currency::Currency;
pub use exact::{Decimal, TooLarge};
pub use money::Money;
pub use quantity::{Quantity, Unit};
