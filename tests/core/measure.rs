//! What people type and what is shown, against published values (tests/data, each row with its source) and by
//! properties.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, missing_docs)]

use crate::support::{rows_of, text};
use enamelwright::costing::share::split;
use enamelwright::measure::parse::{
    parse_change, parse_count, parse_length_mm, parse_minutes, parse_money, parse_number, parse_quantity, parse_rate,
    parse_ratio, parse_share, parse_temperature_celsius, parse_temperature_difference, parse_thickness,
};
use enamelwright::measure::{
    Currency, Decimal, LengthUnit, MassUnit, NumberStyle, ParseProblem, Preferences, TemperatureUnit, ThicknessEntry,
    ThicknessUnit, Unit, display, edit, exact, gauge, sieve,
};
use proptest::prelude::*;

fn metric() -> Preferences {
    Preferences::metric(Currency::from_code("USD").unwrap())
}

fn imperial() -> Preferences {
    Preferences {
        temperature: TemperatureUnit::Fahrenheit,
        length: LengthUnit::Inch,
        mass: MassUnit::Ounce,
        thickness: ThicknessUnit::Gauge,
        ..metric()
    }
}

fn comma() -> Preferences {
    Preferences { numbers: NumberStyle::Comma, currency: Currency::from_code("EUR").unwrap(), ..metric() }
}

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn grams(text: &str, preferences: &Preferences) -> Result<Decimal, ParseProblem> {
    parse_quantity(text, Unit::Gram, preferences).map(|typed| typed.value)
}

// Published rows.

#[test]
fn gauges_agree_with_the_formula_and_the_published_table() {
    let rows = rows_of("a_gauge_and_metal.csv", "A-GA-", 38);
    for row in rows {
        let number: i8 = row.input("gauge").parse().unwrap();
        let expected: f64 = row.expected.parse().unwrap();
        if row.id.ends_with("-MM") {
            assert!((gauge::thickness_mm(number) - expected).abs() <= 1e-6, "{}", row.id);
            assert_eq!(gauge::thickness_decimal(number), decimal(&row.expected).normalize(), "{}", row.id);
        } else {
            // The table rounds to three figures.
            assert!((gauge::thickness_mm(number) / 25.4 - expected).abs() <= 0.00005, "{}", row.id);
            assert_eq!(gauge::nearest(expected * 25.4), Some(number), "{}", row.id);
        }
    }
}

#[test]
fn the_british_gauge_is_not_taken_for_brown_and_sharpe() {
    for row in rows_of("a_gauge_and_metal.csv", "A-TRAP-SWG", 4) {
        let number = row.input("gauge");
        assert!(parse_thickness(&format!("{number} SWG"), &metric()).is_err(), "{}", row.id);
        let other: f64 = row.expected.parse().unwrap();
        assert!((gauge::thickness_mm(number.parse().unwrap()) - other).abs() > 0.03, "{}", row.id);
    }
}

#[test]
fn units_are_exact_by_definition() {
    // Left out: A-UNIT-07 (ft²), -10 (kWh) and -11 (BTU) are units nobody types here.
    let left_out = ["A-UNIT-07", "A-UNIT-10", "A-UNIT-11"];
    let mut used = 0;
    for row in rows_of("a_gauge_and_metal.csv", "A-UNIT-", 8) {
        if left_out.contains(&row.id.as_str()) {
            continue;
        }
        let typed = row.input("unit").replace(" avoirdupois", "");
        let unit = if row.id == "A-UNIT-06" { Unit::Millimetre } else { Unit::Gram };
        assert_eq!(parse_quantity(&typed, unit, &metric()).unwrap().value, decimal(&row.expected), "{}", row.id);
        used += 1;
    }
    assert_eq!(used, 5);
}

#[test]
fn fractions_of_an_inch_and_ounces_convert_exactly() {
    for row in rows_of("a_gauge_and_metal.csv", "A-FRAC-", 3) {
        let unit = if row.id == "A-FRAC-4" { Unit::Gram } else { Unit::Millimetre };
        let typed = parse_quantity(&row.input("text"), unit, &metric()).unwrap();
        assert_eq!(typed.value, decimal(&row.expected), "{}", row.id);
        assert_eq!(typed.text, row.input("text"));
    }
}

#[test]
fn sieves_have_their_standard_opening() {
    // Left out: the four B-SIEVE-TOL rows (tolerances of the sieve itself are not shown).
    for row in rows_of("b_enamel_heat_and_solder.csv", "B-SIEVE-", 12) {
        if row.id.starts_with("B-SIEVE-TOL") {
            continue;
        }
        if row.id == "B-SIEVE-150" {
            assert_eq!(sieve::opening_micrometres(150), None, "{}", row.quantity);
            continue;
        }
        let number = row.input("sieve_no").parse().unwrap();
        assert_eq!(sieve::opening_micrometres(number), row.expected.parse().ok(), "{}", row.id);
    }
}

#[test]
fn temperatures_convert_both_ways() {
    for row in rows_of("b_enamel_heat_and_solder.csv", "B-TEMP-F-", 10) {
        let celsius = parse_temperature_celsius(&format!("{} °F", row.input("F")), &metric()).unwrap();
        assert!((celsius - decimal(&row.expected)).abs() <= decimal("0.000001"), "{}", row.id);
        assert_eq!(edit::edit_temperature(celsius, &imperial()), row.input("F"), "{}", row.id);
    }
    for row in rows_of("b_enamel_heat_and_solder.csv", "B-TEMP-C-", 8) {
        let fahrenheit = display::celsius_to_fahrenheit(decimal(&row.input("C")));
        assert_eq!(fahrenheit.normalize(), decimal(&row.expected).normalize(), "{}", row.id);
    }
    let differences = rows_of("b_enamel_heat_and_solder.csv", "B-TEMPD-", 2);
    let celsius = parse_temperature_difference(&differences[0].input("difference"), &imperial()).unwrap();
    assert_eq!(exact::round(celsius, 6), decimal(&differences[0].expected));
    let fahrenheit = display::difference_to_fahrenheit(decimal(&differences[1].input("difference")));
    assert_eq!(fahrenheit.normalize(), decimal(&differences[1].expected));
}

#[test]
fn currencies_have_the_minor_unit_of_the_standard() {
    for row in rows_of("e_money_tax_price.csv", "E-MINOR-", 19) {
        let currency = Currency::from_code(&row.input("currency")).unwrap();
        assert_eq!(currency.digits().to_string(), row.expected, "{}", row.id);
    }
    for row in rows_of("e_money_tax_price.csv", "E-MINORR-", 4) {
        let currency = Currency::from_code(&row.input("currency")).unwrap();
        assert_eq!(currency.round(decimal(&row.input("value"))), decimal(&row.expected), "{}", row.id);
    }
}

#[test]
fn rounding_agrees_with_the_decimal_arithmetic_vectors() {
    // Left out: the four half-down rows; nothing here rounds so.
    let mut left_out = 0;
    for row in rows_of("e_money_tax_price.csv", "E-ROUND-", 20) {
        let places = row.inputs.get("quantum").map_or(0, |quantum| decimal(&text(quantum)).scale());
        let value = decimal(&row.input("value"));
        let rounded = match row.input("mode").as_str() {
            "half_even" => exact::round(value, places),
            "half_up" => exact::round_away(value, places),
            _ => {
                left_out += 1;
                continue;
            }
        };
        assert_eq!(rounded, decimal(&row.expected), "{}", row.id);
    }
    assert_eq!(left_out, 4);
    for row in rows_of("e_money_tax_price.csv", "E-CENT-", 6) {
        let (value, answer) = (decimal(&row.input("value")), row.answer());
        assert_eq!(exact::round(value, 2), decimal(&text(&answer["half_even"])), "{}", row.id);
        assert_eq!(exact::round_away(value, 2), decimal(&text(&answer["half_up"])), "{}", row.id);
    }
}

#[test]
fn cash_totals_round_to_the_step() {
    // Left out: E-CASH-TIE, whose source says itself that conventions differ.
    for row in rows_of("e_money_tax_price.csv", "E-CASH-", 9) {
        if row.id != "E-CASH-TIE" {
            let rounded = exact::round_to_step(decimal(&row.input("total")), decimal(&row.input("step")));
            assert_eq!(rounded, Ok(decimal(&row.expected)), "{}", row.id);
        }
    }
}

#[test]
fn largest_remainder_agrees_with_the_published_splits() {
    let file = "e_money_tax_price.csv";
    for row in rows_of(file, "E-LR-", 2).into_iter().chain(rows_of(file, "E-LRC-", 8)) {
        let weights: Vec<Decimal> =
            row.inputs["weights"].as_array().unwrap().iter().map(|weight| decimal(&text(weight))).collect();
        let parts = split(decimal(&row.input("total")), &weights, 0).unwrap();
        let expected: Vec<Decimal> = row.answer().as_array().unwrap().iter().map(|part| decimal(&text(part))).collect();
        assert_eq!(parts, expected, "{}", row.id);
    }
}

// Examples of our own.

#[test]
fn a_mark_that_may_part_thousands_or_decimals_is_refused() {
    for (typed, point, comma_style) in [
        ("12.50", Some("12.5"), Some("12.5")),
        ("12,50", Some("12.5"), Some("12.5")),
        ("1.234", Some("1.234"), None),
        ("1,234", None, Some("1.234")),
        ("0,125", Some("0.125"), Some("0.125")),
        ("1234,567", Some("1234.567"), Some("1234.567")),
        ("1,234.50", Some("1234.5"), Some("1234.5")),
        ("1.234,50", Some("1234.5"), Some("1234.5")),
        ("1,234,567", Some("1234567"), Some("1234567")),
        ("12\u{202f}345,6", Some("12345.6"), Some("12345.6")),
        ("1,23,4", None, None),
        ("1.2.3", None, None),
    ] {
        assert_eq!(parse_number(typed, &metric()).ok(), point.map(decimal), "{typed}, point");
        assert_eq!(parse_number(typed, &comma()).ok(), comma_style.map(decimal), "{typed}, comma");
    }
    assert_eq!(
        parse_number("1,234", &metric()).unwrap_err().to_string(),
        "\"1,234\" can mean 1234 or 1.234: write it in one of these two ways"
    );
}

#[test]
fn a_number_without_a_unit_is_in_the_chosen_one() {
    assert_eq!(grams("2", &metric()), Ok(decimal("2")));
    assert_eq!(grams("2", &imperial()), Ok(decimal("56.69904625")));
    assert_eq!(parse_length_mm("1 3/4", &imperial()), Ok(decimal("44.45")));
    assert_eq!(parse_length_mm("45 mm", &imperial()), Ok(decimal("45")));
    assert_eq!(parse_temperature_celsius("1400", &imperial()), Ok(decimal("760")));
    assert_eq!(parse_thickness("20", &metric()), Ok(ThicknessEntry::Gauge(20)));
    assert_eq!(parse_thickness("0000 gauge", &metric()), Ok(ThicknessEntry::Gauge(-3)));
    assert_eq!(parse_thickness("0.8", &metric()), Ok(ThicknessEntry::Millimetres(decimal("0.8"))));
}

#[test]
fn fractions_are_read_in_every_usual_form() {
    for typed in ["1 3/4 oz", "1-3/4 oz", "1¾ oz", "1 ¾ oz", "1 3\u{2044}4oz", "7/4 oz", "1.75 oz"] {
        assert_eq!(grams(typed, &metric()), Ok(decimal("49.611665469")), "{typed}");
    }
    assert_eq!(parse_length_mm("1/3 ft", &metric()), Ok(decimal("101.6")));
    assert!(grams("1/0 oz", &metric()).is_err());
}

#[test]
fn times_are_minutes_and_seconds() {
    for (typed, minutes) in [
        ("2:45", "2.75"),
        ("1:20:00", "80"),
        ("90 s", "1.5"),
        ("1 h 20 min", "80"),
        ("3.5", "3.5"),
        ("2:20", "2.333333333"),
    ] {
        assert_eq!(parse_minutes(typed, &metric()), Ok(decimal(minutes)), "{typed}");
    }
    for typed in ["2:5", "2:60", ":30", "1:2:3:4", "2 min 30", "-1", "3 weeks"] {
        assert!(parse_minutes(typed, &metric()).is_err(), "{typed}");
    }
}

#[test]
fn shares_and_ratios_refuse_what_may_mean_either() {
    assert_eq!(parse_share("35 %", &metric()), Ok(decimal("0.35")));
    assert_eq!(parse_share("0,35", &comma()), Ok(decimal("0.35")));
    assert!(parse_share("35", &metric()).is_err());
    assert!(parse_share("101 %", &metric()).is_err());
    assert_eq!(parse_rate("8.25 %", &metric()), Ok(decimal("0.0825")));
    assert!(parse_rate("8.25", &metric()).is_err());
    assert_eq!(parse_ratio("1.2", &metric()), Ok(decimal("1.2")));
    assert_eq!(parse_change("\u{2212}5", &metric()), Ok(decimal("-0.05")));
    assert!(parse_count("0", 1..=100, &metric()).is_err());
    assert_eq!(parse_count("12", 1..=100, &metric()), Ok(12));
}

#[test]
fn what_cannot_be_meant_is_refused_in_a_sentence() {
    let long = "9".repeat(65);
    for typed in ["", "  ", "NaN", "inf", "1e5", "1E+5", "-3", "\u{2212}3", "oz", "2 mm", &long, "99999999999"] {
        let sentence = grams(typed, &metric()).unwrap_err().to_string();
        assert!(sentence.contains("write"), "{typed:?}: {sentence}");
    }
    for typed in ["€5", "5 CHF", "1/2", "0.1234567", "1000000000001", "$"] {
        assert!(parse_money(typed, &metric()).is_err(), "{typed}");
    }
}

#[test]
fn money_is_shown_to_the_minor_unit_half_away_from_zero() {
    let yen = Preferences { currency: Currency::from_code("JPY").unwrap(), ..metric() };
    let franc = Preferences { currency: Currency::from_code("CHF").unwrap(), ..metric() };
    assert_eq!(display::money(decimal("1234.5"), &metric()), "$1234.50");
    assert_eq!(display::money(decimal("-12345.005"), &metric()), "\u{2212}$12\u{202f}345.01");
    assert_eq!(display::money(decimal("1234.5"), &yen), "¥1235");
    assert_eq!(display::money(decimal("12.5"), &franc), "CHF\u{a0}12.50");
    assert_eq!(display::money(decimal("12.5"), &comma()), "12,50\u{a0}€");
    assert_eq!(display::money(decimal("-0.001"), &metric()), "$0.00");
    assert_eq!(display::money_per_hour(decimal("24"), &metric()), "$24.00/h");
}

#[test]
fn measures_are_shown_in_the_chosen_units() {
    assert_eq!(display::quantity(decimal("56.69904625"), Unit::Gram, &metric()), "56.7\u{a0}g");
    assert_eq!(display::quantity(decimal("56.69904625"), Unit::Gram, &imperial()), "2\u{a0}oz");
    assert_eq!(display::temperature(decimal("780"), &imperial()), "1436\u{a0}°F");
    assert_eq!(display::minutes(decimal("2.75"), &metric()), "2:45");
    assert_eq!(display::share(decimal("0.975"), &comma()), "97,5\u{a0}%");
    assert_eq!(display::thickness(ThicknessEntry::Gauge(20), &metric()), "20\u{a0}ga");
}

// Properties.

fn everyone() -> impl Strategy<Value = Preferences> {
    prop_oneof![Just(metric()), Just(imperial()), Just(comma())]
}

fn kept() -> impl Strategy<Value = Decimal> {
    (0_i64..1_000_000_000_000_000, 0_u32..=9).prop_map(|(digits, places)| Decimal::new(digits % 1_000_000_000, places))
}

proptest! {
    #[test]
    fn a_field_reads_back_what_it_shows(value in kept(), preferences in everyone()) {
        let value = value.normalize();
        for unit in Unit::ALL {
            let shown = edit::edit_quantity(value, unit, &preferences);
            prop_assert_eq!(parse_quantity(&shown, unit, &preferences).map(|typed| typed.value), Ok(value), "{}", shown);
        }
        if value <= Decimal::from(2000) {
            let shown = edit::edit_temperature(value, &preferences);
            prop_assert_eq!(parse_temperature_celsius(&shown, &preferences), Ok(value), "{}", shown);
            let shown = edit::edit_temperature_difference(value, &preferences);
            prop_assert_eq!(parse_temperature_difference(&shown, &preferences), Ok(value), "{}", shown);
        }
        if value <= Decimal::from(1_000_000) {
            let shown = edit::edit_minutes(value, &preferences);
            prop_assert_eq!(parse_minutes(&shown, &preferences), Ok(value), "{}", shown);
        }
        if value.scale() <= 6 {
            let shown = edit::edit_money(value, &preferences);
            prop_assert_eq!(parse_money(&shown, &preferences).map(|money| money.amount()), Ok(value), "{}", shown);
        }
        if value <= Decimal::ONE {
            let shown = edit::edit_share(value, &preferences);
            prop_assert_eq!(parse_share(&shown, &preferences), Ok(value), "{}", shown);
        }
    }

    #[test]
    fn seconds_are_kept_as_they_were_typed(seconds in 0_u32..100_000) {
        let shown = format!("{}:{:02}", seconds / 60, seconds % 60);
        let minutes = parse_minutes(&shown, &metric()).unwrap();
        prop_assert_eq!(display::minutes(minutes, &metric()), shown);
    }

    #[test]
    fn no_text_panics(typed in "\\PC*", preferences in everyone()) {
        for unit in Unit::ALL {
            let _ = parse_quantity(&typed, unit, &preferences);
        }
        let _ = parse_thickness(&typed, &preferences);
        let _ = parse_temperature_celsius(&typed, &preferences);
        let _ = parse_minutes(&typed, &preferences);
        let _ = parse_money(&typed, &preferences);
        let _ = parse_ratio(&typed, &preferences);
        let _ = parse_change(&typed, &preferences);
        let _ = parse_count(&typed, 0..=9, &preferences);
    }

    #[test]
    fn no_text_made_of_number_parts_panics(typed in "[-+0-9., /½¾:eE%$€°FCgoztinmgalb]{0,70}", preferences in everyone()) {
        for unit in Unit::ALL {
            if let Ok(typed) = parse_quantity(&typed, unit, &preferences) {
                prop_assert!(typed.value >= Decimal::ZERO && typed.value.scale() <= 9);
            }
        }
        let _ = parse_thickness(&typed, &preferences);
        let _ = parse_minutes(&typed, &preferences);
        let _ = parse_money(&typed, &preferences);
    }

    #[test]
    fn parts_add_up_to_the_whole(amount in -1_000_000_000_i64..1_000_000_000, weights in prop::collection::vec(0_i64..1_000_000, 1..20)) {
        let amount = Decimal::new(amount, 2);
        let weights: Vec<Decimal> = weights.into_iter().map(|weight| Decimal::new(weight, 3)).collect();
        let parts = split(amount, &weights, 2).unwrap();
        prop_assert_eq!(exact::sum(parts.iter().copied()), Ok(amount));
        let total: Decimal = weights.iter().sum();
        if !total.is_zero() {
            for (part, weight) in parts.iter().zip(&weights) {
                prop_assert!((*part - amount * *weight / total).abs() < Decimal::new(1, 2) + Decimal::new(1, 12));
            }
        }
    }
}
