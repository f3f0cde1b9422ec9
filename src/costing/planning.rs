//! One item planned: its use, how long it lasts, from how much and how many packs to buy it, and whether to buy it now.
//!
//! What cannot be said is left out, and the rest still stands: an item that is used too little to say anything of is
//! bought by the level set for it, in as few packs as bring it above.

use super::order_quantity::{OrderCosts, OrderQuantity, order_quantity, use_per_year};
use super::reason::{Figure, ReasonLine};
use super::running_out::{ReorderProblem, RunningOut, Supply, running_out};
use super::shopping::{BuyAt, ShoppingLine, Want, shopping_line};
use super::weekly_use::{NoUse, USUAL_WEEKS, WeeklyUse, weekly_use};
use crate::measure::exact::mul;
use crate::measure::{Currency, Decimal, Money, Quantity};
use crate::studio::{Item, ItemId, Movement, Pack};
use chrono::NaiveDate;

/// What the studio plans with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlanningRates {
    /// Weeks of use looked at.
    pub weeks: u32,
    /// Chance of not running out before the delivery, 0.5 to 0.9999.
    pub service_level: Decimal,
    /// Days from order to delivery of an item that has none of its own.
    pub lead_days: u32,
    /// Cost of placing one order; none means that no economic quantity is computed.
    pub per_order: Option<Money>,
    /// Cost of holding stock for a year as a share of what it cost, above 0.
    pub holding_share: Decimal,
    /// The book's currency.
    pub currency: Currency,
}

impl PlanningRates {
    /// What a new book plans with: half a year of use, 95 %, two weeks, a fifth of the value a year for holding (common
    /// practice, no source).
    pub fn usual(currency: Currency) -> Self {
        Self {
            weeks: USUAL_WEEKS,
            service_level: super::running_out::usual_service_level(),
            lead_days: 14,
            per_order: None,
            holding_share: Decimal::new(2, 1),
            currency,
        }
    }
}

/// What is known of an item besides its movements.
#[derive(Debug, Clone, Copy)]
pub struct ItemSupply<'a> {
    /// Its row.
    pub id: ItemId,
    /// The item.
    pub item: &'a Item,
    /// On hand.
    pub on_hand: Quantity,
    /// Ordered and not yet here.
    pub on_order: Quantity,
    /// Planned for batches.
    pub planned: Quantity,
    /// How it is bought.
    pub pack: Option<&'a Pack>,
    /// Days from order to delivery, where it has its own.
    pub lead_days: Option<u32>,
    /// Fewest packs its supplier sells; 0 means 1.
    pub least_packs: u32,
    /// Price of one unit at the latest receipt.
    pub unit_price: Option<Decimal>,
}

/// An item, planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ItemPlan {
    /// Its use, or why nothing can be said of it.
    pub used: Result<WeeklyUse, NoUse>,
    /// When it runs out and from how much to buy again; none without its use.
    pub running_out: Option<RunningOut>,
    /// How much to buy at once; none without its use, a price or the cost of an order.
    pub order_quantity: Option<OrderQuantity>,
    /// The item as it may be bought, for a list of many.
    pub want: Want,
    /// What to buy now; none when it is not low.
    pub buy: Option<ShoppingLine>,
}

/// Plans one item from its movements in order of date, then id. One set aside is never bought.
///
/// # Errors
/// [`ReorderProblem`] where the service level is out of range or a number does not fit.
pub fn plan_item(
    supply: &ItemSupply<'_>,
    movements: &[Movement],
    rates: &PlanningRates,
    today: NaiveDate,
) -> Result<ItemPlan, ReorderProblem> {
    let item = supply.item;
    let used = weekly_use(movements, today, rates.weeks);
    let running_out = match &used {
        Ok(used) => Some(running_out(&Supply {
            on_hand: supply.on_hand,
            planned: supply.planned,
            used,
            lead_days: supply.lead_days.unwrap_or(rates.lead_days),
            service_level: rates.service_level,
            today,
        })?),
        Err(NoUse::TooLarge(problem)) => return Err((*problem).into()),
        Err(_) => None,
    };
    let order_quantity = match &used {
        Ok(used) => economic(supply, rates, used)?,
        Err(_) => None,
    };
    let point = running_out.as_ref().map(|out| BuyAt::Point(out.point.point));
    let buy_at = item.reorder_level.map(BuyAt::Level).or(point).filter(|_| !item.retired);
    let mut reason: Vec<ReasonLine> = running_out.iter().flat_map(|out| &out.reason).copied().collect();
    let economic_lines = order_quantity.iter().flat_map(|order| &order.reason);
    // The packs to buy are the list's to say: it may need more than the economic ones.
    reason.extend(economic_lines.filter(|line| line.figure != Figure::Packs));
    let want = Want {
        item: supply.id,
        reference: item.reference.clone(),
        name: item.name.clone(),
        supplier: item.supplier.clone(),
        maker_number: item.maker_number.clone(),
        unit: item.unit,
        lead_bearing: item.lead_bearing,
        on_hand: supply.on_hand,
        on_order: supply.on_order,
        planned: supply.planned,
        buy_at,
        pack: supply.pack.cloned(),
        economic_packs: order_quantity.as_ref().map(|order| order.chosen.packs),
        least_packs: supply.least_packs,
        unit_price: supply.unit_price,
        reason,
    };
    let buy = shopping_line(&want, rates.currency)?;
    Ok(ItemPlan { used, running_out, order_quantity, want, buy })
}

/// How much to buy at once; none where a price or a cost is not known or nothing.
fn economic(
    supply: &ItemSupply<'_>,
    rates: &PlanningRates,
    used: &WeeklyUse,
) -> Result<Option<OrderQuantity>, ReorderProblem> {
    let (Some(per_order), Some(price)) = (rates.per_order, supply.unit_price) else {
        return Ok(None);
    };
    let costs =
        OrderCosts { use_per_year: use_per_year(used.per_week)?, per_order, holding: mul(price, rates.holding_share)? };
    let unit = Quantity::new(Decimal::ONE).unwrap_or_default();
    let pack = supply.pack.map_or(unit, |pack| pack.quantity);
    // A price or cost of nothing has no best quantity; neither has one too large to compute.
    Ok(order_quantity(costs, pack, supply.least_packs).ok())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Unit;
    use crate::studio::{ItemDetails, MovementId, MovementKind};

    fn quantity(text: &str) -> Quantity {
        Quantity::new(text.parse().unwrap()).unwrap()
    }

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn item() -> Item {
        Item {
            reference: "CO-1".to_owned(),
            name: "Binder".to_owned(),
            unit: Unit::Millilitre,
            details: ItemDetails::Consumable,
            maker: String::new(),
            maker_number: "12".to_owned(),
            supplier: "Ferry Lane Supply".to_owned(),
            shelf: String::new(),
            note: String::new(),
            reorder_level: None,
            lead_bearing: false,
            retired: false,
            buying: crate::studio::Buying::default(),
        }
    }

    /// 500 came, and 10 a week went in each of eight weeks.
    fn movements() -> Vec<Movement> {
        let first = day("2026-01-05");
        let movement = |id: i64, kind, amount, days| Movement {
            id: MovementId(id),
            item: ItemId(1),
            date: first + chrono::Days::new(days),
            kind,
            quantity: quantity(amount),
            cost: (kind == MovementKind::Receipt).then(|| Money::rounded(Decimal::from(20))),
            lot: None,
            lot_number: String::new(),
            supplier: String::new(),
            note: String::new(),
            typed: String::new(),
        };
        let issues = (0..8_i64).map(|week| movement(week + 2, MovementKind::Issue, "10", week.unsigned_abs() * 7));
        std::iter::once(movement(1, MovementKind::Receipt, "500", 0)).chain(issues).collect()
    }

    fn plan(change: impl FnOnce(&mut Item), on_hand: &str, rates: &PlanningRates) -> ItemPlan {
        let mut item = item();
        change(&mut item);
        let pack = Pack { words: "250 ml bottle".to_owned(), quantity: quantity("250") };
        let supply = ItemSupply {
            id: ItemId(1),
            item: &item,
            on_hand: quantity(on_hand),
            on_order: Quantity::ZERO,
            planned: Quantity::ZERO,
            pack: Some(&pack),
            lead_days: None,
            least_packs: 0,
            unit_price: Some(Decimal::new(4, 2)),
        };
        plan_item(&supply, &movements(), rates, day("2026-03-01")).unwrap()
    }

    #[test]
    fn an_item_is_bought_at_its_computed_point_in_economic_packs() {
        let rates =
            PlanningRates { per_order: Some(Money::rounded(Decimal::from(8))), ..PlanningRates::usual(Currency::USD) };
        let low = plan(|_| (), "20", &rates);
        // Eight equal weeks: no deviation, two weeks of lead take 20.
        assert_eq!(low.running_out.as_ref().unwrap().point.point, Decimal::from(20));
        // √(2 · 521.428571429 · 8 / 0.008) = 1021.2…: 4 bottles cost 8.171 a year, 5 cost 8.337.
        assert_eq!(low.order_quantity.as_ref().unwrap().chosen.packs, 4);
        let buy = low.buy.unwrap();
        assert_eq!((buy.packs, buy.cost), (4, Some(Money::rounded(Decimal::from(40)))));
        let packs = |plan: &ItemPlan| plan.want.reason.iter().any(|line| line.figure == Figure::Packs);
        assert!(!packs(&plan(|_| (), "20", &rates)));
        assert_eq!(plan(|_| (), "20.1", &rates).buy, None);
    }

    #[test]
    fn a_level_set_goes_before_the_computed_point_and_an_item_set_aside_is_not_bought() {
        let rates = PlanningRates::usual(Currency::USD);
        let set = plan(|item| item.reorder_level = Some(quantity("300")), "299", &rates);
        assert_eq!(set.buy.map(|line| line.packs), Some(1));
        assert_eq!(plan(|item| item.retired = true, "0", &rates).buy, None);
        assert_eq!(plan(|_| (), "20", &rates).order_quantity, None);
    }
}
