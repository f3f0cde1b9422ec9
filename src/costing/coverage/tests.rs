use super::*;
use crate::costing::samples::decimal;
use proptest::prelude::*;
use std::f64::consts::PI;

fn path(svg: &str) -> Outline {
    Outline::Path { svg: svg.to_owned() }
}

fn disc(diameter: &str) -> Outline {
    Outline::Disc { diameter_mm: decimal(diameter) }
}

fn found(openings: &[Outline], blank: &Outline, lying: Lying) -> f64 {
    use rust_decimal::prelude::ToPrimitive;
    open_share(openings, blank, lying).unwrap().to_f64().unwrap()
}

#[test]
fn shares_known_from_elementary_geometry_are_met() {
    // A half, a quarter of it hanging over the edge, and all of it.
    let square = path("M0 0 H40 V40 H0Z");
    let half = path("M0 0 H20 V40 H0Z");
    assert_eq!(open_share(std::slice::from_ref(&half), &square, Lying::AsDrawn).unwrap(), decimal("0.5"));
    let hanging = path("M30 -10 H50 V50 H30Z");
    assert_eq!(open_share(&[hanging], &square, Lying::AsDrawn).unwrap(), decimal("0.25"));
    assert_eq!(open_share(std::slice::from_ref(&square), &square, Lying::AsDrawn).unwrap(), decimal("1"));
    assert_eq!(open_share(&[], &square, Lying::AsDrawn).unwrap(), decimal("0"));
    // Openings that overlap count once; a ring inside an opening is closed.
    let third = path("M10 0 H30 V40 H10Z");
    assert_eq!(open_share(&[half, third], &square, Lying::AsDrawn).unwrap(), decimal("0.75"));
    let ring = path("M10 10 H30 V30 H10Z M15 15 V25 H25 V15Z");
    assert_eq!(open_share(&[ring], &square, Lying::AsDrawn).unwrap(), decimal("0.1875"));
}

#[test]
fn round_openings_are_within_a_ten_thousandth() {
    // (d/D)² of two discs; area of a lens of two equal circles, r = d: 2π/3 − √3/2 of r² (elementary geometry).
    for (opening, blank) in [("10", "30"), ("2.5", "60"), ("29.9", "30"), ("0.8", "20")] {
        let ratio: f64 = opening.parse::<f64>().unwrap() / blank.parse::<f64>().unwrap();
        let share = found(&[disc(opening)], &disc(blank), Lying::Centred);
        assert!((share - ratio * ratio).abs() <= 1e-4, "{opening} in {blank}: {share}");
    }
    let shifted = path("M5 0 A10 10 0 0 1 25 0 A10 10 0 0 1 5 0Z");
    let blank = path("M-5 0 A10 10 0 0 1 15 0 A10 10 0 0 1 -5 0Z");
    let lens = (2.0 * PI / 3.0 - 3.0_f64.sqrt() / 2.0) / PI;
    assert!((found(&[shifted], &blank, Lying::AsDrawn) - lens).abs() <= 1e-4);
}

#[test]
fn centring_moves_the_openings_to_the_middle_of_the_blank() {
    let opening = path("M100 100 h10 v10 h-10z");
    assert_eq!(open_share(std::slice::from_ref(&opening), &disc("30"), Lying::AsDrawn).unwrap(), decimal("0"));
    let share = found(&[opening], &disc("30"), Lying::Centred);
    assert!((share - 100.0 / (PI * 225.0)).abs() <= 1e-4, "{share}");
}

#[test]
fn what_is_no_outline_is_refused_with_its_place() {
    let crossing = path("M0 0 L10 10 L10 0 L0 10Z");
    let refused = open_share(std::slice::from_ref(&crossing), &disc("30"), Lying::AsDrawn).unwrap_err();
    assert!(refused.to_string().contains("opening 1 of the stencil"), "{refused}");
    let refused = open_share(&[disc("3")], &crossing, Lying::AsDrawn).unwrap_err();
    assert!(refused.to_string().contains("the blank"), "{refused}");
}

proptest! {
    #[test]
    fn an_opening_and_the_rest_of_the_blank_make_one(
        (left, width) in (0_i32..300, 1_i32..300), (top, height) in (0_i32..300, 1_i32..300)
    ) {
        // A slanted opening and its complement by even-odd on the same blank.
        let tenth = |value: i32| f64::from(value) / 10.0;
        let (x, y, w, h) = (tenth(left) + 1.0, tenth(top) + 1.0, tenth(width), tenth(height));
        let opening = format!("M{x} {y} L{} {} L{} {} Z", x + w, y + h / 2.0, x, y + h);
        let rest = format!("M0 0 H100 V100 H0Z {opening}");
        let blank = path("M0 0 H100 V100 H0Z");
        let one = found(&[path(&opening)], &blank, Lying::AsDrawn);
        let other = found(&[path(&rest)], &blank, Lying::AsDrawn);
        prop_assert!((one + other - 1.0).abs() <= 1.01e-4, "{one} + {other}");
        prop_assert!((one - w * h / 2.0 / 10_000.0).abs() <= 0.51e-4, "{one}");
    }
}
