//! The closed period: nothing dated in it may change stock.

use super::Refusal;
use super::limits;
use super::perform::Done;
use crate::book::{Change, Reader, document};
use crate::studio::{Settings, ValuationMethod};
use chrono::NaiveDate;

/// The last day of the closed period.
pub(super) fn closed_until(reader: Reader<'_>) -> Result<Option<NaiveDate>, Refusal> {
    Ok(document::settings(reader)?.closed_until)
}

/// Refuses a day in the closed period.
pub(super) fn accept(date: NaiveDate, closed_until: Option<NaiveDate>) -> Result<(), Refusal> {
    match closed_until.filter(|until| date <= *until) {
        Some(until) => Err(Refusal::Closed { date, until }),
        None => Ok(()),
    }
}

/// Refuses another way of valuing stock while a period is closed: what stock was worth in it would change.
pub(super) fn accept_method(method: ValuationMethod, before: &Settings) -> Result<(), Refusal> {
    match before.closed_until.filter(|_| method != before.valuation) {
        Some(until) => Err(limits::refuse(
            "How stock is valued",
            method.name(),
            format!(
                "{} is accepted: the period up to {until} is closed, and its value would change",
                before.valuation.name()
            ),
        )),
        None => Ok(()),
    }
}

/// Closes the period up to a day, or opens all of it.
pub(super) fn close(change: &Change<'_>, until: Option<NaiveDate>) -> Result<Done, Refusal> {
    if let Some(until) = until {
        limits::date("Date", until)?;
    }
    let mut settings = document::settings(change.reader())?;
    if settings.closed_until == until {
        return Err(Refusal::No(match until {
            Some(until) => format!("the period up to {until} is closed already"),
            None => "no period is closed".to_owned(),
        }));
    }
    settings.closed_until = until;
    document::set_settings(change, &settings)?;
    Ok(Done::named(match until {
        Some(until) => format!("Close the period up to {until}"),
        None => "Open the closed period".to_owned(),
    }))
}
