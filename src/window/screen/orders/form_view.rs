//! How the form of an order looks.

use super::form::{Change, FIND, Field, Form, Line, Part};
use super::read::{self, Reader};
use super::{Message, words};
use crate::costing::landed::SpreadBy;
use crate::measure::{Unit, display};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Mark, choice, field, link, panel, primary, quiet_button};
use iced::widget::{Column, Row, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let title = column![
        widget::title(form.title.as_str()),
        widget::small("Enter saves it, Esc leaves it. Amounts are those of the invoice, in its currency."),
    ];
    let buttons = row![
        quiet_button("Leave it").on_press(Message::Close),
        primary("Save the order").on_press_maybe((!shared.read_only()).then_some(Message::Save)),
    ]
    .spacing(space::ONE);
    let head: Element<'_, Message> = if shared.is_narrow() {
        column![title, buttons].spacing(space::ONE).into()
    } else {
        row![title.width(Length::Fill), buttons].spacing(space::TWO).align_y(Alignment::Center).into()
    };
    let refusal = form.refusal.as_deref().map(|why| {
        widget::caution_line(Mark::Stop, why, Some("Nothing was changed; what you typed is still here.".to_owned()))
    });
    let lead = form
        .lines
        .iter()
        .any(|line| line.lead)
        .then(|| widget::caution_line(Mark::Caution, words::LEAD, Some(words::LEAD_ADVICE.to_owned())));
    let body = column![
        head,
        refusal,
        placed(form, shared),
        lines(form, shared),
        charges(form, shared),
        rest(form, shared),
        lead
    ]
    .spacing(space::TWO);
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    scrollable(container(body).padding(room)).height(Length::Fill).style(theme::scroll).into()
}

/// A field of the form with its label, what is wrong with it and the keys.
fn typed<'a>(form: &'a Form, which: Field, label: &'a str, shared: &Shared) -> widget::Field<'a, Message> {
    field(label, form.text(which))
        .id(which.id())
        .error(read::problem(form, which, &shared.preferences))
        .on_input(move |text| Message::Form(Change::Typed(which, text)))
        .on_submit(Message::Save)
}

/// Fields beside each other, or below each other where it is narrow.
fn beside<'a>(parts: Vec<Element<'a, Message>>, shared: &Shared) -> Element<'a, Message> {
    if shared.is_narrow() {
        Column::with_children(parts).spacing(space::ONE + space::HALF).into()
    } else {
        Row::with_children(parts).spacing(space::TWO).into()
    }
}

fn placed<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let with = Reader { form, preferences: &shared.preferences };
    let currency = with.currency().map_or("", |currency| currency.name());
    let first = beside(
        vec![
            typed(form, Field::Supplier, "Supplier", shared).placeholder("from whom").into(),
            typed(form, Field::Reference, "Order number", shared).placeholder("theirs or yours").into(),
            typed(form, Field::Date, "Date", shared).hint("year-month-day").into(),
        ],
        shared,
    );
    let code = typed(form, Field::Currency, "Currency", shared).hint(currency).placeholder("e.g. EUR");
    let rate = with.is_foreign().then(|| {
        let hint =
            format!("{} for one {}", shared.preferences.currency.code(), form.trimmed(Field::Currency).to_uppercase());
        typed(form, Field::Rate, "Rate of the day", shared).hint(hint).placeholder("e.g. 1.0837").into()
    });
    let gap = rate.is_none().then(|| iced::widget::space().width(Length::Fill).into());
    let second = beside(std::iter::once(code.into()).chain(rate).chain(gap).collect(), shared);
    panel("The order", "", column![first, second].spacing(space::ONE + space::HALF))
}

fn lines<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let all = form.lines.iter().map(|line| of_line(form, line, shared));
    let label = if form.lines.is_empty() { "What is ordered" } else { "Another line" };
    let nothing = form.found.is_empty() && !form.wanted.trim().is_empty();
    let nothing = nothing.then(|| format!("no item is like {:?}: add it in Stock first", form.wanted.trim()));
    let pick = field(label, form.wanted.as_str())
        .id(FIND)
        .hint("Ctrl+N")
        .placeholder("name, reference, maker")
        .error(nothing)
        .on_input(Message::Find)
        .on_submit(Message::AddFirst);
    let found = form.found.iter().map(|option| link(option.words.as_str()).on_press(Message::Add(option.id)).into());
    let pick = column![Element::from(pick), Column::with_children(found)];
    let sum = (!form.sum.is_empty())
        .then(|| container(widget::strong(form.sum.as_str())).align_right(Length::Fill).padding([space::HALF, 0.0]));
    let trouble = form.trouble.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    let width = if shared.is_narrow() { Length::Fill } else { Length::Fixed(420.0) };
    panel(
        "Lines",
        "pick an item, Enter takes the first; then packs, the pack as bought, and what all of them cost",
        column![Column::with_children(all).spacing(space::TWO), container(pick).width(width), sum, trouble]
            .spacing(space::TWO),
    )
}

fn of_line<'a>(form: &'a Form, line: &'a Line, shared: &'a Shared) -> Element<'a, Message> {
    let key = line.key;
    let part = |part, label| typed(form, Field::Line(key, part), label, shared);
    let with = Reader { form, preferences: &shared.preferences };
    let holds = with.pack(line).map_or_else(
        |_| String::new(),
        |pack| format!("= {}", display::quantity(pack.quantity.amount(), line.unit, &shared.preferences)),
    );
    let pack: Element<'_, Message> = if line.is_held() {
        // What came came in that pack.
        field("Pack", form.text(Field::Line(key, Part::Pack))).hint(holds).into()
    } else {
        part(Part::Pack, "Pack").hint(holds).placeholder(example(line.unit)).into()
    };
    let weight = (form.spread == SpreadBy::Weight).then(|| {
        part(Part::Weight, "Weight of all").placeholder("e.g. 2 lb").figures().width(Length::FillPortion(2)).into()
    });
    let fields = [
        part(Part::Packs, "Packs").figures().width(Length::FillPortion(1)).into(),
        container(pack).width(Length::FillPortion(3)).into(),
        part(Part::Price, "Price of all").figures().width(Length::FillPortion(2)).into(),
    ];
    let fields = Row::with_children(fields.into_iter().chain(weight)).spacing(space::ONE);
    let lead = line.lead.then(|| container(widget::small("lead")).padding([1.0, 6.0]).style(theme::chip));
    let came = line.is_held().then(|| widget::small(format!("{} came", words::count(line.came, &shared.preferences))));
    let remove = link("Remove").on_press_maybe((!line.is_held()).then_some(Message::Form(Change::Remove(key))));
    let name = row![widget::strong(line.name.as_str()), lead, came].spacing(space::ONE).align_y(Alignment::Center);
    let landed = (!line.landed.is_empty()).then(|| {
        row![
            container(widget::small(line.how.as_str())).width(Length::Fill),
            widget::small("landed"),
            widget::amount(line.landed.as_str()).font(theme::STRONG)
        ]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
    });
    let moves = line.moves.as_deref().map(|words| widget::caution_line(Mark::Caution, words, None));
    column![row![container(name.wrap()).width(Length::Fill), remove].align_y(Alignment::Center), fields, landed, moves,]
        .spacing(space::HALF)
        .into()
}

const fn example(unit: Unit) -> &'static str {
    match unit {
        Unit::Gram => "e.g. 1 lb jar",
        Unit::Each => "e.g. pack of 50",
        Unit::Millimetre => "e.g. spool of 100 ft",
        Unit::Millilitre => "e.g. 500 ml bottle",
    }
}

fn charges<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let charge = |which, label, example| typed(form, which, label, shared).placeholder(example).figures().into();
    let amounts = beside(
        vec![
            charge(Field::Freight, "Freight and handling", "e.g. 12.95"),
            charge(Field::Duty, "Duty and tax you do not get back", ""),
            charge(Field::Discount, "Discount, taken off", ""),
        ],
        shared,
    );
    let spread = choice(
        "Spread over the lines by",
        [(SpreadBy::Value, "their price"), (SpreadBy::Weight, "their weight")],
        Some(&form.spread),
        |spread| Message::Form(Change::Spread(spread)),
    );
    panel("Freight, duty, discount", "of the whole order", column![amounts, spread].spacing(space::ONE + space::HALF))
}

fn rest<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let closed = tick("Nothing more is expected", Chosen::from(form.closed), Some(Message::Form(Change::Closed)));
    panel("Besides", "", column![typed(form, Field::Note, "Note", shared), closed].spacing(space::ONE))
}
