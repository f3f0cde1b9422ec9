//! How much of an item is used a week, from its movements.
//!
//! Used is what went to the bench, was written off, or was missing at a count. What goes back to a supplier is not used.
//! More at a count than expected says that too much was written down before: it takes back use, but no more than was
//! written down since the count before that (the shortage of that count included); the rest was there all along, or
//! came in unseen, and is no use.
//!
//! Weeks are seven days counted back from today, today the last day of the newest. The oldest is the one of the first
//! use, or as many weeks back as asked. A week may come below zero where a count takes back use of the week before; all
//! of them together do not.

use super::statistics::sample_deviation;
use crate::measure::exact::{div, round};
use crate::measure::quantity::QUANTITY_PLACES;
use crate::measure::{Decimal, Quantity, TooLarge};
use crate::studio::{Movement, MovementKind};
use chrono::NaiveDate;

/// Weeks looked at where no other number is asked: half a year.
pub const USUAL_WEEKS: u32 = 26;

/// Fewest weeks that say something.
pub const FEWEST_WEEKS: u32 = 4;

/// Most weeks that can be looked at: ten years.
pub const MOST_WEEKS: u32 = 522;

/// What was used in the weeks looked at, in the item's unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeeklyUse {
    /// Weeks looked at, [`FEWEST_WEEKS`] to [`MOST_WEEKS`].
    pub weeks: u32,
    /// First day looked at.
    pub first_day: NaiveDate,
    /// Went to the bench.
    pub issued: Quantity,
    /// Was written off.
    pub written_off: Quantity,
    /// Was missing at counts.
    pub missing: Quantity,
    /// Use that counts took back.
    pub taken_back: Quantity,
    /// Issued + written off + missing − taken back, 0 or more.
    pub used: Quantity,
    /// Used / weeks, half-even to 9 places.
    pub per_week: Decimal,
    /// Standard deviation of the weeks' use (of a sample: divided by weeks − 1), to 9 places.
    pub deviation: Decimal,
    /// Use of each week, oldest first.
    pub by_week: Vec<Quantity>,
}

/// Why nothing can be said of the use of an item.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NoUse {
    /// Nothing was used in the weeks looked at.
    #[error("nothing was used in the last {weeks} weeks")]
    NotUsed {
        /// Weeks looked at.
        weeks: u32,
    },
    /// The first use is too near.
    #[error("first used less than {FEWEST_WEEKS} weeks ago, on {first}")]
    TooNew {
        /// The day of the first use.
        first: NaiveDate,
    },
    /// One use says nothing of how often.
    #[error("used only once, on {day}")]
    UsedOnce {
        /// The day.
        day: NaiveDate,
    },
    /// A number grows past 28 digits.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}

/// One use, or one taken back.
#[derive(Clone, Copy)]
enum Use {
    Issued(Quantity),
    WrittenOff(Quantity),
    Missing(Quantity),
    TakenBack(Quantity),
}

/// The use of one item a week up to `today`, from its movements in order of date, then id, over at most `most_weeks`
/// (held between [`FEWEST_WEEKS`] and [`MOST_WEEKS`]; usually [`USUAL_WEEKS`]). Movements after today are left out.
///
/// # Errors
/// [`NoUse`] where there is too little to say: no use in these weeks, a first use less than [`FEWEST_WEEKS`] ago, or
/// only one use ever.
pub fn weekly_use(movements: &[Movement], today: NaiveDate, most_weeks: u32) -> Result<WeeklyUse, NoUse> {
    let most = most_weeks.clamp(FEWEST_WEEKS, MOST_WEEKS);
    let uses = uses(movements, today)?;
    let [(first, _), others @ ..] = uses.as_slice() else {
        return Err(NoUse::NotUsed { weeks: most });
    };
    let weeks = weeks_since(*first, today).min(most);
    if weeks < FEWEST_WEEKS {
        return Err(NoUse::TooNew { first: *first });
    }
    if others.is_empty() {
        return Err(NoUse::UsedOnce { day: *first });
    }
    let (mut issued, mut written_off, mut missing, mut taken_back) =
        (Quantity::ZERO, Quantity::ZERO, Quantity::ZERO, Quantity::ZERO);
    let mut by_week = vec![Quantity::ZERO; weeks as usize];
    for (day, used) in &uses {
        let ago = weeks_since(*day, today);
        // The newest week is 1; the list is oldest first.
        let Some(week) = weeks.checked_sub(ago).and_then(|place| by_week.get_mut(place as usize)) else {
            continue;
        };
        match *used {
            Use::Issued(quantity) => (issued, *week) = (issued.plus(quantity)?, week.plus(quantity)?),
            Use::WrittenOff(quantity) => (written_off, *week) = (written_off.plus(quantity)?, week.plus(quantity)?),
            Use::Missing(quantity) => (missing, *week) = (missing.plus(quantity)?, week.plus(quantity)?),
            Use::TakenBack(quantity) => (taken_back, *week) = (taken_back.plus(quantity)?, week.minus(quantity)?),
        }
    }
    let used = issued.plus(written_off)?.plus(missing)?.minus(taken_back)?.max(Quantity::ZERO);
    if used.is_zero() {
        return Err(NoUse::NotUsed { weeks });
    }
    let exact = div(used.amount(), Decimal::from(weeks))?;
    let values: Vec<Decimal> = by_week.iter().map(|week| week.amount()).collect();
    Ok(WeeklyUse {
        weeks,
        first_day: today.checked_sub_days(chrono::Days::new(u64::from(weeks) * 7 - 1)).unwrap_or(NaiveDate::MIN),
        issued,
        written_off,
        missing,
        taken_back,
        used,
        per_week: round(exact, QUANTITY_PLACES).normalize(),
        deviation: sample_deviation(&values, exact)?,
        by_week,
    })
}

/// Weeks from the one of `day` to that of today, both counted; 1 for the last seven days.
fn weeks_since(day: NaiveDate, today: NaiveDate) -> u32 {
    let days = (today - day).num_days().max(0);
    u32::try_from(days / 7 + 1).unwrap_or(u32::MAX)
}

/// Every use to `today`, in order.
fn uses(movements: &[Movement], today: NaiveDate) -> Result<Vec<(NaiveDate, Use)>, TooLarge> {
    let mut found = Vec::new();
    let mut on_hand = Quantity::ZERO;
    let mut since_count = Quantity::ZERO;
    for movement in movements.iter().take_while(|movement| movement.date <= today) {
        let (day, quantity) = (movement.date, movement.quantity);
        if movement.kind == MovementKind::Count {
            if quantity < on_hand {
                since_count = on_hand.minus(quantity)?;
                found.push((day, Use::Missing(since_count)));
            } else {
                let back = quantity.minus(on_hand)?.min(since_count);
                if !back.is_zero() {
                    found.push((day, Use::TakenBack(back)));
                }
                since_count = Quantity::ZERO;
            }
            on_hand = quantity;
        } else if matches!(movement.kind, MovementKind::Issue | MovementKind::WriteOff) {
            let used = if movement.kind == MovementKind::Issue { Use::Issued } else { Use::WrittenOff };
            found.push((day, used(quantity)));
            since_count = since_count.plus(quantity)?;
            on_hand = on_hand.minus(quantity)?;
        } else if movement.kind == MovementKind::Return {
            on_hand = on_hand.minus(quantity)?;
        } else {
            on_hand = on_hand.plus(quantity)?;
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::studio::{ItemId, MovementId};

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn list(lines: &[(&str, MovementKind, i64)]) -> Vec<Movement> {
        let movement = |(id, &(date, kind, quantity)): (i64, &(&str, MovementKind, i64))| Movement {
            id: MovementId(id),
            item: ItemId(1),
            date: day(date),
            kind,
            quantity: Quantity::new(Decimal::from(quantity)).unwrap(),
            cost: None,
            lot: None,
            lot_number: String::new(),
            supplier: String::new(),
            note: String::new(),
            typed: String::new(),
        };
        (1_i64..).zip(lines).map(movement).collect()
    }

    #[test]
    fn use_is_told_apart_and_counted_in_weeks_back_from_today() {
        let movements = list(&[
            ("2026-01-01", MovementKind::Receipt, 1000),
            ("2026-01-05", MovementKind::Issue, 40),
            ("2026-01-12", MovementKind::WriteOff, 5),
            ("2026-01-13", MovementKind::Return, 100),
            ("2026-01-20", MovementKind::Count, 850),
            ("2026-01-26", MovementKind::Issue, 30),
            ("2026-01-27", MovementKind::Count, 826),
            ("2026-03-01", MovementKind::Issue, 800),
        ]);
        // 2026-02-01 is a Sunday, the last day of the newest week; 5 January begins the fourth week back.
        let used = weekly_use(&movements, day("2026-02-01"), USUAL_WEEKS).unwrap();
        let text = |quantity: Quantity| quantity.to_string();
        assert_eq!((used.weeks, used.first_day), (4, day("2026-01-05")));
        assert_eq!(
            [used.issued, used.written_off, used.missing, used.taken_back, used.used].map(text),
            ["70", "5", "5", "6", "74"]
        );
        assert_eq!(used.by_week.iter().copied().map(text).collect::<Vec<_>>(), ["40", "5", "5", "24"]);
        assert_eq!(used.per_week.to_string(), "18.5");
        // Deviations 21.5, −13.5, −13.5, 5.5: squares add up to 857; √(857 / 3) = 16.90167644549…
        assert_eq!(used.deviation.to_string(), "16.901676445");
    }

    #[test]
    fn a_first_count_is_no_use_and_takes_none_back() {
        let movements = list(&[
            ("2026-01-05", MovementKind::Count, 500),
            ("2026-01-06", MovementKind::Issue, 10),
            ("2026-01-07", MovementKind::Count, 600),
            ("2026-01-20", MovementKind::Issue, 10),
        ]);
        let used = weekly_use(&movements, day("2026-02-01"), USUAL_WEEKS).unwrap();
        assert_eq!((used.taken_back.to_string(), used.used.to_string()), ("10".into(), "10".into()));
    }

    #[test]
    fn too_little_is_said_to_be_too_little() {
        let kinds = [("2026-01-01", MovementKind::Receipt, 100), ("2026-01-05", MovementKind::Issue, 1)];
        let today = day("2026-02-01");
        assert_eq!(weekly_use(&list(&kinds[..1]), today, 26), Err(NoUse::NotUsed { weeks: 26 }));
        assert_eq!(weekly_use(&list(&kinds), today, 26), Err(NoUse::UsedOnce { day: day("2026-01-05") }));
        assert_eq!(weekly_use(&list(&kinds), day("2026-01-25"), 26), Err(NoUse::TooNew { first: day("2026-01-05") }));
        let twice = [kinds.as_slice(), &[("2026-01-06", MovementKind::Issue, 1)]].concat();
        assert_eq!(weekly_use(&list(&twice), day("2027-01-06"), 26), Err(NoUse::NotUsed { weeks: 26 }));
    }
}
