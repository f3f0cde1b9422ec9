//! Labels for jars and drawers.

use super::Mood;
use super::make::{Make, Style, band, paper, pin, qr};
use crate::studio::{PaperDesign, PaperKind, SymbolOf, What};

/// A label on the side of a jar.
pub(super) fn jar(mood: Mood) -> PaperDesign {
    let label = paper(mood, "jar label", PaperKind::Jar, [700, 380]);
    match mood {
        Mood::Quiet => label.corner(15).with([
            band([0, 0, 40, 380]),
            pin(What::Name, [80, 34, 440, 64]).semibold().size(125, 75),
            pin(What::EnamelKind, [80, 102, 200, 36]).size(80, 55),
            pin(What::Mesh, [290, 102, 220, 36]).size(80, 55),
            pin(What::Fusing, [80, 150, 200, 36]).size(80, 55),
            pin(What::FiringRange, [290, 150, 220, 36]).semibold().size(80, 55),
            pin(What::Lot, [80, 198, 200, 36]).size(80, 55).grey(),
            pin(What::Tare, [290, 198, 220, 36]).size(80, 55).grey(),
            pin(What::Code, [80, 292, 240, 54]).bold().size(115, 70).bottom(),
            pin(What::LeadMark, [300, 300, 230, 46]).bold().size(85, 60).right().bottom(),
            pin(What::Swatch, [556, 46, 96, 96]).middle().centred(),
            qr(SymbolOf::Code, [552, 236, 108, 108]),
        ]),
        Mood::Kiln => label.with([
            band([0, 0, 700, 96]),
            pin(What::Name, [44, 14, 430, 68]).bold().size(135, 75).white().centred(),
            pin(What::Code, [480, 14, 180, 68]).bold().size(110, 65).white().right().centred(),
            pin(What::EnamelKind, [44, 124, 210, 40]).semibold().size(85, 55),
            pin(What::Mesh, [270, 124, 220, 40]).size(85, 55),
            pin(What::Fusing, [44, 176, 210, 40]).size(85, 55),
            pin(What::FiringRange, [270, 176, 220, 40]).bold().size(85, 55),
            pin(What::Lot, [44, 228, 210, 40]).size(80, 55).grey(),
            pin(What::Tare, [270, 228, 220, 40]).size(80, 55).grey(),
            pin(What::LeadMark, [44, 300, 440, 48]).bold().size(95, 60).bottom(),
            qr(SymbolOf::Code, [528, 152, 136, 136]),
            pin(What::Shelf, [500, 300, 160, 48]).semibold().size(80, 55).right().bottom(),
        ]),
        Mood::Garden => label.corner(40).with([
            pin(What::Swatch, [302, 30, 96, 96]).middle().centred(),
            pin(What::Name, [60, 134, 580, 64]).semibold().size(125, 75).middle().centred(),
            band([300, 204, 100, 8]),
            pin(What::EnamelKind, [60, 226, 280, 36]).size(80, 55).right(),
            pin(What::Mesh, [360, 226, 280, 36]).size(80, 55),
            pin(What::Fusing, [60, 266, 280, 36]).size(80, 55).right(),
            pin(What::FiringRange, [360, 266, 280, 36]).semibold().size(80, 55),
            pin(What::Lot, [60, 306, 280, 36]).size(75, 55).right().grey(),
            pin(What::Tare, [360, 306, 280, 36]).size(75, 55).grey(),
            pin(What::Code, [40, 40, 220, 44]).bold().size(95, 65),
            pin(What::LeadMark, [440, 40, 220, 44]).bold().size(85, 55).right(),
        ]),
    }
}

/// A round label on a jar's lid.
pub(super) fn lid(mood: Mood) -> PaperDesign {
    let label = paper(mood, "lid label", PaperKind::Jar, [400, 400]).corner(200);
    match mood {
        Mood::Quiet => label.with([
            band([0, 0, 400, 76]),
            pin(What::Name, [46, 108, 308, 92]).semibold().size(120, 65).lines(2).middle().centred(),
            pin(What::FiringRange, [60, 204, 280, 40]).size(85, 55).middle().centred(),
            pin(What::Fusing, [70, 244, 260, 36]).size(75, 55).middle().grey().centred(),
            pin(What::Code, [110, 284, 180, 42]).bold().size(100, 60).middle().centred(),
            pin(What::LeadMark, [90, 328, 220, 36]).bold().size(70, 45).middle().centred(),
        ]),
        Mood::Kiln => label.with([
            band([0, 276, 400, 124]),
            pin(What::EnamelKind, [110, 46, 180, 40]).size(80, 55).middle().centred(),
            pin(What::Name, [40, 90, 320, 104]).bold().size(135, 65).lines(2).middle().centred(),
            pin(What::FiringRange, [50, 202, 300, 52]).semibold().size(95, 60).middle().centred(),
            pin(What::Code, [80, 284, 240, 46]).bold().size(110, 65).middle().white().centred(),
            pin(What::LeadMark, [90, 330, 220, 36]).bold().size(70, 45).middle().white().centred(),
        ]),
        Mood::Garden => label.with([
            pin(What::Swatch, [150, 44, 100, 100]).middle().centred(),
            pin(What::Name, [40, 154, 320, 84]).semibold().size(115, 65).lines(2).middle().centred(),
            band([160, 246, 80, 8]),
            pin(What::FiringRange, [80, 264, 240, 38]).size(80, 55).middle().centred(),
            pin(What::Code, [110, 298, 180, 36]).bold().size(85, 55).middle().centred(),
            pin(What::LeadMark, [90, 332, 220, 34]).bold().size(66, 45).middle().centred(),
        ]),
    }
}

/// A label on a drawer or box.
pub(super) fn drawer(mood: Mood) -> PaperDesign {
    let label = paper(mood, "drawer label", PaperKind::Drawer, [800, 280]);
    match mood {
        Mood::Quiet => label.corner(10).with([
            band([0, 0, 40, 280]),
            pin(What::Name, [86, 36, 520, 68]).semibold().size(135, 75),
            pin(What::Size, [86, 116, 250, 44]).size(95, 60),
            pin(What::Gauge, [346, 116, 260, 44]).size(95, 60),
            pin(What::Code, [86, 190, 260, 56]).bold().size(115, 70).bottom(),
            pin(What::Shelf, [356, 196, 250, 50]).size(85, 55).grey().bottom(),
            qr(SymbolOf::Code, [636, 72, 136, 136]),
        ]),
        Mood::Kiln => label.with([
            band([0, 0, 800, 90]),
            pin(What::Name, [44, 12, 712, 66]).bold().size(140, 75).white().centred(),
            pin(What::Size, [44, 112, 270, 50]).semibold().size(110, 60),
            pin(What::Gauge, [330, 112, 270, 50]).size(110, 60),
            pin(What::Code, [44, 190, 280, 60]).bold().size(130, 75).bottom(),
            pin(What::Shelf, [340, 198, 260, 52]).size(90, 55).grey().bottom(),
            qr(SymbolOf::Code, [622, 116, 136, 136]),
        ]),
        Mood::Garden => label.corner(40).with([
            pin(What::Code, [50, 34, 340, 40]).bold().size(85, 60),
            pin(What::Shelf, [410, 34, 340, 40]).size(85, 60).right().grey(),
            pin(What::Name, [50, 80, 700, 74]).semibold().size(145, 80).middle().centred(),
            band([350, 164, 100, 10]),
            pin(What::Size, [50, 192, 335, 50]).size(100, 60).right(),
            pin(What::Gauge, [415, 192, 335, 50]).size(100, 60),
        ]),
    }
}
