//! The fields of a design, by name: one for every figure a person can type.

/// A row of a list inside a design (a step, a material, a channel), by a key that stays with it while it moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RowKey(pub u32);

/// One field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Field {
    /// The code.
    Code,
    /// The name.
    Name,
    /// Pieces started in a batch.
    Pieces,
    /// Labour per hour.
    Labour,
    /// Overhead per hour.
    Overhead,
    /// What a lost piece gives back.
    Scrap,
    /// Energy of a load.
    KwhPerLoad,
    /// Price of a kWh.
    PricePerKwh,
    /// Minutes back to heat.
    Recovery,
    /// Wear per hot hour.
    Wear,
    /// Margin under a solder's flow point.
    SolderMargin,
    /// Gauge or thickness.
    Thickness,
    /// Height of the dome.
    Dome,
    /// Drilled holes.
    Holes,
    /// Flow point of the weakest solder joint.
    SolderFlow,
    /// Blanks in a piece.
    Count,
    /// A measure of the outline.
    Outline(OutlinePart),
    /// A figure of a step.
    Step(RowKey, StepPart),
    /// A quantity a step uses, by its place in the step.
    Use(RowKey, usize),
    /// A figure of a material.
    Material(RowKey, MaterialPart),
    /// A figure of a channel.
    Channel(RowKey, ChannelPart),
    /// A figure of a channel's price points, by the band's place.
    Band(RowKey, usize, BandPart),
}

/// Measures of an outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OutlinePart {
    /// Diameter, length or height.
    Long,
    /// Width.
    Wide,
    /// Corner radius.
    Corner,
    /// Corners of a polygon, or the data of a path.
    Points,
}

/// Figures of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StepPart {
    /// Its name.
    Name,
    /// Minutes once per batch.
    Setup,
    /// Minutes per piece.
    PerPiece,
    /// Share that leaves it good.
    Good,
    /// Share of the side that is covered.
    Coverage,
    /// Milligrams per cm².
    CoatWeight,
    /// Enamel that misses.
    Overspray,
    /// Share of that which is reclaimed.
    Reclaimed,
    /// Temperature.
    Heat,
    /// Minutes in the heat.
    HeatMinutes,
    /// Pieces per load.
    PerLoad,
    /// Attended minutes per load.
    Attended,
}

/// Figures of a material.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MaterialPart {
    /// Its name.
    Name,
    /// Price of a unit.
    Price,
}

/// Figures of a channel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ChannelPart {
    /// Its name.
    Name,
    /// Commission.
    Commission,
    /// Card fee, share.
    CardFee,
    /// Card fee, amount.
    CardFixed,
    /// Tax.
    Tax,
    /// Selling cost per piece.
    Selling,
    /// The figure of its target.
    Target,
}

/// Figures of a band of price points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BandPart {
    /// The band holds up to this.
    UpTo,
    /// Distance between tickets.
    Step,
    /// Taken off each.
    Less,
}

impl Field {
    /// The id its text field has, so that the keyboard can be sent there.
    pub fn id(self) -> String {
        let text = format!("design-{self:?}").to_lowercase();
        text.chars()
            .filter_map(|letter| match letter {
                'a'..='z' | '0'..='9' | '-' => Some(letter),
                '(' | ',' => Some('-'),
                _ => None,
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_plain_and_different() {
        assert_eq!(Field::Pieces.id(), "design-pieces");
        assert_eq!(Field::Step(RowKey(3), StepPart::Heat).id(), "design-step-rowkey-3-heat");
        assert_ne!(Field::Use(RowKey(1), 2).id(), Field::Use(RowKey(1), 3).id());
    }
}
