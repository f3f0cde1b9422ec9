use super::*;
use crate::costing::samples::{decimal, lantern_drop};
use crate::measure::Decimal;
use crate::studio::{Metal, Outline, StepKind, Target, Thickness};

const EXAMPLE: &str = include_str!("../../../tests/data/lantern-drop.toml");

/// The example with a piece of its text replaced.
fn edited(old: &str, new: &str) -> String {
    assert!(EXAMPLE.contains(old), "{old:?} is not in the example");
    EXAMPLE.replacen(old, new, 1)
}

fn problems(text: &str) -> Vec<String> {
    read(text).map(|_| Vec::new()).unwrap_or_else(|problems| problems.iter().map(ToString::to_string).collect())
}

/// The one problem of the example with a piece of its text replaced.
#[track_caller]
fn problem(old: &str, new: &str) -> String {
    let mut found = problems(&edited(old, new));
    assert_eq!(found.len(), 1, "{found:?}");
    found.remove(0)
}

#[test]
fn the_example_is_read_as_it_is_written() {
    let design = lantern_drop();
    assert_eq!(design.code.as_str(), "LN-DROP");
    assert_eq!((design.pieces, design.for_children), (14, false));
    assert_eq!(design.blank.metal, Metal::Copper);
    assert_eq!(design.blank.thickness, Thickness::Gauge(18));
    assert_eq!(design.kiln.solder_margin_c, decimal("38"));
    assert_eq!((design.materials.len(), design.steps.len(), design.channels.len()), (8, 15, 3));
    let StepKind::Coat(stencil) = &design.steps[6].kind else { panic!("step 7 is a coat") };
    assert_eq!((stencil.coverage, stencil.overspray), (decimal("0.36"), decimal("1.1")));
    assert_eq!(design.channels[1].target, Target::Hourly(decimal("20")));
    assert_eq!(design.channels[0].price_points[1].less, Decimal::ONE);
    assert!(!design.channels[2].retail);
}

#[test]
fn writing_and_reading_again_gives_the_same_design() {
    let design = lantern_drop();
    let text = write(&design);
    assert_eq!(read(&text).unwrap(), design);
    assert_eq!(write(&read(&text).unwrap()), text);
    // Optional keys at their default are left out.
    for absent in ["for_children", "solder_margin_c", "coverage = \"1\"", "retail = true", "holes_mm", "\ncount"] {
        assert!(!text.contains(absent), "{absent}");
    }
    assert!(
        text.starts_with("format = \"enamelwright-design/1\"\ncurrency = \"USD\"\n\n[design]\ncode = \"LN-DROP\"\n")
    );
    assert!(text.contains("labour_per_hour = \"26.00\"\n"));
}

#[test]
fn a_number_counts_as_it_is_written() {
    let price =
        |written: &str| read(&edited("price = \"2.35\"", &format!("price = {written}"))).unwrap().materials[0].price;
    assert_eq!(price("0.1"), decimal("0.1"));
    assert_eq!(price("1_000.25"), decimal("1000.25"));
    assert_eq!(price("+2"), decimal("2"));
    assert_eq!(price("\"0.100000\""), decimal("0.1"));
    // More digits than a binary float keeps.
    assert_eq!(price("999999999999.123457").to_string(), "999999999999.123457");
    assert!(!price("-0").is_sign_negative());
}

#[test]
fn numbers_that_are_not_plain_decimals_are_refused_with_line_and_key() {
    for written in [
        "1e3",
        "1E-2",
        "inf",
        "-inf",
        "nan",
        "0x1F",
        "\"1e3\"",
        "\"2,35\"",
        "\"\"",
        "\" 1\"",
        "\"nan\"",
        "\"1.\"",
        "\"--1\"",
        "\"1_000\"",
        "\"١\"",
    ] {
        let told = problem("price = \"2.35\"", &format!("price = {written}"));
        assert!(told.starts_with("line 33: material 1, price: "), "{told}");
        assert!(told.contains("no plain number"), "{told}");
    }
    assert_eq!(
        problem("price = \"2.35\"", "price = \"2,35\""),
        "line 33: material 1, price: \"2,35\" is no plain number; accepted are digits with a decimal point, such as \
         12.50 (no exponent, inf or nan)"
    );
    for (written, reason) in [
        ("true", "is true or false; accepted is a number"),
        ("[2]", "is a list; accepted is a number"),
        ("2025-01-01", "is a date or time; accepted is a number"),
        ("\"0.1234567\"", "\"0.1234567\" has 7 decimals; money has at most 6"),
        ("-1", "-1 is out of range; accepted is 0 or more"),
        ("1000000000001", "1000000000001 is too large; accepted is at most 1000000000000"),
        (
            "\"99999999999999999999999999999999999999999\"",
            "\"9999999999999999999999999999999999999999\"… has more digits than can be kept",
        ),
    ] {
        assert_eq!(
            problem("price = \"2.35\"", &format!("price = {written}")),
            format!("line 33: material 1, price: {reason}")
        );
    }
    assert_eq!(
        problem("overspray = \"1.1\"", "overspray = \"0.1234567891\""),
        "line 146: step 7, overspray: \"0.1234567891\" has 10 decimals; accepted are at most 9"
    );
}

#[test]
fn unknown_keys_and_missing_ones_are_named() {
    assert_eq!(
        problem("pieces = 14", "pieces = 14\npeices = 3"),
        "line 9: design, peices: unknown key; accepted here are code, name, pieces, for_children"
    );
    assert_eq!(problem("pieces = 14\n", ""), "line 5: design, pieces: is missing");
    assert_eq!(problem("celsius = 725\n", ""), "line 106: step 3, celsius: is missing");
    assert!(problem("currency = \"USD\"\n", "").starts_with("line 1: currency: is missing"));
    assert!(problem("minutes_per_piece = 3", "celsius = 700").contains("step 14, celsius: unknown key"));
    assert!(
        problem("format = \"enamelwright-design/1\"", "format = \"enamelwright-design/2\"")
            .starts_with("line 2: format: is")
    );
}

#[test]
fn every_problem_is_told_in_the_order_of_lines() {
    let text = EXAMPLE
        .replace("pieces = 14", "pieces = \"14.5\"")
        .replace("metal = \"copper\"", "metal = \"tin\"")
        .replace("kind = \"blank\"", "kind = \"plank\"")
        .replace("good = \"0.95\"", "good = 95")
        .replace("commission = \"0.45\"", "commission = 45");
    let told = problems(&text);
    let starts = [
        "line 8: design, pieces: 14.5 is out of range; accepted is a whole number from 1",
        "line 22: blank, metal: is \"tin\"; accepted are copper, fine-silver, sterling, brass, bronze, steel",
        "line 31: material 1, kind: is \"plank\"; accepted are blank, enamel",
        "line 158: step 8, good: 95 is out of range; accepted is above 0 and at most 1",
        "line 223: channel 2, commission: 45 is out of range; accepted is 0 to below 1",
    ];
    assert_eq!(told.len(), starts.len(), "{told:#?}");
    for (told, start) in told.iter().zip(starts) {
        assert!(told.starts_with(start), "{told} does not start with {start}");
    }
}

#[test]
fn one_mistake_is_told_once() {
    assert!(problem("kind = \"fire\"\nname = \"Flash", "kind = \"flash\"\nname = \"Flash").contains("step 13, kind"));
    assert!(problem("shape = \"drop\"", "shape = \"heart\"").contains("blank, outline, shape: is \"heart\""));
    assert!(problem("gauge = 18", "gauge = \"18.5\"").contains("blank, gauge: 18.5 is out of range"));
    assert!(problem("gauge = 18", "gauge = 18\nthickness_mm = \"1.02\"").contains("exactly one of the two"));
    assert!(problem("gauge = 18\n", "").contains("blank, gauge: is missing"));
    assert!(
        problem("target = { margin = \"0.25\" }", "target = { margin = \"0.25\", hourly = 3 }")
            .contains("has 2 of them")
    );
    assert!(problem("target = { margin = \"0.25\" }", "target = {}").contains("has 0 of them"));
}

#[test]
fn what_belongs_together_is_checked_together() {
    assert!(
        problem("material = \"oat\"", "material = \"oats\"")
            .contains("step 7, material: no material has the id \"oats\"")
    );
    let twice = problems(&edited("id = \"box\"", "id = \"oat\""));
    assert!(twice[0].contains("material 8, id: \"oat\" is there twice"), "{twice:?}");
    assert!(twice[1].contains("no material has the id \"box\""), "{twice:?}");
    assert!(problem("material = \"oat\"", "material = \"chain\"").contains("accepted for a coat is an enamel in g"));
    assert!(problem("price_points = [ { step = \"5\" } ]", "price_points = []").contains("price_points: is empty"));
    assert!(problem("{ up_to = \"200\"", "{ up_to = \"20\"").contains("price_points 2, up_to: 20 is not above"));
}

#[test]
fn tables_may_be_written_in_any_way_of_toml() {
    let inline =
        edited("[rates]\nlabour_per_hour = \"26.00\"\noverhead_per_hour = \"5.75\"\nscrap_value = \"0.20\"\n", "");
    let inline =
        format!("rates = {{ labour_per_hour = 26.00, overhead_per_hour = 5.75, scrap_value = 0.20 }}\n{inline}");
    assert_eq!(read(&inline).unwrap(), lantern_drop());
    let windows = EXAMPLE.replace('\n', "\r\n");
    assert_eq!(read(&windows).unwrap(), lantern_drop());
}

#[test]
fn every_outline_is_read_and_written() {
    let outlines = [
        "{ shape = \"disc\", diameter_mm = \"30.5\" }",
        "{ shape = \"ellipse\", length_mm = 45, width_mm = 28 }",
        "{ shape = \"rectangle\", length_mm = 40, width_mm = 20 }",
        "{ shape = \"rectangle\", length_mm = 40, width_mm = 20, corner_mm = 3 }",
        "{ shape = \"polygon\", points_mm = [[0, 0], [30, \"0.5\"], [-15, 26]] }",
        "{ shape = \"path\", svg = \"M0 0 H30 V20\\n H0 Z\" }",
    ];
    for outline in outlines {
        let text = edited("{ shape = \"drop\", height_mm = 38, width_mm = 24 }", outline);
        let design = read(&text).unwrap_or_else(|problems| panic!("{outline}: {problems:?}"));
        let written = write(&design);
        assert!(written.contains(&format!("outline = {outline}\n")), "{written}");
        assert_eq!(read(&written).unwrap(), design);
    }
    let crossing = "{ shape = \"polygon\", points_mm = [[0,0],[10,10],[10,0],[0,10]] }";
    assert!(
        problem("{ shape = \"drop\", height_mm = 38, width_mm = 24 }", crossing)
            .contains("blank, outline: the outline crosses")
    );
}

#[test]
fn texts_of_any_script_come_back_whole() {
    for name in ["Лампада 🏮 ランタン", "She said \"no\" \\ 'yes'", "\u{202e}abc", "é\u{301}"] {
        let mut design = lantern_drop();
        name.clone_into(&mut design.name);
        name.clone_into(&mut design.channels[0].name);
        assert_eq!(read(&write(&design)).unwrap(), design);
    }
}

#[test]
fn what_is_not_toml_is_told_with_its_line() {
    assert!(problem("pieces = 14", "pieces = ").starts_with("line 8: pieces: not valid TOML: "));
    assert!(problem("pieces = 14", "pieces = 14\npieces = 15").starts_with("line 9: pieces: not valid TOML: "));
    assert!(problem("pieces = 14", "pieces = 99999999999999999999999").starts_with("line 8: pieces: "));
    let empty = problems("");
    assert!(empty.iter().any(|told| told.contains("format: is missing")), "{empty:?}");
    assert!(problems(&"[".repeat(100_000))[0].starts_with("line 1: file: not valid TOML"));
    assert!(problems(&format!("a = {}", "[".repeat(100_000)))[0].starts_with("line 1: a: not valid TOML"));
    assert!(problems(&" ".repeat(MOST_BYTES + 1))[0].starts_with("line 1: file: has 4194305 bytes"));
}

#[test]
fn hostile_names_are_refused_briefly() {
    let told = problem("name = \"Lantern drop\"", &format!("name = \"{}\"", "x".repeat(5_000)));
    assert_eq!(told, "line 7: design, name: has 5000 characters; accepted are 1 to 200");
    let told = problem("pieces = 14", &format!("pieces = 14\n{} = 1", "k".repeat(5_000)));
    assert!(told.len() < 300, "{told}");
    assert!(problem("name = \"Lantern drop\"", "name = \"Lantern\\u0000drop\"").contains("control character"));
    let told = problem("code = \"LN-DROP\"", &format!("code = \"{}\"", "A".repeat(5_000)));
    assert!(told.len() < 200, "{told}");
    assert!(matches!(
        read(&edited("{ shape = \"drop\", height_mm = 38, width_mm = 24 }", "{ shape = \"disc\", diameter_mm = 30 }"))
            .unwrap()
            .blank
            .outline,
        Outline::Disc { .. }
    ));
}
