//! Certificates and stall signs.

use super::Mood;
use super::make::{Make, Style, band, paper, phrase, pin, qr, rule};
use crate::studio::{PaperDesign, PaperKind, SymbolOf, What};

/// A certificate on A5 (ISO 216).
pub(super) fn certificate(mood: Mood) -> PaperDesign {
    let sheet = paper(mood, "certificate A5", PaperKind::Certificate, [1480, 2100]);
    match mood {
        Mood::Quiet => sheet.with([
            band([0, 0, 110, 2100]),
            phrase("by-hand-one-at-a-time", [240, 190, 1080, 70]).size(110, 80).grey(),
            pin(What::Name, [240, 280, 1080, 220]).bold().size(300, 160).lines(2).bottom(),
            pin(What::Materials, [240, 516, 1080, 130]).size(120, 85).lines(2),
            pin(What::Photo, [240, 668, 760, 620]),
            pin(What::Story, [240, 1326, 1080, 300]).size(105, 75).lines(12),
            pin(What::PieceNumber, [240, 1672, 500, 60]).semibold().size(110, 80),
            pin(What::Firings, [240, 1732, 500, 54]).size(100, 75).grey(),
            pin(What::Date, [780, 1672, 540, 60]).size(110, 80).right(),
            rule([240, 1868, 620, 2]),
            phrase("signature", [240, 1878, 300, 46]).size(80, 65).grey(),
            pin(What::Studio, [240, 1940, 620, 56]).semibold().size(105, 75),
            pin(What::Place, [880, 1940, 440, 56]).size(100, 70).right().grey(),
        ]),
        Mood::Kiln => sheet.with([
            band([0, 1700, 1480, 400]),
            phrase("by-hand-one-at-a-time", [140, 150, 1200, 70]).semibold().size(115, 80),
            pin(What::Name, [140, 232, 1200, 256]).bold().size(340, 180).lines(2).bottom(),
            pin(What::Materials, [140, 508, 1200, 120]).size(125, 85).lines(2).grey(),
            pin(What::Photo, [140, 654, 1200, 556]),
            pin(What::Story, [140, 1262, 1200, 230]).size(105, 75).lines(10),
            rule([140, 1596, 620, 3]),
            phrase("signature", [140, 1606, 300, 46]).size(80, 65).grey(),
            pin(What::Date, [800, 1540, 540, 60]).semibold().size(110, 80).right().bottom(),
            pin(What::Firings, [800, 1606, 540, 50]).size(95, 70).right().grey(),
            pin(What::Studio, [140, 1790, 720, 120]).bold().size(190, 100).white().bottom(),
            pin(What::Place, [140, 1916, 720, 70]).size(115, 80).white(),
            pin(What::PieceNumber, [880, 1826, 460, 84]).bold().size(130, 80).white().right().bottom(),
        ]),
        Mood::Garden => sheet.with([
            pin(What::Studio, [200, 170, 1080, 70]).semibold().size(115, 80).middle().grey(),
            pin(What::Photo, [370, 290, 740, 620]).middle().centred(),
            phrase("by-hand-one-at-a-time", [200, 960, 1080, 60]).size(105, 80).middle().grey(),
            pin(What::Name, [200, 1020, 1080, 220]).semibold().size(300, 160).lines(2).middle().centred(),
            band([640, 1262, 200, 18]),
            pin(What::Materials, [200, 1312, 1080, 120]).size(115, 85).lines(2).middle(),
            pin(What::Story, [240, 1446, 1000, 240]).size(100, 75).lines(10).middle().grey(),
            pin(What::PieceNumber, [200, 1716, 1080, 56]).semibold().size(105, 75).middle(),
            rule([490, 1868, 500, 2]),
            phrase("signature", [490, 1878, 500, 46]).size(80, 65).middle().grey(),
            pin(What::Date, [200, 1936, 1080, 56]).size(100, 75).middle(),
        ]),
    }
}

/// A certificate on A6 (ISO 216), without a picture.
pub(super) fn small_certificate(mood: Mood) -> PaperDesign {
    let sheet = paper(mood, "certificate A6", PaperKind::Certificate, [1480, 1050]);
    match mood {
        Mood::Quiet => sheet.with([
            band([0, 0, 90, 1050]),
            phrase("by-hand-one-at-a-time", [190, 120, 1160, 56]).size(100, 75).grey(),
            pin(What::Name, [190, 182, 1160, 136]).bold().size(250, 130).lines(2).bottom(),
            pin(What::Materials, [190, 332, 1160, 100]).size(105, 80).lines(2),
            pin(What::Story, [190, 448, 1160, 220]).size(95, 70).lines(8).grey(),
            pin(What::PieceNumber, [190, 696, 560, 54]).semibold().size(100, 75),
            pin(What::Date, [790, 696, 560, 54]).size(100, 75).right(),
            rule([190, 838, 560, 2]),
            phrase("signature", [190, 846, 300, 42]).size(75, 60).grey(),
            pin(What::Studio, [190, 900, 700, 52]).semibold().size(95, 70).bottom(),
            pin(What::Place, [900, 900, 450, 52]).size(90, 65).right().grey().bottom(),
        ]),
        Mood::Kiln => sheet.with([
            band([0, 830, 1480, 220]),
            phrase("by-hand-one-at-a-time", [120, 100, 1240, 56]).semibold().size(105, 75),
            pin(What::Name, [120, 162, 1240, 154]).bold().size(280, 140).lines(2).bottom(),
            pin(What::Materials, [120, 330, 1240, 100]).size(110, 80).lines(2).grey(),
            pin(What::Story, [120, 440, 1240, 190]).size(95, 70).lines(8),
            rule([120, 742, 560, 3]),
            phrase("signature", [120, 750, 300, 42]).size(75, 60).grey(),
            pin(What::Date, [800, 690, 560, 56]).semibold().size(100, 75).right().bottom(),
            pin(What::Studio, [120, 872, 700, 72]).bold().size(140, 80).white().bottom(),
            pin(What::Place, [120, 946, 700, 50]).size(95, 70).white(),
            pin(What::PieceNumber, [840, 882, 520, 62]).bold().size(115, 75).white().right().bottom(),
        ]),
        Mood::Garden => sheet.with([
            pin(What::Studio, [180, 110, 1120, 56]).semibold().size(100, 75).middle().grey(),
            pin(What::Name, [180, 210, 1120, 150]).semibold().size(250, 130).lines(2).middle().centred(),
            band([660, 378, 160, 14]),
            pin(What::Materials, [180, 420, 1120, 90]).size(105, 80).lines(2).middle(),
            pin(What::Story, [220, 520, 1040, 180]).size(92, 70).lines(7).middle().grey(),
            pin(What::PieceNumber, [180, 716, 1120, 50]).semibold().size(95, 70).middle(),
            rule([490, 858, 500, 2]),
            phrase("signature", [490, 866, 500, 42]).size(75, 60).middle().grey(),
            pin(What::Date, [180, 910, 1120, 48]).size(92, 70).middle(),
        ]),
    }
}

/// A sign on the stall, A5 across.
pub(super) fn sign(mood: Mood) -> PaperDesign {
    let sheet = paper(mood, "stall sign", PaperKind::Sign, [2100, 1480]);
    match mood {
        Mood::Quiet => sheet.with([
            band([0, 0, 150, 1480]),
            pin(What::Name, [290, 150, 1640, 370]).semibold().size(540, 240).lines(2).bottom(),
            pin(What::Materials, [290, 545, 1640, 200]).size(230, 150).lines(2).grey(),
            pin(What::Ticket, [290, 800, 1100, 480]).bold().size(1100, 400).bottom(),
            qr(SymbolOf::Code, [1480, 840, 450, 450]),
            pin(What::Studio, [290, 1306, 1640, 76]).semibold().size(140, 90).grey(),
        ]),
        Mood::Kiln => sheet.with([
            band([0, 1130, 2100, 350]),
            pin(What::Name, [160, 120, 1780, 360]).bold().size(620, 260).lines(2).bottom(),
            pin(What::Materials, [160, 500, 1780, 180]).size(230, 150).lines(2).grey(),
            pin(What::Ticket, [160, 690, 1280, 400]).bold().size(1000, 400).centred(),
            qr(SymbolOf::Code, [1540, 690, 400, 400]),
            pin(What::Studio, [160, 1190, 1780, 230]).bold().size(320, 160).white().centred(),
        ]),
        Mood::Garden => sheet.with([
            pin(What::Studio, [200, 150, 1700, 90]).semibold().size(170, 110).middle().grey(),
            pin(What::Name, [200, 290, 1700, 340]).semibold().size(540, 260).lines(2).middle().centred(),
            band([900, 670, 300, 26]),
            pin(What::Materials, [200, 756, 1700, 180]).size(220, 150).lines(2).middle().grey(),
            pin(What::Ticket, [200, 950, 1700, 380]).bold().size(950, 400).middle().centred(),
        ]),
    }
}
