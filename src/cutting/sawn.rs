//! What is really sawn from sheets, and what it would cost: from a layout, or from counts alone.

use super::layout::Layout;
use super::mass::grams;
use super::share::{Areas, Costs, Scrap, share};
use super::{CutError, LONGEST_SIDE_MM};
use crate::costing::geometry;
use crate::measure::quantity::QUANTITY_LIMIT;
use crate::measure::{Decimal, Money, Quantity, TooLarge, Unit, exact};
use crate::studio::{Cut, CutItem, CutLine, CutPart, ItemId, Metal, Outline, Thickness};
use chrono::NaiveDate;

/// Sheets sawn into blanks and off-cuts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sawn {
    /// The sheet's item.
    pub sheet: ItemId,
    /// The unit it is kept in: pieces or grams.
    pub unit: Unit,
    /// Area of one sheet, mm², above 0.
    pub sheet_mm2: Decimal,
    /// What it is made of.
    pub metal: Metal,
    /// How thick it is.
    pub thickness: Thickness,
    /// How many sheets, from 1.
    pub sheets: u32,
    /// The blanks; a count of 0 is left out.
    pub blanks: Vec<Piece>,
    /// The off-cuts that are kept; a count of 0 is left out.
    pub off_cuts: Vec<Piece>,
    /// Who bears the scrap.
    pub scrap: Scrap,
    /// Time at the bench, minutes, 0 or more.
    pub bench_minutes: Decimal,
    /// The blanks bear the bench time at the studio's wage.
    pub bench_in_cost: bool,
    /// The day.
    pub date: NaiveDate,
    /// Anything else.
    pub note: String,
}

/// One kind of piece that is sawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// The item it becomes.
    pub item: CutItem,
    /// The unit that item is kept in: pieces or grams.
    pub unit: Unit,
    /// How many, of all sheets.
    pub count: u32,
    /// Metal of one, mm², above 0.
    pub area_mm2: Decimal,
}

impl Sawn {
    /// The parts of all sheets, mm².
    ///
    /// # Errors
    /// [`CutError::Field`] where the pieces are more than the sheets hold, or there is no sheet.
    pub fn areas(&self) -> Result<Areas, CutError> {
        if self.sheets == 0 {
            return Err(CutError::Field {
                field: "sheets",
                value: "0".to_owned(),
                accepted: "1 sheet or more".to_owned(),
            });
        }
        let of = |pieces: &[Piece]| -> Result<Vec<Decimal>, TooLarge> {
            pieces.iter().map(|piece| exact::mul(piece.area_mm2, Decimal::from(piece.count))).collect()
        };
        let sheet = exact::mul(self.sheet_mm2, Decimal::from(self.sheets))?;
        Areas::new(sheet, of(&self.blanks)?, of(&self.off_cuts)?)
    }

    /// What is written into the book: shares are areas in mm², the scrap's share is 0 where it is worth nothing.
    ///
    /// # Errors
    /// As [`Sawn::areas`]; [`CutError::Field`] too where an item is kept in a unit that is neither pieces nor grams.
    pub fn cut(&self) -> Result<Cut, CutError> {
        let areas = self.areas()?;
        let mut lines = Vec::with_capacity(self.blanks.len() + self.off_cuts.len());
        for (part, pieces, shares) in
            [(CutPart::Blank, &self.blanks, &areas.blanks), (CutPart::OffCut, &self.off_cuts, &areas.off_cuts)]
        {
            for (piece, share) in pieces.iter().zip(shares).filter(|(piece, _)| piece.count > 0) {
                let quantity = self.quantity(piece.unit, Decimal::from(piece.count), *share)?;
                lines.push(CutLine { part, item: piece.item.clone(), quantity, share: *share });
            }
        }
        let quantity = self.quantity(self.unit, Decimal::from(self.sheets), areas.sheet)?;
        Ok(Cut {
            sheet: self.sheet,
            quantity,
            typed: format!("{} {}", self.sheets, if self.sheets == 1 { "sheet" } else { "sheets" }),
            date: self.date,
            lines,
            scrap_g: kept(grams(areas.scrap, self.thickness, self.metal)?)?,
            scrap_share: if self.scrap == Scrap::KeepsItsPart { areas.scrap } else { Decimal::ZERO },
            bench_minutes: self.bench_minutes,
            bench_in_cost: self.bench_in_cost,
            note: self.note.clone(),
        })
    }

    fn quantity(&self, unit: Unit, count: Decimal, area_mm2: Decimal) -> Result<Quantity, CutError> {
        in_unit(unit, count, area_mm2, self.thickness, self.metal)
    }
}

fn in_unit(
    unit: Unit,
    count: Decimal,
    area_mm2: Decimal,
    thickness: Thickness,
    metal: Metal,
) -> Result<Quantity, CutError> {
    match unit {
        Unit::Each => Ok(kept(count)?),
        Unit::Gram => Ok(kept(grams(area_mm2, thickness, metal)?)?),
        Unit::Millimetre | Unit::Millilitre => Err(CutError::Field {
            field: "unit of what is cut",
            value: unit.to_string(),
            accepted: "an item kept in pieces or in grams".to_owned(),
        }),
    }
}

fn kept(amount: Decimal) -> Result<Quantity, TooLarge> {
    if amount > Decimal::from(QUANTITY_LIMIT) {
        return Err(TooLarge);
    }
    Quantity::new(amount).ok_or(TooLarge)
}

/// Area of a sheet of two sides, mm, each above 0 and at most [`LONGEST_SIDE_MM`].
///
/// # Errors
/// [`CutError::Field`].
pub fn sheet_mm2(size_mm: [Decimal; 2]) -> Result<Decimal, CutError> {
    let longest = Decimal::from(LONGEST_SIDE_MM);
    for side in size_mm {
        if side <= Decimal::ZERO || side > longest {
            return Err(CutError::Field {
                field: "side of the sheet",
                value: format!("{side} mm"),
                accepted: format!("a length above 0, at most {longest} mm"),
            });
        }
    }
    Ok(exact::mul(size_mm[0], size_mm[1])?)
}

/// Metal of one flat blank, mm², to 6 places, as layouts have it.
///
/// # Errors
/// A sentence that says why the outline is none.
pub fn blank_mm2(outline: &Outline) -> Result<Decimal, String> {
    let area = geometry::outline_area_mm2(outline)?;
    let area = exact::from_geometry(area).ok_or_else(|| TooLarge.to_string())?;
    Ok(exact::round(area, 6))
}

/// So many sheets in the unit their item is kept in: pieces, or the grams of their metal.
///
/// # Errors
/// [`CutError::Field`] for a unit that is neither, [`CutError::TooLarge`].
pub fn of_sheets(
    sheets: u32,
    unit: Unit,
    one_mm2: Decimal,
    thickness: Thickness,
    metal: Metal,
) -> Result<Quantity, CutError> {
    let count = Decimal::from(sheets);
    in_unit(unit, count, exact::mul(one_mm2, count)?, thickness, metal)
}

/// What a layout would cost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Estimate {
    /// What the sheet costs.
    pub sheet: Money,
    /// What the metal in each part cost, the scrap's too.
    pub metal: Costs,
    /// What the parts come to when they are kept: who bears the scrap has been settled.
    pub parts: Costs,
    /// One blank of each outline; none where none fits.
    pub each: Vec<Option<Money>>,
}

/// What a layout would cost: `quantity` of sheet, in its item's unit, at a price for one of it.
///
/// # Errors
/// [`CutError::TooLarge`].
pub fn estimate(layout: &Layout, quantity: Quantity, unit_price: Decimal, scrap: Scrap) -> Result<Estimate, CutError> {
    let sheet = Money::rounded(exact::mul(quantity.amount(), unit_price)?);
    let parts = share(&layout.areas, sheet, None, scrap)?;
    let mut each = Vec::with_capacity(layout.counts.len());
    for (cost, count) in parts.blanks.iter().zip(&layout.counts) {
        each.push(match count {
            0 => None,
            count => Some(Money::rounded(exact::div(cost.amount(), Decimal::from(*count))?)),
        });
    }
    Ok(Estimate { sheet, metal: share(&layout.areas, sheet, None, Scrap::KeepsItsPart)?, parts, each })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    fn sawn() -> Sawn {
        let piece = |item, unit, count, area: &str| Piece {
            item: CutItem::Known(ItemId(item)),
            unit,
            count,
            area_mm2: decimal(area),
        };
        Sawn {
            sheet: ItemId(1),
            unit: Unit::Gram,
            sheet_mm2: decimal("5000"),
            metal: Metal::FineSilver,
            thickness: Thickness::ThicknessMm(decimal("0.8")),
            sheets: 2,
            blanks: vec![piece(2, Unit::Each, 3, "600"), piece(3, Unit::Each, 0, "100")],
            off_cuts: vec![piece(4, Unit::Gram, 2, "1000")],
            scrap: Scrap::WorthNothing,
            bench_minutes: decimal("30"),
            bench_in_cost: true,
            date: NaiveDate::from_ymd_opt(2026, 3, 14).unwrap(),
            note: String::new(),
        }
    }

    #[test]
    fn what_is_sawn_adds_up_to_the_sheets() {
        // By hand: 10 000 mm² of 0.8 mm at 10.49 mg/mm³ are 83.92 g; 1800 blanks, 2000 off-cuts, 6200 scrap.
        let cut = sawn().cut().unwrap();
        assert_eq!(cut.quantity.to_string(), "83.92");
        assert_eq!(cut.scrap_g.to_string(), "52.0304");
        assert_eq!(cut.scrap_share, Decimal::ZERO);
        let lines: Vec<String> = cut.lines.iter().map(|line| format!("{} {}", line.quantity, line.share)).collect();
        assert_eq!(lines, ["3 1800", "16.784 2000"]);
        let kept = Sawn { scrap: Scrap::KeepsItsPart, unit: Unit::Each, ..sawn() }.cut().unwrap();
        assert_eq!((kept.quantity.to_string(), kept.scrap_share), ("2".to_owned(), decimal("6200")));
    }

    #[test]
    fn more_than_the_sheets_hold_is_refused() {
        let one = Sawn { sheets: 0, ..sawn() };
        assert_eq!(one.cut().unwrap_err().to_string(), "sheets is 0; accepted is 1 sheet or more");
        let mut many = sawn();
        many.blanks[0].count = 17;
        let said = many.cut().unwrap_err().to_string();
        assert!(said.contains("12200 mm²") && said.contains("10000 mm²"), "{said}");
        let mut odd = sawn();
        odd.off_cuts[0].unit = Unit::Millilitre;
        assert!(odd.cut().unwrap_err().to_string().contains("kept in pieces or in grams"));
    }

    #[test]
    fn the_area_of_a_blank_is_that_of_its_outline() {
        let square = Outline::Rectangle { length_mm: decimal("30"), width_mm: decimal("20"), corner_mm: Decimal::ZERO };
        assert_eq!(blank_mm2(&square).unwrap(), decimal("600"));
        assert!(blank_mm2(&Outline::Disc { diameter_mm: Decimal::ZERO }).is_err());
        assert!(sheet_mm2([decimal("0"), decimal("5")]).is_err());
        let grams =
            of_sheets(2, Unit::Gram, decimal("5000"), Thickness::ThicknessMm(decimal("0.8")), Metal::FineSilver);
        assert_eq!(grams.unwrap().to_string(), "83.92");
    }
}
