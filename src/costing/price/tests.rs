use super::*;
use crate::costing::samples::{decimal, lantern_drop};
use crate::costing::{costing, piece_cost};

/// The lantern drop's cost with other figures in the places a price looks at.
fn cost(full: &str, out_of_pocket: &str, hours: &str) -> PieceCost {
    PieceCost {
        full: decimal(full),
        out_of_pocket: decimal(out_of_pocket),
        hours_per_good_piece: decimal(hours),
        ..piece_cost(&lantern_drop()).unwrap()
    }
}

fn channel(target: Target) -> Channel {
    Channel { target, price_points: Vec::new(), ..lantern_drop().channels[0].clone() }
}

#[test]
fn fees_that_eat_every_price_are_named() {
    let mut eaten = channel(Target::Margin(decimal("0.1")));
    eaten.commission = decimal("0.97");
    eaten.card_fee = decimal("0.03");
    eaten.tax = decimal("0.2");
    let price = channel_price(&cost("20", "8", "0.5"), &eaten, 2).unwrap();
    assert_eq!((price.floor, price.cash_floor), (None, None));
    assert_eq!(
        price.priced.unwrap_err().to_string(),
        "commission 97 % and card fee 3.6 % (3 % of what the buyer pays, 20 % tax included) take 100.6 % of the price \
         before tax, which leaves nothing of any price"
    );
}

#[test]
fn a_target_out_of_reach_keeps_its_floors() {
    let mut greedy = channel(Target::Margin(decimal("0.42")));
    greedy.commission = decimal("0.58");
    (greedy.card_fee, greedy.card_fee_fixed, greedy.tax, greedy.selling_cost) = Default::default();
    let price = channel_price(&cost("21", "8.4", "0.5"), &greedy, 2).unwrap();
    assert_eq!((price.floor, price.cash_floor), (Some(decimal("50")), Some(decimal("20"))));
    assert_eq!(
        price.priced.unwrap_err().to_string(),
        "commission 58 % and a margin of 42 % take 100 % of the price before tax: no price reaches the target"
    );
}

#[test]
fn a_ticket_that_shows_tax_is_raised_with_the_tax_in_it() {
    let mut shop = channel(Target::Markup(decimal("0.5")));
    (shop.card_fee, shop.card_fee_fixed, shop.selling_cost) = Default::default();
    shop.tax = decimal("0.2");
    shop.tax_in_price = true;
    // 20 · 1.5 = 30 before tax, 36 with it.
    let priced = channel_price(&cost("20", "8", "0.5"), &shop, 2).unwrap().priced.unwrap();
    assert_eq!((priced.exact, priced.ticket, priced.price_before_tax), (decimal("30"), decimal("36"), decimal("30")));
    shop.price_points = vec![crate::studio::Band { up_to: None, step: decimal("5"), less: decimal("0.4") }];
    let priced = channel_price(&cost("20", "8", "0.5"), &shop, 2).unwrap().priced.unwrap();
    assert_eq!((priced.exact, priced.ticket), (decimal("30"), decimal("39.6")));
    // 39.60 / 1.2 = 33.
    assert_eq!((priced.price_before_tax, priced.profit), (decimal("33"), decimal("13")));
    assert_eq!(priced.margin.map(|margin| exact::round(margin, 8)), Some(decimal("0.39393939")));
    assert_eq!(priced.earned_per_hour, Some(decimal("50")));
}

#[test]
fn the_card_fee_is_taken_of_what_the_buyer_pays() {
    let mut fair = channel(Target::Markup(Decimal::ZERO));
    (fair.card_fee_fixed, fair.selling_cost) = Default::default();
    fair.card_fee = decimal("0.10");
    fair.tax = decimal("0.25");
    // The buyer of a ticket of 80 pays 100; the fee is 10.
    let priced = at_ticket(&cost("50", "20", "2"), &fair, decimal("80")).unwrap();
    assert_eq!((priced.profit, priced.margin), (decimal("20"), Some(decimal("0.25"))));
    assert_eq!(priced.earned_per_hour, Some(decimal("25")));
}

#[test]
fn nothing_to_divide_by_is_none() {
    let free = channel(Target::Markup(Decimal::ZERO));
    let priced = at_ticket(&cost("0", "0", "0"), &free, Decimal::ZERO).unwrap();
    assert_eq!((priced.margin, priced.earned_per_hour), (None, None));
}

#[test]
fn the_earlier_channel_sets_a_common_ticket_that_several_show() {
    let mut design = lantern_drop();
    for channel in &mut design.channels {
        channel.price_points = vec![crate::studio::Band { up_to: None, step: decimal("100"), less: Decimal::ZERO }];
    }
    let answer = costing(&design).unwrap();
    assert_eq!(answer.common.clone().unwrap(), CommonTicket { ticket: decimal("100"), channel: "fair".into_id() });
    design.channels[0].retail = false;
    let common = common_ticket(&design, &answer.channels).unwrap();
    assert_eq!(common.channel, "gallery".into_id());
    design.channels.iter_mut().for_each(|channel| channel.retail = false);
    assert_eq!(common_ticket(&design, &answer.channels), None);
}

#[test]
fn every_retail_channel_is_reckoned_again_at_the_common_ticket() {
    let design = lantern_drop();
    let answer = costing(&design).unwrap();
    let common = at_common_ticket(&design, &answer.cost, &answer.channels).unwrap();
    let gallery = common[1].clone().unwrap();
    // 46 less 45 %: 25.30 to the maker, whatever the gallery's own price points.
    assert_eq!(gallery.ticket, decimal("46"));
    assert_eq!(exact::round(gallery.profit, 6), exact::round(decimal("25.3") - answer.cost.full, 6));
    assert_eq!(
        common[0].as_ref().map(|priced| priced.profit),
        answer.channels[0].priced.as_ref().ok().map(|p| p.profit)
    );
    assert_eq!(common[2], None);
}

trait IntoId {
    fn into_id(self) -> ChannelId;
}

impl IntoId for &str {
    fn into_id(self) -> ChannelId {
        ChannelId(self.to_owned())
    }
}
