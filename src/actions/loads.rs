//! Loads of the kiln.

use super::Refusal;
use super::bench_action::DoorOpened;
use super::perform::Done;
use crate::book::Change;
use crate::measure::Decimal;
use crate::studio::{Load, LoadId};

fn later<T>() -> Result<T, Refusal> {
    Err(Refusal::No("not built yet".to_owned()))
}
pub(super) fn close_door(_: &Change<'_>, _: &Load) -> Result<Done, Refusal> {
    later()
}
pub(super) fn ask_minutes(_: &Change<'_>, _: LoadId, _: Decimal) -> Result<Done, Refusal> {
    later()
}
pub(super) fn open_door(_: &Change<'_>, _: &DoorOpened) -> Result<Done, Refusal> {
    later()
}
pub(super) fn log(_: &Change<'_>, _: &Load) -> Result<Done, Refusal> {
    later()
}
pub(super) fn set_photo(_: &Change<'_>, _: LoadId, _: Option<&[u8]>) -> Result<Done, Refusal> {
    later()
}
