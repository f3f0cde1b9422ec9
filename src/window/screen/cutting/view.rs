//! How the half looks that lays blanks out on a sheet.

use super::laid::{Laid, Part};
use super::plan::{Field, Source};
use super::room::{Message, Side, State};
use super::wanted_view;
use crate::cutting::Turn;
use crate::studio::Metal;
use crate::window::Shared;
use crate::window::draw::cut_sheet::Picture;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Mark, choice, field, link, panel, panel_with, pick, primary, quiet_button};
use iced::widget::{Column, Row, canvas, column, container, progress_bar, row, scrollable};
use iced::{Alignment, Element, Length};

/// Beside sawing: usual cautions of the trade.
pub(super) const SHARP: &str = "Cut sheet has sharp edges and the saw leaves fine dust";
pub(super) const SHARP_ADVICE: &str = "File edges before bare hands go over them, wear eye protection and a dust mask, \
    wipe the dust up wet rather than blowing it away.";

/// The head of both halves.
pub(super) fn head(state: &State, shared: &Shared) -> Element<'static, Message> {
    let sides =
        choice("", [(Side::Sheet, "From a sheet"), (Side::Stencil, "Stencil")], Some(&state.side), Message::Side);
    let words = match state.side {
        Side::Sheet => "what fits on a sheet, what it costs, and the cut written down",
        Side::Stencil => "the open share of a stencil, to be typed as the coverage of a coat",
    };
    let title = column![widget::title("Cut blanks"), widget::small(words)];
    let back = link("‹ Stock").on_press(Message::ToStock);
    if shared.is_narrow() {
        column![back, title, sides].spacing(space::ONE).into()
    } else {
        column![back, row![title.width(Length::Fill), sides].spacing(space::TWO).align_y(Alignment::Center)]
            .spacing(space::HALF)
            .into()
    }
}

/// The page.
pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let plan = column![
        sheet(state, shared),
        wanted_view::panel_of(state, shared),
        saw(state, shared),
        widget::caution_line(Mark::Caution, SHARP, Some(SHARP_ADVICE.to_owned())),
    ]
    .spacing(space::TWO);
    let outcome = outcome(state, shared);
    if shared.is_narrow() {
        let body = column![head(state, shared), plan, outcome].spacing(space::TWO).padding(space::TWO);
        return scrollable(body).height(Length::Fill).style(theme::scroll).into();
    }
    let left = scrollable(container(plan).padding(iced::padding::right(space::TWO)))
        .width(Length::FillPortion(5))
        .height(Length::Fill)
        .style(theme::scroll);
    let right = scrollable(container(outcome).padding(iced::padding::right(space::ONE)))
        .width(Length::FillPortion(6))
        .height(Length::Fill)
        .style(theme::scroll);
    column![head(state, shared), row![left, right].spacing(space::ONE).height(Length::Fill)]
        .spacing(space::TWO)
        .padding(iced::padding::all(space::THREE).left(space::ONE))
        .into()
}

fn typed<'a>(
    state: &'a State,
    which: Field,
    label: &'a str,
    example: &'a str,
    shared: &'a Shared,
) -> Element<'a, Message> {
    field(label, state.form.text(which))
        .id(which.id())
        .placeholder(example)
        .error(state.form.problem(which, state.tried, shared))
        .figures()
        .on_input(move |text| Message::Typed(which, text))
        .on_submit(Message::LayOut)
        .into()
}

/// Fields beside each other, or below each other where there is no room.
pub(super) fn beside<'a>(fields: Vec<Element<'a, Message>>, shared: &Shared) -> Element<'a, Message> {
    if shared.size.width < 480.0 {
        Column::with_children(fields).spacing(space::ONE).into()
    } else {
        Row::with_children(fields).spacing(space::TWO).into()
    }
}

fn sheet<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let form = &state.form;
    let sources = [(Source::Stock, "of stock"), (Source::Typed, "typed")];
    let source = choice("", sources, Some(&form.source), Message::Source);
    let mut parts: Vec<Element<'a, Message>> = Vec::new();
    match form.source {
        Source::Stock if form.sheets.options().is_empty() => {
            parts.push(widget::small("There is no sheet in stock: write one down in Stock, or type one here.").into());
        }
        Source::Stock => {
            parts.push(pick("Sheet", &form.sheets, "name or reference", form.sheet.as_ref(), Message::Sheet));
            if !form.sheet_words.is_empty() {
                parts.push(widget::small(form.sheet_words.as_str()).into());
            }
        }
        Source::Typed => {
            let metals = Metal::ALL.map(|metal| (metal, metal.words()));
            parts.push(choice("Metal", metals, Some(&form.metal), Message::Metal));
            parts.push(typed(state, Field::Thickness, "Thickness", "e.g. 18 ga or 1 mm", shared));
        }
    }
    if form.uses(Field::Long, shared) {
        let sides = vec![
            typed(state, Field::Long, "One side", "e.g. 6 in or 150 mm", shared),
            typed(state, Field::Wide, "The other side", "e.g. 12 in or 300 mm", shared),
        ];
        parts.push(beside(sides, shared));
    }
    let body = Column::with_children(parts).spacing(space::ONE + space::HALF);
    panel_with("The sheet", "", source, body)
}

fn saw<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let lengths = vec![
        typed(state, Field::Kerf, "Saw kerf", "0.5 mm", shared),
        typed(state, Field::Margin, "Edge margin", "2 mm", shared),
        typed(state, Field::OffCut, "Off-cuts kept from", "20 mm", shared),
    ];
    let turns = [
        (Turn::Free, "any way"),
        (Turn::QuarterTurns, "by quarters"),
        (Turn::HalfTurns, "head to tail"),
        (Turn::AsDrawn, "as drawn"),
    ];
    let turn = choice("Blanks may be turned", turns, Some(&state.form.turn), Message::Turn);
    panel("The saw", "", column![beside(lengths, shared), turn].spacing(space::ONE + space::HALF))
}

fn outcome<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let mut parts: Vec<Element<'a, Message>> = Vec::new();
    if let Some(search) = &state.search {
        let (share, words) = search.words();
        let buttons = row![
            quiet_button("Take the best so far")
                .on_press_maybe((search.progress.is_some() && !search.enough).then_some(Message::Enough)),
            quiet_button("Cancel").on_press(Message::Stop),
        ]
        .spacing(space::ONE);
        let bar = progress_bar(0.0..=1.0, share).girth(8);
        parts.push(panel("Laying out", "", column![widget::body(words), bar, buttons.wrap()].spacing(space::ONE)));
    }
    if let Some(refused) = &state.refused {
        parts.push(widget::caution_line(Mark::Stop, refused.as_str(), None));
    }
    match &state.laid {
        Some(laid) => parts.push(shown(laid, state, shared)),
        None if state.search.is_none() => parts.push(panel(
            "What fits",
            "",
            column![
                widget::body(
                    "Choose a sheet and what to cut from it: the blanks are drawn here to scale, with what each costs."
                ),
                primary("Lay out").on_press(Message::LayOut),
            ]
            .spacing(space::TWO),
        )),
        None => {}
    }
    Column::with_children(parts).spacing(space::TWO).into()
}

fn shown<'a>(laid: &'a Laid, state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let [wide, high] = laid.picture.size;
    // As high as the sheet is beside its width, within what a page has room for.
    let height = (560.0 * high / wide.max(0.01)).clamp(140.0, 430.0);
    let picture = canvas(Picture::new(&laid.picture, laid.version)).width(Length::Fill).height(height);
    let state_line = if laid.stale {
        widget::caution_line(Mark::Caution, "The plan has changed since: lay it out again.", None)
    } else {
        widget::small("To scale. The dashed line is the edge margin; hatched is left and can be kept.").into()
    };
    let can_cut = !laid.stale && state.form.source == Source::Stock && !shared.read_only();
    let lay_out = state.search.is_none().then_some(Message::LayOut);
    let action: Element<'a, Message> = if laid.stale {
        primary("Lay out").on_press_maybe(lay_out).into()
    } else {
        primary("Cut …").on_press_maybe(can_cut.then_some(Message::Cut)).into()
    };
    let why = (!laid.stale && state.form.source == Source::Typed)
        .then(|| widget::small("A typed sheet is not in the book: choose one of stock to write the cut down."));
    let heading = row![widget::large(laid.headline.as_str()).width(Length::Fill), action]
        .spacing(space::TWO)
        .align_y(Alignment::Center);
    let parts = Column::with_children(laid.parts.iter().map(part)).spacing(space::ONE);
    let lines = Column::with_children(laid.lines.iter().map(|line| {
        row![widget::small(line.what.as_str()).width(Length::Fill), widget::small(line.amount.as_str())]
            .spacing(space::TWO)
            .into()
    }))
    .spacing(2);
    let body = column![
        heading,
        why,
        picture,
        state_line,
        parts,
        iced::widget::rule::horizontal(1).style(theme::hairline),
        lines,
        widget::small(laid.costs.as_str()),
    ]
    .spacing(space::ONE + space::HALF);
    container(body).padding([space::TWO, space::TWO + 2.0]).width(Length::Fill).style(theme::sheet).into()
}

fn part(part: &Part) -> Element<'_, Message> {
    let letter = container(widget::strong(part.letter.as_str())).center_x(24).style(theme::tag);
    let missing = part.missing.as_ref().map(|words| {
        row![widget::mark(Mark::Caution), widget::small(words.as_str())].spacing(space::HALF).align_y(Alignment::Center)
    });
    let about = column![
        row![widget::fitted(part.name.as_str()), widget::small(part.mass.as_str())].spacing(space::ONE),
        missing
    ];
    row![
        letter,
        widget::strong(part.count.as_str()),
        container(about).width(Length::Fill),
        column![
            widget::amount(part.all.as_str()),
            row![widget::small(part.each.as_str()), widget::small("each")].spacing(space::HALF)
        ]
        .align_x(Alignment::End)
    ]
    .spacing(space::ONE + space::HALF)
    .align_y(Alignment::Center)
    .into()
}
