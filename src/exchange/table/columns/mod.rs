//! What can be brought in, which columns it has, and finding them by their headings.
//!
//! [`Heading::find`] finds the line of headings, [`Mapping::guess`] what each column is. What a person then changes is
//! kept with the [`Shape`] of the file, and holds for every file of that shape.

mod words;

use super::cell::Sheet;
use super::dates::DayOrder;
use crate::measure::{Currency, NumberStyle, Preferences, Unit, parse};
use serde::{Deserialize, Serialize};

/// What rows of a file are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ImportKind {
    /// Items of stock.
    Items,
    /// Lots that came in.
    Receipts,
    /// What was counted.
    Counts,
    /// Movements of every kind.
    Movements,
}

impl ImportKind {
    /// Every kind, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Items, Self::Receipts, Self::Counts, Self::Movements];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Items => "items",
            Self::Receipts => "receipts",
            Self::Counts => "counts",
            Self::Movements => "movements",
        }
    }

    /// The columns it can have, in the order they are offered.
    pub const fn fields(self) -> &'static [Field] {
        use Field::{
            Colour, Cost, Date, Dome, Enamel, FiresFrom, FiresTo, Fusing, Holes, Item, Kind, Lead, LeadDays,
            LeastPacks, Lot, Maker, MakerNumber, Mesh, Metal, Movement, Name, Note, Outer, Outline, Pack, PackQuantity,
            Price, Quantity, Reference, ReorderLevel, Retired, Shelf, Size, SolderFlow, Supplier, Thickness, Unit,
            Wall,
        };
        match self {
            Self::Items => &[
                Reference,
                Name,
                Kind,
                Unit,
                Metal,
                Thickness,
                Size,
                Outer,
                Wall,
                Outline,
                Dome,
                Holes,
                SolderFlow,
                Enamel,
                Colour,
                Mesh,
                Fusing,
                FiresFrom,
                FiresTo,
                Maker,
                MakerNumber,
                Supplier,
                Shelf,
                ReorderLevel,
                Pack,
                PackQuantity,
                LeastPacks,
                LeadDays,
                Lead,
                Retired,
                Note,
            ],
            Self::Receipts => &[Date, Item, Quantity, Unit, Cost, Price, Lot, Supplier, Note],
            Self::Counts => &[Date, Item, Quantity, Unit, Note],
            Self::Movements => &[Date, Item, Movement, Quantity, Unit, Cost, Price, Lot, Supplier, Note],
        }
    }

    /// The columns without which nothing can be read.
    pub const fn needed(self) -> &'static [Field] {
        match self {
            Self::Items => &[Field::Name],
            Self::Receipts | Self::Counts => &[Field::Item, Field::Quantity],
            Self::Movements => &[Field::Item, Field::Movement, Field::Quantity],
        }
    }
}

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs, reason = "each is the column its name says; `heading` gives the words")]
pub enum Field {
    Reference,
    Name,
    Kind,
    Unit,
    Metal,
    Thickness,
    Size,
    Outer,
    Wall,
    Outline,
    Dome,
    Holes,
    SolderFlow,
    Enamel,
    Colour,
    Mesh,
    Fusing,
    FiresFrom,
    FiresTo,
    Maker,
    MakerNumber,
    Supplier,
    Shelf,
    ReorderLevel,
    Pack,
    PackQuantity,
    LeastPacks,
    LeadDays,
    Lead,
    Retired,
    Note,
    Date,
    Item,
    Movement,
    Quantity,
    Cost,
    Price,
    Lot,
}

impl Field {
    /// The heading it is written under, and the words it is called by.
    pub const fn heading(self) -> &'static str {
        match self {
            Self::Reference => "reference",
            Self::Name => "name",
            Self::Kind => "kind",
            Self::Unit => "unit",
            Self::Metal => "metal",
            Self::Thickness => "thickness",
            Self::Size => "size (mm)",
            Self::Outer => "outer diameter (mm)",
            Self::Wall => "wall (mm)",
            Self::Outline => "outline (mm)",
            Self::Dome => "dome (mm)",
            Self::Holes => "holes (mm)",
            Self::SolderFlow => "solder flow (C)",
            Self::Enamel => "enamel",
            Self::Colour => "colour",
            Self::Mesh => "mesh",
            Self::Fusing => "fusing",
            Self::FiresFrom => "fires from (C)",
            Self::FiresTo => "fires to (C)",
            Self::Maker => "maker",
            Self::MakerNumber => "maker's number",
            Self::Supplier => "supplier",
            Self::Shelf => "shelf",
            Self::ReorderLevel => "reorder level",
            Self::Pack => "pack",
            Self::PackQuantity => "pack quantity",
            Self::LeastPacks => "fewest packs",
            Self::LeadDays => "lead days",
            Self::Lead => "bears lead",
            Self::Retired => "set aside",
            Self::Note => "note",
            Self::Date => "date",
            Self::Item => "item",
            Self::Movement => "movement",
            Self::Quantity => "quantity",
            Self::Cost => "cost",
            Self::Price => "price of one",
            Self::Lot => "maker's lot",
        }
    }
}

/// A line of headings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heading {
    /// Its row, from 1.
    pub row: u32,
    /// Its texts from column A; empty where there is none.
    pub texts: Vec<String>,
}

/// Rows among which the headings are looked for.
const LOOKED_AT: usize = 20;

impl Heading {
    /// The line of headings of a sheet: of its first 20 rows with something in them the one that names the most columns
    /// known for any kind; of two that name as many the first. None where none names any.
    pub fn find(sheet: &Sheet) -> Option<Self> {
        let lines = sheet.rows.iter().take(LOOKED_AT).map(|row| Self::at(sheet, row.number));
        let known = |heading: &Self| {
            let guesses = ImportKind::ALL.map(|kind| Mapping::guess(kind, heading).columns.len());
            guesses.into_iter().max().unwrap_or(0)
        };
        let mut best: Option<(usize, Self)> = None;
        for heading in lines {
            let score = known(&heading);
            if score > best.as_ref().map_or(0, |(most, _)| *most) {
                best = Some((score, heading));
            }
        }
        best.map(|(_, heading)| heading)
    }

    /// The row of that number as a line of headings.
    pub fn at(sheet: &Sheet, row: u32) -> Self {
        let found = sheet.rows.iter().find(|one| one.number == row);
        let texts = found.map(|row| row.cells.iter().map(|cell| cell.text().trim().to_owned()).collect());
        Self { row, texts: texts.unwrap_or_default() }
    }

    /// The heading of a column, from 1; empty where there is none.
    pub fn text(&self, column: u32) -> &str {
        let place = usize::try_from(column).ok().and_then(|column| column.checked_sub(1));
        place.and_then(|place| self.texts.get(place)).map_or("", String::as_str)
    }

    /// What the file most likely is.
    pub fn likely(&self) -> ImportKind {
        let has = |kind: ImportKind, fields: &[Field]| {
            let guess = Mapping::guess(kind, self);
            fields.iter().all(|field| guess.column(*field).is_some())
        };
        if has(ImportKind::Movements, ImportKind::Movements.needed()) {
            return ImportKind::Movements;
        }
        if has(ImportKind::Receipts, ImportKind::Receipts.needed()) {
            let costs = has(ImportKind::Receipts, &[Field::Cost]) || has(ImportKind::Receipts, &[Field::Price]);
            return if costs { ImportKind::Receipts } else { ImportKind::Counts };
        }
        ImportKind::Items
    }
}

/// What files with the same headings have in common, whichever row they stand in.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Shape(pub String);

impl Shape {
    /// The shape of a file with these headings: their words in order, case and signs left out, parted by `|`.
    pub fn of(heading: &Heading) -> Self {
        let mut texts: Vec<String> = heading.texts.iter().map(|text| words::plain(text)).collect();
        while texts.last().is_some_and(String::is_empty) {
            texts.pop();
        }
        Self(texts.join("|"))
    }

    /// The shape as a book keeps it: at most 200 characters. A longer one is its beginning and a number made of all of it
    /// (FNV-1a, 64 bits), so that two long shapes differ where their headings do.
    pub fn fingerprint(&self) -> String {
        const MOST: usize = 200;
        const BEGINNING: usize = 180;
        if self.0.chars().count() <= MOST {
            return self.0.clone();
        }
        let number = self.0.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |number, byte| {
            (number ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
        });
        format!("{}…{number:016x}", self.0.chars().take(BEGINNING).collect::<String>())
    }
}

/// How a file writes numbers that can be read in two ways.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DecimalMark {
    /// `12.50`
    #[default]
    Point,
    /// `12,50`
    Comma,
}

/// What one column is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MappedColumn {
    /// The column, from 1.
    pub column: u32,
    /// What it holds.
    pub field: Field,
    /// The unit of its numbers, as in a heading `quantity (oz)`; empty where it has none.
    #[serde(default)]
    pub unit: String,
}

/// How a file is read: what is remembered with its [`Shape`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Mapping {
    /// What its rows are.
    pub kind: ImportKind,
    /// Its columns, from the left; each field at most once.
    pub columns: Vec<MappedColumn>,
    /// How numbers written as text are read.
    #[serde(default)]
    pub numbers: DecimalMark,
    /// How days written with figures are read; none refuses those that may be two days.
    #[serde(default)]
    pub days: Option<DayOrder>,
}

impl Mapping {
    /// The mapping the headings suggest: each field is the column whose heading is its own word or else the earliest of
    /// its other words; a column is one field.
    pub fn guess(kind: ImportKind, heading: &Heading) -> Self {
        let texts: Vec<(u32, String)> = (1..).zip(heading.texts.iter().map(|text| words::plain(text))).collect();
        let mut columns: Vec<MappedColumn> = Vec::new();
        let most = kind.fields().iter().map(|field| words::of(*field).len()).max().unwrap_or(0);
        // All first words before all second words, so that a column goes to the field it names best.
        for rank in 0..most {
            for field in kind.fields() {
                let Some(word) = words::of(*field).get(rank) else { continue };
                if columns.iter().any(|mapped| mapped.field == *field) {
                    continue;
                }
                let free = |column: u32| columns.iter().all(|mapped| mapped.column != column);
                if let Some((column, _)) = texts.iter().find(|(column, text)| text == word && free(*column)) {
                    let unit = unit_of(heading.text(*column));
                    columns.push(MappedColumn { column: *column, field: *field, unit });
                }
            }
        }
        columns.sort_by_key(|mapped| mapped.column);
        Self { kind, columns, numbers: DecimalMark::Point, days: None }
    }

    /// Picks the column of a field, or none. A column that was another field's is this one's from now on; its unit is the
    /// one in its heading.
    pub fn pick(&mut self, field: Field, column: Option<u32>, heading: &Heading) {
        self.columns.retain(|mapped| mapped.field != field && Some(mapped.column) != column);
        if let Some(column) = column {
            self.columns.push(MappedColumn { column, field, unit: unit_of(heading.text(column)) });
            self.columns.sort_by_key(|mapped| mapped.column);
        }
    }

    /// True where every field is one of its kind, and every column one of the headings.
    pub fn fits(&self, heading: &Heading) -> bool {
        let columns = u32::try_from(heading.texts.len()).unwrap_or(u32::MAX);
        let fits = |mapped: &MappedColumn| {
            (1..=columns).contains(&mapped.column) && self.kind.fields().contains(&mapped.field)
        };
        self.columns.iter().all(fits)
    }

    /// The column of a field.
    pub fn column(&self, field: Field) -> Option<&MappedColumn> {
        self.columns.iter().find(|mapped| mapped.field == field)
    }

    /// The fields without which nothing can be read and which have no column.
    pub fn missing(&self) -> Vec<Field> {
        self.kind.needed().iter().copied().filter(|field| self.column(*field).is_none()).collect()
    }

    /// How texts of the file are read: metric units where none are written, and its decimal mark.
    pub(super) fn preferences(&self, currency: Currency) -> Preferences {
        let numbers = match self.numbers {
            DecimalMark::Point => NumberStyle::Point,
            DecimalMark::Comma => NumberStyle::Comma,
        };
        Preferences { numbers, ..Preferences::metric(currency) }
    }
}

/// The unit in the brackets of a heading, if it is one that is known here.
fn unit_of(heading: &str) -> String {
    let inside = heading.rsplit_once(['(', '[']).map_or("", |(_, rest)| rest).trim_end_matches([')', ']']).trim();
    let inside = if matches!(inside, "°C" | "°F") { inside.trim_start_matches('°') } else { inside };
    if matches!(inside, "C" | "F") || is_unit(inside) { inside.to_owned() } else { String::new() }
}

/// True for a word that names a unit of stock: `g`, `oz`, `in`, `each`.
pub(super) fn is_unit(word: &str) -> bool {
    measured(word).is_some()
}

/// What a unit measures, as the unit stock is kept in.
pub(super) fn measured(word: &str) -> Option<Unit> {
    let metric = Preferences::metric(Currency::USD);
    let text = format!("1 {word}");
    let letters = word.starts_with(|first: char| first.is_alphabetic() || matches!(first, '"' | '″' | '”'));
    letters.then(|| Unit::ALL.into_iter().find(|unit| parse::parse_quantity(&text, *unit, &metric).is_ok())).flatten()
}

#[cfg(test)]
mod tests;
