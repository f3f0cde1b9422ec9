//! The piece of a certificate: its photo with what is known of it beside, or below each other where there is no photo.

use super::page::{Colour, Face, Item, PlacedPicture, Rect, Shape};
use super::running::{Align, Block};
use super::statement::{OnePiece, PHOTO_MM};
use super::statement_press::{GROUND, Press, cell, sized};
use super::warning::Part;
use crate::studio::Turn;
use std::sync::Arc;

/// Between photo and words.
const GAP_MM: f64 = 8.0;
/// Most lines of a fact.
const FACT_LINES: usize = 4;

impl Press<'_, '_> {
    /// The piece, never parted.
    pub(super) fn one_piece(&mut self, piece: &OnePiece) {
        self.report(&[(Face::Bold, &piece.name), (Face::Semibold, &piece.lead)]);
        for fact in &piece.facts {
            self.report(&[(Face::Regular, fact)]);
        }
        let mut block = Block::default();
        let mut left = 0.0;
        let mut photo_ends = 0.0;
        if let Some(photo) = &piece.photo {
            let [width, height] = photo.within(PHOTO_MM);
            let [across, _] = PHOTO_MM;
            let high = height.max(across * 0.6);
            let ground = Rect { x_mm: 0.0, y_mm: 2.0, width_mm: across, height_mm: high };
            let rect = Rect {
                x_mm: (across - width) / 2.0,
                y_mm: 2.0 + (high - height) / 2.0,
                width_mm: width,
                height_mm: height,
            };
            block.items.push(Item::Shape(Shape::filled(ground, GROUND)));
            block.items.push(Item::Picture(PlacedPicture { rect, turn: Turn::None, image: Arc::clone(photo) }));
            left = across + GAP_MM;
            photo_ends = ground.bottom_mm();
        }
        let place = [left, self.width - left];
        let name = sized(cell(&piece.name, Face::Bold, place, Align::Left, 3, Part::Name), 15.0, Colour::BLACK);
        let mut at = self.set(&mut block, &name, 1.2) + 2.4;
        for fact in &piece.facts {
            let fact =
                sized(cell(fact, Face::Regular, place, Align::Left, FACT_LINES, Part::Note), 11.0, Colour::BLACK);
            at = self.set(&mut block, &fact, at) + 1.4;
        }
        if !piece.lead.trim().is_empty() {
            let lead =
                sized(cell(&piece.lead, Face::Semibold, place, Align::Left, 2, Part::Materials), 11.0, Colour::BLACK);
            at = self.set(&mut block, &lead, at) + 1.4;
        }
        block.height = at.max(photo_ends) + 2.0;
        if self.running.room() < block.height {
            self.running.turn();
        }
        self.running.place(&block);
    }
}
