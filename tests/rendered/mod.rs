//! Draws a PDF with a renderer that shares no code with the writer, and does to the picture what printers, hands and
//! cameras do.

#![allow(dead_code, reason = "not every test asks for every picture")]

use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_interpret::util::TransformExt;
use hayro::hayro_syntax::Pdf;
use hayro::kurbo::Affine;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::vello_cpu::{self, Pixmap, RenderContext};
use hayro::{RenderCache, RenderSettings, render_into};

/// A picture in red, green and blue.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Picture {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) pixels: Vec<[u8; 3]>,
}

/// Part of a page: left, top, width and height in dots.
pub(crate) type Window = [usize; 4];

/// Draws a window of a page (from 0) at so many dots per inch, moved to the right and down by parts of a dot.
pub(crate) fn render(bytes: &[u8], page: usize, dpi: f64, window: Window, [dx, dy]: [f64; 2]) -> Picture {
    let file = Pdf::new(bytes.to_vec()).unwrap();
    let page = &file.pages()[page];
    let [left, top, width, height] = window;
    let mut context = RenderContext::new(u16::try_from(width).unwrap(), u16::try_from(height).unwrap());
    let transform = Affine::translate((dx - left as f64, dy - top as f64))
        * Affine::scale(dpi / 72.0)
        * page.initial_transform(true).to_kurbo();
    // Letters as they are, not pulled onto the dots.
    let settings = RenderSettings { hinting: false, glyph_caching: false, ..RenderSettings::default() };
    let cache = RenderCache::new();
    render_into(page, &cache, &InterpreterSettings::default(), &settings, &mut context, transform);
    context.flush();
    let mut map = Pixmap::new(context.width(), context.height());
    let white = vello_cpu::TargetInit::Clear(WHITE);
    let way = vello_cpu::RasterizerSettings { target_init: white, ..Default::default() };
    context.render_with(&mut map, &mut vello_cpu::Resources::default(), way);
    let pixels = map.data().iter().map(|pixel| [pixel.r, pixel.g, pixel.b]).collect();
    Picture { width, height, pixels }
}

/// All of a page of so many millimetres.
pub(crate) fn whole([width_mm, height_mm]: [f64; 2], dpi: f64) -> Window {
    let dots = |mm: f64| (mm / 25.4 * dpi).ceil() as usize;
    [0, 0, dots(width_mm), dots(height_mm)]
}

/// A picture in greys, 0 black to 255 white.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Grey {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) light: Vec<u8>,
}

impl Picture {
    /// Its luminance (Rec. ITU-R BT.601; from memory).
    pub(crate) fn grey(&self) -> Grey {
        let luminance =
            |[r, g, b]: [u8; 3]| ((u32::from(r) * 299 + u32::from(g) * 587 + u32::from(b) * 114) / 1000) as u8;
        let light = self.pixels.iter().map(|pixel| luminance(*pixel)).collect();
        Grey { width: self.width, height: self.height, light }
    }

    /// Written as a PNG, to be looked at.
    pub(crate) fn keep(&self, path: &std::path::Path) {
        let bytes: Vec<u8> = self.pixels.iter().flatten().copied().collect();
        let (width, height) = (self.width as u32, self.height as u32);
        image::RgbImage::from_raw(width, height, bytes).unwrap().save(path).unwrap();
    }
}

impl Grey {
    pub(crate) fn at(&self, x: usize, y: usize) -> u8 {
        self.light[y * self.width + x]
    }

    /// Written as a PNG, to be looked at.
    pub(crate) fn keep(&self, path: &std::path::Path) {
        let (width, height) = (self.width as u32, self.height as u32);
        image::GrayImage::from_raw(width, height, self.light.clone()).unwrap().save(path).unwrap();
    }

    /// As a printer of black dots alone prints it: a dot is black where half of it is.
    pub(crate) fn one_bit(&self) -> Self {
        Self { light: self.light.iter().map(|light| if *light < 128 { 0 } else { 255 }).collect(), ..*self }
    }

    /// A part of it.
    pub(crate) fn part(&self, [left, top, width, height]: Window) -> Self {
        let rows = (top..top + height).flat_map(|y| &self.light[y * self.width + left..y * self.width + left + width]);
        Self { width, height, light: rows.copied().collect() }
    }

    /// Seen by a finer eye: so many points to a dot in each direction, the light between the middles of dots in between.
    pub(crate) fn enlarged(&self, times: usize) -> Self {
        let (width, height) = (self.width * times, self.height * times);
        // For each point: the dot before it, the dot after it, and how far it is from one to the other in 256ths.
        let between = |count: usize| -> Vec<(usize, usize, u32)> {
            (0..count * times)
                .map(|at| {
                    let place = (at as f64 + 0.5) / times as f64 - 0.5;
                    let before = place.floor();
                    let dot = |dot: f64| dot.clamp(0.0, (count - 1) as f64) as usize;
                    (dot(before), dot(before + 1.0), ((place - before) * 256.0) as u32)
                })
                .collect()
        };
        let (across, down) = (between(self.width), between(self.height));
        let mix = |one: u32, other: u32, part: u32| one * (256 - part) + other * part;
        let mut light = Vec::with_capacity(width * height);
        for (above, below, down) in down {
            let [above, below] = [above, below].map(|row| &self.light[row * self.width..(row + 1) * self.width]);
            for (left, right, along) in &across {
                let one = mix(u32::from(above[*left]), u32::from(above[*right]), *along);
                let other = mix(u32::from(below[*left]), u32::from(below[*right]), *along);
                light.push((mix(one, other, down) >> 16) as u8);
            }
        }
        Self { width, height, light }
    }

    /// The mean of so many by so many dots as one.
    pub(crate) fn reduced(&self, times: usize) -> Self {
        let (width, height) = (self.width / times, self.height / times);
        let mut sums = vec![0_u32; width * height];
        for (y, row) in self.light.chunks(self.width).enumerate().take(height * times) {
            let line = &mut sums[y / times * width..(y / times + 1) * width];
            for (sum, dots) in line.iter_mut().zip(row.chunks_exact(times)) {
                *sum += dots.iter().map(|dot| u32::from(*dot)).sum::<u32>();
            }
        }
        let count = (times * times) as u32;
        Self { width, height, light: sums.into_iter().map(|sum| ((sum + count / 2) / count) as u8).collect() }
    }

    /// Turned clockwise by a quarter.
    pub(crate) fn quartered(&self) -> Self {
        let column = |x: usize| (0..self.height).rev().map(move |y| self.at(x, y));
        Self { width: self.height, height: self.width, light: (0..self.width).flat_map(column).collect() }
    }

    /// Turned about its middle, what lies outside is white.
    pub(crate) fn turned(&self, degrees: f64) -> Self {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let (middle_x, middle_y) = (self.width as f64 / 2.0, self.height as f64 / 2.0);
        let mut light = Vec::with_capacity(self.light.len());
        for y in 0..self.height {
            for x in 0..self.width {
                let (dx, dy) = (x as f64 + 0.5 - middle_x, y as f64 + 0.5 - middle_y);
                let from_x = cos * dx + sin * dy + middle_x - 0.5;
                let from_y = cos * dy - sin * dx + middle_y - 0.5;
                let (left, top) = (from_x.floor(), from_y.floor());
                let inside =
                    left >= 0.0 && top >= 0.0 && left + 1.0 < self.width as f64 && top + 1.0 < self.height as f64;
                if !inside {
                    light.push(255);
                    continue;
                }
                let at = top as usize * self.width + left as usize;
                let (along, down) = (from_x - left, from_y - top);
                let [a, b, c, d] =
                    [at, at + 1, at + self.width, at + self.width + 1].map(|at| f64::from(self.light[at]));
                let value = (a + (b - a) * along) * (1.0 - down) + (c + (d - c) * along) * down;
                light.push(value.round() as u8);
            }
        }
        Self { light, ..*self }
    }

    /// Out of focus: a normal distribution of that standard deviation, in dots.
    pub(crate) fn blurred(&self, deviation: f64) -> Self {
        let reach = (deviation * 3.0).ceil() as usize;
        let weight = |away: usize| (-(away as f64).powi(2) / (2.0 * deviation * deviation)).exp();
        let sum: f64 = (0..=reach).map(|away| weight(away) * if away == 0 { 1.0 } else { 2.0 }).sum();
        // In 65,536ths; the light outside is that of the edge.
        let weights: Vec<u32> =
            (0..=2 * reach).map(|at| (weight(at.abs_diff(reach)) / sum * 65_536.0) as u32).collect();
        let along = |width: usize, light: &[u8]| -> Vec<u8> {
            let mut out = vec![0_u8; light.len()];
            let height = light.len() / width;
            let mut line = vec![0_u8; width + 2 * reach];
            for (y, row) in light.chunks(width).enumerate() {
                line[..reach].fill(row[0]);
                line[reach..reach + width].copy_from_slice(row);
                line[reach + width..].fill(row[width - 1]);
                for (x, near) in line.windows(2 * reach + 1).enumerate() {
                    let mut total = 32_768_u32;
                    for (light, weight) in near.iter().zip(&weights) {
                        total += u32::from(*light) * weight;
                    }
                    // Written with the sides exchanged, so that the second time goes down.
                    out[x * height + y] = (total / 65_536).min(255) as u8;
                }
            }
            out
        };
        let across = along(self.width, &self.light);
        Self { light: along(self.height, &across), ..*self }
    }

    /// Faded: black and white come together.
    pub(crate) fn faded(&self, black: u8, white: u8) -> Self {
        let span = u32::from(white - black);
        let light = self.light.iter().map(|light| black + (u32::from(*light) * span / 255) as u8).collect();
        Self { light, ..*self }
    }
}
