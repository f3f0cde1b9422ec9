//! The units people type, and what each is exactly in the unit that is kept (NIST SP 811, appendix B; the ounce and the
//! pound of 1959). Values from memory of that publication, checked in the tests against published rows.

use super::exact::Decimal;
use super::quantity::Unit;

/// Grams in an avoirdupois ounce: 28.349523125.
pub(super) fn ounce() -> Decimal {
    Decimal::new(28_349_523_125, 9)
}

/// Millimetres in an inch: 25.4.
pub(super) fn inch() -> Decimal {
    Decimal::new(254, 1)
}

/// How many of `unit` one of what `name` names is; none when it is not a unit of that kind. `name` is lower case.
pub(super) fn factor(unit: Unit, name: &str) -> Option<Decimal> {
    match unit {
        Unit::Gram => mass(name),
        Unit::Millimetre => length(name),
        Unit::Millilitre => volume(name),
        Unit::Each => pieces(name),
    }
}

/// Grams.
fn mass(name: &str) -> Option<Decimal> {
    Some(match name {
        "g" | "gm" | "gram" | "grams" | "gramme" | "grammes" => Decimal::ONE,
        "mg" | "milligram" | "milligrams" => Decimal::new(1, 3),
        "kg" | "kilo" | "kilos" | "kilogram" | "kilograms" => Decimal::new(1000, 0),
        "oz" | "oz." | "ounce" | "ounces" => ounce(),
        "lb" | "lbs" | "lb." | "lbs." | "pound" | "pounds" => Decimal::new(45_359_237, 5),
        "ozt" | "oz t" | "oz tr" | "oz troy" | "ozt." | "troy oz" | "troy ounce" | "troy ounces" => {
            Decimal::new(311_034_768, 7)
        }
        "dwt" | "pennyweight" | "pennyweights" => Decimal::new(155_517_384, 8),
        "grain" | "grains" => Decimal::new(6_479_891, 8),
        "ct" | "carat" | "carats" => Decimal::new(2, 1),
        _ => return None,
    })
}

/// Millimetres.
fn length(name: &str) -> Option<Decimal> {
    Some(match name {
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Decimal::ONE,
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Decimal::TEN,
        "m" | "metre" | "metres" | "meter" | "meters" => Decimal::new(1000, 0),
        "in" | "in." | "inch" | "inches" | "\"" | "″" | "”" => inch(),
        "ft" | "ft." | "foot" | "feet" => Decimal::new(3048, 1),
        "yd" | "yd." | "yard" | "yards" => Decimal::new(9144, 1),
        _ => return None,
    })
}

/// Millilitres; the fluid ounce is that of the United States, 29.5735295625 ml.
fn volume(name: &str) -> Option<Decimal> {
    Some(match name {
        "ml" | "cc" | "cm3" | "cm³" | "millilitre" | "millilitres" | "milliliter" | "milliliters" => Decimal::ONE,
        "cl" | "centilitre" | "centilitres" | "centiliter" | "centiliters" => Decimal::TEN,
        "l" | "litre" | "litres" | "liter" | "liters" => Decimal::new(1000, 0),
        "fl oz" | "fl. oz" | "fl. oz." | "floz" | "fluid ounce" | "fluid ounces" => Decimal::new(295_735_295_625, 10),
        _ => return None,
    })
}

/// Pieces.
fn pieces(name: &str) -> Option<Decimal> {
    Some(match name {
        "each" | "ea" | "ea." | "pc" | "pcs" | "pc." | "pcs." | "piece" | "pieces" => Decimal::ONE,
        "pair" | "pairs" => Decimal::TWO,
        "dozen" | "doz" | "doz." => Decimal::new(12, 0),
        _ => return None,
    })
}

/// Minutes.
pub(super) enum TimeUnit {
    /// 1/60 minute.
    Second,
    /// 1 minute.
    Minute,
    /// 60 minutes.
    Hour,
}

/// The unit of time of that name, lower case.
pub(super) fn time(name: &str) -> Option<TimeUnit> {
    Some(match name {
        "s" | "s." | "sec" | "secs" | "sec." | "second" | "seconds" => TimeUnit::Second,
        "m" | "min" | "mins" | "min." | "minute" | "minutes" => TimeUnit::Minute,
        "h" | "h." | "hr" | "hrs" | "hr." | "hour" | "hours" => TimeUnit::Hour,
        _ => return None,
    })
}
