//! How the room looks: phrases at the left, the one in hand and a paper with it at the right.

use super::rows::Row;
use super::sample::Drawn;
use super::state::{EVERYTHING, State, called};
use super::{FIND, Message, WORDS};
use crate::paper::language::{self, LEGAL, Purpose};
use crate::studio::Language;
use crate::window::Shared;
use crate::window::screen::pinning::{fitting, layered};
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Column, Mark, field, link, listing, panel, panel_with, pick, primary, quiet_button};
use iced::keyboard::Key;
use iced::keyboard::key::Named;
use iced::widget::{column, container, responsive, row, scrollable, text_editor};
use iced::{Alignment, Element, Length, Size};

/// Most pixels to a millimetre of a sample.
const MOST_SCALE: f32 = 7.0;

pub(super) fn page<'a>(state: &'a State, shared: &'a Shared) -> Element<'a, Message> {
    let narrow = shared.is_narrow();
    let head = column![
        link("‹ Papers").on_press(Message::ToPapers),
        widget::title("Wording"),
        widget::small(state.summary.as_str()),
    ];
    let list = container(list(state)).padding([space::HALF, space::ONE]).style(theme::sheet);
    if narrow {
        let body =
            column![head, filters(state, narrow), list.height(320), in_hand(state, shared), sample(state, shared)]
                .spacing(space::TWO)
                .padding(space::TWO);
        return scrollable(body).height(Length::Fill).style(theme::scroll).into();
    }
    let left = column![filters(state, narrow), list.height(Length::Fill)]
        .spacing(space::ONE + space::HALF)
        .width(Length::FillPortion(6));
    let right = column![in_hand(state, shared), sample(state, shared)].spacing(space::TWO);
    let right = scrollable(container(right).padding(iced::padding::right(space::TWO - 2.0)))
        .width(Length::FillPortion(5))
        .height(Length::Fill)
        .style(theme::scroll);
    column![head, row![left, right].spacing(space::TWO).height(Length::Fill)]
        .spacing(space::TWO)
        .padding(space::THREE)
        .into()
}

fn filters(state: &State, narrow: bool) -> Element<'_, Message> {
    let named = |options: &[String], name: &str| options.iter().position(|option| option == name);
    let chosen = called(state.language);
    let place = named(state.languages.options(), &chosen);
    let languages = pick(
        "Language",
        &state.languages,
        "language",
        place.and_then(|place| state.languages.options().get(place)),
        Message::Language,
    );
    let purpose = state.purpose.map_or(EVERYTHING, Purpose::words);
    let place = named(state.purposes.options(), purpose);
    let purposes = pick(
        "For",
        &state.purposes,
        "what it is for",
        place.and_then(|place| state.purposes.options().get(place)),
        Message::Purpose,
    );
    let find = Element::from(
        field("Find", state.find.text()).id(FIND).placeholder("words of it, in English too").on_input(Message::Find),
    );
    let own = tick("only replaced ones", Chosen::from(state.only_own), Some(Message::OnlyOwn));
    if narrow {
        return column![languages, purposes, find, own].spacing(space::ONE).into();
    }
    let first = row![container(languages).width(Length::Fill), container(purposes).width(Length::Fill)];
    column![first.spacing(space::TWO), row![find, own].spacing(space::TWO).align_y(Alignment::End)]
        .spacing(space::ONE)
        .into()
}

fn list(state: &State) -> Element<'_, Message> {
    if state.rows.is_empty() {
        return container(widget::quiet("No phrase has these words.")).padding(space::TWO).into();
    }
    let columns: Vec<Column<'_, Row, Message>> = vec![
        Column::new("The program’s words", Length::FillPortion(3), |row: &Row| match row.phrase {
            None => widget::fitted(row.words.as_str()).strong().into(),
            Some(_) => widget::fitted(row.words.as_str()).into(),
        })
        .unsorted(),
        Column::new("Yours", Length::FillPortion(2), |row: &Row| {
            if row.is_draft {
                let words = if row.own.trim().is_empty() { "nothing" } else { row.own.as_str() };
                return row![widget::mark(Mark::Caution), widget::fitted(words).style(theme::caution)]
                    .spacing(space::HALF)
                    .align_y(Alignment::Center)
                    .into();
            }
            widget::fitted(row.own.as_str()).style(theme::accent).into()
        })
        .unsorted(),
    ];
    listing::listing(&state.list, columns, &state.rows, Message::List)
}

/// The phrase in hand.
fn in_hand<'a>(state: &'a State, shared: &'a Shared) -> Option<Element<'a, Message>> {
    let phrase = state.chosen?;
    let words = language::program_words(state.language, phrase)?;
    let english = (state.language != Language::English)
        .then(|| language::program_words(Language::English, phrase))
        .flatten()
        .map(|english| widget::small(format!("in English: {english}")));
    let editor = text_editor(&state.editor)
        .id(WORDS)
        .placeholder("Type here to put words of your own in its place")
        .height(92)
        .padding(space::ONE)
        .size(size::BODY)
        .style(if state.problem.is_some() { wrong_words } else { own_words })
        .key_binding(|press| match press.key.as_ref() {
            Key::Named(Named::Enter) => Some(text_editor::Binding::Custom(Message::Save)),
            _ => text_editor::Binding::from_key_press(press),
        })
        .on_action(Message::Edit);
    let problem = state.problem.as_ref().map(|problem| {
        row![
            widget::mark(Mark::Stop),
            iced::widget::text(problem.to_string()).size(size::SMALL).style(theme::stop).width(Length::Fill)
        ]
        .spacing(space::HALF)
        .align_y(Alignment::Center)
    });
    let kept = state.kept(shared).is_some();
    let standing = match (state.draft().is_some(), kept) {
        (true, _) => "changed, not kept yet",
        (false, true) => "yours holds",
        (false, false) => "the program’s holds",
    };
    let legal = language::is_legal(phrase)
        .then(|| widget::caution_line(Mark::Caution, "The law has a word in this", Some(LEGAL.to_owned())));
    let save = primary("Keep these words").on_press_maybe(state.can_save(shared).then_some(Message::Save));
    let away =
        quiet_button("Take yours away").on_press_maybe((kept && !shared.read_only()).then_some(Message::TakeAway));
    let body = column![
        widget::body(words),
        english,
        filled(phrase),
        legal,
        column![iced::widget::text("Yours").size(size::SMALL).font(theme::STRONG), editor, problem]
            .spacing(space::HALF),
        row![save, away].spacing(space::ONE).wrap(),
    ]
    .spacing(space::ONE + space::HALF);
    Some(panel_with(Purpose::of(phrase).words(), "", widget::small(standing), body))
}

/// What is filled into it, and must stay.
fn filled<'a>(phrase: &str) -> Option<Element<'a, Message>> {
    let names = language::filled_into(phrase);
    if names.is_empty() {
        return None;
    }
    let each: Vec<String> =
        names.iter().map(|name| format!("{{{name}}} is {}", language::meaning(name).unwrap_or("filled in"))).collect();
    Some(widget::small(format!("Must stay: {}.", each.join(", "))).into())
}

fn own_words(theme: &iced::Theme, status: text_editor::Status) -> text_editor::Style {
    let colors = theme::palette(theme);
    let (edge, width) = match status {
        text_editor::Status::Focused { .. } => (colors.accent, 2.0),
        text_editor::Status::Hovered => (colors.quiet, 1.0),
        _ => (colors.edge, 1.0),
    };
    text_editor::Style {
        background: colors.sheet.into(),
        border: iced::Border { color: edge, width, radius: theme::RADIUS_SMALL.into() },
        placeholder: colors.quiet,
        value: colors.ink,
        selection: colors.chosen,
    }
}

fn wrong_words(theme: &iced::Theme, status: text_editor::Status) -> text_editor::Style {
    let style = own_words(theme, status);
    text_editor::Style { border: iced::Border { color: theme::palette(theme).stop, ..style.border }, ..style }
}

/// A paper with the phrase on it.
fn sample<'a>(state: &'a State, shared: &'a Shared) -> Option<Element<'a, Message>> {
    if let Some(reason) = &state.undrawn {
        return Some(panel("No sample", "", widget::caution_line(Mark::Stop, reason.as_str(), None)));
    }
    let drawn: &Drawn = state.drawn.as_ref()?;
    let high = if shared.is_narrow() { 260.0 } else { 300.0 };
    // No higher than it is drawn: a slip is low.
    let wide = if shared.is_narrow() { shared.size.width - 180.0 } else { shared.size.width * 0.34 };
    let scale = fitting(&drawn.outline, Size::new(wide, high), MOST_SCALE);
    let paper = responsive(move |area| {
        let scale = fitting(&drawn.outline, Size::new(area.width - space::ONE, high), MOST_SCALE);
        container(layered(&drawn.outline, &drawn.layers, scale, None)).center(Length::Fill).into()
    })
    .height((drawn.outline.height * scale + space::TWO).min(high + space::ONE));
    let warnings = drawn.warnings.iter().map(|told| widget::caution_line(Mark::Caution, told.as_str(), None));
    let body = column![paper, iced::widget::Column::with_children(warnings)].spacing(space::ONE);
    let note = if state.problem.is_some() { "with the words before" } else { "as it is printed, with examples" };
    Some(panel(drawn.what, note, body))
}
