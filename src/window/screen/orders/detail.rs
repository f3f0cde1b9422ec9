//! The order in hand, worded.

use super::{landed, words};
use crate::book::Snapshot;
use crate::costing::landed::{LandedOrder, landed_costs, unit_price};
use crate::measure::{Preferences, display};
use crate::studio::{AttachmentId, BookOrder};

/// A line of the order.
#[derive(Debug, Clone)]
pub(super) struct DetailLine {
    pub(super) name: String,
    pub(super) lead: bool,
    /// `2 × 1 lb jar`.
    pub(super) ordered: String,
    pub(super) landed: String,
    pub(super) how: String,
    /// What came of it, a sentence a delivery.
    pub(super) came: Vec<String>,
    /// What is still to come; empty where nothing is.
    pub(super) to_come: String,
}

/// A file kept with the order.
#[derive(Debug, Clone)]
pub(super) struct FileRow {
    pub(super) id: AttachmentId,
    pub(super) name: String,
    pub(super) words: String,
}

/// The order as it is shown.
#[derive(Debug, Clone)]
pub(super) struct Detail {
    pub(super) title: String,
    pub(super) sentence: String,
    pub(super) sum: String,
    pub(super) note: String,
    pub(super) lines: Vec<DetailLine>,
    pub(super) files: Vec<FileRow>,
    pub(super) lead: bool,
    /// Something can still come.
    pub(super) open: bool,
}

impl Detail {
    pub(super) fn new(of: &BookOrder, snapshot: &Snapshot, preferences: &Preferences) -> Self {
        let order = &of.order;
        let left = of.to_come();
        let open = !order.closed && left.iter().any(|left| !left.is_zero());
        let invoiced = LandedOrder::of(order, preferences.currency);
        let costs = landed_costs(&invoiced).unwrap_or_default();
        let mut lines = Vec::with_capacity(order.lines.len());
        for (place, ((line, came), left)) in order.lines.iter().zip(&of.deliveries).zip(left).enumerate() {
            let Some(row) = snapshot.item(line.item) else { continue };
            let unit = row.item.unit;
            let cost = costs.get(place);
            let came = came.iter().map(|one| {
                let packs = words::packs(one.packs, line, unit, preferences);
                let cost = display::money(one.cost.amount(), preferences);
                format!("{packs} came on {} at {cost}, lot {}", one.date, one.movement.0)
            });
            let price = cost.and_then(|cost| unit_price(cost.total, line.packs, line.pack));
            let price = price.map(|price| display::unit_price(price, unit, preferences));
            let how = cost.map(|cost| landed::how(cost, preferences)).filter(|how| !how.is_empty());
            lines.push(DetailLine {
                name: row.item.name.clone(),
                lead: row.item.lead_bearing,
                ordered: words::packs(line.packs, line, unit, preferences),
                landed: cost.map_or_else(String::new, |cost| display::money(cost.total.amount(), preferences)),
                how: how.into_iter().chain(price).collect::<Vec<_>>().join(" · "),
                came: came.collect(),
                to_come: if left.is_zero() {
                    String::new()
                } else if order.closed {
                    format!("{} did not come and is not expected", words::count(left, preferences))
                } else {
                    format!("{} still to come", words::count(left, preferences))
                },
            });
        }
        Self {
            title: format!("Order {}", order.title()),
            sentence: sentence(of, open),
            sum: landed::sum(&invoiced, false, preferences),
            note: order.note.trim().to_owned(),
            lead: lines.iter().any(|line| line.lead),
            lines,
            files: of
                .attachments
                .iter()
                .map(|file| FileRow {
                    id: file.id,
                    name: file.name.clone(),
                    words: format!("{} · {}", file.media_type, size(file.size)),
                })
                .collect(),
            open,
        }
    }
}

fn sentence(of: &BookOrder, open: bool) -> String {
    let spread = of.order.spread.name();
    let state = match (open, of.order.closed && of.to_come().iter().any(|left| !left.is_zero())) {
        (true, _) => "more is still to come",
        (false, true) => "nothing more is expected",
        (false, false) => "all of it came",
    };
    format!("Ordered on {}; freight, duty and discount spread by {spread}; {state}", of.order.date)
}

/// A size in words, in the decimal units of the SI.
fn size(bytes: u64) -> String {
    match bytes {
        0..1_000 => words::counted(usize::try_from(bytes).unwrap_or_default(), "byte", "bytes"),
        1_000..1_000_000 => format!("{} kB", bytes.div_ceil(1_000)),
        _ => format!("{}.{} MB", bytes / 1_000_000, bytes % 1_000_000 / 100_000),
    }
}
