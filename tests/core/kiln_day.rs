//! What a day of a kiln costs and who bears it: a worked day, and by properties.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::float_arithmetic, missing_docs)]

use crate::kiln_heat::{at, day_of_march, decimal, every_day, money, named, rates, small_kiln};
use chrono::{NaiveDateTime, NaiveTime, TimeDelta};
use enamelwright::kiln::day::{
    DayAccount, DayAsk, DayBasis, DayPart, DayProblem, LoadPart, PieceShare, WeighedLoad, account,
};
use enamelwright::kiln::fit::reading;
use enamelwright::kiln::heat::PieceMass;
use enamelwright::kiln::span::SpanProblem;
use enamelwright::measure::exact::sum;
use enamelwright::measure::{Decimal, Money};
use enamelwright::studio::{
    BatchId, BookKilnDay, BookLoad, Charged, ElectricKiln, HeatSource, Kiln, KilnDay, KilnDayId, KilnId, Load, LoadId,
    Metal, PieceId, ShareLoadBy, StudioRates, TariffBand,
};
use proptest::collection::vec;
use proptest::prelude::*;
use rust_decimal::prelude::ToPrimitive;

fn load(id: i64, closed: NaiveDateTime, opened: NaiveDateTime, set: i64, areas: &[Decimal]) -> BookLoad {
    let charge = (1..).zip(areas).map(|(place, area)| Charged {
        piece: PieceId(id * 100 + place),
        batch: BatchId(1),
        step: 2,
        area_cm2: *area,
        result: None,
    });
    let load = Load {
        kiln: KilnId(1),
        closed_at: closed,
        opened_at: Some(opened),
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

fn masses(count: usize, metal: Metal, grams: &str) -> Vec<PieceMass> {
    vec![PieceMass { metal, metal_g: decimal(grams), glass_g: Decimal::ZERO }; count]
}

fn worked_loads() -> [BookLoad; 2] {
    let areas = |list: [&str; 3]| list.map(decimal);
    [
        load(1, at("09:00:00"), at("09:02:30"), 790, &areas(["5", "7.5", "7.5"])),
        load(2, at("09:20:00"), at("09:23:10"), 800, &areas(["3", "4", "0"])[..2]),
    ]
}

fn weighed(loads: &[BookLoad]) -> Vec<WeighedLoad<'_>> {
    let (copper, silver) = (masses(3, Metal::Copper, "12.4"), masses(2, Metal::FineSilver, "8.1"));
    loads.iter().zip([copper, silver]).map(|(load, masses)| WeighedLoad { load, masses }).collect()
}

fn worked_day() -> KilnDay {
    KilnDay {
        kiln: KilnId(1),
        date: day_of_march(2),
        on_at: at("08:00:00"),
        hot_at: None,
        off_at: Some(at("12:00:00")),
        hold_celsius: Decimal::from(780),
        meter_kwh: None,
        note: String::new(),
    }
}

/// Dear from 09:15 to 11:30 each day.
fn day_rates() -> StudioRates {
    let dear = TariffBand {
        name: "morning".to_owned(),
        days: every_day(),
        from: at("09:15:00").time(),
        to: at("11:30:00").time(),
        price_per_kwh: money("0.31"),
    };
    StudioRates { tariff: vec![dear], ..rates() }
}

fn shares(account: &DayAccount, load: usize) -> (Vec<String>, Vec<String>) {
    let pieces = &account.loads[load].pieces;
    let texts = |take: fn(&PieceShare) -> Money| pieces.iter().map(|piece| take(piece).to_string()).collect();
    (texts(|piece| piece.energy), texts(|piece| piece.wear))
}

/// The figures of this day were worked out apart from the program, in Python's fractions, by sections 1 and 2 of the
/// kiln and batch method: the kiln of G-KILN-1, 43 min 30 s to 780 °C.
#[test]
fn a_worked_day_by_the_model() {
    let loads = worked_loads();
    let (kiln, day, rates) = (named(small_kiln()), worked_day(), day_rates());
    let ask = DayAsk { kiln: &kiln, day: Some(&day), loads: &weighed(&loads), rates: &rates };
    let found = account(&ask).unwrap();
    assert_eq!(found.basis, DayBasis::Modelled);
    assert_eq!(found.kwh, decimal("3.741625"));
    assert_eq!((found.energy, found.wear, found.hot_hours), (money("0.929541"), money("2.035556"), Decimal::from(4)));
    let warm_up = found.warm_up;
    assert_eq!((warm_up.minutes, warm_up.kwh), (decimal("43.5"), decimal("1.305")));
    assert_eq!((warm_up.energy, warm_up.wear), (money("0.261"), money("0.368945")));
    assert_eq!((found.idle.kwh, found.idle.energy), (decimal("2.231282"), money("0.615814")));
    assert_eq!(found.idle.wear, money("1.618549"));
    let (first, second) = (&found.loads[0], &found.loads[1]);
    assert_eq!((first.own.kwh, first.own.energy), (decimal("0.09936"), money("0.019872")));
    assert_eq!((first.energy, first.wear), (money("0.406702"), money("0.89804")));
    assert_eq!((second.own.kwh, second.own.energy), (decimal("0.105983"), money("0.032855")));
    assert_eq!((second.energy, second.wear), (money("0.522839"), money("1.137516")));
    let (energy, wear) = shares(&found, 0);
    assert_eq!(energy, ["0.101676", "0.152513", "0.152513"]);
    assert_eq!(wear, ["0.22451", "0.336765", "0.336765"]);
    let (energy, wear) = shares(&found, 1);
    assert_eq!(energy, ["0.224074", "0.298765"]);
    assert_eq!(wear, ["0.487507", "0.650009"]);
}

/// As above: the same day with 3.2 kWh on the meter.
#[test]
fn a_meter_reading_replaces_the_model_and_scales_its_parts() {
    let loads = worked_loads();
    let day = KilnDay { meter_kwh: Some(decimal("3.2")), ..worked_day() };
    let (kiln, rates) = (named(small_kiln()), day_rates());
    let ask = DayAsk { kiln: &kiln, day: Some(&day), loads: &weighed(&loads), rates: &rates };
    let found = account(&ask).unwrap();
    assert!(found.metered());
    assert_eq!((found.kwh, found.energy, found.wear), (decimal("3.2"), money("0.794984"), money("2.035556")));
    assert_eq!((found.warm_up.kwh, found.idle.kwh), (decimal("1.116093"), decimal("1.908289")));
    assert_eq!((found.loads[0].energy, found.loads[1].energy), (money("0.347829"), money("0.447155")));
    assert_eq!(shares(&found, 0).0, ["0.086957", "0.130436", "0.130436"]);
}

#[test]
fn without_a_day_a_load_takes_the_studios_figures() {
    // Costing method, section 4: 0.31 kWh · 0.20; (2.5 + 5) / 60 · 0.508889 and (3 min 10 s + 5 min) likewise: 0.0636111 and
    // 0.0692654, together 0.132877, the odd millionth to the larger rest.
    let loads = worked_loads();
    let (kiln, rates) = (named(small_kiln()), rates());
    let found = account(&DayAsk { kiln: &kiln, day: None, loads: &weighed(&loads), rates: &rates }).unwrap();
    assert_eq!((found.basis, found.kwh, found.energy), (DayBasis::Rates, decimal("0.62"), money("0.124")));
    assert_eq!((found.loads[0].energy, found.loads[0].wear), (money("0.062"), money("0.063611")));
    assert_eq!((found.loads[1].wear, found.wear), (money("0.069266"), money("0.132877")));
    assert_eq!((found.warm_up.energy, found.idle.wear), (Money::ZERO, Money::ZERO));
    // A kiln whose figures give no model, on a day that is written down: the same; with a meter, the meter by time.
    let bare = named(ElectricKiln { duty: Decimal::ZERO, ..small_kiln() });
    let day = worked_day();
    let same = account(&DayAsk { kiln: &bare, day: Some(&day), loads: &weighed(&loads), rates: &rates }).unwrap();
    assert_eq!(same, found);
    let metered = KilnDay { meter_kwh: Some(decimal("4")), ..day };
    let read = account(&DayAsk { kiln: &bare, day: Some(&metered), loads: &weighed(&loads), rates: &rates }).unwrap();
    assert_eq!((read.basis, read.kwh, read.warm_up.kwh), (DayBasis::Metered, decimal("4"), decimal("1")));
}

#[test]
fn a_torch_costs_nothing_and_pieces_may_share_equally() {
    let loads = worked_loads();
    let torch = Kiln { heat: HeatSource::Torch, ..named(small_kiln()) };
    let rates = day_rates();
    let found = account(&DayAsk { kiln: &torch, day: None, loads: &weighed(&loads), rates: &rates }).unwrap();
    assert_eq!((found.basis, found.energy, found.wear), (DayBasis::Torch, Money::ZERO, Money::ZERO));
    assert_eq!(found.loads[1].pieces.len(), 2);
    let equally = named(ElectricKiln { share_by: ShareLoadBy::Piece, ..small_kiln() });
    let day = worked_day();
    let found = account(&DayAsk { kiln: &equally, day: Some(&day), loads: &weighed(&loads), rates: &rates }).unwrap();
    // 0.406702 by three, the odd millionth to the first.
    assert_eq!(shares(&found, 0).0, ["0.135568", "0.135567", "0.135567"]);
}

#[test]
fn two_loads_at_a_time_and_missing_masses_are_refused() {
    let mut loads = worked_loads();
    let (kiln, day, rates) = (named(small_kiln()), worked_day(), rates());
    let mut short = weighed(&loads);
    short[1].masses.pop();
    let told = account(&DayAsk { kiln: &kiln, day: Some(&day), loads: &short, rates: &rates });
    assert_eq!(told, Err(DayProblem::MassesMissing { load: LoadId(2), pieces: 2, masses: 1 }));
    loads[1].load.closed_at = at("09:02:29");
    let told = account(&DayAsk { kiln: &kiln, day: Some(&day), loads: &weighed(&loads), rates: &rates });
    let (until, begins) = (at("09:02:30"), at("09:02:29"));
    let expected = SpanProblem::Overlap { first: LoadId(1), second: LoadId(2), until, begins };
    assert_eq!(told, Err(DayProblem::Span(expected)));
}

#[test]
fn a_day_tells_its_kelvin_hours() {
    // By hand: ½ · 760 K · 0.725 h + 760 K · (4 h − 0.725 h − 340 s) + 770 K · 150 s + 780 K · 190 s = 2766.305556 K·h.
    let loads = worked_loads();
    let day = BookKilnDay { id: KilnDayId(7), day: KilnDay { meter_kwh: Some(decimal("3.2")), ..worked_day() } };
    let found = reading(&small_kiln(), &day, &loads.iter().collect::<Vec<_>>()).unwrap().unwrap();
    assert_eq!((found.rise_k, found.openings, found.kwh), (Decimal::from(780), 2, decimal("3.2")));
    let by_hand = (380.0 * 2610.0 + 760.0 * (11_790.0 - 340.0) + 770.0 * 150.0 + 780.0 * 190.0) / 3600.0;
    assert!((found.kelvin_hours.to_f64().unwrap() - by_hand).abs() < 1e-6, "{} {by_hand}", found.kelvin_hours);
    let unread = BookKilnDay { day: worked_day(), ..day };
    assert_eq!(reading(&small_kiln(), &unread, &[]), Ok(None));
}

/// Loads one after the other: seconds before it and in it, °C, areas in hundredths of a cm².
fn any_loads() -> impl Strategy<Value = Vec<(i64, i64, i64, Vec<i64>)>> {
    vec((0_i64..2400, 0_i64..900, 700_i64..900, vec(0_i64..4000, 0..9)), 0..7)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_parts_of_a_day_are_its_whole(
        course in any_loads(), written in any::<bool>(), broken in any::<bool>(), equally in any::<bool>(),
        meter in prop::option::of(0_i64..9_000_000), after in prop::option::of(0_i64..7200), warm_up in 0_i64..3600,
        noted in any::<bool>(), begin in 0_i64..1440,
    ) {
        let on = day_of_march(2).and_time(NaiveTime::MIN) + TimeDelta::minutes(begin);
        let mut now = on + TimeDelta::seconds(warm_up);
        let hot_at = noted.then_some(now);
        let mut loads = Vec::new();
        for (id, (gap, stay, set, areas)) in (1..).zip(&course) {
            let closed = now + TimeDelta::seconds(*gap);
            now = closed + TimeDelta::seconds(*stay);
            let areas: Vec<Decimal> = areas.iter().map(|area| Decimal::new(*area, 2)).collect();
            loads.push(load(id, closed, now, *set, &areas));
        }
        let day = KilnDay {
            on_at: on,
            hot_at,
            off_at: after.map(|after| now + TimeDelta::seconds(after)),
            meter_kwh: meter.map(|meter| Decimal::new(meter, 6)),
            ..worked_day()
        };
        let share_by = if equally { ShareLoadBy::Piece } else { ShareLoadBy::Area };
        let duty = if broken { Decimal::ZERO } else { decimal("0.4") };
        let kiln = named(ElectricKiln { share_by, duty, ..small_kiln() });
        let weighed: Vec<WeighedLoad<'_>> = loads
            .iter()
            .map(|load| WeighedLoad { load, masses: masses(load.load.charge.len(), Metal::Copper, "9.5") })
            .collect();
        let rates = day_rates();
        let found = account(&DayAsk { kiln: &kiln, day: written.then_some(&day), loads: &weighed, rates: &rates }).unwrap();
        prop_assert_eq!(found.loads.len(), loads.len());
        let amounts = |take: &dyn Fn(&DayPart) -> Decimal| {
            let own = found.loads.iter().map(|load| take(&load.own));
            sum(own.chain([take(&found.warm_up), take(&found.idle)])).unwrap()
        };
        prop_assert_eq!(amounts(&|part| part.energy.amount()), found.energy.amount());
        prop_assert_eq!(amounts(&|part| part.wear.amount()), found.wear.amount());
        prop_assert_eq!(amounts(&|part| part.kwh), found.kwh);
        if let (true, Some(meter)) = (written, day.meter_kwh) {
            prop_assert_eq!(found.kwh, meter);
        }
        if !loads.is_empty() {
            let borne = |take: fn(&LoadPart) -> Decimal| {
                sum(found.loads.iter().map(take)).unwrap()
            };
            prop_assert_eq!(borne(|load| load.energy.amount()), found.energy.amount());
            prop_assert_eq!(borne(|load| load.wear.amount()), found.wear.amount());
            prop_assert_eq!(borne(|load| load.kwh), found.kwh);
        }
        for load in found.loads.iter().filter(|load| !load.pieces.is_empty()) {
            let energy = sum(load.pieces.iter().map(|piece| piece.energy.amount())).unwrap();
            let wear = sum(load.pieces.iter().map(|piece| piece.wear.amount())).unwrap();
            prop_assert_eq!((energy, wear), (load.energy.amount(), load.wear.amount()));
            prop_assert!(load.pieces.iter().all(|piece| piece.energy >= Money::ZERO && piece.wear >= Money::ZERO));
        }
    }
}
