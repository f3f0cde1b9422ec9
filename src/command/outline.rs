//! `outline` and `stencil`: what an SVG file or a photo shows. No book is read.

use super::arguments::Format;
use super::cost::{dash, read_design};
use super::failure::Failure;
use super::outline_arguments::{OpenName, Outline as OutlineTask, Stencil as StencilTask};
use super::session::Session;
use super::table::{Align, Table};
use super::typed;
use super::words::{counted, number, percent};
use crate::costing::coverage::{self, Lying};
use crate::costing::geometry;
use crate::exchange::file_out;
use crate::exchange::outline_file::{self, OutlineFile, Scale};
use crate::exchange::stencil_photo::{self, Looking, Open};
use crate::measure::{Currency, Decimal, Preferences, exact};
use crate::studio::{Blank, Metal, Outline, Thickness};
use serde_json::{Value, json};
use std::fs::File;
use std::io::Read;
use std::path::Path;

const PREFERENCES: Preferences = Preferences::metric(Currency::USD);

/// The blanks of an SVG file. JSON: `file`, `width_mm`, `height_mm`, `metal`, `thickness_mm`, `blanks` (list of
/// `outline`, `area_cm2`, `mass_g`), `area_cm2`, `mass_g` (of all), `remarks`; masses are `null` without a thickness.
pub(super) fn outline(session: &mut Session<'_>, task: &OutlineTask) -> Result<(), Failure> {
    let thickness = match (task.gauge, task.thickness.as_deref()) {
        (Some(gauge), _) => Some(Thickness::Gauge(gauge)),
        (None, Some(text)) => Some(typed::thickness("thickness", text, &PREFERENCES)?),
        (None, None) => None,
    };
    let metal = Metal::from(task.metal);
    let file = read_outlines(&task.file, scale(task.long_side.as_deref())?)?;
    let refuse = |reason: String| Failure::invalid(format!("{}: {reason}", task.file.display()));
    let mut blanks = Vec::new();
    let (mut area, mut mass) = (Decimal::ZERO, Decimal::ZERO);
    for outline in file.blanks().map_err(|problem| refuse(problem.to_string()))? {
        let blank = Blank {
            metal,
            // Without a thickness the mass is not shown; a millimetre serves as well as any.
            thickness: thickness.unwrap_or(Thickness::ThicknessMm(Decimal::ONE)),
            outline,
            holes_mm: Vec::new(),
            dome_height_mm: Decimal::ZERO,
            solder_flow_c: None,
            count: 1,
        };
        let measured = geometry::measure(&blank).map_err(|error| refuse(error.to_string()))?;
        area = exact::add(area, measured.flat_cm2)?;
        mass = exact::add(mass, measured.mass_g)?;
        blanks.push((text_of(&blank.outline).to_owned(), measured));
    }
    match task.form.format {
        Format::Json => {
            let masses = |grams: Decimal| thickness.map(|_| exact::answer(grams));
            let list: Vec<Value> = blanks
                .iter()
                .map(|(outline, measured)| {
                    json!({
                        "outline": outline, "area_cm2": exact::answer(measured.flat_cm2),
                        "mass_g": masses(measured.mass_g),
                    })
                })
                .collect();
            session.json(&json!({
                "file": task.file.to_string_lossy(),
                "width_mm": exact::answer(file.width_mm), "height_mm": exact::answer(file.height_mm),
                "metal": thickness.map(|_| metal.name()),
                "thickness_mm": thickness.and(blanks.first()).map(|(_, measured)| exact::answer(measured.thickness_mm)),
                "blanks": list, "area_cm2": exact::answer(area), "mass_g": masses(mass),
                "remarks": file.remarks.iter().map(ToString::to_string).collect::<Vec<_>>(),
            }))
        }
        Format::Text => {
            for remark in &file.remarks {
                session.remark(&format!("{}: {remark}", task.file.display()));
            }
            let millimetres = |value: Decimal| number(value, &PREFERENCES);
            let size = format!("{} × {} mm", millimetres(file.width_mm), millimetres(file.height_mm));
            session.say(&format!("{}, {size} together", counted(blanks.len(), "blank", "blanks")))?;
            let mut table = Table::new(&[("", Align::Left), ("Area cm²", Align::Right), ("Mass g", Align::Right)]);
            let grams = |grams: Decimal| thickness.map_or_else(dash, |_| figure(grams));
            for (index, (_, measured)) in blanks.iter().enumerate() {
                table.row([format!("Blank {}", index + 1), figure(measured.flat_cm2), grams(measured.mass_g)]);
            }
            if blanks.len() > 1 {
                table.row(["Together".to_owned(), figure(area), grams(mass)]);
            }
            session.write(table)?;
            for (index, (outline, _)) in blanks.iter().enumerate() {
                session.say("")?;
                session.say(&format!("Outline of blank {}:", index + 1))?;
                session.say(outline)?;
            }
            Ok(())
        }
    }
}

/// A figure with at most four places, the mark a point.
fn figure(value: Decimal) -> String {
    exact::answer(exact::round(value, 4))
}

fn text_of(outline: &Outline) -> &str {
    match outline {
        Outline::Path { svg } => svg,
        _ => "",
    }
}

/// The open share of a stencil. JSON: `file`, `kind` (`drawing` or `photo`), `share`, `remarks`; of a drawing
/// `openings`; of a photo `threshold`, `proposed_threshold`, `counted`, `histogram` (256 counts).
pub(super) fn stencil(session: &mut Session<'_>, task: &StencilTask) -> Result<(), Failure> {
    let bytes = read_bytes(&task.file, stencil_photo::MOST_BYTES)?;
    let begins = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(&bytes).trim_ascii_start();
    if begins.starts_with(b"<") { drawing(session, task, &bytes) } else { photo(session, task, &bytes) }
}

fn drawing(session: &mut Session<'_>, task: &StencilTask, bytes: &[u8]) -> Result<(), Failure> {
    let of_photo = [
        ("threshold", task.threshold.is_some()),
        ("open", task.open.is_some()),
        ("crop", task.crop.is_some()),
        ("picture", task.picture.is_some()),
    ];
    if let Some((name, _)) = of_photo.iter().find(|(_, given)| *given) {
        return Err(Failure::invalid(format!("--{name} is for photos; {} is a drawing", task.file.display())));
    }
    let refuse = |reason: String| Failure::invalid(format!("{}: {reason}", task.file.display()));
    let file =
        outline_file::read(bytes, scale(task.long_side.as_deref())?).map_err(|problem| refuse(problem.to_string()))?;
    let stencil = file.stencil().map_err(|problem| refuse(problem.to_string()))?;
    let (ground, lying) = match blank(task, Scale::AsWritten)? {
        Some((blank, lying)) => (blank, lying),
        None if stencil.edges.is_empty() => {
            return Err(refuse(
                "the drawing shows openings alone; say what they lie on with --blank DESIGNFILE or --outline FILE.svg"
                    .to_owned(),
            ));
        }
        None => {
            let edges: Vec<&str> = stencil.edges.iter().map(text_of).collect();
            (Outline::Path { svg: edges.join(" ") }, Lying::AsDrawn)
        }
    };
    let share = coverage::open_share(&stencil.openings, &ground, lying).map_err(|error| refuse(error.to_string()))?;
    match task.form.format {
        Format::Json => session.json(&json!({
            "file": task.file.to_string_lossy(), "kind": "drawing", "share": exact::answer(share),
            "openings": stencil.openings.len(),
            "remarks": file.remarks.iter().map(ToString::to_string).collect::<Vec<_>>(),
        })),
        Format::Text => {
            for remark in &file.remarks {
                session.remark(&format!("{}: {remark}", task.file.display()));
            }
            let openings = counted(stencil.openings.len(), "opening", "openings");
            session.say(&format!("Open share {} ({}), {openings}", percent(share, &PREFERENCES), exact::answer(share)))
        }
    }
}

fn photo(session: &mut Session<'_>, task: &StencilTask, bytes: &[u8]) -> Result<(), Failure> {
    if task.long_side.is_some() {
        return Err(Failure::invalid(format!("--long-side is for drawings; {} is none", task.file.display())));
    }
    let refuse = |reason: String| Failure::invalid(format!("{}: {reason}", task.file.display()));
    // Only the form of the blank counts: it is laid on the photo as large as it fits.
    let blank = blank(task, Scale::LongSideMm(Decimal::ONE_HUNDRED))?.map(|(blank, _)| blank);
    let open = match task.open {
        Some(OpenName::Dark) => Open::Dark,
        Some(OpenName::Light) | None => Open::Light,
    };
    let looking = Looking { threshold: task.threshold, open, crop: task.crop, blank };
    let reading = stencil_photo::read(bytes)
        .and_then(|photo| photo.reading(&looking))
        .map_err(|problem| refuse(problem.to_string()))?;
    if let Some(out) = &task.picture {
        file_out::write(out, &reading.png().map_err(Failure::no)?)?;
    }
    let (share, threshold, proposed) = (reading.share, reading.threshold, reading.proposed);
    match task.form.format {
        Format::Json => session.json(&json!({
            "file": task.file.to_string_lossy(), "kind": "photo", "share": exact::answer(share),
            "threshold": threshold, "proposed_threshold": proposed, "counted": reading.counted,
            "histogram": reading.histogram.to_vec(),
            "remarks": reading.remarks.iter().map(ToString::to_string).collect::<Vec<_>>(),
        })),
        Format::Text => {
            for remark in &reading.remarks {
                session.remark(&format!("{}: {remark}", task.file.display()));
            }
            let of = if threshold == proposed { "the proposal".to_owned() } else { format!("proposed {proposed}") };
            session.say(&format!(
                "Open share {} ({}), threshold {threshold} of 255 ({of})",
                percent(share, &PREFERENCES),
                exact::answer(share)
            ))?;
            match &task.picture {
                Some(out) => session.say(&format!("Wrote the black and white picture to {}", out.display())),
                None => Ok(()),
            }
        }
    }
}

/// The blank the stencil lies on, and where.
fn blank(task: &StencilTask, scale: Scale) -> Result<Option<(Outline, Lying)>, Failure> {
    if let Some(file) = &task.blank {
        let design = read_design(file).map_err(Failure::Invalid)?;
        return Ok(Some((design.blank.outline, Lying::Centred)));
    }
    let Some(file) = &task.outline else { return Ok(None) };
    Ok(Some((read_outlines(file, scale)?.whole(), Lying::AsDrawn)))
}

fn scale(long_side: Option<&str>) -> Result<Scale, Failure> {
    let length = long_side.map(|text| typed::length("long side", text, &PREFERENCES)).transpose()?;
    Ok(length.map_or(Scale::AsWritten, Scale::LongSideMm))
}

fn read_outlines(file: &Path, scale: Scale) -> Result<OutlineFile, Failure> {
    let bytes = read_bytes(file, outline_file::MOST_BYTES)?;
    outline_file::read(&bytes, scale).map_err(|problem| match problem {
        outline_file::OutlineFileProblem::NoSize => {
            Failure::invalid(format!("{}: {problem} (--long-side LENGTH)", file.display()))
        }
        other => Failure::invalid(format!("{}: {other}", file.display())),
    })
}

/// The bytes of a file, one more than `most` of a larger one.
fn read_bytes(file: &Path, most: usize) -> Result<Vec<u8>, Failure> {
    let mut bytes = Vec::new();
    let limit = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
    File::open(file)
        .and_then(|opened| opened.take(limit).read_to_end(&mut bytes))
        .map_err(|error| Failure::invalid(format!("{}: cannot be read: {error}", file.display())))?;
    Ok(bytes)
}
