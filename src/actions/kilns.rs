//! Kilns and their days.

use super::Refusal;
use super::perform::Done;
use crate::book::Change;
use crate::studio::{FittedHeat, Kiln, KilnDay, KilnDayId, KilnId};

fn later<T>() -> Result<T, Refusal> {
    Err(Refusal::No("not built yet".to_owned()))
}
pub(super) fn save(_: &Change<'_>, _: Option<KilnId>, _: &Kiln) -> Result<Done, Refusal> {
    later()
}
pub(super) fn accept_fit(_: &Change<'_>, _: KilnId, _: Option<FittedHeat>) -> Result<Done, Refusal> {
    later()
}
pub(super) fn save_day(_: &Change<'_>, _: Option<KilnDayId>, _: &KilnDay) -> Result<Done, Refusal> {
    later()
}
