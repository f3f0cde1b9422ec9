//! All that can be pinned, as plain data.

use super::super::cards::PLAIN_BAND;
use super::super::picture::Image;
use super::super::words::{self, CareFacts};
use crate::measure::{Decimal, Money};
use crate::studio::{
    Design, EnamelKind, Fusing, Item, ItemDetails, Jar, LengthUnit, Outline, Piece, Settings, Thickness,
};
use chrono::NaiveDate;
use std::sync::Arc;

/// What Setup says about the studio, for papers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StudioWords {
    /// The studio's name.
    pub name: String,
    /// Where it is.
    pub place: String,
    /// The maker's story.
    pub story: String,
    /// Her own words for care cards; they follow the care text.
    pub care_words: String,
    /// The unit a chain's length is given in.
    pub length: LengthUnit,
}

impl From<&Settings> for StudioWords {
    fn from(settings: &Settings) -> Self {
        Self {
            name: settings.studio_name.clone(),
            place: settings.studio_place.clone(),
            story: settings.maker_story.clone(),
            care_words: settings.care_words.clone(),
            length: settings.length,
        }
    }
}

/// The facts of one paper.
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    /// The name.
    pub name: String,
    /// The design's code, or the item's reference.
    pub code: String,
    /// The number of a finished piece.
    pub piece_number: Option<String>,
    /// The EAN-13.
    pub trade_number: Option<String>,
    /// The ticket.
    pub ticket: Option<Money>,
    /// The design: materials, care, firings.
    pub design: Option<Arc<Design>>,
    /// What only an item of stock has.
    pub item: Option<ItemFacts>,
    /// The photo or sketch.
    pub photo: Option<Arc<Image>>,
    /// The piece's or the enamel's own colour.
    pub colour: [u8; 3],
    /// The day it was finished, or printed.
    pub date: Option<NaiveDate>,
    /// The studio.
    pub studio: Arc<StudioWords>,
}

impl Facts {
    /// What the care text follows from; none without a design.
    pub fn care(&self) -> Option<CareFacts> {
        self.design.as_deref().map(|design| CareFacts {
            metal: design.blank.metal,
            firings: words::firings(design),
            worn: words::is_worn(design),
            lead_bearing: words::bears_lead(design),
            for_children: design.for_children,
        })
    }

    /// It bears lead.
    pub fn bears_lead(&self) -> bool {
        self.item.as_ref().is_some_and(|item| item.lead) || self.design.as_deref().is_some_and(words::bears_lead)
    }
}

/// What only an item of stock has; lengths in mm.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ItemFacts {
    /// How an enamel takes light.
    pub enamel: Option<EnamelKind>,
    /// Its mesh as sold; may be empty.
    pub mesh: String,
    /// Its fusing class.
    pub fusing: Option<Fusing>,
    /// Lowest and highest firing temperature, °C.
    pub firing_c: Option<[Decimal; 2]>,
    /// The lot, as the maker or she numbers it.
    pub lot: Option<String>,
    /// The empty jar, g.
    pub tare: Option<Decimal>,
    /// Bears lead.
    pub lead: bool,
    /// Gauge or thickness of metal.
    pub gauge: Option<Thickness>,
    /// Size of a blank, of a sheet, or outer diameter of a tube.
    pub size: Option<Outline>,
    /// Where it stands; may be empty.
    pub shelf: String,
}

/// The facts of a design. `colour` is that of the enamel that shows most, see [`cards::band`](super::super::cards::band).
pub fn facts_of_design(design: &Arc<Design>, colour: [u8; 3], studio: &Arc<StudioWords>) -> Facts {
    Facts {
        name: design.name.clone(),
        code: design.code.as_str().to_owned(),
        piece_number: None,
        trade_number: None,
        ticket: None,
        design: Some(Arc::clone(design)),
        item: None,
        photo: None,
        colour,
        date: None,
        studio: Arc::clone(studio),
    }
}

/// The facts of a finished piece, made after the plan of its batch.
pub fn facts_of_piece(piece: &Piece, plan: &Arc<Design>, colour: [u8; 3], studio: &Arc<StudioWords>) -> Facts {
    Facts { piece_number: piece.number.clone(), date: piece.finished, ..facts_of_design(plan, colour, studio) }
}

/// The facts of an item of stock: of the jar it stands in and its lot, where they are known.
pub fn facts_of_item(item: &Item, jar: Option<&Jar>, lot: Option<String>, studio: &Arc<StudioWords>) -> Facts {
    let mut own = ItemFacts {
        lot,
        tare: jar.map(|jar| jar.tare.amount()),
        lead: item.lead_bearing,
        shelf: jar.map_or_else(|| item.shelf.clone(), |jar| jar.label.clone()),
        ..ItemFacts::default()
    };
    let mut colour = PLAIN_BAND;
    match &item.details {
        ItemDetails::Sheet { thickness, size_mm, .. } => {
            own.gauge = Some(*thickness);
            own.size = size_mm.map(|[length_mm, width_mm]| Outline::Rectangle {
                length_mm,
                width_mm,
                corner_mm: Decimal::ZERO,
            });
        }
        ItemDetails::Wire { thickness, .. } => own.gauge = Some(*thickness),
        ItemDetails::Tube { outer_mm, wall_mm, .. } => {
            own.gauge = Some(Thickness::ThicknessMm(*wall_mm));
            own.size = Some(Outline::Disc { diameter_mm: *outer_mm });
        }
        ItemDetails::Blank { thickness, outline, .. } => {
            own.gauge = Some(*thickness);
            own.size = Some(outline.clone());
        }
        ItemDetails::Enamel { enamel, swatch, mesh, fusing, firing_c } => {
            own.enamel = Some(*enamel);
            own.mesh = mesh.clone();
            own.fusing = *fusing;
            own.firing_c = *firing_c;
            colour = *swatch;
        }
        ItemDetails::Finding { .. } | ItemDetails::Solder { .. } | ItemDetails::Consumable | ItemDetails::Packaging => {
        }
    }
    Facts {
        name: item.name.clone(),
        code: item.reference.clone(),
        piece_number: None,
        trade_number: None,
        ticket: None,
        design: None,
        item: Some(own),
        photo: None,
        colour,
        date: None,
        studio: Arc::clone(studio),
    }
}
