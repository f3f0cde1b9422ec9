//! What is put right on the pages of a printer, in words and as a drawing.

use super::page::Rect;
use super::pdf::mm_of;
use crate::measure::display::{self, FIXED_SPACE};
use crate::measure::{Decimal, Preferences, exact};
use crate::studio::Correction;

/// What is put right, a sentence without its stop: `Moved 1.2 mm to the left and 0.4 mm down, stretched by 0.3 % across`.
/// What is less than a hundredth of a millimetre or of a percent is nothing.
pub fn words(correction: &Correction, preferences: &Preferences) -> String {
    let moved = |by: Decimal, [on, back]: [&str; 2]| {
        let shown = exact::round_away(by, 2);
        let way = if shown.is_sign_negative() { back } else { on };
        let length = display::number(shown.abs(), 0, 2, preferences.numbers);
        (!shown.is_zero()).then(|| format!("{length}{FIXED_SPACE}mm {way}"))
    };
    let scaled = |factor: Decimal, way: &str| {
        let by = exact::sub(factor, Decimal::ONE).unwrap_or_default();
        let verb = if by.is_sign_negative() { "shrunk" } else { "stretched" };
        let told = exact::round_away(by.abs(), 4);
        (!told.is_zero()).then(|| format!("{verb} by {} {way}", display::share(told, preferences)))
    };
    let moves: Vec<String> =
        [moved(correction.right_mm, ["to the right", "to the left"]), moved(correction.down_mm, ["down", "up"])]
            .into_iter()
            .flatten()
            .collect();
    let mut parts = Vec::new();
    if !moves.is_empty() {
        parts.push(format!("moved {}", moves.join(" and ")));
    }
    if correction.wide == correction.high {
        parts.extend(scaled(correction.wide, "both ways"));
    } else {
        parts.extend(scaled(correction.wide, "across"));
        parts.extend(scaled(correction.high, "from top to bottom"));
    }
    if parts.is_empty() {
        return "Nothing: it prints where it should".to_owned();
    }
    let mut words = parts.join(", ");
    if let Some(first) = words.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    words
}

/// A page with a frame where it belongs and where the printer puts it, farther off than it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drawn {
    /// Width and height of the page, mm.
    pub page_mm: [f64; 2],
    /// Where a frame belongs.
    pub belongs: Rect,
    /// Where the printer puts it while nothing is put right.
    pub comes: Rect,
    /// How many times farther off it is drawn.
    pub times: u32,
}

/// Draws a page of a printer that needs this correction: its pages are stretched by `1 / wide` and `1 / high` and stand
/// off by what the correction takes back. The farthest corner is drawn at most an eighth of the shorter side away.
pub fn drawn(correction: &Correction, page_mm: [f64; 2]) -> Drawn {
    let [right, down, wide, high] =
        [correction.right_mm, correction.down_mm, correction.wide, correction.high].map(mm_of);
    let [width, height] = page_mm;
    let inset = width.min(height) / 6.0;
    // What a correction takes to x comes out of the printer at x: without it, x comes out where this says.
    let comes = |at: f64, moved: f64, scale: f64| (at - moved) / scale.max(0.5);
    let across = [inset, width - inset].map(|x| (x, comes(x, right, wide) - x));
    let along = [inset, height - inset].map(|y| (y, comes(y, down, high) - y));
    let most = across.iter().chain(&along).map(|(_, off)| off.abs()).fold(0.0, f64::max);
    let times = [100, 50, 20, 10, 5, 2].into_iter().find(|times| f64::from(*times) * most <= width.min(height) / 8.0);
    let times = times.filter(|_| most > 1.0e-6).unwrap_or(1);
    let at = |(place, off): (f64, f64)| place + off * f64::from(times);
    let [left, right] = across.map(at);
    let [top, bottom] = along.map(at);
    Drawn {
        page_mm,
        belongs: Rect { x_mm: inset, y_mm: inset, width_mm: width - 2.0 * inset, height_mm: height - 2.0 * inset },
        comes: Rect { x_mm: left, y_mm: top, width_mm: right - left, height_mm: bottom - top },
        times,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Currency;

    fn correction(right: &str, down: &str, wide: &str, high: &str) -> Correction {
        let [right_mm, down_mm, wide, high] = [right, down, wide, high].map(|text| text.parse().unwrap());
        Correction { sheet: None, right_mm, down_mm, wide, high }
    }

    #[test]
    fn a_correction_is_told_in_plain_words() {
        let preferences = Preferences::metric(Currency::from_code("EUR").unwrap());
        let told =
            |right, down, wide, high| words(&correction(right, down, wide, high), &preferences).replace('\u{a0}', " ");
        assert_eq!(
            told("-1.2", "0.4", "1.003", "1"),
            "Moved 1.2 mm to the left and 0.4 mm down, stretched by 0.3 % across"
        );
        assert_eq!(told("0", "-2", "1", "0.998"), "Moved 2 mm up, shrunk by 0.2 % from top to bottom");
        assert_eq!(told("0.004", "0", "1.005", "1.005"), "Stretched by 0.5 % both ways");
        assert_eq!(told("0.004", "-0.001", "1.00004", "1"), "Nothing: it prints where it should");
    }

    #[test]
    fn the_drawing_shows_the_way_the_printer_errs() {
        // What has to be moved to the right comes out too far to the left; what has to be stretched, too small. By hand:
        // 1 mm is drawn 20 times on a page 210 mm wide, since 50 mm are more than 26.25.
        let drawn = drawn(&correction("1", "0", "1", "1"), [210.0, 297.0]);
        assert_eq!(drawn.times, 20);
        assert!((drawn.belongs.x_mm - drawn.comes.x_mm - 20.0).abs() < 1.0e-9);
        assert!((drawn.comes.width_mm - drawn.belongs.width_mm).abs() < 1.0e-9);
        let small = super::drawn(&correction("0", "0", "1.01", "1"), [210.0, 297.0]);
        assert!(small.comes.width_mm < small.belongs.width_mm);
        assert!((small.comes.height_mm - small.belongs.height_mm).abs() < 1.0e-9);
        let none = super::drawn(&correction("0", "0", "1", "1"), [210.0, 297.0]);
        assert_eq!((none.comes, none.times), (none.belongs, 1));
    }
}
