//! `stock nest` and `stock cut`: blanks from sheet.

use super::arguments::Format;
use super::cost::dash;
use super::cutting_arguments::{CutTask, Nest};
use super::failure::Failure;
use super::session::Session;
use super::stock::find;
use super::table::{Align, Table};
use super::typed;
use super::words::{fine_money, money, number, percent, quantity};
use crate::actions::{self, Action};
use crate::book::{Snapshot, StockRow};
use crate::costing::cut::{Foretold, foretell};
use crate::cutting::{
    self, Aim, CutError, Estimate, Flow, Layout, Piece, Sawn, Scrap, SheetPlan, USUAL_TRIES, Wanted, blank_mm2,
};
use crate::measure::{Decimal, Preferences, Unit, exact, parse};
use crate::studio::{Cut, CutItem, ItemDetails, Metal, Outline, Thickness, outline_words};
use serde_json::{Value, json};

/// A plan that is none came in as arguments; giving up is the program's no.
impl From<CutError> for Failure {
    fn from(error: CutError) -> Self {
        match error {
            CutError::Field { .. } | CutError::Outline { .. } | CutError::Grain { .. } => {
                Self::invalid(error.to_string())
            }
            CutError::Cancelled | CutError::TooLarge(_) => Self::no(error.to_string()),
        }
    }
}

/// A sheet of stock with its size.
struct Sheet<'a> {
    row: &'a StockRow,
    metal: Metal,
    thickness: Thickness,
    size_mm: [Decimal; 2],
}

fn sheet<'a>(
    snapshot: &'a Snapshot,
    reference: &str,
    size: Option<&[String]>,
    preferences: &Preferences,
) -> Result<Sheet<'a>, Failure> {
    let row = find(snapshot, reference)?;
    let ItemDetails::Sheet { metal, thickness, size_mm } = &row.item.details else {
        let kind = row.item.details.kind().name();
        return Err(Failure::invalid(format!("{reference} is {kind}; accepted is an item of sheet")));
    };
    let size_mm = match (size, *size_mm) {
        (Some([long, wide]), _) => {
            [typed::length("size", long, preferences)?, typed::length("size", wide, preferences)?]
        }
        (_, Some(size)) => size,
        _ => {
            return Err(Failure::invalid(format!(
                "{reference} does not say its size; say it with --size LENGTH LENGTH"
            )));
        }
    };
    Ok(Sheet { row, metal: *metal, thickness: *thickness, size_mm })
}

/// `REFERENCE:QUANTITY`; a last part that is no whole number belongs to the reference.
fn counted<'a>(text: &'a str, preferences: &Preferences) -> (&'a str, Option<u32>) {
    let most = 1..=1_000_000;
    match text.rsplit_once(':') {
        Some((name, count)) => match parse::parse_count(count, most, preferences) {
            Ok(count) => (name, Some(count)),
            Err(_) => (text, None),
        },
        None => (text, None),
    }
}

/// A blank of stock, or an outline in words.
fn outline(snapshot: &Snapshot, name: &str) -> Result<(String, Outline), Failure> {
    match find(snapshot, name) {
        Ok(row) => match &row.item.details {
            ItemDetails::Blank { outline, .. } => Ok((row.item.reference.clone(), outline.clone())),
            details => {
                let kind = details.kind().name();
                Err(Failure::invalid(format!("{name} is {kind}; accepted is a blank")))
            }
        },
        Err(missing) => outline_words::read(name).map(|outline| (name.to_owned(), outline)).map_err(|_| missing),
    }
}

/// Lays out. JSON: `sheet` (its reference), `size_mm` (two), `blanks`: list of `blank`, `count`, `missing`, `area_mm2`,
/// `mass_g` (of one), `cost` (of one), `cost_all`; `used_share`, `sheet_g`, `blanks_g`, `off_cuts_g`, `scrap_g`;
/// `sheet_cost`, `scrap_cost` (its metal at what the sheet cost; the blanks and off-cuts bear it); `off_cuts`: list of
/// `low_mm`, `size_mm`, `cost`; `placed`: list of `blank` (its place in `blanks`, from 0), `origin_mm`, `turned_degrees`.
/// Costs are `null` where the sheet has no price.
pub(super) fn nest(session: &mut Session<'_>, task: &Nest) -> Result<(), Failure> {
    let (_, snapshot) = session.read()?;
    let preferences = Preferences::from(&*snapshot.settings);
    let sheet = sheet(&snapshot, &task.sheet, task.size.as_deref(), &preferences)?;
    let mut names = Vec::with_capacity(task.blank.len());
    let mut wanted = Vec::with_capacity(task.blank.len());
    let mut sets = Vec::with_capacity(task.blank.len());
    for text in &task.blank {
        let (name, quantity) = counted(text, &preferences);
        let (name, outline) = outline(&snapshot, name)?;
        names.push(name);
        sets.push(quantity.unwrap_or(1));
        let quantity = quantity.filter(|_| !task.sets);
        wanted.push(Wanted { outline, quantity, turn: task.turn.into(), grain: None });
    }
    let plan = SheetPlan {
        size_mm: sheet.size_mm,
        metal: sheet.metal,
        thickness: sheet.thickness,
        kerf_mm: typed::length("kerf", &task.kerf, &preferences)?,
        margin_mm: typed::length("margin", &task.margin, &preferences)?,
        grain: None,
        off_cut_mm: typed::length("off-cut", &task.off_cut, &preferences)?,
        wanted,
    };
    let aim = if task.sets { Aim::Sets(sets) } else { Aim::Quantities };
    let layout = cutting::mix(&plan, &aim, USUAL_TRIES, &mut |_| Flow::GoOn)?;
    let estimate = match snapshot.unit_price(sheet.row.id) {
        Some(price) => {
            let unit = sheet.row.item.unit;
            let one = cutting::of_sheets(1, unit, layout.areas.sheet, sheet.thickness, sheet.metal)?;
            Some(cutting::estimate(&layout, one, price, Scrap::WorthNothing)?)
        }
        None => None,
    };
    match task.form.format {
        Format::Json => session.json(&nest_json(&sheet, &plan, &names, &layout, estimate.as_ref())?),
        Format::Text => nest_text(session, &plan, &names, &layout, estimate.as_ref(), &preferences),
    }
}

fn nest_json(
    sheet: &Sheet<'_>,
    plan: &SheetPlan,
    names: &[String],
    layout: &Layout,
    estimate: Option<&Estimate>,
) -> Result<Value, Failure> {
    let pair = |pair: &[Decimal; 2]| [exact::answer(pair[0]), exact::answer(pair[1])];
    let mut blanks = Vec::with_capacity(names.len());
    for (which, name) in names.iter().enumerate() {
        let area = layout.blank_mm2.get(which).copied().unwrap_or_default();
        let each = estimate.and_then(|estimate| estimate.each.get(which).copied().flatten());
        let all = estimate.and_then(|estimate| estimate.parts.blanks.get(which));
        blanks.push(json!({
            "blank": name, "count": layout.counts.get(which), "missing": layout.missing.get(which),
            "area_mm2": exact::answer(area),
            "mass_g": exact::answer(cutting::grams(area, plan.thickness, plan.metal)?),
            "cost": each.map(|cost| cost.to_string()), "cost_all": all.map(|cost| cost.to_string()),
        }));
    }
    let off_cuts: Vec<Value> = layout
        .off_cuts
        .iter()
        .enumerate()
        .map(|(number, off_cut)| {
            let cost = estimate.and_then(|estimate| estimate.parts.off_cuts.get(number));
            json!({
                "low_mm": pair(&off_cut.low_mm), "size_mm": pair(&off_cut.size_mm),
                "cost": cost.map(|cost| cost.to_string()),
            })
        })
        .collect();
    let placed: Vec<Value> = layout
        .placed
        .iter()
        .map(|placed| {
            json!({ "blank": placed.which, "origin_mm": placed.origin_mm, "turned_degrees": placed.turned_degrees })
        })
        .collect();
    Ok(json!({
        "sheet": sheet.row.item.reference, "size_mm": pair(&plan.size_mm), "blanks": blanks,
        "used_share": exact::answer(layout.used_share), "sheet_g": exact::answer(layout.grams.sheet),
        "blanks_g": exact::answer(layout.grams.blanks), "off_cuts_g": exact::answer(layout.grams.off_cuts),
        "scrap_g": exact::answer(layout.grams.scrap),
        "sheet_cost": estimate.map(|estimate| estimate.sheet.to_string()),
        "scrap_cost": estimate.map(|estimate| estimate.metal.scrap.to_string()),
        "off_cuts": off_cuts, "placed": placed,
    }))
}

fn nest_text(
    session: &mut Session<'_>,
    plan: &SheetPlan,
    names: &[String],
    layout: &Layout,
    estimate: Option<&Estimate>,
    preferences: &Preferences,
) -> Result<(), Failure> {
    let grams = |grams: Decimal| number(grams, preferences);
    let mut table = Table::new(&[
        ("Blank", Align::Left),
        ("Fit", Align::Right),
        ("No room", Align::Right),
        ("g each", Align::Right),
        ("Cost each", Align::Right),
        ("Cost", Align::Right),
    ]);
    for (which, name) in names.iter().enumerate() {
        let area = layout.blank_mm2.get(which).copied().unwrap_or_default();
        let each = estimate.and_then(|estimate| estimate.each.get(which).copied().flatten());
        let all = estimate.and_then(|estimate| estimate.parts.blanks.get(which));
        table.row([
            name.clone(),
            layout.counts.get(which).map_or_else(dash, ToString::to_string),
            layout.missing.get(which).filter(|missing| **missing > 0).map_or_else(String::new, ToString::to_string),
            grams(cutting::grams(area, plan.thickness, plan.metal)?),
            each.map_or_else(dash, |cost| fine_money(cost.amount(), preferences)),
            all.map_or_else(dash, |cost| money(cost.amount(), preferences)),
        ]);
    }
    session.write(table)?;
    for (number_of, off_cut) in layout.off_cuts.iter().enumerate() {
        let [x, y] = off_cut.size_mm.map(|side| number(side, preferences));
        let cost = estimate.and_then(|estimate| estimate.parts.off_cuts.get(number_of));
        let cost = cost.map_or_else(String::new, |cost| format!(", {}", money(cost.amount(), preferences)));
        session.say(&format!("Off-cut {x} × {y} mm{cost}"))?;
    }
    let masses = &layout.grams;
    let cost = |cost: Option<crate::measure::Money>| {
        cost.map_or_else(String::new, |cost| format!(" ({})", money(cost.amount(), preferences)))
    };
    session.say(&format!(
        "Sheet {} g{}, {} used; {} g of scrap{}",
        grams(masses.sheet),
        cost(estimate.map(|estimate| estimate.sheet)),
        percent(layout.used_share, preferences),
        grams(masses.scrap),
        cost(estimate.map(|estimate| estimate.metal.scrap)),
    ))
}

/// Writes a cut down. JSON: `done` (null for a preview), `sheet` (its reference), `quantity` (in its unit), `value` (of
/// the sheet), `bench`, `scrap_g`, `scrap_value`, `left`; `pieces`: list of `part` (`blank` or `off-cut`), `item`,
/// `quantity`, `cost`.
pub(super) fn cut(session: &mut Session<'_>, task: CutTask) -> Result<(), Failure> {
    let mut book = if task.preview { session.open_to_read()? } else { session.open_to_write()? };
    let snapshot = actions::snapshot(&book)?;
    let preferences = Preferences::from(&*snapshot.settings);
    let sheet = sheet(&snapshot, &task.sheet, task.size.as_deref(), &preferences)?;
    let minutes = match &task.bench_minutes {
        Some(text) => parse::parse_minutes(text, &preferences)
            .map_err(|problem| Failure::invalid(format!("bench minutes: {problem}")))?,
        None => Decimal::ZERO,
    };
    let sawn = Sawn {
        sheet: sheet.row.id,
        unit: sheet.row.item.unit,
        sheet_mm2: cutting::sheet_mm2(sheet.size_mm)?,
        metal: sheet.metal,
        thickness: sheet.thickness,
        sheets: task.sheets,
        blanks: pieces(&snapshot, &task.blank, &preferences, blank_area)?,
        off_cuts: pieces(&snapshot, &task.off_cut, &preferences, off_cut_area)?,
        scrap: if task.scrap_keeps_its_part { Scrap::KeepsItsPart } else { Scrap::WorthNothing },
        bench_minutes: minutes,
        bench_in_cost: task.wage,
        date: task.date.unwrap_or_else(|| session.today()),
        note: task.note.clone(),
    };
    let cut = sawn.cut()?;
    let movements = actions::movements(&book, sheet.row.id)?;
    let foretold = foretell(&cut, &movements, snapshot.settings.valuation, snapshot.rates.labour_per_hour)
        .map_err(|error| Failure::no(format!("{}: {error}", sheet.row.item.name)))?;
    let done = if task.preview { None } else { Some(session.perform(&mut book, Action::Cut(cut.clone()))?.name) };
    match task.form.format {
        Format::Json => session.json(&cut_json(&snapshot, &sheet, &cut, &foretold, done.as_deref())),
        Format::Text => cut_text(session, &snapshot, &sheet, &cut, &foretold, done.as_deref(), &preferences),
    }
}

fn pieces(
    snapshot: &Snapshot,
    texts: &[String],
    preferences: &Preferences,
    area: fn(&StockRow) -> Result<Decimal, Failure>,
) -> Result<Vec<Piece>, Failure> {
    let mut pieces = Vec::with_capacity(texts.len());
    for text in texts {
        let (name, Some(count)) = counted(text, preferences) else {
            return Err(Failure::invalid(format!("{text:?} does not say how many; accepted is REFERENCE:QUANTITY")));
        };
        let row = find(snapshot, name)?;
        pieces.push(Piece { item: CutItem::Known(row.id), unit: row.item.unit, count, area_mm2: area(row)? });
    }
    Ok(pieces)
}

fn blank_area(row: &StockRow) -> Result<Decimal, Failure> {
    match &row.item.details {
        ItemDetails::Blank { outline, .. } => {
            blank_mm2(outline).map_err(|reason| Failure::invalid(format!("{}: {reason}", row.item.reference)))
        }
        _ => Err(Failure::invalid(format!("{} is no blank; accepted is an item of blanks", row.item.reference))),
    }
}

fn off_cut_area(row: &StockRow) -> Result<Decimal, Failure> {
    match &row.item.details {
        ItemDetails::Sheet { size_mm: Some(size), .. } => Ok(cutting::sheet_mm2(*size)?),
        _ => Err(Failure::invalid(format!(
            "{} is no sheet with a size; accepted is an item of sheet that says its size",
            row.item.reference
        ))),
    }
}

/// Reference, name and unit of what a line becomes.
fn becomes<'a>(snapshot: &'a Snapshot, item: &'a CutItem) -> (&'a str, &'a str, Unit) {
    let item = match item {
        CutItem::Known(id) => snapshot.item(*id).map(|row| &row.item),
        CutItem::New(item) => Some(&**item),
    };
    item.map_or(("", "", Unit::Each), |item| (item.reference.as_str(), item.name.as_str(), item.unit))
}

fn cut_json(snapshot: &Snapshot, sheet: &Sheet<'_>, cut: &Cut, foretold: &Foretold, done: Option<&str>) -> Value {
    let pieces: Vec<Value> = cut
        .lines
        .iter()
        .zip(&foretold.costs.lines)
        .map(|(line, cost)| {
            json!({
                "part": line.part.name(), "item": becomes(snapshot, &line.item).0,
                "quantity": line.quantity.to_string(), "cost": cost.to_string(),
            })
        })
        .collect();
    json!({
        "done": done, "sheet": sheet.row.item.reference, "quantity": cut.quantity.to_string(),
        "value": foretold.metal.to_string(), "bench": foretold.bench.to_string(), "scrap_g": cut.scrap_g.to_string(),
        "scrap_value": foretold.costs.scrap.to_string(), "left": foretold.left.to_string(), "pieces": pieces,
    })
}

fn cut_text(
    session: &mut Session<'_>,
    snapshot: &Snapshot,
    sheet: &Sheet<'_>,
    cut: &Cut,
    foretold: &Foretold,
    done: Option<&str>,
    preferences: &Preferences,
) -> Result<(), Failure> {
    session.say(done.unwrap_or("Nothing was changed; without --preview it is written down."))?;
    let mut table = Table::new(&[("", Align::Left), ("Quantity", Align::Right), ("Value", Align::Right)]);
    let unit = sheet.row.item.unit;
    let fine = |amount: Decimal| fine_money(amount, preferences);
    let sheet_name = format!("out: {}", sheet.row.item.name);
    table.row([sheet_name, quantity(cut.quantity, unit, preferences), fine(foretold.metal.amount())]);
    if !foretold.bench.is_zero() {
        table.row(["bench time".to_owned(), String::new(), fine(foretold.bench.amount())]);
    }
    for (line, cost) in cut.lines.iter().zip(&foretold.costs.lines) {
        let (_, name, unit) = becomes(snapshot, &line.item);
        let held = quantity(line.quantity, unit, preferences);
        table.row([format!("in: {name} ({})", line.part.name()), held, fine(cost.amount())]);
    }
    let scrap = quantity(cut.scrap_g, Unit::Gram, preferences);
    table.row(["scrap and saw dust".to_owned(), scrap, fine(foretold.costs.scrap.amount())]);
    session.write(table)?;
    session.say(&format!("{} of {} left", quantity(foretold.left, unit, preferences), sheet.row.item.name))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Currency;

    /// Runs the command line on a book of its own; what it said, and its errors.
    fn run(folder: &std::path::Path, arguments: &[&str]) -> (String, String) {
        let now = chrono::NaiveDate::from_ymd_opt(2026, 3, 14).unwrap().and_hms_opt(9, 30, 0).unwrap();
        let book = folder.join("studio.studiobook");
        let head = ["enamelwright".into(), "--book".into(), book.into_os_string()];
        let all = head.into_iter().chain(arguments.iter().map(Into::into));
        let (mut out, mut errors) = (Vec::new(), Vec::new());
        let _ = crate::command::run(all, now, |_| Ok(()), &mut out, &mut errors);
        (String::from_utf8(out).unwrap(), String::from_utf8(errors).unwrap())
    }

    #[test]
    fn blanks_are_laid_out_and_cut() {
        let folder = tempfile::tempdir().unwrap();
        let done = |arguments: &[&str]| {
            let (out, errors) = run(folder.path(), arguments);
            assert_eq!(errors, "", "{arguments:?}");
            out
        };
        let json = |arguments: &[&str]| -> Value {
            serde_json::from_str(&done(&[arguments, &["--format", "json"]].concat())).unwrap()
        };
        let _ = done(&["new"]);
        let sheet = ["stock", "add", "SH", "Copper sheet", "--kind", "sheet", "--thickness", "1mm", "--unit", "each"];
        let _ = done(&[&sheet[..], &["--size", "96mm", "25mm"]].concat());
        let _ = done(&["stock", "receive", "SH", "2", "6.00"]);
        let square = "rectangle 20 20";
        let blank = ["stock", "add", "SQ", "Square", "--kind", "blank", "--thickness", "1mm", "--outline", square];
        let _ = done(&blank);
        // By hand: 3 of 400 mm² are half of 2400 mm²; copper at 8.96 mg/mm³ makes 21.504 g a sheet.
        let laid = json(&["stock", "nest", "SH", "--blank", "SQ:2", "--blank", "rectangle 20 20:1"]);
        assert_eq!(laid["blanks"][0]["count"], 2);
        assert_eq!(laid["blanks"][1]["blank"], square);
        assert_eq!((&laid["used_share"], &laid["sheet_g"]), (&json!("0.5"), &json!("21.504")));
        assert_eq!(laid["sheet_cost"], "3");
        // A sheet at 3.00 over 3 blanks, half an hour at 22.00 on top: 3 + 11 = 14.
        let cut = ["stock", "cut", "SH", "--blank", "SQ:3", "--bench-minutes", "30", "--wage"];
        let preview = json(&[&cut[..], &["--preview"]].concat());
        assert_eq!(preview["done"], Value::Null);
        assert_eq!(json(&["stock", "show", "SQ"])["item"]["on_hand"], "0");
        let told = json(&cut);
        assert_eq!((&told["value"], &told["bench"], &told["left"]), (&json!("3"), &json!("11"), &json!("1")));
        assert_eq!(told["pieces"][0]["cost"], "14");
        assert_eq!(told["scrap_g"], "10.752");
        let shown = json(&["stock", "show", "SQ"])["item"].clone();
        assert_eq!((&shown["on_hand"], &shown["value"]), (&json!("3"), &json!("14")));
        let _ = done(&["undo"]);
        assert_eq!(json(&["stock", "show", "SQ"])["item"]["on_hand"], "0");
        for (wrong, said) in [
            (&["stock", "cut", "SH", "--blank", "SQ:7"][..], "area of blanks and off-cuts is 2800 mm²"),
            (&["stock", "cut", "SH", "--sheets", "3", "--blank", "SQ:7"], "only 2 on hand"),
            (&["stock", "cut", "SH", "--blank", "SQ"], "does not say how many"),
            (&["stock", "cut", "SQ", "--blank", "SQ:1"], "accepted is an item of sheet"),
            (&["stock", "nest", "SH", "--blank", "square 3"], "there is no item square 3"),
            (&["stock", "nest", "SH", "--blank", "SQ", "--kerf", "wide"], "kerf"),
        ] {
            let (out, errors) = run(folder.path(), wrong);
            assert_eq!(out, "", "{wrong:?}");
            assert!(errors.contains(said), "{wrong:?}: {errors}");
        }
    }

    #[test]
    fn a_quantity_stands_after_the_last_colon() {
        let preferences = Preferences::metric(Currency::USD);
        assert_eq!(counted("BL-03:12", &preferences), ("BL-03", Some(12)));
        assert_eq!(counted("disc 30", &preferences), ("disc 30", None));
        assert_eq!(counted("odd:one:3", &preferences), ("odd:one", Some(3)));
        assert_eq!(counted("BL:x", &preferences), ("BL:x", None));
    }
}
