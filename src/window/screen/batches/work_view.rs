//! How the step in hand looks: its pieces to tap, the time, the materials, the losses, and the button.

use super::ask::Kind;
use super::ask_view::causes;
use super::page::{Card, CardKind, Page, Waiting};
use super::read::net;
use super::work::{Change, Field, Line, TakenBy, Tap, TimeBy, Work};
use super::{Doing, Message};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::{self, Mark, Press, choice, field, link, primary, quiet_button};
use iced::widget::{Column, Row, column, container, row, text};
use iced::{Alignment, Element, Length};

pub(super) fn panel<'a>(page: &'a Page, card: &'a Card, work: &'a Work, shared: &'a Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    let none = work.free.is_empty();
    let body: Element<'a, Message> = match card.kind {
        _ if none && card.waiting.is_empty() => column![widget::quiet("No piece waits here.")].into(),
        CardKind::Fire => column![dots(card, work, can), fire(can, work)].spacing(space::TWO).into(),
        CardKind::Finish => finish(page, card, work, shared),
        CardKind::Work => by_hand(page, card, work, shared),
    };
    let cautions = card.cautions.iter().map(|check| {
        let way = (!check.way_out.is_empty()).then(|| check.way_out.clone());
        widget::caution_line(check.mark, check.what.as_str(), way)
    });
    let refusal = work.refusal.as_deref().map(|why| {
        widget::caution_line(Mark::Stop, why, Some("Nothing was changed; what you typed is still here.".to_owned()))
    });
    let detail =
        if card.detail.is_empty() { card.counts.clone() } else { format!("{} · {}", card.detail, card.counts) };
    widget::panel(
        card.name.as_str(),
        detail,
        column![Column::with_children(cautions).spacing(space::HALF), body, refusal].spacing(space::TWO),
    )
}

/// Every piece that waits, as a dot to tap.
fn dots<'a>(card: &'a Card, work: &'a Work, can: bool) -> Element<'a, Message> {
    let dots = card.waiting.iter().map(|waiting| dot(waiting, work, can));
    let hot = card.waiting.iter().filter(|waiting| waiting.in_kiln).count();
    let told = (hot > 0).then(|| widget::small(format!("{hot} in the kiln: the door is closed on them")));
    let all = row![
        link("All").on_press_maybe(can.then_some(Message::Work(Change::All(true)))),
        link("None").on_press_maybe(can.then_some(Message::Work(Change::All(false)))),
    ];
    column![Row::with_children(dots).spacing(space::HALF).wrap(), row![all, told].align_y(Alignment::Center)]
        .spacing(space::HALF)
        .into()
}

fn dot<'a>(waiting: &'a Waiting, work: &'a Work, can: bool) -> Element<'a, Message> {
    let sign = match (work.lost.contains_key(&waiting.piece), work.seconds.contains(&waiting.piece)) {
        (true, _) => "×",
        (false, true) => "2nd",
        (false, false) => "",
    };
    let chosen = Chosen::from(work.chosen.contains(&waiting.piece));
    let words = if sign.is_empty() { waiting.place.clone() } else { format!("{} {sign}", waiting.place) };
    Press::new(text(words).size(size::BODY).font(theme::STRONG).wrapping(text::Wrapping::None))
        .on_press_maybe((can && !waiting.in_kiln).then_some(Message::Work(Change::Piece(waiting.piece))))
        .id(format!("piece-{}", waiting.place))
        .height(theme::TARGET + space::HALF)
        .padding([0.0, space::ONE + space::HALF])
        .style(theme::choice(chosen))
        .into()
}

fn fire(can: bool, work: &Work) -> Element<'_, Message> {
    column![
        widget::quiet("A firing is done by a load: the kiln’s page picks the pieces and logs it."),
        Row::with_children([primary("To the kiln").on_press(Message::Kiln).into(), others(can, work, false),])
            .spacing(space::ONE)
            .wrap(),
    ]
    .spacing(space::ONE)
    .into()
}

fn finish<'a>(page: &'a Page, card: &'a Card, work: &'a Work, shared: &'a Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    let tap = choice::choice(
        "Tapping a piece",
        [(Tap::Choose, "chooses it"), (Tap::Second, "marks it a second")],
        Some(&work.tap),
        |tap| Message::Work(Change::Tap(tap)),
    );
    column![
        widget::quiet("Each piece gets its number and its own cost. A second is sold as such."),
        dots(card, work, can),
        tap,
        head(page, work, shared),
        Row::with_children([button(can, work), others(can, work, false)]).spacing(space::ONE).wrap(),
    ]
    .spacing(space::TWO)
    .into()
}

fn by_hand<'a>(page: &'a Page, card: &'a Card, work: &'a Work, shared: &'a Shared) -> Element<'a, Message> {
    let can = !shared.read_only();
    let tap = choice::choice(
        "Tapping a piece",
        [(Tap::Choose, "chooses it"), (Tap::Lose, "marks it lost in the step")],
        Some(&work.tap),
        |tap| Message::Work(Change::Tap(tap)),
    );
    let lost = (work.tap == Tap::Lose).then(|| {
        causes(
            work.cause,
            work.usual,
            |cause| Message::Work(Change::Cause(cause)),
            |kind| Message::Work(Change::Kind(kind)),
        )
    });
    let left = column![dots(card, work, can), tap, lost, head(page, work, shared)].spacing(space::TWO);
    let right = column![time(page, work, shared), materials(page, work, shared)].spacing(space::TWO);
    let body: Element<'a, Message> = if shared.is_narrow() {
        column![left, right].spacing(space::TWO).into()
    } else {
        row![container(left).width(Length::FillPortion(1)), container(right).width(Length::FillPortion(1))]
            .spacing(space::FOUR)
            .into()
    };
    column![body, Row::with_children([button(can, work), others(can, work, true)]).spacing(space::ONE).wrap()]
        .spacing(space::TWO)
        .into()
}

/// How many, and the day.
fn head<'a>(page: &'a Page, work: &'a Work, shared: &Shared) -> Element<'a, Message> {
    Row::with_children([
        typed(page, work, Field::Count, "How many pieces", shared).figures().width(170).into(),
        typed(page, work, Field::Date, "Day", shared).hint("year-month-day").width(220).into(),
    ])
    .spacing(space::TWO)
    .wrap()
    .into()
}

fn time<'a>(page: &'a Page, work: &'a Work, shared: &Shared) -> Element<'a, Message> {
    let by = choice::choice(
        "Time",
        [(TimeBy::Planned, "as planned"), (TimeBy::Typed, "typed"), (TimeBy::Before, "timed or written down before")],
        Some(&work.time),
        |by| Message::Work(Change::Time(by)),
    );
    let told: Element<'a, Message> = match work.time {
        TimeBy::Planned => widget::small(work.planned_time.as_str()).into(),
        TimeBy::Typed => typed(page, work, Field::Minutes, "Minutes for all of them", shared)
            .placeholder("e.g. 40 or 1:15")
            .hint(format!("planned {}", work.planned_time))
            .width(280)
            .into(),
        TimeBy::Before => widget::small("Nothing is added now.").into(),
    };
    column![by, told].spacing(space::HALF).into()
}

fn materials<'a>(page: &'a Page, work: &'a Work, shared: &Shared) -> Option<Element<'a, Message>> {
    if work.lines.is_empty() {
        return None;
    }
    let by = choice::choice(
        "Materials",
        [
            (TakenBy::Planned, "as planned"),
            (TakenBy::Weighed, "weighed or counted"),
            (TakenBy::Before, "written down before"),
        ],
        Some(&work.taken),
        |by| Message::Work(Change::Taken(by)),
    );
    let lines = work.lines.iter().enumerate().map(|(place, line)| match work.taken {
        TakenBy::Weighed => weighed(page, work, place, line, shared),
        TakenBy::Planned => {
            row![widget::body(line.name.as_str()).width(Length::Fill), widget::small(line.planned.as_str())]
                .spacing(space::TWO)
                .into()
        }
        TakenBy::Before => widget::small(line.name.as_str()).into(),
    });
    let take = (work.taken == TakenBy::Weighed).then(|| {
        let can = !shared.read_only();
        link("Take these now, the step is done later").on_press_maybe(can.then_some(Message::Do(Doing::Take)))
    });
    Some(column![by, Column::with_children(lines).spacing(space::HALF), take].spacing(space::ONE).into())
}

fn weighed<'a>(page: &'a Page, work: &'a Work, place: usize, line: &'a Line, shared: &Shared) -> Element<'a, Message> {
    let first = if line.jar { "Jar before, or what was used" } else { "How many were used" };
    let mut fields: Vec<Element<'a, Message>> =
        vec![typed(page, work, Field::Before(place), first, shared).figures().width(220).into()];
    if line.jar {
        fields.push(typed(page, work, Field::After(place), "Jar after", shared).figures().width(160).into());
    }
    if line.enamel {
        fields.push(typed(page, work, Field::Washed(place), "Of it, washed back", shared).figures().width(180).into());
    }
    column![
        row![
            widget::strong(line.name.as_str()).width(Length::Fill),
            widget::small(format!("planned {}", line.planned))
        ]
        .spacing(space::TWO),
        Row::with_children(fields).spacing(space::TWO).wrap(),
        widget::small(net(line, &shared.preferences)),
    ]
    .spacing(space::HALF)
    .into()
}

fn button(can: bool, work: &Work) -> Element<'_, Message> {
    let ready = can && !work.chosen.is_empty();
    primary(work.button.as_str()).id("step-done").on_press_maybe(ready.then_some(Message::Do(Doing::Done))).into()
}

/// What else can be done with the pieces chosen.
fn others(can: bool, work: &Work, timed: bool) -> Element<'_, Message> {
    let ready = can && !work.chosen.is_empty();
    let ask = |kind: Kind| ready.then_some(Message::Ask(kind));
    let mut all: Vec<Element<'_, Message>> = Vec::new();
    if timed {
        all.push(quiet_button("Start a timer").on_press_maybe(can.then_some(Message::Ask(Kind::Start))).into());
        all.push(link("Write minutes down").on_press_maybe(can.then_some(Message::Ask(Kind::Time))).into());
    }
    if work.kind != CardKind::Finish {
        all.push(link("Leave the step out").on_press_maybe(ask(Kind::Skip)).into());
    }
    let back = ask(Kind::SendBack).filter(|_| work.step > 0);
    all.push(link("Send back").on_press_maybe(back).into());
    all.push(link("Lost").on_press_maybe(ask(Kind::Lose)).into());
    let some = work.chosen.len() < work.free.len();
    all.push(link("Split off").on_press_maybe(ask(Kind::Split).filter(|_| some)).into());
    container(Row::with_children(all).spacing(space::HALF).wrap()).into()
}

fn typed<'a>(
    page: &'a Page,
    work: &'a Work,
    which: Field,
    label: &'a str,
    shared: &Shared,
) -> widget::Field<'a, Message> {
    field(label, work.text(which))
        .id(which.id())
        .error(work.problem(which, page, &shared.preferences))
        .on_input(move |text| Message::Work(Change::Typed(which, text)))
        .on_submit(Message::Do(Doing::Done))
}
