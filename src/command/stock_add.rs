//! `stock add`: an item of stock from its arguments.

use super::failure::Failure;
use super::session::Session;
use super::stock_arguments::{Add, outline};
use super::typed;
use crate::actions::{self, Action, Added};
use crate::measure::{Decimal, Preferences, Unit};
use crate::studio::{Buying, EnamelKind, Item, ItemDetails, ItemKind, Metal, Thickness};

/// The swatch of an enamel whose colour was not given: the grey of an unlabelled jar.
const PLAIN_SWATCH: [u8; 3] = [0x9a, 0x9a, 0x96];

/// Adds an item. JSON: `done`, `moved_value` (null), `item` (the fields of `stock list`).
pub(super) fn add(session: &mut Session<'_>, task: Add) -> Result<(), Failure> {
    let mut book = session.open_to_write()?;
    let preferences = Preferences::from(&*actions::snapshot(&book)?.settings);
    let details = details(&task, &preferences)?;
    let unit = task.unit.map_or_else(|| details.kind().listed_unit(), Unit::from);
    let reorder = task.reorder.as_deref();
    let reorder_level = reorder.map(|text| typed::quantity("reorder", text, unit, &preferences)).transpose()?;
    let pack = task.pack.as_deref().map(|text| typed::pack("pack", text, unit, &preferences)).transpose()?;
    let format = task.form.format;
    let item = Item {
        reference: task.reference,
        name: task.name,
        unit,
        details,
        maker: task.maker,
        maker_number: task.maker_number,
        supplier: task.supplier,
        shelf: task.shelf,
        note: task.note,
        reorder_level,
        lead_bearing: task.lead,
        retired: false,
        buying: Buying { lead_days: task.lead_days, pack, minimum_order_packs: task.least_packs },
    };
    let outcome = session.perform(&mut book, Action::SaveItem { id: None, item })?;
    match outcome.added {
        Some(Added::Item(id)) => super::stock::tell(session, &book, id, &outcome, format),
        _ => session.say(&outcome.name),
    }
}

/// What only that kind has; an argument that belongs to another kind is refused, not dropped.
fn details(task: &Add, preferences: &Preferences) -> Result<ItemDetails, Failure> {
    let kind = ItemKind::from(task.kind);
    refuse_foreign(task, kind)?;
    let metal = task.metal.map_or(Metal::Copper, Metal::from);
    Ok(match kind {
        ItemKind::Sheet => ItemDetails::Sheet {
            metal,
            thickness: thickness(task, preferences)?,
            size_mm: pair(task.size.as_deref(), |text| typed::length("size", text, preferences))?,
        },
        ItemKind::Wire => ItemDetails::Wire { metal, thickness: thickness(task, preferences)? },
        ItemKind::Tube => ItemDetails::Tube {
            metal,
            outer_mm: typed::length("outer", needed("outer", task.outer.as_deref())?, preferences)?,
            wall_mm: typed::length("wall", needed("wall", task.wall.as_deref())?, preferences)?,
        },
        ItemKind::Blank => ItemDetails::Blank {
            metal,
            thickness: thickness(task, preferences)?,
            outline: outline(needed("outline", task.outline.as_deref())?).map_err(Failure::invalid)?,
            dome_height_mm: match task.dome.as_deref() {
                Some(text) => typed::length("dome", text, preferences)?,
                None => Decimal::ZERO,
            },
            holes_mm: task
                .hole
                .iter()
                .map(|text| typed::length("hole", text, preferences))
                .collect::<Result<_, _>>()?,
            solder_flow_c: flow(task, preferences)?,
        },
        ItemKind::Enamel => ItemDetails::Enamel {
            enamel: task.enamel.map_or(EnamelKind::Transparent, EnamelKind::from),
            swatch: task.swatch.unwrap_or(PLAIN_SWATCH),
            mesh: task.mesh.clone().unwrap_or_default(),
            fusing: task.fusing.map(crate::studio::Fusing::from),
            firing_c: pair(task.fires.as_deref(), |text| typed::temperature("fires", text, preferences))?,
        },
        ItemKind::Finding => ItemDetails::Finding { metal: task.metal.map(Metal::from) },
        ItemKind::Solder => ItemDetails::Solder { flow_c: flow(task, preferences)?.ok_or_else(|| missing("flow"))? },
        ItemKind::Consumable => ItemDetails::Consumable,
        ItemKind::Packaging => ItemDetails::Packaging,
    })
}

fn refuse_foreign(task: &Add, kind: ItemKind) -> Result<(), Failure> {
    use ItemKind::{Blank, Enamel, Finding, Sheet, Solder, Tube, Wire};
    let given: [(&str, bool, &[ItemKind]); 15] = [
        ("metal", task.metal.is_some(), &[Sheet, Wire, Tube, Blank, Finding]),
        ("gauge", task.gauge.is_some(), &[Sheet, Wire, Blank]),
        ("thickness", task.thickness.is_some(), &[Sheet, Wire, Blank]),
        ("outline", task.outline.is_some(), &[Blank]),
        ("dome", task.dome.is_some(), &[Blank]),
        ("hole", !task.hole.is_empty(), &[Blank]),
        ("size", task.size.is_some(), &[Sheet]),
        ("outer", task.outer.is_some(), &[Tube]),
        ("wall", task.wall.is_some(), &[Tube]),
        ("flow", task.flow.is_some(), &[Solder, Blank]),
        ("enamel", task.enamel.is_some(), &[Enamel]),
        ("fusing", task.fusing.is_some(), &[Enamel]),
        ("mesh", task.mesh.is_some(), &[Enamel]),
        ("fires", task.fires.is_some(), &[Enamel]),
        ("swatch", task.swatch.is_some(), &[Enamel]),
    ];
    let foreign: Vec<String> = given
        .into_iter()
        .filter(|(_, present, kinds)| *present && !kinds.contains(&kind))
        .map(|(name, _, kinds)| {
            let kinds: Vec<&str> = kinds.iter().map(|kind| kind.name()).collect();
            format!("--{name} was given for {}; it belongs to {}", kind.name(), kinds.join(", "))
        })
        .collect();
    if foreign.is_empty() { Ok(()) } else { Err(Failure::Invalid(foreign)) }
}

fn thickness(task: &Add, preferences: &Preferences) -> Result<Thickness, Failure> {
    match (task.gauge, task.thickness.as_deref()) {
        (Some(gauge), _) => Ok(Thickness::Gauge(gauge)),
        (None, Some(text)) => typed::thickness("thickness", text, preferences),
        (None, None) => Err(Failure::invalid("nothing says how thick it is; give --gauge N or --thickness LENGTH")),
    }
}

fn flow(task: &Add, preferences: &Preferences) -> Result<Option<Decimal>, Failure> {
    task.flow.as_deref().map(|text| typed::temperature("flow", text, preferences)).transpose()
}

fn pair(
    texts: Option<&[String]>,
    parse: impl Fn(&str) -> Result<Decimal, Failure>,
) -> Result<Option<[Decimal; 2]>, Failure> {
    match texts {
        Some([first, second]) => Ok(Some([parse(first)?, parse(second)?])),
        _ => Ok(None),
    }
}

fn needed<'a>(name: &str, text: Option<&'a str>) -> Result<&'a str, Failure> {
    text.ok_or_else(|| missing(name))
}

fn missing(name: &str) -> Failure {
    Failure::invalid(format!("--{name} is missing; this kind of stock needs it"))
}
