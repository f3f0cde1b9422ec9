//! How this kiln day looks: its heat curve with its loads, and the three moments of it that are written down by a press.

use super::{Message, Moment, State, words};
use crate::window::Shared;
use crate::window::draw::kiln_day::Picture;
use crate::window::widget::{self, link, panel, panel_with, quiet_button};
use iced::widget::{canvas, column};
use iced::{Element, Length};

/// The day of the kiln in hand; nothing of a torch.
pub(super) fn panel_of<'a>(state: &'a State, shared: &'a Shared) -> Option<Element<'a, Message>> {
    let can = !shared.read_only();
    let press = |label: &'static str, moment: Moment| -> Element<'a, Message> {
        quiet_button(label).on_press_maybe(can.then_some(Message::Mark(moment))).into()
    };
    let Some(day) = &state.day else {
        return state.marks_on(shared).then(|| {
            let words = "It was not switched on today, as far as the log knows.";
            panel("This kiln day", "", column![widget::quiet(words), press("Switched on now", Moment::On)].spacing(8))
        });
    };
    let picture = canvas(Picture::new(&day.picture, day.version)).width(Length::Fill).height(124);
    let mut buttons: Vec<Element<'a, Message>> = Vec::new();
    if day.date == shared.today || state.is_on() {
        match day.written.as_ref().map(|written| (written.day.hot_at, written.day.off_at)) {
            None if state.marks_on(shared) => buttons.push(press("Switched on before that", Moment::On)),
            Some((None, None)) => {
                buttons.push(press("At heat now", Moment::Hot));
                buttons.push(press("Switched off now", Moment::Off));
            }
            Some((Some(_), None)) => buttons.push(press("Switched off now", Moment::Off)),
            _ => {}
        }
    }
    buttons.push(link("Kilns").on_press(Message::Kilns).into());
    // While a load fires the picture is enough: nothing to press by mistake under the timer.
    let buttons = (state.page != super::Page::Firing).then(|| words::buttons(buttons));
    let body = column![picture, buttons].spacing(8);
    Some(panel_with("This kiln day", "", widget::small(day.summary.as_str()), body))
}
