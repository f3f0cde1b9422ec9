//! `words` and `print own` on the command line: her own words, and papers of her own and ready-made ones, read back with a
//! reader that shares no code with the writer.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing, reason = "a test may stop")]

mod pdf_reader;

use chrono::{NaiveDate, NaiveDateTime};
use enamelwright::actions::{self, Action, ActionKey, Order, perform};
use enamelwright::book::{Access, Book, Snapshot};
use enamelwright::command;
use enamelwright::measure::{Decimal, Quantity, Unit};
use enamelwright::studio::{
    Buying, EnamelKind, Fusing, Item, ItemDetails, Jar, JarId, LabelSheet, PaperDesign, PaperKind, What,
};
use pdf_reader::{ReadPage, read};
use serde_json::Value;
use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;
use tempfile::TempDir;

fn now() -> NaiveDateTime {
    NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(9, 30, 0).unwrap()
}

struct Studio {
    folder: TempDir,
}

impl Studio {
    /// With the demo studio's book.
    fn new() -> Self {
        let studio = Self { folder: tempfile::tempdir().unwrap() };
        let book = studio.path("studio.studiobook").display().to_string();
        let (done, _, errors) = Self::run_bare(&["demo", &book]);
        assert!(done, "{errors}");
        studio
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn run_bare(arguments: &[&str]) -> (bool, String, String) {
        let (mut out, mut errors) = (Vec::new(), Vec::new());
        let arguments = std::iter::once("enamelwright").chain(arguments.iter().copied()).map(OsString::from);
        let code = command::run(arguments, now(), |_| Ok(()), &mut out, &mut errors);
        let text = |bytes| String::from_utf8(bytes).unwrap();
        (code == ExitCode::SUCCESS, text(out), text(errors))
    }

    fn run(&self, arguments: &[&str]) -> (bool, String, String) {
        let book = self.path("studio.studiobook").display().to_string();
        let mut all = vec!["--book", book.as_str()];
        all.extend(arguments);
        Self::run_bare(&all)
    }

    #[track_caller]
    fn done(&self, arguments: &[&str]) -> String {
        let (done, out, errors) = self.run(arguments);
        assert!(done, "{arguments:?}: {errors}");
        out
    }

    #[track_caller]
    fn refused(&self, arguments: &[&str]) -> String {
        let (done, out, errors) = self.run(arguments);
        assert!(!done, "{arguments:?}: {out}");
        errors
    }

    fn book(&self) -> Book {
        Book::open(&self.path("studio.studiobook"), Access::Write, now().date()).unwrap()
    }

    fn perform(&self, action: Action) {
        perform(&mut self.book(), action, Order { key: ActionKey::fresh(), at: now() }).unwrap();
    }

    fn snapshot(&self) -> Snapshot {
        actions::snapshot(&self.book()).unwrap()
    }

    /// Prints to a file and reads it back.
    #[track_caller]
    fn printed(&self, arguments: &[&str]) -> Vec<ReadPage> {
        let out = self.path("out.pdf").display().to_string();
        let mut all = arguments.to_vec();
        all.extend(["--out", &out]);
        let _ = self.done(&all);
        read(&std::fs::read(&out).unwrap())
    }
}

fn texts(page: &ReadPage) -> Vec<&str> {
    page.texts.iter().map(|(text, _)| text.trim()).collect()
}

fn whole(page: &ReadPage) -> String {
    texts(page).join(" ")
}

/// An enamel in two jars, with a lot.
fn with_jars(studio: &Studio) {
    let item = Item {
        reference: "EN-HARBOUR".to_owned(),
        name: "Harbour green".to_owned(),
        unit: Unit::Gram,
        details: ItemDetails::Enamel {
            enamel: EnamelKind::Transparent,
            swatch: [24, 92, 110],
            mesh: "80/325".to_owned(),
            fusing: Some(Fusing::Medium),
            firing_c: Some([Decimal::from(780), Decimal::from(830)]),
        },
        maker: String::new(),
        maker_number: String::new(),
        supplier: String::new(),
        shelf: "B2".to_owned(),
        note: String::new(),
        reorder_level: None,
        lead_bearing: true,
        retired: false,
        buying: Buying::default(),
    };
    studio.perform(Action::SaveItem { id: None, item });
    let id = studio.snapshot().stock.iter().find(|row| row.item.reference == "EN-HARBOUR").unwrap().id;
    for (lot, day) in [("25-101", 1), ("26-031", 2)] {
        studio.perform(Action::Receive(vec![actions::Receipt {
            item: id,
            date: NaiveDate::from_ymd_opt(2026, 2, day).unwrap(),
            quantity: Quantity::new(Decimal::from(100)).unwrap(),
            typed: "100 g".to_owned(),
            cost: enamelwright::measure::Money::new(Decimal::from(9)).unwrap(),
            lot_number: lot.to_owned(),
            supplier: String::new(),
            note: String::new(),
        }]));
    }
    for (label, tare) in [("A3-07", "142.5"), ("A3-08", "88")] {
        let jar = Jar {
            item: id,
            label: label.to_owned(),
            tare: Quantity::new(tare.parse().unwrap()).unwrap(),
            retired: false,
        };
        studio.perform(Action::SaveJar { id: None::<JarId>, jar });
    }
}

// ---------------------------------------------------------------------------------------------- words

#[test]
fn words_are_put_listed_and_taken_away() {
    let studio = Studio::new();
    let said = studio.done(&["words", "set", "care-title", "Gute Pflege", "--language", "de"]);
    assert_eq!(said, "care-title in German: “Gute Pflege”\n");
    let listed: Value =
        serde_json::from_str(&studio.done(&["words", "list", "--language", "de", "--own", "--format", "json"]))
            .unwrap();
    assert_eq!(listed["language"], "de");
    let words = listed["words"].as_array().unwrap();
    assert_eq!(words.len(), 1);
    assert_eq!(words[0]["own"], "Gute Pflege");
    assert_eq!(words[0]["program"], "So bleibt Ihr Stück schön");
    assert_eq!(words[0]["english"], "Looking after your piece");
    assert_eq!(words[0]["for"], "care");
    // Found by English words too.
    let found = studio.done(&["words", "list", "--language", "de", "--find", "looking after"]);
    assert!(found.contains("care-title") && found.contains("1 phrase in German, 1 of them replaced"), "{found}");
    let metals = studio.done(&["words", "list", "--language", "fr", "--for", "metals"]);
    assert!(metals.contains("argent fin") && !metals.contains("care-title"), "{metals}");
    // A card says them.
    let code = studio.snapshot().designs[0].design.code.to_string();
    let page = &studio.printed(&["print", "cards", "--flat", "--language", "de", "--design", &code])[0];
    assert!(whole(page).contains("Gute Pflege"), "{}", whole(page));
    let said = studio.done(&["words", "clear", "care-title", "--language", "de"]);
    assert_eq!(said, "care-title in German is the program's again: “So bleibt Ihr Stück schön”\n");
    assert!(studio.refused(&["words", "clear", "care-title", "--language", "de"]).contains("no words of your own"));
    // Undone like anything else.
    let _ = studio.done(&["undo"]);
    assert_eq!(studio.snapshot().own_words.len(), 1);
}

#[test]
fn words_that_would_not_do_are_refused_with_what_would() {
    let studio = Studio::new();
    let told = studio.refused(&["words", "set", "fired-times", "in the fire", "--language", "en"]);
    assert_eq!(
        told,
        "fired-times in English: the words leave out {times} (how often it was fired); it is filled in when the paper is \
         printed and must stay\n"
    );
    let told = studio.refused(&["words", "set", "care-title", "Care of {piece}"]);
    assert!(told.contains("{piece}, which nothing is filled into; no braces are accepted here"), "{told}");
    assert!(studio.refused(&["words", "set", "poem", "x"]).contains("no phrase \"poem\""));
    assert!(studio.refused(&["words", "set", "care-title", " "]).contains("words clear"));
    assert!(studio.refused(&["words", "list", "--for", "poems"]).contains("accepted are care, cautions"));
    assert!(studio.snapshot().own_words.is_empty());
    // Where the law has a word in it, she is told so.
    let (done, _, remarks) = studio.run(&["words", "set", "caution-lead", "Contains lead.", "--language", "en"]);
    assert!(done && remarks.contains("Local rules decide"), "{remarks}");
}

// ---------------------------------------------------------------------------------------------- papers

#[test]
fn papers_are_listed() {
    let studio = Studio::new();
    let listed: Value = serde_json::from_str(&studio.done(&["print", "own", "--list", "--format", "json"])).unwrap();
    let papers = listed["papers"].as_array().unwrap();
    let quiet = papers.iter().find(|paper| paper["name"] == "Quiet tag").unwrap();
    assert_eq!((&quiet["kind"], &quiet["width_mm"], &quiet["own"]), (&"tag".into(), &"50".into(), &false.into()));
    assert!(studio.done(&["print", "own", "--list"]).contains("ready-made"));
    let told = studio.refused(&["print", "own", "Quiet tag", "--all"]);
    assert!(told.contains("--out"), "{told}");
    let told = studio.refused(&["print", "own", "Quiet tag", "--out", "x.pdf"]);
    assert!(told.contains("--design") || told.contains("required"), "{told}");
    let out = studio.path("x.pdf").display().to_string();
    assert!(
        studio.refused(&["print", "own", "Loud tag", "--all", "--out", &out]).contains("there is no paper Loud tag")
    );
}

#[test]
fn tags_are_printed_of_designs_and_kept_in_mind() {
    let studio = Studio::new();
    let design = studio.snapshot().designs[0].design.clone();
    let code = design.code.to_string();
    let before = studio.snapshot().printed_tags.len();
    let pages = studio.printed(&["print", "own", "quiet TAG", "--design", &code, "--copies", "2", "--with-stops"]);
    assert_eq!(pages.len(), 2);
    for page in &pages {
        assert!(texts(page).contains(&code.as_str()), "{:?}", page.texts);
        // 50 × 28 mm, a point is 1/72 in.
        for (side, mm) in page.size_pt.iter().zip([50.0, 28.0]) {
            assert!((side / 72.0 * 25.4 - mm).abs() < 0.01);
        }
    }
    assert!(studio.snapshot().printed_tags.len() > before);
    // All of them, one each.
    let count = studio.snapshot().designs.iter().filter(|book| !book.retired).count();
    assert_eq!(studio.printed(&["print", "own", "Quiet tag", "--all", "--trial"]).len(), count);
    // What a tag cannot be of is refused.
    let out = studio.path("x.pdf").display().to_string();
    let told = studio.refused(&["print", "own", "Quiet tag", "--item", "X", "--out", &out]);
    assert!(told.contains("of a design or piece"), "{told}");
    let told = studio.refused(&["print", "own", "Quiet tag", "--piece", "NO-1", "--out", &out]);
    assert!(told.contains("there is no piece NO-1 a price tag can be made of"), "{told}");
}

#[test]
fn jar_labels_have_tare_lot_and_lead_mark_of_each_jar() {
    let studio = Studio::new();
    with_jars(&studio);
    let pages = studio.printed(&["print", "own", "Quiet jar label", "--item", "en-harbour", "--language", "de"]);
    assert_eq!(pages.len(), 2);
    for (page, tare) in [(&pages[0], "Tara 142,5"), (&pages[1], "Tara 88")] {
        let said = whole(page).replace('\u{a0}', " ");
        for words in ["Harbour green", tare, "Charge 26-031", "enthält Blei", "transparent", "780–830"] {
            assert!(said.contains(words), "{words}: {said}");
        }
        assert!(!said.contains("contains lead"), "{said}");
    }
    assert_eq!(studio.printed(&["print", "own", "Quiet jar label", "--jar", "a3-08"]).len(), 1);
    let out = studio.path("x.pdf").display().to_string();
    let told = studio.refused(&["print", "own", "Quiet jar label", "--design", "LN-DROP", "--out", &out]);
    assert!(told.contains("of an item"), "{told}");
}

#[test]
fn a_paper_of_hers_goes_onto_a_sheet_from_its_next_free_label() {
    let studio = Studio::new();
    let ready = enamelwright::paper::pinned::ready::of(PaperKind::Tag).remove(0).design;
    let design = PaperDesign {
        name: "Mine".to_owned(),
        width_mm: Decimal::from(40),
        height_mm: Decimal::from(20),
        pinned: ready.pinned.into_iter().filter(|thing| matches!(thing.what, What::Code | What::Name)).collect(),
        holes: Vec::new(),
        ..ready
    };
    let mut design = design;
    for thing in &mut design.pinned {
        (thing.x_mm, thing.y_mm) = (Decimal::from(2), Decimal::from(2));
        (thing.width_mm, thing.height_mm) = (Decimal::from(30), Decimal::from(6));
    }
    studio.perform(Action::SavePaperDesign { id: None, design, retired: false });
    let snapshot = studio.snapshot();
    let fits = |sheet: &LabelSheet| {
        sheet.label_width_mm >= Decimal::from(40)
            && sheet.label_height_mm >= Decimal::from(20)
            && sheet.columns * sheet.rows > 8
    };
    let (row, sheet) = snapshot.sheets.iter().find(|(_, sheet)| fits(sheet)).cloned().unwrap();
    let code = snapshot.designs[0].design.code.to_string();
    let asked = ["print", "own", "Mine", "--design", &code, "--copies", "3", "--sheet", &sheet.name, "--with-stops"];
    let mut first = asked.to_vec();
    first.extend(["--start", "2"]);
    let pages = studio.printed(&first);
    assert_eq!((pages.len(), texts(&pages[0]).iter().filter(|text| **text == code).count()), (1, 3));
    assert_eq!(studio.snapshot().begun_sheets.get(&row), Some(&5));
    let _ = studio.printed(&asked);
    assert_eq!(studio.snapshot().begun_sheets.get(&row), Some(&8));
}

#[test]
fn certificates_are_of_finished_pieces_of_closed_batches_in_any_language() {
    let studio = Studio::new();
    let store = actions::paper_store(&studio.book()).unwrap();
    let Some(piece) = store.finished.pieces.first() else { panic!("the demo studio has finished pieces") };
    let number = piece.number.clone().unwrap();
    let pages = studio.printed(&["print", "own", "Quiet certificate A6", "--piece", &number, "--language", "sv,de"]);
    let said = whole(&pages[0]);
    for words in ["Underskrift · Unterschrift", number.as_str(), "Gjord för hand"] {
        assert!(said.contains(words), "{words}: {said}");
    }
    assert!(!said.contains("Signature") && !said.contains("Made by hand"), "{said}");
}
