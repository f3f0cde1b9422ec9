use super::*;
use crate::costing::samples::{coat, decimal, fire, studio, with_route};
use crate::studio::{Design, Side, StepKind};

fn kiln(shelf: &str) -> KilnLimits {
    KilnLimits { name: "Fen".to_owned(), hottest: Some(decimal("980")), shelf_cm2: Some(decimal(shelf)) }
}

/// A plan without a soldered joint; the blank is 38 × 24 mm.
fn plan(celsius: &str, minutes: &str) -> Design {
    let mut plan = with_route(vec![coat(Side::Back, "counter-slate"), fire(celsius)]);
    plan.blank.solder_flow_c = None;
    if let Some(StepKind::Fire(firing)) = plan.steps.get_mut(1).map(|step| &mut step.kind) {
        firing.minutes = decimal(minutes);
    }
    plan
}

fn waits(plan: &Design, batch: i64, pieces: std::ops::Range<i64>) -> Vec<LoadPiece<'_>> {
    let one = |piece| LoadPiece {
        piece: PieceId(piece),
        batch: BatchId(batch),
        words: format!("piece {piece} of batch {batch}"),
        plan,
        step: 1,
        done: vec![0],
    };
    pieces.map(one).collect()
}

fn rows(pieces: std::ops::Range<i64>) -> Vec<PieceId> {
    pieces.map(PieceId).collect()
}

#[test]
fn pieces_that_overlap_are_offered_together_most_first() {
    let (warm, hot, apart, slow) = (plan("780", "2"), plan("795", "2.5"), plan("830", "2"), plan("780", "6"));
    let mut pieces = waits(&warm, 1, 1..4);
    pieces.extend(waits(&hot, 2, 4..6));
    pieces.extend(waits(&apart, 3, 6..7));
    pieces.extend(waits(&slow, 4, 7..9));
    let offers = offers(&pieces, &kiln("400"), &studio()).unwrap();
    let told: Vec<_> = offers.iter().map(|offer| (offer.pieces.clone(), offer.celsius, offer.minutes)).collect();
    // 770 to 790 and 785 to 805 °C: 785 to 790. Most are planned for 780 °C and two minutes, which is brought to 785.
    assert_eq!(
        told,
        [
            (rows(1..6), decimal("785"), decimal("2")),
            (rows(7..9), decimal("780"), decimal("6")),
            (rows(6..7), decimal("830"), decimal("2")),
        ]
    );
    assert_eq!(offers[0].area_cm2, decimal("45.6"));
    pieces.reverse();
    assert_eq!(super::offers(&pieces, &kiln("400"), &studio()).unwrap(), offers);
}

#[test]
fn what_the_shelf_does_not_hold_is_a_load_of_its_own() {
    let warm = plan("780", "2");
    let pieces = waits(&warm, 1, 1..8);
    // Three of 9.12 cm² on 30 cm².
    let counts = |kiln: &KilnLimits| -> Vec<usize> {
        offers(&pieces, kiln, &studio()).unwrap().iter().map(|offer| offer.pieces.len()).collect()
    };
    assert_eq!(counts(&kiln("30")), [3, 3, 1]);
    assert_eq!(counts(&kiln("9")), [0_usize; 0]);
    assert_eq!(counts(&KilnLimits { shelf_cm2: None, hottest: None, ..kiln("1") }), [1; 7]);
}

#[test]
fn a_piece_that_nothing_suits_is_not_offered() {
    let warm = plan("780", "2");
    let cool = KilnLimits { hottest: Some(decimal("760")), ..kiln("400") };
    assert!(offers(&waits(&warm, 1, 1..3), &cool, &studio()).unwrap().is_empty());
}
