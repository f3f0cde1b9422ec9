//! Today: the batches on the bench with their pieces where they wait, what waits for the kiln and what fires, the fair
//! and the days to it, what runs low, prices that no longer hold, cautions that say stop, and what was done last.

mod bench_view;
mod on_bench;
mod today;

use super::{Action, Destination, Room};
use crate::window::desk::Request;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Mark, Press};
use crate::window::{Command, Shared};
use iced::widget::{Column, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// What the room keeps: everything already in words.
#[derive(Debug, Default)]
pub struct State {
    today: today::Today,
    bench: on_bench::OnBench,
}

/// What happens in it.
#[derive(Debug, Clone)]
pub enum Message {
    /// A line was pressed.
    Go(Destination),
    /// Undo the last action.
    Undo,
    /// Do it again.
    Redo,
}

impl Room for State {
    type Message = Message;

    fn new(shared: &Shared) -> Self {
        Self { today: today::Today::of(shared), bench: on_bench::OnBench::of(shared) }
    }

    fn update(&mut self, message: Message, _shared: &Shared) -> Action<Message> {
        match message {
            Message::Go(destination) => Action::Open(destination),
            Message::Undo => Action::Ask(Request::Undo),
            Message::Redo => Action::Ask(Request::Redo),
        }
    }

    fn command(&mut self, command: Command, shared: &Shared) -> Action<Message> {
        match command {
            Command::New if self.bench.can_start && !shared.read_only() => Action::Open(bench_view::new_batch(shared)),
            _ => Action::None,
        }
    }

    fn refresh(&mut self, shared: &Shared) {
        self.today = today::Today::of(shared);
        self.bench = on_bench::OnBench::of(shared);
    }

    fn view<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        let today = &self.today;
        let heading = row![widget::title("Today"), widget::quiet(today.date.as_str())]
            .spacing(space::TWO)
            .align_y(Alignment::End);
        let stops = (!today.stops.is_empty())
            .then(|| widget::panel("Do not go on with these", "", lines(&today.stops, Some(Mark::Stop))));
        let prices = widget::panel(
            "Prices to look at",
            today.prices_note.as_str(),
            if today.prices.is_empty() {
                widget::quiet(today.prices_calm.as_str()).into()
            } else {
                lines(&today.prices, Some(Mark::Caution))
            },
        );
        let low = widget::panel(
            "Running low",
            today.low_note.as_str(),
            if today.low.is_empty() { widget::quiet(today.low_calm.as_str()).into() } else { lines(&today.low, None) },
        );
        let fair = widget::panel(today.fair.as_str(), "", widget::quiet(today.fair_note.as_str()));
        let kiln = bench_view::kiln(&self.bench, shared);
        let (pair, others): (Element<'_, Message>, Element<'_, Message>) = if shared.is_narrow() {
            (column![kiln, low].spacing(space::TWO).into(), column![prices, fair].spacing(space::TWO).into())
        } else {
            (row![kiln, low].spacing(space::THREE).into(), row![prices, fair].spacing(space::THREE).into())
        };
        let page = column![
            heading,
            bench_view::running(&self.bench),
            bench_view::bench(&self.bench, shared),
            stops,
            pair,
            others,
            self.history(shared)
        ]
        .spacing(space::TWO + space::HALF);
        scrollable(container(page).padding(iced::padding::all(space::THREE).left(space::ONE)))
            .height(Length::Fill)
            .style(theme::scroll)
            .into()
    }
}

impl State {
    fn history<'a>(&'a self, shared: &'a Shared) -> Element<'a, Message> {
        let can = !shared.read_only();
        let undo = shared
            .snapshot
            .undo
            .as_ref()
            .filter(|_| can)
            .map(|name| widget::quiet_button(format!("Undo: {name}")).on_press(Message::Undo));
        let redo = shared
            .snapshot
            .redo
            .as_ref()
            .filter(|_| can)
            .map(|name| widget::quiet_button(format!("Redo: {name}")).on_press(Message::Redo));
        let rows = self.today.history.iter().map(|line| {
            row![widget::small(line.detail.as_str()).width(136), widget::body(line.what.as_str()).width(Length::Fill)]
                .spacing(space::TWO)
                .into()
        });
        let body = column![
            (self.today.history.is_empty())
                .then(|| widget::quiet("Nothing yet. Receive a lot in Stock, or write a design down in Designs.")),
            Column::with_children(rows).spacing(space::HALF),
            iced::widget::Row::new().push(undo).push(redo).spacing(space::ONE).wrap()
        ]
        .spacing(space::ONE);
        widget::panel("Done last", "", body)
    }
}

/// Lines that lead somewhere.
fn lines<'a>(lines: &'a [today::Line], mark: Option<Mark>) -> Element<'a, Message> {
    Column::with_children(lines.iter().map(|line| {
        let sign = match (mark, line.swatch) {
            (Some(mark), _) => mark,
            (None, Some(color)) => Mark::Swatch(color),
            (None, None) => Mark::Caution,
        };
        Press::new(
            row![
                widget::mark(sign),
                widget::body(line.what.as_str()).width(Length::Fill),
                widget::small(line.detail.as_str())
            ]
            .spacing(space::ONE)
            .align_y(Alignment::Center),
        )
        .on_press(Message::Go(line.destination.clone()))
        .width(Length::Fill)
        .padding([space::ONE, space::HALF])
        .style(theme::row(Chosen::No))
        .into()
    }))
    .into()
}
