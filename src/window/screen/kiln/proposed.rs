//! A load another room proposes: the plan of a kiln day hands one over this way, and the kiln takes it when it is
//! entered. Pages are named by a [`Destination`](crate::window::screen::Destination), which carries no pieces.

use crate::measure::Decimal;
use crate::studio::{KilnId, PieceId};
use std::cell::RefCell;

/// A load to be put together.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::window::screen) struct Proposed {
    /// The kiln.
    pub(in crate::window::screen) kiln: KilnId,
    /// Its pieces.
    pub(in crate::window::screen) pieces: Vec<PieceId>,
    /// Temperature to set, °C.
    pub(in crate::window::screen) celsius: Decimal,
    /// Minutes in the heat.
    pub(in crate::window::screen) minutes: Decimal,
}

thread_local! {
    static HANDED: RefCell<Option<Proposed>> = const { RefCell::new(None) };
}

/// Hands a load over; the one before it, if it was not taken, goes.
pub(in crate::window::screen) fn hand_over(load: Proposed) {
    HANDED.set(Some(load));
}

/// Takes what was handed over.
pub(super) fn take() -> Option<Proposed> {
    HANDED.take()
}
