//! Settings, the studio's rates and channels, label sheets.

use super::limits::{self, Range, refuse};
use super::perform::Done;
use super::{Added, Refusal, period};
use crate::book::{Change, Reader, design, document, movement, price_list, sheet};
use crate::costing::validate::{Problem, validate_channel};
use crate::kiln::tariff;
use crate::measure::{Decimal, exact};
use crate::studio::{LabelSheet, Settings, SheetId, StudioRates};
use chrono::NaiveDate;
use std::collections::BTreeSet;

/// Most lines of overhead, and most channels.
const MOST_LINES: usize = 200;

/// Changes the studio's rates and channels.
pub(super) fn save_rates(change: &Change<'_>, given: &StudioRates, today: NaiveDate) -> Result<Done, Refusal> {
    let rates = accepted_rates(given)?;
    document::keep_rates_before(change, today)?;
    document::set_rates(change, &rates)?;
    Ok(Done::named("Change the studio's rates".to_owned()))
}

/// Gives a book its first rates.
pub(super) fn first_rates(change: &Change<'_>, given: &StudioRates) -> Result<(), Refusal> {
    Ok(document::set_rates(change, &accepted_rates(given)?)?)
}

/// The rates with their texts trimmed, where every one can be accepted.
fn accepted_rates(given: &StudioRates) -> Result<StudioRates, Refusal> {
    let mut rates = given.clone();
    if rates.overhead.len() > MOST_LINES || rates.channels.len() > MOST_LINES {
        return Err(refuse("Rates", "a very long list", "up to 200 lines of overhead and 200 channels are accepted"));
    }
    for line in &mut rates.overhead {
        line.name = limits::name("Overhead", &line.name)?;
        limits::sum(&line.name, line.per_year, Range::ZeroOrMore)?;
    }
    limits::number("Normal bench hours of a year", rates.normal_hours_per_year, Range::AboveZero)?;
    limits::sum("Wage", rates.labour_per_hour, Range::ZeroOrMore)?;
    limits::sum("Set of elements", rates.elements_cost, Range::ZeroOrMore)?;
    limits::number("Hot hours of a set of elements", rates.elements_hours, Range::AboveZero)?;
    limits::sum("Thermocouple", rates.thermocouple_cost, Range::ZeroOrMore)?;
    limits::number("Hot hours of a thermocouple", rates.thermocouple_hours, Range::AboveZero)?;
    limits::sum("Price of a kWh", rates.price_per_kwh, Range::ZeroOrMore)?;
    limits::number("kWh a load", rates.kwh_per_load, Range::ZeroOrMore)?;
    limits::number("Recovery minutes", rates.recovery_minutes, Range::ZeroOrMore)?;
    limits::number("Solder margin", rates.solder_margin_c, Range::ZeroOrMore)?;
    limits::number("Heat tolerance", rates.heat_tolerance_c, Range::ZeroOrMore)?;
    limits::number("Minutes tolerance", rates.minutes_tolerance, Range::ZeroOrMore)?;
    if let Some(problem) = tariff::problems(&rates.tariff).first() {
        return Err(Refusal::No(format!("Tariff: {problem}")));
    }
    let mut ids = BTreeSet::new();
    for channel in &rates.channels {
        limits::name("Channel id", &channel.id.0)?;
        limits::name("Channel", &channel.name)?;
        if !ids.insert(&channel.id) {
            return Err(Refusal::Taken { field: "Channel id".to_owned(), value: channel.id.to_string() });
        }
        let problems: Vec<Problem> = validate_channel(channel)
            .into_iter()
            .map(|problem| Problem { place: format!("{}, {}", channel.name, problem.place), ..problem })
            .collect();
        if !problems.is_empty() {
            return Err(Refusal::Problems(problems));
        }
    }
    Ok(rates)
}

/// Changes the book's settings. Which period is closed stays as it is, whatever they say of it: see [`period::close`].
pub(super) fn save_settings(change: &Change<'_>, given: &Settings) -> Result<Done, Refusal> {
    let before = document::settings(change.reader())?;
    let mut settings = given.clone();
    settings.studio_name = limits::optional_name("Studio name", &settings.studio_name)?;
    settings.studio_place = limits::optional_name("Town or address", &settings.studio_place)?;
    limits::text("Care words", &settings.care_words)?;
    settings.fair_name = limits::optional_name("Fair", &settings.fair_name)?;
    if let Some(date) = settings.fair_date {
        limits::date("Day of the fair", date)?;
    }
    if settings.currency != before.currency && holds_amounts(change.reader())? {
        return Err(refuse(
            "Currency",
            settings.currency,
            format!("{} is accepted: the book holds amounts in it. A new book can have another", before.currency),
        ));
    }
    // A period is closed and opened by an action of its own.
    settings.closed_until = before.closed_until;
    period::accept_method(settings.valuation, &before)?;
    document::set_settings(change, &settings)?;
    if settings.valuation != before.valuation {
        change.touch_all_items()?;
    }
    Ok(Done::named("Change the settings".to_owned()))
}

/// The book holds amounts of money besides the studio's rates.
pub(super) fn holds_amounts(reader: Reader<'_>) -> Result<bool, Refusal> {
    Ok(movement::any(reader)? || design::any(reader)? || price_list::any(reader)?)
}

/// After undo or redo of an action that wrote the settings: the method may have changed with them.
pub(super) fn value_again_after(change: &Change<'_>, action: i64) -> Result<(), Refusal> {
    if crate::book::history::wrote(change.reader(), action, "settings")? {
        change.touch_all_items()?;
    }
    Ok(())
}

/// Adds a label sheet, or changes the one of that row.
pub(super) fn save_sheet(change: &Change<'_>, id: Option<SheetId>, given: LabelSheet) -> Result<Done, Refusal> {
    let mut label_sheet = given;
    label_sheet.name = limits::name("Name", &label_sheet.name)?;
    accept_geometry(&label_sheet)?;
    let reader = change.reader();
    if let Some(other) = sheet::with_name(reader, &label_sheet.name)?
        && Some(other) != id
    {
        return Err(Refusal::Taken { field: "Name".to_owned(), value: label_sheet.name });
    }
    match id {
        None => {
            let row = sheet::insert(change, &label_sheet)?;
            Ok(Done::adding(format!("Add sheet {}", label_sheet.name), Added::Sheet(row)))
        }
        Some(id) if sheet::exists(reader, id)? => {
            sheet::update(change, id, &label_sheet)?;
            Ok(Done::named(format!("Change sheet {}", label_sheet.name)))
        }
        Some(id) => Err(Refusal::Missing(format!("sheet with row {}", id.0))),
    }
}

/// Labels lie side by side on the page, none over another, none over the edge.
pub(super) fn accept_geometry(sheet: &LabelSheet) -> Result<(), Refusal> {
    // The largest common paper is A0, 841 × 1189 mm (ISO 216); PDF 1.7 allows pages up to 5,080 mm.
    let longest = Decimal::from(5_000);
    for (field, length, range) in [
        ("Page width", sheet.page_width_mm, Range::AboveZero),
        ("Page height", sheet.page_height_mm, Range::AboveZero),
        ("Left margin", sheet.left_mm, Range::ZeroOrMore),
        ("Top margin", sheet.top_mm, Range::ZeroOrMore),
        ("Label width", sheet.label_width_mm, Range::AboveZero),
        ("Label height", sheet.label_height_mm, Range::AboveZero),
        ("Pitch across", sheet.pitch_x_mm, Range::AboveZero),
        ("Pitch down", sheet.pitch_y_mm, Range::AboveZero),
    ] {
        limits::number(field, length, range)?;
        if length > longest {
            return Err(refuse(field, format!("{length} mm"), "up to 5000 mm is accepted"));
        }
    }
    along(
        "Columns",
        "across",
        sheet.columns,
        [sheet.left_mm, sheet.label_width_mm, sheet.pitch_x_mm, sheet.page_width_mm],
    )?;
    along("Rows", "down", sheet.rows, [sheet.top_mm, sheet.label_height_mm, sheet.pitch_y_mm, sheet.page_height_mm])
}

fn along(field: &str, way: &str, count: u32, [start, label, pitch, page]: [Decimal; 4]) -> Result<(), Refusal> {
    if count == 0 || count > 1000 {
        return Err(refuse(field, count, "1 to 1000 is accepted"));
    }
    if count > 1 && pitch < label {
        return Err(refuse(
            &format!("Pitch {way}"),
            format!("{pitch} mm"),
            format!("{label} mm, the label, or more is accepted"),
        ));
    }
    let end = exact::mul(pitch, Decimal::from(count - 1))
        .and_then(|pitches| exact::add(pitches, start))
        .and_then(|last| exact::add(last, label));
    match end {
        Ok(end) if end <= page => Ok(()),
        Ok(end) => Err(refuse(
            field,
            format!("{count}, which reach {} mm {way}", end.normalize()),
            format!("as many as fit the page's {page} mm are accepted"),
        )),
        Err(error) => Err(Refusal::No(error.to_string())),
    }
}
