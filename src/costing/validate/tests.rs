use super::*;
use crate::costing::samples::{decimal, finding, lantern_drop, using};

fn places(design: &Design) -> Vec<String> {
    validate(design).into_iter().map(|problem| problem.place).collect()
}

#[test]
fn the_example_has_no_problem() {
    assert!(validate(&lantern_drop()).is_empty());
    assert!(validate_channel(&lantern_drop().channels[0]).is_empty());
}

#[test]
fn every_problem_is_found_with_its_place() {
    let mut design = lantern_drop();
    design.pieces = 0;
    design.name = " ".to_owned();
    design.rates.labour_per_hour = decimal("-1");
    design.kiln.price_per_kwh = decimal("0.1234567");
    design.blank.thickness = Thickness::Gauge(41);
    design.materials[0].price = decimal("1000000000001");
    design.materials[1].fusing = Some(crate::studio::Fusing::Soft);
    design.materials[2].id = design.materials[3].id.clone();
    design.steps[2].good = decimal("1.01");
    design.channels[0].commission = Decimal::ONE;
    design.channels[1].price_points[0].less = decimal("5");
    assert_eq!(
        places(&design),
        [
            "design, name",
            "design, pieces",
            "rates, labour_per_hour",
            "kiln, price_per_kwh",
            "blank, gauge",
            "material 1, price",
            "material 2, fusing",
            "material 4, id",
            "step 2, material",
            "step 3, good",
            "channel 1, commission",
            "channel 2, price_points 1, less",
        ]
    );
}

#[test]
fn a_route_needs_a_firing() {
    let mut design = lantern_drop();
    design.steps = vec![using("chain")];
    assert_eq!(places(&design), ["step"]);
    design.steps.clear();
    design.materials.clear();
    assert_eq!(places(&design), ["material", "step"]);
}

#[test]
fn a_coat_is_an_enamel_in_grams() {
    let mut design = lantern_drop();
    let mut chip = finding("chip");
    chip.kind = MaterialKind::Enamel;
    design.materials.push(chip);
    for id in ["chip", "chain"] {
        if let StepKind::Coat(coat) = &mut design.steps[4].kind {
            coat.material = MaterialId(id.to_owned());
        }
        assert_eq!(places(&design), ["step 5, material"], "{id}");
    }
}

#[test]
fn bands_rise_and_only_the_last_is_open() {
    let mut design = lantern_drop();
    let band = |up_to: Option<i64>| Band { up_to: up_to.map(Decimal::from), step: Decimal::ONE, less: Decimal::ZERO };
    let mut check = |ups: &[Option<i64>]| {
        design.channels[0].price_points = ups.iter().map(|&up_to| band(up_to)).collect();
        places(&design)
    };
    assert!(check(&[]).is_empty());
    assert!(check(&[Some(10), Some(20), None]).is_empty());
    assert_eq!(check(&[Some(10), Some(10), None]), ["channel 1, price_points 2, up_to"]);
    assert_eq!(check(&[None, None]), ["channel 1, price_points 1, up_to"]);
    assert_eq!(check(&[Some(10)]), ["channel 1, price_points 1, up_to"]);
}

#[test]
fn names_are_one_line_of_text_in_any_script() {
    let mut design = lantern_drop();
    for (name, good) in [
        ("Лампада 🏮 ランタン", true),
        (&"x".repeat(200), true),
        (&"x".repeat(201), false),
        ("two\nlines", false),
        ("a\u{7}bell", false),
    ] {
        name.clone_into(&mut design.name);
        assert_eq!(validate(&design).is_empty(), good, "{name:?}");
    }
}

#[test]
fn holes_that_leave_nothing_and_outlines_that_cross_are_refused() {
    let mut design = lantern_drop();
    design.blank.holes_mm = vec![decimal("30")];
    assert_eq!(places(&design), ["blank, holes_mm"]);
    design.blank.holes_mm.clear();
    design.blank.outline = Outline::Path { svg: "M0 0 L10 10 H0 L10 0 Z".to_owned() };
    assert_eq!(places(&design), ["blank, outline"]);
    design.blank.outline = Outline::Drop { height_mm: decimal("25"), width_mm: decimal("25") };
    assert_eq!(places(&design), ["blank, outline, height_mm"]);
}

#[test]
fn absurd_sizes_are_refused_before_they_are_reckoned() {
    let mut design = lantern_drop();
    design.blank.outline = Outline::Disc { diameter_mm: Decimal::MAX };
    design.steps[0].minutes_per_piece = Decimal::MAX;
    design.rates.labour_per_hour = Decimal::MAX;
    assert_eq!(places(&design), ["rates, labour_per_hour", "blank, outline, diameter_mm", "step 1, minutes_per_piece"]);
}
