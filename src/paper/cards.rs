//! Care cards: what a card says, and pages of them.

use super::card::{self, Panel};
use super::language::Speech;
use super::page::{Colour, Document, Item, Page, Place, Rect, Shape};
use super::shaper::Shaper;
use super::warning::{PaperProblem, Part, Warning, WarningKind};
use super::watch::{Unwatched, Watch};
use super::words::{self, CareFacts, CareText};
use crate::studio::{Design, EnamelKind, MaterialId, Settings, Side, StepKind};

/// Cards one job may have.
pub const MOST_CARDS: u64 = 2_000;
/// Kept free around the cards: what printers cannot reach, with the marks.
const EDGE_MM: f64 = 8.0;
/// The band reaches this far beyond the cut.
const BLEED_MM: f64 = 1.5;
/// Cut marks begin this far outside the cards and are this long.
const MARK_GAP_MM: f64 = 2.5;
const MARK_LENGTH_MM: f64 = 3.5;

/// What a care card says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CareModel {
    /// The piece's name.
    pub name: String,
    /// Its code.
    pub code: String,
    /// What it is made of.
    pub materials_line: String,
    /// How to look after it, in one language or in two, one after the other.
    pub texts: Vec<CareText>,
    /// The studio's name.
    pub studio_name: String,
    /// Its town or address.
    pub studio_place: String,
    /// The maker's own words; may be empty.
    pub words: String,
    /// The piece's own colour, as red, green, blue: an enamel's swatch.
    pub band: [u8; 3],
}

/// The facts the care text of a design follows from.
pub fn care_facts(design: &Design) -> CareFacts {
    CareFacts {
        metal: design.blank.metal,
        firings: words::firings(design),
        worn: words::is_worn(design),
        lead_bearing: words::bears_lead(design),
        for_children: design.for_children,
    }
}

/// The care card of a design in a language, or in two. `band` is the colour of the enamel that shows most.
pub fn care_model(design: &Design, settings: &Settings, band: [u8; 3], speeches: &[Speech<'_>]) -> CareModel {
    let facts = care_facts(design);
    let materials: Vec<String> = speeches.iter().map(|speech| speech.materials_line(design, settings.length)).collect();
    CareModel {
        name: design.name.clone(),
        code: design.code.as_str().to_owned(),
        materials_line: materials.join(" · "),
        texts: speeches.iter().map(|speech| speech.care_text(&facts)).collect(),
        studio_name: settings.studio_name.clone(),
        studio_place: settings.studio_place.clone(),
        words: settings.care_words.clone(),
        band,
    }
}

/// The band of a card whose design has no enamel with a swatch on its front.
pub const PLAIN_BAND: [u8; 3] = [0x6e, 0x6a, 0x64];

/// The colour of a card's band: the swatch of the last enamel on the front, the one that is seen. `enamel` gives the
/// kind and swatch of a material, where it has one.
pub fn band(design: &Design, enamel: impl Fn(&MaterialId) -> Option<(EnamelKind, [u8; 3])>) -> [u8; 3] {
    let front = design.steps.iter().rev().filter_map(|step| match &step.kind {
        StepKind::Coat(coat) if coat.side == Side::Front => Some(&coat.material),
        _ => None,
    });
    front
        .filter_map(enamel)
        // A clear coat shows the one below it.
        .find_map(|(kind, swatch)| (kind != EnamelKind::Clear).then_some(swatch))
        .unwrap_or(PLAIN_BAND)
}

/// The two cards.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum CardStyle {
    /// 90 × 55 mm, one side.
    #[default]
    Flat,
    /// 130 × 95 mm, folded in the middle to 65 × 95 mm with the print outside; the inside is for the maker's hand.
    Folded,
}

impl CardStyle {
    /// Every card, in the order they are offered.
    pub const ALL: [Self; 2] = [Self::Flat, Self::Folded];

    /// The name on screen and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Folded => "folded",
        }
    }

    /// The card of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|style| style.name() == name)
    }

    /// Width and height of the cut card before it is folded, in millimetres.
    pub const fn size_mm(self) -> [f64; 2] {
        match self {
            Self::Flat => [90.0, 55.0],
            Self::Folded => [130.0, 95.0],
        }
    }
}

/// A page to print on, upright.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PaperSize {
    /// Width.
    pub width_mm: f64,
    /// Height.
    pub height_mm: f64,
}

impl PaperSize {
    /// ISO 216 A4.
    pub const A4: Self = Self { width_mm: 210.0, height_mm: 297.0 };
    /// 8.5 × 11 in.
    pub const LETTER: Self = Self { width_mm: 215.9, height_mm: 279.4 };

    /// ISO 216 A6.
    pub const A6: Self = Self { width_mm: 105.0, height_mm: 148.0 };
    /// 4 × 6 in.
    pub const FOUR_BY_SIX: Self = Self { width_mm: 101.6, height_mm: 152.4 };

    /// The size of that name: `a4` or `letter`.
    pub fn from_name(name: &str) -> Option<Self> {
        match name {
            "a4" => Some(Self::A4),
            "letter" => Some(Self::LETTER),
            _ => None,
        }
    }
}

/// Care cards to print.
#[derive(Debug, Clone, PartialEq)]
pub struct CardJob {
    /// Each card with its number of copies.
    pub cards: Vec<(CareModel, u32)>,
    /// Flat or folded.
    pub style: CardStyle,
    /// The page.
    pub paper: PaperSize,
}

/// How many cards stand on a page, and where.
struct Imposition {
    page: [f64; 2],
    card: [f64; 2],
    columns: u32,
    rows: u32,
}

impl Imposition {
    /// Upright or across, whichever takes more cards.
    fn new(paper: PaperSize, style: CardStyle) -> Result<Self, PaperProblem> {
        let [width_mm, height_mm] = style.size_mm();
        // At most a few dozen; the cast cannot lose anything.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let number = |page: f64, card: f64| ((page - 2.0 * EDGE_MM) / card).floor().clamp(0.0, 100.0) as u32;
        let way = |page: [f64; 2]| {
            let [page_width, page_height] = page;
            let (columns, rows) = (number(page_width, width_mm), number(page_height, height_mm));
            Self { page, card: [width_mm, height_mm], columns, rows }
        };
        let upright = way([paper.width_mm, paper.height_mm]);
        let across = way([paper.height_mm, paper.width_mm]);
        let best = if across.number() > upright.number() { across } else { upright };
        if best.number() == 0 { Err(PaperProblem::CardTooLarge { width_mm, height_mm }) } else { Ok(best) }
    }

    fn number(&self) -> u32 {
        self.columns * self.rows
    }

    fn rect(&self, slot: u32) -> Rect {
        let ([page_width, page_height], [width_mm, height_mm]) = (self.page, self.card);
        let (column, row) = (slot % self.columns.max(1), slot / self.columns.max(1));
        Rect {
            x_mm: (page_width - width_mm * f64::from(self.columns)) / 2.0 + f64::from(column) * width_mm,
            y_mm: (page_height - height_mm * f64::from(self.rows)) / 2.0 + f64::from(row) * height_mm,
            width_mm,
            height_mm,
        }
    }
}

/// Lays out the job: several cards to a page with cut marks around them. The same job gives the same document.
///
/// # Errors
/// When there is nothing to print, too much, the page is too small for a card, there is no type for a language, or a
/// card has no room for its care text with all its cautions.
pub fn layout(job: &CardJob, shaper: &mut Shaper) -> Result<Document, PaperProblem> {
    layout_watched(job, shaper, &mut Unwatched)
}

/// As [`layout`], and tells card by card how far it has come.
///
/// # Errors
/// As [`layout`], and [`PaperProblem::Stopped`] where `watch` breaks it off.
pub fn layout_watched(job: &CardJob, shaper: &mut Shaper, watch: &mut dyn Watch) -> Result<Document, PaperProblem> {
    for text in job.cards.iter().flat_map(|(model, _)| &model.texts) {
        shaper.can_write(text.language)?;
    }
    let imposition = Imposition::new(job.paper, job.style)?;
    let cards: u64 = job.cards.iter().map(|(_, copies)| u64::from(*copies)).sum();
    if cards == 0 {
        return Err(PaperProblem::Nothing);
    }
    if cards > MOST_CARDS {
        return Err(PaperProblem::TooMany { asked: cards, most: MOST_CARDS });
    }
    let mut document = Document::default();
    let mut slot = 0;
    let mut done = 0;
    for (entry, (model, copies)) in job.cards.iter().enumerate().filter(|(_, (_, copies))| *copies > 0) {
        let laid = card::lay_out(shaper, model, job.style);
        if model.texts.len() > 1 && laid.warnings.contains(&WarningKind::LeftOut(Part::Care)) {
            return Err(PaperProblem::LanguagesTooLong { code: model.code.clone() });
        }
        document
            .warnings
            .extend(laid.warnings.iter().map(|kind| Warning { code: model.code.clone(), kind: kind.clone() }));
        for _ in 0..*copies {
            if document.pages.is_empty() || slot == imposition.number() {
                slot = 0;
                let [width_mm, height_mm] = imposition.page;
                document.pages.push(Page { width_mm, height_mm, ..Page::default() });
            }
            if let Some(page) = document.pages.last_mut() {
                place(page, &laid, imposition.rect(slot), slot, entry);
            }
            slot += 1;
            done += 1;
            if watch.come(done, cards).is_break() {
                return Err(PaperProblem::Stopped);
            }
        }
    }
    for page in &mut document.pages {
        finish(page, &imposition, job);
    }
    Ok(document)
}

fn place(page: &mut Page, laid: &Panel, rect: Rect, slot: u32, entry: usize) {
    let first = page.items.len();
    page.items.extend(laid.items.iter().map(|item| item.moved(rect.x_mm, rect.y_mm)));
    page.places.push(Place { rect, number: slot + 1, entry, items: first..page.items.len() });
}

/// Bands beyond the cut where no card is next to them, and cut marks at the page's edges.
fn finish(page: &mut Page, imposition: &Imposition, job: &CardJob) {
    let taken: Vec<u32> = page.places.iter().map(|place| place.number - 1).collect();
    let mut items = Vec::new();
    for place in &page.places {
        let Some((model, _)) = job.cards.get(place.entry) else { continue };
        let slot = place.number - 1;
        let band = card::band(job.style);
        let colour = Colour(model.band);
        let (left, top) = (place.rect.x_mm + band.x_mm, place.rect.y_mm);
        let mut bleed = |x_mm: f64, y_mm: f64, width_mm: f64, height_mm: f64| {
            items.push(Item::Shape(Shape::filled(Rect { x_mm, y_mm, width_mm, height_mm }, colour)));
        };
        // A band at the card's own left edge reaches out to the left as well.
        let out = if band.x_mm <= 0.0 && slot.is_multiple_of(imposition.columns.max(1)) { BLEED_MM } else { 0.0 };
        if out > 0.0 {
            bleed(left - out, top, out, place.rect.height_mm);
        }
        if slot < imposition.columns {
            bleed(left - out, top - BLEED_MM, band.width_mm + out, BLEED_MM);
        }
        if !taken.contains(&(slot + imposition.columns)) {
            bleed(left - out, place.rect.bottom_mm(), band.width_mm + out, BLEED_MM);
        }
    }
    items.extend(marks(page, imposition, job.style));
    page.items.append(&mut items);
}

fn marks(page: &Page, imposition: &Imposition, style: CardStyle) -> Vec<Item> {
    const WIDTH: f64 = 0.1;
    let used = page.places.iter().map(|place| place.number).max().unwrap_or(0);
    let columns = used.min(imposition.columns);
    let rows = used.div_ceil(imposition.columns.max(1));
    let first = imposition.rect(0);
    let (left, top) = (first.x_mm, first.y_mm);
    let right = left + f64::from(columns) * first.width_mm;
    let bottom = top + f64::from(rows) * first.height_mm;
    let mut items = Vec::new();
    let mut mark = |from: [f64; 2], to: [f64; 2], dash| {
        items.push(Item::Shape(Shape::line(from, to, Colour::CUT, WIDTH, dash)));
    };
    for column in 0..=columns {
        let x = left + f64::from(column) * first.width_mm;
        mark([x, top - MARK_GAP_MM - MARK_LENGTH_MM], [x, top - MARK_GAP_MM], None);
        mark([x, bottom + MARK_GAP_MM], [x, bottom + MARK_GAP_MM + MARK_LENGTH_MM], None);
        if style == CardStyle::Folded && column < columns {
            let x = x + first.width_mm / 2.0;
            let dash = Some([0.7, 0.7]);
            mark([x, top - MARK_GAP_MM - MARK_LENGTH_MM], [x, top - MARK_GAP_MM], dash);
            mark([x, bottom + MARK_GAP_MM], [x, bottom + MARK_GAP_MM + MARK_LENGTH_MM], dash);
        }
    }
    for row in 0..=rows {
        let y = top + f64::from(row) * first.height_mm;
        mark([left - MARK_GAP_MM - MARK_LENGTH_MM, y], [left - MARK_GAP_MM, y], None);
        mark([right + MARK_GAP_MM, y], [right + MARK_GAP_MM + MARK_LENGTH_MM, y], None);
    }
    items
}
