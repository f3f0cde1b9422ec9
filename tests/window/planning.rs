//! A kiln day planned without a display: the loads, the bound beside them, a load moved by hand, the first one begun.

use super::hands::decimal;
use super::kiln::{batch, clock, with_kiln};
use enamelwright::window::shortcut::{Command, RoomName};

#[test]
fn the_loads_of_a_day_are_planned_and_the_first_is_begun_with_its_pieces_picked() {
    let (mut filling, _) = with_kiln();
    // Ten pieces of 9 cm² fill the shelf of 90; each is fired at 780 and 770 °C, which lie within 10 °C of each other.
    batch(&mut filling, "LN-DROP", "Lantern drop", 10, None);
    let mut window = filling.opened_by(RoomName::KilnPlan, clock());
    assert!(window.reads("2 loads"), "{:?}", window.app.notices());
    assert!(window.reads("No plan"), "a bound stands beside it");
    assert!(window.sees("10 Lantern drop · Base firing") && window.sees("10 Lantern drop · Gloss firing"));
    // The gloss firing cannot come before the base firing.
    window.press("Later ›");
    assert!(window.sees("It cannot be moved there:"));
    window.press("Begin this load (B)");
    assert_eq!(window.app.room(), Some(RoomName::Kiln));
    assert!(window.sees("10 pieces") && window.reads("90.00 cm² of 90.00 cm²"));
    window.command(Command::Accept);
    let firing = &window.snapshot().firing;
    assert_eq!(firing.len(), 1, "{:?}", window.app.notices());
    assert!(firing[0].load.set_celsius >= decimal("770") && firing[0].load.set_celsius <= decimal("790"));
}

#[test]
fn a_piece_is_taken_out_of_its_load_and_put_into_another() {
    let (mut filling, _) = with_kiln();
    batch(&mut filling, "LN-DROP", "Lantern drop", 5, None);
    let mut window = filling.opened_by(RoomName::KilnPlan, clock());
    assert!(window.reads("2 loads") && window.sees("Pieces of load 1"), "{:?}", window.app.notices());
    window.press("Lantern drop 3 · Base firing");
    window.press("A load of its own before this one");
    assert!(window.reads("3 loads") && window.sees("1 Lantern drop · Base firing"));
    assert!(window.sees("4 Lantern drop · Base firing") && window.reads("By hand:"));
    // It is still in hand, in its own load: back to the others, now the second load.
    window.press("Into load 2");
    assert!(window.reads("2 loads") && window.sees("5 Lantern drop · Base firing"));
    // A gloss firing cannot come with the base firing it follows.
    window.press("5 Lantern drop · Gloss firing");
    window.press("Lantern drop 2 · Gloss firing");
    window.press("Into load 1");
    assert!(window.sees("It cannot be moved there:") && window.reads("2 loads"));
    window.press("A load of its own after this one");
    assert!(window.reads("3 loads"));
    window.press("As it was found");
    assert!(window.reads("2 loads") && !window.reads("By hand:"));
}

#[test]
fn without_a_kiln_it_says_what_to_do_first() {
    let filling = super::hands::Filling::new();
    let window = filling.opened_by(RoomName::KilnPlan, clock());
    assert!(window.sees("No kiln to plan for") && window.sees("Write a kiln down"));
}
