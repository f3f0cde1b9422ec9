//! The jars an item is kept in, with what each weighed last.

use crate::book::Snapshot;
use crate::costing::weigh::weigh;
use crate::measure::{Preferences, Unit, display};
use crate::studio::ItemId;
use crate::window::widget::Line;

/// The jars of an item that are not set aside, by label: what stands on it, and what it held and weighed last.
pub(super) fn word(item: ItemId, snapshot: &Snapshot, preferences: &Preferences) -> Vec<Line> {
    let grams = |amount| display::quantity(amount, Unit::Gram, preferences);
    let jars = snapshot.jars.iter().filter(|jar| jar.jar.item == item && !jar.jar.retired);
    jars.map(|jar| {
        let tare = grams(jar.jar.tare.amount());
        let Some(latest) = jar.latest else {
            return Line::new(jar.jar.label.clone(), format!("not weighed yet; empty {tare}"));
        };
        let gross = grams(latest.gross.amount());
        let words = match weigh(jar.jar.tare, latest.gross, None) {
            Ok(weighed) => format!("{} on {}; {gross} with the jar", grams(weighed.net.amount()), latest.date),
            // Its tare was mended since.
            Err(_) => format!("{gross} with the jar on {}, less than its tare of {tare}", latest.date),
        };
        Line::new(jar.jar.label.clone(), words)
    })
    .collect()
}
