use super::*;
use crate::costing::samples::{coat, fire, lantern_drop, step, with_route};
use crate::studio::Side;

fn kinds(design: &Design) -> Vec<&'static str> {
    design.steps.iter().map(|step| step.kind.name()).collect()
}

fn clean() -> Step {
    step(StepKind::Clean)
}

#[test]
fn one_firing_more_copies_the_firing_and_the_cleaning_before_it() {
    let design = with_route(vec![coat(Side::Front, "oat"), fire("700"), clean(), fire("690"), step(StepKind::Pack)]);
    let more = with_firings(&design, 4).unwrap();
    assert_eq!(kinds(&more), ["coat", "fire", "clean", "fire", "clean", "fire", "clean", "fire", "pack"]);
    assert_eq!(more.steps[7], design.steps[3]);
    assert_eq!(with_firings(&more, 2).unwrap(), design);
}

#[test]
fn a_firing_without_cleaning_before_it_is_copied_alone() {
    let design = with_route(vec![clean(), coat(Side::Front, "oat"), fire("700")]);
    assert_eq!(kinds(&with_firings(&design, 3).unwrap()), ["clean", "coat", "fire", "fire", "fire"]);
}

#[test]
fn the_refire_unit_is_found_afresh_after_each_change() {
    let design = with_route(vec![coat(Side::Front, "oat"), fire("700"), clean(), fire("690"), fire("680")]);
    assert_eq!(kinds(&with_firings(&design, 2).unwrap()), ["coat", "fire", "clean", "fire"]);
    assert_eq!(kinds(&with_firings(&design, 1).unwrap()), ["coat", "fire"]);
    assert_eq!(fewest_firings(&design), 1);
}

#[test]
fn a_coat_is_never_left_unfired() {
    let design = lantern_drop();
    assert_eq!(fewest_firings(&design), 4);
    let refused = with_firings(&design, 3).unwrap_err();
    assert_eq!(refused, CostError::TooFewFirings { fewest: 4, step: 9 });
    assert_eq!(refused.to_string(), "only 4 firings or more: step 9 coats the piece before its last firing");
    assert_eq!(kinds(&with_firings(&design, 4).unwrap())[9..12], ["dry", "fire", "assemble"]);
}

#[test]
fn no_firing_and_absurdly_many_are_refused() {
    assert_eq!(with_firings(&lantern_drop(), 0), Err(CostError::NoFiring));
    assert_eq!(with_firings(&with_route(vec![clean()]), 2), Err(CostError::NoFiring));
    assert_eq!(fewest_firings(&with_route(vec![clean()])), 0);
    let absurd = with_firings(&lantern_drop(), u32::MAX);
    assert_eq!(absurd, Err(CostError::TooManyFirings { most: MOST_FIRINGS }));
}

#[test]
fn the_curve_is_the_answer_at_each_count() {
    let design = lantern_drop();
    let curve = refire_curve(&design, 7).unwrap();
    assert_eq!(curve.iter().map(|point| point.firings).collect::<Vec<_>>(), [4, 5, 6, 7]);
    for point in curve {
        let alone = crate::costing::costing(&with_firings(&design, point.firings).unwrap()).unwrap();
        assert_eq!(point.costing, alone);
    }
}
