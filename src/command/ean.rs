//! `ean …`: trade numbers of designs and items.

use super::arguments::Format;
use super::failure::Failure;
use super::session::Session;
use super::statement_arguments::EanTask;
use super::table::{Align, Table};
use crate::actions::{self, Action};
use crate::book::{Numbered, Snapshot};
use serde_json::json;

/// JSON of `set` and `clear`: `code`, `number` (`null` once cleared); of `show`: `numbers`: list of `kind`, `code`,
/// `name`, `number`.
pub(super) fn ean(session: &mut Session<'_>, task: EanTask) -> Result<(), Failure> {
    match task {
        EanTask::Set { code, number, form } => set(session, &code, Some(number), form.format),
        EanTask::Clear { code, form } => set(session, &code, None, form.format),
        EanTask::Show { code, form } => show(session, code.as_deref(), form.format),
    }
}

fn set(session: &mut Session<'_>, code: &str, number: Option<String>, format: Format) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let of = find(&snapshot, code)?;
    if number.is_none() && !snapshot.trade_numbers.contains_key(&of) {
        return Err(Failure::no(format!("{code} has no trade number")));
    }
    session.perform(&mut book, Action::SetTradeNumber { of, number: number.clone() })?;
    if format == Format::Json {
        return session.json(&json!({ "code": code, "number": number }));
    }
    session.say(&match number {
        Some(number) => format!("{code} has the trade number {number}"),
        None => format!("{code} has no trade number any more"),
    })
}

fn show(session: &mut Session<'_>, code: Option<&str>, format: Format) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    let wanted = code.map(|code| find(&snapshot, code)).transpose()?;
    let rows: Vec<[String; 4]> = snapshot
        .trade_numbers
        .iter()
        .filter(|(of, _)| wanted.is_none_or(|wanted| wanted == **of))
        .filter_map(|(of, number)| {
            let (kind, code, name) = match of {
                Numbered::Design(id) => {
                    let design = &snapshot.design(*id)?.design;
                    ("design", design.code.as_str().to_owned(), design.name.clone())
                }
                Numbered::Item(id) => {
                    let item = &snapshot.item(*id)?.item;
                    ("item", item.reference.clone(), item.name.clone())
                }
            };
            Some([kind.to_owned(), code, name, number.clone()])
        })
        .collect();
    if format == Format::Json {
        let numbers: Vec<_> = rows
            .iter()
            .map(|[kind, code, name, number]| json!({ "kind": kind, "code": code, "name": name, "number": number }))
            .collect();
        return session.json(&json!({ "numbers": numbers }));
    }
    match (rows.is_empty(), code) {
        (true, Some(code)) => session.say(&format!("{code} has no trade number")),
        (true, None) => session.say("Nothing has a trade number"),
        (false, _) => {
            let mut table = Table::new(&[
                ("Kind", Align::Left),
                ("Code", Align::Left),
                ("Name", Align::Left),
                ("EAN-13", Align::Left),
            ]);
            for row in rows {
                table.row(row);
            }
            session.write(table)
        }
    }
}

/// The design of that code, in capitals or not, else the item of that reference.
fn find(snapshot: &Snapshot, code: &str) -> Result<Numbered, Failure> {
    let same = |other: &str| other.eq_ignore_ascii_case(code.trim());
    let design = snapshot.designs.iter().find(|book| same(book.design.code.as_str()));
    let item = || snapshot.stock.iter().find(|row| same(&row.item.reference));
    design.map(|book| Numbered::Design(book.id)).or_else(|| item().map(|row| Numbered::Item(row.id))).ok_or_else(|| {
        Failure::no(format!("there is no design or item {code}; `design list` and `stock list` show them"))
    })
}
