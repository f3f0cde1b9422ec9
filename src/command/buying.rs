//! `stock buy`: the shopping list with its reasons, as a PDF or CSV too.

use super::arguments::{Form, Format};
use super::failure::Failure;
use super::print_arguments::Paper;
use super::session::Session;
use super::table::{Align, Table};
use super::typed;
use super::words::{counted, money, plain};
use crate::actions;
use crate::book::Snapshot;
use crate::costing::buying_words::{brief, packs};
use crate::costing::planning::PlanningRates;
use crate::costing::reason::{FigureMeasure, ReasonLine};
use crate::costing::running_out::service_quantile;
use crate::costing::shopping::{ShoppingLine, ShoppingList, Want, shopping_list};
use crate::exchange::file_out;
use crate::exchange::table::{lists, write};
use crate::measure::Preferences;
use crate::paper::shopping_model::{NO_SUPPLIER, sum};
use crate::paper::{PaperSize, Properties, Shaper, pdf, shopping, shopping_model};
use clap::Args;
use serde_json::json;
use std::path::{Path, PathBuf};

/// `stock buy`.
#[derive(Debug, Args)]
pub struct Buy {
    /// A file to write the list to: PDF or CSV, by how its name ends
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// The page of a PDF
    #[arg(long, value_enum, default_value_t)]
    pub paper: Paper,
    /// Weeks of use looked at
    #[arg(long, value_name = "N", default_value_t = 26, value_parser = clap::value_parser!(u32).range(4..=522))]
    pub weeks: u32,
    /// Chance of not running out before the delivery, 50 % to 99.99 %
    #[arg(long, value_name = "SHARE", default_value = "95%")]
    pub service: String,
    /// Days from order to delivery of items that have none of their own
    #[arg(long, value_name = "N", default_value_t = 14, value_parser = clap::value_parser!(u32).range(0..=3650))]
    pub lead_days: u32,
    /// What placing one order costs: postage, time at the desk
    #[arg(long, value_name = "AMOUNT")]
    pub order_cost: Option<String>,
    /// What holding stock for a year costs, as a share of its price
    #[arg(long, value_name = "SHARE", default_value = "20%")]
    pub holding: String,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// What a list is written as.
#[derive(Clone, Copy)]
enum Kind {
    Pdf,
    Csv,
}

/// JSON: `day`, `currency`, `cost`, `without_price`, `out` (the file written); `suppliers`: list of `supplier`, `cost`,
/// `without_price` and `lines`: list of `reference`, `name`, `maker_number`, `unit`, `lead_bearing`, `packs`, `pack`
/// (null: by the unit), `pack_price`, `quantity`, `cost`, `why` (a sentence), `reason`: list of `figure`, `measure`,
/// `value`.
pub(super) fn buy(session: &mut Session<'_>, task: &Buy) -> Result<(), Failure> {
    let kind = task.out.as_deref().map(kind_of).transpose()?;
    let (book, snapshot) = session.read()?;
    let preferences = Preferences::from(&*snapshot.settings);
    let rates = rates(task, &preferences)?;
    let plans = actions::plans(&book, session.today(), &rates)?;
    let wants: Vec<Want> = plans.into_iter().map(|plan| plan.want).collect();
    let list = shopping_list(&wants, preferences.currency)?;
    if let (Some(kind), Some(path)) = (kind, task.out.as_deref()) {
        save(session, &snapshot, &list, (kind, path), task.paper)?;
    }
    if task.form.format == Format::Json {
        let suppliers: Vec<_> = list
            .suppliers
            .iter()
            .map(|supplier| {
                let lines: Vec<_> = supplier.lines.iter().map(|line| line_json(line, &preferences)).collect();
                json!({
                    "supplier": supplier.supplier, "cost": supplier.cost.to_string(),
                    "without_price": supplier.without_price, "lines": lines,
                })
            })
            .collect();
        return session.json(&json!({
            "day": session.today(), "currency": preferences.currency.code(), "cost": list.cost.to_string(),
            "without_price": list.without_price, "out": task.out, "suppliers": suppliers,
        }));
    }
    tell(session, &list, &preferences)?;
    match task.out.as_deref() {
        Some(path) => session.say(&format!("Wrote the list to {}", path.display())),
        None => Ok(()),
    }
}

fn kind_of(path: &Path) -> Result<Kind, Failure> {
    let ends = path.extension().map(|ends| ends.to_string_lossy().to_lowercase());
    match ends.as_deref() {
        Some("pdf") => Ok(Kind::Pdf),
        Some("csv") => Ok(Kind::Csv),
        _ => Err(Failure::invalid(format!("out: {} ends neither in .pdf nor in .csv", path.display()))),
    }
}

fn rates(task: &Buy, preferences: &Preferences) -> Result<PlanningRates, Failure> {
    let service_level = typed::share("service", &task.service, preferences)?;
    let _ = service_quantile(service_level).map_err(|problem| Failure::invalid(format!("service: {problem}")))?;
    let holding_share = typed::share("holding", &task.holding, preferences)?;
    if holding_share.is_zero() {
        return Err(Failure::invalid(format!("holding: {:?} is nothing: write a share above 0 %", task.holding)));
    }
    let per_order = task.order_cost.as_deref().map(|text| typed::money("order-cost", text, preferences)).transpose()?;
    Ok(PlanningRates {
        weeks: task.weeks,
        service_level,
        lead_days: task.lead_days,
        per_order,
        holding_share,
        currency: preferences.currency,
    })
}

fn save(
    session: &mut Session<'_>,
    snapshot: &Snapshot,
    list: &ShoppingList,
    (kind, path): (Kind, &Path),
    paper: Paper,
) -> Result<(), Failure> {
    let bytes = match kind {
        Kind::Csv => {
            let table = lists::shopping(list, &Preferences::from(&*snapshot.settings));
            write::csv(&table).map_err(|problem| Failure::no(problem.to_string()))?
        }
        Kind::Pdf => {
            let paper = match paper {
                Paper::A4 => PaperSize::A4,
                Paper::Letter => PaperSize::LETTER,
            };
            let model = shopping_model(list, &snapshot.settings, session.today(), paper);
            let document = shopping::layout(&model, &mut Shaper::new())?;
            for warning in &document.warnings {
                session.remark(&warning.to_string());
            }
            let properties = Properties {
                title: "Shopping list".to_owned(),
                author: snapshot.settings.studio_name.clone(),
                created: session.now(),
                language: "en".to_owned(),
            };
            pdf::write(&document, &properties)?
        }
    };
    Ok(file_out::write(path, &bytes)?)
}

fn tell(session: &mut Session<'_>, list: &ShoppingList, preferences: &Preferences) -> Result<(), Failure> {
    if list.suppliers.is_empty() {
        return session.say("Nothing is to be bought: no item is at or below what it is bought again at.");
    }
    for supplier in &list.suppliers {
        let name = if supplier.supplier.is_empty() { NO_SUPPLIER } else { supplier.supplier.as_str() };
        let together = sum(supplier.cost, supplier.lines.len(), supplier.without_price, preferences);
        session.say(&format!("{name}: {}", plain(together.as_deref().unwrap_or("no price is known"))))?;
        let mut table = Table::new(&[
            ("Reference", Align::Left),
            ("Name", Align::Left),
            ("Buy", Align::Left),
            ("Sum", Align::Right),
            ("", Align::Left),
        ]);
        for line in &supplier.lines {
            table.row([
                line.reference.clone(),
                line.name.clone(),
                plain(&packs(line.packs, line.pack_words.as_deref(), line.unit, preferences)),
                line.cost.map_or_else(String::new, |cost| money(cost.amount(), preferences)),
                if line.lead_bearing { "bears lead".to_owned() } else { String::new() },
            ]);
        }
        session.write(table)?;
        for line in &supplier.lines {
            session.say(&format!("  {}: {}", line.reference, plain(&brief(line, preferences))))?;
        }
    }
    let lines: usize = list.suppliers.iter().map(|supplier| supplier.lines.len()).sum();
    let together = sum(list.cost, lines, list.without_price, preferences);
    session.say(&format!(
        "{}, {}",
        counted(lines, "line", "lines"),
        plain(together.as_deref().unwrap_or("no price is known"))
    ))
}

fn line_json(line: &ShoppingLine, preferences: &Preferences) -> serde_json::Value {
    let reason: Vec<_> = line.reason.iter().map(reason_json).collect();
    json!({
        "reference": line.reference, "name": line.name, "maker_number": line.maker_number, "unit": line.unit.name(),
        "lead_bearing": line.lead_bearing, "packs": line.packs, "pack": line.pack_words,
        "pack_price": line.pack_price.map(|price| price.to_string()), "quantity": line.quantity.to_string(),
        "cost": line.cost.map(|cost| cost.to_string()), "why": plain(&brief(line, preferences)), "reason": reason,
    })
}

fn reason_json(line: &ReasonLine) -> serde_json::Value {
    let measure = match line.figure.measure() {
        FigureMeasure::Quantity => "quantity",
        FigureMeasure::Money => "money",
        FigureMeasure::Days => "days",
        FigureMeasure::Weeks => "weeks",
        FigureMeasure::Share => "share",
        FigureMeasure::Packs => "packs",
        FigureMeasure::Number => "number",
    };
    json!({ "figure": line.figure.words(), "measure": measure, "value": line.value.normalize().to_string() })
}

#[cfg(test)]
mod tests {
    use std::ffi::OsString;
    use std::path::Path;

    /// Runs the command line on a book of a folder; what it said, and what went wrong.
    fn run(folder: &Path, arguments: &[&str]) -> (String, String) {
        let book = folder.join("studio.studiobook");
        let given = ["enamelwright".into(), "--book".into(), book.into_os_string()];
        let arguments = given.into_iter().chain(arguments.iter().map(OsString::from));
        let now = "2026-03-01T09:30:00".parse().unwrap();
        let (mut out, mut errors) = (Vec::new(), Vec::new());
        let _ = crate::command::run(arguments, now, |_| Ok(()), &mut out, &mut errors);
        (String::from_utf8(out).unwrap(), String::from_utf8(errors).unwrap())
    }

    fn done(folder: &Path, arguments: &[&str]) -> String {
        let (out, errors) = run(folder, arguments);
        assert_eq!(errors, "", "{arguments:?}");
        out
    }

    #[test]
    fn what_is_low_is_bought_in_packs_with_its_reason_and_written_out() {
        let folder = tempfile::tempdir().unwrap();
        let folder = folder.path();
        let _ = done(folder, &["new"]);
        let none = done(folder, &["stock", "buy"]);
        assert!(none.starts_with("Nothing is to be bought"), "{none}");
        let add =
            "stock add EN-041 =Fen --kind enamel --lead --reorder 300g --least-packs 2 --lead-days 10 --supplier Alder";
        let mut arguments: Vec<&str> = add.split(' ').collect();
        arguments.extend(["--pack", "100 g jar"]);
        let _ = done(folder, &arguments);
        let _ = done(folder, &["stock", "receive", "EN-041", "250g", "10", "--date", "2026-01-05"]);
        let text = done(folder, &["stock", "buy"]);
        // 50 short of 300: one jar would do, two are the fewest; 200 g at 0.04 are 8.00.
        assert!(text.contains("2 × 100 g jar") && text.contains("8.00") && text.contains("bears lead"), "{text}");
        assert!(text.contains("250 g on hand; bought again at 300 g, as set."), "{text}");
        let json: serde_json::Value =
            serde_json::from_str(&done(folder, &["stock", "buy", "--format", "json"])).unwrap();
        let line = &json["suppliers"][0]["lines"][0];
        assert_eq!((line["packs"].as_u64(), line["cost"].as_str()), (Some(2), Some("8")));
        assert_eq!(
            (json["suppliers"][0]["supplier"].as_str(), json["day"].as_str()),
            (Some("Alder"), Some("2026-03-01"))
        );
        let figures = line["reason"].as_array().unwrap();
        assert!(figures.iter().any(|figure| figure["figure"] == "fewest packs the supplier sells"), "{figures:?}");
        let (csv, pdf) = (folder.join("list.csv"), folder.join("list.pdf"));
        let _ = done(folder, &["stock", "buy", "--out", csv.to_str().unwrap()]);
        assert!(
            std::fs::read_to_string(&csv).unwrap().contains("Alder,EN-041,'=Fen,,yes,2,100 g jar,200,g,4.00,8.00,")
        );
        let _ = done(folder, &["stock", "buy", "--paper", "letter", "--out", pdf.to_str().unwrap()]);
        assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF-"));
    }

    #[test]
    fn what_cannot_be_planned_with_is_refused_by_name() {
        let folder = tempfile::tempdir().unwrap();
        let folder = folder.path();
        let _ = done(folder, &["new"]);
        for (arguments, said) in [
            (["--service", "20%"], "service: the service level 0.2 is out of range"),
            (["--holding", "0%"], "holding:"),
            (["--order-cost", "much"], "order-cost:"),
            (["--out", "list.txt"], "ends neither in .pdf nor in .csv"),
            (["--weeks", "2"], "4..=522"),
        ] {
            let (out, errors) = run(folder, &[&["stock", "buy"], &arguments[..]].concat());
            assert_eq!(out, "");
            assert!(errors.contains(said), "{errors}");
        }
    }
}
