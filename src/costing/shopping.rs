//! The shopping list: what is low, in whole packs, by supplier.
//!
//! What is available is on hand and on order less what is planned. An item is low at or below its level: the level set
//! for it, else the computed reorder point. It is bought in packs, as many as bring it above the level, at least the
//! packs of its economic order and at least the fewest its supplier sells. Without a pack it is bought by the unit.
//!
//! A line's cost is packs · what one holds · the latest unit price, rounded half away from zero to the minor unit, as
//! the line of an invoice would be. Suppliers are in order of name and lines in order of reference, capitals and small
//! letters alike; items without a supplier come last.

use super::reason::{Figure, ReasonLine};
use crate::measure::exact::{add, div, mul, round, sub, sum};
use crate::measure::money::MONEY_PLACES;
use crate::measure::{Currency, Decimal, Money, Quantity, TooLarge, Unit};
use crate::studio::{ItemId, Pack};
use rust_decimal::prelude::ToPrimitive;

/// From how much an item is to be bought again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BuyAt {
    /// The level set for it.
    Level(Quantity),
    /// The computed reorder point.
    Point(Decimal),
}

impl BuyAt {
    fn amount(self) -> Decimal {
        match self {
            Self::Level(level) => level.amount(),
            Self::Point(point) => point,
        }
    }

    const fn figure(self) -> Figure {
        match self {
            Self::Level(_) => Figure::ReorderLevel,
            Self::Point(_) => Figure::ReorderPoint,
        }
    }
}

/// An item that may be bought.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Want {
    /// The item.
    pub item: ItemId,
    /// Its reference.
    pub reference: String,
    /// Its name.
    pub name: String,
    /// Where it is bought; may be empty.
    pub supplier: String,
    /// The maker's own number; may be empty.
    pub maker_number: String,
    /// The unit it is kept in.
    pub unit: Unit,
    /// Bears lead.
    pub lead_bearing: bool,
    /// On hand.
    pub on_hand: Quantity,
    /// Ordered and not yet here, 0 or more.
    pub on_order: Quantity,
    /// Planned for batches, 0 or more.
    pub planned: Quantity,
    /// From how much to buy again; none means never.
    pub buy_at: Option<BuyAt>,
    /// How it is bought; none means by the unit.
    pub pack: Option<Pack>,
    /// Packs of an economic order, where computed.
    pub economic_packs: Option<u64>,
    /// Fewest packs its supplier sells, from 1; 0 means 1.
    pub least_packs: u32,
    /// Price of one unit at the latest receipt, where there was one.
    pub unit_price: Option<Decimal>,
    /// Figures to put before those of the list: why the reorder point is what it is.
    pub reason: Vec<ReasonLine>,
}

/// What to buy of one item.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShoppingLine {
    /// The item.
    pub item: ItemId,
    /// Its reference.
    pub reference: String,
    /// Its name.
    pub name: String,
    /// The maker's own number; may be empty.
    pub maker_number: String,
    /// The unit it is kept in.
    pub unit: Unit,
    /// Bears lead.
    pub lead_bearing: bool,
    /// Whole packs, from 1; units where it has no pack.
    pub packs: u64,
    /// The pack's words; none where it is bought by the unit.
    pub pack_words: Option<String>,
    /// What one pack costs at the latest price, half-even to 6 places; none without one.
    pub pack_price: Option<Decimal>,
    /// What all of it holds, in the item's unit.
    pub quantity: Quantity,
    /// What it costs at the latest price; none without one.
    pub cost: Option<Money>,
    /// The figures it comes from.
    pub reason: Vec<ReasonLine>,
}

/// What to buy of one supplier.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SupplierList {
    /// The supplier as first written; empty where none is.
    pub supplier: String,
    /// What to buy, in order of reference.
    pub lines: Vec<ShoppingLine>,
    /// What the lines with a price cost together.
    pub cost: Money,
    /// Lines without a price.
    pub without_price: usize,
}

/// A shopping list.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ShoppingList {
    /// Suppliers in order of name, none last.
    pub suppliers: Vec<SupplierList>,
    /// What the lines with a price cost together.
    pub cost: Money,
    /// Lines without a price.
    pub without_price: usize,
}

/// What to buy of these items, in the book's currency.
///
/// # Errors
/// [`TooLarge`] where a number does not fit.
pub fn shopping_list(wants: &[Want], currency: Currency) -> Result<ShoppingList, TooLarge> {
    let mut lines = Vec::new();
    for want in wants {
        if let Some(line) = shopping_line(want, currency)? {
            lines.push((want.supplier.trim(), line));
        }
    }
    // The id last, so that the order never depends on that of the items.
    lines.sort_by_cached_key(|(supplier, line)| {
        (supplier.is_empty(), supplier.to_lowercase(), line.reference.to_lowercase(), line.item)
    });
    let mut suppliers: Vec<SupplierList> = Vec::new();
    for (supplier, line) in lines {
        let same = |list: &&mut SupplierList| list.supplier.to_lowercase() == supplier.to_lowercase();
        match suppliers.last_mut().filter(same) {
            Some(list) => list.lines.push(line),
            None => suppliers.push(SupplierList {
                supplier: supplier.to_owned(),
                lines: vec![line],
                cost: Money::ZERO,
                without_price: 0,
            }),
        }
    }
    for list in &mut suppliers {
        let costs = list.lines.iter().filter_map(|line| line.cost);
        list.cost = Money::new(sum(costs.map(Money::amount))?).ok_or(TooLarge)?;
        list.without_price = list.lines.iter().filter(|line| line.cost.is_none()).count();
    }
    let cost = Money::new(sum(suppliers.iter().map(|list| list.cost.amount()))?).ok_or(TooLarge)?;
    let without_price = suppliers.iter().map(|list| list.without_price).sum();
    Ok(ShoppingList { suppliers, cost, without_price })
}

/// What to buy of one item; none when it is not low.
///
/// # Errors
/// [`TooLarge`] where a number does not fit.
pub fn shopping_line(want: &Want, currency: Currency) -> Result<Option<ShoppingLine>, TooLarge> {
    let Some(buy_at) = want.buy_at else {
        return Ok(None);
    };
    let available = want.on_hand.plus(want.on_order)?.minus(want.planned)?.amount();
    let lacking = sub(buy_at.amount(), available)?;
    if lacking < Decimal::ZERO {
        return Ok(None);
    }
    let holds = want.pack.as_ref().map_or(Decimal::ONE, |pack| pack.quantity.amount());
    // Above the level, not on it: one pack more than fit into what is lacking.
    let enough = add(div(lacking, holds)?.floor(), Decimal::ONE)?.to_u64().ok_or(TooLarge)?;
    let least = u64::from(want.least_packs.max(1));
    let packs = enough.max(least).max(want.economic_packs.unwrap_or(0));
    let quantity = mul(Decimal::from(packs), holds)?;
    let cost = match want.unit_price {
        Some(price) => Some(Money::new(currency.round(mul(quantity, price)?)).ok_or(TooLarge)?),
        None => None,
    };
    let pack_price = want.unit_price.map(|price| mul(holds, price)).transpose()?;
    let mut reason = want.reason.clone();
    let figures = [
        (Figure::OnHand, Some(want.on_hand.amount())),
        (Figure::OnOrder, Some(want.on_order.amount()).filter(|order| !order.is_zero())),
        (Figure::Planned, Some(want.planned.amount()).filter(|planned| !planned.is_zero())),
        (Figure::Available, Some(available).filter(|available| *available != want.on_hand.amount())),
        (buy_at.figure(), Some(buy_at.amount())),
        (Figure::Lacking, Some(lacking)),
        (Figure::PackHolds, want.pack.as_ref().map(|pack| pack.quantity.amount())),
        (Figure::LeastPacks, (least > 1).then(|| Decimal::from(least))),
        (Figure::Packs, Some(Decimal::from(packs))),
    ];
    for (figure, value) in figures {
        let Some(value) = value else { continue };
        if !reason.iter().any(|line| line.figure == figure && line.value == value) {
            reason.push(ReasonLine { figure, value });
        }
    }
    Ok(Some(ShoppingLine {
        item: want.item,
        reference: want.reference.clone(),
        name: want.name.clone(),
        maker_number: want.maker_number.clone(),
        unit: want.unit,
        lead_bearing: want.lead_bearing,
        packs,
        pack_words: want.pack.as_ref().map(|pack| pack.words.clone()),
        pack_price: pack_price.map(|price| round(price, MONEY_PLACES).normalize()),
        quantity: Quantity::new(quantity).ok_or(TooLarge)?,
        cost,
        reason,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quantity(text: &str) -> Quantity {
        Quantity::new(text.parse().unwrap()).unwrap()
    }

    fn want(reference: &str, supplier: &str, on_hand: &str, level: &str) -> Want {
        Want {
            item: ItemId(1),
            reference: reference.to_owned(),
            name: "Fen green".to_owned(),
            supplier: supplier.to_owned(),
            maker_number: String::new(),
            unit: Unit::Gram,
            lead_bearing: false,
            on_hand: quantity(on_hand),
            on_order: Quantity::ZERO,
            planned: Quantity::ZERO,
            buy_at: Some(BuyAt::Level(quantity(level))),
            pack: Some(Pack { words: "100 g jar".to_owned(), quantity: quantity("100") }),
            economic_packs: None,
            least_packs: 0,
            unit_price: Some("0.0845".parse().unwrap()),
            reason: Vec::new(),
        }
    }

    fn packs(want: &Want) -> Option<u64> {
        shopping_line(want, Currency::USD).unwrap().map(|line| line.packs)
    }

    #[test]
    fn packs_bring_an_item_above_its_level() {
        let low = want("EN-1", "", "50", "150");
        // 100 would leave it at its level, where it is still low.
        assert_eq!(packs(&low), Some(2));
        assert_eq!(packs(&Want { on_hand: quantity("51"), ..low.clone() }), Some(1));
        assert_eq!(packs(&Want { on_hand: quantity("150"), ..low.clone() }), Some(1));
        assert_eq!(packs(&Want { on_hand: quantity("150.1"), ..low.clone() }), None);
        assert_eq!(packs(&Want { on_order: quantity("101"), ..low.clone() }), None);
        assert_eq!(packs(&Want { on_hand: quantity("400"), planned: quantity("300"), ..low.clone() }), Some(1));
        assert_eq!(packs(&Want { least_packs: 6, ..low.clone() }), Some(6));
        assert_eq!(packs(&Want { economic_packs: Some(4), ..low.clone() }), Some(4));
        assert_eq!(packs(&Want { pack: None, ..low.clone() }), Some(101));
        assert_eq!(packs(&Want { buy_at: None, ..low }), None);
    }

    #[test]
    fn suppliers_are_in_order_and_sums_add_up() {
        let list = shopping_list(
            &[
                want("en-2", "Ferry Lane Supply", "0", "10"),
                want("EN-3", "", "0", "10"),
                want("EN-1", "ferry lane supply ", "0", "10"),
                Want { unit_price: None, ..want("SH-1", "Alder Metals", "0", "10") },
            ],
            Currency::USD,
        )
        .unwrap();
        let shown: Vec<(&str, Vec<&str>, String, usize)> = list
            .suppliers
            .iter()
            .map(|supplier| {
                let references = supplier.lines.iter().map(|line| line.reference.as_str()).collect();
                (supplier.supplier.as_str(), references, supplier.cost.to_string(), supplier.without_price)
            })
            .collect();
        assert_eq!(
            shown,
            [
                ("Alder Metals", vec!["SH-1"], "0".to_owned(), 1),
                ("ferry lane supply", vec!["EN-1", "en-2"], "16.9".to_owned(), 0),
                ("", vec!["EN-3"], "8.45".to_owned(), 0),
            ]
        );
        assert_eq!((list.cost.to_string(), list.without_price), ("25.35".to_owned(), 1));
    }
}
