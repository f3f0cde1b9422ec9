use super::super::archive::{Archive, tests::archive};
use super::super::{Flow, ReadProblem};
use super::*;
use chrono::NaiveDate;
use rust_xlsxwriter::{Format, Workbook as Out};

fn go(bytes: &[u8]) -> Result<Workbook, ReadProblem> {
    super::super::read(bytes, "x.xlsx", &mut |_| Flow::Go)
}

fn date(year: i32, month: u32, day: u32) -> Cell {
    Cell::Date(NaiveDate::from_ymd_opt(year, month, day).unwrap())
}

#[test]
fn serial_numbers_are_read_as_the_1900_date_system_has_them() {
    // ECMA-376 Part 1, 18.17.4.1 (from memory).
    let day = Format::new().set_num_format("yyyy-mm-dd");
    let cases = [
        (1.0, date(1900, 1, 1)),
        (59.0, date(1900, 2, 28)),
        (60.0, Cell::Fault("29 February 1900, a day that never was".to_owned())),
        (61.0, date(1900, 3, 1)),
        (36_526.0, date(2000, 1, 1)),
        (39_448.75, date(2008, 1, 1)),
        (2_958_465.0, date(9999, 12, 31)),
        (0.25, Cell::Fault("a time without a day".to_owned())),
        (2_958_466.0, Cell::Fault("2958466, a time without a day".to_owned())),
        (-1e300, Cell::Fault(String::new())),
    ];
    let mut out = Out::new();
    let sheet = out.add_worksheet();
    for (row, (serial, _)) in (0..).zip(&cases) {
        sheet.write_number_with_format(row, 0, *serial, &day).unwrap();
    }
    let read = go(&out.save_to_buffer().unwrap()).unwrap();
    for (row, (serial, cell)) in read.sheets[0].rows.iter().zip(&cases) {
        match (row.cell(1), cell) {
            (Cell::Fault(_), Cell::Fault(words)) if words.is_empty() => {}
            (found, wanted) => assert_eq!(found, wanted, "{serial}"),
        }
    }
}

#[test]
fn numbers_are_the_shortest_decimals() {
    let mut out = Out::new();
    let sheet = out.add_worksheet();
    let numbers = [0.1, 12.5, 1_234_567.891, 0.1 + 0.2, 1e-12, -3.0, 1e27];
    for (column, number) in (0..).zip(numbers) {
        sheet.write_number(0, column, number).unwrap();
    }
    sheet.write_number(1, 0, 1e40).unwrap();
    let read = go(&out.save_to_buffer().unwrap()).unwrap();
    let texts: Vec<String> = read.sheets[0].rows[0].cells.iter().map(Cell::text).collect();
    let wanted =
        ["0.1", "12.5", "1234567.891", "0.30000000000000004", "0.000000000001", "-3", "1000000000000000000000000000"];
    assert_eq!(texts, wanted);
    assert!(matches!(read.sheets[0].rows[1].cell(1), Cell::Fault(_)));
}

#[test]
fn merged_cells_blank_rows_and_formulas_cost_nothing_and_do_nothing() {
    let mut out = Out::new();
    let bold = Format::new().set_bold();
    let sheet = out.add_worksheet();
    sheet.merge_range(0, 0, 1, 3, "Title", &bold).unwrap();
    sheet.write_formula(2, 0, rust_xlsxwriter::Formula::new("=1+1").set_result("2")).unwrap();
    sheet.write_string(2, 1, "=1+1").unwrap();
    for row in 0..5_000 {
        sheet.write_blank(row + 10, 0, &bold).unwrap();
    }
    sheet.write_blank(1_048_575, 5, &bold).unwrap();
    sheet.write_string(300_000, 2, "far below").unwrap();
    let read = go(&out.save_to_buffer().unwrap()).unwrap();
    let rows = &read.sheets[0].rows;
    assert_eq!(rows.iter().map(|row| row.number).collect::<Vec<_>>(), [1, 3, 300_001]);
    assert_eq!(rows[0].cells, [Cell::Text("Title".to_owned())]);
    assert_eq!(rows[1].cells, [Cell::Number(Decimal::TWO), Cell::Text("=1+1".to_owned())]);
}

#[test]
fn too_many_columns_are_refused_with_their_row() {
    let mut out = Out::new();
    out.add_worksheet().write_string(4, 200, "x").unwrap();
    let problem = go(&out.save_to_buffer().unwrap()).unwrap_err();
    assert_eq!(problem, ReadProblem::TooManyColumns { sheet: "Sheet1".to_owned(), row: 5 });
}

/// The parts of a workbook with something in it.
fn parts() -> Vec<(String, Vec<u8>)> {
    let mut out = Out::new();
    let sheet = out.add_worksheet();
    for row in 0..20 {
        sheet.write_string(row, 0, format!("text {row}")).unwrap();
        sheet.write_number(row, 1, f64::from(row)).unwrap();
    }
    let bytes = out.save_to_buffer().unwrap();
    let open = Archive::open(&bytes).unwrap();
    open.parts.iter().map(|part| (part.name.clone(), open.unpack(part).unwrap())).collect()
}

fn pack(parts: &[(String, Vec<u8>)]) -> Vec<u8> {
    archive(&parts.iter().map(|(name, body)| (name.as_str(), body.as_slice())).collect::<Vec<_>>())
}

#[test]
fn a_workbook_cut_anywhere_inside_a_part_is_refused() {
    let whole = parts();
    assert_eq!(go(&pack(&whole)).unwrap().sheets[0].rows.len(), 20);
    for (at, (name, body)) in whole.iter().enumerate() {
        for end in (1..body.len()).step_by(body.len() / 12 + 1) {
            let mut cut = whole.clone();
            cut[at].1.truncate(end);
            assert!(matches!(go(&pack(&cut)), Err(ReadProblem::Damaged(_))), "{name} cut at {end}");
        }
    }
}

#[test]
fn a_workbook_with_any_byte_changed_never_stops_the_program() {
    let whole = parts();
    let mut state = 12_345_u32;
    let mut random = |below: usize| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        usize::try_from(state >> 8).unwrap() % below
    };
    for _ in 0..150 {
        let mut changed = whole.clone();
        let part = random(changed.len());
        for _ in 0..3 {
            let at = random(changed[part].1.len());
            changed[part].1[at] = u8::try_from(random(256)).unwrap();
        }
        // Whatever comes out, it comes out.
        let _ = go(&pack(&changed));
    }
}

#[test]
fn entities_are_refused_before_they_grow() {
    let mut bombed = parts();
    let strings = bombed.iter_mut().find(|(name, _)| name == "xl/sharedStrings.xml").unwrap();
    let text = String::from_utf8(strings.1.clone()).unwrap();
    let declared = "<!DOCTYPE sst [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">]><sst";
    strings.1 = text.replacen("<sst", declared, 1).into_bytes();
    let problem = go(&pack(&bombed)).unwrap_err();
    assert!(problem.to_string().contains("document type"), "{problem}");
}

fn ods(content: &str) -> Vec<u8> {
    let content = format!(
        "<office:document-content><office:body><office:spreadsheet>{content}</office:spreadsheet></office:body>\
         </office:document-content>"
    );
    archive(&[
        ("mimetype", b"application/vnd.oasis.opendocument.spreadsheet"),
        ("META-INF/manifest.xml", b"<manifest:manifest></manifest:manifest>"),
        ("content.xml", content.as_bytes()),
    ])
}

#[test]
fn an_open_document_is_read_with_its_repeats() {
    // OpenDocument 1.2 part 1, 19.385 and 19.676 (from memory): value types, and rows and cells that repeat.
    let content = r#"<table:table table:name="Shelf">
        <table:table-row><table:table-cell office:value-type="string"><text:p>Item</text:p></table:table-cell>
        </table:table-row></table:table>"#
        .replace("\n        ", "");
    let read = super::super::read(&ods(&content), "x.ods", &mut |_| Flow::Go).unwrap();
    assert_eq!((read.sheets[0].name.as_str(), read.sheets[0].rows.len()), ("Shelf", 1));
    let rows = concat!(
        r#"<table:table-row table:number-rows-repeated="2"><table:table-cell/></table:table-row>"#,
        r#"<table:table-row><table:table-cell table:number-columns-repeated="2"/>"#,
        r#"<table:table-cell office:value-type="date" office:date-value="2026-03-14"/>"#,
        r#"<table:table-cell office:value-type="float" office:value="12.50"/>"#,
        r#"<table:table-cell office:value-type="boolean" office:boolean-value="true"/></table:table-row>"#,
        r#"<table:table-row table:number-rows-repeated="1048573"><table:table-cell table:number-columns-repeated="16384"/>"#,
        "</table:table-row>",
    );
    let read = go(&ods(&format!("<table:table table:name=\"a\">{rows}</table:table>"))).unwrap();
    let row = &read.sheets[0].rows[0];
    assert_eq!((read.sheets[0].rows.len(), row.number), (1, 3));
    let wanted = [Cell::Empty, Cell::Empty, date(2026, 3, 14), Cell::Number("12.5".parse().unwrap()), Cell::Flag(true)];
    assert_eq!(row.cells, wanted);
}

#[test]
fn an_open_document_that_never_ends_or_repeats_without_end_is_refused() {
    let open = "<table:table table:name=\"a\"><table:table-row><table:table-cell><text:p>a</text:p></table:table-cell>";
    assert!(matches!(go(&ods(open)), Err(ReadProblem::Damaged(_))));
    let row = "<table:table-row table:number-rows-repeated=\"190000\"><table:table-cell \
               table:number-columns-repeated=\"190\" office:value-type=\"float\" office:value=\"1\"/></table:table-row>";
    let many = format!("<table:table table:name=\"a\">{row}</table:table>");
    assert_eq!(go(&ods(&many)), Err(ReadProblem::TooManyCells));
}
