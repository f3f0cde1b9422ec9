//! The fonts of a PDF: each face cut down to the glyphs that are used.

use super::page::{Document, Face, Item};
use super::warning::PaperProblem;
use printpdf::{Codepoint, FontId, Op, ParsedFont, PdfDocument, PdfFont, PdfFontHandle, Pt, TextItem};
use std::collections::BTreeMap;
use std::sync::Arc;
use subsetter::GlyphRemapper;

/// The faces a document uses.
pub(super) struct Fonts {
    faces: BTreeMap<Face, Subset>,
}

struct Subset {
    font: ParsedFont,
    /// A glyph's number in the file, and what it is in the subset.
    glyphs: BTreeMap<u16, Cut>,
}

/// A glyph of a subset.
struct Cut {
    number: u16,
    /// In thousandths of the size.
    width: f64,
    /// The characters it stands for.
    text: Arc<str>,
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
        let mut used: BTreeMap<Face, BTreeMap<u16, Arc<str>>> = BTreeMap::new();
        for item in document.pages.iter().flat_map(|page| &page.items) {
            if let Item::Text(run) = item {
                for glyph in run.glyphs.iter() {
                    used.entry(glyph.face).or_default().insert(glyph.id, Arc::clone(&glyph.text));
                }
            }
        }
        let faces = used
            .into_iter()
            .map(|(face, glyphs)| Subset::new(face, glyphs).map(|subset| (face, subset)))
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
        let cut = self.faces.get(&face).and_then(|subset| subset.glyphs.get(&id));
        cut.map_or((0, 0.0), |cut| (cut.number, cut.width))
    }

    /// Operators that show every glyph with the characters it stands for. They are on no page that is printed: the writer
    /// learns from them what to embed.
    pub(super) fn roll_call(&self) -> Vec<Op> {
        let mut operations = Vec::new();
        for (face, subset) in &self.faces {
            let glyphs = subset.glyphs.values();
            let glyphs = glyphs.map(|cut| Codepoint::with_cid(cut.number, 0.0, cut.text.to_string())).collect();
            operations.extend([
                Op::StartTextSection,
                Op::SetFont { font: PdfFontHandle::External(font_id(*face)), size: Pt(1.0) },
                Op::ShowText { items: vec![TextItem::GlyphIds(glyphs)] },
                Op::EndTextSection,
            ]);
        }
        operations
    }
}

impl Subset {
    fn new(face: Face, used: BTreeMap<u16, Arc<str>>) -> Result<Self, PaperProblem> {
        let failed = |what: &str| PaperProblem::Pdf(format!("{}: {what}", face.postscript_name()));
        let mut font = ParsedFont::from_bytes(face.bytes(), 0, &mut Vec::new()).ok_or_else(|| failed("not a font"))?;
        let mut remapper = GlyphRemapper::new();
        let name = format!("{}+{}", tag(used.keys().copied()), face.postscript_name());
        let mut glyphs = BTreeMap::new();
        let mut widths = BTreeMap::new();
        for (id, text) in used {
            let number = remapper.remap(id);
            let width = font.get_glyph_width(id).unwrap_or(0);
            widths.insert(number, width);
            // The writer cuts widths to whole thousandths; so does this, or the pen would drift.
            let thousandths = (f64::from(width) * 1000.0 / f64::from(font.units_per_em.max(1))).trunc();
            glyphs.insert(id, Cut { number, width: thousandths, text });
        }
        font.original_bytes =
            subsetter::subset(face.bytes(), 0, &remapper).map_err(|error| failed(&error.to_string()))?;
        font.codepoint_to_glyph.clear();
        font.glyph_widths = widths;
        font.font_name = Some(name);
        Ok(Self { font, glyphs })
    }
}

/// Six capitals that stand for the set of glyphs (ISO 32000-1, 9.6.4).
fn tag(glyphs: impl Iterator<Item = u16>) -> String {
    let mut hash = glyphs.fold(0x811c_9dc5_u32, |hash, id| (hash ^ u32::from(id)).wrapping_mul(0x0100_0193));
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
