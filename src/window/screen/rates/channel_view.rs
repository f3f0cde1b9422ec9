//! The studio's channels: a list of them, one of them open.

use super::draft::{ChannelRow, Towards};
use super::field::{BandPart, ChannelPart, Field, RowKey, TargetKind};
use super::view::{beside, figure, typed};
use super::words::ChannelWords;
use super::{MOST_ROWS, Message, State};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Mark, Press, choice, link, mark, quiet_button};
use iced::widget::{Column, Row, column, container, row, rule};
use iced::{Alignment, Element, Length};

/// All channels.
pub(super) fn channels<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let rows = state.draft.channels();
    let count = rows.len();
    let list = Column::with_children(rows.iter().enumerate().filter_map(|(place, row)| {
        let words = state.words.channels.get(&row.key)?;
        Some(channel(state, shared, row, words, Place { place, count }))
    }))
    .spacing(space::HALF);
    let none = rows
        .is_empty()
        .then(|| widget::quiet("Nothing is sold anywhere yet: a fair, a gallery on consignment, a web page, shops."));
    let leaving =
        state.words.leaving.iter().map(|sentence| widget::caution_line(Mark::Caution, sentence.as_str(), None));
    let can_add = !shared.read_only() && count < MOST_ROWS;
    let add = quiet_button("Add a channel").on_press_maybe(can_add.then_some(Message::AddChannel));
    let body = column![list, none, Column::with_children(leaving).spacing(space::HALF)].spacing(space::ONE);
    widget::panel_with("Where you sell", "a design follows a channel’s terms until it is given its own", add, body)
}

/// Where a channel stands in the list.
#[derive(Clone, Copy)]
struct Place {
    place: usize,
    count: usize,
}

fn channel<'a>(
    state: &'a State,
    shared: &'a Shared,
    row_of: &'a ChannelRow,
    words: &'a ChannelWords,
    at: Place,
) -> Element<'a, Message> {
    let key = row_of.key;
    let open = state.channel == Some(key);
    let can = !shared.read_only();
    let sign = mark(if open { Mark::Open } else { Mark::Closed });
    let title: Element<'a, Message> = if shared.is_narrow() {
        column![widget::strong(words.name.as_str()), widget::small(words.terms.as_str())].width(Length::Fill).into()
    } else {
        row![widget::strong(words.name.as_str()).width(220), widget::small(words.terms.as_str()).width(Length::Fill)]
            .spacing(space::TWO)
            .align_y(Alignment::Center)
            .into()
    };
    let head = Press::new(row![sign, title].spacing(space::ONE).align_y(Alignment::Center))
        .on_press(Message::OpenChannel(key))
        .width(Length::Fill)
        .padding([space::ONE, space::HALF])
        .style(theme::row(Chosen::from(open)));
    let up = (can && at.place > 0).then_some(Message::MoveChannel(key, Towards::Up));
    let down = (can && at.place + 1 < at.count).then_some(Message::MoveChannel(key, Towards::Down));
    let buttons = Row::with_children([
        link("Up").on_press_maybe(up).into(),
        link("Down").on_press_maybe(down).into(),
        link("Remove").on_press_maybe(can.then_some(Message::RemoveChannel(key))).into(),
    ]);
    let head: Element<'a, Message> = if shared.is_narrow() {
        column![head, buttons.wrap()].into()
    } else {
        row![head, buttons].spacing(space::ONE).align_y(Alignment::Center).into()
    };
    let obstacle = words.obstacle.as_ref().map(|sentence| {
        let way_out = "Ask for less margin, or sell where the fees are lower.".to_owned();
        widget::caution_line(Mark::Stop, sentence.as_str(), Some(way_out))
    });
    let terms = open.then(|| container(terms(state, shared, row_of, words)).padding([space::ONE, space::THREE]));
    let line = open.then(|| rule::horizontal(1).style(theme::hairline));
    column![head, obstacle, terms, line].spacing(space::HALF).into()
}

fn terms<'a>(
    state: &'a State,
    shared: &'a Shared,
    row_of: &'a ChannelRow,
    words: &'a ChannelWords,
) -> Element<'a, Message> {
    let key = row_of.key;
    let can = !shared.read_only();
    let part = |part, label, hint| figure(state, shared, Field::Channel(key, part), label, hint);
    let name = column![
        typed(state, shared, Field::Channel(key, ChannelPart::Name), "Name", "").placeholder("e.g. Craft fair"),
        widget::small(words.known_as.as_str()),
    ]
    .spacing(space::HALF);
    let fees = beside(
        vec![
            part(ChannelPart::Commission, "Commission", "of the price"),
            part(ChannelPart::CardFee, "Card fee", "of what is paid"),
            part(ChannelPart::CardFixed, "and a sale", "an amount"),
            part(ChannelPart::Tax, "Tax", "%"),
            part(ChannelPart::Selling, "Selling cost", "a piece"),
        ],
        shared,
    );
    let ticks = Row::with_children([
        tick(
            "Retail: takes part in the common ticket",
            Chosen::from(row_of.retail),
            can.then_some(Message::Retail(key, !row_of.retail)),
        ),
        tick(
            "The ticket includes the tax",
            Chosen::from(row_of.tax_in_price),
            can.then_some(Message::TaxInPrice(key, !row_of.tax_in_price)),
        ),
    ])
    .spacing(space::TWO)
    .wrap();
    let hint = match row_of.target {
        TargetKind::Margin => "of the price before tax",
        TargetKind::Markup => "of full cost",
        TargetKind::Hourly => "an hour",
    };
    let offered =
        [(TargetKind::Margin, "a margin"), (TargetKind::Markup, "a markup"), (TargetKind::Hourly, "money an hour")];
    // Where nothing can be changed only what holds is shown.
    let offered = offered.into_iter().filter(move |(kind, _)| can || *kind == row_of.target);
    let kinds = choice("Its price must reach", offered, Some(&row_of.target), move |kind| Message::Target(key, kind));
    let target = row![kinds, container(part(ChannelPart::Target, "of at least", hint)).width(220)]
        .spacing(space::TWO)
        .align_y(Alignment::Start)
        .wrap();
    let tax = widget::caution_line(
        Mark::Caution,
        "Tax rates and rules are local",
        Some(
            "Which tax a sale bears, and whether the ticket must include it, depends on where you sell: ask a licensed \
             professional."
                .to_owned(),
        ),
    );
    column![name, fees, ticks, target, points(state, shared, row_of, words), tax]
        .spacing(space::ONE + space::HALF)
        .into()
}

fn points<'a>(
    state: &'a State,
    shared: &'a Shared,
    row_of: &'a ChannelRow,
    words: &'a ChannelWords,
) -> Element<'a, Message> {
    let key = row_of.key;
    let can = !shared.read_only();
    let count = row_of.bands.len();
    let bands =
        row_of.bands.iter().enumerate().map(|(place, band)| band_row(state, shared, key, *band, (place, count)));
    let every = row_of.bands.is_empty().then(|| widget::quiet("Any amount can be a ticket, to the smallest coin."));
    let add = link("Add a band").on_press_maybe(can.then_some(Message::AddBand(key)));
    let example = row![
        container(
            typed(state, shared, Field::Channel(key, ChannelPart::Example), "", "").placeholder("a price").figures()
        )
        .width(110),
        container(widget::body(words.example.as_str())).height(theme::TARGET).align_y(Alignment::Center),
    ]
    .spacing(space::TWO)
    .align_y(Alignment::Start);
    container(
        column![
            widget::strong("Price points"),
            widget::small("a price is raised to the next of these"),
            Column::with_children(bands).spacing(space::HALF),
            every,
            add,
            example,
        ]
        .spacing(space::HALF),
    )
    .max_width(680)
    .into()
}

fn band_row<'a>(
    state: &'a State,
    shared: &'a Shared,
    key: RowKey,
    band: RowKey,
    (place, count): (usize, usize),
) -> Element<'a, Message> {
    let part = |part| figure(state, shared, Field::Band(key, band, part), "", "");
    let word = |words: &'static str| container(widget::quiet(words)).height(theme::TARGET).align_y(Alignment::Center);
    let reach: Element<'a, Message> = if place + 1 == count {
        word(if count == 1 { "tickets every" } else { "above, every" }).width(Length::FillPortion(2)).into()
    } else {
        row![word("up to"), part(BandPart::UpTo), word("every")]
            .spacing(space::ONE)
            .align_y(Alignment::Start)
            .width(Length::FillPortion(2))
            .into()
    };
    row![
        reach,
        part(BandPart::Step),
        word("less"),
        part(BandPart::Less),
        link("Remove").on_press_maybe((!shared.read_only()).then_some(Message::RemoveBand(key, band))),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Start)
    .into()
}
