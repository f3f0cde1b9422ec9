//! The form of a kiln day.

use super::super::kiln::fields::{self, Fields, Reading};
use crate::measure::{Decimal, Preferences, edit};
use crate::studio::{BookKilnDay, ElectricKiln, KilnDay, KilnDayId, KilnId};
use chrono::{Days, NaiveDate, NaiveDateTime};

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// The day.
    Date,
    /// Switched on.
    On,
    /// At heat; may be empty.
    Hot,
    /// Switched off; may be empty.
    Off,
    /// What it holds between loads.
    Hold,
    /// The meter's reading; may be empty.
    Meter,
    /// Anything else.
    Note,
}

impl Field {
    const ALL: [Self; 7] = [Self::Date, Self::On, Self::Hot, Self::Off, Self::Hold, Self::Meter, Self::Note];

    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("kiln-day-{self:?}").to_lowercase()
    }
}

/// The form as it stands.
#[derive(Debug, Clone)]
pub(super) struct DayForm {
    pub(super) id: Option<KilnDayId>,
    kiln: KilnId,
    pub(super) fields: Fields<Field>,
    pub(super) tried: bool,
    pub(super) refusal: Option<String>,
}

impl DayForm {
    /// A day of today.
    pub(super) fn new(kiln: KilnId, electric: &ElectricKiln, today: NaiveDate, p: &Preferences) -> Self {
        let mut fields = Fields::default();
        fields.set(Field::Date, today.to_string());
        fields.set(Field::Hold, edit::edit_temperature(electric.working_celsius, p));
        Self { id: None, kiln, fields, tried: false, refusal: None }
    }

    /// A day as it was written down.
    pub(super) fn of(book: &BookKilnDay, p: &Preferences) -> Self {
        let day = &book.day;
        let time = |at: NaiveDateTime| at.format("%H:%M").to_string();
        let mut fields = Fields::default();
        for (field, text) in [
            (Field::Date, day.date.to_string()),
            (Field::On, time(day.on_at)),
            (Field::Hot, day.hot_at.map(time).unwrap_or_default()),
            (Field::Off, day.off_at.map(time).unwrap_or_default()),
            (Field::Hold, edit::edit_temperature(day.hold_celsius, p)),
            (Field::Meter, day.meter_kwh.map(|kwh| edit::edit_number(kwh, p)).unwrap_or_default()),
            (Field::Note, day.note.clone()),
        ] {
            fields.set(field, text);
        }
        Self { id: Some(book.id), kiln: day.kiln, fields, tried: false, refusal: None }
    }

    /// What is wrong with a field, if anything. What is only missing is told once the form was submitted.
    pub(super) fn problem(&self, field: Field, p: &Preferences) -> Option<String> {
        let text = self.fields.trimmed(field);
        if text.is_empty() && (!self.tried || matches!(field, Field::Hot | Field::Off | Field::Meter | Field::Note)) {
            return None;
        }
        match field {
            Field::Date => fields::day(text).err(),
            Field::On | Field::Hot | Field::Off => fields::time(text).err(),
            Field::Hold => fields::temperature(text, p).err(),
            Field::Meter => fields::number(text, p).err(),
            Field::Note => None,
        }
    }

    /// The first field that cannot be accepted.
    pub(super) fn first_problem(&self, p: &Preferences) -> Option<Field> {
        Field::ALL.into_iter().find(|field| self.problem(*field, p).is_some())
    }

    /// A time of the day; one before the kiln was switched on is of the night after.
    fn after(&self, field: Field, on: NaiveDateTime) -> Reading<Option<NaiveDateTime>> {
        let text = self.fields.trimmed(field);
        if text.is_empty() {
            return Ok(None);
        }
        let at = on.date().and_time(fields::time(text)?);
        if at >= on {
            return Ok(Some(at));
        }
        Ok(at.checked_add_days(Days::new(1)))
    }

    /// The day, once every field can be read.
    pub(super) fn day(&self, p: &Preferences) -> Reading<KilnDay> {
        let text = |field| self.fields.trimmed(field);
        let date = fields::day(text(Field::Date))?;
        let on_at = date.and_time(fields::time(text(Field::On))?);
        let meter = match text(Field::Meter) {
            "" => None,
            typed => Some(fields::number(typed, p)?),
        };
        Ok(KilnDay {
            kiln: self.kiln,
            date,
            on_at,
            hot_at: self.after(Field::Hot, on_at)?,
            off_at: self.after(Field::Off, on_at)?,
            hold_celsius: fields::temperature(text(Field::Hold), p)?,
            meter_kwh: meter.filter(|kwh| *kwh >= Decimal::ZERO),
            note: text(Field::Note).to_owned(),
        })
    }
}
