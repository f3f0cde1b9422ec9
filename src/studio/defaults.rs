//! What a new book starts with. The figures are starting points to be replaced by the studio's own, not advice:
//! common orders of size, no source.

use super::rates::{usual_heat_tolerance, usual_minutes_tolerance};
use super::{
    Band, Channel, ChannelId, LabelShape, LabelSheet, Language, LengthUnit, MassUnit, OverheadItem, Settings,
    StudioRates, Target, TemperatureUnit, ThicknessUnit, ValuationMethod,
};
use crate::measure::{Currency, Decimal, Money};

/// Metric, US dollars, first in first out, prices on the latest purchase.
pub fn settings() -> Settings {
    Settings {
        studio_name: String::new(),
        studio_place: String::new(),
        care_words: String::new(),
        maker_story: String::new(),
        paper_language: Language::English,
        currency: Currency::USD,
        decimal_comma: false,
        temperature: TemperatureUnit::Celsius,
        length: LengthUnit::Millimetre,
        mass: MassUnit::Gram,
        thickness: ThicknessUnit::Gauge,
        valuation: ValuationMethod::Fifo,
        price_on_book_cost: false,
        fair_name: String::new(),
        fair_date: None,
        closed_until: None,
    }
}

/// A year of a small bench at home, and three ways to sell.
pub fn studio_rates() -> StudioRates {
    let overhead = [
        ("Rent or share of the house", 2400),
        ("Insurance", 320),
        ("Light, water, telephone", 540),
        ("Tools and repairs", 480),
        ("Licences and bookkeeping", 260),
    ];
    StudioRates {
        overhead: overhead
            .into_iter()
            .map(|(name, per_year)| OverheadItem { name: name.to_owned(), per_year: money(per_year, 0) })
            .collect(),
        normal_hours_per_year: Decimal::new(1000, 0),
        labour_per_hour: money(22, 0),
        elements_cost: money(180, 0),
        elements_hours: Decimal::new(1200, 0),
        thermocouple_cost: money(35, 0),
        thermocouple_hours: Decimal::new(1000, 0),
        price_per_kwh: money(18, 2),
        kwh_per_load: Decimal::new(4, 1),
        recovery_minutes: Decimal::new(4, 0),
        // Costing method, section 9: what 1350 °F under a hard solder that flows at 1420 °F leaves, rounded down.
        solder_margin_c: Decimal::new(38, 0),
        channels: channels(),
        tariff: Vec::new(),
        heat_tolerance_c: usual_heat_tolerance(),
        minutes_tolerance: usual_minutes_tolerance(),
    }
}

/// A fair, a gallery on consignment, wholesale.
fn channels() -> Vec<Channel> {
    let retail_points = vec![band(Some(50), 1, 0), band(Some(200), 5, 0), band(None, 10, 0)];
    vec![
        Channel {
            id: ChannelId("fair".to_owned()),
            name: "Craft fair".to_owned(),
            retail: true,
            commission: Decimal::ZERO,
            card_fee: Decimal::new(26, 3),
            card_fee_fixed: Decimal::new(10, 2),
            tax: Decimal::ZERO,
            tax_in_price: false,
            selling_cost: Decimal::new(3, 0),
            target: Target::Margin(Decimal::new(35, 2)),
            price_points: retail_points.clone(),
        },
        Channel {
            id: ChannelId("gallery".to_owned()),
            name: "Gallery".to_owned(),
            retail: true,
            commission: Decimal::new(40, 2),
            card_fee: Decimal::ZERO,
            card_fee_fixed: Decimal::ZERO,
            tax: Decimal::ZERO,
            tax_in_price: false,
            selling_cost: Decimal::new(15, 1),
            target: Target::Margin(Decimal::new(15, 2)),
            price_points: retail_points,
        },
        Channel {
            id: ChannelId("wholesale".to_owned()),
            name: "Wholesale".to_owned(),
            retail: false,
            commission: Decimal::ZERO,
            card_fee: Decimal::ZERO,
            card_fee_fixed: Decimal::ZERO,
            tax: Decimal::ZERO,
            tax_in_price: false,
            selling_cost: Decimal::new(1, 0),
            target: Target::Markup(Decimal::new(25, 2)),
            price_points: vec![Band { up_to: None, step: Decimal::new(5, 1), less: Decimal::ZERO }],
        },
    ]
}

fn band(up_to: Option<i64>, step: i64, less: i64) -> Band {
    Band { up_to: up_to.map(|up_to| Decimal::new(up_to, 0)), step: Decimal::new(step, 0), less: Decimal::new(less, 0) }
}

fn money(amount: i64, places: u32) -> Money {
    Money::rounded(Decimal::new(amount, places))
}

/// Tags to cut from plain card, centred on A4 (ISO 216: 210 × 297 mm) and on letter paper (8½ × 11 in: 215.9 ×
/// 279.4 mm): strung tags of 60 × 24 mm, 2 mm apart, and fold-over tags of twice 40 × 22 mm.
pub fn label_sheets() -> Vec<LabelSheet> {
    vec![
        sheet("A4 strung tags 60 × 24", [2100, 2970], [130, 195], [600, 240], [620, 260], [3, 10], Fold::Flat),
        sheet("A4 fold-over tags 40 × 22", [2100, 2970], [230, 175], [800, 220], [840, 240], [2, 11], Fold::Middle),
        // Hundredths of a millimetre are needed for the margins only.
        LabelSheet {
            left_mm: Decimal::new(1595, 2),
            ..sheet("Letter strung tags 60 × 24", [2159, 2794], [0, 237], [600, 240], [620, 260], [3, 9], Fold::Flat)
        },
        LabelSheet {
            left_mm: Decimal::new(2595, 2),
            ..sheet(
                "Letter fold-over tags 40 × 22",
                [2159, 2794],
                [0, 207],
                [800, 220],
                [840, 240],
                [2, 10],
                Fold::Middle,
            )
        },
    ]
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Fold {
    Flat,
    Middle,
}

/// A sheet from tenths of a millimetre, each pair across then down.
fn sheet(
    name: &str,
    page: [i64; 2],
    start: [i64; 2],
    label: [i64; 2],
    pitch: [i64; 2],
    count: [u32; 2],
    fold: Fold,
) -> LabelSheet {
    let tenths = |value: i64| Decimal::new(value, 1).normalize();
    let [page_width, page_height] = page;
    let [left, top] = start;
    let [label_width, label_height] = label;
    let [pitch_x, pitch_y] = pitch;
    let [columns, rows] = count;
    LabelSheet {
        name: name.to_owned(),
        page_width_mm: tenths(page_width),
        page_height_mm: tenths(page_height),
        left_mm: tenths(left),
        top_mm: tenths(top),
        label_width_mm: tenths(label_width),
        label_height_mm: tenths(label_height),
        pitch_x_mm: tenths(pitch_x),
        pitch_y_mm: tenths(pitch_y),
        columns,
        rows,
        folded: fold == Fold::Middle,
        hole: true,
        cut_lines: true,
        shape: LabelShape::default(),
        crop_marks: false,
    }
}
