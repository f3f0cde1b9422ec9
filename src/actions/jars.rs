//! Jars on the scale: jar and gross weight in, one count an item out.

use super::counts::compare;
use super::limits::{self, Range, refuse};
use super::perform::Done;
use super::stock::{book, found, too_large};
use super::{Added, Reading, Refusal};
use crate::book::movement::NewMovement;
use crate::book::{Change, Reader, document, item, jar};
use crate::costing::counting::CountedItem;
use crate::costing::weigh::{self, WeighedItem};
use crate::measure::{Money, Quantity, Unit};
use crate::studio::{ItemId, Jar, JarId, MovementId, MovementKind};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Most jars of one weigh-in.
const MOST_READINGS: usize = 10_000;

/// Adds a jar, or changes the one of that row.
pub(super) fn save(change: &Change<'_>, id: Option<JarId>, given: &Jar) -> Result<Done, Refusal> {
    let reader = change.reader();
    let mut new = given.clone();
    new.label = limits::name("Label", &new.label)?;
    limits::quantity("Tare", new.tare, Range::ZeroOrMore)?;
    let held = found(change, new.item)?;
    if held.unit != Unit::Gram {
        return Err(refuse(
            "Item",
            format!("{}, kept in {}", held.name, held.unit),
            "an item kept in g is accepted: a jar is weighed",
        ));
    }
    if let Some(other) = jar::with_label(reader, &new.label)?
        && Some(other) != id
    {
        return Err(Refusal::Taken { field: "Label".to_owned(), value: new.label });
    }
    let Some(id) = id else {
        let row = jar::insert(change, &new)?;
        return Ok(Done::adding(format!("Add jar {} of {}", new.label, held.name), Added::Jar(row)));
    };
    let before = jar::find(reader, id)?.ok_or_else(|| missing(id))?;
    if before.item != new.item && jar::was_weighed(reader, id)? {
        let name = found(change, before.item)?.name;
        return Err(refuse("Item", held.name, format!("{name} is accepted: the jar was weighed with it")));
    }
    jar::update(change, id, &new)?;
    Ok(Done::named(format!("Change jar {}", new.label)))
}

fn missing(id: JarId) -> Refusal {
    Refusal::Missing(format!("jar with row {}", id.0))
}

/// What jars weigh comes to, before it is accepted, item by item in the order of the readings.
pub(super) fn weighed(reader: Reader<'_>, date: NaiveDate, readings: &[Reading]) -> Result<Vec<WeighedItem>, Refusal> {
    limits::date("Date", date)?;
    if readings.is_empty() || readings.len() > MOST_READINGS {
        return Err(refuse("Jars", readings.len(), "1 to 10,000 jars are accepted"));
    }
    let mut gross: BTreeMap<JarId, Quantity> = BTreeMap::new();
    let mut items: Vec<ItemId> = Vec::new();
    for reading in readings {
        let found = jar::find(reader, reading.jar)?.ok_or_else(|| missing(reading.jar))?;
        let field = format!("Weight of {}", found.label);
        limits::quantity(&field, reading.gross, Range::ZeroOrMore)?;
        if found.retired {
            return Err(refuse(&field, format!("{} g", reading.gross), "a jar that is not set aside is accepted"));
        }
        if reading.gross < found.tare {
            return Err(refuse(
                &field,
                format!("{} g", reading.gross),
                format!("{} g, its tare, or more is accepted", found.tare),
            ));
        }
        if gross.insert(reading.jar, reading.gross).is_some() {
            return Err(refuse(&field, format!("{} g", reading.gross), "each jar once is accepted"));
        }
        if !items.contains(&found.item) {
            items.push(found.item);
        }
    }
    let method = document::settings(reader)?.valuation;
    let mut weighed = Vec::with_capacity(items.len());
    for id in items {
        let held = item::find(reader, id)?.ok_or_else(|| super::items::missing(id))?;
        let (mut counted, mut from_before) = (Quantity::ZERO, Vec::new());
        for jar in jar::of_item(reader, id, date)? {
            let weight = match (gross.get(&jar.id), jar.latest) {
                (Some(gross), _) => *gross,
                (None, Some(latest)) => {
                    from_before.push(jar.id);
                    latest.gross
                }
                (None, None) => {
                    return Err(refuse(
                        &format!("Weight of {}", jar.jar.label),
                        "nothing",
                        format!("its weight is accepted: it holds {} too, and was never weighed", held.name),
                    ));
                }
            };
            // A tare that was changed since may be above what the jar weighed before: then it is empty.
            let net = weight.minus(jar.jar.tare).map_err(too_large)?.max(Quantity::ZERO);
            counted = counted.plus(net).map_err(too_large)?;
        }
        let CountedItem { expected, difference, value, .. } = compare(reader, id, &held, date, counted, method)?;
        let large = weigh::compare(counted, expected).map_err(too_large)?.needs_cause;
        weighed.push(WeighedItem { item: id, counted, expected, difference, value, large, from_before });
    }
    Ok(weighed)
}

/// Accepts what jars weigh: one count an item.
pub(super) fn weigh_in(
    change: &Change<'_>,
    date: NaiveDate,
    readings: &[Reading],
    cause: &str,
) -> Result<Done, Refusal> {
    let weighed = weighed(change.reader(), date, readings)?;
    limits::text("Cause", cause)?;
    let mut moved = Money::ZERO;
    let mut counts: BTreeMap<ItemId, MovementId> = BTreeMap::new();
    for one in &weighed {
        let held = found(change, one.item)?;
        if one.large && cause.trim().is_empty() {
            return Err(refuse(
                "Cause",
                cause,
                format!(
                    "why {} weighs {} g and not {} g is accepted: so large a difference has one",
                    held.name, one.counted, one.expected
                ),
            ));
        }
        let (_, row) = book(
            change,
            &NewMovement {
                item: one.item,
                date,
                kind: MovementKind::Count,
                quantity: one.counted,
                cost: None,
                lot: None,
                lot_number: "",
                supplier: "",
                note: if one.large { cause.trim() } else { "" },
                typed: &format!("{} g", one.counted),
            },
        )?;
        counts.insert(one.item, row);
        moved = moved.minus(one.value).map_err(too_large)?;
    }
    for reading in readings {
        let held = jar::find(change.reader(), reading.jar)?.ok_or_else(|| missing(reading.jar))?;
        if let Some(row) = counts.get(&held.item) {
            jar::weigh(change, reading.jar, date, reading.gross, *row)?;
        }
    }
    let name = match readings {
        [only] => {
            let held = jar::find(change.reader(), only.jar)?.ok_or_else(|| missing(only.jar))?;
            format!("Weigh jar {}", held.label)
        }
        many => format!("Weigh {} jars", many.len()),
    };
    Ok(Done { name, added: None, moved_value: Some(moved) })
}
