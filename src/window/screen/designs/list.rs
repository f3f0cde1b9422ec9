//! The list of designs: what each costs and asks, prepared whenever the book changes.

use super::checks;
use super::looks;
use super::page::fresh_version;
use super::words;
use crate::book::Snapshot;
use crate::costing::costing;
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{BookDesign, DesignId};
use crate::window::draw::outline::Shape;
use crate::window::widget::Mark;
use crate::window::widget::listing::{Listing, Order};
use std::collections::BTreeMap;
use std::sync::Arc;

/// One design of the list.
#[derive(Debug, Clone)]
pub struct Row {
    /// The design.
    pub id: DesignId,
    /// Its code.
    pub code: String,
    /// Its name.
    pub name: String,
    /// Firings.
    pub firings: String,
    /// Full cost.
    pub full: String,
    /// Tickets, channel by channel.
    pub tickets: String,
    /// The gravest mark.
    pub mark: Option<Mark>,
    /// Its word.
    pub mark_word: String,
    /// The blank.
    pub shape: Shape,
    /// The colour it is drawn in.
    pub colour: [u8; 3],
    /// For the picture.
    pub version: u64,
    /// Set aside.
    pub retired: bool,
    sort_cost: Decimal,
    sort_ticket: Decimal,
    sort_firings: u32,
}

/// The list.
#[derive(Debug)]
pub struct DesignList {
    /// What is typed in the search field.
    pub search: String,
    /// Show those set aside.
    pub retired: bool,
    /// Selection and scrolling.
    pub listing: Listing,
    /// Rows that are shown, in order.
    pub rows: Vec<Row>,
    /// `12 designs`, `3 of 12 designs`.
    pub count: String,
    known: BTreeMap<DesignId, (BookDesign, Row)>,
    seen: Option<Arc<Snapshot>>,
}

impl DesignList {
    /// The list of a book.
    pub fn new(snapshot: &Arc<Snapshot>) -> Self {
        let mut list = Self {
            search: String::new(),
            retired: false,
            listing: Listing::new("designs"),
            rows: Vec::new(),
            count: String::new(),
            known: BTreeMap::new(),
            seen: None,
        };
        list.refresh(snapshot);
        list
    }

    /// Words the rows anew: those of designs that changed, or all when rates, stock or settings did.
    pub fn refresh(&mut self, snapshot: &Arc<Snapshot>) {
        let same = self.seen.as_ref().is_some_and(|seen| {
            Arc::ptr_eq(&seen.rates, &snapshot.rates)
                && Arc::ptr_eq(&seen.stock, &snapshot.stock)
                && Arc::ptr_eq(&seen.settings, &snapshot.settings)
        });
        let mut known = std::mem::take(&mut self.known);
        let preferences = Preferences::from(&*snapshot.settings);
        for design in snapshot.designs.iter() {
            let kept = known.remove(&design.id).filter(|(held, _)| same && held == design);
            let entry = kept.unwrap_or_else(|| (design.clone(), row(design, snapshot, &preferences)));
            let _ = self.known.insert(design.id, entry);
        }
        self.seen = Some(Arc::clone(snapshot));
        self.arrange();
    }

    /// Picks and sorts the rows.
    pub fn arrange(&mut self) {
        let chosen = self.selected();
        let wanted = self.search.trim().to_lowercase();
        let matches = |row: &&Row| {
            (self.retired || !row.retired)
                && (wanted.is_empty()
                    || row.name.to_lowercase().contains(&wanted)
                    || row.code.to_lowercase().contains(&wanted))
        };
        let mut rows: Vec<Row> = self.known.values().map(|(_, row)| row).filter(matches).cloned().collect();
        let (column, order) = self.listing.sort();
        rows.sort_by(|a, b| {
            let by = match column {
                1 => a.name.to_lowercase().cmp(&b.name.to_lowercase()),
                2 => a.code.cmp(&b.code),
                3 => a.sort_firings.cmp(&b.sort_firings),
                4 => a.sort_cost.cmp(&b.sort_cost),
                5 => a.sort_ticket.cmp(&b.sort_ticket),
                6 => grave(a.mark).cmp(&grave(b.mark)),
                _ => a.code.cmp(&b.code),
            };
            let by = if order == Order::Falling { by.reverse() } else { by };
            by.then_with(|| a.code.cmp(&b.code))
        });
        self.rows = rows;
        let place = chosen.and_then(|id| self.rows.iter().position(|row| row.id == id));
        self.listing.select(place);
        let (shown, all) = (self.rows.len(), self.known.len());
        let word = if all == 1 { "design" } else { "designs" };
        self.count = if shown == all { format!("{all} {word}") } else { format!("{shown} of {all} {word}") };
    }

    /// The selected design.
    pub fn selected(&self) -> Option<DesignId> {
        self.listing.selected().and_then(|place| self.rows.get(place)).map(|row| row.id)
    }

    /// True when the book has no design at all.
    pub fn is_empty(&self) -> bool {
        self.known.is_empty()
    }
}

const fn grave(mark: Option<Mark>) -> u8 {
    match mark {
        Some(Mark::Stop) => 2,
        Some(Mark::Caution) => 1,
        _ => 0,
    }
}

fn row(book: &BookDesign, snapshot: &Snapshot, p: &Preferences) -> Row {
    let mut row = Row {
        id: book.id,
        code: book.design.code.to_string(),
        name: book.design.name.clone(),
        firings: String::new(),
        full: String::new(),
        tickets: String::new(),
        mark: None,
        mark_word: String::new(),
        shape: looks::shape(&book.design.blank),
        colour: looks::front_colour(book, snapshot),
        version: fresh_version(),
        retired: book.retired,
        sort_cost: Decimal::ZERO,
        sort_ticket: Decimal::ZERO,
        sort_firings: 0,
    };
    let answer = snapshot
        .resolved(book)
        .map_err(|problem| problem.to_string())
        .and_then(|design| costing(&design).map(|answer| (design, answer)).map_err(|problem| problem.to_string()));
    match answer {
        Ok((design, answer)) => {
            row.firings = answer.cost.firings.to_string();
            row.full = display::money(answer.cost.full, p);
            row.sort_cost = answer.cost.full;
            row.sort_firings = answer.cost.firings;
            let tickets: Vec<String> = answer
                .channels
                .iter()
                .map(|price| match &price.priced {
                    Ok(priced) => words::short_money(priced.ticket, p),
                    Err(_) => "–".to_owned(),
                })
                .collect();
            row.tickets = tickets.join(" · ");
            row.sort_ticket = answer
                .channels
                .iter()
                .find_map(|price| price.priced.as_ref().ok())
                .map(|priced| priced.ticket)
                .unwrap_or_default();
            let checks = checks::checks(&design, &answer, p);
            let found = checks.iter().filter(|check| !matches!(check.mark, Mark::Good) && !check.what.is_empty());
            row.mark = found.clone().map(|check| check.mark).max_by_key(|mark| grave(Some(*mark)));
            let count = found.count();
            row.mark_word = match (row.mark, count) {
                (Some(Mark::Stop), _) => "stop".to_owned(),
                (Some(_), 1) => "1 caution".to_owned(),
                (Some(_), count) => format!("{count} cautions"),
                (None, _) => String::new(),
            };
        }
        Err(problem) => {
            row.tickets = problem;
            row.mark = Some(Mark::Stop);
            row.mark_word = "no cost".to_owned();
        }
    }
    if book.retired {
        row.mark_word =
            if row.mark_word.is_empty() { "set aside".to_owned() } else { format!("{}, set aside", row.mark_word) };
    }
    row
}
