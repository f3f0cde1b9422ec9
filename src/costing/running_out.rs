//! When an item runs out, and from how much on hand to buy it again.
//!
//! `reorder point = use in the lead time + safety stock`, `safety stock = z · √(lead · σ² + use² · τ²)`, where z is
//! the normal quantile of the service level, σ the deviation of use in one period and τ that of the lead time in
//! periods (the textbook formula for demand and lead time that vary independently; without τ it is z · σ · √lead).
//! The root is rounded to 9 places, every other figure is exact until it is rounded half-even to 9 places.
//!
//! What is planned for batches is set aside first: it counts as gone, both for the weeks left and for what is available.

use super::reason::{Figure, ReasonLine};
use super::statistics::{normal_quantile, square_root};
use super::weekly_use::WeeklyUse;
use crate::measure::exact::{add, div, mul, round};
use crate::measure::quantity::QUANTITY_PLACES;
use crate::measure::{Decimal, Quantity, TooLarge};
use chrono::NaiveDate;
use rust_decimal::prelude::ToPrimitive;

/// The service level a new book plans with: 95 % (common practice, no source).
pub fn usual_service_level() -> Decimal {
    Decimal::new(95, 2)
}

/// Days after which a day of running out is not named: ten years.
const FARTHEST_DAYS: u64 = 3652;

/// Why no reorder point can be computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ReorderProblem {
    /// A service level outside of the range.
    #[error("the service level {level} is out of range: write a share from 0.5 to 0.9999 (50 % to 99.99 %)")]
    ServiceLevel {
        /// What was asked.
        level: Decimal,
    },
    /// A figure below zero.
    #[error("the {} {value} is below zero: write 0 or more", figure.words())]
    BelowZero {
        /// Which.
        figure: Figure,
        /// The value.
        value: Decimal,
    },
    /// A number grows past 28 digits.
    #[error(transparent)]
    TooLarge(#[from] TooLarge),
}

/// Use and lead time in periods of the same length: weeks, or days.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LeadDemand {
    /// Use in one period, 0 or more.
    pub per_period: Decimal,
    /// Its standard deviation, 0 or more.
    pub deviation: Decimal,
    /// Lead time in periods, 0 or more.
    pub lead: Decimal,
    /// Standard deviation of the lead time in periods, 0 or more.
    pub lead_deviation: Decimal,
}

/// From how much on hand to buy again, in the item's unit, each half-even to 9 places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ReorderPoint {
    /// Use in the lead time.
    pub lead_use: Decimal,
    /// Standard deviation of use in the lead time.
    pub lead_deviation: Decimal,
    /// Standard deviations kept in safety.
    pub quantile: Decimal,
    /// Safety stock.
    pub safety_stock: Decimal,
    /// The two together.
    pub point: Decimal,
}

/// The quantile of a service level from 0.5 to 0.9999.
///
/// # Errors
/// [`ReorderProblem::ServiceLevel`] outside of the range.
pub fn service_quantile(level: Decimal) -> Result<Decimal, ReorderProblem> {
    let quantile = if level < Decimal::new(5, 1) { None } else { normal_quantile(level)? };
    quantile.ok_or(ReorderProblem::ServiceLevel { level })
}

/// The reorder point for use and lead time that vary, with `quantile` standard deviations in safety.
///
/// # Errors
/// [`ReorderProblem`] where a figure is below zero or does not fit.
pub fn reorder_point(demand: LeadDemand, quantile: Decimal) -> Result<ReorderPoint, ReorderProblem> {
    for (figure, value) in [
        (Figure::UsePerWeek, demand.per_period),
        (Figure::Deviation, demand.deviation),
        (Figure::LeadTime, demand.lead),
        (Figure::LeadTime, demand.lead_deviation),
        (Figure::Quantile, quantile),
    ] {
        if value < Decimal::ZERO {
            return Err(ReorderProblem::BelowZero { figure, value });
        }
    }
    let kept = |value: Decimal| round(value, QUANTITY_PLACES).normalize();
    let lead_use = mul(demand.per_period, demand.lead)?;
    let of_use = mul(demand.lead, mul(demand.deviation, demand.deviation)?)?;
    let of_lead = mul(demand.per_period, demand.lead_deviation)?;
    let lead_deviation = square_root(add(of_use, mul(of_lead, of_lead)?)?)?;
    let safety_stock = mul(quantile, lead_deviation)?;
    Ok(ReorderPoint {
        lead_use: kept(lead_use),
        lead_deviation,
        quantile,
        safety_stock: kept(safety_stock),
        point: kept(add(lead_use, safety_stock)?),
    })
}

/// How long the stock of an item lasts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LastsFor {
    /// On hand less what is planned, not below 0.
    pub free: Quantity,
    /// Free / use per week, half-even to 9 places.
    pub weeks: Decimal,
    /// The first day on which it is not enough, at that use; none beyond ten years.
    pub runs_out: Option<NaiveDate>,
}

/// How long `on_hand` lasts from the day after `today`, when `planned` is set aside and `per_week`, above 0, is used.
///
/// # Errors
/// [`TooLarge`] where a number does not fit or nothing is used.
pub fn lasts_for(
    on_hand: Quantity,
    planned: Quantity,
    per_week: Decimal,
    today: NaiveDate,
) -> Result<LastsFor, TooLarge> {
    if per_week <= Decimal::ZERO {
        return Err(TooLarge);
    }
    let free = on_hand.minus(planned)?.max(Quantity::ZERO);
    let weeks = div(free.amount(), per_week)?;
    // Whole days that are covered: as many times a seventh of a week's use as fit.
    let covered = div(mul(free.amount(), Decimal::from(7))?, per_week)?.floor();
    let runs_out = covered
        .to_u64()
        .filter(|days| *days < FARTHEST_DAYS)
        .and_then(|days| today.checked_add_days(chrono::Days::new(days + 1)));
    Ok(LastsFor { free, weeks: round(weeks, QUANTITY_PLACES).normalize(), runs_out })
}

/// What is known of an item when it is asked whether it runs out.
#[derive(Debug, Clone, Copy)]
pub struct Supply<'a> {
    /// On hand.
    pub on_hand: Quantity,
    /// Planned for batches, 0 or more.
    pub planned: Quantity,
    /// Its use.
    pub used: &'a WeeklyUse,
    /// Days from order to delivery.
    pub lead_days: u32,
    /// Chance of not running out before the delivery, 0.5 to 0.9999.
    pub service_level: Decimal,
    /// The day.
    pub today: NaiveDate,
}

/// When an item runs out, from how much to buy again, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RunningOut {
    /// How long it lasts.
    pub lasts: LastsFor,
    /// From how much to buy again.
    pub point: ReorderPoint,
    /// The latest day to order so that use in the lead time is covered, safety stock aside; today where it is past.
    pub order_by: Option<NaiveDate>,
    /// The figures, in the order a person would compute them.
    pub reason: Vec<ReasonLine>,
}

/// When an item runs out and from how much to buy it again; the lead time in weeks is its days / 7.
///
/// # Errors
/// [`ReorderProblem`] where the service level is out of range, nothing is used, or a number does not fit.
pub fn running_out(supply: &Supply<'_>) -> Result<RunningOut, ReorderProblem> {
    let used = supply.used;
    let lead = div(Decimal::from(supply.lead_days), Decimal::from(7))?;
    let demand =
        LeadDemand { per_period: used.per_week, deviation: used.deviation, lead, lead_deviation: Decimal::ZERO };
    let point = reorder_point(demand, service_quantile(supply.service_level)?)?;
    let lasts = lasts_for(supply.on_hand, supply.planned, used.per_week, supply.today)?;
    let before = chrono::Days::new(u64::from(supply.lead_days));
    let order_by = lasts.runs_out.and_then(|day| day.checked_sub_days(before)).map(|day| day.max(supply.today));
    let reason = [
        (Figure::OnHand, supply.on_hand.amount()),
        (Figure::Planned, supply.planned.amount()),
        (Figure::WeeksSeen, Decimal::from(used.weeks)),
        (Figure::UsePerWeek, used.per_week),
        (Figure::Deviation, used.deviation),
        (Figure::WeeksLeft, lasts.weeks),
        (Figure::LeadTime, Decimal::from(supply.lead_days)),
        (Figure::LeadUse, point.lead_use),
        (Figure::LeadDeviation, point.lead_deviation),
        (Figure::ServiceLevel, supply.service_level),
        (Figure::Quantile, point.quantile),
        (Figure::SafetyStock, point.safety_stock),
        (Figure::ReorderPoint, point.point),
    ]
    .map(|(figure, value)| ReasonLine { figure, value })
    .to_vec();
    Ok(RunningOut { lasts, point, order_by, reason })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    fn quantity(text: &str) -> Quantity {
        Quantity::new(decimal(text)).unwrap()
    }

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn stock_lasts_until_a_day_is_not_covered() {
        let lasts = |on_hand, planned, per_week| {
            let lasts = lasts_for(quantity(on_hand), quantity(planned), decimal(per_week), day("2026-03-01")).unwrap();
            (lasts.weeks.to_string(), lasts.runs_out.map(|day| day.to_string()))
        };
        // 14 at 2 a day: 2 to 8 March are covered, the 9th is not.
        assert_eq!(lasts("14", "0", "14"), ("1".into(), Some("2026-03-09".into())));
        assert_eq!(lasts("15", "2", "14"), ("0.928571429".into(), Some("2026-03-08".into())));
        assert_eq!(lasts("1", "5", "14"), ("0".into(), Some("2026-03-02".into())));
        assert_eq!(lasts("1000", "0", "0.1"), ("10000".into(), None));
    }

    #[test]
    fn the_reason_says_every_figure_and_the_order_day() {
        let used = WeeklyUse {
            weeks: 26,
            first_day: day("2025-09-01"),
            issued: quantity("520"),
            written_off: Quantity::ZERO,
            missing: Quantity::ZERO,
            taken_back: Quantity::ZERO,
            used: quantity("520"),
            per_week: decimal("20"),
            deviation: decimal("6"),
            by_week: Vec::new(),
        };
        let supply = Supply {
            on_hand: quantity("100"),
            planned: Quantity::ZERO,
            used: &used,
            lead_days: 28,
            service_level: usual_service_level(),
            today: day("2026-03-01"),
        };
        let out = running_out(&supply).unwrap();
        // 4 weeks: 80 in use, 6 · √4 = 12; 12 · 1.644853626951 = 19.738243523…
        assert_eq!(out.point.point.to_string(), "99.738243523");
        assert_eq!(out.lasts.runs_out, Some(day("2026-04-06")));
        assert_eq!(out.order_by, Some(day("2026-03-09")));
        assert_eq!(out.reason.last().unwrap().figure.words(), "reorder point: use in the lead time and safety stock");
        let high = Supply { service_level: Decimal::ONE, ..supply };
        assert_eq!(
            running_out(&high).unwrap_err().to_string(),
            "the service level 1 is out of range: write a share from 0.5 to 0.9999 (50 % to 99.99 %)"
        );
    }
}
