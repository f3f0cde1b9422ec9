//! How the form of a movement looks.

use super::detail::Detail;
use super::moving::{Change, Field, Moving, Origin, TakenAt};
use super::{Message, read, words};
use crate::book::StockRow;
use crate::measure::display;
use crate::studio::MovementKind;
use crate::window::Shared;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::{self, Mark, Press, choice, field, modal, primary, quiet_button};
use iced::widget::{Column, column, row, text};
use iced::{Alignment, Element, Length};

pub(super) fn sheet<'a>(
    moving: &'a Moving,
    item: &'a StockRow,
    detail: Option<&'a Detail>,
    shared: &'a Shared,
) -> Element<'a, Message> {
    let unit = item.item.unit;
    let on_hand = display::quantity(item.on_hand.amount(), unit, &shared.preferences);
    let kinds = choice("", MovementKind::ALL.map(|kind| (kind, words::verb(kind))), Some(&moving.kind), |kind| {
        Message::Moving(Change::Kind(kind))
    });
    let amount = match moving.kind {
        MovementKind::Count => "Counted or weighed",
        _ => "Quantity",
    };
    let quantity = typed(moving, Field::Quantity, amount, item, shared)
        .hint(read::understood(moving.text(Field::Quantity), unit, &shared.preferences))
        .placeholder(match unit {
            crate::measure::Unit::Gram => "e.g. 2 oz, 1/4 lb, 56.7 g",
            crate::measure::Unit::Each => "e.g. 12 or 1 dozen",
            crate::measure::Unit::Millimetre => "e.g. 2 m, 10 ft, 450 mm",
            crate::measure::Unit::Millilitre => "e.g. 250 ml, 8 fl oz",
        });
    let date = typed(moving, Field::Date, "Date", item, shared).hint("year-month-day").width(180);
    let taken_at = (moving.kind == MovementKind::WashBack).then(|| taken_at(moving, item, shared));
    let cost = moving.uses(Field::Cost).then(|| {
        let (name, hint) = match moving.kind {
            MovementKind::WashBack => ("Its cost", "all of it together"),
            _ => ("Landed cost", "all of it: price, duty, freight, less discount"),
        };
        typed(moving, Field::Cost, name, item, shared).hint(hint).placeholder("e.g. 12.50")
    });
    let origin = moving.uses(Field::LotNumber).then(|| {
        row![
            typed(moving, Field::LotNumber, "Lot number", item, shared),
            typed(moving, Field::Supplier, "Supplier", item, shared),
        ]
        .spacing(space::TWO)
    });
    let lots = (moving.kind == MovementKind::Return).then(|| lots(moving, detail));
    let why = match moving.kind {
        MovementKind::WriteOff => "Why: spilled, spoiled, lost",
        _ => "Note",
    };
    let preview = moving.preview.as_ref().map(|(mark, words)| widget::caution_line(*mark, words.as_str(), None));
    let lead = (item.item.lead_bearing && moving.kind != MovementKind::Count)
        .then(|| widget::caution_line(Mark::Caution, words::LEAD, Some(words::LEAD_ADVICE.to_owned())));
    let refusal = moving.refusal.as_deref().map(|why| {
        widget::caution_line(Mark::Stop, why, Some("Nothing was changed; what you typed is still here.".to_owned()))
    });
    let body = column![
        widget::small(format!("{on_hand} on hand today")),
        row![Element::from(quantity), Element::from(date)].spacing(space::TWO),
        taken_at,
        cost.map(Element::from),
        origin,
        lots,
        typed(moving, Field::Note, why, item, shared),
        preview,
        refusal,
        lead,
        kinds,
    ]
    .spacing(space::TWO)
    .padding(iced::padding::right(space::TWO));
    modal::sheet(
        format!("{} {}", words::verb(moving.kind), item.item.name),
        body,
        [
            quiet_button("Leave it").on_press(Message::Close).into(),
            primary("Write it down").on_press_maybe((!shared.read_only()).then_some(Message::Book)).into(),
        ],
    )
}

fn typed<'a>(
    moving: &'a Moving,
    which: Field,
    label: &'a str,
    item: &StockRow,
    shared: &Shared,
) -> widget::Field<'a, Message> {
    field(label, moving.text(which))
        .id(which.id())
        .error(moving.problem(which, item, &shared.preferences))
        .on_input(move |text| Message::Moving(Change::Typed(which, text)))
        .on_submit(Message::Book)
}

/// What reclaimed enamel is taken in at.
fn taken_at<'a>(moving: &'a Moving, item: &'a StockRow, shared: &Shared) -> Element<'a, Message> {
    let ways = choice(
        "Taken in at",
        [(TakenAt::Nothing, "nothing"), (TakenAt::Stated, "a cost I state"), (TakenAt::Item, "the cost of an item")],
        Some(&moving.taken_at),
        |taken_at| Message::Moving(Change::TakenAt(taken_at)),
    );
    let from = moving.uses(Field::From).then(|| {
        let pick = widget::pick(
            "Reclaimed from",
            &moving.origins,
            "type a name or reference",
            moving.from.as_ref(),
            |origin: Origin| Message::Moving(Change::From(origin.id)),
        );
        let problem = moving.problem(Field::From, item, &shared.preferences);
        column![
            pick,
            problem.map(|why| widget::caution_line(Mark::Stop, why, None)),
            widget::small("At what a unit of it costs that day. Where that is corrected later, this lot follows.")
        ]
        .spacing(space::HALF)
    });
    column![ways, from].spacing(space::ONE).into()
}

/// The lots a return can go back from.
fn lots<'a>(moving: &'a Moving, detail: Option<&'a Detail>) -> Element<'a, Message> {
    let line = |lot, words: &'a str, left: &'a str| {
        Press::new(
            row![text(words).size(size::BODY).width(Length::Fill), widget::amount(left)]
                .spacing(space::TWO)
                .align_y(Alignment::Center),
        )
        .on_press(Message::Moving(Change::Lot(lot)))
        .width(Length::Fill)
        .height(theme::TARGET)
        .padding([0.0, space::ONE])
        .style(theme::choice(Chosen::from(moving.lot == lot)))
        .into()
    };
    let latest = std::iter::once(line(None, "the latest lot that can give it", ""));
    let known = detail
        .into_iter()
        .flat_map(|detail| &detail.lots)
        .filter(|lot| lot.id.is_some() && lot.bought)
        .map(|lot| line(lot.id, lot.words.as_str(), lot.left.as_str()));
    column![
        text("From the lot").size(size::SMALL).font(theme::STRONG),
        Column::with_children(latest.chain(known)).spacing(space::HALF)
    ]
    .spacing(space::HALF)
    .into()
}
