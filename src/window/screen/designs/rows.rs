//! Materials, channels and rates of a design, worded for their lists.

use super::draft::Draft;
use super::field::RowKey;
use super::looks;
use super::tags::target;
use crate::book::Snapshot;
use crate::measure::{Decimal, Preferences, display};
use crate::studio::{BookDesign, Channel, ChannelId, Design, DesignId, MaterialKind};
use crate::window::screen::tiles::{BesideCoat, rows_for};

/// A material of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MaterialRow {
    /// Its row.
    pub key: RowKey,
    /// Its name.
    pub name: String,
    /// What it is: `enamel, medium · bears lead`.
    pub what: String,
    /// `$0.112/g`.
    pub price: String,
    /// `from stock, EN-014`, or `own price`.
    pub source: String,
    /// Linked to stock.
    pub linked: bool,
    /// A blank of stock whose shape can be taken.
    pub has_shape: bool,
    /// The colour of its swatch.
    pub swatch: Option<[u8; 3]>,
}

/// A channel of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChannelRow {
    /// Its row.
    pub key: RowKey,
    /// Its name.
    pub name: String,
    /// Its terms, a sentence.
    pub terms: String,
    /// Its price points, a sentence.
    pub points: String,
    /// Its terms are the studio's.
    pub follows: bool,
    /// The studio has such a channel.
    pub in_studio: bool,
}

/// Everything worded.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Rows {
    /// Materials.
    pub materials: Vec<MaterialRow>,
    /// Channels.
    pub channels: Vec<ChannelRow>,
    /// The studio's channels that the design does not have.
    pub more_channels: Vec<(ChannelId, String)>,
    /// Labour per hour as it is costed.
    pub labour: String,
    /// Overhead per hour as it is costed.
    pub overhead: String,
    /// Kiln figures as they are costed, a sentence.
    pub kiln: String,
    /// Materials a step uses: name and unit, by step and place in it.
    pub uses: Vec<Vec<(String, &'static str)>>,
    /// Names of the enamels of the coats, by step.
    pub coats: Vec<Option<String>>,
    /// Test tiles of the enamels of the coats, by step: what each looks like and its words.
    pub tiles: Vec<Vec<BesideCoat>>,
}

/// Most test tiles that stand beside a coat.
const MOST_TILES: usize = 3;

/// Words the rows of a draft; figures that follow the studio come from `resolved`.
pub fn rows(draft: &Draft, resolved: Option<&Design>, snapshot: &Snapshot, p: &Preferences) -> Rows {
    let own = &draft.content.design;
    let follows = &draft.content.follows;
    let costed = resolved.unwrap_or(own);
    let book = BookDesign {
        id: DesignId(0),
        design: own.clone(),
        follows: follows.clone(),
        notes: String::new(),
        retired: false,
        has_photo: false,
    };
    let name_of = |id: &crate::studio::MaterialId| {
        own.materials
            .iter()
            .find(|material| material.id == *id)
            .map(|material| material.name.clone())
            .unwrap_or_default()
    };
    Rows {
        materials: materials(&book, draft, costed, snapshot, p),
        channels: own
            .channels
            .iter()
            .zip(&draft.channel_keys)
            .map(|(channel, key)| {
                let shown = costed.channels.iter().find(|other| other.id == channel.id).unwrap_or(channel);
                ChannelRow {
                    key: *key,
                    name: shown.name.clone(),
                    terms: terms(shown, p),
                    points: points(shown, p),
                    follows: follows.channels.contains(&channel.id),
                    in_studio: snapshot.rates.channels.iter().any(|other| other.id == channel.id),
                }
            })
            .collect(),
        more_channels: snapshot
            .rates
            .channels
            .iter()
            .filter(|channel| own.channels.iter().all(|other| other.id != channel.id))
            .map(|channel| (channel.id.clone(), format!("Add {}", channel.name)))
            .collect(),
        labour: display::money_per_hour(costed.rates.labour_per_hour, p),
        overhead: display::money_per_hour(costed.rates.overhead_per_hour, p),
        kiln: format!(
            "{} kWh a load at {} · {} back to heat · {} of wear",
            display::number(costed.kiln.kwh_per_load, 0, 3, p.numbers),
            display::money_fine(costed.kiln.price_per_kwh, p),
            display::minutes(costed.kiln.recovery_minutes, p),
            display::money_per_hour(costed.kiln.wear_per_hour, p),
        ),
        uses: own
            .steps
            .iter()
            .map(|step| {
                let uses = step.uses.iter();
                uses.map(|used| {
                    let unit = super::show::unit_of(own, &used.material);
                    (name_of(&used.material), display::unit_label(unit, p))
                })
                .collect()
            })
            .collect(),
        coats: own
            .steps
            .iter()
            .map(|step| match &step.kind {
                crate::studio::StepKind::Coat(coat) => Some(name_of(&coat.material)),
                _ => None,
            })
            .collect(),
        tiles: own
            .steps
            .iter()
            .map(|step| match &step.kind {
                crate::studio::StepKind::Coat(coat) => follows
                    .materials
                    .get(&coat.material)
                    .map(|item| rows_for(*item, MOST_TILES, snapshot, p))
                    .unwrap_or_default(),
                _ => Vec::new(),
            })
            .collect(),
    }
}

fn materials(
    book: &BookDesign,
    draft: &Draft,
    costed: &Design,
    snapshot: &Snapshot,
    p: &Preferences,
) -> Vec<MaterialRow> {
    let own = book.design.materials.iter().zip(&draft.material_keys);
    own.map(|(material, key)| {
        let item = book.follows.materials.get(&material.id).and_then(|item| snapshot.item(*item));
        let price =
            costed.materials.iter().find(|other| other.id == material.id).map_or(material.price, |other| other.price);
        let mut what = material.kind.name().to_owned();
        if let Some(fusing) = material.fusing {
            what.push_str(&format!(", {}", fusing.name()));
        }
        if let Some(metal) = material.metal {
            what.push_str(&format!(", {}", metal.words()));
        }
        if material.lead_bearing {
            what.push_str(" · bears lead");
        }
        let source = match item {
            Some(row) if snapshot.unit_price(row.id).is_none() => {
                format!("from stock, {}: not bought yet, its own price stands", row.item.reference)
            }
            Some(row) => format!("from stock, {}", row.item.reference),
            None => "own price".to_owned(),
        };
        MaterialRow {
            key: *key,
            name: material.name.clone(),
            what,
            price: display::unit_price(price, material.unit, p),
            source,
            linked: item.is_some(),
            has_shape: material.kind == MaterialKind::Blank
                && item.is_some_and(|row| matches!(row.item.details, crate::studio::ItemDetails::Blank { .. })),
            swatch: looks::swatch(book, &material.id, snapshot),
        }
    })
    .collect()
}

fn terms(channel: &Channel, p: &Preferences) -> String {
    let mut parts = vec![format!("aims at {}", target(channel.target, p))];
    let mut part = |amount: Decimal, words: String| {
        if !amount.is_zero() {
            parts.push(words);
        }
    };
    part(channel.commission, format!("commission {}", display::rate(channel.commission, p)));
    part(channel.card_fee, format!("card fee {}", display::rate(channel.card_fee, p)));
    part(channel.card_fee_fixed, format!("{} a sale", display::money(channel.card_fee_fixed, p)));
    let inside = if channel.tax_in_price { "in the ticket" } else { "on top" };
    part(channel.tax, format!("tax {} {inside}", display::rate(channel.tax, p)));
    part(channel.selling_cost, format!("{} of selling cost a piece", display::money(channel.selling_cost, p)));
    if !channel.retail {
        parts.push("not part of the common ticket".to_owned());
    }
    parts.join(" · ")
}

fn points(channel: &Channel, p: &Preferences) -> String {
    if channel.price_points.is_empty() {
        return "every amount is an allowed ticket".to_owned();
    }
    let bands = channel.price_points.iter().map(|band| {
        let less = if band.less.is_zero() { String::new() } else { format!(" less {}", display::money(band.less, p)) };
        let step = display::money(band.step, p);
        match band.up_to {
            Some(limit) => format!("to {} every {step}{less}", display::money(limit, p)),
            None => format!("then every {step}{less}"),
        }
    });
    format!("tickets {}", bands.collect::<Vec<_>>().join(", "))
}
