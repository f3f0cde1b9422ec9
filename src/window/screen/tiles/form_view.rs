//! How the form of a test tile looks.

use super::form::{Field, Form};
use super::{Message, State, cards};
use crate::measure::display;
use crate::studio::{Metal, Verdict};
use crate::window::Shared;
use crate::window::screen::kiln::words;
use crate::window::theme::{self, space};
use crate::window::widget::{self, Mark, choice, field, link, panel, pick, primary, quiet_button};
use iced::widget::{Column, Row, column, container, row, scrollable};
use iced::{Alignment, Element, Length};

pub(super) fn page<'a>(state: &'a State, form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let typed = |which: Field, label: &'a str, hint: &'a str, example: &'a str| -> Element<'a, Message> {
        let mut made = field(label, form.fields.text(which))
            .id(which.id())
            .placeholder(example)
            .error(form.problem(which, &shared.preferences))
            .on_input(move |text| Message::Typed(which, text))
            .on_submit(Message::Save);
        if !hint.is_empty() {
            made = made.hint(hint);
        }
        made.into()
    };
    let degrees = display::temperature_label(&shared.preferences);
    let fired = words::beside(
        vec![
            typed(Field::Date, "Day", "", "2026-03-14"),
            typed(Field::Heat, "Heat", degrees, ""),
            typed(Field::Minutes, "In the heat", "min:s, each firing", "2:15"),
            typed(Field::Firings, "Firings", "", "1"),
        ],
        shared,
    );
    let metals = Metal::ALL.map(|metal| (metal, metal.words()));
    let verdicts = Verdict::ALL.map(|verdict| (verdict, verdict.words()));
    let dot = form.seen_colour().map(|colour| widget::mark(Mark::Swatch(theme::swatch(colour))));
    let from_top = link("As the top layer's swatch").on_press(Message::ColourOfTop);
    let colour = words::beside(
        vec![
            typed(Field::Words, "The colour, in your words", "", "e.g. deep bottle green, mottled at the rim"),
            column![
                typed(Field::Colour, "Its colour", "", "#rrggbb, or 60, 122, 82"),
                row![dot, from_top].spacing(space::ONE).align_y(Alignment::Center)
            ]
            .into(),
        ],
        shared,
    );
    let refusal = form.refusal.as_deref().map(|why| widget::caution_line(Mark::Stop, why, None));
    let body = column![
        panel(
            "Fired",
            "",
            column![choice("Metal", metals, Some(&form.metal), Message::Metal), fired].spacing(space::TWO)
        ),
        panel("Layers", "enamels from the metal up; the same twice is two layers", layers(state, form, shared)),
        panel(
            "What came of it",
            "",
            column![
                choice("Verdict", verdicts, Some(&form.verdict), Message::Verdict),
                colour,
                typed(Field::Note, "Note", "", "")
            ]
            .spacing(space::TWO)
        ),
        words::hot_kiln(),
        refusal,
        Row::with_children([
            quiet_button("Leave it").on_press(Message::Close).into(),
            primary("Save the tile").on_press(Message::Save).into()
        ])
        .spacing(space::ONE)
        .wrap(),
    ]
    .spacing(space::TWO);
    let room = if shared.is_narrow() { space::TWO } else { space::THREE };
    let back = link("‹ Test tiles").on_press(Message::Close);
    let page = column![back, widget::title(form.title.as_str()), body].spacing(space::ONE).padding(room).max_width(960);
    scrollable(container(page).width(Length::Fill)).height(Length::Fill).style(theme::scroll).into()
}

fn layers<'a>(state: &'a State, form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let rows = form.layers.iter().enumerate().map(|(place, item)| {
        let dot =
            cards::swatch(*item, &shared.snapshot).map(|colour| widget::mark(Mark::Swatch(theme::swatch(colour))));
        row![
            widget::small(format!("{}", place + 1)),
            dot,
            widget::body(cards::name(*item, &shared.snapshot)).width(Length::Fill),
            link("Take out").on_press(Message::Unlayer(place))
        ]
        .spacing(space::ONE)
        .align_y(Alignment::Center)
        .into()
    });
    let lead = form.layers.iter().any(|item| shared.snapshot.item(*item).is_some_and(|row| row.item.lead_bearing));
    let lead = lead.then(words::lead);
    let add = pick("Another layer on top", &state.enamels, "an enamel", None, Message::Layer);
    column![Column::with_children(rows), add, lead].spacing(space::ONE + space::HALF).into()
}
