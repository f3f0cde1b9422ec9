//! Test tiles without a display: one written down by typing, found by words and by the nearest colour, begun from a load.

use super::hands::{Filling, Window, decimal};
use super::kiln::clock;
use chrono::NaiveDate;
use enamelwright::actions::{Action, Added};
use enamelwright::measure::Unit;
use enamelwright::studio::{Buying, EnamelKind, Item, ItemDetails, ItemId, Metal, TestTile, Verdict};
use enamelwright::window::app::Message;
use enamelwright::window::shortcut::{Command, RoomName};

fn enamel(filling: &mut Filling, name: &str, swatch: [u8; 3]) -> ItemId {
    let item = Item {
        reference: name.to_uppercase().replace(' ', "-"),
        name: name.to_owned(),
        unit: Unit::Gram,
        details: ItemDetails::Enamel {
            enamel: EnamelKind::Opaque,
            swatch,
            mesh: "80".to_owned(),
            fusing: None,
            firing_c: None,
        },
        maker: String::new(),
        maker_number: String::new(),
        supplier: String::new(),
        shelf: String::new(),
        note: String::new(),
        reorder_level: None,
        lead_bearing: false,
        retired: false,
        buying: Buying::default(),
    };
    let Some(Added::Item(id)) = filling.perform(Action::SaveItem { id: None, item }) else { panic!("no item") };
    id
}

fn tile(layers: Vec<ItemId>, colour: Option<[u8; 3]>, words: &str, verdict: Verdict) -> TestTile {
    TestTile {
        date: NaiveDate::from_ymd_opt(2026, 10, 1).unwrap(),
        metal: Metal::Copper,
        layers,
        celsius: decimal("780"),
        minutes: decimal("2.5"),
        firings: 2,
        verdict,
        colour_words: words.to_owned(),
        colour,
        note: String::new(),
        load: None,
        retired: false,
    }
}

fn notebook() -> Window {
    let mut filling = Filling::new();
    let green = enamel(&mut filling, "Fen green", [48, 120, 72]);
    let rose = enamel(&mut filling, "Old rose", [214, 130, 150]);
    let white = enamel(&mut filling, "Chalk white", [244, 240, 230]);
    for tile in [
        tile(vec![white, green], None, "deep bottle green", Verdict::Use),
        tile(vec![white, rose], None, "pale, a little chalky", Verdict::TryAgain),
        tile(vec![rose, green], Some([150, 40, 30]), "burnt red", Verdict::Leave),
    ] {
        filling.perform(Action::SaveTile { id: None, tile });
    }
    filling.opened_by(RoomName::Tiles, clock())
}

#[test]
fn tiles_are_found_by_words_and_by_the_nearest_colour() {
    let mut window = notebook();
    assert!(window.sees("3 in the notebook"), "{:?}", window.app.notices());
    window.type_at("tiles-find", "bottle");
    assert!(window.sees("1 of 3 in the notebook") && window.sees("Chalk white, Fen green on copper"));
    window.type_at("tiles-find", "xx");
    assert!(window.reads("No tile is like that"));
    for _ in 0.."bottlexx".len() {
        window.erase("tiles-find");
    }
    window.press("red");
    // All are shown; the burnt red one stands first and is taken by its place.
    assert!(window.sees("3 in the notebook"));
    window.type_at("tiles-near", "zz");
    assert!(window.reads("is not a colour"));
}

#[test]
fn a_tile_is_written_down_by_typing_and_changed() {
    let mut window = notebook();
    window.command(Command::New);
    window.command(Command::Accept);
    assert!(window.reads("New") || window.sees("A new test tile"));
    window.type_at("tile-heat", "1436 F");
    window.type_at("tile-minutes", "2:15");
    window.command(Command::Accept);
    assert!(window.reads("No layer is named"));
    window.command(Command::Back);
    window.press("Old rose, Fen green on copper");
    assert!(window.sees("In hand") && window.sees("burnt red"));
    window.press("Change it");
    window.press("use it");
    window.command(Command::Accept);
    let tiles = &window.snapshot().tiles;
    assert_eq!(tiles.iter().filter(|tile| tile.tile.verdict == Verdict::Use).count(), 2, "{:?}", window.app.notices());
    window.press("Set aside");
    assert!(window.reads("2 of 3 in the notebook"));
}

/// Writes pictures of the pages into a folder, to be looked at.
#[test]
#[ignore = "writes pictures to look at into the folder named by ENAMELWRIGHT_PICTURES"]
fn pictures_of_tiles() {
    let mut window = notebook();
    window.picture("tiles-light");
    window.press("Old rose, Fen green on copper");
    window.send(Message::System(iced::theme::Mode::Dark));
    window.picture("tiles-dark");
    for _ in 0..10 {
        window.command(Command::Larger);
    }
    window.picture("tiles-large");
    for _ in 0..10 {
        window.command(Command::Smaller);
    }
    window.send(Message::System(iced::theme::Mode::Light));
    window.press("Change it");
    window.picture("tiles-form-light");
}
