//! A kiln day as a picture: the heat as a curve over the hours, loads as numbered blocks in the colour of their heat.

use crate::window::theme::{self, palette};
use iced::widget::canvas::{self, Cache, Frame, Path, Stroke};
use iced::widget::text::Alignment;
use iced::{Pixels, Point, Rectangle, Size, Theme, mouse};
use std::cell::Cell;

/// A day in minutes after it began.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DayPicture {
    /// The minute of the day it began with, 0 to 1439.
    pub begins_minute: f32,
    /// How long it is.
    pub minutes: f32,
    /// The heat, in order of time.
    pub curve: Vec<DrawnPoint>,
    /// The loads, in order of time.
    pub loads: Vec<DrawnLoad>,
}

/// A point of the heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrawnPoint {
    /// Minutes after the beginning.
    pub minute: f32,
    /// °C.
    pub celsius: f32,
}

/// A load.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnLoad {
    /// Its number on that day, from 1.
    pub number: usize,
    /// Door closed, minutes after the beginning.
    pub from: f32,
    /// Door opened.
    pub to: f32,
    /// °C, for its colour.
    pub celsius: f32,
    /// Its heat in words, written where there is room.
    pub heat: String,
}

/// A day to be drawn; `version` changes whenever the day does.
#[derive(Debug, Clone, Copy)]
pub struct Picture<'a> {
    day: &'a DayPicture,
    version: u64,
}

impl<'a> Picture<'a> {
    /// A picture of a day.
    pub fn new(day: &'a DayPicture, version: u64) -> Self {
        Self { day, version }
    }

    fn draw_all(&self, frame: &mut Frame, colors: &theme::Palette) {
        let (width, height) = (frame.width(), frame.height());
        let day = self.day;
        let span = day.minutes.max(30.0);
        let x = |minute: f32| (minute / span * (width - 24.0)).clamp(0.0, width - 24.0) + 12.0;
        let (top, foot) = (8.0, height - 22.0);
        let lowest = foot - 40.0;
        let hottest = day.curve.iter().map(|point| point.celsius).fold(400.0, f32::max);
        let y = |celsius: f32| lowest - (celsius / hottest).clamp(0.0, 1.0) * (lowest - top);
        self.hours(frame, colors, &x, foot);
        let line = Path::new(|path| {
            for (place, point) in day.curve.iter().enumerate() {
                let at = Point::new(x(point.minute), y(point.celsius));
                if place == 0 { path.move_to(at) } else { path.line_to(at) }
            }
        });
        if day.curve.len() > 1 {
            frame.stroke(&line, Stroke::default().with_color(colors.quiet).with_width(2.0));
        }
        for load in &day.loads {
            let left = x(load.from).min(width - 26.0);
            let wide = (x(load.to) - left).clamp(22.0, (width - left).max(22.0));
            let colour = theme::heat(load.celsius);
            let block = Path::rounded_rectangle(Point::new(left, foot - 34.0), Size::new(wide, 28.0), 4.0.into());
            frame.fill(&block, colour);
            let words = if wide > 90.0 { format!("{} · {}", load.number, load.heat) } else { load.number.to_string() };
            frame.fill_text(canvas::Text {
                content: words,
                position: Point::new(left + wide / 2.0, foot - 28.0),
                color: theme::ink_on(colour),
                size: Pixels(theme::size::SMALL),
                font: theme::STRONG,
                align_x: Alignment::Center,
                ..canvas::Text::default()
            });
        }
    }

    /// Marks of the hours, as many as have room.
    fn hours(&self, frame: &mut Frame, colors: &theme::Palette, x: &dyn Fn(f32) -> f32, foot: f32) {
        let span = self.day.minutes.max(30.0);
        let room = (frame.width() / 90.0).max(1.0);
        let every = [15.0, 30.0, 60.0, 120.0, 180.0, 360.0].into_iter().find(|every| span / every <= room);
        let every = every.unwrap_or(720.0);
        let begins = self.day.begins_minute;
        let mut at = (begins / every).ceil() * every;
        while at <= begins + span {
            let place = x(at - begins);
            let line = Path::line(Point::new(place, foot - 4.0), Point::new(place, foot));
            frame.stroke(&line, Stroke::default().with_color(colors.edge).with_width(1.0));
            frame.fill_text(canvas::Text {
                content: clock(at),
                position: Point::new(place, foot + 3.0),
                color: colors.quiet,
                size: Pixels(theme::size::SMALL),
                font: theme::REGULAR,
                align_x: Alignment::Center,
                ..canvas::Text::default()
            });
            at += every;
        }
    }
}

/// A minute of the day as a time.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // whole minutes of at most three days
fn clock(minute: f32) -> String {
    let minute = minute.max(0.0) as u32 % 1440;
    format!("{:02}:{:02}", minute / 60, minute % 60)
}

/// What is kept between frames.
#[derive(Debug, Default)]
pub struct Kept {
    cache: Cache,
    drawn: Cell<Option<(u64, bool)>>,
}

impl<Message> canvas::Program<Message> for Picture<'_> {
    type State = Kept;

    fn draw(
        &self,
        state: &Kept,
        renderer: &iced::Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let colors = palette(theme);
        let drawn = Some((self.version, colors.dark));
        if state.drawn.replace(drawn) != drawn {
            state.cache.clear();
        }
        vec![state.cache.draw(renderer, bounds.size(), |frame| self.draw_all(frame, colors))]
    }
}
