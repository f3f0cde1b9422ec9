//! Reading a snapshot, and reading again only what changed.

use super::change::Reader;
use super::item_state::ItemState;
use super::snapshot::{item_places, line_places};
use super::{
    Access, BookError, Snapshot, StockRow, batch, design, document, history, item, item_state, jar, kiln, load,
    paper_design, price_list, printing, purchase, sheet, tile, timer, wording,
};
use crate::studio::{BookDesign, DesignId, ItemId};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Actions shown at once.
const HISTORY_SHOWN: u32 = 100;

/// A snapshot with what it takes to tell which of its parts are still true.
pub(in crate::book) struct Seen {
    pub(in crate::book) snapshot: Snapshot,
    counts: BTreeMap<String, i64>,
    items: BTreeMap<ItemId, i64>,
    designs: BTreeMap<DesignId, i64>,
}

impl Seen {
    /// Reads everything, or what changed since `before`.
    pub(in crate::book) fn read(reader: Reader<'_>, before: Option<Self>, access: Access) -> Result<Self, BookError> {
        let counts = history::change_counts(reader)?;
        let same = |nouns: &[&str]| {
            before.as_ref().filter(|seen| nouns.iter().all(|noun| seen.counts.get(*noun) == counts.get(*noun)))
        };
        let settings = match same(&["settings"]) {
            Some(seen) => Arc::clone(&seen.snapshot.settings),
            None => Arc::new(document::settings(reader)?),
        };
        let rates = match same(&["studio_rates"]) {
            Some(seen) => Arc::clone(&seen.snapshot.rates),
            None => Arc::new(document::rates(reader)?),
        };
        let sheets = match same(&["sheet"]) {
            Some(seen) => Arc::clone(&seen.snapshot.sheets),
            None => Arc::new(sheet::all(reader)?),
        };
        let price_lists = match same(&["price_list", "price_line"]) {
            Some(seen) => Arc::clone(&seen.snapshot.price_lists),
            None => Arc::new(price_list::all(reader)?),
        };
        let (stock, items) = match same(&["item", "movement", "lot_correction", "settings"]) {
            Some(seen) => (Arc::clone(&seen.snapshot.stock), seen.items.clone()),
            None => read_stock(reader, before.as_ref())?,
        };
        let (designs, design_revisions) = match same(&["design", "design_material", "photo"]) {
            Some(seen) => (Arc::clone(&seen.snapshot.designs), seen.designs.clone()),
            None => read_designs(reader, before.as_ref())?,
        };
        let jars = match same(&["jar", "weighing"]) {
            Some(seen) => Arc::clone(&seen.snapshot.jars),
            None => Arc::new(jar::all(reader)?),
        };
        let open_orders =
            match same(&["purchase_order", "purchase_line", "delivery_line", "attachment", "lot_correction"]) {
                Some(seen) => Arc::clone(&seen.snapshot.open_orders),
                None => Arc::new(purchase::list(reader, purchase::Which::Open)?),
            };
        let kilns = match same(&["kiln"]) {
            Some(seen) => Arc::clone(&seen.snapshot.kilns),
            None => Arc::new(kiln::all(reader)?),
        };
        let batches = match same(&["batch", "piece", "bench_entry"]) {
            Some(seen) => Arc::clone(&seen.snapshot.batches),
            None => Arc::new(batch::open(reader)?),
        };
        let firing = match same(&["firing_load", "photo"]) {
            Some(seen) => Arc::clone(&seen.snapshot.firing),
            None => Arc::new(load::firing(reader)?),
        };
        let timers = match same(&["timer"]) {
            Some(seen) => Arc::clone(&seen.snapshot.timers),
            None => Arc::new(timer::all(reader)?),
        };
        let tiles = match same(&["tile", "tile_layer", "photo"]) {
            Some(seen) => Arc::clone(&seen.snapshot.tiles),
            None => Arc::new(tile::all(reader)?),
        };
        let paper_designs = match same(&["paper_design"]) {
            Some(seen) => Arc::clone(&seen.snapshot.paper_designs),
            None => Arc::new(paper_design::all(reader)?),
        };
        let pictures = match same(&["picture"]) {
            Some(seen) => Arc::clone(&seen.snapshot.pictures),
            None => Arc::new(paper_design::pictures(reader)?),
        };
        let printers = match same(&["printer"]) {
            Some(seen) => Arc::clone(&seen.snapshot.printers),
            None => Arc::new(printing::printers(reader)?),
        };
        let begun_sheets = match same(&["sheet_use"]) {
            Some(seen) => Arc::clone(&seen.snapshot.begun_sheets),
            None => Arc::new(printing::begun_sheets(reader)?),
        };
        let printed_tags = match same(&["printed_tag"]) {
            Some(seen) => Arc::clone(&seen.snapshot.printed_tags),
            None => Arc::new(printing::latest_tags(reader)?),
        };
        let own_words = match same(&["own_words"]) {
            Some(seen) => Arc::clone(&seen.snapshot.own_words),
            None => Arc::new(wording::own_words(reader)?),
        };
        let trade_numbers = match same(&["trade_number"]) {
            Some(seen) => Arc::clone(&seen.snapshot.trade_numbers),
            None => Arc::new(wording::trade_numbers(reader)?),
        };
        let item_places = match before.as_ref().filter(|seen| Arc::ptr_eq(&seen.snapshot.stock, &stock)) {
            Some(seen) => Arc::clone(&seen.snapshot.item_places),
            None => Arc::new(item_places(&stock)),
        };
        let line_places = match before.as_ref().filter(|seen| Arc::ptr_eq(&seen.snapshot.price_lists, &price_lists)) {
            Some(seen) => Arc::clone(&seen.snapshot.line_places),
            None => Arc::new(line_places(&price_lists)),
        };
        let snapshot = Snapshot {
            settings,
            rates,
            stock,
            jars,
            open_orders,
            designs,
            price_lists,
            sheets,
            kilns,
            batches,
            firing,
            timers,
            tiles,
            paper_designs,
            pictures,
            printers,
            begun_sheets,
            printed_tags,
            own_words,
            trade_numbers,
            history: Arc::new(history::latest(reader, HISTORY_SHOWN)?),
            undo: history::next_to_undo(reader)?.map(|(_, name)| name),
            redo: history::next_to_redo(reader)?.map(|(_, name)| name),
            read_only: access == Access::Read,
            item_places,
            line_places,
        };
        Ok(Self { snapshot, counts, items, designs: design_revisions })
    }
}

type Stock = (Arc<Vec<StockRow>>, BTreeMap<ItemId, i64>);

fn read_stock(reader: Reader<'_>, before: Option<&Seen>) -> Result<Stock, BookError> {
    let mut states = item_state::all(reader)?;
    let mut row = |id: ItemId, item| {
        let ItemState { on_hand, value, book_price, replacement_price, last_moved } =
            states.remove(&id).unwrap_or_default();
        StockRow { id, item, on_hand, value, book_price, replacement_price, last_moved }
    };
    let mut revisions = BTreeMap::new();
    let mut stock = Vec::new();
    match before {
        None => {
            for found in item::all(reader)? {
                revisions.insert(found.id, found.revision);
                stock.push(row(found.id, found.item));
            }
        }
        Some(seen) => {
            let known: BTreeMap<ItemId, &StockRow> = seen.snapshot.stock.iter().map(|row| (row.id, row)).collect();
            for (id, revision) in item::revisions(reader)? {
                let kept = known.get(&id).filter(|_| seen.items.get(&id) == Some(&revision));
                let item = match kept {
                    Some(kept) => Some(kept.item.clone()),
                    None => item::find_row(reader, id)?.map(|found| found.item),
                };
                if let Some(item) = item {
                    revisions.insert(id, revision);
                    stock.push(row(id, item));
                }
            }
        }
    }
    stock.sort_by(|a, b| a.item.name.cmp(&b.item.name).then(a.id.cmp(&b.id)));
    Ok((Arc::new(stock), revisions))
}

type Designs = (Arc<Vec<BookDesign>>, BTreeMap<DesignId, i64>);

fn read_designs(reader: Reader<'_>, before: Option<&Seen>) -> Result<Designs, BookError> {
    let mut revisions = BTreeMap::new();
    let mut designs = Vec::new();
    match before {
        None => {
            for found in design::all(reader)? {
                revisions.insert(found.design.id, found.revision);
                designs.push(found.design);
            }
        }
        Some(seen) => {
            let known: BTreeMap<DesignId, &BookDesign> =
                seen.snapshot.designs.iter().map(|design| (design.id, design)).collect();
            for (id, revision) in design::revisions(reader)? {
                let kept = known.get(&id).filter(|_| seen.designs.get(&id) == Some(&revision));
                let found = match kept {
                    Some(kept) => Some((*kept).clone()),
                    None => design::find_row(reader, id)?.map(|found| found.design),
                };
                if let Some(found) = found {
                    revisions.insert(id, revision);
                    designs.push(found);
                }
            }
        }
    }
    Ok((Arc::new(designs), revisions))
}
