//! Numbers, money and days as the reader of a language writes them.
//!
//! Marks, spaces between thousands, signs of money and names of months are the GNU C library's locale data, by the crate
//! `pure-rust-locales`. What that data does not hold, or holds otherwise than the Unicode CLDR, follows the CLDR: how
//! many figures are grouped, where a day's parts stand, and that Italian and Greek put the sign of money behind.
//! Below zero the minus sign is U+2212 throughout, as everywhere on our papers.

use super::Speech;
use crate::measure::display::{FIXED_SPACE, MINUS};
use crate::measure::{Currency, Decimal, exact};
use crate::studio::Language;
use chrono::{Datelike, NaiveDate};

/// How a language writes figures.
struct Habit {
    mark: &'static str,
    group: &'static str,
    /// Whole figures from which thousands are parted.
    grouped_from: usize,
    months: &'static [&'static str],
    /// The country's own money with its sign.
    own_money: [&'static str; 2],
    /// The sign of money stands before the amount, and whether a space parts them.
    before: Option<bool>,
    /// A space parts a number from its `%`.
    spaced_per_cent: bool,
}

macro_rules! habit {
    ($locale:ident) => {{
        use pure_rust_locales::$locale::{LC_MONETARY, LC_NUMERIC, LC_TIME};
        Habit {
            mark: LC_NUMERIC::DECIMAL_POINT,
            group: LC_NUMERIC::THOUSANDS_SEP,
            grouped_from: 4,
            months: LC_TIME::MON,
            own_money: [LC_MONETARY::INT_CURR_SYMBOL, LC_MONETARY::CURRENCY_SYMBOL],
            before: if LC_MONETARY::P_CS_PRECEDES == 1 { Some(LC_MONETARY::P_SEP_BY_SPACE == 1) } else { None },
            spaced_per_cent: false,
        }
    }};
}

const fn habit(language: Language) -> Habit {
    match language {
        Language::English => habit!(en_GB),
        Language::German => Habit { spaced_per_cent: true, ..habit!(de_DE) },
        Language::French => Habit { spaced_per_cent: true, ..habit!(fr_FR) },
        Language::Spanish => Habit { grouped_from: 5, spaced_per_cent: true, ..habit!(es_ES) },
        Language::Italian => Habit { grouped_from: 5, before: None, ..habit!(it_IT) },
        Language::Dutch => habit!(nl_NL),
        Language::Polish => Habit { grouped_from: 5, ..habit!(pl_PL) },
        Language::Swedish => Habit { spaced_per_cent: true, ..habit!(sv_SE) },
        Language::Czech => Habit { spaced_per_cent: true, ..habit!(cs_CZ) },
        Language::Greek => habit!(el_GR),
        Language::Japanese => habit!(ja_JP),
    }
}

/// The form a number asks of its noun.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Plural {
    One,
    Few,
    Other,
}

/// The plural categories of the Unicode CLDR for whole numbers; what it calls “many” in Polish is [`Plural::Other`].
pub(super) const fn plural(language: Language, count: u64) -> Plural {
    match (language, count) {
        (Language::Japanese, _) => Plural::Other,
        (Language::French, 0) | (_, 1) => Plural::One,
        (Language::Czech, 2..=4) => Plural::Few,
        (Language::Polish, _) if matches!(count % 10, 2..=4) && !matches!(count % 100, 12..=14) => Plural::Few,
        _ => Plural::Other,
    }
}

impl Speech<'_> {
    /// A number with all its decimals.
    pub fn number(self, value: Decimal) -> String {
        let mut text = if below_zero(value) { MINUS.to_string() } else { String::new() };
        text.push_str(&figures(value.normalize(), &habit(self.language())));
        text
    }

    /// Money to the minor unit of its currency, rounded half away from zero: `€1,234.50`, `1.234,50 €`, `1234,50 zł`.
    pub fn money(self, amount: Decimal, currency: Currency) -> String {
        let habit = habit(self.language());
        let mut amount = currency.round(amount);
        amount.rescale(currency.digits());
        let figures = figures(amount, &habit);
        let minus = if below_zero(amount) { MINUS.to_string() } else { String::new() };
        let [own, sign] = habit.own_money;
        let sign = if own.trim_end() == currency.code() { sign } else { currency.sign() };
        match habit.before {
            Some(true) => format!("{sign}{FIXED_SPACE}{minus}{figures}"),
            Some(false) if sign.chars().all(char::is_alphabetic) => format!("{minus}{sign}{FIXED_SPACE}{figures}"),
            Some(false) => format!("{minus}{sign}{figures}"),
            None => format!("{minus}{figures}{FIXED_SPACE}{sign}"),
        }
    }

    /// A share as per cent with all its decimals: `35%`, `8,25 %`.
    pub fn share(self, share: Decimal) -> String {
        let per_cent = self.number(exact::mul(share, Decimal::ONE_HUNDRED).unwrap_or(share));
        if habit(self.language()).spaced_per_cent {
            format!("{per_cent}{FIXED_SPACE}%")
        } else {
            format!("{per_cent}%")
        }
    }

    /// A day with its month in words: `14 October 2026`, `14. Oktober 2026`, `2026年10月14日`.
    pub fn date(self, date: NaiveDate) -> String {
        let (day, year) = (date.day(), date.year());
        let months = habit(self.language()).months;
        let month =
            usize::try_from(date.month0()).ok().and_then(|month| months.get(month)).copied().unwrap_or_default();
        match self.language() {
            Language::German | Language::Czech => format!("{day}. {month} {year}"),
            Language::Spanish => format!("{day} de {month} de {year}"),
            Language::Japanese => format!("{year}年{month}{day}日"),
            _ => format!("{day} {month} {year}"),
        }
    }
}

fn below_zero(value: Decimal) -> bool {
    value.is_sign_negative() && !value.is_zero()
}

/// The figures of a value without its sign.
fn figures(value: Decimal, habit: &Habit) -> String {
    let plain = value.abs().to_string();
    let (whole, decimals) = plain.split_once('.').unwrap_or((&plain, ""));
    let many = whole.len();
    let mut text = String::with_capacity(24);
    for (place, figure) in whole.chars().enumerate() {
        if many >= habit.grouped_from && place > 0 && (many - place).is_multiple_of(3) {
            text.push_str(habit.group);
        }
        text.push(figure);
    }
    if !decimals.is_empty() {
        text.push_str(habit.mark);
        text.push_str(decimals);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain_spaces(text: &str) -> String {
        text.replace(['\u{a0}', '\u{202f}'], " ").replace(MINUS, "-")
    }

    /// Written by an independent implementation: ICU 78.2 with CLDR 48 (`Intl` of a JavaScript engine), spaces and
    /// minus made plain. For each language 1234.5 and -1234567.891; money in euros and in the country's own; a day;
    /// 8.25 per cent.
    const CLDR: [(Language, [&str; 6]); 11] = [
        (Language::English, ["1,234.5", "-1,234,567.891", "€1,234.50", "£1,234.50", "14 October 2026", "8.25%"]),
        (Language::German, ["1.234,5", "-1.234.567,891", "1.234,50 €", "1.234,50 €", "14. Oktober 2026", "8,25 %"]),
        (Language::French, ["1 234,5", "-1 234 567,891", "1 234,50 €", "1 234,50 €", "14 octobre 2026", "8,25 %"]),
        (Language::Spanish, ["1234,5", "-1.234.567,891", "1234,50 €", "1234,50 €", "14 de octubre de 2026", "8,25 %"]),
        (Language::Italian, ["1234,5", "-1.234.567,891", "1234,50 €", "1234,50 €", "14 ottobre 2026", "8,25%"]),
        (Language::Dutch, ["1.234,5", "-1.234.567,891", "€ 1.234,50", "€ 1.234,50", "14 oktober 2026", "8,25%"]),
        (Language::Polish, ["1234,5", "-1 234 567,891", "1234,50 €", "1234,50 zł", "14 października 2026", "8,25%"]),
        (Language::Swedish, ["1 234,5", "-1 234 567,891", "1 234,50 €", "1 234,50 kr", "14 oktober 2026", "8,25 %"]),
        (Language::Czech, ["1 234,5", "-1 234 567,891", "1 234,50 €", "1 234,50 Kč", "14. října 2026", "8,25 %"]),
        (Language::Greek, ["1.234,5", "-1.234.567,891", "1.234,50 €", "1.234,50 €", "14 Οκτωβρίου 2026", "8,25%"]),
        (Language::Japanese, ["1,234.5", "-1,234,567.891", "€1,234.50", "￥1,235", "2026年10月14日", "8.25%"]),
    ];

    #[test]
    fn figures_are_written_as_the_locale_data_of_unicode_has_them() {
        let of = |code: &str| Currency::from_code(code).unwrap();
        let amount = Decimal::new(12345, 1);
        for (language, [number, large, euros, own, day, rate]) in CLDR {
            let speech = Speech::plain(language);
            let own_money = match language {
                Language::English => "GBP",
                Language::Polish => "PLN",
                Language::Swedish => "SEK",
                Language::Czech => "CZK",
                Language::Japanese => "JPY",
                _ => "EUR",
            };
            assert_eq!(plain_spaces(&speech.number(amount)), number, "{}", language.name());
            assert_eq!(plain_spaces(&speech.number(Decimal::new(-1_234_567_891, 3))), large, "{}", language.name());
            assert_eq!(plain_spaces(&speech.money(amount, of("EUR"))), euros, "{}", language.name());
            assert_eq!(plain_spaces(&speech.money(amount, of(own_money))), own, "{}", language.name());
            assert_eq!(speech.date(NaiveDate::from_ymd_opt(2026, 10, 14).unwrap()), day);
            assert_eq!(plain_spaces(&speech.share(Decimal::new(825, 4))), rate);
        }
        let money = |language, amount, code| plain_spaces(&Speech::plain(language).money(amount, of(code)));
        assert_eq!(money(Language::English, Decimal::new(-46, 0), "EUR"), "-€46.00");
        assert_eq!(money(Language::Dutch, Decimal::new(-46, 0), "EUR"), "€ -46,00");
        assert_eq!(money(Language::Greek, Decimal::new(-46, 0), "EUR"), "-46,00 €");
        assert_eq!(money(Language::English, amount, "CHF"), "CHF 1,234.50");
        assert_eq!(money(Language::Japanese, amount, "SEK"), "SEK 1,234.50");
        assert_eq!(money(Language::German, amount, "JPY"), "1.235 ¥");
    }

    /// Exact: no decimal is lost or made up.
    #[test]
    fn long_decimals_stay_whole() {
        let value = Decimal::from_str_exact("79228162514264337593.543950335").unwrap();
        let written = Speech::plain(Language::English).number(value);
        assert_eq!(written, "79,228,162,514,264,337,593.543950335");
        assert_eq!(Speech::plain(Language::German).number(Decimal::new(1200, 2)), "12");
    }
}
