//! How the half looks that measures stencils.

use super::room::{Message, State};
use super::stencil::{Change, Ground, Shown, Stencil, Typed};
use super::view::head;
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Mark, choice, field, panel, path_field, pick, primary, quiet_button};
use iced::widget::{Column, column, container, image, row, scrollable, slider};
use iced::{Alignment, Element, Length};

/// The page.
pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let stencil = &state.stencil;
    let asked = column![file(stencil), ground(stencil)].spacing(space::TWO).width(Length::Fill);
    let answer = answer(stencil, shared);
    let panels: Element<'a, Message> = if shared.is_narrow() {
        column![asked, answer].spacing(space::TWO).into()
    } else {
        row![asked, container(answer).width(Length::Fill)].spacing(space::TWO).into()
    };
    let body = column![head(state, shared), panels].spacing(space::TWO);
    let padding = if shared.is_narrow() {
        iced::padding::all(space::TWO)
    } else {
        iced::padding::all(space::THREE).left(space::ONE)
    };
    scrollable(container(body).padding(padding)).height(Length::Fill).style(theme::scroll).into()
}

fn change(change: Change) -> Message {
    Message::Stencil(change)
}

fn file(stencil: &Stencil) -> Element<'_, Message> {
    let (of_size, of_file) = match &stencil.trouble {
        Some(trouble) if trouble.no_size => (Some(trouble.words.as_str()), None),
        Some(trouble) if stencil.file.is_none() => (None, Some(trouble.words.clone())),
        _ => (None, None),
    };
    let path = path_field(
        "Drawing (SVG) or photo (JPEG, PNG)",
        stencil.path.text(),
        of_file,
        |text| change(Change::Typed(Typed::Path, text)),
        Some(change(Change::Read)),
        Some(change(Change::Browse)),
    );
    let asks = of_size.is_some() || !stencil.long_side.is_empty();
    let long_side = asks.then(|| {
        Element::from(
            field("Its longer side", stencil.long_side.text())
                .id("stencil-long-side")
                .placeholder("e.g. 60 mm")
                .error(of_size)
                .on_input(|text| change(Change::Typed(Typed::LongSide, text)))
                .on_submit(change(Change::Read)),
        )
    });
    let read = primary(if stencil.reading { "Reading …" } else { "Read the stencil" })
        .on_press_maybe((!stencil.reading).then_some(change(Change::Read)));
    let advice = "A photo wants even light and a ground much lighter or darker than the stencil, taken straight from \
                  above and cut to the stencil's edges.";
    panel("The stencil", "", column![path, long_side, read, widget::small(advice)].spacing(space::ONE + space::HALF))
}

fn ground(stencil: &Stencil) -> Element<'_, Message> {
    let whole = if stencil.is_photo() { "the whole photo" } else { "its own edge" };
    let grounds = choice(
        "Share of",
        [(Ground::Whole, whole), (Ground::Stock, "a blank of stock"), (Ground::Words, "a blank in words")],
        Some(&stencil.ground),
        |ground| change(Change::Ground(ground)),
    );
    let which: Option<Element<'_, Message>> = match stencil.ground {
        Ground::Whole => None,
        Ground::Stock => {
            Some(pick("", &stencil.blanks, "name or reference of a blank", stencil.blank.as_ref(), |blank| {
                change(Change::Blank(blank))
            }))
        }
        Ground::Words => Some(
            field("", stencil.words.text())
                .id("stencil-words")
                .placeholder("disc 30, drop 40 x 20 …")
                .hint("in mm")
                .on_input(|text| change(Change::Typed(Typed::Words, text)))
                .into(),
        ),
    };
    let lies = if stencil.is_photo() {
        "On a photo the blank lies in the middle, as large as it fits."
    } else {
        "The middle of the openings lies on the middle of the blank."
    };
    let lies = (stencil.ground != Ground::Whole).then(|| widget::small(lies));
    panel("The blank under it", "", column![grounds, which, lies].spacing(space::ONE + space::HALF))
}

fn answer<'a>(stencil: &'a Stencil, shared: &'a Shared) -> Element<'a, Message> {
    let mut parts: Vec<Element<'a, Message>> = Vec::new();
    if let Some(trouble) = stencil.trouble.as_ref().filter(|_| stencil.file.is_some()) {
        parts.push(widget::caution_line(Mark::Stop, trouble.words.as_str(), None));
    }
    match &stencil.shown {
        Some(shown) => parts.push(share(shown)),
        None if stencil.measuring => parts.push(widget::body("Measuring …").into()),
        None if stencil.trouble.is_none() => parts.push(
            widget::quiet(
                "Read a stencil: what share of the blank it leaves open stands here, to be typed as coverage.",
            )
            .into(),
        ),
        None => {}
    }
    if stencil.is_photo() {
        parts.push(threshold(stencil, shared));
    }
    if let Some(picture) = stencil.shown.as_ref().and_then(|shown| shown.picture.as_ref()) {
        parts.push(
            container(container(image(picture.clone())).padding(1).max_height(420).style(theme::tag))
                .center_x(Length::Fill)
                .into(),
        );
        parts.push(widget::small("White is open, black is closed, grey is not counted.").into());
    }
    let name = stencil.file.as_ref().map_or("", |(name, _)| name.as_str());
    panel("Open share", name, Column::with_children(parts).spacing(space::ONE + space::HALF))
}

fn share(shown: &Shown) -> Element<'_, Message> {
    let figure = row![
        widget::display(shown.words.as_str()).width(Length::Fill),
        quiet_button("Copy").on_press(change(Change::Copy))
    ]
    .spacing(space::TWO)
    .align_y(Alignment::Center);
    let remarks = shown
        .remarks
        .iter()
        .map(|remark| row![widget::mark(Mark::Caution), widget::small(remark.as_str())].spacing(space::HALF).into());
    column![
        figure,
        widget::small(shown.how.as_str()),
        widget::small("Type it as the coverage of a sifted coat in a design."),
        Column::with_children(remarks)
    ]
    .spacing(space::HALF)
    .into()
}

fn threshold<'a>(stencil: &'a Stencil, shared: &'a Shared) -> Element<'a, Message> {
    let level = field("Threshold, 0 to 255", stencil.level_text.text())
        .id("stencil-level")
        .error(stencil.level_problem(shared))
        .width(160)
        .figures()
        .on_input(|text| change(Change::Typed(Typed::Level, text)));
    let open = choice("Open is", [(false, "light"), (true, "dark")], Some(&stencil.dark_is_open), |dark| {
        change(Change::Open(dark))
    });
    let by_hand = stencil.level.is_some();
    let fields = row![
        Element::from(level),
        open,
        container(widget::link("As proposed").on_press_maybe(by_hand.then_some(change(Change::Proposed))))
            .padding(iced::padding::top(21))
    ]
    .spacing(space::TWO);
    column![fields.wrap(), slider(0..=255, stencil.threshold, |level| change(Change::Level(level)))]
        .spacing(space::ONE)
        .into()
}
