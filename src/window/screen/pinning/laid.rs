//! A paper laid out for the screen: marks in layers, and of each pinned thing what there is to say about it.

use super::gallery::Gallery;
use super::speech::{Voice, ready_for};
use crate::paper::arrange;
use crate::paper::page::{Item, Rect};
use crate::paper::pinned::Facts;
use crate::paper::preview::{Mark, Outliner};
use crate::paper::{Shaper, Warning, WarningKind};
use crate::studio::{Fold, PaperDesign, SymbolKind, What};
use iced::widget::canvas;
use iced::widget::image::Handle;
use rust_decimal::prelude::ToPrimitive;

/// What layouts need and keep between them.
#[derive(Debug, Default)]
pub(in crate::window::screen) struct Tools {
    pub(in crate::window::screen) shaper: Shaper,
    pub(in crate::window::screen) outliner: Outliner,
    pub(in crate::window::screen) gallery: Gallery,
}

/// Marks with the pictures that lie over them: a screen draws pictures after all else of a layer.
#[derive(Debug, Default)]
pub(in crate::window::screen) struct Layer {
    pub(in crate::window::screen) marks: Vec<Mark>,
    pub(in crate::window::screen) pictures: Vec<Picture>,
    pub(in crate::window::screen) cache: canvas::Cache,
}

/// A picture on the screen.
#[derive(Debug, Clone)]
pub(in crate::window::screen) struct Picture {
    /// Its place as it is turned.
    pub(in crate::window::screen) rect: Rect,
    /// Width and height before it is turned.
    pub(in crate::window::screen) upright_mm: [f64; 2],
    /// Quarters clockwise.
    pub(in crate::window::screen) quarters: u8,
    pub(in crate::window::screen) handle: Handle,
}

/// The outline of a paper with its fold and holes, mm.
#[derive(Debug, Clone, Default, PartialEq)]
pub(in crate::window::screen) struct Outline {
    pub(in crate::window::screen) width: f32,
    pub(in crate::window::screen) height: f32,
    pub(in crate::window::screen) corner: f32,
    /// From and to.
    pub(in crate::window::screen) fold: Option<[[f32; 2]; 2]>,
    /// Centre and radius.
    pub(in crate::window::screen) holes: Vec<([f32; 2], f32)>,
}

impl Outline {
    pub(super) fn of(paper: &PaperDesign) -> Self {
        let mm = |value: crate::measure::Decimal| value.to_f32().unwrap_or_default();
        let (width, height) = (mm(paper.width_mm).max(1.0), mm(paper.height_mm).max(1.0));
        Self {
            width,
            height,
            corner: mm(paper.corner_mm).clamp(0.0, width.min(height) / 2.0),
            fold: match paper.fold {
                Some(Fold::Upright(at)) => Some([[mm(at), 0.0], [mm(at), height]]),
                Some(Fold::Across(at)) => Some([[0.0, mm(at)], [width, mm(at)]]),
                None => None,
            },
            holes: paper
                .holes
                .iter()
                .map(|hole| ([mm(hole.x_mm), mm(hole.y_mm)], mm(hole.diameter_mm) / 2.0))
                .collect(),
        }
    }
}

/// What there is to say about a pinned thing.
#[derive(Debug, Clone, Default)]
pub(super) struct Thing {
    /// What it is called in the list.
    pub(super) words: String,
    /// Its place: left, top, width, height, mm.
    pub(super) place: [f32; 4],
    /// What could not be printed as asked, sentences.
    pub(super) warnings: Vec<String>,
    /// Why a symbol is as large as it is.
    pub(super) why: Option<String>,
}

/// A paper laid out.
#[derive(Debug, Default)]
pub(super) struct Laid {
    pub(super) outline: Outline,
    pub(super) layers: Vec<Layer>,
    pub(super) things: Vec<Thing>,
    /// Why one of its languages cannot be written here.
    pub(super) problem: Option<String>,
}

/// Items in layers, back to front.
pub(in crate::window::screen) fn layers(items: &[Item], tools: &mut Tools) -> Vec<Layer> {
    let mut layers = vec![Layer::default()];
    for item in items {
        let picture = match item {
            Item::Picture(placed) => tools.gallery.handle(&placed.image).map(|handle| Picture {
                rect: placed.rect,
                upright_mm: placed.upright_mm(),
                quarters: match placed.turn {
                    crate::studio::Turn::None => 0,
                    crate::studio::Turn::Quarter => 1,
                    crate::studio::Turn::Half => 2,
                    crate::studio::Turn::ThreeQuarters => 3,
                },
                handle,
            }),
            _ => None,
        };
        let covered = layers.last().is_some_and(|layer| !layer.pictures.is_empty());
        if covered && picture.is_none() {
            layers.push(Layer::default());
        }
        let Some(layer) = layers.last_mut() else { continue };
        match picture {
            Some(picture) => layer.pictures.push(picture),
            None => layer.marks.push(tools.outliner.mark(item)),
        }
    }
    layers
}

/// Lays a paper out, each warning beside the thing it is about.
pub(super) fn lay(
    paper: &PaperDesign,
    facts: &Facts,
    voice: &Voice,
    dots_per_inch: Option<u32>,
    tools: &mut Tools,
) -> Laid {
    let mm = |value: crate::measure::Decimal| value.to_f32().unwrap_or_default();
    let problem = ready_for(&mut tools.shaper, &paper.languages).err().map(|problem| problem.to_string());
    let panel = voice.lay_out(&mut tools.shaper, paper, facts, &tools.gallery.pictures, dots_per_inch);
    let mut things: Vec<Thing> = paper
        .pinned
        .iter()
        .map(|pinned| Thing {
            words: called(&pinned.what),
            place: [mm(pinned.x_mm), mm(pinned.y_mm), mm(pinned.width_mm), mm(pinned.height_mm)],
            warnings: Vec::new(),
            why: None,
        })
        .collect();
    for (place, kind) in panel.told {
        if let Some(thing) = things.get_mut(place) {
            thing.warnings.push(sentence(kind));
        }
    }
    for (place, why) in panel.reasons {
        if let Some(thing) = things.get_mut(place) {
            thing.why = Some(why);
        }
    }
    Laid { outline: Outline::of(paper), layers: layers(&panel.items, tools), things, problem }
}

/// A warning as a sentence about the thing it stands beside.
fn sentence(kind: WarningKind) -> String {
    let told = Warning { code: String::new(), kind }.to_string();
    let told = told.trim_start_matches([':', ' ']);
    let mut letters = told.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// What a thing is called in the list; words of hers by how they begin.
fn called(what: &What) -> String {
    let begun = |text: &str| {
        let short: String = text.chars().take(24).collect();
        if short.chars().count() < text.chars().count() { format!("{short}…") } else { short }
    };
    match what {
        What::Words(text) if !text.trim().is_empty() => format!("“{}”", begun(text.trim())),
        What::Phrase(_) => begun(&arrange::listed(what)),
        What::Symbol { kind, .. } => symbol_words(*kind).to_owned(),
        other => arrange::name(other).to_owned(),
    }
}

/// A symbol's name.
pub(super) const fn symbol_words(kind: SymbolKind) -> &'static str {
    match kind {
        SymbolKind::Qr => "QR code",
        SymbolKind::DataMatrix => "Data Matrix",
        SymbolKind::Code128 => "Code 128",
        SymbolKind::Ean13 => "EAN-13",
    }
}
