//! The fonts of a PDF: each face cut down to the glyphs that are used.

use super::page::{Document, Face, Item};
use super::warning::PaperProblem;
use printpdf::{FontId, ParsedFont, PdfDocument, PdfFont};
use std::collections::{BTreeMap, BTreeSet};
use subsetter::GlyphRemapper;

/// The faces a document uses.
pub(super) struct Fonts {
    faces: BTreeMap<Face, Subset>,
}

struct Subset {
    font: ParsedFont,
    /// A glyph's number in the file, and its number in the subset with its width in thousandths of the size.
    glyphs: BTreeMap<u16, (u16, f64)>,
}

/// The name a face has inside a PDF.
pub(super) fn font_id(face: Face) -> FontId {
    FontId(
        match face {
            Face::Regular => "TypeRegular",
            Face::Semibold => "TypeSemibold",
            Face::Bold => "TypeBold",
            Face::Italic => "TypeItalic",
            Face::Japanese => "TypeJapanese",
            Face::JapaneseBold => "TypeJapaneseBold",
        }
        .to_owned(),
    )
}

impl Fonts {
    /// Cuts down the faces a document uses.
    pub(super) fn used(document: &Document) -> Result<Self, PaperProblem> {
        let mut used: BTreeMap<Face, BTreeSet<u16>> = BTreeMap::new();
        for item in document.pages.iter().flat_map(|page| &page.items) {
            if let Item::Text(run) = item {
                for glyph in run.glyphs.iter() {
                    used.entry(glyph.face).or_default().insert(glyph.id);
                }
            }
        }
        let faces = used
            .into_iter()
            .map(|(face, glyphs)| Subset::new(face, &glyphs).map(|subset| (face, subset)))
            .collect::<Result<_, _>>()?;
        Ok(Self { faces })
    }

    pub(super) fn embed(&self, pdf: &mut PdfDocument) {
        for (face, subset) in &self.faces {
            pdf.resources.fonts.map.insert(font_id(*face), PdfFont::new(subset.font.clone()));
        }
    }

    /// A glyph's number in the subset and its width in thousandths of the size.
    pub(super) fn glyph(&self, face: Face, id: u16) -> (u16, f64) {
        self.faces.get(&face).and_then(|subset| subset.glyphs.get(&id)).copied().unwrap_or((0, 0.0))
    }
}

impl Subset {
    fn new(face: Face, glyphs: &BTreeSet<u16>) -> Result<Self, PaperProblem> {
        let failed = |what: &str| PaperProblem::Pdf(format!("{}: {what}", face.postscript_name()));
        let mut font = ParsedFont::from_bytes(face.bytes(), 0, &mut Vec::new()).ok_or_else(|| failed("not a font"))?;
        let mut remapper = GlyphRemapper::new();
        let mut numbers = BTreeMap::new();
        let mut widths = BTreeMap::new();
        for id in glyphs {
            let number = remapper.remap(*id);
            let width = font.get_glyph_width(*id).unwrap_or(0);
            widths.insert(number, width);
            // The writer cuts widths to whole thousandths; so does this, or the pen would drift.
            let thousandths = (f64::from(width) * 1000.0 / f64::from(font.units_per_em.max(1))).trunc();
            numbers.insert(*id, (number, thousandths));
        }
        font.original_bytes =
            subsetter::subset(face.bytes(), 0, &remapper).map_err(|error| failed(&error.to_string()))?;
        font.codepoint_to_glyph.clear();
        font.glyph_widths = widths;
        font.font_name = Some(format!("{}+{}", tag(glyphs), face.postscript_name()));
        Ok(Self { font, glyphs: numbers })
    }
}

/// Six capitals that stand for the set of glyphs (ISO 32000-1, 9.6.4).
fn tag(glyphs: &BTreeSet<u16>) -> String {
    let mut hash = glyphs.iter().fold(0x811c_9dc5_u32, |hash, id| (hash ^ u32::from(*id)).wrapping_mul(0x0100_0193));
    let mut letters = String::new();
    for letter in std::iter::repeat_with(|| {
        let letter = u8::try_from(hash % 26).unwrap_or(0);
        hash /= 26;
        char::from(b'A' + letter)
    })
    .take(6)
    {
        letters.push(letter);
    }
    letters
}
