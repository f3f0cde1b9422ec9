//! Shelves counted without a display: counts typed down the shelf, differences valued, all accepted in one action, and the
//! count sheet written.
//!
//! The ounce is the avoirdupois ounce of exactly 28.349523125 g (NIST SP 811, appendix B; value from memory of that
//! publication). Other figures are worked out beside each test, by hand.

use super::hands::{Filling, Window, decimal};
use enamelwright::studio::ItemId;
use enamelwright::window::shortcut::{Command, RoomName};

/// Two shelves; on the second one something that bears lead.
fn shelves() -> (Window, [ItemId; 3]) {
    let mut filling = Filling::new();
    let fen = filling.enamel("Fen green", "A2", false, Some(("300", "30")));
    let kelp = filling.enamel("Kelp", "A2", false, Some(("80", "8")));
    let rose = filling.enamel("Old rose", "A10", true, Some(("100", "50")));
    (filling.opened_at(RoomName::Counting), [fen, kelp, rose])
}

fn field(item: ItemId) -> String {
    format!("count-{}", item.0)
}

#[test]
fn differences_are_valued_before_the_shelves_are_accepted_in_one_action() {
    let (mut window, [fen, kelp, rose]) = shelves();
    // The first shelf by its number is on screen.
    assert!(window.sees("Fen green") && window.sees("Kelp") && !window.sees("Old rose"));
    assert!(window.reads("0 of 2 counted"));
    window.type_at(&field(fen), "290");
    // 30.00 / 300 · 10 = 1.00.
    assert!(window.reads("−10 g") && window.sees("−$1.00") && window.reads("1 differs: −$1.00"));
    window.type_at(&field(kelp), "80");
    assert!(window.sees("none") && window.reads("2 of 2 counted"));
    window.press("A10");
    assert!(window.sees("Some of it bears lead") && window.reads("0 of 1 counted; 2 on other shelves"));
    window.type_at(&field(rose), "4 oz");
    // 4 · 28.349523125 = 113.3980925 g; 0.50 · 13.3980925 = 6.69904625.
    assert!(window.reads("= 113.4 g") && window.reads("+13.4 g") && window.sees("+$6.70"));
    assert!(window.reads("2 differ: +$5.70"));
    assert_eq!(window.on_hand(fen), decimal("300"));
    window.type_at("count-note", "Year's end");
    window.press("Accept the count");
    assert_eq!([fen, kelp, rose].map(|id| window.on_hand(id)), ["290", "80", "113.3980925"].map(decimal));
    assert_eq!(window.snapshot().undo.as_deref(), Some("Count 3 items"));
    assert!(window.reads("0 of 1 counted"));
    window.command(Command::Undo);
    assert_eq!([fen, kelp, rose].map(|id| window.on_hand(id)), ["300", "80", "100"].map(decimal));
}

#[test]
fn what_cannot_be_read_is_told_at_its_field_and_nothing_is_counted() {
    let (mut window, [fen, kelp, _]) = shelves();
    window.type_at(&field(fen), "29 stone");
    window.type_at(&field(kelp), "70");
    window.command(Command::Accept);
    assert!(window.reads("\"29 stone\"") && window.sees("29 stone"));
    assert_eq!(window.on_hand(kelp), decimal("80"));
    for _ in 0.." stone".len() {
        window.erase(&field(fen));
    }
    for _ in 0..2 {
        window.erase("count-date");
    }
    window.type_at("count-date", "xx");
    window.command(Command::Accept);
    assert!(window.reads("write the day as year-month-day"));
    assert_eq!(window.on_hand(kelp), decimal("80"));
}

#[test]
fn a_count_of_a_day_gone_by_is_compared_with_that_day() {
    let (mut window, [fen, ..]) = shelves();
    window.type_at(&field(fen), "5");
    for _ in 0.."2026-10-14".len() {
        window.erase("count-date");
    }
    // The day before the lot came in there was nothing.
    window.type_at("count-date", "2025-10-13");
    assert!(window.reads("+5 g") && window.reads("1 differs: $0.00"));
}

#[test]
fn ctrl_z_takes_a_half_typed_count_away_and_leaves_the_book_alone() {
    let (mut window, [fen, ..]) = shelves();
    let before = window.snapshot().undo.clone();
    window.type_at(&field(fen), "29");
    window.command(Command::Undo);
    assert!(window.reads("0 of 2 counted"));
    assert_eq!(window.snapshot().undo, before);
}

#[test]
fn the_count_sheet_is_written_beside_the_book_and_never_over_a_file_unasked() {
    let (mut window, _) = shelves();
    window.press("with what the book says");
    assert!(window.sees("In the book") && window.reads("300 g"));
    let path = window.path("count-sheet.pdf");
    window.press("Save as PDF");
    let bytes = std::fs::read(&path).unwrap();
    assert!(bytes.starts_with(b"%PDF"));
    assert!(window.reads("Saved the count sheet, 1 page"));
    std::fs::write(&path, "a letter").unwrap();
    window.press("Save as PDF");
    assert!(window.reads("is there already"));
    window.press("Not now");
    assert_eq!(std::fs::read(&path).unwrap(), b"a letter");
    window.press("Save as PDF");
    window.press("Replace it");
    assert!(std::fs::read(&path).unwrap().starts_with(b"%PDF"));
}

#[test]
fn at_200_per_cent_the_shelf_is_one_column() {
    let (mut window, _) = shelves();
    for _ in 0..12 {
        window.command(Command::Larger);
    }
    assert!(window.sees("Count") && window.sees("Shelf") && !window.sees("Difference"));
}
