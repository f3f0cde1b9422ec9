//! The paper that is measured on, what was measured, and what follows from it.

use super::super::kiln::fields::{Fields, Reading};
use crate::book::Snapshot;
use crate::measure::display::MINUS;
use crate::measure::{Decimal, LengthUnit, Preferences, edit, parse};
use crate::paper::calibration::{self, Calibration, Measured};
use crate::paper::put_right::{self, Drawn};
use crate::paper::{PaperSize, Shaper};
use crate::studio::{Correction, Language, SheetId};
use crate::window::Shared;
use crate::window::screen::way_out::Going;
use rust_decimal::prelude::ToPrimitive;
use std::sync::Arc;

/// The name of its file where nobody chose one.
pub(super) const FILE_NAME: &str = "calibration.pdf";

/// A paper that can be measured on.
#[derive(Debug, Clone, PartialEq)]
pub struct Paper {
    /// The sheet of the book; none for plain paper.
    pub(super) sheet: Option<SheetId>,
    name: String,
    size: PaperSize,
}

impl std::fmt::Display for Paper {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.name)
    }
}

impl Paper {
    fn plain(letter: bool) -> Self {
        let (name, size) =
            if letter { ("plain paper, Letter", PaperSize::LETTER) } else { ("plain paper, A4", PaperSize::A4) };
        Self { sheet: None, name: name.to_owned(), size }
    }

    /// Plain paper of the size that is usual where lengths are in these units.
    pub(super) fn usual(preferences: &Preferences) -> Self {
        Self::plain(preferences.length == LengthUnit::Inch)
    }

    /// Plain paper, and the sheets of the book.
    pub(super) fn all(snapshot: &Snapshot) -> Vec<Self> {
        let sheets = snapshot.sheets.iter().filter_map(|(id, sheet)| {
            let size = PaperSize { width_mm: sheet.page_width_mm.to_f64()?, height_mm: sheet.page_height_mm.to_f64()? };
            Some(Self { sheet: Some(*id), name: sheet.name.clone(), size })
        });
        [false, true].map(Self::plain).into_iter().chain(sheets).collect()
    }
}

/// The paper something was measured on, in words.
pub(super) fn paper_name(snapshot: &Snapshot, sheet: Option<SheetId>) -> String {
    let named = snapshot.sheets.iter().find(|(row, _)| Some(*row) == sheet);
    named.map_or_else(|| "Plain paper".to_owned(), |(_, sheet)| sheet.name.clone())
}

/// The calibration page of a printer of so many dots on that paper, ready to go out.
pub(super) fn going(paper: &Paper, dots: Option<u32>, shared: &Shared) -> Result<Going, String> {
    let sheet = shared.snapshot.sheets.iter().find(|(row, _)| Some(*row) == paper.sheet);
    let document = match sheet {
        Some((_, sheet)) => calibration::layout_for_sheet(sheet, dots, &mut Shaper::new()),
        None => calibration::layout(&Calibration { size: paper.size, dots_per_inch: dots }, &mut Shaper::new()),
    };
    let document = document.map_err(|problem| problem.to_string())?;
    Ok(Going {
        document: Arc::new(document),
        title: calibration::TITLE.to_owned(),
        author: shared.settings().studio_name.clone(),
        language: Language::English,
        summary: "the calibration page".to_owned(),
        file_name: FILE_NAME.to_owned(),
        sheet: paper.sheet,
    })
}

/// How what is put right is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum By {
    /// It follows from what was measured on the calibration page.
    #[default]
    Page,
    /// It is typed outright.
    Hand,
}

/// A length or factor that is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// From the left edge to the cross.
    CrossAcross,
    /// From the top edge to the cross.
    CrossDown,
    /// The level ruler.
    RulerAcross,
    /// The upright ruler.
    RulerDown,
    /// Move to the right; to the left below 0.
    Right,
    /// Move down; up below 0.
    Down,
    /// Stretch across.
    Wide,
    /// Stretch from top to bottom.
    High,
}

impl Field {
    /// The fields of a way, in reading order.
    pub(super) const fn of(by: By) -> [Self; 4] {
        match by {
            By::Page => [Self::CrossAcross, Self::CrossDown, Self::RulerAcross, Self::RulerDown],
            By::Hand => [Self::Right, Self::Down, Self::Wide, Self::High],
        }
    }

    /// The name the focus is sent to.
    pub(super) fn id(self) -> String {
        format!("measured-{self:?}").to_lowercase()
    }

    pub(super) const fn label(self) -> &'static str {
        match self {
            Self::CrossAcross => "Left edge to the ringed cross",
            Self::CrossDown => "Top edge to the ringed cross",
            Self::RulerAcross => "The level ruler",
            Self::RulerDown => "The upright ruler",
            Self::Right => "Move to the right",
            Self::Down => "Move down",
            Self::Wide => "Stretch across",
            Self::High => "Stretch down",
        }
    }

    pub(super) const fn unit(self) -> &'static str {
        match self {
            Self::Wide | Self::High => "times",
            _ => "mm",
        }
    }
}

/// What follows from what was typed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Found {
    pub(super) correction: Correction,
    pub(super) words: String,
    pub(super) drawn: Drawn,
    pub(super) legend: String,
}

/// What was measured, or typed outright.
#[derive(Debug, Default)]
pub(super) struct Measuring {
    pub(super) by: By,
    pub(super) fields: Fields<Field>,
    /// What the page says where nothing is off, as it is shown in the empty fields.
    meant: [String; 4],
    found: Option<Result<Found, String>>,
    tried: bool,
    refusal: Option<String>,
}

impl Measuring {
    pub(super) fn type_in(&mut self, field: Field, text: String) {
        self.refusal = None;
        self.fields.type_in(field, text);
    }

    /// Nothing is typed.
    pub(super) fn clear(&mut self) {
        for field in [By::Page, By::Hand].into_iter().flat_map(Field::of) {
            self.fields.set(field, "");
        }
        self.found = None;
        self.tried = false;
        self.refusal = None;
    }

    pub(super) fn refuse(&mut self, why: String) {
        self.refusal = Some(why);
    }

    pub(super) fn refusal(&self) -> Option<&str> {
        self.refusal.as_deref()
    }

    /// Something is typed.
    pub(super) fn is_begun(&self) -> bool {
        Field::of(self.by).iter().any(|field| !self.fields.trimmed(*field).is_empty())
    }

    pub(super) fn found(&self) -> Option<&Result<Found, String>> {
        self.found.as_ref()
    }

    /// What stands in a field where nothing is off.
    pub(super) fn meant(&self, field: Field) -> &str {
        let fields = Field::of(self.by);
        fields.iter().zip(&self.meant).find(|(own, _)| **own == field).map_or("", |(_, meant)| meant)
    }

    fn figure(&self, field: Field, preferences: &Preferences) -> Reading<Decimal> {
        let text = self.fields.trimmed(field);
        let back = if matches!(field, Field::Right | Field::Down) { text.strip_prefix(['-', MINUS]) } else { None };
        let read = |text| parse::parse_number(text, preferences).map_err(|problem| problem.to_string());
        back.map_or_else(|| read(text), |text| read(text).map(|length| -length))
    }

    /// What is wrong with a field, if anything. What is only missing is told once it was to be kept.
    pub(super) fn problem(&self, field: Field, preferences: &Preferences) -> Option<String> {
        if self.fields.trimmed(field).is_empty() && !self.tried {
            return None;
        }
        self.figure(field, preferences).err()
    }

    /// What follows from what is typed, once all of it can be read.
    pub(super) fn read(&mut self, paper: &Paper, preferences: &Preferences) {
        let meant = calibration::meant(paper.size);
        let [left, top] = meant.cross_mm;
        let [level, upright] = meant.rulers_mm;
        let usual = match self.by {
            By::Page => [left, top, level, upright],
            By::Hand => [Decimal::ZERO, Decimal::ZERO, Decimal::ONE, Decimal::ONE],
        };
        self.meant = usual.map(|figure| edit::edit_number(figure, preferences));
        let [first, second, third, fourth] = Field::of(self.by).map(|field| self.figure(field, preferences).ok());
        let (Some(across), Some(down), Some(wide), Some(high)) = (first, second, third, fourth) else {
            self.found = None;
            return;
        };
        let found = match self.by {
            By::Page => {
                let measured = Measured { cross_mm: [across, down], rulers_mm: [wide, high] };
                calibration::correction_from(paper.sheet, paper.size, &measured).map_err(|problem| problem.to_string())
            }
            By::Hand => Ok(Correction { sheet: paper.sheet, right_mm: across, down_mm: down, wide, high }),
        };
        self.found = Some(found.map(|correction| worded(correction, paper, preferences)));
    }

    /// All is typed and something follows from it.
    pub(super) fn is_whole(&self) -> bool {
        matches!(self.found, Some(Ok(_)))
    }

    /// What shall be kept, or the first field that says nothing; from now on what is missing is told.
    pub(super) fn correction(&mut self) -> Result<Correction, Field> {
        self.tried = true;
        let [first, ..] = Field::of(self.by);
        match &self.found {
            Some(Ok(found)) => Ok(found.correction),
            Some(Err(_)) => Err(first),
            None => {
                let empty = |field: &Field| self.fields.trimmed(*field).is_empty();
                Err(Field::of(self.by).into_iter().find(empty).unwrap_or(first))
            }
        }
    }
}

fn worded(correction: Correction, paper: &Paper, preferences: &Preferences) -> Found {
    let drawn = put_right::drawn(&correction, [paper.size.width_mm, paper.size.height_mm]);
    let legend = if drawn.times == 1 {
        "The dashed frame is where it belongs, the other where this printer puts it.".to_owned()
    } else {
        format!(
            "The dashed frame is where it belongs, the other where this printer puts it, drawn {} times as far off.",
            drawn.times
        )
    };
    Found { correction, words: put_right::words(&correction, preferences), drawn, legend }
}
