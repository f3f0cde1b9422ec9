//! The demo studio's setup, rates, channels, label sheets, and what each design takes from them.

use super::DemoProblem;
use super::table::{Row, Tables, decimal};
use crate::measure::{Currency, Decimal};
use crate::studio::rates::{usual_heat_tolerance, usual_minutes_tolerance};
use crate::studio::{
    Band, Channel, ChannelId, LabelShape, LabelSheet, Language, LengthUnit, MassUnit, OverheadItem, Settings,
    StudioRates, Target, TemperatureUnit, ThicknessUnit, ValuationMethod,
};
use chrono::{Datelike, Days, NaiveDate, Weekday};

/// What the file holds.
pub(super) struct Setup {
    pub(super) settings: Settings,
    pub(super) rates: StudioRates,
    pub(super) sheets: Vec<LabelSheet>,
    /// One row a design.
    pub(super) designs: Vec<Row>,
}

/// Reads the file.
pub(super) fn read(today: NaiveDate) -> Result<Setup, DemoProblem> {
    let tables = Tables::read("studio.txt", include_str!("../../../assets/demo/studio.txt"))?;
    Ok(Setup {
        settings: settings(&tables, today)?,
        rates: rates(&tables)?,
        sheets: tables.rows("sheet")?.iter().map(sheet).collect::<Result<_, _>>()?,
        designs: tables.rows("design")?.to_vec(),
    })
}

fn settings(tables: &Tables, today: NaiveDate) -> Result<Settings, DemoProblem> {
    let text = |name| tables.named("setting", name).and_then(|row| row.text("value")).map(str::to_owned);
    let currency =
        tables.named("setting", "currency")?.parsed("value", "a currency", |code| Currency::from_code(code).ok())?;
    let ahead = tables.named("setting", "fair ahead")?;
    let days = ahead.whole("value")?;
    let fair_date = saturday_after(today, u64::from(days))
        .ok_or_else(|| ahead.problem(format!("no Saturday {days} days after {today}")))?;
    Ok(Settings {
        studio_name: text("studio")?,
        studio_place: text("place")?,
        care_words: text("care words")?,
        maker_story: String::new(),
        paper_language: Language::English,
        currency,
        decimal_comma: false,
        temperature: TemperatureUnit::Celsius,
        length: LengthUnit::Millimetre,
        mass: MassUnit::Gram,
        thickness: ThicknessUnit::Gauge,
        valuation: ValuationMethod::Fifo,
        price_on_book_cost: false,
        fair_name: text("fair")?,
        fair_date: Some(fair_date),
        closed_until: None,
    })
}

/// The first Saturday that is at least `days` after `today`: fairs are on Saturdays.
fn saturday_after(today: NaiveDate, days: u64) -> Option<NaiveDate> {
    let earliest = today.checked_add_days(Days::new(days))?;
    let wait = Weekday::Sat.days_since(earliest.weekday());
    earliest.checked_add_days(Days::new(u64::from(wait)))
}

fn rates(tables: &Tables) -> Result<StudioRates, DemoProblem> {
    let number = |name| tables.named("rate", name).and_then(|row| row.number("value"));
    let money = |name| tables.named("rate", name).and_then(|row| row.money("value"));
    let overhead = tables
        .rows("overhead")?
        .iter()
        .map(|row| Ok(OverheadItem { name: row.text("name")?.to_owned(), per_year: row.money("per year")? }));
    Ok(StudioRates {
        overhead: overhead.collect::<Result<_, DemoProblem>>()?,
        normal_hours_per_year: number("normal hours a year")?,
        labour_per_hour: money("labour an hour")?,
        elements_cost: money("elements cost")?,
        elements_hours: number("elements hours")?,
        thermocouple_cost: money("thermocouple cost")?,
        thermocouple_hours: number("thermocouple hours")?,
        price_per_kwh: money("price of a kWh")?,
        kwh_per_load: number("kWh a load")?,
        recovery_minutes: number("recovery minutes")?,
        solder_margin_c: number("solder margin C")?,
        channels: tables.rows("channel")?.iter().map(channel).collect::<Result<_, _>>()?,
        tariff: Vec::new(),
        heat_tolerance_c: usual_heat_tolerance(),
        minutes_tolerance: usual_minutes_tolerance(),
    })
}

fn channel(row: &Row) -> Result<Channel, DemoProblem> {
    Ok(Channel {
        id: ChannelId(row.text("id")?.to_owned()),
        name: row.text("name")?.to_owned(),
        retail: row.yes("retail")?,
        commission: row.number("commission")?,
        card_fee: row.number("card fee")?,
        card_fee_fixed: row.number("fixed fee")?,
        tax: row.number("tax")?,
        tax_in_price: row.yes("tax in price")?,
        selling_cost: row.number("selling cost")?,
        target: row.parsed("target", "a target such as `margin 0.25`", target)?,
        price_points: row.parsed("price points", "bands such as `to 40 by 1, by 10 less 1`", bands)?,
    })
}

/// `margin 0.25`, `markup 0.18` or `hourly 34`.
fn target(text: &str) -> Option<Target> {
    let (name, figure) = text.split_once(' ')?;
    let figure = decimal(figure)?;
    match name {
        "margin" => Some(Target::Margin(figure)),
        "markup" => Some(Target::Markup(figure)),
        "hourly" => Some(Target::Hourly(figure)),
        _ => None,
    }
}

/// Bands parted by commas, each `to 120 by 5 less 1` with `to` and `less` left out where there is none.
fn bands(text: &str) -> Option<Vec<Band>> {
    text.split(',').filter(|band| !band.trim().is_empty()).map(band).collect()
}

fn band(text: &str) -> Option<Band> {
    let mut up_to = None;
    let mut step = None;
    let mut less = Decimal::ZERO;
    let mut words = text.split_whitespace();
    while let Some(word) = words.next() {
        let figure = decimal(words.next()?)?;
        match word {
            "to" => up_to = Some(figure),
            "by" => step = Some(figure),
            "less" => less = figure,
            _ => return None,
        }
    }
    step.map(|step| Band { up_to, step, less })
}

fn sheet(row: &Row) -> Result<LabelSheet, DemoProblem> {
    let [page_width_mm, page_height_mm] = row.pair("page")?;
    let [left_mm, top_mm] = row.pair("first")?;
    let [label_width_mm, label_height_mm] = row.pair("label")?;
    let [pitch_x_mm, pitch_y_mm] = row.pair("pitch")?;
    let [columns, rows] = row.parsed("grid", "columns and rows", |text| {
        let counts: Option<Vec<u32>> = text.split_whitespace().map(|count| count.parse().ok()).collect();
        counts?.try_into().ok()
    })?;
    Ok(LabelSheet {
        name: row.text("name")?.to_owned(),
        page_width_mm,
        page_height_mm,
        left_mm,
        top_mm,
        label_width_mm,
        label_height_mm,
        pitch_x_mm,
        pitch_y_mm,
        columns,
        rows,
        folded: row.yes("folded")?,
        hole: row.yes("hole")?,
        cut_lines: row.yes("cut lines")?,
        shape: row.parsed("shape", "empty, `rounded 2`, `round` or `barbell 22 4`", shape)?,
        crop_marks: row.yes("crop marks")?,
    })
}

/// Nothing for square corners, `rounded` with their radius, `round`, or `barbell` with length and height of its neck.
fn shape(text: &str) -> Option<LabelShape> {
    let words: Vec<&str> = text.split_whitespace().collect();
    match words[..] {
        [] => Some(LabelShape::Rectangle),
        ["rounded", radius] => Some(LabelShape::Rounded(decimal(radius)?)),
        ["round"] => Some(LabelShape::Round),
        ["barbell", length, height] => {
            Some(LabelShape::Barbell { neck_length_mm: decimal(length)?, neck_height_mm: decimal(height)? })
        }
        _ => None,
    }
}
