//! Hostile text in every field of every paper: fitted, or refused with a reason; never outside of its page or label, never a
//! panic, and what is printed can be read back.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "the helpers of a test may stop it; a picture's points are small whole numbers"
)]

mod paper_examples;
mod pdf_reader;

use enamelwright::paper::cards::PaperSize;
use enamelwright::paper::page::{Document, Item, Rect};
use enamelwright::paper::pdf;
use enamelwright::paper::preview::Outliner;
use enamelwright::paper::{PaperProblem, WarningKind};
use paper_examples::{KINDS, ink, margins, one, properties};
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use std::cell::RefCell;
use std::collections::BTreeSet;

/// Everything inside: the ink of a label in its label, all ink on its page, the lines of running papers in their margins.
fn check_inside(name: &str, what: &str, document: &Document, paper: PaperSize) {
    let mut outliner = Outliner::new();
    for page in &document.pages {
        let sheet = Rect { x_mm: 0.0, y_mm: 0.0, width_mm: page.width_mm, height_mm: page.height_mm };
        let inks: Vec<Option<Rect>> = page.items.iter().map(|item| ink(&outliner.mark(item))).collect();
        for (item, ink) in page.items.iter().zip(&inks) {
            let Some(ink) = ink else { continue };
            assert!(sheet.holds(ink), "{name}, {what}: {item:?} at {ink:?} leaves its page");
            let (Some(margins), Item::Text(run)) = (margins(name, paper), item) else { continue };
            let line = Rect { x_mm: run.x_mm, y_mm: run.y_mm, width_mm: run.width_mm, height_mm: 0.0 };
            let wide = Rect { x_mm: margins.x_mm - 0.01, width_mm: margins.width_mm + 0.02, ..margins };
            assert!(wide.holds(&line), "{name}, {what}: {} at {line:?} leaves the margins", run.text());
        }
        for place in &page.places {
            // What is cut out may be drawn to its edge; a tenth of a line's width is rounding.
            let rect = Rect {
                x_mm: place.rect.x_mm - 0.01,
                y_mm: place.rect.y_mm - 0.01,
                width_mm: place.rect.width_mm + 0.02,
                height_mm: place.rect.height_mm + 0.02,
            };
            for (item, ink) in page.items[place.items.clone()].iter().zip(&inks[place.items.clone()]) {
                let Some(ink) = ink else { continue };
                assert!(rect.holds(ink), "{name}, {what}: {item:?} at {ink:?} leaves its label {rect:?}");
            }
        }
    }
}

/// The texts of the PDF are those of the layout, but for combining marks: a glyph has one text in a PDF's map to Unicode
/// (ISO 32000-1, 9.10.3), and letters with a stack of marks may share theirs.
fn check_read_back(name: &str, document: &Document) {
    let pages = pdf_reader::read(&pdf::write(document, &properties()).unwrap());
    for (page, laid) in pages.iter().zip(&document.pages) {
        let plain = |text: &str| text.replace(|sign: char| ('\u{300}'..='\u{36f}').contains(&sign), "");
        let runs = laid.items.iter().filter_map(|item| if let Item::Text(run) = item { Some(run) } else { None });
        let wanted: Vec<String> = runs.map(|run| plain(&run.text())).collect();
        let read: Vec<String> = page.texts.iter().map(|(text, _)| plain(text)).collect();
        assert_eq!(read, wanted, "{name}");
    }
}

fn check(name: &str, what: &str, laid: Result<Document, PaperProblem>, paper: PaperSize, read_back: bool) {
    match laid {
        Ok(document) => {
            check_inside(name, what, &document, paper);
            if read_back {
                check_read_back(name, &document);
            }
        }
        // Refused, and it says why.
        Err(problem) => {
            assert!(!matches!(problem, PaperProblem::Pdf(_)), "{name}, {what}: {problem}");
            assert!(problem.to_string().len() > 20, "{name}, {what}: {problem}");
        }
    }
}

/// Texts nobody means, each with what it is.
fn named() -> Vec<(&'static str, String)> {
    vec![
        ("nothing", String::new()),
        ("only spaces", " \u{a0}\u{2003}\u{3000}\t ".repeat(40)),
        ("5,000 letters without a space", "x".repeat(5_000)),
        ("5,000 letters in words", "Wörter und noch mehr ".repeat(238)),
        ("a word as long as a page", format!("a {}", "Donaudampfschiff".repeat(30))),
        ("right to left", "שלום עולם مرحبا بالعالم \u{202e}abc\u{202c} \u{2067}def\u{2069}".repeat(8)),
        ("combining marks", format!("Z{} e\u{301}\u{327}\u{328}", "\u{301}\u{302}\u{323}".repeat(300))),
        ("a mark without a letter", "\u{301}\u{20dd}".to_owned()),
        ("emoji", "🧿👩‍🎨🏳️‍🌈👍🏽🇸🇪".repeat(20)),
        ("control characters", (0_u8..32).map(char::from).chain(['\u{7f}', '\u{85}', '\u{9b}']).collect()),
        ("line ends", "one\ntwo\r\nthree\u{2028}four\u{2029}five\u{b}six\u{c}seven".repeat(10)),
        ("zero width", "a\u{200b}b\u{200c}c\u{200d}d\u{2060}e\u{feff}f\u{ad}g".repeat(30)),
        ("letters of another kind of width", "ｆｕｌｌ　ｗｉｄｔｈ ﷽ ﷺ ｱｲｳ".repeat(10)),
        ("the ends of Unicode", "\u{fffd}\u{fffe}\u{ffff}\u{e000}\u{10ffff}\u{1f}".to_owned()),
        ("what a PDF's strings are made of", "(((\\)))<<>>[]{}%/Tj ET Q endstream".repeat(6)),
        ("placeholders", "{page}{pages}{number}{}{{".repeat(12)),
        ("figures", "999999999999999999999999999999.99 €".repeat(4)),
    ]
}

#[test]
fn hostile_text_in_every_field_at_once_is_fitted_or_refused() {
    for (number, (what, text)) in named().into_iter().enumerate() {
        for kind in 0..KINDS {
            let paper = if (number + kind) % 2 == 0 { PaperSize::A4 } else { PaperSize::LETTER };
            let (name, laid) = one(kind, &|_, _| text.clone(), paper);
            check(&name, what, laid, paper, (number + kind) % 5 == 0);
        }
    }
}

#[test]
fn a_long_text_in_any_one_field_is_fitted_or_refused() {
    for kind in 0..KINDS {
        let fields = RefCell::new(BTreeSet::new());
        let _ = one(
            kind,
            &|field, usual| {
                fields.borrow_mut().insert(field.to_owned());
                usual.to_owned()
            },
            PaperSize::LETTER,
        );
        for hostile in fields.into_inner() {
            let say = |field: &str, usual: &str| {
                if field == hostile { format!("{} Ǻgj", "Wörter".repeat(120)) } else { usual.to_owned() }
            };
            let (name, laid) = one(kind, &say, PaperSize::LETTER);
            check(&name, &hostile, laid, PaperSize::LETTER, false);
        }
    }
}

/// The Japanese type has Hebrew letters; they once ran off the page to the left.
#[test]
fn letters_that_read_leftwards_are_left_out_and_named() {
    for kind in [0, 3, 5, 12] {
        let (name, laid) = one(
            kind,
            &|field, usual| if field == "name" { "Drop שלום".to_owned() } else { usual.to_owned() },
            PaperSize::A4,
        );
        let document = laid.unwrap();
        check_inside(&name, "Hebrew", &document, PaperSize::A4);
        let named = document.warnings.iter().any(|warning| {
            matches!(&warning.kind, WarningKind::MissingGlyphs(signs) if "שלום".chars().all(|sign| signs.contains(sign)))
        });
        assert!(named, "{name}: {:?}", document.warnings);
    }
}

fn hostile() -> impl Strategy<Value = String> {
    prop_oneof![
        2 => "[A-Za-z ,.’éÅß€£-]{0,60}",
        2 => "\\PC{0,80}",
        2 => any::<String>(),
        1 => "[\u{590}-\u{5ff}\u{600}-\u{6ff} ]{0,60}",
        1 => "[a-z\u{300}-\u{36f}]{0,90}",
        1 => "[\u{3040}-\u{30ff}\u{4e00}-\u{9fff}、。]{0,120}",
    ]
}

#[test]
fn any_text_in_any_fields_is_fitted_or_refused() {
    let config = ProptestConfig { cases: 30, failure_persistence: None, ..ProptestConfig::default() };
    // The same cases each time.
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let cases = (0..KINDS, prop::collection::vec(hostile(), 3), any::<u32>(), 1_usize..30);
    let run = runner.run(&cases, |(kind, texts, which, repeats)| {
        // Which fields are hostile follows from their names.
        let say = |field: &str, usual: &str| {
            let place = field.bytes().fold(0_u32, |sum, byte| sum.wrapping_mul(31).wrapping_add(u32::from(byte))) % 32;
            if which >> place & 1 == 1 { texts[place as usize % 3].repeat(repeats) } else { usual.to_owned() }
        };
        let (name, laid) = one(kind, &say, PaperSize::A4);
        check(&name, &format!("{texts:?}"), laid, PaperSize::A4, true);
        Ok(())
    });
    run.unwrap();
}
