//! Pictures and swatches in their places.

use super::super::page::{Colour, Item, PlacedPicture, Rect, Shape};
use super::super::picture::Image;
use super::ground::Ground;
use super::local::{Local, share_across, share_down};
use crate::studio::{TextSet, Turn};
use std::sync::Arc;

/// A picture fitted into its place without distortion; none where there is no room.
pub(super) fn lay(ground: &Ground, place: &Rect, turn: Turn, set: &TextSet, image: &Arc<Image>) -> Option<Item> {
    let room = ground.room(place)?;
    let local = Local::of(&room, turn);
    let (width, height) = (f64::from(image.width.max(1)), f64::from(image.height.max(1)));
    let scale = (local.width / width).min(local.height / height);
    let size = [width * scale, height * scale];
    let ([x_mm, y_mm], [width_mm, height_mm]) = (local.aligned(size, set.across, set.down), size);
    let rect = local.rect(&Rect { x_mm, y_mm, width_mm, height_mm });
    Some(Item::Picture(PlacedPicture { rect, turn, image: Arc::clone(image) }))
}

/// A round swatch, with a thin line around a colour that paper would swallow.
pub(super) fn swatch(ground: &Ground, place: &Rect, set: &TextSet, colour: [u8; 3]) -> Vec<Item> {
    let circle = |rect: &Rect| {
        let radius = rect.width_mm.min(rect.height_mm) / 2.0;
        let x = rect.x_mm + radius + (rect.width_mm - 2.0 * radius) * share_across(set.across);
        let y = rect.y_mm + radius + (rect.height_mm - 2.0 * radius) * share_down(set.down);
        ([x, y], radius)
    };
    let (mut centre, mut radius) = circle(place);
    if !ground.holds_circle(centre, radius) {
        let Some(room) = ground.room(place) else { return Vec::new() };
        (centre, radius) = circle(&room);
    }
    let mut items = vec![Item::Shape(Shape::disc(centre, radius, Colour(colour)))];
    let light: u32 = colour.iter().map(|part| u32::from(*part)).sum();
    if light > 600 && radius > 0.2 {
        items.push(Item::Shape(Shape::circle(centre, radius - 0.05, Colour::CUT, 0.1)));
    }
    items
}
