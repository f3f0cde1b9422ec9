//! The command line, run as a person runs it: the real program, real files, exit statuses and streams.

#![allow(clippy::panic, clippy::expect_used, clippy::indexing_slicing, reason = "helpers of tests fail by panicking")]

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use tempfile::TempDir;

/// The invented example design that ships with the specification of design files.
const LANTERN_DROP: &str = include_str!("data/lantern-drop.toml");

/// A folder of its own for one test, with the program beside it.
struct Studio {
    folder: TempDir,
}

/// What a run left behind.
#[derive(Debug)]
struct Run {
    status: i32,
    out: String,
    errors: String,
}

impl Run {
    /// The answer, of a run that is done.
    #[track_caller]
    fn done(self) -> String {
        assert_eq!(self.status, 0, "{self:?}");
        self.out
    }

    /// The answer as JSON, of a run that is done.
    #[track_caller]
    fn json(self) -> Value {
        let text = self.done();
        serde_json::from_str(&text).unwrap_or_else(|error| panic!("{error}: {text}"))
    }

    /// The errors of a run that ended with this status; nothing is on standard output, and nothing panicked.
    #[track_caller]
    fn refused(self, status: i32) -> String {
        assert_eq!(self.status, status, "{self:?}");
        assert_eq!(self.out, "", "an answer beside an error: {self:?}");
        assert!(!self.errors.is_empty(), "refused without a word");
        assert!(!self.errors.contains("panicked"), "{self:?}");
        self.errors
    }
}

impl Studio {
    fn new() -> Self {
        Self { folder: tempfile::tempdir().expect("a temporary folder") }
    }

    /// A studio with an empty book.
    fn with_book() -> Self {
        let studio = Self::new();
        studio.run(&["new"]).done();
        studio
    }

    /// A studio with the demo studio's book.
    fn with_demo() -> Self {
        let studio = Self::new();
        studio.run(&["demo"]).done();
        studio
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn book(&self) -> PathBuf {
        self.path("studio.studiobook")
    }

    fn file(&self, name: &str, text: impl AsRef<[u8]>) -> String {
        let path = self.path(name);
        std::fs::write(&path, text).expect("a file in the temporary folder");
        path.to_str().expect("a path in UTF-8").to_owned()
    }

    /// The program with its data folder inside the studio and no display.
    fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_enamelwright"));
        command
            .current_dir(self.folder.path())
            .env("HOME", self.folder.path())
            .env("XDG_DATA_HOME", self.path("data"))
            .env_remove("DISPLAY")
            .env_remove("WAYLAND_DISPLAY")
            .env_remove("WAYLAND_SOCKET");
        command
    }

    /// Runs the program on the studio's book.
    fn run(&self, arguments: &[&str]) -> Run {
        let output = self.command().arg("--book").arg(self.book()).args(arguments).output().expect("the program runs");
        Run {
            status: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout).expect("answers are UTF-8"),
            errors: String::from_utf8(output.stderr).expect("errors are UTF-8"),
        }
    }

    /// Runs the program and asks for JSON.
    fn json(&self, arguments: &[&str]) -> Value {
        self.run(&[arguments, &["--format", "json"]].concat()).json()
    }
}

fn text<'a>(value: &'a Value, field: &str) -> &'a str {
    value[field].as_str().unwrap_or_else(|| panic!("{field} is no text in {value}"))
}

/// An amount in millionths, for sums that must be exact.
fn millionths(value: &Value, field: &str) -> i128 {
    let amount: rust_decimal::Decimal = text(value, field).parse().expect("an exact decimal");
    let scaled = amount * rust_decimal::Decimal::from(1_000_000);
    assert!(scaled.is_integer(), "{field} is finer than the book's grain: {amount}");
    i128::try_from(scaled).expect("an amount that fits")
}

const TASKS: &[&[&str]] = &[
    &["window"],
    &["new"],
    &["demo"],
    &["cost"],
    &["design", "import"],
    &["design", "export"],
    &["design", "list"],
    &["stock", "list"],
    &["stock", "add"],
    &["stock", "receive"],
    &["stock", "issue"],
    &["stock", "return"],
    &["stock", "write-off"],
    &["stock", "count"],
    &["stock", "wash-back"],
    &["stock", "correct"],
    &["stock", "close"],
    &["stock", "jar"],
    &["stock", "weigh"],
    &["stock", "order", "list"],
    &["stock", "order", "show"],
    &["stock", "order", "receive"],
    &["stock", "nest"],
    &["stock", "cut"],
    &["stock", "buy"],
    &["stock", "trace"],
    &["stock", "import"],
    &["stock", "export"],
    &["stock", "show"],
    &["stock", "value"],
    &["batch", "start"],
    &["batch", "list"],
    &["batch", "show"],
    &["batch", "step"],
    &["batch", "lose"],
    &["batch", "finish"],
    &["batch", "split"],
    &["batch", "merge"],
    &["batch", "abandon"],
    &["batch", "time"],
    &["piece", "list"],
    &["piece", "show"],
    &["kiln", "list"],
    &["kiln", "add"],
    &["kiln", "log"],
    &["kiln", "day"],
    &["kiln", "fit"],
    &["kiln", "plan"],
    &["learn"],
    &["prices"],
    &["print", "bench-sheet"],
    &["print", "kiln-log"],
    &["print", "tags"],
    &["print", "cards"],
    &["print", "count-sheet"],
    &["print", "calibration"],
    &["printer", "list"],
    &["printer", "set"],
    &["printer", "put-right"],
    &["printer", "forget"],
    &["outline"],
    &["stencil"],
    &["backup"],
    &["restore"],
    &["check"],
    &["undo"],
    &["redo"],
    &["history"],
];

#[test]
fn every_task_explains_itself_with_an_example() {
    let studio = Studio::new();
    for task in TASKS {
        let help = studio.run(&[task, ["--help"].as_slice()].concat()).done();
        assert!(help.contains("Example: enamelwright "), "{task:?} has no example:\n{help}");
        assert!(help.contains("--book"), "{task:?} does not take --book:\n{help}");
    }
    let help = studio.run(&["--help"]).done();
    for task in TASKS {
        assert!(help.contains(task[0]), "{task:?} is not named in:\n{help}");
    }
}

#[test]
fn wrong_arguments_are_status_two() {
    let studio = Studio::with_book();
    let file = studio.file("lantern-drop.toml", LANTERN_DROP);
    for arguments in [
        vec!["paint"],
        vec!["cost"],
        vec!["cost", &file, "--firings", "0"],
        vec!["cost", &file, "--pieces", "0"],
        vec!["cost", &file, "--firings", "-1"],
        vec!["cost", &file, "--firings", "three"],
        vec!["cost", &file, "--pieces", "99999999999"],
        vec!["cost", &file, "--format", "xml"],
        vec!["cost", &file, "--design", "LN-DROP"],
        vec!["stock", "value", "--on", "2025-02-30"],
        vec!["stock", "value", "--on", "31.12.2025"],
        vec!["stock", "value", "--method", "lifo"],
        vec!["stock", "list", "--kind", "paint"],
        vec!["stock", "receive", "EN-1"],
        vec!["design", "export", "much-too-long-a-code"],
        vec!["print", "tags"],
        vec!["print", "tags", "--out", "tags.pdf", "--start", "0"],
        vec!["print", "tags", "--out", "tags.pdf", "--copies", "0"],
        vec!["prices", "--date", "2026-01-01"],
        vec!["new", "other.studiobook", "--currency", "DOLLARS"],
    ] {
        studio.run(&arguments).refused(2);
    }
    assert!(!studio.path("tags.pdf").exists());
    assert!(!studio.path("other.studiobook").exists());
}

#[test]
fn without_a_display_the_window_names_the_tasks() {
    let studio = Studio::with_book();
    for arguments in [[].as_slice(), &["window"]] {
        let errors = studio.run(arguments).refused(1);
        assert!(errors.contains("enamelwright --help"), "{errors}");
    }
}

#[test]
fn cost_answers_without_a_book() {
    let studio = Studio::new();
    let file = studio.file("lantern-drop.toml", LANTERN_DROP);
    let answer = studio.json(&["cost", &file]);
    assert!(!studio.book().exists(), "cost reads no book and makes none");
    assert_eq!(text(&answer, "design"), "LN-DROP");
    assert_eq!(text(&answer, "pieces"), "14");
    assert_eq!(answer["firings"], 5);
    // 14 · 0.99 · 0.98 · 0.95 · 0.97 · 0.99, by hand.
    assert_eq!(text(&answer, "good"), "12.3913847");
    assert_eq!(answer["channels"].as_array().map(Vec::len), Some(3));
    let spoken = studio.run(&["cost", &file]).done();
    for words in ["LN-DROP Lantern drop", "Full cost", "Loss allowance", "Craft fair", "Common ticket"] {
        assert!(spoken.contains(words), "no {words:?} in:\n{spoken}");
    }
}

#[test]
fn one_firing_more_costs_more_and_too_few_are_refused() {
    let studio = Studio::new();
    let file = studio.file("lantern-drop.toml", LANTERN_DROP);
    let full = |firings: &str| {
        let answer = studio.json(&["cost", &file, "--firings", firings]);
        text(&answer["per_good_piece"], "full").parse::<rust_decimal::Decimal>().expect("a decimal")
    };
    assert!(full("4") < full("5"));
    assert!(full("5") < full("6"));
    // The flash firing can go; the one before it fires the clear coat, step 9.
    let errors = studio.run(&["cost", &file, "--firings", "3"]).refused(1);
    assert_eq!(errors, "only 4 firings or more: step 9 coats the piece before its last firing\n");
    let pieces = studio.json(&["cost", &file, "--pieces", "28"]);
    assert_eq!(text(&pieces, "pieces"), "28");
}

/// A design file with one thing changed.
fn changed(before: &str, after: &str) -> String {
    assert_eq!(LANTERN_DROP.matches(before).count().min(1), 1, "{before:?} is not in the example");
    LANTERN_DROP.replacen(before, after, 1)
}

#[test]
fn a_faulty_design_file_is_refused_with_file_line_and_key() {
    let studio = Studio::new();
    let line_of = |text: &str, part: &str| text.lines().position(|line| line.contains(part)).map(|line| line + 1);
    for (text, part, key) in [
        (changed("pieces = 14", "pieces = 14\nsparkle = 3"), "sparkle", "sparkle"),
        (changed("labour_per_hour = \"26.00\"", ""), "[rates]", "labour_per_hour"),
        (changed("celsius = 725", "celsius = nan"), "celsius = nan", "celsius"),
        (changed("celsius = 725", "celsius = inf"), "celsius = inf", "celsius"),
        (changed("coat_mg_per_cm2 = 72", "coat_mg_per_cm2 = 7.2e1"), "7.2e1", "coat_mg_per_cm2"),
        (changed("price = \"2.35\"", "price = \"-2.35\""), "-2.35", "price"),
        (changed("price = \"2.35\"", "price = \"two\""), "\"two\"", "price"),
        (changed("price = \"2.35\"", "price = \"2.1234567\""), "2.1234567", "price"),
        (changed("price = \"2.35\"", "price = \"99999999999999999999999999999999\""), "9999", "price"),
        (changed("good = \"0.99\"", "good = \"0\""), "good = \"0\"", "good"),
        (changed("good = \"0.99\"", "good = \"1.01\""), "1.01", "good"),
        (changed("pieces = 14", "pieces = 0"), "pieces = 0", "pieces"),
        (changed("pieces_per_load = 5", "pieces_per_load = 2.5"), "2.5", "pieces_per_load"),
        (changed("unit = \"each\"", "unit = \"oz\""), "\"oz\"", "unit"),
        (changed("metal = \"copper\"", "metal = \"gold\""), "gold", "metal"),
        (changed("code = \"LN-DROP\"", "code = \"ln drop\""), "ln drop", "code"),
        (changed("currency = \"USD\"", "currency = \"XXQ\""), "XXQ", "currency"),
        (changed("height_mm = 38", "height_mm = -38"), "-38", "height_mm"),
        (changed("commission = \"0.45\"", "commission = \"1\""), "commission = \"1\"", "commission"),
        (changed("id = \"gallery\"", "id = \"fair\""), "Gallery", "id"),
        (changed("enamelwright-design/1", "enamelwright-design/9"), "design/9", "format"),
    ] {
        let file = studio.file("faulty.toml", &text);
        let errors = studio.run(&["cost", &file]).refused(2);
        assert!(errors.contains("faulty.toml"), "the file is not named: {errors}");
        assert!(errors.contains(key), "{key} is not named: {errors}");
        let line = line_of(&text, part).expect("the fault is in the text");
        let named = [line, line - 1].iter().any(|line| errors.contains(&format!("line {line}:")));
        assert!(named, "line {line} ({part}) is not named: {errors}");
    }
}

#[test]
fn every_fault_of_a_design_file_is_told_at_once() {
    let studio = Studio::new();
    let text = changed("pieces = 14", "pieces = 0").replace("gauge = 18", "gauge = 99").replace("\"oat\"", "\"Oat!\"");
    let file = studio.file("faulty.toml", text);
    let errors = studio.run(&["cost", &file]).refused(2);
    assert!(errors.contains("pieces") && errors.contains("gauge"), "{errors}");
    assert!(errors.lines().count() >= 2, "{errors}");
}

#[test]
fn what_cannot_be_read_as_a_design_is_status_two() {
    let studio = Studio::new();
    for (name, bytes) in [
        ("empty.toml", b"".as_slice()),
        ("latin.toml", b"format = \"enamelwright-design/1\"\nname = \"\xe9tal\"\n"),
        ("broken.toml", b"[design\n"),
        ("picture.toml", b"\x89PNG\r\n\x1a\n\0\0\0\0"),
    ] {
        let file = studio.file(name, bytes);
        let errors = studio.run(&["cost", &file]).refused(2);
        assert!(errors.contains(name), "{errors}");
    }
    let errors = studio.run(&["cost", "nowhere.toml"]).refused(2);
    assert!(errors.contains("nowhere.toml"), "{errors}");
    studio.run(&["cost", "."]).refused(2);
    let huge = studio.file("huge.toml", vec![b'#'; 9 * 1024 * 1024]);
    let errors = studio.run(&["cost", &huge]).refused(2);
    assert!(errors.contains("8 MiB"), "{errors}");
}

#[test]
fn a_route_without_a_firing_is_refused() {
    let studio = Studio::new();
    let mut text = String::new();
    for block in LANTERN_DROP.split("\n\n").filter(|block| !block.contains("kind = \"fire\"")) {
        text.push_str(block);
        text.push_str("\n\n");
    }
    let file = studio.file("unfired.toml", text);
    let errors = studio.run(&["cost", &file]).refused(2);
    assert!(errors.contains("firing"), "{errors}");
}

#[test]
fn an_amount_that_grows_too_large_is_refused() {
    let studio = Studio::new();
    let text = LANTERN_DROP.replace("price = \"3.80\"", "price = \"999999999999.999999\"").replace(
        "{ material = \"chain\", quantity = \"1\" }",
        "{ material = \"chain\", quantity = \"999999999.999999999\" }",
    );
    let file = studio.file("absurd.toml", text);
    let run = studio.run(&["cost", &file, "--pieces", "4294967295"]);
    // Either the amounts still fit and are exact, or they are refused; never a panic or a cut number.
    assert!(!run.errors.contains("panicked"), "{run:?}");
    assert!(run.status == 0 || run.status == 2, "{run:?}");
}

#[test]
fn fees_that_leave_nothing_are_an_error_of_the_channel_only() {
    let studio = Studio::new();
    let eaten = changed("commission = \"0.45\"", "commission = \"0.98\"\ncard_fee = \"0.03\"");
    let file = studio.file("eaten.toml", eaten);
    let answer = studio.json(&["cost", &file]);
    let gallery = &answer["channels"][1];
    assert_eq!(text(gallery, "id"), "gallery");
    assert!(!text(gallery, "error").is_empty());
    for absent in ["floor", "cash_floor", "exact", "ticket", "price_before_tax", "profit", "margin", "earned_per_hour"]
    {
        assert!(gallery.get(absent).is_none(), "{absent} in {gallery}");
    }
    assert_eq!(text(&answer["common_ticket"], "channel"), "fair");

    // Here the fees leave something, but less than the target asks for.
    let file = studio.file("greedy.toml", changed("margin = \"0.25\"", "margin = \"0.99\""));
    let fair = studio.json(&["cost", &file])["channels"][0].clone();
    assert!(!text(&fair, "error").is_empty());
    assert!(fair.get("floor").is_some() && fair.get("cash_floor").is_some(), "{fair}");
    assert!(fair.get("exact").is_none(), "{fair}");
}

#[test]
fn a_closed_pipe_is_no_fault() {
    let studio = Studio::with_demo();
    for _ in 0..8 {
        let mut child = studio
            .command()
            .args(["stock", "list", "--book"])
            .arg(studio.book())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program runs");
        drop(child.stdout.take());
        let output = child.wait_with_output().expect("the program ends");
        assert_eq!(output.status.code(), Some(0));
        assert_eq!(String::from_utf8_lossy(&output.stderr), "");
    }
}

/// Adds an enamel of that reference and name.
fn add_enamel(studio: &Studio, reference: &str, name: &str) {
    studio.run(&["stock", "add", reference, name, "--kind", "enamel"]).done();
}

#[test]
fn quantities_are_typed_as_people_do_and_kept_exactly() {
    let studio = Studio::with_book();
    add_enamel(&studio, "EN-1", "Fen green");
    let answer = studio.json(&["stock", "receive", "EN-1", "1/4 lb", "18.40", "--lot", "2231"]);
    // One avoirdupois pound is exactly 453.59237 g (NIST SP 811, appendix B.8).
    assert_eq!(text(&answer["item"], "on_hand"), "113.3980925");
    let answer = studio.json(&["stock", "issue", "EN-1", "2oz", "--note", "Lantern drops"]);
    assert_eq!(text(&answer["item"], "on_hand"), "56.69904625");
    assert_eq!(text(&answer, "moved_value"), "9.2");
    let shown = studio.json(&["stock", "show", "EN-1"]);
    assert_eq!(text(&shown["movements"][0], "typed"), "1/4 lb");
    assert_eq!(text(&shown["movements"][1], "typed"), "2oz");
    for wrong in ["2 parsecs", "-5", "", "1e3", "99999999999999999999"] {
        studio.run(&["stock", "issue", "EN-1", "--", wrong]).refused(2);
    }
}

#[test]
fn more_than_is_on_hand_is_refused_and_nothing_changes() {
    let studio = Studio::with_book();
    add_enamel(&studio, "EN-1", "Fen green");
    studio.run(&["stock", "receive", "EN-1", "100", "12", "--date", "2026-03-01"]).done();
    let before = studio.json(&["stock", "show", "EN-1"]);
    let errors = studio.run(&["stock", "issue", "EN-1", "100.5", "--date", "2026-03-02"]).refused(1);
    assert!(errors.contains("Fen green") && errors.contains("100") && errors.contains("100.5"), "{errors}");
    // There was nothing yet on the day before the receipt.
    studio.run(&["stock", "issue", "EN-1", "1", "--date", "2026-02-28"]).refused(1);
    studio.run(&["stock", "issue", "EN-2", "1"]).refused(1);
    assert_eq!(studio.json(&["stock", "show", "EN-1"]), before);
}

#[test]
fn a_count_and_a_write_off_move_value_that_adds_up() {
    let studio = Studio::with_book();
    add_enamel(&studio, "EN-1", "Fen green");
    studio.run(&["stock", "receive", "en-1", "100", "12", "--date", "2026-03-01"]).done();
    studio.run(&["stock", "receive", "en-1", "50", "7.50", "--date", "2026-03-02"]).done();
    studio.run(&["stock", "write-off", "EN-1", "5", "--date", "2026-03-03", "--note", "Dropped jar"]).done();
    studio.run(&["stock", "count", "EN-1", "131.25", "--date", "2026-03-04"]).done();
    studio.run(&["stock", "return", "EN-1", "20", "--date", "2026-03-05"]).done();
    studio.run(&["stock", "issue", "EN-1", "33.3", "--date", "2026-03-06"]).done();
    for method in ["fifo", "average"] {
        let shown = studio.json(&["stock", "show", "EN-1", "--method", method]);
        let left = shown["movements"].as_array().and_then(|lines| lines.last()).expect("movements").clone();
        let out = ["issued", "written_off", "returned"].map(|field| millionths(&shown, field)).iter().sum::<i128>();
        assert_eq!(millionths(&shown, "received"), out + millionths(&left, "value"), "{method}");
        let on_hand = text(&left, "on_hand");
        assert_eq!(on_hand, "77.95", "131.25 counted - 20 returned - 33.3 issued");
    }
}

/// The `OpenStax` book Principles of Accounting, volume 1 (Financial Accounting, 2019), section 10.3: the July ledger of GPS
/// trackers: 150 at 21 on hand, 120 sold, 225 bought at 27, 180 sold, 210 bought at 33.
/// <https://openstax.org/books/principles-financial-accounting/pages/10-3-calculate-the-cost-of-goods-sold-and-ending-inventory-using-the-perpetual-method>
/// Published: FIFO cost of sales 7,200, left 8,955; moving average about 7,253 and 8,902, unrounded 7,252.94117647 and
/// 8,902.05882353. The book rounds the cost of each issue to 6 places, so the average is compared to one grain.
#[test]
fn a_published_ledger_gives_its_published_values() {
    let studio = Studio::with_book();
    studio.run(&["stock", "add", "GPS", "Tracker", "--kind", "consumable", "--unit", "each"]).done();
    for arguments in [
        ["receive", "GPS", "150", "3150", "--date", "2019-07-01"].as_slice(),
        &["issue", "GPS", "120", "--date", "2019-07-05"],
        &["receive", "GPS", "225", "6075", "--date", "2019-07-10"],
        &["issue", "GPS", "180", "--date", "2019-07-15"],
        &["receive", "GPS", "210", "6930", "--date", "2019-07-25"],
    ] {
        studio.run(&[["stock"].as_slice(), arguments].concat()).done();
    }
    let fifo = studio.json(&["stock", "value", "--on", "2019-07-31", "--method", "fifo"]);
    assert_eq!(text(&fifo, "total"), "8955");
    assert_eq!(text(&fifo["items"][0], "quantity"), "285");
    let shown = studio.json(&["stock", "show", "GPS", "--method", "fifo"]);
    assert_eq!(text(&shown["movements"][1], "value_change"), "-2520");
    assert_eq!(text(&shown["movements"][3], "value_change"), "-4680");
    assert_eq!(text(&shown, "issued"), "7200");

    let average = studio.json(&["stock", "value", "--on", "2019-07-31", "--method", "average"]);
    assert!((millionths(&average, "total") - 8_902_058_824).abs() <= 1, "{average}");
    let shown = studio.json(&["stock", "show", "GPS", "--method", "average"]);
    assert!((millionths(&shown, "issued") - 7_252_941_176).abs() <= 1, "{shown}");

    // On earlier days: 30 at 21, the same by both methods.
    for method in ["fifo", "average"] {
        let value = studio.json(&["stock", "value", "--on", "2019-07-09", "--method", method]);
        assert_eq!(text(&value, "total"), "630", "{method}");
        let value = studio.json(&["stock", "value", "--on", "2019-06-30", "--method", method]);
        assert_eq!(text(&value, "total"), "0", "{method}");
    }
}

#[test]
fn undo_takes_back_and_redo_does_again() {
    let studio = Studio::with_book();
    let errors = studio.run(&["undo"]).refused(1);
    assert!(!errors.trim().is_empty());
    add_enamel(&studio, "EN-1", "Fen green");
    studio.run(&["stock", "receive", "EN-1", "100", "12"]).done();
    let before = studio.json(&["stock", "list"]);
    studio.run(&["stock", "issue", "EN-1", "40"]).done();
    let after = studio.json(&["stock", "list"]);
    assert_ne!(before, after);
    let undone = studio.json(&["undo"]);
    assert_eq!(studio.json(&["stock", "list"]), before);
    let history = studio.json(&["history"]);
    assert_eq!(text(&history, "redo"), text(&undone, "done"));
    assert_eq!(history["history"][0]["undone"], true);
    studio.run(&["redo"]).done();
    assert_eq!(studio.json(&["stock", "list"]), after);
    studio.run(&["redo"]).refused(1);
    assert!(studio.run(&["history"]).done().contains("When"));
}

#[test]
fn import_export_import_is_identity() {
    let studio = Studio::with_book();
    let file = studio.file("lantern-drop.toml", LANTERN_DROP);
    let before = studio.json(&["cost", &file]);
    let imported = studio.json(&["design", "import", &file]);
    assert_eq!(text(&imported["imported"][0], "code"), "LN-DROP");
    assert_eq!(studio.json(&["cost", "--design", "LN-DROP"]), before);

    studio.run(&["design", "export", "LN-DROP", "--out", "out.toml"]).done();
    assert_eq!(studio.json(&["cost", "out.toml"]), before);
    let first = std::fs::read_to_string(studio.path("out.toml")).expect("the file written");
    assert_eq!(studio.run(&["design", "export", "ln-drop"]).done(), first);

    let errors = studio.run(&["design", "import", "out.toml"]).refused(1);
    assert!(errors.contains("LN-DROP") && errors.contains("--replace"), "{errors}");
    studio.run(&["design", "import", "out.toml", "--replace"]).done();
    assert_eq!(studio.run(&["design", "export", "LN-DROP"]).done(), first);
    assert_eq!(studio.json(&["design", "list"])["designs"].as_array().map(Vec::len), Some(1));
}

#[test]
fn one_faulty_file_keeps_all_of_them_out() {
    let studio = Studio::with_book();
    let good = studio.file("good.toml", LANTERN_DROP);
    let faulty = studio.file("faulty.toml", changed("gauge = 18", "gauge = 99"));
    let errors = studio.run(&["design", "import", &good, &faulty]).refused(2);
    assert!(errors.contains("faulty.toml") && !errors.contains("good.toml"), "{errors}");
    let twice = studio.file("twice.toml", LANTERN_DROP);
    studio.run(&["design", "import", &good, &twice]).refused(2);
    assert_eq!(studio.json(&["design", "list"])["designs"].as_array().map(Vec::len), Some(0));
    studio.run(&["design", "export", "LN-DROP"]).refused(1);
    studio.run(&["cost", "--design", "LN-DROP"]).refused(1);
}

#[test]
fn names_in_any_script_come_back_as_they_went_in() {
    let studio = Studio::with_book();
    let long = "Very long name ".repeat(12);
    let names = [
        "Émail vert d’eau, ½ transparent",
        "зелёная эмаль",
        "緑の釉薬",
        "مينا خضراء",
        "🐞 ladybird red",
        long.trim_end(),
    ];
    for (index, name) in names.iter().enumerate() {
        add_enamel(&studio, &format!("EN-{index}"), name);
    }
    let listed = studio.json(&["stock", "list"]);
    let items = listed["items"].as_array().expect("a list");
    for (index, name) in names.iter().enumerate() {
        let item = items.iter().find(|item| item["reference"] == format!("EN-{index}")).expect("the item");
        assert_eq!(text(item, "name"), *name);
    }
    assert!(studio.run(&["stock", "list", "--find", "釉薬"]).done().contains("緑の釉薬"));
    let file = studio.file("drop.toml", changed("name = \"Lantern drop\"", "name = \"🐞 緑 Lanterne d’été\""));
    studio.run(&["design", "import", &file]).done();
    assert!(studio.run(&["design", "export", "LN-DROP"]).done().contains("🐞 緑 Lanterne d’été"));
}

#[test]
fn the_demo_studio_answers_every_task() {
    let studio = Studio::with_demo();
    let stock = studio.json(&["stock", "list"]);
    let items = stock["items"].as_array().expect("a list").len();
    assert!(items >= 55, "about forty enamels and fifteen blanks: {items}");
    let enamels = studio.json(&["stock", "list", "--kind", "enamel"]);
    assert!(enamels["items"].as_array().is_some_and(|list| list.len() >= 35 && list.len() < items), "{enamels}");
    let low = studio.json(&["stock", "list", "--low"]);
    for item in low["items"].as_array().expect("a list") {
        assert_eq!(item["low"], true, "{item}");
    }
    let sum = items_sum(&stock["items"]);
    let today = studio.json(&["stock", "value", "--on", "2100-01-01"]);
    assert_eq!(millionths(&today, "total"), sum, "the list and the value on a day say the same");
    assert_eq!(items_sum(&today["items"]), sum);

    let designs = studio.json(&["design", "list"]);
    let designs = designs["designs"].as_array().expect("a list");
    assert!(designs.len() >= 12, "{designs:?}");
    let prices = studio.json(&["prices"]);
    let priced = prices["designs"].as_array().expect("a list");
    assert_eq!(priced.len(), designs.len());
    for design in priced {
        assert!(design.get("error").is_none(), "{design}");
        let code = text(design, "design");
        let own = studio.json(&["cost", "--design", code]);
        assert_eq!(own["per_good_piece"], design["per_good_piece"], "{code}");
    }
    for spoken in [["stock", "list"].as_slice(), &["stock", "value"], &["design", "list"], &["prices"], &["history"]] {
        assert!(studio.run(spoken).done().lines().count() > 1, "{spoken:?}");
    }
    let report = studio.json(&["check"]);
    assert_eq!(report["sound"], true, "{report}");
    assert!(report["checked"].as_array().is_some_and(|list| !list.is_empty()));
}

fn items_sum(items: &Value) -> i128 {
    items.as_array().expect("a list").iter().map(|item| millionths(item, "value")).sum()
}

#[test]
fn tickets_are_accepted_into_a_dated_list_that_can_be_undone() {
    let studio = Studio::with_book();
    let file = studio.file("lantern-drop.toml", LANTERN_DROP);
    studio.run(&["design", "import", &file]).done();
    let prices = studio.json(&["prices"]);
    let common = text(&prices["designs"][0]["common_ticket"], "ticket").to_owned();
    assert_eq!(prices["designs"][0]["channels"][0]["accepted"], Value::Null);

    let accepted = studio.json(&["prices", "--accept", "Harbour Fair", "--date", "2026-06-01"]);
    assert_eq!(accepted["accepted_list"]["tickets"], 3);
    let after = studio.json(&["prices"]);
    let channels = after["designs"][0]["channels"].as_array().expect("a list").clone();
    // Accepted, the common ticket is the ticket of all retail channels; wholesale keeps its own.
    for (channel, ticket) in channels.iter().zip([&common, &common, &text(&channels[2], "ticket").to_owned()]) {
        assert_eq!(text(&channel["accepted"], "ticket"), *ticket, "{channel}");
        assert_eq!(text(&channel["accepted"], "list"), "Harbour Fair");
        assert_eq!(text(&channel["accepted"], "date"), "2026-06-01");
    }
    studio.run(&["undo"]).done();
    assert_eq!(studio.json(&["prices"]), prices);
    studio.run(&["prices", "--channel", "nowhere"]).refused(1);
    studio.run(&["prices", "--design", "NONE"]).refused(1);
}

#[test]
fn a_book_that_cannot_be_opened_is_left_as_it_is() {
    let studio = Studio::new();
    let errors = studio.run(&["stock", "list"]).refused(2);
    assert!(errors.contains("studio.studiobook"), "{errors}");

    // Not a book: a text, a picture, a database of another program, an empty file.
    let other = studio.path("other.sqlite");
    rusqlite::Connection::open(&other).and_then(|other| other.execute_batch("CREATE TABLE t (x)")).expect("a database");
    let other = std::fs::read(&other).expect("the database");
    for bytes in [b"Dear diary".as_slice(), b"\x89PNG\r\n\x1a\n", &other, b""] {
        std::fs::write(studio.book(), bytes).expect("a file");
        for task in [["stock", "list"].as_slice(), &["undo"], &["check"], &["design", "list"]] {
            let errors = studio.run(task).refused(2);
            assert!(errors.contains("not a studio book"), "{task:?}: {errors}");
        }
        assert_eq!(std::fs::read(studio.book()).expect("the file"), bytes, "it was changed");
        studio.run(&["new"]).refused(1);
        studio.run(&["demo"]).refused(1);
        assert_eq!(std::fs::read(studio.book()).expect("the file"), bytes, "it was changed");
    }
}

#[test]
fn a_newer_book_and_a_damaged_book_are_refused_kindly() {
    let studio = Studio::with_demo();
    let whole = std::fs::read(studio.book()).expect("the book");

    rusqlite::Connection::open(studio.book())
        .and_then(|book| book.pragma_update(None, "user_version", 9000))
        .expect("a newer version");
    let errors = studio.run(&["stock", "list"]).refused(2);
    assert!(errors.contains("newer"), "{errors}");

    let mut torn = whole.clone();
    let (from, to) = (torn.len() / 4, torn.len() / 2);
    torn[from..to].fill(0xA5);
    for leftover in ["studio.studiobook-wal", "studio.studiobook-shm"] {
        let _ = std::fs::remove_file(studio.path(leftover));
    }
    std::fs::write(studio.book(), &torn).expect("a damaged book");
    let errors = studio.run(&["undo"]).refused(2);
    assert!(errors.contains("damaged"), "{errors}");
}

#[test]
fn a_book_in_use_can_be_looked_at_but_not_worked_in() {
    let studio = Studio::with_book();
    add_enamel(&studio, "EN-1", "Fen green");
    let today = chrono::NaiveDate::from_ymd_opt(2026, 3, 14).expect("a day");
    let held = enamelwright::book::Book::open(&studio.book(), enamelwright::book::Access::Write, today);
    let held = held.expect("the book opens");
    let errors = studio.run(&["stock", "receive", "EN-1", "100", "12"]).refused(1);
    assert!(errors.contains("open in another window"), "{errors}");
    assert!(studio.run(&["stock", "list"]).done().contains("Fen green"));
    drop(held);
    studio.run(&["stock", "receive", "EN-1", "100", "12"]).done();
}

#[test]
fn a_new_book_needs_a_name_and_a_folder_of_its_own() {
    let studio = Studio::with_book();
    let before = std::fs::read(studio.book()).expect("the book");
    for task in ["new", "demo"] {
        let errors = studio.run(&[task]).refused(1);
        assert!(errors.contains("exists already"), "{errors}");
        let errors = studio.run(&[task, "nowhere/studio.studiobook"]).refused(1);
        assert!(errors.contains("there is no folder"), "{errors}");
    }
    assert_eq!(std::fs::read(studio.book()).expect("the book"), before);
    studio.run(&["new", "euro.studiobook", "--currency", "eur", "--studio", "Marsh Lane Enamels"]).done();
    let listed = studio.command().args(["stock", "list", "--format", "json", "--book", "euro.studiobook"]).output();
    let answer: Value = serde_json::from_slice(&listed.expect("the program runs").stdout).expect("JSON");
    assert_eq!(text(&answer, "currency"), "EUR");
}

#[test]
fn without_a_book_named_the_data_folder_holds_it() {
    let studio = Studio::new();
    let run = |arguments: &[&str]| studio.command().args(arguments).output().expect("the program runs");
    assert_eq!(run(&["stock", "list"]).status.code(), Some(2));
    assert_eq!(run(&["new", "--currency", "EUR"]).status.code(), Some(0));
    let output = run(&["stock", "list", "--format", "json"]);
    let answer: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(text(&answer, "currency"), "EUR");
}

#[test]
fn tags_and_cards_are_printed_for_the_demo_studio() {
    let studio = Studio::with_demo();
    studio.run(&["print", "tags", "--out", "tags.pdf"]).done();
    studio.run(&["print", "cards", "--out", "cards.pdf"]).done();
    for name in ["tags.pdf", "cards.pdf"] {
        let pdf = lopdf::Document::load(studio.path(name)).expect("a PDF that an independent reader opens");
        assert!(!pdf.get_pages().is_empty(), "{name}");
    }
    let designs = studio.json(&["design", "list"]);
    let code = text(&designs["designs"][0], "code").to_owned();
    for symbol in ["qr", "data-matrix", "code-128", "none"] {
        let arguments = ["print", "tags", "--out", "one.pdf", "--copies", "3", "--start", "2", "--with-stops"];
        studio.run(&[arguments.as_slice(), &["--design", &code, "--symbol", symbol]].concat()).done();
    }
    studio.run(&["print", "tags", "--out", "x.pdf", "--design", "NONE"]).refused(1);
    studio.run(&["print", "tags", "--out", "x.pdf", "--sheet", "No such sheet"]).refused(1);
    studio.run(&["print", "tags", "--out", "x.pdf", "--channel", "nowhere"]).refused(1);
    assert!(!studio.path("x.pdf").exists());
}

#[test]
fn a_file_that_cannot_be_written_is_a_no() {
    let studio = Studio::with_demo();
    let errors = studio.run(&["print", "tags", "--out", "nowhere/tags.pdf"]).refused(1);
    assert!(errors.contains("there is no folder nowhere"), "{errors}");
    let errors = studio.run(&["print", "cards", "--out", "."]).refused(1);
    assert!(errors.contains("it is a folder"), "{errors}");
    // A device that is always full stands for a full disk; Linux has one.
    if Path::new("/dev/full").exists() {
        studio.run(&["print", "tags", "--out", "/dev/full"]).refused(1);
    }
}

#[test]
fn a_backup_restores_what_was_there() {
    let studio = Studio::with_book();
    add_enamel(&studio, "EN-1", "Fen green");
    let before = studio.json(&["stock", "list"]);
    studio.run(&["backup", "--to", "kept.studiobook"]).done();
    studio.run(&["backup"]).done();
    add_enamel(&studio, "EN-2", "Oat");
    let kept = studio.json(&["restore", "--list"]);
    assert!(!kept["copies"].as_array().expect("a list").is_empty(), "{kept}");
    studio.run(&["restore", "kept.studiobook"]).done();
    assert_eq!(studio.json(&["stock", "list"]), before);
    studio.run(&["backup", "--to", "nowhere/kept.studiobook"]).refused(1);
    let diary = studio.file("diary.studiobook", "Dear diary");
    studio.run(&["restore", &diary]).refused(2);
    studio.run(&["restore", "missing.studiobook"]).refused(2);
    assert_eq!(studio.json(&["stock", "list"]), before);
}

#[test]
fn a_lot_is_traced_to_everything_it_went_into() {
    let studio = Studio::with_book();
    add_enamel(&studio, "EN-041", "Fen green");
    studio.run(&["stock", "receive", "EN-041", "100g", "10.00", "--lot", "2231", "--date", "2026-01-10"]).done();
    studio.run(&["stock", "receive", "EN-041", "50g", "6.00", "--date", "2026-01-20"]).done();
    studio.run(&["stock", "issue", "EN-041", "120g", "--note", "Lantern drops", "--date", "2026-02-01"]).done();
    let all = studio.json(&["stock", "trace", "EN-041"]);
    // The oldest lot leaves first: all of it, and 20 g of the next.
    let lots = all["lots"].as_array().expect("lots");
    let told: Vec<(&str, &str, &str)> =
        lots.iter().map(|lot| (text(lot, "came"), text(lot, "left"), text(&lot["taken"][0], "quantity"))).collect();
    assert_eq!(told, [("100", "0", "100"), ("50", "30", "20")]);
    assert_eq!((text(&lots[0], "lot_number"), text(&lots[0], "cost")), ("2231", "10"));
    assert_eq!(text(&lots[1]["taken"][0], "note"), "Lantern drops");
    let said = studio.run(&["stock", "trace", "EN-041", "--lot", "2"]).done();
    assert!(said.contains("20 g") && said.contains("30 g") && !said.contains("2231"), "{said}");
    let refused = studio.run(&["stock", "trace", "EN-041", "--lot", "3"]).refused(1);
    assert!(refused.contains("Fen green has no lot 3"), "{refused}");
}
