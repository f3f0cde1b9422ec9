//! Batches.

use super::Refusal;
use super::bench_action::{MaterialTaken, NewBatch, PieceLost, StepDone};
use super::perform::Done;
use crate::book::Change;
use crate::studio::{BatchId, PieceId, Proposal};
use chrono::NaiveDate;

fn later<T>() -> Result<T, Refusal> {
    Err(Refusal::No("not built yet".to_owned()))
}
pub(super) fn start(_: &Change<'_>, _: &NewBatch) -> Result<Done, Refusal> {
    later()
}
pub(super) fn do_step(_: &Change<'_>, _: &StepDone) -> Result<Done, Refusal> {
    later()
}
pub(super) fn skip(
    _: &Change<'_>,
    _: BatchId,
    _: usize,
    _: &[PieceId],
    _: NaiveDate,
    _: &str,
) -> Result<Done, Refusal> {
    later()
}
pub(super) fn send_back(
    _: &Change<'_>,
    _: BatchId,
    _: usize,
    _: &[PieceId],
    _: NaiveDate,
    _: &str,
) -> Result<Done, Refusal> {
    later()
}
pub(super) fn lose(_: &Change<'_>, _: BatchId, _: &[PieceLost], _: NaiveDate) -> Result<Done, Refusal> {
    later()
}
pub(super) fn take(
    _: &Change<'_>,
    _: BatchId,
    _: usize,
    _: &[PieceId],
    _: NaiveDate,
    _: &[MaterialTaken],
) -> Result<Done, Refusal> {
    later()
}
pub(super) fn split(_: &Change<'_>, _: BatchId, _: &[PieceId], _: NaiveDate, _: &str) -> Result<Done, Refusal> {
    later()
}
pub(super) fn merge(_: &Change<'_>, _: BatchId, _: BatchId, _: NaiveDate) -> Result<Done, Refusal> {
    later()
}
pub(super) fn finish(_: &Change<'_>, _: BatchId, _: &[PieceId], _: &[PieceId], _: NaiveDate) -> Result<Done, Refusal> {
    later()
}
pub(super) fn mark(_: &Change<'_>, _: PieceId, _: bool, _: &str) -> Result<Done, Refusal> {
    later()
}
pub(super) fn abandon(_: &Change<'_>, _: BatchId, _: NaiveDate, _: &str) -> Result<Done, Refusal> {
    later()
}
pub(super) fn accept(_: &Change<'_>, _: &Proposal, _: i64) -> Result<Done, Refusal> {
    later()
}
