//! “Suppose”: the same designs under other circumstances, all at once, beside today's.

use super::piece::CostError;
use super::refire;
use crate::measure::{Decimal, TooLarge, exact};
use crate::studio::{Design, MaterialKind};

/// What is supposed to be otherwise; the default supposes nothing.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Supposition {
    /// Another labour rate, money per hour.
    pub labour_per_hour: Option<Decimal>,
    /// Change of the price of metals (blanks, and anything made of a known metal) as a share: 0.1 is 10 % dearer.
    pub metals: Decimal,
    /// Change of the price of enamels as a share.
    pub enamels: Decimal,
    /// Another commission on every channel that takes one, a share of the price before tax.
    pub commission: Option<Decimal>,
    /// Another card fee on every channel that takes one, a share of what the buyer pays.
    pub card_fee: Option<Decimal>,
    /// Firings more, by the rules of [`refire`].
    pub more_firings: u32,
}

impl Supposition {
    /// True when nothing is supposed.
    pub fn is_nothing(&self) -> bool {
        *self == Self::default()
    }

    /// The design under these circumstances; its prices are not rounded again.
    pub fn apply(&self, design: &Design) -> Result<Design, CostError> {
        let mut supposed = if self.more_firings == 0 {
            design.clone()
        } else {
            refire::with_firings(design, firings(design).saturating_add(self.more_firings))?
        };
        if let Some(labour) = self.labour_per_hour {
            supposed.rates.labour_per_hour = labour;
        }
        for material in &mut supposed.materials {
            if material.kind == MaterialKind::Enamel {
                material.price = changed(material.price, self.enamels)?;
            } else if material.kind == MaterialKind::Blank || material.metal.is_some() {
                material.price = changed(material.price, self.metals)?;
            }
        }
        for channel in &mut supposed.channels {
            if let Some(commission) = self.commission.filter(|_| !channel.commission.is_zero()) {
                channel.commission = commission;
            }
            if let Some(fee) = self.card_fee.filter(|_| !channel.card_fee.is_zero()) {
                channel.card_fee = fee;
            }
        }
        Ok(supposed)
    }
}

fn changed(price: Decimal, share: Decimal) -> Result<Decimal, TooLarge> {
    exact::mul(price, exact::add(Decimal::ONE, share)?)
}

fn firings(design: &Design) -> u32 {
    let count = design.steps.iter().filter(|step| matches!(step.kind, crate::studio::StepKind::Fire(_))).count();
    u32::try_from(count).unwrap_or(u32::MAX)
}
