//! Price tags: strung, folded over, and barbells for jewellery.

use super::Mood;
use super::make::{Make, Style, band, paper, pin, qr, tenths};
use crate::studio::{Fold, PaperDesign, PaperKind, SymbolOf, Turn, What};

/// A strung tag.
pub(super) fn single(mood: Mood) -> PaperDesign {
    match mood {
        Mood::Quiet => paper(mood, "tag", PaperKind::Tag, [500, 280]).corner(10).hole(50, 140, 30).with([
            band([484, 0, 16, 280]),
            pin(What::Name, [100, 36, 240, 54]).semibold().size(105, 60),
            pin(What::Materials, [100, 92, 240, 64]).size(65, 50).lines(2).grey(),
            pin(What::Ticket, [100, 156, 240, 92]).bold().size(240, 90).bottom(),
            qr(SymbolOf::PieceNumber, [362, 84, 104, 104]),
            pin(What::Code, [350, 190, 128, 32]).semibold().size(60, 45).middle(),
        ]),
        Mood::Kiln => paper(mood, "tag", PaperKind::Tag, [500, 300]).corner(15).hole(54, 54, 32).with([
            band([0, 234, 500, 66]),
            pin(What::Name, [110, 34, 230, 84]).bold().size(110, 60).lines(2),
            pin(What::Ticket, [44, 120, 296, 98]).bold().size(250, 90).bottom(),
            qr(SymbolOf::PieceNumber, [354, 36, 108, 108]),
            pin(What::Materials, [340, 156, 136, 66]).size(58, 45).lines(3).middle().grey(),
            pin(What::Studio, [44, 240, 236, 54]).semibold().size(75, 50).white().centred(),
            pin(What::Code, [300, 240, 156, 54]).semibold().size(75, 50).white().right().centred(),
        ]),
        Mood::Garden => paper(mood, "tag", PaperKind::Tag, [300, 540]).corner(40).hole(150, 54, 30).with([
            pin(What::Name, [30, 100, 240, 92]).semibold().size(110, 60).lines(2).middle().bottom(),
            band([110, 208, 80, 10]),
            pin(What::Materials, [30, 234, 240, 60]).size(65, 50).lines(2).middle().grey(),
            pin(What::Ticket, [30, 302, 240, 82]).bold().size(220, 90).middle().centred(),
            qr(SymbolOf::PieceNumber, [98, 392, 104, 104]),
            pin(What::Code, [60, 494, 180, 30]).semibold().size(58, 45).middle(),
        ]),
    }
}

/// A tag folded over, printed on one side: the front is the half that is read upright first.
pub(super) fn folded(mood: Mood) -> PaperDesign {
    match mood {
        // Like the cover of a book: front at the right, back at the left of the fold.
        Mood::Quiet => paper(mood, "fold-over tag", PaperKind::Tag, [800, 240])
            .folded(Fold::Upright(tenths(400)))
            .hole(352, 120, 26)
            .hole(448, 120, 26)
            .with([
                band([784, 0, 16, 240]),
                pin(What::Name, [490, 34, 270, 52]).semibold().size(105, 60),
                pin(What::Ticket, [490, 110, 270, 100]).bold().size(260, 90).bottom(),
                qr(SymbolOf::PieceNumber, [30, 52, 104, 104]),
                pin(What::Code, [24, 160, 116, 32]).semibold().size(60, 45).middle(),
                pin(What::Materials, [146, 56, 164, 96]).size(65, 50).lines(4).grey(),
                pin(What::Studio, [146, 164, 164, 32]).semibold().size(58, 45).grey(),
            ]),
        // Folded away from the reader: the back stands on its head on the flat paper.
        Mood::Kiln => paper(mood, "fold-over tag", PaperKind::Tag, [340, 520])
            .folded(Fold::Across(tenths(260)))
            .hole(170, 214, 28)
            .hole(170, 306, 28)
            .with([
                band([0, 464, 340, 56]),
                pin(What::Name, [32, 338, 276, 48]).bold().size(105, 60).middle(),
                pin(What::Ticket, [32, 386, 276, 74]).bold().size(205, 90).middle().centred(),
                pin(What::Studio, [32, 470, 276, 44]).semibold().size(70, 45).middle().white().centred(),
                qr(SymbolOf::PieceNumber, [196, 66, 108, 108]).turned(Turn::Half),
                pin(What::Code, [190, 32, 120, 34]).semibold().size(60, 45).middle().centred().turned(Turn::Half),
                pin(What::Materials, [32, 62, 150, 108]).size(65, 50).lines(5).grey().turned(Turn::Half),
            ]),
        Mood::Garden => paper(mood, "fold-over tag", PaperKind::Tag, [640, 320])
            .folded(Fold::Upright(tenths(320)))
            .hole(268, 40, 26)
            .hole(372, 40, 26)
            .with([
                pin(What::Name, [345, 78, 270, 76]).semibold().size(110, 60).lines(2).middle().bottom(),
                band([440, 168, 80, 10]),
                pin(What::Ticket, [345, 190, 270, 96]).bold().size(230, 90).middle().centred(),
                qr(SymbolOf::PieceNumber, [108, 34, 104, 104]),
                pin(What::Code, [60, 140, 200, 32]).semibold().size(60, 45).middle(),
                pin(What::Materials, [30, 186, 260, 62]).size(65, 50).lines(2).middle().grey(),
                pin(What::Studio, [30, 256, 260, 34]).semibold().size(60, 45).middle().grey(),
            ]),
    }
}

/// Two small ends joined by a neck that is laid around a ring or chain; the neck stays bare.
pub(super) fn barbell(mood: Mood) -> PaperDesign {
    let bare =
        |height: i64| paper(mood, "barbell tag", PaperKind::Tag, [720, height]).folded(Fold::Upright(tenths(360)));
    match mood {
        Mood::Quiet => bare(120).with([
            band([478, 0, 8, 120]),
            pin(What::Ticket, [500, 14, 200, 62]).bold().size(180, 70).centred(),
            pin(What::Name, [500, 76, 200, 32]).size(60, 45).grey().centred(),
            qr(SymbolOf::PieceNumber, [10, 8, 104, 104]),
            pin(What::Code, [118, 10, 122, 100]).semibold().size(65, 45).lines(2).centred(),
        ]),
        Mood::Kiln => bare(130).with([
            band([480, 92, 240, 38]),
            pin(What::Ticket, [492, 8, 216, 80]).bold().size(200, 70).middle().centred(),
            pin(What::Name, [490, 96, 220, 30]).semibold().size(60, 45).middle().white().centred(),
            qr(SymbolOf::PieceNumber, [10, 13, 104, 104]),
            pin(What::Code, [118, 15, 122, 100]).bold().size(65, 45).lines(2).centred(),
        ]),
        Mood::Garden => bare(120).with([
            pin(What::Ticket, [490, 10, 220, 66]).bold().size(180, 70).middle().centred(),
            band([570, 78, 60, 6]),
            pin(What::Name, [490, 86, 220, 28]).size(58, 45).middle().grey().centred(),
            qr(SymbolOf::PieceNumber, [10, 8, 104, 104]),
            pin(What::Code, [118, 10, 122, 100]).semibold().size(65, 45).lines(2).middle().centred(),
        ]),
    }
}
