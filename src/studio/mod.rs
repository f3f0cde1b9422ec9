//! The domain, one file a noun. Plain data with its invariants; no SQL, no screen, no files, no clock.

pub mod batch;
pub mod buying;
pub mod channel;
pub mod code;
pub mod correction;
pub mod cut;
pub mod defaults;
pub mod design;
pub mod item;
pub mod jar;
pub mod kiln;
pub mod language;
pub mod load;
pub mod metal;
pub mod movement;
pub mod outline;
pub mod outline_words;
pub mod pack;
pub mod paper_design;
pub mod price_list;
pub mod printer;
pub mod proposal;
pub mod purchase;
pub mod rates;
pub mod settings;
pub mod sheet;
pub mod step;
pub mod tile;

pub use batch::{
    Batch, BatchHead, BatchId, BatchRecord, BatchState, BenchDeed, BenchEntry, EntryId, FinishedPiece, LossCause,
    LossKind, Measured, Piece, PieceId, Timed, TimedWork, Timer, TimerId,
};
pub use buying::Buying;
pub use channel::{Band, Channel, ChannelId, Target};
pub use code::{CodeError, DesignCode};
pub use correction::{CorrectionId, LotCorrection};
pub use cut::{BookCut, Cut, CutItem, CutLine, CutPart};
pub use design::{
    Blank, BookDesign, Design, DesignId, Follows, KilnRates, Material, MaterialId, MaterialKind, Rates, Thickness,
};
pub use item::{EnamelKind, Fusing, Item, ItemDetails, ItemId, ItemKind};
pub use jar::{BookJar, Jar, JarId, Weighing};
pub use kiln::{
    BookKiln, BookKilnDay, ElectricKiln, FittedHeat, HeatSource, Kiln, KilnDay, KilnDayId, KilnId, ShareLoadBy,
    TariffBand,
};
pub use language::Language;
pub use load::{BookLoad, Charged, FiringResult, Load, LoadId};
pub use metal::Metal;
pub use movement::{LotId, Movement, MovementId, MovementKind, ValuationMethod};
pub use outline::Outline;
pub use pack::Pack;
pub use paper_design::{
    Across, BookPaperDesign, Down, Fold, Hole, Ink, PaperDesign, PaperDesignId, PaperKind, PictureId, Pinned,
    SymbolKind, SymbolOf, TextSet, Turn, Weight, What,
};
pub use price_list::{PriceLine, PriceList, PriceListId};
pub use printer::{
    BookNumberedPaper, Correction, NumberedId, NumberedKind, NumberedPaper, PaperLine, PrintedTag, Printer, PrinterId,
};
pub use proposal::{LearntFigure, Proposal};
pub use purchase::{
    Attachment, AttachmentHead, AttachmentId, BookOrder, Delivery, OrderId, OrderLine, OrderLineId, PurchaseOrder,
    SpreadBy,
};
pub use rates::{OverheadItem, StudioRates};
pub use settings::{LengthUnit, MassUnit, Settings, TemperatureUnit, ThicknessUnit};
pub use sheet::{LabelShape, LabelSheet, SheetId};
pub use step::{Coat, Firing, Side, Step, StepKind, Use};
pub use tile::{BookTile, TestTile, TileId, Verdict};
