//! Files of movements: new items and movements, all of them or nothing.

use super::limits::{self, refuse};
use super::perform::Done;
use super::{Refusal, items, period, stock};
use crate::book::movement::{self, NewMovement};
use crate::book::{Change, import_shape, item};
use crate::exchange::movement_file::{ImportItem, ImportPlan};
use crate::studio::{Item, ItemId};
use std::collections::BTreeMap;

/// Most movements of one file.
const MOST_MOVEMENTS: usize = 200_000;

/// After how many movements progress is told.
const STRIDE: usize = 250;

/// Carries out a plan; `go_on` is told how many movements of how many are written and says whether to go on.
pub(super) fn import(
    change: &Change<'_>,
    plan: &ImportPlan,
    action: i64,
    go_on: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Done, Refusal> {
    let name = limits::name("File", &plan.name)?;
    let all = plan.movements.len();
    if all > MOST_MOVEMENTS {
        return Err(refuse("Movements", all, format!("up to {MOST_MOVEMENTS} movements are accepted in one file")));
    }
    if all == 0 && plan.new_items.is_empty() {
        return Err(Refusal::No(format!("{name} has nothing to bring in")));
    }
    let closed_until = period::closed_until(change.reader())?;
    let mut made: Vec<(ItemId, Item)> = Vec::with_capacity(plan.new_items.len());
    for new in &plan.new_items {
        let id = items::add(change, new.clone(), action)?;
        let added = item::find(change.reader(), id)?.ok_or_else(|| items::missing(id))?;
        made.push((id, added));
    }
    let mut known: BTreeMap<ItemId, Item> = BTreeMap::new();
    let mut writer = movement::Writer::new(change)?;
    for (done, line) in plan.movements.iter().enumerate() {
        if done % STRIDE == 0 && !go_on(done, all) {
            return Err(Refusal::Stopped);
        }
        let (id, item) = match line.item {
            ImportItem::New(place) => {
                let (id, item) = made
                    .get(place)
                    .ok_or_else(|| Refusal::Missing(format!("item {place} among those the file makes")))?;
                (*id, item)
            }
            ImportItem::Known(id) => match known.entry(id) {
                std::collections::btree_map::Entry::Occupied(found) => (id, &*found.into_mut()),
                std::collections::btree_map::Entry::Vacant(free) => {
                    let found = item::find(change.reader(), id)?.ok_or_else(|| items::missing(id))?;
                    (id, &*free.insert(found))
                }
            },
        };
        let new = NewMovement {
            item: id,
            date: line.date,
            kind: line.kind,
            quantity: line.quantity,
            cost: line.cost,
            lot: None,
            lot_number: if line.kind.comes_or_goes_back() { line.lot_number.trim() } else { "" },
            supplier: match &line.supplier {
                _ if !line.kind.comes_or_goes_back() => "",
                Some(supplier) => supplier.trim(),
                None => &item.supplier,
            },
            note: &line.note,
            typed: &line.typed,
        };
        if line.kind.is_lot() != line.cost.is_some() {
            return Err(refuse(
                &format!("Row {}, cost", line.row),
                line.cost.map_or_else(|| "nothing".to_owned(), |cost| cost.to_string()),
                "a cost for receipts and wash-backs, and for no other movement, is accepted",
            ));
        }
        stock::accept(item, &new, closed_until).map_err(|refusal| in_row(line.row, refusal))?;
        writer.insert(&new)?;
    }
    if !go_on(all, all) {
        return Err(Refusal::Stopped);
    }
    if let Some(shape) = &plan.shape {
        limits::name("Shape of the file", &shape.fingerprint)?;
        import_shape::put(change, &shape.fingerprint, &shape.body)?;
    }
    let items = match plan.new_items.len() {
        0 => String::new(),
        1 => "1 item and ".to_owned(),
        many => format!("{many} items and "),
    };
    let movements = if all == 1 { "1 movement".to_owned() } else { format!("{all} movements") };
    Ok(Done::named(format!("Bring in {items}{movements} from {name}")))
}

/// The refusal of a field, saying in which row of the file.
fn in_row(row: usize, refusal: Refusal) -> Refusal {
    match refusal {
        Refusal::Field { field, value, accepted } => {
            Refusal::Field { field: format!("Row {row}, {}", field.to_lowercase()), value, accepted }
        }
        other => other,
    }
}
