//! The form of a printer: its name and its dots.

use super::super::kiln::fields::{Fields, Reading};
use crate::measure::{Preferences, parse};
use crate::studio::{Correction, Printer, PrinterId};

/// Dots to the inch a printer can have.
const DOTS: std::ops::RangeInclusive<u32> = 72..=4800;

/// A field of the form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// The name the system knows it by.
    Name,
    /// Dots per inch.
    Dots,
}

impl Field {
    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("printer-{self:?}").to_lowercase()
    }
}

/// The form as it stands.
#[derive(Debug, Clone)]
pub(super) struct Form {
    pub(super) id: Option<PrinterId>,
    pub(super) fields: Fields<Field>,
    corrections: Vec<Correction>,
    tried: bool,
    pub(super) refusal: Option<String>,
}

impl Form {
    /// A new printer of that name.
    pub(super) fn new(name: Option<String>) -> Self {
        let mut fields = Fields::default();
        fields.set(Field::Name, name.unwrap_or_default());
        Self { id: None, fields, corrections: Vec::new(), tried: false, refusal: None }
    }

    /// A printer as it is.
    pub(super) fn of(id: PrinterId, printer: &Printer) -> Self {
        let mut form = Self::new(Some(printer.name.clone()));
        form.id = Some(id);
        form.fields.set(Field::Dots, printer.dots_per_inch.to_string());
        form.corrections.clone_from(&printer.corrections);
        form
    }

    fn dots(&self, preferences: &Preferences) -> Reading<u32> {
        parse::parse_count(self.fields.text(Field::Dots), DOTS, preferences).map_err(|problem| problem.to_string())
    }

    /// What is wrong with a field, if anything. What is only missing is told once the form was submitted.
    pub(super) fn problem(&self, field: Field, preferences: &Preferences) -> Option<String> {
        if self.fields.trimmed(field).is_empty() && !self.tried {
            return None;
        }
        match field {
            Field::Name => self.fields.trimmed(field).is_empty().then(|| "it needs a name".to_owned()),
            Field::Dots => self.dots(preferences).err(),
        }
    }

    /// The printer, or the first field that cannot be read; from now on what is missing is told.
    pub(super) fn printer(&mut self, preferences: &Preferences) -> Result<Printer, Field> {
        self.tried = true;
        let name = self.fields.trimmed(Field::Name).to_owned();
        if name.is_empty() {
            return Err(Field::Name);
        }
        let dots_per_inch = self.dots(preferences).map_err(|_| Field::Dots)?;
        Ok(Printer { name, dots_per_inch, corrections: self.corrections.clone() })
    }
}
