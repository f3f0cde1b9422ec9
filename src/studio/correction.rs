//! A lot's price corrected later.

use super::item::ItemId;
use super::movement::LotId;
use crate::measure::Money;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// A correction's row in a book; rises in the order of entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct CorrectionId(pub i64);

/// What a lot cost after all. Movements never change; the newest correction of a lot is its cost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LotCorrection {
    /// Its row.
    pub id: CorrectionId,
    /// The lot's item.
    pub item: ItemId,
    /// The lot.
    pub lot: LotId,
    /// The day it was corrected.
    pub date: NaiveDate,
    /// What the lot was taken to cost before it, whole and landed.
    pub before: Money,
    /// What it costs, whole and landed, 0 or more.
    pub cost: Money,
    /// Why. Free text.
    pub note: String,
}
