//! Filling an empty book with the demo studio.

use super::demo_bench::{self, Rows};
use super::perform::Done;
use super::{Refusal, demo_papers, designs, items, jars, prices, setup, stock};
use crate::book::movement::NewMovement;
use crate::book::{Change, item, sheet};
use crate::exchange::demo::{DemoMovement, DemoStudio, demo};
use crate::studio::{DesignCode, DesignId, Follows, ItemId, Jar, PriceLine};
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// Fills an empty book with the demo studio as it is on `today`, through the same checks a person's entries go through.
pub(super) fn load(change: &Change<'_>, today: NaiveDate, action: i64) -> Result<Done, Refusal> {
    if item::any(change.reader())? || setup::holds_amounts(change.reader())? {
        return Err(Refusal::No(
            "the book is not empty: the demo studio can only fill a new book, so that nothing of yours is mixed with it"
                .to_owned(),
        ));
    }
    let studio = demo(today).map_err(|problem| Refusal::No(problem.to_string()))?;
    setup::save_settings(change, &studio.settings)?;
    // An empty book has no past in which its rates were others.
    setup::first_rates(change, &studio.rates)?;
    for label_sheet in &studio.sheets {
        let row = sheet::with_name(change.reader(), &label_sheet.name)?;
        setup::save_sheet(change, row, label_sheet.clone())?;
    }
    let item_rows = load_items(change, &studio, action)?;
    for jar in &studio.jars {
        let item = *item_rows.get(&jar.item).ok_or_else(|| Refusal::Missing(format!("item {}", jar.item)))?;
        jars::save(change, None, &Jar { item, label: jar.label.clone(), tare: jar.tare, retired: false })?;
    }
    for movement in &studio.movements {
        load_movement(change, movement, &item_rows)?;
    }
    let design_rows = load_designs(change, &studio, &item_rows, action)?;
    for list in &studio.price_lists {
        let lines = list
            .lines
            .iter()
            .map(|line| {
                Ok(PriceLine {
                    design: *design_rows
                        .get(&line.code)
                        .ok_or_else(|| Refusal::Missing(format!("design {}", line.code)))?,
                    code: line.code.clone(),
                    name: line.name.clone(),
                    channel: line.channel.clone(),
                    channel_name: line.channel_name.clone(),
                    ticket: line.ticket,
                    full_cost: line.full_cost,
                    common: line.common,
                })
            })
            .collect::<Result<Vec<_>, Refusal>>()?;
        prices::accept(change, list.date, &list.name, &lines)?;
    }
    demo_bench::load(change, &studio.bench, &Rows { items: &item_rows, designs: &design_rows })?;
    demo_papers::load(change, &studio.papers, &design_rows)?;
    Ok(Done::named("Fill the book with the demo studio".to_owned()))
}

fn load_items(change: &Change<'_>, studio: &DemoStudio, action: i64) -> Result<BTreeMap<String, ItemId>, Refusal> {
    let mut rows = BTreeMap::new();
    for stock_item in &studio.items {
        rows.insert(stock_item.reference.clone(), items::add(change, stock_item.clone(), action)?);
    }
    Ok(rows)
}

fn load_movement(
    change: &Change<'_>,
    movement: &DemoMovement,
    items: &BTreeMap<String, ItemId>,
) -> Result<(), Refusal> {
    stock::book(
        change,
        &NewMovement {
            item: *items.get(&movement.item).ok_or_else(|| Refusal::Missing(format!("item {}", movement.item)))?,
            date: movement.date,
            kind: movement.kind,
            quantity: movement.quantity,
            cost: movement.cost,
            lot: None,
            lot_number: &movement.lot_number,
            supplier: &movement.supplier,
            note: &movement.note,
            typed: &movement.typed,
        },
    )?;
    Ok(())
}

fn load_designs(
    change: &Change<'_>,
    studio: &DemoStudio,
    items: &BTreeMap<String, ItemId>,
    action: i64,
) -> Result<BTreeMap<DesignCode, DesignId>, Refusal> {
    let mut rows = BTreeMap::new();
    for design in &studio.designs {
        let materials = design
            .links
            .iter()
            .map(|(material, reference)| {
                let item = items.get(reference).ok_or_else(|| Refusal::Missing(format!("item {reference}")))?;
                Ok((material.clone(), *item))
            })
            .collect::<Result<BTreeMap<_, _>, Refusal>>()?;
        let follows = Follows { materials, ..design.follows.clone() };
        let row = designs::add(change, &design.design, &follows, &design.notes, action)?;
        rows.insert(design.design.code.clone(), row);
    }
    Ok(rows)
}
