//! Test tiles: what an enamel looked like on a metal, at a heat.

use super::item::ItemId;
use super::load::LoadId;
use super::metal::Metal;
use crate::measure::Decimal;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// A tile's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct TileId(pub i64);

/// A test tile, as in a notebook.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestTile {
    /// The day.
    pub date: NaiveDate,
    /// The metal.
    pub metal: Metal,
    /// Enamels from the metal up, at least one; the same enamel twice is two layers.
    pub layers: Vec<ItemId>,
    /// Kiln temperature, °C.
    pub celsius: Decimal,
    /// Minutes in the heat, each firing.
    pub minutes: Decimal,
    /// Firings, from 1.
    pub firings: u32,
    /// What she thinks of it.
    pub verdict: Verdict,
    /// What the colour looks like, in her words; searched.
    pub colour_words: String,
    /// The colour, red, green, blue.
    pub colour: Option<[u8; 3]>,
    /// Anything else.
    pub note: String,
    /// The load it was fired in.
    pub load: Option<LoadId>,
    /// Set aside: kept, not offered.
    pub retired: bool,
}

/// What she thinks of a tile.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Not said yet.
    #[default]
    Open,
    /// To be used.
    Use,
    /// Another try is worth it.
    TryAgain,
    /// Not to be used.
    Leave,
}

impl Verdict {
    /// Every verdict, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Open, Self::Use, Self::TryAgain, Self::Leave];

    /// The words on screen.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Open => "not judged yet",
            Self::Use => "use it",
            Self::TryAgain => "try again",
            Self::Leave => "leave it",
        }
    }
}

/// A tile of a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookTile {
    /// Its row.
    pub id: TileId,
    /// The tile.
    pub tile: TestTile,
    /// A photo is kept with it.
    pub has_photo: bool,
}
