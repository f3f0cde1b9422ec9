//! Test tiles.

use super::heat_limits::{firing_celsius, minutes};
use super::limits::{self, refuse};
use super::perform::Done;
use super::{Added, Refusal, photos};
use crate::book::{Change, Reader, item, load, tile};
use crate::studio::{ItemDetails, TestTile, TileId};

/// Most layers of a tile.
const MOST_LAYERS: usize = 20;

/// Most firings of a tile.
const MOST_FIRINGS: u32 = 50;

/// Layers named in the history; more are counted.
const NAMED_LAYERS: usize = 3;

/// Adds a test tile, or changes the one of that row.
pub(super) fn save(change: &Change<'_>, id: Option<TileId>, given: &TestTile) -> Result<Done, Refusal> {
    let reader = change.reader();
    let mut new = given.clone();
    limits::date("Day", new.date)?;
    let words = layers(reader, &new)?;
    firing_celsius("Temperature", new.celsius)?;
    minutes("Minutes", new.minutes)?;
    if !(1..=MOST_FIRINGS).contains(&new.firings) {
        return Err(refuse("Firings", new.firings, format!("1 to {MOST_FIRINGS} firings are accepted")));
    }
    new.colour_words = limits::optional_name("Colour", &new.colour_words)?;
    limits::text("Note", &new.note)?;
    if let Some(row) = new.load
        && load::find(reader, row)?.is_none()
    {
        return Err(super::loads::missing(row));
    }
    let on = format!("{words} on {}, {} °C", new.metal.words(), new.celsius.normalize());
    let Some(id) = id else {
        let row = tile::insert(change, &new)?;
        return Ok(Done::adding(format!("Add test tile: {on}"), Added::Tile(row)));
    };
    let before = find(reader, id)?;
    tile::update(change, id, &new)?;
    let same_else = TestTile { retired: before.retired, ..new.clone() } == before;
    Ok(Done::named(match (before.retired, new.retired) {
        (false, true) if same_else => format!("Set test tile aside: {on}"),
        (true, false) if same_else => format!("Take test tile up again: {on}"),
        _ => format!("Change test tile: {on}"),
    }))
}

fn find(reader: Reader<'_>, id: TileId) -> Result<TestTile, Refusal> {
    tile::find(reader, id)?.ok_or_else(|| Refusal::Missing(format!("test tile with row {}", id.0)))
}

/// Accepts a tile's layers; hands their names back, the uppermost first.
fn layers(reader: Reader<'_>, tile: &TestTile) -> Result<String, Refusal> {
    if tile.layers.is_empty() || tile.layers.len() > MOST_LAYERS {
        let accepted = format!("1 to {MOST_LAYERS} layers of enamel are accepted");
        return Err(refuse("Layers", tile.layers.len(), accepted));
    }
    let mut names = Vec::with_capacity(tile.layers.len());
    for (place, row) in tile.layers.iter().enumerate() {
        let layer = item::find(reader, *row)?.ok_or_else(|| super::items::missing(*row))?;
        if !matches!(layer.details, ItemDetails::Enamel { .. }) {
            return Err(refuse(&format!("Layer {}", place + 1), layer.name, "an enamel is accepted"));
        }
        names.push(layer.name);
    }
    names.reverse();
    let more = names.len().saturating_sub(NAMED_LAYERS);
    names.truncate(NAMED_LAYERS);
    let words = names.join(" over ");
    Ok(if more > 0 { format!("{words} and {more} more") } else { words })
}

/// Gives a test tile a photo, or takes it away.
pub(super) fn set_photo(change: &Change<'_>, id: TileId, png: Option<&[u8]>) -> Result<Done, Refusal> {
    let reader = change.reader();
    let found = find(reader, id)?;
    let of = super::heat_limits::day_words(found.date);
    let name = match png {
        Some(png) => {
            photos::accept(png)?;
            format!("Give a test tile of {of} a photo")
        }
        None if tile::photo_of(reader, id)?.is_none() => {
            return Err(Refusal::No(format!("the test tile of {of} has no photo")));
        }
        None => format!("Take the photo of a test tile of {of} away"),
    };
    tile::set_photo(change, id, png)?;
    Ok(Done::named(name))
}
