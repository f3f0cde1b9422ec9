//! How the window looks: two palettes, type sizes, the 8-pixel rhythm, and the style of every kind of surface.
//!
//! Style functions find their colours by asking the theme whether it is dark ([`palette()`]), so that a screen never
//! carries colours about. Everything that draws by hand (canvases) takes a [`Palette`] from the same place.

use iced::font::{Family, Weight};
use iced::theme::palette;
use iced::widget::{button, combo_box, container, overlay, rule, scrollable, text, text_editor, text_input};
use iced::{Background, Border, Color, Font, Theme};

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

// --- Surfaces ---------------------------------------------------------------------------------------------------

fn bordered(color: Color, width: f32, radius: f32) -> Border {
    Border { color, width, radius: radius.into() }
}

/// The page behind everything.
pub fn ground(theme: &Theme) -> container::Style {
    let colors = palette(theme);
    container::Style { text_color: Some(colors.ink), ..container::Style::default() }.background(colors.ground)
}

/// A panel: a plain sheet of paper with a hair line.
pub fn sheet(theme: &Theme) -> container::Style {
    let colors = palette(theme);
    container::Style {
        text_color: Some(colors.ink),
        background: Some(colors.sheet.into()),
        border: bordered(colors.line, 1.0, RADIUS),
        ..container::Style::default()
    }
}

/// A panel that asks for a look: a sheet with a caution edge.
pub fn sheet_caution(theme: &Theme) -> container::Style {
    container::Style { border: bordered(palette(theme).caution, 1.0, RADIUS), ..sheet(theme) }
}

/// A panel that says no: a sheet with a stop edge.
pub fn sheet_stop(theme: &Theme) -> container::Style {
    container::Style { border: bordered(palette(theme).stop, 1.0, RADIUS), ..sheet(theme) }
}

/// A strip across the page: the read-only banner.
pub fn banner(theme: &Theme) -> container::Style {
    let colors = palette(theme);
    container::Style {
        text_color: Some(colors.ink),
        background: Some(colors.hover.into()),
        border: bordered(colors.line, 1.0, 0.0),
        ..container::Style::default()
    }
}

/// A small word with an edge around it.
pub fn chip(theme: &Theme) -> container::Style {
    let colors = palette(theme);
    container::Style {
        text_color: Some(colors.quiet),
        background: Some(colors.ground.into()),
        border: bordered(colors.line, 1.0, 12.0),
        ..container::Style::default()
    }
}

/// A price tag's card.
pub fn tag(theme: &Theme) -> container::Style {
    let colors = palette(theme);
    container::Style {
        text_color: Some(colors.ink),
        background: Some(colors.sheet.into()),
        border: bordered(colors.line, 1.0, RADIUS_SMALL),
        ..container::Style::default()
    }
}

/// A filled surface of any colour, with ink that reads on it: a step of a route, a heat chip.
pub fn filled(color: Color) -> impl Fn(&Theme) -> container::Style {
    move |_| container::Style {
        text_color: Some(ink_on(color)),
        background: Some(color.into()),
        border: bordered(Color::TRANSPARENT, 0.0, 4.0),
        ..container::Style::default()
    }
}

/// A field of several lines.
pub fn editor(theme: &Theme, status: text_editor::Status) -> text_editor::Style {
    let colors = palette(theme);
    let (edge, width) = match status {
        text_editor::Status::Focused { .. } => (colors.accent, 2.0),
        text_editor::Status::Hovered => (colors.quiet, 1.0),
        _ => (colors.edge, 1.0),
    };
    text_editor::Style {
        background: colors.sheet.into(),
        border: bordered(edge, width, RADIUS_SMALL),
        placeholder: colors.quiet,
        value: colors.ink,
        selection: colors.chosen,
    }
}

/// What lies over the page under a modal.
pub fn veil(theme: &Theme) -> container::Style {
    let dark = palette(theme).dark;
    container::Style::default().background(Color { a: if dark { 0.6 } else { 0.4 }, ..Color::BLACK })
}

/// A toast: the inverse of the page, so that it stands out without colour.
pub fn toast(theme: &Theme) -> container::Style {
    let colors = palette(theme);
    container::Style {
        text_color: Some(colors.ground),
        background: Some(colors.ink.into()),
        border: bordered(Color::TRANSPARENT, 0.0, RADIUS),
        ..container::Style::default()
    }
}

/// A hair line between parts of a panel.
pub fn hairline(theme: &Theme) -> rule::Style {
    rule::Style { color: palette(theme).line, radius: 0.0.into(), fill_mode: rule::FillMode::Full, snap: true }
}

// --- Text -------------------------------------------------------------------------------------------------------

/// Text that stands back.
pub fn quiet(theme: &Theme) -> text::Style {
    text::Style { color: Some(palette(theme).quiet) }
}

/// Text in the accent colour.
pub fn accent(theme: &Theme) -> text::Style {
    text::Style { color: Some(palette(theme).accent) }
}

/// Text in the caution colour.
pub fn caution(theme: &Theme) -> text::Style {
    text::Style { color: Some(palette(theme).caution) }
}

/// Text in the stop colour.
pub fn stop(theme: &Theme) -> text::Style {
    text::Style { color: Some(palette(theme).stop) }
}

// --- What can be pressed ----------------------------------------------------------------------------------------

/// How a thing that can be pressed looks in one state.
pub type PressStyle = button::Style;

fn press(background: Option<Color>, ink: Color, border: Border) -> button::Style {
    button::Style { background: background.map(Background::Color), text_color: ink, border, ..button::Style::default() }
}

fn faded(colors: &Palette) -> button::Style {
    press(Some(colors.hover), colors.quiet, bordered(colors.line, 1.0, RADIUS_SMALL))
}

/// The one thing to do on a page.
pub fn primary(theme: &Theme, status: button::Status) -> button::Style {
    let colors = palette(theme);
    let fill = match status {
        button::Status::Active => colors.accent,
        button::Status::Hovered => mix(colors.accent, colors.ink, 0.12),
        button::Status::Pressed => mix(colors.accent, colors.ink, 0.25),
        button::Status::Disabled => return faded(colors),
    };
    press(Some(fill), colors.on_accent, bordered(fill, 1.0, RADIUS_SMALL))
}

/// Anything else that can be done.
pub fn quiet_button(theme: &Theme, status: button::Status) -> button::Style {
    let colors = palette(theme);
    let fill = match status {
        button::Status::Active => colors.sheet,
        button::Status::Hovered => colors.hover,
        button::Status::Pressed => colors.chosen,
        button::Status::Disabled => return faded(colors),
    };
    press(Some(fill), colors.accent, bordered(colors.edge, 1.0, RADIUS_SMALL))
}

/// What takes something away.
pub fn danger(theme: &Theme, status: button::Status) -> button::Style {
    let colors = palette(theme);
    let fill = match status {
        button::Status::Active => colors.stop,
        button::Status::Hovered => mix(colors.stop, colors.ink, 0.12),
        button::Status::Pressed => mix(colors.stop, colors.ink, 0.25),
        button::Status::Disabled => return faded(colors),
    };
    press(Some(fill), colors.on_stop, bordered(fill, 1.0, RADIUS_SMALL))
}

/// A word that can be pressed.
pub fn link(theme: &Theme, status: button::Status) -> button::Style {
    let colors = palette(theme);
    let fill = match status {
        button::Status::Active | button::Status::Disabled => None,
        button::Status::Hovered => Some(colors.hover),
        button::Status::Pressed => Some(colors.chosen),
    };
    let ink = if status == button::Status::Disabled { colors.quiet } else { colors.accent };
    press(fill, ink, bordered(Color::TRANSPARENT, 0.0, RADIUS_SMALL))
}

/// A word that can be pressed, on a toast.
pub fn toast_button(theme: &Theme, status: button::Status) -> button::Style {
    let colors = palette(theme);
    let fill = match status {
        button::Status::Hovered => Some(mix(colors.ink, colors.ground, 0.15)),
        button::Status::Pressed => Some(mix(colors.ink, colors.ground, 0.25)),
        button::Status::Active | button::Status::Disabled => None,
    };
    press(fill, colors.ground, bordered(mix(colors.ink, colors.ground, 0.45), 1.0, RADIUS_SMALL))
}

/// A bead of the wire with its name.
pub fn bead(chosen: Chosen) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |theme, status| {
        let colors = palette(theme);
        let fill = match status {
            button::Status::Hovered => Some(colors.hover),
            button::Status::Pressed => Some(colors.chosen),
            button::Status::Active | button::Status::Disabled => None,
        };
        let ink = if chosen == Chosen::Yes { colors.ink } else { colors.quiet };
        press(fill, ink, bordered(Color::TRANSPARENT, 0.0, RADIUS_SMALL))
    }
}

/// A row of a list.
pub fn row(chosen: Chosen) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |theme, status| {
        let colors = palette(theme);
        let fill = match (chosen, status) {
            (Chosen::Yes, _) | (_, button::Status::Pressed) => Some(colors.chosen),
            (Chosen::No, button::Status::Hovered) => Some(colors.hover),
            (Chosen::No, _) => None,
        };
        press(fill, colors.ink, bordered(Color::TRANSPARENT, 0.0, 3.0))
    }
}

/// A surface whose look is drawn below it: only the ring of the focus is its own.
pub fn bare(theme: &Theme, _status: button::Status) -> button::Style {
    press(None, palette(theme).ink, bordered(Color::TRANSPARENT, 0.0, RADIUS_SMALL))
}

/// One of a few choices beside each other.
pub fn choice(chosen: Chosen) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |theme, status| match chosen {
        Chosen::Yes => {
            let colors = palette(theme);
            press(Some(colors.chosen), colors.ink, bordered(colors.accent, 2.0, RADIUS_SMALL))
        }
        Chosen::No => quiet_choice(theme, status),
    }
}

fn quiet_choice(theme: &Theme, status: button::Status) -> button::Style {
    let ink = palette(theme).ink;
    let style = quiet_button(theme, status);
    if status == button::Status::Disabled { style } else { button::Style { text_color: ink, ..style } }
}

/// A filled surface that can be pressed: a step of a route.
pub fn filled_button(color: Color, chosen: Chosen) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |theme, status| {
        let fill = match status {
            button::Status::Hovered => mix(color, ink_on(color), 0.08),
            button::Status::Pressed => mix(color, ink_on(color), 0.16),
            button::Status::Active | button::Status::Disabled => color,
        };
        let edge = match chosen {
            Chosen::Yes => bordered(palette(theme).ink, 2.0, 4.0),
            Chosen::No => bordered(Color::TRANSPARENT, 0.0, 4.0),
        };
        press(Some(fill), ink_on(color), edge)
    }
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

// --- Fields and lists -------------------------------------------------------------------------------------------

/// A field to type in.
pub fn input(theme: &Theme, status: text_input::Status) -> text_input::Style {
    let colors = palette(theme);
    let (edge, width) = match status {
        text_input::Status::Active => (colors.edge, 1.0),
        text_input::Status::Hovered => (colors.quiet, 1.0),
        text_input::Status::Focused { .. } => (colors.accent, 2.0),
        text_input::Status::Disabled => (colors.line, 1.0),
    };
    let disabled = status == text_input::Status::Disabled;
    text_input::Style {
        background: Background::Color(if disabled { colors.ground } else { colors.sheet }),
        border: bordered(edge, width, RADIUS_SMALL),
        icon: colors.quiet,
        placeholder: mix(colors.quiet, colors.sheet, 0.15),
        value: if disabled { colors.quiet } else { colors.ink },
        selection: colors.chosen,
    }
}

/// A field that holds something that cannot be accepted.
pub fn input_wrong(theme: &Theme, status: text_input::Status) -> text_input::Style {
    let style = input(theme, status);
    let width = if matches!(status, text_input::Status::Focused { .. }) { 2.0 } else { 1.0 };
    text_input::Style { border: bordered(palette(theme).stop, width, RADIUS_SMALL), ..style }
}

/// The list that drops from a `combo_box`.
pub fn menu(theme: &Theme) -> overlay::menu::Style {
    let colors = palette(theme);
    overlay::menu::Style {
        background: Background::Color(colors.sheet),
        border: bordered(colors.edge, 1.0, RADIUS_SMALL),
        text_color: colors.ink,
        selected_text_color: colors.ink,
        selected_background: Background::Color(colors.chosen),
        shadow: iced::Shadow::default(),
    }
}

/// The bars of a list that scrolls.
pub fn scroll(theme: &Theme, status: scrollable::Status) -> scrollable::Style {
    let colors = palette(theme);
    let active = match status {
        scrollable::Status::Active { .. } => colors.edge,
        scrollable::Status::Hovered { .. } => colors.quiet,
        scrollable::Status::Dragged { .. } => colors.accent,
    };
    let rail = scrollable::Rail {
        background: None,
        border: bordered(Color::TRANSPARENT, 0.0, 4.0),
        scroller: scrollable::Scroller {
            background: Background::Color(active),
            border: bordered(Color::TRANSPARENT, 0.0, 4.0),
        },
    };
    scrollable::Style {
        container: container::Style::default(),
        vertical_rail: rail,
        horizontal_rail: rail,
        gap: None,
        auto_scroll: scrollable::AutoScroll {
            background: Background::Color(colors.sheet),
            border: bordered(colors.edge, 1.0, 12.0),
            shadow: iced::Shadow::default(),
            icon: colors.ink,
        },
    }
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
