//! Finding test tiles: by words, by the enamel on them, and by the colour they come nearest to.
//!
//! Colours are compared in CIE L*a*b* (CIE 15:2018; sRGB to XYZ by IEC 61966-2-1, white D65), where equal distances look
//! about equally far apart: the difference is CIE 1976 ΔE*ab.
#![allow(clippy::float_arithmetic)] // light, not money: a distance that only sorts

use crate::studio::{BookTile, ItemId};

/// A colour in CIE L*a*b*: lightness 0 to 100, green to red, blue to yellow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lab {
    /// Lightness, 0 to 100.
    pub lightness: f64,
    /// From green, below 0, to red.
    pub red: f64,
    /// From blue, below 0, to yellow.
    pub yellow: f64,
}

impl Lab {
    /// An sRGB colour.
    pub fn of(rgb: [u8; 3]) -> Self {
        let [red, green, blue] = rgb.map(|part| {
            let part = f64::from(part) / 255.0;
            if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
        });
        let x = 0.412_4 * red + 0.357_6 * green + 0.180_5 * blue;
        let y = 0.212_6 * red + 0.715_2 * green + 0.072_2 * blue;
        let z = 0.019_3 * red + 0.119_2 * green + 0.950_5 * blue;
        let root = |share: f64| {
            if share > (6.0_f64 / 29.0).powi(3) {
                share.cbrt()
            } else {
                share * (29.0_f64 / 6.0).powi(2) / 3.0 + 4.0 / 29.0
            }
        };
        let (x, y, z) = (root(x / 0.950_47), root(y), root(z / 1.088_83));
        Self { lightness: 116.0 * y - 16.0, red: 500.0 * (x - y), yellow: 200.0 * (y - z) }
    }

    /// How far two colours look apart, ΔE*ab: 0 for the same, about 2 is just seen.
    pub fn apart(self, other: Self) -> f64 {
        let (lightness, red, yellow) =
            (self.lightness - other.lightness, self.red - other.red, self.yellow - other.yellow);
        (lightness * lightness + red * red + yellow * yellow).sqrt()
    }
}

/// What is looked for among tiles.
#[derive(Debug, Clone, Default)]
pub struct TileSearch {
    /// Words that must all be found, in any letters.
    pub words: String,
    /// The nearest to this colour first; tiles of no known colour last.
    pub near: Option<[u8; 3]>,
    /// Also those set aside.
    pub aside: bool,
}

/// The tiles looked for, by place in `tiles`: nearest colour first where one is asked for, else as they stand.
/// `words_of` gives all the words of a tile, `swatch` the colour of an enamel.
pub fn search(
    tiles: &[BookTile],
    wanted: &TileSearch,
    words_of: impl Fn(&BookTile) -> String,
    swatch: impl Fn(ItemId) -> Option<[u8; 3]>,
) -> Vec<usize> {
    let folded = wanted.words.to_lowercase();
    let typed: Vec<&str> = folded.split_whitespace().collect();
    let fits = |tile: &BookTile| {
        let words = if typed.is_empty() { String::new() } else { words_of(tile).to_lowercase() };
        (wanted.aside || !tile.tile.retired) && typed.iter().all(|word| words.contains(word))
    };
    let mut found: Vec<usize> =
        tiles.iter().enumerate().filter(|(_, tile)| fits(tile)).map(|(place, _)| place).collect();
    if let Some(near) = wanted.near.map(Lab::of) {
        let distance = |place: usize| {
            let colour = tiles.get(place).and_then(|tile| colour(tile, &swatch));
            colour.map_or(f64::INFINITY, |colour| Lab::of(colour).apart(near))
        };
        found.sort_by(|a, b| distance(*a).total_cmp(&distance(*b)));
    }
    found
}

/// What a tile looks like: its own colour, else the swatch of its last layer.
pub fn colour(tile: &BookTile, swatch: impl Fn(ItemId) -> Option<[u8; 3]>) -> Option<[u8; 3]> {
    tile.tile.colour.or_else(|| tile.tile.layers.last().copied().and_then(swatch))
}

/// The tiles an enamel is on that are not set aside, those to be used first.
pub fn with_enamel(tiles: &[BookTile], enamel: ItemId) -> Vec<&BookTile> {
    let mut found: Vec<&BookTile> =
        tiles.iter().filter(|tile| !tile.tile.retired && tile.tile.layers.contains(&enamel)).collect();
    found.sort_by_key(|tile| match tile.tile.verdict {
        crate::studio::Verdict::Use => 0,
        crate::studio::Verdict::TryAgain => 1,
        crate::studio::Verdict::Open => 2,
        crate::studio::Verdict::Leave => 3,
    });
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The primaries and white of sRGB in L*a*b* D65, as published in tables of IEC 61966-2-1 conversions (from memory,
    /// two decimals).
    #[test]
    fn primaries_stand_where_the_tables_have_them() {
        for (rgb, [lightness, red, yellow]) in [
            ([255, 0, 0], [53.24, 80.09, 67.20]),
            ([0, 255, 0], [87.73, -86.18, 83.18]),
            ([0, 0, 255], [32.30, 79.19, -107.86]),
            ([255, 255, 255], [100.0, 0.0, 0.0]),
            ([0, 0, 0], [0.0, 0.0, 0.0]),
        ] {
            let lab = Lab::of(rgb);
            for (found, wanted) in [(lab.lightness, lightness), (lab.red, red), (lab.yellow, yellow)] {
                assert!((found - wanted).abs() < 0.03, "{rgb:?}: {lab:?}");
            }
        }
    }

    #[test]
    fn a_distance_is_nothing_to_itself_and_the_same_both_ways() {
        let (a, b) = (Lab::of([30, 120, 90]), Lab::of([200, 40, 20]));
        assert!(a.apart(a) < 1e-12 && (a.apart(b) - b.apart(a)).abs() < 1e-12 && a.apart(b) > 50.0);
    }
}
