//! How counting looks.

use super::sheet::Sheet;
use super::tally::{Line, Shelf, Tally};
use super::{DATE, Message, NOTE, State, field_of};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Mark, choice, field, link, panel, primary};
use iced::alignment::Horizontal;
use iced::widget::{Column, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// What stands over shelves with something that bears lead on them.
const LEAD: &str = "Some of it bears lead";
/// What to do about it. Usual cautions of the trade; local rules come first.
const LEAD_ADVICE: &str = "Count it with the lids on. Where dust is about: wipe up wet, wear a mask made for fine dust, wash \
    your hands before eating. Local rules on lead come first.";

/// The page.
pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let tally = &state.tally;
    let back = link("‹ Stock").on_press(Message::Stock);
    if tally.names.is_empty() {
        let advice =
            "Add what you keep to the stock, with the shelf it stands on; then it is counted here shelf by shelf.";
        let add = primary("To the stock").on_press(Message::Stock).into();
        return column![back, widget::title("Count"), widget::empty("Nothing to count yet", advice, Some(add))]
            .spacing(space::TWO)
            .padding(if shared.is_narrow() { space::TWO } else { space::THREE })
            .into();
    }
    let head = column![back, widget::title("Count"), widget::small(tally.progress.as_str())];
    let out = state.sheet.out.view(true, shared).map(Message::Out);
    let side = column![accepting(tally, shared), on_paper(state), out].spacing(space::TWO);
    let sheet = container(lines(tally, &state.sheet, shared)).padding([space::ONE, space::TWO]).style(theme::sheet);
    if shared.is_narrow() {
        let body =
            column![head, shelves(tally), sheet.width(Length::Fill), side].spacing(space::TWO).padding(space::TWO);
        return scrollable(body).style(theme::scroll).into();
    }
    let list = scrollable(sheet.width(Length::Fill)).spacing(space::HALF).style(theme::scroll).height(Length::Fill);
    let side = scrollable(side).spacing(space::HALF).style(theme::scroll).height(Length::Fill).width(330);
    column![head, shelves(tally), row![list, side].spacing(space::TWO).height(Length::Fill)]
        .spacing(space::TWO)
        .padding(space::THREE)
        .into()
}

fn shelves(tally: &Tally) -> Element<'_, Message> {
    let named = tally.names.iter().map(|name| (Some(name.clone()), name.as_str()));
    choice("Shelf", named.chain(std::iter::once((None, "every shelf"))), Some(&tally.shelf), Message::Shelf)
}

fn lines<'a>(tally: &'a Tally, sheet: &Sheet, shared: &Shared) -> Element<'a, Message> {
    let lead = tally.lead.then(|| widget::caution_line(Mark::Caution, LEAD, Some(LEAD_ADVICE.to_owned())));
    let shelves = tally.shown.iter().map(|shelf| one_shelf(shelf, tally, sheet.with_stock, shared));
    column![lead, Column::with_children(shelves).spacing(space::TWO)].spacing(space::TWO).into()
}

fn one_shelf<'a>(shelf: &'a Shelf, tally: &'a Tally, with_stock: bool, shared: &Shared) -> Element<'a, Message> {
    let narrow = shared.is_narrow();
    let figure = |words: &'a str, width: f32| {
        container(widget::amount(words))
            .width(width)
            .align_x(Horizontal::Right)
            .height(theme::TARGET)
            .align_y(Alignment::Center)
    };
    let label = |words: &'a str, width: f32| container(widget::small(words)).width(width).align_x(Horizontal::Right);
    let heading = row![widget::strong(shelf.name.as_str()).width(Length::Fill)]
        .push(with_stock.then(|| label("In the book", 86.0)))
        .push(container(widget::small("Counted")).width(200.0))
        .push((!narrow).then(|| label("Difference", 96.0)))
        .push((!narrow).then(|| label("Worth", 86.0)))
        .spacing(space::TWO)
        .align_y(Alignment::End);
    let lines = shelf.lines.iter().map(|line| {
        let count = container(counted(line, tally)).width(200.0);
        let first = row![container(name(line)).width(Length::Fill).height(theme::TARGET).align_y(Alignment::Center)]
            .push(with_stock.then(|| figure(&line.on_hand, 86.0)))
            .push(count)
            .push((!narrow).then(|| figure(&line.difference, 96.0)))
            .push((!narrow).then(|| figure(&line.value, 86.0)))
            .spacing(space::TWO)
            .align_y(Alignment::Start);
        let below = (narrow && !line.difference.is_empty()).then(|| {
            container(
                row![widget::amount(line.difference.as_str()), widget::amount(line.value.as_str())].spacing(space::TWO),
            )
            .width(Length::Fill)
            .align_x(Horizontal::Right)
        });
        column![first, below].into()
    });
    column![
        heading,
        iced::widget::rule::horizontal(1).style(theme::hairline),
        Column::with_children(lines).spacing(space::HALF)
    ]
    .spacing(space::ONE)
    .into()
}

fn name(line: &Line) -> Element<'_, Message> {
    let lead = line.lead.then(|| container(widget::small("lead")).padding([1.0, 6.0]).style(theme::chip));
    let aside = line.aside.then(|| widget::small("aside"));
    row![widget::fitted(line.name.as_str()), lead, widget::fitted(line.reference.as_str()).small(), aside]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
        .into()
}

fn counted<'a>(line: &'a Line, tally: &'a Tally) -> Element<'a, Message> {
    let id = line.id;
    let typed = field("", tally.text(id))
        .id(field_of(id))
        .figures()
        .error(line.problem.as_deref())
        .on_input(move |text| Message::Count(id, text))
        .on_submit(Message::Entered(id));
    let unit = container(widget::small(line.unit.as_str())).width(76).height(theme::TARGET).align_y(Alignment::Center);
    row![Element::from(typed), unit].spacing(space::ONE).into()
}

/// Day, note and acceptance.
fn accepting<'a>(tally: &'a Tally, shared: &Shared) -> Element<'a, Message> {
    let date = field("Day", tally.date.text())
        .id(DATE)
        .hint("year-month-day")
        .error(tally.date_problem.as_deref())
        .on_input(Message::Date)
        .on_submit(Message::Accept);
    let note = field("Note", tally.note.text())
        .id(NOTE)
        .placeholder("e.g. count at the end of the year")
        .on_input(Message::Note)
        .on_submit(Message::Accept);
    let total: Element<'_, Message> = if tally.is_empty() {
        widget::quiet("Type what is there; an empty field is not counted. Enter goes on to the next.").into()
    } else {
        widget::large(tally.total.as_str()).into()
    };
    let refusal = tally.refusal.as_deref().map(|why| {
        widget::caution_line(Mark::Stop, why, Some("Nothing was changed; what you typed is still here.".to_owned()))
    });
    let can = !tally.is_empty() && !shared.read_only();
    let accept = primary("Accept the count").on_press_maybe(can.then_some(Message::Accept));
    panel(
        "What it comes to",
        "",
        column![total, refusal, Element::from(date), Element::from(note), accept].spacing(space::ONE + space::HALF),
    )
}

/// The count sheet.
fn on_paper(state: &State) -> Element<'_, Message> {
    let sheet = &state.sheet;
    let what = match &state.tally.shelf {
        Some(_) => "this shelf",
        None => "every shelf",
    };
    panel(
        "Count sheet",
        what,
        column![
            widget::small("A list to walk along the shelf with, and a box for each count."),
            tick("with what the book says", Chosen::from(sheet.with_stock), Some(Message::WithStock)),
            tick("on Letter paper instead of A4", Chosen::from(sheet.letter), Some(Message::Letter)),
        ]
        .spacing(space::ONE),
    )
}
