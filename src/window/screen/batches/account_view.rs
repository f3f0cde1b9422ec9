//! How what a batch cost looks.

use super::account_words::{Account, Pair, PieceLine};
use super::{Message, Opened};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Mark, Press, explain, link, mark, panel, panel_with};
use iced::widget::{Column, column, container, row};
use iced::{Alignment, Element, Length};
use std::collections::BTreeSet;

pub(super) fn view<'a>(
    account: Option<&'a Account>,
    opened: &'a BTreeSet<Opened>,
    shared: &'a Shared,
) -> Element<'a, Message> {
    let Some(account) = account else { return widget::quiet("Adding it up …").into() };
    let left = column![sum(account), why(account, opened), losses(account)].spacing(space::TWO);
    let right = steps(account, opened, shared);
    let upper: Element<'a, Message> = if shared.is_narrow() {
        column![left, right].spacing(space::TWO).into()
    } else {
        row![container(left).width(Length::FillPortion(4)), container(right).width(Length::FillPortion(5))]
            .spacing(space::THREE)
            .into()
    };
    column![upper, pieces(account, opened)].spacing(space::TWO).into()
}

fn sum(account: &Account) -> Element<'_, Message> {
    let lines = account.parts.iter().map(|line| {
        row![widget::body(line.what.as_str()).width(Length::Fill), widget::amount(line.amount.as_str())]
            .spacing(space::TWO)
            .into()
    });
    panel_with(
        "What it cost",
        "",
        widget::large(account.cost.as_str()),
        column![widget::quiet(account.sentence.as_str()), Column::with_children(lines).spacing(space::HALF),]
            .spacing(space::ONE),
    )
}

fn losses(account: &Account) -> Option<Element<'_, Message>> {
    if account.losses.is_empty() {
        return None;
    }
    let lines = account.losses.iter().map(|words| widget::body(words.as_str()).into());
    Some(panel("Lost", "", Column::with_children(lines).spacing(space::HALF)))
}

fn why<'a>(account: &'a Account, opened: &BTreeSet<Opened>) -> Option<Element<'a, Message>> {
    if account.variances.is_empty() {
        return None;
    }
    let parts = account.variances.iter().enumerate().map(|(place, of)| {
        let line = Opened::Variance(place);
        let open = Chosen::from(opened.contains(&line));
        let meaning = container(widget::small(of.meaning)).padding(iced::padding::left(space::THREE + 2.0));
        column![explain(of.name, of.amount.as_str(), open, &of.lines, Message::Open(line)), meaning].into()
    });
    Some(panel(
        "Why it was not as planned",
        "",
        column![
            widget::body(account.difference.as_str()),
            Column::with_children(parts).spacing(space::HALF),
            widget::small("The four add up to the whole difference; above zero, it cost more."),
        ]
        .spacing(space::ONE),
    ))
}

fn pieces<'a>(account: &'a Account, opened: &BTreeSet<Opened>) -> Option<Element<'a, Message>> {
    if account.pieces.is_empty() {
        return None;
    }
    let rows = account.pieces.iter().enumerate().map(|(place, piece)| of_piece(place, piece, opened));
    Some(panel("Each piece", "equal shares, and what is its own", Column::with_children(rows)))
}

fn of_piece<'a>(place: usize, piece: &'a PieceLine, opened: &BTreeSet<Opened>) -> Element<'a, Message> {
    let line = Opened::Piece(place);
    let open = opened.contains(&line);
    let to = (open && piece.finished).then(|| link("Its page").on_press(Message::Piece(piece.id)));
    column![
        explain(piece.name.as_str(), piece.cost.as_str(), Chosen::from(open), &piece.lines, Message::Open(line)),
        to
    ]
    .into()
}

/// Width of a figure's column.
const FIGURE: f32 = 104.0;

fn steps<'a>(account: &'a Account, opened: &BTreeSet<Opened>, shared: &Shared) -> Element<'a, Message> {
    let figure = if shared.is_narrow() { 92.0 } else { FIGURE };
    let head = row![
        widget::small("").width(Length::Fill),
        container(widget::small("planned")).width(figure).align_x(Alignment::End),
        container(widget::small("actual")).width(figure).align_x(Alignment::End),
    ]
    .spacing(space::ONE);
    let rows = account.steps.iter().enumerate().map(|(place, pair)| {
        let line = Opened::Step(place);
        let open = opened.contains(&line);
        let sign = if open { Mark::Open } else { Mark::Closed };
        let top = Press::new(pair_row(pair, figure, Some(sign)))
            .on_press(Message::Open(line))
            .width(Length::Fill)
            .height(theme::TARGET)
            .padding(0.0)
            .style(theme::row(Chosen::No));
        let inner = open.then(|| {
            container(Column::with_children(pair.lines.iter().map(|pair| pair_row(pair, figure, None))))
                .padding(iced::padding::left(space::THREE).bottom(space::ONE))
        });
        column![top, inner].into()
    });
    panel(
        "Step by step",
        "planned for the pieces put in",
        column![head, Column::with_children(rows)].spacing(space::HALF),
    )
}

fn pair_row(pair: &Pair, figure: f32, sign: Option<Mark>) -> Element<'_, Message> {
    let cell = |words: &str| {
        let words = words.to_owned();
        let words = if sign.is_some() { widget::amount(words) } else { widget::small(words) };
        container(words).width(figure).align_x(Alignment::End)
    };
    let name: Element<'_, Message> =
        if sign.is_some() { widget::body(pair.name.as_str()).into() } else { widget::small(pair.name.as_str()).into() };
    row![sign.map(mark), container(name).width(Length::Fill), cell(&pair.planned), cell(&pair.actual)]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
        .into()
}
