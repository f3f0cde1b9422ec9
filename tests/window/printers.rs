//! The printers without a display: one written down, measured in three steps, put right and taken out.

use super::hands::{Filling, Window, decimal};
use enamelwright::studio::{Correction, Printer};
use enamelwright::window::RoomMessage;
use enamelwright::window::app::Message;
use enamelwright::window::screen::printers;
use enamelwright::window::shortcut::{Command, RoomName};

/// The room of an empty book.
fn opened() -> Window {
    let mut window = Filling::new().opened_at(RoomName::Printers);
    system(&mut window, Ok(vec!["Office_Laser".to_owned(), "tags".to_owned()]));
    window
}

/// What the system answers, whatever this machine has.
fn system(window: &mut Window, told: Result<Vec<String>, String>) {
    window.send(Message::Room(RoomMessage::Printers(printers::Message::System(told))));
}

/// The room with a printer of 600 dots, taken over from the system.
fn with_printer() -> Window {
    let mut window = opened();
    window.press("Write it down");
    window.type_at("printer-dots", "600");
    window.command(Command::Accept);
    window
}

fn printers(window: &Window) -> Vec<Printer> {
    window.snapshot().printers.iter().map(|(_, printer)| printer.clone()).collect()
}

#[test]
fn a_printer_of_the_system_is_written_down_with_its_dots() {
    let mut window = opened();
    assert!(window.sees("No printer yet"));
    // The last of them.
    window.press("Write it down");
    window.command(Command::Accept);
    assert!(window.reads("cannot be read") || window.reads("write"), "what is missing is told");
    window.type_at("printer-dots", "7");
    assert!(window.reads("72 to 4800"));
    window.erase("printer-dots");
    window.type_at("printer-dots", "203");
    window.command(Command::Accept);
    let kept = printers(&window);
    assert_eq!((kept[0].name.as_str(), kept[0].dots_per_inch), ("tags", 203), "{:?}", window.app.notices());
    assert!(window.reads("203 dots per inch · not measured yet"));
    assert!(window.sees("Office_Laser") && window.sees("What is put right"));
    window.press("Change it");
    window.erase("printer-dots");
    window.type_at("printer-dots", "0");
    window.command(Command::Accept);
    assert_eq!(printers(&window)[0].dots_per_inch, 200);
}

#[test]
fn a_computer_without_printers_is_told_plainly() {
    let mut window = opened();
    system(&mut window, Ok(Vec::new()));
    assert!(window.reads("This computer has no printer. Papers are saved as PDF or opened in a viewer."));
    system(&mut window, Err("the printing command lpstat could not be run".to_owned()));
    assert!(window.reads("cannot be asked for its printers") && window.reads("lpstat could not be run"));
}

/// On A4 the page has its cross 10 mm from both edges, its level ruler of 150 mm and its upright one of 200 mm: as
/// printed on it. A printer that puts the cross at 11.2 and 9.6 mm and makes the rulers 149.4 and 200 mm long shrinks by
/// 150 / 149.4 = 1.004016…; it must move 10 − 1.004016 · 11.2 = −1.245 mm to the right and 10 − 9.6 = 0.4 mm down. By hand.
#[test]
fn what_was_measured_is_put_right_and_forgotten() {
    let mut window = with_printer();
    assert!(window.sees("1 · Print the calibration page") && window.reads("Type what you measured"));
    window.command(Command::Accept);
    assert!(printers(&window)[0].corrections.is_empty(), "nothing was measured");
    for (field, text) in [
        ("measured-crossacross", "11.2"),
        ("measured-crossdown", "9.6"),
        ("measured-rulerdown", "200"),
        ("measured-ruleracross", "14"),
    ] {
        window.type_at(field, text);
    }
    assert!(window.reads("level ruler: 14 mm was given"), "and what is accepted");
    window.type_at("measured-ruleracross", "9.4");
    assert!(window.reads("Moved 1.25 mm to the left and 0.4 mm down, stretched by 0.4 % across"));
    assert!(window.reads("times as far off"));
    window.press("Keep it");
    let expected = Correction {
        sheet: None,
        right_mm: decimal("-1.245"),
        down_mm: decimal("0.4"),
        wide: decimal("1.004016"),
        high: decimal("1"),
    };
    assert_eq!(printers(&window)[0].corrections, [expected], "{:?}", window.app.notices());
    assert!(window.reads("measured on one paper") && window.sees("Plain paper"));
    window.press("Forget it");
    assert!(printers(&window)[0].corrections.is_empty());
    window.command(Command::Undo);
    assert_eq!(printers(&window)[0].corrections.len(), 1);
    window.press("Take it out");
    assert!(printers(&window).is_empty() && window.sees("No printer yet"));
    window.command(Command::Undo);
    assert_eq!(printers(&window)[0].corrections, [expected]);
}

#[test]
fn what_is_known_is_typed_outright() {
    let mut window = with_printer();
    window.press("known: type it outright");
    for (field, text) in
        [("measured-right", "-0.5"), ("measured-down", "12"), ("measured-wide", "1"), ("measured-high", "1")]
    {
        window.type_at(field, text);
    }
    assert!(window.reads("Moved 0.5 mm to the left and 12 mm down"));
    window.press("Keep it");
    assert!(window.reads("-8 to 8 mm"), "no printer is so far off");
    window.erase("measured-down");
    window.press("Keep it");
    assert_eq!(printers(&window)[0].corrections[0].down_mm, decimal("1"), "{:?}", window.app.notices());
}

/// The calibration page goes the way every paper goes, for the printer in hand and not put right.
#[test]
fn the_calibration_page_is_saved() {
    let mut window = with_printer();
    assert!(window.reads("600 dots per inch"));
    window.press("Save as PDF");
    let pdf = std::fs::read(window.path("calibration.pdf")).expect("the page");
    let pages = super::pdf_reader::read(&pdf);
    assert_eq!(pages.len(), 1);
    // ISO 216: A4 is 210 by 297 mm.
    let [width, height] = pages[0].size_pt.map(|side| side / 72.0 * 25.4);
    assert!((width - 210.0).abs() < 0.001 && (height - 297.0).abs() < 0.001);
    let said: Vec<&str> = pages[0].texts.iter().map(|(text, _)| text.as_str()).collect();
    assert!(said.contains(&"Calibration page"), "{said:?}");
    assert!(said.iter().any(|line| line.contains("600 dots per inch")), "{said:?}");
}

/// Writes pictures of the pages into a folder, to be looked at.
#[test]
#[ignore = "writes pictures to look at into the folder named by ENAMELWRIGHT_PICTURES"]
fn pictures_of_printers() {
    let mut window = opened();
    window.picture("printers-none-light");
    window.press("Write it down");
    window.picture("printers-form-light");
    window.type_at("printer-dots", "600");
    window.command(Command::Accept);
    window.picture("printers-begun-light");
    for (field, text) in [
        ("measured-crossacross", "11.2"),
        ("measured-crossdown", "9.6"),
        ("measured-rulerdown", "200.8"),
        ("measured-ruleracross", "149.4"),
    ] {
        window.type_at(field, text);
    }
    let folder = std::path::PathBuf::from(std::env::var("ENAMELWRIGHT_PICTURES").expect("a folder"));
    window.draw(&folder, "printers-measured-light", 1400.0);
    window.dark(true);
    window.press("Keep it");
    window.picture("printers-kept-dark");
    for _ in 0..10 {
        window.command(Command::Larger);
    }
    window.type_at("measured-crossacross", "11.2");
    window.draw(&folder, "printers-large-dark", 4800.0);
}
