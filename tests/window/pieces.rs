//! The room of finished pieces without a display: searched, opened down to the lot, marked a second, and from a lot
//! forward to its pieces.

use crate::batches::{begun, pendant};
use crate::hands::{Filling, Window};
use enamelwright::window::shortcut::{Command, RoomName};

/// A window on the pieces of a batch of three that was finished.
fn of_three() -> Window {
    let mut filling = Filling::new();
    let (design, _) = pendant(&mut filling, "200");
    begun(&mut filling, design, 3, "");
    let mut window = filling.opened_at(RoomName::Batches);
    window.press("Moss pendant, batch 1");
    for firing in [false, false, true, false, true, false] {
        if firing {
            window.press("Leave the step out");
            window.press("Leave it out");
        } else {
            window.command(Command::Accept);
        }
    }
    window.command(Command::Accept);
    assert!(window.snapshot().batches.is_empty(), "{:?}", window.app.notices());
    window.command(Command::Go(RoomName::Pieces));
    window
}

#[test]
fn a_shelf_without_pieces_says_where_they_come_from() {
    let mut window = Filling::new().opened_at(RoomName::Pieces);
    assert!(window.sees("No finished pieces"));
    window.press("To the batches");
    assert_eq!(window.app.room(), Some(RoomName::Batches));
}

#[test]
fn a_piece_is_found_by_number_and_opens_down_to_its_lot_and_minutes() {
    let mut window = of_three();
    assert!(window.reads("3 pieces finished") && window.reads("Moss pendant, batch 1"));
    window.type_at("piece-find", "moss 2");
    assert!(window.reads("1 of 3 pieces"));
    window.enter("piece-find");
    // 10 min of set-up and 15 min over 3 pieces, then 2, 3 and 1 min each: 8 1/3 at the first step, by hand.
    assert!(window.sees("What it cost") && window.sees("Saw and clean") && window.reads("8.3 min"));
    assert!(window.sees("Moss green") && window.reads("maker’s lot A 7") && window.reads("from Fen Supplies"));
    // From the lot forward to every piece that holds some of it, and to one of them.
    window.press("Moss green");
    assert!(window.reads("3 pieces") && window.sees("Pieces that hold something of it"));
    window.press("‹ Back");
    assert!(window.sees("From these lots"));
    window.press("Batch 1");
    assert_eq!(window.app.room(), Some(RoomName::Batches));
    assert!(window.sees("Step by step"));
}

#[test]
fn a_second_is_marked_with_a_note_and_can_be_undone() {
    let mut window = of_three();
    window.type_at("piece-find", "moss 3");
    window.enter("piece-find");
    window.press("A second: sold as such");
    window.type_at("piece-note", "pit at the rim");
    window.enter("piece-note");
    assert!(window.sees("second"), "{:?}", window.app.notices());
    window.command(Command::Back);
    window.erase("piece-find");
    window.type_at("piece-find", "rim");
    assert!(window.reads("0 of 3 pieces") || window.reads("1 of 3 pieces"));
    window.command(Command::Undo);
    window.command(Command::Undo);
    assert!(!window.sees("second"));
}

/// Writes pictures of the pages into a folder, to be looked at.
#[test]
#[ignore = "writes pictures to look at into the folder named by ENAMELWRIGHT_PICTURES"]
fn pictures_of_pieces() {
    let folder = std::path::PathBuf::from(std::env::var("ENAMELWRIGHT_PICTURES").expect("a folder"));
    let mut window = of_three();
    window.draw(&folder, "pieces", 800.0);
    window.type_at("piece-find", "moss 2");
    window.enter("piece-find");
    window.draw(&folder, "piece", 900.0);
    window.press("Moss green");
    window.draw(&folder, "lot", 800.0);
}
