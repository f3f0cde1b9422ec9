//! How the sheet of prices looks.

use super::rows::{Group, Look, Row, Show};
use super::suppose::{Field, MOST_MORE};
use super::{Acceptance, Message, ShowRows, State, SupposeField};
use crate::costing::price_sheet::Tickets;
use crate::measure::Preferences;
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Column, Mark, choice, field, link, listing, modal, panel, primary, quiet_button};
use iced::widget::{column, container, responsive, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    if let Some(trouble) = &state.trouble {
        return container(widget::caution_line(Mark::Stop, trouble.as_str(), None)).padding(space::THREE).into();
    }
    if state.today.is_empty() {
        return container(widget::empty(
            "Nothing to price yet",
            "A design brings its cost and a price for each channel. Make one, or bring in a design file, in Designs.",
            Some(primary("To the designs").on_press(Message::OpenDesigns).into()),
        ))
        .padding(space::THREE)
        .into();
    }
    let head = row![
        column![widget::title("Prices"), widget::small(state.summary.as_str())].width(Length::Fill),
        quiet_button(if state.supposing { "Close suppose" } else { "Suppose …" }).on_press(Message::Suppose),
        primary("Accept tickets").on_press_maybe((!shared.read_only()).then_some(Message::Accept)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    let supposing = state.supposing.then(|| suppose(state, shared));
    let sheet = container(list(state)).padding([space::HALF, space::ONE]).style(theme::sheet);
    let detail = state.selected().map(|selected| detail(selected, shared));
    if shared.is_narrow() {
        let body = column![head, choices(state, shared), supposing, sheet.height(480), detail]
            .spacing(space::TWO)
            .padding(space::TWO);
        return scrollable(body).style(theme::scroll).into();
    }
    column![head, choices(state, shared), supposing, sheet.height(Length::Fill), detail]
        .spacing(space::TWO)
        .padding(space::THREE)
        .into()
}

fn choices<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let find = field("Find", state.filter.text.as_str())
        .placeholder("name, code, channel")
        .id("prices-find")
        .width(200)
        .on_input(Message::Filtered);
    let channels = std::iter::once((None, "all"))
        .chain(shared.snapshot.rates.channels.iter().map(|channel| (Some(channel.id.clone()), channel.name.as_str())));
    let show = match state.filter.show {
        Show::All => ShowRows::All,
        Show::UnderCost => ShowRows::UnderCost,
        Show::Changed => ShowRows::Changed,
    };
    iced::widget::Row::with_children([
        find.into(),
        choice("Channel", channels, Some(&state.filter.channel), Message::Channel),
        choice(
            "Show",
            [(ShowRows::All, "all"), (ShowRows::UnderCost, "under cost"), (ShowRows::Changed, "changed")],
            Some(&show),
            Message::Show,
        ),
        choice(
            "Together",
            [(false, "by design"), (true, "by channel")],
            Some(&(state.filter.group == Group::Channel)),
            Message::ByChannel,
        ),
        choice(
            "Retail tickets",
            [(Tickets::Common, "one everywhere"), (Tickets::Own, "each its own")],
            Some(&state.tickets),
            Message::Tickets,
        ),
    ])
    .spacing(space::TWO)
    .wrap()
    .vertical_spacing(space::ONE)
    .into()
}

fn suppose<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let preferences = Preferences::from(shared.settings());
    let fields = Field::ALL.into_iter().enumerate().map(|(place, which)| {
        field(which.label(), state.form.entry(which).text())
            .placeholder(which.example())
            .error(state.form.problem(which, &preferences))
            .width(132)
            .figures()
            .on_input(move |text| Message::Supposed(SupposeField(place), text))
            .into()
    });
    let more = state.form.more_firings;
    let firings = column![
        iced::widget::text("Firings more").size(theme::size::SMALL).font(theme::STRONG),
        row![
            quiet_button("−").on_press_maybe(more.checked_sub(1).map(Message::MoreFirings)),
            container(widget::strong(more.to_string())).center_x(28),
            quiet_button("+").on_press_maybe((more < MOST_MORE).then(|| Message::MoreFirings(more + 1))),
        ]
        .spacing(space::HALF)
        .align_y(Alignment::Center)
    ]
    .spacing(space::HALF);
    let parts = fields.chain([
        firings.into(),
        container(link("Suppose nothing").on_press(Message::Clear)).padding(iced::padding::top(21)).into(),
    ]);
    panel(
        "Suppose",
        "over all designs at once; nothing is changed in the book",
        iced::widget::Row::with_children(parts).spacing(space::TWO).wrap().vertical_spacing(space::ONE),
    )
}

fn list(state: &State) -> Element<'_, Message> {
    responsive(move |area| {
        let roomy = area.width > 900.0;
        let mut columns: Vec<Column<'_, Row, Message>> = vec![
            Column::words("Code", 80, |row: &Row| row.code.as_str()),
            Column::words("Design", Length::FillPortion(3), |row: &Row| row.name.as_str()),
            Column::words("Channel", Length::FillPortion(3), |row: &Row| row.channel_name.as_str()),
            Column::figures("Full cost", 64, |row: &Row| row.full.as_str()),
            Column::figures("Pocket", 60, |row: &Row| row.pocket.as_str()),
            Column::new("Ticket", 64, |row: &Row| widget::strong(row.ticket.as_str()).into()).right(),
        ];
        if state.is_supposing() {
            columns.push(Column::figures("Supposed", 72, |row: &Row| row.supposed_ticket.as_str()));
            columns.push(Column::figures("its cost", 64, |row: &Row| row.supposed_full.as_str()));
        }
        columns.push(Column::figures("Margin", 58, |row: &Row| row.margin.as_str()));
        columns.push(Column::figures("An hour", 62, |row: &Row| row.hourly.as_str()));
        if roomy {
            columns.push(Column::figures("Common", 64, |row: &Row| row.common.as_str()));
            columns.push(Column::figures("In force", 64, |row: &Row| row.accepted.as_str()));
        }
        columns.push(Column::new("Look", 108, look));
        listing::listing(&state.list, columns, &state.shown, Message::List)
    })
    .into()
}

fn look(of: &Row) -> Element<'_, Message> {
    let (kind, style): (Mark, fn(&iced::Theme) -> iced::widget::text::Style) = match of.look {
        Look::Fine => return iced::widget::space().into(),
        Look::Caution => (Mark::Caution, theme::caution),
        Look::Stop => (Mark::Stop, theme::stop),
    };
    row![widget::mark(kind), widget::fitted(of.word.as_str()).style(style)]
        .spacing(space::HALF)
        .align_y(Alignment::Center)
        .into()
}

fn detail<'a>(selected: &'a Row, shared: &'a Shared) -> Element<'a, Message> {
    let heading = row![
        column![
            widget::strong(format!("{} · {}", selected.name, selected.channel_name)),
            widget::small(selected.sentence.as_str())
        ]
        .width(Length::Fill),
        link("Open the design").on_press(Message::OpenDesign),
        link("Its tags and cards").on_press(Message::OpenPapers),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    let half = selected.lines.len().div_ceil(2);
    let part = |lines: &'a [widget::Line]| {
        iced::widget::Column::with_children(lines.iter().map(|line| {
            row![widget::small(line.what.as_str()).width(Length::Fill), widget::small(line.amount.as_str())].into()
        }))
        .spacing(2)
        .width(Length::Fill)
    };
    let (first, second) = selected.lines.split_at(half);
    let lines: Element<'_, Message> = if shared.is_narrow() {
        part(&selected.lines).into()
    } else {
        row![part(first), part(second)].spacing(space::FOUR).into()
    };
    container(column![heading, lines].spacing(space::ONE))
        .padding([space::ONE + space::HALF, space::TWO])
        .width(Length::Fill)
        .style(theme::sheet)
        .into()
}

pub(super) fn accept<'a>(acceptance: &'a Acceptance, shared: &'a Shared) -> Element<'a, Message> {
    let what = format!(
        "{} tickets are kept as a dated price list, for good. Tags print from it until a later list replaces it.",
        acceptance.lines.len()
    );
    let under = (acceptance.under_cost > 0).then(|| {
        widget::caution_line(
            Mark::Stop,
            format!("{} of them do not bring back full cost", acceptance.under_cost),
            Some("Show “under cost” on the sheet to see which, and what they cost.".to_owned()),
        )
    });
    let stops = (acceptance.stops > 0).then(|| {
        widget::caution_line(
            Mark::Stop,
            format!("{} are of designs with a stop on their route", acceptance.stops),
            Some("The design page says which firing, and the way out.".to_owned()),
        )
    });
    let changed = if acceptance.compared.is_empty() {
        widget::small("No ticket in force changes.")
    } else {
        widget::strong("Tickets that change")
    };
    let compared = iced::widget::Column::with_children(acceptance.compared.iter().map(|(before, now)| {
        row![widget::small(before.as_str()).width(Length::Fill), widget::strong(now.as_str())]
            .spacing(space::TWO)
            .into()
    }));
    let body = column![
        widget::body(what),
        under,
        stops,
        row![
            field("Name of the list", acceptance.name.text())
                .id("price-list-name")
                .on_input(Message::ListName)
                .on_submit(Message::AcceptNow),
            field("From", acceptance.date.text())
                .hint("year-month-day")
                .error(acceptance.problem.as_deref())
                .width(180)
                .on_input(Message::ListDate)
                .on_submit(Message::AcceptNow),
        ]
        .spacing(space::TWO),
        changed,
        compared,
    ]
    .spacing(space::TWO)
    .padding(iced::padding::right(space::TWO));
    modal::sheet(
        "Accept these tickets?",
        body,
        [
            quiet_button("Not now").on_press(Message::Close).into(),
            primary("Accept tickets").on_press_maybe((!shared.read_only()).then_some(Message::AcceptNow)).into(),
        ],
    )
}
