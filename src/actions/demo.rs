//! Filling an empty book with the demo studio.

use super::Refusal;
use super::perform::Done;
use crate::book::Change;

/// Fills an empty book with the demo studio.
pub(super) fn load(change: &Change<'_>, action: i64) -> Result<Done, Refusal> {
    let _ = (change, action);
    Err(Refusal::No("the demo studio is not part of this build".to_owned()))
}
