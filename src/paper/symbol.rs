//! Code symbols: QR, Data Matrix, Code 128 and EAN-13, in modules.

use super::trade_number::is_ean13;
use crate::studio::{SymbolKind, Turn};
use barcoders::sym::code128::Code128;
use barcoders::sym::ean13::EAN13;
use datamatrix::{DataMatrix, SymbolList};
use qrcode::{Color, EcLevel, QrCode};

/// The kinds of symbol.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Symbology {
    /// QR (ISO/IEC 18004), level M: read by every phone.
    #[default]
    Qr,
    /// Data Matrix (ISO/IEC 16022), square: smallest; most phones' own cameras do not read it.
    DataMatrix,
    /// Code 128 (ISO/IEC 15417): for line scanners, on labels at least 35 mm wide.
    Code128,
    /// EAN-13 (ISO/IEC 15420): the number of a trade item, for tills.
    Ean13,
    /// No symbol; the code in letters only.
    None,
}

impl Symbology {
    /// The kinds that can hold a code of hers, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Qr, Self::DataMatrix, Self::Code128, Self::None];

    /// The name on screen and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Qr => "qr",
            Self::DataMatrix => "data-matrix",
            Self::Code128 => "code-128",
            Self::Ean13 => "ean-13",
            Self::None => "none",
        }
    }

    /// The kind of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }

    /// Modules that must stay empty around it: left and right, and above and below (ISO/IEC 18004: 4;
    /// ISO/IEC 16022: 1; ISO/IEC 15417: 10 at the sides; ISO/IEC 15420: 11 at the left, here at both sides).
    pub const fn quiet_modules(self) -> [u32; 2] {
        match self {
            Self::Qr => [4, 4],
            Self::DataMatrix => [1, 1],
            Self::Code128 => [10, 0],
            Self::Ean13 => [11, 0],
            Self::None => [0, 0],
        }
    }
}

impl From<SymbolKind> for Symbology {
    fn from(kind: SymbolKind) -> Self {
        match kind {
            SymbolKind::Qr => Self::Qr,
            SymbolKind::DataMatrix => Self::DataMatrix,
            SymbolKind::Code128 => Self::Code128,
            SymbolKind::Ean13 => Self::Ean13,
        }
    }
}

/// Modules that must stay empty around a symbol as it is turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct QuietZone {
    /// At the left.
    pub left: u32,
    /// At the right.
    pub right: u32,
    /// Above.
    pub above: u32,
    /// Below.
    pub below: u32,
}

/// A run of dark modules.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dark {
    /// First column, from 0.
    pub column: u32,
    /// First row, from 0.
    pub row: u32,
    /// Columns.
    pub columns: u32,
    /// Rows.
    pub rows: u32,
}

/// A symbol in modules.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SymbolArt {
    /// What kind it is.
    pub symbology: Symbology,
    /// What it holds.
    pub text: String,
    /// Columns of modules, without quiet zone.
    pub columns: u32,
    /// Rows of modules; 1 for bars.
    pub rows: u32,
    /// Dark modules as rectangles, none touching another from above or below unless it must.
    pub dark: Vec<Dark>,
    /// How it is turned; columns, rows and modules are those of the turned symbol.
    pub turn: Turn,
}

impl SymbolArt {
    /// The symbol turned clockwise. A module's width and the height of a row change places with a quarter.
    #[must_use]
    pub fn turned(&self, turn: Turn) -> Self {
        let quarters = |turn| match turn {
            Turn::None => 0,
            Turn::Quarter => 1,
            Turn::Half => 2,
            Turn::ThreeQuarters => 3,
        };
        let mut art = self.clone();
        for _ in 0..quarters(turn) {
            let rows = art.rows;
            for dark in &mut art.dark {
                *dark = Dark {
                    column: rows.saturating_sub(dark.row + dark.rows),
                    row: dark.column,
                    columns: dark.rows,
                    rows: dark.columns,
                };
            }
            std::mem::swap(&mut art.columns, &mut art.rows);
        }
        art.turn = [Turn::None, Turn::Quarter, Turn::Half, Turn::ThreeQuarters]
            .into_iter()
            .find(|known| quarters(*known) == (quarters(self.turn) + quarters(turn)) % 4)
            .unwrap_or_default();
        art
    }

    /// The modules around it that must stay empty.
    pub fn quiet_zone(&self) -> QuietZone {
        let [side, end] = self.symbology.quiet_modules();
        let right = if self.symbology == Symbology::Ean13 { 7 } else { side };
        match self.turn {
            Turn::None => QuietZone { left: side, right, above: end, below: end },
            Turn::Quarter => QuietZone { left: end, right: end, above: side, below: right },
            Turn::Half => QuietZone { left: right, right: side, above: end, below: end },
            Turn::ThreeQuarters => QuietZone { left: end, right: end, above: right, below: side },
        }
    }
}

/// Rows an EAN-13 is drawn with: the guard bars reach a row lower than the others, five modules (GS1 General
/// Specifications, 5.2.3), so that fourteen rows are the 70 modules its bars are high at full size.
pub const EAN_ROWS: u32 = 14;
/// Modules to a row of an EAN-13.
pub const EAN_ROW_MODULES: u32 = 5;

/// EAN-13 of so many rows, at least two.
pub(super) fn ean13(text: &str, rows: u32) -> Option<SymbolArt> {
    if !is_ean13(text) || rows < 2 {
        return None;
    }
    let modules = EAN13::new(text.get(..12)?).ok()?.encode();
    let mut dark = Vec::new();
    let mut column = 0_u32;
    for run in modules.chunk_by(|left, right| left == right) {
        let columns = u32::try_from(run.len()).ok()?;
        if run.first() == Some(&1) {
            let guard = column < 3 || (45..50).contains(&column) || column >= 92;
            dark.push(Dark { column, row: 0, columns, rows: if guard { rows } else { rows - 1 } });
        }
        column += columns;
    }
    let symbology = Symbology::Ean13;
    Some(SymbolArt { symbology, text: text.to_owned(), columns: column, rows, dark, turn: Turn::None })
}

/// The symbol of a text; none for an empty text, for one the symbology cannot hold, or for [`Symbology::None`].
pub fn symbol(symbology: Symbology, text: &str) -> Option<SymbolArt> {
    if text.is_empty() {
        return None;
    }
    let (columns, modules) = match symbology {
        Symbology::None => return None,
        Symbology::Ean13 => return ean13(text, EAN_ROWS),
        Symbology::Qr => {
            let code = QrCode::with_error_correction_level(text, EcLevel::M).ok()?;
            (code.width(), code.to_colors().into_iter().map(|colour| colour == Color::Dark).collect::<Vec<_>>())
        }
        Symbology::DataMatrix => {
            let code = DataMatrix::encode(text.as_bytes(), SymbolList::default().enforce_square()).ok()?;
            let bitmap = code.bitmap();
            let columns = bitmap.width();
            let mut modules = vec![false; columns.checked_mul(bitmap.height())?];
            for (x, y) in bitmap.pixels() {
                *modules.get_mut(y * columns + x)? = true;
            }
            (columns, modules)
        }
        Symbology::Code128 => {
            // Digit pairs take half the room in code set C; anything else stays in B.
            let digits = text.bytes().all(|byte| byte.is_ascii_digit()) && text.len().is_multiple_of(2);
            if !text.bytes().all(|byte| (0x20..0x7f).contains(&byte)) {
                return None;
            }
            let set = if digits { '\u{0106}' } else { '\u{0181}' };
            let modules: Vec<bool> =
                Code128::new(format!("{set}{text}")).ok()?.encode().into_iter().map(|module| module == 1).collect();
            (modules.len(), modules)
        }
    };
    let rows = modules.len().checked_div(columns)?;
    Some(SymbolArt {
        symbology,
        text: text.to_owned(),
        columns: u32::try_from(columns).ok()?,
        rows: u32::try_from(rows).ok()?,
        dark: rectangles(&modules, columns),
        turn: Turn::None,
    })
}

/// Dark modules as rectangles: runs along a row, and equal runs below one another as one.
fn rectangles(modules: &[bool], columns: usize) -> Vec<Dark> {
    let mut done: Vec<Dark> = Vec::new();
    let mut open: Vec<Dark> = Vec::new();
    for (row, line) in (0_u32..).zip(modules.chunks(columns.max(1))) {
        let mut now: Vec<Dark> = Vec::new();
        let mut column = 0_u32;
        for part in line.chunk_by(|left, right| left == right) {
            let length = u32::try_from(part.len()).unwrap_or(u32::MAX);
            if part.first() == Some(&true) {
                let above = open.iter().position(|dark| dark.column == column && dark.columns == length);
                now.push(match above {
                    Some(at) => {
                        let dark = open.swap_remove(at);
                        Dark { rows: dark.rows + 1, ..dark }
                    }
                    None => Dark { column, row, columns: length, rows: 1 },
                });
            }
            column = column.saturating_add(length);
        }
        done.append(&mut open);
        open = now;
    }
    done.append(&mut open);
    done.sort_by_key(|dark| (dark.row, dark.column));
    done
}
