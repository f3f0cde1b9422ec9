//! How the form of a label sheet looks: its measures, and the page they describe, drawn as they are typed.
#![allow(clippy::cast_possible_truncation)] // millimetres of a page, to be drawn on a screen

use super::message::Message;
use super::preview::place;
use super::sheet_form::{Feature, Measure, SheetForm};
use crate::window::Shared;
use crate::window::theme::{Chosen, palette, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Mark, field, modal, primary, quiet_button};
use iced::widget::canvas::{self, Path, Stroke};
use iced::widget::{Row, column, container};
use iced::{Color, Element, Length, Point, Rectangle, Renderer, Size, Theme, mouse};

/// Height of the drawing, pixels.
const DRAWING: f32 = 220.0;

pub(super) fn form<'a>(form: &'a SheetForm, shared: &'a Shared) -> Element<'a, Message> {
    let name = field("Name", form.name.text())
        .placeholder("e.g. strung tags, cream card")
        .id("sheet-name")
        .on_input(Message::SheetName)
        .on_submit(Message::KeepSheet);
    let measures = Measure::ALL.into_iter().map(|measure| -> Element<'a, Message> {
        field(measure.label(), form.text(measure))
            .hint(measure.unit())
            .error(form.error(measure, &shared.preferences))
            .width(134)
            .figures()
            .on_input(move |text| Message::SheetMeasure(measure, text))
            .on_submit(Message::KeepSheet)
            .into()
    });
    let feature = |words, is: bool, feature| tick(words, Chosen::from(is), Some(Message::SheetFeature(feature)));
    let features = Row::with_children([
        feature("folded at the middle", form.folded, Feature::Folded),
        feature("hole at the left or the fold", form.hole, Feature::Hole),
        feature("lines to cut along", form.cut_lines, Feature::CutLines),
    ])
    .spacing(space::ONE)
    .wrap();
    let drawing = container(canvas::Canvas::new(Drawing { form }).width(Length::Fill).height(Length::Fixed(DRAWING)))
        .width(Length::Fill);
    let problem = form.problem.as_ref().map(|problem| widget::caution_line(Mark::Stop, problem.as_str(), None));
    let body = column![
        Element::from(name),
        Row::with_children(measures).spacing(space::ONE).wrap().vertical_spacing(space::ONE),
        features,
        drawing,
        problem
    ]
    .spacing(space::ONE + space::HALF)
    .padding(iced::padding::right(space::TWO));
    modal::sheet(
        if form.id.is_some() { "Change the sheet" } else { "A sheet of labels" },
        body,
        [
            quiet_button("Leave it").on_press(Message::Close).into(),
            primary("Keep the sheet")
                .on_press_maybe((form.drawn.is_some() && !shared.read_only()).then_some(Message::KeepSheet))
                .into(),
        ],
    )
}

/// The page with its labels.
struct Drawing<'a> {
    form: &'a SheetForm,
}

impl canvas::Program<Message> for Drawing<'_> {
    type State = ();

    fn draw(
        &self,
        (): &(),
        renderer: &Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let Some((sheet, grid)) = &self.form.drawn else { return Vec::new() };
        let colors = palette(theme);
        let geometry = self.form.cache.draw(renderer, bounds.size(), |frame| {
            let (width, height) = (grid.page_width_mm.max(1.0) as f32, grid.page_height_mm.max(1.0) as f32);
            let scale = ((bounds.width - 2.0) / width).min((bounds.height - 2.0) / height);
            frame.translate(iced::Vector::new((bounds.width - width * scale) / 2.0, 1.0));
            let page = Size::new(width * scale, height * scale);
            frame.fill_rectangle(Point::ORIGIN, page, Color::WHITE);
            let line = |width| Stroke::default().with_color(colors.edge).with_width(width);
            frame.stroke(&Path::rectangle(Point::ORIGIN, page), line(1.0));
            for slot in 0..grid.labels() {
                let (corner, size) = place(&grid.rect(slot), scale);
                frame.stroke(&Path::rectangle(corner, size), line(0.8));
                let middle = corner.x + size.width / 2.0;
                if sheet.folded {
                    let fold = Path::line(Point::new(middle, corner.y), Point::new(middle, corner.y + size.height));
                    frame.stroke(&fold, line(0.5));
                }
                if sheet.hole {
                    let radius = (1.4 * scale).max(0.8);
                    let x = if sheet.folded { middle + 3.0 * scale } else { corner.x + 3.0 * scale };
                    let hole = Path::circle(Point::new(x, corner.y + size.height / 2.0), radius);
                    frame.stroke(&hole, line(0.6));
                }
            }
        });
        vec![geometry]
    }
}
