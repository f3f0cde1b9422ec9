//! What can be asked about stock on the command line.

use super::arguments::{Form, date};
use super::buying::Buy;
use super::cutting_arguments::{CutTask, Nest};
use super::order_arguments::OrderTask;
use super::stock_lot_arguments::{Close, Correct, Export, Import, JarTask, Trace, WashBack, Weigh};
use chrono::NaiveDate;
use clap::{Args, Subcommand, ValueEnum};

/// `stock …`.
#[derive(Debug, Subcommand)]
pub enum StockTask {
    /// What is on the shelf
    #[command(after_help = "Example: enamelwright stock list --kind enamel --low")]
    List(List),
    /// Add an item
    #[command(after_help = "Lengths are mm unless a unit is typed (\"1 3/4 in\"), temperatures °C (\"1420 F\").\n\
                            Example: enamelwright stock add EN-041 \"Fen green\" --kind enamel --fusing medium --reorder 50g")]
    Add(Box<Add>),
    /// Receive a lot
    #[command(after_help = "COST is what the whole lot cost landed: price, freight and duties less discounts.\n\
                            Example: enamelwright stock receive EN-041 \"1/4 lb\" 18.40 --lot 2231")]
    Receive(Receive),
    /// Take stock to the bench
    #[command(after_help = "Example: enamelwright stock issue EN-041 2oz --note \"Lantern drops\"")]
    Issue(Take),
    /// Send stock back to its supplier, at its lot's cost
    #[command(after_help = "Example: enamelwright stock return EN-041 50g --lot 3")]
    Return(Return),
    /// Write off what was spilled, spoiled or lost
    #[command(after_help = "Example: enamelwright stock write-off EN-041 5g --note \"Dropped jar\"")]
    WriteOff(Take),
    /// Say what is there
    #[command(after_help = "Example: enamelwright stock count EN-041 112g")]
    Count(Take),
    /// Take reclaimed enamel in as a lot of its own
    #[command(after_help = "Without --cost and --from it comes in at nothing.\n\
                            Example: enamelwright stock wash-back CO-002 12g --from EN-041 --note \"Counter jar\"")]
    WashBack(WashBack),
    /// Say what a lot cost after all; what was issued from it follows
    #[command(after_help = "LOT is the number of its receipt in `stock show`, COST what the whole lot cost landed.\n\
                            Example: enamelwright stock correct 3 19.80 --note \"Invoice came\"")]
    Correct(Correct),
    /// Write a jar down with its tare, or change it
    #[command(after_help = "Example: enamelwright stock jar A3-07 EN-041 82g")]
    Jar(JarTask),
    /// Weigh jars: what each item's jars hold is counted
    #[command(after_help = "A difference of more than 5 g and more than a tenth asks for --cause.\n\
                            Example: enamelwright stock weigh A3-07 194.2g A3-08 88.5g --preview")]
    Weigh(Weigh),
    /// Orders: what is still to come, what came
    #[command(subcommand)]
    Order(OrderTask),
    /// Lay blanks out on a sheet: how many fit, what each costs
    #[command(after_help = "Nothing is written. QUANTITY may be left out for as many as fit.\n\
                            Example: enamelwright stock nest SH-01 --blank BL-03:12 --blank \"disc 20\" --kerf 0.5mm")]
    Nest(Nest),
    /// Write down that sheets were cut into blanks and off-cuts
    #[command(
        after_help = "The sheets go out, blanks and off-cuts come in with their share of what they cost, by area.\n\
                            Example: enamelwright stock cut SH-01 --sheets 1 --blank BL-03:12 --bench-minutes 45 --wage"
    )]
    Cut(CutTask),
    /// Close the period up to a day: nothing dated in it may change stock
    #[command(after_help = "Example: enamelwright stock close 2025-12-31")]
    Close(Close),
    /// Bring in a file of movements, all of it or nothing
    #[command(after_help = "Columns: date,item,movement,quantity,unit,cost,note; movement is receipt, issue, return, \
                            count, write-off or wash-back. An item that is not in the book is made. A workbook's \
                            headings may be other words for these, in any row among its first 20.\n\
                            Example: enamelwright stock import shelf.csv --preview\n\
                            Example: enamelwright stock import shelf.xlsx --sheet Movements")]
    Import(Import),
    /// Write a list of the book, or the whole book, as CSV, XLSX or JSON
    #[command(
        after_help = "The name of the file says the form. The book as CSV is one file where its name ends in .csv, \
                            else a folder with a file a list. Text that begins like a formula gets an apostrophe in \
                            CSV. A file of that name is replaced.\n\
                            Example: enamelwright stock export movements --out movements.xlsx\n\
                            Example: enamelwright stock export value --on 2025-12-31 --out value.csv\n\
                            Example: enamelwright stock export book --out book.json"
    )]
    Export(Export),
    /// An item's movements with what each cost
    #[command(after_help = "Example: enamelwright stock show EN-041 --method average")]
    Show(Show),
    /// What to buy, by supplier, in whole packs, with the reason
    #[command(after_help = "Without --order-cost the order that costs least is not computed.\n\
                            Example: enamelwright stock buy --order-cost 6.50 --out shopping.pdf")]
    Buy(Buy),
    /// Where each lot of an item went: every issue, write-off, return and shortage, and what is left
    #[command(after_help = "Example: enamelwright stock trace EN-041 --lot 3")]
    Trace(Trace),
    /// What the stock was worth at the end of a day
    #[command(after_help = "Example: enamelwright stock value --on 2025-12-31 --method average")]
    Value(Value),
}

/// `stock list`.
#[derive(Debug, Args)]
pub struct List {
    /// Only items at or below their reorder level
    #[arg(long)]
    pub low: bool,
    /// Only this kind
    #[arg(long, value_enum)]
    pub kind: Option<Kind>,
    /// Only items with this text in their reference, name, maker, number, supplier, shelf or note
    #[arg(long, value_name = "TEXT")]
    pub find: Option<String>,
    /// Items that were set aside, too
    #[arg(long)]
    pub all: bool,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock add`.
#[derive(Debug, Args)]
pub struct Add {
    /// Her short reference, unique in the book, e.g. EN-041
    pub reference: String,
    /// The item's name
    pub name: String,
    /// What it is
    #[arg(long, value_enum)]
    pub kind: Kind,
    /// The unit it is kept in; without it, g for enamel, sheet and solder, mm for wire and tube, each for the rest
    #[arg(long, value_enum)]
    pub unit: Option<UnitName>,
    /// The metal; copper for sheet, wire, tube and blanks unless said otherwise
    #[arg(long, value_enum)]
    pub metal: Option<MetalName>,
    /// Gauge of sheet, wire or blank, -3 (0000) to 40
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = clap::value_parser!(i8).range(-3..=40), conflicts_with = "thickness")]
    pub gauge: Option<i8>,
    /// Thickness of sheet, wire or blank
    #[arg(long, value_name = "LENGTH")]
    pub thickness: Option<String>,
    /// Outline of a blank in mm: "disc 30", "ellipse 45 28", "rectangle 40 20 3", "drop 38 24", "polygon 0,0 30,0 15,26" or "path M0 0 L30 0 …"
    #[arg(long, value_name = "SHAPE")]
    pub outline: Option<String>,
    /// Height of a blank's dome
    #[arg(long, value_name = "LENGTH")]
    pub dome: Option<String>,
    /// Diameter of a hole in a blank; may be given several times
    #[arg(long, value_name = "LENGTH")]
    pub hole: Vec<String>,
    /// Size of one sheet, length and width
    #[arg(long, value_name = "LENGTH", num_args = 2)]
    pub size: Option<Vec<String>>,
    /// Outer diameter of a tube
    #[arg(long, value_name = "LENGTH")]
    pub outer: Option<String>,
    /// Wall of a tube
    #[arg(long, value_name = "LENGTH")]
    pub wall: Option<String>,
    /// Flow point of solder, or of a blank's soldered joint
    #[arg(long, value_name = "TEMPERATURE")]
    pub flow: Option<String>,
    /// How an enamel takes light
    #[arg(long, value_enum)]
    pub enamel: Option<EnamelName>,
    /// How much heat an enamel needs
    #[arg(long, value_enum)]
    pub fusing: Option<FusingName>,
    /// Mesh of an enamel as sold, e.g. 80/325
    #[arg(long)]
    pub mesh: Option<String>,
    /// Colour of an enamel's swatch, six hexadecimal digits, e.g. 3a7d44
    #[arg(long, value_name = "RRGGBB", value_parser = swatch)]
    pub swatch: Option<[u8; 3]>,
    /// Lowest and highest firing temperature of an enamel
    #[arg(long, value_name = "TEMPERATURE", num_args = 2)]
    pub fires: Option<Vec<String>>,
    /// Bears lead
    #[arg(long)]
    pub lead: bool,
    /// At or below this quantity the item is low
    #[arg(long, value_name = "QUANTITY")]
    pub reorder: Option<String>,
    /// The pack it is bought in, e.g. "1 lb jar", "pack of 50"
    #[arg(long, value_name = "PACK")]
    pub pack: Option<String>,
    /// Days from ordering to having it
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(0..=3650))]
    pub lead_days: Option<u32>,
    /// Fewest packs the supplier sends
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub least_packs: Option<u32>,
    /// Maker
    #[arg(long, default_value = "", hide_default_value = true)]
    pub maker: String,
    /// The maker's own number
    #[arg(long, default_value = "", hide_default_value = true)]
    pub maker_number: String,
    /// Where it is bought
    #[arg(long, default_value = "", hide_default_value = true)]
    pub supplier: String,
    /// Where it stands
    #[arg(long, default_value = "", hide_default_value = true)]
    pub shelf: String,
    /// Anything else
    #[arg(long, default_value = "", hide_default_value = true)]
    pub note: String,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock receive`.
#[derive(Debug, Args)]
pub struct Receive {
    /// The item's reference
    pub reference: String,
    /// How much, e.g. 250, 2oz or "1/4 lb"
    pub quantity: String,
    /// What the whole lot cost, landed
    pub cost: String,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// The maker's lot number
    #[arg(long, value_name = "NUMBER", default_value = "", hide_default_value = true)]
    pub lot: String,
    /// The supplier; without it, the item's
    #[arg(long, value_name = "NAME")]
    pub supplier: Option<String>,
    /// Anything else
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub note: String,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock issue`, `count` and `write-off`.
#[derive(Debug, Args)]
pub struct Take {
    /// The item's reference
    pub reference: String,
    /// How much, e.g. 250, 2oz or "1/4 lb"
    pub quantity: String,
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub date: Option<NaiveDate>,
    /// Why, or anything else
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    pub note: String,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock return`.
#[derive(Debug, Args)]
pub struct Return {
    /// What goes back
    #[command(flatten)]
    pub take: Take,
    /// The lot it goes back from, by the number of its receipt in `stock show`; without it, the latest that can give it
    #[arg(long, value_name = "N")]
    pub lot: Option<i64>,
}

/// `stock show`.
#[derive(Debug, Args)]
pub struct Show {
    /// The item's reference
    pub reference: String,
    /// How issues are costed; without it, the book's method
    #[arg(long, value_enum)]
    pub method: Option<Method>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// `stock value`.
#[derive(Debug, Args)]
pub struct Value {
    /// The day; without it, today
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    pub on: Option<NaiveDate>,
    /// How issues are costed; without it, the book's method
    #[arg(long, value_enum)]
    pub method: Option<Method>,
    /// How the answer is written
    #[command(flatten)]
    pub form: Form,
}

/// The domain's names as arguments: a choice of words that stands for a value of the domain.
macro_rules! names {
    ($(#[$doc:meta])* $name:ident for $domain:ty { $($word:ident),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
        #[allow(missing_docs, reason = "the words are those of the domain, documented there")]
        pub enum $name { $($word),+ }

        impl From<$name> for $domain {
            fn from(name: $name) -> Self {
                match name { $($name::$word => Self::$word),+ }
            }
        }
    };
}

names! {
    /// A kind of stock.
    Kind for crate::studio::ItemKind {
        Enamel, Blank, Sheet, Wire, Tube, Finding, Solder, Consumable, Packaging,
    }
}
names! {
    /// A metal.
    MetalName for crate::studio::Metal { Copper, FineSilver, Sterling, Brass, Bronze, Steel }
}
names! {
    /// How an enamel takes light.
    EnamelName for crate::studio::EnamelKind { Transparent, Opaque, Opalescent, Clear }
}
names! {
    /// A fusing class.
    FusingName for crate::studio::Fusing { Soft, Medium, Hard }
}
names! {
    /// How issues are costed.
    Method for crate::studio::ValuationMethod { Fifo, Average }
}

/// A unit of stock.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum UnitName {
    /// Pieces
    Each,
    /// Grams
    G,
    /// Millimetres
    Mm,
    /// Millilitres
    Ml,
}

impl From<UnitName> for crate::measure::Unit {
    fn from(name: UnitName) -> Self {
        match name {
            UnitName::Each => Self::Each,
            UnitName::G => Self::Gram,
            UnitName::Mm => Self::Millimetre,
            UnitName::Ml => Self::Millilitre,
        }
    }
}

/// A colour as six hexadecimal digits, with or without `#`.
fn swatch(text: &str) -> Result<[u8; 3], String> {
    let digits = text.strip_prefix('#').unwrap_or(text);
    let colour = (digits.len() == 6 && digits.bytes().all(|byte| byte.is_ascii_hexdigit()))
        .then(|| u32::from_str_radix(digits, 16).ok())
        .flatten()
        .ok_or_else(|| format!("{text:?} is not a colour of six hexadecimal digits such as 3a7d44"))?;
    let [_, red, green, blue] = colour.to_be_bytes();
    Ok([red, green, blue])
}

/// An outline as typed: its shape, then its figures in mm.
pub fn outline(text: &str) -> Result<crate::studio::Outline, String> {
    crate::studio::outline_words::read(text).map_err(|problem| format!("outline: {problem}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::Decimal;
    use crate::studio::Outline;

    #[test]
    fn an_outline_is_a_shape_and_its_figures() {
        assert_eq!(outline("disc 30"), Ok(Outline::Disc { diameter_mm: Decimal::new(30, 0) }));
        assert_eq!(
            outline("rectangle 40 20.5"),
            Ok(Outline::Rectangle {
                length_mm: Decimal::new(40, 0),
                width_mm: Decimal::new(205, 1),
                corner_mm: Decimal::ZERO
            })
        );
        assert!(
            matches!(outline("polygon 0,0 30,0 15,-26"), Ok(Outline::Polygon { points_mm }) if points_mm.len() == 3)
        );
        for wrong in ["disc", "disc x", "disc 1 2", "square 3", "polygon 1 2", ""] {
            assert!(outline(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_swatch_is_six_hexadecimal_digits() {
        assert_eq!(swatch("#3A7d44"), Ok([0x3a, 0x7d, 0x44]));
        for wrong in ["3a7d4", "green", "+3a7d4", "3a7d4\u{e9}"] {
            assert!(swatch(wrong).is_err(), "{wrong}");
        }
    }
}
