use super::*;
use crate::exchange::table::cell::Cell;
use crate::exchange::table::columns::DecimalMark;
use crate::exchange::table::dates::DayOrder;
use crate::measure::{Decimal, Unit};
use crate::studio::{ItemDetails, ItemKind};

fn text(text: &str) -> Cell {
    if text.is_empty() { Cell::Empty } else { Cell::Text(text.to_owned()) }
}

fn sheet(rows: &[&[&str]]) -> Sheet {
    let rows =
        (1..).zip(rows).map(|(number, cells)| Row { number, cells: cells.iter().map(|one| text(one)).collect() });
    Sheet { name: "x".to_owned(), rows: rows.collect() }
}

fn look(sheet: &Sheet, kind: ImportKind, change: impl Fn(&mut Mapping)) -> Preview {
    let heading = Heading::find(sheet).unwrap();
    let mut mapping = Mapping::guess(kind, &heading);
    change(&mut mapping);
    preview(sheet, &heading, &mapping, Currency::USD, None)
}

fn lines(preview: Preview) -> Vec<Line> {
    assert_eq!(preview.problems, []);
    match preview.found {
        Found::Lines(lines) => lines,
        Found::Items(_) => panic!("items"),
    }
}

fn said(preview: &Preview) -> Vec<String> {
    preview.problems.iter().map(ToString::to_string).collect()
}

#[test]
fn a_movement_file_is_read_line_by_line() {
    let sheet = sheet(&[
        &["date", "item", "movement", "quantity", "unit", "cost", "note"],
        &["2026-03-14", "EN-1", "receipt", "1/4", "lb", "18.40", "first"],
        &["2026-03-14", "EN-1", "Used", "12.5 g", "", "", ""],
        &["", "", "", "", "", "", ""],
        &["2026-03-15", "EN-1", "write off", "1,250.5", "", "", ""],
    ]);
    let found = lines(look(&sheet, ImportKind::Movements, |_| ()));
    let texts: Vec<[String; 7]> = found.iter().map(Line::texts).collect();
    assert_eq!(
        texts,
        [
            ["2026-03-14", "EN-1", "receipt", "1/4", "lb", "18.4", "first"],
            ["2026-03-14", "EN-1", "issue", "12.5", "g", "", ""],
            ["2026-03-15", "EN-1", "write-off", "1250.5", "", "", ""],
        ]
        .map(|row| row.map(str::to_owned))
    );
    assert_eq!(found.iter().map(|line| line.row).collect::<Vec<_>>(), [2, 3, 5]);
}

#[test]
fn every_problem_is_told_with_its_row_and_column() {
    let sheet = sheet(&[
        &["date", "item", "movement", "quantity", "unit"],
        &["04/03/2026", "EN-1", "receipt", "1", ""],
        &["2026-03-14", "", "borrowed", "many", ""],
        &["2026-03-14", "EN-1", "", "1 oz", "g"],
        &["2026-03-14", "EN-1", "count", "-1", "jugs"],
    ]);
    let looked = look(&sheet, ImportKind::Movements, |_| ());
    assert!(!looked.is_whole());
    assert_eq!(looked.found.count(), 0);
    let said = said(&looked);
    let starts = [
        "row 2, column A (date): \"04/03/2026\" may be 4 March 2026 or 3 April 2026",
        "row 3, column B (item): nothing stands there",
        "row 3, column C (movement): \"borrowed\" stands there",
        "row 3, column D (quantity): ",
        "row 4, column C (movement): nothing stands there",
        "row 4, column D (quantity): \"1 oz\" is in oz, and the unit beside it is g",
        "row 5, column E (unit): \"jugs\" is not a unit known here",
    ];
    assert_eq!(said.len(), starts.len(), "{said:#?}");
    for (said, start) in said.iter().zip(starts) {
        assert!(said.starts_with(start), "{said}");
    }
}

#[test]
fn the_order_of_days_and_the_decimal_mark_are_chosen() {
    let sheet = sheet(&[&["day", "ref", "qty", "total"], &["04/03/2026", "EN-1", "1.234", "1.234,50"]]);
    let undecided = look(&sheet, ImportKind::Receipts, |_| ());
    assert!(said(&undecided)[0].contains("choose whether the day or the month"), "{:?}", said(&undecided));
    let chosen = look(&sheet, ImportKind::Receipts, |mapping| {
        mapping.days = Some(DayOrder::DayMonthYear);
        mapping.numbers = DecimalMark::Comma;
    });
    let said = said(&chosen);
    assert!(said.len() == 1 && said[0].starts_with("row 2, column C (quantity)"), "1.234 may be two numbers: {said:?}");
}

#[test]
fn cells_of_a_workbook_are_taken_as_they_are() {
    let mut sheet = sheet(&[&["Date", "Item", "Qty (oz)", "Unit price"], &["", "", "", ""]]);
    let number = |text: &str| Cell::Number(text.parse::<Decimal>().unwrap());
    sheet.rows[1].cells = vec![
        Cell::Date(NaiveDate::from_ymd_opt(2026, 3, 14).unwrap()),
        number("7"),
        number("0.30000000000000004"),
        number("2.5"),
    ];
    let looked = look(&sheet, ImportKind::Receipts, |mapping| mapping.numbers = DecimalMark::Comma);
    assert_eq!(looked.remarks, [], "what computing left of 0.3 is not worth a word");
    let line = &lines(looked)[0];
    assert_eq!((line.item.as_str(), line.quantity.as_str(), line.unit.as_str()), ("7", "0.3", "oz"));
    assert_eq!(line.cost, Money::new(Decimal::new(75, 2)));
    sheet.rows[1].cells[2] = number("0.333333333333333");
    let looked = look(&sheet, ImportKind::Receipts, |_| ());
    assert!(looked.remarks[0].to_string().contains("finer than can be kept; 0.333333333 is taken"));
    sheet.rows[1].cells[2] = Cell::Fault("#REF!".to_owned());
    sheet.rows[1].cells[0] = number("45000");
    let said = said(&look(&sheet, ImportKind::Receipts, |_| ()));
    assert!(said[0].contains("45000 is a number, not a day") && said[1].contains("#REF! stands there"), "{said:?}");
}

#[test]
fn a_count_without_days_is_of_the_day_chosen() {
    let sheet = sheet(&[&["item", "counted (g)"], &["EN-1", "250"]]);
    let heading = Heading::find(&sheet).unwrap();
    assert_eq!(heading.likely(), ImportKind::Counts);
    let mapping = Mapping::guess(ImportKind::Counts, &heading);
    let day = NaiveDate::from_ymd_opt(2026, 3, 31);
    let looked = preview(&sheet, &heading, &mapping, Currency::USD, day);
    assert_eq!(looked.shown, [(2, vec!["EN-1".to_owned(), "250 g".to_owned()])]);
    assert_eq!(lines(looked)[0].date, day.unwrap());
    let dayless = preview(&sheet, &heading, &mapping, Currency::USD, None);
    assert!(said(&dayless)[0].contains("choose the day"), "{:?}", said(&dayless));
}

#[test]
fn items_are_read_with_what_their_kind_needs() {
    let sheet = sheet(&[
        &["Ref", "Name", "Type", "Gauge", "Metal", "Size", "Min", "Lead"],
        &["SH-1", "Plain sheet", "sheet", "20 ga", "copper", "6 x 12 in", "2", ""],
        &["EN-1", "Fen green", "powder", "", "", "", "50", "yes"],
        &["en-1", "Again", "", "", "", "", "", ""],
        &["WI-1", "Wire", "wire", "", "", "", "", "perhaps"],
        &["CO-1", "Binder", "", "18", "", "", "", ""],
    ]);
    let looked = look(&sheet, ImportKind::Items, |_| ());
    let said = said(&looked);
    let starts = [
        "row 4, column A (reference): \"en-1\" stands in row 3 too",
        "row 5, column D (thickness): nothing stands there",
        "row 5, column H (bears lead): \"perhaps\" stands there; yes or no is accepted",
    ];
    assert_eq!(said.len(), starts.len(), "{said:#?}");
    for (said, start) in said.iter().zip(starts) {
        assert!(said.starts_with(start), "{said}");
    }
    assert!(looked.remarks[0].to_string().starts_with("row 6, column D (thickness): it is left out"));
    let Found::Items(items) = looked.found else { panic!("lines") };
    let (rows, items): (Vec<u32>, Vec<Item>) = items.into_iter().unzip();
    assert_eq!(rows, [2, 3, 6]);
    // NIST SP 811, appendix B: 1 in is 25.4 mm (from memory).
    let size = Some([Decimal::new(1524, 1), Decimal::new(3048, 1)]);
    assert!(matches!(items[0].details, ItemDetails::Sheet { size_mm, .. } if size_mm == size), "{:?}", items[0]);
    assert_eq!((items[1].details.kind(), items[1].unit, items[1].lead_bearing), (ItemKind::Enamel, Unit::Gram, true));
    assert_eq!(items[2].unit, Unit::Each);
}

#[test]
fn a_column_that_is_needed_is_asked_for_once() {
    let sheet = sheet(&[&["item", "note"], &["EN-1", "x"], &["EN-2", "y"]]);
    let looked = look(&sheet, ImportKind::Counts, |_| ());
    assert_eq!(said(&looked), ["row 1: no column is picked for quantity"]);
    let heading = Heading::find(&sheet).unwrap();
    let names = labels(&heading, &Mapping::guess(ImportKind::Counts, &heading));
    assert_eq!(
        (names[0].as_str(), names[1].as_str(), names[6].as_str()),
        ("date", "column A (item)", "column B (note)")
    );
}
