//! The rows of the list: worded, narrowed and sorted, so that the view only lays them out.

use crate::book::Snapshot;
use crate::costing::buying_words::packs;
use crate::costing::planning::ItemPlan;
use crate::costing::shopping::BuyAt;
use crate::measure::{Decimal, Preferences, Unit, display};
use crate::studio::{ItemDetails, ItemId};
use crate::window::theme;
use crate::window::widget::listing::Order;
use chrono::NaiveDate;
use iced::Color;
use std::cmp::Ordering;

/// What is asked of the list.
#[derive(Debug, Clone, Default)]
pub(super) struct Filter {
    /// Words that must all be found.
    pub(super) text: String,
    /// Only what is to be bought now.
    pub(super) buy: bool,
}

/// One item.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) id: ItemId,
    pub(super) swatch: Option<Color>,
    pub(super) name: String,
    pub(super) lead: bool,
    /// To be bought now.
    pub(super) buy: bool,
    pub(super) week: String,
    pub(super) weeks_left: String,
    pub(super) runs_out: String,
    pub(super) order_by: String,
    pub(super) buy_at: String,
    pub(super) order: String,
    pub(super) on_order: String,
    keys: Keys,
}

/// What a row is narrowed and sorted by.
#[derive(Debug, Clone)]
struct Keys {
    unit: Unit,
    name: String,
    found_by: String,
    week: Option<Decimal>,
    weeks_left: Option<Decimal>,
    runs_out: Option<NaiveDate>,
    order_by: Option<NaiveDate>,
    buy_at: Option<Decimal>,
    packs: Option<u64>,
    on_order: Decimal,
}

/// What stands where nothing can be said.
const NOTHING: &str = "–";

/// Words every plan.
pub(super) fn word_all(
    plans: &[ItemPlan],
    snapshot: &Snapshot,
    today: NaiveDate,
    preferences: &Preferences,
) -> Vec<Row> {
    plans.iter().map(|plan| word(plan, snapshot, today, preferences)).collect()
}

fn word(plan: &ItemPlan, snapshot: &Snapshot, today: NaiveDate, preferences: &Preferences) -> Row {
    let want = &plan.want;
    let swatch = snapshot.item(want.item).and_then(|row| match row.item.details {
        ItemDetails::Enamel { swatch, .. } => Some(theme::swatch(swatch)),
        _ => None,
    });
    let amount = |value: Option<Decimal>| {
        value.map_or_else(|| NOTHING.to_owned(), |value| display::quantity(value, want.unit, preferences))
    };
    let out = plan.running_out.as_ref();
    let week = plan.used.as_ref().ok().map(|used| used.per_week);
    let weeks_left = out.map(|out| out.lasts.weeks);
    let runs_out = out.and_then(|out| out.lasts.runs_out);
    let order_by = out.and_then(|out| out.order_by);
    let buy_at = want.buy_at.map(|level| match level {
        BuyAt::Level(level) => level.amount(),
        BuyAt::Point(point) => point,
    });
    let count = plan.buy.as_ref().map(|line| line.packs).or(want.economic_packs);
    let pack = want.pack.as_ref().map(|pack| pack.words.as_str());
    let day = |day: Option<NaiveDate>| match day {
        Some(day) if day == today => "today".to_owned(),
        Some(day) => day.to_string(),
        None => NOTHING.to_owned(),
    };
    let far = out.is_some_and(|out| out.lasts.runs_out.is_none());
    Row {
        id: want.item,
        swatch,
        name: want.name.clone(),
        lead: want.lead_bearing,
        buy: plan.buy.is_some(),
        week: amount(week),
        weeks_left: weeks_left
            .map_or_else(|| NOTHING.to_owned(), |weeks| display::number(weeks, 0, 1, preferences.numbers)),
        runs_out: if far { "in over 10 years".to_owned() } else { day(runs_out) },
        order_by: day(order_by),
        buy_at: amount(buy_at),
        order: count.map_or_else(|| NOTHING.to_owned(), |count| packs(count, pack, want.unit, preferences)),
        on_order: if want.on_order.is_zero() { String::new() } else { amount(Some(want.on_order.amount())) },
        keys: Keys {
            unit: want.unit,
            name: want.name.to_lowercase(),
            found_by: [
                want.name.as_str(),
                want.reference.as_str(),
                want.supplier.as_str(),
                want.maker_number.as_str(),
                if want.lead_bearing { "lead" } else { "" },
            ]
            .join("\n")
            .to_lowercase(),
            week,
            weeks_left,
            runs_out,
            order_by,
            buy_at,
            packs: count,
            on_order: want.on_order.amount(),
        },
    }
}

/// The rows that pass the filter, in the order asked for. Columns are those of the view: name, runs out, order by, look,
/// use a week, weeks left, buy again at, order, on order. What cannot be said comes last, either way.
pub(super) fn select(rows: &[Row], filter: &Filter, sort: (usize, Order)) -> Vec<Row> {
    let wanted = filter.text.to_lowercase();
    let wanted: Vec<&str> = wanted.split_whitespace().collect();
    let mut shown: Vec<&Row> = rows
        .iter()
        .filter(|row| (!filter.buy || row.buy) && wanted.iter().all(|word| row.keys.found_by.contains(word)))
        .collect();
    let (column, order) = sort;
    shown.sort_by(|a, b| {
        compare(column, order, a, b).then_with(|| a.keys.name.cmp(&b.keys.name)).then_with(|| a.id.cmp(&b.id))
    });
    shown.into_iter().cloned().collect()
}

fn compare(column: usize, order: Order, a: &Row, b: &Row) -> Ordering {
    let (x, y) = (&a.keys, &b.keys);
    match column {
        1 => known(order, x.runs_out, y.runs_out),
        2 => known(order, x.order_by, y.order_by),
        // What is to be bought first, then what bears lead.
        3 => turned(order, (!a.buy, !a.lead).cmp(&(!b.buy, !b.lead))),
        4 => x.unit.cmp(&y.unit).then_with(|| known(order, x.week, y.week)),
        5 => known(order, x.weeks_left, y.weeks_left),
        6 => x.unit.cmp(&y.unit).then_with(|| known(order, x.buy_at, y.buy_at)),
        7 => known(order, x.packs, y.packs),
        8 => x.unit.cmp(&y.unit).then_with(|| turned(order, x.on_order.cmp(&y.on_order))),
        _ => turned(order, x.name.cmp(&y.name)),
    }
}

fn turned(order: Order, found: Ordering) -> Ordering {
    match order {
        Order::Rising => found,
        Order::Falling => found.reverse(),
    }
}

fn known<T: Ord>(order: Order, a: Option<T>, b: Option<T>) -> Ordering {
    match (a, b) {
        (Some(a), Some(b)) => turned(order, a.cmp(&b)),
        (a, b) => a.is_none().cmp(&b.is_none()),
    }
}

/// How many items are planned and how many are to be bought, as a sentence.
pub(super) fn summary(plans: &[ItemPlan], today: NaiveDate) -> String {
    let items = if plans.len() == 1 { "1 item".to_owned() } else { format!("{} items", plans.len()) };
    let buy = match plans.iter().filter(|plan| plan.buy.is_some()).count() {
        0 => "nothing is to be bought".to_owned(),
        1 => "1 is to be bought".to_owned(),
        many => format!("{many} are to be bought"),
    };
    let unknown = match plans.iter().filter(|plan| plan.used.is_err()).count() {
        0 => String::new(),
        unknown => format!("; of {unknown} too little was used to say when"),
    };
    format!("{items} as of {today}; {buy}{unknown}")
}
