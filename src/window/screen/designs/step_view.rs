//! The step in hand, open under the strip.

use super::change::{Change, KindOfStep};
use super::field::{Field, RowKey, StepPart};
use super::input::{beside, figure, typed};
use super::page::Page;
use super::page_view::summary;
use super::room::Message;
use crate::measure::{Preferences, display};
use crate::studio::{Side, StepKind};
use crate::window::Shared;
use crate::window::draw::strip::StripEvent;
use crate::window::screen::Destination;
use crate::window::theme::{self, space};
use crate::window::widget::{self, prose};
use iced::widget::{Column, Row, column, container, row};
use iced::{Alignment, Element, Length};

/// The editor of the step in hand.
pub fn view<'a>(page: &'a Page, shared: &'a Shared) -> Element<'a, Message> {
    let Some((key, place, step)) = page.open.step.and_then(|key| {
        let place = page.draft.step_place(key)?;
        Some((key, place, page.draft.content.design.steps.get(place)?))
    }) else {
        return widget::panel("No step in hand", "choose one on the strip", row![]);
    };
    let narrow = shared.is_narrow();
    let last = page.draft.content.design.steps.len().saturating_sub(1);
    let left = place.checked_sub(1).map(|to| Message::Strip(StripEvent::Move { from: place, to }));
    let right = (place < last).then(|| Message::Strip(StripEvent::Move { from: place, to: place + 1 }));
    let tools = Row::with_children([
        widget::link("‹ Move").id("step-left").on_press_maybe(left).into(),
        widget::link("Move ›").id("step-right").on_press_maybe(right).into(),
        widget::link("Add after").id("step-add").on_press(Message::Strip(StripEvent::Add)).into(),
        widget::link("Copy").id("step-copy").on_press(Message::Strip(StripEvent::Copy)).into(),
        widget::link("Take out").id("step-remove").on_press(Message::Strip(StripEvent::Remove)).into(),
        widget::link("Close").id("step-close").on_press(Message::Strip(StripEvent::Toggle)).into(),
    ]);
    let kind = widget::choice("", KindOfStep::ALL, Some(&KindOfStep::of(&step.kind)), move |kind| {
        Message::Change(Change::StepKind(key, kind))
    });
    let part = |part: StepPart| Field::Step(key, part);
    let common = beside(
        vec![
            typed(page, part(StepPart::Name), "Name", "").width(Length::FillPortion(2)).into(),
            figure(page, part(StepPart::Setup), "Set-up", "min a batch"),
            figure(page, part(StepPart::PerPiece), "Bench time", "min a piece"),
            figure(page, part(StepPart::Good), "Leave good", "%"),
        ],
        narrow,
    );
    let own: Option<Element<'a, Message>> = match &step.kind {
        StepKind::Coat(coat) => {
            let sides = [(Side::Front, "Front"), (Side::Back, "Back")];
            let side = widget::choice("Side", sides, Some(&coat.side), move |side| {
                Message::Change(Change::CoatSide(key, side))
            });
            let name = page.rows.coats.get(place).and_then(Option::as_deref).unwrap_or_default();
            let enamel =
                widget::pick("Enamel", &page.enamels, name, None, move |option: super::options::MaterialOption| {
                    Message::Change(Change::CoatEnamel(key, option.id))
                });
            let first = beside(
                vec![
                    side,
                    enamel,
                    figure(page, part(StepPart::Coverage), "Coverage", "of the side"),
                    figure(page, part(StepPart::CoatWeight), "Coat", "mg/cm²"),
                    figure(page, part(StepPart::Overspray), "Overspray", "of what lands"),
                    figure(page, part(StepPart::Reclaimed), "Reclaimed", "of overspray"),
                ],
                narrow,
            );
            Some(column![first, tiles(page, place)].spacing(space::ONE).into())
        }
        StepKind::Fire(_) => {
            let unit = display::temperature_label(&Preferences::from(shared.settings()));
            Some(beside(
                vec![
                    figure(page, part(StepPart::Heat), "Heat", unit),
                    figure(page, part(StepPart::HeatMinutes), "In the heat", "min:s"),
                    figure(page, part(StepPart::PerLoad), "Share a load", "pieces"),
                    figure(page, part(StepPart::Attended), "Attended", "min a load"),
                ],
                narrow,
            ))
        }
        _ => None,
    };
    let title = step_title(place);
    let head = row![prose::strong(title), container(prose::small(summary(page))).width(Length::Fill),]
        .spacing(space::TWO)
        .align_y(Alignment::Center);
    let head: Element<'a, Message> =
        if narrow { column![head, tools.wrap()].into() } else { row![head, tools].align_y(Alignment::Center).into() };
    container(column![head, kind, common, own, uses(page, key, place)].spacing(space::ONE + space::HALF))
        .padding([space::ONE, space::TWO + 2.0])
        .width(Length::Fill)
        .style(crate::window::theme::sheet)
        .into()
}

/// Test tiles of the coat's enamel, with the way to the notebook.
fn tiles(page: &Page, place: usize) -> Option<Element<'_, Message>> {
    let found = page.rows.tiles.get(place).filter(|found| !found.is_empty())?;
    let rows = found.iter().map(|tile| {
        let dot = tile.colour.map(|colour| widget::mark(widget::Mark::Swatch(theme::swatch(colour))));
        row![dot, prose::small(tile.words.as_str())].spacing(space::ONE).align_y(Alignment::Center).into()
    });
    let all = widget::link("Test tiles").on_press(Message::Go(Destination::Tiles));
    Some(row![Column::with_children(rows).width(Length::Fill), all].spacing(space::TWO).into())
}

fn step_title(place: usize) -> String {
    format!("Step {}", place + 1)
}

fn uses(page: &Page, key: RowKey, place: usize) -> Element<'_, Message> {
    let held = page.rows.uses.get(place).map(Vec::as_slice).unwrap_or_default();
    let rows = held.iter().enumerate().map(|(index, (name, unit))| {
        row![
            container(figure(page, Field::Use(key, index), "", "")).width(110),
            prose::small(*unit).width(36),
            prose::body(name.as_str()).width(Length::Fill),
            widget::link("Leave out").on_press(Message::Change(Change::RemoveUse(key, index))),
        ]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
        .into()
    });
    let add = container(widget::pick(
        "Also used for each piece",
        &page.materials,
        "choose a material",
        None,
        move |option: super::options::MaterialOption| Message::Change(Change::AddUse(key, option.id)),
    ))
    .max_width(420);
    column![Column::with_children(rows).spacing(space::HALF), add].spacing(space::ONE).into()
}
