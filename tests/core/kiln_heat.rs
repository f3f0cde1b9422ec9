//! The heat of a kiln, its fit and its tariff, against published values and second opinions (tests/data, each row with
//! its source) and a numerical integration.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, clippy::float_arithmetic, missing_docs)]

use crate::support::{Row, rows_of, text};
use chrono::{NaiveDate, NaiveDateTime, NaiveTime, TimeDelta, Weekday};
use enamelwright::kiln::fit::{MeterReading, fit};
use enamelwright::kiln::heat::{HeatModel, heat_of_mass, specific_heat, specific_heat_of_enamel};
use enamelwright::kiln::tariff;
use enamelwright::measure::exact::round;
use enamelwright::measure::{Decimal, Money};
use enamelwright::studio::{
    ElectricKiln, HeatSource, Kiln, KilnDayId, Metal, ShareLoadBy, StudioRates, TariffBand, defaults,
};
use proptest::prelude::*;
use rust_decimal::prelude::ToPrimitive;
use serde_json::Value;

const HEAT: &str = "g_electricity_and_heat.csv";
const SECOND_OPINION: &str = "second_opinion_heat.csv";

pub(crate) fn decimal(text: &str) -> Decimal {
    Decimal::from_scientific(text).unwrap_or_else(|_| text.parse().unwrap())
}

pub(crate) fn money(text: &str) -> Money {
    Money::new(decimal(text)).unwrap()
}

fn input(row: &Row, name: &str) -> Decimal {
    decimal(&row.input(name))
}

fn expected(row: &Row, name: &str) -> f64 {
    row.answer()[name].as_f64().unwrap()
}

/// Within `relative` of the expected, or within half of the sixth place, where decimals are rounded.
fn close(row: &Row, what: &str, got: Decimal, relative: f64) {
    let (got, expected) = (got.to_f64().unwrap(), expected(row, what));
    let off = (got - expected).abs();
    assert!(off <= (expected.abs() * relative).max(0.6e-6), "{} {what}: {got} is not {expected}", row.id);
}

/// As `close`, for a coefficient of 12 places.
fn close_fine(row: &Row, what: &str, got: Decimal, relative: f64) {
    let (got, expected) = (got.to_f64().unwrap(), expected(row, what));
    let off = (got - expected).abs();
    assert!(off <= (expected.abs() * relative).max(0.6e-12), "{} {what}: {got} is not {expected}", row.id);
}

pub(crate) fn day_of_march(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 3, day).unwrap()
}

pub(crate) fn at(time: &str) -> NaiveDateTime {
    day_of_march(2).and_time(time.parse().unwrap())
}

fn kiln_of(power: Decimal, warm_up: Decimal, duty: Decimal, working: Decimal, room: Decimal) -> ElectricKiln {
    ElectricKiln {
        rated_kw: power,
        warm_up_minutes: warm_up,
        working_celsius: working,
        duty,
        room_celsius: room,
        rated_max_celsius: Decimal::from(1100),
        shelf_cm2: Decimal::from(300),
        furniture_g: Decimal::from(350),
        door_kwh: decimal("0.03"),
        share_by: ShareLoadBy::Area,
        fitted: None,
        elements_since: day_of_march(1),
        thermocouple_since: day_of_march(1),
    }
}

fn kiln_of_row(row: &Row) -> ElectricKiln {
    let take = |name| input(row, name);
    kiln_of(take("power_kW"), take("warm_up_min"), take("duty"), take("working_C"), take("room_C"))
}

/// The kiln of G-KILN-1.
pub(crate) fn small_kiln() -> ElectricKiln {
    kiln_of(decimal("1.8"), Decimal::from(45), decimal("0.4"), Decimal::from(800), Decimal::from(20))
}

pub(crate) fn named(kiln: ElectricKiln) -> Kiln {
    let heat = HeatSource::Electric(Box::new(kiln));
    Kiln { name: "the small kiln".to_owned(), heat, note: String::new(), retired: false }
}

pub(crate) fn rates() -> StudioRates {
    StudioRates {
        elements_cost: money("210"),
        elements_hours: Decimal::from(450),
        thermocouple_cost: money("38"),
        thermocouple_hours: Decimal::from(900),
        price_per_kwh: money("0.2"),
        kwh_per_load: decimal("0.31"),
        recovery_minutes: Decimal::from(5),
        tariff: Vec::new(),
        ..defaults::studio_rates()
    }
}

pub(crate) fn every_day() -> Vec<Weekday> {
    (0..7).map(|day| Weekday::try_from(day).unwrap()).collect()
}

#[test]
fn energy_is_power_by_time_by_duty() {
    for row in rows_of(HEAT, "G-KWH-", 4) {
        let (kw, minutes) = (input(&row, "kw"), input(&row, "hours") * Decimal::from(60));
        let duty = input(&row, "duty");
        let kwh = if duty == Decimal::ONE {
            let model = HeatModel::of(&ElectricKiln { rated_kw: kw, ..small_kiln() }).unwrap();
            model.full_power_kwh(minutes).unwrap()
        } else {
            // Holding its working temperature, a kiln is on for its duty.
            let kiln = kiln_of(kw, Decimal::from(50), duty, Decimal::from(790), Decimal::from(19));
            HeatModel::of(&kiln).unwrap().holding_kwh(Decimal::from(790), minutes).unwrap()
        };
        close(&row, "kwh", kwh, 1e-9);
        let rates = StudioRates { price_per_kwh: Money::new(input(&row, "price_per_kwh")).unwrap(), ..rates() };
        close(&row, "cost", tariff::price(&rates, at("08:00:00"), at("08:30:00"), kwh).unwrap(), 1e-9);
    }
}

#[test]
fn specific_heats_are_those_of_the_handbooks() {
    for (id, metal) in [("G-CP-1", Some(Metal::Copper)), ("G-CP-2", Some(Metal::FineSilver)), ("G-CP-3", None)] {
        let row = &rows_of(HEAT, id, 1)[0];
        let got = metal.map_or_else(specific_heat_of_enamel, specific_heat);
        assert!((got - decimal(&row.expected)).abs() <= decimal("0.005"), "{id}: {got}");
    }
    // From memory, 0.46 to 0.50.
    let steel = &rows_of(HEAT, "G-CP-6", 1)[0];
    assert!((specific_heat(Metal::Steel) - decimal(&steel.expected)).abs() <= decimal("0.02"));
}

#[test]
fn a_mass_takes_up_its_heat() {
    for row in rows_of(HEAT, "G-HEAT-", 4) {
        let rise = input(&row, "to_C") - input(&row, "from_C");
        let kwh = heat_of_mass(input(&row, "grams"), input(&row, "cp"), rise).unwrap();
        let off = (kwh.to_f64().unwrap() / expected(&row, "kWh") - 1.0).abs();
        assert!(off <= 1e-9, "{}: {kwh}", row.id);
    }
}

#[test]
fn the_model_follows_from_three_measurements() {
    for row in rows_of(HEAT, "G-KILN-", 4) {
        let kiln = kiln_of_row(&row);
        let model = HeatModel::of(&kiln).unwrap();
        let (working, room) = (kiln.working_celsius, kiln.room_celsius);
        close(&row, "warm_up_kWh", model.warm_up_kwh(working).unwrap(), 1e-7);
        if row.id == "G-KILN-BAL" {
            let stored = model.capacity().unwrap() * (working - room);
            close(&row, "stored_kWh", round(stored, 7), 1e-7);
            close(&row, "lost_kWh", model.warm_up_kwh(working).unwrap() - round(stored, 7), 1e-7);
            continue;
        }
        close_fine(&row, "k_kW_per_K", model.loss().unwrap(), 1e-7);
        close_fine(&row, "C_kWh_per_K", model.capacity().unwrap(), 1e-7);
        close(&row, "hottest_C", model.asymptote().unwrap(), 1e-7);
        let (below, far_below) = (working - Decimal::from(60), working - Decimal::from(150));
        close(&row, "heat_last_60C_min", model.minutes_to_heat(below, working).unwrap(), 1e-7);
        close(&row, "cool_150C_min", model.minutes_to_cool(working, far_below).unwrap(), 1e-7);
        close(&row, "hold_1h_kWh", model.holding_kwh(working, Decimal::from(60)).unwrap(), 1e-7);
        let back = model.minutes_to_heat(room, working).unwrap();
        assert!((back - kiln.warm_up_minutes).abs() <= decimal("0.000001"), "{}: {back}", row.id);
    }
}

#[test]
fn minutes_are_those_an_integrator_of_a_library_finds() {
    for row in rows_of(SECOND_OPINION, "H-ODE-", 4) {
        let model = HeatModel::of(&kiln_of_row(&row)).unwrap();
        let take = |name| input(&row, name);
        close(&row, "heat_min", model.minutes_to_heat(take("heat_from"), take("heat_to")).unwrap(), 1e-6);
        close(&row, "cool_min", model.minutes_to_cool(take("cool_from"), take("cool_to")).unwrap(), 1e-6);
        close(&row, "warm_up_kWh", model.warm_up_kwh(take("heat_to")).unwrap(), 1e-6);
    }
}

/// Minutes until a temperature is crossed by `C dT/dt = P − k (T − T_a)`: classical Runge–Kutta of fourth order (any
/// numerical analysis textbook) in steps of a tenth of a second, the last one by a straight line.
fn integrated(model: &HeatModel, kw: f64, from: f64, to: f64) -> f64 {
    let (capacity, loss) = (model.capacity().unwrap().to_f64().unwrap(), model.loss().unwrap().to_f64().unwrap());
    let room = model.room().to_f64().unwrap();
    let slope = |celsius: f64| (kw - loss * (celsius - room)) / capacity;
    let step = 0.1 / 3600.0;
    let (mut celsius, mut hours) = (from, 0.0);
    loop {
        let one = slope(celsius);
        let two = slope(celsius + step / 2.0 * one);
        let three = slope(celsius + step / 2.0 * two);
        let four = slope(celsius + step * three);
        let next = celsius + step / 6.0 * (one + 2.0 * two + 2.0 * three + four);
        if (to - celsius) * (to - next) <= 0.0 {
            return 60.0 * (hours + step * (to - celsius) / (next - celsius));
        }
        (celsius, hours) = (next, hours + step);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_closed_form_is_the_integral(
        power in 8_i64..40, warm_up in 20_i64..120, duty in 15_i64..80, room in 5_i64..30,
        from in 0_i64..500, rise in 1_i64..250,
    ) {
        let (power, duty) = (Decimal::new(power, 1), Decimal::new(duty, 2));
        let kiln = kiln_of(power, Decimal::from(warm_up), duty, Decimal::from(800), Decimal::from(room));
        let model = HeatModel::of(&kiln).unwrap();
        let from = Decimal::from(room + from);
        let to = from + Decimal::from(rise);
        let float = |value: Decimal| value.to_f64().unwrap();
        let up = float(model.minutes_to_heat(from, to).unwrap());
        let integral = integrated(&model, float(power), float(from), float(to));
        prop_assert!((up - integral).abs() < 1e-5 * up.max(1.0), "up {up} {integral}");
        let (hot, cool) = (to + Decimal::from(20), from + Decimal::from(10));
        let down = float(model.minutes_to_cool(hot, cool).unwrap());
        let integral = integrated(&model, 0.0, float(hot), float(cool));
        prop_assert!((down - integral).abs() < 1e-5 * down.max(1.0), "down {down} {integral}");
    }
}

fn readings_of(row: &Row) -> Vec<MeterReading> {
    let rows = row.inputs["rows"].as_array().unwrap();
    (1..)
        .zip(rows)
        .map(|(number, cells)| {
            let cell = |place: usize| decimal(&text(&cells[place]));
            MeterReading {
                day: KilnDayId(number),
                date: day_of_march(u32::try_from(number).unwrap()),
                rise_k: cell(0),
                kelvin_hours: cell(1),
                openings: cell(2).to_u32().unwrap(),
                kwh: cell(3),
            }
        })
        .collect()
}

#[test]
fn a_fit_is_that_of_a_reference_library() {
    let published = rows_of(HEAT, "G-NNLS-", 1);
    for row in published.into_iter().chain(rows_of(SECOND_OPINION, "H-NNLS-", 6)) {
        let readings = readings_of(&row);
        let found = fit(&readings).unwrap().unwrap();
        close_fine(&row, "C", found.capacity_kwh_per_k, 1e-6);
        close_fine(&row, "k", found.loss_kw_per_k, 1e-6);
        close_fine(&row, "e", found.door_kwh, 1e-6);
        close(&row, "residual_norm", found.norm_kwh, 1e-6);
        assert_eq!(found.residuals.len(), readings.len());
        for (residual, reading) in found.residuals.iter().zip(&readings) {
            assert_eq!(residual.fitted_kwh + residual.residual_kwh, reading.kwh, "{}", row.id);
        }
        let accepted = found.accepted(day_of_march(20));
        assert_eq!(usize::try_from(accepted.readings).unwrap(), readings.len());
        // Without a loss, or a capacity, it is no kiln.
        let usable = found.capacity_kwh_per_k > Decimal::ZERO && found.loss_kw_per_k > Decimal::ZERO;
        assert_eq!(HeatModel::fitted(&small_kiln(), &accepted).is_ok(), usable, "{}", row.id);
    }
}

#[test]
fn three_readings_are_too_few() {
    let row = &rows_of(HEAT, "G-NNLS-", 1)[0];
    assert_eq!(fit(&readings_of(row)[..3]), Ok(None));
    assert!(fit(&readings_of(row)[..4]).unwrap().is_some());
}

#[test]
fn energy_is_priced_by_the_bands_it_falls_in() {
    for row in rows_of(HEAT, "G-TARIFF-", 3) {
        let minute = |value: &Value| {
            let minutes = u32::try_from(value.as_u64().unwrap()).unwrap();
            NaiveTime::from_num_seconds_from_midnight_opt(minutes * 60, 0).unwrap()
        };
        let band = |band: &Value| TariffBand {
            name: String::new(),
            days: every_day(),
            from: minute(&band["from"]),
            to: minute(&band["to"]),
            price_per_kwh: money(band["price_per_kwh"].as_str().unwrap()),
        };
        let tariff = row.inputs["bands"].as_array().unwrap().iter().map(band).collect();
        let rates = StudioRates { tariff, price_per_kwh: money("99"), ..rates() };
        let from = day_of_march(2).and_time(minute(&row.inputs["start_minute_of_day"]));
        let minutes = row.inputs["minutes"].as_i64().unwrap();
        let kwh = input(&row, "kw") * Decimal::from(minutes) / Decimal::from(60);
        let got = tariff::price(&rates, from, from + TimeDelta::minutes(minutes), kwh).unwrap();
        assert!((got - decimal(&row.expected)).abs() <= decimal("0.0000000001"), "{}: {got}", row.id);
    }
}
