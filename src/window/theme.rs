//! How the window looks: two palettes, type sizes, the 8-pixel rhythm, and the style of every kind of surface.
//!
//! Style functions find their colours by asking the theme whether it is dark ([`palette()`]), so that a screen never
//! carries colours about. Everything that draws by hand (canvases) takes a [`Palette`] from the same place.

mod fields;
mod pressed;
mod surface;
mod words;

pub use fields::{editor, input, input_wrong, menu, scroll};
pub use pressed::{
    PressStyle, bare, bead, choice, danger, filled_button, link, primary, quiet_button, row, toast_button,
};
pub use surface::{banner, chip, filled, ground, hairline, sheet, sheet_caution, sheet_stop, tag, toast, veil};
pub use words::{accent, caution, quiet, stop};

use iced::font::{Family, Weight};
use iced::theme::palette;
use iced::widget::combo_box;
use iced::{Border, Color, Font, Theme};

/// The family of the whole window: tabular figures, wide Latin, Greek and Cyrillic.
pub const FAMILY: &str = "Source Sans 3";
/// Running text.
pub const REGULAR: Font = Font { family: Family::Name(FAMILY), ..Font::DEFAULT };
/// Headings, figures that matter, labels of buttons.
pub const STRONG: Font = Font { weight: Weight::Semibold, ..REGULAR };

/// Type sizes, pixels at 100 %.
pub mod size {
    /// Notes, hints, units.
    pub const SMALL: f32 = 13.0;
    /// Running text.
    pub const BODY: f32 = 15.0;
    /// Headings of panels with weight, figures of a row that matter.
    pub const LARGE: f32 = 20.0;
    /// The name of a page.
    pub const TITLE: f32 = 28.0;
    /// The one figure of a page.
    pub const DISPLAY: f32 = 36.0;
}

/// Distances, pixels at 100 %; multiples of 8, with a half step for what belongs together.
pub mod space {
    /// Between a label and its field.
    pub const HALF: f32 = 4.0;
    /// One step.
    pub const ONE: f32 = 8.0;
    /// Two steps.
    pub const TWO: f32 = 16.0;
    /// Three steps: between panels, around a page.
    pub const THREE: f32 = 24.0;
    /// Four steps.
    pub const FOUR: f32 = 32.0;
}

/// The least height and width of anything to press, pixels.
pub const TARGET: f32 = 36.0;
/// Corners of panels, pixels.
pub const RADIUS: f32 = 8.0;
/// Corners of buttons and fields, pixels.
pub const RADIUS_SMALL: f32 = 5.0;

/// The colours of one look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Palette {
    /// Behind everything.
    pub ground: Color,
    /// Panels, tags, fields.
    pub sheet: Color,
    /// Text.
    pub ink: Color,
    /// Text that stands back; still 4.5 to 1 on ground and sheet.
    pub quiet: Color,
    /// Hair lines.
    pub line: Color,
    /// Edges of fields and buttons: 3 to 1 on ground and sheet.
    pub edge: Color,
    /// What can be done, what is chosen, what is good.
    pub accent: Color,
    /// Text on a surface of the accent colour.
    pub on_accent: Color,
    /// Look before you go on.
    pub caution: Color,
    /// Do not do this; what is wrong.
    pub stop: Color,
    /// Text on a surface of the stop colour.
    pub on_stop: Color,
    /// A chosen row, a pressed quiet button.
    pub chosen: Color,
    /// A row or quiet button under the pointer.
    pub hover: Color,
    /// A neutral step of a route.
    pub step: Color,
    /// True for the dark look.
    pub dark: bool,
}

const fn rgb(hex: u32) -> Color {
    Color::from_rgb8(((hex >> 16) & 0xff) as u8, ((hex >> 8) & 0xff) as u8, (hex & 0xff) as u8)
}

/// Warm paper.
pub static LIGHT: Palette = Palette {
    ground: rgb(0x00F6_F2EA),
    sheet: rgb(0x00FF_FDF8),
    ink: rgb(0x0025_211C),
    quiet: rgb(0x006E_665B),
    line: rgb(0x00DD_D5C7),
    edge: rgb(0x0092_8877),
    accent: rgb(0x001C_6B66),
    on_accent: rgb(0x00FF_FDF8),
    caution: rgb(0x008A_5A00),
    stop: rgb(0x00A3_261D),
    on_stop: rgb(0x00FF_FDF8),
    chosen: rgb(0x00DC_EAE5),
    hover: rgb(0x00EF_E9DD),
    step: rgb(0x00DD_D5C7),
    dark: false,
};

/// The bench at night.
pub static DARK: Palette = Palette {
    ground: rgb(0x0019_1715),
    sheet: rgb(0x0023_201D),
    ink: rgb(0x00EF_E8DC),
    quiet: rgb(0x00A8_9E90),
    line: rgb(0x003A_352F),
    edge: rgb(0x007C_7265),
    accent: rgb(0x0063_BDB4),
    on_accent: rgb(0x0019_1715),
    caution: rgb(0x00E0_A63C),
    stop: rgb(0x00F0_766B),
    on_stop: rgb(0x0019_1715),
    chosen: rgb(0x0027_3B38),
    hover: rgb(0x0030_2C27),
    step: rgb(0x003A_352F),
    dark: true,
};

/// The light or the dark look as a theme of the window.
pub fn theme(palette: &Palette) -> Theme {
    let name = if palette.dark { "Enamelwright dark" } else { "Enamelwright light" };
    Theme::custom(
        name.to_owned(),
        palette::Palette {
            background: palette.ground,
            text: palette.ink,
            primary: palette.accent,
            success: palette.accent,
            warning: palette.caution,
            danger: palette.stop,
        },
    )
}

/// The colours of a theme.
pub fn palette(theme: &Theme) -> &'static Palette {
    if theme.extended_palette().is_dark { &DARK } else { &LIGHT }
}

// --- Colour that means something --------------------------------------------------------------------------------

/// The colour of a firing on screen: dark cherry at 650 °C and below, bright orange at 850 °C and above. A convention
/// of this program (the number always stands beside it), not a pyrometer.
pub fn heat(celsius: f32) -> Color {
    const STOPS: [(f32, Color); 5] = [
        (650.0, rgb(0x008C_1F1A)),
        (700.0, rgb(0x00AC_2B18)),
        (750.0, rgb(0x00C6_401A)),
        (800.0, rgb(0x00E0_631F)),
        (850.0, rgb(0x00F4_8A2A)),
    ];
    let mut low = STOPS[0];
    for high in STOPS {
        if celsius <= high.0 {
            let span = high.0 - low.0;
            let share = if span > 0.0 { ((celsius - low.0) / span).clamp(0.0, 1.0) } else { 0.0 };
            return mix(low.1, high.1, share);
        }
        low = high;
    }
    low.1
}

/// A colour between two: `share` 0 gives the first, 1 the second.
pub fn mix(from: Color, to: Color, share: f32) -> Color {
    let between = |a: f32, b: f32| a + (b - a) * share;
    Color::from_rgba(between(from.r, to.r), between(from.g, to.g), between(from.b, to.b), between(from.a, to.a))
}

/// An enamel's swatch as a colour.
pub fn swatch(rgb: [u8; 3]) -> Color {
    let [red, green, blue] = rgb;
    Color::from_rgb8(red, green, blue)
}

/// Ink that reads on a surface of any colour, at least 4.5 to 1: warm ink or paper where they do, else black or white
/// (one of which always does: their contrasts multiply to 21).
pub fn ink_on(surface: Color) -> Color {
    let better = |dark: Color, light: Color| {
        if contrast(surface, dark) >= contrast(surface, light) { dark } else { light }
    };
    let warm = better(LIGHT.ink, LIGHT.sheet);
    if contrast(surface, warm) >= 4.5 { warm } else { better(Color::BLACK, Color::WHITE) }
}

/// Contrast of two opaque colours, 1 to 21 (WCAG 2.2, “contrast ratio”).
pub fn contrast(a: Color, b: Color) -> f32 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// Relative luminance, 0 to 1 (WCAG 2.2, “relative luminance”).
fn luminance(color: Color) -> f32 {
    let linear = |part: f32| if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) };
    0.2126 * linear(color.r) + 0.7152 * linear(color.g) + 0.0722 * linear(color.b)
}

/// Whether a thing is the chosen one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Chosen {
    /// It is.
    Yes,
    /// It is not.
    No,
}

impl From<bool> for Chosen {
    fn from(chosen: bool) -> Self {
        if chosen { Self::Yes } else { Self::No }
    }
}

fn bordered(color: Color, width: f32, radius: f32) -> Border {
    Border { color, width, radius: radius.into() }
}

/// Keeps the state of a `combo_box` at hand for screens that need more than `widget::choice`.
pub type Options<T> = combo_box::State<T>;

#[cfg(test)]
mod tests {
    use super::*;

    /// WCAG 2.2, 1.4.3: text needs 4.5 to 1; 1.4.11: edges that tell what a thing is need 3 to 1.
    #[test]
    fn every_text_of_both_looks_reads_on_every_surface_it_lies_on() {
        for colors in [&LIGHT, &DARK] {
            for surface in [colors.ground, colors.sheet] {
                for ink in [colors.ink, colors.quiet, colors.accent, colors.caution, colors.stop] {
                    assert!(contrast(ink, surface) >= 4.5, "{ink:?} on {surface:?}: {}", contrast(ink, surface));
                }
                assert!(
                    contrast(colors.edge, surface) >= 3.0,
                    "edge on {surface:?}: {}",
                    contrast(colors.edge, surface)
                );
            }
            for surface in [colors.chosen, colors.hover] {
                for ink in [colors.ink, colors.accent] {
                    assert!(contrast(ink, surface) >= 4.5, "{ink:?} on {surface:?}: {}", contrast(ink, surface));
                }
            }
            assert!(contrast(colors.quiet, colors.hover) >= 4.5, "{}", contrast(colors.quiet, colors.hover));
            assert!(contrast(colors.on_accent, colors.accent) >= 4.5);
            assert!(contrast(colors.on_stop, colors.stop) >= 4.5);
        }
    }

    #[test]
    fn ink_reads_on_every_heat_and_on_every_grey() {
        for celsius in (500_u16..1000).step_by(5) {
            let surface = heat(f32::from(celsius));
            assert!(contrast(ink_on(surface), surface) >= 4.5, "{celsius} °C: {}", contrast(ink_on(surface), surface));
        }
        for level in 0..=255 {
            let surface = swatch([level, level, level]);
            assert!(contrast(ink_on(surface), surface) >= 4.5, "{level}: {}", contrast(ink_on(surface), surface));
        }
    }

    #[test]
    fn a_hotter_firing_glows_brighter() {
        let mut before = 0.0;
        for celsius in (650_u16..=850).step_by(10) {
            let now = luminance(heat(f32::from(celsius)));
            assert!(now > before, "{celsius} °C");
            before = now;
        }
        assert_eq!(heat(400.0), heat(650.0));
        assert_eq!(heat(1200.0), heat(850.0));
    }

    /// WCAG 2.2 gives 21 for black on white and 1 for a colour on itself.
    #[test]
    fn contrast_has_the_ends_of_the_standard() {
        assert!((contrast(Color::BLACK, Color::WHITE) - 21.0).abs() < 1e-4);
        assert!((contrast(LIGHT.accent, LIGHT.accent) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_theme_knows_its_palette() {
        assert_eq!(palette(&theme(&LIGHT)), &LIGHT);
        assert_eq!(palette(&theme(&DARK)), &DARK);
    }
}
