//! Spreadsheets from the outside: hostile files, and what goes out comes in again. The files are described in
//! `tests/data/tables/README.md`.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, reason = "helpers of tests fail by panicking")]

use chrono::NaiveDate;
use enamelwright::exchange::table::write::{SCHEMA, csv, csv_files, json, xlsx};
use enamelwright::exchange::table::{
    Cell, Column, ColumnKind, DayOrder, Flow, Found, Heading, ImportKind, Mapping, Place, Progress, ReadProblem, Table,
    Value, Workbook, preview, read, write::WriteProblem,
};
use enamelwright::measure::{Currency, Decimal};
use proptest::prelude::*;
use std::time::{Duration, Instant};

fn bytes(name: &str) -> Vec<u8> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/tables").join(name);
    std::fs::read(path).unwrap()
}

fn open(name: &str) -> Result<Workbook, ReadProblem> {
    read(&bytes(name), name, &mut |_| Flow::Go)
}

fn texts(workbook: &Workbook) -> Vec<(u32, Vec<String>)> {
    workbook.sheets[0].rows.iter().map(|row| (row.number, row.cells.iter().map(Cell::text).collect())).collect()
}

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

#[test]
fn a_hostile_workbook_is_read_for_what_it_holds() {
    let workbook = open("hostile.xlsx").unwrap();
    let sheet = &workbook.sheets[0];
    assert_eq!(sheet.rows.iter().map(|row| row.number).collect::<Vec<_>>(), [1, 3, 4, 5, 6]);
    let heading = Heading::find(sheet).unwrap();
    assert_eq!((heading.row, heading.likely()), (4, ImportKind::Movements));
    let mut mapping = Mapping::guess(ImportKind::Movements, &heading);
    assert_eq!(mapping.columns.len(), 7);
    let looked = preview(sheet, &heading, &mapping, Currency::USD, None);
    let said: Vec<String> = looked.problems.iter().map(ToString::to_string).collect();
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said[0].starts_with("row 6, column A (date): \"05/03/2026\" may be"), "{said:?}");
    assert!(said[1].starts_with("row 6, column D (quantity): #REF! stands there"), "{said:?}");
    mapping.days = Some(DayOrder::DayMonthYear);
    let looked = preview(sheet, &heading, &mapping, Currency::USD, None);
    assert_eq!(looked.problems.len(), 1);
    let Found::Lines(lines) = looked.found else { panic!("not lines") };
    assert_eq!(
        lines[0].texts(),
        // 46084 days in the 1900 date system: 36526 (1 January 2000) and 9558 on.
        ["2026-03-03", "EN-1", "receipt", "2", "oz", "12.5", "=cmd|x"].map(str::to_owned)
    );
}

#[test]
fn an_open_document_is_read_and_its_million_blank_rows_are_not() {
    let workbook = open("shelf.ods").unwrap();
    let wanted: [(u32, &[&str]); 4] = [
        (1, &["Shelf A & B"]),
        (2, &["Date", "Reference", "Counted", "Unit"]),
        (3, &["2026-03-14", "EN-1", "250.5", "g"]),
        (4, &["2026-03-14", "EN-2", "2", "oz"]),
    ];
    let wanted: Vec<(u32, Vec<String>)> =
        wanted.into_iter().map(|(row, cells)| (row, cells.iter().map(|&text| text.to_owned()).collect())).collect();
    assert_eq!(texts(&workbook), wanted);
    let heading = Heading::find(&workbook.sheets[0]).unwrap();
    assert_eq!((heading.row, heading.likely()), (2, ImportKind::Counts));
}

#[test]
fn files_that_would_harm_are_refused_at_once_with_the_reason() {
    let begun = Instant::now();
    let damaged = |name: &str| match open(name) {
        Err(ReadProblem::Damaged(words)) => words,
        other => panic!("{name}: {other:?}"),
    };
    assert!(damaged("cut.xlsx").contains("cut off"));
    assert!(damaged("entities.xlsx").contains("document type"));
    assert!(damaged("liar.xlsx").contains("sheet1.xml"));
    assert!(matches!(open("bomb.xlsx"), Err(ReadProblem::UnpacksTooLarge { bytes }) if bytes > 4_000_000_000));
    assert_eq!(open("text.xlsx"), Err(ReadProblem::NotWhatItSays { name: "text.xlsx".to_owned() }));
    assert_eq!(open("locked.xlsx"), Err(ReadProblem::OldOrLocked));
    assert!(matches!(open("repeats.ods"), Err(ReadProblem::TooManyRows { .. } | ReadProblem::TooMuchText)));
    assert_eq!(read(b"", "x.csv", &mut |_| Flow::Go), Err(ReadProblem::Empty));
    let large = vec![b'a'; 50_000_001];
    assert_eq!(read(&large, "x.csv", &mut |_| Flow::Go), Err(ReadProblem::FileTooLarge { bytes: 50_000_001 }));
    assert!(begun.elapsed() < Duration::from_secs(30), "{:?}", begun.elapsed());
}

#[test]
fn days_of_the_1904_system_are_the_days_they_are() {
    // ECMA-376 Part 1, 18.17.4.1 (from memory): the 1904 system's numbers are 1462 less; it has no day that never was.
    let workbook = open("from-1904.xlsx").unwrap();
    assert_eq!(workbook.sheets[0].rows[0].cells, [Cell::Date(day(2000, 1, 1)), Cell::Date(day(1904, 3, 1))]);
}

#[test]
fn letters_are_read_however_they_are_written() {
    let western = open("western.csv").unwrap();
    assert_eq!(texts(&western)[1].1, ["2026-03-14", "émail", " 12,50 €"]);
    assert!(western.remarks[0].contains("Windows-1252"));
    let wide = open("utf16.csv").unwrap();
    assert_eq!(texts(&wide)[1].1, ["2026-03-14", "émail"]);
    assert_eq!(wide.remarks, Vec::<String>::new());
}

fn table(rows: Vec<Vec<Value>>) -> Table {
    let kinds =
        [ColumnKind::Text, ColumnKind::Number, ColumnKind::Money { digits: 2 }, ColumnKind::Date, ColumnKind::Flag];
    let columns = kinds.into_iter().map(|kind| Column::new(format!("{} column", kind.name()), kind)).collect();
    Table { name: "Table".to_owned(), columns, rows }
}

fn row(text: &str, number: &str, money: &str, date: NaiveDate, flag: bool) -> Vec<Value> {
    let exact = |text: &str| Value::Number(text.parse().unwrap());
    vec![Value::text(text), exact(number), exact(money), Value::Date(date), Value::Flag(flag)]
}

#[test]
fn a_csv_file_is_as_rfc_4180_has_it_and_computes_nothing() {
    let table = table(vec![
        row("plain", "-12.50", "3", day(2026, 3, 14), true),
        row("=HYPERLINK(\"x\")", "0.000000001", "1.234567", day(1850, 1, 1), false),
        row("two\r\nlines, \"quoted\"", "1000", "-0.5", day(2026, 3, 14), true),
        vec![Value::Empty],
    ]);
    let text = String::from_utf8(csv(&table).unwrap()).unwrap();
    let wanted = "text column,number column,money column,date column,flag column\r\n\
                  plain,-12.5,3.00,2026-03-14,yes\r\n\
                  \"'=HYPERLINK(\"\"x\"\")\",0.000000001,1.234567,1850-01-01,no\r\n\
                  \"two\r\nlines, \"\"quoted\"\"\",1000,-0.50,2026-03-14,yes\r\n\
                  ,,,,\r\n";
    assert_eq!(text, wanted);
    assert_eq!(csv_files(&[table]).unwrap()[0].0, "Table.csv");
}

#[test]
fn a_workbook_has_numbers_days_and_texts_that_are_never_formulas() {
    let table = table(vec![
        row("=1+1", "-12.5", "3", day(2026, 3, 14), true),
        row("_x0041_ and _x000D_", "0.1", "1.234567", day(1900, 1, 1), false),
        row("  two\nlines\t ", "1000000", "-0.5", day(1850, 1, 1), false),
    ]);
    let workbook = read(&xlsx(&[table.clone(), table]).unwrap(), "x.xlsx", &mut |_| Flow::Go).unwrap();
    assert_eq!(workbook.sheets.iter().map(|sheet| sheet.name.as_str()).collect::<Vec<_>>(), ["Table", "Table 2"]);
    let cells = |row: usize| &workbook.sheets[0].rows[row].cells;
    let number = |text: &str| Cell::Number(text.parse::<Decimal>().unwrap());
    let text = |text: &str| Cell::Text(text.to_owned());
    assert_eq!(*cells(1), [text("=1+1"), number("-12.5"), number("3"), Cell::Date(day(2026, 3, 14)), Cell::Flag(true)]);
    assert_eq!(cells(2)[0], text("_x0041_ and _x000D_"));
    assert_eq!(cells(2)[3], Cell::Date(day(1900, 1, 1)));
    assert_eq!((&cells(3)[0], &cells(3)[3]), (&text("  two\nlines\t "), &text("1850-01-01")));
}

#[test]
fn a_text_no_cell_takes_is_refused_with_its_place() {
    let long = vec![row(&"a".repeat(40_000), "1", "1", day(2026, 3, 14), true)];
    let place = Place { row: 2, column: Some(1) };
    let problem = WriteProblem::TextTooLong { table: "Table".to_owned(), place, characters: 40_000 };
    assert_eq!(xlsx(&[table(long.clone())]), Err(problem));
    assert!(csv(&table(long)).is_ok());
}

#[test]
fn the_same_tables_are_the_same_bytes_whenever_they_are_written() {
    let table = table(vec![row("a", "1", "2", day(2026, 3, 14), true)]);
    let first = xlsx(std::slice::from_ref(&table)).unwrap();
    std::thread::sleep(Duration::from_millis(2_100));
    assert_eq!(xlsx(&[table]).unwrap(), first);
}

#[test]
fn json_is_as_its_schema_says() {
    let table = table(vec![row("=1+1", "-12.50", "3", day(2026, 3, 14), true), vec![]]);
    let written: serde_json::Value = serde_json::from_slice(&json(&[table])).unwrap();
    let schema: serde_json::Value = serde_json::from_str(SCHEMA).unwrap();
    let known = |schema: &serde_json::Value, value: &serde_json::Value| {
        let mut required: Vec<String> = serde_json::from_value(schema["required"].clone()).unwrap();
        required.sort();
        assert_eq!(value.as_object().unwrap().keys().cloned().collect::<Vec<_>>(), required);
        assert_eq!(schema["properties"].as_object().unwrap().len(), required.len());
    };
    known(&schema, &written);
    assert_eq!(written["format"], schema["properties"]["format"]["const"]);
    assert_eq!(written["version"], schema["properties"]["version"]["const"]);
    let (one, of_one) = (&written["tables"][0], &schema["properties"]["tables"]["items"]);
    known(of_one, one);
    let of_column = &of_one["properties"]["columns"]["items"];
    for column in one["columns"].as_array().unwrap() {
        known(of_column, column);
        assert!(of_column["properties"]["kind"]["enum"].as_array().unwrap().contains(&column["kind"]));
    }
    let rows = serde_json::json!([["=1+1", "-12.5", "3.00", "2026-03-14", true], [null, null, null, null, null]]);
    assert_eq!(one["rows"], rows);
}

#[test]
fn twenty_thousand_rows_tell_how_far_they_are_and_can_be_stopped() {
    let rows = (0..20_000).map(|at| row(&format!("item {at}"), "1.5", "2.25", day(2026, 3, 14), at % 2 == 0)).collect();
    let table = table(rows);
    for (bytes, name) in [(csv(&table).unwrap(), "x.csv"), (xlsx(std::slice::from_ref(&table)).unwrap(), "x.xlsx")] {
        let mut told: Vec<Progress> = Vec::new();
        let all = read(&bytes, name, &mut |progress| {
            told.push(progress);
            Flow::Go
        });
        assert_eq!(all.unwrap().sheets[0].rows.len(), 20_001, "{name}");
        assert!(told.len() > 20 && told.iter().all(|one| one.done <= one.whole && one.whole > 0), "{name}");
        let mut calls = 0;
        let stopped = read(&bytes, name, &mut |_| {
            calls += 1;
            if calls == 25 { Flow::Stop } else { Flow::Go }
        });
        assert_eq!(stopped, Err(ReadProblem::Stopped), "{name}");
        assert_eq!(calls, 25, "{name}");
    }
}

/// Texts people and machines write, those that begin like a formula among them.
fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[ -~é€\u{4e00}\n\t]{0,20}",
        "'{0,3}[=+@\t-][ -~]{0,8}",
        Just("a\r\nb".to_owned()),
        Just("\"".to_owned()),
        Just("_x0041_".to_owned()),
    ]
}

fn any_row() -> impl Strategy<Value = Vec<Value>> {
    let number = (-999_999_999_999_999_i64..=999_999_999_999_999, 0_u32..=9);
    let money = (-99_999_999_999_i64..=99_999_999_999, 0_u32..=6);
    let date = (1_i64..=80_000).prop_map(|days| day(1900, 1, 1) + chrono::TimeDelta::days(days));
    (any_text(), number, money, date, any::<bool>()).prop_map(|(text, number, money, date, flag)| {
        let decimal = |(number, scale): (i64, u32)| Value::Number(Decimal::new(number, scale).normalize());
        vec![Value::Text(text), decimal(number), decimal(money), Value::Date(date), Value::Flag(flag)]
    })
}

/// What a value is once it has been through a workbook.
fn as_cell(value: &Value) -> Cell {
    match value {
        Value::Empty => Cell::Empty,
        Value::Text(text) if text.is_empty() => Cell::Empty,
        Value::Text(text) => Cell::Text(text.clone()),
        Value::Number(number) => Cell::Number(*number),
        Value::Date(date) => Cell::Date(*date),
        Value::Flag(flag) => Cell::Flag(*flag),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn what_goes_out_as_csv_comes_in_the_same(rows in prop::collection::vec(any_row(), 1..12)) {
        let table = table(rows.clone());
        let bytes = csv(&table).unwrap();
        let back = read(&bytes, "x.csv", &mut |_| Flow::Go).unwrap();
        prop_assert_eq!(back.sheets[0].rows.len(), rows.len() + 1);
        // A second opinion: the csv crate sees the same cells, apostrophes not yet taken off.
        let mut other = csv::ReaderBuilder::new().has_headers(false).from_reader(bytes.as_slice());
        let records: Vec<csv::StringRecord> = other.records().collect::<Result<_, _>>().unwrap();
        prop_assert_eq!(records.len(), rows.len() + 1);
        for ((row, values), record) in back.sheets[0].rows[1..].iter().zip(&rows).zip(&records[1..]) {
            let Value::Text(text) = &values[0] else { panic!("text") };
            prop_assert_eq!(&row.cell(1).text(), text);
            prop_assert_eq!(record[0].strip_prefix('\'').unwrap_or(&record[0]), text.strip_prefix('\'').filter(|_| record[0] == **text).unwrap_or(text));
            for (column, value) in (1..=5_u32).zip(values) {
                if let Value::Number(number) = value {
                    prop_assert_eq!(row.cell(column).text().parse::<Decimal>().unwrap(), *number);
                } else {
                    prop_assert_eq!(row.cell(column).text(), as_cell(value).text());
                }
            }
        }
    }

    #[test]
    fn what_goes_out_as_a_workbook_comes_in_the_same(rows in prop::collection::vec(any_row(), 1..12)) {
        let bytes = xlsx(&[table(rows.clone())]).unwrap();
        let back = read(&bytes, "x.xlsx", &mut |_| Flow::Go).unwrap();
        for (row, values) in back.sheets[0].rows[1..].iter().zip(&rows) {
            for (column, value) in (1..=5_u32).zip(values) {
                prop_assert_eq!(row.cell(column), &as_cell(value));
            }
        }
    }

    #[test]
    fn no_bytes_whatever_stop_the_program(bytes in prop::collection::vec(any::<u8>(), 0..400), zip in any::<bool>()) {
        let bytes = if zip { [b"PK\x03\x04", bytes.as_slice()].concat() } else { bytes };
        for name in ["x.csv", "x.xlsx", "x"] {
            let _ = read(&bytes, name, &mut |_| Flow::Go);
        }
    }

    #[test]
    fn a_workbook_with_bytes_changed_never_stops_the_program(at in 0..6_000_usize, byte in any::<u8>(), ods in any::<bool>()) {
        let mut bytes = bytes(if ods { "shelf.ods" } else { "hostile.xlsx" });
        let at = at % bytes.len();
        bytes[at] = byte;
        let _ = read(&bytes, "x.xlsx", &mut |_| Flow::Go);
    }
}
