//! The find box: a few letters bring up a design, an item, a jar, a batch, a piece, a page. What a symbol on a paper
//! holds is typed by a scanner and leads to the same places.

use super::screen::Destination;
use super::shortcut::RoomName;
use super::theme::{self, Chosen, size, space};
use super::widget::{self, Press};
use crate::book::Snapshot;
use crate::paper::batch_words::batch_named;
use iced::widget::{Column, column, row, scrollable, text};
use iced::{Alignment, Element, Length};

/// The field of the find box.
pub const FIELD: &str = "find-field";
/// Most answers at once.
const MOST: usize = 12;

/// Which way an arrow moves the choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// To the answer below.
    Down,
    /// To the answer above.
    Up,
}

/// What happens in the find box.
#[derive(Debug, Clone)]
pub enum Message {
    /// Letters were typed.
    Typed(String),
    /// An arrow was pressed.
    Move(Step),
    /// Enter was pressed: go to the chosen answer.
    Enter,
    /// An answer was pressed.
    Press(Destination),
}

/// One answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hit {
    /// What it is called.
    pub name: String,
    /// What it is: `design LN-DROP`, `enamel EN-014`, `page`.
    pub kind: String,
    /// Where it leads.
    pub destination: Destination,
}

/// The open find box.
#[derive(Debug, Clone)]
pub struct Find {
    typed: String,
    hits: Vec<Hit>,
    chosen: usize,
}

impl Find {
    /// The box as it opens: nothing typed, the pages to choose from.
    pub fn open(snapshot: &Snapshot) -> Self {
        Self { typed: String::new(), hits: hits("", snapshot), chosen: 0 }
    }

    /// The answers, best first.
    pub fn hits(&self) -> &[Hit] {
        &self.hits
    }

    /// Takes note of a message; says where to go when the person has chosen.
    pub fn update(&mut self, message: Message, snapshot: &Snapshot) -> Option<Destination> {
        match message {
            Message::Typed(typed) => {
                self.hits = hits(&typed, snapshot);
                self.typed = typed;
                self.chosen = 0;
                None
            }
            Message::Move(step) => {
                let last = self.hits.len().saturating_sub(1);
                self.chosen = match step {
                    Step::Down => self.chosen.saturating_add(1).min(last),
                    Step::Up => self.chosen.saturating_sub(1),
                };
                None
            }
            Message::Enter => self.hits.get(self.chosen).map(|hit| hit.destination.clone()),
            Message::Press(destination) => Some(destination),
        }
    }

    /// The box.
    pub fn view(&self) -> Element<'_, Message> {
        let field = widget::field::input("a design, an item, a batch, a piece, a page", &self.typed)
            .id(FIELD)
            .on_input(Message::Typed)
            .on_submit(Message::Enter);
        let answers = Column::with_children(self.hits.iter().enumerate().map(|(index, hit)| {
            Press::new(
                row![text(hit.name.as_str()).size(size::BODY).width(Length::Fill), widget::small(hit.kind.as_str())]
                    .spacing(space::TWO)
                    .align_y(Alignment::Center),
            )
            .on_press(Message::Press(hit.destination.clone()))
            .width(Length::Fill)
            .height(theme::TARGET)
            .style(theme::row(Chosen::from(index == self.chosen)))
            .into()
        }));
        let nothing = self.hits.is_empty().then(|| widget::quiet("Nothing is called that. Try fewer letters."));
        column![widget::strong("Find"), field, nothing, scrollable(answers).spacing(space::HALF).style(theme::scroll)]
            .spacing(space::ONE)
            .into()
    }
}

/// What the letters bring up: names that begin with them first, then codes and references, then names that hold them;
/// designs before items before pages, each by name.
fn hits(typed: &str, snapshot: &Snapshot) -> Vec<Hit> {
    let wanted = typed.trim().to_lowercase();
    let pages = RoomName::ALL.into_iter().map(|room| Hit {
        name: room.words().to_owned(),
        kind: "page".to_owned(),
        destination: room.destination(),
    });
    if wanted.is_empty() {
        return pages.collect();
    }
    let mut ranked: Vec<(u8, u8, Hit)> = Vec::new();
    if let Some(number) = batch_named(&wanted) {
        let name = snapshot.batches.iter().find(|record| record.batch.number == number);
        let hit = Hit {
            name: name.map_or_else(|| format!("Batch {number}"), |record| record.batch.name.clone()),
            kind: format!("batch {number}"),
            destination: Destination::BatchNumber(number),
        };
        ranked.push((0, 0, hit));
    }
    if let Some(number) = piece_number(&wanted, snapshot) {
        let kind = "piece".to_owned();
        ranked.push((0, 0, Hit { name: number.clone(), kind, destination: Destination::FindPiece(number) }));
    }
    let mut offer = |order: u8, code: &str, retired: bool, hit: Hit| {
        if let Some(rank) = rank(&wanted, &hit.name, code) {
            ranked.push((if retired { rank + 8 } else { rank }, order, hit));
        }
    };
    for design in snapshot.designs.iter() {
        let code = design.design.code.as_str();
        let hit = Hit {
            name: design.design.name.clone(),
            kind: format!("design {code}"),
            destination: Destination::Design(design.id),
        };
        offer(0, code, design.retired, hit);
    }
    for row in snapshot.stock.iter() {
        let hit = Hit {
            name: row.item.name.clone(),
            kind: format!("{} {}", row.item.details.kind().name(), row.item.reference),
            destination: Destination::Item(row.id),
        };
        offer(1, &row.item.reference, row.item.retired, hit);
    }
    for jar in snapshot.jars.iter() {
        let hit =
            Hit { name: jar.jar.label.clone(), kind: "jar".to_owned(), destination: Destination::Item(jar.jar.item) };
        offer(1, &jar.jar.label, jar.jar.retired, hit);
    }
    for record in snapshot.batches.iter() {
        let hit = Hit {
            name: record.batch.name.clone(),
            kind: format!("batch {}", record.batch.number),
            destination: Destination::Batch(record.id),
        };
        offer(0, record.batch.plan.code.as_str(), false, hit);
    }
    for page in pages {
        offer(2, "", false, page);
    }
    ranked.sort_by(|a, b| (a.0, a.1, &a.2.name).cmp(&(b.0, b.1, &b.2.name)));
    ranked.into_iter().take(MOST).map(|(_, _, hit)| hit).collect()
}

/// The number of a piece: the code of a design, a hyphen and digits. `wanted` is lower case; the number is not.
fn piece_number(wanted: &str, snapshot: &Snapshot) -> Option<String> {
    let (code, digits) = wanted.rsplit_once('-')?;
    if digits.is_empty() || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let known = snapshot.designs.iter().any(|design| design.design.code.as_str().eq_ignore_ascii_case(code));
    known.then(|| wanted.to_uppercase())
}

/// How well a name answers; smaller is better, `None` not at all. `wanted` is lower case.
fn rank(wanted: &str, name: &str, code: &str) -> Option<u8> {
    let (name, code) = (name.to_lowercase(), code.to_lowercase());
    if name.starts_with(wanted) {
        Some(0)
    } else if !code.is_empty() && code.starts_with(wanted) {
        Some(1)
    } else if name.split_whitespace().any(|word| word.starts_with(wanted)) {
        Some(2)
    } else if name.contains(wanted) || code.contains(wanted) {
        Some(3)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_begins_with_the_letters_comes_first() {
        assert_eq!(rank("lan", "Lantern drop", "LN-DROP"), Some(0));
        assert_eq!(rank("ln", "Lantern drop", "LN-DROP"), Some(1));
        assert_eq!(rank("dro", "Lantern drop", "LN-DROP"), Some(2));
        assert_eq!(rank("tern", "Lantern drop", "LN-DROP"), Some(3));
        assert_eq!(rank("fern", "Lantern drop", "LN-DROP"), None);
        assert_eq!(rank("é", "Émail", ""), Some(0));
    }
}
