//! How the room looks.

use super::laying::{Laid, What};
use super::message::{Message, Zoom};
use super::out_view;
use super::pieces::Row;
use super::preview::{PIXELS_PER_MM, preview};
use super::state::{MOST_COPIES, State};
use crate::measure::parse;
use crate::paper::{CardStyle, PaperSize, Symbology};
use crate::window::Shared;
use crate::window::theme::{self, space};
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
                row![
                    primary("To the designs").on_press(Message::OpenDesigns),
                    link("Paper designs").on_press(Message::OpenPaperDesigns),
                ]
                .spacing(space::ONE)
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
    let head = row![
        column![widget::title("Papers"), widget::small(summary)].width(Length::Fill),
        link("Paper designs").on_press(Message::OpenPaperDesigns),
        choice("", [(What::Tags, "Tags"), (What::Cards, "Care cards")], Some(&state.choices.what), Message::What),
    ]
    .spacing(space::TWO)
    .align_y(Alignment::Center);
    let choose = column![designs(state, shared), options(state, shared), out_view::out(state)].spacing(space::TWO);
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
    let columns: Vec<Column<'_, Row, Message>> = vec![
        Column::new("", 20, |row: &Row| tick(row.tick)).unsorted(),
        Column::words("Design", Length::FillPortion(4), |row: &Row| row.name.as_str()).unsorted(),
        Column::figures("Copies", 44, |row: &Row| row.copies.as_str()).unsorted(),
        Column::figures("Ticket", 60, |row: &Row| row.ticket.as_str()).unsorted(),
        Column::new("Accepted", Length::FillPortion(3), about).unsorted(),
    ];
    let list = container(listing::listing(&state.list, columns, &state.rows, Message::List)).height(286);
    panel_with(
        "Designs",
        "press or Enter ticks; × is printed",
        iced::widget::space().width(Length::Shrink),
        column![tools, list, copies(state, shared)].spacing(space::ONE),
    )
}

fn tick<'a>(sign: &'a str) -> Element<'a, Message> {
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
        return widget::small("No design is called that.").into();
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
    vec![
        choice("Ticket of", channels, Some(&state.choices.channel), Message::Channel),
        widget::small("The accepted ticket where there is one, else today's; the list says which.").into(),
        sheet.into(),
        choice("Symbol", symbols, Some(&state.choices.symbology), Message::Symbol),
        widget::small(reader).into(),
        start.into(),
    ]
}

// --- The page ---------------------------------------------------------------------------------------------------

fn turner(state: &State) -> Element<'_, Message> {
    let laid = state.laid.as_ref();
    let before = laid.and_then(|laid| laid.page.checked_sub(1)).map(Message::Page);
    let after = laid.filter(|laid| laid.page + 1 < laid.document.pages.len()).map(|laid| Message::Page(laid.page + 1));
    let words = match laid {
        _ if state.laying.is_some() => "laying out …",
        Some(laid) => laid.turner.as_str(),
        None => "",
    };
    row![
        quiet_button("‹").on_press_maybe(before),
        container(widget::body(words)).center_x(130),
        quiet_button("›").on_press_maybe(after),
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
        None if state.stale => container(
            column![widget::body("The book has changed."), primary("Show the pages").on_press(Message::Renew)]
                .spacing(space::ONE)
                .align_x(Alignment::Center),
        )
        .center(Length::Fill)
        .into(),
        None => {
            let words = match &state.problem {
                Some(problem) => problem.as_str(),
                None => "The pages are being laid out.",
            };
            let kind = if state.problem.is_some() { Mark::Stop } else { Mark::Good };
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
