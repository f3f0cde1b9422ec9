//! From area to metal.

use super::CutError;
use crate::measure::{Decimal, exact, gauge};
use crate::studio::{Metal, Thickness};

/// Metal of an area in mm², g: area × thickness × density, rounded half-even to 6 places. The one place where metal of
/// a sheet is rounded.
///
/// # Errors
/// [`CutError::TooLarge`].
pub fn grams(area_mm2: Decimal, thickness: Thickness, metal: Metal) -> Result<Decimal, CutError> {
    let thickness_mm = match thickness {
        Thickness::ThicknessMm(stated) => stated,
        Thickness::Gauge(number) => gauge::thickness_decimal(number),
    };
    // g/cm³ is mg/mm³.
    let milligrams = exact::mul(exact::mul(area_mm2, thickness_mm)?, metal.density())?;
    Ok(exact::round(exact::div(milligrams, Decimal::ONE_THOUSAND)?, 6).normalize())
}
