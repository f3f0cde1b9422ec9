//! How the form of an item looks.

use super::form::{Change, Field, Form, Shape};
use super::{Message, read, words};
use crate::measure::{Unit, display, edit};
use crate::studio::{EnamelKind, Fusing, ItemKind, Metal};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Mark, choice, field, panel, primary, quiet_button};
use iced::widget::{Column, Row, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let head = row![
        column![
            widget::title(form.title.as_str()),
            widget::small("Enter accepts, Esc leaves. A name is enough; the rest can follow.")
        ]
        .width(Length::Fill),
        quiet_button("Leave it").on_press(Message::Close),
        primary("Accept").on_press_maybe((!shared.read_only()).then_some(Message::Save)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    let refusal = form.refusal.as_deref().map(|why| {
        widget::caution_line(Mark::Stop, why, Some("Nothing was changed; what you typed is still here.".to_owned()))
    });
    let first = column![name(form, shared), own(form, shared)].spacing(space::TWO).width(Length::Fill);
    let second = column![keeping(form, shared), origin(form, shared), buying(form, shared)]
        .spacing(space::TWO)
        .width(Length::Fill);
    let panels: Element<'_, Message> = if shared.is_narrow() {
        column![first, second].spacing(space::TWO).into()
    } else {
        row![first, second].spacing(space::THREE).into()
    };
    let page = column![head, refusal, panels].spacing(space::TWO);
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    scrollable(container(page).padding(room)).height(Length::Fill).style(theme::scroll).into()
}

/// A field of the form with its label, what is wrong with it and the keys.
fn typed<'a>(form: &'a Form, which: Field, label: &'a str, shared: &Shared) -> widget::Field<'a, Message> {
    field(label, form.text(which))
        .id(which.id())
        .error(read::problem(form, which, &shared.preferences))
        .on_input(move |text| Message::Form(Change::Typed(which, text)))
        .on_submit(Message::Save)
}

fn beside<'a>(parts: impl IntoIterator<Item = Element<'a, Message>>) -> Element<'a, Message> {
    Row::with_children(parts).spacing(space::TWO).into()
}

fn name<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let kinds = choice("Kind", ItemKind::ALL.map(|kind| (kind, kind.name())), Some(&form.kind), |kind| {
        Message::Form(Change::Kind(kind))
    });
    let unit: Element<'_, Message> = if form.unit_fixed || form.kind == ItemKind::Enamel {
        let why = if form.unit_fixed { "it has movements, so its unit stays" } else { "enamel is kept by weight" };
        widget::small(format!("Kept in {}: {why}", form.unit)).into()
    } else {
        choice("Kept in", Unit::ALL.map(|unit| (unit, unit.name())), Some(&form.unit), |unit| {
            Message::Form(Change::Unit(unit))
        })
    };
    panel(
        "What it is",
        "",
        column![
            typed(form, Field::Name, "Name", shared).placeholder("as you call it, e.g. Fen green"),
            kinds,
            unit,
            typed(form, Field::Reference, "Reference", shared).placeholder("left empty: the next of its kind"),
        ]
        .spacing(space::TWO),
    )
}

fn metals(form: &Form) -> Element<'_, Message> {
    let known = Metal::ALL.map(|metal| (Some(metal), metal.words()));
    let other = (form.kind == ItemKind::Finding).then_some((None, "another"));
    choice("Metal", known.into_iter().chain(other), Some(&form.metal), |metal| Message::Form(Change::Metal(metal)))
}

fn thickness<'a>(form: &'a Form, label: &'a str, shared: &'a Shared) -> Element<'a, Message> {
    typed(form, Field::Thickness, label, shared)
        .hint(format!("20 ga, 0.8 mm; a bare number is {}", edit::thickness_label(&shared.preferences)))
        .into()
}

/// What only its kind has.
fn own<'a>(form: &'a Form, shared: &'a Shared) -> Option<Element<'a, Message>> {
    let length = display::length_label(&shared.preferences);
    let heat = display::temperature_label(&shared.preferences);
    let (title, body): (&'static str, Vec<Element<'_, Message>>) = match form.kind {
        ItemKind::Sheet => (
            "Sheet",
            vec![
                metals(form),
                thickness(form, "Gauge or thickness", shared),
                beside([
                    typed(form, Field::SheetLength, "Length of one", shared).hint(length).into(),
                    typed(form, Field::SheetWidth, "Width of one", shared).hint(length).into(),
                ]),
            ],
        ),
        ItemKind::Wire => ("Wire", vec![metals(form), thickness(form, "Gauge or diameter", shared)]),
        ItemKind::Tube => (
            "Tube",
            vec![
                metals(form),
                beside([
                    typed(form, Field::Outer, "Outer diameter", shared).hint(length).into(),
                    typed(form, Field::Wall, "Wall", shared).hint(length).into(),
                ]),
            ],
        ),
        ItemKind::Blank => ("Blank", blank(form, shared)),
        ItemKind::Enamel => ("Enamel", enamel(form, shared)),
        ItemKind::Finding => ("Finding", vec![metals(form)]),
        ItemKind::Solder => (
            "Solder",
            vec![
                typed(form, Field::Flow, "Solder flow point", shared)
                    .hint(format!("{heat}, from its maker: firings are checked against it"))
                    .into(),
            ],
        ),
        ItemKind::Consumable | ItemKind::Packaging => return None,
    };
    Some(panel(title, "", Column::with_children(body).spacing(space::TWO)))
}

fn blank<'a>(form: &'a Form, shared: &'a Shared) -> Vec<Element<'a, Message>> {
    let length = display::length_label(&shared.preferences);
    let heat = display::temperature_label(&shared.preferences);
    let measure = |which, label| typed(form, which, label, shared).hint(length).into();
    let shape: Element<'_, Message> = match form.shape {
        Shape::Disc => beside([measure(Field::Long, "Diameter")]),
        Shape::Ellipse => beside([measure(Field::Long, "Length"), measure(Field::Short, "Width")]),
        Shape::Rectangle => beside([
            measure(Field::Long, "Length"),
            measure(Field::Short, "Width"),
            measure(Field::Corner, "Corner radius"),
        ]),
        Shape::Drop => beside([measure(Field::Long, "Height"), measure(Field::Short, "Width")]),
        Shape::Polygon => typed(form, Field::Points, "Corners", shared)
            .hint("mm, each corner x y, parted by ;")
            .placeholder("0 0; 20 0; 10 15")
            .into(),
        Shape::Path => typed(form, Field::Path, "Outline", shared)
            .hint("an SVG path in mm")
            .placeholder("M0 0 L20 0 L10 15 Z")
            .into(),
    };
    vec![
        metals(form),
        thickness(form, "Gauge or thickness", shared),
        choice("Outline, flat", Shape::ALL, Some(&form.shape), |shape| Message::Form(Change::Shape(shape))),
        shape,
        beside([
            measure(Field::Dome, "Dome height"),
            typed(form, Field::Holes, "Holes", shared)
                .hint(format!("diameters, {length}, parted by ;"))
                .placeholder("none")
                .into(),
        ]),
        typed(form, Field::Joint, "Soldered bail flows at", shared)
            .hint(format!("{heat}; empty where nothing is soldered"))
            .placeholder("no joint")
            .into(),
    ]
}

fn enamel<'a>(form: &'a Form, shared: &'a Shared) -> Vec<Element<'a, Message>> {
    let heat = display::temperature_label(&shared.preferences);
    let dot = read::swatch(form.text(Field::Swatch)).map(|rgb| {
        container(iced::widget::space().width(theme::TARGET).height(theme::TARGET))
            .style(theme::filled(theme::swatch(rgb)))
    });
    let fusing = std::iter::once((None, "not known")).chain(Fusing::ALL.map(|fusing| (Some(fusing), fusing.name())));
    vec![
        choice("Takes light", EnamelKind::ALL.map(|kind| (kind, kind.name())), Some(&form.enamel), |kind| {
            Message::Form(Change::Enamel(kind))
        }),
        row![typed(form, Field::Swatch, "Swatch", shared).hint("#3a6ea5 or 58, 110, 165").placeholder("#3a6ea5"), dot]
            .spacing(space::ONE)
            .align_y(Alignment::End)
            .into(),
        choice("Fusing", fusing, Some(&form.fusing), |fusing| Message::Form(Change::Fusing(fusing))),
        beside([
            typed(form, Field::Mesh, "Mesh", shared).placeholder("as sold, e.g. 80").into(),
            typed(form, Field::Low, "Lowest firing", shared).hint(heat).into(),
            typed(form, Field::High, "Highest firing", shared).hint(heat).into(),
        ]),
    ]
}

fn keeping<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let understood = read::understood(form.text(Field::Reorder), form.unit, &shared.preferences);
    let lead = tick("Bears lead", Chosen::from(form.lead), Some(Message::Form(Change::Lead)));
    let caution =
        form.lead.then(|| widget::caution_line(Mark::Caution, words::LEAD, Some(words::LEAD_ADVICE.to_owned())));
    let aside = tick("Set aside: kept, not offered", Chosen::from(form.aside), Some(Message::Form(Change::Aside)));
    panel(
        "Keeping it",
        "",
        column![
            typed(form, Field::Reorder, "Reorder level", shared)
                .hint(understood)
                .placeholder("at or below this it is low; empty for never"),
            typed(form, Field::Shelf, "Shelf", shared).placeholder("where it stands"),
            lead,
            caution,
            aside,
        ]
        .spacing(space::TWO),
    )
}

fn origin<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    panel(
        "Where it comes from",
        "",
        column![
            beside([
                typed(form, Field::Maker, "Maker", shared).into(),
                typed(form, Field::MakerNumber, "Maker's number", shared).into(),
            ]),
            typed(form, Field::Supplier, "Supplier", shared),
            typed(form, Field::Note, "Note", shared),
        ]
        .spacing(space::TWO),
    )
}

/// What running out and the shopping list go by.
fn buying<'a>(form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    panel(
        "How it is bought",
        "for running out and the shopping list",
        column![
            typed(form, Field::Pack, "Pack as bought", shared)
                .hint(read::pack_understood(form, &shared.preferences))
                .placeholder(read::pack_example(form.unit)),
            beside([
                typed(form, Field::LeadDays, "Lead time", shared)
                    .hint("days")
                    .placeholder("empty: as planned for all")
                    .into(),
                typed(form, Field::LeastPacks, "Fewest packs", shared).hint("an order").placeholder("empty: 1").into(),
            ]),
        ]
        .spacing(space::TWO),
    )
}
