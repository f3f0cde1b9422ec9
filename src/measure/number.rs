//! Reading the number at the beginning of a typed text: decimals in either style, grouped thousands, fractions.
//!
//! Which mark is the decimal mark:
//!
//! * Two different marks: the last one, which may come once; the other parts thousands (`1,234.50`, `1.234,50`).
//! * The same mark twice or more: it parts thousands (`1,234,567`).
//! * One mark, the one chosen in Setup: it is the decimal mark (`12.50`, and `1.234` is 1.234).
//! * One mark, the other one: the decimal mark too (`12,50`), unless it could just as well part thousands, that is with
//!   one to three digits before it, the first not 0, and exactly three after it: `1,234` is refused as ambiguous where
//!   the point was chosen, `1.234` where the comma was.
//!
//! A space of any width parts thousands when exactly three digits follow (`12 000`); a space before a fraction makes a
//! mixed number (`1 3/4`, `1 ½`), and so does the hyphen of the workshop (`1-3/4`).

use super::exact::{self, Decimal, TooLarge};
use super::preferences::NumberStyle;
use super::problem::ParseProblem;

/// Longest text that is read, in characters.
const LONGEST: usize = 64;

/// Digits before the decimal mark that are read; longer numbers are too large for any field.
const MOST_WHOLE_DIGITS: usize = 18;

/// Decimals that are read; longer numbers are finer than any grain that is kept.
pub(super) const MOST_DECIMALS: usize = 9;

/// A number as typed: exact, even where it is a fraction whose decimal does not end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Number {
    numerator: Decimal,
    denominator: Decimal,
    /// Written with a fraction bar or sign.
    pub(super) fraction: bool,
    /// Written with a decimal mark or a fraction.
    pub(super) whole: bool,
}

impl Number {
    /// `number · factor`, half-even at `places`; exact where the result ends before that.
    pub(super) fn times(self, factor: Decimal, places: u32) -> Result<Decimal, TooLarge> {
        let product = exact::mul(self.numerator, factor)?;
        let quotient = if self.denominator == Decimal::ONE { product } else { exact::div(product, self.denominator)? };
        Ok(exact::round(quotient, places).normalize())
    }
}

/// A typed text made ready: spaces of every width are plain and single, none at the ends.
pub(super) fn tidy(text: &str, accepted: &'static str) -> Result<String, ParseProblem> {
    let mut tidied = String::with_capacity(text.len().min(LONGEST));
    let mut space = false;
    let mut count = 0_usize;
    for letter in text.chars() {
        if letter.is_whitespace() || matches!(letter, '\u{200b}' | '\u{2060}' | '\u{feff}') {
            space = !tidied.is_empty();
            continue;
        }
        if space {
            tidied.push(' ');
            space = false;
        }
        count += 1;
        if count > LONGEST {
            return Err(ParseProblem::TooLong { given: tidied.chars().take(24).collect(), accepted });
        }
        tidied.push(match letter {
            '\u{2212}' | '\u{2012}' | '\u{2013}' => '-',
            '\u{2044}' | '\u{2215}' => '/',
            other => other,
        });
    }
    if tidied.is_empty() { Err(ParseProblem::Empty { accepted }) } else { Ok(tidied) }
}

/// The number a tidied text begins with, and what follows it, without the space between.
pub(super) fn leading<'a>(
    text: &'a str,
    style: NumberStyle,
    accepted: &'static str,
) -> Result<(Number, &'a str), ParseProblem> {
    let not_understood = || ParseProblem::NotUnderstood { given: text.to_owned(), accepted };
    if text.starts_with('-') {
        return Err(ParseProblem::Negative { given: text.to_owned(), accepted });
    }
    if let Some((number, rest)) = vulgar(text, Decimal::ZERO) {
        return Ok((number, rest.trim_start()));
    }
    let (numeral, rest) = numeral(text);
    if !numeral.bytes().any(|byte| byte.is_ascii_digit()) {
        return Err(not_understood());
    }
    // A plain whole number may begin a fraction or a mixed number.
    if numeral.bytes().all(|byte| byte.is_ascii_digit()) {
        let whole = digits(numeral, text)?;
        if let Some((number, rest)) = vulgar(rest.trim_start(), whole) {
            return Ok((number, rest.trim_start()));
        }
        if let Some(below) = rest.trim_start().strip_prefix('/') {
            let (denominator, rest) = plain(below.trim_start(), text)?.ok_or_else(not_understood)?;
            return Ok((ratio(whole, denominator).ok_or_else(not_understood)?, rest.trim_start()));
        }
        let mixed = rest.strip_prefix(' ').or_else(|| rest.strip_prefix('-')).unwrap_or("");
        if let Some((numerator, below)) = plain(mixed, text)? {
            let below = below.trim_start().strip_prefix('/').ok_or_else(not_understood)?;
            let (denominator, rest) = plain(below.trim_start(), text)?.ok_or_else(not_understood)?;
            let part = ratio(numerator, denominator).ok_or_else(not_understood)?;
            let number = add_whole(whole, part).map_err(super::problem::too_large(text, "a smaller number"))?;
            return Ok((number, rest.trim_start()));
        }
    }
    let value = decimal(numeral, text, style, accepted)?;
    if exponent(rest) {
        return Err(ParseProblem::Exponent { given: text.to_owned(), accepted });
    }
    let number = Number {
        numerator: value,
        denominator: Decimal::ONE,
        fraction: false,
        whole: numeral.bytes().all(|byte| byte.is_ascii_digit() || byte == b' '),
    };
    Ok((number, rest.trim_start()))
}

/// True when what follows a number continues it as a power of ten.
fn exponent(rest: &str) -> bool {
    let mut letters = rest.chars();
    matches!(letters.next(), Some('e' | 'E'))
        && letters.next().is_some_and(|next| next.is_ascii_digit() || matches!(next, '+' | '-'))
}

/// Splits off the longest run of digits, marks, and spaces that part thousands.
fn numeral(text: &str) -> (&str, &str) {
    let bytes = text.as_bytes();
    let digit = |place: usize| bytes.get(place).is_some_and(u8::is_ascii_digit);
    let mut end = 0;
    let mut since_space = 0;
    while let Some(&byte) = bytes.get(end) {
        let inside = match byte {
            b'0'..=b'9' | b'.' | b',' => true,
            // Three digits and then no fourth, and no fraction bar: thousands.
            b' ' => {
                (1..=3).contains(&(end - since_space))
                    && (end + 1..end + 4).all(digit)
                    && !digit(end + 4)
                    && !text.get(end + 4..).is_some_and(|rest| rest.trim_start().starts_with('/'))
            }
            _ => false,
        };
        if !inside {
            break;
        }
        if byte == b' ' {
            since_space = end + 1;
        }
        end += 1;
    }
    // The loop stops on ASCII bytes only, so `end` is a boundary.
    text.split_at_checked(end).unwrap_or((text, ""))
}

/// The value of a numeral: see the module for the meaning of its marks.
fn decimal(numeral: &str, text: &str, style: NumberStyle, accepted: &'static str) -> Result<Decimal, ParseProblem> {
    let not_understood = || ParseProblem::NotUnderstood { given: text.to_owned(), accepted };
    let points = numeral.matches('.').count();
    let commas = numeral.matches(',').count();
    let other = match style {
        NumberStyle::Point => ',',
        NumberStyle::Comma => '.',
    };
    let (whole, decimals) = match (points, commas) {
        (0, 0) => (numeral, ""),
        (1, 0) | (0, 1) => {
            let (whole, decimals) = numeral.split_once(['.', ',']).unwrap_or((numeral, ""));
            let thousands = decimals.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0');
            if thousands && numeral.contains(other) {
                return Err(ParseProblem::Ambiguous {
                    given: text.to_owned(),
                    large: format!("{whole}{decimals}"),
                    small: format!("{whole}{}{decimals}", style.mark()),
                });
            }
            (whole, decimals)
        }
        (_, 0) | (0, _) => (numeral, ""),
        _ => {
            let last = numeral.rfind(['.', ',']).unwrap_or_default();
            let (whole, decimals) = numeral.split_at_checked(last).unwrap_or((numeral, ""));
            let mark = decimals.chars().next().unwrap_or('.');
            if whole.contains(mark) {
                return Err(not_understood());
            }
            (whole, decimals.get(1..).unwrap_or(""))
        }
    };
    if !grouped(whole) || !decimals.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(not_understood());
    }
    let mut all: String = whole.chars().filter(char::is_ascii_digit).collect();
    let all_zero_kept = decimals.trim_end_matches('0');
    if all_zero_kept.len() > MOST_DECIMALS {
        return Err(ParseProblem::TooFine { given: text.to_owned(), places: 9 });
    }
    let mut value = digits(if all.is_empty() { "0" } else { &all }, text)?;
    if !all_zero_kept.is_empty() {
        all.clear();
        all.push_str("0.");
        all.push_str(all_zero_kept);
        let part: Decimal = all.parse().map_err(|_| not_understood())?;
        value = exact::add(value, part).map_err(super::problem::too_large(text, "a smaller number"))?;
    }
    Ok(value)
}

/// True when the marks and spaces before the decimal mark, if any, part groups of three.
fn grouped(whole: &str) -> bool {
    let mut groups = whole.split([' ', ',', '.']);
    let first = groups.next().unwrap_or("");
    let mut parted = false;
    let even = groups.all(|group| {
        parted = true;
        group.len() == 3
    });
    let marks: Vec<char> = whole.chars().filter(|letter| !letter.is_ascii_digit()).collect();
    let one_mark = marks.windows(2).all(|pair| pair.first() == pair.last());
    even && one_mark && (!parted || (1..=3).contains(&first.len()))
}

/// A run of digits as a number.
fn digits(run: &str, text: &str) -> Result<Decimal, ParseProblem> {
    let significant = run.trim_start_matches('0');
    if significant.len() > MOST_WHOLE_DIGITS {
        return Err(ParseProblem::TooLarge { given: text.to_owned(), limit: "a number of 12 digits".to_owned() });
    }
    // Eighteen digits fit an i64.
    Ok(Decimal::from(significant.parse::<i64>().unwrap_or(0)))
}

/// A run of digits at the beginning, if there is one.
fn plain<'a>(rest: &'a str, text: &str) -> Result<Option<(Decimal, &'a str)>, ParseProblem> {
    let end = rest.bytes().take_while(u8::is_ascii_digit).count();
    match rest.split_at_checked(end) {
        Some((run, after)) if end > 0 => Ok(Some((digits(run, text)?, after))),
        _ => Ok(None),
    }
}

fn ratio(numerator: Decimal, denominator: Decimal) -> Option<Number> {
    (!denominator.is_zero()).then_some(Number { numerator, denominator, fraction: true, whole: false })
}

fn add_whole(whole: Decimal, part: Number) -> Result<Number, TooLarge> {
    let numerator = exact::add(exact::mul(whole, part.denominator)?, part.numerator)?;
    Ok(Number { numerator, ..part })
}

/// A fraction sign at the beginning, with the whole number before it.
fn vulgar(rest: &str, whole: Decimal) -> Option<(Number, &str)> {
    let letter = rest.chars().next()?;
    let (numerator, denominator) = match letter {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    let part = ratio(Decimal::from(numerator), Decimal::from(denominator))?;
    Some((add_whole(whole, part).ok()?, rest.get(letter.len_utf8()..)?))
}
