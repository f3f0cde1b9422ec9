//! The kiln: how it heats, what a day of it costs and who bears that (kiln and batch method, sections 1 and 2), and
//! a day of it planned. Pure functions on [`crate::studio`].

pub mod ceiling;
pub mod curve;
pub mod day;
pub mod fit;
pub mod heat;
pub mod hours;
pub mod limits;
pub mod plan;
pub mod span;
pub mod tariff;

#[cfg(test)]
mod samples;
