//! Papers of her own, pictures, printers, printed tags, wording, numbered papers and trade numbers.

use super::limits::{self, Range, refuse};
use super::perform::Done;
use super::{Added, Refusal};
use crate::book::{Change, Numbered, paper_design, printing, sheet, wording};
use crate::measure::Decimal;
use crate::paper::language::{self, WordsProblem};
use crate::paper::pinned::phrase;
use crate::paper::statement::MOST_LINES;
use crate::paper::statement_lines::{MOST_DAYS, MOST_QUANTITY};
use crate::studio::{
    Fold, Language, NumberedKind, NumberedPaper, PaperDesign, PaperDesignId, PictureId, Pinned, PrintedTag, Printer,
    PrinterId, SheetId, What,
};
use chrono::NaiveDate;

/// Most things pinned to one paper.
const MOST_PINNED: usize = 200;

/// Most bytes of a stored picture.
const MOST_PICTURE_BYTES: usize = 5_000_000;

fn within(field: &str, value: Decimal, least: i64, most: i64, unit: &str) -> Result<(), Refusal> {
    if value >= Decimal::from(least) && value <= Decimal::from(most) && value.normalize().scale() <= 3 {
        return Ok(());
    }
    Err(refuse(
        field,
        format!("{value} {unit}"),
        format!("{least} to {most} {unit} with at most three decimals is accepted"),
    ))
}

fn accept_pinned(paper: &PaperDesign, pinned: &Pinned) -> Result<(), Refusal> {
    for (field, value) in [("Place across", pinned.x_mm), ("Place down", pinned.y_mm)] {
        within(field, value, -420, 420, "mm")?;
    }
    for (field, value) in [("Width of a place", pinned.width_mm), ("Height of a place", pinned.height_mm)] {
        if value <= Decimal::ZERO {
            return Err(refuse(field, format!("{value} mm"), "above 0 mm is accepted"));
        }
        within(field, value, 0, 420, "mm")?;
    }
    let beyond = pinned.x_mm >= paper.width_mm
        || pinned.y_mm >= paper.height_mm
        || pinned.x_mm.saturating_add(pinned.width_mm) <= Decimal::ZERO
        || pinned.y_mm.saturating_add(pinned.height_mm) <= Decimal::ZERO;
    if beyond {
        return Err(refuse(
            "Place",
            format!("{} mm across, {} mm down", pinned.x_mm, pinned.y_mm),
            format!("a place on the paper of {} × {} mm is accepted", paper.width_mm, paper.height_mm),
        ));
    }
    within("Largest size", pinned.set.most_pt, 4, 400, "pt")?;
    within("Smallest size", pinned.set.least_pt, 4, 400, "pt")?;
    if pinned.set.least_pt > pinned.set.most_pt {
        return Err(refuse(
            "Smallest size",
            format!("{} pt", pinned.set.least_pt),
            format!("up to the largest, {} pt, is accepted", pinned.set.most_pt),
        ));
    }
    if !(1..=100).contains(&pinned.set.lines) {
        return Err(refuse("Lines", pinned.set.lines, "1 to 100 is accepted"));
    }
    match &pinned.what {
        What::Words(words) => limits::text("Words", words)?,
        What::Phrase(name) if !phrase::can_be_pinned(name) => {
            return Err(refuse("Phrase", name, "a phrase of papers that stands by itself is accepted"));
        }
        _ => {}
    }
    Ok(())
}

/// What a paper of hers must be.
fn accept_design(paper: &PaperDesign) -> Result<(), Refusal> {
    within("Width", paper.width_mm, 8, 420, "mm")?;
    within("Height", paper.height_mm, 6, 420, "mm")?;
    let shorter = paper.width_mm.min(paper.height_mm);
    if paper.corner_mm < Decimal::ZERO || paper.corner_mm.saturating_add(paper.corner_mm) > shorter {
        return Err(refuse(
            "Corner",
            format!("{} mm", paper.corner_mm),
            format!("0 to half the shorter side, {shorter} mm, is accepted"),
        ));
    }
    let fold = match paper.fold {
        Some(Fold::Upright(at)) => Some((at, paper.width_mm)),
        Some(Fold::Across(at)) => Some((at, paper.height_mm)),
        None => None,
    };
    if let Some((at, side)) = fold.filter(|(at, side)| *at <= Decimal::ZERO || at >= side) {
        return Err(refuse("Fold", format!("{at} mm"), format!("a place inside of {side} mm is accepted")));
    }
    for hole in &paper.holes {
        let inside = hole.x_mm > Decimal::ZERO
            && hole.y_mm > Decimal::ZERO
            && hole.x_mm < paper.width_mm
            && hole.y_mm < paper.height_mm;
        if hole.diameter_mm <= Decimal::ZERO || hole.diameter_mm > shorter || !inside {
            return Err(refuse(
                "Hole",
                format!("{} mm at {} mm, {} mm", hole.diameter_mm, hole.x_mm, hole.y_mm),
                format!("a hole above 0 and up to {shorter} mm inside of the paper is accepted"),
            ));
        }
    }
    let twice = matches!(paper.languages.as_slice(), [first, second] if first == second);
    if !(1..=2).contains(&paper.languages.len()) || twice {
        return Err(refuse("Languages", paper.languages.len(), "one language or two different ones are accepted"));
    }
    if paper.pinned.len() > MOST_PINNED {
        return Err(refuse("Pinned", paper.pinned.len(), format!("up to {MOST_PINNED} things are accepted")));
    }
    paper.pinned.iter().try_for_each(|pinned| accept_pinned(paper, pinned))
}

/// Adds a paper of her own, or changes one.
pub(super) fn save_design(
    change: &Change<'_>,
    id: Option<PaperDesignId>,
    mut paper: PaperDesign,
    retired: bool,
) -> Result<Done, Refusal> {
    paper.name = limits::name("Name", &paper.name)?;
    accept_design(&paper)?;
    let known = paper_design::pictures(change.reader())?;
    for pinned in &paper.pinned {
        if let What::Picture(picture) = pinned.what
            && !known.iter().any(|(id, _)| *id == picture)
        {
            return Err(Refusal::Missing(format!("stored picture with row {}", picture.0)));
        }
    }
    if let Some(other) = paper_design::with_name(change.reader(), &paper.name)?
        && Some(other) != id
    {
        return Err(Refusal::Taken { field: "Name".to_owned(), value: paper.name });
    }
    match id {
        None => {
            let row = paper_design::insert(change, &paper)?;
            Ok(Done::adding(format!("Add paper {}", paper.name), Added::PaperDesign(row)))
        }
        Some(id) => {
            let before = paper_design::find(change.reader(), id)?
                .ok_or_else(|| Refusal::Missing(format!("paper with row {}", id.0)))?;
            paper_design::update(change, id, &paper, retired)?;
            let verb = match (before.retired, retired) {
                (false, true) => "Set aside",
                (true, false) => "Take up",
                _ => "Change",
            };
            Ok(Done::named(format!("{verb} paper {}", paper.name)))
        }
    }
}

/// Stores a picture.
pub(super) fn save_picture(change: &Change<'_>, name: &str, png: &[u8]) -> Result<Done, Refusal> {
    let name = limits::name("Name", name)?;
    if !png.starts_with(b"\x89PNG\r\n\x1a\n") || png.len() > MOST_PICTURE_BYTES {
        return Err(refuse("Picture", format!("{} bytes", png.len()), "a PNG of up to 5 MB is accepted"));
    }
    let row = paper_design::save_picture(change, &name, png)?;
    Ok(Done::adding(format!("Store picture {name}"), Added::Picture(row)))
}

/// Takes a stored picture out.
pub(super) fn remove_picture(change: &Change<'_>, id: PictureId) -> Result<Done, Refusal> {
    let reader = change.reader();
    let name = paper_design::pictures(reader)?.into_iter().find(|(row, _)| *row == id).map(|(_, name)| name);
    let name = name.ok_or_else(|| Refusal::Missing(format!("stored picture with row {}", id.0)))?;
    let user = paper_design::all(reader)?
        .into_iter()
        .find(|paper| paper.design.pinned.iter().any(|pinned| pinned.what == What::Picture(id)));
    if let Some(user) = user {
        return Err(Refusal::No(format!(
            "{name} is pinned to the paper {}; take it off there first",
            user.design.name
        )));
    }
    paper_design::delete_picture(change, id)?;
    Ok(Done::named(format!("Remove picture {name}")))
}

/// Adds a printer, or changes one.
pub(super) fn save_printer(change: &Change<'_>, id: Option<PrinterId>, mut printer: Printer) -> Result<Done, Refusal> {
    printer.name = limits::name("Printer", &printer.name)?;
    if !(72..=4800).contains(&printer.dots_per_inch) {
        return Err(refuse("Dots per inch", printer.dots_per_inch, "72 to 4800 is accepted"));
    }
    let reader = change.reader();
    let mut seen = Vec::new();
    for correction in &printer.corrections {
        within("Move right", correction.right_mm, -8, 8, "mm")?;
        within("Move down", correction.down_mm, -8, 8, "mm")?;
        for (field, scale) in [("Stretch across", correction.wide), ("Stretch down", correction.high)] {
            // Paper notes: further off, the page was scaled by a viewer, not by the printer.
            if scale < Decimal::new(97, 2) || scale > Decimal::new(103, 2) || scale.normalize().scale() > 6 {
                return Err(refuse(field, scale, "0.97 to 1.03 is accepted; print at actual size, not fitted"));
            }
        }
        if let Some(id) = correction.sheet
            && !sheet::exists(reader, id)?
        {
            return Err(Refusal::Missing(format!("sheet with row {}", id.0)));
        }
        if seen.contains(&correction.sheet) {
            return Err(refuse("Sheet", "a sheet twice", "each sheet once is accepted"));
        }
        seen.push(correction.sheet);
    }
    if let Some(other) = printing::printer_with_name(reader, &printer.name)?
        && Some(other) != id
    {
        return Err(Refusal::Taken { field: "Printer".to_owned(), value: printer.name });
    }
    if let Some(id) = id
        && !printing::printers(reader)?.iter().any(|(row, _)| *row == id)
    {
        return Err(Refusal::Missing(format!("printer with row {}", id.0)));
    }
    let row = printing::save_printer(change, id, &printer)?;
    Ok(match id {
        None => Done::adding(format!("Add printer {}", printer.name), Added::Printer(row)),
        Some(_) => Done::named(format!("Change printer {}", printer.name)),
    })
}

/// Takes a printer out, with what was measured of it.
pub(super) fn remove_printer(change: &Change<'_>, id: PrinterId) -> Result<Done, Refusal> {
    let known = printing::printers(change.reader())?;
    let (_, printer) = known
        .into_iter()
        .find(|(row, _)| *row == id)
        .ok_or_else(|| Refusal::Missing(format!("printer with row {}", id.0)))?;
    printing::delete_printer(change, id)?;
    Ok(Done::named(format!("Remove printer {}", printer.name)))
}

fn use_sheet(change: &Change<'_>, id: SheetId, next_label: u32) -> Result<String, Refusal> {
    let reader = change.reader();
    let found = sheet::find(reader, id)?.ok_or_else(|| Refusal::Missing(format!("sheet with row {}", id.0)))?;
    let labels = found.columns.saturating_mul(found.rows);
    if next_label < 1 || next_label > labels {
        return Err(refuse("Start at label", next_label, format!("1 to {labels} is accepted")));
    }
    printing::begin_sheet(change, id, next_label)?;
    Ok(found.name)
}

/// Says which label of a sheet is free next.
pub(super) fn begin_sheet(change: &Change<'_>, id: SheetId, next_label: u32) -> Result<Done, Refusal> {
    let name = use_sheet(change, id, next_label)?;
    Ok(Done::named(format!("Begin {name} at label {next_label}")))
}

/// Keeps which tags were printed.
pub(super) fn note_printed(
    change: &Change<'_>,
    tags: &[PrintedTag],
    used: Option<(SheetId, u32)>,
) -> Result<Done, Refusal> {
    if tags.is_empty() && used.is_none() {
        return Err(refuse("Tags", "none", "at least one tag is accepted"));
    }
    let mut copies: u64 = 0;
    for tag in tags {
        limits::date("Date", tag.date)?;
        limits::sum("Ticket", tag.ticket, Range::ZeroOrMore)?;
        if tag.copies == 0 || tag.copies > 100_000 {
            return Err(refuse("Copies", tag.copies, "1 to 100,000 is accepted"));
        }
        copies = copies.saturating_add(u64::from(tag.copies));
        printing::insert_tag(change, tag)?;
    }
    if let Some((id, next)) = used {
        use_sheet(change, id, next)?;
    }
    Ok(Done::named(match copies {
        0 => "Use labels of a sheet".to_owned(),
        1 => "Print 1 tag".to_owned(),
        more => format!("Print {more} tags"),
    }))
}

/// Puts her own words in place of a phrase.
pub(super) fn save_words(
    change: &Change<'_>,
    language: Language,
    phrase: &str,
    words: Option<&str>,
) -> Result<Done, Refusal> {
    let words = match language::accept(language, phrase, words.unwrap_or_default()) {
        Ok(words) => words,
        Err(WordsProblem::NoPhrase(phrase)) => return Err(Refusal::Missing(format!("phrase {phrase}"))),
        Err(problem) => return Err(refuse("Words", words.unwrap_or_default(), problem.to_string())),
    };
    wording::set_words(change, language, phrase, words.as_deref())?;
    let verb = if words.is_some() { "Put" } else { "Take back" };
    Ok(Done::named(format!("{verb} words of one's own for {phrase} in {}", language.name())))
}

fn share(field: &str, value: Decimal) -> Result<(), Refusal> {
    limits::number(field, value, Range::ZeroOrMore)?;
    if value >= Decimal::ONE {
        return Err(refuse(field, value, "a share from 0 to below 1 is accepted"));
    }
    Ok(())
}

/// Sends a paper out under the next number of its kind.
pub(super) fn issue(
    change: &Change<'_>,
    kind: NumberedKind,
    date: NaiveDate,
    paper: &NumberedPaper,
) -> Result<Done, Refusal> {
    limits::date("Date", date)?;
    limits::text("From", &paper.from)?;
    limits::text("Recipient", &paper.recipient)?;
    limits::text("Terms", &paper.terms)?;
    limits::optional_name("Tax", &paper.tax_name)?;
    if paper.recipient.trim().is_empty() && kind != NumberedKind::Certificate {
        return Err(refuse("Recipient", "", "the name and address it is for are accepted"));
    }
    if paper.lines.is_empty() || paper.lines.len() > MOST_LINES {
        return Err(refuse("Lines", paper.lines.len(), format!("1 to {MOST_LINES} lines are accepted")));
    }
    for line in &paper.lines {
        limits::optional_name("Code", &line.code)?;
        limits::name("What it is", &line.words)?;
        limits::text("What it is made of", &line.note)?;
        limits::sum("Price", line.price, Range::ZeroOrMore)?;
        if line.quantity == 0 || line.quantity > MOST_QUANTITY {
            return Err(refuse("Quantity", line.quantity, format!("1 to {MOST_QUANTITY} is accepted")));
        }
    }
    if let Some(commission) = paper.commission {
        share("Commission", commission)?;
    }
    share("Tax", paper.tax)?;
    limits::sum("Freight", paper.freight, Range::ZeroOrMore)?;
    if paper.days.is_some_and(|days| days > MOST_DAYS) {
        return Err(refuse("Days", paper.days.unwrap_or_default(), format!("up to {MOST_DAYS} days is accepted")));
    }
    let (row, number) = wording::insert_numbered(change, kind, date, paper)?;
    let what = match kind {
        NumberedKind::Order => "order form",
        NumberedKind::Invoice => "invoice",
        NumberedKind::Consignment => "consignment note",
        NumberedKind::Certificate => "certificate",
    };
    Ok(Done::adding(format!("Write {what} {number}"), Added::NumberedPaper(row)))
}

/// Gives a design or item its EAN-13.
pub(super) fn set_trade_number(change: &Change<'_>, of: Numbered, number: Option<&str>) -> Result<Done, Refusal> {
    let number = number.map(str::trim).filter(|number| !number.is_empty());
    if let Some(number) = number {
        if !crate::paper::trade_number::is_ean13(number) {
            return Err(refuse(
                "EAN-13",
                number,
                "thirteen digits are accepted, the last of them the check digit of the others (GS1 General Specifications)",
            ));
        }
        let taken =
            wording::trade_numbers(change.reader())?.into_iter().find(|(other, kept)| kept == number && *other != of);
        if taken.is_some() {
            return Err(Refusal::Taken { field: "EAN-13".to_owned(), value: number.to_owned() });
        }
    }
    wording::set_trade_number(change, of, number)?;
    Ok(Done::named(match number {
        Some(number) => format!("Give EAN-13 {number}"),
        None => "Take an EAN-13 away".to_owned(),
    }))
}
