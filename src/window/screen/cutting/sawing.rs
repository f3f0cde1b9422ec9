//! The sheet in front of the page that writes a cut down: what was really sawn, and what it will do.

mod worded;

use super::laid::{Laid, letter};
use super::plan::Want;
use crate::book::StockRow;
use crate::costing::cut::foretell;
use crate::cutting::{Piece, Sawn, Scrap};
use crate::measure::{Decimal, Unit, display, parse};
use crate::studio::{Buying, Cut, CutItem, Item, ItemDetails, ItemId, Movement, Outline};
use crate::window::Shared;
use crate::window::widget::{Entry, Line};
use chrono::NaiveDate;
use worded::{capital, kept, lines, same_blank};

/// A field of the sheet; numbers are places in its lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Field {
    /// How many sheets.
    Sheets,
    /// How many blanks of an outline were really cut.
    Count(usize),
    /// The name of a new blank.
    BlankName(usize),
    /// The reference of a new blank.
    BlankReference(usize),
    /// The name of a new off-cut.
    OffCutName(usize),
    /// The reference of a new off-cut.
    OffCutReference(usize),
    /// Time at the bench.
    Minutes,
    /// The day.
    Date,
    /// Anything else.
    Note,
}

impl Field {
    /// The name the focus is sent to.
    pub fn id(self) -> String {
        let place = match self {
            Self::Count(place)
            | Self::BlankName(place)
            | Self::BlankReference(place)
            | Self::OffCutName(place)
            | Self::OffCutReference(place) => place,
            _ => 0,
        };
        let word = match self {
            Self::Sheets => "sheets",
            Self::Count(_) => "count",
            Self::BlankName(_) => "blank-name",
            Self::BlankReference(_) => "blank-reference",
            Self::OffCutName(_) => "off-cut-name",
            Self::OffCutReference(_) => "off-cut-reference",
            Self::Minutes => "minutes",
            Self::Date => "date",
            Self::Note => "note",
        };
        format!("sawing-{word}-{place}")
    }
}

/// What becomes of an off-cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OffCutAs {
    /// It is scrap.
    Scrap,
    /// A new item of stock.
    New,
    /// One there is.
    Known(ItemId),
}

/// What happens in the sheet.
#[derive(Debug, Clone)]
pub enum Change {
    /// Typed in.
    Typed(Field, String),
    /// What becomes of an off-cut.
    OffCut(usize, OffCutAs),
    /// Whether the blanks bear the bench time.
    BenchInCost,
    /// Whether the scrap keeps its part of the cost.
    ScrapKeeps,
}

/// Blanks of one outline.
#[derive(Debug)]
pub(super) struct Blank {
    pub(super) letter: String,
    pub(super) words: String,
    per_sheet: u32,
    area_mm2: Decimal,
    outline: Outline,
    /// The item they become; none makes a new one.
    pub(super) item: Option<ItemId>,
    /// What they become, in words.
    pub(super) becomes: String,
    pub(super) count: Entry,
    pub(super) name: Entry,
    pub(super) reference: Entry,
}

/// An off-cut.
#[derive(Debug)]
pub(super) struct Kept {
    pub(super) words: String,
    size_mm: [Decimal; 2],
    area_mm2: Decimal,
    pub(super) becomes: OffCutAs,
    /// What it can become, with words.
    pub(super) options: Vec<(OffCutAs, String)>,
    pub(super) name: Entry,
    pub(super) reference: Entry,
}

/// The sheet as it stands.
#[derive(Debug)]
pub(super) struct Sawing {
    pub(super) sheet: ItemId,
    pub(super) sheet_name: String,
    base: Sawn,
    pub(super) sheets: Entry,
    pub(super) blanks: Vec<Blank>,
    pub(super) off_cuts: Vec<Kept>,
    pub(super) minutes: Entry,
    pub(super) bench_in_cost: bool,
    pub(super) wage_words: String,
    pub(super) scrap_keeps: bool,
    pub(super) date: Entry,
    pub(super) note: Entry,
    pub(super) tried: bool,
    pub(super) refusal: Option<String>,
    movements: Option<Vec<Movement>>,
    /// What it will do, in lines; or what stands in the way.
    pub(super) preview: Result<Vec<Line>, String>,
}

impl Sawing {
    /// For a layout on a sheet of stock.
    pub(super) fn new(laid: &Laid, wanted: &[Want], row: &StockRow, shared: &Shared) -> Self {
        let snapshot = &shared.snapshot;
        let layout = &laid.layout;
        let mut blanks = Vec::with_capacity(wanted.len());
        for (which, want) in wanted.iter().enumerate() {
            let per_sheet = layout.counts.get(which).copied().unwrap_or(0);
            let item = want.item.or_else(|| same_blank(snapshot, laid, &want.outline));
            let becomes = item.and_then(|id| snapshot.item(id)).map(|row| row.item.name.clone());
            blanks.push(Blank {
                letter: letter(which),
                words: want.name.clone(),
                per_sheet,
                area_mm2: layout.blank_mm2.get(which).copied().unwrap_or_default(),
                outline: want.outline.clone(),
                item,
                becomes: becomes.unwrap_or_default(),
                count: Entry::new(per_sheet.to_string()),
                name: Entry::new(format!("{} {}", capital(laid.plan.metal.words()), want.name)),
                reference: Entry::default(),
            });
        }
        let areas = layout.off_cuts.iter().zip(&layout.areas.off_cuts);
        let mut off_cuts: Vec<Kept> = areas.map(|(off_cut, area)| kept(off_cut, *area, laid, row, shared)).collect();
        // The largest is kept when it is new; keeping a smaller one as a new item is for her to say.
        if let Some(first) = off_cuts.first_mut().filter(|first| first.becomes == OffCutAs::Scrap) {
            first.becomes = OffCutAs::New;
        }
        let wage = snapshot.rates.labour_per_hour;
        let wage = display::money_per_hour(wage.amount(), &shared.preferences);
        let base = Sawn {
            sheet: row.id,
            unit: row.item.unit,
            sheet_mm2: layout.areas.sheet,
            metal: laid.plan.metal,
            thickness: laid.plan.thickness,
            sheets: 1,
            blanks: Vec::new(),
            off_cuts: Vec::new(),
            scrap: Scrap::WorthNothing,
            bench_minutes: Decimal::ZERO,
            bench_in_cost: false,
            date: shared.today,
            note: String::new(),
        };
        Self {
            sheet: row.id,
            sheet_name: row.item.name.clone(),
            base,
            sheets: Entry::new("1"),
            blanks,
            off_cuts,
            minutes: Entry::default(),
            bench_in_cost: false,
            wage_words: format!("The blanks bear the bench time at your wage, {wage}"),
            scrap_keeps: false,
            date: Entry::new(shared.today.to_string()),
            note: Entry::default(),
            tried: false,
            refusal: None,
            movements: None,
            preview: Ok(Vec::new()),
        }
    }

    fn entry_mut(&mut self, field: Field) -> Option<&mut Entry> {
        match field {
            Field::Sheets => Some(&mut self.sheets),
            Field::Count(place) => self.blanks.get_mut(place).map(|blank| &mut blank.count),
            Field::BlankName(place) => self.blanks.get_mut(place).map(|blank| &mut blank.name),
            Field::BlankReference(place) => self.blanks.get_mut(place).map(|blank| &mut blank.reference),
            Field::OffCutName(place) => self.off_cuts.get_mut(place).map(|kept| &mut kept.name),
            Field::OffCutReference(place) => self.off_cuts.get_mut(place).map(|kept| &mut kept.reference),
            Field::Minutes => Some(&mut self.minutes),
            Field::Date => Some(&mut self.date),
            Field::Note => Some(&mut self.note),
        }
    }

    /// Takes note of a change.
    pub(super) fn change(&mut self, change: Change, shared: &Shared) {
        self.refusal = None;
        match change {
            Change::Typed(field, text) => {
                if let Some(entry) = self.entry_mut(field) {
                    entry.type_in(text);
                }
                if field == Field::Sheets {
                    self.fill_in(shared);
                }
            }
            Change::OffCut(place, becomes) => {
                if let Some(kept) = self.off_cuts.get_mut(place) {
                    kept.becomes = becomes;
                }
            }
            Change::BenchInCost => self.bench_in_cost = !self.bench_in_cost,
            Change::ScrapKeeps => self.scrap_keeps = !self.scrap_keeps,
        }
        self.look_ahead(shared);
    }

    /// Counts that were not typed follow the number of sheets.
    fn fill_in(&mut self, shared: &Shared) {
        let Ok(sheets) = self.read_sheets(shared) else { return };
        for blank in self.blanks.iter_mut().filter(|blank| !blank.count.is_changed()) {
            blank.count.set(blank.per_sheet.saturating_mul(sheets).to_string());
        }
    }

    /// The movements of the sheet are there.
    pub(super) fn know(&mut self, movements: Vec<Movement>, shared: &Shared) {
        self.movements = Some(movements);
        self.look_ahead(shared);
    }

    /// Gives every field its former text back; true when that changed something.
    pub(super) fn revert(&mut self, shared: &Shared) -> bool {
        let mut reverted = self.sheets.revert() | self.minutes.revert() | self.date.revert() | self.note.revert();
        for blank in &mut self.blanks {
            reverted |= blank.count.revert() | blank.name.revert() | blank.reference.revert();
        }
        for kept in &mut self.off_cuts {
            reverted |= kept.name.revert() | kept.reference.revert();
        }
        self.look_ahead(shared);
        reverted
    }

    fn read_sheets(&self, shared: &Shared) -> Result<u32, String> {
        parse::parse_count(self.sheets.text(), 1..=10_000, &shared.preferences).map_err(|problem| problem.to_string())
    }

    fn read_minutes(&self, shared: &Shared) -> Result<Decimal, String> {
        if self.minutes.is_empty() {
            return Ok(Decimal::ZERO);
        }
        parse::parse_minutes(self.minutes.text(), &shared.preferences).map_err(|problem| problem.to_string())
    }

    fn read_date(&self) -> Result<NaiveDate, String> {
        let text = self.date.trimmed();
        text.parse().map_err(|_| format!("{text:?} cannot be read: write the day as year-month-day, e.g. 2026-03-14"))
    }

    /// What is wrong with a field, if anything.
    pub(super) fn problem(&self, field: Field, shared: &Shared) -> Option<String> {
        match field {
            Field::Sheets => self.read_sheets(shared).err(),
            Field::Count(place) => self.blanks.get(place).and_then(|blank| count(blank, shared).err()),
            Field::Minutes => self.read_minutes(shared).err(),
            Field::Date => self.read_date().err(),
            Field::BlankName(place) => {
                let blank = self.blanks.get(place)?;
                (blank.item.is_none() && blank.name.is_empty()).then(|| NO_NAME.to_owned())
            }
            Field::OffCutName(place) => {
                let kept = self.off_cuts.get(place)?;
                (kept.becomes == OffCutAs::New && kept.name.is_empty()).then(|| NO_NAME.to_owned())
            }
            Field::BlankReference(_) | Field::OffCutReference(_) | Field::Note => None,
        }
    }

    /// The cut as it would be written down.
    ///
    /// # Errors
    /// The first thing that stands in the way, a sentence.
    pub(super) fn cut(&self, shared: &Shared) -> Result<Cut, String> {
        let sheets = self.read_sheets(shared)?;
        let mut sawn = Sawn {
            sheets,
            scrap: if self.scrap_keeps { Scrap::KeepsItsPart } else { Scrap::WorthNothing },
            bench_minutes: self.read_minutes(shared)?,
            bench_in_cost: self.bench_in_cost,
            date: self.read_date()?,
            note: self.note.trimmed().to_owned(),
            ..self.base.clone()
        };
        for (place, blank) in self.blanks.iter().enumerate() {
            let count = count(blank, shared)?;
            let (item, unit) = match blank.item {
                Some(id) => (CutItem::Known(id), unit_of(id, shared)),
                None => (CutItem::New(Box::new(self.new_blank(blank, place, shared)?)), Unit::Each),
            };
            sawn.blanks.push(Piece { item, unit, count, area_mm2: blank.area_mm2 });
        }
        for (place, kept) in self.off_cuts.iter().enumerate() {
            let (item, unit) = match kept.becomes {
                OffCutAs::Scrap => continue,
                OffCutAs::Known(id) => (CutItem::Known(id), unit_of(id, shared)),
                OffCutAs::New => (CutItem::New(Box::new(self.new_sheet(kept, place, shared)?)), Unit::Each),
            };
            sawn.off_cuts.push(Piece { item, unit, count: sheets, area_mm2: kept.area_mm2 });
        }
        sawn.cut().map_err(|error| error.to_string())
    }

    fn new_blank(&self, blank: &Blank, place: usize, shared: &Shared) -> Result<Item, String> {
        if let Some(problem) = self.problem(Field::BlankName(place), shared) {
            return Err(problem);
        }
        Ok(item(
            &blank.reference,
            &blank.name,
            ItemDetails::Blank {
                metal: self.base.metal,
                thickness: self.base.thickness,
                outline: blank.outline.clone(),
                dome_height_mm: Decimal::ZERO,
                holes_mm: Vec::new(),
                solder_flow_c: None,
            },
        ))
    }

    fn new_sheet(&self, kept: &Kept, place: usize, shared: &Shared) -> Result<Item, String> {
        if let Some(problem) = self.problem(Field::OffCutName(place), shared) {
            return Err(problem);
        }
        Ok(item(
            &kept.reference,
            &kept.name,
            ItemDetails::Sheet { metal: self.base.metal, thickness: self.base.thickness, size_mm: Some(kept.size_mm) },
        ))
    }

    /// Words what it will do.
    pub(super) fn look_ahead(&mut self, shared: &Shared) {
        self.preview = match (self.cut(shared), &self.movements) {
            (Err(problem), _) => Err(problem),
            (Ok(_), None) => Ok(Vec::new()),
            (Ok(cut), Some(movements)) => {
                let (method, wage) = (shared.settings().valuation, shared.snapshot.rates.labour_per_hour);
                foretell(&cut, movements, method, wage)
                    .map(|foretold| lines(&cut, &foretold, &self.sheet_name, shared))
                    .map_err(|error| format!("{}: {error}", self.sheet_name))
            }
        };
    }
}

const NO_NAME: &str = "nothing is typed: write what it is called in stock";

fn count(blank: &Blank, shared: &Shared) -> Result<u32, String> {
    parse::parse_count(blank.count.text(), 0..=1_000_000, &shared.preferences).map_err(|problem| problem.to_string())
}

fn unit_of(id: ItemId, shared: &Shared) -> Unit {
    shared.snapshot.item(id).map_or(Unit::Each, |row| row.item.unit)
}

fn item(reference: &Entry, name: &Entry, details: ItemDetails) -> Item {
    Item {
        reference: reference.trimmed().to_owned(),
        name: name.trimmed().to_owned(),
        unit: Unit::Each,
        details,
        maker: String::new(),
        maker_number: String::new(),
        supplier: String::new(),
        shelf: String::new(),
        note: String::new(),
        reorder_level: None,
        lead_bearing: false,
        retired: false,
        buying: Buying::default(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::outlines;
    use super::worded::same_size;
    use super::*;

    #[test]
    fn sizes_are_alike_whichever_way_round() {
        let size = |a: i64, b: i64| [Decimal::from(a), Decimal::from(b)];
        assert!(same_size(size(120, 40), size(40, 121)));
        assert!(!same_size(size(120, 40), size(42, 120)));
        assert_eq!(capital("fine silver"), "Fine silver");
        assert_eq!(outlines::named(&Outline::Disc { diameter_mm: Decimal::from(30) }), "disc 30");
    }
}
