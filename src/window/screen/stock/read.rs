//! Reading the form of an item: what is wrong with a field, and the item once nothing is.

use super::form::{Field, Form, Shape};
use crate::measure::{Decimal, Preferences, Quantity, Unit, parse};
use crate::studio::design::Thickness;
use crate::studio::{Buying, Item, ItemDetails, ItemKind, Metal, Outline, Pack};
use std::ops::RangeInclusive;

/// Days an order may take.
const LEAD_DAYS: RangeInclusive<u32> = 0..=3_650;
/// Packs of a smallest order.
const LEAST_PACKS: RangeInclusive<u32> = 1..=1_000_000;

/// What stands in a field, or what is wrong with it.
type Reading<T> = Result<T, String>;

/// What is wrong with a field, if anything. What is only missing is told once the form was submitted.
pub(super) fn problem(form: &Form, field: Field, preferences: &Preferences) -> Option<String> {
    if !form.tried && form.trimmed(field).is_empty() {
        return None;
    }
    let with = Reader { form, preferences };
    match field {
        Field::Name => form.trimmed(field).is_empty().then(|| "nothing is typed: write a name".to_owned()),
        Field::Reference
        | Field::Mesh
        | Field::Maker
        | Field::MakerNumber
        | Field::Supplier
        | Field::Shelf
        | Field::Note => None,
        Field::Thickness => with.thickness().err(),
        Field::SheetLength | Field::SheetWidth => {
            match with.pair(Field::SheetLength, Field::SheetWidth, Reader::length) {
                Err((wrong, why)) if wrong == field => Some(why),
                _ => None,
            }
        }
        Field::Low | Field::High => match with.pair(Field::Low, Field::High, Reader::heat) {
            Err((wrong, why)) if wrong == field => Some(why),
            _ => None,
        },
        Field::Outer | Field::Wall | Field::Long | Field::Short | Field::Corner | Field::Dome => {
            with.length(field).err()
        }
        Field::Points => with.corners().err(),
        Field::Path => form.trimmed(field).is_empty().then(|| "nothing is drawn: write an SVG path in mm".to_owned()),
        Field::Holes => with.holes().err(),
        Field::Joint => with.optional(field, Reader::heat).err(),
        Field::Flow => with.heat(field).err(),
        Field::Swatch => with.swatch().err(),
        Field::Reorder => with.optional(field, Reader::quantity).err(),
        Field::Pack => with.optional(field, Reader::pack).err(),
        Field::LeadDays => with.optional(field, |with, field| with.count(field, LEAD_DAYS)).err(),
        Field::LeastPacks => with.optional(field, |with, field| with.count(field, LEAST_PACKS)).err(),
    }
}

/// The first field that cannot be accepted.
pub(super) fn first_problem(form: &Form, preferences: &Preferences) -> Option<Field> {
    form.used().find(|field| problem(form, *field, preferences).is_some())
}

/// The item, once every field can be read.
pub(super) fn item(form: &Form, preferences: &Preferences) -> Option<Item> {
    let with = Reader { form, preferences };
    let text = |field| form.trimmed(field).to_owned();
    if form.trimmed(Field::Name).is_empty() {
        return None;
    }
    Some(Item {
        reference: text(Field::Reference),
        name: text(Field::Name),
        unit: form.unit,
        details: with.details().ok()?,
        maker: text(Field::Maker),
        maker_number: text(Field::MakerNumber),
        supplier: text(Field::Supplier),
        shelf: text(Field::Shelf),
        note: text(Field::Note),
        reorder_level: with.optional(Field::Reorder, Reader::quantity).ok()?,
        lead_bearing: form.lead,
        retired: form.aside,
        buying: Buying {
            lead_days: with.optional(Field::LeadDays, |with, field| with.count(field, LEAD_DAYS)).ok()?,
            pack: with.optional(Field::Pack, Reader::pack).ok()?,
            minimum_order_packs: with.optional(Field::LeastPacks, |with, field| with.count(field, LEAST_PACKS)).ok()?,
        },
    })
}

/// The colour typed as `#rrggbb` or `r, g, b`.
pub(in crate::window::screen) fn swatch(text: &str) -> Option<[u8; 3]> {
    let text = text.trim();
    let digits = text.strip_prefix('#').unwrap_or(text);
    if digits.len() == 6 && digits.bytes().all(|byte| byte.is_ascii_hexdigit()) {
        let part = |start: usize| digits.get(start..start + 2).and_then(|two| u8::from_str_radix(two, 16).ok());
        return Some([part(0)?, part(2)?, part(4)?]);
    }
    let parts: Vec<u8> = text
        .split([',', ' ', ';'])
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .map(|part| part.parse().ok())
        .collect::<Option<_>>()?;
    parts.try_into().ok()
}

#[derive(Clone, Copy)]
struct Reader<'a> {
    form: &'a Form,
    preferences: &'a Preferences,
}

impl Reader<'_> {
    fn length(&self, field: Field) -> Reading<Decimal> {
        parse::parse_length_mm(self.form.trimmed(field), self.preferences).map_err(|problem| problem.to_string())
    }

    fn heat(&self, field: Field) -> Reading<Decimal> {
        parse::parse_temperature_celsius(self.form.trimmed(field), self.preferences)
            .map_err(|problem| problem.to_string())
    }

    fn quantity(&self, field: Field) -> Reading<Quantity> {
        parse::parse_quantity(self.form.trimmed(field), self.form.unit, self.preferences)
            .map(|typed| typed.quantity())
            .map_err(|problem| problem.to_string())
    }

    fn count(&self, field: Field, range: RangeInclusive<u32>) -> Reading<u32> {
        parse::parse_count(self.form.trimmed(field), range, self.preferences).map_err(|problem| problem.to_string())
    }

    /// The pack as typed; one that was left as it came stays what it was, in whatever units the book shows now.
    fn pack(&self, field: Field) -> Reading<Pack> {
        let text = self.form.trimmed(field);
        match &self.form.pack {
            Some((pack, unit)) if pack.words == text && *unit == self.form.unit => Ok(pack.clone()),
            _ => Pack::typed(text, self.form.unit, self.preferences).map_err(|problem| problem.to_string()),
        }
    }

    fn thickness(&self) -> Reading<Thickness> {
        parse::parse_thickness(self.form.trimmed(Field::Thickness), self.preferences)
            .map(Thickness::from)
            .map_err(|problem| problem.to_string())
    }

    fn swatch(&self) -> Reading<[u8; 3]> {
        let text = self.form.trimmed(Field::Swatch);
        swatch(text)
            .ok_or_else(|| format!("{text:?} cannot be read: write red, green, blue as #3a6ea5 or as 58, 110, 165"))
    }

    fn holes(&self) -> Reading<Vec<Decimal>> {
        self.form
            .trimmed(Field::Holes)
            .split(';')
            .map(str::trim)
            .filter(|hole| !hole.is_empty())
            .map(|hole| parse::parse_length_mm(hole, self.preferences).map_err(|problem| problem.to_string()))
            .collect()
    }

    fn corners(&self) -> Reading<Vec<[Decimal; 2]>> {
        let text = self.form.trimmed(Field::Points);
        let wrong = || format!("{text:?} cannot be read: write three corners or more in mm, as 0 0; 20 0; 10 15");
        let corners: Option<Vec<[Decimal; 2]>> = text
            .split(';')
            .map(str::trim)
            .filter(|corner| !corner.is_empty())
            .map(|corner| {
                let (x, y) = corner.split_once(char::is_whitespace)?;
                Some([self.coordinate(x)?, self.coordinate(y.trim())?])
            })
            .collect();
        corners.filter(|corners| corners.len() >= 3).ok_or_else(wrong)
    }

    /// A number in mm that may be below zero.
    fn coordinate(&self, text: &str) -> Option<Decimal> {
        let (below, size) = match text.strip_prefix(['-', '\u{2212}']) {
            Some(size) => (true, size),
            None => (false, text),
        };
        let value = parse::parse_number(size, self.preferences).ok()?;
        Some(if below && !value.is_zero() { -value } else { value })
    }

    /// Nothing, where nothing is typed.
    fn optional<T>(&self, field: Field, read: impl Fn(&Self, Field) -> Reading<T>) -> Reading<Option<T>> {
        if self.form.trimmed(field).is_empty() { Ok(None) } else { read(self, field).map(Some) }
    }

    /// Two that are given together or not at all; the field that is wrong, and why.
    fn pair<T>(
        &self,
        first: Field,
        second: Field,
        read: impl Fn(&Self, Field) -> Reading<T>,
    ) -> Result<Option<[T; 2]>, (Field, String)> {
        let both = (self.optional(first, &read), self.optional(second, &read));
        let alone = || "write both, or neither".to_owned();
        match both {
            (Err(why), _) => Err((first, why)),
            (_, Err(why)) => Err((second, why)),
            (Ok(Some(a)), Ok(Some(b))) => Ok(Some([a, b])),
            (Ok(None), Ok(None)) => Ok(None),
            (Ok(None), _) => Err((first, alone())),
            (_, Ok(None)) => Err((second, alone())),
        }
    }

    fn details(&self) -> Reading<ItemDetails> {
        let form = self.form;
        let metal = form.metal.unwrap_or(Metal::Copper);
        Ok(match form.kind {
            ItemKind::Sheet => ItemDetails::Sheet {
                metal,
                thickness: self.thickness()?,
                size_mm: self.pair(Field::SheetLength, Field::SheetWidth, Self::length).map_err(|(_, why)| why)?,
            },
            ItemKind::Wire => ItemDetails::Wire { metal, thickness: self.thickness()? },
            ItemKind::Tube => {
                ItemDetails::Tube { metal, outer_mm: self.length(Field::Outer)?, wall_mm: self.length(Field::Wall)? }
            }
            ItemKind::Blank => ItemDetails::Blank {
                metal,
                thickness: self.thickness()?,
                outline: self.outline()?,
                dome_height_mm: self.optional(Field::Dome, Self::length)?.unwrap_or_default(),
                holes_mm: self.holes()?,
                solder_flow_c: self.optional(Field::Joint, Self::heat)?,
            },
            ItemKind::Enamel => ItemDetails::Enamel {
                enamel: form.enamel,
                swatch: self.swatch()?,
                mesh: form.trimmed(Field::Mesh).to_owned(),
                fusing: form.fusing,
                firing_c: self.pair(Field::Low, Field::High, Self::heat).map_err(|(_, why)| why)?,
            },
            ItemKind::Finding => ItemDetails::Finding { metal: form.metal },
            ItemKind::Solder => ItemDetails::Solder { flow_c: self.heat(Field::Flow)? },
            ItemKind::Consumable => ItemDetails::Consumable,
            ItemKind::Packaging => ItemDetails::Packaging,
        })
    }

    fn outline(&self) -> Reading<Outline> {
        let (long, short) = (|| self.length(Field::Long), || self.length(Field::Short));
        Ok(match self.form.shape {
            Shape::Disc => Outline::Disc { diameter_mm: long()? },
            Shape::Ellipse => Outline::Ellipse { length_mm: long()?, width_mm: short()? },
            Shape::Rectangle => Outline::Rectangle {
                length_mm: long()?,
                width_mm: short()?,
                corner_mm: self.optional(Field::Corner, Self::length)?.unwrap_or_default(),
            },
            Shape::Drop => Outline::Drop { height_mm: long()?, width_mm: short()? },
            Shape::Polygon => Outline::Polygon { points_mm: self.corners()? },
            Shape::Path => Outline::Path { svg: self.form.trimmed(Field::Path).to_owned() },
        })
    }
}

/// What a quantity comes to in her own unit: `= 56.7 g`; nothing while it cannot be read.
pub(super) fn understood(text: &str, unit: Unit, preferences: &Preferences) -> String {
    match parse::parse_quantity(text, unit, preferences) {
        Ok(typed) => format!("= {}", crate::measure::display::quantity(typed.value, unit, preferences)),
        Err(_) => String::new(),
    }
}

/// What the pack typed holds: `holds 453.6 g`; nothing while it cannot be read.
pub(super) fn pack_understood(form: &Form, preferences: &Preferences) -> String {
    match (Reader { form, preferences }).pack(Field::Pack) {
        Ok(pack) => {
            format!("holds {}", crate::measure::display::quantity(pack.quantity.amount(), form.unit, preferences))
        }
        Err(_) => String::new(),
    }
}

/// How a pack of that unit may be written.
pub(super) const fn pack_example(unit: Unit) -> &'static str {
    match unit {
        Unit::Gram => "e.g. 1 lb jar",
        Unit::Each => "e.g. pack of 50",
        Unit::Millimetre => "e.g. spool of 100 ft",
        Unit::Millilitre => "e.g. 500 ml bottle",
    }
}

#[cfg(test)]
mod tests {
    use super::super::form::Change;
    use super::*;
    use crate::book::StockRow;
    use crate::measure::{Currency, Money, TemperatureUnit};
    use crate::studio::ItemId;

    fn metric() -> Preferences {
        Preferences::metric(Currency::USD)
    }

    fn typed(form: &mut Form, field: Field, text: &str) {
        form.change(Change::Typed(field, text.to_owned()));
    }

    #[test]
    fn a_colour_is_read_in_both_ways_and_in_no_other() {
        assert_eq!(swatch("#3a6ea5"), Some([58, 110, 165]));
        assert_eq!(swatch("3A6EA5"), Some([58, 110, 165]));
        assert_eq!(swatch("58, 110,165"), Some([58, 110, 165]));
        for wrong in ["", "#3a6ea", "1,2", "1,2,3,4", "1,2,256", "blue", "#ééé"] {
            assert_eq!(swatch(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn a_name_is_enough_for_every_kind_but_solder() {
        for kind in ItemKind::ALL {
            let mut form = Form::new(kind, &metric());
            assert_eq!(item(&form, &metric()), None);
            typed(&mut form, Field::Name, "Fen green");
            form.tried = true;
            if kind == ItemKind::Solder {
                assert_eq!(first_problem(&form, &metric()), Some(Field::Flow));
            } else {
                assert_eq!(first_problem(&form, &metric()), None, "{kind:?}");
                assert_eq!(item(&form, &metric()).unwrap().details.kind(), kind);
            }
        }
    }

    #[test]
    fn an_item_in_the_form_and_out_again_is_the_same_in_any_units() {
        let fahrenheit = Preferences {
            temperature: TemperatureUnit::Fahrenheit,
            length: crate::measure::LengthUnit::Inch,
            mass: crate::measure::MassUnit::Ounce,
            numbers: crate::measure::NumberStyle::Comma,
            ..metric()
        };
        let mut form = Form::new(ItemKind::Blank, &metric());
        for (field, text) in [
            (Field::Name, "Gate plate"),
            (Field::Thickness, "0.81 mm"),
            (Field::Points, "0 0; 20 -1.5; 10 15"),
            (Field::Holes, "2; 1/16 in"),
            (Field::Joint, "1350 F"),
            (Field::Reorder, "1 dozen"),
            (Field::Pack, "pack of 50"),
            (Field::LeadDays, "10"),
            (Field::LeastPacks, "2"),
        ] {
            typed(&mut form, field, text);
        }
        form.change(Change::Shape(Shape::Polygon));
        let first = item(&form, &metric()).unwrap();
        let row = StockRow {
            id: ItemId(1),
            item: first.clone(),
            on_hand: Quantity::ZERO,
            value: Money::ZERO,
            book_price: None,
            replacement_price: None,
            last_moved: None,
        };
        for preferences in [metric(), fahrenheit] {
            assert_eq!(item(&Form::of(&row, &preferences), &preferences), Some(first.clone()));
        }
    }

    #[test]
    fn what_is_wrong_stands_at_its_own_field() {
        let mut form = Form::new(ItemKind::Enamel, &metric());
        typed(&mut form, Field::Name, "Fen green");
        typed(&mut form, Field::Low, "760");
        form.tried = true;
        assert_eq!(first_problem(&form, &metric()), Some(Field::High));
        typed(&mut form, Field::High, "hot");
        assert!(problem(&form, Field::High, &metric()).unwrap().contains("hot"));
        typed(&mut form, Field::High, "800");
        assert_eq!(first_problem(&form, &metric()), None);
    }

    #[test]
    fn a_pack_left_as_it_came_keeps_what_it_holds_in_other_units() {
        let mut form = Form::new(ItemKind::Enamel, &metric());
        for (field, text) in [(Field::Name, "Fen green"), (Field::Pack, "bag of 500")] {
            typed(&mut form, field, text);
        }
        let first = item(&form, &metric()).unwrap();
        assert_eq!(first.buying.pack.as_ref().unwrap().quantity.to_string(), "500");
        let row = StockRow {
            id: ItemId(1),
            item: first.clone(),
            on_hand: Quantity::ZERO,
            value: Money::ZERO,
            book_price: None,
            replacement_price: None,
            last_moved: None,
        };
        let ounces = Preferences { mass: crate::measure::MassUnit::Ounce, ..metric() };
        let mut form = Form::of(&row, &ounces);
        assert_eq!(item(&form, &ounces), Some(first));
        // Typed anew, it is read in the units of now: one avoirdupois pound is 453.59237 g.
        typed(&mut form, Field::Pack, "1 lb jar");
        assert_eq!(item(&form, &ounces).unwrap().buying.pack.unwrap().quantity.to_string(), "453.59237");
        typed(&mut form, Field::LeastPacks, "0");
        form.tried = true;
        assert_eq!(first_problem(&form, &ounces), Some(Field::LeastPacks));
    }
}
