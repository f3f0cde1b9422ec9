//! What all rooms see and none of them owns.

use super::clock::Clock;
use super::machine::Machine;
use super::theme::Palette;
use crate::book::Snapshot;
use crate::measure::Preferences;
use crate::studio::Settings;
use chrono::NaiveDate;
use iced::Size;
use std::path::PathBuf;
use std::sync::Arc;

/// Passed to every room by reference.
#[derive(Debug, Clone)]
pub struct Shared {
    /// The book as it is now.
    pub snapshot: Arc<Snapshot>,
    /// Where the book lies.
    pub path: PathBuf,
    /// The day, local time.
    pub today: NaiveDate,
    /// The time of day, where something is done at a moment: asked in `update`, never in `view`.
    pub clock: Clock,
    /// Units, currency and decimal mark for all that is parsed and displayed.
    pub preferences: Preferences,
    /// Look and text size of this machine.
    pub machine: Machine,
    /// Colours for what is drawn by hand.
    pub palette: &'static Palette,
    /// The window's size as the page counts it: half of 1280 × 800 at 200 % text. A page lays itself out in one column
    /// where it is narrow: see [`Shared::is_narrow`].
    pub size: Size,
}

impl Shared {
    /// The book's settings.
    pub fn settings(&self) -> &Settings {
        &self.snapshot.settings
    }

    /// The book may only be looked at: show what can be pressed to change it as disabled.
    pub fn read_only(&self) -> bool {
        self.snapshot.read_only
    }

    /// Too narrow for panels beside each other (text at 200 %, or a small window).
    pub fn is_narrow(&self) -> bool {
        self.size.width < 760.0
    }

    /// Text size, 1.0 to 2.0.
    pub fn scale(&self) -> f32 {
        self.machine.scale()
    }
}
