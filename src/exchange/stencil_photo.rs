//! The open share of a stencil by a photo of it on a contrasting ground.
//!
//! Light is added up as light is (sRGB decoded, IEC 61966-2-1; luminance by the weights of ITU-R BT.709), so a picture
//! element half covered by an edge counts for half. The threshold proposed is the one that parts the levels into the
//! two groups that differ most: N. Otsu, “A Threshold Selection Method from Gray-Level Histograms”, IEEE Transactions on
//! Systems, Man, and Cybernetics 9 (1), 1979, pages 62 to 66 (from memory); where a run of thresholds is equally good,
//! the middle of the run.
//!
//! Limit: one threshold for the whole photo. Light that falls off across it by more than the contrast between stencil
//! and ground is told by [`Remark::LittleContrast`] at best; the black and white picture shows where it went wrong.
#![allow(clippy::float_arithmetic)]

use crate::costing::geometry;
use crate::measure::{Decimal, exact};
use crate::studio::Outline;
use image::{DynamicImage, GenericImageView, ImageReader, Limits};
use std::fmt;
use std::io::Cursor;

/// Most bytes a photo may have.
pub const MOST_BYTES: usize = 60_000_000;
/// Largest width and height, pixels.
pub const MOST_SIDE: u32 = 16_000;
/// Memory a photo may take while it is read, bytes.
const MOST_MEMORY: u64 = 800_000_000;
/// Longest side that is measured, pixels; larger photos are averaged down by a whole number.
const MEASURED_SIDE: u32 = 2_000;
/// Levels of light that are told apart.
pub const LEVELS: usize = 256;

/// A photo as levels of light, ready to be measured again and again.
#[derive(Clone, PartialEq, Eq)]
pub struct Photo {
    width: u32,
    height: u32,
    step: u32,
    /// Row by row; `None` where the photo is see-through.
    levels: Vec<Option<u8>>,
}

impl fmt::Debug for Photo {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Photo")
            .field("width", &self.width)
            .field("height", &self.height)
            .field("step", &self.step)
            .finish_non_exhaustive()
    }
}

/// Which side of the threshold is open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Open {
    /// The ground that shows through is lighter than the stencil: a stencil on white paper, or held to the light.
    #[default]
    Light,
    /// The ground that shows through is darker than the stencil.
    Dark,
}

/// A part of the photo, in pixels of the photo file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Crop {
    /// From the left edge.
    pub left: u32,
    /// From the top edge.
    pub top: u32,
    /// Width, above 0.
    pub width: u32,
    /// Height, above 0.
    pub height: u32,
}

/// How a photo is looked at.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Looking {
    /// Levels up to this one are dark, 0 to 255 in linear light; none takes the proposal.
    pub threshold: Option<u8>,
    /// Which side is open.
    pub open: Open,
    /// Only this part of the photo.
    pub crop: Option<Crop>,
    /// Only what lies inside this outline, laid in the middle of that part as large as it fits.
    pub blank: Option<Outline>,
}

/// What a photo shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// Open share of what was looked at, 0 to 1, rounded half-even to 4 places.
    pub share: Decimal,
    /// The threshold used.
    pub threshold: u8,
    /// The threshold proposed.
    pub proposed: u8,
    /// How many picture elements have each level.
    pub histogram: [u64; LEVELS],
    /// Picture elements looked at.
    pub counted: u64,
    /// Width of the black and white picture, pixels.
    pub width: u32,
    /// Height of the black and white picture, pixels.
    pub height: u32,
    /// The part of the photo looked at, red, green, blue and opacity by row: open is white, closed black, what was not
    /// counted grey.
    pub picture: Vec<u8>,
    /// What makes the reading doubtful.
    pub remarks: Vec<Remark>,
}

impl Reading {
    /// The black and white picture as a PNG file.
    ///
    /// # Errors
    /// The encoder's reason, as a sentence.
    pub fn png(&self) -> Result<Vec<u8>, String> {
        let picture = image::RgbaImage::from_raw(self.width, self.height, self.picture.clone())
            .ok_or_else(|| "the picture does not have the size it says".to_owned())?;
        let mut png = Cursor::new(Vec::new());
        picture.write_to(&mut png, image::ImageFormat::Png).map_err(|error| error.to_string())?;
        Ok(png.into_inner())
    }
}

/// What makes a reading doubtful.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Remark {
    /// Stencil and ground differ little beside the unevenness of each: uneven light, shadows, or little contrast.
    LittleContrast,
    /// Parts of the photo are see-through and were not counted.
    SeeThrough,
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::LittleContrast => {
                "stencil and ground differ little beside uneven light and shadows: look at the black and white picture, \
                 or take the photo again in even light"
            }
            Self::SeeThrough => "parts of the photo are see-through and were not counted",
        })
    }
}

/// Why a photo gives no share.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PhotoProblem {
    /// More than [`MOST_BYTES`].
    #[error("the photo has {0} bytes; accepted are photos of 60 MB or less")]
    TooLarge(usize),
    /// Not a picture.
    #[error("this is not a picture that can be read; accepted are JPEG and PNG files")]
    NoPicture,
    /// Larger than [`MOST_SIDE`] a side, or than memory allows.
    #[error(
        "the photo is larger than 16000 pixels a side or than memory allows; accepted are smaller ones: scale it down first"
    )]
    TooWide,
    /// The crop is not on the photo.
    #[error(
        "crop: {width} by {height} pixels at {left}, {top} is not on the photo of {photo_width} by {photo_height} pixels; accepted is a part of it"
    )]
    Crop {
        /// From the left.
        left: u32,
        /// From the top.
        top: u32,
        /// Width.
        width: u32,
        /// Height.
        height: u32,
        /// Of the photo.
        photo_width: u32,
        /// Of the photo.
        photo_height: u32,
    },
    /// The blank's outline is not one.
    #[error("the blank: {0}")]
    Blank(String),
    /// Nothing to look at.
    #[error("nothing of the photo is left to look at; accepted is a part with at least 16 pixels")]
    Nothing,
    /// One level only.
    #[error(
        "the photo has one level of light only; accepted is a stencil on a ground that is lighter or darker than it"
    )]
    Flat,
}

/// Reads a photo, JPEG or PNG. Some seconds for a large one: not for a thread that draws a window.
///
/// # Errors
/// [`PhotoProblem`]: no picture, or beyond the limits.
pub fn read(bytes: &[u8]) -> Result<Photo, PhotoProblem> {
    if bytes.len() > MOST_BYTES {
        return Err(PhotoProblem::TooLarge(bytes.len()));
    }
    let mut reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|_| PhotoProblem::NoPicture)?;
    if reader.format().is_none() {
        return Err(PhotoProblem::NoPicture);
    }
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_SIDE);
    limits.max_image_height = Some(MOST_SIDE);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    let picture = reader.decode().map_err(|error| match error {
        image::ImageError::Limits(_) => PhotoProblem::TooWide,
        _ => PhotoProblem::NoPicture,
    })?;
    let step = picture.width().max(picture.height()).div_ceil(MEASURED_SIDE).max(1);
    Ok(averaged(&picture, step))
}

/// The photo in squares of `step` pixels, each the mean of its light.
fn averaged(picture: &DynamicImage, step: u32) -> Photo {
    let light = decoded();
    let of = |level: u8| light.get(usize::from(level)).copied().unwrap_or_default();
    let (width, height) = (picture.width().div_ceil(step), picture.height().div_ceil(step));
    let mut levels = Vec::with_capacity(size(width) * size(height));
    for row in 0..height {
        let rows = row * step..(row * step + step).min(picture.height());
        for column in 0..width {
            let columns = column * step..(column * step + step).min(picture.width());
            let (mut sum, mut count) = (0.0, 0_u32);
            for y in rows.clone() {
                for x in columns.clone() {
                    // Read where it is: a second picture in memory would double what a large one takes.
                    let [red, green, blue, opacity] = picture.get_pixel(x, y).0;
                    if opacity >= 128 {
                        sum += 0.2126 * of(red) + 0.7152 * of(green) + 0.0722 * of(blue);
                        count += 1;
                    }
                }
            }
            levels.push((count > 0).then(|| level(sum / f64::from(count))));
        }
    }
    Photo { width, height, step, levels }
}

/// Light of every sRGB level, 0 to 1 (IEC 61966-2-1).
fn decoded() -> Vec<f64> {
    let decode = |level: u8| {
        let value = f64::from(level) / 255.0;
        if value <= 0.040_45 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    };
    (0..=u8::MAX).map(decode).collect()
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // held to 0 to 255
fn level(light: f64) -> u8 {
    (light * 255.0).round().clamp(0.0, 255.0) as u8
}

fn size(value: u32) -> usize {
    usize::try_from(value).unwrap_or(usize::MAX)
}

impl Photo {
    /// Width and height that are measured, and how many pixels of the file one of them stands for along each side.
    pub fn measured(&self) -> (u32, u32, u32) {
        (self.width, self.height, self.step)
    }

    /// Measures the open share. The same photo and looking give the same reading.
    ///
    /// # Errors
    /// [`PhotoProblem`]: a crop that is not on the photo, a blank that is no outline, nothing to look at, one level
    /// only.
    pub fn reading(&self, looking: &Looking) -> Result<Reading, PhotoProblem> {
        let part = self.part(looking.crop)?;
        let inside = looking.blank.as_ref().map(|blank| mask(blank, part)).transpose()?;
        let mut remarks = Vec::new();
        let mut histogram = [0_u64; LEVELS];
        // None where a picture element is not counted.
        let mut seen: Vec<Option<u8>> = Vec::with_capacity(size(part.width) * size(part.height));
        for row in 0..part.height {
            for column in 0..part.width {
                let index = size(part.top + row) * size(self.width) + size(part.left + column);
                let level = self.levels.get(index).copied().flatten();
                let counts = inside.as_ref().is_none_or(|inside| inside.get(seen.len()).copied().unwrap_or_default());
                if counts && level.is_none() && remarks.is_empty() {
                    remarks.push(Remark::SeeThrough);
                }
                let level = level.filter(|_| counts);
                if let Some(count) = level.and_then(|level| histogram.get_mut(usize::from(level))) {
                    *count += 1;
                }
                seen.push(level);
            }
        }
        let counted: u64 = histogram.iter().sum();
        if counted < LEAST_COUNTED {
            return Err(PhotoProblem::Nothing);
        }
        let (proposed, parted) = otsu(&histogram).ok_or(PhotoProblem::Flat)?;
        if parted < LITTLE_CONTRAST {
            remarks.push(Remark::LittleContrast);
        }
        let threshold = looking.threshold.unwrap_or(proposed);
        let is_open = |level: u8| match looking.open {
            Open::Light => level > threshold,
            Open::Dark => level <= threshold,
        };
        let open = seen.iter().flatten().filter(|level| is_open(**level)).count();
        let picture = seen
            .iter()
            .flat_map(|level| match level {
                Some(level) if is_open(*level) => [255, 255, 255, 255],
                Some(_) => [0, 0, 0, 255],
                None => [128, 128, 128, 255],
            })
            .collect();
        let share = exact::div(Decimal::from(open), Decimal::from(counted)).map_err(|_| PhotoProblem::Nothing)?;
        let share = exact::round(share, 4).normalize();
        let (width, height) = (part.width, part.height);
        Ok(Reading { share, threshold, proposed, histogram, counted, width, height, picture, remarks })
    }

    /// The crop in measured pixels.
    fn part(&self, crop: Option<Crop>) -> Result<Crop, PhotoProblem> {
        let Some(crop) = crop else {
            return Ok(Crop { left: 0, top: 0, width: self.width, height: self.height });
        };
        let Crop { left, top, width, height } = crop;
        let within = |from: u32, length: u32, most: u32| {
            let (first, end) = (from / self.step, from.checked_add(length)?.div_ceil(self.step));
            (length > 0 && end <= most).then_some((first, end - first))
        };
        match (within(left, width, self.width), within(top, height, self.height)) {
            (Some((left, width)), Some((top, height))) => Ok(Crop { left, top, width, height }),
            _ => Err(PhotoProblem::Crop {
                left,
                top,
                width,
                height,
                photo_width: self.width.saturating_mul(self.step),
                photo_height: self.height.saturating_mul(self.step),
            }),
        }
    }
}

/// Fewer picture elements say nothing.
const LEAST_COUNTED: u64 = 16;
/// Share of the variance that lies between the two groups (Otsu's measure of separability) below which a photo is
/// doubtful. Levels spread evenly from dark to light, which are no groups at all, reach 3/4.
const LITTLE_CONTRAST: f64 = 0.8;

/// The threshold that parts the levels best, and the share of the variance it explains. None for a single level.
#[allow(clippy::cast_precision_loss)] // counts of a photo are far below 2^53
fn otsu(histogram: &[u64; LEVELS]) -> Option<(u8, f64)> {
    let total = histogram.iter().sum::<u64>() as f64;
    let moment = |power: i32| -> f64 {
        (0..=u8::MAX).zip(histogram).map(|(level, count)| f64::from(level).powi(power) * *count as f64).sum()
    };
    let mean = moment(1) / total;
    let variance = moment(2) / total - mean * mean;
    let (mut below, mut light_below) = (0.0, 0.0);
    let mut best: Option<(f64, u8, u8)> = None;
    for (level, count) in (0_u8..u8::MAX).zip(histogram) {
        below += *count as f64 / total;
        light_below += f64::from(level) * *count as f64 / total;
        if below <= 0.0 || below >= 1.0 - 1e-12 {
            continue;
        }
        let between = (mean * below - light_below).powi(2) / (below * (1.0 - below));
        best = match best {
            Some((most, first, _)) if *count == 0 && between >= most => Some((most, first, level)),
            Some((most, first, last)) if between <= most => Some((most, first, last)),
            _ => Some((between, level, level)),
        };
    }
    let (between, first, last) = best.filter(|_| variance > 0.0)?;
    Some((first + (last - first) / 2, between / variance))
}

/// For every pixel of a part, row by row, whether its middle lies in an outline that is laid in the middle of the part
/// as large as it fits.
fn mask(outline: &Outline, part: Crop) -> Result<Vec<bool>, PhotoProblem> {
    let rings = geometry::rings(outline).map_err(|error| PhotoProblem::Blank(error.to_string()))?;
    let points = || rings.iter().flatten();
    let least = points().fold([f64::MAX; 2], |[x, y], point| [x.min(point[0]), y.min(point[1])]);
    let most = points().fold([f64::MIN; 2], |[x, y], point| [x.max(point[0]), y.max(point[1])]);
    let sides = [f64::from(part.width), f64::from(part.height)];
    let scale = (sides[0] / (most[0] - least[0])).min(sides[1] / (most[1] - least[1]));
    if !scale.is_finite() {
        return Err(PhotoProblem::Blank("it encloses nothing".to_owned()));
    }
    let placed = |point: &[f64; 2]| {
        [0, 1].map(|axis| {
            let at = |pair: &[f64; 2]| if axis == 0 { pair[0] } else { pair[1] };
            (at(point) - f64::midpoint(at(&least), at(&most))) * scale + at(&sides) / 2.0
        })
    };
    let rings: Vec<Vec<[f64; 2]>> = rings.iter().map(|ring| ring.iter().map(placed).collect()).collect();
    let mut inside = Vec::with_capacity(size(part.width) * size(part.height));
    for row in 0..part.height {
        let y = f64::from(row) + 0.5;
        let mut meets: Vec<f64> = Vec::new();
        for ring in &rings {
            for ([ax, ay], [bx, by]) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                if (*ay > y) != (*by > y) {
                    meets.push(ax + (y - ay) / (by - ay) * (bx - ax));
                }
            }
        }
        meets.sort_by(f64::total_cmp);
        let mut meets = meets.into_iter().peekable();
        let mut within = false;
        for column in 0..part.width {
            while meets.next_if(|meet| *meet <= f64::from(column) + 0.5).is_some() {
                within = !within;
            }
            inside.push(within);
        }
    }
    Ok(inside)
}

#[cfg(test)]
mod tests;
