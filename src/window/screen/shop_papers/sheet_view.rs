//! The pages on screen, with what turns them and what could not be printed as asked.
#![allow(clippy::cast_possible_truncation)] // millimetres of a page, to be drawn on a screen

use super::Message;
use super::easel::{Easel, Laid};
use crate::paper::PaperSize;
use crate::window::screen::papers::draw_mark;
use crate::window::theme::{self, palette, space};
use crate::window::widget::{self, Mark, choice, quiet_button};
use iced::widget::canvas::{self, Path, Stroke};
use iced::widget::{Column, column, container, responsive, row, scrollable};
use iced::{Alignment, Color, Element, Length, Point, Rectangle, Renderer, Size, Theme, mouse};

/// A page, drawn to fill its bounds.
struct Sheet<'a>(&'a Laid);

impl canvas::Program<Message> for Sheet<'_> {
    type State = ();

    fn draw(
        &self,
        (): &(),
        renderer: &Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let [width, _] = self.0.size_mm();
        let scale = bounds.width / width;
        let page = self.0.cache.draw(renderer, bounds.size(), |frame| {
            // Paper is white in the dark as well.
            frame.fill_rectangle(Point::ORIGIN, bounds.size(), Color::WHITE);
            for mark in &self.0.marks {
                draw_mark(frame, mark, scale);
            }
            for (rect, handle) in &self.0.pictures {
                let place = Rectangle::new(
                    Point::new(rect.x_mm as f32 * scale, rect.y_mm as f32 * scale),
                    Size::new(rect.width_mm as f32 * scale, rect.height_mm as f32 * scale),
                );
                frame.draw_image(place, canvas::Image::new(handle.clone()));
            }
            let edge = Path::rectangle(Point::ORIGIN, bounds.size());
            frame.stroke(&edge, Stroke::default().with_color(palette(theme).edge).with_width(1.0));
        });
        vec![page]
    }
}

/// The page in hand as large as its place allows, or why there is none.
pub(super) fn pages<'a>(easel: &'a Easel, empty: &'a str) -> Element<'a, Message> {
    match &easel.laid {
        Some(laid) => responsive(move |area| {
            let [width, height] = laid.size_mm();
            let scale = (area.width / width).min(area.height / height);
            let sheet = canvas::Canvas::new(Sheet(laid))
                .width(Length::Fixed((width * scale).max(1.0)))
                .height(Length::Fixed((height * scale).max(1.0)));
            container(sheet).center_x(Length::Fill).into()
        })
        .into(),
        None => {
            let words: Element<'a, Message> = match &easel.problem {
                Some(problem) => widget::caution_line(Mark::Stop, problem.as_str(), None),
                None if easel.at_work => widget::quiet("The pages are being laid out …").into(),
                None if easel.waits => quiet_button("Show the pages").on_press(Message::Turn(0)).into(),
                None => widget::quiet(empty).into(),
            };
            container(words).center(Length::Fill).padding(space::TWO).style(theme::sheet).into()
        }
    }
}

/// The pages with what turns them above, and warnings below.
pub(super) fn turned<'a>(easel: &'a Easel, size: PaperSize, empty: &'a str, height: Length) -> Element<'a, Message> {
    let laid = easel.laid.as_ref();
    let before = laid.and_then(|laid| laid.page.checked_sub(1)).map(Message::Turn);
    let after = laid.filter(|laid| laid.page + 1 < laid.document.pages.len()).map(|laid| Message::Turn(laid.page + 1));
    let words = match laid {
        _ if easel.at_work => "laying out …",
        Some(laid) => laid.turner.as_str(),
        None => "",
    };
    let sizes = choice("", [(PaperSize::A4, "A4"), (PaperSize::LETTER, "Letter")], Some(&size), Message::Size);
    let turner = row![
        quiet_button("‹").on_press_maybe(before),
        container(widget::body(words)).center_x(120),
        quiet_button("›").on_press_maybe(after),
        iced::widget::space().width(Length::Fill),
        sizes,
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    column![turner, container(pages(easel, empty)).height(height), warnings(laid)].spacing(space::ONE).into()
}

fn warnings(laid: Option<&Laid>) -> Option<Element<'_, Message>> {
    let laid = laid.filter(|laid| !laid.warnings.is_empty())?;
    let lines = laid.warnings.iter().map(|words| widget::caution_line(Mark::Caution, words.as_str(), None));
    let body = scrollable(Column::with_children(lines).spacing(2).width(Length::Fill)).style(theme::scroll);
    Some(container(body).max_height(110).padding(space::ONE).width(Length::Fill).style(theme::sheet_caution).into())
}
