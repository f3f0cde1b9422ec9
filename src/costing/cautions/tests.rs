use super::*;
use crate::costing::samples::{coat, finding, fire, lantern_drop, step, using, with_route};
use crate::studio::Thickness;

fn told(design: &Design) -> Vec<(CautionCode, Level, usize)> {
    cautions(design).into_iter().map(|caution| (caution.code, caution.level, caution.step)).collect()
}

fn clean() -> Step {
    step(StepKind::Clean)
}

#[test]
fn the_lantern_drop_is_fired_close_below_its_solder() {
    // Flow point 745 °C: 725, 720 and 715 °C are less than 38 °C below it, 705 °C is 40 °C below. Medium over hard and
    // soft over medium are the right way round, and the counter enamel is fired first.
    let margin = (CautionCode::SolderMargin, Level::Caution);
    assert_eq!(told(&lantern_drop()), [3, 6, 8].map(|step| (margin.0, margin.1, step)));
    let text = &cautions(&lantern_drop())[0].text;
    assert_eq!(
        text,
        "fired at 725 °C, 20 °C below the 745 °C at which the weakest solder joint flows: the margin wanted is 38 °C"
    );
}

#[test]
fn solder_flows_at_its_flow_point_and_is_safe_from_the_margin_on() {
    let mut design = with_route(vec![coat(Side::Back, "counter-slate"), fire("745"), fire("707"), fire("707.01")]);
    assert_eq!(
        told(&design),
        [(CautionCode::SolderFlow, Level::Stop, 2), (CautionCode::SolderMargin, Level::Caution, 4)]
    );
    design.blank.solder_flow_c = None;
    assert!(told(&design).is_empty());
}

#[test]
fn a_fahrenheit_practice_passes_the_default_margin() {
    // Common practice, no source: 1350 °F under a hard solder that flows at 1420 °F, 732.2 and 771.1 °C.
    let mut design = with_route(vec![fire("732.2")]);
    design.blank.solder_flow_c = Some(Decimal::new(7711, 1));
    assert!(told(&design).is_empty());
}

#[test]
fn metal_begins_to_melt_twenty_degrees_below_its_solidus() {
    let mut design = with_route(vec![fire("782"), fire("781.9")]);
    design.blank.solder_flow_c = None;
    design.blank.metal = Metal::Sterling;
    let silver = |step| (CautionCode::SilverCopper, Level::Caution, step);
    assert_eq!(told(&design), [(CautionCode::MetalMelt, Level::Stop, 1), silver(1), silver(2)]);
    design.blank.metal = Metal::Copper;
    assert!(told(&design).is_empty());
}

#[test]
fn silver_on_copper_is_told_from_the_step_that_brings_it() {
    // The silver–copper eutectic is 779.1 °C (NIST, Ag-Cu system).
    let mut foil = finding("foil");
    foil.metal = Some(Metal::FineSilver);
    let mut design = with_route(vec![fire("790"), using("foil"), fire("778.9"), fire("779")]);
    design.blank.solder_flow_c = None;
    design.materials.push(foil);
    assert_eq!(told(&design), [(CautionCode::SilverCopper, Level::Caution, 4)]);
    design.blank.metal = Metal::FineSilver;
    assert!(told(&design).is_empty());
}

#[test]
fn a_firing_step_that_uses_silver_itself_is_told() {
    let mut wire = finding("wire");
    wire.metal = Some(Metal::Sterling);
    let mut firing = fire("800");
    firing.uses = using("wire").uses;
    let mut design = with_route(vec![firing]);
    design.blank.solder_flow_c = None;
    design.materials.push(wire);
    assert_eq!(told(&design), [(CautionCode::SilverCopper, Level::Caution, 1)]);
}

#[test]
fn a_harder_enamel_over_a_softer_one_is_told_by_side_and_only_once_fired() {
    // Hardest first is the order of layers: a softer enamel underneath rises through or slips.
    let design = with_route(vec![
        coat(Side::Back, "counter-slate"),
        coat(Side::Front, "clear-soft"),
        // Not fired yet: laid wet on wet.
        coat(Side::Front, "dusk-blue"),
        fire("700"),
        coat(Side::Front, "dusk-blue"),
        coat(Side::Back, "dusk-blue"),
        fire("700"),
    ]);
    assert_eq!(told(&design), [(CautionCode::HardOverSoft, Level::Caution, 5)]);
}

#[test]
fn coats_without_a_class_are_left_out() {
    let mut design = with_route(vec![
        coat(Side::Back, "oat"),
        coat(Side::Front, "oat"),
        fire("700"),
        coat(Side::Front, "counter-slate"),
        fire("700"),
    ]);
    assert_eq!(told(&design), [(CautionCode::HardOverSoft, Level::Caution, 4)]);
    for material in &mut design.materials {
        if material.id.0 == "oat" {
            material.fusing = None;
        }
    }
    assert!(told(&design).is_empty());
}

#[test]
fn thin_metal_without_counter_enamel_is_told_once() {
    let route =
        || vec![clean(), coat(Side::Front, "oat"), fire("700"), fire("700"), coat(Side::Back, "oat"), fire("700")];
    let mut design = with_route(route());
    assert_eq!(told(&design), [(CautionCode::NoCounterEnamel, Level::Caution, 3)]);
    // Gauge 16 is 1.290846 mm (ASTM B258), not thinner than 1.29 mm; gauge 17 is.
    design.blank.thickness = Thickness::Gauge(16);
    assert!(told(&design).is_empty());
    design.blank.thickness = Thickness::Gauge(17);
    assert_eq!(told(&design).len(), 1);
    design.blank.thickness = Thickness::ThicknessMm(Decimal::new(129, 2));
    assert!(told(&design).is_empty());
}

#[test]
fn lead_is_told_at_the_first_step_that_uses_it() {
    let mut design = lantern_drop();
    design.blank.solder_flow_c = None;
    for material in &mut design.materials {
        material.lead_bearing = matches!(material.id.0.as_str(), "oat" | "chain");
    }
    assert_eq!(told(&design), [(CautionCode::LeadBearing, Level::Caution, 7)]);
    design.for_children = true;
    assert_eq!(
        told(&design),
        [(CautionCode::LeadBearing, Level::Caution, 7), (CautionCode::ChildLead, Level::Stop, 7)]
    );
}

#[test]
fn lead_that_no_step_uses_is_not_in_the_piece() {
    let mut design = with_route(vec![fire("700")]);
    design.for_children = true;
    for material in &mut design.materials {
        material.lead_bearing = true;
    }
    assert!(told(&design).is_empty());
}

#[test]
fn each_coat_without_a_firing_after_it_is_told() {
    let design =
        with_route(vec![coat(Side::Back, "oat"), fire("700"), coat(Side::Front, "oat"), coat(Side::Back, "oat")]);
    let unfired = |step| (CautionCode::UnfiredCoat, Level::Caution, step);
    assert_eq!(told(&design), [unfired(3), unfired(4)]);
}

#[test]
fn cautions_of_one_step_stand_in_the_order_of_the_table() {
    let mut design = with_route(vec![coat(Side::Front, "oat"), fire("1100")]);
    design.materials.iter_mut().for_each(|material| material.metal = Some(Metal::FineSilver));
    assert_eq!(
        told(&design).into_iter().map(|(code, ..)| code).collect::<Vec<_>>(),
        [CautionCode::SolderFlow, CautionCode::MetalMelt, CautionCode::SilverCopper, CautionCode::NoCounterEnamel]
    );
}
