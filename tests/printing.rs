//! Printing from the command line: what is handed to the printing system, what it refuses, printers and what is put right
//! on their pages, page ranges. A stand-in for `lp` and `lpstat` (`tests/data/printing`) takes the place of the printing
//! system; its words are those of the Common UNIX Printing System's manual.

#![cfg(unix)]
#![allow(
    clippy::panic,
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "helpers of tests fail by panicking"
)]
#![allow(clippy::float_arithmetic, clippy::float_cmp, reason = "places on a page are compared")]

#[path = "pdf_reader/mod.rs"]
mod pdf_reader;

use chrono::NaiveDate;
use enamelwright::actions;
use enamelwright::book::{Access, Book, Snapshot};
use serde_json::Value;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use tempfile::TempDir;

/// A folder with the demo studio's book, and a printing system or none.
struct Studio {
    folder: TempDir,
    /// Where commands are looked for.
    path: std::ffi::OsString,
    names: &'static str,
    refusal: &'static str,
    silence: &'static str,
}

/// What a run left behind.
#[derive(Debug)]
struct Run {
    status: i32,
    out: String,
    errors: String,
}

impl Run {
    #[track_caller]
    fn done(self) -> String {
        assert_eq!(self.status, 0, "{self:?}");
        self.out
    }

    #[track_caller]
    fn refused(self, status: i32) -> String {
        assert_eq!(self.status, status, "{self:?}");
        assert!(!self.errors.contains("panicked"), "{self:?}");
        self.errors
    }
}

impl Studio {
    /// A computer with printers.
    fn new() -> Self {
        let stand_in = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/printing");
        let path = std::env::join_paths([stand_in, "/usr/bin".into(), "/bin".into()]).expect("a path");
        Self::with_path(path)
    }

    /// A computer without a printing system.
    fn without_printing() -> Self {
        Self::with_path("/nowhere".into())
    }

    fn with_path(path: std::ffi::OsString) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let studio = Self { folder, path, names: "Office_Laser tags", refusal: "", silence: "" };
        studio.run(&["demo"]).done();
        studio
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_enamelwright"));
        command
            .current_dir(self.folder.path())
            .env("HOME", self.folder.path())
            .env("XDG_DATA_HOME", self.path("data"))
            .env("PATH", &self.path)
            .env("PRINT_FOLDER", self.folder.path())
            .env("PRINT_NAMES", self.names)
            .env("PRINT_REFUSAL", self.refusal)
            .env("PRINT_SILENCE", self.silence)
            .args(["--book", "studio.studiobook"])
            .args(arguments);
        command
    }

    fn run(&self, arguments: &[&str]) -> Run {
        let output = self.command(arguments).output().expect("the program runs");
        Run {
            status: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout).expect("answers are UTF-8"),
            errors: String::from_utf8(output.stderr).expect("errors are UTF-8"),
        }
    }

    #[track_caller]
    fn json(&self, arguments: &[&str]) -> Value {
        let text = self.run(&[arguments, &["--format", "json"]].concat()).done();
        serde_json::from_str(&text).unwrap_or_else(|error| panic!("{error}: {text}"))
    }

    /// The words `lp` was given, and what it was handed.
    fn handed(&self) -> (Vec<String>, Vec<u8>) {
        let words = std::fs::read_to_string(self.path("words")).expect("lp was called");
        let page = std::fs::read(self.path("page.pdf")).expect("lp was handed something");
        (words.lines().map(str::to_owned).collect(), page)
    }

    fn was_handed_nothing(&self) -> bool {
        !self.path("words").exists()
    }

    fn read(&self, name: &str) -> Vec<u8> {
        std::fs::read(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    fn snapshot(&self) -> Snapshot {
        let today = NaiveDate::from_ymd_opt(2026, 10, 14).expect("a day");
        let book = Book::open(&self.path("studio.studiobook"), Access::Read, today).expect("the book opens");
        actions::snapshot(&book).expect("the book is read")
    }
}

#[test]
fn a_page_is_handed_over_whole_in_its_own_size_as_often_as_asked() {
    let studio = Studio::new();
    let said = studio
        .run(&[
            "print",
            "cards",
            "--paper",
            "letter",
            "--send",
            "--printer",
            "tags",
            "--prints",
            "3",
            "--out",
            "cards.pdf",
        ])
        .done();
    assert!(said.contains("to cards.pdf"), "{said}");
    assert!(said.contains(", 3 times to tags: request id is tags-7 (1 file(s))"), "{said}");
    let (words, page) = studio.handed();
    // Options of `lp`: -d destination, -n copies, -o option, -t title.
    assert_eq!(words, ["-d", "tags", "-n", "3", "-o", "media=Letter", "-o", "print-scaling=none", "-t", "Care cards"]);
    assert_eq!(page, studio.read("cards.pdf"), "what is printed is what is written");
    // 8.5 by 11 in are 612 by 792 points; folded cards lie across the page.
    assert_eq!(pdf_reader::read(&page)[0].size_pt, [792.0, 612.0]);
}

#[test]
fn without_a_name_the_system_chooses_and_no_file_is_left() {
    let studio = Studio::new();
    let said = studio.run(&["print", "count-sheet", "--send"]).done();
    assert!(said.contains("to the printer the system chose: request id is tags-7"), "{said}");
    let (words, page) = studio.handed();
    assert_eq!(words, ["-n", "1", "-o", "media=A4", "-o", "print-scaling=none", "-t", "Count sheet"]);
    assert!(page.starts_with(b"%PDF-1.7"));
    let mut left: Vec<String> = std::fs::read_dir(studio.folder.path())
        .expect("the folder")
        .map(|entry| entry.expect("a file").file_name().to_string_lossy().into_owned())
        .filter(|name| !name.starts_with("studio.studiobook"))
        .collect();
    left.sort();
    assert_eq!(left, ["page.pdf", "words"], "nothing but what lp itself wrote");
}

#[test]
fn a_paper_goes_to_a_file_or_a_printer_or_it_is_asked_where() {
    let studio = Studio::new();
    for task in [["print", "cards"], ["print", "tags"]] {
        let told = studio.run(&task).refused(2);
        assert!(told.contains("--out"), "{told}");
    }
    let told = studio.run(&["print", "cards", "--out", "cards.pdf", "--prints", "2"]).refused(2);
    assert!(told.contains("--send"), "copies are made by a printer: {told}");
    let told = studio.run(&["print", "cards", "--out", "cards.pdf", "--printer", "attic"]).refused(1);
    assert!(told.contains("there is no printer attic; there are none"), "{told}");
    let told = studio.run(&["print", "cards", "--send", "--printer", "attic"]).refused(1);
    assert!(told.contains("there are Office_Laser, tags"), "{told}");
    assert!(studio.was_handed_nothing() && !studio.path("cards.pdf").exists());
}

#[test]
fn a_refusal_is_told_and_takes_no_number_and_counts_no_tag() {
    let mut studio = Studio::new();
    studio.refusal = "lp: Error - the queue tags is stopped";
    let told = studio.run(&["print", "cards", "--send"]).refused(1);
    assert!(told.contains("the printer did not take it: lp: Error - the queue tags is stopped"), "{told}");
    assert!(told.contains("save the PDF"), "{told}");
    let issued = studio.run(&["print", "papers"]).done();
    let invoice = ["print", "invoice", "--to", "Skerry Gallery", "--line", "HARBOUR@24"];
    studio.run(&[invoice.as_slice(), &["--send"]].concat()).refused(1);
    assert_eq!(studio.run(&["print", "papers"]).done(), issued);
    let before = studio.snapshot();
    studio.run(&["print", "tags", "--design", "HARBOUR", "--send"]).refused(1);
    assert_eq!(studio.snapshot().printed_tags, before.printed_tags);
    // What lies in a file went out all the same.
    let told = studio.run(&[invoice.as_slice(), &["--send", "--out", "invoice.pdf"]].concat()).refused(1);
    assert!(told.contains("did not take it"), "{told}");
    assert!(studio.read("invoice.pdf").starts_with(b"%PDF"));
    assert_ne!(studio.run(&["print", "papers"]).done(), issued);
}

#[test]
fn a_computer_without_a_printing_system_says_so_and_still_writes_files() {
    let studio = Studio::without_printing();
    let told = studio.run(&["print", "cards", "--send"]).refused(1);
    assert!(told.contains("no printing command lp; write the PDF with --out"), "{told}");
    let issued = studio.run(&["print", "papers"]).done();
    studio.run(&["print", "invoice", "--to", "Skerry Gallery", "--line", "HARBOUR@24", "--send"]).refused(1);
    assert_eq!(studio.run(&["print", "papers"]).done(), issued);
    let said = studio.run(&["printer", "list"]).done();
    assert!(said.contains("The book has no printer yet"), "{said}");
    assert!(said.contains("the printing command lpstat could not be run"), "{said}");
    let listed = studio.json(&["printer", "list"]);
    assert!(listed["system"].is_null() && listed["trouble"].is_string(), "{listed}");
    studio.run(&["print", "cards", "--out", "cards.pdf"]).done();
    assert!(studio.path("cards.pdf").exists());
}

#[test]
fn printers_are_written_down_put_right_and_forgotten() {
    let mut studio = Studio::new();
    assert_eq!(studio.run(&["printer", "set", "Office_Laser", "--dots", "300"]).done(), "Add printer Office_Laser\n");
    assert_eq!(
        studio.run(&["printer", "set", "Office_Laser", "--dots", "600"]).done(),
        "Change printer Office_Laser\n"
    );
    let told = studio.run(&["printer", "set", "tags", "--dots", "12"]).refused(2);
    assert!(told.contains("Dots per inch: 12") && told.contains("72 to 4800"), "{told}");
    let told = studio.run(&["printer", "put-right", "tags", "--right", "1"]).refused(1);
    assert!(told.contains("no printer tags; it has Office_Laser"), "{told}");
    let said = studio.run(&["printer", "put-right", "Office_Laser", "--right", "-1.2", "--down", "0.4"]).done();
    assert_eq!(said, "Office_Laser on plain paper: Moved 1.2 mm to the left and 0.4 mm down\n");
    studio.run(&["printer", "put-right", "Office_Laser", "--wide", "1.003"]).done();
    let told = studio.run(&["printer", "put-right", "Office_Laser", "--right", "9"]).refused(2);
    assert!(told.contains("Move right: 9 mm") && told.contains("-8 to 8"), "{told}");
    let told = studio.run(&["printer", "put-right", "Office_Laser", "--sheet", "No such", "--right", "1"]).refused(1);
    assert!(told.contains("the book has no sheet No such"), "{told}");
    studio.run(&["printer", "put-right", "Office_Laser"]).refused(2);
    let listed = studio.json(&["printer", "list"]);
    assert_eq!(
        listed["printers"],
        serde_json::json!([{
            "name": "Office_Laser", "dots_per_inch": 600,
            "put_right": [{ "sheet": null, "right_mm": "-1.2", "down_mm": "0.4", "wide": "1.003", "high": "1" }],
        }])
    );
    assert_eq!(listed["system"], serde_json::json!(["Office_Laser", "tags"]));
    let told = studio.run(&["printer", "list"]).done();
    assert!(told.contains("plain paper") && told.contains("Printers of this computer: Office_Laser, tags"), "{told}");
    studio.run(&["printer", "forget", "Office_Laser", "--plain"]).done();
    studio.run(&["printer", "forget", "Office_Laser", "--plain"]).refused(1);
    studio.run(&["printer", "forget", "Office_Laser"]).done();
    assert!(studio.snapshot().printers.is_empty());
    studio.run(&["undo"]).done();
    studio.run(&["undo"]).done();
    assert_eq!(studio.snapshot().printers[0].1.corrections.len(), 1, "both were taken back");
    studio.names = "";
    assert!(studio.run(&["printer", "list"]).done().contains("This computer has no printer"));
    studio.silence = "lpstat: the scheduler is not running";
    let told = studio.run(&["printer", "list"]).done();
    assert!(told.contains("could not be asked for its printers: lpstat: the scheduler is not running"), "{told}");
    studio.silence = "lpstat: No destinations added.";
    assert!(studio.run(&["printer", "list"]).done().contains("This computer has no printer"));
}

#[test]
fn pages_are_printed_that_are_asked_for_and_only_their_tags_count() {
    let studio = Studio::new();
    // The demo's first sheet; its labels a page.
    let (row, sheet) = studio.snapshot().sheets[0].clone();
    let on_page = sheet.columns * sheet.rows;
    let copies = (on_page * 2 + 3).to_string();
    let tags = ["print", "tags", "--design", "HARBOUR", "--start", "1", "--copies", &copies];
    let said = studio.run(&[tags.as_slice(), &["--out", "all.pdf", "--trial"]].concat()).done();
    assert!(said.contains("on 3 pages"), "{said}");
    let said = studio.run(&[tags.as_slice(), &["--out", "some.pdf", "--pages", "2-"]].concat()).done();
    assert_eq!(said, format!("Wrote 2 pages of {copies} tags to some.pdf\n"));
    let texts = |name: &str| -> Vec<Vec<(String, [f64; 2])>> {
        pdf_reader::read(&studio.read(name)).into_iter().map(|page| page.texts).collect()
    };
    assert_eq!(texts("some.pdf"), texts("all.pdf")[1..]);
    let after = studio.snapshot();
    assert_eq!(after.begun_sheets.get(&row), Some(&4), "three labels of the last page are used");
    assert_eq!(after.printed_tags[0].copies, on_page + 3);
    let told = studio.run(&[tags.as_slice(), &["--out", "more.pdf", "--pages", "2,4"]].concat()).refused(2);
    assert_eq!(told, "Pages: 4 was given; this paper has 3 pages, accepted is 1 to 3\n");
    let told = studio.run(&[tags.as_slice(), &["--out", "more.pdf", "--pages", "3-2"]].concat()).refused(2);
    assert!(told.contains("such as 2-5,7"), "{told}");
    assert!(!studio.path("more.pdf").exists());
}

/// A long run that is broken off leaves the file as it was, and nothing beside it.
#[test]
fn a_long_run_that_is_broken_off_leaves_nothing_half_written() {
    let studio = Studio::new();
    std::fs::write(studio.path("tags.pdf"), "as it was").expect("a file");
    let mut run = studio
        .command(&["print", "tags", "--out", "tags.pdf", "--design", "HARBOUR", "--copies", "10000", "--trial"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    let mut errors = BufReader::new(run.stderr.take().expect("its errors"));
    let mut line = String::new();
    while !line.contains("pages written") {
        line.clear();
        assert!(errors.read_line(&mut line).expect("a line") > 0, "a long run tells how far it is");
    }
    let broken = Command::new("kill").args(["-INT", &run.id().to_string()]).status().expect("kill runs");
    assert!(broken.success());
    let mut rest = String::new();
    let _ = errors.read_to_string(&mut rest);
    assert!(!run.wait().expect("it ends").success(), "it was broken off: {rest}");
    assert_eq!(studio.read("tags.pdf"), b"as it was");
    let parts = std::fs::read_dir(studio.folder.path()).expect("the folder");
    let parts = parts.filter(|entry| entry.as_ref().expect("a file").file_name().to_string_lossy().ends_with(".part"));
    assert_eq!(parts.count(), 0);
}

/// A page for a printer of the book is moved as it was measured, its symbols by whole dots of it; a sheet that was measured
/// goes before plain paper.
#[test]
fn pages_are_put_right_for_a_printer_and_its_sheet() {
    let studio = Studio::new();
    let sheet = studio.snapshot().sheets[0].1.name.clone();
    studio.run(&["printer", "set", "tags", "--dots", "300"]).done();
    let tags = ["print", "tags", "--design", "HARBOUR", "--start", "1", "--trial"];
    let symbol = |way: &[&str]| -> [f64; 2] {
        studio.run(&[&tags, way, &["--out", "tags.pdf"]].concat()).done();
        let page = pdf_reader::read(&studio.read("tags.pdf")).remove(0);
        let [x, y, ..] = page.rectangles[0];
        [x, y]
    };
    let plain = symbol(&[]);
    let moved = |way: &[&str]| {
        let [x, y] = symbol(way);
        // Dots of 300 to the inch, 72 points to the inch; up is positive in a PDF.
        [x - plain[0], y - plain[1]].map(|by| by * 300.0 / 72.0)
    };
    let near = |left: [f64; 2], right: [f64; 2]| {
        assert!(left.iter().zip(right).all(|(left, right)| (left - right).abs() < 0.02), "{left:?} {right:?}");
    };
    near(moved(&["--printer", "tags"]), [0.0, 0.0]);
    studio.run(&["printer", "put-right", "tags", "--right", "1", "--down", "-0.5"]).done();
    // 1 mm is 11.8 dots, 0.5 mm 5.9.
    near(moved(&["--printer", "tags"]), [12.0, 6.0]);
    near(moved(&[]), [0.0, 0.0]);
    studio.run(&["printer", "put-right", "tags", "--sheet", &sheet, "--right", "2"]).done();
    near(moved(&["--printer", "tags"]), [24.0, 0.0]);
    // Another printer, other dots: each run of modules of the symbol is a whole number of them.
    studio.run(&["printer", "set", "roll", "--dots", "203"]).done();
    symbol(&["--printer", "roll"]);
    let page = pdf_reader::read(&studio.read("tags.pdf")).remove(0);
    for [_, _, width, _] in page.rectangles {
        let dots = width * 203.0 / 72.0;
        assert!((dots - dots.round()).abs() < 0.02, "{dots} dots");
    }
    symbol(&["--printer", "tags"]);
    // What was handed over is put right, too.
    studio.run(&[tags.as_slice(), &["--printer", "tags", "--send"]].concat()).done();
    let (_, page) = studio.handed();
    assert_eq!(page, studio.read("tags.pdf"));
}

/// The calibration page says what it is meant to measure, and `put-right` takes what was measured. On A4 the ringed cross
/// is meant at 10 mm, the rulers at 150 and 200 mm, as printed on the page; by hand: 150 / 149.4 = 1.004016, and
/// 10 − 1.004016 · 11.2 = −1.245 mm.
#[test]
fn a_calibration_page_is_printed_and_what_was_measured_taken() {
    let studio = Studio::new();
    studio.run(&["printer", "set", "Office_Laser", "--dots", "600"]).done();
    let said = studio.run(&["print", "calibration", "--printer", "Office_Laser", "--out", "page.pdf"]).done();
    assert_eq!(said, "Wrote the calibration page on 1 page to page.pdf\n");
    let texts = |name: &str| -> String {
        let pages = pdf_reader::read(&studio.read(name));
        pages[0].texts.iter().map(|(text, _)| format!("{text} ")).collect()
    };
    let text = texts("page.pdf");
    assert!(text.contains("Calibration page") && text.contains("600 dots per inch"), "{text}");
    assert!(text.contains("Meant 150") && text.contains("Meant 200"), "{text}");
    let put_right = ["printer", "put-right", "Office_Laser"];
    let said = studio.run(&[&put_right[..], &["--cross", "11.2,9.6", "--rulers", "149.4,200"]].concat()).done();
    assert_eq!(
        said,
        "Office_Laser on plain paper: Moved 1.25 mm to the left and 0.4 mm down, stretched by 0.4 % across\n"
    );
    let kept = studio.snapshot().printers[0].1.corrections[0];
    assert_eq!(
        [kept.right_mm, kept.down_mm, kept.wide].map(|figure| figure.to_string()),
        ["-1.245", "0.4", "1.004016"]
    );
    let told = studio.run(&[&put_right[..], &["--cross", "11.2,9.6", "--rulers", "140,200"]].concat()).refused(2);
    assert!(told.contains("level ruler: 140 mm") && told.contains("actual size"), "{told}");
    studio.run(&[&put_right[..], &["--cross", "11.2,9.6"]].concat()).refused(2);
    studio.run(&[&put_right[..], &["--cross", "11.2,9.6", "--rulers", "150,200", "--right", "1"]].concat()).refused(2);
    // Nothing is put right on the page that is measured, unless it is to be tried.
    studio.run(&["print", "calibration", "--printer", "Office_Laser", "--out", "again.pdf"]).done();
    assert_eq!(
        pdf_reader::read(&studio.read("again.pdf"))[0].texts,
        pdf_reader::read(&studio.read("page.pdf"))[0].texts
    );
    studio.run(&["print", "calibration", "--printer", "Office_Laser", "--put-right", "--out", "tried.pdf"]).done();
    assert_ne!(studio.read("tried.pdf"), studio.read("again.pdf"));
    let (_, sheet) = studio.snapshot().sheets[0].clone();
    studio.run(&["print", "calibration", "--sheet", &sheet.name, "--dots", "203", "--out", "sheet.pdf"]).done();
    assert!(texts("sheet.pdf").contains(&format!("{},", sheet.name)));
}
