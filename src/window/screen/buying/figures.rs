//! The planning figures: what is typed, what is wrong with it, what is planned with.

use crate::costing::planning::PlanningRates;
use crate::costing::running_out::service_quantile;
use crate::costing::weekly_use::{FEWEST_WEEKS, MOST_WEEKS};
use crate::measure::{Currency, Decimal, Money, Preferences, display, edit, parse};
use crate::window::widget::Entry;
use std::collections::BTreeMap;

/// Most days an order may take.
const MOST_LEAD_DAYS: u32 = 3_650;

/// A planning figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// Weeks of use looked at.
    Weeks,
    /// Chance of not running out before the delivery.
    Service,
    /// Days from order to delivery.
    LeadDays,
    /// Cost of placing one order.
    Order,
    /// Cost of holding stock for a year, as a share.
    Holding,
}

impl Field {
    /// In reading order.
    pub(super) const ALL: [Self; 5] = [Self::Weeks, Self::Service, Self::LeadDays, Self::Order, Self::Holding];

    /// What it is called.
    pub(super) const fn label(self) -> &'static str {
        match self {
            Self::Weeks => "Weeks looked at",
            Self::Service => "Service level",
            Self::LeadDays => "Lead time",
            Self::Order => "Cost of an order",
            Self::Holding => "Holding, a year",
        }
    }

    /// What it means.
    pub(super) const fn meaning(self) -> &'static str {
        match self {
            Self::Weeks => "of use, back from today",
            Self::Service => "chance of not running out before the delivery",
            Self::LeadDays => "days, where an item has none of its own",
            Self::Order => "postage, time at the desk; empty: not known",
            Self::Holding => "share of what the stock cost",
        }
    }

    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("buying-{self:?}").to_lowercase()
    }
}

/// The figures as they stand.
#[derive(Debug)]
pub(super) struct Figures {
    entries: BTreeMap<Field, Entry>,
    /// What is planned with: the figures accepted last.
    pub(super) rates: PlanningRates,
}

impl Figures {
    /// What a new book plans with.
    pub(super) fn usual(preferences: &Preferences) -> Self {
        let mut figures = Self { entries: BTreeMap::new(), rates: PlanningRates::usual(preferences.currency) };
        figures.fill(preferences);
        figures
    }

    fn fill(&mut self, preferences: &Preferences) {
        let rates = self.rates;
        let order = rates.per_order.map(|cost| edit::edit_money(cost.amount(), preferences)).unwrap_or_default();
        for (field, text) in [
            (Field::Weeks, rates.weeks.to_string()),
            (Field::Service, edit::edit_share(rates.service_level, preferences)),
            (Field::LeadDays, rates.lead_days.to_string()),
            (Field::Order, order),
            (Field::Holding, edit::edit_share(rates.holding_share, preferences)),
        ] {
            self.entries.entry(field).or_default().set(text);
        }
    }

    /// What a field holds, as typed.
    pub(super) fn text(&self, field: Field) -> &str {
        self.entries.get(&field).map_or("", Entry::text)
    }

    /// A person typed.
    pub(super) fn type_in(&mut self, field: Field, text: String) {
        self.entries.entry(field).or_default().type_in(text);
    }

    /// What is wrong with a field, if anything.
    pub(super) fn problem(&self, field: Field, preferences: &Preferences) -> Option<String> {
        match field {
            Field::Weeks => self.weeks(preferences).err(),
            Field::Service => self.service(preferences).err(),
            Field::LeadDays => self.lead_days(preferences).err(),
            Field::Order => self.order(preferences).err(),
            Field::Holding => self.holding(preferences).err(),
        }
    }

    /// The first field that cannot be read.
    pub(super) fn first_problem(&self, preferences: &Preferences) -> Option<Field> {
        Field::ALL.into_iter().find(|field| self.problem(*field, preferences).is_some())
    }

    /// Plans with what is typed from now on; false where a field cannot be read.
    pub(super) fn accept(&mut self, preferences: &Preferences) -> bool {
        let Ok(rates) = self.read(preferences) else { return false };
        self.rates = rates;
        for entry in self.entries.values_mut() {
            entry.settle();
        }
        true
    }

    /// What is planned with, in the book's currency of now.
    pub(super) const fn rates_in(&self, currency: Currency) -> PlanningRates {
        PlanningRates { currency, ..self.rates }
    }

    /// Something is typed that is not planned with yet.
    pub(super) fn is_changed(&self) -> bool {
        self.entries.values().any(Entry::is_changed)
    }

    /// Gives every field its former text back; true when that changed something.
    #[allow(clippy::unnecessary_fold)] // `any` would stop at the first; every field goes back
    pub(super) fn revert(&mut self) -> bool {
        self.entries.values_mut().fold(false, |reverted, entry| entry.revert() || reverted)
    }

    /// What is planned with, as a sentence.
    pub(super) fn sentence(&self, preferences: &Preferences) -> String {
        let rates = self.rates;
        let days = if rates.lead_days == 1 { "1 day".to_owned() } else { format!("{} days", rates.lead_days) };
        let order = match rates.per_order {
            Some(cost) => format!("{} an order", display::money(cost.amount(), preferences)),
            None => "the cost of an order not known".to_owned(),
        };
        format!(
            "Planned with up to {} weeks of use, a service level of {}, {days} of lead time, {order} and {} a year for \
             holding.",
            rates.weeks,
            display::rate(rates.service_level, preferences),
            display::rate(rates.holding_share, preferences),
        )
    }

    fn read(&self, preferences: &Preferences) -> Result<PlanningRates, String> {
        Ok(PlanningRates {
            weeks: self.weeks(preferences)?,
            service_level: self.service(preferences)?,
            lead_days: self.lead_days(preferences)?,
            per_order: self.order(preferences)?,
            holding_share: self.holding(preferences)?,
            currency: preferences.currency,
        })
    }

    fn weeks(&self, preferences: &Preferences) -> Result<u32, String> {
        parse::parse_count(self.text(Field::Weeks), FEWEST_WEEKS..=MOST_WEEKS, preferences)
            .map_err(|problem| problem.to_string())
    }

    fn service(&self, preferences: &Preferences) -> Result<Decimal, String> {
        let level =
            parse::parse_share(self.text(Field::Service), preferences).map_err(|problem| problem.to_string())?;
        service_quantile(level).map(|_| level).map_err(|problem| problem.to_string())
    }

    fn lead_days(&self, preferences: &Preferences) -> Result<u32, String> {
        parse::parse_count(self.text(Field::LeadDays), 0..=MOST_LEAD_DAYS, preferences)
            .map_err(|problem| problem.to_string())
    }

    fn order(&self, preferences: &Preferences) -> Result<Option<Money>, String> {
        let text = self.text(Field::Order).trim();
        if text.is_empty() {
            return Ok(None);
        }
        match parse::parse_money(text, preferences) {
            Ok(cost) if cost.is_zero() => Err(format!("{text:?} is nothing: write more than 0, or leave it empty")),
            other => other.map(Some).map_err(|problem| problem.to_string()),
        }
    }

    fn holding(&self, preferences: &Preferences) -> Result<Decimal, String> {
        let text = self.text(Field::Holding).trim();
        match parse::parse_share(text, preferences) {
            Ok(share) if share.is_zero() => {
                Err(format!("{text:?} is nothing: write a share above 0 %, up to 100 %, such as 20 %"))
            }
            other => other.map_err(|problem| problem.to_string()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_figures_can_be_read_and_wrong_ones_say_what_is_accepted() {
        let metric = Preferences::metric(Currency::USD);
        let mut figures = Figures::usual(&metric);
        let usual = figures.rates;
        assert!(figures.accept(&metric));
        assert_eq!(figures.rates, usual);
        for (field, text, accepted) in [
            (Field::Weeks, "3", "from 4 to 522"),
            (Field::Service, "40 %", "0.5 to 0.9999"),
            (Field::LeadDays, "soon", "soon"),
            (Field::Order, "0", "more than 0"),
            (Field::Holding, "0 %", "above 0 %"),
        ] {
            figures.type_in(field, text.to_owned());
            let problem = figures.problem(field, &metric).unwrap();
            assert!(problem.contains(accepted), "{problem}");
            assert_eq!(figures.first_problem(&metric), Some(field));
            assert!(!figures.accept(&metric) && figures.is_changed());
            assert!(figures.revert());
        }
        figures.type_in(Field::Order, "6.50".to_owned());
        assert!(figures.accept(&metric) && !figures.is_changed());
        assert!(figures.sentence(&metric).contains("$6.50 an order"));
    }
}
