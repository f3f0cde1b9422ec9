//! What the room keeps, and what it does.

use super::rows::{self, Drafts, Row, Wanted};
use super::sample::{self, Drawn};
use super::{Message, WORDS};
use crate::actions;
use crate::exchange::fonts_found;
use crate::paper::language::{self, OwnWords, Purpose, WordsProblem};
use crate::studio::Language;
use crate::window::screen::pinning::Tools;
use crate::window::screen::{Action, Destination};
use crate::window::widget::listing::{Event, Reaction};
use crate::window::widget::{Entry, Listing, reveal};
use crate::window::{Answer, Shared};
use iced::keyboard::key::Named;
use iced::widget::{combo_box, text_editor};

/// No purpose: phrases for everything.
pub(super) const EVERYTHING: &str = "everything";

/// What the room keeps.
#[derive(Debug)]
pub struct State {
    pub(super) language: Language,
    pub(super) languages: combo_box::State<String>,
    pub(super) purpose: Option<Purpose>,
    pub(super) purposes: combo_box::State<String>,
    pub(super) find: Entry,
    pub(super) only_own: bool,
    pub(super) rows: Vec<Row>,
    pub(super) summary: String,
    pub(super) list: Listing,
    pub(super) chosen: Option<&'static str>,
    drafts: Drafts,
    pub(super) editor: text_editor::Content,
    /// Why what is typed cannot be kept.
    pub(super) problem: Option<WordsProblem>,
    pub(super) drawn: Option<Drawn>,
    /// Why no paper can be drawn.
    pub(super) undrawn: Option<String>,
    tools: Tools,
    /// The window has the type of Japanese.
    has_japanese: bool,
    /// What was sent to the book and not answered yet.
    waiting: Option<(Language, &'static str)>,
}

/// What a language is called in the list.
pub(super) fn called(language: Language) -> String {
    if language == Language::English {
        return language.name().to_owned();
    }
    format!("{} · {}", language.name(), language.own_name())
}

impl State {
    pub(super) fn of(shared: &Shared) -> Self {
        let mut state = Self {
            language: shared.settings().paper_language,
            languages: combo_box::State::new(Language::ALL.map(called).to_vec()),
            purpose: None,
            purposes: combo_box::State::new(
                std::iter::once(EVERYTHING).chain(Purpose::ALL.map(Purpose::words)).map(str::to_owned).collect(),
            ),
            find: Entry::default(),
            only_own: false,
            rows: Vec::new(),
            summary: String::new(),
            list: Listing::new("wording"),
            chosen: None,
            drafts: Drafts::new(),
            editor: text_editor::Content::new(),
            problem: None,
            drawn: None,
            undrawn: None,
            tools: Tools::default(),
            has_japanese: false,
            waiting: None,
        };
        state.follow(shared);
        state
    }

    /// Takes everything from the book.
    pub(super) fn follow(&mut self, shared: &Shared) {
        self.word(shared);
        if self.chosen.is_none() {
            self.choose(language::phrases().find(|phrase| *phrase == "care-title"), shared);
            self.word(shared);
        } else if self.draft().is_none() {
            self.fill(shared);
        }
        self.draw(shared);
    }

    /// Words the rows anew; what is chosen stays chosen.
    fn word(&mut self, shared: &Shared) {
        let own = &shared.snapshot.own_words;
        let wanted =
            Wanted { language: self.language, purpose: self.purpose, find: self.find.text(), only_own: self.only_own };
        let (rows, count) = rows::rows(wanted, own, &self.drafts);
        self.rows = rows;
        let hers = own.keys().filter(|(language, _)| *language == self.language).count();
        let phrases = if count == 1 { "phrase" } else { "phrases" };
        self.summary = match hers {
            0 => format!("{count} {phrases}, none replaced"),
            hers => format!("{count} {phrases}, {hers} replaced in {}", self.language.name()),
        };
        self.list.select(self.chosen.and_then(|chosen| self.rows.iter().position(|row| row.phrase == Some(chosen))));
    }

    /// What she typed for the chosen phrase and did not keep yet.
    pub(super) fn draft(&self) -> Option<&String> {
        self.drafts.get(&(self.language, self.chosen?))
    }

    /// Her kept words for the chosen phrase.
    pub(super) fn kept<'s>(&self, shared: &'s Shared) -> Option<&'s String> {
        shared.snapshot.own_words.get(&(self.language, self.chosen?.to_owned()))
    }

    fn choose(&mut self, phrase: Option<&'static str>, shared: &Shared) {
        self.chosen = phrase;
        self.fill(shared);
        self.draw(shared);
    }

    /// The field holds what is typed, or what is kept.
    fn fill(&mut self, shared: &Shared) {
        let text = self.draft().or(self.kept(shared)).cloned().unwrap_or_default();
        if self.editor.text().trim_end_matches('\n') != text {
            self.editor = text_editor::Content::with_text(&text);
        }
        self.check();
    }

    fn check(&mut self) {
        self.problem = match (self.chosen, self.draft()) {
            (Some(chosen), Some(draft)) => language::accept(self.language, chosen, draft).err(),
            _ => None,
        };
    }

    /// Draws the paper with the words as they are typed; with the last that could be kept where they cannot.
    fn draw(&mut self, shared: &Shared) {
        let Some(chosen) = self.chosen else { return };
        let mut own = OwnWords::clone(&shared.snapshot.own_words);
        if let Some(draft) = self.draft() {
            match language::accept(self.language, chosen, draft) {
                Ok(Some(words)) => {
                    let _ = own.insert((self.language, chosen.to_owned()), words);
                }
                Ok(None) => {
                    let _ = own.remove(&(self.language, chosen.to_owned()));
                }
                Err(_) => return,
            }
        }
        match sample::draw(chosen, self.language, &own, &sample::of(shared), &mut self.tools) {
            Ok(drawn) => {
                self.drawn = Some(drawn);
                self.undrawn = None;
            }
            Err(reason) => {
                self.drawn = None;
                self.undrawn = Some(reason);
            }
        }
    }

    /// Something happened.
    pub(super) fn happened(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        match message {
            Message::Language(name) => {
                if let Some(language) = Language::ALL.into_iter().find(|language| called(*language) == name) {
                    self.language = language;
                    self.fill(shared);
                    self.word(shared);
                    self.draw(shared);
                }
                self.show_type()
            }
            Message::Purpose(words) => {
                self.purpose = Purpose::ALL.into_iter().find(|purpose| purpose.words() == words);
                self.search(shared)
            }
            Message::Find(text) => {
                self.find.type_in(text);
                self.search(shared)
            }
            Message::OnlyOwn => {
                self.only_own = !self.only_own;
                self.search(shared)
            }
            Message::List(event) => self.listed(event, shared),
            Message::Edit(action) => self.edited(action, shared),
            Message::Save => self.save(shared),
            Message::TakeAway => self.take_away(shared),
            Message::ToPapers => Action::Open(Destination::Papers),
            Message::TypeCame(came) => {
                self.has_japanese = came;
                Action::None
            }
        }
    }

    /// Another search: the first phrase that answers is chosen, unless the one in hand is among them.
    fn search(&mut self, shared: &Shared) -> Action<Message> {
        self.word(shared);
        if self.list.selected().is_none()
            && let Some(first) = self.rows.iter().find_map(|row| row.phrase)
        {
            self.choose(Some(first), shared);
            self.word(shared);
        }
        Action::Run(self.list.show())
    }

    fn listed(&mut self, event: Event, shared: &Shared) -> Action<Message> {
        let before = self.list.selected();
        let (reaction, task) = self.list.update(event, self.rows.len());
        match reaction {
            Reaction::Selected(place) | Reaction::Opened(place) => {
                let up = matches!(event, Event::Key(Named::ArrowUp | Named::PageUp | Named::Home));
                let place = self.beside_heading(place, up);
                let Some(phrase) = place.and_then(|place| self.rows.get(place)).and_then(|row| row.phrase) else {
                    self.list.select(before);
                    return Action::None;
                };
                self.list.select(place);
                if self.chosen != Some(phrase) {
                    self.choose(Some(phrase), shared);
                }
                let shown = self.list.show();
                match reaction {
                    Reaction::Opened(_) => Action::Run(task.chain(reveal::focus(WORDS))),
                    _ => Action::Run(task.chain(shown)),
                }
            }
            _ => Action::Run(task),
        }
    }

    /// The phrase at a place, or the one next to the heading that stands there.
    fn beside_heading(&self, place: usize, up: bool) -> Option<usize> {
        let is_phrase = |place: &usize| self.rows.get(*place).is_some_and(|row| row.phrase.is_some());
        let after = (place..self.rows.len()).find(is_phrase);
        if up { (0..=place).rev().find(is_phrase).or(after) } else { after }
    }

    fn edited(&mut self, action: text_editor::Action, shared: &Shared) -> Action<Message> {
        let Some(chosen) = self.chosen else { return Action::None };
        let edits = action.is_edit();
        if edits && shared.read_only() {
            return Action::None;
        }
        self.editor.perform(action);
        if !edits {
            return Action::None;
        }
        let text = self.editor.text().trim_end_matches('\n').to_owned();
        let key = (self.language, chosen);
        if self.kept(shared).map_or("", String::as_str) == text {
            let _ = self.drafts.remove(&key);
        } else {
            let _ = self.drafts.insert(key, text);
        }
        self.check();
        self.word(shared);
        self.draw(shared);
        Action::None
    }

    /// What is typed can be kept.
    pub(super) fn can_save(&self, shared: &Shared) -> bool {
        !shared.read_only() && self.draft().is_some() && self.problem.is_none() && self.waiting.is_none()
    }

    fn save(&mut self, shared: &Shared) -> Action<Message> {
        let (Some(chosen), Some(draft)) = (self.chosen, self.draft()) else { return Action::None };
        if shared.read_only() || self.waiting.is_some() {
            return Action::None;
        }
        match language::accept(self.language, chosen, draft) {
            Ok(words) if words.as_ref() == self.kept(shared) => {
                // Nothing else than is kept already, but for blanks.
                let _ = self.leave_draft(shared);
                Action::None
            }
            Ok(words) => self.send(chosen, words),
            Err(problem) => {
                self.problem = Some(problem);
                Action::Run(reveal::focus(WORDS))
            }
        }
    }

    fn take_away(&mut self, shared: &Shared) -> Action<Message> {
        let Some(chosen) = self.chosen else { return Action::None };
        if shared.read_only() || self.waiting.is_some() || self.kept(shared).is_none() {
            return Action::None;
        }
        self.send(chosen, None)
    }

    fn send(&mut self, phrase: &'static str, words: Option<String>) -> Action<Message> {
        self.waiting = Some((self.language, phrase));
        Action::Do(actions::Action::SaveWords { language: self.language, phrase: phrase.to_owned(), words })
    }

    /// The book answered.
    pub(super) fn told(&mut self, answer: Answer, shared: &Shared) -> Action<Message> {
        if let Answer::Performed(done) = answer
            && let Some(key) = self.waiting.take()
            && done.is_ok()
        {
            let _ = self.drafts.remove(&key);
            self.fill(shared);
            self.word(shared);
            self.draw(shared);
        }
        Action::None
    }

    /// Lets go of what is typed and not kept; true when there was something.
    pub(super) fn leave_draft(&mut self, shared: &Shared) -> bool {
        let Some(chosen) = self.chosen else { return false };
        let left = self.drafts.remove(&(self.language, chosen)).is_some();
        if left {
            self.fill(shared);
            self.word(shared);
            self.draw(shared);
        }
        left
    }

    pub(super) fn revert_find(&mut self, shared: &Shared) -> bool {
        let reverted = self.find.revert();
        if reverted {
            self.word(shared);
        }
        reverted
    }

    /// The window needs the type of a language to show its words.
    pub(super) fn show_type(&mut self) -> Action<Message> {
        if self.language != Language::Japanese || self.has_japanese {
            return Action::None;
        }
        match fonts_found::japanese_type() {
            Ok(regular) => Action::Run(iced::font::load(regular).map(|done| Message::TypeCame(done.is_ok()))),
            // The sample says what is missing and where it belongs.
            Err(_) => Action::None,
        }
    }
}
