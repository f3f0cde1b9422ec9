//! A long list under the wheel: the room of stock with every item of the book.

use crate::measures::{Case, Lap, Report};
use crate::studio::Studio;
use crate::window::{Part, Turn, Window};
use enamelwright::window::app::Message;
use enamelwright::window::shortcut::{Command, RoomName};
use iced::mouse::{self, ScrollDelta};
use iced::{Event, Point};
use std::cell::LazyCell;

const FRAME: Case = Case { name: "scroll-frame", target: "<= 16 ms", runs: 31 };
const LAID_OUT: Case = Case { name: "scroll-view-and-layout", target: "", runs: 31 };
const DRAWN: Case = Case { name: "scroll-draw", target: "", runs: 31 };
const PAINTED: Case = Case { name: "scroll-paint", target: "", runs: 31 };
const MOVED: Case = Case { name: "mouse-move", target: "<= 0.5 ms", runs: 31 };

pub(crate) const CASES: &[&Case] = &[&FRAME, &LAID_OUT, &DRAWN, &PAINTED, &MOVED];

/// In the middle of the list.
const OVER_THE_LIST: Point = Point::new(640.0, 480.0);

pub(crate) fn run(report: &Report, studio: &LazyCell<Studio>) {
    if !report.wants_any(CASES) {
        return;
    }
    let mut window = Window::open(&studio.book());
    window.send(Message::Command(Command::Go(RoomName::Stock)));
    window.cursor = mouse::Cursor::Available(OVER_THE_LIST);
    // The first picture tells the list its height.
    let _ = window.turn(&[]);
    if report.wants_any(&[&FRAME, &LAID_OUT, &DRAWN, &PAINTED]) {
        let notch = Event::Mouse(mouse::Event::WheelScrolled { delta: ScrollDelta::Lines { x: 0.0, y: -1.0 } });
        let turns: Vec<Turn> = (0..=FRAME.runs).map(|_| window.turn(std::slice::from_ref(&notch))).skip(1).collect();
        assert!(turns.iter().all(|turn| turn.messages > 0), "the wheel did not scroll the list");
        let note = format!("{} texts on the page", window.texts());
        let all: [(&Case, Part, &str); 4] = [
            (&FRAME, |turn| turn.whole(), &note),
            (&LAID_OUT, |turn| turn.laid_out, "event, update, view, layout"),
            (&DRAWN, |turn| turn.drawn, ""),
            (&PAINTED, |turn| turn.painted, "whole window; with the copy of the picture a display does not need"),
        ];
        for (case, part, note) in all.into_iter().filter(|(case, ..)| report.wants(case)) {
            report.times(case, &turns.iter().map(part).collect::<Vec<_>>(), note);
        }
    }
    if report.wants(&MOVED) {
        let moves = |run: usize| {
            let to = if run.is_multiple_of(2) { OVER_THE_LIST } else { Point::new(650.0, 560.0) };
            window.cursor = mouse::Cursor::Available(to);
            window.turn(&[Event::Mouse(mouse::Event::CursorMoved { position: to })]).laid_out
        };
        let laps: Vec<Lap> = (0..=MOVED.runs).map(moves).skip(1).collect();
        report.times(&MOVED, &laps, "handling alone, from row to row");
    }
}
