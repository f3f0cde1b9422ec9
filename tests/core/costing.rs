//! Costs and prices against published figures, a hand calculation and properties that must always hold.

use enamelwright::costing::geometry::{measure, thickness_mm};
use enamelwright::costing::price::channel_price;
use enamelwright::costing::refire::{fewest_firings, refire_curve, with_firings};
use enamelwright::costing::{Costing, costing, piece_cost, to_json, validate};
use enamelwright::exchange::design_file::{read, write};
use enamelwright::measure::{Decimal, exact};
use enamelwright::studio::{Blank, Design, Metal, Outline, StepKind, Target, Thickness};
use serde_json::Value;

use crate::cases::{Row, any_design, decimal, rows};

const LANTERN_DROP: &str = include_str!("../data/lantern-drop.toml");

fn lantern_drop() -> Design {
    read(LANTERN_DROP).unwrap()
}

fn flat(outline: Outline) -> Blank {
    Blank {
        metal: Metal::Copper,
        thickness: Thickness::ThicknessMm(Decimal::ONE),
        outline,
        dome_height_mm: Decimal::ZERO,
        holes_mm: Vec::new(),
        solder_flow_c: None,
        count: 1,
    }
}

/// Area of an outline in mm²; as every area it has become a decimal at six places of cm².
fn area_mm2(outline: Outline) -> Result<f64, enamelwright::costing::CostError> {
    measure(&flat(outline)).map(|blank| to_float(blank.flat_cm2) * 100.0)
}

fn to_float(value: Decimal) -> f64 {
    value.to_string().parse().unwrap()
}

#[track_caller]
fn assert_near(found: f64, expected: f64, tolerance: f64, id: &str) {
    assert!((found - expected).abs() <= tolerance, "{id}: {found} is not {expected} within {tolerance}");
}

/// Elementary geometry (e.g. Bronstein et al., Handbook of Mathematics; CRC Standard Mathematical Tables), W3C SVG 1.1
/// path examples (from memory) and Green's theorem, as named in each row of `tests/data/i_shapes_and_packing.csv`.
#[test]
fn areas_of_outlines_are_the_published_ones() {
    let mut seen = 0;
    for row in rows("i_shapes_and_packing.csv") {
        let Some(outline) = outline_of(&row) else { continue };
        seen += 1;
        // Areas become decimals at six places of cm², which is half of 1e-4 mm².
        let tolerance = 0.51e-4_f64.max(row.relative_tolerance());
        match (row.id.as_str(), area_mm2(outline)) {
            ("I-POLYV-1" | "I-SVG-CROSS", found) => {
                assert!(found.unwrap_err().to_string().contains("crosses"), "{}", row.id);
            }
            ("I-POLYV-2", found) => assert_near(found.unwrap(), 100.0, tolerance, &row.id),
            (id, found) => assert_near(found.unwrap(), row.expected(), tolerance, id),
        }
    }
    assert_eq!(seen, 36);
}

fn outline_of(row: &Row) -> Option<Outline> {
    let inputs = &row.inputs;
    let number = |key: &str| inputs.get(key).map(crate::cases::number);
    if let Some(svg) = inputs.get("svg") {
        return Some(Outline::Path { svg: svg.as_str()?.to_owned() });
    }
    if let Some(points) = inputs.get("points_mm") {
        let point = |pair: &Value| [crate::cases::number(&pair[0]), crate::cases::number(&pair[1])];
        return Some(Outline::Polygon { points_mm: points.as_array()?.iter().map(point).collect() });
    }
    match inputs.get("shape").and_then(Value::as_str) {
        Some("disc") => return Some(Outline::Disc { diameter_mm: number("diameter_mm")? }),
        Some("ellipse") => {
            return Some(Outline::Ellipse { length_mm: number("length_mm")?, width_mm: number("width_mm")? });
        }
        Some("rectangle") => {
            return Some(Outline::Rectangle {
                length_mm: number("length_mm")?,
                width_mm: number("width_mm")?,
                corner_mm: number("corner_mm").unwrap_or_default(),
            });
        }
        Some("drop") => return Some(Outline::Drop { height_mm: number("height_mm")?, width_mm: number("width_mm")? }),
        _ => {}
    }
    // The rest are drawn as paths, which puts arcs and straight lines to the test.
    let float = |key: &str| inputs.get(key).map(|value| to_float(crate::cases::number(value)));
    let svg = if row.id.starts_with("I-LENS") {
        let (length, width) = (float("length_mm")?, float("width_mm")?);
        let radius = (length * length + width * width) / (4.0 * width);
        format!("M0 0 A{radius} {radius} 0 0 1 {length} 0 A{radius} {radius} 0 0 1 0 0 Z")
    } else if row.id.starts_with("I-NGON") {
        let (sides, side) = (float("sides")?, float("side_mm")?);
        let mut svg = "M0 0".to_owned();
        let mut angle = 0.0_f64;
        for _ in 1..inputs["sides"].as_u64()? {
            svg += &format!(" l{:.12} {:.12}", side * angle.cos(), side * angle.sin());
            angle += std::f64::consts::TAU / sides;
        }
        svg + " Z"
    } else if row.id.starts_with("I-RING") {
        let circle = |diameter: f64| {
            let radius = diameter / 2.0;
            format!("M-{radius} 0 a{radius} {radius} 0 0 1 {diameter} 0 a{radius} {radius} 0 0 1 -{diameter} 0 Z ")
        };
        circle(float("outer_mm")?) + &circle(float("inner_mm")?)
    } else if row.id.starts_with("I-SEG") {
        let (diameter, height) = (float("diameter_mm")?, float("height_mm")?);
        let radius = diameter / 2.0;
        let half = (radius * radius - (radius - height) * (radius - height)).sqrt();
        format!("M-{half} 0 A{radius} {radius} 0 0 1 {half} 0 Z")
    } else {
        return None;
    };
    Some(Outline::Path { svg })
}

/// Brown & Sharpe gauge, ASTM B258: the series, and the table in inches as engineering handbooks round it.
#[test]
fn gauges_are_the_published_ones() {
    let mut seen = 0;
    for row in rows("a_gauge_and_metal.csv").into_iter().filter(|row| row.id.starts_with("A-GA-")) {
        seen += 1;
        let gauge = i8::try_from(row.inputs["gauge"].as_i64().unwrap()).unwrap();
        let found = thickness_mm(Thickness::Gauge(gauge));
        if row.id.ends_with("-MM") {
            assert_near(found, row.expected(), 1e-6, &row.id);
        } else {
            assert_near(found / 25.4, row.expected(), 5e-5, &row.id);
        }
    }
    assert_eq!(seen, 38);
    // ASTM B258 fixes No. 36 at 0.005 in and No. 0000 at 0.460 in.
    assert_near(thickness_mm(Thickness::Gauge(36)), 0.127, 1e-12, "No. 36");
    assert_near(thickness_mm(Thickness::Gauge(-3)), 11.684, 1e-9, "No. 0000");
}

/// Densities and masses of blanks: sources in each row of `tests/data/a_gauge_and_metal.csv` (steel from memory).
#[test]
fn densities_and_masses_are_the_published_ones() {
    let metal = |density: f64| Metal::ALL.into_iter().find(|metal| (to_float(metal.density()) - density).abs() < 1e-9);
    let mut masses = 0;
    for row in rows("a_gauge_and_metal.csv") {
        if row.id.starts_with("A-MASS") {
            masses += 1;
            let blank = Blank {
                metal: metal(row.inputs["density"].as_f64().unwrap()).unwrap(),
                thickness: Thickness::Gauge(i8::try_from(row.inputs["gauge"].as_i64().unwrap()).unwrap()),
                holes_mm: row
                    .inputs
                    .get("holes_mm")
                    .and_then(Value::as_array)
                    .into_iter()
                    .flatten()
                    .map(crate::cases::number)
                    .collect(),
                ..flat(outline_of(&row).unwrap())
            };
            assert_near(to_float(measure(&blank).unwrap().mass_g), row.expected(), 2e-6, &row.id);
        } else if row.id.starts_with("A-DEN") && row.inputs.get("metal").is_some() {
            assert!(metal(row.expected()).is_some(), "{}", row.id);
        }
    }
    assert_eq!(masses, 8);
}

/// Spherical caps, π(a² + h²): any geometry text; the size of the rule's error on an ellipse by numerical integration.
#[test]
fn domed_areas_are_the_published_ones() {
    let mut seen = 0;
    for row in rows("b_enamel_heat_and_solder.csv")
        .into_iter()
        .filter(|row| row.id.starts_with("B-CAP-") || row.id.starts_with("B-DOME-"))
    {
        let dome = crate::cases::number(&row.inputs["dome_height_mm"]);
        if row.id.starts_with("B-CAP") {
            let outline = Outline::Disc { diameter_mm: crate::cases::number(&row.inputs["base_diameter_mm"]) };
            let blank = measure(&Blank { dome_height_mm: dome, ..flat(outline) }).unwrap();
            assert_near(to_float(blank.front_cm2), row.expected(), 1e-6, &row.id);
            assert_eq!(blank.front_cm2, blank.back_cm2);
            seen += 1;
        } else {
            let outline = Outline::Ellipse {
                length_mm: crate::cases::number(&row.inputs["length_mm"]),
                width_mm: crate::cases::number(&row.inputs["width_mm"]),
            };
            let area = to_float(measure(&Blank { dome_height_mm: dome, ..flat(outline) }).unwrap().front_cm2) * 100.0;
            let expected: Value = serde_json::from_str(&row.expected).unwrap();
            assert_near(area, expected["rule_mm2"].as_f64().unwrap(), 1e-3, &row.id);
            assert_near(area, expected["paraboloid_mm2"].as_f64().unwrap(), 0.004 * area, &row.id);
            seen += 1;
        }
    }
    assert_eq!(seen, 8);
}

/// The method's own formulas in exact fractions, substituted back: `tests/data/e_money_tax_price.csv`. Not an outside source.
#[test]
fn prices_reach_their_targets() {
    let mut seen = 0;
    for row in rows("e_money_tax_price.csv").into_iter().filter(|row| row.id.starts_with("E-PRICE-")) {
        seen += 1;
        let inputs = |key: &str| crate::cases::number(&row.inputs[key]);
        let mut cost = piece_cost(&lantern_drop()).unwrap();
        cost.full = inputs("full");
        cost.out_of_pocket = inputs("out_of_pocket");
        cost.hours_per_good_piece = inputs("hours");
        let mut channel = lantern_drop().channels[0].clone();
        channel.price_points.clear();
        channel.commission = inputs("commission");
        channel.card_fee = inputs("card_fee");
        channel.card_fee_fixed = inputs("card_fixed");
        channel.tax = inputs("tax");
        channel.selling_cost = inputs("selling_cost");
        if row.id == "E-PRICE-NONE" {
            channel.target = Target::Margin(inputs("target_margin"));
            let reason = channel_price(&cost, &channel, 2).unwrap().priced.unwrap_err().to_string();
            assert!(reason.contains("100.6 %"), "{reason}");
            continue;
        }
        let expected: Value = serde_json::from_str(&row.expected).unwrap();
        let near = |found: Decimal, key: &str| {
            let expected = crate::cases::number(&expected[key]);
            assert_eq!(exact::round(found, 8), expected, "{} {key}", row.id);
        };
        for (key, target) in [
            ("margin", Target::Margin(decimal("0.25"))),
            ("markup", Target::Markup(decimal("0.8"))),
            ("hourly", Target::Hourly(decimal("24"))),
        ] {
            channel.target = target;
            let price = channel_price(&cost, &channel, 2).unwrap();
            near(price.floor.unwrap(), "floor");
            near(price.cash_floor.unwrap(), "cash_floor");
            near(price.priced.unwrap().exact, key);
        }
    }
    assert_eq!(seen, 4);
}

/// The lantern drop, reckoned with pencil and paper.
///
/// Outline: H = 38, d = 24, so r = 12 and D = H − r = 26.
///   A = 12·√(26² − 12²) + 12²·(π − acos(12/26)) = 276.781502 + 295.275595 = 572.057097 mm²
///   domed: 572.057097 + π·3² = 600.331431 mm² = 6.003314 cm² (front and back alike)
///   thickness, gauge 18: 0.127 · 92^(18/39) = 1.023687 mm; mass 5.72057097 cm² · 0.1023687 cm · 8.96 = 5.247044 g
///
/// Enamel in a piece:
///   counter  6.003314 · 1    · 72/1000 · (1 + 0.25·0.4)  = 0.4754624688 g
///   base     6.003314 · 1    · 66/1000 · (1 + 0.3·0.3)   = 0.43187840916 g
///   stencil  6.003314 · 0.36 · 52/1000 · (1 + 1.1·0.15)  = 0.1309250743632 g (2.16119304 · 0.052 · 1.165)
///   clear    6.003314 · 1    · 60/1000 · (1 + 0.3·0.3)   = 0.3926167356 g
///   in money 0.0337578352848, 0.04707474659844, 0.0154491587748576, 0.0369059731464
///
/// The 14 pieces on their way, with three loads of five at each of the five firings:
///   step                 entering     minutes                           materials
///   1 saw, dome, solder  14           15 + 14·8      = 127              14·2.76                     = 38.64
///   2 counter enamel     14           5 + 14·1.5     = 26               14·0.0337578352848          = 0.4726096939872
///   3 fire               14           3·6            = 18
///   4 clean the front    13.86        13.86·2        = 27.72
///   5 base coat          13.86        13.86·2        = 27.72            13.86·0.04707474659844      = 0.6524559878543784
///   6 fire               13.86        3·5            = 15
///   7 stencil            13.5828      10 + 13.5828·4 = 64.3312          13.5828·0.0154491587748576  = 0.2098428338…
///   8 fire               13.5828      3·5            = 15
///   9 clear              12.90366     12.90366·2.5   = 32.25915         12.90366·0.0369059731464    = 0.4762221294…
///  10 dry                12.90366     2              = 2
///  11 fire               12.90366     3·5            = 15
///  12 stone the edge     12.5165502   12.5165502·1.5 = 18.7748253
///  13 flash fire         12.5165502   3·4            = 12
///  14 chain              12.391384698 ·3             = 37.174154094     12.391384698·3.80           = 47.0872618524
///  15 box                12.391384698 ·2             = 24.782769396     12.391384698·0.88           = 10.90441853424
///   good: 12.391384698   together                      462.76209879                                   98.4428110317…
///
///   labour    462.76209879 / 60 · 26.00 = 200.530242809        overhead 462.76209879 / 60 · 5.75 = 44.348034467375
///   energy    15 loads · 0.31 · 0.22 = 1.023
///   wear      3 · (8.25 + 7.25 + 7 + 6.75 + 6.25) / 60 · 0.52 = 3 · 35.5 / 60 · 0.52 = 0.923
///   scrap     (14 − 12.391384698) · 0.20 = 0.3217230604
///   full      (98.4428110317 + 200.530242809 + 44.348034467375 + 1.023 + 0.923 − 0.3217230604) / 12.391384698
///             = 344.9453652477 / 12.391384698 = 27.8375156332
///   of pocket 144.4151224387 / 12.391384698 = 11.6544781684;  hours 7.71270164650 / 12.391384698 = 0.6224245179
///
/// As if nothing were lost: 478 minutes, so labour 478/60·26/14 = 14.7952380952 and overhead 3.2720238095; materials
/// 2.76 + 0.1331877138044976 + 3.80 + 0.88 = 7.5731877138; energy 1.023/14 = 0.0730714286; wear 0.923/14 =
/// 0.0659285714; the five are 25.7794496186 and leave 2.0580660146 to losses.
#[test]
fn the_lantern_drop_costs_what_a_pencil_says() {
    let design = lantern_drop();
    let answer = costing(&design).unwrap();
    let cost = &answer.cost;
    let figures = [
        ("thickness", cost.thickness_mm, "1.023687"),
        ("front", cost.front_cm2, "6.003314"),
        ("back", cost.back_cm2, "6.003314"),
        ("mass", cost.mass_g, "5.247044"),
        ("good", cost.good, "12.391384698"),
        ("hours", cost.hours_per_good_piece, "0.6224245179"),
        ("materials", cost.materials, "7.5731877138"),
        ("labour", cost.labour, "14.7952380952"),
        ("energy", cost.kiln_energy, "0.0730714286"),
        ("wear", cost.kiln_wear, "0.0659285714"),
        ("overhead", cost.overhead, "3.2720238095"),
        ("losses", cost.loss_allowance, "2.0580660146"),
        ("full", cost.full, "27.8375156332"),
        ("out of pocket", cost.out_of_pocket, "11.6544781684"),
    ];
    for (what, found, expected) in figures {
        assert_eq!(exact::round(found, 10), decimal(expected), "{what}");
    }
    let enamel: Vec<(&str, Decimal)> =
        cost.enamel_g_per_piece.iter().map(|(id, grams)| (id.0.as_str(), *grams)).collect();
    let grams = [
        ("counter-slate", decimal("0.4754624688")),
        ("dusk-blue", decimal("0.43187840916")),
        ("oat", decimal("0.1309250743632")),
        ("clear-soft", decimal("0.3926167356")),
    ];
    assert_eq!(enamel, grams);
    let entering =
        ["14", "14", "14", "13.86", "13.86", "13.86", "13.5828", "13.5828", "12.90366", "12.90366", "12.90366"];
    for (step, entering) in cost.steps.iter().zip(entering) {
        assert_eq!(step.entering, decimal(entering));
    }
    let loads: Vec<Decimal> = cost.steps.iter().map(|step| step.loads).filter(|loads| !loads.is_zero()).collect();
    assert_eq!(loads, [Decimal::from(3); 5]);
}

/// Continues the calculation above.
///
///   fair:      a = 1 − 0.027·1.07 = 0.97111; floor (27.8375156332 + 0.10 + 5.10)/a = 34.0203639477; cash floor
///              16.8544781684/a = 17.3558898254; a quarter margin 33.0375156332/(a − 0.25) = 45.8148072183, in the band up
///              to 50 the ticket is 46. It brings 46·0.97111 − 5.20 = 39.47106: profit 11.6335443668, a margin of
///              0.2529031384, (39.47106 − 11.6544781684)/0.6224245179 = 44.6906910519 an hour.
///   gallery:   a = 0.55; floors 50.6136647877 and 21.1899603061; twenty an hour (11.6544781684 + 12.4484903576)/0.55 =
///              43.8235791381, the ticket 45. It brings 24.75: a loss of 3.0875156332.
///   wholesale: 27.8375156332 · 1.3 = 36.1887703232, to the cent 36.19.
#[test]
fn the_lantern_drops_tickets_are_what_a_pencil_says() {
    let design = lantern_drop();
    let answer: Value = serde_json::from_str(&to_json(&design, &costing(&design).unwrap())).unwrap();
    let expected = serde_json::json!([
        { "id": "fair", "floor": "34.02036395", "cash_floor": "17.35588983", "exact": "45.81480722", "ticket": "46",
          "price_before_tax": "46", "profit": "11.63354437", "margin": "0.25290314", "earned_per_hour": "44.69069105" },
        { "id": "gallery", "floor": "50.61366479", "cash_floor": "21.18996031", "exact": "43.82357914", "ticket": "45",
          "price_before_tax": "45", "profit": "-3.08751563", "margin": "-0.06861146", "earned_per_hour": "21.03953404" },
        { "id": "wholesale", "floor": "27.83751563", "cash_floor": "11.65447817", "exact": "36.18877032",
          "ticket": "36.19", "price_before_tax": "36.19", "profit": "8.35248437", "margin": "0.23079537",
          "earned_per_hour": "39.41927274" },
    ]);
    assert_eq!(answer["channels"], expected);
    assert_eq!(answer["common_ticket"], serde_json::json!({ "ticket": "46", "channel": "fair" }));
}

#[test]
fn the_refire_curve_of_the_lantern_drop_rises_from_four_firings() {
    let design = lantern_drop();
    let curve = refire_curve(&design, 11).unwrap();
    assert_eq!(curve.iter().map(|point| point.firings).collect::<Vec<_>>(), [4, 5, 6, 7, 8, 9, 10, 11]);
    assert_eq!(curve[1].costing, costing(&design).unwrap());
    for pair in curve.windows(2) {
        assert!(pair[1].costing.cost.full > pair[0].costing.cost.full);
    }
    assert_eq!(fewest_firings(&design), 4);
}

mod properties {
    use super::*;
    use proptest::prelude::*;

    /// What divisions at 28 digits may leave.
    const LAST_DIGITS: Decimal = Decimal::from_parts(1, 0, 0, false, 15);

    fn lines(answer: &Costing) -> Decimal {
        let cost = &answer.cost;
        cost.materials + cost.labour + cost.kiln_energy + cost.kiln_wear + cost.overhead + cost.loss_allowance
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn a_made_up_design_is_valid_and_can_be_costed(design in any_design()) {
            prop_assert_eq!(validate(&design), Vec::new());
            prop_assert!(costing(&design).is_ok());
        }

        #[test]
        fn the_lines_add_up_to_the_full_cost(design in any_design()) {
            let answer = costing(&design).unwrap();
            prop_assert!((lines(&answer) - answer.cost.full).abs() <= LAST_DIGITS);
        }

        #[test]
        fn the_steps_less_the_scrap_credit_add_up_to_the_full_cost(design in any_design()) {
            let cost = costing(&design).unwrap().cost;
            let steps: Decimal = cost.steps.iter().map(|step| step.total).sum();
            prop_assert!((steps - cost.scrap_credit - cost.full).abs() <= LAST_DIGITS);
            let uses: Decimal = cost.material_lines.iter().map(|line| line.cost).sum();
            prop_assert!((uses - cost.materials).abs() <= LAST_DIGITS);
        }

        #[test]
        fn labour_is_all_that_parts_full_and_out_of_pocket_cost(design in any_design()) {
            let cost = costing(&design).unwrap().cost;
            let mut unpaid = design;
            unpaid.rates.labour_per_hour = Decimal::ZERO;
            prop_assert_eq!(costing(&unpaid).unwrap().cost.full, cost.out_of_pocket);
        }

        #[test]
        fn a_ticket_is_never_below_the_price_to_be_shown(design in any_design()) {
            for (channel, price) in design.channels.iter().zip(costing(&design).unwrap().channels) {
                let Ok(priced) = price.priced else { continue };
                let shown = if channel.tax_in_price { priced.exact * (Decimal::ONE + channel.tax) } else { priced.exact };
                prop_assert!(priced.ticket >= exact::round(shown, 8));
            }
        }

        #[test]
        fn the_exact_price_reaches_its_target(design in any_design()) {
            let answer = costing(&design).unwrap();
            for (channel, price) in design.channels.iter().zip(&answer.channels) {
                let Ok(priced) = &price.priced else { continue };
                let shown = if channel.tax_in_price { priced.exact * (Decimal::ONE + channel.tax) } else { priced.exact };
                let back = enamelwright::costing::price::at_ticket(&answer.cost, channel, shown).unwrap();
                let wanted = match channel.target {
                    Target::Margin(margin) => margin * priced.exact,
                    Target::Markup(markup) => markup * answer.cost.full,
                    Target::Hourly(hourly) => hourly * answer.cost.hours_per_good_piece - (answer.cost.full - answer.cost.out_of_pocket),
                };
                prop_assert!((back.profit - wanted).abs() < decimal("0.00000001"));
            }
        }

        #[test]
        fn cost_never_falls_when_a_firing_is_added(mut design in any_design()) {
            design.rates.scrap_value = Decimal::ZERO;
            let now = u32::try_from(design.steps.iter().filter(|step| matches!(step.kind, StepKind::Fire(_))).count()).unwrap();
            let full = |firings: u32| costing(&with_firings(&design, firings).unwrap()).unwrap().cost.full;
            prop_assert!(full(now + 1) >= full(now));
            prop_assert!(full(now + 3) >= full(now + 1));
        }

        #[test]
        fn a_firing_added_and_taken_out_leaves_the_route_as_it_was(design in any_design()) {
            let fewest = fewest_firings(&design);
            let lean = with_firings(&design, fewest).unwrap();
            prop_assert_eq!(with_firings(&with_firings(&lean, fewest + 4).unwrap(), fewest).unwrap(), lean);
        }

        #[test]
        fn writing_and_reading_again_is_identity(design in any_design()) {
            let text = write(&design);
            let back = read(&text).unwrap();
            prop_assert_eq!(&back, &design);
            prop_assert_eq!(to_json(&back, &costing(&back).unwrap()), to_json(&design, &costing(&design).unwrap()));
        }

        #[test]
        fn cautions_stand_in_the_order_of_steps(design in any_design()) {
            let told = costing(&design).unwrap().cautions;
            prop_assert!(told.windows(2).all(|pair| (pair[0].step, pair[0].code) <= (pair[1].step, pair[1].code)));
            prop_assert!(told.iter().all(|caution| caution.step >= 1 && caution.step <= design.steps.len()));
        }

        #[test]
        fn a_damaged_design_file_never_panics(at in 0..LANTERN_DROP.len(), cut in 0_usize..40, put in "[\\PC\\n]{0,12}") {
            let start = LANTERN_DROP.char_indices().map(|(at, _)| at).take_while(|&index| index <= at).last().unwrap_or(0);
            let rest: String = LANTERN_DROP[start..].chars().skip(cut).collect();
            let text = format!("{}{put}{rest}", &LANTERN_DROP[..start]);
            match read(&text) {
                Ok(design) => drop(costing(&design)),
                Err(problems) => prop_assert!(!problems.is_empty()),
            }
        }

        #[test]
        fn a_value_of_any_kind_never_panics(line in 0_usize..230, value in "(-?[0-9]{1,30}(\\.[0-9]{1,12})?|\"[^\"\\\\\\n]{0,20}\"|true|inf|nan|\\{\\}|\\[\\]|\\[\\[0,0\\]\\]|1e400|0x7f|2025-01-01)") {
            let lines: Vec<String> = LANTERN_DROP.lines().enumerate().map(|(index, text)| match text.split_once(" = ") {
                Some((key, _)) if index == line => format!("{key} = {value}"),
                _ => text.to_owned(),
            }).collect();
            match read(&lines.join("\n")) {
                Ok(design) => drop(costing(&design)),
                Err(problems) => prop_assert!(!problems.is_empty()),
            }
        }

        #[test]
        fn a_path_of_any_text_never_panics(svg in "[MmLlHhVvCcSsQqTtAaZz0-9 .,+e-]{0,60}") {
            let mut design = lantern_drop();
            design.blank.outline = Outline::Path { svg };
            drop(costing(&design));
        }
    }
}
