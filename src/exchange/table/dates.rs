//! Days as people write them.

use super::cell::Cell;
use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};

/// The day before the day that never was: 28 February 1900. Spreadsheets count a 29 February 1900, serial number 60.
pub(super) const BEFORE_NO_DAY: NaiveDate = match NaiveDate::from_ymd_opt(1900, 2, 28) {
    Some(date) => date,
    None => NaiveDate::MIN,
};

/// The day serial numbers count from, from 1 March 1900 on.
const FIRST: NaiveDate = match NaiveDate::from_ymd_opt(1899, 12, 30) {
    Some(date) => date,
    None => NaiveDate::MIN,
};

/// Years that are read.
const YEARS: std::ops::RangeInclusive<i32> = 1900..=2199;

/// In which order a day is written with figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DayOrder {
    /// 14/03/2026
    DayMonthYear,
    /// 03/14/2026
    MonthDayYear,
}

/// The serial number of a day in the 1900 date system; none before 1900. 1 January 1900 is 1; from 1 March 1900 on it
/// is one more than the days since, since a 29 February 1900 is counted.
pub fn serial(date: NaiveDate) -> Option<i32> {
    let days = i32::try_from(date.signed_duration_since(FIRST).num_days()).ok()?;
    let serial = if date > BEFORE_NO_DAY { days } else { days - 1 };
    (1..=2_958_465).contains(&serial).then_some(serial)
}

/// A day in ISO 8601, `2026-03-14`; a time of day after `T` or a space is left out.
pub(super) fn iso(text: &str) -> Option<NaiveDate> {
    let text = text.trim();
    let day = text.get(..10)?;
    let rest = text.get(10..)?;
    let shaped = day
        .bytes()
        .enumerate()
        .all(|(at, byte)| if matches!(at, 4 | 7) { byte == b'-' } else { byte.is_ascii_digit() });
    if !shaped || !(rest.is_empty() || rest.starts_with(['T', ' '])) {
        return None;
    }
    NaiveDate::parse_from_str(day, "%Y-%m-%d").ok()
}

/// The day of a cell.
///
/// # Errors
/// A sentence that says what stands there and what would be accepted: no day, a year outside 1900 to 2199, or figures
/// whose order `order` does not tell.
pub fn read_day(cell: &Cell, order: Option<DayOrder>) -> Result<NaiveDate, String> {
    let date = match cell {
        Cell::Date(date) => *date,
        Cell::Text(text) => written(text.trim(), order)?,
        Cell::Number(number) => {
            return Err(format!("{number} is a number, not a day; format the column as days, or write 2026-03-14"));
        }
        Cell::Empty => return Err(format!("nothing stands there; {ACCEPTED} is accepted")),
        Cell::Flag(_) | Cell::Fault(_) => return Err(format!("{} stands there; {ACCEPTED} is accepted", cell.text())),
    };
    if YEARS.contains(&date.year()) {
        Ok(date)
    } else {
        Err(format!("{} is outside the years {} to {}", date.format("%Y-%m-%d"), YEARS.start(), YEARS.end()))
    }
}

const ACCEPTED: &str = "a day such as 2026-03-14, 14 Mar 2026 or 14/03/2026";

fn written(text: &str, order: Option<DayOrder>) -> Result<NaiveDate, String> {
    if let Some(date) = iso(text) {
        return Ok(date);
    }
    let refused = || format!("{:?} is not a day; {ACCEPTED} is accepted", text.chars().take(40).collect::<String>());
    let parts: Vec<&str> =
        text.split(['/', '.', '-', ' ', ',']).map(str::trim).filter(|part| !part.is_empty()).collect();
    let &[first, second, third] = parts.as_slice() else { return Err(refused()) };
    // A month by its name leaves nothing to choose.
    if let Some(month) = month(second) {
        let (day, year) = if first.len() == 4 { (third, first) } else { (first, third) };
        return day_of(year, month, figures(day).ok_or_else(refused)?).ok_or_else(refused);
    }
    if let Some(month) = month(first) {
        return day_of(third, month, figures(second).ok_or_else(refused)?).ok_or_else(refused);
    }
    let (one, two) = (figures(first).ok_or_else(refused)?, figures(second).ok_or_else(refused)?);
    if first.len() == 4 {
        return day_of(first, two, figures(third).ok_or_else(refused)?).ok_or_else(refused);
    }
    if third.len() != 4 {
        return Err(format!("{text:?} has its year with {} figures; write it with four", third.len()));
    }
    let (day_first, month_first) = (day_of(third, two, one), day_of(third, one, two));
    match (order, day_first, month_first) {
        (Some(DayOrder::DayMonthYear), day, _) => day.ok_or_else(refused),
        (Some(DayOrder::MonthDayYear), _, day) => day.ok_or_else(refused),
        (None, Some(day), Some(other)) if day != other => Err(format!(
            "{text:?} may be {} or {}; choose whether the day or the month stands first",
            day.format("%-d %B %Y"),
            other.format("%-d %B %Y")
        )),
        (None, day, other) => day.or(other).ok_or_else(refused),
    }
}

fn figures(text: &str) -> Option<u32> {
    (text.bytes().all(|byte| byte.is_ascii_digit()) && text.len() <= 4).then(|| text.parse().ok()).flatten()
}

fn day_of(year: &str, month: u32, day: u32) -> Option<NaiveDate> {
    let year = figures(year).filter(|_| year.len() == 4)?;
    NaiveDate::from_ymd_opt(i32::try_from(year).ok()?, month, day)
}

/// The month of an English name or its first three letters.
fn month(text: &str) -> Option<u32> {
    const MONTHS: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let text = text.to_lowercase();
    let matches =
        |name: &str| name == text || name.get(..3) == Some(text.as_str()) || (text == "sept" && name == "september");
    MONTHS.iter().position(|name| matches(name)).and_then(|place| u32::try_from(place + 1).ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(year: i32, month: u32, day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(year, month, day).unwrap()
    }

    fn text(text: &str) -> Cell {
        Cell::Text(text.to_owned())
    }

    #[test]
    fn serial_numbers_are_those_of_the_1900_date_system() {
        // ECMA-376 Part 1, 18.17.4.1 (from memory): 1 January 1900 is 1, 1 January 2000 is 36526, 31 December 9999 is
        // 2958465, and a 29 February 1900 is counted as 60.
        for (date, number) in [
            (day(1900, 1, 1), 1),
            (day(1900, 2, 28), 59),
            (day(1900, 3, 1), 61),
            (day(2000, 1, 1), 36_526),
            (day(2008, 1, 1), 39_448),
            (day(9999, 12, 31), 2_958_465),
        ] {
            assert_eq!(serial(date), Some(number), "{date}");
        }
        assert_eq!(serial(day(1899, 12, 31)), None);
    }

    #[test]
    fn a_day_is_read_in_the_ways_it_is_written() {
        let wanted = day(2026, 3, 14);
        for written in [
            "2026-03-14",
            "2026-03-14T00:00:00",
            " 2026-03-14 08:30",
            "14/03/2026",
            "14.3.2026",
            "03/14/2026",
            "2026/3/14",
            "14 Mar 2026",
            "14-mar-2026",
            "March 14, 2026",
        ] {
            assert_eq!(read_day(&text(written), None), Ok(wanted), "{written}");
        }
        assert_eq!(read_day(&Cell::Date(wanted), None), Ok(wanted));
        assert_eq!(read_day(&text("05/05/2026"), None), Ok(day(2026, 5, 5)), "the same either way");
    }

    #[test]
    fn figures_that_may_be_two_days_need_an_order() {
        let both = read_day(&text("04/03/2026"), None).unwrap_err();
        assert!(both.contains("4 March 2026") && both.contains("3 April 2026"), "{both}");
        assert_eq!(read_day(&text("04/03/2026"), Some(DayOrder::DayMonthYear)), Ok(day(2026, 3, 4)));
        assert_eq!(read_day(&text("04/03/2026"), Some(DayOrder::MonthDayYear)), Ok(day(2026, 4, 3)));
        assert!(read_day(&text("14/03/2026"), Some(DayOrder::MonthDayYear)).is_err(), "a chosen order is kept to");
    }

    #[test]
    fn what_is_no_day_is_refused() {
        for wrong in ["", "soon", "2026-02-30", "31/04/2026", "14/03/26", "14/03", "1/2/3/2026", "0000-01-01"] {
            assert!(read_day(&text(wrong), None).is_err(), "{wrong}");
        }
        for wrong in [Cell::Empty, Cell::Number(crate::measure::Decimal::from(45_000)), Cell::Date(day(1850, 1, 1))] {
            assert!(read_day(&wrong, None).is_err(), "{wrong:?}");
        }
    }
}
