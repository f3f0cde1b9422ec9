use super::*;
use crate::exchange::table::cell::{Cell, Row};

fn sheet(rows: &[&[&str]]) -> Sheet {
    let rows = (1..).zip(rows).map(|(number, cells)| Row {
        number,
        cells: cells.iter().map(|text| Cell::Text((*text).to_owned())).collect(),
    });
    Sheet { name: "x".to_owned(), rows: rows.collect() }
}

fn fields(mapping: &Mapping) -> Vec<(u32, Field)> {
    mapping.columns.iter().map(|mapped| (mapped.column, mapped.field)).collect()
}

#[test]
fn each_field_is_found_under_its_own_heading_and_no_two_share_a_word() {
    for kind in ImportKind::ALL {
        let texts: Vec<String> = kind.fields().iter().map(|field| field.heading().to_owned()).collect();
        let guessed = Mapping::guess(kind, &Heading { row: 1, texts });
        let found: Vec<Field> = guessed.columns.iter().map(|mapped| mapped.field).collect();
        assert_eq!(found, kind.fields(), "{}", kind.name());
        let all: Vec<&str> = kind.fields().iter().flat_map(|field| words::of(*field)).copied().collect();
        let mut once = all.clone();
        once.sort_unstable();
        once.dedup();
        assert_eq!(once.len(), all.len(), "{}", kind.name());
    }
}

#[test]
fn the_row_that_names_the_most_columns_is_the_heading() {
    let sheet = sheet(&[
        &["Shelf A, counted by hand"],
        &["Stock", "", "", "Money"],
        &["Item", "Movement type", "Qty (oz)", "Total cost", "Day"],
        &["EN-1", "receipt", "2", "12.50", "2026-03-14"],
    ]);
    let heading = Heading::find(&sheet).unwrap();
    assert_eq!(heading.row, 3);
    assert_eq!(heading.likely(), ImportKind::Movements);
    let mapping = Mapping::guess(ImportKind::Movements, &heading);
    assert_eq!(
        fields(&mapping),
        [(1, Field::Item), (2, Field::Movement), (3, Field::Quantity), (4, Field::Cost), (5, Field::Date)]
    );
    assert_eq!(mapping.column(Field::Quantity).unwrap().unit, "oz");
    assert_eq!(mapping.missing(), []);
}

#[test]
fn nothing_known_is_no_heading_and_what_is_missing_is_named() {
    assert_eq!(Heading::find(&sheet(&[&["one", "two"], &["1", "2"]])), None);
    let heading = Heading::at(&sheet(&[&["Item", "Note"]]), 1);
    assert_eq!(Mapping::guess(ImportKind::Counts, &heading).missing(), [Field::Quantity]);
}

#[test]
fn a_shape_is_the_same_wherever_the_headings_stand() {
    let one = Heading { row: 1, texts: vec!["Item".to_owned(), "Qty (oz)".to_owned(), String::new()] };
    let two = Heading { row: 4, texts: vec![" item ".to_owned(), "QTY  (oz)".to_owned()] };
    assert_eq!(Shape::of(&one), Shape::of(&two));
    assert_ne!(Shape::of(&one), Shape::of(&Heading { row: 1, texts: vec!["Qty".to_owned(), "Item".to_owned()] }));
}

#[test]
fn a_long_shape_is_kept_short_and_still_differs() {
    let of = |last: &str| {
        let mut texts = vec!["a long heading".to_owned(); 40];
        texts.push(last.to_owned());
        Shape::of(&Heading { row: 1, texts })
    };
    let (one, other) = (of("Qty"), of("Count"));
    assert!(one.fingerprint().chars().count() <= 200);
    assert_ne!(one.fingerprint(), other.fingerprint());
    let short = Shape("item|qty".to_owned());
    assert_eq!(short.fingerprint(), "item|qty");
}

#[test]
fn a_column_is_one_field_and_brings_the_unit_of_its_heading() {
    let heading = Heading { row: 1, texts: vec!["Item".to_owned(), "Weight (oz)".to_owned(), "x (g)".to_owned()] };
    let mut mapping = Mapping::guess(ImportKind::Counts, &heading);
    assert_eq!(fields(&mapping), [(1, Field::Item), (2, Field::Quantity)]);
    mapping.pick(Field::Quantity, Some(3), &heading);
    mapping.pick(Field::Note, Some(2), &heading);
    assert_eq!(fields(&mapping), [(1, Field::Item), (2, Field::Note), (3, Field::Quantity)]);
    assert_eq!(mapping.column(Field::Quantity).unwrap().unit, "g");
    mapping.pick(Field::Item, Some(3), &heading);
    assert_eq!(mapping.missing(), [Field::Quantity]);
    mapping.pick(Field::Note, None, &heading);
    assert_eq!(fields(&mapping), [(3, Field::Item)]);
    assert!(mapping.fits(&heading));
    assert!(!mapping.fits(&Heading { row: 1, texts: vec!["Item".to_owned()] }));
}

#[test]
fn a_mapping_is_kept_as_it_is() {
    let heading = Heading { row: 1, texts: vec!["Item".to_owned(), "Qty (oz)".to_owned()] };
    let mapping = Mapping { days: Some(DayOrder::DayMonthYear), ..Mapping::guess(ImportKind::Counts, &heading) };
    let kept = serde_json::to_string(&mapping).unwrap();
    assert_eq!(serde_json::from_str::<Mapping>(&kept).unwrap(), mapping);
}
