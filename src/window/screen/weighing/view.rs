//! How the scale looks.

use super::scale::{ItemRow, Meant, ReadRow, Scale};
use super::{CAUSE, DATE, GROSS, JAR, Message, Page, State, words};
use crate::measure::Unit;
use crate::measure::display;
use crate::window::Shared;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Column, Listing, Mark, field, link, listing, panel, primary, quiet_button};
use iced::widget::{Row, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

/// The page.
pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let scale = &state.scale;
    let back = link("‹ Stock").on_press(Message::Stock);
    let title = column![widget::title("Weigh in"), widget::small(scale.progress.as_str())].width(Length::Fill);
    let can_add = (!shared.read_only()).then_some(Message::New);
    if state.rows.is_empty() {
        let advice = "A jar is weighed with all that is in it, and its tare is taken off. Give each jar a label and write \
                      down what it weighs empty, lid and all; then a shelf is counted on the scale. Ctrl+N adds one.";
        let add = primary("Add a jar").on_press_maybe(can_add).into();
        return column![back, widget::title("Weigh in"), widget::empty("No jar has its tare yet", advice, Some(add))]
            .spacing(space::TWO)
            .padding(if shared.is_narrow() { space::TWO } else { space::THREE })
            .into();
    }
    let jars = quiet_button("Jars and tares").on_press(Message::Page(Page::Jars));
    let head = column![back, row![title, jars].spacing(space::TWO).align_y(Alignment::Center)];
    let lists = (list(scale, shared), items(scale, shared));
    if shared.is_narrow() {
        let body = column![
            head,
            typing(scale, shared),
            container(lists.0).height(340),
            container(lists.1).height(340),
            accepting(scale, shared)
        ]
        .spacing(space::TWO)
        .padding(space::TWO);
        return scrollable(body).style(theme::scroll).into();
    }
    let lists = row![
        container(lists.0).width(Length::FillPortion(4)).height(Length::Fill),
        container(lists.1).width(Length::FillPortion(6)).height(Length::Fill)
    ]
    .spacing(space::TWO)
    .height(Length::Fill);
    column![head, typing(scale, shared), lists, accepting(scale, shared)]
        .spacing(space::TWO)
        .padding(space::THREE)
        .into()
}

/// The two fields, and what is known of the jar that is meant.
fn typing<'a>(scale: &'a Scale, shared: &Shared) -> Element<'a, Message> {
    let narrow = shared.is_narrow();
    let short = scale.meant.as_ref().map(|meant| meant.short.as_str()).unwrap_or_default();
    let jar = field("Jar", scale.jar.text())
        .id(JAR)
        .hint(short)
        .placeholder("a label, or what is in it; Enter takes the next")
        .error(scale.jar_problem.as_deref())
        .width(if narrow { Length::Fill } else { Length::FillPortion(3) })
        .on_input(Message::Jar)
        .on_submit(Message::JarEntered);
    let gross = field("Weight with the jar", scale.gross.text())
        .id(GROSS)
        .hint(scale.ahead.as_str())
        .placeholder(match display::unit_label(Unit::Gram, &shared.preferences) {
            "oz" => "e.g. 8.4 or 238 g",
            _ => "e.g. 238.5 or 8.4 oz",
        })
        .error(scale.gross_problem.as_deref())
        .width(if narrow { Length::Fill } else { Length::FillPortion(2) })
        .on_input(Message::Gross)
        .on_submit(Message::Take);
    let put = container(quiet_button("Put it on the list").on_press(Message::Take)).padding(iced::padding::top(21));
    let fields: Element<'_, Message> = if narrow {
        column![Element::from(jar), Element::from(gross), put].spacing(space::ONE).into()
    } else {
        row![Element::from(jar), Element::from(gross), put].spacing(space::TWO).into()
    };
    let facts = scale.meant.as_ref().map(facts);
    let others = (!scale.others.is_empty()).then(|| {
        let others = scale.others.iter().map(|(id, name)| link(name.as_str()).on_press(Message::Choose(*id)).into());
        Row::with_children(std::iter::once(container(widget::small("or")).padding([9.0, 0.0]).into()).chain(others))
            .spacing(space::HALF)
            .wrap()
    });
    container(column![fields, facts, others].spacing(space::ONE))
        .padding([space::TWO, space::TWO + 2.0])
        .width(Length::Fill)
        .style(theme::sheet)
        .into()
}

fn facts(meant: &Meant) -> Element<'_, Message> {
    let lead =
        meant.lead.then(|| widget::caution_line(Mark::Caution, words::LEAD, Some(words::LEAD_ADVICE.to_owned())));
    column![widget::small(meant.facts.as_str()), lead].spacing(space::HALF).into()
}

/// What was read so far.
fn list<'a>(scale: &'a Scale, shared: &Shared) -> Element<'a, Message> {
    let body: Element<'_, Message> = if scale.rows.is_empty() {
        widget::quiet(
            "Nothing was weighed yet. Put a jar on the scale, type what it shows, press Enter; then the next.",
        )
        .into()
    } else {
        let mut columns: Vec<Column<'_, ReadRow, Message>> = vec![
            Column::new("Jar", Length::FillPortion(2), |row: &ReadRow| named(&row.label, &row.name, row.lead))
                .unsorted(),
            Column::figures("In it", 68, |row: &ReadRow| row.net.as_str()).unsorted(),
        ];
        if !shared.is_narrow() {
            columns.push(Column::figures("Expected", 70, |row: &ReadRow| row.expected.as_str()).unsorted());
        }
        columns.push(Column::figures("Difference", 76, |row: &ReadRow| row.difference.as_str()).unsorted());
        filled(&scale.list, columns, &scale.rows, Message::List)
    };
    let back = quiet_button("Take it back").on_press_maybe(scale.list.selected().map(|_| Message::TakeBack));
    let back = (!scale.rows.is_empty()).then_some(back);
    let subtitle = if scale.rows.is_empty() { "" } else { "the last on top" };
    widget::panel::panel_with("On the list", subtitle, row![back], container(body).height(Length::Fill))
}

/// What the items come to.
fn items<'a>(scale: &'a Scale, shared: &Shared) -> Element<'a, Message> {
    if scale.items.is_empty() {
        let words =
            "Here stands, item by item, what the book says, what the scale says, and what the difference is worth.";
        return panel("What it comes to", "", container(widget::quiet(words)).height(Length::Fill));
    }
    let mut columns: Vec<Column<'_, ItemRow, Message>> = vec![
        Column::new("Item", Length::FillPortion(2), |row: &ItemRow| named(&row.name, &row.remark, row.lead)).unsorted(),
        Column::figures("Weighed", 70, |row: &ItemRow| row.counted.as_str()).unsorted(),
    ];
    if !shared.is_narrow() {
        columns.push(Column::figures("In the book", 76, |row: &ItemRow| row.expected.as_str()).unsorted());
    }
    columns
        .push(Column::new("Difference", 112, |row: &ItemRow| differs(&row.difference, row.large)).right().unsorted());
    columns.push(Column::figures("Worth", 76, |row: &ItemRow| row.value.as_str()).unsorted());
    let list = filled(&scale.item_list, columns, &scale.items, Message::Items);
    panel("What it comes to", "all jars of an item together", list)
}

fn filled<'a, Of: 'a>(
    list: &'a Listing,
    columns: Vec<Column<'a, Of, Message>>,
    rows: &'a [Of],
    on_event: impl Fn(listing::Event) -> Message + 'a,
) -> Element<'a, Message> {
    container(listing::listing(list, columns, rows, on_event)).height(Length::Fill).into()
}

fn named<'a>(name: &'a str, more: &'a str, lead: bool) -> Element<'a, Message> {
    let lead = lead.then(|| container(widget::small("lead")).padding([1.0, 6.0]).style(theme::chip));
    let more = (!more.is_empty()).then(|| widget::fitted(more).small());
    row![lead, widget::fitted(name), more].spacing(space::ONE).align_y(Alignment::Center).into()
}

fn differs(difference: &str, large: bool) -> Element<'_, Message> {
    if !large {
        return widget::amount(difference).into();
    }
    row![
        widget::mark(Mark::Caution),
        widget::small("large").style(theme::caution),
        widget::amount(difference).style(theme::caution)
    ]
    .spacing(space::HALF)
    .align_y(Alignment::Center)
    .into()
}

/// Day, cause and acceptance.
fn accepting<'a>(scale: &'a Scale, shared: &Shared) -> Element<'a, Message> {
    let date = field("Day", scale.date.text())
        .id(DATE)
        .hint("year-month-day")
        .error(scale.date_problem.as_deref())
        .width(190)
        .on_input(Message::Date)
        .on_submit(Message::Accept);
    let cause = scale.asks_cause.then(|| {
        field("Cause", scale.cause.text())
            .id(CAUSE)
            .hint("of what is large")
            .placeholder("e.g. spilled, lent out, not written down")
            .error(scale.cause_problem.as_deref())
            .width(if shared.is_narrow() { 320 } else { 380 })
            .on_input(Message::Cause)
            .on_submit(Message::Accept)
    });
    let total = scale.ready.then(|| {
        column![widget::small("Differences together"), widget::large(scale.total.as_str())].width(Length::Shrink)
    });
    let can = !scale.rows.is_empty() && scale.waiting.is_empty() && !shared.read_only();
    let accept = container(primary("Accept what they weigh").on_press_maybe(can.then_some(Message::Accept)))
        .padding(iced::padding::top(21));
    let line = Row::new()
        .push(date)
        .push(cause.map(Element::from))
        .push(total)
        .push(accept)
        .spacing(space::TWO)
        .wrap()
        .vertical_spacing(space::ONE);
    let waiting = scale.waiting.iter().map(|words| widget::caution_line(Mark::Caution, words.as_str(), None));
    let refusal = scale.refusal.as_deref().map(|why| {
        widget::caution_line(
            Mark::Stop,
            why,
            Some("Nothing was changed; what you weighed is still on the list.".to_owned()),
        )
    });
    iced::widget::Column::with_children(waiting).push(refusal).push(line).spacing(space::ONE).into()
}
