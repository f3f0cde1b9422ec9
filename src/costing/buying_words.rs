//! Why an item is bought, in plain sentences: the figures of a plan for a person to follow with a pencil.
//!
//! Where a figure comes from is said with it: use from the movements, the reorder point and the economic order quantity
//! by the textbook formulas of [`super::running_out`] and [`super::order_quantity`].

use super::order_quantity::OrderQuantity;
use super::planning::ItemPlan;
use super::reason::{Figure, ReasonLine};
use super::running_out::RunningOut;
use super::shopping::{BuyAt, ShoppingLine, Want};
use super::weekly_use::WeeklyUse;
use crate::measure::{Decimal, Preferences, Unit, display};

/// One part of a reason.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// What it is about.
    pub title: &'static str,
    /// Its sentences.
    pub text: String,
}

/// So many packs: `3 × 1 lb jar`; by the unit, what they hold: `101 g`.
pub fn packs(count: u64, pack: Option<&str>, unit: Unit, preferences: &Preferences) -> String {
    match pack {
        Some(words) => format!("{count} × {words}"),
        None => display::quantity(Decimal::from(count), unit, preferences),
    }
}

/// What a list has for a pack where an item has none.
pub const fn loose(unit: Unit) -> &'static str {
    match unit {
        Unit::Each => "single",
        Unit::Gram | Unit::Millimetre | Unit::Millilitre => "loose",
    }
}

/// The whole reason of a plan, in the order a person would compute it.
pub fn reason(plan: &ItemPlan, preferences: &Preferences) -> Vec<Part> {
    let say = Say { want: &plan.want, preferences };
    let mut parts = Vec::new();
    match (&plan.used, &plan.running_out) {
        (Ok(used), Some(out)) => {
            parts.push(Part { title: "What is used", text: say.used(used) });
            parts.push(Part { title: "How long it lasts", text: say.lasts(out) });
            parts.push(Part { title: "When to buy again", text: say.point(out, used) });
            let text = plan.order_quantity.as_ref().map_or_else(|| say.no_quantity(), |order| say.quantity(order));
            parts.push(Part { title: "How much at once", text });
        }
        (used, _) => {
            let why = used.as_ref().err().map(ToString::to_string).unwrap_or_default();
            let text = format!("When it runs out cannot be said yet: {why}.");
            parts.push(Part { title: "What is used", text });
            parts.push(Part { title: "When to buy again", text: say.level_only() });
        }
    }
    parts.push(Part {
        title: "What to buy now",
        text: plan.buy.as_ref().map_or_else(|| say.nothing(), |line| say.buy(line)),
    });
    parts
}

/// The reason of one line of a shopping list, in a sentence.
pub fn brief(line: &ShoppingLine, preferences: &Preferences) -> String {
    let amount = |figure| find(&line.reason, figure).map(|value| display::quantity(value, line.unit, preferences));
    let mut text = format!("{} on hand", amount(Figure::OnHand).unwrap_or_default());
    if let Some(coming) = amount(Figure::OnOrder) {
        text = format!("{text} and {coming} on order");
    }
    if let Some(planned) = find(&line.reason, Figure::Planned).filter(|planned| !planned.is_zero()) {
        text = format!("{text}, {} planned", display::quantity(planned, line.unit, preferences));
    }
    if let Some(level) = amount(Figure::ReorderLevel) {
        text = format!("{text}; bought again at {level}, as set");
    } else if let Some(point) = amount(Figure::ReorderPoint) {
        text = format!("{text}; bought again at {point}");
    }
    let weeks = find(&line.reason, Figure::WeeksLeft).map(|weeks| display::number(weeks, 0, 1, preferences.numbers));
    match (amount(Figure::UsePerWeek), weeks, find(&line.reason, Figure::LeadTime)) {
        (Some(week), Some(weeks), Some(lead)) => {
            format!("{text}. {week} a week: lasts {weeks} weeks, and an order takes {}.", days(lead))
        }
        _ => format!("{text}."),
    }
}

fn find(lines: &[ReasonLine], figure: Figure) -> Option<Decimal> {
    lines.iter().find(|line| line.figure == figure).map(|line| line.value)
}

fn days(count: Decimal) -> String {
    if count == Decimal::ONE { "1 day".to_owned() } else { format!("{} days", count.normalize()) }
}

/// One item's amounts as its sentences say them.
#[derive(Clone, Copy)]
struct Say<'a> {
    want: &'a Want,
    preferences: &'a Preferences,
}

impl Say<'_> {
    fn amount(self, value: Decimal) -> String {
        display::quantity(value, self.want.unit, self.preferences)
    }

    fn money(self, value: Decimal) -> String {
        display::money(value, self.preferences)
    }

    fn number(self, value: Decimal) -> String {
        display::number(value, 0, 2, self.preferences.numbers)
    }

    fn packs(self, count: u64) -> String {
        let pack = self.want.pack.as_ref().map(|pack| pack.words.as_str());
        packs(count, pack, self.want.unit, self.preferences)
    }

    fn used(self, used: &WeeklyUse) -> String {
        let mut text = format!("In {} weeks, since {}: ", used.weeks, used.first_day);
        let mut parts = vec![format!("{} went to the bench", self.amount(used.issued.amount()))];
        for (quantity, what) in [
            (used.written_off, "was written off"),
            (used.missing, "was missing at counts"),
            (used.taken_back, "was found again by counts"),
        ] {
            if !quantity.is_zero() {
                parts.push(format!("{} {what}", self.amount(quantity.amount())));
            }
        }
        text.push_str(&parts.join(", "));
        if parts.len() > 1 {
            text = format!("{text}; {} used in all", self.amount(used.used.amount()));
        }
        text = format!("{text}. That is {} a week", self.amount(used.per_week));
        if used.deviation.is_zero() {
            format!("{text}, the same every week.")
        } else {
            format!("{text}; single weeks differ from it by {} (standard deviation).", self.amount(used.deviation))
        }
    }

    fn lasts(self, out: &RunningOut) -> String {
        let mut text = format!("{} on hand", self.amount(self.want.on_hand.amount()));
        if !self.want.planned.is_zero() {
            text = format!("{text}, {} of it planned for batches,", self.amount(self.want.planned.amount()));
        }
        text = format!("{text}: enough for {} weeks at that use.", self.number(out.lasts.weeks));
        let Some(day) = out.lasts.runs_out else {
            return format!("{text} That is more than ten years.");
        };
        text = format!("{text} {day} is the first day it does not cover.");
        match (out.order_by, find(&out.reason, Figure::LeadTime)) {
            (Some(by), Some(lead)) => format!("{text} An order takes {}, so place it by {by}.", days(lead)),
            _ => text,
        }
    }

    fn point(self, out: &RunningOut, used: &WeeklyUse) -> String {
        let point = out.point;
        let lead = find(&out.reason, Figure::LeadTime).unwrap_or_default();
        let service = find(&out.reason, Figure::ServiceLevel).unwrap_or_default();
        let mut text = format!(
            "Use in the lead time: {} a week for {} is {}. Safety stock: {}, so that the chance of not running out before \
             the delivery is {} ({} standard deviations of {}; the textbook formula for use that varies). Together {}: \
             the reorder point, at or below which it is bought again.",
            self.amount(used.per_week),
            days(lead),
            self.amount(point.lead_use),
            self.amount(point.safety_stock),
            display::rate(service, self.preferences),
            self.number(point.quantile),
            self.amount(point.lead_deviation),
            self.amount(point.point),
        );
        if let Some(BuyAt::Level(level)) = self.want.buy_at {
            text = format!("{text} The level of {} set for this item goes before it.", self.amount(level.amount()));
        }
        text
    }

    fn level_only(self) -> String {
        match self.want.buy_at {
            Some(BuyAt::Level(level)) => {
                format!("At or below the level of {} set for this item.", self.amount(level.amount()))
            }
            _ => "No reorder level is set for this item either, so it never comes onto the shopping list. Set one in \
                  its form in Stock."
                .to_owned(),
        }
    }

    fn no_quantity(self) -> String {
        if self.want.unit_price.is_none() {
            "The order that costs least is not computed: no receipt has given this item a price yet.".to_owned()
        } else {
            "The order that costs least is not computed: it takes what placing one order costs you, above nothing, \
             among the planning figures."
                .to_owned()
        }
    }

    fn quantity(self, order: &OrderQuantity) -> String {
        let figure = |figure| find(&order.reason, figure).unwrap_or_default();
        let mut text = format!(
            "A year takes {}. With {} for placing one order and {} for holding it a year, {} at once cost least: the \
             economic order quantity, √(2 × use a year × cost of an order ÷ cost of holding one unit), a textbook \
             formula; {} a year.",
            self.amount(figure(Figure::UsePerYear)),
            self.money(figure(Figure::CostPerOrder)),
            display::unit_price(figure(Figure::HoldingCost), self.want.unit, self.preferences),
            self.amount(order.economic),
            self.money(order.economic_cost),
        );
        let (fewer, more) = (order.fewer, order.more);
        let yearly = |choice: super::order_quantity::PackChoice| {
            format!("{} at {} a year", self.packs(choice.packs), self.money(choice.yearly_cost))
        };
        if fewer.packs == more.packs {
            text = format!("{text} The supplier sends no fewer than {}.", yearly(fewer));
        } else {
            let why = if fewer.yearly_cost == more.yearly_cost { "the same, and it ties up less" } else { "cheaper" };
            text = format!(
                "{text} Its neighbours are {} and {} to order and hold: {} is {why}.",
                yearly(fewer),
                yearly(more),
                self.packs(order.chosen.packs)
            );
        }
        text
    }

    fn buy(self, line: &ShoppingLine) -> String {
        let figure = |figure| find(&line.reason, figure);
        let level = figure(Figure::ReorderLevel).or_else(|| figure(Figure::ReorderPoint)).unwrap_or_default();
        let on_hand = figure(Figure::OnHand).unwrap_or_default();
        let available = figure(Figure::Available).unwrap_or(on_hand);
        let mut text = format!("{} on hand", self.amount(on_hand));
        if available != on_hand {
            text = format!("{text}; with what is on order, less what is planned, {}", self.amount(available));
        }
        text = match figure(Figure::Lacking).filter(|lacking| !lacking.is_zero()) {
            Some(lacking) => format!("{text}: {} short of {}.", self.amount(lacking), self.amount(level)),
            None => format!("{text}: just the {} at which it is bought again.", self.amount(level)),
        };
        text = format!("{text} {}", self.packs(line.packs));
        if line.pack_words.is_some() {
            text = format!("{text}, {} in all,", self.amount(line.quantity.amount()));
        }
        text.push_str(" bring it above");
        if let Some(least) = figure(Figure::LeastPacks).filter(|least| *least > Decimal::ONE) {
            text = format!("{text} (the supplier sends {least} packs or more)");
        }
        match line.cost {
            Some(cost) => format!("{text}, for {} at the latest price.", self.money(cost.amount())),
            None => format!("{text}. No receipt has given it a price yet."),
        }
    }

    fn nothing(self) -> String {
        let coming = if self.want.on_order.is_zero() {
            String::new()
        } else {
            format!(" {} is on order.", self.amount(self.want.on_order.amount()))
        };
        match self.want.buy_at {
            Some(BuyAt::Level(level)) => {
                format!("Nothing: there is more than {}.{coming}", self.amount(level.amount()))
            }
            Some(BuyAt::Point(point)) => format!("Nothing: there is more than {}.{coming}", self.amount(point)),
            None => format!("Nothing.{coming}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::planning::{ItemSupply, PlanningRates, plan_item};
    use super::*;
    use crate::measure::{Currency, Money, Quantity};
    use crate::studio::{Item, ItemDetails, ItemId, Movement, MovementId, MovementKind, Pack};
    use chrono::NaiveDate;

    fn quantity(text: &str) -> Quantity {
        Quantity::new(text.parse().unwrap()).unwrap()
    }

    fn movement(id: i64, kind: MovementKind, date: NaiveDate, amount: &str) -> Movement {
        Movement {
            id: MovementId(id),
            item: ItemId(1),
            date,
            kind,
            quantity: quantity(amount),
            cost: (kind == MovementKind::Receipt).then(|| Money::rounded(Decimal::from(20))),
            lot: None,
            lot_number: String::new(),
            supplier: String::new(),
            note: String::new(),
            typed: String::new(),
        }
    }

    /// Binder, 10 ml a week for eight weeks, and what there is of it.
    fn plan(on_hand: &str, order_cost: Option<i64>, movements: usize) -> ItemPlan {
        let first: NaiveDate = "2026-01-05".parse().unwrap();
        let moved: Vec<Movement> = (0..9_u64)
            .map(|number| {
                let kind = if number == 0 { MovementKind::Receipt } else { MovementKind::Issue };
                let amount = if number == 0 { "500" } else { "10" };
                let date = first + chrono::Days::new(number.saturating_sub(1) * 7);
                movement(i64::try_from(number).unwrap(), kind, date, amount)
            })
            .collect();
        let item = Item {
            reference: "CO-1".to_owned(),
            name: "Binder".to_owned(),
            unit: Unit::Millilitre,
            details: ItemDetails::Consumable,
            maker: String::new(),
            maker_number: String::new(),
            supplier: "Ferry Lane Supply".to_owned(),
            shelf: String::new(),
            note: String::new(),
            reorder_level: None,
            lead_bearing: false,
            retired: false,
            buying: crate::studio::Buying::default(),
        };
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
        let rates = PlanningRates {
            per_order: order_cost.map(|cost| Money::rounded(Decimal::from(cost))),
            ..PlanningRates::usual(Currency::USD)
        };
        plan_item(&supply, &moved[..movements], &rates, "2026-03-01".parse().unwrap()).unwrap()
    }

    fn text(parts: &[Part], title: &str) -> String {
        parts.iter().find(|part| part.title == title).unwrap().text.replace(['\u{a0}', '\u{2009}', '\u{202f}'], " ")
    }

    // The figures are those worked out by hand beside the tests of `planning`.
    #[test]
    fn every_figure_of_a_plan_is_said_in_a_sentence() {
        let metric = Preferences::metric(Currency::USD);
        let parts = reason(&plan("20", Some(8), 9), &metric);
        assert_eq!(
            text(&parts, "What is used"),
            "In 8 weeks, since 2026-01-05: 80 ml went to the bench. That is 10 ml a week, the same every week."
        );
        assert_eq!(
            text(&parts, "How long it lasts"),
            "20 ml on hand: enough for 2 weeks at that use. 2026-03-16 is the first day it does not cover. An order takes \
             14 days, so place it by 2026-03-02."
        );
        assert!(text(&parts, "When to buy again").contains("10 ml a week for 14 days is 20 ml"));
        assert!(
            text(&parts, "When to buy again").contains("the chance of not running out before the delivery is 95 %")
        );
        let much = text(&parts, "How much at once");
        assert!(much.contains("$8.00 for placing one order"), "{much}");
        assert!(much.contains("4 × 250 ml bottle at $8.17 a year and 5 × 250 ml bottle at $8.34 a year"), "{much}");
        assert!(much.contains("4 × 250 ml bottle is cheaper"), "{much}");
        assert_eq!(
            text(&parts, "What to buy now"),
            "20 ml on hand: just the 20 ml at which it is bought again. 4 × 250 ml bottle, 1000 ml in all, bring it above, \
             for $40.00 at the latest price."
        );
    }

    #[test]
    fn what_cannot_be_said_is_said_with_its_reason() {
        let metric = Preferences::metric(Currency::USD);
        let parts = reason(&plan("20", None, 2), &metric);
        assert!(text(&parts, "What is used").ends_with("cannot be said yet: used only once, on 2026-01-05."));
        assert!(text(&parts, "When to buy again").starts_with("No reorder level is set"));
        assert_eq!(text(&parts, "What to buy now"), "Nothing.");
        let parts = reason(&plan("400", None, 9), &metric);
        assert!(text(&parts, "How much at once").contains("what placing one order costs"));
        assert_eq!(text(&parts, "What to buy now"), "Nothing: there is more than 20 ml.");
    }

    #[test]
    fn a_line_of_the_list_has_its_reason_in_a_sentence() {
        let metric = Preferences::metric(Currency::USD);
        let line = plan("20", None, 9).buy.unwrap();
        assert_eq!(
            brief(&line, &metric).replace('\u{a0}', " "),
            "20 ml on hand; bought again at 20 ml. 10 ml a week: lasts 2 weeks, and an order takes 14 days."
        );
        assert_eq!(packs(3, Some("1 lb jar"), Unit::Gram, &metric), "3 × 1 lb jar");
        assert_eq!(packs(101, None, Unit::Each, &metric), "101");
    }
}
