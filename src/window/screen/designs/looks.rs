//! How a design looks: its blank as a shape, the colour of its enamels, its metal, its heat.

use crate::book::Snapshot;
use crate::costing::geometry;
use crate::measure::Decimal;
use crate::studio::{Blank, BookDesign, ItemDetails, MaterialId, Metal, Side, StepKind};
use crate::window::draw::outline::Shape;
use crate::window::theme;
use iced::Color;
use rust_decimal::prelude::ToPrimitive;

/// The flat shape of a blank; empty where its outline is not one.
pub fn shape(blank: &Blank) -> Shape {
    let point = |[x, y]: [f64; 2]| [narrow(x), narrow(y)];
    let rings = geometry::rings(&blank.outline).unwrap_or_default();
    Shape {
        rings: rings.into_iter().map(|ring| ring.into_iter().map(point).collect()).collect(),
        holes: blank.holes_mm.iter().map(|hole| hole.to_f32().unwrap_or_default()).collect(),
        domed: !blank.dome_height_mm.is_zero(),
        count: blank.count,
    }
}

/// A coordinate to draw at.
#[allow(clippy::cast_possible_truncation)] // a picture needs no more digits than f32 has
fn narrow(value: f64) -> f32 {
    value as f32
}

/// The swatch of a design's enamel, where it is linked to one in stock.
pub fn swatch(book: &BookDesign, material: &MaterialId, snapshot: &Snapshot) -> Option<[u8; 3]> {
    let item = book.follows.materials.get(material)?;
    match snapshot.item(*item)?.item.details {
        ItemDetails::Enamel { swatch, .. } => Some(swatch),
        _ => None,
    }
}

/// The colour of a coat.
pub fn enamel(book: &BookDesign, material: &MaterialId, snapshot: &Snapshot) -> Option<Color> {
    swatch(book, material, snapshot).map(theme::swatch)
}

/// The colour of the last full coat on the front; the metal where there is none.
pub fn front_colour(book: &BookDesign, snapshot: &Snapshot) -> [u8; 3] {
    let coats = book.design.steps.iter().rev().filter_map(|step| match &step.kind {
        StepKind::Coat(coat) if coat.side == Side::Front => Some(coat),
        _ => None,
    });
    let clear = |material: &MaterialId| {
        let item = book.follows.materials.get(material).and_then(|item| snapshot.item(*item));
        matches!(
            item.map(|row| &row.item.details),
            Some(ItemDetails::Enamel { enamel: crate::studio::EnamelKind::Clear, .. })
        )
    };
    let half = Decimal::new(5, 1);
    coats
        .filter(|coat| coat.coverage >= half && !clear(&coat.material))
        .find_map(|coat| swatch(book, &coat.material, snapshot))
        .unwrap_or(metal(book.design.blank.metal))
}

/// The colour of bare metal, as it is drawn.
pub const fn metal(metal: Metal) -> [u8; 3] {
    match metal {
        Metal::Copper => [0xC0, 0x7A, 0x52],
        Metal::FineSilver => [0xD3, 0xD4, 0xD2],
        Metal::Sterling => [0xC9, 0xCA, 0xC8],
        Metal::Brass => [0xCB, 0xAA, 0x5A],
        Metal::Bronze => [0xB0, 0x85, 0x4E],
        Metal::Steel => [0x9A, 0x9D, 0xA0],
    }
}

/// The colour of a firing.
pub fn heat(celsius: Decimal) -> Color {
    theme::heat(celsius.to_f32().unwrap_or_default())
}
