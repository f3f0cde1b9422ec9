//! Reading a file and looking at what it would do: the work of a thread of its own, worded.

use crate::exchange::movement_file::{ImportItem, Planned, RowProblem, Shelf};
use crate::exchange::table::{Flow, Found, Heading, ImportKind, Mapping, Workbook, preview, read};
use crate::exchange::table_plan;
use crate::window::desk::Watch;
use chrono::NaiveDate;
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

/// Reads a file; what is wrong with it, as a sentence.
pub(super) fn open(path: &Path, watch: &Watch) -> Result<Workbook, String> {
    let cannot = |reason: String| format!("{} cannot be read: {reason}", path.display());
    let there = std::fs::metadata(path).map_err(|error| match error.kind() {
        std::io::ErrorKind::NotFound => format!("there is no file {}; a CSV, XLSX or ODS file is read", path.display()),
        _ => cannot(error.to_string()),
    })?;
    if !there.is_file() {
        return Err(cannot("it is no file; a CSV, XLSX or ODS file is read".to_owned()));
    }
    let limit = u64::try_from(read::FILE_LIMIT).unwrap_or(u64::MAX);
    if there.len() > limit {
        return Err(cannot(format!("it has {} bytes; at most {limit} are read", there.len())));
    }
    let bytes = std::fs::read(path).map_err(|error| cannot(error.to_string()))?;
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let counted = |number: u64| usize::try_from(number).unwrap_or(usize::MAX);
    read(&bytes, &name, &mut |progress| {
        let on = watch.tell(counted(progress.done), counted(progress.whole));
        if on { Flow::Go } else { Flow::Stop }
    })
    .map_err(|problem| problem.to_string())
}

/// What is looked at, and how.
#[derive(Debug, Clone)]
pub(super) struct Question {
    pub(super) workbook: Arc<Workbook>,
    pub(super) sheet: usize,
    pub(super) heading: Heading,
    pub(super) mapping: Mapping,
    pub(super) day: Option<NaiveDate>,
    pub(super) name: String,
    pub(super) shelf: Arc<Shelf>,
    /// References and names, in lower case, of what bears lead.
    pub(super) lead: Arc<BTreeSet<String>>,
}

/// A problem or a remark, worded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Told {
    pub(super) row: String,
    pub(super) column: String,
    pub(super) text: String,
}

impl From<&RowProblem> for Told {
    fn from(problem: &RowProblem) -> Self {
        Self { row: problem.row.to_string(), column: problem.column.clone(), text: problem.text.clone() }
    }
}

/// One of the first rows, as it would be read.
#[derive(Debug, Clone)]
pub(super) struct ShownRow {
    pub(super) row: String,
    pub(super) texts: Vec<String>,
    pub(super) lead: bool,
}

/// An item that would be made.
#[derive(Debug, Clone)]
pub(super) struct NewRow {
    pub(super) reference: String,
    pub(super) name: String,
    pub(super) kind: &'static str,
    pub(super) unit: &'static str,
    pub(super) lead: bool,
}

/// A sheet as it would be brought in, worded.
#[derive(Debug)]
pub struct Looked {
    pub(super) planned: Planned,
    pub(super) problems: Vec<Told>,
    pub(super) remarks: Vec<Told>,
    pub(super) headings: Vec<&'static str>,
    pub(super) shown: Vec<ShownRow>,
    pub(super) new_items: Vec<NewRow>,
    pub(super) summary: String,
}

/// Looks at a sheet.
pub(super) fn look(question: &Question) -> Looked {
    let Question { workbook, sheet, heading, mapping, day, name, shelf, lead } = question;
    let nothing = crate::exchange::table::Sheet::default();
    let sheet = workbook.sheets.get(*sheet).unwrap_or(&nothing);
    let found = preview(sheet, heading, mapping, shelf.currency, *day);
    let plan = table_plan::plan(&found, heading, mapping, name, shelf);
    let bears = |text: &String| lead.contains(&text.to_lowercase());
    let own: BTreeSet<u32> = match &found.found {
        Found::Items(items) => items.iter().filter(|(_, item)| item.lead_bearing).map(|(row, _)| *row).collect(),
        Found::Lines(_) => BTreeSet::new(),
    };
    let named = found.fields.iter().position(|field| matches!(field, crate::exchange::table::Field::Item));
    let shown = found
        .shown
        .iter()
        .map(|(row, texts)| ShownRow {
            row: row.to_string(),
            texts: texts.clone(),
            lead: own.contains(row) || named.and_then(|place| texts.get(place)).is_some_and(bears),
        })
        .collect();
    let new_items = plan.planned.plan.new_items.iter();
    let new_items = new_items.map(|item| NewRow {
        reference: item.reference.clone(),
        name: item.name.clone(),
        kind: item.details.kind().name(),
        unit: item.unit.name(),
        lead: item.lead_bearing,
    });
    Looked {
        problems: plan.planned.problems.iter().map(Told::from).collect(),
        remarks: plan.remarks.iter().map(Told::from).collect(),
        headings: found.fields.iter().map(|field| field.heading()).collect(),
        shown,
        new_items: new_items.collect(),
        summary: summary(&plan.planned, mapping.kind),
        planned: plan.planned,
    }
}

fn counted(count: usize, one: &str) -> String {
    format!("{count} {one}{}", if count == 1 { "" } else { "s" })
}

/// What would come in, in a sentence.
fn summary(planned: &Planned, kind: ImportKind) -> String {
    let plan = &planned.plan;
    if kind == ImportKind::Items {
        return match plan.new_items.len() {
            0 => "No new item is in it.".to_owned(),
            new => format!("{} would be added to the stock.", counted(new, "new item")),
        };
    }
    let word = match kind {
        ImportKind::Receipts => "receipt",
        ImportKind::Counts => "count",
        _ => "movement",
    };
    let items: BTreeSet<ImportItem> = plan.movements.iter().map(|movement| movement.item).collect();
    let made = match plan.new_items.len() {
        0 => String::new(),
        1 => "; 1 of them is new and is made".to_owned(),
        new => format!("; {new} of them are new and are made"),
    };
    match plan.movements.len() {
        0 => format!("No {word} is in it."),
        all => format!("{} of {} would come in{made}.", counted(all, word), counted(items.len(), "item")),
    }
}
