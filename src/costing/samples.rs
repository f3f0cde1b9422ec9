//! Designs the unit tests share.

use crate::measure::Decimal;
use crate::measure::Money;
use crate::studio::{Coat, Design, Firing, Material, MaterialId, MaterialKind, Side, Step, StepKind, StudioRates, Use};

/// The lantern drop: a domed copper drop of five firings, an invented example.
pub(crate) fn lantern_drop() -> Design {
    crate::exchange::design_file::read(include_str!("../../tests/data/lantern-drop.toml")).unwrap()
}

/// The lantern drop with another route.
pub(crate) fn with_route(steps: Vec<Step>) -> Design {
    Design { steps, ..lantern_drop() }
}

/// A decimal from its text.
pub(crate) fn decimal(text: &str) -> Decimal {
    Decimal::from_str_exact(text).unwrap()
}

/// A step that takes no time and loses nothing.
pub(crate) fn step(kind: StepKind) -> Step {
    Step {
        name: kind.name().to_owned(),
        kind,
        setup_minutes: Decimal::ZERO,
        minutes_per_piece: Decimal::ZERO,
        good: Decimal::ONE,
        uses: Vec::new(),
    }
}

/// A full coat of 60 mg/cm².
pub(crate) fn coat(side: Side, material: &str) -> Step {
    step(StepKind::Coat(Coat {
        side,
        material: MaterialId(material.to_owned()),
        coverage: Decimal::ONE,
        coat_mg_per_cm2: Decimal::from(60),
        overspray: Decimal::ZERO,
        reclaimed: Decimal::ZERO,
    }))
}

/// A firing of two minutes, five pieces a load.
pub(crate) fn fire(celsius: &str) -> Step {
    step(StepKind::Fire(Firing {
        celsius: decimal(celsius),
        minutes: Decimal::TWO,
        pieces_per_load: 5,
        attended_minutes_per_load: Decimal::ZERO,
    }))
}

/// A step that uses one of a material.
pub(crate) fn using(material: &str) -> Step {
    let used = Use { material: MaterialId(material.to_owned()), quantity: Decimal::ONE };
    Step { uses: vec![used], ..step(StepKind::Assemble) }
}

/// A finding of no particular kind.
pub(crate) fn finding(id: &str) -> Material {
    Material {
        id: MaterialId(id.to_owned()),
        name: id.to_owned(),
        kind: MaterialKind::Finding,
        unit: crate::measure::Unit::Each,
        price: Decimal::ONE,
        fusing: None,
        lead_bearing: false,
        metal: None,
    }
}

/// A studio with a margin of 38 °C and tolerances of 10 °C and half a minute.
pub(crate) fn studio() -> StudioRates {
    let money = |text: &str| Money::new(decimal(text)).unwrap();
    StudioRates {
        overhead: Vec::new(),
        normal_hours_per_year: Decimal::from(700),
        labour_per_hour: money("26"),
        elements_cost: money("210"),
        elements_hours: Decimal::from(450),
        thermocouple_cost: money("38"),
        thermocouple_hours: Decimal::from(900),
        price_per_kwh: money("0.22"),
        kwh_per_load: Decimal::new(31, 2),
        recovery_minutes: Decimal::from(5),
        solder_margin_c: Decimal::from(38),
        channels: Vec::new(),
        tariff: Vec::new(),
        heat_tolerance_c: Decimal::TEN,
        minutes_tolerance: Decimal::new(5, 1),
    }
}
