//! The price list of a fair: every piece with its photo, or its shape in its own colour, what it is made of and its
//! ticket, in two columns.

use super::cards::PaperSize;
use super::language::Speech;
use super::page::{Colour, Document, Face, Item, Paint, PlacedPicture, Rect, Segment, Shape};
use super::picture::Image;
use super::running::{Align, Block, Cell, Running};
use super::shaper::Shaper;
use super::statement;
use super::warning::{PaperProblem, Part};
use super::words::bears_lead;
use crate::costing::geometry;
use crate::studio::{Design, Language, LengthUnit, Turn};
use std::sync::Arc;

pub use super::running::MOST_LINES;

/// A price list. Every text is printed as it is given.
#[derive(Debug, Clone, PartialEq)]
pub struct FairList {
    /// The language it is in.
    pub language: Language,
    /// What it is: `Price list`.
    pub title: String,
    /// The studio's name.
    pub studio: String,
    /// Where it is; may be empty.
    pub place: String,
    /// Beside the title: the fair and its day, each on a line.
    pub beside: Vec<String>,
    /// The pieces, in the order they are shown.
    pub pieces: Vec<FairPiece>,
    /// Sentences at the end: the tax in the prices, lead.
    pub sentences: Vec<String>,
    /// How a page is numbered, with `{page}` and `{pages}`.
    pub page_of: String,
    /// The page.
    pub paper: PaperSize,
}

/// A piece of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct FairPiece {
    /// Its code.
    pub code: String,
    /// Its name.
    pub name: String,
    /// What it is made of.
    pub materials: String,
    /// That it bears lead; empty where it does not.
    pub lead: String,
    /// Its ticket.
    pub ticket: String,
    /// Its colour.
    pub colour: [u8; 3],
    /// Its outline: closed rings of points in mm, holes among them; none draws a square.
    pub rings: Vec<Vec<[f64; 2]>>,
    /// Its photo, shown in the place of the outline.
    pub photo: Option<Arc<Image>>,
}

/// The piece a design makes, at a ticket as it shall be printed, without a photo. `length` is the unit a chain's length
/// is given in.
pub fn fair_piece(
    design: &Design,
    ticket: String,
    colour: [u8; 3],
    length: LengthUnit,
    speech: Speech<'_>,
) -> FairPiece {
    FairPiece {
        code: design.code.as_str().to_owned(),
        name: design.name.clone(),
        materials: speech.materials_line(design, length),
        lead: if bears_lead(design) { speech.phrase("contains-lead").into_owned() } else { String::new() },
        ticket,
        colour,
        // A book keeps no outline that is none; a list without a drawing is better than no list.
        rings: geometry::rings(&design.blank.outline).unwrap_or_default(),
        photo: None,
    }
}

/// Side of the square a photo or a shape is shown in.
const PICTURE_MM: f64 = 25.0;
/// The place of a photo, mm.
pub const PHOTO_MM: [f64; 2] = [PICTURE_MM, PICTURE_MM];
/// Between the columns, and between the shape and its words.
const COLUMN_GAP_MM: f64 = 9.0;
const WORDS_GAP_MM: f64 = 4.5;
const PAD_MM: f64 = 3.6;
const HAIR: Colour = Colour([205, 205, 205]);
/// The ground a shape lies on.
const GROUND: Colour = Colour([243, 242, 239]);
/// The line around a shape.
const EDGE: Colour = Colour([120, 112, 102]);

/// Everything on the pages lies within this, mm.
pub fn margins(paper: PaperSize) -> Rect {
    statement::margins(paper)
}

/// Lays the list out, two pieces a row; a row is never parted. The same list gives the same document.
///
/// # Errors
/// When there is no piece, more than [`MOST_LINES`], or no type at hand for the language.
pub fn layout(list: &FairList, shaper: &mut Shaper) -> Result<Document, PaperProblem> {
    shaper.can_write(list.language)?;
    if list.pieces.is_empty() {
        return Err(PaperProblem::NothingListed);
    }
    if list.pieces.len() > MOST_LINES {
        return Err(PaperProblem::TooManyLines { asked: list.pieces.len(), most: MOST_LINES });
    }
    let told = [list.title.as_str(), &list.studio].into_iter().chain(list.beside.iter().map(String::as_str));
    let reminder = told.filter(|text| !text.trim().is_empty()).collect::<Vec<_>>().join(" · ");
    let mut running = Running::open(shaper, list.paper, margins(list.paper), reminder);
    let foot: Vec<&str> =
        [list.studio.as_str(), &list.place].into_iter().filter(|text| !text.trim().is_empty()).collect();
    running.foot(&foot.join(" · "), &list.page_of);
    heading(&mut running, list);
    let width = (running.width() - COLUMN_GAP_MM) / 2.0;
    for row in list.pieces.chunks(2) {
        let mut block = Block::default();
        for (piece, left) in row.iter().zip([0.0, width + COLUMN_GAP_MM]) {
            let set = self::piece(&mut running, piece, width);
            block.items.extend(set.items.iter().map(|item| item.moved(left, 0.0)));
            block.height = block.height.max(set.height);
        }
        for left in [0.0, width + COLUMN_GAP_MM].into_iter().take(row.len()) {
            let y = block.height - 0.1;
            block.items.push(Item::Shape(Shape::line([left, y], [left + width, y], HAIR, 0.15, None)));
        }
        if running.room() < block.height {
            running.turn();
        }
        running.place(&block);
    }
    for sentence in &list.sentences {
        closing(&mut running, list, sentence);
    }
    Ok(running.finish())
}

fn cell(text: &str, face: Face, [left, width]: [f64; 2], size: f64, lines: usize, part: Part) -> Cell<'_> {
    let sizes = [if lines == 0 { 6.0 } else { size.min(7.5) }, size];
    Cell { face, text, sizes, colour: Colour::BLACK, left, width, align: Align::Left, lines, part }
}

fn heading(running: &mut Running<'_>, list: &FairList) {
    let width = running.width();
    let title = list.title.as_str();
    running.report_missing(title, &[(Face::Bold, title), (Face::Semibold, &list.studio), (Face::Regular, &list.place)]);
    let mut block = Block::default();
    let left = [0.0, width * 0.55];
    running.set(&mut block, &cell(title, Face::Bold, left, 24.0, 1, Part::Heading), 0.0, title);
    let right = [width * 0.57, width * 0.43];
    let mut below = 0.6;
    let studio =
        [(list.studio.as_str(), Face::Semibold, Colour::BLACK), (list.place.as_str(), Face::Regular, Colour::GREY)];
    let beside = list.beside.iter().map(|line| (line.as_str(), Face::Regular, Colour::GREY));
    for (text, face, colour) in studio.into_iter().chain(beside) {
        if !text.trim().is_empty() {
            running.report_missing(title, &[(face, text)]);
            let line = Cell { colour, align: Align::Right, ..cell(text, face, right, 10.0, 1, Part::Studio) };
            below = running.set(&mut block, &line, below, title) + 0.3;
        }
    }
    block.height = below.max(12.0) + 2.0;
    block.rule(width, Colour::BLACK, 0.45);
    running.place(&block);
    running.place(&Block::space(1.5));
}

fn piece(running: &mut Running<'_>, piece: &FairPiece, width: f64) -> Block {
    let code = piece.code.as_str();
    running.report_missing(
        code,
        &[
            (Face::Semibold, &piece.name),
            (Face::Regular, &piece.materials),
            (Face::Semibold, &piece.lead),
            (Face::Bold, &piece.ticket),
        ],
    );
    let mut block = Block::default();
    let place = Rect { x_mm: 0.0, y_mm: PAD_MM, width_mm: PICTURE_MM, height_mm: PICTURE_MM };
    block.items.push(Item::Shape(Shape::filled(place, GROUND)));
    if let Some(photo) = &piece.photo {
        let [width, height] = photo.within(PHOTO_MM);
        let rect = Rect {
            x_mm: place.x_mm + (place.width_mm - width) / 2.0,
            y_mm: place.y_mm + (place.height_mm - height) / 2.0,
            width_mm: width,
            height_mm: height,
        };
        block.items.push(Item::Picture(PlacedPicture { rect, turn: Turn::None, image: Arc::clone(photo) }));
    } else {
        let shape = drawn(&piece.rings, piece.colour, place);
        // A pale piece would be lost on its ground without an edge.
        let edge = Paint::Line { colour: EDGE, width_mm: 0.2, dash_mm: None };
        let around = Shape { path: shape.path.clone(), paint: edge };
        block.items.extend([Item::Shape(shape), Item::Shape(around)]);
    }
    let left = PICTURE_MM + WORDS_GAP_MM;
    let words = [left, width - left];
    let mut at = PAD_MM - 0.3;
    at = running.set(&mut block, &cell(&piece.name, Face::Semibold, words, 11.5, 2, Part::Name), at, code) + 0.4;
    let quiet = |text, face, colour, lines, part| Cell { colour, ..cell(text, face, words, 8.5, lines, part) };
    if !piece.materials.trim().is_empty() {
        let materials = quiet(&piece.materials, Face::Regular, Colour::GREY, 3, Part::Materials);
        at = running.set(&mut block, &materials, at, code);
    }
    if !piece.lead.is_empty() {
        let lead = quiet(&piece.lead, Face::Semibold, Colour::BLACK, 1, Part::Materials);
        at = running.set(&mut block, &lead, at, code);
    }
    // The ticket stands at the foot of the picture, or below the words where they reach further down.
    let top = (at + 0.8).max(PAD_MM + PICTURE_MM - 5.4);
    let number = [width - 20.0, 20.0];
    let ticket = cell(&piece.ticket, Face::Bold, [left, width - left - 22.0], 14.0, 0, Part::Ticket);
    let below = running.set(&mut block, &ticket, top, code);
    let number = Cell {
        align: Align::Right,
        sizes: [6.0, 8.0],
        colour: Colour::GREY,
        ..cell(code, Face::Regular, number, 8.0, 1, Part::Code)
    };
    running.set(&mut block, &number, top + 1.9, code);
    block.height = below.max(PAD_MM + PICTURE_MM) + PAD_MM;
    block
}

fn closing(running: &mut Running<'_>, list: &FairList, sentence: &str) {
    running.report_missing(&list.title, &[(Face::Regular, sentence)]);
    let width = running.width();
    let mut block = Block::default();
    let said = Cell { colour: Colour::GREY, ..cell(sentence, Face::Regular, [0.0, width], 9.0, 3, Part::Words) };
    block.height = running.set(&mut block, &said, 3.0, &list.title);
    if running.room() < block.height {
        running.turn();
    }
    running.place(&block);
}

/// The outline, as large as its place allows with a margin, filled with its colour.
fn drawn(rings: &[Vec<[f64; 2]>], colour: [u8; 3], place: Rect) -> Shape {
    const INSET: f64 = 2.6;
    let inner = Rect {
        x_mm: place.x_mm + INSET,
        y_mm: place.y_mm + INSET,
        width_mm: place.width_mm - 2.0 * INSET,
        height_mm: place.height_mm - 2.0 * INSET,
    };
    let points = || rings.iter().flatten();
    let least = points().fold([f64::MAX; 2], |low, point| [low[0].min(point[0]), low[1].min(point[1])]);
    let most = points().fold([f64::MIN; 2], |high, point| [high[0].max(point[0]), high[1].max(point[1])]);
    let size = [most[0] - least[0], most[1] - least[1]];
    if !(size[0] > 0.0 && size[1] > 0.0) {
        return Shape::filled(inner, Colour(colour));
    }
    let scale = (inner.width_mm / size[0]).min(inner.height_mm / size[1]);
    let shift =
        [inner.x_mm + (inner.width_mm - size[0] * scale) / 2.0, inner.y_mm + (inner.height_mm - size[1] * scale) / 2.0];
    let at = |point: &[f64; 2]| [shift[0] + (point[0] - least[0]) * scale, shift[1] + (point[1] - least[1]) * scale];
    let mut path = Vec::new();
    for (number, ring) in rings.iter().enumerate() {
        // A ring inside an odd number of others is a hole: it runs the other way round.
        let inside = |other: &Vec<[f64; 2]>| ring.first().is_some_and(|point| holds(other, *point));
        let depth = rings.iter().enumerate().filter(|(other, around)| *other != number && inside(around)).count();
        let forwards = (doubled_area(ring) > 0.0) == (depth % 2 == 0);
        let mut points: Vec<[f64; 2]> = ring.iter().map(at).collect();
        if !forwards {
            points.reverse();
        }
        path.extend(points.iter().take(1).map(|point| Segment::Move(*point)));
        path.extend(points.iter().skip(1).map(|point| Segment::Line(*point)));
        path.push(Segment::Close);
    }
    Shape { path, paint: Paint::Fill(Colour(colour)) }
}

/// Each point of a ring with the one after it.
fn sides(ring: &[[f64; 2]]) -> impl Iterator<Item = ([f64; 2], [f64; 2])> {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

/// Twice the area inside a ring, below zero where it runs the other way round (shoelace).
fn doubled_area(ring: &[[f64; 2]]) -> f64 {
    sides(ring).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum()
}

/// The point lies inside of the ring: a line from it crosses the ring an odd number of times.
fn holds(ring: &[[f64; 2]], [x, y]: [f64; 2]) -> bool {
    let crosses = |(a, b): ([f64; 2], [f64; 2])| {
        (a[1] > y) != (b[1] > y) && x < (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) + a[0]
    };
    sides(ring).filter(|side| crosses(*side)).count() % 2 == 1
}
