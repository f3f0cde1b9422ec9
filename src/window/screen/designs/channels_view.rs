//! Channels: on the studio's terms, or on the design's own.

use super::blank_view::close;
use super::change::{Change, KindOfTarget};
use super::field::{BandPart, ChannelPart, Field, RowKey};
use super::hand::Hand;
use super::input::{beside, figure, typed};
use super::page::Page;
use super::page_view::summary;
use super::room::Message;
use super::rows::ChannelRow;
use crate::studio::{Channel, Target};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Press, prose};
use iced::widget::{Column, Row, column, container, row, text};
use iced::{Alignment, Element, Length};

/// The editor of the channels.
pub fn view<'a>(page: &'a Page, shared: &'a Shared) -> Element<'a, Message> {
    let tabs = page.rows.channels.iter().map(|found| {
        let chosen = Chosen::from(page.open.channel == Some(found.key));
        Press::new(text(found.name.as_str()).size(size::BODY))
            .height(theme::TARGET)
            .padding([0.0, space::ONE + space::HALF])
            .style(theme::choice(chosen))
            .on_press(Message::OpenChannel(found.key))
            .into()
    });
    let more = page.rows.more_channels.iter().map(|(id, words)| {
        widget::link(words.as_str()).on_press(Message::Change(Change::AddStudioChannel(id.clone()))).into()
    });
    let own = widget::link("Add one of its own").on_press(Message::Change(Change::AddChannel)).into();
    let tabs = Row::with_children(tabs.chain(more).chain([own])).spacing(space::HALF).wrap();
    let opened = page.rows.channels.iter().find(|found| page.open.channel == Some(found.key));
    let body = column![tabs, opened.map(|found| terms(page, found, shared))].spacing(space::TWO);
    widget::panel_with("Channels", summary(page), close(Hand::Channels), body)
}

fn terms<'a>(page: &'a Page, found: &'a ChannelRow, shared: &'a Shared) -> Element<'a, Message> {
    let key = found.key;
    let follow = tick(
        "On the studio’s terms",
        Chosen::from(found.follows),
        (found.in_studio || found.follows).then_some(Message::Change(Change::FollowChannel(key, !found.follows))),
    );
    let out = widget::link("Take out").on_press(Message::Change(Change::RemoveChannel(key)));
    let head = row![follow, out].spacing(space::TWO);
    let channel = page.draft.channel_place(key).and_then(|place| page.draft.content.design.channels.get(place));
    let body: Element<'a, Message> = match channel {
        Some(channel) if !found.follows => own_terms(page, key, channel, shared),
        _ => {
            column![prose::body(found.terms.as_str()), prose::quiet(found.points.as_str())].spacing(space::HALF).into()
        }
    };
    column![head, body].spacing(space::ONE).into()
}

fn own_terms<'a>(page: &'a Page, key: RowKey, channel: &'a Channel, shared: &'a Shared) -> Element<'a, Message> {
    let narrow = shared.is_narrow();
    let part = |part: ChannelPart| Field::Channel(key, part);
    let first = beside(
        vec![
            typed(page, part(ChannelPart::Name), "Name", "").width(Length::FillPortion(2)).into(),
            figure(page, part(ChannelPart::Commission), "Commission", "of the price"),
            figure(page, part(ChannelPart::CardFee), "Card fee", "of what is paid"),
            figure(page, part(ChannelPart::CardFixed), "Card fee", "a sale"),
            figure(page, part(ChannelPart::Tax), "Tax", "%"),
            figure(page, part(ChannelPart::Selling), "Selling cost", "a piece"),
        ],
        narrow,
    );
    let kinds = [
        (KindOfTarget::Margin, "Margin"),
        (KindOfTarget::Markup, "Markup on cost"),
        (KindOfTarget::Hourly, "Earned an hour"),
    ];
    let (kind, hint) = match channel.target {
        Target::Margin(_) => (KindOfTarget::Margin, "of the price"),
        Target::Markup(_) => (KindOfTarget::Markup, "of full cost"),
        Target::Hourly(_) => (KindOfTarget::Hourly, "an hour"),
    };
    let aim = widget::choice("Aims at", kinds, Some(&kind), move |kind| Message::Change(Change::Target(key, kind)));
    let aim = row![aim, container(figure(page, part(ChannelPart::Target), "At least", hint)).width(160)]
        .spacing(space::TWO)
        .align_y(Alignment::Start);
    let ticks = Row::with_children([
        tick(
            "Takes part in the common ticket",
            Chosen::from(channel.retail),
            Some(Message::Change(Change::Retail(key, !channel.retail))),
        ),
        tick(
            "The ticket includes the tax",
            Chosen::from(channel.tax_in_price),
            Some(Message::Change(Change::TaxInPrice(key, !channel.tax_in_price))),
        ),
    ])
    .spacing(space::TWO)
    .wrap();
    let count = channel.price_points.len();
    let bands = (0..count).map(|index| {
        let field = |part: BandPart| Field::Band(key, index, part);
        let reach: Element<'a, Message> = if index + 1 == count {
            container(prose::quiet(if count == 1 { "Tickets every" } else { "Above, every" }))
                .height(theme::TARGET)
                .align_y(Alignment::Center)
                .width(Length::FillPortion(2))
                .into()
        } else {
            row![prose::quiet("Up to"), figure(page, field(BandPart::UpTo), "", ""), prose::quiet("every")]
                .spacing(space::ONE)
                .align_y(Alignment::Center)
                .width(Length::FillPortion(2))
                .into()
        };
        row![
            reach,
            figure(page, field(BandPart::Step), "", ""),
            prose::quiet("less"),
            figure(page, field(BandPart::Less), "", ""),
            widget::link("Leave out").on_press(Message::Change(Change::RemoveBand(key, index))),
        ]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
        .into()
    });
    let add = widget::link("Add a band of price points").on_press(Message::Change(Change::AddBand(key)));
    let bands =
        container(column![prose::small("Price points"), Column::with_children(bands).spacing(space::HALF), add])
            .max_width(640);
    column![first, aim, ticks, bands].spacing(space::ONE + space::HALF).into()
}
