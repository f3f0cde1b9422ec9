//! Materials and channels added, linked, changed and taken out.

use super::change::{Change, GONE, KindOfTarget, fresh_id, material_of, plain_channel};
use super::draft::Draft;
use super::field::{ChannelPart, Field, RowKey};
use crate::book::Snapshot;
use crate::measure::{Decimal, Unit};
use crate::studio::{Band, Channel, ChannelId, Material, MaterialId, MaterialKind, StepKind, Target};

fn material_mut(draft: &mut Draft, key: RowKey) -> Result<&mut Material, String> {
    let place = draft.material_place(key).ok_or(GONE)?;
    draft.content.design.materials.get_mut(place).ok_or_else(|| GONE.to_owned())
}

fn channel_mut(draft: &mut Draft, key: RowKey) -> Result<&mut Channel, String> {
    let place = draft.channel_place(key).ok_or(GONE)?;
    draft.content.design.channels.get_mut(place).ok_or_else(|| GONE.to_owned())
}

/// The steps that use a material, by name.
fn users(draft: &Draft, id: &MaterialId) -> Vec<String> {
    let steps = draft.content.design.steps.iter();
    steps
        .filter(|step| {
            let coat = matches!(&step.kind, StepKind::Coat(coat) if coat.material == *id);
            coat || step.uses.iter().any(|used| used.material == *id)
        })
        .map(|step| step.name.clone())
        .collect()
}

/// True when a coat is made of it.
fn is_coated(draft: &Draft, id: &MaterialId) -> bool {
    draft.content.design.steps.iter().any(|step| matches!(&step.kind, StepKind::Coat(coat) if coat.material == *id))
}

fn push_material(draft: &mut Draft, material: Material) {
    let key = draft.fresh_key();
    draft.content.design.materials.push(material);
    draft.material_keys.push(key);
}

fn push_channel(draft: &mut Draft, channel: Channel) {
    let key = draft.fresh_key();
    draft.content.design.channels.push(channel);
    draft.channel_keys.push(key);
}

/// Makes a change of a row.
pub(super) fn make(draft: &mut Draft, change: Change, snapshot: &Snapshot) -> Result<(), String> {
    match change {
        Change::AddFromStock(item) => {
            let row = snapshot.item(item).ok_or("it is no longer in stock")?;
            let taken = draft.content.design.materials.iter().map(|material| material.id.0.as_str());
            let id = MaterialId(fresh_id(&row.item.reference, taken));
            let price = snapshot.unit_price(item).unwrap_or_default();
            push_material(draft, material_of(row, id.clone(), price));
            let _ = draft.content.follows.materials.insert(id, item);
        }
        Change::AddMaterial(kind) => {
            let taken = draft.content.design.materials.iter().map(|material| material.id.0.as_str());
            let id = MaterialId(fresh_id(kind.name(), taken));
            let unit = if kind == MaterialKind::Enamel { Unit::Gram } else { Unit::Each };
            let name = format!("New {}", kind.name());
            let price = Decimal::ZERO;
            push_material(
                draft,
                Material { id, name, kind, unit, price, fusing: None, lead_bearing: false, metal: None },
            );
        }
        Change::RemoveMaterial(key) => {
            let id = material_mut(draft, key)?.id.clone();
            let users = users(draft, &id);
            if !users.is_empty() {
                return Err(format!("it is used by {}: change that first", users.join(", ")));
            }
            if draft.content.design.materials.len() == 1 {
                return Err("a design has one material or more".to_owned());
            }
            draft.content.design.materials.retain(|material| material.id != id);
            draft.material_keys.retain(|other| *other != key);
            let _ = draft.content.follows.materials.remove(&id);
            draft.forget_texts(key);
        }
        Change::Link(key, item) => {
            let id = material_mut(draft, key)?.id.clone();
            match item {
                Some(item) => {
                    let row = snapshot.item(item).ok_or("it is no longer in stock")?;
                    let price = snapshot.unit_price(item).unwrap_or_default();
                    let material = material_of(row, id.clone(), price);
                    let fits = material.kind == MaterialKind::Enamel && material.unit == Unit::Gram;
                    if is_coated(draft, &id) && !fits {
                        return Err("a coat is made of it: choose an enamel kept in grams".to_owned());
                    }
                    *material_mut(draft, key)? = material;
                    let _ = draft.content.follows.materials.insert(id, item);
                }
                None => {
                    // The price of the day stays, as the design's own.
                    if let Some(item) = draft.content.follows.materials.remove(&id)
                        && let Some(price) = snapshot.unit_price(item)
                    {
                        material_mut(draft, key)?.price = price;
                    }
                }
            }
            draft.forget_texts(key);
        }
        Change::TakeShape(key) => {
            let id = material_mut(draft, key)?.id.clone();
            let item = draft.content.follows.materials.get(&id).and_then(|item| snapshot.item(*item));
            let row = item.ok_or("it is not linked to stock")?;
            if !super::starter::take_shape(&mut draft.content.design.blank, row) {
                return Err("it is not a blank in stock".to_owned());
            }
            draft.texts.retain(|field, _| !super::hand::is_of_blank(*field));
        }
        Change::MaterialKind(key, kind) => {
            let material = material_mut(draft, key)?.clone();
            if kind != MaterialKind::Enamel && is_coated(draft, &material.id) {
                return Err("a coat is made of it: it stays an enamel".to_owned());
            }
            let material = material_mut(draft, key)?;
            material.kind = kind;
            if kind != MaterialKind::Enamel {
                material.fusing = None;
            }
        }
        Change::MaterialUnit(key, unit) => {
            let material = material_mut(draft, key)?.clone();
            if unit != Unit::Gram && is_coated(draft, &material.id) {
                return Err("a coat is made of it: it stays in grams".to_owned());
            }
            material_mut(draft, key)?.unit = unit;
        }
        Change::Fusing(key, fusing) => material_mut(draft, key)?.fusing = fusing,
        Change::Lead(key, lead) => material_mut(draft, key)?.lead_bearing = lead,
        Change::MaterialMetal(key, metal) => material_mut(draft, key)?.metal = metal,
        Change::AddStudioChannel(id) => {
            let channel = snapshot.rates.channels.iter().find(|channel| channel.id == id);
            let channel = channel.ok_or("the studio has no such channel")?.clone();
            if draft.content.design.channels.iter().all(|other| other.id != id) {
                push_channel(draft, channel);
            }
            let _ = draft.content.follows.channels.insert(id);
        }
        Change::AddChannel => {
            let own = draft.content.design.channels.iter().map(|channel| channel.id.0.as_str());
            let taken = own.chain(snapshot.rates.channels.iter().map(|channel| channel.id.0.as_str()));
            let id = ChannelId(fresh_id("channel", taken));
            push_channel(draft, plain_channel(id, "New channel"));
        }
        Change::RemoveChannel(key) => {
            let id = channel_mut(draft, key)?.id.clone();
            draft.content.design.channels.retain(|channel| channel.id != id);
            draft.channel_keys.retain(|other| *other != key);
            let _ = draft.content.follows.channels.remove(&id);
            draft.forget_texts(key);
        }
        Change::FollowChannel(key, follow) => {
            let id = channel_mut(draft, key)?.id.clone();
            let studio = snapshot.rates.channels.iter().find(|channel| channel.id == id).cloned();
            match studio {
                Some(_) if follow => {
                    let _ = draft.content.follows.channels.insert(id);
                }
                None if follow => return Err("the studio has no such channel: add it under Rates first".to_owned()),
                studio => {
                    // The studio's terms of the day stay, as the design's own.
                    if draft.content.follows.channels.remove(&id)
                        && let Some(studio) = studio
                    {
                        *channel_mut(draft, key)? = studio;
                    }
                }
            }
            draft.forget_texts(key);
        }
        Change::Retail(key, retail) => channel_mut(draft, key)?.retail = retail,
        Change::TaxInPrice(key, included) => channel_mut(draft, key)?.tax_in_price = included,
        Change::Target(key, kind) => {
            channel_mut(draft, key)?.target = match kind {
                KindOfTarget::Margin => Target::Margin(Decimal::new(3, 1)),
                KindOfTarget::Markup => Target::Markup(Decimal::ONE),
                KindOfTarget::Hourly => Target::Hourly(Decimal::from(25)),
            };
            let _ = draft.texts.remove(&Field::Channel(key, ChannelPart::Target));
        }
        Change::AddBand(key) => {
            let channel = channel_mut(draft, key)?;
            let bands = &mut channel.price_points;
            let step = bands.last().map_or(Decimal::ONE, |band| band.step);
            let before = bands.iter().rev().find_map(|band| band.up_to).unwrap_or_default();
            if let Some(last) = bands.last_mut() {
                last.up_to = Some(before.saturating_add(Decimal::from(50)));
            }
            bands.push(Band { up_to: None, step, less: Decimal::ZERO });
            forget_bands(draft, key);
        }
        Change::RemoveBand(key, index) => {
            let bands = &mut channel_mut(draft, key)?.price_points;
            if index < bands.len() {
                let _ = bands.remove(index);
            }
            if let Some(last) = bands.last_mut() {
                last.up_to = None;
            }
            forget_bands(draft, key);
        }
        _ => {}
    }
    Ok(())
}

fn forget_bands(draft: &mut Draft, key: RowKey) {
    draft.texts.retain(|field, _| !matches!(field, Field::Band(row, ..) if *row == key));
}
