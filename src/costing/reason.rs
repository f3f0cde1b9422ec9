//! The lines a proposal to buy is made of, for a face to word.

use crate::measure::Decimal;

/// One line of a reason: a figure and what it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ReasonLine {
    /// What it is.
    pub figure: Figure,
    /// Its value, in the measure of the figure.
    pub value: Decimal,
}

/// How the value of a figure is to be shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FigureMeasure {
    /// In the item's unit.
    Quantity,
    /// In the book's currency.
    Money,
    /// Days.
    Days,
    /// Weeks.
    Weeks,
    /// A share from 0 to 1.
    Share,
    /// Whole packs.
    Packs,
    /// A bare number.
    Number,
}

macro_rules! figures {
    ($($figure:ident, $measure:ident, $words:literal;)*) => {
        /// What a line of a reason is.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum Figure {
            $(#[doc = $words] $figure,)*
        }

        impl Figure {
            /// Plain words for it.
            pub const fn words(self) -> &'static str {
                match self { $(Self::$figure => $words,)* }
            }

            /// How its value is to be shown.
            pub const fn measure(self) -> FigureMeasure {
                match self { $(Self::$figure => FigureMeasure::$measure,)* }
            }
        }
    };
}

figures! {
    OnHand, Quantity, "on hand";
    OnOrder, Quantity, "on order";
    Planned, Quantity, "planned for batches";
    Available, Quantity, "on hand and on order, less what is planned";
    WeeksSeen, Weeks, "weeks of use looked at";
    UsePerWeek, Quantity, "use per week";
    Deviation, Quantity, "standard deviation of weekly use";
    WeeksLeft, Weeks, "weeks of stock left";
    LeadTime, Days, "lead time";
    LeadUse, Quantity, "use in the lead time";
    LeadDeviation, Quantity, "standard deviation of use in the lead time";
    ServiceLevel, Share, "chance of not running out before the delivery";
    Quantile, Number, "standard deviations that chance needs";
    SafetyStock, Quantity, "safety stock";
    ReorderPoint, Quantity, "reorder point: use in the lead time and safety stock";
    ReorderLevel, Quantity, "reorder level set for this item";
    UsePerYear, Quantity, "use per year";
    CostPerOrder, Money, "cost of placing one order";
    HoldingCost, Money, "cost of holding one unit for a year";
    EconomicQuantity, Quantity, "economic order quantity";
    PackHolds, Quantity, "one pack holds";
    FewerPacks, Packs, "packs, rounded down";
    FewerCost, Money, "yearly cost of ordering and holding, rounded down";
    MorePacks, Packs, "packs, rounded up";
    MoreCost, Money, "yearly cost of ordering and holding, rounded up";
    LeastPacks, Packs, "fewest packs the supplier sells";
    Lacking, Quantity, "missing to come above the reorder point";
    Packs, Packs, "packs to buy";
}
