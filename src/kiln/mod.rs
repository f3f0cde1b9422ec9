//! The kiln: what it does to a day's work. Pure, like [`costing`](crate::costing).

pub mod plan;
