use super::*;
use crate::costing::samples::{coat, decimal, fire, lantern_drop, step, studio, using, with_route};
use crate::studio::{BatchId, Metal, Outline, Side, Thickness};

fn kiln() -> KilnLimits {
    KilnLimits { name: "Fen".to_owned(), hottest: Some(decimal("980")), shelf_cm2: Some(decimal("400")) }
}

fn waits<'a>(plan: &'a Design, piece: i64, step: usize, done: &[usize]) -> LoadPiece<'a> {
    LoadPiece {
        piece: PieceId(piece),
        batch: BatchId(1),
        words: format!("piece {piece} of batch 4"),
        plan,
        step,
        done: done.to_vec(),
    }
}

fn plain(steps: Vec<Step>) -> Design {
    let mut design = with_route(steps);
    design.blank.solder_flow_c = None;
    design
}

fn soldered(flow: &str, celsius: &str) -> Design {
    let mut design = with_route(vec![coat(Side::Back, "counter-slate"), fire(celsius)]);
    design.blank.solder_flow_c = Some(decimal(flow));
    design
}

fn codes(check: &LoadCheck) -> Vec<(CautionCode, Option<PieceId>)> {
    check.cautions.iter().map(|caution| (caution.code, caution.piece)).collect()
}

#[test]
fn the_strictest_piece_sets_the_ceiling_and_is_named() {
    let (hard, easy) = (soldered("771.1", "720"), soldered("745", "700"));
    let silver =
        Design { blank: crate::studio::Blank { metal: Metal::Sterling, ..hard.blank.clone() }, ..hard.clone() };
    let pieces = [waits(&hard, 1, 1, &[0]), waits(&easy, 2, 1, &[0]), waits(&silver, 3, 1, &[0])];
    let check = check(&pieces, &kiln(), decimal("705"), Decimal::TWO, &studio()).unwrap();
    let ceiling = check.ceiling.unwrap();
    // 745 °C less the margin of 38 °C of the costing method, section 9.
    assert_eq!(
        (ceiling.celsius, ceiling.piece, ceiling.reason),
        (decimal("707"), Some(PieceId(2)), CeilingReason::Solder)
    );
    assert_eq!(ceiling.text, "piece 2 of batch 4: its weakest solder joint flows at 745 °C, less the margin of 38 °C");
    assert!(check.cautions.is_empty());
    // 720 and 700 °C, 10 °C either way: nothing suits both below 710 °C.
    assert_eq!(check.celsius, None);
}

#[test]
fn a_firing_planned_inside_the_margin_may_be_as_hot_as_planned_and_no_hotter() {
    let drop = lantern_drop();
    let first = drop.steps.iter().position(|step| matches!(step.kind, StepKind::Fire(_))).unwrap();
    let pieces = [waits(&drop, 1, first, &[])];
    let Some(firing) = pieces[0].firing() else { panic!("{first}") };
    let found = check(&pieces, &kiln(), firing.celsius, firing.minutes, &studio()).unwrap();
    assert_eq!(found.ceiling.unwrap().celsius, firing.celsius);
    assert_eq!(found.celsius, Some(Accepted { from: firing.celsius - Decimal::TEN, to: firing.celsius }));
    assert!(found.off_plan.is_empty());
    assert_eq!(found.cautions[0].code, CautionCode::SolderMargin);
}

#[test]
fn stops_come_first_and_name_their_piece() {
    let (bare, joint) = (plain(vec![fire("800")]), soldered("745", "700"));
    let pieces = [waits(&bare, 1, 0, &[]), waits(&joint, 2, 1, &[0]), waits(&joint, 3, 1, &[0])];
    let found = check(&pieces, &kiln(), decimal("990"), Decimal::TWO, &studio()).unwrap();
    assert_eq!(codes(&found), [(CautionCode::SolderFlow, Some(PieceId(2))), (CautionCode::KilnMax, None)]);
    assert_eq!(found.cautions[0].pieces, [PieceId(2), PieceId(3)]);
    assert_eq!(
        found.cautions[0].text,
        "piece 2 of batch 4 and 1 more: fired at 990 °C, and the weakest solder joint flows at 745 °C: the joint can let go"
    );
    assert_eq!(found.off_plan, [PieceId(1), PieceId(2), PieceId(3)]);
}

#[test]
fn cautions_are_those_of_what_was_really_done() {
    // The counter enamel was left out for the second piece; the metal is thinner than 16 gauge.
    let mut plan = plain(vec![coat(Side::Back, "counter-slate"), coat(Side::Front, "dusk-blue"), fire("780")]);
    plan.blank.thickness = Thickness::Gauge(18);
    let pieces = [waits(&plan, 1, 2, &[0, 1]), waits(&plan, 2, 2, &[1])];
    let found = check(&pieces, &kiln(), decimal("780"), Decimal::TWO, &studio()).unwrap();
    assert_eq!(codes(&found), [(CautionCode::NoCounterEnamel, Some(PieceId(2)))]);
    // It is told at the next firing too, though it was told at the first.
    let again = [waits(&plan, 2, 2, &[1, 2])];
    let found = check(&again, &kiln(), decimal("780"), Decimal::TWO, &studio()).unwrap();
    assert_eq!(codes(&found), [(CautionCode::NoCounterEnamel, Some(PieceId(2)))]);
}

#[test]
fn a_harder_coat_is_told_at_the_firing_after_it_and_not_again() {
    // Slate is hard fusing, dusk blue medium.
    let plan = plain(vec![
        coat(Side::Front, "dusk-blue"),
        coat(Side::Back, "counter-slate"),
        fire("780"),
        coat(Side::Front, "counter-slate"),
        fire("780"),
        fire("760"),
    ]);
    let at = |step, done: &[usize]| {
        let pieces = [waits(&plan, 1, step, done)];
        codes(&check(&pieces, &kiln(), decimal("770"), Decimal::TWO, &studio()).unwrap())
    };
    assert_eq!(at(2, &[0, 1]), []);
    assert_eq!(at(4, &[0, 1, 2, 3]), [(CautionCode::HardOverSoft, Some(PieceId(1)))]);
    assert_eq!(at(5, &[0, 1, 2, 3, 4]), []);
}

#[test]
fn lead_is_told_at_each_firing_and_who_a_piece_is_for_is_not() {
    let mut plan = plain(vec![using("loop"), fire("780"), fire("780")]);
    plan.for_children = true;
    plan.materials.iter_mut().for_each(|material| material.lead_bearing = material.id.0 == "loop");
    for (step, done) in [(1, &[0][..]), (2, &[0, 1])] {
        let pieces = [waits(&plan, 1, step, done)];
        let found = check(&pieces, &kiln(), decimal("780"), Decimal::TWO, &studio()).unwrap();
        assert_eq!(codes(&found), [(CautionCode::LeadBearing, Some(PieceId(1)))]);
    }
}

#[test]
fn the_metal_stays_below_and_the_kiln_goes_up_to_its_ceiling() {
    // Sterling: solidus 802 °C, a stop from 782 °C on (costing method, section 9).
    let mut plan = plain(vec![fire("780")]);
    plan.blank.metal = Metal::Sterling;
    let pieces = [waits(&plan, 1, 0, &[])];
    let at = |celsius| check(&pieces, &kiln(), decimal(celsius), Decimal::TWO, &studio()).unwrap();
    let found = at("781");
    let ceiling = found.ceiling.unwrap();
    assert!(ceiling.below && ceiling.celsius == decimal("782") && ceiling.highest() == decimal("781"));
    assert_eq!(found.celsius, Some(Accepted { from: decimal("770"), to: decimal("781") }));
    assert!(found.cautions.iter().all(|caution| caution.level == Level::Caution));
    assert_eq!(at("782").cautions[0].code, CautionCode::MetalMelt);
    let cool = KilnLimits { hottest: Some(decimal("775")), ..kiln() };
    let found = check(&pieces, &cool, decimal("775"), Decimal::TWO, &studio()).unwrap();
    assert_eq!(found.celsius, Some(Accepted { from: decimal("770"), to: decimal("775") }));
    assert!(found.cautions.is_empty());
}

#[test]
fn a_piece_takes_the_rectangle_around_its_blanks() {
    let mut plan = plain(vec![step(StepKind::Clean)]);
    plan.blank.count = 2;
    // 38 × 24 mm, two of them: 18.24 cm².
    assert_eq!(shelf_area(&plan).unwrap(), decimal("18.24"));
    plan.blank.count = 1;
    plan.blank.outline = Outline::Disc { diameter_mm: decimal("30") };
    assert_eq!(shelf_area(&plan).unwrap(), decimal("9"));
    let corner = |x: &str, y: &str| [decimal(x), decimal(y)];
    let points_mm = vec![corner("5", "5"), corner("45", "5"), corner("25", "35.5")];
    plan.blank.outline = Outline::Polygon { points_mm };
    assert_eq!(shelf_area(&plan).unwrap(), decimal("12.2"));
}
