//! Name, code, pieces of a batch, notes, photo.

use super::blank_view::close;
use super::change::Change;
use super::field::Field;
use super::hand::Hand;
use super::input::{beside, figure, typed};
use super::page::{Page, Photo};
use super::page_view::summary;
use super::room::Message;
use crate::window::Shared;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, prose};
use iced::widget::{Row, column, container, image, row, text_editor};
use iced::{Element, Length};

/// The editor.
pub fn view<'a>(page: &'a Page, shared: &'a Shared) -> Element<'a, Message> {
    let children = page.draft.content.design.for_children;
    let fields = beside(
        vec![
            typed(page, Field::Name, "Name", "").width(Length::FillPortion(3)).into(),
            typed(page, Field::Code, "Code", "1 to 8 letters, figures, -").width(Length::FillPortion(2)).into(),
            figure(page, Field::Pieces, "Pieces", "started in a batch"),
        ],
        shared.is_narrow(),
    );
    let for_children =
        tick("Made for children", Chosen::from(children), Some(Message::Change(Change::ForChildren(!children))));
    let notes = column![
        prose::small("Notes"),
        text_editor(&page.notes)
            .id("design-notes")
            .placeholder("What the next batch should know")
            .height(140)
            .padding(space::ONE)
            .size(size::BODY)
            .style(theme::editor)
            .on_action(Message::Notes)
    ]
    .spacing(space::HALF)
    .width(Length::FillPortion(3));
    let picture: Element<'a, Message> = match &page.photo {
        Photo::Here(handle) => image(handle.clone()).height(150).into(),
        Photo::Coming => prose::quiet("reading the photo").into(),
        Photo::None => prose::quiet("no photo or sketch yet").into(),
        Photo::Broken(problem) => iced::widget::text(problem.as_str()).size(size::BODY).style(theme::stop).into(),
    };
    let writes = |message: Message| (!shared.read_only()).then_some(message);
    let remove = (!matches!(page.photo, Photo::None))
        .then(|| widget::link("Take it away").on_press_maybe(writes(Message::RemovePhoto)).into());
    let buttons = [Some(widget::link("Choose a photo").on_press_maybe(writes(Message::AskPhoto)).into()), remove];
    let photo = column![
        prose::small("Photo or sketch"),
        container(picture).height(150),
        Row::with_children(buttons.into_iter().flatten())
    ]
    .spacing(space::HALF)
    .width(Length::FillPortion(2));
    let lower: Element<'a, Message> = if shared.is_narrow() {
        column![notes.width(Length::Fill), photo.width(Length::Fill)].spacing(space::TWO).into()
    } else {
        row![notes, photo].spacing(space::THREE).into()
    };
    let body = column![fields, for_children, lower].spacing(space::ONE + space::HALF);
    widget::panel_with("Name, notes, photo", summary(page), close(Hand::About), body)
}
