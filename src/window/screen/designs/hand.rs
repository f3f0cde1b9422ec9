//! What lies open under the route, in place: the step in hand, or another part of the design.

use super::draft::Draft;
use super::field::{BandPart, ChannelPart, Field, MaterialPart, OutlinePart, StepPart};
use super::page::Open;
use crate::studio::StepKind;

/// The parts of a design that can be taken in hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    /// The step in hand.
    Step,
    /// The blank.
    Blank,
    /// Materials.
    Materials,
    /// Rates and kiln.
    Rates,
    /// Channels.
    Channels,
    /// Name, code, pieces, notes, photo.
    About,
}

impl Hand {
    /// Those with a button of their own, with their words.
    pub const BUTTONS: [(Self, &'static str); 5] = [
        (Self::Blank, "Blank"),
        (Self::Materials, "Materials"),
        (Self::Rates, "Rates and kiln"),
        (Self::Channels, "Channels"),
        (Self::About, "Name, notes, photo"),
    ];
}

const BLANK: [Field; 9] = [
    Field::Thickness,
    Field::Dome,
    Field::Holes,
    Field::SolderFlow,
    Field::Count,
    Field::Outline(OutlinePart::Long),
    Field::Outline(OutlinePart::Wide),
    Field::Outline(OutlinePart::Corner),
    Field::Outline(OutlinePart::Points),
];

/// True for the fields of the blank.
pub fn is_of_blank(field: Field) -> bool {
    BLANK.contains(&field)
}

/// The fields of what is open.
pub fn fields(draft: &Draft, open: &Open) -> Vec<Field> {
    let design = &draft.content.design;
    match open.hand {
        None => Vec::new(),
        Some(Hand::Step) => open.step.map(|key| step_fields(draft, key)).unwrap_or_default(),
        Some(Hand::Blank) => BLANK.to_vec(),
        Some(Hand::Materials) => open
            .material
            .map(|key| vec![Field::Material(key, MaterialPart::Name), Field::Material(key, MaterialPart::Price)])
            .unwrap_or_default(),
        Some(Hand::Rates) => vec![
            Field::Labour,
            Field::Overhead,
            Field::Scrap,
            Field::KwhPerLoad,
            Field::PricePerKwh,
            Field::Recovery,
            Field::Wear,
            Field::SolderMargin,
        ],
        Some(Hand::Channels) => {
            let Some(key) = open.channel else { return Vec::new() };
            let bands = draft
                .channel_place(key)
                .and_then(|place| design.channels.get(place))
                .map_or(0, |channel| channel.price_points.len());
            let parts = [
                ChannelPart::Name,
                ChannelPart::Commission,
                ChannelPart::CardFee,
                ChannelPart::CardFixed,
                ChannelPart::Tax,
                ChannelPart::Selling,
                ChannelPart::Target,
            ];
            let bands = (0..bands).flat_map(|index| {
                [BandPart::UpTo, BandPart::Step, BandPart::Less].map(|part| Field::Band(key, index, part))
            });
            parts.into_iter().map(|part| Field::Channel(key, part)).chain(bands).collect()
        }
        Some(Hand::About) => vec![Field::Code, Field::Name, Field::Pieces],
    }
}

fn step_fields(draft: &Draft, key: super::field::RowKey) -> Vec<Field> {
    let step = draft.step_place(key).and_then(|place| draft.content.design.steps.get(place));
    let Some(step) = step else { return Vec::new() };
    let own: &[StepPart] = match step.kind {
        StepKind::Coat(_) => &[StepPart::Coverage, StepPart::CoatWeight, StepPart::Overspray, StepPart::Reclaimed],
        StepKind::Fire(_) => &[StepPart::Heat, StepPart::HeatMinutes, StepPart::PerLoad, StepPart::Attended],
        _ => &[],
    };
    let common = [StepPart::Name, StepPart::Setup, StepPart::PerPiece, StepPart::Good];
    let uses = (0..step.uses.len()).map(|index| Field::Use(key, index));
    common.iter().chain(own).map(|part| Field::Step(key, *part)).chain(uses).collect()
}
