//! The figures of what is selected: a pinned thing, or the paper itself.

use super::draft::Draft;
use super::fields::Field;
use super::laid::symbol_words;
use super::message::{Folding, Hold, InkChoice, Message};
use super::state::{NONE, State};
use crate::paper::arrange::{self, Edge};
use crate::studio::{Across, Down, Fold, Language, Pinned, SymbolKind, SymbolOf, Weight, What};
use crate::window::Shared;
use crate::window::theme::space;
use crate::window::widget::{self, Mark, choice, field, link, panel, pick, quiet_button};
use iced::widget::{Column, column, row};
use iced::{Alignment, Element, Length};

pub(super) fn side<'a>(state: &'a State, draft: &'a Draft, shared: &'a Shared) -> Element<'a, Message> {
    match (draft.selected, draft.thing()) {
        (Some(place), Some(thing)) => self::thing(draft, place, thing, shared),
        _ => paper(state, draft, shared),
    }
}

fn typed<'a>(draft: &'a Draft, of: Field, locked: bool) -> Element<'a, Message> {
    let mut typed = field(of.label(), draft.fields.text(of))
        .id(of.id())
        .hint(of.unit())
        .error(draft.fields.problem(of).map(str::to_owned));
    if !locked {
        typed = typed.on_input(move |text| Message::Typed(of, text));
    }
    if !matches!(of, Field::Name | Field::Words | Field::Holds | Field::Colour) {
        typed = typed.figures();
    }
    typed.into()
}

fn pair<'a>(draft: &'a Draft, fields: [Field; 2], locked: bool) -> Element<'a, Message> {
    row(fields.map(|of| typed(draft, of, locked))).spacing(space::ONE).into()
}

// --- A pinned thing ---------------------------------------------------------------------------------------------

fn thing<'a>(draft: &'a Draft, place: usize, thing: &'a Pinned, shared: &'a Shared) -> Element<'a, Message> {
    let locked = shared.read_only();
    let mut parts: Vec<Element<'a, Message>> = Vec::new();
    let said = draft.laid.things.get(place);
    if let Some(said) = said {
        let warnings = said.warnings.iter();
        parts.extend(warnings.map(|words| widget::caution_line(Mark::Caution, words.as_str(), None)));
    }
    if let What::Words(_) = thing.what {
        parts.push(typed(draft, Field::Words, locked));
    }
    if let What::Symbol { kind, of } = &thing.what {
        parts.extend(symbol(draft, *kind, of, locked));
        if let Some(why) = said.and_then(|said| said.why.as_deref()) {
            parts.push(widget::small(why).into());
        }
    }
    parts.push(pair(draft, [Field::Left, Field::Top], locked));
    parts.push(pair(draft, [Field::Width, Field::Height], locked));
    if arrange::is_text(&thing.what) {
        parts.extend(text(draft, thing, locked));
    }
    if arrange::has_ink(&thing.what) && !locked {
        parts.push(ink(thing));
    }
    if thing.set.ink != crate::studio::Ink::Piece && InkChoice::of(thing.set.ink) == InkChoice::Own {
        parts.push(typed(draft, Field::Colour, locked));
    }
    if !locked {
        if !arrange::is_text(&thing.what) && !matches!(thing.what, What::Rule | What::Band) {
            parts.extend(alignment(thing, "Within its place"));
        }
        let edges = [
            (Edge::Left, "left"),
            (Edge::Middle, "middle"),
            (Edge::Right, "right"),
            (Edge::Top, "top"),
            (Edge::Centre, "centre"),
            (Edge::Bottom, "bottom"),
        ];
        parts.push(choice("Put on the paper’s", edges, None, Message::Align));
        let last = draft.paper.pinned.len().saturating_sub(1);
        let buttons = row![
            quiet_button("Turn").on_press(Message::Turn(place)),
            quiet_button("Double").on_press(Message::Double(place)),
            quiet_button("Take off").on_press(Message::Remove(place)),
            quiet_button("Forward").on_press_maybe((place < last).then_some(Message::Lift(place, true))),
            quiet_button("Back").on_press_maybe((place > 0).then_some(Message::Lift(place, false))),
            quiet_button("To the front").on_press_maybe((place < last).then_some(Message::LiftWhole(place, true))),
            quiet_button("To the back").on_press_maybe((place > 0).then_some(Message::LiftWhole(place, false))),
        ]
        .spacing(space::HALF);
        parts.push(buttons.wrap().vertical_spacing(space::HALF).into());
    }
    panel(arrange::name(&thing.what), "", Column::with_children(parts).spacing(space::ONE + space::HALF))
}

fn symbol<'a>(draft: &'a Draft, kind: SymbolKind, of: &'a SymbolOf, locked: bool) -> Vec<Element<'a, Message>> {
    let mut parts: Vec<Element<'a, Message>> = Vec::new();
    if !locked {
        let kinds = [SymbolKind::Qr, SymbolKind::DataMatrix, SymbolKind::Code128, SymbolKind::Ean13];
        parts.push(choice("Kind", kinds.map(|kind| (kind, symbol_words(kind))), Some(&kind), Message::Symbol));
        let hold = match of {
            SymbolOf::Code => Hold::Code,
            SymbolOf::PieceNumber => Hold::PieceNumber,
            SymbolOf::Number => Hold::Number,
            SymbolOf::Text(_) => Hold::Text,
        };
        let holds = [
            (Hold::Code, "code"),
            (Hold::PieceNumber, "piece’s number"),
            (Hold::Number, "EAN-13"),
            (Hold::Text, "a text"),
        ];
        parts.push(choice("Holds", holds, Some(&hold), Message::Holds));
    }
    if let SymbolOf::Text(_) = of {
        parts.push(typed(draft, Field::Holds, locked));
    }
    parts
}

fn text<'a>(draft: &'a Draft, thing: &'a Pinned, locked: bool) -> Vec<Element<'a, Message>> {
    let mut parts = vec![
        row([Field::Least, Field::Most, Field::Lines].map(|of| typed(draft, of, locked))).spacing(space::ONE).into(),
    ];
    if !locked {
        let weights = [(Weight::Regular, "regular"), (Weight::Semibold, "semibold"), (Weight::Bold, "bold")];
        parts.push(choice("Weight", weights, Some(&thing.set.weight), Message::Weight));
        parts.extend(alignment(thing, "Lines stand"));
    }
    parts
}

fn alignment<'a>(thing: &'a Pinned, label: &'a str) -> Vec<Element<'a, Message>> {
    let across = [(Across::Left, "left"), (Across::Middle, "middle"), (Across::Right, "right")];
    let down = [(Down::Top, "top"), (Down::Middle, "centre"), (Down::Bottom, "bottom")];
    vec![
        choice(label, across, Some(&thing.set.across), Message::Across),
        choice("", down, Some(&thing.set.down), Message::Down),
    ]
}

fn ink(thing: &Pinned) -> Element<'_, Message> {
    let inks = [
        (InkChoice::Black, "black"),
        (InkChoice::Grey, "grey"),
        (InkChoice::White, "white"),
        (InkChoice::Piece, "the piece’s"),
        (InkChoice::Own, "own"),
    ];
    choice("Ink", inks, Some(&InkChoice::of(thing.set.ink)), Message::Ink)
}

// --- The paper --------------------------------------------------------------------------------------------------

fn paper<'a>(state: &'a State, draft: &'a Draft, shared: &'a Shared) -> Element<'a, Message> {
    let locked = shared.read_only();
    let paper = &draft.paper;
    let mut parts: Vec<Element<'a, Message>> = vec![
        typed(draft, Field::Name, locked),
        row([Field::PaperWidth, Field::PaperHeight, Field::Corner].map(|of| typed(draft, of, locked)))
            .spacing(space::ONE)
            .into(),
    ];
    let folding = match paper.fold {
        None => Folding::None,
        Some(Fold::Upright(_)) => Folding::Upright,
        Some(Fold::Across(_)) => Folding::Across,
    };
    if !locked {
        let folds = [(Folding::None, "none"), (Folding::Upright, "top to bottom"), (Folding::Across, "left to right")];
        parts.push(choice("Fold", folds, Some(&folding), Message::Fold));
    }
    if folding != Folding::None {
        parts.push(typed(draft, Field::Fold, locked));
    }
    parts.extend((0..paper.holes.len()).map(|hole| {
        let fields = [Field::HoleAcross(hole), Field::HoleDown(hole), Field::HoleDiameter(hole)];
        let remove = (!locked).then_some(Message::RemoveHole(hole));
        column![
            row![
                widget::strong(format!("Hole {}", hole + 1)).width(Length::Fill),
                link("Take away").on_press_maybe(remove)
            ]
            .align_y(Alignment::Center),
            row(fields.map(|of| typed(draft, of, locked))).spacing(space::ONE),
        ]
        .into()
    }));
    parts.push(quiet_button("Add a hole").on_press_maybe((!locked).then_some(Message::AddHole)).into());
    parts.push(languages(state, draft, locked));
    panel("The paper", "", Column::with_children(parts).spacing(space::ONE + space::HALF))
}

fn languages<'a>(state: &'a State, draft: &'a Draft, locked: bool) -> Element<'a, Message> {
    let first = draft.paper.languages.first().copied().unwrap_or_default();
    let second = draft.paper.languages.get(1).copied();
    if locked {
        let second = second.map_or("", Language::name);
        return widget::body(format!("{} {second}", first.name())).into();
    }
    let chosen = |name: &str, options: &'a iced::widget::combo_box::State<String>| {
        options.options().iter().find(|option| option.as_str() == name)
    };
    row![
        pick("Language", &state.languages, "language", chosen(first.name(), &state.languages), Message::First),
        pick(
            "and second",
            &state.seconds,
            "language",
            chosen(second.map_or(NONE, Language::name), &state.seconds),
            Message::Second
        ),
    ]
    .spacing(space::ONE)
    .into()
}
