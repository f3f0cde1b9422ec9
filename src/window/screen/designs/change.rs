//! Changes that are not typed: choices, and rows added, moved, copied and taken out.

use super::draft::Draft;
use super::field::{Field, OutlinePart, RowKey};
use super::outline_text::{self, OutlineKind};
use crate::book::{Snapshot, StockRow};
use crate::costing::refire::with_firings;
use crate::measure::{Decimal, Unit};
use crate::studio::{
    Band, Channel, ChannelId, Coat, Firing, Fusing, ItemDetails, ItemId, ItemKind, Material, MaterialId, MaterialKind,
    Metal, Side, Step, StepKind, Target, Use,
};

/// The kinds of step, without what they hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KindOfStep {
    /// Prepare.
    Prepare,
    /// Clean.
    Clean,
    /// Coat.
    Coat,
    /// Dry.
    Dry,
    /// Fire.
    Fire,
    /// Finish.
    Finish,
    /// Assemble.
    Assemble,
    /// Pack.
    Pack,
}

impl KindOfStep {
    /// Every kind with its word, in the order of a route.
    pub const ALL: [(Self, &'static str); 8] = [
        (Self::Prepare, "Prepare"),
        (Self::Clean, "Clean"),
        (Self::Coat, "Coat"),
        (Self::Dry, "Dry"),
        (Self::Fire, "Fire"),
        (Self::Finish, "Finish"),
        (Self::Assemble, "Assemble"),
        (Self::Pack, "Pack"),
    ];

    /// The kind of a step.
    pub const fn of(kind: &StepKind) -> Self {
        match kind {
            StepKind::Prepare => Self::Prepare,
            StepKind::Clean => Self::Clean,
            StepKind::Coat(_) => Self::Coat,
            StepKind::Dry => Self::Dry,
            StepKind::Fire(_) => Self::Fire,
            StepKind::Finish => Self::Finish,
            StepKind::Assemble => Self::Assemble,
            StepKind::Pack => Self::Pack,
        }
    }

    /// Its word.
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(kind, _)| *kind == self).map_or("Step", |(_, word)| word)
    }
}

/// The kinds of target.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KindOfTarget {
    /// Share of the price.
    Margin,
    /// Ratio of full cost.
    Markup,
    /// Wage.
    Hourly,
}

/// A change made by choosing or pressing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// Made for children, or not.
    ForChildren(bool),
    /// Metal of the blank.
    Metal(Metal),
    /// Kind of outline.
    Outline(OutlineKind),
    /// Labour follows the studio, or not.
    FollowLabour(bool),
    /// Overhead follows the studio, or not.
    FollowOverhead(bool),
    /// Kiln figures follow the studio, or not.
    FollowKiln(bool),
    /// So many firings.
    Firings(u32),
    /// A new step after a place; none puts it first.
    AddStep(Option<usize>, KindOfStep),
    /// A step moved.
    MoveStep(usize, usize),
    /// A step copied.
    CopyStep(usize),
    /// A step taken out.
    RemoveStep(usize),
    /// Another kind of step.
    StepKind(RowKey, KindOfStep),
    /// The side of a coat.
    CoatSide(RowKey, Side),
    /// The enamel of a coat.
    CoatEnamel(RowKey, MaterialId),
    /// A step uses one more material.
    AddUse(RowKey, MaterialId),
    /// A step uses a material no more.
    RemoveUse(RowKey, usize),
    /// A material taken from stock.
    AddFromStock(ItemId),
    /// A material with a price of its own.
    AddMaterial(MaterialKind),
    /// A material taken out.
    RemoveMaterial(RowKey),
    /// Linked to stock, or to nothing.
    Link(RowKey, Option<ItemId>),
    /// The blank takes the shape of a linked one in stock.
    TakeShape(RowKey),
    /// Kind of material.
    MaterialKind(RowKey, MaterialKind),
    /// Unit of a material.
    MaterialUnit(RowKey, Unit),
    /// Fusing class.
    Fusing(RowKey, Option<Fusing>),
    /// Bears lead.
    Lead(RowKey, bool),
    /// Metal of a finding.
    MaterialMetal(RowKey, Option<Metal>),
    /// One of the studio's channels.
    AddStudioChannel(ChannelId),
    /// A channel of its own.
    AddChannel,
    /// A channel taken out.
    RemoveChannel(RowKey),
    /// A channel's terms follow the studio, or not.
    FollowChannel(RowKey, bool),
    /// Takes part in the common ticket.
    Retail(RowKey, bool),
    /// The ticket includes the tax.
    TaxInPrice(RowKey, bool),
    /// Kind of target.
    Target(RowKey, KindOfTarget),
    /// One more band of price points.
    AddBand(RowKey),
    /// A band taken out.
    RemoveBand(RowKey, usize),
}

/// Makes a change; a sentence when it cannot be made, and then nothing was changed.
pub fn make(draft: &mut Draft, change: Change, snapshot: &Snapshot) -> Result<(), String> {
    match change {
        Change::ForChildren(children) => draft.content.design.for_children = children,
        Change::Metal(metal) => draft.content.design.blank.metal = metal,
        Change::Outline(kind) => {
            let outline = &draft.content.design.blank.outline;
            if OutlineKind::of(outline) != kind {
                draft.content.design.blank.outline = outline_text::changed_to(kind, outline);
                for part in [OutlinePart::Long, OutlinePart::Wide, OutlinePart::Corner, OutlinePart::Points] {
                    let _ = draft.texts.remove(&Field::Outline(part));
                }
            }
        }
        Change::FollowLabour(follow) => draft.content.follows.labour = follow,
        Change::FollowOverhead(follow) => draft.content.follows.overhead = follow,
        Change::FollowKiln(follow) => draft.content.follows.kiln = follow,
        Change::Firings(firings) => {
            let design = with_firings(&draft.content.design, firings).map_err(|problem| problem.to_string())?;
            let mut content = draft.content.clone();
            content.design = design;
            draft.replace(content);
        }
        Change::AddStep(..) | Change::MoveStep(..) | Change::CopyStep(_) | Change::RemoveStep(_) => {
            return super::change_route::make(draft, &change);
        }
        Change::StepKind(key, kind) => {
            let fresh = new_step(draft, kind)?;
            let step = step_mut(draft, key)?;
            if KindOfStep::of(&step.kind) != kind {
                step.kind = fresh.kind;
            }
            draft.forget_texts(key);
        }
        Change::CoatSide(key, side) => coat_mut(draft, key)?.side = side,
        Change::CoatEnamel(key, material) => coat_mut(draft, key)?.material = material,
        Change::AddUse(key, material) => {
            let used = Use { material, quantity: Decimal::ONE };
            step_mut(draft, key)?.uses.push(used);
        }
        Change::RemoveUse(key, index) => {
            let step = step_mut(draft, key)?;
            if index < step.uses.len() {
                let _ = step.uses.remove(index);
            }
            draft.texts.retain(|field, _| !matches!(field, Field::Use(row, _) if *row == key));
        }
        other => return super::change_rows::make(draft, other, snapshot),
    }
    Ok(())
}

pub(super) const GONE: &str = "it is no longer part of the design";

fn step_mut(draft: &mut Draft, key: RowKey) -> Result<&mut Step, String> {
    let place = draft.step_place(key).ok_or(GONE)?;
    draft.content.design.steps.get_mut(place).ok_or_else(|| GONE.to_owned())
}

fn coat_mut(draft: &mut Draft, key: RowKey) -> Result<&mut Coat, String> {
    match &mut step_mut(draft, key)?.kind {
        StepKind::Coat(coat) => Ok(coat),
        _ => Err(GONE.to_owned()),
    }
}

/// A new step of a kind, with figures like those of its last fellow on the route.
pub(super) fn new_step(draft: &Draft, kind: KindOfStep) -> Result<Step, String> {
    let design = &draft.content.design;
    let fellow = design.steps.iter().rev().find(|step| KindOfStep::of(&step.kind) == kind);
    if let Some(fellow) = fellow {
        return Ok(Step { uses: Vec::new(), ..fellow.clone() });
    }
    let number = |value: i64| Decimal::from(value);
    let step_kind = match kind {
        KindOfStep::Prepare => StepKind::Prepare,
        KindOfStep::Clean => StepKind::Clean,
        KindOfStep::Dry => StepKind::Dry,
        KindOfStep::Finish => StepKind::Finish,
        KindOfStep::Assemble => StepKind::Assemble,
        KindOfStep::Pack => StepKind::Pack,
        KindOfStep::Coat => {
            let enamel = design
                .materials
                .iter()
                .find(|material| material.kind == MaterialKind::Enamel && material.unit == Unit::Gram)
                .ok_or("a coat needs an enamel: add one under Materials first")?;
            StepKind::Coat(Coat {
                side: Side::Front,
                material: enamel.id.clone(),
                coverage: Decimal::ONE,
                coat_mg_per_cm2: number(60),
                overspray: Decimal::new(3, 1),
                reclaimed: Decimal::new(7, 1),
            })
        }
        KindOfStep::Fire => StepKind::Fire(Firing {
            celsius: number(780),
            minutes: Decimal::new(25, 1),
            pieces_per_load: 6,
            attended_minutes_per_load: number(5),
        }),
    };
    Ok(Step {
        kind: step_kind,
        name: kind.word().to_owned(),
        setup_minutes: Decimal::ZERO,
        minutes_per_piece: if kind == KindOfStep::Fire || kind == KindOfStep::Dry {
            Decimal::ZERO
        } else {
            Decimal::TWO
        },
        good: Decimal::ONE,
        uses: Vec::new(),
    })
}

/// A material made of an item of stock; it is costed at that item's price.
pub fn material_of(row: &StockRow, id: MaterialId, price: Decimal) -> Material {
    let item = &row.item;
    let (fusing, metal) = match &item.details {
        ItemDetails::Enamel { fusing, .. } => (*fusing, None),
        ItemDetails::Finding { metal } => (None, *metal),
        ItemDetails::Sheet { metal, .. } | ItemDetails::Wire { metal, .. } | ItemDetails::Tube { metal, .. } => {
            (None, Some(*metal))
        }
        _ => (None, None),
    };
    let kind = match item.details.kind() {
        ItemKind::Sheet | ItemKind::Wire | ItemKind::Tube | ItemKind::Blank => MaterialKind::Blank,
        ItemKind::Enamel => MaterialKind::Enamel,
        ItemKind::Finding => MaterialKind::Finding,
        ItemKind::Solder => MaterialKind::Solder,
        ItemKind::Consumable => MaterialKind::Consumable,
        ItemKind::Packaging => MaterialKind::Packaging,
    };
    Material {
        id,
        name: item.name.clone(),
        kind,
        unit: item.unit,
        price,
        fusing,
        lead_bearing: item.lead_bearing,
        metal,
    }
}

/// An id that no other of a list has, made from a name.
pub fn fresh_id<'a>(name: &str, taken: impl Iterator<Item = &'a str> + Clone) -> String {
    let mut base: String = name
        .to_lowercase()
        .chars()
        .map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '-' })
        .collect::<String>()
        .split('-')
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join("-");
    base.truncate(40);
    if base.is_empty() {
        "row".clone_into(&mut base);
    }
    let is_free = |id: &str| !taken.clone().any(|other| other == id);
    if is_free(&base) {
        return base;
    }
    (2_u32..).map(|number| format!("{base}-{number}")).find(|id| is_free(id)).unwrap_or(base)
}

/// A channel with nothing taken off.
pub fn plain_channel(id: ChannelId, name: &str) -> Channel {
    Channel {
        id,
        name: name.to_owned(),
        retail: true,
        commission: Decimal::ZERO,
        card_fee: Decimal::ZERO,
        card_fee_fixed: Decimal::ZERO,
        tax: Decimal::ZERO,
        tax_in_price: false,
        selling_cost: Decimal::ZERO,
        target: Target::Margin(Decimal::new(3, 1)),
        price_points: vec![Band { up_to: None, step: Decimal::ONE, less: Decimal::ZERO }],
    }
}
