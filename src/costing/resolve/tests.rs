use super::*;
use crate::costing::samples::{decimal, lantern_drop};
use crate::measure::Money;
use crate::studio::{ChannelId, DesignId, Follows, MaterialId, OverheadItem, Target};

fn money(text: &str) -> Money {
    Money::new(decimal(text)).unwrap()
}

fn studio() -> StudioRates {
    let mut gallery = lantern_drop().channels[1].clone();
    gallery.commission = decimal("0.5");
    gallery.target = Target::Markup(decimal("2"));
    StudioRates {
        overhead: vec![OverheadItem { name: "Rent".to_owned(), per_year: money("5000") }],
        normal_hours_per_year: decimal("800"),
        labour_per_hour: money("30"),
        elements_cost: money("200"),
        elements_hours: decimal("400"),
        thermocouple_cost: money("40"),
        thermocouple_hours: decimal("400"),
        price_per_kwh: money("0.25"),
        kwh_per_load: decimal("0.4"),
        recovery_minutes: decimal("6"),
        solder_margin_c: decimal("40"),
        channels: vec![gallery],
        tariff: Vec::new(),
        heat_tolerance_c: decimal("10"),
        minutes_tolerance: decimal("0.5"),
    }
}

fn in_book(follows: Follows) -> BookDesign {
    BookDesign {
        id: DesignId(1),
        design: lantern_drop(),
        follows,
        notes: String::new(),
        retired: false,
        has_photo: false,
    }
}

#[test]
fn a_design_that_follows_nothing_stays_as_it_is() {
    let design = in_book(Follows::default());
    assert_eq!(resolve(&design, &studio(), |_| Some(decimal("9"))).unwrap(), design.design);
}

#[test]
fn what_it_follows_is_the_studios() {
    let follows = Follows {
        labour: true,
        overhead: true,
        kiln: true,
        channels: [ChannelId("gallery".to_owned()), ChannelId("gone".to_owned())].into(),
        materials: [(MaterialId("oat".to_owned()), ItemId(7)), (MaterialId("box".to_owned()), ItemId(8))].into(),
    };
    let own = lantern_drop();
    let costed =
        resolve(&in_book(follows), &studio(), |item| (item == ItemId(7)).then(|| decimal("0.123456"))).unwrap();
    assert_eq!(costed.rates.labour_per_hour, decimal("30"));
    assert_eq!(costed.rates.overhead_per_hour, decimal("6.25"));
    assert_eq!(costed.rates.scrap_value, own.rates.scrap_value);
    assert_eq!(costed.kiln.kwh_per_load, decimal("0.4"));
    assert_eq!(costed.kiln.price_per_kwh, decimal("0.25"));
    assert_eq!(costed.kiln.recovery_minutes, decimal("6"));
    assert_eq!(costed.kiln.wear_per_hour, decimal("0.6"));
    assert_eq!(costed.channels[0], own.channels[0]);
    assert_eq!(costed.channels[1], studio().channels[0]);
    let price = |id: &str| costed.materials.iter().find(|material| material.id.0 == id).unwrap().price;
    assert_eq!(price("oat"), decimal("0.123456"));
    // No price in stock yet: its own stands.
    assert_eq!(price("box"), decimal("0.88"));
}
