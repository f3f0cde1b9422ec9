//! How the sheet looks that writes a cut down.

use super::room::Message;
use super::sawing::{Blank, Change, Field, Kept, OffCutAs, Sawing};
use super::view::{SHARP, SHARP_ADVICE, beside};
use crate::window::Shared;
use crate::window::theme::{self, Chosen, space};
use crate::window::widget::{self, Entry, Mark, choice, field, modal, primary, quiet_button};
use iced::widget::{Column, column, container, row};
use iced::{Alignment, Element, Length};

pub(super) fn sheet<'a>(sawing: &'a Sawing, shared: &'a Shared) -> Element<'a, Message> {
    let mut parts: Vec<Element<'a, Message>> = vec![beside(
        vec![
            typed(sawing, Field::Sheets, "Sheets cut like this", &sawing.sheets, shared).figures().into(),
            typed(sawing, Field::Date, "Date", &sawing.date, shared).hint("year-month-day").into(),
            typed(sawing, Field::Minutes, "At the bench", &sawing.minutes, shared)
                .placeholder("e.g. 45 or 1 h 20 min")
                .figures()
                .into(),
        ],
        shared,
    )];
    parts.push(widget::choice::tick(
        sawing.wage_words.as_str(),
        Chosen::from(sawing.bench_in_cost),
        Some(Message::Sawing(Change::BenchInCost)),
    ));
    parts.push(widget::strong("Blanks really cut").into());
    parts.extend(sawing.blanks.iter().enumerate().map(|(place, one)| blank(sawing, place, one, shared)));
    if !sawing.off_cuts.is_empty() {
        parts.push(widget::strong("Off-cuts, one of each a sheet").into());
        parts.extend(sawing.off_cuts.iter().enumerate().map(|(place, one)| kept(sawing, place, one, shared)));
    }
    parts.push(widget::choice::tick(
        "Scrap keeps its part of the cost: it is sold or melted again",
        Chosen::from(sawing.scrap_keeps),
        Some(Message::Sawing(Change::ScrapKeeps)),
    ));
    parts.push(typed(sawing, Field::Note, "Note", &sawing.note, shared).into());
    parts.push(preview(sawing));
    if let Some(refusal) = &sawing.refusal {
        let kept = "Nothing was changed; what you typed is still here.".to_owned();
        parts.push(widget::caution_line(Mark::Stop, refusal.as_str(), Some(kept)));
    }
    parts.push(widget::caution_line(Mark::Caution, SHARP, Some(SHARP_ADVICE.to_owned())));
    let ready = sawing.preview.is_ok() && !shared.read_only();
    modal::sheet(
        format!("Cut {}", sawing.sheet_name),
        Column::with_children(parts).spacing(space::ONE + space::HALF).padding(iced::padding::right(space::TWO)),
        [
            quiet_button("Leave it").on_press(Message::Close).into(),
            primary("Write the cut down").on_press_maybe(ready.then_some(Message::CutNow)).into(),
        ],
    )
}

fn typed<'a>(
    sawing: &'a Sawing,
    which: Field,
    label: &'a str,
    entry: &'a Entry,
    shared: &Shared,
) -> widget::Field<'a, Message> {
    field(label, entry.text())
        .id(which.id())
        .error(sawing.problem(which, shared))
        .on_input(move |text| Message::Sawing(Change::Typed(which, text)))
        .on_submit(Message::CutNow)
}

fn blank<'a>(sawing: &'a Sawing, place: usize, blank: &'a Blank, shared: &'a Shared) -> Element<'a, Message> {
    let count: Element<'a, Message> =
        typed(sawing, Field::Count(place), "", &blank.count, shared).width(84).figures().into();
    let letter = container(widget::strong(blank.letter.as_str())).center_x(24).style(theme::tag);
    let head = row![letter, widget::body(blank.words.as_str()).width(Length::Fill), count]
        .spacing(space::ONE)
        .align_y(Alignment::Center);
    let becomes: Element<'a, Message> = match blank.item {
        Some(_) => row![widget::small("become"), widget::small(blank.becomes.as_str())].spacing(space::HALF).into(),
        None => new_item(
            sawing,
            (Field::BlankName(place), &blank.name),
            (Field::BlankReference(place), &blank.reference),
            shared,
        ),
    };
    column![head, becomes].spacing(space::HALF).into()
}

fn kept<'a>(sawing: &'a Sawing, place: usize, kept: &'a Kept, shared: &'a Shared) -> Element<'a, Message> {
    let options = kept.options.iter().map(|(becomes, words)| (*becomes, words.as_str()));
    let becomes = choice(kept.words.as_str(), options, Some(&kept.becomes), move |becomes| {
        Message::Sawing(Change::OffCut(place, becomes))
    });
    let new = (kept.becomes == OffCutAs::New).then(|| {
        new_item(
            sawing,
            (Field::OffCutName(place), &kept.name),
            (Field::OffCutReference(place), &kept.reference),
            shared,
        )
    });
    column![becomes, new].spacing(space::HALF).into()
}

fn new_item<'a>(
    sawing: &'a Sawing,
    (name_field, name): (Field, &'a Entry),
    (reference_field, reference): (Field, &'a Entry),
    shared: &'a Shared,
) -> Element<'a, Message> {
    let name = typed(sawing, name_field, "Name of the new item", name, shared);
    let reference = typed(sawing, reference_field, "Reference", reference, shared).placeholder("the next free one");
    beside(vec![name.into(), reference.width(170).into()], shared)
}

fn preview(sawing: &Sawing) -> Element<'_, Message> {
    match &sawing.preview {
        Err(problem) => widget::caution_line(Mark::Stop, problem.as_str(), None),
        Ok(lines) if lines.is_empty() => widget::small("Reading what the sheet cost …").into(),
        Ok(lines) => {
            let lines = lines.iter().map(|line| {
                row![widget::body(line.what.as_str()).width(Length::Fill), widget::amount(line.amount.as_str())]
                    .spacing(space::TWO)
                    .into()
            });
            column![
                widget::strong("What it will do"),
                Column::with_children(lines).spacing(2),
                widget::small("All of it is one entry; it can be taken back.")
            ]
            .spacing(space::HALF)
            .into()
        }
    }
}
