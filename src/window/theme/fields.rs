//! Fields to type in, lists that drop and scroll.

use super::{RADIUS_SMALL, bordered, mix, palette};
use iced::widget::{container, overlay, scrollable, text_editor, text_input};
use iced::{Background, Color, Theme};

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
