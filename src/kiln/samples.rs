//! A made-up kiln, its days and loads, for the tests beside the code.

use crate::measure::{Decimal, Money};
use crate::studio::{
    BatchId, BookKilnDay, BookLoad, Charged, ElectricKiln, HeatSource, Kiln, KilnDay, KilnDayId, KilnId, Load, LoadId,
    PieceId, ShareLoadBy, StudioRates, defaults,
};
use chrono::{NaiveDate, NaiveDateTime};

pub(super) fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub(super) fn money(text: &str) -> Money {
    Money::new(decimal(text)).unwrap()
}

/// A day of March 2026; the 2nd is a Monday.
pub(super) fn date(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 3, day).unwrap()
}

/// A time such as `"09:02:30"` on a day of March 2026.
pub(super) fn at(day: u32, time: &str) -> NaiveDateTime {
    date(day).and_time(time.parse().unwrap())
}

/// The kiln of the reference row G-KILN-1.
pub(super) fn electric() -> ElectricKiln {
    ElectricKiln {
        rated_kw: decimal("1.8"),
        warm_up_minutes: Decimal::from(45),
        working_celsius: Decimal::from(800),
        duty: decimal("0.4"),
        room_celsius: Decimal::from(20),
        rated_max_celsius: Decimal::from(1000),
        shelf_cm2: Decimal::from(300),
        furniture_g: Decimal::from(350),
        door_kwh: decimal("0.03"),
        share_by: ShareLoadBy::Area,
        fitted: None,
        elements_since: date(1),
        thermocouple_since: date(4),
    }
}

pub(super) fn kiln() -> Kiln {
    let heat = HeatSource::Electric(Box::new(electric()));
    Kiln { name: "the small kiln".to_owned(), heat, note: String::new(), retired: false }
}

pub(super) fn day(number: u32, on: &str, off: Option<&str>) -> BookKilnDay {
    let day = KilnDay {
        kiln: KilnId(1),
        date: date(number),
        on_at: at(number, on),
        hot_at: None,
        off_at: off.map(|off| at(number, off)),
        hold_celsius: Decimal::from(780),
        meter_kwh: None,
        note: String::new(),
    };
    BookKilnDay { id: KilnDayId(i64::from(number)), day }
}

/// A load of as many pieces as areas are given; their numbers rise from 10 times the load's.
pub(super) fn load(
    id: i64,
    closed: NaiveDateTime,
    opened: Option<NaiveDateTime>,
    set: i64,
    areas: &[&str],
) -> BookLoad {
    let charge = (1..).zip(areas).map(|(place, area)| Charged {
        piece: PieceId(id * 10 + place),
        batch: BatchId(1),
        step: 2,
        area_cm2: decimal(area),
        result: None,
    });
    let load = Load {
        kiln: KilnId(1),
        closed_at: closed,
        opened_at: opened,
        set_celsius: Decimal::from(set),
        read_celsius: None,
        asked_minutes: decimal("2.5"),
        attended_minutes: None,
        charge: charge.collect(),
        override_words: String::new(),
        note: String::new(),
    };
    BookLoad { id: LoadId(id), load, has_photo: false }
}

/// Wear of 0.508889 an hour, 0.20 a kWh, no bands.
pub(super) fn rates() -> StudioRates {
    StudioRates {
        elements_cost: money("210"),
        elements_hours: Decimal::from(450),
        thermocouple_cost: money("38"),
        thermocouple_hours: Decimal::from(900),
        price_per_kwh: money("0.2"),
        kwh_per_load: decimal("0.31"),
        recovery_minutes: Decimal::from(5),
        tariff: Vec::new(),
        ..defaults::studio_rates()
    }
}
