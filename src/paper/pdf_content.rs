//! The content of a PDF's pages, page by page: the operators of a page live only until its stream is packed.

use super::page::{
    Colour, Document, Glyph, Item, MM_PER_POINT, Page, Paint, PlacedPicture, PlacedSymbol, Segment, Shape, TextRun,
    turned,
};
use super::pdf::{Finish, mm_of, options, page_of, points, refused, rounded};
use super::pdf_font::{Fonts, font_id};
use super::pdf_picture::Pictures;
use super::warning::PaperProblem;
use super::watch::Watch;
use lopdf::{Object, Stream};
use printpdf::{
    Codepoint, Color, CurTransMat, DictItem, Greyscale, LineDashPattern, Op, PdfDocument, PdfFontHandle, Pt, Rgb,
    TextItem, TextMatrix, XObjectTransform,
};
use std::fmt::Write as _;

/// Pages whose operators are held at the same time: enough that the writer's preparations do not count, few enough that
/// a long run takes no more memory than a short one.
const AT_ONCE: usize = 8;

/// The packed content streams of a document's pages, in their order.
pub(super) fn streams(
    document: &Document,
    fonts: &Fonts,
    pictures: &Pictures,
    finish: &Finish,
    watch: &mut dyn Watch,
) -> Result<Vec<Stream>, PaperProblem> {
    let correcting = Correcting::of(finish);
    let pages = u64::try_from(document.pages.len()).unwrap_or(u64::MAX);
    // Fonts are needed here for their widths only; what else this file comes to hold is thrown away.
    let mut pdf = PdfDocument::new("");
    fonts.embed(&mut pdf);
    let mut streams = Vec::with_capacity(document.pages.len());
    for group in document.pages.chunks(AT_ONCE) {
        pdf.pages =
            group.iter().map(|page| page_of(page, operations(page, fonts, pictures, correcting.as_ref()))).collect();
        let mut warnings = Vec::new();
        let mut file = pdf.to_lopdf_document(&options(), &mut warnings);
        pdf.pages.clear();
        refused(&warnings)?;
        for id in file.get_pages().into_values() {
            let content = file.get_dictionary(id).and_then(|page| page.get(b"Contents")?.as_reference());
            let stream = content.map(|id| file.objects.remove(&id));
            let Ok(Some(Object::Stream(mut stream))) = stream else {
                return Err(PaperProblem::Pdf("a page has no content".to_owned()));
            };
            stream.compress().map_err(|error| PaperProblem::Pdf(error.to_string()))?;
            stream.content.shrink_to_fit();
            streams.push(stream);
            if watch.come(u64::try_from(streams.len()).unwrap_or(u64::MAX), pages).is_break() {
                return Err(PaperProblem::Stopped);
            }
        }
    }
    Ok(streams)
}

/// What puts a printer right: every point of a page is stretched from the top left corner and then moved, as
/// [`super::calibration`] derives it.
struct Correcting {
    right_mm: f64,
    down_mm: f64,
    wide: f64,
    high: f64,
    /// A dot of the printer, where it is known.
    dot_mm: Option<f64>,
}

impl Correcting {
    /// None where there is nothing to put right.
    fn of(finish: &Finish) -> Option<Self> {
        let correction = finish.correction.as_ref()?;
        let [right_mm, down_mm, wide, high] =
            [correction.right_mm, correction.down_mm, correction.wide, correction.high].map(mm_of);
        let nothing = right_mm == 0.0 && down_mm == 0.0 && (wide - 1.0).abs() < 1.0e-9 && (high - 1.0).abs() < 1.0e-9;
        let dot_mm = finish.dots_per_inch.filter(|dots| *dots > 0).map(|dots| 25.4 / f64::from(dots));
        (!nothing).then_some(Self { right_mm, down_mm, wide, high, dot_mm })
    }

    /// For a page that is so high, with y upwards.
    fn matrix(&self, height_mm: f64) -> CurTransMat {
        let up = points(height_mm * (1.0 - self.high) - self.down_mm);
        CurTransMat::Raw([fine(self.wide), 0.0, 0.0, fine(self.high), points(self.right_mm), up])
    }

    /// Where a symbol comes to stand whose modules are whole dots: its middle as near as whole dots allow to where it
    /// belongs, and not stretched. None where the printer's dots are not known: then it goes with the page.
    fn by_dots(&self, symbol: &PlacedSymbol) -> Option<PlacedSymbol> {
        let dot = self.dot_mm?;
        let rect = symbol.rect();
        let by = |start: f64, length: f64, scale: f64, moved: f64| {
            let middle = start + length / 2.0;
            ((middle * scale + moved - middle) / dot).round() * dot
        };
        Some(PlacedSymbol {
            x_mm: symbol.x_mm + by(rect.x_mm, rect.width_mm, self.wide, self.right_mm),
            y_mm: symbol.y_mm + by(rect.y_mm, rect.height_mm, self.high, self.down_mm),
            ..symbol.clone()
        })
    }
}

fn operations(page: &Page, fonts: &Fonts, pictures: &Pictures, correcting: Option<&Correcting>) -> Vec<Op> {
    let mut writer =
        Writer { operations: Vec::new(), height_mm: page.height_mm, fonts, pictures, correcting, fill: None };
    writer.correct();
    for item in &page.items {
        match item {
            Item::Text(run) => writer.text(run),
            Item::Shape(shape) => writer.shape(shape),
            Item::Symbol(symbol) => writer.symbol(symbol),
            Item::Picture(picture) => writer.picture(picture),
        }
    }
    if correcting.is_some() {
        writer.operations.push(Op::RestoreGraphicsState);
    }
    writer.operations
}

struct Writer<'a> {
    operations: Vec<Op>,
    height_mm: f64,
    fonts: &'a Fonts,
    pictures: &'a Pictures,
    correcting: Option<&'a Correcting>,
    /// The fill colour set last.
    fill: Option<Colour>,
}

impl Writer<'_> {
    /// The outermost transform, where there is one.
    fn correct(&mut self) {
        if let Some(correcting) = self.correcting {
            self.operations.push(Op::SaveGraphicsState);
            self.operations.push(Op::SetTransformationMatrix { matrix: correcting.matrix(self.height_mm) });
        }
    }

    fn raw(&mut self, key: &str, numbers: impl IntoIterator<Item = f32>) {
        let value = numbers.into_iter().map(DictItem::Real).collect();
        self.operations.push(Op::Unknown { key: key.to_owned(), value });
    }

    fn y(&self, y_mm: f64) -> f32 {
        points(self.height_mm - y_mm)
    }

    fn set_fill(&mut self, colour: Colour) {
        if self.fill != Some(colour) {
            self.operations.push(Op::SetFillColor { col: color(colour) });
            self.fill = Some(colour);
        }
    }

    fn text(&mut self, run: &TextRun) {
        self.set_fill(run.colour);
        self.operations.push(Op::StartTextSection);
        let mut rest = run.glyphs.as_ref();
        while let Some(first) = rest.first() {
            // One operator for as long as face and rise stay the same.
            let same = |glyph: &&Glyph| glyph.face == first.face && (glyph.rise_mm - first.rise_mm).abs() < 1.0e-9;
            let count = rest.iter().take_while(same).count();
            let (part, after) = rest.split_at(count);
            rest = after;
            self.operations.push(Op::SetFont {
                font: PdfFontHandle::External(font_id(first.face)),
                size: Pt(rounded(run.size_pt)),
            });
            // Along the baseline and up from it, with y upwards.
            let [[along_x, along_y], [up_x, up_y]] = [[1.0, 0.0], [0.0, -1.0]].map(|way| {
                let [x, y] = turned(way, run.turn);
                // Adding nothing makes a plain nothing of a negative one.
                [rounded(x) + 0.0, rounded(-y) + 0.0]
            });
            let [x, y] = run.at(first.x_mm, first.rise_mm);
            self.operations.push(Op::SetTextMatrix {
                matrix: TextMatrix::Raw([along_x, along_y, up_x, up_y, points(x), self.y(y)]),
            });
            self.operations.push(Op::ShowText { items: vec![TextItem::GlyphIds(self.codepoints(run, part))] });
        }
        self.operations.push(Op::EndTextSection);
    }

    /// Glyphs with what each must move the next, in thousandths of the size: kerning.
    fn codepoints(&self, run: &TextRun, part: &[Glyph]) -> Vec<Codepoint> {
        let em = run.size_pt * MM_PER_POINT;
        let origin = part.first().map_or(0.0, |glyph| glyph.x_mm);
        let mut pen = 0.0;
        let mut codepoints = Vec::with_capacity(part.len());
        for (number, glyph) in part.iter().enumerate() {
            let (id, width) = self.fonts.glyph(glyph.face, glyph.id);
            pen += width;
            let offset = part.get(number + 1).map_or(0.0, |next| (pen - (next.x_mm - origin) * 1000.0 / em).round());
            pen -= offset;
            // Whole thousandths, far inside single precision.
            #[allow(clippy::cast_possible_truncation)]
            // What it stands for is said once, by the fonts.
            codepoints.push(Codepoint::with_cid(id, offset as f32, String::new()));
        }
        codepoints
    }

    fn path(&mut self, path: &[Segment]) {
        for segment in path {
            match *segment {
                Segment::Move([x, y]) => {
                    let y = self.y(y);
                    self.raw("m", [points(x), y]);
                }
                Segment::Line([x, y]) => {
                    let y = self.y(y);
                    self.raw("l", [points(x), y]);
                }
                Segment::Cubic([ax, ay], [bx, by], [x, y]) => {
                    let (ay, by, y) = (self.y(ay), self.y(by), self.y(y));
                    self.raw("c", [points(ax), ay, points(bx), by, points(x), y]);
                }
                Segment::Close => self.raw("h", []),
            }
        }
    }

    fn shape(&mut self, shape: &Shape) {
        match shape.paint {
            Paint::Fill(colour) => {
                self.set_fill(colour);
                self.path(&shape.path);
                self.raw("f", []);
            }
            Paint::Line { colour, width_mm, dash_mm } => {
                self.operations.push(Op::SaveGraphicsState);
                self.operations.push(Op::SetOutlineColor { col: color(colour) });
                self.operations.push(Op::SetOutlineThickness { pt: Pt(points(width_mm)) });
                if let Some([dash, gap]) = dash_mm {
                    self.operations
                        .push(Op::SetLineDashPattern { dash: LineDashPattern::new(0.0, &[points(dash), points(gap)]) });
                }
                self.path(&shape.path);
                self.raw("S", []);
                self.operations.push(Op::RestoreGraphicsState);
            }
        }
    }

    /// A picture fills the unit square; its corners are brought to where they belong.
    fn picture(&mut self, picture: &PlacedPicture) {
        let Some(id) = self.pictures.id(&picture.image) else { return };
        let [[left, top], [across_x, across_y], [x, y]] = picture.corners();
        self.operations.push(Op::SaveGraphicsState);
        self.operations.push(Op::SetTransformationMatrix {
            matrix: CurTransMat::Raw([
                points(across_x - left),
                points(top - across_y),
                points(left - x),
                points(y - top),
                points(x),
                self.y(y),
            ]),
        });
        self.operations.push(Op::UseXobject {
            id,
            transform: XObjectTransform { no_auto_scale: true, ..XObjectTransform::default() },
        });
        self.operations.push(Op::RestoreGraphicsState);
    }

    fn symbol(&mut self, symbol: &PlacedSymbol) {
        match self.correcting.and_then(|correcting| correcting.by_dots(symbol)) {
            None => self.modules(symbol),
            Some(moved) => {
                // Outside of the transform, which would stretch it.
                self.operations.push(Op::RestoreGraphicsState);
                self.fill = None;
                self.modules(&moved);
                self.correct();
                self.fill = None;
            }
        }
    }

    /// All modules as one path of rectangles in units of a module: small, and without hairlines between them.
    fn modules(&mut self, symbol: &PlacedSymbol) {
        self.set_fill(Colour::BLACK);
        let rect = symbol.rect();
        self.operations.push(Op::SaveGraphicsState);
        self.operations.push(Op::SetTransformationMatrix {
            matrix: CurTransMat::Raw([
                fine(symbol.module_mm / MM_PER_POINT),
                0.0,
                0.0,
                fine(symbol.row_mm / MM_PER_POINT),
                points(rect.x_mm),
                self.y(rect.bottom_mm()),
            ]),
        });
        // The writer passes on what it does not know as it is, so the path is one piece instead of hundreds.
        let mut path = String::with_capacity(symbol.art.dark.len() * 14 + 1);
        for dark in &symbol.art.dark {
            let bottom = symbol.art.rows.saturating_sub(dark.row + dark.rows);
            // Writing into a string does not fail.
            let _ = writeln!(path, "{} {bottom} {} {} re", dark.column, dark.columns, dark.rows);
        }
        path.push('f');
        self.operations.push(Op::Unknown { key: path, value: Vec::new() });
        self.operations.push(Op::RestoreGraphicsState);
    }
}

/// A factor to a millionth: what a long way is multiplied with.
#[allow(clippy::cast_possible_truncation)]
fn fine(value: f64) -> f32 {
    ((value * 1.0e6).round() / 1.0e6) as f32
}

fn color(Colour([red, green, blue]): Colour) -> Color {
    let part = |value: u8| rounded(f64::from(value) / 255.0);
    if red == green && green == blue {
        Color::Greyscale(Greyscale { percent: part(red), icc_profile: None })
    } else {
        Color::Rgb(Rgb { r: part(red), g: part(green), b: part(blue), icc_profile: None })
    }
}
