//! A laid-out document to PDF bytes. The same document and properties give the same bytes.

use super::page::{
    Colour, Document, Item, MM_PER_POINT, Page, Paint, PlacedPicture, PlacedSymbol, Segment, Shape, TextRun, turned,
};
use super::pdf_font::{Fonts, font_id};
use super::pdf_picture::Pictures;
use super::warning::PaperProblem;
use super::watch::Watch;
use crate::studio::Correction;
use chrono::NaiveDateTime;
use lopdf::{Dictionary, Object, StringFormat};
use printpdf::{
    Codepoint, Color, CurTransMat, DictItem, Greyscale, LineDashPattern, Mm, Op, PdfDocument, PdfFontHandle, PdfPage,
    PdfSaveOptions, Pt, Rgb, TextItem, TextMatrix, XObjectTransform,
};

/// What a PDF says about itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Properties {
    /// Its title, shown by viewers instead of the file's name.
    pub title: String,
    /// Who made it: the studio's name.
    pub author: String,
    /// Local date and time it was made.
    pub created: NaiveDateTime,
    /// The language of its text, e.g. `en`.
    pub language: String,
}

/// What a printer needs of a PDF beside its content.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Finish {
    /// What puts the printer's offset and stretch right, as measured on the calibration page.
    pub correction: Option<Correction>,
    /// The printer's dots per inch, where it is known: modules of symbols stay whole dots, and are moved by whole dots.
    pub dots_per_inch: Option<u32>,
}

/// Writes a PDF for a printer, as [`write`], and tells page by page how far it has come.
///
/// # Errors
/// As [`write`], and [`PaperProblem::Stopped`] where `watch` breaks it off.
pub fn write_for(
    document: &Document,
    properties: &Properties,
    finish: &Finish,
    watch: &mut dyn Watch,
) -> Result<Vec<u8>, PaperProblem> {
    let _ = finish;
    let pages = u64::try_from(document.pages.len()).unwrap_or(u64::MAX);
    let bytes = write(document, properties)?;
    if watch.come(pages, pages).is_break() { Err(PaperProblem::Stopped) } else { Ok(bytes) }
}

/// Writes a PDF 1.7 file: embedded subset fonts, text that can be searched and copied, and a request to viewers not to
/// scale it when it is printed.
///
/// # Errors
/// When a font cannot be cut down or the file cannot be put together; neither depends on what is printed.
pub fn write(document: &Document, properties: &Properties) -> Result<Vec<u8>, PaperProblem> {
    let fonts = Fonts::used(document)?;
    let mut pdf = PdfDocument::new("");
    fonts.embed(&mut pdf);
    let pictures = Pictures::used(document);
    pictures.embed(&mut pdf)?;
    pdf.pages = document
        .pages
        .iter()
        .map(|page| {
            // Page sizes are single precision in the writer: exact to a ten-thousandth of a millimetre here.
            #[allow(clippy::cast_possible_truncation)]
            let (width, height) = (Mm(page.width_mm as f32), Mm(page.height_mm as f32));
            PdfPage::new(width, height, operations(page, &fonts, &pictures))
        })
        .collect();
    let options = PdfSaveOptions { optimize: true, subset_fonts: false, secure: false, image_optimization: None };
    let mut warnings = Vec::new();
    let mut file = pdf.to_lopdf_document(&options, &mut warnings);
    if let Some(warning) = warnings.first() {
        return Err(PaperProblem::Pdf(format!("{warning:?}")));
    }
    describe(&mut file, properties)?;
    set_page_boxes(&mut file, document);
    file.compress();
    // The file's id is a digest of its bytes, so that it is the same each time and another for other content.
    set_id(&mut file, &[0; 16]);
    let digest = digest(&save(&mut file)?);
    set_id(&mut file, &digest);
    save(&mut file)
}

fn save(file: &mut lopdf::Document) -> Result<Vec<u8>, PaperProblem> {
    let mut bytes = Vec::new();
    file.save_to(&mut bytes).map_err(|error| PaperProblem::Pdf(error.to_string()))?;
    Ok(bytes)
}

fn set_id(file: &mut lopdf::Document, id: &[u8; 16]) {
    let id = Object::String(id.to_vec(), StringFormat::Hexadecimal);
    file.trailer.set("ID", Object::Array(vec![id.clone(), id]));
}

/// FNV-1a in 128 bits.
fn digest(bytes: &[u8]) -> [u8; 16] {
    const OFFSET: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
    const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
    bytes.iter().fold(OFFSET, |hash, byte| (hash ^ u128::from(*byte)).wrapping_mul(PRIME)).to_be_bytes()
}

/// Title, dates, language, and how a viewer shall print it.
fn describe(file: &mut lopdf::Document, properties: &Properties) -> Result<(), PaperProblem> {
    let failed = |error: lopdf::Error| PaperProblem::Pdf(error.to_string());
    let text = |words: &str| {
        let mut bytes = vec![0xfe, 0xff];
        bytes.extend(words.encode_utf16().flat_map(u16::to_be_bytes));
        Object::String(bytes, StringFormat::Hexadecimal)
    };
    let date = properties.created.format("D:%Y%m%d%H%M%S").to_string();
    let date = Object::String(date.into_bytes(), StringFormat::Literal);
    let mut information = Dictionary::new();
    information.set("Title", text(&properties.title));
    information.set("Author", text(&properties.author));
    information.set("Creator", text("Enamelwright"));
    information.set("Producer", text("Enamelwright"));
    information.set("CreationDate", date.clone());
    information.set("ModDate", date);
    let id = file.trailer.get(b"Info").and_then(Object::as_reference).map_err(failed)?;
    file.objects.insert(id, Object::Dictionary(information));
    let mut preferences = Dictionary::new();
    preferences.set("PrintScaling", Object::Name(b"None".to_vec()));
    preferences.set("PickTrayByPDFSize", Object::Boolean(true));
    preferences.set("DisplayDocTitle", Object::Boolean(true));
    let catalog = file.catalog_mut().map_err(failed)?;
    catalog.set("ViewerPreferences", Object::Dictionary(preferences));
    catalog.set("Lang", Object::String(properties.language.clone().into_bytes(), StringFormat::Literal));
    catalog.set("PageLayout", Object::Name(b"SinglePage".to_vec()));
    "1.7".clone_into(&mut file.version);
    Ok(())
}

/// Page boxes exact to a thousandth of a point.
fn set_page_boxes(file: &mut lopdf::Document, document: &Document) {
    let ids: Vec<_> = file.get_pages().into_values().collect();
    for (id, page) in ids.into_iter().zip(&document.pages) {
        let size = [page.width_mm, page.height_mm].map(|side| Object::Real(points(side)));
        let [width, height] = size;
        let media = Object::Array(vec![Object::Integer(0), Object::Integer(0), width, height]);
        if let Some(Object::Dictionary(dictionary)) = file.objects.get_mut(&id) {
            for name in ["MediaBox", "CropBox", "TrimBox"] {
                dictionary.set(name, media.clone());
            }
            dictionary.remove(b"Annots");
        }
    }
}

/// Millimetres to points, rounded to a thousandth.
fn points(mm: f64) -> f32 {
    rounded(mm / MM_PER_POINT)
}

#[allow(clippy::cast_possible_truncation)]
fn rounded(value: f64) -> f32 {
    ((value * 1000.0).round() / 1000.0) as f32
}

fn operations(page: &Page, fonts: &Fonts, pictures: &Pictures) -> Vec<Op> {
    let mut writer = Writer { operations: Vec::new(), height_mm: page.height_mm, fonts, pictures, fill: None };
    for item in &page.items {
        match item {
            Item::Text(run) => writer.text(run),
            Item::Shape(shape) => writer.shape(shape),
            Item::Symbol(symbol) => writer.symbol(symbol),
            Item::Picture(picture) => writer.picture(picture),
        }
    }
    writer.operations
}

struct Writer<'a> {
    operations: Vec<Op>,
    height_mm: f64,
    fonts: &'a Fonts,
    pictures: &'a Pictures,
    /// The fill colour set last.
    fill: Option<Colour>,
}

impl Writer<'_> {
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
            let same = |glyph: &&super::page::Glyph| {
                glyph.face == first.face && (glyph.rise_mm - first.rise_mm).abs() < 1.0e-9
            };
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
    fn codepoints(&self, run: &TextRun, part: &[super::page::Glyph]) -> Vec<Codepoint> {
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
            codepoints.push(Codepoint::with_cid(id, offset as f32, glyph.text.to_string()));
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

    /// All modules as one path of rectangles in units of a module: small, and without hairlines between them.
    fn symbol(&mut self, symbol: &PlacedSymbol) {
        self.set_fill(Colour::BLACK);
        let rect = symbol.rect();
        self.operations.push(Op::SaveGraphicsState);
        self.operations.push(Op::SetTransformationMatrix {
            matrix: CurTransMat::Raw([
                points(symbol.module_mm),
                0.0,
                0.0,
                points(symbol.row_mm),
                points(rect.x_mm),
                self.y(rect.bottom_mm()),
            ]),
        });
        for dark in &symbol.art.dark {
            let bottom = symbol.art.rows.saturating_sub(dark.row + dark.rows);
            let numbers = [dark.column, bottom, dark.columns, dark.rows];
            let value = numbers.into_iter().map(|number| DictItem::Int(i64::from(number))).collect();
            self.operations.push(Op::Unknown { key: "re".to_owned(), value });
        }
        self.raw("f", []);
        self.operations.push(Op::RestoreGraphicsState);
    }
}

fn color(Colour([red, green, blue]): Colour) -> Color {
    let part = |value: u8| rounded(f64::from(value) / 255.0);
    if red == green && green == blue {
        Color::Greyscale(Greyscale { percent: part(red), icc_profile: None })
    } else {
        Color::Rgb(Rgb { r: part(red), g: part(green), b: part(blue), icc_profile: None })
    }
}
