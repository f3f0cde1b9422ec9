//! What a field may hold. Every refusal names the field, what it holds and what would be accepted.

use super::Refusal;
use crate::measure::money::{MONEY_LIMIT, MONEY_PLACES};
use crate::measure::quantity::{QUANTITY_LIMIT, QUANTITY_PLACES};
use crate::measure::{Decimal, Money, Quantity};
use chrono::{Datelike, NaiveDate};

/// Most characters of a name.
pub(super) const NAME_CHARACTERS: usize = 200;

/// Most characters of a free text.
pub(super) const TEXT_CHARACTERS: usize = 10_000;

/// Characters of a value that a refusal repeats.
const SHOWN_CHARACTERS: usize = 60;

/// A refusal of one field.
pub(super) fn refuse(field: &str, value: impl std::fmt::Display, accepted: impl Into<String>) -> Refusal {
    Refusal::Field { field: field.to_owned(), value: shown(&value.to_string()), accepted: accepted.into() }
}

/// A value as a refusal repeats it: short, on one line, never empty.
fn shown(value: &str) -> String {
    if value.trim().is_empty() {
        return "nothing".to_owned();
    }
    let one_line: String = value
        .chars()
        .map(|letter| if letter.is_control() { '\u{fffd}' } else { letter })
        .take(SHOWN_CHARACTERS)
        .collect();
    if value.chars().count() > SHOWN_CHARACTERS { format!("{one_line}…") } else { one_line }
}

/// A name: 1 to 200 characters on one line; spaces at its ends are taken off.
pub(super) fn name(field: &str, text: &str) -> Result<String, Refusal> {
    let trimmed = text.trim();
    let accepted = "a name of 1 to 200 characters on one line is accepted";
    if trimmed.is_empty() || trimmed.chars().count() > NAME_CHARACTERS || trimmed.chars().any(char::is_control) {
        return Err(refuse(field, text, accepted));
    }
    Ok(trimmed.to_owned())
}

/// A name that may be left out.
pub(super) fn optional_name(field: &str, text: &str) -> Result<String, Refusal> {
    if text.trim().is_empty() { Ok(String::new()) } else { name(field, text) }
}

/// A free text of several lines, which may be empty.
pub(super) fn text(field: &str, text: &str) -> Result<(), Refusal> {
    let odd = |letter: char| letter.is_control() && !matches!(letter, '\n' | '\r' | '\t');
    if text.chars().count() > TEXT_CHARACTERS || text.chars().any(odd) {
        return Err(refuse(field, text, "text of up to 10,000 characters without control characters is accepted"));
    }
    Ok(())
}

/// A day a book can hold.
pub(super) fn date(field: &str, date: NaiveDate) -> Result<(), Refusal> {
    if (1900..=2200).contains(&date.year()) {
        Ok(())
    } else {
        Err(refuse(field, date, "a day from 1900-01-01 to 2200-12-31 is accepted"))
    }
}

/// What a number must be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Range {
    /// 0 or more.
    ZeroOrMore,
    /// Above 0.
    AboveZero,
}

impl Range {
    fn holds(self, value: Decimal) -> bool {
        match self {
            Self::ZeroOrMore => value >= Decimal::ZERO,
            Self::AboveZero => value > Decimal::ZERO,
        }
    }

    const fn words(self) -> &'static str {
        match self {
            Self::ZeroOrMore => "0 or more",
            Self::AboveZero => "above 0",
        }
    }
}

/// An amount of money, up to a million million with six decimals.
pub(super) fn money(field: &str, amount: Decimal, range: Range) -> Result<(), Refusal> {
    let fits = amount.normalize().scale() <= MONEY_PLACES && amount <= Decimal::from(MONEY_LIMIT);
    if range.holds(amount) && fits {
        return Ok(());
    }
    let accepted = format!("an amount {} is accepted, up to {MONEY_LIMIT} with at most six decimals", range.words());
    Err(refuse(field, amount, accepted))
}

/// Any other number, up to a thousand million with nine decimals.
pub(super) fn number(field: &str, value: Decimal, range: Range) -> Result<(), Refusal> {
    let fits = value.normalize().scale() <= QUANTITY_PLACES && value <= Decimal::from(QUANTITY_LIMIT);
    if range.holds(value) && fits {
        return Ok(());
    }
    let accepted = format!("a number {} is accepted, up to {QUANTITY_LIMIT} with at most nine decimals", range.words());
    Err(refuse(field, value, accepted))
}

/// A quantity of stock.
pub(super) fn quantity(field: &str, quantity: Quantity, range: Range) -> Result<(), Refusal> {
    number(field, quantity.amount(), range)
}

/// A sum of money.
pub(super) fn sum(field: &str, money_given: Money, range: Range) -> Result<(), Refusal> {
    money(field, money_given.amount(), range)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::str::FromStr;

    #[test]
    fn names_of_any_script_are_taken_and_trimmed() {
        for given in ["Émail vert", "七宝焼", "Шатёр", "  Fen green ", "🜂 flux"] {
            assert_eq!(name("Name", given).unwrap(), given.trim());
        }
        assert_eq!(name("Name", &"é".repeat(200)).unwrap().chars().count(), 200);
    }

    #[test]
    fn a_refused_name_says_what_would_be_accepted() {
        let long = "x".repeat(201);
        for given in ["", "   ", "two\nlines", "bell\u{7}", &long] {
            let said = name("Name", given).unwrap_err().to_string();
            assert!(said.starts_with("Name: "), "{said}");
            assert!(said.ends_with("a name of 1 to 200 characters on one line is accepted"), "{said}");
            assert!(!said.contains('\u{7}') && !said.contains('\n') && said.len() < 200, "{said}");
        }
        assert!(name("Name", "").unwrap_err().to_string().contains("nothing was given"));
    }

    #[test]
    fn numbers_have_limits_on_both_ends() {
        let decimal = |text: &str| Decimal::from_str(text).unwrap();
        assert!(money("Cost", decimal("0"), Range::ZeroOrMore).is_ok());
        assert!(money("Cost", decimal("1000000000000"), Range::ZeroOrMore).is_ok());
        for odd in ["-0.01", "1000000000000.01", "0.0000001", "79228162514264337593543950335"] {
            assert!(money("Cost", decimal(odd), Range::ZeroOrMore).is_err(), "{odd}");
        }
        assert!(number("Hours", decimal("0"), Range::AboveZero).is_err());
    }

    #[test]
    fn days_far_off_are_refused() {
        let day = |year| NaiveDate::from_ymd_opt(year, 1, 1).unwrap();
        assert!(date("Day", day(1900)).is_ok() && date("Day", day(2200)).is_ok());
        assert!(date("Day", day(1899)).is_err() && date("Day", day(2201)).is_err());
    }
}
