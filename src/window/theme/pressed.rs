//! What can be pressed: buttons, links, rows, beads.

use super::{Chosen, Palette, RADIUS_SMALL, bordered, ink_on, mix, palette};
use iced::widget::button;
use iced::{Background, Border, Color, Theme};

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
