//! Outlines and sheets in words, and outlines out of files.

use super::plan::Sheet;
use crate::book::StockRow;
use crate::costing::geometry;
use crate::cutting;
use crate::exchange::outline_file::{self, OutlineFile, OutlineFileProblem, Scale};
use crate::measure::{Decimal, Preferences, display, exact};
use crate::studio::{ItemDetails, Outline, outline_words};
use crate::window::Shared;
use crate::window::draw::outline::Shape;
use std::fs::File;
use std::io::Read as _;
use std::path::Path;

/// What is typed as an outline: as [`outline_words::read`] has it, and `drop 40 x 20` as people write it.
pub(super) fn typed(text: &str) -> Result<Outline, String> {
    let text = text.trim();
    let drawn = ["path", "polygon"].iter().any(|shape| text.starts_with(shape));
    let tidy = if drawn {
        text.to_owned()
    } else {
        let words = text.split_whitespace().filter(|word| !matches!(*word, "x" | "×" | "mm"));
        words.collect::<Vec<_>>().join(" ").to_lowercase()
    };
    let outline = outline_words::read(&tidy)?;
    cutting::blank_mm2(&outline)?;
    Ok(outline)
}

/// A drawn outline in a short word, `leaf 2` say; others as they are typed.
pub(super) fn named(outline: &Outline) -> String {
    match outline {
        Outline::Path { .. } => "drawn outline".to_owned(),
        Outline::Polygon { points_mm } => format!("polygon of {} corners", points_mm.len()),
        other => outline_words::write(other),
    }
}

/// The outline as a small picture.
#[allow(clippy::cast_possible_truncation)] // millimetres, to be drawn on a screen
pub(super) fn shape(outline: &Outline) -> Result<Shape, String> {
    let rings = geometry::rings(outline).map_err(|error| error.to_string())?;
    let rings = rings.into_iter().map(|ring| ring.into_iter().map(|[x, y]| [x as f32, y as f32]).collect());
    Ok(Shape { rings: rings.collect(), count: 1, ..Shape::default() })
}

/// What an outline is and what it weighs of a sheet.
pub(super) fn blank_words(outline: &Outline, sheet: Option<Sheet>, preferences: &Preferences) -> String {
    let Ok(area) = cutting::blank_mm2(outline) else { return named(outline) };
    let centimetres = exact::div(area, Decimal::ONE_HUNDRED).unwrap_or(area);
    let mass = sheet
        .and_then(|sheet| cutting::grams(area, sheet.thickness, sheet.metal).ok())
        .map(|grams| format!(", {}", display::mass(exact::round(grams, 2), preferences)));
    format!("{} · {}{}", named(outline), display::area(centimetres, preferences), mass.unwrap_or_default())
}

/// A sheet of stock: what it is, how much there is of it, what it costs.
pub(super) fn sheet_words(row: &StockRow, shared: &Shared) -> String {
    let p = &shared.preferences;
    let ItemDetails::Sheet { metal, thickness, size_mm } = &row.item.details else { return String::new() };
    let size = size_mm.map(|[long, wide]| format!(", {} × {}", display::length(long, p), display::length(wide, p)));
    let price = shared.snapshot.unit_price(row.id);
    let price = price.map(|price| format!(" at {}", display::unit_price(price, row.item.unit, p)));
    format!(
        "{}, {}{}; {} on hand{}",
        metal.words(),
        display::thickness((*thickness).into(), p),
        size.unwrap_or_default(),
        display::quantity(row.on_hand.amount(), row.item.unit, p),
        price.unwrap_or_default()
    )
}

/// What is odd about cutting a blank of stock from a sheet.
pub(super) fn odd_one(blank: &StockRow, sheet: Sheet, shared: &Shared) -> Option<String> {
    let ItemDetails::Blank { metal, thickness, .. } = &blank.item.details else { return None };
    let thick = |thickness| geometry::thickness_mm(thickness);
    let thicker = (thick(*thickness) - thick(sheet.thickness)).abs() > 0.005;
    if *metal == sheet.metal && !thicker {
        return None;
    }
    let words = |metal: crate::studio::Metal, thickness: crate::studio::Thickness| {
        format!("{}, {}", metal.words(), display::thickness(thickness.into(), &shared.preferences))
    };
    Some(format!(
        "This blank is {} in the book; the sheet is {}.",
        words(*metal, *thickness),
        words(sheet.metal, sheet.thickness)
    ))
}

/// Why a drawing gives nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trouble {
    /// It does not say how large it is: the long side must be typed.
    pub no_size: bool,
    /// A sentence.
    pub words: String,
}

impl Trouble {
    pub(super) fn new(words: impl Into<String>) -> Self {
        Self { no_size: false, words: words.into() }
    }
}

/// The blanks of an SVG file with what was not followed of it.
pub(super) fn blanks(path: &Path, long_side: Option<Decimal>) -> Result<(Vec<Outline>, Vec<String>), Trouble> {
    let bytes = bytes(path, outline_file::MOST_BYTES)?;
    let file = drawing(&bytes, long_side)?;
    let blanks = file.blanks().map_err(|problem| Trouble::new(problem.to_string()))?;
    Ok((blanks, file.remarks.iter().map(ToString::to_string).collect()))
}

/// Reads a drawing.
pub(super) fn drawing(bytes: &[u8], long_side: Option<Decimal>) -> Result<OutlineFile, Trouble> {
    let scale = long_side.map_or(Scale::AsWritten, Scale::LongSideMm);
    outline_file::read(bytes, scale).map_err(|problem| Trouble {
        no_size: matches!(problem, OutlineFileProblem::NoSize),
        words: problem.to_string(),
    })
}

/// The bytes of a file, one more than `most` of a larger one.
pub(super) fn bytes(path: &Path, most: usize) -> Result<Vec<u8>, Trouble> {
    let mut bytes = Vec::new();
    let limit = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
    File::open(path)
        .and_then(|file| file.take(limit).read_to_end(&mut bytes))
        .map_err(|error| Trouble::new(format!("{} cannot be read: {error}", path.display())))?;
    Ok(bytes)
}
