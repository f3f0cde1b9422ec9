//! The demo studio's designs: design files, in which the id of a material is the reference of its item of stock.

use super::table::Row;
use super::{DemoDesign, DemoProblem};
use crate::exchange::design_file;
use crate::studio::{Design, Follows, Item, StudioRates};
use std::collections::{BTreeMap, BTreeSet};

/// The design files, by the code of their design.
const FILES: [(&str, &str); 12] = [
    ("ANEMONE", include_str!("../../../assets/demo/designs/anemone.toml")),
    ("BUOY", include_str!("../../../assets/demo/designs/buoy.toml")),
    ("FOILSTAR", include_str!("../../../assets/demo/designs/foilstar.toml")),
    ("HARBOUR", include_str!("../../../assets/demo/designs/harbour.toml")),
    ("KELP-EAR", include_str!("../../../assets/demo/designs/kelp-ear.toml")),
    ("MOONPOOL", include_str!("../../../assets/demo/designs/moonpool.toml")),
    ("PEBBLE", include_str!("../../../assets/demo/designs/pebble.toml")),
    ("RAIN-EAR", include_str!("../../../assets/demo/designs/rain-ear.toml")),
    ("SAIL", include_str!("../../../assets/demo/designs/sail.toml")),
    ("SUNDOWN", include_str!("../../../assets/demo/designs/sundown.toml")),
    ("TIDE-DRP", include_str!("../../../assets/demo/designs/tide-drp.toml")),
    ("WAVE-6", include_str!("../../../assets/demo/designs/wave-6.toml")),
];

/// Reads every design that has a row in the studio's table.
pub(super) fn read(rows: &[Row], rates: &StudioRates, items: &[Item]) -> Result<Vec<DemoDesign>, DemoProblem> {
    let files: BTreeMap<&str, &str> = FILES.into_iter().collect();
    let references: BTreeSet<&str> = items.iter().map(|item| item.reference.as_str()).collect();
    rows.iter()
        .map(|row| {
            let code = row.text("code")?;
            let text = files.get(code).ok_or_else(|| row.problem(format!("no design file for {code}")))?;
            let design = parse(code, text)?;
            let follows = follows(row, &design, rates)?;
            let materials = design.materials.iter().map(|material| &material.id);
            let links = materials
                .filter(|id| references.contains(id.0.as_str()))
                .map(|id| (id.clone(), id.0.clone()))
                .collect();
            Ok(DemoDesign { design, follows, links, notes: row.text("notes")?.to_owned() })
        })
        .collect()
}

fn parse(code: &str, text: &str) -> Result<Design, DemoProblem> {
    let file = format!("designs/{}.toml", code.to_lowercase());
    let problem = |line, reason| DemoProblem { file: file.clone(), line, reason };
    let design = design_file::read(text).map_err(|problems| match problems.into_iter().next() {
        Some(first) => problem(first.line, format!("{}: {}", first.key, first.reason)),
        None => problem(1, "not a design file".to_owned()),
    })?;
    if design.code.as_str() == code { Ok(design) } else { Err(problem(1, format!("its code is not {code}"))) }
}

fn follows(row: &Row, design: &Design, rates: &StudioRates) -> Result<Follows, DemoProblem> {
    let own: BTreeSet<&str> = row.text("own terms")?.split_whitespace().collect();
    let mut follows = Follows::default();
    for word in row.text("follows the studio's")?.split_whitespace() {
        match word {
            "labour" => follows.labour = true,
            "overhead" => follows.overhead = true,
            "kiln" => follows.kiln = true,
            "channels" => {
                let shared = design.channels.iter().map(|channel| &channel.id).filter(|id| {
                    !own.contains(id.0.as_str()) && rates.channels.iter().any(|channel| channel.id == **id)
                });
                follows.channels = shared.cloned().collect();
            }
            _ => return Err(row.problem(format!("{word} is not labour, overhead, kiln or channels"))),
        }
    }
    Ok(follows)
}
