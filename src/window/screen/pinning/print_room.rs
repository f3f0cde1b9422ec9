//! What the room does about printing: of what, on what, and the PDF's way out.

use super::message::Message;
use super::printing::Printing;
use super::state::{State, Waiting};
use crate::actions;
use crate::window::Shared;
use crate::window::screen::Action;
use crate::window::screen::way_out::{self, Going, Leaving, Then};
use crate::window::widget::listing::Event;
use crate::window::work::Word;
use std::sync::Arc;

impl State {
    /// What happens while printing.
    pub(super) fn on_print(&mut self, message: Message, shared: &Shared) -> Action<Message> {
        let count = self.subjects.len();
        let Some(printing) = &mut self.printing else { return Action::None };
        match message {
            Message::List(event) => {
                let ticked = match event {
                    Event::Pressed(place) => {
                        printing.list.select((place < count).then_some(place));
                        true
                    }
                    Event::Enter => true,
                    _ => false,
                };
                if !ticked {
                    let (_, task) = printing.list.update(event, count);
                    return Action::Run(task);
                }
                if let Some(place) = printing.list.selected() {
                    printing.toggle(place);
                }
            }
            Message::All(all) => printing.all(all, count),
            Message::Copies(text) => printing.copies.type_in(text),
            Message::Sheet(name) => printing.choose_sheet(name, &shared.snapshot),
            Message::Start(text) => printing.start.type_in(text),
            Message::StartAt(label) => printing.start.set(label.to_string()),
            Message::FreshSheet => return self.fresh_sheet(shared),
            Message::Page(page) => {
                printing.turn(page, &mut self.tools);
                return Action::None;
            }
            Message::Renew => {}
            Message::Note => {
                printing.note = !printing.note && !shared.read_only();
                return Action::None;
            }
            Message::Laying(turn, word) => {
                let Some(laying) = printing.laying.as_mut().filter(|laying| laying.turn == turn) else {
                    return Action::None;
                };
                let done = match word {
                    Word::Come(done, of) => {
                        laying.percent = done.saturating_mul(100) / of.max(1);
                        return Action::None;
                    }
                    Word::Done(done) => done,
                };
                printing.laying = None;
                match done {
                    Ok(Ok(document)) => {
                        let count = document.pages.iter().map(|page| page.places.len()).sum::<usize>();
                        printing.show(document, u64::try_from(count).unwrap_or(u64::MAX), &mut self.tools);
                    }
                    Ok(Err(problem)) => printing.problem = Some(problem.to_string()),
                    Err(reason) => printing.problem = Some(reason),
                }
                return Action::None;
            }
            Message::StopLaying => {
                printing.stop_laying();
                return Action::None;
            }
            Message::Out(message) => return self.on_way_out(message, shared),
            _ => return Action::None,
        }
        self.lay_run(shared)
    }

    /// A fresh sheet lies in the printer.
    fn fresh_sheet(&mut self, shared: &Shared) -> Action<Message> {
        let Some(printing) = &mut self.printing else { return Action::None };
        match printing.book_sheet().filter(|_| printing.begun > 1 && !shared.read_only()) {
            Some(sheet) => {
                self.waiting.push_back(Waiting::Other);
                Action::Do(actions::Action::BeginSheet { sheet, next_label: 1 })
            }
            None => {
                printing.start.set("1");
                self.lay_run(shared)
            }
        }
    }

    /// What goes out.
    fn leaving(&self, printing: &Printing, shared: &Shared) -> Result<Leaving, String> {
        let (Some(run), Some(draft), true) = (&printing.run, &self.draft, printing.is_ready()) else {
            return Err(printing.problem.clone().unwrap_or_else(|| "the pages are not laid out yet".to_owned()));
        };
        let going = Going {
            document: Arc::clone(&run.document),
            title: draft.paper.name.clone(),
            author: shared.settings().studio_name.clone(),
            language: draft.paper.languages.first().copied().unwrap_or_default(),
            summary: printing.summary(draft.paper.kind),
            file_name: Self::file_name(&draft.paper.name, "pdf"),
            sheet: printing.book_sheet(),
        };
        let mut stops: Vec<String> = printing
            .ticked()
            .filter_map(|place| self.subjects.get(place))
            .flat_map(|subject| subject.stops.iter().cloned())
            .collect();
        stops.dedup();
        Ok(Leaving::from(going).minding(stops))
    }

    /// Something happened on the way out.
    pub(super) fn on_way_out(&mut self, message: way_out::Message, shared: &Shared) -> Action<Message> {
        // What goes out is asked of all else that the room keeps.
        let Some(mut printing) = self.printing.take() else { return Action::None };
        let (worked, dots) = (printing.out.is_at_work(), printing.dots_per_inch());
        let mut out = std::mem::take(&mut printing.out);
        let (action, then) = out.update_leaving(message, &|| self.leaving(&printing, shared), shared);
        printing.out = out;
        let action = action.map(Message::Out);
        if printing.out.is_at_work() && !worked {
            let kind = self.draft.as_ref().map(|draft| draft.paper.kind);
            printing.on_its_way = kind.and_then(|kind| printing.leaves(kind, &self.subjects, shared.today));
        }
        let noted = match then {
            Then::Nothing => None,
            Then::Sent(_) => {
                let sent = printing.out.sent().clone();
                let on_its_way = printing.on_its_way.take().filter(|_| printing.note && !shared.read_only());
                on_its_way.and_then(|on_its_way| on_its_way.noted(sent.pages.as_ref(), sent.copies))
            }
        };
        let other_dots = printing.dots_per_inch() != dots;
        self.printing = Some(printing);
        if other_dots {
            return Action::Many(vec![action, self.lay_run(shared)]);
        }
        match noted {
            Some((tags, sheet)) => {
                self.waiting.push_back(Waiting::Other);
                Action::Many(vec![action, Action::Do(actions::Action::NotePrinted { tags, sheet })])
            }
            None => action,
        }
    }

    pub(super) fn open_print(&mut self, shared: &Shared) -> Action<Message> {
        let Some(draft) = &self.draft else { return Action::None };
        let mut printing = Printing::new(&shared.snapshot, &draft.paper, self.shown);
        printing.out.propose(shared, &Self::file_name(&draft.paper.name, "pdf"));
        let printers = printing.out.ask_printers().map(Message::Out);
        self.printing = Some(printing);
        Action::Many(vec![printers, self.lay_run(shared)])
    }
}
