//! Orders: what was ordered, at what price, and what of it has come.

use super::item::ItemId;
use super::movement::MovementId;
use crate::measure::{Currency, Decimal, Money, Quantity};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// An order's row in a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct OrderId(pub i64);

/// The row of a line of an order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct OrderLineId(pub i64);

/// The row of a file kept with an order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct AttachmentId(pub i64);

/// What decides how much of freight, duty and discount a line bears.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum SpreadBy {
    /// The price of the line.
    #[default]
    Value,
    /// The weight of the line.
    Weight,
}

impl SpreadBy {
    /// Both, in the order they are offered.
    pub const ALL: [Self; 2] = [Self::Value, Self::Weight];

    /// The name in files and on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Value => "value",
            Self::Weight => "weight",
        }
    }

    /// What is spread by that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|spread| spread.name() == name)
    }
}

/// An order as it was placed. Prices and charges are in the order's currency.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PurchaseOrder {
    /// From whom. Free text.
    pub supplier: String,
    /// The supplier's number of it, or her own. Free text.
    pub reference: String,
    /// The day it was placed.
    pub date: NaiveDate,
    /// Its currency.
    pub currency: Currency,
    /// Units of the book's currency for one of the order's, above 0; 1 where they are the same.
    pub rate: Decimal,
    /// Freight and handling of the whole order.
    pub freight: Money,
    /// Duty and tax that do not come back.
    pub duty: Money,
    /// Discount on the whole order; it is taken off.
    pub discount: Money,
    /// How freight, duty and discount are spread over the lines.
    pub spread: SpreadBy,
    /// Anything else.
    pub note: String,
    /// Nothing more is expected.
    pub closed: bool,
    /// Its lines.
    pub lines: Vec<OrderLine>,
}

/// A line of an order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderLine {
    /// Its row; none for a line that is new.
    pub id: Option<OrderLineId>,
    /// The item.
    pub item: ItemId,
    /// Packs ordered, above 0.
    pub packs: Quantity,
    /// What one pack holds, in the item's unit, above 0.
    pub pack: Quantity,
    /// The pack as the supplier says it, e.g. `1 lb jar`.
    pub pack_words: String,
    /// Price of all packs, 0 or more.
    pub price: Money,
    /// Weight of all packs, g; needed where charges are spread by weight.
    pub weight_g: Option<Quantity>,
}

/// An order of a book, with what has come of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookOrder {
    /// Its row.
    pub id: OrderId,
    /// The order.
    pub order: PurchaseOrder,
    /// What has come, by line in the order of the lines, oldest first.
    pub deliveries: Vec<Vec<Delivery>>,
    /// Files kept with it.
    pub attachments: Vec<AttachmentHead>,
}

impl BookOrder {
    /// Packs still to come, by line in the order of the lines; 0 where all came.
    pub fn to_come(&self) -> Vec<Quantity> {
        let lines = self.order.lines.iter().zip(&self.deliveries);
        lines
            .map(|(line, came)| {
                // What came is never more than what was ordered, so it fits.
                let left = came.iter().try_fold(line.packs, |left, one| left.minus(one.packs));
                left.unwrap_or_default().max(Quantity::ZERO)
            })
            .collect()
    }
}

impl PurchaseOrder {
    /// What the order is called: supplier and reference, or its day.
    pub fn title(&self) -> String {
        let said = [self.supplier.trim(), self.reference.trim()].join(" ");
        if said.trim().is_empty() { format!("of {}", self.date) } else { said.trim().to_owned() }
    }
}

/// What came of a line in one go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Delivery {
    /// The receipt.
    pub movement: MovementId,
    /// The day.
    pub date: NaiveDate,
    /// How many packs.
    pub packs: Quantity,
    /// What the lot costs after all.
    pub cost: Money,
}

/// A file kept with an order, without its bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AttachmentHead {
    /// Its row.
    pub id: AttachmentId,
    /// Its name.
    pub name: String,
    /// Its media type, e.g. `image/jpeg`.
    pub media_type: String,
    /// Its size in bytes.
    pub size: u64,
}

/// A file kept with an order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attachment {
    /// Its name.
    pub name: String,
    /// Its media type, e.g. `image/jpeg`.
    pub media_type: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}
