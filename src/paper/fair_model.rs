//! What the price list of a fair says, in the language it is written in.

use super::cards::PaperSize;
use super::fair_list::{FairList, fair_piece};
use super::language::Speech;
use super::picture::Image;
use super::ticket::{self, Ticket};
use super::words::bears_lead;
use crate::measure::Preferences;
use crate::studio::{Design, Settings};
use chrono::NaiveDate;
use std::sync::Arc;

/// A price list to be put into words.
#[derive(Debug, Clone, Copy)]
pub struct FairAsked<'a> {
    /// The studio.
    pub settings: &'a Settings,
    /// The fair's name; may be empty.
    pub fair: &'a str,
    /// The day the prices hold from.
    pub date: NaiveDate,
    /// What the tax in the prices is called; empty says nothing of it.
    pub tax_name: &'a str,
    /// The language, with her own words.
    pub speech: Speech<'a>,
    /// The page.
    pub size: PaperSize,
}

/// A design on the list.
#[derive(Debug, Clone)]
pub struct Shown<'a> {
    /// The design.
    pub design: &'a Design,
    /// Its ticket; without one it is left out.
    pub ticket: Option<Ticket>,
    /// The colour of its outline.
    pub colour: [u8; 3],
    /// Its photo, where one shall be shown.
    pub photo: Option<Arc<Image>>,
}

/// The list, and the codes of those that have no ticket and are left out of it.
pub fn fair_list(asked: &FairAsked<'_>, designs: Vec<Shown<'_>>) -> (FairList, Vec<String>) {
    let speech = asked.speech;
    let mut pieces = Vec::with_capacity(designs.len());
    let mut without = Vec::new();
    let mut lead = false;
    for Shown { design, ticket, colour, photo } in designs {
        let Some(found) = ticket else {
            without.push(design.code.as_str().to_owned());
            continue;
        };
        let preferences = Preferences { currency: design.currency, ..Preferences::from(asked.settings) };
        let shown = ticket::words(found.amount, &preferences, speech);
        lead |= bears_lead(design);
        let mut piece = fair_piece(design, shown, colour, asked.settings.length, speech);
        piece.photo = photo;
        pieces.push(piece);
    }
    let mut sentences = Vec::new();
    if !asked.tax_name.trim().is_empty() {
        sentences.push(speech.with("prices-with-tax", &[("tax", asked.tax_name.trim())]));
    }
    if lead {
        sentences.push(speech.phrase("caution-lead").into_owned());
    }
    let list = FairList {
        language: speech.language(),
        title: speech.phrase("price-list").into_owned(),
        studio: asked.settings.studio_name.clone(),
        place: asked.settings.studio_place.clone(),
        beside: vec![asked.fair.trim().to_owned(), speech.with("valid-from", &[("date", &speech.date(asked.date))])],
        pieces,
        sentences,
        page_of: speech.phrase("page-of").into_owned(),
        paper: asked.size,
    };
    (list, without)
}
