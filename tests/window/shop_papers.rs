//! The room of shop papers without a display: an invoice written by typing and pressing, what is wrong told at its
//! place, undo, the page that follows every letter, a certificate of a piece, the price list of a fair.

use crate::hands::{Filling, Window};
use crate::pdf_reader::{ReadPage, read};
use enamelwright::actions::Action;
use enamelwright::window::shortcut::{Command, RoomName};

/// A photo of one colour.
fn photo() -> Vec<u8> {
    let mut png = std::io::Cursor::new(Vec::new());
    let pixels = image::RgbImage::from_pixel(900, 900, image::Rgb([30, 90, 160]));
    pixels.write_to(&mut png, image::ImageFormat::Png).unwrap();
    png.into_inner()
}

/// A window on the shop papers of the demo studio; one of its designs has a photo.
fn opened() -> Window {
    let mut filling = Filling::new();
    let _ = filling.perform(Action::LoadDemo);
    let designs = filling.snapshot().designs;
    let id = designs.iter().find(|book| book.design.code.as_str() == "HARBOUR").unwrap().id;
    let _ = filling.perform(Action::SetPhoto { id, png: Some(photo()) });
    filling.opened_at(RoomName::ShopPapers)
}

/// Erases a field and types into it.
fn put(window: &mut Window, field: &str, letters: usize, text: &str) {
    for _ in 0..letters {
        window.erase(field);
    }
    window.type_at(field, text);
}

fn saved(window: &mut Window, name: &str) -> Vec<ReadPage> {
    window.press("Save as PDF");
    let bytes = std::fs::read(window.path(name)).unwrap_or_else(|error| panic!("{error}: {:?}", window.app.notices()));
    read(&bytes)
}

fn text(pages: &[ReadPage]) -> String {
    pages.iter().flat_map(|page| &page.texts).map(|(text, _)| text.as_str()).collect::<Vec<_>>().join("\n")
}

#[test]
fn what_went_out_is_listed_found_as_one_types_and_goes_out_again() {
    let mut window = opened();
    assert!(window.sees("6 papers went out") && window.sees("Invoice 3") && window.sees("Consignment note 1"));
    // By hand: 4 × 23 + 2 × 39 + 5.20 freight.
    assert!(window.sees("$175.20"));
    window.type_at("shop-find", "gannet");
    assert!(window.sees("2 of 6 papers") && !window.sees("Invoice 3"));
    window.type_at("shop-find", " cons");
    window.enter("shop-find");
    // 6 × 26 + 4 × 30 + 2 × 65 = 406; 40 % of it is 162.40; 243.60 is left.
    assert!(window.sees("As it went out") && window.reads("Gannet Loft Gallery · $243.60"));
    let pages = saved(&mut window, "consignment-1.pdf");
    assert!(text(&pages).contains("Consignment no. 1") && text(&pages).contains("−$162.40"), "{}", text(&pages));
    window.command(Command::Back);
    assert!(window.reads("of 6 papers"));
    window.command(Command::Back);
    assert_eq!(window.app.room(), Some(RoomName::Papers));
}

#[test]
fn an_invoice_is_written_under_the_next_number_and_undone() {
    let mut window = opened();
    window.command(Command::New);
    assert!(window.sees("A new invoice") && window.sees("Write invoice 4"));
    assert!(window.reads("ask a licensed professional"));
    // What is missing is told where it is missing, once it was tried.
    assert!(!window.reads("nobody is named"));
    window.command(Command::Accept);
    assert!(window.reads("nobody is named") && window.reads("the paper has no lines"));
    window.type_at("shop-recipient", "Tern Hut");
    assert!(!window.reads("nobody is named"));
    window.type_at("shop-add", "harb");
    window.enter("shop-add");
    assert!(!window.reads("the paper has no lines") && window.reads("ticket $"));
    put(&mut window, "shop-quantity-1", 1, "3");
    window.type_at("shop-price-1", "17.50");
    // By hand: 3 × 17.50 = 52.50, and 20 % on top 63.00.
    assert!(window.reads("$52.50") && window.reads("to pay"));
    window.type_at("shop-tax", "20%");
    window.type_at("shop-taxname", "VAT");
    assert!(window.reads("$63.00"));
    window.press("Write invoice 4");
    assert!(window.sees("Invoice 4") && window.sees("As it went out"), "{:?}", window.app.notices());
    assert!(window.reads("2026-10-14 · Tern Hut · $63.00"));
    let pages = saved(&mut window, "invoice-4.pdf");
    for said in ["Invoice no. 4", "Tern Hut", "HARBOUR", "plus VAT 20%", "$63.00"] {
        assert!(text(&pages).lines().any(|line| line == said), "{said}: {}", text(&pages));
    }
    assert_eq!(window.snapshot().undo.as_deref(), Some("Write invoice 4"));
    window.command(Command::Undo);
    assert!(window.sees("6 papers went out") && !window.sees("Invoice 4"));
    window.command(Command::New);
    assert!(window.sees("Write invoice 4"));
}

#[test]
fn what_cannot_be_read_is_told_at_its_field_and_writes_nothing() {
    let mut window = opened();
    window.command(Command::New);
    window.type_at("shop-recipient", "Tern Hut");
    window.type_at("shop-add", "zzz");
    assert!(window.reads("no design or piece is like \"zzz\""));
    window.press("In your own words");
    window.type_at("shop-price-1", "4o");
    assert!(window.reads("\"4o\""));
    // Ctrl+Z takes back what is typed before anything that was done.
    window.command(Command::Undo);
    assert!(!window.reads("\"4o\"") && window.sees("A new invoice"));
    window.type_at("shop-recipient", "Tern Hut");
    window.type_at("shop-price-1", "40");
    assert!(window.reads("$40.00"));
    put(&mut window, "shop-quantity-1", 1, "0");
    assert!(window.reads("100"), "a quantity of 0 says what is accepted");
    assert!(!window.reads("$40.00"));
    put(&mut window, "shop-quantity-1", 1, "1");
    window.type_at("shop-tax", "120%");
    assert!(window.reads("120%"));
    put(&mut window, "shop-tax", 4, "100%");
    assert!(window.reads("is the whole"));
    put(&mut window, "shop-tax", 4, "");
    window.type_at("shop-days", "99999");
    window.command(Command::Accept);
    assert!(window.sees("A new invoice") && window.sees("Write invoice 4"));
    put(&mut window, "shop-days", 5, "14");
    put(&mut window, "shop-date", 2, "32");
    assert!(window.reads("write the day as year-month-day"));
    put(&mut window, "shop-date", 2, "14");
    // A look elsewhere loses nothing, and neither does leaving the form.
    window.command(Command::Go(RoomName::Stock));
    window.command(Command::Go(RoomName::ShopPapers));
    assert!(window.sees("A new invoice") && window.reads("$40.00"));
    window.command(Command::Back);
    window.press("Go on writing");
    assert!(window.reads("$40.00"));
    window.command(Command::Accept);
    assert!(window.sees("Invoice 4") && window.reads("Tern Hut · $40.00"), "{:?}", window.app.notices());
}

#[test]
fn a_channel_brings_its_tickets_and_terms_and_a_recipient_is_taken_from_before() {
    let mut window = opened();
    window.command(Command::New);
    window.press("Consignment note");
    window.press("Gannet Loft Gallery");
    window.press("Gallery on consignment");
    window.type_at("shop-add", "buoy");
    window.enter("shop-add");
    // The demo studio's gallery keeps 40 %.
    assert!(window.sees("40%") || window.sees("40 %"), "the commission of the channel is filled in");
    window.command(Command::Accept);
    assert!(window.sees("Consignment note 2") && window.reads("Gannet Loft Gallery"), "{:?}", window.app.notices());
    let pages = saved(&mut window, "consignment-2.pdf");
    assert!(text(&pages).contains("Commission 40%") && text(&pages).contains("12 Mole Street"), "{}", text(&pages));
}

#[test]
fn a_certificate_of_a_piece_tells_what_is_known_of_it_and_shows_it() {
    let mut window = opened();
    window.command(Command::New);
    window.press("Certificate");
    assert!(!window.reads("ask a licensed professional"));
    window.type_at("shop-add", "harbour-0005");
    window.enter("shop-add");
    window.command(Command::Accept);
    assert!(window.sees("Certificate 2"), "{:?}", window.app.notices());
    let pages = saved(&mut window, "certificate-2.pdf");
    for said in ["Piece no. HARBOUR-0005", "Fired four times", "Batch 1"] {
        assert!(text(&pages).lines().any(|line| line == said), "{said}: {}", text(&pages));
    }
    // 72 mm at 300 dpi, rounded up.
    assert_eq!(pages[0].pictures.iter().map(|picture| picture.size).collect::<Vec<_>>(), [[851, 851]]);
}

#[test]
fn a_price_list_is_put_together_with_photos_or_outlines() {
    let mut window = opened();
    window.press("Price list for a fair");
    assert!(window.sees("Prices hold from") && window.reads("12 pieces"));
    window.press("None");
    assert!(window.reads("0 pieces") && window.reads("Nothing is on the list"));
    window.type_at("fair-find", "harb");
    window.press("All");
    assert!(window.reads("1 piece"));
    window.type_at("fair-tax", "sales tax");
    let pages = saved(&mut window, "price-list.pdf");
    assert!(text(&pages).contains("Prices include sales tax") && text(&pages).contains("HARBOUR"));
    assert_eq!(pages[0].pictures.len(), 1);
    window.press("Photos of designs that have one, else their outline");
    window.press("Save as PDF");
    window.press("Replace it");
    let pages = read(&std::fs::read(window.path("price-list.pdf")).unwrap());
    assert!(pages[0].pictures.is_empty());
    put(&mut window, "fair-date", 1, "x");
    assert!(window.reads("write the day as year-month-day"));
}

/// The part of the page at the right of the window as it is drawn.
fn page_of(window: &Window, name: &str) -> image::RgbImage {
    let folder = window.path("pictures");
    std::fs::create_dir_all(&folder).unwrap();
    window.draw(&folder, name, 800.0);
    let file = std::fs::read_dir(&folder).unwrap().map(Result::unwrap).map(|entry| entry.path());
    let file = file.into_iter().find(|path| path.to_str().unwrap().contains(name)).unwrap();
    let whole = image::open(file).unwrap().to_rgb8();
    let left = whole.width() * 3 / 5;
    image::imageops::crop_imm(&whole, left, 0, whole.width() - left, whole.height()).to_image()
}

#[test]
fn the_page_follows_every_letter() {
    let mut window = opened();
    window.command(Command::New);
    window.type_at("shop-add", "harb");
    window.enter("shop-add");
    let before = page_of(&window, "before");
    window.type_at("shop-recipient", "T");
    let after = page_of(&window, "after");
    assert!(before != after, "the page shows the name");
    window.erase("shop-recipient");
    assert!(page_of(&window, "again") == before, "the page is as it was");
}

#[test]
fn at_200_per_cent_the_room_is_one_column() {
    let mut window = opened();
    for _ in 0..12 {
        window.command(Command::Larger);
    }
    assert!(window.sees("Write a paper") && window.sees("Invoice 3"));
    window.command(Command::New);
    assert!(window.sees("A new invoice") && window.sees("Write invoice 4"));
}

/// Writes pictures of the pages into a folder, to be looked at.
#[test]
#[ignore = "writes pictures to look at into the folder named by ENAMELWRIGHT_PICTURES"]
fn pictures_of_shop_papers() {
    let mut window = opened();
    window.picture("shop-list-light");
    window.dark(true);
    window.picture("shop-list-dark");
    window.press("Save, look at or print it");
    window.picture("shop-paper-dark");
    window.dark(false);
    window.picture("shop-paper-light");
    window.command(Command::New);
    window.picture("shop-form-empty");
    window.press("Consignment note");
    window.press("Gannet Loft Gallery");
    window.type_at("shop-add", "harb");
    window.picture("shop-form-found");
    window.enter("shop-add");
    window.type_at("shop-add", "buoy");
    window.enter("shop-add");
    window.type_at("shop-price-2", "x");
    window.picture("shop-form-light");
    window.dark(true);
    window.picture("shop-form-dark");
    for _ in 0..12 {
        window.command(Command::Larger);
    }
    window.picture("shop-form-large");
    window.command(Command::Back);
    window.picture("shop-list-large");
    for _ in 0..12 {
        window.command(Command::Smaller);
    }
    window.dark(false);
    window.press("Price list for a fair");
    window.picture("shop-fair-light");
    window.dark(true);
    window.picture("shop-fair-dark");
}
