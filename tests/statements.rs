//! Order forms, invoices, consignment notes, certificates, price lists of fairs and tags that are out of date: asked for as
//! a person does on the command line, the PDFs read back with a reader that shares no code with the writer.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "the helpers of a test may stop it"
)]

mod pdf_reader;

use enamelwright::actions::{self, ActionKey, Order};
use enamelwright::book::{Access, Book};
use enamelwright::command::run;
use enamelwright::paper::cards::PaperSize;
use enamelwright::paper::page::{Document, Item, MM_PER_POINT};
use enamelwright::paper::pdf::{self, Properties};
use enamelwright::paper::statement::{self, Statement, StatementLine, SumLine, Table};
use enamelwright::paper::warning::Part;
use enamelwright::paper::{PaperProblem, Shaper, WarningKind};
use enamelwright::studio::Language;
use pdf_reader::{ReadPage, read};
use proptest::prelude::*;
use serde_json::Value;
use std::ffi::OsString;
use std::path::PathBuf;
use tempfile::TempDir;

/// Points of a page of A4 and of 8.5 by 11 in (ISO 216: 210 by 297 mm; from memory).
const A4_PT: [f64; 2] = [210.0 / MM_PER_POINT, 297.0 / MM_PER_POINT];
const LETTER_PT: [f64; 2] = [612.0, 792.0];

/// The demo studio's book in a folder of its own.
struct Studio {
    folder: TempDir,
}

impl Studio {
    fn new() -> Self {
        let studio = Self { folder: tempfile::tempdir().unwrap() };
        studio.done(&["demo"]);
        studio
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn file(&self, name: &str) -> String {
        self.path(name).to_str().unwrap().to_owned()
    }

    /// What stands on standard output and standard error, and whether the exit status was 0.
    fn run(&self, words: &[&str]) -> (String, String, bool) {
        let now = chrono::NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap();
        let (mut out, mut errors) = (Vec::new(), Vec::new());
        let book = self.path("studio.studiobook");
        let start = ["enamelwright".into(), "--book".into(), book.into_os_string()];
        let all = start.into_iter().chain(words.iter().map(OsString::from));
        let status = run(all, now, |_| Ok(()), &mut out, &mut errors);
        let done = format!("{status:?}") == format!("{:?}", std::process::ExitCode::SUCCESS);
        (String::from_utf8(out).unwrap(), String::from_utf8(errors).unwrap(), done)
    }

    #[track_caller]
    fn done(&self, words: &[&str]) -> String {
        let (out, errors, done) = self.run(words);
        assert!(done, "{words:?}: {errors}");
        out
    }

    #[track_caller]
    fn refused(&self, words: &[&str]) -> String {
        let (out, errors, done) = self.run(words);
        assert!(!done && out.is_empty() && !errors.is_empty(), "{words:?}: {out}{errors}");
        errors
    }

    #[track_caller]
    fn json(&self, words: &[&str]) -> Value {
        let out = self.done(&[words, &["--format", "json"]].concat());
        serde_json::from_str(&out).unwrap_or_else(|error| panic!("{error}: {out}"))
    }

    /// Prints a paper and reads it back; the PDF is kept where `ENAMELWRIGHT_PICTURES` says.
    #[track_caller]
    fn printed(&self, words: &[&str], name: &str) -> (Vec<ReadPage>, Vec<u8>) {
        let out = self.file(name);
        self.done(&[words, &["--out", out.as_str()]].concat());
        let bytes = std::fs::read(out).unwrap();
        keep(&bytes, name);
        (read(&bytes), bytes)
    }
}

fn keep(bytes: &[u8], name: &str) {
    if let Some(folder) = std::env::var_os("ENAMELWRIGHT_PICTURES") {
        std::fs::write(std::path::Path::new(&folder).join(name), bytes).unwrap();
    }
}

fn text(pages: &[ReadPage]) -> String {
    pages.iter().flat_map(|page| &page.texts).map(|(text, _)| text.as_str()).collect::<Vec<_>>().join("\n")
}

#[track_caller]
fn says(pages: &[ReadPage], wanted: &[&str]) {
    let text = text(pages);
    for line in wanted {
        assert!(text.lines().any(|said| said == *line), "{line:?} in {text}");
    }
}

#[track_caller]
fn sized(pages: &[ReadPage], [width, height]: [f64; 2]) {
    for page in pages {
        let [wide, high] = page.size_pt;
        assert!((wide - width).abs() < 0.01 && (high - height).abs() < 0.01, "{:?}", page.size_pt);
    }
}

const GALLERY: &str = "Skerry Gallery; 12 Mole Street; Lower Orrin";

#[test]
fn an_invoice_says_who_what_and_how_much_and_is_the_same_each_time() {
    let studio = Studio::new();
    let words = [
        "print",
        "invoice",
        "--to",
        GALLERY,
        "--line",
        "HARBOUR:3@17.50",
        "--line",
        "MOONPOOL@65",
        "--tax",
        "20%",
        "--tax-name",
        "VAT",
        "--freight",
        "6.40",
        "--days",
        "30",
        "--terms",
        "Goods stay ours until they are paid.",
    ];
    let (pages, first) = studio.printed(&words, "invoice.pdf");
    // By hand: 3 × 17.50 = 52.50; with 65.00 it is 117.50; with 6.40 123.90; 20 % of it 24.78; together 148.68.
    says(
        &pages,
        &[
            "Ninefold Quay Enamels",
            "3 Net Loft Steps, Orrinmouth",
            "Skerry Gallery",
            "12 Mole Street",
            "Lower Orrin",
            "Invoice no. 4",
            "14 October 2026",
            "Please pay by 13 November 2026",
            "HARBOUR",
            "MOONPOOL",
            "$17.50",
            "$52.50",
            "Goods",
            "$117.50",
            "Freight and packing",
            "$6.40",
            "plus VAT 20%",
            "$24.78",
            "Total",
            "$148.68",
            "Terms",
            "Goods stay ours until they are paid.",
            "Page 1 of 1",
        ],
    );
    assert!(!text(&pages).contains("licensed professional"));
    sized(&pages, A4_PT);
    let (_, again) = studio.printed(&["print", "again", "invoice", "4"], "again.pdf");
    assert!(again == first, "a paper that went out is the same each time");
    let out = studio.file("second.pdf");
    let answer = studio.json(&[&words[..], &["--letter", "--out", &out]].concat());
    assert_eq!((&answer["number"], &answer["to_pay"]), (&Value::from(5), &Value::from("148.68")));
    assert!(answer["law"].as_str().unwrap().contains("ask a licensed professional"));
    sized(&read(&std::fs::read(out).unwrap()), LETTER_PT);
}

#[test]
fn an_order_form_takes_the_tickets_in_force_and_the_tax_of_its_channel() {
    let studio = Studio::new();
    studio.done(&["prices", "--accept", "Winter"]);
    let words = ["print", "order-form", "--to", GALLERY, "--line", "HARBOUR:2", "--channel", "shops"];
    let (pages, _) = studio.printed(&words, "order.pdf");
    says(&pages, &["Order no. 2", "Customer", "Place, date · Signature"]);
    let goods: rust_decimal::Decimal =
        studio.json(&["print", "papers"])["papers"][0]["goods"].as_str().unwrap().parse().unwrap();
    let prices = studio.json(&["prices", "--channel", "shops", "--design", "HARBOUR"]).to_string();
    let ticket = (goods / rust_decimal::Decimal::TWO).normalize();
    assert!(prices.contains(&format!("\"{ticket}\"")), "{ticket} in {prices}");
    // The fair's tax is on top: 6.5 % in the demo studio.
    let out = studio.file("preview.pdf");
    let words = ["print", "order-form", "--to", GALLERY, "--line", "HARBOUR:2@50", "--channel", "fair", "--preview"];
    let answer = studio.json(&[&words[..], &["--out", &out]].concat());
    let amount = |field: &str| answer[field].as_str().unwrap().parse::<rust_decimal::Decimal>().unwrap();
    assert_eq!([amount("tax"), amount("to_pay")], ["6.5", "106.5"].map(|text| text.parse().unwrap()));
    assert_eq!(answer["number"], Value::Null);
}

#[test]
fn a_consignment_note_names_the_commission_the_return_the_lead_and_both_who_sign() {
    let studio = Studio::new();
    let words = [
        "print",
        "consignment",
        "--to",
        GALLERY,
        "--line",
        "BUOY:6@26",
        "--line",
        "HARBOUR:2@30",
        "--commission",
        "40%",
        "--days",
        "90",
    ];
    let (pages, _) = studio.printed(&words, "consignment.pdf");
    // By hand: 156 + 60 = 216; 40 % of it 86.40; 129.60 is left.
    says(
        &pages,
        &[
            "Consignment no. 2",
            "Retail price",
            "$216.00",
            "Commission 40%",
            "−$86.40",
            "To the maker once all is sold",
            "$129.60",
            "Unsold pieces come back by 12 January 2027",
            "contains lead",
            "Please note",
            "Received complete and undamaged",
            "Maker",
            "Gallery or shop",
        ],
    );
    assert!(text(&pages).replace('\n', " ").contains("The pieces stay the maker’s until they are sold."));
}

#[test]
fn papers_are_written_in_the_language_asked_for() {
    let studio = Studio::new();
    let words = ["print", "invoice", "--to", GALLERY, "--line", "HARBOUR:1200@17.5", "--language", "de"];
    let (pages, bytes) = studio.printed(&words, "rechnung.pdf");
    says(&pages, &["Rechnung Nr. 4", "14. Oktober 2026", "Menge", "1.200"]);
    assert!(text(&pages).contains("21.000,00 $"), "{}", text(&pages));
    let file = lopdf::Document::load_mem(&bytes).unwrap();
    let language = file.catalog().unwrap().get(b"Lang").unwrap();
    assert_eq!(language.as_str().unwrap(), b"de");
}

#[test]
fn numbers_run_without_a_gap_for_each_kind_and_undo_takes_the_last_back() {
    let studio = Studio::new();
    let out = studio.file("x.pdf");
    let issue = |kind: &str| {
        let words = ["print", kind, "--to", GALLERY, "--line", "HARBOUR@30", "--out", out.as_str()];
        studio.json(&words)["number"].as_u64()
    };
    // The demo studio sent three invoices, an order form, a consignment note and a certificate out.
    assert_eq!([issue("invoice"), issue("invoice"), issue("order-form")], [Some(4), Some(5), Some(2)]);
    studio.done(&["undo"]);
    studio.done(&["undo"]);
    assert_eq!([issue("invoice"), issue("invoice"), issue("certificate")], [Some(5), Some(6), Some(2)]);
    let listed = studio.json(&["print", "papers"]);
    let numbers: Vec<(&str, u64)> = listed["papers"]
        .as_array()
        .unwrap()
        .iter()
        .map(|paper| (paper["kind"].as_str().unwrap(), paper["number"].as_u64().unwrap()))
        .collect();
    let first = [("certificate", 2), ("invoice", 6), ("invoice", 5), ("invoice", 4), ("invoice", 3)];
    assert_eq!((&numbers[..5], numbers.len()), (&first[..], 10));
    // A preview takes no number, and neither does a paper that could not be written.
    let words = ["print", "invoice", "--to", GALLERY, "--line", "HARBOUR@30", "--out"];
    studio.done(&[&words[..], &[out.as_str(), "--preview"]].concat());
    says(&read(&std::fs::read(&out).unwrap()), &["Invoice"]);
    studio.refused(&[&words[..], &[studio.folder.path().to_str().unwrap()]].concat());
    assert_eq!(issue("invoice"), Some(7));
}

#[test]
fn bad_input_is_told_and_leaves_the_book_as_it_was() {
    let studio = Studio::new();
    let before = (studio.json(&["print", "papers"]), studio.json(&["history"]));
    let out = studio.file("x.pdf");
    let base = ["print", "invoice", "--out", out.as_str(), "--line"];
    let cases: [(&[&str], &str); 10] = [
        (&["HARBOUR@30"], "Recipient"),
        (&["NONE@30", "--to", "A"], "no design NONE"),
        (&["HARBOUR:0@30", "--to", "A"], "no quantity"),
        (&["HARBOUR@thirty", "--to", "A"], "Price of HARBOUR"),
        (&["HARBOUR@-1", "--to", "A"], "Price"),
        (&["HARBOUR@30", "--to", "A", "--tax", "140%"], "Tax"),
        (&["HARBOUR@30", "--to", "A", "--commission", "40%"], "--commission"),
        (&["HARBOUR@30", "--to", "A", "--days", "99999"], "Days"),
        (&["HARBOUR@30", "--to", "bell\u{7}"], "Recipient"),
        (&["HARBOUR", "--to", "A", "--channel", "nowhere"], "no channel nowhere"),
    ];
    for (words, said) in cases {
        let errors = studio.refused(&[&base[..], words].concat());
        assert!(errors.contains(said), "{words:?}: {errors}");
    }
    let errors = studio.refused(&["print", "invoice", "--to", "A", "--line", "HARBOUR@30", "--out", "nowhere/x.pdf"]);
    assert!(errors.contains("no folder nowhere"), "{errors}");
    let errors = studio.refused(&["print", "again", "invoice", "9", "--out", &out]);
    assert!(errors.contains("no invoice 9"), "{errors}");
    assert_eq!((studio.json(&["print", "papers"]), studio.json(&["history"])), before);
    assert!(!studio.path("x.pdf").exists());
}

#[test]
fn tags_are_out_of_date_until_they_are_printed_at_the_ticket_in_force() {
    let studio = Studio::new();
    let out = studio.file("tags.pdf");
    let outdated = || {
        let listed = studio.json(&["print", "tags", "--which-outdated"]);
        let of = |tag: &Value| (tag["design"].as_str().unwrap().to_owned(), tag["printed"].clone());
        listed["outdated"].as_array().unwrap().iter().map(of).collect::<Vec<_>>()
    };
    studio.done(&["prices", "--accept", "Winter"]);
    let all = outdated();
    assert!(all.len() >= 8 && all.iter().all(|(_, printed)| printed.is_null()), "{all:?}");
    // A trial does not count.
    studio.done(&["print", "tags", "--out", &out, "--trial"]);
    assert_eq!(outdated(), all);
    let said = studio.done(&["print", "tags", "--out", &out, "--outdated"]);
    assert!(said.contains(&format!("{} tags", all.len())), "{said}");
    assert_eq!(outdated(), []);
    let said = studio.done(&["print", "tags", "--out", &out, "--outdated"]);
    assert!(said.contains("No tag is out of date"), "{said}");
    // One price changes: its tag alone is out of date.
    let design = studio.file("harbour.toml");
    studio.done(&["design", "export", "HARBOUR", "--out", &design]);
    let file = std::fs::read_to_string(&design).unwrap();
    let dearer = file.replacen("labour_per_hour = \"", "labour_per_hour = \"1", 1);
    assert_ne!(dearer, file, "{file}");
    std::fs::write(&design, dearer).unwrap();
    studio.done(&["design", "import", &design, "--replace"]);
    studio.done(&["prices", "--accept", "Dearer", "--design", "HARBOUR"]);
    let changed = outdated();
    assert!(matches!(&changed[..], [(code, Value::String(_))] if code == "HARBOUR"), "{changed:?}");
    studio.done(&["print", "tags", "--out", &out, "--outdated"]);
    assert_eq!(outdated(), []);
    // Undo: the tag was not printed after all.
    studio.done(&["undo"]);
    assert_eq!(outdated(), changed);
}

#[test]
fn tags_go_on_where_the_sheet_was_left() {
    let studio = Studio::new();
    let print = |more: &[&str]| {
        let words = ["print", "tags", "--design", "HARBOUR", "--sheet", "Flat labels, A4"];
        let (pages, _) = studio.printed(&[&words[..], more].concat(), "tags.pdf");
        pages[0].texts.iter().find(|(text, _)| text == "HARBOUR").unwrap().1
    };
    // The sheet has 4 × 12 labels, 46 mm and 22.5 mm apart.
    let first = print(&["--copies", "3"]);
    let fourth = print(&["--copies", "1"]);
    let fifth = print(&["--copies", "44"]);
    let fresh = print(&[]);
    assert!(((fourth[0] - first[0]) * MM_PER_POINT - 138.0).abs() < 0.2, "{first:?} {fourth:?}");
    assert!(((first[1] - fifth[1]) * MM_PER_POINT - 22.5).abs() < 0.2, "{first:?} {fifth:?}");
    assert!((fresh[0] - first[0]).abs() < 0.1 && (fresh[1] - first[1]).abs() < 0.1, "{first:?} {fresh:?}");
    let asked = print(&["--start", "5"]);
    assert!((asked[1] - fifth[1]).abs() < 0.1, "{asked:?}");
}

#[test]
fn a_price_list_shows_every_piece_with_its_ticket() {
    let studio = Studio::new();
    let (pages, _) = studio.printed(&["print", "price-list", "--tax-name", "sales tax"], "prices.pdf");
    says(&pages, &["Price list", "Orrinmouth Harbour Fair", "Valid from 14 October 2026", "contains lead"]);
    says(&pages, &["Prices include sales tax"]);
    let designs = studio.json(&["design", "list"]);
    for design in designs["designs"].as_array().unwrap() {
        let code = design["code"].as_str().unwrap();
        assert_eq!(text(&pages).lines().filter(|line| *line == code).count(), 1, "{code}");
    }
    let count = pages.len();
    for (number, page) in pages.iter().enumerate() {
        let wanted = format!("Page {} of {count}", number + 1);
        assert!(page.texts.iter().any(|(text, _)| *text == wanted), "{wanted}");
    }
}

/// A photo: one colour, with a band of another at its foot.
fn photo(width: u32, height: u32) -> Vec<u8> {
    let pixel = |_, y| if y * 4 < height * 3 { image::Rgb([30, 90, 160]) } else { image::Rgb([220, 180, 40]) };
    let mut png = std::io::Cursor::new(Vec::new());
    image::RgbImage::from_fn(width, height, pixel).write_to(&mut png, image::ImageFormat::Png).unwrap();
    png.into_inner()
}

/// Gives a design of the book a photo.
fn give_photo(studio: &Studio, code: &str, png: Vec<u8>) {
    let now = chrono::NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 0, 0).unwrap();
    let mut book = Book::open(&studio.path("studio.studiobook"), Access::Write, now.date()).unwrap();
    let snapshot = actions::snapshot(&book).unwrap();
    let design = snapshot.designs.iter().find(|book| book.design.code.as_str() == code).unwrap().id;
    let action = actions::Action::SetPhoto { id: design, png: Some(png) };
    actions::perform(&mut book, action, Order { key: ActionKey::fresh(), at: now }).unwrap();
}

#[test]
fn a_price_list_shows_photos_at_300_dots_per_inch_in_a_small_file() {
    let studio = Studio::new();
    give_photo(&studio, "HARBOUR", photo(1600, 1200));
    let (pages, bytes) = studio.printed(&["print", "price-list"], "photos.pdf");
    let all: Vec<_> = pages.iter().flat_map(|page| &page.pictures).collect();
    let [picture] = all[..] else { panic!("{} pictures", all.len()) };
    // The place is 25 mm wide; 25 / 25.4 × 300 is 295.3 and three quarters of it 221.5, both rounded up, by hand.
    assert_eq!(picture.size, [296, 222]);
    let [wide, _, _, high, _, _] = picture.matrix.map(|value| value * MM_PER_POINT);
    assert!((wide - 25.0).abs() < 0.05 && (high - 18.75).abs() < 0.05, "{wide} × {high}");
    // A photo that covers everything is a JPEG (ITU-T T.81: it begins with FF D8), its colours those of the photo.
    assert!(picture.stored.starts_with(&[0xff, 0xd8]) && !picture.masked);
    let shown = image::load_from_memory(&picture.stored).unwrap().to_rgb8();
    for (y, wanted) in [(60, [30, 90, 160]), (215, [220, 180, 40])] {
        let image::Rgb(got) = shown.get_pixel(148, y);
        let near = got.iter().zip(wanted).all(|(got, wanted)| got.abs_diff(wanted) < 6);
        assert!(near, "{got:?} {wanted:?}");
    }
    let (pages, plain) = studio.printed(&["print", "price-list", "--without-photos"], "outlines.pdf");
    assert!(pages.iter().all(|page| page.pictures.is_empty()));
    assert!(bytes.len() < plain.len() + 40_000, "{} and {}", bytes.len(), plain.len());
}

#[test]
fn what_can_be_seen_through_stays_so_and_a_broken_photo_is_told() {
    let studio = Studio::new();
    let mut png = std::io::Cursor::new(Vec::new());
    let sketch = image::RgbaImage::from_fn(80, 80, |x, _| image::Rgba([0, 0, 0, if x < 40 { 0 } else { 255 }]));
    sketch.write_to(&mut png, image::ImageFormat::Png).unwrap();
    give_photo(&studio, "HARBOUR", png.into_inner());
    let (pages, _) = studio.printed(&["print", "price-list"], "sketch.pdf");
    let all: Vec<_> = pages.iter().flat_map(|page| &page.pictures).collect();
    assert!(all.len() == 1 && all[0].masked && all[0].size == [80, 80]);
    // The signature of a PNG (PNG specification, 5.2) with nothing behind it.
    give_photo(&studio, "HARBOUR", b"\x89PNG\r\n\x1a\n".to_vec());
    let out = studio.file("broken.pdf");
    let (_, errors, done) = studio.run(&["print", "price-list", "--out", &out]);
    assert!(done && errors.contains("HARBOUR: the picture cannot be read"), "{errors}");
}

#[test]
fn a_certificate_of_a_piece_tells_its_number_batch_firings_materials_and_shows_it() {
    let studio = Studio::new();
    give_photo(&studio, "HARBOUR", photo(1200, 900));
    let words = ["print", "certificate", "--to", GALLERY, "--piece", "harbour-0005"];
    let (pages, first) = studio.printed(&words, "certificate.pdf");
    // The demo studio fired this batch four times and finished it 38 days before.
    says(
        &pages,
        &[
            "Certificate 2",
            "Piece no. HARBOUR-0005",
            "Fired four times",
            "Batch 1",
            "Finished on 6 September 2026",
            "Maker",
        ],
    );
    for words in ["enamelled by hand and fired in a kiln", "Glass enamel on copper"] {
        assert!(text(&pages).contains(words), "{words} in {}", text(&pages));
    }
    let [picture] = &pages[0].pictures[..] else { panic!("{} pictures", pages[0].pictures.len()) };
    // 72 mm at 300 dpi: 850.4, rounded up; three quarters of it down, by hand.
    assert_eq!(picture.size, [851, 638]);
    let (_, again) = studio.printed(&["print", "again", "certificate", "2"], "again.pdf");
    assert!(again == first);
    let (pages, _) = studio.printed(&["print", "again", "certificate", "2", "--without-photos"], "bare.pdf");
    assert!(pages[0].pictures.is_empty());
    studio.refused(&["print", "certificate", "--out", &studio.file("x.pdf"), "--piece", "HARBOUR-9999"]);
    // On an invoice a piece is a line like any other, at the ticket in force or at its own price.
    let words = ["print", "invoice", "--to", "A", "--piece", "HARBOUR-0005@41.50", "--preview"];
    let (pages, _) = studio.printed(&words, "of-piece.pdf");
    says(&pages, &["HARBOUR-0005", "$41.50"]);
}

/// A row of the table with its inputs and what is expected.
fn rows(prefix: &str) -> Vec<(String, Value, Value)> {
    let mut reader = csv::Reader::from_reader(include_str!("data/e_money_tax_price.csv").as_bytes());
    let read = |text: &str| serde_json::from_str(text).unwrap();
    let rows = reader.records().map(Result::unwrap).filter(|row| row[0].starts_with(prefix));
    rows.map(|row| (row[0].to_owned(), read(&row[2]), read(&row[3]))).collect()
}

#[test]
fn an_invoice_comes_to_what_the_published_rows_say() {
    let studio = Studio::new();
    let out = studio.file("x.pdf");
    let invoice = |price: &str, rate: &str, within: bool| {
        let line = format!("HARBOUR@{price}");
        let words = ["print", "invoice", "--to", "A", "--preview", "--out", &out, "--line", &line, "--tax", rate];
        let within: &[&str] = if within { &["--tax-in-price"] } else { &[] };
        studio.json(&[&words[..], within].concat())
    };
    let same = |got: &Value, wanted: &Value| {
        let read = |value: &Value| value.as_str().unwrap().parse::<rust_decimal::Decimal>().unwrap();
        read(got) == read(wanted)
    };
    let text = |of: &Value, field: &str| of[field].as_str().unwrap().to_owned();
    let mut seen = 0;
    for (id, given, expected) in rows("E-STX-") {
        let answer = invoice(&text(&given, "ticket"), &text(&given, "rate"), false);
        assert!(same(&answer["tax"], &expected["tax"]) && same(&answer["to_pay"], &expected["to_pay"]), "{id}");
        seen += 1;
    }
    for (id, given, expected) in rows("E-VATX-") {
        let answer = invoice(&text(&given, "ticket"), &text(&given, "rate"), true);
        assert!(same(&answer["tax"], &expected["vat"]) && same(&answer["net"], &expected["net"]), "{id}");
        seen += 1;
    }
    for (id, given, expected) in rows("E-VAT-1").into_iter().chain(rows("E-VAT-6")) {
        let answer = invoice(&text(&given, "net"), &text(&given, "rate"), false);
        assert!(same(&answer["tax"], &expected["vat"]) && same(&answer["to_pay"], &expected["gross"]), "{id}");
        seen += 1;
    }
    assert!(seen >= 10, "{seen} rows");
}

#[test]
fn a_trade_number_is_checked_kept_and_taken_away() {
    let studio = Studio::new();
    // Numbers from 20 to 29 are a company's own (GS1 General Specifications; from memory). Check digit by hand:
    // 2 + 3 × 1 = 5, to the next ten 5.
    studio.done(&["ean", "set", "harbour", "2000000000015"]);
    let errors = studio.refused(&["ean", "set", "BUOY", "2000000000016"]);
    assert!(errors.contains("check digit"), "{errors}");
    let errors = studio.refused(&["ean", "set", "BUOY", "2000000000015"]);
    assert!(errors.contains("taken"), "{errors}");
    let shown = studio.json(&["ean", "show"]);
    let numbers = (&shown["numbers"][0]["code"], &shown["numbers"][0]["number"]);
    assert_eq!(numbers, (&Value::from("HARBOUR"), &Value::from("2000000000015")));
    studio.done(&["ean", "clear", "HARBOUR"]);
    assert_eq!(studio.json(&["ean", "show"])["numbers"], Value::Array(Vec::new()));
    studio.refused(&["ean", "clear", "HARBOUR"]);
    studio.refused(&["ean", "set", "NOTHING", "2000000000015"]);
}

// ---------------------------------------------------------------------------------------------- the layout

fn line(number: usize) -> StatementLine {
    StatementLine {
        code: format!("K-{number}"),
        words: format!("Kelp brooch {number}"),
        note: "glass enamel on copper, steel findings".to_owned(),
        lead: if number.is_multiple_of(7) { "contains lead".to_owned() } else { String::new() },
        quantity: "2".to_owned(),
        price: "$24.00".to_owned(),
        sum: "$48.00".to_owned(),
        so_far: format!("${}.00", 48 * number),
    }
}

fn long(lines: usize, size: PaperSize) -> Statement {
    let owned = |text: &str| text.to_owned();
    let sums = [("Goods", "$4800.00", false), ("Commission 40%", "−$1920.00", false), ("Left", "$2880.00", true)];
    let sum = |(label, amount, strong)| SumLine { label: owned(label), amount: owned(amount), strong };
    Statement {
        language: Language::English,
        title: owned("Consignment no. 12"),
        studio: owned("Tidewrack Enamels"),
        place: owned("4 Kelp Lane, Lower Orrin"),
        recipient_label: owned("For"),
        recipient: ["Skerry Gallery", "12 Mole Street", "Lower Orrin"].map(owned).to_vec(),
        facts: vec![[owned("Date"), owned("14 October 2026")]],
        opening: String::new(),
        piece: None,
        table: Table {
            code: owned("Code"),
            what: owned("Piece"),
            quantity: Some(owned("Quantity")),
            money: Some([owned("Retail price"), owned("Amount")]),
            carried: [owned("Carried forward"), owned("Brought forward")],
            lines: (1..=lines).map(line).collect(),
        },
        sums: sums.map(sum).to_vec(),
        sentences: vec![owned("Prices include VAT")],
        parts: vec![[owned("Terms"), "The pieces stay the maker’s until they are sold. ".repeat(8)]],
        signed_for: owned("Received complete and undamaged"),
        signatures: ["Maker", "Gallery or shop"].map(|who| [owned(who), owned("Place, date · Signature")]).to_vec(),
        page_of: owned("Page {page} of {pages}"),
        paper: size,
    }
}

/// Every text lies within the margins, and no two texts of a page overlap.
#[track_caller]
fn within(document: &Document, size: PaperSize) {
    let margins = statement::margins(size);
    for page in &document.pages {
        let mut inks: Vec<[f64; 4]> = Vec::new();
        for item in &page.items {
            let Item::Text(run) = item else { continue };
            let em = run.size_pt * MM_PER_POINT;
            // Source Sans 3: capitals 0.660, descenders 0.205 of the size.
            let ink = [run.x_mm, run.y_mm - 0.66 * em, run.x_mm + run.width_mm, run.y_mm + 0.2 * em];
            assert!(ink[0] >= margins.x_mm - 0.01 && ink[2] <= margins.right_mm() + 0.01, "{}", run.text());
            assert!(ink[1] >= margins.y_mm - 0.01 && ink[3] <= margins.bottom_mm() + 0.01, "{}", run.text());
            let apart =
                |other: &[f64; 4]| ink[0] >= other[2] || other[0] >= ink[2] || ink[1] >= other[3] || other[1] >= ink[3];
            assert!(inks.iter().all(apart), "{} overlaps at {ink:?}", run.text());
            inks.push(ink);
        }
    }
}

fn bytes(document: &Document, name: &str) -> Vec<u8> {
    let properties = Properties {
        title: "Consignment no. 12".to_owned(),
        author: "Tidewrack Enamels".to_owned(),
        created: chrono::NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(0, 0, 0).unwrap(),
        language: "en".to_owned(),
    };
    let bytes = pdf::write(document, &properties).unwrap();
    keep(&bytes, name);
    bytes
}

#[test]
fn many_lines_run_over_pages_with_their_heading_and_the_sum_carried() {
    let mut shaper = Shaper::new();
    for size in [PaperSize::A4, PaperSize::LETTER] {
        // Every number of lines around a turn of the page, so that no sum is ever left alone.
        for lines in (1..32).chain([100]) {
            let document = statement::layout(&long(lines, size), &mut shaper).unwrap();
            assert_eq!(document.warnings, []);
            within(&document, size);
        }
        let pages = read(&bytes(&statement::layout(&long(100, size), &mut shaper).unwrap(), "long.pdf"));
        let count = pages.len();
        assert!(count > 4);
        let mut carried = None;
        for (number, page) in pages.iter().enumerate() {
            let said: Vec<&str> = page.texts.iter().map(|(text, _)| text.as_str()).collect();
            assert!(said.contains(&format!("Page {} of {count}", number + 1).as_str()));
            let has_lines = said.iter().any(|text| text.starts_with("K-"));
            assert_eq!(has_lines, said.contains(&"Piece"), "the heading is where lines are");
            let after = |wanted: &str| said.iter().position(|text| *text == wanted).map(|at| said[at + 1].to_owned());
            if has_lines {
                assert_eq!(after("Brought forward"), carried);
            }
            carried = after("Carried forward");
            if let Some(sum) = said.iter().position(|text| *text == "Left") {
                assert!(said[..sum].iter().any(|text| text.starts_with("K-")), "sums stand with a line");
            }
            assert_eq!(said.contains(&"Maker"), said.contains(&"Gallery or shop"), "those who sign stand together");
        }
        assert_eq!(text(&pages).lines().filter(|line| line.starts_with("K-")).count(), 100);
    }
}

#[test]
fn what_does_not_fit_is_told_and_no_amount_is_cut() {
    let mut paper = long(1, PaperSize::A4);
    paper.table.lines[0].sum = "9".repeat(90);
    paper.recipient = (0..20).map(|number| format!("Line {number}")).collect();
    let document = statement::layout(&paper, &mut Shaper::new()).unwrap();
    let kinds: Vec<_> = document.warnings.iter().map(|warning| (warning.code.as_str(), &warning.kind)).collect();
    assert!(kinds.contains(&("K-1", &WarningKind::LeftOut(Part::Amount))), "{kinds:?}");
    assert!(kinds.contains(&("Consignment no. 12", &WarningKind::Cut(Part::Recipient))), "{kinds:?}");
    paper.table.lines.clear();
    assert_eq!(statement::layout(&paper, &mut Shaper::new()), Err(PaperProblem::NothingListed));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    #[test]
    fn whatever_is_written_stays_within_the_margins(
        texts in proptest::collection::vec(any::<String>(), 6), repeats in 1_usize..60, lines in 1_usize..12,
    ) {
        let mut paper = long(lines, PaperSize::LETTER);
        for line in &mut paper.table.lines {
            line.code = texts[0].clone();
            line.words = texts[1].repeat(repeats);
            line.note = texts[2].repeat(repeats);
            line.sum = texts[3].clone();
        }
        paper.studio = texts[4].repeat(repeats);
        paper.recipient = vec![texts[5].repeat(repeats); 14];
        paper.parts = vec![[texts[1].clone(), texts[2].repeat(repeats)]];
        let document = statement::layout(&paper, &mut Shaper::new()).unwrap();
        let margins = statement::margins(paper.paper);
        for page in &document.pages {
            for item in &page.items {
                let Item::Text(run) = item else { continue };
                prop_assert!(run.x_mm >= margins.x_mm - 0.01 && run.x_mm + run.width_mm <= margins.right_mm() + 0.01);
                prop_assert!(run.y_mm >= margins.y_mm && run.y_mm <= margins.bottom_mm());
            }
        }
    }
}
