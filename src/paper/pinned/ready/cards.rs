//! Care cards and earring cards.

use super::Mood;
use super::make::{Make, Style, band, paper, pin, tenths};
use crate::studio::{Fold, PaperDesign, PaperKind, What};

/// A care card of one side.
pub(super) fn flat(mood: Mood) -> PaperDesign {
    let card = paper(mood, "care card", PaperKind::Care, [900, 550]);
    match mood {
        Mood::Quiet => card.with([
            band([0, 0, 64, 550]),
            pin(What::Care, [118, 56, 728, 312]).size(82, 52).lines(24),
            pin(What::Cautions, [118, 388, 728, 58]).semibold().size(70, 50).lines(3).bottom(),
            pin(What::Studio, [118, 466, 360, 36]).semibold().size(75, 55).grey().bottom(),
            pin(What::Name, [486, 466, 360, 36]).size(75, 55).grey().right().bottom(),
        ]),
        Mood::Kiln => card.with([
            band([0, 446, 900, 104]),
            pin(What::Care, [60, 52, 780, 310]).size(82, 54).lines(24),
            pin(What::Cautions, [60, 366, 780, 58]).semibold().size(72, 52).lines(3).bottom(),
            pin(What::Studio, [60, 464, 430, 68]).bold().size(100, 60).white().centred(),
            pin(What::Name, [500, 464, 340, 68]).size(80, 55).white().right().centred(),
        ]),
        Mood::Garden => card.with([
            pin(What::Name, [90, 38, 720, 40]).semibold().size(80, 60).middle().grey().centred(),
            band([400, 86, 100, 8]),
            pin(What::Care, [80, 124, 740, 256]).size(80, 50).lines(24).middle(),
            pin(What::Cautions, [80, 400, 740, 54]).semibold().size(70, 50).lines(3).middle().bottom(),
            pin(What::Studio, [90, 474, 720, 36]).semibold().size(75, 55).middle().grey().bottom(),
        ]),
    }
}

/// A care card folded like a book: front at the right, back at the left; the inside is for her hand.
pub(super) fn folded(mood: Mood) -> PaperDesign {
    let card = paper(mood, "folded care card", PaperKind::Care, [1300, 950]).folded(Fold::Upright(tenths(650)));
    match mood {
        Mood::Quiet => card.with([
            band([650, 0, 70, 950]),
            pin(What::Name, [780, 120, 460, 250]).bold().size(190, 100).lines(3).bottom(),
            pin(What::Materials, [780, 400, 460, 130]).size(95, 70).lines(3).grey(),
            pin(What::Studio, [780, 784, 460, 46]).semibold().size(95, 65).bottom(),
            pin(What::Place, [780, 832, 460, 42]).size(90, 60).grey().bottom(),
            pin(What::Care, [70, 80, 510, 600]).size(86, 56).lines(40),
            pin(What::Cautions, [70, 700, 510, 170]).semibold().size(80, 56).lines(6).bottom(),
        ]),
        Mood::Kiln => card.with([
            band([650, 640, 650, 310]),
            pin(What::Name, [720, 100, 510, 310]).bold().size(230, 110).lines(3).bottom(),
            pin(What::Materials, [720, 440, 510, 130]).size(100, 70).lines(3).grey(),
            pin(What::Studio, [720, 780, 510, 56]).bold().size(120, 70).white().bottom(),
            pin(What::Place, [720, 840, 510, 42]).size(90, 60).white().bottom(),
            pin(What::Care, [70, 80, 510, 600]).size(86, 56).lines(40),
            pin(What::Cautions, [70, 700, 510, 170]).semibold().size(80, 56).lines(6).bottom(),
        ]),
        Mood::Garden => card.with([
            pin(What::Name, [720, 220, 510, 210]).semibold().size(190, 100).lines(3).middle().bottom(),
            band([900, 462, 150, 14]),
            pin(What::Materials, [720, 508, 510, 130]).size(95, 70).lines(3).middle().grey(),
            pin(What::Studio, [720, 786, 510, 46]).semibold().size(95, 65).middle().bottom(),
            pin(What::Place, [720, 834, 510, 42]).size(90, 60).middle().grey().bottom(),
            pin(What::Care, [70, 80, 510, 600]).size(84, 56).lines(40).middle(),
            pin(What::Cautions, [70, 700, 510, 170]).semibold().size(78, 56).lines(6).middle().bottom(),
        ]),
    }
}

/// A card a pair of earrings hangs on, by two holes.
pub(super) fn earring(mood: Mood) -> PaperDesign {
    let card = paper(mood, "earring card", PaperKind::Earring, [550, 850]).hole(185, 300, 15).hole(365, 300, 15);
    match mood {
        Mood::Quiet => card.corner(20).with([
            band([0, 0, 40, 850]),
            pin(What::Studio, [90, 66, 400, 60]).semibold().size(100, 65),
            pin(What::Name, [90, 590, 400, 62]).semibold().size(120, 75),
            pin(What::Materials, [90, 656, 400, 76]).size(75, 55).lines(2).grey(),
            pin(What::Ticket, [90, 742, 220, 60]).bold().size(150, 80).bottom(),
            pin(What::Code, [320, 742, 170, 60]).semibold().size(70, 50).right().grey().bottom(),
        ]),
        Mood::Kiln => card.with([
            band([0, 690, 550, 160]),
            pin(What::Studio, [60, 64, 430, 70]).bold().size(110, 65).middle(),
            pin(What::Name, [60, 540, 430, 66]).bold().size(130, 75).middle(),
            pin(What::Materials, [60, 608, 430, 66]).size(75, 55).lines(2).middle().grey(),
            pin(What::Ticket, [60, 720, 250, 100]).bold().size(180, 90).white().centred(),
            pin(What::Code, [320, 720, 170, 100]).semibold().size(75, 50).right().white().centred(),
        ]),
        Mood::Garden => card.corner(60).with([
            pin(What::Studio, [70, 80, 410, 50]).semibold().size(90, 60).middle().grey(),
            pin(What::Name, [70, 556, 410, 66]).semibold().size(125, 75).middle().bottom(),
            band([220, 636, 110, 10]),
            pin(What::Materials, [70, 660, 410, 66]).size(72, 52).lines(2).middle().grey(),
            pin(What::Ticket, [70, 736, 410, 62]).bold().size(150, 80).middle().centred(),
        ]),
    }
}
