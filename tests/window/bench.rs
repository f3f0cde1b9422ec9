//! The bench page without a display: batches as strips, what is next, what waits for the kiln, and what to do first.

use crate::batches::{begun, pendant};
use crate::hands::Filling;
use enamelwright::window::shortcut::{Command, RoomName};

#[test]
fn an_empty_bench_says_what_to_do_first() {
    let mut window = Filling::new().opened_at(RoomName::Bench);
    assert!(window.sees("On the bench") && window.reads("Write a design down first"));
    window.press("To the designs");
    assert_eq!(window.app.room(), Some(RoomName::Designs));
}

#[test]
fn ctrl_n_on_the_bench_starts_a_batch_of_the_only_design() {
    let mut filling = Filling::new();
    let _ = pendant(&mut filling, "200");
    let mut window = filling.opened_at(RoomName::Bench);
    assert!(window.reads("Start a batch: some pieces of a design"));
    window.command(Command::New);
    assert_eq!(window.app.room(), Some(RoomName::Batches));
    assert!(window.sees("Start a batch") && window.reads("Everything it takes from stock"));
}

#[test]
fn a_strip_says_what_is_next_and_opens_its_batch() {
    let mut filling = Filling::new();
    let (design, _) = pendant(&mut filling, "200");
    begun(&mut filling, design, 6, "");
    let mut window = filling.opened_at(RoomName::Bench);
    // Set-up 10 min and 6 × 5 min, by hand.
    assert!(window.reads("next: saw and clean, about 40 min") && window.reads("batch 1 · 6 started"));
    assert!(window.sees("No piece waits for the kiln."));
    window.press("Moss pendant");
    assert_eq!(window.app.room(), Some(RoomName::Batches));
    window.command(Command::Accept);
    window.press("Lost");
    window.press("chipped");
    window.press("They are lost");
    assert!(window.reads("No piece is tapped"));
    window.press("4");
    window.press("They are lost");
    window.command(Command::Undo);
    window.command(Command::Accept);
    window.command(Command::Go(RoomName::Bench));
    assert!(window.reads("6 wait for the kiln"), "{:?}", window.app.notices());
    assert!(window.sees("6 Moss pendant") && window.reads("the first firing"));
    window.press("6 Moss pendant");
    assert_eq!(window.app.room(), Some(RoomName::Kiln));
    window.command(Command::Go(RoomName::Bench));
    window.press("Plan the kiln day");
    assert_eq!(window.app.room(), Some(RoomName::KilnPlan));
}

#[test]
fn a_loss_stands_beside_the_strip() {
    let mut filling = Filling::new();
    let (design, _) = pendant(&mut filling, "200");
    begun(&mut filling, design, 3, "");
    let mut window = filling.opened_at(RoomName::Batches);
    window.press("Moss pendant, batch 1");
    window.press("None");
    window.press("2");
    window.press("Lost");
    window.press("dropped");
    window.press("They are lost");
    window.command(Command::Go(RoomName::Bench));
    assert!(window.reads("1 dropped at Saw and clean") && window.reads("3 started, 1 lost"));
}
