//! A book's design with the studio's figures in place of those it follows.

use super::rates;
use crate::measure::{Decimal, TooLarge};
use crate::studio::{BookDesign, Design, ItemId, StudioRates};

/// The design as it is costed: rates, channel terms and unit prices it follows are the studio's. `unit_price` gives
/// the price of one unit of an item (cost / quantity rounded half-even to 6 places); where it has none yet, the
/// design's own price stands. A channel the studio does not have keeps the design's own terms.
///
/// # Errors
/// [`TooLarge`] where a rate of the studio cannot be computed.
pub fn resolve(
    design: &BookDesign,
    rates: &StudioRates,
    unit_price: impl Fn(ItemId) -> Option<Decimal>,
) -> Result<Design, TooLarge> {
    let follows = &design.follows;
    let mut design = design.design.clone();
    if follows.labour {
        design.rates.labour_per_hour = rates.labour_per_hour.amount();
    }
    if follows.overhead {
        design.rates.overhead_per_hour = rates::overhead_per_hour(rates)?;
    }
    if follows.kiln {
        design.kiln.kwh_per_load = rates.kwh_per_load;
        design.kiln.price_per_kwh = rates.price_per_kwh.amount();
        design.kiln.recovery_minutes = rates.recovery_minutes;
        design.kiln.wear_per_hour = rates::wear_per_hour(rates)?;
    }
    for channel in design.channels.iter_mut().filter(|channel| follows.channels.contains(&channel.id)) {
        if let Some(studio) = rates.channels.iter().find(|studio| studio.id == channel.id) {
            *channel = studio.clone();
        }
    }
    for material in &mut design.materials {
        if let Some(price) = follows.materials.get(&material.id).and_then(|&item| unit_price(item)) {
            material.price = price;
        }
    }
    Ok(design)
}

#[cfg(test)]
mod tests;
