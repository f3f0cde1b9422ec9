//! Kilns and their days.

use super::heat_limits::{End, between, celsius, clock, day_words, firing_celsius, not_before, whole};
use super::limits::{self, refuse};
use super::perform::Done;
use super::{Added, Refusal};
use crate::book::{Change, Reader, kiln, load};
use crate::measure::Decimal;
use crate::studio::{ElectricKiln, FittedHeat, HeatSource, Kiln, KilnDay, KilnDayId, KilnId};
use chrono::Duration;

/// Fewest readings figures are fitted to.
const FEWEST_READINGS: u32 = 4;

/// Places of fitted figures.
const FITTED_PLACES: u32 = 12;

/// Longest a kiln day may be, hours.
const MOST_DAY_HOURS: i64 = 48;

/// Adds a kiln or torch, or changes the one of that row.
pub(super) fn save(change: &Change<'_>, id: Option<KilnId>, given: &Kiln) -> Result<Done, Refusal> {
    let reader = change.reader();
    let mut new = given.clone();
    new.name = limits::name("Name", &new.name)?;
    limits::text("Note", &new.note)?;
    if let HeatSource::Electric(electric) = &new.heat {
        accept_electric(electric)?;
    }
    if let Some(other) = kiln::with_name(reader, &new.name)?
        && Some(other) != id
    {
        return Err(Refusal::Taken { field: "Name".to_owned(), value: new.name });
    }
    let what = noun(&new);
    let name = new.name.clone();
    let Some(id) = id else {
        let row = kiln::insert(change, &new)?;
        return Ok(Done::adding(format!("Add {what} {name}"), Added::Kiln(row)));
    };
    let before = find(reader, id)?;
    if std::mem::discriminant(&before.heat) != std::mem::discriminant(&new.heat) && was_used(reader, id)? {
        return Err(refuse(
            "What heats",
            what,
            format!("{} is accepted: days or loads of it are written down", noun(&before)),
        ));
    }
    if new.retired && !before.retired && load::firing(reader)?.iter().any(|firing| firing.load.kiln == id) {
        return Err(Refusal::No(format!("{name} has a load in it; open its door before it is set aside")));
    }
    kiln::update(change, id, &new)?;
    let same_else = Kiln { retired: before.retired, ..new.clone() } == before;
    Ok(Done::named(match (before.retired, new.retired) {
        (false, true) if same_else => format!("Set {what} {name} aside"),
        (true, false) if same_else => format!("Take {what} {name} up again"),
        _ => format!("Change {what} {name}"),
    }))
}

const fn noun(kiln: &Kiln) -> &'static str {
    match kiln.heat {
        HeatSource::Electric(_) => "kiln",
        HeatSource::Torch => "torch",
    }
}

/// The kiln of that row.
pub(super) fn find(reader: Reader<'_>, id: KilnId) -> Result<Kiln, Refusal> {
    kiln::find(reader, id)?.ok_or_else(|| Refusal::Missing(format!("kiln with row {}", id.0)))
}

fn was_used(reader: Reader<'_>, id: KilnId) -> Result<bool, Refusal> {
    Ok(load::any_of_kiln(reader, id)? || kiln::any_day(reader, id)?)
}

fn accept_electric(kiln: &ElectricKiln) -> Result<(), Refusal> {
    let zero = Decimal::ZERO;
    between("Rated power", kiln.rated_kw, "kW", End::Without(zero), End::With(whole(100)))?;
    between("Room", kiln.room_celsius, "°C", End::With(whole(-20)), End::With(whole(60)))?;
    firing_celsius("Working temperature", kiln.working_celsius)?;
    between("Minutes to heat up", kiln.warm_up_minutes, "min", End::Without(zero), End::With(whole(1_440)))?;
    between("Share of time on", kiln.duty, "", End::Without(zero), End::Without(Decimal::ONE))?;
    firing_celsius("Rated maximum", kiln.rated_max_celsius)?;
    if kiln.rated_max_celsius < kiln.working_celsius {
        return Err(refuse(
            "Rated maximum",
            format!("{} °C", kiln.rated_max_celsius.normalize()),
            format!("the working temperature, {} °C, or more is accepted", kiln.working_celsius.normalize()),
        ));
    }
    between("Shelf", kiln.shelf_cm2, "cm²", End::Without(zero), End::With(whole(100_000)))?;
    between("Shelf and trivets", kiln.furniture_g, "g", End::With(zero), End::With(whole(100_000)))?;
    between("Heat through the door", kiln.door_kwh, "kWh", End::With(zero), End::With(whole(10)))?;
    limits::date("Elements renewed", kiln.elements_since)?;
    limits::date("Thermocouple renewed", kiln.thermocouple_since)?;
    kiln.fitted.as_ref().map_or(Ok(()), accept_fitted)
}

fn accept_fitted(fitted: &FittedHeat) -> Result<(), Refusal> {
    let figure = |field: &str, value: Decimal, least: bool, unit: &str| {
        let above = if least { value > Decimal::ZERO } else { value >= Decimal::ZERO };
        if above && value <= whole(1_000) && value.normalize().scale() <= FITTED_PLACES {
            return Ok(());
        }
        let low = if least { "above 0" } else { "0" };
        let accepted = format!("a number {low} to 1000 {unit} is accepted, with at most twelve decimals");
        Err(refuse(field, format!("{value} {unit}"), accepted))
    };
    figure("Thermal capacity", fitted.capacity_kwh_per_k, true, "kWh/K")?;
    figure("Loss", fitted.loss_kw_per_k, true, "kW/K")?;
    figure("Heat through the door", fitted.door_kwh, false, "kWh")?;
    if fitted.readings < FEWEST_READINGS {
        return Err(refuse("Meter readings", fitted.readings, "four readings or more are accepted"));
    }
    limits::date("Accepted on", fitted.accepted)
}

/// Uses fitted figures for a kiln, or those of its three measurements again.
pub(super) fn accept_fit(change: &Change<'_>, id: KilnId, fitted: Option<FittedHeat>) -> Result<Done, Refusal> {
    let before = find(change.reader(), id)?;
    let name = before.name.clone();
    let HeatSource::Electric(mut electric) = before.heat.clone() else {
        return Err(refuse("Kiln", name, "an electric kiln is accepted: a torch has no figures"));
    };
    let done = match &fitted {
        Some(fitted) => {
            accept_fitted(fitted)?;
            format!("Use the figures of {} meter readings for kiln {name}", fitted.readings)
        }
        None if electric.fitted.is_none() => {
            return Err(Refusal::No(format!("kiln {name} uses its three measurements already")));
        }
        None => format!("Use the three measurements of kiln {name} again"),
    };
    electric.fitted = fitted;
    kiln::update(change, id, &Kiln { heat: HeatSource::Electric(electric), ..before })?;
    Ok(Done::named(done))
}

/// Writes a day of a kiln down, or changes it.
pub(super) fn save_day(change: &Change<'_>, id: Option<KilnDayId>, day: &KilnDay) -> Result<Done, Refusal> {
    let reader = change.reader();
    let held = find(reader, day.kiln)?;
    let HeatSource::Electric(electric) = &held.heat else {
        return Err(refuse("Kiln", held.name, "an electric kiln is accepted: a torch has no days"));
    };
    limits::date("Day", day.date)?;
    if day.on_at.date() != day.date {
        return Err(refuse("Switched on", clock(day.on_at), format!("a time on {} is accepted", day.date)));
    }
    let latest = day.on_at + Duration::hours(MOST_DAY_HOURS);
    for (field, time, after, what) in [
        ("At heat", day.hot_at, Some(day.on_at), "it was switched on then"),
        ("Switched off", day.off_at, day.hot_at.or(Some(day.on_at)), "it was at heat then"),
    ] {
        let (Some(time), Some(after)) = (time, after) else { continue };
        not_before(field, time, after, what)?;
        if time > latest {
            let accepted =
                format!("{} or earlier is accepted: a kiln day is up to {MOST_DAY_HOURS} hours", clock(latest));
            return Err(refuse(field, clock(time), accepted));
        }
    }
    celsius("Holds", day.hold_celsius)?;
    if day.hold_celsius > electric.rated_max_celsius {
        return Err(refuse(
            "Holds",
            format!("{} °C", day.hold_celsius.normalize()),
            format!("up to {} °C, its rated maximum, is accepted", electric.rated_max_celsius.normalize()),
        ));
    }
    if let Some(kwh) = day.meter_kwh {
        between("Meter", kwh, "kWh", End::With(Decimal::ZERO), End::With(whole(10_000)))?;
    }
    limits::text("Note", &day.note)?;
    let there = kiln::day_of(reader, day.kiln, day.date)?;
    let row = id.or(there.as_ref().map(|there| there.id));
    if let (Some(id), Some(there)) = (id, &there)
        && there.id != id
    {
        return Err(Refusal::Taken { field: "Day".to_owned(), value: day.date.to_string() });
    }
    accept_beside(reader, row, day)?;
    let name = format!("Kiln day of {}", day_words(day.date));
    match row {
        Some(row) => {
            kiln::find_day(reader, row)?.ok_or_else(|| Refusal::Missing(format!("kiln day with row {}", row.0)))?;
            kiln::update_day(change, row, day)?;
        }
        None => {
            kiln::insert_day(change, day)?;
        }
    }
    Ok(Done::named(name))
}

/// Refuses a day that runs into the one before or after it.
fn accept_beside(reader: Reader<'_>, row: Option<KilnDayId>, day: &KilnDay) -> Result<(), Refusal> {
    let far = Duration::days(3);
    for other in kiln::days(reader, day.kiln, day.date - far, day.date + far)? {
        if Some(other.id) == row {
            continue;
        }
        let other = other.day;
        if other.date < day.date {
            if let Some(off) = other.off_at {
                not_before("Switched on", day.on_at, off, "the day before it lasts until then")?;
            }
        } else if let Some(off) = day.off_at.filter(|off| *off > other.on_at) {
            let accepted = format!("{} or earlier is accepted: the next day begins then", clock(other.on_at));
            return Err(refuse("Switched off", clock(off), accepted));
        }
    }
    Ok(())
}
