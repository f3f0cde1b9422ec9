//! Files of movements, and lots after they came in, run as a person runs them: the real program, real files.

#![allow(clippy::panic, clippy::expect_used, clippy::indexing_slicing, reason = "helpers of tests fail by panicking")]

use rust_decimal::Decimal;
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// A folder of its own for one test, with an empty book in it.
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
    #[track_caller]
    fn done(self) -> String {
        assert_eq!(self.status, 0, "{self:?}");
        self.out
    }

    /// The errors of a run that ended with this status; nothing is on standard output, and nothing panicked.
    #[track_caller]
    fn refused(self, status: i32) -> String {
        assert_eq!(self.status, status, "{self:?}");
        assert_eq!(self.out, "", "an answer beside an error: {self:?}");
        assert!(!self.errors.is_empty() && !self.errors.contains("panicked"), "{self:?}");
        self.errors
    }
}

impl Studio {
    fn new() -> Self {
        let studio = Self { folder: tempfile::tempdir().expect("a temporary folder") };
        studio.run(&["new"]).done();
        studio
    }

    fn book(&self) -> PathBuf {
        self.folder.path().join("studio.studiobook")
    }

    fn file(&self, name: &str, text: impl AsRef<[u8]>) -> String {
        let path = self.folder.path().join(name);
        std::fs::write(&path, text).expect("a file in the temporary folder");
        path.to_str().expect("a path in UTF-8").to_owned()
    }

    fn run(&self, arguments: &[&str]) -> Run {
        let output = Command::new(env!("CARGO_BIN_EXE_enamelwright"))
            .current_dir(self.folder.path())
            .env("HOME", self.folder.path())
            .env("XDG_DATA_HOME", self.folder.path().join("data"))
            .env_remove("DISPLAY")
            .env_remove("WAYLAND_DISPLAY")
            .arg("--book")
            .arg(self.book())
            .args(arguments)
            .output()
            .expect("the program runs");
        Run {
            status: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout).expect("answers are UTF-8"),
            errors: String::from_utf8(output.stderr).expect("errors are UTF-8"),
        }
    }

    fn json(&self, arguments: &[&str]) -> Value {
        let out = self.run(&[arguments, &["--format", "json"]].concat()).done();
        serde_json::from_str(&out).unwrap_or_else(|error| panic!("{error}: {out}"))
    }

    /// Everything the book says about stock.
    fn stock(&self) -> Value {
        self.json(&["stock", "list", "--all"])
    }
}

fn decimal(value: &Value) -> Decimal {
    let text = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
    text.parse().unwrap_or_else(|error| panic!("{error}: {value}"))
}

/// The perpetual FIFO and moving-average worked examples of `tests/data/c_cost_accounting.csv` (each row names its source),
/// line by line through a file: every sale's cost, what is left and its value. Published figures are unrounded; each
/// issue of ours is rounded to a millionth, so an issue is compared to within one grain and a sum to one grain an issue.
#[test]
fn published_ledgers_come_in_as_files_and_are_valued_line_by_line() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/c_cost_accounting.csv");
    let mut reader = csv::Reader::from_path(path).expect("the published values");
    let mut seen = 0;
    for record in reader.records() {
        let record = record.expect("a row of the published values");
        if !record[0].starts_with("C-LED-") {
            continue;
        }
        seen += 1;
        let id = &record[0];
        let method = if id.ends_with("-FIFO") { "fifo" } else { "average" };
        let inputs: Value = serde_json::from_str(&record[2]).expect("inputs");
        let answer: Value = serde_json::from_str(&record[3]).expect("an answer");
        let mut file = "date,item,movement,quantity,unit,cost,note\n".to_owned();
        let lines = inputs["ledger"].as_array().expect("a ledger");
        for line in lines {
            let quantity = decimal(&line["quantity"]);
            let (kind, cost) = if line["kind"] == "sell" {
                ("issue", String::new())
            } else {
                ("receipt", (quantity * decimal(&line["unit_cost"])).to_string())
            };
            // One day for all: the file's order is what parts them.
            file.push_str(&format!("2026-01-05,GOODS,{kind},{quantity},g,{cost},{id}\n"));
        }
        let studio = Studio::new();
        studio.run(&["stock", "import", &studio.file("ledger.csv", file)]).done();
        let shown = studio.json(&["stock", "show", "GOODS", "--method", method]);
        let grain = Decimal::new(1, 6);
        let sales: Vec<Decimal> = shown["movements"]
            .as_array()
            .expect("movements")
            .iter()
            .filter(|line| line["kind"] == "issue")
            .map(|line| -decimal(&line["value_change"]))
            .collect();
        let published: Vec<Decimal> =
            answer["cost_of_each_sale"].as_array().expect("sales").iter().map(decimal).collect();
        assert_eq!(sales.len(), published.len(), "{id}");
        for (sale, cost) in sales.iter().zip(&published) {
            assert!((sale - cost).abs() <= grain, "{id}: {sale} and {cost}");
        }
        let grains = grain * Decimal::from(sales.len() + 1);
        assert!((decimal(&shown["issued"]) - decimal(&answer["cogs"])).abs() <= grains, "{id}");
        let value = studio.json(&["stock", "value", "--on", "2026-01-05", "--method", method]);
        assert!((decimal(&value["total"]) - decimal(&answer["ending_value"])).abs() <= grains, "{id}: {value}");
        let left = value["items"].get(0).map_or(Decimal::ZERO, |item| decimal(&item["quantity"]));
        assert_eq!(left, decimal(&answer["ending_quantity"]), "{id}");
        let before = studio.json(&["stock", "value", "--on", "2026-01-04", "--method", method]);
        assert_eq!(decimal(&before["total"]), Decimal::ZERO, "{id}");
    }
    assert_eq!(seen, 30, "every worked example");
}

const SHELF: &str = "\u{feff}date,item,movement,quantity,unit,cost,note\r\n\
2026-01-05,EN-1,receipt,1,lb,18.40,\"first jar, sifted\"\r\n\
2026-01-05,EN-1,issue,2,oz,,\r\n\
2026-01-06,Pumice,receipt,500,g,4,\r\n\
2026-01-06,Pumice,count,0.4,kg,,half left\r\n\
2026-01-07,EN-1,wash-back,5,g,,overspray\r\n\
2026-01-08,EN-1,return,100,g,,\r\n\
2026-01-09,EN-1,write-off,1,g,,dropped\r\n";

#[test]
fn a_file_is_shown_first_then_brought_in_whole_and_undone() {
    let studio = Studio::new();
    studio.run(&["stock", "add", "EN-1", "Fen green", "--kind", "enamel"]).done();
    let before = studio.stock();
    let file = studio.file("shelf.csv", SHELF);
    let preview = studio.json(&["stock", "import", &file, "--preview"]);
    assert_eq!(preview["done"], Value::Null);
    assert_eq!(preview["new_items"][0]["reference"], "Pumice");
    assert_eq!(
        (&preview["new_items"][0]["kind"], &preview["new_items"][0]["unit"]),
        (&"consumable".into(), &"g".into())
    );
    // The pound of 1959 is exactly 453.59237 g.
    assert_eq!(preview["movements"][0]["quantity"], "453.59237");
    assert_eq!(preview["movements"][3]["quantity"], "400");
    assert_eq!(preview["movements"][4]["cost"], "0");
    assert_eq!(studio.stock(), before, "a preview changes nothing");
    let text = studio.run(&["stock", "import", &file, "--preview"]).done();
    for part in ["Pumice", "Nothing was changed", "7 movements: 2 receipt, 1 issue, 1 return, 1 count"] {
        assert!(text.contains(part), "{text}");
    }
    let done = studio.json(&["stock", "import", &file]);
    assert_eq!(done["done"], "Bring in 1 item and 7 movements from shelf.csv");
    let shown = studio.json(&["stock", "show", "en-1"]);
    let kinds: Vec<&str> =
        shown["movements"].as_array().expect("movements").iter().filter_map(|line| line["kind"].as_str()).collect();
    assert_eq!(kinds, ["receipt", "issue", "wash-back", "return", "write-off"]);
    assert_eq!(shown["movements"][0]["note"], "first jar, sifted");
    assert_eq!(studio.json(&["stock", "show", "PUMICE"])["item"]["on_hand"], "400");
    studio.run(&["check"]).done();
    studio.run(&["undo"]).done();
    assert_eq!(studio.stock(), before, "one undo takes all of it back");
}

#[test]
fn every_problem_is_told_and_nothing_is_brought_in() {
    let studio = Studio::new();
    studio.run(&["stock", "add", "WI-1", "Cloison wire", "--kind", "wire", "--gauge", "26"]).done();
    let before = studio.stock();
    let file = studio.file(
        "odd.csv",
        "date,item,movement,quantity,unit,cost,note\n\
         2026-01-05,Pumice,receipt,500,g,4,\n\
         5/1/2026,Pumice,issue,1,g,,\n\
         2026-01-05,WI-1,receipt,1,kg,4,\n\
         2026-01-05,WI-1,buy,1,m,4,\n\
         2026-01-05,WI-1,receipt,-1,m,4,\n\
         2026-01-05,WI-1,receipt,1,m,,\n",
    );
    for arguments in [&["stock", "import", &file][..], &["stock", "import", &file, "--preview"]] {
        let errors = studio.run(arguments).refused(2);
        let lines: Vec<&str> = errors.lines().collect();
        assert_eq!(lines.len(), 5, "{errors}");
        for (line, place) in
            lines.iter().zip(["row 3, date", "row 4, unit", "row 5, movement", "row 6, quantity", "row 7, cost"])
        {
            assert!(line.contains(place), "{line} and {place}");
        }
    }
    assert_eq!(studio.stock(), before);
    // The file is fine, the stock is short: the program says no.
    let file = studio.file(
        "short.csv",
        "date,item,movement,quantity,unit,cost,note\n\
         2026-01-05,Pumice,receipt,500,g,4,\n\
         2026-01-06,Pumice,issue,501,g,,\n\
         2026-01-07,Pumice,write-off,500.5,g,,\n",
    );
    let errors = studio.run(&["stock", "import", &file]).refused(1);
    assert!(errors.contains("row 3, quantity: only 500 on hand on 2026-01-06, 501 asked for"), "{errors}");
    assert!(errors.contains("row 4, quantity: only 500 on hand on 2026-01-07, 500.5 asked for"), "{errors}");
    assert_eq!(studio.stock(), before);
    for (name, bytes) in [
        ("empty.csv", &b""[..]),
        ("words.csv", b"Dear studio,\nplease find attached\n"),
        ("latin.csv", b"date,item,movement,quantity,unit,cost,note\n2026-01-05,\xc9mail,count,1,g,,\n"),
        ("zip.csv", b"PK\x03\x04\x00\x00\x00\x00"),
        ("nulls.csv", &[0; 4096]),
    ] {
        studio.run(&["stock", "import", &studio.file(name, bytes)]).refused(2);
    }
    studio.run(&["stock", "import", "no-such-file.csv"]).refused(2);
    let blank = format!("date,item,movement,quantity,unit,cost,note\n{}", ",,,,,,\n".repeat(100_000));
    let errors = studio.run(&["stock", "import", &studio.file("blank.csv", blank)]).refused(1);
    assert!(errors.contains("has nothing to bring in"), "{errors}");
    assert_eq!(studio.stock(), before);
}

#[test]
fn a_correction_says_what_moves_and_a_wash_back_takes_its_cost_along() {
    let studio = Studio::new();
    for (reference, name) in [("EN-1", "Fen green"), ("EN-2", "Counter jar")] {
        studio.run(&["stock", "add", reference, name, "--kind", "enamel"]).done();
    }
    studio.run(&["stock", "receive", "EN-1", "100", "10", "--date", "2026-01-05"]).done();
    studio.run(&["stock", "issue", "EN-1", "60", "--date", "2026-01-06"]).done();
    let into = studio.json(&["stock", "wash-back", "EN-2", "5", "--from", "EN-1", "--date", "2026-01-07"]);
    assert_eq!((&into["item"]["on_hand"], &into["item"]["value"]), (&"5".into(), &"0.5".into()));
    let into = studio.json(&["stock", "wash-back", "EN-2", "5", "--date", "2026-01-07"]);
    assert_eq!((&into["item"]["on_hand"], &into["item"]["value"]), (&"10".into(), &"0.5".into()));
    studio.run(&["stock", "wash-back", "EN-2", "5", "--cost", "1", "--from", "EN-1"]).refused(2);

    let before = studio.stock();
    let seen = studio.json(&["stock", "correct", "1", "15", "--preview"]);
    assert_eq!(seen["done"], Value::Null);
    assert_eq!(studio.stock(), before);
    let done = studio.json(&["stock", "correct", "1", "15", "--note", "Invoice", "--date", "2026-02-01"]);
    assert_eq!(done["done"], "Correct lot 1 of Fen green from 10 to 15");
    assert_eq!(done["issued"], serde_json::json!({ "before": "6", "after": "9" }));
    assert_eq!(done["value"], serde_json::json!({ "before": "4", "after": "6" }));
    assert_eq!(done["movements"][0]["kind"], "issue");
    assert_eq!(studio.json(&["stock", "show", "EN-1"])["received"], "15");
    studio.run(&["stock", "correct", "2", "15"]).refused(1);
    studio.run(&["stock", "correct", "1", "-15"]).refused(2);
    studio.run(&["check"]).done();
}

#[test]
fn jars_are_weighed_one_after_another_and_a_large_difference_has_a_cause() {
    let studio = Studio::new();
    studio.run(&["stock", "add", "EN-1", "Fen green", "--kind", "enamel", "--lead"]).done();
    studio.run(&["stock", "receive", "EN-1", "200", "20", "--date", "2026-01-05"]).done();
    studio.run(&["stock", "jar", "A3-01", "EN-1", "80g"]).done();
    studio.run(&["stock", "jar", "A3-02", "en-1", "82.5"]).done();
    // The other jar was never weighed.
    let errors = studio.run(&["stock", "weigh", "A3-01", "180"]).refused(2);
    assert!(errors.contains("Weight of A3-02"), "{errors}");
    let preview = studio.json(&["stock", "weigh", "a3-01", "180", "A3-02", "178.5", "--preview"]);
    // 100 g and 96 g net: 4 g less than 200 g.
    assert_eq!((&preview["items"][0]["counted"], &preview["items"][0]["difference"]), (&"196".into(), &"-4".into()));
    assert_eq!((&preview["items"][0]["value"], &preview["items"][0]["large"]), (&"-0.4".into(), &false.into()));
    assert_eq!(preview["items"][0]["lead_bearing"], true);
    let done = studio.json(&["stock", "weigh", "a3-01", "180", "A3-02", "178.5"]);
    assert_eq!((&done["done"], &done["moved_value"]), (&"Weigh 2 jars".into(), &"0.4".into()));
    // One of them again: the other counts as it weighed before; 30 g less is more than a tenth.
    let errors = studio.run(&["stock", "weigh", "A3-01", "150"]).refused(2);
    assert!(errors.starts_with("Cause: nothing was given; why Fen green weighs 166 g and not 196 g"), "{errors}");
    let done = studio.json(&["stock", "weigh", "A3-01", "150", "--cause", "Spilled"]);
    assert_eq!(done["items"][0]["from_before"], serde_json::json!(["A3-02"]));
    let shown = studio.json(&["stock", "show", "EN-1"]);
    assert_eq!((&shown["item"]["on_hand"], &shown["movements"][2]["note"]), (&"166".into(), &"Spilled".into()));
    studio.run(&["stock", "weigh", "A3-01", "79"]).refused(2);
    studio.run(&["stock", "weigh", "A3-01"]).refused(2);
    studio.run(&["stock", "weigh", "A3-01", "150", "A3-02"]).refused(2);
    studio.run(&["stock", "weigh", "A3-09", "150"]).refused(1);
    studio.run(&["check"]).done();
    studio.run(&["undo"]).done();
    assert_eq!(studio.json(&["stock", "show", "EN-1"])["item"]["on_hand"], "196");
}

#[test]
fn a_closed_period_says_no() {
    let studio = Studio::new();
    studio.run(&["stock", "import", &studio.file("shelf.csv", SHELF)]).done();
    assert_eq!(studio.json(&["stock", "close", "2026-01-31"])["closed_until"], "2026-01-31");
    let before = studio.stock();
    let errors = studio.run(&["stock", "receive", "EN-1", "5", "1", "--date", "2026-01-31"]).refused(1);
    assert!(errors.contains("the period up to 2026-01-31 is closed"), "{errors}");
    let errors = studio.run(&["stock", "correct", "1", "20", "--date", "2026-02-01"]).refused(1);
    assert!(errors.contains("the period up to 2026-01-31 is closed"), "{errors}");
    let errors = studio.run(&["stock", "import", &studio.file("again.csv", SHELF)]).refused(1);
    assert!(errors.contains("row 2, date: the period up to 2026-01-31 is closed"), "{errors}");
    assert_eq!(studio.stock(), before);
    studio.run(&["stock", "receive", "EN-1", "5", "1", "--date", "2026-02-01"]).done();
    studio.run(&["stock", "close", "--open"]).done();
    studio.run(&["stock", "receive", "EN-1", "5", "1", "--date", "2026-01-31"]).done();
}

/// What a program that reads JSON sees of a list written out.
fn written(path: &Path) -> Value {
    serde_json::from_slice(&std::fs::read(path).expect("a file was written")).expect("JSON")
}

#[test]
fn lists_are_written_in_every_form_and_a_workbook_comes_in_again() {
    let studio = Studio::new();
    studio.run(&["stock", "add", "EN-1", "=Fen green", "--kind", "enamel", "--lead"]).done();
    studio.run(&["stock", "import", &studio.file("shelf.csv", SHELF)]).done();
    let at = |name: &str| studio.folder.path().join(name);
    for ending in ["csv", "xlsx", "json"] {
        let name = format!("movements.{ending}");
        let said = studio.json(&["stock", "export", "movements", "--out", &name]);
        assert_eq!(said["tables"], serde_json::json!([{ "name": "Movements", "rows": 7 }]), "{ending}");
    }
    // Into another book, from the workbook: the same movements with the same values.
    let other = Studio::new();
    other.run(&["stock", "add", "EN-1", "=Fen green", "--kind", "enamel", "--lead"]).done();
    let workbook = at("movements.xlsx");
    let file = workbook.to_str().expect("a path in UTF-8");
    let preview = other.json(&["stock", "import", file, "--preview", "--sheet", "Movements"]);
    assert_eq!(preview["new_items"][0]["reference"], "Pumice");
    let done = other.json(&["stock", "import", file]);
    assert_eq!(done["done"], "Bring in 1 item and 7 movements from movements.xlsx");
    let moved = |studio: &Studio| {
        let shown = studio.json(&["stock", "show", "EN-1"]);
        let fields = ["date", "kind", "change", "value_change", "on_hand", "value", "supplier", "note"];
        let lines = shown["movements"].as_array().expect("movements").clone();
        lines.into_iter().map(|line| fields.map(|field| line[field].clone())).collect::<Vec<_>>()
    };
    assert_eq!(moved(&studio), moved(&other));
    other.run(&["stock", "import", file, "--sheet", "Nowhere"]).refused(2);
    // CSV: RFC 4180, and text that begins like a formula neutralised (OWASP, CSV Injection; from memory).
    studio.run(&["stock", "export", "items", "--out", "items.csv"]).done();
    let items = std::fs::read_to_string(at("items.csv")).expect("a file was written");
    assert!(items.contains("EN-1,'=Fen green,enamel,g,"), "{items}");
    studio.run(&["stock", "export", "value", "--on", "2026-01-05", "--out", "value.json"]).done();
    let value = written(&at("value.json"));
    assert_eq!((&value["format"], &value["version"]), (&"enamelwright-tables".into(), &1.into()));
    assert_eq!(value["tables"][0]["name"], "Value on 2026-01-05");
    // The whole of it: a folder of CSV, one file of CSV, one workbook, one JSON.
    studio.run(&["stock", "export", "book", "--out", "all"]).done();
    let mut names: Vec<String> = std::fs::read_dir(at("all"))
        .expect("a folder was made")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    assert_eq!(
        names,
        [
            "Accepted prices.csv",
            "Designs.csv",
            "Items.csv",
            "Lots.csv",
            "Movements.csv",
            "Prices.csv",
            "Stock value.csv"
        ]
    );
    for out in ["all.csv", "all.xlsx", "all.json"] {
        studio.run(&["stock", "export", "book", "--out", out]).done();
    }
    assert_eq!(written(&at("all.json"))["tables"].as_array().map(Vec::len), Some(7));
    studio.run(&["stock", "export", "items", "--out", "items.pdf"]).refused(2);
    studio.run(&["stock", "export", "items", "--out", "nowhere/items.csv"]).refused(1);
}

#[test]
fn a_workbook_with_faults_is_refused_whole() {
    let studio = Studio::new();
    let before = studio.stock();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/tables");
    for name in ["hostile.xlsx", "liar.xlsx", "bomb.xlsx", "cut.xlsx", "locked.xlsx", "entities.xlsx", "text.xlsx"] {
        let path = folder.join(name);
        let errors = studio.run(&["stock", "import", path.to_str().expect("a path in UTF-8")]).refused(2);
        assert!(errors.contains(name), "{errors}");
    }
    assert_eq!(studio.stock(), before);
}
