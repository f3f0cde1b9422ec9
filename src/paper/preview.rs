//! A page as filled and drawn paths in millimetres, for the screen: what the PDF draws, glyph outlines included.

use super::page::{Colour, Face, Item, MM_PER_POINT, Page, Paint, PlacedPicture, Rect, Segment, TextRun};
use std::collections::HashMap;
use std::sync::Arc;

/// A path to paint.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Its pieces, in millimetres from the page's top left corner.
    pub path: Vec<Segment>,
    /// How it is painted.
    pub paint: Paint,
    /// The picture that fills the path; the paint stands for it where pictures cannot be drawn.
    pub picture: Option<PlacedPicture>,
}

impl Mark {
    fn painted(path: Vec<Segment>, paint: Paint) -> Self {
        Self { path, paint, picture: None }
    }

    /// The box around the path's points (control points included); none for an empty path.
    pub fn bounds(&self) -> Option<Rect> {
        let half = match self.paint {
            Paint::Fill(_) => 0.0,
            Paint::Line { width_mm, .. } => width_mm / 2.0,
        };
        let mut box_: Option<[f64; 4]> = None;
        let mut add = |[x, y]: [f64; 2]| {
            let [left, top, right, bottom] = box_.unwrap_or([x, y, x, y]);
            box_ = Some([left.min(x), top.min(y), right.max(x), bottom.max(y)]);
        };
        for segment in &self.path {
            match segment {
                Segment::Move(point) | Segment::Line(point) => add(*point),
                Segment::Cubic(first, second, end) => {
                    add(*first);
                    add(*second);
                    add(*end);
                }
                Segment::Close => {}
            }
        }
        box_.map(|[left, top, right, bottom]| Rect {
            x_mm: left - half,
            y_mm: top - half,
            width_mm: right - left + 2.0 * half,
            height_mm: bottom - top + 2.0 * half,
        })
    }
}

/// Turns items into paths; keeps the outlines it has read.
pub struct Outliner {
    faces: Vec<(Face, ttf_parser::Face<'static>)>,
    outlines: HashMap<(Face, u16), Arc<[Segment]>>,
}

impl std::fmt::Debug for Outliner {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Outliner").field("outlines", &self.outlines.len()).finish_non_exhaustive()
    }
}

impl Default for Outliner {
    fn default() -> Self {
        Self::new()
    }
}

impl Outliner {
    /// An outliner of the built-in faces; a Japanese one is read when it is first met.
    pub fn new() -> Self {
        let faces = Face::ALL
            .into_iter()
            .filter_map(|face| ttf_parser::Face::parse(face.bytes(), 0).ok().map(|parsed| (face, parsed)))
            .collect();
        Self { faces, outlines: HashMap::new() }
    }

    /// Everything on a page, back to front; one path for each line of text, shape and symbol.
    pub fn marks(&mut self, page: &Page) -> Vec<Mark> {
        page.items.iter().map(|item| self.mark(item)).collect()
    }

    /// One item.
    pub fn mark(&mut self, item: &Item) -> Mark {
        match item {
            Item::Text(run) => Mark::painted(self.outline(run), Paint::Fill(run.colour)),
            Item::Shape(shape) => Mark::painted(shape.path.clone(), shape.paint),
            Item::Symbol(symbol) => {
                let mut path = Vec::with_capacity(symbol.art.dark.len() * 5);
                for dark in &symbol.art.dark {
                    let left = symbol.x_mm + f64::from(dark.column) * symbol.module_mm;
                    let right = left + f64::from(dark.columns) * symbol.module_mm;
                    let top = symbol.y_mm + f64::from(dark.row) * symbol.row_mm;
                    let bottom = top + f64::from(dark.rows) * symbol.row_mm;
                    path.extend([
                        Segment::Move([left, top]),
                        Segment::Line([right, top]),
                        Segment::Line([right, bottom]),
                        Segment::Line([left, bottom]),
                        Segment::Close,
                    ]);
                }
                Mark::painted(path, Paint::Fill(Colour::BLACK))
            }
            Item::Picture(picture) => Mark {
                path: super::page::rectangle(picture.rect),
                paint: Paint::Fill(picture.image.mean()),
                picture: Some(picture.clone()),
            },
        }
    }

    fn outline(&mut self, run: &TextRun) -> Vec<Segment> {
        let em = run.size_pt * MM_PER_POINT;
        let mut path = Vec::new();
        for glyph in run.glyphs.iter() {
            let outline = self.glyph(glyph.face, glyph.id);
            let at = |[dx, dy]: [f64; 2]| run.at(glyph.x_mm + dx * em, glyph.rise_mm + dy * em);
            path.extend(outline.iter().map(|segment| match *segment {
                Segment::Move(point) => Segment::Move(at(point)),
                Segment::Line(point) => Segment::Line(at(point)),
                Segment::Cubic(first, second, end) => Segment::Cubic(at(first), at(second), at(end)),
                Segment::Close => Segment::Close,
            }));
        }
        path
    }

    /// A glyph's outline in parts of the em, y upwards.
    fn glyph(&mut self, face: Face, id: u16) -> Arc<[Segment]> {
        if let Some(outline) = self.outlines.get(&(face, id)) {
            return Arc::clone(outline);
        }
        if Face::JAPANESE.contains(&face) && !self.faces.iter().any(|(known, _)| *known == face) {
            self.faces.extend(ttf_parser::Face::parse(face.bytes(), 0).ok().map(|parsed| (face, parsed)));
        }
        let mut pen = Pen::default();
        if let Some((_, parsed)) = self.faces.iter().find(|(known, _)| *known == face) {
            pen.scale = 1.0 / f64::from(parsed.units_per_em());
            // None means a glyph without an outline: a space.
            let _ = parsed.outline_glyph(ttf_parser::GlyphId(id), &mut pen);
        }
        let outline: Arc<[Segment]> = pen.path.into();
        self.outlines.insert((face, id), Arc::clone(&outline));
        outline
    }
}

#[derive(Default)]
struct Pen {
    path: Vec<Segment>,
    at: [f64; 2],
    scale: f64,
}

impl Pen {
    fn point(&self, x: f32, y: f32) -> [f64; 2] {
        [f64::from(x) * self.scale, f64::from(y) * self.scale]
    }
}

impl ttf_parser::OutlineBuilder for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.at = self.point(x, y);
        self.path.push(Segment::Move(self.at));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.at = self.point(x, y);
        self.path.push(Segment::Line(self.at));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        // A quadratic curve is the cubic whose control points lie two thirds of the way to its own.
        let (control, end, start) = (self.point(x1, y1), self.point(x, y), self.at);
        let between = |[fx, fy]: [f64; 2]| {
            let [cx, cy] = control;
            [fx + (cx - fx) * 2.0 / 3.0, fy + (cy - fy) * 2.0 / 3.0]
        };
        self.path.push(Segment::Cubic(between(start), between(end), end));
        self.at = end;
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let end = self.point(x, y);
        self.path.push(Segment::Cubic(self.point(x1, y1), self.point(x2, y2), end));
        self.at = end;
    }

    fn close(&mut self) {
        self.path.push(Segment::Close);
    }
}
