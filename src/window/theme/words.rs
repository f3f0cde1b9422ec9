//! Text by what it means.

use super::palette;
use iced::Theme;
use iced::widget::text;

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
