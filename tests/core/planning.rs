//! Landed costs, buying, tracing and weighing, against published values (tests/data, each row with its source) and by
//! properties.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic, missing_docs)]

use crate::stock::history;
use crate::support::{Row, rows_of, text};
use chrono::NaiveDate;
use enamelwright::costing::delivery::{Delivered, delivery_cost};
use enamelwright::costing::landed::{
    InvoicedLine, LandedOrder, LandedProblem, SpreadBy, invoice_total, landed_costs, spread,
};
use enamelwright::costing::order_quantity::{OrderCosts, economic_quantity, order_quantity, yearly_cost};
use enamelwright::costing::running_out::{LeadDemand, lasts_for, reorder_point, service_quantile};
use enamelwright::costing::shopping::{BuyAt, Want, shopping_list};
use enamelwright::costing::statistics::{normal_quantile, square_root};
use enamelwright::costing::stock::{ledger, replacement_unit_price};
use enamelwright::costing::trace::trace;
use enamelwright::costing::weekly_use::{NoUse, weekly_use};
use enamelwright::costing::weigh::weigh;
use enamelwright::measure::pack::parse_pack;
use enamelwright::measure::{
    Currency, Decimal, LengthUnit, MassUnit, Money, NumberStyle, Preferences, Quantity, TemperatureUnit, ThicknessUnit,
    Unit, exact,
};
use enamelwright::studio::{ItemId, LotId, Movement, MovementId, MovementKind, Pack, ValuationMethod};
use proptest::prelude::*;
use serde_json::Value;

const PLANNING: &str = "d_planning_and_statistics.csv";

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn money(text: &str) -> Money {
    Money::new(decimal(text)).unwrap()
}

fn number(value: &Value) -> Decimal {
    decimal(&text(value))
}

fn input(row: &Row, name: &str) -> Option<Decimal> {
    row.inputs.get(name).map(number)
}

fn in_dollars(lines: Vec<InvoicedLine>, freight: Decimal, discount: Decimal) -> LandedOrder {
    LandedOrder {
        lines,
        freight,
        duty: Decimal::ZERO,
        discount,
        spread: SpreadBy::Value,
        currency: Currency::USD,
        rate: Decimal::ONE,
        book_currency: Currency::USD,
    }
}

/// A receipt of what an order's only line costs landed.
fn lot(order: &LandedOrder, units: Decimal) -> [Movement; 1] {
    let costs = landed_costs(order).unwrap();
    [Movement {
        id: MovementId(1),
        item: ItemId(1),
        date: NaiveDate::from_ymd_opt(2026, 1, 5).unwrap(),
        kind: MovementKind::Receipt,
        quantity: Quantity::new(units).unwrap(),
        cost: Some(costs[0].total),
        lot: None,
        lot_number: String::new(),
        supplier: String::new(),
        note: String::new(),
        typed: String::new(),
    }]
}

#[test]
fn freight_is_spread_by_value_to_the_cent() {
    for row in rows_of("c_cost_accounting.csv", "C-LAND-LR-", 3) {
        let lines: Vec<InvoicedLine> = row.inputs["line_values"]
            .as_array()
            .unwrap()
            .iter()
            .map(|value| InvoicedLine { price: number(value), weight_g: None })
            .collect();
        let prices: Vec<Decimal> = lines.iter().map(|line| line.price).collect();
        let freight = input(&row, "freight_minor_units").unwrap() / Decimal::ONE_HUNDRED;
        let expected: Vec<Money> = row
            .answer()
            .as_array()
            .unwrap()
            .iter()
            .map(|part| Money::new(number(part) / Decimal::ONE_HUNDRED).unwrap())
            .collect();
        assert_eq!(spread(Money::new(freight).unwrap(), &prices, 2).unwrap(), expected, "{}", row.id);
        let landed = landed_costs(&in_dollars(lines, freight, Decimal::ZERO)).unwrap();
        for ((line, price), part) in landed.iter().zip(&prices).zip(&expected) {
            assert_eq!((line.price.amount(), line.freight), (price.normalize(), *part), "{}", row.id);
            assert_eq!(line.total.amount(), (*price + part.amount()).normalize(), "{}", row.id);
        }
    }
}

#[test]
fn freight_and_discount_give_the_published_cost_of_stock() {
    // Of the six C-LAND rows: the three of largest remainder are above.
    let rows = rows_of("c_cost_accounting.csv", "C-LAND-", 6);
    let find = |id: &str| rows.iter().find(|row| row.id == id).unwrap();
    let of = |row: &Row| (input(row, "units").unwrap(), input(row, "price").unwrap());

    let row = find("C-LAND-1");
    let (units, price) = of(row);
    let line = InvoicedLine { price: units * price, weight_g: None };
    let order = in_dollars(vec![line], units * input(row, "freight_per_unit").unwrap(), Decimal::ZERO);
    let answer = row.answer();
    assert_eq!(invoice_total(&order).unwrap().amount(), number(&answer["stock"]));
    assert_eq!(replacement_unit_price(&lot(&order, units)), Some(number(&answer["unit_cost"])));

    let row = find("C-LAND-3");
    let (units, price) = of(row);
    let line = InvoicedLine { price: units * price, weight_g: None };
    let answer = row.answer();
    let order = in_dollars(vec![line], Decimal::ZERO, number(&answer["discount"]));
    assert_eq!(invoice_total(&order).unwrap().amount(), number(&answer["stock"]));
    assert_eq!(replacement_unit_price(&lot(&order, units)), Some(number(&answer["unit_cost"])));

    // The discount is on what is owed after a return and an allowance: three lines whose prices are what is left.
    let row = find("C-LAND-4");
    let answer = row.answer();
    let owed = ["return", "allowance"]
        .iter()
        .fold(input(row, "gross").unwrap(), |owed, part| owed - input(row, part).unwrap());
    assert_eq!(owed, number(&answer["owed"]));
    let third = InvoicedLine { price: owed / Decimal::from(4), weight_g: None };
    let order = in_dollars(vec![third; 4], Decimal::ZERO, owed * input(row, "discount").unwrap());
    assert_eq!(order.discount.normalize(), number(&answer["discount"]));
    let paid = exact::sum(landed_costs(&order).unwrap().iter().map(|line| line.total.amount())).unwrap();
    assert_eq!(paid.normalize(), number(&answer["paid"]));
}

#[test]
fn quantiles_are_those_of_the_normal_table() {
    for row in rows_of(PLANNING, "D-Z-", 5) {
        let quantile = normal_quantile(input(&row, "p").unwrap()).unwrap().unwrap();
        // The rows are rounded to 8 places.
        assert_eq!(exact::round(quantile, 8), decimal(&row.expected), "{}", row.id);
    }
}

#[test]
fn reorder_points_are_the_published_ones() {
    for row in rows_of(PLANNING, "D-ROP-", 5) {
        let quantile = input(&row, "z").unwrap_or_else(|| service_quantile(input(&row, "service").unwrap()).unwrap());
        let demand = match (input(&row, "sd_lead"), input(&row, "lead_mean")) {
            // The deviation of the use in the whole lead time is given: the lead time is one period.
            (Some(deviation), _) => LeadDemand {
                per_period: input(&row, "mean_lead")
                    .unwrap_or_else(|| input(&row, "daily").unwrap() * input(&row, "lead_days").unwrap()),
                deviation,
                lead: Decimal::ONE,
                lead_deviation: Decimal::ZERO,
            },
            (None, Some(lead)) => LeadDemand {
                per_period: input(&row, "daily").unwrap(),
                deviation: Decimal::ZERO,
                lead,
                lead_deviation: input(&row, "lead_sd").unwrap(),
            },
            (None, None) => LeadDemand {
                per_period: input(&row, "daily").unwrap(),
                deviation: input(&row, "sd_daily").unwrap(),
                lead: input(&row, "lead_days").unwrap(),
                lead_deviation: Decimal::ZERO,
            },
        };
        let point = reorder_point(demand, quantile).unwrap().point;
        assert!((point - decimal(&row.expected)).abs() <= decimal("0.00001"), "{}: {point}", row.id);
    }
}

#[test]
fn economic_quantities_are_the_published_ones() {
    for row in rows_of(PLANNING, "D-EOQ-", 4) {
        let costs = OrderCosts {
            use_per_year: input(&row, "annual_demand").unwrap(),
            per_order: Money::new(input(&row, "order_cost").unwrap()).unwrap(),
            holding: input(&row, "holding_cost_per_unit_year").unwrap(),
        };
        let answer = row.answer();
        let near = |one: Decimal, name: &str| {
            let other = number(&answer[name]);
            assert!((one - other).abs() <= other * decimal("0.000001"), "{}: {name} {one}", row.id);
        };
        let quantity = economic_quantity(costs).unwrap();
        near(quantity, "eoq");
        near(yearly_cost(costs, quantity).unwrap(), "annual_cost_of_ordering_and_holding");
        if answer.get("orders").is_some() {
            near(costs.use_per_year / quantity, "orders");
        }
    }
}

fn currencies() -> impl Strategy<Value = Currency> {
    // No decimals, two, three.
    prop_oneof![Just("JPY"), Just("USD"), Just("EUR"), Just("KWD")].prop_map(|code| Currency::from_code(code).unwrap())
}

prop_compose! {
    /// An order of plausible size; its discount may be too large.
    fn order()(
        lines in prop::collection::vec((0_i64..500_000, 0_i64..5_000_000), 1..25),
        free in 0_i64..12,
        charges in (0_i64..100_000, 0_i64..100_000, 0_i64..300_000),
        by_weight in any::<bool>(),
        currency in currencies(),
        book_currency in currencies(),
        rate in (1_i64..5_000_000, 2_u32..=6),
    ) -> LandedOrder {
        // Every twelfth line or so costs nothing.
        let line = |(price, weight): (i64, i64)| InvoicedLine {
            price: Decimal::new(if price % 12 == free { 0 } else { price }, 2),
            weight_g: Some(Decimal::new(weight, 3)),
        };
        LandedOrder {
            lines: lines.into_iter().map(line).collect(),
            freight: Decimal::new(charges.0, 2),
            duty: Decimal::new(charges.1, 2),
            discount: Decimal::new(charges.2, 2),
            spread: if by_weight { SpreadBy::Weight } else { SpreadBy::Value },
            currency,
            rate: if currency == book_currency { Decimal::ONE } else { Decimal::new(rate.0, rate.1) },
            book_currency,
        }
    }
}

fn minor_units(money: Money, currency: Currency) -> bool {
    money.amount().normalize().scale() <= currency.digits()
}

fn preferences() -> Preferences {
    Preferences {
        currency: Currency::USD,
        numbers: NumberStyle::Point,
        temperature: TemperatureUnit::Celsius,
        length: LengthUnit::Millimetre,
        mass: MassUnit::Gram,
        thickness: ThicknessUnit::Gauge,
    }
}

proptest! {
    #[test]
    fn landed_lines_add_up_to_the_invoice(order in order()) {
        match landed_costs(&order) {
            Ok(lines) => {
                let total = exact::sum(lines.iter().map(|line| line.total.amount())).unwrap();
                prop_assert_eq!(total.normalize(), invoice_total(&order).unwrap().amount());
                let gross = exact::sum(order.lines.iter().map(|line| line.price)).unwrap() + order.freight + order.duty;
                let converted = exact::round((gross - order.discount) * order.rate, order.book_currency.digits());
                prop_assert_eq!(total.normalize(), converted.normalize());
                for line in &lines {
                    prop_assert!(line.total >= Money::ZERO);
                    let parts = line.price.amount() + line.freight.amount() + line.duty.amount()
                        - line.discount.amount() + line.rounding.amount();
                    prop_assert_eq!(parts.normalize(), line.total.amount());
                    for part in [line.price, line.freight, line.duty, line.discount, line.total] {
                        prop_assert!(part >= Money::ZERO && minor_units(part, order.book_currency));
                    }
                }
                let rounding = exact::sum(lines.iter().map(|line| line.rounding.amount())).unwrap();
                prop_assert!(rounding.is_zero());
            }
            Err(problems) => {
                let discount = |problem: &LandedProblem| {
                    matches!(problem, LandedProblem::DiscountTooLarge { .. } | LandedProblem::LineBelowZero { .. })
                };
                prop_assert!(problems.iter().all(discount), "{problems:?}");
            }
        }
    }

    #[test]
    fn in_one_currency_every_line_keeps_its_price(mut order in order()) {
        order.currency = Currency::USD;
        order.book_currency = Currency::USD;
        order.rate = Decimal::ONE;
        if let Ok(lines) = landed_costs(&order) {
            for (landed, line) in lines.iter().zip(&order.lines) {
                prop_assert_eq!(landed.price.amount(), line.price.normalize());
            }
        }
    }

    #[test]
    fn a_spread_adds_up_whatever_its_sign(
        total in -1_000_000_000_i64..1_000_000_000,
        weights in prop::collection::vec((-10_i64..1_000_000, 0_u32..6), 1..40),
        places in 0_u32..=4,
    ) {
        let weights: Vec<Decimal> = weights.into_iter().map(|(weight, scale)| Decimal::new(weight, scale)).collect();
        let total = Money::new(Decimal::new(total, places)).unwrap();
        let parts = spread(total, &weights, places).unwrap();
        prop_assert_eq!(exact::sum(parts.iter().map(|part| part.amount())).unwrap().normalize(), total.amount());
        prop_assert!(parts.iter().all(|part| part.is_zero() || (*part < Money::ZERO) == (total < Money::ZERO)));
        prop_assert!(parts.iter().all(|part| part.amount().scale() <= places));
    }

    #[test]
    fn deliveries_of_a_line_add_up_to_it(
        cost in 0_i64..10_000_000,
        parts in prop::collection::vec((1_i64..100_000, 0_u32..4), 1..12),
        currency in currencies(),
    ) {
        let whole = Money::new(Decimal::new(cost, currency.digits())).unwrap();
        let parts: Vec<Quantity> =
            parts.into_iter().map(|(part, scale)| Quantity::new(Decimal::new(part, scale)).unwrap()).collect();
        let ordered = parts.iter().try_fold(Quantity::ZERO, |sum, part| sum.plus(*part)).unwrap();
        let mut before = Delivered::default();
        for came in parts {
            let cost = delivery_cost(ordered, whole, before, came, currency).unwrap();
            prop_assert!(cost >= Money::ZERO && minor_units(cost, currency));
            before = Delivered {
                quantity: before.quantity.plus(came).unwrap(),
                cost: before.cost.plus(cost).unwrap(),
            };
        }
        prop_assert_eq!(before, Delivered { quantity: ordered, cost: whole });
        let more = Quantity::new(Decimal::new(1, 9)).unwrap();
        prop_assert!(delivery_cost(ordered, whole, before, more, currency).is_err());
    }

    #[test]
    fn a_trace_agrees_with_the_ledgers_layers(list in history()) {
        let traced = trace(&list).unwrap();
        for method in [ValuationMethod::Fifo, ValuationMethod::Average] {
            let book = ledger(&list, method).unwrap();
            let layers: Vec<(Option<LotId>, Quantity)> =
                book.layers.iter().map(|layer| (layer.lot, layer.quantity)).collect();
            let left: Vec<(Option<LotId>, Quantity)> = traced
                .sources
                .iter()
                .filter(|from| !from.left.is_zero())
                .map(|from| (from.source.lot(), from.left))
                .collect();
            prop_assert_eq!(left, layers);
            for line in &book.lines {
                let out = exact::sum(traced.taken_by(line.movement).map(|taken| taken.quantity.amount())).unwrap();
                let gone = if line.change.is_negative() { -line.change.amount() } else { Decimal::ZERO };
                prop_assert_eq!(out.normalize(), gone.normalize());
            }
        }
        for from in &traced.sources {
            let out = exact::sum(traced.taken_from(from.source).map(|taken| taken.quantity.amount())).unwrap();
            prop_assert_eq!((from.left.amount() + out).normalize(), from.came.amount());
        }
    }

    #[test]
    fn use_of_the_weeks_adds_up(
        steps in prop::collection::vec((0_u64..9, 0_usize..5, 0_i64..200), 0..60),
        later in 0_u64..60,
        weeks in 0_u32..60,
    ) {
        let mut day = NaiveDate::from_ymd_opt(2026, 1, 5).unwrap();
        let mut list = lot(&in_dollars(vec![InvoicedLine { price: Decimal::ONE, weight_g: None }], Decimal::ZERO, Decimal::ZERO), Decimal::from(100_000)).to_vec();
        for (id, (days, kind, quantity)) in (2_i64..).zip(steps) {
            day = day + chrono::Days::new(days);
            let kind = MovementKind::ALL[kind];
            let quantity = if kind == MovementKind::Count { 90_000 + 10 * quantity } else { quantity + 1 };
            list.push(Movement { id: MovementId(id), date: day, kind, quantity: Quantity::new(Decimal::from(quantity)).unwrap(), ..list[0].clone() });
        }
        let today = day + chrono::Days::new(later);
        match weekly_use(&list, today, weeks) {
            Ok(used) => {
                prop_assert_eq!(used.by_week.len(), used.weeks as usize);
                let all = exact::sum(used.by_week.iter().map(|week| week.amount())).unwrap();
                prop_assert_eq!(all.normalize(), used.used.amount());
                prop_assert!(used.per_week > Decimal::ZERO && used.deviation >= Decimal::ZERO);
                prop_assert!((used.per_week * Decimal::from(used.weeks) - all).abs() < decimal("0.000001"));
                let gone = list.iter().filter(|movement| movement.kind == MovementKind::Issue && movement.date >= used.first_day);
                prop_assert_eq!(exact::sum(gone.map(|movement| movement.quantity.amount())).unwrap(), used.issued.amount());
                let lasts = lasts_for(used.used, Quantity::ZERO, used.per_week, today).unwrap();
                prop_assert!((lasts.weeks - Decimal::from(used.weeks)).abs() < decimal("0.000001"));
            }
            Err(NoUse::TooLarge(_)) => prop_assert!(false, "nothing here is large"),
            Err(_) => {}
        }
    }

    #[test]
    fn a_root_is_the_nearest_of_nine_places(digits in 0_i64..i64::MAX, scale in 0_u32..=18) {
        let value = Decimal::new(digits, scale);
        let root = square_root(value).unwrap();
        let half = decimal("0.0000000005");
        let square = |root: Decimal| root.checked_mul(root).unwrap();
        // To 28 digits, so a little room for what the squares lose.
        let room = decimal("0.00000000000000001") * root.max(Decimal::ONE);
        prop_assert!(square(root + half) + room >= value);
        prop_assert!(root < half || square(root - half) <= value + room);
    }

    #[test]
    fn a_quantile_rises_with_its_probability(one in 1_i64..10_000, other in 1_i64..10_000) {
        let quantile = |share: i64| normal_quantile(Decimal::new(share, 4)).unwrap().unwrap();
        prop_assert_eq!(one.cmp(&other), quantile(one).cmp(&quantile(other)));
        prop_assert_eq!(quantile(one), -quantile(10_000 - one));
    }

    #[test]
    fn no_other_number_of_packs_costs_less(
        used in 1_i64..100_000, order in 1_i64..10_000, holding in 1_i64..10_000, pack in 1_i64..100_000, least in 0_u32..5,
    ) {
        let costs = OrderCosts {
            use_per_year: Decimal::new(used, 1),
            per_order: Money::new(Decimal::new(order, 2)).unwrap(),
            holding: Decimal::new(holding, 3),
        };
        let pack = Quantity::new(Decimal::new(pack, 2)).unwrap();
        let Ok(best) = order_quantity(costs, pack, least) else { return Ok(()) };
        prop_assert!(best.chosen.packs >= u64::from(least.max(1)));
        let cost = |packs: u64| yearly_cost(costs, Decimal::from(packs) * pack.amount()).unwrap();
        let chosen = cost(best.chosen.packs);
        let first = best.chosen.packs.saturating_sub(3).max(u64::from(least.max(1)));
        for packs in first..best.chosen.packs + 4 {
            prop_assert!(chosen <= cost(packs) + decimal("0.000000000001"), "{} and {packs}", best.chosen.packs);
        }
        prop_assert!(best.chosen.yearly_cost >= best.economic_cost - decimal("0.000001"));
    }

    #[test]
    fn packs_multiply_and_any_text_is_answered(
        many in 1_u32..100, holds in 1_i64..10_000, scale in 0_u32..3, noise in ".{0,70}", unit in 0_usize..4,
        words in prop::collection::vec(
            prop::sample::select(vec!["1", "6", "×", "x", "of", "pack", "packs", "in", "lb", "sheet", "1/2", "-", ","]),
            0..8,
        ),
    ) {
        let holds = Decimal::new(holds, scale);
        let read = |text: &str| parse_pack(text, Unit::Gram, &preferences()).unwrap().quantity.amount();
        let expected = (Decimal::from(many) * holds).normalize();
        prop_assert_eq!(read(&format!("{many} jars of {holds} g")), expected);
        prop_assert_eq!(read(&format!("{many} × {holds} g")), expected);
        for text in [noise, words.join(" "), words.concat()] {
            if let Ok(pack) = parse_pack(&text, Unit::ALL[unit], &preferences()) {
                prop_assert!(pack.quantity > Quantity::ZERO);
            }
        }
    }

    #[test]
    fn a_shopping_list_does_not_depend_on_the_order_of_the_items(
        items in prop::collection::vec((0_i64..500, 0_i64..500, 1_i64..300, 0_usize..4, any::<bool>()), 0..20),
        turn in 0_usize..20,
    ) {
        let suppliers = ["Alder Metals", "ferry lane supply", "Ferry Lane Supply", ""];
        let quantity = |value: i64| Quantity::new(Decimal::from(value)).unwrap();
        let mut wants: Vec<Want> = (1_i64..).zip(&items).map(|(id, &(on_hand, level, pack, supplier, priced))| Want {
            item: ItemId(id),
            reference: format!("EN-{id:03}"),
            name: String::new(),
            supplier: suppliers[supplier].to_owned(),
            maker_number: String::new(),
            unit: Unit::Gram,
            lead_bearing: false,
            on_hand: quantity(on_hand),
            on_order: Quantity::ZERO,
            planned: Quantity::ZERO,
            buy_at: Some(BuyAt::Level(quantity(level))),
            pack: Some(Pack { words: format!("{pack} g"), quantity: quantity(pack) }),
            economic_packs: None,
            least_packs: 1,
            unit_price: priced.then(|| Decimal::new(123, 3)),
            reason: Vec::new(),
        }).collect();
        let list = shopping_list(&wants, Currency::USD).unwrap();
        let turn = turn.min(wants.len());
        wants.rotate_left(turn);
        prop_assert_eq!(&shopping_list(&wants, Currency::USD).unwrap(), &list);
        let lines: Vec<_> = list.suppliers.iter().flat_map(|supplier| &supplier.lines).collect();
        prop_assert_eq!(lines.len(), items.iter().filter(|item| item.0 <= item.1).count());
        for line in lines {
            let (on_hand, level, pack, ..) = items[usize::try_from(line.item.0).unwrap() - 1];
            let bought = line.quantity.amount();
            prop_assert_eq!(bought, Decimal::from(line.packs) * Decimal::from(pack));
            prop_assert!(Decimal::from(on_hand) + bought > Decimal::from(level));
            prop_assert!(Decimal::from(on_hand) + bought - Decimal::from(pack) <= Decimal::from(level));
        }
        let sums = exact::sum(list.suppliers.iter().map(|supplier| supplier.cost.amount())).unwrap();
        prop_assert_eq!(sums.normalize(), list.cost.amount());
    }

    #[test]
    fn net_and_difference_come_from_the_scale(tare in 0_i64..900_000, net in 0_i64..900_000, expected in 0_i64..900_000) {
        let grams = |tenths: i64| Quantity::new(Decimal::new(tenths, 1)).unwrap();
        let weighed = weigh(grams(tare), grams(tare).plus(grams(net)).unwrap(), Some(grams(expected)));
        if tare + net > 1_000_000 {
            prop_assert!(weighed.is_err());
            return Ok(());
        }
        let weighed = weighed.unwrap();
        prop_assert_eq!(weighed.net, grams(net));
        prop_assert_eq!(weighed.expected.plus(weighed.difference).unwrap(), grams(net));
        // Tenths of a gram: 50 are 5 g.
        prop_assert_eq!(weighed.needs_cause, (net - expected).abs() * 10 > expected.max(500));
    }
}

#[test]
fn a_discount_by_weight_that_takes_a_line_below_nothing_is_refused() {
    let line = |price: &str, weight: &str| InvoicedLine { price: decimal(price), weight_g: Some(decimal(weight)) };
    let mut order = in_dollars(vec![line("1", "1000"), line("99", "10")], Decimal::ZERO, money("20").amount());
    order.spread = SpreadBy::Weight;
    assert_eq!(landed_costs(&order), Err(vec![LandedProblem::LineBelowZero { line: 1 }]));
}
