//! Code symbols: the item code as QR, Data Matrix or Code 128.

use barcoders::sym::code128::Code128;
use datamatrix::{DataMatrix, SymbolList};
use qrcode::{Color, EcLevel, QrCode};

/// The kinds of symbol a tag may carry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Symbology {
    /// QR (ISO/IEC 18004), level M: read by every phone.
    #[default]
    Qr,
    /// Data Matrix (ISO/IEC 16022), square: smallest; most phones' own cameras do not read it.
    DataMatrix,
    /// Code 128 (ISO/IEC 15417): for line scanners, on labels at least 35 mm wide.
    Code128,
    /// No symbol; the code in letters only.
    None,
}

impl Symbology {
    /// Every kind, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Qr, Self::DataMatrix, Self::Code128, Self::None];

    /// The name on screen and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Qr => "qr",
            Self::DataMatrix => "data-matrix",
            Self::Code128 => "code-128",
            Self::None => "none",
        }
    }

    /// The kind of that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }

    /// Modules that must stay empty around it: left and right, and above and below (ISO/IEC 18004: 4;
    /// ISO/IEC 16022: 1; ISO/IEC 15417: 10 at the sides).
    pub const fn quiet_modules(self) -> [u32; 2] {
        match self {
            Self::Qr => [4, 4],
            Self::DataMatrix => [1, 1],
            Self::Code128 => [10, 0],
            Self::None => [0, 0],
        }
    }
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
}

/// The symbol of a text; none for an empty text, for one the symbology cannot hold, or for [`Symbology::None`].
pub fn symbol(symbology: Symbology, text: &str) -> Option<SymbolArt> {
    if text.is_empty() {
        return None;
    }
    let (columns, modules) = match symbology {
        Symbology::None => return None,
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
