//! How the form of a label sheet looks: its measures, and beside them the page they describe, drawn as they are typed.

use super::message::Message;
use super::sheet_drawing;
use super::sheet_form::{Feature, Measure, Outline, SheetForm};
use crate::window::Shared;
use crate::window::theme::{Chosen, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Mark, choice, field, modal, primary, quiet_button};
use iced::widget::{Column, Row, column, row};
use iced::{Element, Length};

pub(super) fn form<'a>(form: &'a SheetForm, shared: &'a Shared) -> Element<'a, Message> {
    let name = field("Name", form.name.text())
        .placeholder("e.g. strung tags, cream card")
        .id("sheet-name")
        .on_input(Message::SheetName)
        .on_submit(Message::KeepSheet);
    let measure = |measure: Measure| -> Element<'a, Message> {
        field(measure.label(), form.text(measure))
            .hint(measure.unit())
            .error(form.error(measure, &shared.preferences))
            .width(160)
            .figures()
            .on_input(move |text| Message::SheetMeasure(measure, text))
            .on_submit(Message::KeepSheet)
            .into()
    };
    let fields = |measures: &[Measure]| -> Element<'a, Message> {
        Row::with_children(measures.iter().map(|which| measure(*which)))
            .spacing(space::ONE)
            .wrap()
            .vertical_spacing(space::ONE)
            .into()
    };
    let feature = |words, is: bool, feature| tick(words, Chosen::from(is), Some(Message::SheetFeature(feature)));
    let mut features = Vec::new();
    if form.can_fold() {
        features.push(feature("folded at the middle", form.folded, Feature::Folded));
    }
    if form.can_have_hole() {
        features.push(feature("hole at the left, or beside the fold", form.hole, Feature::Hole));
    }
    features.push(feature("lines to cut along", form.cut_lines, Feature::CutLines));
    features.push(feature("crop marks at the page's edges", form.crop_marks, Feature::CropMarks));
    let of_outline = form.outline.measures();
    let outline = column![
        choice("Labels", Outline::ALL, Some(&form.outline), Message::SheetOutline),
        (!of_outline.is_empty()).then(|| fields(of_outline)),
        (form.outline == Outline::Barbell).then(|| {
            widget::small(
                "A flag at each end, and a neck between them that goes around a chain or a ring. It is folded there.",
            )
        }),
    ]
    .spacing(space::ONE);
    let problem = form.problem.as_ref().map(|problem| widget::caution_line(Mark::Stop, problem.as_str(), None));
    let typed = column![Element::from(name), fields(&Measure::GRID), outline, Column::with_children(features), problem]
        .spacing(space::ONE + space::HALF);
    let drawn = sheet_drawing::drawings(form);
    let body: Element<'a, Message> = if shared.is_narrow() {
        column![typed, drawn].spacing(space::TWO).padding(iced::padding::right(space::TWO)).into()
    } else {
        row![typed.width(Length::FillPortion(5)), drawn]
            .spacing(space::THREE)
            .padding(iced::padding::right(space::TWO))
            .into()
    };
    modal::wide(
        if form.id.is_some() { "Change the sheet" } else { "A sheet of labels" },
        body,
        [
            quiet_button("Leave it").on_press(Message::Close).into(),
            primary("Keep the sheet")
                .on_press_maybe((form.drawn.is_some() && !shared.read_only()).then_some(Message::KeepSheet))
                .into(),
        ],
    )
}
