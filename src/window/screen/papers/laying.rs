//! What is printed on what: the job from the choices, laid out at once or, when it is long, on a thread.

use super::pieces::{Chosen, Piece};
use crate::book::Snapshot;
use crate::paper::page::Rect;
use crate::paper::preview::{Mark, Outliner};
use crate::paper::{
    CardJob, CardStyle, Document, PaperProblem, PaperSize, Shaper, Symbology, TagJob, Watch, cards, sheets, tags,
};
use crate::studio::{ChannelId, LabelSheet};
use iced::widget::canvas;
use std::sync::Arc;

/// Tags or care cards.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// Tags.
    Tags,
    /// Care cards.
    Cards,
}

impl What {
    /// A title for the PDF.
    pub(super) const fn title(self) -> &'static str {
        match self {
            Self::Tags => "Tags",
            Self::Cards => "Care cards",
        }
    }

    /// The name proposed for the file.
    pub(super) const fn file_name(self) -> &'static str {
        match self {
            Self::Tags => "tags.pdf",
            Self::Cards => "care-cards.pdf",
        }
    }

    /// How many of them, in words.
    pub(super) fn counted(self, count: u64) -> String {
        match (self, count) {
            (Self::Tags, 1) => "1 tag".to_owned(),
            (Self::Tags, count) => format!("{count} tags"),
            (Self::Cards, 1) => "1 care card".to_owned(),
            (Self::Cards, count) => format!("{count} care cards"),
        }
    }
}

/// What was chosen besides the designs.
#[derive(Debug, Clone)]
pub(super) struct Choices {
    pub(super) what: What,
    pub(super) channel: Option<ChannelId>,
    pub(super) symbology: Symbology,
    pub(super) style: CardStyle,
    pub(super) paper: PaperSize,
    /// Of the printer chosen, where they are known.
    pub(super) dots_per_inch: Option<u32>,
}

/// Longest run that is laid out in the same frame, labels.
const AT_ONCE: u64 = 300;

/// Tags or cards to lay out.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Job {
    /// Tags, for a printer of so many dots per inch.
    Tags(TagJob, Option<u32>),
    /// Care cards.
    Cards(CardJob),
}

impl Job {
    /// The job of the ticked designs, by code.
    pub(super) fn new(
        pieces: &[Piece],
        chosen: &Chosen,
        choices: &Choices,
        sheet: &LabelSheet,
        start: u32,
        snapshot: &Snapshot,
    ) -> Self {
        let wanted = pieces.iter().filter(|piece| chosen.printed(piece.id) > 0);
        match choices.what {
            What::Tags => {
                let tags = wanted
                    .map(|piece| (piece.tag(snapshot, choices.channel.as_ref()).0, chosen.printed(piece.id)))
                    .collect();
                let (sheet, symbology) = (sheet.clone(), choices.symbology);
                Self::Tags(TagJob { sheet, tags, start, symbology }, choices.dots_per_inch)
            }
            What::Cards => Self::Cards(CardJob {
                cards: wanted.map(|piece| (piece.care.clone(), chosen.printed(piece.id))).collect(),
                style: choices.style,
                paper: choices.paper,
            }),
        }
    }

    /// Labels or cards in it.
    pub(super) fn count(&self) -> u64 {
        match self {
            Self::Tags(job, _) => job.tags.iter().map(|(_, copies)| u64::from(*copies)).sum(),
            Self::Cards(job) => job.cards.iter().map(|(_, copies)| u64::from(*copies)).sum(),
        }
    }

    /// So long that laying it out would be felt.
    pub(super) fn is_long(&self) -> bool {
        let different = match self {
            Self::Tags(job, _) => job.tags.len(),
            Self::Cards(job) => job.cards.len(),
        };
        self.count() > AT_ONCE || different > 60
    }

    /// The pages; `watch` is told how far they are and may break it off.
    pub(super) fn layout(&self, shaper: &mut Shaper, watch: &mut dyn Watch) -> Result<Document, PaperProblem> {
        match self {
            Self::Tags(job, dots) => tags::layout_for(job, *dots, shaper, watch),
            Self::Cards(job) => cards::layout_watched(job, shaper, watch),
        }
    }

    /// The places of the first page, from the first label on; none for cards, which always begin at the first.
    fn slots(&self) -> (Vec<Rect>, u32) {
        match self {
            Self::Tags(job, _) => match sheets::grid(&job.sheet) {
                Ok(grid) => ((0..grid.labels()).map(|slot| grid.rect(slot)).collect(), job.start),
                Err(_) => (Vec::new(), 1),
            },
            Self::Cards(_) => (Vec::new(), 1),
        }
    }
}

/// A laid-out document with the page that is shown of it.
#[derive(Debug)]
pub(super) struct Laid {
    pub(super) document: Arc<Document>,
    /// What was laid out.
    pub(super) job: Job,
    pub(super) count: u64,
    pub(super) page: usize,
    /// What is on the page shown.
    pub(super) marks: Vec<Mark>,
    pub(super) cache: canvas::Cache,
    /// The places of a label sheet.
    pub(super) slots: Vec<Rect>,
    /// The first label used, from 1.
    pub(super) start: u32,
    /// Labels of the begun sheet that were used before.
    pub(super) used: u32,
    /// `page 1 of 3`.
    pub(super) turner: String,
    /// Warnings in words.
    pub(super) warnings: Vec<String>,
}

/// Warnings told one by one; beyond it their number.
const MOST_WARNINGS: usize = 12;

impl Laid {
    pub(super) fn new(document: Arc<Document>, job: Job, used: u32, page: usize, outliner: &mut Outliner) -> Self {
        let (slots, start) = job.slots();
        let mut warnings: Vec<String> = document.warnings.iter().take(MOST_WARNINGS).map(ToString::to_string).collect();
        let more = document.warnings.len().saturating_sub(MOST_WARNINGS);
        if more > 0 {
            warnings.push(format!("and {more} more; print fewer designs at once to see each"));
        }
        let mut laid = Self {
            document,
            count: job.count(),
            job,
            page: 0,
            marks: Vec::new(),
            cache: canvas::Cache::new(),
            slots,
            start,
            used,
            turner: String::new(),
            warnings,
        };
        laid.turn(page, outliner);
        laid
    }

    /// Shows another page; beyond the last, the last.
    pub(super) fn turn(&mut self, page: usize, outliner: &mut Outliner) {
        let pages = self.document.pages.len();
        self.page = page.min(pages.saturating_sub(1));
        self.marks = self.document.pages.get(self.page).map(|page| outliner.marks(page)).unwrap_or_default();
        self.cache.clear();
        self.turner = format!("page {} of {pages}", self.page + 1);
    }

    /// Width and height of the page shown, mm.
    #[allow(clippy::cast_possible_truncation)] // at most a metre, to be drawn on a screen
    pub(super) fn size_mm(&self) -> [f32; 2] {
        let page = self.document.pages.get(self.page);
        page.map_or([1.0, 1.0], |page| [page.width_mm.max(1.0) as f32, page.height_mm.max(1.0) as f32])
    }

    /// What it comes to: `12 tags on 1 page`.
    pub(super) fn summary(&self, what: What) -> String {
        let pages = self.document.pages.len();
        format!("{} on {pages} {}", what.counted(self.count), if pages == 1 { "page" } else { "pages" })
    }
}
