//! Reading what is typed into a field. What can be read goes into the draft at once; what cannot stays in its field
//! with a sentence under it, and the draft keeps its last good figure.

use super::draft::{Draft, Typed};
use super::field::{BandPart, ChannelPart, Field, MaterialPart, StepPart};
use super::outline_text;
use super::show::{LIST_MARK, unit_of};
use crate::measure::parse::{
    ThicknessEntry, parse_count, parse_length_mm, parse_minutes, parse_money, parse_number, parse_quantity, parse_rate,
    parse_ratio, parse_share, parse_temperature_celsius, parse_temperature_difference, parse_thickness,
};
use crate::measure::{Decimal, Preferences};
use crate::studio::{DesignCode, StepKind, Target, Thickness};

/// Longest name of a design, step, material or channel, in characters.
pub const NAME_LIMIT: usize = 120;

/// Most pieces of a batch, of a load, or blanks of a piece.
pub const COUNT_LIMIT: u32 = 100_000;

/// A person typed into a field. `is_taken` says whether another design has a code.
pub fn type_in(
    draft: &mut Draft,
    field: Field,
    text: String,
    preferences: &Preferences,
    is_taken: impl Fn(&DesignCode) -> bool,
) {
    let outcome = match field {
        Field::Outline(part) => {
            outline_text::type_in(draft, part, text, preferences);
            return;
        }
        Field::Code => code(&text).and_then(|code| {
            if is_taken(&code) {
                return Err(format!("{code} is taken: choose another code"));
            }
            draft.content.design.code = code;
            Ok(())
        }),
        _ => take(draft, field, &text, preferences),
    };
    let problem = outcome.err();
    let _ = draft.texts.insert(field, Typed { text, problem });
}

/// A typed code; small letters are taken as capitals.
pub fn code(text: &str) -> Result<DesignCode, String> {
    DesignCode::new(&text.trim().to_uppercase()).map_err(|problem| format!("{problem}, such as LN-DROP"))
}

/// A typed name.
pub fn name(text: &str) -> Result<String, String> {
    let name = text.trim();
    if name.is_empty() {
        return Err("it needs a name".to_owned());
    }
    let length = name.chars().count();
    if length > NAME_LIMIT {
        return Err(format!("{length} characters: write {NAME_LIMIT} or fewer"));
    }
    Ok(name.to_owned())
}

fn above_zero(value: Decimal, accepted: &str) -> Result<Decimal, String> {
    if value.is_zero() { Err(format!("0 is too little: write {accepted}")) } else { Ok(value) }
}

fn plain<T, E: std::fmt::Display>(outcome: Result<T, E>) -> Result<T, String> {
    outcome.map_err(|problem| problem.to_string())
}

const GONE: &str = "it is no longer part of the design";

fn take(draft: &mut Draft, field: Field, text: &str, p: &Preferences) -> Result<(), String> {
    let money = || plain(parse_money(text, p)).map(|money| money.amount());
    let minutes = || plain(parse_minutes(text, p));
    match field {
        Field::Step(key, part) => {
            let place = draft.step_place(key).ok_or(GONE)?;
            return take_step(draft, place, part, text, p);
        }
        Field::Channel(key, part) => {
            let place = draft.channel_place(key).ok_or(GONE)?;
            return take_channel(draft, place, part, text, p);
        }
        Field::Band(key, index, part) => {
            let place = draft.channel_place(key).ok_or(GONE)?;
            return take_band(draft, place, index, part, text, p);
        }
        Field::Material(key, part) => {
            let place = draft.material_place(key).ok_or(GONE)?;
            let material = draft.content.design.materials.get_mut(place).ok_or(GONE)?;
            match part {
                MaterialPart::Name => material.name = name(text)?,
                MaterialPart::Price => material.price = money()?,
            }
            return Ok(());
        }
        Field::Use(key, index) => {
            let place = draft.step_place(key).ok_or(GONE)?;
            let design = &draft.content.design;
            let used = design.steps.get(place).and_then(|step| step.uses.get(index)).ok_or(GONE)?;
            let quantity = plain(parse_quantity(text, unit_of(design, &used.material), p))?.value;
            let steps = &mut draft.content.design.steps;
            steps.get_mut(place).and_then(|step| step.uses.get_mut(index)).ok_or(GONE)?.quantity = quantity;
            return Ok(());
        }
        _ => {}
    }
    let design = &mut draft.content.design;
    match field {
        Field::Name => design.name = name(text)?,
        Field::Pieces => design.pieces = plain(parse_count(text, 1..=COUNT_LIMIT, p))?,
        Field::Labour => design.rates.labour_per_hour = money()?,
        Field::Overhead => design.rates.overhead_per_hour = money()?,
        Field::Scrap => design.rates.scrap_value = money()?,
        Field::KwhPerLoad => design.kiln.kwh_per_load = plain(parse_number(text, p))?,
        Field::PricePerKwh => design.kiln.price_per_kwh = money()?,
        Field::Recovery => design.kiln.recovery_minutes = minutes()?,
        Field::Wear => design.kiln.wear_per_hour = money()?,
        Field::SolderMargin => design.kiln.solder_margin_c = plain(parse_temperature_difference(text, p))?,
        Field::SolderFlow => {
            design.blank.solder_flow_c =
                if text.trim().is_empty() { None } else { Some(plain(parse_temperature_celsius(text, p))?) };
        }
        Field::Count => design.blank.count = plain(parse_count(text, 1..=COUNT_LIMIT, p))?,
        Field::Thickness | Field::Dome | Field::Holes => {
            let mut blank = design.blank.clone();
            match field {
                Field::Thickness => {
                    blank.thickness = match plain(parse_thickness(text, p))? {
                        ThicknessEntry::Gauge(gauge) => Thickness::Gauge(gauge),
                        ThicknessEntry::Millimetres(mm) => Thickness::ThicknessMm(mm),
                    };
                }
                Field::Dome => blank.dome_height_mm = plain(parse_length_mm(text, p))?,
                _ => {
                    let parts = text.split(LIST_MARK).map(str::trim).filter(|part| !part.is_empty());
                    let holes = parts.map(|part| {
                        plain(parse_length_mm(part, p)).and_then(|hole| above_zero(hole, "a diameter such as 2.5 mm"))
                    });
                    blank.holes_mm = holes.collect::<Result<_, _>>()?;
                }
            }
            let _ = plain(crate::costing::geometry::measure(&blank))?;
            design.blank = blank;
        }
        _ => {}
    }
    Ok(())
}

fn take_step(draft: &mut Draft, place: usize, part: StepPart, text: &str, p: &Preferences) -> Result<(), String> {
    let step = draft.content.design.steps.get_mut(place).ok_or(GONE)?;
    match (part, &mut step.kind) {
        (StepPart::Name, _) => step.name = name(text)?,
        (StepPart::Setup, _) => step.setup_minutes = plain(parse_minutes(text, p))?,
        (StepPart::PerPiece, _) => step.minutes_per_piece = plain(parse_minutes(text, p))?,
        (StepPart::Good, _) => {
            step.good = plain(parse_share(text, p)).and_then(|good| above_zero(good, "a share such as 98 %"))?;
        }
        (StepPart::Coverage, StepKind::Coat(coat)) => {
            coat.coverage = plain(parse_share(text, p)).and_then(|share| above_zero(share, "a share such as 36 %"))?;
        }
        (StepPart::CoatWeight, StepKind::Coat(coat)) => coat.coat_mg_per_cm2 = plain(parse_number(text, p))?,
        (StepPart::Overspray, StepKind::Coat(coat)) => coat.overspray = plain(parse_ratio(text, p))?,
        (StepPart::Reclaimed, StepKind::Coat(coat)) => coat.reclaimed = plain(parse_share(text, p))?,
        (StepPart::Heat, StepKind::Fire(firing)) => firing.celsius = plain(parse_temperature_celsius(text, p))?,
        (StepPart::HeatMinutes, StepKind::Fire(firing)) => firing.minutes = plain(parse_minutes(text, p))?,
        (StepPart::PerLoad, StepKind::Fire(firing)) => {
            firing.pieces_per_load = plain(parse_count(text, 1..=COUNT_LIMIT, p))?;
        }
        (StepPart::Attended, StepKind::Fire(firing)) => {
            firing.attended_minutes_per_load = plain(parse_minutes(text, p))?;
        }
        _ => return Err(GONE.to_owned()),
    }
    Ok(())
}

fn below_one(share: Decimal) -> Result<Decimal, String> {
    if share < Decimal::ONE { Ok(share) } else { Err("write a share below 100 %, such as 45 %".to_owned()) }
}

fn take_channel(draft: &mut Draft, place: usize, part: ChannelPart, text: &str, p: &Preferences) -> Result<(), String> {
    let channel = draft.content.design.channels.get_mut(place).ok_or(GONE)?;
    let money = || plain(parse_money(text, p)).map(|money| money.amount());
    match part {
        ChannelPart::Name => channel.name = name(text)?,
        ChannelPart::Commission => channel.commission = plain(parse_share(text, p)).and_then(below_one)?,
        ChannelPart::CardFee => channel.card_fee = plain(parse_share(text, p)).and_then(below_one)?,
        ChannelPart::CardFixed => channel.card_fee_fixed = money()?,
        ChannelPart::Tax => channel.tax = plain(parse_rate(text, p))?,
        ChannelPart::Selling => channel.selling_cost = money()?,
        ChannelPart::Target => {
            channel.target = match channel.target {
                Target::Margin(_) => Target::Margin(plain(parse_share(text, p)).and_then(below_one)?),
                Target::Markup(_) => Target::Markup(plain(parse_ratio(text, p))?),
                Target::Hourly(_) => Target::Hourly(money()?),
            };
        }
    }
    Ok(())
}

fn take_band(
    draft: &mut Draft,
    place: usize,
    index: usize,
    part: BandPart,
    text: &str,
    p: &Preferences,
) -> Result<(), String> {
    let bands = &mut draft.content.design.channels.get_mut(place).ok_or(GONE)?.price_points;
    let amount = plain(parse_money(text, p))?.amount();
    let limit = |index: Option<usize>| index.and_then(|index| bands.get(index)).and_then(|band| band.up_to);
    let (lower, upper) = (limit(index.checked_sub(1)), limit(index.checked_add(1)));
    let band = bands.get_mut(index).ok_or(GONE)?;
    match part {
        BandPart::UpTo => {
            if lower.is_some_and(|lower| amount <= lower) || upper.is_some_and(|upper| amount >= upper) {
                return Err("each band reaches further than the one before it".to_owned());
            }
            band.up_to = Some(amount);
        }
        BandPart::Step => {
            let step = above_zero(amount, "a distance between tickets such as 5")?;
            if band.less >= step {
                return Err(format!("write more than {}, which is taken off", band.less.normalize()));
            }
            band.step = step;
        }
        BandPart::Less => {
            if amount >= band.step {
                return Err(format!("write less than {}, the distance between tickets", band.step.normalize()));
            }
            band.less = amount;
        }
    }
    Ok(())
}
