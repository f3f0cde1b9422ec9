//! The geometry of label sheets, checked, and sheets to begin with.

use super::label_shape::Figure;
use super::page::{Rect, Segment};
use super::warning::PaperProblem;
use crate::measure::Decimal;
use crate::studio::{LabelShape, LabelSheet};
use rust_decimal::prelude::ToPrimitive;

/// Smallest and largest page, in millimetres.
const PAGE_MM: [f64; 2] = [10.0, 1_000.0];
/// Smallest label: below this neither a price nor a symbol can be read.
const LABEL_LEAST_MM: [f64; 2] = [10.0, 6.0];
/// Narrowest flag of a barbell.
const FLAG_LEAST_MM: f64 = 6.0;
/// Most labels in a row or column.
const MOST_ACROSS: u32 = 100;
/// Labels may reach over the page's edge by rounding only.
const SLACK_MM: f64 = 0.01;

/// A sheet's checked measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grid {
    /// Page width.
    pub page_width_mm: f64,
    /// Page height.
    pub page_height_mm: f64,
    /// Label width.
    pub label_width_mm: f64,
    /// Label height.
    pub label_height_mm: f64,
    left_mm: f64,
    top_mm: f64,
    pitch_x_mm: f64,
    pitch_y_mm: f64,
    columns: u32,
    rows: u32,
    pub(super) figure: Figure,
}

impl Grid {
    /// Labels on a page.
    pub fn labels(&self) -> u32 {
        self.columns * self.rows
    }

    /// Labels in a row, and rows.
    pub fn across(&self) -> [u32; 2] {
        [self.columns, self.rows]
    }

    /// Width and height of a label.
    pub fn label_mm(&self) -> [f64; 2] {
        [self.label_width_mm, self.label_height_mm]
    }

    /// The outline of the label at `slot`, from 0, clockwise on the page.
    pub fn outline(&self, slot: u32) -> Vec<Segment> {
        self.figure.outline(self.rect(slot), 0.0)
    }

    /// The label at `slot`, from 0, row by row.
    pub fn rect(&self, slot: u32) -> Rect {
        let (column, row) = (slot % self.columns.max(1), slot / self.columns.max(1));
        Rect {
            x_mm: self.left_mm + f64::from(column) * self.pitch_x_mm,
            y_mm: self.top_mm + f64::from(row) * self.pitch_y_mm,
            width_mm: self.label_width_mm,
            height_mm: self.label_height_mm,
        }
    }
}

/// Checks a sheet's measures.
///
/// # Errors
/// The first measure that does not work, with what would: a page of 10 to 1000 mm, labels of at least 10 by 6 mm that
/// do not overlap and lie inside the page, 1 to 100 columns and rows, and an outline that goes with them: see
/// [`LabelShape`]; a round label is not folded, and a barbell has no hole.
pub fn grid(sheet: &LabelSheet) -> Result<Grid, PaperProblem> {
    let problem = |field: &'static str, value: String, accepted: String| PaperProblem::Sheet {
        sheet: sheet.name.clone(),
        field,
        value,
        accepted,
    };
    let measure = |field: &'static str, value: Decimal, least: f64, most: f64| {
        value
            .to_f64()
            .filter(|number| (least..=most).contains(number))
            .ok_or_else(|| problem(field, format!("{value} mm"), format!("{least} to {most} mm would be accepted")))
    };
    let count = |field: &'static str, value: u32| {
        if (1..=MOST_ACROSS).contains(&value) {
            Ok(value)
        } else {
            Err(problem(field, value.to_string(), format!("1 to {MOST_ACROSS} would be accepted")))
        }
    };
    let [page_least, page_most] = PAGE_MM;
    let page_width_mm = measure("page width", sheet.page_width_mm, page_least, page_most)?;
    let page_height_mm = measure("page height", sheet.page_height_mm, page_least, page_most)?;
    let [width_least, height_least] = LABEL_LEAST_MM;
    let label_width_mm = measure(
        "label width",
        sheet.label_width_mm,
        if sheet.folded { width_least * 2.0 } else { width_least },
        page_width_mm,
    )?;
    let label_height_mm = measure("label height", sheet.label_height_mm, height_least, page_height_mm)?;
    let left_mm = measure("left margin", sheet.left_mm, 0.0, page_width_mm)?;
    let top_mm = measure("top margin", sheet.top_mm, 0.0, page_height_mm)?;
    let columns = count("columns", sheet.columns)?;
    let rows = count("rows", sheet.rows)?;
    // With a single column or row the pitch says nothing.
    let pitch = |field: &'static str, value: Decimal, number: u32, size: f64, most: f64| {
        if number == 1 { Ok(size) } else { measure(field, value, size, most) }
    };
    let pitch_x_mm = pitch("column pitch", sheet.pitch_x_mm, columns, label_width_mm, page_width_mm)?;
    let pitch_y_mm = pitch("row pitch", sheet.pitch_y_mm, rows, label_height_mm, page_height_mm)?;
    let right = left_mm + f64::from(columns - 1) * pitch_x_mm + label_width_mm;
    let bottom = top_mm + f64::from(rows - 1) * pitch_y_mm + label_height_mm;
    if right > page_width_mm + SLACK_MM {
        return Err(problem(
            "columns",
            format!("{columns}"),
            format!("the last label would end {right:.1} mm from the left, the page is {page_width_mm} mm wide"),
        ));
    }
    if bottom > page_height_mm + SLACK_MM {
        return Err(problem(
            "rows",
            format!("{rows}"),
            format!("the last label would end {bottom:.1} mm from the top, the page is {page_height_mm} mm high"),
        ));
    }
    check_shape(sheet, [label_width_mm, label_height_mm])?;
    Ok(Grid {
        page_width_mm,
        page_height_mm,
        label_width_mm,
        label_height_mm,
        left_mm,
        top_mm,
        pitch_x_mm,
        pitch_y_mm,
        columns,
        rows,
        figure: Figure::of(sheet.shape),
    })
}

/// Checks that the outline of labels of a size can be cut, and goes with fold and hole.
fn check_shape(sheet: &LabelSheet, [width, height]: [f64; 2]) -> Result<(), PaperProblem> {
    let problem = |field: &'static str, value: String, accepted: String| {
        Err(PaperProblem::Sheet { sheet: sheet.name.clone(), field, value, accepted })
    };
    let within = |value: Decimal, most: f64| value.to_f64().is_some_and(|number| number > 0.0 && number <= most);
    match sheet.shape {
        LabelShape::Rectangle => {}
        LabelShape::Rounded(radius) => {
            let most = width.min(height) / 2.0;
            if !within(radius, most) {
                let accepted = format!("above 0, at most {most} mm, half the shorter side, would be accepted");
                return problem("corner radius", format!("{radius} mm"), accepted);
            }
        }
        LabelShape::Round => {
            if sheet.folded {
                let accepted = "a round label is not folded; choose square or rounded corners, or a barbell".to_owned();
                return problem("fold", "a fold in the middle".to_owned(), accepted);
            }
        }
        LabelShape::Barbell { neck_length_mm, neck_height_mm } => {
            let most = width - 2.0 * FLAG_LEAST_MM;
            if most <= 0.0 {
                let accepted = format!(
                    "a barbell has a neck and two flags of at least {FLAG_LEAST_MM} mm: more than {} mm would be accepted",
                    2.0 * FLAG_LEAST_MM
                );
                return problem("label width", format!("{width} mm"), accepted);
            }
            if !within(neck_length_mm, most) {
                let accepted =
                    format!("above 0, at most {most} mm would be accepted: flags are at least {FLAG_LEAST_MM} mm long");
                return problem("neck length", format!("{neck_length_mm} mm"), accepted);
            }
            if !within(neck_height_mm, height) {
                let accepted = format!("above 0, at most the label's {height} mm would be accepted");
                return problem("neck height", format!("{neck_height_mm} mm"), accepted);
            }
            if sheet.hole {
                let accepted = "a barbell hangs by its neck and has none".to_owned();
                return problem("hole", "a hole".to_owned(), accepted);
            }
        }
    }
    Ok(())
}

/// Sheets to begin with: strung, folded and barbell tags for plain card cut by hand, labels, and cards, on A4, Letter, A6
/// and 4 × 6 in.
pub fn usual_sheets() -> Vec<LabelSheet> {
    super::usual_sheets::usual_sheets()
}
