//! Tiles worded: the cards of the notebook, the tile in hand, and those that stand beside a coat.

use crate::book::Snapshot;
use crate::costing::tile_search::{self, TileSearch};
use crate::measure::{Preferences, display};
use crate::studio::{BookTile, ItemDetails, ItemId, LoadId, Metal, TileId, Verdict};
use std::fmt;

/// A tile on a card.
#[derive(Debug, Clone)]
pub(super) struct Card {
    pub(super) id: TileId,
    /// What it looks like; none where nobody knows.
    pub(super) colour: Option<[u8; 3]>,
    pub(super) metal: Metal,
    /// Swatches from the metal up.
    pub(super) bands: Vec<[u8; 3]>,
    pub(super) name: String,
    pub(super) heat: String,
    pub(super) celsius: f32,
    pub(super) times: String,
    pub(super) verdict: Verdict,
    pub(super) has_photo: bool,
    pub(super) aside: bool,
}

/// The tile in hand.
#[derive(Debug, Clone)]
pub(super) struct Detail {
    pub(super) card: Card,
    pub(super) date: String,
    /// Layers from the metal up, with lead told.
    pub(super) layers: Vec<(Option<[u8; 3]>, String, bool)>,
    pub(super) words: String,
    pub(super) note: String,
    pub(super) load: Option<LoadId>,
}

/// An enamel to pick as a layer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Enamel {
    /// The item.
    pub id: ItemId,
    words: String,
}

impl fmt::Display for Enamel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.words)
    }
}

/// A tile beside a coat that uses its enamel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BesideCoat {
    /// The tile.
    pub id: TileId,
    /// What it looks like.
    pub colour: Option<[u8; 3]>,
    /// `copper · 780 °C · 2:30 · 2 firings · use it`.
    pub words: String,
}

/// The first `most` tiles an enamel is on, those to be used first; worded to stand beside a coat of it.
pub fn rows_for(item: ItemId, most: usize, snapshot: &Snapshot, preferences: &Preferences) -> Vec<BesideCoat> {
    let tiles = tile_search::with_enamel(&snapshot.tiles, item);
    tiles
        .into_iter()
        .take(most)
        .map(|tile| {
            let of = card(tile, snapshot, preferences);
            let words = format!("{} · {} · {} · {}", of.name, of.heat, of.times, tile.tile.verdict.words());
            BesideCoat { id: tile.id, colour: of.colour, words }
        })
        .collect()
}

/// An enamel's swatch.
pub(super) fn swatch(item: ItemId, snapshot: &Snapshot) -> Option<[u8; 3]> {
    match snapshot.item(item)?.item.details {
        ItemDetails::Enamel { swatch, .. } => Some(swatch),
        _ => None,
    }
}

/// An item's name.
pub(super) fn name(item: ItemId, snapshot: &Snapshot) -> &str {
    snapshot.item(item).map_or("", |row| row.item.name.as_str())
}

/// Enamels that are not set aside.
pub(super) fn enamels(snapshot: &Snapshot) -> Vec<Enamel> {
    let rows = snapshot.stock.iter().filter(|row| !row.item.retired);
    rows.filter(|row| matches!(row.item.details, ItemDetails::Enamel { .. }))
        .map(|row| {
            let lead = if row.item.lead_bearing { " · bears lead" } else { "" };
            Enamel { id: row.id, words: format!("{} · {}{lead}", row.item.name, row.item.reference) }
        })
        .collect()
}

/// The first `most` tiles that are looked for, and how many there are in all.
pub(super) fn found(
    wanted: &TileSearch,
    most: usize,
    snapshot: &Snapshot,
    preferences: &Preferences,
) -> (Vec<Card>, usize) {
    let tiles = &snapshot.tiles;
    let words_of = |tile: &BookTile| words(tile, snapshot, preferences);
    let places = tile_search::search(tiles, wanted, words_of, |item| swatch(item, snapshot));
    let cards = places.iter().take(most).filter_map(|place| tiles.get(*place));
    (cards.map(|tile| card(tile, snapshot, preferences)).collect(), places.len())
}

/// All that a tile can be found by.
fn words(tile: &BookTile, snapshot: &Snapshot, preferences: &Preferences) -> String {
    let of = &tile.tile;
    let mut all = vec![
        of.metal.words().to_owned(),
        of.colour_words.clone(),
        of.note.clone(),
        of.verdict.words().to_owned(),
        of.date.to_string(),
        display::temperature(of.celsius, preferences),
    ];
    for layer in &of.layers {
        if let Some(row) = snapshot.item(*layer) {
            let item = &row.item;
            all.extend([item.name.clone(), item.reference.clone(), item.maker.clone(), item.maker_number.clone()]);
        }
    }
    all.join("\n")
}

fn card(tile: &BookTile, snapshot: &Snapshot, preferences: &Preferences) -> Card {
    let of = &tile.tile;
    let bands: Vec<[u8; 3]> = of.layers.iter().filter_map(|layer| swatch(*layer, snapshot)).collect();
    let mut names: Vec<&str> = of.layers.iter().map(|layer| name(*layer, snapshot)).collect();
    names.dedup();
    let times = if of.firings == 1 { "1 firing".to_owned() } else { format!("{} firings", of.firings) };
    Card {
        id: tile.id,
        colour: tile_search::colour(tile, |item| swatch(item, snapshot)),
        metal: of.metal,
        bands,
        name: format!("{} on {}", names.join(", "), of.metal.words()),
        heat: display::temperature(of.celsius, preferences),
        celsius: super::super::kiln::words::celsius(of.celsius),
        times: format!("{} · {times}", display::minutes(of.minutes, preferences)),
        verdict: of.verdict,
        has_photo: tile.has_photo,
        aside: of.retired,
    }
}

/// The tile in hand, worded.
pub(super) fn detail(tile: &BookTile, snapshot: &Snapshot, preferences: &Preferences) -> Detail {
    let layers = tile.tile.layers.iter().map(|layer| {
        let lead = snapshot.item(*layer).is_some_and(|row| row.item.lead_bearing);
        (swatch(*layer, snapshot), name(*layer, snapshot).to_owned(), lead)
    });
    Detail {
        card: card(tile, snapshot, preferences),
        date: tile.tile.date.to_string(),
        layers: layers.collect(),
        words: tile.tile.colour_words.clone(),
        note: tile.tile.note.clone(),
        load: tile.tile.load,
    }
}
