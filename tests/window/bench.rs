//! The bench page without a display: batches as strips, what is next, what waits for the kiln, and what to do first.

use crate::batches::{begun, pendant};
use crate::hands::{Filling, decimal, now};
use enamelwright::actions::{Action, Added, NewBatch, StepDone, StepMaterials, StepMinutes};
use enamelwright::studio::{BatchId, Charged, HeatSource, Kiln, Load, PieceId};
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

#[test]
fn a_piece_behind_the_door_is_told_and_left_alone() {
    let mut filling = Filling::new();
    let (design, _) = pendant(&mut filling, "200");
    let date = now().date();
    let batch = NewBatch { design, name: String::new(), pieces: 1, date, note: String::new() };
    let Some(Added::Batch(batch)) = filling.perform(Action::StartBatch(batch)) else { panic!("no batch") };
    for step in 0..2 {
        done(&mut filling, batch, step);
    }
    let torch = Kiln { name: "Bench torch".to_owned(), heat: HeatSource::Torch, note: String::new(), retired: false };
    let Some(Added::Kiln(kiln)) = filling.perform(Action::SaveKiln { id: None, kiln: torch }) else {
        panic!("no kiln")
    };
    // A disc of 25 mm lies in a square of 2.5 × 2.5 cm.
    filling.perform(Action::CloseDoor(Load {
        kiln,
        closed_at: now(),
        opened_at: None,
        set_celsius: decimal("790"),
        read_celsius: None,
        asked_minutes: decimal("2.5"),
        attended_minutes: None,
        charge: vec![Charged { piece: PieceId(1), batch, step: 2, area_cm2: decimal("6.25"), result: None }],
        override_words: String::new(),
        note: String::new(),
    }));
    let mut window = filling.opened_at(RoomName::Bench);
    assert!(window.reads("In the fire: 1 piece in Bench torch") && window.sees("1 in the kiln"));
    assert!(window.sees("No piece waits for the kiln."));
    window.press("Moss pendant");
    assert!(window.reads("1 in the kiln: the door is closed on them"));
    // Nothing can be chosen: nothing is done.
    window.press("1");
    window.command(Command::Accept);
    assert!(window.app.notices().is_empty());
}

fn done(filling: &mut Filling, batch: BatchId, step: usize) {
    filling.perform(Action::DoStep(StepDone {
        batch,
        step,
        pieces: vec![PieceId(1)],
        date: now().date(),
        minutes: StepMinutes::AsPlanned,
        materials: StepMaterials::AsPlanned,
        lost: Vec::new(),
    }));
}
