//! `stock export`: a list of the book, or the whole book, as a file.

use super::arguments::Format;
use super::failure::Failure;
use super::session::Session;
use super::stock_lot_arguments::{Export, ListName};
use super::words::counted;
use crate::actions;
use crate::actions::lists::{self, ListOut, ListSource};
use crate::exchange::table::write::{Form, OutProblem, in_folder, write_out};
use crate::studio::ValuationMethod;
use serde_json::json;

impl From<ListName> for ListOut {
    fn from(name: ListName) -> Self {
        match name {
            ListName::Items => Self::Items,
            ListName::Stock => Self::Stock,
            ListName::Movements => Self::Movements,
            ListName::Lots => Self::Lots,
            ListName::Value => Self::Value,
            ListName::Designs => Self::Designs,
            ListName::Prices => Self::Prices,
            ListName::Accepted => Self::Accepted,
            ListName::Book => Self::Book,
        }
    }
}

/// JSON: `files`: list of what was written; `tables`: list of `name`, `rows` (how many).
pub(super) fn export(session: &mut Session<'_>, task: &Export) -> Result<(), Failure> {
    let list = ListOut::from(task.list);
    let form = match Form::of(&task.out) {
        Some(form) => form,
        // The book as CSV goes into a folder, a file a list.
        None if list == ListOut::Book && (task.out.is_dir() || task.out.extension().is_none()) => Form::Csv,
        None => {
            return Err(Failure::invalid(format!(
                "{}: a file that ends in .csv, .xlsx or .json is accepted; for the book a folder too",
                task.out.display()
            )));
        }
    };
    let (book, snapshot) = session.read()?;
    let movements = if list.needs_movements() { actions::all_movements(&book)? } else { Vec::new() };
    let on = task.on.unwrap_or_else(|| session.today());
    let method = task.method.map_or(snapshot.settings.valuation, ValuationMethod::from);
    let value = if list == ListOut::Value { Some(actions::stock_value(&book, on, method)?) } else { None };
    let source =
        ListSource { snapshot: &snapshot, movements: &movements, value: value.as_ref().map(|value| (on, value)) };
    let tables = lists::tables(list, &source)?;
    let files = write_out(&tables, form, &task.out).map_err(|problem| match problem {
        OutProblem::Form(problem) => Failure::no(problem.to_string()),
        OutProblem::File(problem) => Failure::from(problem),
    })?;
    if task.form.format == Format::Json {
        let tables: Vec<_> =
            tables.iter().map(|table| json!({ "name": table.name, "rows": table.rows.len() })).collect();
        return session.json(&json!({ "files": files, "tables": tables }));
    }
    for table in &tables {
        session.say(&format!("{}: {}", table.name, counted(table.rows.len(), "row", "rows")))?;
    }
    let folder = if in_folder(form, &task.out) && files.len() > 1 { ", a file each" } else { "" };
    session.say(&format!("Wrote {}{folder}", task.out.display()))
}
