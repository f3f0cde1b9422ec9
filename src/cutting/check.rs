//! Is a plan one that can be laid out?

use super::lie::Sheet;
use super::shape::Shape;
use super::{Aim, CutError, LONGEST_SIDE_MM, SheetPlan};
use crate::measure::{Decimal, TooLarge};
use crate::studio::Thickness;
use rust_decimal::prelude::ToPrimitive;

/// The sheet and its outlines, ready for the search.
pub(super) fn checked(plan: &SheetPlan, aim: &Aim) -> Result<Sheet, CutError> {
    let longest = Decimal::from(LONGEST_SIDE_MM);
    let field = |field: &'static str, value: Decimal, fits: bool, accepted: String| {
        if fits { Ok(()) } else { Err(CutError::Field { field, value: format!("{value} mm"), accepted }) }
    };
    for side in plan.size_mm {
        let fits = side > Decimal::ZERO && side <= longest;
        field("side of the sheet", side, fits, format!("a length above 0, at most {longest} mm"))?;
    }
    for (name, value) in [("kerf", plan.kerf_mm), ("margin", plan.margin_mm)] {
        let fits = value >= Decimal::ZERO && value <= longest;
        field(name, value, fits, format!("0 mm or more, at most {longest} mm"))?;
    }
    field("smallest off-cut", plan.off_cut_mm, plan.off_cut_mm > Decimal::ZERO, "a length above 0".to_owned())?;
    if let Thickness::ThicknessMm(thickness) = plan.thickness {
        field("thickness", thickness, thickness > Decimal::ZERO, "a length above 0".to_owned())?;
    }
    let stated = match aim {
        Aim::Quantities => plan.wanted.len(),
        Aim::Sets(sets) => sets.len(),
        Aim::Value(values) => values.len(),
    };
    if plan.wanted.is_empty() || stated != plan.wanted.len() {
        return Err(CutError::Field {
            field: "outlines wanted",
            value: format!("{} outlines and {stated} figures for them", plan.wanted.len()),
            accepted: "one outline or more, and one figure for each".to_owned(),
        });
    }
    let float = |value: Decimal| value.to_f64().ok_or(TooLarge);
    let shapes = plan.wanted.iter().enumerate().map(|(number, wanted)| Shape::new(wanted, number, plan.grain));
    Ok(Sheet {
        shapes: shapes.collect::<Result<_, CutError>>()?,
        size: [float(plan.size_mm[0])?, float(plan.size_mm[1])?],
        kerf: float(plan.kerf_mm)?,
        margin: float(plan.margin_mm)?,
    })
}
