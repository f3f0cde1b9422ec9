//! What is typed on the page: the sheet, the saw, the outlines wanted; read into a plan to be laid out.

use super::outlines;
use crate::book::StockRow;
use crate::cutting::{Aim, SheetPlan, Turn, Wanted};
use crate::measure::{Decimal, Preferences, display, parse};
use crate::studio::{ItemDetails, ItemId, ItemKind, Metal, Outline, Thickness};
use crate::window::Shared;
use crate::window::draw::outline::Shape;
use crate::window::widget::Entry;
use iced::widget::combo_box;
use std::collections::BTreeMap;
use std::fmt;

/// Where the sheet is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// An item of stock.
    Stock,
    /// Typed: one that is not in the book.
    Typed,
}

/// Where the next outline is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum From {
    /// A blank of stock.
    Stock,
    /// Typed in words.
    Words,
    /// An SVG file.
    Drawing,
}

/// What is aimed at with several outlines.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mixing {
    /// The quantities typed, then as many as fit.
    Quantities,
    /// Whole sets, so many of each in a set.
    Sets,
}

/// A field of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// One side of the sheet.
    Long,
    /// The other.
    Wide,
    /// How thick a typed sheet is.
    Thickness,
    /// What the saw takes.
    Kerf,
    /// What stays free along the edges.
    Margin,
    /// The shorter side of the smallest off-cut worth keeping.
    OffCut,
    /// An outline in words.
    Words,
    /// The path of a drawing.
    Drawing,
    /// How long the longer side of a drawing is.
    LongSide,
}

impl Field {
    /// In reading order.
    pub(super) const ALL: [Self; 9] = [
        Self::Long,
        Self::Wide,
        Self::Thickness,
        Self::Kerf,
        Self::Margin,
        Self::OffCut,
        Self::Words,
        Self::Drawing,
        Self::LongSide,
    ];

    /// The name the focus is sent to.
    pub fn id(self) -> String {
        format!("cutting-{self:?}").to_lowercase()
    }
}

/// An item to choose, as the list shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pick {
    /// The item.
    pub id: ItemId,
    words: String,
}

impl fmt::Display for Pick {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.words)
    }
}

/// An outline wanted.
#[derive(Debug, Clone)]
pub(super) struct Want {
    pub(super) name: String,
    /// What it is and what it weighs, worded.
    pub(super) words: String,
    pub(super) outline: Outline,
    pub(super) item: Option<ItemId>,
    pub(super) quantity: Entry,
    pub(super) shape: Shape,
    pub(super) version: u64,
    /// What does not go with the sheet.
    pub(super) caution: Option<String>,
}

/// The sheet as it is chosen or typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Sheet {
    pub(super) metal: Metal,
    pub(super) thickness: Thickness,
}

/// What the page keeps of the plan.
#[derive(Debug)]
pub(super) struct Form {
    pub(super) source: Source,
    pub(super) sheet: Option<Pick>,
    pub(super) metal: Metal,
    pub(super) turn: Turn,
    pub(super) mixing: Mixing,
    pub(super) from: From,
    pub(super) wanted: Vec<Want>,
    pub(super) sheets: combo_box::State<Pick>,
    pub(super) blanks: combo_box::State<Pick>,
    /// The sheet chosen, worded.
    pub(super) sheet_words: String,
    entries: BTreeMap<Field, Entry>,
    drawn: u64,
}

/// Most of one blank that can be asked for.
const MOST_WANTED: u32 = crate::cutting::MOST_BLANKS;

impl Form {
    pub(super) fn new(shared: &Shared) -> Self {
        let p = &shared.preferences;
        let length = |mm: &str| {
            let mm = mm.parse().unwrap_or_default();
            format!("{} {}", crate::measure::edit::edit_length(mm, p), display::length_label(p))
        };
        // Common practice, no source: a fine saw blade, the width of a finger's grip at the edge, what still makes a
        // pair of earrings.
        let entries = [(Field::Kerf, "0.5"), (Field::Margin, "2"), (Field::OffCut, "20")];
        let mut form = Self {
            source: Source::Stock,
            sheet: None,
            metal: Metal::Copper,
            turn: Turn::Free,
            mixing: Mixing::Quantities,
            from: From::Stock,
            wanted: Vec::new(),
            sheets: combo_box::State::new(Vec::new()),
            blanks: combo_box::State::new(Vec::new()),
            sheet_words: String::new(),
            entries: entries.into_iter().map(|(field, mm)| (field, Entry::new(length(mm)))).collect(),
            drawn: 0,
        };
        form.refresh(shared);
        if form.sheets.options().is_empty() {
            form.source = Source::Typed;
        }
        if form.blanks.options().is_empty() {
            form.from = From::Words;
        }
        form
    }

    /// The book changed: words the lists anew; what is chosen and typed stays.
    pub(super) fn refresh(&mut self, shared: &Shared) {
        let sheets = picks(shared, ItemKind::Sheet);
        let blanks = blanks(shared);
        let chosen = self.sheet.take().map(|sheet| sheet.id);
        self.sheet = chosen.and_then(|id| sheets.iter().find(|pick| pick.id == id).cloned());
        if self.sheets.options() != sheets {
            self.sheets = combo_box::State::new(sheets);
        }
        if self.blanks.options() != blanks {
            self.blanks = combo_box::State::new(blanks);
        }
        let snapshot = &shared.snapshot;
        for want in &mut self.wanted {
            want.item = want.item.filter(|id| snapshot.item(*id).is_some());
        }
        self.word(shared);
    }

    /// Words what follows from the sheet chosen.
    pub(super) fn word(&mut self, shared: &Shared) {
        self.sheet_words = self.row(shared).map(|row| outlines::sheet_words(row, shared)).unwrap_or_default();
        let sheet = self.sheet(shared);
        for want in &mut self.wanted {
            want.words = outlines::blank_words(&want.outline, sheet, &shared.preferences);
            want.caution = want.item.and_then(|id| outlines::odd_one(shared.snapshot.item(id)?, sheet?, shared));
        }
    }

    /// The sheet's row, where it is one of stock.
    pub(super) fn row<'a>(&self, shared: &'a Shared) -> Option<&'a StockRow> {
        let id = self.sheet.as_ref().filter(|_| self.source == Source::Stock)?.id;
        shared.snapshot.item(id)
    }

    /// Metal and thickness, as far as they are known.
    pub(super) fn sheet(&self, shared: &Shared) -> Option<Sheet> {
        match self.source {
            Source::Stock => match &self.row(shared)?.item.details {
                ItemDetails::Sheet { metal, thickness, .. } => Some(Sheet { metal: *metal, thickness: *thickness }),
                _ => None,
            },
            Source::Typed => {
                let typed = parse::parse_thickness(self.text(Field::Thickness), &shared.preferences).ok()?;
                Some(Sheet { metal: self.metal, thickness: typed.into() })
            }
        }
    }

    /// Sides of the sheet, where its item says them.
    pub(super) fn stated_size(&self, shared: &Shared) -> Option<[Decimal; 2]> {
        match &self.row(shared)?.item.details {
            ItemDetails::Sheet { size_mm, .. } => *size_mm,
            _ => None,
        }
    }

    /// True when a field counts for what is chosen.
    pub(super) fn uses(&self, field: Field, shared: &Shared) -> bool {
        match field {
            Field::Long | Field::Wide => match self.source {
                Source::Typed => true,
                Source::Stock => self.sheet.is_some() && self.stated_size(shared).is_none(),
            },
            Field::Thickness => self.source == Source::Typed,
            Field::Kerf | Field::Margin | Field::OffCut => true,
            Field::Words | Field::Drawing | Field::LongSide => false,
        }
    }

    pub(super) fn text(&self, field: Field) -> &str {
        self.entries.get(&field).map_or("", Entry::text)
    }

    pub(super) fn entry_mut(&mut self, field: Field) -> &mut Entry {
        self.entries.entry(field).or_default()
    }

    /// Gives every field its former text back; true when that changed something.
    pub(super) fn revert(&mut self) -> bool {
        let mut reverted = false;
        for entry in self.entries.values_mut().chain(self.wanted.iter_mut().map(|want| &mut want.quantity)) {
            reverted |= entry.revert();
        }
        reverted
    }

    /// What is wrong with a field that counts, if anything; what is only missing is told where `tried`.
    pub(super) fn problem(&self, field: Field, tried: bool, shared: &Shared) -> Option<String> {
        if !self.uses(field, shared) || (!tried && self.text(field).trim().is_empty()) {
            return None;
        }
        match field {
            Field::Thickness => {
                parse::parse_thickness(self.text(field), &shared.preferences).err().map(|problem| problem.to_string())
            }
            _ => self.length(field, &shared.preferences).err(),
        }
    }

    /// What is wrong with a quantity wanted.
    pub(super) fn quantity_problem(&self, place: usize, preferences: &Preferences) -> Option<String> {
        self.wanted.get(place).and_then(|want| quantity(want, preferences).err())
    }

    fn length(&self, field: Field, preferences: &Preferences) -> Result<Decimal, String> {
        let text = self.text(field);
        let value = parse::parse_length_mm(text, preferences).map_err(|problem| problem.to_string())?;
        let longest = Decimal::from(crate::cutting::LONGEST_SIDE_MM);
        let nothing = value.is_zero() && !matches!(field, Field::Kerf | Field::Margin);
        if nothing || value > longest {
            let least = if matches!(field, Field::Kerf | Field::Margin) { "0 or more" } else { "above 0" };
            return Err(format!("{text:?} is out of range: write a length {least}, at most {longest} mm"));
        }
        Ok(value)
    }

    /// The first field in the way of a plan.
    pub(super) fn first_problem(&self, shared: &Shared) -> Option<Field> {
        Field::ALL.into_iter().find(|field| self.problem(*field, true, shared).is_some())
    }

    /// Why there is no plan yet besides what stands beside the fields.
    pub(super) fn missing(&self, shared: &Shared) -> Option<&'static str> {
        if self.source == Source::Stock && self.row(shared).is_none() {
            Some("Choose the sheet first")
        } else if self.wanted.is_empty() {
            Some("Add an outline to be cut first")
        } else {
            None
        }
    }

    /// The plan, once every field can be read.
    pub(super) fn plan(&self, shared: &Shared) -> Option<(SheetPlan, Aim)> {
        let p = &shared.preferences;
        let length = |field| self.length(field, p).ok();
        let size_mm = match self.stated_size(shared) {
            Some(size) => size,
            None => [length(Field::Long)?, length(Field::Wide)?],
        };
        let Sheet { metal, thickness } = self.sheet(shared)?;
        let mut wanted = Vec::with_capacity(self.wanted.len());
        let mut sets = Vec::with_capacity(self.wanted.len());
        for want in &self.wanted {
            let typed = quantity(want, p).ok()?;
            sets.push(typed.unwrap_or(1));
            let quantity = typed.filter(|_| !self.in_sets());
            wanted.push(Wanted { outline: want.outline.clone(), quantity, turn: self.turn, grain: None });
        }
        if wanted.is_empty() {
            return None;
        }
        let plan = SheetPlan {
            size_mm,
            metal,
            thickness,
            kerf_mm: length(Field::Kerf)?,
            margin_mm: length(Field::Margin)?,
            grain: None,
            off_cut_mm: length(Field::OffCut)?,
            wanted,
        };
        Some((plan, if self.in_sets() { Aim::Sets(sets) } else { Aim::Quantities }))
    }

    /// Several outlines are wanted in whole sets.
    pub(super) fn in_sets(&self) -> bool {
        self.mixing == Mixing::Sets && self.wanted.len() > 1
    }

    /// Adds an outline to be cut.
    ///
    /// # Errors
    /// A sentence that says why it is none.
    pub(super) fn add(
        &mut self,
        name: String,
        outline: Outline,
        item: Option<ItemId>,
        shared: &Shared,
    ) -> Result<(), String> {
        let shape = outlines::shape(&outline)?;
        self.drawn += 1;
        self.wanted.push(Want {
            name,
            words: String::new(),
            outline,
            item,
            quantity: Entry::default(),
            shape,
            version: self.drawn,
            caution: None,
        });
        self.word(shared);
        Ok(())
    }
}

/// The blanks of stock to choose from.
pub(super) fn blanks(shared: &Shared) -> Vec<Pick> {
    picks(shared, ItemKind::Blank)
}

fn picks(shared: &Shared, kind: ItemKind) -> Vec<Pick> {
    let rows = shared.snapshot.stock.iter().filter(|row| !row.item.retired && row.item.details.kind() == kind);
    rows.map(|row| Pick { id: row.id, words: format!("{} {}", row.item.reference, row.item.name) }).collect()
}

/// The quantity typed; none for as many as fit.
fn quantity(want: &Want, preferences: &Preferences) -> Result<Option<u32>, String> {
    if want.quantity.is_empty() {
        return Ok(None);
    }
    parse::parse_count(want.quantity.text(), 1..=MOST_WANTED, preferences)
        .map(Some)
        .map_err(|problem| problem.to_string())
}
