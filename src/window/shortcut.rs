//! Keys that mean something anywhere in the window; one table for the program and for its help.
//!
//! Function keys and Ctrl with a letter only: a focused field takes any other character for text, whatever modifiers
//! are held. Ctrl with A, C, V and X belongs to the field.

use super::screen::Destination;
use iced::keyboard::key::Named;
use iced::keyboard::{self, Key};

/// What a key asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Command {
    /// Go to a room.
    Go(RoomName),
    /// Open the find box.
    Find,
    /// Something new in this room: an item, a design.
    New,
    /// Accept, save what is on the page.
    Accept,
    /// Go back: close what is open, leave what is being edited.
    Back,
    /// Revert the field being typed in; else undo the last action.
    Undo,
    /// Redo the last undone action.
    Redo,
    /// The table of keys.
    Help,
    /// Larger text.
    Larger,
    /// Smaller text.
    Smaller,
    /// The focus to the next thing.
    Next,
    /// The focus to the thing before.
    Previous,
    /// Close the window.
    Quit,
}

/// The rooms, in the order a piece travels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RoomName {
    /// Today.
    Bench,
    /// What is on the shelf.
    Stock,
    /// What is made.
    Designs,
    /// What is being made.
    Batches,
    /// What is fired.
    Kiln,
    /// What is finished.
    Pieces,
    /// What it is sold for.
    Prices,
    /// What is printed.
    Papers,
    /// What time, heat and channels cost.
    Rates,
    /// Units, currency, book.
    Setup,
    /// What is ordered and what came of it. Under Stock.
    Orders,
    /// Jars on the scale. Under Stock.
    Weighing,
    /// Shelves counted. Under Stock.
    Counting,
    /// Blanks from a sheet. Under Stock.
    Cutting,
    /// What runs out, and what to buy. Under Stock.
    Buying,
    /// Files in, lists out. Under Stock.
    Carrying,
    /// A kiln day planned. Under Kiln.
    KilnPlan,
    /// Kilns, their figures and their days. Under Kiln.
    Kilns,
    /// Test tiles. Under Kiln.
    Tiles,
    /// Papers of her own design. Under Papers.
    PaperDesigns,
    /// Papers that go out under a number, and price lists. Under Papers.
    ShopPapers,
    /// Her own words on papers. Under Papers.
    Wording,
    /// Printers and the calibration page. Under Papers.
    Printers,
}

impl RoomName {
    /// The rooms that have a bead, in the order of the wire.
    pub const BEADS: [Self; 10] = [
        Self::Bench,
        Self::Stock,
        Self::Designs,
        Self::Batches,
        Self::Kiln,
        Self::Pieces,
        Self::Prices,
        Self::Papers,
        Self::Rates,
        Self::Setup,
    ];

    /// The rooms one enters through Stock, in the order they are offered there.
    pub const UNDER_STOCK: [Self; 6] =
        [Self::Orders, Self::Weighing, Self::Counting, Self::Cutting, Self::Buying, Self::Carrying];

    /// The rooms one enters through Kiln, in the order they are offered there.
    pub const UNDER_KILN: [Self; 3] = [Self::KilnPlan, Self::Kilns, Self::Tiles];

    /// The rooms one enters through Papers, in the order they are offered there.
    pub const UNDER_PAPERS: [Self; 4] = [Self::PaperDesigns, Self::ShopPapers, Self::Wording, Self::Printers];

    /// Every room.
    pub const ALL: [Self; 23] = [
        Self::Bench,
        Self::Stock,
        Self::Designs,
        Self::Batches,
        Self::Kiln,
        Self::Pieces,
        Self::Prices,
        Self::Papers,
        Self::Rates,
        Self::Setup,
        Self::Orders,
        Self::Weighing,
        Self::Counting,
        Self::Cutting,
        Self::Buying,
        Self::Carrying,
        Self::KilnPlan,
        Self::Kilns,
        Self::Tiles,
        Self::PaperDesigns,
        Self::ShopPapers,
        Self::Wording,
        Self::Printers,
    ];

    /// The bead that is filled while the room is on screen.
    #[must_use]
    pub const fn bead(self) -> Self {
        match self {
            Self::Orders | Self::Weighing | Self::Counting | Self::Cutting | Self::Buying | Self::Carrying => {
                Self::Stock
            }
            Self::KilnPlan | Self::Kilns | Self::Tiles => Self::Kiln,
            Self::PaperDesigns | Self::ShopPapers | Self::Wording | Self::Printers => Self::Papers,
            own => own,
        }
    }

    /// Its name on the wire.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Bench => "Bench",
            Self::Stock => "Stock",
            Self::Designs => "Designs",
            Self::Batches => "Batches",
            Self::Kiln => "Kiln",
            Self::Pieces => "Pieces",
            Self::Prices => "Prices",
            Self::Papers => "Papers",
            Self::Rates => "Rates",
            Self::Setup => "Setup",
            Self::Orders => "Orders",
            Self::Weighing => "Weigh in",
            Self::Counting => "Count",
            Self::Cutting => "Cut blanks",
            Self::Buying => "Running out",
            Self::Carrying => "In and out",
            Self::KilnPlan => "Plan a day",
            Self::Kilns => "Kilns",
            Self::Tiles => "Test tiles",
            Self::PaperDesigns => "Paper designs",
            Self::ShopPapers => "Shop papers",
            Self::Wording => "Wording",
            Self::Printers => "Printers",
        }
    }

    /// Its page.
    pub const fn destination(self) -> Destination {
        match self {
            Self::Bench => Destination::Bench,
            Self::Stock => Destination::Stock,
            Self::Designs => Destination::Designs,
            Self::Batches => Destination::Batches,
            Self::Kiln => Destination::Kiln,
            Self::Pieces => Destination::Pieces,
            Self::Prices => Destination::Prices,
            Self::Papers => Destination::Papers,
            Self::Rates => Destination::Rates,
            Self::Setup => Destination::Setup,
            Self::Orders => Destination::Orders,
            Self::Weighing => Destination::Weighing,
            Self::Counting => Destination::Counting,
            Self::Cutting => Destination::Cutting,
            Self::Buying => Destination::Buying,
            Self::Carrying => Destination::Carrying,
            Self::KilnPlan => Destination::KilnPlan,
            Self::Kilns => Destination::Kilns,
            Self::Tiles => Destination::Tiles,
            Self::PaperDesigns => Destination::PaperDesigns,
            Self::ShopPapers => Destination::ShopPapers,
            Self::Wording => Destination::Wording,
            Self::Printers => Destination::Printers,
        }
    }

    /// Its key; empty for a room without a bead.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Bench => "F2",
            Self::Stock => "F3",
            Self::Designs => "F4",
            Self::Batches => "F5",
            Self::Kiln => "F6",
            Self::Pieces => "F7",
            Self::Prices => "F8",
            Self::Papers => "F9",
            Self::Rates => "F10",
            Self::Setup => "Ctrl+U",
            Self::Orders
            | Self::Weighing
            | Self::Counting
            | Self::Cutting
            | Self::Buying
            | Self::Carrying
            | Self::KilnPlan
            | Self::Kilns
            | Self::Tiles
            | Self::PaperDesigns
            | Self::ShopPapers
            | Self::Wording
            | Self::Printers => "",
        }
    }
}

/// What a key press asks for, if anything.
pub fn from_event(event: &keyboard::Event) -> Option<Command> {
    let keyboard::Event::KeyPressed { key, physical_key, modifiers, repeat, .. } = event else { return None };
    if let Key::Named(named) = key {
        if *named == Named::Tab && !modifiers.command() && !modifiers.alt() {
            return Some(if modifiers.shift() { Command::Previous } else { Command::Next });
        }
        if *repeat || modifiers.command() || modifiers.alt() || modifiers.shift() {
            return None;
        }
        return match named {
            Named::F1 => Some(Command::Help),
            Named::F2 => Some(Command::Go(RoomName::Bench)),
            Named::F3 => Some(Command::Go(RoomName::Stock)),
            Named::F4 => Some(Command::Go(RoomName::Designs)),
            Named::F5 => Some(Command::Go(RoomName::Batches)),
            Named::F6 => Some(Command::Go(RoomName::Kiln)),
            Named::F7 => Some(Command::Go(RoomName::Pieces)),
            Named::F8 => Some(Command::Go(RoomName::Prices)),
            Named::F9 => Some(Command::Go(RoomName::Papers)),
            Named::F10 => Some(Command::Go(RoomName::Rates)),
            Named::F11 => Some(Command::Smaller),
            Named::F12 => Some(Command::Larger),
            Named::Escape => Some(Command::Back),
            _ => None,
        };
    }
    if !modifiers.command() || modifiers.alt() || *repeat {
        return None;
    }
    match (key.to_latin(*physical_key)?.to_ascii_lowercase(), modifiers.shift()) {
        ('g', false) => Some(Command::Find),
        ('n', false) => Some(Command::New),
        ('s', false) => Some(Command::Accept),
        ('u', false) => Some(Command::Go(RoomName::Setup)),
        ('z', false) => Some(Command::Undo),
        ('z', true) | ('y', false) => Some(Command::Redo),
        ('q', false) => Some(Command::Quit),
        _ => None,
    }
}

/// The table of keys for the help page: key, what it does.
pub fn table() -> Vec<(&'static str, String)> {
    let mut rows = vec![("F1", "This table".to_owned())];
    rows.extend(RoomName::BEADS.into_iter().map(|room| (room.key(), format!("Go to {}", room.words()))));
    rows.extend(
        [
            ("Ctrl+G", "Find a design, an item, a page"),
            ("Ctrl+N", "New: an item, a design, whatever the room is for"),
            ("Ctrl+S", "Accept what is on the page"),
            ("Esc", "Go back; close what is open"),
            ("Ctrl+Z", "Revert the field being typed in, then undo the last action"),
            ("Ctrl+Shift+Z", "Redo the action undone last (Ctrl+Y too)"),
            ("Tab, Shift+Tab", "The next field or button, the one before"),
            ("Enter, Space", "Press the button that has the focus"),
            ("Arrows, Page Up, Page Down, Home, End", "Move in a list; Enter opens the row"),
            ("F11, F12", "Smaller text, larger text"),
            ("Ctrl+Q", "Close the window"),
        ]
        .map(|(key, words)| (key, words.to_owned())),
    );
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use iced::keyboard::key::{Code, Physical};
    use iced::keyboard::{Location, Modifiers};

    fn pressed(key: Key, modifiers: Modifiers) -> keyboard::Event {
        keyboard::Event::KeyPressed {
            modified_key: key.clone(),
            key,
            physical_key: Physical::Code(Code::F35),
            location: Location::Standard,
            modifiers,
            text: None,
            repeat: false,
        }
    }

    #[test]
    fn keys_mean_what_the_table_says() {
        let letter = |letter: &str| Key::Character(letter.into());
        let cases = [
            (Key::Named(Named::F4), Modifiers::empty(), Some(Command::Go(RoomName::Designs))),
            (letter("g"), Modifiers::COMMAND, Some(Command::Find)),
            (letter("z"), Modifiers::COMMAND, Some(Command::Undo)),
            (letter("Z"), Modifiers::COMMAND | Modifiers::SHIFT, Some(Command::Redo)),
            (letter("y"), Modifiers::COMMAND, Some(Command::Redo)),
            (letter("g"), Modifiers::empty(), None),
            (letter("a"), Modifiers::COMMAND, None),
            (Key::Named(Named::Tab), Modifiers::SHIFT, Some(Command::Previous)),
            (Key::Named(Named::Escape), Modifiers::empty(), Some(Command::Back)),
        ];
        for (key, modifiers, meaning) in cases {
            assert_eq!(from_event(&pressed(key.clone(), modifiers)), meaning, "{key:?} {modifiers:?}");
        }
    }

    #[test]
    fn every_room_has_its_own_key_in_the_table() {
        let table = table();
        for room in RoomName::BEADS {
            assert_eq!(table.iter().filter(|(key, _)| *key == room.key()).count(), 1, "{room:?}");
        }
    }
}
