//! Pictures drawn by the window, reused by several screens: the route strip, the bars of the cost staircase, the curve
//! of firings, the outline of a blank, the shape of a tag, the day of a kiln.
//!
//! Each takes a prepared model and finds its colours in the theme; none computes a figure.

pub mod bar;
pub mod batch_strip;
pub mod curve;
pub mod cut_sheet;
pub mod kiln_day;
pub mod outline;
pub mod page_off;
pub mod share_bar;
pub mod slots;
pub mod strip;
mod strip_picture;
pub mod tag;
