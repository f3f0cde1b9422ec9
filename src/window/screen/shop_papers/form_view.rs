//! How the form of a paper looks: the form, and beside it the page as it will be.

use super::form::{Change, Field, Form, Line, Of, Part};
use super::read::Reader;
use super::rows::kind_words;
use super::sheet_view::turned;
use super::{Message, Page, State};
use crate::measure::display;
use crate::paper::statement_model;
use crate::studio::NumberedKind;
use crate::window::Shared;
use crate::window::theme::{self, Chosen, size, space};
use crate::window::widget::choice::tick;
use crate::window::widget::{self, Mark, choice, field, link, panel, pick, primary, quiet_button};
use iced::widget::{Column, Row, column, container, row, scrollable, text, text_editor};
use iced::{Alignment, Element, Length};

/// Said where nothing can be shown yet.
const EMPTY: &str = "The page shows here as soon as it has a line.";

/// The form with what it is read with.
struct Shown<'a> {
    state: &'a State,
    form: &'a Form,
    shared: &'a Shared,
    reader: Reader<'a>,
}

pub(super) fn page<'a>(state: &'a State, form: &'a Form, shared: &'a Shared) -> Element<'a, Message> {
    let shown = Shown { state, form, shared, reader: Reader::new(form, shared) };
    let title = column![
        widget::title(format!("A new {}", kind_words(form.kind).to_lowercase())),
        widget::small("Ctrl+S writes it under its number. Esc leaves it as it is, to go on with later."),
    ];
    let afresh = form.is_begun().then(|| link("Begin afresh").on_press(Message::Afresh));
    let buttons = row![
        afresh,
        quiet_button("Leave it").on_press(Message::Page(Page::List)),
        primary(format!("Write {}", state.will_be)).on_press_maybe((!shared.read_only()).then_some(Message::Write)),
    ]
    .spacing(space::ONE)
    .align_y(Alignment::Center);
    let refusal = form.refusal.as_ref().filter(|(at, _)| at.is_none()).map(|(_, why)| {
        widget::caution_line(
            Mark::Stop,
            why.as_str(),
            Some("Nothing was written; what you typed is still here.".to_owned()),
        )
    });
    let law = (form.kind != NumberedKind::Certificate)
        .then(|| widget::caution_line(Mark::Caution, statement_model::LAW, None));
    let parts = column![refusal, shown.head(), shown.lines(), shown.money(), shown.terms(), law].spacing(space::TWO);
    let sums = (!state.sums.is_empty()).then(|| widget::large(state.sums.as_str()));
    if shared.is_narrow() {
        let pages = turned(&state.easel, state.size, EMPTY, Length::Fixed(520.0));
        let body = column![title, buttons.wrap(), parts, sums, pages].spacing(space::TWO).padding(space::TWO);
        return scrollable(body).style(theme::scroll).into();
    }
    let head = row![title.width(Length::Fill), sums, buttons].spacing(space::THREE).align_y(Alignment::Center);
    let left = scrollable(container(parts).padding(iced::padding::right(space::TWO)))
        .height(Length::Fill)
        .style(theme::scroll);
    let right = container(turned(&state.easel, state.size, EMPTY, Length::Fill)).width(Length::FillPortion(5));
    column![head, row![container(left).width(Length::FillPortion(6)), right].spacing(space::TWO).height(Length::Fill)]
        .spacing(space::TWO)
        .padding(space::THREE)
        .into()
}

/// A field of several lines, with its label and what is wrong with it.
fn area<'a>(
    label: &'a str,
    hint: &'a str,
    (content, id): (&'a text_editor::Content, Field),
    problem: Option<String>,
    placeholder: &'a str,
    on_action: impl Fn(text_editor::Action) -> Message + 'a,
) -> Element<'a, Message> {
    let heading = row![text(label).size(size::SMALL).font(theme::STRONG).width(Length::Fill), widget::small(hint)];
    let editor = text_editor(content)
        .id(id.id())
        .placeholder(placeholder)
        .height(92)
        .padding(space::ONE)
        .size(size::BODY)
        .style(theme::editor)
        .on_action(on_action);
    let problem = problem.map(|why| widget::caution_line(Mark::Stop, why, None));
    column![heading, editor, problem].spacing(space::HALF).into()
}

impl<'a> Shown<'a> {
    /// A field of the form with its label, what is wrong with it and the keys.
    fn typed(&self, which: Field, label: &'a str) -> widget::Field<'a, Message> {
        field(label, self.form.text(which))
            .id(which.id())
            .error(self.reader.problem(which))
            .on_input(move |text| Message::Form(Change::Typed(which, text)))
            .on_submit(Message::Write)
    }

    /// Fields beside each other, or below each other where it is narrow.
    fn beside(&self, parts: Vec<Element<'a, Message>>) -> Element<'a, Message> {
        if self.shared.is_narrow() {
            Column::with_children(parts).spacing(space::ONE + space::HALF).into()
        } else {
            Row::with_children(parts).spacing(space::TWO).into()
        }
    }

    /// What it is, for whom, in which language, of which day.
    fn head(&self) -> Element<'a, Message> {
        let kinds = NumberedKind::ALL.map(|kind| (kind, kind_words(kind)));
        let kind = choice("", kinds, Some(&self.form.kind), |kind| Message::Form(Change::Kind(kind)));
        let recipient = area(
            "For",
            "name and address",
            (&self.form.recipient.content, Field::Recipient),
            self.reader.problem(Field::Recipient),
            "the shop or gallery, and its address below",
            |action| Message::Form(Change::Recipient(action)),
        );
        let named = self.form.language.name().to_owned();
        let language = pick("Language", &self.state.languages, "a language", Some(&named), |name| {
            Message::Form(Change::Language(name))
        });
        let date = Element::from(self.typed(Field::Date, "Date").hint("year-month-day"));
        let side = column![date, language].spacing(space::ONE + space::HALF);
        let narrow = self.shared.is_narrow();
        let (wide, small) =
            if narrow { (Length::Fill, Length::Fill) } else { (Length::FillPortion(3), Length::FillPortion(2)) };
        let first = column![recipient, self.earlier()].spacing(space::HALF);
        let both = self.beside(vec![container(first).width(wide).into(), container(side).width(small).into()]);
        panel("The paper", "", column![kind, both].spacing(space::ONE + space::HALF))
    }

    /// Earlier recipients that are like what is typed.
    fn earlier(&self) -> Option<Element<'a, Message>> {
        let links = self.state.earlier.iter().map(|recipient| {
            let name = recipient.lines().next().unwrap_or_default();
            link(name).on_press(Message::Form(Change::Take(recipient.clone()))).into()
        });
        let all = std::iter::once(widget::small("Earlier:").into()).chain(links);
        let row = Row::with_children(all).spacing(space::ONE).align_y(Alignment::Center);
        (!self.state.earlier.is_empty()).then(|| row.wrap().into())
    }

    fn lines(&self) -> Element<'a, Message> {
        let priced = self.form.kind != NumberedKind::Certificate;
        let all = self.form.lines.iter().map(|line| self.line(line, priced));
        let typed = self.form.trimmed(Field::Add);
        let missed = self.reader.problem(Field::Add);
        let nothing = self.form.found.is_empty() && !typed.is_empty();
        let nothing =
            nothing.then(|| format!("no design or piece is like {typed:?}; it can be a line in your own words"));
        let label = if self.form.lines.is_empty() { "What it is of" } else { "Another line" };
        let pick = field(label, self.form.text(Field::Add))
            .id(Field::Add.id())
            .hint("Ctrl+N")
            .placeholder("a design, a piece’s number")
            .error(nothing.or(missed))
            .on_input(|text| Message::Form(Change::Find(text)))
            .on_submit(Message::AddFirst);
        let found =
            self.form.found.iter().map(|offer| link(offer.words.as_str()).on_press(Message::Add(offer.what)).into());
        let own = quiet_button("In your own words").on_press(Message::Form(Change::Own));
        let pick = row![container(pick).width(Length::Fill), own].spacing(space::ONE).align_y(Alignment::End);
        let channel = priced.then(|| {
            let channels = self.state.channels.iter().map(|(id, name)| (id.clone(), name.as_str()));
            choice("Tickets and terms of", channels, Some(&self.form.channel), |id| Message::Form(Change::Channel(id)))
        });
        panel(
            "Lines",
            if priced {
                "Enter takes the first; the price is the ticket in force unless you write another"
            } else {
                ""
            },
            column![channel, Column::with_children(all).spacing(space::ONE), pick, Column::with_children(found)]
                .spacing(space::ONE + space::HALF),
        )
    }

    fn line(&self, line: &'a Line, priced: bool) -> Element<'a, Message> {
        let key = line.key;
        let code = match &line.of {
            Of::Design(id) => self.shared.snapshot.design(*id).map(|book| book.design.code.as_str()),
            Of::Piece(of, _) => of.piece.number.as_deref(),
            Of::Own => None,
        };
        let words = self
            .typed(Field::Line(key, Part::Words), "What")
            .hint(code.unwrap_or_default())
            .placeholder("what it is")
            .width(Length::FillPortion(5));
        let quantity = (!matches!(line.of, Of::Piece(..)))
            .then(|| self.typed(Field::Line(key, Part::Quantity), "How many").figures().width(90).into());
        let price = priced.then(|| {
            let ticket = self.reader.ticket(line).and_then(Result::ok);
            let ticket = ticket.map(|price| display::money(price.amount(), &self.shared.preferences));
            let own = !self.form.trimmed(Field::Line(key, Part::Price)).is_empty();
            let hint = match (ticket, own) {
                (Some(ticket), _) => format!("ticket {ticket}"),
                (None, true) => String::new(),
                (None, false) => "no ticket".to_owned(),
            };
            self.typed(Field::Line(key, Part::Price), "Price").hint(hint).figures().width(Length::FillPortion(3)).into()
        });
        let remove = quiet_button("×").on_press(Message::Form(Change::Remove(key)));
        let remove = container(remove).padding(iced::padding::top(size::SMALL * 1.3 + space::HALF - 2.0));
        let fields = std::iter::once(Element::from(words)).chain(quantity).chain(price).chain([remove.into()]);
        Row::with_children(fields).spacing(space::ONE).align_y(Alignment::Start).into()
    }

    /// Tax, freight, commission, days.
    fn money(&self) -> Option<Element<'a, Message>> {
        let kind = self.form.kind;
        let days = match kind {
            NumberedKind::Order => "Days until it is delivered",
            NumberedKind::Invoice => "Days until it is paid",
            NumberedKind::Consignment => "Days until it comes back",
            NumberedKind::Certificate => return None,
        };
        let tax = self.typed(Field::Tax, "Tax").placeholder("none, or e.g. 20 %").figures().into();
        let name = self.typed(Field::TaxName, "Called").placeholder("e.g. VAT").into();
        let freight = self.typed(Field::Freight, "Freight and packing").placeholder("none").figures().into();
        let days = self.typed(Field::Days, days).placeholder("not told").figures().into();
        let commission = (kind == NumberedKind::Consignment)
            .then(|| self.typed(Field::Commission, "Commission").placeholder("e.g. 40 %").figures().into());
        let within = tick(
            "The tax is in the prices",
            Chosen::from(self.form.tax_in_price),
            Some(Message::Form(Change::TaxInPrice)),
        );
        let second = [freight, days].into_iter().chain(commission).collect();
        let body = column![self.beside(vec![tax, name]), within, self.beside(second)];
        Some(panel("Tax, freight, days", "", body.spacing(space::ONE + space::HALF)))
    }

    fn terms(&self) -> Element<'a, Message> {
        area(
            "Terms and anything else",
            "stands at the end",
            (&self.form.terms.content, Field::Terms),
            self.reader.problem(Field::Terms),
            "how it is paid, who bears what",
            |action| Message::Form(Change::Terms(action)),
        )
    }
}
