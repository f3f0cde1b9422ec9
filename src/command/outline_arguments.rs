//! What can be asked about outlines and stencils on the command line.

use super::arguments::Form;
use super::stock_arguments::MetalName;
use crate::exchange::stencil_photo::Crop;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// `outline`.
#[derive(Debug, Args)]
pub struct Outline {
    /// An SVG file
    pub file: PathBuf,
    /// Make the longer side of all that is drawn this long, instead of the size the file says
    #[arg(long, value_name = "LENGTH")]
    pub long_side: Option<String>,
    /// The metal of the mass
    #[arg(long, value_enum, default_value = "copper")]
    pub metal: MetalName,
    /// Brown & Sharpe gauge of the sheet; without it or --thickness no mass is given
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = clap::value_parser!(i8).range(-3..=40), conflicts_with = "thickness")]
    pub gauge: Option<i8>,
    /// Thickness of the sheet
    #[arg(long, value_name = "LENGTH")]
    pub thickness: Option<String>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stencil`.
#[derive(Debug, Args)]
pub struct Stencil {
    /// The stencil: an SVG file, or a photo (JPEG or PNG)
    pub file: PathBuf,
    /// The blank of this design file; the stencil's openings lie on its middle, a drop has its point at the bottom
    #[arg(long, value_name = "FILE", conflicts_with = "outline")]
    pub blank: Option<PathBuf>,
    /// The blank an SVG file draws, where the stencil's drawing has it
    #[arg(long, value_name = "FILE")]
    pub outline: Option<PathBuf>,
    /// Make the longer side of all that the stencil's drawing shows this long, instead of the size the file says
    #[arg(long, value_name = "LENGTH")]
    pub long_side: Option<String>,
    /// Photo: levels of light up to this one are dark; without it, the threshold that parts the photo best
    #[arg(long, value_name = "0-255")]
    pub threshold: Option<u8>,
    /// Photo: which side of the threshold is open
    #[arg(long, value_enum)]
    pub open: Option<OpenName>,
    /// Photo: only this part of it, in pixels
    #[arg(long, value_name = "LEFT,TOP,WIDTH,HEIGHT", value_parser = crop)]
    pub crop: Option<Crop>,
    /// Photo: write the black and white picture it was taken for, as PNG
    #[arg(long, value_name = "FILE")]
    pub picture: Option<PathBuf>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// Which side of the threshold is open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum OpenName {
    /// The ground that shows through is lighter than the stencil
    Light,
    /// The ground that shows through is darker than the stencil
    Dark,
}

/// A part of a photo.
fn crop(text: &str) -> Result<Crop, String> {
    let numbers: Option<Vec<u32>> = text.split(',').map(|number| number.trim().parse().ok()).collect();
    match numbers.as_deref() {
        Some(&[left, top, width, height]) => Ok(Crop { left, top, width, height }),
        _ => Err(format!("{text:?} is not four whole numbers such as 200,150,1600,1600")),
    }
}
