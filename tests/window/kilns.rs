//! The kilns without a display: one written down by typing, what follows from its three measurements, a day, the wear of
//! its parts, energy by time of day.
//!
//! By the lumped-capacity model (kiln and batch method, section 1; any heat-transfer textbook) a kiln of 2.8 kW that is on
//! half of the time at 800 °C in a room of 20 °C loses 0.5 · 2.8 / 780 kW/K: it would hold up to 20 + 2.8 / 0.001795 =
//! 1580 °C, so that the maker's 1000 °C are the ceiling; an hour at 800 °C takes 1.4 kWh, warming up 2.8 · 45 / 60 = 2.1.
//! Worked by hand.

use super::hands::Filling;
use super::kiln::{clock, with_kiln};
use enamelwright::studio::HeatSource;
use enamelwright::window::app::Message;
use enamelwright::window::shortcut::{Command, RoomName};

#[test]
fn three_measurements_give_what_a_kiln_can_do() {
    let mut window = Filling::new().opened_by(RoomName::Kilns, clock());
    assert!(window.sees("No kiln yet"));
    window.command(Command::New);
    window.command(Command::Accept);
    assert!(window.reads("it needs a name"));
    for (field, text) in [
        ("kiln-name", "Fen"),
        ("kiln-power", "2.8"),
        ("kiln-warmup", "45"),
        ("kiln-working", "800 C"),
        ("kiln-duty", "50 %"),
        ("kiln-rated", "1000 C"),
        ("kiln-shelf", "90"),
    ] {
        window.type_at(field, text);
    }
    window.command(Command::Accept);
    let snapshot = window.snapshot();
    assert_eq!(snapshot.kilns.len(), 1, "{:?}", window.app.notices());
    assert!(window.reads("the maker's rated maximum"));
    assert!(window.reads("2.10 kWh") && window.reads("1.40 kWh"), "warm-up and an hour of holding");
}

#[test]
fn a_day_is_written_down_and_parts_are_renewed() {
    let (filling, kiln) = with_kiln();
    let mut window = filling.opened_by(RoomName::Kilns, clock());
    window.press("Write a day down");
    for (field, text) in [("kiln-day-on", "9:00"), ("kiln-day-hot", "9:45"), ("kiln-day-off", "10:45")] {
        window.type_at(field, text);
    }
    window.command(Command::Accept);
    // 45 min warming up at 2.8 kW are 2.1 kWh, an hour at 800 °C takes 1.4: by hand.
    assert!(window.reads("3.50 kWh"), "{:?}", window.app.notices());
    assert!(window.reads("hot hours since 2026-01-01"));
    window.press("Renewed today");
    let HeatSource::Electric(electric) = &window.snapshot().kiln(kiln).unwrap().kiln.heat else { panic!() };
    assert_eq!(electric.thermocouple_since.to_string(), "2026-10-14");
    assert!(window.reads("1 of at least 4 days") || window.reads("0 of at least 4 days"));
}

#[test]
fn energy_by_time_of_day_is_kept_with_the_rates() {
    let (filling, _) = with_kiln();
    let mut window = filling.opened_by(RoomName::Kilns, clock());
    window.press("Energy by time of day");
    window.press("Another band");
    for (field, text) in
        [("tariff-name-1", "night"), ("tariff-from-1", "22:00"), ("tariff-to-1", "6:00"), ("tariff-price-1", "0.11")]
    {
        window.type_at(field, text);
    }
    window.press("Sun");
    window.command(Command::Accept);
    let rates = &window.snapshot().rates;
    assert_eq!(rates.tariff.len(), 1, "{:?}", window.app.notices());
    assert_eq!((rates.tariff[0].name.as_str(), rates.tariff[0].days.len()), ("night", 6));
}

/// Writes pictures of the pages into a folder, to be looked at.
#[test]
#[ignore = "writes pictures to look at into the folder named by ENAMELWRIGHT_PICTURES"]
fn pictures_of_kilns() {
    let (filling, _) = with_kiln();
    let mut window = filling.opened_by(RoomName::Kilns, clock());
    window.press("Write a day down");
    for (field, text) in [("kiln-day-on", "9:00"), ("kiln-day-hot", "9:45"), ("kiln-day-off", "15:20")] {
        window.type_at(field, text);
    }
    window.picture("kilns-day-light");
    window.command(Command::Accept);
    window.picture("kilns-light");
    window.send(Message::System(iced::theme::Mode::Dark));
    for _ in 0..10 {
        window.command(Command::Larger);
    }
    window.picture("kilns-large-dark");
    for _ in 0..10 {
        window.command(Command::Smaller);
    }
    window.press("Change it");
    window.picture("kilns-form-dark");
    window.command(Command::Back);
    window.send(Message::System(iced::theme::Mode::Light));
    window.press("Energy by time of day");
    window.press("Another band");
    window.picture("tariff-light");
}
