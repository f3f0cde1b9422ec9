//! The plain text of a field: the exact figure in her units.

use super::draft::Draft;
use super::field::{BandPart, ChannelPart, Field, MaterialPart, OutlinePart, StepPart};
use crate::measure::edit::{
    edit_length, edit_minutes, edit_money, edit_number, edit_quantity, edit_share, edit_temperature,
    edit_temperature_difference, edit_thickness,
};
use crate::measure::parse::ThicknessEntry;
use crate::measure::{Decimal, Preferences, Unit};
use crate::studio::{Band, Channel, Design, Outline, Step, StepKind, Target, Thickness};

/// What the field shows: what was typed while that differs, else the figure. Empty for a field that is not there.
pub fn text_of(draft: &Draft, field: Field, preferences: &Preferences) -> String {
    match draft.texts.get(&field) {
        Some(typed) => typed.text.clone(),
        None => figure_of(draft, field, preferences).unwrap_or_default(),
    }
}

/// Parts a list typed in one field.
pub const LIST_MARK: char = ';';

fn figure_of(draft: &Draft, field: Field, preferences: &Preferences) -> Option<String> {
    let design = &draft.content.design;
    let p = preferences;
    Some(match field {
        Field::Code => design.code.to_string(),
        Field::Name => design.name.clone(),
        Field::Pieces => design.pieces.to_string(),
        Field::Labour => edit_money(design.rates.labour_per_hour, p),
        Field::Overhead => edit_money(design.rates.overhead_per_hour, p),
        Field::Scrap => edit_money(design.rates.scrap_value, p),
        Field::KwhPerLoad => edit_number(design.kiln.kwh_per_load, p),
        Field::PricePerKwh => edit_money(design.kiln.price_per_kwh, p),
        Field::Recovery => edit_minutes(design.kiln.recovery_minutes, p),
        Field::Wear => edit_money(design.kiln.wear_per_hour, p),
        Field::SolderMargin => edit_temperature_difference(design.kiln.solder_margin_c, p),
        Field::Thickness => edit_thickness(thickness_entry(design.blank.thickness), p),
        Field::Dome => edit_length(design.blank.dome_height_mm, p),
        Field::Holes => {
            let holes: Vec<String> = design.blank.holes_mm.iter().map(|hole| edit_length(*hole, p)).collect();
            holes.join(&format!("{LIST_MARK} "))
        }
        Field::SolderFlow => design.blank.solder_flow_c.map(|celsius| edit_temperature(celsius, p)).unwrap_or_default(),
        Field::Count => design.blank.count.to_string(),
        Field::Outline(part) => outline_text(&design.blank.outline, part, p)?,
        Field::Step(key, part) => step_text(design.steps.get(draft.step_place(key)?)?, part, p)?,
        Field::Use(key, index) => {
            let used = design.steps.get(draft.step_place(key)?)?.uses.get(index)?;
            edit_quantity(used.quantity, unit_of(design, &used.material), p)
        }
        Field::Material(key, part) => {
            let material = design.materials.get(draft.material_place(key)?)?;
            match part {
                MaterialPart::Name => material.name.clone(),
                MaterialPart::Price => edit_money(material.price, p),
            }
        }
        Field::Channel(key, part) => channel_text(design.channels.get(draft.channel_place(key)?)?, part, p),
        Field::Band(key, index, part) => {
            let channel = design.channels.get(draft.channel_place(key)?)?;
            band_text(channel.price_points.get(index)?, part, p)
        }
    })
}

/// The unit of a material of a design; pieces where it is not there.
pub fn unit_of(design: &Design, id: &crate::studio::MaterialId) -> Unit {
    design.materials.iter().find(|material| material.id == *id).map_or(Unit::Each, |material| material.unit)
}

/// A thickness as the measures know it.
pub fn thickness_entry(thickness: Thickness) -> ThicknessEntry {
    match thickness {
        Thickness::Gauge(gauge) => ThicknessEntry::Gauge(gauge),
        Thickness::ThicknessMm(mm) => ThicknessEntry::Millimetres(mm),
    }
}

fn outline_text(outline: &Outline, part: OutlinePart, p: &Preferences) -> Option<String> {
    let length = |value: Decimal| Some(edit_length(value, p));
    match (outline, part) {
        (Outline::Disc { diameter_mm }, OutlinePart::Long) => length(*diameter_mm),
        (Outline::Ellipse { length_mm, .. } | Outline::Rectangle { length_mm, .. }, OutlinePart::Long) => {
            length(*length_mm)
        }
        (Outline::Drop { height_mm, .. }, OutlinePart::Long) => length(*height_mm),
        (
            Outline::Ellipse { width_mm, .. } | Outline::Rectangle { width_mm, .. } | Outline::Drop { width_mm, .. },
            OutlinePart::Wide,
        ) => length(*width_mm),
        (Outline::Rectangle { corner_mm, .. }, OutlinePart::Corner) => length(*corner_mm),
        (Outline::Polygon { points_mm }, OutlinePart::Points) => {
            let points: Vec<String> =
                points_mm.iter().map(|[x, y]| format!("{} {}", x.normalize(), y.normalize())).collect();
            Some(points.join(&format!("{LIST_MARK} ")))
        }
        (Outline::Path { svg }, OutlinePart::Points) => Some(svg.clone()),
        _ => None,
    }
}

fn step_text(step: &Step, part: StepPart, p: &Preferences) -> Option<String> {
    let text = match (part, &step.kind) {
        (StepPart::Name, _) => step.name.clone(),
        (StepPart::Setup, _) => edit_minutes(step.setup_minutes, p),
        (StepPart::PerPiece, _) => edit_minutes(step.minutes_per_piece, p),
        (StepPart::Good, _) => edit_share(step.good, p),
        (StepPart::Coverage, StepKind::Coat(coat)) => edit_share(coat.coverage, p),
        (StepPart::CoatWeight, StepKind::Coat(coat)) => edit_number(coat.coat_mg_per_cm2, p),
        (StepPart::Overspray, StepKind::Coat(coat)) => edit_share(coat.overspray, p),
        (StepPart::Reclaimed, StepKind::Coat(coat)) => edit_share(coat.reclaimed, p),
        (StepPart::Heat, StepKind::Fire(firing)) => edit_temperature(firing.celsius, p),
        (StepPart::HeatMinutes, StepKind::Fire(firing)) => edit_minutes(firing.minutes, p),
        (StepPart::PerLoad, StepKind::Fire(firing)) => firing.pieces_per_load.to_string(),
        (StepPart::Attended, StepKind::Fire(firing)) => edit_minutes(firing.attended_minutes_per_load, p),
        _ => return None,
    };
    Some(text)
}

fn channel_text(channel: &Channel, part: ChannelPart, p: &Preferences) -> String {
    match part {
        ChannelPart::Name => channel.name.clone(),
        ChannelPart::Commission => edit_share(channel.commission, p),
        ChannelPart::CardFee => edit_share(channel.card_fee, p),
        ChannelPart::CardFixed => edit_money(channel.card_fee_fixed, p),
        ChannelPart::Tax => edit_share(channel.tax, p),
        ChannelPart::Selling => edit_money(channel.selling_cost, p),
        ChannelPart::Target => match channel.target {
            Target::Margin(share) | Target::Markup(share) => edit_share(share, p),
            Target::Hourly(wage) => edit_money(wage, p),
        },
    }
}

fn band_text(band: &Band, part: BandPart, p: &Preferences) -> String {
    match part {
        BandPart::UpTo => band.up_to.map(|limit| edit_money(limit, p)).unwrap_or_default(),
        BandPart::Step => edit_money(band.step, p),
        BandPart::Less => edit_money(band.less, p),
    }
}
