//! What follows from a kiln's measurements, worded; its days; what its meter told against a fit.

use crate::actions::KilnDayAccount;
use crate::kiln::fit::HeatFit;
use crate::kiln::heat::{HeatFrom, HeatModel, HeatProblem, HottestBy};
use crate::kiln::hours::{PartHours, Wearing};
use crate::measure::{Decimal, Preferences, display, exact};
use crate::studio::{ElectricKiln, KilnDayId};
use crate::window::screen::kiln::{cost, words};

/// What follows from a kiln's measurements: a line each.
#[derive(Debug, Clone)]
pub(super) struct Figures {
    /// What it is, its figure, how it comes about.
    pub(super) lines: Vec<[String; 3]>,
    /// Why there are none.
    pub(super) trouble: Option<String>,
    /// They are those of a fit to its meter.
    pub(super) fitted: bool,
}

/// The figures of an electric kiln.
pub(super) fn figures(kiln: &ElectricKiln, p: &Preferences) -> Figures {
    match lines(kiln, p) {
        Ok((lines, fitted)) => Figures { lines, trouble: None, fitted },
        Err(problem) => {
            Figures { lines: Vec::new(), trouble: Some(problem.to_string()), fitted: kiln.fitted.is_some() }
        }
    }
}

fn lines(kiln: &ElectricKiln, p: &Preferences) -> Result<(Vec<[String; 3]>, bool), HeatProblem> {
    let model = HeatModel::of(kiln)?;
    let hottest = model.hottest()?;
    let working = display::temperature(kiln.working_celsius, p);
    let by = match hottest.set_by {
        HottestBy::Model => "where full power only makes up for what it loses",
        HottestBy::RatedMaximum => "the maker's rated maximum",
    };
    let warm_up = model.minutes_to_heat(kiln.room_celsius, kiln.working_celsius)?;
    let hour = Decimal::from(60);
    let number = |value: Decimal| display::number(value, 0, 6, p.numbers);
    let lines = vec![
        ["Hottest it can hold".to_owned(), display::temperature(exact::round(hottest.celsius, 0), p), by.to_owned()],
        [
            "Warming up".to_owned(),
            words::kwh(model.warm_up_kwh(kiln.working_celsius)?, p),
            format!("{} at full power from the room to {working}", display::minutes(warm_up, p)),
        ],
        [
            "Holding for an hour".to_owned(),
            words::kwh(model.holding_kwh(kiln.working_celsius, hour)?, p),
            format!("at {working}, with the door shut"),
        ],
        [
            "Shelf and trivets of a load".to_owned(),
            words::kwh(model.load_kwh(&[], kiln.furniture_g, kiln.working_celsius)?, p),
            format!("{} heated to {working}, and the door", display::mass(kiln.furniture_g, p)),
        ],
        ["Thermal capacity".to_owned(), format!("{} kWh/K", number(model.capacity()?)), String::new()],
        ["Heat loss".to_owned(), format!("{} kW/K", number(model.loss()?)), String::new()],
    ];
    Ok((lines, model.from() == HeatFrom::Readings))
}

/// A day of the list.
#[derive(Debug, Clone)]
pub(super) struct DayRow {
    /// None where only loads were written down.
    pub(super) id: Option<KilnDayId>,
    pub(super) date: String,
    pub(super) loads: String,
    pub(super) kwh: String,
    pub(super) cost: String,
    pub(super) metered: bool,
    pub(super) account: KilnDayAccount,
}

/// Days worded, newest first.
pub(super) fn days(days: Vec<KilnDayAccount>, p: &Preferences) -> Vec<DayRow> {
    let rows = days.into_iter().rev().map(|of| DayRow {
        id: of.written.as_ref().map(|written| written.id),
        date: of.date.to_string(),
        loads: words::counted(of.loads.len(), "load", "loads"),
        kwh: of.account.as_ref().map(|account| words::kwh(account.kwh, p)).unwrap_or_default(),
        cost: match &of.account {
            Ok(account) => cost(account.energy, account.wear, p),
            Err(why) => why.clone(),
        },
        metered: of.account.as_ref().is_ok_and(crate::kiln::day::DayAccount::metered),
        account: of,
    });
    rows.collect()
}

/// Readings against a fit: day, read, by the fit, apart.
pub(super) fn residuals(fit: &HeatFit, p: &Preferences) -> Vec<[String; 4]> {
    let rows = fit.residuals.iter().map(|residual| {
        [
            residual.reading.date.to_string(),
            words::kwh(residual.reading.kwh, p),
            words::kwh(residual.fitted_kwh, p),
            words::kwh(residual.residual_kwh, p),
        ]
    });
    rows.collect()
}

/// The hours of a part, and whether they ask for a look: `412 of 500 hot hours since 2025-03-01`.
pub(super) fn hours(of: &PartHours, p: &Preferences) -> (String, u16, Wearing) {
    let hours = |value: Decimal| display::number(value, 0, 0, p.numbers);
    let words = format!("{} of {} hot hours since {}", hours(of.used), hours(of.lasts), of.since);
    (words, of.used_thousandths(), of.wearing)
}
