//! Kills a writer in the middle of its work, again and again, and finds every action it acknowledged.
//!
//! The writer is this same test program, started again with a variable set. It says “ack” and the number of an action
//! on its standard output after the action returned, never before.

#![allow(clippy::expect_used, clippy::indexing_slicing, clippy::panic, clippy::unwrap_used)]

use chrono::NaiveDate;
use enamelwright::actions::{Action, ActionKey, Order, Receipt, Refusal, check, perform, snapshot};
use enamelwright::book::{Access, Book, BookError};
use enamelwright::measure::{Decimal, Money, Quantity, Unit};
use enamelwright::studio::{Item, ItemDetails, ItemId};
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const KILLS: u32 = 200;
const BOOK: &str = "ENAMELWRIGHT_TEST_CRASH_BOOK";
const FIRST: &str = "ENAMELWRIGHT_TEST_CRASH_FIRST";

type TestResult = Result<(), Box<dyn std::error::Error>>;

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 3, 14).unwrap()
}

fn order(number: u64) -> Order {
    Order { key: ActionKey(u128::from(number)), at: today().and_hms_opt(9, 30, 0).unwrap() }
}

/// The action of that number: always the same, so that repeating it after a crash must not do it twice. Every fifth
/// also writes a whole item, every lot has a note long enough to touch several pages.
fn action(number: u64) -> Action {
    if number.is_multiple_of(5) {
        let item = Item { name: format!("Item {number}"), ..lot_item() };
        return Action::SaveItem { id: None, item };
    }
    Action::Receive(vec![Receipt {
        item: ItemId(1),
        date: today(),
        quantity: Quantity::new(Decimal::from(number + 1)).unwrap(),
        typed: number.to_string(),
        cost: Money::new(Decimal::from(number)).unwrap(),
        lot_number: format!("L{number}"),
        supplier: String::new(),
        note: "a long note ".repeat(60),
    }])
}

fn lot_item() -> Item {
    Item {
        reference: String::new(),
        name: "Lots".to_owned(),
        unit: Unit::Gram,
        details: ItemDetails::Consumable,
        maker: String::new(),
        maker_number: String::new(),
        supplier: String::new(),
        shelf: String::new(),
        note: String::new(),
        reorder_level: None,
        lead_bearing: false,
        retired: false,
        buying: enamelwright::studio::Buying::default(),
    }
}

/// The child: writes until it is killed. Does nothing when it is run as an ordinary test.
#[test]
fn writer() -> TestResult {
    let (Ok(path), Ok(first)) = (std::env::var(BOOK), std::env::var(FIRST)) else { return Ok(()) };
    let mut book = Book::open(Path::new(&path), Access::Write, today())?;
    let mut out = std::io::stdout().lock();
    for number in first.parse::<u64>()?.. {
        perform(&mut book, action(number), order(number))?;
        writeln!(out, "\nack {number}")?;
        out.flush()?;
    }
    Ok(())
}

#[test]
fn no_acknowledged_action_is_lost_when_the_writer_is_killed() -> TestResult {
    let folder = tempfile::tempdir()?;
    let path = folder.path().join("crash.studiobook");
    let mut book = Book::create(&path)?;
    perform(&mut book, Action::SaveItem { id: None, item: lot_item() }, order(0))?;
    drop(book);

    let started = Instant::now();
    let mut acknowledged = 0_u64;
    for kill in 0..KILLS {
        // The next action may have been done and not acknowledged: it is given again, under the same key.
        let next = acknowledged + 1;
        let mut child = Command::new(std::env::current_exe()?)
            .args(["writer", "--exact", "--nocapture", "--test-threads=1"])
            .env(BOOK, &path)
            .env(FIRST, next.to_string())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()?;
        let mut lines = BufReader::new(child.stdout.take().ok_or("no output")?).lines();
        // A schedule that is the same in every run: how many acknowledgements to wait for, and how long after the last
        // of them to strike, from 0 to 2.9 ms in steps that fall before, in and after a commit. Every eighth strikes
        // while the book is being opened.
        let wanted = if kill % 8 == 7 { 0 } else { u64::from(kill % 5) + 1 };
        let mut heard = 0;
        while heard < wanted {
            let line = lines.next().ok_or("the writer stopped by itself")??;
            if let Some(number) = line.strip_prefix("ack ") {
                acknowledged = number.parse()?;
                heard += 1;
            }
        }
        let delay = if wanted == 0 { u64::from(kill) * 97 % 9_000 } else { u64::from(kill) * 37 % 30 * 100 };
        std::thread::sleep(Duration::from_micros(delay));
        child.kill()?;
        child.wait()?;
        for line in lines {
            // The last line may be cut in the middle; a whole one counts.
            if let Some(number) = line?.strip_prefix("ack ").and_then(|number| number.parse::<u64>().ok()) {
                acknowledged = acknowledged.max(number);
            }
        }
        let book = Book::open(&path, Access::Read, today())?;
        let seen = snapshot(&book)?;
        let newest = seen.history.first().ok_or("an empty history")?;
        // The first action of all has number 0 and row 1.
        let done = u64::try_from(newest.id)? - 1;
        assert!(
            done == acknowledged || done == acknowledged + 1,
            "kill {kill}: {acknowledged} acknowledged, {done} in the book"
        );
        if kill % 20 == 19 {
            assert_eq!(check(&book)?.problems, Vec::<String>::new(), "kill {kill}");
        }
    }

    // Every action is there once: the lots' quantities add up.
    let mut book = Book::open(&path, Access::Write, today())?;
    let last = acknowledged + 1;
    perform(&mut book, action(last), order(last))?;
    let on_hand: u64 = (1..=last).filter(|number| number % 5 != 0).map(|number| number + 1).sum();
    let items = 1 + (1..=last).filter(|number| number % 5 == 0).count();
    let seen = snapshot(&book)?;
    assert_eq!(seen.stock.len(), items);
    assert_eq!(seen.item(ItemId(1)).ok_or("no lots")?.on_hand.amount(), Decimal::from(on_hand));
    assert_eq!(check(&book)?.problems, Vec::<String>::new());
    assert!(acknowledged >= u64::from(KILLS), "only {acknowledged} actions were acknowledged");
    assert!(started.elapsed() < Duration::from_mins(5), "{:?}", started.elapsed());
    Ok(())
}

#[test]
fn the_lock_of_a_killed_writer_is_let_go() -> TestResult {
    let folder = tempfile::tempdir()?;
    let path = folder.path().join("held.studiobook");
    let mut book = Book::create(&path)?;
    perform(&mut book, Action::SaveItem { id: None, item: lot_item() }, order(0))?;
    drop(book);
    let mut child = Command::new(std::env::current_exe()?)
        .args(["writer", "--exact", "--nocapture", "--test-threads=1"])
        .env(BOOK, &path)
        .env(FIRST, "1")
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()?;
    let mut lines = BufReader::new(child.stdout.take().ok_or("no output")?).lines();
    while !lines.next().ok_or("the writer stopped by itself")??.starts_with("ack ") {}
    let meanwhile = Book::open(&path, Access::Write, today());
    child.kill()?;
    child.wait()?;
    assert!(matches!(meanwhile, Err(BookError::InUse(_))));
    let mut book = Book::open(&path, Access::Write, today())?;
    match perform(&mut book, action(1), order(1)) {
        Ok(_) => Ok(()),
        Err(Refusal::Book(fault)) => Err(fault.into()),
        Err(other) => Err(other.into()),
    }
}
