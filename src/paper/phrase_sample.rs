//! How a phrase looks on a paper: a care card, a tag, a jar label or a certificate it stands on, with invented facts; a slip
//! with the phrase alone where it stands on papers too large to be shown small.

use super::cards::{self, CardJob, CardStyle, CareModel, PaperSize};
use super::language::{Purpose, Speech, filled_into};
use super::page::{Document, Item, Rect};
use super::pinned::{Facts, ItemFacts, Panel, Pictures, Speaks, Spoken, StudioWords, lay_out, ready};
use super::shaper::Shaper;
use super::sheets;
use super::symbol::Symbology;
use super::tags::{self, TagJob, TagModel};
use super::warning::{PaperProblem, Part, Warning, WarningKind};
use super::words::CareFacts;
use crate::measure::{Decimal, Money, Preferences, display};
use crate::studio::{
    Across, Down, EnamelKind, Fusing, Ink, Metal, Outline, PaperDesign, PaperKind, Pinned, TextSet, Thickness, Turn,
    Weight, What,
};
use chrono::NaiveDate;
use rust_decimal::prelude::ToPrimitive;
use std::sync::Arc;

/// A slip with a phrase alone, mm.
const SLIP_MM: [i64; 2] = [110, 22];

/// What a sample is made with besides the language.
#[derive(Debug, Clone)]
pub struct SampleOf {
    /// The studio.
    pub studio: Arc<StudioWords>,
    /// Her units and currency.
    pub preferences: Preferences,
    /// A name of hers, and its code.
    pub name: String,
    /// The code.
    pub code: String,
    /// The day.
    pub today: NaiveDate,
}

/// A paper with a phrase on it, in millimetres from its top left corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// What it is, e.g. `Care card`.
    pub what: &'static str,
    /// Its width.
    pub width_mm: f64,
    /// Its height.
    pub height_mm: f64,
    /// What is on it.
    pub items: Vec<Item>,
    /// What could not be printed as asked.
    pub warnings: Vec<Warning>,
}

/// The metal a phrase is of, or copper.
fn metal_of(phrase: &str) -> Metal {
    let of = |start: &str| phrase.strip_prefix(start).and_then(Metal::from_name);
    ["bare-", "ground-", "metal-", "of-"].into_iter().find_map(of).unwrap_or(Metal::Copper)
}

/// Facts of a piece whose care card has the phrase.
fn care_facts(phrase: &str) -> CareFacts {
    let times = phrase.strip_prefix("times-").map(|times| times.parse().unwrap_or(13));
    CareFacts {
        metal: metal_of(phrase),
        firings: match phrase {
            "care-made-once" | "fired-once" => 1,
            _ => times.unwrap_or(5),
        },
        worn: phrase != "care-kept",
        lead_bearing: phrase == "caution-lead",
        for_children: false,
    }
}

/// A phrase with examples in the place of what is filled in.
pub fn example(phrase: &str, speech: Speech<'_>, of: &SampleOf) -> String {
    let names = filled_into(phrase);
    let values: Vec<(&str, String)> = names.iter().map(|name| (*name, value(name, phrase, speech, of))).collect();
    let values: Vec<(&str, &str)> = values.iter().map(|(name, value)| (*name, value.as_str())).collect();
    speech.with(phrase, &values)
}

fn value(name: &str, phrase: &str, speech: Speech<'_>, of: &SampleOf) -> String {
    let spoken = Spoken::new(speech, of.preferences);
    let whole = |number: i64| speech.number(Decimal::from(number));
    match name {
        "metal" => {
            let on = phrase.starts_with("care-made") || phrase == "glass-enamel-on";
            speech.phrase(if on { "ground-copper" } else { "of-copper" }).into_owned()
        }
        "times" => speech.phrase("times-5").into_owned(),
        "bare" => speech.phrase("bare-copper").into_owned(),
        "count" if phrase.ends_with("-one") => whole(1),
        "count" if phrase.ends_with("-few") => whole(3),
        "count" if phrase == "set-of" => whole(3),
        "count" if phrase == "times-more" => whole(13),
        "count" => whole(30),
        "number" if phrase.starts_with("unit-") => whole(45),
        "number" if phrase == "piece-number" => format!("{}-0017", of.code),
        "number" => whole(7),
        "length" => speech.with("unit-centimetre", &[("number", &whole(45))]),
        "name" if of.studio.name.trim().is_empty() => of.name.clone(),
        "name" => of.studio.name.clone(),
        "mesh" => "80".to_owned(),
        "range" => spoken.firing_range([Decimal::from(780), Decimal::from(830)]),
        "lot" => "26-031".to_owned(),
        "mass" => display::mass(Decimal::new(1_425, 1), spoken.preferences()),
        "thickness" => spoken.thickness(Thickness::ThicknessMm(Decimal::new(9, 1))),
        "size" => spoken.size(&Outline::Disc { diameter_mm: Decimal::from(30) }),
        "shelf" => "B2".to_owned(),
        "date" => speech.date(of.today),
        "price" => spoken.money(Decimal::from(46)),
        "page" => whole(2),
        "pages" => whole(3),
        "tax" => speech.phrase("tax").into_owned(),
        "rate" => speech.share(Decimal::new(2, 1)),
        _ => String::new(),
    }
}

/// The paper a phrase stands on, as it is printed in that language with her own words.
///
/// # Errors
/// Where the paper cannot be made: her words are too long for a care card with all its cautions.
pub fn sample(phrase: &str, speech: Speech<'_>, of: &SampleOf, shaper: &mut Shaper) -> Result<Sample, PaperProblem> {
    match Purpose::of(phrase) {
        Purpose::Care => card(phrase, CardStyle::Flat, speech, of, shaper),
        Purpose::Cautions if phrase.starts_with("caution-") => card(phrase, CardStyle::Flat, speech, of, shaper),
        Purpose::Metals if phrase.starts_with("ground-") => card(phrase, CardStyle::Flat, speech, of, shaper),
        Purpose::Made if phrase.starts_with("times-") => card(phrase, CardStyle::Flat, speech, of, shaper),
        Purpose::Made if !phrase.starts_with("fired-") => card(phrase, CardStyle::Folded, speech, of, shaper),
        Purpose::Metals => card(phrase, CardStyle::Folded, speech, of, shaper),
        Purpose::Tags if phrase.starts_with("per-") || phrase == "set-of" => tag(phrase, speech, of, shaper),
        Purpose::Jars if is_on_jars(phrase) => Ok(jar(phrase, speech, of, shaper)),
        Purpose::Signs if matches!(phrase, "by-hand-one-at-a-time" | "signature") => {
            Ok(certificate(speech, of, shaper))
        }
        _ => Ok(slip(phrase, speech, of, shaper)),
    }
}

fn is_on_jars(phrase: &str) -> bool {
    phrase.starts_with("enamel-")
        || phrase.starts_with("fusing-")
        || matches!(phrase, "mesh-of" | "lot-of" | "tare-of" | "contains-lead")
}

/// What the piece of the sample is made of.
fn materials(phrase: &str, speech: Speech<'_>, of: &SampleOf) -> String {
    let ground = |metal: Metal| speech.phrase(&format!("ground-{}", metal.name())).into_owned();
    let glass = speech.with("glass-enamel-on", &[("metal", &ground(Metal::Copper))]);
    let second = match phrase {
        _ if phrase.starts_with("metal-") => return speech.phrase(phrase).into_owned(),
        _ if phrase.starts_with("of-") => speech.with("chain-of", &[("metal", &speech.phrase(phrase))]),
        _ if phrase.starts_with("chain") || phrase.starts_with("cord") || phrase == "findings-of" => {
            example(phrase, speech, of)
        }
        _ => example("chain-long", speech, of),
    };
    speech.list(&[glass, second])
}

fn card(
    phrase: &str,
    style: CardStyle,
    speech: Speech<'_>,
    of: &SampleOf,
    shaper: &mut Shaper,
) -> Result<Sample, PaperProblem> {
    let model = CareModel {
        name: of.name.clone(),
        code: of.code.clone(),
        materials_line: materials(phrase, speech, of),
        texts: vec![speech.care_text(&care_facts(phrase))],
        studio_name: of.studio.name.clone(),
        studio_place: of.studio.place.clone(),
        words: of.studio.care_words.clone(),
        band: COLOUR,
    };
    let job = CardJob { cards: vec![(model, 1)], style, paper: PaperSize::A4 };
    Ok(first("Care card", cards::layout(&job, shaper)?))
}

/// The band of a sample.
const COLOUR: [u8; 3] = [62, 91, 132];

fn tag(phrase: &str, speech: Speech<'_>, of: &SampleOf, shaper: &mut Shaper) -> Result<Sample, PaperProblem> {
    let Some(sheet) = sheets::usual_sheets().into_iter().next() else { return Ok(slip(phrase, speech, of, shaper)) };
    let tag = TagModel {
        name: of.name.clone(),
        code: of.code.clone(),
        ticket: Some(Spoken::new(speech, of.preferences).money(Decimal::from(46))),
        materials_line: speech.with("glass-enamel-on", &[("metal", &speech.phrase("ground-copper"))]),
        note_line: Some(example(phrase, speech, of)),
        lead_bearing: false,
    };
    let job = TagJob { sheet, tags: vec![(tag, 1)], start: 1, symbology: Symbology::Qr };
    Ok(first("Price tag", tags::layout(&job, shaper)?))
}

/// The first paper of a document, cut out of its page.
fn first(what: &'static str, document: Document) -> Sample {
    let nothing = Rect { x_mm: 0.0, y_mm: 0.0, width_mm: 0.0, height_mm: 0.0 };
    let page = document.pages.first();
    let place = page.and_then(|page| page.places.first());
    let rect = place.map_or(nothing, |place| place.rect);
    let items = match (page, place) {
        (Some(page), Some(place)) => page.items.get(place.items.clone()).unwrap_or_default(),
        _ => &[],
    };
    Sample {
        what,
        width_mm: rect.width_mm,
        height_mm: rect.height_mm,
        items: items.iter().map(|item| item.moved(-rect.x_mm, -rect.y_mm)).collect(),
        warnings: document.warnings.into_iter().filter(|told| is_of_words(&told.kind)).collect(),
    }
}

/// It is about what is said: a studio's name too long for the sample, or one that is not there, is not the phrase's doing.
const fn is_of_words(kind: &WarningKind) -> bool {
    !matches!(
        kind,
        WarningKind::Unknown(_) | WarningKind::Cut(Part::Studio | Part::Name) | WarningKind::LeftOut(Part::Studio)
    )
}

fn facts(of: &SampleOf) -> Facts {
    Facts {
        name: of.name.clone(),
        code: of.code.clone(),
        piece_number: Some(format!("{}-0017", of.code)),
        trade_number: None,
        ticket: Money::new(Decimal::from(46)),
        design: None,
        item: None,
        photo: None,
        colour: COLOUR,
        date: Some(of.today),
        studio: Arc::clone(&of.studio),
    }
}

fn jar(phrase: &str, speech: Speech<'_>, of: &SampleOf, shaper: &mut Shaper) -> Sample {
    let kind = phrase.strip_prefix("enamel-").and_then(|name| EnamelKind::ALL.into_iter().find(|k| k.name() == name));
    let class = phrase.strip_prefix("fusing-").and_then(|name| Fusing::ALL.into_iter().find(|c| c.name() == name));
    let item = ItemFacts {
        enamel: Some(kind.unwrap_or(EnamelKind::Transparent)),
        mesh: "80".to_owned(),
        fusing: Some(class.unwrap_or(Fusing::Medium)),
        firing_c: Some([Decimal::from(780), Decimal::from(830)]),
        lot: Some("26-031".to_owned()),
        tare: Some(Decimal::new(1_425, 1)),
        lead: phrase == "contains-lead",
        shelf: "B2".to_owned(),
        ..ItemFacts::default()
    };
    let facts = Facts { piece_number: None, ticket: None, item: Some(item), ..facts(of) };
    let Some(label) = ready::of(PaperKind::Jar).into_iter().next() else { return slip(phrase, speech, of, shaper) };
    pinned("Jar label", &label.design, &facts, speech, of, shaper)
}

fn certificate(speech: Speech<'_>, of: &SampleOf, shaper: &mut Shaper) -> Sample {
    let small = ready::of(PaperKind::Certificate).into_iter().map(|ready| ready.design);
    let small = small.min_by_key(|design| design.height_mm).unwrap_or_else(|| paper(SLIP_MM, What::Name));
    // Without a story, materials and a picture, which only a piece of hers has.
    let design = PaperDesign {
        pinned: small.pinned.iter().filter(|thing| !matches!(thing.what, What::Materials)).cloned().collect(),
        ..small
    };
    pinned("Certificate", &design, &facts(of), speech, of, shaper)
}

/// The phrase alone.
fn slip(name: &str, speech: Speech<'_>, of: &SampleOf, shaper: &mut Shaper) -> Sample {
    let words = What::Words(example(name, speech, of));
    pinned("As it is printed", &paper(SLIP_MM, words), &facts(of), speech, of, shaper)
}

/// A paper with one thing on it.
fn paper([width, height]: [i64; 2], what: What) -> PaperDesign {
    let edge = Decimal::from(4);
    let inner = |side: i64| Decimal::from(side).saturating_sub(Decimal::from(8));
    PaperDesign {
        name: "slip".to_owned(),
        kind: PaperKind::Sign,
        width_mm: Decimal::from(width),
        height_mm: Decimal::from(height),
        fold: None,
        holes: Vec::new(),
        corner_mm: Decimal::ZERO,
        languages: Vec::new(),
        pinned: vec![Pinned {
            what,
            x_mm: edge,
            y_mm: edge,
            width_mm: inner(width),
            height_mm: inner(height),
            turn: Turn::None,
            set: TextSet {
                weight: Weight::Regular,
                most_pt: Decimal::from(13),
                least_pt: Decimal::from(6),
                lines: 6,
                across: Across::Left,
                down: Down::Middle,
                ink: Ink::Black,
            },
        }],
    }
}

fn pinned(
    what: &'static str,
    design: &PaperDesign,
    facts: &Facts,
    speech: Speech<'_>,
    of: &SampleOf,
    shaper: &mut Shaper,
) -> Sample {
    let spoken = Spoken::new(speech, of.preferences);
    let Panel { items, warnings, .. } = lay_out(shaper, design, facts, &Pictures::new(), &[&spoken], None);
    let side = |mm: Decimal| mm.to_f64().unwrap_or_default();
    Sample {
        what,
        width_mm: side(design.width_mm),
        height_mm: side(design.height_mm),
        items,
        warnings: warnings
            .into_iter()
            .filter(is_of_words)
            .map(|kind| Warning { code: facts.code.clone(), kind })
            .collect(),
    }
}
