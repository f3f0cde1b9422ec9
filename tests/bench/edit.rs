//! One key in a field of a design: the figures alone, and all of it up to the picture.

use crate::measures::{Case, Report, repeated};
use crate::studio::Studio;
use crate::window::{Part, Turn, Window};
use enamelwright::actions;
use enamelwright::costing::costing;
use enamelwright::measure::Preferences;
use enamelwright::studio::BookDesign;
use enamelwright::window::app::Message;
use enamelwright::window::find;
use enamelwright::window::screen::designs::Field;
use enamelwright::window::screen::designs::figures::figures;
use enamelwright::window::shortcut::{Command, RoomName};
use iced::Event;
use iced::keyboard::key::Named;
use iced_test::simulator;
use std::cell::LazyCell;

/// Cost, prices and cautions of the one design, with the studio's figures put in.
const COSTING: Case = Case { name: "edit-costing", target: "<= 1 ms", runs: 15 };
/// All that its page shows: with the curve of firings, the staircase, and everything in words.
const FIGURES: Case = Case { name: "edit-page-figures", target: "<= 1 ms", runs: 15 };
const FRAME: Case = Case { name: "edit-key-to-frame", target: "<= 16 ms", runs: 21 };
const LAID_OUT: Case = Case { name: "edit-key-to-layout", target: "", runs: 21 };
const PAINTED: Case = Case { name: "edit-draw-and-paint", target: "", runs: 21 };

pub(crate) const CASES: &[&Case] = &[&COSTING, &FIGURES, &FRAME, &LAID_OUT, &PAINTED];

pub(crate) fn run(report: &Report, studio: &LazyCell<Studio>) {
    if report.wants_any(&[&COSTING, &FIGURES]) {
        calculation(report, studio);
    }
    if report.wants_any(&[&FRAME, &LAID_OUT, &PAINTED]) {
        keys(report, studio);
    }
}

fn calculation(report: &Report, studio: &Studio) {
    let book = studio.open();
    let snapshot = actions::snapshot(&book).expect("a snapshot");
    let preferences = Preferences::from(&*snapshot.settings);
    let mut edited: BookDesign = snapshot.designs.first().expect("a design").clone();
    // Another number each time, as under a key.
    let edit = |design: &mut BookDesign| design.design.pieces = design.design.pieces % 24 + 1;
    if report.wants(&COSTING) {
        let laps = repeated(&COSTING, 50, || {
            edit(&mut edited);
            let resolved = snapshot.resolved(&edited).expect("figures that can be computed");
            costing(&resolved).expect("a cost")
        });
        report.times(&COSTING, &laps, "cost, three prices, cautions");
    }
    if report.wants(&FIGURES) {
        let mut version = 0;
        let laps = repeated(&FIGURES, 20, || {
            edit(&mut edited);
            version += 1;
            figures(&edited, &snapshot, &preferences, version).expect("figures")
        });
        report.times(&FIGURES, &laps, "and the curve of firings, staircase, words");
    }
}

fn keys(report: &Report, studio: &Studio) {
    let mut window = Window::open(&studio.book());
    window.send(Message::Command(Command::Find));
    window.send(Message::Find(find::Message::Typed("D-0001".to_owned())));
    window.send(Message::Find(find::Message::Enter));
    assert_eq!(window.room(), Some(RoomName::Designs), "the design was not found");
    window.press("Name, notes, photo");
    let _ = window.turn(&[]);
    window.focus(&Field::Pieces.id());
    let typed: Vec<Event> = simulator::typewrite("1").collect();
    let taken: Vec<Event> = simulator::tap_key(Named::Backspace, None).collect();
    let mut turns: Vec<Turn> = Vec::with_capacity(FRAME.runs);
    for run in 0..=FRAME.runs {
        let turn = window.turn(&typed);
        assert!(turn.messages > 0, "the key did not reach the field");
        let back = window.turn(&taken);
        assert!(back.messages > 0, "the key did not reach the field");
        if run > 0 {
            turns.push(turn);
        }
    }
    let all: [(&Case, Part, &str); 3] = [
        (&FRAME, |turn| turn.whole(), "key, figures, view, layout, draw, paint"),
        (&LAID_OUT, |turn| turn.laid_out, "key, figures, view, layout"),
        (&PAINTED, |turn| turn.drawn.and(turn.painted), "whole window"),
    ];
    for (case, part, note) in all.into_iter().filter(|(case, ..)| report.wants(case)) {
        report.times(case, &turns.iter().map(part).collect::<Vec<_>>(), note);
    }
}
