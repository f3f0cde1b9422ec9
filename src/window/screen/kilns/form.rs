//! The form of a kiln: what is typed and chosen in it, and the kiln it makes.

use super::super::kiln::fields::{self, Fields, Reading};
use super::Heats;
use crate::measure::{Decimal, Preferences, Unit, edit, parse};
use crate::studio::{BookKiln, ElectricKiln, FittedHeat, HeatSource, Kiln, KilnId, ShareLoadBy};
use chrono::NaiveDate;

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// Her name for it.
    Name,
    /// Rated power.
    Power,
    /// Minutes from cold to the working temperature.
    WarmUp,
    /// The working temperature.
    Working,
    /// Share of time the elements are on at it.
    Duty,
    /// The room.
    Room,
    /// The maker's rated maximum.
    Rated,
    /// Usable shelf area.
    Shelf,
    /// Shelf and trivets that go in with a load.
    Furniture,
    /// Heat lost at an opening of the door.
    Door,
    /// The day the elements were renewed.
    Elements,
    /// The day the thermocouple was renewed.
    Thermocouple,
    /// Anything else.
    Note,
}

impl Field {
    /// Those of an electric kiln alone, in reading order.
    const ELECTRIC: [Self; 11] = [
        Self::Power,
        Self::WarmUp,
        Self::Working,
        Self::Duty,
        Self::Room,
        Self::Rated,
        Self::Shelf,
        Self::Furniture,
        Self::Door,
        Self::Elements,
        Self::Thermocouple,
    ];

    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("kiln-{self:?}").to_lowercase()
    }
}

/// The form as it stands.
#[derive(Debug, Clone)]
pub(super) struct Form {
    pub(super) id: Option<KilnId>,
    pub(super) title: String,
    pub(super) fields: Fields<Field>,
    pub(super) heats: Heats,
    pub(super) share_by: ShareLoadBy,
    fitted: Option<FittedHeat>,
    retired: bool,
    pub(super) tried: bool,
    pub(super) refusal: Option<String>,
}

impl Form {
    /// A new kiln; its parts count from today.
    pub(super) fn new(today: NaiveDate, p: &Preferences) -> Self {
        let mut fields = Fields::default();
        // A room of 20 °C unless she says otherwise (kiln and batch method, section 1).
        fields.set(Field::Room, edit::edit_temperature(Decimal::from(20), p));
        fields.set(Field::Furniture, edit::edit_quantity(Decimal::ZERO, Unit::Gram, p));
        fields.set(Field::Door, "0");
        fields.set(Field::Elements, today.to_string());
        fields.set(Field::Thermocouple, today.to_string());
        Self {
            id: None,
            title: "A new kiln".to_owned(),
            fields,
            heats: Heats::Electric,
            share_by: ShareLoadBy::Area,
            fitted: None,
            retired: false,
            tried: false,
            refusal: None,
        }
    }

    /// A kiln as it is.
    pub(super) fn of(book: &BookKiln, today: NaiveDate, p: &Preferences) -> Self {
        let mut form = Self::new(today, p);
        let kiln = &book.kiln;
        form.id = Some(book.id);
        form.title.clone_from(&kiln.name);
        form.retired = kiln.retired;
        form.fields.set(Field::Name, kiln.name.clone());
        form.fields.set(Field::Note, kiln.note.clone());
        match &kiln.heat {
            HeatSource::Torch => form.heats = Heats::Torch,
            HeatSource::Electric(electric) => {
                form.share_by = electric.share_by;
                form.fitted.clone_from(&electric.fitted);
                for (field, text) in [
                    (Field::Power, edit::edit_number(electric.rated_kw, p)),
                    (Field::WarmUp, edit::edit_minutes(electric.warm_up_minutes, p)),
                    (Field::Working, edit::edit_temperature(electric.working_celsius, p)),
                    (Field::Duty, edit::edit_share(electric.duty, p)),
                    (Field::Room, edit::edit_temperature(electric.room_celsius, p)),
                    (Field::Rated, edit::edit_temperature(electric.rated_max_celsius, p)),
                    (Field::Shelf, edit::edit_number(electric.shelf_cm2, p)),
                    (Field::Furniture, edit::edit_quantity(electric.furniture_g, Unit::Gram, p)),
                    (Field::Door, edit::edit_number(electric.door_kwh, p)),
                    (Field::Elements, electric.elements_since.to_string()),
                    (Field::Thermocouple, electric.thermocouple_since.to_string()),
                ] {
                    form.fields.set(field, text);
                }
            }
        }
        form
    }

    fn duty(&self, p: &Preferences) -> Reading<Decimal> {
        let text = self.fields.trimmed(Field::Duty);
        let duty = parse::parse_share(text, p).map_err(|problem| problem.to_string())?;
        if duty.is_zero() || duty == Decimal::ONE {
            return Err(format!("{text:?} cannot be: write a share above 0 % and below 100 %, e.g. 45 %"));
        }
        Ok(duty)
    }

    fn furniture(&self, p: &Preferences) -> Reading<Decimal> {
        parse::parse_quantity(self.fields.trimmed(Field::Furniture), Unit::Gram, p)
            .map(|typed| typed.quantity().amount())
            .map_err(|problem| problem.to_string())
    }

    /// What is wrong with a field, if anything. What is only missing is told once the form was submitted.
    pub(super) fn problem(&self, field: Field, p: &Preferences) -> Option<String> {
        let text = self.fields.trimmed(field);
        if (text.is_empty() && !self.tried) || field == Field::Note {
            return None;
        }
        match field {
            Field::Name => text.is_empty().then(|| "it needs a name".to_owned()),
            Field::Note => None,
            Field::Power | Field::Shelf => fields::above_zero(text, p).err(),
            Field::WarmUp => fields::minutes(text, p).err(),
            Field::Working | Field::Room | Field::Rated => fields::temperature(text, p).err(),
            Field::Duty => self.duty(p).err(),
            Field::Furniture => self.furniture(p).err(),
            Field::Door => fields::number(text, p).err(),
            Field::Elements | Field::Thermocouple => fields::day(text).err(),
        }
    }

    /// The first field that cannot be accepted.
    pub(super) fn first_problem(&self, p: &Preferences) -> Option<Field> {
        let electric = if self.heats == Heats::Electric { &Field::ELECTRIC[..] } else { &[] };
        let mut all = std::iter::once(Field::Name).chain(electric.iter().copied());
        all.find(|field| self.problem(*field, p).is_some())
    }

    /// The kiln, once every field can be read.
    pub(super) fn kiln(&self, p: &Preferences) -> Option<Kiln> {
        let text = |field| self.fields.trimmed(field);
        let heat = |field| fields::temperature(text(field), p).ok();
        let source = match self.heats {
            Heats::Torch => HeatSource::Torch,
            Heats::Electric => HeatSource::Electric(Box::new(ElectricKiln {
                rated_kw: fields::above_zero(text(Field::Power), p).ok()?,
                warm_up_minutes: fields::minutes(text(Field::WarmUp), p).ok()?,
                working_celsius: heat(Field::Working)?,
                duty: self.duty(p).ok()?,
                room_celsius: heat(Field::Room)?,
                rated_max_celsius: heat(Field::Rated)?,
                shelf_cm2: fields::above_zero(text(Field::Shelf), p).ok()?,
                furniture_g: self.furniture(p).ok()?,
                door_kwh: fields::number(text(Field::Door), p).ok()?,
                share_by: self.share_by,
                fitted: self.fitted.clone(),
                elements_since: fields::day(text(Field::Elements)).ok()?,
                thermocouple_since: fields::day(text(Field::Thermocouple)).ok()?,
            })),
        };
        Some(Kiln {
            name: text(Field::Name).to_owned(),
            heat: source,
            note: text(Field::Note).to_owned(),
            retired: self.retired,
        })
    }
}
