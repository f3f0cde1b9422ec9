//! How large a symbol is drawn: in whole dots of the printer, as large as its place, and never smaller than scans.
//!
//! The figures: EAN-13 has a module of 0.264 to 0.66 mm, 0.33 mm is usual (GS1 General Specifications, 5.12.3.1, as
//! printed by GS1 Sweden's size guide), its bars are 22.85 mm high at 0.33 mm. The others are our own trials of printed
//! symbols (simulated print and scan): from 0.25 mm on they are read where they stand on whole dots, from 0.339 mm on
//! they are read wherever they stand.

use super::page::DOT_MM;
use super::symbol::{EAN_ROW_MODULES, SymbolArt, Symbology, ean13, symbol};
use crate::studio::SymbolKind;

/// Bars lower than this are missed by a hand that does not hold still, mm (common practice, no source).
const BARS_LEAST_MM: f64 = 5.0;
/// Height of the bars of an EAN-13 in modules: 22.85 mm at 0.33 mm.
const EAN_BAR_MODULES: f64 = 22.85 / 0.33;
/// What the digits of an EAN-13 take beneath its guard bars, in modules.
pub const EAN_DIGIT_MODULES: f64 = 4.0;
/// Slack when lengths are compared, mm.
const SLACK_MM: f64 = 0.0005;

/// A symbol at a size.
#[derive(Debug, Clone, PartialEq)]
pub struct SymbolChoice {
    /// Width of a module, mm: whole dots of the printer.
    pub module_mm: f64,
    /// Height of a row, mm: the module, or for bars their height over the rows.
    pub row_mm: f64,
    /// The modules.
    pub art: SymbolArt,
    /// Why this size, in words.
    pub why: String,
    /// It may not scan.
    pub warning: Option<SymbolWarning>,
}

/// Why a symbol may not scan.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SymbolWarning {
    /// Its modules are small.
    #[error("its modules are {module_mm:.2} mm, {good_mm:.2} mm scan more surely; print one and try it")]
    Small {
        /// What they are, mm.
        module_mm: f64,
        /// What would be better, mm.
        good_mm: f64,
    },
    /// Its bars are low.
    #[error("its bars are {high_mm:.1} mm high, {good_mm:.1} mm are asked for; print one and try it")]
    Low {
        /// What they are, mm.
        high_mm: f64,
        /// What would be better, mm.
        good_mm: f64,
    },
}

/// Why there is no symbol.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SymbolProblem {
    /// There is nothing to hold.
    #[error("there is nothing for the symbol to hold")]
    Nothing,
    /// The text cannot be held.
    #[error("{text:?} cannot stand in a {name}: {accepted}")]
    Text {
        /// The text, its beginning.
        text: String,
        /// The symbol.
        name: &'static str,
        /// What would be accepted.
        accepted: &'static str,
    },
    /// It would be too small to scan.
    #[error(
        "{} of this text that scans needs {} by {} mm with its quiet zone; its place has {} by {} mm",
        with_article(name),
        tenths(needed_mm, 0),
        tenths(needed_mm, 1),
        tenths(room_mm, 0),
        tenths(room_mm, 1)
    )]
    Room {
        /// The symbol.
        name: &'static str,
        /// Width and height of the least that scans, mm.
        needed_mm: [f64; 2],
        /// Width and height of its place, mm.
        room_mm: [f64; 2],
    },
}

fn tenths(size: &[f64; 2], side: usize) -> String {
    size.get(side).map_or_else(String::new, |mm| format!("{:.1}", (mm * 10.0).ceil() / 10.0))
}

/// The sizes of a module, mm.
struct Sizes {
    least: f64,
    good: f64,
    most: f64,
}

fn sizes(kind: SymbolKind, known_printer: bool) -> Sizes {
    match kind {
        // Where the printer is known the symbol stands on its dots, and less is enough.
        SymbolKind::Qr | SymbolKind::DataMatrix => {
            Sizes { least: 0.25, good: if known_printer { 0.25 } else { 4.0 * DOT_MM }, most: f64::MAX }
        }
        SymbolKind::Code128 => Sizes { least: 0.25, good: 0.25, most: 1.0 },
        SymbolKind::Ean13 => Sizes { least: 0.264, good: 0.33, most: 0.66 },
    }
}

const fn name(kind: SymbolKind) -> &'static str {
    match kind {
        SymbolKind::Qr => "QR code",
        SymbolKind::DataMatrix => "Data Matrix",
        SymbolKind::Code128 => "Code 128",
        SymbolKind::Ean13 => "EAN-13",
    }
}

const fn accepted(kind: SymbolKind) -> &'static str {
    match kind {
        SymbolKind::Qr => "up to 2,331 bytes are accepted",
        SymbolKind::DataMatrix => "up to 1,555 bytes are accepted",
        SymbolKind::Code128 => "letters without accents, digits and plain signs are accepted",
        SymbolKind::Ean13 => "thirteen digits are accepted, the last the check digit of the others",
    }
}

/// Chooses the size of a symbol for a place, quiet zone and digits included: the largest that fits in whole dots. An
/// unknown printer is taken to have 300 or 600 dots per inch.
///
/// # Errors
/// When there is nothing to hold, the kind cannot hold it, or the place is too small for one that scans.
pub fn choose(
    kind: SymbolKind,
    text: &str,
    room_mm: [f64; 2],
    dots_per_inch: Option<u32>,
) -> Result<SymbolChoice, SymbolProblem> {
    if text.is_empty() {
        return Err(SymbolProblem::Nothing);
    }
    let art = symbol(Symbology::from(kind), text).ok_or_else(|| SymbolProblem::Text {
        text: text.chars().take(24).collect(),
        name: name(kind),
        accepted: accepted(kind),
    })?;
    let dot = dots_per_inch.filter(|dots| *dots > 0).map_or(DOT_MM, |dots| 25.4 / f64::from(dots));
    let Sizes { least, good, most } = sizes(kind, dots_per_inch.is_some());
    // Two dots of a 203 dpi printer are 0.2502 mm, three of 300 dpi 0.254 mm.
    let least_dots = ((least - SLACK_MM) / dot).ceil().max(1.0);
    let quiet = art.quiet_zone();
    let columns = f64::from(art.columns + quiet.left + quiet.right);
    let square = matches!(kind, SymbolKind::Qr | SymbolKind::DataMatrix);
    let needed_height = |module: f64| match kind {
        SymbolKind::Ean13 => BARS_LEAST_MM + (f64::from(EAN_ROW_MODULES) + EAN_DIGIT_MODULES) * module,
        SymbolKind::Code128 => BARS_LEAST_MM,
        SymbolKind::Qr | SymbolKind::DataMatrix => f64::from(art.rows + quiet.above + quiet.below) * module,
    };
    let [width, height] = room_mm;
    let dots_across = ((width + SLACK_MM) / columns / dot).floor();
    let dots_most = ((most + SLACK_MM) / dot).floor();
    let mut dots = dots_across.min(dots_most);
    while dots >= least_dots && needed_height(dots * dot) > height + SLACK_MM {
        // A square symbol may need to come down far; bars hardly at all.
        dots = if square { (dots - 1.0).min(((height + SLACK_MM) / needed_height(dot)).floor()) } else { dots - 1.0 };
    }
    if dots < least_dots {
        let module = least_dots * dot;
        let needed_mm = [columns * module, needed_height(module)];
        return Err(SymbolProblem::Room { name: name(kind), needed_mm, room_mm });
    }
    let module_mm = dots * dot;
    let small = (module_mm < good - SLACK_MM).then_some(SymbolWarning::Small { module_mm, good_mm: good });
    let (art, row_mm, low) = match kind {
        SymbolKind::Qr | SymbolKind::DataMatrix => (art, module_mm, None),
        SymbolKind::Code128 => {
            // Higher bars than wide ones only take ink.
            let high = height.min(f64::from(art.columns) * module_mm * 0.5).max(BARS_LEAST_MM);
            (art, high, None)
        }
        SymbolKind::Ean13 => {
            let row = f64::from(EAN_ROW_MODULES) * module_mm;
            let good_mm = EAN_BAR_MODULES * module_mm;
            let whole = ((height - EAN_DIGIT_MODULES * module_mm + SLACK_MM) / row).floor();
            // The place's height was looked at above: two rows to fourteen.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let rows = whole.clamp(2.0, f64::from(super::symbol::EAN_ROWS)) as u32;
            let high_mm = f64::from(rows) * row;
            let low = (high_mm < good_mm - SLACK_MM).then_some(SymbolWarning::Low { high_mm, good_mm });
            (ean13(text, rows).unwrap_or(art), row, low)
        }
    };
    Ok(SymbolChoice {
        why: why(kind, dots, dot, dots_per_inch, module_mm),
        module_mm,
        row_mm,
        art,
        warning: small.or(low),
    })
}

fn why(kind: SymbolKind, dots: f64, dot: f64, dots_per_inch: Option<u32>, module_mm: f64) -> String {
    let name = name(kind);
    let resolution = (25.4 / dot).round();
    let printer = match dots_per_inch {
        Some(_) => format!("of your printer's {resolution} dots per inch"),
        None => format!("at {resolution} dots per inch, as the printer is not known"),
    };
    let plural = if dots > 1.5 { "dots" } else { "dot" };
    let read = match kind {
        SymbolKind::Qr => "Every phone reads it",
        SymbolKind::DataMatrix => "It is the smallest; scanners read it, most phones do not",
        SymbolKind::Code128 => "Line scanners read it",
        SymbolKind::Ean13 => "Tills read it",
    };
    format!(
        "{name} with modules of {module_mm:.3} mm, {dots:.0} {plural} {printer}: the largest its place has room for. {read}."
    )
}

fn with_article(name: &str) -> String {
    format!("{} {name}", if name.starts_with('E') { "an" } else { "a" })
}
