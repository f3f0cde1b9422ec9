//! Surfaces: the page, panels, tags, toasts.

use super::{RADIUS, RADIUS_SMALL, bordered, ink_on, palette};
use iced::widget::{container, rule};
use iced::{Color, Theme};

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
