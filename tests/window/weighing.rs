//! Jars on the scale without a display: a jar, what it shows, the next; differences seen before they are accepted.
//!
//! The ounce is the avoirdupois ounce of exactly 28.349523125 g (NIST SP 811, appendix B; value from memory of that
//! publication). Other figures are worked out beside each test, by hand.

use super::hands::{Filling, Window, decimal, quantity};
use enamelwright::actions::Action;
use enamelwright::studio::{ItemId, Jar};
use enamelwright::window::shortcut::{Command, RoomName};

/// Three enamels, one of them in two jars that were never weighed, one of them bearing lead.
fn shelf() -> (Window, [ItemId; 3]) {
    let mut filling = Filling::new();
    let fen = filling.enamel("Fen green", "A1", false, Some(("300", "30")));
    let rose = filling.enamel("Old rose", "A1", true, Some(("100", "50")));
    let lagoon = filling.enamel("Lagoon", "A2", false, None);
    for (item, label, tare) in
        [(fen, "A1-01", "200"), (rose, "A1-02", "150"), (lagoon, "A2-01", "180"), (lagoon, "A2-02", "180")]
    {
        let jar = Jar { item, label: label.to_owned(), tare: quantity(tare), retired: false };
        filling.perform(Action::SaveJar { id: None, jar });
    }
    (filling.opened_at(RoomName::Weighing), [fen, rose, lagoon])
}

#[test]
fn a_jar_its_weight_and_enter_and_the_difference_is_seen_before_it_is_accepted() {
    let (mut window, [fen, ..]) = shelf();
    // Enter in the empty field takes the next jar of the shelf.
    assert!(window.reads("A1-01, Fen green") && window.reads("tare 200 g; never weighed"));
    window.enter("weighing-jar");
    window.type_at("weighing-gross", "490");
    // 490 − 200 = 290 g, of 300; 30.00 / 300 · 10 = 1.00.
    assert!(window.reads("290 g in it, −10 g"));
    window.enter("weighing-gross");
    assert!(window.reads("1 jar on the list, 3 to go") && window.reads("A1-02, Old rose"));
    assert!(window.sees("−$1.00") && window.reads("−10 g") && window.reads("300 g"));
    assert!(!window.sees("large"));
    assert_eq!(window.on_hand(fen), decimal("300"));
    window.press("Accept what they weigh");
    assert_eq!(window.on_hand(fen), decimal("290"));
    assert!(window.reads("4 jars on the shelves"));
    window.command(Command::Undo);
    assert_eq!(window.on_hand(fen), decimal("300"));
}

#[test]
fn a_large_difference_is_marked_and_asks_for_its_cause() {
    let (mut window, [_, rose, _]) = shelf();
    window.type_at("weighing-jar", "ro");
    assert!(window.reads("A1-02, Old rose") && window.sees("What is in this jar bears lead"));
    window.enter("weighing-jar");
    window.type_at("weighing-gross", "6 oz");
    window.enter("weighing-gross");
    assert!(window.sees("large") && window.sees("lead"));
    window.command(Command::Accept);
    assert!(window.reads("a large difference has a cause"));
    assert_eq!(window.on_hand(rose), decimal("100"));
    window.type_at("weighing-cause", "spilled");
    window.enter("weighing-cause");
    // 6 · 28.349523125 − 150.
    assert_eq!(window.on_hand(rose), decimal("20.09713875"));
    assert!(!window.sees("large"));
}

#[test]
fn what_cannot_be_is_told_at_its_field() {
    let (mut window, _) = shelf();
    window.type_at("weighing-jar", "zinc");
    window.enter("weighing-jar");
    assert!(window.reads("no jar answers to \"zinc\""));
    window.command(Command::Back);
    assert!(!window.reads("no jar answers") && window.app.room() == Some(RoomName::Weighing));
    window.type_at("weighing-jar", "a1-01");
    window.type_at("weighing-gross", "100");
    window.enter("weighing-gross");
    assert!(window.reads("100 g is less than the empty jar, 200 g: weigh it again, or mend its tare"));
    // What was typed is still there.
    assert!(window.sees("100"));
}

#[test]
fn a_reading_is_taken_back_and_a_second_one_takes_the_place_of_the_first() {
    let (mut window, _) = shelf();
    window.type_at("weighing-gross", "490");
    window.enter("weighing-gross");
    window.type_at("weighing-jar", "A1-01");
    assert!(window.reads("on the list with 490 g, a new weight takes its place"));
    window.type_at("weighing-gross", "480");
    window.enter("weighing-gross");
    assert!(window.reads("1 jar on the list") && window.sees("−$2.00") && !window.sees("−$1.00"));
    window.press("Take it back");
    assert!(window.reads("4 jars on the shelves") && !window.sees("−$2.00"));
}

#[test]
fn an_item_in_jars_that_were_never_weighed_waits_for_all_of_them() {
    let (mut window, [_, _, lagoon]) = shelf();
    window.type_at("weighing-jar", "A2-01");
    window.type_at("weighing-gross", "230");
    window.enter("weighing-gross");
    assert!(window.reads("Lagoon waits for A2-02: never weighed, so weigh it too"));
    window.press("Accept what they weigh");
    assert_eq!(window.on_hand(lagoon), decimal("0"));
    // The next jar by label is the one it waits for. 50 g and 12.5 g where the book has none: large.
    window.type_at("weighing-gross", "192.5");
    window.enter("weighing-gross");
    assert!(!window.reads("waits for") && window.reads("62.5 g"));
    window.type_at("weighing-cause", "first weighing");
    window.enter("weighing-cause");
    assert_eq!(window.on_hand(lagoon), decimal("62.5"));
    // Now one of the two is enough: the other counts as it weighed before.
    window.type_at("weighing-jar", "A2-01");
    window.type_at("weighing-gross", "220");
    window.enter("weighing-gross");
    assert!(window.reads("with A2-02 as weighed before") && window.reads("52.5 g"));
    window.press("Jars and tares");
    assert!(window.sees("2026-10-14") && window.sees("never"));
}

#[test]
fn jars_are_written_down_one_after_another() {
    let (mut window, [fen, ..]) = shelf();
    window.command(Command::New);
    window.type_at("jar-item", "fen");
    assert!(window.reads("Fen green, FEN-GREEN"));
    window.enter("jar-item");
    window.type_at("jar-label", "B1-09");
    window.enter("jar-tare");
    assert!(window.reads("nothing is typed"));
    window.type_at("jar-tare", "8 oz");
    window.enter("jar-tare");
    let jar = window.snapshot().jars.iter().find(|jar| jar.jar.label == "B1-09").unwrap().jar.clone();
    // 8 · 28.349523125.
    assert_eq!((jar.item, jar.tare.amount()), (fen, decimal("226.796185")));
    assert!(window.reads("Jar B1-09 is written down") && window.sees("B1-10"));
    // A label that is taken is refused in the form, and what was typed stays.
    window.type_at("jar-item", "rose");
    for _ in 0.."B1-10".len() {
        window.erase("jar-label");
    }
    window.type_at("jar-label", "A1-01");
    window.type_at("jar-tare", "100");
    window.enter("jar-tare");
    assert!(window.reads("Label: A1-01 is taken") && window.sees("100"));
    window.command(Command::Back);
    assert!(!window.sees("A new jar"));
    window.press("Jars and tares");
    assert!(window.sees("B1-09") && window.sees("It held then"));
}

#[test]
fn at_200_per_cent_the_scale_is_one_column() {
    let (mut window, _) = shelf();
    for _ in 0..12 {
        window.command(Command::Larger);
    }
    assert!(window.sees("Weigh in") && window.sees("Jar") && window.sees("Weight with the jar"));
    assert!(!window.sees("Expected"));
}
