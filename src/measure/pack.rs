//! Reading how a thing is bought: `1 lb jar`, `bag of 500 g`, `pack of 50`, `3 × 100 g`, `6 × 12 in sheet`,
//! `spool of 100 ft`.
//!
//! A pack is a quantity as [`super::parse`] reads it, with words around it: what it comes in after the quantity, or
//! before it with `of`; how many of them before a multiplication sign, or before the word for it. Two lengths with a
//! multiplication sign between them are one sheet of that size. A container after a number without a unit is taken as
//! so many pieces (`50 pack`); `2 packs` and `1 jar` say nothing about what is in them, and are refused.

use super::exact::{self, Decimal};
use super::number;
use super::parse::{parse_count, parse_length_mm, parse_quantity};
use super::preferences::Preferences;
use super::problem::{ParseProblem, too_large};
use super::quantity::{QUANTITY_LIMIT, Quantity, Unit};

/// What is bought at once, as typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TypedPack {
    /// The text, with spaces tidied.
    pub text: String,
    /// What it holds, in the item's unit; above 0, at most nine decimals.
    pub quantity: Quantity,
    /// Width and length of a sheet, mm, where they were typed.
    pub size_mm: Option<[Decimal; 2]>,
}

/// Most packs in one that can be typed, as in `3 × 100 g`.
const MOST_PACKS: u32 = 1_000_000;

/// What things come in: singular, plural.
const CONTAINERS: [(&str, &str); 22] = [
    ("bag", "bags"),
    ("bottle", "bottles"),
    ("box", "boxes"),
    ("bundle", "bundles"),
    ("can", "cans"),
    ("carton", "cartons"),
    ("case", "cases"),
    ("coil", "coils"),
    ("envelope", "envelopes"),
    ("hank", "hanks"),
    ("jar", "jars"),
    ("length", "lengths"),
    ("pack", "packs"),
    ("package", "packages"),
    ("packet", "packets"),
    ("pot", "pots"),
    ("reel", "reels"),
    ("roll", "rolls"),
    ("set", "sets"),
    ("spool", "spools"),
    ("tin", "tins"),
    ("tub", "tubs"),
];

/// What is counted itself.
const SHEETS: [&str; 2] = ["sheet", "sheets"];
const PIECES: [&str; 12] =
    ["blank", "blanks", "disc", "discs", "item", "items", "plate", "plates", "rod", "rods", "unit", "units"];

const fn accepted(unit: Unit) -> &'static str {
    match unit {
        Unit::Gram => "how it is bought and what it holds, such as 1 lb jar, bag of 500 g or 3 × 100 g",
        Unit::Each => "how it is bought and what it holds, such as pack of 50, 2 dozen or 6 × 12 in sheet",
        Unit::Millimetre => "how it is bought and what it holds, such as spool of 100 ft or 3 × 2 m",
        Unit::Millilitre => "how it is bought and what it holds, such as 500 ml bottle or 6 × 250 ml",
    }
}

/// How an item kept in `unit` is bought, and what that holds.
///
/// # Errors
/// A [`ParseProblem`] where nothing, no quantity, an unknown word or a unit of another kind is typed, or where the pack
/// holds nothing, part of a piece, or more than [`QUANTITY_LIMIT`].
pub fn parse_pack(text: &str, unit: Unit, preferences: &Preferences) -> Result<TypedPack, ParseProblem> {
    let text = number::tidy(text, accepted(unit))?;
    let reading = Reading { text: &text, unit, preferences };
    let (value, size_mm) = reading.pack(&text)?;
    let out_of_range = |accepted: &str| ParseProblem::OutOfRange { given: text.clone(), accepted: accepted.to_owned() };
    if value.is_zero() {
        return Err(out_of_range("a pack that holds something"));
    }
    if unit == Unit::Each && !value.is_integer() {
        return Err(out_of_range("a pack of whole pieces"));
    }
    let quantity = Quantity::new(value).filter(|_| value <= Decimal::from(QUANTITY_LIMIT));
    let quantity = quantity.ok_or_else(|| ParseProblem::TooLarge { given: text.clone(), limit: reading.limit() })?;
    Ok(TypedPack { text, quantity, size_mm })
}

/// A pack being read.
struct Reading<'a> {
    /// The whole text, tidied.
    text: &'a str,
    unit: Unit,
    preferences: &'a Preferences,
}

type Sheet = Option<[Decimal; 2]>;

impl Reading<'_> {
    fn limit(&self) -> String {
        format!("1 000 000 000 {}", self.unit)
    }

    fn not_understood(&self) -> ParseProblem {
        ParseProblem::NotUnderstood { given: self.text.to_owned(), accepted: accepted(self.unit) }
    }

    /// A problem of a part, said of the whole text.
    fn of_whole(&self, problem: ParseProblem) -> ParseProblem {
        let (given, accepted) = (self.text.to_owned(), accepted(self.unit));
        match problem {
            ParseProblem::UnknownUnit { unit, .. } => ParseProblem::UnknownUnit { given, unit, accepted },
            ParseProblem::Empty { .. } | ParseProblem::NotUnderstood { .. } | ParseProblem::OutOfRange { .. } => {
                ParseProblem::NotUnderstood { given, accepted }
            }
            ParseProblem::Negative { .. } => ParseProblem::Negative { given, accepted },
            other => other,
        }
    }

    fn pack(&self, part: &str) -> Result<(Decimal, Sheet), ParseProblem> {
        if let Some((before, after)) = part.split_once(" of ") {
            let (many, noun) = match before.rsplit_once(' ') {
                Some((many, noun)) => (self.packs(many)?, noun),
                None => (Decimal::ONE, before),
            };
            if container(noun).is_none() {
                return Err(self.unknown(noun));
            }
            let (value, size) = self.times(after)?;
            return Ok((self.product(many, value)?, size));
        }
        self.times(part)
    }

    /// `3 × 100 g`, `6 × 12 in sheet`, or an amount.
    fn times(&self, part: &str) -> Result<(Decimal, Sheet), ParseProblem> {
        let Some((before, after)) = at_times(part) else {
            return self.amount(part).map(|value| (value, None));
        };
        if let Some(size) = self.sheet(before, after)? {
            return Ok((Decimal::ONE, Some(size)));
        }
        let many = self.packs(before)?;
        Ok((self.product(many, self.amount(after)?)?, None))
    }

    /// Two sides of a sheet, where lengths or the word for it are typed; the first may leave out its unit.
    fn sheet(&self, before: &str, after: &str) -> Result<Sheet, ParseProblem> {
        if self.unit != Unit::Each {
            return Ok(None);
        }
        let (second, named) = match after.rsplit_once(' ') {
            Some((second, noun)) if SHEETS.contains(&noun.to_lowercase().as_str()) => (second, true),
            _ => (after, false),
        };
        let length = |text: &str| parse_length_mm(text, self.preferences);
        let (_, unit) = number::leading(second, self.preferences.numbers, accepted(self.unit))
            .map_err(|problem| self.of_whole(problem))?;
        if !named && (unit.is_empty() || length(second).is_err()) {
            return Ok(None);
        }
        let (_, own) = number::leading(before, self.preferences.numbers, accepted(self.unit))
            .map_err(|problem| self.of_whole(problem))?;
        let first = if own.is_empty() { length(&format!("{before} {unit}")) } else { length(before) };
        let sides = [first, length(second)];
        let [first, second] = sides;
        let (first, second) =
            (first.map_err(|problem| self.of_whole(problem))?, second.map_err(|problem| self.of_whole(problem))?);
        if first.is_zero() || second.is_zero() {
            return Err(self.not_understood());
        }
        Ok(Some([first, second]))
    }

    /// A quantity, with or without what it comes in behind it.
    fn amount(&self, part: &str) -> Result<Decimal, ParseProblem> {
        let problem = match self.quantity(part) {
            Ok(value) => return Ok(value),
            Err(problem) => problem,
        };
        let (base, noun) = part.rsplit_once(' ').unwrap_or(("", part));
        let lower = noun.to_lowercase();
        let counted = SHEETS.contains(&lower.as_str()) || PIECES.contains(&lower.as_str());
        let container = container(noun);
        if base.is_empty() && !part.contains(|letter: char| letter.is_numeric()) {
            // `dozen`, `lb`, `sheet`: one of it.
            return match (counted, container) {
                (true, _) if self.unit == Unit::Each => Ok(Decimal::ONE),
                (false, None) => self.quantity(&format!("1 {part}")).map_err(|_| self.not_understood()),
                _ => Err(self.not_understood()),
            };
        }
        if base.is_empty() || (!counted && container.is_none()) {
            return Err(self.of_whole(problem));
        }
        let value = self.quantity(base).map_err(|problem| self.of_whole(problem))?;
        let (_, unit) = number::leading(base, self.preferences.numbers, accepted(self.unit))
            .map_err(|problem| self.of_whole(problem))?;
        let clear = match (self.unit, container) {
            (Unit::Each, None) => true,
            (_, None) => return Err(self.of_whole(problem)),
            // `50 pack` holds fifty; `1 pack` and `2 packs` do not say.
            (Unit::Each, Some(Number::One)) => !unit.is_empty() || value != Decimal::ONE,
            _ => !unit.is_empty(),
        };
        if clear { Ok(value) } else { Err(self.not_understood()) }
    }

    fn quantity(&self, part: &str) -> Result<Decimal, ParseProblem> {
        parse_quantity(part, self.unit, self.preferences).map(|typed| typed.value)
    }

    /// How many packs.
    fn packs(&self, part: &str) -> Result<Decimal, ParseProblem> {
        if matches!(part.to_lowercase().as_str(), "a" | "an" | "one") {
            return Ok(Decimal::ONE);
        }
        let many = parse_count(part, 1..=MOST_PACKS, self.preferences).map_err(|problem| self.of_whole(problem))?;
        Ok(Decimal::from(many))
    }

    fn product(&self, many: Decimal, value: Decimal) -> Result<Decimal, ParseProblem> {
        exact::mul(many, value).map(|product| product.normalize()).map_err(too_large(self.text, self.limit()))
    }

    fn unknown(&self, word: &str) -> ParseProblem {
        let (given, accepted) = (self.text.to_owned(), accepted(self.unit));
        ParseProblem::UnknownUnit { given, unit: word.to_owned(), accepted }
    }
}

/// Whether a container is named once or many times.
#[derive(Clone, Copy)]
enum Number {
    One,
    Many,
}

fn container(word: &str) -> Option<Number> {
    let word = word.to_lowercase();
    CONTAINERS.iter().find_map(|&(one, many)| match word.as_str() {
        word if word == one => Some(Number::One),
        word if word == many => Some(Number::Many),
        _ => None,
    })
}

/// What stands before and after the multiplication sign: `×`, `*`, `by`, or an `x` beside a number.
fn at_times(text: &str) -> Option<(&str, &str)> {
    let part = |place: usize, long: usize| {
        let (before, after) = (text.get(..place)?.trim_end(), text.get(place + long..)?.trim_start());
        (!before.is_empty() && !after.is_empty()).then_some((before, after))
    };
    for sign in ["×", "*", " by "] {
        if let Some(place) = text.find(sign) {
            return part(place, sign.len());
        }
    }
    text.char_indices().filter(|(_, letter)| matches!(letter, 'x' | 'X')).find_map(|(place, _)| {
        let (before, after) = part(place, 1)?;
        let spaced = text.get(..place)?.ends_with(' ');
        let number_before = spaced || before.ends_with(|letter: char| letter.is_numeric() || "\"″”".contains(letter));
        (number_before && after.starts_with(char::is_numeric)).then_some((before, after))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn preferences() -> Preferences {
        Preferences {
            currency: crate::measure::Currency::USD,
            numbers: crate::measure::NumberStyle::Point,
            temperature: crate::measure::TemperatureUnit::Celsius,
            length: crate::measure::LengthUnit::Millimetre,
            mass: crate::measure::MassUnit::Gram,
            thickness: crate::measure::ThicknessUnit::Gauge,
        }
    }

    fn holds(text: &str, unit: Unit) -> String {
        parse_pack(text, unit, &preferences()).unwrap().quantity.to_string()
    }

    // Factors: NIST SP 811, appendix B (1 lb = 453.59237 g, 1 in = 25.4 mm, 1 ft = 304.8 mm), checked in the tests of
    // the units; the words are common practice, no source.
    #[test]
    fn packs_are_read_as_people_buy() {
        for (text, unit, quantity) in [
            ("1 lb jar", Unit::Gram, "453.59237"),
            ("1lb  Jar", Unit::Gram, "453.59237"),
            ("jar of 1/4 lb", Unit::Gram, "113.3980925"),
            ("3 jars of 100 g", Unit::Gram, "300"),
            ("3 × 100 g", Unit::Gram, "300"),
            ("3x100g", Unit::Gram, "300"),
            ("500", Unit::Gram, "500"),
            ("lb", Unit::Gram, "453.59237"),
            ("pack of 50", Unit::Each, "50"),
            ("a pack of 50", Unit::Each, "50"),
            ("50 pack", Unit::Each, "50"),
            ("2 packs of 50", Unit::Each, "100"),
            ("bag of 12 pairs", Unit::Each, "24"),
            ("dozen", Unit::Each, "12"),
            ("sheet", Unit::Each, "1"),
            ("box of 20 blanks", Unit::Each, "20"),
            ("5 sheets", Unit::Each, "5"),
            ("2 × 50", Unit::Each, "100"),
            ("6 × 12 in sheet", Unit::Each, "1"),
            ("spool of 100 ft", Unit::Millimetre, "30480"),
            ("100 ft spool", Unit::Millimetre, "30480"),
            ("3 by 2 m", Unit::Millimetre, "6000"),
            ("500 ml bottle", Unit::Millilitre, "500"),
        ] {
            assert_eq!(holds(text, unit), quantity, "{text}");
        }
    }

    #[test]
    fn a_sheet_has_its_size() {
        for text in
            ["6 × 12 in sheet", "6 in x 12 in", "6\" x 12\" sheet", "6x12 in", "152.4 × 304.8 sheet", "6 by 12 in"]
        {
            let pack = parse_pack(text, Unit::Each, &preferences()).unwrap();
            assert_eq!(pack.size_mm, Some([Decimal::new(1524, 1), Decimal::new(3048, 1)]), "{text}");
            assert_eq!(pack.text, text);
        }
        let five = parse_pack("pack of 5 × 10 cm", Unit::Each, &preferences()).unwrap();
        assert_eq!(five.size_mm, Some([Decimal::from(50), Decimal::from(100)]));
    }

    #[test]
    fn what_does_not_say_how_much_is_refused_with_what_would() {
        for (text, unit) in [
            ("2 jars", Unit::Gram),
            ("1 jar", Unit::Gram),
            ("jar", Unit::Gram),
            ("2 packs", Unit::Each),
            ("1 box", Unit::Each),
            ("pack", Unit::Each),
            ("pack of", Unit::Each),
            ("of 5", Unit::Each),
            ("0 × 5", Unit::Each),
            ("6 × 12 in sheet", Unit::Gram),
            ("spool of 100 ft", Unit::Gram),
            ("1 lb jar", Unit::Each),
            ("x", Unit::Each),
            ("×", Unit::Each),
            ("5 sheets", Unit::Gram),
            ("pack of 2.5", Unit::Each),
            ("pack of 0", Unit::Each),
            ("barrel of 5 kg", Unit::Gram),
            ("-1 lb jar", Unit::Gram),
            ("1000000 × 1000000", Unit::Each),
        ] {
            let sentence = parse_pack(text, unit, &preferences()).unwrap_err().to_string();
            assert!(sentence.contains(&format!("{text:?}")), "{sentence}");
        }
        assert_eq!(
            parse_pack("spool of 100 ft", Unit::Gram, &preferences()).unwrap_err().to_string(),
            "\"ft\" in \"spool of 100 ft\" is not a unit that fits here: write how it is bought and what it holds, \
             such as 1 lb jar, bag of 500 g or 3 × 100 g"
        );
        assert!(matches!(parse_pack(" ", Unit::Each, &preferences()), Err(ParseProblem::Empty { .. })));
    }
}
