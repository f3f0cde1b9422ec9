//! Symbols of our papers printed, seen and read: the PDF is drawn by a renderer that shares no code with the writer, in
//! greys and in black dots alone, then blurred, turned, and faded, and read by two decoders each.
//!
//! The first decoder is `rxing` for every kind. The second is `rqrr` for QR; for Code 128 and EAN-13 a plain reader of bar
//! widths along a line, from the standards' tables; for Data Matrix a plain reader of the grid, whose modules the decoder
//! of the crate `datamatrix` understands.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "the helpers of a test may stop it; the printed figures are for people"
)]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "dots and modules are small whole numbers"
)]

mod bars;
mod rendered;

use enamelwright::exchange::design_file;
use enamelwright::measure::{Currency, Decimal, Money, Preferences};
use enamelwright::paper::page::{Document, Item, PlacedSymbol};
use enamelwright::paper::pdf::{self, Properties};
use enamelwright::paper::pinned::{Facts, Pictures, Spoken, StudioWords, facts_of_design, ready};
use enamelwright::paper::placed::{self, Job};
use enamelwright::paper::tags::{self, TagJob, TagModel};
use enamelwright::paper::{Finish, Shaper, Symbology, Unwatched, Warning, WarningKind};
use enamelwright::studio::{
    Across, Down, Ink, LabelSheet, Language, LengthUnit, PaperDesign, PaperKind, Pinned, SymbolKind, SymbolOf, TextSet,
    Turn, Weight, What,
};
use rendered::{Grey, render};
use rxing::{BarcodeFormat, Reader};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

// ---------------------------------------------------------------------------------------------- papers

fn tenths(value: i64) -> Decimal {
    Decimal::new(value, 1)
}

fn facts() -> Facts {
    let design = Arc::new(design_file::read(include_str!("data/lantern-drop.toml")).unwrap());
    let studio = Arc::new(StudioWords {
        name: "Tidewrack Enamels".to_owned(),
        place: "Skerry Bay".to_owned(),
        story: String::new(),
        care_words: String::new(),
        length: LengthUnit::Millimetre,
    });
    Facts {
        ticket: Some(Money::new(Decimal::new(4600, 2)).unwrap()),
        piece_number: Some("LN-DROP-0017".to_owned()),
        trade_number: Some("2000000001234".to_owned()),
        ..facts_of_design(&design, [62, 91, 132], &studio)
    }
}

fn pin(what: What, [x, y, width, height]: [i64; 4]) -> Pinned {
    Pinned {
        what,
        x_mm: tenths(x),
        y_mm: tenths(y),
        width_mm: tenths(width),
        height_mm: tenths(height),
        turn: Turn::None,
        set: TextSet {
            weight: Weight::Regular,
            most_pt: tenths(90),
            least_pt: tenths(50),
            lines: 2,
            across: Across::Middle,
            down: Down::Middle,
            ink: Ink::Black,
        },
    }
}

fn symbol(kind: SymbolKind, text: &str, place: [i64; 4]) -> Pinned {
    pin(What::Symbol { kind, of: SymbolOf::Text(text.to_owned()) }, place)
}

fn paper(name: &str, [width, height]: [i64; 2], pinned: Vec<Pinned>) -> PaperDesign {
    PaperDesign {
        name: name.to_owned(),
        kind: PaperKind::Tag,
        width_mm: tenths(width),
        height_mm: tenths(height),
        fold: None,
        holes: Vec::new(),
        corner_mm: Decimal::ZERO,
        languages: vec![Language::English],
        pinned,
    }
}

/// From a jewellery tag 10 mm high to a sign on the stall.
fn designs() -> Vec<PaperDesign> {
    let turned = |pinned: Pinned, turn| Pinned { turn, ..pinned };
    vec![
        paper(
            "jewellery tag, QR",
            [220, 100],
            vec![symbol(SymbolKind::Qr, "LN-DROP", [0, 0, 100, 100]), pin(What::Ticket, [110, 10, 100, 80])],
        ),
        paper(
            "jewellery tag, Data Matrix",
            [220, 100],
            vec![symbol(SymbolKind::DataMatrix, "LN-DROP-0017", [8, 8, 84, 84]), pin(What::Ticket, [110, 10, 100, 80])],
        ),
        paper(
            "shelf tag, Code 128",
            [620, 250],
            vec![symbol(SymbolKind::Code128, "RG-00421", [10, 120, 600, 120]), pin(What::Name, [20, 20, 580, 90])],
        ),
        paper(
            "shelf tag, numbers in Code 128",
            [380, 220],
            vec![symbol(SymbolKind::Code128, "004217", [5, 100, 370, 110]), pin(What::Name, [20, 20, 340, 70])],
        ),
        paper(
            "price tag, EAN-13",
            [460, 320],
            vec![pin(What::Symbol { kind: SymbolKind::Ean13, of: SymbolOf::Number }, [10, 10, 440, 300])],
        ),
        paper(
            "price tag, EAN-13 turned",
            [320, 480],
            vec![turned(
                pin(What::Symbol { kind: SymbolKind::Ean13, of: SymbolOf::Number }, [10, 10, 300, 460]),
                Turn::Quarter,
            )],
        ),
        paper(
            "jar label, Data Matrix",
            [700, 360],
            vec![
                symbol(SymbolKind::DataMatrix, "EN-014 Harbour green, lot 26-031", [540, 200, 150, 150]),
                pin(What::Name, [20, 20, 500, 90]),
            ],
        ),
        paper(
            "jar label, QR upside down",
            [700, 360],
            vec![
                turned(symbol(SymbolKind::Qr, "EN-014/26-031", [500, 160, 190, 190]), Turn::Half),
                pin(What::Name, [20, 20, 500, 90]),
            ],
        ),
        paper(
            "stall sign, QR",
            [1050, 1480],
            vec![
                symbol(SymbolKind::Qr, "https://tidewrack.example/lantern-drop?stall=7", [250, 700, 550, 550]),
                pin(What::Name, [100, 100, 850, 300]),
            ],
        ),
    ]
}

fn properties() -> Properties {
    Properties {
        title: "Symbols".to_owned(),
        author: "Tidewrack Enamels".to_owned(),
        created: chrono::NaiveDate::from_ymd_opt(2026, 3, 14).unwrap().and_hms_opt(9, 26, 53).unwrap(),
        language: "en".to_owned(),
    }
}

fn laid(design: PaperDesign, dots_per_inch: Option<u32>) -> Document {
    let english = Spoken::new(
        enamelwright::paper::Speech::plain(enamelwright::studio::Language::English),
        Preferences::metric(Currency::from_code("EUR").unwrap()),
    );
    let job = Job { design, papers: vec![(facts(), 1)], sheet: None, start: 1, dots_per_inch };
    placed::layout(&job, &Pictures::new(), &[&english], &mut Shaper::new()).unwrap()
}

/// A tag on a page hardly larger than itself, 3.3 mm from its left and 2.7 mm from its top.
fn tag(width: i64, height: i64, folded: bool, symbology: Symbology, code: &str) -> Document {
    let sheet = LabelSheet {
        name: "test".to_owned(),
        page_width_mm: tenths(width + 60),
        page_height_mm: tenths(height + 50),
        left_mm: tenths(33),
        top_mm: tenths(27),
        label_width_mm: tenths(width),
        label_height_mm: tenths(height),
        pitch_x_mm: tenths(width),
        pitch_y_mm: tenths(height),
        columns: 1,
        rows: 1,
        folded,
        hole: true,
        cut_lines: true,
        shape: enamelwright::studio::LabelShape::default(),
        crop_marks: false,
    };
    let model = TagModel {
        name: "Lantern drop".to_owned(),
        code: code.to_owned(),
        ticket: Some("€46.00".to_owned()),
        materials_line: "glass enamel on copper, 45 cm chain".to_owned(),
        note_line: None,
        lead_bearing: false,
    };
    let job = TagJob { sheet, tags: vec![(model, 1)], start: 1, symbology };
    tags::layout(&job, &mut Shaper::new()).unwrap()
}

/// Nothing was said against its scanning.
fn is_claimed(warnings: &[Warning]) -> bool {
    !warnings.iter().any(|warning| {
        matches!(
            warning.kind,
            WarningKind::SymbolSmall(_)
                | WarningKind::SymbolDoubtful(_)
                | WarningKind::SymbolRefused(_)
                | WarningKind::SymbolLeftOut
        )
    })
}

// ---------------------------------------------------------------------------------------------- seeing

/// A symbol as it was printed.
struct Print {
    /// With what stands around it.
    wide: Grey,
    /// Where in it the symbol is with its quiet zone, dots.
    close: [usize; 4],
    dots_per_module: f64,
    turn: Turn,
}

/// What of the page is printed around a quiet zone, mm.
const AROUND_MM: f64 = 1.5;
/// What of bars is looked at, mm: enough for a line across at 3 degrees.
const BARS_MM: f64 = 7.0;

fn printed(bytes: &[u8], document: &Document, symbol: &PlacedSymbol, dpi: f64, shift: [f64; 2]) -> Print {
    let page = &document.pages[0];
    let quiet = symbol.art.quiet_zone();
    let upright = matches!(symbol.art.turn, Turn::None | Turn::Half);
    let module_mm = if upright { symbol.module_mm } else { symbol.row_mm };
    let rect = symbol.rect();
    let bars = matches!(symbol.art.symbology, Symbology::Code128 | Symbology::Ean13);
    // The middle of the bars is enough.
    let trim = |length: f64, is_along: bool| if bars && !is_along { (length - BARS_MM).max(0.0) / 2.0 } else { 0.0 };
    let (trim_x, trim_y) = (trim(rect.width_mm, upright), trim(rect.height_mm, !upright));
    let zone = |modules: u32| f64::from(modules) * module_mm;
    let mm = [
        rect.x_mm - zone(quiet.left) + trim_x,
        rect.y_mm - zone(quiet.above) + trim_y,
        rect.right_mm() + zone(quiet.right) - trim_x,
        rect.bottom_mm() + zone(quiet.below) - trim_y,
    ];
    let dots = |mm: f64| mm / 25.4 * dpi;
    let around = |less: f64, is_along: bool| if bars && !is_along { 0.0 } else { less };
    let (around_x, around_y) = (around(AROUND_MM, upright), around(AROUND_MM, !upright));
    let left = dots((mm[0] - around_x).max(0.0)).floor() as usize;
    let top = dots((mm[1] - around_y).max(0.0)).floor() as usize;
    let right = dots((mm[2] + around_x).min(page.width_mm)).ceil() as usize;
    let bottom = dots((mm[3] + around_y).min(page.height_mm)).ceil() as usize;
    let wide = render(bytes, 0, dpi, [left, top, right - left, bottom - top], shift).grey();
    // A quiet zone begins at the edge of the paper, or inside it.
    let begin = [dots(mm[0]).max(0.0).ceil() as usize - left, dots(mm[1]).max(0.0).ceil() as usize - top];
    let end = [(dots(mm[2]).floor() as usize).min(right) - left, (dots(mm[3]).floor() as usize).min(bottom) - top];
    let close = [begin[0], begin[1], end[0] - begin[0], end[1] - begin[1]];
    Print { wide, close, dots_per_module: dots(module_mm), turn: symbol.art.turn }
}

/// What happens between the print and the reader.
#[derive(Debug, Clone, Copy)]
struct Seen {
    words: &'static str,
    degrees: f64,
    /// Standard deviation of the blur, modules.
    blur: f64,
    /// The light of black and white.
    fade: [u8; 2],
    /// Looked at in black dots alone too.
    in_one_bit: bool,
}

const SEEN: [Seen; 6] = [
    Seen { words: "as it is", degrees: 0.0, blur: 0.0, fade: [0, 255], in_one_bit: true },
    // Half of the light of a point falls within 0.6 of a module.
    Seen { words: "blurred by half a module", degrees: 0.0, blur: 0.25, fade: [0, 255], in_one_bit: true },
    Seen { words: "turned by 1 degree", degrees: 1.0, blur: 0.0, fade: [0, 255], in_one_bit: false },
    Seen { words: "turned by 3 degrees", degrees: -3.0, blur: 0.0, fade: [0, 255], in_one_bit: true },
    Seen { words: "faded", degrees: 0.0, blur: 0.0, fade: [95, 185], in_one_bit: false },
    Seen {
        words: "turned by 2 degrees, blurred and faded",
        degrees: 2.0,
        blur: 0.2,
        fade: [70, 210],
        in_one_bit: true,
    },
];

/// A camera sees about so many points to a module.
const POINTS_PER_MODULE: f64 = 6.0;

fn camera(print: &Grey, dots_per_module: f64, seen: &Seen) -> Grey {
    let (grey, points) = if dots_per_module < POINTS_PER_MODULE {
        let times = (POINTS_PER_MODULE / dots_per_module).round().max(1.0) as usize;
        (print.enlarged(times), dots_per_module * times as f64)
    } else {
        let times = (dots_per_module / POINTS_PER_MODULE).floor().max(1.0) as usize;
        (print.reduced(times), dots_per_module / times as f64)
    };
    let grey = if seen.degrees == 0.0 { grey } else { grey.turned(seen.degrees) };
    let grey = if seen.blur == 0.0 { grey } else { grey.blurred(seen.blur * points) };
    grey.faded(seen.fade[0], seen.fade[1])
}

// ---------------------------------------------------------------------------------------------- reading

fn first_decoder(grey: &Grey, symbology: Symbology) -> Option<String> {
    let format = match symbology {
        Symbology::Qr => BarcodeFormat::QR_CODE,
        Symbology::DataMatrix => BarcodeFormat::DATA_MATRIX,
        Symbology::Code128 => BarcodeFormat::CODE_128,
        Symbology::Ean13 => BarcodeFormat::EAN_13,
        Symbology::None => return None,
    };
    let (width, height) = (grey.width as u32, grey.height as u32);
    let source = || rxing::Luma8LuminanceSource::new(grey.light.clone(), width, height).unwrap();
    let mut hints = rxing::DecodeHints { TryHarder: Some(true), ..Default::default() };
    hints.PossibleFormats = Some(std::iter::once(format).collect());
    let mut reader = rxing::MultiFormatReader::default();
    // Its two ways to tell dark from light: by what is near, which loses large modules of little contrast, and by all of it.
    let near = &mut rxing::BinaryBitmap::new(rxing::common::HybridBinarizer::new(source()));
    let all = &mut rxing::BinaryBitmap::new(rxing::common::GlobalHistogramBinarizer::new(source()));
    let found = reader.decode_with_hints(near, &hints).or_else(|_| reader.decode_with_hints(all, &hints)).ok()?;
    Some(found.getText().to_owned())
}

fn second_decoder(grey: &Grey, symbology: Symbology, turn: Turn) -> Option<String> {
    match symbology {
        Symbology::Qr => qr_by_rqrr(grey).or_else(|| {
            // It finds a symbol without an alignment mark (version 1) up to a module amiss; told where it is, it reads it.
            grid_sides(grey, turn, true)?.sample([21, 25, 29, 33, 37, 41], |modules, side| {
                let grid = rqrr::SimpleGrid::from_func(side, |x, y| modules[y * side + x]);
                rqrr::Grid::new(grid).decode().ok().map(|(_, text)| text)
            })
        }),
        // Sides of square symbols (ISO/IEC 16022, table 7; from memory), as far as a label has room.
        Symbology::DataMatrix => grid_sides(grey, turn, false)?
            .sample([10, 12, 14, 16, 18, 20, 22, 24, 26, 32, 36, 40], |modules, side| {
                String::from_utf8(datamatrix::DataMatrix::decode(modules, side).ok()?).ok()
            }),
        Symbology::Code128 => across(grey, turn).into_iter().find_map(|line| bars::code_128(&line)),
        Symbology::Ean13 => across(grey, turn).into_iter().find_map(|line| bars::ean_13(&line)),
        Symbology::None => None,
    }
}

/// Lines across the bars.
fn across(grey: &Grey, turn: Turn) -> Vec<Vec<u8>> {
    let parts = [0.5, 0.4, 0.6, 0.3, 0.7];
    match turn {
        Turn::None | Turn::Half => parts
            .iter()
            .map(|part| {
                let y = (grey.height as f64 * part) as usize;
                let row = grey.light[y * grey.width..(y + 1) * grey.width].to_vec();
                if turn == Turn::Half { row.into_iter().rev().collect() } else { row }
            })
            .collect(),
        Turn::Quarter | Turn::ThreeQuarters => parts
            .iter()
            .map(|part| {
                let x = (grey.width as f64 * part) as usize;
                let column: Vec<u8> = (0..grey.height).map(|y| grey.at(x, y)).collect();
                if turn == Turn::ThreeQuarters { column.into_iter().rev().collect() } else { column }
            })
            .collect(),
    }
}

/// Half way between the darkest and the lightest.
fn middle_of(grey: &Grey) -> u16 {
    let [least, most] = [grey.light.iter().min(), grey.light.iter().max()].map(|light| u16::from(*light.unwrap()));
    (least + most) / 2
}

fn qr_by_rqrr(grey: &Grey) -> Option<String> {
    // Its own way to tell dark from light looks at an eighth of the width at a time, less than a corner mark: what is
    // blurred is lost in it. So it is told.
    let middle = middle_of(grey);
    let dark = |x: usize, y: usize| u16::from(grey.at(x, y)) < middle;
    let mut image = rqrr::PreparedImage::prepare_from_bitmap(grey.width, grey.height, dark);
    image.detect_grids().iter().find_map(|grid| grid.decode().ok()).map(|(_, text)| text)
}

/// Where a symbol of square modules lies: the corner of its two whole sides, and the far ends of the two.
struct Sides {
    upright: Grey,
    foot: [f64; 2],
    top: [f64; 2],
    right: [f64; 2],
    /// Upside down.
    flipped: bool,
}

/// Finds the two whole sides of a symbol that stands alone: those of a Data Matrix are solid, at the left and below (ISO/IEC
/// 16022); those of a QR code have its marks at their ends, at the left and above (ISO/IEC 18004), so it is read in the
/// mirror.
fn grid_sides(grey: &Grey, turn: Turn, is_qr: bool) -> Option<Sides> {
    let mut upright = match turn {
        Turn::None => grey.clone(),
        Turn::Quarter => grey.quartered().quartered().quartered(),
        Turn::Half => grey.quartered().quartered(),
        Turn::ThreeQuarters => grey.quartered(),
    };
    if is_qr {
        upright.light = upright.light.chunks(upright.width).rev().flatten().copied().collect();
    }
    let middle = f64::from(middle_of(&upright));
    let (width, height) = (upright.width, upright.height);
    // The first dark place along a line of points, to parts of one.
    let first = |line: &mut dyn Iterator<Item = u8>| -> Option<f64> {
        let mut before: Option<f64> = None;
        for (at, light) in line.enumerate() {
            let light = f64::from(light);
            if light < middle {
                return Some(at as f64 + 0.5 - before.map_or(0.5, |before| (middle - light) / (before - light)));
            }
            before = Some(light);
        }
        None
    };
    // From the left edge in each row, and from the foot up in each column.
    let left: Vec<Option<f64>> = (0..height).map(|y| first(&mut (0..width).map(|x| upright.at(x, y)))).collect();
    let below: Vec<Option<f64>> = (0..width).map(|x| first(&mut (0..height).rev().map(|y| upright.at(x, y)))).collect();
    let (left, left_ends) = side_line(&left, is_qr)?;
    let (below, below_ends) = side_line(&below, is_qr)?;
    // x = left.0 + left.1 · y, and height − y = below.0 + below.1 · x.
    let on_left = |y: f64| [left.0 + left.1 * y, y];
    let on_foot = |x: f64| [x, height as f64 - below.0 - below.1 * x];
    let y = (height as f64 - below.0 - below.1 * left.0) / (1.0 + below.1 * left.1);
    Some(Sides { foot: on_left(y), top: on_left(left_ends[0]), right: on_foot(below_ends[1]), upright, flipped: is_qr })
}

/// The line through what a side looks like from outside, and where it begins and ends: the places that are near it.
fn side_line(side: &[Option<f64>], marks_only: bool) -> Option<((f64, f64), [f64; 2])> {
    let from = side.iter().position(Option::is_some)? as f64;
    let to = side.iter().rposition(Option::is_some)? as f64 + 1.0;
    // The middles of both corner marks of a QR code up to version 6 lie in these parts of its side.
    let counts = |part: f64| {
        if marks_only {
            (0.07..0.17).contains(&part) || (0.83..0.93).contains(&part)
        } else {
            (0.1..0.9).contains(&part)
        }
    };
    let points: Vec<[f64; 2]> = side
        .iter()
        .enumerate()
        .filter_map(|(at, away)| Some([at as f64 + 0.5, (*away)?]))
        .filter(|[at, _]| counts((at - from) / (to - from)))
        .collect();
    let count = points.len() as f64;
    let [mean_at, mean_away] = [0, 1].map(|axis| points.iter().map(|point| point[axis]).sum::<f64>() / count);
    let spread: f64 = points.iter().map(|[at, _]| (at - mean_at).powi(2)).sum();
    let slope = points.iter().map(|[at, away]| (at - mean_at) * (away - mean_away)).sum::<f64>() / spread;
    let line = (mean_away - slope * mean_at, slope);
    let is_near = |(at, away): &(usize, &Option<f64>)| {
        away.is_some_and(|away| (away - line.0 - line.1 * (*at as f64 + 0.5)).abs() < 2.0)
    };
    let begin = side.iter().enumerate().find(is_near)?.0 as f64;
    let end = side.iter().enumerate().rev().find(is_near)?.0 as f64 + 1.0;
    Some((line, [begin, end]))
}

impl Sides {
    /// Looks at the middle of each module, for each number of modules a side may have, until a decoder understands it.
    fn sample<const N: usize>(
        &self,
        sides: [usize; N],
        decode: impl Fn(&[bool], usize) -> Option<String>,
    ) -> Option<String> {
        let middle = middle_of(&self.upright);
        let Self { foot, top, right, .. } = self;
        sides.into_iter().find_map(|side| {
            let mut modules = Vec::with_capacity(side * side);
            for row in 0..side {
                let up = (row as f64 + 0.5) / side as f64;
                let up = if self.flipped { up } else { 1.0 - up };
                for column in 0..side {
                    let along = (column as f64 + 0.5) / side as f64;
                    let [x, y] = [0, 1].map(|axis| {
                        let place = foot[axis] + (right[axis] - foot[axis]) * along + (top[axis] - foot[axis]) * up;
                        place.max(0.0) as usize
                    });
                    let (x, y) = (x.min(self.upright.width - 1), y.min(self.upright.height - 1));
                    modules.push(u16::from(self.upright.at(x, y)) < middle);
                }
            }
            decode(&modules, side)
        })
    }
}

// ---------------------------------------------------------------------------------------------- the checks

/// What was tried and what failed.
#[derive(Default)]
struct Tally {
    tried: usize,
    failed: Vec<String>,
    /// What was looked at: text, turn, resolution, and where on the dots it stands.
    looked: BTreeSet<(String, String, u32, [i64; 4], bool)>,
    /// Failures by paper and resolution, for people.
    counts: BTreeMap<String, [usize; 3]>,
}

impl Tally {
    /// Reads every symbol of a document in every way.
    fn look(&mut self, name: &str, document: &Document, bytes: &[u8], dpi: u32, shift: [f64; 2]) {
        self.look_known(name, document, bytes, dpi, shift, true);
    }

    /// The same for a printer that may not be known.
    fn look_known(&mut self, name: &str, document: &Document, bytes: &[u8], dpi: u32, shift: [f64; 2], known: bool) {
        for item in &document.pages[0].items {
            let Item::Symbol(symbol) = item else { continue };
            // The same symbol at the same size is looked at once for each place on the dots.
            let dots = |mm: f64| (mm / 25.4 * f64::from(dpi)).fract();
            let place = [symbol.module_mm, symbol.row_mm, dots(symbol.x_mm), dots(symbol.y_mm)];
            let place = place.map(|value| (value * 20.0).round() as i64);
            let once = (symbol.art.text.clone(), format!("{:?}", symbol.art.turn), dpi, place, shift[0] > 0.0);
            if !self.looked.insert(once) {
                continue;
            }
            let print = printed(bytes, document, symbol, f64::from(dpi), shift);
            for (ink, wide) in [("grey", print.wide.clone()), ("one bit", print.wide.one_bit())] {
                let bars = matches!(symbol.art.symbology, Symbology::Code128 | Symbology::Ean13);
                for seen in &SEEN {
                    // A printer that is not known is taken to have 300 or 600 dots per inch. Bars of 2.7 dots that are
                    // printed in black dots alone come out two or three dots wide: out of focus as well, that is too much
                    // for the first decoder.
                    if !known && bars && dpi == 203 && ink == "one bit" && seen.blur > 0.0 {
                        continue;
                    }
                    if ink == "one bit" && !seen.in_one_bit {
                        continue;
                    }
                    let kind = symbol.art.symbology;
                    let close = camera(&wide.part(print.close), print.dots_per_module, seen);
                    // Once with what stands around it, else alone with its quiet zone.
                    let first = if seen.degrees == 0.0 && seen.blur == 0.0 && seen.in_one_bit {
                        first_decoder(&camera(&wide, print.dots_per_module, seen), kind)
                    } else {
                        first_decoder(&close, kind)
                    };
                    let second = second_decoder(&close, kind, print.turn);
                    self.tried += 1;
                    let count = self.counts.entry(format!("{name} at {dpi} dpi, {ink}")).or_default();
                    count[0] += 1;
                    for (at, (decoder, read)) in [("first", first), ("second", second)].into_iter().enumerate() {
                        if read.as_deref() != Some(&symbol.art.text) {
                            count[at + 1] += 1;
                            self.failed.push(format!(
                                "{name} at {dpi} dpi, {ink}, {}: the {decoder} decoder read {read:?}, {:.3} mm, {:.2} dots",
                                seen.words,
                                print.dots_per_module / f64::from(dpi) * 25.4,
                                print.dots_per_module
                            ));
                            if let Some(folder) = std::env::var_os("ENAMELWRIGHT_PICTURES") {
                                let file = format!("{name}-{dpi}-{ink}-{}.png", seen.words).replace([' ', ','], "-");
                                close.keep(&std::path::Path::new(&folder).join(file));
                            }
                        }
                    }
                }
            }
        }
    }

    #[track_caller]
    fn done(&self) {
        println!("{} symbols read twice", self.tried);
        for (name, [tried, first, second]) in &self.counts {
            if first + second > 0 {
                println!("{name}: of {tried} the first missed {first}, the second {second}");
            }
        }
        assert!(self.failed.is_empty(), "{} not read:\n{}", self.failed.len(), self.failed.join("\n"));
    }
}

fn written(document: &Document, dots_per_inch: Option<u32>) -> Vec<u8> {
    let finish = Finish { correction: None, dots_per_inch };
    pdf::write_for(document, &properties(), &finish, &mut Unwatched).unwrap()
}

#[test]
fn symbols_on_a_known_printer_are_read() {
    let mut tally = Tally::default();
    for design in designs() {
        for dpi in [203, 300, 600] {
            let document = laid(design.clone(), Some(dpi));
            println!("{} at {dpi}: {:?}", design.name, document.warnings);
            let bytes = written(&document, Some(dpi));
            tally.look(&design.name, &document, &bytes, dpi, [0.0; 2]);
        }
    }
    tally.done();
}

#[test]
fn symbols_on_an_unknown_printer_are_read_wherever_their_dots_fall() {
    let mut tally = Tally::default();
    for design in designs() {
        let document = laid(design.clone(), None);
        let bytes = written(&document, None);
        println!("{}: {:?}", design.name, document.warnings);
        for dpi in [203, 300, 600] {
            tally.look_known(&design.name, &document, &bytes, dpi, [0.37, 0.41], false);
        }
    }
    tally.done();
}

#[test]
fn symbols_of_ready_made_papers_are_read() {
    let mut tally = Tally::default();
    for ready in ready::all() {
        for known in [None, Some(203)] {
            let document = laid(ready.design.clone(), known);
            if !is_claimed(&document.warnings) {
                println!("{} {known:?}: {:?}", ready.design.name, document.warnings);
                continue;
            }
            let bytes = written(&document, known);
            tally.look(&ready.design.name, &document, &bytes, known.unwrap_or(300), [0.0; 2]);
        }
    }
    tally.done();
}

#[test]
fn symbols_of_plain_tags_are_read() {
    let mut tally = Tally::default();
    for (name, width, height, folded) in [
        ("jewellery tag", 220, 100, false),
        ("folded jewellery tag", 440, 100, true),
        ("strung tag", 450, 270, false),
        ("folded tag", 640, 220, true),
    ] {
        for (symbology, code) in [
            (Symbology::Qr, "LN-DROP"),
            (Symbology::DataMatrix, "LN-DROP"),
            (Symbology::Code128, "LN-DROP"),
            (Symbology::Code128, "004217"),
        ] {
            let document = tag(width, height, folded, symbology, code);
            if !is_claimed(&document.warnings) {
                println!("{name} {symbology:?}: {:?}", document.warnings);
                continue;
            }
            let bytes = written(&document, None);
            for dpi in [203, 300, 600] {
                let name = format!("{name}, {} {code}", symbology.name());
                tally.look_known(&name, &document, &bytes, dpi, [0.0; 2], false);
            }
        }
    }
    tally.done();
}
