//! What the model refuses, and whose figures it takes.

use super::*;
use crate::kiln::samples::{date, decimal, electric};

#[test]
fn a_temperature_out_of_reach_is_told_with_the_one_that_is_not() {
    let model = HeatModel::of(&electric()).unwrap();
    let (room, limit) = (Decimal::from(20), Decimal::from(1970));
    let told = HeatProblem::NotReached { asked: limit, hottest: limit };
    assert_eq!(model.minutes_to_heat(room, limit), Err(told.clone()));
    assert_eq!(model.warm_up_kwh(limit), Err(told));
    assert!(model.minutes_to_heat(room, Decimal::from(1969)).is_ok());
    let told = HeatProblem::NotCooled { asked: room, room };
    assert_eq!(model.minutes_to_cool(Decimal::from(800), room), Err(told));
    assert_eq!(model.minutes_to_heat(limit, room), Ok(Decimal::ZERO));
    assert_eq!(model.minutes_to_cool(room, limit), Ok(Decimal::ZERO));
}

#[test]
fn figures_that_cannot_be_are_named() {
    let refused = |kiln: ElectricKiln| HeatModel::of(&kiln).unwrap_err().to_string();
    let zero = Decimal::ZERO;
    assert_eq!(
        refused(ElectricKiln { duty: Decimal::ONE, ..electric() }),
        "a share of time the elements are on of 1: accepted is above 0 and below 1"
    );
    assert_eq!(
        refused(ElectricKiln { working_celsius: Decimal::from(20), ..electric() }),
        "a working temperature of 20: accepted is a temperature above the room's 20 °C"
    );
    assert!(refused(ElectricKiln { rated_kw: zero, ..electric() }).starts_with("a rated power, kW, of 0"));
    assert!(refused(ElectricKiln { warm_up_minutes: zero, ..electric() }).starts_with("minutes to warm up of 0"));
    assert!(refused(ElectricKiln { door_kwh: -Decimal::ONE, ..electric() }).contains("door, kWh, of -1"));
}

#[test]
fn an_accepted_fit_is_used_instead_of_the_measurements() {
    let fitted = FittedHeat {
        capacity_kwh_per_k: decimal("0.0012"),
        loss_kw_per_k: decimal("0.001"),
        door_kwh: decimal("0.025"),
        readings: 6,
        accepted: date(9),
    };
    let kiln = ElectricKiln { fitted: Some(fitted.clone()), ..electric() };
    let model = HeatModel::of(&kiln).unwrap();
    assert_eq!(model.from(), HeatFrom::Readings);
    assert_eq!((model.capacity(), model.loss()), (Ok(decimal("0.0012")), Ok(decimal("0.001"))));
    assert_eq!((model.door_kwh(), model.asymptote()), (decimal("0.025"), Ok(Decimal::from(1820))));
    let lossless = FittedHeat { loss_kw_per_k: Decimal::ZERO, ..fitted };
    let told = HeatModel::fitted(&kiln, &lossless).unwrap_err().to_string();
    assert_eq!(told, "a fitted loss, kW/K, of 0: accepted is above 0");
}
