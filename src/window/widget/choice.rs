//! Choosing one of several.

use super::press::Press;
use super::prose;
use crate::window::theme::{self, Chosen, size, space};
use iced::widget::{ComboBox, column, combo_box, row, text};
use iced::{Element, Length};

/// Few choices (up to six or so) beside each other; each takes the focus, arrows are not needed. The row wraps when
/// it is too long for its place.
pub fn choice<'a, Value, Message>(
    label: &'a str,
    options: impl IntoIterator<Item = (Value, &'a str)>,
    selected: Option<&Value>,
    on_select: impl Fn(Value) -> Message + 'a,
) -> Element<'a, Message>
where
    Value: PartialEq + 'a,
    Message: Clone + 'a,
{
    let buttons = options.into_iter().map(|(value, word)| {
        let chosen = Chosen::from(selected.is_some_and(|selected| *selected == value));
        Press::new(text(word).size(size::BODY).wrapping(text::Wrapping::None))
            .padding([0.0, space::ONE + space::HALF])
            .height(theme::TARGET)
            .style(theme::choice(chosen))
            .on_press(on_select(value))
            .into()
    });
    let buttons = iced::widget::Row::with_children(buttons).spacing(space::HALF).wrap();
    let label = (!label.is_empty()).then(|| text(label).size(size::SMALL).font(theme::STRONG));
    column![label, buttons].spacing(space::HALF).into()
}

/// Many choices: a field that opens into a list and narrows it as one types. `state` is the screen's to keep and holds
/// the options.
pub fn pick<'a, Value, Message>(
    label: &'a str,
    state: &'a combo_box::State<Value>,
    placeholder: &str,
    selected: Option<&Value>,
    on_select: impl Fn(Value) -> Message + 'static,
) -> Element<'a, Message>
where
    Value: std::fmt::Display + Clone + 'static,
    Message: Clone + 'a,
{
    pick_from(label, state, placeholder, selected, on_select, None)
}

/// As [`pick`], with a message when the list is opened: to gather what is in it.
pub fn pick_from<'a, Value, Message>(
    label: &'a str,
    state: &'a combo_box::State<Value>,
    placeholder: &str,
    selected: Option<&Value>,
    on_select: impl Fn(Value) -> Message + 'static,
    on_open: Option<Message>,
) -> Element<'a, Message>
where
    Value: std::fmt::Display + Clone + 'static,
    Message: Clone + 'a,
{
    let mut list = ComboBox::new(state, placeholder, selected, on_select)
        .size(size::BODY)
        .padding([7.0, space::ONE])
        .input_style(theme::input)
        .menu_style(theme::menu)
        .width(Length::Fill);
    if let Some(message) = on_open {
        list = list.on_open(message);
    }
    let label = (!label.is_empty()).then(|| text(label).size(size::SMALL).font(theme::STRONG));
    column![label, list].spacing(space::HALF).into()
}

/// Yes or no, as a box to tick with its sentence.
pub fn tick<'a, Message: Clone + 'a>(
    words: impl text::IntoFragment<'a>,
    ticked: Chosen,
    on_press: Option<Message>,
) -> Element<'a, Message> {
    let sign = if ticked == Chosen::Yes { "×" } else { "" };
    let square = iced::widget::container(text(sign).size(size::LARGE).line_height(1.0).font(theme::STRONG))
        .center(20)
        .style(theme::tag);
    Press::new(row![square, prose::body(words)].spacing(space::ONE).align_y(iced::Alignment::Center))
        .on_press_maybe(on_press)
        .height(theme::TARGET)
        .padding([0.0, space::HALF])
        .style(theme::row(Chosen::No))
        .into()
}
