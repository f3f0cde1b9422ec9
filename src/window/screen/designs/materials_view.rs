//! Materials: taken from stock at its price, or with a price of their own.

use super::blank_view::close;
use super::change::Change;
use super::field::{Field, MaterialPart};
use super::hand::Hand;
use super::input::{beside, figure, typed};
use super::options::StockOption;
use super::page::Page;
use super::page_view::summary;
use super::room::Message;
use super::rows::MaterialRow;
use crate::measure::Unit;
use crate::studio::{Fusing, Material, MaterialKind, Metal};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Mark, Press, mark, prose};
use iced::widget::{Column, Row, column, container, row};
use iced::{Alignment, Element, Length};

/// The editor of the materials.
pub fn view<'a>(page: &'a Page, shared: &'a Shared) -> Element<'a, Message> {
    let rows = page.rows.materials.iter().map(|found| {
        let open = page.open.material == Some(found.key);
        let swatch = match found.swatch {
            Some(colour) => Mark::Swatch(theme::swatch(colour)),
            None => Mark::Swatch(shared.palette.step),
        };
        let head = Press::new(
            row![
                mark(if open { Mark::Open } else { Mark::Closed }),
                mark(swatch),
                prose::body(found.name.as_str()).width(Length::FillPortion(4)),
                prose::small(found.what.as_str()).width(Length::FillPortion(3)),
                prose::small(found.source.as_str()).width(Length::FillPortion(3)),
                container(prose::amount(found.price.as_str())).width(110).align_x(Alignment::End),
            ]
            .spacing(space::ONE)
            .align_y(Alignment::Center),
        )
        .on_press(Message::OpenMaterial(found.key))
        .width(Length::Fill)
        .height(theme::TARGET)
        .padding([0.0, space::HALF])
        .style(theme::row(Chosen::No));
        let inner = open.then(|| opened(page, found, shared));
        column![head, inner].into()
    });
    let linking = page.open.linking.and_then(|key| page.rows.materials.iter().find(|found| found.key == key));
    let label = if linking.is_some() { "Link to stock" } else { "Add from stock" };
    let key = linking.map(|found| found.key);
    let pick = widget::pick(label, &page.stock, "type a name or reference", None, move |option: StockOption| {
        Message::Change(match key {
            Some(key) => Change::Link(key, Some(option.id)),
            None => Change::AddFromStock(option.id),
        })
    });
    let own = MaterialKind::ALL
        .map(|kind| widget::link(kind.name()).on_press(Message::Change(Change::AddMaterial(kind))).into());
    let add = row![
        container(pick).width(Length::FillPortion(2)),
        column![prose::small("or with a price of its own"), Row::with_children(own).wrap()]
            .width(Length::FillPortion(3))
    ]
    .spacing(space::TWO);
    let body = column![Column::with_children(rows), add].spacing(space::TWO);
    widget::panel_with("Materials", summary(page), close(Hand::Materials), body)
}

fn opened<'a>(page: &'a Page, found: &'a MaterialRow, shared: &'a Shared) -> Option<Element<'a, Message>> {
    let key = found.key;
    let place = page.draft.material_place(key)?;
    let material: &Material = page.draft.content.design.materials.get(place)?;
    let change = |change: Change| Message::Change(change);
    let price: Element<'a, Message> = if found.linked {
        column![prose::small("Price"), prose::body(found.price.as_str())].spacing(space::HALF).into()
    } else {
        let unit = match material.unit {
            Unit::Gram => "a gram",
            Unit::Each => "each",
            Unit::Millimetre => "a millimetre",
            Unit::Millilitre => "a millilitre",
        };
        figure(page, Field::Material(key, MaterialPart::Price), "Price", unit)
    };
    let first = beside(
        vec![
            typed(page, Field::Material(key, MaterialPart::Name), "Name", "").width(Length::FillPortion(2)).into(),
            price,
        ],
        shared.is_narrow(),
    );
    let links = Row::with_children([
        if found.linked {
            widget::link("Price of its own").on_press(change(Change::Link(key, None))).into()
        } else {
            let wanted = if page.open.linking == Some(key) { None } else { Some(key) };
            widget::link("Link to stock").on_press(Message::Linking(wanted)).into()
        },
        widget::link("Give the blank its shape")
            .on_press_maybe(found.has_shape.then(|| change(Change::TakeShape(key))))
            .into(),
        widget::link("Take out").on_press(change(Change::RemoveMaterial(key))).into(),
    ])
    .wrap();
    let kinds = MaterialKind::ALL.map(|kind| (kind, kind.name()));
    let kind = widget::choice("Kind", kinds, Some(&material.kind), move |kind| {
        Message::Change(Change::MaterialKind(key, kind))
    });
    let units = Unit::ALL.map(|unit| (unit, unit.name()));
    let unit = widget::choice("Used by", units, Some(&material.unit), move |unit| {
        Message::Change(Change::MaterialUnit(key, unit))
    });
    let fusing = (material.kind == MaterialKind::Enamel).then(|| {
        let classes = [
            (None, "not said"),
            (Some(Fusing::Soft), "soft"),
            (Some(Fusing::Medium), "medium"),
            (Some(Fusing::Hard), "hard"),
        ];
        widget::choice("Fuses", classes, Some(&material.fusing), move |fusing| {
            Message::Change(Change::Fusing(key, fusing))
        })
    });
    let metal = (material.kind != MaterialKind::Enamel).then(|| {
        let none = [(None, "none of these")];
        let metals = none.into_iter().chain(Metal::ALL.map(|metal| (Some(metal), metal.words())));
        widget::choice("Made of", metals, Some(&material.metal), move |metal| {
            Message::Change(Change::MaterialMetal(key, metal))
        })
    });
    let lead = tick(
        "Bears lead",
        Chosen::from(material.lead_bearing),
        Some(change(Change::Lead(key, !material.lead_bearing))),
    );
    let choices = if found.linked {
        column![links]
    } else {
        column![kind, row![unit, fusing].spacing(space::THREE), metal, lead, links].spacing(space::ONE)
    };
    Some(
        container(column![first, choices].spacing(space::ONE))
            .padding(iced::padding::left(space::FOUR).bottom(space::TWO))
            .into(),
    )
}
