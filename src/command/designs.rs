//! `design import`, `export` and `list`.

use super::arguments::{DesignTask, Format};
use super::cost::{dash, read_design};
use super::failure::Failure;
use super::session::Session;
use super::table::{Align, Table};
use super::words::{counted, fine_money, money};
use crate::actions::{self, Action};
use crate::book::Snapshot;
use crate::costing::{self, Costing, Level};
use crate::exchange::{design_file, file_out};
use crate::measure::{Preferences, exact};
use crate::studio::{BookDesign, Design, DesignCode, DesignId, Follows};
use serde_json::json;
use std::collections::BTreeMap;
use std::path::PathBuf;

pub(super) fn design(session: &mut Session<'_>, task: DesignTask) -> Result<(), Failure> {
    match task {
        DesignTask::Import { files, replace, form } => {
            let taken = if replace { Taken::Replace } else { Taken::Refuse };
            import(session, &files, taken, form.format)
        }
        DesignTask::Export { code, out } => export(session, &code, out),
        DesignTask::List { all, form } => list(session, if all { Shown::All } else { Shown::InUse }, form.format),
    }
}

/// The design of that code; none is the program's no.
pub(super) fn find<'a>(snapshot: &'a Snapshot, code: &DesignCode) -> Result<&'a BookDesign, Failure> {
    let found = snapshot.designs.iter().find(|design| design.design.code == *code);
    found.ok_or_else(|| Failure::no(format!("there is no design {code}; `design list` shows the codes")))
}

/// The designs of those codes in the order given; with none given all that are in use, by code.
pub(super) fn chosen<'a>(snapshot: &'a Snapshot, codes: &[DesignCode]) -> Result<Vec<&'a BookDesign>, Failure> {
    if codes.is_empty() {
        return Ok(snapshot.designs.iter().filter(|design| !design.retired).collect());
    }
    codes.iter().map(|code| find(snapshot, code)).collect()
}

/// A book's design as it is costed today, with its costing.
pub(super) fn costed(snapshot: &Snapshot, design: &BookDesign) -> Result<(Design, Costing), Failure> {
    let named = |reason: String| Failure::no(format!("{}: {reason}", design.design.code));
    let resolved = snapshot.resolved(design).map_err(|error| named(error.to_string()))?;
    let costing = costing::costing(&resolved).map_err(|error| named(error.to_string()))?;
    Ok((resolved, costing))
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Taken {
    Refuse,
    Replace,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Shown {
    InUse,
    All,
}

/// Reads every file before the first is taken, so that a fault in one leaves the book as it was.
/// JSON: `imported`: list of `file`, `code`, `name`, `replaced`.
fn import(session: &mut Session<'_>, files: &[PathBuf], taken: Taken, format: Format) -> Result<(), Failure> {
    let mut problems = Vec::new();
    let mut designs = Vec::new();
    let mut by_code: BTreeMap<DesignCode, &PathBuf> = BTreeMap::new();
    for file in files {
        let read = read_design(file).and_then(|design| {
            // What cannot be costed is not taken in: an outline that crosses itself, amounts that grow too large.
            let costed = costing::costing(&design).map(|_| ());
            costed.map(|()| design).map_err(|error| vec![format!("{}: {error}", file.display())])
        });
        match read {
            Ok(design) => {
                if let Some(first) = by_code.insert(design.code.clone(), file) {
                    let (first, code) = (first.display(), &design.code);
                    problems.push(format!("{}: design, code: {code} is in {first} too", file.display()));
                }
                designs.push((file, design));
            }
            Err(found) => problems.extend(found),
        }
    }
    if !problems.is_empty() {
        return Err(Failure::Invalid(problems));
    }
    let mut book = session.open_to_write()?;
    let snapshot = actions::snapshot(&book)?;
    let existing = |code: &DesignCode| snapshot.designs.iter().find(|design| design.design.code == *code);
    if taken == Taken::Refuse {
        let refused: Vec<String> = designs
            .iter()
            .filter(|(_, design)| existing(&design.code).is_some())
            .map(|(file, design)| {
                let code = &design.code;
                format!("{}: {code} is in the book already; --replace puts the file in its place", file.display())
            })
            .collect();
        if !refused.is_empty() {
            return Err(Failure::No(refused));
        }
    }
    let mut imported = Vec::new();
    for (file, design) in designs {
        let before = existing(&design.code);
        let (code, name) = (design.code.clone(), design.name.clone());
        let id: Option<DesignId> = before.map(|before| before.id);
        let notes = before.map(|before| before.notes.clone()).unwrap_or_default();
        session.perform(&mut book, Action::SaveDesign { id, design, follows: Follows::default(), notes })?;
        imported.push((file, code, name, id.is_some()));
    }
    match format {
        Format::Json => {
            let list: Vec<_> = imported
                .iter()
                .map(|(file, code, name, replaced)| {
                    json!({ "file": file.to_string_lossy(), "code": code, "name": name, "replaced": replaced })
                })
                .collect();
            session.json(&json!({ "imported": list }))
        }
        Format::Text => {
            for (_, code, name, replaced) in &imported {
                session.say(&format!("{} {code} {name}", if *replaced { "Replaced" } else { "Imported" }))?;
            }
            Ok(())
        }
    }
}

fn export(session: &mut Session<'_>, code: &DesignCode, out: Option<PathBuf>) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    let resolved = snapshot.resolved(find(&snapshot, code)?)?;
    let text = design_file::write(&resolved);
    match out {
        None => session.write(text),
        Some(path) => {
            file_out::write(&path, text.as_bytes())?;
            session.say(&format!("Wrote {} to {}", resolved.code, path.display()))
        }
    }
}

/// The book's units and number style with the design's own currency: a design file may bring another one in.
pub(super) fn preferences_of(snapshot: &Snapshot, design: &Design) -> Preferences {
    Preferences { currency: design.currency, ..Preferences::from(&*snapshot.settings) }
}

/// JSON: `designs`: list of `code`, `name`, `pieces`, `firings`, `currency`, `full`, `out_of_pocket`, `common_ticket`,
/// `channels` (ids), `cautions` (how many), `stops` (how many), `photo`, `retired`, and `error` where it cannot be
/// costed.
fn list(session: &mut Session<'_>, shown: Shown, format: Format) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    let designs: Vec<&BookDesign> =
        snapshot.designs.iter().filter(|design| shown == Shown::All || !design.retired).collect();
    match format {
        Format::Json => {
            let list: Vec<_> = designs.iter().map(|design| design_json(&snapshot, design)).collect();
            session.json(&json!({ "designs": list }))
        }
        Format::Text if designs.is_empty() => {
            session.say("No designs yet: `design import FILE` reads one, or open the window to write one down.")
        }
        Format::Text => {
            let mut table = Table::new(&[
                ("Code", Align::Left),
                ("Name", Align::Left),
                ("Pieces", Align::Right),
                ("Firings", Align::Right),
                ("Full cost", Align::Right),
                ("Common ticket", Align::Right),
                ("", Align::Left),
            ]);
            for design in &designs {
                table.row(design_row(&snapshot, design));
            }
            session.write(table)?;
            session.say(&counted(designs.len(), "design", "designs"))
        }
    }
}

fn stops(costing: &Costing) -> usize {
    costing.cautions.iter().filter(|caution| caution.level == Level::Stop).count()
}

fn design_json(snapshot: &Snapshot, design: &BookDesign) -> serde_json::Value {
    let own = &design.design;
    let channels: Vec<&str> = own.channels.iter().map(|channel| channel.id.0.as_str()).collect();
    let mut answer = json!({
        "code": own.code, "name": own.name, "pieces": own.pieces.to_string(), "currency": own.currency.code(),
        "channels": channels, "photo": design.has_photo, "retired": design.retired,
        "firings": null, "full": null, "out_of_pocket": null, "common_ticket": null, "cautions": null, "stops": null,
    });
    let figures = match costed(snapshot, design) {
        Ok((_, costing)) => json!({
            "firings": costing.cost.firings,
            "full": exact::answer(costing.cost.full),
            "out_of_pocket": exact::answer(costing.cost.out_of_pocket),
            "common_ticket": costing.common.as_ref().map(|common| exact::answer(common.ticket)),
            "cautions": costing.cautions.len(),
            "stops": stops(&costing),
        }),
        Err(failure) => json!({ "error": failure.lines().join("; ") }),
    };
    if let (Some(answer), serde_json::Value::Object(figures)) = (answer.as_object_mut(), figures) {
        answer.extend(figures);
    }
    answer
}

fn design_row(snapshot: &Snapshot, design: &BookDesign) -> Vec<String> {
    let own = &design.design;
    let preferences = preferences_of(snapshot, own);
    let mut row = vec![own.code.to_string(), own.name.clone(), own.pieces.to_string()];
    let mut remarks = Vec::new();
    match costed(snapshot, design) {
        Ok((_, costing)) => {
            row.push(costing.cost.firings.to_string());
            row.push(fine_money(costing.cost.full, &preferences));
            row.push(costing.common.as_ref().map_or_else(dash, |common| money(common.ticket, &preferences)));
            let stops = stops(&costing);
            if stops > 0 {
                remarks.push(counted(stops, "stop", "stops"));
            }
            if costing.cautions.len() > stops {
                remarks.push(counted(costing.cautions.len() - stops, "caution", "cautions"));
            }
        }
        Err(failure) => {
            row.extend(std::iter::repeat_with(dash).take(3));
            remarks.push(failure.lines().join("; "));
        }
    }
    if design.retired {
        remarks.push("set aside".to_owned());
    }
    row.push(remarks.join(", "));
    row
}
