//! How the room looks.

use super::laying::{Laid, What};
use super::message::{Message, Zoom};
use super::pieces::Row;
use super::preview::{PIXELS_PER_MM, preview};
use super::state::{MOST_COPIES, State};
use crate::measure::parse;
use crate::paper::{CardStyle, PaperSize, Symbology};
use crate::window::Shared;
use crate::window::shortcut::RoomName;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{
    self, Column, Mark, choice, field, link, listing, panel_with, pick, primary, quiet_button,
};
use iced::widget::scrollable::{Direction, Scrollbar};
use iced::widget::{column, container, responsive, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    if state.pieces.is_empty() {
        return container(widget::empty(
            "Nothing to print yet",
            "Tags and care cards are made from designs. Make one, or bring in a design file, in Designs.",
            Some(
                column![primary("To the designs").on_press(Message::OpenDesigns), rooms()]
                    .spacing(space::TWO)
                    .align_x(Alignment::Center)
                    .into(),
            ),
        ))
        .padding(space::THREE)
        .into();
    }
    let summary = match &state.laid {
        Some(laid) => laid.summary(state.choices.what),
        None => "tags and care cards".to_owned(),
    };
    let what =
        choice("", [(What::Tags, "Tags"), (What::Cards, "Care cards")], Some(&state.choices.what), Message::What);
    let head = row![column![widget::title("Papers"), widget::small(summary)].width(Length::Fill), what]
        .spacing(space::TWO)
        .align_y(Alignment::Center);
    let head = column![head, rooms()].spacing(space::HALF);
    let out = state.out.view(state.is_ready(), shared).map(Message::Out);
    let choose = column![designs(state, shared), options(state, shared), out].spacing(space::TWO);
    if shared.is_narrow() {
        let seen =
            column![turner(state), container(sheet(state, shared)).height(480), warnings(state)].spacing(space::ONE);
        let body = column![head, choose, seen].spacing(space::TWO).padding(space::TWO);
        return scrollable(body).height(Length::Fill).style(theme::scroll).into();
    }
    let choose = scrollable(container(choose).padding(iced::padding::right(space::TWO)))
        .width(Length::FillPortion(5))
        .height(Length::Fill)
        .style(theme::scroll);
    let seen = column![turner(state), container(sheet(state, shared)).height(Length::Fill), warnings(state)]
        .spacing(space::ONE)
        .width(Length::FillPortion(6));
    column![head, row![choose, seen].spacing(space::TWO).height(Length::Fill)]
        .spacing(space::TWO)
        .padding(iced::padding::all(space::THREE).left(space::ONE))
        .into()
}

/// The ways to the other rooms of the papers.
fn rooms<'a>() -> Element<'a, Message> {
    iced::widget::Row::with_children(
        RoomName::UNDER_PAPERS.map(|room| link(room.words()).on_press(Message::Enter(room)).into()),
    )
    .spacing(space::ONE)
    .wrap()
    .into()
}

// --- What is printed --------------------------------------------------------------------------------------------

fn designs<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let find = field("", state.filter.as_str())
        .placeholder("name or code")
        .id("papers-find")
        .width(Length::Fill)
        .on_input(Message::Filtered);
    let tools = row![
        Element::from(find),
        quiet_button("All").on_press(Message::All),
        quiet_button("None").on_press(Message::None),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::End);
    let last = if state.outdated_only {
        Column::words("Out of date", Length::FillPortion(3), |row: &Row| row.outdated.as_str())
    } else {
        Column::new("Accepted", Length::FillPortion(3), about)
    };
    let columns: Vec<Column<'_, Row, Message>> = vec![
        Column::new("", 20, |row: &Row| ticked(row.tick)).unsorted(),
        Column::words("Design", Length::FillPortion(4), |row: &Row| row.name.as_str()).unsorted(),
        Column::figures("Copies", 44, |row: &Row| row.copies.as_str()).unsorted(),
        Column::figures("Ticket", 60, |row: &Row| row.ticket.as_str()).unsorted(),
        last.unsorted(),
    ];
    let list = container(listing::listing(&state.list, columns, &state.rows, Message::List)).height(286);
    panel_with(
        "Designs",
        "press or Enter ticks; × is printed",
        iced::widget::space().width(Length::Shrink),
        column![tools, out_of_date(state), list, copies(state, shared)].spacing(space::ONE),
    )
}

/// The tags that are out of date: their number, and a way to see only those.
fn out_of_date(state: &State) -> Option<Element<'_, Message>> {
    if state.choices.what != What::Tags {
        return None;
    }
    let outdated = &state.outdated;
    let words = match outdated.count() {
        1 => "Only the 1 tag that is out of date".to_owned(),
        count => format!("Only the {count} tags that are out of date"),
    };
    let only = (outdated.count() > 0 || state.outdated_only)
        .then(|| tick(words, Chosen::from(state.outdated_only), Some(Message::OutOfDate)));
    let elsewhere = match outdated.elsewhere {
        0 => None,
        1 => Some("1 tag of another channel is out of date: choose it below.".to_owned()),
        count => Some(format!("{count} tags of other channels are out of date: choose one below.")),
    };
    if only.is_none() && elsewhere.is_none() {
        return None;
    }
    Some(column![only, elsewhere.map(widget::small)].into())
}

fn ticked<'a>(sign: &'a str) -> Element<'a, Message> {
    let sign = iced::widget::text(sign).size(theme::size::BODY).line_height(1.0).font(theme::STRONG);
    container(sign).center(18).style(theme::tag).into()
}

/// Where the ticket comes from, and what to look at before printing.
fn about(of: &Row) -> Element<'_, Message> {
    let mark: Option<Element<'_, Message>> =
        if of.stop { Some(widget::mark(Mark::Stop)) } else { of.lead.then(|| widget::mark(Mark::Caution)) };
    let words = match (of.stop, of.lead) {
        (true, true) => "stop, lead · ",
        (true, false) => "stop · ",
        (false, true) => "lead · ",
        (false, false) => "",
    };
    let words = widget::fitted(format!("{words}{}", of.from)).small();
    row![mark, words].spacing(space::HALF).align_y(Alignment::Center).into()
}

fn copies<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let Some(selected) = state.selected() else {
        let words = if state.outdated_only { "No tag is out of date." } else { "No design is called that." };
        return widget::small(words).into();
    };
    let typed = parse::parse_count(state.copies.text(), 0..=MOST_COPIES, &shared.preferences);
    row![
        column![widget::strong(selected.name.as_str()), widget::small(selected.code.as_str())].width(Length::Fill),
        Element::from(
            field("Copies", state.copies.text())
                .id("papers-copies")
                .error(typed.as_ref().err().map(ToString::to_string))
                .width(120)
                .figures()
                .on_input(Message::Copies)
        ),
        link("Same for all").on_press_maybe(typed.is_ok().then_some(Message::SameForAll)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::End)
    .into()
}

fn options<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let parts: Vec<Element<'a, Message>> = match state.choices.what {
        What::Tags => tag_options(state, shared),
        What::Cards => vec![
            choice(
                "Cards",
                CardStyle::ALL.into_iter().map(|style| (style, style.name())),
                Some(&state.choices.style),
                Message::Style,
            ),
            choice(
                "Paper",
                [(PaperSize::A4, "A4"), (PaperSize::LETTER, "Letter")],
                Some(&state.choices.paper),
                Message::Paper,
            ),
            widget::small("Your own words for the cards, the studio's name and its place are in Setup.").into(),
        ],
    };
    let title = if state.choices.what == What::Tags { "Sheet and symbol" } else { "Card and paper" };
    panel_with(
        title,
        "",
        iced::widget::space().width(Length::Shrink),
        iced::widget::Column::with_children(parts).spacing(space::ONE + space::HALF),
    )
}

fn tag_options<'a>(state: &'a State, shared: &'a Shared) -> Vec<Element<'a, Message>> {
    let channels = state.channels.iter().map(|(id, name)| (id.clone(), name.as_str()));
    let edit = if state.chosen_sheet().is_some_and(|(id, _)| id.is_some()) { "Change" } else { "Keep a copy" };
    let writable = |message| (!shared.read_only()).then_some(message);
    let sheet = row![
        container(pick("Sheet", &state.sheet_names, "a sheet", Some(&state.sheet), Message::Sheet)).width(Length::Fill),
        quiet_button(edit).on_press_maybe(writable(Message::EditSheet)),
        quiet_button("New sheet").on_press_maybe(writable(Message::NewSheet)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::End);
    let symbols = Symbology::ALL.into_iter().map(|kind| {
        (
            kind,
            match kind {
                Symbology::Qr => "QR",
                Symbology::DataMatrix => "Data Matrix",
                Symbology::Code128 => "Code 128",
                Symbology::Ean13 => "EAN-13",
                Symbology::None => "none",
            },
        )
    });
    let reader = match state.choices.symbology {
        Symbology::Qr => "Every phone's camera reads it.",
        Symbology::DataMatrix => "The smallest; for scanners. Most phones' own cameras do not read it.",
        Symbology::Code128 => "For line scanners, on labels at least 35 mm wide.",
        Symbology::Ean13 => "For tills.",
        Symbology::None => "The code stands on the tag in letters only.",
    };
    let start = field("Start at label", state.start.text())
        .hint("or press a label's place on the page")
        .id("papers-start")
        .error(state.typed_start(shared).err())
        .on_input(Message::Start);
    let (in_book, begun) = (state.book_sheet().is_some(), state.begun > 1);
    let used = begun.then(|| {
        let words = match state.begun {
            2 => "Its label 1 is used up.".to_owned(),
            next => format!("Its labels 1 to {} are used up.", next - 1),
        };
        row![
            container(widget::small(words)).width(Length::Fill),
            link("A fresh sheet").on_press_maybe(writable(Message::FreshSheet)),
        ]
        .align_y(Alignment::Center)
    });
    let unkept = (!in_book).then(|| widget::small("Keep a copy of the sheet to have its next free label remembered."));
    let note = (!shared.read_only()).then(|| {
        tick("Keep in mind what was printed, and the next free label", Chosen::from(state.note), Some(Message::Note))
    });
    let dots = state
        .out
        .printer()
        .map(|printer| widget::small(format!("Symbols are made of whole dots of {}.", printer.name)));
    vec![
        choice("Ticket of", channels, Some(&state.choices.channel), Message::Channel),
        widget::small("The accepted ticket where there is one, else today's; the list says which.").into(),
        sheet.into(),
        choice("Symbol", symbols, Some(&state.choices.symbology), Message::Symbol),
        column![widget::small(reader), dots].into(),
        column![Element::from(start), used, unkept].spacing(space::HALF).into(),
        iced::widget::Column::new().push(note).into(),
    ]
}

// --- The page ---------------------------------------------------------------------------------------------------

fn turner(state: &State) -> Element<'_, Message> {
    let laid = state.laid.as_ref();
    let before = laid.and_then(|laid| laid.page.checked_sub(1)).map(Message::Page);
    let after = laid.filter(|laid| laid.page + 1 < laid.document.pages.len()).map(|laid| Message::Page(laid.page + 1));
    let words = match (&state.laying, laid) {
        (Some(laying), _) => format!("laying out … {} %", laying.percent),
        (None, Some(laid)) => laid.turner.clone(),
        (None, None) => String::new(),
    };
    let cancel = state.laying.is_some().then(|| quiet_button("Cancel").on_press(Message::StopLaying));
    row![
        quiet_button("‹").on_press_maybe(before),
        container(widget::body(words)).center_x(130),
        quiet_button("›").on_press_maybe(after),
        cancel,
        iced::widget::space().width(Length::Fill),
        choice("", [(Zoom::Fit, "fit"), (Zoom::Whole, "100 %")], Some(&state.zoom), Message::Zoom),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center)
    .into()
}

fn sheet<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    match &state.laid {
        Some(laid) => shown(laid, state.zoom, shared),
        None => {
            if let Some(why) = state.waits {
                let asked = column![widget::body(why), primary("Show the pages").on_press(Message::Renew)];
                return container(asked.spacing(space::ONE).align_x(Alignment::Center)).center(Length::Fill).into();
            }
            let (kind, words) = match &state.problem {
                Some(problem) => (Mark::Stop, problem.as_str()),
                None => (Mark::Good, "The pages are being laid out."),
            };
            container(widget::caution_line(kind, words, None))
                .padding(space::TWO)
                .width(Length::Fill)
                .style(theme::sheet)
                .into()
        }
    }
}

fn shown<'a>(laid: &'a Laid, zoom: Zoom, shared: &'a Shared) -> Element<'a, Message> {
    match zoom {
        Zoom::Fit => responsive(move |area| {
            let [width, height] = laid.size_mm();
            let scale = (area.width / width).min(area.height / height);
            container(preview(laid, scale)).center_x(Length::Fill).into()
        })
        .into(),
        Zoom::Whole => scrollable(preview(laid, PIXELS_PER_MM / shared.scale()))
            .direction(Direction::Both { vertical: Scrollbar::default(), horizontal: Scrollbar::default() })
            .width(Length::Fill)
            .height(Length::Fill)
            .style(theme::scroll)
            .into(),
    }
}

fn warnings(state: &State) -> Option<Element<'_, Message>> {
    let laid = state.laid.as_ref().filter(|laid| !laid.warnings.is_empty())?;
    let lines = laid.warnings.iter().map(|words| {
        row![container(widget::mark(Mark::Caution)).padding([2.0, 0.0]), widget::small(words.as_str())]
            .spacing(space::HALF)
            .into()
    });
    Some(
        container(
            scrollable(iced::widget::Column::with_children(lines).spacing(2).width(Length::Fill)).style(theme::scroll),
        )
        .max_height(140)
        .padding(space::ONE)
        .width(Length::Fill)
        .style(theme::sheet_caution)
        .into(),
    )
}
