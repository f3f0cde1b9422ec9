//! A sheet over the page that wants an answer first.

use super::footed::footed;
use super::prose;
use crate::window::theme::{self, space};
use iced::advanced::widget::{Id, operate, operation};
use iced::widget::{column, container, mouse_area, opaque, scrollable, stack};
use iced::{Element, Length, Task};

/// The container every modal lies in; the focus stays inside it while it is open.
pub const MODAL: &str = "modal";

/// Widest a modal is, and one that has a drawing beside its fields, pixels.
const WIDE: f32 = 640.0;
const MOST_WIDE: f32 = 1080.0;

/// The page with a modal over it, or alone. The shape of the tree is the same either way, so that the page keeps its
/// scroll offsets and cursors. `on_away` is what pressing beside the modal means.
pub fn modal<'a, Message: Clone + 'a>(
    page: impl Into<Element<'a, Message>>,
    over: Option<Element<'a, Message>>,
    on_away: Message,
) -> Element<'a, Message> {
    let layer = over.map(|content| {
        let sheet = container(content).id(MODAL).padding(space::THREE).max_width(MOST_WIDE).style(theme::sheet);
        opaque(
            mouse_area(container(opaque(sheet)).center(Length::Fill).padding(space::THREE).style(theme::veil))
                .on_press(on_away),
        )
    });
    stack![container(page).width(Length::Fill).height(Length::Fill), layer].into()
}

/// What usually lies in a modal: a heading, a body that scrolls when it is long, and buttons at the foot, the safest
/// first.
pub fn sheet<'a, Message: Clone + 'a>(
    title: impl Into<String>,
    body: impl Into<Element<'a, Message>>,
    buttons: impl IntoIterator<Item = Element<'a, Message>>,
) -> Element<'a, Message> {
    // Of this width where the window has it: a body that fills would have the frame as wide as one with a drawing.
    container(wide(title, body, buttons)).width(WIDE - 2.0 * space::THREE).into()
}

/// As [`sheet`], as wide as its body.
pub fn wide<'a, Message: Clone + 'a>(
    title: impl Into<String>,
    body: impl Into<Element<'a, Message>>,
    buttons: impl IntoIterator<Item = Element<'a, Message>>,
) -> Element<'a, Message> {
    let body = column![prose::large(title.into()), scrollable(body).spacing(space::HALF).style(theme::scroll)];
    footed(body.spacing(space::TWO), iced::widget::Row::with_children(buttons).spacing(space::ONE).wrap())
}

/// Takes the focus away from the page and gives it to the first thing in the modal.
pub fn enter<Message: Send + 'static>() -> Task<Message> {
    operate(operation::focusable::unfocus())
        .chain(operate(operation::scope(Id::new(MODAL), operation::focusable::focus_next())))
}
