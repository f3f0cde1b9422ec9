//! How what runs out looks: the list, the item in hand with its reason, the planning figures.

use super::figures::Field;
use super::rows::Row;
use super::{Message, Page, State};
use crate::costing::buying_words::Part;
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Column, Mark, field, link, listing, panel, primary, quiet_button};
use iced::widget::{column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// What stands beside the item in hand where it bears lead.
const LEAD: &str = "This item bears lead";
/// What to do about it. Usual cautions of the trade; local rules come first.
const LEAD_BRIEF: &str = "Mind its dust when weighing and sifting; local rules on lead come first.";

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let narrow = shared.is_narrow();
    let back = link("‹ Stock").on_press(Message::ToStock);
    if shared.snapshot.stock.is_empty() {
        let nothing = widget::empty(
            "Nothing on the shelf yet",
            "Once items are on the shelf and their use is written down, this page says when each runs out and what to buy.",
            Some(primary("To Stock").on_press(Message::ToStock).into()),
        );
        return container(column![back, nothing].spacing(space::TWO)).padding(space::THREE).into();
    }
    let title = column![back, widget::title("Running out"), widget::small(state.summary.as_str())].width(Length::Fill);
    let list_button = primary("Shopping list").on_press(Message::Page(Page::Shopping));
    let trouble = state.trouble.as_deref().map(|trouble| widget::caution_line(Mark::Stop, trouble, None));
    let sheet = container(list(state, shared)).padding([space::HALF, space::ONE]).style(theme::sheet);
    if narrow {
        let body = column![
            title,
            list_button,
            trouble,
            figures(state, shared),
            filters(state),
            sheet.height(420),
            state.plan_in_hand().map(|_| container(detail(state, shared)).style(theme::sheet).width(Length::Fill)),
        ]
        .spacing(space::TWO)
        .padding(space::TWO);
        return scrollable(body).style(theme::scroll).into();
    }
    let head = row![title, list_button].spacing(space::TWO).align_y(Alignment::End);
    let tall = shared.size.height > 1000.0;
    // With the planning figures open there is less room for both.
    let most = match (tall, state.changing) {
        (true, _) => 420.0,
        (false, false) => 300.0,
        (false, true) => 180.0,
    };
    let below = state.plan_in_hand().map(|_| {
        container(scrollable(detail(state, shared)).style(theme::scroll))
            .style(theme::sheet)
            .width(Length::Fill)
            .max_height(most)
    });
    column![head, trouble, figures(state, shared), filters(state), sheet.height(Length::Fill), below]
        .spacing(space::ONE + space::HALF)
        .padding(space::THREE)
        .into()
}

fn filters(state: &State) -> Element<'_, Message> {
    let find = field("", state.filter.text.as_str())
        .placeholder("Find: name, reference, supplier")
        .id("buying-find")
        .width(260)
        .on_input(Message::Find);
    let buy = tick("only what to buy now", Chosen::from(state.filter.buy), Some(Message::BuyOnly));
    iced::widget::Row::with_children([find.into(), buy])
        .spacing(space::TWO)
        .align_y(Alignment::Center)
        .wrap()
        .vertical_spacing(space::ONE)
        .into()
}

fn figures<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    if !state.changing {
        return iced::widget::Row::with_children([
            widget::small(state.planned_with.as_str()).into(),
            link("Change these figures").on_press(Message::Figures).into(),
        ])
        .align_y(Alignment::Center)
        .spacing(space::ONE)
        .wrap()
        .into();
    }
    let fields = Field::ALL.into_iter().map(|which| {
        let typed = field(which.label(), state.figures.text(which))
            .id(which.id())
            .error(state.figures.problem(which, &shared.preferences))
            .figures()
            .on_input(move |text| Message::Figure(which, text))
            .on_submit(Message::Plan);
        column![Element::from(typed), widget::small(which.meaning())].spacing(2).width(176).into()
    });
    let plan = quiet_button("Plan with these").on_press_maybe(state.figures.is_changed().then_some(Message::Plan));
    let buttons = row![plan, link("Close").on_press(Message::Figures)].spacing(space::ONE);
    panel(
        "Planning figures",
        "kept while this book is open in this window, not in the book",
        column![
            iced::widget::Row::with_children(fields).spacing(space::TWO).wrap().vertical_spacing(space::ONE),
            buttons
        ]
        .spacing(space::ONE),
    )
}

fn list<'a>(state: &'a State, shared: &Shared) -> Element<'a, Message> {
    if state.shown.is_empty() {
        let words = if state.plans.is_none() {
            "Working out what runs out …"
        } else if state.filter.buy && state.filter.text.is_empty() {
            "Nothing is to be bought now."
        } else {
            "No item is like that. Take a word out of “Find”, or show all."
        };
        return container(widget::quiet(words)).padding(space::TWO).into();
    }
    let mut columns: Vec<Column<'_, Row, Message>> = vec![
        Column::new("Item", Length::FillPortion(3), name),
        Column::words("Runs out", 92, |row: &Row| row.runs_out.as_str()),
        Column::words("Order by", 92, |row: &Row| row.order_by.as_str()),
        Column::new("Look", 104, look),
    ];
    if !shared.is_narrow() {
        columns.push(Column::figures("A week", 84, |row: &Row| row.week.as_str()));
        columns.push(Column::figures("Weeks left", 76, |row: &Row| row.weeks_left.as_str()));
        columns.push(Column::figures("Buy again at", 88, |row: &Row| row.buy_at.as_str()));
        columns.push(Column::words("Order", Length::FillPortion(2), |row: &Row| row.order.as_str()));
        columns.push(Column::figures("On order", 76, |row: &Row| row.on_order.as_str()));
    }
    listing::listing(&state.list, columns, &state.shown, Message::List)
}

fn name(of: &Row) -> Element<'_, Message> {
    let swatch = of.swatch.map(|color| widget::mark(Mark::Swatch(color)));
    let gap = of.swatch.is_none().then(|| iced::widget::space().width(14));
    row![swatch, gap, widget::fitted(of.name.as_str())].spacing(space::ONE).align_y(Alignment::Center).into()
}

fn look(of: &Row) -> Element<'_, Message> {
    let buy = of.buy.then(|| {
        row![widget::mark(Mark::Caution), widget::amount("buy").style(theme::caution)]
            .spacing(space::HALF)
            .align_y(Alignment::Center)
    });
    row![buy, of.lead.then(lead_chip)].spacing(space::ONE).align_y(Alignment::Center).into()
}

/// The mark of what bears lead.
pub(super) fn lead_chip<'a>() -> Element<'a, Message> {
    container(widget::small("lead")).padding([1.0, 6.0]).style(theme::chip).into()
}

/// The item in hand with its reason.
fn detail<'a>(state: &'a State, shared: &Shared) -> Element<'a, Message> {
    let Some(plan) = state.plan_in_hand() else { return iced::widget::space().into() };
    let head = row![
        widget::strong(plan.want.name.as_str()),
        widget::small(plan.want.reference.as_str()).width(Length::Fill),
        link("Open in Stock").on_press(Message::OpenItem),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    let lead = plan.want.lead_bearing.then(|| widget::caution_line(Mark::Caution, LEAD, Some(LEAD_BRIEF.to_owned())));
    let parts: Element<'_, Message> = if shared.is_narrow() {
        told(&state.parts).into()
    } else {
        // What it is used and how long it lasts beside what to buy.
        let (first, second) = state.parts.split_at(state.parts.len().div_ceil(2));
        row![told(first), told(second)].spacing(space::FOUR).into()
    };
    column![head, lead, parts].spacing(space::ONE).padding([space::ONE, space::TWO]).into()
}

fn told(parts: &[Part]) -> iced::widget::Column<'_, Message> {
    iced::widget::Column::with_children(
        parts.iter().map(|part| column![widget::strong(part.title), widget::body(part.text.as_str())].into()),
    )
    .spacing(space::ONE)
    .width(Length::Fill)
}
