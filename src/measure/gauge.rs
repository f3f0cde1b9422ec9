//! Brown & Sharpe gauge of sheet and wire (ASTM B258): No. 36 is 0.005 in, No. 0000 is 0.460 in, 39 even steps of ratio
//! between them, so `t = 0.127 mm · 92^((36 − n)/39)`.
//!
//! The British Standard Wire Gauge gives other thicknesses for the same numbers; it is not offered.

use super::exact::{self, Decimal};

/// The thickest gauge, 0000, as a number.
pub const THICKEST: i8 = -3;

/// The thinnest gauge of the table.
pub const THINNEST: i8 = 40;

/// Thickness in mm of a gauge number, −3 (0000) to 40; unrounded, as geometry uses it.
pub fn thickness_mm(gauge: i8) -> f64 {
    0.127 * 92_f64.powf((36.0 - f64::from(gauge)) / 39.0)
}

/// The same at 6 places, as it is shown.
pub fn thickness_decimal(gauge: i8) -> Decimal {
    // From −128 to 127 the formula stays between 3.1e-6 mm and 1.9e7 mm, which always fits.
    exact::from_geometry(thickness_mm(gauge)).unwrap_or_default()
}

/// The gauge whose thickness is nearest in ratio to `mm`, held to −3 … 40; none when `mm` is not above zero.
pub fn nearest(mm: f64) -> Option<i8> {
    if !(mm.is_finite() && mm > 0.0) {
        return None;
    }
    let exact = 36.0 - 39.0 * (mm / 0.127).ln() / 92_f64.ln();
    let held = exact.round().clamp(f64::from(THICKEST), f64::from(THINNEST));
    (THICKEST..=THINNEST).find(|&gauge| (f64::from(gauge) - held).abs() < 0.5)
}

/// The number as the trade writes it: `20`, `0`, `00`, `000`, `0000`.
pub fn number(gauge: i8) -> String {
    match gauge {
        -3 => "0000".to_owned(),
        -2 => "000".to_owned(),
        -1 => "00".to_owned(),
        other => other.to_string(),
    }
}

/// The number of a text `number` writes; −1 to −3 as digits are not gauge numbers anyone writes.
pub fn from_number(text: &str) -> Option<i8> {
    match text {
        "0000" => Some(-3),
        "000" => Some(-2),
        "00" => Some(-1),
        digits if digits.len() <= 2 && digits.bytes().all(|byte| byte.is_ascii_digit()) => {
            digits.parse().ok().filter(|gauge| *gauge <= THINNEST && number(*gauge) == digits)
        }
        _ => None,
    }
}

/// As a label: `20 ga`.
pub fn label(gauge: i8) -> String {
    format!("{}\u{a0}ga", number(gauge))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_two_sizes_that_define_the_gauge_are_met() {
        // ASTM B258: No. 36 is 0.0050 in, No. 0000 is 0.4600 in.
        assert!((thickness_mm(36) - 0.127).abs() < 1e-12);
        assert!((thickness_mm(-3) - 11.684).abs() < 1e-9);
    }

    #[test]
    fn every_gauge_is_nearest_to_itself_and_reads_as_it_is_written() {
        for gauge in THICKEST..=THINNEST {
            assert_eq!(nearest(thickness_mm(gauge)), Some(gauge));
            assert_eq!(from_number(&number(gauge)), Some(gauge));
        }
        assert_eq!(nearest(100.0), Some(THICKEST));
        assert_eq!(nearest(0.001), Some(THINNEST));
        assert_eq!(nearest(0.81), Some(20));
        for wrong in [f64::NAN, f64::INFINITY, 0.0, -1.0] {
            assert_eq!(nearest(wrong), None);
        }
        for wrong in ["", "41", "-1", "020", "00000", "2.5", "٢"] {
            assert_eq!(from_number(wrong), None);
        }
    }
}
