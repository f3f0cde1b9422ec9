//! `cost`: the whole answer about one design.

use super::arguments::{Cost, Format};
use super::designs::{find, preferences_of};
use super::failure::Failure;
use super::session::Session;
use super::table::{Align, Table};
use super::words::{counted, fine_money, money, number, percent};
use crate::costing::{self, Caution, CostError, Costing, Level, answer, refire};
use crate::exchange::design_file;
use crate::measure::Preferences;
use crate::studio::{Design, DesignCode};
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// The largest design file that is read: far more than a route of a thousand steps.
const LARGEST_FILE: u64 = 8 * 1024 * 1024;

/// Answers what a design costs. JSON: the form of the design-file specification, `costing::answer`.
pub(super) fn cost(session: &mut Session<'_>, task: &Cost) -> Result<(), Failure> {
    let from_file = task.file.as_deref();
    let (mut design, preferences) = match (from_file, &task.design) {
        (Some(file), _) => {
            let design = read_design(file).map_err(Failure::Invalid)?;
            let preferences = Preferences::metric(design.currency);
            (design, preferences)
        }
        (None, Some(code)) => design_of_book(session, code)?,
        (None, None) => return Err(Failure::invalid("name a design file, or a design of the book with --design CODE")),
    };
    let refuse = |error: CostError| match from_file {
        Some(file) => Failure::of_design_file(file, &error),
        None => Failure::no(error.to_string()),
    };
    if let Some(pieces) = task.pieces {
        design.pieces = pieces;
    }
    if let Some(firings) = task.firings {
        design = refire::with_firings(&design, firings).map_err(refuse)?;
    }
    let costing = costing::costing(&design).map_err(refuse)?;
    match task.form.format {
        Format::Json => {
            let text = answer::to_json(&design, &costing);
            session.write(text.trim_end())?;
            session.write("\n")
        }
        Format::Text => session.write(text(&design, &costing, &preferences)),
    }
}

/// Reads a design file; every problem is a line that names the file and the place in it.
pub(super) fn read_design(file: &Path) -> Result<Design, Vec<String>> {
    let shown = file.display();
    let mut bytes = Vec::new();
    File::open(file)
        .and_then(|opened| opened.take(LARGEST_FILE + 1).read_to_end(&mut bytes))
        .map_err(|error| vec![format!("{shown}: cannot be read: {error}")])?;
    if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > LARGEST_FILE {
        return Err(vec![format!("{shown}: is larger than 8 MiB; a design file is a text of a few KiB")]);
    }
    let text = std::str::from_utf8(&bytes).map_err(|error| {
        let before = bytes.get(..error.valid_up_to()).unwrap_or_default();
        let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
        vec![format!("{shown}: line {line}: is not UTF-8 text; a design file is a TOML text in UTF-8")]
    })?;
    design_file::read(text)
        .map_err(|problems| problems.iter().map(|problem| format!("{shown}: {problem}")).collect::<Vec<_>>())
}

/// A design of the book as it is costed today.
fn design_of_book(session: &Session<'_>, code: &DesignCode) -> Result<(Design, Preferences), Failure> {
    let (_, snapshot) = session.read()?;
    let design = find(&snapshot, code)?;
    let resolved = snapshot.resolved(design)?;
    let preferences = preferences_of(&snapshot, &resolved);
    Ok((resolved, preferences))
}

fn text(design: &Design, costing: &Costing, preferences: &Preferences) -> String {
    let cost = &costing.cost;
    let firings = usize::try_from(cost.firings).unwrap_or(usize::MAX);
    let mut text = format!(
        "{} {}: {} started, {} good, {}, {} hours a good piece\n\n",
        design.code,
        super::table::one_line(&design.name),
        cost.pieces,
        number(cost.good, preferences),
        counted(firings, "firing", "firings"),
        number(cost.hours_per_good_piece, preferences)
    );
    let mut lines = Table::new(&[("Cost of a good piece", Align::Left), (design.currency.code(), Align::Right)]);
    for (name, amount) in [
        ("Materials", cost.materials),
        ("Labour", cost.labour),
        ("Kiln energy", cost.kiln_energy),
        ("Kiln wear", cost.kiln_wear),
        ("Overhead", cost.overhead),
        ("Loss allowance", cost.loss_allowance),
        ("Full cost", cost.full),
        ("Out of pocket", cost.out_of_pocket),
    ] {
        lines.row([name.to_owned(), fine_money(amount, preferences)]);
    }
    text.push_str(&lines.to_string());
    if !costing.channels.is_empty() {
        text.push('\n');
        text.push_str(&channels(design, costing, preferences).to_string());
    }
    if let Some(common) = &costing.common {
        let channel = design.channels.iter().find(|channel| channel.id == common.channel);
        let name = channel.map_or(common.channel.0.as_str(), |channel| channel.name.as_str());
        let line = format!("Common ticket {}, set by {name}", money(common.ticket, preferences));
        text.push('\n');
        text.push_str(&super::table::one_line(&line));
        text.push('\n');
    }
    if !costing.cautions.is_empty() {
        text.push('\n');
        for caution in &costing.cautions {
            text.push_str(&super::table::one_line(&caution_line(caution)));
            text.push('\n');
        }
    }
    text
}

fn channels(design: &Design, costing: &Costing, preferences: &Preferences) -> Table {
    let mut table = Table::new(&[
        ("Channel", Align::Left),
        ("Floor", Align::Right),
        ("Cash floor", Align::Right),
        ("Exact", Align::Right),
        ("Ticket", Align::Right),
        ("Before tax", Align::Right),
        ("Profit", Align::Right),
        ("Margin", Align::Right),
        ("An hour", Align::Right),
        ("", Align::Left),
    ]);
    for (channel, price) in design.channels.iter().zip(&costing.channels) {
        let amount = |amount: Option<_>| amount.map_or_else(dash, |amount| money(amount, preferences));
        let mut row = vec![channel.name.clone(), amount(price.floor), amount(price.cash_floor)];
        match &price.priced {
            Ok(priced) => row.extend([
                money(priced.exact, preferences),
                money(priced.ticket, preferences),
                money(priced.price_before_tax, preferences),
                money(priced.profit, preferences),
                priced.margin.map_or_else(dash, |margin| percent(margin, preferences)),
                amount(priced.earned_per_hour),
            ]),
            Err(error) => {
                row.extend(std::iter::repeat_with(dash).take(6));
                row.push(error.to_string());
            }
        }
        table.row(row);
    }
    table
}

/// What stands where there is no figure.
pub(super) fn dash() -> String {
    "-".to_owned()
}

/// A caution as a sentence.
pub(super) fn caution_line(caution: &Caution) -> String {
    let level = match caution.level {
        Level::Stop => "Stop",
        Level::Caution => "Caution",
    };
    format!("{level}, step {}: {}", caution.step, caution.text)
}
