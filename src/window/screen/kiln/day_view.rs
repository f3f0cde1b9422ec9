//! How this kiln day looks: its heat curve with its loads.

use super::{Message, State};
use crate::window::draw::kiln_day::Picture;
use crate::window::widget::{self, link, panel_with};
use iced::Element;
use iced::widget::{canvas, column, row};
use iced::{Alignment, Length};

/// The day of the kiln in hand; nothing where it was not on today.
pub(super) fn panel_of(state: &State) -> Option<Element<'_, Message>> {
    let day = state.day.as_ref()?;
    let picture = canvas(Picture::new(&day.picture, day.version)).width(Length::Fill).height(132);
    let aside = row![widget::small(day.summary.as_str()), link("Kilns").on_press(Message::Kilns)]
        .align_y(Alignment::Center);
    Some(panel_with("This kiln day", "", aside, column![picture]))
}
