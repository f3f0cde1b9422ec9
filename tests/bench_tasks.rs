//! The bench half of the command line: whole jobs on books of their own, at a fixed time, answers read back.

#![allow(clippy::panic, clippy::unwrap_used, clippy::indexing_slicing, reason = "helpers of tests fail by panicking")]

use chrono::{NaiveDate, NaiveDateTime};
use rust_decimal::Decimal;
use serde_json::Value;
use std::process::ExitCode;
use tempfile::TempDir;

/// The invented example design that ships with the specification of design files.
const LANTERN_DROP: &str = include_str!("data/lantern-drop.toml");

struct Studio {
    folder: TempDir,
}

impl Studio {
    fn with_demo() -> Self {
        let studio = Self { folder: tempfile::tempdir().unwrap() };
        studio.done(&["demo"]);
        studio
    }

    fn with_lantern_drop() -> Self {
        Self::with_design(LANTERN_DROP)
    }

    fn with_design(text: &str) -> Self {
        let studio = Self { folder: tempfile::tempdir().unwrap() };
        studio.done(&["new"]);
        std::fs::write(studio.folder.path().join("drop.toml"), text).unwrap();
        studio.done(&["design", "import", &studio.path("drop.toml")]);
        studio
    }

    fn path(&self, name: &str) -> String {
        self.folder.path().join(name).to_str().unwrap().to_owned()
    }

    fn run(&self, arguments: &[&str]) -> (ExitCode, String, String) {
        let now: NaiveDateTime = NaiveDate::from_ymd_opt(2026, 10, 14).unwrap().and_hms_opt(20, 30, 0).unwrap();
        let book = self.path("studio.studiobook");
        let all = ["enamelwright", "--book", &book].into_iter().chain(arguments.iter().copied());
        let (mut out, mut errors) = (Vec::new(), Vec::new());
        let code = enamelwright::command::run(all.map(Into::into), now, |_| Ok(()), &mut out, &mut errors);
        (code, String::from_utf8(out).unwrap(), String::from_utf8(errors).unwrap())
    }

    #[track_caller]
    fn done(&self, arguments: &[&str]) -> String {
        let (code, out, errors) = self.run(arguments);
        assert_eq!(code, ExitCode::SUCCESS, "{arguments:?}: {errors}");
        out
    }

    #[track_caller]
    fn json(&self, arguments: &[&str]) -> Value {
        let out = self.done(&[arguments, &["--format", "json"]].concat());
        serde_json::from_str(&out).unwrap_or_else(|error| panic!("{error}: {out}"))
    }

    /// The errors of a run that is refused with this status and says nothing else.
    #[track_caller]
    fn refused(&self, status: u8, arguments: &[&str]) -> String {
        let (code, out, errors) = self.run(arguments);
        assert_eq!(code, ExitCode::from(status), "{arguments:?}: {out}{errors}");
        assert!(out.is_empty() && !errors.is_empty(), "{arguments:?}: {out}{errors}");
        errors
    }

    fn add_kiln(&self) {
        self.done(&[
            "kiln",
            "add",
            "Small kiln",
            "--kw",
            "1.6",
            "--warm-up",
            "38",
            "--working",
            "800C",
            "--duty",
            "42%",
            "--max",
            "1050C",
            "--shelf",
            "600",
        ]);
    }
}

fn amount(value: &Value, field: &str) -> Decimal {
    value[field].as_str().unwrap_or_else(|| panic!("{field} of {value}")).parse().unwrap()
}

/// Pieces of a batch at each standing.
fn standing(batch: &Value, words: &str) -> usize {
    batch["pieces"].as_array().unwrap().iter().filter(|piece| piece["standing"] == words).count()
}

/// Takes all pieces of a batch of the demo studio's Marker buoy through its route: piece 3 chips at the counter
/// enamel, piece 2 goes in again.
fn through_the_route(studio: &Studio, number: &str) {
    let show = studio.json(&["batch", "show", number]);
    let mut minute = 0;
    for step in show["steps"].as_array().unwrap() {
        let place = step["step"].to_string();
        if step["kind"] == "fire" {
            let mut load = |extra: &[&str]| {
                let (closed, opened) = (format!("{}:{:02}", 9 + minute / 60, minute % 60), minute + 3);
                let opened = format!("{}:{:02}:15", 9 + opened / 60, opened % 60);
                minute += 10;
                let batch = format!("{number}:{place}");
                let words =
                    ["kiln", "log", "--closed", &closed, "--opened", &opened, "--set", "1440F", "--batch", &batch];
                studio.json(&[&words, extra].concat())
            };
            if place == "3" {
                let again = format!("{number}/2");
                let answer = load(&["--again", &again, "--read", "1445F"]);
                let pieces = answer["load"]["pieces"].as_array().unwrap();
                assert_eq!(pieces.iter().filter(|piece| piece["result"] == "again").count(), 1, "{answer}");
                // °C = (°F − 32) · 5/9.
                assert!(answer["load"]["read_celsius"].as_str().unwrap().starts_with("785"), "{answer}");
            }
            load(&[]);
        } else if place == "1" {
            studio.done(&["batch", "step", number, &place, "--minutes", "35"]);
        } else if place == "2" {
            studio.done(&[
                "batch",
                "step",
                number,
                &place,
                "--used",
                "EN-011=9g",
                "--back",
                "EN-011=1.5g",
                "--lost",
                "3:chipped",
            ]);
        } else {
            studio.done(&["batch", "step", number, &place]);
        }
    }
}

#[test]
fn a_batch_goes_from_its_start_to_numbered_pieces() {
    let studio = Studio::with_demo();
    let started = studio.json(&["batch", "start", "buoy", "--pieces", "6"]);
    assert_eq!(started["batch"].as_u64(), Some(7));
    // The demo studio's open batches have 19 of its 14 chains reserved already.
    let short = &started["short"][0];
    assert_eq!(
        (short["item"].as_str(), short["on_hand"].as_str(), short["reserved"].as_str(), short["short"].as_str()),
        (Some("FI-04"), Some("14"), Some("19"), Some("6"))
    );
    assert_eq!(standing(&started, "step"), 6);
    through_the_route(&studio, "7");
    let show = studio.json(&["batch", "show", "7"]);
    assert_eq!((standing(&show, "done"), standing(&show, "lost")), (5, 1));
    assert_eq!(show["account"]["variances"], Value::Null);
    let done = studio.json(&["batch", "finish", "7", "--seconds", "2,5"]);
    assert_eq!((standing(&done, "finished"), done["state"].as_str()), (5, Some("finished")));

    // Kiln and batch method, section 4: the four variances are the difference; what its pieces cost is the batch's cost.
    let account = &done["account"];
    let variances = &account["variances"];
    let four: Decimal = ["price", "usage", "time", "yield"].iter().map(|one| amount(variances, one)).sum();
    assert_eq!(four, amount(variances, "difference"), "{variances}");
    let pieces: Vec<&Value> =
        done["pieces"].as_array().unwrap().iter().filter(|piece| piece["standing"] == "finished").collect();
    let sum: Decimal = pieces.iter().map(|piece| amount(piece, "cost")).sum();
    assert_eq!(sum + amount(account, "unborne"), amount(account, "cost"));
    let spent: Decimal = ["materials", "labour", "overhead", "kiln_energy", "kiln_wear", "came"]
        .iter()
        .map(|part| amount(account, part))
        .sum();
    assert_eq!(spent - amount(account, "scrap") - amount(account, "abnormal"), amount(account, "cost"));
    // Piece 2 was fired once more: it alone bears that.
    let cost_of = |place: &str| pieces.iter().find(|piece| piece["piece"] == place).map(|piece| amount(piece, "cost"));
    assert!(cost_of("2") > cost_of("1"), "{pieces:?}");
    // Equal shares differ by the grain at most (largest remainder).
    let apart = cost_of("4").unwrap() - cost_of("6").unwrap();
    assert!(apart.abs() <= Decimal::new(1, 6), "{pieces:?}");

    // Weighed: 9 g out, 1.5 g back.
    let counter = &show["steps"][1]["materials"][0];
    assert_eq!(counter["quantity"]["actual"], "7.5", "{counter}");

    let listed = studio.json(&["piece", "list"]);
    // The demo studio has finished pieces of other designs.
    let listed: Vec<&Value> = listed["pieces"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|one| one["number"].as_str().unwrap().starts_with("BUOY-"))
        .collect();
    let numbers: Vec<&str> = listed.iter().map(|one| one["number"].as_str().unwrap()).collect();
    assert_eq!(numbers.len(), 5);
    assert_eq!(listed.iter().filter(|one| one["second"] == true).count(), 2);
    let story = studio.json(&["piece", "show", &numbers[0].to_lowercase()]);
    let parts: Decimal = story["parts"].as_array().unwrap().iter().map(|part| amount(part, "cost")).sum();
    assert_eq!(parts, amount(&story, "cost"));
    assert!(story["lots"].as_array().unwrap().iter().any(|lot| lot["item"] == "EN-011"), "{story}");
    assert!(story["loads"].as_array().unwrap().len() >= 4, "{story}");

    // From the lot forward to the pieces.
    let trace = studio.json(&["stock", "trace", "EN-011"]);
    let batches: Vec<&Value> = trace["lots"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|lot| lot["taken"].as_array().unwrap())
        .filter(|taken| taken["batch"]["batch"] == 7)
        .collect();
    assert!(!batches.is_empty(), "{trace}");
    assert!(batches[0]["batch"]["pieces"].as_array().unwrap().iter().any(|piece| piece["number"] == numbers[0]));
    assert!(studio.done(&["stock", "trace", "EN-011"]).contains("batch 7, step 2"));

    let learned = studio.json(&["learn", "BUOY"]);
    assert_eq!(
        (learned["steps"][1]["good"]["good"].as_u64(), learned["steps"][1]["good"]["of"].as_u64()),
        (Some(5), Some(6))
    );
    let log = studio.json(&["kiln", "log", "--from", "2026-10-14"]);
    assert_eq!(log["loads"].as_array().unwrap().len(), 5);
    assert_eq!(studio.json(&["kiln", "log", "--from", "2026-10-15"])["loads"], serde_json::json!([]));
    for task in
        [&["batch", "show", "7"][..], &["piece", "list"], &["kiln", "log"], &["batch", "list", "--state", "all"]]
    {
        assert!(studio.done(task).lines().count() > 1, "{task:?}");
    }
    assert!(studio.refused(1, &["print", "bench-sheet", "7", "--out", &studio.path("b.pdf")]).contains("at work"));
    let page = studio.path("log.pdf");
    assert!(
        studio
            .done(&["print", "kiln-log", "--out", &page, "--rows", "2", "--from", "2026-10-14"])
            .contains("5 loads on ")
    );
    assert!(std::fs::read(&page).unwrap().starts_with(b"%PDF"));
    studio.done(&["check"]);
    studio.done(&["undo"]);
    assert_eq!(standing(&studio.json(&["batch", "show", "7"]), "done"), 5);
}

#[test]
fn what_is_learnt_is_taken_one_by_one() {
    let studio = Studio::with_demo();
    studio.done(&["batch", "start", "BUOY", "--pieces", "4"]);
    studio.done(&["batch", "step", "7", "1", "--minutes", "40"]);
    let before = studio.json(&["learn", "BUOY"]);
    let first = &before["proposals"][0];
    assert_eq!((first["figure"].as_str(), first["step"].as_u64()), (Some("minutes-per-piece"), Some(1)), "{before}");
    assert!(studio.refused(1, &["learn", "BUOY", "--accept", "99"]).contains("no proposal 99"));
    let after = studio.json(&["learn", "BUOY", "--accept", "1"]);
    assert_eq!(after["steps"][0]["minutes_per_piece"]["planned"], first["proposed"]);
    assert!(studio.refused(1, &["learn", "NOBODY"]).contains("no design NOBODY"));
}

#[test]
fn a_stop_is_fired_past_only_with_the_words_and_they_are_kept() {
    let studio = Studio::with_lantern_drop();
    studio.add_kiln();
    studio.done(&["batch", "start", "LN-DROP", "--pieces", "3"]);
    for step in ["1", "2"] {
        studio.done(&["batch", "step", "1", step]);
    }
    // At the flow point of its solder, 745 °C (costing method, section 9).
    let load = ["kiln", "log", "--closed", "10:02", "--opened", "10:05", "--set", "745C", "--batch", "1:3"];
    let said = studio.refused(2, &load);
    assert!(said.contains("745"), "{said}");
    studio.json(&[&load[..], &["--override", "fire anyway", "--lost", "1/3:solder-let-go"]].concat());
    let log = studio.json(&["kiln", "log"]);
    assert_eq!(log["loads"][0]["override"], "fire anyway");
    assert_eq!(log["loads"][0]["pieces"][2]["cause"], "solder-let-go");
    let sheet = studio.path("bench.pdf");
    let wrote = studio.done(&["print", "bench-sheet", "enamelwright:batch/1", "--out", &sheet, "--letter"]);
    assert!(wrote.contains("batch 1, 2 pieces on "), "{wrote}");
    assert!(std::fs::read(&sheet).unwrap().starts_with(b"%PDF"));
}

#[test]
fn pieces_part_and_meet_again_and_nothing_of_their_cost_is_lost() {
    let studio = Studio::with_lantern_drop();
    studio.done(&["batch", "start", "LN-DROP", "--pieces", "6", "--name", "For the lock"]);
    studio.done(&["batch", "step", "1", "1"]);
    let whole = amount(&studio.json(&["batch", "show", "1"])["account"], "cost");
    let split = studio.json(&["batch", "split", "1", "4-6", "--name", "Matt"]);
    assert_eq!((split["batch"].as_u64(), split["name"].as_str(), standing(&split, "step")), (Some(2), Some("Matt"), 3));
    let rest = studio.json(&["batch", "show", "1"]);
    assert_eq!(amount(&split["account"], "cost") + amount(&rest["account"], "cost"), whole);
    assert_eq!(amount(&rest["account"], "gave"), amount(&split["account"], "came"));
    studio.done(&["batch", "time", "1", "2", "12", "--also", "2:2"]);
    let merged = studio.json(&["batch", "merge", "2", "1"]);
    assert_eq!(standing(&merged, "step"), 6);
    // The names are the places they had from the beginning.
    studio.done(&["batch", "step", "1", "2", "--pieces", "4-6", "--timed"]);
    studio.done(&["batch", "step", "1", "3", "--pieces", "4", "--skip", "--why", "no counter needed"]);
    let back = studio.json(&["batch", "step", "1", "4", "--pieces", "4", "--back-to", "2"]);
    assert_eq!(back["steps"][3]["sent_back"], 1);
    let lost = studio.json(&["batch", "lose", "1", "5", "--cause", "dropped", "--abnormal"]);
    assert_eq!(standing(&lost, "lost"), 1);
    assert!(amount(&lost["account"], "abnormal") > Decimal::ZERO);
    let gone = studio.json(&["batch", "abandon", "1", "--why", "the shop closed"]);
    assert_eq!((gone["state"].as_str(), standing(&gone, "lost")), (Some("abandoned"), 6));
    assert_eq!(studio.json(&["batch", "list"])["batches"], serde_json::json!([]));
    let all = studio.json(&["batch", "list", "--state", "all"]);
    assert_eq!(all["batches"].as_array().unwrap().len(), 2);
}

#[test]
fn a_kiln_is_planned_metered_and_fitted() {
    // A harder solder than the example's, whose firings are all within its margin.
    let studio = Studio::with_design(&LANTERN_DROP.replace("solder_flow_c = 745", "solder_flow_c = 790"));
    studio.add_kiln();
    let kilns = studio.json(&["kiln", "list"]);
    // The maker's maximum is below what full power holds: 20 + (800 − 20) / 0.42 = 1877 °C.
    assert_eq!(kilns["kilns"][0]["hottest_celsius"], "1050");
    // Readings made for C = 0.001 kWh/K and k = 0.0005 kW/K (kiln and batch method, section 1), by hand: a warm-up of an
    // hour is a straight line, 390 K·h, then 780 K for so many hours: 0.78 + 0.0005 · (390 + 780 h) kWh.
    for (day, off, meter) in
        [("01", "10:00", "1.365"), ("02", "11:00", "1.755"), ("03", "12:00", "2.145"), ("04", "13:00", "2.535")]
    {
        if day == "04" {
            assert!(studio.refused(1, &["kiln", "fit", "small kiln"]).contains("3 days with a meter reading"));
        }
        let date = format!("2026-10-{day}");
        let written = studio
            .json(&["kiln", "day", "--date", &date, "--on", "8:00", "--hot", "9:00", "--off", off, "--meter", meter]);
        assert_eq!(written["account"]["basis"], "metered");
        assert_eq!(written["account"]["kwh"], meter, "{written}");
    }
    let fit = studio.json(&["kiln", "fit", "Small kiln", "--accept"]);
    assert_eq!(
        (amount(&fit, "capacity_kwh_per_k"), amount(&fit, "loss_kw_per_k")),
        ("0.001".parse().unwrap(), "0.0005".parse().unwrap())
    );
    assert_eq!(studio.json(&["kiln", "list"])["kilns"][0]["fitted"], true);
    studio.done(&["kiln", "fit", "Small kiln", "--measurements"]);
    assert_eq!(studio.json(&["kiln", "list"])["kilns"][0]["fitted"], false);
    // A later word about a day leaves the rest as it was.
    let later = studio.json(&["kiln", "day", "Small kiln", "--date", "2026-10-04", "--note", "door stuck"]);
    assert_eq!((later["meter_kwh"].as_str(), later["note"].as_str()), (Some("2.535"), Some("door stuck")));

    studio.done(&["batch", "start", "LN-DROP", "--pieces", "3"]);
    let plan = studio.json(&["kiln", "plan", "--from", "9:00"]);
    let loads = plan["loads"].as_array().unwrap();
    // Three pieces fit the shelf together: one load for each of the route's five firings.
    assert_eq!((loads.len(), plan["left_out"].as_array().map(Vec::len)), (5, Some(0)), "{plan}");
    for (load, next) in loads.iter().zip(loads.iter().skip(1)) {
        assert!(load["opened_at"].as_str() <= next["closed_at"].as_str(), "{plan}");
        // 790 °C less the margin of 38.
        assert!(amount(load, "set_celsius") <= Decimal::from(752), "{plan}");
    }
    assert!(plan["bound"].as_str() <= plan["finish"].as_str());
    assert!(studio.done(&["kiln", "plan", "--from", "9:00"]).contains("local rules come first"));
    studio.done(&["kiln", "add", "Torch", "--torch"]);
    assert!(studio.refused(1, &["kiln", "plan"]).contains("say which kiln"));
    assert!(studio.refused(1, &["kiln", "plan", "--kiln", "torch"]).contains("is a torch"));
    let rows = studio.path("rows.pdf");
    assert!(studio.done(&["print", "kiln-log", "--out", &rows, "--empty"]).contains("empty rows on 1 page"));
}

#[test]
fn a_kiln_is_changed_set_aside_and_taken_up_again() {
    let studio = Studio::with_lantern_drop();
    studio.add_kiln();
    let before = studio.json(&["kiln", "list"])["kilns"][0].clone();
    let changed = studio.json(&["kiln", "change", "small kiln", "--shelf", "350", "--duty", "47%", "--max", "990C"]);
    assert_eq!(changed["done"], "Change kiln Small kiln");
    let after = studio.json(&["kiln", "list"])["kilns"][0].clone();
    assert_eq!((after["shelf_cm2"].as_str(), after["duty"].as_str()), (Some("350"), Some("0.47")));
    assert_eq!((after["hottest_celsius"].as_str(), &after["rated_kw"]), (Some("990"), &before["rated_kw"]));
    studio.done(&["kiln", "change", "Small kiln", "--renewed", "elements", "--since", "2026-10-01"]);
    studio.done(&["kiln", "change", "Small kiln", "--name", "Fen", "--note", "by the window"]);
    let fen = studio.json(&["kiln", "list"])["kilns"][0].clone();
    assert_eq!((fen["name"].as_str(), fen["elements"]["since"].as_str()), (Some("Fen"), Some("2026-10-01")));
    assert_eq!(fen["thermocouple"]["since"], before["thermocouple"]["since"]);

    assert!(studio.done(&["kiln", "set-aside", "Fen"]).contains("Set kiln Fen aside"));
    assert_eq!(studio.json(&["kiln", "list"])["kilns"], serde_json::json!([]));
    assert_eq!(studio.json(&["kiln", "list", "--all"])["kilns"][0]["retired"], true);
    assert!(studio.refused(1, &["kiln", "set-aside", "Fen"]).contains("set aside already"));
    assert!(studio.done(&["kiln", "take-up", "Fen"]).contains("Take kiln Fen up again"));
    assert_eq!(studio.json(&["kiln", "list"])["kilns"][0]["name"], "Fen");

    studio.done(&["kiln", "add", "Torch", "--torch"]);
    assert!(studio.refused(1, &["kiln", "change", "Torch", "--shelf", "40"]).contains("it has no figures"));
    studio.done(&["kiln", "change", "Torch", "--note", "the small one"]);
}

#[test]
fn bad_input_of_each_task_is_refused_and_changes_nothing() {
    let studio = Studio::with_lantern_drop();
    studio.add_kiln();
    studio.done(&["batch", "start", "LN-DROP", "--pieces", "4"]);
    studio.done(&["batch", "step", "1", "1"]);
    let state = || (studio.json(&["history"]), studio.json(&["batch", "show", "1"]), studio.json(&["kiln", "list"]));
    let before = state();
    let load = ["--closed", "10:02", "--opened", "10:05", "--set", "700C"];
    let with = |words: &[&'static str]| [&["kiln", "log"][..], words, &load[..]].concat();
    let out = studio.path("x.pdf");
    for (status, arguments) in [
        (1, vec!["batch", "start", "NOBODY", "--pieces", "4"]),
        (2, vec!["batch", "start", "LN-DROP", "--pieces", "0"]),
        (2, vec!["batch", "start", "LN-DROP", "--pieces", "1001"]),
        (2, vec!["batch", "start", "LN-DROP", "--pieces", "4", "--date", "14.10.2026"]),
        (2, vec!["batch", "list", "--state", "lost"]),
        (1, vec!["batch", "show", "9"]),
        (2, vec!["batch", "show", "four"]),
        (1, vec!["batch", "step", "9", "1"]),
        (1, vec!["batch", "step", "1", "16"]),
        (2, vec!["batch", "step", "1", "0"]),
        (1, vec!["batch", "step", "1", "3"]),
        (1, vec!["batch", "step", "1", "1"]),
        (1, vec!["batch", "step", "1", "2", "--pieces", "5"]),
        (2, vec!["batch", "step", "1", "2", "--pieces", "2-"]),
        (2, vec!["batch", "step", "1", "2", "--pieces", "4-2"]),
        (2, vec!["batch", "step", "1", "2", "--minutes", "soon"]),
        (1, vec!["batch", "step", "1", "2", "--used", "slate=12g"]),
        (2, vec!["batch", "step", "1", "2", "--used", "counter-slate"]),
        (2, vec!["batch", "step", "1", "2", "--used", "counter-slate=12 fl"]),
        (2, vec!["batch", "step", "1", "2", "--used", "counter-slate=12g", "--back", "oat=1g"]),
        (2, vec!["batch", "step", "1", "2", "--lost", "3"]),
        (2, vec!["batch", "step", "1", "2", "--lost", "3:sneezed"]),
        (2, vec!["batch", "step", "1", "2", "--skip", "--minutes", "4"]),
        (2, vec!["batch", "step", "1", "2", "--pieces", "1", "--back-to", "2"]),
        (2, vec!["batch", "step", "1", "2", "--date", "2026-10-13"]),
        (2, vec!["batch", "lose", "1", "2"]),
        (2, vec!["batch", "lose", "1", "2", "--cause", "sneezed"]),
        (1, vec!["batch", "lose", "1", "7", "--cause", "dropped"]),
        (1, vec!["batch", "finish", "1"]),
        (1, vec!["batch", "split", "1", "5"]),
        (1, vec!["batch", "merge", "1", "9"]),
        (1, vec!["batch", "abandon", "9"]),
        (2, vec!["batch", "time", "1", "2", "-4"]),
        (2, vec!["batch", "time", "1", "2", "12", "--also", "two"]),
        (1, vec!["piece", "show", "LN-DROP-0001"]),
        (2, vec!["piece", "list", "--from", "yesterday"]),
        (2, vec!["kiln", "add", "Second", "--kw", "1.6"]),
        (2, vec!["kiln", "add", "Second", "--torch", "--kw", "1.6"]),
        (2, with(&["--batch", "1:two"])),
        (2, with(&["--batch", "1"])),
        (1, with(&["--batch", "1:3"])),
        (1, with(&["--batch", "9:3"])),
        (1, with(&["--kiln", "Large", "--batch", "1:3"])),
        (2, vec!["kiln", "log", "--batch", "1:3", "--closed", "10:02", "--set", "700C"]),
        (2, vec!["kiln", "log", "--batch", "1:3", "--closed", "26:02", "--opened", "10:05", "--set", "700C"]),
        (1, vec!["kiln", "change", "Large", "--shelf", "80"]),
        (1, vec!["kiln", "change", "Small kiln"]),
        (2, vec!["kiln", "change", "Small kiln", "--duty", "warm"]),
        (2, vec!["kiln", "change", "Small kiln", "--shelf", "0"]),
        (2, vec!["kiln", "change", "Small kiln", "--renewed", "door"]),
        (2, vec!["kiln", "change", "Small kiln", "--since", "2026-10-01"]),
        (1, vec!["kiln", "set-aside", "Large"]),
        (1, vec!["kiln", "take-up", "Small kiln"]),
        (2, vec!["batch", "step", "1", "2", "--date", "2026-10-15"]),
        (2, vec!["kiln", "day", "--on", "9:00", "--date", "2026-10-15"]),
        (2, vec!["kiln", "day", "--meter", "4"]),
        (1, vec!["kiln", "day", "Large", "--on", "9:00"]),
        (1, vec!["kiln", "fit", "Small kiln"]),
        (2, vec!["kiln", "plan", "--from", "noon"]),
        (1, vec!["learn", "LN-DROP", "--accept", "1"]),
        (1, vec!["print", "bench-sheet", "9", "--out", &out]),
        (1, vec!["print", "bench-sheet", "1", "--out", &out, "--kiln", "Large"]),
        (1, vec!["print", "kiln-log", "--out", &out]),
        (2, vec!["print", "kiln-log", "--out", &out, "--rows", "501"]),
    ] {
        studio.refused(status, &arguments);
        assert_eq!(state(), before, "{arguments:?} changed the book");
    }
    assert!(!std::path::Path::new(&out).exists());
}
