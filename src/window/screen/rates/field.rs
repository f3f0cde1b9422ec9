//! The fields of the page, and how each is read and written.

use crate::measure::{Decimal, Preferences, edit, parse};

/// An overhead line, a channel or a band, by a key that stays with it while it moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct RowKey(pub u64);

/// A field of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// What a line of overhead is for.
    OverheadName(RowKey),
    /// What it comes to in a year.
    OverheadAmount(RowKey),
    /// A figure of the studio.
    Studio(StudioPart),
    /// A figure of a channel.
    Channel(RowKey, ChannelPart),
    /// A figure of a band of price points: the channel, then the band.
    Band(RowKey, RowKey, BandPart),
}

/// Figures of the studio.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum StudioPart {
    /// Normal bench hours of a year.
    NormalHours,
    /// The wage she wants.
    Wage,
    /// What a set of elements costs.
    ElementsCost,
    /// How many hot hours it lasts.
    ElementsHours,
    /// What a thermocouple costs.
    ThermocoupleCost,
    /// How many hot hours it lasts.
    ThermocoupleHours,
    /// Price of a kWh.
    PricePerKwh,
    /// Energy of a load.
    KwhPerLoad,
    /// Recovery of the kiln.
    Recovery,
    /// Solder margin.
    SolderMargin,
    /// Minutes in the heat of the load that stands as an example; not kept.
    ExampleMinutes,
}

impl StudioPart {
    /// All of them.
    pub(super) const ALL: [Self; 11] = [
        Self::NormalHours,
        Self::Wage,
        Self::ElementsCost,
        Self::ElementsHours,
        Self::ThermocoupleCost,
        Self::ThermocoupleHours,
        Self::PricePerKwh,
        Self::KwhPerLoad,
        Self::Recovery,
        Self::SolderMargin,
        Self::ExampleMinutes,
    ];

    /// Its name in a sentence.
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::NormalHours => "normal bench hours of a year",
            Self::Wage => "the wage an hour",
            Self::ElementsCost => "the price of a set of elements",
            Self::ElementsHours => "the hot hours of a set of elements",
            Self::ThermocoupleCost => "the price of a thermocouple",
            Self::ThermocoupleHours => "the hot hours of a thermocouple",
            Self::PricePerKwh => "the price of a kWh",
            Self::KwhPerLoad => "kWh a load",
            Self::Recovery => "the kiln’s recovery",
            Self::SolderMargin => "the solder margin",
            Self::ExampleMinutes => "the minutes in the heat",
        }
    }
}

/// Figures of a channel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ChannelPart {
    /// Name.
    Name,
    /// Commission.
    Commission,
    /// Card fee, a share.
    CardFee,
    /// Card fee, an amount a sale.
    CardFixed,
    /// Tax.
    Tax,
    /// Selling cost a piece.
    Selling,
    /// The figure of its target.
    Target,
    /// A price to try its price points on; not kept.
    Example,
}

/// Figures of a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BandPart {
    /// Up to this price.
    UpTo,
    /// Distance between tickets.
    Step,
    /// Taken off each.
    Less,
}

impl Field {
    /// The name the focus is sent to.
    pub fn id(self) -> String {
        let text = format!("rates-{self:?}").to_lowercase();
        text.chars()
            .filter_map(|letter| match letter {
                'a'..='z' | '0'..='9' | '-' => Some(letter),
                '(' | ',' => Some('-'),
                _ => None,
            })
            .collect()
    }

    /// Its text is not part of what is kept.
    pub(super) const fn is_example(self) -> bool {
        matches!(self, Self::Studio(StudioPart::ExampleMinutes) | Self::Channel(_, ChannelPart::Example))
    }
}

/// The figure a channel's price must reach.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TargetKind {
    /// A share of the price.
    Margin,
    /// A ratio of full cost.
    Markup,
    /// Money an hour.
    Hourly,
}

/// What a field holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A name of 1 to 200 characters.
    Name,
    /// Money, 0 or more.
    Money,
    /// Money above 0.
    MoneyAboveZero,
    /// A number, 0 or more.
    Number,
    /// A number above 0.
    NumberAboveZero,
    /// Minutes.
    Minutes,
    /// A difference of temperature.
    Difference,
    /// A share from 0 to below 1.
    Share,
    /// A rate, 0 or more.
    Rate,
    /// A ratio, 0 or more.
    Ratio,
}

/// Most characters of a name.
const MOST_NAME_CHARACTERS: usize = 200;

impl Kind {
    /// Reads a text: its figure in the unit that is kept (0 for a name), or what is wrong, a sentence.
    pub(super) fn read(self, text: &str, preferences: &Preferences) -> Result<Decimal, String> {
        let read = match self {
            Self::Name => return name(text).map(|()| Decimal::ZERO),
            Self::Money | Self::MoneyAboveZero => {
                parse::parse_money(text, preferences).map(crate::measure::Money::amount)
            }
            Self::Number | Self::NumberAboveZero => parse::parse_number(text, preferences),
            Self::Minutes => parse::parse_minutes(text, preferences),
            Self::Difference => parse::parse_temperature_difference(text, preferences),
            Self::Share => parse::parse_share(text, preferences),
            Self::Rate => parse::parse_rate(text, preferences),
            Self::Ratio => parse::parse_ratio(text, preferences),
        };
        let value = read.map_err(|problem| problem.to_string())?;
        let refused = |accepted: &str| Err(format!("{:?} is out of range: write {accepted}", text.trim()));
        match self {
            Self::MoneyAboveZero if value.is_zero() => refused("an amount above 0"),
            Self::NumberAboveZero if value.is_zero() => refused("a number above 0"),
            Self::Share if value >= Decimal::ONE => refused("a share below 100 %"),
            _ => Ok(value),
        }
    }

    /// The text of a figure.
    pub(super) fn write(self, value: Decimal, preferences: &Preferences) -> String {
        match self {
            Self::Name => String::new(),
            Self::Money | Self::MoneyAboveZero => edit::edit_money(value, preferences),
            Self::Number | Self::NumberAboveZero => edit::edit_number(value, preferences),
            Self::Minutes => edit::edit_minutes(value, preferences),
            Self::Difference => edit::edit_temperature_difference(value, preferences),
            Self::Share | Self::Rate | Self::Ratio => edit::edit_share(value, preferences),
        }
    }
}

fn name(text: &str) -> Result<(), String> {
    let text = text.trim();
    if text.is_empty() {
        Err(format!("nothing is typed: write a name of 1 to {MOST_NAME_CHARACTERS} characters"))
    } else if text.chars().count() > MOST_NAME_CHARACTERS {
        Err(format!("it is too long: write a name of 1 to {MOST_NAME_CHARACTERS} characters"))
    } else if text.chars().any(char::is_control) {
        Err("it holds a character that is no letter or sign: write a name on one line".to_owned())
    } else {
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Currency;

    fn metric() -> Preferences {
        Preferences::metric(Currency::USD)
    }

    #[test]
    fn ids_are_plain_and_different() {
        assert_eq!(Field::OverheadName(RowKey(3)).id(), "rates-overheadname-rowkey-3");
        assert_ne!(
            Field::Band(RowKey(1), RowKey(2), BandPart::Step).id(),
            Field::Band(RowKey(1), RowKey(2), BandPart::Less).id()
        );
    }

    #[test]
    fn figures_out_of_range_say_what_would_be_accepted() {
        for (kind, text) in [
            (Kind::MoneyAboveZero, "0"),
            (Kind::NumberAboveZero, "0.0"),
            (Kind::Share, "100 %"),
            (Kind::Share, "1"),
            (Kind::Money, "-1"),
            (Kind::Name, "   "),
        ] {
            let said = kind.read(text, &metric()).unwrap_err();
            assert!(said.contains("write "), "{said}");
        }
    }

    #[test]
    fn what_is_written_is_read_back_as_it_was() {
        let value: Decimal = "0.0825".parse().unwrap();
        for kind in [Kind::Money, Kind::Number, Kind::Share, Kind::Rate, Kind::Ratio, Kind::Difference] {
            assert_eq!(kind.read(&kind.write(value, &metric()), &metric()), Ok(value), "{kind:?}");
        }
        let half = Decimal::new(25, 1);
        assert_eq!(Kind::Minutes.write(half, &metric()), "2:30");
        assert_eq!(Kind::Minutes.read("2:30", &metric()), Ok(half));
    }
}
