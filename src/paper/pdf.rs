//! A laid-out document to PDF bytes. The same document and properties give the same bytes.

use super::page::{Document, MM_PER_POINT, Page};
use super::pdf_content::streams;
use super::pdf_font::Fonts;
use super::pdf_picture::Pictures;
use super::warning::PaperProblem;
use super::watch::{Unwatched, Watch};
use crate::measure::Decimal;
use crate::studio::Correction;
use chrono::NaiveDateTime;
use lopdf::{Dictionary, Object, Stream, StringFormat};
use printpdf::{Mm, Op, PdfDocument, PdfPage, PdfSaveOptions, PdfWarnMsg};
use rust_decimal::prelude::ToPrimitive;

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

/// Writes a PDF 1.7 file for a printer, as [`write()`], and tells page by page how far it has come. Page boxes are those of
/// the document; only what stands on the pages is corrected. The same document, properties and finish give the same
/// bytes.
///
/// # Errors
/// As [`write()`], and [`PaperProblem::Stopped`] where `watch` breaks it off.
pub fn write_for(
    document: &Document,
    properties: &Properties,
    finish: &Finish,
    watch: &mut dyn Watch,
) -> Result<Vec<u8>, PaperProblem> {
    let fonts = Fonts::used(document)?;
    let pictures = Pictures::used(document);
    let streams = streams(document, &fonts, &pictures, finish, watch)?;
    let mut pdf = PdfDocument::new("");
    fonts.embed(&mut pdf);
    pictures.embed(&mut pdf)?;
    // The first page shows every glyph, so that the writer embeds what each stands for; then it gets its own content.
    let mut roll_call = fonts.roll_call();
    pdf.pages = document.pages.iter().map(|page| page_of(page, std::mem::take(&mut roll_call))).collect();
    let mut warnings = Vec::new();
    let mut file = pdf.to_lopdf_document(&options(), &mut warnings);
    drop(pdf);
    refused(&warnings)?;
    finish_pages(&mut file, document, streams)?;
    describe(&mut file, properties)?;
    file.compress();
    // The file's id is a digest of its bytes, so that it is the same each time and another for other content.
    set_id(&mut file, &[0; 16]);
    let digest = digest(&save(&mut file)?);
    set_id(&mut file, &digest);
    save(&mut file)
}

/// Writes a PDF 1.7 file: embedded subset fonts, text that can be searched and copied, and a request to viewers not to
/// scale it when it is printed.
///
/// # Errors
/// When a font cannot be cut down or the file cannot be put together; neither depends on what is printed.
pub fn write(document: &Document, properties: &Properties) -> Result<Vec<u8>, PaperProblem> {
    write_for(document, properties, &Finish::default(), &mut Unwatched)
}

/// How the writer is asked: operators it does not know are passed on, fonts are cut down already.
pub(super) fn options() -> PdfSaveOptions {
    PdfSaveOptions { optimize: true, subset_fonts: false, secure: false, image_optimization: None }
}

/// A page of the writer's.
pub(super) fn page_of(page: &Page, operations: Vec<Op>) -> PdfPage {
    // Page sizes are single precision in the writer: exact to a ten-thousandth of a millimetre here.
    #[allow(clippy::cast_possible_truncation)]
    let (width, height) = (Mm(page.width_mm as f32), Mm(page.height_mm as f32));
    PdfPage::new(width, height, operations)
}

/// Anything the writer warns of would be missing from the paper.
pub(super) fn refused(warnings: &[PdfWarnMsg]) -> Result<(), PaperProblem> {
    warnings.first().map_or(Ok(()), |warning| Err(PaperProblem::Pdf(format!("{warning:?}"))))
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

/// Gives every page its content and its boxes, exact to a thousandth of a point: each box is the whole page, for what is
/// cut out of it is told by marks and outlines.
fn finish_pages(file: &mut lopdf::Document, document: &Document, streams: Vec<Stream>) -> Result<(), PaperProblem> {
    let failed = |error: lopdf::Error| PaperProblem::Pdf(error.to_string());
    let ids: Vec<_> = file.get_pages().into_values().collect();
    for ((id, page), stream) in ids.into_iter().zip(&document.pages).zip(streams) {
        let size = [page.width_mm, page.height_mm].map(|side| Object::Real(points(side)));
        let [width, height] = size;
        let whole = Object::Array(vec![Object::Integer(0), Object::Integer(0), width, height]);
        let dictionary = file.get_object_mut(id).and_then(Object::as_dict_mut).map_err(failed)?;
        for name in ["MediaBox", "CropBox", "BleedBox", "TrimBox"] {
            dictionary.set(name, whole.clone());
        }
        dictionary.remove(b"Annots");
        let content = dictionary.get(b"Contents").and_then(Object::as_reference).map_err(failed)?;
        file.objects.insert(content, Object::Stream(stream));
    }
    Ok(())
}

/// Millimetres to points, rounded to a thousandth.
pub(super) fn points(mm: f64) -> f32 {
    rounded(mm / MM_PER_POINT)
}

#[allow(clippy::cast_possible_truncation)]
pub(super) fn rounded(value: f64) -> f32 {
    ((value * 1000.0).round() / 1000.0) as f32
}

/// An exact number for geometry.
pub(super) fn mm_of(value: Decimal) -> f64 {
    value.to_f64().unwrap_or_default()
}
