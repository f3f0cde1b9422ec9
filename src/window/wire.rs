//! The rooms on a wire, like beads; the bead one is in is filled.

use super::app::Message;
use super::shared::Shared;
use super::shortcut::RoomName;
use super::theme::{self, Chosen, size, space};
use super::widget::{self, Press};
use iced::widget::canvas::{self, Path, Stroke};
use iced::widget::{Canvas, Column, column, container, row, text};
use iced::{Alignment, Element, Length, Point, Rectangle, Renderer, Size, Theme, mouse};

/// Width of the wire's column, pixels: wide and narrow.
pub(super) const WIDTH: (f32, f32) = (152.0, 116.0);

/// One bead with its piece of the wire.
struct Bead {
    chosen: bool,
    first: bool,
    last: bool,
    /// Apart from the wire: Setup.
    loose: bool,
}

impl<M> canvas::Program<M> for Bead {
    type State = ();

    fn draw(
        &self,
        (): &(),
        renderer: &Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let colors = theme::palette(theme);
        let wire = theme::mix(colors.edge, colors.line, 0.3);
        let mut frame = canvas::Frame::new(renderer, bounds.size());
        let center = Point::new(bounds.width / 2.0, bounds.height / 2.0);
        if !self.loose {
            let top = if self.first { center.y - 24.0_f32.min(center.y) } else { 0.0 };
            let bottom = if self.last { center.y + 24.0_f32.min(center.y) } else { bounds.height };
            frame.fill_rectangle(Point::new(center.x - 1.0, top), Size::new(2.0, bottom - top), wire);
        }
        let (half_width, half_height) = match (self.chosen, self.loose) {
            (true, false) => (12.0, 15.0),
            (false, false) => (7.5, 9.5),
            (true, true) => (9.0, 9.0),
            (false, true) => (5.5, 5.5),
        };
        // A bead stays whole where the wire is short.
        let half_height = f32::min(half_height, bounds.height / 2.0 - 1.0);
        let oval = Path::new(|path| {
            path.ellipse(canvas::path::arc::Elliptical {
                center,
                radii: iced::Vector::new(half_width, half_height),
                rotation: iced::Radians(0.0),
                start_angle: iced::Radians(0.0),
                end_angle: iced::Radians(std::f32::consts::TAU),
            });
        });
        if self.chosen {
            frame.fill(&oval, colors.accent);
        } else {
            frame.fill(&oval, colors.ground);
            frame.stroke(&oval, Stroke::default().with_color(wire).with_width(2.0));
        }
        vec![frame.into_geometry()]
    }
}

/// The wire with the rooms, and under it the find box and the table of keys.
pub(super) fn wire(shared: &Shared, here: RoomName) -> Element<'_, Message> {
    let narrow = shared.is_narrow();
    let tall = shared.size.height >= 620.0;
    // WCAG 2.2, 2.5.8: a target is at least 24 by 24.
    let beads = 10.0;
    let height = ((shared.size.height - 150.0) / beads).clamp(26.0, 62.0);
    let beads = RoomName::BEADS.into_iter().enumerate().map(|(index, room)| {
        let chosen = room == here.bead();
        let loose = room == RoomName::Setup;
        let bead = Bead { chosen, first: index == 0, last: index + 2 == RoomName::BEADS.len(), loose };
        let name = text(room.words()).size(size::BODY).font(if chosen { theme::STRONG } else { theme::REGULAR });
        Press::new(
            row![Canvas::new(bead).width(28.0).height(height), name].spacing(space::ONE).align_y(Alignment::Center),
        )
        .id(room.words())
        .align(Alignment::Start)
        .padding([0.0, space::ONE])
        .width(Length::Fill)
        .height(height)
        .style(theme::bead(Chosen::from(chosen)))
        .on_press(Message::Go(room))
        .into()
    });
    let foot = column![
        foot_button("Find", "Ctrl+G", narrow, Message::OpenFind),
        tall.then(|| foot_button("Keys", "F1", narrow, Message::OpenHelp)),
    ];
    container(column![
        container(widget::strong("Enamelwright")).padding([space::ONE, space::ONE]),
        Column::with_children(beads),
        iced::widget::space::vertical(),
        foot
    ])
    .padding(iced::padding::all(space::ONE).top(space::TWO))
    .width(if narrow { WIDTH.1 } else { WIDTH.0 })
    .height(Length::Fill)
    .into()
}

fn foot_button<'a>(words: &'a str, key: &'a str, narrow: bool, message: Message) -> Element<'a, Message> {
    Press::new(
        row![text(words).size(size::BODY), (!narrow).then(|| widget::small(key))]
            .spacing(space::ONE)
            .align_y(Alignment::Center),
    )
    .align(Alignment::Start)
    .width(Length::Fill)
    .height(theme::TARGET)
    .style(theme::bead(Chosen::No))
    .on_press(message)
    .into()
}
