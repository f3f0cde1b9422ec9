use crate::costing::samples::{decimal, lantern_drop};
use crate::costing::{costing, to_json};
use crate::studio::Target;

#[test]
fn the_answer_has_its_keys_in_the_written_order() {
    let design = lantern_drop();
    let text = to_json(&design, &costing(&design).unwrap());
    let keys = [
        "design",
        "currency",
        "pieces",
        "good",
        "firings",
        "hours_per_good_piece",
        "blank",
        "thickness_mm",
        "front_cm2",
        "back_cm2",
        "mass_g",
        "enamel_g_per_piece",
        "counter-slate",
        "dusk-blue",
        "oat",
        "clear-soft",
        "per_good_piece",
        "materials",
        "labour",
        "kiln_energy",
        "kiln_wear",
        "overhead",
        "loss_allowance",
        "full",
        "out_of_pocket",
        "channels",
        "id",
        "floor",
        "cash_floor",
        "exact",
        "ticket",
        "price_before_tax",
        "profit",
        "margin",
        "earned_per_hour",
        "common_ticket",
        "cautions",
        "code",
        "level",
        "step",
        "text",
    ];
    let mut rest = text.as_str();
    for key in keys {
        let at = rest.find(&format!("\"{key}\":")).unwrap_or_else(|| panic!("{key} is missing or too early"));
        rest = &rest[at..];
    }
    let value: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(value["pieces"], "14");
    assert_eq!(value["firings"], 5);
    assert_eq!(value["good"], "12.3913847");
    assert_eq!(value["common_ticket"]["ticket"], "46");
    assert_eq!(value["common_ticket"]["channel"], "fair");
    assert_eq!(value["cautions"][0]["code"], "solder-margin");
    assert_eq!(value["cautions"][0]["level"], "caution");
    assert_eq!(value["cautions"][0]["step"], 3);
}

#[test]
fn a_channel_without_a_price_says_why_and_keeps_out_of_the_common_ticket() {
    let mut design = lantern_drop();
    design.channels[0].target = Target::Margin(decimal("0.99"));
    design.channels[1].commission = decimal("0.99");
    design.channels[1].card_fee = decimal("0.02");
    let value: serde_json::Value = serde_json::from_str(&to_json(&design, &costing(&design).unwrap())).unwrap();
    let keys = |channel: usize| value["channels"][channel].as_object().unwrap().keys().cloned().collect::<Vec<_>>();
    assert_eq!(keys(0), ["cash_floor", "error", "floor", "id"]);
    assert_eq!(keys(1), ["error", "id"]);
    assert!(value["common_ticket"].is_null());
}

#[test]
fn nothing_to_divide_by_is_null() {
    let mut design = lantern_drop();
    design.channels.truncate(1);
    design.rates.labour_per_hour = decimal("0");
    for step in &mut design.steps {
        step.setup_minutes = decimal("0");
        step.minutes_per_piece = decimal("0");
        if let crate::studio::StepKind::Fire(firing) = &mut step.kind {
            firing.attended_minutes_per_load = decimal("0");
        }
    }
    let value: serde_json::Value = serde_json::from_str(&to_json(&design, &costing(&design).unwrap())).unwrap();
    assert_eq!(value["hours_per_good_piece"], "0");
    assert!(value["channels"][0]["earned_per_hour"].is_null());
    assert!(value["channels"][0]["margin"].is_string());
    design.channels.clear();
    let value: serde_json::Value = serde_json::from_str(&to_json(&design, &costing(&design).unwrap())).unwrap();
    assert_eq!(value["channels"], serde_json::json!([]));
    assert!(value["common_ticket"].is_null());
}
