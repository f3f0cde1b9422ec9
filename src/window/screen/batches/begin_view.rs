//! How a batch is begun.

use super::Message;
use super::begin::{Begin, Change, Field};
use crate::window::Shared;
use crate::window::draw::batch_strip::BatchStrip;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Mark, choice, field, link, panel, primary, quiet_button};
use iced::widget::{Column, Row, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(begin: &'a Begin, shared: &'a Shared) -> Element<'a, Message> {
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let head = row![link("‹ Batches").on_press(Message::Close), widget::title("Start a batch")]
        .spacing(space::ONE)
        .align_y(Alignment::Center);
    if begin.options.options().is_empty() {
        let advice = "A batch is made after a design. Write one down first: its route, coats and firings.";
        let to = primary("To the designs").on_press(Message::Designs);
        return container(
            column![head, widget::empty("No design to make", advice, Some(to.into()))].spacing(space::TWO),
        )
        .padding(room)
        .into();
    }
    let content = column![head, form(begin, shared), missing(begin), route(begin)].spacing(space::TWO);
    scrollable(container(content).padding(room)).height(Length::Fill).style(theme::scroll).into()
}

fn form<'a>(begin: &'a Begin, shared: &'a Shared) -> Element<'a, Message> {
    let design =
        choice::pick("Design", &begin.options, "type a few letters of its name", begin.design.as_ref(), |picked| {
            Message::Begin(Change::Design(picked))
        });
    let wrong = begin.design_problem().map(|why| widget::caution_line(Mark::Stop, why, None));
    let refusal = begin.refusal.as_deref().map(|why| {
        widget::caution_line(Mark::Stop, why, Some("Nothing was changed; what you typed is still here.".to_owned()))
    });
    let ready = (!shared.read_only()).then_some(Message::BeginIt);
    panel(
        "What is made",
        "the route of today is kept with it",
        column![
            container(column![design, wrong]).max_width(520),
            Row::with_children([
                typed(begin, Field::Pieces, "Pieces", shared).figures().hint("1 for a commission").width(220).into(),
                typed(begin, Field::Date, "Day it begins", shared).hint("year-month-day").width(220).into(),
            ])
            .spacing(space::TWO)
            .wrap(),
            Element::from(
                typed(begin, Field::Name, "What it is called", shared).placeholder("the design’s name").width(520)
            ),
            Element::from(typed(begin, Field::Note, "Note", shared).placeholder("who it is for, say").width(520)),
            refusal,
            row![primary("Start it").on_press_maybe(ready), quiet_button("Leave it").on_press(Message::Close)]
                .spacing(space::ONE),
        ]
        .spacing(space::TWO),
    )
}

fn missing(begin: &Begin) -> Option<Element<'_, Message>> {
    begin.design.as_ref()?;
    let short = begin
        .short
        .iter()
        .map(|short| widget::caution_line(Mark::Caution, short.name.as_str(), Some(short.told.clone())));
    let told = (!begin.enough.is_empty()).then(|| widget::quiet(begin.enough.as_str()));
    let buy = (!begin.short.is_empty()).then(|| {
        column![
            widget::small("It can be begun all the same: a step that finds too little on the shelf says so."),
            link("Running out: what to buy").on_press(Message::Buying),
        ]
    });
    Some(panel(
        "What it takes from stock",
        "",
        column![Column::with_children(short).spacing(space::ONE), told, buy].spacing(space::ONE),
    ))
}

fn route(begin: &Begin) -> Option<Element<'_, Message>> {
    if begin.strip.is_empty() {
        return None;
    }
    let checks = begin.checks.iter().map(|check| {
        let way = (!check.way_out.is_empty()).then(|| check.way_out.clone());
        widget::caution_line(check.mark, check.what.as_str(), way)
    });
    let calm = begin
        .checks
        .is_empty()
        .then(|| widget::quiet("Nothing stands out: heat, solder, coats and lead were looked at."));
    let always = "Glass dust, heat, flux fumes and pickle are met on every route: the maker’s safety data sheets and local \
                  rules come first.";
    Some(panel(
        "Its route",
        "",
        column![
            BatchStrip::new(&begin.strip),
            Column::with_children(checks).spacing(space::ONE),
            calm,
            widget::small(always)
        ]
        .spacing(space::ONE + space::HALF),
    ))
}

fn typed<'a>(begin: &'a Begin, which: Field, label: &'a str, shared: &Shared) -> widget::Field<'a, Message> {
    field(label, begin.text(which))
        .id(which.id())
        .error(begin.problem(which, &shared.preferences))
        .on_input(move |text| Message::Begin(Change::Typed(which, text)))
        .on_submit(Message::BeginIt)
}
