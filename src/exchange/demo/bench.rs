//! The bench of the demo studio: its kiln, batches on their way, loads and test tiles.

use super::table::{Row, Tables, decimal};
use super::{DemoProblem, days_before};
use crate::measure::Decimal;
use crate::studio::{DesignCode, ElectricKiln, HeatSource, Kiln, LossCause, Metal, ShareLoadBy, Verdict};
use chrono::{NaiveDate, NaiveDateTime, NaiveTime};

/// What happens at the demo studio's bench.
#[derive(Debug, Clone, PartialEq)]
pub struct DemoBench {
    /// Its one kiln.
    pub kiln: Kiln,
    /// Days it was hot, oldest first.
    pub days: Vec<DemoKilnDay>,
    /// Batches in the order they were begun; names are unique.
    pub batches: Vec<DemoBatch>,
    /// What was done, oldest first.
    pub deeds: Vec<DemoDeed>,
    /// Test tiles, oldest first.
    pub tiles: Vec<DemoTile>,
}

/// A day of the kiln.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DemoKilnDay {
    /// Switched on.
    pub on_at: NaiveDateTime,
    /// At heat.
    pub hot_at: NaiveDateTime,
    /// Switched off.
    pub off_at: NaiveDateTime,
    /// What it held, °C.
    pub hold_celsius: Decimal,
    /// The meter, kWh.
    pub meter_kwh: Decimal,
}

/// A batch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DemoBatch {
    /// What the table calls it.
    pub key: String,
    /// The design's code.
    pub design: DesignCode,
    /// Pieces begun.
    pub pieces: u32,
    /// The day.
    pub date: NaiveDate,
    /// What it is called; empty for the design's name.
    pub name: String,
    /// Anything else.
    pub note: String,
}

/// Something done to a batch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DemoDeed {
    /// The batch, as the table calls it.
    pub batch: String,
    /// The day.
    pub date: NaiveDate,
    /// What.
    pub what: DemoWork,
    /// Pieces by their place in the batch, from 1; none for all that wait.
    pub pieces: Option<Vec<u32>>,
    /// Anything else.
    pub note: String,
}

/// What was done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DemoWork {
    /// A step, from 1, in so many minutes.
    Done(usize, Decimal),
    /// A firing.
    Fire {
        /// The step, from 1.
        step: usize,
        /// The door closed.
        closed_at: NaiveDateTime,
        /// Temperature set, °C.
        celsius: Decimal,
        /// Minutes in the heat.
        minutes: Decimal,
        /// Temperature read, °C.
        read: Decimal,
    },
    /// Pieces lost.
    Lost(LossCause),
    /// Pieces finished, with the places of the seconds.
    Finish(Vec<u32>),
}

/// A test tile that names its enamels by reference.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DemoTile {
    /// The day.
    pub date: NaiveDate,
    /// The metal.
    pub metal: Metal,
    /// References of its enamels, from the metal up.
    pub layers: Vec<String>,
    /// °C.
    pub celsius: Decimal,
    /// Minutes a firing.
    pub minutes: Decimal,
    /// Firings.
    pub firings: u32,
    /// What is thought of it.
    pub verdict: Verdict,
    /// The colour in words.
    pub words: String,
    /// The colour.
    pub colour: [u8; 3],
    /// Anything else.
    pub note: String,
}

/// Reads the bench.
pub(super) fn read(today: NaiveDate) -> Result<DemoBench, DemoProblem> {
    let tables = Tables::read("bench.txt", include_str!("../../../assets/demo/bench.txt"))?;
    let row = tables.named("kiln", "Loft kiln")?;
    Ok(DemoBench {
        kiln: kiln(today, row)?,
        days: tables.rows("kiln day")?.iter().map(|row| kiln_day(today, row)).collect::<Result<_, _>>()?,
        batches: tables.rows("batch")?.iter().map(|row| batch(today, row)).collect::<Result<_, _>>()?,
        deeds: tables.rows("bench")?.iter().map(|row| deed(today, row)).collect::<Result<_, _>>()?,
        tiles: tables.rows("tile")?.iter().map(|row| tile(today, row)).collect::<Result<_, _>>()?,
    })
}

fn days_back(today: NaiveDate, row: &Row, column: &str) -> Result<NaiveDate, DemoProblem> {
    row.parsed(column, "a number of days", |text| {
        today.checked_sub_days(chrono::Days::new(u64::from(text.parse::<u32>().ok()?)))
    })
}

fn kiln(today: NaiveDate, row: &Row) -> Result<Kiln, DemoProblem> {
    let electric = ElectricKiln {
        rated_kw: row.number("kW")?,
        warm_up_minutes: row.number("warm-up")?,
        working_celsius: row.number("works at C")?,
        duty: row.number("duty")?,
        room_celsius: row.number("room C")?,
        rated_max_celsius: row.number("most C")?,
        shelf_cm2: row.number("shelf cm2")?,
        furniture_g: row.number("furniture g")?,
        door_kwh: row.number("door kWh")?,
        share_by: ShareLoadBy::Area,
        fitted: None,
        elements_since: days_back(today, row, "elements since")?,
        thermocouple_since: days_back(today, row, "thermocouple since")?,
    };
    Ok(Kiln {
        name: row.text("name")?.to_owned(),
        heat: HeatSource::Electric(Box::new(electric)),
        note: row.text("note")?.to_owned(),
        retired: false,
    })
}

fn time(text: &str) -> Option<NaiveTime> {
    NaiveTime::parse_from_str(text, "%H:%M").ok()
}

fn kiln_day(today: NaiveDate, row: &Row) -> Result<DemoKilnDay, DemoProblem> {
    let date = days_before(today, row)?;
    let at = |column| row.parsed(column, "a time of day", time).map(|time| date.and_time(time));
    Ok(DemoKilnDay {
        on_at: at("on")?,
        hot_at: at("hot")?,
        off_at: at("off")?,
        hold_celsius: row.number("holds C")?,
        meter_kwh: row.number("meter kWh")?,
    })
}

fn batch(today: NaiveDate, row: &Row) -> Result<DemoBatch, DemoProblem> {
    Ok(DemoBatch {
        key: row.text("batch")?.to_owned(),
        design: row.parsed("design", "a design's code", |text| DesignCode::new(text).ok())?,
        pieces: row.whole("pieces")?,
        date: days_before(today, row)?,
        name: row.text("name")?.to_owned(),
        note: row.text("note")?.to_owned(),
    })
}

/// A place, or from one place to another.
fn places(text: &str) -> Option<Vec<u32>> {
    let (first, last) = text.split_once('-').unwrap_or((text, text));
    Some((first.parse().ok()?..=last.parse().ok()?).collect())
}

fn deed(today: NaiveDate, row: &Row) -> Result<DemoDeed, DemoProblem> {
    let date = days_before(today, row)?;
    let step = || row.parsed("step", "a step, from 1", |text| text.parse().ok().filter(|step| *step > 0_usize));
    let what = match row.text("do")? {
        "done" => DemoWork::Done(step()?, row.number("value")?),
        "fire" => fire(row, date, step()?)?,
        "lost" => DemoWork::Lost(row.parsed("value", "a cause of loss", LossCause::from_name)?),
        "finish" => DemoWork::Finish(row.parsed("value", "empty or second and places", |text| {
            let rest = text.strip_prefix("second").unwrap_or(text);
            rest.split_whitespace().map(|place| place.parse().ok()).collect()
        })?),
        other => return Err(row.problem(format!("{other:?} is nothing that is done"))),
    };
    Ok(DemoDeed {
        batch: row.text("batch")?.to_owned(),
        date,
        what,
        pieces: match row.text("pieces")? {
            "all" => None,
            _ => Some(row.parsed("pieces", "all, a place or two places", places)?),
        },
        note: row.text("note")?.to_owned(),
    })
}

fn fire(row: &Row, date: NaiveDate, step: usize) -> Result<DemoWork, DemoProblem> {
    row.parsed("value", "a time, °C, minutes and °C read", |text| {
        let mut parts = text.split_whitespace();
        let work = DemoWork::Fire {
            step,
            closed_at: date.and_time(time(parts.next()?)?),
            celsius: decimal(parts.next()?)?,
            minutes: decimal(parts.next()?)?,
            read: decimal(parts.next()?)?,
        };
        parts.next().is_none().then_some(work)
    })
}

fn tile(today: NaiveDate, row: &Row) -> Result<DemoTile, DemoProblem> {
    Ok(DemoTile {
        date: days_before(today, row)?,
        metal: row.parsed("metal", "a metal", |text| Metal::ALL.into_iter().find(|metal| metal.name() == text))?,
        layers: row.text("layers")?.split_whitespace().map(str::to_owned).collect(),
        celsius: row.number("C")?,
        minutes: row.number("minutes")?,
        firings: row.whole("firings")?,
        verdict: row
            .parsed("verdict", "a verdict", |text| Verdict::ALL.into_iter().find(|verdict| verdict.words() == text))?,
        words: row.text("words")?.to_owned(),
        colour: row.parsed("colour", "a colour such as #2A4F86", |text| {
            let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6)?;
            let part = |from: usize| u8::from_str_radix(digits.get(from..from + 2)?, 16).ok();
            Some([part(0)?, part(2)?, part(4)?])
        })?,
        note: row.text("note")?.to_owned(),
    })
}
