//! The pictures of a PDF: each embedded once, with no more pixels than its largest place can show.

use super::page::{Document, Item};
use super::picture::{Content, Image, MOST_DPI};
use super::warning::PaperProblem;
use printpdf::{
    DictItem, ExternalStream, ExternalXObject, PdfDocument, RawImage, RawImageData, RawImageFormat, XObject, XObjectId,
};
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

/// The pictures a document uses, in the order they come.
pub(super) struct Pictures {
    used: Vec<Used>,
    numbers: HashMap<(u128, u32, u32), usize>,
}

struct Used {
    image: Arc<Image>,
    /// Width and height of its largest place before it is turned, mm.
    largest_mm: [f64; 2],
}

impl Pictures {
    pub(super) fn used(document: &Document) -> Self {
        let mut pictures = Self { used: Vec::new(), numbers: HashMap::new() };
        for item in document.pages.iter().flat_map(|page| &page.items) {
            let Item::Picture(picture) = item else { continue };
            let [width, height] = picture.upright_mm();
            let number = *pictures.numbers.entry(picture.image.digest()).or_insert_with(|| {
                pictures.used.push(Used { image: Arc::clone(&picture.image), largest_mm: [0.0; 2] });
                pictures.used.len() - 1
            });
            if let Some(used) = pictures.used.get_mut(number) {
                let [most_width, most_height] = used.largest_mm;
                used.largest_mm = [most_width.max(width), most_height.max(height)];
            }
        }
        pictures
    }

    pub(super) fn id(&self, image: &Image) -> Option<XObjectId> {
        self.numbers.get(&image.digest()).map(|number| id(*number))
    }

    pub(super) fn embed(&self, pdf: &mut PdfDocument) -> Result<(), PaperProblem> {
        for (number, used) in self.used.iter().enumerate() {
            // A page is far smaller than what would not fit a count of pixels.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let most = used.largest_mm.map(|mm| (mm / 25.4 * MOST_DPI).ceil().clamp(1.0, 1.0e6) as u32);
            let image = used.image.at_most(most);
            let image = image.ok_or_else(|| PaperProblem::Pdf("a picture cannot be made smaller".to_owned()))?;
            pdf.resources.xobjects.map.insert(id(number), object(&image));
        }
        Ok(())
    }
}

fn id(number: usize) -> XObjectId {
    XObjectId(format!("Picture{}", number + 1))
}

fn object(image: &Image) -> XObject {
    match &image.content {
        Content::Jpeg { bytes, components } => {
            let name = |name: &str| DictItem::Name(name.as_bytes().to_vec());
            let number = |number: u32| DictItem::Int(i64::from(number));
            let entries = [
                ("Type", name("XObject")),
                ("Subtype", name("Image")),
                ("Width", number(image.width)),
                ("Height", number(image.height)),
                ("BitsPerComponent", DictItem::Int(8)),
                ("ColorSpace", name(if *components == 1 { "DeviceGray" } else { "DeviceRGB" })),
                ("Filter", name("DCTDecode")),
            ];
            let dict: BTreeMap<String, DictItem> =
                entries.into_iter().map(|(key, value)| (key.to_owned(), value)).collect();
            let stream = ExternalStream { dict, content: bytes.to_vec(), compress: false };
            XObject::External(ExternalXObject { stream, width: None, height: None, dpi: None })
        }
        Content::Pixels(pixels) => {
            let whole = pixels.iter().skip(3).step_by(4).all(|cover| *cover == 255);
            let (data_format, bytes) = if whole {
                let colours = pixels.chunks_exact(4).flat_map(|pixel| pixel.iter().take(3).copied()).collect();
                (RawImageFormat::RGB8, colours)
            } else {
                (RawImageFormat::RGBA8, pixels.to_vec())
            };
            XObject::Image(RawImage {
                pixels: RawImageData::U8(bytes),
                width: usize::try_from(image.width).unwrap_or_default(),
                height: usize::try_from(image.height).unwrap_or_default(),
                data_format,
                tag: Vec::new(),
            })
        }
    }
}
