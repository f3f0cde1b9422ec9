//! Published rows of tests/data, and made-up designs.

use enamelwright::measure::{Currency, Decimal, Unit};
use enamelwright::studio::{
    Band, Blank, Channel, ChannelId, Coat, Design, DesignCode, Firing, Fusing, KilnRates, Material, MaterialId,
    MaterialKind, Metal, Outline, Rates, Side, Step, StepKind, Target, Thickness, Use,
};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;
use serde_json::Value;

/// One published check value.
pub(crate) struct Row {
    pub(crate) id: String,
    pub(crate) inputs: Value,
    pub(crate) expected: String,
    tolerance: String,
}

impl Row {
    /// The expected number.
    pub(crate) fn expected(&self) -> f64 {
        self.expected.parse().unwrap()
    }

    /// The tolerance of a row that states it as a share, made absolute; else nothing.
    pub(crate) fn relative_tolerance(&self) -> f64 {
        match (self.tolerance.strip_prefix("rel "), self.expected.parse::<f64>()) {
            (Some(share), Ok(expected)) => share.parse::<f64>().unwrap() * expected.abs(),
            _ => 0.0,
        }
    }
}

/// The rows of a table in tests/data.
pub(crate) fn rows(file: &str) -> Vec<Row> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(file);
    let mut reader = csv::Reader::from_path(path).unwrap();
    let read: Vec<std::collections::BTreeMap<String, String>> = reader.deserialize().map(Result::unwrap).collect();
    assert!(!read.is_empty());
    read.into_iter()
        .map(|row| Row {
            id: row["id"].clone(),
            inputs: serde_json::from_str(&row["inputs"]).unwrap_or(Value::Null),
            expected: row["expected"].clone(),
            tolerance: row["tolerance"].clone(),
        })
        .collect()
}

/// A decimal from its text.
pub(crate) fn decimal(text: &str) -> Decimal {
    Decimal::from_str_exact(text).unwrap()
}

/// A number of a row, whether written as a number or as a text.
pub(crate) fn number(value: &Value) -> Decimal {
    decimal(&value.as_str().map_or_else(|| value.to_string(), str::to_owned))
}

/// A decimal of at most that many places, from nothing to a whole number.
fn up_to(most: i64, places: u32) -> impl Strategy<Value = Decimal> {
    let scale = 10_i64.pow(places);
    prop_oneof![
        1 => Just(Decimal::ZERO),
        4 => (0..=most * scale).prop_map(move |units| Decimal::new(units, places)),
        2 => (0..=most).prop_map(Decimal::from),
    ]
}

fn above_zero(most: i64, places: u32) -> impl Strategy<Value = Decimal> {
    let scale = 10_i64.pow(places);
    (1..=most * scale).prop_map(move |units| Decimal::new(units, places))
}

fn share() -> impl Strategy<Value = Decimal> {
    prop_oneof![Just(Decimal::ONE), (700_i64..=1000).prop_map(|thousandths| Decimal::new(thousandths, 3))]
}

fn name() -> impl Strategy<Value = String> {
    prop_oneof!["[A-Za-z][A-Za-z ,.'\"\\\\-]{0,20}", "[^\\p{C}\\p{Z}][^\\p{C}]{0,12}"]
}

fn outline() -> impl Strategy<Value = Outline> {
    let length = || (10_i64..=60).prop_map(Decimal::from);
    prop_oneof![
        length().prop_map(|diameter_mm| Outline::Disc { diameter_mm }),
        (length(), length()).prop_map(|(length_mm, width_mm)| Outline::Ellipse { length_mm, width_mm }),
        (length(), length(), 0_i64..=5).prop_map(|(length_mm, width_mm, corner)| Outline::Rectangle {
            length_mm,
            width_mm,
            corner_mm: Decimal::from(corner)
        }),
        (length(), above_zero(20, 2))
            .prop_map(|(width_mm, more)| Outline::Drop { height_mm: width_mm + more, width_mm }),
        length().prop_map(|side| Outline::Polygon {
            points_mm: vec![[Decimal::ZERO, Decimal::ZERO], [side, Decimal::ZERO], [Decimal::ZERO, side]]
        }),
        (10_i64..=60).prop_map(|side| Outline::Path {
            svg: format!("M0 0 h{side} v{side} a{side} {side} 0 0 1 -{side} -{side} Z")
        }),
    ]
}

fn blank() -> impl Strategy<Value = Blank> {
    let thickness =
        prop_oneof![(-3_i8..=40).prop_map(Thickness::Gauge), above_zero(3, 9).prop_map(Thickness::ThicknessMm)];
    let holes = vec((1_i64..=20).prop_map(|tenths| Decimal::new(tenths, 1)), 0..3);
    (select(Metal::ALL.to_vec()), thickness, outline(), up_to(6, 2), holes, option::of(up_to(800, 1)), 1_u32..4)
        .prop_map(|(metal, thickness, outline, dome_height_mm, holes_mm, solder_flow_c, count)| Blank {
            metal,
            thickness,
            outline,
            dome_height_mm,
            holes_mm,
            solder_flow_c,
            count,
        })
}

/// Materials of which the first two are enamels in grams.
fn materials() -> impl Strategy<Value = Vec<Material>> {
    let one = (
        name(),
        select(MaterialKind::ALL.to_vec()),
        select(Unit::ALL.to_vec()),
        up_to(40, 6),
        option::of(select(Fusing::ALL.to_vec())),
        any::<bool>(),
        option::of(select(Metal::ALL.to_vec())),
    );
    vec(one, 3..7).prop_map(|rows| {
        let material =
            |(index, row): (usize, (String, MaterialKind, Unit, Decimal, Option<Fusing>, bool, Option<Metal>))| {
                let (name, kind, unit, price, fusing, lead_bearing, metal) = row;
                let (kind, unit) = if index < 2 { (MaterialKind::Enamel, Unit::Gram) } else { (kind, unit) };
                Material {
                    id: MaterialId(format!("m{index}")),
                    name,
                    kind,
                    unit,
                    price,
                    fusing: fusing.filter(|_| kind == MaterialKind::Enamel),
                    lead_bearing,
                    metal,
                }
            };
        rows.into_iter().enumerate().map(material).collect()
    })
}

fn step_kind() -> impl Strategy<Value = StepKind> {
    let side = select(vec![Side::Front, Side::Back]);
    let coat = (side, 0_usize..2, share(), up_to(120, 3), up_to(2, 3), share()).prop_map(
        |(side, material, coverage, coat_mg_per_cm2, overspray, reclaimed)| {
            StepKind::Coat(Coat {
                side,
                material: MaterialId(format!("m{material}")),
                coverage,
                coat_mg_per_cm2,
                overspray,
                reclaimed,
            })
        },
    );
    let plain =
        vec![StepKind::Prepare, StepKind::Clean, StepKind::Dry, StepKind::Finish, StepKind::Assemble, StepKind::Pack];
    prop_oneof![3 => coat, 3 => fire(), 2 => Just(StepKind::Clean), 2 => select(plain)]
}

fn fire() -> impl Strategy<Value = StepKind> {
    (up_to(900, 1), up_to(6, 3), 1_u32..12, up_to(8, 2)).prop_map(
        |(celsius, minutes, pieces_per_load, attended_minutes_per_load)| {
            StepKind::Fire(Firing { celsius, minutes, pieces_per_load, attended_minutes_per_load })
        },
    )
}

fn step(kind: impl Strategy<Value = StepKind>) -> impl Strategy<Value = Step> {
    let uses = vec((2_usize..3, up_to(3, 4)), 0..3).prop_map(|uses| {
        uses.into_iter()
            .map(|(material, quantity)| Use { material: MaterialId(format!("m{material}")), quantity })
            .collect()
    });
    (kind, name(), up_to(20, 2), up_to(9, 3), share(), uses).prop_map(
        |(kind, name, setup_minutes, minutes_per_piece, good, uses)| Step {
            kind,
            name,
            setup_minutes,
            minutes_per_piece,
            good,
            uses,
        },
    )
}

fn channel() -> impl Strategy<Value = Channel> {
    let share = |most: i64| (0..=most).prop_map(|thousandths| Decimal::new(thousandths, 3));
    let target = prop_oneof![
        share(999).prop_map(Target::Margin),
        up_to(3, 3).prop_map(Target::Markup),
        up_to(60, 2).prop_map(Target::Hourly)
    ];
    let points = prop_oneof![
        Just(Vec::new()),
        above_zero(20, 2).prop_map(|step| vec![Band { up_to: None, step, less: Decimal::ZERO }]),
        (1_i64..90, 1_i64..30, 0_i64..100).prop_map(|(first, step, less)| {
            let step = Decimal::from(step);
            let less = Decimal::new(less, 2) % step;
            vec![
                Band { up_to: Some(Decimal::from(first)), step: Decimal::ONE, less: Decimal::ZERO },
                Band { up_to: Some(Decimal::from(first * 3)), step, less },
                Band { up_to: None, step: step * Decimal::TEN, less },
            ]
        }),
    ];
    (
        (name(), any::<bool>(), share(999), share(60), up_to(1, 2), share(250)),
        (any::<bool>(), up_to(12, 2), target, points),
    )
        .prop_map(
            |(
                (name, retail, commission, card_fee, card_fee_fixed, tax),
                (tax_in_price, selling_cost, target, price_points),
            )| {
                Channel {
                    id: ChannelId(String::new()),
                    name,
                    retail,
                    commission,
                    card_fee,
                    card_fee_fixed,
                    tax,
                    tax_in_price,
                    selling_cost,
                    target,
                    price_points,
                }
            },
        )
}

/// Any design within the ranges of a design file.
pub(crate) fn any_design() -> impl Strategy<Value = Design> {
    let head = ("[A-Z0-9-]{1,8}", name(), 1_u32..60, any::<bool>(), select(vec!["USD", "EUR", "JPY", "KWD"]));
    let rates =
        (up_to(60, 2), up_to(20, 6), up_to(1, 2)).prop_map(|(labour_per_hour, overhead_per_hour, scrap_value)| Rates {
            labour_per_hour,
            overhead_per_hour,
            scrap_value,
        });
    let kiln = (up_to(2, 3), up_to(1, 4), up_to(9, 1), up_to(2, 2), up_to(60, 1)).prop_map(
        |(kwh_per_load, price_per_kwh, recovery_minutes, wear_per_hour, solder_margin_c)| KilnRates {
            kwh_per_load,
            price_per_kwh,
            recovery_minutes,
            wear_per_hour,
            solder_margin_c,
        },
    );
    let route = (vec(step(step_kind()), 0..8), step(fire()), vec(step(step_kind()), 0..8));
    (head, rates, kiln, blank(), materials(), route, vec(channel(), 0..4)).prop_map(
        |(
            (code, name, pieces, for_children, currency),
            rates,
            kiln,
            blank,
            materials,
            (mut steps, firing, after),
            mut channels,
        )| {
            steps.push(firing);
            steps.extend(after);
            for (index, channel) in channels.iter_mut().enumerate() {
                channel.id = ChannelId(format!("c{index}"));
            }
            Design {
                currency: Currency::from_code(currency).unwrap(),
                code: DesignCode::new(&code).unwrap(),
                name,
                pieces,
                for_children,
                rates,
                kiln,
                blank,
                materials,
                steps,
                channels,
            }
        },
    )
}
