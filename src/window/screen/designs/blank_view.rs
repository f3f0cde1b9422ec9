//! The blank: metal, thickness, outline with a live sketch, dome, holes, solder.

use super::change::Change;
use super::field::{Field, OutlinePart};
use super::input::{beside, figure, typed};
use super::outline_text::OutlineKind;
use super::page::Page;
use super::page_view::summary;
use super::room::Message;
use crate::measure::{Preferences, display};
use crate::studio::Metal;
use crate::window::Shared;
use crate::window::draw::outline::Outline;
use crate::window::theme::{self, space};
use crate::window::widget::{self, prose};
use iced::widget::{canvas, column, container, row};
use iced::{Element, Length};

/// The editor of the blank.
pub fn view<'a>(page: &'a Page, shared: &'a Shared) -> Element<'a, Message> {
    let narrow = shared.is_narrow();
    let preferences = Preferences::from(shared.settings());
    let blank = &page.draft.content.design.blank;
    let metals = Metal::ALL.map(|metal| (metal, metal.words()));
    let metal = widget::choice("Metal", metals, Some(&blank.metal), |metal| Message::Change(Change::Metal(metal)));
    let kind = OutlineKind::of(&blank.outline);
    let kinds = widget::choice("Outline", OutlineKind::ALL, Some(&kind), |kind| Message::Change(Change::Outline(kind)));
    let length = display::length_label(&preferences);
    let measures = kind.fields().iter().map(|(part, label)| {
        let field = Field::Outline(*part);
        if *part == OutlinePart::Points {
            typed(page, field, label, "").into()
        } else {
            figure(page, field, label, length)
        }
    });
    let measures = beside(measures.collect(), narrow);
    let others = beside(
        vec![
            typed(page, Field::Thickness, "Thickness", "gauge or mm").figures().into(),
            figure(page, Field::Dome, "Dome height", length),
            typed(page, Field::Holes, "Holes", length).placeholder("e.g. 2.5; 2.5").figures().into(),
            typed(page, Field::SolderFlow, "Solder flows at", display::temperature_label(&preferences))
                .placeholder("no joint")
                .figures()
                .into(),
            figure(page, Field::Count, "Blanks a piece", ""),
        ],
        narrow,
    );
    let sketch = page.figures.as_ref().map(|figures| {
        let picture = Outline::new(&figures.shape, figures.version, theme::swatch(figures.shape_colour));
        column![
            container(canvas(picture).width(220).height(180)).center_x(Length::Fill),
            prose::small(figures.blank_words.as_str()).width(Length::Fill)
        ]
        .spacing(space::ONE)
        .width(240)
    });
    let fields = column![metal, others, kinds, measures].spacing(space::ONE + space::HALF).width(Length::Fill);
    let body: Element<'a, Message> = if narrow {
        column![fields, sketch].spacing(space::TWO).into()
    } else {
        row![fields, sketch].spacing(space::THREE).into()
    };
    widget::panel_with("Blank", summary(page), close(super::hand::Hand::Blank), body)
}

/// Puts what is in hand away.
pub fn close<'a>(hand: super::hand::Hand) -> Element<'a, Message> {
    widget::link("Close").on_press(Message::TakeInHand(hand)).into()
}
