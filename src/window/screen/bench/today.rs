//! The bench page in words.

use crate::costing::{self, Standing};
use crate::measure::{Decimal, display};
use crate::studio::ItemDetails;
use crate::window::screen::Destination;
use crate::window::screen::designs::checks;
use crate::window::{Shared, theme};
use iced::Color;

/// Most lines of a panel; the rest is counted.
const MOST: usize = 8;

/// A line of the page.
#[derive(Debug, Clone)]
pub(super) struct Line {
    /// What it is about.
    pub(super) what: String,
    /// The figure beside it.
    pub(super) detail: String,
    /// A swatch, for an enamel.
    pub(super) swatch: Option<Color>,
    /// Where it leads.
    pub(super) destination: Destination,
}

/// The page.
#[derive(Debug, Default)]
pub(super) struct Today {
    pub(super) date: String,
    pub(super) fair: String,
    pub(super) fair_note: String,
    pub(super) low: Vec<Line>,
    pub(super) low_note: String,
    pub(super) low_calm: String,
    pub(super) prices: Vec<Line>,
    pub(super) prices_note: String,
    pub(super) prices_calm: String,
    pub(super) stops: Vec<Line>,
    pub(super) history: Vec<Line>,
}

impl Today {
    /// Words the page.
    pub(super) fn of(shared: &Shared) -> Self {
        let mut page = Self {
            date: shared.today.format("%A %-d %B %Y").to_string(),
            low_calm: if shared.snapshot.stock.is_empty() {
                "Nothing is on the shelf yet. F3 opens Stock, Ctrl+N there adds an item.".to_owned()
            } else {
                "Nothing is at its reorder level.".to_owned()
            },
            ..Self::default()
        };
        page.fair(shared);
        page.low(shared);
        page.designs(shared);
        page.history = shared
            .snapshot
            .history
            .iter()
            .take(MOST)
            .map(|entry| Line {
                what: if entry.undone { format!("{} (undone)", entry.name) } else { entry.name.clone() },
                detail: entry.at.clone(),
                swatch: None,
                destination: Destination::Setup,
            })
            .collect();
        page
    }

    fn fair(&mut self, shared: &Shared) {
        let settings = shared.settings();
        let name = settings.fair_name.trim();
        let Some(date) = settings.fair_date.filter(|_| !name.is_empty()) else {
            "The next fair".clone_into(&mut self.fair);
            "None is set. Setup keeps its name and its first day.".clone_into(&mut self.fair_note);
            return;
        };
        name.clone_into(&mut self.fair);
        let days = date.signed_duration_since(shared.today).num_days();
        let day = date.format("%A %-d %B");
        self.fair_note = match days {
            0 => "today".to_owned(),
            1 => format!("tomorrow, {day}"),
            2.. => format!("in {days} days, {day}"),
            _ => format!("was on {day}; Setup takes the next one"),
        };
        if days > 0 {
            self.date = format!("{} · {days} days to {name}", self.date);
        }
    }

    fn low(&mut self, shared: &Shared) {
        let low: Vec<_> = shared.snapshot.stock.iter().filter(|row| row.is_low()).collect();
        self.low_note = more(low.len());
        self.low = low
            .into_iter()
            .take(MOST)
            .map(|row| Line {
                what: row.item.name.clone(),
                detail: format!("{} left", display::quantity(row.on_hand.amount(), row.item.unit, &shared.preferences)),
                swatch: match &row.item.details {
                    ItemDetails::Enamel { swatch, .. } => Some(theme::swatch(*swatch)),
                    _ => None,
                },
                destination: Destination::Item(row.id),
            })
            .collect();
    }

    fn designs(&mut self, shared: &Shared) {
        let mut under = Vec::new();
        let mut stale = Vec::new();
        let mut accepted = 0_usize;
        let money = |amount: Decimal| display::money(amount, &shared.preferences);
        for book in shared.snapshot.designs.iter().filter(|book| !book.retired) {
            let Ok(design) = shared.snapshot.resolved(book) else { continue };
            let Ok(answer) = costing::costing(&design) else { continue };
            let name = &design.name;
            self.stops.extend(checks::stops(&design, &answer, &shared.preferences).into_iter().map(|what| Line {
                what,
                detail: String::new(),
                swatch: None,
                destination: Destination::Design(book.id),
            }));
            for channel in &design.channels {
                let Some((_, line)) = shared.snapshot.accepted(book.id, &channel.id) else { continue };
                accepted += 1;
                let told = |detail: String| Line {
                    what: format!("{name}, {}", channel.name),
                    detail,
                    swatch: None,
                    destination: Destination::Design(book.id),
                };
                match costing::standing(&design, &answer, line) {
                    Ok(Some(Standing::UnderCost { short })) => {
                        under.push(told(format!("{} is under cost by {}", money(line.ticket), money(short))));
                    }
                    Ok(Some(Standing::OutOfDate { ticket })) => {
                        stale.push(told(format!("accepted {}, today {}", money(line.ticket), money(ticket))));
                    }
                    _ => {}
                }
            }
        }
        under.extend(stale);
        self.prices_note = more(under.len());
        under.truncate(MOST);
        self.prices = under;
        self.stops.truncate(MOST);
        self.prices_calm = if accepted == 0 {
            "No ticket is accepted yet. Prices makes a dated list of them.".to_owned()
        } else {
            "Every accepted ticket covers its cost and is today's.".to_owned()
        };
    }
}

fn more(count: usize) -> String {
    if count > MOST { format!("the first {MOST} of {count}") } else { String::new() }
}
