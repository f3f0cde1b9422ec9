//! Two lines over a count: what a piece costs and what is asked for it, firing after firing.
#![allow(clippy::cast_precision_loss)] // points are few

use super::strip_picture::{measured, words};
use crate::window::theme::{self, Palette, palette};
use iced::widget::canvas::{self, Cache, Frame, Path, Stroke};
use iced::{Color, Event, Point, Rectangle, Theme, mouse};
use std::cell::Cell;

/// One point of the curve; the texts are what is shown, the heights only where it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct CurvePoint {
    /// The count under it.
    pub count: u32,
    /// Height of the lower line.
    pub cost: f32,
    /// Its text.
    pub cost_text: String,
    /// Height of the upper line; none where there is no price.
    pub ticket: Option<f32>,
    /// Its text.
    pub ticket_text: String,
}

/// The two lines with their words.
pub struct Curve<'a, Message> {
    points: &'a [CurvePoint],
    version: u64,
    now: u32,
    ticket_word: &'a str,
    cost_word: &'a str,
    on_count: Box<dyn Fn(u32) -> Message + 'a>,
}

impl<'a, Message> Curve<'a, Message> {
    /// The curve. `version` changes whenever a point or word does; a click on a column chooses its count.
    pub fn new(
        points: &'a [CurvePoint],
        version: u64,
        now: u32,
        words: [&'a str; 2],
        on_count: impl Fn(u32) -> Message + 'a,
    ) -> Self {
        let [ticket_word, cost_word] = words;
        Self { points, version, now, ticket_word, cost_word, on_count: Box::new(on_count) }
    }

    /// Room at the right for the words of the lines.
    fn margin(&self) -> f32 {
        let size = theme::size::SMALL;
        let ticket = measured(self.ticket_word, size, theme::STRONG);
        ticket.max(measured(self.cost_word, size, theme::STRONG)).min(160.0) + 24.0
    }

    fn x_of(&self, index: usize, width: f32, margin: f32) -> f32 {
        let span = (width - margin - 34.0).max(1.0);
        let steps = self.points.len().saturating_sub(1).max(1) as f32;
        34.0 + span * index as f32 / steps
    }

    fn column_at(&self, at: Point, width: f32) -> Option<u32> {
        let margin = self.margin();
        let half = (self.x_of(1, width, margin) - self.x_of(0, width, margin)) / 2.0;
        self.points.iter().enumerate().find_map(|(index, point)| {
            ((self.x_of(index, width, margin) - at.x).abs() <= half.min(40.0)).then_some(point.count)
        })
    }

    fn draw_line(&self, frame: &mut Frame, places: &[(usize, f32)], margin: f32, color: Color, label: (&str, f32)) {
        let width = frame.width();
        let path = Path::new(|builder| {
            for (nth, (index, y)) in places.iter().enumerate() {
                let point = Point::new(self.x_of(*index, width, margin), *y);
                if nth == 0 { builder.move_to(point) } else { builder.line_to(point) }
            }
        });
        frame.stroke(&path, Stroke::default().with_color(color).with_width(2.0));
        for (index, y) in places {
            let Some(point) = self.points.get(*index) else { continue };
            let now = point.count == self.now;
            let radius = if now { 6.0 } else { 3.5 };
            frame.fill(&Path::circle(Point::new(self.x_of(*index, width, margin), *y), radius), color);
        }
        if let Some((index, y)) = places.last() {
            let at = Point::new(self.x_of(*index, width, margin) + 20.0, y + label.1);
            frame.fill_text(words(label.0.to_owned(), at, theme::size::SMALL, color, theme::STRONG));
        }
    }

    fn draw_all(&self, frame: &mut Frame, paint: &Palette) {
        let (top, bottom) = (26.0, frame.height() - 48.0);
        let margin = self.margin();
        let heights = || self.points.iter().flat_map(|point| [Some(point.cost), point.ticket]).flatten();
        let (low, high) = heights().fold((f32::MAX, f32::MIN), |(low, high), value| (low.min(value), high.max(value)));
        if self.points.is_empty() || low > high {
            return;
        }
        let span = (high - low).max(high.abs() * 0.02).max(0.01);
        let y_of = |value: f32| bottom - (value - low) / span * (bottom - top);
        let costs: Vec<(usize, f32)> =
            self.points.iter().enumerate().map(|(index, point)| (index, y_of(point.cost))).collect();
        let tickets: Vec<(usize, f32)> = self
            .points
            .iter()
            .enumerate()
            .filter_map(|(index, point)| point.ticket.map(|ticket| (index, y_of(ticket))))
            .collect();
        let close = matches!((tickets.last(), costs.last()), (Some(t), Some(c)) if (t.1 - c.1).abs() < 20.0);
        self.draw_line(frame, &costs, margin, paint.quiet, (self.cost_word, if close { 2.0 } else { -8.0 }));
        self.draw_line(frame, &tickets, margin, paint.accent, (self.ticket_word, if close { -18.0 } else { -8.0 }));
        let size = theme::size::SMALL;
        let centred = |frame: &mut Frame, text: &str, x: f32, y: f32, color: Color, font| {
            let at = Point::new(x - measured(text, size, font) / 2.0, y);
            frame.fill_text(words(text.to_owned(), at, size, color, font));
        };
        for (index, point) in self.points.iter().enumerate() {
            let x = self.x_of(index, frame.width(), margin);
            let now = point.count == self.now;
            let (font, ink) = if now { (theme::STRONG, paint.ink) } else { (theme::REGULAR, paint.quiet) };
            centred(
                frame,
                &point.cost_text,
                x,
                y_of(point.cost) + 8.0,
                if now { paint.ink } else { paint.quiet },
                font,
            );
            if let Some(ticket) = point.ticket {
                centred(frame, &point.ticket_text, x, y_of(ticket) - 25.0, paint.accent, theme::STRONG);
            }
            centred(frame, &point.count.to_string(), x, frame.height() - 20.0, ink, font);
        }
    }
}

/// What is kept between frames.
#[derive(Debug, Default)]
pub struct Kept {
    cache: Cache,
    drawn: Cell<Option<(u64, bool)>>,
}

impl<Message> canvas::Program<Message> for Curve<'_, Message> {
    type State = Kept;

    fn update(
        &self,
        _state: &mut Kept,
        event: &Event,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> Option<canvas::Action<Message>> {
        let Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left)) = event else { return None };
        let count = self.column_at(cursor.position_in(bounds)?, bounds.width)?;
        Some(canvas::Action::publish((self.on_count)(count)).and_capture())
    }

    fn mouse_interaction(&self, _state: &Kept, bounds: Rectangle, cursor: mouse::Cursor) -> mouse::Interaction {
        match cursor.position_in(bounds).and_then(|at| self.column_at(at, bounds.width)) {
            Some(_) => mouse::Interaction::Pointer,
            None => mouse::Interaction::default(),
        }
    }

    fn draw(
        &self,
        state: &Kept,
        renderer: &iced::Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let paint = palette(theme);
        let drawn = Some((self.version, paint.dark));
        if state.drawn.replace(drawn) != drawn {
            state.cache.clear();
        }
        vec![state.cache.draw(renderer, bounds.size(), |frame| self.draw_all(frame, paint))]
    }
}
