//! Sheets to begin with, of our own naming: plain geometry.

use crate::measure::Decimal;
use crate::studio::{LabelShape, LabelSheet};

/// Hundredths of a millimetre.
type Hundredths = i64;

/// ISO 216: A4 is 210 × 297 mm, A6 105 × 148 mm.
const A4: [Hundredths; 2] = [21_000, 29_700];
const A6: [Hundredths; 2] = [10_500, 14_800];
/// 8.5 × 11 in and 4 × 6 in; an inch is exactly 25.4 mm.
const LETTER: [Hundredths; 2] = [21_590, 27_940];
const FOUR_BY_SIX: [Hundredths; 2] = [10_160, 15_240];
/// ISO/IEC 7810, ID-1: the size of a bank card, 85.60 × 53.98 mm, with corners of 3.18 mm.
const ID_1: [Hundredths; 2] = [8_560, 5_398];
const ID_1_CORNER: Hundredths = 318;

fn mm(hundredths: Hundredths) -> Decimal {
    Decimal::new(hundredths, 2).normalize()
}

/// Labels side by side in the middle of a page, with a gap between them.
fn sheet(
    name: &str,
    [page_width, page_height]: [Hundredths; 2],
    [width, height]: [Hundredths; 2],
    [columns, rows]: [u32; 2],
    gap: Hundredths,
) -> LabelSheet {
    // Half of what is left over, in thousandths.
    let margin = |page: i64, size: i64, count: u32| {
        let count = i64::from(count);
        Decimal::new((page - size * count - gap * (count - 1)) * 5, 3).normalize()
    };
    LabelSheet {
        name: name.to_owned(),
        page_width_mm: mm(page_width),
        page_height_mm: mm(page_height),
        left_mm: margin(page_width, width, columns),
        top_mm: margin(page_height, height, rows),
        label_width_mm: mm(width),
        label_height_mm: mm(height),
        pitch_x_mm: mm(width + gap),
        pitch_y_mm: mm(height + gap),
        columns,
        rows,
        folded: false,
        hole: false,
        cut_lines: false,
        shape: LabelShape::Rectangle,
        crop_marks: false,
    }
}

/// Sheets to begin with: strung and folded tags for plain card cut by hand, then stickers and cards, on A4, Letter, A6
/// and 4 × 6 in.
pub(super) fn usual_sheets() -> Vec<LabelSheet> {
    let strung = |sheet: LabelSheet| LabelSheet { hole: true, cut_lines: true, ..sheet };
    let folded = |sheet: LabelSheet| LabelSheet { folded: true, hole: true, cut_lines: true, ..sheet };
    let rounded =
        |corner: Hundredths, sheet: LabelSheet| LabelSheet { shape: LabelShape::Rounded(mm(corner)), ..sheet };
    let round = |sheet: LabelSheet| LabelSheet { shape: LabelShape::Round, ..sheet };
    let barbell = |sheet: LabelSheet| LabelSheet {
        shape: LabelShape::Barbell { neck_length_mm: Decimal::from(22), neck_height_mm: Decimal::from(4) },
        folded: true,
        cut_lines: true,
        ..sheet
    };
    let cropped = |sheet: LabelSheet| LabelSheet { crop_marks: true, ..sheet };
    vec![
        strung(sheet("Strung tags, A4", A4, [4_500, 2_700], [4, 10], 0)),
        strung(sheet("Strung tags, Letter", LETTER, [4_500, 2_700], [4, 9], 0)),
        folded(sheet("Folded tags, A4", A4, [6_400, 2_200], [3, 12], 0)),
        folded(sheet("Folded tags, Letter", LETTER, [6_400, 2_200], [3, 12], 0)),
        rounded(600, strung(sheet("Strung tags with round corners, A4", A4, [5_500, 3_000], [3, 9], 0))),
        rounded(600, strung(sheet("Strung tags with round corners, Letter", LETTER, [5_500, 3_000], [3, 8], 0))),
        barbell(sheet("Barbell tags, A4", A4, [8_200, 1_400], [2, 16], 200)),
        barbell(sheet("Barbell tags, Letter", LETTER, [8_200, 1_400], [2, 15], 200)),
        rounded(200, sheet("Labels with round corners, A4", A4, [6_000, 3_000], [3, 8], 250)),
        rounded(200, sheet("Labels with round corners, Letter", LETTER, [6_000, 3_000], [3, 7], 250)),
        round(sheet("Round labels, A4", A4, [4_000, 4_000], [4, 6], 400)),
        round(sheet("Round labels, Letter", LETTER, [4_000, 4_000], [4, 6], 300)),
        rounded(200, sheet("Labels with round corners, A6", A6, [4_500, 3_000], [2, 4], 300)),
        rounded(200, sheet("Labels with round corners, 4 × 6 in", FOUR_BY_SIX, [4_500, 3_000], [2, 4], 300)),
        sheet("One label a page, A6", A6, A6, [1, 1], 0),
        sheet("One label a page, 4 × 6 in", FOUR_BY_SIX, FOUR_BY_SIX, [1, 1], 0),
        rounded(ID_1_CORNER, cropped(sheet("Cards of bank card size, A4", A4, ID_1, [2, 5], 0))),
        rounded(ID_1_CORNER, cropped(sheet("Cards of bank card size, Letter", LETTER, ID_1, [2, 4], 0))),
    ]
}
