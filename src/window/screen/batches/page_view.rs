//! How the page of a batch looks.

use super::ask::Kind;
use super::page::Page;
use super::work::Work;
use super::{Message, Section, State, account_view, learnt_view, work_view};
use crate::studio::BatchState;
use crate::window::Shared;
use crate::window::draw::batch_strip::BatchStrip;
use crate::window::theme::{self, space};
use crate::window::widget::{self, choice, link, panel, quiet_button};
use iced::widget::{Column, Row, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// The id the strip takes the keyboard under.
pub(super) const STRIP: &str = "batch-strip";

pub(super) fn page<'a>(
    state: &'a State,
    page: &'a Page,
    work: Option<&'a Work>,
    shared: &'a Shared,
) -> Element<'a, Message> {
    let can = !shared.read_only();
    let open = page.state == BatchState::Open;
    let head = column![
        row![link("‹ Batches").on_press(Message::Back), widget::title(page.title.as_str())]
            .spacing(space::ONE)
            .align_y(Alignment::Center),
        widget::quiet(page.sentence.as_str()),
        (!page.note.is_empty()).then(|| widget::body(page.note.as_str())),
    ]
    .spacing(space::HALF);
    let sections = Section::ALL.into_iter().filter(|section| open || *section != Section::Work);
    let sections =
        choice::choice("", sections.map(|section| (section, section.words())), Some(&state.section), Message::Section);
    let more = Row::with_children([
        link("The design").on_press(Message::Design(page.design)).into(),
        link("Put together").on_press_maybe((can && open).then_some(Message::Ask(Kind::Merge))).into(),
        link("Give it up").on_press_maybe((can && open).then_some(Message::Ask(Kind::Abandon))).into(),
    ])
    .wrap();
    let strip = BatchStrip::choosing(STRIP, &page.lane, work.map(|work| work.step), Message::Choose);
    let body: Element<'a, Message> = match state.section {
        Section::Work => at_work(page, work, shared),
        Section::Account => account_view::view(state.account.as_ref(), &state.opened, shared),
        Section::Learnt => learnt_view::view(state.learnt.as_ref(), shared),
        Section::Told => told(page),
    };
    let content = column![
        head,
        strip,
        timers(page, can),
        Row::with_children([sections, more.into()]).spacing(space::TWO).wrap(),
        body
    ]
    .spacing(space::TWO);
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    scrollable(container(content).padding(room)).id("batch-page").height(Length::Fill).style(theme::scroll).into()
}

/// The step in hand and, below, the steps somebody waits for.
fn at_work<'a>(page: &'a Page, work: Option<&'a Work>, shared: &'a Shared) -> Element<'a, Message> {
    let chosen = work.and_then(|work| page.cards.get(work.step).map(|card| (work, card)));
    let hand = chosen.map(|(work, card)| work_view::panel(page, card, work, shared));
    let others = page
        .cards
        .iter()
        .enumerate()
        .filter(|(place, card)| !card.waiting.is_empty() && work.is_none_or(|work| work.step != *place));
    let rows: Vec<Element<'a, Message>> = others
        .map(|(place, card)| {
            row![
                widget::strong(card.name.as_str()).width(Length::Fill),
                widget::small(card.counts.as_str()),
                quiet_button("Work here").on_press(Message::Choose(place)),
            ]
            .spacing(space::TWO)
            .align_y(Alignment::Center)
            .into()
        })
        .collect();
    let elsewhere = (!rows.is_empty())
        .then(|| panel("Elsewhere on the route", "", Column::with_children(rows).spacing(space::ONE)));
    column![hand, elsewhere].spacing(space::TWO).into()
}

fn timers(page: &Page, can: bool) -> Option<Element<'_, Message>> {
    if page.timers.is_empty() {
        return None;
    }
    let rows = page.timers.iter().map(|timer| {
        row![
            widget::strong("Timer runs"),
            widget::body(timer.words.as_str()).width(Length::Fill),
            quiet_button("Stop it").on_press_maybe(can.then_some(Message::Ask(Kind::Stop(timer.id)))),
        ]
        .spacing(space::TWO)
        .align_y(Alignment::Center)
        .into()
    });
    Some(
        container(Column::with_children(rows).spacing(space::HALF))
            .padding([space::ONE, space::TWO])
            .width(Length::Fill)
            .style(theme::sheet)
            .into(),
    )
}

fn told(page: &Page) -> Element<'_, Message> {
    let rows = page.told.iter().map(|line| {
        row![widget::small(line.day.as_str()).width(130), widget::body(line.what.as_str()).width(Length::Fill)]
            .spacing(space::TWO)
            .into()
    });
    panel("What happened", "newest first", Column::with_children(rows).spacing(space::HALF))
}
