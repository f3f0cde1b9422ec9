use super::*;
use crate::costing::samples::{decimal, lantern_drop};

fn path_area(svg: &str) -> Result<f64, String> {
    outline_area_mm2(&Outline::Path { svg: svg.to_owned() })
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 1e-9 * expected.abs().max(1.0), "{found} is not {expected}");
}

#[test]
fn every_command_of_a_path_is_drawn() {
    // One rectangle, 30 × 20, by each way of drawing lines.
    for svg in [
        "M0 0 L30 0 L30 20 L0 20 Z",
        "m5,5 l30,0 0,20 -30,0z",
        "M 5 5 H 35 V 25 H 5 V 5",
        "M5 5h30v20h-30",
        "M5 5 35 5 35 25 5 25",
    ] {
        near(path_area(svg).unwrap(), 600.0);
    }
    // Archimedes: a segment of a parabola is 2/3 of base × height.
    near(path_area("M0 0 Q10 20 20 0 Z").unwrap(), 400.0 / 3.0);
    near(path_area("m0 0 q10 20 20 0z").unwrap(), 400.0 / 3.0);
    // Two such segments, the second on the mirrored control point, closed far below the curve.
    near(path_area("M0 0 Q10 20 20 0 T40 0 V-100 H0 Z").unwrap(), 4000.0);
    near(path_area("M0 0 q10 20 20 0 t20 0 v-100 h-40 z").unwrap(), 4000.0);
    // A cubic and its mirrored sequel.
    near(path_area("M0 0 C0 10 20 10 20 0 S40 -10 40 0 V-100 H0 Z").unwrap(), 4000.0);
    near(path_area("M0 0 c0 10 20 10 20 0 s20 -10 20 0 v-100 h-40 z").unwrap(), 4000.0);
}

#[test]
fn arcs_are_measured_exactly_in_both_directions_and_sizes() {
    let circle = PI * 100.0;
    near(path_area("M-10 0 A10 10 0 0 1 10 0 A10 10 0 0 1 -10 0 Z").unwrap(), circle);
    near(path_area("M-10 0 a10 10 0 1 0 20 0 a10 10 0 1 0 -20 0").unwrap(), circle);
    // Quarter and three-quarter circle on the same chord.
    near(path_area("M10 0 A10 10 0 0 1 0 10 Z").unwrap(), PI * 25.0 - 50.0);
    near(path_area("M10 0 A10 10 0 0 0 0 10 Z").unwrap(), PI * 25.0 - 50.0);
    near(path_area("M10 0 A10 10 0 1 0 0 10 Z").unwrap(), PI * 75.0 + 50.0);
    near(path_area("M10 0 A10 10 0 1 1 0 10 Z").unwrap(), PI * 75.0 + 50.0);
    // A turned ellipse, and radii too small for the chord, which are raised (SVG 1.1, F.6.6).
    near(path_area("M-12 0 A12 5 0 0 1 12 0 A12 5 0 0 1 -12 0Z").unwrap(), PI * 60.0);
    near(path_area("M0 -12 A12 5 90 0 1 0 12 A12 5 90 0 1 0 -12Z").unwrap(), PI * 60.0);
    near(path_area("M-10 0 A1 1 0 0 1 10 0 Z").unwrap(), PI * 50.0);
    // A radius of nothing is a straight line.
    near(path_area("M0 0 A0 5 0 0 1 30 0 V20 H0Z").unwrap(), 600.0);
}

#[test]
fn sub_paths_inside_are_holes_and_islands_by_even_odd() {
    let square = "M0 0 H40 V40 H0Z";
    near(path_area(&format!("{square} M10 10 H30 V30 H10Z")).unwrap(), 1600.0 - 400.0);
    near(path_area(&format!("{square} M10 10 V30 H30 V10Z")).unwrap(), 1600.0 - 400.0);
    near(path_area(&format!("{square} M10 10 H30 V30 H10Z M15 15 h5 v5 h-5z")).unwrap(), 1225.0);
    near(path_area(&format!("{square} M50 0 h10 v10 h-10z")).unwrap(), 1700.0);
    // A move that draws nothing is left out; a close goes on from the start.
    near(path_area("M0 0 H40 V40 H0 Z m50 0 h10 v10 h-10 z M99 99").unwrap(), 1700.0);
}

#[test]
fn outlines_that_cross_or_touch_themselves_are_refused() {
    for svg in [
        "M0 0 L10 10 L10 0 L0 10 Z",
        // An S closed by a straight line through its middle.
        "M100,200 C100,100 250,100 250,200 S400,300 400,200 Z",
        // A loop.
        "M0 0 C60 40 -30 40 30 0 Z",
        // A spike that runs back over itself.
        "M0 0 H20 V10 V-5 V10 H0 Z",
        // Two parts that cross, and two that are the same.
        "M0 0 H20 V20 H0Z M10 10 H30 V30 H10Z",
        "M0 0 H20 V20 H0Z M0 0 H20 V20 H0Z",
    ] {
        assert!(path_area(svg).is_err_and(|reason| reason.contains("crosses or touches itself")), "{svg}");
    }
}

#[test]
fn rounding_of_relative_steps_is_no_crossing() {
    near(path_area("m0.1 0.1 l0.2 0 0 0.3 -0.2 0 0 -0.3 z").unwrap(), 0.06);
    near(path_area("m.1.1 .7 0 0 .1 0 .1 0 .1 -.7 0 z").unwrap(), 0.21);
    // Points that are said twice.
    near(path_area("M0 0 L0 0 L30 0 L30 0 L30 20 L0 20 L0 0 L0 0 Z").unwrap(), 600.0);
}

#[test]
fn what_is_no_path_is_refused_in_words() {
    for svg in
        ["", "M0 0", "hello", "M0 0 L", "M0 0 L1e400 0 L0 5Z", "M0 0 L10 0", "10 10", "M0 0 H9 V9 Z é", "M0 0 H2e6 V5Z"]
    {
        assert!(path_area(svg).is_err(), "{svg:?}");
    }
}

#[test]
fn a_hostile_path_is_refused_in_time() {
    let teeth: String = (0..30_000).map(|tooth| format!("L{tooth} {} ", tooth % 2)).collect();
    let reason = path_area(&format!("M0 -5 {teeth} L30000 -5Z")).unwrap_err();
    assert!(reason.contains("too fine"), "{reason}");
    let circle = "M-900000 0 A900000 900000 0 0 1 900000 0 A900000 900000 0 0 1 -900000 0";
    assert!(path_area(&circle.repeat(5)).is_err());
}

#[test]
fn a_drop_as_low_as_its_circle_is_the_disc_and_no_lower() {
    let drop = |height: &str| Outline::Drop { height_mm: decimal(height), width_mm: decimal("25") };
    near(outline_area_mm2(&drop("25")).unwrap(), PI * 156.25);
    assert!(outline_area_mm2(&drop("24.9")).is_err());
}

#[test]
fn a_flattened_outline_keeps_its_area() {
    for outline in [
        Outline::Disc { diameter_mm: decimal("30") },
        Outline::Ellipse { length_mm: decimal("45"), width_mm: decimal("28") },
        Outline::Rectangle { length_mm: decimal("40"), width_mm: decimal("20"), corner_mm: decimal("3") },
        Outline::Rectangle { length_mm: decimal("40"), width_mm: decimal("20"), corner_mm: decimal("0") },
        Outline::Rectangle { length_mm: decimal("40"), width_mm: decimal("20"), corner_mm: decimal("10") },
        Outline::Drop { height_mm: decimal("38"), width_mm: decimal("24") },
        Outline::Polygon {
            points_mm: vec![
                [decimal("0"), decimal("0")],
                [decimal("30"), decimal("0")],
                [decimal("15"), decimal("26")],
            ],
        },
    ] {
        let drawn = rings(&outline).unwrap();
        assert_eq!(drawn.len(), 1);
        let points = &drawn[0];
        let next = points.iter().cycle().skip(1);
        let area: f64 = points.iter().zip(next).map(|(a, b)| (a[0] * b[1] - a[1] * b[0]) / 2.0).sum();
        let exact = outline_area_mm2(&outline).unwrap();
        // A ring 0.01 mm inside its outline loses at most a strip of that width.
        assert!((area.abs() - exact).abs() < 0.01 * 150.0, "{outline:?}: {area} is not {exact}");
    }
}

#[test]
fn holes_are_taken_off_and_must_leave_metal() {
    let mut blank = lantern_drop().blank;
    let whole = measure(&blank).unwrap();
    blank.holes_mm = vec![decimal("2"), decimal("2")];
    let drilled = measure(&blank).unwrap();
    // Two holes of 2 mm: 2 π mm².
    assert_eq!(whole.front_cm2 - drilled.front_cm2, decimal("0.062832"));
    blank.holes_mm = vec![decimal("40")];
    assert!(matches!(measure(&blank), Err(CostError::Geometry(_))));
}
