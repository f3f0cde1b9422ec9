//! The shopping list as the room shows it: lines by supplier, some left out, sums of the rest.

use crate::costing::buying_words::{brief, packs};
use crate::costing::planning::ItemPlan;
use crate::costing::shopping::{ShoppingLine, ShoppingList, Want, shopping_list};
use crate::measure::{Preferences, TooLarge, display};
use crate::paper::shopping_model::{NO_SUPPLIER, sum};
use crate::studio::ItemId;
use std::collections::BTreeSet;

/// The list.
#[derive(Debug, Default)]
pub(super) struct Shopping {
    /// Items left out by hand.
    pub(super) left_out: BTreeSet<ItemId>,
    /// What is bought: without what is left out.
    pub(super) list: ShoppingList,
    /// Everything on it, worded.
    pub(super) groups: Vec<Group>,
    pub(super) summary: String,
    /// A line bears lead.
    pub(super) lead: bool,
}

/// One supplier.
#[derive(Debug, Clone)]
pub(super) struct Group {
    pub(super) supplier: String,
    pub(super) sum: String,
    pub(super) lines: Vec<Line>,
}

/// One line.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) id: ItemId,
    pub(super) bought: bool,
    pub(super) lead: bool,
    pub(super) title: String,
    pub(super) order: String,
    pub(super) holds: String,
    pub(super) sum: String,
    pub(super) reason: String,
}

impl Shopping {
    /// Takes a line out, or back in.
    pub(super) fn tick(&mut self, id: ItemId) {
        if !self.left_out.remove(&id) {
            let _ = self.left_out.insert(id);
        }
    }

    /// Words the list anew. What is no longer on it is no longer left out.
    ///
    /// # Errors
    /// [`TooLarge`] where a sum does not fit.
    pub(super) fn word(&mut self, plans: &[ItemPlan], preferences: &Preferences) -> Result<(), TooLarge> {
        let low: Vec<&Want> = plans.iter().filter(|plan| plan.buy.is_some()).map(|plan| &plan.want).collect();
        self.left_out.retain(|id| low.iter().any(|want| want.item == *id));
        let wants = |all: bool| -> Vec<Want> {
            let bought = low.iter().filter(|want| all || !self.left_out.contains(&want.item));
            bought.map(|want| (*want).clone()).collect()
        };
        let whole = shopping_list(&wants(true), preferences.currency)?;
        let list = shopping_list(&wants(false), preferences.currency)?;
        self.groups = whole
            .suppliers
            .iter()
            .map(|supplier| {
                let same = |other: &str| other.to_lowercase() == supplier.supplier.to_lowercase();
                let bought = list.suppliers.iter().find(|other| same(&other.supplier));
                let sum = bought.map_or_else(
                    || "left out".to_owned(),
                    |bought| together(bought.cost, bought.lines.len(), bought.without_price, preferences),
                );
                Group {
                    supplier: if supplier.supplier.is_empty() {
                        NO_SUPPLIER.to_owned()
                    } else {
                        supplier.supplier.clone()
                    },
                    sum,
                    lines: supplier.lines.iter().map(|line| self.line(line, preferences)).collect(),
                }
            })
            .collect();
        let count: usize = list.suppliers.iter().map(|supplier| supplier.lines.len()).sum();
        let lines = if count == 1 { "1 line".to_owned() } else { format!("{count} lines") };
        let suppliers = match list.suppliers.len() {
            1 => "1 supplier".to_owned(),
            many => format!("{many} suppliers"),
        };
        let left = match self.left_out.len() {
            0 => String::new(),
            left => format!("; {left} left out"),
        };
        let cost = together(list.cost, count, list.without_price, preferences);
        self.summary = format!("{lines} from {suppliers}, {cost}{left}");
        self.lead = whole.suppliers.iter().flat_map(|supplier| &supplier.lines).any(|line| line.lead_bearing);
        self.list = list;
        Ok(())
    }

    fn line(&self, line: &ShoppingLine, preferences: &Preferences) -> Line {
        Line {
            id: line.item,
            bought: !self.left_out.contains(&line.item),
            lead: line.lead_bearing,
            title: format!("{} {}", line.reference, line.name),
            order: packs(line.packs, line.pack_words.as_deref(), line.unit, preferences),
            holds: if line.pack_words.is_some() {
                format!("= {}", display::quantity(line.quantity.amount(), line.unit, preferences))
            } else {
                String::new()
            },
            sum: line.cost.map_or_else(|| "no price yet".to_owned(), |cost| display::money(cost.amount(), preferences)),
            reason: brief(line, preferences),
        }
    }
}

fn together(cost: crate::measure::Money, lines: usize, without_price: usize, preferences: &Preferences) -> String {
    sum(cost, lines, without_price, preferences).unwrap_or_else(|| "no price is known".to_owned())
}
