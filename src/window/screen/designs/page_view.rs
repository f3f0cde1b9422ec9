//! How a design's page is laid out.

use super::hand::Hand;
use super::page::Page;
use super::room::Message;
use super::{about_view, blank_view, channels_view, curve_view, materials_view, prices_view, rates_view, stairs_view};
use super::{change::Change, change::KindOfStep, step_view};
use crate::window::Shared;
use crate::window::draw::strip::RouteStrip;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::{self, Mark, Press, mark, prose};
use iced::widget::{Row, column, container, row, scrollable, space as gap, text};
use iced::{Alignment, Element, Length};

/// The id the strip takes the keyboard under.
pub const STRIP: &str = "route-strip";

/// The page.
pub fn view<'a>(page: &'a Page, shared: &'a Shared) -> Element<'a, Message> {
    let narrow = shared.is_narrow();
    let content = column![
        header(page, shared),
        route(page, shared),
        page.open.adding.then(|| adding(page)),
        page.open.hand.map(|hand| in_hand(page, hand, shared)),
        figures(page, shared, narrow),
        foot(page, shared),
    ]
    .spacing(space::TWO)
    .padding(iced::Padding::from([space::TWO + space::HALF, space::THREE]));
    scrollable(content).id("design-page").style(theme::scroll).width(Length::Fill).height(Length::Fill).into()
}

fn header<'a>(page: &'a Page, shared: &'a Shared) -> Element<'a, Message> {
    let design = &page.draft.content.design;
    let name = row![prose::title(design.name.as_str()), prose::quiet(design.code.as_str()),]
        .spacing(space::TWO)
        .align_y(Alignment::End);
    let sentence = page.figures.as_ref().map(|figures| prose::quiet(figures.sentence.as_str()));
    let words = column![
        row![widget::link("‹ Designs").on_press(Message::Close), name].spacing(space::ONE).align_y(Alignment::Center),
        sentence,
    ]
    .spacing(space::HALF)
    .width(Length::Fill);
    let count = page.draft.firings();
    let fewest = page.figures.as_ref().map_or(1, |figures| figures.fewest);
    let fewer = (count > fewest).then(|| Message::Change(Change::Firings(count.saturating_sub(1))));
    let more = Message::Change(Change::Firings(count.saturating_add(1)));
    let step = |sign: &'a str, message: Option<Message>, id: &'static str| {
        Press::new(text(sign).size(size::LARGE).font(theme::STRONG))
            .id(id)
            .on_press_maybe(message)
            .width(theme::TARGET)
            .height(theme::TARGET)
            .padding(0.0)
            .style(theme::quiet_button)
    };
    let stepper = container(
        row![
            prose::quiet("Firings"),
            step("−", fewer, "firings-fewer"),
            container(prose::large(count.to_string())).center_x(36.0),
            step("+", Some(more), "firings-more"),
        ]
        .spacing(space::ONE)
        .align_y(Alignment::Center),
    )
    .padding([space::HALF, space::TWO])
    .style(theme::sheet);
    let full = page
        .figures
        .as_ref()
        .map(|figures| column![prose::small("Full cost"), prose::large(figures.full.as_str())].align_x(Alignment::End));
    let head: Element<'a, Message> = if shared.is_narrow() {
        column![words, row![stepper, gap().width(Length::Fill), full].align_y(Alignment::Center)]
            .spacing(space::ONE)
            .into()
    } else {
        row![words, stepper].spacing(space::THREE).align_y(Alignment::Start).into()
    };
    column![head, troubles(page, shared)].spacing(space::HALF).into()
}

/// What stands in the way, if anything: figures that are not of today's texts, a refused change, a book to look at.
fn troubles<'a>(page: &'a Page, shared: &'a Shared) -> Option<Element<'a, Message>> {
    let line = |kind: Mark, words: String| {
        let ink = if kind == Mark::Stop { theme::stop } else { theme::caution };
        row![mark(kind), text(words).size(size::BODY).style(ink)].spacing(space::ONE).align_y(Alignment::Center)
    };
    let refused = page.refused.as_ref().map(|refused| line(Mark::Stop, refused.clone()));
    let fault = page.fault.as_ref().map(|fault| line(Mark::Stop, format!("The figures below are older: {fault}")));
    let typed = (page.fault.is_none() && page.draft.has_problem())
        .then(|| line(Mark::Caution, "A field cannot be read: the figures below go without it".to_owned()));
    let look = shared
        .read_only()
        .then(|| line(Mark::Caution, "This book is open to look only: changes here are not kept".to_owned()));
    if refused.is_none() && fault.is_none() && typed.is_none() && look.is_none() {
        return None;
    }
    Some(column![refused, fault, typed, look].spacing(space::HALF).into())
}

fn route<'a>(page: &'a Page, shared: &'a Shared) -> Element<'a, Message> {
    let buttons = Hand::BUTTONS.into_iter().map(|(hand, words)| {
        let chosen = Chosen::from(page.open.hand == Some(hand));
        Press::new(text(words).size(size::BODY).wrapping(text::Wrapping::None))
            .id(format!("hand-{}", words.to_lowercase().replace([' ', ','], "-")))
            .padding([0.0, space::ONE + space::HALF])
            .height(theme::TARGET)
            .style(theme::choice(chosen))
            .on_press(Message::TakeInHand(hand))
            .into()
    });
    let buttons = Row::with_children(buttons).spacing(space::HALF);
    let words = row![
        prose::strong("Route"),
        prose::small("width is cost; firings in the colour of their heat").width(Length::Fill),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    let head: Element<'a, Message> = if shared.is_narrow() {
        column![buttons.wrap(), words].spacing(space::HALF).into()
    } else {
        row![words, buttons].spacing(space::ONE).align_y(Alignment::Center).into()
    };
    let strip = page
        .figures
        .as_ref()
        .map(|figures| RouteStrip::new(STRIP, &figures.strip, figures.version, chosen_place(page), Message::Strip));
    column![head, strip].spacing(space::ONE).into()
}

/// The place of the step in hand, as far as the strip shows the same steps.
fn chosen_place(page: &Page) -> Option<usize> {
    page.place()
}

fn adding(page: &Page) -> Element<'_, Message> {
    let after = page.place().or_else(|| page.draft.content.design.steps.len().checked_sub(1));
    let buttons = KindOfStep::ALL.into_iter().map(|(kind, words)| {
        widget::quiet_button(words).on_press(Message::Change(Change::AddStep(after, kind))).into()
    });
    let place = match page.place() {
        Some(place) => format!("A new step after step {}", place + 1),
        None => "A new step at the end".to_owned(),
    };
    widget::panel_with(
        "Add a step",
        place,
        widget::link("Close").on_press(Message::Strip(crate::window::draw::strip::StripEvent::Add)),
        Row::with_children(buttons).spacing(space::ONE).wrap(),
    )
}

fn in_hand<'a>(page: &'a Page, hand: Hand, shared: &'a Shared) -> Element<'a, Message> {
    let body = match hand {
        Hand::Step => step_view::view(page, shared),
        Hand::Blank => blank_view::view(page, shared),
        Hand::Materials => materials_view::view(page, shared),
        Hand::Rates => rates_view::view(page, shared),
        Hand::Channels => channels_view::view(page, shared),
        Hand::About => about_view::view(page, shared),
    };
    container(body).id("in-hand").into()
}

/// Full cost and tickets in a line, so that they are in sight beside what is being changed.
pub fn summary(page: &Page) -> String {
    page.figures.as_ref().map(|figures| figures.summary.clone()).unwrap_or_default()
}

fn figures<'a>(page: &'a Page, shared: &'a Shared, narrow: bool) -> Option<Element<'a, Message>> {
    let figures = page.figures.as_ref()?;
    let stairs = stairs_view::view(page, figures, shared);
    let prices = prices_view::view(page, figures, shared);
    let upper: Element<'a, Message> = if narrow {
        column![stairs, prices].spacing(space::TWO).into()
    } else {
        row![container(stairs).width(Length::FillPortion(10)), container(prices).width(Length::FillPortion(9))]
            .spacing(space::THREE)
            .into()
    };
    Some(column![upper, curve_view::view(page, figures, shared)].spacing(space::TWO).into())
}

fn foot<'a>(page: &'a Page, shared: &'a Shared) -> Element<'a, Message> {
    let writes = |message: Message| (!shared.read_only()).then_some(message);
    let retired = page.id().and_then(|id| shared.snapshot.design(id)).is_some_and(|book| book.retired);
    let aside = if retired { "Take up again" } else { "Set aside" };
    Row::with_children([
        widget::quiet_button("Start a batch").on_press_maybe(writes(Message::StartBatch).filter(|_| !retired)).into(),
        widget::quiet_button("Tags and care cards").on_press(Message::Papers).into(),
        widget::link("Duplicate").on_press_maybe(writes(Message::AskDuplicate)).into(),
        widget::link("Write to a file").on_press(Message::AskExport).into(),
        widget::link(aside).on_press_maybe(writes(Message::Retire(!retired))).into(),
    ])
    .spacing(space::ONE)
    .wrap()
    .into()
}
