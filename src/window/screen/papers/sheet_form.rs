//! The form of a label sheet: raw texts, parsed on every change, with the page they describe.

use crate::measure::{LengthUnit, Preferences, edit, parse};
use crate::paper::preview::{Mark, Outliner};
use crate::paper::sheets::{self, Grid};
use crate::paper::{PaperProblem, tags};
use crate::studio::{LabelShape, LabelSheet, SheetId};
use crate::window::widget::Entry;
use iced::widget::canvas;

/// A field of the form, in reading order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Page width.
    PageWidth,
    /// Page height.
    PageHeight,
    /// Left edge of the first label.
    Left,
    /// Top edge of the first label.
    Top,
    /// Label width.
    LabelWidth,
    /// Label height.
    LabelHeight,
    /// From label to label across.
    PitchAcross,
    /// From label to label down.
    PitchDown,
    /// Labels in a row.
    Columns,
    /// Rows.
    Rows,
    /// Radius of rounded corners.
    Corner,
    /// Length of a barbell's neck.
    NeckLength,
    /// Height of a barbell's neck.
    NeckHeight,
}

impl Measure {
    /// In reading order.
    pub const ALL: [Self; 13] = [
        Self::PageWidth,
        Self::PageHeight,
        Self::Left,
        Self::Top,
        Self::LabelWidth,
        Self::LabelHeight,
        Self::PitchAcross,
        Self::PitchDown,
        Self::Columns,
        Self::Rows,
        Self::Corner,
        Self::NeckLength,
        Self::NeckHeight,
    ];

    /// Those of the page and its grid.
    pub(super) const GRID: [Self; 10] = [
        Self::PageWidth,
        Self::PageHeight,
        Self::Left,
        Self::Top,
        Self::LabelWidth,
        Self::LabelHeight,
        Self::PitchAcross,
        Self::PitchDown,
        Self::Columns,
        Self::Rows,
    ];

    /// Its label.
    pub const fn label(self) -> &'static str {
        match self {
            Self::PageWidth => "Page width",
            Self::PageHeight => "Page height",
            Self::Left => "Left margin",
            Self::Top => "Top margin",
            Self::LabelWidth => "Label width",
            Self::LabelHeight => "Label height",
            Self::PitchAcross => "Pitch across",
            Self::PitchDown => "Pitch down",
            Self::Columns => "Columns",
            Self::Rows => "Rows",
            Self::Corner => "Corner radius",
            Self::NeckLength => "Neck length",
            Self::NeckHeight => "Neck height",
        }
    }

    /// Its unit.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Columns | Self::Rows => "labels",
            _ => "mm",
        }
    }
}

/// What a sheet may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Feature {
    /// Folded at the middle.
    Folded,
    /// A hole.
    Hole,
    /// Lines to cut along.
    CutLines,
    /// Short marks outside of the labels, where rows and columns are cut.
    CropMarks,
}

/// The outline of a label.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outline {
    /// Square corners.
    Rectangle,
    /// Rounded corners.
    Rounded,
    /// A circle or an ellipse.
    Round,
    /// Two flags with a neck between them.
    Barbell,
}

impl Outline {
    /// Every outline with its name, in the order they are offered.
    pub(super) const ALL: [(Self, &'static str); 4] = [
        (Self::Rectangle, "Square corners"),
        (Self::Rounded, "Rounded"),
        (Self::Round, "Round"),
        (Self::Barbell, "Barbell"),
    ];

    /// The measures it has of its own.
    pub(super) const fn measures(self) -> &'static [Measure] {
        match self {
            Self::Rectangle | Self::Round => &[],
            Self::Rounded => &[Measure::Corner],
            Self::Barbell => &[Measure::NeckLength, Measure::NeckHeight],
        }
    }
}

/// A sheet that works, as it is drawn.
#[derive(Debug)]
pub(super) struct Drawn {
    pub(super) sheet: LabelSheet,
    pub(super) grid: Grid,
    /// Outlines, folds, holes and marks.
    pub(super) marks: Vec<Mark>,
}

impl Drawn {
    fn of(sheet: LabelSheet) -> Result<Self, PaperProblem> {
        let grid = sheets::grid(&sheet)?;
        // There is no text on it to be outlined.
        let marks = Outliner::new().marks(&tags::bare_page(&sheet)?);
        Ok(Self { sheet, grid, marks })
    }
}

/// The form.
#[derive(Debug)]
pub(super) struct SheetForm {
    pub(super) id: Option<SheetId>,
    pub(super) name: Entry,
    entries: Vec<(Measure, Entry)>,
    pub(super) folded: bool,
    pub(super) hole: bool,
    pub(super) cut_lines: bool,
    pub(super) outline: Outline,
    pub(super) crop_marks: bool,
    /// The sheet, where the fields describe one.
    pub(super) drawn: Option<Drawn>,
    /// The whole page, and its corner with the measures.
    pub(super) page: canvas::Cache,
    pub(super) corner: canvas::Cache,
    /// Why it was not accepted, or what does not go together.
    pub(super) problem: Option<String>,
}

/// Bare numbers are millimetres here, whatever Setup says.
fn in_millimetres(preferences: &Preferences) -> Preferences {
    Preferences { length: LengthUnit::Millimetre, ..*preferences }
}

impl SheetForm {
    /// The form filled in with a sheet; without a row it will be a new one.
    pub(super) fn new(id: Option<SheetId>, sheet: &LabelSheet, preferences: &Preferences) -> Self {
        let text = |measure: Measure| match measure {
            Measure::PageWidth => edit::edit_number(sheet.page_width_mm, preferences),
            Measure::PageHeight => edit::edit_number(sheet.page_height_mm, preferences),
            Measure::Left => edit::edit_number(sheet.left_mm, preferences),
            Measure::Top => edit::edit_number(sheet.top_mm, preferences),
            Measure::LabelWidth => edit::edit_number(sheet.label_width_mm, preferences),
            Measure::LabelHeight => edit::edit_number(sheet.label_height_mm, preferences),
            Measure::PitchAcross => edit::edit_number(sheet.pitch_x_mm, preferences),
            Measure::PitchDown => edit::edit_number(sheet.pitch_y_mm, preferences),
            Measure::Columns => sheet.columns.to_string(),
            Measure::Rows => sheet.rows.to_string(),
            // What another outline would begin with.
            Measure::Corner => match sheet.shape {
                LabelShape::Rounded(radius) => edit::edit_number(radius, preferences),
                _ => "2".to_owned(),
            },
            Measure::NeckLength => match sheet.shape {
                LabelShape::Barbell { neck_length_mm, .. } => edit::edit_number(neck_length_mm, preferences),
                _ => "12".to_owned(),
            },
            Measure::NeckHeight => match sheet.shape {
                LabelShape::Barbell { neck_height_mm, .. } => edit::edit_number(neck_height_mm, preferences),
                _ => "4".to_owned(),
            },
        };
        let mut form = Self {
            id,
            name: Entry::new(sheet.name.clone()),
            entries: Measure::ALL.into_iter().map(|measure| (measure, Entry::new(text(measure)))).collect(),
            folded: sheet.folded,
            hole: sheet.hole,
            cut_lines: sheet.cut_lines,
            outline: match sheet.shape {
                LabelShape::Rectangle => Outline::Rectangle,
                LabelShape::Rounded(_) => Outline::Rounded,
                LabelShape::Round => Outline::Round,
                LabelShape::Barbell { .. } => Outline::Barbell,
            },
            crop_marks: sheet.crop_marks,
            drawn: None,
            page: canvas::Cache::new(),
            corner: canvas::Cache::new(),
            problem: None,
        };
        form.read(preferences);
        form
    }

    pub(super) fn text(&self, wanted: Measure) -> &str {
        self.entries.iter().find(|(measure, _)| *measure == wanted).map_or("", |(_, entry)| entry.text())
    }

    pub(super) fn type_in(&mut self, wanted: Measure, text: String, preferences: &Preferences) {
        if let Some((_, entry)) = self.entries.iter_mut().find(|(measure, _)| *measure == wanted) {
            entry.type_in(text);
        }
        self.read(preferences);
    }

    pub(super) fn switch(&mut self, feature: Feature, preferences: &Preferences) {
        let switched = match feature {
            Feature::Folded => &mut self.folded,
            Feature::Hole => &mut self.hole,
            Feature::CutLines => &mut self.cut_lines,
            Feature::CropMarks => &mut self.crop_marks,
        };
        *switched = !*switched;
        self.read(preferences);
    }

    /// Another outline.
    pub(super) fn outline(&mut self, outline: Outline, preferences: &Preferences) {
        self.outline = outline;
        self.read(preferences);
    }

    /// A barbell is folded at its neck, a round label not at all.
    pub(super) fn can_fold(&self) -> bool {
        matches!(self.outline, Outline::Rectangle | Outline::Rounded)
    }

    /// A barbell is hung by its neck.
    pub(super) fn can_have_hole(&self) -> bool {
        self.outline != Outline::Barbell
    }

    /// Gives the fields their former texts back; true when that changed something.
    pub(super) fn revert(&mut self, preferences: &Preferences) -> bool {
        let mut reverted = self.name.revert();
        for (_, entry) in &mut self.entries {
            reverted |= entry.revert();
        }
        self.read(preferences);
        reverted
    }

    /// What is wrong with a field on its own.
    pub(super) fn error(&self, measure: Measure, preferences: &Preferences) -> Option<String> {
        let text = self.text(measure);
        match measure {
            Measure::Columns | Measure::Rows => {
                parse::parse_count(text, 1..=100, preferences).err().map(|problem| problem.to_string())
            }
            _ => parse::parse_length_mm(text, &in_millimetres(preferences)).err().map(|problem| problem.to_string()),
        }
    }

    /// Reads the fields: the sheet they describe, or what does not go together.
    pub(super) fn read(&mut self, preferences: &Preferences) {
        self.page.clear();
        self.corner.clear();
        self.drawn = None;
        self.problem = None;
        let Some(sheet) = self.sheet(preferences) else { return };
        match Drawn::of(sheet) {
            Ok(drawn) => self.drawn = Some(drawn),
            Err(problem) => self.problem = Some(problem.to_string()),
        }
    }

    fn sheet(&self, preferences: &Preferences) -> Option<LabelSheet> {
        let millimetres = in_millimetres(preferences);
        let length = |measure| parse::parse_length_mm(self.text(measure), &millimetres).ok();
        let count = |measure| parse::parse_count(self.text(measure), 1..=100, preferences).ok();
        Some(LabelSheet {
            name: self.name.trimmed().to_owned(),
            page_width_mm: length(Measure::PageWidth)?,
            page_height_mm: length(Measure::PageHeight)?,
            left_mm: length(Measure::Left)?,
            top_mm: length(Measure::Top)?,
            label_width_mm: length(Measure::LabelWidth)?,
            label_height_mm: length(Measure::LabelHeight)?,
            pitch_x_mm: length(Measure::PitchAcross)?,
            pitch_y_mm: length(Measure::PitchDown)?,
            columns: count(Measure::Columns)?,
            rows: count(Measure::Rows)?,
            folded: self.folded && self.can_fold(),
            hole: self.hole && self.can_have_hole(),
            cut_lines: self.cut_lines,
            shape: match self.outline {
                Outline::Rectangle => LabelShape::Rectangle,
                Outline::Rounded => LabelShape::Rounded(length(Measure::Corner)?),
                Outline::Round => LabelShape::Round,
                Outline::Barbell => LabelShape::Barbell {
                    neck_length_mm: length(Measure::NeckLength)?,
                    neck_height_mm: length(Measure::NeckHeight)?,
                },
            },
            crop_marks: self.crop_marks,
        })
    }

    /// The sheet to be kept, where the fields describe one that has a name.
    pub(super) fn finished(&self) -> Option<LabelSheet> {
        let sheet = &self.drawn.as_ref()?.sheet;
        (!self.name.is_empty()).then(|| LabelSheet { name: self.name.trimmed().to_owned(), ..sheet.clone() })
    }
}
