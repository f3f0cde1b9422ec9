//! Pictures for papers: JPEG files as they are, anything else as pixels.

use super::page::Colour;
use image::codecs::jpeg::JpegEncoder;
use image::imageops::FilterType;
use image::{DynamicImage, ImageEncoder, ImageFormat, ImageReader, Limits, RgbaImage};
use std::io::Cursor;
use std::sync::Arc;

/// Dots per inch at which a picture is printed at most.
pub const MOST_DPI: f64 = 300.0;
/// Longest side of a picture that is read, pixels.
const MOST_SIDE: u32 = 20_000;
/// Memory a picture may take while it is read.
const MOST_MEMORY: u64 = 512 * 1024 * 1024;
/// Quality a JPEG is written with when it is made smaller.
const QUALITY: u8 = 90;

/// A picture that can be printed.
#[derive(Clone, PartialEq)]
pub struct Image {
    /// Width, pixels.
    pub width: u32,
    /// Height, pixels.
    pub height: u32,
    /// What it is made of.
    pub content: Content,
    /// Stands for the content: equal pictures are embedded once.
    digest: u128,
    mean: Colour,
}

/// What a picture is made of.
#[derive(Debug, Clone, PartialEq)]
pub enum Content {
    /// A JPEG file, grey (1) or colour (3).
    Jpeg {
        /// The file.
        bytes: Arc<[u8]>,
        /// Its components.
        components: u8,
    },
    /// Red, green, blue and how much they cover, row by row.
    Pixels(Arc<[u8]>),
}

/// Why a picture cannot be printed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PictureProblem {
    /// It is no picture that can be read.
    #[error("the picture cannot be read: {0}; a PNG or JPEG file is accepted")]
    Unread(String),
}

impl std::fmt::Debug for Image {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Image").field("width", &self.width).field("height", &self.height).finish_non_exhaustive()
    }
}

impl Image {
    /// Reads a PNG or JPEG file. A JPEG of one or three components is kept byte for byte; one of four is turned into
    /// pixels.
    ///
    /// # Errors
    /// When it is neither, is damaged, or is far too large.
    pub fn read(bytes: &[u8]) -> Result<Self, PictureProblem> {
        let format = image::guess_format(bytes).map_err(unread)?;
        if !matches!(format, ImageFormat::Png | ImageFormat::Jpeg) {
            return Err(PictureProblem::Unread(format!("it is {format:?}")));
        }
        let decoded = decode(bytes, format)?;
        let components = if format == ImageFormat::Jpeg { jpeg_components(bytes) } else { None };
        Ok(match components {
            Some(components @ (1 | 3)) => Self {
                width: decoded.width(),
                height: decoded.height(),
                content: Content::Jpeg { bytes: bytes.into(), components },
                digest: digest(bytes),
                mean: mean(&decoded.to_rgba8()),
            },
            _ => Self::pixels(decoded.into_rgba8()),
        })
    }

    /// A picture of pixels.
    pub fn pixels(pixels: RgbaImage) -> Self {
        let (width, height) = pixels.dimensions();
        let mean = mean(&pixels);
        let bytes = pixels.into_raw();
        Self { width, height, digest: digest(&bytes), mean, content: Content::Pixels(bytes.into()) }
    }

    /// Reads a photo for a place of so many millimetres: it is made small enough to be printed there at [`MOST_DPI`],
    /// and one that covers everything becomes a JPEG, a tenth of its size. What can be seen through stays as it is.
    ///
    /// # Errors
    /// When it cannot be read; see [`Image::read`].
    pub fn photo(bytes: &[u8], place_mm: [f64; 2]) -> Result<Self, PictureProblem> {
        let image = Self::read(bytes)?;
        let shown = image.within(place_mm);
        // A place is far smaller than what would not fit a count of pixels.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let most = shown.map(|mm| (mm / 25.4 * MOST_DPI).ceil().clamp(1.0, 1.0e6) as u32);
        let unread = || PictureProblem::Unread("it cannot be made smaller".to_owned());
        let small = image.at_most(most).ok_or_else(unread)?;
        let Content::Pixels(pixels) = &small.content else { return Ok(small) };
        if pixels.iter().skip(3).step_by(4).any(|cover| *cover < 255) {
            return Ok(small);
        }
        let rgb = DynamicImage::ImageRgba8(small.to_pixels().ok_or_else(unread)?).to_rgb8();
        let mut bytes = Vec::new();
        JpegEncoder::new_with_quality(&mut bytes, QUALITY)
            .write_image(rgb.as_raw(), small.width, small.height, image::ExtendedColorType::Rgb8)
            .map_err(self::unread)?;
        let (digest, mean) = (digest(&bytes), small.mean);
        let content = Content::Jpeg { bytes: bytes.into(), components: 3 };
        Ok(Self { width: small.width, height: small.height, content, digest, mean })
    }

    /// Width and height of the whole picture as large as a place allows, mm.
    pub fn within(&self, [width, height]: [f64; 2]) -> [f64; 2] {
        let [across, down] = [f64::from(self.width.max(1)), f64::from(self.height.max(1))];
        let scale = (width / across).min(height / down);
        [across * scale, down * scale]
    }

    /// Its colour seen from far away.
    pub fn mean(&self) -> Colour {
        self.mean
    }

    /// Stands for what it shows: equal for equal pictures.
    pub(super) fn digest(&self) -> (u128, u32, u32) {
        (self.digest, self.width, self.height)
    }

    /// Red, green, blue and cover of every pixel, for the screen; none where a file that could be read once no longer
    /// can.
    pub fn to_pixels(&self) -> Option<RgbaImage> {
        match &self.content {
            Content::Jpeg { bytes, .. } => decode(bytes, ImageFormat::Jpeg).ok().map(DynamicImage::into_rgba8),
            Content::Pixels(bytes) => RgbaImage::from_raw(self.width, self.height, bytes.to_vec()),
        }
    }

    /// The picture with no more pixels than `most` across and down; itself where it has no more. A JPEG stays one.
    pub(super) fn at_most(&self, [width, height]: [u32; 2]) -> Option<Self> {
        if self.width <= width.max(1) || self.height <= height.max(1) {
            return Some(self.clone());
        }
        let small = image::imageops::resize(&self.to_pixels()?, width.max(1), height.max(1), FilterType::CatmullRom);
        let Content::Jpeg { components, .. } = &self.content else { return Some(Self::pixels(small)) };
        let mean = self.mean;
        let (width, height) = small.dimensions();
        let mut bytes = Vec::new();
        let encoder = JpegEncoder::new_with_quality(&mut bytes, QUALITY);
        let small = DynamicImage::ImageRgba8(small);
        if *components == 1 {
            encoder.write_image(small.to_luma8().as_raw(), width, height, image::ExtendedColorType::L8).ok()?;
        } else {
            encoder.write_image(small.to_rgb8().as_raw(), width, height, image::ExtendedColorType::Rgb8).ok()?;
        }
        let content = Content::Jpeg { components: *components, bytes: bytes.into() };
        Some(Self { width, height, content, digest: self.digest, mean })
    }
}

fn unread(error: image::ImageError) -> PictureProblem {
    PictureProblem::Unread(error.to_string())
}

fn decode(bytes: &[u8], format: ImageFormat) -> Result<DynamicImage, PictureProblem> {
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_SIDE);
    limits.max_image_height = Some(MOST_SIDE);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    reader.decode().map_err(unread)
}

/// The number of components a JPEG's frame header gives (ITU-T T.81, B.2.2).
fn jpeg_components(bytes: &[u8]) -> Option<u8> {
    let mut at = 2;
    loop {
        let marker = *bytes.get(at + 1)?;
        if *bytes.get(at)? != 0xff {
            return None;
        }
        if marker == 0xff {
            at += 1;
            continue;
        }
        let length = usize::from(u16::from_be_bytes([*bytes.get(at + 2)?, *bytes.get(at + 3)?]));
        if matches!(marker, 0xc0..=0xc2) {
            return bytes.get(at + 9).copied();
        }
        if marker == 0xda {
            return None;
        }
        at += 2 + length;
    }
}

/// FNV-1a in 128 bits.
fn digest(bytes: &[u8]) -> u128 {
    const OFFSET: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
    const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
    bytes.iter().fold(OFFSET, |hash, byte| (hash ^ u128::from(*byte)).wrapping_mul(PRIME))
}

/// The mean colour on white paper.
fn mean(pixels: &RgbaImage) -> Colour {
    let mut sums = [0_u64; 3];
    for image::Rgba([red, green, blue, cover]) in pixels.pixels() {
        let cover = u64::from(*cover);
        for (sum, part) in sums.iter_mut().zip([red, green, blue]) {
            *sum += (u64::from(*part) * cover + 255 * (255 - cover)) / 255;
        }
    }
    let count = u64::from(pixels.width()) * u64::from(pixels.height());
    Colour(sums.map(|sum| u8::try_from(sum / count.max(1)).unwrap_or(255)))
}
